//! A preview that follows the files of an author: what changes is checked, the
//! cards that would be others are set anew, and a page on this machine shows
//! card and messages side by side.
//!
//! Four kinds of threads meet at the [`board`]: one learns of changes
//! ([`folders`]) and looks at the files ([`scan`]), one typesets ([`setter`]),
//! and one for each connection answers the browser ([`http`], [`answers`]).
//!
//! What is set anew is decided by content, as in `build` (see [`crate::graph`]):
//! a card whose data, template, fonts and picture are the same is not touched,
//! whatever was written where. Nothing is written to the disk: printed cards
//! change when `build` is called, not while somebody types.

pub mod answers;
pub mod board;
pub mod folders;
pub mod http;
pub mod message;
pub mod scan;
pub mod setter;
