//! The lines of a menu: each item to a dish of the workspace or to a single
//! food, and to grams for every age band the menu is for.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::ast::{self, Amount, FoodName, Makes, TakeOption};
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::quantity::{Measure, PieceUnit, Range, Unit};
use crate::reference::Reference;
use crate::reference::larder::{FoodGroup, normal_name};
use crate::resolve::food::{self, DishAnswer, DishBook, Food, PreparedDish};
use crate::resolve::grams;
use crate::source::{Span, Spanned};

/// A dish as a menu serves it: what its card says, per 100 g as eaten.
#[derive(Debug, Clone, Default)]
pub struct Served {
    /// Completed months the dish is for, both ends included.
    pub months: (u16, u16),
    /// By component.
    pub figures: Vec<ServedFigure>,
    pub portions: Vec<ServedPortion>,
    /// Grams of one piece, for a dish that is counted in pieces.
    pub piece_g: Option<f64>,
    /// Grams of each food group in 100 g, first options only.
    pub groups: Vec<(FoodGroup, f64)>,
    /// Foods that reach the child with their grams in 100 g, those of dishes in
    /// it among them, first options only; no grams where they are not known.
    pub foods: Vec<(Food, Option<f64>)>,
    /// Every hazard tag of a food that reaches the child, alternatives
    /// included, whether or not the method mends it.
    pub hazards: Vec<String>,
    /// Steps in the order of the file, for the cook's day.
    pub stages: Vec<Stage>,
    /// Minutes from the first step to the meal, for a cook with one fire.
    pub minutes: (f64, f64),
    /// Months in which it is made; empty where the author does not say.
    pub season: Vec<u8>,
}

/// One component of a dish, per 100 g as eaten.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct ServedFigure {
    /// Sum over what is known; `None` where nothing is.
    pub at_least: Option<f64>,
    /// The most over the dish's own alternatives and before heat took its
    /// share: what a limit is held against.
    pub most: Option<f64>,
    pub complete: bool,
    pub estimated: bool,
}

/// One serving of a dish for an age band.
#[derive(Debug, Clone, PartialEq)]
pub struct ServedPortion {
    /// Index of the band in the profile.
    pub band: usize,
    pub grams: Option<f64>,
    pub ml: Option<f64>,
    pub amount: Option<Makes>,
}

/// One step of a dish, minutes from its start.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    /// Kitchen verb, as in the table of processes.
    pub process: &'static str,
    pub foods: Vec<StageFood>,
    pub start: (f64, f64),
    pub end: (f64, f64),
    pub hands_on: (f64, f64),
    /// Nobody has to stand by.
    pub unattended: bool,
}

/// A food in a step.
#[derive(Debug, Clone, PartialEq)]
pub struct StageFood {
    /// Composition row, `usda:16032`.
    pub row: String,
    /// The author's short name.
    pub name: String,
    /// Printed names by language tag, from the larder.
    pub printed: BTreeMap<String, String>,
    pub grams: f64,
    /// Minutes that another dish takes, where the food is one.
    pub dish: Option<(f64, f64)>,
}

/// A menu whose items are known as far as they can be.
#[derive(Debug, Clone)]
pub struct Menu {
    pub ast: ast::Menu,
    pub meals: Vec<Meal>,
    /// Indexes of the profile's age bands that the menu is for.
    pub bands: Vec<usize>,
    pub months: (u16, u16),
    pub breastfed: bool,
    /// The author does not say whether the child is breastfed.
    pub assumed: bool,
}

#[derive(Debug, Clone)]
pub struct Meal {
    /// Minutes after midnight.
    pub at: u16,
    pub at_span: Span,
    pub snack: bool,
    pub name: Option<ast::Text>,
    pub items: Vec<Item>,
    pub span: Span,
}

#[derive(Debug, Clone)]
pub struct Item {
    /// The first is computed; the others may stand in for it.
    pub options: Vec<Choice>,
    pub span: Span,
}

#[derive(Debug, Clone)]
pub struct Choice {
    pub option: TakeOption,
    pub what: What,
    /// One for each of the menu's bands, in their order.
    pub servings: Vec<Serving>,
}

/// What stands on a menu's line.
#[derive(Debug, Clone)]
pub enum What {
    Dish(Arc<PreparedDish>),
    Food(Box<Food>),
    /// It could not be found; a message has been given.
    Nothing,
}

/// How much of it an age band gets.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Serving {
    pub grams: Option<f64>,
    /// As written, or the dish's own portion.
    pub amount: Option<Makes>,
    pub ml: Option<f64>,
    pub estimated: bool,
    /// How it was found, one sentence a step.
    pub how: Vec<String>,
}

impl Menu {
    pub fn title(&self) -> &str {
        self.ast.header.title.as_ref().map_or("", |title| title.value.as_str())
    }

    /// Every item with its meal, in the order of the file.
    pub fn items(&self) -> impl Iterator<Item = (usize, &Meal, &Item)> {
        self.meals.iter().enumerate().flat_map(|(at, meal)| meal.items.iter().map(move |item| (at, meal, item)))
    }

    /// Every item was found and weighs something.
    pub fn whole(&self) -> bool {
        self.ast.header.torn.is_empty()
            && self.items().all(|(_, _, item)| {
                item.options.first().is_some_and(|choice| {
                    !matches!(choice.what, What::Nothing) && choice.servings.iter().all(|one| one.grams.is_some())
                })
            })
    }
}

impl Choice {
    /// Name for messages: the author's own.
    pub fn called(&self) -> String {
        quote(&food::label(&self.option).value)
    }

    /// Title of the dish or name of the food, as a table prints it.
    pub fn title(&self) -> String {
        match &self.what {
            What::Dish(dish) => dish.title.clone(),
            What::Food(_) | What::Nothing => {
                let mut name = food::label(&self.option).value;
                for state in &self.option.states {
                    name.push_str(", ");
                    name.push_str(&state.value);
                }
                name
            }
        }
    }

    /// `dish millet-porridge`, `usda:9040`
    pub fn row_id(&self) -> String {
        match &self.what {
            What::Dish(dish) => format!("dish {}", dish.id),
            What::Food(food) => food.row_id(),
            What::Nothing => String::new(),
        }
    }

    /// Grams of each food group in 100 g.
    pub fn groups(&self) -> Vec<(FoodGroup, f64)> {
        match &self.what {
            What::Dish(dish) => dish.served.groups.clone(),
            What::Food(food) => food.groups().into_iter().map(|group| (group, 100.0)).collect(),
            What::Nothing => Vec::new(),
        }
    }

    pub fn has_hazard(&self, tag: &str) -> bool {
        match &self.what {
            What::Dish(dish) => dish.served.hazards.iter().any(|hazard| hazard == tag),
            What::Food(food) => food.has_hazard(tag),
            What::Nothing => false,
        }
    }

    pub fn allergens(&self) -> Vec<String> {
        match &self.what {
            What::Dish(dish) => dish.allergens.clone(),
            What::Food(food) => food.allergens(),
            What::Nothing => Vec::new(),
        }
    }
}

/// Looks everything up. Nothing that is missing stops the rest.
pub fn resolve(menu: ast::Menu, reference: &Reference, book: &dyn DishBook, sink: &mut Sink) -> Menu {
    let header = &menu.header;
    let (from, to) = super::months(header, sink);
    let bands: Vec<usize> = reference
        .profile
        .bands()
        .iter()
        .enumerate()
        .filter(|(_, band)| band.from_months <= to && band.to_months >= from)
        .map(|(at, _)| at)
        .collect();
    let said = header.ages.as_ref().and_then(|ages| ages.value.breastfed);
    let meals: Vec<Meal> = menu
        .meals
        .iter()
        .map(|meal| Meal {
            at: meal.at.value,
            at_span: meal.at.span,
            snack: meal.snack,
            name: meal.name.clone(),
            items: meal
                .items
                .iter()
                .flat_map(|item| parted(item, reference, book))
                .map(|item| {
                    let first = item.options.first().map(|option| option.amount.clone());
                    let options = item
                        .options
                        .into_iter()
                        .enumerate()
                        .map(|(at, option)| {
                            let fallback = if at == 0 { None } else { first.as_ref() };
                            let what = found(&option, (from, to), reference, book, sink);
                            let servings = bands
                                .iter()
                                .map(|band| serving(&option, fallback, &what, *band, reference, sink))
                                .collect();
                            Choice { option, what, servings }
                        })
                        .collect();
                    Item { options, span: item.span }
                })
                .collect(),
            span: meal.span,
        })
        .collect();
    Menu { meals, bands, months: (from, to), breastfed: said.unwrap_or(true), assumed: said.is_none(), ast: menu }
}

/// A comma parts items as well as states: what stands after one and is no
/// state but a dish or a food of its own begins an item.
fn parted(item: &ast::MealItem, reference: &Reference, book: &dyn DishBook) -> Vec<ast::MealItem> {
    // With alternatives the last one takes what follows.
    let Some((last, before)) = item.options.split_last() else { return Vec::new() };
    let cut = last.states.iter().position(|state| begins_item(&state.value, reference, book));
    let Some(cut) = cut else { return vec![item.clone()] };
    let mut first = last.clone();
    let rest = first.states.split_off(cut);
    let end = first.states.last().map_or(first.food.span.end, |state| state.span.end);
    first.span.end = end;
    let weight = first.weight.take();
    let mut options = before.to_vec();
    options.push(first);
    let mut items = vec![ast::MealItem { options, span: Span::new(item.span.start, end) }];
    for state in rest {
        if begins_item(&state.value, reference, book) {
            let option = TakeOption {
                amount: Amount::Missing,
                food: Spanned::new(FoodName::Name(state.value.clone()), state.span),
                states: Vec::new(),
                weight: None,
                keep: None,
                span: state.span,
            };
            items.push(ast::MealItem { options: vec![option], span: state.span });
        } else if let Some(option) = items.last_mut().and_then(|item| item.options.last_mut()) {
            option.span.end = state.span.end;
            option.states.push(state);
        }
    }
    // A weight in brackets belongs to what it follows.
    if let Some(option) = items.last_mut().and_then(|item| item.options.last_mut()) {
        option.weight = weight;
    }
    items
}

fn begins_item(word: &str, reference: &Reference, book: &dyn DishBook) -> bool {
    if !matches!(book.dish(word), DishAnswer::Unknown(_)) {
        return true;
    }
    let hyphened = word.contains('-') && !word.contains(' ');
    !reference.larder.states().contains(word) && !hyphened && !reference.larder.named(word).is_empty()
}

fn found(option: &TakeOption, months: (u16, u16), reference: &Reference, book: &dyn DishBook, sink: &mut Sink) -> What {
    let (name, called_dish) = match &option.food.value {
        FoodName::Name(name) => (name.clone(), false),
        FoodName::Dish(name) => (name.clone(), true),
        FoodName::Row { .. } => (String::new(), false),
    };
    let answer = if name.is_empty() { None } else { Some(book.dish(&name)) };
    let span = option.food.span;
    match answer {
        Some(DishAnswer::Found(dish)) => {
            fits_age(&dish, &name, span, months, sink);
            What::Dish(dish)
        }
        Some(DishAnswer::Broken | DishAnswer::Circle(_)) => {
            sink.push(
                Diagnostic::new(
                    Code::MenuBrokenDish,
                    span,
                    format!("the dish {} has errors, so its figures cannot be trusted", quote(&name)),
                )
                .help(format!("mend it first: see `porringer check` on `{name}`")),
            );
            What::Nothing
        }
        Some(DishAnswer::Unknown(names)) => {
            let hyphened = name.contains('-') && !name.contains(' ');
            if called_dish || hyphened && reference.larder.named(&name).is_empty() {
                let message = Diagnostic::new(
                    Code::BookletUnknownPage,
                    span,
                    format!("this workspace has no page {}", quote(&name)),
                );
                sink.push(match did_you_mean(&name, names.iter().map(String::as_str)) {
                    Some(near) => {
                        let whole = if called_dish { format!("dish {near}") } else { near.to_owned() };
                        message.help(format!("did you mean `{near}`?")).fix(span, whole)
                    }
                    None => message.help("write a document's `id`, or its file's name without the ending"),
                });
                What::Nothing
            } else {
                single(option, reference, book, sink)
            }
        }
        None => single(option, reference, book, sink),
    }
}

fn single(option: &TakeOption, reference: &Reference, book: &dyn DishBook, sink: &mut Sink) -> What {
    food::find(option, reference, book, sink).map_or(What::Nothing, |food| What::Food(Box::new(food)))
}

/// A dish that is for older children has not been judged for this one.
fn fits_age(dish: &PreparedDish, name: &str, span: Span, months: (u16, u16), sink: &mut Sink) {
    let (from, to) = dish.served.months;
    let young = months.0 < from;
    if young || months.1 > to {
        let which = if young { format!("from {from} months") } else { format!("up to {to} months") };
        sink.push(
            Diagnostic::new(
                Code::MenuNotForAge,
                span,
                format!("{} is for children {which}; this menu is for {} to {}", quote(name), months.0, months.1),
            )
            .help("choose a dish for this age, change the menu's `for` line, or judge the dish for this age too"),
        );
    }
}

/// An alternative food without an amount of its own shares the first one's.
fn serving(
    option: &TakeOption,
    fallback: Option<&Amount>,
    what: &What,
    band: usize,
    reference: &Reference,
    sink: &mut Sink,
) -> Serving {
    match what {
        What::Nothing => Serving::default(),
        What::Food(food) => {
            let amount = match (&option.amount, fallback) {
                (Amount::Missing, Some(first)) => first,
                (own, _) => own,
            };
            if matches!(amount, Amount::Missing) && option.weight.is_none() {
                let name = food::label(option).value;
                sink.push(
                    Diagnostic::new(
                        Code::SyntaxBadQuantity,
                        option.food.span,
                        format!("no amount of {}", quote(&name)),
                    )
                    .help("write how much the child gets, such as `1/4 cup` or `1 small`, before the food"),
                );
                return Serving::default();
            }
            grams::weigh(option, fallback, food, reference, sink).map_or_else(Serving::default, |weight| Serving {
                grams: Some(weight.grams),
                amount: written(amount),
                ml: volume(amount, reference),
                estimated: weight.estimated,
                how: weight.how.iter().map(ToString::to_string).collect(),
            })
        }
        What::Dish(dish) => of_dish(option, dish, band, reference, sink),
    }
}

fn written(amount: &Amount) -> Option<Makes> {
    match amount {
        Amount::Measured { range, measure, .. } => Some(Makes::Measured(*range, *measure)),
        Amount::Count { range, .. } => Some(Makes::Measured(*range, Measure::of(Unit::Piece(PieceUnit::Piece)))),
        _ => None,
    }
}

fn volume(amount: &Amount, reference: &Reference) -> Option<f64> {
    let Amount::Measured { range, measure, .. } = amount else { return None };
    let (ml, _) = grams::millilitres(measure.unit, reference.standard)?;
    Some(range.middle() * ml * grams::heap_factor(*measure))
}

fn of_dish(option: &TakeOption, dish: &PreparedDish, band: usize, reference: &Reference, sink: &mut Sink) -> Serving {
    if let Some(weight) = &option.weight {
        return Serving {
            grams: Some(weight.value.middle()),
            amount: written(&option.amount),
            ml: volume(&option.amount, reference),
            estimated: false,
            how: vec![format!("weighed: {} g", weight.value)],
        };
    }
    let pieces = |range: Range, span: Span, sink: &mut Sink| match dish.served.piece_g {
        Some(each) => Serving {
            grams: Some(range.middle() * each),
            amount: written(&option.amount),
            ml: None,
            estimated: dish.estimated,
            how: vec![format!("one piece of the dish = {} g", crate::quantity::round_half_even(each, 1))],
        },
        None => {
            sink.push(
                Diagnostic::new(
                    Code::MeasureVolumeOfCount,
                    span,
                    format!("{} is not counted in pieces", quote(&dish.id)),
                )
                .help("write a cup, a spoon or a weight, or leave the amount out for the dish's own portion"),
            );
            Serving::default()
        }
    };
    match &option.amount {
        Amount::Missing | Amount::ToTaste(_) => {
            let portion = dish.served.portions.iter().find(|portion| portion.band == band);
            Serving {
                grams: portion.and_then(|portion| portion.grams),
                amount: portion.and_then(|portion| portion.amount.clone()),
                ml: portion.and_then(|portion| portion.ml),
                estimated: dish.estimated,
                how: vec!["one portion of the dish".to_owned()],
            }
        }
        Amount::Unreadable(_) => Serving::default(),
        Amount::Count { range, span } => pieces(*range, *span, sink),
        Amount::Measured { range, measure, span } => {
            if let Some(grams) = measure.unit.grams() {
                return Serving {
                    grams: Some(range.middle() * grams),
                    amount: written(&option.amount),
                    ml: None,
                    estimated: false,
                    how: vec![format!("{range} {}", measure.unit.word())],
                };
            }
            let Some(ml) = volume(&option.amount, reference) else {
                return pieces(*range, *span, sink);
            };
            match dish.density {
                Some(density) => Serving {
                    grams: Some(ml * density),
                    amount: written(&option.amount),
                    ml: Some(ml),
                    estimated: dish.estimated,
                    how: vec![
                        format!("{range} {} = {ml} mL ({} measures)", measure.unit.word(), reference.standard.word()),
                        format!(
                            "density {} g/mL (what {} makes)",
                            crate::quantity::round_half_even(density, 3),
                            dish.id
                        ),
                    ],
                },
                None => {
                    sink.push(
                        Diagnostic::new(
                            Code::MeasureNoWeight,
                            *span,
                            format!("nobody has said what a {} of {} weighs", measure.unit.word(), quote(&dish.id)),
                        )
                        .help("let the dish say what it `makes` in cups, or write a weight or pieces here"),
                    );
                    Serving::default()
                }
            }
        }
    }
}

/// The ingredient that a step's word means, by its place in a list of names.
pub fn named(word: &str, names: &[String]) -> Option<usize> {
    let wanted = normal_name(word);
    names
        .iter()
        .position(|name| normal_name(name) == wanted)
        .or_else(|| names.iter().position(|name| normal_name(name).ends_with(&format!(" {wanted}"))))
}
