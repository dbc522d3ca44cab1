//! The shell's words: one file a command, each with what may be asked, the rows in JSON and the
//! sheet for people. What they show comes from [`crate::views`]; this room reads the words, prints,
//! and settles the exit status.

mod args;
mod bed;
mod check;
mod crosses;
mod deeds;
mod demo;
mod earlier;
mod evening;
mod explain;
mod failure;
mod figures;
mod first_bloom;
mod given;
mod import;
mod keeping;
mod kin;
mod new;
mod note;
mod open;
mod pairings;
mod parents;
mod passed;
mod paths;
mod plan;
mod seed;
mod sheet;
mod shell;
mod sibs;
mod sow;
mod trace;
mod welcome;
mod who;

use std::{
    env,
    ffi::OsString,
    fs,
    path::{Path, PathBuf},
    sync::Arc,
};

use clap::Parser;

use args::{Command, Words};
use failure::Failure;
use shell::{Shell, tell};

pub use welcome::Welcome;

use crate::book::Problem;
use crate::config::{Places, Settings};
use crate::shelf::{Keeper, Tools};
use crate::views::Desk;

/// What lies around the program.
#[derive(Debug, Clone, Default)]
pub struct Surroundings {
    /// Columns of the terminal that answers are printed on, if it is one.
    pub width: Option<u16>,
    /// Whether keys come from a terminal and the screen goes to one.
    pub is_terminal: bool,
}

/// What is left to do when the words are read.
#[derive(Debug)]
pub enum Outcome {
    /// Nothing: leave with this status.
    Done(u8),
    /// Open the full screen on this book.
    Screen(Box<Screen>),
    /// Say on the full screen that there is no book, and what can be done about it.
    Welcome(Box<Welcome>),
}

/// What the full screen is opened on.
#[derive(Debug)]
pub struct Screen {
    /// The book, and what was worked out of it.
    pub desk: Desk,
    /// What is wrong with the book.
    pub problems: Vec<Problem>,
    /// Whoever writes in it.
    pub keeper: Keeper,
    /// The folder of the raiser's own crop files.
    pub crops: Option<PathBuf>,
    /// The raiser's settings.
    pub settings: Settings,
}

/// Does what the words say.
pub fn run(words: impl IntoIterator<Item = OsString>, around: &Surroundings) -> Outcome {
    let words = match Words::try_parse_from(words) {
        Ok(words) => words,
        Err(err) => {
            // Help goes to the standard output and is no failure.
            let printed = err.print();
            let status = if err.use_stderr() { 2 } else { 0 };
            return Outcome::Done(
                printed.map_or_else(|err| Failure::Print(err).status(), |()| status),
            );
        }
    };
    match dispatch(words, around) {
        Ok(outcome) => outcome,
        Err(failure) => {
            let text = failure.to_string();
            if !text.is_empty() {
                tell(&text);
            }
            Outcome::Done(failure.status())
        }
    }
}

fn dispatch(words: Words, around: &Surroundings) -> Result<Outcome, Failure> {
    let set = |name: &str| env::var_os(name).filter(|value| !value.is_empty());
    let columns = set("COLUMNS").and_then(|value| value.to_str()?.parse().ok());
    let shell = Shell {
        everywhere: words.everywhere,
        places: Places::find(),
        paper: sheet::Paper {
            width: columns.or(around.width.map(usize::from)).filter(|&width| width > 0),
            styled: around.width.is_some() && set("NO_COLOR").is_none(),
        },
        env_book: set("TRUG_BOOK").map(PathBuf::from),
        env_today: set("TRUG_TODAY").map(|value| value.to_string_lossy().into_owned()),
    };
    let done = |()| Outcome::Done(0);
    match words.command {
        None if around.is_terminal => full_screen(shell),
        None => {
            // Without a book there are no figures to point to, but ways to come by one.
            shell.book_dir()?;
            Err(Failure::Usage(
                "the full screen needs a terminal to read keys from and to draw on.".to_owned(),
                "The same figures are printed by `trug evening`, `trug bed`, `trug crosses`, \
                 `trug seed`, `trug pairings`, `trug parents`, `trug trace WHO` and `trug sibs \
                 WHO`."
                    .to_owned(),
            ))
        }
        Some(Command::Demo(ask)) => demo::run(&ask, &shell, around),
        Some(Command::New(ask)) => new::run(&ask, &shell).map(done),
        Some(Command::Check(ask)) => check::run(&ask, &shell).map(done),
        Some(Command::Evening(ask)) => evening::run(&ask, &shell).map(done),
        Some(Command::Crosses(ask)) => crosses::run(&ask, &shell).map(done),
        Some(Command::Seed(ask)) => seed::run(&ask, &shell).map(done),
        Some(Command::Bed(ask)) => bed::run(&ask, &shell).map(done),
        Some(Command::Trace(ask)) => trace::run(&ask, &shell).map(done),
        Some(Command::Sibs(ask)) => sibs::run(&ask, &shell).map(done),
        Some(Command::Kin(ask)) => kin::run(&ask, &shell).map(done),
        Some(Command::Parents(ask)) => parents::run(&ask, &shell).map(done),
        Some(Command::Pairings(ask)) => pairings::run(&ask, &shell).map(done),
        Some(Command::Plan(ask)) => plan::run(&ask, &shell).map(done),
        Some(Command::Sow(ask)) => sow::run(&ask, &shell).map(done),
        Some(Command::Explain(ask)) => explain::run(&ask, &shell).map(done),
        Some(Command::Import(ask)) => import::run(&ask, &shell).map(done),
        Some(Command::Note(ask)) => note::run(&ask, &shell).map(done),
        Some(Command::History(ask)) => keeping::history(&ask, &shell).map(done),
        Some(Command::Undo(ask)) => keeping::undo(&ask, &shell).map(done),
        Some(Command::Redo(ask)) => keeping::redo(&ask, &shell).map(done),
        Some(Command::Earlier(ask)) => earlier::run(&ask, &shell).map(done),
        Some(Command::BringBack(ask)) => earlier::bring_back(&ask, &shell).map(done),
        Some(Command::Paths(ask)) => paths::run(&ask, &shell).map(done),
    }
}

/// Opens the book that is meant for the full screen or, where there is none, the page that says
/// what to do.
fn full_screen(shell: Shell) -> Result<Outcome, Failure> {
    let settings = settings(&shell);
    let welcome =
        |why: String, shell| Ok(Outcome::Welcome(Box::new(Welcome::new(why, shell, settings)?)));
    let Ok(dir) = shell.book_dir() else {
        return welcome("There is no book here yet. This is how to come by one.".to_owned(), shell);
    };
    match open_screen(&shell, &dir, settings) {
        // What is there and cannot be opened is another matter.
        Err(Failure::Shut(why, _)) if fs::exists(dir.join("book.ron")).is_ok_and(|is| !is) => {
            welcome(why, shell)
        }
        Err(failure) => Err(failure),
        Ok(screen) => {
            shell.places.remember(&dir);
            Ok(Outcome::Screen(Box::new(screen)))
        }
    }
}

/// The raiser's settings.
fn settings(shell: &Shell) -> Settings {
    shell.places.settings().map_or_else(Settings::default, |file| {
        let (settings, amiss) = Settings::load(&file);
        if let Some(amiss) = amiss {
            tell(&amiss.to_string());
        }
        settings
    })
}

/// Opens a book for the full screen.
fn open_screen(shell: &Shell, dir: &Path, settings: Settings) -> Result<Screen, Failure> {
    let crops = shell.places.crops();
    let (opened, keeper) = Keeper::open(dir, crops.as_deref(), Tools::of(keeping::whoever()))
        .map_err(|err| Failure::Shut(err.to_string(), err.hint()))?;
    let today = shell.today(opened.book.about().today)?;
    let problems = open::problems(&opened, today);
    let desk = Desk::new(Arc::new(opened.book), today);
    Ok(Screen { desk, problems, keeper, crops, settings })
}
