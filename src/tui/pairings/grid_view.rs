//! How the grid is drawn: only the rows and columns that are seen.

use ratatui::layout::Rect;

use super::{
    GRID, Pairings, Record,
    grid::{Against, Grid, Parent, Square},
    layout::{CELL, FIGURES, HEADS, Parts},
};
use crate::tui::{
    glyphs::Glyphs,
    page::Around,
    said,
    theme::Role,
    widget::{Canvas, Target, range::Scale, section, text},
};
use crate::views::words;

/// Cells of shade in a square.
const SHADE: u16 = 2;

impl Pairings {
    pub(super) fn draw_grid(
        &self,
        record: &Record,
        canvas: &mut Canvas<'_>,
        area: Rect,
        around: &Around<'_>,
    ) {
        let grid = &record.grid;
        let parts = Parts::of(area, grid.name_wide, grid.seed.len());
        section::draw(canvas, area, "grid", "seed parents down, pollen parents across");
        let mut window = canvas.within(area);
        self.heads(&mut window, grid, parts);
        let scale = Scale::reaching(grid.most());
        for y in 0..parts.down {
            let (row, line) = (self.first.0 + y, HEADS + u16::try_from(y).unwrap_or(u16::MAX));
            if row < grid.seed.len() && line < area.height {
                self.row(&mut window, line, row, (grid, parts, scale), around);
            }
        }
        if parts.has_feet {
            let y = HEADS + u16::try_from(parts.down).unwrap_or(u16::MAX);
            let feet = section::below(area, y);
            self.under(record, &mut canvas.within(feet), around);
            legend(&mut canvas.within(section::below(feet, 3)), grid, scale, around.glyphs());
        }
    }

    /// The pollen parents: names on two rows, own figures below.
    fn heads(&self, window: &mut Canvas<'_>, grid: &Grid, parts: Parts) {
        let corner = usize::from(parts.name + FIGURES);
        let quiet = window.theme().style(Role::Quiet);
        window.put_right(parts.from - 2, HEADS - 1, corner, "kept/judged", quiet);
        let ellipsis = window.theme().glyphs().ellipsis;
        let seen = self.first.1..grid.pollen.len().min(self.first.1 + parts.across);
        for (x, column) in columns(parts).zip(seen) {
            let parent = &grid.pollen[column];
            let role = if column == self.spot.1 { Role::Strong } else { Role::Text };
            let style = window.theme().style(role);
            let room = usize::from(CELL - 1);
            let lines = two_lines(&parent.name, room, ellipsis);
            let from = HEADS - 1 - u16::try_from(lines.len()).unwrap_or(2).min(2);
            for (y, line) in (from..).zip(&lines) {
                window.put(x, y, room, line, style);
            }
            window.put(x + SHADE + 1, HEADS - 1, room, &figures(parent), quiet);
        }
    }

    fn row(
        &self,
        window: &mut Canvas<'_>,
        y: u16,
        row: usize,
        (grid, parts, scale): (&Grid, Parts, Scale),
        around: &Around<'_>,
    ) {
        let parent = &grid.seed[row];
        let role = if row == self.spot.0 { Role::Strong } else { Role::Text };
        let style = around.theme.style(role);
        window.put(1, y, usize::from(parts.name), &parent.name, style);
        window.say_right(parts.from - 2, y, &figures(parent), Role::Quiet);
        let to = grid.pollen.len().min(self.first.1 + parts.across);
        let mut made = grid.row(row, self.first.1, to).iter().peekable();
        for (x, column) in columns(parts).zip(self.first.1..to) {
            match made.next_if(|square| square.column == column) {
                Some(square) => {
                    draw_square(window, (x, y), square, grid.against(square), scale, around);
                }
                None => {
                    window.say(x, y, around.glyphs().dot, Role::Quiet);
                }
            }
            if (row, column) == self.spot {
                let wide = CELL.min(window.area().width.saturating_sub(x - 1));
                let style =
                    if self.on_grid { around.theme.selected() } else { around.theme.current() };
                window.tint(x - 1, y, wide, style);
            }
            let at = window.area();
            let at = Rect::new(at.x + x, at.y + y, CELL, 1);
            window.hit(at, Target::Line { list: GRID, line: row * grid.pollen.len() + column });
        }
    }

    /// What is known of the pair under the cursor.
    fn under(&self, record: &Record, window: &mut Canvas<'_>, around: &Around<'_>) {
        let grid = &record.grid;
        let glyphs = around.glyphs();
        let Some(name) = grid.name(self.spot, glyphs.times) else { return };
        let x = window.say(1, 1, &name, Role::Strong);
        let turned = grid.turned(self.spot).map(|turned| format!("turned: {}", kept(turned)));
        let Some(square) = grid.at(self.spot) else {
            let never = match turned {
                Some(turned) => format!("never made this way {} {turned}", glyphs.dot),
                None => "never made".to_owned(),
            };
            window.say(x + 2, 1, &never, Role::Quiet);
            return;
        };
        let told: Vec<String> = [kept(square)].into_iter().chain(turned).collect();
        let between = format!(" {} ", glyphs.dot);
        window.say(x + 2, 1, &told.join(&between), Role::Text);
        let mut told = Vec::new();
        if let Some(row) = record.rows.get(square.pairing).filter(|row| row.tried) {
            let (share, ends) = (said::percent(row.shrunk.p), said::ends(&row.shrunk, glyphs));
            told.push(format!("a new seedling would be kept: {share} ({ends})"));
        }
        if let Some(&near) = record.closeness.get(square.pairing).filter(|&&near| near > 0.0) {
            told.push(words::closeness(near));
        }
        let seasons: Vec<String> = square.seasons.iter().map(ToString::to_string).collect();
        if !seasons.is_empty() {
            told.push(format!("made {}", seasons.join(", ")));
        }
        window.say(1, 2, &told.join(&between), Role::Text);
    }
}

fn kept(square: &Square) -> String {
    match square.counts.judged {
        0 => "nothing judged yet".to_owned(),
        judged => format!("{} kept", said::of(square.counts.kept, judged)),
    }
}

fn columns(parts: Parts) -> impl Iterator<Item = u16> {
    (0..).map(move |i: u16| parts.from.saturating_add(i.saturating_mul(CELL)))
}

/// Kept of judged, in as little room as will do.
fn figures(parent: &Parent) -> String {
    match parent.counts.judged {
        0 => String::new(),
        judged => format!("{}/{judged}", parent.counts.kept),
    }
}

/// A name on at most two lines; what does not fit is cut.
fn two_lines(name: &str, room: usize, ellipsis: &str) -> Vec<String> {
    let mut lines = text::wrap(name, room, ellipsis);
    if lines.len() > 2 {
        let rest = lines.split_off(1).join(" ");
        lines.push(text::cut(&rest, room, ellipsis).into_owned());
    }
    lines
}

fn draw_square(
    window: &mut Canvas<'_>,
    (x, y): (u16, u16),
    square: &Square,
    against: Against,
    scale: Scale,
    around: &Around<'_>,
) {
    let glyphs = around.glyphs();
    if square.counts.judged == 0 {
        window.say(x, y, "made", Role::Quiet);
        return;
    }
    let (role, sign) = match against {
        Against::More => (Role::Good, glyphs.rising),
        Against::Alike => (Role::Text, ""),
        Against::Fewer => (Role::Quiet, glyphs.falling),
    };
    let shade = glyphs.shades[shade(square.chance.p, scale)];
    window.fill(x, y, SHADE, shade, around.theme.style(role));
    let figures = format!("{}/{}{sign}", square.counts.kept, square.counts.judged);
    let room = usize::from(CELL - SHADE - 1);
    window.put(x + SHADE + 1, y, room, &figures, around.theme.style(role));
}

/// Which of the eight shades a share has.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share between 0 and 1 of eight"
)]
fn shade(share: f64, scale: Scale) -> usize {
    let part = if share.is_nan() { 0.0 } else { (share / scale.to).clamp(0.0, 1.0) };
    ((part * 8.0).ceil() as usize).clamp(1, 8) - 1
}

/// What the shades and the arrows mean.
fn legend(window: &mut Canvas<'_>, grid: &Grid, scale: Scale, glyphs: &Glyphs) {
    let mut x = 1;
    for part in [0.25, 0.5, 1.0] {
        let share = scale.to * part;
        let sign = glyphs.shades[shade(share, scale)];
        x = window.say(x, 0, &format!("{sign}{sign} "), Role::Text);
        x = window.say(x, 0, &said::percent(share), Role::Quiet) + 2;
    }
    let mean = grid.mean.map(|mean| {
        let (more, fewer) = (glyphs.rising, glyphs.falling);
        format!("{more} above, {fewer} below {} beyond chance", said::percent(mean))
    });
    for meaning in mean.into_iter().chain([format!("{} not made", glyphs.dot)]) {
        // Half an explanation is none.
        let room = usize::from(window.area().width.saturating_sub(x + 2));
        if text::width(&meaning) <= room {
            x = window.say(x + 1, 0, &meaning, Role::Quiet) + 2;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_larger_the_share_the_fuller_the_shade() {
        let scale = Scale { to: 0.5 };
        assert_eq!(shade(0.0, scale), 0);
        assert_eq!(shade(0.25, scale), 3);
        assert_eq!(shade(0.5, scale), 7);
        assert_eq!(shade(2.0, scale), 7);
        assert_eq!(shade(f64::NAN, scale), 0);
    }

    #[test]
    fn a_name_takes_two_lines_at_most() {
        assert_eq!(two_lines("Ferry Lantern", 8, "…"), ["Ferry", "Lantern"]);
        assert_eq!(two_lines("24-031", 8, "…"), ["24-031"]);
        assert_eq!(two_lines("bees (3 likely)", 8, "…"), ["bees (3", "likely)"]);
        assert_eq!(two_lines("A Very Long Autumn Evening", 8, "…"), ["A Very", "Long Au…"]);
    }
}
