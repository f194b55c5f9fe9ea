//! Makes a dish another dish of the same size.

/// Lines that are free text. A part's name is not: steps call it.
const PROSE: [&str; 6] = ["dish", "serve", "store", "caution", "tip", "note"];

pub fn dish(text: &str, variant: usize) -> String {
    if variant == 0 {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len() + 64);
    for (at, line) in text.lines().enumerate() {
        let keyword = line.split(' ').next().unwrap_or_default();
        match keyword {
            // The prose of a step stands below it.
            "" => out.push_str(&words(line, variant)),
            "in" => {
                let head = line.len() - line[2..].trim_start().len() + 2;
                out.push_str(&line[..head]);
                out.push_str(&words(&line[head..], variant));
            }
            "take" | "family" => out.push_str(&amount(line, mixed(variant * 64 + at))),
            keyword if PROSE.contains(&keyword) => {
                out.push_str(keyword);
                out.push_str(&words(&line[keyword.len()..], variant));
            }
            _ => out.push_str(line),
        }
        out.push('\n');
    }
    out
}

/// Words of another language: vowels and some consonants change places, by
/// the variant. Their number and length stay.
fn words(text: &str, variant: usize) -> String {
    let vowels = arrangement("aeiou", variant % 120);
    let consonants = arrangement("tdns", variant / 120 % 24);
    let swap = |letter: char| {
        let small = letter.to_ascii_lowercase();
        let other = ["aeiou", "tdns"]
            .iter()
            .zip([&vowels, &consonants])
            .find_map(|(from, to)| from.chars().position(|own| own == small).and_then(|at| to.get(at).copied()));
        match other {
            Some(other) if letter.is_ascii_uppercase() => other.to_ascii_uppercase(),
            Some(other) => other,
            None => letter,
        }
    };
    text.chars().map(swap).collect()
}

fn arrangement(letters: &str, mut number: usize) -> Vec<char> {
    let mut left: Vec<char> = letters.chars().collect();
    let mut found = Vec::new();
    while !left.is_empty() {
        found.push(left.remove(number % left.len()));
        number /= left.len() + 1;
    }
    found
}

/// The line with a near amount, as a cook would write it.
fn amount(line: &str, chance: usize) -> String {
    let start = line.find(|letter: char| letter.is_ascii_digit()).unwrap_or(line.len());
    let (head, rest) = line.split_at(start);
    let words: Vec<&str> = rest.splitn(4, ' ').collect();
    let whole: Option<usize> = words.first().and_then(|word| word.parse().ok());
    let unit = words.get(1).copied().unwrap_or_default();
    if let (Some(grams), "g") = (whole, unit) {
        return format!("{head}{} {}", grams * (90 + chance % 21) / 100, words[1..].join(" "));
    }
    // A weight in brackets belongs to its amount.
    if line.contains('(') {
        return line.to_owned();
    }
    let near: &[&str] = match words.first().copied() {
        Some("1/2") => &["1/3", "1/2", "2/3"],
        Some("3/4") => &["2/3", "3/4"],
        Some("1") if unit == "1/2" || unit == "1/4" => {
            let part = ["1/4", "1/3", "1/2"][chance % 3];
            return format!("{head}1 {part} {}", words[2..].join(" "));
        }
        Some("1") if measured(unit) => &["3/4", "1", "1 1/4"],
        Some("2") if measured(unit) => &["1 3/4", "2", "2 1/4"],
        Some("3") if measured(unit) => &["2 1/2", "3", "3 1/2"],
        Some("4") if measured(unit) => &["3 1/2", "4", "4 1/2"],
        _ => return line.to_owned(),
    };
    format!("{head}{} {}", near[chance % near.len()], words[1..].join(" "))
}

fn measured(unit: &str) -> bool {
    ["cup", "cups", "tbsp", "tsp"].contains(&unit)
}

fn mixed(number: usize) -> usize {
    let mut number = (number as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    number = (number ^ (number >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    ((number ^ (number >> 27)) >> 8) as usize
}
