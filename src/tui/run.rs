//! The loop that joins the screen to a terminal: wait for an event, take it in, draw.

use std::{
    io,
    sync::mpsc::{self, Receiver, RecvTimeoutError},
    time::Duration,
};

use ratatui::{
    Terminal,
    backend::CrosstermBackend,
    crossterm::{
        execute,
        style::force_color_output,
        terminal::{BeginSynchronizedUpdate, Clear, ClearType, EndSynchronizedUpdate},
    },
};

use super::{
    app::{App, Wish},
    event::{self, Event},
    guard::{self, Guard, ScreenError},
    opening::Start,
    settings::Settings,
    worker::Worker,
};

/// How long a page may be held back for an answer that is nearly there, rather than be drawn
/// twice.
const PATIENCE: Duration = Duration::from_millis(25);

/// After so long without a key it is looked whether others have let go of the book.
const QUIET: Duration = Duration::from_secs(3);

type Screen = Terminal<CrosstermBackend<io::Stdout>>;

/// Shows a book on the full screen, or what can be done where there is none, until the raiser
/// closes it.
///
/// # Errors
/// [`ScreenError::NotATerminal`] before anything has been touched; [`ScreenError::Terminal`] when
/// the terminal fails, and it has been put right then.
pub fn run(start: Start, settings: Settings) -> Result<(), ScreenError> {
    let mut guard = Guard::new("trug", settings.mouse)?;
    // We choose the colours ourselves. Left to itself the library writes an empty colour under
    // NO_COLOR, which a terminal takes for the end of every attribute, reversal too.
    force_color_output(true);
    let (tell, events) = mpsc::channel();
    event::listen_to_signals(tell.clone())?;
    event::listen_to_terminal(tell.clone())?;
    let worker = Worker::in_a_thread(tell)?;
    let mut app = App::new(start, settings, worker);
    let outcome = turn(&mut app, &events, &mut guard);
    drop(guard);
    Ok(outcome?)
}

fn turn(app: &mut App, events: &Receiver<Event>, guard: &mut Guard) -> io::Result<()> {
    let mut screen = Terminal::new(CrosstermBackend::new(io::stdout()))?;
    guard.set_title(&app.title())?;
    draw(&mut screen, app)?;
    loop {
        let first = match events.recv_timeout(QUIET) {
            Ok(event) => event,
            Err(RecvTimeoutError::Timeout) => Event::Tick,
            Err(RecvTimeoutError::Disconnected) => return Ok(()),
        };
        let mut next = Some(first);
        // Everything that has happened meanwhile, before drawing once.
        while let Some(event) = next {
            match app.take(event) {
                Wish::Draw => {}
                Wish::Quit => return Ok(()),
                Wish::Mouse(on) => guard.set_mouse(on)?,
                Wish::Redraw => {
                    guard.enter()?;
                    screen = afresh()?;
                }
                Wish::Suspend => {
                    guard::undo();
                    event::stop_until_continued()?;
                    guard.enter()?;
                    screen = afresh()?;
                }
            }
            next = events.try_recv().ok();
            if next.is_none() && app.waits() {
                next = nearly_there(events);
            }
        }
        guard.set_title(&app.title())?;
        draw(&mut screen, app)?;
    }
}

/// Waits a little for an answer under way.
fn nearly_there(events: &Receiver<Event>) -> Option<Event> {
    events.recv_timeout(PATIENCE).ok()
}

/// A screen that knows nothing of what is on the terminal, so that the next draw writes all of
/// it. The library's own way to clear asks the terminal where the cursor is, and the thread that
/// reads the keys would take the answer.
fn afresh() -> io::Result<Screen> {
    execute!(io::stdout(), Clear(ClearType::All))?;
    Terminal::new(CrosstermBackend::new(io::stdout()))
}

fn draw(screen: &mut Screen, app: &mut App) -> io::Result<()> {
    execute!(io::stdout(), BeginSynchronizedUpdate)?;
    let drawn = screen.draw(|frame| app.draw(frame.buffer_mut())).map(|_| ());
    execute!(io::stdout(), EndSynchronizedUpdate)?;
    drawn
}
