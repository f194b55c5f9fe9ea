//! Any text on a page.

use std::sync::OnceLock;

use porringer::ast::Document;
use porringer::card::{self, Imprint, Locale, Maker};
use porringer::check::check;
use porringer::diagnostic::Severity;
use porringer::reference::Reference;
use porringer::resolve::food::NoDishes;
use porringer::source::Source;
use porringer::syntax::Kind;
use porringer::typeset::{Engine, Forms, Template, fonts};
use unicode_normalization::UnicodeNormalization;

/// What an author writes reaches the page as text, whatever the typesetter's
/// language makes of its signs: four lines, each at several places of a card in
/// two languages. Gives how many texts were looked for; none where the dish is
/// refused.
pub fn text(bytes: &[u8]) -> usize {
    static ENGINE: OnceLock<(Engine, Template)> = OnceLock::new();
    let (engine, template) = ENGINE
        .get_or_init(|| (Engine::new(1, Vec::new()).expect("an engine"), Template::built_in("card").expect("a look")));
    let input = super::read(bytes);
    let mut lines = input.split(['\n', '\r']).map(|line| if line.trim().is_empty() { "a" } else { line });
    let [title, title_sw, prose, prose_sw] = [(); 4].map(|()| lines.next().unwrap_or("a"));
    let dish = format!(
        "dish     {title}\nin sw    {title_sw}\nfor      9 to 11 months\nmakes    1 1/2 cups\ncooked   360 g\n\
         portion  1/2 cup\n\ntake     300 g pumpkin, peeled, cubed\ntake     2 tbsp groundnut paste, smooth\n\n\
         step     boil pumpkin for 15 min; drain pumpkin: {prose}\nin sw    {prose_sw}\n\
         step     mash pumpkin with groundnut paste for 3 min\nserve    {title_sw}\nin sw    {prose}\n\
         caution  {prose_sw}\nin sw    {title}\n"
    );
    let reference = Reference::default();
    let mut checked = check(Source::new("a", dish), Kind::Dish, "a", &reference, &NoDishes);
    let Document::Dish(written) = &checked.document else { return 0 };
    let languages = ["en".to_owned(), "sw".to_owned()];
    card::texts::check(written, "en", &languages, &|sign| fonts::covers(sign, &[]), &mut checked.diagnostics);
    let refused = checked.diagnostics.iter().any(|message| message.severity == Severity::Error);
    let (false, Some(dish)) = (refused, &checked.dish) else { return 0 };
    let imprint = Imprint { paper: "A4".to_owned(), ..Imprint::default() };
    let mut found = 0;
    for tag in ["en", "sw"] {
        let locale = Locale::new(tag).expect("a built-in language");
        let maker =
            Maker { dish, reference: &reference, locale: &locale, own_language: "en", imprint: &imprint, changed: &[] };
        let forms = Forms { pdf: true, svg: true, png: false };
        let pages = engine.card(template, &card::make(&maker), None, forms).expect("pages");
        if pages.pdf.is_empty() {
            // More than a sheet holds.
            continue;
        }
        let pdf = lopdf::Document::load_mem(&pages.pdf).expect("a PDF");
        let numbers: Vec<u32> = pdf.get_pages().into_keys().collect();
        let said = bare(&pdf.extract_text(&numbers).expect("its words"));
        let header = &written.header;
        let prose = written.parts.iter().flat_map(|part| &part.steps).filter_map(|step| step.prose.as_ref());
        for text in header.title.iter().chain(prose).chain(header.remarks.iter().map(|remark| &remark.text)) {
            let text = text.in_language(tag).unwrap_or(&text.value);
            assert!(said.contains(&bare(text)), "{text:?} is not on the {tag} card: {said}");
            found += 1;
        }
        for page in &pages.svg {
            assert!(page.starts_with("<svg") && page.trim_end().ends_with("</svg>") && !page.contains("<script"));
        }
    }
    found
}

/// Without blanks, signs that are not drawn, and the size of letters: a remark
/// begins with a capital.
fn bare(text: &str) -> String {
    let unseen =
        |c: &char| !c.is_whitespace() && !matches!(c, '\u{AD}' | '\u{200C}'..='\u{200F}' | '\u{FE00}'..='\u{FE0F}');
    text.nfc().collect::<String>().to_lowercase().chars().filter(unseen).collect()
}
