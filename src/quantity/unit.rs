//! Units and household measures as the language knows them.

/// A unit of measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    Millilitre,
    Litre,
    Gram,
    Kilogram,
    Milligram,
    Teaspoon,
    Tablespoon,
    Cup,
    Pinch,
    Dash,
    Handful,
    Centimetre,
    Piece(PieceUnit),
}

/// Words for countable parts of a food.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PieceUnit {
    Piece,
    Clove,
    Leaf,
    Slice,
    Bunch,
    Stalk,
    Sprig,
    Segment,
    Wedge,
    Head,
    Pod,
    Cob,
    Fillet,
    Stick,
    Cube,
    Drop,
}

impl PieceUnit {
    /// Singular English word, as in larder files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Piece => "piece",
            Self::Clove => "clove",
            Self::Leaf => "leaf",
            Self::Slice => "slice",
            Self::Bunch => "bunch",
            Self::Stalk => "stalk",
            Self::Sprig => "sprig",
            Self::Segment => "segment",
            Self::Wedge => "wedge",
            Self::Head => "head",
            Self::Pod => "pod",
            Self::Cob => "cob",
            Self::Fillet => "fillet",
            Self::Stick => "stick",
            Self::Cube => "cube",
            Self::Drop => "drop",
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Size {
    Small,
    Medium,
    Large,
}

impl Size {
    pub fn word(self) -> &'static str {
        match self {
            Self::Small => "small",
            Self::Medium => "medium",
            Self::Large => "large",
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Heap {
    Heaped,
    Level,
}

/// What stands between a number and a food: `heaped tbsp`, `medium`, `cup`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Measure {
    pub unit: Unit,
    pub size: Option<Size>,
    pub heap: Option<Heap>,
}

impl Measure {
    pub fn of(unit: Unit) -> Self {
        Self { unit, size: None, heap: None }
    }
}

/// Every spelling with its unit. The grammar's `unit` rule lists the same
/// words; a test holds the two together.
pub const SPELLINGS: &[(&str, Unit)] = &[
    ("ml", Unit::Millilitre),
    ("millilitre", Unit::Millilitre),
    ("millilitres", Unit::Millilitre),
    ("milliliter", Unit::Millilitre),
    ("milliliters", Unit::Millilitre),
    ("l", Unit::Litre),
    ("litre", Unit::Litre),
    ("litres", Unit::Litre),
    ("liter", Unit::Litre),
    ("liters", Unit::Litre),
    ("g", Unit::Gram),
    ("gr", Unit::Gram),
    ("gram", Unit::Gram),
    ("grams", Unit::Gram),
    ("gramme", Unit::Gram),
    ("grammes", Unit::Gram),
    ("kg", Unit::Kilogram),
    ("kilo", Unit::Kilogram),
    ("kilos", Unit::Kilogram),
    ("kilogram", Unit::Kilogram),
    ("kilograms", Unit::Kilogram),
    ("mg", Unit::Milligram),
    ("milligram", Unit::Milligram),
    ("milligrams", Unit::Milligram),
    ("tsp", Unit::Teaspoon),
    ("tsps", Unit::Teaspoon),
    ("teaspoon", Unit::Teaspoon),
    ("teaspoons", Unit::Teaspoon),
    ("tbsp", Unit::Tablespoon),
    ("tbsps", Unit::Tablespoon),
    ("tablespoon", Unit::Tablespoon),
    ("tablespoons", Unit::Tablespoon),
    ("cup", Unit::Cup),
    ("cups", Unit::Cup),
    ("pinch", Unit::Pinch),
    ("pinches", Unit::Pinch),
    ("dash", Unit::Dash),
    ("dashes", Unit::Dash),
    ("handful", Unit::Handful),
    ("handfuls", Unit::Handful),
    ("cm", Unit::Centimetre),
    ("piece", Unit::Piece(PieceUnit::Piece)),
    ("pieces", Unit::Piece(PieceUnit::Piece)),
    ("clove", Unit::Piece(PieceUnit::Clove)),
    ("cloves", Unit::Piece(PieceUnit::Clove)),
    ("leaf", Unit::Piece(PieceUnit::Leaf)),
    ("leaves", Unit::Piece(PieceUnit::Leaf)),
    ("slice", Unit::Piece(PieceUnit::Slice)),
    ("slices", Unit::Piece(PieceUnit::Slice)),
    ("bunch", Unit::Piece(PieceUnit::Bunch)),
    ("bunches", Unit::Piece(PieceUnit::Bunch)),
    ("stalk", Unit::Piece(PieceUnit::Stalk)),
    ("stalks", Unit::Piece(PieceUnit::Stalk)),
    ("sprig", Unit::Piece(PieceUnit::Sprig)),
    ("sprigs", Unit::Piece(PieceUnit::Sprig)),
    ("segment", Unit::Piece(PieceUnit::Segment)),
    ("segments", Unit::Piece(PieceUnit::Segment)),
    ("wedge", Unit::Piece(PieceUnit::Wedge)),
    ("wedges", Unit::Piece(PieceUnit::Wedge)),
    ("head", Unit::Piece(PieceUnit::Head)),
    ("heads", Unit::Piece(PieceUnit::Head)),
    ("pod", Unit::Piece(PieceUnit::Pod)),
    ("pods", Unit::Piece(PieceUnit::Pod)),
    ("cob", Unit::Piece(PieceUnit::Cob)),
    ("cobs", Unit::Piece(PieceUnit::Cob)),
    ("ear", Unit::Piece(PieceUnit::Cob)),
    ("ears", Unit::Piece(PieceUnit::Cob)),
    ("fillet", Unit::Piece(PieceUnit::Fillet)),
    ("fillets", Unit::Piece(PieceUnit::Fillet)),
    ("stick", Unit::Piece(PieceUnit::Stick)),
    ("sticks", Unit::Piece(PieceUnit::Stick)),
    ("cube", Unit::Piece(PieceUnit::Cube)),
    ("cubes", Unit::Piece(PieceUnit::Cube)),
    ("drop", Unit::Piece(PieceUnit::Drop)),
    ("drops", Unit::Piece(PieceUnit::Drop)),
];

impl Unit {
    pub fn from_word(word: &str) -> Option<Self> {
        SPELLINGS.iter().find(|(spelling, _)| spelling.eq_ignore_ascii_case(word)).map(|(_, unit)| *unit)
    }

    /// The usual short spelling.
    pub fn word(self) -> &'static str {
        match self {
            Self::Millilitre => "mL",
            Self::Litre => "L",
            Self::Gram => "g",
            Self::Kilogram => "kg",
            Self::Milligram => "mg",
            Self::Teaspoon => "tsp",
            Self::Tablespoon => "tbsp",
            Self::Cup => "cup",
            Self::Pinch => "pinch",
            Self::Dash => "dash",
            Self::Handful => "handful",
            Self::Centimetre => "cm",
            Self::Piece(piece) => piece.word(),
        }
    }

    /// Grams in one, for units of weight.
    pub fn grams(self) -> Option<f64> {
        match self {
            Self::Gram => Some(1.0),
            Self::Kilogram => Some(1000.0),
            Self::Milligram => Some(0.001),
            _ => None,
        }
    }

    pub fn is_volume(self) -> bool {
        matches!(
            self,
            Self::Millilitre | Self::Litre | Self::Teaspoon | Self::Tablespoon | Self::Cup | Self::Pinch | Self::Dash
        )
    }
}

/// Vessels and foreign units that people measure with, but of no fixed size
/// here.
pub const NO_UNITS: &[&str] = &[
    "mug",
    "mugs",
    "glass",
    "glasses",
    "bowl",
    "bowls",
    "spoon",
    "spoons",
    "spoonfuls",
    "ladle",
    "ladles",
    "tin",
    "tins",
    "can",
    "cans",
    "jug",
    "jugs",
    "plate",
    "plates",
    "oz",
    "ounce",
    "ounces",
    "lb",
    "lbs",
    "pound",
    "pounds",
    "pint",
    "pints",
    "quart",
    "quarts",
    "dl",
    "cl",
];
