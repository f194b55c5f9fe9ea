//! Which foods would close a gap, and with how much of each.
//!
//! A pot weighs *W* g and holds *N* of a nutrient; a helping of *p* g must hold
//! *T*. Adding *x* g of a food that brings *v* a gram and weighs *y* g a gram
//! once it is cooked:
//!
//! - the helping's weight stays as it is, so what is added also thins out the
//!   rest: `(N + x v) · p / (W + x y) ≥ T`;
//! - the helping grows with the pot, so every child gets all that was added:
//!   `(N + x v) · p / W ≥ T`.
//!
//! Both are linear in *x*. A day's gap is a pot and a helping of one and the
//! same weight that grows. The search is pure: what is safe, in season or paid
//! for is for the caller to put into the candidates.

use crate::reference::nutrient::NutrientId;

/// What happens to the weight of a helping when something is added.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Helping {
    Unchanged,
    Grown,
}

/// One nutrient of one helping against a figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    pub id: NutrientId,
    /// What a helping must hold at least, or may hold at most, in the
    /// nutrient's unit.
    pub figure: f64,
    /// What the whole pot holds now, in the nutrient's unit.
    pub has: f64,
    /// Weight of the whole pot, g.
    pub pot_g: f64,
    /// Weight of a helping, g.
    pub helping_g: f64,
}

impl Bound {
    /// What is missing of a day's food, or still allowed in it.
    pub fn of_a_day(id: NutrientId, amount: f64) -> Self {
        Self { id, figure: amount, has: 0.0, pot_g: 1.0, helping_g: 1.0 }
    }

    /// The most that a helping holds when `grams` of the candidate are added;
    /// `None` where the candidate's value is not known.
    fn held(&self, candidate: &Candidate<'_>, grams: f64, helping: Helping) -> Option<f64> {
        let value = (candidate.most_per_gram)(self.id)?;
        let pot = match helping {
            Helping::Unchanged => self.pot_g + grams * candidate.weight_factor,
            Helping::Grown => self.pot_g,
        };
        (pot > 0.0).then(|| (self.has + grams * value) * self.helping_g / pot)
    }

    /// The least addition with which the helping holds the figure.
    fn least(&self, candidate: &Candidate<'_>, helping: Helping) -> Option<f64> {
        let value = (candidate.per_gram)(self.id)?;
        let short = self.figure * self.pot_g - self.has * self.helping_g;
        if short <= 0.0 {
            return Some(0.0);
        }
        let thinned = match helping {
            Helping::Unchanged => self.figure * candidate.weight_factor,
            Helping::Grown => 0.0,
        };
        let gain = value * self.helping_g - thinned;
        (gain > 0.0).then(|| short / gain)
    }
}

/// A food that may be added.
pub struct Candidate<'a> {
    /// What one gram as added brings once it is ready to eat; `None` where
    /// nobody knows.
    pub per_gram: Box<dyn Fn(NutrientId) -> Option<f64> + 'a>,
    /// The same before heat takes its share: what a limit is held against.
    pub most_per_gram: Box<dyn Fn(NutrientId) -> Option<f64> + 'a>,
    /// Weight ready to eat over weight as added.
    pub weight_factor: f64,
    /// Cost of one gram as added, in the workspace's currency, where a price
    /// is known.
    pub cost_per_gram: Option<f64>,
    /// `None` where nobody says when the food is to be had.
    pub in_season: Option<bool>,
}

/// A candidate that closes every gap and breaks no limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Closer {
    /// Index of the candidate.
    pub candidate: usize,
    /// Grams to add, to the whole pot.
    pub grams: f64,
    pub cost: Option<f64>,
    pub in_season: Option<bool>,
}

/// How closers are put in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    Weight,
    /// Foods without a price come last, by weight.
    Cost,
}

/// Every candidate that closes all `needs` at once with at most `most_g` grams,
/// while no `limit` is passed, best first: what is in season before what is
/// not, then by weight or cost. A candidate whose value under a need or a limit
/// is not known is left out: a limit may not rest on an unknown figure.
pub fn closers(
    needs: &[Bound],
    limits: &[Bound],
    candidates: &[Candidate<'_>],
    helping: Helping,
    most_g: f64,
    order: Order,
) -> Vec<Closer> {
    let mut found: Vec<Closer> = Vec::new();
    for (at, candidate) in candidates.iter().enumerate() {
        let mut grams = 0.0_f64;
        let mut able = !needs.is_empty();
        for need in needs {
            match need.least(candidate, helping) {
                Some(least) => grams = grams.max(least),
                None => able = false,
            }
        }
        if !able || !grams.is_finite() || grams > most_g {
            continue;
        }
        let kept =
            limits.iter().all(|limit| limit.held(candidate, grams, helping).is_some_and(|held| held <= limit.figure));
        if !kept {
            continue;
        }
        found.push(Closer {
            candidate: at,
            grams,
            cost: candidate.cost_per_gram.map(|cost| cost * grams),
            in_season: candidate.in_season,
        });
    }
    let out_of_season = |closer: &Closer| closer.in_season == Some(false);
    found.sort_by(|a, b| {
        let season = out_of_season(a).cmp(&out_of_season(b));
        let weight = a.grams.total_cmp(&b.grams);
        match order {
            Order::Weight => season.then(weight),
            Order::Cost => {
                let cost = |closer: &Closer| closer.cost.unwrap_or(f64::INFINITY);
                season.then(cost(a).total_cmp(&cost(b))).then(weight)
            }
        }
    });
    found
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::reference::nutrient::{FE, RETOL, ZN};

    fn food(iron: Option<f64>, retinol: Option<f64>, cost: Option<f64>) -> Candidate<'static> {
        Candidate {
            per_gram: Box::new(move |id| if id == FE { iron } else { retinol }),
            most_per_gram: Box::new(move |id| if id == FE { iron } else { retinol }),
            weight_factor: 1.0,
            cost_per_gram: cost,
            in_season: None,
        }
    }

    const POT: Bound = Bound { id: FE, figure: 2.0, has: 4.0, pot_g: 400.0, helping_g: 100.0 };

    #[test]
    fn the_addition_closes_the_gap_and_no_more() {
        // 1 mg in a helping, 2 mg wanted; the food has 0.1 mg a gram.
        let foods = [food(Some(0.1), Some(0.0), None)];
        for (helping, grams) in [(Helping::Grown, 40.0), (Helping::Unchanged, 50.0)] {
            let found = closers(&[POT], &[], &foods, helping, 500.0, Order::Weight);
            assert!((found[0].grams - grams).abs() < 1e-9, "{helping:?} {}", found[0].grams);
            let held = POT.held(&foods[0], found[0].grams, helping).unwrap();
            assert!((held - POT.figure).abs() < 1e-9, "{held}");
        }
        assert!(closers(&[POT], &[], &foods, Helping::Unchanged, 49.0, Order::Weight).is_empty());
    }

    #[test]
    fn a_food_thinner_than_the_aim_never_closes_it() {
        // 0.02 mg a gram is what a helping should hold: adding only thins.
        let foods = [food(Some(0.02), Some(0.0), None), food(None, Some(0.0), None)];
        assert!(closers(&[POT], &[], &foods, Helping::Unchanged, f64::MAX, Order::Weight).is_empty());
        let grown = closers(&[POT], &[], &foods, Helping::Grown, f64::MAX, Order::Weight);
        assert_eq!(grown.len(), 1);
        // What swells in cooking thins more.
        let dry = Candidate { weight_factor: 3.0, ..food(Some(0.1), None, None) };
        let found = closers(&[POT], &[], &[dry], Helping::Unchanged, f64::MAX, Order::Weight);
        assert!((found[0].grams - 100.0).abs() < 1e-9);
    }

    #[test]
    fn limits_hold_and_unknown_is_not_allowed() {
        let limit = Bound { id: RETOL, figure: 600.0, has: 0.0, pot_g: 400.0, helping_g: 100.0 };
        let foods =
            [food(Some(0.1), Some(100.0), None), food(Some(0.1), None, None), food(Some(0.09), Some(1.0), None)];
        let found = closers(&[POT], &[limit], &foods, Helping::Unchanged, 500.0, Order::Weight);
        assert_eq!(found.iter().map(|closer| closer.candidate).collect::<Vec<_>>(), [2]);
    }

    #[test]
    fn season_goes_before_weight_and_cost_before_weight_where_asked() {
        let mut foods =
            [food(Some(0.1), None, Some(5.0)), food(Some(0.2), None, Some(9.0)), food(Some(0.05), None, None)];
        let order = |foods: &[Candidate<'_>], order| -> Vec<usize> {
            closers(&[POT], &[], foods, Helping::Grown, 500.0, order).iter().map(|closer| closer.candidate).collect()
        };
        assert_eq!(order(&foods, Order::Weight), [1, 0, 2]);
        assert_eq!(order(&foods, Order::Cost), [1, 0, 2]);
        foods[1].cost_per_gram = Some(11.0);
        assert_eq!(order(&foods, Order::Cost), [0, 1, 2]);
        foods[0].in_season = Some(false);
        assert_eq!(order(&foods, Order::Weight), [1, 2, 0]);
    }

    #[test]
    fn a_day_s_gap_is_divided_by_what_a_gram_brings() {
        let need = Bound::of_a_day(ZN, 3.0);
        let zinc = Some(0.05);
        let foods = [food(None, zinc, None)];
        let found = closers(&[need], &[], &foods, Helping::Grown, 500.0, Order::Weight);
        assert!((found[0].grams - 60.0).abs() < 1e-9);
        // Nothing to close is nothing to add, and no need finds no food.
        assert_eq!(
            closers(&[Bound { has: 9.0, ..need }], &[], &foods, Helping::Grown, 1.0, Order::Weight)[0].grams,
            0.0
        );
        assert!(closers(&[], &[], &foods, Helping::Grown, 1.0, Order::Weight).is_empty());
    }
}
