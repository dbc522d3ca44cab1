//! The binary: hands the shell's words to the one face, and the book to the other where they ask
//! for the full screen.

use std::{
    env,
    io::{self, IsTerminal, Write},
    process::ExitCode,
    sync::Arc,
};

use trug::{
    cli::{self, Outcome, Screen, Surroundings, Welcome},
    config::Theme,
    tui::{self, Choice, Depth, Ground, NoBook, Opener, Settings, Shown, Start},
};

fn main() -> ExitCode {
    let dumb = env::var_os("TERM").is_some_and(|term| term == "dumb");
    let to_terminal = io::stdout().is_terminal();
    let around = Surroundings {
        width: if to_terminal { tui::columns() } else { None },
        is_terminal: !dumb && to_terminal && io::stdin().is_terminal(),
    };
    match cli::run(env::args_os(), &around) {
        Outcome::Done(status) => ExitCode::from(status),
        Outcome::Screen(screen) => {
            let settings = settings(screen.settings);
            full_screen(Start::Book(shown(*screen)), settings)
        }
        Outcome::Welcome(welcome) => {
            let settings = settings(welcome.settings);
            full_screen(Start::NoBook(no_book(*welcome)), settings)
        }
    }
}

fn shown(screen: Screen) -> Shown {
    Shown {
        desk: Arc::new(screen.desk),
        problems: screen.problems,
        keeper: Some(Box::new(screen.keeper)),
        crops: screen.crops,
    }
}

fn no_book(welcome: Welcome) -> NoBook {
    let (why, desk) = (welcome.why.clone(), welcome.desk.clone());
    let opener = Opener::new(move |choice| {
        let screen = match choice {
            Choice::Demo => welcome.demo(),
            Choice::New(folder) => welcome.start(folder),
        };
        screen.map(shown)
    });
    NoBook { why, desk, opener }
}

fn full_screen(start: Start, settings: Settings) -> ExitCode {
    match tui::run(start, settings) {
        Ok(()) => ExitCode::SUCCESS,
        Err(err) => {
            // That nobody hears it changes nothing about the status.
            drop(writeln!(io::stderr(), "trug: {err}"));
            ExitCode::from(2)
        }
    }
}

/// What the terminal tells of itself, and above it what the raiser wants.
fn settings(wanted: trug::config::Settings) -> Settings {
    let mut settings = Settings::sensed(|name| env::var(name).ok());
    match wanted.theme {
        Theme::Auto => {}
        Theme::Dark => settings.ground = Ground::Dark,
        Theme::Light => settings.ground = Ground::Light,
        Theme::None => settings.depth = Depth::None,
    }
    settings.mouse &= wanted.mouse;
    settings.ascii |= wanted.ascii;
    settings
}
