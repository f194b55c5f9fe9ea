//! The README's tour, run as a reader would: its files are written, its
//! commands are run, and what they print is compared to the letter.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

use std::fs;
use std::path::Path;
use std::process::Command;

use similar::TextDiff;

/// A fenced block: the line above it, its language, its text.
struct Block {
    above: String,
    language: String,
    text: String,
}

fn blocks(page: &str) -> Vec<Block> {
    let mut found = Vec::new();
    let mut above = String::new();
    let mut open: Option<Block> = None;
    for line in page.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(language)) => {
                open = Some(Block { above: above.clone(), language: language.to_owned(), text: String::new() });
            }
            (Some(_), Some(_)) => found.extend(open.take()),
            (Some(block), None) => {
                block.text.push_str(line);
                block.text.push('\n');
            }
            (None, None) => above = line.to_owned(),
        }
    }
    found
}

/// The commands of a block, each with what it prints.
fn calls(text: &str) -> Vec<(&str, String)> {
    let mut found: Vec<(&str, String)> = Vec::new();
    for line in text.lines() {
        match (line.strip_prefix("$ "), found.last_mut()) {
            (Some(command), _) => found.push((command, String::new())),
            (None, Some((_, expected))) => {
                expected.push_str(line);
                expected.push('\n');
            }
            (None, None) => panic!("a block begins with a command: {line}"),
        }
    }
    found
}

/// As a shell takes them apart; double quotes hold words together.
fn words(command: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (at, piece) in command.split('"').enumerate() {
        if at % 2 == 1 {
            found.push(piece.to_owned());
        } else {
            found.extend(piece.split_whitespace().map(str::to_owned));
        }
    }
    found
}

#[test]
fn the_tour_runs_as_printed() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let page = fs::read_to_string(root.join("README.md")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let mut commands = 0;
    for block in blocks(&page) {
        if let Some(name) = block.above.strip_prefix("<!-- file: ").and_then(|rest| rest.strip_suffix(" -->")) {
            fs::write(folder.path().join(name), &block.text).unwrap();
            continue;
        }
        if block.language != "console" {
            continue;
        }
        for (command, expected) in calls(&block.text) {
            let words = words(command);
            let (program, arguments) = words.split_first().unwrap();
            if program == "cp" {
                fs::copy(folder.path().join(&arguments[0]), folder.path().join(&arguments[1])).unwrap();
                assert_eq!(expected.trim(), "", "{command}");
                continue;
            }
            assert_eq!(program, "porringer", "{command}");
            let output = Command::new(env!("CARGO_BIN_EXE_porringer"))
                .args(arguments)
                .current_dir(folder.path())
                .env_remove("COLUMNS")
                .output()
                .unwrap();
            // A terminal shows both streams.
            let mut printed = String::from_utf8(output.stdout).unwrap();
            printed.push_str(&String::from_utf8(output.stderr).unwrap());
            let printed: Vec<&str> = printed.lines().map(str::trim_end).collect();
            let expected: Vec<&str> = expected.lines().map(str::trim_end).collect();
            let (printed, expected) = (printed.join("\n"), expected.join("\n"));
            assert!(
                printed.trim_end() == expected.trim_end(),
                "{command}\n{}",
                TextDiff::from_lines(&expected, &printed).unified_diff().header("README", "printed")
            );
            commands += 1;
        }
    }
    assert!(commands >= 6, "the tour shows commands");
    assert!(folder.path().join("cards/egg-mash.en.pdf").is_file());
}

#[test]
fn the_two_commands_are_there() {
    let page = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    for command in ["cargo run --release -- build", "cargo test --release"] {
        assert!(page.contains(command), "{command}");
    }
}

/// Every dependency has its reason in DEVELOPERS.md, and every reason a
/// dependency.
#[test]
fn dependencies_have_their_reasons() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let manifest: toml::Table = toml::from_str(&fs::read_to_string(root.join("Cargo.toml")).unwrap()).unwrap();
    let used: Vec<&str> = ["dependencies", "dev-dependencies", "build-dependencies"]
        .iter()
        .flat_map(|part| manifest[*part].as_table().unwrap().keys().map(String::as_str))
        .collect();
    let page = fs::read_to_string(root.join("DEVELOPERS.md")).unwrap();
    let table = page.split("## Dependencies and why").nth(1).unwrap();
    let said: Vec<&str> = table
        .lines()
        .filter_map(|line| line.strip_prefix("| ")?.split(" | ").next())
        .flat_map(|crates| crates.split([',', ' ']))
        .filter(|word| !word.is_empty() && !["crate", "(tests)"].contains(word))
        .collect();
    let missing: Vec<&&str> = used.iter().filter(|name| !said.contains(name)).collect();
    let gone: Vec<&&str> = said.iter().filter(|name| !used.contains(name)).collect();
    assert!(missing.is_empty() && gone.is_empty(), "without a reason: {missing:?}; no dependency: {gone:?}");
    let lock = fs::read_to_string(root.join("Cargo.lock")).unwrap();
    let elsewhere: Vec<&str> = lock
        .lines()
        .filter(|line| line.starts_with("source = "))
        .filter(|line| *line != "source = \"registry+https://github.com/rust-lang/crates.io-index\"")
        .collect();
    assert!(elsewhere.is_empty(), "not from the registry: {elsewhere:?}");
}
