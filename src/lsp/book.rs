//! The dishes of a workspace as its editor sees them: unsaved text counts, and
//! what was computed stays until a file it rests on changes.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, HashMap};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use crate::check::check;
use crate::diagnostic::Code;
use crate::reference::Reference;
use crate::resolve::{DishAnswer, DishBook, PreparedDish};
use crate::source::Source;
use crate::syntax::Kind;
use crate::workspace::shelf::{self, written_id};
use crate::workspace::{read_text, shown};

/// Deepest chain of dishes in dishes, as for a build.
const DEEPEST: usize = 32;

/// Texts of open files: a number that grows with every change, and the text.
pub type Overlay = HashMap<PathBuf, (u64, Arc<str>)>;

/// Which state of a file was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    Open(u64),
    Disk(Option<(SystemTime, u64)>),
}

impl Origin {
    pub fn of(path: &Path, overlay: &Overlay) -> Self {
        match overlay.get(path) {
            Some((revision, _)) => Self::Open(*revision),
            None => Self::on_disk(path),
        }
    }

    pub fn on_disk(path: &Path) -> Self {
        let stamp = fs::metadata(path).and_then(|meta| Ok((meta.modified()?, meta.len())));
        Self::Disk(stamp.ok())
    }
}

/// What a check read beside its own text.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Rests {
    pub files: BTreeMap<PathBuf, Origin>,
    /// State of the list of names, where one was looked up.
    pub names: Option<u64>,
}

#[derive(Debug, Default)]
struct Index {
    files: BTreeMap<PathBuf, (Kind, String)>,
    dishes: BTreeMap<String, PathBuf>,
    menus: BTreeMap<String, PathBuf>,
}

impl Index {
    /// Of files with one name the first by path counts, as for a build.
    fn named(files: BTreeMap<PathBuf, (Kind, String)>) -> Self {
        let mut index = Self { files, ..Self::default() };
        for (path, (kind, name)) in &index.files {
            let map = match kind {
                Kind::Dish => &mut index.dishes,
                Kind::Menu => &mut index.menus,
                Kind::Booklet => continue,
            };
            map.entry(name.clone()).or_insert_with(|| path.clone());
        }
        index
    }
}

#[derive(Debug, Clone)]
struct Made {
    dish: Option<Arc<PreparedDish>>,
    rests: Rests,
}

#[derive(Debug, Default)]
struct State {
    index: Option<Index>,
    generation: u64,
    made: HashMap<String, Made>,
}

#[derive(Debug)]
pub struct Book {
    folder: PathBuf,
    state: RefCell<State>,
    /// Dishes that were computed for other documents, ever.
    computed: Cell<usize>,
}

impl Book {
    pub fn new(folder: PathBuf) -> Self {
        Self { folder, state: RefCell::new(State::default()), computed: Cell::new(0) }
    }

    /// Looks again which files there are, if anybody has asked before.
    pub fn refresh(&self, overlay: &Overlay) {
        if self.state.borrow().index.is_some() {
            self.list(overlay);
        }
    }

    /// A file's name may have changed with its text.
    pub fn changed(&self, path: &Path, kind: Kind, text: &str) {
        let mut state = self.state.borrow_mut();
        let State { index: Some(index), generation, .. } = &mut *state else { return };
        let name = name_of(path, text);
        let Some(known) = index.files.get(path) else { return };
        if known.1 != name {
            let mut files = std::mem::take(&mut index.files);
            files.insert(path.to_path_buf(), (kind, name));
            *index = Index::named(files);
            *generation += 1;
        }
    }

    /// Whether everything that a check read is still so.
    pub fn current(&self, rests: &Rests, overlay: &Overlay) -> bool {
        rests.names.is_none_or(|generation| generation == self.state.borrow().generation)
            && rests.files.iter().all(|(path, origin)| *origin == Origin::of(path, overlay))
    }

    /// How many dishes were computed for other documents.
    pub fn computed(&self) -> usize {
        self.computed.get()
    }

    /// Names of the dishes or menus, in order.
    pub fn names(&self, kind: Kind, overlay: &Overlay) -> Vec<String> {
        self.listed(overlay);
        let state = self.state.borrow();
        let map = state.index.as_ref().map(|index| if kind == Kind::Menu { &index.menus } else { &index.dishes });
        map.map(|map| map.keys().cloned().collect()).unwrap_or_default()
    }

    pub fn path(&self, kind: Kind, name: &str, overlay: &Overlay) -> Option<PathBuf> {
        self.listed(overlay);
        let state = self.state.borrow();
        let index = state.index.as_ref()?;
        let map = if kind == Kind::Menu { &index.menus } else { &index.dishes };
        map.get(name).cloned()
    }

    fn listed(&self, overlay: &Overlay) {
        if self.state.borrow().index.is_none() {
            self.list(overlay);
        }
    }

    fn list(&self, overlay: &Overlay) {
        let mut paths = shelf::files(&self.folder);
        paths.extend(overlay.keys().filter(|path| path.starts_with(&self.folder)).cloned());
        let mut state = self.state.borrow_mut();
        let known = state.index.take().unwrap_or_default();
        let mut files = BTreeMap::new();
        for path in paths {
            let Some(kind) = Kind::of_path(&path) else { continue };
            let name = match overlay.get(&path) {
                Some((_, text)) => name_of(&path, text),
                None => match read_text(&path, "") {
                    Ok((source, _)) => name_of(&path, &source.text),
                    Err(_) => name_of(&path, ""),
                },
            };
            files.insert(path, (kind, name));
        }
        if known.files != files {
            state.generation += 1;
        }
        state.index = Some(Index::named(files));
    }
}

/// The `id` line, else the file's stem.
fn name_of(path: &Path, text: &str) -> String {
    written_id(text).unwrap_or_else(|| stem(path))
}

/// A file's name without its ending.
pub fn stem(path: &Path) -> String {
    path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default()
}

/// The book as one document sees it.
pub struct Seen<'a> {
    book: &'a Book,
    reference: &'a Reference,
    overlay: &'a Overlay,
    chain: Vec<String>,
    rests: RefCell<Rests>,
    /// The circle that a dish further down the chain closes.
    circle: RefCell<Vec<String>>,
}

impl<'a> Seen<'a> {
    /// `own` is the document's own name, so that a dish made of itself is
    /// found out; empty for a menu, which may be called like a dish.
    pub fn new(book: &'a Book, reference: &'a Reference, overlay: &'a Overlay, own: &str) -> Self {
        Self {
            book,
            reference,
            overlay,
            chain: vec![own.to_owned()],
            rests: RefCell::default(),
            circle: RefCell::default(),
        }
    }

    pub fn into_rests(self) -> Rests {
        self.rests.into_inner()
    }

    fn take_in(&self, rests: &Rests) {
        let mut own = self.rests.borrow_mut();
        own.files.extend(rests.files.iter().map(|(path, origin)| (path.clone(), *origin)));
        own.names = rests.names.or(own.names);
    }

    fn look_up(&self) {
        self.book.listed(self.overlay);
        self.rests.borrow_mut().names = Some(self.book.state.borrow().generation);
    }
}

impl DishBook for Seen<'_> {
    fn dish(&self, name: &str) -> DishAnswer {
        if let Some(at) = self.chain.iter().position(|link| link == name) {
            let mut circle: Vec<String> = self.chain.iter().skip(at).cloned().collect();
            circle.push(name.to_owned());
            self.circle.borrow_mut().clone_from(&circle);
            return DishAnswer::Circle(circle);
        }
        self.look_up();
        let Some(path) = self.book.path(Kind::Dish, name, self.overlay) else {
            return DishAnswer::Unknown(self.book.names(Kind::Dish, self.overlay));
        };
        if self.chain.len() >= DEEPEST {
            return DishAnswer::Broken;
        }
        let made = self.book.state.borrow().made.get(name).cloned();
        if let Some(made) = made.filter(|made| self.book.current(&made.rests, self.overlay)) {
            self.take_in(&made.rests);
            return made.dish.map_or(DishAnswer::Broken, DishAnswer::Found);
        }
        let origin = Origin::of(&path, self.overlay);
        self.rests.borrow_mut().files.insert(path.clone(), origin);
        let source = match self.overlay.get(&path) {
            Some((_, text)) => Source::new(shown(&path), Arc::clone(text)),
            None => match read_text(&path, &shown(&path)) {
                Ok((source, None)) => source,
                _ => return DishAnswer::Broken,
            },
        };
        let inner = Self {
            book: self.book,
            reference: self.reference,
            overlay: self.overlay,
            chain: self.chain.iter().cloned().chain([name.to_owned()]).collect(),
            rests: RefCell::default(),
            circle: RefCell::default(),
        };
        let checked = check(source, Kind::Dish, name, self.reference, &inner);
        self.book.computed.set(self.book.computed() + 1);
        let circle = inner.circle.borrow().clone();
        let mut rests = inner.into_rests();
        rests.files.insert(path, origin);
        rests.names = rests.names.or(Some(self.book.state.borrow().generation));
        self.take_in(&rests);
        if checked.diagnostics.iter().any(|message| message.code == Code::MethodCycle) {
            self.circle.borrow_mut().clone_from(&circle);
            return DishAnswer::Circle(circle);
        }
        let sound = !checked.has_errors();
        let dish = checked.dish.filter(|_| sound).map(|dish| Arc::new(dish.prepared(&checked.changed, self.reference)));
        self.book.state.borrow_mut().made.insert(name.to_owned(), Made { dish: dish.clone(), rests });
        dish.map_or(DishAnswer::Broken, DishAnswer::Found)
    }

    fn menus(&self) -> Vec<String> {
        self.look_up();
        self.book.names(Kind::Menu, self.overlay)
    }
}
