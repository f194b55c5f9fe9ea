//! The bars of a day's card, against the numbers beside them: read from the
//! pages as SVG.

use serde_json::Value;

use crate::{Folder, MASH};

const DAY: &str = "\
menu     A day of mash
for      6 to 23 months, breastfed
meal     7:00 breakfast: 1/2 cup dish mash
snack    10:00: 1 small banana
meal     12:30 lunch: 1/2 cup dish mash, 1/4 cup ripe papaya
meal     18:00 supper: 1/2 cup dish mash
";

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    tag.split_once(&format!(" {name}=\""))?.1.split('"').next()
}

/// The number after a letter of a path: a length along it.
fn after(path: &str, letter: char) -> Option<f64> {
    let rest = path.split(letter).nth(1)?.trim_start();
    rest.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-'))).next()?.parse().ok()
}

/// Shares that the bars of a page show, in the order drawn: each begins with
/// its thin line; the area that follows, if any, is the fill.
fn shares(svg: &str) -> Vec<f64> {
    let mut found: Vec<(f64, Option<f64>)> = Vec::new();
    for tag in svg.split("<path").skip(1).map(|rest| rest.split('>').next().unwrap()) {
        let path = attribute(tag, "d").unwrap();
        let thickness = attribute(tag, "stroke-width").and_then(|text| text.parse::<f64>().ok());
        if thickness.is_some_and(|thickness| (thickness - 0.4).abs() < 0.001) {
            found.push((after(path, 'h').or_else(|| after(path, 'l')).unwrap().abs(), None));
            continue;
        }
        let area = path.ends_with("Z ") && path.matches('v').count() == 2 && attribute(tag, "fill") != Some("none");
        if let (true, Some((line, fill @ None))) = (area, found.last_mut()) {
            let width = after(path, 'h').unwrap().abs();
            // The stop of a daily most is an area too; it stands at the end.
            let place = attribute(tag, "transform").and_then(|text| after(text, '(')).unwrap_or(0.0);
            let stop = place > *line * 0.9;
            if !stop {
                *fill = Some(width);
            }
        }
    }
    found.into_iter().map(|(line, fill)| fill.unwrap_or(0.0) / line).collect()
}

#[test]
fn bars_of_a_day_are_as_long_as_their_numbers() {
    for ages in ["6 to 23 months", "12 to 23 months"] {
        let folder = Folder::with("mash.dish", MASH.replace("9 to 11 months", "6 to 23 months"));
        folder.write("day.menu", DAY.replace("6 to 23 months", ages));
        let ran = folder.run(&["build", "day.menu", "--format", "svg,json", "--paper", "A4"]);
        assert!(folder.path("out/day.en.2.svg").is_file(), "{ran:?}");
        let data: Value = serde_json::from_slice(&folder.read("out/day.json")).unwrap();
        let back = &data["cards"][0]["back"];
        let rows = back["groups"].as_array().unwrap().iter().flat_map(|group| group["rows"].as_array().unwrap());
        let cells =
            back["energy"].as_array().unwrap().iter().chain(rows).flat_map(|row| row["cells"].as_array().unwrap());
        let wanted: Vec<f64> = cells.filter_map(|cell| cell["share"].as_f64()).collect();
        assert!(wanted.len() > 18 && wanted.iter().any(|share| *share > 1.0), "{wanted:?}");
        let drawn = shares(&String::from_utf8(folder.read("out/day.en.2.svg")).unwrap());
        assert_eq!(drawn.len(), wanted.len(), "{ages}: {drawn:?} for {wanted:?}");
        for (drawn, wanted) in drawn.iter().zip(&wanted) {
            let wanted = if *wanted < 0.005 { 0.0 } else { wanted.min(1.0) };
            assert!((drawn - wanted).abs() < 0.004, "{ages}: a bar shows {drawn} for {wanted}");
        }
    }
}
