//! The table of codes. Each has one row here, one page (what, why, source,
//! an example that fails with just this code, the example mended), one file
//! in `tests/corpus`, and one place that raises it; a test holds the four
//! together. A code is never used again for another meaning.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::Severity;

macro_rules! codes {
    ($($variant:ident = $family:literal / $slug:literal, $severity:ident, $title:literal;)+) => {
        /// A fault the program can name.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code { $($variant),+ }

        /// Every code, in the order of the table.
        pub const CODES: &[Code] = &[$(Code::$variant),+];

        impl Code {
            /// `family/slug`.
            pub fn name(self) -> &'static str {
                match self { $(Code::$variant => concat!($family, "/", $slug)),+ }
            }

            pub fn severity(self) -> Severity {
                match self { $(Code::$variant => Severity::$severity),+ }
            }

            /// One line for the list that `explain` prints without a code.
            pub fn title(self) -> &'static str {
                match self { $(Code::$variant => $title),+ }
            }

            /// The page that `explain` prints.
            pub fn page(self) -> &'static str {
                match self {
                    $(Code::$variant => include_str!(concat!("pages/", $family, "/", $slug, ".md"))),+
                }
            }

            /// The name of the variant, for the test that looks for the place
            /// that raises it.
            pub fn variant(self) -> &'static str {
                match self { $(Code::$variant => stringify!($variant)),+ }
            }
        }
    };
}

codes! {
    SyntaxUnknownKeyword = "syntax"/"unknown-keyword", Error, "a line begins with a word that is no keyword";
    SyntaxMissingHeader = "syntax"/"missing-header", Error, "the file does not begin with its title line";
    SyntaxBadLine = "syntax"/"bad-line", Error, "a line could not be read to its end";
    SyntaxBadQuantity = "syntax"/"bad-quantity", Error, "an amount is missing or cannot be read";
    SyntaxCommaDecimal = "syntax"/"comma-decimal", Error, "a decimal is written with a comma";
    SyntaxZeroDenominator = "syntax"/"zero-denominator", Error, "a fraction has zero below the line";
    SyntaxReversedRange = "syntax"/"reversed-range", Error, "a range runs from the larger number to the smaller";
    SyntaxNumberTooLarge = "syntax"/"number-too-large", Error, "a number is too large to be meant";
    SyntaxStrayContinuation = "syntax"/"stray-continuation", Error, "a line begins with a blank but continues nothing";
    SyntaxDuplicateLine = "syntax"/"duplicate-line", Error, "a line that may stand once stands twice";
    SyntaxNotUtf8 = "syntax"/"not-utf8", Error, "the file is not UTF-8 text";
    SyntaxTooLarge = "syntax"/"too-large", Error, "the file is larger than any recipe";
    FoodUnknown = "food"/"unknown", Error, "no food has this name";
    FoodAmbiguous = "food"/"ambiguous", Error, "several foods have this name";
    FoodNoComposition = "food"/"no-composition", Error, "the composition row of a food is not there";
    FoodInediblePartUnknown = "food"/"inedible-part-unknown", Warning, "a food is weighed with its refuse and nobody knows how much that is";
    MeasureUnknownUnit = "measure"/"unknown-unit", Error, "a unit is not known";
    MeasureNoWeight = "measure"/"no-weight", Error, "a measure of this food cannot be turned into grams";
    MeasureWeightDisagrees = "measure"/"weight-disagrees", Warning, "the weighed amount and the measure differ by more than a fifth";
    MeasureEstimatedDensity = "measure"/"estimated-density", Warning, "the weight of a measure rests on an estimate";
    MeasureVolumeOfCount = "measure"/"volume-of-count", Error, "a count is given where a volume or a weight is needed";
    MethodUnusedIngredient = "method"/"unused-ingredient", Error, "an ingredient is taken and never used";
    MethodUnknownIngredient = "method"/"unknown-ingredient", Error, "a step names something that was not taken";
    MethodUsedBeforeTaken = "method"/"used-before-taken", Error, "a step uses something that is taken further down";
    MethodUsedAfterSetAside = "method"/"used-after-set-aside", Error, "an ingredient goes in after the child's portion is set aside";
    MethodFamilyBeforeSetAside = "method"/"family-before-set-aside", Error, "an ingredient for the family goes into the child's food";
    MethodUnusedPart = "method"/"unused-part", Error, "a part is made and never used";
    MethodEmpty = "method"/"empty", Error, "the dish has no ingredients or no steps";
    MethodUnknownProcess = "method"/"unknown-process", Error, "a step begins with a verb that is not known";
    MethodNoDuration = "method"/"no-duration", Warning, "a step that takes time does not say how long";
    MethodCycle = "method"/"cycle", Error, "dishes use one another in a circle";
    YieldEstimated = "yield"/"estimated", Note, "the cooked weight is an estimate";
    YieldPortionExceedsDish = "yield"/"portion-exceeds-dish", Error, "a portion is larger than the whole dish";
    YieldMissing = "yield"/"missing", Warning, "the dish does not say what it makes";
    AgeBelowSixMonths = "age"/"below-six-months", Error, "the dish is for a child under six months";
    AgePortionTooLarge = "age"/"portion-too-large", Warning, "a portion is more than a child of this age can eat at once";
    AgePortionTooSmall = "age"/"portion-too-small", Warning, "a portion is much less than a child of this age needs at a meal";
    AgePortionOutside = "age"/"portion-outside", Warning, "a portion is for an age that the dish is not for";
    AgeEnergyTooThin = "age"/"energy-too-thin", Warning, "the food holds too little energy for a small stomach";
    AgeTextureTooCoarse = "age"/"texture-too-coarse", Warning, "the food is coarser than a child of this age can manage";
    AgeOverADay = "age"/"over-a-day", Warning, "one portion gives more energy than a whole day's food should";
    SafetyHoneyUnder12Months = "safety"/"honey-under-12-months", Error, "honey in food for a child under twelve months";
    SafetyRawAnimalFood = "safety"/"raw-animal-food", Error, "raw animal food that meets no heat";
    SafetyBeanNotBoiled = "safety"/"bean-not-boiled", Error, "kidney beans that are not soaked and boiled long enough";
    SafetyAddedSalt = "safety"/"added-salt", Warning, "salt goes into the child's food";
    SafetyRetinolOverLimit = "safety"/"retinol-over-limit", Error, "a portion holds more preformed vitamin A than a day may bring";
    SafetyWholeNuts = "safety"/"whole-nuts", Error, "nuts that are not ground";
    SafetyChokingShape = "safety"/"choking-shape", Error, "a food in a shape that can block a small airway";
    SafetyMilkDrinkUnder12Months = "safety"/"milk-drink-under-12-months", Warning, "animal milk as a drink before twelve months";
    SafetySaltOverDay = "safety"/"salt-over-day", Warning, "a portion holds more salt than a day may bring";
    SafetyAddedSugarUnder24Months = "safety"/"added-sugar-under-24-months", Warning, "sugar is added to the child's food";
    SafetySweetDrink = "safety"/"sweet-drink", Warning, "a sweet drink for a young child";
    SafetyHighMercuryFish = "safety"/"high-mercury-fish", Error, "a fish that holds much mercury";
    SafetyUpperLimit = "safety"/"upper-limit", Warning, "a portion holds more of a nutrient than a day may bring";
    SafetyCassavaNotProcessed = "safety"/"cassava-not-processed", Error, "cassava that is not peeled, soaked or cooked as it must be";
    SafetyPlantPoison = "safety"/"plant-poison", Error, "a plant whose poison the method leaves in";
    SafetyLeafyNitrate = "safety"/"leafy-nitrate", Error, "a cooked purée of nitrate-rich leaves that is kept";
    SafetyRiceDrink = "safety"/"rice-drink", Warning, "rice drink for a young child";
    SafetySoakNotCooked = "safety"/"soak-not-cooked", Error, "soaked, sprouted, fermented or raw-milled food that is not cooked";
    SafetyHeldWarm = "safety"/"held-warm", Error, "food that stands for hours neither cold nor hot";
    SafetyReheatedLeftovers = "safety"/"reheated-leftovers", Warning, "food cooked earlier that is only warmed";
    SafetyTeaCoffee = "safety"/"tea-coffee", Warning, "tea or coffee for a young child";
    SafetyAlcoholNotForChildren = "safety"/"alcohol-not-for-children", Error, "alcohol in the child's food";
    SafetyMouldProneStore = "safety"/"mould-prone-store", Note, "groundnuts or maize without a word on how they are kept";
    AllergenContains = "allergen"/"contains", Note, "the dish contains a listed allergen";
    AllergenHidden = "allergen"/"hidden", Warning, "a compound food whose allergens are not stated";
    ClaimNotMet = "claim"/"not-met", Error, "a claim does not hold";
    ClaimMetOnlyBySomeAlternatives = "claim"/"met-only-by-some-alternatives", Error, "a claim does not hold with one of the alternatives";
    ClaimUpperLimitReached = "claim"/"upper-limit-reached", Error, "a portion passes the upper limit of what is claimed";
    ClaimUnknownValue = "claim"/"unknown-value", Error, "a claim rests on a figure that is not known";
    ClaimDietContradicted = "claim"/"diet-contradicted", Error, "a food contradicts the diet that the dish names";
    ClaimVagueWord = "claim"/"vague-word", Error, "the prose promises health";
    AbsorptionTeaWithMeal = "absorption"/"tea-with-meal", Note, "tea or coffee beside food may hinder the uptake of iron";
    AbsorptionHighPhytate = "absorption"/"high-phytate", Note, "phytate may hinder the uptake of a mineral";
    TextMissingTranslation = "text"/"missing-translation", Warning, "a text has no translation in a language of the card";
    TextMissingGlyph = "text"/"missing-glyph", Error, "a character is in none of the card's fonts";
    TextTooLongForCard = "text"/"text-too-long-for-card", Error, "the card's text does not fit on one sheet";
    TextProseContradicts = "text"/"prose-contradicts", Warning, "the prose puts in a food that no line has";
    TextReadingLevel = "text"/"reading-level", Warning, "the prose is too hard for a caregiver";
    TextPictureWithoutDescription = "text"/"picture-without-description", Error, "a picture has no description";
    BookletUnknownPage = "booklet"/"unknown-page", Error, "a booklet or menu names a dish that is not there";
    BookletDuplicatePage = "booklet"/"duplicate-page", Error, "a booklet lists a page twice";
    BookletOverflow = "booklet"/"overflow", Error, "a page of a booklet does not fit on its paper";
    MenuTooLittleEnergy = "menu"/"too-little-energy", Warning, "the day's food brings less energy than the child needs";
    MenuTooMuchEnergy = "menu"/"too-much-energy", Warning, "the day brings more energy than any child of the age needs";
    MenuFewFoodGroups = "menu"/"few-food-groups", Warning, "the day has too few food groups";
    MenuFewMeals = "menu"/"few-meals", Warning, "the child eats too seldom";
    MenuFewMilkFeeds = "menu"/"few-milk-feeds", Warning, "a child who is not breastfed has milk too seldom";
    MenuMealTooLarge = "menu"/"meal-too-large", Warning, "a meal is more than the stomach holds";
    MenuOverLimit = "menu"/"over-limit", Note, "the day brings more of a nutrient than its upper level";
    MenuNoAnimalFood = "menu"/"no-animal-food", Warning, "the day has no food from animals";
    MenuNoEggOrFlesh = "menu"/"no-egg-or-flesh", Warning, "the day has neither egg nor flesh food";
    MenuSameLeafyTwice = "menu"/"same-leafy-twice", Warning, "leaves rich in nitrate at more than one meal of a day";
    MenuSameTime = "menu"/"same-time", Warning, "two meals stand at the same time";
    MenuEmpty = "menu"/"empty", Error, "the menu has no meals";
    MenuBrokenDish = "menu"/"broken-dish", Error, "a dish on the menu has errors of its own";
    MenuNotForAge = "menu"/"not-for-age", Error, "a dish on the menu is not for children of this age";
    MenuNotReadyToEat = "menu"/"not-ready-to-eat", Error, "a food on the menu cannot be eaten as it is written";
    MenuShort = "menu"/"short", Note, "the day brings less of a nutrient than the child needs";
    MenuBreastfeedingAssumed = "menu"/"breastfeeding-assumed", Note, "the menu does not say whether the child is breastfed";
    ReviewStale = "review"/"stale", Warning, "the review of a dish is too old";
    ReviewNone = "review"/"none", Note, "nobody is named who has reviewed a dish";
    WorkspaceUnknownKey = "workspace"/"unknown-key", Error, "a key of the workspace file is not known";
    WorkspacePathOutside = "workspace"/"path-outside", Error, "a path leads out of the workspace";
    WorkspaceTableError = "workspace"/"table-error", Error, "a table or larder file cannot be read";
    WorkspaceRuleKept = "workspace"/"rule-kept", Error, "a rule is changed that must stay, or without a reason";
    WorkspaceProfileError = "workspace"/"profile-error", Error, "the guidance profile cannot be read";
    WorkspaceProfileLenient = "workspace"/"profile-lenient", Warning, "a figure of the profile is more lenient than the default";
}

impl Code {
    pub fn from_name(name: &str) -> Option<Self> {
        CODES.iter().copied().find(|code| code.name() == name)
    }

    pub fn family(self) -> &'static str {
        self.name().split('/').next().unwrap_or_default()
    }
}

/// By its name, so that what was kept does not mean another code later.
impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}

impl<'de> Deserialize<'de> for Code {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let name = String::deserialize(deserializer)?;
        Self::from_name(&name).ok_or_else(|| serde::de::Error::custom("no such code"))
    }
}
