//! The author's texts against the languages and the fonts of a card:
//! `text/missing-translation`, `text/missing-glyph`.

use crate::ast::{Dish, RemarkKind, Take, Text, Translation};
use crate::diagnostic::{Code, Diagnostic, Severity, quote};
use crate::format::COLUMN;
use crate::source::Span;
use crate::syntax::UNWRITTEN;

/// Checks every text that a card prints. `own` is the language of the prose.
pub fn check(dish: &Dish, own: &str, languages: &[String], covers: &dyn Fn(char) -> bool, found: &mut Vec<Diagnostic>) {
    let header = &dish.header;
    let mut texts: Vec<(&'static str, &Text)> = Vec::new();
    texts.extend(header.title.iter().map(|text| ("title", text)));
    for part in &dish.parts {
        texts.extend(part.name.iter().map(|text| ("part", text)));
        texts.extend(part.steps.iter().filter_map(|step| step.prose.as_ref()).map(|text| ("step", text)));
    }
    for remark in &header.remarks {
        if remark.kind != RemarkKind::Note {
            texts.push((remark.kind.word(), &remark.text));
        }
    }
    let takes: Vec<&Take> = dish.parts.iter().flat_map(|part| &part.takes).collect();
    check_texts(&texts, &takes, own, languages, covers, found);
    // Where a dish comes from and who looked at it may stay in the author's
    // words: a health worker reads it. Its signs must be there all the same.
    let by = header.reviewed.as_ref().and_then(|reviewed| reviewed.by.as_ref());
    let small: Vec<(&'static str, &Text)> = header.source.iter().chain(by).map(|text| ("source", text)).collect();
    check_texts(&small, &[], own, &[], covers, found);
}

/// Checks texts, and the names of takes for their signs alone.
pub fn check_texts(
    texts: &[(&'static str, &Text)],
    takes: &[&Take],
    own: &str,
    languages: &[String],
    covers: &dyn Fn(char) -> bool,
    found: &mut Vec<Diagnostic>,
) {
    for (what, text) in texts {
        for language in languages {
            let same = |tag: &str| tag.eq_ignore_ascii_case(language);
            let base = language.split('-').next().unwrap_or(language);
            let there = same(own)
                || own.split('-').next() == Some(base)
                || text.translations.iter().any(|line| same(&line.tag));
            if !there {
                // A caution that a caregiver cannot read is none.
                let caution = *what == RemarkKind::Caution.word();
                let stub = text.stubs.iter().find(|tag| same(&tag.value));
                let mut message = Diagnostic::new(
                    Code::TextMissingTranslation,
                    stub.map_or(text.span, |tag| tag.span),
                    match stub {
                        Some(_) => format!("the {what} in `{language}` is still to be written"),
                        None => format!("this {what} has no text in `{language}`"),
                    },
                )
                .help(if stub.is_some() {
                    format!("write it after `in {language}`; an empty line counts as none")
                } else if caution {
                    format!("add a line below it: `in {language} …`; a caution must be understood")
                } else {
                    format!("add a line below it: `in {language} …`; until then the card prints it as it is")
                });
                // The author writes in place of the dots; until then it is missing.
                let end = Span::new(text.span.end, text.span.end);
                message =
                    message.fix(end, format!("\n{:<width$} {UNWRITTEN}", format!("in {language}"), width = COLUMN - 1));
                if caution {
                    message.severity = Severity::Error;
                }
                found.push(message);
            }
        }
    }
    let lines: Vec<(Span, &str)> = texts
        .iter()
        .flat_map(|(_, text)| {
            std::iter::once((text.span, text.value.as_str()))
                .chain(text.translations.iter().map(|line: &Translation| (line.span, line.value.as_str())))
        })
        .chain(takes.iter().flat_map(|take| take.translations.iter().map(|line| (line.span, line.value.as_str()))))
        .collect();
    // What a take is called and how it comes is printed as it was written.
    let names = takes.iter().flat_map(|take| {
        let states = take.options.iter().flat_map(|option| &option.states);
        take.alias.iter().chain(states).map(|name| (name.span, name.value.as_str()))
    });
    for (span, text) in lines.iter().copied().chain(names) {
        found.extend(text.chars().find(|c| misleads(*c)).map(|sign| hidden(span, sign)));
    }
    for (span, text) in lines {
        let missing: Vec<char> = {
            let mut missing: Vec<char> =
                text.chars().filter(|c| !c.is_whitespace() && !misleads(*c) && !covers(*c)).collect();
            missing.sort_unstable();
            missing.dedup();
            missing
        };
        let Some(first) = missing.first() else { continue };
        found.push(
            Diagnostic::new(
                Code::TextMissingGlyph,
                span,
                format!("no font of the card has {} (U+{:04X})", quote(&first.to_string()), u32::from(*first)),
            )
            .help("write it in other characters, or name a font that has it in `porringer.toml`: `fonts = [\"…\"]`"),
        );
    }
}

/// Signs that are not seen and change how a text reads. The marks that scripts
/// written from the right need between words are none.
fn misleads(c: char) -> bool {
    c.is_control() && !c.is_whitespace()
        || matches!(c, '\u{200B}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}')
}

fn hidden(span: Span, sign: char) -> Diagnostic {
    Diagnostic::new(
        Code::TextMissingGlyph,
        span,
        format!("a sign that is not seen, U+{:04X}, would change how this reads", u32::from(sign)),
    )
    .help("delete it: type the words anew where it cannot be found")
}
