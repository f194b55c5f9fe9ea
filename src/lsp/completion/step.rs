//! Verbs, ingredients and clauses of a step.

use lsp_types::CompletionItemKind;

use super::{Item, answers, last_word};
use crate::ast::Document;
use crate::lsp::hover::process;
use crate::lsp::place::{Piece, Place, words};
use crate::lsp::view::View;
use crate::reference::process::PROCESSES;

/// Words that begin a clause, with what follows them.
const CLAUSES: [(&str, &str); 7] = [
    ("with", "what comes with it"),
    ("for", "how long, such as `for 10 min`"),
    ("until", "what to look for"),
    ("in", "what it is cooked in"),
    ("on", "how hot: `on low heat`"),
    ("at", "degrees: `at 180 C`"),
    ("unattended", "nobody stands by"),
];

/// Words behind which ingredients stand.
const JOINING: [&str; 6] = ["with", "onto", "into", "over", "to", "in"];

pub fn step(view: &View<'_>, place: &Place<'_>) -> Vec<Item> {
    let whole = place.piece(0);
    if whole.text.contains(':') {
        return Vec::new();
    }
    let action = whole.from(whole.text.rfind(';').map_or(0, |at| at + 1));
    let typed = words(action.text);
    let verb = match typed.as_slice() {
        [] => "",
        [(_, first), (_, second), ..] if format!("{first} {second}").eq_ignore_ascii_case("set aside") => "set aside",
        [(_, first), ..] => first,
    };
    let behind = action.text.get(verb.len()..).unwrap_or_default();
    if verb.is_empty() || behind.is_empty() || verb.eq_ignore_ascii_case("set") {
        return processes(action);
    }
    let rest = action.from(verb.len());
    // The last word that parts clauses or names; what follows is being typed.
    let mut clause = "";
    let mut from = 0;
    for (at, word) in words(rest.text) {
        let end = at + word.len();
        // A word that the cursor touches is not finished.
        let finished = end < rest.text.len();
        let lower = word.to_lowercase();
        if finished && (JOINING.contains(&lower.as_str()) || matches!(lower.as_str(), "for" | "until" | "on" | "at")) {
            clause = CLAUSES.iter().map(|(word, _)| *word).chain(JOINING).find(|known| *known == lower).unwrap_or("");
            from = end;
        } else if word.ends_with(',') || finished && lower == "and" {
            from = end;
            if matches!(clause, "for" | "until" | "on" | "at") {
                clause = "done";
            }
        }
    }
    let piece = rest.from(from);
    let mut found = match clause {
        "for" => durations(piece),
        "on" => fixed(piece, &["low heat", "medium heat", "high heat"]),
        "until" | "at" | "done" => Vec::new(),
        _ => ingredients(view, piece, Some(verb)),
    };
    if goes_on(clause, piece) || from == 0 {
        found.extend(clauses(last_word(piece)));
    }
    found
}

/// Whether the clause at the cursor may be over, so that another may begin.
fn goes_on(clause: &str, piece: Piece<'_>) -> bool {
    let typed = words(piece.text).len();
    // Words that are finished: a blank stands behind them.
    let finished = if piece.text.ends_with(char::is_whitespace) { typed } else { typed.saturating_sub(1) };
    match clause {
        "done" => true,
        "until" => false,
        "for" if piece.text.starts_with(|c: char| c.is_numeric()) => finished >= 2,
        "for" | "on" | "at" => finished >= 1,
        _ => typed > 0,
    }
}

fn processes(action: Piece<'_>) -> Vec<Item> {
    let typed = action.text.to_lowercase();
    PROCESSES
        .iter()
        .filter(|one| one.word.starts_with(&typed))
        .map(|one| Item::new(one.word, action.span(), CompletionItemKind::FUNCTION, process(one)))
        .collect()
}

fn clauses(piece: Piece<'_>) -> Vec<Item> {
    let typed = piece.text.to_lowercase();
    let fits = |(word, _): &&(&str, &str)| word.starts_with(&typed);
    let item = |(word, detail): &(&str, &str)| {
        let text = if *word == "unattended" { (*word).to_owned() } else { format!("{word} ") };
        Item::new(text, piece.span(), CompletionItemKind::KEYWORD, *detail)
    };
    CLAUSES.iter().filter(fits).map(item).collect()
}

fn fixed(piece: Piece<'_>, texts: &[&str]) -> Vec<Item> {
    let fits = |text: &&&str| text.starts_with(&piece.text.to_lowercase());
    texts.iter().filter(fits).map(|text| Item::new(*text, piece.span(), CompletionItemKind::ENUM_MEMBER, "")).collect()
}

fn durations(piece: Piece<'_>) -> Vec<Item> {
    let number: String = piece.text.chars().take_while(|c| c.is_numeric() || matches!(c, '/' | '.' | ' ')).collect();
    let number = number.trim();
    if number.is_empty() {
        return fixed(piece, &["the child"]);
    }
    let texts = ["min", "h", "days"].map(|unit| format!("{number} {unit}"));
    fixed(piece, &texts.each_ref().map(String::as_str))
}

/// The ingredients and parts that a step at the cursor may name; those that no
/// step uses yet come first. `verb` is absent outside a step.
pub fn ingredients(view: &View<'_>, piece: Piece<'_>, verb: Option<&str>) -> Vec<Item> {
    let (Some(dish), Document::Dish(ast)) = (&view.checked.dish, &view.checked.document) else { return Vec::new() };
    let here = piece.start;
    let part = ast.parts.iter().rposition(|part| part.name.as_ref().is_none_or(|name| name.span.start <= here));
    let part = part.unwrap_or(0);
    let mut found = Vec::new();
    for (at, ingredient) in dish.resolved.ingredients.iter().enumerate() {
        let in_scope = verb.is_none() || ingredient.part == part || ingredient.part == 0;
        if !in_scope || ingredient.span.start > here && verb.is_some() || !answers(&ingredient.name, piece.text) {
            continue;
        }
        let used = dish.resolved.flow.used.get(at).copied().unwrap_or(false);
        let grams = ingredient.first().and_then(|choice| choice.weight.as_ref()).map(|weight| weight.grams);
        let grams = grams.map_or(String::new(), |grams| format!("{} g", crate::quantity::round_half_even(grams, 1)));
        let detail =
            if used { grams } else { format!("{grams}, no step uses it yet").trim_start_matches(", ").to_owned() };
        found.push((used, Item::new(ingredient.name.clone(), piece.span(), CompletionItemKind::VARIABLE, detail)));
    }
    found.sort_by_key(|(used, _)| *used);
    let mut found: Vec<Item> = found.into_iter().map(|(_, item)| item).collect();
    let Some(verb) = verb else { return found };
    for name in ast.parts.iter().take(part).filter_map(|part| part.name.as_ref()) {
        if answers(&name.value, piece.text) {
            found.push(Item::new(name.value.clone(), piece.span(), CompletionItemKind::MODULE, "a part of this dish"));
        }
    }
    if verb == "set aside" {
        found.insert(
            0,
            Item::new("child portion", piece.span(), CompletionItemKind::KEYWORD, "what follows is for the family"),
        );
    }
    let words = [("everything", "all that goes into the pot"), ("child portion", "what was set aside")];
    for (word, detail) in words {
        if word.starts_with(&piece.text.to_lowercase()) && !found.iter().any(|item| item.text == word) {
            found.push(Item::new(word, piece.span(), CompletionItemKind::KEYWORD, detail));
        }
    }
    found
}
