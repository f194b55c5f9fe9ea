//! `porringer explain`

use std::fs;
use std::path::Path;

use porringer::diagnostic::CODES;

use crate::{Folder, exactly};

#[test]
fn every_code_prints_its_page() {
    let folder = Folder::new();
    let pages = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/diagnostic/pages");
    for code in CODES {
        let page = fs::read_to_string(pages.join(format!("{}.md", code.name()))).unwrap();
        let ran = folder.run(&["explain", code.name()]);
        assert_eq!(ran, exactly(0, &format!("{}\n", page.trim_end()), ""), "{}", code.name());
        assert!(ran.out.starts_with(&format!("# {}\n", code.name())), "{}", ran.out);
    }
}

#[test]
fn without_a_code_all_are_listed() {
    let ran = Folder::new().run(&["explain"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let lines: Vec<&str> = ran.out.lines().filter(|line| !line.is_empty()).collect();
    assert_eq!(lines.len(), CODES.len());
    for (line, code) in lines.iter().zip(CODES) {
        let mut words = line.split_whitespace();
        assert_eq!(words.next(), Some(code.name()));
        assert_eq!(words.next(), Some(code.severity().word()));
        assert!(line.ends_with(code.title()), "{line}");
    }
}

#[test]
fn an_unknown_code_is_a_fault_of_usage() {
    let folder = Folder::new();
    assert_eq!(
        folder.run(&["explain", "safety/bean-not-boild"]),
        exactly(
            2,
            "",
            "porringer: there is no message `safety/bean-not-boild`; did you mean `safety/bean-not-boiled`?\n"
        )
    );
    assert_eq!(
        folder.run(&["explain", "x"]),
        exactly(2, "", "porringer: there is no message `x`; `porringer explain` lists them all\n")
    );
}
