//! `porringer shop`

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::PathBuf;

use serde_json::{Value, json};
use time::Date;

use crate::ast::{Amount, Document, FoodName, Makes, Menu, TakeOption};
use crate::check::{Checked, CheckedDish};
use crate::cli::gather::{self, Format as Messages};
use crate::cli::nutrients::{columns, guarded};
use crate::cli::scale::{ages, count, weight};
use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, say, say_plain};
use crate::compute::scaling::factor::{chosen_portion, makes_share, portion_share};
use crate::compute::scaling::number_text;
use crate::compute::shopping::{Basket, Item};
use crate::diagnostic::{Diagnostic, Severity, Sink};
use crate::quantity::date::date;
use crate::quantity::{Exact, Measure, Unit, round_half_even};
use crate::reference::price::{Price, PriceList};
use crate::resolve::{DishBook, Food, food, grams};
use crate::workspace::{Shelf, Workspace};

/// Name and version of the JSON object.
pub const SCHEMA: &str = "porringer-shop/1";

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Dish and menu files, or folders of them.
    #[arg(value_name = "PATHS", required = true)]
    paths: Vec<PathBuf>,
    /// So many portions of each dish, and each menu for so many; default:
    /// each dish as it is written, each menu for one child.
    #[arg(long, value_name = "N")]
    portions: Option<String>,
    /// The same, said of children: one portion each.
    #[arg(long, value_name = "N", conflicts_with = "portions")]
    children: Option<String>,
    /// Ages whose portion counts for dishes, such as "9 to 11 months";
    /// default: the largest portion of each dish.
    #[arg(long, value_name = "AGES")]
    age: Option<String>,
    /// The day from which the age of prices counts; default: today, or the day
    /// that SOURCE_DATE_EPOCH names.
    #[arg(long, value_name = "YYYY-MM-DD")]
    from_date: Option<String>,
    /// How the list is printed.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
    /// A further composition table, as for `check`.
    #[arg(long, value_name = "FILE.csv")]
    foods: Vec<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// For a person, by section of the shop.
    Human,
    /// One object, unrounded.
    Json,
    /// One row a food, unrounded.
    Csv,
}

/// One dish or menu of the list.
struct Entry {
    title: String,
    file: String,
    /// Times the recipe, or children at the menu.
    times: f64,
    menu: bool,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let (option, text) = match (&arguments.portions, &arguments.children) {
        (Some(text), _) => ("--portions", Some(text)),
        (None, children) => ("--children", children.as_ref()),
    };
    let many = text.map(|text| count(option, text)).transpose()?;
    let months = arguments.age.as_deref().map(ages).transpose()?;
    let stated = match &arguments.from_date {
        Some(text) => Some(
            date(text)
                .ok_or_else(|| Failure(format!("`--from-date {text}`: write year, month and day: `2026-05-01`")))?,
        ),
        None => None,
    };
    let input = Input { paths: arguments.paths.clone(), foods: arguments.foods.clone() };
    let mut workspace = gather::workspace(&input)?;
    let prices = workspace.prices();
    let today = workspace.reference.practice.today;
    let day = stated.or(today).unwrap_or_else(|| time::OffsetDateTime::now_utc().date());
    let paths = gather::files(&input, &workspace)?;
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    let checked: Vec<Checked> = paths.iter().map(|path| gather::one(path, &workspace, &shelf)).collect();
    // A day that is short of something can be shopped for; a list that lacks a
    // dish would look whole.
    let stops = |message: &Diagnostic| message.severity == Severity::Error && message.code.family() != "menu";
    if checked.iter().any(|file| file.diagnostics.iter().any(stops)) {
        let (text, count) = gather::report(&workspace, &checked, Messages::Human, false);
        say(&text);
        complain(&format!("no list is made: {}", count.words()));
        return Ok(ERRORS);
    }
    if !checked.iter().any(|file| matches!(file.document, Document::Dish(_) | Document::Menu(_))) {
        return Err(Failure("there is no dish and no menu among these files".to_owned()));
    }
    let mut others = Others { shelf: &shelf, workspace: &workspace, found: BTreeMap::new() };
    for file in &checked {
        match &file.document {
            Document::Dish(_) => file.dish.iter().for_each(|dish| others.load_taken(dish)),
            Document::Menu(menu) => {
                for item in menu.meals.iter().flat_map(|meal| &meal.items).flat_map(|item| item.options.first()) {
                    if let Some(name) = others.dish_name(item) {
                        others.load(&name);
                    }
                }
            }
            Document::Booklet(_) => {}
        }
    }
    let mut basket = Basket::default();
    let mut entries = Vec::new();
    for file in &checked {
        match (&file.document, &file.dish) {
            (Document::Dish(_), Some(dish)) => {
                let factor = match many {
                    None => 1.0,
                    Some(many) => {
                        let (resolved, computed) = (&dish.resolved, &dish.computed);
                        chosen_portion(resolved, computed, &workspace.reference, months)
                            .and_then(|at| portion_share(resolved, computed, &workspace.reference, at))
                            .map(|(share, _)| share.value() * many.value())
                            .ok_or_else(|| {
                                Failure(format!("{}: it has no portion of known size for these ages", file.source.name))
                            })?
                    }
                };
                let title = dish.resolved.title().to_owned();
                basket.add_dish(&dish.resolved, factor, &title, &|name| others.parts(name));
                entries.push(Entry { title, file: file.source.name.clone(), times: factor, menu: false });
            }
            (Document::Menu(menu), _) => {
                let children = many.map_or(1.0, Exact::value);
                let title = menu.header.title.as_ref().map(|title| title.value.clone()).unwrap_or_default();
                add_menu(&mut basket, menu, &title, children, &others);
                entries.push(Entry { title, file: file.source.name.clone(), times: children, menu: true });
            }
            _ => {}
        }
    }
    let list = List { basket: &basket, entries: &entries, prices: &prices, many, day };
    match arguments.format {
        Format::Human => say_plain(&list.human()),
        Format::Json => {
            let mut text = serde_json::to_string_pretty(&list.object()).unwrap_or_default();
            text.push('\n');
            say(&text);
        }
        Format::Csv => say(&list.csv()),
    }
    let (text, count) = gather::report(&workspace, &[], Messages::Short, false);
    for line in text.lines() {
        complain(line);
    }
    let booklets = checked.iter().filter(|file| matches!(file.document, Document::Booklet(_))).count();
    if booklets > 0 {
        complain("a booklet is no shopping list: name its dishes and menus");
    }
    if checked.iter().any(Checked::has_errors) {
        complain("a menu has faults of its own: see `porringer check`");
    }
    Ok(if count.errors > 0 || !basket.unknown.is_empty() { ERRORS } else { CLEAN })
}

/// Dishes that others and menus take, each checked once.
struct Others<'a> {
    shelf: &'a Shelf<'a>,
    workspace: &'a Workspace,
    found: BTreeMap<String, Checked>,
}

impl Others<'_> {
    /// The dish that a menu's item means, if it means one.
    fn dish_name(&self, item: &TakeOption) -> Option<String> {
        match &item.food.value {
            FoodName::Dish(name) => Some(name.clone()),
            FoodName::Name(name) => self.shelf.path_of(name).map(|_| name.clone()),
            FoodName::Row { .. } => None,
        }
    }

    fn load(&mut self, name: &str) {
        if self.found.contains_key(name) {
            return;
        }
        let Some(path) = self.shelf.path_of(name) else { return };
        let mut file = gather::one(path, self.workspace, self.shelf);
        let dish = file.dish.take();
        self.found.insert(name.to_owned(), file);
        if let Some(dish) = dish {
            self.load_taken(&dish);
            if let Some(file) = self.found.get_mut(name) {
                file.dish = Some(dish);
            }
        }
    }

    fn load_taken(&mut self, dish: &CheckedDish) {
        let taken: Vec<String> = dish
            .resolved
            .ingredients
            .iter()
            .filter_map(|ingredient| ingredient.first())
            .filter_map(|choice| match &choice.option.food.value {
                FoodName::Dish(name) => Some(name.clone()),
                _ => None,
            })
            .collect();
        for name in taken {
            self.load(&name);
        }
    }

    fn dish(&self, name: &str) -> Option<&CheckedDish> {
        self.found.get(name).filter(|file| !file.has_errors())?.dish.as_ref()
    }

    fn parts(&self, name: &str) -> Option<(&crate::resolve::Dish, &crate::compute::Computed)> {
        // Another dish answers to its id, which may not be its file's name.
        let by_id = || self.found.values().filter_map(|file| file.dish.as_ref()).find(|dish| dish.id == name);
        self.dish(name).or_else(by_id).map(|dish| (&dish.resolved, &dish.computed))
    }
}

fn add_menu(basket: &mut Basket, menu: &Menu, title: &str, children: f64, others: &Others<'_>) {
    let reference = &others.workspace.reference;
    let months = menu.header.ages.as_ref().map(|ages| (ages.value.from, ages.value.to.unwrap_or(u16::MAX)));
    for item in menu.meals.iter().flat_map(|meal| &meal.items) {
        let Some(first) = item.options.first() else { continue };
        // The first is bought; a dish in its place has a list of its own.
        let mut foods = Vec::new();
        for other in item.options.iter().skip(1) {
            match weighed(other, Some(&first.amount), others) {
                Some((food, grams)) if others.dish_name(first).is_none() => {
                    foods.push((food, other.amount.clone(), grams * children));
                }
                _ => basket.other.push((food::label(other).value, food::label(first).value, title.to_owned())),
            }
        }
        let Some(name) = others.dish_name(first) else {
            match weighed(first, None, others) {
                Some((food, grams)) => basket.add_food(&food, &first.amount, grams * children, &foods, title),
                None => basket.unknown.push((food::label(first).value, title.to_owned())),
            }
            continue;
        };
        let share = others.dish(&name).and_then(|dish| {
            let (resolved, computed) = (&dish.resolved, &dish.computed);
            let share = match (&first.weight, &first.amount) {
                (Some(weight), _) => {
                    let amount = Makes::Measured(weight.value, Measure::of(Unit::Gram));
                    makes_share(resolved, computed, reference, &amount)
                }
                (None, Amount::Measured { range, measure, .. }) => {
                    makes_share(resolved, computed, reference, &Makes::Measured(*range, *measure))
                }
                (None, Amount::Count { range, .. }) => {
                    makes_share(resolved, computed, reference, &Makes::Pieces(*range, String::new()))
                }
                // One portion at the menu's age.
                _ => chosen_portion(resolved, computed, reference, months)
                    .and_then(|at| portion_share(resolved, computed, reference, at)),
            };
            share.map(|(share, _)| (dish, share.value()))
        });
        match share {
            Some((dish, share)) => {
                basket.add_dish(&dish.resolved, share * children, title, &|name| others.parts(name));
            }
            None => basket.unknown.push((name, title.to_owned())),
        }
    }
}

/// A single food of a menu with its edible grams.
fn weighed(item: &TakeOption, amount: Option<&Amount>, others: &Others<'_>) -> Option<(Food, f64)> {
    let reference = &others.workspace.reference;
    if others.dish_name(item).is_some() {
        return None;
    }
    let view = others.shelf.seen_from("");
    let mut sink = Sink::new();
    let food = food::find(item, reference, &view as &dyn DishBook, &mut sink)?;
    let weight = grams::weigh(item, amount, &food, reference, &mut sink)?;
    Some((food, weight.grams))
}

struct List<'a> {
    basket: &'a Basket,
    entries: &'a [Entry],
    prices: &'a PriceList,
    many: Option<Exact>,
    day: Date,
}

/// `1.2 L`, `340 mL`
fn volume(ml: f64) -> String {
    if ml >= 1000.0 {
        format!("{} L", round_half_even(ml / 1000.0, 2))
    } else {
        format!("{} mL", round_half_even(ml, 0))
    }
}

fn money(amount: f64, currency: &str) -> String {
    format!("{:.2} {currency}", round_half_even(amount, 2))
}

/// Why a food has no cost.
#[derive(Clone, Copy, PartialEq, Eq)]
enum NoCost {
    NoPrice,
    /// The price's unit cannot be compared with the amount.
    Unit,
}

impl List<'_> {
    fn cost<'p>(&'p self, item: &Item) -> Result<(&'p Price, f64, Option<f64>), NoCost> {
        let price = item.price(self.prices).ok_or(NoCost::NoPrice)?;
        let (cost, lots) = item.cost(price).ok_or(NoCost::Unit)?;
        Ok((price, cost, lots))
    }

    /// What is to be carried home.
    fn amount(item: &Item) -> String {
        let mut text = match item.millilitres() {
            Some(ml) => volume(ml),
            None => weight(item.bought_g),
        };
        if !item.refuse_known {
            text = format!("≥ {text}");
        }
        if item.estimated { format!("≈ {text}") } else { text }
    }

    fn pieces(item: &Item) -> String {
        match item.pieces() {
            Some((count, Some(size))) => format!("{count} {size}"),
            Some((1, None)) => "1 piece".to_owned(),
            Some((count, None)) => format!("{count} pieces"),
            None => String::new(),
        }
    }

    fn cells(&self, item: &Item, lead: &str) -> Vec<String> {
        let cost = self.cost(item);
        let (cost, basis) = match (&cost, self.prices.prices.is_empty()) {
            (Ok((price, cost, lots)), _) => {
                let lots = match lots {
                    Some(lots) if price.whole => format!("{lots} × "),
                    _ => String::new(),
                };
                (money(*cost, &price.currency), format!("{lots}{} a {}", price.price, price.unit))
            }
            (Err(NoCost::NoPrice), false) => ("no price".to_owned(), String::new()),
            (Err(NoCost::Unit), false) => ("price by another unit".to_owned(), String::new()),
            (_, true) => (String::new(), String::new()),
        };
        vec![format!("{lead}{}", item.name), Self::amount(item), Self::pieces(item), cost, basis]
    }

    fn human(&self) -> String {
        let mut out = String::new();
        match self.many {
            Some(many) if many == Exact::whole(1) => out.push_str("To buy for 1 child\n"),
            Some(many) => {
                let _ = writeln!(out, "To buy for {} children", number_text(many));
            }
            None => out.push_str("To buy\n"),
        }
        for entry in self.entries {
            let times = if entry.menu {
                "one day each".to_owned()
            } else {
                match round_half_even(entry.times, 2) {
                    1.0 => "the recipe once".to_owned(),
                    times => format!("{times} times the recipe"),
                }
            };
            let _ = writeln!(out, "  {} ({}): {times}", entry.title, entry.file);
        }
        let mut rows: Vec<Vec<String>> = Vec::new();
        let mut heads: Vec<(usize, &'static str)> = Vec::new();
        let mut section = None;
        for item in self.basket.items() {
            if section != Some(item.section) {
                section = Some(item.section);
                heads.push((rows.len(), item.section.words()));
            }
            rows.push(self.cells(item, "  "));
            for instead in &item.instead {
                rows.push(self.cells(instead, "    or "));
            }
            if item.family_g > 0.0 {
                let all = item.family_g >= item.bought_g - 1e-9;
                let text = if all {
                    "    for the family".to_owned()
                } else {
                    format!("    of it for the family: {}", weight(item.family_g))
                };
                rows.push(vec![text]);
            }
        }
        let mut table = String::new();
        columns(&rows, &mut table);
        for (at, line) in table.lines().enumerate() {
            if let Some((_, words)) = heads.iter().find(|(head, _)| *head == at) {
                let _ = writeln!(out, "\n{words}");
            }
            let _ = writeln!(out, "{line}");
        }
        out.push('\n');
        if self.basket.items().iter().any(|item| !item.refuse_known) {
            out.push_str("≥ how much of it is refuse is not known\n");
        }
        if self.basket.items().iter().any(|item| item.estimated) {
            out.push_str("≈ the weight of a measure is an estimate\n");
        }
        for (what, title) in &self.basket.unknown {
            let _ = writeln!(out, "not on the list: {what} in {title}, whose weight is not known");
        }
        for (other, first, title) in &self.basket.other {
            let _ = writeln!(out, "or in {title}: {other} instead of {first}, which is on the list");
        }
        self.totals_text(&mut out);
        out
    }

    fn totals_text(&self, out: &mut String) {
        if self.prices.prices.is_empty() {
            out.push_str("no prices: name a list in `porringer.toml`: `prices = \"prices.csv\"`\n");
            return;
        }
        let sums = self.sums();
        let totals: Vec<String> = sums.totals.iter().map(|(currency, sum)| money(*sum, currency)).collect();
        if !totals.is_empty() {
            let _ = writeln!(out, "In all: {}", totals.join(" and "));
        }
        if !sums.missing.is_empty() {
            let _ = writeln!(out, "not in the sum, without a price: {}", sums.missing.join("; "));
        }
        if !sums.unit.is_empty() {
            let _ = writeln!(out, "not in the sum, priced by another unit: {}", sums.unit.join("; "));
        }
        for stale in sums.stale {
            let _ = writeln!(out, "warning: {stale}");
        }
    }

    /// Costs of the foods on the list; what may be bought instead is not
    /// counted twice.
    fn sums(&self) -> Sums {
        let mut sums = Sums::default();
        for item in self.basket.items() {
            match self.cost(item) {
                Ok((price, cost, _)) => *sums.totals.entry(price.currency.clone()).or_default() += cost,
                Err(NoCost::NoPrice) => sums.missing.push(item.name.clone()),
                Err(NoCost::Unit) => sums.unit.push(item.name.clone()),
            }
            for one in std::iter::once(item).chain(&item.instead) {
                let Ok((price, _, _)) = self.cost(one) else { continue };
                if price.is_stale(self.day) {
                    let text = match price.date {
                        Some(date) => format!("the price of {} is of {date}, over twelve months old", one.name),
                        None => format!("the price of {} has no date", one.name),
                    };
                    sums.stale.insert(text);
                }
            }
        }
        sums
    }

    fn item_object(&self, item: &Item) -> Value {
        let cost = self.cost(item).ok();
        json!({
            "food": item.name,
            "key": item.key,
            "row": item.row_id,
            "section": item.section.words(),
            "edible_g": item.edible_g,
            "bought_g": item.bought_g,
            "ml": item.millilitres(),
            "pieces": item.pieces().map(|(count, _)| count),
            "size": item.pieces().and_then(|(_, size)| size),
            "refuse_known": item.refuse_known,
            "estimated": item.estimated,
            "family_g": item.family_g,
            "used_in": item.used_in,
            "price": cost.map(|(price, _, _)| json!({
                "price": price.price,
                "unit": price.unit,
                "currency": price.currency,
                "date": price.date.map(|date| date.to_string()),
                "place": price.place,
                "stale": price.is_stale(self.day),
            })),
            "cost": cost.map(|(_, cost, _)| cost),
            "lots": cost.and_then(|(_, _, lots)| lots),
        })
    }

    fn object(&self) -> Value {
        let sums = self.sums();
        json!({
            "schema": SCHEMA,
            "from_date": self.day.to_string(),
            "for": self.many.map(Exact::value),
            "of": self.entries.iter().map(|entry| json!({
                "title": entry.title,
                "file": entry.file,
                "kind": if entry.menu { "menu" } else { "dish" },
                "times": entry.times,
            })).collect::<Vec<_>>(),
            "items": self.basket.items().iter().map(|item| {
                let mut object = self.item_object(item);
                if let Some(fields) = object.as_object_mut() {
                    let instead = item.instead.iter().map(|one| self.item_object(one)).collect();
                    fields.insert("instead".to_owned(), Value::Array(instead));
                }
                object
            }).collect::<Vec<_>>(),
            "totals": sums.totals,
            "without_price": sums.missing,
            "priced_by_another_unit": sums.unit,
            "warnings": sums.stale,
            "instead": self.basket.other.iter().map(|(other, first, title)| json!({ "what": other, "of": first, "in": title })).collect::<Vec<_>>(),
            "unknown": self.basket.unknown.iter().map(|(what, title)| json!({ "food": what, "in": title })).collect::<Vec<_>>(),
        })
    }

    fn csv(&self) -> String {
        let mut writer = csv::Writer::from_writer(Vec::new());
        let _ = writer.write_record([
            "section",
            "food",
            "instead_of",
            "bought_g",
            "ml",
            "pieces",
            "size",
            "family_g",
            "cost",
            "currency",
            "price",
            "unit",
            "date",
            "place",
            "used_in",
        ]);
        let figure = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
        for item in self.basket.items() {
            for one in std::iter::once(item).chain(&item.instead) {
                let cost = self.cost(one).ok();
                let text = |read: &dyn Fn(&Price) -> String| {
                    cost.map(|(price, _, _)| guarded(&read(price))).unwrap_or_default()
                };
                let _ = writer.write_record([
                    item.section.words().to_owned(),
                    guarded(&one.name),
                    if std::ptr::eq(one, item) { String::new() } else { guarded(&item.name) },
                    one.bought_g.to_string(),
                    figure(one.millilitres()),
                    one.pieces().map(|(count, _)| count.to_string()).unwrap_or_default(),
                    one.pieces().and_then(|(_, size)| size).unwrap_or_default().to_owned(),
                    one.family_g.to_string(),
                    figure(cost.map(|(_, cost, _)| cost)),
                    text(&|price| price.currency.clone()),
                    figure(cost.map(|(price, _, _)| price.price)),
                    text(&|price| price.unit.clone()),
                    text(&|price| price.date.map(|date| date.to_string()).unwrap_or_default()),
                    text(&|price| price.place.clone()),
                    guarded(&one.used_in.join("; ")),
                ]);
            }
        }
        writer.into_inner().map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default()
    }
}

#[derive(Default)]
struct Sums {
    totals: BTreeMap<String, f64>,
    missing: Vec<String>,
    unit: Vec<String>,
    stale: BTreeSet<String>,
}
