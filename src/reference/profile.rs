//! The guidance profile: everything that an authority decides.

pub mod data;

use std::sync::{Arc, OnceLock};

pub use data::ProfileFile;

use crate::reference::nutrient::NutrientId;

/// A guidance profile ready for use.
#[derive(Debug, Clone)]
pub struct Profile {
    pub file: ProfileFile,
    /// Whether a workspace replaced the built-in one.
    pub own: bool,
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
                Arc::new(Self { file, own: false })
            })
            .clone()
    }

    /// A profile of a workspace.
    ///
    /// # Errors
    /// The TOML fault with its place.
    pub fn from_toml(text: &str) -> Result<Self, toml::de::Error> {
        Ok(Self { file: toml::from_str(text)?, own: true })
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

    /// Upper limit of an intake at an age, with its row.
    pub fn upper_limit(&self, id: NutrientId, months: u16) -> Option<&data::UpperLimit> {
        let tag = id.get().tag;
        self.file
            .upper_limit
            .iter()
            .find(|limit| limit.tag == tag && (limit.from_months..=limit.to_months).contains(&months))
    }
}
