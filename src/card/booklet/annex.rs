//! What stands behind the dishes for the health worker: figures over the whole
//! set, where they come from, and what the booklet was made with.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::Serialize;

use super::index::unit_of;
use super::{Binder, Content, Leaf, PageLink, Place};
use crate::card::Fact;
use crate::card::panel::{Cell, PanelGroup};
use crate::diagnostic::Changed;
use crate::reference::composition;
use crate::reference::profile::data::Status;
use crate::reference::profile::rows::{self, Table};
use crate::resolve::food::Figures;
use crate::resolve::menu::What;

/// Nutrients over the set, by age band. A long set comes in pieces.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct NutrientTables {
    /// In the first piece.
    pub title: Option<String>,
    pub explain: Vec<String>,
    /// Head of the column of titles.
    pub dish: String,
    pub table: NutrientTable,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct NutrientTable {
    pub age: String,
    /// The band begins here.
    pub begins: bool,
    pub columns: Vec<NutrientColumn>,
    pub rows: Vec<NutrientRow>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct NutrientColumn {
    /// INFOODS tagname.
    pub tag: String,
    pub name: String,
    pub unit: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct NutrientRow {
    pub title: String,
    pub page: PageLink,
    /// The row is a whole day's menu, not a portion.
    pub day: bool,
    /// One for each of the columns; null where the figure is not known.
    pub cells: Vec<Option<NutrientCell>>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct NutrientCell {
    /// In the column's unit.
    pub amount: String,
    /// Some food's figure is missing: it is at least so much.
    pub at_least: bool,
    /// Of a day's need.
    pub share: Option<String>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Sources {
    pub title: String,
    /// Composition, loss in cooking, guidance.
    pub tables: Vec<String>,
    pub guidance_title: String,
    /// Each document that a figure of the profile comes from.
    pub guidance: Vec<String>,
    pub dishes_title: String,
    /// Where dishes and menus come from, and who looked at them.
    pub dishes: Vec<DishSource>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DishSource {
    pub title: String,
    pub page: PageLink,
    pub text: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Colophon {
    pub title: String,
    pub facts: Vec<Fact>,
    /// Rules that the workspace judges otherwise, in words.
    pub changed: Vec<String>,
    /// How to print, and what the figures are not.
    pub lines: Vec<String>,
}

/// Figures of a row by tagname.
type Row<'a> = BTreeMap<&'a str, &'a Cell>;

fn by_tag(groups: &[PanelGroup], at: usize) -> Row<'_> {
    groups
        .iter()
        .flat_map(|group| &group.rows)
        .filter_map(|row| row.cells.get(at).map(|cell| (row.tag.as_str(), cell)))
        .collect()
}

/// A cell without its unit, which the head of the column bears.
fn cell(cell: &Cell) -> Option<NutrientCell> {
    let amount = cell.amount.split('\u{A0}').next().filter(|amount| !amount.is_empty())?;
    Some(NutrientCell {
        amount: amount.to_owned(),
        at_least: cell.at_least.is_some(),
        share: cell.share.map(|_| cell.share_text.clone()),
    })
}

impl Leaf<'_> {
    /// Where its figures for an age band stand.
    fn at_band(&self, band: usize) -> Option<usize> {
        match &self.content {
            Content::Dish(dish, _) => dish.computed.portions.iter().position(|portion| portion.band == band),
            Content::Menu(menu, _) => menu.day.bands.iter().position(|day| day.band == band),
        }
    }
}

impl Binder<'_> {
    /// Pieces of the table: a band, and which of its rows. The typesetter
    /// should not hold the table of a long set as a whole.
    pub(super) fn pieces(&self) -> Vec<(usize, std::ops::Range<usize>)> {
        const MOST: usize = 48;
        let mut pieces = Vec::new();
        for band in 0..self.reference.profile.bands().len() {
            let rows = self.leaves.iter().filter(|leaf| leaf.at_band(band).is_some()).count();
            let even = rows.div_ceil(rows.div_ceil(MOST).max(1)).max(1);
            pieces.extend((0..rows).step_by(even).map(|from| (band, from..(from + even).min(rows))));
        }
        pieces
    }

    pub(super) fn nutrients(&self, piece: usize, places: &[Place]) -> Option<NutrientTables> {
        let (band, rows) = self.pieces().into_iter().nth(piece)?;
        let ages = self.reference.profile.bands().get(band)?;
        let locale = self.locale;
        let profile = &self.reference.profile;
        let mut columns = vec![NutrientColumn {
            tag: "ENERC_KCAL".to_owned(),
            name: locale.word("energy-label"),
            unit: unit_of("ENERC_KCAL").to_owned(),
        }];
        // In the order of the cards' groups.
        let mut listed: Vec<&str> = Vec::new();
        for leaf in &self.leaves {
            let groups = match &leaf.content {
                Content::Dish(_, card) => &card.back.groups,
                Content::Menu(_, card) => &card.back.groups,
            };
            for row in groups.iter().flat_map(|group| &group.rows) {
                if !listed.contains(&row.tag.as_str()) {
                    listed.push(&row.tag);
                    columns.push(NutrientColumn {
                        tag: row.tag.clone(),
                        name: row.name.clone(),
                        unit: profile
                            .nutrient(&row.tag)
                            .map_or_else(|| unit_of(&row.tag).to_owned(), |nutrient| nutrient.unit.clone()),
                    });
                }
            }
        }
        let first = piece == 0;
        let signs = || format!("≥ = {}; – = {}.", locale.word("at-least"), locale.word("unknown"));
        Some(NutrientTables {
            title: first.then(|| locale.word("booklet-nutrients")),
            explain: if first { vec![locale.word("booklet-nutrients-explain"), signs()] } else { Vec::new() },
            dish: locale.word("booklet-dish"),
            table: NutrientTable {
                age: self.band_words(ages.from_months, ages.to_months),
                begins: rows.start == 0,
                columns,
                rows: self.rows(band, rows, &listed, places),
            },
        })
    }

    /// What each dish and day gives to children of one band.
    fn rows(&self, band: usize, range: std::ops::Range<usize>, tags: &[&str], places: &[Place]) -> Vec<NutrientRow> {
        let mut rows = Vec::new();
        let of_band = self.leaves.iter().enumerate().filter_map(|(at, leaf)| Some((at, leaf, leaf.at_band(band)?)));
        for (number, leaf, at) in of_band.skip(range.start).take(range.len()) {
            let (day, energy, figures) = match &leaf.content {
                Content::Dish(dish, card) => {
                    let energy = card.back.energy.get(at).and_then(|energy| {
                        let nutrition = &dish.computed.nutrition;
                        let grams = dish.computed.portions.get(at)?.grams?;
                        let kcal = nutrition.in_grams(crate::reference::nutrient::ENERC_KCAL, grams)?;
                        Some(NutrientCell {
                            amount: self.locale.decimal(kcal, 0),
                            at_least: !nutrition.complete(crate::reference::nutrient::ENERC_KCAL),
                            share: energy.share.map(|_| energy.share_text.clone()),
                        })
                    });
                    (false, energy, by_tag(&card.back.groups, at))
                }
                Content::Menu(_, card) => {
                    // The last row of energy counts breast milk too, as the
                    // nutrients do.
                    let energy = card.back.energy.last().and_then(|row| row.cells.get(at)).and_then(cell);
                    (true, energy, by_tag(&card.back.groups, at))
                }
            };
            let mut cells = vec![energy];
            cells.extend(tags.iter().map(|tag| figures.get(tag).and_then(|figure| cell(figure))));
            let page = self.place_of(number, places);
            rows.push(NutrientRow { title: leaf.title().to_owned(), page, day, cells });
        }
        rows
    }

    /// Tables that figures of the set were taken from, built-in ones first.
    fn tables(&self) -> Vec<String> {
        let locale = self.locale;
        let mut own: BTreeSet<&str> = BTreeSet::new();
        let mut borrowed: BTreeSet<String> = BTreeSet::new();
        for leaf in &self.leaves {
            let foods: Vec<_> = match &leaf.content {
                Content::Dish(dish, _) => {
                    let options = dish.resolved.ingredients.iter().flat_map(|ingredient| &ingredient.options);
                    options.filter_map(|choice| choice.food.as_ref()).collect()
                }
                Content::Menu(menu, _) => {
                    let options = menu.resolved.items().flat_map(|(_, _, item)| &item.options);
                    options
                        .filter_map(|choice| match &choice.what {
                            What::Food(food) => Some(food.as_ref()),
                            _ => None,
                        })
                        .collect()
                }
            };
            for food in foods {
                if let Figures::Table(table, _) = &food.figures {
                    own.insert(&table.stem);
                }
                if let Some(row) = food.larder.as_ref().filter(|row| row.borrowed.is_some()) {
                    borrowed.insert(format!("{} ({})", row.printed(locale.tag()), food.row_id()));
                }
            }
        }
        let mut lines = vec![locale.word("figures-usda")];
        lines.extend(own.into_iter().map(|table| locale.with("figures-table", &[("table", table.to_owned())])));
        if !borrowed.is_empty() {
            let foods: Vec<String> = borrowed.into_iter().collect();
            lines.push(locale.with("figures-borrowed", &[("foods", foods.join(", "))]));
        }
        lines.push(locale.word("figures-retention"));
        lines
    }

    pub(super) fn sources(&self, places: &[Place]) -> Sources {
        let locale = self.locale;
        // What a card or a rule rests on; the rest of the profile compares.
        const READ: [Table; 7] = [
            Table::Bands,
            Table::EnergyDensity,
            Table::Intakes,
            Table::Limits,
            Table::Claims,
            Table::Allergens,
            Table::Hazards,
        ];
        let mut documents: Vec<(String, usize, usize)> = Vec::new();
        for row in rows::rows(&self.reference.profile.file) {
            let Some(status) = row.status.filter(|_| READ.contains(&row.table)) else { continue };
            let name = match row.year {
                Some(year) => format!("{}, {year}", row.source),
                None => row.source.clone(),
            };
            let open = usize::from(status == Status::Memory);
            match documents.iter_mut().find(|(known, ..)| *known == name) {
                Some((_, all, unchecked)) => {
                    *all += 1;
                    *unchecked += open;
                }
                None => documents.push((name, 1, open)),
            }
        }
        documents.sort();
        let count = |n: usize| locale.integer(i64::try_from(n).unwrap_or(i64::MAX));
        let guidance = documents
            .into_iter()
            .map(|(name, all, open)| {
                let key = match open {
                    0 => "booklet-source",
                    open if open == all => "booklet-source-all-open",
                    _ => "booklet-source-open",
                };
                locale.counted(key, all as f64, &[("source", name), ("count", count(all)), ("open", count(open))])
            })
            .collect();
        let dishes = self
            .leaves
            .iter()
            .enumerate()
            .filter_map(|(at, leaf)| {
                let header = match &leaf.content {
                    Content::Dish(dish, _) => &dish.resolved.ast.header,
                    Content::Menu(menu, _) => &menu.resolved.ast.header,
                };
                let source = header.source.as_ref().map(|source| ended(source.printed(locale.tag())));
                let reviewed = header.reviewed.as_ref().map(|reviewed| self.reviewed(reviewed));
                let text: Vec<String> = source.into_iter().chain(reviewed).collect();
                (!text.is_empty()).then(|| DishSource {
                    title: leaf.title().to_owned(),
                    page: self.place_of(at, places),
                    text: text.join(" "),
                })
            })
            .collect();
        Sources {
            title: locale.word("booklet-sources"),
            tables: self.tables(),
            guidance_title: locale.word("booklet-guidance"),
            guidance,
            dishes_title: locale.word("booklet-dish-sources"),
            dishes,
        }
    }

    fn reviewed(&self, reviewed: &crate::ast::Reviewed) -> String {
        let date = reviewed.day.to_string();
        match &reviewed.by {
            Some(by) => self
                .locale
                .with("figures-reviewed", &[("date", date), ("by", by.printed(self.locale.tag()).to_owned())]),
            None => self.locale.with("figures-reviewed-date", &[("date", date)]),
        }
    }

    pub(super) fn colophon(&self) -> Colophon {
        let locale = self.locale;
        let header = &self.booklet.header;
        let about = &self.reference.profile.file.profile;
        let mut facts = Vec::new();
        let mut fact = |key: &str, text: String| facts.push(Fact { label: locale.word(key), text });
        if let Some(programme) = &self.imprint.programme {
            fact("booklet-programme", programme.clone());
        }
        if let Some(source) = &header.source {
            fact("booklet-source-label", source.printed(locale.tag()).to_owned());
        }
        if let Some(reviewed) = &header.reviewed {
            fact("booklet-reviewed", self.reviewed(reviewed));
        }
        let edition = |title: &str, id: &str, edition: &str| {
            let title = locale.profile(id, title);
            locale.with("booklet-edition", &[("title", title), ("id", id.to_owned()), ("edition", edition.to_owned())])
        };
        let mut profile = edition(&about.title, &about.id, &about.edition);
        if let Some(base) = &self.reference.profile.amends {
            let base = edition(&base.title, &base.id, &base.edition);
            profile = locale.with("booklet-amends", &[("profile", profile), ("base", base)]);
        }
        fact("booklet-profile", profile);
        let thousands = locale.integer(i64::try_from(composition::count()).unwrap_or(i64::MAX));
        let mut tables = vec![locale.with("booklet-usda", &[("n", thousands)]), locale.word("booklet-retention")];
        for table in &self.reference.tables {
            let rows = locale.integer(i64::try_from(table.rows.len()).unwrap_or(i64::MAX));
            tables.push(locale.with("booklet-table", &[("table", table.stem.clone()), ("n", rows)]));
        }
        fact("booklet-tables", tables.join(" "));
        fact("booklet-measures-label", crate::card::panel::measures(self.reference, locale));
        fact("booklet-type", locale.word("booklet-type-text"));
        fact("booklet-made", format!("Porringer {}", env!("CARGO_PKG_VERSION")));
        Colophon {
            title: locale.word("booklet-colophon"),
            facts,
            changed: self.changed_rules(),
            lines: vec![
                locale.word("booklet-print"),
                locale.word("standing-figures"),
                locale.word("standing-guidance"),
            ],
        }
    }

    /// Rules that say less here than they would, each once.
    fn changed_rules(&self) -> Vec<String> {
        let mut lines = Vec::new();
        let all = self.leaves.iter().flat_map(|leaf| -> &[Changed] {
            match &leaf.content {
                Content::Dish(_, card) => &card.changed_rules,
                Content::Menu(_, card) => &card.changed_rules,
            }
        });
        for changed in all.filter(|changed| changed.lenient) {
            let key = if changed.to == "off" { "figures-switched-off" } else { "figures-lowered" };
            let line = self.locale.with(key, &[("rule", changed.code.to_owned()), ("reason", changed.reason.clone())]);
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
        lines
    }
}

fn ended(text: &str) -> String {
    if text.ends_with(['.', '!', '?']) { text.to_owned() } else { format!("{text}.") }
}
