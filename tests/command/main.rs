//! The program as a person calls it: arguments in; standard output, standard
//! error, exit code and files out. Every test runs the real binary in a
//! temporary folder of its own.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod annotations;
mod bars;
mod booklet;
mod build;
mod check;
mod claims;
mod compare;
mod determinism;
mod explain;
mod family;
mod foods;
mod format;
mod graph;
mod hostile;
mod incremental;
mod killed;
mod locked;
mod lots;
mod menu;
mod new;
mod nutrients;
mod pages;
mod photocopy;
mod profile;
mod rebuilt;
mod sarif;
mod scale;
mod shop;
mod template;
mod trace;
mod translate;
mod watch;
mod web;
mod workspace;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// A dish without a fault, in English and Swahili.
pub const MASH: &str = "\
dish     Pumpkin and groundnut mash
in sw    Boga na karanga
for      9 to 11 months
makes    1 1/2 cups
cooked   360 g
portion  1/2 cup

take     300 g pumpkin, peeled, cubed
take     2 tbsp groundnut paste, smooth

step     boil pumpkin for 15 min; drain pumpkin
step     mash pumpkin with groundnut paste for 3 min
serve    Warm, within 2 hours.
in sw    Kikiwa vuguvugu, ndani ya saa 2.
";

/// A dish with one error: the food on line 5 is not known.
pub const BROKEN: &str = "\
dish     Pot of nothing known
for      9 to 11 months
makes    2 cups
take     1 cup water
take     1 cup zzyzx
step     boil everything for 5 min
cooked   300 g
";

/// What a call gave back.
#[derive(Debug, PartialEq, Eq)]
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// Each message as `line:column code`, from `--format json`.
    pub fn places(&self) -> Vec<String> {
        // Few dishes of these tests have a `reviewed` line, and none is about it.
        let noted = |message: &&Value| message["code"] != "review/none";
        self.json().as_array().unwrap().iter().filter(noted).map(place).collect()
    }

    pub fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {self:?}"))
    }
}

pub fn place(message: &Value) -> String {
    let start = &message["start"];
    format!("{}:{} {}", start["line"], start["column"], message["code"].as_str().unwrap())
}

/// A temporary folder to call the program in.
pub struct Folder {
    folder: tempfile::TempDir,
}

impl Default for Folder {
    fn default() -> Self {
        Self::new()
    }
}

impl Folder {
    pub fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// With one file.
    pub fn with(name: &str, text: impl AsRef<[u8]>) -> Self {
        let folder = Self::new();
        folder.write(name, text);
        folder
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub fn read(&self, name: &str) -> Vec<u8> {
        let path = self.path(name);
        fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
    }

    /// Names below a folder, sorted, with forward slashes.
    pub fn names(&self, below: &str) -> Vec<String> {
        let root = self.path(below);
        let mut found = Vec::new();
        walk(&root, &root, &mut found);
        found.sort();
        found
    }

    pub fn run(&self, arguments: &[&str]) -> Ran {
        self.run_with(arguments, &[])
    }

    pub fn run_with(&self, arguments: &[&str], variables: &[(&str, &str)]) -> Ran {
        let output = Command::new(env!("CARGO_BIN_EXE_porringer"))
            .args(arguments)
            .current_dir(self.folder.path())
            // A day that stays, so that no review grows old.
            .env("SOURCE_DATE_EPOCH", "1793491200")
            .envs(variables.iter().copied())
            .output()
            .unwrap();
        Ran {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// `check FILE --format json`
    pub fn check_json(&self, name: &str) -> Ran {
        self.run(&["check", name, "--format", "json"])
    }
}

/// A folder with the demo set in `recipes`.
pub fn demo() -> Folder {
    let folder = Folder::new();
    let set = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    for entry in fs::read_dir(set).unwrap() {
        let path = entry.unwrap().path();
        if path.is_file() {
            folder.write(&format!("recipes/{}", path.file_name().unwrap().to_str().unwrap()), fs::read(&path).unwrap());
        }
    }
    folder
}

fn walk(root: &Path, folder: &Path, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        // What a build remembers is none of its outputs.
        if path.file_name().is_some_and(|name| name == ".porringer") {
            continue;
        }
        if path.is_dir() {
            walk(root, &path, found);
        } else {
            found.push(path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/"));
        }
    }
}

/// A call of which everything is known beforehand.
pub fn exactly(code: i32, out: &str, err: &str) -> Ran {
    Ran { code, out: out.to_owned(), err: err.to_owned() }
}

#[test]
fn a_wrong_call_is_a_fault_of_usage() {
    let folder = Folder::new();
    for arguments in [&["chekc"][..], &["check", "--format", "xml"], &["build", "--deny", "notes"], &[]] {
        let ran = folder.run(arguments);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{arguments:?}");
        assert!(!ran.err.is_empty());
    }
    let ran = folder.run(&["--version"]);
    assert_eq!(ran, exactly(0, concat!("porringer ", env!("CARGO_PKG_VERSION"), "\n"), ""));
}
