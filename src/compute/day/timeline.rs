//! The cook's day: when each thing has to be begun so that every meal is
//! ready at its time.
//!
//! Times are counted back from the meal with the longer end of each range.
//! What takes hours by itself (soaking, sprouting, souring) is an event of its
//! own; the rest of a dish is one event, its cooking. The same food that goes
//! through the same process at one time, in dishes of different meals, is done
//! in one pot and said once.

use std::collections::BTreeMap;

use super::Choose;
use crate::quantity::round_half_even;
use crate::resolve::menu::{Menu, Served, Stage, StageFood, What};

/// Shortest unattended step that is an event of its own, in minutes.
const LONG: f64 = 120.0;
/// When people are up, minutes after midnight: from half past five to ten at
/// night. Common practice, no source.
const AWAKE: (f64, f64) = (330.0, 1320.0);
const DAY: f64 = 24.0 * 60.0;

/// What is to be done.
#[derive(Debug, Clone, PartialEq)]
pub enum EventKind {
    /// A long process that needs nobody: its verb and its foods.
    Wait { process: &'static str, foods: Vec<EventFood> },
    /// One pot for several dishes: its verb and its foods.
    Pot { process: &'static str, foods: Vec<EventFood> },
    /// A dish is cooked.
    Cook { dish: String },
    /// The child eats; index of the meal.
    Eat { meal: usize },
}

/// A food of an event with its weight over all dishes.
#[derive(Debug, Clone, PartialEq)]
pub struct EventFood {
    pub row: String,
    pub name: String,
    pub printed: BTreeMap<String, String>,
    pub grams: f64,
}

/// Something at a time of the day.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Minutes after midnight of the menu's day; below zero on the day before.
    pub at: f64,
    /// The latest that it may begin, where there is room.
    pub latest: f64,
    /// Minutes it takes, and those with hands on.
    pub minutes: (f64, f64),
    pub hands_on: (f64, f64),
    pub kind: EventKind,
    /// Indexes of the meals it is for.
    pub meals: Vec<usize>,
    /// Dishes it belongs to, by id.
    pub dishes: Vec<String>,
}

/// Events in order of time.
pub fn timeline(menu: &Menu, choose: &Choose) -> Vec<Event> {
    let mut events: Vec<Event> = Vec::new();
    let mut pots: Vec<Event> = Vec::new();
    let mut count = 0;
    for (index, meal) in menu.meals.iter().enumerate() {
        for item in &meal.items {
            let option = choose.option(count);
            count += 1;
            let Some(What::Dish(dish)) = item.options.get(option).map(|choice| &choice.what) else { continue };
            of_dish(&dish.id, &dish.served, index, f64::from(meal.at), &mut events, &mut pots);
        }
        events.push(Event {
            at: f64::from(meal.at),
            latest: f64::from(meal.at),
            minutes: (0.0, 0.0),
            hands_on: (0.0, 0.0),
            kind: EventKind::Eat { meal: index },
            meals: vec![index],
            dishes: Vec::new(),
        });
    }
    // A pot matters to the reader only where dishes share it.
    events.extend(shared(pots, false).into_iter().filter(|event| event.dishes.len() > 1));
    let mut events = shared(events, true);
    // When the household is at work or at a meal for the first time.
    let first = events
        .iter()
        .filter(|event| !matches!(event.kind, EventKind::Wait { .. }))
        .map(|event| event.at)
        .filter(|at| *at >= AWAKE.0)
        .fold(f64::INFINITY, f64::min);
    for event in &mut events {
        if matches!(event.kind, EventKind::Wait { .. }) {
            waking(event, first);
        }
    }
    let rank = |event: &Event| match event.kind {
        EventKind::Wait { .. } => 0,
        EventKind::Pot { .. } => 1,
        EventKind::Cook { .. } => 2,
        EventKind::Eat { .. } => 3,
    };
    events.sort_by(|a, b| {
        a.at.total_cmp(&b.at)
            .then(rank(a).cmp(&rank(b)))
            .then_with(|| a.meals.cmp(&b.meals))
            .then_with(|| a.dishes.cmp(&b.dishes))
    });
    events
}

fn of_dish(id: &str, served: &Served, meal: usize, at: f64, events: &mut Vec<Event>, pots: &mut Vec<Event>) {
    if served.stages.is_empty() {
        return;
    }
    // Another dish in it is made first.
    let inner = served
        .stages
        .iter()
        .flat_map(|stage| stage.foods.iter().filter_map(|food| food.dish))
        .fold((0.0_f64, 0.0_f64), |most, minutes| (most.0.max(minutes.0), most.1.max(minutes.1)));
    let total = served.minutes;
    // What is done after the last long wait is the cooking.
    let rest = served
        .stages
        .iter()
        .filter(|stage| waits(stage))
        .fold((0.0_f64, 0.0_f64), |most, stage| (most.0.max(stage.end.0), most.1.max(stage.end.1)));
    let hands = served
        .stages
        .iter()
        .filter(|stage| stage.start.1 >= rest.1 - 0.5)
        .fold((0.0, 0.0), |sum, stage| (sum.0 + stage.hands_on.0, sum.1 + stage.hands_on.1));
    let cooking = ((total.0 - rest.0).max(hands.0) + inner.0, (total.1 - rest.1).max(hands.1) + inner.1);
    let begin = at - cooking.1;
    if cooking.1 > 0.5 {
        events.push(Event {
            at: floor_to(begin, 5.0),
            latest: floor_to(begin, 5.0),
            minutes: cooking,
            hands_on: hands,
            kind: EventKind::Cook { dish: id.to_owned() },
            meals: vec![meal],
            dishes: vec![id.to_owned()],
        });
    }
    for stage in &served.stages {
        let length = (stage.end.0 - stage.start.0, stage.end.1 - stage.start.1);
        // From the stage's end to the meal, at the longer ends.
        let after = total.1.max(rest.1 + hands.1) - stage.end.1 + inner.1;
        let foods: Vec<EventFood> = stage.foods.iter().filter(|food| food.dish.is_none()).map(event_food).collect();
        if waits(stage) {
            events.push(Event {
                at: floor_to(at - after - length.1, 5.0),
                latest: floor_to(at - after - length.0, 5.0),
                minutes: length,
                hands_on: (0.0, 0.0),
                kind: EventKind::Wait { process: stage.process, foods },
                meals: vec![meal],
                dishes: vec![id.to_owned()],
            });
        } else if stage.end.1 > stage.start.1 && is_pot(stage.process) && foods.len() == 1 {
            // Several foods in one pot are a dish of their own.
            pots.push(Event {
                at: at - after - length.1,
                latest: at - after - length.1,
                minutes: length,
                hands_on: (0.0, 0.0),
                kind: EventKind::Pot { process: stage.process, foods },
                meals: vec![meal],
                dishes: vec![id.to_owned()],
            });
        }
    }
}

fn waits(stage: &Stage) -> bool {
    stage.end.1 - stage.start.1 >= LONG && stage.hands_on.1 < 0.5
}

/// Heat in a pot that takes any amount of the same food.
fn is_pot(process: &str) -> bool {
    matches!(process, "boil" | "cook" | "simmer" | "steam" | "pressure-cook" | "roast" | "toast" | "bake")
}

fn event_food(food: &StageFood) -> EventFood {
    EventFood { row: food.row.clone(), name: food.name.clone(), printed: food.printed.clone(), grams: food.grams }
}

fn floor_to(minutes: f64, step: f64) -> f64 {
    (minutes / step).floor() * step
}

/// One event for the same foods through the same process at one time.
fn shared(events: Vec<Event>, waits: bool) -> Vec<Event> {
    let mut merged: Vec<Event> = Vec::new();
    for event in events {
        let key = key_of(&event.kind);
        let twin = merged.iter_mut().find(|other| {
            key.is_some() && key_of(&other.kind) == key && other.dishes != event.dishes && overlap(other, &event, waits)
        });
        let Some(twin) = twin else {
            merged.push(event);
            continue;
        };
        // Begun so that the earlier dish is ready and no wait is cut short.
        twin.latest = twin.latest.min(event.latest);
        twin.at = twin.at.max(event.at).min(twin.latest);
        twin.minutes = (twin.minutes.0.max(event.minutes.0), twin.minutes.1.max(event.minutes.1));
        twin.meals.extend(event.meals.iter().filter(|meal| !twin.meals.contains(meal)).collect::<Vec<_>>());
        twin.dishes.extend(event.dishes);
        if let (
            EventKind::Wait { foods, .. } | EventKind::Pot { foods, .. },
            EventKind::Wait { foods: more, .. } | EventKind::Pot { foods: more, .. },
        ) = (&mut twin.kind, event.kind)
        {
            for food in more {
                match foods.iter_mut().find(|own| own.row == food.row) {
                    Some(own) => own.grams += food.grams,
                    None => foods.push(food),
                }
            }
        }
    }
    merged
}

fn key_of(kind: &EventKind) -> Option<(&'static str, Vec<&str>)> {
    match kind {
        EventKind::Wait { process, foods } | EventKind::Pot { process, foods } if !foods.is_empty() => {
            let mut rows: Vec<&str> = foods.iter().map(|food| food.row.as_str()).collect();
            rows.sort_unstable();
            Some((process, rows))
        }
        _ => None,
    }
}

fn overlap(a: &Event, b: &Event, waits: bool) -> bool {
    if waits {
        // Both can begin at one and the same time.
        a.at <= b.latest && b.at <= a.latest
    } else {
        a.at < b.at + b.minutes.1 && b.at < a.at + a.minutes.1
    }
}

/// A wait may begin at any time between its two ends. The evening before is
/// chosen where it lies between them, then the first time that somebody is in
/// the kitchen anyway, then the earliest waking time; where only the night
/// would do, the nearer of bedtime and daybreak.
fn waking(event: &mut Event, first: f64) {
    let (from, to) = (event.at, event.latest);
    let evening = AWAKE.1 - DAY;
    let morning = AWAKE.0;
    if from <= evening {
        // It may begin before people sleep.
        event.latest = to.min(evening).max(from);
    } else if to >= morning {
        let anyway = from.max(first);
        event.at = if anyway <= to { anyway } else { from.max(morning) };
    } else {
        let near = if from - evening <= morning - to { evening } else { morning };
        event.at = near;
        event.latest = near;
    }
    event.at = round_half_even(event.at, 0);
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn beans(grams: f64) -> StageFood {
        StageFood {
            row: "usda:16032".to_owned(),
            name: "beans".to_owned(),
            printed: BTreeMap::new(),
            grams,
            dish: None,
        }
    }

    fn stage(process: &'static str, grams: f64, start: (f64, f64), length: (f64, f64), alone: bool) -> Stage {
        Stage {
            process,
            foods: vec![beans(grams)],
            start,
            end: (start.0 + length.0, start.1 + length.1),
            hands_on: if alone { (0.0, 0.0) } else { length },
            unattended: alone,
        }
    }

    /// Soak 8 to 12 h, boil 60 to 90 min, mash 10 min.
    fn dish(grams: f64) -> Served {
        let stages = vec![
            stage("soak", grams, (0.0, 0.0), (480.0, 720.0), true),
            stage("boil", grams, (480.0, 720.0), (60.0, 90.0), false),
            stage("mash", grams, (540.0, 810.0), (10.0, 10.0), false),
        ];
        Served { stages, minutes: (550.0, 820.0), ..Served::default() }
    }

    fn both(first: f64, second: f64) -> Vec<Event> {
        let (mut events, mut pots) = (Vec::new(), Vec::new());
        of_dish("a", &dish(184.0), 0, first, &mut events, &mut pots);
        of_dish("b", &dish(92.0), 1, second, &mut events, &mut pots);
        events.extend(shared(pots, false).into_iter().filter(|event| event.dishes.len() > 1));
        let mut events = shared(events, true);
        events
            .iter_mut()
            .filter(|event| matches!(event.kind, EventKind::Wait { .. }))
            .for_each(|event| waking(event, f64::INFINITY));
        events
    }

    #[test]
    fn one_pot_for_two_dishes_is_said_once() {
        // Lunch at 12:00 and a snack at 12:30: one soaking, one boiling.
        let events = both(720.0, 750.0);
        let waits: Vec<&Event> = events.iter().filter(|event| matches!(event.kind, EventKind::Wait { .. })).collect();
        let pots: Vec<&Event> = events.iter().filter(|event| matches!(event.kind, EventKind::Pot { .. })).collect();
        assert_eq!((waits.len(), pots.len()), (1, 1), "{events:#?}");
        let EventKind::Wait { foods, .. } = &waits.first().unwrap().kind else { unreachable!() };
        assert_eq!(foods.first().unwrap().grams, 276.0);
        assert_eq!(waits.first().unwrap().dishes, ["a", "b"]);
        // Ten minutes of mashing and ninety of boiling before noon: 10:20, and
        // twelve hours before that, 22:20 the evening before.
        assert!(waits.first().unwrap().at < 0.0);
    }

    #[test]
    fn soaking_for_the_evening_starts_when_the_cook_is_up() {
        let (mut events, mut pots) = (Vec::new(), Vec::new());
        // 18:00 - 100 min = 16:20; less 8 to 12 h: between 4:20 and 8:20.
        of_dish("a", &dish(184.0), 0, 1080.0, &mut events, &mut pots);
        let mut wait = events.into_iter().find(|event| matches!(event.kind, EventKind::Wait { .. })).unwrap();
        assert_eq!((wait.at, wait.latest), (260.0, 500.0));
        let mut early = wait.clone();
        waking(&mut wait, 395.0);
        assert_eq!(wait.at, 395.0);
        waking(&mut early, 600.0);
        assert_eq!(early.at, AWAKE.0);
    }

    #[test]
    fn pots_of_noon_and_evening_are_two() {
        let events = both(720.0, 1140.0);
        assert!(!events.iter().any(|event| matches!(event.kind, EventKind::Pot { .. })), "{events:#?}");
    }

    #[test]
    fn soaking_for_lunch_starts_the_evening_before() {
        let (mut events, mut pots) = (Vec::new(), Vec::new());
        // 11:00 - 100 min = 9:20; less 12 h: 21:20 the evening before.
        of_dish("a", &dish(184.0), 0, 660.0, &mut events, &mut pots);
        let mut wait = events.into_iter().find(|event| matches!(event.kind, EventKind::Wait { .. })).unwrap();
        waking(&mut wait, f64::INFINITY);
        assert_eq!(wait.at, 560.0 - 720.0);
        assert_eq!(wait.latest, 1320.0 - DAY);
    }
}
