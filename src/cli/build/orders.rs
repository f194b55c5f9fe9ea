//! Which booklets of a build are to be made: those that something changed in,
//! or in what they bind.

use std::collections::{BTreeMap, HashMap};
use std::path::PathBuf;

use super::outputs::{Mode, Outputs, file_name};
use super::plan::Plan;
use super::reader::Reader;
use super::record::Record;
use super::{Arguments, Format};
use crate::cli::{Deny, Failure, gather};
use crate::diagnostic::{Code, Diagnostic, Severity};
use crate::graph::Content;
use crate::syntax::Kind;
use crate::typeset::Template;
use crate::typeset::impose::Sheets;

/// What a call says of booklets.
pub struct Terms<'a> {
    /// Languages and paper that are named there outrank the booklet's own.
    pub arguments: &'a Arguments,
    pub cards: &'a Template,
    pub menus: Template,
    pub look: &'a Template,
    /// Sheets that are made beside the PDF.
    pub printed: Option<Sheets>,
}

/// A booklet that is to be made.
#[derive(Debug)]
pub struct Order {
    /// Its record.
    pub at: usize,
    /// The records of its pages that there are, each once.
    pub bound: Vec<usize>,
    /// What is kept of it as a whole, and under which name. Nothing where
    /// something that it rests on is unknown.
    pub standing: Option<Content>,
    pub group: String,
}

/// The records of dishes and menus by their names; of two that share one, the
/// first has it.
fn named(records: &[Record]) -> HashMap<(bool, &str), usize> {
    let mut named = HashMap::new();
    for (at, record) in records.iter().enumerate() {
        if let (Kind::Dish | Kind::Menu, Some(id)) = (record.kind, &record.id) {
            named.entry((record.kind == Kind::Menu, id.as_str())).or_insert(at);
        }
    }
    named
}

/// Records what booklets bind and the call did not name.
///
/// # Errors
/// A font that cannot be read.
pub fn gather(
    records: &mut Vec<Record>,
    reader: &mut Reader<'_>,
    plan: &mut Plan,
    outputs: &mut Outputs,
) -> Result<(), Failure> {
    let known = named(records);
    let mut paths: Vec<PathBuf> = Vec::new();
    for (menu, id) in records.iter().filter_map(|record| record.binds.as_ref()).flat_map(|binds| &binds.pages) {
        if !known.contains_key(&(*menu, id.as_str())) {
            let path = plan.place(*menu, id, reader.workspace, &mut outputs.stamps);
            paths.extend(path.filter(|path| !paths.contains(path)));
        }
    }
    for paths in paths.chunks(gather::at_a_time()) {
        let mut open = Vec::new();
        let mut found = Vec::new();
        for path in paths {
            let unit = plan.standing(path, reader.workspace, &mut outputs.stamps);
            let unit = unit.filter(|_| outputs.mode() == Mode::Differing);
            if unit.is_none() {
                open.push(path.clone());
            }
            found.push(unit.map(|unit| Record::of_unit(path, unit)));
        }
        let mut fresh = if open.is_empty() { Vec::new() } else { reader.check(&open, plan)? }.into_iter();
        for (path, record) in paths.iter().zip(found) {
            match record {
                Some(record) => records.push(record),
                None => records.extend(fresh.next().map(|file| reader.record(path, &file, plan, outputs))),
            }
        }
    }
    Ok(())
}

/// The booklets that are to be made: the sound ones, but those that stand with
/// all that they bind.
///
/// # Errors
/// Two files of one name.
pub fn orders(terms: &Terms<'_>, records: &[Record], outputs: &mut Outputs) -> Result<Vec<Order>, Failure> {
    let named = named(records);
    let mut names: BTreeMap<String, &str> = records
        .iter()
        .filter_map(|record| Some((file_name(record.id.as_ref()?).to_lowercase(), record.name.as_str())))
        .collect();
    let mut orders = Vec::new();
    for (at, record) in records.iter().enumerate() {
        let Some(binds) = record.binds.as_ref().filter(|_| terms.sound(&record.messages)) else { continue };
        if let Some(other) = names.insert(file_name(&binds.id).to_lowercase(), &record.name) {
            return Err(Failure(format!(
                "`{}` and `{other}` would have one file name, `{}`; give one another `id`",
                record.name,
                file_name(&binds.id)
            )));
        }
        let mut bound: Vec<usize> = Vec::new();
        let mut rests = vec![record.standing];
        for (menu, id) in &binds.pages {
            let page = named.get(&(*menu, id.as_str())).copied();
            // A page that is not there was told of, and the booklet is faulty.
            rests.push(page.and_then(|page| records.get(page)).and_then(|page| page.standing));
            bound.extend(page.filter(|page| !bound.contains(page)));
        }
        let rests: Option<Vec<Content>> = rests.into_iter().collect();
        let standing = rests.map(|rests| terms.standing(&rests));
        let group = terms.group(&outputs.stamps.key(&record.path));
        if standing.is_some_and(|standing| terms.printed.is_none() && outputs.stands(&group, standing)) {
            continue;
        }
        orders.push(Order { at, bound, standing, group });
    }
    Ok(orders)
}

impl Terms<'_> {
    /// Nothing but its length keeps a document from print: on the booklet's
    /// paper it may fit.
    pub fn sound(&self, messages: &[Diagnostic]) -> bool {
        let denied = self.arguments.deny == Some(Deny::Warnings);
        !messages.iter().any(|message| {
            message.code != Code::TextTooLongForCard
                && (message.severity == Severity::Error || (denied && message.severity == Severity::Warning))
        })
    }

    /// Changes with anything that a booklet rests on: its own document and
    /// those that it binds, in their order, the looks, and what the call says
    /// of booklets.
    fn standing(&self, rests: &[Content]) -> Content {
        let looks = [self.cards.content, self.menus.content, self.look.content];
        let called = (self.arguments.look.paper.is_some(), !self.arguments.look.language.is_empty());
        Content::of_data(&(rests, looks, called, self.arguments.deny.is_some()))
    }

    /// Under which name a booklet is remembered in the forms asked for.
    fn group(&self, key: &str) -> String {
        let forms = [(Format::Pdf, "pdf"), (Format::Json, "json")];
        let asked = forms.iter().filter(|(form, _)| self.arguments.format.contains(form)).map(|(_, word)| *word);
        format!("{} of {key}", asked.collect::<Vec<_>>().join(" "))
    }
}
