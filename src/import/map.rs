//! The map that says what a source's columns are, where their heads do not.
//!
//! ```toml
//! food    = "Code"            # the column of the food's code
//! name    = "Aliment"         # the column of its name
//! basis   = "100 mL"          # default "100 g"
//! density = "Densité"         # for 100 mL: a column in g/mL, or one figure
//! sheet   = "Foods"           # of a spreadsheet; default the first
//! header  = 3                 # row of the heads; default: found
//! separator = ";"             # of a CSV; default: found
//! decimal = ","               # default: found
//! unknown = ["s.d."]          # further signs for unknown
//! trace   = ["T"]             # further signs for a trace
//!
//! [columns]
//! "Fer (mg)" = "FE"                                # the unit of the head
//! "Énergie"  = { tag = "ENERC_KJ", unit = "kJ" }
//! "Cendres"  = "-"                                 # left out on purpose
//! ```

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::diagnostic::did_you_mean;
use crate::import::unit::Unit;
use crate::import::{Place, Remarks};
use crate::reference::nutrient::{NUTRIENTS, NutrientId};
use crate::source::Source;

#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Map {
    pub food: Option<String>,
    pub name: Option<String>,
    pub basis: Option<String>,
    pub density: Option<Density>,
    pub sheet: Option<String>,
    pub header: Option<usize>,
    pub separator: Option<String>,
    pub decimal: Option<String>,
    #[serde(default)]
    pub unknown: Vec<String>,
    #[serde(default)]
    pub trace: Vec<String>,
    #[serde(default)]
    pub columns: BTreeMap<String, Target>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Density {
    Value(f64),
    Column(String),
}

/// What a column is.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(untagged)]
pub enum Target {
    Tag(String),
    Unit { tag: String, unit: Option<String> },
}

impl Target {
    pub fn tag(&self) -> &str {
        match self {
            Self::Tag(tag) | Self::Unit { tag, .. } => tag,
        }
    }

    pub fn unit(&self) -> Option<&str> {
        match self {
            Self::Tag(_) => None,
            Self::Unit { unit, .. } => unit.as_deref(),
        }
    }

    /// A column that is left out on purpose.
    pub fn is_nothing(&self) -> bool {
        self.tag() == "-"
    }
}

impl Map {
    /// Reads a map. What is wrong is a remark at its line, and the map is used
    /// without it; `None` where it is no map at all.
    pub fn read(name: &str, text: &str, remarks: &mut Remarks) -> Option<Self> {
        let mut map: Self = match toml::from_str(text) {
            Ok(map) => map,
            Err(error) => {
                let source = Source::new(name, text);
                let mut place = Place::file(name);
                if let Some(span) = error.span() {
                    place = place.row(source.place(span.start).line);
                }
                let first = error.message().lines().next().unwrap_or_default().to_lowercase();
                remarks.error(place, format!("this is no map: {first}"), "a map has food, name, basis, density, sheet, header, separator, decimal, unknown, trace, [columns]");
                return None;
            }
        };
        let mut wrong = |what: &str, help: String| remarks.error(Place::file(name), what.to_owned(), help);
        map.columns.retain(|head, target| {
            let tag = target.tag();
            if !target.is_nothing() && NutrientId::from_tag(tag).is_none() {
                let near = did_you_mean(tag, NUTRIENTS.iter().map(|nutrient| nutrient.tag));
                wrong(
                    &format!("`{tag}` of the column `{head}` is no INFOODS tagname known here"),
                    near.map_or_else(
                        || "the column is left out; write \"-\" to leave it out on purpose".to_owned(),
                        |near| format!("did you mean `{near}`?"),
                    ),
                );
                return false;
            }
            if let Some(unit) = target.unit().filter(|unit| Unit::from_word(unit).is_none()) {
                wrong(
                    &format!("`{unit}` of the column `{head}` is no unit known here"),
                    "units are g, mg, µg, ng, kcal, kJ and IU".to_owned(),
                );
                return false;
            }
            true
        });
        if map.basis.as_deref().is_some_and(|basis| per_100_ml(basis).is_none()) {
            wrong("`basis` is neither `100 g` nor `100 mL`", "write `basis = \"100 g\"`".to_owned());
            return None;
        }
        if map.separator.as_deref().is_some_and(|separator| !matches!(separator, "," | ";" | "\t")) {
            wrong("`separator` is neither a comma, a semicolon nor a tab", "write `separator = \";\"`".to_owned());
            map.separator = None;
        }
        if map.decimal.as_deref().is_some_and(|decimal| !matches!(decimal, "," | ".")) {
            wrong("`decimal` is neither a point nor a comma", "write `decimal = \",\"`".to_owned());
            map.decimal = None;
        }
        if let Some(Density::Value(value)) = map.density
            && !plausible(value)
        {
            wrong("`density` is no density of food", "write it in g/mL, such as `density = 1.03`".to_owned());
            map.density = None;
        }
        Some(map)
    }

    /// Figures are per 100 mL.
    pub fn by_volume(&self) -> bool {
        self.basis.as_deref().and_then(per_100_ml).unwrap_or(false)
    }
}

fn per_100_ml(basis: &str) -> Option<bool> {
    match basis.split_whitespace().collect::<String>().to_lowercase().as_str() {
        "100g" => Some(false),
        "100ml" => Some(true),
        _ => None,
    }
}

/// From dry puffed cereal to honey with room on both sides, g/mL.
pub fn plausible(density: f64) -> bool {
    density.is_finite() && (0.02..=2.5).contains(&density)
}
