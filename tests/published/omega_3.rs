//! Whether an omega-3 claim can be proven, and refused. The intake it is held
//! against: 0.5 g alpha-linolenic acid a day at 7 to 12 months and 0.7 g from 1
//! to 3 years, adequate intakes, IOM, Dietary Reference Intakes,
//! macronutrients, 2005. Status: memory. The acids are USDA SR28's, public
//! domain: rapeseed oil 9.137 g and linseed oil 53.368 g of 18:3 n-3 in 100 g;
//! for whole linseed only 18:3 undifferentiated is printed, so its omega-3 is
//! unknown and no claim may rest on it.

use std::fs;
use std::process::Command;

use porringer::reference::composition;
use porringer::reference::nutrient::{F18D3, F18D3CN3, F20D5N3, F22D6N3};
use porringer::reference::profile::Profile;

/// What `check` prints about a mash with a spoon of something.
fn check(spoon: &str) -> (i32, String) {
    let folder = tempfile::tempdir().unwrap();
    let text = format!(
        "dish     Pumpkin mash\nfor      12 to 23 months\nmakes    3/4 cup\ncooked   150 g\n\
         portion  12 to 23 months: 3/4 cup\nclaim    source of omega-3\n\n\
         take     200 g pumpkin, peeled, cubed\ntake     1 tsp {spoon} as spoon\n\n\
         step     boil pumpkin for 15 min\nstep     mash pumpkin with spoon\nserve    warm, within 2 hours\n"
    );
    fs::write(folder.path().join("mash.dish"), text).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_porringer"))
        .args(["check", "mash.dish", "--format", "short"])
        .current_dir(folder.path())
        .output()
        .unwrap();
    let printed = String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap();
    (output.status.code().unwrap(), printed)
}

#[test]
fn the_claim_has_a_reference_intake() {
    let profile = Profile::built_in();
    let claim =
        profile.file.claims.claimable.iter().find(|entry| entry.en.iter().any(|name| name == "omega-3")).unwrap();
    assert_eq!(claim.tag, "F18D3CN3");
    let nutrient = profile.file.nutrient.iter().find(|nutrient| nutrient.tag == claim.tag).unwrap();
    for (band, value) in [("6-8", 0.5), ("9-11", 0.5), ("12-23", 0.7)] {
        let intake = nutrient.intake.iter().find(|intake| intake.bands.iter().any(|own| own == band)).unwrap();
        assert_eq!(intake.value, Some(value), "{band}");
    }
}

/// 1 tsp rapeseed oil, 4.6 g, brings 0.42 g; 15 % of 0.7 g are 0.105 g. The
/// pumpkin's acid is unknown, and an unknown value cannot take a proof away.
#[test]
fn a_spoon_of_rapeseed_oil_proves_it() {
    for oil in ["rapeseed oil", "linseed oil", "soya oil"] {
        let (code, printed) = check(oil);
        assert_eq!((code, printed.contains("claim/")), (0, false), "{oil}: {printed}");
    }
}

#[test]
fn whole_linseed_is_refused_as_unknown() {
    let (code, printed) = check("linseed, ground");
    assert_eq!(code, 1, "{printed}");
    assert!(printed.contains("claim/unknown-value"), "{printed}");
    let (code, printed) = check("sunflower oil");
    assert_eq!((code, printed.contains("claim/unknown-value")), (1, true), "{printed}");
}

/// 18:3 n-3, EPA and DHA of foods of the larder.
#[test]
fn acids_of_the_larder() {
    for (row, name, undifferentiated, omega, epa, dha) in [
        (42231, "Oil, flaxseed, cold pressed", Some(53.368), Some(53.368), Some(0.0), Some(0.0)),
        (12220, "Seeds, flaxseed", Some(22.813), None, Some(0.0), Some(0.0)),
        (12006, "Seeds, chia seeds, dried", Some(17.83), Some(17.83), None, None),
        (15236, "Fish, salmon, Atlantic, farmed, raw", Some(0.167), Some(0.148), Some(0.862), Some(1.104)),
        (15039, "Fish, herring, Atlantic, raw", Some(0.103), None, Some(0.709), Some(0.862)),
    ] {
        let food = composition::row(row).unwrap();
        assert_eq!(food.name(), name);
        let found = [F18D3, F18D3CN3, F20D5N3, F22D6N3].map(|id| food.value(id));
        assert_eq!(found, [undifferentiated, omega, epa, dha], "{name}");
    }
}
