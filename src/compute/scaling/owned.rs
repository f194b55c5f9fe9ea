//! The nearest amount that can be measured with what a kitchen has: cups,
//! tablespoons and teaspoons with their quarters, thirds and halves; a scale
//! and a jug in sensible steps; whole pieces.
//!
//! Common practice, no source: which measures a kitchen owns, the steps, and
//! how much error one scoop less is worth.

use super::TOLERANCE;
use crate::quantity::{Exact, Measure, Range, Unit, round_half_even};
use crate::reference::measure::Standard;
use crate::resolve::grams::{heap_factor, millilitres};

/// Fractions of a cup or spoon, as numerator and denominator.
const FRACTIONS: [(i64, i64); 6] = [(0, 1), (1, 4), (1, 3), (1, 2), (2, 3), (3, 4)];
/// Scoops that one percent of error is worth. So 12 tsp become 1/4 cup (one
/// scoop, 4 % more) and 2 1/16 cups become 2 cups + 1 tbsp.
const PER_PERCENT: f64 = 0.6;
/// What it is worth to keep the author's unit, to have one measure rather
/// than two, and not to need a part of a tablespoon, which few own.
const OTHER_UNIT: f64 = 0.5;
const SECOND_MEASURE: f64 = 0.7;
const PART_OF_TABLESPOON: f64 = 0.5;

/// One amount of one measure; a bare count has none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    pub number: Range,
    pub measure: Option<Measure>,
}

/// One part, or two that are put together.
#[derive(Debug, Clone, PartialEq)]
pub struct Rounded {
    pub parts: Vec<Part>,
    /// `rounded / exact - 1`
    pub error: f64,
}

impl Rounded {
    pub fn exactly(number: Range, measure: Option<Measure>) -> Self {
        Self { parts: vec![Part { number, measure }], error: 0.0 }
    }
}

/// An amount with a unit. `cut`: whether pieces of the food may be halved.
pub fn measured(exact: Range, measure: Measure, cut: bool, standard: Standard) -> Rounded {
    if let Some(grams) = measure.unit.grams() {
        return stepped(exact, grams, Unit::Gram, Unit::Kilogram);
    }
    match measure.unit {
        Unit::Millilitre => stepped(exact, 1.0, Unit::Millilitre, Unit::Litre),
        Unit::Litre => stepped(exact, 1000.0, Unit::Millilitre, Unit::Litre),
        unit if unit.is_volume() => scooped(exact, measure, standard),
        _ => counted(exact, Some(measure), cut),
    }
}

/// Whole pieces, at least one; halves only of what can be cut and only where
/// a whole number is off by more than the tolerance.
pub fn counted(exact: Range, measure: Option<Measure>, cut: bool) -> Rounded {
    let nearest = |value: Exact, parts: i64| -> Option<Exact> {
        // Halves round up: a little too much feeds everybody.
        let count = (value.value() * parts as f64 + 0.5).floor();
        Exact::fraction((count as i64).max(1), parts)
    };
    let both = |parts: i64| -> Option<Range> {
        Some(Range { low: nearest(exact.low, parts)?, high: nearest(exact.high, parts)? })
    };
    let whole = both(1).map_or_else(|| Rounded::exactly(exact, measure), |range| with_error(exact, range, measure));
    if !cut || whole.error.abs() <= TOLERANCE {
        return whole;
    }
    let mut best = whole;
    for parts in if exact.middle() < 1.0 { &[2, 4][..] } else { &[2] } {
        if let Some(range) = both(*parts) {
            let finer = with_error(exact, range, measure);
            if finer.error.abs() < best.error.abs() - 1e-9 {
                best = finer;
            }
        }
    }
    best
}

fn with_error(exact: Range, number: Range, measure: Option<Measure>) -> Rounded {
    let error = if exact.middle() > 0.0 { number.middle() / exact.middle() - 1.0 } else { 0.0 };
    Rounded { parts: vec![Part { number, measure }], error }
}

/// A weight or a volume on a scale or in a jug. `each` is one of the author's
/// unit in the small unit.
fn stepped(exact: Range, each: f64, small: Unit, large: Unit) -> Rounded {
    let amount = exact.middle() * each;
    let steps = |value: f64| -> Option<Exact> {
        let value = value * each;
        let per_one = steps_per_one(amount);
        let count = round_half_even(value * per_one.0 / per_one.1, 0).max(1.0) as i64;
        let in_small = Exact::fraction(count, per_one.0 as i64)?.times(Exact::whole(per_one.1 as i64))?;
        if amount >= 1000.0 { in_small.over(Exact::whole(1000)) } else { Some(in_small) }
    };
    let unit = if amount >= 1000.0 { large } else { small };
    let number = steps(exact.low.value()).zip(steps(exact.high.value())).map(|(low, high)| Range { low, high });
    let Some(number) = number.filter(|_| amount > 0.0) else {
        return Rounded::exactly(exact, Some(Measure::of(small)));
    };
    let back = if amount >= 1000.0 { 1000.0 } else { 1.0 };
    Rounded {
        error: number.middle() * back / amount - 1.0,
        parts: vec![Part { number, measure: Some(Measure::of(unit)) }],
    }
}

/// How fine an amount is measured, as steps in so many grams: `(10, 1)` is a
/// tenth of a gram, `(1, 50)` fifty grams. Half a step is never more than 5 %
/// of the amount.
fn steps_per_one(amount: f64) -> (f64, f64) {
    match amount {
        amount if amount < 1.0 => (100.0, 1.0),
        amount if amount < 5.0 => (10.0, 1.0),
        amount if amount < 10.0 => (2.0, 1.0),
        amount if amount < 50.0 => (1.0, 1.0),
        amount if amount < 250.0 => (1.0, 5.0),
        amount if amount < 1000.0 => (1.0, 10.0),
        amount if amount < 5000.0 => (1.0, 50.0),
        _ => (1.0, 100.0),
    }
}

/// A candidate: parts, their volume, and what they cost in scoops and error.
struct Candidate {
    parts: Vec<Part>,
    error: f64,
    cost: f64,
}

/// Cups and spoons.
fn scooped(exact: Range, measure: Measure, standard: Standard) -> Rounded {
    let Some((each, _)) = millilitres(measure.unit, standard) else {
        return Rounded::exactly(exact, Some(measure));
    };
    let target = exact.middle() * each * heap_factor(measure);
    if target <= 0.0 {
        return Rounded::exactly(exact, Some(measure));
    }
    let single = exact.is_single();
    let mut all: Vec<Candidate> = Vec::new();
    let units = [Unit::Cup, Unit::Tablespoon, Unit::Teaspoon, Unit::Dash, Unit::Pinch];
    for (at, unit) in units.into_iter().enumerate() {
        let Some((ml, _)) = millilitres(unit, standard) else { continue };
        for number in near(target / ml, unit) {
            let plain = part(number, unit, None);
            push(&mut all, vec![plain], number.value() * ml, target, scoops(number, unit), measure.unit);
            // Parts of a tablespoon are not put together with anything.
            let whole_spoons = |number: Exact, unit: Unit| unit != Unit::Tablespoon || number.denominator() == 1;
            if !single || !whole_spoons(number, unit) {
                continue;
            }
            // What is left over, in a smaller measure.
            let left = target - number.value() * ml;
            for smaller in units.iter().skip(at + 1) {
                let Some((small_ml, _)) = millilitres(*smaller, standard) else { continue };
                if left <= 0.0 || left / small_ml > 3.75 {
                    continue;
                }
                for rest in near(left / small_ml, *smaller).into_iter().filter(|rest| whole_spoons(*rest, *smaller)) {
                    let parts = vec![plain, part(rest, *smaller, None)];
                    let ml = number.value() * ml + rest.value() * small_ml;
                    push(
                        &mut all,
                        parts,
                        ml,
                        target,
                        scoops(number, unit) + scoops(rest, *smaller) + SECOND_MEASURE,
                        measure.unit,
                    );
                }
            }
        }
    }
    // Heaped ones stay heaped where they can be counted.
    if heap_factor(measure) > 1.0 {
        let count = (exact.middle() + 0.5).floor().max(1.0);
        let number = Exact::whole(count as i64);
        let ml = count * each * heap_factor(measure);
        push(&mut all, vec![part(number, measure.unit, measure.heap)], ml, target, count - OTHER_UNIT, measure.unit);
    }
    let order = |a: &Candidate, b: &Candidate| {
        let off = |one: &Candidate| if one.error.abs() <= TOLERANCE { 0.0 } else { one.error.abs() };
        off(a).total_cmp(&off(b)).then(a.cost.total_cmp(&b.cost)).then(a.error.abs().total_cmp(&b.error.abs()))
    };
    // Two measures only where that lowers the error of the best single one
    // that is not a long row of spoons.
    const LONG_ROW: f64 = 10.0;
    let singles = || all.iter().filter(|one| one.parts.len() == 1);
    let alone = singles()
        .filter(|one| one.parts.iter().all(|part| part.number.high.value() <= LONG_ROW))
        .min_by(|a, b| order(a, b))
        .or_else(|| singles().min_by(|a, b| order(a, b)))
        .map_or(f64::INFINITY, |one| one.error.abs());
    let best =
        all.iter().filter(|one| one.parts.len() == 1 || one.error.abs() < alone - 1e-9).min_by(|a, b| order(a, b));
    let Some(best) = best else { return Rounded::exactly(exact, Some(measure)) };
    if single {
        return Rounded { parts: best.parts.clone(), error: best.error };
    }
    // A range keeps its two ends, in the measure that suits its middle.
    let Some(unit) = best.parts.first().and_then(|part| part.measure) else {
        return Rounded::exactly(exact, Some(measure));
    };
    let Some((ml, _)) = millilitres(unit.unit, standard) else { return Rounded::exactly(exact, Some(measure)) };
    let ml = ml * heap_factor(unit);
    let end = |value: Exact| -> Exact {
        let wanted = value.value() * each * heap_factor(measure) / ml;
        near(wanted, unit.unit)
            .into_iter()
            .min_by(|a, b| (a.value() - wanted).abs().total_cmp(&(b.value() - wanted).abs()))
            .unwrap_or(value)
    };
    let number = Range { low: end(exact.low), high: end(exact.high) };
    Rounded { error: number.middle() * ml / target - 1.0, parts: vec![Part { number, measure: Some(unit) }] }
}

fn part(number: Exact, unit: Unit, heap: Option<crate::quantity::Heap>) -> Part {
    Part { number: Range::exactly(number), measure: Some(Measure { heap, ..Measure::of(unit) }) }
}

fn push(all: &mut Vec<Candidate>, parts: Vec<Part>, ml: f64, target: f64, scoops: f64, own: Unit) {
    let error = ml / target - 1.0;
    let other = parts.first().and_then(|part| part.measure).is_none_or(|measure| measure.unit != own);
    let cost = scoops + PER_PERCENT * error.abs() * 100.0 + if other { OTHER_UNIT } else { 0.0 };
    all.push(Candidate { parts, error, cost });
}

/// Each whole measure is a scoop, and so is the fraction at the end.
fn scoops(number: Exact, unit: Unit) -> f64 {
    let (whole, rest) = number.split();
    let part = if unit == Unit::Tablespoon { 1.0 + PART_OF_TABLESPOON } else { 1.0 };
    whole as f64 + if rest.is_zero() { 0.0 } else { part }
}

/// What can be measured near to a number, nothing left out that is nearest.
/// Pinches and dashes are counted and stand only for less than a spoonful.
fn near(value: f64, unit: Unit) -> Vec<Exact> {
    const MOST: f64 = 1e6;
    if !value.is_finite() || value > MOST {
        return Vec::new();
    }
    let whole = value.floor() as i64;
    if matches!(unit, Unit::Pinch | Unit::Dash) {
        const MOST_PINCHES: i64 = 4;
        return [whole, whole + 1]
            .into_iter()
            .filter(|count| (1..=MOST_PINCHES).contains(count))
            .map(Exact::whole)
            .collect();
    }
    FRACTIONS
        .iter()
        .filter_map(|(top, bottom)| Exact::fraction(*top, *bottom)?.plus(Exact::whole(whole)))
        .chain([Exact::whole(whole + 1)])
        .filter(|number| !number.is_zero())
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::compute::scaling::{measured_text, number_text};

    fn text(number: (i64, i64), unit: Unit, standard: Standard) -> (String, f64) {
        let exact = Range::exactly(Exact::fraction(number.0, number.1).unwrap());
        let rounded = measured(exact, Measure::of(unit), true, standard);
        (words(&rounded), (rounded.error * 1000.0).round() / 10.0)
    }

    fn words(rounded: &Rounded) -> String {
        rounded
            .parts
            .iter()
            .map(|part| match part.measure {
                Some(measure) => measured_text(part.number, measure),
                None => number_text(part.number.high),
            })
            .collect::<Vec<_>>()
            .join(" + ")
    }

    #[test]
    fn spoons_become_cups_where_that_saves_scoops() {
        let metric = Standard::Metric;
        // 12 × 5 = 60 mL; a quarter cup is 62.5 mL, 4.2 % more.
        assert_eq!(text((12, 1), Unit::Teaspoon, metric), ("1/4 cup".to_owned(), 4.2));
        // A label cup has 240 mL: exact.
        assert_eq!(text((12, 1), Unit::Teaspoon, Standard::UsLabel), ("1/4 cup".to_owned(), 0.0));
        assert_eq!(text((6, 1), Unit::Teaspoon, metric), ("2 tbsp".to_owned(), 0.0));
        // 2 1/16 cups: 515.6 mL; 500 + 15 mL.
        assert_eq!(text((33, 16), Unit::Cup, metric), ("2 cups + 1 tbsp".to_owned(), -0.1));
        // 6 tbsp are exact: nothing is put together that does not lower the error.
        assert_eq!(text((6, 1), Unit::Tablespoon, metric), ("6 tbsp".to_owned(), 0.0));
        // 2 1/7 cups: 36 spoons would be exact, and nobody counts them.
        assert_eq!(text((15, 7), Unit::Cup, metric).0, "2 cups + 2 tbsp");
        assert_eq!(text((10, 3), Unit::Cup, metric), ("3 1/3 cups".to_owned(), 0.0));
        assert_eq!(text((1, 10), Unit::Teaspoon, metric).0, "1 dash");
    }

    #[test]
    fn scales_and_jugs_have_steps() {
        let metric = Standard::Metric;
        assert_eq!(text((4000, 3), Unit::Gram, metric), ("1.35 kg".to_owned(), 1.2));
        assert_eq!(text((2, 3), Unit::Kilogram, metric), ("670 g".to_owned(), 0.5));
        assert_eq!(text((92, 3), Unit::Gram, metric), ("31 g".to_owned(), 1.1));
        assert_eq!(text((15, 2), Unit::Litre, metric), ("7.5 L".to_owned(), 0.0));
    }

    #[test]
    fn eggs_stay_whole_and_onions_may_be_halved() {
        let exact = Range::exactly(Exact::fraction(20, 3).unwrap());
        assert_eq!(words(&counted(exact, None, false)), "7");
        let exact = Range::exactly(Exact::fraction(3, 2).unwrap());
        assert_eq!(words(&counted(exact, None, true)), "1 1/2");
        assert_eq!(words(&counted(exact, None, false)), "2");
        // Nothing rounds to nothing.
        let exact = Range::exactly(Exact::fraction(1, 10).unwrap());
        assert_eq!(words(&counted(exact, None, false)), "1");
    }

    fn any_standard() -> impl Strategy<Value = Standard> {
        proptest::sample::select(Standard::ALL)
    }

    proptest! {
        #[test]
        fn a_measured_amount_comes_back_within_its_error(
            top in 1_i64..2000, bottom in 1_i64..16, by in 1_i64..400, over in 1_i64..60,
            unit in proptest::sample::select(&[Unit::Cup, Unit::Tablespoon, Unit::Teaspoon, Unit::Gram, Unit::Kilogram, Unit::Millilitre, Unit::Litre][..]),
            standard in any_standard(),
        ) {
            let before = Exact::fraction(top, bottom).unwrap();
            let factor = Exact::fraction(by, over).unwrap();
            let exact = before.times(factor).unwrap();
            let base = |unit: Unit| unit.grams().or_else(|| millilitres(unit, standard).map(|(ml, _)| ml)).unwrap();
            prop_assume!(exact.value() * base(unit) < 1e6);
            let rounded = measured(Range::exactly(exact), Measure::of(unit), true, standard);
            let sum: f64 = rounded.parts.iter().map(|part| part.number.middle() * base(part.measure.unwrap().unit)).sum();
            let back = sum / factor.value();
            let original = before.value() * base(unit);
            // The stated error is the error.
            prop_assert!((back / original - 1.0 - rounded.error).abs() < 1e-9, "{back} {original} {rounded:?}");
            // And it is under 5 % for all that is a quarter teaspoon or a tenth of a gram.
            let least = if unit.grams().is_some() || !matches!(unit, Unit::Cup | Unit::Tablespoon | Unit::Teaspoon) { 1.0 } else { base(Unit::Teaspoon) };
            if exact.value() * base(unit) >= least {
                prop_assert!(rounded.error.abs() <= TOLERANCE + 1e-9, "{exact} {unit:?}: {rounded:?}");
            }
        }

        #[test]
        fn pieces_are_whole_and_their_error_is_stated(top in 1_i64..500, bottom in 1_i64..12) {
            let exact = Exact::fraction(top, bottom).unwrap();
            let rounded = counted(Range::exactly(exact), None, false);
            let count = rounded.parts[0].number.high;
            prop_assert_eq!(count.denominator(), 1);
            prop_assert!(count.value() >= 1.0);
            prop_assert!((count.value() / exact.value() - 1.0 - rounded.error).abs() < 1e-9);
        }
    }
}
