//! The conversation: what is said at the start, while typing and at the end.

use serde_json::{Value, json};

use crate::MASH;
use crate::editor::Editor;

fn place(line: u32, character: u32) -> Value {
    json!({ "line": line, "character": character })
}

fn range(from: (u32, u32), to: (u32, u32)) -> Value {
    json!({ "start": place(from.0, from.1), "end": place(to.0, to.1) })
}

#[test]
fn messages_come_with_code_page_and_related_places() {
    let mut editor = Editor::start();
    editor.open(
        "mash.dish",
        &MASH
            .replace("step     set aside child portion\n", "")
            .replace("take     2 eggs", "take     2 eggs as egg\ntake     1 eggs"),
    );
    editor.wait("mash.dish");
    let message = editor.message("mash.dish", "syntax/duplicate-line");
    assert_eq!(message["severity"], 1);
    assert_eq!(message["source"], "porringer");
    let text = message["message"].as_str().unwrap();
    assert!(text.starts_with("a second ingredient is called `egg`\nhelp: "), "{text}");
    let related = &message["relatedInformation"][0];
    assert_eq!(related["message"], "the first is here");
    assert_eq!(related["location"]["uri"], editor.uri("mash.dish"));
    assert_eq!(related["location"]["range"]["start"]["line"], 10);
    // The page opens without a network.
    let page = message["codeDescription"]["href"].as_str().unwrap();
    let page = url::Url::parse(page).unwrap().to_file_path().unwrap();
    let page = std::fs::read_to_string(page).unwrap();
    assert_eq!(page, porringer::diagnostic::Code::SyntaxDuplicateLine.page());
    editor.stop();
}

#[test]
fn edits_are_taken_in_piece_by_piece() {
    let mut editor = Editor::start();
    assert_eq!(editor.capabilities["positionEncoding"], "utf-16");
    // An astral character before the place: columns are not bytes.
    let text = "dish     🥣 Mash\r\ntake     1,5 cups orange sweet potato, raw as potato\r\nstep     boil potato for 20 min\r\n";
    editor.open("a.dish", text);
    assert!(editor.wait("a.dish").contains(&"syntax/comma-decimal".to_owned()));
    assert_eq!(editor.message("a.dish", "syntax/comma-decimal")["range"], range((1, 9), (1, 12)));
    // Two changes in one notice: the second counts from the text of the first.
    editor.edit(
        "a.dish",
        json!([
            { "range": range((0, 9), (0, 11)), "text": "🥣🥣 Good" },
            { "range": range((1, 10), (1, 11)), "text": "." },
        ]),
    );
    assert!(!editor.wait("a.dish").contains(&"syntax/comma-decimal".to_owned()));
    let document = editor.document("a.dish");
    assert_eq!(editor.request("textDocument/documentSymbol", document)[0]["name"], "🥣🥣 Good Mash");
    let hover = editor.request("textDocument/hover", editor.at("a.dish", 1, 20));
    assert_eq!(hover["range"], range((1, 9), (1, 42)), "{hover}");
    editor.stop();
}

#[test]
fn columns_are_bytes_where_the_client_counts_bytes() {
    let mut editor = Editor::with(json!({ "general": { "positionEncodings": ["utf-8", "utf-16"] } }));
    assert_eq!(editor.capabilities["positionEncoding"], "utf-8");
    editor.open("a.dish", "dish     🥣 Mash\ntip      é 🥣\nclaim    rich in stars\n");
    let tokens = editor.request("textDocument/semanticTokens/full", editor.document("a.dish"));
    // dish, its title of 9 bytes; tip, its text of 7 bytes.
    assert_eq!(
        tokens["data"].as_array().unwrap()[..20],
        json!([0, 0, 4, 0, 0, 0, 9, 9, 7, 0, 1, 0, 3, 0, 0, 0, 9, 7, 7, 0]).as_array().unwrap()[..]
    );
    editor.stop();
}

#[test]
fn a_fix_is_offered_at_its_message_and_applies() {
    let mut editor = Editor::start();
    let text = MASH.replace("boil egg", "boyl egg");
    editor.open("mash.dish", &text);
    editor.wait("mash.dish");
    let line = text[..text.find("boyl").unwrap()].matches('\n').count() as u32;
    let asked = json!({
        "textDocument": { "uri": editor.uri("mash.dish") },
        "range": range((line, 10), (line, 10)),
        "context": { "diagnostics": [] },
    });
    let actions = editor.request("textDocument/codeAction", asked);
    let action = &actions[0];
    assert_eq!(
        (&action["title"], &action["kind"], &action["isPreferred"]),
        (&json!("write `boil`"), &json!("quickfix"), &json!(true))
    );
    let edit = &action["edit"]["changes"][editor.uri("mash.dish")][0];
    assert_eq!(edit, &json!({ "range": range((line, 9), (line, 13)), "newText": "boil" }));
    assert_eq!(action["diagnostics"][0]["code"], "method/unknown-process");
    // Elsewhere, and of other kinds, nothing.
    let elsewhere = json!({
        "textDocument": { "uri": editor.uri("mash.dish") },
        "range": range((0, 0), (0, 0)),
        "context": { "diagnostics": [] },
    });
    assert_eq!(editor.request("textDocument/codeAction", elsewhere), json!([]));
    editor.stop();
}

#[test]
fn formatting_rename_and_the_rest_over_the_wire() {
    let mut editor = Editor::with(json!({ "workspace": { "workspaceEdit": { "documentChanges": true } } }));
    let text = MASH.replace("take     2 eggs", "take 2 eggs");
    editor.open("mash.dish", &text);
    let options = json!({ "textDocument": { "uri": editor.uri("mash.dish") }, "options": { "tabSize": 4, "insertSpaces": true } });
    let edits = editor.request("textDocument/formatting", options);
    assert_eq!(edits, json!([{ "range": range((10, 0), (11, 0)), "newText": "take     2 eggs as egg\n" }]));
    let mut rename = editor.at("mash.dish", 10, 17);
    rename["newName"] = json!("hen’s egg");
    let edit = editor.request("textDocument/rename", rename.clone());
    let changes = &edit["documentChanges"][0];
    assert_eq!(changes["textDocument"]["version"], 1);
    assert_eq!(changes["edits"].as_array().unwrap().len(), 4, "its line, boil, peel, mash: {edit}");
    rename["newName"] = json!("oil");
    let refused = editor.answer("textDocument/rename", rename).error.unwrap();
    assert_eq!(refused.message, "`oil` cannot be the name: `oil` has it already");
    let hints = json!({ "textDocument": { "uri": editor.uri("mash.dish") }, "range": range((9, 0), (9, 80)) });
    let hints = editor.request("textDocument/inlayHint", hints);
    assert_eq!(hints.as_array().unwrap().len(), 1, "only those of the lines asked for: {hints}");
    assert_eq!((&hints[0]["label"], &hints[0]["position"]), (&json!("= 281 g"), &place(9, 15)));
    let found = editor.request("textDocument/definition", editor.at("mash.dish", 16, 15));
    assert_eq!(found["range"], range((10, 15), (10, 18)));
    let mut wanted = editor.at("mash.dish", 16, 15);
    wanted["context"] = json!({ "includeDeclaration": false });
    assert_eq!(editor.request("textDocument/references", wanted).as_array().unwrap().len(), 3);
    assert_eq!(
        editor.request("textDocument/documentHighlight", editor.at("mash.dish", 16, 15)).as_array().unwrap().len(),
        4
    );
    let completion = editor.request("textDocument/completion", editor.at("mash.dish", 16, 9));
    assert!(completion["items"].as_array().unwrap().iter().any(|item| item["label"] == "boil"), "{completion}");
    assert_eq!(completion["isIncomplete"], true);
    editor.stop();
}

#[test]
fn a_dish_of_a_menu_leads_to_its_file() {
    let mut editor = Editor::start();
    editor.write("porringer.toml", "");
    editor.write("mash.dish", MASH);
    editor.open(
        "day.menu",
        "menu     A day\nfor      12 to 23 months, breastfed\nmeal     12:30 lunch: 3/4 cup dish mash\n",
    );
    let found = editor.request("textDocument/definition", editor.at("day.menu", 2, 34));
    assert_eq!(found["uri"], editor.uri("mash.dish"));
    editor.change(
        "day.menu",
        "menu     A day\nfor      12 to 23 months, breastfed\nmeal     12:30 lunch: 3/4 cup dish m\n",
    );
    let items = editor.request("textDocument/completion", editor.at("day.menu", 2, 36));
    assert!(items["items"].as_array().unwrap().iter().any(|item| item["label"] == "mash"), "{items}");
    editor.open("set.booklet", "booklet  Set\npage     \n");
    let items = editor.request("textDocument/completion", editor.at("set.booklet", 1, 9));
    let labels: Vec<&str> =
        items["items"].as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["mash", "menu day"]);
    editor.stop();
}

#[test]
fn a_burst_of_edits_is_checked_once_it_is_over() {
    let mut editor = Editor::start();
    editor.open("mash.dish", MASH);
    editor.until("mash.dish", &[]);
    for at in 0..200 {
        editor.change("mash.dish", &MASH.replace("20 min", &format!("{} min", at + 1)));
    }
    editor.change("mash.dish", &MASH.replace("boil egg", "boyl egg"));
    editor.until("mash.dish", &["method/unknown-process"]);
    editor.stop();
}

#[test]
fn what_is_not_known_is_answered_and_nonsense_is_survived() {
    let mut editor = Editor::start();
    // It asked to be told of files that change on the disk.
    editor.open("mash.dish", MASH);
    editor.until("mash.dish", &[]);
    assert_eq!(editor.asked[0].method, "client/registerCapability");
    assert_eq!(editor.answer("workspace/noSuchThing", json!({})).error.unwrap().code, -32601);
    assert_eq!(editor.answer("textDocument/hover", json!({ "x": 1 })).error.unwrap().code, -32602);
    editor.notify("textDocument/didChange", json!({ "x": 1 }));
    editor.notify("$/cancelRequest", json!({ "id": 1 }));
    editor.notify("workspace/didChangeConfiguration", json!({ "settings": null }));
    let nowhere = json!({ "textDocument": { "uri": "file:///no/such/file.dish" }, "position": place(9, 9) });
    assert!(editor.request("textDocument/hover", nowhere).is_null());
    // A place far outside the text.
    editor.request("textDocument/hover", editor.at("mash.dish", 900, 900));
    editor.request("textDocument/completion", editor.at("mash.dish", 900, 900));
    editor.edit("mash.dish", json!([{ "range": range((900, 0), (950, 7)), "text": "tip      At the end.\n" }]));
    let document = editor.document("mash.dish");
    let tokens = editor.request("textDocument/semanticTokens/full", document);
    assert!(tokens["data"].as_array().unwrap().len() > 100);
    editor.stop();
}

#[test]
fn between_shutdown_and_exit_nothing_is_a_fault() {
    let mut editor = Editor::start();
    editor.open("mash.dish", MASH);
    editor.request("shutdown", Value::Null);
    let document = editor.document("mash.dish");
    editor.notify("textDocument/didClose", document.clone());
    assert_eq!(editor.answer("textDocument/documentSymbol", document).error.unwrap().code, -32600);
    editor.leave();
}

#[test]
fn an_editor_that_goes_away_ends_the_server() {
    let (server, client) = lsp_server::Connection::memory();
    let server = std::thread::spawn(move || porringer::lsp::serve(&server));
    let request = lsp_server::Request::new(1.into(), "initialize".to_owned(), json!({ "capabilities": {} }));
    client.sender.send(request.into()).unwrap();
    client.receiver.recv().unwrap();
    drop(client);
    server.join().unwrap().unwrap();
}
