//! The method as a flow: what touches what, in which order and for how long,
//! and what has reached the pot when the child's portion is set aside.
//!
//! Each take begins alone. Actions act on the takes they name; those that
//! bring things together (adding, mixing, heating in one pot) join them into
//! one group, and an action that names nothing acts on the group that was
//! touched last.

mod act;
mod ending;
mod names;

use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap, HashSet};
use std::rc::Rc;

pub use act::Act;

use crate::ast::{self, Action, Duration};
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::larder::{FoodClass, Larder, normal_name};
use crate::reference::process::{Kind, PROCESSES, Process, Texture};
use crate::reference::retention::Heat;
use crate::source::Span;

/// Minutes of an overnight rest: from late evening to morning.
pub const OVERNIGHT: (f64, f64) = (8.0 * 60.0, 12.0 * 60.0);
/// Minutes of one whistle of a pressure cooker, an estimate; common practice,
/// no source.
pub const WHISTLE: (f64, f64) = (3.0, 5.0);

/// What one take needs to be told for the flow.
#[derive(Debug, Clone)]
pub struct Thing {
    /// Short name, as steps use it.
    pub name: String,
    pub span: Span,
    pub part: usize,
    pub family: bool,
    pub class: FoodClass,
    /// Texture on entering the kitchen.
    pub texture: Texture,
    pub raw_weight: f64,
    /// Time to make it first, where it is a dish of its own: hands-on and in
    /// all.
    pub made_in: Option<((f64, f64), (f64, f64))>,
    /// The food is not known; a message has been given.
    pub lost: bool,
}

/// Heat that one take met.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatEvent {
    pub process: &'static str,
    pub heat: Heat,
    pub minutes: Option<(f64, f64)>,
    pub span: Span,
    /// Taken water or milk was in the pot, so boiling takes nothing in from
    /// outside.
    pub wet: bool,
    /// The liquid is thrown away afterwards.
    pub drained: bool,
    /// Soaks that came before it.
    pub soaks: usize,
    pub low: bool,
}

/// What one take went through on its way to the child.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Journey {
    pub heats: Vec<HeatEvent>,
    /// Minutes of each soak, and whether its water was thrown away.
    pub soaks: Vec<(f64, bool)>,
    pub sprouted: bool,
    pub fermented: bool,
    pub texture: Option<Texture>,
    /// The finest texture any process gave it, whatever it came as.
    pub worked: Option<Texture>,
    /// What was done to it, in order.
    pub acts: Vec<Act>,
    /// Cooking water that was poured away.
    pub discarded: bool,
}

impl Journey {
    /// Whether any process of these words touched it.
    pub fn had(&self, words: &[&str]) -> bool {
        self.acts.iter().any(|act| words.contains(&act.process.word))
    }

    /// Longest minutes of heat that cooks, all of it together, and whether some
    /// of it has no time written.
    pub fn cooking(&self) -> (f64, bool) {
        let cooking = || self.acts.iter().filter(|act| act.process.cooks());
        (cooking().map(Act::longest).sum(), cooking().any(|act| act.minutes.is_none()))
    }
}

/// Timing of one step, minutes from the start.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StepTime {
    pub start: (f64, f64),
    pub end: (f64, f64),
    pub hands_on: (f64, f64),
}

#[derive(Debug, Clone, Default)]
pub struct Flow {
    /// One for each take, as it reaches the child.
    pub journeys: Vec<Journey>,
    /// Whether a take reaches the child.
    pub child: Vec<bool>,
    /// Whether any step touches a take.
    pub used: Vec<bool>,
    /// The step in which a take is first used.
    pub first_use: Vec<Option<usize>>,
    /// Index over all steps of the dish in order, if the portion is set aside.
    pub set_aside: Option<usize>,
    /// Whether a step comes after the child's portion is set aside and does
    /// not touch it.
    pub for_family: Vec<bool>,
    pub times: Vec<StepTime>,
    pub hands_on: (f64, f64),
    pub total: (f64, f64),
    /// A duration was a cue or an unknown.
    pub time_estimated: bool,
    /// A timed step gives no duration.
    pub time_open: bool,
    /// A step could not be understood; rules that need the whole method keep
    /// silent, as the message about the step stops the card already.
    pub torn: bool,
    /// Water that is salted to cook in.
    pub salted: Vec<Span>,
    /// Words of steps that name one ingredient or one part, in reading order.
    pub named: Vec<Named>,
}

/// A word of a step and what it names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Named {
    pub span: Span,
    pub what: Referent,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Referent {
    /// Index of an ingredient of the dish.
    Ingredient(usize),
    /// Index of a part of the dish.
    Part(usize),
}

impl Flow {
    /// The whole time for a cook with one fire: the critical path, but never
    /// less than all attended minutes one after the other.
    pub fn one_fire(&self) -> (f64, f64) {
        (self.total.0.max(self.hands_on.0), self.total.1.max(self.hands_on.1))
    }
}

/// Minutes of a written duration.
pub fn minutes(duration: &Duration) -> (f64, f64) {
    match duration {
        Duration::Minutes { low, high, .. } => (low.value(), high.value()),
        Duration::Overnight => OVERNIGHT,
        Duration::Whistles(range) => (range.low.value() * WHISTLE.0, range.high.value() * WHISTLE.1),
    }
}

/// What a step's word means.
enum Target {
    Takes(Vec<usize>),
    Part(usize),
    Everything,
    Rest,
    Current,
    Child,
    /// Plain water that nobody lists, or a vessel.
    Nothing,
    Unknown,
}

struct Walk<'a> {
    dish: &'a ast::Dish,
    things: &'a [Thing],
    /// The things' and the parts' names as they are compared.
    normal: Vec<String>,
    normal_parts: Vec<Option<String>>,
    larder: &'a Larder,
    sink: &'a mut Sink,
    flow: Flow,
    /// Group of each take; takes of one pot share a number.
    group: Vec<usize>,
    current: Option<usize>,
    part: usize,
    step: usize,
    part_used: Vec<bool>,
    /// Takes in the child's bowl after it was set aside.
    child: BTreeSet<usize>,
    child_taken: Option<Span>,
    ready: Vec<(f64, f64)>,
    late: BTreeSet<usize>,
    child_touched: bool,
    /// Words that the actions still to come name, in this part.
    to_come: Vec<String>,
    /// Takes that such a word means, as far as it was asked for.
    meant: RefCell<HashMap<String, Rc<[usize]>>>,
}

/// Follows the method. With no steps at all every take reaches the child
/// unheated, so that figures can still be given.
pub fn follow(dish: &ast::Dish, things: &[Thing], larder: &Larder, sink: &mut Sink) -> Flow {
    let count = things.len();
    let mut walk = Walk {
        dish,
        things,
        normal: things.iter().map(|thing| normal_name(&thing.name)).collect(),
        normal_parts: dish.parts.iter().map(|part| part.name.as_ref().map(|name| normal_name(&name.value))).collect(),
        larder,
        sink,
        flow: Flow {
            journeys: vec![Journey::default(); count],
            child: vec![true; count],
            used: vec![false; count],
            first_use: vec![None; count],
            ..Flow::default()
        },
        group: (0..count).collect(),
        current: None,
        part: 0,
        step: 0,
        part_used: vec![false; dish.parts.len()],
        child: BTreeSet::new(),
        child_taken: None,
        ready: things.iter().map(|thing| thing.made_in.map_or((0.0, 0.0), |(_, total)| total)).collect(),
        late: BTreeSet::new(),
        child_touched: false,
        to_come: Vec::new(),
        meant: RefCell::default(),
    };
    for (thing, journey) in things.iter().zip(&mut walk.flow.journeys) {
        journey.texture = Some(thing.texture);
    }
    for (hands_on, total) in things.iter().filter_map(|thing| thing.made_in) {
        let flow = &mut walk.flow;
        flow.hands_on = (flow.hands_on.0 + hands_on.0, flow.hands_on.1 + hands_on.1);
        flow.total = (flow.total.0.max(total.0), flow.total.1.max(total.1));
    }
    for (at, part) in dish.parts.iter().enumerate() {
        walk.part = at;
        walk.current = None;
        walk.meant.borrow_mut().clear();
        walk.to_come = part
            .steps
            .iter()
            .flat_map(|step| &step.actions)
            .flat_map(|action| action.objects.iter().chain(&action.with).chain(&action.medium))
            .map(|word| word.value.to_lowercase())
            .collect();
        for step in &part.steps {
            walk.step(step);
        }
    }
    walk.finish()
}

impl Walk<'_> {
    fn step(&mut self, step: &ast::Step) {
        let mut time = StepTime::default();
        let mut first = true;
        let after = self.child_taken.is_some();
        self.child_touched = false;
        for action in &step.actions {
            let named = action.objects.len() + action.with.len() + usize::from(action.medium.is_some());
            self.to_come.drain(..named.min(self.to_come.len()));
            let (start, end, hands) = self.action(action);
            time.start = if first { start } else { (time.start.0.min(start.0), time.start.1.min(start.1)) };
            time.end = (time.end.0.max(end.0), time.end.1.max(end.1));
            time.hands_on = (time.hands_on.0 + hands.0, time.hands_on.1 + hands.1);
            first = false;
        }
        self.flow.for_family.push(after && !self.child_touched);
        self.flow.times.push(time);
        self.step += 1;
    }

    fn action(&mut self, action: &Action) -> ((f64, f64), (f64, f64), (f64, f64)) {
        self.flow.torn |= action.torn;
        let Some(process) = self.process(action) else {
            self.flow.torn = true;
            // What it names still counts as used, so that one fault is one
            // message; where it names nothing it meant the pot.
            let words: Vec<_> = action.objects.iter().chain(&action.with).collect();
            let mut takes = if words.is_empty() { self.everything() } else { Vec::new() };
            for word in words {
                match self.look_up(&word.value, word.span, true) {
                    Target::Takes(found) => takes.extend(found),
                    Target::Everything | Target::Rest | Target::Current => takes.extend(self.everything()),
                    Target::Part(part) => takes.extend(self.of_part(part)),
                    _ => {}
                }
            }
            for take in takes {
                self.touch(take);
            }
            return ((0.0, 0.0), (0.0, 0.0), (0.0, 0.0));
        };
        if process.word == "set aside" && self.names_child(action) {
            return self.set_aside(action);
        }
        let mut takes: BTreeSet<usize> = BTreeSet::new();
        let mut named = false;
        let mut everything = false;
        let mut on_child = false;
        let mut order: Vec<usize> = Vec::new();
        // What is mixed into something named, or with it, leaves the pot alone.
        let mut elsewhere = process.drawing == "mix" && !action.with.is_empty();
        let words: Vec<_> = action
            .objects
            .iter()
            .map(|word| (word, false))
            .chain(action.with.iter().map(|word| (word, false)))
            .chain(action.medium.iter().map(|word| (word, true)))
            .collect();
        for (word, medium) in words {
            let target = if medium { self.medium(word) } else { self.object(word, process) };
            match target {
                Target::Takes(list) => {
                    named |= !medium;
                    elsewhere |= medium;
                    order.extend(&list);
                    takes.extend(list);
                }
                Target::Part(part) => {
                    named = true;
                    elsewhere |= medium;
                    if let Some(used) = self.part_used.get_mut(part) {
                        *used = true;
                    }
                    let list = self.of_part(part);
                    order.extend(&list);
                    takes.extend(list);
                }
                Target::Everything => {
                    named = true;
                    everything = true;
                    let list = self.everything();
                    order.extend(&list);
                    takes.extend(list);
                }
                Target::Rest => {
                    named = true;
                    let list: Vec<usize> =
                        self.in_scope().filter(|at| !self.is_used(*at) && !self.is_family(*at)).collect();
                    order.extend(&list);
                    takes.extend(list);
                }
                Target::Current => {
                    named = true;
                    let list = self.members_of_current();
                    order.extend(&list);
                    takes.extend(list);
                }
                Target::Child => {
                    named = true;
                    on_child = true;
                    self.child_touched = true;
                    takes.extend(self.child.iter().copied());
                }
                Target::Nothing => named |= !medium && !action.objects.is_empty() && self.current.is_none(),
                Target::Unknown => named = true,
            }
        }
        if !named {
            // Nothing is named: the pot that was touched last.
            let mut list = self.members_of_current();
            if list.is_empty() && !action.objects.is_empty() {
                list.clear();
            } else if list.is_empty() {
                list = self.in_scope().filter(|at| !self.is_family(*at)).collect();
            }
            order.extend(&list);
            takes.extend(list);
        }
        let joins = match process.kind {
            Kind::Heat | Kind::Assemble => process.word != "cool" && process.word != "cover",
            // Bread soaked in beaten egg takes the egg along.
            Kind::SoakAndGrow => {
                process.word == "soak" && takes.len() > 1 && (!action.with.is_empty() || action.medium.is_some())
            }
            Kind::Prepare => {
                everything
                    || !action.with.is_empty()
                    || matches!(process.drawing, "mash" | "grind" | "mix" | "knead") && takes.len() > 1
            }
        };
        let adds = matches!(process.drawing, "add" | "mix" | "fill") && process.kind == Kind::Assemble;
        if adds && named && !elsewhere && !on_child {
            // What is added goes into the pot at hand.
            takes.extend(self.members_of_current());
        }
        // Heat and pouring off reach everything in the same pot.
        let spreads = process.kind == Kind::Heat || process.word == "drain" || process.drawing == "ferment";
        let mut affected: BTreeSet<usize> = takes.clone();
        if (spreads || joins) && !on_child {
            let groups: BTreeSet<usize> = takes.iter().filter_map(|at| self.group.get(*at).copied()).collect();
            for (at, group) in self.group.iter().enumerate() {
                if groups.contains(group) && self.is_used(at) {
                    affected.insert(at);
                }
            }
        }
        if process.kind == Kind::Prepare && !everything {
            // Carrot that boiled beside the potato and is named again later was
            // not mashed with it.
            let later = self.named_later();
            affected.retain(|at| takes.contains(at) || !names::is(&later, *at));
        }
        if joins && !on_child {
            let first = order.first().or_else(|| affected.iter().next()).and_then(|at| self.group.get(*at).copied());
            if let Some(first) = first {
                for at in &affected {
                    if let Some(group) = self.group.get_mut(*at) {
                        *group = first;
                    }
                }
            }
        }
        for at in &affected {
            self.touch(*at);
            if on_child {
                self.child.insert(*at);
                if let Some(reached) = self.flow.child.get_mut(*at) {
                    *reached = true;
                }
            } else if self.child_taken.is_some() && !self.child.contains(at) {
                self.late.insert(*at);
            }
        }
        if !on_child {
            self.current = order
                .first()
                .or_else(|| affected.iter().next())
                .and_then(|at| self.group.get(*at).copied())
                .or(self.current);
        }
        self.apply(process, action, &affected, on_child);
        self.time(process, action, &affected)
    }

    /// Writes what the process does into the journeys.
    fn apply(&mut self, process: &'static Process, action: &Action, affected: &BTreeSet<usize>, on_child: bool) {
        let length = action.duration.as_ref().map(|duration| minutes(&duration.value));
        let wet = affected.iter().any(|at| {
            self.things.get(*at).is_some_and(|thing| {
                matches!(thing.class, FoodClass::Water | FoodClass::Milk | FoodClass::BreastMilk)
                    && thing.raw_weight > 0.0
            })
        });
        for at in affected {
            // After the child's bowl is filled the family's pot goes its own way.
            if self.child_taken.is_some() && self.child.contains(at) && !on_child {
                continue;
            }
            let Some(journey) = self.flow.journeys.get_mut(*at) else {
                continue;
            };
            journey.acts.push(Act::new(process, action, length));
            journey.worked = journey.worked.max(process.texture);
            if let Some(texture) = process.texture
                && journey.texture.is_none_or(|now| texture > now)
            {
                journey.texture = Some(texture);
            }
            match process.word {
                "soak" => journey.soaks.push((length.map_or(0.0, |(low, _)| low), false)),
                "sprout" => journey.sprouted = true,
                "ferment" => journey.fermented = true,
                "drain" | "rinse" | "strain" => {
                    if process.word != "rinse" {
                        for event in &mut journey.heats {
                            if event.heat == Heat::BoilUsed {
                                event.heat = Heat::BoilDrained;
                                event.drained = true;
                            }
                        }
                    }
                    if let Some(soak) = journey.soaks.last_mut() {
                        soak.1 = true;
                    }
                    if process.word == "drain"
                        && self.things.get(*at).is_some_and(|thing| thing.class == FoodClass::Water)
                    {
                        journey.discarded = true;
                    }
                }
                _ => {}
            }
            if let Some(heat) = process.heat {
                let drained_bath = journey.soaks.last_mut();
                if let (Some(soak), Some(medium)) = (drained_bath, &action.medium) {
                    // "in fresh water" says that the soaking water is gone, "in
                    // the soaking water" that it is not.
                    let medium = medium.value.to_lowercase();
                    if medium.contains("fresh") || medium.contains("new") {
                        soak.1 = true;
                    } else if medium.contains("soak") {
                        soak.1 = false;
                    }
                }
                journey.heats.push(HeatEvent {
                    process: process.word,
                    heat,
                    minutes: length,
                    span: action.span,
                    wet,
                    drained: heat == Heat::BoilDrained,
                    soaks: journey.soaks.len(),
                    low: action.heat == Some(ast::HeatLevel::Low),
                });
            }
        }
    }

    fn time(
        &mut self,
        process: &'static Process,
        action: &Action,
        affected: &BTreeSet<usize>,
    ) -> ((f64, f64), (f64, f64), (f64, f64)) {
        let length = match &action.duration {
            Some(duration) => {
                self.flow.time_estimated |= matches!(duration.value, Duration::Whistles(_) | Duration::Overnight);
                minutes(&duration.value)
            }
            None => {
                // Water that is only brought to the boil needs no time.
                let only_water = !affected.is_empty()
                    && affected
                        .iter()
                        .all(|at| self.things.get(*at).is_some_and(|thing| thing.class == FoodClass::Water));
                if process.timed && !action.torn && !only_water {
                    self.flow.time_open = true;
                    let until = action.until.is_some();
                    let mut message = Diagnostic::new(
                        Code::MethodNoDuration,
                        action.process.span,
                        format!("`{}` does not say for how long", action.process.value),
                    );
                    message = message.help(if until {
                        "add the usual time too, such as `for 10 min`: the cue alone gives no total time"
                    } else {
                        if process.kind == Kind::SoakAndGrow {
                            "add the time, such as `for 8 to 12 h, unattended`"
                        } else {
                            "add the time, such as `for 10 min`"
                        }
                    });
                    self.sink.push(message);
                }
                (0.0, 0.0)
            }
        };
        let mut start = affected
            .iter()
            .filter_map(|at| self.ready.get(*at).copied())
            .fold((0.0_f64, 0.0_f64), |a, b| (a.0.max(b.0), a.1.max(b.1)));
        if affected.is_empty() {
            start = self.ready.iter().copied().fold((0.0, 0.0), |a, b| (a.0.max(b.0), a.1.max(b.1)));
        }
        let end = (start.0 + length.0, start.1 + length.1);
        for at in affected {
            if let Some(ready) = self.ready.get_mut(*at) {
                *ready = end;
            }
        }
        self.flow.total = (self.flow.total.0.max(end.0), self.flow.total.1.max(end.1));
        // Nobody stands beside a soaking bean.
        let attended = !action.unattended && process.kind != Kind::SoakAndGrow && process.word != "cool";
        let hands = if attended { length } else { (0.0, 0.0) };
        self.flow.hands_on = (self.flow.hands_on.0 + hands.0, self.flow.hands_on.1 + hands.1);
        (start, end, hands)
    }

    fn process(&mut self, action: &Action) -> Option<&'static Process> {
        let word = action.process.value.as_str();
        let found = Process::from_word(word).or_else(|| {
            // "boils", "mashing", "boiled"
            let stem = word.strip_suffix("ing").or_else(|| word.strip_suffix("ed")).or_else(|| word.strip_suffix('s'));
            stem.and_then(|stem| Process::from_word(stem).or_else(|| Process::from_word(&format!("{stem}e"))))
        });
        if found.is_none() {
            let near = if word == "set" {
                Some("set aside")
            } else {
                did_you_mean(word, PROCESSES.iter().map(|process| process.word))
            };
            let mut message = Diagnostic::new(
                Code::MethodUnknownProcess,
                action.process.span,
                format!("{} is no kitchen verb that is known here", quote(word)),
            );
            message = match near {
                Some(near) => message.help(format!("did you mean `{near}`?")).fix(action.process.span, near),
                None => message.help(
                    "begin a step with a verb such as wash, peel, chop, mash, grind, soak, drain, boil, steam, fry, roast, add, mix, cool or serve",
                ),
            };
            self.sink.push(message);
        }
        found
    }

    fn set_aside(&mut self, action: &Action) -> ((f64, f64), (f64, f64), (f64, f64)) {
        let used: Vec<usize> = (0..self.things.len())
            .filter(|at| self.is_used(*at))
            .filter(|at| !self.flow.journeys.get(*at).is_some_and(|journey| journey.discarded))
            .collect();
        if self.child_taken.is_none() {
            self.flow.set_aside = Some(self.step);
            self.child_taken = Some(action.span);
            self.child = used.into_iter().collect();
            for at in 0..self.things.len() {
                if let Some(reached) = self.flow.child.get_mut(at) {
                    *reached = self.child.contains(&at);
                }
            }
        }
        let start = self
            .child
            .iter()
            .filter_map(|at| self.ready.get(*at).copied())
            .fold((0.0_f64, 0.0_f64), |a, b| (a.0.max(b.0), a.1.max(b.1)));
        (start, start, (0.0, 0.0))
    }

    fn touch(&mut self, at: usize) {
        if let Some(used) = self.flow.used.get_mut(at) {
            *used = true;
        }
        let step = self.step;
        if let Some(first) = self.flow.first_use.get_mut(at) {
            first.get_or_insert(step);
        }
        if let Some(thing) = self.things.get(at)
            && thing.part != self.part
            && let Some(used) = self.part_used.get_mut(thing.part)
        {
            *used = true;
        }
    }

    fn is_used(&self, at: usize) -> bool {
        self.flow.used.get(at).copied().unwrap_or(false)
    }

    fn is_family(&self, at: usize) -> bool {
        self.things.get(at).is_some_and(|thing| thing.family)
    }
}
