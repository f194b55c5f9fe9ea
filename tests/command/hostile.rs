//! Input that no one wrote in good faith: a message or a result, never a
//! crash and never the input's own commands to the terminal.
//!
//! The limits, each with its message:
//!
//! | what | most | told as |
//! |---|---|---|
//! | a recipe file | 4 MB | `syntax/too-large` |
//! | lines with a keyword, actions and foods of a file | 2,000 | `syntax/too-large` |
//! | a number | 1,000,000 | `syntax/number-too-large` |
//! | ages | 240 months | `syntax/number-too-large` |
//! | a time | 31 days | `syntax/number-too-large` |
//! | a table, price list or larder | 256 MB, 1,000 columns | `workspace/table-error` |
//! | an unfolded spreadsheet | 256 MB, 20 million cells | a remark of `import` |
//! | a picture | 4 MB, 6,000 pixels an edge | `workspace/table-error` |
//! | a font | 32 MB | exit code 2 |
//! | a template | 64 files of 2 MB, 200 pages, 20 seconds, 2 GB | exit code 2 |
//!
//! Spreadsheets are in `tests/import/sheets.rs`, pictures and templates in
//! `template.rs`, paths out of the workspace in `workspace.rs` too.

use crate::{Folder, MASH, Ran, exactly};

const HEAD: &str = "dish A\nfor 9 to 11 months\nmakes 2 cups\n";

/// `check` of one file with this text.
fn check(text: impl AsRef<[u8]>) -> Ran {
    Folder::with("a.dish", text).run(&["check", "a.dish", "--format", "short"])
}

#[test]
fn a_file_larger_than_any_recipe_is_not_read() {
    let text = format!("{HEAD}{}", "# x\n".repeat(5 * 1024 * 1024 / 4));
    let told = "a.dish:1:1: error[syntax/too-large] this file has 5 MB; the most that is read is 4 MB\n";
    assert_eq!(check(text), exactly(1, told, ""));
}

#[test]
fn a_line_of_a_megabyte() {
    let long = "a".repeat(1 << 20);
    let words = "word ".repeat(200_000);
    for (text, told) in [
        (long.clone(), "a.dish:1:1: error[syntax/unknown-keyword] `aaaaaaaaaaaaaaaaaaaaaaaaaaa…` is no keyword"),
        (
            format!("{HEAD}take 1 cup {long}\nstep mix everything\n"),
            "error[food/unknown] no food is called `aaaaaaaaaaaaaaaaaaaaaaaaaaa…`",
        ),
        (
            format!("{HEAD}take 1 cup {words}\nstep mix everything\n"),
            "error[food/unknown] no food is called `word word word word word wo…`",
        ),
        (
            format!("{HEAD}take 1 cup water\nstep {long}\n"),
            "error[method/unknown-process] `aaaaaaaaaaaaaaaaaaaaaaaaaaa…`",
        ),
        (
            format!("{HEAD}take 1 cup water\nstep mix {long}\n"),
            "error[method/unknown-ingredient] `aaaaaaaaaaaaaaaaaaaaaaaaaaa…`",
        ),
        (
            format!("{HEAD}take {} cup water\nstep mix everything\n", "1".repeat(1 << 20)),
            "error[syntax/number-too-large] ",
        ),
        (format!("{HEAD}take 1 cup water {}\nstep mix everything\n", "(".repeat(1 << 20)), "error[syntax/bad-line] "),
        (
            format!("{HEAD}claim source of {long}\ntake 1 cup water\nstep mix everything\n"),
            "`aaaaaaaaaaaaaaaaaaaaaaaaaaa…`",
        ),
        (format!("{HEAD}{long}\ntake 1 cup water\nstep mix everything\n"), "error[syntax/unknown-keyword] "),
    ] {
        let ran = check(&text);
        assert_eq!(ran.code, 1, "{}", &text[..60]);
        assert!(ran.out.contains(told), "{told}: {}", ran.out);
        assert!(ran.out.lines().all(|line| line.len() < 400), "{told}");
    }
    // Prose of any length is hard to read and too long for a card, and no fault.
    let told = "a.dish:5:22: warning[text/reading-level] a sentence has 200000 words; 25 are the most\n";
    assert_eq!(check(format!("{HEAD}take 1 cup water\nstep mix everything: {words}\n")), exactly(0, told, ""));
    // For a person the line is not poured out either.
    let folder = Folder::with("a.dish", format!("{HEAD}take 1 cup water\nstep mix {long}\n"));
    let ran = folder.run(&["check", "a.dish"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.len() < 100_000, "{} bytes for one message", ran.out.len());
}

/// What is said where a file is too long.
const REST: &str = "error[syntax/too-large] a file has at most 2000 lines, actions and foods; the rest is not read\n";

#[test]
fn a_hundred_thousand_takes() {
    let text = format!("{HEAD}{}step mix everything\n", "take 1 cup water\n".repeat(100_000));
    let ran = check(text);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("a.dish:5:1: error[syntax/duplicate-line] a second ingredient is called `water`\n"));
    let again = ran.out.lines().filter(|line| line.contains("syntax/duplicate-line")).count();
    assert_eq!(again, 1_996);
    assert!(ran.out.ends_with(&format!("a.dish:2001:1: {REST}")), "{}", ran.out);
    // Each under its own name: the rest is missing, and nothing else is said.
    let takes: String = (0..100_000).map(|at| format!("take 1 cup water as w{at}x\n")).collect();
    let ran = check(format!("{HEAD}{takes}step mix everything\n"));
    assert_eq!(ran, exactly(1, &format!("a.dish:2001:1: {REST}"), ""));
    // As many as are read.
    let takes: String = (0..1_990).map(|at| format!("take 1 cup water as w{at}x\n")).collect();
    let ran = check(format!("{HEAD}{takes}step mix everything\n"));
    // Half a ton in one cup: that is the only thing wrong with it.
    assert_eq!((ran.code, ran.out.lines().count()), (0, 1), "{}", ran.out);
    assert!(ran.out.contains("warning[measure/weight-disagrees]"), "{}", ran.out);
}

#[test]
fn a_million_lines() {
    assert_eq!(check(format!("{HEAD}{}take 1 cup water\nstep mix everything\n", "\n".repeat(1_000_000))).code, 0);
    let ran = check(format!("{HEAD}{}", "x\n".repeat(1_000_000)));
    assert_eq!((ran.code, ran.out.lines().count()), (1, 1_998));
    assert!(ran.out.contains(REST));
    for line in ["note x\n", "step boil water for 5 min\n", "claim source of iron\n", "in sw x\n", "part water\n"] {
        let ran = check(format!("{HEAD}take 1 cup water\n{}", line.repeat(150_000)));
        assert_eq!(ran.code, 1, "{line}");
        assert!(ran.out.contains(REST) && ran.out.lines().count() < 2_100, "{line}");
    }
    // Actions of one line count too.
    for line in [
        format!("step {}mash water", "boil water; ".repeat(100_000)),
        format!("step mix {}water", "x, y, ".repeat(100_000)),
        format!("step mix water with {}water", "x, y, ".repeat(100_000)),
        format!("swap water for {}pumpkin", "pumpkin, ".repeat(100_000)),
        format!("take 1 cup pumpkin{}", " or pumpkin".repeat(100_000)),
    ] {
        let ran = check(format!("{HEAD}take 1 cup water\n{line}\n"));
        assert!(ran.code == 1 && ran.out.contains(REST), "{}: {}", &line[..30], ran.out);
    }
    let items = "meal 7:00: ".to_owned() + &"1 cup pumpkin, ".repeat(50_000) + "1 cup water";
    let folder = Folder::with("a.menu", format!("menu A\nfor 12 to 23 months\n{items}\n"));
    let ran = folder.run(&["check", "a.menu", "--format", "short"]);
    assert!(ran.code == 1 && ran.out.contains(REST), "{}", ran.out);
    let folder = Folder::with("a.booklet", format!("booklet A\n{}", "page a\nsection A\n".repeat(100_000)));
    let ran = folder.run(&["check", "a.booklet", "--format", "short"]);
    assert!(ran.code == 1 && ran.out.contains(REST), "{}", ran.out);
}

#[test]
fn parts_of_parts() {
    let part = |at: usize| format!("part p{at}x\nstep warm p{}x for 5 min\n", at - 1);
    let parts: String = (1..=450).map(part).collect();
    let text = format!("{HEAD}cooked 100 g\npart p0x\ntake 100 g water\nstep boil water for 5 min\n{parts}");
    let text = text.replace("makes 2 cups", "makes 100 mL");
    assert_eq!(check(&text), exactly(0, "", ""));
    let ran = check(text.replace("step warm p449x", "step warm p450x"));
    assert!(ran.code == 0 || ran.out.contains("method/"), "{}", ran.out);
    // Every take answers to every word of every step.
    let takes: String = (0..300).map(|at| format!("take 1 cup water as a{at}a z\n")).collect();
    let ran = check(format!("{HEAD}{takes}{}", "step mash z with everything\n".repeat(400)));
    assert!(ran.code == 1 && ran.out.contains("error[method/unknown-ingredient] `z` may be any of several"));
}

#[test]
fn signs_without_end() {
    for prose in [
        format!("a. {}", ")".repeat(1_000_000)),
        format!("a. {}", ") ".repeat(500_000)),
        format!("a.{}b", " ".repeat(1_000_000)),
        "a. ".repeat(400_000),
        format!("a{}", "\u{301}".repeat(400_000)),
    ] {
        let ran = check(format!("{HEAD}take 1 cup water\nstep mix everything: {prose}\n"));
        assert!(ran.code == 0 && ran.err.is_empty(), "{}: {ran:?}", &prose[..20]);
    }
    for line in [
        format!("take {}", "½".repeat(1_000_000)),
        format!("take 1{} cup water", "/1".repeat(1_000_000)),
        format!("season {}march", "march, ".repeat(300_000)),
        format!("diet {}vegan", "vegan, ".repeat(300_000)),
        format!("take 1 cup pumpkin{}", ", peeled".repeat(300_000)),
        format!("take 1 cup pumpkin {}", "(1 g) ".repeat(300_000)),
        format!("step mix {}water", "water, ".repeat(300_000)),
        format!("step boil water {}", "for 5 min ".repeat(300_000)),
        format!("swap {}for water", "water ".repeat(300_000)),
    ] {
        let ran = check(format!("{HEAD}take 1 cup water\n{line}\nstep boil water for 5 min\n"));
        assert!([0, 1].contains(&ran.code) && ran.err.is_empty(), "{}: {ran:?}", &line[..20]);
    }
}

#[test]
fn a_food_that_only_looks_like_one() {
    let help = |food: &str| {
        let folder = Folder::with("a.dish", format!("{HEAD}take 1 cup {food}\nstep boil everything for 5 min\n"));
        let json = folder.check_json("a.dish").json();
        let found = json.as_array().unwrap().iter().find(|message| message["code"] == "food/unknown");
        let found = found.unwrap_or_else(|| panic!("{food:?}: {json}"));
        found["help"].as_str().unwrap().to_owned()
    };
    for (food, why) in [
        ("pumpk\u{456}n", "its `\u{456}` is U+0456 and only looks like `i`"),
        ("pum\u{440}kin", "its `\u{440}` is U+0440 and only looks like `p`"),
        ("ｐumpkin", "its `ｐ` is U+FF50 and only looks like `p`"),
        ("pump\u{200B}kin", "it holds a sign that is not seen, U+200B"),
        ("pump\u{AD}kin", "it holds a sign that is not seen, U+00AD"),
        ("\u{202E}pumpkin", "it holds a sign that is not seen, U+202E"),
    ] {
        assert_eq!(help(food), format!("{}: did you mean `pumpkin`?", why.replace('\u{202E}', "")), "{food:?}");
    }
}

/// Every key that names a file, and the picture of a dish.
#[cfg(unix)]
#[test]
fn no_path_and_no_link_leads_out() {
    let mut wrong = Vec::new();
    for (key, list, name) in [
        ("larder", true, "x.toml"),
        ("tables", true, "x.csv"),
        ("profile", false, "x.toml"),
        ("prices", false, "x.csv"),
        ("fonts", true, "x.ttf"),
        ("template", false, "x"),
        ("booklet_template", false, "x"),
        ("out", false, "x"),
        ("picture", false, "x.svg"),
    ] {
        for (at, path) in [
            format!("../{name}"),
            format!("recipes/../../{name}"),
            format!("link-{name}"),
            format!("../space/../{name}"),
        ]
        .into_iter()
        .enumerate()
        {
            let folder = Folder::new();
            if ["template", "booklet_template", "out"].contains(&key) {
                folder.write("x/template.toml", "name = \"x\"\nentry = \"x.typ\"\ndata = \"porringer-card/1\"\n");
                folder.write("x/x.typ", "SECRET");
            } else {
                folder.write(name, "SECRET");
            }
            folder.write("space/recipes/mash.dish", MASH);
            if key == "booklet_template" {
                folder.write("space/recipes/all.booklet", "booklet A\nsection B\npage mash\n");
            }
            std::os::unix::fs::symlink(folder.path(name), folder.path(&format!("space/link-{name}"))).unwrap();
            if key == "picture" {
                folder.write("space/porringer.toml", "");
                let picture = format!("portion  1/2 cup\npicture  {path}: A bowl\n");
                folder.write("space/recipes/mash.dish", MASH.replace("portion  1/2 cup\n", &picture));
            } else {
                let value = if list { format!("[\"{path}\"]") } else { format!("\"{path}\"") };
                folder.write("space/porringer.toml", format!("{key} = {value}\n"));
            }
            let ran = folder.run(&[if key == "prices" { "shop" } else { "build" }, "space/recipes"]);
            let said = format!("{}{}", ran.out, ran.err);
            let refused = said.contains("leads out of the workspace")
                || said.contains("is not in the workspace")
                || said.contains("there is no template")
                || said.contains("there is no picture");
            let outside = folder.names("").into_iter().filter(|made| !made.starts_with("space/")).count();
            let before = if ["template", "booklet_template", "out"].contains(&key) { 2 } else { 1 };
            if ran.code == 0 || !refused || said.contains("SECRET") || outside != before {
                wrong.push(format!("{key} {at} {path}: {ran:?} {outside}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn fonts_that_are_no_fonts() {
    let good = std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/templates/fonts/Andika-Regular.ttf")).unwrap();
    let mut torn = good.clone();
    // The tables' places point far behind the end.
    for at in (12..200).step_by(16) {
        torn[at + 8..at + 12].copy_from_slice(&u32::MAX.to_be_bytes());
    }
    let noise: Vec<u8> = (0..100_000u32).map(|at| (at.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    for (bytes, told) in [
        (Vec::new(), "is no font"),
        (b"a font".to_vec(), "is no font"),
        (good[..1_000].to_vec(), ""),
        (good[..300_000].to_vec(), ""),
        (torn, ""),
        ([&good[..4], &noise].concat(), ""),
        ([&b"ttcf\x00\x01\x00\x00\xff\xff\xff\xff"[..], &noise].concat(), ""),
        (vec![0; 33 << 20], "has 33 MB; the most is 32 MB"),
    ] {
        let folder = Folder::with("porringer.toml", "fonts = [\"own.ttf\"]\n");
        folder.write("own.ttf", &bytes);
        folder.write("recipes/mash.dish", MASH);
        let ran = folder.run(&["build"]);
        assert!(ran.err.contains(told) && (told.is_empty() || ran.code == 2), "{told}: {ran:?}");
        // A half font may still be one: then the card is whole.
        assert!([0, 1, 2].contains(&ran.code), "{ran:?}");
        for made in folder.names("").iter().filter(|name| name.ends_with(".pdf")) {
            assert!(lopdf::Document::load(folder.path(made)).is_ok(), "{made}");
        }
    }
}

#[test]
fn tables_that_nobody_meant() {
    let wide = format!("food,name{}\n1,a{}\n", ",FE".repeat(200_000), ",1".repeat(200_000));
    let long = format!("food,name,FE\n{}", "1,a,1\n".repeat(200_000));
    let zeros = "\0".repeat(1 << 20);
    for (at, text) in [
        wide,
        long,
        zeros,
        format!("food,name,FE\n1,\"{}", "a\n".repeat(500_000)),
        format!("food,name,FE\n1,{},1\n", "\"".repeat(1_000_001)),
        format!("food,name,FE\n1,a,{}\n", "9".repeat(1_000_000)),
        format!("food,name,FE\n1,a,1e{}\n", "9".repeat(1_000)),
        format!("food,unit,price,currency\nwater,{} kg,1,shell\n", "½".repeat(1_000_000)),
        format!("food,unit,price,currency\nwater,kg,{},shell\n", "9".repeat(1_000_000)),
        format!("food,unit,price,currency\n{}", "water,kg,1,shell\n".repeat(100_000)),
    ]
    .iter()
    .enumerate()
    {
        for key in ["tables = [\"x.csv\"]\n", "prices = \"x.csv\"\n"] {
            let folder = Folder::with("porringer.toml", key);
            folder.write("x.csv", text);
            folder.write("recipes/mash.dish", MASH);
            let ran = folder.run(&[if key.starts_with("prices") { "shop" } else { "check" }, "recipes"]);
            assert!([0, 1].contains(&ran.code), "{at} {key}: {} {}", ran.code, ran.err);
            assert!(ran.out.len() < 40 << 20, "{at} {key}: {} bytes", ran.out.len());
            assert!(!ran.out.contains(['\0', '\u{1B}']), "{at} {key}");
        }
    }
}

/// What an author writes is text on the card, whatever the typesetter's own
/// language makes of such signs.
#[test]
fn text_is_text() {
    let odd = "#panic(\"a\") *b* _c_ $d$ @e <f> `g` = h /i: j\\k ~l // m /* n */ #{o} [p] 1.2.q - r";
    let text = MASH
        .replace("dish     ", &format!("dish     {odd} "))
        .replace("portion  1/2 cup\n", &format!("portion  1/2 cup\nserve    {odd}\ncaution  {odd}\nsource   {odd}\n"));
    let folder = Folder::with("recipes/mash.dish", &text);
    folder.write("porringer.toml", format!("programme = '{odd}'\nfooter = '{odd}'\n"));
    let ran = folder.run(&["build", "recipes", "--language", "en"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let made = lopdf::Document::load(folder.path("out/mash.en.pdf")).unwrap();
    let bare = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
    let said = bare(&crate::pages::read_aloud(&made));
    assert!(said.matches(&bare(odd)).count() >= 4, "{said}");
}

#[test]
fn twenty_thousand_empty_lines() {
    for line in ["\n", "# c\n", "   \n", "\t# c\n", "\r\n"] {
        let many = line.repeat(20_000);
        let text = format!("{many}{HEAD}{many}take 1 cup{}\n{many}  water\n{many}step mix everything\n{many}", "");
        assert_eq!(check(text), exactly(0, "", ""), "{line:?}");
    }
    // Faults after them stand where they stand.
    let ran = check(format!("{HEAD}{}take 1 cup zzyzx\nstep boil everything for 5 min\n", "\n# c\n".repeat(10_000)));
    assert!(ran.out.contains("a.dish:20004:12: error[food/unknown] "), "{}", ran.out);
}

#[test]
fn a_thousand_alternatives() {
    let text = format!("{HEAD}take 1 cup water{}\nstep mix everything\n", " or water".repeat(1_900));
    assert_eq!(check(text), exactly(0, "", ""));
    let many: String = (0..1_000).map(|at| format!(" or zz{at}")).collect();
    let ran = check(format!("{HEAD}take 1 cup water{many}\nstep mix everything\n"));
    assert_eq!((ran.code, ran.out.lines().count()), (1, 1_000));
    assert!(ran.out.contains("`zz999`"));
}

#[test]
fn a_card_holds_no_hidden_signs() {
    let mut wrong = Vec::new();
    for sign in ['\u{202E}', '\u{202A}', '\u{2066}', '\u{2069}', '\u{200B}', '\u{2060}', '\u{FEFF}', '\u{7}'] {
        for text in [
            MASH.replace("dish     ", &format!("dish     A{sign}B ")),
            MASH.replace("serve    ", &format!("serve    A{sign}B ")),
            MASH.replace("smooth", &format!("smooth as pas{sign}te"))
                .replace("with groundnut paste", "with everything"),
            MASH.replace("peeled", &format!("pee{sign}led")),
        ] {
            let folder = Folder::with("a.dish", &text);
            let ran = folder.run(&["build", "a.dish"]);
            let told = format!("U+{:04X}", u32::from(sign));
            if ran.code != 1 || !ran.out.contains(&told) || ran.out.contains(sign) || folder.names("").len() > 1 {
                wrong.push(format!("{told} in {text}: {ran:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn bytes_that_are_no_text() {
    let ran = check(b"dish A\nfor 9 to 11 months\ntake 1 cup wa\xffter\n");
    assert_eq!(ran, exactly(1, "a.dish:3:14: error[syntax/not-utf8] from here on the file is not UTF-8 text\n", ""));
    let ran = check(MASH.encode_utf16().flat_map(u16::to_le_bytes).collect::<Vec<u8>>());
    assert_eq!(ran.code, 1);
    assert!(!ran.out.contains('\0'));
    assert_eq!(check([0; 1000]).code, 1);
    assert!(check("").out.starts_with("a.dish:1:1: error[syntax/missing-header] this file has no `dish` line\n"));
    assert_eq!(check("\u{FEFF}").code, 1);
    let all: Vec<u8> = (0..=255).cycle().take(10_000).collect();
    assert_eq!(check(all).code, 1);
}

#[test]
fn the_terminal_obeys_no_recipe() {
    // A null, an escape, a carriage return that overwrites, a bell, marks
    // that turn the direction of writing, blanks of no width.
    let hidden = [
        '\0', '\u{1B}', '\u{7}', '\u{8}', '\u{9B}', '\u{202E}', '\u{2066}', '\u{2069}', '\u{200F}', '\u{200B}',
        '\u{FEFF}', '\u{61C}', '\u{7F}',
    ];
    let mut wrong = Vec::new();
    for character in hidden {
        let text = format!(
            "dish A{character}B\nfor 9 to 11 months\nmakes 2 cups\ntake 1 cup wa{character}ter as w{character}w\n\
             step mix fo{character}o\n"
        );
        let folder = Folder::with("a.dish", &text);
        for arguments in [
            &["check", "a.dish", "--notes"][..],
            &["check", "a.dish", "--notes", "--format", "short"],
            &["trace", "a.dish", "FE"],
            &["nutrients", "a.dish"],
            &["build", "a.dish"],
        ] {
            let ran = folder.run(arguments);
            if ran.out.contains(character) || ran.err.contains(character) {
                wrong.push(format!("{character:?} in {arguments:?}"));
            }
        }
    }
    // What the call itself names.
    for arguments in [["foods", "red"], ["explain", "red"], ["check", "red.dish"], ["build", "red.dish"]] {
        let name = format!("\u{1B}[31m\u{202E}{}", arguments[1]);
        let ran = Folder::new().run(&[arguments[0], &name]);
        assert_ne!(ran.code, 0);
        if format!("{}{}", ran.out, ran.err).contains(['\u{1B}', '\u{202E}']) {
            wrong.push(format!("the argument of {}", arguments[0]));
        }
    }
    for option in ["--language", "--paper", "--out"] {
        let folder = Folder::with("mash.dish", MASH);
        let ran = folder.run(&["build", "mash.dish", option, "\u{1B}[31mred"]);
        if format!("{}{}", ran.out, ran.err).contains('\u{1B}') {
            wrong.push(format!("the argument of {option}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    let text = format!("{HEAD}take 1 cup \u{202E}water\nstep mix everything\n");
    let ran = check(text);
    assert!(ran.out.contains("no food is called `\u{FFFD}water`"), "{}", ran.out);
}

#[cfg(unix)]
#[test]
fn a_file_name_is_not_obeyed_either() {
    let folder = Folder::with("\u{1B}[31m\u{202E}.dish", crate::BROKEN);
    let mut wrong = Vec::new();
    for arguments in [
        &["check", "."][..],
        &["check", ".", "--format", "short"],
        &["nutrients", "."],
        &["nutrients", ".", "--format", "json"],
        &["nutrients", ".", "--format", "csv"],
        &["trace", "\u{1B}[31m\u{202E}.dish"],
        &["build", "."],
    ] {
        let ran = folder.run(arguments);
        assert_eq!(ran.code, 1, "{ran:?}");
        let direction = arguments.contains(&"json");
        if ran.out.contains('\u{1B}')
            || ran.err.contains('\u{1B}')
            || (!direction && format!("{}{}", ran.out, ran.err).contains('\u{202E}'))
        {
            wrong.push(format!("{arguments:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A workspace in which these signs stand wherever someone may write: names of
/// foods and tables, prices, the profile, titles, notes, sources, file names.
fn strange(signs: &str) -> Folder {
    let escaped: String = signs.chars().map(|sign| format!("\\u{:04X}", u32::from(sign))).collect();
    let folder = Folder::with(
        "porringer.toml",
        format!(
            "languages = [\"en\", \"sw\"]\nlarder = [\"larder.toml\"]\nprices = \"prices.csv\"\ntables = [\"lake.csv\"]\n\
             profile = \"national.toml\"\nprogramme = \"Hala{escaped}moya\"\n"
        ),
    );
    folder.write("lake.csv", format!("food,name,ENERC_KCAL,FE\n7,lake {signs} weed,100,2\n"));
    folder.write(
        "prices.csv",
        format!(
            "food,unit,price,currency,date,place\npumpkin,kg,1,sh{signs}ell,2026-10-01,mar{signs}ket\n\
             groundnut paste,kg,2,sh{signs}ell,2026-10-01,mar{signs}ket\n"
        ),
    );
    folder.write(
        "larder.toml",
        format!(
            "[[food]]\nid = \"lake-weed\"\nen = [\"lake {escaped} weed\"]\nsw = [\"mwani{escaped}\"]\nplain = true\n\
             row = \"lake:7\"\nclass = \"greens\"\ngroup = \"vitamin-a\"\ndensity = 0.2\n\
             measures_source = \"weighed {escaped} here\"\n"
        ),
    );
    folder.write(
        "national.toml",
        format!(
            "extends = \"default\"\n[profile]\nid = \"halamoya\"\ntitle = \"Hala{escaped}moya\"\nedition = \"2{escaped}\"\n\
             note = \"an invented {escaped} place\"\n[[hazard]]\nid = \"salt-day-under-12\"\nvalue = 0.5\n\
             authority = \"Hala{escaped}moya\"\nyear = 2026\nstatus = \"checked-official\"\nnote = \"x{escaped}\"\n"
        ),
    );
    let noted = MASH.replace(
        "portion  1/2 cup\n",
        &format!(
            "portion  1/2 cup\nnote     hid{signs}den\nreviewed 2026-10-01 by Ma{signs}ra\nclaim    source of iron\n"
        ),
    );
    folder.write("recipes/mash.dish", MASH);
    folder.write("recipes/noted.dish", &noted);
    folder.write("recipes/titled.dish", noted.replace("dish     ", &format!("dish     A{signs} ")));
    folder.write(
        "recipes/weed.dish",
        noted.replace("2 tbsp groundnut paste, smooth", "1/2 cup lake weed as groundnut paste"),
    );
    folder.write(
        "recipes/day.menu",
        format!("menu Day {signs}\nfor 9 to 11 months\nmeal 7:00: 1/2 cup mash\nnote a{signs}\n"),
    );
    folder.write("recipes/all.booklet", format!("booklet  Foods\nnote {signs}\nsection  One{signs}\npage     mash\n"));
    folder.write("before/mash.dish", MASH.replace("360 g", "340 g"));
    folder.write("before/titled.dish", noted.replace("dish     ", &format!("dish     B{signs} ")));
    folder.write("food.csv", format!("food,name,FE(mg),Q{signs}(g)\n1,\"na{signs}me\",1,2\n2,b,x{signs},1\n"));
    #[cfg(unix)]
    folder.write(&format!("recipes/x{signs}.dish"), &noted);
    folder
}

/// Every command, the calls that are understood and those that are not.
#[test]
fn no_command_hands_an_author_s_signs_to_the_terminal() {
    let signs = "\u{1B}[31m\u{202E}\u{2066}\u{200B}\u{7}\u{8}\u{9B}";
    let folder = strange(signs);
    let strange = format!("x{signs}");
    let strange = strange.as_str();
    let mut wrong = Vec::new();
    for (code, call) in [
        (1, &["check"][..]),
        (1, &["check", "--notes"]),
        (1, &["check", "--notes", "--format", "short"]),
        // No font has the signs of the programme's name.
        (2, &["build"]),
        (2, &["build", "--explain"]),
        (1, &["nutrients"]),
        (1, &["nutrients", "--format", "csv"]),
        (0, &["trace", "recipes/mash.dish"]),
        (1, &["trace", "recipes/noted.dish", "FE"]),
        (1, &["trace", "recipes/weed.dish", "FE"]),
        (1, &["trace", "recipes/titled.dish", "FE"]),
        (1, &["claims", "recipes/noted.dish"]),
        (1, &["claims", "recipes/titled.dish"]),
        (0, &["scale", "recipes/mash.dish", "--portions", "20"]),
        (1, &["scale", "recipes/titled.dish", "--by", "3"]),
        (0, &["shop", "recipes/mash.dish"]),
        (0, &["shop", "recipes/mash.dish", "--format", "csv"]),
        (1, &["menu", "check"]),
        (2, &["menu", "suggest", "--for", "9 to 11 months"]),
        (1, &["translate", "--to", "sw", "--check"]),
        (1, &["translate", "--to", "fr", "--check"]),
        (1, &["format", "--check"]),
        (0, &["compare", "before", "recipes"]),
        (0, &["compare", "before", "recipes", "--format", "markdown"]),
        (0, &["graph", "--format", "dot"]),
        (0, &["foods", "weed"]),
        (0, &["foods", "lake:7"]),
        (0, &["profile", "show"]),
        (0, &["profile", "check", "national.toml"]),
        (1, &["import", "food.csv", "--as", "y"]),
        (2, &["explain", strange]),
        (2, &["schema", strange]),
        (2, &["new", "dish", strange]),
        (2, &["check", "--format", strange]),
        (2, &[strange]),
        (2, &["translate", "--to", strange]),
        (1, &["foods", strange]),
        (2, &["scale", "recipes/mash.dish", "--from", strange]),
        (2, &["scale", "recipes/mash.dish", "--by", strange]),
        (2, &["build", "recipes/mash.dish", "--template", strange]),
        (2, &["import", "food.csv", "--as", strange]),
        (2, &["import", strange, "--as", "y"]),
        (2, &["compare", "--since", strange]),
        (2, &["menu", "suggest", "--for", strange]),
        (2, &["graph", "--format", strange]),
    ] {
        let ran = folder.run(call);
        let said = format!("{}{}", ran.out, ran.err);
        let obeyed: Vec<char> = said.chars().filter(|sign| !"[31m".contains(*sign) && signs.contains(*sign)).collect();
        if ran.code != code || said.is_empty() || !obeyed.is_empty() {
            wrong.push(format!(
                "{call:?} gives {} and {obeyed:?}: {}",
                ran.code,
                said.chars().take(400).collect::<String>()
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Where a machine reads, it is told what a sign is.
    for call in
        [&["check", "--format", "json"][..], &["check", "--format", "sarif"], &["nutrients", "--format", "json"]]
    {
        let ran = folder.run(call);
        assert!(!ran.out.contains(['\u{1B}', '\u{7}', '\u{8}']) && ran.out.len() > 1_000, "{call:?}");
    }
}

#[test]
fn no_spreadsheet_runs_what_an_author_wrote() {
    let mut wrong = Vec::new();
    let mut cells = 0;
    for sign in ["=", "+", "-", "@", "＝", "＋", "－", "＠"] {
        let evil = format!("{sign}HYPERLINK(\"http://example.org\")");
        let folder = Folder::with("porringer.toml", "prices = \"prices.csv\"\n");
        folder.write(
            "prices.csv",
            format!(
                "food,unit,price,currency,date,place\npumpkin,kg,1,{sign}1+1,2026-10-01,{sign}2+2\n\
                 groundnut paste,kg,1,{sign}1+1,2026-10-01,{sign}2+2\n"
            ),
        );
        folder.write(
            "recipes/mash.dish",
            MASH.replace("dish     Pumpkin", &format!("dish     {evil} Pumpkin"))
                .replace("peeled, cubed", "peeled, cubed or 300 g carrots"),
        );
        folder.write("recipes/day.menu", format!("menu {evil}\nfor 9 to 11 months\nmeal 7:00: 1/2 cup mash\n"));
        folder.write("food.csv", format!("food,name,FE(mg)\n{sign}1+1,\"{sign}3+3\",1\n2,\" {sign}4\",1\n"));
        let mut tables = Vec::new();
        for call in [
            &["nutrients", "recipes", "--format", "csv"][..],
            &["nutrients", "recipes/mash.dish", "--format", "csv", "--alternatives"],
            &["shop", "recipes", "--format", "csv"],
        ] {
            let ran = folder.run(call);
            assert!(ran.out.contains("HYPERLINK") || ran.out.contains("pumpkin"), "{call:?}: {ran:?}");
            tables.push(ran.out);
        }
        folder.run(&["build", "recipes", "--format", "csv"]);
        folder.run(&["import", "food.csv", "--as", "y"]);
        for name in folder.names("") {
            if name.ends_with(".csv") && !["prices.csv", "food.csv"].contains(&name.as_str()) {
                tables.push(String::from_utf8(folder.read(&name)).unwrap());
            }
        }
        assert!(tables.len() >= 5, "{sign}: {:?}", folder.names(""));
        for table in tables {
            let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(table.as_bytes());
            for record in reader.records() {
                for cell in &record.unwrap() {
                    cells += 1;
                    // A number below zero is one.
                    if cell.trim_start().starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠'])
                        && cell.parse::<f64>().is_err()
                    {
                        wrong.push(format!("{cell} of {table}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(cells > 1_000, "{cells}");
}

fn link(folder: &Folder, at: usize, next: usize) {
    folder.write(
        &format!("recipes/d{at}.dish"),
        format!(
            "dish D {at}\nfor 12 to 23 months\nmakes 1 cup\ncooked 100 g\ntake 100 g dish d{next} as inner\nstep warm inner for 5 min\n"
        ),
    );
}

#[test]
fn a_deep_chain_of_dishes() {
    let folder = Folder::new();
    for at in 0..100 {
        link(&folder, at, at + 1);
    }
    folder.write("recipes/d100.dish", format!("{HEAD}cooked 100 g\ntake 100 g water\nstep boil water for 5 min\n"));
    let ran = folder.run(&["check", "recipes/d99.dish", "recipes/d90.dish", "--format", "short"]);
    assert!(!ran.out.contains("error"), "{ran:?}");
    // What is too deep is said; it is never a crash.
    let ran = folder.run(&["check", "recipes/d0.dish", "--format", "short"]);
    assert!(ran.code == 0 || ran.out.contains("recipes/d0.dish:5:"), "{ran:?}");
    // The answer for one dish does not hang on which others were asked for.
    let alone = folder.run(&["check", "recipes/d60.dish", "--format", "short"]);
    let together = folder.run(&["check", "recipes", "--format", "short"]);
    let of =
        |ran: &Ran| ran.out.lines().filter(|line| line.contains("/d60.dish:")).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(of(&alone), of(&together));
}

#[test]
fn a_circle_of_dishes() {
    let folder = Folder::new();
    for at in 0..100 {
        link(&folder, at, (at + 1) % 100);
    }
    let ran = folder.run(&["check", "recipes/d0.dish", "--format", "short"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    folder.run(&["check", "recipes"]);
    let folder = Folder::new();
    for at in 0..3 {
        link(&folder, at, (at + 1) % 3);
    }
    let ran = folder.run(&["check", "recipes/d0.dish", "--format", "json"]);
    let json = ran.json();
    let message = json.as_array().unwrap().iter().find(|message| message["code"] == "method/cycle").unwrap();
    let said = message.to_string();
    // The whole circle is named.
    for name in ["d0", "d1", "d2"] {
        assert!(said.contains(name), "{said}");
    }
    let folder = Folder::new();
    link(&folder, 7, 7);
    let ran = folder.run(&["check", "recipes/d7.dish", "--format", "short"]);
    assert!(ran.out.contains("error[method/cycle]"), "{}", ran.out);
}

#[test]
fn numbers_out_of_range_everywhere() {
    let huge = "9".repeat(40);
    let mut wrong = Vec::new();
    for number in [
        "99999999999999999999",
        "1000001",
        "0",
        "1/0",
        "-1",
        "0.000000000000000000001",
        &huge,
        "1e400",
        "nan",
        "1/99999999999999999999",
    ] {
        let lines = [
            format!("for {number} to {number} months"),
            format!("for 9 to {number} months"),
            format!("for from {number} months"),
            format!("makes {number} cups"),
            format!("makes {number} portions of {number} cup"),
            format!("cooked {number} g"),
            format!("cooked {number} %"),
            format!("portion {number} cup"),
            format!("portion 9 to {number} months: {number} cup"),
            format!("take {number} cup water as more"),
            format!("take {number} to {number} kg water as more"),
            format!("take 1 cup water ({number} g) as more"),
            format!("take 1 cup usda:{number} as more"),
            format!("take 1 cup water keep r6:{number} as more"),
            format!("take 1 cup water or {number} cup pumpkin as more"),
            format!("step boil water for {number} min"),
            format!("step boil water for {number} days {number} h"),
            format!("step boil water for {number} whistles"),
            format!("step bake water at {number} C"),
            format!("step bake water at {number} F"),
            format!("reviewed {number}-01-01"),
        ];
        let folder = Folder::new();
        for (at, line) in lines.iter().enumerate() {
            folder.write(
                &format!("{at:02}.dish"),
                format!("dish A\ntake 1 cup water\n{line}\nstep boil everything for 5 min\n"),
            );
        }
        let ran = folder.run(&["check", ".", "--format", "short"]);
        assert_eq!(ran.code, 1, "{number}: {ran:?}");
        // Each of these is wrong as an amount, so its line has a message.
        if number != "0.000000000000000000001" {
            for at in [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 14, 15, 16, 17] {
                // FNDDS writes code 0 where no retention applies.
                let no_retention = at == 13 && number == "0";
                if !no_retention && !ran.out.contains(&format!("{at:02}.dish:3:")) {
                    wrong.push(format!("`{}` is taken", lines[at]));
                }
            }
        }
        for format in ["table", "json", "csv"] {
            let ran = folder.run(&["nutrients", ".", "--format", format]);
            assert!(ran.code == 0 || ran.code == 1, "{number}: {ran:?}");
            assert!(!ran.out.contains("NaN") && !ran.out.contains("inf"), "{number}: {}", ran.out);
            assert_eq!(ran.out.matches("ENERC_KCAL").count(), lines.len(), "{number}: a dish is missing");
        }
        let ran = folder.run(&["trace", "06.dish", "FE"]);
        assert!(!ran.out.contains("NaN") && !ran.out.contains("inf"), "{number}: {}", ran.out);
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // The largest numbers that may be written give numbers.
    let ran = Folder::with("a.dish", format!("{HEAD}take 1000000 kg pumpkin\nstep mash pumpkin\n")).run(&[
        "nutrients",
        "a.dish",
        "--format",
        "json",
    ]);
    assert_eq!(ran.json()["raw_g"], 1_000_000_000);
}

#[cfg(target_os = "linux")]
#[test]
fn a_file_that_cannot_be_read() {
    // Also for the superuser: reading this one is always a fault.
    let folder = Folder::with("mash.dish", MASH);
    std::os::unix::fs::symlink("/proc/self/mem", folder.path("bad.dish")).unwrap();
    let ran = folder.run(&["check", "bad.dish", "mash.dish", "--format", "short"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.out.starts_with("bad.dish:1:1: error["), "{}", ran.out);
    assert!(ran.out.contains("the file cannot be read"), "{}", ran.out);
    let ran = folder.run(&["build", "mash.dish", "bad.dish"]);
    assert_eq!((ran.code, folder.names("out")), (1, vec!["mash.en.pdf".to_owned()]), "{ran:?}");
}

#[cfg(unix)]
#[test]
fn a_file_that_may_not_be_read() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::with("bad.dish", MASH);
    let path = folder.path("bad.dish");
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o0)).unwrap();
    // The superuser may read everything: nothing to test then.
    if std::fs::read(&path).is_ok() {
        return;
    }
    let ran = folder.run(&["check", "bad.dish", "--format", "short"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.out.contains("the file cannot be read"), "{}", ran.out);
}
