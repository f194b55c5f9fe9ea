//! What the preview knows: the documents with their messages, the cards with
//! the pages they have, and a number that goes up with every change. The thread
//! that reads files, the one that typesets and those that answer the browser
//! meet here and nowhere else.

use std::collections::{HashMap, VecDeque};
use std::path::PathBuf;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use serde::Serialize;

use super::message::Message;
use crate::cli::build::sheets::Job;
use crate::diagnostic::render::Count;
use crate::source::{Source, Span};
use crate::typeset::{Pages, Template};

/// Pages kept at a time, in bytes. Others are set again when they are asked
/// for.
const MOST_KEPT: usize = 64 << 20;

/// How cards are set: the template, the fonts, and what they are by content.
pub struct Look {
    pub template: Template,
    pub fonts: Vec<typst::text::Font>,
    pub content: String,
}

/// A card's data with the look it is to be set in.
#[derive(Clone)]
pub struct Version {
    /// By content: the same for the same bytes.
    pub key: String,
    pub job: Arc<Job>,
    pub look: Arc<Look>,
}

/// What became of the wanted version of a card.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case", tag = "state")]
pub enum Outcome {
    Waiting,
    Good { pages: usize },
    TooLong { message: Box<Message> },
    Fault { said: String },
}

pub struct Card {
    /// Its name in an output folder, without the form: `mash.en`.
    pub name: String,
    pub tag: String,
    pub direction: &'static str,
    pub wanted: Version,
    pub outcome: Outcome,
    /// The last version that is a card, and its pages.
    good: Option<(Version, usize)>,
    /// How often it was set because it had changed.
    made: usize,
}

impl Card {
    pub fn new(name: String, tag: String, direction: &'static str, wanted: Version) -> Self {
        Self { name, tag, direction, wanted, outcome: Outcome::Waiting, good: None, made: 0 }
    }
}

/// One recipe, menu or booklet.
pub struct Document {
    pub file: String,
    pub kind: &'static str,
    pub title: String,
    pub lang: String,
    pub source: Source,
    pub title_span: Span,
    pub messages: Vec<Message>,
    pub count: Count,
    /// It has no card now; those it has are of an earlier state.
    pub broken: bool,
    pub cards: Vec<Card>,
}

/// All that one look at the files found.
#[derive(Default)]
pub struct Found {
    pub programme: Option<String>,
    /// None where they cannot be looked at, as when the settings have faults:
    /// then those known stay.
    pub documents: Option<Vec<Document>>,
    /// Messages of settings and tables.
    pub general: Vec<Message>,
    /// Why nothing can be made at present.
    pub trouble: Option<String>,
    /// What else is to be followed, where the settings could be read.
    pub inputs: Option<Inputs>,
}

/// Where the files are that the settings name.
pub struct Inputs {
    /// Folder of the cards.
    pub out: PathBuf,
    pub files: Vec<PathBuf>,
}

/// A card to be typeset.
pub struct Task {
    pub name: String,
    pub version: Version,
}

#[derive(Default)]
struct State {
    programme: Option<String>,
    documents: Vec<Document>,
    general: Vec<Message>,
    trouble: Option<String>,
    number: u64,
    digest: Option<blake3::Hash>,
    /// Names of cards to be set, in their order.
    queue: VecDeque<String>,
    /// Pages that were dropped and are asked for, before all others.
    asked: VecDeque<Version>,
    kept: HashMap<String, Kept>,
    /// Counts uses, for what was used last.
    clock: u64,
    /// The document that is looked at.
    viewed: Option<String>,
}

struct Kept {
    pages: Arc<Pages>,
    used: u64,
}

pub struct Board {
    state: Mutex<State>,
    news: Condvar,
    /// Tells one run of the program from the next.
    run: String,
}

impl Default for Board {
    fn default() -> Self {
        let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default();
        let run = format!("{:x}-{:x}", std::process::id(), now.as_millis());
        Self { state: Mutex::default(), news: Condvar::new(), run }
    }
}

/// What a look at the files changed.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct News {
    /// Cards whose bytes will change, by name.
    pub cards: Vec<String>,
    /// Documents of which something else is to be said, by file.
    pub documents: Vec<String>,
}

impl Board {
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Takes in what was found. A card that would be the same stays; one that
    /// changed waits to be set; a document with faults keeps the cards of its
    /// last good state.
    pub fn take(&self, found: Found) -> News {
        let mut state = self.state();
        let mut news = News::default();
        let before: HashMap<String, String> =
            state.documents.iter().map(|document| (document.file.clone(), told(document))).collect();
        if let Some(mut documents) = found.documents {
            let mut old: HashMap<String, Document> =
                state.documents.drain(..).map(|document| (document.file.clone(), document)).collect();
            for document in &mut documents {
                let was = old.remove(&document.file);
                document.follow(was, &mut news);
            }
            state.documents = documents;
            state.programme = found.programme;
        }
        state.general = found.general;
        state.trouble = found.trouble;
        for name in &news.cards {
            if !state.queue.contains(name) {
                state.queue.push_back(name.clone());
            }
        }
        let mut before = before;
        for document in &state.documents {
            if before.remove(&document.file).is_none_or(|before| before != told(document)) {
                news.documents.push(document.file.clone());
            }
        }
        let mut gone: Vec<String> = before.into_keys().collect();
        gone.sort();
        news.documents.extend(gone);
        self.tell(state);
        news
    }

    /// Raises the number if a page would show anything else, and wakes all who
    /// wait.
    fn tell(&self, mut state: MutexGuard<'_, State>) {
        let mut hasher = blake3::Hasher::new();
        // Writing to a hasher cannot fail.
        let _ = serde_json::to_writer(&mut hasher, &(&state.programme, &state.general, &state.trouble));
        for document in &state.documents {
            let _ = serde_json::to_writer(&mut hasher, &DocumentView::new(document, ""));
        }
        let digest = hasher.finalize();
        if state.digest != Some(digest) {
            state.digest = Some(digest);
            state.number += 1;
        }
        drop(state);
        self.news.notify_all();
    }

    /// The next card to be set; waits for one.
    pub fn task(&self) -> Task {
        let mut state = self.state();
        loop {
            if let Some(version) = state.asked.pop_front() {
                return Task { name: String::new(), version };
            }
            let viewed = state.viewed.clone();
            let first = viewed.and_then(|file| {
                let document = state.documents.iter().find(|document| document.file == file)?;
                state.queue.iter().position(|name| document.cards.iter().any(|card| card.name == *name))
            });
            if let Some(name) = state.queue.remove(first.unwrap_or(0)) {
                let card = state.documents.iter().flat_map(|document| &document.cards).find(|card| card.name == name);
                // It may be gone by now.
                if let Some(card) = card {
                    return Task { name, version: card.wanted.clone() };
                }
                continue;
            }
            state = self.news.wait(state).unwrap_or_else(PoisonError::into_inner);
        }
    }

    /// Takes in what became of a card, unless it has changed since.
    pub fn done(&self, task: &Task, outcome: impl FnOnce(&Document) -> Outcome, pages: Option<Pages>) {
        let mut state = self.state();
        if let Some(pages) = pages {
            state.keep(&task.version.key, pages);
        }
        let document =
            state.documents.iter_mut().find(|document| document.cards.iter().any(|card| card.name == task.name));
        if let Some(document) = document {
            let outcome = outcome(document);
            let wanted = |card: &&mut Card| card.name == task.name && card.wanted.key == task.version.key;
            if let Some(card) = document.cards.iter_mut().find(wanted) {
                card.made += 1;
                if let Outcome::Good { pages } = outcome {
                    card.good = Some((task.version.clone(), pages));
                }
                card.outcome = outcome;
            }
        }
        self.tell(state);
    }

    /// The pages of a card under the key that was told, setting them anew where
    /// they were dropped. None if there is no such card, or not in time.
    pub fn pages(&self, name: &str, key: &str, patience: Duration) -> Option<Arc<Pages>> {
        let begin = Instant::now();
        let mut state = self.state();
        let mut asked = false;
        loop {
            state.clock += 1;
            let now = state.clock;
            if let Some(kept) = state.kept.get_mut(key) {
                kept.used = now;
                return Some(Arc::clone(&kept.pages));
            }
            let card = state.documents.iter().flat_map(|document| &document.cards).find(|card| card.name == name)?;
            let good = card.good.as_ref().map(|(good, _)| good).filter(|good| good.key == key)?.clone();
            if !asked {
                asked = true;
                if !state.asked.iter().any(|version| version.key == key) {
                    state.asked.push_back(good);
                }
                self.news.notify_all();
            }
            let left = patience.checked_sub(begin.elapsed())?;
            state = self.news.wait_timeout(state, left).unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    /// The pages that a card shows now.
    pub fn shown(&self, name: &str, patience: Duration) -> Option<Arc<Pages>> {
        let key = {
            let state = self.state();
            let card = state.documents.iter().flat_map(|document| &document.cards).find(|card| card.name == name)?;
            card.good.as_ref()?.0.key.clone()
        };
        self.pages(name, &key, patience)
    }

    fn number(&self, state: &State) -> String {
        format!("{}.{}", self.run, state.number)
    }

    /// The list of documents as JSON, once it is another than `since`. None if
    /// it stays the same for so long.
    pub fn overview(&self, since: Option<&str>, patience: Duration) -> Option<Vec<u8>> {
        let begin = Instant::now();
        let mut state = self.state();
        loop {
            let number = self.number(&state);
            if since != Some(&number) {
                return serde_json::to_vec(&Overview::new(&state, &number)).ok();
            }
            let left = patience.checked_sub(begin.elapsed())?;
            state = self.news.wait_timeout(state, left).unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    /// `2 errors, 1 warning`, or that a document is gone.
    pub fn words(&self, file: &str) -> String {
        let state = self.state();
        let document = state.documents.iter().find(|document| document.file == file);
        document.map_or_else(|| "gone".to_owned(), |document| document.count.words())
    }

    /// One document as JSON; from now on it is the one that is looked at.
    pub fn document(&self, file: &str) -> Option<Vec<u8>> {
        let mut state = self.state();
        let number = self.number(&state);
        let document = state.documents.iter().find(|document| document.file == file)?;
        let json = serde_json::to_vec(&DocumentView::new(document, &number)).ok();
        state.viewed = Some(file.to_owned());
        json
    }
}

/// All that is said of a document beside its cards' pages.
fn told(document: &Document) -> String {
    serde_json::to_string(&(&document.title, &document.messages, document.broken)).unwrap_or_default()
}

impl State {
    fn keep(&mut self, key: &str, pages: Pages) {
        self.clock += 1;
        self.kept.insert(key.to_owned(), Kept { pages: Arc::new(pages), used: self.clock });
        let size = |pages: &Pages| pages.pdf.len() + pages.svg.iter().map(String::len).sum::<usize>();
        while self.kept.len() > 1 && self.kept.values().map(|kept| size(&kept.pages)).sum::<usize>() > MOST_KEPT {
            let oldest = self.kept.iter().min_by_key(|(_, kept)| kept.used).map(|(key, _)| key.clone());
            if let Some(oldest) = oldest {
                self.kept.remove(&oldest);
            }
        }
    }
}

#[derive(Serialize)]
struct Overview<'a> {
    number: &'a str,
    programme: &'a Option<String>,
    trouble: &'a Option<String>,
    general: &'a [Message],
    documents: Vec<Line<'a>>,
}

/// A document in the list.
#[derive(Serialize)]
struct Line<'a> {
    file: &'a str,
    kind: &'static str,
    title: &'a str,
    lang: &'a str,
    errors: usize,
    warnings: usize,
    waiting: bool,
    /// How often each card was set because it had changed.
    cards: Vec<(&'a str, usize)>,
}

impl<'a> Overview<'a> {
    fn new(state: &'a State, number: &'a str) -> Self {
        let documents = state
            .documents
            .iter()
            .map(|document| Line {
                file: &document.file,
                kind: document.kind,
                title: &document.title,
                lang: &document.lang,
                errors: document.errors(),
                warnings: document.count.warnings,
                waiting: !document.broken && document.cards.iter().any(|card| matches!(card.outcome, Outcome::Waiting)),
                cards: document.cards.iter().map(|card| (card.name.as_str(), card.made)).collect(),
            })
            .collect();
        Self { number, programme: &state.programme, trouble: &state.trouble, general: &state.general, documents }
    }
}

impl Document {
    /// Takes over from its earlier state: a card that would be the same stays,
    /// and where there is none now, the last ones do.
    fn follow(&mut self, was: Option<Document>, news: &mut News) {
        let Some(was) = was else {
            news.cards.extend(self.cards.iter().map(|card| card.name.clone()));
            return;
        };
        if self.broken {
            self.cards = was.cards;
            return;
        }
        let mut old: HashMap<String, Card> = was.cards.into_iter().map(|card| (card.tag.clone(), card)).collect();
        for card in &mut self.cards {
            let Some(was) = old.remove(&card.tag) else {
                news.cards.push(card.name.clone());
                continue;
            };
            card.made = was.made;
            card.good = was.good;
            if was.wanted.key == card.wanted.key {
                card.outcome = was.outcome;
            } else {
                news.cards.push(card.name.clone());
            }
        }
    }

    fn errors(&self) -> usize {
        let unset = |card: &&Card| matches!(card.outcome, Outcome::TooLong { .. } | Outcome::Fault { .. });
        self.count.errors + if self.broken { 0 } else { self.cards.iter().filter(unset).count() }
    }
}

#[derive(Serialize)]
struct DocumentView<'a> {
    number: &'a str,
    file: &'a str,
    kind: &'static str,
    title: &'a str,
    lang: &'a str,
    errors: usize,
    warnings: usize,
    broken: bool,
    messages: &'a [Message],
    cards: Vec<CardView<'a>>,
}

#[derive(Serialize)]
struct CardView<'a> {
    name: &'a str,
    tag: &'a str,
    direction: &'static str,
    #[serde(flatten)]
    outcome: &'a Outcome,
    made: usize,
    /// What its pages are asked for with; none before the first is set.
    shown: Option<&'a str>,
    sheets: usize,
    /// The pages shown are those of the document as it is.
    current: bool,
}

impl<'a> DocumentView<'a> {
    fn new(document: &'a Document, number: &'a str) -> Self {
        let cards = document.cards.iter().map(|card| CardView {
            name: &card.name,
            tag: &card.tag,
            direction: card.direction,
            outcome: &card.outcome,
            made: card.made,
            shown: card.good.as_ref().map(|(good, _)| good.key.as_str()),
            sheets: card.good.as_ref().map_or(0, |(_, pages)| *pages),
            current: !document.broken && card.good.as_ref().is_some_and(|(good, _)| good.key == card.wanted.key),
        });
        Self {
            number,
            file: &document.file,
            kind: document.kind,
            title: &document.title,
            lang: &document.lang,
            errors: document.errors(),
            warnings: document.count.warnings,
            broken: document.broken,
            messages: &document.messages,
            cards: cards.collect(),
        }
    }
}
