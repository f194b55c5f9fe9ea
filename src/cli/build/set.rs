//! Typesetting the cards of a build.

use std::io::{IsTerminal, Write};

use super::outputs::Outputs;
use super::sheets::{Job, Sheet};
use crate::check::Checked;
use crate::cli::{Failure, complain};
use crate::diagnostic::{Code, Diagnostic};
use crate::graph::stamps::Refused;
use crate::source::Span;
use crate::typeset::guard::{Guard, Limits};
use crate::typeset::impose::{Sheets, impose};
use crate::typeset::{Engine, Forms, Pages, Relief, Template};
use crate::workspace::shown;

/// One form of a card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Pdf,
    Svg,
    Png,
}

impl Form {
    const ALL: [Self; 3] = [Self::Pdf, Self::Svg, Self::Png];

    fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg => "svg",
            Self::Png => "png",
        }
    }

    fn target(self, name: &str) -> String {
        format!("{name}.{}", self.ending())
    }

    fn of(self, forms: &mut Forms) -> &mut bool {
        match self {
            Self::Pdf => &mut forms.pdf,
            Self::Svg => &mut forms.svg,
            Self::Png => &mut forms.png,
        }
    }
}

/// Typesets the cards of a build, some at a time. The typesetter stays.
pub struct Setter<'a> {
    forms: Forms,
    sheets: Option<Sheets>,
    further: Vec<typst::text::Font>,
    template: &'a Template,
    menus: Template,
    engine: Option<Engine>,
    /// Cards of the build.
    cards: usize,
    /// Cards that are done.
    seen: usize,
}

impl<'a> Setter<'a> {
    /// For so many cards.
    ///
    /// # Errors
    /// There is no look for menus, which a test rules out.
    pub fn new(
        cards: usize,
        forms: Forms,
        sheets: Option<Sheets>,
        further: Vec<typst::text::Font>,
        template: &'a Template,
    ) -> Result<Self, Failure> {
        Ok(Self { forms, sheets, further, template, menus: menu_template()?, engine: None, cards, seen: 0 })
    }

    fn sides(&self, sheet: &Sheet) -> usize {
        match sheet {
            Sheet::Card(card) => self.template.manifest.sides(&card.paper),
            Sheet::Menu(menu) => self.menus.manifest.sides(&menu.paper),
        }
        .unwrap_or(usize::MAX)
    }

    /// Sheets for a printer. A card of two sides is one sheet already and is
    /// not folded.
    fn printed(&self, sheet: &Sheet) -> Option<Sheets> {
        self.sheets.filter(|sheets| self.forms.pdf && sheets.takes(self.sides(sheet)))
    }

    /// Typesets on all cores and writes each card when it is whole. Gives the
    /// cards that no sheet holds, by their files.
    ///
    /// # Errors
    /// The typesetter cannot be started.
    pub fn set(
        &mut self,
        jobs: &[Job],
        checked: &[Checked],
        outputs: &mut Outputs,
    ) -> Result<Vec<(usize, Diagnostic)>, Failure> {
        let mut long: Vec<(usize, Diagnostic)> = Vec::new();
        let mut wanted: Vec<(&Job, Forms)> = Vec::new();
        for job in jobs {
            let mut forms = self.forms;
            let mut refused = None;
            for form in Form::ALL {
                let asked = form.of(&mut forms);
                let target = form.target(&job.name);
                if *asked && !outputs.wants(&target, &job.needs) {
                    *asked = false;
                    refused = outputs.refused(&target).cloned().or(refused);
                }
            }
            if let Some(sheets) = self.printed(&job.sheet).filter(|_| refused.is_none()) {
                forms.pdf |= outputs.wants(&for_print(&job.name, sheets), &job.needs);
            }
            if let Some(refused) = refused {
                let title = checked.get(job.file).and_then(Checked::title).map_or(Span::default(), |title| title.span);
                long.push((job.file, too_long(job.sheet.lang(), title, &refused)));
            } else if forms.pdf || forms.svg || forms.png {
                wanted.push((job, forms));
            }
        }
        self.seen += jobs.len() - wanted.len();
        if !wanted.is_empty() {
            if self.engine.is_none() {
                self.engine = Some(engine(self.cards, self.further.clone(), self.template.built_in)?);
            }
            long.extend(self.typeset(&wanted, checked, outputs));
            self.seen += wanted.len();
        }
        Ok(long)
    }

    /// Typesets what is wanted. Gives the cards that no sheet holds.
    fn typeset(
        &self,
        wanted: &[(&Job, Forms)],
        checked: &[Checked],
        outputs: &mut Outputs,
    ) -> Vec<(usize, Diagnostic)> {
        let Some(engine) = &self.engine else { return Vec::new() };
        let terminal = std::io::stderr().is_terminal();
        let mut seen = self.seen;
        let mut long: Vec<(usize, Diagnostic)> = Vec::new();
        engine.each(
            wanted,
            |(job, forms)| match &job.sheet {
                Sheet::Card(card) => engine.card(self.template, card, job.picture.as_ref(), *forms),
                Sheet::Menu(menu) => engine.menu(&self.menus, menu, *forms),
            },
            |at, result| {
                seen += 1;
                if terminal {
                    let _ = write!(std::io::stderr(), "\r{seen} of {} cards", self.cards);
                }
                let Some((job, forms)) = wanted.get(at) else { return };
                let sides = self.sides(&job.sheet);
                match result {
                    Ok(pages) if pages.count > sides => {
                        let refused = refused(&job.sheet, &pages, sides);
                        let title = checked.get(job.file).and_then(Checked::title);
                        let title = title.map_or(Span::default(), |title| title.span);
                        long.push((job.file, too_long(job.sheet.lang(), title, &refused)));
                        for target in targets(&job.name, *forms) {
                            outputs.refuse(&target, &job.needs, refused.clone());
                        }
                    }
                    Ok(pages) => {
                        let mut forms = *forms;
                        for form in Form::ALL {
                            if *form.of(&mut forms) {
                                let files = files_of(&pages, &job.name, form);
                                outputs.put(&form.target(&job.name), &job.needs, &files);
                            }
                        }
                        if let Some(sheets) = self.printed(&job.sheet).filter(|_| !pages.pdf.is_empty()) {
                            let target = for_print(&job.name, sheets);
                            match impose(&pages.pdf, sheets, job.sheet.right_to_left()) {
                                Ok(bytes) => outputs.put(&target, &job.needs, &[(target.clone(), &bytes)]),
                                Err(why) => outputs.trouble(format!("{target}: {why}")),
                            }
                        }
                    }
                    Err(fault) => {
                        outputs.trouble(format!("{}: {fault}", shown(&outputs.folder().join(&job.name))));
                    }
                }
            },
        );
        if terminal {
            let _ = write!(std::io::stderr(), "\r{:30}\r", "");
        }
        long
    }
}

/// Name of the sheets for a printer.
fn for_print(name: &str, sheets: Sheets) -> String {
    format!("{name}.{}.pdf", sheets.name())
}

/// The targets of a card in the forms asked for.
pub fn targets(name: &str, mut forms: Forms) -> Vec<String> {
    Form::ALL.into_iter().filter(|form| *form.of(&mut forms)).map(|form| form.target(name)).collect()
}

/// What is said of a card that no sheet holds.
pub fn refused(sheet: &Sheet, pages: &Pages, sides: usize) -> Refused {
    let place = |relief: &Relief| Relief::ALL.iter().position(|one| one == relief).and_then(|at| u8::try_from(at).ok());
    Refused {
        pages: pages.count,
        sides,
        paper: sheet.paper().to_owned(),
        menu: matches!(sheet, Sheet::Menu(_)),
        reliefs: pages.reliefs.iter().filter_map(place).collect(),
    }
}

/// The files of a card in one form. Pictures of its pages count from one.
fn files_of<'p>(pages: &'p Pages, name: &str, form: Form) -> Vec<(String, &'p [u8])> {
    let numbered = |at: usize| format!("{name}.{}.{}", at + 1, form.ending());
    match form {
        Form::Pdf => vec![(form.target(name), pages.pdf.as_slice())],
        Form::Svg => pages.svg.iter().enumerate().map(|(at, svg)| (numbered(at), svg.as_bytes())).collect(),
        Form::Png => pages.png.iter().enumerate().map(|(at, png)| (numbered(at), png.as_slice())).collect(),
    }
}

/// Says what would make the card fit, in the author's terms.
pub fn too_long(lang: &str, title: Span, refused: &Refused) -> Diagnostic {
    let Refused { pages, sides, paper, menu, reliefs } = refused;
    let reliefs: Vec<&str> =
        reliefs.iter().filter_map(|at| Relief::ALL.get(usize::from(*at))).map(|relief| relief.words()).collect();
    let help = too_long_help(paper, *sides, *menu, &reliefs);
    Diagnostic::new(
        Code::TextTooLongForCard,
        title,
        if *sides == 2 {
            format!("the {lang} card takes {pages} {paper} pages; a sheet has two sides")
        } else {
            format!("the {lang} card takes {pages} {paper} pages of {sides}")
        },
    )
    .help(help)
}

/// What would make a card of so many sides fit on its paper.
pub fn too_long_help(paper: &str, sides: usize, menu: bool, reliefs: &[&str]) -> String {
    let shorter = if menu {
        "take fewer items or shorter remarks".to_owned()
    } else if reliefs.is_empty() {
        "shorten the prose and the remarks, take fewer ingredients".to_owned()
    } else {
        format!("it would fit without {}: shorten there", reliefs.join("; or without "))
    };
    // On a pocket's paper there is a look made for it, of two sides.
    if paper == "A6" && sides > 2 && !menu {
        return format!("{shorter}, or take the compact look: `--template {POCKET}`");
    }
    if matches!(paper, "A4" | "Letter") {
        return shorter;
    }
    format!("{shorter}, or print on a larger paper: `--paper A4`")
}

/// The look made for the smallest paper.
const POCKET: &str = "pocket";

pub fn menu_template() -> Result<Template, Failure> {
    Template::built_in("menu").ok_or_else(|| Failure("there is no look for menus".to_owned()))
}

/// The typesetter for so many jobs, under guard where a template did not come
/// with the program.
pub fn engine(jobs: usize, further: Vec<typst::text::Font>, built_in: bool) -> Result<Engine, Failure> {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get).min(jobs);
    let engine = Engine::new(cores, further).map_err(|fault| Failure(fault.to_string()))?;
    if built_in {
        return Ok(engine);
    }
    Ok(engine.guarded(Guard::start(cores, Limits::default(), |why| {
        complain(&format!("{why}; nothing more is made"));
        std::process::exit(i32::from(crate::cli::USAGE));
    })))
}
