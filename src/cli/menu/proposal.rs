//! A proposed day as the text of a menu, with what there is to say of it in
//! comments.

use std::fmt::Write;

use crate::compute::cost::{Cost, Purse};
use crate::compute::day::plan::{Candidate, Plan, Wish};
use crate::reference::profile::data::AgeBand;
use crate::source::Spanned;

/// What every proposed menu has on top.
pub struct Head {
    pub ages: String,
    pub month: Option<u8>,
    pub season: Option<String>,
}

/// What a proposal says of cost and season.
pub struct Money<'a> {
    pub purse: Option<Purse<'a>>,
    /// One for each candidate; none without a price list.
    pub costs: &'a [Option<Cost>],
    pub remarks: &'a [String],
    /// The price list's name.
    pub list: Option<&'a Spanned<String>>,
}

impl Money<'_> {
    fn say(&self, taken: impl Iterator<Item = usize>, out: &mut String) {
        let Some(purse) = self.purse else {
            let why = if self.list.is_some() { "the price list is empty" } else { "the workspace has no price list" };
            comment(&format!("Least weight of food among days that meet the needs as well: {why}."), out);
            return;
        };
        let mut sum = Cost::default();
        for cost in taken.filter_map(|at| self.costs.get(at)?.as_ref()) {
            sum.add(cost);
        }
        let list = self.list.map_or("the price list", |list| list.value.as_str());
        let bound = if sum.is_whole() { "" } else { "at least " };
        comment(
            &format!(
                "Least cost among days that meet the needs as well: {bound}{:.2} {}, as bought, by `{list}`.",
                sum.price, purse.currency
            ),
            out,
        );
        if !sum.is_whole() {
            comment(&format!("Without a price there, not in the sum: {}.", sum.unpriced.join("; ")), out);
        }
        if !sum.old.is_empty() {
            comment(&format!("Prices over twelve months old, or of no known date: {}.", sum.old.join("; ")), out);
        }
        let mut unpriced = Cost::default();
        self.costs.iter().flatten().for_each(|cost| unpriced.add(cost));
        if !unpriced.is_whole() {
            comment(
                &format!(
                    "What has no price is taken only where needs are not met as well without it: {}.",
                    unpriced.unpriced.join("; ")
                ),
                out,
            );
        }
        let others = purse.other_currencies();
        if !others.is_empty() {
            comment(&format!("Prices in {} count as none: sums are in one currency.", others.join(", ")), out);
        }
    }
}

pub struct Proposal<'a> {
    pub money: &'a Money<'a>,
    /// English name of a component.
    pub name: &'a dyn Fn(&str) -> String,
    pub day: usize,
    pub of: usize,
    pub chosen: &'a Plan,
    pub beyond: &'a [(String, f64)],
}

impl Proposal<'_> {
    /// A whole menu file; what it lacks stands in its comments.
    pub fn text(&self, candidates: &[Candidate], wish: &Wish, head: &Head, band: &AgeBand) -> String {
        let one = |at: usize| candidates.get(at);
        let taken = || {
            let sides = self.chosen.meals.iter().filter_map(|(_, side)| *side);
            self.chosen.meals.iter().map(|(main, _)| *main).chain(sides).chain(self.chosen.snacks.iter().copied())
        };
        let kcal: f64 = taken().filter_map(one).map(|one| one.kcal).sum();
        let mut out = String::from("# Proposed by `porringer menu suggest`; look it over before you use it.\n");
        let _ = writeln!(out, "# Food {kcal:.0} kcal; {:.0} are needed at {} months.", wish.kcal.0, band.key);
        let short: Vec<String> = wish
            .needs
            .iter()
            .zip(&self.chosen.have)
            .filter(|(need, have)| **have < need.need * 0.9995)
            .map(|(need, have)| format!("{} {:.0} %", (self.name)(&need.tag), (have / need.need * 100.0).floor()))
            .collect();
        if !short.is_empty() {
            comment(&format!("Less than the day's need: {}.", short.join(", ")), &mut out);
        }
        if !self.beyond.is_empty() {
            let names: Vec<String> = self
                .beyond
                .iter()
                .map(|(name, share)| format!("{name} ({:.0} % at most)", (share * 100.0).ceil()))
                .collect();
            comment(&format!("No such day from these dishes meets the need of: {}.", names.join(", ")), &mut out);
        }
        self.money.say(taken(), &mut out);
        for remark in self.money.remarks {
            comment(remark, &mut out);
        }
        if !self.chosen.proven {
            out.push_str("# The search ended at its bound: a better day may exist.\n");
        }
        let title = if self.of == 1 { "Proposed day".to_owned() } else { format!("Proposed day {}", self.day) };
        let _ = writeln!(out, "menu     {title}\nfor      {}", head.ages);
        for (at, snack, name, items) in self.places() {
            let words: Vec<&str> = items.iter().filter_map(|at| one(*at)).map(|one| one.text.as_str()).collect();
            let keyword = if snack { "snack" } else { "meal" };
            let name = if name.is_empty() { String::new() } else { format!(" {name}") };
            let _ = writeln!(out, "{keyword:8} {}:{:02}{name}: {}", at / 60, at % 60, words.join(", "));
        }
        if let Some(season) = &head.season {
            let _ = writeln!(out, "season   {}", season.trim().to_lowercase());
        }
        out
    }

    /// Times of the day: meals spread from seven to half past six, snacks
    /// between them and after them.
    fn places(&self) -> Vec<(u16, bool, &'static str, Vec<usize>)> {
        let meals: &[(u16, &str)] = match self.chosen.meals.len() {
            1 => &[(750, "lunch")],
            2 => &[(480, "breakfast"), (1020, "supper")],
            3 => &[(420, "breakfast"), (750, "lunch"), (1080, "supper")],
            4 => &[(420, "breakfast"), (690, ""), (900, "lunch"), (1110, "supper")],
            5 => &[(390, "breakfast"), (570, ""), (750, "lunch"), (930, ""), (1110, "supper")],
            _ => &[(390, "breakfast"), (540, ""), (690, ""), (840, "lunch"), (990, ""), (1140, "supper")],
        };
        const SNACKS: [u16; 4] = [600, 960, 1200, 825];
        let mut places: Vec<(u16, bool, &'static str, Vec<usize>)> = self
            .chosen
            .meals
            .iter()
            .zip(meals)
            .map(|((main, side), (at, name))| (*at, false, *name, std::iter::once(*main).chain(*side).collect()))
            .collect();
        for (snack, at) in self.chosen.snacks.iter().zip(SNACKS) {
            places.push((at, true, "", vec![*snack]));
        }
        places.sort();
        places
    }
}

/// A comment over several lines.
fn comment(text: &str, out: &mut String) {
    const WIDTH: usize = 78;
    let mut line = String::from("#");
    // A percent sign stays with its number.
    for word in text.replace(" %", "\u{A0}%").split(' ').map(|word| word.replace('\u{A0}', " ")) {
        if line.chars().count() + word.chars().count() + 1 > WIDTH && line.len() > 1 {
            out.push_str(&line);
            out.push('\n');
            line = String::from("#");
        }
        line.push(' ');
        line.push_str(&word);
    }
    out.push_str(&line);
    out.push('\n');
}
