//! `porringer check --format sarif`, held against the published schema (see
//! `sarif/SOURCE.md`) and against the same messages in JSON.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::{BROKEN, Folder, MASH};

const SCHEMA: &str = include_str!("sarif/sarif-schema-2.1.0.json");

fn faults(log: &Value) -> Vec<String> {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    let validator = jsonschema::options().should_validate_formats(true).build(&schema).unwrap();
    validator.iter_errors(log).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

fn dishes(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            dishes(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "dish") {
            found.push(path);
        }
    }
}

/// The byte of a line and column, counted here once more: lines end with
/// `\n`, `\r\n` or `\r`, a column is a code point.
fn byte(text: &str, line: &Value, column: &Value) -> usize {
    let (line, column) = (line.as_u64().unwrap(), column.as_u64().unwrap());
    let mut at = 0;
    let mut characters = text.char_indices().peekable();
    for _ in 1..line {
        while let Some((_, character)) = characters.next() {
            let pair = character == '\r' && characters.peek().is_some_and(|(_, next)| *next == '\n');
            if (character == '\n' || character == '\r') && !pair {
                break;
            }
        }
        at = characters.peek().map_or(text.len(), |(at, _)| *at);
    }
    let rest = &text[at..];
    let mark = if rest.starts_with('\u{FEFF}') { 3 } else { 0 };
    at + mark + rest[mark..].chars().take(column as usize - 1).map(char::len_utf8).sum::<usize>()
}

fn bytes(text: &str, region: &Value) -> (usize, usize) {
    (byte(text, &region["startLine"], &region["startColumn"]), byte(text, &region["endLine"], &region["endColumn"]))
}

#[test]
fn every_message_of_the_corpus_is_valid_and_at_its_place() {
    let folder = Folder::new();
    let mut found = Vec::new();
    dishes(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus"), &mut found);
    let mut texts = Vec::new();
    for path in &found {
        let family = path.parent().unwrap().file_name().unwrap().to_str().unwrap();
        let name = format!("{family} é%_{}", path.file_name().unwrap().to_str().unwrap());
        let bytes = fs::read(path).unwrap();
        texts.push((name.clone(), String::from_utf8_lossy(&bytes).into_owned()));
        folder.write(&name, bytes);
    }
    let log = folder.run(&["check", ".", "--notes", "--format", "sarif"]).json();
    assert_eq!(faults(&log), [""; 0]);
    let run = &log["runs"][0];
    assert_eq!(run["columnKind"], "unicodeCodePoints");
    let json = folder.run(&["check", ".", "--format", "json"]).json();
    let (results, messages) = (run["results"].as_array().unwrap(), json.as_array().unwrap());
    assert_eq!(results.len(), messages.len());
    assert_eq!(run["artifacts"].as_array().unwrap().len(), found.len());
    let (mut fixes, mut related) = (0, 0);
    for (result, message) in results.iter().zip(messages) {
        assert_eq!(result["ruleId"], message["code"]);
        let rule = &run["tool"]["driver"]["rules"][result["ruleIndex"].as_u64().unwrap() as usize];
        assert_eq!(rule["id"], message["code"]);
        assert!(
            rule["help"]["text"].as_str().unwrap().starts_with(&format!("# {}", message["code"].as_str().unwrap()))
        );
        assert_eq!(result["level"], message["severity"]);
        let file = message["file"].as_str().unwrap();
        let text = &texts.iter().find(|(name, _)| name == file).unwrap().1;
        let place = &result["locations"][0]["physicalLocation"];
        let uri = place["artifactLocation"]["uri"].as_str().unwrap();
        assert!(uri.contains("%20%C3%A9%25_") && !uri.contains(' '), "{uri}");
        let index = place["artifactLocation"]["index"].as_u64().unwrap() as usize;
        assert_eq!(run["artifacts"][index]["location"]["uri"], uri);
        let of = |message: &Value| {
            let byte = |place: &str| message[place]["byte"].as_u64().unwrap() as usize;
            (byte("start"), byte("end"))
        };
        assert_eq!(bytes(text, &place["region"]), of(message), "{file}: {message}");
        for (at, label) in message["labels"].as_array().unwrap().iter().enumerate() {
            related += 1;
            let place = &result["relatedLocations"][at]["physicalLocation"];
            assert_eq!(bytes(text, &place["region"]), of(label), "{file}: {label}");
        }
        if message["fix"].is_null() {
            assert!(result["fixes"].is_null());
            continue;
        }
        fixes += 1;
        let replacement = &result["fixes"][0]["artifactChanges"][0]["replacements"][0];
        assert_eq!(bytes(text, &replacement["deletedRegion"]), of(&message["fix"]));
        assert_eq!(replacement["insertedContent"]["text"], message["fix"]["replacement"]);
    }
    assert!(fixes >= 10 && related >= 10, "{fixes} fixes, {related} related places");
}

#[test]
fn the_schema_refuses_what_is_wrong() {
    let folder = Folder::with("broken.dish", BROKEN);
    let mut log = folder.run(&["check", "broken.dish", "--format", "sarif"]).json();
    assert_eq!(faults(&log), [""; 0]);
    log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["startLine"] = 0.into();
    assert_eq!(faults(&log).len(), 1);
}

#[test]
fn one_run_whatever_is_found() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["check", "mash.dish", "--format", "sarif"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let log = ran.json();
    assert_eq!(faults(&log), [""; 0]);
    // Notes for the card are no findings unless asked for.
    assert_eq!(log["runs"][0]["results"], serde_json::json!([]));
    assert_eq!(log["runs"][0]["artifacts"][0]["location"]["uri"], "mash.dish");
    assert_eq!(log["runs"][0]["artifacts"][0]["location"]["uriBaseId"], "SRCROOT");
    // Nothing of the machine is told.
    assert!(!ran.out.contains(folder.path("").to_str().unwrap()), "{}", ran.out);
    let noted = folder.run(&["check", "mash.dish", "--format", "sarif", "--notes"]).json();
    assert!(!noted["runs"][0]["results"].as_array().unwrap().is_empty());

    folder.write("broken.dish", BROKEN);
    folder.write("porringer.toml", "papier = \"A5\"\n");
    let ran = folder.run(&["check", ".", "--format", "sarif"]);
    assert_eq!(ran.code, 1);
    let log = ran.json();
    assert_eq!(faults(&log), [""; 0]);
    let files: Vec<&str> = log["runs"][0]["results"]
        .as_array()
        .unwrap()
        .iter()
        .map(|result| result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"].as_str().unwrap())
        .collect();
    assert_eq!(files, ["porringer.toml", "broken.dish"]);
    // A finding that only moves is the same finding.
    let print = |log: &Value| log["runs"][0]["results"][1]["partialFingerprints"]["porringer/v1"].clone();
    folder.write("broken.dish", format!("# moved\n\n{BROKEN}"));
    let moved = folder.run(&["check", ".", "--format", "sarif"]).json();
    assert_eq!(print(&moved), print(&log));
    assert!(print(&log).is_string());
}
