//! A fault of the program itself, told to a person: what to keep and what to
//! say of it, and no list of calls.

use std::panic::{PanicHookInfo, catch_unwind, set_hook};
use std::sync::{Mutex, PoisonError};

use crate::cli::{Cli, USAGE, complain};

/// The last fault. One that is caught where it is expected (a reader of
/// broken spreadsheets) is nobody's business, so none is told at once.
static LAST: Mutex<Option<String>> = Mutex::new(None);

/// Runs the program and gives its exit code, whatever happens in it.
pub fn guarded(run: fn() -> Cli) -> u8 {
    set_hook(Box::new(|fault| *LAST.lock().unwrap_or_else(PoisonError::into_inner) = Some(what(fault))));
    catch_unwind(|| run().run()).unwrap_or_else(|_| {
        let last = LAST.lock().unwrap_or_else(PoisonError::into_inner).take();
        complain(&words(&last.unwrap_or_default(), std::env::args()));
        USAGE
    })
}

fn what(fault: &PanicHookInfo<'_>) -> String {
    let said = fault.payload_as_str().unwrap_or("no more is known").lines().next().unwrap_or_default();
    match fault.location() {
        Some(place) => format!("{said} ({}, line {})", short(place.file()), place.line()),
        None => said.to_owned(),
    }
}

/// The end of a path: where the program was built is nobody's business.
fn short(path: &str) -> String {
    let parts: Vec<&str> = path.split(['/', '\\']).collect();
    parts.get(parts.len().saturating_sub(4)..).unwrap_or_default().join("/")
}

fn words(what: &str, call: impl Iterator<Item = String>) -> String {
    let call: Vec<String> = call.skip(1).collect();
    format!(
        "this is a fault of the program, not of your files.\n\
        Please tell whoever gave you porringer, and keep the recipe that it happened with:\n\
        \x20   version  {}\n\
        \x20   call     porringer {}\n\
        \x20   fault    {what}",
        env!("CARGO_PKG_VERSION"),
        call.join(" "),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_says_what_to_report() {
        let call = ["/bin/porringer", "build", "mash.dish"].map(str::to_owned);
        let text = words("index out of bounds (typst-layout/src/flow.rs, line 3)", call.into_iter());
        assert!(text.contains(&format!("version  {}\n", env!("CARGO_PKG_VERSION"))), "{text}");
        assert!(text.contains("call     porringer build mash.dish\n"), "{text}");
        assert!(text.ends_with("fault    index out of bounds (typst-layout/src/flow.rs, line 3)"), "{text}");
        assert_eq!(short("/home/a/registry/src/typst/src/lib.rs"), "src/typst/src/lib.rs");
        assert_eq!(short("src/main.rs"), "src/main.rs");
    }
}
