//! The card's drawings as SVG within a page. They are drawn by the same lines
//! that are printed: the typesetter makes each once, and the pages repeat it by
//! reference.

use std::collections::BTreeMap;
use std::fmt::Write;

use minijinja::{Error, ErrorKind, HtmlEscape, Value};
use serde::Serialize;

use super::Face;
use crate::card::Drawn;
use crate::typeset::{Engine, Fault, Template};

/// Height of a drawing in its own units.
const UNITS: f64 = 24.0;
/// Between two measures side by side, and how many are drawn before a number
/// stands for them: as in print.
const BETWEEN: f64 = 2.4;
const MOST_DRAWN: i64 = 6;
/// Measures that are counted out; one jug or scale stands for any amount.
const COUNTED: [&str; 6] = ["cup", "tbsp", "tsp", "pinch", "handful", "piece"];

#[derive(Debug, Clone, PartialEq, Serialize)]
struct Level {
    kind: String,
    level: f64,
    heaped: bool,
}

impl Level {
    fn id(&self) -> String {
        let thousandth = (self.level * 1_000.0).round();
        format!("{}-{thousandth}{}", self.kind, if self.heaped { "-heaped" } else { "" })
    }
}

/// A measure as it is laid out: the drawings in their order, and the number
/// that stands beside the first where there are too many.
struct Plan {
    shown: Vec<Level>,
    times: Option<String>,
}

fn plan(kind: &str, whole: i64, fraction: f64, count_text: &str, heaped: bool) -> Plan {
    let level = |level: f64| Level { kind: kind.to_owned(), level, heaped: heaped && level >= 1.0 };
    if kind == "none" {
        return Plan { shown: Vec::new(), times: None };
    }
    if !COUNTED.contains(&kind) {
        return Plan { shown: vec![level(1.0)], times: None };
    }
    let many = whole > MOST_DRAWN;
    let wholes = if many { 1 } else { whole.max(0) };
    let mut shown: Vec<Level> = (0..wholes).map(|_| level(1.0)).collect();
    if fraction > 0.0 {
        shown.push(level(fraction));
    }
    Plan { shown, times: many.then(|| count_text.to_owned()) }
}

#[derive(Serialize)]
struct Wanted {
    processes: Vec<String>,
    measures: Vec<Level>,
}

#[derive(Debug)]
struct Part {
    width: f64,
    lines: String,
}

/// Every drawing of a set of pages, by its id.
#[derive(Debug)]
pub(super) struct Drawings {
    parts: BTreeMap<String, Part>,
}

impl Drawings {
    /// Draws what some pages show.
    pub(super) fn of<'a>(faces: impl Iterator<Item = Face<'a>>, engine: &Engine) -> Result<Self, Fault> {
        let mut wanted =
            Wanted { processes: ["caution", "clock", "evening"].map(str::to_owned).to_vec(), measures: Vec::new() };
        let process = |wanted: &mut Wanted, name: &str| {
            if !wanted.processes.iter().any(|own| own == name) {
                wanted.processes.push(name.to_owned());
            }
        };
        for face in faces {
            match face {
                Face::Dish(card) => {
                    card.method.steps.iter().for_each(|step| process(&mut wanted, step.process));
                    let sections = card.ingredients.sections.iter().chain(&card.ingredients.family);
                    let items = sections.flat_map(|section| &section.items).map(|item| &item.measure);
                    for drawn in items.chain(card.portions.items.iter().map(|portion| &portion.measure)) {
                        add(&mut wanted.measures, drawn);
                    }
                }
                Face::Menu(card) => {
                    card.work.iter().flat_map(|work| &work.lines).for_each(|line| process(&mut wanted, &line.drawing));
                    let items = card.eat.meals.iter().flat_map(|meal| &meal.items);
                    items.flat_map(|item| &item.amounts).for_each(|amount| add(&mut wanted.measures, &amount.measure));
                }
            }
        }
        let Some(template) = Template::built_in("web") else {
            return Err(Fault::Template("there are no drawings for pages".to_owned()));
        };
        let document = engine.document(&template, &wanted)?;
        let ids = wanted.processes.iter().map(|name| process_id(name)).chain(wanted.measures.iter().map(Level::id));
        let parts = ids
            .zip(document.pages())
            .map(|(id, page)| {
                let svg = typst_svg::svg(page, &typst_svg::SvgOptions::default());
                let part = Part { width: page.frame.width().to_pt(), lines: inside(&svg, &id) };
                (id, part)
            })
            .collect();
        Ok(Self { parts })
    }

    fn width(&self, id: &str) -> f64 {
        self.parts.get(id).map_or(UNITS, |part| part.width)
    }

    /// The drawings that a page refers to, to be put at its start.
    pub(super) fn sheet(&self, page: &str) -> String {
        let mut sheet = String::new();
        for (id, part) in &self.parts {
            if page.contains(&format!("href=\"#{id}\"")) {
                let _ = write!(
                    sheet,
                    "<symbol id=\"{id}\" viewBox=\"0 0 {} {UNITS}\">{}</symbol>",
                    short(part.width),
                    part.lines
                );
            }
        }
        sheet
    }

    /// A household measure drawn to its fill, with its words for those who do
    /// not see it.
    pub(super) fn measure(&self, drawn: &Value) -> Result<Value, Error> {
        let text = |name: &str| -> Result<String, Error> {
            Ok(drawn.get_attr(name)?.as_str().map(str::to_owned).unwrap_or_default())
        };
        let count = drawn.get_attr("count")?;
        let whole = i64::try_from(count.get_attr("whole")?)?;
        let fraction = f64::try_from(count.get_attr("fraction")?)?;
        let plan = plan(&text("kind")?, whole, fraction, &text("count_text")?, drawn.get_attr("heaped")?.is_true());
        if plan.shown.is_empty() {
            return Ok(Value::from_safe_string(String::new()));
        }
        let (mut x, mut inner) = (0.0, String::new());
        for (at, level) in plan.shown.iter().enumerate() {
            let id = level.id();
            let width = self.width(&id);
            let _ = write!(
                inner,
                "<use href=\"#{id}\" x=\"{}\" y=\"0\" width=\"{}\" height=\"{UNITS}\"/>",
                short(x),
                short(width)
            );
            x += width + BETWEEN;
            if let (0, Some(times)) = (at, &plan.times) {
                let wide = 9.0 * (times.chars().count() as f64 + 1.0);
                let _ = write!(
                    inner,
                    "<text x=\"{}\" y=\"18\" font-size=\"15\" font-weight=\"700\">×{}</text>",
                    short(x),
                    HtmlEscape(times)
                );
                x += wide + BETWEEN;
            }
        }
        let width = x - BETWEEN;
        Ok(Value::from_safe_string(format!(
            "<svg class=\"measure\" role=\"img\" viewBox=\"0 0 {0} {UNITS}\" width=\"{1}\" height=\"34\"><title>{2}</title>{inner}</svg>",
            short(width),
            short(width * 34.0 / UNITS),
            HtmlEscape(&super::page::clean(&text("alt")?))
        )))
    }

    /// What is done, drawn. The words beside it say the same.
    pub(super) fn process(&self, name: &str) -> Result<Value, Error> {
        let id = process_id(name);
        if !self.parts.contains_key(&id) {
            return Err(Error::new(ErrorKind::InvalidOperation, format!("there is no drawing `{name}`")));
        }
        Ok(Value::from_safe_string(format!(
            "<svg class=\"process\" aria-hidden=\"true\" focusable=\"false\" viewBox=\"0 0 {UNITS} {UNITS}\"><use href=\"#{id}\" width=\"{UNITS}\" height=\"{UNITS}\"/></svg>"
        )))
    }
}

fn process_id(name: &str) -> String {
    format!("do-{name}")
}

fn add(levels: &mut Vec<Level>, drawn: &Drawn) {
    for level in plan(drawn.kind, drawn.count.whole, drawn.count.fraction, "", drawn.heaped).shown {
        if !levels.contains(&level) {
            levels.push(level);
        }
    }
}

/// What stands in an SVG, in the colour of the text about it. Its names are
/// made its own, since many drawings share a page.
fn inside(svg: &str, id: &str) -> String {
    let start = svg.find('>').map_or(0, |at| at + 1);
    let end = svg.rfind("</svg>").unwrap_or(svg.len());
    svg.get(start..end)
        .unwrap_or_default()
        .replace(" id=\"", &format!(" id=\"{id}-"))
        .replace("url(#", &format!("url(#{id}-"))
        .replace("href=\"#", &format!("href=\"#{id}-"))
        .replace("#000000", "currentColor")
}

/// A length with at most two decimals.
fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Length of a bar's line in its own units; the rest is room for an arrow.
const LINE: f64 = 100.0;

/// A bar: the line is a day's need, filled to the share; what goes beyond runs
/// past the end mark. The number beside it says the same.
pub(super) fn bar(cell: &Value) -> Result<Value, Error> {
    let share = cell.get_attr("share")?;
    if share.is_none() {
        return Ok(Value::from_safe_string(String::new()));
    }
    let share = f64::try_from(share)?;
    let limit = cell.get_attr("limit").is_ok_and(|limit| limit.is_true());
    let fill = LINE * share.clamp(0.0, 1.0);
    let mut inner = format!("<path class=\"need\" d=\"M0 7H{LINE}\"/>");
    if share >= 0.005 {
        let _ = if limit {
            write!(
                inner,
                "<rect class=\"most\" x=\"0.75\" y=\"3.75\" width=\"{}\" height=\"6.5\"/>",
                short((fill - 1.5).max(0.5))
            )
        } else {
            write!(inner, "<rect class=\"fill\" x=\"0\" y=\"3\" width=\"{}\" height=\"8\"/>", short(fill))
        };
    }
    inner.push_str(if limit {
        "<path class=\"stop\" d=\"M100 0V14\"/>"
    } else {
        "<path class=\"mark\" d=\"M100 1V13\"/>"
    });
    if share > 1.0 {
        inner.push_str("<path class=\"past\" d=\"M103 3L110 7L103 11Z\"/>");
    }
    Ok(Value::from_safe_string(format!(
        "<svg class=\"bar\" aria-hidden=\"true\" focusable=\"false\" viewBox=\"0 0 112 14\">{inner}</svg>"
    )))
}

/// A row of months, the suited ones filled.
pub(super) fn months(ages: &Value, dir: &str) -> Result<Value, Error> {
    const WIDE: usize = 20;
    let all: Vec<Value> = ages.get_attr("months")?.try_iter()?.collect();
    let mut inner = String::new();
    for (at, month) in all.iter().enumerate() {
        let at = if dir == "rtl" { all.len() - 1 - at } else { at };
        let on = month.get_attr("on")?.is_true();
        let x = at * WIDE;
        let _ = write!(
            inner,
            "<g class=\"{}\"><rect x=\"{}\" y=\"1\" width=\"{WIDE}\" height=\"22\"/><text x=\"{}\" y=\"16.5\" text-anchor=\"middle\">{}</text></g>",
            if on { "on" } else { "off" },
            x + 1,
            x + 1 + WIDE / 2,
            HtmlEscape(&month.get_attr("text")?.to_string())
        );
    }
    let said = |name: &str| -> Result<String, Error> {
        Ok(ages.get_attr(name)?.as_str().map(super::page::clean).unwrap_or_default())
    };
    Ok(Value::from_safe_string(format!(
        "<svg class=\"months\" role=\"img\" viewBox=\"0 0 {} 24\"><title>{}</title><desc>{}</desc>{inner}</svg>",
        all.len() * WIDE + 2,
        HtmlEscape(&said("text")?),
        HtmlEscape(&said("alt")?)
    )))
}

/// The hours of a day as a line: who eats when, and when somebody cooks.
pub(super) fn day(strip: &Value, dir: &str) -> Result<Value, Error> {
    const WIDE: f64 = 340.0;
    const EDGE: f64 = 12.0;
    let number = |value: &Value, name: &str| -> Result<f64, Error> { f64::try_from(value.get_attr(name)?) };
    let (from, to) = (number(strip, "from")?, number(strip, "to")?);
    let span = (to - from).max(1.0);
    let place = |hour: f64| {
        let along = ((hour - from) / span).clamp(0.0, 1.0);
        EDGE + (WIDE - 2.0 * EDGE) * if dir == "rtl" { 1.0 - along } else { along }
    };
    let mut inner = format!("<path class=\"hours\" d=\"M{EDGE} 24H{}\"/>", WIDE - EDGE);
    for mark in strip.get_attr("marks")?.try_iter()? {
        let x = short(place(number(&mark, "at")?));
        let _ = write!(
            inner,
            "<path class=\"tick\" d=\"M{x} 21V27\"/><text x=\"{x}\" y=\"42\" text-anchor=\"middle\">{}</text>",
            HtmlEscape(&mark.get_attr("text")?.to_string())
        );
    }
    for work in strip.get_attr("work")?.try_iter()? {
        let (a, b) = (place(number(&work, "from")?), place(number(&work, "to")?));
        let (left, right) = (a.min(b), a.max(b));
        let _ = write!(
            inner,
            "<rect class=\"cooks\" x=\"{}\" y=\"20\" width=\"{}\" height=\"8\"/>",
            short(left),
            short((right - left).max(2.0))
        );
    }
    for meal in strip.get_attr("meals")?.try_iter()? {
        let x = short(place(number(&meal, "at")?));
        let snack = meal.get_attr("snack")?.is_true();
        let _ = write!(
            inner,
            "<circle class=\"{}\" cx=\"{x}\" cy=\"10\" r=\"{}\"/>",
            if snack { "snack" } else { "meal" },
            if snack { "4" } else { "7" }
        );
    }
    let alt = strip.get_attr("alt")?.as_str().map(super::page::clean).unwrap_or_default();
    Ok(Value::from_safe_string(format!(
        "<svg class=\"day\" role=\"img\" viewBox=\"0 0 {WIDE} 46\"><title>{}</title>{inner}</svg>",
        HtmlEscape(&alt)
    )))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    #[test]
    fn measures_are_counted_out_as_in_print() {
        let levels = |plan: Plan| plan.shown.iter().map(|level| level.level).collect::<Vec<_>>();
        assert_eq!(levels(plan("tbsp", 3, 0.5, "3½", false)), [1.0, 1.0, 1.0, 0.5]);
        assert_eq!(levels(plan("cup", 0, 0.25, "¼", false)), [0.25]);
        assert_eq!(levels(plan("scale", 1, 0.0, "1", false)), [1.0]);
        assert!(plan("none", 0, 0.0, "", false).shown.is_empty());
        let many = plan("tsp", 8, 0.5, "8½", true);
        assert_eq!(many.times.as_deref(), Some("8½"));
        // A spoon that is half full is not heaped.
        assert_eq!(many.shown.iter().map(|level| level.heaped).collect::<Vec<_>>(), [true, false]);
    }
}
