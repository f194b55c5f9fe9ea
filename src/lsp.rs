//! The language server: what an editor shows while an author types.
//!
//! Synchronous and in order. Edits are taken in at once; checking waits until
//! no message is waiting (see [`server`]). Every feature is a pure function
//! over a [`View`]: a checked document, the tables it was checked with and the
//! names of its neighbours. Features speak in bytes; [`position`] turns those
//! into the lines and columns that an editor counts.

pub mod book;
pub mod completion;
pub mod folder;
pub mod form;
pub mod hints;
pub mod hover;
pub mod messages;
pub mod names;
pub mod outline;
pub mod place;
pub mod position;
pub mod rename;
pub mod reply;
pub mod server;
pub mod state;
pub mod tokens;
pub mod view;

pub use server::serve;
pub use view::View;
