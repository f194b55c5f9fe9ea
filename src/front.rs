//! The front end as a crate of its own, for the fuzz targets: everything but
//! the typesetter and the commands, which take a quarter of an hour to
//! instrument. Not part of the program; `lib.rs` is.

#![forbid(unsafe_code)]
#![allow(dead_code, unused_imports)]

pub mod assess;
pub mod ast;
pub mod check;
pub mod compute;
pub mod diagnostic;
pub mod format;
pub mod import;
pub mod quantity;
pub mod reference;
pub mod resolve;
pub mod source;
pub mod syntax;

pub mod workspace {
    pub mod rules;
    pub mod settings;
}
