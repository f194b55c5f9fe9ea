//! Sets that are worked through in several lots look like one.

use std::fmt::Write;

use crate::{Folder, MASH};

/// More dishes than are kept at a time, on any machine; named in order.
fn many() -> (Folder, usize) {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let count = 256.max(32 * cores) + 20;
    let folder = Folder::with("porringer.toml", "languages = [\"en\"]\n");
    for at in 0..count {
        folder.write(&name(at), dish(at));
    }
    (folder, count)
}

fn name(at: usize) -> String {
    format!("recipes/d{at:05}.dish")
}

fn dish(at: usize) -> String {
    MASH.replace("300 g", &format!("{} g", 290 + at % 20))
}

#[test]
fn messages_come_in_the_order_of_the_files() {
    let (folder, count) = many();
    let faulty = [3, count - 30, count - 2];
    for at in faulty {
        folder.write(&name(at), dish(at) + "step boyl x\n");
    }
    let mut lines = String::new();
    for at in faulty {
        let alone = folder.run(&["check", &name(at), "--format", "short"]);
        assert_eq!(alone.code, 1, "{alone:?}");
        lines.push_str(&alone.out);
    }
    let all = folder.run(&["check", "--format", "short"]);
    assert_eq!((all.code, &all.out), (1, &lines));
    let json = folder.run(&["check", "--format", "json"]).json();
    let errors = json.as_array().unwrap().iter().filter(|message| message["severity"] == "error");
    let mut places = String::new();
    for message in errors {
        let at = &message["start"];
        let _ = writeln!(
            places,
            "{}:{}:{}: error[{}] {}",
            message["file"].as_str().unwrap(),
            at["line"],
            at["column"],
            message["code"].as_str().unwrap(),
            message["message"].as_str().unwrap()
        );
    }
    assert_eq!(places, lines);
    let log = folder.run(&["check", "--format", "sarif"]).json();
    let run = &log["runs"][0];
    assert_eq!(run["artifacts"].as_array().unwrap().len(), count);
    let results = run["results"].as_array().unwrap();
    assert_eq!(results.len(), lines.lines().count());
    for result in results {
        let rule = &run["tool"]["driver"]["rules"][result["ruleIndex"].as_u64().unwrap() as usize];
        assert_eq!(rule["id"], result["ruleId"]);
    }
}

#[test]
fn a_document_of_any_lot_is_what_it_is_alone() {
    let (folder, count) = many();
    let faulty = count - 2;
    folder.write(&name(faulty), dish(faulty) + "step boyl x\n");
    let forms = ["--format", "json,csv,jsonld"];
    let build = |more: &[&str]| folder.run(&[&["build"], &forms[..], more].concat());
    let first = build(&[]);
    assert_eq!(first.code, 1, "{first:?}");
    let files = 2 * (count - 1) + 1;
    assert!(
        first.err.starts_with(&format!("porringer: {files} files in out, 1 dish left out: 1 error")),
        "{}",
        first.err
    );
    let alone = folder.run(&["build", &name(faulty), "--out", "alone"]);
    assert_eq!(first.out, alone.out);
    let mut rows = String::new();
    for at in [0, 1, count / 2, count - 1] {
        folder.run(&[&["build", &name(at), "--out", "alone"], &forms[..]].concat());
        for ending in ["json", "en.jsonld"] {
            let file = format!("d{at:05}.{ending}");
            assert!(folder.read(&format!("out/{file}")) == folder.read(&format!("alone/{file}")), "{file}");
        }
        let table = String::from_utf8(folder.read("alone/nutrients.csv")).unwrap();
        rows.push_str(table.split_once('\n').unwrap().1);
    }
    let table = String::from_utf8(folder.read("out/nutrients.csv")).unwrap();
    assert_eq!(table.lines().count(), count);
    for row in rows.lines() {
        assert!(table.lines().any(|line| line == row), "{row}");
    }
    let again = build(&[]);
    assert_eq!(again.out, first.out);
    assert!(again.err.starts_with(&format!("porringer: 0 files in out, {files} up to date, 1 dish")), "{}", again.err);
    assert_eq!(build(&["--locked"]).out, first.out);
}

#[test]
fn a_name_of_another_lot_is_taken_before_anything_is_written() {
    let (folder, count) = many();
    folder.write(&name(count - 1), dish(0).replacen("\nfor ", "\nid d00002\nfor ", 1));
    let ran = folder.run(&["build", "--format", "json"]);
    assert_eq!(ran.code, 2, "{ran:?}");
    assert!(ran.err.contains("are both called `d00002`"), "{ran:?}");
    assert!(!folder.path("out").exists());
}
