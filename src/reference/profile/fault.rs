//! Faults of a profile's form in words for its author: the reader's own
//! message names types of the program.

use serde::Serialize;

use crate::diagnostic::{Code, Diagnostic, did_you_mean, quote};
use crate::source::Span;

/// The word of an enumeration as it is written in a profile.
pub fn word<T: Serialize>(value: T) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

/// A message for a fault, at its own place or else at that of its row.
pub fn message(error: &toml::de::Error, row: Span, whole: &str) -> Diagnostic {
    let place = error.span().map_or(row, |span| Span::new(span.start, span.end));
    let text = error.message().lines().next().unwrap_or_default().trim();
    let ticks: Vec<&str> = text.split('`').skip(1).step_by(2).collect();
    let (first, known) = ticks.split_first().map_or(("", &[][..]), |(first, rest)| (*first, rest));
    let new = |place, message: String| Diagnostic::new(Code::WorkspaceProfileError, place, message);
    let near = |message: Diagnostic, quoted: bool| match did_you_mean(first, known.iter().copied()) {
        Some(near) => {
            let typed = if quoted { format!("\"{near}\"") } else { near.to_owned() };
            message.help(format!("did you mean `{near}`?")).fix(place, typed)
        }
        None => message.help(format!("there are {}", known.join(", "))),
    };
    if text.starts_with("unknown field") {
        return near(new(place, format!("{} is no field of `{whole}`", quote(first))), false);
    }
    if text.starts_with("unknown variant") {
        return near(new(place, format!("{} is none of the words that are known here", quote(first))), true);
    }
    if text.starts_with("missing field") {
        // Its own place is the whole row, which may be many lines.
        let place = if row == Span::default() { place } else { row };
        let help = match first {
            "source" | "authority" => format!("add `{first} = \"…\"`: every figure names the document it comes from"),
            "status" => "add `status = \"…\"`: checked-official, checked-secondary, computed or memory".to_owned(),
            _ => format!("add `{first} = …`; `porringer profile new` writes a file with examples"),
        };
        return new(place, format!("this row of `{whole}` lacks `{first}`")).help(help);
    }
    if let Some((_, wanted)) = text.split_once("expected ") {
        let wanted = match wanted.trim_end_matches('.') {
            "f32" | "f64" => "a number",
            "u8" | "u16" | "u32" | "i32" | "i64" => "a whole number",
            "a string" => "a text in quotation marks",
            "a boolean" => "true or false",
            "a sequence" => "a list in square brackets",
            other => other.strip_prefix("struct ").map_or(other, |_| "a table in curly brackets"),
        };
        if text.starts_with("invalid type") || text.starts_with("invalid value") {
            return new(place, format!("{wanted} is wanted here")).help("write it as `porringer profile new` shows");
        }
    }
    new(place, text.to_lowercase()).help("write it as `porringer profile new` shows")
}
