//! `porringer nutrients`

use serde_json::Value;

use crate::{BROKEN, Folder, MASH, exactly};

fn one(folder: &Folder, arguments: &[&str]) -> Value {
    let ran = folder.run(&[&["nutrients"], arguments, &["--format", "json"]].concat());
    assert_eq!(ran.out.lines().count(), 1, "{ran:?}");
    ran.json()
}

fn whole(dish: &Value, tag: &str) -> f64 {
    dish["nutrients"][tag]["whole"].as_f64().unwrap_or_else(|| panic!("{tag}: {dish}"))
}

fn close(left: f64, right: f64) {
    assert!((left - right).abs() < 1e-9 * right.abs().max(1.0), "{left} is not {right}");
}

#[test]
fn json_is_one_unrounded_object_a_line() {
    let folder = Folder::with("a.dish", MASH);
    folder.write("b.dish", MASH);
    let ran = folder.run(&["nutrients", "a.dish", "b.dish", "--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str(), ran.out.lines().count()), (0, "", 2));
    let dish = one(&folder, &["a.dish"]);
    assert_eq!(dish["schema"], "porringer-nutrients/1");
    assert_eq!(dish["id"], "a");
    assert_eq!(dish["title"], "Pumpkin and groundnut mash");
    close(dish["raw_g"].as_f64().unwrap(), 332.46);
    close(dish["cooked_g"].as_f64().unwrap(), 360.0);
    let iron = &dish["nutrients"]["FE"];
    // 300 g × 0.80 mg × 95 %, and 32.46 g × 1.74 mg
    let sum = 300.0 * 0.80 / 100.0 * 0.95 + 32.46 * 1.74 / 100.0;
    close(iron["whole"].as_f64().unwrap(), sum);
    close(iron["per_100g"].as_f64().unwrap(), sum / 3.6);
    close(iron["portions"]["9-11"].as_f64().unwrap(), sum / 3.0);
    assert_eq!((&iron["unit"], &iron["known_share"]), (&"mg".into(), &1.into()));
    assert_eq!(dish["allergens"], serde_json::json!(["peanuts"]));
    assert_eq!(dish["food_groups"], serde_json::json!(["pulses", "vitamin-a"]));
    assert_eq!(dish["minutes"]["hands_on"], serde_json::json!([18, 18]));
    assert_eq!(dish["minutes"]["total"], serde_json::json!([18, 18]));
}

#[test]
fn csv_has_one_row_a_dish_and_component() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["nutrients", "mash.dish", "--format", "csv"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let mut lines = ran.out.lines();
    assert_eq!(
        lines.next(),
        Some("id,title,tag,unit,whole,per_100g,known_share,portion_6-8,portion_9-11,portion_12-23")
    );
    let dish = one(&folder, &["mash.dish"]);
    let figures = dish["nutrients"].as_object().unwrap();
    let rows: Vec<&str> = lines.collect();
    assert_eq!(rows.len(), figures.len());
    for (row, (tag, figure)) in rows.iter().zip(figures) {
        let cells: Vec<&str> = row.split(',').collect();
        assert_eq!(cells[..4], ["mash", "Pumpkin and groundnut mash", tag, figure["unit"].as_str().unwrap()]);
        close(cells[4].parse().unwrap(), figure["whole"].as_f64().unwrap());
        close(cells[5].parse().unwrap(), figure["per_100g"].as_f64().unwrap());
        close(cells[8].parse().unwrap(), figure["portions"]["9-11"].as_f64().unwrap());
        // The dish is not for these.
        assert_eq!((cells[7], cells[9]), ("", ""));
    }
}

#[test]
fn the_table_is_for_a_person() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["nutrients", "mash.dish"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let head = "\
Pumpkin and groundnut mash  (mash.dish)
raw 332 g, cooked 360 g; hands-on 18 min, in all 18 min
                                                   unit  whole dish    100 g  9-11 mo, 120 g
ENERC_KCAL Energy                                  kcal         272       76              91
ENERC_KJ Energy                                    kJ          1228      341             409
WATER Water                                        g         302.74    84.09          100.91
PROCNT Protein                                     g          10.21     2.84            3.40
FAT Fat                                            g          16.97     4.71            5.66
";
    assert!(ran.out.starts_with(head), "{}", ran.out);
    // As many figures as the data has.
    let rows = ran.out.lines().skip(3).take_while(|line| line.starts_with(|c: char| c.is_ascii_uppercase())).count();
    assert_eq!(rows, one(&folder, &["mash.dish"])["nutrients"].as_object().unwrap().len());
}

#[test]
fn without_paths_the_workspace_is_taken() {
    let folder = Folder::with("recipes/mash.dish", MASH);
    folder.write("recipes/first.booklet", "booklet First foods\npage mash\n");
    folder.write("elsewhere.dish", MASH);
    assert_eq!(one(&folder, &[])["id"], "mash");
    let out = folder.run(&["nutrients", "--format", "csv"]).out;
    assert!(out.lines().skip(1).all(|line| line.starts_with("mash,")), "{out}");
}

const TWO: &str = "\
dish     Two of a table
for      12 to 23 months
makes    1 cup
cooked   200 g
take     150 g lake:1 as one
take     50 g lake:2 as two
step     mash everything for 3 min
";

#[test]
fn a_further_table_is_addressed_by_its_stem() {
    let folder = Folder::with("two.dish", TWO);
    folder.write("lake.csv", "food,name,ENERC_KCAL,FE,CA\n1,Lake weed,100,2.0,10\n2,\"Perch, smoked\",40,,0\n");
    let dish = one(&folder, &["two.dish", "--foods", "lake.csv"]);
    close(whole(&dish, "ENERC_KCAL"), 170.0);
    close(whole(&dish, "CA"), 15.0);
    assert_eq!(dish["nutrients"]["CA"]["known_share"], 1);
    // A blank is unknown: what is known is a lower bound.
    close(whole(&dish, "FE"), 3.0);
    assert_eq!(dish["nutrients"]["FE"]["known_share"], 0.75);
    // What no row says is not there at all.
    assert!(dish["nutrients"].get("ZN").is_none());
    let table = folder.run(&["nutrients", "two.dish", "--foods", "lake.csv"]);
    assert_eq!((table.code, table.err.as_str()), (0, ""));
    let expected = "\
Two of a table  (two.dish)
raw 200 g, cooked 200 g; hands-on 3 min, in all 3 min
                   unit  whole dish   100 g  12-23 mo, 150 g
ENERC_KCAL Energy  kcal         170      85              128
CA Calcium         mg            15       8               11
FE Iron            mg        ≥ 3.00  ≥ 1.50           ≥ 2.25
≥ a lower bound: some ingredient's value is not known
not known at all: ZN, VITA_RAE, FOLDFE

";
    assert_eq!(table.out, expected);
    // Byte order mark and CRLF, as spreadsheets write them.
    folder.write(
        "lake.csv",
        "\u{FEFF}food,name,ENERC_KCAL,FE,CA\r\n1,Lake weed,100,2.0,10\r\n2,\"Perch, smoked\",40,,0\r\n",
    );
    assert_eq!(folder.run(&["nutrients", "two.dish", "--foods", "lake.csv"]), table);
}

#[test]
fn a_bad_table_is_told_at_row_and_column() {
    let folder = Folder::with("two.dish", TWO);
    folder.write(
        "lake.csv",
        "food,name,ENERC_KCAL,FE,FEE\n1,Weed,100,2.0,1\n2,Perch,abc,1,1\n1,Weed again,1,1,1\n,Nobody,1,1,1\n3,Minus,1,-5,\n4,\"NaN\",NaN,1e400,\n",
    );
    let faults = "\
lake.csv:1:25: error[workspace/table-error] `FEE` is no INFOODS tagname
lake.csv:3:9: error[workspace/table-error] `abc` is no amount of ENERC_KCAL
lake.csv:4:1: error[workspace/table-error] the food `1` stands twice
lake.csv:5:1: error[workspace/table-error] this row names no food
lake.csv:6:11: error[workspace/table-error] `-5` is no amount of FE
lake.csv:7:9: error[workspace/table-error] `NaN` is no amount of ENERC_KCAL
lake.csv:7:13: error[workspace/table-error] `1e400` is no amount of FE
";
    let ran = folder.run(&["check", "two.dish", "--foods", "lake.csv", "--format", "short"]);
    assert_eq!(ran, exactly(1, faults, ""));
    let ran = folder.run(&["nutrients", "two.dish", "--foods", "lake.csv", "--format", "json"]);
    let told: String = faults.lines().map(|line| format!("porringer: {line}\n")).collect();
    assert_eq!((ran.code, ran.err.as_str()), (1, told.as_str()));
    // The rest of the table is used.
    close(whole(&ran.json(), "FE"), 3.5);
    // A value that stands in an earlier cell of its row is found at its own.
    folder.write("lake.csv", "food,name,ENERC_KCAL,FE\n1,x1,1,x\n2,b,1,1\n");
    let ran = folder.run(&["check", "two.dish", "--foods", "lake.csv", "--format", "short"]);
    assert_eq!(ran.out.lines().next(), Some("lake.csv:2:8: error[workspace/table-error] `x` is no amount of FE"));
    // No table, no column `food`, not text.
    assert_eq!(folder.run(&["nutrients", "two.dish", "--foods", "none.csv"]).code, 2);
    folder.write("lake.csv", "id,name,FE\n1,a,1\n");
    let ran = folder.run(&["check", "two.dish", "--foods", "lake.csv", "--format", "short"]);
    assert!(ran.out.contains("lake.csv:1:1: error[workspace/table-error] the table has no column `food`\n"), "{ran:?}");
    folder.write("lake.csv", b"food,name,FE\n1,\xff,1\n");
    let ran = folder.run(&["nutrients", "two.dish", "--foods", "lake.csv"]);
    assert_eq!(ran, exactly(2, "", "porringer: `lake.csv` is not UTF-8 text\n"));
}

#[test]
fn a_dish_in_a_dish_brings_its_figures() {
    let folder = Folder::with(
        "recipes/sauce.dish",
        "dish Sauce\nfor 9 to 11 months\nmakes 1 cup\ncooked 250 g\ntake 100 g pumpkin, grated\ntake 150 g water\n\
         step boil pumpkin with water for 5 min\n",
    );
    let with = "dish With sauce\nfor 9 to 11 months\nmakes 1/2 cup\ncooked 125 g\ntake 1/2 cup dish sauce\n\
        step warm sauce for 2 min\n";
    folder.write("recipes/with.dish", with);
    let sauce = one(&folder, &["recipes/sauce.dish"]);
    let dish = one(&folder, &["recipes/with.dish"]);
    // The sauce weighs 250 g a cup, so half a cup is half of it.
    close(dish["raw_g"].as_f64().unwrap(), 125.0);
    close(whole(&sauce, "VITA_RAE"), 100.0 * 4.26 * 0.95);
    for tag in ["VITA_RAE", "ENERC_KCAL", "FE"] {
        close(whole(&dish, tag), whole(&sauce, tag) / 2.0);
    }
    folder.write("recipes/with.dish", with.replace("1/2 cup dish", "50 g dish"));
    close(whole(&one(&folder, &["recipes/with.dish"]), "VITA_RAE"), 404.7 / 5.0);
    // By its id where it has one.
    folder.write(
        "recipes/sauce.dish",
        "dish S\nid plain\nfor 9 to 11 months\ncooked 100 g\ntake 100 g pumpkin, grated\nstep boil pumpkin for 5 min\n",
    );
    folder.write("recipes/with.dish", with.replace("1/2 cup dish sauce", "50 g dish plain as sauce"));
    assert!(whole(&one(&folder, &["recipes/with.dish"]), "VITA_RAE") > 0.0);
}

#[test]
fn a_dish_in_a_dish_is_as_fine_as_it_was_made() {
    let folder = Folder::with(
        "recipes/sauce.dish",
        "dish Sauce\nfor 9 to 11 months\nmakes 1 cup\ncooked 250 g\ntake 100 g pumpkin, grated\ntake 150 g water\n\
         step boil pumpkin with water for 5 min; mash pumpkin\n",
    );
    folder.write(
        "recipes/with.dish",
        "dish With sauce\nfor 9 to 11 months\nmakes 1/2 cup\ncooked 125 g\ntake 1/2 cup dish sauce\n\
         step warm sauce for 2 min\n",
    );
    assert_eq!(folder.run(&["check", "recipes", "--format", "short"]), exactly(0, "", ""));
}

#[test]
fn alternatives_leave_the_figures_of_the_first() {
    let folder = Folder::with("mash.dish", MASH);
    let plain = folder.run(&["nutrients", "mash.dish", "--format", "csv"]);
    folder.write(
        "mash.dish",
        MASH.replace("pumpkin, peeled, cubed", "pumpkin, peeled, cubed or carrot, cubed as pumpkin"),
    );
    assert_eq!(folder.run(&["nutrients", "mash.dish", "--format", "csv"]), plain);
    folder.write("mash.dish", format!("{MASH}swap pumpkin for carrot\n"));
    assert_eq!(folder.run(&["nutrients", "mash.dish", "--format", "csv"]), plain);
    folder.write(
        "mash.dish",
        MASH.replace("300 g pumpkin, peeled, cubed", "300 g carrot, cubed or pumpkin, peeled, cubed as pumpkin"),
    );
    assert_ne!(folder.run(&["nutrients", "mash.dish", "--format", "csv"]), plain);
}

#[test]
fn what_goes_in_after_the_child_is_served_is_not_counted() {
    let folder = Folder::with("mash.dish", MASH.replace("cooked   360 g\n", ""));
    let plain = one(&folder, &["mash.dish"]);
    let family = MASH.replace("cooked   360 g\n", "").replace(
        "serve ",
        "family 1 tsp iodised salt\nfamily 2 tbsp ghee\nstep set aside child portion\nstep add iodised salt, ghee\nserve ",
    );
    folder.write("mash.dish", family);
    let dish = one(&folder, &["mash.dish"]);
    assert_eq!(folder.run(&["check", "mash.dish", "--format", "short"]), exactly(0, "", ""));
    for key in ["raw_g", "cooked_g", "nutrients", "allergens", "food_groups"] {
        assert_eq!(dish[key], plain[key], "{key}");
    }
}

#[test]
fn a_missing_ingredient_is_not_passed_over() {
    let folder = Folder::with("broken.dish", BROKEN);
    let ran = folder.run(&["nutrients", "broken.dish", "--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, "porringer: broken.dish:5:16: no food is called `zzyzx`\n"));
    assert_eq!(ran.json()["uncounted"], serde_json::json!(["zzyzx"]));
    let ran = folder.run(&["nutrients", "broken.dish"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("\nnot counted: zzyzx\n"), "{}", ran.out);
    // Where only a rule objects, all can be computed.
    folder.write(
        "honey.dish",
        "dish A\nfor 6 to 8 months\nmakes 1 cup\ncooked 20 g\ntake 20 g honey\nstep warm honey for 5 min\n",
    );
    assert_eq!(folder.run(&["check", "honey.dish"]).code, 1);
    let ran = folder.run(&["nutrients", "honey.dish", "--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
}

#[test]
fn a_spreadsheet_runs_nothing() {
    for title in ["=HYPERLINK(\"http://x\")", "+1", "-1", "@SUM(A1)"] {
        let folder = Folder::with("a.dish", MASH.replace("Pumpkin and groundnut mash", title));
        let ran = folder.run(&["nutrients", "a.dish", "--format", "csv"]);
        let guarded = format!("'{title}");
        let cell = if title.contains('"') { format!("\"{}\"", guarded.replace('"', "\"\"")) } else { guarded };
        assert!(ran.out.lines().nth(1).unwrap().starts_with(&format!("a,{cell},ENERC_KCAL,")), "{}", ran.out);
        // JSON is no spreadsheet.
        assert_eq!(one(&folder, &["a.dish"])["title"], title);
    }
    let folder = Folder::with("a.dish", format!("{MASH}id -1\n"));
    let ran = folder.run(&["nutrients", "a.dish", "--format", "csv"]);
    assert!(ran.out.lines().nth(1).unwrap().starts_with("'-1,"), "{}", ran.out);
}

#[test]
fn ranges_of_quantity_have_two_ends() {
    let folder = Folder::with("mash.dish", MASH.replace("2 tbsp groundnut", "2 to 3 tbsp groundnut"));
    let dish = one(&folder, &["mash.dish"]);
    let iron = &dish["nutrients"]["FE"];
    // 300 g × 0.80 mg × 95 %, and 15 mL × 1.082 g/mL × 1.74 mg a spoon; the
    // cooked weight is the author's.
    let sum = |spoons: f64| 300.0 * 0.80 / 100.0 * 0.95 + spoons * 15.0 * 1.082 * 1.74 / 100.0;
    for (end, spoons) in [("low", 2.0), ("high", 3.0)] {
        close(iron[end]["whole"].as_f64().unwrap(), sum(spoons));
        close(iron[end]["per_100g"].as_f64().unwrap(), sum(spoons) / 3.6);
        close(iron[end]["portions"]["9-11"].as_f64().unwrap(), sum(spoons) / 3.0);
    }
    close(iron["whole"].as_f64().unwrap(), sum(2.5));
    let table = folder.run(&["nutrients", "mash.dish"]).out;
    assert!(table.contains("at the ends of the ranges of quantity"), "{table}");
    assert!(table.lines().any(|line| line.starts_with("FAT ") && line.contains("9-11 mo 5.66 to ")), "{table}");
    let trace = folder.run(&["trace", "mash.dish", "FE"]).out;
    assert!(trace.contains("ranges: raw 332.46 to 348.69 g, cooked 360 g\n"), "{trace}");
    assert!(trace.contains(&format!("    whole dish  {:.4} to {:.4} mg\n", sum(2.0), sum(3.0))), "{trace}");
    // Without a range there is nothing to say.
    folder.write("mash.dish", MASH);
    let plain = one(&folder, &["mash.dish"]);
    assert!(plain["nutrients"]["FE"].get("low").is_none());
    assert!(!folder.run(&["nutrients", "mash.dish"]).out.contains("ranges"));
}

#[test]
fn a_range_in_a_dish_travels_into_the_dish_that_takes_it() {
    let folder = Folder::with(
        "recipes/sauce.dish",
        "dish Sauce\nfor 9 to 11 months\nmakes 1 cup\ncooked 250 g\ntake 100 to 200 g pumpkin, grated\ntake 100 g water\n\
         step boil pumpkin with water for 5 min; mash everything\n",
    );
    folder.write(
        "recipes/with.dish",
        "dish With sauce\nfor 9 to 11 months\nmakes 1/2 cup\ncooked 125 g\ntake 125 g dish sauce\nstep warm sauce for 2 min\n",
    );
    let sauce = one(&folder, &["recipes/sauce.dish"]);
    let dish = one(&folder, &["recipes/with.dish"]);
    for end in ["low", "high"] {
        let of = |dish: &Value| dish["nutrients"]["VITA_RAE"][end]["whole"].as_f64().unwrap();
        close(of(&dish), of(&sauce) / 2.0);
    }
}

#[test]
fn each_alternative_is_computed() {
    let folder = Folder::with(
        "mash.dish",
        format!(
            "{}swap groundnut paste for 1 tbsp sesame paste\n",
            MASH.replace("cubed", "cubed or carrot, cubed as pumpkin")
        ),
    );
    let with = |text: &str| {
        folder.write("other.dish", text);
        one(&folder, &["other.dish"])
    };
    let dish = one(&folder, &["mash.dish", "--alternatives"]);
    let list = dish["alternatives"].as_array().unwrap();
    assert_eq!(list.iter().map(|one| one["by"].as_str().unwrap()).collect::<Vec<_>>(), ["or", "swap"], "{list:?}");
    assert_eq!(list[0]["food"], "carrot, cubed");
    let carrot = with(&MASH.replace("pumpkin, peeled, cubed", "carrot, cubed as pumpkin"));
    for tag in ["ENERC_KCAL", "VITA_RAE", "FE"] {
        let found = &list[0]["nutrients"][tag];
        close(found["whole"].as_f64().unwrap(), whole(&carrot, tag));
        let portion = |dish: &Value| dish["nutrients"][tag]["portions"]["9-11"].as_f64().unwrap();
        close(found["difference"]["9-11"].as_f64().unwrap(), portion(&carrot) - portion(&dish));
    }
    // The least and most over all four combinations.
    let both = with(
        &MASH
            .replace("pumpkin, peeled, cubed", "carrot, cubed as pumpkin")
            .replace("2 tbsp groundnut paste, smooth", "1 tbsp sesame paste as groundnut paste"),
    );
    let ends = &dish["combinations"]["nutrients"]["ENERC_KCAL"];
    let energies = [
        whole(&dish, "ENERC_KCAL"),
        whole(&carrot, "ENERC_KCAL"),
        whole(&both, "ENERC_KCAL"),
        list[1]["nutrients"]["ENERC_KCAL"]["whole"].as_f64().unwrap(),
    ];
    close(ends["low"]["whole"].as_f64().unwrap(), energies.iter().copied().fold(f64::INFINITY, f64::min));
    close(ends["high"]["whole"].as_f64().unwrap(), energies.iter().copied().fold(0.0, f64::max));
    let table = folder.run(&["nutrients", "mash.dish", "--alternatives"]);
    assert_eq!((table.code, table.err.as_str()), (0, ""));
    assert!(table.out.contains("with carrot, cubed (or, 300 g) for pumpkin: cooked 360 g\n"), "{}", table.out);
    assert!(table.out.contains("a portion over every combination of these, least to most\n"), "{}", table.out);
    let csv = folder.run(&["nutrients", "mash.dish", "--alternatives", "--format", "csv"]).out;
    assert!(csv.lines().next().unwrap().ends_with(",alternative,difference_6-8,difference_9-11,difference_12-23"));
    let rows: Vec<csv::StringRecord> =
        csv::Reader::from_reader(csv.as_bytes()).records().collect::<Result<_, _>>().unwrap();
    let names: std::collections::BTreeSet<&str> = rows.iter().map(|row| &row[10]).collect();
    assert_eq!(names.into_iter().collect::<Vec<_>>(), ["", "carrot, cubed", "sesame paste"]);
    // Without alternatives it says so.
    folder.write("mash.dish", MASH);
    let plain = folder.run(&["nutrients", "mash.dish", "--alternatives"]).out;
    assert!(plain.ends_with("Pumpkin and groundnut mash has no alternatives\n\n"), "{plain}");
}

#[test]
fn a_dish_in_a_dish_counts_its_time() {
    let folder = Folder::with(
        "recipes/sauce.dish",
        "dish Sauce\nfor 9 to 11 months\nmakes 1 cup\ncooked 250 g\ntake 100 g pumpkin, grated\ntake 150 g water\n\
         step boil pumpkin with water for 20 min; mash pumpkin\nstep cool pumpkin for 10 min\n",
    );
    let with = "dish With sauce\nfor 9 to 11 months\nmakes 1/2 cup\ncooked 125 g\ntake 100 g dish sauce\n\
        take 25 g egg\nstep boil egg for 8 min; mash egg\nstep warm sauce with egg for 2 min\n";
    folder.write("recipes/with.dish", with);
    let minutes = one(&folder, &["recipes/with.dish"])["minutes"].clone();
    // 30 min for the sauce, in which the egg boils, then 2 min.
    assert_eq!(minutes, serde_json::json!({ "hands_on": [30, 30], "total": [32, 32] }));
    // Taken on two lines it is made once.
    let twice = with
        .replace("take 25", "take 20 g dish sauce as more sauce\ntake 25")
        .replace("sauce with", "sauce, more sauce with");
    folder.write("recipes/with.dish", twice);
    assert_eq!(one(&folder, &["recipes/with.dish"])["minutes"], minutes);
}
