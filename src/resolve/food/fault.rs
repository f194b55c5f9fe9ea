//! What is said of a food that cannot be found, or not be told from others.

use std::sync::Arc;

use crate::ast::{Amount, TakeOption};
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::quantity::Unit;
use crate::quantity::unit::{NO_UNITS, SPELLINGS};
use crate::reference::larder::{FoodRow, normal_name};
use crate::reference::nutrient::NUTRIENTS;
use crate::reference::table::Table;
use crate::reference::{Reference, composition};
use crate::resolve::look_alike;
use crate::source::Span;

pub fn no_dish(name: &str, names: &[String], span: Span) -> Diagnostic {
    let message =
        Diagnostic::new(Code::FoodUnknown, span, format!("no dish of this workspace is called {}", quote(name)));
    match did_you_mean(name, names.iter().map(String::as_str)) {
        Some(near) => message.help(format!("did you mean `dish {near}`?")).fix(span, format!("dish {near}")),
        None => message.help("write the dish's `id`, or its file's name without `.dish`"),
    }
}

pub fn circle(names: &[String], span: Span) -> Diagnostic {
    Diagnostic::new(Code::MethodCycle, span, "this dish is made from itself")
        .help(format!("the circle is {}; take one of them out", names.join(" → ")))
}

pub fn broken(name: &str, span: Span) -> Diagnostic {
    Diagnostic::new(Code::FoodNoComposition, span, format!("the dish {} has errors of its own", quote(name)))
        .help(format!("mend `{name}` first"))
}

pub fn no_usda_row(id: &str, span: Span) -> Diagnostic {
    Diagnostic::new(Code::FoodNoComposition, span, format!("USDA SR28 has no food number {}", quote(id)))
        .help("find the number with `porringer foods NAME`")
}

pub fn no_table(table: &str, id: &str, reference: &Reference, span: Span) -> Diagnostic {
    let stems = reference.tables.iter().map(|table| table.stem.as_str()).chain(["usda"]);
    let message =
        Diagnostic::new(Code::FoodNoComposition, span, format!("no composition table is called {}", quote(table)));
    match did_you_mean(table, stems) {
        Some(near) => message.help(format!("did you mean `{near}:{id}`?")).fix(span, format!("{near}:{id}")),
        None => message.help("name the table's file with `--foods FILE.csv` or in `porringer.toml`"),
    }
}

pub fn not_in_table(table: &str, id: &str, found: &Table, span: Span) -> Diagnostic {
    let message =
        Diagnostic::new(Code::FoodNoComposition, span, format!("the table {} has no food {}", quote(table), quote(id)));
    match did_you_mean(id, found.rows.iter().map(|row| row.id.as_str())) {
        Some(near) => message.help(format!("did you mean `{table}:{near}`?")).fix(span, format!("{table}:{near}")),
        None => message,
    }
}

pub fn no_weight(bracket: &str, span: Span) -> Diagnostic {
    let inner = bracket.trim_matches(['(', ')']);
    Diagnostic::new(Code::SyntaxBadQuantity, span, format!("{} is no weight", quote(inner)))
        .help("brackets after a food hold its weight in grams: `(92 g)`")
}

pub fn row_of_no_table(name: &str, row: &FoodRow, span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::FoodNoComposition,
        span,
        format!("the row {} of {} is in no table", quote(&row.row), quote(name)),
    )
    .help("correct `row` in the larder file, or load the table that it names")
}

pub fn no_fill(name: &str, fill: &str, span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::FoodNoComposition,
        span,
        format!("{} that fills the gaps of {} is no USDA row", quote(fill), quote(name)),
    )
    .help("correct `fill` in the larder file: it names a row such as `usda:11457`")
}

/// A component that a larder row calls unknown by no tagname.
pub fn no_tag(name: &str, tag: &str, span: Span) -> Diagnostic {
    let message = Diagnostic::new(
        Code::FoodNoComposition,
        span,
        format!("{} is no INFOODS tagname: {} cannot call it unknown", quote(tag), quote(name)),
    );
    match did_you_mean(tag, NUTRIENTS.iter().map(|one| one.tag)) {
        Some(near) => message.help(format!("did you mean `{near}`? It stands in `unknown` of the larder file")),
        None => message.help("correct `unknown` in the larder file"),
    }
}

pub fn misspelt_state(word: &str, near: &str, span: Span) -> Diagnostic {
    Diagnostic::new(Code::FoodUnknown, span, format!("no state of food is called {}", quote(word)))
        .help(format!("did you mean `{near}`?"))
        .fix(span, near)
}

/// `written` is where the form stands, where it stands between commas.
pub fn no_such_form(name: &str, form: &str, rows: &[Arc<FoodRow>], written: Option<Span>, food: Span) -> Diagnostic {
    let span = written.unwrap_or(food);
    let mut message =
        Diagnostic::new(Code::FoodUnknown, span, format!("no figures for {} {}", quote(name), quote(form)))
            .help(format!("there is: {}", candidates(rows)));
    // Another state in its place means a food that there is.
    let mut states: Vec<&String> = rows.iter().filter_map(|row| row.states.first()).collect();
    states.dedup();
    for state in states.into_iter().filter(|_| written.is_some()) {
        message = message.choice(span, state.clone());
    }
    message
}

/// `several` of all rows of the name may be meant.
pub fn ambiguous(name: &str, several: &[Arc<FoodRow>], rows: &[Arc<FoodRow>], span: Span) -> Diagnostic {
    let mut message =
        Diagnostic::new(Code::FoodAmbiguous, span, format!("{} may be any of several foods", quote(name)))
            .help(format!("write one of: {}", candidates(several)));
    for row in several {
        message = message.choice(span, outright(row, rows));
    }
    message
}

/// What means one row alone: its name and state, else its composition row.
fn outright(row: &FoodRow, rows: &[Arc<FoodRow>]) -> String {
    let own = row.states.first().filter(|state| rows.iter().filter(|other| other.states.contains(state)).count() == 1);
    if own.is_some() { row.full_name() } else { row.row.clone() }
}

fn candidates(rows: &[Arc<FoodRow>]) -> String {
    rows.iter().map(|row| format!("`{}` ({})", row.full_name(), row.row)).collect::<Vec<_>>().join(", ")
}

pub fn unknown(name: &str, option: &TakeOption, reference: &Reference, sink: &mut Sink) {
    let span = option.food.span;
    // "2 glugs oil": the first word is a unit nobody knows.
    if let (Amount::Count { .. }, Some((first, rest))) = (&option.amount, name.split_once(' ')) {
        let rest = rest.strip_prefix("of ").unwrap_or(rest);
        // "1 sweet potato": a word that begins foods is no unit.
        let begins_foods = reference
            .larder
            .rows()
            .iter()
            .flat_map(|row| row.names())
            .any(|own| own.split(' ').next().is_some_and(|head| head.eq_ignore_ascii_case(first)));
        // "1 glass coconut milk", though there are glass noodles.
        let vessel = NO_UNITS.iter().any(|own| own.eq_ignore_ascii_case(first));
        // "6 quali eggs" is a slip in a food.
        let names = reference.larder.rows().iter().flat_map(|row| row.names());
        let near = if sink.is_crowded() { None } else { did_you_mean(name, names) };
        let slip = near.is_some_and(|near| strsim::osa_distance(&normal_name(name), &normal_name(near)) <= 2);
        if (vessel || !begins_foods) && !slip && !reference.larder.named(rest).is_empty() {
            let place = Span::new(span.start, span.start + first.len());
            // Weights are too short to be near to anything but by chance.
            let near = did_you_mean(first, SPELLINGS.iter().map(|(word, _)| *word).filter(|word| word.len() > 2))
                .filter(|near| Unit::from_word(near).is_some());
            let mut message = Diagnostic::new(Code::MeasureUnknownUnit, place, format!("{} is no unit", quote(first)));
            message = match near {
                Some(near) => message.help(format!("did you mean `{near}`?")).fix(place, near),
                None => {
                    message.help("units are mL, L, g, kg, tsp, tbsp, cup, pinch, handful, piece, slice and the like")
                }
            };
            sink.push(message);
            return;
        }
    }
    // A letter of another script, or a sign that is not seen, makes another word
    // of a name that looks right.
    if let Some((looks, odd)) = look_alike::plain(name).filter(|(looks, _)| !reference.larder.named(looks).is_empty()) {
        sink.push(
            Diagnostic::new(Code::FoodUnknown, span, format!("no food is called {}", quote(name)))
                .help(format!("{}: did you mean {}?", odd.words(), quote(&looks)))
                .fix(span, looks),
        );
        return;
    }
    let mut near = if sink.is_crowded() { Vec::new() } else { reference.larder.near(name, 4) };
    let mut exact = near.clone();
    if near.len() < 3 && !sink.is_crowded() && name.len() < 60 {
        let rows = composition::find(name, 3);
        exact.extend(rows.iter().map(|row| format!("usda:{}", row.ndb())));
        near.extend(rows.iter().map(|row| format!("usda:{} ({})", row.ndb(), row.name())));
    }
    let help = if near.is_empty() {
        "look for its name with `porringer foods WORD`, or name a row, such as `usda:11422`".to_owned()
    } else {
        format!("did you mean {}?", near.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", "))
    };
    let mut message = Diagnostic::new(Code::FoodUnknown, span, format!("no food is called {}", quote(name))).help(help);
    for text in exact {
        message = message.choice(span, text);
    }
    sink.push(message);
}
