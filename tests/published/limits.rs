//! Weights of food at which a portion reaches a day's limit, through the whole
//! program: a little less gives no message, a little more gives it.

use std::fs;
use std::process::Command;

/// Codes that a dish of one portion for 12 to 23 months gives.
fn codes(take: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("limit.dish");
    fs::write(
        &file,
        format!(
            "dish     One portion\nfor      12 to 23 months\nmakes    1 portion\ncooked   150 g\n\
             take     130 g potato, boiled, mashed as potato\ntake     {take} as food\n\
             step     boil potato, food for 10 min; mash everything\n"
        ),
    )
    .unwrap();
    let output =
        Command::new(env!("CARGO_BIN_EXE_porringer")).args(["check", "--format", "short"]).arg(&file).output().unwrap();
    String::from_utf8(output.stdout).unwrap()
}

/// Source: IOM, tolerable upper intake level of preformed retinol, 600 µg a day
/// (checked-secondary). The weights: computed from USDA SR28 in the reference
/// notes this project started from, so this holds the program against another
/// computation of the same figures (computed).
#[test]
fn liver_that_reaches_the_retinol_limit() {
    for (row, grams) in [(13326, 6.4), (5028, 15.1), (10111, 11.1), (17200, 8.0), (23424, 2.9)] {
        let over = |grams: f64| codes(&format!("{grams:.2} g usda:{row}")).contains("safety/retinol-over-limit");
        assert!(!over(grams - 0.11), "usda:{row}, {grams} g less a little");
        assert!(over(grams + 0.11), "usda:{row}, {grams} g and a little");
    }
}

/// Source: SACN and NHS, at most 2 g of salt a day from 1 to 3 years (memory);
/// salt is sodium times 2.5, EU 1169/2011 annex I (memory). Table salt of SR28
/// holds 38758 mg of sodium in 100 g, so 2 g of salt in that sense are 2.064 g
/// of it, less what the potato brings: 130 g at 5 mg in 100 g (computed).
#[test]
fn salt_that_reaches_the_daily_maximum() {
    let limit = (800.0 - 130.0 * 0.05) / 387.58;
    let over = |grams: f64| codes(&format!("{grams:.3} g salt")).contains("safety/salt-over-day");
    assert!(!over(limit - 0.03));
    assert!(over(limit + 0.03));
}

/// A limit cannot rest on an incomplete figure: finger millet flour of a
/// workspace table without sodium.
#[test]
fn an_unknown_sodium_gives_no_verdict() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("own.csv"), "food,name,ENERC_KCAL\n1,own sauce,100\n").unwrap();
    fs::write(folder.path().join("porringer.toml"), "tables = [\"own.csv\"]\n").unwrap();
    let text = |own: &str| {
        format!(
            "dish     One portion\nfor      12 to 23 months\nmakes    1 portion\ncooked   150 g\n\
             take     130 g potato, boiled, mashed as potato\ntake     4 g salt\n{own}\
             step     boil everything for 10 min; mash everything\n"
        )
    };
    let file = folder.path().join("limit.dish");
    let over = |text: String| {
        fs::write(&file, text).unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_porringer"))
            .args(["check", "--format", "short"])
            .arg(&file)
            .output()
            .unwrap();
        String::from_utf8(output.stdout).unwrap().contains("safety/salt-over-day")
    };
    assert!(over(text("")));
    assert!(!over(text("take     10 g own:1, mashed as sauce\n")));
}
