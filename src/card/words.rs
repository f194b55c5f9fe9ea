//! Amounts in words and as drawings.

use super::locale::TIE;
use super::{Count, Drawn, Locale};
use crate::ast::{Amount, Duration, Makes, TimeUnit};
use crate::quantity::{Exact, Heap, Measure, Range, Unit};
use crate::reference::Reference;
use crate::reference::measure::{HouseholdMeasure, volume};

pub fn amount(amount: &Amount, locale: &Locale) -> String {
    match amount {
        Amount::Missing | Amount::Unreadable(_) => String::new(),
        Amount::ToTaste(_) => locale.word("to-taste"),
        Amount::Count { range, .. } => locale.range(*range),
        Amount::Measured { range, measure, .. } => measured(*range, *measure, locale),
    }
}

pub fn measured(range: Range, measure: Measure, locale: &Locale) -> String {
    let number = locale.range(range);
    let unit = locale.counted(&format!("unit-{}", measure.unit.word()), range.high.value(), &[]);
    let piece = matches!(measure.unit, Unit::Piece(crate::quantity::PieceUnit::Piece));
    let size = measure.size.map(|size| locale.word(&format!("size-{}", size.word())));
    let text = match (measure.heap, size) {
        (Some(heap), _) => {
            let key = if heap == Heap::Heaped { "amount-heaped" } else { "amount-level" };
            locale.with(key, &[("number", number), ("unit", unit)])
        }
        (None, Some(size)) if piece => locale.with("amount-size-only", &[("number", number), ("size", size)]),
        (None, Some(size)) => locale.with("amount-sized", &[("number", number), ("size", size), ("unit", unit)]),
        (None, None) => locale.with("amount", &[("number", number), ("unit", unit)]),
    };
    if text.split(' ').count() == 2 { text.replace(' ', &TIE.to_string()) } else { text }
}

pub fn makes(makes: &Makes, locale: &Locale) -> String {
    match makes {
        Makes::Measured(range, measure) => measured(*range, *measure, locale),
        Makes::Pieces(range, word) => format!("{}{TIE}{word}", locale.range(*range)),
        Makes::Portions(range, each) => {
            let number = locale.range(*range);
            match each {
                Some((each, measure)) => locale.counted(
                    "portions-of",
                    range.high.value(),
                    &[("number", number), ("amount", measured(*each, *measure, locale))],
                ),
                None => locale.counted("portions", range.high.value(), &[("number", number)]),
            }
        }
    }
}

/// A volume as a share of a cup, rounded to what a cup shows.
fn cups(ml: f64, reference: &Reference) -> Option<Exact> {
    let (top, bottom) = volume(reference.standard, HouseholdMeasure::Cup)?.ml;
    let cups = ml * bottom as f64 / top as f64;
    let quarters = (cups * 4.0).round();
    if quarters >= 1.0 { Exact::fraction(quarters as i64, 4) } else { None }
}

/// A volume in cups, else in mL.
pub fn ml(ml: f64, reference: &Reference, locale: &Locale) -> String {
    match cups(ml, reference) {
        Some(cups) => measured(Range::exactly(cups), Measure::of(Unit::Cup), locale),
        None => locale.tied("millilitres", locale.decimal(ml, 0)),
    }
}

pub fn is_weight(amount: &Amount) -> bool {
    matches!(amount, Amount::Measured { measure, .. } if measure.unit.grams().is_some())
}

/// A measure drawn for an ingredient.
pub fn drawn(amount: &Amount, locale: &Locale) -> Drawn {
    match amount {
        Amount::Measured { range, measure, .. } => drawn_measure(*range, *measure, locale),
        Amount::Count { range, .. } => shape("piece", range.high, false, locale.range(*range), locale),
        _ => none(),
    }
}

pub fn drawn_makes(makes: &Makes, locale: &Locale) -> Drawn {
    match makes {
        Makes::Measured(range, measure) => drawn_measure(*range, *measure, locale),
        Makes::Pieces(range, word) => {
            shape("piece", range.high, false, format!("{} {word}", locale.range(*range)), locale)
        }
        Makes::Portions(range, Some((each, measure))) if range.is_single() && range.low == Exact::whole(1) => {
            drawn_measure(*each, *measure, locale)
        }
        Makes::Portions(..) => none(),
    }
}

pub fn drawn_ml(volume_ml: f64, reference: &Reference, locale: &Locale) -> Drawn {
    match cups(volume_ml, reference) {
        Some(cups) => drawn_measure(Range::exactly(cups), Measure::of(Unit::Cup), locale),
        None => none(),
    }
}

fn drawn_measure(range: Range, measure: Measure, locale: &Locale) -> Drawn {
    let kind = match measure.unit {
        Unit::Cup => "cup",
        Unit::Tablespoon => "tbsp",
        Unit::Teaspoon => "tsp",
        Unit::Pinch | Unit::Dash => "pinch",
        Unit::Handful => "handful",
        Unit::Millilitre | Unit::Litre => "jug",
        Unit::Gram | Unit::Kilogram | Unit::Milligram => "scale",
        Unit::Piece(_) => "piece",
        Unit::Centimetre => "none",
    };
    let words = measured(range, measure, locale);
    match kind {
        "none" => none(),
        // One jug or one scale stands for any amount.
        "jug" | "scale" => shape(kind, Exact::whole(1), false, words, locale),
        _ => shape(kind, range.high, measure.heap == Some(Heap::Heaped), words, locale),
    }
}

fn shape(kind: &'static str, value: Exact, heaped: bool, words: String, locale: &Locale) -> Drawn {
    let (whole, rest) = value.split();
    Drawn {
        kind,
        count: Count { whole, fraction: rest.value() },
        count_text: locale.exact(value),
        heaped,
        alt: locale.with("measure-alt", &[("amount", words)]),
    }
}

fn none() -> Drawn {
    Drawn {
        kind: "none",
        count: Count { whole: 0, fraction: 0.0 },
        count_text: String::new(),
        heaped: false,
        alt: String::new(),
    }
}

/// A duration as the author wrote it, in the author's unit.
pub fn duration(duration: &Duration, locale: &Locale) -> String {
    match duration {
        Duration::Overnight => locale.word("time-overnight"),
        Duration::Whistles(range) => {
            locale.counted("time-whistles", range.high.value(), &[("text", locale.range(*range))])
        }
        Duration::Minutes { low, high, unit } => {
            let per = match unit {
                TimeUnit::Second => Exact::fraction(1, 60),
                TimeUnit::Minute => Some(Exact::whole(1)),
                TimeUnit::Hour => Some(Exact::whole(60)),
                TimeUnit::Day => Some(Exact::whole(24 * 60)),
            };
            let scaled = per.and_then(|per| Some(Range { low: low.over(per)?, high: high.over(per)? }));
            let Some(range) = scaled else { return locale.minutes((low.value(), high.value())) };
            let awkward = |value: Exact| !matches!(value.denominator(), 1..=4);
            if awkward(range.low) || awkward(range.high) {
                return locale.minutes((low.value(), high.value()));
            }
            let text = locale.range(range);
            match unit {
                TimeUnit::Second => locale.counted("time-seconds", range.high.value(), &[("text", text)]),
                TimeUnit::Minute => locale.tied("time-minutes", text),
                TimeUnit::Hour => locale.tied("time-hours", text),
                TimeUnit::Day => locale.counted("time-days", range.high.value(), &[("text", text)]),
            }
        }
    }
}

/// The text with a capital first letter.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A title in the middle of a line: its first letter small, as a food's name
/// has it, unless the word is written in capitals.
pub fn mid_line(title: &str) -> String {
    let mut letters = title.chars();
    let Some(first) = letters.next() else { return String::new() };
    let shouts = letters.clone().next().is_some_and(char::is_uppercase);
    if shouts { title.to_owned() } else { first.to_lowercase().chain(letters).collect() }
}
