//! Cards against bare typst, run by run in processes of their own.

use porringer::typeset::spacing::Search;

use super::*;

/// In the list of spacings: a card that takes more than a sheet.
const NO_FIT: char = '-';

/// What a run of a child says.
pub struct Run {
    pub seconds: f64,
    /// Of the processor, all threads together.
    pub busy: f64,
    peak_mb: f64,
    rest: String,
}

/// Card of every dish, in English and Swahili by turns.
pub fn made(count: usize) -> Vec<Card> {
    let workspace = Workspace::of(&recipes());
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    let locales: Vec<Locale> = ["en", "sw"].iter().map(|tag| Locale::new(tag).unwrap()).collect();
    let imprint = Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper: workspace.settings.paper.clone(),
        fonts: Vec::new(),
    };
    varied(count)
        .iter()
        .enumerate()
        .map(|(at, (stem, text))| {
            let file = checked(stem, text, &workspace, &shelf);
            let own = gather::own_language(&file.document, &workspace);
            card::make(&Maker {
                dish: file.dish.as_ref().unwrap(),
                reference: &workspace.reference,
                locale: &locales[at % locales.len()],
                own_language: &own,
                imprint: &imprint,
                changed: &[],
            })
        })
        .collect()
}

/// Compares the library with bare typst.
pub fn compare(count: usize, rounds: usize) {
    println!("\n{count} different cards, {} threads: PDF/UA, two sides of A5", cores());
    let found = spawn("fits", count, "-").rest;
    let [fits, guesses, layouts] = found.split('|').collect::<Vec<_>>()[..] else { panic!("no spacings: {found}") };
    spacings("fronts", fits, guesses, |pair| pair / LEVELS);
    spacings("backs", fits, guesses, |pair| pair % LEVELS);
    let taken: u32 = layouts.bytes().map(|count| u32::from(count - b'0')).sum();
    row("layouts a card", &format!("{:.3}", f64::from(taken) / count as f64), "");
    row("cards that no spacing brings onto one sheet", &fits.matches(NO_FIT).count().to_string(), "goal 0");

    // Bare typst clears its memory as the library does or as its own
    // watching does, whichever is the faster here.
    let few = count.min(200);
    let bare = ["bare-tenth", "bare-each"]
        .into_iter()
        .map(|mode| (spawn(mode, few, fits).busy, mode))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .unwrap()
        .1;
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for _ in 0..rounds {
        ours.push(spawn("library", count, fits));
        theirs.push(spawn(bare, count, fits));
    }
    let whole = spawn("whole", count, fits);
    let seconds = |runs: &[Run]| median(runs.iter().map(|run| run.seconds).collect());
    let peak = |runs: &[Run]| median(runs.iter().map(|run| run.peak_mb).collect());
    let ratio = median(ours.iter().zip(&theirs).map(|(a, b)| a.seconds / b.seconds).collect());
    let busy = median(ours.iter().zip(&theirs).map(|(a, b)| a.busy / b.busy).collect());
    let all: Vec<String> = ours.iter().zip(&theirs).map(|(a, b)| format!("{:.3}", a.seconds / b.seconds)).collect();
    let per_card = |seconds: f64| format!("{:.1}", seconds * 1e3 / count as f64);
    row(&format!("library to bare typst, median of {}", all.join(" ")), &format!("{ratio:.3}"), "goal <= 1.10");
    row("  the same in processor time", &format!("{busy:.3}"), "");
    row("library, ms a card (final spacing given)", &per_card(seconds(&ours)), "");
    row(&format!("bare typst ({bare}), ms a card"), &per_card(seconds(&theirs)), "");
    row("library with its search for the spacing, ms a card", &per_card(whole.seconds), "");
    let settled = median(ours.iter().map(|run| run.busy).collect());
    row("  with that search to without, processor time", &format!("{:.2}", whole.busy / settled), "");
    row("  processor time of a card without it, ms", &per_card(settled), "");
    row("peak memory: library, bare, MB", &format!("{:.0}, {:.0}", peak(&ours), peak(&theirs)), "");

    println!("\nwhere a card's time goes: {SAMPLE} cards, one thread");
    for line in spawn("phases", SAMPLE.min(count), fits).rest.split(';') {
        let (what, figure) = line.split_once('=').unwrap();
        row(&format!("{what}, ms"), figure, "");
    }
}

/// How the guesses of one side turn out.
fn spacings(side: &str, fits: &str, guesses: &str, of: fn(u8) -> u8) {
    let level = |code: u8| of(code - b'0');
    let pairs: Vec<(u8, u8)> = (guesses.bytes().zip(fits.bytes()))
        .filter(|(_, fit)| *fit != NO_FIT as u8)
        .map(|(guess, fit)| (level(guess), level(fit)))
        .collect();
    let right = pairs.iter().filter(|(guess, fit)| guess == fit).count();
    row(&format!("{side} guessed at the spacing they come out at"), &format!("{right} of {}", pairs.len()), "");
    for guessed in 0..LEVELS {
        let out = (0..LEVELS).map(|level| pairs.iter().filter(|pair| **pair == (guessed, level)).count().to_string());
        let out = out.collect::<Vec<_>>().join(", ");
        row(&format!("  guessed at {guessed}; at 0, 1, 2, 3, 4, 5 come out"), &out, "");
    }
}

pub fn spawn(mode: &str, count: usize, fits: &str) -> Run {
    let out = Command::new(std::env::current_exe().unwrap())
        .args(["run", mode, &count.to_string(), fits])
        .stderr(Stdio::inherit())
        .output()
        .unwrap();
    assert!(out.status.success(), "the run `{mode}` failed");
    let text = String::from_utf8(out.stdout).unwrap();
    let mut parts = text.trim().splitn(4, '|');
    let mut next = || parts.next().unwrap();
    let mut figure = || next().parse().unwrap();
    let (seconds, busy, peak_mb) = (figure(), figure(), figure());
    Run { seconds, busy, peak_mb, rest: next().to_owned() }
}

/// One run in a process of its own.
pub fn child(mode: &str, count: usize, fits: &str) {
    let mut cards = made(count);
    if fits.len() >= count {
        for (card, fit) in cards.iter_mut().zip(fits.bytes()) {
            let fit = if char::from(fit) == NO_FIT { LEVELS * LEVELS - 1 } else { fit - b'0' };
            (card.fit, card.fit_back) = (fit / LEVELS, fit % LEVELS);
        }
    }
    let before = processor();
    let (seconds, rest) = match mode {
        "fits" => find(&cards),
        "library" => library(&cards, |engine, template, card| {
            let document = engine.lay_out(template, card, None)?;
            engine.export(&document, &format!("{}.{}", card.id, card.lang))
        }),
        "whole" => library(&cards, |engine, template, card| Ok(engine.card(template, card, None, Forms::PDF)?.pdf)),
        "bare-tenth" => bare::run(&cards, 10),
        "bare-each" => bare::run(&cards, 1),
        "phases" => phases(&cards),
        _ => panic!("no such run"),
    };
    println!("{seconds}|{}|{}|{rest}", processor() - before, peak());
}

/// Seconds of the processor that this process has used; the kernel counts
/// in hundredths.
fn processor() -> f64 {
    let stat = fs::read_to_string("/proc/self/stat").unwrap_or_default();
    // The name in brackets may hold blanks; the counts stand after it.
    let counts = stat.rsplit(')').next().unwrap_or_default().split_whitespace();
    counts.skip(11).take(2).filter_map(|ticks| ticks.parse::<f64>().ok()).sum::<f64>() / 100.0
}

/// Largest memory of this process, in MB.
fn peak() -> f64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<f64>().ok()).map_or(f64::NAN, |kb| kb / 1024.0)
}

fn engine(threads: usize) -> (Engine, Template) {
    (Engine::new(threads, Vec::new()).unwrap(), Template::built_in("card").unwrap())
}

/// Two levels in one character.
fn code(front: u8, back: u8) -> u8 {
    b'0' + front * LEVELS + back
}

/// The spacing every card comes out at, the one guessed, and the layouts it
/// took to tell.
fn find(cards: &[Card]) -> (f64, String) {
    let found: Vec<[AtomicU8; 3]> = cards.iter().map(|_| Default::default()).collect();
    let jobs: Vec<usize> = (0..cards.len()).collect();
    let (engine, template) = engine(cores());
    assert_eq!(template.manifest.spacings, LEVELS, "the look knows other spacings");
    let begin = Instant::now();
    engine.each(
        &jobs,
        |at| {
            let (front, back) = Search::new(&cards[*at], &template.manifest).next();
            let settled = engine.settle(&template, &cards[*at], None)?;
            let fits = settled.document.pages().len() <= SIDES;
            let fit = if fits { code(settled.fit, settled.fit_back) } else { NO_FIT as u8 };
            let layouts = b'0' + u8::try_from(settled.layouts).unwrap();
            for (place, value) in found[*at].iter().zip([fit, code(front, back), layouts]) {
                place.store(value, Ordering::Relaxed);
            }
            Ok(())
        },
        |_, result| result.unwrap(),
    );
    let line =
        |which: usize| found.iter().map(|one| char::from(one[which].load(Ordering::Relaxed))).collect::<String>();
    (begin.elapsed().as_secs_f64(), [line(0), line(1), line(2)].join("|"))
}

fn library(cards: &[Card], work: impl Fn(&Engine, &Template, &Card) -> Result<Vec<u8>, Fault> + Sync) -> (f64, String) {
    let begin = Instant::now();
    let (engine, template) = engine(cores());
    let mut bytes = 0;
    engine.each(cards, |card| work(&engine, &template, card), |_, result| bytes += result.unwrap().len());
    (begin.elapsed().as_secs_f64(), bytes.to_string())
}

/// One thread, timer by timer. The search is a round of its own, so that both
/// find the typesetter's memory as the card before left it.
fn phases(cards: &[Card]) -> (f64, String) {
    let (engine, template) = engine(1);
    let (mut data, mut layout, mut export, mut clear, mut search) =
        (Duration::ZERO, Duration::ZERO, Duration::ZERO, Duration::ZERO, Duration::ZERO);
    let begin = Instant::now();
    for (at, card) in cards.iter().enumerate() {
        let start = Instant::now();
        black_box(serde_json::to_vec(card).unwrap());
        data += start.elapsed();
        let start = Instant::now();
        let document = engine.lay_out(&template, card, None).unwrap();
        layout += start.elapsed();
        let start = Instant::now();
        black_box(engine.export(&document, &card.id).unwrap());
        export += start.elapsed();
        let start = Instant::now();
        if at % 10 == 9 {
            typst::comemo::evict(1);
        }
        clear += start.elapsed();
    }
    typst::comemo::evict(0);
    for (at, card) in cards.iter().enumerate() {
        let start = Instant::now();
        black_box(engine.settle(&template, card, None).unwrap());
        search += start.elapsed();
        if at % 10 == 9 {
            typst::comemo::evict(1);
        }
    }
    let each = |time: Duration| format!("{:.2}", ms(time) / cards.len() as f64);
    let rest = format!(
        "data as JSON={};layout at the final spacing={};search for the spacing, that layout included={};\
         PDF={};clearing typst's memory={}",
        each(data),
        each(layout),
        each(search),
        each(export),
        each(clear),
    );
    (begin.elapsed().as_secs_f64(), rest)
}

/// The same pages by typst alone.
mod bare {
    use std::collections::HashMap;

    use porringer::typeset::fonts;
    use typst::diag::{FileError, FileResult};
    use typst::foundations::{Bytes, Datetime, Smart};
    use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
    use typst::text::{Font, FontBook};
    use typst::utils::LazyHash;
    use typst::{Library, LibraryExt, World};
    use typst_layout::PagedDocument;
    use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

    use super::*;

    const STACK: usize = 16 << 20;

    struct Common {
        library: LazyHash<Library>,
        book: LazyHash<FontBook>,
        fonts: Vec<Font>,
        sources: HashMap<FileId, Source>,
        main: FileId,
        data: FileId,
    }

    struct Bare<'a> {
        common: &'a Common,
        data: Bytes,
    }

    impl World for Bare<'_> {
        fn library(&self) -> &LazyHash<Library> {
            &self.common.library
        }

        fn book(&self) -> &LazyHash<FontBook> {
            &self.common.book
        }

        fn main(&self) -> FileId {
            self.common.main
        }

        fn source(&self, id: FileId) -> FileResult<Source> {
            self.common.sources.get(&id).cloned().ok_or_else(|| FileError::NotFound(PathBuf::new()))
        }

        fn file(&self, id: FileId) -> FileResult<Bytes> {
            if id == self.common.data { Ok(self.data.clone()) } else { Err(FileError::NotFound(PathBuf::new())) }
        }

        fn font(&self, index: usize) -> Option<Font> {
            self.common.fonts.get(index).cloned()
        }

        fn today(&self, _: Option<typst::foundations::Duration>) -> Option<Datetime> {
            None
        }
    }

    fn id(path: &str) -> FileId {
        RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).unwrap()).intern()
    }

    pub fn run(cards: &[Card], clear_every: usize) -> (f64, String) {
        // The data is ready before the clock starts.
        let data: Vec<Bytes> = cards.iter().map(|card| Bytes::new(serde_json::to_vec(card).unwrap())).collect();
        let begin = Instant::now();
        let fonts = fonts::bundled();
        let sources = [
            ("card.typ", include_str!("../../templates/card/card.typ")),
            ("drawings.typ", include_str!("../../templates/card/drawings.typ")),
            ("parts.typ", include_str!("../../templates/card/parts.typ")),
        ]
        .map(|(name, text)| (id(name), Source::new(id(name), text.to_owned())));
        let common = Common {
            library: LazyHash::new(Library::builder().build()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            sources: sources.into_iter().collect(),
            main: id("card.typ"),
            data: id("data.json"),
        };
        let standards = PdfStandards::new(&[PdfStandard::Ua_1]).unwrap();
        let (next, bytes) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let work = || {
            loop {
                let at = next.fetch_add(1, Ordering::Relaxed);
                let Some(card) = cards.get(at) else { break };
                let world = Bare { common: &common, data: data[at].clone() };
                let document: PagedDocument = typst::compile(&world).output.unwrap();
                let options = PdfOptions {
                    ident: Smart::Custom(format!("{}.{}", card.id, card.lang)),
                    creator: Smart::Custom(Some(concat!("Porringer ", env!("CARGO_PKG_VERSION")).to_owned())),
                    standards: standards.clone(),
                    ..PdfOptions::default()
                };
                bytes.fetch_add(typst_pdf::pdf(&document, &options).unwrap().len(), Ordering::Relaxed);
                if at % clear_every == clear_every - 1 {
                    typst::comemo::evict(10);
                }
            }
        };
        std::thread::scope(|scope| {
            for _ in 0..cores() {
                std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work).unwrap();
            }
        });
        (begin.elapsed().as_secs_f64(), bytes.into_inner().to_string())
    }
}
