//! `text/reading-level`: sentences too long, or words too hard, for a
//! caregiver with little schooling. The thresholds stand in the profile.

use super::Case;
use super::prose::Prose;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::quantity::round_half_even;

/// Fewer words than this say nothing about a whole dish.
const ENOUGH: usize = 40;
/// Letters from which LIX counts a word as long.
const LONG: usize = 7;

/// No word has more letters than bytes.
fn is_long(word: &str) -> bool {
    word.len() >= LONG && word.chars().filter(|c| c.is_alphabetic()).count() >= LONG
}

pub fn check(case: &Case<'_>, texts: &[Prose<'_>], sink: &mut Sink) {
    let texts: Vec<&Prose<'_>> = texts.iter().filter(|prose| !prose.note && !prose.title).collect();
    let mut languages: Vec<&str> = texts.iter().map(|prose| prose.language).collect();
    languages.sort_unstable();
    languages.dedup();
    for language in languages {
        let Some(reading) = case.reference.profile.reading(language) else { continue };
        let (mut count, mut words, mut long) = (0usize, 0usize, 0usize);
        let mut told = false;
        let mut first = None;
        for prose in texts.iter().filter(|prose| prose.language == language) {
            first.get_or_insert(prose.span);
            let most = prose.sentences().map(<[&str]>::len).max().unwrap_or(0);
            if most > usize::from(reading.sentence_words) {
                told = true;
                sink.push(
                    Diagnostic::new(
                        Code::TextReadingLevel,
                        prose.span,
                        format!("a sentence has {most} words; {} are the most", reading.sentence_words),
                    )
                    .help("make two or three of it: one thing to do in each sentence"),
                );
            }
            for sentence in prose.sentences() {
                count += 1;
                words += sentence.len();
                long += sentence.iter().filter(|word| is_long(word)).count();
            }
        }
        let Some(span) = first.filter(|_| !told && words >= ENOUGH && count > 0) else { continue };
        let average = words as f64 / count as f64;
        let lix = average + 100.0 * long as f64 / words as f64;
        let shown = |value: f64| round_half_even(value, 0);
        if average > reading.average_words {
            sink.push(
                Diagnostic::new(
                    Code::TextReadingLevel,
                    span,
                    format!(
                        "the sentences in `{language}` have {} words on average; {} are enough",
                        shown(average),
                        reading.average_words
                    ),
                )
                .help("make them shorter: one thing to do in each sentence"),
            );
        } else if let Some(most) = reading.lix.filter(|most| lix > *most) {
            sink.push(
                Diagnostic::new(
                    Code::TextReadingLevel,
                    span,
                    format!("the prose in `{language}` is hard to read: LIX {}, at most {most}", shown(lix)),
                )
                .help("take shorter words and shorter sentences; read it aloud to somebody"),
            );
        }
    }
}
