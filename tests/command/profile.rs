//! `porringer profile`, amending profiles, and rules that a workspace changes.

use serde_json::Value;

use crate::{Folder, exactly};

const OWN: &str = r#"
extends = "default"

[profile]
id = "halamoya"
title = "Halamoya guidance"
edition = "2026"
note = "An invented place."
"#;

/// Salted, for children of 9 to 11 months.
const SALTED: &str = "\
dish     Pumpkin and groundnut mash
for      9 to 11 months
makes    1 1/2 cups
cooked   360 g
portion  1/2 cup
reviewed 2026-05-01 by nutritionist

take     300 g pumpkin, peeled, cubed
take     2 tbsp groundnut paste, smooth
take     1 pinch iodised salt as salt

step     boil pumpkin for 15 min; drain pumpkin
step     mash pumpkin with groundnut paste, salt for 3 min
serve    Warm, within 2 hours.
";

fn amended(rows: &str) -> Folder {
    let folder = Folder::with("porringer.toml", "profile = \"national.toml\"\n");
    folder.write("national.toml", format!("{OWN}{rows}"));
    folder.write(
        "recipes/mash.dish",
        SALTED.replace("take     1 pinch", "family   1 pinch").replace(
            "groundnut paste, salt for 3 min\n",
            "groundnut paste for 3 min\nstep     set aside child portion\nstep     add salt\n",
        ),
    );
    folder
}

fn check(rows: &str) -> String {
    let ran = amended(rows).run(&["check", "--format", "short"]);
    assert_eq!(ran.code, i32::from(!ran.out.is_empty()), "{ran:?}");
    ran.out
}

const IRON: &str = r#"
[[intake]]
tag = "FE"
band = "9-11"
value = 22
unit = "mg"
kind = "rni"
stated_for = "7-12 months"
source = "Halamoya nutrient table"
year = 2026
status = "checked-official"
"#;

fn figures(folder: &Folder) -> Value {
    let ran = folder.run(&["build", "--format", "json", "--out", "data"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    serde_json::from_slice(&folder.read("data/mash.json")).unwrap()
}

fn iron_share(folder: &Folder) -> f64 {
    let data = figures(folder);
    let groups = data["cards"][0]["back"]["groups"].as_array().unwrap();
    let rows = groups.iter().flat_map(|group| group["rows"].as_array().unwrap());
    let row = rows.into_iter().find(|row| row["tag"] == "FE").unwrap();
    row["cells"][0]["share"].as_f64().unwrap()
}

#[test]
fn an_amended_figure_is_computed_with_and_named() {
    let (plain, own) = (amended(""), amended(IRON));
    // The default asks 11 mg of a child of 9 to 11 months (NASEM 2019).
    let (before, after) = (iron_share(&plain), iron_share(&own));
    assert!((before / after - 2.0).abs() < 1e-9, "{before} {after}");
    let card = &figures(&own)["cards"][0];
    assert_eq!(card["profile"]["title"], "Halamoya guidance");
    assert_eq!(card["profile"]["amends"]["id"], "cautious-international");
    let lines: Vec<&str> =
        card["back"]["figures"]["lines"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    assert!(
        lines.contains(
            &"Needs: Halamoya guidance, edition 2026, on International guidance, the more cautious figures, edition 1."
        ),
        "{lines:?}"
    );
}

#[test]
fn amended_rows_show_what_they_replace() {
    let folder = amended(&format!("{IRON}\n[[allergen]]\nid = \"lupin\"\nremove = \"it does not grow here\"\n"));
    let ran = folder.run(&["profile", "show", "--table", "intakes", "--amended"]);
    assert_eq!(
        ran,
        exactly(
            0,
            "\
Halamoya guidance, edition 2026 (halamoya)
amends International guidance, the more cautious figures, edition 1

Reference intakes, a day
  FE 9-11: 22 mg (rni; stated for 7-12 months)
      Halamoya nutrient table, 2026; checked-official
      AMENDED, in place of 11 mg (rda; stated for 7-12 months): NASEM, Dietary Reference Intakes, summary tables in \
Sodium and Potassium, appendix J, 2019; checked-official; https://www.ncbi.nlm.nih.gov/books/NBK545442/table/\
appJ_tab3/?report=objectonly

1 figure
",
            ""
        )
    );
    let data = folder.run(&["profile", "show", "--format", "json"]).json();
    assert_eq!(data["schema"], "porringer-profile/1");
    assert_eq!(data["amends"]["removed"][0]["reason"], "it does not grow here");
    let rows = data["rows"].as_array().unwrap();
    assert!(!rows.iter().any(|row| row["key"].as_str().unwrap().starts_with("lupin")));
    assert!(data["removed"].as_array().unwrap().iter().any(|row| row["key"] == "lupin on eu"));
    let iron = rows.iter().find(|row| row["table"] == "intakes" && row["key"] == "FE 9-11").unwrap();
    assert_eq!(
        (&iron["amended"], &iron["replaces"]["figure"]),
        (&true.into(), &"11 mg (rda; stated for 7-12 months)".into())
    );
    // The figure it takes the place of is still there to compare with.
    assert!(
        rows.iter().any(|row| row["table"] == "alternatives" && row["figure"] == "11 mg (rda; stated for 7-12 months)")
    );
}

#[test]
fn every_figure_has_a_source_and_a_status() {
    let folder = Folder::new();
    let data = folder.run(&["profile", "show", "--format", "json"]).json();
    let rows = data["rows"].as_array().unwrap();
    assert!(rows.len() > 500, "{}", rows.len());
    for row in rows {
        assert!(row["source"].as_str().is_some_and(|source| !source.is_empty()), "{row}");
        let own_choice = row["table"] == "locked" || row["table"] == "rounding";
        assert_eq!(row["status"].is_null(), own_choice, "{row}");
    }
    let memory = folder.run(&["profile", "show", "--status", "memory", "--format", "json"]).json();
    let memory = memory["rows"].as_array().unwrap();
    assert!(!memory.is_empty() && memory.iter().all(|row| row["status"] == "memory"));
    assert_eq!(memory.len(), rows.iter().filter(|row| row["status"] == "memory").count());
}

#[test]
fn faults_of_an_amending_profile_have_their_place() {
    for (rows, told) in [
        (
            "[[hazard]]\nid = \"hony\"\nnote = \"x\"\n",
            "national.toml:10:6: error[workspace/profile-error] `hony` is no row of `hazard`\n",
        ),
        (
            "[[hazard]]\nid = \"honey\"\nnote = \"x\"\nyear = 2026\nstatus = \"memory\"\n",
            "national.toml:10:6: error[workspace/profile-error] this row of `hazard` lacks `authority`\n",
        ),
        (
            "[[hazard]]\nid = \"honey\"\nnote = \"x\"\nauthority = \"a\"\nstatus = \"memory\"\n",
            "national.toml:10:6: error[workspace/profile-error] `honey` does not say the year of its source\n",
        ),
        (
            "[[hazard]]\nvalue = 3\n",
            "national.toml:10:9: error[workspace/profile-error] this row of `hazard` lacks `id`\n",
        ),
        (
            "[[hazard]]\nid = \"honey\"\nremove = \"sweet\"\n",
            "national.toml:11:10: error[workspace/profile-error] `honey` cannot be removed\n",
        ),
        (
            "[[allergen]]\nid = \"lupin\"\nremove = \" \"\n",
            "national.toml:11:10: error[workspace/profile-error] a row is removed without a reason\n",
        ),
        (
            "[[bnad]]\nkey = \"9-11\"\n",
            "national.toml:9:3: error[workspace/profile-error] `bnad` is no part of a profile that can be amended\n",
        ),
        (
            "[[band]]\nkey = \"9-12\"\n",
            "national.toml:10:7: error[workspace/profile-error] `9-12` is no row of `band`\n",
        ),
        (
            "[[band]]\nkey = \"9-11\"\ncapacity = 300.0\n",
            "national.toml:11:12: error[workspace/profile-error] a table in curly brackets is wanted here\n",
        ),
        (
            "[[locked]]\ncode = \"safety/aded-salt\"\nbelow_months = 12\nreason = \"x\"\n",
            "national.toml:10:8: error[workspace/profile-error] `safety/aded-salt` is no row of `locked`\n",
        ),
    ] {
        assert_eq!(check(rows), told, "{rows}");
    }
    // Two slips in one row are two messages, and the other rows are read.
    let out = check(&format!(
        "{IRON}[[reading]]\nlanguage = \"en\"\nsentence_wrods = 20\nlix = \"x\"\nsource = \"a\"\nyear = 2026\nstatus = \"memory\"\n"
    ));
    assert_eq!(out.lines().count(), 2, "{out}");
    assert!(
        out.contains("`sentence_wrods` is no field of `reading`") && out.contains("a number is wanted here"),
        "{out}"
    );
    // Unknown bands, tags and units.
    for (from, to, told) in [
        ("\"9-11\"", "\"9-12\"", "`9-12` is no age band"),
        ("\"FE\"", "\"FEE\"", "`FEE` is no nutrient of the profile"),
        ("\"mg\"", "\"µg\"", "`iron` is given in `µg` and counted in `mg`"),
        ("source = \"Halamoya nutrient table\"\n", "", "this row of `intake` lacks `source`"),
    ] {
        let out = check(&IRON.replace(from, to));
        assert!(out.contains(told), "{out}");
    }
}

#[test]
fn check_says_what_is_more_lenient() {
    let folder = amended(
        "[[hazard]]\nid = \"salt-day-under-12\"\nvalue = 1.5\nauthority = \"Halamoya\"\nyear = 2026\n\
         status = \"checked-official\"\nnote = \"x\"\n\
         [[upper_limit]]\ntag = \"RETOL\"\nfrom_months = 6\nto_months = 11\nvalue = 500\nunit = \"µg\"\n\
         source = \"Halamoya\"\nyear = 2026\nstatus = \"checked-official\"\n\
         [[locked]]\ncode = \"safety/whole-nuts\"\nremove = \"x\"\n",
    );
    let ran = folder.run(&["profile", "check", "national.toml"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(ran.out.matches("workspace/profile-lenient").count(), 2, "{}", ran.out);
    let out = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for told in [
        "`salt-day-under-12` is more lenient: 1.5 g salt a day, not 1 g salt a day",
        "Halamoya guidance says",
        "International guidance, the more cautious figures, edition 1, says",
        "`safety/whole-nuts` is more lenient: never locked, not below 60 months",
    ] {
        assert!(out.contains(told), "{told}: {out}");
    }
    // Using it is no fault: the authority has decided.
    assert_eq!(folder.run(&["check", "--format", "short"]).out, "");
}

#[test]
fn the_profile_to_begin_with_can_be_used() {
    let folder = Folder::new();
    let told = "porringer: own.toml is written; name it in porringer.toml: `profile = \"own.toml\"`\n";
    assert_eq!(folder.run(&["profile", "new", "own.toml"]), exactly(0, "", told));
    let start = String::from_utf8(folder.read("own.toml")).unwrap();
    let ran = folder.run(&["profile", "check", "own.toml"]);
    assert_eq!((ran.code, ran.out.as_str()), (0, ""), "{ran:?}");
    // It is never written over.
    let ran = folder.run(&["profile", "new", "own.toml"]);
    assert_eq!((ran.code, folder.read("own.toml")), (2, start.clone().into_bytes()));
    assert!(ran.err.contains("is there already"), "{ran:?}");
    let field = |line: &str| {
        line.split_once(" = ").is_some_and(|(name, _)| name.chars().all(|c| c.is_ascii_lowercase() || c == '_'))
    };
    // With its examples switched on it is a sound profile too.
    let on: String = start
        .lines()
        .map(|line| match line.strip_prefix("# ") {
            Some(rest) if rest.starts_with("[[") || field(rest) => format!("{rest}\n"),
            _ => format!("{line}\n"),
        })
        .collect();
    assert!(on.matches("\n[[").count() >= 9, "{on}");
    folder.write("own.toml", on);
    let ran = folder.run(&["profile", "check", "own.toml"]);
    assert_eq!((ran.code, ran.out.contains("profile-error")), (0, false), "{ran:?}");
}

#[test]
fn a_profile_without_extends_replaces_the_whole() {
    let default = include_str!("../../src/reference/profile/default.toml");
    let folder = Folder::with("own.toml", default);
    let ran = folder.run(&["profile", "check", "own.toml"]);
    assert_eq!((ran.code, ran.out.as_str()), (0, ""), "{ran:?}");
    assert!(ran.err.contains("replaces the built-in profile whole"), "{ran:?}");
    // Ages that nobody covers, a nutrient of the card without an intake.
    for (from, to, told) in [
        (
            "from_months = 12\nto_months = 23\nenergy",
            "from_months = 13\nto_months = 23\nenergy",
            "no age band covers 12 to 12 months",
        ),
        ("tag = \"CHOLN\"\nen", "tag = \"CHOLNE\"\nen", "`CHOLNE` is no INFOODS tagname here"),
        (
            "  { bands = [\"12-23\"], stated_for = \"1-3 years\", value = 200.0, kind = \"ai\"",
            "  { bands = [\"9-11\"], stated_for = \"1-3 years\", value = 200.0, kind = \"ai\"",
            "`choline` is on the card and has no intake for 12-23 months",
        ),
    ] {
        assert!(default.contains(from), "{from}");
        folder.write("own.toml", default.replacen(from, to, 1));
        let ran = folder.run(&["profile", "check", "own.toml"]);
        assert_eq!(ran.code, 1, "{told}");
        assert!(ran.out.contains(told), "{told}: {}", ran.out);
    }
}

#[test]
fn a_rule_that_is_switched_off_is_told_on_the_card() {
    let reason = "reason = \"iodised salt is policy here\"";
    let folder =
        Folder::with("porringer.toml", format!("[rules]\n\"safety/added-salt\" = {{ off = true, {reason} }}\n"));
    folder.write("recipes/mash.dish", SALTED);
    assert_eq!(folder.run(&["check", "--format", "short"]), exactly(0, "", ""));
    let card = &figures(&folder)["cards"][0];
    let changed = &card["changed_rules"][0];
    assert_eq!(changed["code"], "safety/added-salt");
    assert_eq!((&changed["from"], &changed["to"]), (&"warning".into(), &"off".into()));
    assert_eq!(changed["reason"], "iodised salt is policy here");
    assert_eq!(changed["messages"].as_array().unwrap().len(), 1);
    let lines = card["back"]["figures"]["lines"].to_string();
    assert!(lines.contains("Switched off here: safety/added-salt (iodised salt is policy here)."), "{lines}");
    // Raised, it stops the card.
    folder.write("porringer.toml", format!("[rules]\n\"safety/added-salt\" = {{ severity = \"error\", {reason} }}\n"));
    let ran = folder.run(&["check", "--format", "short"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("error[safety/added-salt]"), "{ran:?}");
    // For older children only: this dish begins at 9 months.
    folder.write(
        "porringer.toml",
        format!("[rules]\n\"safety/added-salt\" = {{ off = true, from_months = 12, {reason} }}\n"),
    );
    assert!(folder.run(&["check", "--format", "short"]).out.contains("warning[safety/added-salt]"));
    // An unknown rule has its place and the nearest name.
    folder.write("porringer.toml", format!("[rules]\n\"safety/aded-salt\" = {{ off = true, {reason} }}\n"));
    let message = folder.run(&["check", "--format", "json"]).json()[0].clone();
    assert_eq!(message["code"], "workspace/unknown-key");
    assert_eq!(message["help"], "did you mean `\"safety/added-salt\"`?");
}

#[test]
fn a_review_is_held_against_the_day_that_is_given() {
    let folder = Folder::with(
        "mash.dish",
        SALTED.replace("take     1 pinch iodised salt as salt\n", "").replace(", salt for", " for"),
    );
    let on = |seconds: &str| {
        folder.run_with(&["check", "mash.dish", "--format", "short"], &[("SOURCE_DATE_EPOCH", seconds)])
    };
    // 2028-04-30 and 2028-05-01; the review is of 2026-05-01.
    assert_eq!(on("1840665600"), exactly(0, "", ""));
    let told = "mash.dish:6:1: warning[review/stale] the review is 24 months old; it holds for 24\n";
    assert_eq!(on("1840752000"), exactly(0, told, ""));
    folder.write("porringer.toml", "review_months = 36\n");
    assert_eq!(on("1840752000"), exactly(0, "", ""));
}
