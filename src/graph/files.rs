//! The graph by files: which files each output is made from. For `watch`, and
//! for engines that rebuild by files' times (make, ninja) or share the work of
//! many machines.
//!
//! ```text
//! let mut files = cli::graph::of(&workspace, &paths, &languages, &further)?;
//! files.common.extend(template.places.iter().cloned());
//! files.touched(changed)     the documents that rest on a file
//! files.files()              all files that anything rests on
//! ```

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// What rests on what, by files. Paths are absolute or as the caller gave
/// them, and compared as they are.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Files {
    /// What every document rests on: settings, tables, profile, fonts, the
    /// template's files.
    pub common: BTreeSet<PathBuf>,
    pub documents: Vec<Node>,
    /// Booklets once more, as what binds others: each with all files that its
    /// pages rest on. Among `documents` a booklet is only what it says itself.
    pub bound: Vec<Node>,
}

/// A document with what it is made from and what is made of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    pub document: PathBuf,
    /// Name of its cards without language and ending.
    pub name: String,
    /// Languages of its cards; none where it has no card.
    pub languages: Vec<String>,
    /// Other files that only some documents rest on: the dishes that it takes,
    /// itself or by way of another, and its picture.
    pub files: BTreeSet<PathBuf>,
    /// It rests on the names of all documents too: a new file may concern it.
    pub names: bool,
}

impl Files {
    /// All that something may be made of.
    pub fn all(&self) -> impl Iterator<Item = &Node> {
        self.documents.iter().chain(&self.bound)
    }

    /// The documents that rest on a file.
    pub fn touched<'a>(&'a self, file: &'a Path) -> impl Iterator<Item = &'a Node> {
        let all = self.common.contains(file);
        self.documents.iter().filter(move |node| all || node.document == file || node.files.contains(file))
    }

    /// All files that anything rests on.
    pub fn files(&self) -> BTreeSet<&Path> {
        let own = self.documents.iter().flat_map(|node| std::iter::once(&node.document).chain(&node.files));
        self.common.iter().chain(own).map(PathBuf::as_path).collect()
    }
}

/// One output, as an engine makes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The file that it makes.
    pub output: String,
    /// Files it is made from, the document first.
    pub inputs: Vec<String>,
    /// The program's arguments.
    pub arguments: Vec<String>,
}

/// All steps, and how the list of them is made anew.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Steps {
    pub program: String,
    pub steps: Vec<Step>,
    pub again: Option<Step>,
}

/// A name that an engine cannot be told of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unnamable(pub String);

/// A word for a shell, whatever stands in it.
pub fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./,=+@%".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', "'\\''"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_touches_what_rests_on_it() {
        let node = |document: &str, files: &[&str]| Node {
            document: document.into(),
            name: document.to_owned(),
            languages: vec!["en".to_owned()],
            files: files.iter().map(PathBuf::from).collect(),
            names: false,
        };
        let files = Files {
            common: [PathBuf::from("larder.toml")].into(),
            documents: vec![node("a.dish", &[]), node("b.dish", &["a.dish"])],
            bound: Vec::new(),
        };
        let touched =
            |file: &str| -> Vec<String> { files.touched(Path::new(file)).map(|node| node.name.clone()).collect() };
        assert_eq!(touched("a.dish"), ["a.dish", "b.dish"]);
        assert_eq!(touched("b.dish"), ["b.dish"]);
        assert_eq!(touched("larder.toml"), ["a.dish", "b.dish"]);
        assert!(touched("else").is_empty());
        assert_eq!(files.files().len(), 3);
    }

    #[test]
    fn a_shell_sees_one_word() {
        assert_eq!(quoted("out/a.en.pdf"), "out/a.en.pdf");
        assert_eq!(quoted("a b"), "'a b'");
        assert_eq!(quoted("it's $HOME"), "'it'\\''s $HOME'");
        assert_eq!(quoted(""), "''");
    }
}
