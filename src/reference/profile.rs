//! The guidance profile: everything that an authority decides.

mod amend;
pub mod complete;
pub mod data;
mod fault;
pub mod lenient;
pub mod rows;

use std::sync::{Arc, OnceLock};

pub use amend::BASE;
pub use data::ProfileFile;

use serde::Serialize;
use toml::de::DeTable;

use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::nutrient::NutrientId;
use crate::source::{Source, Span};

/// A guidance profile ready for use.
#[derive(Debug, Clone)]
pub struct Profile {
    pub file: ProfileFile,
    /// Whether it is a workspace's own.
    pub own: bool,
    /// What it amends, where it does not stand alone.
    pub amends: Option<Amends>,
}

/// The profile that another one amends.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Amends {
    pub id: String,
    pub title: String,
    pub edition: String,
    /// Rows that were taken out, each with its reason.
    pub removed: Vec<Removed>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Removed {
    pub table: rows::Table,
    /// The key of the row as its author writes it.
    pub key: String,
    pub reason: String,
}

impl Profile {
    /// The profile that is embedded in the program, decoded once.
    pub fn built_in() -> Arc<Self> {
        static PROFILE: OnceLock<Arc<Profile>> = OnceLock::new();
        #[allow(clippy::expect_used)]
        // The bytes were written by build.rs with these same types; no input
        // reaches them, and a test decodes them.
        PROFILE
            .get_or_init(|| {
                let bytes = include_bytes!(concat!(env!("OUT_DIR"), "/profile.postcard"));
                let file = postcard::from_bytes(bytes).expect("the embedded profile decodes");
                Arc::new(Self { file, own: false, amends: None })
            })
            .clone()
    }

    /// A profile of a workspace: one that amends the built-in one, or one
    /// that replaces it. `None` where an error was told.
    pub fn read(source: &Source, sink: &mut Sink) -> Option<Self> {
        let mut own = Sink::new();
        let profile = Self::parse(source, &mut own);
        if let Some(profile) = &profile {
            complete::check(profile, &source.text, &mut own);
        }
        let sound = !own.has_errors();
        for message in own.finish() {
            sink.push(message);
        }
        profile.filter(|_| sound)
    }

    fn parse(source: &Source, sink: &mut Sink) -> Option<Self> {
        let table = match DeTable::parse(&source.text) {
            Ok(table) => table.into_inner(),
            Err(error) => {
                let place = error.span().map_or(Span::default(), |span| Span::new(span.start, span.end));
                let text = error.message().lines().next().unwrap_or_default().to_lowercase();
                sink.push(
                    Diagnostic::new(Code::WorkspaceProfileError, place, format!("this is not TOML: {text}"))
                        .help("a line is written like this: `status = \"checked-official\"`"),
                );
                return None;
            }
        };
        let Some(extends) = table.get("extends") else {
            return match toml::from_str::<ProfileFile>(&source.text) {
                Ok(file) => Some(Self { file, own: true, amends: None }),
                Err(error) => {
                    let message = fault::message(&error, Span::default(), "profile");
                    let amending = table.get("profile").is_some() && error.message().starts_with("missing field");
                    sink.push(if amending {
                        message.help(
                            "fill the row in; or begin with `extends = \"default\"` to amend the built-in profile",
                        )
                    } else {
                        message
                    });
                    None
                }
            };
        };
        let word = extends.get_ref().as_str().unwrap_or_default();
        if word != BASE {
            let place = amend::span(extends);
            let message = Diagnostic::new(
                Code::WorkspaceProfileError,
                place,
                format!("there is no profile {} to amend", quote(word)),
            );
            sink.push(match did_you_mean(word, [BASE]) {
                Some(near) => message.help(format!("did you mean `{near}`?")).fix(place, format!("\"{near}\"")),
                None => message.help("write `extends = \"default\"`, the profile that is built in"),
            });
            return None;
        }
        let mut file = Self::built_in().file.clone();
        let amends = amend::amend(&table, &mut file, sink)?;
        Some(Self { file, own: true, amends: Some(amends) })
    }

    pub fn bands(&self) -> &[data::AgeBand] {
        &self.file.band
    }

    pub fn band_index(&self, key: &str) -> Option<usize> {
        self.file.band.iter().position(|band| band.key == key)
    }

    pub fn nutrient(&self, tag: &str) -> Option<&data::Nutrient> {
        self.file.nutrient.iter().find(|nutrient| nutrient.tag == tag)
    }

    /// The chosen intake of a band, per day, in the profile's unit.
    pub fn intake(&self, tag: &str, band: &str) -> Option<&data::Intake> {
        self.nutrient(tag)?.intake.iter().find(|intake| intake.bands.iter().any(|key| key == band))
    }

    /// The least energy of a gram of food for a band, kcal.
    pub fn density_minimum(&self, band: &str) -> Option<&data::EnergyDensityMinimum> {
        self.file.energy_density.minimum.iter().find(|minimum| minimum.band == band)
    }

    pub fn hazard(&self, id: &str) -> Option<&data::Hazard> {
        self.file.hazard.iter().find(|hazard| hazard.id == id)
    }

    /// How easily prose in a language must read.
    pub fn reading(&self, language: &str) -> Option<&data::Reading> {
        let base = language.split('-').next().unwrap_or(language);
        self.file.reading.iter().find(|row| row.language.eq_ignore_ascii_case(base))
    }

    /// Upper limit of an intake at an age, with its row.
    pub fn upper_limit(&self, id: NutrientId, months: u16) -> Option<&data::UpperLimit> {
        let tag = id.get().tag;
        self.file
            .upper_limit
            .iter()
            .find(|limit| limit.tag == tag && (limit.from_months..=limit.to_months).contains(&months))
    }

    /// Rows that differ from those of another profile: the new row with the
    /// one it takes the place of.
    pub fn differences(&self, other: &Profile) -> Vec<(Option<rows::Row>, Option<rows::Row>)> {
        let (own, base) = (rows::rows(&self.file), rows::rows(&other.file));
        let same = |a: &rows::Row, b: &rows::Row| a.table == b.table && a.key == b.key;
        let mut found = Vec::new();
        for row in &own {
            let old = base.iter().find(|old| same(row, old));
            if old != Some(row) {
                found.push((Some(row.clone()), old.cloned()));
            }
        }
        for old in &base {
            if !own.iter().any(|row| same(row, old)) {
                found.push((None, Some(old.clone())));
            }
        }
        found
    }
}
