//! Units of a source to ours. Only what is exact or agreed is converted; the
//! rest is refused, because a guessed factor is a wrong figure.

use crate::reference::nutrient::{self, NutrientId};

/// A unit as tables write it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// A mass, as a power of ten of a gram.
    Mass(i32),
    Kilocalorie,
    Kilojoule,
    /// International units, of whatever the component is.
    International,
}

impl Unit {
    /// Reads a unit: `mg`, `µg`, `mcg`, `KCAL`, `I.U.`.
    pub fn from_word(word: &str) -> Option<Self> {
        let plain: String = word
            .chars()
            .filter(|c| !c.is_whitespace() && *c != '.')
            .map(|c| if c == 'μ' || c == 'µ' { 'u' } else { c.to_ascii_lowercase() })
            .collect();
        match plain.as_str() {
            "g" | "gram" | "grams" | "grammes" | "gm" => Some(Self::Mass(0)),
            "mg" => Some(Self::Mass(-3)),
            "ug" | "mcg" => Some(Self::Mass(-6)),
            "ng" => Some(Self::Mass(-9)),
            "kcal" => Some(Self::Kilocalorie),
            "kj" => Some(Self::Kilojoule),
            "iu" | "ui" => Some(Self::International),
            _ => None,
        }
    }

    pub fn word(self) -> &'static str {
        match self {
            Self::Mass(0) => "g",
            Self::Mass(-3) => "mg",
            Self::Mass(-6) => "µg",
            Self::Mass(-9) => "ng",
            Self::Mass(_) => "a mass",
            Self::Kilocalorie => "kcal",
            Self::Kilojoule => "kJ",
            Self::International => "IU",
        }
    }
}

/// How a source's figure becomes one of ours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factor {
    pub factor: f64,
    /// Where a factor comes from that is no power of ten.
    pub reason: &'static str,
}

/// IOM 1998, Dietary Reference Intakes for calcium, …, checked-official.
const VITAMIN_D: &str = "1 µg vitamin D = 40 IU (IOM 1998, checked-official)";
/// IOM, as copied; checked-secondary. Preformed vitamin A only.
const RETINOL: &str = "1 IU = 0.3 µg retinol (IOM, checked-secondary)";
/// Thermochemical calorie; memory.
const CALORIE: &str = "1 kcal = 4.184 kJ (thermochemical calorie, memory)";

/// The factor from a unit to the component's own.
///
/// # Errors
/// Why there is none, as a help.
pub fn factor(id: NutrientId, from: Unit) -> Result<Factor, String> {
    let own = Unit::from_word(id.get().unit);
    if own == Some(from) {
        return Ok(Factor { factor: 1.0, reason: "" });
    }
    let agreed = |factor, reason| Ok(Factor { factor, reason });
    match (own, from) {
        (Some(Unit::Mass(to)), Unit::Mass(from)) => {
            let power = (0..(from - to).abs()).fold(1.0, |power, _| power * 10.0);
            Ok(Factor { factor: if from >= to { power } else { 1.0 / power }, reason: "" })
        }
        (Some(Unit::Kilocalorie), Unit::Kilojoule) => agreed(1.0 / 4.184, CALORIE),
        (Some(Unit::Kilojoule), Unit::Kilocalorie) => agreed(4.184, CALORIE),
        (_, Unit::International) if id == nutrient::VITD => agreed(1.0 / 40.0, VITAMIN_D),
        (_, Unit::Mass(-6)) if id == nutrient::VITD_IU => agreed(40.0, VITAMIN_D),
        (_, Unit::International) if id == nutrient::RETOL => agreed(0.3, RETINOL),
        (_, Unit::International) if matches!(id, nutrient::VITA_RAE | nutrient::VITA) => {
            Err("IU of vitamin A mix retinol and carotenes: map the column to VITA_IU".to_owned())
        }
        (_, Unit::International) if matches!(id, nutrient::VITE | nutrient::TOCPHA) => {
            Err("IU of vitamin E are not the same for its natural and its made form".to_owned())
        }
        _ => Err(format!("{} is given in {}; correct the unit or the tag", id.get().tag, id.get().unit)),
    }
}

/// Multiplies without the dust of binary fractions: fifteen digits are kept,
/// as many as a spreadsheet has.
pub fn times(value: f64, factor: f64) -> f64 {
    tidy(value * factor)
}

pub fn tidy(value: f64) -> f64 {
    format!("{value:.14e}").parse().unwrap_or(value)
}

/// The most that 100 g of food can hold, in the component's unit, with room
/// for what a method overstates (sugar as monosaccharides: 105 g). Fat holds
/// 9.02 kcal a gram at most (USDA's factor for oils).
pub fn most(id: NutrientId) -> f64 {
    match Unit::from_word(id.get().unit) {
        Some(Unit::Mass(power)) => (0..-power).fold(110.0, |most, _| most * 10.0),
        Some(Unit::Kilocalorie) => 950.0,
        Some(Unit::Kilojoule) => 3_950.0,
        _ => 1e9,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::reference::nutrient::*;

    #[test]
    fn what_is_exact_is_converted() {
        let of = |id, word: &str| factor(id, Unit::from_word(word).unwrap()).map(|found| found.factor);
        assert_eq!(of(CA, "g"), Ok(1000.0));
        assert_eq!(times(0.1, of(CA, "g").unwrap()), 100.0);
        assert_eq!(of(FE, "mcg"), Ok(0.001));
        assert_eq!(of(SE, "μg"), Ok(1.0));
        assert_eq!(of(SE, "µg"), Ok(1.0));
        assert_eq!(of(TRP, "G"), Ok(1000.0));
        assert_eq!(times(400.0, of(VITD, "IU").unwrap()), 10.0);
        assert_eq!(times(10.0, of(VITD_IU, "ug").unwrap()), 400.0);
        // SR28: whole milk powder 1,000 kcal would be 4,184 kJ.
        assert_eq!(times(4184.0, of(ENERC_KCAL, "kJ").unwrap()), 1000.0);
    }

    #[test]
    fn what_is_not_is_refused() {
        for (id, word) in [(VITA_RAE, "IU"), (TOCPHA, "IU"), (FE, "IU"), (FE, "kcal"), (ENERC_KCAL, "mg")] {
            assert!(factor(id, Unit::from_word(word).unwrap()).is_err(), "{} in {word}", id.get().tag);
        }
        assert_eq!(Unit::from_word("mmol"), None);
    }

    /// No food of the embedded table holds more than the most.
    #[test]
    fn the_most_holds_for_every_embedded_food() {
        for row in crate::reference::composition::all() {
            for id in NutrientId::all() {
                assert!(row.value(id).unwrap_or(0.0) <= most(id), "{} of {}", id.get().tag, row.name());
            }
        }
    }
}
