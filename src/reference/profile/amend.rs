//! A workspace's profile: one that replaces the built-in profile whole, or,
//! with `extends = "default"`, one that amends it row by row.
//!
//! A row of an amending file names its key and what it changes; figures never
//! keep the source of the row they take the place of. Its shape is checked by
//! reading the changed row as a whole, with the author's own places.

use serde::Serialize;
use serde::de::{DeserializeOwned, IntoDeserializer};
use toml::Spanned as Placed;
use toml::de::{DeTable, DeValue};

use super::data::{Figure, Intake, IntakeKind, ProfileFile, Status};
use super::fault;
use super::{Amends, Removed};
use crate::diagnostic::{CODES, Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::nutrient::NutrientId;
use crate::source::Span;

/// What `extends` may say.
pub const BASE: &str = "default";

/// Tables and keys of an amending file.
const PARTS: [&str; 17] = [
    "extends",
    "profile",
    "band",
    "intake",
    "nutrient",
    "upper_limit",
    "hazard",
    "energy_density",
    "claims",
    "allergen",
    "locked",
    "iycf",
    "menu",
    "reading",
    "packaged_food",
    "rounding",
    "absorption",
];

/// Where a figure comes from: never inherited from the row it replaces.
const ORIGIN: [&str; 7] = ["source", "authority", "year", "status", "read_at", "note", "conflict"];

type Table<'t> = Placed<DeValue<'t>>;

pub(super) fn span<T>(placed: &Placed<T>) -> Span {
    Span::new(placed.span().start, placed.span().end)
}

/// What may be done with the rows of a table.
struct Rules<'r> {
    /// The table as the author writes it.
    name: &'r str,
    /// Fields that tell a row.
    key: &'r [&'r str],
    /// Fields of the base row that the author's row must give anew.
    anew: &'r [&'r str],
    /// The first key field may be one of these only.
    names: Option<Vec<String>>,
    /// A row with another key is added, not refused.
    grows: bool,
    /// Why a row cannot be removed, where it cannot.
    kept: Option<&'r str>,
    /// The row itself carries the source.
    sourced: bool,
}

impl Default for Rules<'_> {
    fn default() -> Self {
        Self { name: "", key: &[], anew: &ORIGIN, names: None, grows: false, kept: None, sourced: true }
    }
}

/// Amends `file` by the author's tables.
pub(super) fn amend(table: &DeTable<'_>, file: &mut ProfileFile, sink: &mut Sink) -> Option<Amends> {
    let base = file.clone();
    let mut amends = Amends {
        id: base.profile.id.clone(),
        title: base.profile.title.clone(),
        edition: base.profile.edition.clone(),
        removed: Vec::new(),
    };
    let mut named = false;
    for (key, value) in table {
        let name: &str = key.get_ref();
        let mut work = Work { sink, removed: &mut amends.removed };
        match name {
            "extends" => {}
            "profile" => {
                named = true;
                if let Some(about) = work.whole(value, "profile") {
                    file.profile = about;
                }
            }
            "band" => {
                let rules = Rules {
                    name,
                    key: &["key"],
                    anew: &[],
                    sourced: false,
                    kept: Some("the ages must stay covered: amend its figures"),
                    names: Some(base.band.iter().map(|band| band.key.clone()).collect()),
                    ..Rules::default()
                };
                work.bands(value);
                work.rows(value, &rules, &mut file.band, |band| band.key.clone());
            }
            "intake" => work.intakes(value, file),
            "nutrient" => {
                let rules = Rules {
                    name,
                    key: &["tag"],
                    anew: &[],
                    sourced: false,
                    names: Some(tags()),
                    grows: true,
                    ..Rules::default()
                };
                work.rows(value, &rules, &mut file.nutrient, |row| row.tag.clone());
            }
            "upper_limit" => {
                let rules = Rules {
                    name,
                    key: &["tag", "from_months", "to_months"],
                    names: Some(tags()),
                    grows: true,
                    ..Rules::default()
                };
                work.rows(value, &rules, &mut file.upper_limit, |row| {
                    format!("{} {} {}", row.tag, row.from_months, row.to_months)
                });
            }
            "hazard" => {
                let rules = Rules {
                    name,
                    key: &["id"],
                    names: Some(base.hazard.iter().map(|row| row.id.clone()).collect()),
                    kept: Some("change its figure, or switch the rule off under `[rules]` of the settings"),
                    ..Rules::default()
                };
                work.rows(value, &rules, &mut file.hazard, |row| row.id.clone());
            }
            "allergen" => {
                let rules = Rules {
                    name,
                    key: &["id"],
                    anew: &["on", "note"],
                    sourced: false,
                    grows: true,
                    ..Rules::default()
                };
                work.rows(value, &rules, &mut file.allergen, |row| row.id.clone());
            }
            "locked" => {
                let rules = Rules {
                    name,
                    key: &["code"],
                    anew: &["reason"],
                    sourced: false,
                    names: Some(CODES.iter().map(|code| code.name().to_owned()).collect()),
                    grows: true,
                    ..Rules::default()
                };
                work.rows(value, &rules, &mut file.locked, |row| row.code.clone());
            }
            "reading" => {
                let rules = Rules { name, key: &["language"], grows: true, ..Rules::default() };
                work.rows(value, &rules, &mut file.reading, |row| row.language.clone());
            }
            "packaged_food" => {
                let rules = Rules { name, key: &["id"], grows: true, ..Rules::default() };
                work.rows(value, &rules, &mut file.packaged_food, |row| row.id.clone());
            }
            "energy_density" => work.energy_density(value, file),
            "claims" => work.claims(value, file),
            "iycf" => work.iycf(value, file),
            "menu" => work.menu(value, file),
            "absorption" => work.within(value, name, &["phytate", "vitamin_c_iron"], |work, part, inner| {
                if part == "vitamin_c_iron" {
                    if let Some(figure) = work.whole::<Figure>(inner, part) {
                        work.year(inner, figure.year.is_some(), part);
                        file.absorption.vitamin_c_iron = Some(figure);
                    }
                    return;
                }
                let rules = Rules {
                    name: "absorption.phytate",
                    key: &["tag"],
                    anew: &["most"],
                    sourced: false,
                    names: Some(tags()),
                    grows: true,
                    ..Rules::default()
                };
                work.rows(inner, &rules, &mut file.absorption.phytate, |row| row.tag.clone());
            }),
            "rounding" => work.within(value, name, &["row"], |work, _, inner| {
                let rules = Rules {
                    name: "rounding.row",
                    key: &["what"],
                    anew: &[],
                    sourced: false,
                    grows: true,
                    ..Rules::default()
                };
                work.rows(inner, &rules, &mut file.rounding.row, |row| row.what.clone());
            }),
            _ => unknown(key, "a profile", &PARTS, sink),
        }
    }
    if !named {
        sink.push(
            Diagnostic::new(Code::WorkspaceProfileError, Span::default(), "the profile has no name of its own")
                .help("add `[profile]` with id, title, edition and note; every card names it"),
        );
        return None;
    }
    Some(amends)
}

fn tags() -> Vec<String> {
    NutrientId::all().map(|id| id.get().tag.to_owned()).collect()
}

fn unknown(key: &Placed<toml::de::DeString<'_>>, whole: &str, known: &[&str], sink: &mut Sink) {
    let name: &str = key.get_ref();
    let mut message = Diagnostic::new(
        Code::WorkspaceProfileError,
        span(key),
        format!("{} is no part of {whole} that can be amended", quote(name)),
    );
    message = match did_you_mean(name, known.iter().copied()) {
        Some(near) => message.help(format!("did you mean `{near}`?")).fix(span(key), near),
        None => message.help(format!("there are {}; a profile without `extends` replaces the whole", known.join(", "))),
    };
    sink.push(message);
}

/// One pass over the author's tables.
struct Work<'w> {
    sink: &'w mut Sink,
    removed: &'w mut Vec<Removed>,
}

impl Work<'_> {
    fn fault(&mut self, place: Span, message: impl Into<String>, help: impl Into<String>) {
        self.sink.push(Diagnostic::new(Code::WorkspaceProfileError, place, message).help(help));
    }

    /// A table of the author's that stands for the whole of a value.
    fn whole<T: DeserializeOwned>(&mut self, value: &Table<'_>, name: &str) -> Option<T> {
        match T::deserialize(value.clone().into_deserializer()) {
            Ok(whole) => Some(whole),
            Err(error) => {
                self.sink.push(fault::message(&error, span(value), name));
                None
            }
        }
    }

    /// The tables inside a table, each with its name.
    fn within(
        &mut self,
        value: &Table<'_>,
        name: &str,
        known: &[&str],
        mut each: impl FnMut(&mut Self, &str, &Table<'_>),
    ) {
        let DeValue::Table(table) = value.get_ref() else {
            self.fault(span(value), format!("`{name}` wants a table"), format!("write `[{name}]` or `[[{name}.…]]`"));
            return;
        };
        for (key, inner) in table {
            let inner_name: &str = key.get_ref();
            if known.contains(&inner_name) {
                each(self, inner_name, inner);
            } else {
                unknown(key, &format!("`{name}`"), known, self.sink);
            }
        }
    }

    /// A single figure of the author's, with its own source.
    fn figure(&mut self, value: &Table<'_>, name: &str, target: &mut Figure) {
        if let Some(figure) = self.whole::<Figure>(value, name) {
            self.year(value, figure.year.is_some(), name);
            *target = figure;
        }
    }

    /// A figure without the year of its document cannot be told from an older
    /// one.
    fn year(&mut self, place: &Table<'_>, there: bool, name: &str) {
        if !there {
            self.fault(
                span(place),
                format!("{} does not say the year of its source", quote(name)),
                "add `year = 2026`, the year of the document",
            );
        }
    }

    fn energy_density(&mut self, value: &Table<'_>, file: &mut ProfileFile) {
        let bands: Vec<String> = file.band.iter().map(|band| band.key.clone()).collect();
        let density = &mut file.energy_density;
        self.within(value, "energy_density", &["minimum", "too_thin", "breast_milk"], |work, name, inner| match name {
            "too_thin" => work.figure(inner, name, &mut density.too_thin),
            "breast_milk" => work.figure(inner, name, &mut density.breast_milk),
            _ => {
                let rules = Rules {
                    name: "energy_density.minimum",
                    key: &["band"],
                    names: Some(bands.clone()),
                    grows: true,
                    ..Rules::default()
                };
                work.rows(inner, &rules, &mut density.minimum, |row| row.band.clone());
            }
        });
    }

    fn claims(&mut self, value: &Table<'_>, file: &mut ProfileFile) {
        let claims = &mut file.claims;
        self.within(value, "claims", &["source_of", "rich_in_factor", "limit", "claimable"], |work, name, inner| {
            let rules = |name, key| Rules { name, key, names: Some(tags()), grows: true, ..Rules::default() };
            match name {
                "rich_in_factor" => work.figure(inner, name, &mut claims.rich_in_factor),
                "source_of" => {
                    let key = |row: &super::data::ClaimShare| row.tag.clone().unwrap_or_default();
                    work.rows(inner, &rules("claims.source_of", &["tag"]), &mut claims.source_of, key);
                }
                "limit" => {
                    let key = |row: &super::data::ClaimLimit| format!("{} {}", row.tag, fault::word(row.word));
                    work.rows(inner, &rules("claims.limit", &["tag", "word"]), &mut claims.limit, key);
                }
                _ => {
                    let rules = Rules { anew: &[], sourced: false, ..rules("claims.claimable", &["tag"]) };
                    work.rows(inner, &rules, &mut claims.claimable, |row| row.tag.clone());
                }
            }
        });
    }

    fn iycf(&mut self, value: &Table<'_>, file: &mut ProfileFile) {
        let iycf = &mut file.iycf;
        let known = ["groups_needed", "milk_feeds_not_breastfed", "meal_frequency"];
        self.within(value, "iycf", &known, |work, name, inner| match name {
            "groups_needed" => work.figure(inner, name, &mut iycf.groups_needed),
            "milk_feeds_not_breastfed" => work.figure(inner, name, &mut iycf.milk_feeds_not_breastfed),
            _ => {
                let rules = Rules {
                    name: "iycf.meal_frequency",
                    key: &["from_months", "to_months", "breastfed"],
                    grows: true,
                    ..Rules::default()
                };
                work.rows(inner, &rules, &mut iycf.meal_frequency, |row| {
                    format!("{} {} {}", row.from_months, row.to_months, row.breastfed)
                });
            }
        });
    }

    fn menu(&mut self, value: &Table<'_>, file: &mut ProfileFile) {
        let Some(menu) = &mut file.menu else { return };
        self.within(value, "menu", &["energy_least", "group_least", "helping_most"], |work, name, inner| {
            let optional = match name {
                "group_least" => &mut menu.group_least,
                "helping_most" => &mut menu.helping_most,
                _ => return work.figure(inner, name, &mut menu.energy_least),
            };
            let mut figure = optional.clone().unwrap_or_else(|| menu.energy_least.clone());
            work.figure(inner, name, &mut figure);
            *optional = Some(figure);
        });
    }

    /// Figures of a band say their own year; its ages stay.
    fn bands(&mut self, value: &Table<'_>) {
        let DeValue::Array(list) = value.get_ref() else { return };
        for row in list.iter() {
            let DeValue::Table(row) = row.get_ref() else { continue };
            for (key, value) in row {
                let name: &str = key.get_ref();
                if matches!(name, "from_months" | "to_months") {
                    self.fault(
                        span(key),
                        "an amending profile keeps the ages of a band",
                        "remove the line; a profile without `extends` may choose other ages",
                    );
                } else if name == "meals_usual" && row.get("meals").is_none() {
                    self.fault(
                        span(key),
                        "`meals_usual` stands without its source",
                        "give `meals = { from = …, to = …, source = \"…\", year = …, status = \"…\" }` beside it",
                    );
                } else if let DeValue::Table(figure) = value.get_ref() {
                    self.year(value, figure.get("year").is_some(), name);
                }
            }
        }
    }

    /// The chosen intakes: an amended one is used, the one it replaces stays
    /// among the alternatives.
    fn intakes(&mut self, value: &Table<'_>, file: &mut ProfileFile) {
        let DeValue::Array(list) = value.get_ref() else {
            self.fault(span(value), "`intake` wants rows", "write `[[intake]]` for each");
            return;
        };
        let title = file.profile.title.clone();
        for entry in list.iter() {
            let DeValue::Table(row) = entry.get_ref() else { continue };
            let mut row = row.clone();
            let place = row.values().next().map_or_else(|| span(entry), span);
            let Some(tag) = row.remove("tag") else {
                self.fault(place, "this row lacks `tag`", "name the nutrient: `tag = \"FE\"`");
                continue;
            };
            let word = tag.get_ref().as_str().unwrap_or_default().to_owned();
            let Some(at) = file.nutrient.iter().position(|nutrient| nutrient.tag == word) else {
                let known: Vec<&str> = file.nutrient.iter().map(|nutrient| nutrient.tag.as_str()).collect();
                self.no_such("nutrient of the profile", &word, span(&tag), &known);
                continue;
            };
            let bands: Vec<String> = file.band.iter().map(|band| band.key.clone()).collect();
            let Some(nutrient) = file.nutrient.get_mut(at) else { continue };
            if let Some(unit) = row.remove("unit")
                && unit.get_ref().as_str() != Some(&nutrient.unit)
            {
                let unit_word = unit.get_ref().as_str().unwrap_or_default().to_owned();
                self.fault(
                    span(&unit),
                    format!("{} is given in `{unit_word}` and counted in `{}`", quote(&nutrient.en), nutrient.unit),
                    format!("give the value in {}", nutrient.unit),
                );
                continue;
            }
            if let Some((key, band)) = row.remove_entry("band") {
                let place = band.span();
                let list: DeValue<'_> = DeValue::Array(std::iter::once(band).collect());
                let key = Placed::new(key.span(), "bands".into());
                row.insert(key, Placed::new(place, list));
            }
            let named = row.get("bands").map(|list| (span(list), strings(list))).unwrap_or_default();
            if named.1.is_empty() {
                self.fault(
                    place,
                    "this row names no age band",
                    format!("add `band = \"{}\"`", bands.join("\"` or `band = \"")),
                );
                continue;
            }
            if let Some(wrong) = named.1.iter().find(|band| !bands.contains(band)) {
                let known: Vec<&str> = bands.iter().map(String::as_str).collect();
                self.no_such("age band", wrong, named.0, &known);
                continue;
            }
            let intake = if let Some(reason) = row.get("remove") {
                let Some(reason) = self.reason(reason) else { continue };
                for band in &named.1 {
                    self.removed.push(Removed {
                        table: super::rows::Table::Intakes,
                        key: format!("{word} {band}"),
                        reason: reason.clone(),
                    });
                }
                Some(Intake {
                    bands: named.1.clone(),
                    stated_for: named.1.join(", "),
                    value: None,
                    kind: IntakeKind::NotSet,
                    condition: None,
                    source: title.clone(),
                    year: None,
                    status: Status::Computed,
                    read_at: None,
                    note: Some(reason),
                })
            } else {
                let there = row.get("year").is_some();
                self.year(&tag, there, &word);
                let whole = Placed::new(tag.span(), DeValue::Table(row));
                self.whole::<Intake>(&whole, "intake")
            };
            let Some(intake) = intake else { continue };
            let mut replaced = Vec::new();
            for old in &mut nutrient.intake {
                let (gone, left): (Vec<String>, Vec<String>) =
                    old.bands.iter().cloned().partition(|band| intake.bands.contains(band));
                if !gone.is_empty() {
                    replaced.push(Intake { bands: gone, ..old.clone() });
                    old.bands = left;
                }
            }
            nutrient.intake.retain(|old| !old.bands.is_empty());
            nutrient.intake.push(intake);
            replaced.append(&mut nutrient.alternative);
            nutrient.alternative = replaced;
        }
    }

    fn no_such(&mut self, what: &str, word: &str, place: Span, known: &[&str]) {
        let mut message = Diagnostic::new(Code::WorkspaceProfileError, place, format!("{} is no {what}", quote(word)));
        message = match did_you_mean(word, known.iter().copied()) {
            Some(near) => message.help(format!("did you mean `{near}`?")).fix(place, format!("\"{near}\"")),
            None if known.len() <= 12 => message.help(format!("there are {}", known.join(", "))),
            None => message.help("`porringer profile show` lists them"),
        };
        self.sink.push(message);
    }

    fn reason(&mut self, value: &Table<'_>) -> Option<String> {
        let reason = value.get_ref().as_str().map(str::trim).filter(|reason| !reason.is_empty());
        if reason.is_none() {
            self.fault(span(value), "a row is removed without a reason", "write `remove = \"…\"` with the reason");
        }
        reason.map(str::to_owned)
    }

    /// Lays the author's rows over those of the base.
    fn rows<T>(&mut self, value: &Table<'_>, rules: &Rules<'_>, rows: &mut Vec<T>, key_of: impl Fn(&T) -> String)
    where
        T: Serialize + DeserializeOwned + Clone,
    {
        let DeValue::Array(list) = value.get_ref() else {
            self.fault(
                span(value),
                format!("`{}` wants rows", rules.name),
                format!("write `[[{}]]` for each", rules.name),
            );
            return;
        };
        let mut seen: Vec<(String, Span)> = Vec::new();
        for entry in list.iter() {
            let DeValue::Table(row) = entry.get_ref() else {
                self.fault(
                    span(entry),
                    format!("`{}` wants rows", rules.name),
                    format!("write `[[{}]]` for each", rules.name),
                );
                continue;
            };
            let (key, place, first) = key(row, rules.key, span(entry));
            // Without `tag` a share of "source of" is that of all nutrients.
            let missing = rules.key.iter().find(|field| row.get(**field).is_none());
            if let Some(field) = missing.filter(|_| rules.name != "claims.source_of") {
                self.fault(
                    place,
                    format!("this row of `{}` lacks `{field}`", rules.name),
                    format!("add `{field} = …`: it says which row is meant"),
                );
                continue;
            }
            if let Some((_, other)) = seen.iter().find(|(other, _)| *other == key) {
                self.sink.push(
                    Diagnostic::new(Code::WorkspaceProfileError, place, format!("{} is amended twice", quote(&key)))
                        .label(*other, "the first is here")
                        .help("remove one of the two"),
                );
                continue;
            }
            seen.push((key.clone(), place));
            let at = rows.iter().position(|base| key_of(base) == key);
            if at.is_none() {
                let bases: Vec<String> = rows.iter().map(&key_of).collect();
                let known = rules.names.as_ref().unwrap_or(&bases);
                let known: Vec<&str> = known.iter().map(String::as_str).collect();
                let what = format!("row of `{}`", rules.name);
                let wrong_name = rules.names.is_some() && !first.is_empty() && !known.contains(&first.as_str());
                let slip = rules.names.is_none()
                    && rules.key.len() == 1
                    && did_you_mean(&key, known.iter().copied()).is_some();
                if wrong_name || slip || !rules.grows || row.get("remove").is_some() {
                    let word = if rules.names.is_some() { &first } else { &key };
                    self.no_such(&what, word, place, &known);
                    continue;
                }
            }
            if let Some(reason) = row.get("remove") {
                if let Some(why) = rules.kept {
                    self.fault(span(reason), format!("{} cannot be removed", quote(&key)), why);
                } else if let (Some(reason), Some(at)) = (self.reason(reason), at) {
                    let base = rows.remove(at);
                    self.removed.push(Removed { table: table_of(rules.name), key: key_of(&base), reason });
                }
                continue;
            }
            if rules.sourced && row.get("year").is_none() {
                let shown = if key.is_empty() { rules.name } else { &key };
                self.fault(
                    place,
                    format!("{} does not say the year of its source", quote(shown)),
                    "add `year = 2026`, the year of the document",
                );
            }
            let base = at.and_then(|at| rows.get(at));
            if let Some(whole) = self.laid_over(row, base, rules, place) {
                match at.and_then(|at| rows.get_mut(at)) {
                    Some(old) => *old = whole,
                    None => rows.push(whole),
                }
            }
        }
    }

    /// The author's fields over those of the base row, read as one. Each
    /// faulty field is told and set aside, so that all are told.
    fn laid_over<T>(&mut self, row: &DeTable<'_>, base: Option<&T>, rules: &Rules<'_>, place: Span) -> Option<T>
    where
        T: Serialize + DeserializeOwned,
    {
        let text = base.and_then(|base| toml::to_string(base).ok()).unwrap_or_default();
        let mut merged = DeTable::parse(&text).map(|table| table.into_inner()).unwrap_or_default();
        for field in rules.anew {
            merged.remove(*field);
        }
        for (name, value) in row {
            // A key keeps the place it was first put at, so the old one goes.
            merged.remove(name.get_ref().as_ref());
            merged.insert(name.clone(), value.clone());
        }
        let mut sound = true;
        for _ in 0..=row.len() {
            let whole = Placed::new(place.start..place.end, DeValue::Table(merged.clone()));
            let error = match T::deserialize(whole.into_deserializer()) {
                Ok(whole) => return sound.then_some(whole),
                Err(error) => error,
            };
            sound = false;
            self.sink.push(fault::message(&error, place, rules.name));
            let at = error.span()?;
            let faulty = row
                .iter()
                .find(|(name, value)| (name.span().start..value.span().end.max(name.span().end)).contains(&at.start));
            let (name, _) = faulty?;
            let name: &str = name.get_ref();
            // The base's own value takes its place, so that the rest is read.
            let original = DeTable::parse(&text).ok().and_then(|table| table.into_inner().remove_entry(name));
            merged.remove(name);
            if let Some((key, value)) = original {
                merged.insert(key, value);
            }
        }
        None
    }
}

fn strings(list: &Table<'_>) -> Vec<String> {
    list.get_ref()
        .as_array()
        .map(|list| list.iter().filter_map(|entry| entry.get_ref().as_str().map(str::to_owned)).collect())
        .unwrap_or_default()
}

/// The key of a row as one text, its place, and its first field.
fn key(row: &DeTable<'_>, fields: &[&str], otherwise: Span) -> (String, Span, String) {
    let mut place = None;
    let words: Vec<String> = fields
        .iter()
        .map(|field| match row.get(*field) {
            Some(value) => {
                place.get_or_insert(span(value));
                match value.get_ref() {
                    DeValue::String(word) => word.to_string(),
                    DeValue::Integer(number) => number.as_str().to_owned(),
                    DeValue::Boolean(truth) => truth.to_string(),
                    _ => String::new(),
                }
            }
            None => String::new(),
        })
        .collect();
    let first = words.first().cloned().unwrap_or_default();
    let place = place.or_else(|| row.values().next().map(span)).unwrap_or(otherwise);
    (words.join(" "), place, first)
}

/// Where the rows of an author's table are shown.
fn table_of(name: &str) -> super::rows::Table {
    use super::rows::Table as Shown;
    match name {
        "band" => Shown::Bands,
        "upper_limit" => Shown::Limits,
        "hazard" => Shown::Hazards,
        "allergen" => Shown::Allergens,
        "locked" => Shown::Locked,
        "reading" => Shown::Reading,
        "packaged_food" => Shown::PackagedFood,
        "energy_density.minimum" => Shown::EnergyDensity,
        "claims.source_of" | "claims.limit" | "claims.claimable" => Shown::Claims,
        "absorption.phytate" => Shown::Absorption,
        "iycf.meal_frequency" => Shown::Indicators,
        "nutrient" => Shown::Intakes,
        _ => Shown::Rounding,
    }
}
