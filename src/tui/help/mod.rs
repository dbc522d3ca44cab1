//! The help page: what the action table says of this page; and one key further what each figure
//! means.

mod figures;

use super::{
    action::{Action, Group, Keymap, ROWS, Row, Snapshot},
    glyphs,
    place::Kind,
    theme::Role,
    widget::Canvas,
};

pub(super) use figures::Figures;

/// Cells a column of the page takes.
const COLUMN: u16 = 80;
/// Cells for the keys.
const KEYS: u16 = 24;

/// One line of the page.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Line {
    Blank,
    Heading(&'static str),
    Row { keys: String, help: String, now: bool },
}

/// The help page.
#[derive(Debug)]
pub(super) struct Help {
    lines: Vec<Line>,
    top: usize,
}

impl Help {
    /// The page for where one stands: what can be done there, and last what can be done elsewhere.
    pub(super) fn new(keys: &Keymap, here: &Snapshot, ascii: bool) -> Self {
        let mut lines = Vec::new();
        let line = |row: &Row| {
            let names: Vec<String> = keys.keys(row.action).map(|key| key.short(ascii)).collect();
            let mut help = row.help_for(here).to_owned();
            if ascii {
                help = help.replace(glyphs::FINE.times, glyphs::PLAIN.times);
            }
            Line::Row { keys: names.join("  "), help, now: (row.when)(here) }
        };
        for group in Group::ALL {
            let mut rows =
                ROWS.iter().filter(|row| row.group == group && (row.when)(here)).peekable();
            if rows.peek().is_none() {
                continue;
            }
            if !lines.is_empty() {
                lines.push(Line::Blank);
            }
            lines.push(Line::Heading(group.heading()));
            lines.extend(rows.map(line));
        }
        // What is to be had where there is no book is to be had nowhere else.
        let nowhere = |row: &&Row| {
            matches!(row.action, Action::Demo | Action::NewBook | Action::Spreadsheets)
        };
        let mut others = ROWS.iter().filter(|row| !(row.when)(here) && !nowhere(row)).peekable();
        if here.kind != Kind::Welcome && others.peek().is_some() {
            lines.extend([Line::Blank, Line::Heading("only elsewhere")]);
            lines.extend(others.map(line));
        }
        Self { lines, top: 0 }
    }

    pub(super) fn act(&mut self, action: Action, height: u16) {
        let page = isize::from(i16::try_from(height.saturating_sub(1)).unwrap_or(i16::MAX));
        let all = isize::try_from(self.lines.len()).unwrap_or(isize::MAX);
        let by = match action {
            Action::Up => -1,
            Action::Down => 1,
            Action::PageUp => -page,
            Action::PageDown => page,
            Action::First => -all,
            Action::Last => all,
            _ => 0,
        };
        self.turn(by, height);
    }

    pub(super) fn scroll(&mut self, notches: i16, height: u16) {
        self.turn(isize::from(notches) * 3, height);
    }

    fn turn(&mut self, by: isize, height: u16) {
        let most = self.lines.len().saturating_sub(usize::from(height));
        self.top = self.top.saturating_add_signed(by).min(most);
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>) {
        let (wide, high) = (canvas.area().width, canvas.area().height);
        let n_columns = (wide / COLUMN).max(1);
        if high == 0 {
            return;
        }
        let mut room = usize::from(n_columns) * usize::from(high);
        let top = self.top.min(self.lines.len().saturating_sub(room));
        let below = self.lines.len().saturating_sub(top + room);
        // The last place is for saying that there is more.
        room -= usize::from(below > 0);
        for (i, line) in self.lines.iter().skip(top).take(room).enumerate() {
            let column = u16::try_from(i / usize::from(high)).unwrap_or_default();
            let y = u16::try_from(i % usize::from(high)).unwrap_or_default();
            let x = column * COLUMN + 1;
            match line {
                Line::Blank => {}
                Line::Heading(heading) => {
                    canvas.say(x, y, heading, Role::Accent);
                }
                Line::Row { keys, help, now } => {
                    let (strong, plain) =
                        if *now { (Role::Strong, Role::Text) } else { (Role::Quiet, Role::Quiet) };
                    let style = canvas.theme().style(strong);
                    canvas.put(x + 1, y, usize::from(KEYS), keys, style);
                    let help_room = usize::from(COLUMN - KEYS - 4);
                    let style = canvas.theme().style(plain);
                    canvas.put(x + KEYS + 2, y, help_room, help, style);
                }
            }
        }
        if below > 0 {
            let more = format!("{} more lines below: page-down", below + 1);
            canvas.say_right(wide.saturating_sub(1), high - 1, &more, Role::Quiet);
        }
    }
}
