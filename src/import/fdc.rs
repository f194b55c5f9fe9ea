//! USDA FoodData Central downloads in CSV layout: a folder of `food.csv`,
//! `nutrient.csv`, `food_nutrient.csv` and further tables that refer to one
//! another by number.
//!
//! Layout and numbers of components: FoodData Central's download field
//! descriptions (memory), the numbers also in SR28's NUTR_DEF file
//! (checked-official). A component is known by its `nutrient_nbr`, which is
//! SR's and has not changed since.

use std::collections::{BTreeMap, HashMap};

use crate::import::cell::{self, Signs};
use crate::import::flat::scaled;
use crate::import::grid::{self, Grid, Line};
use crate::import::map::Map;
use crate::import::unit::{self, Unit};
use crate::import::{Column, File, Import, Place};
use crate::reference::nutrient::{self as n, NutrientId};
use crate::reference::table::{Amount, Row};

/// Files of the folder that are read; the rest is not about composition.
pub const TABLES: [&str; 7] = [
    "food.csv",
    "nutrient.csv",
    "food_nutrient.csv",
    "food_nutrient_derivation.csv",
    "food_portion.csv",
    "branded_food.csv",
    "sr_legacy_food.csv",
];

/// The table that a file of the folder holds.
pub fn table_of(name: &str) -> Option<&'static str> {
    TABLES.into_iter().find(|table| table.eq_ignore_ascii_case(name))
}

/// Components by their number. Where several numbers are one component, the
/// one with the lower rank is taken: SR's own energy, then USDA's specific
/// factors, then its general ones.
const NUMBERS: &[(&str, NutrientId, u8)] = &[
    ("203", n::PROCNT, 0),
    ("204", n::FAT, 0),
    ("205", n::CHOCDF, 0),
    ("207", n::ASH, 0),
    ("208", n::ENERC_KCAL, 0),
    ("958", n::ENERC_KCAL, 1),
    ("957", n::ENERC_KCAL, 2),
    ("209", n::STARCH, 0),
    ("221", n::ALC, 0),
    ("255", n::WATER, 0),
    ("262", n::CAFFN, 0),
    ("263", n::THEBRN, 0),
    ("268", n::ENERC_KJ, 0),
    ("269", n::SUGAR, 0),
    ("291", n::FIBTG, 0),
    ("301", n::CA, 0),
    ("303", n::FE, 0),
    ("304", n::MG, 0),
    ("305", n::P, 0),
    ("306", n::K, 0),
    ("307", n::NA, 0),
    ("309", n::ZN, 0),
    ("310", n::CR, 0),
    ("312", n::CU, 0),
    ("313", n::FD, 0),
    ("314", n::ID, 0),
    ("315", n::MN, 0),
    ("316", n::MO, 0),
    ("317", n::SE, 0),
    ("318", n::VITA_IU, 0),
    ("319", n::RETOL, 0),
    ("320", n::VITA_RAE, 0),
    ("321", n::CARTB, 0),
    ("322", n::CARTA, 0),
    ("323", n::TOCPHA, 0),
    ("324", n::VITD_IU, 0),
    ("328", n::VITD, 0),
    ("334", n::CRYPX, 0),
    ("337", n::LYCPN, 0),
    ("338", n::LUT_ZEA, 0),
    ("401", n::VITC, 0),
    ("404", n::THIA, 0),
    ("405", n::RIBF, 0),
    ("406", n::NIA, 0),
    ("410", n::PANTAC, 0),
    ("415", n::VITB6A, 0),
    ("416", n::BIOT, 0),
    ("417", n::FOL, 0),
    ("418", n::VITB12, 0),
    ("421", n::CHOLN, 0),
    ("430", n::VITK1, 0),
    ("431", n::FOLAC, 0),
    ("432", n::FOLFD, 0),
    ("435", n::FOLDFE, 0),
    ("501", n::TRP, 0),
    ("505", n::LYS, 0),
    ("601", n::CHOLE, 0),
    ("606", n::FASAT, 0),
    ("618", n::F18D2, 0),
    ("619", n::F18D3, 0),
    ("621", n::F22D6N3, 0),
    ("629", n::F20D5N3, 0),
    ("631", n::F22D5N3, 0),
    ("645", n::FAMS, 0),
    ("646", n::FAPU, 0),
    ("851", n::F18D3CN3, 0),
];

/// The component of a number, with its rank.
pub fn component(number: &str) -> Option<(NutrientId, u8)> {
    // Spreadsheet programs turn 203 into 203.0.
    let number = number.trim();
    let number = number.strip_suffix(".0").unwrap_or(number);
    NUMBERS.iter().find(|(own, _, _)| *own == number).map(|(_, id, rank)| (*id, *rank))
}

/// Kinds of food that are foods; the others are samples that a laboratory
/// analysed for them.
pub fn is_food(kind: &str) -> bool {
    let plain: String = kind.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_ascii_lowercase();
    matches!(
        plain.as_str(),
        "" | "foundation"
            | "foundationfood"
            | "finalfood"
            | "srlegacy"
            | "srlegacyfood"
            | "survey"
            | "surveyfndds"
            | "surveyfnddsfood"
            | "branded"
            | "brandedfood"
            | "experimental"
            | "experimentalfood"
    )
}

/// Whether the way a figure was found makes it an estimate. The source's own
/// words decide; a zero that is assumed is a zero.
pub fn is_estimate(derivation: &str) -> bool {
    let plain = derivation.to_lowercase();
    plain.contains("imput") || plain.contains("estimat") || plain.starts_with("based on another form")
}

/// What a figure means.
pub fn meaning(amount: Amount, limit: Option<f64>, derivation: &str) -> Amount {
    match (amount, limit) {
        // Looked for and not found above the limit of quantification.
        (Amount::Known(0.0), Some(limit)) if limit > 0.0 => Amount::Below(limit),
        (Amount::Known(value), _) if value > 0.0 && is_estimate(derivation) => Amount::Estimated(value),
        (amount, _) => amount,
    }
}

/// Rows under way, with the rank of each figure.
#[derive(Default)]
pub struct Foods {
    pub rows: Vec<Row>,
    at: HashMap<String, usize>,
    ranks: HashMap<(usize, NutrientId), (u8, usize)>,
}

impl Foods {
    /// `false` where the food is there already.
    pub fn add(&mut self, id: &str, name: &str) -> bool {
        if self.at.contains_key(id) {
            return false;
        }
        self.at.insert(id.to_owned(), self.rows.len());
        self.rows.push(Row::new(id, name.split_whitespace().collect::<Vec<_>>().join(" ")));
        true
    }

    pub fn position(&self, id: &str) -> Option<usize> {
        self.at.get(id).copied()
    }

    /// Sets a figure. Where it is there already under the same number, the row
    /// of the source where it stood.
    pub fn set(&mut self, at: usize, id: NutrientId, rank: u8, amount: Amount, number: usize) -> Option<usize> {
        match self.ranks.get(&(at, id)) {
            Some((own, first)) if *own == rank => {
                let same = self.rows.get(at).and_then(|row| row.amount(id)) == Some(amount);
                return (!same).then_some(*first);
            }
            Some((own, _)) if *own < rank => return None,
            _ => {}
        }
        self.ranks.insert((at, id), (rank, number));
        if let Some(row) = self.rows.get_mut(at) {
            row.set(id, amount);
        }
        None
    }
}

/// Notes once that a component was used.
pub fn used(import: &mut Import, head: &str, id: NutrientId, unit: Unit, factor: unit::Factor) {
    if import.columns.iter().all(|column| column.id != id || column.head != head) {
        import.columns.push(Column {
            head: head.to_owned(),
            id,
            unit: unit.word().to_owned(),
            factor: factor.factor,
            reason: factor.reason,
        });
    }
}

/// A table of the folder with the places of its columns.
struct Table {
    grid: Grid,
    columns: HashMap<String, usize>,
}

impl Table {
    fn read(file: &File, import: &mut Import) -> Option<Self> {
        let text = grid::decode(file, &mut import.remarks)?;
        let grid = grid::csv(&file.name, &text, &Map::default(), &mut import.remarks)?;
        let heads = grid.lines.first()?;
        let columns = heads.cells.iter().enumerate().map(|(at, cell)| (cell.text.trim().to_lowercase(), at)).collect();
        Some(Self { grid, columns })
    }

    fn rows(&self) -> impl Iterator<Item = &Line> {
        self.grid.lines.iter().skip(1).filter(|line| !line.is_blank())
    }

    fn text<'l>(&self, line: &'l Line, column: &str) -> &'l str {
        self.columns.get(column).map_or("", |at| line.text(*at))
    }

    fn place(&self, line: &Line, column: &str) -> Place {
        let place = self.grid.place().row(line.number);
        match self.columns.get(column) {
            Some(at) => place.column(*at, column),
            None => place,
        }
    }

    /// Says which columns are missing.
    fn has(&self, wanted: &[&str], import: &mut Import) -> bool {
        let missing: Vec<&str> = wanted.iter().copied().filter(|column| !self.columns.contains_key(*column)).collect();
        for column in &missing {
            import.remarks.error(
                self.grid.place().row(self.grid.lines.first().map_or(1, |line| line.number)),
                format!("there is no column `{column}`"),
                "take the file as FoodData Central ships it",
            );
        }
        missing.is_empty()
    }
}

struct Component {
    id: NutrientId,
    rank: u8,
    unit: Unit,
    factor: unit::Factor,
    head: String,
}

/// Reads the files of a folder.
pub fn read(files: &[File], import: &mut Import) {
    let mut tables: HashMap<&'static str, Table> = HashMap::new();
    for file in files {
        let Some(name) = table_of(&file.name) else { continue };
        if let Some(table) = Table::read(file, import) {
            tables.insert(name, table);
        }
    }
    let folder = Place::file("the folder");
    let (Some(food), Some(nutrient), Some(figures)) =
        (tables.get("food.csv"), tables.get("nutrient.csv"), tables.get("food_nutrient.csv"))
    else {
        for name in ["food.csv", "nutrient.csv", "food_nutrient.csv"] {
            if !tables.contains_key(name) {
                import.remarks.error(
                    folder.clone(),
                    format!("there is no readable `{name}`"),
                    "unpack the whole download and name its folder",
                );
            }
        }
        return;
    };
    let whole = food.has(&["fdc_id", "description"], import)
        & nutrient.has(&["id", "name", "unit_name", "nutrient_nbr"], import)
        & figures.has(&["fdc_id", "nutrient_id", "amount"], import);
    if !whole {
        return;
    }
    let mut foods = read_foods(food, tables.get("branded_food.csv"), import);
    let components = read_components(nutrient, import);
    let derivations: HashMap<&str, &str> = tables
        .get("food_nutrient_derivation.csv")
        .map(|table| table.rows().map(|line| (table.text(line, "id"), table.text(line, "description"))).collect())
        .unwrap_or_default();
    read_figures(figures, &components, &derivations, &mut foods, import);
    if let Some(portions) = tables.get("food_portion.csv") {
        let count = portions.rows().filter(|line| foods.kept.position(portions.text(line, "fdc_id")).is_some()).count();
        weights(portions.grid.place(), count, import);
    }
    import.rows = foods.kept.rows;
    if import.rows.is_empty() {
        import.remarks.error(food.grid.place(), "the table has no foods", "take the file as it is shipped");
    }
}

/// Household weights have no place in a composition table.
pub fn weights(place: Place, count: usize, import: &mut Import) {
    if count > 0 {
        import.remarks.note(
            place,
            format!("{count} household weights left out"),
            "write those you use into a larder row: its `density` and `pieces`",
        );
    }
}

struct AllFoods {
    kept: Foods,
    /// Left out on purpose: their figures are no strays.
    others: std::collections::HashSet<String>,
}

fn read_foods(food: &Table, branded: Option<&Table>, import: &mut Import) -> AllFoods {
    // Of a drink with a label the figures are per 100 mL.
    let by_volume: std::collections::HashSet<&str> = branded
        .map(|table| {
            table
                .rows()
                .filter(|line| matches!(table.text(line, "serving_size_unit").to_lowercase().as_str(), "ml" | "mlt"))
                .map(|line| table.text(line, "fdc_id"))
                .collect()
        })
        .unwrap_or_default();
    let mut foods = AllFoods { kept: Foods::default(), others: std::collections::HashSet::new() };
    let mut samples: BTreeMap<&str, usize> = BTreeMap::new();
    for line in food.rows() {
        let (id, name) = (food.text(line, "fdc_id"), food.text(line, "description"));
        let kind = food.text(line, "data_type");
        if id.is_empty() || id.contains(|c: char| !c.is_ascii_digit()) {
            import.remarks.error(
                food.place(line, "fdc_id"),
                format!("`{id}` is no food number: the row is left out"),
                "take the file as it is shipped",
            );
        } else if !is_food(kind) {
            *samples.entry(kind).or_default() += 1;
            foods.others.insert(id.to_owned());
        } else if by_volume.contains(id) {
            import.remarks.error(
                food.place(line, "fdc_id"),
                format!("food {id} is given per 100 mL and has no density: it is left out"),
                "weigh 100 mL of it and enter it by hand",
            );
            foods.others.insert(id.to_owned());
        } else if !foods.kept.add(id, name) {
            import.remarks.error(
                food.place(line, "fdc_id"),
                format!("the food {id} stands twice: this row is left out"),
                "take one of the two out",
            );
        }
    }
    for (kind, count) in samples {
        import.remarks.note(
            food.grid.place(),
            format!("{count} row{} of the kind `{kind}`: no food, left out", if count == 1 { "" } else { "s" }),
            "samples that were analysed for the foods are none themselves",
        );
    }
    foods
}

fn read_components(nutrient: &Table, import: &mut Import) -> HashMap<String, Result<Component, String>> {
    let mut components = HashMap::new();
    for line in nutrient.rows() {
        let (key, name) = (nutrient.text(line, "id"), nutrient.text(line, "name"));
        let number = nutrient.text(line, "nutrient_nbr");
        let head = format!("{number} {name}");
        let Some((id, rank)) = component(number) else {
            components.insert(key.to_owned(), Err(head));
            continue;
        };
        let word = nutrient.text(line, "unit_name");
        let found = Unit::from_word(word)
            .ok_or_else(|| "units are g, mg, µg, kcal, kJ and IU".to_owned())
            .and_then(|unit| unit::factor(id, unit).map(|factor| (unit, factor)));
        match found {
            Ok((unit, factor)) => {
                components.insert(key.to_owned(), Ok(Component { id, rank, unit, factor, head }));
            }
            Err(why) => {
                import.remarks.error(
                    nutrient.place(line, "unit_name"),
                    format!("{name} in `{word}` cannot be converted: it is left out"),
                    why,
                );
                components.insert(key.to_owned(), Err(head));
            }
        }
    }
    components
}

fn read_figures(
    figures: &Table,
    components: &HashMap<String, Result<Component, String>>,
    derivations: &HashMap<&str, &str>,
    foods: &mut AllFoods,
    import: &mut Import,
) {
    let signs = Signs::default();
    let mut left: BTreeMap<&str, usize> = BTreeMap::new();
    for line in figures.rows() {
        let (food, nutrient) = (figures.text(line, "fdc_id"), figures.text(line, "nutrient_id"));
        if foods.others.contains(food) {
            continue;
        }
        let Some(at) = foods.kept.position(food) else {
            import.remarks.error(
                figures.place(line, "fdc_id"),
                format!("`{food}` is no food of food.csv: the figure is left out"),
                "take all files from the same download",
            );
            continue;
        };
        let component = match components.get(nutrient) {
            Some(Ok(component)) => component,
            Some(Err(head)) => {
                *left.entry(head).or_default() += 1;
                continue;
            }
            None => {
                import.remarks.error(
                    figures.place(line, "nutrient_id"),
                    format!("`{nutrient}` is no component of nutrient.csv: the figure is left out"),
                    "take all files from the same download",
                );
                continue;
            }
        };
        let text = figures.text(line, "amount");
        let found = match cell::read(text, &signs) {
            Ok(Some(found)) => found,
            Ok(None) => continue,
            Err(fault) => {
                import.remarks.error(
                    figures.place(line, "amount"),
                    format!("`{text}` {}: {} of food {food} stays unknown", fault.why, component.id.get().tag),
                    fault.help,
                );
                continue;
            }
        };
        let limit = cell::read(figures.text(line, "loq"), &signs).ok().flatten().and_then(Amount::value);
        let derivation = derivations.get(figures.text(line, "derivation_id")).copied().unwrap_or_default();
        let found = scaled(meaning(found, limit, derivation), component.factor.factor);
        if let Some(value) = found.value().filter(|value| *value > unit::most(component.id)) {
            let own = component.id.get();
            import.remarks.error(
                figures.place(line, "amount"),
                format!("{value} {} {} cannot be in 100 g: it stays unknown", own.unit, own.tag),
                "the unit is wrong, or the figure",
            );
            continue;
        }
        if let Some(first) = foods.kept.set(at, component.id, component.rank, found, line.number) {
            import.remarks.error(
                figures.place(line, "amount"),
                format!("{} of food {food} stands in row {first} too, and differs: that one is kept", component.head),
                "take one of the two out",
            );
        }
        used(import, &component.head, component.id, component.unit, component.factor);
    }
    for (head, count) in left {
        import.remarks.note(
            figures.grid.place(),
            format!("{count} figures of `{head}` left out: no component known here"),
            "nothing is computed from it",
        );
    }
}

#[cfg(test)]
#[allow(clippy::indexing_slicing)]
mod tests {
    use super::*;

    #[test]
    fn a_number_means_one_component() {
        let mut numbers: Vec<&str> = NUMBERS.iter().map(|(number, _, _)| *number).collect();
        numbers.sort_unstable();
        numbers.dedup();
        assert_eq!(numbers.len(), NUMBERS.len());
        assert_eq!(component("303"), Some((n::FE, 0)));
        assert_eq!(component("303.0"), Some((n::FE, 0)));
        // Other determinations are other components.
        for other in ["269.3", "205.2", "298", "293", "9999", ""] {
            assert_eq!(component(other), None, "{other}");
        }
    }

    #[test]
    fn what_a_figure_means() {
        assert_eq!(meaning(Amount::Known(0.0), Some(0.03), "Analytical"), Amount::Below(0.03));
        assert_eq!(meaning(Amount::Known(0.0), None, "Assumed zero"), Amount::Known(0.0));
        assert_eq!(meaning(Amount::Known(2.0), Some(0.03), "Analytical"), Amount::Known(2.0));
        let imputed = "Based on another form of the food or similar food; Concentration adjustment";
        assert_eq!(meaning(Amount::Known(2.0), None, imputed), Amount::Estimated(2.0));
    }
}
