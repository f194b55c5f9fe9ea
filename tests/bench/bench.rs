//! How fast Porringer is, on the machine at hand:
//! `cargo bench --bench bench [-- front|cold|cards|lsp|incremental] [--cards N] [--rounds N] [--edits N]`.
//!
//! With 1,000 cards the whole takes some ten minutes on two cores; `--cards 100`
//! gives the same ratios, coarser. On a machine that does other work as well,
//! believe the processor time, not the clock.
//!
//! Every dish differs from every other in its amounts and in nearly every
//! word of its prose, so that no memory of an earlier dish can help. Runs over
//! cards are processes of their own: each has its own peak of memory, and
//! nothing that one run keeps can help the next.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod lsp;

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicU8, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use porringer::assess::{Case, assess};
use porringer::ast::Document;
use porringer::card::{self, Card, Imprint, Locale, Maker};
use porringer::check::{Checked, check};
use porringer::cli::gather;
use porringer::compute::{Selection, compute};
use porringer::diagnostic::{Severity, Sink};
use porringer::resolve;
use porringer::source::Source;
use porringer::syntax::{self, Kind};
use porringer::typeset::{Engine, Fault, Forms, SIDES, Template};
use porringer::workspace::{Shelf, Workspace, shelf};

/// Dishes of the front end's run.
const DISHES: usize = 5_000;
/// Starts of the program.
const STARTS: usize = 200;
/// Levels of spacing that the template knows, for each side.
const LEVELS: u8 = 5;
/// Cards of the single-threaded run that shows where the time goes.
const SAMPLE: usize = 100;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    if let ["run", mode, count, fits] = words[..] {
        return cards::child(mode, count.parse().unwrap(), fits);
    }
    let number = |flag: &str, default: usize| {
        let at = words.iter().position(|word| *word == flag);
        at.map_or(default, |at| words[at + 1].parse().unwrap())
    };
    let named = |part: &str| {
        let any = ["front", "cold", "cards", "lsp", "incremental"].iter().any(|part| words.contains(part));
        !any || words.contains(&part)
    };
    machine();
    if named("front") {
        front();
    }
    if named("cold") {
        cold();
    }
    if named("lsp") {
        lsp::lsp(number("--edits", 10_000));
    }
    if named("incremental") {
        incremental::compare(number("--cards", 1_000));
    }
    if named("cards") {
        cards::compare(number("--cards", 1_000), number("--rounds", 3));
    }
}

fn machine() {
    let info = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = info.lines().find_map(|line| line.strip_prefix("model name")).unwrap_or("unknown");
    println!("machine: {} cores, {}", cores(), model.trim_start_matches([' ', '\t', ':']));
    let load = fs::read_to_string("/proc/loadavg").unwrap_or_default();
    println!("load before this run: {}", load.split(' ').next().unwrap_or("unknown"));
}

fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, std::num::NonZero::get)
}

fn row(what: &str, figure: &str, goal: &str) {
    println!("  {what:<52} {figure:>16}  {goal}");
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn recipes() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes")
}

/// The demo dishes' names and texts, in order.
fn demo() -> Vec<(String, String)> {
    shelf::files(&recipes())
        .iter()
        .filter(|path| Kind::of_path(path) == Some(Kind::Dish))
        .map(|path| (path.file_stem().unwrap().to_string_lossy().into_owned(), fs::read_to_string(path).unwrap()))
        .collect()
}

/// So many different dishes.
fn varied(count: usize) -> Vec<(String, String)> {
    let demo = demo();
    (0..count)
        .map(|at| {
            let (stem, text) = &demo[at % demo.len()];
            (format!("{stem}-{at}"), vary::dish(text, at / demo.len()))
        })
        .collect()
}

// ---------------------------------------------------------------- the texts

/// Makes a dish another dish of the same size.
mod vary {
    /// Lines that are free text. A part's name is not: steps call it.
    const PROSE: [&str; 6] = ["dish", "serve", "store", "caution", "tip", "note"];

    pub fn dish(text: &str, variant: usize) -> String {
        if variant == 0 {
            return text.to_owned();
        }
        let mut out = String::with_capacity(text.len() + 64);
        for (at, line) in text.lines().enumerate() {
            let keyword = line.split(' ').next().unwrap_or_default();
            match keyword {
                // The prose of a step stands below it.
                "" => out.push_str(&words(line, variant)),
                "in" => {
                    let head = line.len() - line[2..].trim_start().len() + 2;
                    out.push_str(&line[..head]);
                    out.push_str(&words(&line[head..], variant));
                }
                "take" | "family" => out.push_str(&amount(line, mixed(variant * 64 + at))),
                keyword if PROSE.contains(&keyword) => {
                    out.push_str(keyword);
                    out.push_str(&words(&line[keyword.len()..], variant));
                }
                _ => out.push_str(line),
            }
            out.push('\n');
        }
        out
    }

    /// Words of another language: vowels and some consonants change places, by
    /// the variant. Their number and length stay.
    fn words(text: &str, variant: usize) -> String {
        let vowels = arrangement("aeiou", variant % 120);
        let consonants = arrangement("tdns", variant / 120 % 24);
        let swap = |letter: char| {
            let small = letter.to_ascii_lowercase();
            let other = ["aeiou", "tdns"]
                .iter()
                .zip([&vowels, &consonants])
                .find_map(|(from, to)| from.chars().position(|own| own == small).and_then(|at| to.get(at).copied()));
            match other {
                Some(other) if letter.is_ascii_uppercase() => other.to_ascii_uppercase(),
                Some(other) => other,
                None => letter,
            }
        };
        text.chars().map(swap).collect()
    }

    fn arrangement(letters: &str, mut number: usize) -> Vec<char> {
        let mut left: Vec<char> = letters.chars().collect();
        let mut found = Vec::new();
        while !left.is_empty() {
            found.push(left.remove(number % left.len()));
            number /= left.len() + 1;
        }
        found
    }

    /// The line with a near amount, as a cook would write it.
    fn amount(line: &str, chance: usize) -> String {
        let start = line.find(|letter: char| letter.is_ascii_digit()).unwrap_or(line.len());
        let (head, rest) = line.split_at(start);
        let words: Vec<&str> = rest.splitn(4, ' ').collect();
        let whole: Option<usize> = words.first().and_then(|word| word.parse().ok());
        let unit = words.get(1).copied().unwrap_or_default();
        if let (Some(grams), "g") = (whole, unit) {
            return format!("{head}{} {}", grams * (90 + chance % 21) / 100, words[1..].join(" "));
        }
        // A weight in brackets belongs to its amount.
        if line.contains('(') {
            return line.to_owned();
        }
        let near: &[&str] = match words.first().copied() {
            Some("1/2") => &["1/3", "1/2", "2/3"],
            Some("3/4") => &["2/3", "3/4"],
            Some("1") if unit == "1/2" || unit == "1/4" => {
                let part = ["1/4", "1/3", "1/2"][chance % 3];
                return format!("{head}1 {part} {}", words[2..].join(" "));
            }
            Some("1") if measured(unit) => &["3/4", "1", "1 1/4"],
            Some("2") if measured(unit) => &["1 3/4", "2", "2 1/4"],
            Some("3") if measured(unit) => &["2 1/2", "3", "3 1/2"],
            Some("4") if measured(unit) => &["3 1/2", "4", "4 1/2"],
            _ => return line.to_owned(),
        };
        format!("{head}{} {}", near[chance % near.len()], words[1..].join(" "))
    }

    fn measured(unit: &str) -> bool {
        ["cup", "cups", "tbsp", "tsp"].contains(&unit)
    }

    fn mixed(number: usize) -> usize {
        let mut number = (number as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        number = (number ^ (number >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        ((number ^ (number >> 27)) >> 8) as usize
    }
}

// ------------------------------------------------------------- the front end

fn checked(stem: &str, text: &str, workspace: &Workspace, shelf: &Shelf<'_>) -> Checked {
    check(Source::new(stem, text), Kind::Dish, stem, &workspace.reference, &shelf.seen_from(stem))
}

fn front() {
    let workspace = Workspace::of(&recipes());
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    let texts = varied(10_000);
    let run = |texts: &[(String, String)]| {
        let begin = Instant::now();
        for (stem, text) in texts {
            black_box(checked(stem, text, &workspace, &shelf));
        }
        begin.elapsed()
    };
    run(&texts[..200]);
    let best = |count: usize, rounds: usize| (0..rounds).map(|_| run(&texts[..count])).min().unwrap();

    println!("\nfront end, warm, one core: parse, resolve, compute and assess");
    let each = ms(best(DISHES, 3)) / DISHES as f64;
    row(&format!("a dish of {DISHES}, ms"), &format!("{each:.3}"), "goal < 0.3");
    row("dishes in a second", &format!("{:.0}", 1e3 / each), "goal 5000");
    let times = [(100, 20), (1_000, 5), (10_000, 2)].map(|(count, rounds)| best(count, rounds).as_secs_f64());
    row("time of 1,000 dishes to that of 100", &format!("{:.2}", times[1] / times[0]), "goal <= 10.5");
    row("time of 10,000 dishes to that of 1,000", &format!("{:.2}", times[2] / times[1]), "goal <= 10.5");

    let mut phases = [Duration::ZERO; 6];
    let (mut messages, mut errors) = (0, 0);
    for (stem, text) in &texts[..DISHES] {
        let mut at = Instant::now();
        let mut took = |phase: usize| {
            let now = Instant::now();
            phases[phase] += now - at;
            at = now;
        };
        let mut sink = Sink::new();
        let source = Source::new(stem.as_str(), text.as_str());
        let (tree, document) = syntax::parse(Kind::Dish, &source.text, &mut sink);
        took(0);
        let Document::Dish(ast) = &document else { unreachable!() };
        let resolved = resolve::resolve(ast.clone(), &workspace.reference, &shelf.seen_from(stem), &mut sink);
        took(1);
        let computed = compute(&resolved, &workspace.reference, &Selection::default());
        took(2);
        let report = assess(&Case { dish: &resolved, computed: &computed, reference: &workspace.reference }, &mut sink);
        took(3);
        let found = sink.finish();
        messages += found.iter().filter(|message| message.severity == Severity::Warning).count();
        errors += found.iter().filter(|message| message.severity == Severity::Error).count();
        took(4);
        drop((tree, document, resolved, computed, report, found));
        took(5);
    }
    let share = |phase: usize| format!("{:.0}", ms(phases[phase]) * 1e3 / DISHES as f64);
    for (phase, name) in ["parse", "resolve", "compute", "assess", "sort the messages", "free"].iter().enumerate() {
        row(&format!("  of which {name}, µs"), &share(phase), "");
    }
    row("(errors, warnings in these dishes)", &format!("{errors}, {messages}"), "");
}

// ------------------------------------------------------------- a cold start

fn cold() {
    let dish = recipes().join("lake-fish-leaf-stew.dish");
    let dish = dish.to_string_lossy();
    let start = |arguments: &[&str]| {
        let times = (0..STARTS)
            .map(|_| {
                let begin = Instant::now();
                let status = Command::new(env!("CARGO_BIN_EXE_porringer"))
                    .args(arguments)
                    .stdout(Stdio::null())
                    .stderr(Stdio::null())
                    .status()
                    .unwrap();
                assert!(status.success(), "{arguments:?} failed");
                ms(begin.elapsed())
            })
            .collect();
        median(times)
    };
    println!("\ncold start of the program, median of {STARTS}");
    start(&["--version"]);
    row("check of one dish, ms", &format!("{:.1}", start(&["check", &dish])), "goal < 25");
    row("nutrients of one dish, ms", &format!("{:.1}", start(&["nutrients", &dish])), "goal < 25");
    row("  of which the start itself (--version), ms", &format!("{:.1}", start(&["--version"])), "");
}

// ----------------------------------------------------------------- the cards

mod cards {
    use super::*;

    /// In the list of spacings: a card that takes more than a sheet.
    const NO_FIT: char = '-';

    /// What a run of a child says.
    struct Run {
        seconds: f64,
        /// Of the processor, all threads together.
        busy: f64,
        peak_mb: f64,
        rest: String,
    }

    /// Card of every dish, in English and Swahili by turns.
    fn made(count: usize) -> Vec<Card> {
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
        let fits = spawn("fits", count, "-").rest;
        let at = |side: fn(u8) -> u8, level: u8| {
            fits.bytes().filter(|fit| *fit != NO_FIT as u8 && side(fit - b'0') == level).count().to_string()
        };
        let levels = |side| (0..LEVELS).map(|level| at(side, level)).collect::<Vec<_>>().join(", ");
        row("fronts that come out at spacing 0, 1, 2, 3, 4", &levels(|fit| fit / LEVELS), "");
        row("backs that come out at spacing 0, 1, 2, 3, 4", &levels(|fit| fit % LEVELS), "");
        row("cards that no spacing brings onto one sheet", &fits.matches(NO_FIT).count().to_string(), "goal 0");

        // Bare typst clears its memory as the library does or as its own
        // watching does, whichever is the faster here.
        let few = count.min(200);
        let bare = ["bare-tenth", "bare-each"]
            .into_iter()
            .map(|mode| (spawn(mode, few, &fits).busy, mode))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .unwrap()
            .1;
        let (mut ours, mut theirs) = (Vec::new(), Vec::new());
        for _ in 0..rounds {
            ours.push(spawn("library", count, &fits));
            theirs.push(spawn(bare, count, &fits));
        }
        let whole = spawn("whole", count, &fits);
        let seconds = |runs: &[Run]| median(runs.iter().map(|run| run.seconds).collect());
        let peak = |runs: &[Run]| median(runs.iter().map(|run| run.peak_mb).collect());
        let ratio = median(ours.iter().zip(&theirs).map(|(a, b)| a.seconds / b.seconds).collect());
        let busy = median(ours.iter().zip(&theirs).map(|(a, b)| a.busy / b.busy).collect());
        let all: Vec<String> = ours.iter().zip(&theirs).map(|(a, b)| format!("{:.3}", a.seconds / b.seconds)).collect();
        let per_card = |seconds: f64| format!("{:.1}", seconds * 1e3 / count as f64);
        row(&format!("library to bare typst, median of {}", all.join(" ")), &format!("{ratio:.3}"), "goal < 1.15");
        row("  the same in processor time", &format!("{busy:.3}"), "");
        row("library, ms a card (final spacing given)", &per_card(seconds(&ours)), "");
        row(&format!("bare typst ({bare}), ms a card"), &per_card(seconds(&theirs)), "");
        row("library with its search for the spacing, ms a card", &per_card(whole.seconds), "");
        let settled = median(ours.iter().map(|run| run.busy).collect());
        row("  with that search to without, processor time", &format!("{:.2}", whole.busy / settled), "");
        row("  processor time of a card without it, ms", &per_card(settled), "");
        row("peak memory: library, bare, MB", &format!("{:.0}, {:.0}", peak(&ours), peak(&theirs)), "");

        println!("\nwhere a card's time goes: {SAMPLE} cards, one thread");
        for line in spawn("phases", SAMPLE.min(count), &fits).rest.split(';') {
            let (what, figure) = line.split_once('=').unwrap();
            row(&format!("{what}, ms"), figure, "");
        }
    }

    fn spawn(mode: &str, count: usize, fits: &str) -> Run {
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

    /// The spacing every card comes out at.
    fn find(cards: &[Card]) -> (f64, String) {
        let found: Vec<AtomicU8> = cards.iter().map(|_| AtomicU8::new(0)).collect();
        let jobs: Vec<usize> = (0..cards.len()).collect();
        let (engine, template) = engine(cores());
        let begin = Instant::now();
        engine.each(
            &jobs,
            |at| {
                let settled = engine.settle(&template, &cards[*at], None)?;
                let fits = settled.document.pages().len() <= SIDES;
                let fit = b'0' + settled.fit * LEVELS + settled.fit_back;
                found[*at].store(if fits { fit } else { NO_FIT as u8 }, Ordering::Relaxed);
                Ok(())
            },
            |_, result| result.unwrap(),
        );
        let fits = found.iter().map(|fit| char::from(fit.load(Ordering::Relaxed))).collect();
        (begin.elapsed().as_secs_f64(), fits)
    }

    fn library(
        cards: &[Card],
        work: impl Fn(&Engine, &Template, &Card) -> Result<Vec<u8>, Fault> + Sync,
    ) -> (f64, String) {
        let begin = Instant::now();
        let (engine, template) = engine(cores());
        let mut bytes = 0;
        engine.each(cards, |card| work(&engine, &template, card), |_, result| bytes += result.unwrap().len());
        (begin.elapsed().as_secs_f64(), bytes.to_string())
    }

    /// One thread, timer by timer.
    fn phases(cards: &[Card]) -> (f64, String) {
        let (engine, template) = engine(1);
        let (mut data, mut layout, mut export, mut clear, mut search) =
            (Duration::ZERO, Duration::ZERO, Duration::ZERO, Duration::ZERO, Duration::ZERO);
        let mut layouts = 0;
        let begin = Instant::now();
        for (at, card) in cards.iter().enumerate() {
            let start = Instant::now();
            black_box(serde_json::to_vec(card).unwrap());
            data += start.elapsed();
            let start = Instant::now();
            let document = engine.lay_out(&template, card, None).unwrap();
            layout += start.elapsed();
            typst::comemo::evict(0);
            let start = Instant::now();
            layouts += black_box(engine.settle(&template, card, None).unwrap()).layouts;
            search += start.elapsed();
            let start = Instant::now();
            black_box(engine.export(&document, &card.id).unwrap());
            export += start.elapsed();
            let start = Instant::now();
            if at % 10 == 9 {
                typst::comemo::evict(10);
            }
            clear += start.elapsed();
        }
        let each = |time: Duration| format!("{:.2}", ms(time) / cards.len() as f64);
        let rest = format!(
            "data as JSON={};layout at the final spacing={};search for the spacing, that layout included={};\
             PDF={};clearing typst's memory={};(layouts a card)={:.2}",
            each(data),
            each(layout),
            each(search),
            each(export),
            each(clear),
            layouts as f64 / cards.len() as f64
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
}
