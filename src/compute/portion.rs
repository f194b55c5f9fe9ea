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
    /// The weight of a volume rests on an assumed density of 1 g/mL.
    pub assumed_density: bool,
    /// The line it comes from.
    pub span: Option<Span>,
    /// A count where a volume is needed, or the other way round.
    pub mismatch: bool,
}

/// Weight of what the whole dish makes, per millilitre, where that is known.
pub fn dish_density(dish: &Dish, nutrition: &Nutrition, reference: &Reference) -> Option<f64> {
    let ml = match dish.makes()? {
        Makes::Measured(range, measure) => volume(*range, *measure, reference)?,
        Makes::Portions(count, Some((range, measure))) => count.middle() * volume(*range, *measure, reference)?,
        _ => return None,
    };
    (ml > 0.0 && nutrition.cooked_g > 0.0).then(|| nutrition.cooked_g / ml)
}

fn volume(range: Range, measure: Measure, reference: &Reference) -> Option<f64> {
    let (ml, _) = grams::millilitres(measure.unit, reference.standard)?;
    Some(range.middle() * ml * grams::heap_factor(measure))
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
            } else if let Some(ml) = volume(*range, *measure, reference) {
                portion.ml = Some(ml);
                let density = dish_density(dish, nutrition, reference);
                portion.assumed_density = density.is_none();
                portion.mismatch = matches!(dish.makes(), Some(makes) if pieces_made(makes).is_some());
                portion.grams = Some(ml * density.unwrap_or(1.0));
            } else {
                count(&mut portion, range.middle(), dish, nutrition);
            }
        }
        Makes::Pieces(range, _) => count(&mut portion, range.middle(), dish, nutrition),
        Makes::Portions(range, each) => match (dish.makes(), each) {
            (Some(Makes::Portions(count, _)), _) if count.middle() > 0.0 => {
                portion.grams = Some(nutrition.cooked_g * range.middle() / count.middle());
            }
            (_, Some((each, measure))) => {
                portion.ml = volume(*each, *measure, reference).map(|ml| ml * range.middle());
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
pub fn pieces_made(makes: &Makes) -> Option<f64> {
    match makes {
        Makes::Pieces(range, _) => Some(range.middle()),
        Makes::Measured(range, measure)
            if matches!(
                measure.unit,
                Unit::Piece(PieceUnit::Piece | PieceUnit::Slice | PieceUnit::Cube | PieceUnit::Stick)
            ) =>
        {
            Some(range.middle())
        }
        _ => None,
    }
}

fn count(portion: &mut Portion, pieces: f64, dish: &Dish, nutrition: &Nutrition) {
    match dish.makes().and_then(pieces_made) {
        Some(made) if made > 0.0 => portion.grams = Some(nutrition.cooked_g * pieces / made),
        _ => portion.mismatch = true,
    }
}
