//! Molar ratios that say how well a mineral may be taken up. They are
//! indicators over a meal, not amounts: nothing here changes a figure.

use crate::compute::Nutrition;
use crate::reference::nutrient::{self, NutrientId};

/// g/mol. Phytic acid from its formula C6H18O24P6 and vitamin C from C6H8O6;
/// the elements by the IUPAC's standard atomic weights (memory).
const PHYTIC_ACID: f64 = 660.04;
const VITAMIN_C: f64 = 176.12;
const ZINC: f64 = 65.38;
const IRON: f64 = 55.845;
const CALCIUM: f64 = 40.078;

fn molar_mass(id: NutrientId) -> Option<f64> {
    match id {
        nutrient::PHYTCPP => Some(PHYTIC_ACID),
        nutrient::VITC => Some(VITAMIN_C),
        nutrient::ZN => Some(ZINC),
        nutrient::FE => Some(IRON),
        nutrient::CA => Some(CALCIUM),
        _ => None,
    }
}

/// Moles of one component for a mole of another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratio {
    pub value: f64,
    /// The upper component is not known for all of the dish.
    pub at_least: bool,
}

/// The molar ratio of two components, both in mg. `None` where nothing is known
/// of the upper one, or the lower one is not known in full: a quotient over a
/// lower bound says nothing.
pub fn ratio(nutrition: &Nutrition, upper: NutrientId, lower: NutrientId) -> Option<Ratio> {
    let top = nutrition.whole(upper)? / molar_mass(upper)?;
    let bottom = nutrition.whole(lower).filter(|_| nutrition.complete(lower))? / molar_mass(lower)?;
    (bottom > 0.0).then(|| Ratio { value: top / bottom, at_least: !nutrition.complete(upper) })
}
