//! A table with one row a food and one column a component: heads to
//! components, cells to amounts.

use std::collections::HashMap;

use crate::diagnostic::{did_you_mean, quote};
use crate::import::cell::{self, Signs};
use crate::import::grid::{Grid, Line};
use crate::import::map::{Density, Map, Target, plausible};
use crate::import::unit::{self, Unit};
use crate::import::{Column, Import, Place, Remarks};
use crate::reference::nutrient::{self, NUTRIENTS, NutrientId};
use crate::reference::table::{Amount, Row};

/// Lines among which the heads are looked for.
const HEAD_LINES: usize = 40;
const FOOD_HEADS: &[&str] =
    &["code", "food code", "foodcode", "food_code", "food id", "foodid", "food item id", "fdc_id", "ndb_no", "food"];
const NAME_HEADS: &[&str] = &[
    "name",
    "food name",
    "foodname",
    "food_name",
    "food name in english",
    "english name",
    "description",
    "food description",
    "shrt_desc",
    "long_desc",
    "food",
];
/// INFOODS columns that are about the food, not in it.
const ABOUT: &[&str] = &["edible", "edible1", "density", "xfa", "xn", "scientific name", "food group"];

/// A column that is used.
struct Used {
    at: usize,
    head: String,
    id: NutrientId,
    factor: f64,
}

/// Where things stand in a grid.
struct Heads {
    /// Line or row of the heads.
    number: usize,
    /// Index of the line below the heads.
    below: usize,
    food: usize,
    name: Option<usize>,
    density: Option<usize>,
    used: Vec<Used>,
}

/// Reads a grid into the import.
pub fn read(grid: &Grid, map: &Map, import: &mut Import) {
    import.basis = if map.by_volume() { "100 mL" } else { "100 g" }.to_owned();
    let Some(heads) = heads(grid, map, import) else {
        return;
    };
    let signs = Signs { comma: commas(grid, map, &heads), unknown: map.unknown.clone(), trace: map.trace.clone() };
    let mut seen: HashMap<String, usize> = HashMap::new();
    for line in grid.lines.iter().skip(heads.below) {
        if line.is_blank() {
            continue;
        }
        let place = || grid.place().row(line.number);
        let code = line.text(heads.food);
        let name = heads.name.map_or("", |at| line.text(at));
        let says_something =
            heads.used.iter().any(|used| line.cells.get(used.at).is_some_and(|cell| !cell.text.trim().is_empty()));
        if code.is_empty() {
            if says_something {
                import.remarks.error(
                    place().column(heads.food, ""),
                    format!("the row {} has no food code: it is left out", quote(name)),
                    "give every food a code of its own",
                );
            }
            // Else a heading between the foods.
            continue;
        }
        if !says_something {
            let what = if name.is_empty() { code } else { name };
            import.remarks.note(
                place(),
                format!("the row {} has no figures: it is left out", quote(what)),
                "a heading has no place in the table; a food without figures could not be computed",
            );
            continue;
        }
        let id = address(code);
        if id != code {
            import.remarks.note(
                place().column(heads.food, ""),
                format!("the code {} is written {} here", quote(code), quote(&id)),
                "a recipe names a food by letters, digits, `-`, `_` and `.`",
            );
        }
        if let Some(first) = seen.get(&id) {
            import.remarks.error(
                place().column(heads.food, ""),
                format!("the food code {} stands twice, first in row {first}: this row is left out", quote(code)),
                "give one of the two another code, or take one out",
            );
            continue;
        }
        let Some(per_100_g) = scale(grid, map, &heads, line, &signs, &mut import.remarks) else {
            continue;
        };
        seen.insert(id.clone(), line.number);
        let mut row = Row::new(id, name.split_whitespace().collect::<Vec<_>>().join(" "));
        for used in &heads.used {
            if let Some(amount) = amount(grid, line, used, &signs, &mut import.remarks) {
                row.set(used.id, scaled(amount, used.factor * per_100_g));
            }
        }
        import.rows.push(row);
    }
    kilocalories(grid, &heads, import);
    if import.rows.is_empty() {
        import.remarks.error(grid.place(), "the table has no foods", "the foods stand below the heads, one a row");
    }
}

/// Reads a cell of a component; a remark where it cannot be read or cannot be
/// true.
fn amount(grid: &Grid, line: &Line, used: &Used, signs: &Signs, remarks: &mut Remarks) -> Option<Amount> {
    let cell = line.cells.get(used.at)?;
    let place = || grid.place().row(line.number).column(used.at, &used.head);
    if let Some(flaw) = cell.flaw {
        remarks.error(
            place(),
            format!("the cell {flaw}: the amount stays unknown"),
            "write the figure as a plain number",
        );
        return None;
    }
    if cell.formula {
        if cell.text.trim().is_empty() {
            remarks.error(
                place(),
                "the formula has no value: the amount stays unknown",
                "open the file in a spreadsheet program, let it compute, and save it",
            );
            return None;
        }
        remarks.note(
            place(),
            format!("a formula: its last value {} is taken", quote(cell.text.trim())),
            "put the value in the formula's place if it shall not change",
        );
    }
    // A number of a spreadsheet has no decimal sign of its own.
    let plain = Signs::default();
    let found = match cell::read(&cell.text, if cell.number { &plain } else { signs }) {
        Ok(found) => found?,
        Err(fault) => {
            let text = quote(cell.text.trim());
            remarks.error(place(), format!("{text} {}: the amount stays unknown", fault.why), fault.help);
            return None;
        }
    };
    let most = unit::most(used.id);
    if let Some(value) = scaled(found, used.factor).value().filter(|value| *value > most) {
        let own = used.id.get();
        remarks.error(
            place(),
            format!("{value} {} {} cannot be in 100 g: the amount stays unknown", own.unit, own.tag),
            "the unit is wrong, or the figure; a map can name the column's unit",
        );
        return None;
    }
    Some(found)
}

pub fn scaled(amount: Amount, factor: f64) -> Amount {
    match amount {
        Amount::Known(value) => Amount::Known(unit::times(value, factor)),
        Amount::Estimated(value) => Amount::Estimated(unit::times(value, factor)),
        Amount::Below(limit) => Amount::Below(unit::times(limit, factor)),
        Amount::Trace => Amount::Trace,
    }
}

/// What a row's figures are multiplied by to be per 100 g.
fn scale(grid: &Grid, map: &Map, heads: &Heads, line: &Line, signs: &Signs, remarks: &mut Remarks) -> Option<f64> {
    if !map.by_volume() {
        return Some(1.0);
    }
    let density = match (&map.density, heads.density) {
        (Some(Density::Value(value)), _) => Some(*value),
        (_, Some(at)) => cell::read(line.text(at), signs).ok().flatten().and_then(Amount::value),
        _ => None,
    };
    match density.filter(|density| plausible(*density)) {
        Some(density) => Some(1.0 / density),
        None => {
            let mut place = grid.place().row(line.number);
            if let Some(at) = heads.density {
                place = place.column(at, "density");
            }
            remarks.error(
                place,
                format!("{} has no density: its figures per 100 mL are left out", quote(line.text(heads.food))),
                "give its density in g/mL, such as 1.03",
            );
            None
        }
    }
}

/// A code as a recipe can write it.
pub fn address(code: &str) -> String {
    let mut id = String::new();
    for c in code.trim().chars() {
        if c.is_alphanumeric() || matches!(c, '-' | '_' | '.') {
            id.push(c);
        } else if !id.ends_with('-') {
            id.push('-');
        }
    }
    let id = id.trim_matches('-');
    if id.is_empty() { "-".to_owned() } else { id.to_owned() }
}

/// Whether the table writes its decimals with a comma.
fn commas(grid: &Grid, map: &Map, heads: &Heads) -> bool {
    if let Some(decimal) = &map.decimal {
        return decimal == ",";
    }
    if !grid.may_have_commas {
        return false;
    }
    let with = |mark: char| {
        grid.lines
            .iter()
            .skip(heads.below)
            .flat_map(|line| heads.used.iter().filter_map(|used| line.cells.get(used.at)))
            .filter(|cell| {
                !cell.number
                    && cell.text.chars().filter(|c| *c == mark).count() == 1
                    && cell.text.chars().any(|c| c.is_ascii_digit())
            })
            .count()
    };
    with(',') > with('.')
}

fn same(head: &str, other: &str) -> bool {
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    plain(head) == plain(other)
}

/// A head's tag and unit: `FE`, `FE(mg)`, `FE [mg]`, `FE mg`, `ENERC(kJ)`.
fn tagged(head: &str) -> Option<(NutrientId, Option<Unit>)> {
    let head = head.trim();
    let (tag, unit) = match head.find(['(', '[', ' ', '\n', '\t']) {
        Some(at) => {
            let (tag, rest) = head.split_at(at);
            let rest = rest.trim().trim_start_matches(['(', '[']).trim_end_matches([')', ']']).trim();
            (tag.trim(), Some(Unit::from_word(rest)?))
        }
        None => (head, None),
    };
    Some((component(tag, unit)?, unit))
}

/// The component of a tag; `ENERC` needs its unit to say which it is.
fn component(tag: &str, unit: Option<Unit>) -> Option<NutrientId> {
    let upper = tag.to_uppercase();
    match (upper.as_str(), unit) {
        // A column `id` numbers the foods; iodine is written in capitals.
        ("ID", _) if tag != "ID" => return None,
        ("ENERC", Some(Unit::Kilocalorie)) => return Some(nutrient::ENERC_KCAL),
        ("ENERC", Some(Unit::Kilojoule)) => return Some(nutrient::ENERC_KJ),
        // The same component under a later spelling of INFOODS (memory).
        ("PROTCNT", _) => return Some(nutrient::PROCNT),
        ("VITA", Some(Unit::International)) => return Some(nutrient::VITA_IU),
        _ => {}
    }
    NutrientId::from_tag(tag).or_else(|| NutrientId::from_tag(&upper))
}

/// Finds the heads and what stands below them.
fn heads(grid: &Grid, map: &Map, import: &mut Import) -> Option<Heads> {
    let looked_at = grid.lines.get(..HEAD_LINES.min(grid.lines.len())).unwrap_or_default();
    let mapped = |head: &str| map.columns.iter().find(|(own, _)| same(own, head)).map(|(_, target)| target);
    let known = |line: &Line| {
        line.cells.iter().filter(|cell| mapped(&cell.text).is_some() || tagged(&cell.text).is_some()).count()
    };
    let at = match map.header {
        Some(number) => looked_at.iter().position(|line| line.number == number),
        None => looked_at
            .iter()
            .map(known)
            .enumerate()
            .filter(|(_, count)| *count > 0)
            .reduce(|best, next| if next.1 > best.1 { next } else { best })
            .map(|(at, _)| at),
    };
    let Some((at, line)) = at.and_then(|at| Some((at, grid.lines.get(at)?))) else {
        let first = grid.lines.iter().find(|line| !line.is_blank());
        let seen: Vec<String> = first
            .map(|line| line.cells.iter().map(|cell| cell.text.trim()).filter(|text| !text.is_empty()))
            .into_iter()
            .flatten()
            .take(8)
            .map(quote)
            .collect();
        import.remarks.error(
            grid.place().row(map.header.or(first.map(|line| line.number)).unwrap_or(1)),
            "no column's head is an INFOODS tagname",
            format!(
                "say in a map which column is what, such as `\"Iron\" = \"FE\"`; the first row has {}",
                seen.join(", ")
            ),
        );
        return None;
    };
    // A line of units may stand right below.
    let units: Option<&Line> = grid.lines.get(at + 1).filter(|below| {
        let mut units = 0;
        let all = line.cells.iter().zip(&below.cells).all(|(head, cell)| {
            let about = mapped(&head.text).is_none() && tagged(&head.text).is_none();
            let unit = Unit::from_word(cell.text.trim().trim_matches(['(', ')', '[', ']'])).is_some();
            units += usize::from(unit);
            about || unit || cell.text.trim().is_empty()
        });
        all && units > 0
    });
    // Codes and names may have their heads in a line above the tags.
    let find = |asked: Option<&str>, usual: &[&str]| -> Option<usize> {
        let lines = || looked_at.get(..=at).unwrap_or_default().iter().rev().chain(units);
        match asked {
            Some(asked) => lines().find_map(|line| line.cells.iter().position(|cell| same(&cell.text, asked))),
            None => usual
                .iter()
                .find_map(|usual| lines().find_map(|line| line.cells.iter().position(|cell| same(&cell.text, usual)))),
        }
    };
    let place = || grid.place().row(line.number);
    let food = find(map.food.as_deref(), FOOD_HEADS);
    let Some(food) = food else {
        let asked = map.food.as_deref().map_or("with the foods' codes".to_owned(), quote);
        import.remarks.error(
            place(),
            format!("there is no column {asked}"),
            "name it in the head `food`, or in a map: `food = \"Code\"`",
        );
        return None;
    };
    let name = find(map.name.as_deref(), NAME_HEADS).filter(|name| *name != food);
    if name.is_none() {
        let asked = map.name.as_deref().map_or("with the foods' names".to_owned(), quote);
        let help = "foods are found by their code alone; a map names it: `name = \"Aliment\"`";
        match map.name {
            Some(_) => import.remarks.error(place(), format!("there is no column {asked}"), help),
            None => import.remarks.warning(place(), format!("there is no column {asked}"), help),
        }
    }
    let density = match &map.density {
        Some(Density::Column(head)) => {
            let found = find(Some(head), &[]);
            if found.is_none() {
                import.remarks.error(
                    place(),
                    format!("there is no column {}", quote(head)),
                    "name the column with the densities in g/mL, or write one figure: `density = 1.03`",
                );
            }
            found
        }
        _ => None,
    };
    for head in map.columns.keys() {
        if !line.cells.iter().any(|cell| same(&cell.text, head)) {
            let near = did_you_mean(head, line.cells.iter().map(|cell| cell.text.trim()));
            import.remarks.error(
                place(),
                format!("there is no column {}, which the map names", quote(head)),
                near.map_or("correct the head in the map".to_owned(), |near| format!("did you mean `{near}`?")),
            );
        }
    }
    let mut heads = Heads {
        number: line.number,
        below: at + 1 + usize::from(units.is_some()),
        food,
        name,
        density,
        used: Vec::new(),
    };
    for (column, cell) in line.cells.iter().enumerate() {
        if column == food || Some(column) == name || Some(column) == density || cell.text.trim().is_empty() {
            continue;
        }
        let head = cell.text.trim();
        let below = units.map_or("", |units| units.text(column)).trim_matches(['(', ')', '[', ']']);
        let head = Head { at: column, text: head, below, target: mapped(head) };
        if head.target.is_some_and(Target::is_nothing) {
            continue;
        }
        use_column(grid, &head, &mut heads, import);
    }
    if heads.used.is_empty() {
        import.remarks.error(place(), "no column could be used", "correct the heads and units named above");
        return None;
    }
    Some(heads)
}

/// A column's head with what is said of it.
struct Head<'a> {
    at: usize,
    text: &'a str,
    /// In the line of units.
    below: &'a str,
    target: Option<&'a Target>,
}

fn use_column(grid: &Grid, column: &Head<'_>, heads: &mut Heads, import: &mut Import) {
    let Head { at, text: head, below, target } = *column;
    let place = || grid.place().row(heads.number).column(at, head);
    // The map's unit, that of the head, that of the line below; else the tag's.
    let in_head = head.rsplit_once(['(', '[']).and_then(|(_, rest)| Unit::from_word(rest.trim_end_matches([')', ']'])));
    let written = target
        .and_then(Target::unit)
        .and_then(Unit::from_word)
        .or(in_head)
        .or_else(|| tagged(head).and_then(|(_, unit)| unit))
        .or_else(|| Unit::from_word(below));
    let id = match target {
        Some(target) => NutrientId::from_tag(target.tag()),
        None => tagged(head).map(|(id, _)| id).or_else(|| component(head, written)),
    };
    let Some(id) = id else {
        left_out(place(), head, import);
        return;
    };
    let own = id.get();
    let factor = match written {
        None => unit::Factor { factor: 1.0, reason: "" },
        Some(written) => match unit::factor(id, written) {
            Ok(factor) => factor,
            Err(why) => {
                import.remarks.error(
                    place(),
                    format!("{} in {} cannot be converted: the column is left out", own.tag, written.word()),
                    why,
                );
                return;
            }
        },
    };
    if let Some(first) = heads.used.iter().find(|used| used.id == id) {
        import.remarks.error(
            place(),
            format!("{} stands twice: {} is used, this column is left out", own.tag, quote(&first.head)),
            "write \"-\" for one of the two in a map",
        );
        return;
    }
    import.columns.push(Column {
        head: head.split_whitespace().collect::<Vec<_>>().join(" "),
        id,
        unit: written.map_or_else(|| format!("{} (not stated)", own.unit), |unit| unit.word().to_owned()),
        factor: factor.factor,
        reason: factor.reason,
    });
    heads.used.push(Used { at, head: head.to_owned(), id, factor: factor.factor });
}

fn left_out(place: Place, head: &str, import: &mut Import) {
    let tag = head.split(['(', '[', ' ']).next().unwrap_or_default().trim();
    let plain = head.trim().to_lowercase();
    if ABOUT.contains(&plain.as_str()) || ABOUT.contains(&tag.to_lowercase().as_str()) {
        import.remarks.note(
            place,
            format!("{} is no food component: the column is left out", quote(head)),
            "edible share, density and group belong into a larder row",
        );
        return;
    }
    let has_foreign_unit =
        head.contains(['(', '[']) && component(tag, None).is_some() || tag.eq_ignore_ascii_case("ENERC");
    if has_foreign_unit {
        import.remarks.error(
            place,
            format!("the unit of {} is not known: the column is left out", quote(head)),
            "write it as g, mg, µg, kcal, kJ or IU, or name it in a map: `{ tag = \"FE\", unit = \"mg\" }`",
        );
        return;
    }
    // Other determinations of the same thing are other components.
    let stem = tag.trim_end_matches('-');
    let kin = NUTRIENTS.iter().map(|nutrient| nutrient.tag).find(|known| stem.len() > 2 && known.starts_with(stem));
    let near = kin.or_else(|| did_you_mean(tag, NUTRIENTS.iter().map(|nutrient| nutrient.tag)));
    import.remarks.note(
        place,
        format!("{} is no INFOODS tagname known here: the column is left out", quote(head)),
        match near {
            Some(near) => format!("if it is the same as {near}, say so in a map: `\"{head}\" = \"{near}\"`"),
            None => "a map can say what it is: `\"Iron\" = \"FE\"`".to_owned(),
        },
    );
}

/// A table with kilojoules alone: kilocalories come from them, as an estimate,
/// since the two are made by factors that do not quite agree.
fn kilocalories(grid: &Grid, heads: &Heads, import: &mut Import) {
    if heads.used.iter().any(|used| used.id == nutrient::ENERC_KCAL) {
        return;
    }
    let Some(used) = heads.used.iter().find(|used| used.id == nutrient::ENERC_KJ) else {
        return;
    };
    let Ok(factor) = unit::factor(nutrient::ENERC_KCAL, Unit::Kilojoule) else {
        return;
    };
    import.remarks.note(
        grid.place().row(heads.number).column(used.at, &used.head),
        "energy is given in kJ alone: kcal are worked out, and marked as estimated",
        factor.reason,
    );
    for row in &mut import.rows {
        if let Some(value) = row.amount(nutrient::ENERC_KJ).and_then(Amount::value) {
            // A tenth of a kilocalorie is more than the factor is good for.
            let kcal = (value * factor.factor * 10.0).round() / 10.0;
            row.set(nutrient::ENERC_KCAL, Amount::Estimated(kcal));
        }
    }
}
