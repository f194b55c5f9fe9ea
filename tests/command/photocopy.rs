//! Print shops copy in black and white. Every page is drawn at 200 dots an
//! inch with one bit a dot, and its text and lines are looked for there.

use porringer::card::menu::MenuMaker;
use porringer::card::{self, Imprint, Locale};
use porringer::cli::gather;
use porringer::typeset::{Engine, Template};
use porringer::workspace::{Workspace, shelf};
use typst::layout::{Frame, FrameItem, Point, Transform};
use typst::visualize::{CurveItem, Geometry, Paint};
use typst_layout::{Page, PagedDocument};

/// Dots an inch of a plain copier's fine mode.
const DOTS: f64 = 200.0;
/// Fine enough to have everything that is on a page.
const FINE: f64 = 800.0;
/// A dot is black where at least half of it is.
const HALF: f64 = 128.0;

/// One page as a copier has it.
struct Copy {
    dots: f64,
    width: usize,
    height: usize,
    black: Vec<bool>,
}

impl Copy {
    fn of(page: &Page, dots: f64) -> Self {
        let options = typst_render::RenderOptions { pixel_per_pt: (dots / 72.0).into(), ..Default::default() };
        let drawn = typst_render::render(page, &options);
        let luma = |dot: &[u8]| 0.2126 * f64::from(dot[0]) + 0.7152 * f64::from(dot[1]) + 0.0722 * f64::from(dot[2]);
        Self {
            dots,
            width: drawn.width() as usize,
            height: drawn.height() as usize,
            black: drawn.data().chunks_exact(4).map(|dot| luma(dot) < HALF).collect(),
        }
    }

    /// Dots of a line that are gone, and how many it has. Of a thin line the dot
    /// beside its middle may be the black one.
    fn gone(&self, line: &Line) -> (usize, usize) {
        let scale = self.dots / 72.0;
        let length = (line.to.0 - line.from.0).hypot(line.to.1 - line.from.1) * scale;
        let level = (line.from.1 - line.to.1).abs() < 0.01;
        let dot = |x: f64, y: f64| {
            let (x, y) = (x.floor(), y.floor());
            let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
            inside && self.black[y as usize * self.width + x as usize] != line.light
        };
        let count = length.floor().max(1.0) as usize;
        let there = (0..count).filter(|at| {
            let share = (*at as f64 + 0.5) / count as f64;
            let x = (line.from.0 + (line.to.0 - line.from.0) * share) * scale;
            let y = (line.from.1 + (line.to.1 - line.from.1) * share) * scale;
            [-0.6, 0.0, 0.6].iter().any(|off| if level { dot(x, y + off) } else { dot(x + off, y) })
        });
        (count - there.count(), count)
    }

    /// A part of the page, true where there is ink of the text's own colour.
    fn part(&self, seen: &Seen) -> (usize, Vec<bool>) {
        let scale = self.dots / 72.0;
        let at = |value: f64, most: usize| (value * scale).round().clamp(0.0, most as f64) as usize;
        let (left, right) = (at(seen.left, self.width), at(seen.right, self.width));
        let (top, bottom) = (at(seen.top, self.height), at(seen.bottom, self.height));
        let rows = (top..bottom).flat_map(|y| (left..right).map(move |x| (x, y)));
        (right - left, rows.map(|(x, y)| self.black[y * self.width + x] != seen.light).collect())
    }
}

/// A run of text on a page, in points.
struct Seen {
    text: String,
    size: f64,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
    /// White on black.
    light: bool,
    luma: f64,
}

/// A straight line, level or upright, in points.
struct Line {
    from: (f64, f64),
    to: (f64, f64),
    thickness: f64,
    light: bool,
}

#[derive(Default)]
struct Found {
    texts: Vec<Seen>,
    lines: Vec<Line>,
    /// How light every area and every line is, 0 black to 1 white.
    paints: Vec<f64>,
}

fn luma(paint: &Paint) -> f64 {
    let Paint::Solid(colour) = paint else { panic!("neither black nor white: {paint:?}") };
    let [red, green, blue, _] = colour.to_vec4();
    let linear = |part: f32| {
        let part = f64::from(part);
        if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
}

fn look(frame: &Frame, onto: Transform, found: &mut Found) {
    for (at, item) in frame.items() {
        let here = onto.pre_concat(Transform::translate(at.x, at.y));
        let scale = (here.sx.get().powi(2) + here.ky.get().powi(2)).sqrt();
        match item {
            FrameItem::Group(group) => look(&group.frame, here.pre_concat(group.transform), found),
            FrameItem::Text(text) if !text.text.trim().is_empty() => {
                let size = text.size.to_pt() * scale;
                let (x, y) = (here.tx.to_pt(), here.ty.to_pt());
                let luma = luma(&text.fill);
                found.texts.push(Seen {
                    text: text.text.to_string(),
                    size,
                    left: x,
                    right: x + text.width().to_pt() * scale,
                    top: y - 0.8 * size,
                    bottom: y + 0.25 * size,
                    light: luma > 0.5,
                    luma,
                });
            }
            FrameItem::Shape(shape, _) => {
                found.paints.extend(shape.fill.as_ref().map(luma));
                let Some(stroke) = &shape.stroke else { continue };
                let light = luma(&stroke.paint);
                found.paints.push(light);
                let thickness = stroke.thickness.to_pt() * scale;
                let place = |point: Point| {
                    let (x, y) = (point.x.to_pt(), point.y.to_pt());
                    (
                        here.sx.get() * x + here.kx.get() * y + here.tx.to_pt(),
                        here.ky.get() * x + here.sy.get() * y + here.ty.to_pt(),
                    )
                };
                let mut add = |from: Point, to: Point| {
                    let (from, to) = (place(from), place(to));
                    let (wide, high) = ((from.0 - to.0).abs(), (from.1 - to.1).abs());
                    // A line of dashes has gaps of its own.
                    if stroke.dash.is_none() && wide.min(high) < 0.01 && wide.max(high) > 3.0 {
                        found.lines.push(Line { from, to, thickness, light: light > 0.5 });
                    }
                };
                match &shape.geometry {
                    Geometry::Line(to) => add(Point::zero(), *to),
                    Geometry::Rect(_) => {}
                    Geometry::Curve(curve) => {
                        let mut pen = Point::zero();
                        for item in &curve.0 {
                            match item {
                                CurveItem::Move(to) => pen = *to,
                                CurveItem::Line(to) => {
                                    add(pen, *to);
                                    pen = *to;
                                }
                                CurveItem::Cubic(_, _, to) => pen = *to,
                                CurveItem::Close => {}
                            }
                        }
                    }
                }
            }
            _ => {}
        }
    }
}

/// The first demonstration cards and menus of a look on a paper, set.
fn demonstration(template: &str, paper: &str, tag: &str, most: usize) -> Vec<(String, PagedDocument)> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let workspace = Workspace::of(&root);
    let checked = gather::all(&shelf::files(&root), &workspace);
    let imprint = Imprint { paper: paper.to_owned(), ..Imprint::default() };
    let engine = Engine::new(1, Vec::new()).unwrap();
    let look = Template::built_in(template).unwrap();
    let menus = Template::built_in("menu").unwrap();
    let mut all = Vec::new();
    let locale = Locale::new(tag).unwrap();
    for file in checked.iter().take(most) {
        let (reference, changed) = (&workspace.reference, &file.changed[..]);
        let document = match (&file.dish, &file.menu) {
            (Some(dish), _) => {
                let maker =
                    card::Maker { dish, reference, locale: &locale, own_language: "en", imprint: &imprint, changed };
                engine.settle(&look, &card::make(&maker), None).unwrap().document
            }
            (None, Some(menu)) if template == "card" => {
                let maker =
                    MenuMaker { menu, reference, locale: &locale, own_language: "en", imprint: &imprint, changed };
                let mut card = card::menu::make(&maker);
                let spacings = 0..menus.manifest.spacings;
                let mut documents = spacings.map(|fit| {
                    card.fit = fit;
                    engine.document(&menus, &card).unwrap()
                });
                documents.find(|document| document.pages().len() <= 2).expect("it fits")
            }
            _ => continue,
        };
        all.push((format!("{}.{tag} {template} {paper}", file.id().unwrap()), document));
    }
    all
}

/// Lengths of the stretches of ink along the rows.
fn stretches(width: usize, ink: &[bool]) -> Vec<usize> {
    let mut found = Vec::new();
    for row in ink.chunks(width.max(1)) {
        found.extend(row.split(|black| !black).map(<[bool]>::len).filter(|length| *length > 0));
    }
    found
}

/// How many separate pieces of ink there are, and how many holes in them: what
/// makes an `e` an `e`.
fn pieces(width: usize, ink: &[bool]) -> usize {
    let height = ink.len() / width.max(1);
    let mut seen = vec![false; ink.len()];
    let mut count = 0;
    for start in 0..ink.len() {
        if seen[start] {
            continue;
        }
        count += 1;
        seen[start] = true;
        let mut left = vec![start];
        while let Some(at) = left.pop() {
            let (x, y) = (at % width, at / width);
            for (dx, dy) in [(-1i64, 0i64), (1, 0), (0, -1), (0, 1)] {
                let (x, y) = (x as i64 + dx, y as i64 + dy);
                if x < 0 || y < 0 || x >= width as i64 || y >= height as i64 {
                    continue;
                }
                let next = y as usize * width + x as usize;
                if !seen[next] && ink[next] == ink[start] {
                    seen[next] = true;
                    left.push(next);
                }
            }
        }
    }
    count
}

#[test]
fn a_copy_in_black_and_white_can_be_read() {
    for (template, paper, tag, most) in [
        ("card", "A5", "en", usize::MAX),
        ("card", "A5", "sw", 5),
        ("card", "A4", "fr", 4),
        ("wall", "A4", "en", 5),
        ("pocket", "A6", "en", 4),
    ] {
        let (mut texts, mut lines) = (0, 0);
        for (name, document) in demonstration(template, paper, tag, most) {
            for page in document.pages() {
                let (copy, mut fine) = (Copy::of(page, DOTS), None);
                let mut found = Found::default();
                look(&page.frame, Transform::identity(), &mut found);
                for seen in &found.texts {
                    let say = format!("{name}: `{}`", seen.text);
                    // WCAG 2.1, 1.4.6: enhanced contrast.
                    let ratio = if seen.light { (seen.luma + 0.05) / 0.05 } else { 1.05 / (seen.luma + 0.05) };
                    assert!(ratio >= 7.0, "{say} has a contrast of {ratio}");
                    assert!(seen.size >= 8.99, "{say} is set in {} pt", seen.size);
                    if seen.text.chars().filter(|letter| letter.is_alphanumeric()).count() < 3 {
                        continue;
                    }
                    let (width, ink) = copy.part(seen);
                    let mut lengths = stretches(width, &ink);
                    lengths.sort_unstable();
                    // Strokes of two dots or more, a quarter of a millimetre;
                    // single dots only where a round letter turns.
                    let middle = lengths.get(lengths.len() / 2).copied().unwrap_or(0);
                    assert!(middle >= 2, "{say}: strokes of {middle} dots");
                    let single = lengths.iter().filter(|length| **length == 1).count();
                    assert!(single * 4 <= lengths.len(), "{say}: {single} of {} strokes are one dot", lengths.len());
                    texts += 1;
                }
                for line in &found.lines {
                    let (gone, dots) = copy.gone(line);
                    lines += 1;
                    // A dot at either end belongs half to what it meets.
                    if gone <= 2 || gone * 20 <= dots {
                        continue;
                    }
                    // Some of it may lie under something else, by intent.
                    let fine = fine.get_or_insert_with(|| Copy::of(page, FINE));
                    let (hidden, of) = fine.gone(line);
                    let lost = gone as f64 / dots as f64 - hidden as f64 / of as f64;
                    let say = format!("{lost} of a line of {} pt is gone", line.thickness);
                    assert!(lost < 0.05, "{name}: {say}, at {:?}", line.from);
                }
                // A grey becomes a screen of dots, or nothing.
                for paint in &found.paints {
                    assert!(*paint < 0.01 || *paint > 0.99, "{name}: a line or an area in grey, {paint}");
                }
            }
        }
        assert!(texts > 75 && lines > 50, "{template}: {texts} texts, {lines} lines");
    }
}

#[test]
fn letters_of_a_copy_keep_their_shape() {
    let (mut letters, mut lost) = (0, 0);
    for (name, document) in demonstration("card", "A5", "en", 3) {
        for page in document.pages() {
            let (copy, fine) = (Copy::of(page, DOTS), Copy::of(page, FINE));
            let mut found = Found::default();
            look(&page.frame, Transform::identity(), &mut found);
            for seen in found.texts.iter().filter(|seen| !seen.light) {
                let (width, ink) = copy.part(seen);
                let (fine_width, fine_ink) = fine.part(seen);
                let (own, wanted) = (pieces(width, &ink), pieces(fine_width, &fine_ink));
                letters += seen.text.chars().filter(|letter| letter.is_alphanumeric()).count();
                lost += own.abs_diff(wanted);
            }
        }
        assert!(letters > 1_000, "{name}");
    }
    // A few close up or touch; measured: one in sixty.
    assert!(lost * 33 <= letters, "{lost} of {letters} letters");
}
