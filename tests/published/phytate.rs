//! Molar ratios of phytate, against a published diet.

use crate::dish::{Dish, Take, compute};
use porringer::reference::profile::Profile;
use porringer::reference::profile::data::Status;

/// Source: Bangladesh Journal of Nutrition, phytate content of foods: a mean
/// diet of 1036 mg of phytate and 8.0 mg of zinc has a molar ratio of 12.77.
/// Status: checked-official
/// (journal.library.du.ac.bd/index.php/BJN/article/view/1240). From the figures
/// as printed it comes to 12.83; the tolerance of 1 % is what their rounding
/// allows.
#[test]
fn phytate_to_zinc_of_a_mean_diet() {
    let table = "food,name,ZN,FE,CA,PHYTCPP\ndiet,A mean diet,8.0,,,1036\nwater,Water,0,0,0,\n";
    let dish = |id: &str, takes: Vec<Take>| Dish {
        id: id.to_owned(),
        title: "A mean diet".to_owned(),
        cooked_percent: "100".to_owned(),
        takes,
    };
    let whole = dish("whole", vec![Take::new("100", "diet:diet")]);
    // Half of it is a food whose phytate nobody knows.
    let part = dish("part", vec![Take::new("100", "diet:diet"), Take::new("100", "diet:water")]);
    let found = compute(&[whole, part], &[("diet", table)]);
    let zinc = |id: &str| found[id].value()["absorption"]["phytate"]["ZN"].clone();
    let ratio = zinc("whole")["ratio"].as_f64().unwrap();
    assert!((ratio / 12.77 - 1.0).abs() < 0.01, "{ratio}");
    assert!((ratio - 12.83).abs() < 0.005, "{ratio}");
    assert_eq!((&zinc("whole")["at_least"], &zinc("whole")["most"]), (&false.into(), &15.into()));
    // A ratio is of the whole, so more water changes nothing but its certainty.
    assert_eq!(zinc("part")["ratio"].as_f64().unwrap(), ratio);
    assert_eq!(zinc("part")["at_least"], true);
    // Iron and calcium are blank: no ratio.
    for tag in ["FE", "CA"] {
        assert!(found["whole"].value()["absorption"]["phytate"].get(tag).is_none(), "{tag}");
    }
}

/// Source: Gibson et al., Food and Nutrition Bulletin 31(2 Suppl), 2010
/// (checked-official): 18 for zinc, 1 for iron, 0.17 for calcium; WHO 1996 and
/// FAO/WHO 2004 (checked-secondary): 15 for zinc. The lower is used.
#[test]
fn the_more_cautious_limits_are_used() {
    let profile = Profile::built_in();
    let rows = &profile.file.absorption.phytate;
    for (tag, most, status, other) in [
        ("ZN", 15.0, Status::CheckedSecondary, 18.0),
        ("FE", 1.0, Status::CheckedOfficial, 0.4),
        ("CA", 0.17, Status::CheckedOfficial, 0.24),
    ] {
        let row = rows.iter().find(|row| row.tag == tag).unwrap();
        assert_eq!((row.most.value, row.most.status), (most, status), "{tag}");
        assert_eq!(row.other.iter().map(|figure| figure.value).collect::<Vec<_>>(), [other], "{tag}");
    }
}
