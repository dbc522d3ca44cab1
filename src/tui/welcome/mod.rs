//! The page that stands where there is no book: what can be done from here.

use ratatui::layout::Rect;

use super::{
    action::{Action, ROWS},
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    theme::Role,
    widget::{Canvas, Target, listing::Listing, section, text},
};

/// One way on.
struct Way {
    action: Action,
    words: &'static str,
    /// What there is to say of it; lines that begin with a blank are words for the shell.
    more: &'static [&'static str],
}

const WAYS: [Way; 4] = [
    Way {
        action: Action::Demo,
        words: "look round the demo garden",
        more: &["Nine seasons of an invented garden, laid out in a folder of their own: crosses, \
                 packets of seed, seedlings and what was said of them. Nothing of yours is touched."],
    },
    Way {
        action: Action::NewBook,
        words: "start a new book",
        more: &[
            "Asks for a folder and starts an empty book in it. From then on `trug` opens that \
                 book.",
        ],
    },
    Way {
        action: Action::Spreadsheets,
        words: "bring in spreadsheets",
        more: &[
            "Spreadsheets come into a book from the shell. Save each as CSV, leave here, and type:",
            "  trug new my-garden",
            "  trug import plants.csv looks.csv",
            "  trug",
            "`trug import --help` shows which columns there may be, with an example of each kind.",
        ],
    },
    Way {
        action: Action::Quit,
        words: "leave",
        more: &["A book that lies elsewhere is opened with", "  trug --book FOLDER"],
    },
];

/// Cells before the words of a way: the mark, its key and the blanks around them.
const KEY: u16 = 5;

/// The page.
#[derive(Debug)]
pub(super) struct Welcome {
    why: String,
    listing: Listing,
}

impl Welcome {
    /// The page, with the sentence that says why there is no book.
    pub(super) fn new(why: String) -> Self {
        Self { why, listing: Listing::of(WAYS.len()) }
    }

    /// Draws the sentence that had no room in a line. Returns what is left.
    fn why_in_full(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) -> Rect {
        let body = canvas.area();
        if text::width(&self.why) <= around.line_room() {
            return body;
        }
        let mut y = 0;
        for line in text::wrap(&self.why, around.line_room(), around.glyphs().ellipsis) {
            canvas.say(1, y, &line, Role::Strong);
            y += 1;
        }
        section::below(body, y + 1)
    }

    fn chosen(&self) -> Step {
        let way = self.listing.row().and_then(|row| WAYS.get(row));
        way.map_or(Step::Passed, |way| Step::Do(way.action))
    }
}

fn key(action: Action) -> &'static str {
    let row = ROWS.iter().find(|row| row.action == action);
    row.and_then(|row| row.keys.first()).copied().unwrap_or_default()
}

impl Page for Welcome {
    fn place(&self) -> Place {
        Place::Welcome
    }

    fn says(&self, around: &Around<'_>) -> String {
        let is_long = text::width(&self.why) > around.line_room();
        if is_long { "There is no book open.".to_owned() } else { self.why.clone() }
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        Stand { n_lists: 1, ..Stand::default() }
    }

    fn refresh(&mut self, _: &Around<'_>) {}

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        match input {
            // Chosen with the cursor on it or by its key, it tells more and does no more.
            Input::Do(Action::Spreadsheets) => {
                let at = WAYS.iter().position(|way| way.action == Action::Spreadsheets);
                self.listing.put_cursor(at.unwrap_or_default());
            }
            Input::Do(Action::Open) => return self.chosen(),
            Input::Line { line, .. } => {
                if self.listing.put_cursor(line) {
                    return self.chosen();
                }
            }
            Input::Do(action) if self.listing.moved(action, around.body.height) => {}
            Input::Wheel { notches, .. } => {
                self.listing.scroll(notches, 1);
            }
            _ => return Step::Passed,
        }
        Step::Taken
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let body = self.why_in_full(canvas, around);
        let rest = section::draw(canvas, body, "from here", "");
        let mut window = canvas.within(rest);
        for (line, way) in WAYS.iter().enumerate() {
            let y = u16::try_from(line).unwrap_or(u16::MAX);
            window.say(2, y, key(way.action), Role::Strong);
            window.say(KEY, y, way.words, Role::Text);
            if line == self.listing.line() {
                window.tint(0, y, rest.width, window.theme().selected());
                let here = window.theme().glyphs().here;
                window.put(0, y, 1, here, window.theme().selected());
            }
            let at = Rect { y: rest.y.saturating_add(y), height: 1, ..rest };
            window.hit(at, Target::Line { list: 0, line });
        }
        let n = u16::try_from(WAYS.len()).unwrap_or(u16::MAX);
        let more = self.listing.row().and_then(|row| WAYS.get(row)).map_or(&[][..], |way| way.more);
        tell(&mut canvas.within(section::below(rest, n + 1)), more);
    }
}

/// Tells more of a way; what is to be typed stands out.
fn tell(window: &mut Canvas<'_>, more: &[&str]) {
    let room = usize::from(window.area().width.saturating_sub(KEY + 2)).min(72);
    let ellipsis = window.theme().glyphs().ellipsis;
    let mut y = 0;
    for line in more {
        if let Some(typed) = line.strip_prefix("  ") {
            window.say(KEY + 2, y, typed, Role::Strong);
            y += 1;
            continue;
        }
        for part in text::wrap(line, room, ellipsis) {
            window.say(KEY, y, &part, Role::Text);
            y += 1;
        }
    }
}
