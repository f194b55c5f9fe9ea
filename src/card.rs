//! The card as plain data: what a template, JSON and a booklet may see, in
//! one language, every number already written out.

pub mod booklet;
pub mod demonstration;
pub mod locale;
pub mod menu;
pub mod panel;
pub mod steps;
pub mod texts;
pub mod words;

use schemars::JsonSchema;
use serde::Serialize;

use crate::ast::{Amount, FoodName, Makes, RemarkKind};
use crate::check::CheckedDish;
use crate::diagnostic::Changed;
use crate::reference::Reference;
use crate::reference::profile::Amends;
use crate::resolve::food::Figures;
use crate::resolve::{Choice, Ingredient};

pub use locale::Locale;
pub use panel::Back;

/// The family that comes with the program.
pub const FONT: &str = "Andika";
/// Name and version of the card's data.
pub const SCHEMA: &str = "porringer-card/1";

/// A text of the workspace, in one language or in several.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Worded {
    /// Tags and texts. The first stands for languages without one.
    pub texts: Vec<(String, String)>,
}

impl Worded {
    /// The same in every language.
    pub fn plain(text: String) -> Self {
        Self { texts: vec![(String::new(), text)] }
    }

    pub fn printed(&self, tag: &str) -> Option<&str> {
        let own = |wanted: &str| self.texts.iter().find(|(tag, _)| tag.eq_ignore_ascii_case(wanted));
        let base = tag.split('-').next().unwrap_or(tag);
        own(tag).or_else(|| own(base)).or(self.texts.first()).map(|(_, text)| text.as_str())
    }
}

/// What a workspace prints on every card.
#[derive(Debug, Clone, Default)]
pub struct Imprint {
    pub programme: Option<String>,
    pub footer: Option<Worded>,
    pub paper: String,
    /// Families of the workspace's own fonts.
    pub fonts: Vec<String>,
}

impl Imprint {
    /// The line at the foot, in a language.
    fn footer(&self, locale: &Locale) -> Option<String> {
        self.footer.as_ref().and_then(|footer| footer.printed(locale.tag())).map(str::to_owned)
    }

    /// Families of type: the bundled one, then the workspace's own.
    fn families(&self) -> Vec<String> {
        std::iter::once(FONT.to_owned()).chain(self.fonts.iter().cloned()).collect()
    }
}

/// One card in one language. Every text is ready for print: numbers, units and
/// plurals are those of the language, and blanks that must not be broken are
/// no-break spaces.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Card {
    /// Name and version of this form: `porringer-card/1`.
    pub schema: &'static str,
    /// Language tag (BCP 47).
    pub lang: String,
    /// Direction of the script: `ltr` or `rtl`.
    #[schemars(extend("enum" = ["ltr", "rtl"]))]
    pub dir: &'static str,
    /// What parts a label from its text.
    pub colon: String,
    /// What parts words in a row.
    pub comma: String,
    /// `A4`, `A5`, `A6` or `Letter`.
    pub paper: String,
    /// Families of type, in the order in which they are asked for a sign.
    pub fonts: Vec<String>,
    /// Spacing of the front: 0 is the most generous; the manifest says how
    /// many there are.
    pub fit: u8,
    /// Spacing of the back.
    pub fit_back: u8,
    /// The dish's id: its file's stem, or its `id` line.
    pub id: String,
    pub title: String,
    /// Who makes the cards, from the settings.
    pub programme: Option<String>,
    /// The line at the foot, from the settings.
    pub footer: Option<String>,
    pub picture: Option<Picture>,
    pub ages: Ages,
    /// Hands-on and total time; empty where a few minutes do.
    pub times: Vec<Fact>,
    /// What the cook must know the day before.
    pub start: Option<String>,
    /// What comes out.
    pub makes: Option<Fact>,
    pub portions: Portions,
    pub ingredients: Ingredients,
    pub method: steps::Method,
    /// The author's serve, store, tip and caution lines; a caution of the
    /// rules stands first. In the author's order.
    pub remarks: Vec<RemarkText>,
    /// Standing cautions. The last one tells what to do in danger and has to
    /// stand where the child is fed.
    pub standing: Vec<String>,
    /// The guidance profile, and the one it amends.
    pub profile: ProfileName,
    /// Rules that the workspace judges otherwise and that had something to
    /// say of this dish.
    pub changed_rules: Vec<Changed>,
    /// Its place, where the card stands in a booklet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub folio: Option<booklet::Folio>,
    /// For the health worker.
    pub back: Back,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ProfileName {
    pub id: String,
    pub title: String,
    pub edition: String,
    pub amends: Option<Amends>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Picture {
    /// Name of the file beside the data.
    pub path: String,
    /// What it shows.
    pub alt: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Ages {
    pub label: String,
    pub text: String,
    /// Each month that complementary food is for.
    pub months: Vec<Month>,
    /// The row of months in words.
    pub alt: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Month {
    pub month: u16,
    /// The same in the digits of the language.
    pub text: String,
    /// The dish is for this month.
    pub on: bool,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Fact {
    pub label: String,
    pub text: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Portions {
    pub label: String,
    pub items: Vec<PortionText>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PortionText {
    pub age: String,
    pub text: String,
    pub grams: String,
    pub measure: Drawn,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Ingredients {
    pub label: String,
    /// The food's name stands before its amount, as in Swahili.
    pub food_first: bool,
    pub sections: Vec<Section>,
    /// What goes in after the child's food is set aside.
    pub family: Option<Section>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Section {
    /// Name of the part, where the dish has parts.
    pub title: Option<String>,
    pub items: Vec<Item>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Item {
    pub measure: Drawn,
    pub amount: String,
    /// Empty where the amount is a weight already.
    pub grams: String,
    /// The weight is an estimate.
    pub estimated: bool,
    /// The food with its states.
    pub food: String,
    /// Each begins with the language's word for "or".
    pub alternatives: Vec<String>,
}

/// A measure as it is drawn: so many whole ones and one filled in part.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Drawn {
    #[schemars(extend("enum" = ["cup", "tbsp", "tsp", "pinch", "handful", "piece", "jug", "scale", "none"]))]
    pub kind: &'static str,
    pub count: Count,
    pub count_text: String,
    pub heaped: bool,
    /// The drawing in words.
    pub alt: String,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct Count {
    pub whole: i64,
    pub fraction: f64,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RemarkText {
    #[schemars(extend("enum" = ["serve", "store", "tip", "caution"]))]
    pub kind: &'static str,
    pub label: String,
    pub text: String,
}

/// Everything a card is made of.
pub struct Maker<'a> {
    pub dish: &'a CheckedDish,
    pub reference: &'a Reference,
    pub locale: &'a Locale,
    /// Language of the author's prose.
    pub own_language: &'a str,
    pub imprint: &'a Imprint,
    /// Where the workspace's changes of rules met this dish.
    pub changed: &'a [Changed],
}

/// Makes the card of a dish in one language.
pub fn make(maker: &Maker<'_>) -> Card {
    let dish = maker.dish;
    let locale = maker.locale;
    let header = &dish.resolved.ast.header;
    Card {
        schema: SCHEMA,
        lang: locale.tag().to_owned(),
        dir: locale.direction(),
        colon: locale.word("colon"),
        comma: locale.word("comma"),
        paper: maker.imprint.paper.clone(),
        fonts: maker.imprint.families(),
        fit: 0,
        fit_back: 0,
        id: dish.id.clone(),
        title: header.title.as_ref().map(|title| maker.text(title)).unwrap_or_default(),
        programme: maker.imprint.programme.clone(),
        footer: maker.imprint.footer(maker.locale),
        picture: None,
        ages: maker.ages(),
        times: maker.times(),
        start: maker.start(),
        makes: maker.makes(),
        portions: maker.portions(),
        ingredients: maker.ingredients(),
        method: steps::method(maker),
        remarks: maker.remarks(),
        standing: vec![locale.word("standing-guidance"), locale.word("standing-help")],
        profile: {
            let about = &maker.reference.profile.file.profile;
            ProfileName {
                id: about.id.clone(),
                title: about.title.clone(),
                edition: about.edition.clone(),
                amends: maker.reference.profile.amends.clone(),
            }
        },
        changed_rules: maker.changed.to_vec(),
        folio: None,
        back: panel::back(maker),
    }
}

impl Maker<'_> {
    /// The author's text in the card's language; the author's own where there
    /// is no translation (a warning has said so).
    pub fn text(&self, text: &crate::ast::Text) -> String {
        if self.is_own() {
            return text.value.clone();
        }
        text.in_language(self.locale.tag()).unwrap_or(&text.value).to_owned()
    }

    pub fn is_own(&self) -> bool {
        self.own_language.eq_ignore_ascii_case(self.locale.tag())
    }

    fn ages(&self) -> Ages {
        let (from, to) = self.dish.resolved.months;
        let locale = self.locale;
        let open = self.dish.resolved.ast.header.ages.as_ref().is_some_and(|ages| ages.value.to.is_none());
        let text = if open {
            locale.with("ages-from", &[("from", locale.integer(i64::from(from)))])
        } else if from == to {
            locale.with("ages-one", &[("from", locale.integer(i64::from(from)))])
        } else {
            self.range_of_months(from, to)
        };
        // The row runs over the ages that complementary food is for.
        let first = self.reference.profile.bands().first().map_or(6, |band| band.from_months);
        let last = self.reference.profile.bands().last().map_or(23, |band| band.to_months);
        Ages {
            label: locale.word("ages-label"),
            alt: locale.with("ages-alt", &[("text", text.clone())]),
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

    pub fn range_of_months(&self, from: u16, to: u16) -> String {
        self.locale.with(
            "ages-range",
            &[("from", self.locale.integer(i64::from(from))), ("to", self.locale.integer(i64::from(to)))],
        )
    }

    /// The band's ages, cut to those the dish is for.
    pub fn band_label(&self, at: usize) -> String {
        let Some(band) = self.reference.profile.bands().get(at) else { return String::new() };
        let (from, to) = self.dish.resolved.months;
        let (from, to) = (band.from_months.max(from), band.to_months.min(to));
        if from == to {
            self.locale.with("ages-one", &[("from", self.locale.integer(i64::from(from)))])
        } else {
            self.range_of_months(from, to)
        }
    }

    pub fn times(&self) -> Vec<Fact> {
        let flow = &self.dish.resolved.flow;
        let mut times = Vec::new();
        // Peeling and washing are not counted, so a few minutes say nothing.
        if flow.total.1 < 5.0 {
            return times;
        }
        let total = flow.one_fire();
        let hands_on = flow.hands_on;
        let same = (hands_on.0 - total.0).abs() < 1.0 && (hands_on.1 - total.1).abs() < 1.0;
        if hands_on.1 > 0.0 && !same {
            times.push(Fact { label: self.locale.word("time-hands-on"), text: self.locale.minutes(hands_on) });
        }
        times.push(Fact { label: self.locale.word("time-total"), text: self.locale.minutes(total) });
        times
    }

    /// What a cook must know the day before.
    pub fn start(&self) -> Option<String> {
        let total = self.dish.resolved.flow.one_fire().1;
        let hours = total / 60.0;
        if hours >= 36.0 {
            let days = (hours / 24.0).ceil() as i64;
            return Some(self.locale.counted("start-days", days as f64, &[("count", self.locale.integer(days))]));
        }
        if hours >= 24.0 {
            return Some(self.locale.counted("start-days", 1.0, &[("count", self.locale.integer(1))]));
        }
        if hours >= 7.0 {
            return Some(self.locale.word("start-evening"));
        }
        if hours >= 4.0 {
            let hours = hours.ceil() as i64;
            return Some(self.locale.with("start-early", &[("hours", self.locale.integer(hours))]));
        }
        None
    }

    fn makes(&self) -> Option<Fact> {
        let makes = self.dish.resolved.makes()?;
        Some(Fact { label: self.locale.word("makes-label"), text: words::makes(makes, self.locale) })
    }

    fn portions(&self) -> Portions {
        let mut items: Vec<PortionText> = Vec::new();
        for portion in &self.dish.computed.portions {
            let text = self.portion_words(portion);
            let grams = portion.grams.map(|grams| self.locale.grams(grams)).unwrap_or_default();
            let measure = match &portion.amount {
                Some(makes) => words::drawn_makes(makes, self.locale),
                None => words::drawn_ml(portion.ml.unwrap_or_default(), self.reference, self.locale),
            };
            items.push(PortionText { age: self.band_label(portion.band), text, grams, measure });
        }
        // Bands with one and the same portion share a line.
        let mut merged: Vec<PortionText> = Vec::new();
        let (from, to) = self.dish.resolved.months;
        let all_same = items.len() > 1
            && items.windows(2).all(|pair| match pair {
                [a, b] => a.text == b.text && a.grams == b.grams,
                _ => true,
            });
        if all_same {
            if let Some(mut first) = items.into_iter().next() {
                first.age = self.range_of_months(from, to);
                merged.push(first);
            }
        } else {
            merged = items;
        }
        Portions { label: self.locale.word("portion-label"), items: merged }
    }

    pub fn portion_words(&self, portion: &crate::compute::Portion) -> String {
        match &portion.amount {
            Some(Makes::Portions(range, None)) => match self.dish.resolved.makes() {
                Some(Makes::Portions(count, _))
                    if range.is_single() && range.low == crate::quantity::Exact::whole(1) =>
                {
                    self.locale.counted(
                        "portion-share",
                        count.high.value(),
                        &[("count", self.locale.exact(count.high))],
                    )
                }
                _ => words::makes(&Makes::Portions(*range, None), self.locale),
            },
            Some(makes) => words::makes(makes, self.locale),
            None => {
                let amount = words::ml(portion.ml.unwrap_or_default(), self.reference, self.locale);
                self.locale.with("usual-amount", &[("amount", amount)])
            }
        }
    }

    fn ingredients(&self) -> Ingredients {
        let parts = &self.dish.resolved.ast.parts;
        let mut sections = Vec::new();
        for (at, part) in parts.iter().enumerate() {
            let items: Vec<Item> = self
                .dish
                .resolved
                .ingredients
                .iter()
                .filter(|ingredient| ingredient.part == at && !ingredient.family)
                .map(|ingredient| self.item(ingredient))
                .collect();
            if !items.is_empty() {
                sections
                    .push(Section { title: part.name.as_ref().map(|name| words::capital(&self.text(name))), items });
            }
        }
        let family: Vec<Item> = self
            .dish
            .resolved
            .ingredients
            .iter()
            .filter(|ingredient| ingredient.family)
            .map(|ingredient| self.item(ingredient))
            .collect();
        Ingredients {
            label: self.locale.word("ingredients-label"),
            food_first: self.locale.word("ingredient-order") == "food-first",
            sections,
            family: (!family.is_empty())
                .then(|| Section { title: Some(self.locale.word("family-title")), items: family }),
        }
    }

    pub fn item(&self, ingredient: &Ingredient) -> Item {
        let locale = self.locale;
        let first = ingredient.first();
        let amount = first.map_or(Amount::Missing, |choice| choice.option.amount.clone());
        let alternatives = ingredient
            .options
            .iter()
            .skip(1)
            .map(|choice| {
                let food = self.food_name(ingredient, choice, false);
                let same = matches!(choice.option.amount, Amount::Missing) || choice.option.amount == amount;
                let what = if same {
                    food
                } else {
                    let amount = words::amount(&choice.option.amount, locale);
                    locale.with("amount-of-food", &[("amount", amount), ("food", food)])
                };
                let what = match choice.weight.as_ref().filter(|_| !same) {
                    Some(weight) => format!("{what} ({})", locale.grams(weight.grams)),
                    None => what,
                };
                locale.with("or", &[("what", what)])
            })
            .collect();
        let weight = first.and_then(|choice| choice.weight.as_ref()).filter(|weight| !weight.to_taste);
        Item {
            measure: words::drawn(&amount, locale),
            amount: words::amount(&amount, locale),
            // A line that is given in grams has its weight already.
            grams: if words::is_weight(&amount) {
                String::new()
            } else {
                weight.map(|weight| locale.grams(weight.grams)).unwrap_or_default()
            },
            estimated: weight.is_some_and(|weight| weight.estimated),
            food: first.map(|choice| self.food_name(ingredient, choice, true)).unwrap_or_default(),
            alternatives,
        }
    }

    /// The food's printed name with its states: the author's own words in the
    /// author's language; the translation line, else the larder, in another.
    pub fn food_name(&self, ingredient: &Ingredient, choice: &Choice, first: bool) -> String {
        let states: Vec<String> = choice.option.states.iter().map(|state| state.value.clone()).collect();
        let label = crate::resolve::food::label(&choice.option).value;
        let mut name = String::new();
        if first
            && !self.is_own()
            && let Some(given) = self.translation_of(ingredient)
        {
            return given;
        }
        match &choice.food {
            // The author's own word, in the author's language.
            Some(_) if self.is_own() && matches!(choice.option.food.value, FoodName::Name(_)) => name.push_str(&label),
            Some(food) => match (&food.larder, &food.figures) {
                (Some(row), _) => name.push_str(&self.locale.food(row)),
                (None, Figures::Dish(dish)) => {
                    name.push_str(&self.locale.title_in_line(dish.title_in(self.locale.tag())))
                }
                (None, _) => name.push_str(&food.row_name()),
            },
            None => name.push_str(&label),
        }
        for state in states {
            name.push_str(&format!("{} ", self.locale.word("comma")));
            name.push_str(&self.locale.state(&state, self.is_own()));
        }
        name
    }

    /// The `in TAG` line below a take.
    fn translation_of(&self, ingredient: &Ingredient) -> Option<String> {
        self.dish
            .resolved
            .ast
            .parts
            .iter()
            .flat_map(|part| &part.takes)
            .find(|take| take.span == ingredient.span)
            .and_then(|take| take.translations.iter().find(|line| line.tag.eq_ignore_ascii_case(self.locale.tag())))
            .map(|line| line.value.clone())
    }

    pub fn remarks(&self) -> Vec<RemarkText> {
        let locale = self.locale;
        let names: Vec<String> =
            self.dish.report.allergens.iter().map(|id| locale.word(&format!("allergen-{id}"))).collect();
        let first_time = (!names.is_empty()).then(|| RemarkText {
            kind: RemarkKind::Caution.word(),
            label: locale.word("caution-label"),
            text: locale.with("caution-first-time", &[("what", locale.list(&names))]),
        });
        first_time.into_iter().chain(self.written_remarks()).collect()
    }

    fn written_remarks(&self) -> Vec<RemarkText> {
        self.dish
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
