//! Where one profile is more lenient than another on a figure of safety.

use super::data::{Aim, Hazard, ProfileFile};
use super::rows::Table;

/// A figure that lets more through than the one it is compared with.
#[derive(Debug, Clone, PartialEq)]
pub struct Lenient {
    pub table: Table,
    /// The key of the row, as an author writes it.
    pub key: String,
    pub own: String,
    pub other: String,
}

/// Every safety figure of `own` that is more lenient than that of `other`,
/// in the order of `other`.
pub fn lenient(own: &ProfileFile, other: &ProfileFile) -> Vec<Lenient> {
    let mut found = Vec::new();
    hazards(own, other, &mut found);
    limits(own, other, &mut found);
    densities(own, other, &mut found);
    for theirs in other.allergen.iter().filter(|allergen| allergen.print) {
        if !own.allergen.iter().any(|ours| ours.id == theirs.id && ours.print) {
            found.push(Lenient {
                table: Table::Allergens,
                key: theirs.id.clone(),
                own: "not printed".to_owned(),
                other: "printed".to_owned(),
            });
        }
    }
    for theirs in &other.locked {
        let ours = own.locked.iter().find(|row| row.code == theirs.code).map_or(0, |row| row.below_months);
        if ours < theirs.below_months {
            found.push(Lenient {
                table: Table::Locked,
                key: theirs.code.clone(),
                own: if ours == 0 { "never locked".to_owned() } else { format!("below {ours} months") },
                other: format!("below {} months", theirs.below_months),
            });
        }
    }
    found
}

fn hazards(own: &ProfileFile, other: &ProfileFile, found: &mut Vec<Lenient>) {
    for theirs in &other.hazard {
        let Some(ours) = own.hazard.iter().find(|row| row.id == theirs.id) else {
            found.push(Lenient {
                table: Table::Hazards,
                key: theirs.id.clone(),
                own: "no row".to_owned(),
                other: words(theirs),
            });
            continue;
        };
        let value = match (ours.value, theirs.value) {
            (Some(a), Some(b)) if theirs.at_least => a < b,
            (Some(a), Some(b)) => a > b,
            // No value is the rule that there be none.
            (Some(_), None) => true,
            (None, _) => false,
        };
        let young = ours.age_from_months.unwrap_or(0) > theirs.age_from_months.unwrap_or(0);
        let old = ours.age_under_months.unwrap_or(u16::MAX) < theirs.age_under_months.unwrap_or(u16::MAX);
        if value || young || old {
            found.push(Lenient {
                table: Table::Hazards,
                key: theirs.id.clone(),
                // Only what differs: the message is short.
                own: if value && !young && !old { amount(ours) } else { words(ours) },
                other: if value && !young && !old { amount(theirs) } else { words(theirs) },
            });
        }
    }
}

fn amount(hazard: &Hazard) -> String {
    match hazard.value {
        Some(value) => format!("{value} {}", hazard.unit.as_deref().unwrap_or_default()).trim_end().to_owned(),
        None => "none at all".to_owned(),
    }
}

fn words(hazard: &Hazard) -> String {
    let mut parts = Vec::new();
    if let Some(value) = hazard.value {
        parts.push(format!("{value} {}", hazard.unit.as_deref().unwrap_or_default()).trim_end().to_owned());
    }
    if let Some(from) = hazard.age_from_months {
        parts.push(format!("from {from} months"));
    }
    if let Some(under) = hazard.age_under_months {
        parts.push(format!("under {under} months"));
    }
    if parts.is_empty() { "at every age".to_owned() } else { parts.join(" ") }
}

fn limits(own: &ProfileFile, other: &ProfileFile, found: &mut Vec<Lenient>) {
    for theirs in &other.upper_limit {
        // Months of the other's row that ours leaves without a limit as low.
        let most = (theirs.from_months..=theirs.to_months)
            .filter(|months| other.band.iter().any(|band| (band.from_months..=band.to_months).contains(months)))
            .map(|months| {
                own.upper_limit
                    .iter()
                    .filter(|row| row.tag == theirs.tag && (row.from_months..=row.to_months).contains(&months))
                    .map(|row| row.value)
                    .fold(None, |least: Option<f64>, value| Some(least.map_or(value, |least| least.min(value))))
            })
            .try_fold(0.0_f64, |most, value| value.map(|value| most.max(value)));
        if most.is_none_or(|most| most > theirs.value) {
            found.push(Lenient {
                table: Table::Limits,
                key: format!("{} {}-{}", theirs.tag, theirs.from_months, theirs.to_months),
                own: most.map_or("no limit".to_owned(), |most| format!("{most} {}", theirs.unit)),
                other: format!("{} {}", theirs.value, theirs.unit),
            });
        }
    }
    for theirs in other.nutrient.iter().filter(|nutrient| nutrient.aim == Aim::AtMost) {
        for intake in &theirs.intake {
            for band in &intake.bands {
                let Some(value) = intake.value else { continue };
                let ours = own
                    .nutrient
                    .iter()
                    .filter(|nutrient| nutrient.tag == theirs.tag)
                    .flat_map(|nutrient| &nutrient.intake)
                    .find(|row| row.bands.contains(band))
                    .and_then(|row| row.value);
                if ours.is_none_or(|ours| ours > value) {
                    found.push(Lenient {
                        table: Table::Intakes,
                        key: format!("{} {band}", theirs.tag),
                        own: ours.map_or("none set".to_owned(), |ours| format!("{ours} {}", theirs.unit)),
                        other: format!("{value} {}", theirs.unit),
                    });
                }
            }
        }
    }
}

fn densities(own: &ProfileFile, other: &ProfileFile, found: &mut Vec<Lenient>) {
    for theirs in &other.energy_density.minimum {
        let ours = own.energy_density.minimum.iter().find(|row| row.band == theirs.band);
        if ours.is_none_or(|ours| ours.default_minimum < theirs.default_minimum) {
            found.push(Lenient {
                table: Table::EnergyDensity,
                key: format!("{} minimum", theirs.band),
                own: ours.map_or("no minimum".to_owned(), |ours| format!("{} kcal/g", ours.default_minimum)),
                other: format!("{} kcal/g", theirs.default_minimum),
            });
        }
    }
}
