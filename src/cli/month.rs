//! A month on the command line.

use crate::cli::Failure;
use crate::diagnostic::did_you_mean;
use crate::reference::season::names;

/// `march` or `mar`, from 1 to 12.
///
/// # Errors
/// A fault of usage with the nearest month.
pub fn month(word: &str) -> Result<u8, Failure> {
    match crate::syntax::months(word).as_deref() {
        Some([one]) => Ok(*one),
        _ => Err(Failure(match did_you_mean(&word.trim().to_lowercase(), names()) {
            Some(near) => format!("`{word}` is no month; did you mean `{near}`?"),
            None => format!("`{word}` is no month; write one in English, such as `march`"),
        })),
    }
}
