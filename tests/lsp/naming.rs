//! Go to, references and rename of ingredient and part names.

use porringer::lsp::names::{Target, definition, references};
use porringer::lsp::rename::{apply, prepare, rename};

use crate::{Lone, MASH, cursor};

const PARTS: &str = "\
dish     Maize cakes
for      12 to 23 months
makes    8 pieces
part     filling
take     1/2 cup cowpeas, dry as peas
take     1 tbsp sunflower oil
step     soak peas for 8 h, unattended; drain peas
step     boil the soaked peas for 60 min; mash peas with
         # the oil comes last
         half of the sunflower  oil
part     cakes
take     1 cup maize flour
step     fill maize flour with filling
step     steam everything for 20 min
swap     peas for green grams, dry
";

fn words(text: &str, marked: &str) -> Vec<String> {
    let at = text.find(marked).expect(marked);
    let lone = Lone::dish(text);
    references(&lone.view(), at).iter().map(|one| text[one.span.range()].to_owned()).collect()
}

#[test]
fn references_are_found_in_steps_and_swaps() {
    assert_eq!(words(PARTS, "peas for 8"), ["peas"; 6], "its own line, four in steps, one in a swap");
    assert_eq!(words(PARTS, "sunflower  oil"), ["sunflower oil", "sunflower  oil"]);
    assert_eq!(words(PARTS, "filling\nstep     steam"), ["filling", "filling"]);
    let lone = Lone::dish(PARTS);
    let at = PARTS.rfind("peas for").unwrap();
    let line = PARTS.find("peas\ntake").unwrap();
    assert_eq!(definition(&lone.view(), at), Some(Target::Here(porringer::source::Span::new(line, line + 4))));
    assert_eq!(definition(&lone.view(), PARTS.find("60 min").unwrap()), None);
}

#[track_caller]
fn renamed(text: &str, marked: &str, name: &str) -> Result<String, String> {
    let lone = Lone::dish(text);
    let at = text.find(marked).expect(marked);
    rename(&lone.view(), at, name).map(|edits| apply(text, &edits))
}

#[test]
fn an_alias_is_renamed_wherever_it_stands() {
    let text = renamed(PARTS, "peas for 8", "black-eyes").unwrap();
    let wanted = PARTS.replace(" peas", " black-eyes");
    assert_eq!(text, wanted);
}

#[test]
fn a_food_without_an_alias_is_given_one() {
    let text = renamed(PARTS, "sunflower  oil", "fat").unwrap();
    let wanted = PARTS.replace("take     1 tbsp sunflower oil", "take     1 tbsp sunflower oil as fat");
    assert_eq!(text, wanted.replace("half of the sunflower  oil", "half of the fat"));
    let text = renamed(PARTS, "filling", "mash of peas").unwrap();
    assert_eq!(text, PARTS.replace("filling", "mash of peas"));
}

#[test]
fn a_name_that_would_mean_something_else_is_refused() {
    for (name, why) in [
        ("", "at least one letter"),
        ("a, b", "`,` ends a name"),
        ("peas (dry)", "`(` ends a name"),
        ("peas with oil", "`with` has a meaning"),
        ("peas as such", "`as` has a meaning"),
        ("Sunflower oils", "`sunflower oil` has it already"),
        ("filling", "`filling` has it already"),
        ("everything", "some step would mean something else"),
        ("child", "some step would mean something else"),
    ] {
        let refused = renamed(PARTS, "peas for 8", name).expect_err(name);
        assert!(refused.contains(why), "{name}: {refused}");
    }
}

#[test]
fn nothing_is_renamed_where_no_name_stands() {
    let (text, at) = cursor(&MASH.replace("until soft", "until so|ft"));
    let lone = Lone::dish(&text);
    assert_eq!(prepare(&lone.view(), at), None);
    assert!(rename(&lone.view(), at, "x").is_err());
    let (text, at) = cursor(&MASH.replace("mash sweet potato", "mash sweet po|tato"));
    let (span, name) = prepare(&Lone::dish(&text).view(), at).unwrap();
    assert_eq!((&text[span.range()], name.as_str()), ("sweet potato", "sweet potato"));
}

#[test]
fn every_ingredient_of_the_demo_set_can_be_renamed() {
    let mut count = 0;
    for (path, kind, text) in crate::recipes()
        .into_iter()
        .filter(|(path, ..)| path.starts_with(env!("CARGO_MANIFEST_DIR").to_owned() + "/recipes"))
    {
        if kind != porringer::syntax::Kind::Dish {
            continue;
        }
        let lone = Lone::of(kind, &text);
        let view = lone.view();
        let dish = view.checked.dish.as_ref().unwrap();
        for one in porringer::lsp::names::all(&dish.resolved, &view.checked.source).iter().filter(|one| one.definition)
        {
            let edits = rename(&view, one.span.start, "zebu").unwrap_or_else(|why| panic!("{}: {why}", path.display()));
            let new = apply(&text, &edits);
            let codes = |text: &str| {
                let lone = Lone::of(kind, text);
                let codes: Vec<_> = lone.view().checked.diagnostics.iter().map(|one| one.code).collect();
                codes
            };
            assert_eq!(codes(&new), codes(&text), "{}:\n{new}", path.display());
            count += 1;
        }
    }
    assert!(count > 60, "{count}");
}
