//! Nutrients across a set as one table: one row a dish and age band, one
//! column an INFOODS tagname with its unit.

use std::collections::{BTreeMap, BTreeSet};

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

/// The table while dishes are added to it. An empty cell is not known; the
/// column `at_least` names the components whose figure is a lower bound in that
/// row, because some food's value is not known.
#[derive(Debug, Default)]
pub struct Table {
    rows: Vec<Row>,
    /// Components that are known of some dish.
    columns: BTreeSet<NutrientId>,
}

#[derive(Debug)]
struct Row {
    first: [String; FIRST.len()],
    figures: BTreeMap<NutrientId, f64>,
}

impl Table {
    /// Adds every dish that has a card.
    pub fn add(&mut self, jobs: &[Job], checked: &[Checked], reference: &Reference) {
        let files = jobs.chunk_by(|one, next| one.file == next.file).filter_map(|jobs| jobs.first());
        for dish in files.filter_map(|job| checked.get(job.file)?.dish.as_ref()) {
            self.dish(dish, reference);
        }
    }

    fn dish(&mut self, dish: &CheckedDish, reference: &Reference) {
        let sums = &dish.computed.nutrition;
        let known: Vec<NutrientId> = NutrientId::all().filter(|id| sums.whole(*id).is_some()).collect();
        self.columns.extend(&known);
        for portion in &dish.computed.portions {
            let Some(band) = reference.profile.bands().get(portion.band) else { continue };
            let at_least: Vec<&str> = known.iter().filter(|id| !sums.complete(**id)).map(|id| id.get().tag).collect();
            let first = [
                guarded(&dish.id),
                guarded(dish.resolved.title()),
                // `6-8` would become a date.
                format!("{} to {}", band.from_months, band.to_months),
                cell(portion.grams),
                cell(portion.ml),
                if dish.computed.cooked.estimated { "yes" } else { "no" }.to_owned(),
                at_least.join(" "),
            ];
            let figure = |id: &NutrientId| Some((*id, portion.grams.and_then(|grams| sums.in_grams(*id, grams))?));
            self.rows.push(Row { first, figures: known.iter().filter_map(figure).collect() });
        }
    }

    /// Writes it.
    pub fn write(self, outputs: &mut Outputs) {
        let text = self.csv();
        let needs = Needs::of("data", Content::of(&text));
        if outputs.wants(NAME, &needs) {
            outputs.put(NAME, &needs, &[(NAME.to_owned(), text.as_bytes())]);
        }
    }

    fn csv(self) -> String {
        let mut writer = csv::Writer::from_writer(Vec::new());
        let heads = self.columns.iter().map(|id| format!("{} ({})", id.get().tag, id.get().unit));
        let _ = writer.write_record(FIRST.iter().map(|head| (*head).to_owned()).chain(heads));
        for Row { first, figures } in self.rows {
            let cells = self.columns.iter().map(|id| cell(figures.get(id).copied()));
            let _ = writer.write_record(first.into_iter().chain(cells));
        }
        writer.into_inner().map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default()
    }
}

fn cell(value: Option<f64>) -> String {
    // More decimals than any table gives.
    value.map(|value| round_half_even(value, 4).to_string()).unwrap_or_default()
}
