//! The terminal while the full screen is up: every mode that is set is undone, whatever happens.
//!
//! The guard undoes them when it goes out of scope, a panic undoes them before it prints, and a
//! second signal undoes them before the process ends. Undoing twice does nothing.

use std::{
    io::{self, IsTerminal as _, Write},
    panic,
    sync::{
        Once,
        atomic::{AtomicBool, Ordering},
    },
    thread,
};

use ratatui::crossterm::{
    cursor, execute,
    terminal::{self, EnterAlternateScreen, LeaveAlternateScreen},
};
use thiserror::Error;

/// The name of the threads whose panics are caught and reported on the screen.
pub(super) const WORKER: &str = "worker";

/// Presses and the wheel, with columns beyond 223. Never motion: it floods slow lines.
const MOUSE_ON: &str = "\x1b[?1000h\x1b[?1006h";
const MOUSE_OFF: &str = "\x1b[?1006l\x1b[?1000l";
const PASTE_ON: &str = "\x1b[?2004h";
const PASTE_OFF: &str = "\x1b[?2004l";
/// Puts the title by, and takes it back.
const TITLE_KEEP: &str = "\x1b[22;0t";
const TITLE_BACK: &str = "\x1b[23;0t";

/// Whether the modes are set just now.
static UP: AtomicBool = AtomicBool::new(false);

/// Why the full screen could not be put up.
#[derive(Debug, Error)]
pub enum ScreenError {
    /// Input or output is a file or a pipe.
    #[error(
        "The full screen needs a terminal. `trug evening`, `trug crosses` and `trug pairings` print the same figures; `trug --help` lists all of them."
    )]
    NotATerminal,
    /// The terminal said no.
    #[error("The terminal could not be used: {0}.")]
    Terminal(#[from] io::Error),
}

/// Keeps the terminal's modes set as long as it lives.
#[derive(Debug)]
pub struct Guard {
    title: String,
    mouse: bool,
}

impl Guard {
    /// Puts the terminal into the modes of the full screen.
    ///
    /// # Errors
    /// [`ScreenError::NotATerminal`] where there is none, and nothing has been touched then;
    /// [`ScreenError::Terminal`] where a mode could not be set, and all are undone then.
    pub fn new(title: &str, mouse: bool) -> Result<Self, ScreenError> {
        if !io::stdin().is_terminal() || !io::stdout().is_terminal() {
            return Err(ScreenError::NotATerminal);
        }
        undo_before_a_panic_prints();
        let guard = Self { title: printable(title), mouse };
        guard.enter()?;
        Ok(guard)
    }

    /// Sets the modes, also after the process was stopped for a while.
    ///
    /// # Errors
    /// What the terminal answers; what was set until then is undone.
    pub fn enter(&self) -> io::Result<()> {
        UP.store(true, Ordering::SeqCst);
        let set = || -> io::Result<()> {
            terminal::enable_raw_mode()?;
            let mut out = io::stdout();
            execute!(out, EnterAlternateScreen, cursor::Hide)?;
            write!(out, "{PASTE_ON}{TITLE_KEEP}\x1b]0;{}\x07", self.title)?;
            if self.mouse {
                out.write_all(MOUSE_ON.as_bytes())?;
            }
            out.flush()
        };
        set().inspect_err(|_| undo())
    }

    /// Calls the window something else.
    ///
    /// # Errors
    /// What the terminal answers.
    pub fn set_title(&mut self, title: &str) -> io::Result<()> {
        let title = printable(title);
        if title == self.title {
            return Ok(());
        }
        self.title = title;
        let mut out = io::stdout();
        write!(out, "\x1b]0;{}\x07", self.title)?;
        out.flush()
    }

    /// Gives the mouse to the terminal or takes it back.
    ///
    /// # Errors
    /// What the terminal answers.
    pub fn set_mouse(&mut self, on: bool) -> io::Result<()> {
        self.mouse = on;
        let mut out = io::stdout();
        out.write_all(if on { MOUSE_ON } else { MOUSE_OFF }.as_bytes())?;
        out.flush()
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        undo();
    }
}

/// Undoes every mode, in reverse. An error in one does not keep the others from being undone,
/// and nobody could be told of it.
pub(super) fn undo() {
    if !UP.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut out = io::stdout();
    write!(out, "{MOUSE_OFF}{TITLE_BACK}{PASTE_OFF}").ok();
    execute!(out, cursor::Show).ok();
    execute!(out, LeaveAlternateScreen).ok();
    terminal::disable_raw_mode().ok();
    out.flush().ok();
}

/// A title that cannot steer the terminal.
fn printable(title: &str) -> String {
    title.chars().filter(|c| !c.is_control()).collect()
}

/// Puts our hook before the one there was: first a sane terminal, then the message. Panics of a
/// worker thread are caught by its loop and shown on the screen, so they print nothing.
fn undo_before_a_panic_prints() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            if UP.load(Ordering::SeqCst) && thread::current().name() == Some(WORKER) {
                return;
            }
            undo();
            before(info);
        }));
    });
}
