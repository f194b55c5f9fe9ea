//! The same pages set by others: Python scripts with ReportLab and WeasyPrint,
//! and pdfLaTeX. They read the data that templates read and draw both pages
//! with all their words, bars and drawings, in as many processes as Porringer
//! has threads. The drawings are given to them as paths, so that the same lines
//! are on their pages. Their pages are untagged, and nobody looks for the
//! spacing that fills a sheet: what they do is less.

use std::collections::BTreeMap;
use std::io::Write;

use serde_json::{Value, json};
use typst::layout::{Frame, FrameItem, Point};
use typst::visualize::{Curve, CurveItem, Geometry};

use super::*;

/// Cards of the slow ones: their time a card does not hang on the number.
const FEW: usize = 100;

pub fn compare(count: usize) {
    println!("\n{count} different cards by others, {} processes", cores());
    let work = Path::new(env!("CARGO_TARGET_TMPDIR")).join("peers");
    fs::create_dir_all(&work).unwrap();
    let data = work.join("cards.jsonl");
    let mut file = std::io::BufWriter::new(fs::File::create(&data).unwrap());
    let made: Vec<Value> = cards::made(count).iter().map(|card| serde_json::to_value(card).unwrap()).collect();
    for card in &made {
        writeln!(file, "{card}").unwrap();
    }
    file.flush().unwrap();
    let drawn = work.join("drawings.json");
    fs::write(&drawn, drawings(&made).to_string()).unwrap();
    let own = cards::spawn("whole", count, "-");
    let (each, busy) = (own.seconds / count as f64, own.busy / count as f64);
    let told = |seconds: f64, busy: f64| format!("{:.1} ({:.1})", seconds * 1e3, busy * 1e3);
    row("Porringer, ms a card (of the processor)", &told(each, busy), "");
    let Some(python) = python(&work) else {
        println!("  python3 with venv is not here, or could not install: not compared");
        return;
    };
    for (name, script, most, goal) in [
        ("ReportLab", "reportlab_cards.py", count, "goal <= 0.8"),
        ("WeasyPrint", "weasyprint_cards.py", FEW, "goal <= 0.05"),
        ("pdfLaTeX", "latex_cards.py", FEW, "goal <= 0.05"),
    ] {
        if name == "pdfLaTeX" && !latex() {
            println!("  pdflatex is not here and could not be installed: not compared");
            continue;
        }
        let number = most.min(count);
        let some = work.join("some.jsonl");
        let text = fs::read_to_string(&data).unwrap();
        fs::write(&some, text.lines().take(number).collect::<Vec<_>>().join("\n")).unwrap();
        let out = work.join(name);
        let _ = fs::remove_dir_all(&out);
        let (begin, before) = (Instant::now(), of_children());
        let done = Command::new(&python)
            .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bench/peers").join(script))
            .args([&some, &out])
            .arg(cores().to_string())
            .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/fonts"))
            .arg(&drawn)
            .status()
            .unwrap();
        assert!(done.success(), "{script} failed");
        let seconds = begin.elapsed().as_secs_f64() / number as f64;
        let theirs = (of_children() - before) / number as f64;
        assert_eq!(fs::read_dir(&out).unwrap().count(), number, "{script} did not make every card");
        row(&format!("{name}, {number} cards, ms a card (of the processor)"), &told(seconds, theirs), "");
        row(&format!("  Porringer's time to {name}'s"), &format!("{:.3}", each / seconds), goal);
        row("  the same in processor time", &format!("{:.3}", busy / theirs), "");
    }
}

/// Every drawing of these cards by its name, as paths 24 units high with `y`
/// downwards: (operator, coordinates), whether filled, the thickness of its
/// stroke, and what it is clipped to.
fn drawings(cards: &[Value]) -> Value {
    let mut processes = vec!["caution".to_owned(), "clock".to_owned(), "evening".to_owned()];
    let mut measures: BTreeMap<String, Value> = BTreeMap::new();
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    for card in cards {
        for step in list(&card["method"]["steps"]) {
            let name = step["process"].as_str().unwrap_or_default().to_owned();
            if !processes.contains(&name) {
                processes.push(name);
            }
        }
        let sections = list(&card["ingredients"]["sections"]);
        let items = sections.iter().chain([&card["ingredients"]["family"]]).flat_map(|section| list(&section["items"]));
        for item in items.chain(list(&card["portions"]["items"])) {
            let measure = &item["measure"];
            let kind = measure["kind"].as_str().unwrap_or("none");
            for level in [1.0, measure["count"]["fraction"].as_f64().unwrap_or(0.0)] {
                let heaped = level >= 1.0 && measure["heaped"] == true;
                if kind != "none" && level > 0.0 {
                    let name = format!("{kind}-{:.0}{}", level * 1e3, if heaped { "-heaped" } else { "" });
                    measures.insert(name, json!({ "kind": kind, "level": level, "heaped": heaped }));
                }
            }
        }
    }
    let wanted = json!({ "processes": processes, "measures": measures.values().collect::<Vec<_>>() });
    let engine = Engine::new(1, Vec::new()).unwrap();
    let document = engine.document(&Template::built_in("web").unwrap(), &wanted).unwrap();
    let names = processes.iter().chain(measures.keys());
    assert_eq!(document.pages().len(), processes.len() + measures.len(), "a page for each drawing");
    let drawn = names.zip(document.pages()).map(|(name, page)| {
        let mut parts = Vec::new();
        walk(&page.frame, Point::zero(), &Value::Null, &mut parts);
        (name.clone(), json!({ "width": page.frame.width().to_pt(), "parts": parts }))
    });
    Value::Object(drawn.collect())
}

fn walk(frame: &Frame, from: Point, clip: &Value, parts: &mut Vec<Value>) {
    for (place, item) in frame.items() {
        let at = from + *place;
        match item {
            FrameItem::Group(group) => {
                let t = group.transform;
                assert!(t.sx.is_one() && t.sy.is_one() && t.kx.is_zero() && t.ky.is_zero(), "a drawing is turned");
                let at = at + Point::new(t.tx, t.ty);
                let own = group.clip.as_ref().map_or(clip.clone(), |clip| path(clip, at));
                walk(&group.frame, at, &own, parts);
            }
            FrameItem::Shape(shape, _) => {
                let curve = match &shape.geometry {
                    Geometry::Curve(curve) => curve.clone(),
                    Geometry::Rect(size) => Curve::rect(*size),
                    Geometry::Line(end) => Curve(vec![CurveItem::Move(Point::zero()), CurveItem::Line(*end)]),
                };
                let stroke = shape.stroke.as_ref().map(|stroke| stroke.thickness.to_pt());
                parts.push(json!({
                    "path": path(&curve, at), "fill": shape.fill.is_some(), "stroke": stroke, "clip": clip
                }));
            }
            _ => {}
        }
    }
}

fn path(curve: &Curve, at: Point) -> Value {
    let short = |length: f64| (length * 1e3).round() / 1e3;
    let points = |points: &[Point]| -> Vec<f64> {
        points.iter().flat_map(|p| [short((p.x + at.x).to_pt()), short((p.y + at.y).to_pt())]).collect()
    };
    let items = curve.0.iter().map(|item| match item {
        CurveItem::Move(to) => json!(["m", points(&[*to])]),
        CurveItem::Line(to) => json!(["l", points(&[*to])]),
        CurveItem::Cubic(a, b, to) => json!(["c", points(&[*a, *b, *to])]),
        CurveItem::Close => json!(["h", []]),
    });
    items.collect()
}

/// A Python of our own with both libraries, installed by pip on first use.
fn python(work: &Path) -> Option<PathBuf> {
    let home = work.join("python");
    let python = home.join("bin/python");
    let good = |command: &mut Command| command.stdout(Stdio::null()).status().is_ok_and(|status| status.success());
    let ready = || good(Command::new(&python).args(["-c", "import reportlab, weasyprint"]).stderr(Stdio::null()));
    let made = ready()
        || good(Command::new("python3").args(["-m", "venv"]).arg(&home))
            && good(Command::new(&python).args(["-m", "pip", "install", "--quiet", "reportlab", "weasyprint"]))
            && ready();
    made.then_some(python)
}

fn latex() -> bool {
    let there =
        || Command::new("pdflatex").arg("-version").stdout(Stdio::null()).status().is_ok_and(|status| status.success());
    there() || {
        let packages =
            ["install", "-y", "-qq", "--no-install-recommends", "texlive-latex-base", "texlive-latex-extra", "lmodern"];
        let installed = Command::new("apt-get").args(packages).stdout(Stdio::null()).status();
        installed.is_ok_and(|status| status.success()) && there()
    }
}

/// Seconds of the processor that finished children took, theirs included.
fn of_children() -> f64 {
    let stat = fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let counts = stat.rsplit(')').next().unwrap_or_default().split_whitespace();
    counts.skip(13).take(2).filter_map(|ticks| ticks.parse::<f64>().ok()).sum::<f64>() / 100.0
}
