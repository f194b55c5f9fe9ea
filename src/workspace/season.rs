//! `[season]` of the settings: in which months a food is to be had.

use toml::Spanned as Placed;
use toml::de::DeValue;

use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::larder::Larder;
use crate::reference::season::{FoodSeason, Seasons, names};
use crate::source::Span;

/// How a line is written; help for every fault of form.
const PATTERN: &str = "it is written like this: `mango = \"november to march\"`";

fn span<T>(placed: &Placed<T>) -> Span {
    Span::new(placed.span().start, placed.span().end)
}

/// Reads the table; what is wrong is left out.
pub fn read(value: &Placed<DeValue<'_>>, sink: &mut Sink) -> Vec<FoodSeason> {
    let mut lines = Vec::new();
    let DeValue::Table(table) = value.get_ref() else {
        sink.push(
            Diagnostic::new(Code::WorkspaceUnknownKey, span(value), "`season` wants a table")
                .help("write `[season]` on a line of its own, and below it one line a food"),
        );
        return lines;
    };
    for (key, value) in table {
        let food: &str = key.get_ref();
        let place = span(value);
        let Some(text) = value.get_ref().as_str() else {
            sink.push(
                Diagnostic::new(
                    Code::WorkspaceUnknownKey,
                    place,
                    format!("the season of {} wants a text", quote(food)),
                )
                .help(PATTERN),
            );
            continue;
        };
        match crate::syntax::months(text) {
            Some(months) => lines.push(FoodSeason { food: food.to_owned(), months, span: span(key) }),
            None => {
                let near = text
                    .split(|c: char| !c.is_alphabetic())
                    .filter(|word| !word.is_empty() && *word != "to" && crate::syntax::months(word).is_none())
                    .find_map(|word| did_you_mean(&word.to_lowercase(), names()));
                let message =
                    Diagnostic::new(Code::WorkspaceUnknownKey, place, format!("{} names no months", quote(text)));
                sink.push(match near {
                    Some(near) => message.help(format!("did you mean `{near}`? {PATTERN}")),
                    None => message.help(PATTERN),
                });
            }
        }
    }
    // The reader gives keys in the order of the alphabet.
    lines.sort_by_key(|line| line.span.start);
    lines
}

/// The lines whose food is in the larder; each other is told.
pub fn known(lines: &[FoodSeason], larder: &Larder, sink: &mut Sink) -> Seasons {
    let known = |line: &&FoodSeason| {
        if !line.rows(larder).is_empty() {
            return true;
        }
        let (message, near) = larder.no_such_food(&line.food);
        sink.push(Diagnostic::new(Code::WorkspaceUnknownKey, line.span, message).help(near));
        false
    };
    Seasons::new(lines.iter().filter(known).cloned().collect(), larder)
}
