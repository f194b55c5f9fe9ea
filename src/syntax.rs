//! Text to tree to document: the only place that names the parser.
//!
//! The tree is total and lossless. Every byte of a file belongs to exactly
//! one [`Node`]; a line that no rule reads is a node too, so one bad line
//! costs one message and never the rest of the file.

mod kind;
mod lower;
mod words;

use pest::Parser;

pub use kind::Kind;
pub use words::{keywords, pattern};

use crate::ast::Document;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::source::Span;

// `#[derive]` needs a struct; it is the parser itself and nothing else.
#[derive(pest_derive::Parser)]
#[grammar = "grammar/dish.pest"]
struct Grammar;

/// Largest file that is read: two hundred times a long dish.
pub const LARGEST_FILE: usize = 4 << 20;

/// What stands in a translation that is still to be written: it counts as none.
pub const UNWRITTEN: &str = "…";

/// Most lines with a keyword, actions of steps and foods of a line that are
/// read: twenty times a long dish. What a line means may hang on all others, so
/// the work grows faster than their number.
pub const MOST_LINES: usize = 2_000;

/// What a logical line of a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NodeKind {
    /// Blank or comment.
    Skip,
    /// A line with its keyword, continuations included.
    Line,
    /// A line that could not be read.
    Bad,
}

/// One logical line: its whole text, line break and continuations included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Node {
    pub kind: NodeKind,
    pub span: Span,
    /// The first word, for lines.
    pub keyword: Option<Span>,
}

/// The lossless tree: the nodes' spans join up to the whole text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tree {
    pub kind: Kind,
    pub nodes: Vec<Node>,
}

/// Parses one file. Faults go to the sink; the document is always whole as
/// far as its lines could be read.
pub fn parse(kind: Kind, text: &str, sink: &mut Sink) -> (Tree, Document) {
    if text.len() > LARGEST_FILE {
        sink.push(
            Diagnostic::new(
                Code::SyntaxTooLarge,
                Span::new(0, 0),
                format!("this file has {} MB; the most that is read is {} MB", text.len() >> 20, LARGEST_FILE >> 20),
            )
            .help("keep one dish, menu or booklet in a file"),
        );
        return (Tree { kind, nodes: Vec::new() }, kind.empty_document());
    }
    let rule = match kind {
        Kind::Dish => Rule::dish_file,
        Kind::Menu => Rule::menu_file,
        Kind::Booklet => Rule::booklet_file,
    };
    match Grammar::parse(rule, text) {
        Ok(mut pairs) => {
            let lines: Vec<_> = pairs.next().map(|file| file.into_inner().collect()).unwrap_or_default();
            let tree = tree(kind, text, &lines);
            let document = lower::document(kind, text, lines, sink);
            (tree, document)
        }
        // The catch-all line makes this unreachable for any text; a grammar
        // edit that breaks the promise must still give a message.
        Err(error) => {
            let at = match error.location {
                pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
            };
            sink.push(Diagnostic::new(Code::SyntaxBadLine, Span::new(at, at), "this line cannot be read"));
            (Tree { kind, nodes: Vec::new() }, kind.empty_document())
        }
    }
}

/// Months as on a `season` line, from 1 to 12; `None` where the text is
/// anything else.
pub fn months(text: &str) -> Option<Vec<u8>> {
    let text = text.trim();
    let pair = Grammar::parse(Rule::months, text).ok()?.next()?;
    (pair.as_span().end() == text.len()).then(|| lower::detail::season(pair))
}

fn tree(kind: Kind, text: &str, lines: &[pest::iterators::Pair<'_, Rule>]) -> Tree {
    let mut nodes: Vec<Node> = Vec::with_capacity(lines.len() + 1);
    let mut at = 0;
    for line in lines {
        let span = Span::new(line.as_span().start(), line.as_span().end());
        if span.start > at {
            nodes.push(Node { kind: NodeKind::Skip, span: Span::new(at, span.start), keyword: None });
        }
        at = span.end.max(at);
        let node_kind = match line.as_rule() {
            Rule::bom | Rule::skip_line | Rule::EOI => NodeKind::Skip,
            Rule::bad_line | Rule::stray => NodeKind::Bad,
            _ => NodeKind::Line,
        };
        if span.start == span.end {
            continue;
        }
        let keyword = line.clone().into_inner().next().map(|first| {
            let first = first.as_span();
            Span::new(first.start(), first.start() + first.as_str().trim_end().len())
        });
        nodes.push(Node { kind: node_kind, span, keyword: keyword.filter(|_| node_kind != NodeKind::Skip) });
    }
    if at < text.len() {
        nodes.push(Node { kind: NodeKind::Skip, span: Span::new(at, text.len()), keyword: None });
    }
    Tree { kind, nodes }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn check(text: &str) -> (Tree, Document, Vec<Diagnostic>) {
        let mut sink = Sink::new();
        let (tree, document) = parse(Kind::Dish, text, &mut sink);
        let mut joined = String::new();
        for node in &tree.nodes {
            joined.push_str(text.get(node.span.range()).unwrap());
        }
        assert_eq!(joined, text, "the tree is lossless");
        (tree, document, sink.finish())
    }

    #[test]
    fn one_bad_line_costs_one_message() {
        let (_, document, messages) =
            check("dish Mash\nfor 6 to 8 months\nblorp x\ntake 1 cup pumpkin\nstep boil pumpkin for 10 min\n");
        assert_eq!(messages.len(), 1, "{messages:?}");
        let Document::Dish(dish) = document else { panic!("a dish") };
        assert_eq!(dish.parts.first().unwrap().takes.len(), 1);
    }

    #[test]
    fn the_grammar_reads_every_unit() {
        for (spelling, _) in crate::quantity::unit::SPELLINGS {
            let pair = Grammar::parse(Rule::unit, spelling).unwrap().next().unwrap();
            assert_eq!(&pair.as_str(), spelling);
        }
    }

    proptest! {
        #[test]
        fn any_text_parses_to_a_lossless_tree(text in "(?s).{0,200}") {
            check(&text);
        }

        #[test]
        fn any_lines_of_words_parse(text in "((dish|take|step|in|for|part|portion|makes|swap|claim|  |#)[ a-z0-9,.;:()½/°%-]{0,40}(\n|\r\n)){0,20}") {
            check(&text);
        }
    }
}
