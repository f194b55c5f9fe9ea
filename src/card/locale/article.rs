//! The definite article of French: a step says "Lavez la mangue et les œufs".
//!
//! A catalogue cannot know the gender of a food. The larder's French names
//! begin with some four hundred nouns; their genders stand here. A name whose
//! first word is not among them stays without an article, as on a list.

/// Feminine nouns in the singular.
const FEMININE: &str = "acérola amande amarante anguille arachide asperge aubergine avoine baguette baie banane barbarée baselle \
    betterave bette bière biscotte blette boisson bouillie boulette cacahuète caille calebasse canneberge cannelle \
    carambole cardamome carotte carpe cassonade cerise chair chapelure châtaigne chayote chicorée chérimole christophine \
    ciboule ciboulette citronnelle citrouille clémentine compote confiture coriandre courbine corète corossole courge courgette \
    crevette crème cuisse datte daurade dinde dorade eau eau-de-vie endive ethmalose farce farine feuille figue fleur fraise framboise \
    fève fécule galette garniture gomme gousse goyave graine graisse grenade groseille guimauve gélatine herbe huile \
    huître igname infusion jambose laitue langouste langue lentille levure lime lotte macédoine mandarine mangue \
    margarine margose marjolaine marmelade mayonnaise menthe moelle morue mote moule moutarde mozzarella muscade myrtille \
    mâche mélasse mûre nectarine noisette noix nouille nèfle oie olive orange orge oseille palourde papaye pastèque \
    patate perche perle pistache pintade poire poitrine pomme pousse poudre poule prune préparation purée pâte pêche \
    racine raie rate ricotta roquette sardine sapotille sauce saucisse sauge semoule sole soupe tétragone tige tomate \
    truite viande volvaire échalote écrevisse éleusine";

/// Masculine nouns in the singular, and adjectives that stand before one.
const MASCULINE: &str = "abricot agneau ail alcool ambérique amidon ananas anchois aneth anis artichaut avocat bar \
    basilic beurre bicarbonate biscuit bissap blanc blé boeuf bonbon boudin bouillon boulgour brochet brocoli \
    brocoli-rave bâtonnet bœuf cabillaud cacao café calmar canard carvi cassis cañihua champignon chanos chevreuil \
    chinchard chocolat chou chou-fleur chou-rave chrysanthème chuño chénopode citron cochon coing concentré concombre \
    coqueret corossol coryphène coulis couscous crabe craquelin cresson cube cumin curcuma céleri céleri-rave cœur \
    daikon dolique durian emmental encornet escargot espadon extrait feijoa fenouil fenugrec feta filet flageolet foie \
    fonio fromage fruit gari germe ghee gibier gingembre gombo gouda gruau gésier hareng haricot haut homard hoplostète \
    jambon jamelon jaque jaune jicama jujube jus kaki ketchup kiwi lablab lactosérum lait lapin lard laurier lieu \
    liseron litchi longane loup lupin macabo macaroni macis mahi-mahi manioc maquereau maracuja marlin marron maïs \
    melon merlan merlu miel mil millet miso mou mouton mulet mérou navet niébé oeuf oignon origan ortie otolithe pain \
    pak-choï pamplemousse panais paprika parmesan pavot persil petit petit-lait physalis pigeon pignon piment pissenlit \
    plantain pleurote poireau pois poisson poisson-chat poisson-lait poivre poivron porc potiron poulet poulpe poumon \
    pourpier pruneau pâté quinoa radis raisin ramboutan requin riz rognon romarin rutabaga safran saindoux salami \
    sarrasin saucisson saumon sel shiitaké silure sirop soda soja sorgho spaghetti sucre suif sésame tamarin tapioca \
    taro tarwi teff tempeh thazard thon thym thé tilapia tofu topinambour veau vin vinaigre vivaneau voandzou yaourt \
    edamame égousi egousi tile édam églefin épeautre œuf";

/// Plurals that are not their singular with an `s`.
const PLURAL: &str = "abats choux épinards gâteaux gros jeunes macaronis morceaux noix orties petites petits pois poireaux pruneaux \
    câpres chips clous crustacés fanes flocons germes pignons pilchards tripes vermicelles spaghettis céréales";

/// An `h` that keeps its article whole.
const ASPIRATED: &str = "hareng haricot homard haut";

fn among(list: &str, word: &str) -> bool {
    list.split_whitespace().any(|own| own == word)
}

/// The name with its definite article; unchanged where the first word is not
/// known, or is an article already.
pub fn definite(name: &str) -> String {
    let first = name.split(|c: char| c.is_whitespace() || c == ',').next().unwrap_or_default().to_lowercase();
    let singular = among(FEMININE, &first) || among(MASCULINE, &first);
    let stem = first.strip_suffix(['s', 'x']).unwrap_or(&first);
    let plural =
        among(PLURAL, &first) || (!singular && stem != first && (among(FEMININE, stem) || among(MASCULINE, stem)));
    if plural {
        return format!("les {name}");
    }
    if !singular {
        return name.to_owned();
    }
    let vowel = first.starts_with(|c: char| "aeiouâàéèêëîïôûœh".contains(c)) && !among(ASPIRATED, &first);
    if vowel {
        format!("l’{name}")
    } else if among(FEMININE, &first) {
        format!("la {name}")
    } else {
        format!("le {name}")
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn foods_get_their_article() {
        for (name, expected) in [
            ("mangue bien mûre", "la mangue bien mûre"),
            ("œufs", "les œufs"),
            ("œuf", "l’œuf"),
            ("haricots rouges secs", "les haricots rouges secs"),
            ("haricot", "le haricot"),
            ("huile de tournesol", "l’huile de tournesol"),
            ("maïs", "le maïs"),
            ("riz, blanc", "le riz, blanc"),
            ("choux", "les choux"),
            ("yaourt", "le yaourt"),
            ("petits poissons séchés", "les petits poissons séchés"),
            ("la mangue", "la mangue"),
            ("zzyzx", "zzyzx"),
            ("", ""),
        ] {
            assert_eq!(definite(name), expected);
        }
    }

    #[test]
    fn every_french_name_of_the_larder_has_an_article() {
        let larder = crate::reference::larder::Larder::built_in();
        let mut without: Vec<&str> = larder
            .rows()
            .iter()
            .flat_map(|row| row.fr.iter())
            .map(String::as_str)
            .filter(|name| definite(name) == *name)
            .collect();
        without.sort_unstable();
        without.dedup();
        assert!(without.is_empty(), "{without:?}");
    }
}
