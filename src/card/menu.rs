//! The menu card as plain data: a day for the caregiver on the front, its sums
//! for the health worker on the back.

mod back;

use serde::Serialize;

pub use back::MenuBack;

use super::{Ages, Drawn, Imprint, Locale, Month, RemarkText, locale, words};
use crate::ast::{Amount, FoodName, RemarkKind};
use crate::check::CheckedMenu;
use crate::compute::day::timeline::{Event, EventFood, EventKind};
use crate::diagnostic::Changed;
use crate::reference::Reference;
use crate::reference::profile::data::AgeBand;
use crate::resolve::food::label;
use crate::resolve::menu::{Choice, Item, Meal, Serving, What};

/// Name and version of the menu card's data.
pub const SCHEMA: &str = "porringer-menu-card/1";

#[derive(Debug, Clone, Serialize)]
pub struct MenuCard {
    pub schema: &'static str,
    pub lang: String,
    pub dir: &'static str,
    /// What parts a label from its text.
    pub colon: String,
    /// What parts words in a row.
    pub comma: String,
    pub paper: String,
    /// Families of type, in the order in which they are asked for a sign.
    pub fonts: Vec<String>,
    /// Spacing: 0 generous to 3 tight.
    pub fit: u8,
    pub id: String,
    pub title: String,
    pub programme: Option<String>,
    pub footer: Option<String>,
    pub ages: Ages,
    /// Whether the child is breastfed, in words.
    pub feeding: String,
    pub strip: Strip,
    pub eat: Eat,
    /// `None` where nothing has to be cooked.
    pub work: Option<Work>,
    pub remarks: Vec<RemarkText>,
    pub standing: Vec<String>,
    pub back: MenuBack,
    /// What the workspace changed of the rules that met this menu.
    pub changed_rules: Vec<Changed>,
    /// Its place, where the card stands in a booklet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub folio: Option<super::booklet::Folio>,
}

/// The hours of the day as a line.
#[derive(Debug, Clone, Serialize)]
pub struct Strip {
    pub alt: String,
    /// First and last hour that is drawn, hours after midnight.
    pub from: f64,
    pub to: f64,
    pub marks: Vec<Mark>,
    pub meals: Vec<MealMark>,
    /// When somebody cooks.
    pub work: Vec<Span>,
    /// Something is begun the day before.
    pub evening: bool,
}

#[derive(Debug, Clone, Serialize)]
pub struct Mark {
    pub at: f64,
    pub text: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct MealMark {
    pub at: f64,
    pub snack: bool,
}

#[derive(Debug, Clone, Serialize)]
pub struct Span {
    pub from: f64,
    pub to: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct Eat {
    pub label: String,
    pub meals: Vec<MealText>,
    /// How the child is breastfed beside it.
    pub milk: Option<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct MealText {
    pub time: String,
    pub name: String,
    pub snack: bool,
    pub items: Vec<ItemText>,
}

#[derive(Debug, Clone, Serialize)]
pub struct ItemText {
    pub food: String,
    /// The food is a dish with a card of its own.
    pub dish: bool,
    pub amounts: Vec<AmountText>,
    pub alternatives: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct AmountText {
    /// Ages, where they get different amounts.
    pub age: Option<String>,
    pub text: String,
    pub grams: String,
    pub estimated: bool,
    pub measure: Drawn,
}

#[derive(Debug, Clone, Serialize)]
pub struct Work {
    pub label: String,
    pub lines: Vec<WorkLine>,
}

#[derive(Debug, Clone, Serialize)]
pub struct WorkLine {
    pub when: String,
    pub text: String,
    /// Name of a drawing.
    pub drawing: String,
    /// It is done the day before.
    pub before: bool,
}

/// Everything a menu card is made of.
pub struct MenuMaker<'a> {
    pub menu: &'a CheckedMenu,
    pub reference: &'a Reference,
    pub locale: &'a Locale,
    /// Language of the author's prose.
    pub own_language: &'a str,
    pub imprint: &'a Imprint,
    /// The workspace's changes of rules, for the data and the back.
    pub changed: &'a [Changed],
}

/// Makes the card of a menu in one language.
pub fn make(maker: &MenuMaker<'_>) -> MenuCard {
    let locale = maker.locale;
    let header = &maker.menu.resolved.ast.header;
    let guidance = if maker.menu.resolved.breastfed { "standing-guidance" } else { "standing-guidance-not-breastfed" };
    MenuCard {
        schema: SCHEMA,
        lang: locale.tag().to_owned(),
        dir: locale.direction(),
        colon: locale.word("colon"),
        comma: locale.word("comma"),
        paper: maker.imprint.paper.clone(),
        fonts: maker.imprint.families(),
        fit: 0,
        id: maker.menu.id.clone(),
        title: header.title.as_ref().map(|title| maker.text(title)).unwrap_or_default(),
        programme: maker.imprint.programme.clone(),
        footer: maker.imprint.footer(maker.locale),
        ages: maker.ages(),
        feeding: locale.word(if maker.menu.resolved.breastfed { "menu-breastfed" } else { "menu-not-breastfed" }),
        strip: maker.strip(),
        eat: maker.eat(),
        work: maker.work(),
        remarks: maker.remarks(),
        standing: vec![locale.word(guidance), locale.word("standing-help")],
        back: maker.back(),
        changed_rules: maker.changed.to_vec(),
        folio: None,
    }
}

fn meal_key(name: &str) -> String {
    format!("meal-{}", name.to_lowercase().replace(' ', "-"))
}

/// Whether the catalogues have a word for a meal's name, as for `breakfast`.
pub fn knows_meal(name: &str) -> bool {
    let key = meal_key(name);
    let mut lines = locale::catalogue("en").unwrap_or_default().lines();
    lines.any(|line| line.split_once(" =").is_some_and(|(own, _)| own == key))
}

impl MenuMaker<'_> {
    fn is_own(&self) -> bool {
        self.own_language.eq_ignore_ascii_case(self.locale.tag())
    }

    fn text(&self, text: &crate::ast::Text) -> String {
        if self.is_own() {
            return text.value.clone();
        }
        text.in_language(self.locale.tag()).unwrap_or(&text.value).to_owned()
    }

    fn months(&self, from: u16, to: u16) -> String {
        let number = |months: u16| self.locale.integer(i64::from(months));
        if from == to {
            self.locale.with("ages-one", &[("from", number(from))])
        } else {
            self.locale.with("ages-range", &[("from", number(from)), ("to", number(to))])
        }
    }

    fn band_label(&self, band: &AgeBand) -> String {
        let (from, to) = self.menu.resolved.months;
        self.months(band.from_months.max(from), band.to_months.min(to))
    }

    fn ages(&self) -> Ages {
        let (from, to) = self.menu.resolved.months;
        let text = self.months(from, to);
        let bands = self.reference.profile.bands();
        let first = bands.first().map_or(6, |band| band.from_months);
        let last = bands.last().map_or(23, |band| band.to_months);
        Ages {
            label: self.locale.word("ages-label"),
            alt: self.locale.with("menu-ages-alt", &[("text", text.clone())]),
            text,
            months: (first..=last)
                .map(|month| Month {
                    month,
                    text: self.locale.integer(i64::from(month)),
                    on: (from..=to).contains(&month),
                })
                .collect(),
        }
    }

    /// A time as it is said: Swahili counts the hours from sunrise and sunset.
    fn clock(&self, at: f64) -> String {
        let minutes = (at.round() as i64).rem_euclid(24 * 60);
        let (hour, minute) = (minutes / 60, minutes % 60);
        let part = match hour {
            4..=11 => "clock-morning",
            12..=15 => "clock-noon",
            16..=18 => "clock-evening",
            _ => "clock-night",
        };
        self.locale
            .with(
                "clock",
                &[
                    ("hour", self.locale.integer(hour)),
                    ("swahili", self.locale.integer(swahili_hour(hour))),
                    ("minute", self.locale.two_digits(minute)),
                    ("part", self.locale.word(part)),
                ],
            )
            .replace(' ', "\u{A0}")
    }

    /// The same with the day it is on.
    fn when(&self, at: f64) -> String {
        let days = (at.round() as i64).div_euclid(24 * 60);
        match days {
            0 => self.clock(at),
            -1 => self.locale.with("menu-day-before", &[("time", self.clock(at))]),
            more => {
                self.locale.with("menu-days-before", &[("n", self.locale.integer(-more)), ("time", self.clock(at))])
            }
        }
    }

    fn strip(&self) -> Strip {
        let day = &self.menu.day;
        let meals = &self.menu.resolved.meals;
        let work: Vec<Span> = day
            .timeline
            .iter()
            .filter(|event| matches!(event.kind, EventKind::Cook { .. }))
            .map(|event| Span { from: event.at / 60.0, to: (event.at + event.minutes.1) / 60.0 })
            .filter(|span| span.from >= 0.0)
            .collect();
        let earliest = meals
            .iter()
            .map(|meal| f64::from(meal.at) / 60.0)
            .chain(work.iter().map(|span| span.from))
            .fold(6.0_f64, f64::min)
            .floor();
        let latest = meals.iter().map(|meal| f64::from(meal.at) / 60.0).fold(19.0_f64, f64::max).floor() + 1.0;
        let marks = (earliest as i64..=latest as i64)
            .filter(|hour| hour % 2 == 0)
            .map(|hour| Mark {
                at: hour as f64,
                text: self.locale.with(
                    "clock-hour",
                    &[("hour", self.locale.integer(hour)), ("swahili", self.locale.integer(swahili_hour(hour)))],
                ),
            })
            .collect();
        let times: Vec<String> = meals.iter().map(|meal| self.clock(f64::from(meal.at))).collect();
        Strip {
            alt: self.locale.with("menu-strip-alt", &[("times", self.locale.list(&times))]),
            from: earliest,
            to: latest,
            marks,
            meals: meals.iter().map(|meal| MealMark { at: f64::from(meal.at) / 60.0, snack: meal.snack }).collect(),
            work,
            evening: day.timeline.iter().any(|event| event.at < 0.0),
        }
    }

    fn meal_name(&self, meal: &Meal) -> String {
        let plain = if meal.snack { "snack" } else { "meal" };
        let Some(name) = &meal.name else { return self.locale.word(&format!("meal-{plain}")) };
        // The author's own word in the card's language goes before ours.
        if let Some(own) = name.in_language(self.locale.tag()) {
            return words::capital(own);
        }
        let key = meal_key(&name.value);
        if self.locale.has(&key) { self.locale.word(&key) } else { words::capital(&name.value) }
    }

    fn eat(&self) -> Eat {
        let mut meals: Vec<&Meal> = self.menu.resolved.meals.iter().collect();
        meals.sort_by_key(|meal| meal.at);
        Eat {
            label: self.locale.word("menu-eat-label"),
            meals: meals
                .into_iter()
                .map(|meal| MealText {
                    time: self.clock(f64::from(meal.at)),
                    name: self.meal_name(meal),
                    snack: meal.snack,
                    items: meal.items.iter().map(|item| self.item(item)).collect(),
                })
                .collect(),
            milk: self.menu.resolved.breastfed.then(|| self.locale.word("menu-breast-milk")),
        }
    }

    fn item(&self, item: &Item) -> ItemText {
        let first = item.options.first();
        ItemText {
            food: first.map(|choice| words::capital(&self.food(choice))).unwrap_or_default(),
            dish: first.is_some_and(|choice| matches!(choice.what, What::Dish(_))),
            amounts: first.map(|choice| self.amounts(choice)).unwrap_or_default(),
            alternatives: item
                .options
                .iter()
                .skip(1)
                .map(|choice| {
                    let food = self.food(choice);
                    let dish = matches!(choice.what, What::Dish(_));
                    let food = if dish { self.locale.title_in_line(&food) } else { food };
                    let amount = self.amounts(choice).into_iter().next().map(|amount| amount.text).unwrap_or_default();
                    let what = if amount.is_empty() {
                        food
                    } else {
                        self.locale.with("amount-of-food", &[("amount", amount), ("food", food)])
                    };
                    self.locale.with("or", &[("what", what)])
                })
                .collect(),
        }
    }

    fn amounts(&self, choice: &Choice) -> Vec<AmountText> {
        let texts: Vec<AmountText> = choice.servings.iter().map(|serving| self.amount(choice, serving)).collect();
        let same = texts.windows(2).all(|pair| match pair {
            [a, b] => a.text == b.text && a.grams == b.grams,
            _ => true,
        });
        if same {
            return texts.into_iter().take(1).collect();
        }
        let bands = self.menu.resolved.bands.iter().filter_map(|at| self.reference.profile.bands().get(*at));
        texts
            .into_iter()
            .zip(bands)
            .map(|(text, band)| AmountText { age: Some(self.band_label(band)), ..text })
            .collect()
    }

    fn amount(&self, choice: &Choice, serving: &Serving) -> AmountText {
        let locale = self.locale;
        let count = matches!(choice.option.amount, Amount::Count { .. });
        let (text, measure) = match &serving.amount {
            // A count of the food itself needs no word for a piece.
            _ if count => (words::amount(&choice.option.amount, locale), words::drawn(&choice.option.amount, locale)),
            Some(makes) => (words::makes(makes, locale), words::drawn_makes(makes, locale)),
            None => (String::new(), words::drawn(&Amount::Missing, locale)),
        };
        let grams = serving.grams.map(|grams| locale.grams(grams)).unwrap_or_default();
        let weighed = words::is_weight(&choice.option.amount);
        AmountText {
            age: None,
            text: if text.is_empty() { grams.clone() } else { text.clone() },
            grams: if weighed || text.is_empty() { String::new() } else { grams },
            estimated: serving.estimated,
            measure,
        }
    }

    /// The printed name: a dish's title, the author's own word, else the
    /// larder's.
    fn food(&self, choice: &Choice) -> String {
        let tag = self.locale.tag();
        let mut name = match &choice.what {
            What::Dish(dish) => return dish.title_in(tag).to_owned(),
            What::Food(_) if self.is_own() && matches!(choice.option.food.value, FoodName::Name(_)) => {
                label(&choice.option).value
            }
            What::Food(food) => match &food.larder {
                Some(row) => self.locale.food(row),
                None => food.row_name(),
            },
            What::Nothing => label(&choice.option).value,
        };
        for state in &choice.option.states {
            name.push_str(&format!("{} ", self.locale.word("comma")));
            name.push_str(&self.locale.state(&state.value, self.is_own()));
        }
        name
    }

    fn work(&self) -> Option<Work> {
        let lines: Vec<WorkLine> = self
            .menu
            .day
            .timeline
            .iter()
            .filter(|event| !matches!(event.kind, EventKind::Eat { .. }))
            .map(|event| WorkLine {
                when: self.when(event.at),
                text: self.work_text(event),
                drawing: match &event.kind {
                    EventKind::Wait { process, .. } | EventKind::Pot { process, .. } => {
                        crate::reference::process::Process::from_word(process)
                            .map_or("clock", |process| process.drawing)
                            .to_owned()
                    }
                    _ => "clock".to_owned(),
                },
                before: event.at < 0.0,
            })
            .collect();
        (!lines.is_empty()).then(|| Work { label: self.locale.word("menu-work-label"), lines })
    }

    fn work_text(&self, event: &Event) -> String {
        let locale = self.locale;
        let mut meals: Vec<String> = Vec::new();
        for meal in event.meals.iter().filter_map(|at| self.menu.resolved.meals.get(*at)) {
            let name = self.meal_name(meal).to_lowercase();
            if !meals.contains(&name) {
                meals.push(name);
            }
        }
        let meals = locale.list(&meals);
        let time = locale.minutes(event.minutes);
        let same = (event.minutes.1 - event.hands_on.1).abs() < 1.0;
        match &event.kind {
            EventKind::Wait { process, foods } => {
                let what = locale.with(&format!("do-{process}"), &[("what", self.foods(foods))]);
                locale.with("menu-work-wait", &[("what", what), ("time", time), ("meals", meals)])
            }
            EventKind::Pot { process, foods } => {
                let what = locale.with(&format!("do-{process}"), &[("what", self.foods(foods))]);
                locale.with("menu-work-pot", &[("what", what), ("time", time), ("meals", meals)])
            }
            EventKind::Cook { dish } => {
                let title = self.dish_title(dish);
                if same || event.hands_on.1 < 1.0 {
                    locale.with("menu-work-cook", &[("dish", title), ("time", time), ("meals", meals)])
                } else {
                    let work = locale.minutes(event.hands_on);
                    locale.with(
                        "menu-work-cook-hands",
                        &[("dish", title), ("time", time), ("work", work), ("meals", meals)],
                    )
                }
            }
            EventKind::Eat { .. } => String::new(),
        }
    }

    fn foods(&self, foods: &[EventFood]) -> String {
        let base = self.locale.tag().split('-').next().unwrap_or_default().to_owned();
        let names: Vec<String> = foods
            .iter()
            .map(|food| {
                let name = food.printed.get(&base).unwrap_or(&food.name).replace('\'', "’");
                let name = if food.row.starts_with("dish ") { self.locale.title_in_line(&name) } else { name };
                let name = self.locale.definite(&name);
                format!("{name} ({})", self.locale.grams(food.grams))
            })
            .collect();
        self.locale.list(&names)
    }

    fn dish_title(&self, id: &str) -> String {
        self.menu
            .resolved
            .items()
            .flat_map(|(_, _, item)| &item.options)
            .find_map(|choice| match &choice.what {
                What::Dish(dish) if dish.id == id => Some(dish.title_in(self.locale.tag()).to_owned()),
                _ => None,
            })
            .unwrap_or_else(|| id.to_owned())
    }

    fn remarks(&self) -> Vec<RemarkText> {
        self.menu
            .resolved
            .ast
            .header
            .remarks
            .iter()
            .filter(|remark| remark.kind != RemarkKind::Note)
            .map(|remark| RemarkText {
                kind: remark.kind.word(),
                label: self.locale.word(&format!("{}-label", remark.kind.word())),
                text: self.text(&remark.text),
            })
            .collect()
    }
}

/// Seven in the morning is the first hour of the day.
fn swahili_hour(hour: i64) -> i64 {
    match (hour + 6).rem_euclid(12) {
        0 => 12,
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn swahili_hours_count_from_sunrise_and_sunset() {
        // saa moja asubuhi, saa sita mchana, saa kumi na mbili jioni, saa tatu usiku
        assert_eq!([7, 12, 18, 21].map(swahili_hour), [1, 6, 12, 3]);
    }
}
