//! Rounding as it is stated for published tables: once, half to even, on the
//! decimal value.

/// A value as a whole number of units of its last printed digit.
pub fn units(value: f64, decimals: usize) -> i64 {
    assert!(value.is_finite() && value >= 0.0, "{value} is no amount");
    // `Display` writes the shortest decimal that means this number and never
    // an exponent.
    units_of(&value.to_string(), decimals)
}

/// The same for a decimal as it stands in a table.
pub fn units_of(text: &str, decimals: usize) -> i64 {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let (kept, rest) = fraction.split_at(decimals.min(fraction.len()));
    let units: i64 = format!("{whole}{kept:0<decimals$}").parse().unwrap_or_else(|_| panic!("{text:?} is no decimal"));
    let half = rest.starts_with('5') && rest[1..].bytes().all(|digit| digit == b'0');
    let up = if half { units % 2 == 1 } else { rest.as_bytes().first().is_some_and(|digit| *digit >= b'5') };
    units + i64::from(up)
}

#[test]
fn half_to_even_on_the_decimal_value() {
    for (text, decimals, expected) in [
        ("0.5", 0, 0),
        ("1.5", 0, 2),
        ("2.5", 0, 2),
        ("2.50001", 0, 3),
        ("0.125", 2, 12),
        ("0.135", 2, 14),
        ("0.1349", 2, 13),
        ("7", 2, 700),
        ("7.1", 3, 7100),
        ("0.0004", 3, 0),
    ] {
        assert_eq!(units_of(text, decimals), expected, "{text} to {decimals}");
        assert_eq!(units(text.parse().unwrap(), decimals), expected, "{text} to {decimals}");
    }
    assert_eq!(units(1e-9, 3), 0);
}
