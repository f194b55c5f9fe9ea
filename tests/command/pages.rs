//! What stands on the pages: bars and measures as long and as full as their
//! numbers, words in the order in which they are read, the same bytes however
//! many threads.

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};
use porringer::card::{self, Card, Imprint, Locale, Maker};
use porringer::cli::gather;
use porringer::syntax::Kind;
use porringer::typeset::{Engine, Forms, Template};
use porringer::workspace::{Shelf, Workspace, shelf};
use serde_json::Value;

use crate::Folder;

/// Beans and salt for two ages: two bands, a limit, shares over a day's need.
const BEANS: &str = "\
dish     Red bean and pumpkin mash
for      9 to 23 months
makes    3 cups
portion  9 to 11 months: 1/2 cup
portion  12 to 23 months: 3/4 cup
claim    source of folate

take     1 cup red kidney beans, dry as beans
take     3 cups pumpkin, peeled, cubed
take     3 1/2 tbsp groundnut paste, smooth as paste
family   1/2 tsp iodised salt as salt

step     soak beans for 8 to 12 h, unattended
step     drain beans: Throw the soaking water away and rinse.
step     boil beans for 60 to 75 min, until soft
step     boil pumpkin with beans for 15 min
step     mash everything with paste for 3 min
step     set aside child portion
step     add salt: Only now, for the rest of the family.
serve    warm, within 2 hours
tip      Orange sweet potato does as well as pumpkin.
";

// ------------------------------------------------------------------- shapes

/// A closed outline, as the box about it: left, top, width, height.
type Outline = [f64; 4];

/// The outlines of every path of an SVG, path by path.
fn paths(svg: &str) -> Vec<Vec<Outline>> {
    svg.split("<path")
        .skip(1)
        .filter_map(|path| path.split_once(" d=\""))
        .map(|(_, rest)| outlines(rest.split('"').next().unwrap()))
        .collect()
}

/// Straight outlines of a path; it may move by lines, level, upright, absolute
/// or relative.
fn outlines(path: &str) -> Vec<Outline> {
    let mut found = Vec::new();
    let mut points: Vec<(f64, f64)> = Vec::new();
    let (mut x, mut y) = (0.0, 0.0);
    let mut rest = path.trim();
    while let Some(command) = rest.chars().next() {
        let end = rest[1..]
            .find(|letter: char| letter.is_ascii_alphabetic() && letter != 'e')
            .map_or(rest.len(), |at| at + 1);
        let numbers: Vec<f64> =
            rest[1..end].split([' ', ',']).filter(|word| !word.is_empty()).map(|word| word.parse().unwrap()).collect();
        rest = rest[end..].trim_start();
        let relative = command.is_ascii_lowercase();
        let base = |x: f64, y: f64| if relative { (x, y) } else { (0.0, 0.0) };
        match command.to_ascii_uppercase() {
            'M' | 'L' => {
                if command.eq_ignore_ascii_case(&'M') {
                    points.clear();
                }
                for pair in numbers.chunks(2) {
                    let (from_x, from_y) = base(x, y);
                    (x, y) = (from_x + pair[0], from_y + pair[1]);
                    points.push((x, y));
                }
            }
            'H' => numbers.iter().for_each(|to| {
                x = base(x, y).0 + to;
                points.push((x, y));
            }),
            'V' => numbers.iter().for_each(|to| {
                y = base(x, y).1 + to;
                points.push((x, y));
            }),
            'Z' => {
                let (left, right) =
                    points.iter().fold((f64::MAX, f64::MIN), |(low, high), (x, _)| (low.min(*x), high.max(*x)));
                let (top, bottom) =
                    points.iter().fold((f64::MAX, f64::MIN), |(low, high), (_, y)| (low.min(*y), high.max(*y)));
                found.push([left, top, right - left, bottom - top]);
                (x, y) = points[0];
            }
            // A curve: no outline of a bar.
            _ => return Vec::new(),
        }
    }
    found
}

/// A stroke: its thickness and its straight pieces, each from and to.
type Stroke = (f64, Vec<[(f64, f64); 2]>);

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    tag.split_once(&format!(" {name}=\""))?.1.split('"').next()
}

/// How far a tag moves what is in it.
fn moved(tag: &str) -> (f64, f64) {
    let Some(transform) = attribute(tag, "transform") else { return (0.0, 0.0) };
    let numbers: Vec<f64> = transform.split(['(', ' ', ')']).filter_map(|word| word.parse().ok()).collect();
    match numbers[..] {
        [x] => (x, 0.0),
        [x, y] | [_, _, _, _, x, y] => (x, y),
        _ => panic!("an unknown transform: {transform}"),
    }
}

/// The strokes of an SVG on the page's own grid.
fn strokes(svg: &str) -> Vec<Stroke> {
    let mut found = Vec::new();
    let mut groups = vec![(0.0, 0.0)];
    for tag in svg.split('<').skip(1) {
        let tag = tag.split('>').next().unwrap();
        let (x, y) = *groups.last().unwrap();
        if tag.starts_with("g ") || tag == "g" {
            let (right, down) = moved(tag);
            groups.push((x + right, y + down));
        } else if tag == "/g" {
            groups.pop();
        } else if tag.starts_with("path") {
            let (right, down) = moved(tag);
            found.extend(stroke(tag, x + right, y + down));
        }
    }
    found
}

fn stroke(tag: &str, mut x: f64, mut y: f64) -> Option<Stroke> {
    let thickness = attribute(tag, "stroke-width")?.parse().ok()?;
    let mut pieces = Vec::new();
    let mut rest = attribute(tag, "d")?.strip_prefix("M 0 0")?;
    while let Some(command) = rest.chars().next() {
        let end = rest[1..].find(|letter: char| letter.is_ascii_alphabetic()).map_or(rest.len(), |at| at + 1);
        let numbers: Vec<f64> = rest[1..end].split_whitespace().map(|word| word.parse().unwrap()).collect();
        rest = &rest[end..];
        let from = (x, y);
        match command {
            'm' | 'l' => (x, y) = (x + numbers[0], y + numbers[1]),
            'h' => x += numbers[0],
            'v' => y += numbers[0],
            'Z' => {}
            _ => return None,
        }
        if matches!(command, 'l' | 'h' | 'v') {
            pieces.push([from, (x, y)]);
        }
    }
    Some((thickness, pieces))
}

/// Shares that the bars of a page show, row by row: the fill over the line from
/// its start to the end mark.
fn shares(svg: &str) -> Vec<f64> {
    let strokes = strokes(svg);
    let of = |level: bool, wanted: &dyn Fn(f64) -> bool| -> Vec<[(f64, f64); 2]> {
        let all = strokes.iter().filter(|(thickness, _)| wanted(*thickness)).flat_map(|(_, pieces)| pieces);
        all.filter(|[from, to]| ((from.1 - to.1).abs() < 1e-6) == level).copied().collect()
    };
    let near = |a: f64, b: f64| (a - b).abs() < 0.02;
    let fills = of(true, &|thickness| thickness > 4.0);
    let lines = of(true, &|thickness| near(thickness, 0.4));
    let frames = of(true, &|thickness| near(thickness, 0.8));
    let marks = of(false, &|thickness| near(thickness, 0.6) || near(thickness, 0.9) || near(thickness, 2.0));
    let mut bars: Vec<(f64, f64, f64)> = marks
        .iter()
        .filter_map(|[from, to]| {
            let (end, mid) = (from.0, (from.1 + to.1) / 2.0);
            let line = lines.iter().find(|[_, to]| near(to.0, end) && near(to.1, mid)).map(|[from, _]| from.0);
            let stop = line.unwrap_or(end);
            let fill = fills.iter().find(|[from, to]| near(to.0, stop) && near(from.1, mid)).map(|[from, _]| from.0);
            // An open bar is a frame: its upper line, half its thickness inside.
            let frame =
                frames.iter().find(|[from, to]| near(to.0 + 0.4, stop) && (from.1 - mid).abs() < 8.0 && from.1 < mid);
            let start = fill.or(frame.map(|[from, _]| from.0 - 0.4)).or(line)?;
            Some((mid, start, (stop - start) / (end - start)))
        })
        .collect();
    // Bars of one row stand level, but for the last digits.
    bars.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut row = f64::MIN;
    for bar in &mut bars {
        if bar.0 - row > 1.0 {
            row = bar.0;
        }
        bar.0 = row;
    }
    bars.sort_by(|a, b| (a.0.total_cmp(&b.0)).then(a.1.total_cmp(&b.1)));
    bars.into_iter().map(|(.., share)| share).collect()
}

#[test]
fn bars_are_as_long_as_their_numbers() {
    for (template, paper) in [("card", "A5"), ("card", "A4"), ("card", "Letter")] {
        let folder = Folder::with("beans.dish", BEANS);
        let ran =
            folder.run(&["build", "beans.dish", "--format", "svg,json", "--template", template, "--paper", paper]);
        assert_eq!(ran.code, 0, "{ran:?}");
        let data: Value = serde_json::from_slice(&folder.read("out/beans.json")).unwrap();
        let back = &data["cards"][0]["back"];
        let mut wanted: Vec<f64> = Vec::new();
        wanted.extend(back["energy"].as_array().unwrap().iter().filter_map(|energy| energy["share"].as_f64()));
        let rows = back["groups"].as_array().unwrap().iter().flat_map(|group| group["rows"].as_array().unwrap());
        for row in rows {
            wanted.extend(row["cells"].as_array().unwrap().iter().filter_map(|cell| cell["share"].as_f64()));
        }
        assert!(wanted.len() > 30 && wanted.iter().any(|share| *share > 1.0) && wanted.contains(&0.0), "{wanted:?}");
        let svg = String::from_utf8(folder.read("out/beans.en.2.svg")).unwrap();
        let drawn = shares(&svg);
        assert_eq!(drawn.len(), wanted.len(), "{template} {paper}: {drawn:?} for {wanted:?}");
        for (drawn, wanted) in drawn.iter().zip(&wanted) {
            let wanted = if *wanted < 0.005 { 0.0 } else { wanted.min(1.0) };
            assert!((drawn - wanted).abs() < 0.004, "{template} {paper}: a bar shows {drawn} for {wanted}");
        }
    }
}

/// A template that draws the measures of the first part, one below another.
fn measures(take: &str) -> String {
    let folder = Folder::with("porringer.toml", "");
    folder.write(
        "m/template.toml",
        "name = \"m\"\ndescription = \"A test.\"\nentry = \"m.typ\"\ndata = \"porringer-card/1\"\npapers = [\"A5\"]\n",
    );
    folder.write(
        "m/m.typ",
        "#import \"drawings.typ\": measures\n#let card = json(\"data.json\")\n#set page(width: 400pt, height: 200pt)\n\
         #for i in card.ingredients.sections.first().items { measures(i.measure, 24pt, 20) }\n",
    );
    folder.write(
        "mash.dish",
        format!(
            "dish Mash\nfor 9 to 11 months\nmakes 2 cups\ntake {take} as food\nstep boil food for 20 min\nstep mash food\n"
        ),
    );
    let ran = folder.run(&["build", "mash.dish", "--format", "svg", "--template", "m"]);
    assert!(folder.names("out").contains(&"mash.en.1.svg".to_owned()), "{take}: {ran:?}");
    String::from_utf8(folder.read("out/mash.en.1.svg")).unwrap()
}

#[test]
fn spoons_and_cups_are_filled_to_their_fractions() {
    // A spoon's fill is an ellipse seen through a window that opens from below:
    // the window's height over the ellipse's is the fill.
    for (amount, fills) in [
        ("3 1/2 tbsp", &[1.0, 1.0, 1.0, 0.5][..]),
        ("1/4 tbsp", &[0.25]),
        ("2 tbsp", &[1.0, 1.0]),
        ("1 2/3 tsp", &[1.0, 2.0 / 3.0]),
    ] {
        let svg = measures(&format!("{amount} pumpkin flesh, mashed").replace(" flesh, mashed", ", mashed"));
        let whole = if amount.ends_with("tsp") { 2.0 * (5.5 - 1.25) } else { 2.0 * (7.0 - 1.25) };
        // Equal windows are written once and named by each that uses them.
        let window = |id: &str| {
            let (_, rest) = svg.split_once(&format!("<clipPath id=\"{id}\"")).unwrap();
            outlines(rest.split_once(" d=\"").unwrap().1.split('"').next().unwrap())[0][3] / whole
        };
        let drawn: Vec<f64> =
            svg.split("clip-path=\"url(#").skip(1).map(|use_of| window(use_of.split(')').next().unwrap())).collect();
        assert_eq!(drawn.len(), fills.len(), "{amount}: {drawn:?}");
        for (drawn, wanted) in drawn.iter().zip(fills) {
            assert!((drawn - wanted).abs() < 0.01, "{amount}: {drawn} for {wanted}");
        }
    }
    // A cup's fill is a form with four corners, 15 of 24 units high when full.
    for (amount, fills) in [("2 1/2 cups", &[1.0, 1.0, 0.5][..]), ("3/4 cup", &[0.75]), ("1/3 cup", &[1.0 / 3.0])] {
        let svg = measures(&format!("{amount} pumpkin, cubed"));
        let drawn: Vec<f64> = paths(&svg)
            .iter()
            .filter(|path| path.len() == 1 && (10.0..20.0).contains(&path[0][2]))
            .map(|path| path[0][3] / 15.0)
            .collect();
        assert_eq!(drawn.len(), fills.len(), "{amount}: {drawn:?}");
        for (drawn, wanted) in drawn.iter().zip(fills) {
            assert!((drawn - wanted).abs() < 0.01, "{amount}: {drawn} for {wanted}");
        }
    }
}

// ------------------------------------------------------------- reading aloud

/// The words of a document in the order of its tags, as a screen reader says
/// them; a figure's description stands for the figure.
pub fn read_aloud(document: &Document) -> String {
    let mut said = std::collections::HashMap::new();
    for page in document.get_pages().into_values() {
        for (mark, words) in marked(document, page) {
            said.entry((page, mark)).or_insert_with(String::new).push_str(&words);
        }
    }
    let catalog = document.catalog().unwrap();
    let root = document.get_dict_in_dict(catalog, b"StructTreeRoot").unwrap();
    let mut out = String::new();
    walk(document, root.get(b"K").unwrap(), None, &said, &mut out);
    out
}

type Said = std::collections::HashMap<(ObjectId, i64), String>;

fn walk(document: &Document, kid: &Object, page: Option<ObjectId>, said: &Said, out: &mut String) {
    match kid {
        Object::Array(kids) => kids.iter().for_each(|kid| walk(document, kid, page, said, out)),
        Object::Reference(id) => walk(document, document.get_object(*id).unwrap(), page, said, out),
        Object::Integer(mark) => out.push_str(said.get(&(page.unwrap(), *mark)).map_or("", String::as_str)),
        Object::Dictionary(element) => {
            let page = element.get(b"Pg").and_then(Object::as_reference).ok().or(page);
            if let Ok(alt) = element.get(b"Alt") {
                out.push_str(&lopdf::decode_text_string(alt).unwrap());
            } else if let Ok(mark) = element.get(b"MCID") {
                walk(document, mark, page, said, out);
            } else if let Ok(kids) = element.get(b"K") {
                walk(document, kids, page, said, out);
            }
        }
        _ => {}
    }
}

/// The words of a page by their marks, in the order written.
fn marked(document: &Document, page: ObjectId) -> Vec<(i64, String)> {
    let fonts = document.get_page_fonts(page).unwrap();
    let content = Content::decode(&document.get_page_content(page)).unwrap();
    let mut encoding = None;
    let mut marks: Vec<Option<i64>> = Vec::new();
    let mut found = Vec::new();
    for operation in &content.operations {
        match operation.operator.as_str() {
            "BDC" => {
                let id = operation.operands.get(1).and_then(|object| object.as_dict().ok());
                marks.push(id.and_then(|dictionary: &Dictionary| dictionary.get(b"MCID").ok()?.as_i64().ok()));
            }
            "BMC" => marks.push(None),
            "EMC" => drop(marks.pop()),
            "Tf" => {
                let font = fonts[operation.operands[0].as_name().unwrap()];
                encoding = Some(font.get_font_encoding(document).unwrap());
            }
            "Tj" | "TJ" => {
                let Some(mark) = marks.iter().rev().find_map(|mark| *mark) else { continue };
                let mut words = String::new();
                let mut add = |object: &Object| {
                    if let Ok(bytes) = object.as_str() {
                        words.push_str(&Document::decode_text(encoding.as_ref().unwrap(), bytes).unwrap());
                    }
                };
                match &operation.operands[0] {
                    Object::Array(pieces) => pieces.iter().for_each(&mut add),
                    one => add(one),
                }
                found.push((mark, words));
            }
            _ => {}
        }
    }
    found
}

/// Without blanks, which a page has where it breaks its lines.
fn bare(words: &str) -> String {
    words.chars().filter(|letter| !letter.is_whitespace() && *letter != '\u{AD}').collect()
}

/// The texts of a card in the order in which they should be heard.
fn script(card: &Card) -> Vec<String> {
    let mut script = vec![card.title.clone(), card.ages.label.clone(), card.ages.text.clone()];
    script.push(card.ages.alt.clone());
    for fact in card.times.iter().chain(&card.makes) {
        script.extend([fact.label.clone(), fact.text.clone()]);
    }
    script.extend(card.start.clone());
    script.push(card.ingredients.label.clone());
    let item = |script: &mut Vec<String>, item: &card::Item, family: bool| {
        // Run on in a line of the family's, a drawing says nothing of its own.
        if !family {
            script.push(item.measure.alt.clone());
        }
        let both = [item.amount.clone(), item.food.clone()];
        if card.ingredients.food_first {
            script.extend(both.into_iter().rev())
        } else {
            script.extend(both)
        };
        script.extend(item.alternatives.clone());
        script.push(item.grams.clone());
    };
    for section in &card.ingredients.sections {
        script.extend(section.title.clone());
        section.items.iter().for_each(|one| item(&mut script, one, false));
    }
    if let Some(section) = &card.ingredients.family {
        script.extend(section.title.clone());
        section.items.iter().for_each(|one| item(&mut script, one, true));
    }
    script.push(card.method.label.clone());
    for step in &card.method.steps {
        script.extend(step.title.clone());
        if step.number > 0 {
            script.push(step.number.to_string());
        }
        script.push(step.sentence.clone());
        script.extend(step.duration.clone());
        // A cue that opens a line has a capital letter.
        script.extend(step.until.as_ref().map(|until| until.chars().skip(1).collect()));
        script.extend(step.prose.clone());
        script.extend(step.unattended.clone());
        script.extend(step.cautions.clone());
    }
    script.push(card.portions.label.clone());
    for portion in &card.portions.items {
        script.extend([portion.age.clone(), portion.text.clone(), portion.grams.clone()]);
    }
    let (cautions, others): (Vec<_>, Vec<_>) = card.remarks.iter().partition(|remark| remark.kind == "caution");
    for remark in cautions.into_iter().chain(others) {
        script.extend([remark.label.clone(), remark.text.clone()]);
    }
    script.extend(card.standing.last().cloned());
    let back = &card.back;
    script.extend([back.title.clone(), card.title.clone(), back.explain.clone()]);
    for band in &back.bands {
        script.extend([band.label.clone(), band.portion.clone()]);
    }
    script.push(back.energy_label.clone());
    for energy in &back.energy {
        script.extend([energy.kcal.clone(), energy.density.clone(), energy.share_text.clone()]);
    }
    for group in &back.groups {
        script.push(group.title.clone());
        for row in &group.rows {
            script.push(row.name.clone());
            for cell in &row.cells {
                script.extend(cell.share.map(|_| cell.share_text.clone()));
                script.push(cell.amount.clone());
            }
        }
    }
    script.push(back.allergens.title.clone());
    script.extend(back.allergens.items.clone());
    script.push(back.food_groups.title.clone());
    script.extend(back.food_groups.items.iter().filter(|group| group.on).map(|group| group.name.clone()));
    script.push(back.texture.title.clone());
    for texture in &back.texture.items {
        script.extend([texture.age.clone(), texture.text.clone()]);
    }
    script.push(back.claims.title.clone());
    for claim in &back.claims.items {
        script.extend([claim.text.clone(), claim.basis.clone()]);
    }
    script.push(back.claims.note.clone());
    script.push(back.figures.title.clone());
    script.extend(back.figures.lines.clone());
    script.extend(back.standing.clone());
    script.extend(card.standing.iter().rev().skip(1).cloned());
    script
}

fn cards(text: &str, tags: &[&str], paper: &str) -> Vec<Card> {
    let workspace = Workspace::of(std::path::Path::new("/"));
    let folder = Folder::new();
    let shelf = Shelf::new(folder.path(""), &workspace.reference);
    let source = porringer::source::Source::new("beans.dish", text);
    let checked = porringer::check::check(source, Kind::Dish, "beans", &workspace.reference, &shelf.seen_from("beans"));
    let imprint = Imprint { paper: paper.to_owned(), ..Imprint::default() };
    tags.iter()
        .map(|tag| {
            let locale = Locale::new(tag).unwrap();
            card::make(&Maker {
                dish: checked.dish.as_ref().unwrap(),
                reference: &workspace.reference,
                locale: &locale,
                own_language: "en",
                imprint: &imprint,
                changed: &[],
            })
        })
        .collect()
}

#[test]
fn what_is_read_aloud_is_the_card() {
    let engine = Engine::new(1, Vec::new()).unwrap();
    let template = Template::built_in("card").unwrap();
    for card in cards(BEANS, &["en", "sw", "fr"], "A5") {
        let pages = engine.card(&template, &card, None, Forms::PDF).unwrap();
        let document = Document::load_mem(&pages.pdf).unwrap();
        let heard = bare(&read_aloud(&document));
        let (mut rest, mut left) = (heard.as_str(), String::new());
        for text in script(&card) {
            let wanted = bare(&text);
            let Some(at) = rest.find(&wanted) else {
                panic!("{}: `{text}` is not read in its place; after it comes {rest}", card.lang);
            };
            left.push_str(&rest[..at]);
            rest = &rest[at + wanted.len()..];
        }
        left.push_str(rest);
        // What else is read: signs and their key, and the letter that a cue
        // begins with.
        let signs: Vec<String> = card
            .back
            .groups
            .iter()
            .flat_map(|group| &group.rows)
            .flat_map(|row| &row.cells)
            .flat_map(|cell| [cell.at_least.clone(), Some(cell.share_text.clone())])
            .flatten()
            .map(|text| bare(&text))
            .collect();
        for sign in &signs {
            left = left.replace(sign.as_str(), "");
        }
        let words: Vec<char> = left.chars().filter(|letter| letter.is_alphabetic()).collect();
        assert!(words.len() <= 1, "{}: the page says more than the card: {left}", card.lang);
    }
}

// ------------------------------------------------------------------ the same

#[test]
fn any_number_of_threads_makes_the_same_bytes() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let workspace = Workspace::of(&root);
    let paths: Vec<_> =
        shelf::files(&root).into_iter().filter(|path| Kind::of_path(path) == Some(Kind::Dish)).take(6).collect();
    let checked = gather::all(&paths, &workspace);
    let locale = Locale::new("en").unwrap();
    let imprint = Imprint { paper: "A5".to_owned(), ..Imprint::default() };
    let made: Vec<Card> = checked
        .iter()
        .map(|file| {
            card::make(&Maker {
                dish: file.dish.as_ref().unwrap(),
                reference: &workspace.reference,
                locale: &locale,
                own_language: "en",
                imprint: &imprint,
                changed: &[],
            })
        })
        .collect();
    let template = Template::built_in("card").unwrap();
    let forms = Forms { pdf: true, svg: true, png: true };
    let run = |threads: usize| {
        let engine = Engine::new(threads, Vec::new()).unwrap();
        let mut all = Vec::new();
        engine.each(
            &made,
            |card| engine.card(&template, card, None, forms),
            |at, result| {
                let pages = result.unwrap();
                all.push((at, pages.pdf, pages.svg, pages.png));
            },
        );
        all.sort();
        all
    };
    let one = run(1);
    assert_eq!(one.len(), 6);
    assert!(one == run(2) && one == run(3), "another number of threads makes other bytes");
}
