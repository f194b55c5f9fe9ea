//! `porringer lsp`

use lsp_server::Connection;

use crate::cli::{CLEAN, Failure};
use crate::lsp;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// It is always so; some editors say it.
    #[arg(long, hide = true)]
    stdio: bool,
}

pub fn run(_: &Arguments) -> Result<u8, Failure> {
    let (connection, threads) = Connection::stdio();
    let ended = lsp::serve(&connection);
    // The writer ends when nobody can send to it any more.
    drop(connection);
    let joined = threads.join();
    ended.map_err(|error| Failure(format!("the editor broke off: {error}")))?;
    joined.map_err(|error| Failure(format!("the editor went away: {error}")))?;
    Ok(CLEAN)
}
