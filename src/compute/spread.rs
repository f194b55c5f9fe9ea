//! Between which ends a figure lies: where the author wrote a range ("5 to 6
//! leaves"), and over every combination of alternatives.
//!
//! An amount of the whole dish is a sum over the lines, so it is lowest with
//! every line at its lowest. Per 100 g and in a portion that is weighed it is
//! a sum over a weight that moves too (unless the author weighed the dish):
//! more water thins, more beans do not. A quotient of two sums is extreme with
//! every line at one of its ends; which end each line takes is found by
//! Dinkelbach's iteration, exactly, without trying all combinations.

use crate::ast;
use crate::compute::nutrition::{percent_kept, retained, value_of};
use crate::compute::portion::Taken;
use crate::compute::{Computed, Selection, yields};
use crate::reference::nutrient::{self, COUNT, NutrientId};
use crate::reference::retention::{self, RetentionRow};
use crate::reference::yields::pot_factor;
use crate::resolve::food::Figures;
use crate::resolve::{Choice, Dish};

/// The lowest and the highest of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ends {
    pub low: f64,
    pub high: f64,
}

impl Ends {
    fn times(self, other: Ends) -> Ends {
        Ends { low: self.low * other.low, high: self.high * other.high }
    }

    /// How far the ends lie apart, as a share of their middle.
    pub fn width(self) -> f64 {
        let middle = (self.low + self.high) / 2.0;
        if middle > 0.0 { (self.high - self.low) / middle } else { 0.0 }
    }
}

/// The ends of every figure of a dish.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    pub raw_g: Ends,
    pub cooked_g: Ends,
    whole: Vec<Ends>,
    per_100g: Vec<Ends>,
    /// One for each portion of the computed dish, in their order.
    portions: Vec<Option<(Ends, Vec<Ends>)>>,
}

impl Spread {
    pub fn whole(&self, id: NutrientId) -> Ends {
        self.whole.get(id.index()).copied().unwrap_or_default()
    }

    pub fn per_100g(&self, id: NutrientId) -> Ends {
        self.per_100g.get(id.index()).copied().unwrap_or_default()
    }

    /// In the portion of that index; `None` where its weight is not known.
    pub fn portion(&self, at: usize, id: NutrientId) -> Option<Ends> {
        self.portions.get(at)?.as_ref()?.1.get(id.index()).copied()
    }

    /// Grams of the portion of that index.
    pub fn portion_g(&self, at: usize) -> Option<Ends> {
        self.portions.get(at)?.as_ref().map(|(grams, _)| *grams)
    }
}

/// One way a line may come out.
pub(super) struct Point {
    raw: f64,
    /// What it adds to the cooked weight; 0 where the author weighed that.
    pub(super) cooked: f64,
    /// By component; an unknown value brings nothing.
    pub(super) brings: Vec<f64>,
}

/// What no line decides.
#[derive(Clone, Copy)]
struct Fixed {
    cooked: f64,
    /// Water that a weighed dish gained or lost is counted from its weight.
    water: f64,
}

/// The ends where the author wrote ranges; `None` where there is none.
pub fn ranges(dish: &Dish, computed: &Computed, selection: &Selection) -> Option<Spread> {
    let child = |at: usize| dish.flow.child.get(at).copied().unwrap_or(true);
    let chosen: Vec<(usize, &Choice)> = (0..dish.ingredients.len())
        .filter(|at| child(*at))
        .filter_map(|at| selection.option(dish, at).map(|choice| (at, choice)))
        .collect();
    let wide = |choice: &Choice| {
        choice.weight.as_ref().is_some_and(|weight| weight.low < weight.high)
            || choice
                .food
                .as_ref()
                .is_some_and(|food| matches!(&food.figures, Figures::Dish(dish) if dish.ends.is_some()))
    };
    let taken = |taken: Taken| matches!(taken, Taken::Share(low, high) | Taken::Grams(low, high) if low < high);
    let any = chosen.iter().any(|(_, choice)| wide(choice))
        || computed.portions.iter().filter_map(|portion| portion.taken).any(taken);
    if !any {
        return None;
    }
    let lines: Vec<Vec<Point>> = chosen.iter().map(|(at, choice)| ends_of(dish, *at, choice)).collect();
    Some(spread(dish, computed, &lines, |_| true))
}

/// The ends over every combination of alternatives, each at the middle of its
/// range; `None` where no line has an alternative.
pub fn combinations(dish: &Dish, computed: &Computed) -> Option<Spread> {
    combinations_of(dish, computed, None)
}

/// The least of one component in each portion, over every combination of
/// alternatives: as [`combinations`], without the rest.
pub fn weakest(dish: &Dish, computed: &Computed, id: NutrientId) -> Option<Vec<Option<f64>>> {
    let spread = combinations_of(dish, computed, Some(id))?;
    Some((0..computed.portions.len()).map(|at| spread.portion(at, id).map(|ends| ends.low)).collect())
}

fn combinations_of(dish: &Dish, computed: &Computed, only: Option<NutrientId>) -> Option<Spread> {
    let several = |(at, line): (usize, &crate::resolve::Ingredient)| {
        dish.flow.child.get(at).copied().unwrap_or(true) && line.options.len() > 1
    };
    if !dish.ingredients.iter().enumerate().any(several) {
        return None;
    }
    let wanted = |id: NutrientId| only.is_none_or(|only| only == id);
    let lines: Vec<Vec<Point>> = dish
        .ingredients
        .iter()
        .enumerate()
        .filter(|(at, _)| dish.flow.child.get(*at).copied().unwrap_or(true))
        .map(|(at, ingredient)| {
            ingredient
                .options
                .iter()
                .filter_map(|choice| {
                    let grams = choice.weight.as_ref()?.grams;
                    point(dish, at, choice, grams, |id| if wanted(id) { value(choice, id) } else { None })
                })
                .collect()
        })
        .collect();
    lines.iter().any(|points| points.len() > 1).then(|| spread(dish, computed, &lines, wanted))
}

pub(super) fn value(choice: &Choice, id: NutrientId) -> Option<f64> {
    choice.food.as_ref().and_then(|food| value_of(food, id))
}

/// The corners of a line: its weight, and what another dish in it may hold.
fn ends_of(dish: &Dish, at: usize, choice: &Choice) -> Vec<Point> {
    let Some(weight) = &choice.weight else { return Vec::new() };
    let inner = match choice.food.as_ref().map(|food| &food.figures) {
        Some(Figures::Dish(inner)) => inner.ends.as_ref(),
        _ => None,
    };
    let mut points = Vec::new();
    for grams in [weight.low, weight.high] {
        match inner {
            None => points.extend(point(dish, at, choice, grams, |id| value(choice, id))),
            Some(ends) => {
                for high in [false, true] {
                    points.extend(point(dish, at, choice, grams, |id| {
                        let ends = ends.get(id.index()).copied().flatten()?;
                        Some(if high { ends.high } else { ends.low })
                    }));
                }
            }
        }
        if weight.low >= weight.high {
            break;
        }
    }
    points
}

/// What one option of a line brings at a weight.
pub(super) fn point(
    dish: &Dish,
    at: usize,
    choice: &Choice,
    grams: f64,
    per_100g: impl Fn(NutrientId) -> Option<f64>,
) -> Option<Point> {
    let food = choice.food.as_ref()?;
    let codes = retained(choice, food, dish.flow.journeys.get(at));
    let rows: Vec<&'static RetentionRow> = codes.iter().filter_map(|found| retention::code(found.code)).collect();
    let cooked = match dish.cooked() {
        Some(ast::Cooked::Grams(_)) => 0.0,
        Some(ast::Cooked::Percent(percent)) => grams * percent.value() / 100.0,
        None => {
            let own = yields::own(dish, at, choice);
            let pot = if own.in_pot { pot_factor().map_or(1.0, |row| row.factor) } else { 1.0 };
            grams * own.factor * pot
        }
    };
    let brings = NutrientId::all()
        .map(|id| {
            let value = per_100g(id).unwrap_or(0.0);
            let kept = grams * value / 100.0 * percent_kept(id, &rows) / 100.0;
            // What changes in weight changes as water.
            if id == nutrient::WATER { kept + cooked - grams } else { kept }
        })
        .collect();
    Some(Point { raw: grams, cooked, brings })
}

fn spread(dish: &Dish, computed: &Computed, lines: &[Vec<Point>], wanted: impl Fn(NutrientId) -> bool) -> Spread {
    let weighed = match dish.cooked() {
        Some(ast::Cooked::Grams(grams)) => grams.value(),
        _ => 0.0,
    };
    let fixed = Fixed { cooked: weighed, water: weighed };
    let sum = |of: &dyn Fn(&Point) -> f64| Ends {
        low: lines.iter().map(|points| least(points, of)).sum(),
        high: lines.iter().map(|points| -least(points, &|point| -of(point))).sum(),
    };
    let cooked = sum(&|point| point.cooked);
    let mut whole = Vec::with_capacity(COUNT);
    let mut per_100g = Vec::with_capacity(COUNT);
    for id in NutrientId::all() {
        if !wanted(id) {
            whole.push(Ends::default());
            per_100g.push(Ends::default());
            continue;
        }
        let at = id.index();
        let start = if id == nutrient::WATER { fixed.water } else { 0.0 };
        let brings = move |point: &Point| point.brings.get(at).copied().unwrap_or(0.0);
        let ends = sum(&brings);
        whole.push(Ends { low: (start + ends.low).max(0.0), high: (start + ends.high).max(0.0) });
        let low = quotient(lines, start, fixed.cooked, &brings);
        let high = -quotient(lines, -start, fixed.cooked, &|point| -brings(point));
        per_100g.push(Ends { low: (low * 100.0).max(0.0), high: (high * 100.0).max(0.0) });
    }
    let cooked_g = Ends { low: fixed.cooked + cooked.low, high: fixed.cooked + cooked.high };
    let portions = computed
        .portions
        .iter()
        .map(|portion| {
            portion.grams?;
            let (of, all, grams): (Ends, &[Ends], Ends) = match portion.taken? {
                Taken::Share(low, high) => {
                    let of = Ends { low, high };
                    (of, &whole, cooked_g.times(of))
                }
                Taken::Grams(low, high) => {
                    (Ends { low: low / 100.0, high: high / 100.0 }, &per_100g, Ends { low, high })
                }
            };
            Some((grams, all.iter().map(|ends| ends.times(of)).collect()))
        })
        .collect();
    Spread { raw_g: sum(&|point| point.raw), cooked_g, whole, per_100g, portions }
}

fn least(points: &[Point], of: &dyn Fn(&Point) -> f64) -> f64 {
    points.iter().map(of).min_by(f64::total_cmp).unwrap_or(0.0)
}

/// The least quotient of the sum of `of` over the cooked weight.
fn quotient(lines: &[Vec<Point>], start: f64, weight: f64, of: &dyn Fn(&Point) -> f64) -> f64 {
    // Each round is below the one before until the least is found; the number
    // of corners is finite, and a few rounds do in practice.
    const MOST_ROUNDS: usize = 64;
    let mut best = f64::INFINITY;
    for round in 0..MOST_ROUNDS {
        let (mut top, mut bottom) = (start, weight);
        for points in lines {
            let chosen = if round == 0 {
                points.first()
            } else {
                points.iter().min_by(|a, b| (of(a) - best * a.cooked).total_cmp(&(of(b) - best * b.cooked)))
            };
            if let Some(point) = chosen {
                top += of(point);
                bottom += point.cooked;
            }
        }
        if bottom <= 0.0 {
            return 0.0;
        }
        let found = top / bottom;
        if round > 0 && found >= best {
            break;
        }
        best = found;
    }
    best
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::check::{CheckedDish, check};
    use crate::reference::Reference;
    use crate::reference::nutrient::{ENERC_KCAL, FE, VITA_RAE, WATER};
    use crate::resolve::NoDishes;
    use crate::source::Source;
    use crate::syntax::Kind;

    const RANGES: &str = "dish Pot\nfor 9 to 23 months\nmakes 2 to 3 cups\nportion 9 to 11 months: 100 to 120 g\n\
        portion 12 to 23 months: 3/4 cup\ntake A g maize flour as flour\ntake B g water\ntake C g pumpkin, cubed\n\
        step boil flour with water, pumpkin for 20 min; mash everything\n";
    const ENDS: [[&str; 2]; 3] = [["40", "60"], ["200", "300"], ["100", "150"]];

    fn dish(text: &str) -> CheckedDish {
        let source = Source::new("pot.dish", text);
        check(source, Kind::Dish, "pot", &Reference::default(), &NoDishes).dish.unwrap()
    }

    fn filled(amounts: [&str; 3]) -> CheckedDish {
        let [a, b, c] = amounts;
        dish(
            &RANGES
                .replace("A g", &format!("{a} g"))
                .replace("B g", &format!("{b} g"))
                .replace("C g", &format!("{c} g")),
        )
    }

    /// Every corner computed on its own, against the ends in one go.
    #[test]
    fn the_ends_are_those_of_all_corners() {
        let amounts = ENDS.map(|[low, high]| format!("{low} to {high}"));
        let wide = filled([&amounts[0], &amounts[1], &amounts[2]]);
        let spread = ranges(&wide.resolved, &wide.computed, &Selection::default()).unwrap();
        for id in [ENERC_KCAL, FE, VITA_RAE, WATER] {
            let (mut whole, mut per_100g) = (Vec::new(), Vec::new());
            for corner in 0..8 {
                let pick = |line: usize| ENDS[line][(corner >> line) & 1];
                let one = filled([pick(0), pick(1), pick(2)]);
                whole.push(one.computed.nutrition.whole(id).unwrap());
                per_100g.push(one.computed.nutrition.per_100g(id).unwrap());
            }
            let ends = |all: &[f64]| {
                let least = all.iter().copied().fold(f64::INFINITY, f64::min);
                Ends { low: least, high: all.iter().copied().fold(0.0, f64::max) }
            };
            let same = |found: Ends, expected: Ends| {
                let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs().max(1.0);
                assert!(near(found.low, expected.low) && near(found.high, expected.high), "{found:?} {expected:?}");
            };
            same(spread.whole(id), ends(&whole));
            same(spread.per_100g(id), ends(&per_100g));
            // 100 to 120 g of it, and 3/4 cup of 2 to 3 cups.
            let of = |a: Ends, low: f64, high: f64| Ends { low: a.low * low, high: a.high * high };
            same(spread.portion(0, id).unwrap(), of(ends(&per_100g), 1.0, 1.2));
            same(spread.portion(1, id).unwrap(), of(ends(&whole), 0.25, 0.375));
        }
        assert_eq!(spread.raw_g, Ends { low: 340.0, high: 510.0 });
    }

    #[test]
    fn a_weighed_dish_keeps_its_weight() {
        let text = RANGES.replace("makes 2 to 3", "cooked 400 g\nmakes 2").replace("A g", "40 to 60 g");
        let text = text.replace("B g", "200 g").replace("C g", "100 g");
        let wide = dish(&text);
        let spread = ranges(&wide.resolved, &wide.computed, &Selection::default()).unwrap();
        assert_eq!(spread.cooked_g, Ends { low: 400.0, high: 400.0 });
        for (at, flour) in ["40", "60"].into_iter().enumerate() {
            let one = dish(&text.replace("40 to 60", flour));
            for id in [ENERC_KCAL, WATER] {
                let ends = spread.per_100g(id);
                // More flour in one weight leaves less room for water.
                let found = if (at == 0) == (id == ENERC_KCAL) { ends.low } else { ends.high };
                assert!((found - one.computed.nutrition.per_100g(id).unwrap()).abs() < 1e-9, "{flour}");
            }
        }
    }

    #[test]
    fn without_ranges_there_are_no_ends() {
        let plain = dish(
            &RANGES
                .replace("2 to 3 cups", "3 cups")
                .replace("100 to 120 g", "100 g")
                .replace("A g", "40 g")
                .replace("B g", "200 g")
                .replace("C g", "100 g"),
        );
        assert_eq!(ranges(&plain.resolved, &plain.computed, &Selection::default()), None);
        assert_eq!(combinations(&plain.resolved, &plain.computed), None);
    }

    #[test]
    fn combinations_are_those_of_all_options() {
        let text = "dish Pot\nfor 9 to 11 months\nmakes 2 cups\nportion 100 g\n\
            take 50 g maize flour or finger millet flour as flour\ntake 200 g water\n\
            take 100 g pumpkin or carrot as orange\nstep boil flour with water, orange for 20 min; mash everything\n";
        let all = dish(text);
        let spread = combinations(&all.resolved, &all.computed).unwrap();
        let mut found = Vec::new();
        for flour in ["maize flour", "finger millet flour"] {
            for orange in ["pumpkin", "carrot"] {
                let one = dish(
                    &text.replace("maize flour or finger millet flour", flour).replace("pumpkin or carrot", orange),
                );
                found.push(one.computed.nutrition.per_100g(FE).unwrap());
            }
        }
        let ends = spread.portion(0, FE).unwrap();
        assert!((ends.low - found.iter().copied().fold(f64::INFINITY, f64::min)).abs() < 1e-9);
        assert!((ends.high - found.iter().copied().fold(0.0, f64::max)).abs() < 1e-9);
    }
}
