//! Typesets the cards that changed, one after the other, on a thread of its
//! own (never in a pool's task, see `typeset::Engine::each`).

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

use super::board::{Board, Outcome, Task};
use super::message::Message;
use crate::cli::build::set::{refused, too_long};
use crate::cli::build::sheets::Sheet;
use crate::cli::complain;
use crate::typeset::guard::{Guard, Limits};
use crate::typeset::{Engine, Fault, Forms, Pages, Template};

const STACK: usize = 16 << 20;
/// Cards between two clearings of the typesetter's memory, and how many
/// clearings an entry outlives: a card that is edited again is set faster from
/// what is remembered.
const CLEAR_EVERY: usize = 5;
const CLEAR_AGE: usize = 2;

const FORMS: Forms = Forms { pdf: true, svg: true, png: false };

/// Starts the thread. It ends with the program.
///
/// # Errors
/// No thread is to be had.
pub fn start(board: Arc<Board>) -> std::io::Result<()> {
    std::thread::Builder::new().name("setter".to_owned()).stack_size(STACK).spawn(move || run(&board)).map(|_| ())
}

/// An engine with the fonts of one look.
struct Ready {
    content: String,
    engine: Engine,
}

fn run(board: &Board) {
    let mut ready: Option<Ready> = None;
    let menus = Template::built_in("menu");
    for count in 1_usize.. {
        let task = board.task();
        // A fault of the typesetter must not end the preview.
        let result = catch_unwind(AssertUnwindSafe(|| set(&task, &mut ready, menus.as_ref())))
            .unwrap_or_else(|_| Err(Fault::Template("this is a fault of the program, not of your files".to_owned())));
        take(board, &task, result, menus.as_ref());
        if count % CLEAR_EVERY == 0 {
            typst::comemo::evict(CLEAR_AGE);
        }
    }
}

fn set(task: &Task, ready: &mut Option<Ready>, menus: Option<&Template>) -> Result<Pages, Fault> {
    let look = &task.version.look;
    let engine = match ready {
        Some(ready) if ready.content == look.content => &ready.engine,
        _ => {
            let mut engine = Engine::new(1, look.fonts.clone())?;
            if !look.template.built_in {
                // The typesetter cannot be interrupted otherwise.
                engine = engine.guarded(Guard::start(1, Limits::default(), |why| {
                    complain(&format!("{why}; the preview ends"));
                    std::process::exit(i32::from(crate::cli::USAGE));
                }));
            }
            &ready.insert(Ready { content: look.content.clone(), engine }).engine
        }
    };
    let job = &task.version.job;
    match (&job.sheet, menus) {
        (Sheet::Card(card), _) => engine.card(&look.template, card, job.picture.as_ref(), FORMS),
        (Sheet::Menu(menu), Some(menus)) => engine.menu(menus, menu, FORMS),
        (Sheet::Menu(_), None) => Err(Fault::Template("there is no look for menus".to_owned())),
    }
}

fn take(board: &Board, task: &Task, result: Result<Pages, Fault>, menus: Option<&Template>) {
    let job = &task.version.job;
    let sides = match &job.sheet {
        Sheet::Card(card) => task.version.look.template.manifest.sides(&card.paper),
        Sheet::Menu(menu) => menus.and_then(|menus| menus.manifest.sides(&menu.paper)),
    }
    .unwrap_or(usize::MAX);
    match result {
        Ok(pages) if pages.count > sides => {
            let outcome = |document: &super::board::Document| {
                let refused = refused(&job.sheet, &pages, sides);
                let message = too_long(job.sheet.lang(), document.title_span, &refused);
                Outcome::TooLong { message: Box::new(Message::new(&message, &document.source)) }
            };
            board.done(task, outcome, None);
        }
        Ok(pages) => board.done(task, |_| Outcome::Good { pages: pages.svg.len() }, Some(pages.clone())),
        Err(fault) => board.done(task, |_| Outcome::Fault { said: fault.to_string() }, None),
    }
}
