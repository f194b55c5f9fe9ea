//! The same inputs give the same bytes: on any day, in any place, zone and
//! language of the machine, in any folder, with any number of threads.

use std::fs;
use std::path::Path;

use crate::Folder;

const FORMATS: &str = "pdf,svg,png,json,html,csv,jsonld";

/// A copy of some of the demonstration set, so that its folder is another.
fn copy(place: &str) -> Folder {
    let folder = Folder::new();
    let recipes = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    for entry in fs::read_dir(recipes).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let dear =
            ["maize-cakes", "rice-chicken", "soft-maize", "green-banana", "pumpkin-leaf", "egg-sweet", "sprouted"];
        if path.is_file()
            && !name.ends_with(".booklet")
            && !dear.iter().any(|start| name.starts_with(start))
            && name != "day-at-home.menu"
        {
            folder.write(&format!("{place}/{name}"), fs::read(&path).unwrap());
        }
    }
    folder.write(
        &format!("{place}/all.booklet"),
        "booklet  Some foods\nsection  One\npage     avocado-banana-mash\npage     red-bean-pumpkin-mash\n",
    );
    folder
}

#[test]
fn nothing_about_a_machine_changes_a_byte() {
    let build = |place: &str, variables: &[(&str, &str)]| {
        let folder = copy(place);
        let ran = folder.run_with(&["build", place, "--format", FORMATS], variables);
        assert_eq!(ran.code, 0, "{ran:?}");
        let out = format!("{place}/out");
        let out = if folder.path(&out).is_dir() { out } else { "out".to_owned() };
        let files: Vec<(String, Vec<u8>)> =
            folder.names(&out).into_iter().map(|name| (name.clone(), folder.read(&format!("{out}/{name}")))).collect();
        files
    };
    let first = build("recipes", &[("TZ", "UTC"), ("LC_ALL", "C"), ("RAYON_NUM_THREADS", "1")]);
    for ending in ["pdf", "1.svg", "2.png", "json", "html", "csv", "jsonld"] {
        assert!(first.iter().any(|(name, _)| name.ends_with(&format!(".{ending}"))), "no {ending}");
    }
    let again = build(
        "another place/with blanks",
        &[
            ("TZ", "Pacific/Auckland"),
            ("LC_ALL", "ar_EG.UTF-8"),
            ("LANG", "sw_KE.UTF-8"),
            ("RAYON_NUM_THREADS", "3"),
            ("SOURCE_DATE_EPOCH", "1800000000"),
            ("HOME", "/nonexistent"),
            ("COLUMNS", "40"),
        ],
    );
    let names = |files: &[(String, Vec<u8>)]| files.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&first), names(&again));
    for ((name, one), (_, other)) in first.iter().zip(&again) {
        assert!(one == other, "{name} is not the same");
        // Nor does a file say where it was made.
        let place = b"another place";
        assert!(!one.windows(place.len()).any(|window| window == place), "{name}");
    }
}
