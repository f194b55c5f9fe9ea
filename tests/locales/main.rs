//! The catalogues against each other and against CLDR.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod catalogues;
mod numbers;
