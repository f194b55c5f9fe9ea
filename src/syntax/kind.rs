//! The three kinds of document, by file extension.

use std::path::Path;

use crate::ast::{Booklet, Dish, Document, Menu};

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
pub enum Kind {
    Dish,
    Menu,
    Booklet,
}

impl Kind {
    pub const ALL: [Self; 3] = [Self::Dish, Self::Menu, Self::Booklet];

    /// Extension and header keyword are the same word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Dish => "dish",
            Self::Menu => "menu",
            Self::Booklet => "booklet",
        }
    }

    pub fn of_path(path: &Path) -> Option<Self> {
        let extension = path.extension()?.to_str()?;
        Self::ALL.into_iter().find(|kind| kind.word().eq_ignore_ascii_case(extension))
    }

    pub fn empty_document(self) -> Document {
        match self {
            Self::Dish => Document::Dish(Dish::default()),
            Self::Menu => Document::Menu(Menu::default()),
            Self::Booklet => Document::Booklet(Booklet::default()),
        }
    }
}
