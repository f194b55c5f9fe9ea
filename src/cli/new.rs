//! `porringer new`

use std::io::Write;
use std::path::{Path, PathBuf};

use crate::ast::{Dish, Document, Makes};
use crate::cli::{CLEAN, Failure, say_plain};
use crate::diagnostic::Sink;
use crate::quantity::Unit;
use crate::syntax::{self, Kind};
use crate::workspace::{self, RECIPES, Workspace, shelf, shown};

const DISH: &str = include_str!("../../templates/start/dish.txt");
const PORRIDGE: &str = include_str!("../../templates/start/porridge.txt");
const MENU: &str = include_str!("../../templates/start/menu.txt");
const BOOKLET: &str = include_str!("../../templates/start/booklet.txt");
const WORKFLOW: &str = include_str!("../../templates/start/workflow.txt");
pub(super) const SETTINGS: &str = include_str!("../../templates/start/settings.txt");

/// Dishes that an example menu or booklet names.
const MOST: usize = 3;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    /// A folder with settings, two dishes, a menu and a booklet.
    #[command(after_help = "Example: porringer new workspace lakeshore")]
    Workspace(Name),
    /// A dish to write over.
    #[command(after_help = "Example: porringer new dish \"Pumpkin and groundnut mash\"")]
    Dish(Name),
    /// A day of dishes and foods.
    #[command(after_help = "Example: porringer new menu \"A market day\"")]
    Menu(Name),
    /// A booklet of the workspace's dishes.
    #[command(after_help = "Example: porringer new booklet \"First foods\"")]
    Booklet(Name),
    /// A GitHub workflow that checks the recipes at every change.
    #[command(after_help = "Example: porringer new workflow")]
    Workflow,
}

#[derive(Debug, clap::Args)]
struct Name {
    /// The title, from which the file gets its name; for a workspace, the
    /// folder.
    #[arg(required = true)]
    name: Vec<String>,
}

/// A file to be written: its path and its text.
type Sheet = (PathBuf, String);

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let sheets = match &arguments.what {
        What::Workspace(name) => whole(Path::new(&title(name)?))?,
        What::Dish(name) => vec![dish(&Place::here()?, &title(name)?)?],
        What::Menu(name) => vec![menu(&Place::here()?, &title(name)?)?],
        What::Booklet(name) => vec![booklet(&Place::here()?, &title(name)?)?],
        What::Workflow => vec![workflow()?],
    };
    let next = match &arguments.what {
        What::Workspace(name) => {
            let folder = title(name)?;
            let folder = if folder.contains(char::is_whitespace) { format!("\"{folder}\"") } else { folder };
            format!("next: `cd {folder}`, then `porringer check` and `porringer build`")
        }
        What::Workflow => {
            "next: set the repository's variables PORRINGER_SOURCE and PORRINGER_REVISION, as the file says".to_owned()
        }
        _ => match sheets.first() {
            Some((path, _)) => format!("next: write over it, then `porringer check {}`", shown(path)),
            None => String::new(),
        },
    };
    write(&sheets)?;
    super::complain(&next);
    Ok(CLEAN)
}

/// Words of the call as one title.
fn title(name: &Name) -> Result<String, Failure> {
    let title = name.name.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    if title.is_empty() || title.contains(|c: char| c.is_control()) {
        return Err(Failure("a name has letters".to_owned()));
    }
    Ok(title)
}

/// Writes all of them or none: what is there stays as it is.
pub(super) fn write(sheets: &[Sheet]) -> Result<(), Failure> {
    for (path, _) in sheets {
        if path.symlink_metadata().is_ok() {
            return Err(Failure(format!("`{}` is there already; nothing is written over", shown(path))));
        }
    }
    let mut out = String::new();
    for (path, text) in sheets {
        let trouble = |error: std::io::Error| Failure(format!("`{}` cannot be written: {error}", shown(path)));
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            std::fs::create_dir_all(folder).map_err(trouble)?;
        }
        let beside = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let mut file = tempfile::Builder::new().prefix(".porringer-").tempfile_in(beside).map_err(trouble)?;
        file.write_all(text.as_bytes()).map_err(trouble)?;
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // A temporary file is private; a recipe is for everybody.
            let _ = file.as_file().set_permissions(std::fs::Permissions::from_mode(0o644));
        }
        // Between the look above and now somebody may have put a file there.
        file.persist_noclobber(path).map_err(|error| trouble(error.error))?;
        out.push_str(&shown(path));
        out.push('\n');
    }
    say_plain(&out);
    Ok(())
}

/// Where new documents go, and what is there.
struct Place {
    folder: PathBuf,
    /// A line that names the language of the example's prose, where the
    /// workspace would take it for another.
    language: &'static str,
    dishes: Vec<DishName>,
    menus: Vec<String>,
}

/// A dish as a menu asks for it.
struct DishName {
    id: String,
    /// What it makes is a volume.
    by_volume: bool,
}

impl DishName {
    fn of(id: String, dish: &Dish) -> Self {
        let measure = match dish.makes.as_ref().map(|makes| &makes.value) {
            Some(Makes::Measured(_, measure) | Makes::Portions(_, Some((_, measure)))) => Some(measure.unit),
            _ => None,
        };
        Self { id, by_volume: measure.is_some_and(|unit| unit.grams().is_none() && !matches!(unit, Unit::Piece(_))) }
    }
}

impl Place {
    fn here() -> Result<Self, Failure> {
        let here = std::env::current_dir().map_err(|error| Failure(format!("no working folder: {error}")))?;
        let workspace = Workspace::of(&here);
        let recipes = workspace.recipes();
        // A folder of recipes inside the workspace is meant as it stands.
        let folder = if here.starts_with(&recipes) { here } else { recipes.clone() };
        let english = workspace.settings.languages.first().is_none_or(|tag| tag.starts_with("en"));
        let mut place = Self {
            folder,
            language: if english { "" } else { "language en\n" },
            dishes: Vec::new(),
            menus: Vec::new(),
        };
        for path in shelf::files(&recipes) {
            let (Some(kind), Ok((source, _))) = (Kind::of_path(&path), workspace::read_text(&path, "")) else {
                continue;
            };
            let (_, document) = syntax::parse(kind, &source.text, &mut Sink::new());
            let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
            let id = document.header().id.as_ref().map_or(stem, |id| id.value.clone());
            match document {
                Document::Dish(dish) => place.dishes.push(DishName::of(id, &dish)),
                Document::Menu(_) => place.menus.push(id),
                Document::Booklet(_) => {}
            }
        }
        Ok(place)
    }

    fn sheet(&self, kind: Kind, title: &str, text: &str) -> Result<Sheet, Failure> {
        let stem = slug(title);
        if stem.is_empty() {
            return Err(Failure(format!("`{title}` has no letter that a file could be named after")));
        }
        let path = self.folder.join(format!("{stem}.{}", kind.word()));
        let text = text.replace("{language}", self.language).replace("{title}", title).replace("{file}", &shown(&path));
        Ok((path, text))
    }
}

fn dish(place: &Place, title: &str) -> Result<Sheet, Failure> {
    place.sheet(Kind::Dish, title, DISH)
}

fn menu(place: &Place, title: &str) -> Result<Sheet, Failure> {
    let mut dishes = place.dishes.iter().take(MOST).cycle();
    let mut meal = |line: &str, more: &str| match dishes.next() {
        Some(dish) => {
            // Half a cup is no amount of a dish that is counted.
            let amount = if dish.by_volume { "1/2 cup " } else { "" };
            format!("{line} {amount}dish {}{more}", dish.id)
        }
        None => format!("{line} 1/2 cup cooked white rice, 1 boiled egg"),
    };
    let lines = [
        meal("meal     7:00 breakfast:", ""),
        "snack    10:00: 1 small banana".to_owned(),
        meal("meal     12:30 lunch:", ", 1/4 cup ripe mango, mashed"),
        "snack    15:30: 1 boiled egg".to_owned(),
        meal("meal     18:30 supper:", ""),
    ];
    place.sheet(Kind::Menu, title, &MENU.replace("{meals}", &lines.join("\n")))
}

fn booklet(place: &Place, title: &str) -> Result<Sheet, Failure> {
    if place.dishes.is_empty() {
        return Err(Failure(
            "a booklet binds dishes, and there are none yet; begin with `porringer new dish NAME`".to_owned(),
        ));
    }
    let mut lines: Vec<String> = place.dishes.iter().map(|dish| format!("page     {}", dish.id)).collect();
    if !place.menus.is_empty() {
        lines.push("section  Menus".to_owned());
        lines.extend(place.menus.iter().map(|menu| format!("page     menu {menu}")));
    }
    place.sheet(Kind::Booklet, title, &BOOKLET.replace("{pages}", &lines.join("\n")))
}

/// A workflow at the root of the repository, where the host looks for it.
fn workflow() -> Result<Sheet, Failure> {
    let here = std::env::current_dir().map_err(|error| Failure(format!("no working folder: {error}")))?;
    let workspace = Workspace::of(&here);
    let recipes = workspace.recipes();
    let root = recipes.ancestors().find(|above| above.join(".git").exists()).unwrap_or(&workspace.root);
    let folder = recipes.strip_prefix(root).ok().map(|below| below.to_string_lossy().replace('\\', "/"));
    let folder = folder.filter(|below| !below.is_empty()).unwrap_or_else(|| ".".to_owned());
    if folder.contains("${{") {
        // The host would take it for something to work out.
        return Err(Failure(format!("the folder `{folder}` cannot be named in a workflow")));
    }
    // A text of JSON is one of YAML too.
    let quoted = serde_json::to_string(&folder).unwrap_or_default();
    Ok((root.join(".github/workflows/recipes.yml"), WORKFLOW.replace("{folder}", &quoted)))
}

/// A workspace of its own.
fn whole(folder: &Path) -> Result<Vec<Sheet>, Failure> {
    if folder.is_file() {
        return Err(Failure(format!("`{}` is a file", shown(folder))));
    }
    let mut place = Place { folder: folder.join(RECIPES), language: "", dishes: Vec::new(), menus: Vec::new() };
    let mut sheets = vec![(folder.join(workspace::FILE), SETTINGS.to_owned())];
    sheets.push(place.sheet(Kind::Dish, "Pumpkin and groundnut mash", DISH)?);
    sheets.push(place.sheet(Kind::Dish, "Maize porridge", PORRIDGE)?);
    // The commands in the comments are called from the workspace's folder.
    for (_, text) in &mut sheets {
        *text = text.replace(&shown(&place.folder), RECIPES);
    }
    place.dishes = ["maize-porridge", "pumpkin-and-groundnut-mash"]
        .map(|id| DishName { id: id.to_owned(), by_volume: true })
        .into();
    sheets.push(menu(&place, "A market day")?);
    place.menus = vec!["a-market-day".to_owned()];
    sheets.push(booklet(&place, "First foods")?);
    Ok(sheets)
}

/// A title as a file's name: letters and digits of any script, and hyphens.
fn slug(title: &str) -> String {
    let folded: String = title
        .to_lowercase()
        .chars()
        .filter(|c| !matches!(c, '\'' | '’'))
        .map(|c| if is_letter(c) { c } else { '-' })
        .collect();
    folded.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

/// Marks belong to letters: without them a word of many scripts is torn.
fn is_letter(c: char) -> bool {
    use unicode_properties::{GeneralCategoryGroup, UnicodeGeneralCategory};
    c.is_alphanumeric() || c.general_category_group() == GeneralCategoryGroup::Mark
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn a_title_names_a_file() {
        assert_eq!(slug("Pumpkin & groundnut mash, quick!"), "pumpkin-groundnut-mash-quick");
        assert_eq!(slug("../../etc/passwd"), "etc-passwd");
        assert_eq!(slug("Mother’s millet"), "mothers-millet");
        assert_eq!(slug("की दलिया"), "की-दलिया");
        assert_eq!(slug("!?"), "");
    }
}
