//! The back of the card: what a portion gives, and where the figures come
//! from.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::{Locale, Maker, words};
use crate::ast::{ClaimKind, Header};
use crate::diagnostic::Changed;
use crate::reference::Reference;
use crate::reference::larder::FoodGroup;
use crate::reference::measure::{HouseholdMeasure, volume};
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::{Aim, Group, Nutrient};
use crate::resolve::food::Figures;

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Back {
    pub title: String,
    pub explain: String,
    pub energy_label: String,
    pub bands: Vec<Band>,
    pub groups: Vec<PanelGroup>,
    pub energy: Vec<Energy>,
    pub food_groups: FoodGroups,
    pub allergens: Allergens,
    pub claims: Claims,
    pub texture: Textures,
    pub figures: Lines,
    pub standing: Vec<String>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Band {
    pub label: String,
    pub portion: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PanelGroup {
    pub title: String,
    pub rows: Vec<Row>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Row {
    /// INFOODS tagname.
    pub tag: String,
    pub name: String,
    /// One for each of the bands.
    pub cells: Vec<Cell>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Cell {
    /// Portion over need, 1 for all of it; null where it cannot be said.
    pub share: Option<f64>,
    /// The share in print, or why there is none.
    pub share_text: String,
    pub amount: String,
    /// The words "at least" where the figure is incomplete.
    pub at_least: Option<String>,
    /// The reference is the most that should be eaten in a day.
    pub limit: bool,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Energy {
    /// With "at least" where a figure is incomplete.
    pub kcal: String,
    pub kj: String,
    pub density: String,
    pub share: Option<f64>,
    pub share_text: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FoodGroups {
    pub title: String,
    pub items: Vec<GroupMark>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct GroupMark {
    pub name: String,
    /// It is in the dish.
    pub on: bool,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Allergens {
    pub title: String,
    pub items: Vec<String>,
    /// Said where there are none.
    pub none: Option<String>,
    /// What only the family's share holds, after the child's is set aside.
    pub family: Vec<String>,
    pub family_label: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Claims {
    pub title: String,
    pub items: Vec<ClaimText>,
    pub note: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ClaimText {
    pub text: String,
    pub basis: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Textures {
    pub title: String,
    pub items: Vec<TextureText>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TextureText {
    pub age: String,
    pub text: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Lines {
    pub title: String,
    pub lines: Vec<String>,
}

/// Food groups of the indicator, in its order.
pub const GROUPS: [FoodGroup; 8] = [
    FoodGroup::BreastMilk,
    FoodGroup::Grains,
    FoodGroup::Pulses,
    FoodGroup::Dairy,
    FoodGroup::Flesh,
    FoodGroup::Eggs,
    FoodGroup::VitaminA,
    FoodGroup::OtherPlants,
];

pub fn back(maker: &Maker<'_>) -> Back {
    let locale = maker.locale;
    let dish = maker.dish;
    Back {
        title: locale.word("back-title"),
        explain: format!("{} {}", locale.word("back-explain"), locale.word("energy-explain")),
        energy_label: locale.word("energy-label"),
        bands: dish
            .computed
            .portions
            .iter()
            .map(|portion| Band {
                label: maker.band_label(portion.band),
                portion: {
                    let words = maker.portion_words(portion);
                    match portion.grams {
                        Some(grams) => format!("{words}, {}", locale.grams(grams)),
                        None => words,
                    }
                },
            })
            .collect(),
        groups: groups(maker),
        energy: energy(maker),
        food_groups: FoodGroups {
            title: locale.word("food-groups-title"),
            items: GROUPS
                .iter()
                .map(|group| GroupMark {
                    name: locale.word(&format!("food-group-{}", group.word())),
                    on: dish.report.groups.contains(group),
                })
                .collect(),
        },
        allergens: Allergens {
            title: locale.word("allergens-title"),
            items: dish.report.allergens.iter().map(|id| locale.word(&format!("allergen-{id}"))).collect(),
            none: dish.report.allergens.is_empty().then(|| locale.word("allergens-none")),
            family: dish.report.family_allergens.iter().map(|id| locale.word(&format!("allergen-{id}"))).collect(),
            family_label: locale.word("allergens-family"),
        },
        claims: claims(maker),
        texture: textures(maker),
        figures: figures(maker),
        standing: uptake(maker).into_iter().chain([locale.word("standing-figures")]).collect(),
    }
}

/// One line on what may help or hinder the uptake of iron and zinc; what
/// hinders goes first.
fn uptake(maker: &Maker<'_>) -> Option<String> {
    let uptake = &maker.dish.report.absorption;
    if let Some(what) = uptake.may_hinder.first() {
        return Some(maker.locale.word(&format!("absorption-hinders-{}", what.word())));
    }
    uptake.may_help.first().map(|what| maker.locale.word(&format!("absorption-helps-{}", what.word())))
}

fn groups(maker: &Maker<'_>) -> Vec<PanelGroup> {
    grouped(maker.reference, maker.locale, &|nutrient| row(maker, nutrient))
}

/// The rows of the panel under their titles, in the order of print.
pub fn grouped(reference: &Reference, locale: &Locale, row: &dyn Fn(&Nutrient) -> Option<Row>) -> Vec<PanelGroup> {
    const ORDER: [Group; 7] =
        [Group::EnergyGrowth, Group::Blood, Group::EyesDefence, Group::Bones, Group::Nerves, Group::Other, Group::Salt];
    let group = |group: &Group| {
        let nutrients = reference.profile.file.nutrient.iter();
        let rows: Vec<Row> =
            nutrients.filter(|nutrient| nutrient.group == *group && nutrient.on_card).filter_map(row).collect();
        (!rows.is_empty()).then(|| PanelGroup { title: locale.word(group_key(*group)), rows })
    };
    ORDER.iter().filter_map(group).collect()
}

/// One cell: a value, whether it is complete, and what it is held against.
pub fn cell(locale: &Locale, nutrient: &Nutrient, value: Option<(f64, bool)>, need: Option<f64>) -> Cell {
    let limit = nutrient.aim == Aim::AtMost;
    // A limit may not rest on an incomplete figure: it is not shown.
    let Some((value, complete)) = value.filter(|(_, complete)| *complete || !limit) else {
        return Cell { share: None, share_text: locale.word("unknown"), amount: String::new(), at_least: None, limit };
    };
    let need = need.filter(|need| *need > 0.0);
    Cell {
        share: need.map(|need| value / need),
        share_text: need
            .map(|need| locale.tied("percent", locale.decimal(value / need * 100.0, 0)))
            .unwrap_or_else(|| locale.word("no-need-set")),
        amount: format!("{}\u{A0}{}", locale.fixed(value, decimals(value, nutrient.step)), nutrient.unit),
        at_least: (!complete).then(|| locale.word("at-least")),
        limit,
    }
}

pub fn group_key(group: Group) -> &'static str {
    match group {
        Group::EnergyGrowth => "group-energy-growth",
        Group::Blood => "group-blood",
        Group::EyesDefence => "group-eyes-defence",
        Group::Bones => "group-bones",
        Group::Nerves => "group-nerves",
        Group::Salt => "group-salt",
        Group::Other => "group-other",
    }
}

fn row(maker: &Maker<'_>, nutrient: &Nutrient) -> Option<Row> {
    let id = NutrientId::from_tag(&nutrient.tag)?;
    let locale = maker.locale;
    let nutrition = &maker.dish.computed.nutrition;
    let limit = nutrient.aim == Aim::AtMost;
    let complete = nutrition.complete(id);
    let cells = maker
        .dish
        .computed
        .portions
        .iter()
        .map(|portion| {
            let band = maker.reference.profile.bands().get(portion.band);
            let value = portion.grams.and_then(|grams| {
                if limit { nutrition.most_in_grams(id, grams) } else { nutrition.in_grams(id, grams) }
            });
            let need = band
                .and_then(|band| maker.reference.profile.intake(&nutrient.tag, &band.key))
                .and_then(|intake| intake.value);
            cell(locale, nutrient, value.map(|value| (value, complete)), need)
        })
        .collect();
    Some(Row { tag: nutrient.tag.clone(), name: locale.word(&format!("nutrient-{}", nutrient.tag)), cells })
}

/// The profile's decimals; one more for amounts that would print as zero.
pub fn decimals(value: f64, step: u8) -> u8 {
    let shown = crate::quantity::round_half_even(value, step);
    if shown == 0.0 && value > 0.0 { step.saturating_add(1) } else { step }
}

fn energy(maker: &Maker<'_>) -> Vec<Energy> {
    let locale = maker.locale;
    let nutrition = &maker.dish.computed.nutrition;
    let breastfed = maker.dish.resolved.ast.header.ages.as_ref().and_then(|ages| ages.value.breastfed).unwrap_or(true);
    let bound = |id: NutrientId, text: String| {
        if nutrition.complete(id) { text } else { format!("{} {text}", locale.word("at-least")) }
    };
    maker
        .dish
        .computed
        .portions
        .iter()
        .map(|portion| {
            let day = maker
                .reference
                .profile
                .bands()
                .get(portion.band)
                .map(|band| if breastfed { band.energy_breastfed.value } else { band.energy_not_breastfed.value });
            let kcal = portion.grams.and_then(|grams| nutrition.in_grams(nutrient::ENERC_KCAL, grams));
            let share = kcal.zip(day).map(|(kcal, day)| kcal / day);
            let density = nutrition.per_100g(nutrient::ENERC_KCAL).map(|kcal| kcal / 100.0);
            Energy {
                kcal: kcal
                    .map(|kcal| bound(nutrient::ENERC_KCAL, locale.tied("kcal", locale.decimal(kcal, 0))))
                    .unwrap_or_else(|| locale.word("unknown")),
                // Two units for one figure confuse a reader; kJ is in the data.
                kj: String::new(),
                density: density
                    .map(|density| locale.with("energy-density", &[("n", locale.fixed(density, 1))]))
                    .unwrap_or_default(),
                share,
                share_text: share
                    .map(|share| locale.tied("percent", locale.decimal(share * 100.0, 0)))
                    .unwrap_or_default(),
            }
        })
        .collect()
}

fn claims(maker: &Maker<'_>) -> Claims {
    let locale = maker.locale;
    let items = maker
        .dish
        .report
        .proofs
        .iter()
        .map(|proof| {
            let key = match proof.kind {
                ClaimKind::SourceOf => "claim-source-of",
                ClaimKind::RichIn => "claim-rich-in",
                ClaimKind::LowIn => "claim-low-in",
                ClaimKind::FreeOf => "claim-free-of",
            };
            let name = locale.word(&format!("nutrient-{}", proof.tag));
            let name = if maker.is_own() && locale.tag() == "en" { proof.subject.clone() } else { words::lower(&name) };
            let unit = NutrientId::from_tag(&proof.tag).map_or("", |id| id.get().unit);
            // As the bars above print it.
            let step = maker.reference.profile.nutrient(&proof.tag).map_or(1, |nutrient| nutrient.step);
            let show = |value: f64| format!("{}\u{A0}{unit}", locale.fixed(value, decimals(value, step)));
            let basis: Vec<String> = proof
                .bands
                .iter()
                .map(|band| {
                    let values = [("value", show(band.value)), ("threshold", show(band.threshold))];
                    if band.per_100g {
                        return locale.with("claim-basis-100g", &values);
                    }
                    let ages = maker
                        .reference
                        .profile
                        .band_index(&band.band)
                        .map(|at| maker.band_label(at))
                        .unwrap_or_default();
                    let [value, threshold] = values;
                    // Each stands as a sentence of its own.
                    words::capital(&locale.with(
                        if band.at_least { "claim-basis-bound" } else { "claim-basis" },
                        &[("ages", ages), value, threshold],
                    ))
                })
                .collect();
            ClaimText {
                text: locale.with(key, &[("what", name), ("tag", proof.tag.clone())]),
                basis: basis.join(&format!("{} ", locale.word("stop"))),
            }
        })
        .collect::<Vec<_>>();
    Claims {
        title: locale.word("claims-title"),
        note: if items.is_empty() { String::new() } else { locale.word("claims-note") },
        items,
    }
}

fn textures(maker: &Maker<'_>) -> Textures {
    Textures {
        title: maker.locale.word("texture-title"),
        items: maker
            .dish
            .resolved
            .bands
            .iter()
            .filter_map(|at| maker.reference.profile.bands().get(*at).map(|band| (*at, band)))
            .map(|(at, band)| {
                let key = format!("texture-{}", band.texture.key);
                TextureText {
                    // Each begins a sentence of its own.
                    age: words::capital(&maker.band_label(at)),
                    text: if maker.locale.has(&key) { maker.locale.word(&key) } else { band.texture.en.clone() },
                }
            })
            .collect(),
    }
}

fn figures(maker: &Maker<'_>) -> Lines {
    let locale = maker.locale;
    let dish = maker.dish;
    let mut lines = Vec::new();
    let mut usda = false;
    let mut tables: BTreeSet<String> = BTreeSet::new();
    let mut borrowed = Vec::new();
    for ingredient in &dish.resolved.ingredients {
        for choice in &ingredient.options {
            let Some(food) = &choice.food else { continue };
            match &food.figures {
                Figures::BuiltIn(_) => usda = true,
                Figures::Table(table, _) => {
                    tables.insert(table.stem.clone());
                }
                Figures::Dish(other) => {
                    lines.push(locale.with("figures-dish", &[("dish", other.title_in(locale.tag()).to_owned())]))
                }
            }
            usda |= food.fill().is_some();
            if food.larder.as_ref().is_some_and(|row| row.borrowed.is_some()) {
                let name = food.larder.as_ref().map(|row| locale.food(row)).unwrap_or_default();
                let name = format!("{name} ({})", food.row_id());
                if !borrowed.contains(&name) {
                    borrowed.push(name);
                }
            }
        }
    }
    if usda {
        lines.push(locale.word("figures-usda"));
    }
    for table in tables {
        lines.push(locale.with("figures-table", &[("table", table)]));
    }
    if !borrowed.is_empty() {
        lines.push(locale.with("figures-borrowed", &[("foods", locale.in_a_row(&borrowed))]));
    }
    if dish.computed.nutrition.contributions.iter().any(|contribution| !contribution.codes.is_empty()) {
        lines.push(locale.word("figures-retention"));
    }
    let cooked = &dish.computed.cooked;
    if cooked.estimated {
        let grams = locale.grams(cooked.cooked_g);
        lines.push(locale.with("figures-cooked-estimated", &[("grams", grams)]));
    } else if dish.resolved.cooked().is_some() {
        lines.push(locale.word("figures-cooked-weighed"));
    }
    let weighed_by_estimate = dish
        .resolved
        .ingredients
        .iter()
        .filter_map(|ingredient| ingredient.first())
        .any(|choice| choice.weight.as_ref().is_some_and(|weight| weight.estimated));
    if weighed_by_estimate {
        lines.push(locale.word("figures-estimated"));
    }
    if dish.computed.portions.iter().any(|portion| portion.assumed_density) {
        lines.push(locale.word("figures-volume-assumed"));
    }
    let header = &dish.resolved.ast.header;
    lines.extend(rests_on(maker.reference, locale, header, maker.changed, "figures-source"));
    Lines { title: locale.word("figures-title"), lines }
}

/// What the figures of any card rest on besides foods: measures, guidance,
/// rules that were changed, who answers for it, the program.
pub fn rests_on(
    reference: &Reference,
    locale: &Locale,
    header: &Header,
    changed: &[Changed],
    source: &str,
) -> Vec<String> {
    let mut lines = Vec::new();
    lines.push(measures(reference, locale));
    let profile = &reference.profile.file.profile;
    let named = [("title", locale.profile(&profile.id, &profile.title)), ("edition", profile.edition.clone())];
    lines.push(match &reference.profile.amends {
        None => locale.with("figures-profile", &named),
        Some(base) => {
            let [title, edition] = named;
            let base = [("base", locale.profile(&base.id, &base.title)), ("base_edition", base.edition.clone())];
            let [base, base_edition] = base;
            locale.with("figures-profile-amended", &[title, edition, base, base_edition])
        }
    });
    // Who holds the card must know what was not held against it.
    for changed in changed.iter().filter(|changed| changed.lenient) {
        let key = if changed.to == "off" { "figures-switched-off" } else { "figures-lowered" };
        lines.push(locale.with(key, &[("rule", changed.code.to_owned()), ("reason", changed.reason.clone())]));
    }
    if let Some(own) = &header.source {
        lines.push(locale.with(source, &[("source", own.printed(locale.tag()).to_owned())]));
    }
    if let Some(reviewed) = &header.reviewed {
        let date = reviewed.day.to_string();
        lines.push(match &reviewed.by {
            Some(by) => locale.with("figures-reviewed", &[("date", date), ("by", by.printed(locale.tag()).to_owned())]),
            None => locale.with("figures-reviewed-date", &[("date", date)]),
        });
    }
    lines.push(locale.with("figures-program", &[("version", env!("CARGO_PKG_VERSION").to_owned())]));
    lines
}

/// What a cup, a tablespoon and a teaspoon hold; no line ends at a sign of
/// equality or before the unit.
pub fn measures(reference: &Reference, locale: &Locale) -> String {
    let [cup, tbsp, tsp] = standard_volumes(reference, locale);
    let mut line =
        locale.with("figures-measures", &[("cup", cup.clone()), ("tbsp", tbsp.clone()), ("tsp", tsp.clone())]);
    line = line.replace(" = ", "\u{A0}=\u{A0}");
    for volume in [cup, tbsp, tsp] {
        line = line.replace(&format!("{volume} "), &format!("{volume}\u{A0}"));
    }
    line
}

/// Millilitres of cup, tablespoon and teaspoon.
pub fn standard_volumes(reference: &Reference, locale: &Locale) -> [String; 3] {
    [HouseholdMeasure::Cup, HouseholdMeasure::Tablespoon, HouseholdMeasure::Teaspoon].map(|measure| {
        volume(reference.standard, measure)
            .map(|volume| locale.decimal(volume.ml.0 as f64 / volume.ml.1 as f64, 1))
            .unwrap_or_default()
    })
}
