//! Where a claim stands: value against threshold, band by band.

use crate::ast::ClaimKind;
use crate::compute::{Computed, Portion};
use crate::reference::Reference;
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::{AgeBand, ClaimLimit, ClaimShare, Intake, LimitWord, Scope, Status, UpperLimit};

/// What a claim is about.
#[derive(Debug, Clone, Copy)]
pub struct About<'r> {
    pub kind: ClaimKind,
    pub id: NutrientId,
    /// Canonical English name.
    pub name: &'r str,
    /// For "low in" and "free of".
    pub limit: Option<&'r ClaimLimit>,
}

/// One band of "source of" or "rich in", or 100 g of a limit.
#[derive(Debug, Clone, Copy)]
pub struct Standing<'r> {
    /// `None` for a limit, which is held against 100 g.
    pub band: Option<&'r AgeBand>,
    /// Grams the value is of.
    pub grams: Option<f64>,
    /// Amount in the portion, or in 100 g before heat for a limit.
    pub value: Option<f64>,
    /// Every ingredient's value is known; else `value` is a lower bound.
    pub complete: bool,
    pub intake: Option<&'r Intake>,
    /// Least share of the intake, as a fraction of 1.
    pub share: f64,
    /// What the value is held against.
    pub threshold: Option<f64>,
}

impl Standing<'_> {
    pub fn holds(&self) -> bool {
        let (Some(value), Some(threshold)) = (self.value, self.threshold) else { return false };
        match self.band {
            // A limit may not rest on an incomplete figure.
            None => self.complete && value <= threshold,
            Some(_) => value >= threshold,
        }
    }

    /// How much is missing, or too much; `None` where it cannot be said.
    pub fn gap(&self) -> Option<f64> {
        let (value, threshold) = (self.value?, self.threshold?);
        Some(if self.band.is_some() { threshold - value } else { value - threshold }.max(0.0))
    }
}

/// The row that says which share of the intake "source of" asks for.
pub fn share_row(reference: &Reference, id: NutrientId) -> Option<&ClaimShare> {
    let rows = &reference.profile.file.claims.source_of;
    rows.iter()
        .find(|row| row.tag.as_deref() == Some(id.get().tag))
        .or_else(|| rows.iter().find(|row| row.tag.is_none()))
}

/// The share of the intake that the words ask for.
pub fn share(reference: &Reference, kind: ClaimKind, id: NutrientId) -> f64 {
    // A profile without a row: the share of Codex CXG 23-1997 per serving.
    const USUAL: f64 = 0.15;
    let share = share_row(reference, id).map_or(USUAL, |row| row.value);
    match kind {
        ClaimKind::RichIn => share * reference.profile.file.claims.rich_in_factor.value,
        _ => share,
    }
}

/// Every band's standing, or the one of a limit.
pub fn standings<'r>(reference: &'r Reference, about: &About<'r>, computed: &Computed) -> Vec<Standing<'r>> {
    let nutrition = &computed.nutrition;
    let id = about.id;
    let complete = nutrition.complete(id);
    if let Some(limit) = about.limit {
        let most = (nutrition.cooked_g > 0.0).then(|| nutrition.figure(id).before_heat * 100.0 / nutrition.cooked_g);
        return vec![Standing {
            band: None,
            grams: Some(100.0),
            value: most,
            complete,
            intake: None,
            share: 1.0,
            threshold: limit.max_per_100_g,
        }];
    }
    let share = share(reference, about.kind, id);
    banded(reference, computed)
        .map(|(portion, band)| {
            let intake = reference.profile.intake(id.get().tag, &band.key).filter(|intake| intake.value.is_some());
            Standing {
                band: Some(band),
                grams: portion.grams,
                value: portion.grams.map(|grams| nutrition.in_grams(id, grams).unwrap_or(0.0)),
                complete,
                intake,
                share,
                threshold: intake.and_then(|intake| intake.value).map(|need| need * share),
            }
        })
        .collect()
}

fn banded<'r, 'c>(
    reference: &'r Reference,
    computed: &'c Computed,
) -> impl Iterator<Item = (&'c Portion, &'r AgeBand)> + use<'r, 'c> {
    computed
        .portions
        .iter()
        .filter_map(|portion| reference.profile.bands().get(portion.band).map(|band| (portion, band)))
}

/// A portion that passes the upper limit of what is claimed.
#[derive(Debug, Clone, Copy)]
pub struct Passed<'r> {
    pub band: &'r AgeBand,
    /// Component that the limit counts.
    pub id: NutrientId,
    /// Amount in the portion, before heat took its share.
    pub amount: f64,
    pub limit: &'r UpperLimit,
}

/// The first portion that passes an upper limit of what is claimed. Limits of
/// what is swallowed as a supplement do not count food; retinol is held against
/// preformed retinol alone, and folate against the folic acid that was added.
pub fn passed<'r>(reference: &'r Reference, id: NutrientId, computed: &Computed) -> Option<Passed<'r>> {
    let counted = match id {
        nutrient::VITA_RAE => nutrient::RETOL,
        nutrient::FOLDFE => nutrient::FOLAC,
        other => other,
    };
    banded(reference, computed).find_map(|(portion, band)| {
        let limit = reference.profile.upper_limit(counted, band.from_months)?;
        let counts = match limit.scope {
            Scope::All | Scope::PreformedRetinol => true,
            // Folic acid is never in food by nature.
            Scope::Added => counted == nutrient::FOLAC,
            Scope::Supplements => false,
        };
        let amount = computed.nutrition.most_in_grams(counted, portion.grams?)?;
        // A level that is only remembered is no ground for a verdict.
        let counts = counts && limit.status != Status::Memory;
        (counts && amount > limit.value).then_some(Passed { band, id: counted, amount, limit })
    })
}

/// Everything that may be claimed by the profile, the strongest word first.
pub fn claimable(reference: &Reference) -> Vec<About<'_>> {
    let claims = &reference.profile.file.claims;
    let mut all = Vec::new();
    for entry in &claims.claimable {
        let (Some(id), Some(name)) = (NutrientId::from_tag(&entry.tag), entry.en.first()) else { continue };
        for kind in [ClaimKind::RichIn, ClaimKind::SourceOf] {
            all.push(About { kind, id, name, limit: None });
        }
    }
    for (word, kind) in [(LimitWord::Free, ClaimKind::FreeOf), (LimitWord::Low, ClaimKind::LowIn)] {
        for limit in claims.limit.iter().filter(|limit| limit.word == word && limit.fit_for_age) {
            let (Some(id), Some(name)) = (NutrientId::from_tag(&limit.tag), limit.en.first()) else { continue };
            all.push(About { kind, id, name, limit: Some(limit) });
        }
    }
    all
}
