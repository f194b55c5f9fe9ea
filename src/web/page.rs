//! The pages themselves: templates filled with the cards' data. Every text is
//! escaped by the templates; what is let through as it is was made here.

use std::borrow::Cow;
use std::sync::Arc;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use minijinja::{AutoEscape, Environment, Error, State, UndefinedBehavior, Value, context};
use serde::Serialize;

use super::drawing::{self, Drawings};
use super::{Book, Face, Leaf, contents, linked};
use crate::card::steps::Step;
use crate::card::{Card, Locale};
use crate::check::Checked;
use crate::resolve::menu::What;
use crate::typeset::Fault;

const TEMPLATES: &[(&str, &str)] = &[
    ("frame.html", include_str!("../../templates/web/frame.html")),
    ("parts.html", include_str!("../../templates/web/parts.html")),
    ("dish.html", include_str!("../../templates/web/dish.html")),
    ("menu.html", include_str!("../../templates/web/menu.html")),
    ("contents.html", include_str!("../../templates/web/contents.html")),
    ("languages.html", include_str!("../../templates/web/languages.html")),
];
const STYLE: &str = include_str!("../../templates/web/style.css");

/// Where the drawings of a page go once it is known which it shows.
const SHEET: &str = "<!--drawings-->";

/// What every page has about its own matter.
#[derive(Debug, Serialize)]
struct Frame<'a> {
    lang: &'a str,
    dir: &'static str,
    title: &'a str,
    site: &'a str,
    /// The contents of the page's language; none on the contents themselves.
    home: Option<Link>,
    before: Option<Link>,
    after: Option<Link>,
    /// The same page in other languages.
    others: Vec<Link>,
    others_label: String,
    contents_label: String,
    around_label: String,
    programme: Option<&'a str>,
    footer: Option<&'a str>,
    generator: &'static str,
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct Link {
    pub title: String,
    pub href: String,
    pub lang: String,
    pub dir: &'static str,
    /// For whom it is, where that is said beside it.
    pub ages: String,
}

/// The steps of one part.
#[derive(Debug, Serialize)]
struct Part<'a> {
    title: Option<&'a str>,
    steps: Vec<&'a Step>,
}

fn parts(card: &Card) -> Vec<Part<'_>> {
    let mut parts: Vec<Part<'_>> = Vec::new();
    for step in &card.method.steps {
        if step.kind == "part" {
            parts.push(Part { title: step.title.as_deref(), steps: Vec::new() });
        } else if let Some(part) = parts.last_mut() {
            part.steps.push(step);
        } else {
            parts.push(Part { title: None, steps: vec![step] });
        }
    }
    parts
}

/// Text as a page may hold it: without control characters, which HTML does not
/// allow, and without those that turn the direction of what comes after.
pub(super) fn clean(text: &str) -> String {
    let text = text.chars().map(|character| if matches!(character, '\n' | '\t') { ' ' } else { character });
    text.filter(|character| !unwanted(*character)).collect()
}

fn unwanted(character: char) -> bool {
    (character.is_control() && character != '\n' && character != '\t')
        || matches!(character, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}' | '\u{FDD0}'..='\u{FDEF}')
        || (u32::from(character) & 0xFFFE) == 0xFFFE
}

fn environment(drawings: Arc<Drawings>) -> Result<Environment<'static>, Error> {
    let mut environment = Environment::new();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_auto_escape_callback(|_| AutoEscape::Html);
    environment.set_trim_blocks(true);
    environment.set_lstrip_blocks(true);
    environment.set_formatter(|out, state: &State<'_, '_>, value| {
        let cleaned = match value.as_str() {
            Some(text) if !value.is_safe() && text.chars().any(unwanted) => Cow::Owned(Value::from(clean(text))),
            _ => Cow::Borrowed(value),
        };
        minijinja::escape_formatter(out, state, &cleaned)
    });
    for (name, text) in TEMPLATES {
        environment.add_template(name, text)?;
    }
    environment.add_global("style", Value::from_safe_string(STYLE.to_owned()));
    environment.add_global("sheet", Value::from_safe_string(SHEET.to_owned()));
    let measures = Arc::clone(&drawings);
    environment.add_function("measure", move |drawn: Value| measures.measure(&drawn));
    environment.add_function("process", move |name: String| drawings.process(&name));
    environment.add_function("bar", |cell: Value| drawing::bar(&cell));
    environment.add_function("months", |ages: Value, dir: String| drawing::months(&ages, &dir));
    environment.add_function("day", |strip: Value, dir: String| drawing::day(&strip, &dir));
    Ok(environment)
}

/// Every page of a set by its file name.
pub(super) fn all(book: &Book<'_>, drawings: Drawings) -> Result<Vec<(String, String)>, Fault> {
    let drawings = Arc::new(drawings);
    let trouble = |error: Error| Fault::Template(told(&error));
    let environment = environment(Arc::clone(&drawings)).map_err(trouble)?;
    let finish = |html: String| {
        let sheet = drawings.sheet(&html);
        let sheet = if sheet.is_empty() {
            String::new()
        } else {
            format!(
                "<svg class=\"sheet\" width=\"0\" height=\"0\" aria-hidden=\"true\" focusable=\"false\">{sheet}</svg>"
            )
        };
        html.replacen(SHEET, &sheet, 1)
    };
    let render = |name: &str, value: Value| -> Result<String, Fault> {
        let html = environment.get_template(name).and_then(|template| template.render(value)).map_err(trouble)?;
        Ok(finish(html))
    };
    let mut pages = Vec::new();
    let spoken = book.spoken();
    for locale in &spoken {
        let contents = contents::of(book, locale);
        let site = book.title(locale);
        let order = contents.order();
        for (place, at) in order.iter().enumerate() {
            let Some(leaf) = book.leaves.get(*at) else { continue };
            let near = |place: Option<usize>| {
                place.and_then(|place| order.get(place)).and_then(|at| book.leaves.get(*at)).map(link)
            };
            let others = same_in_others(book, leaf);
            let frame = Frame {
                before: near(place.checked_sub(1)),
                after: near(Some(place + 1)),
                ..frame(book, locale, leaf.face.title(), &site, true, others)
            };
            pages.push((leaf.href(), document(&render, &frame, book, leaf)?));
        }
        let others = spoken.iter().filter(|other| other.tag() != locale.tag()).map(|other| home(other)).collect();
        let frame = frame(book, locale, &site, &site, false, others);
        pages.push((home_of(locale.tag()), render("contents.html", context! { frame, contents })?));
    }
    if let Some(first) = spoken.first() {
        let choices: Vec<Value> = spoken
            .iter()
            .map(|locale| context! { site => book.title(locale), ..Value::from_serialize(home(locale)) })
            .collect();
        let site = book.title(first);
        let frame = frame(book, first, &site, &site, false, Vec::new());
        pages.push(("index.html".to_owned(), render("languages.html", context! { frame, choices })?));
    }
    Ok(pages)
}

fn frame<'a>(
    book: &'a Book<'_>,
    locale: &'a Locale,
    title: &'a str,
    site: &'a str,
    within: bool,
    others: Vec<Link>,
) -> Frame<'a> {
    Frame {
        lang: locale.tag(),
        dir: locale.direction(),
        title,
        site,
        home: within.then(|| home(locale)),
        before: None,
        after: None,
        others,
        others_label: locale.word("web-languages"),
        contents_label: locale.word("web-contents"),
        around_label: locale.word("web-around"),
        programme: book.programme.as_deref(),
        footer: book.footer.as_ref().and_then(|footer| footer.printed(locale.tag())),
        generator: concat!("Porringer ", env!("CARGO_PKG_VERSION")),
    }
}

fn home_of(tag: &str) -> String {
    format!("{tag}.html")
}

/// The contents of a language, under the language's own name.
fn home(locale: &Locale) -> Link {
    Link {
        title: locale.word("language-name"),
        href: home_of(locale.tag()),
        lang: locale.tag().to_owned(),
        dir: locale.direction(),
        ages: String::new(),
    }
}

pub(super) fn link(leaf: &Leaf<'_>) -> Link {
    Link {
        title: leaf.face.title().to_owned(),
        href: leaf.href(),
        lang: leaf.face.lang().to_owned(),
        dir: match leaf.face {
            Face::Dish(card) => card.dir,
            Face::Menu(card) => card.dir,
        },
        ages: leaf.face.ages().to_owned(),
    }
}

fn same_in_others(book: &Book<'_>, leaf: &Leaf<'_>) -> Vec<Link> {
    let others = book.leaves.iter().filter(|other| other.slug == leaf.slug && other.face.lang() != leaf.face.lang());
    others
        .filter_map(|other| {
            let locale = book.locales.get(other.face.lang())?;
            Some(Link { href: other.href(), ..home(locale) })
        })
        .collect()
}

/// The page of a dish or a menu.
fn document(
    render: &dyn Fn(&str, Value) -> Result<String, Fault>,
    frame: &Frame<'_>,
    book: &Book<'_>,
    leaf: &Leaf<'_>,
) -> Result<String, Fault> {
    match leaf.face {
        Face::Dish(card) => {
            let linked = leaf.file.dish.as_ref().map(|dish| linked::within_page(&linked::recipe(card, dish)));
            let picture = leaf.picture.map(|picture| data_address(&picture.path, &picture.bytes));
            let parts = parts(card);
            let linked = Value::from_safe_string(linked.unwrap_or_default());
            render("dish.html", context! { frame, card, parts, linked, picture })
        }
        Face::Menu(card) => {
            let dishes = pages_of_items(book, leaf.file, frame.lang);
            render("menu.html", context! { frame, card, dishes })
        }
    }
}

/// For each meal of a menu and each of its items the page of the dish, where
/// there is one. Meals stand in the order of the day, as on the card.
fn pages_of_items(book: &Book<'_>, file: &Checked, tag: &str) -> Vec<Vec<Option<String>>> {
    let Some(menu) = &file.menu else { return Vec::new() };
    let mut meals: Vec<_> = menu.resolved.meals.iter().collect();
    meals.sort_by_key(|meal| meal.at);
    let page = |id: &str| {
        let leaf = book
            .leaves
            .iter()
            .find(|leaf| leaf.face.lang() == tag && leaf.file.dish.as_ref().is_some_and(|dish| dish.id == id))?;
        Some(leaf.href())
    };
    meals
        .into_iter()
        .map(|meal| {
            let first = meal.items.iter().map(|item| item.options.first());
            first
                .map(|choice| match &choice?.what {
                    What::Dish(dish) => page(&dish.id),
                    _ => None,
                })
                .collect()
        })
        .collect()
}

/// A picture as part of its page. An SVG within `img` runs nothing.
fn data_address(path: &str, bytes: &[u8]) -> String {
    let kind = match path.rsplit('.').next() {
        Some("png") => "image/png",
        Some("svg") => "image/svg+xml",
        _ => "image/jpeg",
    };
    format!("data:{kind};base64,{}", STANDARD.encode(bytes))
}

fn told(error: &Error) -> String {
    match (error.name(), error.line()) {
        (Some(name), Some(line)) => format!("{name}:{line}: {error}"),
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_turns_the_direction_of_a_page() {
        assert_eq!(clean("a\u{202E}b\u{0}c\u{1B}[31m\u{FFFE}\nd"), "abc[31m d");
        // Signs that scripts need stay.
        assert_eq!(clean("क्\u{200D}ष \u{200F}سمك"), "क्\u{200D}ष \u{200F}سمك");
    }
}
