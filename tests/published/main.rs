//! Checks against figures that somebody else published. Every check names
//! its source and how far that source was read:
//!
//! - `checked-official`: read in the issuing body's text or a faithful copy;
//! - `checked-secondary`: read in a third party's copy, paper or article;
//! - `computed`: worked out from other figures that are named;
//! - `memory`: not found in readable form; confirm before relying on it.
//!
//! Where a figure comes out of the whole program, the check writes a dish and
//! runs the real binary; where it stands in a table, the check reads the
//! table through the library.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod biscuit;
mod cereals;
mod decimal;
mod dish;
mod energy;
mod factors;
mod fndds;
mod implied_retention;
mod limits;
mod measures;
mod needs;
mod okra;
mod omega_3;
mod outside;
mod phytate;
mod solids;
