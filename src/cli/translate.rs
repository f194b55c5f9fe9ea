//! `porringer translate`

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use unic_langid::LanguageIdentifier;

use crate::check::Checked;
use crate::cli::build::unknown_language;
use crate::cli::{CLEAN, ERRORS, Failure, Input, USAGE, complain, format, gather, say, say_plain};
use crate::diagnostic::render::{FileMessages, short};
use crate::translate::{Item, Standing, items, with_stubs};
use crate::workspace::Workspace;

/// Name and version of the JSON output.
pub const SCHEMA: &str = "porringer-translation/1";

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Files or folders of them; default: the workspace's recipes.
    #[arg(value_name = "PATHS")]
    paths: Vec<PathBuf>,
    /// Languages to translate to, such as sw,fr.
    #[arg(long, value_delimiter = ',', value_name = "TAGS", required = true)]
    to: Vec<String>,
    /// Write nothing: say what is missing, and exit with 1 if anything is.
    #[arg(long)]
    check: bool,
    /// How the coverage is printed.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// For a person.
    Human,
    /// An object with every text that is missing.
    Json,
}

/// A text that is not there, and the line on which to write it.
struct Missing {
    item: Item,
    line: usize,
}

/// One file in one language.
struct Coverage {
    file: String,
    tag: String,
    texts: usize,
    missing: Vec<Missing>,
}

/// Texts in all and those that are there, of a language.
#[derive(Default)]
struct Sum {
    texts: usize,
    there: usize,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    for tag in &arguments.to {
        if tag.parse::<LanguageIdentifier>().is_err() || crate::card::Locale::new(tag).is_none() {
            return Err(Failure(unknown_language(tag)));
        }
    }
    let input = Input { paths: arguments.paths.clone(), foods: Vec::new() };
    let workspace = gather::workspace(&input)?;
    let paths = gather::files(&input, &workspace)?;
    let checked = gather::all(&paths, &workspace);
    let mut covered = Vec::new();
    let mut left = 0;
    let mut code = CLEAN;
    for (file, path) in checked.iter().zip(&paths) {
        if file.tree.nodes.is_empty() && !file.diagnostics.is_empty() {
            // It is no text, or larger than any recipe.
            let mut text = String::new();
            short::render(&FileMessages { source: &file.source, diagnostics: &file.diagnostics }, &mut text);
            text.lines().for_each(complain);
            left += 1;
            code = code.max(ERRORS);
            continue;
        }
        match one(file, path, arguments, &workspace) {
            Ok(found) => covered.extend(found),
            Err(Failure(message)) => {
                complain(&message);
                code = USAGE;
            }
        }
    }
    let missing: usize = covered.iter().map(|coverage| coverage.missing.len()).sum();
    if arguments.check && missing > 0 {
        code = code.max(ERRORS);
    }
    let mut sums: BTreeMap<&str, Sum> = BTreeMap::new();
    for coverage in &covered {
        let sum = sums.entry(&coverage.tag).or_default();
        sum.texts += coverage.texts;
        sum.there += coverage.texts - coverage.missing.len();
    }
    match arguments.format {
        Format::Json => say(&as_json(&covered, &sums)),
        Format::Human => say_plain(&in_words(&covered, arguments.check)),
    }
    let all: Vec<String> = sums
        .iter()
        .map(|(tag, sum)| format!("{tag} {} of {} texts ({})", sum.there, sum.texts, percent(sum)))
        .collect();
    let files = if paths.len() == 1 { "1 file".to_owned() } else { format!("{} files", paths.len()) };
    let left = if left > 0 { format!("; {left} left as they are") } else { String::new() };
    complain(&format!("{files}: {}{left}", all.join(", ")));
    Ok(code)
}

/// Downward, so that 100 % is all.
fn percent(sum: &Sum) -> String {
    format!("{} %", (sum.there * 100).checked_div(sum.texts).unwrap_or(100))
}

fn one(file: &Checked, path: &Path, arguments: &Arguments, workspace: &Workspace) -> Result<Vec<Coverage>, Failure> {
    let own = gather::own_language(&file.document, workspace);
    let mut tags: Vec<&str> = Vec::new();
    for tag in &arguments.to {
        if !tags.iter().any(|other| other.eq_ignore_ascii_case(tag)) {
            tags.push(tag);
        }
    }
    let mut covered = Vec::new();
    for tag in tags {
        let all = items(file, &own, tag);
        let texts = all.len();
        let missing = all
            .into_iter()
            .filter(|item| item.standing != Standing::There)
            .map(|item| {
                let at = match item.standing {
                    Standing::Stub(stub) => stub.start,
                    _ => item.span.start,
                };
                Missing { line: file.source.place(at).line, item }
            })
            .collect();
        covered.push(Coverage { file: file.source.name.clone(), tag: tag.to_owned(), texts, missing });
    }
    if !arguments.check {
        write(file, path, &mut covered)?;
    }
    Ok(covered)
}

/// Writes the stubs; afterwards every missing text's line is that of its stub.
fn write(file: &Checked, path: &Path, covered: &mut [Coverage]) -> Result<(), Failure> {
    let text: &str = &file.source.text;
    let mut wanted = Vec::new();
    let mut places = Vec::new();
    for (at, coverage) in covered.iter().enumerate() {
        for (number, missing) in coverage.missing.iter().enumerate() {
            if missing.item.standing == Standing::Missing {
                wanted.push((missing.item.at, coverage.tag.as_str()));
                places.push((at, number));
            }
        }
    }
    if wanted.is_empty() {
        return Ok(());
    }
    let (formed, lines) = with_stubs(text, &wanted);
    // Stubs that were there before have moved down.
    let moved: Vec<usize> = wanted.iter().map(|(at, _)| *at).collect();
    let stubs: Vec<((usize, usize), usize)> = places.into_iter().zip(lines).collect();
    format::replace(path, formed.as_bytes())
        .map_err(|error| Failure(format!("`{}` cannot be written: {error}", file.source.name)))?;
    for (at, coverage) in covered.iter_mut().enumerate() {
        for (number, missing) in coverage.missing.iter_mut().enumerate() {
            match missing.item.standing {
                Standing::Stub(stub) => missing.line += moved.iter().filter(|place| **place <= stub.start).count(),
                _ => {
                    let own = stubs.iter().find(|(place, _)| *place == (at, number));
                    missing.line = own.map_or(missing.line, |(_, line)| *line);
                }
            }
        }
    }
    Ok(())
}

fn in_words(covered: &[Coverage], check: bool) -> String {
    let mut out = String::new();
    for coverage in covered.iter().filter(|coverage| !coverage.missing.is_empty()) {
        let _ = writeln!(
            out,
            "{}: {} {} of {} texts",
            coverage.file,
            coverage.tag,
            coverage.texts - coverage.missing.len(),
            coverage.texts
        );
        for missing in &coverage.missing {
            let what = match missing.item.standing {
                Standing::Missing if check => "no line ",
                _ => "a stub  ",
            };
            let _ = writeln!(
                out,
                "  line {:>3}  {what}  {:<8} {}",
                missing.line,
                missing.item.what,
                beginning(&missing.item.text)
            );
        }
    }
    out
}

/// The first words of a text.
fn beginning(text: &str) -> String {
    const MOST: usize = 50;
    let mut short: String = text.chars().take(MOST).collect();
    if short.len() < text.len() {
        let end = short.rfind(' ').unwrap_or(short.len());
        short.truncate(end);
        short.push_str(" …");
    }
    short
}

fn as_json(covered: &[Coverage], sums: &BTreeMap<&str, Sum>) -> String {
    let languages: serde_json::Map<String, Value> =
        sums.iter().map(|(tag, sum)| ((*tag).to_owned(), json!({ "texts": sum.texts, "there": sum.there }))).collect();
    let files: Vec<Value> = covered
        .iter()
        .map(|coverage| {
            let missing: Vec<Value> = coverage
                .missing
                .iter()
                .map(|missing| json!({ "line": missing.line, "what": missing.item.what, "text": missing.item.text }))
                .collect();
            json!({
                "file": coverage.file,
                "language": coverage.tag,
                "texts": coverage.texts,
                "there": coverage.texts - coverage.missing.len(),
                "missing": missing,
            })
        })
        .collect();
    let whole = json!({ "schema": SCHEMA, "languages": languages, "files": files });
    format!("{}\n", serde_json::to_string_pretty(&whole).unwrap_or_else(|_| "{}".to_owned()))
}
