//! `porringer graph`

use std::fs;
use std::process::Command;

use crate::{Folder, MASH, Ran, exactly};

/// Names that every engine has its own way to write.
const STRANGE: &str = "my recipes/ünï $HOME: a+b = 'c' #1";

/// A dish that takes another, and two that stand alone.
fn workspace() -> Folder {
    let folder = Folder::with("recipes/porringer.toml", "larder = [\"larder.toml\"]\n");
    folder.write("recipes/larder.toml", "");
    for name in ["base", "alone", &format!("{STRANGE}/pudding & more")] {
        folder.write(&format!("recipes/{name}.dish"), MASH);
    }
    folder.write(
        "recipes/outer.dish",
        MASH.replace("take     300 g pumpkin, peeled, cubed", "take     300 g dish base as pumpkin"),
    );
    folder
}

fn graph(folder: &Folder, arguments: &[&str]) -> String {
    let ran = folder.run(&[&["graph"], arguments].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    ran.out
}

/// Runs an engine. None where it is not installed; `.ci/run` installs both
/// and says so, and then it has to be there.
fn engine(folder: &Folder, name: &str, arguments: &[&str]) -> Option<Ran> {
    let output = Command::new(name)
        .args(arguments)
        .current_dir(folder.path(""))
        .env("SOURCE_DATE_EPOCH", "1793491200")
        .env("HOME", "/nowhere")
        .env_remove("MAKEFLAGS")
        .env_remove("MAKELEVEL")
        .output();
    match output {
        Ok(output) => Some(Ran {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }),
        Err(error) => {
            assert!(std::env::var_os("PORRINGER_ENGINES").is_none(), "{name}: {error}");
            eprintln!("{name} is not installed here: not run");
            None
        }
    }
}

fn made(ran: &Ran) -> Vec<&str> {
    assert_eq!(ran.code, 0, "{ran:?}");
    let mut names: Vec<&str> = ["alone", "base", "outer", "pudding"]
        .into_iter()
        .filter(|name| {
            ran.out.lines().any(|line| line.contains(name) && line.contains(".dish") && line.contains("--no-stamps"))
        })
        .collect();
    names.sort_unstable();
    names
}

fn runs(name: &str, format: &str, file: &str, arguments: &[&str], nothing: &str) {
    let folder = workspace();
    let out = "cards of ünï $(pwd): 100 % = #1 'a'";
    let call = ["graph", "--format", format, "--to", file, "--out", out];
    assert_eq!(folder.run(&call), exactly(0, "", ""));
    let Some(first) = engine(&folder, name, arguments) else { return };
    assert_eq!(made(&first), ["alone", "base", "outer", "pudding"], "{first:?}");
    let cards = ["alone.en.pdf", "base.en.pdf", "outer.en.pdf", "pudding---more.en.pdf"];
    assert_eq!(folder.names(out), cards);
    let second = engine(&folder, name, arguments).unwrap();
    assert!(second.out.contains(nothing), "{second:?}");

    // The files' times have to be later, and clocks may be coarse.
    std::thread::sleep(std::time::Duration::from_millis(1_100));
    folder.write("recipes/alone.dish", MASH.replace("within 2 hours", "within 1 hour"));
    assert_eq!(made(&engine(&folder, name, arguments).unwrap()), ["alone"]);
    assert!(engine(&folder, name, arguments).unwrap().out.contains(nothing));

    std::thread::sleep(std::time::Duration::from_millis(1_100));
    folder.write("recipes/base.dish", MASH.replace("cooked   360 g", "cooked   340 g"));
    assert_eq!(made(&engine(&folder, name, arguments).unwrap()), ["base", "outer"]);

    // A file that all rest on, which changes no card: looked at once.
    std::thread::sleep(std::time::Duration::from_millis(1_100));
    let before = folder.read(&format!("{out}/alone.en.pdf"));
    folder.write("recipes/larder.toml", "# a remark\n");
    assert_eq!(made(&engine(&folder, name, arguments).unwrap()).len(), 4);
    assert!(engine(&folder, name, arguments).unwrap().out.contains(nothing));
    assert!(folder.read(&format!("{out}/alone.en.pdf")) == before);

    // A new dish: the list keeps itself up to date.
    std::thread::sleep(std::time::Duration::from_millis(1_100));
    folder.write("recipes/new.dish", MASH);
    assert_eq!(engine(&folder, name, arguments).unwrap().code, 0);
    assert!(folder.names(out).contains(&"new.en.pdf".to_owned()));
    assert!(engine(&folder, name, arguments).unwrap().out.contains(nothing));

    // A dish with a fault fails, and the others are made.
    std::thread::sleep(std::time::Duration::from_millis(1_100));
    folder.write("recipes/new.dish", MASH.replace("pumpkin,", "pumpkinn,"));
    folder.write("recipes/alone.dish", MASH);
    let ran =
        engine(&folder, name, &[arguments, &["-k"], if name == "ninja" { &["0"] } else { &[] }].concat()).unwrap();
    assert_ne!(ran.code, 0);
    let said = format!("{}{}", ran.out, ran.err);
    assert!(said.contains("food/unknown"), "{said}");
    assert!(folder.read(&format!("{out}/alone.en.pdf")) != before);
}

#[test]
fn ninja_makes_what_changed() {
    runs("ninja", "ninja", "build.ninja", &["-v"], "no work to do");
}

#[test]
fn make_makes_what_changed() {
    runs("make", "make", "Makefile", &[], "Nothing to be done");
}

#[test]
fn the_engines_make_what_a_build_makes() {
    let folder = workspace();
    folder.run(&["build", "--format", "pdf,json", "--out", "ours"]);
    for (name, format, file) in [("ninja", "ninja", "build.ninja"), ("make", "make", "Makefile")] {
        folder.write(file, graph(&folder, &["--format", format, "--of", "pdf,json", "--out", name]));
        if engine(&folder, name, &[]).is_none() {
            continue;
        }
        let names = folder.names("ours");
        assert_eq!(folder.names(name), names);
        for file in names {
            assert!(folder.read(&format!("ours/{file}")) == folder.read(&format!("{name}/{file}")), "{file}");
        }
    }
}

/// A booklet of two dishes, one of which takes a third, and a menu.
fn bound() -> Folder {
    let folder = workspace();
    folder.write("recipes/day.menu", "menu     A day\nfor      9 to 11 months, breastfed\nmeal     8:00: outer\n");
    folder.write(
        "recipes/all.booklet",
        "booklet  All of it\nin sw    Zote\nid       whole-set\nlanguage en, sw\npage     outer\npage     alone\npage     menu day\n",
    );
    folder
}

#[test]
fn the_engines_bind_booklets_and_make_every_form() {
    let folder = bound();
    let forms = "pdf,json,csv,jsonld";
    let built = folder.run(&["build", "--format", forms, "--out", "ours"]);
    assert_eq!(built.code, 0, "{built:?}");
    let names = folder.names("ours");
    for name in ["whole-set.en.pdf", "whole-set.sw.pdf", "whole-set.json", "nutrients.csv", "base.en.jsonld"] {
        assert!(names.contains(&name.to_owned()), "{name} is not in {names:?}");
    }
    for (name, file) in [("ninja", "build.ninja"), ("make", "Makefile")] {
        let call = ["graph", "--format", name, "--to", file, "--of", forms, "--out", name];
        assert_eq!(folder.run(&call), exactly(0, "", ""));
        let Some(first) = engine(&folder, name, &[]) else { continue };
        assert_eq!(first.code, 0, "{first:?}");
        let own: Vec<&String> = names.iter().filter(|name| !name.starts_with(".porringer")).collect();
        assert_eq!(folder.names(name).iter().collect::<Vec<_>>(), own);
        for file in own {
            assert!(folder.read(&format!("ours/{file}")) == folder.read(&format!("{name}/{file}")), "{name}: {file}");
        }
        // What the booklet's dish takes is what the booklet is made of.
        let before = folder.read(&format!("{name}/whole-set.en.pdf"));
        let alone = folder.read(&format!("{name}/alone.en.pdf"));
        std::thread::sleep(std::time::Duration::from_millis(1_100));
        let base = String::from_utf8(folder.read("recipes/base.dish")).unwrap();
        folder.write("recipes/base.dish", base.replace("cooked   360 g", "cooked   345 g"));
        assert_eq!(engine(&folder, name, &[]).unwrap().code, 0);
        assert!(folder.read(&format!("{name}/whole-set.en.pdf")) != before, "{name}");
        assert!(folder.read(&format!("{name}/alone.en.pdf")) == alone, "{name}");
        folder.write("recipes/base.dish", base);
    }
    let drawing = graph(&folder, &["--format", "dot", "--out", "out"]);
    for edge in [
        "\"recipes/all.booklet\" -> \"out/whole-set.sw.pdf\";",
        "\"recipes/base.dish\" -> \"out/whole-set.en.pdf\";",
        "\"recipes/day.menu\" -> \"out/whole-set.en.pdf\";",
    ] {
        assert!(drawing.contains(edge), "{edge} is not in {drawing}");
    }
}

#[test]
fn what_make_cannot_name_is_said() {
    let folder = Folder::with("a;b.dish", MASH);
    let ran = folder.run(&["graph", "--format", "make"]);
    assert_eq!(ran, exactly(2, "", "porringer: make cannot be told of `a;b.dish`; give it another name\n"));
    assert!(graph(&folder, &["--format", "ninja"]).contains("a;b.dish"));
}

#[test]
fn a_drawing_has_every_file() {
    let folder = workspace();
    fs::remove_dir_all(folder.path("recipes/my recipes")).unwrap();
    folder.write("recipes/a\"b.dish", MASH);
    let text = graph(&folder, &["--format", "dot"]);
    for edge in [
        "\"recipes/base.dish\" -> \"out/outer.en.pdf\";",
        "\"recipes/outer.dish\" -> \"out/outer.en.pdf\";",
        "\"recipes/larder.toml\" -> \"every card\";",
        "\"every card\" -> \"out/alone.en.pdf\";",
        "\"recipes/a\\\"b.dish\" -> \"out/a-b.en.pdf\";",
    ] {
        assert!(text.contains(edge), "{edge} is not in {text}");
    }
    assert!(!text.contains("\"recipes/base.dish\" -> \"out/alone.en.pdf\""), "{text}");
    assert!(text.starts_with("digraph porringer {\n") && text.ends_with("}\n"));
}
