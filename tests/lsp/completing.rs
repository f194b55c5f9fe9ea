//! What is proposed at a cursor, marked by a bar.

use porringer::lsp::completion::{Item, complete};
use porringer::syntax::Kind;

use crate::{Lone, MASH, cursor};

fn proposed(kind: Kind, text: &str) -> Vec<Item> {
    let (text, at) = cursor(text);
    complete(&Lone::of(kind, &text).view(), at)
}

#[track_caller]
fn texts(text: &str) -> Vec<String> {
    proposed(Kind::Dish, text).into_iter().map(|item| item.text).collect()
}

#[test]
fn keywords_at_the_start_of_a_line() {
    assert_eq!(texts("dish     Mash\nta|\n"), ["take     "]);
    assert_eq!(texts("dish     Mash\ns|tep boil it"), ["step", "swap", "serve", "store", "season", "source"]);
    let all = texts("dish     Mash\n|");
    assert!(all.contains(&"portion  ".to_owned()), "{all:?}");
    assert!(!all.contains(&"dish     ".to_owned()), "a second title: {all:?}");
    assert!(texts("dish     Mash\n# ta|").is_empty(), "in a comment");
    assert!(texts("dish     Mash\n   |").is_empty(), "on a continuation of nothing yet");
    let menu: Vec<_> = proposed(Kind::Menu, "menu     A day\nme|").into_iter().map(|item| item.text).collect();
    assert_eq!(menu, ["meal     "]);
}

#[test]
fn foods_by_their_names_in_any_order_of_words() {
    let found = texts("dish     Mash\ntake     1/2 cup kidney r|");
    assert!(found.iter().any(|text| text.starts_with("red kidney beans")), "{found:?}");
    // Several rows share the name: a state comes along, so that one is meant.
    let beans = proposed(Kind::Dish, "dish     Mash\ntake     1/2 cup red kidney b|");
    assert!(beans.iter().all(|item| item.text.contains("kidney") && item.text.is_char_boundary(0)), "{beans:?}");
    let food = beans.first().unwrap();
    let line = format!("dish Mash\ntake 1/2 cup {}\n", food.text);
    let lone = Lone::dish(&line);
    let codes: Vec<_> = lone.view().checked.diagnostics.iter().map(|message| message.code.name()).collect();
    assert!(!codes.iter().any(|code| code.starts_with("food/")), "{}: {codes:?}", food.text);
}

#[test]
fn every_proposed_food_is_one_food() {
    // Whatever is taken from the list must not be ambiguous or unknown.
    for letter in ["p", "s", "m"] {
        for item in proposed(Kind::Dish, &format!("dish     Mash\ntake     100 g {letter}|")) {
            if item.text == "dish " {
                continue;
            }
            let lone = Lone::dish(&format!("dish Mash\ntake 100 g {}\n", item.text));
            let messages = &lone.view().checked.diagnostics;
            let food = messages.iter().find(|message| message.code.family() == "food");
            assert!(food.is_none(), "{}: {food:?}", item.text);
        }
    }
}

#[test]
fn measures_that_the_food_behind_the_cursor_has() {
    let eggs = proposed(Kind::Dish, "dish     Mash\ntake     2 | eggs\n");
    let words: Vec<&str> = eggs.iter().map(|item| item.text.as_str()).collect();
    assert!(words.contains(&"medium") || words.contains(&"piece"), "{words:?}");
    let oil = proposed(Kind::Dish, "dish     Mash\ntake     2 t| sunflower oil\n");
    let spoon = oil.iter().find(|item| item.text == "tbsp").unwrap_or_else(|| panic!("{oil:?}"));
    // 15 mL at 0.921 g/mL, as `trace` has it.
    assert!(spoon.detail.starts_with("13.8 g"), "{spoon:?}");
    assert!(!oil.iter().any(|item| item.text == "clove"), "{oil:?}");
}

#[test]
fn states_of_a_food() {
    let found = texts("dish     Mash\ntake     1 cup red kidney beans, |");
    assert!(found.contains(&"dry".to_owned()) && found.contains(&"boiled".to_owned()), "{found:?}");
    let found = texts("dish     Mash\ntake     1 cup red kidney beans, dry, b|");
    assert!(found.iter().all(|state| state.starts_with('b')), "{found:?}");
}

#[test]
fn verbs_ingredients_and_clauses_of_a_step() {
    let verbs = texts(&MASH.replace("step     boil egg for", "step     bo|il egg for"));
    assert!(verbs.contains(&"boil".to_owned()) && verbs.iter().all(|verb| verb.starts_with("bo")), "{verbs:?}");
    let names = texts(&MASH.replace("step     mash sweet potato with egg, oil", "step     mash |"));
    assert_eq!(names.first().unwrap(), "oil", "what no step uses yet comes first: {names:?}");
    for name in ["sweet potato", "egg", "salt", "everything", "with ", "for "] {
        assert!(names.contains(&name.to_owned()), "{name}: {names:?}");
    }
    let second = texts(&MASH.replace("mash sweet potato with egg, oil for", "mash sweet potato with egg, o|"));
    assert_eq!(second, ["oil", "on "]);
    assert_eq!(texts(&MASH.replace("boil egg for 10 min", "boil egg for 10 |")), ["10 min", "10 h", "10 days"]);
    let heat = texts(&MASH.replace("boil egg for 10 min", "boil egg on |"));
    assert_eq!(heat, ["low heat", "medium heat", "high heat"]);
    assert_eq!(texts(&MASH.replace("set aside child portion", "set aside |")).first().unwrap(), "child portion");
    assert!(texts(&MASH.replace("White and yolk are firm.", "White and |")).is_empty(), "in prose");
    // A step of a part sees the part's takes and the parts above it.
    let parts = "dish A\npart filling\ntake 100 g pumpkin\nstep boil pumpkin for 10 min\npart cake\ntake 100 g maize flour\nstep mix |\n";
    let names = texts(parts);
    assert!(names.contains(&"maize flour".to_owned()) && names.contains(&"filling".to_owned()), "{names:?}");
    assert!(!names.contains(&"pumpkin".to_owned()), "{names:?}");
}

#[test]
fn claims_that_hold() {
    let found = proposed(Kind::Dish, &MASH.replace("claim    rich in vitamin A", "claim    |"));
    let texts: Vec<&str> = found.iter().map(|item| item.text.as_str()).collect();
    // Those that `claims` lists in the README's tour.
    for claim in ["rich in protein", "source of phosphorus", "low in sodium", "source of protein"] {
        assert!(texts.contains(&claim), "{claim}: {texts:?}");
    }
    assert!(!texts.contains(&"rich in iron") && !texts.contains(&"source of iron"), "{texts:?}");
    assert!(found.iter().find(|item| item.text == "rich in protein").unwrap().detail.contains("35 %"), "{found:?}");
    // Each of them holds indeed.
    for claim in texts.iter().filter(|claim| !claim.ends_with(' ')) {
        let lone = Lone::dish(&MASH.replace("rich in vitamin A", claim));
        let errors: Vec<_> =
            lone.view().checked.diagnostics.iter().filter(|one| one.code.family() == "claim").collect();
        assert!(errors.is_empty(), "{claim}: {errors:?}");
    }
}

#[test]
fn ages_languages_and_lists() {
    assert!(texts("dish     Mash\nfor      9|\n").contains(&"9 to 23 months".to_owned()));
    assert_eq!(texts("dish     Mash\nfor 9 to 23 months\nportion  |\n"), ["9 to 11 months: ", "12 to 23 months: "],);
    assert!(texts("dish     Mash\nin s|\n").contains(&"sw ".to_owned()));
    assert_eq!(texts("dish     Mash\ndiet     veg|\n"), ["vegetarian", "vegan"]);
    assert_eq!(texts("dish     Mash\nseason   ma|\n"), ["march", "may"]);
    assert!(texts("dish     Mash\nmakes    2 c|\n").contains(&"cup".to_owned()));
}

#[test]
fn a_swap_names_an_ingredient_and_then_foods() {
    assert_eq!(texts(&format!("{MASH}swap     o|\n")), ["oil"]);
    let foods = texts(&format!("{MASH}swap     oil for red palm|\n"));
    assert!(foods.iter().any(|food| food.starts_with("red palm oil")), "{foods:?}");
}
