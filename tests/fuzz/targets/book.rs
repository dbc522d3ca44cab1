//! Any bytes in one file of a garden.
#![no_main]

use std::{
    fs,
    path::{Path, PathBuf},
    sync::OnceLock,
};

use chrono::NaiveDate;
use libfuzzer_sys::fuzz_target;
use tempfile::TempDir;
use trug::shelf::{open, texts};

const FILES: [&str; 5] = [
    "book.ron",
    "varieties/ferry-lantern.ron",
    "crosses/2024/24X01.ron",
    "crosses/2025/25X07.ron",
    "crosses/undated/12%2F01.ron",
];

struct Garden {
    folder: TempDir,
    sound: PathBuf,
}

/// A garden for this process, in memory where the system has a folder for that.
fn garden() -> &'static Garden {
    static GARDEN: OnceLock<Garden> = OnceLock::new();
    GARDEN.get_or_init(|| {
        let memory = Path::new("/dev/shm");
        let folder = if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() };
        let garden = Garden {
            folder: folder.expect("a folder"),
            sound: Path::new(env!("CARGO_MANIFEST_DIR")).join("../data/small_garden"),
        };
        let others = ["varieties/saltmarsh.ron"];
        for file in FILES.iter().chain(&others) {
            let path = garden.folder.path().join(file);
            fs::create_dir_all(path.parent().expect("a folder")).expect("writable");
            fs::copy(garden.sound.join(file), path).expect("writable");
        }
        garden
    })
}

fuzz_target!(|data: &[u8]| {
    let Some((&pick, content)) = data.split_first() else { return };
    let Garden { folder, sound } = garden();
    let file = FILES[usize::from(pick) % FILES.len()];
    let path = folder.path().join(file);
    fs::write(&path, content).expect("writable");

    let mut opened = open(folder.path(), None).expect("a book");
    let today = NaiveDate::from_ymd_opt(2026, 11, 20).expect("a day");
    let problems = opened.problems_of(&opened.faults(today));
    for problem in opened.problems.iter().chain(&problems) {
        let said = [&problem.message, &problem.hint];
        assert!(said.iter().all(|s| !s.contains(|c: char| c.is_control())), "{problem:?}");
    }
    for text in texts(&opened.book).into_values() {
        assert!(!text.contains("\\u{"), "{text}");
    }
    if let Ok(saved) = opened.shelf.save(&opened.book) {
        assert!(saved.written.is_empty(), "{saved:?}");
    }
    assert_eq!(fs::read(&path).expect("readable"), content);

    fs::copy(sound.join(file), path).expect("writable");
});
