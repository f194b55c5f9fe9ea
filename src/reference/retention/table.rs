//! Rows of the retention table and of the choice of code, and their readers.
//!
//! `build.rs` includes this file and `larder/row.rs` as sibling modules
//! (`retention_table` and `row`), reads the CSV files with it and stores the
//! rows as postcard, so that no text is parsed when the program starts.

use super::row::FoodClass;
use serde::{Deserialize, Serialize};

/// Number of component columns in the USDA table.
pub const COLUMNS: usize = 26;

macro_rules! columns {
    ($($variant:ident = $name:literal),+ $(,)?) => {
        /// A component column of the USDA retention table, release 6.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum RetentionColumn { $($variant),+ }

        impl RetentionColumn {
            pub const ALL: [RetentionColumn; COLUMNS] = [$(RetentionColumn::$variant),+];

            /// The head of the column in the CSV file.
            pub fn name(self) -> &'static str {
                match self { $(RetentionColumn::$variant => $name),+ }
            }
        }
    };
}

columns! {
    Calcium = "calcium",
    Iron = "iron",
    Magnesium = "magnesium",
    Phosphorus = "phosphorus",
    Potassium = "potassium",
    Sodium = "sodium",
    Zinc = "zinc",
    Copper = "copper",
    Vitc = "vitc",
    Vitb1 = "vitb1",
    Vitb2 = "vitb2",
    Vitb3 = "vitb3",
    Vitb6 = "vitb6",
    FolateFood = "folate_food",
    // Folic acid: the survey database treats it as its own column, though in
    // release 6 the three folate columns are equal.
    Vitb9 = "vitb9",
    FolateTotal = "folate_total",
    Choline = "choline",
    Vitb12 = "vitb12",
    VitaIu = "vita_iu",
    VitaRe = "vita_re",
    Alcohol = "alcohol",
    CaroteneBeta = "carotene_beta",
    CaroteneAlpha = "carotene_alpha",
    Cryptoxanthin = "cryptoxanthin",
    Lycopene = "lycopene",
    Lutein = "lutein",
}

macro_rules! heats {
    ($($(#[$doc:meta])* $variant:ident = $word:literal),+ $(,)?) => {
        /// What heat an ingredient goes through.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "kebab-case")]
        pub enum Heat { $($(#[$doc])* $variant),+ }

        impl Heat {
            pub const ALL: &'static [Heat] = &[$(Heat::$variant),+];

            /// The word used in the tables and in data output.
            pub fn word(self) -> &'static str {
                match self { $(Heat::$variant => $word),+ }
            }

            /// The heat of a word.
            pub fn from_word(word: &str) -> Option<Heat> {
                Heat::ALL.iter().copied().find(|heat| heat.word() == word)
            }
        }
    };
}

heats! {
    /// Boiled, simmered or stewed; the liquid is thrown away.
    BoilDrained = "boil-drained",
    /// Boiled, simmered or stewed; the liquid is eaten.
    BoilUsed = "boil-used",
    Steam = "steam",
    PressureCook = "pressure-cook",
    Fry = "fry",
    StirFry = "stir-fry",
    Bake = "bake",
    Roast = "roast",
    Toast = "toast",
    Grill = "grill",
    /// Reheated, or kept warm.
    Warm = "warm",
}

/// One code of the USDA table: what is left, in percent. 100 also stands for
/// "no figure published".
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RetentionRow {
    pub code: u32,
    pub description: String,
    /// In the order of [`RetentionColumn::ALL`]; read through `percent`.
    pub percents: [u8; COLUMNS],
}

impl RetentionRow {
    /// What is left of the column's component, in percent.
    pub fn percent(&self, column: RetentionColumn) -> u8 {
        self.percents.get(column as usize).copied().unwrap_or(100)
    }
}

/// One row of `choice.csv`. A note beside a code says that the code is only
/// the nearest one; a note beside code 0 says why no retention applies.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ChoiceRow {
    pub class: FoodClass,
    pub heat: Heat,
    /// The row holds for cooking times up to this; without it, for any time
    /// and for an unknown one.
    pub minutes_to: Option<f64>,
    pub code: u32,
    pub note: String,
}

/// The food class of a word.
pub fn class_from_word(word: &str) -> Option<FoodClass> {
    FoodClass::ALL.iter().copied().find(|class| class.word() == word)
}

/// The records of a CSV file after its heading, which must be `heads`. Fields
/// may be quoted; a quoted field holds no line break.
pub fn records(text: &str, heads: &[&str]) -> Result<Vec<(usize, Vec<String>)>, String> {
    let mut lines = text.lines().enumerate();
    let heading = lines.next().map(|(_, line)| fields(line)).unwrap_or_default();
    if heading != heads {
        return Err(format!("line 1: the columns must be {}", heads.join(",")));
    }
    let mut rows = Vec::new();
    for (index, line) in lines.filter(|(_, line)| !line.trim().is_empty()) {
        let row = fields(line);
        if row.len() != heads.len() {
            return Err(format!("line {}: {} fields, not {}", index + 1, row.len(), heads.len()));
        }
        rows.push((index + 1, row));
    }
    Ok(rows)
}

fn fields(line: &str) -> Vec<String> {
    let mut all = Vec::new();
    let mut field = String::new();
    let mut quoted = false;
    let mut characters = line.chars().peekable();
    while let Some(character) = characters.next() {
        match character {
            '"' if quoted && characters.peek() == Some(&'"') => {
                characters.next();
                field.push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => all.push(std::mem::take(&mut field)),
            _ => field.push(character),
        }
    }
    all.push(field);
    all
}

/// Reads `usda_retention_r6.csv`. The rows come back ascending by code.
pub fn parse_csv(text: &str) -> Result<Vec<RetentionRow>, String> {
    let mut heads = vec!["retention_factor", "description"];
    heads.extend(RetentionColumn::ALL.iter().map(|column| column.name()));
    let mut rows = Vec::new();
    for (line, record) in records(text, &heads)? {
        let mut record = record.into_iter();
        let code = record.next().unwrap_or_default();
        let code = code.parse().map_err(|_| format!("line {line}: `{code}` is not a code"))?;
        let description = record.next().unwrap_or_default();
        let mut percents = [0u8; COLUMNS];
        for (slot, text) in percents.iter_mut().zip(record) {
            *slot = match text.parse() {
                Ok(percent) if percent <= 100 => percent,
                _ => return Err(format!("line {line}: `{text}` is not a percentage")),
            };
        }
        rows.push(RetentionRow { code, description, percents });
    }
    rows.sort_by_key(|row| row.code);
    if let Some(twice) = rows.windows(2).find_map(|pair| match pair {
        [a, b] if a.code == b.code => Some(a.code),
        _ => None,
    }) {
        return Err(format!("code {twice} occurs twice"));
    }
    Ok(rows)
}

/// Reads `choice.csv` and checks it: every class and heat has a row without a
/// time limit as its last one, every code exists, code 0 has a note. The rows
/// come back ordered by class, heat and time.
pub fn parse_choices(text: &str, codes: &[RetentionRow]) -> Result<Vec<ChoiceRow>, String> {
    let mut rows = Vec::new();
    for (line, record) in records(text, &["class", "heat", "minutes_to", "code", "note"])? {
        let [class, heat, minutes, code, note] = record.as_slice() else {
            return Err(format!("line {line}: five fields are wanted"));
        };
        let minutes_to = match minutes.as_str() {
            "" => None,
            text => match text.parse::<f64>() {
                Ok(minutes) if minutes.is_finite() && minutes > 0.0 => Some(minutes),
                _ => return Err(format!("line {line}: `{text}` is not a time in minutes")),
            },
        };
        let row = ChoiceRow {
            class: class_from_word(class).ok_or_else(|| format!("line {line}: `{class}` is not a food class"))?,
            heat: Heat::from_word(heat).ok_or_else(|| format!("line {line}: `{heat}` is not a heat"))?,
            minutes_to,
            code: code.parse().map_err(|_| format!("line {line}: `{code}` is not a code"))?,
            note: note.clone(),
        };
        if row.code == 0 && row.note.is_empty() {
            return Err(format!("line {line}: code 0 needs a note that says why"));
        }
        if row.code != 0 && !codes.iter().any(|known| known.code == row.code) {
            return Err(format!("line {line}: the table has no code {}", row.code));
        }
        rows.push(row);
    }
    let time = |row: &ChoiceRow| row.minutes_to.unwrap_or(f64::INFINITY);
    rows.sort_by(|a, b| (a.class, a.heat).cmp(&(b.class, b.heat)).then(time(a).total_cmp(&time(b))));
    for &class in FoodClass::ALL {
        for &heat in Heat::ALL {
            let endless = rows.iter().filter(|row| row.class == class && row.heat == heat && row.minutes_to.is_none());
            match endless.count() {
                1 => {}
                count => {
                    return Err(format!("{}, {}: {count} rows without a time limit, not 1", class.word(), heat.word()));
                }
            }
        }
    }
    Ok(rows)
}

/// The content of `retention.postcard`.
pub fn encode_retention(csv: &str) -> Result<Vec<u8>, String> {
    postcard::to_stdvec(&parse_csv(csv)?).map_err(|error| error.to_string())
}

/// The content of `choice.postcard`.
pub fn encode_choices(choice_csv: &str, retention_csv: &str) -> Result<Vec<u8>, String> {
    let choices = parse_choices(choice_csv, &parse_csv(retention_csv)?)?;
    postcard::to_stdvec(&choices).map_err(|error| error.to_string())
}
