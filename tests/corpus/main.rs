//! The corpus: one file a case, with the messages it must give in its last
//! comment block. `UPDATE=1 cargo test --release --test corpus` writes the
//! blocks anew; read the difference before you commit it.
//!
//! `tests/corpus/FAMILY/SLUG.*` raises `family/slug`; `tests/corpus/clean`
//! holds look-alikes that must raise no error and no warning.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod codes;
mod pages;

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use porringer::cli::Input;
use porringer::cli::gather;
use porringer::diagnostic::{Code, Diagnostic, MESSAGE_LENGTH, Severity};
use porringer::source::Source;
use porringer::syntax::Kind;
use porringer::workspace::Workspace;

/// First line of the block of expected messages.
const MARK: &str = "# expect";

pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus")
}

/// Every recipe file of the corpus.
pub fn cases() -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if Kind::of_path(&path).is_some() {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// The workspace of a file on a day that stays, so that no review grows old.
fn workspace(input: &Input) -> Workspace {
    let mut workspace = gather::workspace(input).map_err(|failure| failure.0).unwrap();
    workspace.reference.practice.today = porringer::quantity::date::date("2026-11-01");
    workspace
}

/// All messages for a file, its workspace's included.
pub fn messages(path: &Path) -> Vec<(Source, Diagnostic)> {
    let input = Input { paths: vec![path.to_path_buf()], foods: Vec::new() };
    let workspace = workspace(&input);
    let checked = gather::with_texts(&input.paths, &workspace, &workspace.settings.languages, &[]);
    let mut all = Vec::new();
    for fault in workspace.faults {
        all.extend(fault.diagnostics.into_iter().map(|message| (fault.source.clone(), message)));
    }
    for file in checked {
        all.extend(file.diagnostics.into_iter().map(|message| (file.source.clone(), message)));
    }
    all
}

/// The messages as the comment block holds them.
fn block(path: &Path) -> String {
    let own = path.file_name().unwrap().to_string_lossy().into_owned();
    let mut text = String::from(MARK);
    let mut all = messages(path);
    // Few cases have a `reviewed` line; a note on each of the others would
    // bury what the case shows.
    if !path.components().any(|part| part.as_os_str() == "review") {
        all.retain(|(_, message)| message.code != Code::ReviewNone);
    }
    if all.is_empty() {
        text.push_str(" nothing");
    }
    text.push('\n');
    for (source, message) in all {
        let place = source.place(message.span.start);
        let file = Path::new(&source.name).file_name().unwrap().to_string_lossy().into_owned();
        let file = if file == own { String::new() } else { format!("{file}:") };
        let _ = writeln!(
            text,
            "# {file}{}:{} {}[{}] {}",
            place.line,
            place.column,
            message.severity.word(),
            message.code.name(),
            message.message
        );
        for label in &message.labels {
            let place = source.place(label.span.start);
            let _ = writeln!(text, "#     {}:{} {}", place.line, place.column, label.text);
        }
        if let Some(help) = &message.help {
            let _ = writeln!(text, "#     help: {help}");
        }
    }
    text
}

/// The file without its block, and the block.
fn split(bytes: &[u8]) -> (Vec<u8>, String) {
    let mark = format!("\n{MARK}");
    let at = bytes.windows(mark.len()).rposition(|window| window == mark.as_bytes());
    match at {
        Some(at) => (bytes[..=at].to_vec(), String::from_utf8_lossy(&bytes[at + 1..]).into_owned()),
        None => (bytes.to_vec(), String::new()),
    }
}

#[test]
fn every_case_gives_its_messages() {
    let update = std::env::var_os("UPDATE").is_some();
    let mut wrong = String::new();
    for path in cases() {
        let bytes = fs::read(&path).unwrap();
        let (body, expected) = split(&bytes);
        // The block is part of what is parsed, so places count with it there.
        let found = block(&path);
        if found == expected {
            continue;
        }
        if update {
            let mut text = body;
            if !text.ends_with(b"\n") {
                text.push(b'\n');
            }
            text.extend_from_slice(found.as_bytes());
            fs::write(&path, text).unwrap();
        } else {
            let name = path.strip_prefix(root()).unwrap().display().to_string();
            let diff = similar::TextDiff::from_lines(&expected, &found);
            let _ = writeln!(wrong, "{}", diff.unified_diff().header(&name, "found"));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn look_alikes_are_clean() {
    for path in cases().into_iter().filter(|path| path.starts_with(root().join("clean"))) {
        let loud: Vec<_> =
            messages(&path).into_iter().filter(|(_, message)| message.severity > Severity::Note).collect();
        assert!(loud.is_empty(), "{}: {loud:?}", path.display());
    }
}

#[test]
fn the_demo_set_is_clean() {
    let recipes = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let input = Input { paths: vec![recipes.clone()], foods: Vec::new() };
    let workspace = workspace(&input);
    let paths = gather::files(&input, &workspace).map_err(|failure| failure.0).unwrap();
    let checked = gather::with_texts(&paths, &workspace, &workspace.settings.languages, &[]);
    assert!(checked.len() >= 8);
    for file in checked {
        let loud: Vec<_> = file.diagnostics.iter().filter(|message| message.severity > Severity::Note).collect();
        assert!(loud.is_empty(), "{}: {loud:?}", file.source.name);
    }
}

#[test]
fn messages_keep_their_form() {
    for path in cases() {
        for (_, message) in messages(&path) {
            let text = &message.message;
            let place = format!("{}: {text}", path.display());
            assert!(text.chars().count() <= MESSAGE_LENGTH, "{place}");
            assert!(!text.ends_with('.'), "{place}");
            let proper = text.starts_with("USDA");
            assert!(proper || !text.starts_with(|first: char| first.is_ascii_uppercase()), "{place}");
            assert!(message.help.as_ref().is_some_and(|help| !help.is_empty()), "no help: {place}");
        }
    }
}
