//! From the digits that an author types to an exact fraction.

use unicode_properties::{GeneralCategory, UnicodeGeneralCategory};

use super::Exact;

/// Numbers above this are refused: no household measures a million of
/// anything, and it keeps every later product inside 64 bits.
pub const LARGEST: i64 = 1_000_000;

/// Why a numeral is not a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NumberFault {
    /// A comma used as a decimal mark; holds the text with a point instead.
    CommaDecimal(String),
    ZeroDenominator,
    TooLarge,
    /// Anything else, such as `1/2/3`.
    Unreadable,
}

/// Reads `2`, `0.5`, `1/2`, `½`, `1½` and, with a blank between them, a whole
/// number and a fraction (`1 1/2`), in the decimal digits of any script.
pub fn parse_number(text: &str) -> Result<Exact, NumberFault> {
    if !text.is_ascii() {
        return read_words(&ascii_digits(text));
    }
    read_words(text)
}

fn read_words(text: &str) -> Result<Exact, NumberFault> {
    let mut words = text.split_whitespace();
    match (words.next(), words.next(), words.next()) {
        (Some(one), None, _) => numeral(one),
        (Some(whole), Some(fraction), None) => {
            let (left, right) = (numeral(whole)?, numeral(fraction)?);
            // `1.5 1/2` and `1 3/2` are slips, not mixed numbers.
            if left.denominator() != 1 || right >= Exact::whole(1) {
                return Err(NumberFault::Unreadable);
            }
            left.plus(right).ok_or(NumberFault::TooLarge)
        }
        _ => Err(NumberFault::Unreadable),
    }
}

fn numeral(text: &str) -> Result<Exact, NumberFault> {
    if let Some((before, vulgar)) = text.char_indices().last()
        && let Some((top, bottom)) = vulgar_fraction(vulgar)
    {
        let part = Exact::fraction(top, bottom).ok_or(NumberFault::ZeroDenominator)?;
        let head = text.get(..before).unwrap_or_default();
        // `½½` is nothing, and a million of them would be as many calls.
        if head.chars().next_back().is_some_and(|last| vulgar_fraction(last).is_some()) {
            return Err(NumberFault::Unreadable);
        }
        let whole = if head.is_empty() { Exact::zero() } else { numeral(head)? };
        if whole.denominator() != 1 {
            return Err(NumberFault::Unreadable);
        }
        return whole.plus(part).ok_or(NumberFault::TooLarge);
    }
    if let Some((top, bottom)) = text.split_once(['/', '\u{2044}']) {
        let (top, bottom) = (integer(top)?, integer(bottom)?);
        if bottom == 0 {
            return Err(NumberFault::ZeroDenominator);
        }
        return Exact::fraction(top, bottom).ok_or(NumberFault::TooLarge);
    }
    if text.contains([',', '\u{66B}', '\u{66C}']) {
        let pointed = text.replace([',', '\u{66B}', '\u{66C}'], ".");
        return Err(if pointed.matches('.').count() == 1 {
            NumberFault::CommaDecimal(pointed)
        } else {
            NumberFault::Unreadable
        });
    }
    let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
    let whole = if whole.is_empty() { 0 } else { integer(whole)? };
    if decimals.is_empty() {
        return Ok(Exact::whole(whole));
    }
    if decimals.len() > 9 {
        // More digits than any scale shows: keep nine, as the rest is noise.
        let kept = decimals.get(..9).unwrap_or(decimals);
        if !decimals.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(NumberFault::Unreadable);
        }
        return decimal(whole, kept);
    }
    decimal(whole, decimals)
}

fn decimal(whole: i64, decimals: &str) -> Result<Exact, NumberFault> {
    if !decimals.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(NumberFault::Unreadable);
    }
    let scale = 10_i64.pow(decimals.len().min(9) as u32);
    let part: i64 = decimals.parse().map_err(|_| NumberFault::TooLarge)?;
    whole
        .checked_mul(scale)
        .and_then(|value| value.checked_add(part))
        .and_then(|value| Exact::fraction(value, scale))
        .ok_or(NumberFault::TooLarge)
}

fn integer(text: &str) -> Result<i64, NumberFault> {
    if text.is_empty() || !text.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(NumberFault::Unreadable);
    }
    match text.parse::<i64>() {
        Ok(value) if value <= LARGEST => Ok(value),
        _ => Err(NumberFault::TooLarge),
    }
}

/// Turns the decimal digits of any script into ASCII ones.
pub fn ascii_digits(text: &str) -> String {
    text.chars()
        .map(|character| match digit_value(character) {
            Some(value) => char::from(b'0' + value),
            None => character,
        })
        .collect()
}

/// The value of a decimal digit. Unicode encodes them in unbroken runs of
/// ten, so the distance to the start of the run gives the value.
fn digit_value(character: char) -> Option<u8> {
    if character.is_ascii() {
        return character.to_digit(10).map(|value| value as u8);
    }
    if character.general_category() != GeneralCategory::DecimalNumber {
        return None;
    }
    let code = character as u32;
    let mut start = code;
    while start > 0
        && char::from_u32(start - 1).is_some_and(|before| before.general_category() == GeneralCategory::DecimalNumber)
    {
        start -= 1;
    }
    u8::try_from((code - start) % 10).ok()
}

fn vulgar_fraction(character: char) -> Option<(i64, i64)> {
    Some(match character {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn exact(top: i64, bottom: i64) -> Result<Exact, NumberFault> {
        Ok(Exact::fraction(top, bottom).unwrap())
    }

    #[test]
    fn a_million_vulgar_fractions_are_no_number() {
        assert_eq!(parse_number(&"½".repeat(1_000_000)), Err(NumberFault::Unreadable));
        assert_eq!(parse_number("1½½"), Err(NumberFault::Unreadable));
    }

    #[test]
    fn reads_every_form() {
        for (text, top, bottom) in [
            ("2", 2, 1),
            ("0.5", 1, 2),
            (".5", 1, 2),
            ("1/2", 1, 2),
            ("1 1/2", 3, 2),
            ("½", 1, 2),
            ("1½", 3, 2),
            ("1 ½", 3, 2),
            ("1⁄3", 1, 3),
            // Arabic-Indic, Devanagari and full-width digits.
            ("٣", 3, 1),
            ("१२", 12, 1),
            ("１/２", 1, 2),
            ("𝟗", 9, 1),
        ] {
            assert_eq!(parse_number(text), exact(top, bottom), "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_number() {
        assert_eq!(parse_number("1,5"), Err(NumberFault::CommaDecimal("1.5".into())));
        assert_eq!(parse_number("1/0"), Err(NumberFault::ZeroDenominator));
        assert_eq!(parse_number("99999999999999999999"), Err(NumberFault::TooLarge));
        for text in ["1/2/3", "1.2.3", "1.5 1/2", "1 3/2", "1,5,2", "²", ""] {
            assert_eq!(parse_number(text), Err(NumberFault::Unreadable), "{text}");
        }
    }
}
