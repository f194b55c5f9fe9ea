//! Text that nobody has saved counts, that of other open files too; and a
//! change on the disk is seen.

use crate::MASH;
use crate::editor::Editor;

const MENU: &str = "\
menu     A day with mash
for      12 to 23 months, breastfed
meal     7:00 breakfast: 1/2 cup plain yogurt, 1 slice white bread
snack    10:00: 1 small banana
meal     12:30 lunch: 3/4 cup dish mash
meal     18:00 supper: 1/2 cup lentils, boiled, 1/4 cup ripe papaya, mashed
";

/// Codes without those that say something of a day's nutrients.
fn grave(codes: &[String]) -> Vec<&str> {
    codes.iter().map(String::as_str).filter(|code| !code.starts_with("menu/") || *code == "menu/broken-dish").collect()
}

#[test]
fn a_menu_sees_an_unsaved_dish() {
    let mut editor = Editor::start();
    editor.write("porringer.toml", "");
    // On the disk stands nothing yet.
    editor.open("day.menu", MENU);
    assert_eq!(grave(&editor.wait("day.menu")), ["booklet/unknown-page"]);
    editor.open("mash.dish", MASH);
    editor.until("mash.dish", &[]);
    editor.until("day.menu", &[]);
    // A slip in the dish is told in the menu.
    editor.change("mash.dish", &MASH.replace("boil egg", "boyl egg"));
    editor.until("mash.dish", &["method/unknown-process"]);
    editor.until("day.menu", &["menu/broken-dish"]);
    // Another name: the menu's own is not known any more.
    editor.change("mash.dish", &MASH.replace("for  ", "id       other-mash\nfor  "));
    editor.until("mash.dish", &[]);
    editor.until("day.menu", &["booklet/unknown-page"]);
    editor.change("mash.dish", MASH);
    editor.until("day.menu", &[]);
    // Closed without saving: the dish was never there.
    let document = editor.document("mash.dish");
    editor.notify("textDocument/didClose", document);
    editor.until("day.menu", &["booklet/unknown-page"]);
    assert!(editor.codes("mash.dish").is_empty());
    editor.stop();
}

#[test]
fn a_dish_sees_the_dishes_it_is_made_of() {
    let mut editor = Editor::start();
    editor.write("porringer.toml", "");
    editor.write("mash.dish", MASH);
    let outer = "dish     Mash on bread\nfor      12 to 23 months\nmakes    2 cups\ncooked   500 g\nportion  1/2 cup\ntake     400 g dish mash as mash\ntake     100 g white bread as bread\nstep     mix mash with bread\nserve    warm, within 2 hours\n";
    editor.open("outer.dish", outer);
    editor.until("outer.dish", &[]);
    // The file changes on the disk, behind the editor's back.
    editor.write("mash.dish", &MASH.replace("sunflower oil", "zzyzx"));
    editor.notify("workspace/didChangeWatchedFiles", serde_json::json!({ "changes": [] }));
    editor.until("outer.dish", &["food/no-composition"]);
    // A circle is told as such, and mending it mends both.
    editor.open("mash.dish", &MASH.replace("1 tbsp sunflower oil", "100 g dish outer"));
    editor.until("outer.dish", &["method/cycle"]);
    editor.change("mash.dish", MASH);
    editor.until("outer.dish", &[]);
    editor.stop();
}

#[test]
fn settings_and_larder_are_read_anew() {
    let mut editor = Editor::start();
    editor.write("porringer.toml", "larder = [\"larder.toml\"]\n");
    editor.write(
        "larder.toml",
        "[[food]]\nid = \"zub\"\nen = [\"zub root\"]\nrow = \"usda:11507\"\nclass = \"root\"\ngroup = \"vitamin-a\"\nmeasures_source = \"weighed here\"\ndensity = 0.6\n",
    );
    let text = MASH.replace("orange sweet potato, raw", "zub root");
    editor.open("mash.dish", &text);
    editor.until("mash.dish", &[]);
    editor.write("porringer.toml", "languages = [\"en\"]\n");
    editor.notify("workspace/didChangeWatchedFiles", serde_json::json!({ "changes": [] }));
    editor.until("mash.dish", &["food/unknown"]);
    // A slip in the settings is told in the settings, until it is mended.
    editor.write("porringer.toml", "langauges = [\"en\"]\n");
    editor.notify("workspace/didChangeWatchedFiles", serde_json::json!({ "changes": [] }));
    editor.until("porringer.toml", &["workspace/unknown-key"]);
    editor.write("porringer.toml", "larder = [\"larder.toml\"]\n");
    editor.notify("workspace/didChangeWatchedFiles", serde_json::json!({ "changes": [] }));
    editor.until("porringer.toml", &[]);
    editor.until("mash.dish", &[]);
    // A language without a line of its own.
    editor.write("porringer.toml", "languages = [\"en\", \"sw\"]\nlarder = [\"larder.toml\"]\n");
    let document = editor.document("mash.dish");
    editor.notify("textDocument/didSave", document);
    while !editor.codes("mash.dish").contains(&"text/missing-translation".to_owned()) {
        editor.wait("mash.dish");
    }
    editor.stop();
}

#[test]
fn a_file_outside_any_workspace_works() {
    let mut editor = Editor::start();
    editor.open("alone.dish", &MASH.replace("sunflower", "sunflowr"));
    assert_eq!(editor.wait("alone.dish"), ["food/unknown"]);
    // A text that is in no file yet.
    let document =
        serde_json::json!({ "uri": "untitled:Untitled-1", "languageId": "dish", "version": 1, "text": "dish x\n" });
    editor.notify("textDocument/didOpen", serde_json::json!({ "textDocument": document }));
    let symbols = serde_json::json!({ "textDocument": { "uri": "untitled:Untitled-1" } });
    let symbols = editor.request("textDocument/documentSymbol", symbols);
    assert_eq!(symbols[0]["name"], "x");
    // And what is no recipe at all is left alone.
    editor.open("notes.txt", "dish x\n");
    let nothing = editor.document("notes.txt");
    assert!(editor.request("textDocument/documentSymbol", nothing).is_null());
    editor.stop();
}
