//! `porringer new`, `init`, `completions`, `man`, and the help of every command

use std::process::Command;

use crate::{Folder, MASH, Ran, exactly};

fn run_in(folder: &Folder, below: &str, arguments: &[&str]) -> Ran {
    let output =
        Command::new(env!("CARGO_BIN_EXE_porringer")).args(arguments).current_dir(folder.path(below)).output().unwrap();
    Ran {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

#[test]
fn a_new_workspace_is_sound_and_in_form() {
    let folder = Folder::new();
    let ran = folder.run(&["new", "workspace", "lakeshore"]);
    let names = ["a-market-day.menu", "first-foods.booklet", "maize-porridge.dish", "pumpkin-and-groundnut-mash.dish"];
    assert_eq!(ran.code, 0, "{ran:?}");
    assert_eq!(ran.err, "porringer: next: `cd lakeshore`, then `porringer check` and `porringer build`\n");
    assert_eq!(folder.names("lakeshore/recipes"), names);
    assert_eq!(
        run_in(&folder, "lakeshore", &["check", "--deny", "warnings"]),
        exactly(0, "", "porringer: 4 files checked: no errors\n")
    );
    assert_eq!(run_in(&folder, "lakeshore", &["format", "--check"]).code, 0);
    // The examples' comments name files that are there.
    for name in names {
        let text = String::from_utf8(folder.read(&format!("lakeshore/recipes/{name}"))).unwrap();
        assert!(text.starts_with("# "), "{name} is explained");
        assert!(!text.contains('{'), "{name}: {text}");
        for line in text.lines().filter_map(|line| line.strip_prefix("#     porringer ")) {
            let file = line.split_whitespace().nth(1).unwrap();
            assert!(folder.path("lakeshore").join(file).is_file(), "{line}");
        }
    }
    // Nothing is written over, not even in part.
    std::fs::remove_file(folder.path("lakeshore/porringer.toml")).unwrap();
    let ran = folder.run(&["new", "workspace", "lakeshore"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("is there already; nothing is written over"), "{}", ran.err);
    assert!(!folder.path("lakeshore/porringer.toml").exists());
}

#[test]
fn new_documents_are_sound_where_they_are_made() {
    let folder = Folder::new();
    assert_eq!(
        folder.run(&["new", "booklet", "Too early"]),
        exactly(
            2,
            "",
            "porringer: a booklet binds dishes, and there are none yet; begin with `porringer new dish NAME`\n"
        )
    );
    assert_eq!(
        folder.run(&["new", "dish", "Boga", "na", "karanga"]),
        exactly(
            0,
            "boga-na-karanga.dish\n",
            "porringer: next: write over it, then `porringer check boga-na-karanga.dish`\n"
        )
    );
    let text = String::from_utf8(folder.read("boga-na-karanga.dish")).unwrap();
    assert!(text.contains("\ndish     Boga na karanga\n"), "{text}");
    assert!(text.contains("\n#     porringer check boga-na-karanga.dish\n"), "{text}");
    assert_eq!(folder.run(&["new", "menu", "A day"]).code, 0);
    assert_eq!(folder.run(&["new", "booklet", "All"]).code, 0);
    let pages = String::from_utf8(folder.read("all.booklet")).unwrap();
    assert!(pages.contains("page     boga-na-karanga\n") && pages.contains("page     menu a-day\n"), "{pages}");
    assert_eq!(
        folder.run(&["check", ".", "--deny", "warnings"]),
        exactly(0, "", "porringer: 3 files checked: no errors\n")
    );
    assert_eq!(folder.run(&["format", ".", "--check"]).code, 0);
    let ran = folder.run(&["new", "dish", "Boga na Karanga"]);
    assert_eq!(ran, exactly(2, "", "porringer: `boga-na-karanga.dish` is there already; nothing is written over\n"));
    assert_eq!(folder.run(&["new", "dish", "!?"]).code, 2);
    assert_eq!(folder.run(&["new", "dish", "a\u{1B}[2Jb"]).code, 2);
}

#[test]
fn a_dish_goes_into_the_folder_of_recipes_and_says_its_language() {
    let folder = Folder::with("porringer.toml", "languages = [\"sw\"]\n");
    folder.write("recipes/mash.dish", MASH.replace("for ", "language en\nfor "));
    assert_eq!(folder.run(&["new", "dish", "../../x"]).out, "recipes/x.dish\n");
    let text = String::from_utf8(folder.read("recipes/x.dish")).unwrap();
    assert!(text.contains("\nlanguage en\n"), "{text}");
}

#[test]
fn a_folder_becomes_a_workspace() {
    let folder = Folder::with("mash.dish", MASH);
    assert_eq!(
        folder.run(&["init"]),
        exactly(0, "porringer.toml\n", "porringer: 1 recipe here; next: `porringer check`\n")
    );
    assert_eq!(folder.run(&["check"]), exactly(0, "", "porringer: 1 file checked: no errors\n"));
    let again = folder.run(&["init"]);
    assert_eq!(again, exactly(2, "", "porringer: `porringer.toml` is there already; nothing is written over\n"));
    let below = Folder::with("recipes/porringer.toml", "");
    assert_eq!(below.run(&["init"]).code, 2);
    assert!(!below.path("porringer.toml").exists());
    assert_eq!(below.run(&["init", "nowhere"]).code, 2);
}

/// What the settings show as not in force can be put in force as it stands.
#[test]
fn every_setting_of_the_example_is_one() {
    let folder = Folder::new();
    folder.run(&["init"]);
    let text = String::from_utf8(folder.read("porringer.toml")).unwrap();
    let names_files = ["tables", "larder", "profile"];
    let mut shown = 0;
    let text: String = text
        .lines()
        .map(|line| match line.strip_prefix("# ").filter(|rest| rest.contains(" = ")) {
            Some(rest) if !names_files.iter().any(|name| rest.starts_with(name)) => {
                shown += 1;
                format!("{rest}\n")
            }
            _ => format!("{line}\n"),
        })
        .collect();
    assert!(shown >= 5, "{text}");
    folder.write("porringer.toml", text);
    folder.write("mash.dish", MASH);
    assert_eq!(folder.run(&["check", "--deny", "warnings"]).code, 0);
}

#[test]
fn a_shell_takes_the_completions() {
    let folder = Folder::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let ran = folder.run(&["completions", shell]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        assert!(ran.out.contains("compare"), "{shell}");
    }
    let script = folder.run(&["completions", "bash"]).out;
    // The shell itself, where there is one: what stands after `porringer comp`.
    let asked = format!(
        "{script}\nCOMP_WORDS=(porringer compa); COMP_CWORD=1; _porringer porringer compa porringer; echo \"${{COMPREPLY[*]}}\""
    );
    if let Ok(output) = Command::new("bash").args(["--norc", "-c", &asked]).output() {
        assert_eq!(String::from_utf8_lossy(&output.stdout), "compare\n", "{}", String::from_utf8_lossy(&output.stderr));
    }
}

#[test]
fn every_command_has_a_page_and_an_example() {
    let folder = Folder::new();
    let ran = folder.run(&["man", "pages"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let pages = folder.names("pages");
    let mut open = vec![Vec::new()];
    let mut seen = 0;
    while let Some(command) = open.pop() {
        let arguments: Vec<&str> = command.iter().map(String::as_str).chain(["--help"]).collect();
        let help = folder.run(&arguments).out;
        open.extend(
            commands_of(&help).into_iter().map(|name| command.iter().cloned().chain([name]).collect::<Vec<_>>()),
        );
        if command.is_empty() {
            continue;
        }
        seen += 1;
        assert!(help.contains(&format!("Example: porringer {}", command.join(" "))), "{help}");
        let page = format!("porringer-{}.1", command.join("-"));
        assert!(pages.contains(&page), "{page}: {pages:?}");
        assert!(String::from_utf8(folder.read(&format!("pages/{page}"))).unwrap().starts_with(".ie"));
    }
    assert!(seen >= 30, "{seen}");
    assert_eq!(pages.iter().filter(|name| name.starts_with('.')).count(), 0);
}

/// The commands that a help text lists.
fn commands_of(help: &str) -> Vec<String> {
    help.lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|name| *name != "help")
        .map(str::to_owned)
        .collect()
}
