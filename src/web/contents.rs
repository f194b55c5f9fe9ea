//! The table of contents of a language: the booklet's sections, then the index
//! by age and the index by food.

use std::collections::BTreeMap;

use serde::Serialize;
use unicode_normalization::UnicodeNormalization;

use super::page::{Link, link};
use super::{Book, Leaf};
use crate::ast::{Document, Entry, RemarkKind};
use crate::card::{Locale, words};
use crate::check::Checked;

#[derive(Debug, Serialize)]
pub(super) struct Contents {
    /// What the booklet's author notes of it.
    notes: Vec<String>,
    sections: Vec<Section>,
    by_age_label: String,
    by_age: Vec<Section>,
    by_food_label: String,
    by_food: Vec<Section>,
    #[serde(skip)]
    order: Vec<usize>,
}

#[derive(Debug, Default, Serialize)]
struct Section {
    title: String,
    entries: Vec<Link>,
}

impl Contents {
    /// The pages of the language in the order of the contents, as indices.
    pub(super) fn order(&self) -> Vec<usize> {
        self.order.clone()
    }
}

pub(super) fn of(book: &Book<'_>, locale: &Locale) -> Contents {
    let own: Vec<(usize, &Leaf<'_>)> =
        book.leaves.iter().enumerate().filter(|(_, leaf)| leaf.face.lang() == locale.tag()).collect();
    let mut order: Vec<usize> = Vec::new();
    let mut sections: Vec<Section> = Vec::new();
    let mut notes = Vec::new();
    for booklet in &book.booklets {
        let Document::Booklet(document) = &booklet.document else { continue };
        let text = |text| book.text(text, &booklet.document, locale.tag());
        let remarks = document.header.remarks.iter().filter(|remark| remark.kind == RemarkKind::Note);
        notes.extend(remarks.map(|remark| text(&remark.text)));
        let title = document.header.title.as_ref().map(text).unwrap_or_default();
        let mut section = Section { title, entries: Vec::new() };
        for entry in &document.entries {
            match entry {
                Entry::Section(title) => {
                    sections.push(std::mem::replace(&mut section, Section { title: text(title), entries: Vec::new() }));
                }
                Entry::Page { menu, slug } => {
                    let found = own.iter().find(|(_, leaf)| is_called(leaf.file, *menu, &slug.value));
                    if let Some((at, leaf)) = found.filter(|(at, _)| !order.contains(at)) {
                        order.push(*at);
                        section.entries.push(link(leaf));
                    }
                }
                Entry::Annex(_) => {}
            }
        }
        sections.push(section);
    }
    // What no booklet names.
    for (key, menu) in [("web-dishes", false), ("web-days", true)] {
        let rest: Vec<&(usize, &Leaf<'_>)> =
            own.iter().filter(|(at, leaf)| leaf.file.menu.is_some() == menu && !order.contains(at)).collect();
        order.extend(rest.iter().map(|(at, _)| at));
        sections.push(Section { title: locale.word(key), entries: rest.iter().map(|(_, leaf)| link(leaf)).collect() });
    }
    sections.retain(|section| !section.entries.is_empty());
    let leaves: Vec<&Leaf<'_>> = order.iter().filter_map(|at| book.leaves.get(*at)).collect();
    Contents {
        notes,
        sections,
        by_age_label: locale.word("web-by-age"),
        by_age: by_age(book, locale, &leaves),
        by_food_label: locale.word("web-by-food"),
        by_food: by_food(locale, &leaves),
        order,
    }
}

/// A booklet names a page by the document's id or its file's stem.
fn is_called(file: &Checked, menu: bool, slug: &str) -> bool {
    let stem = std::path::Path::new(&file.source.name).file_stem();
    file.menu.is_some() == menu && (file.id() == Some(slug) || stem.is_some_and(|stem| stem.to_string_lossy() == slug))
}

fn by_age(book: &Book<'_>, locale: &Locale, leaves: &[&Leaf<'_>]) -> Vec<Section> {
    let number = |months: u16| locale.integer(i64::from(months));
    let bands = book.reference.profile.bands().iter().enumerate();
    let sections = bands.map(|(at, band)| Section {
        title: locale.with("ages-range", &[("from", number(band.from_months)), ("to", number(band.to_months))]),
        entries: leaves
            .iter()
            .filter(|leaf| {
                let dish = leaf.file.dish.as_ref().map(|dish| &dish.resolved.bands);
                let menu = leaf.file.menu.as_ref().map(|menu| &menu.resolved.bands);
                dish.or(menu).is_some_and(|bands| bands.contains(&at))
            })
            .map(|leaf| link(leaf))
            .collect(),
    });
    sections.filter(|section| !section.entries.is_empty()).collect()
}

/// Every food that a child is given in a dish, what may stand in for it too.
fn by_food(locale: &Locale, leaves: &[&Leaf<'_>]) -> Vec<Section> {
    let mut foods: BTreeMap<(String, String), Vec<Link>> = BTreeMap::new();
    for leaf in leaves {
        let Some(dish) = &leaf.file.dish else { continue };
        let options = dish.resolved.ingredients.iter().filter(|ingredient| !ingredient.family);
        for food in options.flat_map(|ingredient| &ingredient.options).filter_map(|choice| choice.food.as_ref()) {
            let Some(row) = food.larder.as_ref().filter(|row| row.id != "water") else { continue };
            let name = row.printed(locale.tag());
            let entries = foods.entry((folded(name), words::capital(name))).or_default();
            let link = link(leaf);
            if !entries.iter().any(|own| own.href == link.href) {
                entries.push(link);
            }
        }
    }
    foods.into_iter().map(|((_, title), entries)| Section { title, entries }).collect()
}

/// As an index sorts it: without marks and in small letters.
fn folded(name: &str) -> String {
    name.nfd().filter(|c| !unicode_normalization::char::is_combining_mark(*c)).flat_map(char::to_lowercase).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn accents_do_not_move_a_word() {
        let mut names = ["Épinards", "Eau", "Farine"];
        names.sort_by_key(|name| folded(name));
        assert_eq!(names, ["Eau", "Épinards", "Farine"]);
    }
}
