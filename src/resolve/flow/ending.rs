//! After the last step: what was never used, what came too late for the
//! child, and what the family's share put into the child's bowl.

use super::*;

impl Walk<'_> {
    pub(super) fn finish(mut self) -> Flow {
        let no_steps = self.dish.parts.iter().all(|part| part.steps.is_empty());
        let torn_steps = self.dish.header.torn.iter().any(|line| !matches!(line.keyword.as_str(), "take" | "family"));
        self.flow.torn |= torn_steps;
        if no_steps {
            return self.flow;
        }
        for (at, thing) in self.things.iter().enumerate() {
            let used = self.flow.used.get(at).copied().unwrap_or(false);
            if !used {
                if let Some(reached) = self.flow.child.get_mut(at) {
                    *reached = !thing.family;
                }
                let name = thing.name.to_lowercase();
                let mentioned = torn_steps
                    && self.dish.header.torn.iter().any(|line| {
                        !matches!(line.keyword.as_str(), "take" | "family")
                            && (line.text.contains(&name)
                                || name.split(' ').any(|word| word.len() > 3 && line.text.contains(word))
                                || line.text.contains("everything"))
                    });
                if !mentioned {
                    self.sink.push(
                        Diagnostic::new(
                            Code::MethodUnusedIngredient,
                            thing.span,
                            format!("{} is taken but no step uses it", quote(&thing.name)),
                        )
                        .help(format!("use it in a step, such as `step add {}`, or remove the line", thing.name)),
                    );
                }
                continue;
            }
            if self.flow.torn {
                // A step that could not be read may have set the portion aside.
                continue;
            }
            if thing.family {
                let in_child = self.child_taken.is_none() || self.child.contains(&at);
                if in_child {
                    let mut message = Diagnostic::new(
                        Code::MethodFamilyBeforeSetAside,
                        thing.span,
                        format!("{} is for the family but goes into the child's food", quote(&thing.name)),
                    );
                    message = match self.child_taken {
                        Some(span) => message
                            .label(span, "the child's portion is set aside only here")
                            .help("add it after this step, or write `take` instead of `family`"),
                        None => message.help("add `step set aside child portion` before the step that uses it"),
                    };
                    self.sink.push(message);
                }
            } else if self.late.contains(&at) && !self.child.contains(&at) {
                let mut message = Diagnostic::new(
                    Code::MethodUsedAfterSetAside,
                    thing.span,
                    format!("{} goes in after the child's portion is set aside", quote(&thing.name)),
                )
                .help("write `family` instead of `take`, or use it before the portion is set aside")
                // The line begins with its keyword.
                .fix(Span::new(thing.span.start, thing.span.start + "take".len()), "family");
                if let Some(span) = self.child_taken {
                    message = message.label(span, "the child's portion is set aside here");
                }
                self.sink.push(message);
            }
        }
        let last = self.dish.parts.len().saturating_sub(1);
        for (at, part) in self.dish.parts.iter().enumerate() {
            let Some(name) = &part.name else { continue };
            let used = self.part_used.get(at).copied().unwrap_or(false);
            if at < last && !used && !(part.takes.is_empty() && part.steps.is_empty()) {
                let lower = name.value.to_lowercase();
                if torn_steps && self.dish.header.torn.iter().any(|line| line.text.contains(&lower)) {
                    continue;
                }
                self.sink.push(
                    Diagnostic::new(
                        Code::MethodUnusedPart,
                        name.span,
                        format!("the part {} is made and never used", quote(&name.value)),
                    )
                    .help(format!("use it by its name in a later step, such as `step add {}`", name.value)),
                );
            }
        }
        for (at, journey) in self.flow.journeys.iter().enumerate() {
            if journey.discarded
                && let Some(reached) = self.flow.child.get_mut(at)
            {
                *reached = false;
            }
        }
        self.flow
    }
}
