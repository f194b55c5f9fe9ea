//! The shape of a guidance profile: what a child of a given age needs, and
//! where the limits lie. Plain data without methods, so that `build.rs` can
//! read the built-in profile with this same file and no text is parsed when
//! the program starts.
//!
//! Ages are completed months. Bands are named by their key: `6-8`, `9-11`,
//! `12-23`. Every figure names the document it comes from (`source`), the year
//! of that document where known, how far it was checked (`status`) and, for a
//! checked figure, the page it was read on (`read_at`), where one is recorded.

use serde::{Deserialize, Serialize};

/// A guidance profile.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProfileFile {
    /// What the profile is.
    pub profile: About,
    /// Age bands, youngest first.
    #[serde(default)]
    pub band: Vec<AgeBand>,
    /// How dense in energy a dish must be.
    pub energy_density: EnergyDensity,
    /// Nutrients with their reference intakes, in the order of the card.
    #[serde(default)]
    pub nutrient: Vec<Nutrient>,
    /// Upper limits of intake.
    #[serde(default)]
    pub upper_limit: Vec<UpperLimit>,
    /// What the food, apart from breast milk, should hold per 100 kcal.
    pub nutrient_density: NutrientDensity,
    /// When a nutrient statement holds.
    pub claims: Claims,
    /// Foods that the card must name for people with an allergy.
    #[serde(default)]
    pub allergen: Vec<Allergen>,
    /// Figures that the safety rules read.
    #[serde(default)]
    pub hazard: Vec<Hazard>,
    /// Rules that a workspace may not switch off for young children.
    #[serde(default)]
    pub locked: Vec<LockedRule>,
    /// How numbers are rounded for print.
    pub rounding: RoundingTable,
    /// Indicators of infant and young child feeding.
    pub iycf: Iycf,
    /// How easily a card's prose must read, by language.
    #[serde(default)]
    pub reading: Vec<Reading>,
    /// Limits of standards for food that is sold for this age: to compare
    /// with, never a limit for cooking at home.
    #[serde(default)]
    pub packaged_food: Vec<PackagedFood>,
    /// What may help or hinder the uptake of minerals.
    #[serde(default)]
    pub absorption: Absorption,
    /// How a day's menu is judged.
    #[serde(default)]
    pub menu: Option<MenuRules>,
}

/// How a day's menu is judged, beyond needs and indicators.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MenuRules {
    /// Least share of the energy need that the day's food must bring, as a
    /// fraction of 1.
    pub energy_least: Figure,
    /// Least grams of a food group for it to count; any amount where absent.
    #[serde(default)]
    pub group_least: Option<Figure>,
    /// Most grams of one flesh food, of egg or of a leaf rich in nitrate that
    /// are proposed to close a day's gap; half of what a stomach holds where
    /// absent.
    #[serde(default)]
    pub helping_most: Option<Figure>,
}

/// How far a figure was checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// Read in the issuing body's text, or a faithful copy of it.
    CheckedOfficial,
    /// Read in a third party's copy, paper or article.
    CheckedSecondary,
    /// Worked out from other figures of this profile.
    Computed,
    /// Not found in readable form; confirm before relying on it.
    Memory,
}

/// What the profile is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct About {
    /// Stable name, kebab case.
    pub id: String,
    /// Title in English, printed on the card.
    pub title: String,
    /// Edition, raised with every change of a figure.
    pub edition: String,
    /// How the figures were chosen.
    pub note: String,
}

/// One number with where it comes from. The unit is that of the field that
/// holds it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// The number, in the unit of the field.
    pub value: f64,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the number was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// A range of whole numbers with where it comes from. The unit is that of the
/// field that holds it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Span {
    /// The least, in the unit of the field.
    pub from: u16,
    /// The most, in the unit of the field; the same as `from` for one number.
    pub to: u16,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the numbers were checked.
    pub status: Status,
    /// The page they were read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use them rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// One age band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AgeBand {
    /// Key, `FROM-TO` in completed months.
    pub key: String,
    /// First age in the band, completed months.
    pub from_months: u16,
    /// Last age in the band, completed months.
    pub to_months: u16,
    /// Energy needed from complementary food, breastfed with average milk
    /// intake, kcal a day. Shares of the day's energy are taken of this.
    pub energy_breastfed: Figure,
    /// Energy needed from all food, not breastfed, kcal a day.
    pub energy_not_breastfed: Figure,
    /// Energy needed in all, milk and food, kcal a day.
    pub energy_total: Figure,
    /// The same for a child who needs much, kcal a day (mean plus two
    /// standard deviations).
    pub energy_total_high: Figure,
    /// Energy from breast milk at average intake, kcal a day.
    pub milk_energy: Figure,
    /// Energy from breast milk at low intake, kcal a day.
    pub milk_energy_low: Figure,
    /// Breast milk at average intake, mL a day.
    pub milk_volume: Figure,
    /// What the stomach holds, g a meal.
    pub capacity: Figure,
    /// Meals a day, breastfed.
    pub meals: Span,
    /// Meals a day that energy density is judged by, breastfed.
    pub meals_usual: u16,
    /// Snacks a day beside the meals, if the child wants them.
    pub snacks: Span,
    /// Meals a day, not breastfed.
    pub meals_not_breastfed: Span,
    /// Snacks a day beside the meals, not breastfed, if the child wants them.
    pub snacks_not_breastfed: Span,
    /// Milk a day for a child who is not breastfed, mL, where the guidance
    /// names it.
    #[serde(default)]
    pub milk_not_breastfed: Option<Span>,
    /// First tastes, mL a meal, where the guidance names them.
    #[serde(default)]
    pub portion_start: Option<Figure>,
    /// Usual amount of a meal, mL. The card's default portion.
    pub portion_usual: Figure,
    /// Largest amount of a meal, mL.
    pub portion_most: Figure,
    /// Texture.
    pub texture: Texture,
}

/// How a dish should be to the tongue.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Texture {
    /// Key of the text in the message catalogues.
    pub key: String,
    /// The sentence in English.
    pub en: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far it was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// How dense in energy a dish must be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EnergyDensity {
    /// How the minimum was chosen among the rows.
    pub chosen: String,
    /// Whether a dish served as a snack is not held to the minimum.
    pub snack_exempt: bool,
    /// The minimum of each band.
    pub minimum: Vec<EnergyDensityMinimum>,
    /// Density that meal amounts in cups assume, kcal/g.
    pub assumed: Vec<Figure>,
    /// Density of a watery gruel, the example of what is too thin, kcal/g.
    pub too_thin: Figure,
    /// Density of breast milk, kcal/mL.
    pub breast_milk: Figure,
    /// Published tables.
    pub edition: Vec<DensityEdition>,
}

/// The minimum that a dish is held to in one band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EnergyDensityMinimum {
    /// Age band.
    pub band: String,
    /// Meals a day that the minimum supposes.
    pub meals: u16,
    /// Least energy of a meal, kcal/g.
    pub default_minimum: f64,
    /// Least energy of a meal where the child eats four meals a day, kcal/g.
    pub four_meals: f64,
    /// Edition of the row.
    pub edition: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the numbers were checked.
    pub status: Status,
    /// Why this row was chosen.
    pub note: String,
}

/// A published table of least energy densities.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DensityEdition {
    /// Name that the rows are quoted by.
    pub id: String,
    /// The document's name.
    pub source: String,
    /// The document's year.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the rows were checked.
    pub status: Status,
    /// The page they were read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// Superseded, or older than another edition here; kept for comparison
    /// and where it is the more cautious one.
    #[serde(default)]
    pub historical: bool,
    /// What a reader must know to use them rightly.
    #[serde(default)]
    pub note: Option<String>,
    /// The rows.
    pub row: Vec<DensityRow>,
}

/// Least energy density for one band, way of feeding and number of meals.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DensityRow {
    /// Age band.
    pub band: String,
    /// How much breast milk the child has.
    pub feeding: MilkIntake,
    /// Meals a day.
    pub meals: u16,
    /// Least energy density, kcal/g.
    pub value: f64,
}

/// How much breast milk a child has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MilkIntake {
    /// Average breast milk intake.
    Average,
    /// Low breast milk intake.
    Low,
    /// No breast milk.
    None,
}

/// One nutrient: its place on the card and what a child needs of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Nutrient {
    /// INFOODS tagname, as in the composition tables.
    pub tag: String,
    /// Name in English.
    pub en: String,
    /// Unit of every value of this nutrient in the profile: `g`, `mg`, `µg`.
    pub unit: String,
    /// Where it stands on the card.
    pub group: Group,
    /// Whether the child needs at least the reference intake, or should have
    /// at most it.
    pub aim: Aim,
    /// Whether the card prints it; the others serve claims and menus.
    pub on_card: bool,
    /// Decimals kept in print.
    pub step: u8,
    /// What a reader must know to use the row rightly.
    #[serde(default)]
    pub note: Option<String>,
    /// The chosen intake of each band, per day.
    #[serde(default)]
    pub intake: Vec<Intake>,
    /// Other authorities' intakes, per day.
    #[serde(default)]
    pub alternative: Vec<Intake>,
}

/// Groups of nutrients on the card.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    /// Energy and growth.
    EnergyGrowth,
    /// Blood.
    Blood,
    /// Eyes and defence.
    EyesDefence,
    /// Bones.
    Bones,
    /// Nerves.
    Nerves,
    /// Salt.
    Salt,
    /// In no group of the card.
    Other,
}

/// Which way a nutrient is judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Aim {
    /// At least the reference intake.
    AtLeast,
    /// At most the reference intake.
    AtMost,
}

/// What a published intake is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum IntakeKind {
    /// Recommended dietary allowance.
    Rda,
    /// Adequate intake.
    Ai,
    /// Recommended nutrient intake.
    Rni,
    /// Estimated average requirement: half of all children need more.
    Ear,
    /// Safe level of intake.
    SafeLevel,
    /// Least amount of an acceptable range.
    RangeLow,
    /// Most that should be eaten in a day.
    DailyMaximum,
    /// Intake above which chronic disease risk grows.
    Cdrr,
    /// The authority sets none; there is no value.
    NotSet,
}

/// What a child needs of a nutrient in a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Intake {
    /// Age bands it is used for.
    pub bands: Vec<String>,
    /// Ages it was published for, in the authority's words.
    pub stated_for: String,
    /// Amount a day in the nutrient's unit; absent where none is set.
    #[serde(default)]
    pub value: Option<f64>,
    /// What the number is.
    pub kind: IntakeKind,
    /// What it supposes, such as the share of iron that is absorbed.
    #[serde(default)]
    pub condition: Option<String>,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the number was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// What an upper limit counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Scope {
    /// All food, drink and supplements.
    All,
    /// Retinol of animal foods, fortified foods and supplements; carotenes do
    /// not count.
    PreformedRetinol,
    /// Only what was added to food or swallowed as a supplement.
    Added,
    /// Only supplements and medicines.
    Supplements,
}

/// What kind of upper limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LimitKind {
    /// Tolerable upper intake level.
    Ul,
    /// Intake above which chronic disease risk grows.
    Cdrr,
}

/// The most of a nutrient in a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UpperLimit {
    /// INFOODS tagname.
    pub tag: String,
    /// Unit: `mg`, `µg`.
    pub unit: String,
    /// First age, completed months.
    pub from_months: u16,
    /// Last age, completed months.
    pub to_months: u16,
    /// Ages it was published for, in the authority's words.
    pub stated_for: String,
    /// The most in a day, in `unit`.
    pub value: f64,
    /// What the number is.
    pub kind: LimitKind,
    /// What it counts.
    pub scope: Scope,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the number was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// Desired density of nutrients in complementary food.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NutrientDensity {
    /// What the rows are for, and which edition a reader should use.
    pub note: String,
    /// Edition used by default.
    pub default_edition: String,
    /// Published tables.
    pub edition: Vec<NutrientDensityEdition>,
}

/// A published table of desired nutrient densities.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NutrientDensityEdition {
    /// Name that the rows are quoted by.
    pub id: String,
    /// The document's name.
    pub source: String,
    /// The document's year.
    #[serde(default)]
    pub year: Option<u16>,
    /// The page that its checked rows were read on.
    #[serde(default)]
    pub read_at: Option<String>,
    /// Superseded, or older than another edition here.
    #[serde(default)]
    pub historical: bool,
    /// The rows.
    pub row: Vec<NutrientDensityRow>,
}

/// Desired density of one nutrient in one band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NutrientDensityRow {
    /// INFOODS tagname; `VITA` is vitamin A in retinol equivalents.
    pub tag: String,
    /// Age band.
    pub band: String,
    /// Amount per 100 kcal, in `unit`.
    pub value: f64,
    /// Unit: `g`, `mg`, `µg`, `µg RE`.
    pub unit: String,
    /// What it supposes, such as the share of iron that is absorbed.
    #[serde(default)]
    pub condition: Option<String>,
    /// How far the number was checked.
    pub status: Status,
}

/// When a nutrient statement holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Claims {
    /// "Source of": least share of the day's reference intake in one portion,
    /// as a fraction of 1. `tag` is absent for every nutrient without its own
    /// row.
    pub source_of: Vec<ClaimShare>,
    /// "Rich in": how many times the share of "source of".
    pub rich_in_factor: Figure,
    /// "Low in" and the like: most per 100 g as eaten.
    pub limit: Vec<ClaimLimit>,
    /// Nutrients that "source of" and "rich in" may be said of.
    pub claimable: Vec<Claimable>,
    /// Nutrients that an author may name and that no claim can rest on.
    pub not_claimable: Vec<NotClaimable>,
    /// Codex conditions on another basis, for the page of the rule.
    pub codex: Vec<CodexCondition>,
    /// Why no such statement may stand on packaged food for this age.
    pub packaged: Statement,
    /// Why the Codex values for labels are not used.
    pub label_values: Statement,
}

/// Least share of the reference intake.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClaimShare {
    /// INFOODS tagname; absent in the row for all the others.
    #[serde(default)]
    pub tag: Option<String>,
    /// Least share of the reference intake in one portion, fraction of 1.
    pub value: f64,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the number was checked.
    pub status: Status,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// The word of a limiting claim.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LimitWord {
    /// Low in.
    Low,
    /// Very low in.
    VeryLow,
    /// Free of.
    Free,
}

/// A limit that a claim rests on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClaimLimit {
    /// INFOODS tagname.
    pub tag: String,
    /// English names that an author may write.
    pub en: Vec<String>,
    /// The word of the claim.
    pub word: LimitWord,
    /// Unit: `kcal`, `g`, `mg`.
    pub unit: String,
    /// Most per 100 g of a solid food, in `unit`; absent where the claim is
    /// for liquids only.
    #[serde(default)]
    pub max_per_100_g: Option<f64>,
    /// Most per 100 mL of a liquid food, in `unit`; absent where the figures
    /// give none.
    #[serde(default)]
    pub max_per_100_ml: Option<f64>,
    /// Any further condition, in words; the program cannot prove it.
    #[serde(default)]
    pub further: Option<String>,
    /// Whether the statement is fit for a child under 24 months.
    pub fit_for_age: bool,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the numbers were checked.
    pub status: Status,
    /// The page they were read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use them rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// A nutrient that a claim may name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Claimable {
    /// INFOODS tagname; it has a row under `nutrient`.
    pub tag: String,
    /// English names that an author may write, the usual one first.
    pub en: Vec<String>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// A nutrient that no claim can rest on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NotClaimable {
    /// English names that an author may write.
    pub en: Vec<String>,
    /// Why not, and what to write instead.
    pub note: String,
}

/// A Codex condition on a basis that the profile does not use by default.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CodexCondition {
    /// What the claim is about.
    pub component: String,
    /// The word of the claim: `source` or `high`.
    pub word: String,
    /// The condition in words.
    pub condition: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far it was checked.
    pub status: Status,
}

/// A statement with where it comes from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// The statement in English.
    pub en: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far it was checked.
    pub status: Status,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// One allergen of the larder's list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Allergen {
    /// Name as in the larder.
    pub id: String,
    /// Name in English.
    pub en: String,
    /// Whether the card prints it.
    pub print: bool,
    /// Lists that name it, the list in force first.
    pub on: Vec<AllergenListing>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// A list that names an allergen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AllergenListing {
    /// Which list.
    pub list: AllergenList,
    /// Section and wording of the list.
    pub section: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far it was checked.
    pub status: Status,
}

/// Lists of allergens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AllergenList {
    /// Codex as revised in 2024: always declared.
    Codex2024,
    /// Codex as revised in 2024: declared where a country says so.
    Codex2024National,
    /// Codex before that, a historical list.
    CodexBefore2024,
    /// European Union.
    Eu,
    /// A country's or a programme's own list.
    National,
}

/// A figure that a safety rule reads. Where `value` is absent the rule is that
/// there be none.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hazard {
    /// Stable name, kebab case.
    pub id: String,
    /// The number, in `unit`.
    #[serde(default)]
    pub value: Option<f64>,
    /// Whether `value` is the least that will do, so that a smaller one is
    /// more lenient; otherwise it is the most that is allowed.
    #[serde(default)]
    pub at_least: bool,
    /// Unit of `value`, as printed.
    #[serde(default)]
    pub unit: Option<String>,
    /// First age the row applies to, completed months; absent from the start.
    #[serde(default)]
    pub age_from_months: Option<u16>,
    /// The row applies below this age, completed months; absent at every age
    /// of the profile.
    #[serde(default)]
    pub age_under_months: Option<u16>,
    /// Who says so, and in which document.
    pub authority: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far it was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// The rule in words.
    pub note: String,
    /// What another authority says.
    #[serde(default)]
    pub conflict: Option<String>,
}

/// A rule that a workspace may not switch off.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LockedRule {
    /// Code of the rule.
    pub code: String,
    /// Locked for dishes meant for an age below this, completed months.
    pub below_months: u16,
    /// Why.
    pub reason: String,
}

/// How numbers are rounded for print.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundingTable {
    /// The rule in words.
    pub rule: String,
    /// Quantities that have no row under `nutrient`.
    pub row: Vec<Rounding>,
}

/// Printing of one quantity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rounding {
    /// INFOODS tagname, or the name of a quantity in lower case.
    pub what: String,
    /// Unit that the decimals count in.
    pub unit: String,
    /// Decimals kept in print.
    pub step: u8,
}

/// Indicators of infant and young child feeding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Iycf {
    /// First age, completed months.
    pub from_months: u16,
    /// Last age, completed months.
    pub to_months: u16,
    /// Food groups needed in a day for minimum dietary diversity.
    pub groups_needed: Figure,
    /// The food groups.
    pub group: Vec<IycfGroup>,
    /// Older editions, for the page of the rule.
    pub historical: Vec<Statement>,
    /// Least number of times to eat in a day.
    pub meal_frequency: Vec<MealFrequency>,
    /// Milk feeds needed in a day by a child who is not breastfed.
    pub milk_feeds_not_breastfed: Figure,
    /// Further indicators, in words.
    #[serde(default)]
    pub indicator: Vec<Indicator>,
}

/// A further indicator of the set, in words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Indicator {
    /// Stable name, kebab case.
    pub id: String,
    /// What it counts, in English.
    pub en: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far it was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
}

/// One food group.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IycfGroup {
    /// Name as in the larder.
    pub id: String,
    /// Name in English.
    pub en: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the name was checked.
    pub status: Status,
}

/// How easily prose in one language must read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Language, such as `en`.
    pub language: String,
    /// Most words in one sentence.
    pub sentence_words: u16,
    /// Most words a sentence on average, over a dish's prose.
    pub average_words: f64,
    /// Most LIX over a dish's prose: words a sentence plus the percentage of
    /// words of more than six letters. Absent where the measure was not made
    /// for the language.
    #[serde(default)]
    pub lix: Option<f64>,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the numbers were checked.
    pub status: Status,
    /// What a reader must know to use them rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// A limit of a standard for food that is sold for infants and young children.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PackagedFood {
    /// Stable name, kebab case.
    pub id: String,
    /// What is limited, with the products it holds for.
    pub what: String,
    /// The limit in words, such as `at most 200 mg/100 g`.
    pub limit: String,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far it was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// Least number of times to eat in a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MealFrequency {
    /// First age, completed months.
    pub from_months: u16,
    /// Last age, completed months.
    pub to_months: u16,
    /// Whether the child is breastfed.
    pub breastfed: bool,
    /// Times a day.
    pub times: u16,
    /// The document's name.
    pub source: String,
    /// The document's year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// How far the number was checked.
    pub status: Status,
    /// The page it was read on, if checked.
    #[serde(default)]
    pub read_at: Option<String>,
    /// What a reader must know to use it rightly.
    #[serde(default)]
    pub note: Option<String>,
}

/// What may help or hinder the uptake of minerals.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Absorption {
    /// Phytate against a mineral.
    #[serde(default)]
    pub phytate: Vec<PhytateRatio>,
    /// Moles of vitamin C for a mole of iron from which it may help.
    #[serde(default)]
    pub vitamin_c_iron: Option<Figure>,
}

/// Moles of phytate for a mole of a mineral, above which less of it may be
/// taken up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhytateRatio {
    /// INFOODS tagname of the mineral.
    pub tag: String,
    /// The most, the more cautious of the published figures.
    pub most: Figure,
    /// Other published figures.
    #[serde(default)]
    pub other: Vec<Figure>,
}
