//! What can happen, and where it is heard of: one closed list, one channel.

use std::{io, sync::mpsc::Sender, thread};

use ratatui::crossterm::event::{self as terminal, KeyEventKind, MouseButton, MouseEventKind};

use super::{guard, keys::Key};

/// Something that happened.
#[derive(Debug)]
pub enum Event {
    /// A key was pressed, or repeats.
    Key(Key),
    /// Text was pasted.
    Paste(String),
    /// The left button was pressed on this column and row.
    Press(u16, u16),
    /// The wheel was turned over this column and row, by so many notches; up is negative.
    Wheel(u16, u16, i16),
    /// Some seconds have passed in which nothing happened.
    Tick,
    /// The terminal has another size.
    Resized,
    /// Work in the background has come to an end.
    Ready,
    /// Somebody wants the program to end.
    EndAsked,
    /// The process runs again after it was stopped.
    Continued,
    /// No more input will come, and why.
    InputClosed(io::Error),
}

/// Reads the terminal in a thread of its own, which sleeps until something comes. The thread
/// ends with the process or with the channel.
pub(super) fn listen_to_terminal(tell: Sender<Event>) -> io::Result<()> {
    thread::Builder::new().name("keys".to_owned()).spawn(move || {
        loop {
            let event = match terminal::read() {
                Ok(event) => from_terminal(event),
                Err(error) => {
                    // Nobody listening any more is as good an end as any.
                    tell.send(Event::InputClosed(error)).ok();
                    return;
                }
            };
            if event.is_some_and(|event| tell.send(event).is_err()) {
                return;
            }
        }
    })?;
    Ok(())
}

fn from_terminal(event: terminal::Event) -> Option<Event> {
    match event {
        // Some terminals also report the release of a key.
        terminal::Event::Key(key) if key.kind == KeyEventKind::Release => None,
        terminal::Event::Key(key) => Some(Event::Key(key.into())),
        terminal::Event::Paste(text) => Some(Event::Paste(text)),
        terminal::Event::Resize(..) => Some(Event::Resized),
        terminal::Event::Mouse(mouse) => match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Event::Press(mouse.column, mouse.row)),
            MouseEventKind::ScrollUp => Some(Event::Wheel(mouse.column, mouse.row, -1)),
            MouseEventKind::ScrollDown => Some(Event::Wheel(mouse.column, mouse.row, 1)),
            _ => None,
        },
        terminal::Event::FocusGained | terminal::Event::FocusLost => None,
    }
}

/// Hears signals in a thread of its own. The first that asks for the end is passed on; should
/// the program not get round to it, the second ends it at once, with the terminal put right.
#[cfg(unix)]
pub(super) fn listen_to_signals(tell: Sender<Event>) -> io::Result<()> {
    use signal_hook::{
        consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM},
        iterator::Signals,
    };
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGCONT])?;
    thread::Builder::new().name("signals".to_owned()).spawn(move || {
        let mut asked = false;
        for signal in signals.forever() {
            if signal == SIGCONT {
                if tell.send(Event::Continued).is_err() {
                    return;
                }
                continue;
            }
            if asked || tell.send(Event::EndAsked).is_err() {
                guard::undo();
                std::process::exit(128 + signal);
            }
            asked = true;
        }
    })?;
    Ok(())
}

/// There are no signals to hear.
#[cfg(not(unix))]
pub(super) fn listen_to_signals(_: Sender<Event>) -> io::Result<()> {
    Ok(())
}

/// Stops the process until the shell lets it run again. The terminal must have been put right
/// before, and must be set up again after.
#[cfg(unix)]
pub(super) fn stop_until_continued() -> io::Result<()> {
    signal_hook::low_level::raise(signal_hook::consts::SIGTSTP)
}

/// Elsewhere a process cannot stop itself.
#[cfg(not(unix))]
pub(super) fn stop_until_continued() -> io::Result<()> {
    Ok(())
}
