//! The language server: as a library of pure features over every recipe here,
//! and as an editor talks to it, over a connection in memory.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod completing;
mod editor;
mod everywhere;
mod fixing;
mod grammar;
mod hovering;
mod keeping;
mod naming;
mod positions;
mod stdio;
mod talking;
mod unsaved;

use std::fs;
use std::path::{Path, PathBuf};

use porringer::check::{Checked, check};
use porringer::lsp::View;
use porringer::lsp::view::Alone;
use porringer::resolve::NoDishes;
use porringer::source::Source;
use porringer::syntax::Kind;
use porringer::workspace::{Workspace, shelf};

/// A dish without a fault. Its claims hold; see the README's tour.
pub const MASH: &str = "\
dish     Sweet potato mash with egg
in sw    Viazi vitamu na yai, vya kuponda
for      9 to 23 months
makes    2 cups
cooked   440 g
portion  9 to 11 months: 1/2 cup
portion  12 to 23 months: 3/4 cup
claim    rich in vitamin A

take     2 cups orange sweet potato, raw, peeled, cubed as sweet potato
take     2 eggs as egg
take     1 tbsp sunflower oil as oil
family   1 pinch iodised salt as salt

step     boil sweet potato for 20 min, until soft
step     boil egg for 10 min: White and yolk are firm.
step     peel egg
step     mash sweet potato with egg, oil for 3 min
step     set aside child portion
step     add salt: Only now, for the rest of the family.
serve    warm, within 2 hours
";

/// A checked document with the built-in tables, or those of a folder.
pub struct Lone {
    checked: Checked,
    workspace: Workspace,
}

impl Lone {
    pub fn dish(text: &str) -> Self {
        Self::of(Kind::Dish, text)
    }

    pub fn of(kind: Kind, text: &str) -> Self {
        let workspace = Workspace::of(&std::env::temp_dir().join("porringer-no-such-folder/a.dish"));
        let checked = check(Source::new("a", text), kind, "a", &workspace.reference, &NoDishes);
        Self { checked, workspace }
    }

    pub fn view(&self) -> View<'_> {
        View { checked: &self.checked, workspace: &self.workspace, neighbours: &Alone }
    }
}

/// A text with a bar where the cursor stands: the text without it, and where.
pub fn cursor(text: &str) -> (String, usize) {
    let at = text.find('|').expect("a bar");
    (text.replacen('|', "", 1), at)
}

/// Every recipe of the repository.
pub fn recipes() -> Vec<(PathBuf, Kind, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["recipes", "tests/corpus"] {
        for path in shelf::files(&root.join(folder)) {
            let kind = Kind::of_path(&path).unwrap();
            if let Ok(text) = String::from_utf8(fs::read(&path).unwrap()) {
                found.push((path, kind, text));
            }
        }
    }
    assert!(found.len() > 200, "{} recipes", found.len());
    found
}
