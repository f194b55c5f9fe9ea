//! The grammar for editors without a server: it knows every keyword, verb and
//! unit of the real one, and no other.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use porringer::quantity::unit::SPELLINGS;
use porringer::reference::process::PROCESSES;
use porringer::syntax::{Kind, keywords};
use serde_json::Value;

fn grammar() -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/dish.tmLanguage.json");
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// The words of the list of alternatives that holds one of them.
fn words(pattern: &str, one: &str) -> BTreeSet<String> {
    let pattern = pattern.replace("\\s+", " ").replace('\\', "");
    let lists = pattern.split(['(', ')']).map(|list| list.split('|').map(str::to_owned).collect::<BTreeSet<_>>());
    lists.into_iter().find(|list| list.contains(one)).unwrap_or_else(|| panic!("{one} in {pattern}"))
}

#[test]
fn keywords_are_those_of_the_real_grammar() {
    let grammar = grammar();
    let mut found = BTreeSet::new();
    for (rule, one) in [("step", "step"), ("take", "take"), ("translation", "in"), ("prose", "tip"), ("line", "claim")]
    {
        let begin = grammar["repository"][rule]["begin"].as_str().unwrap();
        for word in words(begin, one) {
            assert!(found.insert(word.clone()), "{word} stands in two rules");
        }
    }
    let real: BTreeSet<String> = Kind::ALL.into_iter().flat_map(keywords).map(|word| (*word).to_owned()).collect();
    assert_eq!(found, real);
}

#[test]
fn verbs_and_units_are_those_of_the_real_grammar() {
    let grammar = grammar();
    let verbs = words(grammar["repository"]["process"]["match"].as_str().unwrap(), "boil");
    let real: BTreeSet<String> = PROCESSES.iter().map(|process| process.word.to_owned()).collect();
    assert_eq!(verbs, real);
    let units = words(grammar["repository"]["number"]["match"].as_str().unwrap(), "cup");
    for (unit, _) in SPELLINGS {
        assert!(units.contains(*unit), "{unit}");
    }
}

#[test]
fn every_rule_that_is_named_is_there_and_is_used() {
    fn names(value: &Value, found: &mut BTreeSet<String>) {
        match value {
            Value::Object(map) => {
                for (key, value) in map {
                    match (key.as_str(), value) {
                        ("include", Value::String(name)) => {
                            found.insert(name.trim_start_matches('#').to_owned());
                        }
                        _ => names(value, found),
                    }
                }
            }
            Value::Array(list) => list.iter().for_each(|value| names(value, found)),
            _ => {}
        }
    }
    let grammar = grammar();
    let mut named = BTreeSet::new();
    names(&grammar, &mut named);
    let there: BTreeSet<String> = grammar["repository"].as_object().unwrap().keys().cloned().collect();
    assert_eq!(named, there);
    let endings: Vec<&str> = grammar["fileTypes"].as_array().unwrap().iter().map(|end| end.as_str().unwrap()).collect();
    assert_eq!(endings, Kind::ALL.map(Kind::word));
}
