//! What a workspace makes of an imported table.

use std::fs;

use crate::{Folder, samples};

const LAKE: &str = "\
Code,Food name in English,ENERC(kcal),PROCNT(g),FE(mg),CA(mg),ZN(mg),VITC(mg)
01,\"Lake spinach, raw\",23,2.9,[2.7],99,tr,28
02,\"Lake spinach, boiled\",23,3.0,3.6,136,<0.2,9.8
03,\"Shore millet flour\",370,11,8,,1.7,0
04,\"Reed cake\",310,4,1,2,3,4
05,\"Reed cake\",320,4,1,2,3,4
";

fn dish(takes: &str) -> String {
    format!(
        "dish     A bowl\nfor      9 to 11 months\nmakes    1 cup\ncooked   250 g\nportion  1/2 cup\n\n{takes}\n\
         step     mash everything for 3 min\n"
    )
}

fn workspace() -> Folder {
    let folder = Folder::empty();
    folder.write("recipes/porringer.toml", "# the set\npaper = \"A5\" # small\n");
    folder.write("lake.csv", LAKE);
    let ran = folder.run(&["import", "lake.csv", "--as", "lake", "--add"]);
    assert_eq!(ran.code, 0, "{} {}", ran.out, ran.err);
    folder
}

#[test]
fn the_table_is_written_and_named() {
    let folder = workspace();
    assert_eq!(
        folder.read("recipes/porringer.toml"),
        "# the set\npaper = \"A5\" # small\ntables = [\"tables/lake.csv\"]\n"
    );
    let table = folder.read("recipes/tables/lake.csv");
    let lines: Vec<&str> = table.lines().collect();
    assert_eq!(lines[0], "# porringer table 1: composition per 100 g edible portion; blank is unknown, never zero");
    assert!(lines[2].starts_with("# source   lake.csv, SHA-256 "), "{table}");
    assert!(lines.contains(&"# dated    2026-11-25"), "{table}");
    assert!(lines.contains(&"# foods    5"), "{table}");
    assert!(lines.contains(&"food,name,ENERC_KCAL,PROCNT,CA,FE,ZN,VITC"), "{table}");
    assert!(lines.contains(&"01,\"Lake spinach, raw\",23,2.9,99,[2.7],tr,28"), "{table}");
    assert!(lines.contains(&"02,\"Lake spinach, boiled\",23,3,136,3.6,<0.2,9.8"), "{table}");
    // Again: the same bytes, and no second entry.
    let ran = folder.run(&["import", "lake.csv", "--as", "lake", "--add"]);
    assert_eq!(ran.code, 0);
    assert_eq!(folder.read("recipes/tables/lake.csv"), table);
    assert_eq!(folder.read("recipes/porringer.toml").matches("lake.csv").count(), 1);
}

#[test]
fn foods_are_found_by_name_and_states() {
    let folder = workspace();
    let trace = |takes: &str, tag: &str| {
        folder.write("recipes/bowl.dish", dish(takes));
        folder.run(&["trace", "recipes/bowl.dish", tag])
    };
    let ran = trace("take     100 g lake spinach, raw\ntake     50 g lake spinach, boiled as second", "ZN");
    assert!(ran.out.contains("row        lake:01  Lake spinach, raw"), "{}", ran.out);
    assert!(ran.out.contains("row        lake:02  Lake spinach, boiled"), "{}", ran.out);
    let line = |start: &str| ran.out.lines().find(|line| line.starts_with(start)).unwrap_or_default().to_owned();
    assert_eq!(line("lake spinach  lake:01").split_whitespace().nth(4), Some("tr"), "{}", ran.out);
    assert_eq!(line("second ").split_whitespace().nth(3), Some("<0.2"), "{}", ran.out);
    assert!(ran.out.contains("counted as nothing, so that the sum is a lower bound"), "{}", ran.out);
    let ran = trace("take     100 g lake spinach, raw", "FE");
    assert!(ran.out.contains("[2.7]"), "{}", ran.out);
    assert!(ran.out.contains("[ ] the table's own estimate"), "{}", ran.out);
    assert!(ran.out.contains("whole dish: 2.7 mg"), "{}", ran.out);
    // What the national table does not know stays unknown.
    let ran = trace("take     100 g shore millet flour", "CA");
    assert!(ran.out.contains("unknown"), "{}", ran.out);
    assert!(ran.out.contains("known for 0 % of the weight"), "{}", ran.out);
}

#[test]
fn several_foods_of_a_name_are_a_question() {
    let folder = workspace();
    folder.write("recipes/bowl.dish", dish("take     100 g reed cake\ntake     100 g lake spinach as leaf"));
    let ran = folder.run(&["check", "recipes/bowl.dish", "--format", "json"]);
    assert_eq!(ran.code, 1);
    for list in [
        "write one of: `lake:04` (Reed cake), `lake:05` (Reed cake)",
        "write one of: `lake:01` (Lake spinach, raw), `lake:02` (Lake spinach, boiled)",
    ] {
        assert!(ran.out.contains(list), "{}", ran.out);
    }
    // A way of keeping food that no row has is not passed over.
    folder.write("recipes/bowl.dish", dish("take     100 g lake spinach, dried"));
    let ran = folder.run(&["check", "recipes/bowl.dish", "--format", "short"]);
    assert!(ran.out.contains("error[food/unknown]"), "{}", ran.out);
}

/// Larder, then the tables in the order of the settings, then USDA SR28.
#[test]
fn the_order_of_tables_is_the_settings_order() {
    let folder = workspace();
    folder.write("other.csv", "food,name,FE\nx,Shore millet flour,1\ny,Pumpkin,77\nz,\"Spices, poppy seed\",5\n");
    let ran = folder.run(&["import", "other.csv", "--as", "other", "--add"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let row = |take: &str| {
        folder.write("recipes/bowl.dish", dish(&format!("take     100 g {take}")));
        let out = folder.run(&["trace", "recipes/bowl.dish"]).out;
        out.lines().find_map(|line| line.trim().strip_prefix("row        ").map(str::to_owned)).unwrap_or(out)
    };
    assert_eq!(row("shore millet flour"), "lake:03  Shore millet flour");
    assert!(row("pumpkin").starts_with("usda:11422"), "{}", row("pumpkin"));
    assert_eq!(row("\"Spices, poppy seed\""), "other:z  Spices, poppy seed");
    let settings = folder.read("recipes/porringer.toml");
    folder.write(
        "recipes/porringer.toml",
        settings.replace("\"tables/lake.csv\", \"tables/other.csv\"", "\"tables/other.csv\", \"tables/lake.csv\""),
    );
    assert_eq!(row("shore millet flour"), "other:x  Shore millet flour");
}

#[test]
fn a_larder_row_on_an_imported_row_says_what_it_borrows() {
    let folder = workspace();
    folder.write(
        "recipes/larder.toml",
        "[[food]]\nid = \"shore-leaf\"\nen = [\"shore leaf\"]\nrow = \"lake:01\"\n\
         borrowed = \"lake spinach, another leaf of the shore\"\nclass = \"greens\"\ngroup = \"other-plants\"\n\
         density = 0.2\nmeasures_source = \"common practice, no source\"\n",
    );
    let settings = folder.read("recipes/porringer.toml");
    folder.write("recipes/porringer.toml", settings + "larder = [\"larder.toml\"]\n");
    folder.write("recipes/bowl.dish", dish("take     1 cup shore leaf"));
    let ran = folder.run(&["trace", "recipes/bowl.dish", "VITC"]);
    assert!(ran.out.contains("row        lake:01  Lake spinach, raw"), "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("borrowed   lake spinach, another leaf of the shore"), "{}", ran.out);
}

/// A gap is filled only where the author says from what, and figure by figure.
#[test]
fn a_gap_is_filled_only_on_request() {
    let folder = workspace();
    let larder = |fill: &str| {
        folder.write(
            "recipes/larder.toml",
            format!(
                "[[food]]\nid = \"shore-leaf\"\nen = [\"shore leaf\"]\nrow = \"lake:01\"\nclass = \"greens\"\n\
                 group = \"other-plants\"\nmeasures_source = \"common practice, no source\"\n{fill}"
            ),
        );
    };
    let settings = folder.read("recipes/porringer.toml");
    folder.write("recipes/porringer.toml", settings + "larder = [\"larder.toml\"]\n");
    folder.write("recipes/bowl.dish", dish("take     100 g shore leaf"));
    let trace = |tag: &str| folder.run(&["trace", "recipes/bowl.dish", tag]).out;
    larder("");
    assert!(trace("MG").contains("known for 0 % of the weight"), "{}", trace("MG"));
    larder("fill = \"usda:11457\"\n");
    // USDA SR28: raw spinach has 79 mg magnesium and 0.53 mg zinc.
    let out = trace("MG");
    assert!(out.contains("fill       usda:11457  Spinach, raw, where the row says nothing"), "{out}");
    assert!(out.contains("usda:11457 (fill)"), "{out}");
    assert!(out.contains("whole dish: 79 mg"), "{out}");
    // Its own iron stays its own, and its trace of zinc is no gap.
    assert!(trace("FE").contains("whole dish: 2.7 mg"), "{}", trace("FE"));
    assert!(!trace("FE").contains("(fill)"));
    assert!(trace("ZN").contains("known for 0 % of the weight"), "{}", trace("ZN"));
    let ran = folder.run(&["nutrients", "recipes/bowl.dish", "--format", "json"]);
    let report: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(report["nutrients"]["MG"]["estimated"], true);
    assert_eq!(report["nutrients"]["CA"]["estimated"], false);
    larder("fill = \"usda:1\"\n");
    let ran = folder.run(&["check", "recipes/bowl.dish", "--format", "short"]);
    assert!(ran.out.contains("`usda:1` that fills the gaps of `shore leaf` is no USDA row"), "{}", ran.out);
}

#[test]
fn faults_give_one_and_a_table_all_the_same() {
    let folder = Folder::empty();
    folder.write("lake.csv", "food,name,FE\na,A,\"1,5\"\nb,B,2\n");
    let ran = folder.run(&["import", "lake.csv", "--as", "lake"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.starts_with("error: lake.csv row 2, column 3 (FE): `1,5` has a comma"), "{}", ran.out);
    assert!(ran.err.contains("lake.csv imported: 1 error"), "{}", ran.err);
    assert!(folder.read("tables/lake.csv").ends_with("food,name,FE\na,A,\nb,B,2\n"));
    let ran = folder.run(&["import", "lake.csv", "--as", "lake", "--format", "json"]);
    let report: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(report["schema"], "porringer-import/1");
    assert_eq!(report["remarks"][0]["row"], 2);
    assert_eq!(report["remarks"][0]["column"], 3);
    assert_eq!(report["figures"]["unknown"], 1);
}

#[test]
fn calls_that_cannot_work_are_refused() {
    let folder = Folder::empty();
    folder.write("lake.csv", LAKE);
    folder.write("tables/own.csv", "food,name\n1,by hand\n");
    folder.write("empty/readme", "");
    for (arguments, said) in [
        (vec!["import", "gone.csv", "--as", "a"], "cannot be read"),
        (vec!["import", "lake.csv", "--as", "usda"], "cannot name a table"),
        (vec!["import", "lake.csv", "--as", "../a"], "cannot name a table"),
        (vec!["import", "lake.csv", "--as", "own"], "was not written by an import"),
        (vec!["import", "lake.csv", "--as", "a", "--out", "b.csv"], "named after its file"),
        (vec!["import", "lake.csv", "--as", "a", "--map", "gone.toml"], "cannot be read"),
        (vec!["import", "empty", "--as", "a"], "holds no food.csv"),
    ] {
        let ran = folder.run(&arguments);
        assert_eq!(ran.code, 2, "{arguments:?} {}", ran.err);
        assert!(ran.err.contains(said), "{arguments:?} {}", ran.err);
    }
    assert_eq!(folder.read("tables/own.csv"), "food,name\n1,by hand\n");
}

#[test]
fn a_download_s_folder_is_read_as_a_folder() {
    let folder = Folder::empty();
    for entry in fs::read_dir(samples()).unwrap() {
        let path = entry.unwrap().path();
        folder.write(&format!("fdc/{}", path.file_name().unwrap().to_string_lossy()), fs::read(&path).unwrap());
    }
    for source in ["fdc", "fdc/food.csv"] {
        let ran = folder.run(&["import", source, "--as", "fdc"]);
        assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
        assert!(
            ran.out.contains("tables/fdc.csv: 3 foods with 54 components from FoodData Central, CSV"),
            "{}",
            ran.out
        );
        assert!(ran.out.contains("converted  TRP from g to mg"), "{}", ran.out);
    }
    let ran = folder.run(&["import", "fdc/sr-legacy.json", "--as", "legacy"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.contains("2 foods with 54 components from FoodData Central, JSON"), "{}", ran.out);
}

/// What a borrowed row cannot tell of a food is unknown, not the other food's,
/// until a row of its own fills it.
#[test]
fn what_a_borrowed_row_cannot_tell_is_unknown() {
    let folder = Folder::empty();
    folder.write("porringer.toml", "larder = [\"larder.toml\"]\n");
    let larder = |more: &str| {
        folder.write(
            "larder.toml",
            format!(
                "[[food]]\nid = \"reed-root\"\nen = [\"reed root\"]\nrow = \"usda:11601\"\nborrowed = \"yam\"\n\
                 class = \"root\"\ngroup = \"grains\"\nmeasures_source = \"common practice, no source\"\n{more}"
            ),
        );
    };
    folder.write("bowl.dish", dish("take     100 g reed root"));
    let trace = |tag: &str| folder.run(&["trace", "bowl.dish", tag]).out;
    larder("");
    assert!(trace("FE").contains("known for 100 % of the weight"), "{}", trace("FE"));
    larder("unknown = [\"FE\"]\n");
    assert!(trace("FE").contains("known for 0 % of the weight"), "{}", trace("FE"));
    assert!(trace("FE").contains("unknown    FE"), "{}", trace("FE"));
    assert!(trace("CA").contains("known for 100 % of the weight"), "{}", trace("CA"));
    // USDA SR28: raw yam has 0.54 mg of iron, boiled yam 0.52 mg.
    larder("unknown = [\"FE\"]\nfill = \"usda:11602\"\n");
    assert!(trace("FE").contains("usda:11602 (fill)"), "{}", trace("FE"));
    larder("unknown = [\"Fe\"]\n");
    let ran = folder.run(&["check", "bowl.dish", "--format", "short"]);
    assert!(ran.out.contains("`Fe` is no INFOODS tagname"), "{}", ran.out);
}
