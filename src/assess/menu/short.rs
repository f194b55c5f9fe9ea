//! `menu/short`: what the day brings less of than the child needs, with foods
//! of the larder that would close the gap.

use std::sync::Arc;

use super::{BandReport, MenuCase, held, need};
use crate::assess::closing::{Addition, Way, additions, day_limits, proposed};
use crate::compute::closing::{Bound, Closer as Found, Helping, Order, closers};
use crate::compute::day::BandDay;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::Reference;
use crate::reference::larder::{FoodClass, FoodGroup, FoodRow};
use crate::reference::nutrient::NutrientId;
use crate::reference::profile::data::{AgeBand, Aim};

/// A nutrient of which the day brings less than the need.
#[derive(Debug, Clone)]
pub struct Short {
    /// INFOODS tagname.
    pub tag: String,
    pub unit: &'static str,
    /// What the day brings; a lower bound unless complete.
    pub have: f64,
    pub need: f64,
    pub complete: bool,
    /// Foods that would close it, least weight first.
    pub closers: Vec<Closer>,
    /// The same of foods that are not to be had in all months of the menu.
    pub out_of_season: Vec<Closer>,
}

impl Short {
    pub fn share(&self) -> f64 {
        self.have / self.need
    }

    /// Percent for print, as the bars have it; what is short is never shown as
    /// the whole.
    pub fn percent(&self) -> f64 {
        crate::quantity::round_half_even(self.share() * 100.0, 0).min(99.0)
    }
}

/// So much of a food closes a gap.
#[derive(Debug, Clone)]
pub struct Closer {
    pub food: Arc<FoodRow>,
    /// As the larder's row has it: raw weight for a raw food.
    pub grams: f64,
}

/// Foods to name for one nutrient.
const MOST_CLOSERS: usize = 3;

/// Least share first.
pub fn list(case: &MenuCase<'_>, day: &BandDay, band: &AgeBand, helpers: &Helpers<'_>) -> Vec<Short> {
    let mut found: Vec<Short> = case
        .reference
        .profile
        .file
        .nutrient
        .iter()
        .filter(|nutrient| nutrient.on_card && nutrient.aim == Aim::AtLeast)
        .filter_map(|nutrient| {
            let id = NutrientId::from_tag(&nutrient.tag)?;
            let (need, _) = need(case.reference, nutrient, band)?;
            let (have, complete) = held(day, nutrient)?;
            if have >= need {
                return None;
            }
            let (closers, out_of_season) = helpers.closers(id, need - have, day, band);
            let (tag, unit) = (nutrient.tag.clone(), id.get().unit);
            Some(Short { tag, unit, have, need, complete, closers, out_of_season })
        })
        .collect();
    found.sort_by(|a, b| a.share().total_cmp(&b.share()));
    found
}

pub fn note(case: &MenuCase<'_>, band: &AgeBand, report: &BandReport, sink: &mut Sink) {
    if report.short.is_empty() {
        return;
    }
    let name = |tag: &str| case.reference.profile.nutrient(tag).map_or(tag.to_owned(), |row| row.en.clone());
    let names: Vec<String> =
        report.short.iter().map(|short| format!("{} {:.0} %", name(&short.tag), short.percent())).collect();
    let closing = report
        .short
        .iter()
        .filter_map(|short| {
            let closer = short.closers.first()?;
            Some(format!("{}: {:.0} g {}", name(&short.tag), closer.grams.ceil(), closer.food.full_name()))
        })
        .take(3)
        .collect::<Vec<_>>();
    sink.push(
        Diagnostic::new(
            Code::MenuShort,
            case.title_span(),
            format!("at {} months less than the day's need of {}", band.key, names.join(", ")),
        )
        .help(if closing.is_empty() {
            "no single food closes it; see national guidance on supplements".to_owned()
        } else {
            format!("would close it: {}", closing.join("; "))
        }),
    );
}

/// What makes a child ill unless it is cooked through.
const RAW_ANIMAL: [&str; 5] = ["raw-egg", "raw-fish", "raw-meat", "raw-milk", "raw-shellfish"];

/// What is added to a day, as the search wants it: foods of the larder, and
/// the limits that they may not pass.
pub struct Helpers<'a> {
    additions: Vec<Addition>,
    reference: &'a Reference,
    /// For which the menu is; none where it does not say.
    months: &'a [u8],
}

impl<'a> Helpers<'a> {
    pub fn new(case: &MenuCase<'a>) -> Self {
        let months = case.menu.ast.header.season.as_ref().map_or(&[][..], |season| season.value.as_slice());
        let larder = &case.reference.larder;
        // On a plate stands what is ready; what has no ready row is told by its
        // own. A flour is a porridge first.
        let ready = |row: &FoodRow| larder.named(row.printed("en")).iter().any(|other| other.is_cooked());
        let mut additions = additions(case.reference, &[]);
        additions.retain(|addition| {
            addition.way != Way::Boiled || addition.row.class != FoodClass::Flour && !ready(&addition.row)
        });
        // "Egg yolk, raw" on a menu's back would be read as food for a child.
        additions.retain(|addition| !RAW_ANIMAL.iter().any(|hazard| addition.row.has_hazard(hazard)));
        Self { additions, reference: case.reference, months }
    }

    /// Foods that bring what is missing, least weight first, one of each food
    /// group, at most half of what a stomach holds: those in season, and those
    /// that are not.
    fn closers(&self, id: NutrientId, missing: f64, day: &BandDay, band: &AgeBand) -> (Vec<Closer>, Vec<Closer>) {
        let candidates: Vec<_> =
            self.additions.iter().map(|one| one.candidate(None, self.reference, self.months)).collect();
        let limits = day_limits(self.reference, day, band);
        let most = band.capacity.value / 2.0;
        let needs = [Bound::of_a_day(id, missing)];
        let mut found = closers(&needs, &limits, &candidates, Helping::Grown, most, Order::Weight);
        let menu = self.reference.profile.file.menu.as_ref();
        if let Some(most) = menu.and_then(|menu| menu.helping_most.as_ref()) {
            let bounded = |one: &Found| {
                self.additions.get(one.candidate).is_some_and(|addition| {
                    matches!(addition.row.group, FoodGroup::Flesh | FoodGroup::Eggs)
                        || addition.row.has_hazard("nitrate-leaf")
                })
            };
            found.retain(|one| !bounded(one) || one.grams <= most.value);
        }
        let (now, later) = proposed(found, &self.additions, usize::MAX);
        (self.one_a_group(&now, MOST_CLOSERS), self.one_a_group(&later, 1))
    }

    fn one_a_group(&self, found: &[Found], most: usize) -> Vec<Closer> {
        let mut kept: Vec<Closer> = Vec::new();
        for one in found {
            let Some(addition) = self.additions.get(one.candidate) else { continue };
            if kept.len() < most && !kept.iter().any(|other| other.food.group == addition.row.group) {
                kept.push(Closer { food: Arc::clone(&addition.row), grams: one.grams });
            }
        }
        kept
    }
}
