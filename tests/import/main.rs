//! `porringer import`: tables of others in the layouts they come in, whole and
//! broken, and what a workspace makes of them.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod fdc;
mod flat;
mod sheets;
mod total;
mod used;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use porringer::diagnostic::{Severity, Sink};
use porringer::import::{File, Import, Map, Remarks, read_file, write};
use porringer::reference::nutrient::NutrientId;
use porringer::reference::table::{Amount, Table};
use porringer::source::Source;

pub fn file(name: &str, bytes: impl AsRef<[u8]>) -> File {
    File { name: name.to_owned(), bytes: bytes.as_ref().to_vec() }
}

pub fn map(text: &str) -> Map {
    let mut remarks = Remarks::default();
    let map = Map::read("map.toml", text, &mut remarks).unwrap_or_else(|| panic!("{:?}", remarks.all()));
    assert!(remarks.all().is_empty(), "{:?}", remarks.all());
    map
}

pub fn csv(text: impl AsRef<[u8]>) -> Import {
    read_file(&file("lake.csv", text), &Map::default())
}

/// Errors, warnings and notes as lines: `error lake.csv row 2, column 3 (FE): …`
pub fn said(import: &Import) -> Vec<String> {
    let line = |severity: Severity| {
        import.remarks.all().iter().filter(move |remark| remark.severity == severity).map(move |remark| {
            assert!(!remark.help.is_empty(), "{}", remark.message);
            format!("{} {}: {}", severity.word(), remark.place, remark.message)
        })
    };
    line(Severity::Error).chain(line(Severity::Warning)).chain(line(Severity::Note)).collect()
}

pub fn errors(import: &Import) -> Vec<String> {
    said(import).into_iter().filter_map(|line| line.strip_prefix("error ").map(str::to_owned)).collect()
}

pub fn amount(import: &Import, food: &str, tag: &str) -> Option<Amount> {
    let row = import.rows.iter().find(|row| row.id == food).unwrap_or_else(|| panic!("no {food}"));
    row.amount(NutrientId::from_tag(tag).unwrap())
}

/// The import written and read again, as a workspace does.
pub fn again(import: &Import) -> Table {
    let text = write::table(import, &[], "2026-01-01");
    let source = Source::new("t.csv", text.as_str());
    let mut sink = Sink::new();
    let table = Table::read("t", &source, &mut sink);
    let messages = sink.finish();
    assert!(messages.is_empty(), "{messages:#?}\n{text}");
    table
}

pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// A folder to call the program in.
pub struct Folder(tempfile::TempDir);

impl Folder {
    pub fn empty() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    pub fn run(&self, arguments: &[&str]) -> Ran {
        let output = Command::new(env!("CARGO_BIN_EXE_porringer"))
            .args(arguments)
            .current_dir(self.0.path())
            .env("SOURCE_DATE_EPOCH", "1795564800")
            .output()
            .unwrap();
        Ran {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

pub fn samples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/import/fdc")
}
