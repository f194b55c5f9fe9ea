//! `porringer check`

use crate::{BROKEN, Folder, MASH, exactly};

/// A dish with this `take` line, whose steps give no other message.
fn taking(line: &str) -> String {
    format!("dish A\nfor 12 to 23 months\nmakes 2 cups\ntake {line} as thing\nstep mash thing\ncooked 500 g\n")
}

/// A dish with a weight that differs from its measure: one warning.
const WARNED: &str = "\
dish     Pumpkin
for      9 to 11 months
makes    1 cup
take     1 cup pumpkin, cubed (300 g)
step     boil pumpkin for 15 min; mash pumpkin
";

#[test]
fn clean_is_0_errors_are_1_the_call_is_2() {
    let folder = Folder::with("mash.dish", MASH);
    folder.write("broken.dish", BROKEN);
    folder.write("words.txt", "dish A\n");
    folder.write("empty/readme.txt", "");
    assert_eq!(folder.run(&["check", "mash.dish"]), exactly(0, "", "porringer: 1 file checked: no errors\n"));
    let ran = folder.run(&["check", "broken.dish"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, "porringer: 1 file checked: 1 error\n"), "{}", ran.out);
    assert_eq!(
        folder.run(&["check", "none.dish"]),
        exactly(2, "", "porringer: there is no file or folder `none.dish`\n")
    );
    assert_eq!(
        folder.run(&["check", "words.txt"]),
        exactly(2, "", "porringer: `words.txt` is no recipe: the name ends in .dish, .menu or .booklet\n")
    );
    assert_eq!(folder.run(&["check", "empty"]), exactly(2, "", "porringer: these folders hold no recipes\n"));
    let empty = Folder::new();
    let ran = empty.run(&["check"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.starts_with("porringer: no recipes below "), "{}", ran.err);
}

#[test]
fn warnings_fail_only_when_denied() {
    let folder = Folder::with("pumpkin.dish", WARNED);
    let ran = folder.run(&["check", "pumpkin.dish", "--format", "short"]);
    let line = "pumpkin.dish:4:31: warning[measure/weight-disagrees] \
        the measure is about 122 g, the weight says 300 g\n";
    assert_eq!(ran, exactly(0, line, ""));
    let ran = folder.run(&["check", "pumpkin.dish", "--format", "short", "--deny", "warnings"]);
    assert_eq!(ran, exactly(1, line, ""));
    // A note is not a warning.
    folder.write("pumpkin.dish", MASH);
    assert_eq!(folder.run(&["check", "pumpkin.dish", "--format", "short", "--deny", "warnings"]), exactly(0, "", ""));
}

#[test]
fn for_a_person() {
    let folder = Folder::with("broken.dish", BROKEN);
    let ran = folder.run(&["check", "broken.dish"]);
    let expected = "\
food/unknown

  × no food is called `zzyzx`
   ╭─[broken.dish:5:16]
 4 │ take     1 cup water
 5 │ take     1 cup zzyzx
   ·                ─────
 6 │ step     boil everything for 5 min
   ╰────
  help: look for its name with `porringer foods WORD`, or name a row, such as `usda:11422`

";
    assert_eq!(ran, exactly(1, expected, "porringer: 1 file checked: 1 error\n"));
}

#[test]
fn one_line_a_message() {
    let folder = Folder::with("broken.dish", BROKEN);
    let ran = folder.run(&["check", "broken.dish", "--format", "short"]);
    assert_eq!(ran, exactly(1, "broken.dish:5:16: error[food/unknown] no food is called `zzyzx`\n", ""));
}

#[test]
fn json_is_an_array_of_messages() {
    let folder = Folder::with(
        "twice.dish",
        "dish A\nfor 9 to 11 months\nmakes 1 cup\nmakes 2 cups\n\
        take 1 cup water\nstep boil water for 5 min\ncooked 225 g\nreviewed 2026-05-01 by nutritionist\n",
    );
    let ran = folder.check_json("twice.dish");
    let expected = r#"[
  {
    "code": "syntax/duplicate-line",
    "severity": "error",
    "message": "a second `makes` line; one is enough",
    "file": "twice.dish",
    "start": {
      "line": 4,
      "column": 1,
      "byte": 38
    },
    "end": {
      "line": 4,
      "column": 6,
      "byte": 43
    },
    "labels": [
      {
        "message": "the first is here",
        "start": {
          "line": 3,
          "column": 7,
          "byte": 32
        },
        "end": {
          "line": 3,
          "column": 12,
          "byte": 37
        }
      }
    ],
    "help": "keep one of the two",
    "fix": null
  }
]
"#;
    assert_eq!(ran, exactly(1, expected, ""));
    let plain = MASH.replace("groundnut paste, smooth", "sunflower oil").replace("groundnut paste", "oil");
    folder.write("mash.dish", plain + "reviewed 2026-05-01 by nutritionist\n");
    assert_eq!(folder.check_json("mash.dish"), exactly(0, "[]\n", ""));
}

#[test]
fn bytes_and_columns_point_at_the_text() {
    // Before the fault stand a letter with two combining marks, an emoji of
    // several code points, a toned one and letters of three bytes.
    let before = "step     stir water: mtoto e\u{301}\u{323} 👩\u{200D}👩\u{200D}👧 🧺🏽 ตำ\nstep     ";
    for end in ["\n", "\r\n"] {
        let text = format!(
            "dish A{end}for 9 to 11 months{end}makes 1 cup{end}take 1 cup water{end}{}frobe\u{301}\u{323}l 👩\u{200D}👧x water{end}",
            before.replace('\n', end)
        );
        let folder = Folder::with("a.dish", &text);
        let ran = folder.check_json("a.dish");
        let json = ran.json();
        let message = json
            .as_array()
            .unwrap()
            .iter()
            .find(|message| message["code"] == "method/unknown-process")
            .unwrap_or_else(|| panic!("{}", ran.out));
        let (start, stop) = (&message["start"], &message["end"]);
        let bytes = start["byte"].as_u64().unwrap() as usize..stop["byte"].as_u64().unwrap() as usize;
        assert_eq!(&text[bytes], "frobe\u{301}\u{323}l");
        assert_eq!((&start["line"], &start["column"]), (&6.into(), &10.into()));
        assert_eq!((&stop["line"], &stop["column"]), (&6.into(), &16.into()));
    }
    // On one line: the marks and the emoji count as one each.
    let text = "dish A\nfor 9 to 11 months\nmakes 1 cup\ntake 1 cup water\nstep boil water until e\u{301} 👩\u{200D}👩\u{200D}👧; zzyz water\n";
    let folder = Folder::with("a.dish", text);
    let ran = folder.check_json("a.dish");
    let json = ran.json();
    let message = json.as_array().unwrap().iter().find(|message| message["code"] == "method/unknown-process").unwrap();
    assert_eq!(message["start"]["column"], 28, "{}", ran.out);
    assert_eq!(message["start"]["byte"].as_u64().unwrap() as usize, text.find("zzyz").unwrap());
}

#[test]
fn several_files_and_folders_in_the_order_of_the_call() {
    let folder = Folder::new();
    for name in ["set/b.dish", "set/a.dish", "set/deep/c.dish", "set/.hidden/d.dish", "one.dish", "set/e.txt"] {
        folder.write(name, BROKEN);
    }
    folder.write("set/left-out.dish", BROKEN);
    folder.write("set/.gitignore", "left-out.dish\n");
    let ran = folder.run(&["check", "one.dish", "set", "one.dish", "set/a.dish", "--format", "short"]);
    let expected: String = ["one.dish", "set/a.dish", "set/b.dish", "set/deep/c.dish"]
        .iter()
        .map(|name| format!("{name}:5:16: error[food/unknown] no food is called `zzyzx`\n"))
        .collect();
    assert_eq!(ran, exactly(1, &expected, ""));
    // The same file by two ways is still one file.
    let ran = folder.run(&["check", "one.dish", "./one.dish", "--format", "short"]);
    assert_eq!(ran.out.lines().count(), 1, "{}", ran.out);
}

#[test]
fn line_ends_and_byte_order_marks_change_nothing() {
    let folder = Folder::with("lf.dish", BROKEN);
    folder.write("crlf.dish", BROKEN.replace('\n', "\r\n"));
    folder.write("bom.dish", format!("\u{FEFF}{BROKEN}"));
    folder.write("bomcrlf.dish", format!("\u{FEFF}{}", BROKEN.replace('\n', "\r\n")));
    folder.write("last.dish", BROKEN.trim_end());
    for name in ["lf.dish", "crlf.dish", "bom.dish", "bomcrlf.dish", "last.dish"] {
        assert_eq!(folder.check_json(name).places(), ["5:16 food/unknown"], "{name}");
    }
    // A reader does not see the mark, so it is no column.
    folder.write("bom.dish", "\u{FEFF}dihs A\n");
    assert!(folder.check_json("bom.dish").places().contains(&"1:1 syntax/unknown-keyword".to_owned()));
}

#[test]
fn tabs_are_blanks() {
    let folder = Folder::with("tabs.dish", MASH.replace("     ", "\t").replace("  ", " \t "));
    assert_eq!(folder.run(&["check", "tabs.dish", "--format", "short"]), exactly(0, "", ""));
    let tabs = folder.run(&["nutrients", "tabs.dish", "--format", "csv"]);
    folder.write("tabs.dish", MASH);
    assert_eq!(tabs, folder.run(&["nutrients", "tabs.dish", "--format", "csv"]));
}

#[test]
fn a_line_goes_on_over_blank_lines_and_comments() {
    let text = MASH.replace(
        "take     300 g pumpkin, peeled, cubed\n",
        "take     300 g\n# why this much\n\n   # an indented comment\n\t\n      pumpkin,\n# another\n      peeled, cubed\n",
    );
    assert_ne!(text, MASH);
    let folder = Folder::with("mash.dish", text);
    assert_eq!(folder.run(&["check", "mash.dish", "--format", "short"]), exactly(0, "", ""));
    let broken = folder.run(&["nutrients", "mash.dish", "--format", "json"]);
    folder.write("mash.dish", MASH);
    assert_eq!(broken, folder.run(&["nutrients", "mash.dish", "--format", "json"]));
}

/// The grams that `trace` names for the one ingredient.
fn grams(folder: &Folder, line: &str) -> String {
    folder.write("a.dish", taking(line));
    let ran = folder.run(&["trace", "a.dish"]);
    let found = ran.out.lines().find(|line| line.starts_with("thing: ")).unwrap_or_else(|| panic!("{line}: {ran:?}"));
    found.trim_start_matches("thing: ").to_owned()
}

#[test]
fn every_form_of_number() {
    let folder = Folder::new();
    for (number, weight) in [
        ("2", "500 g"),
        ("0.5", "125 g"),
        (".5", "125 g"),
        ("1/2", "125 g"),
        ("1 1/2", "375 g"),
        ("½", "125 g"),
        ("1½", "375 g"),
        ("1 ½", "375 g"),
        ("1⁄2", "125 g"),
        ("1/3", "83.33 g"),
        ("2 to 3", "625 g (500 to 750)"),
        ("2-3", "625 g (500 to 750)"),
        ("2–3", "625 g (500 to 750)"),
        ("1/2 to 1 1/2", "250 g (125 to 375)"),
        // Arabic-Indic, Persian, Devanagari, Bengali, Thai, Ethiopic has no
        // decimal digits, full width, N'Ko.
        ("٣", "750 g"),
        ("۳", "750 g"),
        ("३", "750 g"),
        ("৩", "750 g"),
        ("๓", "750 g"),
        ("３", "750 g"),
        ("߃", "750 g"),
        ("१ १/२", "375 g"),
        ("١–٢", "375 g (250 to 500)"),
    ] {
        assert_eq!(grams(&folder, &format!("{number} cup water")), weight, "{number}");
        assert_eq!(folder.run(&["check", "a.dish", "--format", "short"]), exactly(0, "", ""), "{number}");
    }
}

#[test]
fn every_unit() {
    let folder = Folder::new();
    for (line, weight) in [
        ("200 mL water", "200 g"),
        ("200ml water", "200 g"),
        ("1 L water", "1000 g"),
        ("1 litre water", "1000 g"),
        ("250 g pumpkin, grated", "250 g"),
        ("1/4 kg pumpkin, grated", "250 g"),
        ("500 mg ground cinnamon", "0.5 g"),
        ("1 tsp water", "5 g"),
        ("2 tsps water", "10 g"),
        ("1 tbsp water", "15 g"),
        ("1 tablespoon water", "15 g"),
        ("1 cup water", "250 g"),
        ("1 cup of water", "250 g"),
        // 0.3125 mL at 0.527 g/mL
        ("a pinch of ground cinnamon", "0.16 g"),
        ("1 pinch ground cinnamon", "0.16 g"),
        ("2 pinches ground cinnamon", "0.33 g"),
        ("1 dash ground cinnamon", "0.33 g"),
        ("2 handfuls pumpkin leaves", "40 g"),
        ("2 cloves garlic", "6 g"),
        ("1 slice bread", "29 g"),
        ("1 banana", "118 g"),
        ("2 bananas", "236 g"),
        ("1 small banana", "101 g"),
        ("1 medium banana", "118 g"),
        ("1 large banana", "136 g"),
        ("1 tbsp sunflower oil", "13.82 g"),
        ("1 level tbsp sunflower oil", "13.82 g"),
        ("1 tbsp sunflower oil (14 g)", "14 g"),
        ("1 tsp sunflower oil or 2 tsp ghee", "4.6 g"),
        ("1 tsp sunflower oil or ghee", "4.6 g"),
        ("ground cinnamon, to taste", "0 g"),
    ] {
        assert_eq!(grams(&folder, line), weight, "{line}");
        let ran = folder.run(&["check", "a.dish", "--format", "short"]);
        assert!(!ran.out.contains("error"), "{line}: {}", ran.out);
    }
    // What a heap holds is an estimate, and said so.
    assert_eq!(grams(&folder, "1 heaped tbsp groundnut paste"), "about 24.34 g");
    assert_eq!(grams(&folder, "3 cm ginger"), "weight not known");
    assert_eq!(folder.check_json("a.dish").places()[..1], ["4:6 measure/no-weight"]);
}

#[test]
fn amounts_that_are_refused() {
    let folder = Folder::new();
    for (amount, message) in [
        ("1,5", "4:6: error[syntax/comma-decimal] `1,5` has a decimal comma"),
        ("1/0", "4:6: error[syntax/zero-denominator] `1/0` divides by zero"),
        ("99999999999", "4:6: error[syntax/number-too-large] `99999999999` is too large a number"),
        ("3 to 2", "4:6: error[syntax/reversed-range] the range runs backwards, from 3 to 2"),
        ("3-2", "4:6: error[syntax/reversed-range] the range runs backwards, from 3 to 2"),
        ("0", "4:6: error[syntax/bad-quantity] an amount of nothing"),
        ("-2", "4:6: error[syntax/bad-quantity] `-2` has a sign"),
    ] {
        folder.write("a.dish", taking(&format!("{amount} cup water")));
        let ran = folder.run(&["check", "a.dish", "--format", "short"]);
        assert_eq!(ran, exactly(1, &format!("a.dish:{message}\n"), ""), "{amount}");
    }
    folder.write("a.dish", taking("pumpkin"));
    assert!(folder.check_json("a.dish").places()[0].ends_with(" syntax/bad-quantity"));
    folder.write("a.dish", taking("2 cupps water"));
    assert_eq!(folder.check_json("a.dish").json()[1]["help"], "did you mean `cups`?");
}

#[test]
fn to_taste_is_no_amount_of_salt_or_sugar() {
    let folder = Folder::new();
    for line in ["iodised salt, to taste", "sugar, to taste", "iodised salt to taste"] {
        folder.write("a.dish", taking(line));
        let ran = folder.run(&["check", "a.dish"]);
        assert_eq!(ran.code, 1, "`{line}` must be refused in a child's food: {}", ran.out);
    }
}

#[test]
fn notes_are_shown_when_asked_for() {
    let folder = Folder::with("mash.dish", MASH);
    assert_eq!(folder.run(&["check", "mash.dish", "--format", "short"]), exactly(0, "", ""));
    let note = "mash.dish:1:10: note[allergen/contains] this dish contains groundnuts (peanuts)\n\
                mash.dish:1:10: note[review/none] nobody is named who has reviewed this dish\n";
    assert_eq!(folder.run(&["check", "mash.dish", "--format", "short", "--notes"]), exactly(0, note, ""));
    // A program that reads JSON gets all of them.
    assert_eq!(folder.check_json("mash.dish").places(), ["1:10 allergen/contains"]);
    let ran = folder.run(&["check", "mash.dish", "--notes"]);
    assert!(ran.out.contains("☞ this dish contains groundnuts (peanuts)"), "{}", ran.out);
    assert_eq!(ran.err, "porringer: 1 file checked: no errors\n");
}

/// Twenty faults; the number in the comment above each line counts them.
const TWENTY: &str = "\
dish     Twenty faults
for      9 to 11 months
makes    4 cups
# 1
makes    2 cups
# 2
serv     warm
# 3
cooked   1,5 kg
# 4
portion  3 to 2 cups
# 5
claim    source of happiness
take     1/2 cup red lentils, dry as lentils
take     1 cup water
take     100 g tomato
# 6
take     1/0 cup sunflower oil as oil
# 7
take     1 cup zzyzx
# 8
take     2 oz onion
# 9
take     99999999 g carrot
# 10
take     -1 tsp ground cinnamon as cinnamon
# 11
take     3 cm ginger
# 12
take     garlic
# 13
take     100 g usda:999999 as mystery
# 14
take     50 g dish no-such-dish as sauce
# 15
take     1 cup ghee )
step     boil lentils with water, tomato, oil, zzyzx, oz onion, onion for 20 min
# 16
step     flurb lentils
# 17
step     add carrot, cinnamon, ginger, garlic, mystery, sauce, parsnip
# 18
step     simmer everything for 10 to 5 min
# 19
reviewed 2026-02-30 by nurse
# 20
season   smarch
step     mash everything
";

#[test]
fn twenty_faults_are_twenty_messages() {
    let folder = Folder::with("twenty.dish", TWENTY);
    let ran = folder.run(&["check", "twenty.dish", "--format", "short"]);
    let faulty: Vec<usize> =
        TWENTY.lines().enumerate().filter(|(_, line)| line.starts_with('#')).map(|(at, _)| at + 2).collect();
    let found: Vec<usize> = ran.out.lines().map(|line| line.split(':').nth(1).unwrap().parse().unwrap()).collect();
    assert_eq!(found, faulty, "{}", ran.out);
    assert_eq!(ran.code, 1);
}

#[test]
fn a_food_that_is_not_known_gives_one_message() {
    // Nothing can be said of its texture, salt or figures.
    let text =
        "dish A\nfor 9 to 11 months\nmakes 2 cups\ncooked 300 g\ntake 1 cup zzyzx\nstep boil everything for 5 min\n";
    let folder = Folder::with("a.dish", text);
    let ran = folder.run(&["check", "a.dish", "--format", "short"]);
    assert_eq!(ran, exactly(1, "a.dish:5:12: error[food/unknown] no food is called `zzyzx`\n", ""));
}

/// The bundled font with one sign moved: it has a sweet potato, U+1F360, and
/// the bundled one has not.
fn font_with_a_sweet_potato() -> Vec<u8> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/templates/fonts/Andika-Regular.ttf");
    let mut bytes = std::fs::read(path).unwrap();
    // A group of the table of characters: first, last, glyph. The last group
    // stays the last, so that the table is in order.
    let group = |sign: u32| [sign.to_be_bytes(), sign.to_be_bytes()].concat();
    let (old, new) = (group(0x1DF1E), group(0x1F360));
    let places: Vec<usize> = (0..bytes.len() - 8).filter(|at| bytes[*at..*at + 8] == old[..]).collect();
    assert!(!places.is_empty());
    for at in places {
        bytes[at..at + 8].copy_from_slice(&new);
    }
    bytes
}

#[test]
fn a_font_of_the_call_counts_wherever_texts_are_checked() {
    let folder = Folder::with("mash.dish", MASH.replace("dish     ", "dish     \u{1F360} "));
    folder.write("day.menu", "menu     \u{1F360} day\nfor      9 to 11 months\nmeal     8:00: 1 egg, boiled\n");
    folder.write("old/mash.dish", MASH);
    folder.write("own.ttf", font_with_a_sweet_potato());
    let calls: [&[&str]; 4] = [
        &["check", "mash.dish", "--format", "short"],
        &["menu", "check", "day.menu", "--format", "short"],
        &["scale", "mash.dish", "--by", "2", "--format", "pdf", "--out", "sheet.pdf"],
        &["compare", "old/mash.dish", "mash.dish"],
    ];
    for call in calls {
        let without = folder.run(call);
        assert!(format!("{}{}", without.out, without.err).contains("text/missing-glyph"), "{call:?}: {without:?}");
        let with = folder.run(&[call, &["--font", "own.ttf"]].concat());
        assert!(!format!("{}{}", with.out, with.err).contains("text/missing-glyph"), "{call:?}: {with:?}");
        let none = folder.run(&[call, &["--font", "none.ttf"]].concat());
        assert_eq!(none.code, 2, "{call:?}: {none:?}");
        assert!(none.err.contains("the font `none.ttf` cannot be read"), "{call:?}: {none:?}");
    }
}
