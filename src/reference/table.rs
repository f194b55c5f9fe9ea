//! A further composition table: CSV with the columns `food`, `name` and one
//! column for each INFOODS tagname, per 100 g edible portion. A blank cell is
//! unknown, never zero; `tr` is a trace, `<0.1` is less than 0.1, `[12]` is 12
//! by estimate. Lines above the heads that begin with `#` are remarks.

use std::collections::HashMap;
use std::fmt;
use std::sync::OnceLock;

use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::csv_rows;
use crate::reference::larder::normal_name;
use crate::reference::nutrient::{COUNT, NUTRIENTS, NutrientId};
use crate::source::Source;

/// Values of one food per 100 g, by nutrient.
pub type Values = Box<[Option<f64>; COUNT]>;

/// What a cell says. A trace and an amount below a limit count as nothing in a
/// sum, which is then a lower bound: a claim may rest on it, a limit may not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    Known(f64),
    /// The table's own estimate, or borrowed by it: `[12]`.
    Estimated(f64),
    /// There, but too little to be measured: `tr`.
    Trace,
    /// Less than what could be measured: `<0.1`.
    Below(f64),
}

impl Amount {
    /// The figure that a sum may take; none for a trace.
    pub fn value(self) -> Option<f64> {
        match self {
            Self::Known(value) | Self::Estimated(value) => Some(value),
            Self::Trace | Self::Below(_) => None,
        }
    }

    /// Reads a cell of a normalised table; blank cells are no amount.
    pub fn from_cell(cell: &str) -> Option<Self> {
        let number = |text: &str| {
            let starts = text.starts_with(|c: char| c.is_ascii_digit() || c == '.');
            text.parse::<f64>().ok().filter(|value| starts && value.is_finite() && (0.0..=1e9).contains(value))
        };
        if cell == "tr" {
            return Some(Self::Trace);
        }
        if let Some(bound) = cell.strip_prefix('<') {
            return number(bound.trim_start()).map(Self::Below);
        }
        if let Some(inner) = cell.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            return number(inner.trim()).map(Self::Estimated);
        }
        number(cell).map(Self::Known)
    }

    fn mark(self) -> Option<Mark> {
        match self {
            Self::Known(_) => None,
            Self::Estimated(_) => Some(Mark::Estimated),
            Self::Trace => Some(Mark::Trace),
            Self::Below(limit) => Some(Mark::Below(limit)),
        }
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Known(value) => write!(f, "{value}"),
            Self::Estimated(value) => write!(f, "[{value}]"),
            Self::Trace => f.write_str("tr"),
            Self::Below(limit) => write!(f, "<{limit}"),
        }
    }
}

/// What a cell says beside its figure, or in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mark {
    Estimated,
    Trace,
    Below(f64),
}

#[derive(Debug, Clone)]
pub struct Row {
    pub id: String,
    pub name: String,
    pub values: Values,
    /// Few cells of a table have one.
    marks: Vec<(NutrientId, Mark)>,
}

impl Row {
    pub fn new(id: impl Into<String>, name: impl Into<String>) -> Self {
        Self { id: id.into(), name: name.into(), values: Box::new([None; COUNT]), marks: Vec::new() }
    }

    pub fn set(&mut self, id: NutrientId, amount: Amount) {
        if let Some(slot) = self.values.get_mut(id.index()) {
            *slot = amount.value();
        }
        self.marks.retain(|(own, _)| *own != id);
        self.marks.extend(amount.mark().map(|mark| (id, mark)));
    }

    /// What the table says of a component; `None` where it says nothing.
    pub fn amount(&self, id: NutrientId) -> Option<Amount> {
        let value = self.values.get(id.index()).copied().flatten();
        match (self.mark(id), value) {
            (Some(Mark::Trace), _) => Some(Amount::Trace),
            (Some(Mark::Below(limit)), _) => Some(Amount::Below(limit)),
            (Some(Mark::Estimated), Some(value)) => Some(Amount::Estimated(value)),
            (_, value) => value.map(Amount::Known),
        }
    }

    pub fn mark(&self, id: NutrientId) -> Option<Mark> {
        self.marks.iter().find(|(own, _)| *own == id).map(|(_, mark)| *mark)
    }
}

#[derive(Debug, Clone)]
pub struct Table {
    /// The name foods are addressed by: the file's stem.
    pub stem: String,
    pub path: String,
    pub rows: Vec<Row>,
    index: HashMap<String, usize>,
    names: OnceLock<Names>,
}

/// Rows by name, made when the first name is asked for.
#[derive(Debug, Clone, Default)]
struct Names {
    whole: HashMap<String, Vec<u32>>,
    /// By what stands before the first comma.
    head: HashMap<String, Vec<u32>>,
}

impl Table {
    pub fn row(&self, id: &str) -> Option<&Row> {
        self.position(id).and_then(|at| self.rows.get(at))
    }

    /// Where the row of a food's code stands, whatever its case.
    pub fn position(&self, id: &str) -> Option<usize> {
        self.index.get(id).copied().or_else(|| self.rows.iter().position(|row| row.id.eq_ignore_ascii_case(id)))
    }

    /// Rows that a name and its states may mean, as places in `rows`. A row
    /// whose whole name is meant goes before rows that only begin with it.
    pub fn named(&self, name: &str, states: &[String]) -> Vec<usize> {
        let names = self.names.get_or_init(|| {
            let mut names = Names::default();
            for (row, at) in self.rows.iter().zip(0u32..) {
                let whole = plain_name(&row.name);
                if !whole.is_empty() {
                    names.whole.entry(whole).or_default().push(at);
                }
                if let Some((head, _)) = row.name.split_once(',') {
                    names.head.entry(plain_name(head)).or_default().push(at);
                }
            }
            names
        });
        let places = |found: Option<&Vec<u32>>| -> Vec<usize> {
            found.into_iter().flatten().filter_map(|at| usize::try_from(*at).ok()).collect()
        };
        let mut full = name.to_owned();
        for state in states {
            full.push(' ');
            full.push_str(state);
        }
        for whole in [plain_name(&full), plain_name(name)] {
            let found = places(names.whole.get(&whole));
            if !found.is_empty() {
                return found;
            }
        }
        let begun = places(names.head.get(&plain_name(name)));
        let says = |at: &usize| {
            let own = self.rows.get(*at).map(|row| plain_name(&row.name)).unwrap_or_default();
            states.iter().filter(|state| own.split(' ').any(|word| word == plain_name(state))).count()
        };
        // The rows that say most of the written states; all, where none does.
        let most = begun.iter().map(says).max().unwrap_or(0);
        begun.into_iter().filter(|at| says(at) == most).collect()
    }

    /// Reads a table. Every bad cell is one message at its place; the rest of
    /// the table is kept.
    pub fn read(stem: &str, source: &Source, sink: &mut Sink) -> Self {
        let mut table = Self {
            stem: stem.to_owned(),
            path: source.name.clone(),
            rows: Vec::new(),
            index: HashMap::new(),
            names: OnceLock::new(),
        };
        let mut columns: Vec<Option<NutrientId>> = Vec::new();
        let (mut id_column, mut name_column) = (None, None);
        let mut first = true;
        csv_rows::each(source, sink, |line, sink| {
            if first {
                first = false;
                for (at, head) in line.cells().enumerate() {
                    match head {
                        "food" => id_column = Some(at),
                        "name" => name_column = Some(at),
                        _ => {}
                    }
                    let tag = NutrientId::from_tag(head);
                    columns.push(tag);
                    if tag.is_none() && !matches!(head, "food" | "name" | "") {
                        sink.push(
                            Diagnostic::new(
                                Code::WorkspaceTableError,
                                line.place(at),
                                format!("{} is no INFOODS tagname", quote(head)),
                            )
                            .maybe_help(
                                did_you_mean(head, NUTRIENTS.iter().map(|nutrient| nutrient.tag))
                                    .map(|near| format!("did you mean `{near}`? The column is left out"))
                                    .or_else(|| {
                                        Some("the column is left out; rename it to an INFOODS tagname".to_owned())
                                    }),
                            ),
                        );
                    }
                }
                if id_column.is_none() {
                    sink.push(
                        Diagnostic::new(Code::WorkspaceTableError, line.span, "the table has no column `food`")
                            .help("the first line names the columns: food,name,ENERC_KCAL,PROCNT,…"),
                    );
                }
                return id_column.is_some();
            }
            let id = id_column.and_then(|at| line.cell(at)).unwrap_or_default().to_owned();
            if id.is_empty() {
                if line.cells().any(|cell| !cell.is_empty()) {
                    sink.push(
                        Diagnostic::new(Code::WorkspaceTableError, line.span, "this row names no food")
                            .help("write the food's number or name in the column `food`"),
                    );
                }
                return true;
            }
            let name = name_column.and_then(|at| line.cell(at)).unwrap_or_default();
            let mut row = Row::new(id.clone(), name);
            for (at, (cell, column)) in line.cells().zip(&columns).enumerate() {
                let Some(column) = column else { continue };
                if cell.is_empty() {
                    continue;
                }
                match Amount::from_cell(cell) {
                    Some(amount) => row.set(*column, amount),
                    None => sink.push(
                        Diagnostic::new(
                            Code::WorkspaceTableError,
                            line.place(at),
                            format!("{} is no amount of {}", quote(cell), column.get().tag),
                        )
                        .help("write a number with a decimal point, `tr` for a trace, or leave it blank for unknown"),
                    ),
                }
            }
            if table.index.contains_key(&id) {
                sink.push(
                    Diagnostic::new(
                        Code::WorkspaceTableError,
                        line.span,
                        format!("the food {} stands twice", quote(&id)),
                    )
                    .help("the first row is used; remove one of the two"),
                );
                return true;
            }
            table.index.insert(id, table.rows.len());
            table.rows.push(row);
            true
        });
        table
    }
}

/// A name as it is compared: no punctuation, no plural, no case.
fn plain_name(name: &str) -> String {
    normal_name(&name.replace([',', ';', '(', ')', '/', '.'], " "))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::reference::nutrient::{CA, FE, NA, ZN};

    fn read(text: &str) -> (Table, Vec<String>) {
        let source = Source::new("lake.csv", text);
        let mut sink = Sink::new();
        let table = Table::read("lake", &source, &mut sink);
        let messages = sink
            .finish()
            .iter()
            .map(|message| {
                let place = source.place(message.span.start);
                format!("{}:{} {}", place.line, place.column, message.message)
            })
            .collect();
        (table, messages)
    }

    #[test]
    fn a_cell_says_what_it_means() {
        let (table, messages) = read("# a remark, with a comma\n#\nfood,name,CA,FE,ZN,NA\na,A,tr,[1.5],<0.1,\n");
        assert!(messages.is_empty(), "{messages:?}");
        let row = table.row("A").unwrap();
        assert_eq!(row.amount(CA), Some(Amount::Trace));
        assert_eq!(row.amount(FE), Some(Amount::Estimated(1.5)));
        assert_eq!(row.amount(ZN), Some(Amount::Below(0.1)));
        assert_eq!(row.amount(NA), None);
        let known: Vec<Option<f64>> = [CA, FE, ZN, NA].iter().map(|id| row.values[id.index()]).collect();
        assert_eq!(known, [None, Some(1.5), None, None]);
        for cell in ["12", "0.5", "[12]", "<0.1", "tr"] {
            assert_eq!(Amount::from_cell(cell).unwrap().to_string(), cell);
        }
        for cell in ["", "trace", "-1", "inf", "1e400", "[]", "<", "1,5", "(12)", "+1"] {
            assert_eq!(Amount::from_cell(cell), None, "{cell}");
        }
    }

    #[test]
    fn a_fault_below_remarks_stands_at_its_place() {
        let (table, messages) = read("# one\n# two\nfood,CA,FEE\n# three\na,1,2\nb,x,2\n");
        assert_eq!(messages, ["3:9 `FEE` is no INFOODS tagname", "6:3 `x` is no amount of CA"]);
        assert_eq!(table.rows.len(), 2);
    }

    #[test]
    fn names_find_rows() {
        let (table, _) = read(
            "food,name\n1,\"Amaranth leaves, raw\"\n2,\"Amaranth leaves, boiled\"\n3,Lake salt\n4,Lake salt\n\
             5,\"Bean, red, dry\"\n",
        );
        let named = |name: &str, states: &[&str]| {
            let states: Vec<String> = states.iter().map(|state| (*state).to_owned()).collect();
            table.named(name, &states)
        };
        assert_eq!(named("Amaranth leaf", &["boiled"]), [1]);
        assert_eq!(named("amaranth leaves", &[]), [0, 1]);
        assert_eq!(named("amaranth leaves", &["raw", "chopped"]), [0]);
        assert_eq!(named("lake salts", &[]), [2, 3]);
        assert_eq!(named("beans", &["red"]), [4]);
        assert!(named("amaranth", &[]).is_empty());
        assert!(named("", &[]).is_empty());
    }
}
