//! The binary: hands the shell's words to the one face, and the book to the other where they ask
//! for the full screen.

use std::{
    env,
    io::{self, IsTerminal, Write},
    process::ExitCode,
    sync::Arc,
};

use trug::{
    cli::{self, Outcome, Screen, Surroundings},
    config::Theme,
    tui::{self, Depth, Ground, Settings},
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
        Outcome::Screen(screen) => full_screen(*screen),
    }
}

fn full_screen(screen: Screen) -> ExitCode {
    let settings = settings(screen.settings);
    let greeting = match screen.problems.len() {
        0 => None,
        1 => Some("Something in this book is amiss; `trug check` says what.".to_owned()),
        n => Some(format!("{n} things in this book are amiss; `trug check` lists them.")),
    };
    match tui::run(Arc::new(screen.desk), settings, greeting) {
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
