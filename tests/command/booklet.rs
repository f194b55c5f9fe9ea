//! Booklets: their pages and numbers, what binds them, sheets for a printer.

use std::collections::BTreeSet;

use lopdf::{Dictionary, Document, Object, ObjectId};
use porringer::diagnostic::render::visible;
use serde_json::Value;

use crate::{BROKEN, Folder, MASH, demo, exactly};

/// Two sections of two dishes, a day, and all annexes.
const BOOKLET: &str = "\
booklet  Lakeshore food
in sw    Chakula cha ziwani
language en, sw
paper    A5
note     An invented place.
in sw    Mahali pa kubuni.
section  Mashes
in sw    Vyakula vya kuponda
page     mash
page     second
section  Days
in sw    Siku
page     menu day
annex    measures, nutrients, sources
";

const DAY: &str = "\
menu     A quiet day
in sw    Siku tulivu
for      9 to 11 months, breastfed
meal     7:00 breakfast: mash
snack    10:00: 1 small banana
meal     12:30 lunch: second
meal     18:00 supper: 1/2 cup orange sweet potato, boiled, 1 egg, boiled
";

fn folder() -> Folder {
    let folder = Folder::with("food.booklet", BOOKLET);
    folder.write("mash.dish", MASH);
    folder
        .write("second.dish", MASH.replace("Pumpkin and groundnut mash", "Second mash").replace("Boga na", "Pili na"));
    folder.write("day.menu", DAY);
    folder
}

fn pdf(folder: &Folder, name: &str) -> Document {
    Document::load_mem(&folder.read(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Characters of each page without the blanks.
fn pages(document: &Document) -> Vec<String> {
    let pages = document.get_pages();
    pages.keys().map(|page| document.extract_text(&[*page]).unwrap().split_whitespace().collect()).collect()
}

fn dictionary(document: &Document, id: ObjectId) -> &Dictionary {
    document.get_dictionary(id).unwrap()
}

fn reference(dictionary: &Dictionary, key: &[u8]) -> Option<ObjectId> {
    dictionary.get(key).and_then(Object::as_reference).ok()
}

fn words(dictionary: &Dictionary, key: &[u8]) -> String {
    lopdf::decode_text_string(dictionary.get(key).unwrap()).unwrap()
}

/// Entries below an outline entry, each with the page it leads to, counted
/// from 1.
fn outline(document: &Document, parent: ObjectId) -> Vec<(ObjectId, String, usize)> {
    let order: Vec<ObjectId> = document.get_pages().into_values().collect();
    let mut found = Vec::new();
    let mut before = None;
    let mut next = reference(dictionary(document, parent), b"First");
    while let Some(id) = next {
        let entry = dictionary(document, id);
        assert_eq!(reference(entry, b"Parent"), Some(parent));
        assert_eq!(reference(entry, b"Prev"), before);
        let place = entry.get_deref(b"Dest", document).and_then(Object::as_array).unwrap();
        let page = place[0].as_reference().unwrap();
        let page = order.iter().position(|one| *one == page).unwrap() + 1;
        found.push((id, words(entry, b"Title").replace('\u{A0}', " "), page));
        before = Some(id);
        next = reference(entry, b"Next");
    }
    assert_eq!(reference(dictionary(document, parent), b"Last"), before);
    found
}

fn outlines(document: &Document) -> ObjectId {
    reference(document.catalog().unwrap(), b"Outlines").unwrap()
}

#[test]
fn a_booklet_is_made_in_each_language() {
    let folder = folder();
    let ran = folder.run(&["build", "food.booklet"]);
    assert_eq!(ran, exactly(0, "", "porringer: 2 files in out: no errors\n"));
    assert_eq!(folder.names("out"), ["food.en.pdf", "food.sw.pdf"]);
    for (name, lang, title, dish) in [
        ("out/food.en.pdf", "en", "Lakeshore food", "Pumpkinandgroundnutmash"),
        ("out/food.sw.pdf", "sw", "Chakula cha ziwani", "Boganakaranga"),
    ] {
        let document = pdf(&folder, name);
        let catalog = document.catalog().unwrap();
        assert_eq!(words(catalog, b"Lang"), lang);
        let text = pages(&document);
        assert!(text[0].contains(&title.replace(' ', "")), "{}", text[0]);
        // A dish lies open: its front on the left, its back on the right.
        assert!(text[3].contains(dish), "{}", text[3]);
        let metadata = document.get_object(reference(catalog, b"Metadata").unwrap()).and_then(Object::as_stream);
        let stream = metadata.unwrap();
        let content = stream.get_plain_content().unwrap_or_else(|_| stream.content.clone());
        let xmp = String::from_utf8(content).unwrap();
        assert!(xmp.contains("pdfuaid:part>1<") && xmp.contains(title), "{xmp}");
        assert!(xmp.contains(&format!("<xmpTPg:NPages>{}<", text.len())), "{xmp}");
    }
    // The languages of the call outrank the booklet's, its paper too.
    let ran = folder.run(&["build", "food.booklet", "--language", "en", "--paper", "A4", "--out", "large"]);
    assert_eq!((ran.code, folder.names("large")), (0, vec!["food.en.pdf".to_owned()]), "{ran:?}");
    let document = pdf(&folder, "large/food.en.pdf");
    let page = dictionary(&document, document.get_pages()[&1]);
    let media = page.get(b"MediaBox").and_then(Object::as_array).unwrap();
    assert!((media[3].as_float().unwrap() - 841.89).abs() < 0.1, "{media:?}");
}

/// The pages of a dish in the booklet say what its card says, in the same
/// order, and beside it only the number and the running title.
#[test]
fn text_in_reading_order_is_the_cards() {
    let folder = folder();
    assert_eq!(folder.run(&["build", ".", "--language", "en,sw"]).code, 0);
    for lang in ["en", "sw"] {
        let whole = pages(&pdf(&folder, &format!("out/food.{lang}.pdf")));
        for (name, first) in [("mash", 4), ("second", 6), ("day", 10)] {
            let card = pages(&pdf(&folder, &format!("out/{name}.{lang}.pdf")));
            assert_eq!(card.len(), 2);
            for (at, own) in card.iter().enumerate() {
                let bound = &whole[first + at - 1];
                let rest = bound.strip_prefix(own.as_str()).unwrap_or_else(|| panic!("{own}\nis not in\n{bound}"));
                assert!(rest.contains(&(first + at).to_string()), "{name}: {rest}");
                assert!(rest.chars().count() < 40, "{name}: {rest}");
            }
        }
    }
}

#[test]
fn tags_make_one_tree_in_the_order_of_the_pages() {
    let folder = folder();
    folder.run(&["build", "food.booklet", "--language", "en"]);
    let document = pdf(&folder, "out/food.en.pdf");
    let order: Vec<ObjectId> = document.get_pages().into_values().collect();
    let catalog = document.catalog().unwrap();
    let root = reference(catalog, b"StructTreeRoot").unwrap();
    let kids = dictionary(&document, root).get(b"K").and_then(Object::as_array).unwrap();
    assert_eq!(kids.len(), 1);
    let top = kids[0].as_reference().unwrap();
    assert_eq!(dictionary(&document, top).get(b"S").and_then(Object::as_name).unwrap(), b"Document");
    // Every tag leads to its parent, and pages come in order.
    let mut seen = 0;
    let mut last = 0;
    let mut ids = BTreeSet::new();
    let mut left: Vec<(ObjectId, ObjectId)> = vec![(top, root)];
    while let Some((id, parent)) = left.pop() {
        let tag = dictionary(&document, id);
        assert_eq!(reference(tag, b"P"), Some(parent));
        seen += 1;
        if let Some(page) = reference(tag, b"Pg") {
            let page = order.iter().position(|one| *one == page).unwrap();
            assert!(page + 1 >= last, "tags go back from page {last} to {page}");
            last = last.max(page);
        }
        if let Ok(name) = tag.get(b"ID").and_then(Object::as_str) {
            assert!(ids.insert(name.to_vec()), "two tags have one name");
        }
        let mut below: Vec<ObjectId> = match tag.get(b"K") {
            Ok(Object::Array(list)) => list.iter().filter_map(|kid| kid.as_reference().ok()).collect(),
            Ok(Object::Reference(kid)) => vec![*kid],
            _ => Vec::new(),
        };
        below.reverse();
        left.extend(below.into_iter().map(|kid| (kid, id)));
    }
    assert!(seen > 500 && last + 1 == order.len(), "{seen} tags on {} pages", last + 1);
    // What stands on each page is found by the page's number.
    let tree = dictionary(&document, root);
    let parents = document.get_dict_in_dict(tree, b"ParentTree").unwrap();
    let numbers: Vec<i64> = parents
        .get(b"Nums")
        .and_then(Object::as_array)
        .unwrap()
        .iter()
        .step_by(2)
        .map(|number| number.as_i64().unwrap())
        .collect();
    assert!(numbers.windows(2).all(|pair| pair[0] < pair[1]));
    for page in &order {
        let number = dictionary(&document, *page).get(b"StructParents").and_then(Object::as_i64).unwrap();
        assert!(numbers.contains(&number));
    }
    // The names of table heads are found too, in order.
    let names = document.get_dict_in_dict(tree, b"IDTree").unwrap().get(b"Names").and_then(Object::as_array).unwrap();
    let names: Vec<&[u8]> = names.iter().step_by(2).map(|name| name.as_str().unwrap()).collect();
    assert!(names.windows(2).all(|pair| pair[0] < pair[1]));
    assert_eq!(names.iter().map(|name| name.to_vec()).collect::<BTreeSet<_>>(), ids);
}

#[test]
fn outline_contents_and_links_lead_to_the_pages() {
    let folder = folder();
    folder.run(&["build", "food.booklet", "--language", "en"]);
    let document = pdf(&folder, "out/food.en.pdf");
    let text = pages(&document);
    let top = outline(&document, outlines(&document));
    let titles: Vec<(&str, usize)> = top.iter().map(|(_, title, page)| (title.as_str(), *page)).collect();
    assert_eq!(titles[..4], [("Lakeshore food", 1), ("Contents", 2), ("Mashes", 3), ("Days", 9)]);
    let mashes = outline(&document, top[2].0);
    let below: Vec<(&str, usize)> = mashes.iter().map(|(_, title, page)| (title.as_str(), *page)).collect();
    assert_eq!(below, [("Pumpkin and groundnut mash", 4), ("Second mash", 6)]);
    // A dish keeps its own headings below it, shut.
    let dish = dictionary(&document, mashes[0].0);
    assert!(dish.get(b"Count").and_then(Object::as_i64).unwrap() < 0);
    assert!(outline(&document, mashes[0].0).iter().any(|(_, title, page)| title == "How to make it" && *page == 4));
    for (_, title, page) in top.iter().chain(&mashes) {
        let title: String = title.split_whitespace().collect();
        assert!(text[page - 1].contains(&title), "{title} is not on page {page}");
        // So say the contents.
        if *page > 2 {
            assert!(text[1].contains(&title), "{title} is not in the contents");
        }
    }
    assert!(text[1].contains("Mashes3Pumpkinandgroundnutmash9to11months4Secondmash9to11months6Days9"), "{}", text[1]);
    // Every link leads to a page, and is named by it.
    let order: Vec<ObjectId> = document.get_pages().into_values().collect();
    let mut links = 0;
    for page in &order {
        let Ok(notes) = dictionary(&document, *page).get(b"Annots").and_then(Object::as_array) else { continue };
        for note in notes {
            let note = dictionary(&document, note.as_reference().unwrap());
            assert!(!note.has(b"A"), "a link leads out of the file");
            let place = note.get(b"Dest").and_then(Object::as_array).unwrap()[0].as_reference().unwrap();
            let number = order.iter().position(|one| *one == place).unwrap() + 1;
            assert_eq!(words(note, b"Contents"), format!("Page {number}"));
            links += 1;
        }
    }
    assert!(links > 30, "{links} links");
    // The index leads to every dish by what is in it.
    let index = top.iter().find(|(_, title, _)| title == "Index").unwrap().2;
    assert!(text[index - 1].contains("groundnutpaste4,6"), "{}", text[index - 1]);
    assert!(text[index - 1].contains("pumpkin4,6"), "{}", text[index - 1]);
}

#[test]
fn two_builds_are_the_same_bytes() {
    let folder = folder();
    let again = self::folder();
    for folder in [&folder, &again] {
        assert_eq!(folder.run(&["build", "food.booklet", "--impose", "fold", "--crop-marks"]).code, 0);
    }
    for name in ["food.en.pdf", "food.sw.pdf", "food.en.fold.marks.pdf"] {
        let name = format!("out/{name}");
        assert!(folder.read(&name) == again.read(&name), "{name} differs");
    }
}

/// The drawing commands of a page.
fn content(document: &Document, page: ObjectId) -> Vec<u8> {
    document.get_page_content(page)
}

/// The pages on each side of the sheets, from left to right, by their drawing
/// commands; `None` where a half is blank.
fn placed(document: &Document, read: &Document) -> Vec<Vec<Option<usize>>> {
    let own: Vec<Vec<u8>> = read.get_pages().into_values().map(|page| content(read, page)).collect();
    document
        .get_pages()
        .into_values()
        .map(|page| {
            let resources = document.get_dict_in_dict(dictionary(document, page), b"Resources").unwrap();
            let drawings = document.get_dict_in_dict(resources, b"XObject").unwrap();
            (0..2)
                .map(|at| {
                    let id = reference(drawings, format!("P{at}").as_bytes())?;
                    let stream = document.get_object(id).and_then(Object::as_stream).unwrap();
                    let drawn = stream.get_plain_content().unwrap_or_else(|_| stream.content.clone());
                    own.iter().position(|page| *page == drawn)
                })
                .collect()
        })
        .collect()
}

fn box_of(document: &Document, key: &[u8]) -> Vec<f64> {
    let page = dictionary(document, document.get_pages()[&1]);
    page.get(key).and_then(Object::as_array).unwrap().iter().map(|edge| f64::from(edge.as_float().unwrap())).collect()
}

#[test]
fn sheets_for_a_printer_hold_the_pages_in_their_order() {
    let folder = folder();
    let ran = folder.run(&["build", "food.booklet", "mash.dish", "--language", "en", "--impose", "fold"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    // A card is one sheet already; only the booklet is folded.
    assert_eq!(folder.names("out"), ["food.en.fold.pdf", "food.en.pdf", "mash.en.pdf"]);
    let read = pdf(&folder, "out/food.en.pdf");
    let folded = pdf(&folder, "out/food.en.fold.pdf");
    let count = read.get_pages().len();
    let full = count.div_ceil(4) * 4;
    let sides = placed(&folded, &read);
    assert_eq!(sides.len(), full / 2);
    let page = |number: usize| (number < count).then_some(number);
    // The outermost sheet has the last page and the first, then the second and
    // the last but one.
    assert_eq!(sides[0], [page(full - 1), page(0)]);
    assert_eq!(sides[1], [page(1), page(full - 2)]);
    let printed: BTreeSet<usize> = sides.iter().flatten().flatten().copied().collect();
    assert_eq!(printed.len(), count);
    // A4, lying.
    let media = box_of(&folded, b"MediaBox");
    assert!((media[2] - 841.89).abs() < 0.1 && (media[3] - 595.28).abs() < 0.1, "{media:?}");
    // What is for paper says nothing of being read aloud.
    assert!(!folded.catalog().unwrap().has(b"StructTreeRoot"));
    assert!(!folded.catalog().unwrap().has(b"Metadata"));

    let ran = folder.run(&["build", "mash.dish", "--language", "en", "--impose", "two-up", "--crop-marks"]);
    // The card's own PDF stands from the call before.
    assert_eq!(ran, exactly(0, "", "porringer: 1 file in out, 1 up to date: no errors\n"));
    let card = pdf(&folder, "out/mash.en.pdf");
    let two = pdf(&folder, "out/mash.en.two-up.marks.pdf");
    assert_eq!(placed(&two, &card), [[Some(0), Some(0)], [Some(1), Some(1)]]);
    // Room for the marks about a lying A4, and the cut within it.
    let (media, trim) = (box_of(&two, b"MediaBox"), box_of(&two, b"TrimBox"));
    let mm = 72.0 / 25.4;
    assert!((media[2] - (297.0 + 20.0) * mm).abs() < 0.1 && (media[3] - (210.0 + 20.0) * mm).abs() < 0.1, "{media:?}");
    assert!((trim[2] - trim[0] - 296.0 * mm).abs() < 0.1 && (trim[3] - trim[1] - 210.0 * mm).abs() < 0.1, "{trim:?}");
}

/// `booklet/overflow`
#[test]
fn a_page_that_does_not_fit_is_said_at_its_line() {
    let folder = folder();
    let prose = "Stir slowly and with patience, from the bottom of the pot upwards. ".repeat(22);
    folder.write("long.dish", MASH.replace("for 3 min", &format!("for 3 min: {prose}")).replace("Pumpkin", "Long"));
    let booklet = |paper: &str, page: &str| format!("booklet Food\nlanguage en\npaper {paper}\npage {page}\n");
    folder.write("narrow.booklet", booklet("A6", "long"));
    let ran = folder.run(&["build", "narrow.booklet"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.out.contains("booklet/overflow") && ran.out.contains("narrow.booklet:4:6"), "{}", ran.out);
    assert!(ran.out.contains("`long` takes") && ran.out.contains("A6 pages in en; there is room for 4"), "{}", ran.out);
    // The look for this paper is named.
    let out: String = ran.out.split_whitespace().collect();
    assert!(out.contains("--templatepocket"), "{}", ran.out);
    assert_eq!(folder.names("out"), [""; 0]);
    // Look-alikes: the same dish on a larger paper, a shorter one on this.
    folder.write("wide.booklet", booklet("A4", "long"));
    folder.write("short.booklet", booklet("A6", "mash"));
    let ran = folder.run(&["build", "wide.booklet", "short.booklet"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    // A single card says so too.
    let ran = folder.run(&["build", "long.dish", "--language", "en", "--paper", "A6"]);
    let out: String = ran.out.split_whitespace().collect();
    assert!(ran.code == 1 && out.contains("text/text-too-long-for-card"), "{ran:?}");
    assert!(out.contains("--templatepocket"), "{}", ran.out);
}

#[test]
fn a_booklet_with_a_gap_is_not_made() {
    let folder = folder();
    folder.write("broken.dish", BROKEN);
    folder.write("gap.booklet", "booklet Gap\nlanguage en\npage mash\npage broken\n");
    let ran = folder.run(&["build", "gap.booklet"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.out.contains("food/unknown"), "{}", ran.out);
    assert!(
        ran.err.starts_with("porringer: gap.booklet is left out until these pages are mended: `broken`\n"),
        "{ran:?}"
    );
    assert_eq!(folder.names("out"), [""; 0]);
}

#[test]
fn words_that_are_not_known_are_said() {
    let folder = folder();
    folder.write("odd.booklet", "booklet Odd\nlanguage en\npaper A7\npage mash\nannex measure, sources, stars\n");
    let ran = folder.check_json("odd.booklet");
    assert_eq!(
        ran.places(),
        ["3:7 syntax/bad-line", "5:7 booklet/unknown-page", "5:25 booklet/unknown-page"],
        "{ran:?}"
    );
    assert_eq!(ran.json()[1]["help"], "did you mean `measures`?");
    // Its own texts are held against its languages.
    folder.write("words.booklet", "booklet Words\nlanguage en, sw\nsection One\nin sw Moja\npage mash\n");
    assert_eq!(folder.check_json("words.booklet").places(), ["1:9 text/missing-translation"]);
}

#[test]
fn a_programme_brings_its_own_look() {
    let folder = folder();
    let own = "#let data = json(\"data.json\")\n#set document(title: data.title)\n\
        #set text(font: data.fonts, lang: data.lang)\n= Mine\nPart on page #data.page\n";
    folder.write("templates/own/own.typ", own);
    folder.write(
        "templates/own/template.toml",
        "name = \"own\"\ndescription = \"A test.\"\nentry = \"own.typ\"\ndata = \"porringer-booklet/1\"\npapers = [\"A5\"]\n",
    );
    folder.write("porringer.toml", "booklet_template = \"own\"\nlanguages = [\"en\"]\n");
    folder.write("recipes/food.booklet", BOOKLET);
    for name in ["mash.dish", "second.dish", "day.menu"] {
        folder.write(&format!("recipes/{name}"), folder.read(name));
    }
    let ran = folder.run(&["build", "--language", "en", "recipes/food.booklet"]);
    assert_eq!(ran, exactly(0, "", "porringer: 1 file in out: no errors\n"));
    let text = pages(&pdf(&folder, "out/food.en.pdf"));
    assert!(text[0].contains("MinePartonpage1"), "{}", text[0]);
    let ran = folder.run(&["build", "--booklet-template", "card"]);
    let said = "porringer: the template `card` reads `porringer-card/1`; a booklet is `porringer-booklet/1`\n";
    assert_eq!(ran, exactly(2, "", said));
}

#[test]
fn the_data_is_as_the_schema_says() {
    let folder = demo();
    let ran = folder.run(&["build", "recipes/first-foods.booklet", "--format", "json"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let data: Value = serde_json::from_slice(&folder.read("out/first-foods.json")).unwrap();
    let schema = folder.run(&["schema", "booklet"]).json();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let parts = data["parts"].as_array().unwrap();
    assert!(parts.len() > 20);
    for part in parts {
        let faults: Vec<String> = validator.iter_errors(part).map(|fault| visible(&fault.to_string())).collect();
        assert!(faults.is_empty(), "{faults:?}");
    }
    // Each kind of part is there in each language.
    for kind in ["front", "section", "notes", "measures", "nutrients", "index", "sources", "colophon"] {
        for lang in ["en", "sw"] {
            assert!(parts.iter().any(|part| part["lang"] == lang && !part[kind].is_null()), "{kind} in {lang}");
        }
    }
    // The table over the set says what the card says.
    let ran = folder.run(&["build", "recipes/red-bean-pumpkin-mash.dish", "--language", "en", "--format", "json"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let card: Value = serde_json::from_slice(&folder.read("out/red-bean-pumpkin-mash.json")).unwrap();
    let iron = card["cards"][0]["back"]["groups"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|group| group["rows"].as_array().unwrap())
        .find(|row| row["tag"] == "FE")
        .unwrap();
    let table = parts
        .iter()
        .filter(|part| part["lang"] == "en")
        .map(|part| &part["nutrients"]["table"])
        .find(|table| table["age"] == "12 to 23 months")
        .unwrap();
    let column = table["columns"].as_array().unwrap().iter().position(|column| column["tag"] == "FE").unwrap();
    let row = table["rows"].as_array().unwrap().iter().find(|row| row["title"] == "Red bean and pumpkin mash").unwrap();
    let (own, told) = (&iron["cells"][1], &row["cells"][column]);
    assert_eq!(own["amount"].as_str().unwrap(), format!("{}\u{A0}mg", told["amount"].as_str().unwrap()));
    assert_eq!(own["share_text"], told["share"]);
}

/// A spoon or cup on paper is as wide as its figure says.
#[test]
fn measures_are_drawn_at_their_true_size() {
    let folder = folder();
    assert_eq!(folder.run(&["build", "food.booklet", "--language", "en", "--format", "json,pdf"]).code, 0);
    let data: Value = serde_json::from_slice(&folder.read("out/food.json")).unwrap();
    let part = data["parts"].as_array().unwrap().iter().find(|part| !part["measures"].is_null()).unwrap();
    let measures = &part["measures"];
    let document = pdf(&folder, "out/food.en.pdf");
    let first = part["page"].as_u64().unwrap();
    // Every path of the annex: the box about its points, in mm.
    let mut boxes: Vec<(f64, f64)> = Vec::new();
    let order: Vec<ObjectId> = document.get_pages().into_values().collect();
    for page in &order[first as usize - 1..(first as usize + 2).min(order.len())] {
        let content = lopdf::content::Content::decode(&content(&document, *page)).unwrap();
        let mut points: Vec<(f64, f64)> = Vec::new();
        for operation in &content.operations {
            let numbers: Vec<f64> =
                operation.operands.iter().filter_map(|number| number.as_float().ok()).map(f64::from).collect();
            match operation.operator.as_str() {
                "m" | "l" | "c" => points.extend(numbers.chunks_exact(2).map(|pair| (pair[0], pair[1]))),
                "S" | "B" | "f" | "s" | "b" | "n" | "B*" | "f*" if !points.is_empty() => {
                    let span = |values: Vec<f64>| {
                        let low = values.iter().copied().fold(f64::MAX, f64::min);
                        let high = values.iter().copied().fold(f64::MIN, f64::max);
                        (high - low) / 72.0 * 25.4
                    };
                    boxes.push((
                        span(points.iter().map(|point| point.0).collect()),
                        span(points.iter().map(|point| point.1).collect()),
                    ));
                    points.clear();
                }
                _ => {}
            }
        }
    }
    let drawn = |wide: f64, high: f64| boxes.iter().any(|(w, h)| (w - wide).abs() < 0.1 && (h - high).abs() < 0.1);
    for spoon in measures["spoons"].as_array().unwrap() {
        let (wide, deep) = (spoon["width_mm"].as_f64().unwrap(), spoon["depth_mm"].as_f64().unwrap());
        assert!(drawn(wide, wide), "from above, {wide} mm: {boxes:?}");
        assert!(drawn(wide, deep), "from the side, {wide} by {deep} mm: {boxes:?}");
    }
    let (wide, high) = (measures["cup"]["width_mm"].as_f64().unwrap(), measures["cup"]["height_mm"].as_f64().unwrap());
    assert!(drawn(wide, high), "{wide} by {high} mm: {boxes:?}");
    assert!(drawn(measures["check"]["mm"].as_f64().unwrap(), 0.0), "{boxes:?}");
}
