//! Pairs of the parser to the typed document: numbers become exact, words
//! become keywords, and what is wrong with them is said at its place.

use pest::Parser;
use pest::iterators::Pair;

use super::{Grammar, Kind, Rule, words};
use crate::ast::*;
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::quantity::{Exact, Heap, Measure, NumberFault, Range, Size, Unit, number, parse_number};
use crate::source::{Span, Spanned};

pub fn document(kind: Kind, text: &str, lines: Vec<Pair<'_, Rule>>, sink: &mut Sink) -> Document {
    let mut lower = Lower {
        kind,
        text,
        sink,
        header: Header::default(),
        dish: Dish { parts: vec![Part::default()], ..Dish::default() },
        menu: Menu::default(),
        booklet: Booklet::default(),
        target: Target::None,
        first: None,
        title_line: None,
    };
    for line in lines {
        lower.line(line);
    }
    lower.finish()
}

/// The text that an `in TAG` line translates.
enum Target {
    None,
    /// The line above has no text; holds its keyword.
    Other(String),
    Title,
    Part,
    Take,
    Step,
    Remark,
    Picture,
    Section,
    /// The line above could not be read: its translation is dropped silently.
    Torn,
}

struct Lower<'a, 's> {
    kind: Kind,
    text: &'a str,
    sink: &'s mut Sink,
    header: Header,
    dish: Dish,
    menu: Menu,
    booklet: Booklet,
    target: Target,
    /// Span of the first line that is no comment.
    first: Option<Span>,
    title_line: Option<Span>,
}

fn span(pair: &Pair<'_, Rule>) -> Span {
    let span = pair.as_span();
    Span::new(span.start(), span.end())
}

/// Joins a text that runs over several lines: comments and the blanks around
/// line breaks go, one blank stays.
fn unfold(text: &str) -> String {
    if !text.contains(['\n', '\r']) {
        return text.trim().to_owned();
    }
    text.split(['\n', '\r'])
        .enumerate()
        .map(|(at, line)| (at, line.trim()))
        .filter(|(at, line)| !line.is_empty() && (*at == 0 || !line.starts_with('#')))
        .map(|(_, line)| line)
        .collect::<Vec<_>>()
        .join(" ")
}

fn placed(pair: &Pair<'_, Rule>) -> Spanned<String> {
    Spanned::new(unfold(pair.as_str()), span(pair))
}

fn text_of(pair: &Pair<'_, Rule>) -> Text {
    Text { value: unfold(pair.as_str()), span: span(pair), translations: Vec::new() }
}

impl Lower<'_, '_> {
    fn line(&mut self, pair: Pair<'_, Rule>) {
        let rule = pair.as_rule();
        if matches!(rule, Rule::skip_line | Rule::bom | Rule::EOI | Rule::comment) {
            return;
        }
        let whole = span(&pair);
        let whole = Span::new(whole.start, whole.start + pair.as_str().trim_end().len());
        if self.first.is_none() && rule != Rule::stray {
            self.first = Some(whole);
        }
        match rule {
            Rule::stray => self.stray(whole, pair.as_str()),
            Rule::bad_line => self.bad_line(pair, whole),
            Rule::in_line => self.in_line(pair),
            _ => self.good_line(pair, whole),
        }
    }

    fn stray(&mut self, whole: Span, text: &str) {
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

    fn good_line(&mut self, pair: Pair<'_, Rule>, whole: Span) {
        let rule = pair.as_rule();
        let mut inner = pair.into_inner();
        let Some(keyword) = inner.next() else { return };
        let keyword_span = span(&keyword);
        let word = keyword.as_str().trim().to_lowercase();
        self.check_indented_keyword(whole);
        self.target = Target::Other(word.clone());
        match rule {
            Rule::dish_line | Rule::menu_line | Rule::booklet_line => {
                let Some(text) = inner.next() else { return };
                if let Some(first) = self.title_line {
                    self.duplicate(keyword_span, first, &word);
                    self.target = Target::Torn;
                    return;
                }
                self.title_line = Some(keyword_span);
                self.header.title = Some(text_of(&text));
                self.target = Target::Title;
            }
            Rule::id_line => {
                let Some(slug) = inner.next() else { return };
                let value = placed(&slug);
                if let Some(first) = &self.header.id {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                } else {
                    self.header.id = Some(value);
                }
            }
            Rule::language_line => {
                if let Some(first) = self.header.language.first() {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                self.header.language = inner.map(|tag| placed(&tag)).collect();
            }
            Rule::for_line => {
                let Some(ages) = inner.next() else { return };
                if let Some(first) = &self.header.ages {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                let ages_span = span(&ages);
                let breastfed = inner.next().map(|feeding| !feeding.as_str().to_lowercase().starts_with("not"));
                match self.ages(ages) {
                    Some(mut value) => {
                        value.breastfed = breastfed;
                        self.header.ages = Some(Spanned::new(value, ages_span));
                    }
                    None => self.tear(&word, whole),
                }
            }
            Rule::makes_line => {
                let Some(makes) = inner.next() else { return };
                if let Some(first) = &self.dish.makes {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                let makes_span = span(&makes);
                match self.makes(makes) {
                    Some(value) => self.dish.makes = Some(Spanned::new(value, makes_span)),
                    None => self.tear(&word, whole),
                }
            }
            Rule::cooked_line => {
                let Some(value) = inner.next() else { return };
                if let Some(first) = &self.dish.cooked {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                let value_span = span(&value);
                match self.cooked(value) {
                    Some(cooked) => self.dish.cooked = Some(Spanned::new(cooked, value_span)),
                    None => self.tear(&word, whole),
                }
            }
            Rule::portion_line => self.portion(inner, whole, keyword_span),
            Rule::claim_line => self.claim(inner, whole, keyword_span),
            Rule::diet_line => {
                let diets: Vec<_> = inner.map(|diet| placed(&diet)).collect();
                self.dish.diets.extend(diets);
            }
            Rule::take_line | Rule::family_line => {
                let Some(takes) = inner.next() else { return };
                let take = self.take(takes, rule == Rule::family_line, whole);
                self.part().takes.push(take);
                self.target = Target::Take;
            }
            Rule::part_line => {
                let Some(name) = inner.next() else { return };
                let name = text_of(&name);
                let first = self
                    .dish
                    .parts
                    .iter()
                    .filter_map(|part| part.name.as_ref())
                    .find(|other| other.value.to_lowercase() == name.value.to_lowercase())
                    .map(|other| other.span);
                if let Some(first) = first {
                    self.duplicate(keyword_span, first, &word);
                }
                self.dish.parts.push(Part { name: Some(name), ..Part::default() });
                self.target = Target::Part;
            }
            Rule::step_line => {
                let step = self.step(inner, whole);
                self.part().steps.push(step);
                self.target = Target::Step;
            }
            Rule::swap_line => {
                let Some(from) = inner.next() else { return };
                let from = placed(&from);
                let to = inner.map(|food| self.option(food)).collect();
                self.dish.swaps.push(Swap { from, to, span: whole });
            }
            Rule::remark_line => {
                let Some(text) = inner.next() else { return };
                let kind = match word.as_str() {
                    "serve" => RemarkKind::Serve,
                    "store" => RemarkKind::Store,
                    "tip" => RemarkKind::Tip,
                    "caution" => RemarkKind::Caution,
                    _ => RemarkKind::Note,
                };
                self.header.remarks.push(Remark { kind, text: text_of(&text) });
                self.target = Target::Remark;
            }
            Rule::season_line => {
                let Some(months) = inner.next() else { return };
                if let Some(first) = &self.header.season {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                let months_span = span(&months);
                self.header.season = Some(Spanned::new(season(months), months_span));
            }
            Rule::reviewed_line => self.reviewed(inner, whole, keyword_span),
            Rule::source_line => {
                let Some(text) = inner.next() else { return };
                if let Some(first) = &self.header.source {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                self.header.source = Some(placed(&text));
            }
            Rule::picture_line => {
                let Some(path) = inner.next() else { return };
                if let Some(first) = &self.header.picture {
                    let first = first.path.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                let description = inner.next().map(|text| text_of(&text));
                self.header.picture = Some(Picture { path: placed(&path), description });
                self.target = Target::Picture;
            }
            Rule::meal_line => self.meal(inner, whole, &word),
            Rule::paper_line => {
                let Some(paper) = inner.next() else { return };
                if let Some(first) = &self.booklet.paper {
                    let first = first.span;
                    self.duplicate(keyword_span, first, &word);
                    return;
                }
                self.booklet.paper = Some(placed(&paper));
            }
            Rule::section_line => {
                let Some(text) = inner.next() else { return };
                self.booklet.entries.push(Entry::Section(text_of(&text)));
                self.target = Target::Section;
            }
            Rule::page_line => {
                let mut menu = false;
                for part in inner {
                    match part.as_rule() {
                        Rule::page_kind => menu = part.as_str().eq_ignore_ascii_case("menu"),
                        _ => self.booklet.entries.push(Entry::Page { menu, slug: placed(&part) }),
                    }
                }
            }
            Rule::annex_line => {
                self.booklet.entries.push(Entry::Annex(inner.map(|slug| placed(&slug)).collect()));
            }
            _ => {}
        }
    }

    /// A keyword at the start of a continuation is usually an indented line,
    /// and what it holds would be lost inside the line above.
    fn check_indented_keyword(&mut self, whole: Span) {
        if let Some(at) = self.indented_keyword(whole) {
            self.sink.push(stray_keyword(self.text, at));
            let word = self.text.get(at.range()).unwrap_or_default().to_owned();
            self.tear(&word, whole);
        }
    }

    /// The first continuation of this line that begins with a keyword. Prose
    /// may begin with such a word too ("for the child", "take care"), so there
    /// the rest has to read like a line of its own.
    fn indented_keyword(&self, whole: Span) -> Option<Span> {
        let text = self.text.get(whole.range())?;
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
            let rest = trimmed.get(word.len()..).unwrap_or_default();
            if !words::keywords(self.kind).contains(&word.as_str()) || !rest.starts_with([' ', '\t']) {
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

    fn bad_line(&mut self, pair: Pair<'_, Rule>, whole: Span) {
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
    fn unreadable(&mut self, keyword: &str, whole: Span) {
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
        expected.dedup();
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

    fn tear(&mut self, keyword: &str, whole: Span) {
        let text = self.text.get(whole.range()).unwrap_or_default().to_lowercase();
        self.header.torn.push(TornLine { keyword: keyword.to_owned(), text });
    }

    fn duplicate(&mut self, again: Span, first: Span, word: &str) {
        self.sink.push(
            Diagnostic::new(Code::SyntaxDuplicateLine, again, format!("a second `{word}` line; one is enough"))
                .label(first, "the first is here")
                .help("keep one of the two"),
        );
    }

    fn in_line(&mut self, pair: Pair<'_, Rule>) {
        let mut inner = pair.into_inner();
        let (Some(keyword), Some(tag), Some(text)) = (inner.next(), inner.next(), inner.next()) else {
            return;
        };
        let translation = Translation { tag: tag.as_str().to_owned(), value: unfold(text.as_str()), span: span(&text) };
        let parts = &mut self.dish.parts;
        let list = match &self.target {
            Target::Title => self.header.title.as_mut().map(|title| &mut title.translations),
            Target::Part => parts.last_mut().and_then(|part| part.name.as_mut()).map(|name| &mut name.translations),
            Target::Take => parts.last_mut().and_then(|part| part.takes.last_mut()).map(|take| &mut take.translations),
            Target::Step => parts.last_mut().and_then(|part| part.steps.last_mut()).map(|step| match &mut step.prose {
                Some(prose) => &mut prose.translations,
                None => &mut step.translations,
            }),
            Target::Remark => self.header.remarks.last_mut().map(|remark| &mut remark.text.translations),
            Target::Picture => self
                .header
                .picture
                .as_mut()
                .and_then(|picture| picture.description.as_mut())
                .map(|text| &mut text.translations),
            Target::Section => match self.booklet.entries.last_mut() {
                Some(Entry::Section(text)) => Some(&mut text.translations),
                _ => None,
            },
            Target::Torn => return,
            Target::None | Target::Other(_) => None,
        };
        let Some(list) = list else {
            let above = match &self.target {
                Target::Other(word) => format!("the `{word}` line above has no text to translate"),
                _ => "there is no line above to translate".to_owned(),
            };
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadLine, span(&keyword), above)
                    .help("put `in` under a dish, take, part, step, serve, store, tip, caution or note line"),
            );
            return;
        };
        if let Some(first) = list.iter().find(|other| other.tag.eq_ignore_ascii_case(&translation.tag)) {
            let first = first.span;
            let word = format!("in {}", translation.tag);
            self.duplicate(translation.span, first, &word);
            return;
        }
        list.push(translation);
    }

    fn part(&mut self) -> &mut Part {
        if self.dish.parts.is_empty() {
            self.dish.parts.push(Part::default());
        }
        let last = self.dish.parts.len() - 1;
        #[allow(clippy::indexing_slicing)]
        // One part was pushed above where there was none.
        &mut self.dish.parts[last]
    }

    // ------------------------------------------------------------ numbers

    fn number(&mut self, pair: &Pair<'_, Rule>) -> Option<Exact> {
        let text = unfold(pair.as_str());
        let place = span(pair);
        if text.starts_with(['-', '−', '+']) {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} has a sign", quote(&text)))
                    .help("write the number without a sign")
                    .fix(place, text.trim_start_matches(['-', '−', '+'])),
            );
            return None;
        }
        let fault = match parse_number(&text) {
            Ok(value) if value.value() <= number::LARGEST as f64 => return Some(value),
            Ok(_) => NumberFault::TooLarge,
            Err(fault) => fault,
        };
        let message = match fault {
            NumberFault::CommaDecimal(pointed) => {
                Diagnostic::new(Code::SyntaxCommaDecimal, place, format!("{} has a decimal comma", quote(&text)))
                    .help(format!("write it with a point: `{pointed}`"))
                    .fix(place, pointed)
            }
            NumberFault::ZeroDenominator => {
                Diagnostic::new(Code::SyntaxZeroDenominator, place, format!("{} divides by zero", quote(&text)))
                    .help("write a fraction such as `1/2`")
            }
            NumberFault::TooLarge => {
                Diagnostic::new(Code::SyntaxNumberTooLarge, place, format!("{} is too large a number", quote(&text)))
                    .help(format!("the largest number that can be written is {}", number::LARGEST))
            }
            NumberFault::Unreadable => {
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} is no number", quote(&text)))
                    .help("write `2`, `0.5`, `1/2`, `1 1/2` or `½`")
            }
        };
        self.sink.push(message);
        None
    }

    fn range(&mut self, pair: Pair<'_, Rule>) -> Option<Range> {
        let place = span(&pair);
        let numbers: Vec<_> = pair.into_inner().filter(|part| part.as_rule() == Rule::number).collect();
        let mut values = Vec::with_capacity(2);
        for one in &numbers {
            values.push(self.number(one)?);
        }
        match values.as_slice() {
            [one] => Some(Range::exactly(*one)),
            [low, high] if low > high => {
                let (a, b) = (numbers.first()?.as_str().trim(), numbers.get(1)?.as_str().trim());
                // `1-1/2` is how some people write one and a half.
                let mixed = low.denominator() == 1 && *high < Exact::whole(1) && b.contains(['/', '⁄']);
                let mut message = Diagnostic::new(
                    Code::SyntaxReversedRange,
                    place,
                    format!("the range runs backwards, from {low} to {high}"),
                );
                message = if mixed {
                    message.help(format!("for one number write `{a} {b}`; for a range write `{b} to {a}`"))
                } else {
                    message.help(format!("write `{b} to {a}`")).fix(place, format!("{b} to {a}"))
                };
                self.sink.push(message);
                None
            }
            [low, high] => Some(Range { low: *low, high: *high }),
            _ => None,
        }
    }

    fn measure(pair: Pair<'_, Rule>) -> Measure {
        let mut measure = Measure::of(Unit::Piece(crate::quantity::PieceUnit::Piece));
        for part in pair.into_inner() {
            let word = part.as_str().trim().to_lowercase();
            match part.as_rule() {
                Rule::unit => {
                    if let Some(unit) = Unit::from_word(&word) {
                        measure.unit = unit;
                    }
                }
                Rule::size => {
                    measure.size = Some(match word.as_str() {
                        "small" => Size::Small,
                        "large" => Size::Large,
                        _ => Size::Medium,
                    });
                }
                Rule::heap => {
                    measure.heap = Some(if word == "level" { Heap::Level } else { Heap::Heaped });
                }
                _ => {}
            }
        }
        measure
    }

    fn amount(&mut self, pair: Pair<'_, Rule>) -> Amount {
        let place = span(&pair);
        let mut range = Some(Range::exactly(Exact::whole(1)));
        let mut numbered = false;
        let mut measure = None;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::range => {
                    numbered = true;
                    range = self.range(part);
                }
                Rule::measure => measure = Some(Self::measure(part)),
                Rule::bare => {
                    let word = part.as_str().split_whitespace().next().unwrap_or_default();
                    measure = Unit::from_word(word).map(Measure::of);
                }
                _ => {}
            }
        }
        let place =
            Span::new(place.start, place.start + self.text.get(place.range()).unwrap_or_default().trim_end().len());
        match (range, measure) {
            (None, _) => Amount::Unreadable(place),
            (Some(range), _) if numbered && range.high.is_zero() => {
                self.sink.push(
                    Diagnostic::new(Code::SyntaxBadQuantity, place, "an amount of nothing")
                        .help("write how much goes in, or remove the line"),
                );
                Amount::Unreadable(place)
            }
            (Some(range), Some(measure)) => Amount::Measured { range, measure, span: place },
            (Some(range), None) => Amount::Count { range, span: place },
        }
    }

    fn ages(&mut self, pair: Pair<'_, Rule>) -> Option<Ages> {
        let place = span(&pair);
        let open = pair.as_str().get(..4).is_some_and(|start| start.eq_ignore_ascii_case("from"));
        let mut values = Vec::with_capacity(2);
        let mut months = 1;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::age => {
                    let number = part.into_inner().next()?;
                    let value = self.number(&number)?;
                    if value.denominator() != 1 {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&number),
                                format!("{} is no whole number of months", quote(number.as_str())),
                            )
                            .help("ages are completed months, such as `6 to 8 months`"),
                        );
                        return None;
                    }
                    values.push(value);
                }
                Rule::months_word => {
                    let word = part.as_str().to_lowercase();
                    if word.starts_with("week") {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&part),
                                "ages are given in months, not weeks",
                            )
                            .help("write completed months, such as `6 to 8 months`"),
                        );
                        return None;
                    }
                    months = if word.starts_with("year") { 12 } else { 1 };
                }
                _ => {}
            }
        }
        let mut in_months = Vec::with_capacity(2);
        for value in values {
            let value = value.numerator() * months;
            match u16::try_from(value) {
                Ok(value) if value <= 240 => in_months.push(value),
                _ => {
                    self.sink.push(
                        Diagnostic::new(Code::SyntaxNumberTooLarge, place, format!("{value} months is no young child"))
                            .help("ages are completed months, such as `9 to 23 months`"),
                    );
                    return None;
                }
            }
        }
        match in_months.as_slice() {
            [one] => Some(Ages { from: *one, to: if open { None } else { Some(*one) }, breastfed: None }),
            [from, to] if from > to => {
                self.sink.push(
                    Diagnostic::new(
                        Code::SyntaxReversedRange,
                        place,
                        format!("the ages run backwards, from {from} to {to} months"),
                    )
                    .help(format!("write `{to} to {from} months`"))
                    .fix(place, format!("{to} to {from} months")),
                );
                None
            }
            [from, to] => Some(Ages { from: *from, to: Some(*to), breastfed: None }),
            _ => None,
        }
    }

    fn makes(&mut self, pair: Pair<'_, Rule>) -> Option<Makes> {
        let mut range = None;
        let mut measure = None;
        let mut piece = None;
        let mut portions = false;
        let mut each = None;
        let whole = span(&pair);
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::range => range = Some(self.range(part)?),
                Rule::measure => measure = Some(Self::measure(part)),
                Rule::made_piece => piece = Some(unfold(part.as_str())),
                Rule::portions_word => portions = true,
                Rule::amount => match self.amount(part) {
                    Amount::Measured { range, measure, .. } => each = Some((range, measure)),
                    Amount::Count { range, .. } => {
                        each = Some((range, Measure::of(Unit::Piece(crate::quantity::PieceUnit::Piece))));
                    }
                    _ => return None,
                },
                _ => {}
            }
        }
        let range = range?;
        if range.high.is_zero() {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, whole, "an amount of nothing")
                    .help("write how much there is, such as `3 cups`"),
            );
            return None;
        }
        Some(match (portions, measure, piece) {
            (true, _, _) => Makes::Portions(range, each),
            (_, Some(measure), _) => Makes::Measured(range, measure),
            (_, None, Some(word)) => {
                let first = word.split(' ').next().unwrap_or_default().to_lowercase();
                let near = did_you_mean(&first, crate::quantity::unit::SPELLINGS.iter().map(|(spelling, _)| *spelling));
                let vessel = NO_UNITS.contains(&first.as_str());
                if vessel || near.is_some() || range.high.denominator() != 1 {
                    let mut message = Diagnostic::new(
                        Code::MeasureUnknownUnit,
                        whole,
                        format!("{} is no measure that is known here", quote(&word)),
                    );
                    message = match near.filter(|_| !vessel) {
                        Some(near) => message.help(format!("did you mean `{near}`?")),
                        None => message.help("measure it in cups, spoons, mL or grams, or count whole pieces"),
                    };
                    self.sink.push(message);
                    return None;
                }
                Makes::Pieces(range, word)
            }
            _ => return None,
        })
    }

    fn cooked(&mut self, pair: Pair<'_, Rule>) -> Option<Cooked> {
        let place = span(&pair);
        match pair.as_rule() {
            Rule::percent => {
                let number = pair.into_inner().next()?;
                let value = self.number(&number)?;
                if value.is_zero() {
                    self.sink.push(
                        Diagnostic::new(Code::SyntaxBadQuantity, place, "a cooked weight of nothing")
                            .help("write the cooked weight in percent of the raw weight, such as `112 %`"),
                    );
                    return None;
                }
                Some(Cooked::Percent(value))
            }
            _ => match self.amount(pair) {
                Amount::Measured { range, measure, .. } if measure.unit.grams().is_some() => {
                    if !range.is_single() {
                        self.sink.push(
                            Diagnostic::new(Code::SyntaxBadQuantity, place, "a measured weight is one number")
                                .help("weigh the cooked dish and write `cooked 420 g`"),
                        );
                        return None;
                    }
                    let scale = match measure.unit {
                        Unit::Kilogram => Exact::whole(1000),
                        Unit::Milligram => Exact::fraction(1, 1000)?,
                        _ => Exact::whole(1),
                    };
                    range.low.times(scale).map(Cooked::Grams)
                }
                Amount::Unreadable(_) => None,
                _ => {
                    self.sink.push(
                        Diagnostic::new(Code::SyntaxBadQuantity, place, "the cooked weight is no weight")
                            .help("write `cooked 420 g`, or percent of the raw weight: `cooked 112 %`"),
                    );
                    None
                }
            },
        }
    }

    // ------------------------------------------------------------ lines

    fn portion(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, keyword: Span) {
        let mut ages = None;
        for part in inner {
            match part.as_rule() {
                Rule::ages => {
                    let place = span(&part);
                    match self.ages(part) {
                        Some(value) => ages = Some(Spanned::new(value, place)),
                        None => return self.tear("portion", whole),
                    }
                }
                Rule::makes => {
                    let place = span(&part);
                    let Some(amount) = self.makes(part) else {
                        return self.tear("portion", whole);
                    };
                    let same = self
                        .dish
                        .portions
                        .iter()
                        .find(|other| other.ages.map(|ages| ages.value) == ages.map(|ages| ages.value))
                        .map(|other| other.span);
                    if let Some(first) = same {
                        self.duplicate(keyword, first, "portion");
                        return;
                    }
                    self.dish.portions.push(Portion { ages, amount: Spanned::new(amount, place), span: whole });
                }
                _ => {}
            }
        }
    }

    fn claim(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, keyword: Span) {
        let mut kind = ClaimKind::SourceOf;
        for part in inner {
            match part.as_rule() {
                Rule::claim_kind => {
                    let words = unfold(part.as_str()).to_lowercase();
                    kind = match words.split_whitespace().next() {
                        Some("rich" | "high") => ClaimKind::RichIn,
                        Some("low") => ClaimKind::LowIn,
                        Some("free") => ClaimKind::FreeOf,
                        _ => ClaimKind::SourceOf,
                    };
                }
                Rule::claimed => {
                    let subject = placed(&part);
                    let same = self
                        .dish
                        .claims
                        .iter()
                        .find(|other| other.kind == kind && other.subject.value.eq_ignore_ascii_case(&subject.value))
                        .map(|other| other.span);
                    if let Some(first) = same {
                        self.duplicate(keyword, first, "claim");
                        return;
                    }
                    self.dish.claims.push(Claim { kind, subject, span: whole });
                }
                _ => {}
            }
        }
    }

    fn take(&mut self, pair: Pair<'_, Rule>, family: bool, whole: Span) -> Take {
        let mut take = Take { family, options: Vec::new(), alias: None, translations: Vec::new(), span: whole };
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::option => {
                    let option = self.option(part);
                    take.options.push(option);
                }
                Rule::alias => take.alias = part.into_inner().next().map(|name| placed(&name)),
                _ => {}
            }
        }
        let first_has_amount = take
            .options
            .first()
            .is_some_and(|option| !matches!(option.amount, Amount::Missing) || option.weight.is_some());
        if !first_has_amount && let Some(option) = take.options.first_mut() {
            let place = option.food.span;
            option.amount = Amount::Unreadable(place);
            let name = match &option.food.value {
                FoodName::Name(name) => name.clone(),
                _ => String::new(),
            };
            // The food behind a slip in the amount is still the food.
            if let Some(rest) = food_behind(&name) {
                option.food.span.start = option.food.span.end.saturating_sub(rest.len());
                option.food.value = FoodName::Name(rest);
            }
            self.missing_amount(name, place);
        }
        take
    }

    fn missing_amount(&mut self, name: String, place: Span) {
        let first = name.split_whitespace().next().unwrap_or_default().to_lowercase();
        let rest = name.get(first.len()..).unwrap_or_default().trim();
        if let Some(value) = number_word(&first) {
            let word = Span::new(place.start, place.start + first.len());
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, word, format!("{} is written as a word", quote(&first)))
                    .help(format!("write the number in digits: `{value} {rest}`"))
                    .fix(word, value),
            );
        } else if first.starts_with(|c: char| c.is_numeric() || c == '.' || c == '-') {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} is no amount", quote(&first)))
                    .help("write `2`, `0.5`, `1/2` or `1 1/2`, a blank, and the unit"),
            );
        } else {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("no amount of {}", quote(&name)))
                    .help("write how much goes in, such as `1/2 cup` or `100 g`, before the food"),
            );
        }
    }

    fn option(&mut self, pair: Pair<'_, Rule>) -> TakeOption {
        let whole = span(&pair);
        let mut option = TakeOption {
            amount: Amount::Missing,
            food: Spanned::new(FoodName::Name(String::new()), whole),
            states: Vec::new(),
            weight: None,
            keep: None,
            span: Span::new(whole.start, whole.start + pair.as_str().trim_end().len()),
        };
        for part in pair.into_inner() {
            let place = span(&part);
            match part.as_rule() {
                Rule::amount => option.amount = self.amount(part),
                Rule::food => option.food = Spanned::new(food_name(part), place),
                Rule::state => {
                    let state = placed(&part);
                    if state.value.eq_ignore_ascii_case("to taste") {
                        option.amount = Amount::ToTaste(state.span);
                    } else {
                        option.states.push(Spanned::new(state.value.to_lowercase(), state.span));
                    }
                }
                Rule::bracket => self.bracket(part, &mut option),
                Rule::keep => {
                    let code = part.as_str().rsplit([':', ' ', '\t']).next().unwrap_or_default();
                    let value = match code.trim().parse::<u32>() {
                        Ok(0) => Keep::None,
                        Ok(code) => Keep::Code(code),
                        Err(_) if code.trim().starts_with(char::is_numeric) => Keep::Code(u32::MAX),
                        Err(_) => Keep::None,
                    };
                    option.keep = Some(Spanned::new(value, place));
                }
                _ => {}
            }
        }
        if let FoodName::Name(name) = &mut option.food.value {
            let lower = name.to_lowercase();
            if let Some(cut) = lower.strip_suffix(" to taste").map(str::len) {
                let taste = Span::new(option.food.span.start + cut, option.food.span.end);
                name.truncate(cut);
                option.food.span.end = option.food.span.start + cut;
                option.amount = Amount::ToTaste(taste);
            }
        }
        option
    }

    /// `(92 g)`: a weighed amount. Anything else in brackets may belong to a
    /// full composition name, so it is kept as a state and looked at later.
    fn bracket(&mut self, pair: Pair<'_, Rule>, option: &mut TakeOption) {
        let place = span(&pair);
        let Some(inner) = pair.into_inner().next() else {
            return;
        };
        let text = inner.as_str().trim();
        let amount = Grammar::parse(Rule::amount, text)
            .ok()
            .and_then(|mut pairs| pairs.next())
            .filter(|pair| pair.as_str().trim_end().len() == text.len());
        let offset = place.start + 1 + (inner.as_str().len() - inner.as_str().trim_start().len());
        let Some(pair) = amount else {
            option.states.push(Spanned::new(format!("({text})").to_lowercase(), place));
            return;
        };
        // The inner parse counts from the bracket: report at the bracket.
        let mut inner_sink = Sink::new();
        let value = {
            let mut lower = Lower {
                kind: self.kind,
                text,
                sink: &mut inner_sink,
                header: Header::default(),
                dish: Dish::default(),
                menu: Menu::default(),
                booklet: Booklet::default(),
                target: Target::None,
                first: None,
                title_line: None,
            };
            lower.amount(pair)
        };
        for mut message in inner_sink.finish() {
            message.span = shift(message.span, offset);
            if let Some(fix) = &mut message.fix {
                fix.span = shift(fix.span, offset);
            }
            self.sink.push(message);
        }
        match value {
            Amount::Measured { range, measure, .. } if measure.unit.grams().is_some() => {
                let factor = match measure.unit {
                    Unit::Kilogram => Exact::whole(1000),
                    Unit::Milligram => Exact::fraction(1, 1000).unwrap_or(Exact::whole(1)),
                    _ => Exact::whole(1),
                };
                if let (Some(low), Some(high)) = (range.low.times(factor), range.high.times(factor)) {
                    option.weight = Some(Spanned::new(Range { low, high }, place));
                }
            }
            Amount::Unreadable(_) => {
                option.amount = match option.amount {
                    // The weight was meant to count; without it the measure stands.
                    Amount::Missing => Amount::Unreadable(place),
                    ref other => other.clone(),
                }
            }
            _ => {
                self.sink.push(
                    Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} is no weight", quote(text)))
                        .help("brackets after a food hold its weight in grams: `(92 g)`"),
                );
            }
        }
    }

    fn step(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span) -> Step {
        let mut step = Step { actions: Vec::new(), prose: None, translations: Vec::new(), span: whole };
        for part in inner {
            match part.as_rule() {
                Rule::head => {
                    for action in part.into_inner() {
                        self.action(action, &mut step.actions);
                    }
                }
                Rule::prose => step.prose = Some(text_of(&part)),
                _ => {}
            }
        }
        step
    }

    fn action(&mut self, pair: Pair<'_, Rule>, actions: &mut Vec<Action>) {
        let whole = span(&pair);
        let mut action = Action {
            process: Spanned::new(String::new(), whole),
            objects: Vec::new(),
            with: Vec::new(),
            medium: None,
            duration: None,
            heat: None,
            celsius: None,
            until: None,
            unattended: false,
            torn: false,
            span: whole,
        };
        for part in pair.into_inner() {
            let place = span(&part);
            match part.as_rule() {
                Rule::process => {
                    action.process = Spanned::new(unfold(part.as_str()).to_lowercase(), place);
                }
                Rule::objects => action.objects = part.into_inner().map(|object| placed(&object)).collect(),
                Rule::with_clause => {
                    if let Some(objects) = part.into_inner().next() {
                        action.with.extend(objects.into_inner().map(|object| placed(&object)));
                    }
                }
                Rule::in_clause => action.medium = part.into_inner().next().map(|medium| placed(&medium)),
                Rule::for_clause => {
                    if let Some(duration) = part.into_inner().next() {
                        action.duration = self.duration(duration).map(|value| Spanned::new(value, place));
                        action.torn |= action.duration.is_none();
                    }
                }
                Rule::bare_overnight => action.duration = Some(Spanned::new(Duration::Overnight, place)),
                Rule::for_whom => {
                    let child = part.as_str().to_lowercase();
                    if child.ends_with("child") || child.ends_with("children") || child.ends_with("baby") {
                        action.objects.push(Spanned::new("child portion".to_owned(), place));
                    }
                }
                Rule::on_clause => {
                    action.heat =
                        part.into_inner().next().map(|level| match level.as_str().trim().to_lowercase().as_str() {
                            "low" => HeatLevel::Low,
                            "high" => HeatLevel::High,
                            _ => HeatLevel::Medium,
                        });
                }
                Rule::at_clause => self.temperature(part, &mut action),
                Rule::until_clause => action.until = part.into_inner().next().map(|cue| placed(&cue)),
                Rule::unattended => action.unattended = true,
                _ => {}
            }
        }
        actions.push(action);
    }

    fn temperature(&mut self, pair: Pair<'_, Rule>, action: &mut Action) {
        let place = span(&pair);
        let mut value = None;
        let mut fahrenheit = false;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::number => value = self.number(&part),
                Rule::degrees => fahrenheit = part.as_str().to_lowercase().ends_with('f'),
                _ => {}
            }
        }
        let Some(value) = value else { return };
        if fahrenheit {
            let celsius = ((value.value() - 32.0) * 5.0 / 9.0).round();
            self.sink.push(
                Diagnostic::new(Code::MeasureUnknownUnit, place, "temperatures are given in degrees Celsius")
                    .help(format!("write `at {celsius} C`"))
                    .fix(place, format!("at {celsius} C")),
            );
            return;
        }
        action.celsius = Some(value.value().round() as i64);
    }

    fn duration(&mut self, pair: Pair<'_, Rule>) -> Option<Duration> {
        let place = span(&pair);
        let mut spans = Vec::with_capacity(2);
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::overnight => return Some(Duration::Overnight),
                Rule::whistles => {
                    let range = part.into_inner().next()?;
                    let range = self.range(range)?;
                    if range.high.is_zero() {
                        self.sink.push(
                            Diagnostic::new(Code::SyntaxBadQuantity, place, "a time of nothing")
                                .help("write how many whistles, such as `3 whistles`"),
                        );
                        return None;
                    }
                    return Some(Duration::Whistles(range));
                }
                Rule::long_span => spans.push(self.long_span(part)?),
                _ => {}
            }
        }
        let (low, unit) = spans.first().map(|(range, unit)| (range.low, *unit))?;
        let high = spans.last().map(|(range, _)| range.high)?;
        if low > high {
            self.sink.push(
                Diagnostic::new(Code::SyntaxReversedRange, place, "the time runs from long to short")
                    .help("write the shorter time first"),
            );
            return None;
        }
        if high.is_zero() {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, "a time of nothing")
                    .help("write how long it takes, such as `10 min`"),
            );
            return None;
        }
        Some(Duration::Minutes { low, high, unit })
    }

    fn long_span(&mut self, pair: Pair<'_, Rule>) -> Option<(Range, TimeUnit)> {
        let place = span(&pair);
        let mut range: Option<Range> = None;
        let mut number = None;
        let mut unit = TimeUnit::Minute;
        let mut first = true;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::range => range = Some(self.range(part)?),
                Rule::number => number = Some(self.number(&part)?),
                Rule::time_unit => {
                    let (this, minutes) = time_unit(part.as_str())?;
                    let scaled = if first {
                        unit = this;
                        first = false;
                        let range_now = range?;
                        Range { low: range_now.low.times(minutes)?, high: range_now.high.times(minutes)? }
                    } else {
                        let extra = number?.times(minutes)?;
                        let so_far = range?;
                        Range { low: so_far.low.plus(extra)?, high: so_far.high.plus(extra)? }
                    };
                    range = Some(scaled);
                }
                _ => {}
            }
        }
        let range = range?;
        // A month in the pot is a slip of the unit.
        if range.high > Exact::whole(60 * 24 * 31) {
            self.sink.push(
                Diagnostic::new(Code::SyntaxNumberTooLarge, place, "a time of more than a month")
                    .help("write `min`, `h` or `days` after the number"),
            );
            return None;
        }
        Some((range, unit))
    }

    fn reviewed(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, keyword: Span) {
        if let Some(first) = &self.header.reviewed {
            let first = first.span;
            self.duplicate(keyword, first, "reviewed");
            return;
        }
        let mut reviewed = Reviewed { year: 0, month: 0, day: 0, by: None, span: whole };
        for part in inner {
            match part.as_rule() {
                Rule::date => {
                    let mut numbers = part.as_str().split('-').map(|piece| piece.parse::<i32>().unwrap_or(0));
                    let (year, month, day) =
                        (numbers.next().unwrap_or(0), numbers.next().unwrap_or(0), numbers.next().unwrap_or(0));
                    if !is_date(year, month, day) {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&part),
                                format!("{} is no date", quote(part.as_str())),
                            )
                            .help("write year, month and day: `2026-05-01`"),
                        );
                        return;
                    }
                    reviewed.year = year;
                    reviewed.month = month as u8;
                    reviewed.day = day as u8;
                }
                Rule::text => reviewed.by = Some(unfold(part.as_str())),
                _ => {}
            }
        }
        self.header.reviewed = Some(reviewed);
    }

    fn meal(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, word: &str) {
        let mut meal =
            Meal { snack: word == "snack", at: Spanned::new(0, whole), name: None, items: Vec::new(), span: whole };
        for part in inner {
            match part.as_rule() {
                Rule::clock => {
                    let (hours, minutes) = part.as_str().split_once(':').unwrap_or(("0", "0"));
                    let (hours, minutes) = (hours.parse::<u16>().unwrap_or(99), minutes.parse::<u16>().unwrap_or(99));
                    if hours > 23 || minutes > 59 {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&part),
                                format!("{} is no time of day", quote(part.as_str())),
                            )
                            .help("write hours and minutes, from `0:00` to `23:59`"),
                        );
                        continue;
                    }
                    meal.at = Spanned::new(hours * 60 + minutes, span(&part));
                }
                Rule::meal_name => meal.name = Some(placed(&part)),
                Rule::takes_item => {
                    if let Some(option) = part.into_inner().next() {
                        let option = self.option(option);
                        meal.items.push(option);
                    }
                }
                _ => {}
            }
        }
        self.menu.meals.push(meal);
    }

    fn finish(mut self) -> Document {
        if self.title_line.is_none() {
            let word = self.kind.word();
            let place = self.first.unwrap_or_default();
            let place = Span::new(place.start, place.start);
            self.sink.push(
                Diagnostic::new(Code::SyntaxMissingHeader, place, format!("this file has no `{word}` line"))
                    .help(format!("begin with the title: `{}`", words::pattern(word))),
            );
        } else if let (Some(title), Some(first)) = (self.title_line, self.first)
            && title.start > first.start
            && self.header.title.is_some()
        {
            let word = self.kind.word();
            self.sink.push(
                Diagnostic::new(
                    Code::SyntaxMissingHeader,
                    Span::new(first.start, first.start),
                    format!("the `{word}` line is not the first"),
                )
                .label(title, "it stands here")
                .help(format!("move the `{word}` line to the top")),
            );
        }
        match self.kind {
            Kind::Dish => {
                self.dish.header = self.header;
                Document::Dish(self.dish)
            }
            Kind::Menu => {
                self.menu.header = self.header;
                Document::Menu(self.menu)
            }
            Kind::Booklet => {
                self.booklet.header = self.header;
                Document::Booklet(self.booklet)
            }
        }
    }
}

fn shift(span: Span, by: usize) -> Span {
    Span::new(span.start + by, span.end + by)
}

/// Vessels and foreign units that people measure with, but of no fixed size
/// here.
const NO_UNITS: &[&str] = &[
    "mug",
    "mugs",
    "glass",
    "glasses",
    "bowl",
    "bowls",
    "spoon",
    "spoons",
    "spoonfuls",
    "ladle",
    "ladles",
    "tin",
    "tins",
    "can",
    "cans",
    "jug",
    "jugs",
    "plate",
    "plates",
    "oz",
    "ounce",
    "ounces",
    "lb",
    "lbs",
    "pound",
    "pounds",
    "pint",
    "pints",
    "quart",
    "quarts",
    "dl",
    "cl",
];

/// Whether a continuation inside prose is rather an indented line.
fn reads_like_a_line(word: &str, line: &str) -> bool {
    let next = line.split_whitespace().nth(1).unwrap_or_default().to_lowercase();
    let likely = match word {
        "take" | "family" | "makes" | "portion" | "cooked" => next.starts_with(char::is_numeric),
        "step" => crate::reference::process::Process::from_word(next.trim_end_matches([':', ';', ','])).is_some(),
        "claim" => matches!(next.as_str(), "source" | "rich" | "low" | "free"),
        _ => false,
    };
    likely && words::line_rule(word).is_some_and(|rule| Grammar::parse(rule, line.trim_end()).is_ok())
}

fn stray_keyword(text: &str, at: Span) -> Diagnostic {
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

fn food_name(pair: Pair<'_, Rule>) -> FoodName {
    let Some(inner) = pair.into_inner().next() else {
        return FoodName::Name(String::new());
    };
    match inner.as_rule() {
        Rule::row_ref => {
            let mut parts = inner.into_inner();
            let table = parts.next().map(|part| part.as_str().to_owned()).unwrap_or_default();
            let id = parts.next().map(|part| part.as_str().to_owned()).unwrap_or_default();
            FoodName::Row { table, id }
        }
        Rule::dish_ref => {
            let slug = inner.into_inner().next().map(|part| part.as_str().to_owned()).unwrap_or_default();
            FoodName::Dish(slug)
        }
        Rule::quoted => {
            let text = inner.into_inner().next().map(|part| part.as_str().trim().to_owned()).unwrap_or_default();
            FoodName::Name(text)
        }
        _ => FoodName::Name(unfold(inner.as_str())),
    }
}

fn time_unit(word: &str) -> Option<(TimeUnit, Exact)> {
    let word = word.trim().to_lowercase();
    Some(if word.starts_with('s') {
        (TimeUnit::Second, Exact::fraction(1, 60)?)
    } else if word.starts_with('m') {
        (TimeUnit::Minute, Exact::whole(1))
    } else if word.starts_with('h') {
        (TimeUnit::Hour, Exact::whole(60))
    } else {
        (TimeUnit::Day, Exact::whole(24 * 60))
    })
}

/// The food of "one medium egg", "ten tbsp rice flour", "medium egg".
fn food_behind(name: &str) -> Option<String> {
    let mut rest = name;
    let mut cut = false;
    while let Some((first, tail)) = rest.split_once(char::is_whitespace) {
        let lower = first.to_lowercase();
        let skip = number_word(&lower).is_some()
            || Unit::from_word(&lower).is_some()
            || matches!(lower.as_str(), "small" | "medium" | "large" | "heaped" | "level" | "of" | "a" | "an")
            || lower.starts_with(|c: char| c.is_numeric() || c == '-' || c == '.');
        if !skip {
            break;
        }
        rest = tail.trim_start();
        cut = true;
    }
    (cut && !rest.is_empty()).then(|| rest.to_owned())
}

fn number_word(word: &str) -> Option<&'static str> {
    const WORDS: [(&str, &str); 13] = [
        ("half", "1/2"),
        ("quarter", "1/4"),
        ("one", "1"),
        ("two", "2"),
        ("three", "3"),
        ("four", "4"),
        ("five", "5"),
        ("six", "6"),
        ("seven", "7"),
        ("eight", "8"),
        ("nine", "9"),
        ("ten", "10"),
        ("twelve", "12"),
    ];
    WORDS.iter().find(|(name, _)| *name == word).map(|(_, value)| *value)
}

fn is_date(year: i32, month: i32, day: i32) -> bool {
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        1..=12 => 31,
        _ => return false,
    };
    year >= 1900 && (1..=days).contains(&day)
}

/// Months from 1 to 12; a span may run over the new year.
fn season(pair: Pair<'_, Rule>) -> Vec<u8> {
    let mut months = Vec::new();
    for part in pair.into_inner() {
        if part.as_rule() == Rule::all_year {
            return (1..=12).collect();
        }
        let ends: Vec<u8> = part.into_inner().filter_map(|month| month_number(month.as_str())).collect();
        let (Some(first), Some(last)) = (ends.first(), ends.last()) else {
            continue;
        };
        let mut month = *first;
        loop {
            if !months.contains(&month) {
                months.push(month);
            }
            if month == *last {
                break;
            }
            month = month % 12 + 1;
        }
    }
    months
}

fn month_number(word: &str) -> Option<u8> {
    const NAMES: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let start = word.trim().to_lowercase();
    let start = start.get(..3)?;
    NAMES.iter().position(|name| *name == start).and_then(|at| u8::try_from(at + 1).ok())
}
