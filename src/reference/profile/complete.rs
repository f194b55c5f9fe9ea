//! Whether a profile can be computed with: its bands cover the ages, its
//! units are those of the tables, every nutrient on the card has an intake.

use super::Profile;
use crate::diagnostic::{CODES, Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::nutrient::NutrientId;
use crate::source::Span;

/// Ages that complementary food is for, completed months.
pub const AGES: (u16, u16) = (6, 23);

pub fn check(profile: &Profile, text: &str, sink: &mut Sink) {
    bands(profile, text, sink);
    nutrients(profile, text, sink);
    let mut error = |word: &str, message: String, help: String| {
        sink.push(Diagnostic::new(Code::WorkspaceProfileError, place(text, word), message).help(help));
    };
    let keys: Vec<&str> = profile.bands().iter().map(|band| band.key.as_str()).collect();
    for minimum in &profile.file.energy_density.minimum {
        if !keys.contains(&minimum.band.as_str()) {
            error(
                &minimum.band,
                format!("{} is no age band", quote(&minimum.band)),
                format!("the bands are {}", keys.join(", ")),
            );
        }
    }
    for limit in &profile.file.upper_limit {
        if limit.from_months > limit.to_months {
            error(
                &limit.tag,
                format!("the limit of {} runs from {} to {} months", limit.tag, limit.from_months, limit.to_months),
                "write the younger age first".to_owned(),
            );
        }
        match NutrientId::from_tag(&limit.tag) {
            None => {
                error(&limit.tag, format!("{} is no INFOODS tagname here", quote(&limit.tag)), near_tag(&limit.tag))
            }
            Some(id) => {
                if limit.unit != id.get().unit {
                    error(
                        &limit.tag,
                        format!(
                            "the limit of {} is in `{}`, the tables have `{}`",
                            limit.tag,
                            limit.unit,
                            id.get().unit
                        ),
                        format!("give the value in {}", id.get().unit),
                    );
                }
            }
        }
    }
    for locked in &profile.file.locked {
        if Code::from_name(&locked.code).is_none() {
            let near = did_you_mean(&locked.code, CODES.iter().map(|code| code.name()));
            // Rules that this version does not have yet are no fault of a
            // profile that was written for all of them.
            if let Some(near) = near {
                error(&locked.code, format!("{} is no rule", quote(&locked.code)), format!("did you mean `{near}`?"));
            }
        }
    }
}

fn bands(profile: &Profile, text: &str, sink: &mut Sink) {
    let bands = profile.bands();
    let mut error = |word: &str, message: String, help: &str| {
        sink.push(Diagnostic::new(Code::WorkspaceProfileError, place(text, word), message).help(help));
    };
    const HELP: &str = "let the bands follow one another from 6 to 23 months";
    let mut next = AGES.0;
    for band in bands {
        if band.from_months > band.to_months {
            error(&band.key, format!("the band {} ends before it begins", quote(&band.key)), HELP);
        }
        if band.from_months > next {
            error(&band.key, format!("no age band covers {next} to {} months", band.from_months - 1), HELP);
        }
        if band.from_months < next && next != AGES.0 {
            error(&band.key, format!("the band {} covers months that another covers too", quote(&band.key)), HELP);
        }
        next = band.to_months.saturating_add(1).max(next);
    }
    if next <= AGES.1 {
        error(
            bands.last().map_or("", |band| band.key.as_str()),
            format!("no age band covers {next} to {} months", AGES.1),
            HELP,
        );
    }
}

fn nutrients(profile: &Profile, text: &str, sink: &mut Sink) {
    let mut error = |word: &str, message: String, help: String| {
        sink.push(Diagnostic::new(Code::WorkspaceProfileError, place(text, word), message).help(help));
    };
    let bands = profile.bands();
    for nutrient in &profile.file.nutrient {
        let Some(id) = NutrientId::from_tag(&nutrient.tag) else {
            error(
                &nutrient.tag,
                format!("{} is no INFOODS tagname here", quote(&nutrient.tag)),
                near_tag(&nutrient.tag),
            );
            continue;
        };
        if nutrient.unit != id.get().unit {
            error(
                &nutrient.tag,
                format!("{} is counted in `{}`, not in `{}`", nutrient.tag, id.get().unit, nutrient.unit),
                format!("write `unit = \"{}\"` and give every value in it", id.get().unit),
            );
        }
        for intake in nutrient.intake.iter().chain(&nutrient.alternative) {
            for key in &intake.bands {
                if profile.band_index(key).is_none() {
                    let keys: Vec<&str> = bands.iter().map(|band| band.key.as_str()).collect();
                    error(key, format!("{} is no age band", quote(key)), format!("the bands are {}", keys.join(", ")));
                }
            }
            if intake.value.is_some_and(|value| !value.is_finite() || value <= 0.0) {
                error(
                    &nutrient.tag,
                    format!("an intake of {} is not above zero", quote(&nutrient.en)),
                    "leave `value` out and write `kind = \"not-set\"` where none is set".to_owned(),
                );
            }
        }
        if !nutrient.on_card {
            continue;
        }
        for band in bands {
            if !nutrient.intake.iter().any(|intake| intake.bands.contains(&band.key)) {
                error(
                    &nutrient.tag,
                    format!("{} is on the card and has no intake for {} months", quote(&nutrient.en), band.key),
                    "add one, or a row with `kind = \"not-set\"` where the authority sets none".to_owned(),
                );
            }
        }
    }
}

fn near_tag(tag: &str) -> String {
    match did_you_mean(tag, NutrientId::all().map(|id| id.get().tag)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "write a tagname of the composition tables, such as `FE` or `VITA_RAE`".to_owned(),
    }
}

/// Where a word stands in the file, in quotation marks.
fn place(text: &str, word: &str) -> Span {
    let quoted = format!("\"{word}\"");
    match text.find(&quoted) {
        Some(at) if !word.is_empty() => Span::new(at, at + quoted.len()),
        _ => Span::default(),
    }
}
