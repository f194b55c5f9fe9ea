//! What is told of a thing.

use porringer::lsp::hover::hover;
use porringer::syntax::Kind;

use crate::{Lone, MASH};

#[track_caller]
fn told(text: &str, word: &str) -> String {
    let at = text.find(word).expect(word);
    hover(&Lone::dish(text).view(), at + 1).unwrap_or_else(|| panic!("nothing of {word}")).text
}

#[track_caller]
fn says(text: &str, parts: &[&str]) {
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in parts {
        assert!(plain.contains(part), "{part}:\n{text}");
    }
}

#[test]
fn a_food_with_its_row_and_what_it_brings() {
    // The figures are those of `trace … VITA_RAE` in the README's tour.
    let text = told(MASH, "orange sweet potato");
    says(
        &text,
        &[
            "orange sweet potato: 281 g",
            "row usda:11507 Sweet potato, raw, unprepared",
            "weight 2 cup = 500 mL (metric measures)",
            "retention r6:3709 SWEETPOTATOES,BLD(PARED)WATER USED",
            "Vitamin A (RAE) µg 709 1893 93.1 %",
        ],
    );
    // The same from a step.
    assert_eq!(told(MASH, "sweet potato for 20 min"), text);
    says(&told(MASH, "iodised salt"), &["not in the child's portion"]);
}

#[test]
fn a_food_that_is_not_known_says_so() {
    let text = MASH.replace("sunflower oil", "zzyzx");
    says(&told(&text, "zzyzx"), &["no figures"]);
    says(&told(MASH, "2 eggs"), &["88 g"]);
}

#[test]
fn a_claim_with_its_proof() {
    says(
        &told(MASH, "rich in vitamin A"),
        &["rich in vitamin A: holds", "9-11 portion 110 g 508.4 µg 150 µg = 30 % of 500 µg holds"],
    );
    let text = MASH.replace("rich in vitamin A", "rich in iron");
    says(&told(&text, "rich in iron"), &["rich in iron: does not hold", "short of it"]);
}

#[test]
fn a_step_with_its_times_and_its_verb() {
    says(
        &told(MASH, "boil egg"),
        &[
            "boil: heats; what heat keeps is looked up as boil-used",
            "work 10 min",
            "the whole dish: 33 min, work 33 min",
        ],
    );
    says(&told(MASH, "for 20 min, until"), &["from 0 min to 20 min after the start"]);
    assert!(hover(&Lone::dish(MASH).view(), MASH.find("White and").unwrap()).is_none(), "prose says all itself");
}

#[test]
fn a_portion_and_a_keyword() {
    says(&told(MASH, "9 to 11 months: 1/2"), &["cooked 440 g", "9-11 125 mL 110", "12-23 188 mL 165"]);
    says(&told(MASH, "makes"), &["written like this: makes 3 cups"]);
}

#[test]
fn a_food_of_a_menu() {
    let text = "menu     A day\nfor      12 to 23 months, breastfed\nmeal     7:00 breakfast: 1/2 cup plain yogurt, 1 slice white bread\n";
    let lone = Lone::of(Kind::Menu, text);
    let told = hover(&lone.view(), text.find("yogurt").unwrap()).unwrap().text;
    // As `menu check` in the README: 130 g, 79 kcal.
    says(&told, &["plain yogurt", "12-23 125 mL 130 79"]);
}
