//! Limits over the day: `safety/retinol-over-limit` for preformed vitamin A,
//! `safety/salt-over-day`, and the note `menu/over-limit` for the other upper
//! levels. Breast milk counts towards a limit of all food, and not towards
//! one of animal, fortified and supplemented food.

use super::{MenuCase, held, need};
use crate::compute::day::{BandDay, Line, figure};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::quantity::round_half_even;
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::{AgeBand, Aim, Scope};
use crate::source::Span;

/// Grams of salt that hold a milligram of sodium (EU 1169/2011, annex I).
const SALT_PER_SODIUM: f64 = 0.0025;

/// A limit with what the day brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// INFOODS tagname.
    pub tag: String,
    pub unit: String,
    pub value: f64,
    pub most: f64,
    /// Breast milk is counted in it.
    pub with_milk: bool,
    /// Every item's value is known; a limit may not rest on less.
    pub complete: bool,
    pub source: String,
}

/// Every upper limit that counts what is in ordinary food.
pub fn list(case: &MenuCase<'_>, day: &BandDay, band: &AgeBand) -> Vec<Limit> {
    case.reference
        .profile
        .file
        .upper_limit
        .iter()
        .filter(|limit| (limit.from_months..=limit.to_months).contains(&band.from_months))
        .filter(|limit| matches!(limit.scope, Scope::All | Scope::PreformedRetinol))
        .filter_map(|limit| {
            let id = NutrientId::from_tag(&limit.tag)?;
            let sum = day.sum(id);
            let with_milk = limit.scope == Scope::All;
            (sum.known && limit.unit == id.get().unit).then(|| Limit {
                tag: limit.tag.clone(),
                unit: limit.unit.clone(),
                value: limit.value,
                most: sum.most + if with_milk { sum.milk } else { 0.0 },
                with_milk,
                complete: sum.complete,
                source: limit.source.clone(),
            })
        })
        .collect()
}

pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    let mut said: Vec<String> = Vec::new();
    for (at, (day, band)) in case.bands().enumerate() {
        // The most of a day that an authority names, such as of salt.
        for row in case.reference.profile.file.nutrient.iter().filter(|row| row.aim == Aim::AtMost) {
            let Some(((value, complete), (most, _))) = held(day, row).zip(need(case.reference, row, band)) else {
                continue;
            };
            let Some(id) = NutrientId::from_tag(&row.tag) else { continue };
            if complete && value > most && !said.contains(&row.tag) {
                said.push(row.tag.clone());
                sink.push(if id == nutrient::NA {
                    salt(case, at, &band.key, value, most)
                } else {
                    over(case, at, id, (&row.en, &band.key), value, most)
                });
            }
        }
        for limit in list(case, day, band).into_iter().filter(|limit| limit.most > limit.value) {
            let Some(id) = NutrientId::from_tag(&limit.tag).filter(|_| !said.contains(&limit.tag)) else { continue };
            said.push(limit.tag.clone());
            if id == nutrient::RETOL {
                sink.push(
                    Diagnostic::new(
                        Code::SafetyRetinolOverLimit,
                        worst(case, at, id),
                        format!(
                            "the day at {} months has {:.0} µg retinol; the limit is {:.0}",
                            band.key, limit.most, limit.value
                        ),
                    )
                    .help("give liver at one meal of the day, not more than once a week, and less of it"),
                );
                continue;
            }
            let name = case.reference.profile.nutrient(&limit.tag).map_or(limit.tag.as_str(), |row| row.en.as_str());
            sink.push(over(case, at, id, (name, &band.key), limit.most, limit.value));
        }
    }
}

fn salt(case: &MenuCase<'_>, at: usize, band: &str, sodium: f64, most: f64) -> Diagnostic {
    let grams = |sodium: f64| round_half_even(sodium * SALT_PER_SODIUM, 2);
    Diagnostic::new(
        Code::SafetySaltOverDay,
        worst(case, at, nutrient::NA),
        format!("the day at {band} months has {} g salt; the limit is {} g", grams(sodium), grams(most)),
    )
    .help("this item brings most of it: give less of it, or something without salt in its place")
}

/// Upper levels of children were scaled down from adults, and lie near what
/// ordinary food brings: worth knowing, no fault.
fn over(
    case: &MenuCase<'_>,
    at: usize,
    id: NutrientId,
    (name, band): (&str, &str),
    value: f64,
    most: f64,
) -> Diagnostic {
    let show = |value: f64| round_half_even(value, if value < 10.0 { 2 } else { 0 });
    let unit = id.get().unit;
    Diagnostic::new(
        Code::MenuOverLimit,
        worst(case, at, id),
        format!("the day at {band} months has {} {unit} {name}; the most is {} {unit}", show(value), show(most)),
    )
    .help("this item brings most of it: give less of it, or something else in its place")
}

/// The item that brings most of a component.
fn worst(case: &MenuCase<'_>, at: usize, id: NutrientId) -> Span {
    let item = |line: &Line| case.menu.meals.get(line.meal).and_then(|meal| meal.items.get(line.item));
    let brings = |line: &Line| {
        item(line)
            .and_then(|item| item.options.get(line.option))
            .and_then(|choice| figure(choice, id).most)
            .map_or(0.0, |value| value * line.grams / 100.0)
    };
    case.day
        .bands
        .get(at)
        .and_then(|day| day.lines.iter().max_by(|a, b| brings(a).total_cmp(&brings(b))))
        .and_then(item)
        .map_or(case.title_span(), |item| item.span)
}
