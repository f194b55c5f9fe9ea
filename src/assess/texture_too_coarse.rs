//! `age/texture-too-coarse`: how fine the method leaves the food, against what
//! a child of the youngest band can manage.

use super::Case;
use crate::diagnostic::{Code, Diagnostic, Sink, quote};
use crate::reference::larder::FoodClass;
use crate::reference::process::Texture;
use crate::reference::profile::data::AgeBand;

/// Below this share of the raw weight a coarse food is a seasoning.
const SEASONING: f64 = 0.02;

/// The coarsest texture a band manages.
pub fn required(band: &AgeBand) -> Texture {
    match band.texture.key.as_str() {
        "thick-mashed" => Texture::Mashed,
        "minced-finger" => Texture::Chopped,
        _ => Texture::Pieces,
    }
}

pub fn check(case: &Case<'_>, sink: &mut Sink) -> Option<Texture> {
    let all: f64 = case.computed.nutrition.raw_g;
    let mut coarsest: Option<(Texture, &crate::resolve::Ingredient)> = None;
    for (at, ingredient) in case.dish.ingredients.iter().enumerate() {
        let reaches = case.dish.flow.child.get(at).copied().unwrap_or(true);
        let used = case.dish.flow.used.get(at).copied().unwrap_or(false);
        let Some(journey) = case.dish.flow.journeys.get(at).filter(|_| reaches && used) else {
            continue;
        };
        if ingredient.first().is_none_or(|choice| choice.food.is_none()) {
            continue;
        }
        let grams = ingredient.first().and_then(|choice| choice.weight.as_ref()).map_or(0.0, |weight| weight.grams);
        if grams < all * SEASONING {
            continue;
        }
        let Some(texture) = journey.texture else {
            continue;
        };
        if coarsest.is_none_or(|(so_far, _)| texture < so_far) {
            coarsest = Some((texture, ingredient));
        }
    }
    let (texture, ingredient) = coarsest?;
    let no_steps = case.dish.ast.parts.iter().all(|part| part.steps.is_empty());
    if case.method_torn() || no_steps {
        return Some(texture);
    }
    let band = case.dish.bands.first().and_then(|at| case.reference.profile.bands().get(*at))?;
    if texture < required(band) {
        sink.push(
            Diagnostic::new(
                Code::AgeTextureTooCoarse,
                ingredient.span,
                format!("{} stays too coarse for a child of {} months", quote(&ingredient.name), band.key),
            )
            .help(match required(band) {
                Texture::Mashed => format!("mash or grind it: `step mash {}`", ingredient.name),
                Texture::Chopped if is_fish(ingredient) => {
                    format!("flake it and feel for bones: `step flake {}`", ingredient.name)
                }
                Texture::Chopped => {
                    format!("chop it finely or mash it: `step chop {}`", ingredient.name)
                }
                _ => format!("cut it into small soft pieces: `step cut {}`", ingredient.name),
            }),
        );
    }
    Some(texture)
}

fn is_fish(ingredient: &crate::resolve::Ingredient) -> bool {
    ingredient
        .first()
        .and_then(|choice| choice.food.as_ref())
        .is_some_and(|food| matches!(food.class, FoodClass::FishLean | FoodClass::FishFat | FoodClass::FishReady))
}
