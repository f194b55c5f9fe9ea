//! `porringer claims`

use serde_json::Value;

use crate::{BROKEN, Folder, MASH, exactly};

fn with_claim(claim: &str) -> String {
    MASH.replace("portion  1/2 cup\n", &format!("portion  1/2 cup\nclaim    {claim}\n"))
}

fn object(folder: &Folder, code: i32) -> Value {
    let ran = folder.run(&["claims", "mash.dish", "--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str()), (code, ""), "{ran:?}");
    ran.json()
}

#[test]
fn a_claim_is_shown_with_its_arithmetic() {
    let folder = Folder::with("mash.dish", with_claim("rich in vitamin A"));
    let dish = object(&folder, 0);
    assert_eq!(dish["schema"], "porringer-claims/1");
    let claim = &dish["claims"][0];
    assert_eq!(
        (&claim["claim"], &claim["tag"], &claim["holds"]),
        (&"rich in vitamin A".into(), &"VITA_RAE".into(), &true.into())
    );
    let standing = &claim["standings"][0];
    assert_eq!((&standing["band"], &standing["basis"]), (&"9-11".into(), &"portion".into()));
    // 15 % twice, of 500 µg.
    assert_eq!(
        (&standing["share"], &standing["need"], &standing["threshold"]),
        (&0.3.into(), &500.into(), &150.into())
    );
    assert!(standing["value"].as_f64().unwrap() >= 150.0);
    assert!(claim["closers"].as_array().unwrap().is_empty());
    let also: Vec<&str> = dish["also"].as_array().unwrap().iter().map(|one| one["claim"].as_str().unwrap()).collect();
    assert!(also.contains(&"free of sodium"), "{also:?}");
    // The stronger word says the weaker, and what is claimed is not offered.
    assert!(also.iter().all(|claim| !claim.ends_with("vitamin A")), "{also:?}");
}

/// Adds each food that is offered, as the program says to, and claims again.
#[test]
fn what_would_close_a_gap_does() {
    let folder = Folder::with("mash.dish", with_claim("source of iron"));
    let dish = object(&folder, 1);
    let claim = &dish["claims"][0];
    assert_eq!(claim["holds"], false);
    let closers = claim["closers"].as_array().unwrap();
    assert!(closers.len() >= 3, "{claim}");
    let mut last = 0.0;
    for closer in closers {
        let grams = closer["grams"].as_f64().unwrap();
        assert!(grams >= last, "least first: {closers:?}");
        last = grams;
        let food = closer["food"].as_str().unwrap();
        let close = |grams: f64| {
            let heat = match closer["way"].as_str().unwrap() {
                "stirred in" => "mash more",
                "mashed in" => "warm more for 3 min; mash more",
                _ => "boil more for 300 min; mash more",
            };
            let text = with_claim("source of iron")
                .replace("cooked   360 g", &format!("cooked   {} g", 360.0 + grams))
                .replace("\nstep     mash", &format!("\nstep     {heat}\nstep     mash"))
                .replace("\ntake     2 tbsp", &format!("\ntake     {grams:.6} g {food} as more\ntake     2 tbsp"))
                // The portion keeps its weight.
                .replace("portion  1/2 cup", "portion  120 g");
            folder.write("more.dish", text);
            let ran = folder.run(&["claims", "more.dish", "--format", "json"]);
            ran.json()["claims"][0]["holds"].as_bool().unwrap()
        };
        assert!(close(grams + 0.01), "{closer}");
        assert!(!close(grams * 0.97), "{closer}");
    }
}

#[test]
fn nothing_unsafe_is_offered() {
    let folder = Folder::new();
    for claim in ["source of iron", "rich in vitamin B12", "source of zinc", "rich in calcium", "rich in vitamin C"] {
        folder.write("mash.dish", with_claim(claim));
        let dish = folder.run(&["claims", "mash.dish", "--format", "json"]).json();
        for closer in dish["claims"][0]["closers"].as_array().unwrap() {
            let food = closer["food"].as_str().unwrap();
            for never in ["honey", "tea", "coffee", "salt", "sugar", "kidney beans, dry"] {
                assert!(!food.split([' ', ',']).any(|word| word == never) && food != never, "{claim}: {food}");
            }
        }
    }
    // A diet rules out what it leaves out.
    folder.write("mash.dish", with_claim("source of iron").replace("claim ", "diet     vegan\nclaim "));
    let dish = object(&folder, 1);
    for closer in dish["claims"][0]["closers"].as_array().unwrap() {
        let brings = closer["brings"].as_array().unwrap();
        assert!(!brings.contains(&"fish".into()) && !brings.contains(&"eggs".into()), "{closer}");
    }
}

#[test]
fn each_alternative_has_its_line() {
    let text = with_claim("rich in vitamin A").replace("cubed", "cubed or potato, peeled, cubed as pumpkin");
    let folder = Folder::with("mash.dish", text);
    let dish = object(&folder, 1);
    let standings = dish["claims"][0]["standings"].as_array().unwrap();
    let found: Vec<_> = standings.iter().map(|one| (one["with"].as_str(), one["holds"].as_bool().unwrap())).collect();
    assert_eq!(found, [(None, true), (Some("potato, peeled, cubed"), false)]);
    let ran = folder.run(&["claims", "mash.dish"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("rich in vitamin A: does not hold\n"), "{}", ran.out);
    assert!(ran.out.contains("would close it, least weight first;"), "{}", ran.out);
    assert_eq!(
        folder
            .run(&["check", "mash.dish", "--format", "short"])
            .out
            .lines()
            .next()
            .map(|line| line.contains("error[claim/met-only-by-some-alternatives] with `potato`")),
        Some(true)
    );
}

#[test]
fn two_alternatives_may_fail_together() {
    // Either food may be left out; without both there is no vitamin A.
    let text = with_claim("source of vitamin A")
        .replace(
            "300 g pumpkin, peeled, cubed",
            "150 g pumpkin, cubed or potato, cubed as pumpkin\ntake     150 g carrot, cubed or potato, cubed as carrot",
        )
        .replace("boil pumpkin", "boil pumpkin, carrot")
        .replace("mash pumpkin", "mash pumpkin, carrot");
    let folder = Folder::with("mash.dish", text);
    let ran = folder.run(&["check", "mash.dish", "--format", "short"]);
    assert!(
        ran.out.contains("error[claim/met-only-by-some-alternatives] with the weakest food of every line"),
        "{ran:?}"
    );
}

#[test]
fn what_cannot_be_claimed_says_why() {
    let folder = Folder::new();
    for (claim, why) in [
        ("low in potassium", "a child needs potassium"),
        ("low in sugar", "the profile has a limit for `free of sugar` only"),
        ("source of salt", "only \"low in\" or \"free of\" can be proven"),
        ("source of energy", "the card prints the energy of each portion"),
    ] {
        folder.write("mash.dish", with_claim(claim));
        let dish = object(&folder, 1);
        let refused = dish["claims"][0]["refused"].as_str().unwrap();
        assert!(refused.contains(why), "{claim}: {refused}");
        let ran = folder.run(&["claims", "mash.dish"]);
        assert!(ran.out.contains(why), "{claim}: {}", ran.out);
    }
}

#[test]
fn an_upper_limit_is_held_against_a_claim() {
    let text = "dish Beef mash\nfor 9 to 11 months\nmakes 1 cup\ncooked 250 g\nportion 1/2 cup\nclaim source of zinc\n\
        take 240 g beef, raw, minced as beef\nstep boil beef for 40 min; mash beef\n";
    let folder = Folder::with("mash.dish", text);
    let dish = object(&folder, 1);
    let claim = &dish["claims"][0];
    assert_eq!(
        (&claim["holds"], &claim["upper_limit"]["tag"], &claim["upper_limit"]["limit"]),
        (&false.into(), &"ZN".into(), &5.into())
    );
    assert!(dish["also"].as_array().unwrap().iter().all(|one| one["tag"] != "ZN"));
    // Magnesium counts only as a supplement: food does not reach its limit.
    folder.write(
        "mash.dish",
        "dish Seeds\nfor 12 to 23 months\nmakes 1 cup\ncooked 250 g\nportion 1/2 cup\n\
        claim rich in magnesium\ntake 60 g pumpkin seeds, ground as seeds\nstep mash seeds\n",
    );
    let dish = folder.run(&["claims", "mash.dish", "--format", "json"]).json();
    let standing = &dish["claims"][0]["standings"][0];
    assert!(standing["value"].as_f64().unwrap() > 65.0, "{standing}");
    assert_eq!((&dish["claims"][0]["holds"], &dish["claims"][0]["upper_limit"]), (&true.into(), &Value::Null));
}

#[test]
fn without_figures_there_is_no_proof() {
    let folder = Folder::with("broken.dish", BROKEN);
    assert_eq!(
        folder.run(&["claims", "broken.dish"]),
        exactly(1, "", "porringer: broken.dish: some food or weight is not known; see `porringer check`\n")
    );
    folder.write("day.menu", "menu A day\nfor 12 to 23 months\nmeal 7:00: 1 banana\n");
    assert_eq!(folder.run(&["claims", "day.menu"]).code, 2);
    folder.write("mash.dish", MASH);
    let ran = folder.run(&["claims", "mash.dish"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.contains("the dish makes no claim\n"), "{}", ran.out);
}

#[test]
fn foods_that_close_a_gap_stand_in_the_order_of_cost() {
    let folder = Folder::with("mash.dish", with_claim("source of iron"));
    let wrong = folder.run(&["claims", "mash.dish", "--by", "cost"]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("`--by cost` wants a price list"), "{wrong:?}");
    folder.write(
        "porringer.toml",
        "prices = \"prices.csv\"\nregion = \"east-africa\"\n[season]\n\"chicken liver\" = \"june\"\n",
    );
    folder.write(
        "prices.csv",
        "food,unit,price,currency\n\"chicken liver, raw\",kg,400,x\n\"small dried lake fish powder\",kg,900,x\n\
         \"lentils, boiled\",kg,200,x\n\"amaranth flour\",kg,100,x\n\"sesame paste\",kg,900,x\n\"beef liver, raw\",kg,500,x\n",
    );
    let list = |more: &[&str]| -> (Vec<Value>, Vec<Value>) {
        let ran = folder.run(&[&["claims", "mash.dish", "--format", "json"], more].concat());
        let claim = ran.json()["claims"][0].clone();
        (claim["closers"].as_array().unwrap().clone(), claim["out_of_season"].as_array().unwrap().clone())
    };
    let (closers, _) = list(&["--by", "cost"]);
    let costs: Vec<Option<f64>> = closers.iter().map(|one| one["cost"].as_f64()).collect();
    assert!(costs[0].is_some() && costs[1].is_some(), "{closers:?}");
    // Least cost first, what has no price last.
    let order: Vec<f64> = costs.iter().map(|cost| cost.unwrap_or(f64::INFINITY)).collect();
    assert!(order.is_sorted(), "{order:?}");
    // A gram of flour costs 0.1: the arithmetic is that of the list.
    let flour = closers.iter().find(|one| one["food"].as_str().unwrap().starts_with("amaranth flour")).unwrap();
    let (cost, grams) = (flour["cost"].as_f64().unwrap(), flour["grams"].as_f64().unwrap());
    assert!((cost - grams * 0.1).abs() < 1e-6, "{flour}");
    // By weight it is another order, of the same foods' costs.
    let (by_weight, later) = list(&["--by", "weight", "--season", "june"]);
    assert!(later.is_empty(), "{later:?}");
    assert!(by_weight.iter().map(|one| one["grams"].as_f64().unwrap()).is_sorted());
    let (december, later) = list(&["--season", "december"]);
    let liver = |list: &[Value]| list.iter().any(|one| one["food"].as_str().unwrap().starts_with("chicken liver"));
    assert!(liver(&later) && !liver(&december), "{december:?} {later:?}");
    let told = folder.run(&["claims", "mash.dish", "--season", "december"]).out;
    assert!(told.contains("    not in december: chicken liver, "), "{told}");
}
