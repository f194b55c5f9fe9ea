//! `claim/vague-word`: prose that promises health. Only promises: a word of
//! healing must have an illness or the body for its object, so that salt may
//! cure fish and a stir may prevent sticking.

use std::sync::OnceLock;

use super::prose::{self, Prose};
use crate::diagnostic::{Code, Diagnostic, Sink, quote};

/// The words of one language.
struct Words {
    language: &'static str,
    /// Promises whatever follows, unless one of `harmless` is near.
    strong: &'static [&'static str],
    harmless: &'static [&'static str],
    /// Promises when a target follows.
    verbs: &'static [&'static str],
    /// Illnesses, and what people hope food does for a body.
    targets: &'static [&'static str],
    /// Runs of words that are a promise by themselves.
    phrases: &'static [&'static [&'static str]],
    negators: &'static [&'static str],
    /// Hygiene does prevent illness; to say so promises nothing of the food.
    hygiene: &'static [&'static str],
    /// A clause begins anew here.
    breaks: &'static [&'static str],
}

/// How far behind a verb its object may stand, in words.
const REACH: usize = 4;
/// How far before a verb its negation may stand, in words.
const BEFORE: usize = 4;

static LANGUAGES: [Words; 3] = [
    Words {
        language: "en",
        strong: &["cures", "cure", "curing", "heals", "heal", "healing", "boost", "boosts", "boosting", "booster"],
        harmless: &[
            "fish", "meat", "ham", "bacon", "salt", "smoke", "dry", "flavour", "flavor", "taste", "colour", "color",
            "smell", "aroma", "heat", "fire", "flame", "energy", "calories",
        ],
        verbs: &[
            "prevent*",
            "fight",
            "fights",
            "fighting",
            "treat",
            "treats",
            "treating",
            "protect*",
            "strengthen*",
            "improve",
            "improves",
            "improving",
            "increase",
            "increases",
            "build",
            "builds",
            "building",
            "sharpen*",
            "enhance*",
            "purif*",
            "stop",
            "stops",
            "stopping",
            "reduce",
            "reduces",
            "guarantee*",
            "ward",
            "wards",
            "support",
            "supports",
            "stimulate*",
        ],
        targets: &[
            "illness*",
            "disease*",
            "sickness*",
            "malnutrition",
            "undernutrition",
            "stunting",
            "wasting",
            "anaemia",
            "anemia",
            "kwashiorkor",
            "marasmus",
            "infection*",
            "diarrhoea",
            "diarrhea",
            "cholera",
            "malaria",
            "fever*",
            "cough",
            "coughs",
            "colds",
            "flu",
            "worms",
            "measles",
            "pneumonia",
            "hiv",
            "tuberculosis",
            "cancer*",
            "diabetes",
            "asthma",
            "rickets",
            "scurvy",
            "blindness",
            "goitre",
            "constipation",
            "colic",
            "eczema",
            "virus*",
            "immunity",
            "immune",
            "brain*",
            "intelligence",
            "memory",
            "eyesight",
            "vision",
            "iq",
            "bones",
            "blood",
            "health",
            "defences",
            "concentration",
            "resistance",
        ],
        phrases: &[
            &["superfood"],
            &["superfoods"],
            &["super-food"],
            &["miracle"],
            &["miraculous"],
            &["detox*"],
            &["medicine", "for"],
            &["remedy", "for"],
            &["remedy", "against"],
            &["wonder", "food"],
            &["immunity-boosting"],
            &["immune-boosting"],
            &["brain", "food"],
            &["makes", "children", "clever"],
            &["makes", "children", "strong"],
            &["makes", "the", "child", "clever"],
            &["makes", "the", "child", "strong"],
            &["makes", "your", "child", "clever"],
            &["makes", "your", "child", "strong"],
            &["makes", "babies", "strong"],
            &["makes", "babies", "clever"],
            &["good", "for", "the", "brain"],
            &["good", "for", "the", "eyes"],
            &["good", "for", "the", "blood"],
            &["good", "for", "the", "bones"],
            &["good", "for", "the", "heart"],
            &["good", "for", "health"],
            &["good", "for", "eyesight"],
            &["keeps", "illness", "away"],
            &["keeps", "disease", "away"],
            &["keeps", "sickness", "away"],
            &["keeps", "the", "doctor", "away"],
        ],
        negators: &["no", "not", "never", "cannot", "t", "nothing", "neither", "nor", "without"],
        hygiene: &[
            "wash*", "hands", "hand", "soap", "clean*", "boil", "boiling", "cover*", "lid", "chill*", "fridge",
            "store*", "germs", "flies", "safe",
        ],
        breaks: &["if", "when", "while", "because", "after", "before", "until", "and"],
    },
    Words {
        language: "sw",
        strong: &["*ponya", "*ponyesha", "*tibu"],
        harmless: &["samaki", "nyama"],
        verbs: &[
            "*zuia",
            "*kinga",
            "*linda",
            "*epusha",
            "*pambana",
            "*punguza",
            "*ongeza",
            "*imarisha",
            "*jenga",
            "*boresha",
        ],
        targets: &[
            "ugonjwa",
            "magonjwa",
            "maradhi",
            "malaria",
            "anemia",
            "upungufu",
            "kuhara",
            "kuharisha",
            "homa",
            "utapiamlo",
            "udumavu",
            "kikohozi",
            "mafua",
            "minyoo",
            "saratani",
            "kisukari",
            "maambukizi",
            "kwashiakori",
            "upofu",
            "surua",
            "nimonia",
            "kipindupindu",
            "kinga",
            "akili",
            "ubongo",
            "mifupa",
            "damu",
            "afya",
            "kumbukumbu",
        ],
        phrases: &[&["dawa", "ya"], &["muujiza"], &["kinga", "ya", "mwili"], &["chakula", "cha", "ajabu"]],
        negators: &["si", "sio", "siyo", "hakuna", "bila", "wala", "hai*", "haki*", "hau*", "hazi*", "havi*", "hawa*"],
        hygiene: &["osha", "*nawa", "mikono", "sabuni", "safi", "*chemsha", "*funika"],
        breaks: &["ikiwa", "kama", "wakati", "baada", "kabla", "na"],
    },
    Words {
        language: "fr",
        strong: &["guérit", "guérissent", "guérir", "booste", "boostent", "booster"],
        harmless: &["goût", "saveur", "couleur", "feu", "énergie"],
        verbs: &[
            "prévient",
            "préviennent",
            "prévenir",
            "protège*",
            "protéger",
            "combat",
            "combattent",
            "combattre",
            "lutte",
            "luttent",
            "renforce*",
            "stimule*",
            "fortifie*",
            "améliore*",
            "évite",
            "évitent",
            "empêche*",
            "soigne",
            "soignent",
            "soigner",
            "traite",
            "traitent",
            "augmente",
            "augmentent",
        ],
        targets: &[
            "maladie*",
            "anémie",
            "diarrhée*",
            "paludisme",
            "malaria",
            "malnutrition",
            "fièvre*",
            "toux",
            "rhume*",
            "infection*",
            "cancer*",
            "diabète",
            "kwashiorkor",
            "carence*",
            "choléra",
            "rougeole",
            "immunité",
            "immunitaire*",
            "défenses",
            "cerveau",
            "intelligence",
            "mémoire",
            "os",
            "sang",
            "santé",
            "vue",
        ],
        phrases: &[
            &["super-aliment"],
            &["superaliment"],
            &["miracle"],
            &["miraculeux"],
            &["détox*"],
            &["remède", "contre"],
            &["médicament", "contre"],
            &["bon", "pour", "le", "cerveau"],
            &["bon", "pour", "les", "yeux"],
            &["bon", "pour", "la", "santé"],
            &["rend", "les", "enfants", "intelligents"],
            &["rend", "l", "enfant", "intelligent"],
            &["rend", "l", "enfant", "fort"],
        ],
        negators: &["ne", "n", "aucun", "aucune", "jamais", "sans", "ni"],
        hygiene: &["lave*", "laver", "mains", "savon", "propre*", "bouillir", "couvr*"],
        breaks: &["si", "quand", "lorsque", "après", "avant", "et"],
    },
];

/// In which lists of a language a word stands, as bits.
mod list {
    pub const STRONG: u8 = 1;
    pub const VERB: u8 = 2;
    pub const TARGET: u8 = 4;
    pub const NEGATOR: u8 = 8;
    pub const HYGIENE: u8 = 16;
    pub const BREAK: u8 = 32;
    pub const HARMLESS: u8 = 64;
    /// It begins a phrase.
    pub const PHRASE: u8 = 128;
}

/// All words of a language under their first byte, for every word of every
/// text is looked up in all lists.
struct Index {
    words: &'static Words,
    /// The entry, without its star; whether it has one; its lists.
    by_first: Vec<Vec<(&'static str, bool, u8)>>,
    /// Entries that say how a word ends.
    ends: Vec<(&'static str, u8)>,
    /// Of all these, those that may begin a promise, under their first and
    /// their last byte.
    begins_by_first: Vec<Vec<(&'static str, bool)>>,
    begins_by_last: Vec<Vec<&'static str>>,
}

impl Index {
    fn new(words: &'static Words) -> Self {
        let mut index = Self {
            words,
            by_first: vec![Vec::new(); 256],
            ends: Vec::new(),
            begins_by_first: vec![Vec::new(); 256],
            begins_by_last: vec![Vec::new(); 256],
        };
        for (entries, bit) in [
            (words.strong, list::STRONG),
            (words.verbs, list::VERB),
            (words.targets, list::TARGET),
            (words.negators, list::NEGATOR),
            (words.hygiene, list::HYGIENE),
            (words.breaks, list::BREAK),
            (words.harmless, list::HARMLESS),
        ] {
            entries.iter().for_each(|entry| index.add(entry, bit));
        }
        words.phrases.iter().filter_map(|phrase| phrase.first()).for_each(|entry| index.add(entry, list::PHRASE));
        index
    }

    fn add(&mut self, entry: &'static str, bit: u8) {
        let begins = bit & (list::STRONG | list::VERB | list::PHRASE) != 0;
        if let Some(end) = entry.strip_prefix('*') {
            self.ends.push((end, bit));
            let last = end.bytes().next_back().map_or(0, usize::from);
            if let Some(entries) = self.begins_by_last.get_mut(last).filter(|_| begins) {
                entries.push(end);
            }
            return;
        }
        let (start, star) = entry.strip_suffix('*').map_or((entry, false), |start| (start, true));
        let first = start.bytes().next().map_or(0, usize::from);
        if let Some(entries) = self.by_first.get_mut(first) {
            entries.push((start, star, bit));
        }
        if let Some(entries) = self.begins_by_first.get_mut(first).filter(|_| begins) {
            entries.push((start, star));
        }
    }

    /// Whether a promise may begin with a word.
    fn begins(&self, word: &str) -> bool {
        let byte = |byte: Option<u8>| byte.map_or(0, usize::from);
        let (first, last) = (byte(word.bytes().next()), byte(word.bytes().next_back()));
        let fits = |(start, star): &(&str, bool)| if *star { word.starts_with(start) } else { word == *start };
        self.begins_by_first.get(first).is_some_and(|entries| entries.iter().any(fits))
            || self.begins_by_last.get(last).is_some_and(|entries| entries.iter().any(|end| word.ends_with(end)))
    }

    fn lists(&self, word: &str) -> u8 {
        let first = word.bytes().next().map_or(0, usize::from);
        let begins = self.by_first.get(first).into_iter().flatten();
        let fits = begins.filter(|(start, star, _)| if *star { word.starts_with(start) } else { word == *start });
        let ends = self.ends.iter().filter(|(end, _)| word.ends_with(end));
        fits.map(|(_, _, bit)| bit).chain(ends.map(|(_, bit)| bit)).fold(0, |all, bit| all | bit)
    }
}

fn index(language: &str) -> Option<&'static Index> {
    static INDEXES: OnceLock<Vec<Index>> = OnceLock::new();
    let all = INDEXES.get_or_init(|| LANGUAGES.iter().map(Index::new).collect());
    all.iter().find(|index| index.words.language == language)
}

pub fn check(texts: &[Prose<'_>], sink: &mut Sink) {
    for prose in texts {
        let Some(index) = index(prose.language) else { continue };
        if let Some(promise) = prose.sentences().find_map(|sentence| promise(sentence, index)) {
            sink.push(
                Diagnostic::new(
                    Code::ClaimVagueWord,
                    prose.span,
                    format!("{} promises health, which no dish can", quote(&promise)),
                )
                .help("leave it out; or say what the food holds in a line that is proven: `claim source of iron`"),
            );
        }
    }
}

/// The first promise of a sentence, in its own words.
fn promise(sentence: &[&str], index: &Index) -> Option<String> {
    // Most sentences have no word that may begin one.
    if !sentence.iter().any(|word| index.begins(word)) {
        return None;
    }
    let lists: Vec<u8> = sentence.iter().map(|word| index.lists(word)).collect();
    let is = |at: usize, list: u8| lists.get(at).is_some_and(|lists| lists & list != 0);
    let hygiene = lists.iter().any(|lists| lists & list::HYGIENE != 0);
    (0..sentence.len()).filter(|at| is(*at, list::STRONG | list::VERB | list::PHRASE)).find_map(|at| {
        let word = sentence.get(at)?;
        if (at.saturating_sub(BEFORE)..at).any(|before| is(before, list::NEGATOR)) {
            return None;
        }
        let phrase = index.words.phrases.iter().filter(|_| is(at, list::PHRASE)).find(|phrase| {
            phrase
                .iter()
                .enumerate()
                .all(|(step, part)| sentence.get(at + step).is_some_and(|word| prose::fits(part, word)))
        });
        if let Some(phrase) = phrase {
            return Some(sentence.get(at..at + phrase.len())?.join(" "));
        }
        if is(at, list::STRONG) {
            // What is cured may stand before the verb too: "the fish cures".
            let harmless = lists.iter().any(|lists| lists & list::HARMLESS != 0);
            return (!harmless).then(|| (*word).to_owned());
        }
        // A negative verb of Swahili begins otherwise than the word lists do.
        if hygiene || !is(at, list::VERB) {
            return None;
        }
        let target = (at + 1..=at + REACH)
            .take_while(|behind| *behind < sentence.len() && !is(*behind, list::BREAK))
            .find(|behind| is(*behind, list::TARGET))?;
        Some(sentence.get(at..=target)?.join(" "))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(language: &str, text: &str) -> Option<String> {
        let index = index(language)?;
        prose::Words::of(text).map(|sentence| promise(sentence, index)).into_iter().flatten().next()
    }

    #[test]
    fn promises_are_found() {
        for (language, text) in [
            ("en", "This mash boosts immunity."),
            ("en", "Immunity booster for the rainy season"),
            ("en", "It cures anaemia."),
            ("en", "Eaten daily it prevents malaria and fever."),
            ("en", "Pumpkin protects the child from illness."),
            ("en", "A superfood from the lake."),
            ("en", "Builds strong bones."),
            ("en", "Makes children clever."),
            ("en", "The leaves are medicine for the blood."),
            ("sw", "Uji huu huponya anemia."),
            ("sw", "Hukinga malaria."),
            ("sw", "Huongeza damu haraka."),
            ("sw", "Ni dawa ya kikohozi."),
            ("fr", "Cette purée guérit l’anémie."),
            ("fr", "Elle renforce l’immunité de l’enfant."),
            ("fr", "Prévient le paludisme."),
        ] {
            assert!(found(language, text).is_some(), "{text}");
        }
    }

    #[test]
    fn harmless_uses_are_not() {
        for (language, text) in [
            ("en", "Stir all the time: this prevents sticking."),
            ("en", "Wash your hands with soap to prevent diarrhoea."),
            ("en", "No food cures malaria. Go to the health worker."),
            ("en", "It does not prevent illness."),
            ("en", "Use cured fish; the salt cures the fish in a day."),
            ("en", "A little oil boosts the taste."),
            ("en", "Oil boosts the energy of the porridge."),
            ("en", "Treat the pan with care. Heat it."),
            ("en", "If the child has a fever or diarrhoea, go on feeding."),
            ("en", "Stop if the child is ill. Keep the health card."),
            ("en", "Reduce the heat and cook until soft."),
            ("en", "Protect the bowl from flies."),
            ("en", "Good for the whole family."),
            ("en", "A child needs iron to grow."),
            ("en", "Take out the bones. Stop the fish falling apart."),
            ("sw", "Usiongeze sukari. Ongeza maji kidogo."),
            ("sw", "Nawa mikono kwa sabuni ili kuzuia kuhara."),
            ("sw", "Koroga ili kuzuia kuganda."),
            ("sw", "Hiki si dawa ya ugonjwa."),
            ("fr", "Remuez : cela évite que la bouillie colle."),
            ("fr", "Lavez les mains pour prévenir la diarrhée."),
            ("fr", "Aucun aliment ne guérit le paludisme."),
        ] {
            assert_eq!(found(language, text), None, "{text}");
        }
    }
}
