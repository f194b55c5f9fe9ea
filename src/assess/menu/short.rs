//! `menu/short`: what the day brings less of than the child needs, with foods
//! of the larder that would close the gap.

use std::sync::Arc;

use super::{BandReport, MenuCase, held, need};
use crate::compute::day::BandDay;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::Reference;
use crate::reference::composition;
use crate::reference::larder::{FoodClass, FoodGroup, FoodRow};
use crate::reference::nutrient::{self, NutrientId};
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
pub fn list(case: &MenuCase<'_>, day: &BandDay, band: &AgeBand) -> Vec<Short> {
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
            (have < need).then(|| Short {
                tag: nutrient.tag.clone(),
                unit: id.get().unit,
                have,
                need,
                complete,
                closers: closers(id, need - have, band, case.reference),
            })
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

/// Foods of the larder of which the least weight brings so much, one of each
/// food group, no more than a meal holds, no more retinol than a day allows.
pub fn closers(id: NutrientId, missing: f64, band: &AgeBand, reference: &Reference) -> Vec<Closer> {
    let retinol = reference.profile.upper_limit(nutrient::RETOL, band.from_months).map(|limit| limit.value);
    let mut found: Vec<Closer> = reference
        .larder
        .rows()
        .iter()
        .filter(|row| fit(row, band))
        .filter_map(|row| {
            let per_100g = value(row, id, reference).filter(|value| *value > 0.0)?;
            let grams = missing / per_100g * 100.0;
            let harm = value(row, nutrient::RETOL, reference).unwrap_or(0.0) * grams / 100.0;
            let room = grams <= band.capacity.value / 2.0 && retinol.is_none_or(|limit| harm <= limit / 2.0);
            room.then(|| Closer { food: Arc::clone(row), grams })
        })
        .collect();
    found.sort_by(|a, b| a.grams.total_cmp(&b.grams).then_with(|| a.food.id.cmp(&b.food.id)));
    let mut kept: Vec<Closer> = Vec::new();
    for closer in found {
        if !kept.iter().any(|other| other.food.group == closer.food.group) {
            kept.push(closer);
        }
        if kept.len() == MOST_CLOSERS {
            break;
        }
    }
    kept
}

fn value(row: &FoodRow, id: NutrientId, reference: &Reference) -> Option<f64> {
    match row.row.split_once(':')? {
        ("usda", number) => composition::row(number.parse().ok()?)?.value(id),
        (stem, own) => {
            let table = reference.table(stem)?;
            let found = table.rows.iter().find(|row| row.id == own)?;
            found.values.get(id.index()).copied().flatten()
        }
    }
}

/// What a child of the band may have, and what is a food and no seasoning.
fn fit(row: &FoodRow, band: &AgeBand) -> bool {
    // A maker's mix is no advice either: what is in it differs by maker, and
    // what it is fortified with.
    const NEVER: [&str; 10] = [
        "alcohol",
        "tea-coffee",
        "sweet-drink",
        "sugar",
        "salt",
        "salty",
        "mercury-high",
        "bitter-cassava",
        "rice-drink",
        "hidden-allergens",
    ];
    let young = band.from_months < 12;
    let seasoning = matches!(
        row.class,
        FoodClass::Spice | FoodClass::Salt | FoodClass::Sugar | FoodClass::Water | FoodClass::BreastMilk
    );
    let group = row.group != FoodGroup::None || row.class == FoodClass::Oil;
    group
        && !seasoning
        && !NEVER.iter().any(|tag| row.has_hazard(tag))
        && !(young && (row.has_hazard("honey") || row.has_hazard("milk-drink")))
}
