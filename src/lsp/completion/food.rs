//! Amounts, foods and their states.

use lsp_types::CompletionItemKind;

use super::{Item, answers};
use crate::lsp::place::{Piece, Place, words};
use crate::lsp::view::View;
use crate::quantity::{Unit, round_half_even};
use crate::reference::larder::{FoodClass, FoodRow, normal_name};
use crate::resolve::food::PREPARATIONS;
use crate::resolve::grams::millilitres;
use crate::syntax::Kind;

/// Proposals that are sent at once.
const MOST: usize = 80;

/// Units that are proposed before a food is named.
const UNITS: [&str; 12] = ["cup", "tbsp", "tsp", "g", "kg", "mL", "L", "pinch", "handful", "piece", "slice", "clove"];

/// The amount, food or state at the end of a `take` line.
pub fn takes(view: &View<'_>, place: &Place<'_>, piece: Piece<'_>) -> Vec<Item> {
    let lower = piece.text.to_lowercase();
    let or = lower.rfind(" or ").map(|at| at + " or ".len());
    // Lower case may be longer than what was typed.
    let piece = piece.from(or.filter(|at| piece.text.is_char_boundary(*at)).unwrap_or(0));
    option(view, place, piece)
}

/// The item at the cursor of a `meal` line.
pub fn meal(view: &View<'_>, place: &Place<'_>) -> Vec<Item> {
    // The first colon is that of the clock.
    let Some(clock) = place.before.find(':') else { return Vec::new() };
    let Some(colon) = place.before.get(clock + 1..).and_then(|rest| rest.find(':')) else { return Vec::new() };
    let mut begins = clock + 1 + colon + 1;
    let items = place.before.get(begins..).unwrap_or_default();
    // A comma before an amount or a dish begins the next item; any other
    // comma is followed by a state.
    for (at, _) in items.match_indices(',') {
        let next = items.get(at + 1..).unwrap_or_default().trim_start();
        if next.starts_with(char::is_numeric) || next.starts_with("dish ") || next.is_empty() {
            begins = clock + 1 + colon + 1 + at + 1;
        }
    }
    let piece = place.piece(begins);
    let mut found = takes(view, place, piece);
    if amount_end(piece.text) == piece.text.len() || piece.text.is_empty() {
        found.extend(dishes(view, piece.from(amount_end(piece.text)), "dish "));
    }
    found
}

fn option(view: &View<'_>, place: &Place<'_>, piece: Piece<'_>) -> Vec<Item> {
    if piece.text.contains('(') || words(piece.text).iter().any(|(_, word)| matches!(*word, "as" | "keep")) {
        return Vec::new();
    }
    let amount = amount_end(piece.text);
    let food = piece.from(amount);
    if let Some(comma) = food.text.rfind(',') {
        let name = food.text.split(',').next().unwrap_or_default();
        return states(view, name.trim(), food.text, food.from(comma + 1));
    }
    if let Some(name) = food.text.strip_prefix("dish ") {
        return dishes(view, food.from(food.text.len() - name.len()), "");
    }
    let mut found = Vec::new();
    let numbered = piece.text.starts_with(|c: char| c.is_numeric());
    if numbered && !has_unit(piece.text, amount) && !food.text.contains(char::is_whitespace) {
        // A number just typed wants a blank before the unit.
        let at_number = amount == piece.text.len() && !piece.text.ends_with(char::is_whitespace);
        if !at_number {
            found.extend(measures(view, place, food));
        }
    }
    if piece.text.is_empty() || piece.text.ends_with(char::is_whitespace) || !food.text.is_empty() {
        found.extend(foods(view, food));
        if !food.text.is_empty() && "dish".starts_with(food.text) {
            found.push(Item::new("dish ", food.span(), CompletionItemKind::KEYWORD, "a dish of this workspace"));
        }
    }
    found
}

/// The units of an amount that is being typed.
pub fn units(piece: Piece<'_>) -> Vec<Item> {
    let end = amount_end(piece.text);
    let typed = piece.from(end);
    if end == 0 || has_unit(piece.text, end) || typed.text.contains(char::is_whitespace) {
        return Vec::new();
    }
    let fits = |unit: &&&str| unit.to_lowercase().starts_with(&typed.text.to_lowercase());
    UNITS.iter().filter(fits).map(|unit| Item::new(*unit, typed.span(), CompletionItemKind::UNIT, "")).collect()
}

/// Where the amount ends that an option begins with: behind its numbers, size,
/// unit and `of`, and the blank after each.
fn amount_end(text: &str) -> usize {
    let mut end = 0;
    let mut numbers = 0;
    let mut unit = false;
    for (at, word) in words(text) {
        let lower = word.to_lowercase();
        let number = word.starts_with(|c: char| c.is_numeric()) || lower == "to" && numbers > 0;
        let whole = text.len() > at + word.len();
        let measure = numbers > 0
            && whole
            && (Unit::from_word(&lower).is_some()
                || matches!(lower.as_str(), "heaped" | "level" | "small" | "medium" | "large")
                || lower == "of" && unit);
        if number && !unit {
            numbers += 1;
        } else if measure {
            unit |= Unit::from_word(&lower).is_some();
        } else {
            break;
        }
        end = at + word.len();
    }
    let rest = text.get(end..).unwrap_or_default();
    end + (rest.len() - rest.trim_start().len())
}

fn has_unit(text: &str, amount: usize) -> bool {
    words(text.get(..amount).unwrap_or_default()).iter().any(|(_, word)| Unit::from_word(word).is_some())
}

/// The measures that the food behind the cursor has, with their weights; any
/// unit where there is none yet.
fn measures(view: &View<'_>, place: &Place<'_>, typed: Piece<'_>) -> Vec<Item> {
    let ahead = place.ahead.split([',', '(']).next().unwrap_or_default().trim();
    // What is being typed goes on to the end of its word.
    let ahead = ahead
        .split_once(char::is_whitespace)
        .filter(|_| !place.ahead.starts_with(char::is_whitespace))
        .map_or(ahead, |(_, food)| food);
    let rows = view.reference().larder.named(ahead.trim());
    let Some(row) = rows.iter().find(|row| row.plain).or_else(|| rows.first()) else {
        let fits = |unit: &&&str| unit.to_lowercase().starts_with(&typed.text.to_lowercase());
        return UNITS
            .iter()
            .filter(fits)
            .map(|unit| Item::new(*unit, typed.span(), CompletionItemKind::UNIT, "a measure"))
            .collect();
    };
    let name = row.printed("en");
    weighed(view, row)
        .into_iter()
        .filter(|(measure, _)| measure.to_lowercase().starts_with(&typed.text.to_lowercase()))
        .map(|(measure, grams)| {
            let detail = grams.map_or(String::new(), |grams| format!("{} g of {name}", round_half_even(grams, 1)));
            Item::new(measure, typed.span(), CompletionItemKind::UNIT, detail)
        })
        .collect()
}

/// Every measure of a larder row, with its grams.
fn weighed(view: &View<'_>, row: &FoodRow) -> Vec<(String, Option<f64>)> {
    let mut found = vec![("g".to_owned(), None)];
    let density = row.density.or_else(|| row.densities.first().map(|form| form.g_per_ml));
    if let Some(density) = density {
        for unit in [Unit::Cup, Unit::Tablespoon, Unit::Teaspoon, Unit::Millilitre] {
            let ml = millilitres(unit, view.reference().standard).map(|(ml, _)| ml);
            found.push((unit.word().to_owned(), ml.map(|ml| ml * density)));
        }
    }
    for piece in &row.pieces {
        let words = match &piece.size {
            Some(size) if piece.unit == "piece" => size.clone(),
            Some(size) => format!("{size} {}", piece.unit),
            None => piece.unit.clone(),
        };
        found.push((words, Some(piece.grams)));
    }
    found
}

/// Dishes of the workspace by their names.
fn dishes(view: &View<'_>, piece: Piece<'_>, before: &str) -> Vec<Item> {
    let own = view.checked.id();
    view.neighbours
        .names(Kind::Dish)
        .into_iter()
        .filter(|name| own != Some(name) && name.starts_with(piece.text))
        .map(|name| {
            Item::new(format!("{before}{name}"), piece.span(), CompletionItemKind::FILE, "a dish of this workspace")
        })
        .collect()
}

/// Foods of the larder by their names in the workspace's languages.
fn foods(view: &View<'_>, piece: Piece<'_>) -> Vec<Item> {
    let larder = &view.reference().larder;
    let mut languages: Vec<&str> = vec!["en"];
    for tag in &view.workspace.settings.languages {
        let base = tag.split('-').next().unwrap_or(tag);
        if !languages.contains(&base) {
            languages.push(base);
        }
    }
    let wanted = piece.text.to_lowercase();
    let mut found: Vec<(usize, String, &FoodRow)> = Vec::new();
    for row in larder.rows() {
        for language in &languages {
            let names = match *language {
                "sw" => &row.sw,
                "fr" => &row.fr,
                _ => &row.en,
            };
            for (at, name) in names.iter().enumerate() {
                if !answers(name, piece.text) {
                    continue;
                }
                let whole = name.to_lowercase().starts_with(&wanted);
                let rank = usize::from(!whole) * 4 + at.min(3);
                let same = larder.named(name);
                let alone = same.len() <= 1 || row.plain;
                let text = match row.states.first().filter(|_| !alone) {
                    Some(state) => format!("{name}, {state}"),
                    None => name.clone(),
                };
                found.push((rank, text, row));
            }
        }
    }
    found.sort_by(|a, b| (a.0, a.1.chars().count(), &a.1).cmp(&(b.0, b.1.chars().count(), &b.1)));
    found.dedup_by(|a, b| a.1 == b.1);
    found.truncate(MOST);
    found
        .into_iter()
        .map(|(_, text, row)| Item::new(text, piece.span(), CompletionItemKind::VALUE, told(row)))
        .collect()
}

fn told(row: &FoodRow) -> String {
    let name = row.full_name();
    match row.class {
        FoodClass::Other => format!("{name} ({})", row.row),
        class => format!("{name} ({}, {})", class.word(), row.row),
    }
}

/// States that pick a row of this food, then those that say how it is cut.
fn states(view: &View<'_>, name: &str, written: &str, piece: Piece<'_>) -> Vec<Item> {
    let rows = view.reference().larder.named(name);
    let typed = piece.text.to_lowercase();
    let there: Vec<String> = written.split(',').skip(1).map(|state| normal_name(state.trim())).collect();
    let mut found: Vec<Item> = Vec::new();
    let mut add = |word: &str, detail: String| {
        let new = !found.iter().any(|item: &Item| item.text == word);
        let finished = there.iter().any(|state| *state == normal_name(word)) && typed != word;
        if new && !finished && word.starts_with(&typed) {
            found.push(Item::new(word, piece.span(), CompletionItemKind::ENUM_MEMBER, detail));
        }
    };
    for row in &rows {
        for state in &row.states {
            add(state, format!("{} ({})", row.full_name(), row.row));
        }
    }
    for row in &rows {
        for form in &row.densities {
            add(&form.state, format!("measured so it weighs {} g/mL", form.g_per_ml));
        }
    }
    for word in PREPARATIONS {
        add(word, String::new());
    }
    found
}

#[cfg(test)]
mod tests {
    use super::amount_end;

    #[test]
    fn an_amount_ends_before_its_food() {
        for (text, amount) in [
            ("1/2 cup pumpkin", "1/2 cup "),
            ("1 1/2 heaped tbsp oil", "1 1/2 heaped tbsp "),
            ("5 to 6 leaves of amaranth", "5 to 6 leaves of "),
            ("2 ", "2 "),
            ("2 cu", "2 "),
            ("2 cup", "2 "),
            ("½ avocado", "½ "),
            ("pumpkin", ""),
            ("2 small ba", "2 small "),
        ] {
            assert_eq!(text.get(..amount_end(text)), Some(amount), "{text}");
        }
    }
}
