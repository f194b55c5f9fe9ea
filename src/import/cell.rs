//! What a table's author wrote in a cell.

use crate::import::unit::tidy;
use crate::reference::table::Amount;

/// What a source means by its signs.
#[derive(Debug, Clone, Default)]
pub struct Signs {
    /// Decimals are written with a comma.
    pub comma: bool,
    /// Further words for unknown and for traces, from the map.
    pub unknown: Vec<String>,
    pub trace: Vec<String>,
}

/// Why a cell cannot be read, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    pub why: &'static str,
    pub help: &'static str,
}

/// Reads a cell. `None` is unknown: a blank, a dash, `N`, `*`, `nd`.
///
/// # Errors
/// A cell that says something else.
pub fn read(text: &str, signs: &Signs) -> Result<Option<Amount>, Fault> {
    let text = text.trim_matches(blank);
    let listed = |list: &[String]| list.iter().any(|own| own.trim().eq_ignore_ascii_case(text));
    if text.is_empty() || listed(&signs.unknown) {
        return Ok(None);
    }
    if listed(&signs.trace) {
        return Ok(Some(Amount::Trace));
    }
    if let Some(inner) = bracketed(text) {
        return Ok(match read(inner, signs)? {
            Some(Amount::Known(value)) => Some(Amount::Estimated(value)),
            other => other,
        });
    }
    let lower = text.to_lowercase();
    match lower.trim_end_matches('.') {
        "tr" | "trace" | "traces" | "tra" | "trc" => return Ok(Some(Amount::Trace)),
        // Not analysed, not determined, not available, no data: and `nd` may
        // be "not detected", which is no figure either.
        "" | "-" | "–" | "—" | "−" | "--" | "*" | "**" | "?" | "…" | "n" | "na" | "n/a" | "n.a" | "nd" | "n.d"
        | "nr" | "none given" | "missing" | "unknown" | "null" => return Ok(None),
        _ => {}
    }
    if let Some(rest) = text.strip_prefix(['<', '≤']) {
        let rest = rest.trim_start_matches(blank);
        if matches!(rest.to_lowercase().as_str(), "lod" | "loq" | "dl" | "mdl") {
            return Ok(Some(Amount::Trace));
        }
        return number(rest, signs).map(|limit| Some(Amount::Below(limit)));
    }
    if let Some(rest) = text.strip_prefix(['~', '≈']) {
        return number(rest.trim_start_matches(blank), signs).map(|value| Some(Amount::Estimated(value)));
    }
    // A starred figure has a footnote that is not read here.
    let bare = text.trim_matches('*').trim_matches(blank);
    if bare.len() < text.len() {
        return number(bare, signs).map(|value| Some(Amount::Estimated(value)));
    }
    number(text, signs).map(|value| Some(Amount::Known(value)))
}

fn blank(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{A0}' | '\u{202F}' | '\u{FEFF}')
}

fn bracketed(text: &str) -> Option<&str> {
    [('[', ']'), ('(', ')'), ('{', '}')].into_iter().find_map(|(open, close)| {
        let inner = text.strip_prefix(open)?.strip_suffix(close)?;
        // "(1) (2)" is no bracket around one thing; and brackets in brackets
        // would be read without end.
        (!inner.contains(['[', ']', '(', ')', '{', '}'])).then_some(inner)
    })
}

fn number(text: &str, signs: &Signs) -> Result<f64, Fault> {
    let fault = |why, help| Err(Fault { why, help });
    let mut plain = text.to_owned();
    let (points, commas) = (text.matches('.').count(), text.matches(',').count());
    if commas > 0 {
        if points > 0 || commas > 1 {
            return fault("groups its digits", "write the number without marks between thousands");
        }
        if !signs.comma {
            return fault(
                "has a comma",
                "write a decimal point; if the whole table has commas, put `decimal = \",\"` into a map",
            );
        }
        plain = text.replace(',', ".");
    } else if points > 0 && signs.comma {
        return fault(
            "has a point in a table with decimal commas",
            "write a comma, or put `decimal = \".\"` into a map if the whole table has points",
        );
    }
    let digits = plain.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'e' | b'E' | b'-' | b'+'));
    let value = plain.parse::<f64>().ok().filter(|_| digits);
    match value {
        Some(value) if !value.is_finite() || value > 1e9 => {
            fault("is too large for an amount", "correct the figure; the amount stays unknown")
        }
        Some(value) if value < 0.0 => fault("is below zero", "correct the figure; the amount stays unknown"),
        Some(value) => Ok(tidy(value.abs())),
        None if text.starts_with(['>', '≥']) => {
            fault("is only a lower bound", "write a figure, or leave the cell blank for unknown")
        }
        None if text.contains(['±', '–']) || text.char_indices().any(|(at, c)| at > 0 && c == '-') => {
            fault("is a range", "write one figure: the table has to choose, not this program")
        }
        None if text.starts_with(|c: char| c.is_ascii_digit()) => {
            fault("is more than a number", "write the bare number; the unit stands in the column's head")
        }
        None => fault(
            "is no amount",
            "write a number, `tr`, `[12]` or `<0.1`, or leave the cell blank; a map can name further signs",
        ),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn point(text: &str) -> Result<Option<Amount>, &'static str> {
        read(text, &Signs::default()).map_err(|fault| fault.why)
    }

    #[test]
    fn every_sign_keeps_its_meaning() {
        use Amount::*;
        for (text, amount) in [
            ("12", Some(Known(12.0))),
            (" 0.50\u{A0}", Some(Known(0.5))),
            ("0", Some(Known(0.0))),
            ("-0", Some(Known(0.0))),
            ("1.2E-3", Some(Known(0.0012))),
            ("0.30000000000000004", Some(Known(0.3))),
            ("[12]", Some(Estimated(12.0))),
            ("( 12 )", Some(Estimated(12.0))),
            ("12*", Some(Estimated(12.0))),
            ("~12", Some(Estimated(12.0))),
            ("tr", Some(Trace)),
            ("Tr.", Some(Trace)),
            ("TRACES", Some(Trace)),
            ("[tr]", Some(Trace)),
            ("<LOD", Some(Trace)),
            ("<0.1", Some(Below(0.1))),
            ("< 0.1", Some(Below(0.1))),
            ("(<0.1)", Some(Below(0.1))),
            ("", None),
            ("[]", None),
            ("-", None),
            ("–", None),
            ("N", None),
            ("n.d.", None),
            ("*", None),
            ("...", None),
        ] {
            assert_eq!(point(text), Ok(amount), "{text:?}");
        }
    }

    #[test]
    fn what_is_no_amount_says_why() {
        for (text, why) in [
            ("1,5", "has a comma"),
            ("1,234.5", "groups its digits"),
            ("-3", "is below zero"),
            ("1e400", "is too large for an amount"),
            (">5", "is only a lower bound"),
            ("2-3", "is a range"),
            ("2 ± 1", "is a range"),
            ("12 mg", "is more than a number"),
            ("inf", "is no amount"),
            ("NaN", "is no amount"),
            ("0x10", "is more than a number"),
            ("low", "is no amount"),
            ("((12))", "is no amount"),
        ] {
            assert_eq!(point(text), Err(why), "{text:?}");
        }
    }

    #[test]
    fn a_decimal_comma_where_the_table_has_commas() {
        let signs = Signs { comma: true, unknown: vec!["s.d.".to_owned()], trace: vec!["T".to_owned()] };
        assert_eq!(read("1,5", &signs), Ok(Some(Amount::Known(1.5))));
        assert_eq!(read("<0,1", &signs), Ok(Some(Amount::Below(0.1))));
        assert_eq!(read("S.D.", &signs), Ok(None));
        assert_eq!(read("t", &signs), Ok(Some(Amount::Trace)));
        assert_eq!(read("1.234", &signs).unwrap_err().why, "has a point in a table with decimal commas");
    }
}
