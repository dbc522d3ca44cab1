//! Questions that a page asks: a line to be typed, or words to be picked by a key each.

use ratatui::crossterm::event::KeyCode;

use super::{
    keys::Key,
    page::Around,
    theme::Role,
    widget::{Canvas, field::Field, section, swatch, text},
};
use crate::book::Verdict;

/// What is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// Why a verdict is given.
    Reason(Verdict),
    /// How a plant was lost.
    Loss,
    /// A remark on a plant.
    Remark,
    /// The path of a picture.
    Photo,
    /// Who looks.
    Who,
    /// The number of the plant to go to.
    Jump,
    /// Faults of a bloom.
    Faults,
    /// Colours of a bloom.
    Colours,
}

/// A question.
#[derive(Debug, Clone)]
pub struct Question {
    /// What is asked for.
    pub to: Ask,
    answer: Answer,
}

#[derive(Debug, Clone)]
enum Answer {
    Line(Field),
    Pick(Pick),
}

/// Words of which some are picked, in the order in which they were.
#[derive(Debug, Clone, Default)]
struct Pick {
    words: Vec<Box<str>>,
    chosen: Vec<Box<str>>,
}

/// The keys by which words are picked, in order.
const LETTERS: &str = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
/// Cells for a word and its key.
const WORD: u16 = 24;

impl Question {
    /// A line to be typed, holding something already.
    pub fn line(to: Ask, holding: &str) -> Self {
        Self { to, answer: Answer::Line(Field::holding(holding)) }
    }

    /// Words to be picked, some of which are already.
    pub fn pick(to: Ask, words: Vec<Box<str>>, chosen: Vec<Box<str>>) -> Self {
        Self { to, answer: Answer::Pick(Pick { words, chosen }) }
    }

    /// Whether words are picked, for which the room of the page is needed.
    pub(super) fn is_pick(&self) -> bool {
        matches!(self.answer, Answer::Pick(_))
    }

    pub(super) fn key(&mut self, key: Key) -> bool {
        match &mut self.answer {
            Answer::Line(field) => field.take(key),
            Answer::Pick(pick) => pick.key(key),
        }
    }

    pub(super) fn paste(&mut self, content: &str) {
        if let Answer::Line(field) = &mut self.answer {
            field.paste(content);
        }
    }

    /// What was answered: a text or, of words, one a line.
    pub(super) fn answer(&self) -> String {
        match &self.answer {
            Answer::Line(field) => field.content(),
            Answer::Pick(pick) => pick.chosen.join("\n"),
        }
    }

    /// Picks the word on a line, or puts it back.
    pub(super) fn press(&mut self, line: usize) {
        if let Answer::Pick(pick) = &mut self.answer {
            pick.turn(line);
        }
    }

    pub(super) fn says(&self) -> String {
        match self.to {
            Ask::Faults => "Its faults: a letter each, enter when done.".to_owned(),
            Ask::Colours => {
                "Its colours, the main one first: a letter each, enter when done.".to_owned()
            }
            _ => String::new(),
        }
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        match &self.answer {
            Answer::Pick(pick) => pick.view(canvas, around),
            Answer::Line(field) => {
                let (what, hint) = self.words();
                type_in(canvas, field, &what, hint);
            }
        }
    }

    /// What is to be typed, and what the keys do.
    fn words(&self) -> (String, &'static str) {
        let usual = "enter done   esc back";
        match self.to {
            Ask::Reason(is) => (format!("{}, because: ", is.word()), "enter write   esc back"),
            Ask::Loss => ("lost, by what: ".to_owned(), "enter write   esc back"),
            Ask::Remark => ("note: ".to_owned(), usual),
            Ask::Photo => ("picture, from the book's folder: ".to_owned(), usual),
            Ask::Who => ("who looks (nothing is you): ".to_owned(), usual),
            Ask::Jump => ("to number: ".to_owned(), "enter go   esc back"),
            Ask::Faults | Ask::Colours => (String::new(), usual),
        }
    }
}

impl Pick {
    fn key(&mut self, key: Key) -> bool {
        if key.code == KeyCode::Backspace {
            return self.chosen.pop().is_some();
        }
        let place = key.typed().and_then(|letter| LETTERS.chars().position(|l| l == letter));
        let Some(place) = place.filter(|place| *place < self.words.len()) else { return false };
        self.turn(place);
        true
    }

    fn turn(&mut self, place: usize) {
        let Some(word) = self.words.get(place) else { return };
        match self.chosen.iter().position(|chosen| chosen == word) {
            Some(at) => drop(self.chosen.remove(at)),
            None => self.chosen.push(word.clone()),
        }
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let area = canvas.area();
        let said =
            if self.chosen.is_empty() { "none so far".to_owned() } else { self.chosen.join(", ") };
        let rest = section::draw(canvas, area, &said, "");
        let mut window = canvas.within(section::below(rest, 1));
        let area = window.area();
        let across = (area.width / WORD).max(1);
        let down = self.words.len().div_ceil(usize::from(across)).max(1);
        let crop = around.desk.book().crop();
        for (n, (word, letter)) in self.words.iter().zip(LETTERS.chars()).enumerate() {
            let x = u16::try_from(n / down).unwrap_or_default() * WORD + 1;
            let y = u16::try_from(n % down).unwrap_or(u16::MAX);
            if y >= area.height {
                continue;
            }
            let is_chosen = self.chosen.contains(word);
            window.say(x, y, letter.encode_utf8(&mut [0; 4]), Role::Accent);
            let mark = if is_chosen { window.theme().glyphs().estimate } else { " " };
            window.say(x + 2, y, mark, Role::Good);
            let x = if crop.colour(word).is_some() {
                swatch::draw(&mut window, x + 4, y, Some(word), crop)
            } else {
                x + 4
            };
            let style = window.theme().style(if is_chosen { Role::Strong } else { Role::Text });
            window.put(x, y, usize::from(WORD - 8), word, style);
            let at = ratatui::layout::Rect::new(area.x + x - 4, area.y + y, WORD - 2, 1);
            window.hit(at, crate::tui::widget::Target::Line { list: 0, line: n });
        }
    }
}

/// Draws a field in a line, with what is to be typed before it and its keys behind.
pub(super) fn type_in(canvas: &mut Canvas<'_>, field: &Field, what: &str, hint: &str) {
    let wide = canvas.area().width;
    let x = canvas.say(1, 0, what, Role::Quiet);
    let hint_wide = u16::try_from(text::width(hint)).unwrap_or(u16::MAX);
    let mut area = canvas.area();
    area.x = area.x.saturating_add(x);
    area.width = wide.saturating_sub(x + hint_wide + 3);
    field.draw(canvas, area);
    if !area.is_empty() {
        canvas.say_right(wide - 1, 0, hint, Role::Quiet);
    }
}
