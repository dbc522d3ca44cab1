//! Every integration test, in one binary: it links once.
#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    clippy::string_slice,
    reason = "a test may stop at the first surprise"
)]

mod bed_screen;
mod calibrated;
mod changes;
mod crops;
mod demo;
mod due;
mod figures;
mod first_bloom_screen;
mod forecast_screens;
mod forecasts;
mod forms;
mod given;
mod import;
mod journeys;
mod keep;
mod kinship;
mod line;
mod lineage;
mod pairings_screen;
mod parent_screen;
mod plan;
mod poor_books;
mod problems;
mod published;
mod rates;
mod recording;
mod records;
mod sample;
mod screens;
mod shelf;
mod shell;
mod terminal;
mod tidy;
mod traits;
mod welcome;
mod year;
