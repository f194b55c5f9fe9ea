//! `age/texture-too-coarse`: how fine the method leaves the food, against what
//! a child of the youngest band can manage. Foods that block the airway by
//! their shape have a message of their own and none here.

use super::fineness::fineness;
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink, quote};
use crate::reference::larder::FoodClass;
use crate::reference::process::Texture;
use crate::reference::profile::data::AgeBand;
use crate::resolve::{Choice, Ingredient, cut};

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

/// Gives the coarsest texture of the first options. `choking` are the options
/// of which a message has been given.
pub fn check(case: &Case<'_>, choking: &[(usize, usize)], sink: &mut Sink) -> Option<Texture> {
    let all: f64 = case.computed.nutrition.raw_g;
    let mut card: Option<Texture> = None;
    let mut worst: Option<(Texture, usize, &Ingredient, &Choice)> = None;
    for (at, ingredient, journey) in case.served() {
        for (option, choice) in ingredient.options.iter().enumerate() {
            let grams = choice.weight.as_ref().map_or(0.0, |weight| weight.grams);
            if choice.food.is_none() || grams < all * SEASONING {
                continue;
            }
            // What stands in is cut as the food it stands in for.
            let as_first = ingredient.first().map_or(Texture::Whole, cut);
            let texture = fineness(choice, journey).max(as_first);
            if option == 0 && card.is_none_or(|so_far| texture < so_far) {
                card = Some(texture);
            }
            let told = choking.contains(&(at, option));
            if !told && worst.is_none_or(|(so_far, ..)| texture < so_far) {
                worst = Some((texture, option, ingredient, choice));
            }
        }
    }
    let no_steps = case.dish.ast.parts.iter().all(|part| part.steps.is_empty());
    if case.method_torn() || no_steps {
        return card;
    }
    let band = case.dish.bands.first().and_then(|at| case.reference.profile.bands().get(*at));
    if let (Some(band), Some((texture, option, ingredient, choice))) = (band, worst)
        && texture < required(band)
    {
        // An alternative is called by its own name, the first by the line's.
        let (span, name) =
            if option == 0 { (ingredient.span, quote(&ingredient.name)) } else { (choice.option.span, called(choice)) };
        sink.push(
            Diagnostic::new(
                Code::AgeTextureTooCoarse,
                span,
                format!("{name} stays too coarse for a child of {} months", band.key),
            )
            .help(match required(band) {
                Texture::Mashed => format!("mash or grind it: `step mash {}`", ingredient.name),
                Texture::Chopped if is_fish(choice) => {
                    format!("flake it and feel for bones: `step flake {}`", ingredient.name)
                }
                Texture::Chopped => {
                    format!("chop it finely or mash it: `step chop {}`", ingredient.name)
                }
                _ => format!("cut it into small soft pieces: `step cut {}`", ingredient.name),
            }),
        );
    }
    card
}

fn is_fish(choice: &Choice) -> bool {
    choice
        .food
        .as_ref()
        .is_some_and(|food| matches!(food.class, FoodClass::FishLean | FoodClass::FishFat | FoodClass::FishReady))
}
