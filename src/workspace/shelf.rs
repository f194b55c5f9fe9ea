//! The dishes of a workspace, looked up by name when another dish, a menu or
//! a booklet asks for one.

use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use crate::check::check;
use crate::reference::Reference;
use crate::resolve::{DishAnswer, DishBook, PreparedDish};
use crate::syntax::Kind;
use crate::workspace::{read_text, shown};

/// Deepest chain of dishes in dishes.
const DEEPEST: usize = 32;

/// Finds and computes dishes on demand, each once.
#[derive(Debug)]
pub struct Shelf<'a> {
    folder: PathBuf,
    reference: &'a Reference,
    index: OnceLock<Index>,
    made: Mutex<HashMap<String, Option<Arc<PreparedDish>>>>,
    /// The last circle that was found, first name repeated at the end.
    circle: Mutex<Vec<String>>,
}

#[derive(Debug, Default)]
struct Index {
    dishes: BTreeMap<String, PathBuf>,
    menus: BTreeMap<String, PathBuf>,
}

impl<'a> Shelf<'a> {
    pub fn new(folder: PathBuf, reference: &'a Reference) -> Self {
        Self {
            folder,
            reference,
            index: OnceLock::new(),
            made: Mutex::new(HashMap::new()),
            circle: Mutex::new(Vec::new()),
        }
    }

    /// The shelf as the document of a path sees it: its own name is taken,
    /// so that a dish made of itself is found out.
    pub fn seen_from(&self, stem: &str) -> View<'_, 'a> {
        View { shelf: self, chain: vec![stem.to_owned()] }
    }

    /// The file of a dish by its name.
    pub fn path_of(&self, name: &str) -> Option<&Path> {
        self.index().dishes.get(name).map(PathBuf::as_path)
    }

    fn index(&self) -> &Index {
        self.index.get_or_init(|| {
            let mut index = Index::default();
            for path in files(&self.folder) {
                let Some(kind) = Kind::of_path(&path) else {
                    continue;
                };
                let map = match kind {
                    Kind::Dish => &mut index.dishes,
                    Kind::Menu => &mut index.menus,
                    Kind::Booklet => continue,
                };
                let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
                let id = read_text(&path, "").ok().and_then(|(source, _)| written_id(&source.text));
                map.entry(id.unwrap_or(stem)).or_insert(path);
            }
            index
        })
    }
}

/// Recipe files below a folder, in the order of their paths. Hidden files and
/// what version control ignores are left out.
pub fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = ignore::WalkBuilder::new(folder)
        .follow_links(false)
        .require_git(false)
        .build()
        .filter_map(Result::ok)
        .filter(|entry| entry.file_type().is_some_and(|kind| kind.is_file()))
        .map(ignore::DirEntry::into_path)
        .filter(|path| Kind::of_path(path).is_some())
        .collect();
    found.sort();
    found
}

/// The `id` line of a file, without parsing the rest.
pub(crate) fn written_id(text: &str) -> Option<String> {
    text.lines()
        .find_map(|line| line.strip_prefix("id").filter(|rest| rest.starts_with([' ', '\t'])))
        .map(|id| id.trim().to_owned())
}

/// A shelf seen from inside a chain of dishes.
#[derive(Debug)]
pub struct View<'s, 'a> {
    shelf: &'s Shelf<'a>,
    chain: Vec<String>,
}

impl DishBook for View<'_, '_> {
    fn dish(&self, name: &str) -> DishAnswer {
        if let Some(at) = self.chain.iter().position(|link| link == name) {
            let mut circle: Vec<String> = self.chain.iter().skip(at).cloned().collect();
            circle.push(name.to_owned());
            self.shelf.circle.lock().unwrap_or_else(PoisonError::into_inner).clone_from(&circle);
            return DishAnswer::Circle(circle);
        }
        let index = self.shelf.index();
        let Some(path) = index.dishes.get(name) else {
            return DishAnswer::Unknown(index.dishes.keys().cloned().collect());
        };
        if self.chain.len() >= DEEPEST {
            return DishAnswer::Broken;
        }
        let made = self.shelf.made.lock().unwrap_or_else(PoisonError::into_inner).get(name).cloned();
        if let Some(made) = made {
            return made.map_or(DishAnswer::Broken, DishAnswer::Found);
        }
        let mut chain = self.chain.clone();
        chain.push(name.to_owned());
        let inner = View { shelf: self.shelf, chain };
        let Ok((source, None)) = read_text(path, &shown(path)) else {
            return DishAnswer::Broken;
        };
        let checked = check(source, Kind::Dish, name, self.shelf.reference, &inner);
        let circle = checked.diagnostics.iter().any(|message| message.code == crate::diagnostic::Code::MethodCycle);
        if circle {
            // The circle closes further down the chain.
            let circle = self.shelf.circle.lock().unwrap_or_else(PoisonError::into_inner).clone();
            return DishAnswer::Circle(circle);
        }
        let prepared = (!checked.has_errors())
            .then(|| checked.dish.map(|dish| Arc::new(dish.prepared(&checked.changed, self.shelf.reference))))
            .flatten();
        self.shelf.made.lock().unwrap_or_else(PoisonError::into_inner).insert(name.to_owned(), prepared.clone());
        prepared.map_or(DishAnswer::Broken, DishAnswer::Found)
    }

    fn menus(&self) -> Vec<String> {
        self.shelf.index().menus.keys().cloned().collect()
    }
}
