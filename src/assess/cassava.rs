//! `safety/cassava-not-processed`: cassava root and leaf hold cyanide until
//! they are peeled and cooked; bitter roots also need days of soaking or
//! fermenting first.

use super::fineness::{fineness, said};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::FoodClass;
use crate::reference::process::Texture;
use crate::resolve::Journey;

/// Minutes that cook a peeled piece, or a leaf, through; and the same once it
/// is grated or pounded. Common practice, no source.
const PIECE: f64 = 15.0;
const GRATED: f64 = 5.0;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    if case.method_torn() {
        return;
    }
    let days = case.reference.profile.hazard("cassava-soak").and_then(|row| row.value).unwrap_or(3.0);
    for (_, ingredient, journey) in case.served() {
        let name = &ingredient.name;
        for choice in &ingredient.options {
            let Some(food) = choice.food.as_ref().filter(|food| food.has_hazard("raw-cassava")) else {
                continue;
            };
            let leaf = food.class == FoodClass::Greens;
            let (minutes, open) = journey.cooking();
            let least = if fineness(choice, journey) >= Texture::Mashed && !leaf { GRATED } else { PIECE };
            let (what, help) = if food.has_hazard("bitter-cassava") && !long_soaked(journey, days) {
                (
                    "is bitter and not soaked or fermented for days",
                    format!(
                        "`step soak {name} for {days} days, unattended` and `step drain {name}`; or take cassava flour"
                    ),
                )
            } else if !leaf && !said(choice, journey, &["peeled"], &["peel"]) {
                ("is not peeled: cyanide sits below the skin", format!("add `step peel {name}` before it is cooked"))
            } else if !open && minutes < least {
                (
                    "holds cyanide and is not cooked through",
                    format!("write `step boil {name} for 25 to 30 min` and throw the water away"),
                )
            } else {
                continue;
            };
            sink.push(
                Diagnostic::new(
                    Code::SafetyCassavaNotProcessed,
                    choice.option.span,
                    format!("{} {what}", called(choice)),
                )
                .help(help),
            );
        }
    }
}

/// Soaked with the water thrown away, or fermented, for so many days in all.
pub(super) fn long_soaked(journey: &Journey, days: f64) -> bool {
    let wanted = days * 24.0 * 60.0;
    let soaked: f64 = journey.soaks.iter().filter(|(_, poured)| *poured).map(|(minutes, _)| minutes).sum();
    let fermented: f64 = journey
        .acts
        .iter()
        .filter(|act| act.process.word == "ferment")
        .map(|act| act.minutes.map_or(0.0, |(low, _)| low))
        .sum();
    soaked + fermented >= wanted
}
