//! The built-in composition table: USDA SR28, all 8,789 foods, per 100 g
//! edible portion. `composition/convert.py` makes `sr28.bin` and documents its
//! layout; this file reads rows where they lie, so that opening the table
//! costs nothing.
//!
//! Six fatty acids, tryptophan and lysine are not in SR28's abbreviated table.
//! They come from its NUT_DATA file by way of
//! `composition/sr28_fatty_acids_and_amino_acids.csv`, which has 7,380 of the
//! foods. All of SR28 is in the public domain.
//!
//! A blank of the source stays unknown. SR28's abbreviated table has no
//! energy in kJ: `ENERC_KJ` is unknown here, and computed from factors
//! elsewhere.

use super::nutrient::{self, NutrientId};
use std::cmp::Ordering;
use std::sync::OnceLock;

static DATA: &[u8] = include_bytes!("composition/sr28.bin");

const MAGIC: &[u8] = b"PGR-SR28";
const VERSION: u32 = 1;
const UNKNOWN: u32 = u32::MAX;
const UNKNOWN_FACTOR: u16 = u16::MAX;
const UNKNOWN_REFUSE: u8 = u8::MAX;
/// Where the nutrient columns begin within a row.
const VALUES: usize = 36;
const MEASURE_BYTES: usize = 16;

/// The columns of the file in their order, with their decimals.
const COLUMNS: [(NutrientId, u8); 54] = [
    (nutrient::WATER, 2),
    (nutrient::ENERC_KCAL, 0),
    (nutrient::PROCNT, 2),
    (nutrient::FAT, 2),
    (nutrient::ASH, 2),
    (nutrient::CHOCDF, 2),
    (nutrient::FIBTG, 1),
    (nutrient::SUGAR, 2),
    (nutrient::CA, 0),
    (nutrient::FE, 2),
    (nutrient::MG, 0),
    (nutrient::P, 0),
    (nutrient::K, 0),
    (nutrient::NA, 0),
    (nutrient::ZN, 2),
    (nutrient::CU, 3),
    (nutrient::MN, 3),
    (nutrient::SE, 1),
    (nutrient::VITC, 1),
    (nutrient::THIA, 3),
    (nutrient::RIBF, 3),
    (nutrient::NIA, 3),
    (nutrient::PANTAC, 3),
    (nutrient::VITB6A, 3),
    (nutrient::FOL, 0),
    (nutrient::FOLAC, 0),
    (nutrient::FOLFD, 0),
    (nutrient::FOLDFE, 0),
    (nutrient::CHOLN, 1),
    (nutrient::VITB12, 2),
    (nutrient::VITA_IU, 0),
    (nutrient::VITA_RAE, 0),
    (nutrient::RETOL, 0),
    (nutrient::CARTA, 0),
    (nutrient::CARTB, 0),
    (nutrient::CRYPX, 0),
    (nutrient::LYCPN, 0),
    (nutrient::LUT_ZEA, 0),
    (nutrient::TOCPHA, 2),
    (nutrient::VITD, 1),
    (nutrient::VITD_IU, 0),
    (nutrient::VITK1, 1),
    (nutrient::FASAT, 3),
    (nutrient::FAMS, 3),
    (nutrient::FAPU, 3),
    (nutrient::CHOLE, 0),
    (nutrient::F18D2, 3),
    (nutrient::F18D3, 3),
    (nutrient::F18D3CN3, 3),
    (nutrient::F20D5N3, 3),
    (nutrient::F22D5N3, 3),
    (nutrient::F22D6N3, 3),
    // The source has grams with three decimals, which are whole milligrams.
    (nutrient::TRP, 0),
    (nutrient::LYS, 0),
];

/// The column of each component; past the last where the file has none.
const COLUMN_OF: [u8; nutrient::COUNT] = {
    let mut columns = [u8::MAX; nutrient::COUNT];
    let mut column = 0;
    while column < COLUMNS.len() {
        // Reckoned when the program is compiled: out of range would not compile.
        #[allow(clippy::indexing_slicing)]
        let id = COLUMNS[column].0;
        #[allow(clippy::indexing_slicing)]
        {
            columns[id.0 as usize] = column as u8;
        }
        column += 1;
    }
    columns
};

fn read_u32(at: usize) -> Option<u32> {
    let bytes = DATA.get(at..at.checked_add(4)?)?;
    Some(u32::from_le_bytes(bytes.try_into().ok()?))
}

fn read_u16(at: usize) -> Option<u16> {
    let bytes = DATA.get(at..at.checked_add(2)?)?;
    Some(u16::from_le_bytes(bytes.try_into().ok()?))
}

fn read_place(at: usize) -> Option<usize> {
    usize::try_from(read_u32(at)?).ok()
}

/// Where things lie in the file.
struct Layout {
    rows: usize,
    row_bytes: usize,
    at_rows: usize,
    at_names: usize,
    measures: usize,
    at_measures: usize,
    pool: &'static [u8],
    amount_power: f64,
    grams_power: f64,
}

fn layout() -> Option<&'static Layout> {
    static LAYOUT: OnceLock<Option<Layout>> = OnceLock::new();
    LAYOUT.get_or_init(read_layout).as_ref()
}

fn read_layout() -> Option<Layout> {
    if DATA.get(..MAGIC.len())? != MAGIC || read_u32(8)? != VERSION || read_place(16)? != COLUMNS.len() {
        return None;
    }
    let pool = read_place(44)?;
    Some(Layout {
        rows: read_place(12)?,
        measures: read_place(20)?,
        row_bytes: read_place(24)?,
        at_rows: read_place(32)?,
        at_names: read_place(36)?,
        at_measures: read_place(40)?,
        pool: DATA.get(pool..pool.checked_add(read_place(48)?)?)?,
        amount_power: power_of_ten(read_u32(52)?),
        grams_power: power_of_ten(read_u32(56)?),
    })
}

/// 10^decimals; exact, as every power used here is below 2^53.
fn power_of_ten(decimals: u32) -> f64 {
    (0..decimals).fold(1.0, |power, _| power * 10.0)
}

fn text(offset: u32, length: u16) -> &'static str {
    let find = || {
        let start = usize::try_from(offset).ok()?;
        let bytes = layout()?.pool.get(start..start.checked_add(usize::from(length))?)?;
        std::str::from_utf8(bytes).ok()
    };
    find().unwrap_or("")
}

/// One food. Copying it copies a place in the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Row {
    /// Where the row begins in the file.
    at: usize,
}

/// A household weight: `amount` of what `text` says weighs `grams`, edible
/// portion without refuse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    pub amount: f64,
    pub text: &'static str,
    pub grams: f64,
}

impl Row {
    /// The NDB number.
    pub fn ndb(&self) -> u32 {
        read_u32(self.at).unwrap_or(0)
    }

    /// The full description.
    pub fn name(&self) -> &'static str {
        text(read_u32(self.at + 4).unwrap_or(0), read_u16(self.at + 8).unwrap_or(0))
    }

    /// The food group code of SR28, 100 to 3600.
    pub fn group(&self) -> u16 {
        read_u16(self.at + 10).unwrap_or(0)
    }

    /// The value per 100 g edible portion; `None` when SR28 gives none.
    pub fn value(&self, id: NutrientId) -> Option<f64> {
        let (mantissa, decimals) = self.decimal(id)?;
        let power = match decimals {
            0 => 1.0,
            1 => 10.0,
            2 => 100.0,
            3 => 1000.0,
            more => power_of_ten(u32::from(more)),
        };
        // Both sides are exact, so the quotient is the nearest double.
        Some(f64::from(mantissa) / power)
    }

    /// The value exactly: `mantissa / 10^decimals`.
    pub fn decimal(&self, id: NutrientId) -> Option<(u32, u8)> {
        let column = usize::from(*COLUMN_OF.get(id.index())?);
        let (_, decimals) = *COLUMNS.get(column)?;
        match read_u32(self.at + VALUES + 4 * column)? {
            UNKNOWN => None,
            mantissa => Some((mantissa, decimals)),
        }
    }

    /// Refuse in percent of the food as bought; `None` when not given. 0 also
    /// stands for a food described without its refuse.
    pub fn refuse_percent(&self) -> Option<u8> {
        match DATA.get(self.at + 18) {
            None | Some(&UNKNOWN_REFUSE) => None,
            Some(&percent) => Some(percent),
        }
    }

    /// What the refuse is.
    pub fn refuse_description(&self) -> Option<&'static str> {
        match read_u16(self.at + 16) {
            None | Some(0) => None,
            Some(length) => Some(text(read_u32(self.at + 12)?, length)),
        }
    }

    /// Grams of protein per gram of nitrogen.
    pub fn nitrogen_factor(&self) -> Option<f64> {
        self.factor(26)
    }

    /// kcal per gram of protein.
    pub fn protein_kcal(&self) -> Option<f64> {
        self.factor(28)
    }

    /// kcal per gram of fat.
    pub fn fat_kcal(&self) -> Option<f64> {
        self.factor(30)
    }

    /// kcal per gram of carbohydrate.
    pub fn carbohydrate_kcal(&self) -> Option<f64> {
        self.factor(32)
    }

    fn factor(&self, offset: usize) -> Option<f64> {
        match read_u16(self.at + offset)? {
            UNKNOWN_FACTOR => None,
            hundredths => Some(f64::from(hundredths) / 100.0),
        }
    }

    /// The household weights, in the order of SR28.
    pub fn measures(&self) -> impl Iterator<Item = Measure> + use<> {
        let first = read_place(self.at + 20).unwrap_or(0);
        let count = usize::from(read_u16(self.at + 24).unwrap_or(0));
        (first..first.saturating_add(count)).filter_map(measure)
    }
}

fn measure(index: usize) -> Option<Measure> {
    let layout = layout()?;
    if index >= layout.measures {
        return None;
    }
    let at = layout.at_measures + MEASURE_BYTES * index;
    Some(Measure {
        amount: f64::from(read_u32(at)?) / layout.amount_power,
        grams: f64::from(read_u32(at + 4)?) / layout.grams_power,
        text: text(read_u32(at + 8)?, read_u16(at + 12)?),
    })
}

fn nth(index: usize) -> Option<Row> {
    let layout = layout()?;
    (index < layout.rows).then(|| Row { at: layout.at_rows + layout.row_bytes * index })
}

/// The first of `count` places for which `order` says equal.
fn search<T>(count: usize, item: impl Fn(usize) -> Option<T>, order: impl Fn(&T) -> Ordering) -> Option<T> {
    let (mut low, mut high) = (0, count);
    while low < high {
        let middle = low + (high - low) / 2;
        match order(&item(middle)?) {
            Ordering::Less => low = middle + 1,
            Ordering::Equal | Ordering::Greater => high = middle,
        }
    }
    item(low).filter(|found| order(found) == Ordering::Equal)
}

/// How many foods the table has.
pub fn count() -> usize {
    layout().map_or(0, |layout| layout.rows)
}

/// Every food, ascending by NDB number.
pub fn all() -> impl Iterator<Item = Row> {
    (0..count()).filter_map(nth)
}

/// The food of an NDB number.
pub fn row(ndb: u32) -> Option<Row> {
    search(count(), nth, |row| row.ndb().cmp(&ndb))
}

/// The food of a full description; ASCII case does not count.
pub fn by_full_name(name: &str) -> Option<Row> {
    let at_names = layout()?.at_names;
    let named = |index: usize| nth(read_place(at_names + 4 * index)?);
    let lower = |name: &'static str| name.bytes().map(|byte| byte.to_ascii_lowercase());
    search(count(), named, |row| lower(row.name()).cmp(name.bytes().map(|byte| byte.to_ascii_lowercase())))
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty())
}

fn begins(word: &str, prefix: &str) -> bool {
    word.get(..prefix.len()).is_some_and(|start| start.eq_ignore_ascii_case(prefix))
}

/// The foods in whose description every word of the query begins a word. Best
/// first: fewer other words, then raw foods, then fewer words only begun,
/// then the lower NDB number.
pub fn find(query: &str, limit: usize) -> Vec<Row> {
    let wanted: Vec<&str> = words(query).collect();
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut found: Vec<(usize, bool, usize, u32, Row)> = Vec::new();
    for row in all() {
        let name = row.name();
        if !wanted.iter().all(|prefix| words(name).any(|word| begins(word, prefix))) {
            continue;
        }
        let extra = words(name).filter(|word| !wanted.iter().any(|prefix| begins(word, prefix))).count();
        let begun = wanted.iter().filter(|prefix| !words(name).any(|word| word.eq_ignore_ascii_case(prefix))).count();
        let raw = words(name).any(|word| word.eq_ignore_ascii_case("raw"));
        found.push((extra, !raw, begun, row.ndb(), row));
    }
    found.sort_by_key(|(extra, cooked, begun, ndb, _)| (*extra, *cooked, *begun, *ndb));
    found.truncate(limit);
    found.into_iter().map(|(.., row)| row).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::reference::nutrient::*;

    #[test]
    fn the_table_is_whole() {
        assert_eq!(count(), 8789);
        assert_eq!(all().count(), 8789);
        assert!(all().is_sorted_by(|a, b| a.ndb() < b.ndb()));
        assert!(all().all(|row| !row.name().is_empty() && row.group() >= 100));
        assert_eq!(all().map(|row| row.measures().count()).sum::<usize>(), 15_438);
    }

    #[test]
    fn the_file_names_the_same_columns() {
        let at = read_place(28).unwrap();
        for (index, (id, decimals)) in COLUMNS.iter().enumerate() {
            let start = at + 16 * index;
            let tag = std::str::from_utf8(&DATA[start..start + 12]).unwrap();
            assert_eq!(tag.trim_end_matches('\0'), id.get().tag);
            assert_eq!(read_u32(start + 12).unwrap(), u32::from(*decimals));
            assert_eq!(*decimals, id.get().decimals);
        }
    }

    // Transcribed from ABBREV.txt and FOOD_DES.txt.
    #[test]
    fn kidney_beans_boiled() {
        let row = row(16028).unwrap();
        let name = "Beans, kidney, all types, mature seeds, cooked, boiled, without salt";
        assert_eq!(row.name(), name);
        assert_eq!(row.group(), 1600);
        assert_eq!(row.value(WATER), Some(66.94));
        assert_eq!(row.value(PROCNT), Some(8.67));
        assert_eq!(row.value(FAT), Some(0.5));
        assert_eq!(row.value(ENERC_KJ), None);
    }

    #[test]
    fn egg_with_its_shell() {
        let row = row(1123).unwrap();
        assert_eq!(row.name(), "Egg, whole, raw, fresh");
        assert_eq!(row.value(ENERC_KCAL), Some(143.0));
        assert_eq!(row.value(CHOLN), Some(293.8));
        assert_eq!(row.value(FASAT), Some(3.126));
        assert_eq!(row.value(VITD), Some(2.0));
        assert_eq!(row.value(VITD_IU), Some(82.0));
        assert_eq!(row.value(LUT_ZEA), Some(503.0));
        assert_eq!(row.value(CHOLE), Some(372.0));
        assert_eq!(row.decimal(VITB12), Some((89, 2)));
        assert_eq!(row.refuse_percent(), Some(12));
        assert_eq!(row.refuse_description(), Some("Shell"));
        assert_eq!(row.nitrogen_factor(), Some(6.25));
        assert_eq!(row.protein_kcal(), Some(4.36));
        assert_eq!(row.fat_kcal(), Some(9.02));
        assert_eq!(row.carbohydrate_kcal(), Some(3.68));
        let measures: Vec<_> = row.measures().collect();
        assert_eq!(measures.len(), 6);
        assert_eq!(measures[0], Measure { amount: 1.0, text: "large", grams: 50.0 });
        assert_eq!(measures[5], Measure { amount: 1.0, text: "small", grams: 38.0 });
    }

    const ACIDS: [NutrientId; 8] = [F18D2, F18D3, F18D3CN3, F20D5N3, F22D5N3, F22D6N3, TRP, LYS];

    // Transcribed from sr28_fatty_acids_and_amino_acids.csv.
    #[test]
    fn acids_of_known_foods() {
        let flaxseed = row(12220).unwrap();
        assert_eq!(flaxseed.name(), "Seeds, flaxseed");
        assert_eq!(flaxseed.value(F18D2), Some(5.903));
        assert_eq!(flaxseed.value(F18D3), Some(22.813));
        assert_eq!(flaxseed.value(F18D3CN3), None);
        assert_eq!(flaxseed.value(F20D5N3), Some(0.0));
        assert_eq!(flaxseed.value(F22D5N3), Some(0.0));
        assert_eq!(flaxseed.value(F22D6N3), Some(0.0));
        assert_eq!(flaxseed.decimal(TRP), Some((297, 0)));
        assert_eq!(flaxseed.decimal(LYS), Some((862, 0)));

        let salmon = row(15076).unwrap();
        assert_eq!(salmon.name(), "Fish, salmon, Atlantic, wild, raw");
        assert_eq!(salmon.value(F18D2), Some(0.172));
        assert_eq!(salmon.value(F18D3), Some(0.295));
        assert_eq!(salmon.value(F18D3CN3), None);
        assert_eq!(salmon.value(F20D5N3), Some(0.321));
        assert_eq!(salmon.value(F22D5N3), Some(0.287));
        assert_eq!(salmon.value(F22D6N3), Some(1.115));
        assert_eq!(salmon.value(TRP), Some(222.0));
        assert_eq!(salmon.value(LYS), Some(1822.0));

        let egg = row(1123).unwrap();
        assert_eq!(egg.value(F18D2), Some(1.555));
        assert_eq!(egg.value(F18D3), Some(0.048));
        assert_eq!(egg.decimal(F18D3CN3), Some((36, 3)));
        assert_eq!(egg.value(F20D5N3), Some(0.0));
        assert_eq!(egg.value(F22D5N3), Some(0.007));
        assert_eq!(egg.value(F22D6N3), Some(0.058));
        assert_eq!(egg.value(TRP), Some(167.0));
        assert_eq!(egg.value(LYS), Some(912.0));
        // 18:3 n-3 of any form is another component.
        assert_eq!(egg.value(F18D3N3), None);
    }

    #[test]
    fn every_acid_is_as_in_its_source() {
        let source = include_str!("composition/sr28_fatty_acids_and_amino_acids.csv");
        let mut listed = 0;
        for line in source.lines().skip(1) {
            let fields: Vec<&str> = line.split(',').collect();
            assert_eq!(fields.len(), 1 + ACIDS.len());
            let food = row(fields[0].parse().unwrap()).unwrap();
            for (id, field) in ACIDS.into_iter().zip(&fields[1..]) {
                // Three decimals of grams: the digits are thousandths of a
                // gram, or milligrams.
                let expected = field.split_once('.').map(|(whole, part)| {
                    assert_eq!(part.len(), 3);
                    format!("{whole}{part}").parse::<u32>().unwrap()
                });
                assert_eq!(expected.is_none(), field.is_empty());
                assert_eq!(
                    food.decimal(id).map(|(mantissa, _)| mantissa),
                    expected,
                    "{} of {}",
                    id.get().tag,
                    food.name()
                );
            }
            listed += 1;
        }
        assert_eq!(listed, 7380);
        let unlisted = |food: &Row| ACIDS.iter().all(|id| food.value(*id).is_none());
        assert_eq!(all().filter(unlisted).count(), 8789 - listed);
    }

    #[test]
    fn unknown_is_not_zero() {
        // Raw grapefruit juice: sugars blank, B12 printed as 0.00.
        let juice = row(9404).unwrap();
        assert_eq!(juice.value(SUGAR), None);
        assert_eq!(juice.value(SE), None);
        assert_eq!(juice.value(VITB12), Some(0.0));
        let dried = row(9110).unwrap();
        assert_eq!(dried.refuse_percent(), None);
        assert_eq!(dried.refuse_description(), None);
        assert_eq!(dried.nitrogen_factor(), None);
    }

    #[test]
    fn text_outside_ascii_survives() {
        let mut measures = row(22996).unwrap().measures();
        assert_eq!(measures.next().unwrap().text, "Entrée");
    }

    #[test]
    fn an_unknown_number_is_none() {
        assert_eq!(row(0), None);
        assert_eq!(row(1000), None);
        assert_eq!(row(u32::MAX), None);
        assert_eq!(all().last().and_then(|last| row(last.ndb())), all().last());
    }

    #[test]
    fn every_row_is_found_by_number_and_name() {
        for food in all() {
            assert_eq!(row(food.ndb()), Some(food));
            assert_eq!(by_full_name(&food.name().to_ascii_uppercase()), Some(food));
        }
        assert_eq!(by_full_name("Butter"), None);
    }

    #[test]
    fn blanks_are_counted_as_in_the_source() {
        let blank = |id| all().filter(|row| row.value(id).is_none()).count();
        assert_eq!(blank(ENERC_KCAL), 0);
        assert_eq!(blank(FE), 144);
        assert_eq!(blank(ZN), 706);
        assert_eq!(blank(CHOLN), 4016);
        assert_eq!(blank(VITD), 3262);
        assert_eq!(blank(ID), 8789);
        assert_eq!(all().filter(|row| row.refuse_percent().is_none()).count(), 50);
    }

    #[test]
    fn a_value_is_the_nearest_double() {
        for food in all() {
            for (id, decimals) in COLUMNS {
                let Some((mantissa, _)) = food.decimal(id) else {
                    continue;
                };
                let digits = format!("{mantissa:0>width$}", width = usize::from(decimals) + 1);
                let (whole, part) = digits.split_at(digits.len() - usize::from(decimals));
                let parsed: f64 = format!("{whole}.{part}0").parse().unwrap();
                assert_eq!(food.value(id), Some(parsed));
            }
        }
    }

    #[test]
    fn finding() {
        let names = |query, limit| -> Vec<_> { find(query, limit).into_iter().map(|row| row.name()).collect() };
        assert_eq!(names("carrots raw", 1), ["Carrots, raw"]);
        assert_eq!(names("RAW carr", 1), ["Carrots, raw"]);
        assert_eq!(names("millet", 2), ["Millet, raw", "Millet, cooked"]);
        assert_eq!(find("no such food at all", 5), []);
        assert_eq!(find("", 5), []);
        assert_eq!(find("raw", 7).len(), 7);
        assert_eq!(find("kidney bean", 50), find("bean kidney", 50));
    }
}
