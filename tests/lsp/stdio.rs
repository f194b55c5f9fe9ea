//! The real program over its standard input and output.

use std::io::{BufReader, Read, Write};
use std::process::{Child, Command, Stdio};

use lsp_server::{Message, Notification, Request};
use serde_json::{Value, json};

fn start() -> Child {
    Command::new(env!("CARGO_BIN_EXE_porringer"))
        .args(["lsp", "--stdio"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

fn request(id: i32, method: &str) -> Message {
    Request::new(id.into(), method.to_owned(), json!({ "capabilities": {} })).into()
}

fn notice(method: &str, params: Value) -> Message {
    Notification::new(method.to_owned(), params).into()
}

/// Exit code and standard error.
fn ended(mut server: Child) -> (Option<i32>, String) {
    drop(server.stdin.take());
    let mut said = String::new();
    server.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    (server.wait().unwrap().code(), said)
}

#[test]
fn a_session_ends_with_exit_code_0() {
    let mut server = start();
    let mut stdin = server.stdin.take().unwrap();
    let mut stdout = BufReader::new(server.stdout.take().unwrap());
    request(1, "initialize").write(&mut stdin).unwrap();
    let Some(Message::Response(answer)) = Message::read(&mut stdout).unwrap() else { panic!("an answer") };
    assert_eq!(answer.result.unwrap()["serverInfo"]["name"], "porringer");
    notice("initialized", json!({})).write(&mut stdin).unwrap();
    let document = json!({ "uri": "untitled:a.dish", "languageId": "dish", "version": 1, "text": "dish x\nboyl y\n" });
    notice("textDocument/didOpen", json!({ "textDocument": document })).write(&mut stdin).unwrap();
    let Some(Message::Notification(told)) = Message::read(&mut stdout).unwrap() else { panic!("messages") };
    assert_eq!(told.method, "textDocument/publishDiagnostics");
    let messages = told.params["diagnostics"].as_array().unwrap();
    assert!(messages.iter().any(|message| message["code"] == "syntax/unknown-keyword"), "{messages:?}");
    request(2, "shutdown").write(&mut stdin).unwrap();
    Message::read(&mut stdout).unwrap();
    notice("exit", Value::Null).write(&mut stdin).unwrap();
    server.stdin = Some(stdin);
    assert_eq!(ended(server), (Some(0), String::new()));
}

#[test]
fn an_editor_that_hangs_up_or_talks_nonsense_leaves_no_server_behind() {
    // Nothing is said at all.
    let (code, said) = ended(start());
    assert_eq!(code, Some(2), "{said}");
    assert!(said.starts_with("porringer: the editor broke off: "), "{said}");
    // A text that is no message.
    let mut server = start();
    server.stdin.as_mut().unwrap().write_all(b"Content-Length: nonsense\r\n\r\n{}").unwrap();
    let (code, said) = ended(server);
    assert_eq!(code, Some(2), "{said}");
    assert_eq!(said.lines().count(), 1, "{said}");
    // It goes away after the greeting.
    let mut server = start();
    request(1, "initialize").write(server.stdin.as_mut().unwrap()).unwrap();
    assert_eq!(ended(server), (Some(0), String::new()));
}
