//! `porringer profile`: what an authority decides, and a programme's own.

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, gather, look, say, say_plain};
use crate::diagnostic::render::{Count, FileMessages, human};
use crate::diagnostic::{Code, Diagnostic, Severity, Sink};
use crate::reference::profile::data::Status;
use crate::reference::profile::lenient::{self, lenient};
use crate::reference::profile::rows::{Row, Table, rows};
use crate::reference::profile::{Amends, Profile};
use crate::source::{Source, Span};
use crate::workspace::{read_text, shown};

/// Name and version of the JSON.
pub const SCHEMA: &str = "porringer-profile/1";

/// The file that `new` writes.
const START: &str = include_str!("../reference/profile/start.toml");

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    /// Print the figures in use, each with its source, year and status.
    #[command(after_help = "Example: porringer profile show --table hazards")]
    Show(Show),
    /// Check a profile, and say where it is more lenient than the built-in one.
    #[command(after_help = "Example: porringer profile check recipes/national.toml")]
    Check(Check),
    /// Write a profile to begin with, which amends the built-in one.
    #[command(after_help = "Example: porringer profile new recipes/national.toml")]
    New(New),
}

#[derive(Debug, clap::Args)]
struct Show {
    /// A profile file, or a workspace; default: the workspace at hand.
    #[arg(value_name = "PATH")]
    path: Option<PathBuf>,
    /// One part only.
    #[arg(long, value_enum)]
    table: Option<Table>,
    /// Only figures that were checked so far.
    #[arg(long, value_enum)]
    status: Option<Asked>,
    /// Only rows that differ from the built-in profile.
    #[arg(long)]
    amended: bool,
    /// How it is printed.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Asked {
    /// Read in the issuing body's text, or a faithful copy of it.
    CheckedOfficial,
    /// Read in a third party's copy, paper or article.
    CheckedSecondary,
    /// Worked out from other figures.
    Computed,
    /// Not found in readable form: confirm before relying on it.
    Memory,
}

impl Asked {
    fn status(self) -> Status {
        match self {
            Self::CheckedOfficial => Status::CheckedOfficial,
            Self::CheckedSecondary => Status::CheckedSecondary,
            Self::Computed => Status::Computed,
            Self::Memory => Status::Memory,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Format {
    Human,
    Json,
}

#[derive(Debug, clap::Args)]
struct Check {
    /// The profile file.
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

#[derive(Debug, clap::Args)]
struct New {
    /// Where it is written; a file that is there already stays.
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    match &arguments.command {
        Command::Show(arguments) => show(arguments),
        Command::Check(arguments) => check(arguments),
        Command::New(arguments) => new(arguments),
    }
}

/// Reads a profile file; its messages beside it.
fn read(path: &Path) -> Result<(Source, Option<Profile>, Vec<Diagnostic>), Failure> {
    let name = shown(path);
    match read_text(path, &name) {
        Ok((source, None)) => {
            let mut sink = Sink::new();
            let profile = Profile::read(&source, &mut sink);
            Ok((source, profile, sink.finish()))
        }
        Ok((_, Some(_))) => Err(Failure(format!("`{name}` is not UTF-8 text"))),
        Err(error) => Err(Failure(format!("the profile `{name}` cannot be read: {error}"))),
    }
}

fn print(source: &Source, diagnostics: &[Diagnostic]) -> Count {
    let mut count = Count::default();
    count.add(diagnostics);
    let mut text = String::new();
    human::render(&FileMessages { source, diagnostics }, look(), &mut text);
    say(&text);
    count
}

fn show(arguments: &Show) -> Result<u8, Failure> {
    let is_file =
        arguments.path.as_ref().is_some_and(|path| path.is_file() && path.extension().is_some_and(|e| e == "toml"));
    let profile = match arguments.path.as_ref().filter(|_| is_file) {
        Some(path) => {
            let (source, profile, diagnostics) = read(path)?;
            match profile {
                Some(profile) => profile,
                None => {
                    let count = print(&source, &diagnostics);
                    complain(&format!("the profile cannot be used: {}", count.words()));
                    return Ok(ERRORS);
                }
            }
        }
        None => {
            let input = Input { paths: arguments.path.iter().cloned().collect(), foods: Vec::new() };
            let workspace = gather::workspace(&input)?;
            let of_profile = |message: &Diagnostic| message.code == Code::WorkspaceProfileError;
            let mut broken = false;
            for fault in workspace.faults.iter().filter(|fault| fault.diagnostics.iter().any(of_profile)) {
                print(&fault.source, &fault.diagnostics);
                broken = true;
            }
            if broken {
                complain("the workspace's profile cannot be used");
                return Ok(ERRORS);
            }
            Profile::clone(&workspace.reference.profile)
        }
    };
    let base = Profile::built_in();
    let differences = profile.differences(&base);
    let replaced = |row: &Row| -> Option<Option<Row>> {
        differences.iter().find(|(new, _)| new.as_ref() == Some(row)).map(|(_, old)| old.clone())
    };
    let wanted = |row: &Row| {
        arguments.table.is_none_or(|table| row.table == table)
            && arguments.status.is_none_or(|asked| row.status == Some(asked.status()))
    };
    let shown_rows: Vec<(Row, Option<Option<Row>>)> = rows(&profile.file)
        .into_iter()
        .filter(|row| wanted(row))
        .map(|row| {
            let old = if profile.own { replaced(&row) } else { None };
            (row, old)
        })
        .filter(|(_, old)| !arguments.amended || old.is_some())
        .collect();
    let gone: Vec<&Row> = differences
        .iter()
        .filter(|(new, _)| new.is_none())
        .filter_map(|(_, old)| old.as_ref())
        .filter(|row| profile.own && wanted(row))
        .collect();
    match arguments.format {
        Format::Json => say(&format!("{:#}\n", object(&profile, &shown_rows, &gone))),
        Format::Human => say_plain(&text(&profile, &shown_rows, &gone)),
    }
    Ok(CLEAN)
}

fn object(profile: &Profile, rows: &[(Row, Option<Option<Row>>)], gone: &[&Row]) -> Value {
    let about = &profile.file.profile;
    let list: Vec<Value> = rows
        .iter()
        .map(|(row, old)| {
            let mut value = json!(row);
            if let (Some(old), Some(object)) = (old, value.as_object_mut()) {
                object.insert("amended".to_owned(), json!(true));
                object.insert("replaces".to_owned(), json!(old));
            }
            value
        })
        .collect();
    json!({
        "schema": SCHEMA,
        "id": about.id,
        "title": about.title,
        "edition": about.edition,
        "note": about.note,
        "amends": profile.amends,
        "rows": list,
        "removed": gone,
    })
}

fn text(profile: &Profile, rows: &[(Row, Option<Option<Row>>)], gone: &[&Row]) -> String {
    let about = &profile.file.profile;
    let mut out = format!("{}, edition {} ({})\n", about.title, about.edition, about.id);
    if let Some(Amends { title, edition, .. }) = &profile.amends {
        let _ = writeln!(out, "amends {title}, edition {edition}");
    }
    let mut table = None;
    for (row, old) in rows {
        if table != Some(row.table) {
            table = Some(row.table);
            let _ = writeln!(out, "\n{}", row.table.title());
        }
        let _ = writeln!(out, "  {}: {}", row.key, row.figure);
        let _ = writeln!(out, "      {}", origin(row));
        if let Some(note) = &row.note {
            let _ = writeln!(out, "      {note}");
        }
        if let Some(conflict) = &row.conflict {
            let _ = writeln!(out, "      otherwise: {conflict}");
        }
        match old {
            Some(Some(old)) => {
                let _ = writeln!(out, "      AMENDED, in place of {}: {}", old.figure, origin(old));
            }
            Some(None) => {
                let _ = writeln!(out, "      ADDED");
            }
            None => {}
        }
    }
    let removed = profile.amends.iter().flat_map(|amends| &amends.removed);
    let reasons: Vec<String> =
        removed.map(|row| format!("  {} {}: {}", row.table.word(), row.key, row.reason)).collect();
    if !gone.is_empty() {
        let _ = writeln!(out, "\nNot in this profile");
        for row in gone {
            let _ = writeln!(out, "  {} {}: {}; {}", row.table.word(), row.key, row.figure, origin(row));
        }
        if !reasons.is_empty() {
            let _ = writeln!(out, "\nRemoved, and why\n{}", reasons.join("\n"));
        }
    }
    let counted = if rows.len() == 1 { "1 figure".to_owned() } else { format!("{} figures", rows.len()) };
    let _ = writeln!(out, "\n{counted}");
    out
}

/// Source, year, status and page of a row.
fn origin(row: &Row) -> String {
    let mut text = row.source.clone();
    if let Some(year) = row.year {
        let _ = write!(text, ", {year}");
    }
    if let Some(status) = row.status {
        let _ = write!(text, "; {}", status.word());
    }
    if row.historical && !row.source.contains("historical") {
        text.push_str("; historical");
    }
    if let Some(page) = &row.read_at {
        let _ = write!(text, "; {page}");
    }
    text
}

fn check(arguments: &Check) -> Result<u8, Failure> {
    let (source, profile, mut diagnostics) = read(&arguments.file)?;
    if let Some(profile) = &profile {
        let base = Profile::built_in();
        for found in lenient(&profile.file, &base.file) {
            diagnostics.push(told(&found, profile, &base, &source.text));
        }
        diagnostics.sort_by_key(|message| message.span.start);
    }
    let count = print(&source, &diagnostics);
    if let Some(profile) = &profile {
        let differences = profile.differences(&Profile::built_in()).len();
        let how = match &profile.amends {
            Some(base) => {
                let rows = if differences == 1 { "1 row".to_owned() } else { format!("{differences} rows") };
                format!("amends edition {} of `{}` in {rows}", base.edition, base.id)
            }
            None => "replaces the built-in profile whole".to_owned(),
        };
        complain(&format!("`{}` {how}", profile.file.profile.id));
    }
    complain(&format!("{} checked: {}", shown(&arguments.file), count.words()));
    Ok(if diagnostics.iter().any(|message| message.severity == Severity::Error) { ERRORS } else { CLEAN })
}

/// A figure that is more lenient, at its place in the file.
fn told(found: &lenient::Lenient, own: &Profile, base: &Profile, text: &str) -> Diagnostic {
    let first = found.key.split(' ').next().unwrap_or_default();
    let quoted = format!("\"{first}\"");
    let span = text.find(&quoted).map_or(Span::default(), |at| Span::new(at, at + quoted.len()));
    let about = &base.file.profile;
    Diagnostic::new(
        Code::WorkspaceProfileLenient,
        span,
        format!("`{}` is more lenient: {}, not {}", found.key, found.own, found.other),
    )
    .help(format!(
        "{} says {}; {}, edition {}, says {}. Keep it only where your authority says so",
        own.file.profile.title, found.own, about.title, about.edition, found.other
    ))
}

fn new(arguments: &New) -> Result<u8, Failure> {
    let name = shown(&arguments.file);
    let folder = arguments.file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let trouble = |error: std::io::Error| Failure(format!("`{name}` cannot be written: {error}"));
    if arguments.file.extension().is_none_or(|ending| ending != "toml") {
        return Err(Failure(format!("`{name}` does not end in .toml; name it `national.toml`, say")));
    }
    let mut file = tempfile::Builder::new().prefix(".porringer-").tempfile_in(folder).map_err(trouble)?;
    file.write_all(START.as_bytes()).map_err(trouble)?;
    file.as_file().sync_all().map_err(trouble)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // A temporary file is private; a profile is shared.
        let _ = file.as_file().set_permissions(std::fs::Permissions::from_mode(0o644));
    }
    match file.persist_noclobber(&arguments.file) {
        Ok(_) => {
            complain(&format!(
                "{name} is written; name it in porringer.toml: `profile = \"{}\"`",
                file_name(&arguments.file)
            ));
            Ok(CLEAN)
        }
        Err(error) if error.error.kind() == std::io::ErrorKind::AlreadyExists => {
            Err(Failure(format!("`{name}` is there already and stays as it is; choose another name")))
        }
        Err(error) => Err(trouble(error.error)),
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}
