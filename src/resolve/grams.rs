//! Measures to grams: the food's own weights first, then its density, then
//! its class's density, each step kept for the trace.

use std::sync::Arc;

use crate::ast::{Amount, TakeOption};
use crate::diagnostic::{Code, Diagnostic, Sink, quote};
use crate::quantity::{Heap, Measure, PieceUnit, Range, Unit};
use crate::reference::larder::{FoodClass, FoodRow};
use crate::reference::measure::{self, HouseholdMeasure, Standard};
use crate::reference::{Reference, composition};
use crate::resolve::food::{self, Figures, Food};

/// Largest gap between a weighed amount and its measure.
const WEIGHT_GAP: f64 = 0.20;

/// Edible weight of one ingredient, in grams.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Weight {
    pub low: f64,
    pub grams: f64,
    pub high: f64,
    /// How it was found, one sentence a step.
    pub how: Vec<How>,
    pub estimated: bool,
    /// `to taste`: counts as nothing.
    pub to_taste: bool,
    /// Why somebody who weighs it may find another weight; empty for a weighed
    /// amount and for measures with a source.
    pub guesses: Vec<&'static str>,
}

/// A step on the way to a weight. Only those who ask for the sentence pay for
/// it: figures take longer to print than to compute.
#[derive(Debug, Clone, PartialEq)]
pub enum How {
    Said(&'static str),
    /// A weighed amount, in grams.
    Weighed(Range),
    /// So much of a unit of weight.
    Measured(Range, &'static str),
    Volume {
        range: Range,
        measure: Measure,
        /// Millilitres of one such measure.
        each: f64,
        standard: Standard,
    },
    Density(f64, DensityOf),
    /// One piece of a larder row: its place among the row's pieces.
    Piece(Arc<FoodRow>, usize),
    /// One piece by USDA's weights: how many make what weight.
    BuiltIn {
        amount: f64,
        text: &'static str,
        grams: f64,
    },
    /// The refuse is taken off: edible share and the state that says so.
    Refuse(f64, String),
}

/// Where a density comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum DensityOf {
    /// What another dish makes, by its name.
    Dish(String),
    /// A larder row's own.
    Row(Arc<FoodRow>),
    /// The same, of a form: its place among the row's densities.
    Form(Arc<FoodRow>, usize),
    /// A measure that USDA has weighed.
    BuiltIn {
        amount: f64,
        text: &'static str,
        grams: f64,
    },
    Class(FoodClass),
}

impl DensityOf {
    /// Whether its source line says that it has none.
    fn has_no_source(&self) -> bool {
        match self {
            Self::Row(row) | Self::Form(row, _) => row.measures_source.contains(NO_SOURCE),
            Self::Dish(_) | Self::BuiltIn { .. } | Self::Class(_) => false,
        }
    }
}

impl std::fmt::Display for DensityOf {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Dish(id) => write!(f, "what {id} makes"),
            Self::Row(row) => f.write_str(&row.measures_source),
            Self::Form(row, at) => {
                let state = row.densities.get(*at).map_or("", |form| form.state.as_str());
                write!(f, "{state}, {}", row.measures_source)
            }
            Self::BuiltIn { amount, text, grams } => write!(f, "USDA SR28: {amount} {text} = {grams} g"),
            Self::Class(class) => write!(f, "estimate for the class {}", class.word()),
        }
    }
}

impl std::fmt::Display for How {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Said(text) => f.write_str(text),
            Self::Weighed(range) => write!(f, "weighed: {range} g"),
            Self::Measured(range, unit) => write!(f, "{range} {unit}"),
            Self::Volume { range, measure, each, standard } => {
                let heap = heap_factor(*measure);
                let (unit, all, standard) = (measure.unit.word(), plain(range.middle() * each), standard.word());
                if heap > 1.0 {
                    write!(
                        f,
                        "{range} heaped {unit} = {all} mL ({standard} measures, a heaped one counted as {heap} level)"
                    )
                } else {
                    write!(f, "{range} {unit} = {all} mL ({standard} measures)")
                }
            }
            Self::Density(g_per_ml, from) => write!(f, "density {} g/mL ({from})", plain(*g_per_ml)),
            Self::Piece(row, at) => {
                let Some(piece) = row.pieces.get(*at) else { return Ok(()) };
                let size = piece.size.as_ref().map_or(String::new(), |size| format!("{size} "));
                write!(f, "one {size}{} = {} g ({})", piece.unit, plain(piece.grams), row.measures_source)
            }
            Self::BuiltIn { amount, text, grams } => write!(f, "{amount} {text} = {grams} g (USDA SR28 weights)"),
            Self::Refuse(edible, state) => write!(f, "edible share {edible}: the refuse is taken off ({state})"),
        }
    }
}

/// Marks a source line of the larder that names no source.
const NO_SOURCE: &str = "no source";

impl Weight {
    fn times(range: Range, each: f64) -> Self {
        Self {
            low: range.low.value() * each,
            grams: range.middle() * each,
            high: range.high.value() * each,
            how: Vec::new(),
            estimated: false,
            to_taste: false,
            guesses: Vec::new(),
        }
    }

    fn how(mut self, step: How) -> Self {
        self.how.push(step);
        self
    }
}

/// Millilitres of a unit of volume under a measure standard, exact.
pub fn millilitres(unit: Unit, standard: Standard) -> Option<(f64, Option<measure::Volume>)> {
    let household = match unit {
        Unit::Millilitre => return Some((1.0, None)),
        Unit::Litre => return Some((1000.0, None)),
        Unit::Cup => HouseholdMeasure::Cup,
        Unit::Tablespoon => HouseholdMeasure::Tablespoon,
        Unit::Teaspoon => HouseholdMeasure::Teaspoon,
        Unit::Pinch => HouseholdMeasure::Pinch,
        Unit::Dash => HouseholdMeasure::Dash,
        _ => return None,
    };
    let volume = measure::volume(standard, household)?;
    let (top, bottom) = volume.ml;
    Some((top as f64 / bottom as f64, Some(volume)))
}

/// Heaped measures hold more than level ones.
pub fn heap_factor(measure: Measure) -> f64 {
    if measure.heap == Some(Heap::Heaped) { measure::HEAPED.0 as f64 / measure::HEAPED.1 as f64 } else { 1.0 }
}

/// The edible weight of an option. `fallback` is the first option's amount,
/// which an alternative without one of its own shares.
pub fn weigh(
    option: &TakeOption,
    fallback: Option<&Amount>,
    food: &Food,
    reference: &Reference,
    sink: &mut Sink,
) -> Option<Weight> {
    let amount = match (&option.amount, fallback) {
        (Amount::Missing, Some(amount)) => amount,
        (amount, _) => amount,
    };
    let name = food::label(option).value;
    if let Some(weighed) = option.weight {
        let mut weight = Weight::times(weighed.value, 1.0).how(How::Weighed(weighed.value));
        // Look at the measure too, silently: it may only disagree.
        let mut silent = Sink::new();
        if let Some(measured) = by_amount(amount, option, &name, food, reference, &mut silent) {
            let gap = (measured.grams - weight.grams).abs() / weight.grams;
            if gap > WEIGHT_GAP && measured.grams > 0.0 && !measured.estimated {
                sink.push(
                    Diagnostic::new(
                        Code::MeasureWeightDisagrees,
                        weighed.span,
                        format!("the measure is about {:.0} g, the weight says {} g", measured.grams, weighed.value),
                    )
                    .label(amount_span(amount).unwrap_or(option.food.span), "this measure")
                    .help("weigh it again, or correct the measure; the weight is used"),
                );
            }
        }
        refuse(&mut weight, option, food, sink);
        return Some(weight);
    }
    let mut weight = by_amount(amount, option, &name, food, reference, sink)?;
    let as_bought = matches!(amount, Amount::Measured { measure, .. } if measure.unit.grams().is_some() || measure.unit.is_volume());
    if as_bought {
        refuse(&mut weight, option, food, sink);
    }
    Some(weight)
}

fn amount_span(amount: &Amount) -> Option<crate::source::Span> {
    match amount {
        Amount::Measured { span, .. }
        | Amount::Count { span, .. }
        | Amount::ToTaste(span)
        | Amount::Unreadable(span) => Some(*span),
        Amount::Missing => None,
    }
}

/// Amounts are of the edible portion unless the author says that the refuse
/// is in them.
fn refuse(weight: &mut Weight, option: &TakeOption, food: &Food, sink: &mut Sink) {
    let with_refuse = option.states.iter().find(|state| {
        matches!(
            state.value.as_str(),
            "unpeeled"
                | "as bought"
                | "with bones"
                | "with bone"
                | "with skin and bones"
                | "with skin"
                | "with stone"
                | "in the shell"
                | "in shell"
                | "with peel"
                | "unshelled"
        )
    });
    let Some(state) = with_refuse else { return };
    let edible = food.larder.as_ref().and_then(|row| row.edible).or_else(|| match &food.figures {
        Figures::BuiltIn(row) if food.larder.is_none() => {
            row.refuse_percent().filter(|percent| *percent > 0).map(|percent| 1.0 - f64::from(percent) / 100.0)
        }
        _ => None,
    });
    match edible {
        Some(edible) if edible < 1.0 => {
            weight.low *= edible;
            weight.grams *= edible;
            weight.high *= edible;
            weight.how.push(How::Refuse(edible, state.value.clone()));
        }
        _ => {
            weight.estimated = true;
            weight.guesses.push("the refuse is not known");
            weight.how.push(How::Said("the refuse is not known: the whole weight is counted"));
            sink.push(
                Diagnostic::new(
                    Code::FoodInediblePartUnknown,
                    state.span,
                    format!("nobody has said how much of {} is refuse", quote(&food::label(option).value)),
                )
                .help("weigh what is left after cleaning and write that weight: `(92 g)`"),
            );
        }
    }
}

fn by_amount(
    amount: &Amount,
    option: &TakeOption,
    name: &str,
    food: &Food,
    reference: &Reference,
    sink: &mut Sink,
) -> Option<Weight> {
    match amount {
        Amount::Missing | Amount::Unreadable(_) => None,
        Amount::ToTaste(_) => {
            Some(Weight { to_taste: true, ..Weight::default() }.how(How::Said("to taste: counts as nothing")))
        }
        Amount::Count { range, span } => {
            let measure = Measure::of(Unit::Piece(PieceUnit::Piece));
            pieces(*range, measure, food).or_else(|| {
                let has_density = density(food, &option.states).is_some();
                let message = if has_density && !has_pieces(food) {
                    Diagnostic::new(
                        Code::MeasureVolumeOfCount,
                        *span,
                        format!("{} is not counted in pieces", quote(name)),
                    )
                    .help("write a spoon, a cup or a weight, such as `2 tbsp` or `30 g`")
                } else {
                    no_weight(name, "piece", food, *span, option)
                };
                sink.push(message);
                None
            })
        }
        Amount::Measured { range, measure, span } => {
            if let Some(grams) = measure.unit.grams() {
                return Some(Weight::times(*range, grams).how(How::Measured(*range, measure.unit.word())));
            }
            if let Some((ml, _)) = millilitres(measure.unit, reference.standard) {
                return volume(*range, *measure, ml, *span, option, name, food, reference, sink);
            }
            pieces(*range, *measure, food).or_else(|| {
                let unit = measure.unit.word();
                let sized = measure.size.map(|size| format!("{} {unit}", size.word()));
                sink.push(no_weight(name, sized.as_deref().unwrap_or(unit), food, *span, option));
                None
            })
        }
    }
}

#[allow(clippy::too_many_arguments)]
// One household measure needs all of these, and a struct would only rename them.
fn volume(
    range: Range,
    measure: Measure,
    ml: f64,
    span: crate::source::Span,
    option: &TakeOption,
    name: &str,
    food: &Food,
    reference: &Reference,
    sink: &mut Sink,
) -> Option<Weight> {
    let heap = heap_factor(measure);
    let all = ml * heap;
    let first = How::Volume { range, measure, each: all, standard: reference.standard };
    let (g_per_ml, from, estimated) = match density(food, &option.states) {
        Some((value, from)) => (value, from, false),
        None => match class_density(food.class) {
            Some((value, from)) => {
                sink.push(
                    Diagnostic::new(
                        Code::MeasureEstimatedDensity,
                        span,
                        format!("the weight of this measure of {} is an estimate", quote(name)),
                    )
                    .help("weigh it once and write the weight after the food: `(92 g)`")
                    .choice(crate::source::Span::new(option.span.end, option.span.end), TO_WEIGH),
                );
                (value, from, true)
            }
            None => {
                sink.push(no_weight(name, measure.unit.word(), food, span, option));
                return None;
            }
        },
    };
    let no_source = from.has_no_source();
    let mut weight = Weight::times(range, all * g_per_ml).how(first).how(How::Density(g_per_ml, from));
    weight.estimated = estimated || heap > 1.0;
    if heap > 1.0 {
        weight.guesses.push("a heaped measure");
    }
    if estimated {
        weight.guesses.push("the density is that of its class");
    } else if no_source {
        weight.guesses.push("the density is common practice, no source");
    }
    Some(weight)
}

fn plain(value: f64) -> String {
    let rounded = crate::quantity::round_half_even(value, 3);
    format!("{rounded}")
}

fn no_weight(name: &str, unit: &str, food: &Food, span: crate::source::Span, option: &TakeOption) -> Diagnostic {
    let known = known_measures(food);
    Diagnostic::new(Code::MeasureNoWeight, span, format!("nobody has said what a {unit} of {} weighs", quote(name)))
        .help(if known.is_empty() {
            "weigh it and write the weight after the food: `(92 g)`".to_owned()
        } else {
            format!("weigh it and write `(… g)` after the food, or use: {}", known.join(", "))
        })
        .choice(crate::source::Span::new(option.span.end, option.span.end), TO_WEIGH)
}

/// A weight for the author to fill in: until then it is an error of its own.
const TO_WEIGH: &str = " (… g)";

/// Measures whose weight is known for this food.
pub fn known_measures(food: &Food) -> Vec<String> {
    let mut known = Vec::new();
    if let Some(row) = &food.larder {
        if row.density.is_some() || !row.densities.is_empty() {
            known.extend(["cup", "tbsp", "tsp", "mL"].map(str::to_owned));
        }
        for piece in &row.pieces {
            known.push(match &piece.size {
                Some(size) if piece.unit == "piece" => size.clone(),
                Some(size) => format!("{size} {}", piece.unit),
                None => piece.unit.clone(),
            });
        }
    } else if let Figures::BuiltIn(row) = &food.figures {
        known.extend(row.measures().map(|measure| measure.text.to_owned()));
    }
    known.dedup();
    known
}

fn has_pieces(food: &Food) -> bool {
    food.larder.as_ref().is_some_and(|row| !row.pieces.is_empty())
}

/// Weight of counted pieces.
fn pieces(range: Range, measure: Measure, food: &Food) -> Option<Weight> {
    let unit = measure.unit.word();
    let size = measure.size.map(|size| size.word());
    if let Some(row) = &food.larder {
        let of_unit: Vec<_> = row.pieces.iter().enumerate().filter(|(_, piece)| piece.unit == unit).collect();
        let found = match size {
            // A piece without a size is the usual one: a medium one.
            Some(size) => of_unit
                .iter()
                .find(|(_, piece)| piece.size.as_deref() == Some(size))
                .or_else(|| of_unit.iter().find(|(_, piece)| size == "medium" && piece.size.is_none())),
            None => of_unit
                .iter()
                .find(|(_, piece)| piece.size.is_none())
                .or_else(|| of_unit.iter().find(|(_, piece)| piece.size.as_deref() == Some("medium")))
                .or_else(|| if of_unit.len() == 1 { of_unit.first() } else { None }),
        };
        if let Some((at, piece)) = found {
            let mut weight = Weight::times(range, piece.grams).how(How::Piece(Arc::clone(row), *at));
            if row.measures_source.contains(NO_SOURCE) {
                weight.guesses.push("the weight of a piece is common practice, no source");
            }
            return Some(weight);
        }
    }
    let Figures::BuiltIn(row) = &food.figures else {
        return None;
    };
    let found = built_in_piece(row, unit, size)?;
    Some(Weight::times(range, found.grams / found.amount).how(How::BuiltIn {
        amount: found.amount,
        text: found.text,
        grams: found.grams,
    }))
}

fn built_in_piece(row: &composition::Row, unit: &str, size: Option<&str>) -> Option<composition::Measure> {
    let starts = |text: &str, word: &str| {
        text.split(|c: char| !c.is_alphabetic()).next().is_some_and(|first| first.eq_ignore_ascii_case(word))
    };
    let mut all = row.measures().filter(|measure| measure.amount > 0.0 && measure.grams > 0.0);
    match (unit, size) {
        ("piece", Some(size)) => all.find(|measure| starts(measure.text, size)),
        ("piece", None) => {
            const WHOLE: [&str; 7] = ["medium", "fruit", "whole", "piece", "each", "egg", "large"];
            WHOLE
                .iter()
                .find_map(|word| row.measures().find(|measure| measure.amount > 0.0 && starts(measure.text, word)))
        }
        (unit, None) => all.find(|measure| starts(measure.text, unit)),
        (unit, Some(size)) => all.find(|measure| starts(measure.text, unit) && measure.text.contains(size)),
    }
}

/// Grams of one millilitre, and where the figure comes from.
fn density(food: &Food, states: &[crate::source::Spanned<String>]) -> Option<(f64, DensityOf)> {
    if let Figures::Dish(dish) = &food.figures {
        return dish.density.map(|value| (value, DensityOf::Dish(dish.id.clone())));
    }
    let words = states.iter().flat_map(|state| state.value.split(' '));
    if let Some(row) = &food.larder {
        let by_state = row.densities.iter().position(|form| {
            states.iter().any(|state| state.value == form.state) || words.clone().any(|word| word == form.state)
        });
        // A row that is only known cut in some way is measured that way.
        let at = by_state.unwrap_or(0);
        let form = row.densities.get(at).filter(|_| by_state.is_some() || row.density.is_none());
        if let Some(form) = form {
            return Some((form.g_per_ml, DensityOf::Form(Arc::clone(row), at)));
        }
        if let Some(value) = row.density {
            return Some((value, DensityOf::Row(Arc::clone(row))));
        }
    }
    let Figures::BuiltIn(row) = &food.figures else {
        return None;
    };
    // USDA's cups and spoons are United States customary ones.
    let volume_of = |text: &str| -> Option<f64> {
        let household = match text.split(|c: char| !c.is_alphabetic()).next()? {
            "cup" => HouseholdMeasure::Cup,
            "tbsp" => HouseholdMeasure::Tablespoon,
            "tsp" => HouseholdMeasure::Teaspoon,
            _ => return None,
        };
        let (top, bottom) = measure::volume(Standard::UsCustomary, household)?.ml;
        Some(top as f64 / bottom as f64)
    };
    let measured: Vec<(composition::Measure, f64)> = row
        .measures()
        .filter(|measure| measure.amount > 0.0 && measure.grams > 0.0)
        .filter_map(|measure| volume_of(measure.text).map(|ml| (measure, ml)))
        .collect();
    let chosen = measured
        .iter()
        .find(|(measure, _)| words.clone().any(|word| word.len() > 3 && measure.text.contains(word)))
        .or_else(|| measured.first())?;
    let (found, ml) = chosen;
    let from = DensityOf::BuiltIn { amount: found.amount, text: found.text, grams: found.grams };
    Some((found.grams / (found.amount * ml), from))
}

/// Typical densities by class, g/mL, for foods whose own is not known: the
/// median of the larder's uncooked, untinned rows of the class that have USDA
/// SR28 weights (of all its rows where no such one has), as a test works out
/// again. An estimate, and said so.
const CLASS_DENSITIES: &[(FoodClass, f64)] = &[
    (FoodClass::Flour, 0.51),
    (FoodClass::Cereal, 0.71),
    (FoodClass::Oats, 0.28),
    (FoodClass::Rice, 0.78),
    (FoodClass::Pasta, 0.52),
    (FoodClass::PulseDry, 0.8),
    (FoodClass::PulseQuick, 0.82),
    (FoodClass::PulseCooked, 0.77),
    (FoodClass::Nut, 0.6),
    (FoodClass::Greens, 0.18),
    (FoodClass::Potato, 0.63),
    (FoodClass::SweetPotato, 0.56),
    (FoodClass::Root, 0.57),
    (FoodClass::Tomato, 0.76),
    (FoodClass::Vegetable, 0.43),
    (FoodClass::Fruit, 0.65),
    (FoodClass::Citrus, 1.02),
    (FoodClass::DriedFruit, 0.62),
    (FoodClass::Milk, 1.03),
    (FoodClass::BreastMilk, 1.04),
    (FoodClass::Water, 1.0),
    (FoodClass::Oil, 0.92),
    (FoodClass::Sugar, 1.14),
    (FoodClass::Salt, 1.08),
    (FoodClass::Spice, 0.41),
    (FoodClass::Egg, 1.03),
    (FoodClass::Beef, 0.59),
    (FoodClass::Lamb, 0.59),
    (FoodClass::Pork, 0.57),
    (FoodClass::Chicken, 0.59),
    (FoodClass::Liver, 0.59),
    (FoodClass::FishLean, 0.65),
    (FoodClass::FishFat, 0.65),
];

fn class_density(class: FoodClass) -> Option<(f64, DensityOf)> {
    let (_, value) = CLASS_DENSITIES.iter().find(|(own, _)| *own == class)?;
    Some((*value, DensityOf::Class(class)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::reference::larder::Larder;

    fn is_tinned(row: &crate::reference::larder::FoodRow) -> bool {
        row.states.iter().any(|state| state == "tinned")
    }

    #[test]
    fn class_densities_are_the_larder_s_medians() {
        let larder = Larder::built_in();
        for (class, value) in CLASS_DENSITIES {
            let rows =
                || larder.rows().iter().filter(|row| row.class == *class && !row.measures_source.contains("no source"));
            let mut found: Vec<f64> = rows()
                .filter(|row| *class == FoodClass::PulseCooked || !(row.is_cooked() || is_tinned(row)))
                .filter_map(|row| row.density)
                .collect();
            if found.is_empty() {
                found = rows().filter_map(|row| row.density).collect();
            }
            found.sort_by(f64::total_cmp);
            let half = found.len() / 2;
            let median = if found.len() % 2 == 1 { found[half] } else { (found[half - 1] + found[half]) / 2.0 };
            assert!((median - value).abs() <= 0.006, "{}: {median}", class.word());
        }
    }
}
