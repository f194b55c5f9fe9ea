//! `porringer build`

mod booklet;
pub mod choice;
mod data;
mod orders;
pub mod outputs;
mod plan;
mod reader;
mod record;
pub mod set;
pub mod sheets;
pub mod table;
mod web;
pub mod why;

use std::collections::BTreeSet;
use std::path::PathBuf;

pub use booklet::id as booklet_id;
pub use choice::{fonts_and, further_fonts, named_fonts, unknown_language};
pub use outputs::write;

use crate::card::Locale;
use crate::check::Checked;
use crate::cli::gather::{self, Format as Messages, Report};
use crate::cli::{CLEAN, Deny, ERRORS, Failure, Input, complain, say, say_plain};
use crate::diagnostic::{Diagnostic, Severity};
use crate::graph::Content;
use crate::graph::stamps::Unit;
use crate::syntax::Kind;
use crate::typeset::Forms;
use crate::typeset::impose::{Impose, Sheets};
use crate::workspace::shown;

use orders::Terms;
use outputs::{Mode, Outputs, file_name};
use plan::Plan;
use reader::Reader;
use record::Record;
use set::Setter;
use sheets::{Common, Rests};
use table::Table;
use why::Why;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    input: Input,
    /// Output folder; default: the workspace's `out`.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// What is written.
    #[arg(long, value_enum, value_delimiter = ',', default_value = "pdf")]
    format: Vec<Format>,
    #[command(flatten)]
    look: choice::Look,
    /// How a booklet's own pages look: booklet, or a template's folder; default:
    /// the workspace's.
    #[arg(long, value_name = "NAME|DIR")]
    booklet_template: Option<String>,
    /// Make sheets for a printer beside each PDF: fold, for a booklet that is
    /// folded and stitched; two-up, each page twice, to be cut in two. They are
    /// for paper only: the PDF beside them is the one that can be read aloud.
    #[arg(long, value_enum)]
    impose: Option<Impose>,
    /// Give the sheets marks where to cut and fold, on a margin of 10 mm.
    #[arg(long)]
    crop_marks: bool,
    /// Let warnings keep a card from being made.
    #[arg(long, value_enum)]
    deny: Option<Deny>,
    /// Make everything, what is up to date too.
    #[arg(long)]
    force: bool,
    /// Say of each card why it was made or kept.
    #[arg(long)]
    explain: bool,
    /// Write nothing; fail if the output folder is not what would be made.
    #[arg(long, conflicts_with_all = ["force", "explain"])]
    locked: bool,
    /// Keep no record of what was built, for programs that keep their own.
    #[arg(long)]
    no_stamps: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// The printed card.
    Pdf,
    /// A picture of each page, one phone wide.
    Png,
    /// The same without pixels.
    Svg,
    /// Figures and card as data.
    Json,
    /// Pages for a browser or a phone, with a table of contents.
    Html,
    /// The nutrients of all dishes in one table.
    Csv,
    /// Each dish as linked data: schema.org's Recipe.
    Jsonld,
}

impl Format {
    /// How its files end.
    fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Png => "png",
            Self::Svg => "svg",
            Self::Json => "json",
            Self::Html => "html",
            Self::Csv => "csv",
            Self::Jsonld => "jsonld",
        }
    }
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    of_kind(arguments, None)
}

/// Builds documents of one kind, or all that are printed.
pub fn of_kind(arguments: &Arguments, only: Option<Kind>) -> Result<u8, Failure> {
    let workspace = gather::workspace(&arguments.input)?;
    let mut paths = gather::files(&arguments.input, &workspace)?;
    if let Some(kind) = only {
        paths.retain(|path| Kind::of_path(path) == Some(kind));
        if paths.is_empty() {
            return Err(Failure(format!("there is no {} among these files", kind.word())));
        }
    }
    if workspace.faults.iter().flat_map(|fault| &fault.diagnostics).any(|message| message.severity == Severity::Error) {
        // With other settings than were meant every card would be wrong.
        let (text, count) = gather::report(&workspace, &[], Messages::Human, false);
        say(&text);
        complain(&format!("no card is made with these settings: {}", count.words()));
        return Ok(ERRORS);
    }
    let languages = choice::languages(&arguments.look, &workspace)?;
    let template = choice::template(&arguments.look, &workspace)?;
    let paper = choice::paper(&arguments.look, &workspace, &template)?;
    let look = choice::booklet_template(arguments.booklet_template.as_deref(), &workspace)?;
    let printed = Sheets::new(arguments.impose, arguments.crop_marks);
    let out = arguments.out.clone().unwrap_or_else(|| workspace.root.join(&workspace.settings.out.value));
    let mode = match arguments {
        Arguments { locked: true, .. } => Mode::Compared,
        Arguments { force: true, .. } => Mode::All,
        _ => Mode::Differing,
    };
    let mut outputs = Outputs::open(out, &workspace.root, mode, !arguments.no_stamps);
    let forms = Forms {
        pdf: arguments.format.contains(&Format::Pdf),
        svg: arguments.format.contains(&Format::Svg),
        png: arguments.format.contains(&Format::Png),
    };
    let data = arguments.format.contains(&Format::Json);
    let denied = arguments.deny == Some(Deny::Warnings);

    let mut plan = Plan::new(&workspace, &arguments.look, &languages, &paper, &template, &mut outputs.stamps)?;
    // What stands as it was checked last, and what has to be checked again.
    let mut standing: Vec<Option<Unit>> =
        paths.iter().map(|path| plan.standing(path, &workspace, &mut outputs.stamps)).collect();
    // Outputs of all documents at once want all of them checked.
    let of_all: Vec<(Format, &str)> = [(Format::Html, "html"), (Format::Csv, "csv"), (Format::Jsonld, "jsonld")]
        .into_iter()
        .filter(|(format, _)| arguments.format.contains(format))
        .collect();
    let mut whole = all_stand(standing.iter().map(|unit| unit.as_ref().map(|unit| unit.standing)), denied);
    let of_all: Vec<(Format, &str)> =
        of_all.into_iter().filter(|(_, name)| !whole.is_some_and(|whole| outputs.stands(name, whole))).collect();
    let now = |format: Format| of_all.iter().any(|(one, _)| *one == format);
    // A booklet binds what others say: whether it stands is asked when they
    // are known.
    let bound = |kind: Kind| kind == Kind::Booklet && (forms.pdf || data);
    for unit in &mut standing {
        let stands = of_all.is_empty()
            && mode == Mode::Differing
            && unit.as_ref().is_some_and(|unit| {
                bound(unit.kind)
                    || printed.is_none()
                        && (!sound(&unit.messages, denied) || stands(unit, &languages, forms, data, &mut outputs))
            });
        if !stands {
            *unit = None;
        }
    }
    let open: Vec<usize> = standing.iter().enumerate().filter(|(_, unit)| unit.is_none()).map(|(at, _)| at).collect();
    if !open.is_empty() && (forms.pdf || forms.svg || forms.png) {
        template.ahead();
    }
    let mut records: Vec<Option<Record>> =
        paths.iter().zip(standing).map(|(path, unit)| unit.map(|unit| Record::of_unit(path, unit))).collect();

    // All are checked before any card is made, some at a time; of each little
    // is kept. The first lot is at hand when its cards are made, the others are
    // checked again then, which takes a hundredth of the time of the cards.
    // Pages for a browser lead from each to all.
    let lot = if now(Format::Html) { usize::MAX } else { gather::at_a_time() };
    let mut reader = Reader::new(&workspace, &languages, &arguments.look);
    let mut held = Vec::new();
    for (nth, places) in open.chunks(lot).enumerate() {
        let own: Vec<PathBuf> = places.iter().filter_map(|at| paths.get(*at).cloned()).collect();
        let files = reader.check(&own, &plan)?;
        for ((at, path), file) in places.iter().zip(&own).zip(&files) {
            if let Some(record) = records.get_mut(*at) {
                *record = Some(reader.record(path, file, &mut plan, &mut outputs));
            }
        }
        if nth == 0 {
            held = files;
        }
    }
    let mut records: Vec<Record> = records.into_iter().flatten().collect();
    if !of_all.is_empty() {
        whole = all_stand(records.iter().map(|record| record.standing), denied);
    }
    let carded = |record: &&Record| record.id.is_some() && record.sound(denied);
    let named = records.iter().filter(carded);
    sheets::each_its_own(named.filter_map(|record| Some((record.name.as_str(), record.id.as_deref()?))))?;
    let total = number(records.iter().filter(carded).filter(|record| !record.stood), &languages)?;
    for record in records.iter_mut().filter(|record| record.stood && record.sound(denied)) {
        still_refused(record, &languages, forms, &outputs);
    }
    let binds = (forms.pdf || data) && records.iter().any(|record| record.kind == Kind::Booklet);
    // What booklets bind besides has no card of its own here.
    if binds {
        orders::gather(&mut records, &mut reader, &mut plan, &mut outputs)?;
    }
    outputs.ready(!arguments.no_stamps)?;

    let further = if open.is_empty() { Vec::new() } else { reader.further()?.clone() };
    let imprint = choice::imprint(&workspace, &paper, &further);
    let mut setter = Setter::new(total, forms, printed, further, &template)?;
    let mut table = Table::default();
    let mut linked = Vec::new();
    for (nth, places) in open.chunks(lot).enumerate() {
        let mut places = places.to_vec();
        let files: Vec<Checked> = if nth == 0 {
            std::mem::take(&mut held)
        } else {
            places.retain(|at| records.get(*at).as_ref().is_some_and(carded));
            if places.is_empty() {
                continue;
            }
            let files;
            (places, files) = again(places, &records, &mut reader, &plan, &mut outputs)?;
            files
        };
        let mut rests = Vec::with_capacity(files.len());
        for (at, file) in places.iter().zip(&files) {
            let Some(path) = paths.get(*at) else { continue };
            let unit = reader.unit(path, file, &mut plan, &mut outputs.stamps);
            let key = outputs.stamps.key(path);
            rests.push(unit.map_or_else(Rests::default, |unit| Rests {
                standing: Some(unit.standing),
                told: plan.told(&key, &unit, file),
            }));
        }
        let common = Common {
            workspace: &workspace,
            languages: &languages,
            imprint: &imprint,
            look: &plan.look,
            template: &template,
            rests: &rests,
        };
        let jobs = sheets::jobs(&common, &files, &|file| sound(&file.diagnostics, denied))?;
        if data {
            data::write(&jobs, &files, &workspace, &mut outputs);
        }
        outputs.begin();
        if now(Format::Html) {
            web::write(&common, &jobs, &files, &mut outputs)?;
            let targets = outputs.end();
            if let Some(whole) = whole {
                outputs.close("html", whole, targets);
            }
        }
        if now(Format::Csv) {
            table.add(&jobs, &files, &workspace.reference);
        }
        if now(Format::Jsonld) {
            web::write_linked(&jobs, &files, &mut outputs);
            linked.extend(outputs.end());
        }
        let long = setter.set(&jobs, &files, &mut outputs)?;
        drop(jobs);
        for (file, message) in long {
            let Some((at, file)) = places.get(file).zip(files.get(file)) else { continue };
            if let Some(record) = records.get_mut(*at) {
                record.add(message, Some(&file.source));
            }
        }
    }
    drop(setter);
    if now(Format::Jsonld)
        && let Some(whole) = whole
    {
        outputs.close("jsonld", whole, linked);
    }
    if now(Format::Csv) {
        outputs.begin();
        table.write(&mut outputs);
        let targets = outputs.end();
        if let Some(whole) = whole {
            outputs.close("csv", whole, targets);
        }
    }
    if binds {
        let terms = Terms { arguments, cards: &template, menus: set::menu_template()?, look: &look, printed };
        let orders = orders::orders(&terms, &records, &mut outputs)?;
        if !orders.is_empty() {
            let further = reader.further()?.clone();
            let imprint = choice::imprint(&workspace, &paper, &further);
            let common = Common {
                workspace: &workspace,
                languages: &languages,
                imprint: &imprint,
                look: &plan.look,
                template: &template,
                rests: &[],
            };
            let bindery = booklet::Bindery { common: &common, terms: &terms, further };
            bindery.make(orders, &mut records, &mut reader, &plan, &mut outputs)?;
        }
    }
    let mut report = Report::new(&workspace, Messages::Human, false);
    for record in &records {
        record.report(&mut report);
        say(&report.take());
    }
    let (text, count) = report.finish();
    say(&text);
    for trouble in outputs.troubles() {
        complain(trouble);
    }
    let others = records.iter().filter(|record| record.kind == Kind::Booklet).count();
    if others > 0 && !binds {
        let what = if others == 1 { "1 booklet is" } else { &format!("{others} booklets are") };
        complain(&if arguments.format.contains(&Format::Html) {
            format!("{what} read for the order of the web contents: a booklet itself is made as PDF")
        } else {
            format!("{what} checked only: a booklet is made as PDF")
        });
    }
    if arguments.explain {
        explain(&outputs);
    }
    let skipped = |kind: Kind| records.iter().filter(|record| record.kind == kind && !record.sound(denied)).count();
    let mut left_out = String::new();
    for (kind, one, many) in
        [(Kind::Dish, "dish", "dishes"), (Kind::Menu, "menu", "menus"), (Kind::Booklet, "booklet", "booklets")]
    {
        match skipped(kind) {
            0 => {}
            1 => left_out.push_str(&format!(", 1 {one} left out")),
            more => left_out.push_str(&format!(", {more} {many} left out")),
        }
    }
    let failures = outputs.troubles().len();
    let failed = count.errors > 0 || (denied && count.warnings > 0);
    if mode == Mode::Compared {
        let whole = arguments.input.paths.is_empty() && only.is_none();
        return Ok(compared(&outputs, arguments, whole, failed, failures, &left_out));
    }
    if failures > 0 {
        left_out.push_str(&format!(", {failures} not written"));
    }
    let (made, kept) = (outputs.made(), outputs.kept());
    let files = if made == 1 { "1 file".to_owned() } else { format!("{made} files") };
    let up_to_date = if kept == 0 { String::new() } else { format!(", {kept} up to date") };
    complain(&format!("{files} in {}{up_to_date}{left_out}: {}", shown(outputs.folder()), count.words()));
    outputs.finish();
    if failures > 0 {
        return Ok(crate::cli::USAGE);
    }
    Ok(if failed { ERRORS } else { CLEAN })
}

/// Whether a card may be made of a document with these messages.
fn sound(messages: &[Diagnostic], denied: bool) -> bool {
    !messages
        .iter()
        .any(|message| message.severity == Severity::Error || (denied && message.severity == Severity::Warning))
}

/// What all documents together stand on, if nothing of it is unknown.
fn all_stand(all: impl Iterator<Item = Option<Content>>, denied: bool) -> Option<Content> {
    let all: Vec<Content> = all.collect::<Option<_>>()?;
    Some(Content::of_data(&(denied, all)))
}

/// The cards of a document: language and target.
fn cards(id: &str, own: &str, languages: &[String], forms: Forms) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for tag in gather::languages_of(own, languages) {
        let name = format!("{}.{tag}", file_name(id));
        all.extend(set::targets(&name, forms).into_iter().map(|target| (tag.clone(), target)));
    }
    all
}

/// How many cards are to be made of documents.
///
/// # Errors
/// A language without words.
fn number<'a>(records: impl Iterator<Item = &'a Record>, languages: &[String]) -> Result<usize, Failure> {
    let mut known: BTreeSet<String> = languages.iter().cloned().collect();
    let mut number = 0;
    for record in records {
        for tag in gather::languages_of(&record.language, languages) {
            number += 1;
            if !known.contains(&tag) {
                if Locale::new(&tag).is_none() {
                    return Err(Failure(unknown_language(&tag)));
                }
                known.insert(tag);
            }
        }
    }
    Ok(number)
}

/// A card that stands may be one that no sheet holds: that is said every time.
fn still_refused(record: &mut Record, languages: &[String], forms: Forms, outputs: &Outputs) {
    let Some(id) = &record.id else { return };
    for (lang, target) in cards(id, &record.language, languages, forms) {
        let refused = outputs.refused(&target).map(|refused| set::too_long(&lang, record.title, refused));
        if let Some(message) = refused.filter(|message| !record.messages.contains(message)) {
            record.add(message, None);
        }
    }
}

/// Documents checked again for their cards, with their places among the
/// records. What was said of a text does not hold for another: one that was
/// changed in the meantime is left out.
fn again(
    places: Vec<usize>,
    records: &[Record],
    reader: &mut Reader<'_>,
    plan: &Plan,
    outputs: &mut Outputs,
) -> Result<(Vec<usize>, Vec<Checked>), Failure> {
    let own: Vec<PathBuf> = places.iter().filter_map(|at| records.get(*at)).map(|record| record.path.clone()).collect();
    let mut found: Vec<(usize, Checked)> = places.into_iter().zip(reader.check(&own, plan)?).collect();
    found.retain(|(at, file)| {
        let text = Content::of(file.source.text.as_bytes());
        let steady = records.get(*at).is_some_and(|record| record.text == text);
        if !steady {
            outputs.trouble(format!("`{}` was changed while cards were made; build again", file.source.name));
        }
        steady
    });
    Ok(found.into_iter().unzip())
}

/// Whether all outputs of a document that is sound are up to date.
fn stands(unit: &Unit, languages: &[String], forms: Forms, data: bool, outputs: &mut Outputs) -> bool {
    let Some(id) = &unit.id else { return true };
    let mut targets: Vec<String> =
        cards(id, &unit.language, languages, forms).into_iter().map(|(_, target)| target).collect();
    targets.extend(data.then(|| format!("{}.json", file_name(id))));
    let all = targets.iter().all(|target| outputs.stamps.stands(target, unit.standing));
    if all {
        targets.iter().for_each(|target| outputs.keep(target, Why::Nothing));
    }
    all
}

/// Says of each target what was done with it and why.
fn explain(outputs: &Outputs) {
    let width = outputs.reasons().keys().map(|target| target.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    for (target, why) in outputs.reasons() {
        let verb = if outputs.refused(target).is_some() { "left out" } else { why.verb() };
        text.push_str(&format!("{target:<width$}  {verb}: {}\n", why.words()));
    }
    say_plain(&text);
}

/// Says what `--locked` found.
fn compared(
    outputs: &Outputs,
    arguments: &Arguments,
    whole: bool,
    failed: bool,
    failures: usize,
    left_out: &str,
) -> u8 {
    let mut lines: Vec<(String, String)> = Vec::new();
    let (mut missing, mut stale) = (0, 0);
    for (name, why) in outputs.differing() {
        if *why == Why::New {
            missing += 1;
            lines.push((name.clone(), "missing".to_owned()));
        } else {
            stale += 1;
            lines.push((name.clone(), format!("stale: {}", why.words())));
        }
    }
    // What else lies there is only known when everything is made.
    let endings: Vec<&str> = arguments.format.iter().map(|format| format.ending()).collect();
    let extra = if whole { outputs.extra(&endings) } else { Vec::new() };
    lines.extend(extra.iter().map(|name| (name.clone(), "extra: no recipe makes it".to_owned())));
    lines.sort();
    let width = lines.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    for (name, what) in &lines {
        text.push_str(&format!("{name:<width$}  {what}\n"));
    }
    say_plain(&text);
    let folder = shown(outputs.folder());
    if lines.is_empty() && !failed {
        let kept = outputs.kept();
        let files = if kept == 1 { "1 file".to_owned() } else { format!("{kept} files") };
        complain(&format!("{folder} is what these recipes make: {files}{left_out}"));
    } else {
        let mut words = Vec::new();
        for (count, word) in [(missing, "missing"), (stale, "stale"), (extra.len(), "extra")] {
            if count > 0 {
                words.push(format!("{count} {word}"));
            }
        }
        let what = if words.is_empty() { "some cards could not be made".to_owned() } else { words.join(", ") };
        complain(&format!("{folder} is not what these recipes make: {what}{left_out}"));
    }
    match (failures, failed || !lines.is_empty()) {
        (0, true) => ERRORS,
        (0, false) => CLEAN,
        _ => crate::cli::USAGE,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::typeset::Template;
    use crate::workspace::Workspace;

    #[test]
    fn a_document_that_changed_before_its_card_is_left_out() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        let text = "dish A\nfor 9 to 11 months\n";
        std::fs::write(path("porringer.toml"), "").unwrap();
        std::fs::write(path("a.dish"), text).unwrap();
        std::fs::write(path("b.dish"), text).unwrap();
        let workspace = Workspace::of(folder.path());
        let look = choice::Look { language: Vec::new(), paper: None, template: None, font: Vec::new() };
        let mut outputs = Outputs::open(path("out"), &workspace.root, Mode::Differing, true);
        let template = Template::built_in("card").unwrap();
        let mut plan = Plan::new(&workspace, &look, &[], "A5", &template, &mut outputs.stamps).unwrap();
        let mut reader = Reader::new(&workspace, &[], &look);
        let paths = [path("a.dish"), path("b.dish")];
        let files = reader.check(&paths, &plan).unwrap();
        let records: Vec<Record> =
            paths.iter().zip(&files).map(|(path, file)| reader.record(path, file, &mut plan, &mut outputs)).collect();
        std::fs::write(path("a.dish"), text.replace("dish A", "dish B")).unwrap();
        let (places, files) = again(vec![0, 1], &records, &mut reader, &plan, &mut outputs).unwrap();
        assert_eq!(places, [1]);
        assert!(files[0].source.name.ends_with("b.dish"));
        assert_eq!(outputs.troubles().len(), 1);
        assert!(outputs.troubles()[0].contains("a.dish` was changed while cards were made"));
    }
}
