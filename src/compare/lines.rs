//! Lists held side by side.

use similar::{Algorithm, DiffTag, capture_diff_slices};

use super::{Gains, Pair, Side};
use crate::syntax::NodeKind;

/// What came and what went; what stands twice counts twice.
pub fn gains(before: &[String], after: &[String]) -> Gains {
    let without = |list: &[String], other: &[String]| {
        let mut rest: Vec<&String> = other.iter().collect();
        list.iter()
            .filter(|entry| match rest.iter().position(|known| known == entry) {
                Some(at) => {
                    rest.swap_remove(at);
                    false
                }
                None => true,
            })
            .cloned()
            .collect()
    };
    Gains { gained: without(after, before), lost: without(before, after) }
}

/// Pairs of entries that differ, by their order. Where several in a row
/// differ, the first goes with the first. Numbers count from 1.
pub fn paired(before: &[String], after: &[String]) -> Vec<(Option<usize>, Option<usize>)> {
    let mut found = Vec::new();
    for op in capture_diff_slices(Algorithm::Myers, before, after) {
        let (tag, old, new) = op.as_tag_tuple();
        if tag == DiffTag::Equal {
            continue;
        }
        for at in 0..old.len().max(new.len()) {
            let pick = |range: &std::ops::Range<usize>| (at < range.len()).then_some(range.start + at);
            found.push((pick(&old), pick(&new)));
        }
    }
    found
}

/// The same with the entries and a numbered name.
pub fn many(before: &[String], after: &[String], what: &str) -> Vec<Pair> {
    paired(before, after)
        .into_iter()
        .map(|(old, new)| Pair {
            what: format!("{what} {}", new.or(old).map_or(0, |at| at + 1)),
            before: old.and_then(|at| before.get(at).cloned()),
            after: new.and_then(|at| after.get(at).cloned()),
        })
        .collect()
}

/// The lines of a document that are no comments, each with single blanks.
pub fn of(side: &Side<'_>) -> Vec<String> {
    let source = &side.file.source;
    side.file
        .tree
        .nodes
        .iter()
        .filter(|node| node.kind != NodeKind::Skip)
        .map(|node| {
            source
                .slice(node.span)
                .lines()
                .filter(|line| !line.trim_start().starts_with('#'))
                .flat_map(str::split_whitespace)
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(text: &str) -> Vec<String> {
        text.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn what_stands_twice_counts_twice() {
        let found = gains(&list("a b b c"), &list("b d a"));
        assert_eq!(found, Gains { gained: list("d"), lost: list("b c") });
    }

    #[test]
    fn lists_are_paired_by_their_order() {
        let pair = |what: &str, before: Option<&str>, after: Option<&str>| Pair {
            what: what.to_owned(),
            before: before.map(str::to_owned),
            after: after.map(str::to_owned),
        };
        assert_eq!(many(&list("a b c"), &list("a x b c"), "step"), [pair("step 2", None, Some("x"))]);
        assert_eq!(many(&list("a b c"), &list("a y c"), "step"), [pair("step 2", Some("b"), Some("y"))]);
        assert_eq!(many(&list("a b"), &list("a"), "step"), [pair("step 2", Some("b"), None)]);
    }
}
