//! Lines that could not be read, and lines that stand twice: what is wrong
//! with them, and how the right line looks.

use super::*;

impl Lower<'_, '_> {
    /// Counts a line, an action or a food; whether it is still read.
    pub(super) fn counts(&mut self, whole: Span) -> bool {
        self.count += 1;
        if self.count == MOST_LINES + 1 {
            self.sink.push(
                Diagnostic::new(
                    Code::SyntaxTooLarge,
                    whole,
                    format!("a file has at most {MOST_LINES} lines, actions and foods; the rest is not read"),
                )
                .help("part it: a dish may use another, `take 1 cup dish white-sauce`, a booklet be several"),
            );
            // What else is said of the file would be of its torn-off half.
            for keyword in ["take", "step"] {
                self.tear(keyword, whole);
            }
        }
        self.count <= MOST_LINES
    }

    pub(super) fn stray(&mut self, whole: Span, text: &str) {
        let blanks = text.len() - text.trim_start().len();
        let start = whole.start + blanks;
        let word = text.split_whitespace().next().unwrap_or_default().to_lowercase();
        self.sink.push(
            Diagnostic::new(
                Code::SyntaxStrayContinuation,
                Span::new(start.min(whole.end), whole.end),
                "this line begins with a blank but there is no line to continue",
            )
            .help("remove the blanks before it")
            .fix(Span::new(whole.start, start), ""),
        );
        if self.first.is_none() && word == self.kind.word() {
            // The header is there, only indented: say nothing more of it.
            self.title_line = Some(whole);
            self.first = Some(whole);
        }
        self.header.torn.push(TornLine { keyword: word, text: text.to_lowercase() });
    }

    /// A keyword at the start of a continuation is usually an indented line,
    /// and what it holds would be lost inside the line above.
    pub(super) fn check_indented_keyword(&mut self, whole: Span) -> bool {
        let found = self.indented_keyword(whole);
        if let Some(at) = found {
            self.sink.push(stray_keyword(self.text, at));
            let word = self.text.get(at.range()).unwrap_or_default().to_owned();
            self.tear(&word, whole);
        }
        found.is_some()
    }

    /// The first continuation of this line that begins with a keyword. Prose
    /// may begin with such a word too ("for the child", "take care"), so there
    /// the rest has to read like a line of its own.
    pub(super) fn indented_keyword(&self, whole: Span) -> Option<Span> {
        let text = self.text.get(whole.range())?;
        if !text.contains(['\n', '\r']) {
            return None;
        }
        let first: String = text.chars().take_while(|c| c.is_alphabetic()).collect();
        let prose_from = match first.to_lowercase().as_str() {
            "step" => text.find(':').unwrap_or(text.len()),
            "serve" | "store" | "tip" | "caution" | "note" | "source" | "picture" | "in" => 0,
            _ => text.len(),
        };
        let mut at = 0;
        for (number, line) in text.split_inclusive(['\n', '\r']).enumerate() {
            let trimmed = line.trim_start();
            let start = at + (line.len() - trimmed.len());
            at += line.len();
            if number == 0 || trimmed.starts_with('#') {
                continue;
            }
            let word: String = trimmed.chars().take_while(|c| c.is_alphabetic()).collect();
            // A blank at the end of a line says nothing.
            let rest = trimmed.trim_end().get(word.len()..).unwrap_or_default();
            if !words::keywords(self.kind).contains(&word.as_str()) || !rest.starts_with([' ', '\t']) {
                continue;
            }
            // "for 20 min" and "in oil" go on with a step's head.
            if first.eq_ignore_ascii_case("step") && start <= prose_from && matches!(word.as_str(), "for" | "in") {
                continue;
            }
            if start > prose_from && !reads_like_a_line(&word, trimmed) {
                continue;
            }
            let start = whole.start + start;
            return Some(Span::new(start, start + word.len()));
        }
        None
    }

    pub(super) fn bad_line(&mut self, pair: Pair<'_, Rule>, whole: Span) {
        self.target = Target::Torn;
        let Some(first) = pair.into_inner().next() else {
            return;
        };
        let typed = first.as_str();
        let word_span = span(&first);
        let bare: &str = typed.trim_end_matches(|c: char| !c.is_alphanumeric());
        let keyword = bare.to_lowercase();
        let known = words::keywords(self.kind);
        if known.contains(&keyword.as_str()) {
            self.tear(&keyword, whole);
            if keyword == self.kind.word() && self.title_line.is_none() {
                self.title_line = Some(word_span);
            }
            if bare.len() < typed.len() {
                let extra = typed.get(bare.len()..).unwrap_or_default();
                self.sink.push(
                    Diagnostic::new(
                        Code::SyntaxUnknownKeyword,
                        word_span,
                        format!("{} has {} after the keyword", quote(typed), quote(extra)),
                    )
                    .help(format!("write `{keyword}` and a blank: `{}`", words::pattern(&keyword)))
                    .fix(word_span, keyword.clone()),
                );
                return;
            }
            self.unreadable(&keyword, whole);
            return;
        }
        // A keyword of another kind of file deserves its own sentence.
        let elsewhere =
            Kind::ALL.into_iter().find(|kind| *kind != self.kind && words::keywords(*kind).contains(&keyword.as_str()));
        let near = did_you_mean(bare, known.iter().copied());
        let mut message = Diagnostic::new(
            Code::SyntaxUnknownKeyword,
            word_span,
            format!("{} is no keyword of a {} file", quote(typed), self.kind.word()),
        );
        if let Some(kind) = elsewhere {
            message = message.help(format!("`{keyword}` belongs in a `.{}` file", kind.word()));
        } else if let Some(near) = near {
            message = message.help(format!("did you mean `{near}`?")).fix(word_span, near);
        } else {
            message = message.help(format!(
                "every line begins with one of: {}; a line that goes on from the one above begins with a blank",
                known.join(", ")
            ));
        }
        self.sink.push(message);
        let meant = near.unwrap_or(&keyword).to_owned();
        if meant == self.kind.word() && self.title_line.is_none() {
            self.title_line = Some(word_span);
        }
        self.tear(&meant, whole);
    }

    /// Tries the strict rule of a line alone, to say how far it could be read.
    pub(super) fn unreadable(&mut self, keyword: &str, whole: Span) {
        if keyword == self.kind.word() && self.title_line.is_none() {
            self.title_line = Some(whole);
        }
        let Some(rule) = words::line_rule(keyword) else {
            return;
        };
        let text = self.text.get(whole.range()).unwrap_or_default();
        let Err(error) = Grammar::parse(rule, text) else {
            return;
        };
        let offset = match error.location {
            pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
        };
        if let Some(at) = self.indented_keyword(whole)
            && (at.start <= whole.start + offset
                || !text.get(..at.start - whole.start).unwrap_or_default().contains(':'))
        {
            self.sink.push(stray_keyword(self.text, at));
            return;
        }
        let rest = text.get(offset..).unwrap_or_default();
        let skipped = rest.len() - rest.trim_start().len();
        let start = whole.start + offset + skipped;
        let found: String = rest.split_whitespace().next().unwrap_or_default().to_owned();
        // Where the keyword itself is the last thing, its content is missing.
        let found = if text.trim() == found { String::new() } else { found };
        let here = Span::new(start, (start + found.len()).max(start));
        let mut expected: Vec<&'static str> = match &error.variant {
            pest::error::ErrorVariant::ParsingError { positives, .. } => {
                positives.iter().filter_map(|rule| words::expected(*rule)).collect()
            }
            pest::error::ErrorVariant::CustomError { .. } => Vec::new(),
        };
        let mut seen = Vec::new();
        expected.retain(|word| {
            let new = !seen.contains(word);
            seen.push(*word);
            new
        });
        expected.truncate(4);
        let code = if keyword == "take" && found.is_empty() { Code::SyntaxBadQuantity } else { Code::SyntaxBadLine };
        let message = if found.is_empty() {
            format!("this `{keyword}` line ends too early")
        } else {
            format!("this `{keyword}` line cannot be read from {} on", quote(&found))
        };
        let place = if found.is_empty() { Span::new(whole.end, whole.end) } else { here };
        let mut help = String::new();
        if !expected.is_empty() {
            help.push_str(&format!("{} may stand here; ", expected.join(" or ")));
        }
        help.push_str(&format!("it is written like this: `{}`", words::pattern(keyword)));
        self.sink.push(Diagnostic::new(code, place, message).help(help));
    }

    pub(super) fn tear(&mut self, keyword: &str, whole: Span) {
        let text = self.text.get(whole.range()).unwrap_or_default().to_lowercase();
        self.header.torn.push(TornLine { keyword: keyword.to_owned(), text });
    }

    /// Whether a line that may stand once stands already; says so if it does.
    pub(super) fn twice(&mut self, first: Option<Span>, again: Span, word: &str) -> bool {
        if let Some(first) = first {
            self.duplicate(again, first, word);
        }
        first.is_some()
    }

    pub(super) fn duplicate(&mut self, again: Span, first: Span, word: &str) {
        self.sink.push(
            Diagnostic::new(Code::SyntaxDuplicateLine, again, format!("a second `{word}` line; one is enough"))
                .label(first, "the first is here")
                .help("keep one of the two"),
        );
    }
}

/// Whether a continuation inside prose is rather an indented line.
pub(super) fn reads_like_a_line(word: &str, line: &str) -> bool {
    let next = line.split_whitespace().nth(1).unwrap_or_default().to_lowercase();
    let likely = match word {
        "take" | "family" | "makes" | "portion" | "cooked" => next.starts_with(char::is_numeric),
        "step" => crate::reference::process::Process::from_word(next.trim_end_matches([':', ';', ','])).is_some(),
        "claim" => matches!(next.as_str(), "source" | "rich" | "low" | "free"),
        _ => false,
    };
    likely && words::line_rule(word).is_some_and(|rule| Grammar::parse(rule, line.trim_end()).is_ok())
}

pub(super) fn stray_keyword(text: &str, at: Span) -> Diagnostic {
    let word = text.get(at.range()).unwrap_or_default();
    let line_start = text.get(..at.start).and_then(|before| before.rfind(['\n', '\r'])).map_or(0, |found| found + 1);
    Diagnostic::new(
        Code::SyntaxStrayContinuation,
        at,
        format!("`{word}` is indented, so this line continues the one above"),
    )
    .help(format!("remove the blanks before `{word}`"))
    .fix(Span::new(line_start, at.start), "")
}
