//! What a step's words mean: takes, parts, everything, the pot at hand.

use super::*;

impl Walk<'_> {
    pub(super) fn object(&mut self, word: &crate::source::Spanned<String>, process: &'static Process) -> Target {
        match self.look_up(&word.value, word.span, false) {
            Target::Nothing
                if process.kind == Kind::Assemble
                    && process.word != "cover"
                    && is_water(&word.value)
                    && !self.dish.header.torn_mentions(&["take"], "water") =>
            {
                self.sink.push(
                    Diagnostic::new(
                        Code::MethodUnknownIngredient,
                        word.span,
                        format!("{} goes into the food but is not taken", quote(&word.value)),
                    )
                    .help("add a line such as `take 1 cup water`: it changes what a spoonful holds"),
                );
                Target::Unknown
            }
            target => target,
        }
    }

    /// What food is cooked in: a take, water, or a vessel. Fat and milk that
    /// nobody listed would be eaten and not counted.
    pub(super) fn medium(&mut self, word: &crate::source::Spanned<String>) -> Target {
        if word.value.to_lowercase().split(' ').any(|part| part == "salted") {
            self.flow.salted.push(word.span);
        }
        match self.look_up(&word.value, word.span, true) {
            Target::Unknown => {
                let eaten = strip_articles(&word.value).find_map(|name| {
                    self.larder
                        .named(name)
                        .into_iter()
                        .find(|row| row.class != FoodClass::Water)
                        .map(|_| name.to_owned())
                });
                if let Some(name) = eaten {
                    self.sink.push(
                        Diagnostic::new(
                            Code::MethodUnknownIngredient,
                            word.span,
                            format!("{} is used to cook in but is not taken", quote(&name)),
                        )
                        .help(format!("add a line such as `take 1 tbsp {name}`")),
                    );
                }
                Target::Nothing
            }
            target => target,
        }
    }

    pub(super) fn look_up(&mut self, word: &str, span: Span, silent: bool) -> Target {
        let target = self.meaning(word, span, silent);
        let what = match &target {
            Target::Takes(takes) => match takes.as_slice() {
                [one] => Some(Referent::Ingredient(*one)),
                _ => None,
            },
            Target::Part(part) => Some(Referent::Part(*part)),
            _ => None,
        };
        self.flow.named.extend(what.map(|what| Named { span, what }));
        target
    }

    fn meaning(&mut self, word: &str, span: Span, silent: bool) -> Target {
        let lower = word.to_lowercase();
        let bare = lower.trim_start_matches("the ").trim();
        if is_child(bare) {
            return if self.child_taken.is_some() { Target::Child } else { Target::Current };
        }
        match bare {
            "everything" | "all" | "all ingredients" | "all the ingredients" | "ingredients" => {
                return Target::Everything;
            }
            "rest"
            | "remaining"
            | "others"
            | "rest of ingredients"
            | "rest of the ingredients"
            | "remaining ingredients" => return Target::Rest,
            _ if self.makes_word(bare) => return Target::Current,
            "batter" | "dough" | "porridge" if self.matching(bare).is_empty() && self.part_named(bare).is_none() => {
                return self.floury_pot().map_or(Target::Current, Target::Takes);
            }
            "it" | "them" | "mixture" | "mix" | "pot" | "food" | "mash" | "stew"
            | "soup" | "paste" | "family pot" | "purée" | "puree" | "all together" | "together" | "well"
                // A take or part of that very name comes first.
                if self.matching(bare).is_empty() && self.part_named(bare).is_none() => {
                    return Target::Current;
                }
            _ => {}
        }
        for name in strip_articles(bare) {
            // A part may be called as its own take is: `part rice` with rice in it.
            let found = self.matching(name);
            let own_take = !found.is_empty();
            if let Some(part) = self.part_named(name).filter(|part| *part != self.part || !own_take) {
                if part >= self.part {
                    if !silent && part > self.part {
                        self.before(
                            word,
                            span,
                            self.dish.parts.get(part).and_then(|part| part.name.as_ref()).map(|name| name.span),
                        );
                    }
                    if part > self.part {
                        return Target::Unknown;
                    }
                    // A part's own name, said inside it, is the pot at hand.
                    self.flow.named.push(Named { span, what: Referent::Part(part) });
                    return Target::Current;
                }
                return Target::Part(part);
            }
            match found.as_slice() {
                [] => {}
                [one] => {
                    let at = *one;
                    let below =
                        self.things.get(at).filter(|thing| thing.span.start > span.start).map(|thing| thing.span);
                    if let (Some(below), false) = (below, silent) {
                        self.before(word, span, Some(below));
                    }
                    return Target::Takes(vec![at]);
                }
                several => {
                    let same: BTreeSet<&str> =
                        several.iter().filter_map(|at| self.normal.get(*at).map(String::as_str)).collect();
                    // The same food twice (oil for frying, oil to finish) under
                    // one name: the first that is not used yet.
                    if same.len() == 1 {
                        let next = several.iter().copied().find(|at| !self.is_used(*at)).or(several.first().copied());
                        return Target::Takes(next.into_iter().collect());
                    }
                    if !silent {
                        let names: Vec<String> = several
                            .iter()
                            .filter_map(|at| self.things.get(*at))
                            .map(|thing| format!("`{}`", thing.name))
                            .collect();
                        let mut message = Diagnostic::new(
                            Code::MethodUnknownIngredient,
                            span,
                            format!("{} may be any of several ingredients", quote(word)),
                        )
                        .help(format!("write one of {}", names.join(", ")));
                        for thing in several.iter().filter_map(|at| self.things.get(*at)) {
                            message = message.choice(span, thing.name.clone());
                        }
                        self.sink.push(message);
                    }
                    for at in several.iter().copied() {
                        self.touch(at);
                    }
                    return Target::Unknown;
                }
            }
        }
        if is_water(bare) || is_vessel(bare) {
            return Target::Nothing;
        }
        if silent {
            return Target::Unknown;
        }
        // A take that could not be read may have been this one.
        let words: Vec<&str> = bare.split_whitespace().filter(|word| word.chars().count() > 2).collect();
        let torn = ["take", "family", "part", "tkae"];
        let header = &self.dish.header;
        if words.iter().any(|word| header.torn_mentions(&torn, word))
            || header.torn.iter().any(|line| {
                !matches!(line.keyword.as_str(), "step" | "tip" | "note" | "serve" | "store" | "caution")
                    && words.iter().any(|word| line.text.contains(word))
            })
        {
            return Target::Unknown;
        }
        // A food that could not be found under its own misspelt name is still
        // meant by a step that names it rightly.
        let lost = (0..self.things.len()).find(|at| {
            self.things.get(*at).is_some_and(|thing| {
                thing.lost && strip_articles(bare).any(|name| did_you_mean(name, [thing.name.as_str()]).is_some())
            })
        });
        if let Some(at) = lost {
            return Target::Takes(vec![at]);
        }
        let elsewhere = self.things.iter().find(|thing| {
            thing.part != self.part && strip_articles(bare).any(|name| normal_name(name) == normal_name(&thing.name))
        });
        let names: Vec<String> =
            self.in_scope().filter_map(|at| self.things.get(at)).map(|thing| thing.name.clone()).collect();
        let parts: Vec<&str> =
            self.dish.parts.iter().filter_map(|part| part.name.as_ref()).map(|name| name.value.as_str()).collect();
        let mut message =
            Diagnostic::new(Code::MethodUnknownIngredient, span, format!("{} was not taken", quote(word)));
        if let Some(thing) = elsewhere {
            let part = self.dish.parts.get(thing.part).and_then(|part| part.name.as_ref());
            let part_name = part.map(|name| name.value.clone()).unwrap_or_default();
            message = message
                .label(thing.span, "it belongs to another part")
                .help(format!("use the part by its name, `{part_name}`"));
            if !part_name.is_empty() {
                message = message.fix(span, part_name);
            }
        } else if let Some(near) = did_you_mean(bare, names.iter().map(String::as_str).chain(parts)) {
            message = message.help(format!("did you mean `{near}`?")).fix(span, near);
            // It is used after all, under a slip of the pen.
            for at in self.matching(near) {
                self.touch(at);
            }
        } else {
            message = message.help(format!(
                "add a `take` line for it, or write one of {}",
                names
                    .iter()
                    .map(|name| format!("`{name}`"))
                    .chain(["`everything`".to_owned()])
                    .collect::<Vec<_>>()
                    .join(", ")
            ));
            for name in names {
                message = message.choice(span, name);
            }
        }
        self.flow.torn = true;
        self.sink.push(message);
        Target::Unknown
    }

    /// What a batter or a porridge means when the pot at hand holds no grain:
    /// the grain that was mixed before.
    fn floury_pot(&self) -> Option<Vec<usize>> {
        let grain = |at: &usize| {
            self.things.get(*at).is_some_and(|thing| {
                matches!(thing.class, FoodClass::Flour | FoodClass::Cereal | FoodClass::Oats | FoodClass::Rice)
            })
        };
        if self.members_of_current().iter().any(grain) {
            return None;
        }
        let first = self.in_scope().filter(|at| self.is_used(*at)).find(grain)?;
        let group = self.group.get(first)?;
        Some(self.in_scope().filter(|at| self.is_used(*at) && self.group.get(*at) == Some(group)).collect())
    }

    /// "balls" in a dish that makes ten balls.
    pub(super) fn makes_word(&self, word: &str) -> bool {
        let Some(makes) = &self.dish.makes else { return false };
        let ast::Makes::Pieces(_, pieces) = &makes.value else { return false };
        let (wanted, own) = (normal_name(word), normal_name(pieces));
        self.matching(word).is_empty() && (wanted == own || own.split(' ').next_back() == Some(wanted.as_str()))
    }

    pub(super) fn before(&mut self, word: &str, span: Span, other: Option<Span>) {
        let mut message =
            Diagnostic::new(Code::MethodUsedBeforeTaken, span, format!("{} is used before it is taken", quote(word)))
                .help("move the step below it, or the line above this step");
        if let Some(other) = other {
            message = message.label(other, "it comes only here");
        }
        self.sink.push(message);
    }

    pub(super) fn part_named(&self, name: &str) -> Option<usize> {
        if self.normal_parts.iter().all(Option::is_none) {
            return None;
        }
        let wanted = normal_name(name);
        self.normal_parts.iter().position(|part| part.as_ref() == Some(&wanted))
    }

    /// Takes in scope that answer to a word: by the whole name, else by its
    /// last or first words.
    pub(super) fn matching(&self, name: &str) -> Vec<usize> {
        let wanted = normal_name(name);
        if wanted.is_empty() {
            return Vec::new();
        }
        let exact: Vec<usize> = self.in_scope().filter(|at| self.normal.get(*at) == Some(&wanted)).collect();
        if !exact.is_empty() {
            return exact;
        }
        self.in_scope()
            .filter(|at| {
                self.normal.get(*at).is_some_and(|own| {
                    own.strip_suffix(&wanted).is_some_and(|rest| rest.ends_with(' '))
                        || own.strip_prefix(&wanted).is_some_and(|rest| rest.starts_with(' '))
                        || own.split(' ').any(|word| word == wanted)
                })
            })
            .collect()
    }

    pub(super) fn names_child(&self, action: &Action) -> bool {
        action.objects.iter().any(|object| is_child(&object.value))
    }

    /// Takes that a step of this part may name: its own, and those above any
    /// part.
    pub(super) fn in_scope(&self) -> impl Iterator<Item = usize> + '_ {
        let part = self.part;
        self.things.iter().enumerate().filter(move |(_, thing)| thing.part == part || thing.part == 0).map(|(at, _)| at)
    }

    pub(super) fn of_part(&self, part: usize) -> Vec<usize> {
        let own: Vec<bool> = self.things.iter().map(|thing| thing.part == part && !thing.family).collect();
        // A part may hold takes of the parts it used.
        let groups: HashSet<usize> =
            (0..own.len()).filter(|at| is(&own, *at)).filter_map(|at| self.group.get(at).copied()).collect();
        (0..own.len())
            .filter(|at| {
                is(&own, *at) || (self.is_used(*at) && self.group.get(*at).is_some_and(|group| groups.contains(group)))
            })
            .collect()
    }

    /// What the actions still to come in this part name, a mark for each take.
    pub(super) fn named_later(&self) -> Vec<bool> {
        let mut later = vec![false; self.things.len()];
        let mut seen: HashSet<&str> = HashSet::new();
        for word in self.to_come.iter().filter(|word| seen.insert(word.as_str())) {
            let known = self.meant.borrow().get(word).cloned();
            let meant = known.unwrap_or_else(|| {
                let found = strip_articles(word).map(|name| self.matching(name)).find(|found| !found.is_empty());
                let meant: Rc<[usize]> = found.unwrap_or_default().into();
                self.meant.borrow_mut().insert(word.clone(), Rc::clone(&meant));
                meant
            });
            for at in meant.iter() {
                if let Some(mark) = later.get_mut(*at) {
                    *mark = true;
                }
            }
        }
        later
    }

    /// Everything in the pot so far, and what no later step names: a paste
    /// that is stirred in at the end was not boiled with everything.
    pub(super) fn everything(&mut self) -> Vec<usize> {
        let later = self.named_later();
        let mut all: BTreeSet<usize> =
            self.in_scope().filter(|at| !self.is_family(*at) && (self.is_used(*at) || !is(&later, *at))).collect();
        let last = self.part + 1 == self.dish.parts.len();
        if last && self.part > 1 {
            let words: HashSet<String> =
                self.to_come.iter().flat_map(|word| strip_articles(word)).map(normal_name).collect();
            for part in 1..self.part {
                let name = self.normal_parts.get(part).and_then(Option::as_ref);
                let named_later = name.is_some_and(|name| words.contains(name));
                if !named_later && !self.part_used.get(part).copied().unwrap_or(true) {
                    if let Some(used) = self.part_used.get_mut(part) {
                        *used = true;
                    }
                    all.extend(self.of_part(part));
                }
            }
        }
        all.extend(self.members_of_current());
        // Thrown away is gone.
        all.retain(|at| !self.flow.journeys.get(*at).is_some_and(|journey| journey.discarded));
        all.into_iter().collect()
    }

    pub(super) fn members_of_current(&self) -> Vec<usize> {
        let Some(current) = self.current else {
            return Vec::new();
        };
        (0..self.things.len())
            .filter(|at| self.group.get(*at) == Some(&current) && self.is_used(*at))
            .filter(|at| !self.flow.journeys.get(*at).is_some_and(|journey| journey.discarded))
            .collect()
    }
}

/// The mark of a place.
pub(super) fn is(marks: &[bool], at: usize) -> bool {
    marks.get(at).copied().unwrap_or(false)
}

/// "child portion", "the child's portion", "portion for the child"
pub(super) fn is_child(word: &str) -> bool {
    word.split(|c: char| !c.is_alphabetic())
        .any(|part| part.eq_ignore_ascii_case("child") || part.eq_ignore_ascii_case("baby"))
}

pub(super) fn is_water(word: &str) -> bool {
    word.split(|c: char| !c.is_alphabetic()).next_back().is_some_and(|last| last == "water")
        || word.split(' ').any(|part| part == "water")
}

pub(super) fn is_vessel(word: &str) -> bool {
    const VESSELS: [&str; 17] = [
        "pot", "pan", "bowl", "steamer", "oven", "lid", "cloth", "plate", "leaf", "basket", "sieve", "jar", "bag",
        "steam", "mortar", "spoon", "fire",
    ];
    word.split(' ').any(|part| VESSELS.contains(&part))
}

/// Words that may stand before an ingredient's name without being part of it.
pub(super) const BEFORE_NAMES: &[&str] = &[
    "the",
    "a",
    "an",
    "all",
    "some",
    "half",
    "quarter",
    "of",
    "remaining",
    "rest",
    "most",
    "little",
    "both",
    "each",
    "more",
    "your",
    "other",
    "hot",
    "warm",
    "cold",
    "cool",
    "cooked",
    "boiled",
    "soaked",
    "drained",
    "mashed",
    "chopped",
    "peeled",
    "grated",
    "sliced",
    "washed",
    "ground",
    "pounded",
    "fresh",
    "clean",
    "beaten",
    "whisked",
    "fried",
    "roasted",
    "toasted",
    "steamed",
    "soft",
    "softened",
    "dry",
    "dried",
    "raw",
    "sprouted",
    "soured",
    "diced",
    "cubed",
    "minced",
    "flaked",
    "boned",
    "shredded",
    "melted",
    "sieved",
    "strained",
    "cooled",
    "whole",
    "ripe",
    "prepared",
    "into",
    "onto",
    "over",
    "cup",
    "cups",
    "tbsp",
    "tsp",
];

/// The word itself, then without what may stand before a name: "half of the
/// oil" → "of the oil" → "the oil" → "oil". Other words are part of a name and
/// stay: sunflower oil is not oil.
pub(super) fn strip_articles(word: &str) -> impl Iterator<Item = &str> {
    let mut rest = Some(word.trim());
    std::iter::from_fn(move || {
        let now = rest?;
        rest = now
            .split_once(' ')
            .filter(|(head, _)| {
                BEFORE_NAMES.contains(&head.to_lowercase().as_str()) || head.starts_with(char::is_numeric)
            })
            .map(|(_, tail)| tail.trim_start())
            .filter(|tail| !tail.is_empty());
        Some(now)
    })
}
