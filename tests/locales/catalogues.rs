//! Every catalogue has the keys, the placeables and the plural forms it needs.

use std::collections::{BTreeMap, BTreeSet};

use fluent_bundle::FluentResource;
use porringer::card::Locale;
use porringer::card::locale::{catalogue, languages};

/// One message: what it prints between braces, and its plural variants.
#[derive(Debug, Default, PartialEq, Eq)]
struct Message {
    placeables: BTreeSet<String>,
    /// Of each select on `$n`: its variants.
    plurals: Vec<BTreeSet<String>>,
}

/// A catalogue by key. The text is read here without the library that the
/// program reads it with: lines that begin with a letter begin a message.
fn messages(text: &str) -> BTreeMap<String, Message> {
    let mut all: BTreeMap<String, Message> = BTreeMap::new();
    let mut key = String::new();
    for line in text.lines() {
        if line.starts_with('#') {
            continue;
        }
        if line.starts_with(|c: char| c.is_ascii_alphabetic()) {
            let (own, _) = line.split_once(" =").unwrap_or_else(|| panic!("no message: {line}"));
            assert!(all.insert(own.to_owned(), Message::default()).is_none(), "{own} stands twice");
            key = own.to_owned();
        }
        let Some(message) = all.get_mut(&key) else { continue };
        if line.contains("$n ->") {
            message.plurals.push(BTreeSet::new());
        }
        if let Some(variant) = line.trim().strip_prefix("*[").or_else(|| line.trim().strip_prefix('['))
            && let Some((name, _)) = variant.split_once(']')
            && let Some(open) = message.plurals.last_mut()
        {
            open.insert(name.to_owned());
        }
        for (at, _) in line.match_indices("{ $") {
            let rest = &line[at + 3..];
            let name: String = rest.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
            if !rest[name.len()..].starts_with(" ->") {
                message.placeables.insert(name);
            }
        }
    }
    all
}

/// Placeables that a language may use or leave: the program gives them wherever
/// one of them is used.
const FREE: &[(&str, &[&str])] = &[
    // Clocks differ: Swahili counts from sunrise and names the part of the day.
    ("clock", &["hour", "swahili", "minute", "part"]),
    ("clock-hour", &["hour", "swahili"]),
    // A language may say "the day before", "half the dish" in words.
    ("start-days", &["count"]),
    ("portion-share", &["count"]),
];

#[test]
fn catalogues_have_the_same_keys_and_placeables() {
    let english = messages(catalogue("en").unwrap());
    assert!(english.len() > 350, "{}", english.len());
    assert_eq!(languages().collect::<Vec<_>>(), ["en", "sw", "fr", "hi", "am", "ar"]);
    for tag in languages() {
        let text = catalogue(tag).unwrap();
        if let Err((_, errors)) = FluentResource::try_new(text.to_owned()) {
            panic!("{tag}: {errors:?}");
        }
        let own = messages(text);
        let missing: Vec<_> = english.keys().filter(|key| !own.contains_key(*key)).collect();
        let extra: Vec<_> = own.keys().filter(|key| !english.contains_key(*key)).collect();
        assert!(missing.is_empty() && extra.is_empty(), "{tag}: missing {missing:?}, extra {extra:?}");
        for (key, message) in &own {
            let free = FREE.iter().find(|(name, _)| name == key).map_or(&[][..], |(_, free)| free);
            let fixed = |message: &Message| -> BTreeSet<String> {
                let names = message.placeables.iter().filter(|name| !free.contains(&name.as_str()));
                // The nutrient's tag serves a choice of words, never print.
                names.filter(|name| *name != "tag").cloned().collect()
            };
            assert_eq!(fixed(message), fixed(&english[key]), "{tag}: {key}");
        }
    }
}

#[test]
fn plurals_have_the_forms_of_cldr() {
    let english = messages(catalogue("en").unwrap());
    for tag in languages() {
        let locale = Locale::new(tag).unwrap();
        // What a kitchen counts; some languages have a form for millions.
        let mut needed: BTreeSet<String> = BTreeSet::new();
        for number in (0..=111).map(f64::from).chain([0.25, 0.5, 1.5, 2.5, 10.5]) {
            needed.insert(format!("{:?}", locale.form(number)).to_lowercase());
        }
        let mut seen = 0;
        for (key, message) in messages(catalogue(tag).unwrap()) {
            for variants in &message.plurals {
                assert_eq!(*variants, needed, "{tag}: {key}");
                seen += 1;
                // `$n` chooses the form and may stand for another number.
                assert!(!message.placeables.contains("n"), "{tag}: {key} prints `$n`; give it the number as text");
            }
            // A word that changes in English may stand still elsewhere, but
            // then on purpose: units always say their forms.
            let counted = english.get(&key).is_some_and(|own| !own.plurals.is_empty());
            let unit = key.starts_with("unit-");
            assert!(!(counted && unit && message.plurals.is_empty()), "{tag}: {key} has no plural forms");
        }
        assert!(seen > 20, "{tag}: {seen}");
    }
}

#[test]
fn drafts_say_so() {
    for tag in ["hi", "am", "ar"] {
        let head: String = catalogue(tag).unwrap().lines().take_while(|line| line.starts_with('#')).collect();
        assert!(head.contains("DRAFT") && head.contains("mother-tongue reader"), "{tag}: {head}");
    }
}
