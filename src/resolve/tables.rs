//! Foods of further composition tables: by code, by name.

use std::sync::Arc;

use crate::ast::TakeOption;
use crate::diagnostic::{Code, Diagnostic, Sink, quote};
use crate::reference::Reference;
use crate::reference::larder::FoodClass;
use crate::reference::table::Table;
use crate::resolve::food::{FORMS, Figures, Food, cooked_by_name, states};

/// A row of a further table, with the larder's row that stands on it.
pub fn row(table: &Arc<Table>, at: usize, preparation: Vec<String>, reference: &Reference) -> Food {
    let (id, name) = table.rows.get(at).map_or(("", ""), |row| (row.id.as_str(), row.name.as_str()));
    let larder = reference.larder.on_row(&format!("{}:{id}", table.stem)).into_iter().next();
    Food {
        class: larder.as_ref().map_or(FoodClass::Other, |row| row.class),
        class_inferred: false,
        group: larder.as_ref().map(|row| row.group),
        cooked: larder.as_ref().map_or_else(|| cooked_by_name(&name.to_lowercase()), |row| row.is_cooked()),
        larder,
        figures: Figures::Table(Arc::clone(table), at),
        preparation,
    }
}

/// Whether a row's name does not speak against how the food was preserved or
/// cooked, as written. Raw is what a row is that says nothing else.
fn fits(name: &str, written: &[String]) -> bool {
    let name = name.to_lowercase();
    let says = |word: &str| name.split(|c: char| !c.is_alphabetic() && c != '-').any(|own| own == word);
    written
        .iter()
        .flat_map(|state| state.split(' '))
        .filter(|word| FORMS.contains(word))
        .all(|word| says(word) || word == "raw" && !FORMS.iter().any(|form| says(form)))
}

/// A food that further tables know by name: the first table that has it
/// answers, and several rows of one table are a question to the author.
pub fn named(name: &str, option: &TakeOption, reference: &Reference, sink: &mut Sink) -> Option<Option<Food>> {
    let written = states(option);
    for table in &reference.tables {
        let mut found = table.named(name, &written);
        found.retain(|at| table.rows.get(*at).is_some_and(|row| fits(&row.name, &written)));
        match found.as_slice() {
            [] => {}
            [at] => return Some(Some(row(table, *at, written, reference))),
            several => {
                const SHOWN: usize = 6;
                let rows = several.iter().filter_map(|at| table.rows.get(*at)).take(SHOWN);
                let mut list: Vec<String> =
                    rows.map(|row| format!("`{}:{}` ({})", table.stem, row.id, row.name)).collect();
                if several.len() > SHOWN {
                    list.push(format!("and {} more", several.len() - SHOWN));
                }
                sink.push(
                    Diagnostic::new(
                        Code::FoodAmbiguous,
                        option.food.span,
                        format!("{} may be any of several foods", quote(name)),
                    )
                    .help(format!("write one of: {}", list.join(", "))),
                );
                return Some(None);
            }
        }
    }
    None
}

/// Hazards that the name alone shows, where a table has no food groups. Only
/// names that can mean nothing else: a larder row says the rest.
pub fn hazard_in_name(name: &str, tag: &str) -> bool {
    let has = |wanted: &str| name.split(|c: char| !c.is_alphabetic()).any(|word| word == wanted);
    let head = name.split(',').next().unwrap_or_default().trim();
    let is = |heads: &[&str]| has("raw") && heads.contains(&head);
    match tag {
        "honey" => has("honey"),
        "salt" => matches!(head, "salt" | "table salt" | "iodised salt" | "rock salt"),
        "raw-egg" => is(&["egg", "eggs", "hen egg", "hen eggs", "chicken egg", "duck egg"]),
        "raw-milk" => is(&["milk", "cow milk", "goat milk", "camel milk", "sheep milk"]),
        "raw-meat" => is(&[
            "beef",
            "goat",
            "chicken",
            "pork",
            "mutton",
            "lamb",
            "duck",
            "rabbit",
            "turkey",
            "meat",
            "liver",
            "beef liver",
            "chicken liver",
            "goat liver",
        ]),
        "raw-fish" => is(&["fish", "tilapia", "catfish", "nile perch"]),
        _ => false,
    }
}
