//! The shape of one food in a larder file. `build.rs` reads the built-in
//! larder with this same file, so that no text is parsed when the program
//! starts.

use serde::{Deserialize, Serialize};

/// A larder file: `[[food]]` tables.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LarderFile {
    #[serde(default)]
    pub food: Vec<FoodRow>,
}

/// One food in one form ("red kidney beans, dry" and "red kidney beans,
/// boiled" are two rows that share their names).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FoodRow {
    /// Stable name, kebab case, unique over the larder.
    pub id: String,
    /// Names in English; the first is printed, the others are aliases.
    pub en: Vec<String>,
    /// Names in Swahili.
    #[serde(default)]
    pub sw: Vec<String>,
    /// Names in French.
    #[serde(default)]
    pub fr: Vec<String>,
    /// State words that pick this row among rows of the same name.
    #[serde(default)]
    pub states: Vec<String>,
    /// Whether this row is meant when the author names no state.
    #[serde(default)]
    pub plain: bool,
    /// Composition row, `table:id`.
    pub row: String,
    /// What the row stands for where it is another food's (borrowed figures).
    #[serde(default)]
    pub borrowed: Option<String>,
    /// INFOODS tagnames of what the row cannot tell of this food: what was added
    /// to it, lost from it, or is known to differ. Unknown here, so that no
    /// claim rests on another food's figure.
    #[serde(default)]
    pub unknown: Vec<String>,
    /// Retention and yield class.
    pub class: FoodClass,
    /// WHO/UNICEF 2021 food group.
    pub group: FoodGroup,
    /// In whose kitchens a young child is given the food.
    #[serde(default)]
    pub regions: Vec<Region>,
    /// May be used, but is never proposed: no usual food of a young child, or
    /// seldom on a market. Common practice, no source.
    #[serde(default)]
    pub seldom: bool,
    /// Edible share of the food as bought, (0, 1]; absent when unknown.
    #[serde(default)]
    pub edible: Option<f64>,
    /// Weight of one millilitre as usually measured, g/mL.
    #[serde(default)]
    pub density: Option<f64>,
    /// Other densities, by the state in which the food is measured.
    #[serde(default)]
    pub densities: Vec<FormDensity>,
    /// Weights of whole pieces, edible portion, in grams.
    #[serde(default)]
    pub pieces: Vec<PieceWeight>,
    /// Where densities and piece weights come from.
    pub measures_source: String,
    /// Codex allergen names, see [`ALLERGENS`].
    #[serde(default)]
    pub allergens: Vec<String>,
    /// Hazard tags, see [`HAZARDS`].
    #[serde(default)]
    pub hazards: Vec<String>,
    /// Counts as a vitamin A-rich fruit or vegetable.
    #[serde(default)]
    pub vitamin_a_rich: bool,
    /// USDA SR28 row, `usda:id`, whose figures stand in where the row's own
    /// table says nothing. Nothing stands in where this is absent.
    #[serde(default)]
    pub fill: Option<String>,
}

/// Density of a food in one state, g/mL.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FormDensity {
    #[serde(rename = "as")]
    pub state: String,
    pub g_per_ml: f64,
}

/// Weight of one piece in grams, edible portion.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PieceWeight {
    /// `piece`, `clove`, `leaf`, `slice`, `handful`, `cm`, `bunch`, …
    pub unit: String,
    /// `small`, `medium` or `large`; absent for the usual one.
    #[serde(default)]
    pub size: Option<String>,
    pub grams: f64,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "kebab-case")]
        pub enum $name { $($variant),+ }

        impl $name {
            pub const ALL: &'static [$name] = &[$($name::$variant),+];

            /// The word used in larder files and in data output.
            pub fn word(self) -> &'static str {
                match self { $($name::$variant => $word),+ }
            }
        }
    };
}

words! {
    /// What a food does under heat: picks its retention code and its yield.
    FoodClass {
        Flour = "flour",
        Cereal = "cereal",
        Oats = "oats",
        Rice = "rice",
        Pasta = "pasta",
        Bread = "bread",
        PulseDry = "pulse-dry",
        PulseQuick = "pulse-quick",
        PulseCooked = "pulse-cooked",
        Nut = "nut",
        Greens = "greens",
        Potato = "potato",
        SweetPotato = "sweet-potato",
        Root = "root",
        Tomato = "tomato",
        Vegetable = "vegetable",
        Fruit = "fruit",
        Citrus = "citrus",
        DriedFruit = "dried-fruit",
        Milk = "milk",
        Cheese = "cheese",
        Egg = "egg",
        FishLean = "fish-lean",
        FishFat = "fish-fat",
        FishReady = "fish-ready",
        Shellfish = "shellfish",
        Insect = "insect",
        Beef = "beef",
        Veal = "veal",
        Lamb = "lamb",
        Pork = "pork",
        PorkCured = "pork-cured",
        Sausage = "sausage",
        Chicken = "chicken",
        Turkey = "turkey",
        Liver = "liver",
        Organ = "organ",
        Oil = "oil",
        Sugar = "sugar",
        Salt = "salt",
        Spice = "spice",
        Water = "water",
        Alcohol = "alcohol",
        BreastMilk = "breast-milk",
        Other = "other",
    }
}

words! {
    /// WHO/UNICEF 2021 food groups for minimum dietary diversity, and the
    /// foods that count for none.
    FoodGroup {
        BreastMilk = "breast-milk",
        Grains = "grains",
        Pulses = "pulses",
        Dairy = "dairy",
        Flesh = "flesh",
        Eggs = "eggs",
        VitaminA = "vitamin-a",
        OtherPlants = "other-plants",
        None = "none",
    }
}

words! {
    /// Where a food is used for young children. Nobody publishes such a list:
    /// common practice, no source.
    Region {
        EastAfrica = "east-africa",
        WestAfrica = "west-africa",
        Andes = "andes",
        SouthEastAsia = "south-east-asia",
        Mediterranean = "mediterranean",
        North = "north",
    }
}

/// Allergen names a larder row may carry: the Codex list as revised in 2024
/// (CXS 1-1985, 4.2.1.4), the foods it moved to national lists (4.2.1.5), and
/// molluscs from the European list.
pub const ALLERGENS: &[&str] = &[
    "gluten",
    "crustacea",
    "eggs",
    "fish",
    "peanuts",
    "milk",
    "sesame",
    "tree-nuts",
    "soya",
    "oats",
    "buckwheat",
    "celery",
    "lupin",
    "mustard",
    "molluscs",
    "sulphite",
];

/// Hazard tags that the safety rules read, with what each says of a row. A tag
/// speaks of the food as this row has it: what a cook does about it is the
/// rule's affair.
pub const HAZARDS: &[&str] = &[
    // Is honey or holds it.
    "honey",
    // Animal food that no heat has made safe. Whole fish dried in the sun is
    // raw; a powder of it is taken as roasted before it was milled (common
    // practice, no source).
    "raw-egg",
    "raw-meat",
    "raw-fish",
    "raw-shellfish",
    "raw-milk",
    // Uncooked dry seed of the common bean, whatever its colour: lectin.
    "raw-kidney-bean",
    // Any pulse uncooked.
    "raw-pulse",
    // Root or leaf of cassava uncooked.
    "raw-cassava",
    // A cassava that cooking alone does not make safe.
    "bitter-cassava",
    // Seed of lupins, unless it is known to be of a sweet kind.
    "bitter-lupin",
    // Tubers, and leaves of taro, that are no food raw: raw starch, needles of
    // oxalate, or a poison that heat takes away.
    "raw-root",
    // Whole kernels of nuts and large seeds, or pieces of them.
    "whole-nut",
    // A paste that sticks when it is eaten from a spoon.
    "nut-paste",
    // Round and smooth: grapes, cherries, cherry tomatoes, maize kernels.
    "choke-round",
    // Too hard to squash with the tongue as it is: raw roots, apple, popcorn,
    // hard cheese.
    "choke-hard",
    // Sausage, which is cut into coins.
    "choke-coin",
    // Dried fruit, sticky sweets and the like.
    "choke-sticky",
    // Fish with its bones. The bones of tinned fish are soft.
    "choke-bones",
    // Seeds of pulses whole, in their skin; lentils and green grams are too
    // small.
    "whole-bean",
    // Table salt.
    "salt",
    // 600 mg sodium or more in 100 g.
    "salty",
    // Sugar added, or a sugar itself.
    "sugar",
    // A drink with sugar added.
    "sweet-drink",
    // Animal milk that can be drunk as such.
    "milk-drink",
    "rice-drink",
    // Predatory fish that authorities tell young children to avoid.
    "mercury-high",
    "liver",
    // Leaves, stems and roots with 1,000 mg nitrate or more in a kilogram as
    // EFSA lists them (2008, memory).
    "nitrate-leaf",
    // Groundnuts and maize: aflatoxin and fumonisin.
    "mould-prone",
    "tea-coffee",
    "alcohol",
    // A compound food whose allergens the row cannot know.
    "hidden-allergens",
    // Flour of cereal, root or pulse that has not been heated.
    "raw-flour",
    // Fruit juice that can be drunk as such.
    "juice",
];
