//! `text/prose-contradicts`: the prose puts a food in that no `take` has, so
//! that neither rule nor figure knows of it. Only foods that matter for a
//! small child: honey, salt, sugar, milk, egg, nuts.

use super::Case;
use super::prose::{Prose, any};
use crate::diagnostic::{Code, Diagnostic, Severity, Sink};

/// A food of the prose and how the takes would show it.
struct Kind {
    what: &'static str,
    /// Words for it, by language.
    en: &'static [&'static str],
    sw: &'static [&'static str],
    fr: &'static [&'static str],
    hazards: &'static [&'static str],
    allergens: &'static [&'static str],
    /// Good food: a tip may offer it for another day.
    welcome: bool,
}

const KINDS: [Kind; 6] = [
    Kind {
        what: "honey",
        en: &["honey"],
        sw: &["asali"],
        fr: &["miel"],
        hazards: &["honey"],
        allergens: &[],
        welcome: false,
    },
    Kind {
        what: "salt",
        en: &["salt"],
        sw: &["chumvi"],
        fr: &["sel"],
        hazards: &["salt", "salty"],
        allergens: &[],
        welcome: false,
    },
    Kind {
        what: "sugar",
        en: &["sugar"],
        sw: &["sukari"],
        fr: &["sucre"],
        hazards: &["sugar", "honey"],
        allergens: &[],
        welcome: false,
    },
    Kind {
        what: "milk",
        en: &["milk"],
        sw: &["maziwa"],
        fr: &["lait"],
        hazards: &[],
        allergens: &["milk"],
        welcome: true,
    },
    Kind {
        what: "egg",
        en: &["egg", "eggs"],
        sw: &["yai", "mayai"],
        fr: &["œuf", "œufs", "oeuf", "oeufs"],
        hazards: &["raw-egg"],
        allergens: &["eggs"],
        welcome: true,
    },
    Kind {
        what: "nuts",
        en: &["nut", "nuts", "groundnut", "groundnuts", "peanut", "peanuts", "cashews", "almonds"],
        sw: &["karanga", "njugu", "korosho"],
        fr: &["noix", "arachide", "arachides", "cacahuète", "cacahuètes"],
        hazards: &["whole-nut", "nut-paste"],
        allergens: &["peanuts", "tree-nuts"],
        welcome: true,
    },
];

/// Words of putting in.
const EN: &[&str] =
    &["add", "adding", "sweeten", "season", "sprinkle", "pour", "stir", "mix", "beat", "put", "drizzle"];
const SW: &[&str] = &["ongeza", "tia", "weka", "nyunyizia", "nyunyiza", "changanya", "mimina"];
const FR: &[&str] = &[
    "ajoutez",
    "ajouter",
    "ajoute",
    "versez",
    "verser",
    "mettez",
    "mettre",
    "incorporez",
    "incorporer",
    "saupoudrez",
    "saupoudrer",
    "mélangez",
    "mélanger",
    "sucrez",
    "salez",
];

/// Words that turn the sentence round, or speak of another's food.
const TURNED: &[&str] = &[
    // English
    "no", "not", "never", "t", "without", "instead", "avoid", "free", "leave", "unless", "family", "table", "adult*",
    "rather", "than", // Swahili
    "bila", "usi*", "msi*", "badala", "familia", "mezani", "wazima", // French
    "ne", "n", "pas", "sans", "jamais", "ni", "évitez", "lieu", "famille", "adultes",
];

/// Milks that are no animal's, and things that are named after a food.
const BEFORE: &[&str] = &["breast", "mother", "coconut", "soya", "soy", "rice", "oat", "almond", "nazi", "mama"];
const BEHIND: &[&str] = &["sized", "size", "cup", "ya", "la", "de", "maternel"];

/// How far behind the verb the food may stand, in words.
const REACH: usize = 6;

pub fn check(case: &Case<'_>, texts: &[Prose<'_>], sink: &mut Sink) {
    // A food of a line that could not be read may be just the one.
    if case.tore("take") || case.tore("family") || case.tore("swap") {
        return;
    }
    for prose in texts.iter().filter(|prose| !prose.note) {
        let verbs = match prose.language {
            "en" => EN,
            "sw" => SW,
            "fr" => FR,
            _ => continue,
        };
        for sentence in prose.sentences() {
            // Most sentences put nothing in: the verb is looked for first.
            if !sentence.iter().any(|word| verbs.contains(word)) || sentence.iter().any(|word| any(TURNED, word)) {
                continue;
            }
            let put = KINDS.iter().find(|kind| {
                let names = match prose.language {
                    "en" => kind.en,
                    "sw" => kind.sw,
                    _ => kind.fr,
                };
                goes_in(sentence, verbs, names) && !(prose.tip && kind.welcome) && !taken(case, kind)
            });
            let Some(kind) = put else { continue };
            let mut message = Diagnostic::new(
                Code::TextProseContradicts,
                prose.span,
                format!("the prose puts {} in, and no `take` line has it", kind.what),
            )
            .help(format!("add the `take` line, so that it is counted and checked, or leave the {} out", kind.what));
            if kind.what == "honey" {
                let age = case.reference.profile.hazard("honey").and_then(|row| row.age_under_months).unwrap_or(12);
                if case.dish.months.0 < age {
                    message.severity = Severity::Error;
                    message = message.help(format!("leave it out: no honey in any form under {age} months"));
                }
            }
            sink.push(message);
        }
    }
}

fn goes_in(sentence: &[&str], verbs: &[&str], names: &[&str]) -> bool {
    sentence.iter().enumerate().any(|(at, word)| {
        verbs.contains(word)
            && sentence.iter().enumerate().skip(at + 1).take(REACH).any(|(place, word)| {
                let before = sentence.iter().take(place).rev().find(|word| **word != "s");
                let behind = sentence.get(place + 1);
                names.contains(word)
                    && !before.is_some_and(|word| BEFORE.contains(word))
                    && !behind.is_some_and(|word| BEHIND.contains(word))
            })
    })
}

/// Whether any line of the dish has it, the family's and the swaps included.
fn taken(case: &Case<'_>, kind: &Kind) -> bool {
    let listed = case.dish.ingredients.iter().flat_map(|ingredient| &ingredient.options).any(|choice| {
        let named = |names: &[&str]| {
            let label = crate::resolve::food::label(&choice.option).value.to_lowercase();
            label.split(|c: char| !c.is_alphanumeric()).any(|word| names.contains(&word))
        };
        let food = choice.food.as_ref().is_some_and(|food| {
            kind.hazards.iter().any(|tag| food.has_hazard(tag))
                || food.allergens().iter().any(|own| kind.allergens.contains(&own.as_str()))
                || food
                    .row_name()
                    .to_lowercase()
                    .split(|c: char| !c.is_alphabetic())
                    .any(|word| kind.en.contains(&word))
        });
        food || named(kind.en) || named(kind.sw) || named(kind.fr)
    });
    listed || (kind.what == "salt" && !case.dish.flow.salted.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assess::prose::Words;

    fn puts(text: &str, verbs: &[&str], names: &[&str]) -> bool {
        let puts =
            |sentence: &[&str]| !sentence.iter().any(|word| any(TURNED, word)) && goes_in(sentence, verbs, names);
        Words::of(text).map(puts).contains(&true)
    }

    #[test]
    fn only_what_goes_in_counts() {
        let honey: &[&str] = &["honey"];
        assert!(puts("Sweeten with a spoon of honey.", EN, honey));
        assert!(puts("Add a little honey before you serve.", EN, honey));
        for text in [
            "Add no honey.",
            "Do not add honey or sugar.",
            "Without honey it keeps longer. Add water.",
            "Honey is not for children.",
            "Mix until it is honey-coloured.",
        ] {
            assert!(!puts(text, EN, honey), "{text}");
        }
        assert!(puts("Add cow’s milk.", EN, &["milk"]) && !puts("Add mother’s milk.", EN, &["milk"]));
        assert!(!puts("Add breast milk if it is thick.", EN, &["milk"]));
        assert!(!puts("Put in an egg-sized lump of dough. Add an egg cup of water.", EN, &["egg"]));
        assert!(!puts("Add salt to the family’s plates at the table.", EN, &["salt"]));
        assert!(puts("Tia asali kidogo.", SW, &["asali"]) && !puts("Usitie asali.", SW, &["asali"]));
        assert!(puts("Ajoutez un peu de miel.", FR, &["miel"]) && !puts("N’ajoutez pas de miel.", FR, &["miel"]));
    }
}
