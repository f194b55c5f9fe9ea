//! `porringer build`

use std::fs;
use std::path::Path;

use lopdf::{Dictionary, Document, Object};
use serde_json::Value;

use crate::{BROKEN, Folder, MASH, exactly};

/// The smallest dish without a fault.
fn small(id: &str) -> String {
    format!(
        "dish Boiled water\nid {id}\nfor 9 to 11 months\nmakes 1 cup\ncooked 250 g\ntake 1 cup water\n\
         step boil water for 5 min\n"
    )
}

fn pdf(folder: &Folder, name: &str) -> Document {
    Document::load_mem(&folder.read(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn name_of<'a>(dictionary: &'a Dictionary, key: &[u8]) -> &'a [u8] {
    dictionary.get(key).and_then(Object::as_name).unwrap_or_default()
}

/// Characters without the blanks, so that line breaks on the card change
/// nothing.
fn text(document: &Document) -> String {
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    document.extract_text(&pages).unwrap().split_whitespace().collect()
}

fn has(document: &Document, words: &str) {
    let words: String = words.split_whitespace().collect();
    let text = text(document);
    assert!(text.contains(&words), "`{words}` is not in {text}");
}

#[test]
fn a_card_is_made_in_each_language() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["build", "mash.dish", "--language", "en,sw"]);
    assert_eq!(ran, exactly(0, "", "porringer: 2 files in out: no errors\n"));
    assert_eq!(folder.names("out"), ["mash.en.pdf", "mash.sw.pdf"]);
    for (name, lang, title) in
        [("out/mash.en.pdf", "en", "Pumpkin and groundnut mash"), ("out/mash.sw.pdf", "sw", "Boga na karanga")]
    {
        let document = pdf(&folder, name);
        assert_eq!(document.get_pages().len(), 2, "{name}");
        let catalog = document.catalog().unwrap();
        let marked = document.get_dict_in_dict(catalog, b"MarkInfo").unwrap();
        assert!(marked.get(b"Marked").unwrap().as_bool().unwrap(), "{name}");
        assert!(catalog.has(b"StructTreeRoot"), "{name}");
        assert_eq!(lopdf::decode_text_string(catalog.get(b"Lang").unwrap()).unwrap(), lang);
        let metadata = catalog.get(b"Metadata").and_then(Object::as_reference).unwrap();
        let stream = document.get_object(metadata).and_then(Object::as_stream).unwrap();
        let content = stream.get_plain_content().unwrap_or_else(|_| stream.content.clone());
        let xmp = String::from_utf8(content).unwrap();
        assert!(xmp.contains("pdfuaid:part>1<") || xmp.contains("pdfuaid:part=\"1\""), "{xmp}");
        assert!(xmp.contains(title), "{xmp}");
        // The window shows the title, not the file's name.
        let preferences = document.get_dict_in_dict(catalog, b"ViewerPreferences").unwrap();
        assert!(preferences.get(b"DisplayDocTitle").unwrap().as_bool().unwrap());
    }
}

#[test]
fn every_font_is_embedded() {
    let folder = Folder::with("mash.dish", MASH);
    folder.run(&["build", "mash.dish", "--language", "en,sw"]);
    for name in ["out/mash.en.pdf", "out/mash.sw.pdf"] {
        let document = pdf(&folder, name);
        let mut fonts = 0;
        for object in document.objects.values() {
            let Ok(dictionary) = object.as_dict() else { continue };
            if name_of(dictionary, b"Type") != b"Font" {
                continue;
            }
            let subtype = String::from_utf8_lossy(name_of(dictionary, b"Subtype")).into_owned();
            if subtype == "Type0" {
                assert!(dictionary.has(b"ToUnicode"), "{name}: its text cannot be read aloud");
                continue;
            }
            fonts += 1;
            let descriptor = document.get_dict_in_dict(dictionary, b"FontDescriptor").unwrap();
            let file = [&b"FontFile"[..], b"FontFile2", b"FontFile3"].iter().any(|key| descriptor.has(key));
            assert!(file, "{name}: {subtype} is not embedded");
        }
        assert!(fonts > 0, "{name}");
    }
}

#[test]
fn the_text_of_the_card_can_be_read() {
    let folder = Folder::with("mash.dish", MASH);
    folder.run(&["build", "mash.dish", "--language", "en,sw"]);
    let document = pdf(&folder, "out/mash.en.pdf");
    for words in [
        "Pumpkin and groundnut mash",
        "For children of 9 to 11 months",
        "300 g",
        "pumpkin, peeled, cubed",
        "2 tablespoons",
        "groundnut paste, smooth",
        "32 g",
        "½ cup, 120 g",
        "15 min",
        "Warm, within 2 hours.",
    ] {
        has(&document, words);
    }
    let document = pdf(&folder, "out/mash.sw.pdf");
    for words in ["Boga na karanga", "gramu 300", "vijiko vikubwa 2", "gramu 120", "Kikiwa vuguvugu, ndani ya saa 2."] {
        has(&document, words);
    }
}

#[test]
fn data_holds_figures_and_cards() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["build", "mash.dish", "--language", "en,sw", "--format", "json"]);
    assert_eq!((ran.code, ran.out.as_str()), (0, ""));
    assert_eq!(folder.names("out"), ["mash.json"]);
    let data: Value = serde_json::from_slice(&folder.read("out/mash.json")).unwrap();
    assert_eq!(data["figures"], folder.run(&["nutrients", "mash.dish", "--format", "json"]).json());
    let cards = data["cards"].as_array().unwrap();
    assert_eq!(cards.len(), 2);
    assert_eq!((&cards[0]["lang"], &cards[1]["lang"]), (&"en".into(), &"sw".into()));
    assert_eq!(cards[1]["title"], "Boga na karanga");
    assert_eq!(cards[0]["portions"]["items"][0]["grams"], "120\u{A0}g");
    assert_eq!(cards[0]["ingredients"]["sections"][0]["items"][1]["grams"], "32\u{A0}g");
    let ran = folder.run(&["build", "mash.dish", "--format", "pdf,json", "--out", "both"]);
    assert_eq!(ran, exactly(0, "", "porringer: 2 files in both: no errors\n"));
    assert_eq!(folder.names("both"), ["mash.en.pdf", "mash.json"]);
}

#[test]
fn one_file_is_not_files() {
    let folder = Folder::with("mash.dish", MASH);
    assert_eq!(folder.run(&["build", "mash.dish"]), exactly(0, "", "porringer: 1 file in out: no errors\n"));
}

#[test]
fn a_dish_with_errors_is_left_out_and_the_others_are_made() {
    let folder = Folder::with("recipes/broken.dish", BROKEN);
    folder.write("recipes/mash.dish", MASH);
    folder.write("out/broken.en.pdf", "an earlier card");
    folder.write("out/broken.json", "earlier data");
    let ran = folder.run(&["build", "--format", "pdf,json"]);
    assert_eq!(ran.code, 1);
    assert_eq!(ran.err, "porringer: 2 files in out, 1 dish left out: 1 error\n");
    assert!(ran.out.starts_with("food/unknown\n\n  × no food is called `zzyzx`\n"), "{}", ran.out);
    assert_eq!(folder.names("out"), ["broken.en.pdf", "broken.json", "mash.en.pdf", "mash.json"]);
    assert_eq!(folder.read("out/broken.en.pdf"), b"an earlier card");
    assert_eq!(folder.read("out/broken.json"), b"earlier data");
    // A dish whose lines could not be read at all counts too.
    folder.write("recipes/broken.dish", b"dish A\xff\n");
    let ran = folder.run(&["build"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("1 dish left out"), "{}", ran.err);
    assert_eq!(folder.read("out/broken.en.pdf"), b"an earlier card");
}

#[test]
fn warnings_leave_out_only_when_denied() {
    let folder =
        Folder::with("mash.dish", MASH.replace("300 g pumpkin, peeled, cubed", "1 cup pumpkin, cubed (300 g)"));
    let ran = folder.run(&["build", "mash.dish", "--deny", "warnings"]);
    assert_eq!((ran.code, folder.names("out").len()), (1, 0), "{ran:?}");
    let ran = folder.run(&["build", "mash.dish"]);
    assert_eq!((ran.code, folder.names("out").len()), (0, 1), "{ran:?}");
}

#[test]
fn the_same_recipe_gives_the_same_bytes() {
    let folder = Folder::with("mash.dish", MASH);
    let formats = ["build", "mash.dish", "--language", "en,sw", "--format", "pdf,json"];
    assert_eq!(folder.run(&formats).code, 0);
    let names = folder.names("out");
    assert_eq!(names.len(), 3);
    let first: Vec<Vec<u8>> = names.iter().map(|name| folder.read(&format!("out/{name}"))).collect();
    let same = |other: &Folder, why: &str| {
        for (name, bytes) in names.iter().zip(&first) {
            assert!(&other.read(&format!("out/{name}")) == bytes, "{name} is another with {why}");
        }
    };
    for variables in [
        &[][..],
        &[("RAYON_NUM_THREADS", "1")],
        &[("RAYON_NUM_THREADS", "2")],
        &[("TZ", "Pacific/Kiritimati")],
        &[("TZ", "America/Los_Angeles"), ("LANG", "sw_KE.UTF-8"), ("LC_ALL", "tr_TR.UTF-8")],
        &[("SOURCE_DATE_EPOCH", "1")],
        &[("SOURCE_DATE_EPOCH", "1893456000")],
        &[("HOME", "/nowhere"), ("COLUMNS", "20"), ("NO_COLOR", "1")],
    ] {
        fs::remove_dir_all(folder.path("out")).unwrap();
        assert_eq!(folder.run_with(&formats, variables).code, 0);
        same(&folder, &format!("{variables:?}"));
    }
    // In another place, beside other dishes.
    let other = Folder::with("deep/er/recipes/mash.dish", MASH);
    for at in 0..8 {
        other.write(&format!("deep/er/recipes/other-{at}.dish"), small(&format!("w{at}")).replace("1 cup", "2 cups"));
    }
    let ran = other.run(&["build", "deep/er/recipes", "--language", "en,sw", "--format", "pdf,json", "--out", "out"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(other.names("out").len(), 9 * 3);
    same(&other, "other dishes beside it");
}

#[test]
fn what_cannot_be_written_is_said_and_nothing_is_lost() {
    let folder = Folder::with("mash.dish", MASH);
    folder.write("file", "mine");
    let ran = folder.run(&["build", "mash.dish", "--out", "file"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.starts_with("porringer: the folder `file` cannot be made: "), "{}", ran.err);
    assert_eq!(folder.read("file"), b"mine");
    // A folder stands where the card should be: the other card is made, and
    // nothing half done is left behind.
    folder.write("out/mash.en.pdf/mine.txt", "mine");
    let ran = folder.run(&["build", "mash.dish", "--language", "en,sw"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.starts_with("porringer: `out/mash.en.pdf` cannot be written: "), "{}", ran.err);
    assert_eq!(folder.names("out"), ["mash.en.pdf/mine.txt", "mash.sw.pdf"]);
}

#[cfg(unix)]
#[test]
fn a_folder_that_is_read_only_stays_as_it_is() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::with("mash.dish", MASH);
    folder.write("out/mash.en.pdf", "an earlier card");
    let set = |mode| fs::set_permissions(folder.path("out"), fs::Permissions::from_mode(mode)).unwrap();
    set(0o555);
    // The superuser may write everywhere: nothing to test then.
    let mighty = fs::write(folder.path("out/probe"), "").is_ok();
    let ran = folder.run(&["build", "mash.dish"]);
    set(0o755);
    if mighty {
        return;
    }
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.starts_with("porringer: `out/mash.en.pdf` cannot be written: "), "{}", ran.err);
    assert_eq!(folder.names("out"), ["mash.en.pdf"]);
    assert_eq!(folder.read("out/mash.en.pdf"), b"an earlier card");
}

#[cfg(unix)]
#[test]
fn a_link_in_the_folder_leads_nowhere_else() {
    let folder = Folder::with("mash.dish", MASH);
    folder.write("precious.pdf", "precious");
    fs::create_dir(folder.path("out")).unwrap();
    std::os::unix::fs::symlink(folder.path("precious.pdf"), folder.path("out/mash.en.pdf")).unwrap();
    assert_eq!(folder.run(&["build", "mash.dish"]).code, 0);
    assert_eq!(folder.read("precious.pdf"), b"precious");
    assert!(folder.read("out/mash.en.pdf").starts_with(b"%PDF-"));
}

#[test]
fn what_is_not_ours_stays() {
    let folder = Folder::with("mash.dish", MASH);
    for name in ["out/notes.txt", "out/other.en.pdf", "out/mash.fr.pdf", "out/deep/mash.en.pdf"] {
        folder.write(name, name);
    }
    assert_eq!(folder.run(&["build", "mash.dish"]).code, 0);
    for name in ["out/notes.txt", "out/other.en.pdf", "out/mash.fr.pdf", "out/deep/mash.en.pdf"] {
        assert_eq!(folder.read(name), name.as_bytes());
    }
    assert_eq!(folder.names("out").len(), 5);
    // An earlier card of ours is replaced.
    folder.write("out/mash.en.pdf", "an earlier card");
    assert_eq!(folder.run(&["build", "mash.dish"]).code, 0);
    assert!(folder.read("out/mash.en.pdf").starts_with(b"%PDF-"));
}

/// A good dish whose method is told at such length that no sheet holds it.
fn endless() -> String {
    let mut text = "\
dish     Red bean and pumpkin mash
for      9 to 23 months
makes    1 3/4 cups
cooked   440 g
portion  9 to 11 months: 1/2 cup
portion  12 to 23 months: 3/4 cup

take     1/2 cup red kidney beans, dry (92 g) as beans
take     1 cup pumpkin, peeled, cubed
take     1 tbsp groundnut paste, smooth
take     2 tsp red palm oil as oil

step     soak beans for 8 to 12 h, unattended
step     drain beans: Throw the soaking water away and rinse.
step     boil beans for 60 to 75 min, until soft
"
    .to_owned();
    for look in 1..=60 {
        text.push_str(&format!(
            "step     stir beans: Stir again. Scrape the bottom of the pot. Taste whether a bean is soft by
         crushing it between two fingers. Add a little hot water when the pot is dry. This is
         look number {look} at the pot; the fire should burn evenly and the lid should lie on it.\n"
        ));
    }
    text.push_str(
        "step     boil pumpkin with beans for 15 min
step     mash everything with groundnut paste, oil
serve    warm, within 2 hours
",
    );
    text
}

#[test]
fn a_text_that_no_sheet_holds_is_an_error() {
    let folder = Folder::with("endless.dish", endless());
    folder.write("mash.dish", MASH);
    folder.write("out/endless.en.pdf", "an earlier card");
    let ran = folder.run(&["build", "endless.dish", "mash.dish"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.starts_with("text/text-too-long-for-card\n"), "{}", ran.out);
    assert!(ran.out.contains("[endless.dish:1:10]"), "{}", ran.out);
    assert!(ran.out.contains("a sheet has two sides"), "{}", ran.out);
    assert!(ran.out.contains("shorten the prose"), "{}", ran.out);
    assert_eq!(ran.err, "porringer: 1 file in out, 1 dish left out: 1 error\n");
    assert_eq!(folder.read("out/endless.en.pdf"), b"an earlier card");
    assert_eq!(pdf(&folder, "out/mash.en.pdf").get_pages().len(), 2);
}

#[test]
fn every_paper_can_be_asked_for() {
    let folder = Folder::with("mash.dish", MASH);
    // Width and height in points, of 72 to the inch.
    for (paper, width, height) in
        [("A4", 595.3, 841.9), ("a4", 595.3, 841.9), ("A5", 419.5, 595.3), ("Letter", 612.0, 792.0)]
    {
        let ran = folder.run(&["build", "mash.dish", "--paper", paper]);
        assert_eq!(ran.code, 0, "{paper}: {ran:?}");
        let document = pdf(&folder, "out/mash.en.pdf");
        let pages = document.get_pages();
        assert_eq!(pages.len(), 2, "{paper}");
        for page in pages.values() {
            let page = document.get_dictionary(*page).unwrap();
            let edges: Vec<f32> = page
                .get(b"MediaBox")
                .unwrap()
                .as_array()
                .unwrap()
                .iter()
                .map(|edge| edge.as_float().unwrap())
                .collect();
            assert!((edges[2] - width).abs() < 0.1 && (edges[3] - height).abs() < 0.1, "{paper}: {edges:?}");
        }
    }
}

#[test]
fn an_unknown_language_or_paper_is_a_fault_of_usage() {
    let folder = Folder::with("mash.dish", MASH);
    assert_eq!(
        folder.run(&["build", "mash.dish", "--language", "en,ws"]),
        exactly(2, "", "porringer: the card's words are not there in `ws`; did you mean `sw`?\n")
    );
    assert_eq!(
        folder.run(&["build", "mash.dish", "--language", "xx"]),
        exactly(2, "", "porringer: the card's words are not there in `xx`; there are en, sw, fr, hi, am, ar\n")
    );
    let ran = folder.run(&["build", "mash.dish", "--paper", "Leter"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("did you mean `Letter`?"), "{}", ran.err);
    let ran = folder.run(&["build", "mash.dish", "--paper", "Z9"]);
    assert_eq!(ran, exactly(2, "", "porringer: `Z9` is no paper; there are A4, A5, A6, Letter\n"));
    assert!(!folder.path("out").exists());
}

#[test]
fn two_dishes_do_not_share_a_name() {
    let folder = Folder::with("a/mash.dish", MASH);
    folder.write("b/mash.dish", MASH);
    let ran = folder.run(&["build", "a", "b"]);
    assert_eq!(
        ran,
        exactly(2, "", "porringer: `b/mash.dish` and `a/mash.dish` are both called `mash`; give one another `id`\n")
    );
    // Nor may two names become one file: the second card would be lost.
    let folder = Folder::with("one.dish", small("a.b"));
    folder.write("two.dish", small("a-b"));
    let ran = folder.run(&["build", "one.dish", "two.dish"]);
    let made = folder.path("out").exists() && folder.names("out").len() == 2;
    assert!(ran.code == 2 || made, "one card took the place of the other: {ran:?}");
    // In folders where a and A are one letter.
    let folder = Folder::with("one.dish", small("water"));
    folder.write("two.dish", small("Water"));
    let ran = folder.run(&["build", "one.dish", "two.dish"]);
    assert_eq!(ran.code, 2, "{ran:?}");
}

#[test]
fn no_id_leads_out_of_the_folder() {
    for id in
        ["../evil", "../../evil", "/tmp/evil", "a/b", "..", "...", "..evil", ".evil", "a\\b", "C:evil", "con\u{0}x"]
    {
        let folder = Folder::with("in/here/a.dish", small(id));
        let ran = folder.run(&["build", "in/here/a.dish", "--out", "in/out", "--format", "pdf,json"]);
        assert!(ran.code == 0 || ran.code == 1, "{id}: {ran:?}");
        for name in folder.names("") {
            let own = name == "in/here/a.dish";
            let card = name.strip_prefix("in/out/").is_some_and(|card| !card.contains('/') && !card.starts_with('.'));
            assert!(own || card, "{id} wrote {name}");
        }
    }
    // The file's own name is an id too.
    let folder = Folder::with("a b..c.dish", small("x").replace("id x\n", ""));
    assert_eq!(folder.run(&["build", "a b..c.dish"]).code, 0);
    assert_eq!(folder.names("out"), ["a-b--c.en.pdf"]);
}

#[test]
fn digits_and_direction_follow_the_language() {
    let folder = Folder::with("mash.dish", MASH);
    let card = |digits: &str, tag: &str| {
        folder.write("porringer.toml", format!("languages = [\"en\"]\n{digits}"));
        let ran = folder.run(&["build", "--language", tag, "--format", "json", "--out", "cards"]);
        assert_eq!(ran.code, 0, "{ran:?}");
        let data: Value = serde_json::from_slice(&folder.read("cards/mash.json")).unwrap();
        data["cards"][0].clone()
    };
    let hindi = card("digits = \"native\"\n", "hi");
    assert_eq!(
        (&hindi["ages"]["months"][0]["text"], &hindi["method"]["steps"][0]["number_text"], &hindi["dir"]),
        (&Value::from("६"), &Value::from("१"), &Value::from("ltr"))
    );
    // The verb stands last: squash, in whatever words, before "boil".
    let sentence = hindi["method"]["steps"][1]["sentence"].as_str().unwrap();
    assert!(sentence.ends_with("मसलें।"), "{sentence}");
    let arabic = card("digits = \"native\"\n", "ar");
    assert_eq!((&arabic["ages"]["months"][0]["text"], &arabic["dir"]), (&Value::from("٦"), &Value::from("rtl")));
    assert_eq!(card("digits = \"latin\"\n", "ar")["ages"]["months"][0]["text"], "6");
    folder.write("porringer.toml", "digits = \"roman\"\n");
    let ran = folder.run(&["check", "--format", "json"]);
    assert_eq!((ran.code, ran.places()[0].as_str()), (1, "1:10 workspace/unknown-key"));
}

#[test]
fn a_folder_of_fonts_is_read() {
    let folder = Folder::with("mash.dish", MASH);
    let ours = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/fonts");
    let build = |font: &str| folder.run(&["build", "--font", font, "--out", "cards"]);
    assert_eq!(build(&ours.display().to_string()).code, 0);
    std::fs::create_dir(folder.path("none")).unwrap();
    assert_eq!(build("none"), exactly(2, "", "porringer: the folder `none` holds no fonts (.ttf, .otf)\n"));
    assert_eq!(build("mash.dish"), exactly(2, "", "porringer: `mash.dish` is no font\n"));
    std::fs::create_dir(folder.path("fonts")).unwrap();
    std::fs::copy(ours.join("Andika-Regular.ttf"), folder.path("fonts/Own.ttf")).unwrap();
    folder.write("porringer.toml", "fonts = [\"fonts\"]\n");
    assert_eq!(folder.run(&["build", "--out", "cards"]).code, 0);
}
