//! `porringer foods`

use std::collections::BTreeSet;
use std::fmt::Write;

use crate::cli::{CLEAN, ERRORS, Failure, Input, gather, say_plain};
use crate::reference::larder::{FoodRow, Region, normal_name};
use crate::reference::{Reference, composition};

/// Rows of the composition table that are shown beside the larder's.
const MOST: usize = 20;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Words of the food's name, in English, Swahili or French, or a row such
    /// as usda:16032.
    #[arg(required_unless_present = "region")]
    query: Vec<String>,
    /// Only foods of the larder that are used for young children there; without
    /// words, all of them in a list.
    #[arg(long, value_parser = clap::builder::PossibleValuesParser::new(Region::ALL.iter().map(|region| region.word())))]
    region: Option<String>,
    /// A further composition table, as for `check`.
    #[arg(long, value_name = "FILE.csv")]
    foods: Vec<std::path::PathBuf>,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let query = arguments.query.join(" ");
    let workspace = gather::workspace(&Input { paths: Vec::new(), foods: arguments.foods.clone() })?;
    let region = arguments.region.as_deref().and_then(|word| Region::ALL.iter().find(|region| region.word() == word));
    if let Some(region) = region.filter(|_| query.is_empty()) {
        say_plain(&list(*region, &workspace.reference));
        return Ok(CLEAN);
    }
    let wanted = normal_name(&query);
    let words: Vec<&str> = wanted.split(' ').collect();
    let mut out = String::new();
    let mut shown = BTreeSet::new();
    let mut found = 0;
    let mut rows: Vec<(usize, &FoodRow)> = workspace
        .reference
        .larder
        .rows()
        .iter()
        .filter(|row| region.is_none_or(|region| row.regions.contains(region)))
        .filter_map(|row| {
            let rank = row
                .names()
                .map(normal_name)
                .filter(|name| words.iter().all(|word| name.split(' ').any(|own| own.starts_with(word))))
                .map(|name| if name == wanted { 0 } else { name.split(' ').count() })
                .min();
            rank.or_else(|| (row.row.eq_ignore_ascii_case(&query)).then_some(0)).map(|rank| (rank, row.as_ref()))
        })
        .collect();
    rows.sort_by_key(|(rank, _)| *rank);
    for (_, row) in rows {
        found += 1;
        shown.insert(row.row.clone());
        larder_row(row, &workspace.reference, &mut out);
    }
    // Only the larder says where a food is used.
    for table in workspace.reference.tables.iter().filter(|_| region.is_none()) {
        for row in &table.rows {
            let name = normal_name(&row.name);
            let id = format!("{}:{}", table.stem, row.id);
            if id.eq_ignore_ascii_case(&query)
                || words.iter().all(|word| name.split(' ').any(|own| own.starts_with(word)))
            {
                found += 1;
                let _ = writeln!(out, "{}:{}  {}", table.stem, row.id, row.name);
            }
        }
    }
    let direct = query.to_lowercase().strip_prefix("usda:").and_then(|id| id.parse().ok()).and_then(composition::row);
    let mut others: Vec<composition::Row> = direct.into_iter().chain(composition::find(&query, MOST)).collect();
    if region.is_some() {
        others.clear();
    }
    let mut heading = false;
    for row in others {
        let id = format!("usda:{}", row.ndb());
        if !shown.insert(id.clone()) {
            continue;
        }
        if !heading {
            heading = true;
            out.push_str(if found > 0 {
                "\nMore rows of USDA SR28, by number:\n"
            } else {
                "Rows of USDA SR28, by number:\n"
            });
        }
        found += 1;
        let measures: Vec<String> = row
            .measures()
            .take(4)
            .map(|measure| format!("{} {} = {} g", measure.amount, measure.text, measure.grams))
            .collect();
        let _ = writeln!(out, "{id:<12} {}", row.name());
        if !measures.is_empty() {
            let _ = writeln!(out, "{:<12} {}", "", measures.join("; "));
        }
    }
    if found == 0 {
        let near = workspace.reference.larder.near(&query, 5);
        let hint = if near.is_empty() { String::new() } else { format!("; did you mean {}?", near.join(", ")) };
        let place = region.map(|region| format!(" in {}", region.word())).unwrap_or_default();
        say_plain(&format!("no food is called `{query}`{place}{hint}\n"));
        return Ok(ERRORS);
    }
    say_plain(&out);
    Ok(CLEAN)
}

/// Every food of a region, one line a form, by name.
fn list(region: Region, reference: &Reference) -> String {
    let mut rows: Vec<&FoodRow> = reference
        .larder
        .rows()
        .iter()
        .map(std::convert::AsRef::as_ref)
        .filter(|row| row.regions.contains(&region))
        .collect();
    rows.sort_by_key(|row| (normal_name(row.printed("en")), !row.plain, row.full_name()));
    let mut out = String::new();
    for row in &rows {
        let _ = writeln!(out, "{:<44} {}", row.full_name(), row.row);
    }
    let foods: BTreeSet<&[String]> = rows.iter().map(|row| row.en.as_slice()).collect();
    let _ = writeln!(out, "\n{} foods in {} forms: {}", foods.len(), rows.len(), region.word());
    out
}

fn larder_row(row: &FoodRow, reference: &Reference, out: &mut String) {
    let _ = writeln!(out, "{}", row.full_name());
    let mut also: Vec<&str> = row.names().skip(1).collect();
    also.sort_unstable();
    also.dedup();
    if !also.is_empty() {
        let _ = writeln!(out, "    also       {}", also.join(", "));
    }
    if row.states.len() > 1 {
        let _ = writeln!(out, "    states     {}", row.states.join(", "));
    }
    let name = match row.row.split_once(':') {
        Some(("usda", id)) => id.parse().ok().and_then(composition::row).map(|found| found.name()).unwrap_or_default(),
        Some((stem, id)) => {
            reference.table(stem).and_then(|table| table.row(id)).map(|row| row.name.as_str()).unwrap_or_default()
        }
        None => "",
    };
    let _ = writeln!(out, "    row        {}  {name}", row.row);
    if let Some(borrowed) = &row.borrowed {
        let _ = writeln!(out, "    borrowed   {borrowed}");
    }
    if !row.unknown.is_empty() {
        let _ = writeln!(out, "    unknown    {}", row.unknown.join(", "));
    }
    let mut measures = Vec::new();
    if let Some(density) = row.density {
        measures.push(format!("{density} g/mL"));
    }
    measures.extend(row.densities.iter().map(|form| format!("{} {} g/mL", form.state, form.g_per_ml)));
    measures.extend(row.pieces.iter().map(|piece| {
        format!(
            "{}{} {} g",
            piece.size.as_ref().map(|size| format!("{size} ")).unwrap_or_default(),
            piece.unit,
            piece.grams
        )
    }));
    if !measures.is_empty() {
        let _ = writeln!(out, "    measures   {}  ({})", measures.join("; "), row.measures_source);
    }
    if let Some(edible) = row.edible.filter(|edible| *edible < 1.0) {
        let _ = writeln!(out, "    edible     {edible} of the weight as bought");
    }
    let _ = writeln!(out, "    class      {}; group {}", row.class.word(), row.group.word());
    if row.seldom {
        out.push_str("    proposed   never: no usual food of a young child\n");
    }
    if !row.regions.is_empty() {
        let regions: Vec<&str> = row.regions.iter().map(|region| region.word()).collect();
        let _ = writeln!(out, "    regions    {}", regions.join(", "));
    }
    if !row.allergens.is_empty() {
        let _ = writeln!(out, "    allergens  {}", row.allergens.join(", "));
    }
    if !row.hazards.is_empty() {
        let _ = writeln!(out, "    hazards    {}", row.hazards.join(", "));
    }
}
