//! `porringer nutrients`

use std::fmt::Write;

use serde_json::{Map, Value, json};

use crate::ast;
use crate::check::{Checked, CheckedDish};
use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, gather, say};
use crate::diagnostic::Severity;
use crate::diagnostic::render::FileMessages;
use crate::diagnostic::render::short;
use crate::quantity::round_half_even;
use crate::reference::nutrient::{self, NutrientId};
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
                Format::Table => super::menu::report::day(menu, &file.source.name, &workspace, &mut out),
            }
        }
        let Some(dish) = &file.dish else { continue };
        match arguments.format {
            Format::Json => {
                let _ = writeln!(out, "{}", object(dish, &workspace));
            }
            Format::Csv => csv_rows(dish, &workspace, &mut out),
            Format::Table => table(file, dish, &workspace, &mut out),
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
/// portions:{BAND:value}, known_share, estimated}}, portions:{BAND:{grams,
/// ml}}, allergens, family_allergens, food_groups, claims, minutes:{hands_on, total}}`.
pub fn object(dish: &CheckedDish, workspace: &Workspace) -> Value {
    let nutrition = &dish.computed.nutrition;
    let bands = workspace.reference.profile.bands();
    let mut nutrients = Map::new();
    for id in NutrientId::all() {
        let Some(whole) = nutrition.whole(id) else {
            continue;
        };
        let mut portions = Map::new();
        for portion in &dish.computed.portions {
            let (Some(band), Some(grams)) = (bands.get(portion.band), portion.grams) else {
                continue;
            };
            portions.insert(band.key.clone(), number(nutrition.in_grams(id, grams)));
        }
        nutrients.insert(
            id.get().tag.to_owned(),
            json!({
                "unit": id.get().unit,
                "whole": number(Some(whole)),
                "per_100g": number(nutrition.per_100g(id)),
                "portions": portions,
                "known_share": number(Some(nutrition.known_share(id))),
                "estimated": nutrition.figure(id).estimated || dish.computed.cooked.estimated,
            }),
        );
    }
    let mut portions = Map::new();
    for portion in &dish.computed.portions {
        let Some(band) = bands.get(portion.band) else {
            continue;
        };
        portions.insert(band.key.clone(), json!({ "grams": number(portion.grams), "ml": number(portion.ml) }));
    }
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

fn csv_rows(dish: &CheckedDish, workspace: &Workspace, out: &mut String) {
    let nutrition = &dish.computed.nutrition;
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
            let grams =
                dish.computed.portions.iter().find(|portion| portion.band == at).and_then(|portion| portion.grams);
            row.push(cell(grams.and_then(|grams| nutrition.in_grams(id, grams))));
        }
        let _ = writer.write_record(&row);
    }
    if let Ok(bytes) = writer.into_inner() {
        out.push_str(&String::from_utf8_lossy(&bytes));
    }
}

/// A text that a spreadsheet would run as a formula begins with an apostrophe.
pub fn guarded(text: &str) -> String {
    let text = crate::diagnostic::render::visible(text);
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text }
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
