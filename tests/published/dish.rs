//! A dish written to a file, and what the program prints about it.

use std::collections::HashMap;
use std::fs;
use std::process::Command;

use serde_json::Value;

/// One ingredient line: grams, the food's row, and the pinned retention code.
pub struct Take {
    pub grams: String,
    pub row: String,
    pub keep: Option<u32>,
}

impl Take {
    pub fn new(grams: &str, row: impl Into<String>) -> Self {
        Self { grams: grams.to_owned(), row: row.into(), keep: None }
    }

    pub fn keep(mut self, code: u32) -> Self {
        self.keep = Some(code);
        self
    }
}

/// A dish whose cooked weight is given in percent of the raw weight.
pub struct Dish {
    pub id: String,
    pub title: String,
    pub cooked_percent: String,
    pub takes: Vec<Take>,
}

impl Dish {
    /// The text of the `.dish` file.
    fn text(&self) -> String {
        // A published title may hold any mark; only words matter here.
        let title: String =
            self.title.chars().map(|c| if c.is_alphanumeric() || ",-".contains(c) { c } else { ' ' }).collect();
        let title = title.split_whitespace().collect::<Vec<_>>().join(" ");
        let mut text = format!(
            "dish     {title}\nfor      12 to 23 months\nmakes    1 portion\ncooked   {} %\n\n",
            self.cooked_percent
        );
        for (take, number) in self.takes.iter().zip(1..) {
            let keep = take.keep.map(|code| format!(" keep r6:{code}")).unwrap_or_default();
            text.push_str(&format!("take     {} g {}{keep} as line {number}\n", take.grams, take.row));
        }
        text.push_str("\nstep     mix everything\n");
        text
    }
}

/// What `nutrients --format json` printed about one dish.
pub struct Figures(Value);

impl Figures {
    /// All that was printed.
    pub fn value(&self) -> &Value {
        &self.0
    }

    pub fn number(&self, key: &str) -> f64 {
        self.0[key].as_f64().unwrap_or_else(|| panic!("no number {key} in {}", self.0))
    }

    /// `None` where the program says unknown.
    pub fn per_100g(&self, tag: &str) -> Option<f64> {
        self.0["nutrients"][tag]["per_100g"].as_f64()
    }

    /// Share of the raw weight whose value is known.
    pub fn known_share(&self, tag: &str) -> Option<f64> {
        self.0["nutrients"][tag]["known_share"].as_f64()
    }

    pub fn unit(&self, tag: &str) -> Option<&str> {
        self.0["nutrients"][tag]["unit"].as_str()
    }
}

/// Writes the dishes and the further tables (stem and CSV text) into a folder
/// and runs the program over it, once. By id.
pub fn compute(dishes: &[Dish], tables: &[(&str, &str)]) -> HashMap<String, Figures> {
    let folder = tempfile::tempdir().unwrap();
    let recipes = folder.path().join("recipes");
    fs::create_dir(&recipes).unwrap();
    for dish in dishes {
        fs::write(recipes.join(format!("{}.dish", dish.id)), dish.text()).unwrap();
    }
    let mut command = Command::new(env!("CARGO_BIN_EXE_porringer"));
    command.current_dir(folder.path()).arg("nutrients").arg(&recipes).args(["--format", "json"]);
    for (stem, text) in tables {
        let path = folder.path().join(format!("{stem}.csv"));
        fs::write(&path, text).unwrap();
        command.arg("--foods").arg(path);
    }
    let output = command.output().unwrap();
    let messages = String::from_utf8_lossy(&output.stderr);
    // 1 says that a rule objects, which does not keep figures from being
    // printed.
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}: {messages:.4000}", output.status);
    let mut figures = HashMap::new();
    for line in String::from_utf8(output.stdout).unwrap().lines() {
        let value: Value = serde_json::from_str(line).unwrap_or_else(|error| panic!("{error}: {line:.200}"));
        let id = value["id"].as_str().expect("a line has an id").to_owned();
        assert!(figures.insert(id, Figures(value)).is_none(), "an id twice: {line:.200}");
    }
    for dish in dishes {
        assert!(figures.contains_key(&dish.id), "nothing printed about {}: {}\n{messages:.4000}", dish.id, dish.text());
    }
    figures
}

/// `cooked` for a food that loses or takes up nothing but water: the solids
/// stay.
pub fn percent_by_solids(raw_water: f64, cooked_water: f64) -> String {
    format!("{:.6}", 100.0 * (100.0 - raw_water) / (100.0 - cooked_water))
}
