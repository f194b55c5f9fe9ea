//! Dishes as an educator writes them, each sound, with faults seeded one at a
//! time. A sound dish gives no error and no warning; a fault gives its code and
//! no other.
//!
//! A `.twins` file holds several dishes, one after the other:
//!
//! ```text
//! ==== dish
//! dish     …                the sound twin
//! ==== beside NAME.dish     another dish of the same workspace, if it needs one
//! ==== fault FAMILY/SLUG    the fault: `-` a line of the twin, `+` what stands
//! - step     pound nuts     in its place; `-` alone removes it, `+` after the
//! + step     chop nuts      `-` line puts lines there
//! ```

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use porringer::cli::{Input, gather};
use porringer::diagnostic::{Code, Severity};

/// A sound dish with its seeded faults.
struct Twins {
    file: String,
    sound: String,
    beside: Vec<(String, String)>,
    faults: Vec<(String, String)>,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/twins")
}

fn read() -> Vec<Twins> {
    let mut all: Vec<Twins> = Vec::new();
    let mut paths: Vec<PathBuf> = fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "twins"));
    paths.sort();
    for path in paths {
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        let text = fs::read_to_string(&path).unwrap();
        for block in text.split("==== ").skip(1) {
            let (head, body) = block.split_once('\n').unwrap();
            match head.split_once(' ') {
                None if head == "dish" => all.push(Twins {
                    file: file.clone(),
                    sound: body.to_owned(),
                    beside: Vec::new(),
                    faults: Vec::new(),
                }),
                Some(("beside", name)) => all.last_mut().unwrap().beside.push((name.to_owned(), body.to_owned())),
                Some(("fault", code)) => all.last_mut().unwrap().faults.push((code.to_owned(), body.to_owned())),
                _ => panic!("{file}: `==== {head}`"),
            }
        }
    }
    all
}

/// The twin with the fault in it.
fn seeded(sound: &str, fault: &str) -> String {
    let mut lines: Vec<String> = sound.lines().map(str::to_owned).collect();
    let mut at = None;
    for line in fault.lines().filter(|line| !line.trim().is_empty()) {
        if let Some(old) = line.strip_prefix("- ") {
            let places: Vec<usize> = (0..lines.len()).filter(|at| lines[*at] == old).collect();
            assert_eq!(places.len(), 1, "`{old}` must stand once in\n{sound}");
            lines.remove(places[0]);
            at = Some(places[0]);
        } else {
            let new = line.strip_prefix("+ ").unwrap_or_else(|| panic!("neither - nor +: {line}"));
            let place = at.expect("a `-` line comes first");
            lines.insert(place, new.to_owned());
            at = Some(place + 1);
        }
    }
    lines.join("\n") + "\n"
}

/// Errors and warnings of a dish in a workspace of its own.
fn loud(text: &str, beside: &[(String, String)]) -> Vec<(String, String)> {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("porringer.toml"), "languages = [\"en\"]\n").unwrap();
    for (name, text) in beside {
        fs::write(folder.path().join(name), text).unwrap();
    }
    let path = folder.path().join("twin.dish");
    fs::write(&path, text).unwrap();
    let input = Input { paths: vec![path.clone()], foods: Vec::new() };
    let workspace = gather::workspace(&input).map_err(|failure| failure.0).unwrap();
    let checked = gather::with_texts(&input.paths, &workspace, &workspace.settings.languages, &[]);
    checked
        .into_iter()
        .flat_map(|file| file.diagnostics)
        .filter(|message| message.severity > Severity::Note)
        .map(|message| (message.code.name().to_owned(), message.message))
        .collect()
}

#[test]
fn sound_dishes_are_clean() {
    let mut wrong = Vec::new();
    for twins in read() {
        for (name, text) in std::iter::once((String::new(), twins.sound.clone())).chain(twins.beside.clone()) {
            let found = loud(&text, &twins.beside);
            if !found.is_empty() {
                wrong.push(format!("{} {name}: {found:?}\n{text}", twins.file));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn each_fault_gives_its_code_and_no_other() {
    let mut wrong = Vec::new();
    for twins in read() {
        for (code, fault) in &twins.faults {
            assert!(Code::from_name(code).is_some(), "{}: {code}", twins.file);
            let text = seeded(&twins.sound, fault);
            let found = loud(&text, &twins.beside);
            let codes: BTreeSet<&str> = found.iter().map(|(code, _)| code.as_str()).collect();
            if codes.len() != 1 || !codes.contains(code.as_str()) {
                wrong.push(format!("{} {code}: {found:?}\n{text}", twins.file));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The set is worth something only if it is wide.
#[test]
fn the_set_is_wide() {
    let all = read();
    let faults: Vec<&String> = all.iter().flat_map(|twins| &twins.faults).map(|(code, _)| code).collect();
    assert!(faults.len() >= 60, "{} pairs", faults.len());
    let codes: BTreeSet<&String> = faults.iter().copied().collect();
    assert!(codes.len() >= 35, "{} codes", codes.len());
    for code in porringer::diagnostic::CODES {
        // A note is for the card and stops nothing.
        let judged = code.family() == "safety" && code.severity() > Severity::Note;
        assert!(!judged || codes.contains(&code.name().to_owned()), "no pair seeds {}", code.name());
    }
}
