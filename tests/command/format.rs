//! `porringer format`

use std::io::Write;
use std::process::{Command, Stdio};

use crate::{Folder, MASH, exactly};

/// The mash as typed in a hurry.
fn hurried() -> String {
    MASH.replace("dish     ", "dish ").replace("take     2", "take\t2").replace("in sw    Boga", "in  sw Boga")
}

#[test]
fn files_are_brought_into_form() {
    let folder = Folder::with("mash.dish", hurried());
    folder.write("fine.dish", MASH);
    let ran = folder.run(&["format", "."]);
    assert_eq!(ran, exactly(0, "mash.dish\n", "porringer: 2 files looked at: 1 brought into form\n"));
    assert_eq!(folder.read("mash.dish"), MASH.as_bytes());
    let ran = folder.run(&["format", "mash.dish"]);
    assert_eq!(ran, exactly(0, "", "porringer: 1 file looked at: all in form\n"));
    assert_eq!(folder.names(""), ["fine.dish", "mash.dish"], "nothing is left beside them");
}

#[test]
fn a_check_writes_nothing_and_shows_the_difference() {
    let folder = Folder::with("mash.dish", "dish A\ntip      b\n");
    let ran = folder.run(&["format", "--check", "mash.dish"]);
    let expected = "--- mash.dish\n+++ mash.dish in form\n@@ -1,2 +1,2 @@\n-dish A\n+dish     A\n tip      b\n";
    assert_eq!(ran, exactly(1, expected, "porringer: 1 file looked at: 1 is not in form\n"));
    assert_eq!(folder.read("mash.dish"), b"dish A\ntip      b\n");
}

#[test]
fn a_bad_line_stops_nobody() {
    let folder = Folder::with("a.dish", "dish A\r\ntkae  1 cup \r\ntip b\r\n");
    assert_eq!(folder.run(&["format", "a.dish"]).code, 0);
    assert_eq!(folder.read("a.dish"), b"dish     A\r\ntkae  1 cup \r\ntip      b\r\n");
}

#[test]
fn what_is_no_text_is_left_as_it_is() {
    let folder = Folder::with("a.dish", b"dish A\ntip caf\xE9\n");
    folder.write("b.dish", "dish B\n");
    let ran = folder.run(&["format", "."]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("syntax/not-utf8"), "{}", ran.out);
    assert_eq!(ran.err, "porringer: 2 files looked at: 1 brought into form, 1 left as they are\n");
    assert_eq!(folder.read("a.dish"), b"dish A\ntip caf\xE9\n");
    assert_eq!(folder.read("b.dish"), b"dish     B\n");
}

#[cfg(unix)]
#[test]
fn permissions_and_links_stay() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::with("real/a.dish", "dish A\n");
    let real = folder.path("real/a.dish");
    std::fs::set_permissions(&real, std::fs::Permissions::from_mode(0o640)).unwrap();
    std::os::unix::fs::symlink("real/a.dish", folder.path("link.dish")).unwrap();
    assert_eq!(folder.run(&["format", "link.dish"]).code, 0);
    assert_eq!(folder.read("real/a.dish"), b"dish     A\n");
    assert!(folder.path("link.dish").is_symlink());
    assert_eq!(std::fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o640);
}

fn piped(arguments: &[&str], input: &[u8]) -> (i32, String, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_porringer"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input).unwrap();
    let output = child.wait_with_output().unwrap();
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

#[test]
fn an_editor_may_pipe_its_text() {
    let piped_dish =
        |more: &[&str], input: &[u8]| piped(&[&["format", "--stdin-name", "x.dish"], more].concat(), input);
    assert_eq!(piped_dish(&[], b"dish A\n"), (0, "dish     A\n".to_owned(), String::new()));
    assert_eq!(piped_dish(&[], b"dish A\x1B[2J\n").1, "dish     A\x1B[2J\n", "a program gets the text as it is");
    assert_eq!(piped_dish(&["--check"], b"dish     A\n"), (0, String::new(), String::new()));
    let (code, out, _) = piped_dish(&["--check"], b"dish A\n");
    assert_eq!((code, out.contains("+dish     A\n")), (1, true));
    assert_eq!(
        piped_dish(&[], b"dish \xFF\n"),
        (1, String::new(), "porringer: x.dish:1:6: from here on the file is not UTF-8 text\n".to_owned())
    );
    let (code, _, err) = piped(&["format", "--stdin-name", "x.txt"], b"");
    assert_eq!(code, 2);
    assert!(err.contains("is no recipe"), "{err}");
}

#[test]
fn a_wrong_path_is_a_fault_of_the_call() {
    let folder = Folder::new();
    assert_eq!(
        folder.run(&["format", "none.dish"]),
        exactly(2, "", "porringer: there is no file or folder `none.dish`\n")
    );
    assert_eq!(folder.run(&["format", "a.dish", "--stdin-name", "b.dish"]).code, 2);
}
