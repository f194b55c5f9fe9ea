//! Numbers, ranges, ages and amounts: text to exact fractions, or a message
//! at the place of the slip.

use super::*;

impl Lower<'_, '_> {
    pub(super) fn number(&mut self, pair: &Pair<'_, Rule>) -> Option<Exact> {
        let text = unfolded(pair.as_str());
        let place = span(pair);
        if text.starts_with(['-', '−', '+']) {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} has a sign", quote(&text)))
                    .help("write the number without a sign")
                    .fix(place, text.trim_start_matches(['-', '−', '+'])),
            );
            return None;
        }
        let fault = match parse_number(&text) {
            Ok(value) if value.value() <= number::LARGEST as f64 => return Some(value),
            Ok(_) => NumberFault::TooLarge,
            Err(fault) => fault,
        };
        let message = match fault {
            NumberFault::CommaDecimal(pointed) => {
                Diagnostic::new(Code::SyntaxCommaDecimal, place, format!("{} has a decimal comma", quote(&text)))
                    .help(format!("write it with a point: `{pointed}`"))
                    .fix(place, pointed)
            }
            NumberFault::ZeroDenominator => {
                Diagnostic::new(Code::SyntaxZeroDenominator, place, format!("{} divides by zero", quote(&text)))
                    .help("write a fraction such as `1/2`")
            }
            NumberFault::TooLarge => {
                Diagnostic::new(Code::SyntaxNumberTooLarge, place, format!("{} is too large a number", quote(&text)))
                    .help(format!("the largest number that can be written is {}", number::LARGEST))
            }
            NumberFault::Unreadable => {
                Diagnostic::new(Code::SyntaxBadQuantity, place, format!("{} is no number", quote(&text)))
                    .help("write `2`, `0.5`, `1/2`, `1 1/2` or `½`")
            }
        };
        self.sink.push(message);
        None
    }

    pub(super) fn range(&mut self, pair: Pair<'_, Rule>) -> Option<Range> {
        let place = span(&pair);
        let mut numbers = pair.into_inner().filter(|part| part.as_rule() == Rule::number);
        let first = numbers.next()?;
        let low = self.number(&first)?;
        let Some(second) = numbers.next() else { return Some(Range::exactly(low)) };
        let high = self.number(&second)?;
        if low <= high {
            return Some(Range { low, high });
        }
        let (a, b) = (first.as_str().trim(), second.as_str().trim());
        // `1-1/2` is how some people write one and a half.
        let mixed = low.denominator() == 1 && high < Exact::whole(1) && b.contains(['/', '⁄']);
        let mut message = Diagnostic::new(
            Code::SyntaxReversedRange,
            place,
            format!("the range runs backwards, from {low} to {high}"),
        );
        message = if mixed {
            message
                .help(format!("for one number write `{a} {b}`; for a range write `{b} to {a}`"))
                .choice(place, format!("{a} {b}"))
                .choice(place, format!("{b} to {a}"))
        } else {
            message.help(format!("write `{b} to {a}`")).fix(place, format!("{b} to {a}"))
        };
        self.sink.push(message);
        None
    }

    pub(super) fn measure(pair: Pair<'_, Rule>) -> Measure {
        let mut measure = Measure::of(Unit::Piece(crate::quantity::PieceUnit::Piece));
        for part in pair.into_inner() {
            let word = small(part.as_str().trim());
            match part.as_rule() {
                Rule::unit => {
                    if let Some(unit) = Unit::from_word(&word) {
                        measure.unit = unit;
                    }
                }
                Rule::size => {
                    measure.size = Some(match &*word {
                        "small" => Size::Small,
                        "large" => Size::Large,
                        _ => Size::Medium,
                    });
                }
                Rule::heap => {
                    measure.heap = Some(if word == "level" { Heap::Level } else { Heap::Heaped });
                }
                _ => {}
            }
        }
        measure
    }

    pub(super) fn amount(&mut self, pair: Pair<'_, Rule>) -> Amount {
        let place = span(&pair);
        let mut range = Some(Range::exactly(Exact::whole(1)));
        let mut numbered = false;
        let mut measure = None;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::range => {
                    numbered = true;
                    range = self.range(part);
                }
                Rule::measure => measure = Some(Self::measure(part)),
                Rule::bare => {
                    let word = part.as_str().split_whitespace().next().unwrap_or_default();
                    measure = Unit::from_word(word).map(Measure::of);
                }
                _ => {}
            }
        }
        let place =
            Span::new(place.start, place.start + self.text.get(place.range()).unwrap_or_default().trim_end().len());
        match (range, measure) {
            (None, _) => Amount::Unreadable(place),
            (Some(range), _) if numbered && range.high.is_zero() => {
                self.sink.push(
                    Diagnostic::new(Code::SyntaxBadQuantity, place, "an amount of nothing")
                        .help("write how much goes in, or remove the line"),
                );
                Amount::Unreadable(place)
            }
            (Some(range), Some(measure)) => Amount::Measured { range, measure, span: place },
            (Some(range), None) => Amount::Count { range, span: place },
        }
    }

    pub(super) fn ages(&mut self, pair: Pair<'_, Rule>) -> Option<Ages> {
        let place = span(&pair);
        let open = pair.as_str().get(..4).is_some_and(|start| start.eq_ignore_ascii_case("from"));
        let mut values = Vec::with_capacity(2);
        let mut months = 1;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::age => {
                    let number = part.into_inner().next()?;
                    let value = self.number(&number)?;
                    if value.denominator() != 1 {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&number),
                                format!("{} is no whole number of months", quote(number.as_str())),
                            )
                            .help("ages are completed months, such as `6 to 8 months`"),
                        );
                        return None;
                    }
                    values.push(value);
                }
                Rule::months_word => {
                    let word = part.as_str().to_lowercase();
                    if word.starts_with("week") {
                        self.sink.push(
                            Diagnostic::new(
                                Code::SyntaxBadQuantity,
                                span(&part),
                                "ages are given in months, not weeks",
                            )
                            .help("write completed months, such as `6 to 8 months`"),
                        );
                        return None;
                    }
                    months = if word.starts_with("year") { 12 } else { 1 };
                }
                _ => {}
            }
        }
        let mut in_months = Vec::with_capacity(2);
        for value in values {
            let value = value.numerator() * months;
            match u16::try_from(value) {
                Ok(value) if value <= 240 => in_months.push(value),
                _ => {
                    self.sink.push(
                        Diagnostic::new(Code::SyntaxNumberTooLarge, place, format!("{value} months is no young child"))
                            .help("ages are completed months, such as `9 to 23 months`"),
                    );
                    return None;
                }
            }
        }
        match in_months.as_slice() {
            [one] => Some(Ages { from: *one, to: if open { None } else { Some(*one) }, breastfed: None }),
            [from, to] if from > to => {
                self.sink.push(
                    Diagnostic::new(
                        Code::SyntaxReversedRange,
                        place,
                        format!("the ages run backwards, from {from} to {to} months"),
                    )
                    .help(format!("write `{to} to {from} months`"))
                    .fix(place, format!("{to} to {from} months")),
                );
                None
            }
            [from, to] => Some(Ages { from: *from, to: Some(*to), breastfed: None }),
            _ => None,
        }
    }

    pub(super) fn makes(&mut self, pair: Pair<'_, Rule>) -> Option<Makes> {
        let mut range = None;
        let mut measure = None;
        let mut piece = None;
        let mut piece_at = 0;
        let mut portions = false;
        let mut each = None;
        let whole = span(&pair);
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::range => range = Some(self.range(part)?),
                Rule::measure => measure = Some(Self::measure(part)),
                Rule::made_piece => {
                    piece_at = span(&part).start;
                    piece = Some(unfold(part.as_str()));
                }
                Rule::portions_word => portions = true,
                Rule::amount => match self.amount(part) {
                    Amount::Measured { range, measure, .. } => each = Some((range, measure)),
                    Amount::Count { range, .. } => {
                        each = Some((range, Measure::of(Unit::Piece(crate::quantity::PieceUnit::Piece))));
                    }
                    _ => return None,
                },
                _ => {}
            }
        }
        let range = range?;
        if range.high.is_zero() {
            self.sink.push(
                Diagnostic::new(Code::SyntaxBadQuantity, whole, "an amount of nothing")
                    .help("write how much there is, such as `3 cups`"),
            );
            return None;
        }
        Some(match (portions, measure, piece) {
            (true, _, _) => Makes::Portions(range, each),
            (_, Some(measure), _) => Makes::Measured(range, measure),
            (_, None, Some(word)) => {
                let first = word.split(' ').next().unwrap_or_default().to_lowercase();
                let near = did_you_mean(&first, crate::quantity::unit::SPELLINGS.iter().map(|(spelling, _)| *spelling));
                let vessel = crate::quantity::unit::NO_UNITS.contains(&first.as_str());
                if vessel || near.is_some() || range.high.denominator() != 1 {
                    let mut message = Diagnostic::new(
                        Code::MeasureUnknownUnit,
                        whole,
                        format!("{} is no measure that is known here", quote(&word)),
                    );
                    message = match near.filter(|_| !vessel) {
                        Some(near) => {
                            let length = word.split(' ').next().map_or(0, str::len);
                            let place = Span::new(piece_at, piece_at + length);
                            message.help(format!("did you mean `{near}`?")).fix(place, near)
                        }
                        None => message.help("measure it in cups, spoons, mL or grams, or count whole pieces"),
                    };
                    self.sink.push(message);
                    return None;
                }
                Makes::Pieces(range, word)
            }
            _ => return None,
        })
    }

    pub(super) fn cooked(&mut self, pair: Pair<'_, Rule>) -> Option<Cooked> {
        let place = span(&pair);
        match pair.as_rule() {
            Rule::percent => {
                let number = pair.into_inner().next()?;
                let value = self.number(&number)?;
                if value.is_zero() {
                    self.sink.push(
                        Diagnostic::new(Code::SyntaxBadQuantity, place, "a cooked weight of nothing")
                            .help("write the cooked weight in percent of the raw weight, such as `112 %`"),
                    );
                    return None;
                }
                Some(Cooked::Percent(value))
            }
            _ => match self.amount(pair) {
                Amount::Measured { range, measure, .. } if measure.unit.grams().is_some() => {
                    if !range.is_single() {
                        self.sink.push(
                            Diagnostic::new(Code::SyntaxBadQuantity, place, "a measured weight is one number")
                                .help("weigh the cooked dish and write `cooked 420 g`"),
                        );
                        return None;
                    }
                    let scale = match measure.unit {
                        Unit::Kilogram => Exact::whole(1000),
                        Unit::Milligram => Exact::fraction(1, 1000)?,
                        _ => Exact::whole(1),
                    };
                    range.low.times(scale).map(Cooked::Grams)
                }
                Amount::Unreadable(_) => None,
                _ => {
                    self.sink.push(
                        Diagnostic::new(Code::SyntaxBadQuantity, place, "the cooked weight is no weight")
                            .help("write `cooked 420 g`, or percent of the raw weight: `cooked 112 %`"),
                    );
                    None
                }
            },
        }
    }
}
