//! Rows of the yield table and their reader, which `build.rs` shares: it
//! includes `larder/row.rs` as `row`, `retention/table.rs` as
//! `retention_table` and this file as `yields_table`.

use super::retention_table::{Heat, class_from_word, records};
use super::row::FoodClass;
use serde::{Deserialize, Serialize};

/// What changes the weight of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Process {
    Heat(Heat),
    /// Soaked in water that is poured off.
    Soak,
    Sprout,
    /// A pot whose own water is among the ingredients: what evaporates from
    /// the whole pot.
    Pot,
}

impl Process {
    /// The word used in the table.
    pub fn word(self) -> &'static str {
        match self {
            Process::Heat(heat) => heat.word(),
            Process::Soak => "soak",
            Process::Sprout => "sprout",
            Process::Pot => "pot",
        }
    }

    /// The process of a word.
    pub fn from_word(word: &str) -> Option<Process> {
        [Process::Soak, Process::Sprout, Process::Pot]
            .into_iter()
            .chain(Heat::ALL.iter().copied().map(Process::Heat))
            .find(|process| process.word() == word)
    }
}

/// One row of `yields.csv`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct YieldRow {
    pub class: FoodClass,
    pub process: Process,
    /// Weight after the process over weight before it.
    pub factor: f64,
    /// Where the factor comes from; `none` for an estimate.
    pub source: String,
    /// `computed`, or `common practice, no source`.
    pub status: String,
}

/// Reads `yields.csv`. The rows come back ordered by class and process, and
/// no pair occurs twice.
pub fn parse_yields(text: &str) -> Result<Vec<YieldRow>, String> {
    let mut rows = Vec::new();
    for (line, record) in records(text, &["class", "process", "factor", "source", "status"])? {
        let [class, process, factor, source, status] = record.as_slice() else {
            return Err(format!("line {line}: five fields are wanted"));
        };
        if source.is_empty() || status.is_empty() {
            return Err(format!("line {line}: a factor needs its source and its status"));
        }
        rows.push(YieldRow {
            class: class_from_word(class).ok_or_else(|| format!("line {line}: `{class}` is not a food class"))?,
            process: Process::from_word(process).ok_or_else(|| format!("line {line}: `{process}` is not a process"))?,
            factor: match factor.parse::<f64>() {
                Ok(factor) if factor > 0.0 && factor < 20.0 => factor,
                _ => return Err(format!("line {line}: `{factor}` is not a yield factor")),
            },
            source: source.clone(),
            status: status.clone(),
        });
    }
    rows.sort_by_key(|row| (row.class, row.process));
    if let Some((class, process)) = rows.windows(2).find_map(|pair| match pair {
        [a, b] if (a.class, a.process) == (b.class, b.process) => Some((a.class, a.process)),
        _ => None,
    }) {
        return Err(format!("{}, {} occurs twice", class.word(), process.word()));
    }
    Ok(rows)
}

/// The content of `yields.postcard`.
pub fn encode_yields(csv: &str) -> Result<Vec<u8>, String> {
    postcard::to_stdvec(&parse_yields(csv)?).map_err(|error| error.to_string())
}
