//! How fast Porringer is, on the machine at hand:
//! `cargo bench --bench bench [-- front|cold|cards|lsp|incremental|peers|memory] [--cards N] [--rounds N] [--edits N] [--dishes N]`.
//!
//! `front --dishes 200` goes once over so many dishes and nothing else, for
//! valgrind's callgrind: instructions can be counted where times are noisy.
//!
//! `peers` and `memory` run only when asked for: the first installs what other
//! people set pages with, the second makes 11,000 cards (some minutes). With 1,000 cards the
//! rest takes some ten minutes on two cores; `--cards 100` gives the same
//! ratios, coarser. On a machine that does other work as well,
//! believe the processor time, not the clock.
//!
//! Every dish differs from every other in its amounts and in nearly every
//! word of its prose, so that no memory of an earlier dish can help. Runs over
//! cards are processes of their own: each has its own peak of memory, and
//! nothing that one run keeps can help the next.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod cards;
mod incremental;
mod lsp;
mod memory;
mod peers;
mod vary;

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
const LEVELS: u8 = 6;
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
        let any =
            ["front", "cold", "cards", "lsp", "incremental", "peers", "memory"].iter().any(|part| words.contains(part));
        (!any && !["peers", "memory"].contains(&part)) || words.contains(&part)
    };
    machine();
    if named("front") {
        match number("--dishes", 0) {
            0 => front(),
            few => front_once(few),
        }
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
    if named("peers") {
        peers::compare(number("--cards", 1_000));
    }
    if named("memory") {
        memory::compare(number("--cards", 1_000));
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

// ------------------------------------------------------------- the front end

fn checked(stem: &str, text: &str, workspace: &Workspace, shelf: &Shelf<'_>) -> Checked {
    check(Source::new(stem, text), Kind::Dish, stem, &workspace.reference, &shelf.seen_from(stem))
}

/// For counting instructions: the tables are read first, then each dish once.
fn front_once(count: usize) {
    let workspace = Workspace::of(&recipes());
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    for (stem, text) in varied(count) {
        black_box(checked(&stem, &text, &workspace, &shelf));
    }
}

fn front() {
    let workspace = Workspace::of(&recipes());
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    let texts = varied(100_000);
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
    row(&format!("a dish of {DISHES}, ms"), &format!("{each:.3}"), "goal < 0.2");
    row("dishes in a second", &format!("{:.0}", 1e3 / each), "goal 5000");
    // The least of three is less than one alone, so the largest are measured
    // equally often.
    let times =
        [(100, 20), (1_000, 5), (10_000, 3), (100_000, 3)].map(|(count, rounds)| best(count, rounds).as_secs_f64());
    row("time of 1,000 dishes to that of 100", &format!("{:.2}", times[1] / times[0]), "goal <= 10.5");
    row("time of 10,000 dishes to that of 1,000", &format!("{:.2}", times[2] / times[1]), "goal <= 10.5");
    row("time of 100,000 dishes to that of 10,000", &format!("{:.2}", times[3] / times[2]), "goal <= 10.5");

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
    row("check of one dish, ms", &format!("{:.1}", start(&["check", &dish])), "goal < 20");
    row("nutrients of one dish, ms", &format!("{:.1}", start(&["nutrients", &dish])), "goal < 20");
    row("  of which the start itself (--version), ms", &format!("{:.1}", start(&["--version"])), "");
}
