//! `take` and `family` lines: options with amount, food, states and weight.

use super::*;

impl Lower<'_, '_> {
    pub(super) fn take(&mut self, pair: Pair<'_, Rule>, family: bool, whole: Span) -> Take {
        let mut take = Take { family, options: Vec::new(), alias: None, translations: Vec::new(), span: whole };
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::option => {
                    // The first belongs to its line, which was counted.
                    if !take.options.is_empty() && !self.counts(span(&part)) {
                        continue;
                    }
                    let option = self.option(part);
                    take.options.push(option);
                }
                Rule::alias => take.alias = part.into_inner().next().map(|name| placed(&name)),
                _ => {}
            }
        }
        let first_has_amount = take
            .options
            .first()
            .is_some_and(|option| !matches!(option.amount, Amount::Missing) || option.weight.is_some());
        if !first_has_amount && let Some(option) = take.options.first_mut() {
            let place = option.food.span;
            option.amount = Amount::Unreadable(place);
            let name = match &option.food.value {
                FoodName::Name(name) => name.clone(),
                _ => String::new(),
            };
            // The food behind a slip in the amount is still the food.
            if let Some(rest) = food_behind(&name) {
                option.food.span.start = option.food.span.end.saturating_sub(rest.len());
                option.food.value = FoodName::Name(rest);
            }
            self.missing_amount(name, place);
        }
        take
    }

    pub(super) fn missing_amount(&mut self, name: String, place: Span) {
        let first = name.split_whitespace().next().unwrap_or_default().to_lowercase();
        let rest = name.get(first.len()..).unwrap_or_default().trim();
        if let Some(value) = number_word(&first) {
            let word = Span::new(place.start, place.start + first.len());
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, word, format!("{} is written as a word", quote(&first)))
                    .help(format!("write the number in digits: `{value} {rest}`"))
                    .fix(word, value),
            );
        } else if first.starts_with(|c: char| c.is_numeric() || c == '.' || c == '-') {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} is no amount", quote(&first)))
                    .help("write `2`, `0.5`, `1/2` or `1 1/2`, a blank, and the unit"),
            );
        } else {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("no amount of {}", quote(&name)))
                    .help("write how much goes in, such as `1/2 cup` or `100 g`, before the food"),
            );
        }
    }

    pub(super) fn option(&mut self, pair: Pair<'_, Rule>) -> TakeOption {
        let whole = span(&pair);
        let mut option = TakeOption {
            amount: Amount::Missing,
            food: Spanned::new(FoodName::Name(String::new()), whole),
            states: Vec::new(),
            weight: None,
            keep: None,
            span: Span::new(whole.start, whole.start + pair.as_str().trim_end().len()),
        };
        for part in pair.into_inner() {
            let place = span(&part);
            match part.as_rule() {
                Rule::amount => option.amount = self.amount(part),
                Rule::food => option.food = Spanned::new(food_name(part), place),
                Rule::state => {
                    let state = placed(&part);
                    if state.value.eq_ignore_ascii_case("to taste") {
                        option.amount = Amount::ToTaste(state.span);
                    } else {
                        let word = match small(&state.value) {
                            Cow::Owned(word) => word,
                            Cow::Borrowed(_) => state.value,
                        };
                        option.states.push(Spanned::new(word, state.span));
                    }
                }
                Rule::bracket => self.bracket(part, &mut option),
                Rule::keep => {
                    let code = part.as_str().rsplit([':', ' ', '\t']).next().unwrap_or_default();
                    let value = match code.trim().parse::<u32>() {
                        Ok(0) => Keep::None,
                        Ok(code) => Keep::Code(code),
                        Err(_) if code.trim().starts_with(char::is_numeric) => Keep::Code(u32::MAX),
                        Err(_) => Keep::None,
                    };
                    option.keep = Some(Spanned::new(value, place));
                }
                _ => {}
            }
        }
        if let FoodName::Name(name) = &mut option.food.value {
            const TASTE: &str = " to taste";
            let cut = name.len().checked_sub(TASTE.len());
            if let Some(cut) = cut.filter(|cut| name.get(*cut..).is_some_and(|end| end.eq_ignore_ascii_case(TASTE))) {
                let taste = Span::new(option.food.span.start + cut, option.food.span.end);
                name.truncate(cut);
                option.food.span.end = option.food.span.start + cut;
                option.amount = Amount::ToTaste(taste);
            }
        }
        option
    }

    /// `(92 g)`: a weighed amount. Anything else in brackets may belong to a
    /// full composition name, so it is kept as a state and looked at later.
    pub(super) fn bracket(&mut self, pair: Pair<'_, Rule>, option: &mut TakeOption) {
        let place = span(&pair);
        let Some(inner) = pair.into_inner().next() else {
            return;
        };
        let text = inner.as_str().trim();
        let amount = Grammar::parse(Rule::amount, text)
            .ok()
            .and_then(|mut pairs| pairs.next())
            .filter(|pair| pair.as_str().trim_end().len() == text.len());
        let offset = place.start + 1 + (inner.as_str().len() - inner.as_str().trim_start().len());
        let Some(pair) = amount else {
            option.states.push(Spanned::new(format!("({text})").to_lowercase(), place));
            return;
        };
        // The inner parse counts from the bracket: report at the bracket.
        let mut inner_sink = Sink::new();
        let value = {
            let mut lower = Lower {
                kind: self.kind,
                text,
                sink: &mut inner_sink,
                header: Header::default(),
                dish: Dish::default(),
                menu: Menu::default(),
                booklet: Booklet::default(),
                target: Target::None,
                first: None,
                title_line: None,
                count: 0,
            };
            lower.amount(pair)
        };
        for mut message in inner_sink.finish() {
            message.span = shift(message.span, offset);
            if let Some(fix) = &mut message.fix {
                fix.span = shift(fix.span, offset);
            }
            self.sink.push(message);
        }
        match value {
            Amount::Measured { range, measure, .. } if measure.unit.grams().is_some() => {
                let factor = match measure.unit {
                    Unit::Kilogram => Exact::whole(1000),
                    Unit::Milligram => Exact::fraction(1, 1000).unwrap_or(Exact::whole(1)),
                    _ => Exact::whole(1),
                };
                if let (Some(low), Some(high)) = (range.low.times(factor), range.high.times(factor)) {
                    option.weight = Some(Spanned::new(Range { low, high }, place));
                }
            }
            Amount::Unreadable(_) => {
                option.amount = match option.amount {
                    // The weight was meant to count; without it the measure stands.
                    Amount::Missing => Amount::Unreadable(place),
                    ref other => other.clone(),
                }
            }
            _ => {
                self.sink.push(
                    Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} is no weight", quote(text)))
                        .help("brackets after a food hold its weight in grams: `(92 g)`"),
                );
            }
        }
    }
}

pub(super) fn shift(span: Span, by: usize) -> Span {
    Span::new(span.start + by, span.end + by)
}

pub(super) fn food_name(pair: Pair<'_, Rule>) -> FoodName {
    let Some(inner) = pair.into_inner().next() else {
        return FoodName::Name(String::new());
    };
    match inner.as_rule() {
        Rule::row_ref => {
            let mut parts = inner.into_inner();
            let table = parts.next().map(|part| part.as_str().to_owned()).unwrap_or_default();
            let id = parts.next().map(|part| part.as_str().to_owned()).unwrap_or_default();
            FoodName::Row { table, id }
        }
        Rule::dish_ref => {
            let slug = inner.into_inner().next().map(|part| part.as_str().to_owned()).unwrap_or_default();
            FoodName::Dish(slug)
        }
        Rule::quoted => {
            let text = inner.into_inner().next().map(|part| part.as_str().trim().to_owned()).unwrap_or_default();
            FoodName::Name(text)
        }
        _ => FoodName::Name(unfold(inner.as_str())),
    }
}

/// The food of "one medium egg", "ten tbsp rice flour", "medium egg".
pub(super) fn food_behind(name: &str) -> Option<String> {
    let mut rest = name;
    let mut cut = false;
    while let Some((first, tail)) = rest.split_once(char::is_whitespace) {
        let lower = first.to_lowercase();
        let skip = number_word(&lower).is_some()
            || Unit::from_word(&lower).is_some()
            || matches!(lower.as_str(), "small" | "medium" | "large" | "heaped" | "level" | "of" | "a" | "an")
            || lower.starts_with(|c: char| c.is_numeric() || c == '-' || c == '.');
        if !skip {
            break;
        }
        rest = tail.trim_start();
        cut = true;
    }
    (cut && !rest.is_empty()).then(|| rest.to_owned())
}

pub(super) fn number_word(word: &str) -> Option<&'static str> {
    const WORDS: [(&str, &str); 13] = [
        ("half", "1/2"),
        ("quarter", "1/4"),
        ("one", "1"),
        ("two", "2"),
        ("three", "3"),
        ("four", "4"),
        ("five", "5"),
        ("six", "6"),
        ("seven", "7"),
        ("eight", "8"),
        ("nine", "9"),
        ("ten", "10"),
        ("twelve", "12"),
    ];
    WORDS.iter().find(|(name, _)| *name == word).map(|(_, value)| *value)
}
