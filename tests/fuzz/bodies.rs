//! What must hold for any input, for the fuzz targets and for the property
//! tests alike. A body panics where it does not.

mod editor;
mod page;

use porringer::check::check;
use porringer::diagnostic::render::{FileMessages, json, short};
use porringer::diagnostic::{Diagnostic, Sink};
use porringer::format;
use porringer::import::{File, Map, read_file};
use porringer::quantity::{number, parse_number};
use porringer::reference::Reference;
use porringer::reference::price::PriceList;
use porringer::reference::profile::Profile;
use porringer::reference::table::Table;
use porringer::resolve::food::NoDishes;
use porringer::source::Source;
use porringer::syntax::{self, Kind};
use porringer::workspace::settings::Settings;

// A target calls one of these.
#[allow(unused_imports)]
pub use {editor::lsp, page::text};

/// As the program reads a file: what is no UTF-8 becomes a mark.
fn read(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// Messages point into the text, say something in few words, and hold nothing
/// that a terminal obeys.
fn sound(source: &Source, messages: &[Diagnostic]) {
    let inside = |place: porringer::source::Span| {
        assert!(place.start <= place.end && place.end <= source.text.len(), "{place:?} is outside");
        assert!(source.text.is_char_boundary(place.start) && source.text.is_char_boundary(place.end), "{place:?}");
    };
    for message in messages {
        inside(message.span);
        message.labels.iter().for_each(|label| inside(label.span));
        if let Some(fix) = &message.fix {
            inside(fix.span);
        }
        assert!(!message.message.is_empty() && message.message.chars().count() <= 120, "{}", message.message);
    }
    let file = FileMessages { source, diagnostics: messages };
    let mut out = String::new();
    short::render(&file, &mut out);
    assert_eq!(out.lines().count(), messages.len(), "a message is more than a line: {out}");
    assert!(!out.contains(|c: char| c.is_control() && c != '\n'), "{out:?}");
    let _ = json::messages(&file);
}

fn document(kind: Kind, bytes: &[u8]) {
    let text = read(bytes);
    let (tree, _) = syntax::parse(kind, &text, &mut Sink::new());
    let joined: String = tree.nodes.iter().filter_map(|node| text.get(node.span.range())).collect();
    assert!(joined == text || text.len() > syntax::LARGEST_FILE, "the tree is not the text");
    let checked = check(Source::new("a", text), kind, "a", &Reference::default(), &NoDishes);
    sound(&checked.source, &checked.diagnostics);
    if let Some(dish) = &checked.dish {
        let known = dish.computed.nutrition.cooked_g;
        assert!(known.is_finite() && known >= 0.0, "{known} g");
        for id in porringer::reference::nutrient::NutrientId::all() {
            let value = dish.computed.nutrition.whole(id).unwrap_or(0.0);
            assert!(value.is_finite() && value >= 0.0, "{value} of {}", id.get().tag);
        }
    }
}

/// A dish goes through all phases.
pub fn dish(bytes: &[u8]) {
    document(Kind::Dish, bytes);
}

/// A menu does, and a booklet.
pub fn menu(bytes: &[u8]) {
    document(Kind::Menu, bytes);
    document(Kind::Booklet, bytes);
}

/// The form is one: brought into form twice is brought into form once, and
/// nothing but blanks changes.
pub fn form(bytes: &[u8]) {
    let text = read(bytes);
    for kind in Kind::ALL {
        let once = format::format(kind, &text);
        assert_eq!(format::format(kind, &once), once, "not in form yet");
        let bare = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(bare(&once), bare(&text), "more than blanks has changed");
    }
}

/// A number is in range, and reads again as itself where it is shown.
pub fn number(bytes: &[u8]) {
    let text = read(bytes);
    if let Ok(value) = parse_number(&text) {
        assert!(value.denominator() > 0 && value.numerator() >= 0, "{text}");
        assert!(value.value() < 2.0 * number::LARGEST as f64, "{text} is {}", value.value());
        // Forty-fifths are shown as a decimal, which is rounded.
        let again = parse_number(&value.to_string()).expect("what is shown is a number");
        let gap = (again.value() - value.value()).abs();
        assert!(gap <= 1e-9 * value.value().max(1.0), "{text} is {value} is {again}");
    }
}

/// Any file gives a table or remarks.
pub fn sheet(bytes: &[u8]) {
    for name in ["a.csv", "a.xlsx", "a.ods", "a.json"] {
        let import = read_file(&File { name: name.to_owned(), bytes: bytes.to_vec() }, &Map::default());
        assert!(!import.rows.is_empty() || !import.remarks.all().is_empty(), "neither table nor remark");
    }
}

/// Any settings file gives settings or messages.
pub fn settings(bytes: &[u8]) {
    let source = Source::new("porringer.toml", read(bytes));
    let mut sink = Sink::new();
    Settings::read(&source, &mut sink);
    sound(&source, &sink.finish());
}

/// So does any table, price list and guidance profile.
pub fn tables(bytes: &[u8]) {
    for name in ["a.csv", "a.toml"] {
        let source = Source::new(name, read(bytes));
        let mut sink = Sink::new();
        if name == "a.csv" {
            Table::read("a", &source, &mut sink);
        } else {
            let _ = Profile::read(&source, &mut sink);
        }
        sound(&source, &sink.finish());
        let mut sink = Sink::new();
        let prices = PriceList::read(&source, &mut sink);
        assert!(prices.prices.iter().all(|price| price.price.is_finite() && price.price >= 0.0));
        sound(&source, &sink.finish());
    }
}
