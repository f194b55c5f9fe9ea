//! Turns the text tables of `src/reference` into compact binary ones, so that
//! nothing is parsed when the program starts. A fault in a table stops the
//! build with the table's own message.

#[allow(dead_code)]
#[path = "larder/row.rs"]
mod row;

#[allow(dead_code)]
#[path = "profile/data.rs"]
mod profile;

#[allow(dead_code)]
#[path = "retention/table.rs"]
mod retention_table;

#[allow(dead_code)]
#[path = "yields/table.rs"]
mod yields_table;

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

fn main() -> Result<(), Box<dyn Error>> {
    let out = PathBuf::from(std::env::var("OUT_DIR")?);
    println!("cargo:rerun-if-changed=grammar");
    println!("cargo:rerun-if-changed=src/reference");
    println!("cargo:rerun-if-changed=templates");

    fs::write(out.join("larder.postcard"), postcard::to_stdvec(&larder(Path::new("src/reference/larder"))?)?)?;

    let text = fs::read_to_string("src/reference/profile/default.toml")?;
    let profile: profile::ProfileFile = toml::from_str(&text)?;
    fs::write(out.join("profile.postcard"), postcard::to_stdvec(&profile)?)?;

    let retention = fs::read_to_string("src/reference/retention/usda_retention_r6.csv")?;
    let choice = fs::read_to_string("src/reference/retention/choice.csv")?;
    let yields = fs::read_to_string("src/reference/yields/yields.csv")?;
    fs::write(out.join("retention.postcard"), retention_table::encode_retention(&retention)?)?;
    fs::write(out.join("choice.postcard"), retention_table::encode_choices(&choice, &retention)?)?;
    fs::write(out.join("yields.postcard"), yields_table::encode_yields(&yields)?)?;
    Ok(())
}

/// Every larder file in the order of the file names.
fn larder(folder: &Path) -> Result<Vec<row::FoodRow>, Box<dyn Error>> {
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder)?.filter_map(|entry| entry.ok().map(|entry| entry.path())).collect();
    files.retain(|path| path.extension().is_some_and(|extension| extension == "toml"));
    files.sort();
    let mut rows = Vec::new();
    for path in files {
        let file: row::LarderFile =
            toml::from_str(&fs::read_to_string(&path)?).map_err(|error| format!("{}: {error}", path.display()))?;
        rows.extend(file.food);
    }
    Ok(rows)
}
