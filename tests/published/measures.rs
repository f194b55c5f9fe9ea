//! Volumes of household measures, each with its source and status.

use porringer::reference::measure::{HouseholdMeasure, OUNCE_G, OUNCE_LABEL_G, Standard, volume};

use HouseholdMeasure::{Cup, FluidOunce, Tablespoon, Teaspoon};

/// An exact decimal against an exact fraction: no rounding anywhere.
fn equals((numerator, denominator): (i64, i64), decimal: &str) -> bool {
    let (whole, fraction) = decimal.split_once('.').unwrap_or((decimal, ""));
    let digits: i128 = format!("{whole}{fraction}").parse().unwrap();
    let one = 10_i128.pow(u32::try_from(fraction.len()).unwrap());
    i128::from(numerator) * one == digits * i128::from(denominator)
}

fn check(standard: Standard, rows: &[(HouseholdMeasure, &str)], status: &str) {
    for (measure, ml) in rows {
        let found = volume(standard, *measure).unwrap();
        assert!(equals(found.ml, ml), "{standard:?} {measure:?}: {:?} is not {ml} mL", found.ml);
        assert_eq!(found.status, status, "{standard:?} {measure:?}");
    }
}

/// United States customary measures follow exactly from the gallon of 231
/// cubic inches. Source: unit table quoted on listserv.brown.edu (CONLANG,
/// 2005), fluid ounce ucum.org ticket 120. Status: checked-secondary.
#[test]
fn us_customary() {
    check(
        Standard::UsCustomary,
        &[
            (Teaspoon, "4.92892159375"),
            (Tablespoon, "14.78676478125"),
            (Cup, "236.5882365"),
            (FluidOunce, "29.5735295625"),
        ],
        "checked-secondary",
    );
    let ml = |measure| volume(Standard::UsCustomary, measure).unwrap().ml;
    // 16 tablespoons, 48 teaspoons and 8 fluid ounces make a cup; 16 cups a
    // gallon of 231 cubic inches of 16.387064 mL.
    let times = |(numerator, denominator): (i64, i64), factor: i64| {
        num_rational::Ratio::new(numerator, denominator) * num_rational::Ratio::from_integer(factor)
    };
    assert_eq!(times(ml(Tablespoon), 16), times(ml(Cup), 1));
    assert_eq!(times(ml(Teaspoon), 48), times(ml(Cup), 1));
    assert_eq!(times(ml(FluidOunce), 8), times(ml(Cup), 1));
    assert_eq!(times(ml(Cup), 16), num_rational::Ratio::new(231 * 16_387_064, 1_000_000));
}

/// Source: United States 21 CFR 101.9(b)(5)(viii), read on ucum.org ticket
/// 120; the NIST kitchen card SP 430 agrees for spoons and cup. Status:
/// checked-official.
#[test]
fn us_label() {
    check(
        Standard::UsLabel,
        &[(Teaspoon, "5"), (Tablespoon, "15"), (Cup, "240"), (FluidOunce, "30")],
        "checked-official",
    );
    assert!(equals(OUNCE_LABEL_G, "28"));
}

/// Source: liquisearch.com, cooking measures, for Canada, New Zealand and the
/// metric kitchen. Status: checked-secondary. The cup of 250 mL is also the
/// bowl of the WHO model chapter on infant and young child feeding, 2009,
/// table 1 (checked-official).
#[test]
fn metric() {
    check(Standard::Metric, &[(Teaspoon, "5"), (Tablespoon, "15"), (Cup, "250")], "checked-secondary");
    assert_eq!(Standard::DEFAULT, Standard::Metric);
}

/// Source: liquisearch.com, cooking measures. Status: checked-secondary. The
/// tablespoon is a third larger than elsewhere.
#[test]
fn australian() {
    check(Standard::Australian, &[(Teaspoon, "5"), (Tablespoon, "20"), (Cup, "250")], "checked-secondary");
}

/// Source: liquisearch.com for the fluid ounce, the table on
/// listserv.brown.edu for the spoons (5/8 fluid ounce and a third of it), both
/// checked-secondary. Another convention has a tablespoon of 14.21 mL.
#[test]
fn uk_imperial() {
    check(Standard::UkImperial, &[(FluidOunce, "28.4130625"), (Tablespoon, "17.7581640625")], "checked-secondary");
    let (numerator, denominator) = volume(Standard::UkImperial, Teaspoon).unwrap().ml;
    assert!((numerator as f64 / denominator as f64 - 5.919_388_020_8).abs() < 1e-10);
    let (numerator, denominator) = volume(Standard::UkImperial, Cup).unwrap().ml;
    assert!((numerator as f64 / denominator as f64 - 284.13).abs() < 0.005);
}

/// Source: the avoirdupois ounce, ucum.org ticket 120. Status:
/// checked-secondary.
#[test]
fn ounce_by_weight() {
    assert!(equals(OUNCE_G, "28.349523125"));
}
