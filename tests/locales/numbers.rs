//! Amounts as they are printed, against the plural rules, digits and list
//! patterns that CLDR publishes.

use porringer::card::Locale;
use porringer::card::locale::numbers::Digits;
use porringer::card::words::measured;
use porringer::quantity::{Exact, Measure, Range, Unit, unit};

/// The amounts of which every kitchen measure must be written rightly, with the
/// plural form that CLDR (common/supplemental/plurals.xml, version 44 and later;
/// memory) gives the number. A part of one is read as "half a cup" and takes the
/// form of 1, see `Locale::form`.
const FORMS: &[(&str, [&str; 7])] = &[
    //       0        1/2    1      1 1/2    2        5        11
    ("en", ["other", "one", "one", "other", "other", "other", "other"]),
    ("sw", ["other", "one", "one", "other", "other", "other", "other"]),
    ("fr", ["one", "one", "one", "one", "other", "other", "other"]),
    ("hi", ["one", "one", "one", "other", "other", "other", "other"]),
    ("am", ["one", "one", "one", "other", "other", "other", "other"]),
    ("ar", ["zero", "one", "one", "other", "two", "few", "many"]),
];

fn amounts() -> [Exact; 7] {
    [(0, 1), (1, 2), (1, 1), (3, 2), (2, 1), (5, 1), (11, 1)].map(|(top, low)| Exact::fraction(top, low).unwrap())
}

/// A unit's variants as the catalogue writes them, form by form.
fn variants(tag: &str, key: &str) -> Vec<(String, String)> {
    let text = porringer::card::locale::catalogue(tag).unwrap();
    let from = text.find(&format!("\n{key} =")).unwrap_or_else(|| panic!("{tag}: {key}")) + 1;
    let message: Vec<&str> = text[from..]
        .lines()
        .take(1)
        .chain(text[from..].lines().skip(1).take_while(|line| line.starts_with(' ')))
        .collect();
    message
        .iter()
        .filter_map(|line| line.trim().trim_start_matches('*').strip_prefix('['))
        .filter_map(|line| line.split_once("] "))
        .map(|(form, word)| (form.to_owned(), word.trim().to_owned()))
        .collect()
}

#[test]
fn every_unit_is_printed_in_the_form_of_its_number() {
    let mut units: Vec<Unit> = unit::SPELLINGS.iter().map(|(_, unit)| *unit).collect();
    units.dedup();
    let mut checked = 0;
    for (tag, forms) in FORMS {
        let locale = Locale::new(tag).unwrap();
        for unit in &units {
            let key = format!("unit-{}", unit.word());
            let variants = variants(tag, &key);
            for (amount, form) in amounts().into_iter().zip(forms) {
                let shown = format!("{:?}", locale.form(amount.value())).to_lowercase();
                assert_eq!(shown, *form, "{tag}: {}", locale.exact(amount));
                let printed = measured(Range::exactly(amount), Measure::of(*unit), &locale).replace('\u{A0}', " ");
                let word = match variants.iter().find(|(own, _)| own == form) {
                    Some((_, word)) => word.clone(),
                    // A sign such as `mL` has one form.
                    None => locale.word(&key),
                };
                let number = locale.exact(amount);
                let (first, last) = if *tag == "sw" { (&word, &number) } else { (&number, &word) };
                assert_eq!(printed, format!("{first} {last}"), "{tag}");
                checked += 1;
            }
        }
    }
    assert!(checked > 6 * 7 * 20, "{checked}");
}

#[test]
fn amounts_read_as_a_reader_says_them() {
    // Written by hand, to hold the table above against eyes.
    let say = |tag: &str, top: i64, low: i64, unit: Unit| {
        let locale = Locale::new(tag).unwrap();
        measured(Range::exactly(Exact::fraction(top, low).unwrap()), Measure::of(unit), &locale).replace('\u{A0}', " ")
    };
    assert_eq!(say("en", 1, 2, Unit::Cup), "½ cup");
    assert_eq!(say("en", 3, 2, Unit::Cup), "1½ cups");
    assert_eq!(say("fr", 3, 2, Unit::Cup), "1½ tasse");
    assert_eq!(say("fr", 2, 1, Unit::Cup), "2 tasses");
    assert_eq!(say("sw", 1, 2, Unit::Cup), "kikombe ½");
    assert_eq!(say("sw", 2, 1, Unit::Cup), "vikombe 2");
    assert_eq!(say("hi", 3, 1, Unit::Tablespoon), "3 बड़े चम्मच");
    assert_eq!(say("am", 2, 1, Unit::Cup), "2 ኩባያዎች");
    assert_eq!(say("ar", 3, 1, Unit::Cup), "3 أكواب");
    assert_eq!(say("ar", 11, 1, Unit::Cup), "11 كوبًا");
}

#[test]
fn digits_and_decimals_are_those_of_the_language() {
    let shown = |tag: &str, digits: Digits| {
        let locale = Locale::with_digits(tag, digits).unwrap();
        format!("{} {} {}", locale.decimal(1370.25, 2), locale.integer(12), locale.two_digits(5))
    };
    // CLDR common/main, `numbers`: defaultNumberingSystem, native, symbols.
    for (tag, usual, native, latin) in [
        ("en", "1370.25 12 05", "1370.25 12 05", "1370.25 12 05"),
        ("sw", "1370.25 12 05", "1370.25 12 05", "1370.25 12 05"),
        ("fr", "1370,25 12 05", "1370,25 12 05", "1370,25 12 05"),
        ("hi", "1370.25 12 05", "१३७०.२५ १२ ०५", "1370.25 12 05"),
        ("am", "1370.25 12 05", "1370.25 12 05", "1370.25 12 05"),
        ("ar", "1370.25 12 05", "١٣٧٠٫٢٥ ١٢ ٠٥", "1370.25 12 05"),
    ] {
        assert_eq!(shown(tag, Digits::Usual), usual, "{tag}");
        assert_eq!(shown(tag, Digits::Native), native, "{tag}");
        assert_eq!(shown(tag, Digits::Latin), latin, "{tag}");
    }
}

#[test]
fn lists_are_joined_as_the_language_does() {
    let items: Vec<String> = ["a", "b", "c"].map(str::to_owned).to_vec();
    for (tag, two, three) in [
        ("en", "a and b", "a, b and c"),
        ("sw", "a na b", "a, b na c"),
        ("fr", "a et b", "a, b et c"),
        ("hi", "a और b", "a, b और c"),
        ("am", "a እና b", "a፣ b እና c"),
        ("ar", "a وb", "a وb وc"),
    ] {
        let locale = Locale::new(tag).unwrap();
        assert_eq!(locale.list(&items[..2]), two, "{tag}");
        assert_eq!(locale.list(&items), three, "{tag}");
        assert_eq!(locale.list(&items[..1]), "a");
        assert_eq!(locale.list(&[]), "");
    }
}

#[test]
fn every_language_has_its_data() {
    for tag in porringer::card::locale::languages() {
        let locale = Locale::new(tag).unwrap();
        assert!(locale.forms().len() > 1, "{tag}: no plural rules");
        // The catalogues' reader takes the form of a whole number by rules of
        // its own: they must be the same ones.
        for number in 0..=111_u8 {
            let form = format!("{:?}", locale.form(f64::from(number))).to_lowercase();
            let variants = variants(tag, "unit-cup");
            let expected = variants.iter().find(|(own, _)| *own == form).map(|(_, word)| word.clone());
            assert_eq!(Some(locale.counted("unit-cup", f64::from(number), &[])), expected, "{tag}: {number}");
        }
    }
}
