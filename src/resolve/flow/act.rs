//! One thing that was done to a food, in its order on the food's journey.

use crate::ast::{Action, HeatLevel};
use crate::reference::process::Process;
use crate::source::Span;

#[derive(Debug, Clone, PartialEq)]
pub struct Act {
    pub process: &'static Process,
    /// Shortest and longest time, where the author gives one.
    pub minutes: Option<(f64, f64)>,
    pub celsius: Option<i64>,
    pub low: bool,
    /// What it was done in, lower case: "boiling water", "fridge".
    pub medium: String,
    pub span: Span,
}

impl Act {
    pub fn new(process: &'static Process, action: &Action, minutes: Option<(f64, f64)>) -> Self {
        Self {
            process,
            minutes,
            celsius: action.celsius,
            low: action.heat == Some(HeatLevel::Low),
            medium: action.medium.as_ref().map(|medium| medium.value.to_lowercase()).unwrap_or_default(),
            span: action.span,
        }
    }

    /// Whether the medium names one of these words.
    pub fn medium_says(&self, words: &[&str]) -> bool {
        self.medium.split(|c: char| !c.is_alphabetic()).any(|word| words.contains(&word))
    }

    /// Longest minutes; none where nothing is said.
    pub fn longest(&self) -> f64 {
        self.minutes.map_or(0.0, |(_, high)| high)
    }
}
