//! `porringer.toml` and what it names.

use serde_json::Value;

use crate::{Folder, MASH, exactly};

const WATER: &str = "\
dish     Boiled water
for      9 to 11 months
makes    1 cup
cooked   250 g
take     1 cup water
step     boil water for 5 min
";

const OWN: &str = r#"
[[food]]
id = "lake-weed"
en = ["lake weed"]
sw = ["mwani"]
plain = true
row = "lake:7"
class = "greens"
group = "vitamin-a"
density = 0.2
measures_source = "weighed for this test"

[[food]]
id = "water"
en = ["water"]
plain = true
row = "lake:8"
class = "water"
group = "none"
density = 2.0
measures_source = "weighed for this test"
"#;

const LAKE: &str = "food,name,ENERC_KCAL,FE,CA\n7,Lake weed,30,2.0,10\n8,Heavy water,0,0.1,5\n";

/// A workspace with these settings and one dish of water.
fn with(settings: &str) -> Folder {
    let folder = Folder::with("porringer.toml", settings);
    folder.write("recipes/water.dish", WATER);
    folder
}

fn check(settings: &str) -> crate::Ran {
    with(settings).run(&["check", "recipes/water.dish", "--format", "short"])
}

fn card(folder: &Folder, dish: &str) -> Value {
    let ran = folder.run(&["build", dish, "--format", "json", "--out", "data"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let name = folder.names("data").remove(0);
    serde_json::from_slice(&folder.read(&format!("data/{name}"))).unwrap()
}

#[test]
fn the_settings_are_found_upwards() {
    let programme = "programme = \"The lakeshore circle\"\n";
    for at in ["porringer.toml", "recipes/porringer.toml"] {
        let folder = Folder::with(at, programme);
        folder.write("recipes/deep/er/mash.dish", MASH);
        let data = card(&folder, "recipes/deep/er/mash.dish");
        assert_eq!(data["cards"][0]["programme"], "The lakeshore circle", "{at}");
        // The folder for cards counts from the root.
        assert_eq!(folder.run(&["build"]).code, 0);
        assert_eq!(folder.names("out"), ["mash.en.pdf"], "{at}");
    }
    // The nearest counts.
    let folder = Folder::with("porringer.toml", "programme = \"Far\"\n");
    folder.write("near/porringer.toml", "programme = \"Near\"\n");
    folder.write("near/mash.dish", MASH);
    assert_eq!(card(&folder, "near/mash.dish")["cards"][0]["programme"], "Near");
}

#[test]
fn small_print_is_in_the_card_s_language() {
    let folder = Folder::with(
        "porringer.toml",
        "languages = [\"en\", \"sw\", \"fr\"]\nfooter.sw = \"Mguuni\"\nfooter.en = \"At the foot\"\n",
    );
    let small = "source A lake set\nin sw Mkusanyiko wa ziwa\nreviewed 2026-05-01 by nurse\nin fr infirmier\n";
    folder.write("mash.dish", format!("{MASH}{small}"));
    let cards = card(&folder, "mash.dish")["cards"].as_array().unwrap().clone();
    let said = |lang: &str| {
        let card = cards.iter().find(|card| card["lang"] == lang).unwrap();
        (card["footer"].as_str().unwrap().to_owned(), card["back"]["figures"]["lines"].to_string())
    };
    let (en, sw, fr) = (said("en"), said("sw"), said("fr"));
    assert_eq!([&en.0, &sw.0, &fr.0], ["At the foot", "Mguuni", "Mguuni"]);
    assert!(en.1.contains("A lake set") && en.1.contains("by nurse"), "{}", en.1);
    assert!(sw.1.contains("Mkusanyiko wa ziwa") && sw.1.contains("na nurse"), "{}", sw.1);
    assert!(fr.1.contains("A lake set") && fr.1.contains("par infirmier"), "{}", fr.1);
    // Neither a number nor an empty table is a text.
    for wrong in ["footer = 3", "[footer]", "footer = { en = 3 }"] {
        folder.write("porringer.toml", format!("{wrong}\n"));
        let ran = folder.run(&["check", "--format", "short"]);
        assert!(ran.out.contains("`footer` wants a text"), "{wrong}: {ran:?}");
    }
}

#[test]
fn every_key_is_read() {
    let folder = Folder::with(
        "porringer.toml",
        "languages = [\"sw\", \"en\"]\nmeasures = \"us-customary\"\ntables = [\"tables/lake.csv\"]\nlarder = [\"own.toml\"]\n\
         paper = \"A4\"\nout = \"cards\"\nfonts = []\nprogramme = \"The circle\"\nfooter = \"At the foot\"\n",
    );
    folder.write("tables/lake.csv", LAKE);
    folder.write("own.toml", OWN);
    folder.write(
        "recipes/weed.dish",
        "dish Mwani\nin en Lake weed\nfor 9 to 11 months\nmakes 1 cup\ncooked 250 g\ntake 1 cup lake weed\ntake 1 cup water\n\
         step boil lake weed with water for 5 min; mash lake weed\n",
    );
    assert_eq!(folder.run(&["check", "--format", "short"]), exactly(0, "", ""));
    let ran = folder.run(&["build", "--format", "pdf,json"]);
    assert_eq!(ran, exactly(0, "", "porringer: 3 files in cards: no errors\n"));
    assert_eq!(folder.names("cards"), ["weed.en.pdf", "weed.json", "weed.sw.pdf"]);
    let data: Value = serde_json::from_slice(&folder.read("cards/weed.json")).unwrap();
    let cards = data["cards"].as_array().unwrap();
    // The prose is in the first language where the dish does not say.
    assert_eq!((&cards[0]["lang"], &cards[0]["title"]), (&"sw".into(), &"Mwani".into()));
    assert_eq!((&cards[1]["lang"], &cards[1]["title"]), (&"en".into(), &"Lake weed".into()));
    for card in cards {
        assert_eq!(
            (&card["paper"], &card["programme"], &card["footer"]),
            (&"A4".into(), &"The circle".into(), &"At the foot".into())
        );
    }
    // The command line goes before the settings.
    assert_eq!(folder.run(&["build", "--language", "en", "--out", "else"]).code, 0);
    assert_eq!(folder.names("else"), ["weed.en.pdf"]);
}

#[test]
fn a_larder_adds_and_replaces_foods() {
    let folder = Folder::with("porringer.toml", "larder = [\"own.toml\"]\ntables = [\"lake.csv\"]\n");
    folder.write("own.toml", OWN);
    folder.write("lake.csv", LAKE);
    folder.write(
        "weed.dish",
        "dish Weed\nfor 9 to 11 months\nmakes 1 cup\ncooked 500 g\ntake 1 cup lake weed\ntake 1 cup water\n\
         step boil lake weed with water for 5 min; mash lake weed\n",
    );
    let ran = folder.run(&["trace", "weed.dish"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let weights = "\
lake weed: 50 g
    weight     1 cup = 250 mL (metric measures)
    weight     density 0.2 g/mL (weighed for this test)
    row        lake:7  Lake weed
";
    assert!(ran.out.contains(weights), "{}", ran.out);
    let water = "\
water: 500 g
    weight     1 cup = 250 mL (metric measures)
    weight     density 2 g/mL (weighed for this test)
    row        lake:8  Heavy water
";
    assert!(ran.out.contains(water), "{}", ran.out);
    // The national row's own figures, at the greens' retention.
    let figures = folder.run(&["nutrients", "weed.dish", "--format", "json"]).json();
    let energy = figures["nutrients"]["ENERC_KCAL"]["whole"].as_f64().unwrap();
    assert!((energy - 15.0).abs() < 1e-9, "{figures}");
    // Its names in other languages are known too.
    folder.write("weed.dish", WATER.replace("1 cup water", "1 cup mwani").replace("boil water", "boil mwani"));
    assert!(!folder.run(&["check", "weed.dish"]).out.contains("food/"));
    let ran = folder.run(&["foods", "lake weed"]);
    assert!(ran.out.contains("row        lake:7  Lake weed\n"), "{}", ran.out);
    // Other foods are still there.
    assert_eq!(folder.run(&["foods", "pumpkin"]).code, 0);
}

#[test]
fn a_row_that_is_in_no_table_is_told() {
    let folder = Folder::with("porringer.toml", "larder = [\"own.toml\"]\n");
    folder.write("own.toml", OWN);
    folder.write("water.dish", WATER);
    let ran = folder.run(&["check", "water.dish", "--format", "short"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("error[food/no-composition]"), "{ran:?}");
}

#[test]
fn the_measure_standard_changes_grams() {
    for (settings, cup) in [
        ("", "250 g"),
        ("measures = \"metric\"\n", "250 g"),
        ("measures = \"us-customary\"\n", "236.59 g"),
        ("measures = \"us-label\"\n", "240 g"),
    ] {
        let ran = with(settings).run(&["trace", "recipes/water.dish"]);
        assert!(ran.out.contains(&format!("\nwater: {cup}\n")), "{settings}: {}", ran.out);
    }
}

#[test]
fn a_wrong_key_has_its_place_and_the_right_one() {
    let folder = with("# mine\npapre = \"A5\"\n");
    let ran = folder.run(&["check", "--format", "json"]);
    assert_eq!(ran.code, 1);
    let message = &ran.json()[0];
    assert_eq!(message["code"], "workspace/unknown-key");
    assert_eq!(message["file"], "porringer.toml");
    assert_eq!(message["message"], "`papre` is no setting");
    assert_eq!(message["help"], "did you mean `paper`?");
    assert_eq!(message["start"], serde_json::json!({"line": 2, "column": 1, "byte": 7}));
    assert_eq!(message["end"]["byte"], 12);
    assert_eq!(message["fix"]["replacement"], "paper");
    let help = with("zzz = 1\n").run(&["check", "--format", "json"]).json()[0]["help"].clone();
    assert_eq!(
        help,
        "the settings are languages, measures, tables, larder, profile, prices, region, season, paper, template, booklet_template, out, \
         fonts, digits, programme, footer, review_months, rules"
    );
}

#[test]
fn values_of_the_wrong_kind_are_told() {
    for (settings, told) in [
        ("languages = \"en\"", "1:13: error[workspace/unknown-key] `languages` wants a list of language tags"),
        ("languages = []", "1:13: error[workspace/unknown-key] `languages` wants a list of language tags"),
        ("languages = [1]", "1:13: error[workspace/unknown-key] `languages` wants a list of language tags"),
        ("measures = 1", "1:12: error[workspace/unknown-key] `measures` wants one of metric, us-customary, "),
        (
            "measures = \"imperial\"",
            "1:12: error[workspace/unknown-key] `measures` wants one of metric, us-customary, ",
        ),
        ("tables = \"lake.csv\"", "1:10: error[workspace/unknown-key] `tables` wants a list of file names"),
        ("larder = [1]", "1:10: error[workspace/unknown-key] `larder` wants a list of file names"),
        ("fonts = true", "1:9: error[workspace/unknown-key] `fonts` wants a list of file names"),
        ("region = 3", "1:10: error[workspace/unknown-key] `region` wants a region's name"),
        (
            "region = \"east-afrika\"",
            "1:10: error[workspace/unknown-key] `east-afrika` is no region that is known here",
        ),
        ("season = 3", "1:10: error[workspace/unknown-key] `season` wants a table"),
        ("[season]\nmango = 3", "2:9: error[workspace/unknown-key] the season of `mango` wants a text"),
        ("[season]\nmango = \"junne\"", "2:9: error[workspace/unknown-key] `junne` names no months"),
        ("[season]\nmnago = \"june\"", "2:1: error[workspace/unknown-key] no food is called `mnago`"),
        ("profile = 3", "1:11: error[workspace/unknown-key] `profile` wants a file name"),
        ("paper = 5", "1:9: error[workspace/unknown-key] `paper` wants one of A4, A5, A6, Letter"),
        ("paper = \"A7\"", "1:9: error[workspace/unknown-key] `paper` wants one of A4, A5, A6, Letter"),
        ("out = 1", "1:7: error[workspace/unknown-key] `out` wants a folder"),
        ("programme = 1", "1:13: error[workspace/unknown-key] `programme` wants a text"),
        ("footer = []", "1:10: error[workspace/unknown-key] `footer` wants a text"),
        ("paper = ", "1:9: error[workspace/unknown-key] this is not TOML: "),
        ("tables = [\"none.csv\"]", "1:11: error[workspace/table-error] `none.csv` cannot be read: "),
        ("larder = [\"none.toml\"]", "1:11: error[workspace/table-error] `none.toml` cannot be read: "),
        ("profile = \"none.toml\"", "1:11: error[workspace/profile-error] `none.toml` cannot be read: "),
    ] {
        let ran = check(&format!("{settings}\n"));
        assert_eq!(ran.code, 1, "{settings}");
        assert!(ran.out.starts_with(&format!("porringer.toml:{told}")), "{settings}: {}", ran.out);
        assert_eq!(ran.out.lines().count(), 1, "{settings}: {}", ran.out);
    }
    for (settings, help) in [
        ("region = \"east-afrika\"\n", "did you mean `east-africa`?"),
        ("[season]\nmango = \"november to marhc\"\n", "did you mean `march`? it is written like this: "),
        ("[season]\nmnago = \"june\"\n", "did you mean `ripe mango`? "),
        ("[season]\n\"mango, powdered\" = \"june\"\n", "say which: "),
    ] {
        let messages = with(settings).run(&["check", "--format", "json"]).json();
        let told = messages[0]["help"].as_str().unwrap();
        assert!(told.starts_with(help), "{settings}: {told}");
    }
    // All faults of the file at once, in order.
    let ran = check("papre = \"A5\"\nout = 1\nfonst = []\n");
    assert_eq!(ran.out.lines().count(), 3, "{}", ran.out);
    // A language that no card can be made in is no secret until `build`.
    let ran = check("languages = [\"ws\"]\n");
    assert_ne!(ran.code, 0, "{ran:?}");
    assert!(format!("{}{}", ran.out, ran.err).contains("`ws`"), "{ran:?}");
}

#[test]
fn faults_of_named_files_are_told_in_them() {
    let folder = with("larder = [\"own.toml\"]\n");
    folder.write("own.toml", "[[food]]\nid = 3\n");
    let ran = folder.run(&["check", "--format", "short"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.starts_with("own.toml:2:6: error[workspace/table-error] "), "{}", ran.out);
    let folder = with("profile = \"own.toml\"\n");
    folder.write("own.toml", "title = \"x\"\n");
    let ran = folder.run(&["check", "--format", "short"]);
    assert!(ran.out.starts_with("own.toml:1:1: error[workspace/profile-error] "), "{}", ran.out);
    let folder = with("tables = [\"lake.csv\"]\n");
    folder.write("lake.csv", "food,name,FE\n1,a,many\n");
    let ran = folder.run(&["check", "--format", "short"]);
    assert_eq!(ran, exactly(1, "lake.csv:2:5: error[workspace/table-error] `many` is no amount of FE\n", ""));
}

#[test]
fn no_path_leads_out() {
    let secret = LAKE.replace("Lake weed", "Secret");
    for path in ["../lake.csv", "/etc/hosts", "recipes/../../lake.csv", "..", "/"] {
        for (key, value) in [
            ("tables", format!("[\"{path}\"]")),
            ("larder", format!("[\"{path}\"]")),
            ("profile", format!("\"{path}\"")),
            ("out", format!("\"{path}\"")),
        ] {
            let folder = Folder::with("lake.csv", &secret);
            folder.write("space/porringer.toml", format!("{key} = {value}\n"));
            folder.write("space/recipes/water.dish", WATER);
            let ran = folder.run(&["check", "space/recipes/water.dish", "--format", "short"]);
            assert_eq!(ran.code, 1, "{key} {path}: {ran:?}");
            assert!(
                ran.out.starts_with("space/porringer.toml:1:") && ran.out.contains("error[workspace/path-outside] "),
                "{key} {path}: {}",
                ran.out
            );
            assert!(!ran.out.contains("Secret"));
            if key == "out" {
                folder.run(&["build", "space/recipes"]);
            }
            let outside: Vec<String> =
                folder.names("").into_iter().filter(|name| !name.starts_with("space/")).collect();
            assert_eq!(outside, ["lake.csv"], "{key} {path}");
        }
        let folder = with(&format!("fonts = [\"{path}\"]\n"));
        let ran = folder.run(&["check"]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{path}");
        assert_eq!(ran.err, format!("porringer: the font `{path}` is not in the workspace\n"));
    }
}

#[cfg(unix)]
#[test]
fn no_link_leads_out() {
    use std::os::unix::fs::symlink;
    let folder = Folder::with("lake.csv", LAKE);
    folder.write("space/porringer.toml", "tables = [\"link.csv\"]\n");
    folder.write("space/recipes/water.dish", WATER);
    symlink(folder.path("lake.csv"), folder.path("space/link.csv")).unwrap();
    let ran = folder.run(&["check", "space/recipes", "--format", "short"]);
    let told = "space/porringer.toml:1:11: error[workspace/path-outside] `link.csv` leads out of the workspace\n";
    assert_eq!(ran, exactly(1, told, ""));
    // A folder on the way that is a link.
    std::fs::create_dir(folder.path("outside")).unwrap();
    symlink(folder.path("outside"), folder.path("space/cards")).unwrap();
    for out in ["cards", "cards/new"] {
        folder.write("space/porringer.toml", format!("out = \"{out}\"\n"));
        let ran = folder.run(&["build", "space/recipes"]);
        assert_eq!(ran.code, 1, "{out}: {ran:?}");
        assert!(ran.out.starts_with("workspace/path-outside\n"), "{out}: {ran:?}");
        assert_eq!(folder.names("outside"), Vec::<String>::new(), "{out}");
    }
    // Inside it is no fault.
    folder.write("space/tables/lake.csv", LAKE);
    std::fs::remove_file(folder.path("space/link.csv")).unwrap();
    symlink(folder.path("space/tables/lake.csv"), folder.path("space/link.csv")).unwrap();
    folder.write("space/porringer.toml", "tables = [\"link.csv\"]\n");
    assert_eq!(folder.run(&["check", "space/recipes", "--format", "short"]), exactly(0, "", ""));
}

#[test]
fn each_file_keeps_its_own_settings() {
    let folder = Folder::with("a/porringer.toml", "measures = \"metric\"\n");
    folder.write("b/porringer.toml", "measures = \"us-customary\"\n");
    folder.write("a/one.dish", WATER);
    folder.write("b/two.dish", WATER);
    let ran = folder.run(&["nutrients", "a/one.dish", "b/two.dish", "--format", "json"]);
    if ran.code == 2 {
        // Two workspaces in one call may be refused, never mixed.
        return;
    }
    let grams: Vec<f64> = ran
        .out
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap()["raw_g"].as_f64().unwrap().round())
        .collect();
    assert_eq!(grams, [250.0, 237.0]);
}
