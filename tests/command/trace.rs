//! `porringer trace`

use crate::{BROKEN, Folder, MASH, exactly};

const WEIGHTS: &str = "\
Pumpkin and groundnut mash

pumpkin: 300 g
    weight     300 g
    row        usda:11422  Pumpkin, raw
    retention  r6:3775 VEG,OTHER,BLD,WATER COVER,DRAINED (code; vegetable, boil-drained)
groundnut paste: 32.46 g
    weight     2 tbsp = 30 mL (metric measures)
    weight     density 1.082 g/mL (USDA SR28 weights)
    row        usda:16398  Peanut butter, smooth style, without salt

raw weight 332.46 g, cooked 360 g
    yield      weighed
hands-on 18 min, in all 18 min
portion 9-11 months: 1/2 cup = 120 g

";

#[test]
fn every_weight_says_how_it_was_found() {
    let folder = Folder::with("mash.dish", MASH);
    assert_eq!(folder.run(&["trace", "mash.dish"]), exactly(0, WEIGHTS, ""));
}

#[test]
fn a_component_is_followed_through_the_dish() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["trace", "mash.dish", "FE"]);
    // 300 g × 0.80 mg × 95 % and 32.46 g × 1.74 mg
    let iron = "\
FE Iron, mg

ingredient       row             g  per 100 g  kept %  brings  share %
pumpkin          usda:11422    300        0.8      95    2.28     80.1
groundnut paste  usda:16398  32.46       1.74     100  0.5648     19.9

whole dish: 2.8448 mg
100 g: 0.7902 mg = 100 × 2.8448 / 360 g
known for 100 % of the weight
";
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.starts_with(&format!("{WEIGHTS}{iron}")), "{}", ran.out);
    let portion = ran.out.lines().rfind(|line| line.starts_with("portion ")).unwrap();
    assert!(portion.starts_with("portion 9-11 months: 0.9483 mg, 8.6 % of 11 mg ("), "{portion}");
    // Names of the program's own code are not for a person.
    assert!(!portion.contains("CheckedOfficial"), "{portion}");
    assert_eq!(folder.run(&["trace", "mash.dish", "fe"]), ran);
}

#[test]
fn a_wrong_tagname_is_a_fault_of_usage() {
    let folder = Folder::with("mash.dish", MASH);
    assert_eq!(
        folder.run(&["trace", "mash.dish", "VITA_REA"]),
        exactly(2, "", "porringer: `VITA_REA` is no INFOODS tagname; did you mean `VITA_RAE`?\n")
    );
    let ran = folder.run(&["trace", "mash.dish", "XQZWJK"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.starts_with("porringer: `XQZWJK` is no INFOODS tagname; there are ENERC_KCAL, "), "{}", ran.err);
}

#[test]
fn what_is_not_known_is_said() {
    let folder = Folder::with("broken.dish", BROKEN);
    let ran = folder.run(&["trace", "broken.dish"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, "porringer: this dish has errors; see `porringer check`\n"));
    assert!(ran.out.contains("zzyzx: weight not known\n"), "{}", ran.out);
    folder.write("first.booklet", "booklet First foods\npage broken\n");
    assert_eq!(
        folder.run(&["trace", "first.booklet"]),
        exactly(2, "", "porringer: `first.booklet` is no dish and no menu\n")
    );
    assert_eq!(folder.run(&["trace"]).code, 2);
}

#[test]
fn what_the_child_does_not_get_is_marked() {
    let folder = Folder::with(
        "stew.dish",
        "dish Stew\nfor 9 to 23 months\nmakes 2 cups\ntake 300 g pumpkin, cubed or carrot, cubed as pumpkin\n\
         take 1 cup water\nfamily 1 tsp iodised salt\nstep boil pumpkin with water for 20 min; mash pumpkin\n\
         step set aside child portion\nstep add iodised salt\n",
    );
    let ran = folder.run(&["trace", "stew.dish", "NA"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert!(ran.out.contains("iodised salt: 6.17 g  (not in the child's portion)\n"), "{}", ran.out);
    assert!(ran.out.contains("    or         carrot 300 g usda:11124  (alternative 1)\n"), "{}", ran.out);
    let component = ran.out.split("NA Sodium").nth(1).unwrap();
    assert!(!component.contains("iodised"), "{component}");
}

/// Each of the 270 codes can be pinned, and acts.
#[test]
fn every_retention_code_can_be_reached() {
    let table =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/src/reference/retention/usda_retention_r6.csv"))
            .unwrap();
    let codes: Vec<&str> = table.lines().skip(1).map(|line| line.split(',').next().unwrap()).collect();
    assert_eq!(codes.len(), 270);
    let mut text = String::from("dish All codes\nfor 12 to 23 months\nmakes 1 portion\ncooked 100 %\n");
    for code in &codes {
        text.push_str(&format!("take 10 g usda:11422 keep r6:{code} as line {code}\n"));
    }
    text.push_str("step mix everything\n");
    let folder = Folder::with("all.dish", text);
    let ran = folder.run(&["trace", "all.dish"]);
    for code in &codes {
        let line = format!("    retention  r6:{code} ");
        assert!(
            ran.out.lines().any(|found| found.starts_with(&line) && found.ends_with("pinned by the author)")),
            "{code}"
        );
    }
}

#[test]
fn heat_without_a_code_is_no_silent_miss() {
    let folder = Folder::with(
        "mash.dish",
        MASH.replace("take     2 tbsp", "take     1 tsp sunflower oil as oil\ntake     2 tbsp")
            .replace("boil pumpkin for", "boil pumpkin with oil for"),
    );
    let ran = folder.run(&["trace", "mash.dish"]);
    assert!(
        ran.out.contains("    retention  none (oil, boil-used: fat and oil hold nothing the table takes off)\n")
            || ran
                .out
                .contains("    retention  none (oil, boil-drained: fat and oil hold nothing the table takes off)\n"),
        "{}",
        ran.out
    );
}

#[test]
fn what_the_author_weighed_wins_over_every_yield() {
    // Potato boils to 92 % of its weight.
    let potato = MASH.replace("pumpkin, peeled, cubed", "potato, peeled, cubed as pumpkin");
    let folder = Folder::with("mash.dish", potato.replace("cooked   360 g\n", ""));
    let estimated = folder.run(&["trace", "mash.dish"]).out;
    assert!(estimated.contains("cooked about "), "{estimated}");
    for (cooked, grams) in [("cooked   111 g\n", "111"), ("cooked   50 %\n", "166.23")] {
        folder.write("mash.dish", potato.replace("cooked   360 g\n", cooked));
        let out = folder.run(&["trace", "mash.dish"]).out;
        assert!(out.contains(&format!("raw weight 332.46 g, cooked {grams} g\n")), "{out}");
        assert!(!out.contains("about"), "{out}");
    }
}
