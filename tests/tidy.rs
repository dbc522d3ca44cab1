//! The house rules that no compiler checks: which room may use which, how long a file may be,
//! and where printing, terminals and serde may appear.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

/// Each room and the rooms it may use: the complete list, not passed on.
const ARROWS: &[(&str, &[&str])] = &[
    ("book", &[]),
    ("stats", &[]),
    ("config", &[]),
    ("shelf", &["book"]),
    ("lineage", &["book"]),
    ("kinship", &["lineage", "book"]),
    ("sim", &["kinship", "lineage", "stats", "book"]),
    ("merit", &["kinship", "lineage", "stats", "book"]),
    ("plan", &["merit", "kinship", "lineage", "stats", "book"]),
    ("views", &["plan", "merit", "kinship", "lineage", "book"]),
    ("exchange", &["views", "plan", "merit", "kinship", "lineage", "book"]),
    (
        "cli",
        &[
            "config", "exchange", "views", "plan", "merit", "sim", "kinship", "lineage", "shelf",
            "book", "stats",
        ],
    ),
    (
        "tui",
        &[
            "config", "exchange", "views", "plan", "merit", "sim", "kinship", "lineage", "shelf",
            "book", "stats",
        ],
    ),
];

/// Words that may stand only under certain paths, and why.
const ONLY_IN: &[(&str, &[&str])] = &[
    ("ratatui", &["tui/"]),
    ("crossterm", &["tui/"]),
    ("clap::", &["cli/"]),
    ("petgraph", &["lineage/"]),
    ("println!", &["cli/"]),
    ("print!(", &["cli/"]),
    ("Serialize", &["shelf/", "config/", "cli/", "exchange/"]),
    ("Deserialize", &["shelf/", "config/", "cli/", "exchange/"]),
];

const MOST_LINES: usize = 500;
const MOST_LINES_OF_A_FUNCTION: usize = 80;

struct Source {
    path: String,
    text: String,
}

impl Source {
    /// The text without its unit tests, which stand at the end of the file.
    fn code(&self) -> &str {
        self.text.split("\n#[cfg(test)]\n").next().unwrap_or_default()
    }

    fn room(&self) -> Option<&str> {
        self.path.split_once('/').map(|(room, _)| room)
    }
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    walk(&root, &mut |path| {
        if path.extension().is_some_and(|e| e == "rs") {
            let name = path.strip_prefix(&root).expect("below src").to_string_lossy().into_owned();
            found.push(Source { path: name, text: fs::read_to_string(path).expect("readable") });
        }
    });
    found.sort_by(|a, b| a.path.cmp(&b.path));
    assert!(found.len() > 10, "the sources were not found below {}", root.display());
    found
}

fn walk(dir: &Path, take: &mut impl FnMut(&Path)) {
    let mut entries: Vec<PathBuf> =
        fs::read_dir(dir).expect("readable").map(|e| e.expect("readable").path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            walk(&path, take);
        } else {
            take(&path);
        }
    }
}

fn without_comment(line: &str) -> &str {
    line.split("//").next().unwrap_or_default()
}

#[test]
fn arrows_between_rooms_point_one_way() {
    let allowed: BTreeMap<&str, &[&str]> = ARROWS.iter().copied().collect();
    let mut wrong = Vec::new();
    for source in sources() {
        let Some(room) = source.room() else { continue };
        let may = allowed.get(room).unwrap_or_else(|| panic!("{room} is not a room of the house"));
        for (n, line) in source.code().lines().enumerate() {
            let line = without_comment(line);
            for (other, _) in ARROWS.iter().filter(|(other, _)| *other != room) {
                let uses = line.contains(&format!("crate::{other}::"))
                    || line.contains(&format!("crate::{other};"))
                    || line.contains(&format!("crate::{other} "))
                    || line.contains(&format!("crate::{other},"));
                if uses && !may.contains(other) {
                    wrong.push(format!("src/{}:{}: {room} uses {other}", source.path, n + 1));
                }
            }
            assert!(
                !line.contains("crate::{"),
                "src/{}:{}: name one room a line, so that this test can read it",
                source.path,
                n + 1
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_belongs_to_one_room_stays_there() {
    let mut wrong = Vec::new();
    for source in sources() {
        if source.path == "main.rs" {
            continue;
        }
        for (n, line) in source.code().lines().enumerate() {
            let line = without_comment(line);
            for (word, rooms) in ONLY_IN {
                if line.contains(word) && !rooms.iter().any(|r| source.path.starts_with(r)) {
                    wrong.push(format!("src/{}:{}: {word}", source.path, n + 1));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_file_fits_in_the_head() {
    let mut wrong = Vec::new();
    for source in sources() {
        let n_lines = source.code().lines().count();
        if n_lines > MOST_LINES {
            wrong.push(format!("src/{}: {n_lines} lines of code", source.path));
        }
        let mut started: Option<(usize, &str)> = None;
        for (n, line) in source.code().lines().enumerate() {
            let text = line.trim_start();
            let indent = &line[..line.len() - text.len()];
            let head = text.split('(').next().unwrap_or_default();
            if started.is_none() && head.split(' ').any(|word| word == "fn") && !text.ends_with(';')
            {
                started = Some((n, indent));
            } else if let Some((first, outer)) = started
                && text.starts_with('}')
                && indent == outer
            {
                if n - first > MOST_LINES_OF_A_FUNCTION {
                    wrong.push(format!(
                        "src/{}:{}: a function of {}",
                        source.path,
                        first + 1,
                        n - first
                    ));
                }
                started = None;
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn comments_say_something() {
    let mut wrong = Vec::new();
    for source in sources() {
        if !source.text.starts_with("//!") {
            wrong.push(format!("src/{}: does not say what lives there", source.path));
        }
        let lines: Vec<&str> = source.text.lines().map(str::trim).collect();
        for (n, pair) in lines.windows(2).enumerate() {
            let ends = |line: &str| line == "///" || line == "//!";
            let empty = ends(pair[0]) && !pair[1].starts_with("//");
            if empty {
                wrong.push(format!("src/{}:{}: an empty comment", source.path, n + 1));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The top level holds what a newcomer expects and nothing else.
#[test]
fn the_top_level_is_as_agreed() {
    let agreed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "assets",
        "tests",
        "demo",
        "target",
    ];
    for entry in fs::read_dir(env!("CARGO_MANIFEST_DIR")).expect("readable") {
        let name = entry.expect("readable").file_name().to_string_lossy().into_owned();
        assert!(name.starts_with('.') || agreed.contains(&&*name), "{name} at the top level");
    }
}
