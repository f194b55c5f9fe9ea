//! The dishes of a workspace, looked up by name when another dish, a menu or
//! a booklet asks for one.

use std::collections::{BTreeMap, BTreeSet, HashMap};
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
    /// Who asked for what.
    asked: Mutex<BTreeMap<Asker, Asked>>,
}

/// Who asks for a dish.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Asker {
    /// Nobody wants to know later.
    Nobody,
    /// The document of a path.
    File(PathBuf),
    /// A dish that another asked for.
    Dish(String),
}

/// What was asked of a shelf.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Asked {
    /// Dishes by their names, those that they in turn asked for included.
    pub dishes: BTreeSet<String>,
    /// The answer rests on the names of all documents.
    pub names: bool,
}

/// Where the documents of a workspace are, by their names.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Index {
    pub dishes: BTreeMap<String, PathBuf>,
    pub menus: BTreeMap<String, PathBuf>,
}

impl Index {
    /// Of files in their order: of two that share a name, the first has it.
    /// `id` gives what a file's `id` line says.
    pub fn new(files: Vec<PathBuf>, mut id: impl FnMut(&Path) -> Option<String>) -> Self {
        let mut index = Self::default();
        for path in files {
            let map = match Kind::of_path(&path) {
                Some(Kind::Dish) => &mut index.dishes,
                Some(Kind::Menu) => &mut index.menus,
                Some(Kind::Booklet) | None => continue,
            };
            let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
            map.entry(id(&path).unwrap_or(stem)).or_insert(path);
        }
        index
    }
}

impl<'a> Shelf<'a> {
    pub fn new(folder: PathBuf, reference: &'a Reference) -> Self {
        Self {
            folder,
            reference,
            index: OnceLock::new(),
            made: Mutex::new(HashMap::new()),
            circle: Mutex::new(Vec::new()),
            asked: Mutex::new(BTreeMap::new()),
        }
    }

    /// With an index that is at hand already.
    pub fn indexed(folder: PathBuf, reference: &'a Reference, index: Index) -> Self {
        Self { index: OnceLock::from(index), ..Self::new(folder, reference) }
    }

    /// The shelf as [`Shelf::seen_from`] shows it, noting what the document of
    /// a path asks for.
    pub fn seen_by(&self, path: &Path, stem: &str) -> View<'_, 'a> {
        View { asker: Asker::File(path.to_path_buf()), ..self.seen_from(stem) }
    }

    /// The shelf as the document of a path sees it: its own name is taken,
    /// so that a dish made of itself is found out.
    pub fn seen_from(&self, stem: &str) -> View<'_, 'a> {
        View { shelf: self, chain: vec![stem.to_owned()], asker: Asker::Nobody }
    }

    /// The file of a dish by its name.
    pub fn path_of(&self, name: &str) -> Option<&Path> {
        self.index().dishes.get(name).map(PathBuf::as_path)
    }

    /// The file of a menu by its name.
    pub fn menu_path(&self, name: &str) -> Option<&Path> {
        self.index().menus.get(name).map(PathBuf::as_path)
    }

    fn index(&self) -> &Index {
        self.index.get_or_init(|| {
            Index::new(files(&self.folder), |path| {
                read_text(path, "").ok().and_then(|(source, _)| written_id(&source.text))
            })
        })
    }

    /// What the document of a path asked for when it was checked here.
    pub fn asked_by(&self, path: &Path) -> Asked {
        let asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
        let mut all = Asked::default();
        let mut open = vec![Asker::File(path.to_path_buf())];
        while let Some(asker) = open.pop() {
            let Some(own) = asked.get(&asker) else { continue };
            all.names |= own.names;
            for name in &own.dishes {
                if all.dishes.insert(name.clone()) {
                    open.push(Asker::Dish(name.clone()));
                }
            }
        }
        all
    }

    fn note(&self, asker: &Asker, note: impl FnOnce(&mut Asked)) {
        if *asker != Asker::Nobody {
            note(self.asked.lock().unwrap_or_else(PoisonError::into_inner).entry(asker.clone()).or_default());
        }
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
    asker: Asker,
}

impl DishBook for View<'_, '_> {
    fn dish(&self, name: &str) -> DishAnswer {
        self.shelf.note(&self.asker, |asked| {
            asked.dishes.insert(name.to_owned());
        });
        if let Some(at) = self.chain.iter().position(|link| link == name) {
            let mut circle: Vec<String> = self.chain.iter().skip(at).cloned().collect();
            circle.push(name.to_owned());
            self.shelf.circle.lock().unwrap_or_else(PoisonError::into_inner).clone_from(&circle);
            return DishAnswer::Circle(circle);
        }
        let index = self.shelf.index();
        let Some(path) = index.dishes.get(name) else {
            self.shelf.note(&self.asker, |asked| asked.names = true);
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
        let inner = View { shelf: self.shelf, chain, asker: Asker::Dish(name.to_owned()) };
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
        self.shelf.note(&self.asker, |asked| asked.names = true);
        self.shelf.index().menus.keys().cloned().collect()
    }
}
