//! The back of a menu card: the day's sums, its food groups, what is short and
//! where the figures come from.

use std::collections::BTreeSet;

use serde::Serialize;

use super::MenuMaker;
use crate::assess::menu::{Closer, group_least, held, need};
use crate::card::panel::{self, Allergens, Cell, FoodGroups, GROUPS, GroupMark, Lines, PanelGroup, Row, grouped};
use crate::compute::day::{BandDay, energy_needs, frequency};
use crate::reference::nutrient;
use crate::reference::profile::data::{AgeBand, Figure, Status};
use crate::resolve::food::Figures;
use crate::resolve::menu::What;

#[derive(Debug, Clone, Serialize)]
pub struct MenuBack {
    pub title: String,
    pub explain: String,
    pub bands: Vec<String>,
    pub energy: Vec<EnergyRow>,
    pub groups: Vec<PanelGroup>,
    pub food_groups: Vec<FoodGroups>,
    pub times: Vec<String>,
    pub short: Short,
    pub allergens: Allergens,
    pub figures: Lines,
    pub standing: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct EnergyRow {
    pub name: String,
    pub cells: Vec<Cell>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Short {
    pub title: String,
    pub lines: Vec<String>,
    /// The same with one food each, for a crowded side.
    pub brief: Vec<String>,
    pub none: Option<String>,
}

impl MenuMaker<'_> {
    fn bands(&self) -> impl Iterator<Item = (&BandDay, &AgeBand)> {
        let bands = self.reference.profile.bands();
        self.menu.day.bands.iter().filter_map(|day| bands.get(day.band).map(|band| (day, band)))
    }

    pub(super) fn back(&self) -> MenuBack {
        let locale = self.locale;
        let breastfed = self.menu.resolved.breastfed;
        let mut allergens: BTreeSet<&str> = BTreeSet::new();
        for day in &self.menu.day.bands {
            allergens.extend(day.allergens.iter().map(String::as_str));
        }
        let allergens: Vec<String> = allergens.iter().map(|id| locale.word(&format!("allergen-{id}"))).collect();
        MenuBack {
            title: locale.word("menu-back-title"),
            explain: locale.word(if breastfed { "menu-back-explain" } else { "menu-back-explain-not-breastfed" }),
            bands: self.bands().map(|(_, band)| self.band_label(band)).collect(),
            energy: self.energy(),
            groups: self.groups(),
            food_groups: self.food_groups(),
            times: self.times(),
            short: self.short(),
            allergens: Allergens {
                title: locale.word("allergens-title"),
                none: allergens.is_empty().then(|| locale.word("allergens-none")),
                items: allergens,
                family: Vec::new(),
                family_label: String::new(),
            },
            figures: self.figures(),
            standing: vec![locale.word("standing-figures")],
        }
    }

    fn energy(&self) -> Vec<EnergyRow> {
        let locale = self.locale;
        let cell = |value: f64, need: &Figure, complete: bool| Cell {
            share: Some(value / need.value),
            share_text: locale.tied("percent", locale.decimal(value / need.value * 100.0, 0)),
            amount: locale.tied("kcal", locale.decimal(value, 0)),
            at_least: (!complete).then(|| locale.word("at-least")),
            limit: false,
        };
        let breastfed = self.menu.resolved.breastfed;
        let sums = || self.bands().map(|(day, band)| (day.sum(nutrient::ENERC_KCAL), energy_needs(band, breastfed)));
        let mut rows = vec![EnergyRow {
            name: locale.word("menu-energy-food"),
            cells: sums().map(|(sum, (food, _))| cell(sum.food, food, sum.complete)).collect(),
        }];
        if breastfed {
            rows.push(EnergyRow {
                name: locale.word("menu-energy-all"),
                cells: sums().map(|(sum, (_, total))| cell(sum.total(), total, sum.complete)).collect(),
            });
        }
        rows
    }

    fn groups(&self) -> Vec<PanelGroup> {
        grouped(self.reference, self.locale, &|row| {
            let cell = |day: &BandDay, band: &AgeBand| {
                let need = need(self.reference, row, band).map(|(need, _)| need);
                panel::cell(self.locale, row, held(day, row), need)
            };
            Some(Row {
                tag: row.tag.clone(),
                name: self.locale.word(&format!("nutrient-{}", row.tag)),
                cells: self.bands().map(|(day, band)| cell(day, band)).collect(),
            })
        })
    }

    /// One list for all ages unless they differ.
    fn food_groups(&self) -> Vec<FoodGroups> {
        let locale = self.locale;
        let iycf = &self.reference.profile.file.iycf;
        let least = group_least(self.reference);
        let lists: Vec<(String, Vec<_>)> =
            self.bands().map(|(day, band)| (self.band_label(band), day.groups_of(least))).collect();
        let same = lists.windows(2).all(|pair| match pair {
            [a, b] => a.1 == b.1,
            _ => true,
        });
        lists
            .into_iter()
            .take(if same { 1 } else { usize::MAX })
            .map(|(label, on)| {
                let title = locale.with(
                    "menu-groups-title",
                    &[
                        ("n", locale.integer(on.len() as i64)),
                        ("all", locale.integer(iycf.group.len() as i64)),
                        ("needed", locale.decimal(iycf.groups_needed.value, 0)),
                    ],
                );
                FoodGroups {
                    title: if same { title } else { format!("{label}{} {title}", locale.word("colon")) },
                    items: GROUPS
                        .iter()
                        .map(|group| GroupMark {
                            name: locale.word(&format!("food-group-{}", group.word())),
                            on: on.contains(group),
                        })
                        .collect(),
                }
            })
            .collect()
    }

    fn times(&self) -> Vec<String> {
        let breastfed = self.menu.resolved.breastfed;
        let mut lines: Vec<String> = Vec::new();
        for (day, band) in self.bands() {
            let needed = frequency(self.reference, band, breastfed).map_or(0, |row| row.times);
            let line = self.locale.with(
                "menu-times",
                &[
                    ("meals", self.locale.integer(day.meals as i64)),
                    ("snacks", self.locale.integer(day.snacks as i64)),
                    ("needed", self.locale.integer(i64::from(needed))),
                ],
            );
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
        lines
    }

    fn short(&self) -> Short {
        let locale = self.locale;
        // The table above says how short each is; here stands what would help.
        const MOST: usize = 6;
        let many = self.menu.report.bands.len() > 1;
        let (mut lines, mut brief) = (Vec::new(), Vec::new());
        for ((_, band), report) in self.bands().zip(&self.menu.report.bands) {
            let most = if many { MOST / 2 } else { MOST };
            // What no food closes has one sentence, however many there are.
            let mut hopeless: Vec<(String, String)> = report
                .short
                .iter()
                .take(most)
                .filter(|short| short.closers.is_empty())
                .map(|short| {
                    let name = locale.word(&format!("nutrient-{}", short.tag));
                    (name, locale.tied("percent", locale.decimal(short.percent(), 0)))
                })
                .collect();
            for short in report.short.iter().take(most) {
                let mut name = locale.word(&format!("nutrient-{}", short.tag));
                let mut share = locale.tied("percent", locale.decimal(short.percent(), 0));
                if short.closers.is_empty() {
                    let Some((last, of_last)) = hopeless.pop() else { continue };
                    let mut all: Vec<String> =
                        hopeless.drain(..).map(|(name, share)| format!("{name} {share}")).collect();
                    all.push(last);
                    (name, share) = (locale.list(&all), of_last);
                }
                let mut foods: Vec<String> = short
                    .closers
                    .iter()
                    .filter(|closer| self.has_name(closer))
                    .map(|closer| self.closer(closer))
                    .collect();
                if foods.is_empty() {
                    // Better in English than not at all.
                    foods = short.closers.iter().map(|closer| self.closer(closer)).collect();
                }
                let line = |foods: &[String]| {
                    let foods = match foods {
                        [] => {
                            return locale
                                .with("menu-short-line-none", &[("what", name.clone()), ("share", share.clone())]);
                        }
                        [one] => one.clone(),
                        [first, second, ..] => format!("{first} {}", locale.with("or", &[("what", second.clone())])),
                    };
                    locale
                        .with("menu-short-line", &[("what", name.clone()), ("share", share.clone()), ("foods", foods)])
                };
                let aged = |line: String| {
                    if many { format!("{}{} {line}", self.band_label(band), locale.word("colon")) } else { line }
                };
                lines.push(aged(line(&foods)));
                brief.push(aged(line(foods.get(..1).unwrap_or(&foods))));
            }
        }
        Short {
            title: locale.word("menu-short-title"),
            none: lines.is_empty().then(|| locale.word("menu-short-none")),
            lines,
            brief,
        }
    }

    /// The food and its state have names in the card's language.
    fn has_name(&self, closer: &Closer) -> bool {
        let locale = self.locale;
        let named = match locale.tag().split('-').next().unwrap_or_default() {
            "sw" => !closer.food.sw.is_empty(),
            "fr" => !closer.food.fr.is_empty(),
            _ => return true,
        };
        let state = closer.food.states.first();
        named && state.is_none_or(|state| locale.has(&format!("state-{}", state.replace(' ', "-"))))
    }

    /// So much of a food.
    fn closer(&self, closer: &Closer) -> String {
        let locale = self.locale;
        let mut food = locale.food(&closer.food);
        // The form that a name means by itself needs no word for it.
        if let Some(state) = closer.food.states.first().filter(|_| !closer.food.plain) {
            food = locale.in_a_row(&[food, locale.state(state, false)]);
        }
        let amount = locale.grams(closer.grams.ceil());
        locale.with("amount-of-food", &[("amount", amount), ("food", food)])
    }

    fn status(&self, status: Status) -> String {
        self.locale.word(match status {
            Status::CheckedOfficial | Status::CheckedSecondary => "status-checked",
            Status::Computed => "status-computed",
            Status::Memory => "status-memory",
        })
    }

    fn figures(&self) -> Lines {
        let locale = self.locale;
        let mut lines = Vec::new();
        let mut tables: BTreeSet<String> = BTreeSet::new();
        let mut dishes = false;
        for choice in self.menu.resolved.items().flat_map(|(_, _, item)| &item.options) {
            match &choice.what {
                What::Dish(_) => dishes = true,
                What::Food(food) => {
                    if let Figures::Table(table, _) = &food.figures {
                        tables.insert(table.stem.clone());
                    }
                }
                What::Nothing => {}
            }
        }
        if dishes {
            lines.push(locale.word("figures-menu-dishes"));
        }
        lines.push(locale.word("figures-usda"));
        lines.extend(tables.into_iter().map(|table| locale.with("figures-table", &[("table", table)])));
        if self.menu.resolved.breastfed {
            for (day, band) in self.bands() {
                let Some(milk) = &day.milk else { continue };
                lines.push(locale.with(
                    "figures-milk",
                    &[
                        ("ages", self.band_label(band)),
                        ("ml", locale.tied("millilitres", locale.decimal(milk.ml, 0))),
                        ("kcal", locale.tied("kcal", locale.decimal(milk.kcal, 0))),
                        ("source", band.milk_energy.source.clone()),
                        ("year", band.milk_energy.year.map(|year| year.to_string()).unwrap_or_default()),
                        ("status", self.status(band.milk_volume.status)),
                    ],
                ));
            }
            if self.menu.resolved.assumed {
                lines.push(locale.word("figures-breastfed-assumed"));
            }
        }
        let header = &self.menu.resolved.ast.header;
        lines.extend(panel::rests_on(self.reference, locale, header, self.changed, "figures-menu-source"));
        Lines { title: locale.word("figures-title"), lines }
    }
}
