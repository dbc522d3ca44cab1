//! Why a command did not do what was asked, and the exit status that says so.

use std::{fmt, io};

use crate::book::{Problem, Severity};

/// Faults told in full before only their number is told.
const MOST_FAULTS: usize = 50;

/// Why a command stopped.
#[derive(Debug)]
pub(super) enum Failure {
    /// Faults in the book, in a file, or in what was asked of it.
    Faults(Vec<Problem>),
    /// The shell's words make no sense: a sentence, and the way out.
    Usage(String, String),
    /// What was to be written down cannot be so: a sentence, and the way out.
    Refused(String, String),
    /// A book, or a file, cannot be opened or written: a sentence, and the way out.
    Shut(String, String),
    /// Nothing to say that was not said already: only the exit status.
    Silent(u8),
    /// What was to be printed cannot be.
    Print(io::Error),
}

impl Failure {
    /// The exit status. A reader that has seen enough and closes the pipe is no failure.
    pub(super) fn status(&self) -> u8 {
        match self {
            Self::Faults(_) | Self::Refused(..) => 1,
            Self::Usage(..) => 2,
            Self::Silent(status) => *status,
            Self::Print(err) if err.kind() == io::ErrorKind::BrokenPipe => 0,
            Self::Shut(..) | Self::Print(_) => 3,
        }
    }
}

impl From<io::Error> for Failure {
    fn from(err: io::Error) -> Self {
        Self::Print(err)
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Faults(faults) => {
                for fault in faults.iter().take(MOST_FAULTS) {
                    f.write_str(&told(fault))?;
                }
                match faults.len().checked_sub(MOST_FAULTS) {
                    Some(more @ 1..) => writeln!(f, "… and {more} more, {} in all.", faults.len()),
                    _ => Ok(()),
                }
            }
            Self::Usage(sentence, hint)
            | Self::Refused(sentence, hint)
            | Self::Shut(sentence, hint) => {
                writeln!(f, "trug: {sentence}")?;
                hint.lines().try_for_each(|line| writeln!(f, "  {line}"))
            }
            Self::Print(err) if err.kind() != io::ErrorKind::BrokenPipe => {
                writeln!(f, "trug: this cannot be printed: {err}.")
            }
            Self::Silent(_) | Self::Print(_) => Ok(()),
        }
    }
}

/// One fault as an editor can jump to it, and the way out on a line of its own.
pub(super) fn told(problem: &Problem) -> String {
    let Problem { file, line, column, severity, message, hint } = problem;
    let place = if *line > 0 { format!(":{line}:{column}") } else { String::new() };
    let odd = if *severity == Severity::Warning { "warning: " } else { "" };
    let way_out = if hint.is_empty() { String::new() } else { format!("  {hint}\n") };
    format!("{file}{place}: {odd}{message}\n{way_out}")
}
