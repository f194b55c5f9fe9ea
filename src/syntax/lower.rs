//! Pairs of the parser to the typed document: numbers become exact, words
//! become keywords, and what is wrong with them is said at its place.

mod amount;
pub(in crate::syntax) mod detail;
mod fault;
mod step;
mod take;

use std::borrow::Cow;

use detail::season;

use pest::Parser;
use pest::iterators::Pair;

use super::{Grammar, Kind, MOST_LINES, Rule, words};
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
        count: 0,
    };
    for line in lines {
        lower.line(line);
    }
    lower.finish()
}

/// The text that an `in TAG` line translates.
enum Target {
    None,
    /// The line above has no text; holds the place of its keyword.
    Other(Span),
    Title,
    Part,
    Take,
    Step,
    Remark,
    Picture,
    Section,
    Meal,
    Source,
    Reviewed,
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
    /// Lines, actions and foods so far.
    count: usize,
}

fn span(pair: &Pair<'_, Rule>) -> Span {
    let span = pair.as_span();
    Span::new(span.start(), span.end())
}

/// Joins a text that runs over several lines: comments and the blanks around
/// line breaks go, one blank stays.
fn unfold(text: &str) -> String {
    unfolded(text).into_owned()
}

/// The same, without a copy of a text on one line.
fn unfolded(text: &str) -> Cow<'_, str> {
    if !text.bytes().any(|byte| matches!(byte, b'\n' | b'\r')) {
        return Cow::Borrowed(text.trim());
    }
    let joined = text
        .split(['\n', '\r'])
        .enumerate()
        .map(|(at, line)| (at, line.trim()))
        .filter(|(at, line)| !line.is_empty() && (*at == 0 || !line.starts_with('#')))
        .map(|(_, line)| line)
        .collect::<Vec<_>>()
        .join(" ");
    Cow::Owned(joined)
}

/// A word in small letters, without a copy where it is written so.
fn small(word: &str) -> Cow<'_, str> {
    if word.bytes().all(|byte| byte.is_ascii() && !byte.is_ascii_uppercase()) {
        Cow::Borrowed(word)
    } else {
        Cow::Owned(word.to_lowercase())
    }
}

/// The place of a text without the blanks at its end, which the grammar takes
/// along. What else is white space was written to be there.
fn text_span(pair: &Pair<'_, Rule>) -> Span {
    let blank = |c: char| c == '\t' || c.is_whitespace() && !c.is_control() && !matches!(c, '\u{2028}' | '\u{2029}');
    let start = pair.as_span().start();
    Span::new(start, start + pair.as_str().trim_end_matches(blank).len())
}

fn placed(pair: &Pair<'_, Rule>) -> Spanned<String> {
    Spanned::new(unfold(pair.as_str()), text_span(pair))
}

fn text_of(pair: &Pair<'_, Rule>) -> Text {
    Text { value: unfold(pair.as_str()), span: text_span(pair), translations: Vec::new(), stubs: Vec::new() }
}

impl Lower<'_, '_> {
    fn line(&mut self, pair: Pair<'_, Rule>) {
        let rule = pair.as_rule();
        if matches!(rule, Rule::skip_line | Rule::bom | Rule::EOI | Rule::comment) {
            return;
        }
        let whole = span(&pair);
        let whole = Span::new(whole.start, whole.start + pair.as_str().trim_end().len());
        if !self.counts(whole) {
            return;
        }
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

    fn good_line(&mut self, pair: Pair<'_, Rule>, whole: Span) {
        let rule = pair.as_rule();
        let mut inner = pair.into_inner();
        let Some(keyword) = inner.next() else { return };
        let keyword_span = span(&keyword);
        let word = small(keyword.as_str().trim());
        if self.check_indented_keyword(whole) && rule == Rule::step_line {
            // Its words are those of two lines; nothing it names can be trusted.
            self.target = Target::Torn;
            return;
        }
        self.target = Target::Other(keyword_span);
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
                if !self.twice(self.header.id.as_ref().map(|first| first.span), keyword_span, &word) {
                    self.header.id = Some(value);
                }
            }
            Rule::language_line => {
                if self.twice(self.header.language.first().map(|first| first.span), keyword_span, &word) {
                    return;
                }
                self.header.language = inner.map(|tag| placed(&tag)).collect();
            }
            Rule::for_line => {
                let Some(ages) = inner.next() else { return };
                if self.twice(self.header.ages.as_ref().map(|first| first.span), keyword_span, &word) {
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
                if self.twice(self.dish.makes.as_ref().map(|first| first.span), keyword_span, &word) {
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
                if self.twice(self.dish.cooked.as_ref().map(|first| first.span), keyword_span, &word) {
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
                let to = inner.map_while(|food| self.counts(span(&food)).then(|| self.option(food))).collect();
                self.dish.swaps.push(Swap { from, to, span: whole });
            }
            Rule::remark_line => {
                let Some(text) = inner.next() else { return };
                let kind = match &*word {
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
                if self.twice(self.header.season.as_ref().map(|first| first.span), keyword_span, &word) {
                    return;
                }
                let months_span = span(&months);
                self.header.season = Some(Spanned::new(season(months), months_span));
            }
            Rule::reviewed_line => {
                let before = self.header.reviewed.is_some();
                self.reviewed(inner, whole, keyword_span);
                if !before && self.header.reviewed.as_ref().is_some_and(|reviewed| reviewed.by.is_some()) {
                    self.target = Target::Reviewed;
                }
            }
            Rule::source_line => {
                let Some(text) = inner.next() else { return };
                if self.twice(self.header.source.as_ref().map(|first| first.span), keyword_span, &word) {
                    return;
                }
                self.header.source = Some(text_of(&text));
                self.target = Target::Source;
            }
            Rule::picture_line => {
                let Some(path) = inner.next() else { return };
                if self.twice(self.header.picture.as_ref().map(|first| first.path.span), keyword_span, &word) {
                    return;
                }
                let description = inner.next().map(|text| text_of(&text));
                self.header.picture = Some(Picture { path: placed(&path), description });
                self.target = Target::Picture;
            }
            Rule::meal_line => {
                self.meal(inner, whole, &word);
                if self.menu.meals.last().is_some_and(|meal| meal.name.is_some()) {
                    self.target = Target::Meal;
                }
            }
            Rule::paper_line => {
                let Some(paper) = inner.next() else { return };
                if self.twice(self.booklet.paper.as_ref().map(|first| first.span), keyword_span, &word) {
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

    fn in_line(&mut self, pair: Pair<'_, Rule>) {
        let mut inner = pair.into_inner();
        let (Some(keyword), Some(tag)) = (inner.next(), inner.next()) else {
            return;
        };
        let Some(text) = inner.next() else {
            return self.stub(&keyword, &placed(&tag));
        };
        let translation =
            Translation { tag: tag.as_str().to_owned(), value: unfold(text.as_str()), span: text_span(&text) };
        let Some(list) = self.translations() else {
            return self.nothing_above(&keyword);
        };
        if let Some(first) = list.iter().find(|other| other.tag.eq_ignore_ascii_case(&translation.tag)) {
            let first = first.span;
            let word = format!("in {}", translation.tag);
            self.duplicate(translation.span, first, &word);
            return;
        }
        if translation.value == super::UNWRITTEN {
            return;
        }
        list.push(translation);
    }

    /// `in TAG` without a text: a place for a translator to write in. It is the
    /// same as a line that is missing, never an empty text.
    fn stub(&mut self, keyword: &Pair<'_, Rule>, tag: &Spanned<String>) {
        if matches!(self.target, Target::Torn) {
            return;
        }
        let Some(list) = self.translations() else {
            return self.nothing_above(keyword);
        };
        if let Some(first) = list.iter().find(|other| other.tag.eq_ignore_ascii_case(&tag.value)) {
            let first = first.span;
            let word = format!("in {}", tag.value);
            self.duplicate(tag.span, first, &word);
            return;
        }
        if let Some(text) = self.text_above() {
            text.stubs.push(tag.clone());
        }
    }

    /// The text that the line above has.
    fn text_above(&mut self) -> Option<&mut Text> {
        let parts = &mut self.dish.parts;
        match &self.target {
            Target::Title => self.header.title.as_mut(),
            Target::Part => parts.last_mut().and_then(|part| part.name.as_mut()),
            Target::Step => {
                parts.last_mut().and_then(|part| part.steps.last_mut()).and_then(|step| step.prose.as_mut())
            }
            Target::Remark => self.header.remarks.last_mut().map(|remark| &mut remark.text),
            Target::Picture => self.header.picture.as_mut().and_then(|picture| picture.description.as_mut()),
            Target::Section => match self.booklet.entries.last_mut() {
                Some(Entry::Section(text)) => Some(text),
                _ => None,
            },
            Target::Meal => self.menu.meals.last_mut().and_then(|meal| meal.name.as_mut()),
            Target::Source => self.header.source.as_mut(),
            Target::Reviewed => self.header.reviewed.as_mut().and_then(|reviewed| reviewed.by.as_mut()),
            Target::Take | Target::Torn | Target::None | Target::Other(_) => None,
        }
    }

    /// Where the translations of the line above belong.
    fn translations(&mut self) -> Option<&mut Vec<Translation>> {
        match &self.target {
            Target::Take => {
                self.dish.parts.last_mut().and_then(|part| part.takes.last_mut()).map(|take| &mut take.translations)
            }
            // A step without prose may still have a sentence in another language.
            Target::Step if self.step_is_bare() => {
                self.dish.parts.last_mut().and_then(|part| part.steps.last_mut()).map(|step| &mut step.translations)
            }
            _ => self.text_above().map(|text| &mut text.translations),
        }
    }

    fn step_is_bare(&self) -> bool {
        self.dish.parts.last().and_then(|part| part.steps.last()).is_some_and(|step| step.prose.is_none())
    }

    fn nothing_above(&mut self, keyword: &Pair<'_, Rule>) {
        let above = match &self.target {
            Target::Torn => return,
            Target::Other(place) => {
                let word = self.text.get(place.range()).unwrap_or_default().trim().to_lowercase();
                format!("the `{word}` line above has no text to translate")
            }
            _ => "there is no line above to translate".to_owned(),
        };
        self.sink.push(Diagnostic::new(Code::SyntaxBadLine, span(keyword), above).help(
            "put `in` under a dish, take, part, step, serve, store, tip, caution, note or source line, a meal with a name, or who reviewed it",
        ));
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
