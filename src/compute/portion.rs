//! One serving for each age band.

use crate::ast::{Makes, Portion as Line};
use crate::compute::Nutrition;
use crate::quantity::{Measure, PieceUnit, Range, Unit};
use crate::reference::Reference;
use crate::resolve::{Dish, grams};
use crate::source::Span;

/// How a portion came to its weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The author's line.
    Written,
    /// The share of the dish, where it makes portions.
    Shared,
    /// The profile's usual amount.
    Usual,
}

/// What a portion takes of the dish; low and high differ where the author
/// wrote a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Taken {
    /// A share of the whole, as a fraction of 1, whatever the whole weighs.
    Share(f64, f64),
    /// So many grams.
    Grams(f64, f64),
}

#[derive(Debug, Clone, PartialEq)]
pub struct Portion {
    /// Index of the age band in the profile.
    pub band: usize,
    pub basis: Basis,
    /// As written or as the profile has it, for print.
    pub amount: Option<Makes>,
    /// Volume in mL where the amount is one.
    pub ml: Option<f64>,
    /// `None` where the amount cannot be turned into a weight.
    pub grams: Option<f64>,
    /// `None` where `grams` is.
    pub taken: Option<Taken>,
    /// The weight of a volume rests on an assumed density of 1 g/mL.
    pub assumed_density: bool,
    /// The line it comes from.
    pub span: Option<Span>,
    /// A count where a volume is needed, or the other way round.
    pub mismatch: bool,
}

/// A range as its low end, its middle and its high end.
type Three = (f64, f64, f64);

fn three(range: Range, each: f64) -> Three {
    (range.low.value() * each, range.middle() * each, range.high.value() * each)
}

/// Volume of what the dish makes, mL.
fn made_ml(dish: &Dish, reference: &Reference) -> Option<Three> {
    match dish.makes()? {
        Makes::Measured(range, measure) => volumes(*range, *measure, reference),
        Makes::Portions(count, Some((range, measure))) => {
            let (low, middle, high) = volumes(*range, *measure, reference)?;
            Some((count.low.value() * low, count.middle() * middle, count.high.value() * high))
        }
        _ => None,
    }
}

/// A share of the dish by volume or count; of nothing there is none.
fn share(part: Three, whole: Three) -> Option<Taken> {
    (whole.0 > 0.0).then(|| Taken::Share(part.0 / whole.2, part.2 / whole.0))
}

/// What a volume takes: a share of what the dish makes, else its weight at the
/// density of water.
fn taken_ml(ml: Three, dish: &Dish, reference: &Reference) -> Option<Taken> {
    match made_ml(dish, reference) {
        Some(made) => share(ml, made),
        None => Some(Taken::Grams(ml.0, ml.2)),
    }
}

/// Weight of what the whole dish makes, per millilitre, where that is known.
pub fn dish_density(dish: &Dish, nutrition: &Nutrition, reference: &Reference) -> Option<f64> {
    let (_, ml, _) = made_ml(dish, reference)?;
    (ml > 0.0 && nutrition.cooked_g > 0.0).then(|| nutrition.cooked_g / ml)
}

fn volumes(range: Range, measure: Measure, reference: &Reference) -> Option<Three> {
    let (ml, _) = grams::millilitres(measure.unit, reference.standard)?;
    Some(three(range, ml * grams::heap_factor(measure)))
}

fn volume(range: Range, measure: Measure, reference: &Reference) -> Option<f64> {
    volumes(range, measure, reference).map(|(_, middle, _)| middle)
}

pub fn portions(dish: &Dish, nutrition: &Nutrition, reference: &Reference) -> Vec<Portion> {
    dish.bands
        .iter()
        .filter_map(|at| reference.profile.bands().get(*at).map(|band| (*at, band)))
        .map(|(at, band)| {
            let line = line_for(dish, band.from_months, band.to_months);
            match line {
                Some(line) => written(dish, nutrition, reference, at, line),
                None => match dish.makes() {
                    Some(Makes::Portions(count, each)) if count.middle() > 0.0 => Portion {
                        band: at,
                        basis: Basis::Shared,
                        amount: Some(match each {
                            Some((range, measure)) => Makes::Measured(*range, *measure),
                            None => Makes::Portions(Range::exactly(crate::quantity::Exact::whole(1)), None),
                        }),
                        ml: each.and_then(|(range, measure)| volume(range, measure, reference)),
                        grams: (nutrition.cooked_g > 0.0).then(|| nutrition.cooked_g / count.middle()),
                        taken: share((1.0, 1.0, 1.0), three(*count, 1.0)),
                        assumed_density: false,
                        span: dish.ast.makes.as_ref().map(|makes| makes.span),
                        mismatch: false,
                    },
                    _ => usual(dish, nutrition, reference, at),
                },
            }
        })
        .collect()
}

/// The line whose ages hold the band best; one without ages serves them all.
fn line_for(dish: &Dish, from: u16, to: u16) -> Option<&Line> {
    let overlap = |line: &Line| {
        line.ages.map(|ages| {
            let low = ages.value.from.max(from);
            let high = ages.value.to.unwrap_or(u16::MAX).min(to);
            i32::from(high) - i32::from(low) + 1
        })
    };
    dish.ast
        .portions
        .iter()
        .filter(|line| overlap(line).is_some_and(|months| months > 0))
        .max_by_key(|line| overlap(line))
        .or_else(|| dish.ast.portions.iter().find(|line| line.ages.is_none()))
}

fn usual(dish: &Dish, nutrition: &Nutrition, reference: &Reference, at: usize) -> Portion {
    let band = reference.profile.bands().get(at);
    let ml = band.map(|band| band.portion_usual.value);
    let density = dish_density(dish, nutrition, reference);
    Portion {
        band: at,
        basis: Basis::Usual,
        amount: None,
        ml,
        grams: ml.filter(|_| nutrition.cooked_g > 0.0).map(|ml| ml * density.unwrap_or(1.0)),
        taken: ml.and_then(|ml| taken_ml((ml, ml, ml), dish, reference)),
        assumed_density: density.is_none(),
        span: None,
        mismatch: false,
    }
}

fn written(dish: &Dish, nutrition: &Nutrition, reference: &Reference, at: usize, line: &Line) -> Portion {
    let mut portion = Portion {
        band: at,
        basis: Basis::Written,
        amount: Some(line.amount.value.clone()),
        ml: None,
        grams: None,
        taken: None,
        assumed_density: false,
        span: Some(line.span),
        mismatch: false,
    };
    if nutrition.cooked_g <= 0.0 {
        return portion;
    }
    match &line.amount.value {
        Makes::Measured(range, measure) => {
            if let Some(grams) = measure.unit.grams() {
                portion.grams = Some(range.middle() * grams);
                let (low, _, high) = three(*range, grams);
                portion.taken = Some(Taken::Grams(low, high));
            } else if let Some(three) = volumes(*range, *measure, reference) {
                let ml = three.1;
                portion.ml = Some(ml);
                portion.taken = taken_ml(three, dish, reference);
                let density = dish_density(dish, nutrition, reference);
                portion.assumed_density = density.is_none();
                portion.mismatch = matches!(dish.makes(), Some(makes) if pieces_made(makes).is_some());
                portion.grams = Some(ml * density.unwrap_or(1.0));
            } else {
                count(&mut portion, *range, dish, nutrition);
            }
        }
        Makes::Pieces(range, _) => count(&mut portion, *range, dish, nutrition),
        Makes::Portions(range, each) => match (dish.makes(), each) {
            (Some(Makes::Portions(count, _)), _) if count.middle() > 0.0 => {
                portion.grams = Some(nutrition.cooked_g * range.middle() / count.middle());
                portion.taken = share(three(*range, 1.0), three(*count, 1.0));
            }
            (_, Some((each, measure))) => {
                let each = volumes(*each, *measure, reference);
                let all = each.map(|(low, middle, high)| {
                    (low * range.low.value(), middle * range.middle(), high * range.high.value())
                });
                portion.ml = all.map(|(_, middle, _)| middle);
                portion.taken = all.and_then(|all| taken_ml(all, dish, reference));
                let density = dish_density(dish, nutrition, reference);
                portion.assumed_density = density.is_none();
                portion.grams = portion.ml.map(|ml| ml * density.unwrap_or(1.0));
            }
            _ => portion.mismatch = true,
        },
    }
    portion
}

/// Pieces of a dish that is counted in pieces.
pub fn pieces_made(makes: &Makes) -> Option<Range> {
    match makes {
        Makes::Pieces(range, _) => Some(*range),
        Makes::Measured(range, measure)
            if matches!(
                measure.unit,
                Unit::Piece(PieceUnit::Piece | PieceUnit::Slice | PieceUnit::Cube | PieceUnit::Stick)
            ) =>
        {
            Some(*range)
        }
        _ => None,
    }
}

fn count(portion: &mut Portion, pieces: Range, dish: &Dish, nutrition: &Nutrition) {
    match dish.makes().and_then(pieces_made) {
        Some(made) if made.middle() > 0.0 => {
            portion.grams = Some(nutrition.cooked_g * pieces.middle() / made.middle());
            portion.taken = share(three(pieces, 1.0), three(made, 1.0));
        }
        _ => portion.mismatch = true,
    }
}
