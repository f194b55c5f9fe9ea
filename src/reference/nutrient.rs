//! The registry of food components: INFOODS tagname, unit, decimals as USDA
//! prints them, and the retention column that heat acts through.
//!
//! Where USDA and INFOODS differ in a tagname or unit, this file says which
//! one it follows. The order is the print order.

use std::sync::OnceLock;

use super::retention::RetentionColumn;

/// A component, as an index into [`NUTRIENTS`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NutrientId(pub u8);

/// What is known of a component.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nutrient {
    /// INFOODS tagname.
    pub tag: &'static str,
    /// Unit of a value, per 100 g edible portion where a table gives it.
    pub unit: &'static str,
    /// Decimals USDA prints. Not a rounding rule for cards: the profile has
    /// those.
    pub decimals: u8,
    /// English name.
    pub name: &'static str,
    /// Column of the retention table; `None` where retention never applies.
    pub retention: Option<RetentionColumn>,
}

/// What an index outside the registry stands for.
static NOT_A_NUTRIENT: Nutrient =
    Nutrient { tag: "", unit: "", decimals: 0, name: "unknown component", retention: None };

macro_rules! column {
    (-) => {
        None
    };
    ($column:ident) => {
        Some(RetentionColumn::$column)
    };
}

macro_rules! nutrients {
    ($($id:ident $tag:literal $unit:literal $decimals:literal $name:literal $column:tt;)+) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        #[repr(u8)]
        enum Order { $($id),+ }

        $(
            #[doc = concat!($name, ", ", $unit, ".")]
            pub const $id: NutrientId = NutrientId(Order::$id as u8);
        )+

        /// How many components the registry has.
        pub const COUNT: usize = [$(Order::$id as u8),+].len();

        /// Every component, in print order.
        pub static NUTRIENTS: &[Nutrient] = &[$(
            Nutrient {
                tag: $tag,
                unit: $unit,
                decimals: $decimals,
                name: $name,
                retention: column!($column),
            }
        ),+];
    };
}

// Retention: the mapping was tried on 1,009 dishes of USDA's survey database
// (FNDDS 2017-2018), chosen as dishes whose ingredient values are known. All
// 38,342 cells come out within one unit of the last printed digit once the
// computed value is rounded to the published decimals (half to even); 37,399
// are equal. No other column does better for any component. What those dishes
// cannot decide:
//   - the three folate columns are equal in all 270 codes of release 6;
//   - vita_iu and the carotenoid columns equal vita_re but for code 1706;
//   - CRYPX, LYCPN, LUT+ZEA and VITA_IU are not published there: each uses
//     the column that bears its name;
//   - ALC is not published there and no dish uses an alcohol code: it uses the
//     alcohol column, the only one it could have;
//   - VITA follows RETOL; NIAEQ follows NIA, which takes too much from the
//     tryptophan share and so errs low.
nutrients! {
    ENERC_KCAL "ENERC_KCAL" "kcal" 0 "Energy" -;
    ENERC_KJ "ENERC_KJ" "kJ" 0 "Energy" -;
    WATER "WATER" "g" 2 "Water" -;
    PROCNT "PROCNT" "g" 2 "Protein" -;
    FAT "FAT" "g" 2 "Fat" -;
    FASAT "FASAT" "g" 3 "Saturated fatty acids" -;
    FAMS "FAMS" "g" 3 "Monounsaturated fatty acids" -;
    FAPU "FAPU" "g" 3 "Polyunsaturated fatty acids" -;
    F18D2 "F18D2" "g" 3 "Fatty acid 18:2" -;
    F18D2N6 "F18D2N6" "g" 3 "Linoleic acid (18:2 n-6)" -;
    F18D3 "F18D3" "g" 3 "Fatty acid 18:3" -;
    F18D3N3 "F18D3N3" "g" 3 "Alpha-linolenic acid (18:3 n-3)" -;
    F18D3CN3 "F18D3CN3" "g" 3 "Alpha-linolenic acid (18:3 n-3, all cis)" -;
    F20D5N3 "F20D5N3" "g" 3 "EPA (20:5 n-3)" -;
    F22D5N3 "F22D5N3" "g" 3 "DPA (22:5 n-3)" -;
    F22D6N3 "F22D6N3" "g" 3 "DHA (22:6 n-3)" -;
    CHOLE "CHOLE" "mg" 0 "Cholesterol" -;
    CHOCDF "CHOCDF" "g" 2 "Carbohydrate, by difference" -;
    CHOAVLDF "CHOAVLDF" "g" 2 "Available carbohydrate, by difference" -;
    SUGAR "SUGAR" "g" 2 "Sugars" -;
    STARCH "STARCH" "g" 2 "Starch" -;
    FIBTG "FIBTG" "g" 1 "Dietary fibre" -;
    ASH "ASH" "g" 2 "Ash" -;
    ALC "ALC" "g" 1 "Alcohol" Alcohol;
    CA "CA" "mg" 0 "Calcium" Calcium;
    FE "FE" "mg" 2 "Iron" Iron;
    MG "MG" "mg" 0 "Magnesium" Magnesium;
    P "P" "mg" 0 "Phosphorus" Phosphorus;
    K "K" "mg" 0 "Potassium" Potassium;
    NA "NA" "mg" 0 "Sodium" Sodium;
    CLD "CLD" "mg" 0 "Chloride" -;
    ZN "ZN" "mg" 2 "Zinc" Zinc;
    CU "CU" "mg" 3 "Copper" Copper;
    MN "MN" "mg" 3 "Manganese" -;
    SE "SE" "µg" 1 "Selenium" -;
    ID "ID" "µg" 1 "Iodine" -;
    FD "FD" "µg" 1 "Fluoride" -;
    MO "MO" "µg" 1 "Molybdenum" -;
    CR "CR" "µg" 1 "Chromium" -;
    VITA_RAE "VITA_RAE" "µg" 0 "Vitamin A (RAE)" VitaRe;
    VITA "VITA" "µg" 0 "Vitamin A (RE)" VitaRe;
    VITA_IU "VITA_IU" "IU" 0 "Vitamin A (IU)" VitaIu;
    RETOL "RETOL" "µg" 0 "Retinol" VitaRe;
    CARTA "CARTA" "µg" 0 "Alpha-carotene" CaroteneAlpha;
    CARTB "CARTB" "µg" 0 "Beta-carotene" CaroteneBeta;
    CRYPX "CRYPX" "µg" 0 "Beta-cryptoxanthin" Cryptoxanthin;
    LYCPN "LYCPN" "µg" 0 "Lycopene" Lycopene;
    LUT_ZEA "LUT+ZEA" "µg" 0 "Lutein and zeaxanthin" Lutein;
    VITC "VITC" "mg" 1 "Vitamin C" Vitc;
    VITD "VITD" "µg" 1 "Vitamin D" -;
    VITD_IU "VITD_IU" "IU" 0 "Vitamin D (IU)" -;
    VITE "VITE" "mg" 2 "Vitamin E (alpha-tocopherol equivalents)" -;
    TOCPHA "TOCPHA" "mg" 2 "Vitamin E (alpha-tocopherol)" -;
    VITK "VITK" "µg" 1 "Vitamin K" -;
    VITK1 "VITK1" "µg" 1 "Vitamin K1" -;
    THIA "THIA" "mg" 3 "Thiamin" Vitb1;
    RIBF "RIBF" "mg" 3 "Riboflavin" Vitb2;
    NIA "NIA" "mg" 3 "Niacin" Vitb3;
    NIAEQ "NIAEQ" "mg" 3 "Niacin equivalents" Vitb3;
    PANTAC "PANTAC" "mg" 3 "Pantothenic acid" -;
    VITB6A "VITB6A" "mg" 3 "Vitamin B6" Vitb6;
    BIOT "BIOT" "µg" 1 "Biotin" -;
    FOL "FOL" "µg" 0 "Folate, total" FolateTotal;
    FOLFD "FOLFD" "µg" 0 "Folate in food" FolateFood;
    FOLAC "FOLAC" "µg" 0 "Folic acid" Vitb9;
    FOLDFE "FOLDFE" "µg" 0 "Folate (DFE)" FolateTotal;
    VITB12 "VITB12" "µg" 2 "Vitamin B12" Vitb12;
    CHOLN "CHOLN" "mg" 1 "Choline" Choline;
    TRP "TRP" "mg" 0 "Tryptophan" -;
    LYS "LYS" "mg" 0 "Lysine" -;
    PHYTCPP "PHYTCPP" "mg" 0 "Phytate" -;
    CAFFN "CAFFN" "mg" 0 "Caffeine" -;
    THEBRN "THEBRN" "mg" 0 "Theobromine" -;
}

/// Other spellings of a tagname. Each means exactly the same component in the
/// same unit. `VITK` and `VITK1`, `F18D2` and `F18D2N6`, `F18D3N3` and
/// `F18D3CN3`, `VITE` and `TOCPHA` are different things, and so are not here.
/// `TRP_G` and `LYS_G` (USDA) are in grams, `TRP` and `LYS` in milligrams: not
/// here either. `LUTN` is lutein alone, and `F20D5`, `F22D5` and `F22D6` may
/// hold other isomers than `F20D5N3`, `F22D5N3` and `F22D6N3`. USDA gives
/// those three names to the n-3 acids, so its figures are `F20D5N3`, `F22D5N3`
/// and `F22D6N3` here; another table's may not be.
const ALIASES: &[(&str, NutrientId)] = &[
    // USDA writes fluoride FLD.
    ("FLD", FD),
    // For tables whose column heads may not hold a plus sign.
    ("LUT_ZEA", LUT_ZEA),
];

impl NutrientId {
    /// Every component, in print order.
    pub fn all() -> impl DoubleEndedIterator<Item = NutrientId> + ExactSizeIterator {
        (0..COUNT as u8).map(NutrientId)
    }

    /// The component of a tagname, or of an alias of it. Case counts.
    pub fn from_tag(tag: &str) -> Option<NutrientId> {
        static SORTED: OnceLock<Vec<(&str, NutrientId)>> = OnceLock::new();
        let sorted = SORTED.get_or_init(|| {
            let named = NUTRIENTS.iter().zip(0u8..).map(|(nutrient, index)| (nutrient.tag, NutrientId(index)));
            let mut all: Vec<_> = named.chain(ALIASES.iter().copied()).collect();
            // A component's own name goes before an alias.
            all.sort_by_key(|(tag, _)| *tag);
            all.dedup_by_key(|(tag, _)| *tag);
            all
        });
        let at = sorted.binary_search_by_key(&tag, |(own, _)| *own).ok()?;
        sorted.get(at).map(|(_, id)| *id)
    }

    /// What is known of the component.
    pub fn get(self) -> &'static Nutrient {
        NUTRIENTS.get(usize::from(self.0)).unwrap_or(&NOT_A_NUTRIENT)
    }

    /// The component's place in [`NUTRIENTS`].
    pub fn index(self) -> usize {
        usize::from(self.0)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn the_registry_is_whole() {
        assert_eq!(NUTRIENTS.len(), COUNT);
        const { assert!(COUNT < 255) };
        let tags: HashSet<_> = NUTRIENTS.iter().map(|nutrient| nutrient.tag).collect();
        assert_eq!(tags.len(), COUNT);
        for id in NutrientId::all() {
            assert_eq!(NutrientId::from_tag(id.get().tag), Some(id));
        }
        for (alias, _) in ALIASES {
            assert!(!tags.contains(alias), "{alias} is a tagname");
        }
    }

    #[test]
    fn known_rows() {
        assert_eq!(FE.get().tag, "FE");
        assert_eq!(FE.get().unit, "mg");
        assert_eq!(VITD.get().unit, "µg");
        assert_eq!(VITA_RAE.get().retention, Some(RetentionColumn::VitaRe));
        assert_eq!(NutrientId::from_tag("FLD"), Some(FD));
        assert_eq!(NutrientId::from_tag("CARTBEQ"), None);
        assert_eq!(NutrientId::from_tag("fe"), None);
        // The guidance profile names these two.
        assert_eq!(NutrientId::from_tag("F18D2"), Some(F18D2));
        assert_eq!(NutrientId::from_tag("F18D3CN3"), Some(F18D3CN3));
        assert_eq!(NutrientId::from_tag("F22D5"), None);
        assert_eq!(TRP.get().unit, "mg");
        assert_eq!(LYS.get().unit, "mg");
        assert_eq!(NutrientId(250).get().tag, "");
    }

    #[test]
    fn retention_never_applies_to() {
        let exempt = [
            ENERC_KCAL, ENERC_KJ, WATER, PROCNT, FAT, CHOCDF, FIBTG, SUGAR, FASAT, FAMS, FAPU, CHOLE, SE, VITD, TOCPHA,
            VITE, VITK, VITK1, MN, PANTAC,
        ];
        for id in exempt {
            assert_eq!(id.get().retention, None, "{}", id.get().tag);
        }
    }
}
