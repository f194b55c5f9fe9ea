//! The examples on the pages that `explain` prints: the first raises the
//! page's code and nothing else, the second raises nothing.

use std::fs;

use porringer::diagnostic::{CODES, Severity};
use porringer::syntax::Kind;

use crate::messages;

/// Fenced blocks of a page with their language.
fn fences(page: &str) -> Vec<(String, String)> {
    let mut blocks = Vec::new();
    let mut open: Option<(String, String)> = None;
    for line in page.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(language)) => open = Some((language.trim().to_owned(), String::new())),
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (Some((_, text)), None) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    blocks
}

#[test]
fn every_page_has_its_parts() {
    for code in CODES {
        let page = code.page();
        assert!(page.starts_with(&format!("# {}\n", code.name())), "{}", code.name());
        for part in ["## Why", "## Source", "## Example", "## Mended"] {
            assert!(page.contains(&format!("\n{part}\n")), "{} has no {part}", code.name());
        }
        assert!(fences(page).len() >= 2, "{} shows no example", code.name());
        assert!(page.lines().all(|line| line.chars().count() <= 100), "{} has long lines", code.name());
    }
}

/// A figure whose standing is not said would be believed as if it were checked.
#[test]
fn every_source_says_how_far_it_was_checked() {
    const STANDINGS: [&str; 7] = [
        "checked",
        "memory",
        "(computed)",
        "common practice, no source",
        "A rule of this language",
        "A rule of this project",
        "`porringer trace",
    ];
    for code in CODES {
        let source = code.page().split("## Source").nth(1).and_then(|rest| rest.split("## Example").next()).unwrap();
        let source = source.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(STANDINGS.iter().any(|standing| source.contains(standing)), "{}: {source}", code.name());
    }
}

#[test]
fn every_example_does_what_its_page_says() {
    for code in CODES {
        let blocks = fences(code.page());
        let (language, example) = &blocks[0];
        let (_, mended) = &blocks[1];
        let Some(kind) = Kind::ALL.into_iter().find(|kind| kind.word() == language) else { continue };
        let folder = tempfile::tempdir().unwrap();
        // Dishes that menus and booklets of the pages name.
        let recipes = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
        fs::write(folder.path().join("porringer.toml"), languages_for(code.name())).unwrap();
        if kind != Kind::Dish {
            for entry in fs::read_dir(recipes).unwrap() {
                let path = entry.unwrap().path();
                if Kind::of_path(&path).is_some() {
                    fs::copy(&path, folder.path().join(path.file_name().unwrap())).unwrap();
                }
            }
        }
        let file = folder.path().join(format!("page-example.{language}"));
        fs::create_dir(folder.path().join("pictures")).unwrap();
        fs::write(folder.path().join("pictures/mash.jpg"), include_bytes!("text/pictures/mash.jpg")).unwrap();
        let loud = |text: &str| -> Vec<String> {
            fs::write(&file, text).unwrap();
            messages(&file)
                .into_iter()
                .filter(|(_, message)| message.severity > Severity::Note || message.code == *code)
                .map(|(_, message)| message.code.name().to_owned())
                .collect()
        };
        let found = loud(example);
        assert!(
            !found.is_empty() && found.iter().all(|name| name == code.name()),
            "the example of {} gives {found:?}",
            code.name()
        );
        let rest = loud(mended);
        assert!(
            rest.iter().all(|name| Some(name.as_str()) == note(code.name())),
            "{} mended gives {rest:?}",
            code.name()
        );
    }
}

/// Notes stay where nothing is to be mended.
fn note(name: &str) -> Option<&str> {
    matches!(name, "allergen/contains" | "yield/estimated" | "menu/short").then_some(name)
}

fn languages_for(name: &str) -> &'static str {
    if name == "text/missing-translation" { "languages = [\"en\", \"sw\"]\n" } else { "languages = [\"en\"]\n" }
}
