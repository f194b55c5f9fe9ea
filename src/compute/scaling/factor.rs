//! By how much a dish is scaled, exact where the dish's own measures allow it.

use crate::ast::{Amount, FoodName, Makes, TakeOption};
use crate::compute::{Computed, portion};
use crate::diagnostic::{Sink, quote};
use crate::quantity::{Exact, Measure, PieceUnit, Range, Unit};
use crate::reference::Reference;
use crate::reference::larder::normal_name;
use crate::reference::measure::{HEAPED, Standard};
use crate::resolve::{Choice, Dish, food, grams};

/// What a person asks for.
#[derive(Debug, Clone)]
pub enum Wanted {
    By(Exact),
    Portions(Exact),
    Makes(Makes),
    /// As much as this amount of one ingredient goes round.
    From(TakeOption),
}

/// The factor and the portion that it was reckoned with.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    pub factor: Exact,
    /// It rests on a computed weight, not on the author's own measures.
    pub approximate: bool,
    /// Index in the dish's portions.
    pub portion: Option<usize>,
    /// Portions of that size in the scaled dish.
    pub portions: Option<f64>,
}

/// Largest and smallest factor: beyond, no pot and no scale is left.
const LARGEST: f64 = 1000.0;
const SMALLEST: f64 = 0.001;

/// Portions are those for children of the completed months, or without them
/// the largest of the dish.
///
/// # Errors
/// In words, why there is no such factor.
pub fn target(
    dish: &Dish,
    computed: &Computed,
    reference: &Reference,
    wanted: &Wanted,
    months: Option<(u16, u16)>,
) -> Result<Target, String> {
    let chosen = chosen_portion(dish, computed, reference, months);
    if months.is_some() && chosen.is_none() {
        return Err("the dish is not for children of this age".to_owned());
    }
    let share = chosen.and_then(|at| portion_share(dish, computed, reference, at));
    let (factor, approximate) = match wanted {
        Wanted::By(factor) => (*factor, false),
        Wanted::Portions(count) => {
            let (share, approximate) =
                share.ok_or("the dish does not say how its portion and what it makes compare; use `--by`")?;
            (count.times(share).ok_or("this is more than can be reckoned with")?, approximate)
        }
        Wanted::Makes(makes) => makes_share(dish, computed, reference, makes)
            .ok_or("what the dish makes cannot be compared with that; use its own measure, or `--by`")?,
        Wanted::From(option) => from(dish, reference, option)?,
    };
    if !(SMALLEST..=LARGEST).contains(&factor.value()) {
        return Err(format!("a factor of {} is none that can be cooked", super::number_text(factor)));
    }
    Ok(Target {
        factor,
        approximate,
        portion: chosen.filter(|_| share.is_some()),
        portions: share.and_then(|(share, _)| factor.over(share)).map(Exact::value),
    })
}

/// The portion of the age band that the months lie in; without months the
/// largest, so that nobody goes short.
pub fn chosen_portion(
    dish: &Dish,
    computed: &Computed,
    reference: &Reference,
    months: Option<(u16, u16)>,
) -> Option<usize> {
    let all = || computed.portions.iter().enumerate();
    let overlap = |band: usize, (from, to): (u16, u16)| -> i32 {
        let Some(band) = reference.profile.bands().get(band) else { return 0 };
        let (from, to) = (from.max(dish.months.0), to.min(dish.months.1));
        i32::from(to.min(band.to_months)) - i32::from(from.max(band.from_months)) + 1
    };
    match months {
        Some(months) => all()
            .map(|(at, portion)| (at, overlap(portion.band, months)))
            .filter(|(_, months)| *months > 0)
            // The older of two that fit alike: it has the larger portion.
            .max_by_key(|(_, months)| *months)
            .map(|(at, _)| at),
        None => all().max_by(|a, b| a.1.grams.unwrap_or(0.0).total_cmp(&b.1.grams.unwrap_or(0.0))).map(|(at, _)| at),
    }
}

/// One portion as a share of the dish, and whether that is approximate.
pub fn portion_share(dish: &Dish, computed: &Computed, reference: &Reference, at: usize) -> Option<(Exact, bool)> {
    let portion = computed.portions.get(at)?;
    if let Some(amount) = &portion.amount
        && let Some(share) = makes_share(dish, computed, reference, amount)
    {
        return Some(share);
    }
    let cooked = computed.nutrition.cooked_g;
    portion.grams.filter(|_| cooked > 0.0).and_then(|grams| near(grams / cooked)).map(|share| (share, true))
}

/// An amount of the cooked dish as a share of it.
pub fn makes_share(dish: &Dish, computed: &Computed, reference: &Reference, amount: &Makes) -> Option<(Exact, bool)> {
    let standard = reference.standard;
    let made = dish.makes().map(|makes| sizes(makes, standard)).unwrap_or_default();
    let wanted = sizes(amount, standard);
    for (kind, size) in &wanted {
        if let Some((_, whole)) = made.iter().find(|(other, _)| other == kind) {
            let share = match (size, whole) {
                (Size::Exact(size), Size::Exact(whole)) => size.over(*whole).map(|share| (share, false)),
                _ => None,
            };
            return share.or_else(|| near(size.value() / whole.value()).map(|share| (share, true)));
        }
    }
    // A weight of what is measured by volume, or the other way round.
    let cooked = computed.nutrition.cooked_g;
    if cooked <= 0.0 {
        return None;
    }
    let density = portion::dish_density(dish, &computed.nutrition, reference);
    let grams = wanted.iter().find_map(|(kind, size)| match kind {
        Kind::Weight => Some(size.value()),
        Kind::Volume => density.map(|density| density * size.value()),
        _ => None,
    })?;
    near(grams / cooked).map(|share| (share, true))
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Volume,
    Weight,
    Pieces,
    Portions,
}

#[derive(Debug, Clone, Copy)]
enum Size {
    Exact(Exact),
    Near(f64),
}

impl Size {
    fn value(self) -> f64 {
        match self {
            Self::Exact(value) => value.value(),
            Self::Near(value) => value,
        }
    }
}

/// What an amount is in millilitres, grams, pieces and portions.
fn sizes(makes: &Makes, standard: Standard) -> Vec<(Kind, Size)> {
    match makes {
        Makes::Measured(range, measure) => size(*range, *measure, standard).into_iter().collect(),
        Makes::Pieces(range, _) => vec![(Kind::Pieces, middle(*range))],
        Makes::Portions(range, each) => {
            let mut all = vec![(Kind::Portions, middle(*range))];
            if let Some((kind, one)) = each.and_then(|(each, measure)| size(each, measure, standard)) {
                let product = match (middle(*range), one) {
                    (Size::Exact(count), Size::Exact(one)) => count.times(one).map(Size::Exact),
                    _ => None,
                };
                all.push((kind, product.unwrap_or(Size::Near(range.middle() * one.value()))));
            }
            all
        }
    }
}

fn middle(range: Range) -> Size {
    let exact = range.low.plus(range.high).and_then(|sum| sum.over(Exact::whole(2)));
    exact.map_or(Size::Near(range.middle()), Size::Exact)
}

fn size(range: Range, measure: Measure, standard: Standard) -> Option<(Kind, Size)> {
    let (kind, each) = match measure.unit {
        Unit::Gram => (Kind::Weight, Exact::whole(1)),
        Unit::Kilogram => (Kind::Weight, Exact::whole(1000)),
        Unit::Milligram => (Kind::Weight, Exact::fraction(1, 1000)?),
        Unit::Litre => (Kind::Volume, Exact::whole(1000)),
        Unit::Piece(_) => (Kind::Pieces, Exact::whole(1)),
        unit => match grams::millilitres(unit, standard)? {
            (_, Some(volume)) => (Kind::Volume, Exact::fraction(volume.ml.0, volume.ml.1)?),
            (_, None) => (Kind::Volume, Exact::whole(1)),
        },
    };
    let heap = if grams::heap_factor(measure) > 1.0 { Exact::fraction(HEAPED.0, HEAPED.1)? } else { Exact::whole(1) };
    let exact = match middle(range) {
        Size::Exact(value) => value.times(each).and_then(|value| value.times(heap)),
        Size::Near(_) => None,
    };
    let near = range.middle() * each.value() * heap.value();
    Some((kind, exact.map_or(Size::Near(near), Size::Exact)))
}

/// A computed ratio as a fraction of ten-thousandths.
fn near(ratio: f64) -> Option<Exact> {
    const PARTS: i64 = 10_000;
    let parts = (ratio * PARTS as f64).round();
    if !parts.is_finite() || !(1.0..1e13).contains(&parts) {
        return None;
    }
    Exact::fraction(parts as i64, PARTS)
}

/// As much of one ingredient as there is.
fn from(dish: &Dish, reference: &Reference, wanted: &TakeOption) -> Result<(Exact, bool), String> {
    let name = food::label(wanted).value;
    let found = dish.ingredients.iter().find_map(|ingredient| {
        let called = same(&ingredient.name, &name);
        ingredient
            .options
            .iter()
            .find(|choice| names(choice, &wanted.food.value))
            .or_else(|| ingredient.first().filter(|_| called))
    });
    let Some(choice) = found else {
        let all: Vec<&str> = dish.ingredients.iter().map(|ingredient| ingredient.name.as_str()).collect();
        return Err(format!("the dish has no {}; it has {}", quote(&name), all.join(", ")));
    };
    let nothing = || format!("{} cannot be compared with the recipe's amount; use a weight", quote(&name));
    let by_measure = wanted.states.is_empty().then(|| ratio(&wanted.amount, choice, reference.standard)).flatten();
    if let Some(ratio) = by_measure {
        return Ok(ratio);
    }
    let (Some(food), Some(weight)) = (&choice.food, &choice.weight) else { return Err(nothing()) };
    let mut trial = choice.option.clone();
    trial.amount = wanted.amount.clone();
    trial.weight = None;
    trial.states.extend(wanted.states.iter().cloned());
    let there = grams::weigh(&trial, None, food, reference, &mut Sink::new()).ok_or_else(nothing)?;
    if weight.grams <= 0.0 {
        return Err(nothing());
    }
    near(there.grams / weight.grams).map(|factor| (factor, true)).ok_or_else(nothing)
}

fn same(a: &str, b: &str) -> bool {
    let (a, b) = (normal_name(a), normal_name(b));
    a == b || a.ends_with(&format!(" {b}"))
}

fn names(choice: &Choice, wanted: &FoodName) -> bool {
    match (&choice.option.food.value, wanted) {
        (FoodName::Name(own), FoodName::Name(other)) => {
            same(own, other)
                || choice
                    .food
                    .as_ref()
                    .and_then(|food| food.larder.as_ref())
                    .is_some_and(|row| row.names().any(|name| normal_name(name) == normal_name(other)))
        }
        (own, other) => own == other,
    }
}

/// The two amounts compared in their own measure.
fn ratio(wanted: &Amount, choice: &Choice, standard: Standard) -> Option<(Exact, bool)> {
    let own = &choice.option.amount;
    let piece = Measure::of(Unit::Piece(PieceUnit::Piece));
    let parts = |amount: &Amount| match amount {
        Amount::Measured { range, measure, .. } => Some((*range, *measure)),
        Amount::Count { range, .. } => Some((*range, piece)),
        _ => None,
    };
    let (range, measure) = parts(wanted)?;
    let (kind, size_wanted) = size(range, measure, standard)?;
    if let Some((own_range, own_measure)) = parts(own) {
        let (own_kind, own_size) = size(own_range, own_measure, standard)?;
        let alike = kind == own_kind
            && (kind != Kind::Pieces || (measure.unit == own_measure.unit && measure.size == own_measure.size));
        if alike {
            return match (size_wanted, own_size) {
                (Size::Exact(a), Size::Exact(b)) => a.over(b).map(|ratio| (ratio, false)),
                (a, b) => near(a.value() / b.value()).map(|ratio| (ratio, true)),
            };
        }
    }
    if kind == Kind::Weight
        && let Some(weight) = choice.option.weight
        && let (Size::Exact(a), Size::Exact(b)) = (size_wanted, middle(weight.value))
    {
        return a.over(b).map(|ratio| (ratio, false));
    }
    None
}
