//! `absorption/high-phytate`: what may help or hinder the uptake of minerals in
//! one meal. Notes, never certain.

use super::{Case, Others};
use crate::compute::Computed;
use crate::compute::absorption::ratio;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::quantity::round_half_even;
use crate::reference::Reference;
use crate::reference::larder::FoodGroup;
use crate::reference::nutrient::{self, NutrientId};

/// What helps or hinders.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Matter {
    Flesh,
    VitaminC,
    Phytate,
    Tea,
}

impl Matter {
    /// The word used in data output and in the catalogues' keys.
    pub fn word(self) -> &'static str {
        match self {
            Self::Flesh => "flesh",
            Self::VitaminC => "vitamin-c",
            Self::Phytate => "phytate",
            Self::Tea => "tea",
        }
    }
}

/// Phytate against one mineral, of the first food of every line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Phytate {
    pub id: NutrientId,
    /// Moles for a mole.
    pub ratio: f64,
    pub at_least: bool,
    /// Above this the mineral may be taken up less.
    pub most: f64,
}

/// What is known of the uptake in a dish, of the first food of every line.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Uptake {
    pub phytate: Vec<Phytate>,
    /// Moles of vitamin C for a mole of iron.
    pub vitamin_c_iron: Option<f64>,
    pub may_help: Vec<Matter>,
    pub may_hinder: Vec<Matter>,
}

pub(super) fn check(case: &Case<'_>, others: &Others, sink: &mut Sink) -> Uptake {
    let mut uptake = Uptake::default();
    if tea(case) {
        uptake.may_hinder.push(Matter::Tea);
    }
    if !case.weights_known() {
        return uptake;
    }
    uptake.phytate = phytate(case.reference, case.computed);
    if let Some(worst) = too_much(&uptake.phytate) {
        uptake.may_hinder.push(Matter::Phytate);
        say(case, &worst, None, sink);
    } else {
        let other = case.dish.alternatives().into_iter().find_map(|(at, option)| {
            let computed = others.get(case, at, option);
            too_much(&phytate(case.reference, &computed)).map(|worst| (worst, at, option))
        });
        if let Some((worst, at, option)) = other {
            say(case, &worst, Some((at, option)), sink);
        }
    }
    let nutrition = &case.computed.nutrition;
    let flesh = case.foods().any(|(ingredient, choice, _)| {
        ingredient.first().is_some_and(|first| std::ptr::eq(first, choice))
            && choice.weight.as_ref().is_some_and(|weight| weight.grams > 0.0)
            && choice.food.as_ref().is_some_and(|food| food.groups().contains(&FoodGroup::Flesh))
    });
    if flesh {
        uptake.may_help.push(Matter::Flesh);
    }
    let vitamin_c = ratio(nutrition, nutrient::VITC, nutrient::FE);
    uptake.vitamin_c_iron = vitamin_c.map(|ratio| ratio.value);
    let enough = case.reference.profile.file.absorption.vitamin_c_iron.as_ref();
    if vitamin_c.zip(enough).is_some_and(|(ratio, enough)| ratio.value >= enough.value) {
        uptake.may_help.push(Matter::VitaminC);
    }
    uptake
}

fn phytate(reference: &Reference, computed: &Computed) -> Vec<Phytate> {
    let rows = &reference.profile.file.absorption.phytate;
    rows.iter()
        .filter_map(|row| {
            let id = NutrientId::from_tag(&row.tag)?;
            let found = ratio(&computed.nutrition, nutrient::PHYTCPP, id)?;
            Some(Phytate { id, ratio: found.value, at_least: found.at_least, most: row.most.value })
        })
        .collect()
}

/// The ratio that passes its limit furthest.
fn too_much(all: &[Phytate]) -> Option<Phytate> {
    let over = |phytate: &Phytate| phytate.ratio / phytate.most;
    all.iter().filter(|phytate| over(phytate) > 1.0).max_by(|a, b| over(a).total_cmp(&over(b))).copied()
}

fn say(case: &Case<'_>, worst: &Phytate, other: Option<(usize, usize)>, sink: &mut Sink) {
    let choice = other.and_then(|(at, option)| case.dish.ingredients.get(at)?.options.get(option));
    let name = worst.id.get().name.to_lowercase();
    let digits = if worst.most < 1.0 { 2 } else { 1 };
    let bound = if worst.at_least { "at least " } else { "" };
    let message = Diagnostic::new(
        Code::AbsorptionHighPhytate,
        choice.map_or(case.title_span(), |choice| choice.option.span),
        format!(
            "phytate to {name} is {bound}{} to 1; above {} less {name} may be taken up",
            round_half_even(worst.ratio, digits),
            worst.most
        ),
    )
    .help("soaking, sprouting and fermenting take phytate away, which is not counted here; meat, fish and fruit rich in vitamin C may help");
    sink.push(message);
}

/// Tea or coffee that the child eats or drinks with the rest.
fn tea(case: &Case<'_>) -> bool {
    case.foods().any(|(_, choice, _)| choice.food.as_ref().is_some_and(|food| food.has_hazard("tea-coffee")))
}
