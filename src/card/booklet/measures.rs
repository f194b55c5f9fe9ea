//! How to measure: spoons and cups at their true size, from their volumes.

use schemars::JsonSchema;
use serde::Serialize;

use super::Binder;
use crate::reference::measure::{HEAPED, HouseholdMeasure, volume};

/// How to measure without a scale.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Measures {
    pub title: String,
    /// How a level measure is taken.
    pub how: Vec<String>,
    /// A line of known length: the page was printed at its true size if it has
    /// that length.
    pub check: Length,
    pub spoons: Vec<Spoon>,
    pub cup: Option<CupShape>,
    /// What is not a level spoon.
    pub more: Vec<String>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Length {
    pub mm: f64,
    pub text: String,
    pub alt: String,
}

/// A round spoon as deep as half its width: half a ball.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Spoon {
    pub label: String,
    pub width_mm: f64,
    pub depth_mm: f64,
    pub text: String,
    pub alt: String,
}

/// A cup with straight walls.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CupShape {
    pub label: String,
    pub width_mm: f64,
    pub height_mm: f64,
    pub marks: Vec<CupMark>,
    pub text: String,
    /// What to do with a cup of another shape.
    pub own: String,
    pub alt: String,
}

/// How high a part of the cup stands.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CupMark {
    pub share: f64,
    pub text: String,
}

/// Width of the cup that is drawn, in mm: that of a common cup, and narrow
/// enough for the smallest paper. Common practice, no source.
const CUP_WIDTH: f64 = 75.0;

/// Width in mm of half a ball that holds so many mL.
pub fn spoon_width(ml: f64) -> f64 {
    // Half a ball of radius r holds 2/3 pi r^3.
    2.0 * (1000.0 * ml * 3.0 / (2.0 * std::f64::consts::PI)).cbrt()
}

/// Height in mm at which a straight cup of a width holds so many mL.
pub fn cup_height(ml: f64, width: f64) -> f64 {
    1000.0 * ml / (std::f64::consts::PI * (width / 2.0).powi(2))
}

impl Binder<'_> {
    fn ml(&self, measure: HouseholdMeasure) -> Option<f64> {
        volume(self.reference.standard, measure).map(|volume| volume.ml.0 as f64 / volume.ml.1 as f64)
    }

    fn in_ml(&self, ml: f64) -> String {
        self.locale.tied("millilitres", self.locale.decimal(ml, if ml < 10.0 { 1 } else { 0 }))
    }

    pub(super) fn measures(&self) -> Measures {
        let locale = self.locale;
        // The line has to fit across the paper.
        let long = if self.imprint.paper == "A6" { 80.0 } else { 100.0 };
        let cm = locale.decimal(long / 10.0, 0);
        let spoons = [(HouseholdMeasure::Tablespoon, "unit-tbsp"), (HouseholdMeasure::Teaspoon, "unit-tsp")]
            .into_iter()
            .filter_map(|(measure, unit)| {
                let ml = self.ml(measure)?;
                let width = spoon_width(ml);
                let label = self.equals(unit, ml);
                Some(Spoon {
                    width_mm: width,
                    depth_mm: width / 2.0,
                    text: locale.with("booklet-spoon", &[("width", locale.decimal(width, 0))]),
                    alt: locale.with(
                        "booklet-spoon-alt",
                        &[
                            ("label", label.clone()),
                            ("width", locale.decimal(width, 0)),
                            ("depth", locale.decimal(width / 2.0, 0)),
                        ],
                    ),
                    label,
                })
            })
            .collect();
        let cup = self.ml(HouseholdMeasure::Cup).map(|ml| {
            let height = cup_height(ml, CUP_WIDTH);
            let label = self.equals("unit-cup", ml);
            let size = [("width", locale.decimal(CUP_WIDTH, 0)), ("height", locale.decimal(height, 0))];
            let [width, high] = size.clone();
            CupShape {
                width_mm: CUP_WIDTH,
                height_mm: height,
                marks: [(0.25, "¼"), (1.0 / 3.0, "⅓"), (0.5, "½"), (2.0 / 3.0, "⅔"), (0.75, "¾"), (1.0, "1")]
                    .into_iter()
                    .map(|(share, sign)| CupMark {
                        share,
                        text: locale
                            .with("booklet-cup-mark", &[("part", sign.to_owned()), ("ml", self.in_ml(ml * share))]),
                    })
                    .collect(),
                text: locale.with("booklet-cup", &size),
                own: locale.with(
                    "booklet-own-cup",
                    &[("ml", self.in_ml(ml)), ("grams", locale.tied("grams", locale.decimal(ml, 0)))],
                ),
                alt: locale.with("booklet-cup-alt", &[("label", label.clone()), width, high]),
                label,
            }
        });
        let mut more = Vec::new();
        more.push(locale.with("booklet-heaped", &[("n", locale.decimal(HEAPED.0 as f64 / HEAPED.1 as f64, 1))]));
        if let Some((pinch, spoon)) = self.ml(HouseholdMeasure::Pinch).zip(self.ml(HouseholdMeasure::Teaspoon)) {
            more.push(locale.with("booklet-pinch", &[("n", locale.decimal(spoon / pinch, 0))]));
        }
        if let Some((large, small)) = self.ml(HouseholdMeasure::Tablespoon).zip(self.ml(HouseholdMeasure::Teaspoon)) {
            more.push(locale.with("booklet-spoons-in-spoon", &[("n", locale.decimal(large / small, 1))]));
        }
        Measures {
            title: locale.word("booklet-measures"),
            how: vec![locale.word("booklet-level"), locale.word("booklet-true-size")],
            check: Length {
                mm: long,
                text: locale.with("booklet-check", &[("cm", cm.clone())]),
                alt: locale.with("booklet-check-alt", &[("cm", cm)]),
            },
            spoons,
            cup,
            more,
        }
    }

    /// `1 tablespoon = 15 mL`
    fn equals(&self, unit: &str, ml: f64) -> String {
        let name = self.locale.counted(unit, 1.0, &[]);
        let one = self.locale.with("amount", &[("number", self.locale.integer(1)), ("unit", name)]);
        format!("{} = {}", one.replace(' ', "\u{A0}"), self.in_ml(ml))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The volume of half a ball and of a cylinder, worked the other way.
    #[test]
    fn what_is_drawn_holds_what_it_says() {
        for ml in [5.0, 15.0, 20.0] {
            let radius = spoon_width(ml) / 2.0;
            let held = 2.0 / 3.0 * std::f64::consts::PI * radius.powi(3) / 1000.0;
            assert!((held - ml).abs() < 1e-9);
        }
        let held = std::f64::consts::PI * 37.5 * 37.5 * cup_height(250.0, 75.0) / 1000.0;
        assert!((held - 250.0).abs() < 1e-9);
    }
}
