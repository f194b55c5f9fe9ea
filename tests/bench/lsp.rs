//! The language server: how long after an edit its messages come, and whether
//! it grows.

use std::path::Path;
use std::time::Instant;

use lsp_server::{Connection, Message, Notification, Request};
use serde_json::{Value, json};

use super::{median, ms, row};

/// Edits that are timed.
const TIMED: usize = 200;

/// A sound dish of 200 lines: parts, alternatives, claims and prose in two
/// languages.
fn long_dish() -> String {
    const FOODS: [&str; 6] = [
        "1 cup pumpkin, peeled, cubed or 1 cup orange sweet potato, raw, peeled",
        "1/2 cup red lentils, dry",
        "2 tbsp groundnut paste, smooth",
        "1 medium carrot, peeled, grated",
        "1 small onion, peeled, chopped",
        "1 tbsp sunflower oil",
    ];
    let mut text = String::from(
        "dish     A pot of many parts\nin sw    Chungu cha vyakula vingi\nfor      12 to 23 months\nmakes    30 cups\ncooked   9 kg\nportion  3/4 cup\nclaim    source of protein\nclaim    rich in vitamin A\n",
    );
    for part in 1..=12 {
        text.push_str(&format!("\npart     pot {part}\n"));
        for (at, food) in FOODS.iter().enumerate() {
            text.push_str(&format!("take     {food} as f{part}x{at}\n"));
        }
        let name = |at: usize| format!("f{part}x{at}");
        text.push_str(&format!(
            "step     boil {}, {} for 30 min: Cover the pot. Stir now and then.\nin sw    Funika sufuria. Koroga mara kwa mara.\n",
            name(0),
            name(1)
        ));
        text.push_str(&format!(
            "step     fry {}, {} with {} for 5 min: Keep the fire low.\nin sw    Moto uwe mdogo.\n",
            name(3),
            name(4),
            name(5)
        ));
        text.push_str(&format!("step     mash everything with {} for 3 min\n", name(2)));
    }
    text.push_str("\nstep     mix everything\nserve    Warm, within 2 hours.\n");
    while text.lines().count() < 200 {
        text.push_str("tip      Wash your hands before you cook.\nin sw    Nawa mikono kabla ya kupika.\n");
    }
    text
}

struct Client {
    connection: Connection,
    version: i32,
}

impl Client {
    fn start(text: &str) -> (Self, std::thread::JoinHandle<Result<(), String>>) {
        let (server, client) = Connection::memory();
        let server = std::thread::spawn(move || porringer::lsp::serve(&server));
        let mut editor = Self { connection: client, version: 1 };
        editor.send(Request::new(1.into(), "initialize".to_owned(), json!({ "capabilities": {} })).into());
        editor.until(|message| matches!(message, Message::Response(_)));
        editor.notify("initialized", json!({}));
        let document = json!({ "uri": URI, "languageId": "dish", "version": 1, "text": text });
        editor.notify("textDocument/didOpen", json!({ "textDocument": document }));
        editor.published();
        (editor, server)
    }

    fn send(&self, message: Message) {
        self.connection.sender.send(message).unwrap();
    }

    fn notify(&self, method: &str, params: Value) {
        self.send(Notification::new(method.to_owned(), params).into());
    }

    fn until(&mut self, is: impl Fn(&Message) -> bool) -> Message {
        loop {
            let message = self.connection.receiver.recv().unwrap();
            if is(&message) {
                return message;
            }
        }
    }

    fn published(&mut self) -> usize {
        let told = self.until(|message| matches!(message, Message::Notification(told) if told.method == "textDocument/publishDiagnostics"));
        let Message::Notification(told) = told else { unreachable!() };
        told.params["diagnostics"].as_array().unwrap().len()
    }

    /// Replaces the last digit of a time and waits for the messages.
    fn edit(&mut self, line: usize, column: usize) {
        self.version += 1;
        let place = |column: usize| json!({ "line": line, "character": column });
        let change = json!({
            "range": { "start": place(column), "end": place(column + 1) },
            "text": (self.version % 10).to_string(),
        });
        let document = json!({ "uri": URI, "version": self.version });
        self.notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": [change] }));
        self.published();
    }
}

const URI: &str = "file:///nowhere-at-all/long.dish";

/// `edits` are those over which memory is watched, from their tenth on.
pub fn lsp(edits: usize) {
    println!("\nlanguage server, one dish of 200 lines (goal: messages within 15 ms; memory flat)");
    let text = long_dish();
    let line = text.lines().position(|line| line.contains("for 30 min")).unwrap();
    let column = text.lines().nth(line).unwrap().find("30 min").unwrap() + 1;
    let (mut client, server) = Client::start(&text);
    println!("  {} lines, {} bytes", text.lines().count(), text.len());
    let mut times = Vec::with_capacity(TIMED);
    for _ in 0..TIMED {
        let began = Instant::now();
        client.edit(line, column);
        times.push(ms(began.elapsed()));
    }
    times.sort_by(f64::total_cmp);
    row("edit to messages, median", &format!("{:.1} ms", median(times.clone())), "15 ms");
    row("edit to messages, 95 of 100", &format!("{:.1} ms", times[TIMED * 95 / 100]), "15 ms");
    row("edit to messages, slowest", &format!("{:.1} ms", times[TIMED - 1]), "");
    let mut first = 0.0;
    for at in 1..=edits {
        client.edit(line, column);
        if at == edits / 10 {
            first = resident_mb();
            row(&format!("memory after {at} edits"), &format!("{first:.1} MB"), "");
        }
    }
    let last = resident_mb();
    row(&format!("memory after {edits} edits"), &format!("{last:.1} MB"), "flat");
    row("growth", &format!("{:+.1} %", (last - first) / first * 100.0), "");
    client.send(Request::new(2.into(), "shutdown".to_owned(), Value::Null).into());
    client.notify("exit", Value::Null);
    server.join().unwrap().unwrap();
}

/// Memory of this process that is in use now.
fn resident_mb() -> f64 {
    let text = std::fs::read_to_string(Path::new("/proc/self/status")).unwrap_or_default();
    let line = text.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    line.and_then(|line| line.split_whitespace().next()?.parse::<f64>().ok()).map_or(f64::NAN, |kb| kb / 1024.0)
}
