//! The real program on ten times as many cards: its peak must hardly grow.

use super::*;

pub fn compare(count: usize) {
    println!("\npeak memory of `porringer build`");
    let few = peak_of(count);
    let many = peak_of(count * 10);
    row(&format!("{count} cards, MB"), &format!("{few:.0}"), "");
    row(&format!("{} cards, MB", count * 10), &format!("{many:.0}"), "");
    row("  the second to the first", &format!("{:.2}", many / few), "goal <= 1.30");
}

/// Largest memory, in MB, while so many cards are made.
fn peak_of(count: usize) -> f64 {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("memory");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(folder.join("recipes")).unwrap();
    fs::write(folder.join("porringer.toml"), "languages = [\"en\"]\n").unwrap();
    for (stem, text) in varied(count) {
        let text: String =
            text.lines().filter(|line| !line.starts_with("id ")).map(|line| format!("{line}\n")).collect();
        fs::write(folder.join("recipes").join(format!("{stem}.dish")), text).unwrap();
    }
    let mut child = Command::new(env!("CARGO_BIN_EXE_porringer"))
        .args(["build", "."])
        .current_dir(&folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let status = format!("/proc/{}/status", child.id());
    let mut peak = 0.0_f64;
    while child.try_wait().unwrap().is_none() {
        let text = fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or_default();
        peak = peak.max(line.trim().trim_end_matches(" kB").parse::<f64>().unwrap_or(0.0) / 1024.0);
        std::thread::sleep(Duration::from_millis(20));
    }
    fs::remove_dir_all(&folder).unwrap();
    peak
}
