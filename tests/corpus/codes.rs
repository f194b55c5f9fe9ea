//! Every code has one row in the table, one page, a corpus case that raises
//! it, and a place in the program that raises it.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use porringer::diagnostic::{CODES, Severity};

use crate::{cases, messages, root};

fn sources() -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                found.push(path);
            }
        }
    }
    found
}

#[test]
fn every_code_is_raised_somewhere() {
    let text: String = sources()
        .into_iter()
        .filter(|path| !path.ends_with("diagnostic/code.rs"))
        .map(|path| fs::read_to_string(path).unwrap())
        .collect();
    for code in CODES {
        let name = format!("Code::{}", code.variant());
        let raised = text
            .match_indices(&name)
            .any(|(at, _)| !text[at + name.len()..].starts_with(|next: char| next.is_alphanumeric()));
        assert!(raised, "nothing raises {}", code.name());
    }
}

#[test]
fn names_are_unique() {
    let names: BTreeSet<&str> = CODES.iter().map(|code| code.name()).collect();
    assert_eq!(names.len(), CODES.len());
}

/// Codes that no small text file can raise, with the test that does.
const ELSEWHERE: &[(&str, &str)] = &[
    ("workspace/profile-lenient", "tests/command/profile.rs"),
    ("syntax/too-large", "tests/command/hostile.rs"),
    ("text/text-too-long-for-card", "tests/command/build.rs"),
    ("booklet/overflow", "tests/command/booklet.rs"),
];

#[test]
fn every_code_has_a_case() {
    let mut raised = BTreeSet::new();
    for path in cases() {
        let below = path.strip_prefix(root()).unwrap();
        let family = below.iter().next().unwrap().to_string_lossy().into_owned();
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        let found = messages(&path);
        let own = format!("{family}/{stem}");
        if found.iter().any(|(_, message)| message.code.name() == own) {
            // A case shows one fault: nothing else but notes for the card.
            let others: Vec<_> = found
                .iter()
                .filter(|(_, message)| message.code.name() != own && message.severity > Severity::Note)
                .collect();
            assert!(others.is_empty(), "{own} also gives {others:?}");
            raised.insert(own);
        }
    }
    for code in CODES {
        let elsewhere = ELSEWHERE.iter().find(|(name, _)| *name == code.name());
        match elsewhere {
            Some((name, test)) => {
                let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(test);
                let text = fs::read_to_string(&path).unwrap_or_default();
                assert!(text.contains(name), "{test} does not test {name}");
            }
            None => assert!(raised.contains(code.name()), "no case raises {}", code.name()),
        }
    }
}

#[test]
fn twenty_faults_give_twenty_messages() {
    let path = root().join("syntax/twenty-faults.dish");
    let loud: Vec<_> = messages(&path).into_iter().filter(|(_, message)| message.severity > Severity::Note).collect();
    assert_eq!(loud.len(), 20, "{loud:#?}");
    let lines: BTreeSet<usize> = loud.iter().map(|(source, message)| source.place(message.span.start).line).collect();
    assert!(lines.len() >= 18, "faults stand apart: {lines:?}");
}

/// Every rule that the built-in profile locks is a rule.
#[test]
fn locked_rules_exist() {
    let profile = porringer::reference::profile::Profile::built_in();
    assert!(profile.file.locked.len() >= 8);
    for locked in &profile.file.locked {
        let code = porringer::diagnostic::Code::from_name(&locked.code);
        assert!(code.is_some_and(|code| code.family() == "safety"), "{}", locked.code);
    }
}
