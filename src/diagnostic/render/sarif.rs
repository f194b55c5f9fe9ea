//! SARIF 2.1.0 (OASIS), the form in which code hosts take findings: one run
//! with its rules, the files it looked at, and a result for each message.
//!
//! Lines and columns count from one; a column counts Unicode code points and
//! the end is the place behind the last one. A path is relative to the folder
//! that the program was called in, so that the same recipes give the same bytes
//! on every machine; a file outside it has its whole path.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use serde::Serialize;

use super::{FileMessages, visible};
use crate::diagnostic::{Code, Diagnostic};
use crate::source::{Source, Span};

const SCHEMA: &str = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
/// What relative paths count from.
const BASE: &str = "SRCROOT";

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Log {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run; 1],
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Run {
    tool: Tool,
    invocations: [Invocation; 1],
    original_uri_base_ids: BTreeMap<&'static str, Base>,
    default_encoding: &'static str,
    column_kind: &'static str,
    newline_sequences: [&'static str; 3],
    artifacts: Vec<Artifact>,
    results: Vec<Finding>,
}

#[derive(Debug, Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Driver {
    name: &'static str,
    version: &'static str,
    semantic_version: &'static str,
    language: &'static str,
    rules: Vec<Rule>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule {
    id: &'static str,
    name: &'static str,
    short_description: Text,
    full_description: Text,
    help: Page,
    default_configuration: Configuration,
    properties: Tags,
}

#[derive(Debug, Serialize)]
struct Configuration {
    level: &'static str,
}

#[derive(Debug, Serialize)]
struct Tags {
    tags: [&'static str; 1],
}

/// A page as plain text and as Markdown, which here are the same.
#[derive(Debug, Serialize)]
struct Page {
    text: &'static str,
    markdown: &'static str,
}

#[derive(Debug, Serialize)]
struct Text {
    text: String,
}

impl Text {
    fn new(text: &str) -> Self {
        // What looks like a link would be one: to a related place, by number.
        Self { text: visible(text).replace("](", "] (") }
    }
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Invocation {
    execution_successful: bool,
}

#[derive(Debug, Serialize)]
struct Base {
    description: Text,
}

#[derive(Debug, Serialize)]
struct Artifact {
    location: Place,
    roles: [&'static str; 1],
}

#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "camelCase")]
struct Place {
    uri: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    uri_base_id: Option<&'static str>,
    index: usize,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Finding {
    #[serde(skip)]
    code: Code,
    rule_id: &'static str,
    rule_index: usize,
    level: &'static str,
    message: Text,
    locations: [Location; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    partial_fingerprints: BTreeMap<&'static str, String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Mending>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<usize>,
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Text>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Place,
    region: Region,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Mending {
    description: Text,
    artifact_changes: [Change; 1],
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Change {
    artifact_location: Place,
    replacements: [Replacement; 1],
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement {
    deleted_region: Region,
    inserted_content: Exact,
}

/// Text to be typed: to the letter, whatever it holds.
#[derive(Debug, Serialize)]
struct Exact {
    text: String,
}

/// The messages of all files of a call.
#[derive(Debug, Default)]
pub struct Findings {
    artifacts: Vec<Artifact>,
    /// Places of the files in `artifacts`.
    indices: HashMap<String, usize>,
    results: Vec<Finding>,
}

impl Findings {
    pub fn add(&mut self, file: &FileMessages<'_>) {
        // A file has two lots of messages where another check adds to the first.
        let index = *self.indices.entry(file.source.name.clone()).or_insert(self.artifacts.len());
        let place = place(&file.source.name, index);
        if index == self.artifacts.len() {
            self.artifacts.push(Artifact { location: place.clone(), roles: ["analysisTarget"] });
        }
        let mut seen: HashMap<String, usize> = HashMap::new();
        for message in file.diagnostics {
            self.results.push(finding(message, file.source, &place, &mut seen));
        }
    }

    /// The whole log, with the rules that these findings name.
    pub fn log(self) -> Log {
        let Self { artifacts, mut results, .. } = self;
        let codes: BTreeSet<Code> = results.iter().map(|finding| finding.code).collect();
        let rules: Vec<Code> = codes.into_iter().collect();
        for finding in &mut results {
            finding.rule_index = rules.iter().position(|code| *code == finding.code).unwrap_or_default();
        }
        whole(&rules, artifacts, results)
    }
}

fn whole(rules: &[Code], artifacts: Vec<Artifact>, results: Vec<Finding>) -> Log {
    let base = Base { description: Text::new("the folder that porringer was called in") };
    Log {
        schema: SCHEMA,
        version: "2.1.0",
        runs: [Run {
            tool: Tool {
                driver: Driver {
                    name: "Porringer",
                    version: env!("CARGO_PKG_VERSION"),
                    semantic_version: env!("CARGO_PKG_VERSION"),
                    language: "en",
                    rules: rules.iter().copied().map(rule).collect(),
                },
            },
            invocations: [Invocation { execution_successful: true }],
            original_uri_base_ids: BTreeMap::from([(BASE, base)]),
            default_encoding: "UTF-8",
            column_kind: "unicodeCodePoints",
            newline_sequences: ["\r\n", "\n", "\r"],
            artifacts,
            results,
        }],
    }
}

fn rule(code: Code) -> Rule {
    let page = code.page().trim_end();
    // The page's first paragraph stands below its head.
    let first = page.split("\n\n").nth(1).unwrap_or_else(|| code.title());
    Rule {
        id: code.name(),
        name: code.variant(),
        short_description: Text::new(code.title()),
        full_description: Text::new(&first.split_whitespace().collect::<Vec<_>>().join(" ")),
        help: Page { text: page, markdown: page },
        default_configuration: Configuration { level: code.severity().word() },
        properties: Tags { tags: [code.family()] },
    }
}

fn finding(message: &Diagnostic, source: &Source, place: &Place, seen: &mut HashMap<String, usize>) -> Finding {
    let physical = |span: Span| Physical { artifact_location: place.clone(), region: region(source, span) };
    let text = match &message.help {
        Some(help) => format!("{}\n{help}", message.message),
        None => message.message.clone(),
    };
    Finding {
        code: message.code,
        rule_id: message.code.name(),
        // Known when all are.
        rule_index: 0,
        level: message.severity.word(),
        message: Text::new(&text),
        locations: [Location { id: None, physical_location: physical(message.span), message: None }],
        related_locations: message
            .labels
            .iter()
            .enumerate()
            .map(|(at, label)| Location {
                id: Some(at + 1),
                physical_location: physical(label.span),
                message: Some(Text::new(&label.text)),
            })
            .collect(),
        partial_fingerprints: BTreeMap::from([("porringer/v1", fingerprint(message, source, seen))]),
        fixes: message
            .fix
            .iter()
            .map(|fix| Mending {
                description: Text::new(message.help.as_deref().unwrap_or(&message.message)),
                artifact_changes: [Change {
                    artifact_location: place.clone(),
                    replacements: [Replacement {
                        deleted_region: region(source, fix.span),
                        inserted_content: Exact { text: fix.replacement.clone() },
                    }],
                }],
            })
            .collect(),
    }
}

/// The same for a message as long as its line is the same, wherever in the
/// file the line moves to.
fn fingerprint(message: &Diagnostic, source: &Source, seen: &mut HashMap<String, usize>) -> String {
    let start = source.line_start(message.span.start);
    let line = source.text.get(start..).and_then(|rest| rest.lines().next()).unwrap_or_default();
    let key = format!("{}\n{}\n{}", message.code.name(), line.trim(), message.message);
    let count = seen.entry(key.clone()).and_modify(|count| *count += 1).or_insert(1);
    let hash = blake3::hash(format!("{key}\n{count}").as_bytes()).to_hex();
    hash.chars().take(32).collect()
}

fn region(source: &Source, span: Span) -> Region {
    let (start, end) = (source.place(span.start), source.place(span.end.max(span.start)));
    Region {
        start_line: start.line,
        start_column: source.code_points(span.start) + 1,
        end_line: end.line,
        end_column: source.code_points(span.end.max(span.start)) + 1,
    }
}

/// A file as a URI: what is not plain in every URI is written in percent.
fn place(name: &str, index: usize) -> Place {
    let mut uri = String::new();
    let drive = name.as_bytes().get(1) == Some(&b':');
    let whole = name.starts_with('/') || drive;
    if whole {
        uri.push_str(if drive { "file:///" } else { "file://" });
    }
    for byte in name.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => uri.push(char::from(byte)),
            _ => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    Place { uri, uri_base_id: (!whole).then_some(BASE), index }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    #[test]
    fn a_name_becomes_a_uri() {
        let uri = |name| place(name, 0).uri;
        assert_eq!(uri("recipes/a b%é#?:.dish"), "recipes/a%20b%25%C3%A9%23%3F%3A.dish");
        assert_eq!(uri("/srv/a.dish"), "file:///srv/a.dish");
        assert_eq!(uri("C:/a.dish"), "file:///C%3A/a.dish");
        assert_eq!(place("/srv/a.dish", 0).uri_base_id, None);
        assert_eq!(place("a.dish", 0).uri_base_id, Some(BASE));
    }

    #[test]
    fn columns_count_code_points() {
        // Beyond the basic plane, and a letter of two code points.
        let source = Source::new("a", "ab\r\n\u{1F963}e\u{301}x\rz");
        let at = |needle: &str| {
            let start = source.text.find(needle).unwrap();
            let region = region(&source, Span::new(start, start + needle.len()));
            (region.start_line, region.start_column, region.end_line, region.end_column)
        };
        assert_eq!(at("ab"), (1, 1, 1, 3));
        assert_eq!(at("x"), (2, 4, 2, 5));
        assert_eq!(at("z"), (3, 1, 3, 2));
    }

    #[test]
    fn a_mark_at_the_start_is_no_column() {
        let source = Source::new("a", "\u{FEFF}dish");
        assert_eq!(source.code_points(3), 0);
        assert_eq!(source.code_points(4), 1);
    }

    #[test]
    fn a_fingerprint_follows_its_line() {
        let print = |text: &str| {
            let source = Source::new("a", text);
            let start = text.find("boyl").unwrap();
            let message = Diagnostic::new(Code::MethodUnknownProcess, Span::new(start, start + 4), "a");
            fingerprint(&message, &source, &mut HashMap::new())
        };
        assert_eq!(print("step boyl x\n"), print("\n\n  step boyl x\r\nstep\n"));
        assert_ne!(print("step boyl x\n"), print("step boyl y\n"));
    }
}
