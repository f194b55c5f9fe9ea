//! What a server keeps between two edits: the text, as the editor has it, and
//! what was computed, as long as nothing it rests on has changed.

use std::collections::BTreeMap;
use std::fs;

use lsp_types::{Position, Range, TextDocumentContentChangeEvent, Uri};
use porringer::cli::gather;
use porringer::lsp::position::Encoding;
use porringer::lsp::state::State;
use porringer::workspace::{Workspace, shelf};
use proptest::prelude::*;

use crate::MASH;
use crate::editor::uri;

fn change(state: &mut State, uri: &Uri, version: i32, text: &str) {
    let whole = TextDocumentContentChangeEvent { range: None, range_length: None, text: text.to_owned() };
    state.change(uri, version, vec![whole]);
}

/// Files that were told of, and how often.
fn told(state: &mut State) -> usize {
    let mut count = 0;
    state.tell(|_| count += 1);
    count
}

#[test]
fn one_edit_checks_one_document_and_what_rests_on_it() {
    let folder = tempfile::TempDir::new().unwrap();
    let root = fs::canonicalize(folder.path()).unwrap();
    fs::write(root.join("porringer.toml"), "").unwrap();
    fs::write(root.join("closed.dish"), MASH).unwrap();
    let menu = "menu     A day\nfor      12 to 23 months, breastfed\nmeal     12:00 lunch: 1/2 cup dish mash\nmeal     18:00 supper: 1/2 cup dish closed\n";
    let mut state = State::new(Encoding::Utf16);
    let [mash, other, day] =
        ["mash.dish", "other.dish", "day.menu"].map(|name| uri(&root.join(name)).parse::<Uri>().unwrap());
    for (uri, text) in [(&mash, MASH), (&other, MASH), (&day, menu)] {
        state.open(uri, "dish", 1, text);
    }
    assert_eq!(told(&mut state), 3);
    let before = state.work();
    assert_eq!(before, (3, 2), "three documents, and two dishes for the menu");
    // Nothing has changed: nothing is done, nothing is told.
    assert_eq!(told(&mut state), 0);
    assert_eq!(state.work(), before);
    // A dish that nobody rests on.
    change(&mut state, &other, 2, &MASH.replace("20 min", "25 min"));
    assert_eq!((told(&mut state), state.work()), (1, (4, 2)));
    // A dish that the menu serves: both, and that dish alone for the menu.
    change(&mut state, &mash, 2, &MASH.replace("20 min", "25 min"));
    assert_eq!((told(&mut state), state.work()), (2, (6, 3)));
    // A file that nobody holds open, and one that nobody asks for.
    fs::write(root.join("closed.dish"), MASH.replace("20 min", "30 minutes")).unwrap();
    assert_eq!((told(&mut state), state.work()), (1, (7, 4)));
    fs::write(root.join("unasked.dish"), MASH).unwrap();
    assert_eq!((told(&mut state), state.work()), (0, (7, 4)));
    // Its name may be one that was looked for, so the menu looks again; the
    // dishes stay as they are computed.
    state.refresh();
    assert_eq!(told(&mut state), 1);
    // Another measure standard changes everything.
    fs::write(root.join("porringer.toml"), "measures = \"us-label\"\n").unwrap();
    assert_eq!(told(&mut state), 3);
}

/// The text after an edit, as an editor in UTF-16 reckons it, without our code.
fn edited(text: &[u16], range: Range, new: &str) -> Vec<u16> {
    let offset = |place: Position| {
        let mut line = 0;
        let mut at = 0;
        while line < place.line && at < text.len() {
            let feed = text[at] == u16::from(b'\n');
            let lone = text[at] == u16::from(b'\r') && text.get(at + 1) != Some(&u16::from(b'\n'));
            line += u32::from(feed || lone);
            at += 1;
        }
        if line < place.line {
            return text.len();
        }
        let body = text[at..].iter().take_while(|unit| ![u16::from(b'\n'), u16::from(b'\r')].contains(unit)).count();
        let at = at + (place.character as usize).min(body);
        // Inside a pair: before it.
        let second = text.get(at).is_some_and(|unit| (0xDC00..0xE000).contains(unit));
        if second && body > 0 { at - 1 } else { at }
    };
    let (start, end) = (offset(range.start), offset(range.end).max(offset(range.start)));
    let mut out = text[..start].to_vec();
    out.extend(new.encode_utf16());
    out.extend(&text[end..]);
    out
}

proptest! {
    #[test]
    fn edits_leave_the_text_that_the_editor_has(
        text in "(dish|take|é|🥣| |\r\n|\n|\r|[a-z]){0,30}",
        edits in prop::collection::vec((0_u32..8, 0_u32..12, 0_u32..3, 0_u32..12, "(x|🥣|\r\n|\n|é){0,4}"), 1..8),
    ) {
        let uri: Uri = "untitled:a.dish".parse().unwrap();
        let mut state = State::new(Encoding::Utf16);
        state.open(&uri, "dish", 1, &text);
        let mut own: Vec<u16> = text.encode_utf16().collect();
        let mut changes = Vec::new();
        for (line, column, down, to, new) in edits {
            let range = Range::new(Position::new(line, column), Position::new(line + down, to));
            own = edited(&own, range, &new);
            changes.push(TextDocumentContentChangeEvent { range: Some(range), range_length: None, text: new });
        }
        state.change(&uri, 2, changes);
        prop_assert_eq!(&*state.get(&uri).unwrap().source.text, String::from_utf16(&own).unwrap());
    }
}

#[test]
fn an_editor_is_told_what_a_check_says() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut count = 0;
    let mut workspaces: BTreeMap<_, Vec<_>> = BTreeMap::new();
    for folder in ["recipes", "tests/corpus"] {
        for path in shelf::files(&root.join(folder)) {
            workspaces.entry(Workspace::root_of(&path).unwrap()).or_default().push(path);
        }
    }
    assert!(workspaces.len() > 5, "the corpus holds workspaces of its own: {workspaces:?}");
    for paths in workspaces.values() {
        let workspace = Workspace::of(&paths[0]);
        let checked = gather::with_texts(paths, &workspace, &workspace.settings.languages, &[]);
        let mut state = State::new(Encoding::Utf8);
        let mut wanted = BTreeMap::new();
        for (path, file) in paths.iter().zip(&checked) {
            // What is not UTF-8 never reaches a server as such.
            let Ok(text) = fs::read_to_string(path) else { continue };
            let uri: Uri = uri(path).parse().unwrap();
            state.open(&uri, "dish", 1, &text);
            wanted.insert(uri.as_str().to_owned(), &file.diagnostics);
        }
        state.tell(|telling| {
            let Some(wanted) = wanted.remove(telling.uri.as_str()) else { return };
            assert_eq!(telling.messages, wanted.as_slice(), "{}", telling.uri.as_str());
            count += 1;
        });
        assert!(wanted.is_empty(), "{wanted:?}");
    }
    assert!(count > 200, "{count}");
}
