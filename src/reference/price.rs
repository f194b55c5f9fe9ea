//! A price list: what foods cost as they are sold. CSV with the columns
//! `food`, `unit`, `price`, `currency` and, if known, `date` and `place`; or
//! TOML with one `[[price]]` a row and the same keys. A price that is not
//! there is unknown, never guessed.

use time::Date;

use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::quantity::date::date;
use crate::quantity::{Exact, Unit, parse_number};
use crate::reference::csv_rows::{self, CsvRow};
use crate::reference::larder::{FoodRow, Larder, normal_name};
use crate::source::{Source, Span};

const COLUMNS: [&str; 6] = ["food", "unit", "price", "currency", "date", "place"];

/// How much one price buys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lot {
    /// Grams as bought.
    Grams(f64),
    Millilitres(f64),
    Pieces(f64),
}

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// A name as in a `take` line (`red kidney beans, dry`), a larder id or a
    /// composition row (`usda:16032`).
    pub food: String,
    /// As written: `kg`, `L`, `piece`, `500 g packet`.
    pub unit: String,
    pub lot: Lot,
    /// It is sold in whole packets only.
    pub whole: bool,
    pub price: f64,
    pub currency: String,
    pub date: Option<Date>,
    pub place: String,
    /// Where the food stands in the file.
    pub span: Span,
}

/// Price of one gram of the edible portion.
#[derive(Debug, Clone, PartialEq)]
pub struct PerGram<'a> {
    pub price: f64,
    pub row: &'a Price,
    /// The edible share is not known: the whole was taken as edible.
    pub refuse_unknown: bool,
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct PriceList {
    pub prices: Vec<Price>,
}

impl Price {
    /// Older than twelve months on a day, or of no known date.
    pub fn is_stale(&self, on: Date) -> bool {
        let Some(date) = self.date else { return true };
        // The last of February has no twin in most years.
        let year_ago = on
            .replace_year(on.year() - 1)
            .or_else(|_| on.replace_day(28).and_then(|day| day.replace_year(on.year() - 1)));
        year_ago.is_ok_and(|limit| date < limit)
    }

    /// Whether the row is of a larder food or of a composition row.
    pub fn is_of(&self, row: &FoodRow) -> bool {
        if self.food == row.id || self.food == row.row {
            return true;
        }
        let name = normal_name(self.name());
        row.names().any(|own| normal_name(own) == name) && self.has_states_of(row)
    }

    fn name(&self) -> &str {
        self.food.split(',').next().unwrap_or_default().trim()
    }

    fn has_states_of(&self, row: &FoodRow) -> bool {
        let states: Vec<String> = self.food.split(',').skip(1).map(|state| state.trim().to_lowercase()).collect();
        if states.is_empty() {
            row.plain || row.states.is_empty()
        } else {
            states.iter().all(|state| row.states.contains(state))
        }
    }
}

impl PriceList {
    /// Reads a list. Each bad cell is one message at its place and costs its
    /// row; the rest is kept.
    pub fn read(source: &Source, sink: &mut Sink) -> Self {
        if source.name.to_lowercase().ends_with(".toml") { toml_list(source, sink) } else { csv_list(source, sink) }
    }

    /// Rows whose food no larder row answers to.
    pub fn check_foods(&self, larder: &Larder, sink: &mut Sink) {
        for price in &self.prices {
            // A row of a composition table need not be in the larder.
            // The larder's own index finds a name at once; trying every name of
            // every row would take longer than all else at a start.
            if price.food.contains(':')
                || larder.named(price.name()).iter().any(|row| price.has_states_of(row))
                || larder.rows().iter().any(|row| price.food == row.id)
            {
                continue;
            }
            let (message, help) = larder.no_such_food(&price.food);
            sink.push(Diagnostic::new(Code::WorkspaceTableError, price.span, message).help(help));
        }
    }

    /// The newest price of a food; among equals the first in the file.
    pub fn of(&self, larder: Option<&FoodRow>, row_id: &str) -> Option<&Price> {
        let mut best: Option<&Price> = None;
        for price in &self.prices {
            if !(price.food == row_id || larder.is_some_and(|row| price.is_of(row))) {
                continue;
            }
            if best.is_none_or(|found| price.date > found.date) {
                best = Some(price);
            }
        }
        best
    }

    /// What a gram of a larder food's edible portion costs; `None` where no
    /// price is there or its unit says nothing of the weight.
    pub fn price_per_gram(&self, food: &FoodRow, larder: &Larder) -> Option<PerGram<'_>> {
        // The row itself first; else another row of the same food as sold.
        let row = self.of(Some(food), &food.row).or_else(|| {
            // Never that of a food which only lends its figures.
            let own: Vec<String> = food.names().map(normal_name).collect();
            let same = larder.on_row(&food.row);
            same.iter()
                .filter(|other| other.names().any(|name| own.contains(&normal_name(name))))
                .find_map(|other| self.of(Some(other), &other.row))
                // A boiled egg costs what an egg does.
                .or_else(|| {
                    let forms = larder.named(food.names().next()?);
                    let mut prices = forms.iter().filter_map(|other| self.of(Some(other), &other.row));
                    prices.find(|price| matches!(price.lot, Lot::Pieces(_)))
                })
        })?;
        let edible = food.edible.unwrap_or(1.0);
        let grams = match row.lot {
            Lot::Grams(grams) => grams * edible,
            Lot::Millilitres(ml) => ml * food.density? * edible,
            // Larder pieces weigh the edible part.
            Lot::Pieces(count) => count * piece_grams(food, None)?,
        };
        (grams > 0.0).then(|| PerGram { price: row.price / grams, row, refuse_unknown: food.edible.is_none() })
    }
}

/// Edible weight of one piece: of the size, else of the usual one.
pub fn piece_grams(food: &FoodRow, size: Option<&str>) -> Option<f64> {
    let pieces = || food.pieces.iter().filter(|piece| piece.unit == "piece");
    pieces()
        .find(|piece| size.is_some() && piece.size.as_deref() == size)
        .or_else(|| pieces().find(|piece| piece.size.is_none()))
        .or_else(|| pieces().find(|piece| piece.size.as_deref() == Some("medium")))
        .or_else(|| pieces().next())
        .map(|piece| piece.grams)
        .filter(|grams| *grams > 0.0)
}

/// `kg`, `L`, `piece`, `100 g`, `500 g packet`: the lot, and whether it is
/// sold whole.
fn lot(text: &str) -> Option<(Lot, bool)> {
    let text = text.trim();
    let split = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (number, rest) = text.split_at(split);
    let number = if number.trim().is_empty() { Exact::whole(1) } else { parse_number(number.trim()).ok()? };
    let mut words = rest.split_whitespace();
    let unit = Unit::from_word(words.next()?)?;
    let whole = words.next().is_some();
    let number = number.value();
    if number <= 0.0 {
        return None;
    }
    let lot = match unit {
        Unit::Gram | Unit::Kilogram => Lot::Grams(number * unit.grams()?),
        Unit::Millilitre => Lot::Millilitres(number),
        Unit::Litre => Lot::Millilitres(number * 1000.0),
        Unit::Piece(crate::quantity::PieceUnit::Piece) => Lot::Pieces(number),
        _ => return None,
    };
    Some((lot, whole))
}

/// One cell with its place.
struct Cell {
    text: String,
    span: Span,
}

/// Turns the cells of one row, in the order of [`COLUMNS`], into a price.
fn row(cells: [Option<Cell>; 6], whole_row: Span, sink: &mut Sink) -> Option<Price> {
    let mut fault = |span: Span, message: String, help: &str| {
        sink.push(Diagnostic::new(Code::WorkspaceTableError, span, message).help(help));
    };
    let [food, unit, price, currency, day, place] = cells.map(|cell| cell.filter(|cell| !cell.text.is_empty()));
    let Some(food) = food else {
        fault(whole_row, "this price names no food".to_owned(), "write the food's name in the column `food`");
        return None;
    };
    let mut good = true;
    let size = unit.as_ref().and_then(|unit| lot(&unit.text));
    if size.is_none() {
        good = false;
        let help = "write `kg`, `100 g`, `L`, `piece`, or a packet that is sold whole: `500 g packet`";
        match &unit {
            Some(unit) => fault(unit.span, format!("{} is no unit that food is sold in", quote(&unit.text)), help),
            None => fault(food.span, format!("the price of {} has no unit", quote(&food.text)), help),
        }
    }
    let amount = price.as_ref().and_then(|price| price.text.parse::<f64>().ok());
    let amount = amount.filter(|amount| amount.is_finite() && (0.0..=1e12).contains(amount));
    if amount.is_none() {
        good = false;
        match &price {
            Some(price) => fault(
                price.span,
                format!("{} is no price", quote(&price.text)),
                "write a number with a decimal point and no currency sign: `2.50`",
            ),
            None => fault(
                food.span,
                format!("{} has no price", quote(&food.text)),
                "write its price, or remove the row: what is not there is unknown",
            ),
        }
    }
    if currency.is_none() {
        good = false;
        fault(
            food.span,
            format!("the price of {} names no currency", quote(&food.text)),
            "write it in the column `currency`: sums are made for each currency apart",
        );
    }
    let when = match &day {
        None => None,
        Some(cell) => {
            let found = date(&cell.text);
            if found.is_none() {
                good = false;
                fault(
                    cell.span,
                    format!("{} is no date", quote(&cell.text)),
                    "write year, month and day: `2026-05-01`",
                );
            }
            found
        }
    };
    let (lot, whole) = size?;
    good.then(|| Price {
        food: food.text,
        unit: unit.map(|cell| cell.text).unwrap_or_default(),
        lot,
        whole,
        price: amount.unwrap_or_default(),
        currency: currency.map(|cell| cell.text).unwrap_or_default(),
        date: when,
        place: place.map(|cell| cell.text).unwrap_or_default(),
        span: food.span,
    })
}

fn csv_list(source: &Source, sink: &mut Sink) -> PriceList {
    let mut list = PriceList::default();
    let mut places: Option<[Option<usize>; 6]> = None;
    csv_rows::each(source, sink, |line, sink| {
        let Some(places) = &places else {
            let found = heads(line, sink);
            places = Some(found);
            return found.iter().take(4).all(Option::is_some);
        };
        if line.cells().all(str::is_empty) {
            return true;
        }
        let cells = places.map(|place| {
            let at = place?;
            Some(Cell { text: line.cell(at)?.to_owned(), span: line.place(at) })
        });
        list.prices.extend(row(cells, line.span, sink));
        true
    });
    list
}

/// Which column is which.
fn heads(line: &CsvRow<'_>, sink: &mut Sink) -> [Option<usize>; 6] {
    let places = COLUMNS.map(|column| line.cells().position(|head| head == column));
    for (at, head) in line.cells().enumerate() {
        if !head.is_empty() && !COLUMNS.contains(&head) {
            sink.push(
                Diagnostic::new(
                    Code::WorkspaceTableError,
                    line.place(at),
                    format!("{} is no column of a price list", quote(head)),
                )
                .help(match did_you_mean(head, COLUMNS) {
                    Some(near) => format!("did you mean `{near}`? The column is left out"),
                    None => format!("the columns are {}; this one is left out", COLUMNS.join(", ")),
                }),
            );
        }
    }
    for (column, place) in COLUMNS.iter().zip(&places).take(4) {
        if place.is_none() {
            sink.push(
                Diagnostic::new(
                    Code::WorkspaceTableError,
                    line.span,
                    format!("the price list has no column `{column}`"),
                )
                .help("the first line names the columns: food,unit,price,currency,date,place"),
            );
        }
    }
    places
}

fn toml_list(source: &Source, sink: &mut Sink) -> PriceList {
    use toml::de::{DeTable, DeValue};
    let mut list = PriceList::default();
    let fault = |span: Span, message: String| {
        Diagnostic::new(Code::WorkspaceTableError, span, message)
            .help("a price is written like this: `[[price]]`, then food, unit, price and currency, one a line")
    };
    let table = match DeTable::parse(&source.text) {
        Ok(table) => table,
        Err(error) => {
            let span = error.span().map_or(Span::default(), |span| Span::new(span.start, span.end));
            let first = error.message().lines().next().unwrap_or_default().to_lowercase();
            sink.push(fault(span, format!("this is not TOML: {first}")));
            return list;
        }
    };
    for (key, value) in table.get_ref() {
        let name: &str = key.get_ref();
        let rows = if name == "price" { value.get_ref().as_array() } else { None };
        let Some(rows) = rows else {
            sink.push(fault(Span::new(key.span().start, key.span().end), format!("{} is no `[[price]]`", quote(name))));
            continue;
        };
        for entry in rows.iter() {
            let place = Span::new(entry.span().start, entry.span().end);
            let Some(entry) = entry.get_ref().as_table() else {
                sink.push(fault(place, "this price is no table".to_owned()));
                continue;
            };
            let mut cells: [Option<Cell>; 6] = Default::default();
            for (key, value) in entry {
                let column: &str = key.get_ref();
                let span = Span::new(value.span().start, value.span().end);
                let text = match value.get_ref() {
                    DeValue::String(text) => text.to_string(),
                    DeValue::Integer(number) => number.to_string(),
                    DeValue::Float(number) => number.to_string(),
                    DeValue::Datetime(day) => day.to_string(),
                    _ => String::new(),
                };
                match COLUMNS.iter().position(|own| *own == column).and_then(|at| cells.get_mut(at)) {
                    Some(cell) => *cell = Some(Cell { text: text.trim().to_owned(), span }),
                    None => sink.push(fault(
                        Span::new(key.span().start, key.span().end),
                        format!("{} is no key of a price", quote(column)),
                    )),
                }
            }
            list.prices.extend(row(cells, place, sink));
        }
    }
    list
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    fn read(name: &str, text: &str) -> (PriceList, Vec<(usize, usize, String)>) {
        let source = Source::new(name, text);
        let mut sink = Sink::new();
        let list = PriceList::read(&source, &mut sink);
        let places = sink.finish().into_iter().map(|message| {
            let place = source.place(message.span.start);
            (place.line, place.column, message.message)
        });
        (list, places.collect())
    }

    #[test]
    fn each_bad_cell_is_told_at_its_row_and_column() {
        let (list, faults) = read(
            "prices.csv",
            "# invented\nfood,unit,price,currency,date,place\n\nmaize flour,kg,60,shilling,2026-09-01,market\n\
             egg,dozen,12,shilling,,\nonion,kg,1,5,shilling\ntomato,kg,,shilling,2026-13-01,\n,kg,1,shilling,,\nmilk,L,70,,,\n",
        );
        let expected = [
            (5, 5, "`dozen` is no unit that food is sold in"),
            (6, 14, "`shilling` is no date"),
            (7, 1, "`tomato` has no price"),
            (7, 21, "`2026-13-01` is no date"),
            (8, 1, "this price names no food"),
            (9, 1, "the price of `milk` names no currency"),
        ];
        assert_eq!(faults, expected.map(|(line, column, text)| (line, column, text.to_owned())));
        assert_eq!(list.prices.len(), 1);
        assert_eq!(list.prices[0].lot, Lot::Grams(1000.0));
        assert_eq!(list.prices[0].date, date("2026-09-01"));
    }

    #[test]
    fn toml_says_the_same() {
        let text = "[[price]]\nfood = \"egg\"\nunit = \"piece\"\nprice = 12\ncurrency = \"shilling\"\ndate = 2026-09-01\n\
                    [[price]]\nfood = \"oil\"\nunit = \"500 mL bottle\"\nprice = \"much\"\ncurrency = \"shilling\"\n";
        let (list, faults) = read("prices.toml", text);
        assert_eq!(list.prices.len(), 1);
        assert_eq!((list.prices[0].lot, list.prices[0].whole), (Lot::Pieces(1.0), false));
        assert_eq!(faults, [(10, 9, "`much` is no price".to_owned())]);
    }

    #[test]
    fn a_price_ages_in_a_year() {
        let (list, _) = read("a.csv", "food,unit,price,currency,date\negg,piece,12,x,2025-09-01\nmilk,L,1,x,\n");
        assert!(!list.prices[0].is_stale(date("2026-09-01").unwrap()));
        assert!(list.prices[0].is_stale(date("2026-09-02").unwrap()));
        assert!(list.prices[1].is_stale(date("2026-09-02").unwrap()));
        assert!(!list.prices[0].is_stale(date("2024-02-29").unwrap()));
    }

    #[test]
    fn lots_are_read_as_sold() {
        assert_eq!(lot("kg"), Some((Lot::Grams(1000.0), false)));
        assert_eq!(lot("500 g packet"), Some((Lot::Grams(500.0), true)));
        assert_eq!(lot("1/2 L"), Some((Lot::Millilitres(500.0), false)));
        assert_eq!(lot("3 pieces"), Some((Lot::Pieces(3.0), false)));
        assert_eq!(lot("cup"), None);
        assert_eq!(lot("0 kg"), None);
    }

    #[test]
    fn a_gram_to_eat_costs_more_than_a_gram_bought() {
        let larder = Larder::built_in();
        let (list, _) = read("a.csv", "food,unit,price,currency\npumpkin,kg,40,x\negg,piece,12,x\n");
        let pumpkin = larder.named("pumpkin").into_iter().find(|row| row.plain || row.states.is_empty()).unwrap();
        let edible = pumpkin.edible.unwrap();
        let per = list.price_per_gram(&pumpkin, larder).unwrap();
        assert!((per.price - 0.04 / edible).abs() < 1e-12);
        let egg = larder.named("egg").into_iter().find(|row| list.prices[1].is_of(row)).unwrap();
        // 44 g of a usual egg can be eaten.
        assert!((list.price_per_gram(&egg, larder).unwrap().price - 12.0 / 44.0).abs() < 1e-12);
    }
}
