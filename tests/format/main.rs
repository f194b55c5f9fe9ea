//! The form of a file, held against every recipe there is and against
//! thousands that never were: bringing a file into form twice is the same as
//! once, nothing is lost, and the file means what it meant.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod meaning;
mod shapes;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use porringer::format::format;
use porringer::syntax::Kind;

/// Every recipe of the repository, with its name and kind.
pub static RECIPES: LazyLock<Vec<(PathBuf, Kind, String)>> = LazyLock::new(|| {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["recipes", "tests/corpus"] {
        walk(&root.join(folder), &mut found);
    }
    found.sort();
    assert!(found.len() > 200, "{} recipes", found.len());
    found
        .into_iter()
        .filter_map(|path| {
            let kind = Kind::of_path(&path)?;
            Some((path.clone(), kind, String::from_utf8(fs::read(&path).unwrap()).ok()?))
        })
        .collect()
});

fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            walk(&path, found);
        } else if Kind::of_path(&path).is_some() {
            found.push(path);
        }
    }
}

/// What every text must keep when it is brought into form.
#[track_caller]
pub fn holds(kind: Kind, text: &str) {
    let formed = format(kind, text);
    assert_eq!(format(kind, &formed), formed, "twice is the same as once: {text:?}");
    assert_eq!(meaning::inked(&formed), meaning::inked(text), "every character stays, in order: {text:?}");
    assert_eq!(meaning::comments(&formed), meaning::comments(text), "comments stay, in order: {text:?}");
    assert_eq!(meaning::blank_lines(&formed), meaning::blank_lines(text), "blank lines stay: {text:?}");
    assert_eq!(meaning::bad_lines(kind, &formed), meaning::bad_lines(kind, text), "bad lines stay: {text:?}");
    assert_eq!(meaning::document(kind, &formed), meaning::document(kind, text), "it means the same: {text:?}");
    assert_eq!(meaning::messages(kind, &formed), meaning::messages(kind, text), "it is judged the same: {text:?}");
}

#[test]
fn every_recipe_keeps_what_it_says() {
    for (path, kind, text) in RECIPES.iter() {
        println!("{}", path.display());
        holds(*kind, text);
    }
}

/// The demonstration set shows the form, and so do the clean cases.
#[test]
fn the_demonstration_set_is_in_form() {
    for (path, kind, text) in RECIPES.iter() {
        let shown = path.to_string_lossy().replace('\\', "/");
        if shown.contains("/recipes/") || shown.contains("/corpus/clean/") {
            assert_eq!(&format(*kind, text), text, "{shown}: `porringer format` brings it into form");
        }
    }
}
