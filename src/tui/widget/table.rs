//! A table: columns that make room for each other, and only as many rows drawn as are seen.

use std::borrow::Cow;

use ratatui::layout::Rect;

use super::{
    Canvas, Target,
    listing::Listing,
    range::{self, Scale, Spread},
    swatch, text,
};
use crate::book::Crop;
use crate::tui::theme::Role;

/// Blank cells between columns.
const GAP: u16 = 2;
/// The highest rank of a column for whose sake others are squeezed.
pub const MOST_NEEDED: u8 = 5;
/// Cells left of the first column, for the mark of the row.
pub const MARGIN: u16 = 2;

/// Which edge of a column its text keeps to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The left, for words.
    Left,
    /// The right, for numbers.
    Right,
}

/// A column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// Its head.
    pub head: &'static str,
    /// Where its text keeps to.
    pub edge: Edge,
    /// Cells below which it is better left out.
    pub least: u16,
    /// Cells beyond which it gains nothing.
    pub most: u16,
    /// Its importance: the column of the highest rank is the first to be left out, and one above
    /// [`MOST_NEEDED`] is shown only where all below it have the room they would like.
    pub rank: u8,
}

/// What stands in a cell.
#[derive(Debug, Clone)]
pub enum Cell<'a> {
    /// A text.
    Text(Cow<'a, str>, Role),
    /// A text of several looks.
    Pieces(Vec<(Cow<'a, str>, Role)>),
    /// Colour words with a swatch.
    Bloom(&'a [Box<str>], &'a Crop),
    /// The swatch of a colour word alone, where the word stands elsewhere.
    Swatch(Option<&'a str>, &'a Crop),
    /// An estimate on its range.
    Range(Spread, Scale),
    /// Nothing.
    Blank,
}

impl<'a> Cell<'a> {
    /// Plain text.
    pub fn text(content: impl Into<Cow<'a, str>>) -> Self {
        Self::Text(content.into(), Role::Text)
    }

    /// Text that may be overlooked.
    pub fn quiet(content: impl Into<Cow<'a, str>>) -> Self {
        Self::Text(content.into(), Role::Quiet)
    }

    /// Cells it would like to have.
    fn wide(&self) -> usize {
        match self {
            Self::Blank => 0,
            Self::Text(content, _) => text::width(content),
            Self::Pieces(pieces) => pieces.iter().map(|(content, _)| text::width(content)).sum(),
            Self::Bloom(words, _) => {
                let between = 2 * words.len().saturating_sub(1);
                let all: usize = words.iter().map(|word| text::width(word)).sum();
                usize::from(swatch::WIDE) + all + between
            }
            Self::Swatch(..) => 1,
            Self::Range(..) => usize::MAX,
        }
    }

    /// A count, quiet where it is nothing.
    pub fn count(n: u32) -> Self {
        Self::Text(n.to_string().into(), if n == 0 { Role::Quiet } else { Role::Text })
    }
}

impl Column {
    /// A column of words.
    pub const fn words(head: &'static str, least: u16, most: u16, rank: u8) -> Self {
        Self { head, edge: Edge::Left, least, most, rank }
    }

    /// A column of counts such as `9 of 22`, of so many cells and more where they are large.
    pub const fn counts(head: &'static str, least: u16, rank: u8) -> Self {
        Self { head, edge: Edge::Right, least, most: least + 8, rank }
    }

    /// A column of numbers of so many cells.
    pub const fn figures(head: &'static str, wide: u16, rank: u8) -> Self {
        Self { head, edge: Edge::Right, least: wide, most: wide, rank }
    }
}

/// A table to be drawn.
pub struct Table<'a> {
    /// Its columns.
    pub columns: &'a [Column],
    /// Its rows.
    pub listing: &'a Listing,
    /// Which list of the page it is, for the mouse.
    pub list: usize,
    /// Whether the cursor is in it.
    pub focused: bool,
    /// What stands in a row and column.
    pub cell: &'a dyn Fn(usize, usize) -> Cell<'a>,
}

/// Rows looked at to learn how wide a column of words has to be.
const MEASURED: usize = 64;

impl Table<'_> {
    /// Where each column stands in a room of `wide` cells. Columns of words ask for no more than
    /// the widest of a few dozen rows, spread evenly over all, so that the columns stand still
    /// while one scrolls.
    pub fn places(&self, wide: u16) -> Vec<Option<(u16, u16)>> {
        let n = self.listing.len();
        let step = n.div_ceil(MEASURED).max(1);
        let mut columns = self.columns.to_vec();
        for (i, column) in columns.iter_mut().enumerate().filter(|(_, c)| c.least < c.most) {
            let is_sorted = self.listing.sorted.is_some_and(|(by, _)| by == i);
            let mut widest = text::width(column.head) + usize::from(is_sorted);
            for line in (0..n).step_by(step) {
                let Some(row) = self.listing.row_at(line) else { break };
                widest = widest.max((self.cell)(row, i).wide());
            }
            let widest = u16::try_from(widest).unwrap_or(u16::MAX);
            column.most = widest.clamp(column.least, column.most);
        }
        places(&columns, wide)
    }
}

/// Where each column stands in a room of `wide` cells: its first cell and its width, or nothing
/// for a column that is left out.
pub fn places(columns: &[Column], wide: u16) -> Vec<Option<(u16, u16)>> {
    let room = wide.saturating_sub(MARGIN + 1);
    let mut shown = vec![true; columns.len()];
    let need = |shown: &[bool]| -> u16 {
        let mut among = columns.iter().zip(shown).filter(|(_, shown)| **shown);
        let is_full = among.any(|(column, _)| column.rank > MOST_NEEDED);
        let among = columns.iter().zip(shown).filter(|(_, shown)| **shown);
        let wide = |c: &Column| {
            if is_full && c.rank <= MOST_NEEDED && c.edge == Edge::Left { c.most } else { c.least }
        };
        let (n, sum) =
            among.fold((0_u16, 0_u16), |(n, sum), (c, _)| (n + 1, sum.saturating_add(wide(c))));
        sum.saturating_add(n.saturating_sub(1) * GAP)
    };
    while need(&shown) > room {
        let last = (0..columns.len()).filter(|&i| shown[i]).max_by_key(|&i| (columns[i].rank, i));
        match last {
            Some(i) if shown.iter().filter(|s| **s).count() > 1 => shown[i] = false,
            _ => break,
        }
    }
    let mut widths: Vec<u16> = columns.iter().map(|c| c.least.min(room)).collect();
    let used = (0..columns.len())
        .filter(|&i| shown[i])
        .fold(0_u16, |sum, i| sum.saturating_add(widths[i] + if sum > 0 { GAP } else { 0 }));
    let mut spare = room.saturating_sub(used);
    let mut by_rank: Vec<usize> = (0..columns.len()).filter(|&i| shown[i]).collect();
    by_rank.sort_by_key(|&i| columns[i].rank);
    for i in by_rank {
        let more = columns[i].most.saturating_sub(widths[i]).min(spare);
        widths[i] += more;
        spare -= more;
    }
    let mut x = MARGIN;
    (0..columns.len())
        .map(|i| {
            shown[i].then(|| {
                let place = (x, widths[i]);
                x = x.saturating_add(widths[i] + GAP);
                place
            })
        })
        .collect()
}

/// Draws a table: its heads in the first row of `area`, its rows below.
pub fn draw(canvas: &mut Canvas<'_>, area: Rect, table: &Table<'_>) {
    let mut canvas = canvas.within(area);
    let places = table.places(canvas.area().width);
    heads(&mut canvas, table, &places);
    let area = canvas.area();
    if area.height > 1 {
        let below = Rect { y: area.y + 1, height: area.height - 1, ..area };
        rows(&mut canvas.within(below), table, &places);
    }
}

fn heads(canvas: &mut Canvas<'_>, table: &Table<'_>, places: &[Option<(u16, u16)>]) {
    let glyphs = canvas.theme().glyphs();
    for (i, (column, place)) in table.columns.iter().zip(places).enumerate() {
        let Some((x, wide)) = *place else { continue };
        let (head, role) = match table.listing.sorted {
            Some((by, falling)) if by == i => {
                let sign = if falling { glyphs.falling } else { glyphs.rising };
                (format!("{}{sign}", column.head), Role::Strong)
            }
            _ => (column.head.to_owned(), Role::Quiet),
        };
        let style = canvas.theme().style(role);
        match column.edge {
            Edge::Left => canvas.put(x, 0, usize::from(wide), &head, style),
            Edge::Right => {
                // A head may stand wider than its figures, over the gap before them.
                canvas.put_right(x + wide, 0, usize::from(wide + GAP - 1), &head, style)
            }
        };
        let area = canvas.area();
        let at = Rect::new(area.x.saturating_add(x), area.y, wide, 1);
        canvas.hit(at, Target::Head { list: table.list, column: i });
    }
}

/// Draws a table without its heads.
pub fn bare(canvas: &mut Canvas<'_>, area: Rect, table: &Table<'_>) {
    let mut canvas = canvas.within(area);
    let places = table.places(canvas.area().width);
    rows(&mut canvas, table, &places);
}

fn rows(canvas: &mut Canvas<'_>, table: &Table<'_>, places: &[Option<(u16, u16)>]) {
    let area = canvas.area();
    for (y, line) in (0..area.height).zip(table.listing.window(area.height)) {
        let Some(row) = table.listing.row_at(line) else { break };
        for (i, place) in places.iter().enumerate() {
            if let Some(place) = *place {
                cell(canvas, place, y, &(table.cell)(row, i), table.columns[i].edge);
            }
        }
        mark(canvas, table, line, y);
        let at = Rect::new(area.x, area.y + y, area.width, 1);
        canvas.hit(at, Target::Line { list: table.list, line });
    }
}

fn mark(canvas: &mut Canvas<'_>, table: &Table<'_>, line: usize, y: u16) {
    if line != table.listing.line() {
        return;
    }
    if table.focused {
        let wide = canvas.area().width;
        canvas.tint(0, y, wide, canvas.theme().selected());
    }
    canvas.say(0, y, canvas.theme().glyphs().here, Role::Text);
    if table.focused {
        canvas.tint(0, y, 1, canvas.theme().selected());
    }
}

fn cell(canvas: &mut Canvas<'_>, (x, wide): (u16, u16), y: u16, cell: &Cell<'_>, edge: Edge) {
    let most = usize::from(wide);
    match cell {
        Cell::Blank => {}
        Cell::Text(content, role) => {
            let style = canvas.theme().style(*role);
            match edge {
                Edge::Left => canvas.put(x, y, most, content, style),
                Edge::Right => canvas.put_right(x + wide, y, most, content, style),
            };
        }
        Cell::Pieces(pieces) => {
            let all: usize = pieces.iter().map(|(content, _)| text::width(content)).sum();
            let mut at = match edge {
                Edge::Left => x,
                Edge::Right => x + u16::try_from(most.saturating_sub(all)).unwrap_or_default(),
            };
            for (content, role) in pieces {
                let left = usize::from((x + wide).saturating_sub(at));
                at = canvas.put(at, y, left, content, canvas.theme().style(*role));
            }
        }
        Cell::Bloom(words, crop) => {
            swatch::with_words(canvas, (x, y), most, words, crop);
        }
        Cell::Swatch(word, crop) => {
            swatch::draw(canvas, x, y, *word, crop);
        }
        Cell::Range(spread, scale) => {
            let area = canvas.area();
            let at = Rect::new(area.x.saturating_add(x), area.y.saturating_add(y), wide, 1);
            range::draw(canvas, at, *spread, *scale);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const COLUMNS: &[Column] = &[
        Column::words("cross", 6, 8, 0),
        Column::words("parents", 12, 40, 1),
        Column::figures("sown", 4, 3),
        Column::figures("kept", 4, 2),
    ];

    #[test]
    fn columns_never_overlap_and_never_leave_the_room() {
        for wide in 0..120 {
            let mut free = 0;
            for (x, w) in places(COLUMNS, wide).into_iter().flatten() {
                assert!(x >= free, "at {wide}");
                free = x + w + 1;
                assert!(x + w <= wide.max(MARGIN), "at {wide}: {x} + {w}");
            }
        }
    }

    #[test]
    fn no_name_is_cut_for_the_sake_of_a_column_that_can_be_spared() {
        let mut columns = COLUMNS.to_vec();
        columns.push(Column::figures("seeds", 5, MOST_NEEDED + 1));
        let squeezed = places(&columns, 65);
        assert_eq!((squeezed[1].map(|(_, wide)| wide), squeezed[4]), (Some(40), None));
        let roomy = places(&columns, 72);
        assert_eq!(roomy[1].map(|(_, wide)| wide), Some(40));
        assert!(roomy[4].is_some());
    }

    #[test]
    fn the_least_important_column_goes_first_and_the_first_one_stays() {
        let shown =
            |wide| -> Vec<bool> { places(COLUMNS, wide).iter().map(Option::is_some).collect() };
        assert_eq!(shown(80), [true, true, true, true]);
        assert_eq!(shown(32), [true, true, false, true]);
        assert_eq!(shown(24), [true, true, false, false]);
        assert_eq!(shown(10), [true, false, false, false]);
        assert_eq!(shown(0), [true, false, false, false]);
    }
}
