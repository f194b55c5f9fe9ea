//! `porringer watch`

use std::net::TcpListener;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use crate::cli::{Failure, complain, gather, say};
use crate::watch::board::{Board, Found, News};
use crate::watch::folders::{Scope, Watched};
use crate::watch::scan::{Call, scan};
use crate::watch::{answers, http, setter};

/// Where the preview is found if nobody else is there.
const PORT: u16 = 8737;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    call: Call,
    /// Port of the page on this machine; 0 takes any. Default: 8737, or any if
    /// that is taken.
    #[arg(long, value_name = "NUMBER")]
    port: Option<u16>,
    /// Open the page in the browser.
    #[arg(long)]
    open: bool,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let base = std::env::current_dir().map_err(|error| Failure(format!("no working folder: {error}")))?;
    let workspace = gather::workspace(&arguments.call.input)?;
    gather::files(&arguments.call.input, &workspace)?;
    let mut scope = Scope {
        root: workspace.root.clone(),
        out: workspace.root.join(&workspace.settings.out.value),
        further: Vec::new(),
    };
    let named = named(&arguments.call);
    scope.further.clone_from(&named);
    drop(workspace);
    let listener = listen(arguments.port)?;
    let port = listener.local_addr().map_or(PORT, |address| address.port());
    let board = Arc::new(Board::default());
    let no_thread = |error| Failure(format!("no thread could be started: {error}"));
    setter::start(Arc::clone(&board)).map_err(no_thread)?;
    let answering = Arc::clone(&board);
    std::thread::Builder::new()
        .name("listener".to_owned())
        .spawn(move || {
            let answer = move |request: &http::Request| answers::answer(&answering, request);
            http::serve(&listener, &answer);
        })
        .map_err(no_thread)?;
    let address = format!("http://127.0.0.1:{port}/");
    let mut look = None;
    let mut first = true;
    // Watched before the first look, so that nothing falls between.
    let mut watched = Watched::new(&scope);
    let mut seen = scope.look();
    loop {
        if std::env::current_dir().is_err() {
            // The working folder was removed; perhaps it is back.
            let _ = std::env::set_current_dir(&base);
        }
        // A fault of the program must not end the preview.
        let found = catch_unwind(AssertUnwindSafe(|| scan(&arguments.call, &mut look))).unwrap_or_else(|_| Found {
            trouble: Some("this is a fault of the program, not of your files".to_owned()),
            ..Found::default()
        });
        if let Some(inputs) = &found.inputs {
            scope.out.clone_from(&inputs.out);
            scope.further = named.iter().chain(&inputs.files).cloned().collect();
        }
        let trouble = found.trouble.clone();
        let news = board.take(found);
        if first {
            first = false;
            say(&format!("preview at {address} (Ctrl-C ends it)\n"));
            if arguments.open {
                open(&address);
            }
        } else {
            tell(&news, &board);
        }
        if let Some(trouble) = trouble {
            complain(&trouble);
        }
        seen = watched.wait(&scope, &seen);
    }
}

/// Files and folders that the call names; they may lie anywhere.
fn named(call: &Call) -> Vec<PathBuf> {
    let template = call.look.template.as_ref().map(PathBuf::from).filter(|path| path.is_dir());
    let all = call.input.paths.iter().chain(&call.input.foods).chain(&template);
    all.map(|path| std::fs::canonicalize(path).unwrap_or_else(|_| path.clone())).collect()
}

fn listen(port: Option<u16>) -> Result<TcpListener, Failure> {
    let listener = match port {
        Some(port) => http::listen(port),
        None => http::listen(PORT).or_else(|_| http::listen(0)),
    };
    listener.map_err(|error| match port {
        Some(port) => Failure(format!("port {port} cannot be had: {error}; leave out `--port` to take a free one")),
        None => Failure(format!("no port of this machine can be had: {error}")),
    })
}

/// Says what a change did, in a line for each document.
fn tell(news: &News, board: &Board) {
    for file in &news.documents {
        complain(&format!("{file}: {}", board.words(file)));
    }
    if !news.cards.is_empty() {
        complain(&format!("set anew: {}", news.cards.join(", ")));
    }
}

/// Opens a page in the browser that the system, or `BROWSER`, names.
fn open(address: &str) {
    let own = std::env::var_os("BROWSER").filter(|browser| !browser.is_empty());
    let mut command = match &own {
        Some(browser) => Command::new(browser),
        None if cfg!(target_os = "macos") => Command::new("open"),
        None if cfg!(windows) => {
            let mut command = Command::new("cmd");
            command.args(["/C", "start", ""]);
            command
        }
        None => Command::new("xdg-open"),
    };
    let quiet = command.arg(address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
    match quiet {
        // Some openers stay as long as the browser does.
        Ok(mut child) => drop(std::thread::Builder::new().spawn(move || child.wait())),
        Err(error) => {
            let name = command.get_program();
            complain(&format!("the page cannot be opened with `{}`: {error}", Path::new(name).display()));
        }
    }
}
