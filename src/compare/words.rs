//! The author's prose, word by word, each language for itself.

use serde::Serialize;
use similar::{ChangeTag, TextDiff};

use super::Side;
use super::lines::paired;
use crate::ast::{Document, Entry, Text, Translation};

/// One text that differs.
#[derive(Debug, Clone, Serialize)]
pub struct TextChange {
    pub language: String,
    /// `title`, `tip`, `step 3`.
    pub what: String,
    pub before: Option<String>,
    pub after: Option<String>,
    pub words: Vec<Run>,
}

/// Words in a row that share a fate.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Run {
    pub change: Fate,
    pub text: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Fate {
    Same,
    Out,
    In,
}

/// A text with what it is: texts of one language and one sort are paired.
struct Piece {
    language: String,
    sort: String,
    label: String,
    text: String,
}

pub fn texts(before: &Side<'_>, after: &Side<'_>) -> Vec<TextChange> {
    let (old, new) = (pieces(before), pieces(after));
    let mut sorts: Vec<(&str, &str)> = Vec::new();
    for piece in new.iter().chain(&old) {
        let sort = (piece.language.as_str(), piece.sort.as_str());
        if !sorts.contains(&sort) {
            sorts.push(sort);
        }
    }
    let mut found = Vec::new();
    for (language, sort) in sorts {
        let of = |pieces: &'_ [Piece]| -> (Vec<String>, Vec<String>) {
            pieces
                .iter()
                .filter(|piece| piece.language == language && piece.sort == sort)
                .map(|piece| (piece.label.clone(), piece.text.clone()))
                .unzip()
        };
        let ((old_labels, old_texts), (new_labels, new_texts)) = (of(&old), of(&new));
        for (was, is) in paired(&old_texts, &new_texts) {
            let before = was.and_then(|at| old_texts.get(at)).cloned();
            let after = is.and_then(|at| new_texts.get(at)).cloned();
            let label = is.and_then(|at| new_labels.get(at)).or_else(|| was.and_then(|at| old_labels.get(at)));
            found.push(TextChange {
                language: language.to_owned(),
                what: label.cloned().unwrap_or_default(),
                words: words(before.as_deref().unwrap_or_default(), after.as_deref().unwrap_or_default()),
                before,
                after,
            });
        }
    }
    found
}

fn pieces(side: &Side<'_>) -> Vec<Piece> {
    let mut list = List { own: &side.own_language, pieces: Vec::new() };
    let header = side.file.document.header();
    if let Some(title) = &header.title {
        list.text("title", "title", title);
    }
    match &side.file.document {
        Document::Dish(dish) => {
            let mut number = 0;
            for part in &dish.parts {
                if let Some(name) = &part.name {
                    list.text("part", "part", name);
                }
                for take in &part.takes {
                    list.translations("ingredient", "ingredient", &take.translations);
                }
                for step in &part.steps {
                    number += 1;
                    let label = format!("step {number}");
                    match &step.prose {
                        Some(prose) => list.text("step", &label, prose),
                        None => list.translations("step", &label, &step.translations),
                    }
                }
            }
        }
        Document::Menu(_) => {}
        Document::Booklet(booklet) => {
            for entry in &booklet.entries {
                if let Entry::Section(text) = entry {
                    list.text("section", "section", text);
                }
            }
        }
    }
    for remark in &header.remarks {
        list.text(remark.kind.word(), remark.kind.word(), &remark.text);
    }
    if let Some(text) = header.picture.as_ref().and_then(|picture| picture.description.as_ref()) {
        list.text("picture", "picture", text);
    }
    list.pieces
}

struct List<'a> {
    own: &'a str,
    pieces: Vec<Piece>,
}

impl List<'_> {
    fn push(&mut self, language: &str, sort: &str, label: &str, text: &str) {
        self.pieces.push(Piece {
            language: language.to_lowercase(),
            sort: sort.to_owned(),
            label: label.to_owned(),
            text: text.to_owned(),
        });
    }

    fn text(&mut self, sort: &str, label: &str, text: &Text) {
        self.push(self.own, sort, label, &text.value);
        self.translations(sort, label, &text.translations);
    }

    fn translations(&mut self, sort: &str, label: &str, lines: &[Translation]) {
        for line in lines {
            self.push(&line.tag, sort, label, &line.value);
        }
    }
}

/// Runs of words that stay, go and come. Words end where Unicode says, so
/// that scripts without blanks between words come out well too.
pub fn words(before: &str, after: &str) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    // What goes and what comes between two runs that stay.
    let (mut out, mut come) = (String::new(), String::new());
    let mut held = String::new();
    let diff = TextDiff::from_unicode_words(before, after);
    for change in diff.iter_all_changes() {
        let word: &str = change.value();
        match change.tag() {
            ChangeTag::Equal if out.is_empty() && come.is_empty() => add(&mut runs, Fate::Same, word),
            // One blank that stays between two changes would tear them apart.
            ChangeTag::Equal if word.chars().all(char::is_whitespace) => held.push_str(word),
            ChangeTag::Equal => {
                close(&mut runs, &mut out, &mut come);
                add(&mut runs, Fate::Same, &std::mem::take(&mut held));
                add(&mut runs, Fate::Same, word);
            }
            ChangeTag::Delete => {
                hold(&mut held, &mut out, &mut come);
                out.push_str(word);
            }
            ChangeTag::Insert => {
                hold(&mut held, &mut out, &mut come);
                come.push_str(word);
            }
        }
    }
    close(&mut runs, &mut out, &mut come);
    add(&mut runs, Fate::Same, &held);
    runs
}

/// A blank that stayed belongs to both sides of a change that goes on.
fn hold(held: &mut String, out: &mut String, come: &mut String) {
    if !held.is_empty() {
        out.push_str(held);
        come.push_str(held);
        held.clear();
    }
}

fn close(runs: &mut Vec<Run>, out: &mut String, come: &mut String) {
    add(runs, Fate::Out, &std::mem::take(out));
    add(runs, Fate::In, &std::mem::take(come));
}

fn add(runs: &mut Vec<Run>, change: Fate, text: &str) {
    if text.is_empty() {
        return;
    }
    match runs.last_mut().filter(|run| run.change == change) {
        Some(run) => run.text.push_str(text),
        None => runs.push(Run { change, text: text.to_owned() }),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn shown(before: &str, after: &str) -> String {
        words(before, after)
            .iter()
            .map(|run| match run.change {
                Fate::Same => run.text.clone(),
                Fate::Out => format!("[-{}-]", run.text),
                Fate::In => format!("{{+{}+}}", run.text),
            })
            .collect()
    }

    #[test]
    fn whole_words_of_any_script_change() {
        assert_eq!(shown("Keep it boiling.", "Keep it hot."), "Keep it [-boiling-]{+hot+}.");
        assert_eq!(shown("Uji wa mtama", "Uji wa mahindi"), "Uji wa [-mtama-]{+mahindi+}");
        assert_eq!(shown("የማሽላ ገንፎ", "የበቆሎ ገንፎ"), "[-የማሽላ-]{+የበቆሎ+} ገንፎ");
        assert_eq!(shown("عصيدة الذرة", "عصيدة القمح"), "عصيدة [-الذرة-]{+القمح+}");
        assert_eq!(shown("one two three", "six seven three"), "[-one two-]{+six seven+} three");
        assert_eq!(shown("", "new"), "{+new+}");
        assert_eq!(shown("same", "same"), "same");
    }

    proptest! {
        #[test]
        fn both_texts_can_be_read_from_the_runs(before in "[a-c é,ገ.]{0,24}", after in "[a-c é,ገ.]{0,24}") {
            let runs = words(&before, &after);
            let side = |gone: Fate| -> String {
                runs.iter().filter(|run| run.change != gone).map(|run| run.text.as_str()).collect()
            };
            prop_assert_eq!(side(Fate::In), before);
            prop_assert_eq!(side(Fate::Out), after);
        }
    }
}
