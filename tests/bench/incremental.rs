//! Building again: nothing changed, one dish changed, one larder row changed.

use super::*;

/// Rounds of each run.
const ROUNDS: usize = 15;

pub fn compare(count: usize) {
    let folder = tempfile::tempdir().unwrap();
    let recipes = folder.path().join("recipes");
    fs::create_dir(&recipes).unwrap();
    let write = |name: &str, text: &str| fs::write(recipes.join(name), text).unwrap();
    write("porringer.toml", "languages = [\"en\"]\nlarder = [\"larder.toml\"]\n");
    write("larder.toml", LARDER);
    let texts = varied(count);
    for (stem, text) in &texts {
        let own = |line: &&str| !line.starts_with("id ");
        write(&format!("{stem}.dish"), &text.lines().filter(own).map(|line| format!("{line}\n")).collect::<String>());
    }
    for at in 0..5 {
        write(&format!("reed-{at}.dish"), &DISH.replace("300 g", &format!("{} g", 300 + at)));
    }
    let build = |arguments: &[&str]| {
        let begin = Instant::now();
        let output = Command::new(env!("CARGO_BIN_EXE_porringer"))
            .arg("build")
            .args(arguments)
            .current_dir(folder.path())
            .output()
            .unwrap();
        let time = ms(begin.elapsed());
        assert!(output.status.code() != Some(2), "{}", String::from_utf8_lossy(&output.stderr));
        let said = String::from_utf8_lossy(&output.stderr);
        let last = said.lines().last().unwrap_or_default().trim_start_matches("porringer: ").to_owned();
        (time, last)
    };
    // Files' times have to be older than one tick of the clock to be believed.
    let settle = || std::thread::sleep(Duration::from_millis(250));

    println!("\nbuilding again, {} dishes, one language, {} threads", count + 5, cores());
    let (full, said) = build(&[]);
    row(&format!("all of them, ms ({said})"), &format!("{full:.0}"), "");
    settle();
    build(&[]);
    let nothing = median((0..ROUNDS).map(|_| build(&[]).0).collect());
    let said = build(&[]).1;
    row(&format!("nothing changed, ms ({said})"), &format!("{nothing:.1}"), "goal < 60");
    let mut times = Vec::new();
    let mut said = String::new();
    for round in 0..ROUNDS {
        let (stem, text) = &texts[0];
        write(&format!("{stem}.dish"), &format!("{}tip Round {round}.\n", text.trim_end().to_owned() + "\n"));
        settle();
        let (time, words) = build(&[]);
        times.push(time);
        said = words;
    }
    let one = median(times);
    row(&format!("one dish changed, ms ({said})"), &format!("{one:.1}"), "goal < 100");
    let mut times = Vec::new();
    for round in 0..5 {
        write("larder.toml", &LARDER.replace("11422", if round % 2 == 0 { "11457" } else { "11422" }));
        settle();
        let (time, words) = build(&[]);
        times.push(time);
        said = words;
    }
    let larder = median(times);
    row(&format!("one larder row changed, ms ({said})"), &format!("{larder:.1}"), "only its 5 dishes");
    for (what, time) in [("nothing", nothing), ("one dish", one), ("one larder row", larder)] {
        row(&format!("  all of them to {what} changed, times"), &format!("{:.0}", full / time), "");
    }
}

const LARDER: &str = r#"
[[food]]
id = "reed-pumpkin"
en = ["reed pumpkin"]
row = "usda:11422"
class = "vegetable"
group = "vitamin-a"
measures_source = "common practice, no source"
"#;

const DISH: &str = "\
dish     Reed pumpkin mash
for      9 to 11 months
makes    1 1/2 cups
cooked   360 g
portion  1/2 cup
take     300 g reed pumpkin
take     2 tbsp groundnut paste, smooth
step     boil reed pumpkin for 15 min; drain reed pumpkin
step     mash reed pumpkin with groundnut paste for 3 min
serve    Warm, within 2 hours.
";
