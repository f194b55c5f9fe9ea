//! The same pages set by others: Python scripts with ReportLab and WeasyPrint,
//! and pdfLaTeX. They read the data that templates read and draw both pages
//! with all their words, bars and drawings, in as many processes as Porringer
//! has threads. Their pages are untagged, and nobody looks for the spacing that
//! fills a sheet: what they do is less.

use std::io::Write;

use super::*;

/// Cards of the slow ones: their time a card does not hang on the number.
const FEW: usize = 100;

pub fn compare(count: usize) {
    println!("\n{count} different cards by others, {} processes", cores());
    let work = Path::new(env!("CARGO_TARGET_TMPDIR")).join("peers");
    fs::create_dir_all(&work).unwrap();
    let data = work.join("cards.jsonl");
    let mut file = std::io::BufWriter::new(fs::File::create(&data).unwrap());
    for card in cards::made(count) {
        writeln!(file, "{}", serde_json::to_string(&card).unwrap()).unwrap();
    }
    file.flush().unwrap();
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
        let packages = ["install", "-y", "-qq", "--no-install-recommends", "texlive-latex-base", "lmodern"];
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
