//! How often the child eats, and how much at once: `menu/few-meals`,
//! `menu/few-milk-feeds`, `menu/meal-too-large`, `menu/same-time`,
//! `menu/empty`.

use super::MenuCase;
use crate::compute::day::frequency;
use crate::diagnostic::{Code, Diagnostic, Sink};

/// What does not depend on the foods that are chosen.
pub fn once(case: &MenuCase<'_>, sink: &mut Sink) {
    let header = &case.menu.ast.header;
    if case.menu.meals.is_empty() {
        if header.title.is_some() && header.torn.is_empty() {
            sink.push(
                Diagnostic::new(Code::MenuEmpty, case.title_span(), "this menu has no meals")
                    .help("add a line for each: `meal 12:30 lunch: 1/2 cup dish red-bean-pumpkin-mash`"),
            );
        }
        return;
    }
    for (at, meal) in case.menu.meals.iter().enumerate() {
        if let Some(first) = case.menu.meals.iter().take(at).find(|other| other.at == meal.at) {
            sink.push(
                Diagnostic::new(Code::MenuSameTime, meal.at_span, "two meals stand at the same time")
                    .label(first.at_span, "the first is here")
                    .help("correct one of the times, or write both on one line with a comma between"),
            );
        }
    }
    if !case.meals_known() {
        return;
    }
    for (day, band) in case.bands() {
        // The more cautious of the indicator's times and the guidance's meals.
        let indicator = frequency(case.reference, band, case.menu.breastfed).map_or(0, |row| row.times);
        let guidance = if case.menu.breastfed { band.meals.from } else { band.meals_not_breastfed.from };
        let needed = usize::from(indicator.max(guidance));
        if day.feeds() < needed {
            sink.push(
                Diagnostic::new(
                    Code::MenuFewMeals,
                    case.title_span(),
                    format!(
                        "{} meals and snacks; a child of {} months needs {needed} or more a day",
                        day.feeds(),
                        band.key
                    ),
                )
                .help("add a `meal` or `snack` line: a small stomach cannot take the day's food in fewer meals"),
            );
            break;
        }
    }
}

/// What does.
pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    if !case.sums_known() {
        return;
    }
    let feeds = case.reference.profile.file.iycf.milk_feeds_not_breastfed.value;
    if let Some((day, _)) = case.bands().next()
        && !case.menu.breastfed
        && (day.milk_feeds as f64) < feeds
    {
        sink.push(
            Diagnostic::new(
                Code::MenuFewMilkFeeds,
                case.title_span(),
                format!("milk at {} meals; a child who is not breastfed needs it {feeds:.0} times", day.milk_feeds),
            )
            .help("add milk, yogurt or sour milk, boiled or pasteurised, to another meal"),
        );
    }
    for (day, band) in case.bands() {
        for (at, meal) in case.menu.meals.iter().enumerate() {
            let grams: f64 = day.lines.iter().filter(|line| line.meal == at).map(|line| line.grams).sum();
            if grams > band.capacity.value {
                sink.push(
                    Diagnostic::new(
                        Code::MenuMealTooLarge,
                        meal.span,
                        format!(
                            "{grams:.0} g at once; a child of {} months holds about {:.0} g",
                            band.key, band.capacity.value
                        ),
                    )
                    .help("make the portions smaller, or give a part of it as a snack later"),
                );
                return;
            }
        }
    }
}
