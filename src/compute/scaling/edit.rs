//! The changes to a dish's text: amounts, weights in brackets, `makes` and
//! `cooked`, nothing else.

use super::{Line, measure_words, number_text, range_text};
use crate::ast::{Amount, Cooked, Makes, TakeOption};
use crate::quantity::{Exact, Measure, PieceUnit, Range, Unit, round_half_even};
use crate::reference::measure::Standard;
use crate::resolve::Dish;
use crate::resolve::grams::millilitres;
use crate::source::{Source, Span};

/// A span of the text and what stands there now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    pub span: Span,
    pub text: String,
}

/// The amount and the bracketed weight of one option.
pub fn option(option: &TakeOption, line: &Line, factor: Exact, source: &Source, standard: Standard) -> Vec<Edit> {
    let mut edits = Vec::new();
    let span = match option.amount {
        Amount::Measured { span, .. } | Amount::Count { span, .. } => Some(span),
        _ => None,
    };
    if let Some(span) = span
        && !line.parts.is_empty()
    {
        let old = source.slice(span);
        edits.push(Edit { span, text: keep_comments(old, &amount(line, old, standard)) });
    }
    if let Some(weight) = option.weight {
        // The weight of what is measured now, so that the two agree.
        let scaled = |value: Exact| value.times(factor).map(|value| value.value() * (1.0 + line.error));
        if let (Some(low), Some(high)) = (scaled(weight.value.low), scaled(weight.value.high)) {
            let grams = |grams: f64| round_half_even(grams, if grams < 10.0 { 2 } else { 0 }).to_string();
            let number =
                if weight.value.is_single() { grams(low) } else { format!("{} to {}", grams(low), grams(high)) };
            edits.push(Edit { span: weight.span, text: format!("({number} g)") });
        }
    }
    edits
}

/// The new amount in the language: two measures become their volume, because
/// a line has room for one.
fn amount(line: &Line, old: &str, standard: Standard) -> String {
    let text = match line.parts.as_slice() {
        [part] => with_measure(part.number, part.measure, old),
        parts => {
            let ml: f64 = parts
                .iter()
                .filter_map(|part| millilitres(part.measure?.unit, standard).map(|(ml, _)| ml * part.number.middle()))
                .sum();
            format!("{} mL", round_half_even(ml, 2))
        }
    };
    // "2 cups of flour" keeps its "of".
    let of = old.split_whitespace().next_back().is_some_and(|word| word.eq_ignore_ascii_case("of"));
    if of && line.parts.iter().any(|part| part.measure.is_some()) { format!("{text} of") } else { text }
}

fn with_measure(number: Range, measure: Option<Measure>, old: &str) -> String {
    let Some(measure) = measure else { return range_text(number) };
    let figure = super::figure(number, measure.unit);
    let piece = measure.unit == Unit::Piece(PieceUnit::Piece)
        && old.split_whitespace().any(|word| word.to_lowercase().starts_with("piece"));
    let words = measure_words(measure, number.high, piece);
    if words.is_empty() { figure } else { format!("{figure} {words}") }
}

/// Comments may stand between the lines of one amount; they stay below it.
fn keep_comments(old: &str, new: &str) -> String {
    if !old.contains(['\n', '\r']) {
        return new.to_owned();
    }
    let comments: Vec<&str> =
        old.split(['\n', '\r']).skip(1).filter(|line| line.trim_start().starts_with('#')).collect();
    if comments.is_empty() { new.to_owned() } else { format!("{new}\n{}\n ", comments.join("\n")) }
}

/// The `makes` line.
pub fn makes(dish: &Dish, scaled: Option<&Makes>, source: &Source) -> Option<Edit> {
    let line = dish.ast.makes.as_ref()?;
    let old = source.slice(line.span);
    let trimmed = old.trim_end();
    let span = Span::new(line.span.start, line.span.start + trimmed.len());
    let text = match scaled? {
        Makes::Measured(range, measure) => with_measure(*range, Some(*measure), trimmed),
        other => super::makes_text(other),
    };
    Some(Edit { span, text: keep_comments(trimmed, &text) })
}

/// The `cooked` line, where it is a weight; a yield in percent stays.
pub fn cooked(dish: &Dish, factor: Exact, source: &Source) -> Option<Edit> {
    let line = dish.ast.cooked.as_ref()?;
    let Cooked::Grams(grams) = line.value else { return None };
    let grams = grams.times(factor)?;
    let old = source.slice(line.span).trim_end();
    let span = Span::new(line.span.start, line.span.start + old.len());
    let grams = if grams.value() < 100.0 { number_text(grams) } else { round_half_even(grams.value(), 0).to_string() };
    Some(Edit { span, text: keep_comments(old, &format!("{grams} g")) })
}
