//! The full screen without a terminal, to press its keys and read what it shows: for tests,
//! benchmarks and pictures.

use std::{fmt::Write as _, sync::Arc};

use ratatui::{
    buffer::{Buffer, CellWidth as _},
    layout::Rect,
    style::{Color, Modifier},
};

use super::{
    app::{App, Wish},
    event::Event,
    keys,
    opening::{Shown, Start},
    place::Place,
    settings::Settings,
    worker::Worker,
};
use crate::views::Desk;

/// A screen of a given size on which nothing happens by itself.
#[derive(Debug)]
pub struct Stage {
    app: App,
    buffer: Buffer,
}

impl Stage {
    /// Opens a book on a screen of this size.
    pub fn new(desk: Arc<Desk>, settings: Settings, (wide, high): (u16, u16)) -> Self {
        Self::begin(Start::Book(Shown::only(desk, Vec::new())), settings, (wide, high))
    }

    /// Begins on a screen of this size.
    pub fn begin(start: Start, settings: Settings, size: (u16, u16)) -> Self {
        Self::with(start, settings, size, Worker::on_the_spot())
    }

    /// The same, with a worker of one's choice.
    pub fn with(
        start: Start,
        settings: Settings,
        (wide, high): (u16, u16),
        worker: Worker,
    ) -> Self {
        let app = App::new(start, settings, worker);
        let mut stage = Self { app, buffer: Buffer::empty(Rect::new(0, 0, wide, high)) };
        stage.draw();
        stage
    }

    /// Draws the whole screen anew.
    pub fn draw(&mut self) {
        self.buffer.reset();
        self.app.draw(&mut self.buffer);
    }

    /// Gives the screen another size.
    pub fn resize(&mut self, (wide, high): (u16, u16)) {
        self.buffer = Buffer::empty(Rect::new(0, 0, wide, high));
        self.app.take(Event::Resized);
        self.draw();
    }

    /// Presses the keys of a script such as `jj<enter>/ann<enter>`. Returns what the last of them
    /// asked of the terminal; `None` where the script names a key that there is not.
    pub fn press(&mut self, script: &str) -> Option<Wish> {
        let mut wish = Wish::Draw;
        for key in keys::script(script)? {
            wish = self.app.take(Event::Key(key));
            self.draw();
        }
        Some(wish)
    }

    /// Passes an event on.
    pub fn take(&mut self, event: Event) -> Wish {
        let wish = self.app.take(event);
        self.draw();
        wish
    }

    /// Where one is.
    pub fn place(&self) -> Place {
        self.app.place()
    }

    /// The cells.
    pub fn buffer(&self) -> &Buffer {
        &self.buffer
    }

    /// What is shown, a line a row, without blanks at the ends.
    pub fn text(&self) -> String {
        let mut shown = String::new();
        for y in 0..self.buffer.area.height {
            let mut line = String::new();
            let mut covered = 0;
            for x in 0..self.buffer.area.width {
                let symbol = self.buffer[(x, y)].symbol();
                if covered == 0 {
                    line.push_str(symbol);
                    covered = symbol.cell_width();
                }
                covered = covered.saturating_sub(1);
            }
            shown.push_str(line.trim_end());
            shown.push('\n');
        }
        shown
    }

    /// How it is shown: for each row the stretches that do not look plain, as
    /// `row: column+cells look`.
    pub fn looks(&self) -> String {
        let mut shown = String::new();
        for y in 0..self.buffer.area.height {
            let mut x = 0;
            while x < self.buffer.area.width {
                let look = self.look(x, y);
                let from = x;
                while x < self.buffer.area.width && self.look(x, y) == look {
                    x += 1;
                }
                if look != (Color::Reset, Color::Reset, Modifier::empty()) {
                    let (text, ground, weight) = look;
                    // Writing into a string cannot fail.
                    let _ = write!(shown, "{y}: {from}+{}", x - from);
                    if text != Color::Reset {
                        let _ = write!(shown, " {text}");
                    }
                    if ground != Color::Reset {
                        let _ = write!(shown, " on {ground}");
                    }
                    for (name, _) in weight.iter_names() {
                        let _ = write!(shown, " {}", name.to_lowercase());
                    }
                    shown.push('\n');
                }
            }
        }
        shown
    }

    fn look(&self, x: u16, y: u16) -> (Color, Color, Modifier) {
        let cell = &self.buffer[(x, y)];
        (cell.fg, cell.bg, cell.modifier)
    }
}
