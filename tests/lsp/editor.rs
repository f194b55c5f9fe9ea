//! An editor that talks to a server in memory. It waits for answers, never
//! for time to pass.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::thread::JoinHandle;
use std::time::Duration;

use lsp_server::{Connection, Message, Notification, Request, RequestId, Response};
use serde_json::{Value, json};
use tempfile::TempDir;

/// Long enough for the slowest machine; only a server that hangs takes it.
const HANGS: Duration = Duration::from_secs(120);

pub struct Editor {
    pub folder: TempDir,
    connection: Connection,
    server: Option<JoinHandle<Result<(), String>>>,
    next: i32,
    versions: BTreeMap<String, i32>,
    /// What was published last for each file.
    pub messages: BTreeMap<String, Vec<Value>>,
    pub capabilities: Value,
    /// Requests of the server.
    pub asked: Vec<Request>,
}

impl Editor {
    pub fn start() -> Self {
        Self::with(json!({
            "textDocument": {
                "publishDiagnostics": { "relatedInformation": true, "codeDescriptionSupport": true, "tagSupport": {} },
                "hover": { "contentFormat": ["plaintext"] },
            },
            "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": true } },
        }))
    }

    pub fn with(capabilities: Value) -> Self {
        let (server, client) = Connection::memory();
        let server = std::thread::spawn(move || porringer::lsp::serve(&server));
        let mut editor = Self {
            folder: TempDir::new().unwrap(),
            connection: client,
            server: Some(server),
            next: 0,
            versions: BTreeMap::new(),
            messages: BTreeMap::new(),
            capabilities: Value::Null,
            asked: Vec::new(),
        };
        let answer = editor.request("initialize", json!({ "capabilities": capabilities }));
        editor.capabilities = answer["capabilities"].clone();
        editor.notify("initialized", json!({}));
        editor
    }

    pub fn path(&self, name: &str) -> PathBuf {
        fs::canonicalize(self.folder.path()).unwrap().join(name)
    }

    pub fn uri(&self, name: &str) -> String {
        uri(&self.path(name))
    }

    pub fn write(&self, name: &str, text: &str) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub fn notify(&self, method: &str, params: Value) {
        self.connection.sender.send(Notification::new(method.to_owned(), params).into()).unwrap();
    }

    /// The result of a request.
    #[track_caller]
    pub fn request(&mut self, method: &str, params: Value) -> Value {
        let answer = self.answer(method, params);
        assert!(answer.error.is_none(), "{method}: {:?}", answer.error);
        answer.result.unwrap_or(Value::Null)
    }

    /// The answer to a request, with what comes before it taken in.
    pub fn answer(&mut self, method: &str, params: Value) -> Response {
        self.next += 1;
        let id = RequestId::from(self.next);
        let request = Request { id: id.clone(), method: method.to_owned(), params };
        self.connection.sender.send(request.into()).unwrap();
        loop {
            match self.connection.receiver.recv_timeout(HANGS).expect("an answer") {
                Message::Response(answer) if answer.id == id => return answer,
                message => self.take_in(message),
            }
        }
    }

    fn take_in(&mut self, message: Message) {
        match message {
            Message::Notification(told) if told.method == "textDocument/publishDiagnostics" => {
                let uri = told.params["uri"].as_str().unwrap().to_owned();
                // Messages of an older text would stand in wrong places.
                if let (Some(version), Some(known)) = (told.params["version"].as_i64(), self.versions.get(&uri)) {
                    assert!(version <= i64::from(*known), "{told:?}");
                }
                self.messages.insert(uri, told.params["diagnostics"].as_array().unwrap().clone());
            }
            Message::Request(request) => self.asked.push(request),
            other => panic!("{other:?}"),
        }
    }

    /// Opens a file with a text that may never have been saved.
    pub fn open(&mut self, name: &str, text: &str) {
        let uri = self.uri(name);
        self.versions.insert(uri.clone(), 1);
        let language = Path::new(name).extension().map(|end| end.to_string_lossy().into_owned()).unwrap_or_default();
        let document = json!({ "uri": uri, "languageId": language, "version": 1, "text": text });
        self.notify("textDocument/didOpen", json!({ "textDocument": document }));
    }

    /// The whole text anew.
    pub fn change(&mut self, name: &str, text: &str) {
        self.edit(name, json!([{ "text": text }]));
    }

    pub fn edit(&mut self, name: &str, changes: Value) {
        let uri = self.uri(name);
        let version = self.versions.get_mut(&uri).unwrap();
        *version += 1;
        let document = json!({ "uri": uri, "version": *version });
        self.notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
    }

    /// Waits until messages for a file come; those that came before count not.
    #[track_caller]
    pub fn wait(&mut self, name: &str) -> Vec<String> {
        let uri = self.uri(name);
        self.messages.remove(&uri);
        while !self.messages.contains_key(&uri) {
            let message = self.connection.receiver.recv_timeout(HANGS).expect("messages");
            self.take_in(message);
        }
        self.codes(name)
    }

    /// Waits for messages of these codes, whatever comes before.
    #[track_caller]
    pub fn until(&mut self, name: &str, codes: &[&str]) {
        while self.codes(name) != codes || !self.messages.contains_key(&self.uri(name)) {
            let message = self.connection.receiver.recv_timeout(HANGS);
            let message = message.unwrap_or_else(|_| panic!("{:?} never came, but {:?}", codes, self.codes(name)));
            self.take_in(message);
        }
    }

    /// The codes of what was published last; hints for the card left out.
    pub fn codes(&self, name: &str) -> Vec<String> {
        let messages = self.messages.get(&self.uri(name)).into_iter().flatten();
        messages.filter(|one| one["severity"] != 4).map(|one| one["code"].as_str().unwrap().to_owned()).collect()
    }

    pub fn message(&self, name: &str, code: &str) -> Value {
        self.messages[&self.uri(name)].iter().find(|one| one["code"] == code).expect(code).clone()
    }

    pub fn document(&self, name: &str) -> Value {
        json!({ "textDocument": { "uri": self.uri(name) } })
    }

    pub fn at(&self, name: &str, line: u32, character: u32) -> Value {
        json!({ "textDocument": { "uri": self.uri(name) }, "position": { "line": line, "character": character } })
    }

    /// Ends the session as an editor does.
    pub fn stop(mut self) {
        self.request("shutdown", Value::Null);
        self.leave();
    }

    /// The end, without asking for it first.
    pub fn leave(mut self) {
        self.notify("exit", Value::Null);
        self.server.take().unwrap().join().unwrap().unwrap();
    }
}

pub fn uri(path: &Path) -> String {
    url::Url::from_file_path(path).unwrap().to_string()
}
