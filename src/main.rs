//! The binary: hands the shell's words to the library and its exit status back.

use std::{
    env,
    io::{self, IsTerminal},
    process::ExitCode,
};

use trug::cli::{self, Outcome, Surroundings};

fn main() -> ExitCode {
    let dumb = env::var_os("TERM").is_some_and(|term| term == "dumb");
    let around = Surroundings {
        width: None,
        is_terminal: !dumb && io::stdin().is_terminal() && io::stdout().is_terminal(),
    };
    match cli::run(env::args_os(), &around) {
        Outcome::Done(status) => ExitCode::from(status),
        Outcome::Screen(_) => ExitCode::from(2),
    }
}
