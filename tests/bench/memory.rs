//! The real program on ten times as many dishes: its peak must hardly grow.

use super::*;

pub fn compare(count: usize) {
    for command in ["check", "build"] {
        println!("\npeak memory of `porringer {command}`, {} threads", cores());
        let (few, _) = run(command, count);
        let (many, took) = run(command, count * 10);
        row(&format!("{count} dishes, MB"), &format!("{few:.0}"), "");
        row(&format!("{} dishes, MB", count * 10), &format!("{many:.0}"), "");
        row("  the second to the first", &format!("{:.2}", many / few), "goal <= 1.30");
        row("  the second took, s", &format!("{:.0}", took.as_secs_f64()), "");
    }
}

/// Largest memory, in MB, while so many dishes are worked through, and the
/// time it took.
fn run(command: &str, count: usize) -> (f64, Duration) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("memory");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(folder.join("recipes")).unwrap();
    fs::write(folder.join("porringer.toml"), "languages = [\"en\"]\n").unwrap();
    // One dish takes another by its own name.
    for (stem, text) in varied(count - demo().len()).into_iter().chain(demo()) {
        let text: String =
            text.lines().filter(|line| !line.starts_with("id ")).map(|line| format!("{line}\n")).collect();
        fs::write(folder.join("recipes").join(format!("{stem}.dish")), text).unwrap();
    }
    let begin = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_porringer"))
        .args([command, "."])
        .current_dir(&folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let status = format!("/proc/{}/status", child.id());
    let mut peak = 0.0_f64;
    let code = loop {
        let text = fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or_default();
        peak = peak.max(line.trim().trim_end_matches(" kB").parse::<f64>().unwrap_or(0.0) / 1024.0);
        if let Some(code) = child.try_wait().unwrap() {
            break code;
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let took = begin.elapsed();
    // Of so many amounts some are wrong; the call itself may not be.
    assert!(matches!(code.code(), Some(0 | 1)), "{command} ended with {code}");
    fs::remove_dir_all(&folder).unwrap();
    (peak, took)
}
