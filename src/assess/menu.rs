//! Rules over a menu's day, and what the day lacks. Rules read sums, food
//! tags, times and the profile, never prose.

mod animal;
mod diversity;
mod energy;
mod leafy;
mod limits;
mod meals;
mod short;
mod single_food;
mod tea_with_meal;

pub use limits::Limit;
pub use short::{Closer, Short};

use crate::compute::day::{BandDay, Choose, Day, day};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::Reference;
use crate::reference::larder::FoodGroup;
use crate::reference::nutrient::NutrientId;
use crate::reference::profile::data::{AgeBand, Aim, Intake, Nutrient};
use crate::resolve::menu::Menu;
use crate::source::Span;

/// What a rule may look at.
pub struct MenuCase<'a> {
    pub menu: &'a Menu,
    pub day: &'a Day,
    pub reference: &'a Reference,
}

/// What a printed menu needs beyond sums, one for each of its bands.
#[derive(Debug, Clone, Default)]
pub struct MenuReport {
    pub bands: Vec<BandReport>,
}

/// The day at one age, against what the profile asks.
#[derive(Debug, Clone, Default)]
pub struct BandReport {
    /// Food groups that count.
    pub groups: Vec<FoodGroup>,
    /// Nutrients of which the day brings less than the need, least first.
    pub short: Vec<Short>,
    pub limits: Vec<Limit>,
}

impl MenuCase<'_> {
    /// The menu's bands with their sums.
    fn bands(&self) -> impl Iterator<Item = (&BandDay, &AgeBand)> {
        let bands = self.reference.profile.bands();
        self.day.bands.iter().filter_map(|day| bands.get(day.band).map(|band| (day, band)))
    }

    fn title_span(&self) -> Span {
        self.menu.ast.header.title.as_ref().map(|title| title.span).unwrap_or_default()
    }

    /// Sums are only worth judging when every item is counted.
    fn sums_known(&self) -> bool {
        !self.menu.meals.is_empty() && self.menu.whole()
    }

    /// Meals are only worth counting when every line could be read.
    fn meals_known(&self) -> bool {
        !self.menu.meals.is_empty() && self.menu.ast.header.torn.is_empty()
    }
}

/// Least grams of a food group that counts; any amount where the profile does
/// not say.
pub fn group_least(reference: &Reference) -> f64 {
    reference.profile.file.menu.as_ref().and_then(|menu| menu.group_least.as_ref()).map_or(0.0, |least| least.value)
}

/// A nutrient's need at a band with the row it comes from.
pub fn need<'a>(reference: &'a Reference, nutrient: &Nutrient, band: &AgeBand) -> Option<(f64, &'a Intake)> {
    let intake = reference.profile.intake(&nutrient.tag, &band.key)?;
    intake.value.filter(|value| *value > 0.0).map(|value| (value, intake))
}

/// What is held against a need or a limit: for a limit nothing is taken off
/// for heat.
pub fn held(day: &BandDay, nutrient: &Nutrient) -> Option<(f64, bool)> {
    let id = NutrientId::from_tag(&nutrient.tag)?;
    let sum = day.sum(id);
    let value = if nutrient.aim == Aim::AtMost { sum.most + sum.milk } else { sum.total() };
    (sum.known || sum.milk > 0.0).then_some((value, sum.complete))
}

/// Assesses a menu, every alternative on its lines included.
pub fn assess(case: &MenuCase<'_>, sink: &mut Sink) -> MenuReport {
    meals::once(case, sink);
    single_food::check(case, sink);
    tea_with_meal::check(case, sink);
    let first = judge(case);
    for message in &first {
        sink.push(message.clone());
    }
    // Each alternative is a whole day to compute; no day has so many items, and
    // no sheet holds them.
    const MOST_ITEMS: usize = 200;
    let items = case.menu.items().count();
    if items > MOST_ITEMS {
        sink.push(
            Diagnostic::new(
                Code::SyntaxTooLarge,
                case.title_span(),
                format!("this menu has {items} items; no day has more than {MOST_ITEMS}"),
            )
            .help("write one day in a file; alternatives are not judged in so long a menu"),
        );
    }
    for (place, (_, _, item)) in case.menu.items().enumerate().filter(|_| items <= MOST_ITEMS) {
        for (option, choice) in item.options.iter().enumerate().skip(1) {
            let other = day(case.menu, case.reference, &Choose::with(place, option));
            let other = MenuCase { menu: case.menu, day: &other, reference: case.reference };
            for message in judge(&other) {
                // What is wrong with the first foods too has been said.
                if !first.iter().any(|known| known.code == message.code) {
                    sink.push(message.label(choice.option.span, format!("with {} instead", choice.called())));
                }
            }
        }
    }
    report(case, sink)
}

/// The rules that hold for the foods as they are chosen.
fn judge(case: &MenuCase<'_>) -> Vec<Diagnostic> {
    let mut sink = Sink::new();
    meals::check(case, &mut sink);
    if case.sums_known() {
        energy::check(case, &mut sink);
        diversity::check(case, &mut sink);
        animal::check(case, &mut sink);
        limits::check(case, &mut sink);
    }
    leafy::check(case, &mut sink);
    sink.finish()
}

fn report(case: &MenuCase<'_>, sink: &mut Sink) -> MenuReport {
    let least = group_least(case.reference);
    let helpers = short::Helpers::new(case);
    let bands: Vec<BandReport> = case
        .bands()
        .map(|(day, band)| BandReport {
            groups: day.groups_of(least),
            short: short::list(case, day, band, &helpers),
            limits: limits::list(case, day, band),
        })
        .collect();
    if case.sums_known() {
        for ((_, band), report) in case.bands().zip(&bands) {
            short::note(case, band, report, sink);
        }
    }
    if case.menu.assumed {
        let ages = case.menu.ast.header.ages.as_ref().map(|ages| ages.span);
        let mut message = Diagnostic::new(
            Code::MenuBreastfeedingAssumed,
            ages.unwrap_or(case.title_span()),
            "the day is counted for a breastfed child: the menu does not say",
        )
        .help("write it after the ages: `for 12 to 23 months, breastfed` or `…, not breastfed`");
        if let Some(ages) = ages {
            let end = Span::new(ages.end, ages.end);
            message = message.choice(end, ", breastfed").choice(end, ", not breastfed");
        }
        sink.push(message);
    }
    MenuReport { bands }
}
