//! A dish for more or fewer children: an exact factor, then the nearest
//! measure that a person owns, with the error of each line.
//!
//! Only amounts change. The factor and every scaled amount are exact
//! fractions; a line's error is what its rounding does to it, `rounded /
//! exact - 1`.

pub mod edit;
pub mod factor;
pub mod owned;

use crate::ast::{Amount, FoodName, Makes};
use crate::compute::shopping::{Bought, as_bought};
use crate::quantity::{Exact, Measure, PieceUnit, Range, Unit};
use crate::reference::Reference;
use crate::reference::larder::FoodClass;
use crate::resolve::{Choice, Dish};
use crate::source::{Source, Span};

pub use edit::Edit;
pub use factor::{Target, Wanted, target};
pub use owned::{Part, Rounded};

/// The error that a line is kept under where that is possible.
pub const TOLERANCE: f64 = 0.05;

/// A dish with every amount scaled.
#[derive(Debug, Clone)]
pub struct Scaled {
    pub factor: Exact,
    /// Every option of every ingredient, in the order of the file.
    pub lines: Vec<Line>,
    /// What the dish makes now, and the error of its rounding (pieces only).
    pub makes: Option<(Makes, f64)>,
    pub edits: Vec<Edit>,
    /// Texts that name numbers; they stay as they are.
    pub texts: Vec<Span>,
    /// Other dishes that are taken, with how much of each.
    pub dishes: Vec<(String, String)>,
}

/// Where an option stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Take,
    Or,
    Swap,
}

/// One option of one ingredient.
#[derive(Debug, Clone)]
pub struct Line {
    /// Index of the ingredient in the dish, and of its option.
    pub ingredient: usize,
    pub option: usize,
    pub kind: Kind,
    /// As the recipe has it, and exactly scaled. Empty where the option takes
    /// the amount of the first.
    pub before: String,
    pub exactly: String,
    /// What to measure: one amount, or two that are put together.
    pub parts: Vec<Part>,
    /// What the rounding does to it, 0.02 for 2 % too much.
    pub error: f64,
    /// Edible weight of what is measured.
    pub grams: Option<f64>,
    pub estimated: bool,
    /// The same as bought, refuse added back.
    pub bought: Option<Bought>,
    /// For what stays whole and was rounded: the factor at which it comes out
    /// even.
    pub whole_at: Option<Exact>,
}

impl Line {
    /// Whether the error is larger than it should be.
    pub fn is_off(&self) -> bool {
        self.error.abs() > TOLERANCE + 1e-9
    }
}

/// Scales a dish. Amounts that cannot be read stay as they are; a dish with
/// errors should not come here.
pub fn scale(dish: &Dish, source: &Source, factor: Exact, reference: &Reference) -> Scaled {
    let mut lines = Vec::new();
    let mut edits = Vec::new();
    let mut dishes = Vec::new();
    for (at, ingredient) in dish.ingredients.iter().enumerate() {
        let mut first_error = 0.0;
        let mut first_parts = Vec::new();
        for (number, choice) in ingredient.options.iter().enumerate() {
            let mut line = one(choice, factor, reference, first_error, &first_parts);
            line.ingredient = at;
            line.option = number;
            line.kind = match (number, choice.swapped) {
                (0, _) => Kind::Take,
                (_, true) => Kind::Swap,
                (_, false) => Kind::Or,
            };
            if number == 0 {
                first_error = line.error;
                first_parts.clone_from(&line.parts);
            }
            if factor != Exact::whole(1) {
                edits.extend(edit::option(&choice.option, &line, factor, source, reference.standard));
            }
            if let FoodName::Dish(name) = &choice.option.food.value {
                dishes.push((name.clone(), line.exactly.clone()));
            }
            lines.push(line);
        }
    }
    let makes = dish.makes().and_then(|makes| scaled_makes(makes, factor));
    if factor != Exact::whole(1) {
        edits.extend(edit::makes(dish, makes.as_ref().map(|(makes, _)| makes), source));
        edits.extend(edit::cooked(dish, factor, source));
    }
    edits.sort_by_key(|edit| edit.span.start);
    Scaled { factor, lines, makes, edits, texts: texts(dish), dishes }
}

fn one(choice: &Choice, factor: Exact, reference: &Reference, first_error: f64, first_parts: &[Part]) -> Line {
    let amount = &choice.option.amount;
    let mut line = Line {
        ingredient: 0,
        option: 0,
        kind: Kind::Take,
        before: amount_text(amount),
        exactly: String::new(),
        parts: Vec::new(),
        error: 0.0,
        grams: None,
        estimated: choice.weight.as_ref().is_some_and(|weight| weight.estimated),
        bought: None,
        whole_at: None,
    };
    let scaled = |range: Range| -> Option<Range> {
        Some(Range { low: range.low.times(factor)?, high: range.high.times(factor)? })
    };
    // With a factor of one nothing is measured anew.
    let untouched = factor == Exact::whole(1);
    match amount {
        Amount::Measured { range, measure, .. } => {
            if let Some(exact) = scaled(*range) {
                line.exactly = measured_text(exact, *measure);
                let rounded = if untouched {
                    Rounded::exactly(exact, Some(*measure))
                } else {
                    owned::measured(exact, *measure, divisible(choice, measure.unit), reference.standard)
                };
                if matches!(measure.unit, Unit::Piece(_)) && !divisible(choice, measure.unit) {
                    line.whole_at = whole_at(*range, &rounded);
                }
                line.parts = rounded.parts;
                line.error = rounded.error;
            }
        }
        Amount::Count { range, .. } => {
            if let Some(exact) = scaled(*range) {
                line.exactly = exact.to_string();
                let cut = divisible(choice, Unit::Piece(PieceUnit::Piece));
                let rounded = if untouched { Rounded::exactly(exact, None) } else { owned::counted(exact, None, cut) };
                if !cut {
                    line.whole_at = whole_at(*range, &rounded);
                }
                line.parts = rounded.parts;
                line.error = rounded.error;
            }
        }
        Amount::Missing => match choice.option.weight {
            Some(weight) => {
                if let Some(exact) = scaled(weight.value) {
                    line.before = measured_text(weight.value, Measure::of(Unit::Gram));
                    line.exactly = measured_text(exact, Measure::of(Unit::Gram));
                    let rounded = if untouched {
                        Rounded::exactly(exact, Some(Measure::of(Unit::Gram)))
                    } else {
                        owned::measured(exact, Measure::of(Unit::Gram), true, reference.standard)
                    };
                    line.parts = rounded.parts;
                    line.error = rounded.error;
                }
            }
            // As much as the first option.
            None => {
                line.error = first_error;
                line.parts = first_parts.to_vec();
            }
        },
        Amount::ToTaste(_) | Amount::Unreadable(_) => {}
    }
    if let Some(weight) = choice.weight.as_ref().filter(|weight| !weight.to_taste) {
        let grams = weight.grams * factor.value() * (1.0 + line.error);
        line.grams = Some(grams);
        line.bought = as_bought(choice, grams);
    }
    line
}

/// The factor at which a rounded count is what the recipe asks for.
fn whole_at(before: Range, rounded: &Rounded) -> Option<Exact> {
    let part = rounded.parts.first()?;
    if rounded.error.abs() < 1e-9 || !before.is_single() {
        return None;
    }
    part.number.high.over(before.high)
}

/// Whether half of one can be taken: an onion can be cut, an egg cannot.
fn divisible(choice: &Choice, unit: Unit) -> bool {
    use FoodClass as C;
    // What is smaller than this goes in whole.
    const CUT_FROM_G: f64 = 25.0;
    let Some(food) = &choice.food else { return false };
    match unit {
        Unit::Handful | Unit::Centimetre => return true,
        Unit::Piece(
            PieceUnit::Piece
            | PieceUnit::Bunch
            | PieceUnit::Head
            | PieceUnit::Slice
            | PieceUnit::Cob
            | PieceUnit::Fillet
            | PieceUnit::Stick,
        ) => {}
        _ => return false,
    }
    let each = food
        .larder
        .as_ref()
        .and_then(|row| row.pieces.iter().find(|piece| piece.unit == unit.word()).map(|piece| piece.grams));
    !matches!(food.class, C::Egg | C::Nut | C::DriedFruit | C::Shellfish | C::Insect)
        && each.is_none_or(|grams| grams >= CUT_FROM_G)
}

fn scaled_makes(makes: &Makes, factor: Exact) -> Option<(Makes, f64)> {
    let times = |range: &Range| Some(Range { low: range.low.times(factor)?, high: range.high.times(factor)? });
    Some(match makes {
        Makes::Measured(range, measure) if matches!(measure.unit, Unit::Piece(_)) => {
            let rounded = owned::counted(times(range)?, Some(*measure), false);
            (Makes::Measured(rounded.parts.first()?.number, *measure), rounded.error)
        }
        Makes::Measured(range, measure) => (Makes::Measured(times(range)?, *measure), 0.0),
        Makes::Pieces(range, word) => {
            let rounded = owned::counted(times(range)?, None, false);
            (Makes::Pieces(rounded.parts.first()?.number, word.clone()), rounded.error)
        }
        Makes::Portions(range, each) => (Makes::Portions(times(range)?, *each), 0.0),
    })
}

/// Prose with numbers in it that may be amounts: they are not changed.
fn texts(dish: &Dish) -> Vec<Span> {
    let mut found = Vec::new();
    let prose = dish.ast.parts.iter().flat_map(|part| &part.steps).filter_map(|step| step.prose.as_ref());
    let remarks = dish.ast.header.remarks.iter().map(|remark| &remark.text);
    for text in prose.chain(remarks) {
        if names_an_amount(&text.value) {
            found.push(text.span);
        }
        found.extend(text.translations.iter().filter(|line| names_an_amount(&line.value)).map(|line| line.span));
    }
    for take in dish.ast.parts.iter().flat_map(|part| &part.takes) {
        found.extend(take.translations.iter().filter(|line| names_an_amount(&line.value)).map(|line| line.span));
    }
    found.sort();
    found
}

/// A number that is no time, age or temperature by the word beside it.
fn names_an_amount(text: &str) -> bool {
    const TIMES: [&str; 21] = [
        "second", "min", "hour", "day", "week", "month", "year", "°", "degree", "celsius", "saa", "masaa", "dakika",
        "siku", "wiki", "mwezi", "miezi", "mwaka", "miaka", "heure", "jour",
    ];
    const MORE: [&str; 4] = ["mois", "an", "ans", "h"];
    let words: Vec<String> = text
        .split_whitespace()
        .map(|word| word.trim_matches(|c: char| c.is_ascii_punctuation()).to_lowercase())
        .collect();
    let is_time = |at: Option<usize>| {
        at.and_then(|at| words.get(at))
            .is_some_and(|word| TIMES.iter().any(|time| word.starts_with(time)) || MORE.contains(&word.as_str()))
    };
    let ties = |at: usize| words.get(at).is_some_and(|word| matches!(word.as_str(), "to" | "hadi" | "à"));
    words.iter().enumerate().any(|(at, word)| {
        // "8 to 12 h": the first number looks past the second.
        let after = if ties(at + 1) { at + 3 } else { at + 1 };
        word.chars().any(char::is_numeric)
            && !word.contains(':')
            && !(is_time(Some(after))
                || is_time(at.checked_sub(1))
                || at >= 2 && ties(at - 1) && is_time(at.checked_sub(3)))
    })
}

impl Scaled {
    /// The dish's text with its amounts changed and nothing else.
    pub fn text(&self, source: &Source) -> String {
        let mut out = String::with_capacity(source.text.len() + 64);
        let mut at = 0;
        for edit in &self.edits {
            if edit.span.start < at {
                continue;
            }
            out.push_str(source.text.get(at..edit.span.start).unwrap_or_default());
            out.push_str(&edit.text);
            at = edit.span.end;
        }
        out.push_str(source.text.get(at..).unwrap_or_default());
        out
    }

    /// The largest error of the lines that are computed and go into the pot.
    pub fn largest_error(&self) -> f64 {
        self.lines
            .iter()
            .filter(|line| line.kind == Kind::Take)
            .map(|line| line.error.abs())
            .chain(self.makes.iter().map(|(_, error)| error.abs()))
            .fold(0.0, f64::max)
    }
}

/// An amount as an author would write it.
pub fn amount_text(amount: &Amount) -> String {
    match amount {
        Amount::Missing | Amount::Unreadable(_) => String::new(),
        Amount::ToTaste(_) => "to taste".to_owned(),
        Amount::Count { range, .. } => range_text(*range),
        Amount::Measured { range, measure, .. } => measured_text(*range, *measure),
    }
}

/// What a dish makes, as an author would write it.
pub fn makes_text(makes: &Makes) -> String {
    match makes {
        Makes::Measured(range, measure) => measured_text(*range, *measure),
        Makes::Pieces(range, word) => format!("{} {word}", range_text(*range)),
        Makes::Portions(range, each) => {
            let word = if range.high <= Exact::whole(1) { "portion" } else { "portions" };
            let each = each.map(|(each, measure)| format!(" of {}", measured_text(each, measure)));
            format!("{} {word}{}", range_text(*range), each.unwrap_or_default())
        }
    }
}

/// `2 1/2 cups`, `3 medium`, `2 heaped tbsp`
pub fn measured_text(range: Range, measure: Measure) -> String {
    let number = figure(range, measure.unit);
    let words = measure_words(measure, range.high, false);
    if words.is_empty() { number } else { format!("{number} {words}") }
}

/// What stands after the number. A size alone stands for a piece of that size
/// unless the author wrote the word.
fn measure_words(measure: Measure, number: Exact, with_piece: bool) -> String {
    let mut words = Vec::new();
    match measure.heap {
        Some(crate::quantity::Heap::Heaped) => words.push("heaped".to_owned()),
        Some(crate::quantity::Heap::Level) => words.push("level".to_owned()),
        None => {}
    }
    if let Some(size) = measure.size {
        words.push(size.word().to_owned());
    }
    if with_piece || measure.size.is_none() || measure.unit != Unit::Piece(PieceUnit::Piece) {
        words.push(unit_text(measure.unit, number));
    }
    words.join(" ")
}

/// The unit's word for so many.
pub fn unit_text(unit: Unit, number: Exact) -> String {
    let word = unit.word();
    if number <= Exact::whole(1) {
        return word.to_owned();
    }
    match unit {
        Unit::Cup | Unit::Handful => format!("{word}s"),
        Unit::Pinch | Unit::Dash | Unit::Piece(PieceUnit::Bunch) => format!("{word}es"),
        Unit::Piece(PieceUnit::Leaf) => "leaves".to_owned(),
        Unit::Piece(_) => format!("{word}s"),
        _ => word.to_owned(),
    }
}

/// Fractions of spoons, decimals of litres.
fn figure(range: Range, unit: Unit) -> String {
    let metric = matches!(
        unit,
        Unit::Gram | Unit::Kilogram | Unit::Milligram | Unit::Millilitre | Unit::Litre | Unit::Centimetre
    );
    if !metric {
        return range_text(range);
    }
    let decimal = |value: Exact| crate::quantity::round_half_even(value.value(), 4).to_string();
    if range.is_single() { decimal(range.low) } else { format!("{} to {}", decimal(range.low), decimal(range.high)) }
}

pub fn range_text(range: Range) -> String {
    if range.is_single() {
        number_text(range.low)
    } else {
        format!("{} to {}", number_text(range.low), number_text(range.high))
    }
}

/// A mixed number; a decimal of four digits where the fraction is awkward.
pub fn number_text(value: Exact) -> String {
    if value.denominator() <= 16 {
        return value.to_string();
    }
    crate::quantity::round_half_even(value.value(), 4).to_string()
}

#[cfg(test)]
mod tests {
    use super::names_an_amount;

    #[test]
    fn times_and_ages_are_no_amounts() {
        for text in [
            "Warm, within 2 hours.",
            "ndani ya saa 2.",
            "before 5 years",
            "kabla ya miaka 5.",
            "8 to 12 h",
            "At 7:30.",
            "miezi 6 hadi 8",
            "Crush it.",
        ] {
            assert!(!names_an_amount(text), "{text}");
        }
        for text in
            ["Fry 12 small cakes.", "starts with 2 to 3 tablespoons", "vijiko vikubwa 2 hadi 3", "Add ½ cup of water"]
        {
            assert!(names_an_amount(text), "{text}");
        }
    }
}
