//! Every figure of a profile as one flat list: what `profile show` prints,
//! and what two profiles are compared by.

use serde::Serialize;

use super::data::{self, Figure, ProfileFile, Span, Statement, Status};

macro_rules! tables {
    ($($variant:ident = $word:literal, $title:literal;)+) => {
        /// Parts of a profile, in the order they are shown.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, schemars::JsonSchema, clap::ValueEnum)]
        #[serde(rename_all = "kebab-case")]
        pub enum Table { $(#[doc = $title] $variant),+ }

        impl Table {
            pub const ALL: &'static [Table] = &[$(Table::$variant),+];

            /// The word on the command line and in JSON.
            pub fn word(self) -> &'static str {
                match self { $(Table::$variant => $word),+ }
            }

            pub fn title(self) -> &'static str {
                match self { $(Table::$variant => $title),+ }
            }
        }
    };
}

tables! {
    Bands = "bands", "Age bands: energy, meals, portions, texture";
    EnergyDensity = "energy-density", "Least energy in a gram of food";
    Intakes = "intakes", "Reference intakes, a day";
    Alternatives = "alternatives", "Intakes of other authorities, a day";
    Limits = "limits", "Upper limits, a day";
    NutrientDensity = "nutrient-density", "Desired amounts per 100 kcal";
    Claims = "claims", "When a nutrient statement holds";
    Allergens = "allergens", "Allergens that the card names";
    Hazards = "hazards", "Figures that the safety rules read";
    Locked = "locked", "Rules that cannot be switched off";
    Indicators = "indicators", "Indicators of infant and young child feeding";
    Menu = "menu", "How a day is judged and added to";
    Absorption = "absorption", "What may help or hinder the uptake of minerals";
    Reading = "reading", "How easily the prose must read";
    PackagedFood = "packaged-food", "Standards for food that is sold, to compare with";
    Rounding = "rounding", "Decimals in print";
}

/// One figure with where it comes from.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row {
    pub table: Table,
    /// Unique within its table.
    pub key: String,
    pub figure: String,
    pub source: String,
    pub year: Option<u16>,
    /// `None` for a choice of the profile itself.
    pub status: Option<Status>,
    pub read_at: Option<String>,
    /// Superseded, or older than another edition in the profile.
    pub historical: bool,
    pub note: Option<String>,
    /// What another authority says.
    pub conflict: Option<String>,
}

impl Status {
    pub fn word(self) -> &'static str {
        match self {
            Self::CheckedOfficial => "checked-official",
            Self::CheckedSecondary => "checked-secondary",
            Self::Computed => "computed",
            Self::Memory => "memory",
        }
    }
}

/// What a choice of the profile names as its source.
const OWN_CHOICE: &str = "choice of this profile, not a published figure";

struct List {
    rows: Vec<Row>,
}

impl List {
    fn add(&mut self, table: Table, key: String, figure: String, source: &str, status: Option<Status>) -> &mut Row {
        // Keys are unique, so that two profiles can be laid side by side.
        let mut unique = key.clone();
        let mut number = 1;
        while self.rows.iter().any(|row| row.table == table && row.key == unique) {
            number += 1;
            unique = format!("{key} ({number})");
        }
        self.rows.push(Row {
            table,
            key: unique,
            figure,
            source: source.to_owned(),
            year: None,
            status,
            read_at: None,
            historical: source.contains("(historical)"),
            note: None,
            conflict: None,
        });
        let last = self.rows.len() - 1;
        // The row that was just put there.
        #[allow(clippy::indexing_slicing)]
        &mut self.rows[last]
    }

    fn figure(&mut self, table: Table, key: String, figure: &Figure, unit: &str) {
        let row = self.add(table, key, amount(figure.value, unit), &figure.source, Some(figure.status));
        row.year = figure.year;
        row.read_at.clone_from(&figure.read_at);
        row.note.clone_from(&figure.note);
    }

    fn span(&mut self, table: Table, key: String, span: &Span, unit: &str) {
        let text = if span.from == span.to { span.from.to_string() } else { format!("{} to {}", span.from, span.to) };
        let row = self.add(table, key, format!("{text} {unit}"), &span.source, Some(span.status));
        row.year = span.year;
        row.read_at.clone_from(&span.read_at);
        row.note.clone_from(&span.note);
    }

    fn statement(&mut self, table: Table, key: String, statement: &Statement) {
        let row = self.add(table, key, statement.en.clone(), &statement.source, Some(statement.status));
        row.year = statement.year;
        row.note.clone_from(&statement.note);
    }
}

fn amount(value: f64, unit: &str) -> String {
    if unit.is_empty() { value.to_string() } else { format!("{value} {unit}") }
}

/// The words of an enumeration as they are written in a profile.
fn word<T: Serialize>(value: T) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

/// Every figure, in the order of the tables.
pub fn rows(file: &ProfileFile) -> Vec<Row> {
    let mut list = List { rows: Vec::new() };
    bands(file, &mut list);
    energy_density(file, &mut list);
    intakes(file, &mut list);
    limits(file, &mut list);
    nutrient_density(file, &mut list);
    claims(file, &mut list);
    allergens(file, &mut list);
    hazards(file, &mut list);
    indicators(file, &mut list);
    texts(file, &mut list);
    let mut rows = list.rows;
    rows.sort_by_key(|row| row.table);
    rows
}

fn bands(file: &ProfileFile, list: &mut List) {
    for band in &file.band {
        let key = |what: &str| format!("{} {what}", band.key);
        for (what, figure, unit) in [
            ("energy, breastfed", &band.energy_breastfed, "kcal a day from food"),
            ("energy, not breastfed", &band.energy_not_breastfed, "kcal a day from food"),
            ("energy in all", &band.energy_total, "kcal a day"),
            ("energy in all, high need", &band.energy_total_high, "kcal a day"),
            ("breast milk, average", &band.milk_energy, "kcal a day"),
            ("breast milk, low", &band.milk_energy_low, "kcal a day"),
            ("breast milk, average volume", &band.milk_volume, "mL a day"),
            ("stomach", &band.capacity, "g a meal"),
        ] {
            list.figure(Table::Bands, key(what), figure, unit);
        }
        list.span(Table::Bands, key("meals, breastfed"), &band.meals, "a day");
        list.span(Table::Bands, key("snacks, breastfed"), &band.snacks, "a day");
        list.span(Table::Bands, key("meals, not breastfed"), &band.meals_not_breastfed, "a day");
        list.span(Table::Bands, key("snacks, not breastfed"), &band.snacks_not_breastfed, "a day");
        if let Some(milk) = &band.milk_not_breastfed {
            list.span(Table::Bands, key("milk, not breastfed"), milk, "mL a day");
        }
        if let Some(start) = &band.portion_start {
            list.figure(Table::Bands, key("first portion"), start, "mL a meal");
        }
        list.figure(Table::Bands, key("usual portion"), &band.portion_usual, "mL a meal");
        list.figure(Table::Bands, key("largest portion"), &band.portion_most, "mL a meal");
        let texture = &band.texture;
        let row = list.add(Table::Bands, key("texture"), texture.en.clone(), &texture.source, Some(texture.status));
        row.year = texture.year;
        row.read_at.clone_from(&texture.read_at);
        row.note.clone_from(&texture.note);
    }
}

fn energy_density(file: &ProfileFile, list: &mut List) {
    let density = &file.energy_density;
    for minimum in &density.minimum {
        let text = format!("{} kcal/g; {} at four meals a day", minimum.default_minimum, minimum.four_meals);
        let key = format!("{} minimum", minimum.band);
        let row = list.add(Table::EnergyDensity, key, text, &minimum.source, Some(minimum.status));
        row.year = minimum.year;
        row.note = Some(minimum.note.clone());
        row.historical = density.edition.iter().any(|edition| edition.id == minimum.edition && edition.historical);
    }
    list.figure(Table::EnergyDensity, "watery gruel".to_owned(), &density.too_thin, "kcal/g");
    list.figure(Table::EnergyDensity, "breast milk".to_owned(), &density.breast_milk, "kcal/mL");
    for figure in &density.assumed {
        list.figure(Table::EnergyDensity, "assumed by cup amounts".to_owned(), figure, "kcal/g");
    }
    for edition in &density.edition {
        for row in &edition.row {
            let milk = match row.feeding {
                data::MilkIntake::Average => "average milk",
                data::MilkIntake::Low => "low milk",
                data::MilkIntake::None => "no milk",
            };
            let key = format!("{} {}, {milk}, {} meals", edition.id, row.band, row.meals);
            let text = format!("{} kcal/g", row.value);
            let shown = list.add(Table::EnergyDensity, key, text, &edition.source, Some(edition.status));
            shown.year = edition.year;
            shown.read_at.clone_from(&edition.read_at);
            shown.historical = edition.historical;
        }
    }
}

fn intakes(file: &ProfileFile, list: &mut List) {
    for nutrient in &file.nutrient {
        for (table, intakes) in [(Table::Intakes, &nutrient.intake), (Table::Alternatives, &nutrient.alternative)] {
            for intake in intakes {
                for band in &intake.bands {
                    let value = match intake.value {
                        Some(value) => format!("{value} {}", nutrient.unit),
                        None => "none set".to_owned(),
                    };
                    let aim = if nutrient.aim == data::Aim::AtMost { "at most " } else { "" };
                    let mut text = format!("{aim}{value} ({}; stated for {})", word(intake.kind), intake.stated_for);
                    if let Some(condition) = &intake.condition {
                        text.push_str(", ");
                        text.push_str(condition);
                    }
                    let key = format!("{} {band}", nutrient.tag);
                    let row = list.add(table, key, text, &intake.source, Some(intake.status));
                    row.year = intake.year;
                    row.read_at.clone_from(&intake.read_at);
                    row.note.clone_from(&intake.note);
                }
            }
        }
    }
}

fn limits(file: &ProfileFile, list: &mut List) {
    for limit in &file.upper_limit {
        let text = format!(
            "at most {} {} ({}, counts {}; stated for {})",
            limit.value,
            limit.unit,
            word(limit.kind),
            word(limit.scope),
            limit.stated_for
        );
        let key = format!("{} {}-{}", limit.tag, limit.from_months, limit.to_months);
        let row = list.add(Table::Limits, key, text, &limit.source, Some(limit.status));
        row.year = limit.year;
        row.read_at.clone_from(&limit.read_at);
        row.note.clone_from(&limit.note);
    }
}

fn nutrient_density(file: &ProfileFile, list: &mut List) {
    for edition in &file.nutrient_density.edition {
        for row in &edition.row {
            let mut text = format!("{} {} per 100 kcal", row.value, row.unit);
            if let Some(condition) = &row.condition {
                text.push_str(", ");
                text.push_str(condition);
            }
            let key = format!("{} {} {}", edition.id, row.tag, row.band);
            let shown = list.add(Table::NutrientDensity, key, text, &edition.source, Some(row.status));
            shown.year = edition.year;
            shown.read_at.clone_from(&edition.read_at);
            shown.historical = edition.historical;
        }
    }
}

fn claims(file: &ProfileFile, list: &mut List) {
    let claims = &file.claims;
    for row in &claims.source_of {
        let what = row.tag.as_deref().unwrap_or("all others");
        let text = format!("{} % of the reference intake in one portion", row.value * 100.0);
        let shown = list.add(Table::Claims, format!("source of {what}"), text, &row.source, Some(row.status));
        shown.year = row.year;
        shown.note.clone_from(&row.note);
    }
    list.figure(Table::Claims, "rich in".to_owned(), &claims.rich_in_factor, "times \"source of\"");
    for limit in &claims.limit {
        let mut text: Vec<String> = Vec::new();
        if let Some(most) = limit.max_per_100_g {
            text.push(format!("at most {most} {} per 100 g", limit.unit));
        }
        if let Some(most) = limit.max_per_100_ml {
            text.push(format!("at most {most} {} per 100 mL", limit.unit));
        }
        text.extend(limit.further.clone());
        let key = format!("{} in {}", word(limit.word), limit.tag);
        let shown = list.add(Table::Claims, key, text.join("; "), &limit.source, Some(limit.status));
        shown.year = limit.year;
        shown.read_at.clone_from(&limit.read_at);
        shown.note.clone_from(&limit.note);
    }
    for row in &claims.codex {
        let key = format!("Codex {} {}", row.word, row.component);
        list.add(Table::Claims, key, row.condition.clone(), &row.source, Some(row.status)).year = row.year;
    }
    list.statement(Table::Claims, "on packaged food".to_owned(), &claims.packaged);
    list.statement(Table::Claims, "values for labels".to_owned(), &claims.label_values);
}

fn allergens(file: &ProfileFile, list: &mut List) {
    for allergen in &file.allergen {
        let printed = if allergen.print { "printed" } else { "not printed" };
        for listing in &allergen.on {
            let key = format!("{} on {}", allergen.id, word(listing.list));
            let text = format!("{printed}; {}", listing.section);
            let row = list.add(Table::Allergens, key, text, &listing.source, Some(listing.status));
            row.year = listing.year;
            row.note.clone_from(&allergen.note);
        }
    }
}

fn hazards(file: &ProfileFile, list: &mut List) {
    for hazard in &file.hazard {
        let mut parts: Vec<String> = Vec::new();
        if let Some(value) = hazard.value {
            let bound = if hazard.at_least { "at least" } else { "at most" };
            parts.push(format!("{bound} {value} {}", hazard.unit.as_deref().unwrap_or_default()).trim_end().to_owned());
        }
        match (hazard.age_from_months, hazard.age_under_months) {
            (Some(from), Some(under)) => parts.push(format!("from {from} to under {under} months")),
            (Some(from), None) => parts.push(format!("from {from} months")),
            (None, Some(under)) => parts.push(format!("under {under} months")),
            (None, None) => parts.push("at every age".to_owned()),
        }
        let row = list.add(Table::Hazards, hazard.id.clone(), parts.join("; "), &hazard.authority, Some(hazard.status));
        row.year = hazard.year;
        row.read_at.clone_from(&hazard.read_at);
        row.note = Some(hazard.note.clone());
        row.conflict.clone_from(&hazard.conflict);
    }
    for locked in &file.locked {
        let text = format!("below {} months: {}", locked.below_months, locked.reason);
        list.add(Table::Locked, locked.code.clone(), text, OWN_CHOICE, None);
    }
}

fn indicators(file: &ProfileFile, list: &mut List) {
    let iycf = &file.iycf;
    list.figure(Table::Indicators, "food groups needed".to_owned(), &iycf.groups_needed, "a day");
    for group in &iycf.group {
        let row = list.add(
            Table::Indicators,
            format!("food group {}", group.id),
            group.en.clone(),
            &group.source,
            Some(group.status),
        );
        row.year = group.year;
    }
    for row in &iycf.meal_frequency {
        let milk = if row.breastfed { "breastfed" } else { "not breastfed" };
        let key = format!("times to eat, {}-{} months, {milk}", row.from_months, row.to_months);
        let shown =
            list.add(Table::Indicators, key, format!("at least {} a day", row.times), &row.source, Some(row.status));
        shown.year = row.year;
        shown.read_at.clone_from(&row.read_at);
        shown.note.clone_from(&row.note);
    }
    list.figure(
        Table::Indicators,
        "milk feeds, not breastfed".to_owned(),
        &iycf.milk_feeds_not_breastfed,
        "a day at least",
    );
    for row in &iycf.indicator {
        let shown = list.add(Table::Indicators, row.id.clone(), row.en.clone(), &row.source, Some(row.status));
        shown.year = row.year;
        shown.read_at.clone_from(&row.read_at);
    }
    for statement in &iycf.historical {
        list.statement(Table::Indicators, "earlier edition".to_owned(), statement);
    }
}

fn texts(file: &ProfileFile, list: &mut List) {
    if let Some(menu) = &file.menu {
        list.figure(Table::Menu, "least energy".to_owned(), &menu.energy_least, "of the need");
        if let Some(least) = &menu.group_least {
            list.figure(Table::Menu, "least of a food group".to_owned(), least, "g");
        }
        if let Some(most) = &menu.helping_most {
            list.figure(
                Table::Menu,
                "most of a flesh food, egg or leaf rich in nitrate proposed".to_owned(),
                most,
                "g",
            );
        }
    }
    for ratio in &file.absorption.phytate {
        list.figure(Table::Absorption, format!("phytate to {}", ratio.tag), &ratio.most, "mol/mol at most");
        for other in &ratio.other {
            list.figure(Table::Absorption, format!("phytate to {}, elsewhere", ratio.tag), other, "mol/mol");
        }
    }
    if let Some(vitamin_c) = &file.absorption.vitamin_c_iron {
        list.figure(Table::Absorption, "vitamin C to FE".to_owned(), vitamin_c, "mol/mol at least");
    }
    for reading in &file.reading {
        let mut text =
            format!("at most {} words in a sentence, {} on average", reading.sentence_words, reading.average_words);
        if let Some(lix) = reading.lix {
            text.push_str(&format!(", LIX at most {lix}"));
        }
        let row = list.add(Table::Reading, reading.language.clone(), text, &reading.source, Some(reading.status));
        row.year = reading.year;
        row.note.clone_from(&reading.note);
    }
    for food in &file.packaged_food {
        let text = format!("{}: {}", food.what, food.limit);
        let row = list.add(Table::PackagedFood, food.id.clone(), text, &food.source, Some(food.status));
        row.year = food.year;
        row.read_at.clone_from(&food.read_at);
        row.note.clone_from(&food.note);
    }
    for nutrient in &file.nutrient {
        let text = format!("{} decimals of {}", nutrient.step, nutrient.unit);
        list.add(Table::Rounding, nutrient.tag.clone(), text, OWN_CHOICE, None);
    }
    for rounding in &file.rounding.row {
        let text = format!("{} decimals of {}", rounding.step, rounding.unit);
        list.add(Table::Rounding, rounding.what.clone(), text, OWN_CHOICE, None);
    }
}
