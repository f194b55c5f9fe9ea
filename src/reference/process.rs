//! The verbs of the kitchen and what each does to food.

use super::retention::Heat;

/// The four kinds of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Prepare,
    SoakAndGrow,
    Heat,
    Assemble,
}

/// How fine a step leaves the food, from coarse to fine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Texture {
    Whole,
    Pieces,
    Chopped,
    Mashed,
    Smooth,
}

/// A verb with its meaning. `drawing` names the picture on the card, which is
/// also the key of the printed sentence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Process {
    pub word: &'static str,
    pub kind: Kind,
    /// How the liquid is used is known only later, so boiling stands here as
    /// [`Heat::BoilUsed`] and the flow corrects it when the food is drained.
    pub heat: Option<Heat>,
    pub texture: Option<Texture>,
    /// Takes time that the author has to state.
    pub timed: bool,
    pub drawing: &'static str,
}

const fn prepare(word: &'static str, texture: Option<Texture>, drawing: &'static str) -> Process {
    Process { word, kind: Kind::Prepare, heat: None, texture, timed: false, drawing }
}

const fn heat(word: &'static str, heat: Heat, drawing: &'static str) -> Process {
    Process { word, kind: Kind::Heat, heat: Some(heat), texture: None, timed: true, drawing }
}

const fn grow(word: &'static str, timed: bool, drawing: &'static str) -> Process {
    Process { word, kind: Kind::SoakAndGrow, heat: None, texture: None, timed, drawing }
}

const fn assemble(word: &'static str, drawing: &'static str) -> Process {
    Process { word, kind: Kind::Assemble, heat: None, texture: None, timed: false, drawing }
}

/// Every verb a step may begin with.
pub const PROCESSES: &[Process] = &[
    prepare("wash", None, "wash"),
    prepare("rinse", None, "wash"),
    prepare("clean", None, "wash"),
    prepare("sort", None, "wash"),
    prepare("peel", None, "peel"),
    prepare("trim", None, "peel"),
    prepare("shell", None, "peel"),
    prepare("stone", None, "peel"),
    prepare("bone", None, "peel"),
    prepare("flake", Some(Texture::Chopped), "other"),
    prepare("crumble", Some(Texture::Chopped), "other"),
    prepare("scoop", None, "peel"),
    prepare("halve", Some(Texture::Pieces), "chop"),
    prepare("quarter", Some(Texture::Pieces), "chop"),
    prepare("cut", Some(Texture::Pieces), "chop"),
    prepare("slice", Some(Texture::Pieces), "chop"),
    prepare("dice", Some(Texture::Chopped), "chop"),
    prepare("chop", Some(Texture::Chopped), "chop"),
    prepare("shred", Some(Texture::Chopped), "chop"),
    prepare("mince", Some(Texture::Mashed), "chop"),
    prepare("grate", Some(Texture::Mashed), "grate"),
    prepare("mash", Some(Texture::Mashed), "mash"),
    prepare("crush", Some(Texture::Mashed), "mash"),
    prepare("pound", Some(Texture::Mashed), "mash"),
    prepare("press", Some(Texture::Mashed), "mash"),
    prepare("squeeze", None, "mash"),
    prepare("puree", Some(Texture::Smooth), "mash"),
    prepare("blend", Some(Texture::Smooth), "mash"),
    prepare("grind", Some(Texture::Smooth), "grind"),
    prepare("mill", Some(Texture::Smooth), "grind"),
    prepare("sieve", Some(Texture::Smooth), "sieve"),
    prepare("strain", Some(Texture::Smooth), "sieve"),
    prepare("beat", Some(Texture::Smooth), "mix"),
    prepare("whisk", Some(Texture::Smooth), "mix"),
    prepare("knead", None, "knead"),
    prepare("roll", None, "knead"),
    prepare("shape", None, "knead"),
    prepare("dry", None, "sprout"),
    grow("soak", true, "soak"),
    grow("drain", false, "drain"),
    grow("sprout", true, "sprout"),
    grow("ferment", true, "ferment"),
    grow("rest", true, "cool"),
    grow("stand", true, "cool"),
    grow("leave", true, "cool"),
    grow("keep", true, "cool"),
    heat("boil", Heat::BoilUsed, "boil"),
    heat("cook", Heat::BoilUsed, "boil"),
    heat("blanch", Heat::BoilDrained, "boil"),
    heat("simmer", Heat::BoilUsed, "simmer"),
    heat("stew", Heat::BoilUsed, "simmer"),
    heat("braise", Heat::BoilUsed, "simmer"),
    heat("poach", Heat::BoilUsed, "simmer"),
    heat("thicken", Heat::BoilUsed, "simmer"),
    heat("steam", Heat::Steam, "steam"),
    heat("pressure-cook", Heat::PressureCook, "pressure-cook"),
    heat("fry", Heat::Fry, "fry"),
    heat("deep-fry", Heat::Fry, "fry"),
    heat("brown", Heat::Fry, "fry"),
    Process { texture: Some(Texture::Mashed), ..heat("scramble", Heat::Fry, "fry") },
    heat("stir-fry", Heat::StirFry, "fry"),
    heat("sauté", Heat::StirFry, "fry"),
    heat("saute", Heat::StirFry, "fry"),
    heat("soften", Heat::StirFry, "fry"),
    heat("roast", Heat::Roast, "roast"),
    heat("grill", Heat::Grill, "roast"),
    heat("bake", Heat::Bake, "bake"),
    heat("toast", Heat::Toast, "toast"),
    heat("dry-roast", Heat::Toast, "toast"),
    heat("warm", Heat::Warm, "warm"),
    heat("reheat", Heat::Warm, "warm"),
    heat("heat", Heat::Warm, "warm"),
    heat("melt", Heat::Warm, "warm"),
    assemble("add", "add"),
    assemble("pour", "add"),
    assemble("put", "add"),
    assemble("place", "add"),
    assemble("sprinkle", "add"),
    assemble("top", "add"),
    assemble("season", "add"),
    assemble("mix", "mix"),
    assemble("stir", "mix"),
    assemble("combine", "mix"),
    assemble("fold", "mix"),
    assemble("dissolve", "mix"),
    assemble("fill", "fill"),
    assemble("spread", "fill"),
    assemble("wrap", "fill"),
    assemble("coat", "fill"),
    assemble("divide", "serve"),
    assemble("cover", "other"),
    assemble("cool", "cool"),
    assemble("set aside", "set-aside"),
    assemble("serve", "serve"),
    assemble("feed", "serve"),
];

impl Process {
    pub fn from_word(word: &str) -> Option<&'static Process> {
        PROCESSES.iter().find(|process| process.word.eq_ignore_ascii_case(word))
    }

    /// Heat that cooks food through, as far as the verb alone can say. Warming
    /// and a dip in boiling water do not.
    pub fn cooks(&self) -> bool {
        self.heat.is_some_and(|heat| heat != Heat::Warm) && self.word != "blanch"
    }
}
