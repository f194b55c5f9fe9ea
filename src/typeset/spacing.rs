//! Which spacing a card is set with: a guess from the lengths of its texts,
//! then at most a correction or two from the pages themselves. A layout is
//! dear, so it should mostly be the first and only one.
//!
//! A template that knows several spacings marks the start of the back with the
//! label `<back>`, so that the two sides take spacings of their own, and the
//! air of a side with `<air-from>` and `<air-to>` about one stretch of it,
//! the first with the number of such stretches as its value.

use typst::foundations::{Label, Selector};
use typst::introspection::Introspector;
use typst::utils::PicoStr;
use typst_layout::PagedDocument;

use super::template::Manifest;
use crate::card::Card;

/// Millimetres that a guess leaves free.
const SURE: f64 = 1.5;
/// Air, as a share of the page's height, over which the next more generous
/// spacing of a template that nothing is known of is worth a try.
const LIKELY: f64 = 0.2;

#[derive(Debug, Clone, Copy)]
struct Side {
    level: u8,
    /// Whether a level fits, where it was tried.
    known: [Option<bool>; 8],
}

impl Side {
    fn at(level: u8) -> Self {
        Self { level, known: [None; 8] }
    }

    fn known(&self, level: u8) -> Option<bool> {
        self.known.get(usize::from(level)).copied().flatten()
    }

    /// Goes to the next level to be tried, or stays.
    fn step(&mut self, fits: bool, worth: bool, levels: u8) {
        if let Some(known) = self.known.get_mut(usize::from(self.level)) {
            *known = Some(fits);
        }
        if !fits {
            self.level = (self.level + 1).min(levels.saturating_sub(1));
        } else if self.level > 0 && worth && self.known(self.level - 1).is_none() {
            self.level -= 1;
        }
    }
}

/// What a layout says of its two sides.
struct Seen {
    /// Front and back: whether each keeps to its page, and its air.
    sides: [(bool, f64); 2],
}

fn seen(document: &PagedDocument, sides: Option<usize>) -> Seen {
    let introspector = document.introspector();
    let places = |name: &str| -> Vec<(usize, f64, f64)> {
        let Some(label) = Label::new(PicoStr::intern(name)) else { return Vec::new() };
        introspector
            .query(&Selector::Label(label))
            .iter()
            .filter_map(|mark| {
                let place = introspector.position(mark.location()?)?;
                let value = mark.get_by_name("value").ok().and_then(|value| value.cast::<f64>().ok());
                Some((place.page.get(), place.point.y.to_pt(), value.unwrap_or(1.0)))
            })
            .collect()
    };
    let pages = document.pages().len();
    let height = document.pages().first().map_or(1.0, |page| page.frame.height().to_pt().max(1.0));
    let (from, to) = (places("air-from"), places("air-to"));
    let air_on = |page: usize| {
        from.iter()
            .zip(&to)
            .find(|((start, ..), (end, ..))| *start == page && *end == page)
            .map_or(0.0, |((_, top, parts), (_, bottom, _))| (bottom - top) * parts / height)
    };
    match places("back").first() {
        Some((back, ..)) => {
            // Half of the sides are the front's.
            let half = sides.map_or(1, |sides| (sides / 2).max(1));
            let front = back.saturating_sub(1);
            // A side that is not used at all is air.
            let air = |used: usize, last: usize| (air_on(last) + half.saturating_sub(used) as f64) / half as f64;
            let rear = pages.saturating_sub(front);
            Seen { sides: [(front <= half, air(front, front)), (rear <= half, air(rear, pages))] }
        }
        None => {
            let fits = sides.is_none_or(|sides| pages <= sides);
            // Without marks of air, each more generous spacing is worth a try.
            let air = if from.is_empty() { 1.0 } else { air_on(pages) };
            Seen { sides: [(fits, air); 2] }
        }
    }
}

/// The search for one card.
pub struct Search {
    levels: u8,
    sides: Option<usize>,
    /// Height of the sheet in mm, were its type that of A5.
    room: f64,
    now: [Side; 2],
    done: Vec<([u8; 2], PagedDocument)>,
}

impl Search {
    pub fn new(card: &Card, manifest: &Manifest) -> Self {
        let levels = manifest.spacings;
        let [front, back] = guess(card, manifest);
        Self {
            levels,
            sides: manifest.sides(&card.paper),
            room: {
                let (height, scale, _) = paper(&card.paper);
                height / scale
            },
            now: [Side::at(front.min(levels.saturating_sub(1))), Side::at(back.min(levels.saturating_sub(1)))],
            done: Vec::new(),
        }
    }

    fn levels_now(&self) -> [u8; 2] {
        self.now.map(|side| side.level)
    }

    /// Spacing of front and back to be tried next.
    pub fn next(&self) -> (u8, u8) {
        let [front, back] = self.levels_now();
        (front, back)
    }

    /// Takes the layout of [`Self::next`]; gives the layout to be kept once
    /// there is nothing better to try.
    pub fn judge(&mut self, document: PagedDocument) -> Option<PagedDocument> {
        let levels = self.levels_now();
        let seen = seen(&document, self.sides);
        self.done.push((levels, document));
        let known = usize::from(self.levels) == LEVELS;
        for ((side, (fits, air)), table) in self.now.iter_mut().zip(seen.sides).zip([&FRONT, &BACK]) {
            let worth =
                if known { looser(table, side.level, self.room * (1.0 - air)) <= self.room } else { air > LIKELY };
            side.step(fits, worth, self.levels);
        }
        let next = self.levels_now();
        let at = self.done.iter().position(|(done, _)| *done == next)?;
        Some(self.done.swap_remove(at).1)
    }
}

/// Height of a side at the middle spacing, in mm of A5 with its margins, from
/// the number and length of what stands on it, and from that the height at
/// each spacing: (factor, mm). Fitted to the demo set in three languages, where
/// four guesses of five were right; a wrong one costs a layout, nothing else.
/// At the last spacing the back's words run over the whole width instead of
/// standing in two columns, which saves a line or two; the front is the same.
const LEVELS: usize = 6;
const FRONT: [(f64, f64); LEVELS] = [(1.67, -35.4), (1.19, -4.5), (1.0, 0.0), (0.85, 5.6), (0.71, 11.3), (0.71, 11.3)];
const BACK: [(f64, f64); LEVELS] =
    [(1.91, -137.2), (1.13, -9.9), (1.0, 0.0), (0.93, -3.1), (0.744, 17.6), (0.744, 13.0)];

/// Height of a side at a spacing, from that at the middle one.
fn at_level(table: &[(f64, f64); LEVELS], level: u8, middle: f64) -> f64 {
    table.get(usize::from(level)).map_or(middle, |(factor, more)| factor * middle + more)
}

/// Height at the next more generous spacing, from that at this one.
fn looser(table: &[(f64, f64); LEVELS], level: u8, height: f64) -> f64 {
    let middle = table.get(usize::from(level)).map_or(height, |(factor, more)| (height - more) / factor);
    at_level(table, level.saturating_sub(1), middle)
}

/// Height of a paper in mm, the scale of its type to that of A5, and the width
/// of its lines to those of A5, counted in letters.
fn paper(name: &str) -> (f64, f64, f64) {
    match name {
        "A4" => (297.0, 1.24, 1.07),
        // Two pages a side.
        "A6" => (2.0 * 148.0 - 14.0, 0.84, 0.84),
        "Letter" => (279.4, 1.22, 1.11),
        _ => (210.0, 1.0, 1.0),
    }
}

fn length(text: &str) -> f64 {
    text.chars().count() as f64
}

fn some(text: Option<&String>) -> f64 {
    text.map_or(0.0, |text| length(text))
}

fn sum<'a>(texts: impl IntoIterator<Item = &'a String>, each: f64) -> f64 {
    texts.into_iter().map(|text| length(text) + each).sum()
}

fn front(card: &Card, wide: f64) -> f64 {
    let items: Vec<_> = card.ingredients.sections.iter().flat_map(|section| &section.items).collect();
    let family = card.ingredients.family.as_ref();
    let steps: Vec<_> = card.method.steps.iter().filter(|step| step.kind != "part").collect();
    let heads = card.method.steps.len() - steps.len()
        + card.ingredients.sections.iter().filter(|section| section.title.is_some()).count();
    // Lines after the first.
    let more = |letters: f64, line: f64| ((letters - line * wide) / (line * wide)).max(0.0);
    let item_lines: f64 = items
        .iter()
        .map(|item| more(length(&item.food) + length(&item.amount) + sum(&item.alternatives, 1.0), 49.0))
        .sum();
    let step_lines: f64 = steps
        .iter()
        .map(|step| {
            let plain = length(&step.sentence) * 1.08 + some(step.duration.as_ref()) * 1.2;
            let words = some(step.until.as_ref()) + some(step.prose.as_ref()) + some(step.unattended.as_ref());
            more(plain + words + sum(&step.cautions, 4.0) * 1.05, 46.0)
        })
        .sum();
    let remarks: f64 = card.remarks.iter().map(|remark| length(&remark.text) + length(&remark.label) + 3.0).sum();
    let facts: f64 =
        card.times.iter().chain(&card.makes).map(|fact| length(&fact.text) + length(&fact.label) + 4.0).sum();
    let family_letters: f64 = family.map_or(0.0, |family| family.items.iter().map(|item| length(&item.food)).sum());
    let portions = card.portions.items.len();
    45.7 + 7.1 * items.len() as f64
        + 9.9 * item_lines
        + if family.is_some() { 8.5 } else { 0.0 }
        + 23.2 * family_letters / (60.0 * wide)
        + 9.4 * steps.len() as f64
        + 3.5 * step_lines
        + 2.1 * heads as f64
        + 7.8 * remarks / (70.0 * wide)
        + if portions > 1 { 5.9 } else { 0.0 }
        + 10.1 * card.standing.last().map_or(0.0, |text| length(text)) / (70.0 * wide)
        + 6.2 * (facts + some(card.start.as_ref())) / (60.0 * wide)
}

fn back(card: &Card, wide: f64) -> f64 {
    let back = &card.back;
    let groups = back.food_groups.items.iter().filter(|group| group.on);
    let letters = length(&back.allergens.title)
        + sum(&back.allergens.items, 2.0)
        + length(&back.food_groups.title)
        + groups.map(|group| length(&group.name) + 4.0).sum::<f64>()
        + back.texture.items.iter().map(|item| length(&item.age) + length(&item.text) + 2.0).sum::<f64>()
        + 10.0
        + back.claims.items.iter().map(|claim| length(&claim.text) + length(&claim.basis) + 4.0).sum::<f64>()
        + length(&back.claims.note)
        + sum(&back.figures.lines, 1.0)
        + length(&back.figures.title);
    let rows: usize = back.groups.iter().map(|group| group.rows.len()).sum();
    let standing =
        sum(back.standing.iter().chain(card.standing.iter().rev().skip(1)), 0.0) + some(card.footer.as_ref());
    0.4 + 7.8 * rows as f64 + if back.bands.len() > 2 { 23.0 } else { 0.0 } + 5.8 * letters / (80.0 * wide)
        - 5.5 * length(&back.explain) / (80.0 * wide)
        + 3.2 * standing / (70.0 * wide)
}

/// A first guess: the most generous spacing of each side that should fit.
fn guess(card: &Card, manifest: &Manifest) -> [u8; 2] {
    if usize::from(manifest.spacings) != LEVELS {
        return [manifest.spacings / 2; 2];
    }
    let (height, scale, wide) = paper(&card.paper);
    let least = |table: &[(f64, f64); LEVELS], middle: f64| {
        (0..manifest.spacings)
            .find(|level| at_level(table, *level, middle) <= height / scale - SURE)
            .unwrap_or(manifest.spacings - 1)
    };
    [least(&FRONT, front(card, wide)), least(&BACK, back(card, wide))]
}
