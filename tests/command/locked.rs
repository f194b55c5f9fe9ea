//! `porringer build --locked`

use std::fs;

use crate::{BROKEN, Folder, MASH, exactly};

fn built() -> Folder {
    let folder = Folder::with("recipes/mash.dish", MASH);
    folder.write("recipes/porringer.toml", "languages = [\"en\", \"sw\"]\n");
    assert_eq!(folder.run(&["build"]).code, 0);
    folder
}

#[test]
fn a_folder_that_is_as_it_should_be_passes() {
    let folder = built();
    let passes = exactly(0, "", "porringer: out is what these recipes make: 2 files\n");
    assert_eq!(folder.run(&["build", "--locked"]), passes);
    // As in a fresh clone: no stamps, other times.
    fs::remove_dir_all(folder.path("out/.porringer")).unwrap();
    folder.write("out/mash.en.pdf", folder.read("out/mash.en.pdf"));
    assert_eq!(folder.run(&["build", "--locked"]), passes);
    assert!(!folder.path("out/.porringer").exists(), "nothing is written");
}

#[test]
fn what_is_stale_is_named_with_its_reason() {
    let folder = built();
    folder.write("recipes/mash.dish", MASH.replace("within 2 hours", "within 3 hours"));
    let before = folder.read("out/mash.en.pdf");
    let stamps = folder.read("out/.porringer/stamps");
    let ran = folder.run(&["build", "--locked"]);
    assert_eq!(
        ran,
        exactly(
            1,
            "mash.en.pdf  stale: `recipes/mash.dish` changed\n",
            "porringer: out is not what these recipes make: 1 stale\n"
        )
    );
    assert!(folder.read("out/mash.en.pdf") == before && folder.read("out/.porringer/stamps") == stamps);
    // Without stamps the cards themselves say how they differ.
    fs::remove_dir_all(folder.path("out/.porringer")).unwrap();
    let ran = folder.run(&["build", "--locked"]);
    assert_eq!(ran.code, 1);
    assert_eq!(ran.out, "mash.en.pdf  stale: it says `Warm, within 2 hours. Stay`, not `Warm, within 3 hours. Stay`\n");
}

#[test]
fn what_is_missing_or_left_over_is_named() {
    let folder = built();
    fs::remove_file(folder.path("out/mash.sw.pdf")).unwrap();
    folder.write("out/gone.en.pdf", "an earlier dish");
    folder.write("out/notes.txt", "not ours");
    let ran = folder.run(&["build", "--locked"]);
    assert_eq!(
        ran,
        exactly(
            1,
            "gone.en.pdf  extra: no recipe makes it\nmash.sw.pdf  missing\n",
            "porringer: out is not what these recipes make: 1 missing, 1 extra\n"
        )
    );
    // What else lies there is no question when only some are made.
    let ran = folder.run(&["build", "recipes/mash.dish", "--locked"]);
    assert_eq!(ran.out, "mash.sw.pdf  missing\n");
    fs::remove_dir_all(folder.path("out")).unwrap();
    let ran = folder.run(&["build", "--locked"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, "mash.en.pdf  missing\nmash.sw.pdf  missing\n"));
    assert!(!folder.path("out").exists());
}

#[test]
fn a_dish_with_errors_fails() {
    let folder = built();
    folder.write("recipes/broken.dish", BROKEN);
    let ran = folder.run(&["build", "--locked"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.out.contains("no food is called `zzyzx`"), "{ran:?}");
    assert_eq!(
        ran.err,
        "porringer: out is not what these recipes make: some cards could not be made, 1 dish left out\n"
    );
}
