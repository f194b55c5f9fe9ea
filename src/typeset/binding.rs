//! Parts of a booklet bound into one PDF/UA-1 file.
//!
//! Each part was set and written alone, so no more than one part a thread is
//! ever in the typesetter's hands, however long the booklet is. What has to
//! hold for the whole file is put together here: one tree of tags in the order
//! of the pages, one outline, links from part to part. A part links to a page
//! of the booklet by the address `porringer-page:NUMBER`, counted from 1.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use sha2::{Digest, Sha256};

use super::volume::Volume;

/// How a template names a page of the booklet in a link.
pub use crate::card::booklet::PAGE_LINK;

/// One part, as the typesetter wrote it.
#[derive(Debug, Clone)]
pub struct Leaves {
    pub pdf: Vec<u8>,
    pub hangs: Hangs,
}

/// Where a part's headings of the first level stand in the outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hangs {
    /// On top.
    Top,
    /// The first on top, the others below it.
    FirstOnTop,
    /// Below the last one on top.
    Below,
}

/// The pieces that the whole file is made of, as parts come in. A part's objects
/// are written as soon as it comes; what later parts bear upon is held back.
struct Binding {
    volume: Volume,
    /// Outline entries, links from part to part, the catalog.
    held: BTreeMap<ObjectId, Object>,
    pages: Vec<(ObjectId, Object)>,
    links: Vec<(ObjectId, String)>,
    /// Tag trees of the parts, in order.
    trees: Vec<Object>,
    roles: Dictionary,
    /// Page or annotation number to the tags on it.
    parents: Vec<Object>,
    next_parent: i64,
    /// Names of table heads, sorted.
    names: Vec<Object>,
    /// Outline entries, each with those below it.
    outline: Vec<(ObjectId, Vec<ObjectId>)>,
    root: ObjectId,
    info: Option<ObjectId>,
    metadata: Option<ObjectId>,
    /// Numbers given before the objects are made.
    page_tree: ObjectId,
    top: ObjectId,
    document: ObjectId,
}

/// Binds parts into one file. The first one's title, language and preferences
/// are the booklet's; `page_words` is what a link to a page is called when it
/// is read aloud.
///
/// # Errors
/// In words: a part that is not as the typesetter writes it.
pub fn bind(parts: Vec<Leaves>, page_words: &dyn Fn(usize) -> String) -> Result<Vec<u8>, String> {
    let mut seal = Sha256::new();
    let mut binding: Option<Binding> = None;
    for (at, part) in parts.into_iter().enumerate() {
        seal.update(&part.pdf);
        let document = Document::load_mem(&part.pdf).map_err(|error| format!("part {at} cannot be read: {error}"))?;
        let hangs = part.hangs;
        drop(part);
        match &mut binding {
            None => binding = Some(Binding::begin(document)?),
            Some(binding) => binding.take(at, document, hangs)?,
        }
    }
    binding.ok_or("there are no parts")?.finish(&seal.finalize(), page_words)
}

fn fault(error: lopdf::Error) -> String {
    error.to_string()
}

fn reference(dictionary: &Dictionary, key: &[u8]) -> Option<ObjectId> {
    dictionary.get(key).and_then(Object::as_reference).ok()
}

impl Binding {
    fn begin(mut first: Document) -> Result<Self, String> {
        let root = reference(&first.trailer, b"Root").ok_or("a part has no catalog")?;
        let info = reference(&first.trailer, b"Info");
        let metadata = first.catalog().ok().and_then(|catalog| reference(catalog, b"Metadata"));
        let mut volume = Volume::new(first.max_id);
        let [page_tree, top, document] = [volume.number(), volume.number(), volume.number()];
        let mut held = BTreeMap::new();
        let catalog = first.catalog().map_err(fault)?.clone();
        held.insert(root, catalog.into());
        for id in [info, metadata].into_iter().flatten() {
            held.extend(first.objects.remove(&id).map(|object| (id, object)));
        }
        let mut binding = Self {
            volume,
            held,
            pages: Vec::new(),
            links: Vec::new(),
            trees: Vec::new(),
            roles: Dictionary::new(),
            parents: Vec::new(),
            next_parent: 0,
            names: Vec::new(),
            outline: Vec::new(),
            root,
            info,
            metadata,
            page_tree,
            top,
            document,
        };
        binding.add(0, first, Hangs::Top)?;
        Ok(binding)
    }

    fn take(&mut self, at: usize, mut part: Document, hangs: Hangs) -> Result<(), String> {
        part.renumber_objects_with(self.volume.last() + 1);
        self.volume.reach(part.max_id);
        self.add(at, part, hangs)
    }

    /// Takes over the objects of a part whose numbers are free.
    fn add(&mut self, at: usize, mut part: Document, hangs: Hangs) -> Result<(), String> {
        let catalog = part.catalog().map_err(fault)?.clone();
        let pages: Vec<ObjectId> = part.page_iter().collect();
        let tree = reference(&catalog, b"StructTreeRoot").ok_or("a part has no tags")?;
        let tree = part.get_dictionary(tree).map_err(fault)?.clone();
        let outline = reference(&catalog, b"Outlines").map(|id| entries(&part, id)).unwrap_or_default();
        let offset = self.next_parent;
        let prefix = format!("{at:05}-");
        for object in part.objects.values_mut() {
            relabel(object, offset, &prefix);
        }
        // What of the part has to be in the file; the rest only led to it.
        let mut wanted: Vec<Object> = Vec::new();
        for (number, tags) in numbers(&part, tree.get(b"ParentTree").ok()) {
            wanted.push(tags.clone());
            self.parents.extend([Object::Integer(number + offset), tags]);
            self.next_parent = self.next_parent.max(number + offset + 1);
        }
        for (name, element) in ids(&part, tree.get(b"IDTree").ok()) {
            let mut name_here = prefix.clone().into_bytes();
            name_here.extend(name);
            self.names.extend([Object::String(name_here, StringFormat::Literal), element]);
        }
        if let Ok(roles) = tree.get_deref(b"RoleMap", &part).and_then(Object::as_dict) {
            for (name, role) in roles.iter() {
                if !self.roles.has(name) {
                    self.roles.set(name.clone(), role.clone());
                }
            }
        }
        // What was the tree of a document is now one of its parts.
        let tops: Vec<ObjectId> = match tree.get_deref(b"K", &part) {
            Ok(Object::Array(list)) => list.iter().filter_map(|kid| kid.as_reference().ok()).collect(),
            _ => reference(&tree, b"K").into_iter().collect(),
        };
        for id in tops {
            let element = part.get_dictionary_mut(id).map_err(fault)?;
            if element.get(b"S").and_then(Object::as_name).is_ok_and(|name| name == b"Document") {
                element.set("S", Object::Name(b"Part".to_vec()));
            }
            element.set("P", self.document);
            self.trees.push(id.into());
            wanted.push(id.into());
        }
        for id in pages {
            self.hold_links(&mut part, id);
            let page = part.get_dictionary_mut(id).map_err(fault)?;
            page.set("Parent", self.page_tree);
            let height = page.get(b"MediaBox").and_then(Object::as_array).ok().and_then(|media| media.get(3).cloned());
            self.pages.push((id, height.unwrap_or(Object::Integer(0))));
            wanted.push(id.into());
        }
        for id in &outline {
            let entry = part.get_dictionary_mut(*id).map_err(fault)?;
            entry.remove(b"Parent");
            wanted.push((*id).into());
        }
        if at == 0 {
            wanted.push(catalog_rest(&catalog).into());
        }
        part.trailer = Dictionary::new();
        part.trailer.set("Wanted", wanted);
        part.prune_objects();
        for id in &outline {
            self.held.extend(part.objects.remove(id).map(|entry| (*id, entry)));
        }
        for (at, id) in outline.into_iter().enumerate() {
            let below = hangs == Hangs::Below || (hangs == Hangs::FirstOnTop && at > 0);
            match self.outline.last_mut() {
                Some((_, last)) if below => last.push(id),
                _ => self.outline.push((id, Vec::new())),
            }
        }
        self.volume.put(part.objects)
    }

    /// Holds back the links of a page that lead to pages of other parts.
    fn hold_links(&mut self, part: &mut Document, page: ObjectId) {
        let notes = part.get_dictionary(page).and_then(|page| page.get_deref(b"Annots", part)?.as_array());
        let notes: Vec<ObjectId> =
            notes.map(|list| list.iter().filter_map(|note| note.as_reference().ok()).collect()).unwrap_or_default();
        for id in notes {
            let Ok(note) = part.get_dictionary(id) else { continue };
            let number = note
                .get_deref(b"A", part)
                .and_then(Object::as_dict)
                .and_then(|action| action.get(b"URI"))
                .and_then(Object::as_str)
                .ok()
                .and_then(|address| std::str::from_utf8(address).ok())
                .and_then(|address| address.strip_prefix(PAGE_LINK))
                .map(str::to_owned);
            let Some(number) = number else { continue };
            if let Some(mut note) = part.objects.remove(&id) {
                if let Ok(note) = note.as_dict_mut() {
                    note.remove(b"A");
                }
                self.held.insert(id, note);
                self.links.push((id, number));
            }
        }
    }

    fn finish(mut self, seal: &[u8], page_words: &dyn Fn(usize) -> String) -> Result<Vec<u8>, String> {
        self.link(page_words)?;
        let kids: Vec<Object> = self.pages.iter().map(|(id, _)| Object::Reference(*id)).collect();
        let count = kids.len() as i64;
        self.held.insert(self.page_tree, dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => count }.into());
        let trees = std::mem::take(&mut self.trees);
        self.held.insert(
            self.document,
            dictionary! { "Type" => "StructElem", "S" => "Document", "P" => self.top, "K" => trees }.into(),
        );
        let mut top = dictionary! {
            "Type" => "StructTreeRoot",
            "K" => vec![Object::Reference(self.document)],
            "ParentTree" => dictionary! { "Nums" => std::mem::take(&mut self.parents) },
            "ParentTreeNextKey" => self.next_parent,
            "RoleMap" => std::mem::take(&mut self.roles),
        };
        if !self.names.is_empty() {
            top.set("IDTree", dictionary! { "Names" => std::mem::take(&mut self.names) });
        }
        self.held.insert(self.top, top.into());
        let outlines = self.outlines()?;
        let (page_tree, top) = (self.page_tree, self.top);
        let catalog = self.dictionary(self.root)?;
        catalog.set("Pages", page_tree);
        catalog.set("StructTreeRoot", top);
        catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
        match outlines {
            Some(id) => catalog.set("Outlines", id),
            None => drop(catalog.remove(b"Outlines")),
        }
        let seal: Vec<u8> = seal.iter().copied().take(16).collect();
        if let Some(id) = self.metadata {
            self.describe(id, &seal)?;
        }
        let mut trailer = Dictionary::new();
        trailer.set("Root", self.root);
        if let Some(info) = self.info {
            trailer.set("Info", info);
        }
        let id = Object::String(seal, StringFormat::Hexadecimal);
        trailer.set("ID", vec![id.clone(), id]);
        self.volume.put(std::mem::take(&mut self.held))?;
        self.volume.finish(&trailer)
    }

    /// An object that is held back.
    fn dictionary(&mut self, id: ObjectId) -> Result<&mut Dictionary, String> {
        self.held.get_mut(&id).ok_or("a part has lost an object")?.as_dict_mut().map_err(fault)
    }

    /// Leads links to the pages that they name by number.
    fn link(&mut self, page_words: &dyn Fn(usize) -> String) -> Result<(), String> {
        for (id, number) in std::mem::take(&mut self.links) {
            let (number, page, height) = number
                .parse::<usize>()
                .ok()
                .and_then(|number| {
                    self.pages.get(number.checked_sub(1)?).map(|(page, height)| (number, *page, height.clone()))
                })
                .ok_or_else(|| format!("a link leads to page {number}, which is not there"))?;
            let note = self.dictionary(id)?;
            note.set("Contents", lopdf::text_string(&page_words(number)));
            note.set("Dest", vec![page.into(), Object::Name(b"XYZ".to_vec()), 0.into(), height, Object::Null]);
        }
        Ok(())
    }

    /// The outline of the whole: entries of the parts, those below a section
    /// hung under it.
    fn outlines(&mut self) -> Result<Option<ObjectId>, String> {
        if self.outline.is_empty() {
            return Ok(None);
        }
        let id = self.volume.number();
        let entries = std::mem::take(&mut self.outline);
        let top: Vec<ObjectId> = entries.iter().map(|(entry, _)| *entry).collect();
        let mut visible = top.len();
        for (entry, below) in entries {
            if below.is_empty() {
                continue;
            }
            visible += below.len();
            self.hang(entry, &below)?;
            self.dictionary(entry)?.set("Count", below.len() as i64);
        }
        self.held.insert(id, dictionary! { "Type" => "Outlines", "Count" => visible as i64 }.into());
        self.hang(id, &top)?;
        Ok(Some(id))
    }

    /// Makes entries the children of another, in their order.
    fn hang(&mut self, parent: ObjectId, entries: &[ObjectId]) -> Result<(), String> {
        for (at, id) in entries.iter().enumerate() {
            let before = at.checked_sub(1).and_then(|at| entries.get(at)).copied();
            let after = entries.get(at + 1).copied();
            let entry = self.dictionary(*id)?;
            entry.set("Parent", parent);
            for (key, other) in [("Prev", before), ("Next", after)] {
                match other {
                    Some(other) => entry.set(key, other),
                    None => drop(entry.remove(key.as_bytes())),
                }
            }
        }
        let parent = self.dictionary(parent)?;
        for (key, id) in [("First", entries.first()), ("Last", entries.last())] {
            if let Some(id) = id {
                parent.set(key, *id);
            }
        }
        Ok(())
    }

    /// Puts right what the first part says of itself: how many pages, and
    /// which file it is.
    fn describe(&mut self, id: ObjectId, seal: &[u8]) -> Result<(), String> {
        let count = self.pages.len();
        let Some(Object::Stream(stream)) = self.held.get_mut(&id) else { return Ok(()) };
        let content = stream.get_plain_content().unwrap_or_else(|_| stream.content.clone());
        let mut text = String::from_utf8(content).map_err(|_| "the description of a part is no text")?;
        let seal: String = seal.iter().map(|byte| format!("{byte:02x}")).collect();
        for (element, value) in
            [("xmpTPg:NPages", count.to_string()), ("xmpMM:InstanceID", seal.clone()), ("xmpMM:DocumentID", seal)]
        {
            let (open, close) = (format!("<{element}>"), format!("</{element}>"));
            if let (Some(from), Some(to)) = (text.find(&open).map(|at| at + open.len()), text.find(&close)) {
                text.replace_range(from..to, &value);
            }
        }
        stream.dict.remove(b"Filter");
        stream.set_plain_content(text.into_bytes());
        Ok(())
    }
}

/// What a catalog leads to beside pages, tags, outline and description.
fn catalog_rest(catalog: &Dictionary) -> Dictionary {
    let mut rest = catalog.clone();
    for key in ["Pages", "StructTreeRoot", "Outlines", "Metadata"] {
        rest.remove(key.as_bytes());
    }
    rest
}

/// Moves the numbers and names by which tags are found.
fn relabel(object: &mut Object, offset: i64, prefix: &str) {
    match object {
        Object::Dictionary(dictionary) => relabel_in(dictionary, offset, prefix),
        Object::Stream(Stream { dict, .. }) => relabel_in(dict, offset, prefix),
        Object::Array(list) => list.iter_mut().for_each(|item| relabel(item, offset, prefix)),
        _ => {}
    }
}

fn relabel_in(dictionary: &mut Dictionary, offset: i64, prefix: &str) {
    let element = dictionary.has_type(b"StructElem");
    for (key, value) in dictionary.iter_mut() {
        match (key.as_slice(), &mut *value) {
            (b"StructParents" | b"StructParent", Object::Integer(number)) => *number += offset,
            (b"ID", Object::String(name, _)) if element => rename(name, prefix),
            (b"Headers", Object::Array(names)) => {
                for name in names {
                    if let Object::String(name, _) = name {
                        rename(name, prefix);
                    }
                }
            }
            _ => relabel(value, offset, prefix),
        }
    }
}

fn rename(name: &mut Vec<u8>, prefix: &str) {
    name.splice(0..0, prefix.bytes());
}

/// Entries of an outline, from the first.
fn chain(document: &Document, first: Option<ObjectId>) -> Vec<ObjectId> {
    let mut found = Vec::new();
    let mut next = first;
    while let Some(id) = next {
        if found.contains(&id) {
            break;
        }
        found.push(id);
        next = document.get_dictionary(id).ok().and_then(|entry| reference(entry, b"Next"));
    }
    found
}

/// Topmost entries of a part's outline.
fn entries(part: &Document, outlines: ObjectId) -> Vec<ObjectId> {
    chain(part, part.get_dictionary(outlines).ok().and_then(|outlines| reference(outlines, b"First")))
}

/// The pairs of a number tree, in order.
fn numbers(part: &Document, tree: Option<&Object>) -> Vec<(i64, Object)> {
    pairs(part, tree, b"Nums")
        .into_iter()
        .filter_map(|(key, value)| key.as_i64().ok().map(|key| (key, value)))
        .collect()
}

/// The pairs of a name tree, in order.
fn ids(part: &Document, tree: Option<&Object>) -> Vec<(Vec<u8>, Object)> {
    pairs(part, tree, b"Names")
        .into_iter()
        .filter_map(|(key, value)| key.as_str().ok().map(|key| (key.to_vec(), value)))
        .collect()
}

fn pairs(part: &Document, tree: Option<&Object>, key: &[u8]) -> Vec<(Object, Object)> {
    let mut found = Vec::new();
    let mut left: Vec<&Object> = tree.into_iter().collect();
    while let Some(node) = left.pop() {
        let Ok((_, Object::Dictionary(node))) = part.dereference(node) else { continue };
        if let Ok(Object::Array(list)) = node.get_deref(key, part) {
            for pair in list.chunks_exact(2) {
                if let [key, value] = pair {
                    found.push((key.clone(), value.clone()));
                }
            }
        }
        if let Ok(Object::Array(kids)) = node.get_deref(b"Kids", part) {
            left.extend(kids.iter().rev());
        }
    }
    found
}
