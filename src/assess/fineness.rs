//! How fine one option of a line reaches the child: what it comes as, and what
//! the method makes of it.

use crate::reference::larder::FoodClass;
use crate::reference::process::Texture;
use crate::resolve::food::has_state;
use crate::resolve::{Choice, Journey, entering};

/// Minutes of heat after which a hard vegetable is soft; common practice, no
/// source.
pub const SOFT_MINUTES: f64 = 5.0;

/// Texture in the child's bowl.
pub fn fineness(choice: &Choice, journey: &Journey) -> Texture {
    let food = choice.food.as_ref();
    // Of a squeezed fruit the child gets the juice.
    let juice = journey.had(&["squeeze"])
        && food.is_some_and(|food| matches!(food.class, FoodClass::Citrus | FoodClass::Fruit));
    let made = if juice { Some(Texture::Smooth) } else { journey.worked };
    entering(Some(choice), food).max(made.unwrap_or(Texture::Whole))
}

/// Whether heat has made it soft. Without a time the verb is believed; the
/// missing time has its own message.
pub fn softened(journey: &Journey) -> bool {
    let (minutes, open) = journey.cooking();
    open || minutes >= SOFT_MINUTES
}

/// Whether a written state or a step says one of these words.
pub fn said(choice: &Choice, journey: &Journey, states: &[&str], verbs: &[&str]) -> bool {
    let written = choice.option.states.iter().map(|state| state.value.as_str());
    let all = written.chain(choice.food.iter().flat_map(|food| food.preparation.iter().map(String::as_str)));
    has_state(all, states) || journey.had(verbs)
}
