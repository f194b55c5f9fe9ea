//! The meaning of every word, for an editor's colours.

use lsp_types::{SemanticTokenModifier, SemanticTokenType};

use crate::ast::{Amount, Document, Entry, Header, Take, TakeOption, Text};
use crate::lsp::names;
use crate::lsp::view::View;
use crate::resolve::Referent;
use crate::source::{Source, Span};
use crate::syntax::NodeKind;

/// What a word is. The order is that of [`TYPES`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Keyword,
    Process,
    Number,
    Food,
    State,
    Ingredient,
    Part,
    Text,
    Comment,
    Claim,
}

/// The protocol's words for [`Kind`].
pub const TYPES: [SemanticTokenType; 10] = [
    SemanticTokenType::KEYWORD,
    SemanticTokenType::FUNCTION,
    SemanticTokenType::NUMBER,
    SemanticTokenType::TYPE,
    SemanticTokenType::ENUM_MEMBER,
    SemanticTokenType::VARIABLE,
    SemanticTokenType::NAMESPACE,
    SemanticTokenType::STRING,
    SemanticTokenType::COMMENT,
    SemanticTokenType::PROPERTY,
];

/// The one modifier: where a name is given.
pub const MODIFIERS: [SemanticTokenModifier; 1] = [SemanticTokenModifier::DECLARATION];

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Token {
    pub span: Span,
    pub kind: Kind,
    pub declaration: bool,
}

/// Tokens in the order of the text; none overlaps another or runs over the end
/// of a line.
pub fn tokens(view: &View<'_>) -> Vec<Token> {
    let mut all = Collected::default();
    for node in &view.checked.tree.nodes {
        if let Some(keyword) = node.keyword.filter(|_| node.kind == NodeKind::Line) {
            all.add(keyword, Kind::Keyword);
        }
    }
    comments(view, &mut all);
    all.header(view.checked.document.header());
    match &view.checked.document {
        Document::Dish(dish) => {
            all.spans(dish.makes.iter().map(|makes| makes.span), Kind::Number);
            all.spans(dish.cooked.iter().map(|cooked| cooked.span), Kind::Number);
            for portion in &dish.portions {
                all.spans(portion.ages.iter().map(|ages| ages.span), Kind::Number);
                all.add(portion.amount.span, Kind::Number);
            }
            for claim in &dish.claims {
                // The line without its keyword: what kind of claim, and of what.
                all.add(claim.subject.span, Kind::Claim);
            }
            all.spans(dish.diets.iter().map(|diet| diet.span), Kind::Claim);
            dish.parts.iter().flat_map(|part| &part.takes).for_each(|take| all.take(take));
            for step in dish.parts.iter().flat_map(|part| &part.steps) {
                for action in &step.actions {
                    all.add(action.process.span, Kind::Process);
                    all.spans(action.duration.iter().map(|duration| duration.span), Kind::Number);
                    all.spans(action.until.iter().map(|cue| cue.span), Kind::Text);
                }
                all.spans(step.translations.iter().map(|line| line.span), Kind::Text);
                step.prose.iter().for_each(|prose| all.text(prose));
            }
            dish.swaps.iter().flat_map(|swap| &swap.to).for_each(|option| all.option(option));
            if let Some(checked) = &view.checked.dish {
                for name in names::all(&checked.resolved, &view.checked.source) {
                    let kind = match name.what {
                        Referent::Ingredient(_) => Kind::Ingredient,
                        Referent::Part(_) => Kind::Part,
                    };
                    all.found.push(Token { span: name.span, kind, declaration: name.definition });
                }
            }
        }
        Document::Menu(menu) => {
            for meal in &menu.meals {
                all.add(meal.at.span, Kind::Number);
                all.spans(meal.name.iter().map(|name| name.span), Kind::Text);
                meal.items.iter().flat_map(|item| &item.options).for_each(|option| all.option(option));
            }
        }
        Document::Booklet(booklet) => {
            all.spans(booklet.paper.iter().map(|paper| paper.span), Kind::Claim);
            for entry in &booklet.entries {
                match entry {
                    Entry::Section(text) => all.text(text),
                    Entry::Page { slug, .. } => all.add(slug.span, Kind::Ingredient),
                    Entry::Annex(names) => all.spans(names.iter().map(|name| name.span), Kind::Claim),
                }
            }
        }
    }
    all.in_order(&view.checked.source)
}

#[derive(Default)]
struct Collected {
    found: Vec<Token>,
}

impl Collected {
    fn add(&mut self, span: Span, kind: Kind) {
        self.found.push(Token { span, kind, declaration: false });
    }

    fn spans(&mut self, spans: impl Iterator<Item = Span>, kind: Kind) {
        spans.for_each(|span| self.add(span, kind));
    }

    fn text(&mut self, text: &Text) {
        self.add(text.span, Kind::Text);
        self.spans(text.translations.iter().map(|line| line.span), Kind::Text);
    }

    fn header(&mut self, header: &Header) {
        header.title.iter().for_each(|title| self.text(title));
        self.spans(header.id.iter().map(|id| id.span), Kind::Claim);
        self.spans(header.language.iter().map(|tag| tag.span), Kind::Claim);
        self.spans(header.ages.iter().map(|ages| ages.span), Kind::Number);
        header.remarks.iter().for_each(|remark| self.text(&remark.text));
        self.spans(header.season.iter().map(|season| season.span), Kind::Number);
        header.source.iter().for_each(|source| self.text(source));
        header.reviewed.iter().filter_map(|reviewed| reviewed.by.as_ref()).for_each(|by| self.text(by));
        if let Some(picture) = &header.picture {
            self.add(picture.path.span, Kind::Text);
            picture.description.iter().for_each(|text| self.text(text));
        }
    }

    fn take(&mut self, take: &Take) {
        take.options.iter().for_each(|option| self.option(option));
        self.spans(take.translations.iter().map(|line| line.span), Kind::Text);
    }

    fn option(&mut self, option: &TakeOption) {
        match option.amount {
            Amount::Measured { span, .. } | Amount::Count { span, .. } | Amount::ToTaste(span) => {
                self.add(span, Kind::Number);
            }
            Amount::Missing | Amount::Unreadable(_) => {}
        }
        self.add(option.food.span, Kind::Food);
        self.spans(option.states.iter().map(|state| state.span), Kind::State);
        self.spans(option.weight.iter().map(|weight| weight.span), Kind::Number);
        self.spans(option.keep.iter().map(|keep| keep.span), Kind::Number);
    }

    /// Sorted, without overlaps, cut at the ends of lines. Of two that begin
    /// together the longer counts: a short name that is the food's own is still
    /// the food.
    fn in_order(self, source: &Source) -> Vec<Token> {
        let (comments, mut found): (Vec<Token>, Vec<Token>) =
            self.found.into_iter().partition(|token| token.kind == Kind::Comment);
        found.sort_by_key(|token| (token.span.start, std::cmp::Reverse(token.span.end), token.kind));
        let mut at = 0;
        let mut tokens = comments;
        for token in found {
            let start = token.span.start.max(at);
            if start >= token.span.end {
                continue;
            }
            at = token.span.end;
            let (first, last) = (source.line_at(start), source.line_at(token.span.end));
            for line in (first..=last).filter_map(|line| source.line(line)) {
                let text = source.slice(line);
                let from =
                    start.max(line.start + if line.start < start { 0 } else { text.len() - text.trim_start().len() });
                let end = token.span.end.min(line.start + text.trim_end().len());
                let comment = text.trim_start().starts_with('#') && line.start >= start;
                if from < end && !comment {
                    tokens.push(Token { span: Span::new(from, end), ..token });
                }
            }
        }
        // Comments inside a continued text lie between its pieces.
        tokens.sort();
        tokens
    }
}

/// Lines of comment, those inside a continued line too.
fn comments(view: &View<'_>, all: &mut Collected) {
    let source = &view.checked.source;
    for node in &view.checked.tree.nodes {
        let (first, last) = (source.line_at(node.span.start), source.line_at(node.span.end.saturating_sub(1)));
        for (number, line) in (first..=last).filter_map(|line| source.line(line)).enumerate() {
            let text = source.slice(line);
            let start = line.start + (text.len() - text.trim_start().len());
            let is_comment = text.trim_start().starts_with('#') && (node.kind == NodeKind::Skip || number > 0);
            if is_comment && start >= node.span.start {
                all.add(Span::new(start, line.start + text.trim_end().len()), Kind::Comment);
            }
        }
    }
}
