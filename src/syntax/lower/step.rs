//! `step` lines: actions with objects, times and cues.

use super::*;

impl Lower<'_, '_> {
    pub(super) fn step(&mut self, inner: pest::iterators::Pairs<'_, Rule>, whole: Span) -> Step {
        let mut step = Step { actions: Vec::new(), prose: None, translations: Vec::new(), span: whole };
        for part in inner {
            match part.as_rule() {
                Rule::head => {
                    for action in part.into_inner() {
                        if !self.counts(span(&action)) {
                            break;
                        }
                        self.action(action, &mut step.actions);
                    }
                }
                Rule::prose => step.prose = Some(text_of(&part)),
                _ => {}
            }
        }
        step
    }

    pub(super) fn action(&mut self, pair: Pair<'_, Rule>, actions: &mut Vec<Action>) {
        let whole = span(&pair);
        let mut action = Action {
            process: Spanned::new(String::new(), whole),
            objects: Vec::new(),
            with: Vec::new(),
            medium: None,
            duration: None,
            heat: None,
            celsius: None,
            until: None,
            unattended: false,
            torn: false,
            span: whole,
        };
        for part in pair.into_inner() {
            let place = span(&part);
            match part.as_rule() {
                Rule::process => {
                    let word = unfolded(part.as_str());
                    let word = small(&word);
                    action.process = Spanned::new(word.strip_suffix(" in").unwrap_or(&word).to_owned(), place);
                }
                Rule::objects => action.objects = self.names(part),
                Rule::with_clause => {
                    if let Some(objects) = part.into_inner().next() {
                        let names = self.names(objects);
                        action.with.extend(names);
                    }
                }
                Rule::in_clause => action.medium = part.into_inner().next().map(|medium| placed(&medium)),
                Rule::for_clause => {
                    if let Some(duration) = part.into_inner().next() {
                        action.duration = self.duration(duration).map(|value| Spanned::new(value, place));
                        action.torn |= action.duration.is_none();
                    }
                }
                Rule::bare_overnight => action.duration = Some(Spanned::new(Duration::Overnight, place)),
                Rule::for_whom => {
                    let child = part.as_str().to_lowercase();
                    if child.ends_with("child") || child.ends_with("children") || child.ends_with("baby") {
                        action.objects.push(Spanned::new("child portion".to_owned(), place));
                    }
                }
                Rule::on_clause => {
                    action.heat =
                        part.into_inner().next().map(|level| match level.as_str().trim().to_lowercase().as_str() {
                            "low" => HeatLevel::Low,
                            "high" => HeatLevel::High,
                            _ => HeatLevel::Medium,
                        });
                }
                Rule::at_clause => self.temperature(part, &mut action),
                Rule::until_clause => action.until = part.into_inner().next().map(|cue| placed(&cue)),
                Rule::unattended => action.unattended = true,
                _ => {}
            }
        }
        bare_overnight(&mut action);
        actions.push(action);
    }

    fn names(&mut self, objects: Pair<'_, Rule>) -> Vec<Spanned<String>> {
        objects.into_inner().take_while(|object| self.counts(span(object))).map(|object| placed(&object)).collect()
    }

    pub(super) fn temperature(&mut self, pair: Pair<'_, Rule>, action: &mut Action) {
        let place = span(&pair);
        let mut value = None;
        let mut fahrenheit = false;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::number => value = self.number(&part),
                Rule::degrees => fahrenheit = part.as_str().to_lowercase().ends_with('f'),
                _ => {}
            }
        }
        let Some(value) = value else { return };
        if fahrenheit {
            let celsius = ((value.value() - 32.0) * 5.0 / 9.0).round();
            self.sink.push(
                Diagnostic::new(Code::MeasureUnknownUnit, place, "temperatures are given in degrees Celsius")
                    .help(format!("write `at {celsius} C`"))
                    .fix(place, format!("at {celsius} C")),
            );
            return;
        }
        action.celsius = Some(value.value().round() as i64);
    }

    pub(super) fn duration(&mut self, pair: Pair<'_, Rule>) -> Option<Duration> {
        let place = span(&pair);
        let mut spans = Vec::with_capacity(2);
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::overnight => return Some(Duration::Overnight),
                Rule::whistles => {
                    let range = part.into_inner().next()?;
                    let range = self.range(range)?;
                    if range.high.is_zero() {
                        self.sink.push(
                            Diagnostic::new(Code::SyntaxBadQuantity, place, "a time of nothing")
                                .help("write how many whistles, such as `3 whistles`"),
                        );
                        return None;
                    }
                    return Some(Duration::Whistles(range));
                }
                Rule::long_span => spans.push(self.long_span(part)?),
                _ => {}
            }
        }
        let (low, unit) = spans.first().map(|(range, unit)| (range.low, *unit))?;
        let high = spans.last().map(|(range, _)| range.high)?;
        if low > high {
            self.sink.push(
                Diagnostic::new(Code::SyntaxReversedRange, place, "the time runs from long to short")
                    .help("write the shorter time first"),
            );
            return None;
        }
        if high.is_zero() {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, "a time of nothing")
                    .help("write how long it takes, such as `10 min`"),
            );
            return None;
        }
        Some(Duration::Minutes { low, high, unit })
    }

    pub(super) fn long_span(&mut self, pair: Pair<'_, Rule>) -> Option<(Range, TimeUnit)> {
        let place = span(&pair);
        let mut range: Option<Range> = None;
        let mut number = None;
        let mut unit = TimeUnit::Minute;
        let mut first = true;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::range => range = Some(self.range(part)?),
                Rule::number => number = Some(self.number(&part)?),
                Rule::time_unit => {
                    let (this, minutes) = time_unit(part.as_str())?;
                    let scaled = if first {
                        unit = this;
                        first = false;
                        let range_now = range?;
                        Range { low: range_now.low.times(minutes)?, high: range_now.high.times(minutes)? }
                    } else {
                        let extra = number?.times(minutes)?;
                        let so_far = range?;
                        Range { low: so_far.low.plus(extra)?, high: so_far.high.plus(extra)? }
                    };
                    range = Some(scaled);
                }
                _ => {}
            }
        }
        let range = range?;
        // A month in the pot is a slip of the unit.
        if range.high > Exact::whole(60 * 24 * 31) {
            self.sink.push(
                Diagnostic::new(Code::SyntaxNumberTooLarge, place, "a time of more than a month")
                    .help("write `min`, `h` or `days` after the number"),
            );
            return None;
        }
        Some((range, unit))
    }
}

pub(super) fn time_unit(word: &str) -> Option<(TimeUnit, Exact)> {
    let word = small(word.trim());
    Some(if word.starts_with('s') {
        (TimeUnit::Second, Exact::fraction(1, 60)?)
    } else if word.starts_with('m') {
        (TimeUnit::Minute, Exact::whole(1))
    } else if word.starts_with('h') {
        (TimeUnit::Hour, Exact::whole(60))
    } else {
        (TimeUnit::Day, Exact::whole(24 * 60))
    })
}

/// `soak beans overnight`: the word is read as the end of the last name.
fn bare_overnight(action: &mut Action) {
    const WORD: &str = " overnight";
    if action.duration.is_some() {
        return;
    }
    let Some(last) = action.with.last_mut().or(action.objects.last_mut()) else { return };
    let Some(name) = last.value.strip_suffix(WORD) else { return };
    let end = last.span.end.saturating_sub(WORD.len());
    let word = Span::new(end + 1, last.span.end);
    *last = Spanned::new(name.trim_end().to_owned(), Span::new(last.span.start, end));
    action.duration = Some(Spanned::new(Duration::Overnight, word));
}
