//! `porringer import`

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use toml_edit::{Array, DocumentMut, Item};

use crate::cli::{CLEAN, ERRORS, Failure, build, complain, say, say_plain};
use crate::diagnostic::Severity;
use crate::diagnostic::render::Count;
use crate::import::{self, File, Import, Map, Remark, Remarks, fdc, grid, write};
use crate::reference::nutrient::NutrientId;
use crate::reference::table::Amount;
use crate::workspace::{FILE, RECIPES, Workspace, shown};

/// Name and version of the JSON report.
pub const SCHEMA: &str = "porringer-import/1";
/// Largest file that is read: all of SR Legacy has a fifth of it.
const LARGEST: u64 = 256 << 20;
/// Remarks of one severity that are printed for a person.
const MOST: usize = 100;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// A CSV file, a spreadsheet (.xlsx, .ods), a JSON download, or the folder
    /// of an unpacked FoodData Central download.
    #[arg(value_name = "FILE")]
    source: PathBuf,
    /// The table's name: recipes and larder rows write NAME:food.
    #[arg(long = "as", value_name = "NAME")]
    name: String,
    /// What the columns are, where their heads are no INFOODS tagnames.
    #[arg(long, value_name = "FILE.toml")]
    map: Option<PathBuf>,
    /// Where the table is written; default: tables/NAME.csv beside
    /// porringer.toml.
    #[arg(long, value_name = "FILE.csv")]
    out: Option<PathBuf>,
    /// Name the table in porringer.toml; its comments stay.
    #[arg(long)]
    add: bool,
    /// How the report is printed.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// For a person; the first hundred of each kind.
    Human,
    /// One object with everything.
    Json,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let name = arguments.name.as_str();
    let sound = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_');
    if name.is_empty() || !name.chars().all(sound) || name.eq_ignore_ascii_case("usda") {
        return Err(Failure(format!("`{name}` cannot name a table; take letters, digits and `-`, such as `national`")));
    }
    let (files, folder) = sources(&arguments.source)?;
    let mut first = Remarks::default();
    let map = match &arguments.map {
        None => Some(Map::default()),
        Some(path) => {
            let bytes = read(path)?.bytes;
            let text = String::from_utf8(bytes)
                .map_err(|_| Failure(format!("the map `{}` is not UTF-8 text", path.display())))?;
            Map::read(&base(path), text.strip_prefix('\u{FEFF}').unwrap_or(&text), &mut first)
        }
    };
    let import = match (&map, folder, files.first()) {
        (Some(_), true, _) => import::read_folder(&files),
        (Some(map), false, Some(file)) => import::read_file(file, map),
        _ => Import::default(),
    };
    let place = Target::of(arguments)?;
    let written = !import.rows.is_empty();
    if written {
        place.write(&write::table(&import, &files, &date(arguments)))?;
    }
    let entry = place.entry();
    let added = written && arguments.add && place.add(entry.as_deref())?;
    let remarks: Vec<&Remark> = first.all().iter().chain(import.remarks.all()).collect();
    match arguments.format {
        Format::Human => say_plain(&report(&remarks, &import, &place, written, added)),
        Format::Json => say(&format!("{:#}\n", object(name, &remarks, &import, &files, &place, written, added))),
    }
    let of = |severity| remarks.iter().filter(|remark| remark.severity == severity).count();
    let count = Count { errors: of(Severity::Error), warnings: of(Severity::Warning), notes: 0 };
    let what = if written { "imported" } else { "not imported" };
    complain(&format!("{} {what}: {}", shown(&arguments.source), count.words()));
    Ok(if count.errors > 0 || !written { ERRORS } else { CLEAN })
}

fn base(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

fn read(path: &Path) -> Result<File, Failure> {
    let trouble = |why: &str| Failure(format!("`{}` cannot be read: {why}", path.display()));
    let meta = fs::metadata(path).map_err(|error| trouble(&error.to_string()))?;
    if !meta.is_file() {
        return Err(trouble("it is no file"));
    }
    if meta.len() > LARGEST {
        return Err(trouble(&format!(
            "it has {} MB, the most is {}; of FoodData Central take Foundation Foods or SR Legacy",
            meta.len() >> 20,
            LARGEST >> 20
        )));
    }
    let bytes = fs::read(path).map_err(|error| trouble(&error.to_string()))?;
    Ok(File { name: base(path), bytes })
}

/// The files of a source, and whether they are a FoodData Central folder.
fn sources(path: &Path) -> Result<(Vec<File>, bool), Failure> {
    let folder = if path.is_dir() {
        path.to_path_buf()
    } else {
        // The folder's own food.csv stands for the folder.
        let folder = path.parent().unwrap_or(Path::new("")).to_path_buf();
        let is_part = fdc::table_of(&base(path)).is_some()
            && ["food.csv", "nutrient.csv", "food_nutrient.csv"].iter().all(|part| folder.join(part).is_file());
        if !is_part {
            if path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("zip")) {
                return Err(Failure(format!("unpack `{}` and name its folder", path.display())));
            }
            return Ok((vec![read(path)?], false));
        }
        folder
    };
    let mut files = Vec::new();
    for part in fdc::TABLES {
        let path = folder.join(part);
        if path.is_file() {
            files.push(read(&path)?);
        }
    }
    if files.is_empty() {
        return Err(Failure(format!(
            "`{}` holds no food.csv; name the folder of an unpacked FoodData Central download, or a file",
            path.display()
        )));
    }
    Ok((files, true))
}

/// The day of the source: of SOURCE_DATE_EPOCH, or of its newest file.
fn date(arguments: &Arguments) -> String {
    let told = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|seconds| seconds.trim().parse::<u64>().ok());
    let newest = || {
        let mut paths = vec![arguments.source.clone()];
        if arguments.source.is_dir() {
            paths = fdc::TABLES.iter().map(|part| arguments.source.join(part)).collect();
        }
        let times = paths.iter().filter_map(|path| fs::metadata(path).ok()?.modified().ok());
        times.filter_map(|time| time.duration_since(std::time::UNIX_EPOCH).ok()).map(|time| time.as_secs()).max()
    };
    told.or_else(newest).map_or_else(|| "unknown".to_owned(), write::date)
}

/// Where the table goes, and the settings that may name it.
struct Target {
    out: PathBuf,
    settings: PathBuf,
    root: PathBuf,
}

impl Target {
    fn of(arguments: &Arguments) -> Result<Self, Failure> {
        let here = std::env::current_dir().map_err(|error| Failure(format!("no working folder: {error}")))?;
        let (settings, root) = Workspace::settings_file(&here).unwrap_or_else(|| {
            let recipes = here.join(RECIPES);
            let folder = if recipes.is_dir() { recipes } else { here.clone() };
            (folder.join(FILE), here.clone())
        });
        let folder = settings.parent().unwrap_or(&here);
        let out = match &arguments.out {
            Some(out) => std::path::absolute(out).map_err(|error| Failure(format!("no working folder: {error}")))?,
            None => folder.join("tables").join(format!("{}.csv", arguments.name)),
        };
        let stem = out.file_stem().map(|stem| stem.to_string_lossy().into_owned());
        if stem.as_deref() != Some(arguments.name.as_str()) {
            return Err(Failure(format!(
                "a table is named after its file: write `--out …/{}.csv`, or another `--as`",
                arguments.name
            )));
        }
        Ok(Self { out, settings, root })
    }

    fn write(&self, text: &str) -> Result<(), Failure> {
        if let Ok(old) = fs::read(&self.out)
            && !old.starts_with(grid::OWN.as_bytes())
        {
            return Err(Failure(format!(
                "`{}` was not written by an import; take another `--as` or remove it first",
                shown(&self.out)
            )));
        }
        let folder = self.out.parent().unwrap_or(Path::new("."));
        fs::create_dir_all(folder).map_err(|error| Failure(format!("`{}` cannot be made: {error}", shown(folder))))?;
        build::write(&self.out, text.as_bytes()).map_err(Failure)
    }

    /// The table's path as the settings name it; none outside the workspace.
    fn entry(&self) -> Option<String> {
        let real = |path: &Path| fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
        let out = real(self.out.parent()?).join(self.out.file_name()?);
        let folder = real(self.settings.parent()?);
        let path = match out.strip_prefix(&folder) {
            Ok(below) => below.to_path_buf(),
            Err(_) => Path::new("..").join(out.strip_prefix(real(&self.root)).ok()?),
        };
        Some(path.to_string_lossy().replace('\\', "/"))
    }

    /// Names the table in the settings; `false` where they name it already.
    fn add(&self, entry: Option<&str>) -> Result<bool, Failure> {
        let Some(entry) = entry else {
            return Err(Failure(format!("`{}` lies outside of the workspace", shown(&self.out))));
        };
        let name = shown(&self.settings);
        let text = if self.settings.is_file() {
            fs::read_to_string(&self.settings).map_err(|error| Failure(format!("`{name}` cannot be read: {error}")))?
        } else {
            String::new()
        };
        let Some(text) = with_table(&text, entry).map_err(|why| Failure(format!("`{name}` {why}")))? else {
            return Ok(false);
        };
        build::write(&self.settings, text.as_bytes()).map_err(Failure)?;
        Ok(true)
    }
}

/// The settings' text with one more table; `None` where it is there already.
fn with_table(text: &str, entry: &str) -> Result<Option<String>, String> {
    let mut document: DocumentMut = text.parse().map_err(|_| "is no TOML; mend it first".to_owned())?;
    let item = document.entry("tables").or_insert_with(|| Item::from(Array::new()));
    let Some(tables) = item.as_array_mut() else {
        return Err("has `tables`, but not as a list; mend it first".to_owned());
    };
    if tables.iter().any(|table| table.as_str() == Some(entry)) {
        return Ok(None);
    }
    // In a list over several lines a remark belongs to the line it ends.
    let trailing = tables.trailing().as_str().unwrap_or_default().trim_end().to_owned();
    let last = tables.iter().last().and_then(|last| last.decor().prefix()).and_then(|prefix| prefix.as_str());
    match last.and_then(|prefix| prefix.rsplit_once('\n')).map(|(_, indent)| indent.to_owned()) {
        Some(indent) if tables.trailing_comma() => {
            let mut value = toml_edit::Value::from(entry);
            value.decor_mut().set_prefix(format!("{trailing}\n{indent}"));
            tables.push_formatted(value);
            tables.set_trailing("\n");
        }
        _ => tables.push(entry),
    }
    Ok(Some(document.to_string()))
}

/// How many figures there are of each kind.
#[derive(Default)]
struct Figures {
    known: usize,
    estimated: usize,
    trace: usize,
    below: usize,
    unknown: usize,
}

impl Figures {
    fn of(import: &Import) -> Self {
        let mut figures = Self::default();
        let ids: Vec<NutrientId> =
            NutrientId::all().filter(|id| import.columns.iter().any(|column| column.id == *id)).collect();
        for row in &import.rows {
            for id in &ids {
                *match row.amount(*id) {
                    Some(Amount::Known(_)) => &mut figures.known,
                    Some(Amount::Estimated(_)) => &mut figures.estimated,
                    Some(Amount::Trace) => &mut figures.trace,
                    Some(Amount::Below(_)) => &mut figures.below,
                    None => &mut figures.unknown,
                } += 1;
            }
        }
        figures
    }
}

fn report(remarks: &[&Remark], import: &Import, place: &Target, written: bool, added: bool) -> String {
    let mut out = String::new();
    for severity in [Severity::Error, Severity::Warning, Severity::Note] {
        let mut own = remarks.iter().filter(|remark| remark.severity == severity);
        for remark in own.by_ref().take(MOST) {
            let _ = writeln!(out, "{}: {}: {}", severity.word(), remark.place, remark.message);
            let _ = writeln!(out, "    help: {}", remark.help);
        }
        match own.count() {
            0 => {}
            more => {
                let _ = writeln!(out, "{}: and {more} more; `--format json` has them all", severity.word());
            }
        }
    }
    if !written {
        return out;
    }
    if !out.is_empty() {
        out.push('\n');
    }
    let figures = Figures::of(import);
    let plural = |count: usize, word: &str| format!("{count} {word}{}", if count == 1 { "" } else { "s" });
    let components = NutrientId::all().filter(|id| import.columns.iter().any(|column| column.id == *id)).count();
    let _ = writeln!(
        out,
        "{}: {} with {} from {}, per {}",
        shown(&place.out),
        plural(import.rows.len(), "food"),
        plural(components, "component"),
        import.form,
        import.basis
    );
    let _ = writeln!(
        out,
        "    figures    {} known, {} estimated, {}, {} below a limit, {} unknown",
        figures.known,
        figures.estimated,
        plural(figures.trace, "trace"),
        figures.below,
        figures.unknown
    );
    for column in import.columns.iter().filter(|column| column.factor != 1.0) {
        let reason = if column.reason.is_empty() { String::new() } else { format!("  ({})", column.reason) };
        let _ = writeln!(
            out,
            "    converted  {} from {} to {}{reason}",
            column.id.get().tag,
            column.unit,
            column.id.get().unit
        );
    }
    let name = shown(&place.settings);
    match place.entry() {
        Some(entry) if added => {
            let _ = writeln!(out, "    settings   `{entry}` is now among the tables of {name}");
        }
        Some(entry) => {
            let _ = writeln!(out, "    settings   name it in {name}: tables = [\"{entry}\"]");
        }
        None => {
            let _ = writeln!(out, "    settings   it lies outside of the workspace: use it with --foods");
        }
    }
    out
}

/// `{schema, table, written, added, form, basis, sources:[{file, sha256}],
/// foods, columns:[{head, tag, unit, factor, reason}], figures:{known,
/// estimated, trace, below, unknown}, remarks:[{severity, file, sheet, row,
/// column, head, path, message, help}]}`
fn object(
    name: &str,
    remarks: &[&Remark],
    import: &Import,
    files: &[File],
    place: &Target,
    written: bool,
    added: bool,
) -> Value {
    let figures = Figures::of(import);
    json!({
        "schema": SCHEMA,
        "name": name,
        "table": written.then(|| shown(&place.out)),
        "entry": place.entry(),
        "added": added,
        "form": import.form,
        "basis": import.basis,
        "sources": files.iter().map(|file| json!({
            "file": file.name,
            "sha256": write::digest(&file.bytes),
        })).collect::<Vec<_>>(),
        "foods": import.rows.len(),
        "columns": import.columns.iter().map(|column| json!({
            "head": column.head,
            "tag": column.id.get().tag,
            "unit": column.unit,
            "factor": column.factor,
            "reason": column.reason,
        })).collect::<Vec<_>>(),
        "figures": {
            "known": figures.known,
            "estimated": figures.estimated,
            "trace": figures.trace,
            "below": figures.below,
            "unknown": figures.unknown,
        },
        "remarks": remarks.iter().map(|remark| json!({
            "severity": remark.severity.word(),
            "file": remark.place.file,
            "sheet": remark.place.sheet,
            "row": remark.place.row,
            "column": remark.place.column.as_ref().map(|(at, _)| at),
            "head": remark.place.column.as_ref().map(|(_, head)| head),
            "path": remark.place.path,
            "message": remark.message,
            "help": remark.help,
        })).collect::<Vec<_>>(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn settings_keep_their_comments() {
        let text = "# ours\npaper = \"A5\" # small\ntables = [\n  \"a.csv\", # first\n]\n";
        let new = with_table(text, "tables/b.csv").unwrap().unwrap();
        assert_eq!(new, "# ours\npaper = \"A5\" # small\ntables = [\n  \"a.csv\", # first\n  \"tables/b.csv\",\n]\n");
        assert_eq!(with_table(&new, "tables/b.csv").unwrap(), None);
        assert_eq!(with_table("", "b.csv").unwrap().unwrap(), "tables = [\"b.csv\"]\n");
        assert!(with_table("tables = 3", "b.csv").is_err());
        assert!(with_table("= 3", "b.csv").is_err());
    }
}
