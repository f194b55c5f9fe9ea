//! Pages put side by side on larger sheets, for a printer. The pages are taken
//! over as they are, as drawings, at their true size; tags, outline and links
//! stay behind, so the sheets are for paper only and the file that is read
//! stays the one beside them.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, LoadOptions, Object, ObjectId, SaveOptions, Stream, dictionary};

/// How pages are put on sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, clap::ValueEnum)]
pub enum Impose {
    /// Two pages a side, in the order for a booklet that is folded once and
    /// stitched in the fold.
    Fold,
    /// Each page twice a side: cut in the middle, there are two copies.
    TwoUp,
}

/// What is made beside the file that is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Sheets {
    /// None: one page a sheet, with room for the marks about it.
    pub impose: Option<Impose>,
    pub crop_marks: bool,
}

impl Sheets {
    /// `None` where nothing more is asked for.
    pub fn new(impose: Option<Impose>, crop_marks: bool) -> Option<Self> {
        (impose.is_some() || crop_marks).then_some(Self { impose, crop_marks })
    }

    /// What the file's name ends in, before `.pdf`.
    pub fn name(self) -> &'static str {
        match (self.impose, self.crop_marks) {
            (Some(Impose::Fold), false) => "fold",
            (Some(Impose::Fold), true) => "fold.marks",
            (Some(Impose::TwoUp), false) => "two-up",
            (Some(Impose::TwoUp), true) => "two-up.marks",
            (None, _) => "marks",
        }
    }

    /// Whether so many pages can be put on sheets in this way: one sheet of two
    /// sides cannot be folded into a booklet.
    pub fn takes(self, pages: usize) -> bool {
        self.impose != Some(Impose::Fold) || pages > 2
    }
}

/// Points in a millimetre.
const MM: f64 = 72.0 / 25.4;
/// Room about a sheet for the marks, the gap between page and mark, its length.
const ROOM: f64 = 10.0 * MM;
const GAP: f64 = 3.0 * MM;
const LENGTH: f64 = 5.0 * MM;

/// Sides of the sheets: which page stands where, counted from 0; `None` is a
/// blank. For a language that is read from the right the fold is turned round.
pub fn sides(pages: usize, impose: Option<Impose>, right_to_left: bool) -> Vec<Vec<Option<usize>>> {
    match impose {
        None => (0..pages).map(|page| vec![Some(page)]).collect(),
        Some(Impose::TwoUp) => (0..pages).map(|page| vec![Some(page); 2]).collect(),
        Some(Impose::Fold) => {
            let full = pages.div_ceil(4) * 4;
            (0..full / 2)
                .map(|side| {
                    // Sides alternate: the higher page is on the left outside,
                    // on the right inside.
                    let (low, high) = (side, full - 1 - side);
                    let mut two = if side % 2 == 0 { [high, low] } else { [low, high] };
                    if right_to_left {
                        two.reverse();
                    }
                    two.iter().map(|page| (*page < pages).then_some(*page)).collect()
                })
                .collect()
        }
    }
}

/// The sheet that two pages of a size fill, in points: the next larger paper.
fn sheet(width: f64, height: f64) -> (f64, f64) {
    const PAPERS: [(f64, f64); 4] = [(297.0, 420.0), (210.0, 297.0), (148.0, 210.0), (279.4, 431.8)];
    let near = |a: f64, b: f64| (a - b).abs() < 2.0 * MM;
    PAPERS
        .into_iter()
        .map(|(short, long)| (long * MM, short * MM))
        .find(|(long, short)| near(*long, 2.0 * width) && near(*short, height))
        .unwrap_or((2.0 * width, height))
}

/// Puts the pages of a file on sheets.
///
/// # Errors
/// In words: the file is not as the typesetter writes it.
pub fn impose(pdf: &[u8], sheets: Sheets, right_to_left: bool) -> Result<Vec<u8>, String> {
    // Tags are most of a file, and paper has no use for them.
    let options = LoadOptions { filter: Some(untagged), ..LoadOptions::default() };
    let mut document = Document::load_mem_with_options(pdf, options).map_err(|error| error.to_string())?;
    let fault = |error: lopdf::Error| error.to_string();
    let pages: Vec<ObjectId> = document.page_iter().collect();
    let first = pages.first().ok_or("there are no pages")?;
    let (width, height) = size(&document, *first);
    let mut drawings = Vec::new();
    for page in &pages {
        drawings.push(drawing(&mut document, *page)?);
    }
    let room = if sheets.crop_marks { ROOM } else { 0.0 };
    let (sheet_width, sheet_height) = if sheets.impose.is_some() { sheet(width, height) } else { (width, height) };
    let tree = document.new_object_id();
    let mut kids: Vec<Object> = Vec::new();
    for side in sides(pages.len(), sheets.impose, right_to_left) {
        let left = room + (sheet_width - width * side.len() as f64) / 2.0;
        let bottom = room + (sheet_height - height) / 2.0;
        let mut operations = Vec::new();
        let mut names = Dictionary::new();
        for (at, page) in side.iter().enumerate() {
            let Some(drawing) = page.and_then(|page| drawings.get(page)) else { continue };
            let name = format!("P{at}");
            names.set(name.clone(), *drawing);
            let right = left + width * at as f64;
            operations.push(Operation::new("q", vec![]));
            operations.push(Operation::new("cm", numbers(&[1.0, 0.0, 0.0, 1.0, right, bottom])));
            operations.push(Operation::new("Do", vec![Object::Name(name.into_bytes())]));
            operations.push(Operation::new("Q", vec![]));
        }
        if sheets.crop_marks {
            marks(&mut operations, left, bottom, width, height, side.len(), sheets.impose == Some(Impose::Fold));
        }
        let content = Content { operations }.encode().map_err(fault)?;
        let mut content = Stream::new(Dictionary::new(), content);
        let _ = content.compress();
        let content = document.add_object(content);
        let trim = [left, bottom, left + width * side.len() as f64, bottom + height];
        let page = document.add_object(dictionary! {
            "Type" => "Page",
            "Parent" => tree,
            "MediaBox" => numbers(&[0.0, 0.0, sheet_width + 2.0 * room, sheet_height + 2.0 * room]),
            "TrimBox" => numbers(&trim),
            "Resources" => dictionary! { "XObject" => names },
            "Contents" => content,
        });
        kids.push(page.into());
    }
    let count = kids.len() as i64;
    document.objects.insert(tree, dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => count }.into());
    let own = document.catalog().map_err(fault)?;
    let language = own.get(b"Lang").ok().cloned();
    let mut catalog = dictionary! { "Type" => "Catalog", "Pages" => tree };
    if let Some(language) = language {
        catalog.set("Lang", language);
    }
    let mut preferences = dictionary! { "PrintScaling" => "None" };
    if sheets.impose.is_some() {
        // A sheet that lies is turned over its short edge.
        preferences.set("Duplex", "DuplexFlipShortEdge");
    }
    catalog.set("ViewerPreferences", preferences);
    let root = document.add_object(catalog);
    let info = document.trailer.get(b"Info").ok().cloned();
    let id = document.trailer.get(b"ID").ok().cloned();
    document.trailer = Dictionary::new();
    document.trailer.set("Root", root);
    for (key, value) in [("Info", info), ("ID", id)] {
        if let Some(value) = value {
            document.trailer.set(key, value);
        }
    }
    write(document)
}

/// Lets all but the tags pass.
fn untagged(id: ObjectId, object: &mut Object) -> Option<(ObjectId, Object)> {
    let tag = object.as_dict().is_ok_and(|own| own.has_type(b"StructElem") || own.has_type(b"StructTreeRoot"));
    (!tag).then(|| (id, object.clone()))
}

/// Writes a file without what nothing leads to.
fn write(mut document: Document) -> Result<Vec<u8>, String> {
    document.prune_objects();
    let options = SaveOptions::builder().use_object_streams(true).use_xref_streams(true).compression_level(6).build();
    let mut bytes = Vec::new();
    document.save_with_options(&mut bytes, options).map_err(|error| error.to_string())?;
    Ok(bytes)
}

fn numbers(list: &[f64]) -> Vec<Object> {
    // Three decimals of a point are less than any printer shows.
    list.iter().map(|number| Object::Real(((number * 1000.0).round() / 1000.0) as f32)).collect()
}

fn size(document: &Document, page: ObjectId) -> (f64, f64) {
    let media = document.get_dictionary(page).and_then(|page| page.get_deref(b"MediaBox", document)?.as_array());
    let edge = |at: usize| -> f64 {
        media.as_ref().ok().and_then(|media| media.get(at)).and_then(|edge| edge.as_float().ok()).map_or(0.0, f64::from)
    };
    (edge(2) - edge(0), edge(3) - edge(1))
}

/// A page as a drawing that other pages can place.
fn drawing(document: &mut Document, page: ObjectId) -> Result<ObjectId, String> {
    let fault = |error: lopdf::Error| error.to_string();
    let (width, height) = size(document, page);
    let own = document.get_dictionary(page).map_err(fault)?;
    let resources = own.get(b"Resources").ok().cloned().unwrap_or_else(|| Dictionary::new().into());
    let content = document.get_page_content(page);
    let mut stream = Stream::new(
        dictionary! {
            "Type" => "XObject",
            "Subtype" => "Form",
            "BBox" => numbers(&[0.0, 0.0, width, height]),
            "Resources" => resources,
        },
        content,
    );
    let _ = stream.compress();
    Ok(document.add_object(stream))
}

/// Marks where to cut, at the corners outside the pages, and where to fold or
/// to cut between them.
fn marks(operations: &mut Vec<Operation>, left: f64, bottom: f64, width: f64, height: f64, count: usize, folds: bool) {
    let line = |operations: &mut Vec<Operation>, from: (f64, f64), to: (f64, f64)| {
        operations.push(Operation::new("m", numbers(&[from.0, from.1])));
        operations.push(Operation::new("l", numbers(&[to.0, to.1])));
        operations.push(Operation::new("S", vec![]));
    };
    operations.push(Operation::new("q", vec![]));
    operations.push(Operation::new("w", numbers(&[0.35])));
    operations.push(Operation::new("G", numbers(&[0.0])));
    let (right, top) = (left + width * count as f64, bottom + height);
    for x in [left, right] {
        line(operations, (x, top + GAP), (x, top + GAP + LENGTH));
        line(operations, (x, bottom - GAP), (x, bottom - GAP - LENGTH));
    }
    for y in [bottom, top] {
        line(operations, (left - GAP, y), (left - GAP - LENGTH, y));
        line(operations, (right + GAP, y), (right + GAP + LENGTH, y));
    }
    if folds {
        // A fold is no cut: its line is broken.
        operations.push(Operation::new("d", vec![vec![Object::Integer(3), Object::Integer(2)].into(), 0.into()]));
    }
    for between in 1..count {
        let x = left + width * between as f64;
        line(operations, (x, top + GAP), (x, top + GAP + LENGTH));
        line(operations, (x, bottom - GAP), (x, bottom - GAP - LENGTH));
    }
    operations.push(Operation::new("Q", vec![]));
}

#[cfg(test)]
#[allow(clippy::indexing_slicing)]
mod tests {
    use super::*;

    #[test]
    fn a_fold_brings_every_page_to_its_place() {
        for pages in 1..=41 {
            let sides = sides(pages, Some(Impose::Fold), false);
            assert_eq!(sides.len() % 2, 0);
            let full = sides.len() * 2;
            assert!(full >= pages && full < pages + 4);
            // The stack is folded: read the right halves of the fronts down to
            // the middle, then back out. Each leaf has a right page in front
            // and a left page behind it.
            let sheets: Vec<_> = sides.chunks(2).collect();
            let mut read = Vec::new();
            for sheet in &sheets {
                read.push(sheet[0][1]);
                read.push(sheet[1][0]);
            }
            for sheet in sheets.iter().rev() {
                read.push(sheet[1][1]);
                read.push(sheet[0][0]);
            }
            let wanted: Vec<Option<usize>> = (0..full).map(|page| (page < pages).then_some(page)).collect();
            assert_eq!(read, wanted, "{pages} pages");
        }
    }

    #[test]
    fn two_up_gives_two_copies() {
        assert_eq!(sides(2, Some(Impose::TwoUp), false), [[Some(0), Some(0)], [Some(1), Some(1)]]);
    }

    #[test]
    fn a_fold_is_turned_round_for_a_script_from_the_right() {
        assert_eq!(sides(4, Some(Impose::Fold), true), [[Some(0), Some(3)], [Some(2), Some(1)]]);
    }
}
