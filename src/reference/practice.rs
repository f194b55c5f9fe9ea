//! What a workspace decides beside its tables, and what day it is: handed to
//! the rules as data, since the core reads neither files nor clocks.

use time::Date;

use crate::diagnostic::rules::RuleBook;
use crate::reference::larder::Region;
use crate::reference::season::Seasons;

/// Age of a review, in months, from which it is stale by default: a choice of
/// this project, no source.
pub const REVIEW_MONTHS: u16 = 24;

/// What a workspace decides beside its tables.
#[derive(Debug, Clone)]
pub struct Practice {
    /// Rules that it switches off or judges otherwise.
    pub rules: RuleBook,
    /// Age of a review, in months, from which it is stale.
    pub review_months: u16,
    /// The day that reviews are compared with; without one they are not.
    pub today: Option<Date>,
    /// Language of prose whose document does not say.
    pub language: String,
    /// Only foods of this region are proposed; of any, where it is not said.
    pub region: Option<Region>,
    pub seasons: Seasons,
}

impl Default for Practice {
    fn default() -> Self {
        Self {
            rules: RuleBook::default(),
            review_months: REVIEW_MONTHS,
            today: None,
            language: "en".to_owned(),
            region: None,
            seasons: Seasons::default(),
        }
    }
}
