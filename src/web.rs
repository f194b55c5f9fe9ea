//! Pages for a browser: one a dish or menu and language, a table of contents a
//! language, and one page to choose the language on. Each page is whole in its
//! file: it works from a file system, without a script and without a network.

mod contents;
mod drawing;
pub mod linked;
mod page;

use std::collections::BTreeMap;

use crate::ast::{Document, Text};
use crate::card::menu::MenuCard;
use crate::card::{Card, Locale};
use crate::check::Checked;
use crate::reference::Reference;
use crate::typeset::picture::Picture;
use crate::typeset::{Engine, Fault};

/// What a page is made from.
#[derive(Debug, Clone, Copy)]
pub enum Face<'a> {
    Dish(&'a Card),
    Menu(&'a MenuCard),
}

impl Face<'_> {
    pub fn lang(&self) -> &str {
        match self {
            Self::Dish(card) => &card.lang,
            Self::Menu(card) => &card.lang,
        }
    }

    pub fn title(&self) -> &str {
        match self {
            Self::Dish(card) => &card.title,
            Self::Menu(card) => &card.title,
        }
    }

    pub fn ages(&self) -> &str {
        match self {
            Self::Dish(card) => &card.ages.text,
            Self::Menu(card) => &card.ages.text,
        }
    }
}

/// One page to be.
#[derive(Debug)]
pub struct Leaf<'a> {
    pub file: &'a Checked,
    pub face: Face<'a>,
    pub picture: Option<&'a Picture>,
    /// The document's id as a file name.
    pub slug: String,
}

impl Leaf<'_> {
    /// Of a document's name there are two dots, of the other pages' one, so
    /// that no id takes their place.
    pub fn href(&self) -> String {
        format!("{}.{}.html", self.slug, self.face.lang())
    }
}

/// A set of pages.
pub struct Book<'a> {
    pub leaves: Vec<Leaf<'a>>,
    /// Booklets give the pages their order and sections.
    pub booklets: Vec<&'a Checked>,
    pub reference: &'a Reference,
    pub locales: &'a BTreeMap<String, Locale>,
    /// Languages in the order asked for.
    pub languages: Vec<String>,
    /// Language of a document's prose.
    pub own_language: &'a dyn Fn(&Document) -> String,
    pub programme: Option<String>,
    pub footer: Option<crate::card::Worded>,
}

impl Book<'_> {
    /// An author's text in a language; the author's own where there is none.
    fn text(&self, text: &Text, document: &Document, tag: &str) -> String {
        if (self.own_language)(document).eq_ignore_ascii_case(tag) {
            return text.value.clone();
        }
        text.in_language(tag).unwrap_or(&text.value).to_owned()
    }

    /// The languages that some page is in, in the order asked for.
    fn spoken(&self) -> Vec<&Locale> {
        let mut tags: Vec<&str> = self.languages.iter().map(String::as_str).collect();
        for leaf in &self.leaves {
            if !tags.contains(&leaf.face.lang()) {
                tags.push(leaf.face.lang());
            }
        }
        tags.retain(|tag| self.leaves.iter().any(|leaf| leaf.face.lang() == *tag));
        tags.into_iter().filter_map(|tag| self.locales.get(tag)).collect()
    }

    /// What the set is called.
    fn title(&self, locale: &Locale) -> String {
        match self.booklets.as_slice() {
            [only] if only.title().is_some() => {
                only.title().map(|title| self.text(title, &only.document, locale.tag())).unwrap_or_default()
            }
            _ => self.programme.clone().unwrap_or_else(|| locale.word("web-contents")),
        }
    }
}

/// Name and text of every page.
///
/// # Errors
/// [`Fault`]: a drawing or a page could not be made, which a test rules out for
/// the built-in templates.
pub fn pages(book: &Book<'_>, engine: &Engine) -> Result<Vec<(String, String)>, Fault> {
    let drawings = drawing::Drawings::of(book.leaves.iter().map(|leaf| leaf.face), engine)?;
    page::all(book, drawings)
}
