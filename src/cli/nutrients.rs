//! `porringer nutrients`

use std::fmt::Write;

use serde_json::{Map, Value, json};

use crate::ast;
use crate::check::{Checked, CheckedDish};
use crate::cli::{CLEAN, ERRORS, Failure, Input, alternatives, complain, gather, say};
use crate::compute::{Computed, Ends, Selection, Spread, compute, estimate, spread};
use crate::diagnostic::Severity;
use crate::diagnostic::render::FileMessages;
use crate::diagnostic::render::short;
use crate::quantity::round_half_even;
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::AgeBand;
use crate::workspace::Workspace;

/// Name and version of the JSON lines.
pub const SCHEMA: &str = "porringer-nutrients/1";

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    input: Input,
    /// How figures are printed.
    #[arg(long, value_enum, default_value = "table")]
    format: Format,
    /// Compute each alternative (`or`, `swap`) in turn too, with its difference
    /// in a portion.
    #[arg(long)]
    alternatives: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// For a person, rounded.
    Table,
    /// One object a line, unrounded.
    Json,
    /// One row a dish and component, unrounded.
    Csv,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let workspace = gather::workspace(&arguments.input)?;
    let paths = gather::files(&arguments.input, &workspace)?;
    let checked = gather::all(&paths, &workspace);
    if checked.iter().all(|file| file.dish.is_none() && file.menu.is_none() && !file.has_errors()) {
        return Err(Failure("there is no dish and no menu among these files".to_owned()));
    }
    let mut out = String::new();
    if arguments.format == Format::Csv {
        out.push_str("id,title,tag,unit,whole,per_100g,known_share");
        for band in workspace.reference.profile.bands() {
            let _ = write!(out, ",portion_{}", band.key);
        }
        if arguments.alternatives {
            out.push_str(&alternatives::csv_head(workspace.reference.profile.bands()));
        }
        out.push('\n');
    }
    for fault in &workspace.faults {
        let mut text = String::new();
        short::render(&FileMessages { source: &fault.source, diagnostics: &fault.diagnostics }, &mut text);
        for line in text.lines() {
            complain(line);
        }
    }
    for file in &checked {
        if let Some(menu) = &file.menu {
            match arguments.format {
                Format::Json => {
                    let _ = writeln!(out, "{}", super::menu::nutrients::object(menu, &workspace));
                }
                Format::Csv => super::menu::nutrients::csv_rows(menu, &workspace, &mut out),
                Format::Table => super::menu::report::day(menu, &file.source.name, &workspace, None, &mut out),
            }
        }
        let Some(dish) = &file.dish else { continue };
        match arguments.format {
            Format::Json => {
                let mut value = object(dish, &workspace);
                if arguments.alternatives {
                    alternatives::into_object(dish, &workspace, &mut value);
                }
                let _ = writeln!(out, "{value}");
            }
            Format::Csv => {
                let all = dish.resolved.alternatives();
                csv_rows(dish, &dish.computed, None, &workspace, arguments.alternatives, &mut out);
                for (at, option) in all.into_iter().filter(|_| arguments.alternatives) {
                    let selection = Selection::with(&dish.resolved, at, option);
                    let computed = compute(&dish.resolved, &workspace.reference, &selection);
                    csv_rows(dish, &computed, Some((at, option)), &workspace, true, &mut out);
                }
            }
            Format::Table => {
                table(file, dish, &workspace, &mut out);
                if arguments.alternatives {
                    alternatives::table(dish, &workspace, &mut out);
                }
            }
        }
    }
    if arguments.format == Format::Table {
        super::say_plain(&out);
    } else {
        say(&out);
    }
    // What could be computed was printed; whether the dish is sound is for
    // `check`, but a figure that misses an ingredient must not look whole.
    let missing = checked.iter().any(|file| {
        file.dish.as_ref().is_some_and(|dish| !dish.computed.nutrition.uncounted.is_empty())
            || (file.dish.is_none() && file.has_errors())
            || file.menu.as_ref().is_some_and(|menu| !menu.resolved.whole())
    });
    for file in &checked {
        for message in file.diagnostics.iter().filter(|message| message.severity == Severity::Error) {
            if arguments.format != Format::Table
                && file.dish.as_ref().is_some_and(|dish| dish.computed.nutrition.uncounted.is_empty())
            {
                continue;
            }
            let place = file.source.place(message.span.start);
            complain(&format!("{}:{}:{}: {}", file.source.name, place.line, place.column, message.message));
        }
    }
    Ok(if missing || !workspace.faults.is_empty() { ERRORS } else { CLEAN })
}

/// The dish as one JSON object: `{schema, id, title, raw_g, cooked_g,
/// cooked_estimated, uncounted, nutrients:{TAG:{unit, whole, per_100g,
/// portions:{BAND:value}, known_share, estimated, low, high}}, portions:{BAND:
/// {grams, ml, low_g, high_g}}, estimates, allergens, family_allergens,
/// food_groups, claims, absorption, minutes:{hands_on, total}}`. `low` and `high` hold `whole`, `per_100g` and
/// `portions` at the ends of the quantities that the author wrote as ranges,
/// and stand only where there are any; so do `low_g` and `high_g`.
pub fn object(dish: &CheckedDish, workspace: &Workspace) -> Value {
    let nutrition = &dish.computed.nutrition;
    let bands = workspace.reference.profile.bands();
    let ranges = spread::ranges(&dish.resolved, &dish.computed, &Selection::default());
    let mut nutrients = Map::new();
    for id in NutrientId::all() {
        let Some(mut figure) = figures(&dish.computed, id, bands) else { continue };
        figure.insert("known_share".to_owned(), number(Some(nutrition.known_share(id))));
        let estimated = nutrition.figure(id).estimated || dish.computed.cooked.estimated;
        figure.insert("estimated".to_owned(), json!(estimated));
        if let Some(spread) = &ranges {
            let [low, high] = ends(spread, &dish.computed, id, bands);
            figure.insert("low".to_owned(), low);
            figure.insert("high".to_owned(), high);
        }
        nutrients.insert(id.get().tag.to_owned(), Value::Object(figure));
    }
    let mut portions = Map::new();
    for (at, portion) in dish.computed.portions.iter().enumerate() {
        let Some(band) = bands.get(portion.band) else {
            continue;
        };
        let mut own = Map::new();
        own.insert("grams".to_owned(), number(portion.grams));
        own.insert("ml".to_owned(), number(portion.ml));
        if let Some(ends) = ranges.as_ref().and_then(|spread| spread.portion_g(at)) {
            own.insert("low_g".to_owned(), number(Some(ends.low)));
            own.insert("high_g".to_owned(), number(Some(ends.high)));
        }
        portions.insert(band.key.clone(), Value::Object(own));
    }
    let ids = weighty(dish);
    let estimates = estimate::estimates(&dish.resolved, &dish.computed, &Selection::default(), &ids);
    let names = |at: &usize| dish.resolved.ingredients.get(*at).map(|ingredient| ingredient.name.clone());
    let flow = &dish.resolved.flow;
    json!({
        "schema": SCHEMA,
        "id": dish.id,
        "title": dish.resolved.title(),
        "raw_g": number(Some(nutrition.raw_g)),
        "cooked_g": number(Some(nutrition.cooked_g)),
        "cooked_estimated": dish.computed.cooked.estimated,
        "uncounted": nutrition.uncounted.iter().filter_map(names).collect::<Vec<_>>(),
        "nutrients": nutrients,
        "portions": portions,
        "estimates": estimates.iter().map(|estimate| json!({
            "what": estimate.what.word(),
            "ingredient": estimate.ingredient.as_ref().and_then(names),
            "why": estimate.why,
            "effect": ids.iter().map(|id| {
                (id.get().tag.to_owned(), number(Some(round_half_even(estimate.effect(*id), 4))))
            }).collect::<Map<String, Value>>(),
        })).collect::<Vec<_>>(),
        "allergens": dish.report.allergens,
        "family_allergens": dish.report.family_allergens,
        "food_groups": dish.report.groups.iter().map(|group| group.word()).collect::<Vec<_>>(),
        "claims": dish.report.proofs.iter().map(|proof| json!({
            "claim": format!("{} {}", proof.kind.words(), proof.subject),
            "tag": proof.tag,
            "bands": proof.bands.iter().map(|band| json!({
                "band": band.band,
                "value": number(Some(band.value)),
                "threshold": number(Some(band.threshold)),
                "basis": if band.per_100g { "100 g" } else { "portion" },
                "lower_bound": band.at_least,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "absorption": absorption(dish),
        "minutes": {
            "hands_on": [number(Some(flow.hands_on.0)), number(Some(flow.hands_on.1))],
            "total": [number(Some(flow.total.0)), number(Some(flow.total.1))],
        },
        "profile": {
            "id": workspace.reference.profile.file.profile.id,
            "edition": workspace.reference.profile.file.profile.edition,
        },
    })
}

/// `{phytate:{TAG:{ratio, at_least, most}}, vitamin_c_iron, may_help,
/// may_hinder}`; ratios are molar.
fn absorption(dish: &CheckedDish) -> Value {
    let uptake = &dish.report.absorption;
    let phytate: Map<String, Value> = uptake
        .phytate
        .iter()
        .map(|found| {
            let own = json!({
                "ratio": number(Some(found.ratio)),
                "at_least": found.at_least,
                "most": number(Some(found.most)),
            });
            (found.id.get().tag.to_owned(), own)
        })
        .collect();
    json!({
        "phytate": phytate,
        "vitamin_c_iron": number(uptake.vitamin_c_iron),
        "may_help": uptake.may_help.iter().map(|what| what.word()).collect::<Vec<_>>(),
        "may_hinder": uptake.may_hinder.iter().map(|what| what.word()).collect::<Vec<_>>(),
    })
}

/// Unit, whole, per 100 g and portions of a component; `None` where no
/// ingredient's value is known.
fn figures(computed: &Computed, id: NutrientId, bands: &[AgeBand]) -> Option<Map<String, Value>> {
    let nutrition = &computed.nutrition;
    let whole = nutrition.whole(id)?;
    let mut portions = Map::new();
    for portion in &computed.portions {
        let (Some(band), Some(grams)) = (bands.get(portion.band), portion.grams) else {
            continue;
        };
        portions.insert(band.key.clone(), number(nutrition.in_grams(id, grams)));
    }
    let mut figure = Map::new();
    figure.insert("unit".to_owned(), json!(id.get().unit));
    figure.insert("whole".to_owned(), number(Some(whole)));
    figure.insert("per_100g".to_owned(), number(nutrition.per_100g(id)));
    figure.insert("portions".to_owned(), Value::Object(portions));
    Some(figure)
}

/// The two ends of a component, each with `whole`, `per_100g`, `portions`.
fn ends(spread: &Spread, computed: &Computed, id: NutrientId, bands: &[AgeBand]) -> [Value; 2] {
    let of = |pick: &dyn Fn(Ends) -> f64| {
        let mut portions = Map::new();
        for (at, portion) in computed.portions.iter().enumerate() {
            if let (Some(band), Some(ends)) = (bands.get(portion.band), spread.portion(at, id)) {
                portions.insert(band.key.clone(), number(Some(pick(ends))));
            }
        }
        json!({
            "whole": number(Some(pick(spread.whole(id)))),
            "per_100g": number(Some(pick(spread.per_100g(id)))),
            "portions": portions,
        })
    };
    [of(&|ends| ends.low), of(&|ends| ends.high)]
}

/// Energy and the nutrients that the dish makes a claim about: what an
/// estimate is weighed by.
pub fn weighty(dish: &CheckedDish) -> Vec<NutrientId> {
    let mut ids = vec![nutrient::ENERC_KCAL];
    for proof in &dish.report.proofs {
        if let Some(id) = NutrientId::from_tag(&proof.tag).filter(|id| !ids.contains(id)) {
            ids.push(id);
        }
    }
    ids
}

/// A finite number, whole ones without a point; null otherwise.
pub fn number(value: Option<f64>) -> Value {
    match value {
        Some(value) if value.is_finite() => {
            if value == value.trunc() && value.abs() < 1e15 {
                json!(value as i64)
            } else {
                json!(value)
            }
        }
        _ => Value::Null,
    }
}

fn csv_rows(
    dish: &CheckedDish,
    computed: &Computed,
    other: Option<(usize, usize)>,
    workspace: &Workspace,
    alternatives: bool,
    out: &mut String,
) {
    let nutrition = &computed.nutrition;
    let mut writer = csv::Writer::from_writer(Vec::new());
    for id in NutrientId::all() {
        let Some(whole) = nutrition.whole(id) else {
            continue;
        };
        let cell = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
        let mut row = vec![
            guarded(&dish.id),
            guarded(dish.resolved.title()),
            id.get().tag.to_owned(),
            id.get().unit.to_owned(),
            cell(Some(whole)),
            cell(nutrition.per_100g(id)),
            cell(Some(nutrition.known_share(id))),
        ];
        for at in 0..workspace.reference.profile.bands().len() {
            row.push(cell(in_band(computed, at, id)));
        }
        if alternatives {
            let name = other.and_then(|(at, option)| dish.resolved.option_name(at, option)).unwrap_or_default();
            row.push(guarded(&name));
            for at in 0..workspace.reference.profile.bands().len() {
                let pair = in_band(computed, at, id).zip(in_band(&dish.computed, at, id));
                row.push(cell(pair.filter(|_| other.is_some()).map(|(other, first)| other - first)));
            }
        }
        let _ = writer.write_record(&row);
    }
    if let Ok(bytes) = writer.into_inner() {
        out.push_str(&String::from_utf8_lossy(&bytes));
    }
}

/// What a portion of the band holds.
pub(super) fn in_band(computed: &Computed, band: usize, id: NutrientId) -> Option<f64> {
    let portion = computed.portions.iter().find(|portion| portion.band == band)?;
    computed.nutrition.in_grams(id, portion.grams?)
}

/// A text that a spreadsheet would run as a formula begins with an apostrophe.
pub fn guarded(text: &str) -> String {
    let text = crate::diagnostic::render::visible(text);
    // Wide forms count where such keyboards are used.
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠']) {
        format!("'{text}")
    } else {
        text
    }
}

fn table(file: &Checked, dish: &CheckedDish, workspace: &Workspace, out: &mut String) {
    let nutrition = &dish.computed.nutrition;
    let bands = workspace.reference.profile.bands();
    let flow = &dish.resolved.flow;
    let _ = writeln!(out, "{}  ({})", dish.resolved.title(), file.source.name);
    let estimate = if dish.computed.cooked.estimated { " (estimate)" } else { "" };
    let _ = writeln!(
        out,
        "raw {} g, cooked {} g{estimate}; hands-on {}, in all {}",
        round_half_even(nutrition.raw_g, 0),
        round_half_even(nutrition.cooked_g, 0),
        minutes(flow.hands_on),
        minutes(flow.one_fire()),
    );
    for at in &nutrition.uncounted {
        if let Some(ingredient) = dish.resolved.ingredients.get(*at) {
            let _ = writeln!(out, "not counted: {}", ingredient.name);
        }
    }
    let mut heads = vec![String::new(), "unit".to_owned(), "whole dish".to_owned(), "100 g".to_owned()];
    for portion in &dish.computed.portions {
        let Some(band) = bands.get(portion.band) else {
            continue;
        };
        heads.push(match portion.grams {
            Some(grams) => format!("{} mo, {} g", band.key, round_half_even(grams, 0)),
            None => format!("{} mo", band.key),
        });
    }
    let mut rows: Vec<Vec<String>> = vec![heads];
    for id in NutrientId::all() {
        let Some(whole) = nutrition.whole(id) else {
            continue;
        };
        let complete = nutrition.complete(id);
        let decimals = id.get().decimals;
        let cell = |value: Option<f64>| match value {
            Some(value) => {
                let sign = if complete { "" } else { "≥ " };
                format!("{sign}{:.*}", usize::from(decimals), round_half_even(value, decimals))
            }
            None => "?".to_owned(),
        };
        let mut row = vec![
            format!("{} {}", id.get().tag, id.get().name),
            id.get().unit.to_owned(),
            cell(Some(whole)),
            cell(nutrition.per_100g(id)),
        ];
        for portion in &dish.computed.portions {
            row.push(cell(portion.grams.and_then(|grams| nutrition.in_grams(id, grams))));
        }
        rows.push(row);
    }
    columns(&rows, out);
    let incomplete = NutrientId::all().any(|id| nutrition.whole(id).is_some() && !nutrition.complete(id));
    if incomplete {
        let _ = writeln!(out, "≥ a lower bound: some ingredient's value is not known");
    }
    wide(dish, bands, out);
    let unknown: Vec<&str> = [nutrient::FE, nutrient::ZN, nutrient::VITA_RAE, nutrient::CA, nutrient::FOLDFE]
        .into_iter()
        .filter(|id| nutrition.whole(*id).is_none())
        .map(|id| id.get().tag)
        .collect();
    if !unknown.is_empty() && nutrition.raw_g > 0.0 {
        let _ = writeln!(out, "not known at all: {}", unknown.join(", "));
    }
    out.push('\n');
}

/// Figures that the author's ranges of quantity move enough to matter.
fn wide(dish: &CheckedDish, bands: &[AgeBand], out: &mut String) {
    // Ends a tenth of their middle apart: about what tables themselves differ
    // by from harvest to harvest. Common practice, no source.
    const MATTERS: f64 = 0.10;
    let Some(spread) = spread::ranges(&dish.resolved, &dish.computed, &Selection::default()) else { return };
    let mut rows = Vec::new();
    for id in NutrientId::all().filter(|id| dish.computed.nutrition.whole(*id).is_some()) {
        let decimals = id.get().decimals;
        let show = |value: f64| format!("{:.*}", usize::from(decimals), round_half_even(value, decimals));
        let mut row = vec![format!("{} {}", id.get().tag, id.get().name), id.get().unit.to_owned()];
        let mut matters = false;
        for (at, portion) in dish.computed.portions.iter().enumerate() {
            let (Some(band), Some(ends)) = (bands.get(portion.band), spread.portion(at, id)) else { continue };
            matters |= ends.width() > MATTERS && show(ends.low) != show(ends.high);
            row.push(format!("{} mo {} to {}", band.key, show(ends.low), show(ends.high)));
        }
        if matters {
            rows.push(row);
        }
    }
    if !rows.is_empty() {
        out.push_str("a portion at the ends of the ranges of quantity, where they are more than 10 % apart:\n");
        columns(&rows, out);
    }
}

/// Text columns: the first to the left, numbers to the right.
pub fn columns(rows: &[Vec<String>], out: &mut String) {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width =
        |at: usize| rows.iter().filter_map(|row| row.get(at)).map(|cell| cell.chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..count).map(width).collect();
    for row in rows {
        let mut line = String::new();
        for (at, (cell, width)) in row.iter().zip(&widths).enumerate() {
            if at > 0 {
                line.push_str("  ");
            }
            let fill = " ".repeat(width.saturating_sub(cell.chars().count()));
            if at < 2 {
                line.push_str(cell);
                line.push_str(&fill);
            } else {
                line.push_str(&fill);
                line.push_str(cell);
            }
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

/// `75 to 90 min`, `10 h 20 min`
pub fn minutes(range: (f64, f64)) -> String {
    let show = |minutes: f64| {
        let minutes = minutes.round() as i64;
        match (minutes / 60, minutes % 60) {
            (0, minutes) => format!("{minutes} min"),
            (hours, 0) => format!("{hours} h"),
            (hours, minutes) => format!("{hours} h {minutes} min"),
        }
    };
    if (range.1 - range.0).abs() < 0.5 { show(range.0) } else { format!("{} to {}", show(range.0), show(range.1)) }
}

/// How an author wrote a portion, for tables.
pub fn written(makes: &ast::Makes) -> String {
    match makes {
        ast::Makes::Measured(range, measure) => format!("{range} {}", measure.unit.word()),
        ast::Makes::Pieces(range, word) => format!("{range} {word}"),
        ast::Makes::Portions(range, Some((each, measure))) => {
            format!("{range} portions of {each} {}", measure.unit.word())
        }
        ast::Makes::Portions(range, None) => format!("{range} portions"),
    }
}
