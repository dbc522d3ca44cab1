//! The find page: a few letters, and at once whatever bears them.

mod matching;

use unicode_segmentation::UnicodeSegmentation as _;

use super::{
    action::Action,
    basis::Basis,
    keys::Key,
    page::Around,
    place::{Kind, Place},
    said,
    theme::Role,
    widget::{Canvas, Target, field::Field, listing::Listing, text},
    worker::Later,
};
use crate::views::{Desk, words};

/// Rows above the list: the field and a blank.
const ABOVE: u16 = 2;

/// The find page.
#[derive(Debug)]
pub(super) struct Find {
    field: Field,
    /// The letters last asked for.
    asked: String,
    basis: Basis,
    coming: Later<Vec<Place>>,
    found: Vec<Place>,
    listing: Listing,
    /// Whether Enter was pressed before the answer came.
    is_wanted: bool,
}

impl Default for Find {
    fn default() -> Self {
        Self {
            field: Field::default(),
            asked: String::new(),
            basis: Basis::default(),
            coming: Later::Unasked,
            found: Vec::new(),
            listing: Listing::default(),
            is_wanted: false,
        }
    }
}

impl Find {
    pub(super) fn waits(&self) -> bool {
        self.coming.is_asked()
    }

    pub(super) fn key(&mut self, key: Key) -> bool {
        self.is_wanted = false;
        self.field.take(key)
    }

    pub(super) fn paste(&mut self, content: &str) {
        self.field.paste(content);
    }

    /// Asks for what has been typed, if it was not yet, and takes in what has been found. Until
    /// then what was found last stays in view.
    pub(super) fn refresh(&mut self, around: &Around<'_>) {
        let letters = self.field.content();
        let moved = self.basis.moved(around, false);
        if letters != self.asked || moved.is_some() {
            if moved == Some(false) {
                self.found.clear();
                self.listing = Listing::default();
            }
            self.asked.clone_from(&letters);
            let letters = letters.clone();
            let glyphs = around.theme.glyphs();
            self.coming = around
                .worker
                .ask(around.desk, move |desk, stop| matching::find(desk, &letters, glyphs, stop));
        }
        self.coming.settle();
        if let Some(found) = self.coming.take() {
            self.listing = Listing::of(found.len());
            self.found = found;
        } else if letters.is_empty() {
            self.found.clear();
            self.listing = Listing::default();
        }
    }

    pub(super) fn act(&mut self, action: Action, height: u16) {
        self.listing.moved(action, height.saturating_sub(ABOVE));
    }

    pub(super) fn scroll(&mut self, notches: i16, height: u16) {
        self.listing.scroll(notches, height.saturating_sub(ABOVE));
    }

    /// Takes a click on a line. Returns whether the cursor was there already.
    pub(super) fn press(&mut self, line: usize) -> bool {
        self.listing.put_cursor(line)
    }

    /// What to open. While the answer to the last letters is still to come, it is remembered
    /// that it is wanted, and [`Find::overdue`] gives it when it is there.
    pub(super) fn chosen(&mut self) -> Option<Place> {
        self.is_wanted = self.waits();
        if self.is_wanted {
            return None;
        }
        self.found.get(self.listing.row()?).copied()
    }

    /// What was to be opened before it was found.
    pub(super) fn overdue(&mut self) -> Option<Place> {
        if self.is_wanted { self.chosen() } else { None }
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let x = canvas.say(1, 0, "find ", Role::Quiet);
        let mut area = canvas.area();
        area.x = area.x.saturating_add(x);
        area.width = area.width.saturating_sub(x + 16);
        self.field.draw(canvas, area);
        let end = canvas.area().width.saturating_sub(1);
        if !self.field.is_empty() {
            let n = said::many(self.found.len(), "name", "names");
            canvas.say_right(end, 0, &n, Role::Quiet);
        }
        if self.field.is_empty() {
            canvas.say(1, ABOVE, "A number, a name, or a few of their letters.", Role::Quiet);
        } else if self.found.is_empty() && !self.waits() {
            canvas.say(1, ABOVE, "Nothing in this book has these letters.", Role::Quiet);
        }
        let whole = canvas.area();
        let mut list = whole;
        list.y = list.y.saturating_add(ABOVE);
        list.height = list.height.saturating_sub(ABOVE);
        let pattern = matching::pattern(&self.asked);
        let mut canvas = canvas.within(list);
        for (y, line) in (0..list.height).zip(self.listing.window(list.height)) {
            let Some(place) = self.listing.row_at(line).and_then(|row| self.found.get(row)) else {
                continue;
            };
            let name = place.name(around.desk, around.glyphs());
            let marked = matching::letters_of(&pattern, &name);
            row(&mut canvas, y, &name, &marked, *place, around);
            if line == self.listing.line() {
                let wide = canvas.area().width;
                canvas.tint(0, y, wide, around.theme.selected());
            }
            let area = canvas.area();
            let at = ratatui::layout::Rect { y: area.y + y, height: 1, ..area };
            canvas.hit(at, Target::Line { list: 0, line });
        }
    }
}

/// Draws one row: the name with the found letters marked, what sort of thing it is, and a few
/// words about it.
fn row(
    canvas: &mut Canvas<'_>,
    y: u16,
    name: &str,
    marked: &[u32],
    place: Place,
    around: &Around<'_>,
) {
    let wide = canvas.area().width;
    let name_room = usize::from((wide / 2).clamp(12, 44).saturating_sub(2));
    let name = text::cut(name, name_room, around.glyphs().ellipsis);
    let mut x = 2;
    for (i, letter) in name.graphemes(true).enumerate() {
        let is_marked = u32::try_from(i).is_ok_and(|i| marked.binary_search(&i).is_ok());
        let style = around.theme.style(if is_marked { Role::Strong } else { Role::Text });
        let style = if is_marked { around.theme.current().patch(style) } else { style };
        x = canvas.put(x, y, 2, letter, style);
    }
    let x = u16::try_from(name_room).unwrap_or_default() + 4;
    canvas.say(x, y, &kind(place, around.desk), Role::Quiet);
    canvas.say(x + 12, y, &about(place, around), Role::Text);
}

fn kind(place: Place, desk: &Desk) -> String {
    match place {
        Place::Plant(plant) if desk.book().cross_of(plant).is_some() => "seedling".to_owned(),
        Place::Plant(_) => "variety".to_owned(),
        _ => match place.kind() {
            Kind::Cross => "cross".to_owned(),
            _ => "pairing".to_owned(),
        },
    }
}

fn about(place: Place, around: &Around<'_>) -> String {
    let desk = around.desk;
    match place {
        Place::Plant(plant) => {
            let state = words::state(desk.brief(plant).state);
            match desk.book().cross_of(plant) {
                Some(cross) => format!("{state}, {}", said::cross(desk, cross, around.glyphs())),
                None => String::new(),
            }
        }
        Place::Cross(cross) => said::cross(desk, cross, around.glyphs()),
        Place::Pairing(at) => desk.pairings().get(at).map_or_else(String::new, |pairing| {
            let counts = pairing.counts;
            format!("kept {}", said::of(counts.kept, counts.judged))
        }),
        _ => String::new(),
    }
}
