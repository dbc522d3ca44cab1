//! `trug earlier` and `trug bring-back`: earlier versions of files, listed and brought back.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    keeping::{self, Desktop, time},
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::book::{Book, Found, PlantRecord, find, find_cross};
use crate::shelf::{DAYS_KEPT, Keeper, Version};

/// List the earlier versions of files
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug earlier
  trug earlier crosses/2025/25X07.ron
  trug earlier 26-104")]
pub(super) struct Ask {
    /// A file of the book, a plant or a cross; else every file
    of: Option<String>,
}

/// Make a file what it was in an earlier version
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug bring-back crosses/2025/25X07.ron 12
  trug bring-back 26-104 12")]
pub(super) struct BackAsk {
    /// A file of the book, a plant or a cross
    of: String,
    /// The version, as `trug earlier` numbers it
    version: String,
}

#[derive(Debug, Serialize)]
struct VersionRow {
    file: String,
    version: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    until: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    before: Option<String>,
    copy: String,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let Desktop { opened, keeper } = keeping::open_to_read(shell)?;
    let file = ask.of.as_deref().map(|of| file(of, &opened.book, &keeper)).transpose()?;
    let history = keeper.history()?;
    let what = |n: u64| history.entries().find(|made| made.n == n).map(|made| made.what.into());
    let versions = keeper.earlier().into_iter();
    let rows: Vec<VersionRow> = versions
        .filter(|version| file.as_ref().is_none_or(|file| version.file == *file))
        .map(|version| VersionRow {
            version: number(&version),
            until: version.until.map(time),
            before: version.before.and_then(what),
            file: version.file,
            copy: version.copy,
        })
        .collect();
    let sheet = || {
        if rows.is_empty() {
            return Sheet::titled("There are no earlier versions");
        }
        let mut table = Table::new().text("file").text("version").text("until").text("before");
        for row in &rows {
            let or_empty = |text: &Option<String>| text.clone().unwrap_or_default();
            table.row([
                row.file.clone(),
                row.version.clone(),
                or_empty(&row.until),
                or_empty(&row.before),
            ]);
        }
        let mut sheet = Sheet::titled("Earlier versions, newest first");
        sheet.table(table);
        sheet.line(format!("kept for {DAYS_KEPT} days; `trug bring-back FILE VERSION` takes one"));
        sheet
    };
    shell.show(|| &rows, sheet)
}

pub(super) fn bring_back(ask: &BackAsk, shell: &Shell) -> Result<(), Failure> {
    let Desktop { mut opened, mut keeper } = keeping::open(shell)?;
    let file = file(&ask.of, &opened.book, &keeper)?;
    let mut versions = keeper.earlier().into_iter().filter(|version| version.file == file);
    let version = versions.find(|version| number(version) == ask.version).ok_or_else(|| {
        Failure::Usage(
            format!("there is no version {} of {file}.", ask.version),
            format!("`trug earlier {file}` lists them."),
        )
    })?;
    let what = if keeper.is_sealed(&file) {
        keeper.replace(&version)?;
        format!("Put version {} in the place of {file}; what was there is kept", ask.version)
    } else {
        let kept = keeper.bring_back(&mut opened.book, &version);
        let kept = kept.map_err(|err| Failure::Refused(err.to_string(), err.hint()))?;
        kept.change.what.into()
    };
    shell.show(|| serde_json::json!({ "what": what }), || Sheet::titled(what.clone()))
}

/// What a version is called: the number of the change that replaced it, or, of a copy put aside,
/// its own after a `~`.
fn number(version: &Version) -> String {
    version.before.map_or_else(
        || {
            let stem = version.copy.strip_suffix(".ron").unwrap_or(&version.copy);
            format!("~{}", stem.rsplit('~').next().unwrap_or_default())
        },
        |n| n.to_string(),
    )
}

/// The file that is meant: by its path, or as that of a plant or cross.
fn file(of: &str, book: &Book, keeper: &Keeper) -> Result<String, Failure> {
    let is_file = keeper.shelf().root().join(of).is_file();
    if is_file || keeper.earlier().iter().any(|version| version.file == of) {
        return Ok(of.to_owned());
    }
    let shelf = keeper.shelf();
    let found = match (find(book, of), find_cross(book, of)) {
        (Found::One(plant), _) => match book.plant(plant) {
            PlantRecord::Variety(variety) => shelf.file_with_variety(&variety.id),
            PlantRecord::Seedling(cross, _) => shelf.file_with_cross(&cross.code),
        },
        (_, Found::One(cross)) => shelf.file_with_cross(&book.cross(cross).code),
        _ => None,
    };
    found.map(str::to_owned).ok_or_else(|| {
        Failure::Usage(
            format!("\"{of}\" is no file, no plant and no cross of this book, or fits several."),
            "Write the file as `trug earlier` lists it.".to_owned(),
        )
    })
}
