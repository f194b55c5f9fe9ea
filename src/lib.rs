//! Porringer compiles plain-text recipes for young children into checked,
//! printable cards.
//!
//! ```text
//! text → syntax::Tree → ast::Document → resolve::Dish → compute::Computed → assess::Report → card::Card → typeset → PDF
//!        (total, lossless)  (typed)      (foods, grams)   (sums)             (rules, claims)   (plain data)
//! ```
//!
//! Each arrow is `fn(input, &mut Sink) -> output`; it cannot fail and reads no
//! files. `Result` appears only where the outside world is touched
//! (`workspace`, `typeset`, `cli`). A phase knows those to its left, never
//! those to its right.

#![forbid(unsafe_code)]

pub mod assess;
pub mod ast;
pub mod card;
pub mod check;
pub mod cli;
pub mod compare;
pub mod compute;
pub mod diagnostic;
pub mod format;
pub mod graph;
pub mod import;
pub mod lsp;
pub mod quantity;
pub mod reference;
pub mod resolve;
pub mod source;
pub mod syntax;
pub mod translate;
pub mod typeset;
pub mod watch;
pub mod web;
pub mod workspace;
