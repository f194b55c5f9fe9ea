//! Nutrients across a set as one table: one row a dish and age band, one
//! column an INFOODS tagname with its unit.

use super::outputs::Outputs;
use super::sheets::Job;
use crate::check::{Checked, CheckedDish};
use crate::cli::nutrients::guarded;
use crate::graph::{Content, Needs};
use crate::quantity::round_half_even;
use crate::reference::Reference;
use crate::reference::nutrient::NutrientId;

/// Columns before those of the components.
const FIRST: [&str; 7] = ["id", "title", "band_months", "portion_g", "portion_ml", "weight_estimated", "at_least"];

/// Its name in the output folder.
pub const NAME: &str = "nutrients.csv";

/// Writes the table of every dish that has a card.
pub fn write(jobs: &[Job], checked: &[Checked], reference: &Reference, outputs: &mut Outputs) {
    let files = jobs.chunk_by(|one, next| one.file == next.file).filter_map(|jobs| jobs.first());
    let dishes = files.filter_map(|job| checked.get(job.file)?.dish.as_ref());
    let text = csv(dishes, reference);
    let needs = Needs::of("data", Content::of(&text));
    if outputs.wants(NAME, &needs) {
        outputs.put(NAME, &needs, &[(NAME.to_owned(), text.as_bytes())]);
    }
}

/// The table as CSV. An empty cell is not known; the column `at_least` names
/// the components whose figure is a lower bound in that row, because some
/// food's value is not known.
fn csv<'a>(dishes: impl Iterator<Item = &'a CheckedDish>, reference: &Reference) -> String {
    let dishes: Vec<&CheckedDish> = dishes.collect();
    let ids: Vec<NutrientId> =
        NutrientId::all().filter(|id| dishes.iter().any(|dish| dish.computed.nutrition.whole(*id).is_some())).collect();
    let mut writer = csv::Writer::from_writer(Vec::new());
    let heads = ids.iter().map(|id| format!("{} ({})", id.get().tag, id.get().unit));
    let _ = writer.write_record(FIRST.iter().map(|head| (*head).to_owned()).chain(heads));
    for dish in &dishes {
        let sums = &dish.computed.nutrition;
        for portion in &dish.computed.portions {
            let Some(band) = reference.profile.bands().get(portion.band) else { continue };
            let known = |id: &&NutrientId| sums.whole(**id).is_some() && !sums.complete(**id);
            let at_least: Vec<&str> = ids.iter().filter(known).map(|id| id.get().tag).collect();
            let mut row = vec![
                guarded(&dish.id),
                guarded(dish.resolved.title()),
                // `6-8` would become a date.
                format!("{} to {}", band.from_months, band.to_months),
                cell(portion.grams),
                cell(portion.ml),
                if dish.computed.cooked.estimated { "yes" } else { "no" }.to_owned(),
                at_least.join(" "),
            ];
            row.extend(ids.iter().map(|id| cell(portion.grams.and_then(|grams| sums.in_grams(*id, grams)))));
            let _ = writer.write_record(&row);
        }
    }
    writer.into_inner().map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default()
}

fn cell(value: Option<f64>) -> String {
    // More decimals than any table gives.
    value.map(|value| round_half_even(value, 4).to_string()).unwrap_or_default()
}
