//! Choosing a day: an integer program over what may be served.
//!
//! Each candidate is an amount of a dish or of a single food. A day takes so
//! many main servings, so many snacks and at most one side a meal. Hard:
//! energy, food groups, egg or flesh food, milk feeds, upper limits, leaves,
//! how often the same dish. Soft: the need of every nutrient; first the sum of
//! what is missing (each as a share of its need) is made least, then cost (or
//! weight) is, at no more missing than that. The search stops after a fixed
//! number of nodes, never after a time, so that the same input gives the same
//! day on every machine.

use std::collections::BTreeMap;

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, SolveOptions, Variable};

use crate::reference::larder::FoodGroup;

/// Nodes of one search.
const NODES: u64 = 4000;
/// Shares of needs that the second search may give up for a better cost.
const GIVE: f64 = 0.02;

/// An amount of something that may be served.
#[derive(Debug, Clone, Default)]
pub struct Candidate {
    /// As written on a menu's line.
    pub text: String,
    /// The dish or food, whatever the amount.
    pub key: String,
    pub main: bool,
    pub snack: bool,
    pub side: bool,
    pub grams: f64,
    /// In the price list's money; the weight where there is none.
    pub cost: f64,
    pub kcal: f64,
    /// What it brings of each need of the wish, in their order.
    pub brings: Vec<f64>,
    /// The most it may bring of each limit, in their order.
    pub most: Vec<f64>,
    pub groups: Vec<FoodGroup>,
    pub leafy: bool,
    /// Minutes from the first step to the meal.
    pub minutes: f64,
}

/// A need of the day, less what breast milk brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    pub tag: String,
    pub need: f64,
    pub milk: f64,
}

/// What a day must be.
#[derive(Debug, Clone)]
pub struct Wish {
    pub meals: usize,
    pub snacks: usize,
    /// Energy of the food, kcal.
    pub kcal: (f64, f64),
    pub needs: Vec<Need>,
    /// The most of each limit that the food may bring.
    pub limits: Vec<f64>,
    pub groups: usize,
    pub breastfed: bool,
    pub milk_feeds: usize,
    pub leafy: usize,
    /// What the stomach holds, g a meal.
    pub capacity: f64,
    /// The most servings of one dish over all days.
    pub same: usize,
}

/// A chosen day: indexes of candidates.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Plan {
    /// Main serving with its side, if any, in the order of the day.
    pub meals: Vec<(usize, Option<usize>)>,
    pub snacks: Vec<usize>,
    /// What the day has of each need, breast milk included.
    pub have: Vec<f64>,
    /// Nothing better exists (but for the stated give); else the best that the
    /// search found.
    pub proven: bool,
}

/// A requirement that a day must meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hard {
    LeastEnergy,
    MostEnergy,
    Groups,
    EggOrFlesh,
    MilkFeeds,
    Limits,
    Leafy,
    Same,
}

impl Hard {
    pub const ALL: [Self; 8] = [
        Self::LeastEnergy,
        Self::MostEnergy,
        Self::Groups,
        Self::EggOrFlesh,
        Self::MilkFeeds,
        Self::Limits,
        Self::Leafy,
        Self::Same,
    ];

    pub fn words(self) -> &'static str {
        match self {
            Self::LeastEnergy => "enough energy",
            Self::MostEnergy => "not too much energy",
            Self::Groups => "enough food groups",
            Self::EggOrFlesh => "an egg or flesh food",
            Self::MilkFeeds => "enough milk feeds",
            Self::Limits => "the upper limits",
            Self::Leafy => "leaves rich in nitrate once at most",
            Self::Same => "the same dish not too often",
        }
    }
}

/// No day meets the requirements; without one of these there would be one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoDay(pub Vec<Hard>);

/// One variable for each role a candidate may have.
struct Model<'a> {
    candidates: &'a [Candidate],
    wish: &'a Wish,
    problem: Problem,
    main: Vec<Option<Variable>>,
    snack: Vec<Option<Variable>>,
    side: Vec<Option<Variable>>,
    slack: Vec<Variable>,
}

impl<'a> Model<'a> {
    /// `weigh` gives the objective of a candidate, `lack` that of a missing
    /// share. Whole servings unless `relaxed`.
    fn new(
        candidates: &'a [Candidate],
        wish: &'a Wish,
        used: &BTreeMap<String, usize>,
        without: Option<Hard>,
        relaxed: bool,
        weigh: impl Fn(&Candidate) -> f64,
        lack: impl Fn(usize) -> f64,
    ) -> Self {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let mut roles = |may: fn(&Candidate) -> bool| -> Vec<Option<Variable>> {
            candidates
                .iter()
                .map(|one| {
                    may(one).then(|| {
                        if relaxed {
                            problem.add_var(weigh(one), (0.0, 1.0))
                        } else {
                            problem.add_binary_var(weigh(one))
                        }
                    })
                })
                .collect()
        };
        let main = roles(|one| one.main);
        let snack = roles(|one| one.snack);
        let side = roles(|one| one.side);
        // A missing share: 1 is all of the need.
        let slack: Vec<Variable> = (0..wish.needs.len()).map(|at| problem.add_var(lack(at), (0.0, 1.0))).collect();
        let mut model = Self { candidates, wish, problem, main, snack, side, slack };
        model.counts();
        model.hard(used, without, relaxed);
        model.soft();
        model
    }

    /// Every variable with its candidate.
    fn servings(&self) -> impl Iterator<Item = (&'a Candidate, Variable)> + '_ {
        [&self.main, &self.snack, &self.side].into_iter().flat_map(move |role| {
            self.candidates.iter().zip(role).filter_map(|(one, variable)| variable.map(|variable| (one, variable)))
        })
    }

    fn sum(&self, value: impl Fn(&Candidate) -> f64) -> Vec<(Variable, f64)> {
        self.servings().map(|(one, variable)| (variable, value(one))).filter(|(_, value)| *value != 0.0).collect()
    }

    fn counts(&mut self) {
        let ones = |role: &[Option<Variable>]| -> Vec<(Variable, f64)> {
            role.iter().flatten().map(|variable| (*variable, 1.0)).collect()
        };
        self.problem.add_constraint(ones(&self.main), ComparisonOp::Eq, self.wish.meals as f64);
        self.problem.add_constraint(ones(&self.snack), ComparisonOp::Eq, self.wish.snacks as f64);
        // Each side goes to a main that leaves room for the largest.
        let largest = self.candidates.iter().filter(|one| one.side).map(|one| one.grams).fold(0.0, f64::max);
        let mut room = ones(&self.side);
        room.extend(
            self.candidates
                .iter()
                .zip(&self.main)
                .filter(|(one, _)| one.grams + largest <= self.wish.capacity)
                .filter_map(|(_, variable)| variable.map(|variable| (variable, -1.0))),
        );
        self.problem.add_constraint(&room, ComparisonOp::Le, 0.0);
    }

    fn hard(&mut self, used: &BTreeMap<String, usize>, without: Option<Hard>, relaxed: bool) {
        let wish = self.wish;
        let on = |hard: Hard| without != Some(hard);
        let kcal = self.sum(|one| one.kcal);
        if on(Hard::LeastEnergy) {
            self.problem.add_constraint(&kcal, ComparisonOp::Ge, wish.kcal.0);
        }
        if on(Hard::MostEnergy) {
            self.problem.add_constraint(&kcal, ComparisonOp::Le, wish.kcal.1);
        }
        if on(Hard::Groups) {
            // A group counts where some serving brings it.
            let mut counted = Vec::new();
            for group in FoodGroup::ALL.iter().filter(|group| !matches!(group, FoodGroup::None | FoodGroup::BreastMilk))
            {
                let mark =
                    if relaxed { self.problem.add_var(0.0, (0.0, 1.0)) } else { self.problem.add_binary_var(0.0) };
                let mut held = self.sum(|one| if one.groups.contains(group) { -1.0 } else { 0.0 });
                held.push((mark, 1.0));
                self.problem.add_constraint(&held, ComparisonOp::Le, 0.0);
                counted.push((mark, 1.0));
            }
            let own = usize::from(wish.breastfed);
            self.problem.add_constraint(&counted, ComparisonOp::Ge, wish.groups.saturating_sub(own) as f64);
        }
        if on(Hard::EggOrFlesh) {
            let meat = |one: &Candidate| {
                f64::from(u8::from(one.groups.iter().any(|group| matches!(group, FoodGroup::Eggs | FoodGroup::Flesh))))
            };
            let meat = self.sum(meat);
            self.problem.add_constraint(&meat, ComparisonOp::Ge, 1.0);
        }
        if on(Hard::MilkFeeds) && wish.milk_feeds > 0 {
            // A milky side beside a milky main would be one feed: only mains
            // and snacks are counted.
            let milky: Vec<(Variable, f64)> = [&self.main, &self.snack]
                .into_iter()
                .flat_map(|role| self.candidates.iter().zip(role))
                .filter(|(one, _)| one.groups.contains(&FoodGroup::Dairy))
                .filter_map(|(_, variable)| variable.map(|variable| (variable, 1.0)))
                .collect();
            self.problem.add_constraint(&milky, ComparisonOp::Ge, wish.milk_feeds as f64);
        }
        if on(Hard::Limits) {
            for (at, limit) in wish.limits.iter().enumerate() {
                let most = self.sum(|one| one.most.get(at).copied().unwrap_or(0.0));
                self.problem.add_constraint(&most, ComparisonOp::Le, *limit);
            }
        }
        if on(Hard::Leafy) {
            let leafy = self.sum(|one| f64::from(u8::from(one.leafy)));
            self.problem.add_constraint(&leafy, ComparisonOp::Le, wish.leafy as f64);
        }
        if on(Hard::Same) {
            let mut keys: Vec<&str> = self.candidates.iter().map(|one| one.key.as_str()).collect();
            keys.sort_unstable();
            keys.dedup();
            for key in keys {
                let left = wish.same.saturating_sub(used.get(key).copied().unwrap_or(0)).min(1);
                let same = self.sum(|one| if one.key == key { 1.0 } else { 0.0 });
                self.problem.add_constraint(&same, ComparisonOp::Le, left as f64);
            }
        }
    }

    fn soft(&mut self) {
        for (at, need) in self.wish.needs.iter().enumerate() {
            if need.need <= 0.0 {
                continue;
            }
            let mut shares = self.sum(|one| one.brings.get(at).copied().unwrap_or(0.0) / need.need);
            if let Some(slack) = self.slack.get(at) {
                shares.push((*slack, 1.0));
            }
            self.problem.add_constraint(&shares, ComparisonOp::Ge, 1.0 - need.milk / need.need);
        }
    }

    fn solve(&self, gap: f64) -> Option<Solution> {
        let mut options = SolveOptions::default();
        options.node_limit = Some(NODES);
        options.mip_gap = gap;
        self.problem.solve_with(options).ok()?.into_solution().ok()
    }

    fn taken(&self, role: &[Option<Variable>], solution: &Solution) -> Vec<usize> {
        role.iter()
            .enumerate()
            .filter(|(_, variable)| variable.is_some_and(|variable| solution.var_value(variable) > 0.5))
            .map(|(at, _)| at)
            .collect()
    }
}

/// The best day.
///
/// # Errors
/// [`NoDay`] where no day meets the hard requirements.
pub fn plan(candidates: &[Candidate], wish: &Wish, used: &BTreeMap<String, usize>) -> Result<Plan, NoDay> {
    let first = Model::new(candidates, wish, used, None, false, |_| 0.0, |_| 1.0);
    let Some(least) = first.solve(0.005) else {
        return Err(NoDay(blame(candidates, wish, used)));
    };
    let missing: f64 = first.slack.iter().map(|slack| least.var_value(*slack)).sum();
    let mut second = Model::new(candidates, wish, used, None, false, |one| one.cost, |_| 0.0);
    let all: Vec<(Variable, f64)> = second.slack.iter().map(|slack| (*slack, 1.0)).collect();
    second.problem.add_constraint(&all, ComparisonOp::Le, missing + GIVE);
    let (model, solution) = match second.solve(0.01) {
        Some(cheapest) => (&second, cheapest),
        None => (&first, least),
    };
    let proven = solution.termination_reason() != microlp::TerminationReason::NodeLimit;
    let (main, snack, side) = (
        model.taken(&model.main, &solution),
        model.taken(&model.snack, &solution),
        model.taken(&model.side, &solution),
    );
    Ok(arranged(candidates, wish, main, snack, side, proven))
}

/// Which requirements stand in the way: without one of them there is a day.
fn blame(candidates: &[Candidate], wish: &Wish, used: &BTreeMap<String, usize>) -> Vec<Hard> {
    Hard::ALL
        .into_iter()
        .filter(|hard| Model::new(candidates, wish, used, Some(*hard), false, |_| 0.0, |_| 0.0).solve(1.0).is_some())
        .collect()
}

/// The most of one need that any day can bring, breast milk included: an upper
/// bound, for parts of servings are allowed here.
pub fn most(candidates: &[Candidate], wish: &Wish, need: usize) -> Option<f64> {
    let bring = |one: &Candidate| -one.brings.get(need).copied().unwrap_or(0.0);
    let model = Model::new(candidates, wish, &BTreeMap::new(), None, true, bring, |_| 0.0);
    let milk = wish.needs.get(need).map_or(0.0, |row| row.milk);
    model.solve(0.0).map(|solution| milk - solution.objective())
}

/// Servings into meals: what is soonest made for breakfast, sides where there
/// is most room.
fn arranged(
    candidates: &[Candidate],
    wish: &Wish,
    mut main: Vec<usize>,
    snacks: Vec<usize>,
    mut side: Vec<usize>,
    proven: bool,
) -> Plan {
    let one = |at: &usize| candidates.get(*at);
    let minutes = |at: &usize| one(at).map_or(0.0, |one| one.minutes);
    let grams = |at: &usize| one(at).map_or(0.0, |one| one.grams);
    main.sort_by(|a, b| minutes(a).total_cmp(&minutes(b)).then(a.cmp(b)));
    side.sort_by(|a, b| grams(b).total_cmp(&grams(a)).then(a.cmp(b)));
    let mut sides: Vec<Option<usize>> = vec![None; main.len()];
    for at in side {
        let place = (0..main.len())
            .filter(|place| sides.get(*place).is_some_and(Option::is_none))
            .filter(|place| main.get(*place).is_some_and(|own| grams(own) + grams(&at) <= wish.capacity))
            .min_by(|a, b| {
                let own = |place: &usize| main.get(*place).map_or(0.0, grams);
                own(a).total_cmp(&own(b))
            });
        if let Some(slot) = place.and_then(|place| sides.get_mut(place)) {
            *slot = Some(at);
        }
    }
    let mut taken: Vec<usize> = main.iter().copied().chain(snacks.iter().copied()).collect();
    taken.extend(sides.iter().flatten());
    let have = wish
        .needs
        .iter()
        .enumerate()
        .map(|(at, need)| {
            let food: f64 = taken.iter().filter_map(one).filter_map(|one| one.brings.get(at)).sum();
            need.milk + food
        })
        .collect();
    Plan { meals: main.into_iter().zip(sides).collect(), snacks, have, proven }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn serving(key: &str, kcal: f64, iron: f64, cost: f64, groups: &[FoodGroup]) -> Candidate {
        Candidate {
            text: key.to_owned(),
            key: key.to_owned(),
            main: true,
            grams: 100.0,
            cost,
            kcal,
            brings: vec![iron],
            most: vec![iron],
            groups: groups.to_vec(),
            minutes: kcal,
            ..Candidate::default()
        }
    }

    fn wish() -> Wish {
        Wish {
            meals: 2,
            snacks: 0,
            kcal: (300.0, 600.0),
            needs: vec![Need { tag: "FE".to_owned(), need: 6.0, milk: 1.0 }],
            limits: vec![40.0],
            groups: 2,
            breastfed: false,
            milk_feeds: 0,
            leafy: 1,
            capacity: 250.0,
            same: 1,
        }
    }

    fn table() -> Vec<Candidate> {
        vec![
            serving("porridge", 200.0, 1.0, 1.0, &[FoodGroup::Grains]),
            serving("fish", 150.0, 2.0, 5.0, &[FoodGroup::Flesh]),
            serving("egg", 150.0, 2.0, 3.0, &[FoodGroup::Eggs]),
            serving("beans", 250.0, 3.0, 2.0, &[FoodGroup::Pulses]),
        ]
    }

    #[test]
    fn the_need_comes_first_and_then_the_cost() {
        // Beans with fish or egg reach 6 mg with the milk's 1: egg is cheaper.
        let plan = plan(&table(), &wish(), &BTreeMap::new()).unwrap();
        let mut keys: Vec<usize> = plan.meals.iter().map(|(main, _)| *main).collect();
        keys.sort_unstable();
        assert_eq!(keys, [2, 3]);
        assert_eq!(plan.have, [6.0]);
        assert!(plan.proven);
    }

    #[test]
    fn what_no_day_can_bring_has_a_bound() {
        // The best two of 3, 2, 2 and 1 mg, one of them flesh or egg: 5, and 1
        // of milk.
        assert!((most(&table(), &wish(), 0).unwrap() - 6.0).abs() < 1e-6);
        let mut more = wish();
        more.needs = vec![Need { tag: "FE".to_owned(), need: 11.0, milk: 1.0 }];
        let short = plan(&table(), &more, &BTreeMap::new()).unwrap();
        assert_eq!(short.have, [6.0]);
    }

    #[test]
    fn an_impossible_day_names_what_stands_in_the_way() {
        let mut wish = wish();
        wish.kcal = (2000.0, 3000.0);
        assert_eq!(plan(&table(), &wish, &BTreeMap::new()), Err(NoDay(vec![Hard::LeastEnergy])));
        let vegan: Vec<Candidate> =
            table().into_iter().filter(|one| !matches!(one.key.as_str(), "fish" | "egg")).collect();
        assert_eq!(plan(&vegan, &super::tests::wish(), &BTreeMap::new()), Err(NoDay(vec![Hard::EggOrFlesh])));
    }

    #[test]
    fn the_same_input_gives_the_same_day() {
        let first = plan(&table(), &wish(), &BTreeMap::new());
        for _ in 0..5 {
            assert_eq!(plan(&table(), &wish(), &BTreeMap::new()), first);
        }
    }
}
