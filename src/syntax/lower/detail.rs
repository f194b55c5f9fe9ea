//! Portions, claims, dates, months and meals.

use super::*;
use crate::quantity::date::date;

impl Lower<'_, '_> {
    pub(super) fn portion(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, keyword: Span) {
        let mut ages = None;
        for part in inner {
            match part.as_rule() {
                Rule::ages => {
                    let place = span(&part);
                    match self.ages(part) {
                        Some(value) => ages = Some(Spanned::new(value, place)),
                        None => return self.tear("portion", whole),
                    }
                }
                Rule::makes => {
                    let place = span(&part);
                    let Some(amount) = self.makes(part) else {
                        return self.tear("portion", whole);
                    };
                    let same = self
                        .dish
                        .portions
                        .iter()
                        .find(|other| other.ages.map(|ages| ages.value) == ages.map(|ages| ages.value))
                        .map(|other| other.span);
                    if let Some(first) = same {
                        self.duplicate(keyword, first, "portion");
                        return;
                    }
                    self.dish.portions.push(Portion { ages, amount: Spanned::new(amount, place), span: whole });
                }
                _ => {}
            }
        }
    }

    pub(super) fn claim(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, keyword: Span) {
        let mut kind = ClaimKind::SourceOf;
        for part in inner {
            match part.as_rule() {
                Rule::claim_kind => {
                    let words = unfold(part.as_str()).to_lowercase();
                    kind = match words.split_whitespace().next() {
                        Some("rich" | "high") => ClaimKind::RichIn,
                        Some("low") => ClaimKind::LowIn,
                        Some("free") => ClaimKind::FreeOf,
                        _ => ClaimKind::SourceOf,
                    };
                }
                Rule::claimed => {
                    let subject = placed(&part);
                    let same = self
                        .dish
                        .claims
                        .iter()
                        .find(|other| other.kind == kind && other.subject.value.eq_ignore_ascii_case(&subject.value))
                        .map(|other| other.span);
                    if let Some(first) = same {
                        self.duplicate(keyword, first, "claim");
                        return;
                    }
                    self.dish.claims.push(Claim { kind, subject, span: whole });
                }
                _ => {}
            }
        }
    }

    pub(super) fn reviewed(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, keyword: Span) {
        if let Some(first) = &self.header.reviewed {
            let first = first.span;
            self.duplicate(keyword, first, "reviewed");
            return;
        }
        let (mut day, mut by) = (None, None);
        for part in inner {
            match part.as_rule() {
                Rule::date => {
                    day = date(part.as_str()).filter(|day| day.year() >= EARLIEST);
                    if day.is_none() {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&part),
                                format!("{} is no date", quote(part.as_str())),
                            )
                            .help("write year, month and day: `2026-05-01`"),
                        );
                        return;
                    }
                }
                Rule::text => by = Some(super::text_of(&part)),
                _ => {}
            }
        }
        self.header.reviewed = day.map(|day| Reviewed { day, by, span: whole });
    }

    pub(super) fn meal(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span, word: &str) {
        let mut meal =
            Meal { snack: word == "snack", at: Spanned::new(0, whole), name: None, items: Vec::new(), span: whole };
        for part in inner {
            match part.as_rule() {
                Rule::clock => {
                    let (hours, minutes) = part.as_str().split_once(':').unwrap_or(("0", "0"));
                    let (hours, minutes) = (hours.parse::<u16>().unwrap_or(99), minutes.parse::<u16>().unwrap_or(99));
                    if hours > 23 || minutes > 59 {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&part),
                                format!("{} is no time of day", quote(part.as_str())),
                            )
                            .help("write hours and minutes, from `0:00` to `23:59`"),
                        );
                        continue;
                    }
                    meal.at = Spanned::new(hours * 60 + minutes, span(&part));
                }
                Rule::meal_name => meal.name = Some(text_of(&part)),
                Rule::takes_item => {
                    if !self.counts(span(&part)) {
                        continue;
                    }
                    let place = span(&part);
                    let place = Span::new(place.start, place.start + part.as_str().trim_end().len());
                    let options = part.into_inner().map(|option| self.option(option)).collect();
                    meal.items.push(MealItem { options, span: place });
                }
                _ => {}
            }
        }
        self.menu.meals.push(meal);
    }
}

/// Earlier years are slips of the hand.
const EARLIEST: i32 = 1900;

/// Months from 1 to 12; a span may run over the new year.
pub(in crate::syntax) fn season(pair: Pair<'_, Rule>) -> Vec<u8> {
    let mut months = Vec::new();
    for part in pair.into_inner() {
        if part.as_rule() == Rule::all_year {
            return (1..=12).collect();
        }
        let ends: Vec<u8> = part.into_inner().filter_map(|month| month_number(month.as_str())).collect();
        let (Some(first), Some(last)) = (ends.first(), ends.last()) else {
            continue;
        };
        let mut month = *first;
        loop {
            if !months.contains(&month) {
                months.push(month);
            }
            if month == *last {
                break;
            }
            month = month % 12 + 1;
        }
    }
    months
}

pub(super) fn month_number(word: &str) -> Option<u8> {
    const NAMES: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let start = word.trim().to_lowercase();
    let start = start.get(..3)?;
    NAMES.iter().position(|name| *name == start).and_then(|at| u8::try_from(at + 1).ok())
}
