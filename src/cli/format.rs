//! `porringer format`

use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use similar::TextDiff;

use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, gather, say, say_plain};
use crate::diagnostic::Diagnostic;
use crate::diagnostic::render::{FileMessages, human};
use crate::source::{Place, Source};
use crate::syntax::{Kind, LARGEST_FILE};
use crate::workspace::{self, Workspace, shown};

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Files or folders of them; default: the workspace's recipes.
    #[arg(value_name = "PATHS")]
    paths: Vec<PathBuf>,
    /// Write nothing: print what would change as a unified diff, and exit with
    /// 1 if anything would.
    #[arg(long)]
    check: bool,
    /// Read the text from standard input and write it to standard output; the
    /// name's ending says which kind of file it is.
    #[arg(long, value_name = "NAME", conflicts_with = "paths")]
    stdin_name: Option<PathBuf>,
}

/// What became of the files.
#[derive(Default)]
struct Outcome {
    seen: usize,
    changed: usize,
    /// Files that are no text, or cannot be read or written.
    left: usize,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    if let Some(name) = &arguments.stdin_name {
        return standard_input(name, arguments.check);
    }
    let first = match arguments.paths.first() {
        Some(path) => path.clone(),
        None => std::env::current_dir().map_err(|error| Failure(format!("no working folder: {error}")))?,
    };
    if let Some(path) = arguments.paths.iter().find(|path| !path.exists()) {
        return Err(Failure(format!("there is no file or folder `{}`", path.display())));
    }
    let input = Input { paths: arguments.paths.clone(), foods: Vec::new() };
    let files = gather::files(&input, &Workspace::of(&first))?;
    let mut outcome = Outcome::default();
    let mut troubles = Vec::new();
    for path in &files {
        outcome.seen += 1;
        match one(path, arguments.check) {
            Ok(changed) => outcome.changed += usize::from(changed),
            Err(Trouble::Text(source, fault)) => {
                outcome.left += 1;
                let mut out = String::new();
                human::render(&FileMessages { source: &source, diagnostics: &[*fault] }, super::look(), &mut out);
                say(&out);
            }
            Err(Trouble::File(message)) => troubles.push(message),
        }
    }
    for trouble in &troubles {
        complain(trouble);
    }
    let files = |count: usize| if count == 1 { "1 file".to_owned() } else { format!("{count} files") };
    let what = match (outcome.changed, arguments.check) {
        (0, _) => "all in form".to_owned(),
        (1, true) => "1 is not in form".to_owned(),
        (count, true) => format!("{count} are not in form"),
        (count, false) => format!("{count} brought into form"),
    };
    let left = if outcome.left > 0 { format!(", {} left as they are", outcome.left) } else { String::new() };
    complain(&format!("{} looked at: {what}{left}", files(outcome.seen)));
    if !troubles.is_empty() {
        return Ok(crate::cli::USAGE);
    }
    let failed = outcome.left > 0 || (arguments.check && outcome.changed > 0);
    Ok(if failed { ERRORS } else { CLEAN })
}

enum Trouble {
    /// It is no text of a recipe; the message says where.
    Text(Source, Box<Diagnostic>),
    File(String),
}

/// Brings one file into form and says whether it was not.
fn one(path: &Path, only_check: bool) -> Result<bool, Trouble> {
    let name = shown(path);
    let kind = Kind::of_path(path).unwrap_or(Kind::Dish);
    let unread = |error: std::io::Error| Trouble::File(format!("`{name}` cannot be read: {error}"));
    let size = std::fs::metadata(path).map_err(unread)?.len();
    if size > LARGEST_FILE as u64 {
        return Err(Trouble::File(format!("`{name}` is larger than any recipe; it is left as it is")));
    }
    let (source, fault) = workspace::read_text(path, &name).map_err(unread)?;
    if let Some(fault) = fault {
        return Err(Trouble::Text(source, Box::new(fault)));
    }
    let formed = crate::format::format(kind, &source.text);
    if formed == *source.text {
        return Ok(false);
    }
    if only_check {
        say_plain(&difference(&name, &source.text, &formed));
        return Ok(true);
    }
    replace(path, formed.as_bytes()).map_err(|error| Trouble::File(format!("`{name}` cannot be written: {error}")))?;
    say_plain(&format!("{name}\n"));
    Ok(true)
}

fn difference(name: &str, before: &str, after: &str) -> String {
    TextDiff::from_lines(before, after).unified_diff().header(name, &format!("{name} in form")).to_string()
}

/// Written beside the file and renamed, with the file's own permissions. A
/// link stays a link.
pub fn replace(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let path = std::fs::canonicalize(path)?;
    let permissions = std::fs::metadata(&path)?.permissions();
    if permissions.readonly() {
        return Err(std::io::Error::new(std::io::ErrorKind::PermissionDenied, "it is read-only"));
    }
    let folder = path.parent().unwrap_or(Path::new("."));
    let mut file = tempfile::Builder::new().prefix(".porringer-").tempfile_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.as_file().set_permissions(permissions)?;
    file.persist(&path).map_err(|error| error.error)?;
    Ok(())
}

fn standard_input(name: &Path, only_check: bool) -> Result<u8, Failure> {
    let kind = Kind::of_path(name).ok_or_else(|| {
        Failure(format!("`{}` is no recipe: the name ends in .dish, .menu or .booklet", name.display()))
    })?;
    let mut bytes = Vec::new();
    std::io::stdin()
        .lock()
        .take(LARGEST_FILE as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| Failure(format!("standard input cannot be read: {error}")))?;
    if bytes.len() > LARGEST_FILE {
        return Err(Failure("standard input is larger than any recipe".to_owned()));
    }
    let name = shown(name);
    let (source, fault) = workspace::text(bytes, &name);
    if let Some(fault) = fault {
        let Place { line, column, .. } = source.place(fault.span.start);
        complain(&format!("{name}:{line}:{column}: {}", fault.message));
        return Ok(ERRORS);
    }
    let formed = crate::format::format(kind, &source.text);
    if !only_check {
        // Bytes of a file, for a program: nothing in them is made visible.
        say(&formed);
        return Ok(CLEAN);
    }
    if formed == *source.text {
        return Ok(CLEAN);
    }
    say_plain(&difference(&name, &source.text, &formed));
    Ok(ERRORS)
}
