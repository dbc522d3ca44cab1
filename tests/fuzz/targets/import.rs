//! Any bytes as spreadsheets.
#![no_main]

use std::{path::Path, sync::OnceLock};

use chrono::NaiveDate;
use libfuzzer_sys::fuzz_target;
use trug::{
    book::Book,
    exchange::import::{Options, Outcome, Overlap, plan},
    shelf::{open, texts},
};

fn garden() -> &'static Book {
    static GARDEN: OnceLock<Book> = OnceLock::new();
    GARDEN.get_or_init(|| {
        let sound = Path::new(env!("CARGO_MANIFEST_DIR")).join("../data/small_garden");
        open(&sound, None).expect("a book").book
    })
}

fuzz_target!(|data: &[u8]| {
    let Some((&choice, content)) = data.split_first() else { return };
    let files: Vec<(String, Vec<u8>)> = content
        .split(|&b| b == 0)
        .enumerate()
        .map(|(n, sheet)| (format!("{n}.csv"), sheet.to_vec()))
        .collect();
    let options = Options {
        skip_bad: choice & 1 != 0,
        overlap: match choice >> 1 & 3 {
            0 => Overlap::Refuse,
            1 => Overlap::CountsWin,
            _ => Overlap::PlantsWin,
        },
        today: NaiveDate::from_ymd_opt(2026, 11, 20),
    };
    if let Outcome::Ready(import) = plan(garden(), &files, options) {
        for text in texts(&import.book).into_values() {
            assert!(!text.contains("\\u{"), "{text}");
        }
    }
});
