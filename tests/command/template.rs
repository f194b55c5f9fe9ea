//! Templates: the looks that come with the program, those a workspace brings,
//! and what they cannot do; pictures; the schema of their data.

use lopdf::Document;
use serde_json::Value;

use crate::{Folder, MASH, exactly};

/// A template of one page.
fn own(folder: &Folder, source: &str) {
    folder.write(
        "templates/own/template.toml",
        "name = \"own\"\ndescription = \"A test.\"\nentry = \"own.typ\"\ndata = \"porringer-card/1\"\npapers = [\"A5\"]\n",
    );
    folder.write("templates/own/own.typ", format!("{FRAME}{source}"));
}

/// What PDF/UA asks of any page.
const FRAME: &str = "#let card = json(\"data.json\")\n#set document(title: card.title)\n\
    #set text(font: card.fonts, lang: card.lang)\n= #card.title\n";

fn with_settings() -> Folder {
    let folder = Folder::with("porringer.toml", "template = \"own\"\n");
    folder.write("recipes/mash.dish", MASH);
    folder
}

fn words(folder: &Folder, name: &str) -> String {
    let document = Document::load_mem(&folder.read(name)).unwrap();
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    document.extract_text(&pages).unwrap().split_whitespace().collect()
}

#[test]
fn every_look_comes_on_each_of_its_papers() {
    let folder = Folder::with("mash.dish", MASH);
    for (template, papers) in
        [("card", &["A4", "A5", "A6", "Letter"][..]), ("wall", &["A4", "Letter"]), ("pocket", &["A6"])]
    {
        for paper in papers {
            let ran =
                folder.run(&["build", "mash.dish", "--template", template, "--paper", paper, "--language", "en,sw,fr"]);
            assert!(ran.code == 0 && ran.err.starts_with("porringer: 3 files in out"), "{template} {paper}: {ran:?}");
            for name in folder.names("out") {
                let document = Document::load_mem(&folder.read(&format!("out/{name}"))).unwrap();
                // The standard card on A6 is an A5 sheet folded once.
                let most = if (template, *paper) == ("card", "A6") { 4 } else { 2 };
                assert!((1..=most).contains(&document.get_pages().len()), "{template} {paper} {name}");
                assert!(document.catalog().unwrap().has(b"StructTreeRoot"), "{template} {paper} {name}");
            }
        }
    }
    let ran = folder.run(&["build", "mash.dish", "--template", "pocket", "--paper", "A4"]);
    assert_eq!(ran, exactly(2, "", "porringer: the template `pocket` is not made for A4; it takes A6\n"));
    let ran = folder.run(&["build", "mash.dish", "--template", "pokcet"]);
    assert_eq!(ran, exactly(2, "", "porringer: there is no template `pokcet`; did you mean `pocket`?\n"));
}

#[test]
fn a_workspace_brings_its_own() {
    let folder = with_settings();
    own(&folder, "#import \"drawings.typ\": measures, drawing\n#drawing(\"boil\", 20pt) Mine: #read(\"words.txt\")");
    folder.write("templates/own/words.txt", "mashed words");
    let ran = folder.run(&["build"]);
    assert_eq!(ran, exactly(0, "", "porringer: 1 file in out: no errors\n"));
    assert!(words(&folder, "out/mash.en.pdf").contains("Mine:mashedwords"));
    // On the command line any folder can be named.
    let ran = folder.run(&["build", "--template", "templates/own", "--out", "named"]);
    assert_eq!((ran.code, folder.names("named").len()), (0, 1), "{ran:?}");
    // One that the settings name lies in the workspace.
    let inner = Folder::with("in/porringer.toml", "template = \"../outside\"\n");
    inner.write("in/recipes/mash.dish", MASH);
    inner.write("outside/template.toml", "name = \"x\"\n");
    let ran = inner.run(&["build", "in/recipes"]);
    assert_eq!(ran.code, 2, "{ran:?}");
    assert!(ran.err.contains("there is no template `../outside`"), "{}", ran.err);
}

#[test]
fn a_template_sees_nothing_else() {
    let folder = with_settings();
    folder.write("secret.txt", "the secret");
    folder.write("templates/secret.txt", "the secret");
    folder.write("templates/own/deep/inner.typ", "#let inner = [inner]");
    let outside = folder.path("secret.txt").to_string_lossy().into_owned();
    for (source, why) in [
        ("#read(\"../secret.txt\")".to_owned(), "not found"),
        ("#read(\"../../secret.txt\")".to_owned(), ""),
        ("#read(\"/secret.txt\")".to_owned(), "not found"),
        (format!("#read(\"{outside}\")"), "not found"),
        ("#read(\"/etc/passwd\")".to_owned(), "not found"),
        ("#include \"/secret.txt\"".to_owned(), "not found"),
        ("#import \"@preview/cetz:0.3.0\": canvas".to_owned(), "packages are not for templates"),
        ("#image(\"https://example.org/x.png\")".to_owned(), ""),
        ("#datetime.today().display()".to_owned(), ""),
        ("#let n = 0; #while n >= 0 { n += 1 }".to_owned(), "infinite"),
        ("#let f(x) = f(x + 1)\n#f(0)".to_owned(), "depth"),
    ] {
        own(&folder, &source);
        let ran = folder.run(&["build"]);
        assert_eq!(ran.code, 2, "{source}: {ran:?}");
        assert!(ran.err.contains("template/own.typ:5:"), "{source}: the place is not said: {}", ran.err);
        assert!(ran.err.contains(why), "{source}: {}", ran.err);
        assert!(!ran.err.contains("the secret"), "{source}");
        assert!(folder.names("out").is_empty(), "{source}");
    }
    own(&folder, "#import \"deep/inner.typ\": inner\n#inner");
    assert_eq!(folder.run(&["build"]).code, 0);
    own(&folder, "#for i in range(300) { pagebreak(); [x] }");
    let ran = folder.run(&["build"]);
    assert!(ran.code == 2 && ran.err.contains("more than 200 pages"), "{ran:?}");
}

#[cfg(unix)]
#[test]
fn a_link_in_a_template_is_not_followed() {
    let folder = with_settings();
    folder.write("secret.txt", "the secret");
    own(&folder, "#read(\"link.txt\")");
    std::os::unix::fs::symlink(folder.path("secret.txt"), folder.path("templates/own/link.txt")).unwrap();
    let ran = folder.run(&["build"]);
    assert!(ran.code == 2 && ran.err.contains("not found"), "{ran:?}");
}

#[test]
fn a_wrong_manifest_is_said() {
    let folder = with_settings();
    own(&folder, "");
    let good = String::from_utf8(folder.read("templates/own/template.toml")).unwrap();
    for (manifest, why) in [
        (good.replace("entry = \"own.typ\"", "entry = \"other.typ\""), "`entry` names `other.typ`"),
        (good.replace("papers = [\"A5\"]", "papers = [\"B5\"]"), "`B5` is no paper"),
        (good.replace("papers = [\"A5\"]", "papers = []"), "`papers` names at least one"),
        (good.replace("name = \"own\"\n", ""), "missing field `name`"),
        (format!("{good}colour = \"red\"\n"), "unknown field `colour`"),
        (format!("{good}spacings = 99\n"), "`spacings` is 1 to 8"),
        (good.replace("card/1", "card/9"), "reads `porringer-card/9`"),
        ("not toml at all".to_owned(), "line 1"),
    ] {
        folder.write("templates/own/template.toml", &manifest);
        let ran = folder.run(&["build"]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{why}: {ran:?}");
        assert!(ran.err.contains(why), "{why}: {}", ran.err);
    }
    folder.write("templates/own/template.toml", good);
    assert_eq!(folder.run(&["build"]).code, 0);
}

#[test]
fn pages_come_as_pictures_too() {
    let folder = Folder::with("mash.dish", MASH);
    let ran = folder.run(&["build", "mash.dish", "--format", "png,svg"]);
    assert_eq!(ran, exactly(0, "", "porringer: 4 files in out: no errors\n"));
    assert_eq!(folder.names("out"), ["mash.en.1.png", "mash.en.1.svg", "mash.en.2.png", "mash.en.2.svg"]);
    for side in 1..=2 {
        let png = image::load_from_memory(&folder.read(&format!("out/mash.en.{side}.png"))).unwrap();
        assert_eq!(png.width(), 1080);
        assert!((1530..=1534).contains(&png.height()), "{}", png.height());
        let dark = png.to_luma8().pixels().filter(|pixel| pixel.0[0] < 100).count();
        assert!(dark > 10_000, "page {side} is blank");
        let svg = String::from_utf8(folder.read(&format!("out/mash.en.{side}.svg"))).unwrap();
        assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"));
    }
}

#[test]
fn the_data_is_as_the_schema_says() {
    let folder = Folder::new();
    let schema = folder.run(&["schema"]).json();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults = |card: &Value| {
        let mut places: Vec<String> =
            validator.iter_errors(card).map(|error| error.instance_path().to_string()).collect();
        places.sort();
        places
    };
    let recipes = concat!(env!("CARGO_MANIFEST_DIR"), "/recipes");
    let out = folder.path("out").to_string_lossy().into_owned();
    folder.run(&["build", recipes, "--format", "json", "--language", "en,sw,fr", "--out", &out]);
    folder.run(&["build", recipes, "--format", "json", "--language", "en,sw", "--out", &out]);
    let mut cards = 0;
    for name in folder.names("out") {
        let data: Value = serde_json::from_slice(&folder.read(&format!("out/{name}"))).unwrap();
        // A menu's card is another kind of data.
        if data["cards"][0]["schema"] != porringer::card::SCHEMA {
            continue;
        }
        for card in data["cards"].as_array().unwrap() {
            assert_eq!(faults(card), Vec::<String>::new(), "{name}");
            cards += 1;
        }
        let mut wrong = data["cards"][0].clone();
        wrong["dir"] = "up".into();
        assert_eq!(faults(&wrong), ["/dir"]);
        wrong.as_object_mut().unwrap().remove("dir");
        assert_eq!(faults(&wrong), [""]);
        wrong["dir"] = "ltr".into();
        wrong["fit"] = "wide".into();
        wrong["standing"][0] = 7.into();
        assert_eq!(faults(&wrong), ["/fit", "/standing/0"]);
    }
    assert!(cards >= 26, "{cards}");
}

fn png(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::GrayImage::from_fn(width, height, |x, y| image::Luma([(x * 7 + y * 3) as u8]))
        .write_to(&mut bytes, image::ImageFormat::Png)
        .unwrap();
    bytes.into_inner()
}

const SVG: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40\" height=\"30\">\
    <circle cx=\"20\" cy=\"15\" r=\"12\"/></svg>";

#[test]
fn a_picture_is_printed_with_its_description() {
    let folder = Folder::with("pictures/mash.png", png(120, 90));
    folder.write("pictures/mash.svg", SVG);
    for name in ["mash.png", "mash.svg"] {
        let dish = MASH.replace(
            "portion  1/2 cup\n",
            &format!("portion  1/2 cup\npicture  pictures/{name}: A bowl of orange mash\n"),
        );
        folder.write("porringer.toml", "");
        folder.write("mash.dish", dish);
        for template in ["card", "wall"] {
            let ran = folder.run(&["build", "mash.dish", "--template", template]);
            assert_eq!((ran.code, ran.err.as_str()), (0, "porringer: 1 file in out: no errors\n"), "{name}: {ran:?}");
            let document = Document::load_mem(&folder.read("out/mash.en.pdf")).unwrap();
            let described = document.objects.values().any(|object| {
                object.as_dict().is_ok_and(|dictionary| {
                    dictionary
                        .get(b"Alt")
                        .is_ok_and(|alt| lopdf::decode_text_string(alt).is_ok_and(|alt| alt == "A bowl of orange mash"))
                })
            });
            assert!(described, "{name} {template}: no figure bears the description");
        }
    }
}

#[test]
fn a_picture_that_is_not_what_it_says_is_refused() {
    let folder = Folder::with("porringer.toml", "");
    // A header that says a size the file does not have, its check sum right.
    let mut lies = png(10, 10);
    lies[16..20].copy_from_slice(&60_000u32.to_be_bytes());
    let mut sum = !0u32;
    for byte in &lies[12..29] {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 { sum >> 1 ^ 0xEDB8_8320 } else { sum >> 1 };
        }
    }
    lies[29..33].copy_from_slice(&(!sum).to_be_bytes());
    let half = {
        let whole = png(200, 200);
        whole[..whole.len() / 2].to_vec()
    };
    for (name, bytes, why) in [
        ("lies.png", lies, "over 6000 pixels"),
        ("wide.png", png(6_001, 2), "over 6000 pixels"),
        ("half.png", half, "damaged"),
        ("other.jpg", png(10, 10), "ending does not say"),
        ("big.png", vec![0; 5 << 20], "the most is 4 MB"),
        ("mash.gif", b"GIF89a".to_vec(), "no PNG, JPEG or SVG"),
        ("text.svg", b"nothing".to_vec(), "no SVG that can be drawn"),
        ("use.svg", SVG.replace("<circle", "<use href=\"#a\"/><circle").into_bytes(), "repeats parts"),
        ("effect.svg", SVG.replace("<circle", "<filter id=\"a\"/><circle").into_bytes(), "filter effect"),
        ("inner.svg", SVG.replace("<circle", "<image href=\"/etc/hosts\"/><circle").into_bytes(), "another picture"),
        // A mask of masks of masks, which no drawer would live to finish.
        (
            "masks.svg",
            SVG.replace(
                "<circle",
                &((0..30)
                    .map(|at| {
                        let again = format!("<rect width=\"9\" height=\"9\" mask=\"url(#m{})\"/>", at + 1);
                        format!("<mask id=\"m{at}\">{again}{again}</mask>")
                    })
                    .collect::<String>()
                    + "<circle mask=\"url(#m0)\""),
            )
            .into_bytes(),
            "repeats parts",
        ),
        ("entity.svg", format!("<!DOCTYPE svg [<!ENTITY a \"b\">]>{SVG}").into_bytes(), "repeats parts"),
    ] {
        folder.write(name, bytes);
        let picture = format!("portion  1/2 cup\npicture  {name}: A bowl of mash\n");
        folder.write("mash.dish", MASH.replace("portion  1/2 cup\n", &picture));
        let ran = folder.run(&["check", "mash.dish", "--format", "short"]);
        assert_eq!(ran.code, 1, "{name}: {ran:?}");
        assert!(ran.out.contains("error[workspace/table-error]") && ran.out.contains(why), "{name}: {}", ran.out);
        assert!(
            folder.run(&["build", "mash.dish"]).code == 1
                && folder.names("").iter().all(|made| !made.ends_with(".pdf"))
        );
    }
}
