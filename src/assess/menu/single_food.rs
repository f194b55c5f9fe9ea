//! A food on a menu's line that is no dish: it meets the same safety rules, as
//! a dish of one ingredient that is served as it is; and it must be ready to
//! eat (`menu/not-ready-to-eat`).

use super::MenuCase;
use crate::ast::{self, Action, Makes, Part, Step, Take};
use crate::compute::{Selection, compute};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::quantity::{Exact, Range};
use crate::reference::larder::FoodClass;
use crate::resolve::menu::{Choice, What};
use crate::resolve::{self, Food, NoDishes};
use crate::source::Spanned;

pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    for (_, _, item) in case.menu.items() {
        for choice in &item.options {
            let What::Food(food) = &choice.what else { continue };
            not_ready(choice, food, sink);
            safety(case, choice, sink);
        }
    }
}

/// Dry and raw staples are nobody's meal: their weight would be counted as if
/// they were eaten dry.
fn not_ready(choice: &Choice, food: &Food, sink: &mut Sink) {
    let staple = matches!(
        food.class,
        FoodClass::Flour
            | FoodClass::Cereal
            | FoodClass::Oats
            | FoodClass::Rice
            | FoodClass::Pasta
            | FoodClass::PulseDry
            | FoodClass::PulseQuick
            | FoodClass::Potato
            | FoodClass::SweetPotato
            | FoodClass::Root
    );
    if !staple || food.cooked {
        return;
    }
    let name = crate::resolve::food::label(&choice.option).value;
    sink.push(
        Diagnostic::new(
            Code::MenuNotReadyToEat,
            choice.option.food.span,
            format!("{} is not cooked, so nobody eats it like this", choice.called()),
        )
        .help(format!("write it as it is eaten, such as `{name}, boiled`, or make it a dish and name the dish")),
    );
}

fn safety(case: &MenuCase<'_>, choice: &Choice, sink: &mut Sink) {
    let option = &choice.option;
    let name = Spanned::new(crate::resolve::food::label(option).value, option.food.span);
    let serve = Action {
        process: Spanned::new("serve".to_owned(), option.food.span),
        objects: vec![name.clone()],
        with: Vec::new(),
        medium: None,
        duration: None,
        heat: None,
        celsius: None,
        until: None,
        unattended: false,
        torn: false,
        span: option.span,
    };
    let mut option_alone = option.clone();
    if let (ast::Amount::Missing, None) = (&option.amount, &option.weight)
        && let Some(grams) = choice.servings.first().and_then(|serving| serving.grams)
    {
        // An alternative that shares the first one's weight.
        option_alone.weight = Exact::fraction((grams * 100.0).round() as i64, 100)
            .map(|grams| Spanned::new(Range::exactly(grams), option.span));
    }
    let header = ast::Header {
        title: Some(ast::Text {
            value: name.value.clone(),
            span: option.food.span,
            translations: Vec::new(),
            stubs: Vec::new(),
        }),
        ages: case.menu.ast.header.ages,
        ..ast::Header::default()
    };
    let dish = ast::Dish {
        header,
        // The whole of it is one portion.
        makes: Some(Spanned::new(Makes::Portions(Range::exactly(Exact::whole(1)), None), option.span)),
        parts: vec![Part {
            name: None,
            takes: vec![Take {
                family: false,
                options: vec![option_alone],
                alias: Some(name),
                translations: Vec::new(),
                span: option.span,
            }],
            steps: vec![Step { actions: vec![serve], prose: None, translations: Vec::new(), span: option.span }],
        }],
        ..ast::Dish::default()
    };
    // Its name and its weight have been looked up, and complained of, already.
    let mut silent = Sink::new();
    let resolved = resolve::resolve(dish, case.reference, &NoDishes, &mut silent);
    let computed = compute(&resolved, case.reference, &Selection::default());
    let mut own = Sink::new();
    crate::assess::assess(
        &crate::assess::Case { dish: &resolved, computed: &computed, reference: case.reference },
        &mut own,
    );
    for message in own.finish() {
        // The day's limits are judged over the whole day.
        let daily =
            matches!(message.code, Code::SafetyRetinolOverLimit | Code::SafetySaltOverDay | Code::SafetyUpperLimit);
        if message.code.family() == "safety" && !daily {
            sink.push(message);
        }
    }
}
