//! Which texts of a document are there in a language, and where the others go.
//!
//! A text that is not there gets a stub: a line `in TAG` without a text, below
//! the line it translates and the translations that stand there already. A stub
//! counts as missing everywhere; it is a place to write in.

use crate::ast::{Document, Entry, Text};
use crate::card::menu::knows_meal;
use crate::check::Checked;
use crate::resolve::food::Figures;
use crate::source::Span;
use crate::syntax::{Node, NodeKind};

/// How one text of a document stands in one language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Written, or in the author's own language.
    There,
    /// A line `in TAG` waits for it, at this place.
    Stub(Span),
    Missing,
}

/// One text that a card or booklet prints.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// The line it stands on: `title`, `part`, `take`, `step`, `meal`, `section`,
    /// `picture` or a remark's word.
    pub what: &'static str,
    pub text: String,
    pub span: Span,
    pub standing: Standing,
    /// Where a stub would go, in bytes.
    pub at: usize,
}

/// The texts of a document in order, as they stand in `tag`. `own` is the
/// language of the prose. A `take` is among them only where the larder has no
/// name for the food in that language.
pub fn items(file: &Checked, own: &str, tag: &str) -> Vec<Item> {
    let mut texts: Vec<(&'static str, Span, String, bool)> = Vec::new();
    let mut add = |what: &'static str, text: &Text| {
        let there = text.translations.iter().any(|line| line.tag.eq_ignore_ascii_case(tag));
        texts.push((what, text.span, text.value.clone(), there));
    };
    let header = file.document.header();
    if let Some(title) = &header.title {
        add("title", title);
    }
    for remark in &header.remarks {
        add(remark.kind.word(), &remark.text);
    }
    if let Some(text) = header.picture.as_ref().and_then(|picture| picture.description.as_ref()) {
        add("picture", text);
    }
    match &file.document {
        Document::Dish(dish) => {
            for part in &dish.parts {
                part.name.iter().for_each(|name| add("part", name));
                part.steps.iter().filter_map(|step| step.prose.as_ref()).for_each(|prose| add("step", prose));
            }
            let takes = dish.parts.iter().flat_map(|part| &part.takes);
            for take in takes.filter(|take| !named_elsewhere(file, take.span, tag)) {
                let there = take.translations.iter().any(|line| line.tag.eq_ignore_ascii_case(tag));
                let words = file.source.slice(take.span).split_whitespace().collect::<Vec<_>>().join(" ");
                texts.push(("take", take.span, words, there));
            }
        }
        Document::Menu(menu) => {
            let names = menu.meals.iter().filter_map(|meal| meal.name.as_ref());
            names.filter(|name| !knows_meal(&name.value)).for_each(|name| add("meal", name));
        }
        Document::Booklet(booklet) => {
            for entry in &booklet.entries {
                if let Entry::Section(text) = entry {
                    add("section", text);
                }
            }
        }
    }
    texts.sort_by_key(|(_, span, ..)| span.start);
    let is_own = base(own) == base(tag);
    texts
        .into_iter()
        .filter_map(|(what, span, text, there)| {
            let (at, stub) = place(file, span, tag)?;
            let standing = match stub {
                _ if there || is_own => Standing::There,
                Some(stub) => Standing::Stub(stub),
                None => Standing::Missing,
            };
            Some(Item { what, text, span, standing, at })
        })
        .collect()
}

/// Meals whose name neither the author nor the catalogues have in a language.
pub fn nameless_meals(file: &Checked, own: &str, tag: &str) -> Vec<Item> {
    let mut items = items(file, own, tag);
    items.retain(|item| item.what == "meal" && item.standing != Standing::There);
    items
}

/// Foods without a name in a language that the larder does not speak at all.
/// Where it does, a food without a name of its own goes by the English one.
pub fn nameless(file: &Checked, own: &str, tag: &str) -> Vec<Item> {
    if matches!(base(tag).as_str(), "en" | "sw" | "fr") {
        return Vec::new();
    }
    let mut items = items(file, own, tag);
    items.retain(|item| item.what == "take" && item.standing != Standing::There);
    items
}

fn base(tag: &str) -> String {
    tag.split('-').next().unwrap_or(tag).to_lowercase()
}

/// The larder, or the dish that is taken, has the food's name in the language.
/// A food that was not found has other troubles than its name.
fn named_elsewhere(file: &Checked, span: Span, tag: &str) -> bool {
    let Some(dish) = &file.dish else { return true };
    let ingredient = dish.resolved.ingredients.iter().find(|ingredient| ingredient.span == span);
    let Some(food) = ingredient.and_then(|ingredient| ingredient.first()).and_then(|choice| choice.food.as_ref())
    else {
        return true;
    };
    match (&food.larder, &food.figures) {
        (Some(row), _) => row.has_name_in(tag),
        (None, Figures::Dish(_)) => true,
        (None, _) => false,
    }
}

/// Where a stub below this text goes, and the stub that stands there already.
fn place(file: &Checked, span: Span, tag: &str) -> Option<(usize, Option<Span>)> {
    let nodes = &file.tree.nodes;
    let own = nodes.iter().position(|node| node.span.start <= span.start && span.start < node.span.end)?;
    let mut end = nodes.get(own)?.span.end;
    let mut stub = None;
    for node in nodes.iter().skip(own + 1) {
        match node.kind {
            // A comment may stand between two translations.
            NodeKind::Skip => continue,
            NodeKind::Line if is_translation(file, node) => {
                end = node.span.end;
                let words: Vec<&str> = file.source.slice(node.span).split_whitespace().collect();
                if let [_, only] = words.as_slice()
                    && only.eq_ignore_ascii_case(tag)
                {
                    stub = Some(Span::new(
                        node.span.start,
                        node.span.start + file.source.slice(node.span).trim_end().len(),
                    ));
                }
            }
            NodeKind::Line | NodeKind::Bad => break,
        }
    }
    Some((end, stub))
}

fn is_translation(file: &Checked, node: &Node) -> bool {
    node.keyword.is_some_and(|keyword| file.source.slice(keyword).eq_ignore_ascii_case("in"))
}

/// The text with a stub for every item that is missing, and the lines, counted
/// from 1, on which the stubs stand in the order of `missing`.
pub fn with_stubs(text: &str, missing: &[(usize, &str)]) -> (String, Vec<usize>) {
    let mut order: Vec<usize> = (0..missing.len()).collect();
    order.sort_by_key(|at| missing.get(*at).map(|(place, _)| *place));
    let mut out = String::with_capacity(text.len() + missing.len() * 8);
    let mut lines = vec![0; missing.len()];
    let (mut done, mut line) = (0, 1);
    // The line ends as the file's lines do.
    let end = if text.contains("\r\n") {
        "\r\n"
    } else if text.contains('\r') && !text.contains('\n') {
        "\r"
    } else {
        "\n"
    };
    let ends = |text: &str| match end {
        "\r" => text.matches('\r').count(),
        _ => text.matches('\n').count(),
    };
    for at in order {
        let Some((place, tag)) = missing.get(at) else { continue };
        let piece = text.get(done..*place).unwrap_or_default();
        out.push_str(piece);
        line += ends(piece);
        done = *place;
        if !out.is_empty() && !out.ends_with(['\n', '\r']) {
            out.push_str(end);
            line += 1;
        }
        if let Some(own) = lines.get_mut(at) {
            *own = line;
        }
        out.push_str("in ");
        out.push_str(tag);
        out.push_str(end);
        line += 1;
    }
    out.push_str(text.get(done..).unwrap_or_default());
    (out, lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stubs_go_in_and_all_else_stays() {
        assert_eq!(
            with_stubs("dish A\r\n# why\r\ntip b", &[(8, "sw"), (20, "sw")]),
            ("dish A\r\nin sw\r\n# why\r\ntip b\r\nin sw\r\n".to_owned(), vec![2, 5])
        );
        assert_eq!(with_stubs("dish A\r", &[(7, "sw"), (7, "fr")]), ("dish A\rin sw\rin fr\r".to_owned(), vec![2, 3]));
        assert_eq!(with_stubs("dish A\n", &[]), ("dish A\n".to_owned(), vec![]));
    }
}
