//! `porringer translate`

use crate::{Folder, MASH, exactly};

const STUBBED: &str = "\
dish     Pumpkin and groundnut mash
in sw    Boga na karanga
in fr
for      9 to 11 months
makes    1 1/2 cups
cooked   360 g
portion  1/2 cup

take     300 g pumpkin, peeled, cubed
take     2 tbsp groundnut paste, smooth

step     boil pumpkin for 15 min; drain pumpkin
step     mash pumpkin with groundnut paste for 3 min
serve    Warm, within 2 hours.
in sw    Kikiwa vuguvugu, ndani ya saa 2.
in fr
";

#[test]
fn stubs_are_written_in_place_once() {
    let folder = Folder::with("mash.dish", MASH);
    let told = "mash.dish: fr 0 of 2 texts\n  line   3  a stub    title    Pumpkin and groundnut mash\n  \
                line  16  a stub    serve    Warm, within 2 hours.\n";
    let ran = folder.run(&["translate", "mash.dish", "--to", "sw,fr"]);
    let sum = "porringer: 1 file: fr 0 of 2 texts (0 %), sw 2 of 2 texts (100 %)\n";
    assert_eq!(ran, exactly(0, told, sum));
    assert_eq!(String::from_utf8_lossy(&folder.read("mash.dish")), STUBBED);
    // Stubs count as missing and are not written twice.
    assert_eq!(folder.run(&["translate", "mash.dish", "--to", "fr"]).out, told);
    assert_eq!(folder.read("mash.dish"), STUBBED.as_bytes());
    assert_eq!(folder.run(&["format", "--check", "mash.dish"]).code, 0, "a stub is in form");
    assert_eq!(folder.names(""), ["mash.dish"]);
}

#[test]
fn a_check_writes_nothing() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["translate", "--to", "fr", "--check"]);
    let told = "mash.dish: fr 0 of 2 texts\n  line   1  no line   title    Pumpkin and groundnut mash\n  \
                line  13  no line   serve    Warm, within 2 hours.\n";
    assert_eq!(ran, exactly(1, told, "porringer: 1 file: fr 0 of 2 texts (0 %)\n"));
    assert_eq!(folder.read("mash.dish"), MASH.as_bytes());
    assert_eq!(folder.run(&["translate", "--to", "sw", "--check"]).code, 0);
    assert_eq!(folder.run(&["translate", "--to", "en", "--check"]).code, 0, "its own language needs nothing");
}

#[test]
fn a_stub_is_a_missing_text_at_its_line() {
    let folder = Folder::with("mash.dish", STUBBED);
    folder.write("porringer.toml", "languages = [\"en\", \"fr\"]\n");
    let ran = folder.run(&["check", "mash.dish", "--format", "json"]);
    assert_eq!(
        ran.places(),
        ["1:10 allergen/contains", "3:4 text/missing-translation", "16:4 text/missing-translation"]
    );
    // Where the language is not in use, a stub is in nobody's way.
    folder.write("porringer.toml", "languages = [\"en\", \"sw\"]\n");
    assert!(folder.run(&["check", "mash.dish", "--format", "json"]).places() == ["1:10 allergen/contains"]);
}

#[test]
fn a_food_that_the_larder_cannot_name_wants_a_line() {
    let folder = Folder::with("mash.dish", MASH.replace("in sw    ", "in ar    "));
    folder.write("porringer.toml", "languages = [\"en\", \"ar\"]\n");
    let places = folder.run(&["check", "--format", "json"]).places();
    assert_eq!(places, ["1:10 allergen/contains", "8:1 text/missing-translation", "9:1 text/missing-translation"]);
    let named = MASH
        .replace("in sw    ", "in ar    ")
        .replace("peeled, cubed\n", "peeled, cubed\nin ar    qara\n")
        .replace("paste, smooth\n", "paste, smooth\nin ar    maajun\n");
    folder.write("mash.dish", named);
    assert_eq!(folder.run(&["check", "--format", "json"]).places(), ["1:10 allergen/contains"]);
    assert_eq!(folder.run(&["translate", "--to", "ar", "--check"]).code, 0);
}

#[test]
fn a_stub_beside_a_text_or_below_nothing_is_a_fault() {
    let folder = Folder::with("mash.dish", MASH.replace("in sw    Boga na karanga\n", "in sw    Boga\nin sw\n"));
    assert_eq!(folder.run(&["check", "--format", "json"]).code, 1);
    folder.write("mash.dish", MASH.replace("makes    1 1/2 cups\n", "makes    1 1/2 cups\nin sw\n"));
    assert_eq!(folder.run(&["check", "--format", "json"]).places(), ["1:10 allergen/contains", "5:1 syntax/bad-line"]);
}

#[test]
fn coverage_is_data_too() {
    let folder = Folder::with("mash.dish", MASH);
    let value = folder.run(&["translate", "--to", "fr,sw", "--check", "--format", "json"]).json();
    assert_eq!(value["schema"], "porringer-translation/1");
    assert_eq!(value["languages"]["sw"], serde_json::json!({ "texts": 2, "there": 2 }));
    assert_eq!(value["files"][0]["missing"][1]["text"], "Warm, within 2 hours.");
    assert_eq!(value["files"][0]["missing"][1]["line"], 13);
}

#[test]
fn a_language_without_words_is_refused() {
    let folder = Folder::with("mash.dish", MASH);
    for tag in ["xx", "", "s w", "sww"] {
        assert_eq!(folder.run(&["translate", "--to", tag]).code, 2, "{tag}");
    }
    assert_eq!(folder.read("mash.dish"), MASH.as_bytes());
}
