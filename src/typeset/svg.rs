//! Whether an SVG is a drawing of bounded work. A few kilobytes of it can ask
//! for years: parts that repeat parts that repeat parts, an effect computed
//! for every point of a vast area, a style sheet held against every element.
//! What the parser itself would never end with is told from the tags before
//! it reads them; what drawing would never end with, from the tree it gives.

use usvg::{Group, Node, Paint};

type Refused = (String, &'static str);

/// Most elements, and most attributes of one: the parser compares each with
/// all others of its element.
const MOST_ELEMENTS: usize = 20_000;
const MOST_ATTRIBUTES: usize = 200;
/// Most elements that are made by repeating what a clip, mask or pattern
/// holds, and most comparisons of a style rule with an element.
const MOST_REPEATED: usize = 100_000;
const MOST_STYLED: usize = 2_000_000;
/// Most groups that are drawn apart and laid over the rest.
const MOST_LAYERS: usize = 500;

/// What repeats or computes without a bound of its own, or brings a file.
const REFUSED: [(&str, Refusal); 8] = [
    ("use", Refusal::Repeats),
    ("marker", Refusal::Repeats),
    ("tref", Refusal::Repeats),
    ("filter", Refusal::Effect),
    ("image", Refusal::Image),
    ("feImage", Refusal::Image),
    ("foreignObject", Refusal::Image),
    ("script", Refusal::Image),
];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Refusal {
    Repeats,
    Effect,
    Image,
    Much,
}

impl Refusal {
    fn words(self) -> Refused {
        let (what, help) = match self {
            Self::Repeats => (
                "the picture repeats parts by reference",
                "save it as plain SVG, without `use`, markers or masks within masks",
            ),
            Self::Effect => ("the picture has a filter effect", "save it without blur and shadows, or as PNG"),
            Self::Image => ("the picture holds another picture", "save the whole picture as PNG or JPEG"),
            Self::Much => ("the picture is too much to draw", "simplify it, or save it as PNG"),
        };
        (what.to_owned(), help)
    }
}

/// # Errors
/// In words, with the author's fix.
pub fn check(text: &str) -> Result<(), Refused> {
    tags(text).map_err(Refusal::words)?;
    let options = usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_string: Box::new(|_, _| None),
            ..usvg::ImageHrefResolver::default()
        },
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_str(text, &options)
        .map_err(|_| ("the picture is no SVG that can be drawn".to_owned(), "save it as plain SVG"))?;
    let mut work = Work::default();
    work.group(tree.root());
    if work.elements > MOST_REPEATED || work.layers > MOST_LAYERS { Err(Refusal::Much.words()) } else { Ok(()) }
}

/// An opening tag.
struct Tag<'t> {
    name: &'t str,
    /// All that stands behind its name.
    rest: &'t str,
    closed: bool,
}

/// Holds a text's tags against the limits. It need not be sound: what is not
/// is for the parser to refuse.
fn tags(text: &str) -> Result<(), Refusal> {
    if text.contains("<!ENTITY") {
        return Err(Refusal::Repeats);
    }
    let mut elements = 0_usize;
    // Parts that others refer to, and those that stand within one.
    let mut names: Vec<&str> = Vec::new();
    let mut within: Vec<&str> = Vec::new();
    let (mut held, mut references) = (0_usize, 0_usize);
    let mut inner: Vec<&str> = Vec::new();
    let mut styles = String::new();
    let mut rest = text;
    while let Some((before, from)) = rest.split_once('<') {
        if within.last() == Some(&"style") {
            styles.push_str(before);
        }
        if let Some(skipped) = beyond(from, "!--", "-->") {
            rest = skipped;
            continue;
        }
        if let Some(skipped) = beyond(from, "![CDATA[", "]]>") {
            if within.last() == Some(&"style") {
                styles.push_str(from.get(..from.len() - skipped.len()).unwrap_or_default());
            }
            rest = skipped;
            continue;
        }
        let end = close(from);
        rest = from.get(end + 1..).unwrap_or_default();
        let body = from.get(..end).unwrap_or_default();
        if let Some(name) = body.strip_prefix('/') {
            if within.last() == Some(&local(name.trim())) {
                within.pop();
            }
            continue;
        }
        if body.starts_with(['!', '?']) {
            continue;
        }
        let tag = opened(body);
        elements += 1;
        if elements > MOST_ELEMENTS || tag.rest.matches('=').count() > MOST_ATTRIBUTES {
            return Err(Refusal::Much);
        }
        if let Some((_, why)) = REFUSED.iter().find(|(name, _)| *name == tag.name) {
            return Err(*why);
        }
        let part = matches!(tag.name, "clipPath" | "mask" | "pattern");
        // A reference may be written in signs of its own.
        references += tag.rest.matches("url(").count() + tag.rest.matches('&').count();
        if part || within.iter().any(|name| *name != "style") {
            held += 1;
            inner.push(tag.rest);
        }
        if part {
            names.extend(attribute(tag.rest, "id"));
        }
        if (part || tag.name == "style") && !tag.closed {
            within.push(tag.name);
        }
    }
    let refers = |text: &str| {
        let targets = text.split("url(").skip(1).map(|rest| rest.split(')').next().unwrap_or_default());
        let mut targets = targets.map(|target| target.trim_matches([' ', '\'', '"', '#', '\n', '\t']));
        targets.any(|target| names.contains(&target))
    };
    // A part within a part doubles with every level.
    let chained = |rest: &&str| refers(rest) || rest.contains('&') || href(rest).is_some_and(|to| names.contains(&to));
    if inner.iter().any(chained) || !names.is_empty() && (refers(&styles) || styles.contains(['&', '\\'])) {
        return Err(Refusal::Repeats);
    }
    let rules = styles.matches('{').count();
    if held.saturating_mul(references) > MOST_REPEATED || rules.saturating_mul(elements) > MOST_STYLED {
        return Err(Refusal::Much);
    }
    Ok(())
}

/// What stands behind the end of a piece that begins here.
fn beyond<'t>(text: &'t str, begin: &str, end: &str) -> Option<&'t str> {
    text.strip_prefix(begin).map(|rest| rest.split_once(end).map_or("", |(_, rest)| rest))
}

/// Where a tag ends: a `>` in quotes is none.
fn close(text: &str) -> usize {
    let mut quote = None;
    for (at, byte) in text.bytes().enumerate() {
        match (quote, byte) {
            (None, b'>') => return at,
            (None, b'"' | b'\'') => quote = Some(byte),
            (Some(open), byte) if open == byte => quote = None,
            _ => {}
        }
    }
    text.len()
}

fn opened(body: &str) -> Tag<'_> {
    let closed = body.ends_with('/');
    let end = body.find(|c: char| c.is_whitespace() || c == '/').unwrap_or(body.len());
    let (name, rest) = body.split_at_checked(end).unwrap_or((body, ""));
    Tag { name: local(name), rest, closed }
}

/// A name without its prefix.
fn local(name: &str) -> &str {
    name.rsplit(':').next().unwrap_or(name)
}

/// What an attribute says, without its quotes.
fn attribute<'t>(rest: &'t str, name: &str) -> Option<&'t str> {
    rest.match_indices(name).find_map(|(at, _)| {
        let before = rest.get(..at)?.chars().next_back()?;
        let value = rest.get(at + name.len()..)?.trim_start().strip_prefix('=')?.trim_start();
        let quote = value.chars().next().filter(|quote| ['"', '\''].contains(quote))?;
        before.is_whitespace().then(|| value.get(1..)?.split(quote).next())?
    })
}

/// The part of the same file that an element takes its contents from.
fn href(rest: &str) -> Option<&str> {
    let (_, behind) = rest.split_once("href")?;
    let value = behind.trim_start().strip_prefix('=')?.trim_start();
    let quote = value.chars().next()?;
    value.get(1..)?.split(quote).next()?.strip_prefix('#')
}

/// What a tree asks a drawer to do, counted no further than it may be.
#[derive(Default)]
struct Work {
    elements: usize,
    layers: usize,
}

impl Work {
    fn group(&mut self, group: &Group) {
        self.layers += usize::from(group.should_isolate());
        if let Some(clip) = group.clip_path() {
            self.group(clip.root());
        }
        if let Some(mask) = group.mask() {
            self.layers += 1;
            self.group(mask.root());
        }
        for node in group.children() {
            self.elements += 1;
            if self.elements > MOST_REPEATED {
                return;
            }
            match node {
                Node::Group(group) => self.group(group),
                Node::Path(path) => {
                    let paints = [path.fill().map(usvg::Fill::paint), path.stroke().map(usvg::Stroke::paint)];
                    for paint in paints.into_iter().flatten() {
                        if let Paint::Pattern(pattern) = paint {
                            self.layers += 1;
                            self.group(pattern.root());
                        }
                    }
                }
                Node::Image(_) | Node::Text(_) => {}
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn svg(body: &str) -> String {
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100\" height=\"100\">{body}</svg>")
    }

    /// As drawing programs save: metadata, a style sheet, gradients, a clip, a
    /// fading mask.
    #[test]
    fn a_plain_drawing_is_one() {
        for body in [
            "<style>.a{fill:url(#g)} .b{opacity:.5}</style><rect class=\"a\" width=\"9\" height=\"9\"/>",
            "<!-- <use/> --><metadata><a b=\"c > d\"/></metadata><linearGradient id=\"g\"/><path d=\"M0 0h9v9z\" fill=\"url(#g)\"/>",
            "<clipPath id=\"c\"><rect width=\"5\" height=\"5\"/></clipPath><g clip-path=\"url(#c)\"><rect width=\"9\" height=\"9\"/></g>",
            "<linearGradient id=\"g\"><stop stop-color=\"white\"/></linearGradient><mask id=\"m\"><rect fill=\"url(#g)\" width=\"9\" \
             height=\"9\"/></mask><rect mask=\"url(#m)\" width=\"9\" height=\"9\"/>",
            "<title>use image &amp; filter</title><circle r=\"5\"/>",
        ] {
            assert_eq!(check(&svg(body)), Ok(()), "{body}");
        }
    }

    #[test]
    fn what_would_not_end_is_refused() {
        let chain = |name: &str, by: &str| -> String {
            let one = |at: usize| {
                let again = format!("<rect width=\"9\" height=\"9\" {by}=\"url(#m{})\"/>", at + 1);
                format!("<{name} id=\"m{at}\" width=\"1\" height=\"1\">{again}{again}</{name}>")
            };
            (0..30).map(one).collect::<String>() + &format!("<rect width=\"9\" height=\"9\" {by}=\"url(#m0)\"/>")
        };
        let many = |one: &str, times: usize| one.repeat(times);
        let masks = many("<mask id=\"m\"><rect width=\"9\" height=\"9\"/></mask>", 400)
            + &many("<rect mask=\"url(#m)\" width=\"9\" height=\"9\"/>", 400);
        for (body, why) in [
            (chain("mask", "mask"), "repeats parts"),
            (chain("clipPath", "clip-path"), "repeats parts"),
            (chain("pattern", "fill"), "repeats parts"),
            (chain("mask", "mask").replace("url(#", "url(&#35;"), "repeats parts"),
            (chain("mask", "class").replace("url(#", "") + "<style>.m1{mask:url('#m1')}</style>", "repeats parts"),
            ("<pattern id=\"a\" href=\"#b\"/><pattern id=\"b\" href=\"#a\"/>".to_owned(), "repeats parts"),
            ("<x:use href=\"#a\"/>".to_owned(), "repeats parts"),
            ("<marker id=\"a\"/>".to_owned(), "repeats parts"),
            ("<filter id=\"a\"/>".to_owned(), "filter effect"),
            ("<image href=\"data:image/png;base64,AA\"/>".to_owned(), "another picture"),
            (many("<g/>", 20_001), "too much"),
            (format!("<g {}/>", many("a=\"1\" ", 201)), "too much"),
            (format!("<style>{}</style>{}", many("g{}", 1_000), many("<g/>", 3_000)), "too much"),
            (
                many("<g opacity=\".5\"><rect width=\"9\" height=\"9\"/><rect width=\"9\" height=\"9\"/></g>", 501),
                "too much",
            ),
            (masks, "too much"),
        ] {
            let refused = check(&svg(&body)).map_err(|(what, _)| what);
            let start: String = body.chars().take(80).collect();
            assert!(refused.as_ref().is_err_and(|what| what.contains(why)), "{why}: {refused:?} for {start}");
        }
    }

    #[test]
    fn any_text_is_answered() {
        for text in
            ["", "<", "<<<", "<svg", "</", "<!--", "<![CDATA[", "<a b='", "<a b=\">", "<é =", "a<b c=d/>e", "<?x"]
        {
            assert!(check(text).is_err(), "{text}");
        }
    }
}
