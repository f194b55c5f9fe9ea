//! One file from text to report: the phases in their order.

use std::sync::Arc;

use crate::assess::menu::{MenuCase, MenuReport, assess as assess_menu};
use crate::assess::{Case, Report, assess};
use crate::ast::{ANNEXES, Booklet, Document, Entry, Header, PAPERS, Text};
use crate::compute::day::{Choose, Day, day, served::served};
use crate::compute::{Computed, Selection, compute, spread};
use crate::diagnostic::rules;
use crate::diagnostic::{Changed, Code, Diagnostic, Severity, Sink, did_you_mean, quote};
use crate::reference::Reference;
use crate::reference::nutrient::NutrientId;
use crate::resolve::food::Figures;
use crate::resolve::menu::What;
use crate::resolve::{self, DishAnswer, DishBook, PreparedDish};
use crate::source::{Source, Spanned};
use crate::syntax::{self, Kind, Tree};

/// Hazards that no method takes out of a food.
const TRAVELLING: &[&str] = &[
    "honey",
    "salt",
    "salty",
    "sugar",
    "alcohol",
    "mercury-high",
    "liver",
    "nitrate-leaf",
    "sweet-drink",
    "rice-drink",
    "tea-coffee",
];

/// Hazards of a food that is drunk; cooked into food it has none.
const OF_DRINKS: &[&str] = &["milk-drink", "juice"];

/// A file that went through all phases.
#[derive(Debug)]
pub struct Checked {
    pub source: Source,
    pub tree: Tree,
    pub document: Document,
    /// For dishes.
    pub dish: Option<CheckedDish>,
    /// For menus.
    pub menu: Option<CheckedMenu>,
    pub diagnostics: Vec<Diagnostic>,
    /// Where the workspace's changes of rules met this document.
    pub changed: Vec<Changed>,
}

/// A dish with all that is known of it.
#[derive(Debug)]
pub struct CheckedDish {
    /// The `id` line, else the file's stem.
    pub id: String,
    pub resolved: resolve::Dish,
    pub computed: Computed,
    pub report: Report,
}

/// A menu with all that is known of its day.
#[derive(Debug)]
pub struct CheckedMenu {
    /// The `id` line, else the file's stem.
    pub id: String,
    pub resolved: resolve::menu::Menu,
    pub day: Day,
    pub report: MenuReport,
}

impl Checked {
    /// The name a dish or menu goes by.
    pub fn id(&self) -> Option<&str> {
        self.dish.as_ref().map(|dish| dish.id.as_str()).or_else(|| self.menu.as_ref().map(|menu| menu.id.as_str()))
    }

    pub fn title(&self) -> Option<&Text> {
        let header = match &self.document {
            Document::Dish(dish) => &dish.header,
            Document::Menu(menu) => &menu.header,
            Document::Booklet(booklet) => &booklet.header,
        };
        header.title.as_ref()
    }

    pub fn has_errors(&self) -> bool {
        self.diagnostics.iter().any(|diagnostic| diagnostic.severity == Severity::Error)
    }
}

/// Checks one file. `stem` is the name a document goes by without an `id`.
pub fn check(source: Source, kind: Kind, stem: &str, reference: &Reference, book: &dyn DishBook) -> Checked {
    let mut sink = Sink::new();
    let (tree, document) = syntax::parse(kind, &source.text, &mut sink);
    let id = |header: &Header| header.id.as_ref().map_or_else(|| stem.to_owned(), |id| id.value.clone());
    let (mut dish, mut menu) = (None, None);
    match &document {
        Document::Dish(ast) => {
            let resolved = resolve::resolve(ast.clone(), reference, book, &mut sink);
            let computed = compute(&resolved, reference, &Selection::default());
            let case = Case { dish: &resolved, computed: &computed, reference };
            let report = assess(&case, &mut sink);
            dish = Some(CheckedDish { id: id(&ast.header), resolved, computed, report });
        }
        Document::Menu(ast) => {
            let resolved = resolve::menu::resolve(ast.clone(), reference, book, &mut sink);
            let day = day(&resolved, reference, &Choose::default());
            let case = MenuCase { menu: &resolved, day: &day, reference };
            let report = assess_menu(&case, &mut sink);
            menu = Some(CheckedMenu { id: id(&ast.header), resolved, day, report });
        }
        Document::Booklet(booklet) => {
            pages_exist(&booklet.entries, book, &mut sink);
            words_known(booklet, &mut sink);
        }
    }
    let months = document.youngest();
    let (diagnostics, mut changed) = sink.finish_by(&reference.practice.rules, months);
    // Who holds this card holds what is in the dishes that it is made of.
    let mut inner: Vec<&Arc<PreparedDish>> = Vec::new();
    let foods = dish.iter().flat_map(|dish| &dish.resolved.ingredients).flat_map(|one| &one.options);
    inner.extend(foods.filter_map(|choice| match &choice.food.as_ref()?.figures {
        Figures::Dish(dish) => Some(dish),
        _ => None,
    }));
    let items = menu.iter().flat_map(|menu| menu.resolved.items()).flat_map(|(_, _, item)| &item.options);
    inner.extend(items.filter_map(|choice| match &choice.what {
        What::Dish(dish) => Some(dish),
        _ => None,
    }));
    inner.sort_by(|a, b| a.id.cmp(&b.id));
    inner.dedup_by(|a, b| a.id == b.id);
    for dish in inner {
        rules::join(&mut changed, &dish.changed, &dish.title);
    }
    Checked { source, tree, document, dish, menu, diagnostics, changed }
}

fn pages_exist(entries: &[Entry], book: &dyn DishBook, sink: &mut Sink) {
    let mut seen: Vec<(&str, bool, crate::source::Span)> = Vec::new();
    for entry in entries {
        let Entry::Page { menu, slug } = entry else {
            continue;
        };
        if let Some((_, _, first)) = seen.iter().find(|(name, kind, _)| *name == slug.value && kind == menu) {
            sink.push(
                Diagnostic::new(
                    Code::BookletDuplicatePage,
                    slug.span,
                    format!("the page {} is in the booklet twice", quote(&slug.value)),
                )
                .label(*first, "the first is here")
                .help("remove one of the two"),
            );
            continue;
        }
        seen.push((&slug.value, *menu, slug.span));
        let known = if *menu { book.menus() } else { Vec::new() };
        let names = if *menu {
            if known.contains(&slug.value) { None } else { Some(known) }
        } else {
            match book.dish(&slug.value) {
                DishAnswer::Unknown(names) => Some(names),
                _ => None,
            }
        };
        if let Some(names) = names {
            unknown_page(&slug.value, slug.span, &names, sink);
        }
    }
}

/// The words of `paper` and `annex` are ones that are known.
fn words_known(booklet: &Booklet, sink: &mut Sink) {
    let mut unknown = |code: Code, word: &Spanned<String>, what: &str, known: &[&str]| {
        let mut message = Diagnostic::new(code, word.span, format!("{} is no {what}", quote(&word.value)));
        message = match did_you_mean(&word.value, known.iter().copied()) {
            Some(near) => message.help(format!("did you mean `{near}`?")).fix(word.span, near),
            None => message.help(format!("there are {}", known.join(", "))),
        };
        sink.push(message);
    };
    let is = |word: &Spanned<String>, known: &[&str]| known.iter().any(|one| one.eq_ignore_ascii_case(&word.value));
    if let Some(paper) = booklet.paper.as_ref().filter(|paper| !is(paper, &PAPERS)) {
        unknown(Code::SyntaxBadLine, paper, "paper", &PAPERS);
    }
    for entry in &booklet.entries {
        let Entry::Annex(words) = entry else { continue };
        for word in words.iter().filter(|word| !is(word, &ANNEXES)) {
            unknown(Code::BookletUnknownPage, word, "annex", &ANNEXES);
        }
    }
}

fn unknown_page(name: &str, span: crate::source::Span, names: &[String], sink: &mut Sink) {
    let mut message =
        Diagnostic::new(Code::BookletUnknownPage, span, format!("this workspace has no page {}", quote(name)));
    message = match did_you_mean(name, names.iter().map(String::as_str)) {
        Some(near) => message.help(format!("did you mean `{near}`?")).fix(span, near),
        None => message.help("write a document's `id`, or its file's name without the ending"),
    };
    sink.push(message);
}

impl CheckedDish {
    /// The dish as an ingredient of another. Values that any ingredient lacks
    /// are unknown, so that the other dish's known share stays honest.
    pub fn prepared(&self, changed: &[Changed], reference: &Reference) -> PreparedDish {
        let nutrition = &self.computed.nutrition;
        let mut hazards: Vec<String> = Vec::new();
        for (at, ingredient) in self.resolved.ingredients.iter().enumerate() {
            if !self.resolved.flow.child.get(at).copied().unwrap_or(true) {
                continue;
            }
            for choice in &ingredient.options {
                let Some(food) = &choice.food else { continue };
                // What the dish's own method mends does not travel on; its own
                // check has already judged it.
                let drinks: &[&str] = if self.report.drunk { OF_DRINKS } else { &[] };
                for hazard in TRAVELLING.iter().chain(drinks) {
                    if food.has_hazard(hazard) && !hazards.iter().any(|known| known == hazard) {
                        hazards.push((*hazard).to_owned());
                    }
                }
            }
        }
        PreparedDish {
            id: self.id.clone(),
            title: self.resolved.title().to_owned(),
            titles: self
                .resolved
                .ast
                .header
                .title
                .iter()
                .flat_map(|title| &title.translations)
                .map(|line| (line.tag.clone(), line.value.clone()))
                .collect(),
            estimated: self.computed.cooked.estimated || NutrientId::all().any(|id| nutrition.figure(id).estimated),
            texture: self.report.texture,
            per_100g: NutrientId::all()
                .map(|id| if nutrition.complete(id) { nutrition.per_100g(id) } else { None })
                .collect(),
            before_heat_per_100g: NutrientId::all()
                .map(|id| if nutrition.complete(id) { nutrition.most_in_grams(id, 100.0) } else { None })
                .collect(),
            ends: spread::ranges(&self.resolved, &self.computed, &Selection::default()).map(|spread| {
                NutrientId::all().map(|id| nutrition.complete(id).then(|| spread.per_100g(id))).collect()
            }),
            density: crate::compute::portion::dish_density(&self.resolved, nutrition, reference),
            allergens: self.report.allergens.clone(),
            hazards,
            groups: self.report.groups.clone(),
            minutes: self.resolved.flow.total,
            hands_on: self.resolved.flow.hands_on,
            changed: changed.to_vec(),
            served: served(&self.resolved, &self.computed, reference),
        }
    }
}
