//! What a code host runs: annotations, the workflow of `new workflow`, and the
//! hooks for pre-commit.

use std::process::Command;

use git2::{IndexAddOption, Repository, Signature};
use serde_yaml::Value;

use crate::{BROKEN, Folder, MASH, exactly};

#[test]
fn one_line_a_message_beside_its_line() {
    let folder = Folder::with("broken.dish", BROKEN);
    let line = "::error file=broken.dish,line=5,endLine=5,col=16,endColumn=20,title=food/unknown::\
        no food is called `zzyzx`%0A\
        look for its name with `porringer foods WORD`, or name a row, such as `usda:11422`\n";
    assert_eq!(folder.run(&["check", "broken.dish", "--format", "github"]), exactly(1, line, ""));
    folder.write("mash.dish", MASH);
    assert_eq!(folder.run(&["check", "mash.dish", "--format", "github"]), exactly(0, "", ""));
    let noted = folder.run(&["check", "mash.dish", "--format", "github", "--notes"]).out;
    assert!(noted.lines().count() > 0 && noted.lines().all(|line| line.starts_with("::notice file=mash.dish,")));
}

/// An author's words, and a file's name, end no command and begin none.
#[test]
fn nobody_writes_a_command_of_their_own() {
    let hostile = "dish A\nfor 9 to 11 months\nmakes 1 cup\ntake 1 cup 100%0A::error::x, \u{1b}[31m::stop-commands::y\n\
        step boil everything for 5 min\rzz::error::a\r\n::error file=b::c\n";
    let folder = Folder::with("a,b:c%0A::error::d.dish", hostile);
    let ran = folder.run(&["check", ".", "--format", "github", "--notes"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.lines().count() >= 3, "{}", ran.out);
    for line in ran.out.lines() {
        let command = ["::error ", "::warning ", "::notice "].iter().find_map(|word| line.strip_prefix(word));
        let rest = command.and_then(|rest| rest.strip_prefix("file=a%2Cb%3Ac%250A%3A%3Aerror%3A%3Ad.dish,line="));
        assert!(rest.is_some(), "{line}");
        assert!(!line.contains(['\r', '\u{1b}']), "{line:?}");
    }
}

fn repository(folder: &Folder) {
    let repository = Repository::init(folder.path("")).unwrap();
    repository.config().unwrap().set_bool("core.autocrlf", false).unwrap();
    let mut index = repository.index().unwrap();
    index.add_all(["*"], IndexAddOption::DEFAULT, None).unwrap();
    index.write().unwrap();
    let tree = repository.find_tree(index.write_tree().unwrap()).unwrap();
    let who = Signature::now("An author", "author@example.org").unwrap();
    let commit = repository.commit(Some("HEAD"), &who, &who, "Begin", &tree, &[]).unwrap();
    repository.reference("refs/remotes/origin/main", commit, true, "as fetched").unwrap();
}

/// Runs a command line as the host would: in the repository's root, with the
/// program on the path.
fn shell(folder: &Folder, line: &str, variables: &[(&str, &str)]) -> (i32, String) {
    let program = std::path::Path::new(env!("CARGO_BIN_EXE_porringer")).parent().unwrap().to_path_buf();
    let paths = std::env::var_os("PATH").unwrap_or_default();
    let paths = std::env::join_paths(std::iter::once(program).chain(std::env::split_paths(&paths))).unwrap();
    let output = Command::new("sh")
        .args(["-e", "-c", line])
        .current_dir(folder.path(""))
        .env("PATH", paths)
        .env("SOURCE_DATE_EPOCH", "1793491200")
        .envs(variables.iter().copied())
        .output()
        .unwrap();
    let both = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    (output.status.code().unwrap_or(-1), both)
}

#[cfg(unix)]
#[test]
fn the_workflow_is_yaml_and_its_commands_run() {
    let folder = Folder::new();
    assert_eq!(folder.run(&["new", "workspace", "the lake"]).code, 0);
    repository(&folder);
    // From inside the workspace, and written at the root of the repository.
    let (code, said) = shell(&folder, "cd 'the lake/recipes' && porringer new workflow", &[]);
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("PORRINGER_SOURCE"), "{said}");
    let text = String::from_utf8(folder.read(".github/workflows/recipes.yml")).unwrap();
    let (code, said) = shell(&folder, "cd 'the lake/recipes' && porringer new workflow", &[]);
    assert!(code == 2 && said.contains("nothing is written over"), "{said}");
    let workflow: Value = serde_yaml::from_str(&text).unwrap();
    let job = &workflow["jobs"]["recipes"];
    let recipes = job["env"]["RECIPES"].as_str().unwrap();
    assert_eq!(recipes, "the lake/recipes");
    let steps = job["steps"].as_sequence().unwrap();
    for step in steps {
        assert!(step["uses"].is_string() != step["run"].is_string(), "{step:?}");
    }
    std::fs::create_dir(folder.path("temp")).unwrap();
    let (temp, summary) = (folder.path("temp"), folder.path("summary.md"));
    let variables = [
        ("RECIPES", recipes),
        ("BASE", "main"),
        ("RUNNER_TEMP", temp.to_str().unwrap()),
        ("GITHUB_STEP_SUMMARY", summary.to_str().unwrap()),
    ];
    let commands: Vec<&str> =
        steps.iter().filter_map(|step| step["run"].as_str()).filter(|run| run.starts_with("porringer")).collect();
    assert_eq!(commands.len(), 4);
    for run in &commands {
        let (code, said) = shell(&folder, run, &variables);
        assert_eq!(code, 0, "{run}: {said}");
    }
    assert!(folder.names("temp/cards").contains(&"maize-porridge.en.pdf".to_owned()), "{:?}", folder.names("temp"));
    assert!(
        String::from_utf8(folder.read("summary.md")).unwrap().contains("**Nothing that a caregiver would notice**")
    );
    // With a fault, the check fails and the list of findings is written all the same.
    folder.write("the lake/recipes/broken.dish", BROKEN);
    let (code, said) = shell(&folder, commands[0], &variables);
    assert_eq!(code, 1);
    assert!(said.starts_with("::error file=the lake/recipes/broken.dish,line=5,"), "{said}");
    assert_eq!(shell(&folder, commands[1], &variables).0, 0);
    let log: serde_json::Value = serde_json::from_slice(&folder.read("temp/recipes.sarif")).unwrap();
    let place = &log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"];
    assert_eq!(place["uri"], "the%20lake/recipes/broken.dish");
}

#[cfg(unix)]
#[test]
fn the_hooks_are_yaml_and_their_commands_run() {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/.pre-commit-hooks.yaml")).unwrap();
    let hooks: Vec<Value> = serde_yaml::from_str(&text).unwrap();
    assert_eq!(hooks.len(), 2);
    let folder = Folder::new();
    assert_eq!(folder.run(&["new", "workspace", "."]).code, 0);
    let untidy = MASH.replace("makes    1", "makes 1");
    folder.write("recipes/mash.dish", &untidy);
    for hook in &hooks {
        for key in ["id", "name", "entry", "language", "files"] {
            assert!(hook[key].is_string(), "{key}: {hook:?}");
        }
        let named = hook["pass_filenames"] != Value::Bool(false);
        let files = if named { " recipes/mash.dish recipes/maize-porridge.dish" } else { "" };
        let (code, said) = shell(&folder, &format!("{}{files}", hook["entry"].as_str().unwrap()), &[]);
        assert_eq!(code, 0, "{said}");
    }
    assert_eq!(String::from_utf8(folder.read("recipes/mash.dish")).unwrap(), MASH);
    folder.write("recipes/broken.dish", BROKEN);
    assert_eq!(shell(&folder, hooks[0]["entry"].as_str().unwrap(), &[]).0, 1);
}
