//! Any conversation with the language server.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::mpsc;
use std::time::Duration;

use lsp_server::{Connection, Message, Notification, Request, RequestId};
use porringer::format;
use porringer::syntax::Kind;
use serde_json::{Value, json};

/// The longest that a server may be silent. Only one that hangs is.
const HANGS: Duration = Duration::from_secs(60);

/// Lines of a script that are followed.
const MOST: usize = 40;

/// An editor of no good will: a message a line. A line that begins with `{` is
/// sent as the JSON it is; any other is a letter for what is asked, a digit for
/// the document, up to four numbers for a range, and a text in which `|` ends
/// lines. Every request has one answer, and at the end the server holds the
/// text that the editor has.
pub fn lsp(bytes: &[u8]) {
    let script = super::read(bytes);
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in [("d1.dish", MASH), ("b.dish", "dish B\ntake 100 g dish d1 as x\n"), ("porringer.toml", "")] {
        std::fs::write(folder.path().join(name), text).expect("a file");
    }
    let (server, client) = Connection::memory();
    std::thread::scope(|scope| {
        let serving = scope.spawn(move || porringer::lsp::serve(&server));
        let (told, heard) = mpsc::channel();
        let receiver = client.receiver.clone();
        // Neither side waits for the other to listen.
        scope.spawn(move || receiver.into_iter().all(|message| told.send(message).is_ok()));
        let root = folder.path().to_path_buf();
        let mut editor = Editor { client, heard, root, texts: BTreeMap::new(), next: 0, strange: false, gone: false };
        // One that does not even say hello.
        if !script.starts_with('!') {
            editor.ask("initialize", json!({ "capabilities": {} }));
            editor.tell("initialized", json!({}));
        }
        for line in script.lines().take(MOST) {
            editor.follow(line);
        }
        editor.compare();
        drop(editor);
        serving.join().expect("a server that does not panic").ok();
    });
}

const MASH: &str = "dish Mash\nfor 9 to 11 months\nmakes 1 cup\ncooked 200 g\nportion 1/2 cup\ntake 200 g pumpkin, peeled as p\n\
    step boil p for 15 min\nstep mash p\n";

struct Editor {
    client: Connection,
    heard: mpsc::Receiver<Message>,
    root: PathBuf,
    /// The open documents as the editor has them, in UTF-16, by their addresses.
    texts: BTreeMap<String, (Kind, Vec<u16>)>,
    next: i32,
    /// It sent what the texts above know nothing of.
    strange: bool,
    gone: bool,
}

impl Editor {
    fn send(&mut self, message: Message) {
        self.gone |= self.client.sender.send(message).is_err();
    }

    fn tell(&mut self, method: &str, params: Value) {
        self.send(Notification { method: method.to_owned(), params }.into());
    }

    /// The result of a request; nothing where it was refused or the server has
    /// ended.
    fn ask(&mut self, method: &str, params: Value) -> Option<Value> {
        self.next += 1;
        self.answer(Request { id: RequestId::from(self.next), method: method.to_owned(), params })
    }

    fn answer(&mut self, request: Request) -> Option<Value> {
        let id = request.id.clone();
        self.send(request.into());
        while !self.gone {
            match self.heard.recv_timeout(HANGS) {
                Ok(Message::Response(answer)) => {
                    assert_eq!(answer.id, id, "an answer to what was not asked");
                    return answer.result;
                }
                Ok(Message::Notification(told)) => places(&told.params),
                Ok(Message::Request(_)) => {}
                Err(mpsc::RecvTimeoutError::Timeout) => panic!("no answer"),
                Err(mpsc::RecvTimeoutError::Disconnected) => self.gone = true,
            }
        }
        None
    }

    fn uri(&self, document: u32) -> (String, Kind) {
        let file = |name: &str| format!("file://{}/{name}", self.root.display());
        match document {
            0 => (file("a.dish"), Kind::Dish),
            1 => (file("d1.dish"), Kind::Dish),
            2 => (file("c.menu"), Kind::Menu),
            3 => ("untitled:Untitled-1".to_owned(), Kind::Dish),
            4 => (file("e.booklet"), Kind::Booklet),
            _ => (format!("file:///nowhere/..%2F%00/{document}.dish"), Kind::Dish),
        }
    }

    fn follow(&mut self, line: &str) {
        if line.starts_with('{') {
            self.strange = true;
            match serde_json::from_str(line) {
                Ok(Message::Request(request)) => drop(self.answer(request)),
                Ok(message) => self.send(message),
                // No message: the transport does not let it through.
                Err(_) => {}
            }
            return;
        }
        let mut rest = line;
        let Some(letter) = rest.chars().next() else { return };
        rest = &rest[letter.len_utf8()..];
        let mut number = || {
            let from = rest.trim_start_matches(' ');
            let digits = from.bytes().take_while(u8::is_ascii_digit).count();
            rest = &from[digits..];
            from[..digits].parse::<u32>().unwrap_or(0)
        };
        let document = number();
        let [line, column, to_line, to_column] = [(); 4].map(|()| number());
        let text = rest.strip_prefix(' ').unwrap_or(rest).replace('|', "\n");
        let (uri, kind) = self.uri(document);
        let here = json!({ "uri": uri });
        let place = json!({ "line": line, "character": column });
        let range = json!({ "start": place, "end": { "line": to_line, "character": to_column } });
        let at = json!({ "textDocument": here, "position": place });
        let over = json!({ "textDocument": here, "range": range, "context": { "diagnostics": [] } });
        let versioned = json!({ "uri": uri, "version": self.next });
        match letter {
            'o' => {
                let opened = json!({ "uri": uri, "languageId": kind.word(), "version": self.next, "text": text });
                self.tell("textDocument/didOpen", json!({ "textDocument": opened }));
                self.texts.insert(uri, (kind, text.encode_utf16().collect()));
            }
            'c' => {
                let changes = json!([{ "range": range, "text": text }]);
                self.tell("textDocument/didChange", json!({ "textDocument": versioned, "contentChanges": changes }));
                if let Some((_, own)) = self.texts.get_mut(&uri) {
                    *own = edited(own, [line, column, to_line, to_column], &text);
                }
            }
            'f' => {
                let changes = json!([{ "text": text }]);
                self.tell("textDocument/didChange", json!({ "textDocument": versioned, "contentChanges": changes }));
                if let Some((_, own)) = self.texts.get_mut(&uri) {
                    *own = text.encode_utf16().collect();
                }
            }
            'x' => {
                self.tell("textDocument/didClose", json!({ "textDocument": here }));
                self.texts.remove(&uri);
            }
            's' => self.tell("textDocument/didSave", json!({ "textDocument": here })),
            'w' => self.tell("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": uri, "type": line }] })),
            'e' => self.tell("exit", Value::Null),
            'q' => {
                self.strange = true;
                self.ask("shutdown", Value::Null);
            }
            'h' => self.read("textDocument/hover", at),
            'p' => self.read("textDocument/completion", at),
            'd' => self.read("textDocument/definition", at),
            'H' => self.read("textDocument/documentHighlight", at),
            'P' => self.read("textDocument/prepareRename", at),
            'y' => self.read("textDocument/documentSymbol", over),
            't' => self.read("textDocument/semanticTokens/full", over),
            'F' => self.read(
                "textDocument/formatting",
                json!({ "textDocument": here, "options": { "tabSize": 4, "insertSpaces": true } }),
            ),
            'a' => self.read("textDocument/codeAction", over),
            'i' => self.read("textDocument/inlayHint", over),
            'r' => {
                let context = json!({ "includeDeclaration": true });
                self.read(
                    "textDocument/references",
                    json!({ "textDocument": here, "position": place, "context": context }),
                );
            }
            'R' => {
                self.read("textDocument/rename", json!({ "textDocument": here, "position": place, "newName": text }))
            }
            _ => self.read(&text, over),
        }
    }

    fn read(&mut self, method: &str, params: Value) {
        if let Some(result) = self.ask(method, params) {
            places(&result);
        }
    }

    /// What the server would change to bring a text into form makes the form
    /// of the editor's text.
    fn compare(&mut self) {
        if self.strange {
            return;
        }
        for (uri, (kind, own)) in std::mem::take(&mut self.texts) {
            let options = json!({ "tabSize": 4, "insertSpaces": true });
            let asked = json!({ "textDocument": { "uri": uri }, "options": options });
            let Some(edits) = self.ask("textDocument/formatting", asked) else { return };
            // An address that no file can have is not kept.
            let Some(edits) = edits.as_array() else { continue };
            // All of them count from the text as it was.
            let mut text = own.clone();
            for edit in edits.iter().rev() {
                let number = |path: &str| edit.pointer(path).and_then(Value::as_u64).expect("a place") as u32;
                let [start, end] = ["start", "end"].map(|end| {
                    offset(&own, number(&format!("/range/{end}/line")), number(&format!("/range/{end}/character")))
                });
                text.splice(start..end, edit["newText"].as_str().expect("a text").encode_utf16());
            }
            let (own, text) = (String::from_utf16_lossy(&own), String::from_utf16_lossy(&text));
            assert_eq!(text, format::format(kind, &own), "the server holds another text than {own:?}");
        }
    }
}

/// Every range goes forwards.
fn places(value: &Value) {
    match value {
        Value::Object(object) => {
            if let (Some(start), Some(end)) = (object.get("start"), object.get("end")) {
                let place =
                    |at: &Value| (at["line"].as_u64().expect("a line"), at["character"].as_u64().expect("a column"));
                assert!(place(start) <= place(end), "{value}");
            }
            object.values().for_each(places);
        }
        Value::Array(items) => items.iter().for_each(places),
        _ => {}
    }
}

/// Where a place is in a text, as an editor in UTF-16 reckons it, without our
/// code.
fn offset(text: &[u16], wanted: u32, column: u32) -> usize {
    let mut line = 0;
    let mut at = 0;
    while line < wanted && at < text.len() {
        let feed = text[at] == u16::from(b'\n');
        let lone = text[at] == u16::from(b'\r') && text.get(at + 1) != Some(&u16::from(b'\n'));
        line += u32::from(feed || lone);
        at += 1;
    }
    if line < wanted {
        return text.len();
    }
    let body = text[at..].iter().take_while(|unit| ![u16::from(b'\n'), u16::from(b'\r')].contains(unit)).count();
    let at = at + (column as usize).min(body);
    // Inside a pair: before it.
    let second = text.get(at).is_some_and(|unit| (0xDC00..0xE000).contains(unit));
    if second && body > 0 { at - 1 } else { at }
}

/// The text after an edit.
fn edited(text: &[u16], [line, column, to_line, to_column]: [u32; 4], new: &str) -> Vec<u16> {
    let start = offset(text, line, column);
    let end = offset(text, to_line, to_column).max(start);
    let mut out = text.to_vec();
    out.splice(start..end, new.encode_utf16());
    out
}
