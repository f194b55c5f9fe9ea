//! Volumes of household measures by the standard that names them, as exact
//! fractions of a millilitre. A spoon or cup is a level one.

/// A standard of household measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standard {
    /// 250/15/5 mL, as used in Canada and New Zealand. The default.
    Metric,
    /// Fractions of the 231 cubic inch gallon.
    UsCustomary,
    /// What United States food labels mean; the NIST kitchen card agrees.
    UsLabel,
    /// 250/20/5 mL: the tablespoon differs.
    Australian,
    UkMetric,
    /// Fractions of the imperial pint.
    UkImperial,
}

impl Standard {
    pub const DEFAULT: Standard = Standard::Metric;
    pub const ALL: &'static [Standard] = &[
        Standard::Metric,
        Standard::UsCustomary,
        Standard::UsLabel,
        Standard::Australian,
        Standard::UkMetric,
        Standard::UkImperial,
    ];

    /// The word an author or a profile writes.
    pub fn word(self) -> &'static str {
        match self {
            Standard::Metric => "metric",
            Standard::UsCustomary => "us-customary",
            Standard::UsLabel => "us-label",
            Standard::Australian => "australian",
            Standard::UkMetric => "uk-metric",
            Standard::UkImperial => "uk-imperial",
        }
    }

    /// The standard of a word.
    pub fn from_word(word: &str) -> Option<Standard> {
        Standard::ALL.iter().copied().find(|standard| standard.word() == word)
    }
}

/// A household measure of volume.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HouseholdMeasure {
    Cup,
    Tablespoon,
    Teaspoon,
    FluidOunce,
    /// 1/8 teaspoon.
    Dash,
    /// 1/16 teaspoon.
    Pinch,
    /// 1/32 teaspoon.
    Smidgen,
}

impl HouseholdMeasure {
    pub const ALL: &'static [HouseholdMeasure] = &[
        HouseholdMeasure::Cup,
        HouseholdMeasure::Tablespoon,
        HouseholdMeasure::Teaspoon,
        HouseholdMeasure::FluidOunce,
        HouseholdMeasure::Dash,
        HouseholdMeasure::Pinch,
        HouseholdMeasure::Smidgen,
    ];

    /// The word used in data output.
    pub fn word(self) -> &'static str {
        match self {
            HouseholdMeasure::Cup => "cup",
            HouseholdMeasure::Tablespoon => "tbsp",
            HouseholdMeasure::Teaspoon => "tsp",
            HouseholdMeasure::FluidOunce => "fl-oz",
            HouseholdMeasure::Dash => "dash",
            HouseholdMeasure::Pinch => "pinch",
            HouseholdMeasure::Smidgen => "smidgen",
        }
    }
}

/// An exact volume and how far it was checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Volume {
    /// Millilitres, as numerator and denominator in lowest terms.
    pub ml: (i64, i64),
    pub source: &'static str,
    /// `checked-official`, `checked-secondary`, `computed` or `memory`.
    pub status: &'static str,
}

/// A heaped spoon or cup holds this many level ones, as numerator and
/// denominator. Common practice, no source: what a heap holds depends on the
/// food and the hand.
pub const HEAPED: (i64, i64) = (3, 2);

/// The status of [`HEAPED`].
pub const HEAPED_STATUS: &str = "common practice, no source";

/// Grams of an ounce by weight on a United States label (21 CFR
/// 101.9(b)(5)(viii)); checked-official.
pub const OUNCE_LABEL_G: (i64, i64) = (28, 1);

/// Grams of an avoirdupois ounce, 28.349523125; checked-secondary.
pub const OUNCE_G: (i64, i64) = (45_359_237, 1_600_000);

const METRIC: &str = "Canada / NZ / metric (liquisearch.com, cooking measures)";
const AUSTRALIAN: &str = "Australia (liquisearch.com, cooking measures)";
const US_LABEL: &str = "US labelling, 21 CFR 101.9(b)(5)(viii) (ucum.org, ticket 120)";
const US_GALLON: &str = "US customary, exact from the 231 in3 gallon";
const UK_METRIC: &str = "UK metric, no readable source found";
const IMPERIAL_OUNCE: &str = "UK imperial fluid ounce, 28.4130625 mL (liquisearch.com)";
const IMPERIAL_SPOON: &str = "UK imperial, 5/8 fl oz and a third of it";
const IMPERIAL_CUP: &str = "half an imperial pint, 10 fl oz";

/// The volume of a level measure; `None` where the standard does not name it.
/// Dash, pinch and smidgen are a convention about the teaspoon and stand in no
/// standard, so each standard has its own.
pub fn volume(standard: Standard, measure: HouseholdMeasure) -> Option<Volume> {
    use HouseholdMeasure as M;
    use Standard as S;
    let (numerator, denominator, source, status) = match (standard, measure) {
        (S::Metric, M::Cup) => (250, 1, METRIC, "checked-secondary"),
        (S::Metric, M::Tablespoon) => (15, 1, METRIC, "checked-secondary"),
        (S::Metric, M::Teaspoon) => (5, 1, METRIC, "checked-secondary"),
        (S::UsCustomary, M::Cup) => (473_176_473, 2_000_000, US_GALLON, "checked-secondary"),
        (S::UsCustomary, M::Tablespoon) => (473_176_473, 32_000_000, US_GALLON, "checked-secondary"),
        (S::UsCustomary, M::Teaspoon) => (157_725_491, 32_000_000, US_GALLON, "checked-secondary"),
        (S::UsCustomary, M::FluidOunce) => (473_176_473, 16_000_000, US_GALLON, "checked-secondary"),
        (S::UsLabel, M::Cup) => (240, 1, US_LABEL, "checked-official"),
        (S::UsLabel, M::Tablespoon) => (15, 1, US_LABEL, "checked-official"),
        (S::UsLabel, M::Teaspoon) => (5, 1, US_LABEL, "checked-official"),
        (S::UsLabel, M::FluidOunce) => (30, 1, US_LABEL, "checked-official"),
        (S::Australian, M::Cup) => (250, 1, AUSTRALIAN, "checked-secondary"),
        (S::Australian, M::Tablespoon) => (20, 1, AUSTRALIAN, "checked-secondary"),
        (S::Australian, M::Teaspoon) => (5, 1, AUSTRALIAN, "checked-secondary"),
        (S::UkMetric, M::Cup) => (250, 1, UK_METRIC, "memory"),
        (S::UkMetric, M::Tablespoon) => (15, 1, UK_METRIC, "memory"),
        (S::UkMetric, M::Teaspoon) => (5, 1, UK_METRIC, "memory"),
        (S::UkImperial, M::Cup) => (454_609, 1600, IMPERIAL_CUP, "computed"),
        // Another convention makes it 1/2 fl oz, 14.21 mL.
        (S::UkImperial, M::Tablespoon) => (454_609, 25_600, IMPERIAL_SPOON, "checked-secondary"),
        (S::UkImperial, M::Teaspoon) => (454_609, 76_800, IMPERIAL_SPOON, "checked-secondary"),
        (S::UkImperial, M::FluidOunce) => (454_609, 16_000, IMPERIAL_OUNCE, "checked-secondary"),
        (S::Metric | S::Australian | S::UkMetric, M::FluidOunce) => return None,
        (_, M::Dash) => return part(standard, 8),
        (_, M::Pinch) => return part(standard, 16),
        (_, M::Smidgen) => return part(standard, 32),
    };
    Some(Volume { ml: (numerator, denominator), source, status })
}

/// A conventional fraction of the standard's teaspoon.
fn part(standard: Standard, parts: i64) -> Option<Volume> {
    let (numerator, denominator) = volume(standard, HouseholdMeasure::Teaspoon)?.ml;
    // Every teaspoon's numerator is odd and every count of parts a power of
    // two, so the fraction stays in lowest terms.
    Some(Volume {
        ml: (numerator, denominator.checked_mul(parts)?),
        source: "convention: a fraction of a teaspoon, in no standard",
        status: "memory",
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use HouseholdMeasure::*;

    fn ml(standard: Standard, measure: HouseholdMeasure) -> f64 {
        let (numerator, denominator) = volume(standard, measure).unwrap().ml;
        numerator as f64 / denominator as f64
    }

    #[test]
    fn published_volumes() {
        assert_eq!(Standard::DEFAULT.word(), "metric");
        assert_eq!(volume(Standard::Metric, Cup).unwrap().ml, (250, 1));
        assert_eq!(volume(Standard::Australian, Tablespoon).unwrap().ml, (20, 1));
        assert_eq!(ml(Standard::UsCustomary, Cup), 236.5882365);
        assert_eq!(ml(Standard::UsCustomary, Teaspoon), 4.92892159375);
        assert_eq!(ml(Standard::UsCustomary, Tablespoon), 14.78676478125);
        assert_eq!(ml(Standard::UsCustomary, FluidOunce), 29.5735295625);
        assert_eq!(ml(Standard::UkImperial, FluidOunce), 28.4130625);
        assert_eq!(ml(Standard::UkImperial, Tablespoon), 17.7581640625);
        assert_eq!(OUNCE_G.0 as f64 / OUNCE_G.1 as f64, 28.349523125);
        assert_eq!(volume(Standard::Metric, Pinch).unwrap().ml, (5, 16));
        assert_eq!(volume(Standard::Metric, Dash).unwrap().ml, (5, 8));
        assert_eq!(volume(Standard::Metric, Dash).unwrap().status, "memory");
        assert_eq!(volume(Standard::Metric, FluidOunce), None);
    }

    #[test]
    fn every_standard_is_whole_and_reduced() {
        fn gcd(a: i64, b: i64) -> i64 {
            if b == 0 { a } else { gcd(b, a % b) }
        }
        for &standard in Standard::ALL {
            assert_eq!(Standard::from_word(standard.word()), Some(standard));
            for measure in [Cup, Tablespoon, Teaspoon, Dash, Pinch, Smidgen] {
                let (numerator, denominator) = volume(standard, measure).unwrap().ml;
                assert!(numerator > 0 && denominator > 0);
                assert_eq!(gcd(numerator, denominator), 1, "{standard:?} {measure:?}");
            }
        }
    }
}
