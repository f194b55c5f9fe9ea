//! One line a message: `file:line:column: severity[code] message`.

use std::fmt::Write;

use super::{FileMessages, visible};

pub fn render(file: &FileMessages<'_>, out: &mut String) {
    for diagnostic in file.diagnostics {
        let place = file.source.place(diagnostic.span.start);
        let _ = writeln!(
            out,
            "{}:{}:{}: {}[{}] {}",
            visible(&file.source.name),
            place.line,
            place.column,
            diagnostic.severity.word(),
            diagnostic.code.name(),
            visible(&diagnostic.message),
        );
    }
}
