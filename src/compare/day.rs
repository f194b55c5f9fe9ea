//! A menu's day held beside another state of it.

use super::facts::{band_key, printed, untied};
use super::lines::gains;
use super::{Band, Change, NutrientChange, Pair, Side};
use crate::assess::menu::held;
use crate::card::menu::{MenuCard, MenuMaker, make};
use crate::card::panel::Cell;
use crate::card::{Locale, RemarkText};
use crate::check::CheckedMenu;
use crate::compute::day::BandDay;
use crate::reference::nutrient::NutrientId;

/// One state: the day as it is computed, and its card.
struct State<'a> {
    side: &'a Side<'a>,
    menu: &'a CheckedMenu,
    card: MenuCard,
}

impl<'a> State<'a> {
    fn of(side: &'a Side<'a>, locale: &Locale) -> Option<Self> {
        let menu = side.file.menu.as_ref()?;
        Some(Self { side, menu, card: make(&maker(side, menu, locale)) })
    }

    fn keys(&self) -> Vec<String> {
        self.menu.day.bands.iter().map(|day| band_key(self.side.reference, day.band)).collect()
    }

    fn day(&self, key: &str) -> Option<(usize, &BandDay)> {
        self.menu.day.bands.iter().enumerate().find(|(_, day)| band_key(self.side.reference, day.band) == key)
    }

    fn rows(&self) -> impl Iterator<Item = (&str, &str, &[Cell])> {
        let rows = self.card.back.groups.iter().flat_map(|group| &group.rows);
        rows.map(|row| (row.tag.as_str(), row.name.as_str(), row.cells.as_slice()))
    }

    fn value(&self, tag: &str, day: &BandDay) -> Option<f64> {
        held(day, self.side.reference.profile.nutrient(tag)?).map(|(value, _)| value)
    }

    /// Food groups that are covered; with their heading where ages differ.
    fn groups(&self) -> Vec<String> {
        let lists = &self.card.back.food_groups;
        let many = lists.len() > 1;
        lists
            .iter()
            .flat_map(|list| list.items.iter().filter(|mark| mark.on).map(move |mark| (list, mark)))
            .map(|(list, mark)| if many { format!("{}: {}", list.title, mark.name) } else { mark.name.clone() })
            .collect()
    }

    fn cautions(&self) -> Vec<String> {
        let caution = |remark: &&RemarkText| remark.kind == "caution";
        self.card.remarks.iter().filter(caution).map(|remark| untied(&remark.text)).collect()
    }
}

pub fn maker<'a>(side: &'a Side<'_>, menu: &'a CheckedMenu, locale: &'a Locale) -> MenuMaker<'a> {
    MenuMaker {
        menu,
        reference: side.reference,
        locale,
        own_language: &side.own_language,
        imprint: side.imprint,
        changed: &side.file.changed,
    }
}

/// Fills in what differs between two states of a menu.
pub fn differences(before: &Side<'_>, after: &Side<'_>, locale: &Locale, change: &mut Change) {
    let (Some(old), Some(new)) = (State::of(before, locale), State::of(after, locale)) else { return };
    let child = &mut change.child;
    child.bands = new
        .keys()
        .iter()
        .filter_map(|key| band(&old, &new, key))
        .filter(|band| !band.nutrients.is_empty() || !band.energy.is_empty())
        .collect();
    child.ages = Pair::of("ages", Some(untied(&old.card.ages.text)), Some(untied(&new.card.ages.text)));
    child.food_groups = gains(&old.groups(), &new.groups());
    child.allergens = gains(&old.card.back.allergens.items, &new.card.back.allergens.items);
    child.cautions = gains(&old.cautions(), &new.cautions());
    let figures = |state: &State<'_>| state.card.back.figures.lines.iter().map(|line| untied(line)).collect::<Vec<_>>();
    change.sources = gains(&figures(&old), &figures(&new));
}

/// An age that is only there before or after has nothing beside it.
fn band(old: &State<'_>, new: &State<'_>, key: &str) -> Option<Band> {
    let ((was, old_day), (is, new_day)) = (old.day(key)?, new.day(key)?);
    let nutrients = new
        .rows()
        .filter_map(|(tag, name, cells)| {
            let before = old.rows().find(|(other, _, _)| *other == tag).and_then(|(_, _, cells)| cells.get(was));
            Pair::of(name, before.map(printed), cells.get(is).map(printed)).map(|printed| NutrientChange {
                tag: tag.to_owned(),
                unit: NutrientId::from_tag(tag).map_or("", |id| id.get().unit).to_owned(),
                values: [old.value(tag, old_day), new.value(tag, new_day)],
                printed,
            })
        })
        .collect();
    let energy = new
        .card
        .back
        .energy
        .iter()
        .filter_map(|row| {
            let before = old.card.back.energy.iter().find(|other| other.name == row.name);
            let before = before.and_then(|row| row.cells.get(was)).map(printed);
            Pair::of(&row.name, before, row.cells.get(is).map(printed))
        })
        .collect();
    Some(Band {
        of: "day",
        band: key.to_owned(),
        ages: new.card.back.bands.get(is).map(|label| untied(label)).unwrap_or_default(),
        nutrients,
        energy,
        portion: None,
    })
}
