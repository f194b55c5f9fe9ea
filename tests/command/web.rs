//! `build --format html,csv,jsonld`: what the pages say, where they lead, that
//! text stays text, and that the linked data uses the terms of schema.org.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::{Folder, MASH};

/// Beans and salt for two ages, in parts, with an estimate and an alternative.
const BEANS: &str = "\
dish     Red bean and pumpkin mash
in sw    Maharagwe na boga
for      9 to 23 months
makes    3 cups
portion  9 to 11 months: 1/2 cup
portion  12 to 23 months: 3/4 cup
claim    source of folate
diet     vegetarian

take     1 cup red kidney beans, dry as beans
take     2 cups pumpkin, peeled, cubed or butternut squash, peeled, cubed as pumpkin
take     3 1/2 tbsp groundnut paste, smooth as paste
family   1/2 tsp iodised salt as salt

step     soak beans for 8 to 12 h, unattended
step     drain beans: Throw the soaking water away and rinse.
in sw    Mwaga maji.
step     boil beans for 60 to 75 min, until soft
step     boil pumpkin with beans for 15 min
step     mash everything with paste for 3 min
step     set aside child portion
step     add salt: Only now, for the rest of the family.
in sw    Sasa tu, kwa familia.
serve    Warm, within 2 hours.
in sw    Kikiwa vuguvugu, ndani ya saa 2.
";

const DAY: &str = "\
menu     A day at the lake
in sw    Siku ziwani
for      12 to 23 months, breastfed
meal     7:00 breakfast: 1/2 cup dish beans
snack    10:00: 1 small banana
meal     12:30 lunch: 3/4 cup dish beans, 1/4 cup ripe papaya
meal     18:00 supper: 3/4 cup dish beans
";

const BOOKLET: &str = "\
booklet  Two mashes & a day
in sw    Vyakula viwili na siku
note     An invented place.
in sw    Mahali pa kubuni.
section  Beans
in sw    Maharagwe
page     beans
section  Days
in sw    Siku
page     menu day
";

fn set() -> Folder {
    let folder = Folder::with("porringer.toml", "programme = \"Lake circle\"\nfooter = \"Made up.\"\n");
    folder.write("beans.dish", BEANS);
    folder.write("mash.dish", MASH);
    folder.write("day.menu", DAY);
    folder.write("all.booklet", BOOKLET);
    folder
}

fn page(folder: &Folder, name: &str) -> String {
    String::from_utf8(folder.read(&format!("out/web/{name}"))).unwrap()
}

// --------------------------------------------------------- reading a page

/// A start tag: its name and its attributes with their values.
#[derive(Debug)]
struct Tag {
    name: String,
    attributes: Vec<(String, String)>,
}

fn unescaped(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('&') {
        out.push_str(before);
        let (entity, after) = after.split_once(';').expect("an ampersand begins an entity");
        out.push(match entity {
            "lt" => '<',
            "gt" => '>',
            "amp" => '&',
            "quot" => '"',
            "#x27" => '\'',
            "#x2f" => '/',
            other => panic!("an entity that nobody wrote: {other}"),
        });
        rest = after;
    }
    out + rest
}

/// The tags of a page as a browser sees them, and its text without them. What
/// stands in `script` and `style` is neither.
fn taken_apart(html: &str) -> (Vec<Tag>, String) {
    let (mut tags, mut text) = (Vec::new(), String::new());
    let mut rest = html;
    while let Some((before, after)) = rest.split_once('<') {
        text.push_str(&unescaped(before));
        text.push(' ');
        let mut letters = after.char_indices();
        let mut quote = false;
        let end = letters
            .find(|(_, letter)| {
                quote ^= *letter == '"';
                *letter == '>' && !quote
            })
            .expect("a tag ends")
            .0;
        let inside = &after[..end];
        rest = &after[end + 1..];
        let (name, mut more) = inside.split_once(char::is_whitespace).unwrap_or((inside, ""));
        if name.starts_with('!') {
            continue;
        }
        let mut attributes = Vec::new();
        while let Some((name, after)) = more.split_once("=\"") {
            let (value, after) = after.split_once('"').unwrap();
            attributes.push((name.trim().to_owned(), unescaped(value)));
            more = after;
        }
        assert!(more.trim().is_empty() || more.trim() == "/", "an attribute without quotes: {inside}");
        if name == "script" || name == "style" {
            rest = &rest[rest.find(&format!("</{name}>")).unwrap()..];
        }
        tags.push(Tag { name: name.to_owned(), attributes });
    }
    (tags, text)
}

/// Without what only parts words: a page breaks its lines elsewhere.
fn bare(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

fn linked_data(html: &str) -> Value {
    let (_, rest) = html.split_once("<script type=\"application/ld+json\">").unwrap();
    serde_json::from_str(rest.split_once("</script>").unwrap().0).unwrap()
}

// ------------------------------------------------------------------ the set

#[test]
fn a_set_has_a_page_for_each_document_and_language() {
    let folder = set();
    let ran = folder.run(&["build", "--format", "html", "--language", "en,sw"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(
        folder.names("out"),
        [
            "web/beans.en.html",
            "web/beans.sw.html",
            "web/day.en.html",
            "web/day.sw.html",
            "web/en.html",
            "web/index.html",
            "web/mash.en.html",
            "web/mash.sw.html",
            "web/sw.html",
        ]
    );
    for name in folder.names("out/web") {
        let html = page(&folder, &name);
        assert!(html.starts_with("<!doctype html>\n<html lang=\""), "{name}");
        let (tags, _) = taken_apart(&html);
        // Every page leads on, and only to pages that are there.
        let links: Vec<&String> = tags
            .iter()
            .filter(|tag| tag.name == "a" || tag.attributes.iter().any(|(_, value)| value == "alternate"))
            .flat_map(|tag| &tag.attributes)
            .filter_map(|(name, value)| (name == "href").then_some(value))
            .collect();
        assert!(!links.is_empty(), "{name}");
        for link in links {
            assert!(folder.path(&format!("out/web/{link}")).is_file(), "{name} leads to {link}");
        }
        // Nothing is fetched: what is shown stands in the page.
        assert!(html.contains("default-src 'none'"), "{name}");
        for tag in &tags {
            for (attribute, value) in &tag.attributes {
                let fetched = matches!(attribute.as_str(), "src" | "srcset" | "data" | "action" | "poster")
                    || (tag.name == "link" && attribute == "href");
                assert!(!fetched || !value.contains("//") && !value.starts_with('/'), "{name}: {value}");
            }
            let scripts =
                tag.name == "script" && !tag.attributes.contains(&("type".into(), "application/ld+json".into()));
            assert!(!scripts, "{name} has a script");
        }
    }
    let contents = page(&folder, "en.html");
    let (_, text) = taken_apart(&contents);
    let text = bare(&text);
    // The booklet's order first, then what it does not name; then the indices.
    let mut rest = text.as_str();
    for wanted in [
        "Two mashes & a day",
        "An invented place.",
        "Beans",
        "Red bean and pumpkin mash",
        "9 to 23 months",
        "Days",
        "A day at the lake",
        "Dishes",
        "Pumpkin and groundnut mash",
        "By age",
        "9 to 11 months",
        "Red bean",
        "Pumpkin and groundnut mash",
        "12 to 23 months",
        "Red bean",
        "A day at the lake",
        "By food",
        "Butternut squash",
        "Red bean",
        "Groundnut paste",
        "Red bean",
        "Pumpkin and groundnut mash",
        "Pumpkin",
        "Red bean",
        "Red kidney beans",
        "Red bean",
    ] {
        let at = rest.find(&bare(wanted)).unwrap_or_else(|| panic!("`{wanted}` is not in its place: {rest}"));
        rest = &rest[at + bare(wanted).len()..];
    }
    // Salt is the family's; no child's index has it.
    assert!(!text.contains("Iodisedsalt"), "{text}");
    assert!(page(&folder, "sw.html").contains("<html lang=\"sw\" dir=\"ltr\">"));
    // A menu leads to its dishes.
    assert!(page(&folder, "day.sw.html").contains("<a href=\"beans.sw.html\">Maharagwe na boga</a>"));
}

#[test]
fn a_page_says_all_that_the_card_says() {
    let folder = set();
    folder.run(&["build", "--format", "html,json", "--language", "en,sw"]);
    for (name, menu) in [("beans", false), ("mash", false), ("day", true)] {
        let data: Value = serde_json::from_slice(&folder.read(&format!("out/{name}.json"))).unwrap();
        for card in data["cards"].as_array().unwrap() {
            let lang = card["lang"].as_str().unwrap();
            let html = page(&folder, &format!("{name}.{lang}.html"));
            let (tags, text) = taken_apart(&html);
            assert_eq!(tags[0].name, "html");
            assert_eq!(tags[0].attributes[0].1, lang);
            let text = bare(&text);
            let mut texts = Vec::new();
            printed(card, "", &mut texts);
            assert!(texts.len() > if menu { 60 } else { 100 }, "{}", texts.len());
            for wanted in texts {
                assert!(text.contains(&bare(&wanted)), "{name}.{lang}: `{wanted}` is not on the page");
            }
        }
    }
}

/// Every text of a card's data that is for print.
fn printed(value: &Value, key: &str, found: &mut Vec<String>) {
    match value {
        // A food group that is not in the dish is not named.
        Value::Object(object) if object.get("on") == Some(&Value::Bool(false)) => {}
        // Nor are claims where there are none.
        Value::Object(object) if key == "claims" && object["items"] == serde_json::json!([]) => {}
        Value::Object(object) => {
            for (key, value) in object {
                let unprinted = [
                    "schema",
                    "lang",
                    "dir",
                    "paper",
                    "fonts",
                    "id",
                    "kind",
                    "process",
                    "drawing",
                    "tag",
                    "kj",
                    "programme",
                    "profile",
                    "changed_rules",
                    "count_text",
                    "brief",
                    "colon",
                    "months",
                    "family_label",
                ];
                if !unprinted.contains(&key.as_str()) {
                    printed(value, key, found);
                }
            }
        }
        Value::Array(all) => all.iter().for_each(|value| printed(value, key, found)),
        Value::String(text) if !text.is_empty() => found.push(text.clone()),
        _ => {}
    }
}

#[test]
fn bars_and_measures_of_a_page_agree_with_their_numbers() {
    let folder = set();
    folder.run(&["build", "--format", "html,json"]);
    let data: Value = serde_json::from_slice(&folder.read("out/beans.json")).unwrap();
    let html = page(&folder, "beans.en.html");
    let back = &data["cards"][0]["back"];
    let rows = back["groups"].as_array().unwrap().iter().flat_map(|group| group["rows"].as_array().unwrap());
    let cells = back["energy"].as_array().unwrap().iter().chain(rows.flat_map(|row| row["cells"].as_array().unwrap()));
    let shares: Vec<f64> = cells.filter_map(|cell| cell["share"].as_f64()).collect();
    let bars: Vec<&str> =
        html.split("<svg class=\"bar\"").skip(1).map(|bar| bar.split("</svg>").next().unwrap()).collect();
    assert_eq!(bars.len(), shares.len());
    assert!(shares.len() > 30 && shares.iter().any(|share| *share > 1.0));
    for (bar, share) in bars.iter().zip(&shares) {
        let limit = bar.contains("class=\"stop\"");
        let width =
            bar.split_once("width=\"").map_or(0.0, |(_, rest)| rest.split('"').next().unwrap().parse().unwrap());
        // The frame of a limit is drawn half its line inside.
        let drawn = (width + if limit && width > 0.0 { 1.5 } else { 0.0 }) / 100.0;
        let wanted = if *share < 0.005 { 0.0 } else { share.min(1.0) };
        assert!((drawn - wanted).abs() < if limit { 0.016 } else { 0.001 }, "{drawn} for {share}: {bar}");
        assert_eq!(bar.contains("class=\"past\""), *share > 1.0, "{bar}");
    }
    // 3 1/2 tablespoons are three and a half spoons; each drawing is there.
    let spoons = html.split("<title>3½\u{A0}tablespoons").nth(1).unwrap().split("</svg>").next().unwrap();
    let uses: Vec<&str> = spoons.split("href=\"#").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    assert_eq!(uses, ["tbsp-1000", "tbsp-1000", "tbsp-1000", "tbsp-500"]);
    let half = html.split("<symbol id=\"tbsp-500\"").nth(1).unwrap().split("</symbol>").next().unwrap();
    let window = half.split("<clipPath").nth(1).unwrap().split(" d=\"").nth(1).unwrap().split('"').next().unwrap();
    let height: f64 = window.split('v').nth(1).unwrap().split('h').next().unwrap().trim().parse().unwrap();
    // The spoon's inside is 2 × (7 − 1.25) units high.
    assert!((height.abs() / 11.5 - 0.5).abs() < 0.01, "{window}");
    let cup = html.split("<symbol id=\"cup-750\"").nth(1).unwrap().split("</symbol>").next().unwrap();
    assert!(cup.contains("currentColor"), "{cup}");
}

#[test]
fn an_author_s_picture_is_part_of_its_page() {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::GrayImage::from_pixel(40, 30, image::Luma([90])).write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    let folder = Folder::with("bowl.png", bytes.into_inner());
    folder.write("porringer.toml", "");
    folder.write(
        "mash.dish",
        MASH.replace("portion  1/2 cup\n", "portion  1/2 cup\npicture  bowl.png: A \"bowl\" of mash\n"),
    );
    assert_eq!(folder.run(&["build", "mash.dish", "--format", "html"]).code, 0);
    let (tags, _) = taken_apart(&page(&folder, "mash.en.html"));
    let image = tags.iter().find(|tag| tag.name == "img").unwrap();
    assert!(image.attributes[0].1.starts_with("data:image/png;base64,iVBORw0KGgo"), "{image:?}");
    assert_eq!(image.attributes[1], ("alt".to_owned(), "A \"bowl\" of mash".to_owned()));
}

// ------------------------------------------------------------- text is text

const NASTY: [&str; 9] = [
    "<script>alert(1)</script>",
    "</script><script>alert(1)</script>",
    "</title></style><img src=x onerror=alert(1)>",
    "\" onmouseover=\"alert(1)\" x=\"",
    "' onfocus='alert(1)",
    "javascript:alert(1)",
    "{{ 7 * 7 }}{% raw %}{# gone #}",
    "<!-- --><![CDATA[ ]]>&lt;&#60;",
    "]]></script>\\u003c/script><!--",
];

/// A dish and its settings with one text in every place that takes any.
fn with_text(folder: &Folder, text: &str) {
    let quoted = text.replace('\\', "\\\\").replace('"', "\\\"");
    folder.write("porringer.toml", format!("programme = \"{quoted}\"\nfooter = \"{quoted}\"\n"));
    folder.write(
        "mash.dish",
        MASH.replace("dish     Pumpkin and groundnut mash", &format!("dish     {text}"))
            .replace("in sw    Boga na karanga", &format!("in sw    {text}"))
            .replace("for 3 min\n", &format!("for 3 min: {text}\nin sw    {text}\n"))
            .replace("serve    Warm, within 2 hours.", &format!("tip      {text}\nin sw    {text}\nserve    {text}"))
            .replace("in sw    Kikiwa vuguvugu, ndani ya saa 2.", &format!("in sw    {text}\nsource   {text}")),
    );
    folder.write("all.booklet", format!("booklet  {text}\nnote     {text}\nsection  {text}\npage     mash\n"));
}

/// Names of a page's tags and of their attributes, in order.
fn skeleton(html: &str) -> Vec<String> {
    let (tags, _) = taken_apart(html);
    tags.into_iter()
        .map(|tag| {
            let names: Vec<String> = tag.attributes.into_iter().map(|(name, _)| name).collect();
            format!("{} {}", tag.name, names.join(" "))
        })
        .collect()
}

#[test]
fn no_text_becomes_markup() {
    let folder = Folder::new();
    let build = |text: &str| {
        with_text(&folder, text);
        let ran = folder.run(&["build", "--format", "html,jsonld,csv", "--language", "en,sw"]);
        assert!(folder.path("out/web/mash.en.html").is_file(), "{text}: {ran:?}");
        folder.names("out/web").iter().map(|name| page(&folder, name)).collect::<Vec<_>>()
    };
    let tame: Vec<Vec<String>> = build("Plain words").iter().map(|html| skeleton(html)).collect();
    for text in NASTY {
        let pages = build(text);
        for (html, tame) in pages.iter().zip(&tame) {
            assert_eq!(&skeleton(html), tame, "`{text}` changes the page");
            let (tags, said) = taken_apart(html);
            assert!(bare(&said).contains(&bare(text)), "`{text}` is not on the page");
            let links = tags.iter().flat_map(|tag| &tag.attributes).filter(|(name, _)| name == "href");
            for (_, link) in links {
                assert!(!link.contains("script:"), "{link}");
            }
        }
        let html = &pages[folder.names("out/web").iter().position(|name| name == "mash.en.html").unwrap()];
        let recipe = linked_data(html);
        assert_eq!(recipe["name"], text);
        assert_eq!(recipe["author"]["name"], text);
        let alone: Value = serde_json::from_slice(&folder.read("out/mash.en.jsonld")).unwrap();
        assert_eq!(alone, recipe);
    }
}

#[test]
fn control_and_direction_signs_are_not_passed_on() {
    let folder = Folder::new();
    with_text(&folder, "Plain words");
    // In a dish they have a message; the settings' texts are taken as they are.
    folder.write("porringer.toml", "footer = \"a\\u202Eb\\u0007c\\u001B[2J\\uFEFFd\\u2066\"\n");
    let ran = folder.run(&["build", "--format", "html"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let html = page(&folder, "mash.en.html");
    assert!(html.contains("abc[2Jd"), "{html}");
    let unwanted = |letter: char| (letter.is_control() && letter != '\n') || matches!(letter, '\u{202A}'..='\u{202E}');
    let (_, text) = taken_apart(&html);
    assert!(!text.contains(unwanted), "{:?}", text.chars().filter(|c| unwanted(*c)).collect::<String>());
}

#[test]
fn a_table_of_nutrients_runs_no_formula() {
    let folder = Folder::new();
    for text in ["=cmd()", "+1+1", "-2", "@SUM(A1)", "\u{FF1D}1+1", "=HYPERLINK(\"x\",\"y\")"] {
        with_text(&folder, text);
        // No font of a card has wide signs, so that no card has them.
        let bytes = if text.is_ascii() {
            folder.run(&["build", "--format", "csv"]);
            folder.read("out/nutrients.csv")
        } else {
            folder.run(&["nutrients", "mash.dish", "--format", "csv"]).out.into_bytes()
        };
        let mut table = csv::Reader::from_reader(bytes.as_slice());
        let row = table.records().next().unwrap().unwrap();
        assert_eq!(&row[1], format!("'{text}"), "{row:?}");
        for cell in &row {
            assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\u{FF1D}']), "{cell}");
        }
    }
}

// ------------------------------------------------------------------ the table

#[test]
fn the_table_has_a_row_for_each_dish_and_band() {
    let folder = set();
    let ran = folder.run(&["build", "--format", "csv"]);
    assert_eq!((ran.code, folder.names("out")), (0, vec!["nutrients.csv".to_owned()]), "{ran:?}");
    let bytes = folder.read("out/nutrients.csv");
    let mut table = csv::Reader::from_reader(bytes.as_slice());
    let heads = table.headers().unwrap().clone();
    let column = |name: &str| heads.iter().position(|head| head == name).unwrap_or_else(|| panic!("{heads:?}"));
    let rows: Vec<csv::StringRecord> = table.records().map(Result::unwrap).collect();
    let keys: Vec<(&str, &str)> = rows.iter().map(|row| (&row[0], &row[2])).collect();
    assert_eq!(keys, [("beans", "9 to 11"), ("beans", "12 to 23"), ("mash", "9 to 11")]);
    // The same figures as elsewhere.
    let figures = folder.run(&["nutrients", "beans.dish", "--format", "json"]).json();
    let beans = figures.get(0).unwrap_or(&figures);
    for (row, band) in [(0, "9-11"), (1, "12-23")] {
        for tag in ["ENERC_KCAL (kcal)", "FE (mg)", "VITA_RAE (µg)", "FOLDFE (µg)"] {
            let figure = &beans["nutrients"][tag.split(' ').next().unwrap()];
            let wanted = figure["portions"][band].as_f64().unwrap();
            let cell: f64 = rows[row][column(tag)].parse().unwrap();
            assert!((cell - wanted).abs() < 0.0001, "{tag}: {cell} for {wanted}");
        }
        let grams: f64 = rows[row][column("portion_g")].parse().unwrap();
        assert!((grams - beans["portions"][band]["grams"].as_f64().unwrap()).abs() < 0.0001);
    }
    // Where a food's value is not known, the row says of which component.
    let at_least: BTreeSet<&str> = rows[0][column("at_least")].split(' ').collect();
    let known = |tag: &str| beans["nutrients"][tag]["known_share"].as_f64().unwrap();
    assert!(at_least.contains("F18D3CN3") && known("F18D3CN3") < 1.0, "{at_least:?}");
    assert!(!at_least.contains("FE") && (known("FE") - 1.0).abs() < 1e-9);
    assert_eq!(&rows[0][column("weight_estimated")], "yes");
    assert_eq!(&rows[2][column("weight_estimated")], "no");
}

// ------------------------------------------------------------ linked data

/// Terms of schema.org; the file says where they are from.
fn terms() -> Value {
    serde_json::from_str(include_str!("../web/schema-terms.json")).unwrap()
}

/// What a property of a type may hold; `None` where the type has no such.
fn range(terms: &Value, kind: &str, property: &str) -> Option<Vec<String>> {
    let kind = &terms["types"][kind];
    if let Some(range) = kind["properties"].get(property) {
        return Some(range.as_array().unwrap().iter().map(|one| one.as_str().unwrap().to_owned()).collect());
    }
    kind["parents"].as_array()?.iter().find_map(|parent| range(terms, parent.as_str().unwrap(), property))
}

fn is_a(terms: &Value, kind: &str, wanted: &str) -> bool {
    kind == wanted
        || terms["types"][kind]["parents"]
            .as_array()
            .is_some_and(|parents| parents.iter().any(|parent| is_a(terms, parent.as_str().unwrap(), wanted)))
}

/// Faults of a node against the terms, each with its place.
fn faults(terms: &Value, node: &Value, place: &str, found: &mut Vec<String>) {
    let Some(kind) = node["@type"].as_str().filter(|kind| terms["types"].get(*kind).is_some()) else {
        found.push(format!("{place}: no type of schema.org: {}", node["@type"]));
        return;
    };
    for (property, value) in node.as_object().unwrap() {
        if property.starts_with('@') {
            continue;
        }
        let Some(range) = range(terms, kind, property) else {
            found.push(format!("{place}: {kind} has no {property}"));
            continue;
        };
        let all = value.as_array().map_or_else(|| vec![value], |all| all.iter().collect());
        for (at, one) in all.into_iter().enumerate() {
            let place = format!("{place}/{property}/{at}");
            let may = |wanted: &str| range.iter().any(|own| own == wanted);
            let fits = match one {
                Value::Object(_) => {
                    faults(terms, one, &place, found);
                    let own = one["@type"].as_str().unwrap_or_default();
                    range.iter().any(|wanted| is_a(terms, own, wanted))
                }
                Value::Number(number) => may("Number") || may("Integer") && number.is_u64(),
                Value::String(text) if property == "suitableForDiet" => {
                    let diets = terms["RestrictedDiet"].as_array().unwrap();
                    text.strip_prefix("https://schema.org/").is_some_and(|name| diets.iter().any(|own| own == name))
                }
                Value::String(text) if may("Mass") => quantity(text, &["g", "mg", "µg"]),
                Value::String(text) if may("Energy") => quantity(text, &["kcal", "kJ"]),
                Value::String(text) if may("Duration") => duration(text),
                Value::String(text) => may("Text") && !text.is_empty(),
                _ => false,
            };
            if !fits {
                found.push(format!("{place}: {one} is none of {range:?}"));
            }
        }
    }
}

/// A number, a blank, a unit.
fn quantity(text: &str, units: &[&str]) -> bool {
    text.split_once(' ')
        .is_some_and(|(number, unit)| units.contains(&unit) && number.parse::<f64>().is_ok_and(|value| value >= 0.0))
}

/// ISO 8601: `PT1H15M`.
fn duration(text: &str) -> bool {
    let Some(mut rest) = text.strip_prefix("PT").filter(|rest| !rest.is_empty()) else { return false };
    for unit in ['H', 'M'] {
        if let Some((number, after)) = rest.split_once(unit) {
            if number.is_empty() || !number.bytes().all(|digit| digit.is_ascii_digit()) {
                return false;
            }
            rest = after;
        }
    }
    rest.is_empty()
}

#[test]
fn linked_data_keeps_to_the_terms_of_schema_org() {
    let terms = terms();
    let recipes = concat!(env!("CARGO_MANIFEST_DIR"), "/recipes");
    let folder = set();
    let out = folder.path("out").to_string_lossy().into_owned();
    folder.run(&["build", recipes, "--format", "jsonld", "--language", "en,sw", "--out", &out]);
    folder.run(&["build", "--format", "jsonld,html", "--language", "en,fr"]);
    let mut seen = 0;
    for name in folder.names("out").iter().filter(|name| name.ends_with(".jsonld")) {
        let recipe: Value = serde_json::from_slice(&folder.read(&format!("out/{name}"))).unwrap();
        assert_eq!(recipe["@context"], "https://schema.org");
        assert_eq!(recipe["@type"], "Recipe");
        let mut found = Vec::new();
        faults(&terms, &recipe, name, &mut found);
        assert_eq!(found, Vec::<String>::new());
        for needed in ["name", "inLanguage", "recipeIngredient", "recipeInstructions", "recipeYield", "nutrition"] {
            assert!(recipe.get(needed).is_some(), "{name}: no {needed}");
        }
        assert!(recipe.get("dateModified").is_none(), "nobody knows when {name} was changed");
        seen += 1;
    }
    assert!(seen >= 28, "{seen}");
    // The check can fail.
    let mut wrong: Value = serde_json::from_slice(&folder.read("out/beans.en.jsonld")).unwrap();
    wrong["nutrition"][0]["ironContent"] = "2 mg".into();
    wrong["nutrition"][0]["fatContent"] = "much".into();
    wrong["totalTime"] = "75 min".into();
    wrong["recipeInstructions"][0]["@type"] = "Step".into();
    let mut found = Vec::new();
    faults(&terms, &wrong, "", &mut found);
    assert_eq!(found.len(), 5, "{found:?}");
}

#[test]
fn linked_data_says_what_the_card_says() {
    let folder = set();
    folder.run(&["build", "beans.dish", "--format", "jsonld,json,html"]);
    let recipe: Value = serde_json::from_slice(&folder.read("out/beans.en.jsonld")).unwrap();
    assert_eq!(linked_data(&page(&folder, "beans.en.html")), recipe);
    assert_eq!(recipe["name"], "Red bean and pumpkin mash");
    assert_eq!(recipe["inLanguage"], "en");
    assert_eq!(recipe["recipeYield"], "3\u{A0}cups");
    let range = &recipe["audience"]["suggestedAge"];
    assert_eq!((&range["minValue"], &range["maxValue"], &range["unitCode"]), (&9.into(), &23.into(), &"MON".into()));
    let lines: Vec<&str> =
        recipe["recipeIngredient"].as_array().unwrap().iter().map(|line| line.as_str().unwrap()).collect();
    assert_eq!(lines.len(), 4);
    assert!(lines[1].contains("or butternut squash"), "{lines:?}");
    // Salt must not lose the words that keep it from the child.
    assert!(lines[3].contains("iodised salt") && lines[3].contains("For the family only"), "{lines:?}");
    let steps = recipe["recipeInstructions"].as_array().unwrap();
    assert_eq!(steps.len(), 7);
    assert!(steps[2]["text"].as_str().unwrap().contains("Never eat these beans half cooked"), "{}", steps[2]);
    let description = recipe["description"].as_str().unwrap();
    assert!(description.contains("groundnut (peanut)") && description.contains("Stay with the child"), "{description}");
    // Figures are the card's own.
    let figures: Value = serde_json::from_slice(&folder.read("out/beans.json")).unwrap();
    let own = |tag: &str, band: &str| figures["figures"]["nutrients"][tag]["portions"][band].as_f64().unwrap();
    for (at, band) in [(0, "9-11"), (1, "12-23")] {
        let nutrition = &recipe["nutrition"][at];
        for (term, tag) in [("calories", "ENERC_KCAL"), ("proteinContent", "PROCNT"), ("sodiumContent", "NA")] {
            let said: f64 = nutrition[term].as_str().unwrap().split(' ').next().unwrap().parse().unwrap();
            assert!((said - own(tag, band)).abs() <= 0.5, "{term}: {said} for {}", own(tag, band));
        }
    }
}

#[test]
fn a_figure_that_is_not_complete_is_not_said() {
    let folder = Folder::new();
    // A table that knows the energy of a powder, and not its fat.
    folder.write("own.csv", "food,name,ENERC_KCAL\nx1,Some powder,350\n");
    folder.write(
        "beans.dish",
        BEANS.replace("take     2 cups pumpkin", "take     30 g own:x1 as powder\ntake     2 cups pumpkin"),
    );
    folder.run(&["build", "beans.dish", "--format", "jsonld,json", "--foods", "own.csv"]);
    let figures: Value = serde_json::from_slice(&folder.read("out/beans.json")).unwrap();
    let share = |tag: &str| figures["figures"]["nutrients"][tag]["known_share"].as_f64().unwrap();
    let recipe: Value = serde_json::from_slice(&folder.read("out/beans.en.jsonld")).unwrap();
    let said = |term: &str| recipe["nutrition"][0].get(term).is_some();
    assert!(share("FAT") < 1.0 && !said("fatContent"), "{recipe:#}");
    assert!(share("SUGAR") < 1.0 && !said("sugarContent"), "{recipe:#}");
    assert!((share("ENERC_KCAL") - 1.0).abs() < 1e-9 && said("calories"), "{recipe:#}");
}

#[test]
fn a_diet_is_said_only_where_it_is_proven() {
    let diets = |dish: &str, table: Option<&str>| -> Value {
        let folder = Folder::with("beans.dish", dish);
        let mut call = vec!["build", "beans.dish", "--format", "jsonld"];
        if let Some(table) = table {
            folder.write("own.csv", table);
            call.extend(["--foods", "own.csv"]);
        }
        let ran = folder.run(&call);
        assert!(folder.path("out/beans.en.jsonld").is_file(), "{ran:?}");
        serde_json::from_slice::<Value>(&folder.read("out/beans.en.jsonld")).unwrap()["suitableForDiet"].clone()
    };
    assert_eq!(diets(BEANS, None), serde_json::json!(["https://schema.org/VegetarianDiet"]));
    // Nobody said it.
    assert_eq!(diets(&BEANS.replace("diet     vegetarian\n", ""), None), Value::Null);
    // Of a food of another table nobody knows what it holds.
    let own = BEANS.replace("take     2 cups pumpkin", "take     30 g own:x1 as powder\ntake     2 cups pumpkin");
    let table = "food,name,ENERC_KCAL,PROCNT,FAT\nx1,Some powder,350,10,5\n";
    assert_eq!(diets(&own, Some(table)), Value::Null);
}

#[test]
fn pages_of_documents_that_are_gone_are_removed() {
    let folder = set();
    let ran = folder.run(&["build", "--format", "html", "--language", "en"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert!(ran.err.contains("1 booklet is read for the order of the web contents"), "{ran:?}");
    let there = |name: &str| folder.path(&format!("out/web/{name}")).exists();
    assert!(there("mash.en.html") && there("beans.en.html") && there("index.html"));
    // A page of somebody else, and one of ours that somebody changed.
    folder.write("out/web/notes.en.html", "<p>mine</p>");
    // A dish that was not asked for keeps its page, and so does one with errors.
    assert_eq!(folder.run(&["build", "--format", "html", "--language", "en", "mash.dish"]).code, 0);
    assert!(there("beans.en.html"));
    folder.write("mash.dish", MASH.replace("step", "stepp"));
    folder.run(&["build", "--format", "html", "--language", "en"]);
    assert!(there("mash.en.html"));
    std::fs::remove_file(folder.path("mash.dish")).unwrap();
    let ran = folder.run(&["build", "--format", "html", "--language", "en"]);
    assert!(ran.err.contains("1 web page removed: its document is no longer there"), "{ran:?}");
    assert!(!there("mash.en.html") && there("beans.en.html") && there("day.en.html"));
    assert!(there("notes.en.html"));
    // What was changed by another hand stays.
    folder.write("mash.dish", MASH);
    folder.run(&["build", "--format", "html", "--language", "en"]);
    folder.write("out/web/mash.en.html", "<p>mine now</p>");
    std::fs::remove_file(folder.path("mash.dish")).unwrap();
    let ran = folder.run(&["build", "--format", "html", "--language", "en"]);
    assert!(!ran.err.contains("removed") && there("mash.en.html"), "{ran:?}");
}
