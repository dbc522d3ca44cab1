//! `trug`: a raiser's book of new dahlias, from pollination to keepers.
//!
//! The library is a house of rooms. Arrows point one way only; `tests/tidy.rs` holds them:
//!
//! | room | holds |
//! |---|---|
//! | [`cli`], [`tui`] | the two faces: shell words, full screen |
//! | [`config`] | where things are, the raiser's settings |
//! | [`exchange`] | spreadsheets in |
//! | [`views`] | the plain rows behind every screen, table and JSON |
//! | [`plan`] | how much seed to sow |
//! | [`merit`] | keep rates, first bloom |
//! | [`sim`] | invented gardens with known truth |
//! | [`kinship`] | inbreeding, coancestry, founder shares |
//! | [`lineage`] | the pedigree graph |
//! | [`shelf`] | a book and a crop on disk |
//! | [`book`] | records, diaries, and what follows from them |
//! | [`stats`] | distributions and intervals; knows no plant |

pub mod book;
pub mod cli;
pub mod config;
pub mod exchange;
pub mod kinship;
pub mod lineage;
pub mod merit;
pub mod plan;
pub mod shelf;
pub mod sim;
pub mod stats;
pub mod tui;
pub mod views;
