//! Names to foods, measures to grams, steps to flow.

pub mod flow;
pub mod food;
pub mod grams;
mod look_alike;
pub mod menu;
pub mod tables;

use std::collections::hash_map::Entry;
use std::collections::{HashMap, HashSet};

use crate::ast::{self, Amount, Cooked, FoodName, Makes};
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::larder::{FoodClass, normal_name};
use crate::reference::{Reference, retention};
use crate::source::{Span, Spanned};

use crate::reference::process::Texture;
pub use flow::{Act, Flow, HeatEvent, Journey, Named, Referent};
pub use food::{DishAnswer, DishBook, Food, NoDishes, PreparedDish};
pub use grams::Weight;

/// A dish whose foods, weights and method are known as far as they can be.
#[derive(Debug, Clone)]
pub struct Dish {
    pub ast: ast::Dish,
    pub ingredients: Vec<Ingredient>,
    pub flow: Flow,
    /// Indexes of the profile's age bands that the dish is for.
    pub bands: Vec<usize>,
    /// Completed months the dish is for, both ends included.
    pub months: (u16, u16),
}

#[derive(Debug, Clone)]
pub struct Ingredient {
    /// Short name, as steps use it.
    pub name: String,
    pub part: usize,
    pub family: bool,
    pub span: Span,
    /// The first is computed on the card; the others may stand in for it.
    pub options: Vec<Choice>,
}

/// One of the foods that may be taken on a line.
#[derive(Debug, Clone)]
pub struct Choice {
    /// It stands in by a `swap` line, not by `or` on the line itself.
    pub swapped: bool,
    pub option: ast::TakeOption,
    pub food: Option<Food>,
    pub weight: Option<Weight>,
}

impl Ingredient {
    pub fn first(&self) -> Option<&Choice> {
        self.options.first()
    }
}

/// Looks everything up. Nothing that is missing stops the rest.
pub fn resolve(dish: ast::Dish, reference: &Reference, book: &dyn DishBook, sink: &mut Sink) -> Dish {
    let months = months(&dish.header, sink);
    let bands = reference
        .profile
        .bands()
        .iter()
        .enumerate()
        .filter(|(_, band)| band.from_months <= months.1 && band.to_months >= months.0)
        .map(|(at, _)| at)
        .collect();
    let mut ingredients = Vec::new();
    for (at, part) in dish.parts.iter().enumerate() {
        for take in &part.takes {
            ingredients.push(ingredient(take, at, reference, book, sink));
        }
    }
    same_names(&dish, &ingredients, sink);
    swaps(&dish, &mut ingredients, reference, book, sink);
    let mut things: Vec<flow::Thing> = ingredients.iter().map(thing).collect();
    made_once(&ingredients, &mut things);
    empty(&dish, sink);
    let flow = flow::follow(&dish, &things, &reference.larder, sink);
    Dish { ast: dish, ingredients, flow, bands, months }
}

/// Without a `for` line a document is judged for every age, the youngest
/// included.
fn months(header: &ast::Header, sink: &mut Sink) -> (u16, u16) {
    const YOUNGEST: u16 = 6;
    const OLDEST: u16 = 23;
    let Some(ages) = &header.ages else {
        return (YOUNGEST, OLDEST);
    };
    let from = ages.value.from;
    let to = ages.value.to.unwrap_or(OLDEST.max(from));
    if from < YOUNGEST {
        sink.push(
            Diagnostic::new(
                Code::AgeBelowSixMonths,
                ages.span,
                format!("food for a child of {from} months; before six months only breast milk"),
            )
            .help(format!("begin at six months: `for {YOUNGEST} to {} months`", to.max(YOUNGEST + 2)))
            .fix(ages.span, format!("{YOUNGEST} to {} months", to.max(YOUNGEST + 2))),
        );
    }
    if from > OLDEST {
        sink.push(
            Diagnostic::new(Code::SyntaxBadQuantity, ages.span, format!("the guidance here ends at {OLDEST} months"))
                .help(format!("write ages from {YOUNGEST} to {OLDEST} months")),
        );
    }
    (from, to)
}

fn ingredient(
    take: &ast::Take,
    part: usize,
    reference: &Reference,
    book: &dyn DishBook,
    sink: &mut Sink,
) -> Ingredient {
    let first_amount = take.options.first().map(|option| option.amount.clone());
    let options: Vec<Choice> = take
        .options
        .iter()
        .enumerate()
        .map(|(at, option)| choice(option, if at == 0 { None } else { first_amount.as_ref() }, reference, book, sink))
        .collect();
    for choice in &options {
        to_taste(choice, take.family, sink);
    }
    let name = take
        .alias
        .as_ref()
        .map(|alias| alias.value.clone())
        .unwrap_or_else(|| take.options.first().map(short_name).unwrap_or_default());
    Ingredient { name, part, family: take.family, span: take.span, options }
}

fn choice(
    option: &ast::TakeOption,
    fallback: Option<&Amount>,
    reference: &Reference,
    book: &dyn DishBook,
    sink: &mut Sink,
) -> Choice {
    if let Some(keep) = &option.keep
        && let ast::Keep::Code(code) = keep.value
        && retention::code(code).is_none()
    {
        sink.push(
            Diagnostic::new(
                Code::FoodNoComposition,
                keep.span,
                if code == u32::MAX {
                    "release 6 has no retention code of this number".to_owned()
                } else {
                    format!("release 6 has no retention code {code}")
                },
            )
            .help("the codes are those of the USDA retention factors, release 6, such as `r6:3004`"),
        );
    }
    let food = food::find(option, reference, book, sink);
    let weight = food.as_ref().and_then(|food| grams::weigh(option, fallback, food, reference, sink));
    Choice { swapped: false, option: option.clone(), food, weight }
}

/// "To taste" counts as nothing, so it may not hide salt or sugar in a
/// child's food.
fn to_taste(choice: &Choice, family: bool, sink: &mut Sink) {
    let Amount::ToTaste(span) = choice.option.amount else { return };
    let Some(food) = &choice.food else { return };
    let counted = matches!(food.class, FoodClass::Salt | FoodClass::Sugar)
        || ["salt", "salty", "sugar", "honey"].iter().any(|tag| food.has_hazard(tag));
    if counted && !family {
        let name = quote(&food::label(&choice.option).value);
        sink.push(
            Diagnostic::new(Code::SyntaxBadQuantity, span, format!("{name} to taste cannot be counted for a child"))
                .help("leave it out, or write `family` and add it after `step set aside child portion`"),
        );
    }
}

/// How steps call an ingredient without an alias.
fn short_name(option: &ast::TakeOption) -> String {
    match &option.food.value {
        FoodName::Name(name) => name.clone(),
        FoodName::Row { table, id } => format!("{table}:{id}"),
        FoodName::Dish(name) => name.clone(),
    }
}

/// Two takes of one part under one name cannot be told apart in a step.
fn same_names(dish: &ast::Dish, ingredients: &[Ingredient], sink: &mut Sink) {
    let aliased: HashSet<Span> = dish
        .parts
        .iter()
        .flat_map(|part| &part.takes)
        .filter(|take| take.alias.is_some())
        .map(|take| take.span)
        .collect();
    let mut first: HashMap<(usize, String), &Ingredient> = HashMap::new();
    for one in ingredients {
        if one.name.is_empty() || one.name.contains(':') {
            continue;
        }
        let twin = match first.entry((one.part, normal_name(&one.name))) {
            Entry::Occupied(twin) => *twin.get(),
            Entry::Vacant(free) => {
                free.insert(one);
                continue;
            }
        };
        // A taken food that comes again for the family is the same food.
        if one.family != twin.family && !aliased.contains(&one.span) {
            continue;
        }
        let mut message = Diagnostic::new(
            Code::SyntaxDuplicateLine,
            one.span,
            format!("a second ingredient is called {}", quote(&one.name)),
        )
        .label(twin.span, "the first is here")
        .help(format!("give one a name of its own at the end of its line: `as more {}`", one.name));
        let end = one.options.iter().filter(|choice| !choice.swapped).map(|choice| choice.option.span.end).max();
        if let Some(end) = end.filter(|_| !aliased.contains(&one.span)) {
            message = message.fix(Span::new(end, end), format!(" as more {}", one.name));
        }
        sink.push(message);
    }
}

fn thing(ingredient: &Ingredient) -> flow::Thing {
    let first = ingredient.first();
    let food = first.and_then(|choice| choice.food.as_ref());
    let class = food.map_or(FoodClass::Other, |food| food.class);
    flow::Thing {
        name: ingredient.name.clone(),
        span: ingredient.span,
        part: ingredient.part,
        family: ingredient.family,
        class,
        texture: entering(first, food),
        lost: food.is_none(),
        raw_weight: first.and_then(|choice| choice.weight.as_ref()).map_or(0.0, |weight| weight.grams),
        made_in: match food.map(|food| &food.figures) {
            Some(food::Figures::Dish(dish)) => Some((dish.hands_on, dish.minutes)),
            _ => None,
        },
    }
}

/// A dish that is taken on two lines is made once: the later line waits for it
/// but costs no hands.
fn made_once(ingredients: &[Ingredient], things: &mut [flow::Thing]) {
    let mut made: HashSet<&str> = HashSet::new();
    for (ingredient, thing) in ingredients.iter().zip(things) {
        let food = ingredient.first().and_then(|choice| choice.food.as_ref());
        if let Some(food::Figures::Dish(dish)) = food.map(|food| &food.figures)
            && !made.insert(dish.id.as_str())
        {
            thing.made_in = thing.made_in.map(|(_, total)| ((0.0, 0.0), total));
        }
    }
}

/// How fine a food is before any step, by its class and its states, the finer
/// of the two.
pub fn entering(choice: Option<&Choice>, food: Option<&Food>) -> Texture {
    choice.map_or(Texture::Whole, cut).max(food.map_or(Texture::Whole, by_nature))
}

/// How fine the written states leave a food.
pub fn cut(choice: &Choice) -> Texture {
    let written = choice.option.states.iter().map(|state| state.value.as_str());
    let states = written.chain(choice.food.iter().flat_map(|food| food.preparation.iter().map(String::as_str)));
    let has = |words: &[&str]| food::has_state(states.clone(), words);
    if has(&["ground", "powdered", "smooth", "sieved", "pureed", "puréed", "blended"]) {
        Texture::Smooth
    } else if has(&["mashed", "minced", "grated", "crushed", "pounded"]) {
        Texture::Mashed
    } else if has(&["chopped", "diced", "shredded", "flaked"]) {
        Texture::Chopped
    } else if has(&["cubed", "sliced", "halved", "quartered", "cut"]) {
        Texture::Pieces
    } else {
        Texture::Whole
    }
}

/// How fine a food is by what it is: flour is smooth, rice is small and soft
/// when cooked.
fn by_nature(food: &Food) -> Texture {
    if let food::Figures::Dish(dish) = &food.figures {
        return dish.texture.unwrap_or(Texture::Mashed);
    }
    if food.has_hazard("nut-paste") {
        return Texture::Smooth;
    }
    let coarse = ["choke-round", "choke-hard", "whole-bean", "whole-nut"].iter().any(|tag| food.has_hazard(tag));
    if let Some(row) = &food.larder {
        let name = row.printed("en");
        const FINE: [&str; 13] = [
            "flour", "paste", "powder", "butter", "purée", "puree", "meal", "milk", "cream", "yogurt", "minced",
            "ground", "juice",
        ];
        if name.split(' ').any(|part| FINE.contains(&part)) {
            return Texture::Smooth;
        }
    }
    match food.class {
        FoodClass::Flour
        | FoodClass::Oil
        | FoodClass::Milk
        | FoodClass::BreastMilk
        | FoodClass::Water
        | FoodClass::Sugar
        | FoodClass::Salt
        | FoodClass::Spice
        | FoodClass::Alcohol => Texture::Smooth,
        // Drinks, sauces and cubes, and of USDA's groups baby foods, soups and
        // beverages; of other rows outside the larder nothing is known.
        FoodClass::Other if food.larder.is_some() => Texture::Smooth,
        FoodClass::Other if matches!(&food.figures, food::Figures::BuiltIn(row) if matches!(row.group(), 300 | 600 | 1400)) => {
            Texture::Smooth
        }
        FoodClass::Egg | FoodClass::Cheese => Texture::Chopped,
        FoodClass::Pasta | FoodClass::Bread => Texture::Pieces,
        // Grains, split pulses and seeds are small, and soft when cooked.
        FoodClass::Rice
        | FoodClass::Oats
        | FoodClass::Cereal
        | FoodClass::PulseQuick
        | FoodClass::PulseCooked
        | FoodClass::Nut
            if !coarse =>
        {
            Texture::Chopped
        }
        _ => Texture::Whole,
    }
}

fn empty(dish: &ast::Dish, sink: &mut Sink) {
    let header = &dish.header;
    let place = header.title.as_ref().map_or(Span::default(), |title| title.span);
    let no_takes = dish.parts.iter().all(|part| part.takes.is_empty());
    let no_steps = dish.parts.iter().all(|part| part.steps.is_empty());
    if header.title.is_none() && header.torn.is_empty() && no_takes && no_steps {
        // An empty file has been told that it lacks its title.
        return;
    }
    if no_takes && !header.tore("take") && !header.tore("family") && header.torn.is_empty() {
        sink.push(
            Diagnostic::new(Code::MethodEmpty, place, "this dish has no ingredients")
                .help("add a line for each: `take 1/2 cup red kidney beans, dry`"),
        );
    } else if no_steps && !header.tore("step") && header.torn.is_empty() {
        sink.push(
            Diagnostic::new(Code::MethodEmpty, place, "this dish has no steps")
                .help("add a line for each: `step boil beans for 60 min`"),
        );
    }
}

/// The foods of a `swap` line with their states: a word between commas that is
/// a state of the food before it, and no food, is read as that.
fn stated(options: &[ast::TakeOption], reference: &Reference) -> Vec<ast::TakeOption> {
    let mut foods: Vec<ast::TakeOption> = Vec::new();
    for option in options {
        let word = match (&option.food.value, &option.amount) {
            (FoodName::Name(name), Amount::Missing) if option.states.is_empty() && option.weight.is_none() => {
                Some(name)
            }
            _ => None,
        };
        if let (Some(word), Some(last)) = (word, foods.last_mut())
            && food::is_state_of(word, last, reference)
        {
            last.states.push(Spanned::new(word.to_lowercase(), option.food.span));
            continue;
        }
        foods.push(option.clone());
    }
    foods
}

/// Foods of `swap` lines become further options of their ingredient, so that
/// every rule and claim looks at them too.
fn swaps(
    dish: &ast::Dish,
    ingredients: &mut [Ingredient],
    reference: &Reference,
    book: &dyn DishBook,
    sink: &mut Sink,
) {
    for swap in &dish.swaps {
        let wanted = normal_name(&swap.from.value);
        let found = ingredients.iter_mut().find(|ingredient| {
            let own = normal_name(&ingredient.name);
            own == wanted
                || own.ends_with(&format!(" {wanted}"))
                || ingredient.first().is_some_and(|choice| normal_name(&short_name(&choice.option)) == wanted)
        });
        let Some(ingredient) = found else {
            let names: Vec<&str> = ingredients.iter().map(|ingredient| ingredient.name.as_str()).collect();
            let mut message = Diagnostic::new(
                Code::MethodUnknownIngredient,
                swap.from.span,
                format!("{} was not taken, so nothing can stand in for it", quote(&swap.from.value)),
            );
            if let Some(near) = did_you_mean(&swap.from.value, names) {
                message = message.help(format!("did you mean `{near}`?")).fix(swap.from.span, near);
            } else {
                message = message.help("name one of the ingredients");
            }
            sink.push(message);
            continue;
        };
        let first = ingredient.first().cloned();
        for option in &stated(&swap.to, reference) {
            let food = food::find(option, reference, book, sink);
            let amount = first.as_ref().map(|choice| &choice.option.amount);
            // Without a measure of its own the food stands in weight for weight.
            let weight = food.as_ref().and_then(|food| {
                let mut silent = Sink::new();
                let own = !matches!(option.amount, Amount::Missing);
                let found = if own {
                    grams::weigh(option, amount, food, reference, sink)
                } else {
                    grams::weigh(option, amount, food, reference, &mut silent)
                };
                found.or_else(|| {
                    let same = first.as_ref().and_then(|choice| choice.weight.clone())?;
                    Some(Weight {
                        how: vec![grams::How::Said("as much by weight as what it stands in for")],
                        estimated: true,
                        guesses: vec!["as much by weight as what it stands in for"],
                        ..same
                    })
                })
            });
            ingredient.options.push(Choice { swapped: true, option: option.clone(), food, weight });
        }
    }
}

/// What the author says a dish makes, for the computation.
impl Dish {
    pub fn makes(&self) -> Option<&Makes> {
        self.ast.makes.as_ref().map(|makes| &makes.value)
    }

    pub fn cooked(&self) -> Option<Cooked> {
        self.ast.cooked.as_ref().map(|cooked| cooked.value)
    }

    /// Every option but the first of each line that reaches the child, as
    /// ingredient and option.
    pub fn alternatives(&self) -> Vec<(usize, usize)> {
        self.ingredients
            .iter()
            .enumerate()
            .filter(|(at, _)| self.flow.child.get(*at).copied().unwrap_or(true))
            .flat_map(|(at, ingredient)| (1..ingredient.options.len()).map(move |option| (at, option)))
            .collect()
    }

    /// How the author wrote the food of an option, with its states.
    pub fn option_name(&self, at: usize, option: usize) -> Option<String> {
        let choice = self.ingredients.get(at)?.options.get(option)?;
        let mut name = food::label(&choice.option).value;
        for state in &choice.option.states {
            name.push_str(", ");
            name.push_str(&state.value);
        }
        Some(name)
    }

    pub fn title(&self) -> &str {
        self.ast.header.title.as_ref().map_or("", |title| title.value.as_str())
    }
}
