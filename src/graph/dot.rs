//! The graph as a drawing: what rests on what, for Graphviz.

use std::path::Path;

use super::files::Files;
use crate::diagnostic::render::visible;

/// `shown` gives a path as it is to be read; `outputs` the files made of a
/// document, by its place in the list.
pub fn write(files: &Files, shown: impl Fn(&Path) -> String, outputs: impl Fn(usize) -> Vec<String>) -> String {
    let mut text = String::from("digraph porringer {\n  rankdir=LR;\n  node [shape=box];\n");
    let mut edge = |from: &str, to: &str| text.push_str(&format!("  {} -> {};\n", name(from), name(to)));
    let all = "every card";
    for file in &files.common {
        edge(&shown(file), all);
    }
    for (at, node) in files.all().enumerate() {
        let document = shown(&node.document);
        for output in outputs(at) {
            edge(&document, &output);
            for file in &node.files {
                edge(&shown(file), &output);
            }
            if !files.common.is_empty() {
                edge(all, &output);
            }
        }
    }
    text.push_str("}\n");
    text
}

fn name(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in visible(text).chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            letter if letter.is_control() => out.push(char::REPLACEMENT_CHARACTER),
            letter => out.push(letter),
        }
    }
    out.push('"');
    out
}
