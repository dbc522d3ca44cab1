//! How the grid is drawn: only the rows and columns that are seen.

use ratatui::layout::Rect;

use super::{
    GRID, Pairings, Record, Shade,
    chances::{Chances, Pair},
    grid::{Against, Grid, Parent, Square},
    layout::{CELL, FIGURES, MERIT, Parts},
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
/// The fullest shade of kin: offspring as inbred as those of full sibs, or more.
const FULL_SIBS: Scale = Scale { to: 1.0 };

impl Pairings {
    pub(super) fn draw_grid(
        &self,
        record: &Record,
        canvas: &mut Canvas<'_>,
        area: Rect,
        around: &Around<'_>,
    ) {
        let grid = &record.grid;
        let parts = self.parts(record, around);
        let shaded = match self.shade {
            Shade::Chance => "shaded by the chance to be kept",
            Shade::Kin => "% of full sibs: how inbred offspring would be",
        };
        let room = usize::from(area.width.saturating_sub(9));
        let sides = "seed parents down, pollen parents across";
        let note = said::fitting([format!("{sides}, {shaded}"), sides.to_owned()], room);
        section::draw(canvas, area, "grid", &note);
        let mut window = canvas.within(area);
        self.heads(&mut window, grid, parts);
        let chances = Chances::of(record, around);
        for y in 0..parts.down {
            let down = u16::try_from(y).unwrap_or(u16::MAX);
            let (row, line) = (self.first.0 + y, parts.heads + down);
            if row < grid.seed.len() && line < area.height {
                self.row(&mut window, line, row, (chances, parts), around);
            }
        }
        if parts.has_feet {
            let y = parts.heads + u16::try_from(parts.down).unwrap_or(u16::MAX);
            let feet = section::below(area, y);
            self.under(chances, &mut canvas.within(feet), around);
            let mut last = canvas.within(section::below(feet, 3));
            match self.shade {
                Shade::Chance => legend(&mut last, grid, self.scales.1, around.glyphs()),
                Shade::Kin => legend_of_kin(&mut last, around.glyphs()),
            }
        }
    }

    /// The pollen parents: names on two rows, own figures below.
    fn heads(&self, window: &mut Canvas<'_>, grid: &Grid, parts: Parts) {
        let quiet = window.theme().style(Role::Quiet);
        let figures_at = parts.heads - if parts.has_merit { 2 } else { 1 };
        let corner = usize::from(parts.name + FIGURES);
        window.put_right(parts.figures_to(), figures_at, corner, "kept/judged", quiet);
        if parts.has_merit {
            window.put_right(parts.from - 2, figures_at + 1, corner, "passes on, %", quiet);
        }
        let (ellipsis, to) = (window.theme().glyphs().ellipsis, window.theme().glyphs().to);
        let seen = self.first.1..grid.pollen.len().min(self.first.1 + parts.across);
        for (x, column) in columns(parts).zip(seen) {
            let parent = &grid.pollen[column];
            let role = if column == self.spot.1 { Role::Strong } else { Role::Text };
            let style = window.theme().style(role);
            let room = usize::from(CELL - 1);
            let lines = two_lines(&parent.name, room, ellipsis);
            let from = figures_at - u16::try_from(lines.len()).unwrap_or(2).min(2);
            for (y, line) in (from..).zip(&lines) {
                window.put(x, y, room, line, style);
            }
            window.put(x, figures_at, room, &figures(parent), quiet);
            if parts.has_merit {
                window.put(x, figures_at + 1, room, &merit(parent, to), style);
            }
        }
    }

    fn row(
        &self,
        window: &mut Canvas<'_>,
        y: u16,
        row: usize,
        (chances, parts): (Chances<'_>, Parts),
        around: &Around<'_>,
    ) {
        let grid = &chances.record.grid;
        let parent = &grid.seed[row];
        let role = if row == self.spot.0 { Role::Strong } else { Role::Text };
        let style = around.theme.style(role);
        window.put(1, y, usize::from(parts.name), &parent.name, style);
        window.say_right(parts.figures_to(), y, &figures(parent), Role::Quiet);
        if parts.has_merit {
            let merit = merit(parent, around.glyphs().to);
            window.put_right(parts.from - 2, y, usize::from(MERIT), &merit, style);
        }
        let to = grid.pollen.len().min(self.first.1 + parts.across);
        let mut made = grid.row(row, self.first.1, to).iter().peekable();
        for (x, column) in columns(parts).zip(self.first.1..to) {
            let square = made.next_if(|square| square.column == column);
            let pair = chances.at((row, column)).and_then(|at| chances.pair(at));
            let seen = Seen { square, pair, scale: self.scales.1 };
            match self.shade {
                Shade::Chance => seen.draw(window, (x, y), grid, around),
                Shade::Kin => {
                    let made = pair.and_then(|pair| chances.record.closeness.get(pair.made?));
                    let near = made.copied().or_else(|| self.near.at((row, column)));
                    seen.draw_kin(window, (x, y), near, around);
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
    fn under(&self, chances: Chances<'_>, window: &mut Canvas<'_>, around: &Around<'_>) {
        let grid = &chances.record.grid;
        let glyphs = around.glyphs();
        let Some(name) = grid.name(self.spot, glyphs.times) else { return };
        let between = format!(" {} ", glyphs.dot);
        let x = window.say(1, 1, &name, Role::Strong);
        let turned = grid.turned(self.spot).map(|turned| format!("turned: {}", kept(turned)));
        let square = grid.at(self.spot);
        let own = match (square, &turned) {
            (Some(square), _) => kept(square),
            (None, Some(_)) => "never made this way".to_owned(),
            (None, None) => "never made".to_owned(),
        };
        let told: Vec<String> = [own].into_iter().chain(turned).collect();
        let role = if square.is_some() { Role::Text } else { Role::Quiet };
        window.say(x + 2, 1, &told.join(&between), role);
        let pair = chances.at(self.spot).and_then(|at| chances.pair(at));
        let (mut long, mut short) = (Vec::new(), Vec::new());
        if let Some(pair) = pair.filter(|pair| pair.is_told) {
            let share = said::percent(pair.chance.p);
            let ends = said::ends(&pair.chance, glyphs);
            long.push(format!("a new seedling would be kept: {share} ({ends})"));
            short.push(format!("would be kept: {share} ({ends})"));
        }
        let made = pair.and_then(|pair| chances.record.closeness.get(pair.made?));
        let near = made.copied().or_else(|| self.near.at(self.spot)).filter(|&near| near > 0.0);
        if let Some(near) = near {
            long.push(words::closeness(near));
            short.push(format!("{} of full sibs", words::whole_percent(near)));
        }
        if let Some(best) = pair.and_then(|pair| pair.best) {
            long.push(format!("the best: {}", words::whole_percent(best)));
            short.push(format!("best: {}", words::whole_percent(best)));
        }
        let seasons = square.map_or(&[][..], |square| &square.seasons);
        let seasons: Vec<String> = seasons.iter().map(ToString::to_string).collect();
        if !seasons.is_empty() {
            long.push(format!("made {}", seasons.join(", ")));
        }
        let room = usize::from(window.area().width.saturating_sub(2));
        window.say(1, 2, &said::fitting([long, short].map(|t| t.join(&between)), room), Role::Text);
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

/// What a parent passes on with its range, in whole percent and as little room as will do.
fn merit(parent: &Parent, to: &str) -> String {
    parent.merit.map_or_else(String::new, |merit| {
        let [p, low, high] = [merit.p, merit.low, merit.high].map(|share| share * 100.0);
        format!("{p:.0} {low:.0}{to}{high:.0}")
    })
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

/// A square of the grid as it is drawn.
struct Seen<'a> {
    /// What was made in this direction.
    square: Option<&'a Square>,
    /// The pair, in either direction or never made.
    pair: Option<Pair<'a>>,
    scale: Scale,
}

impl Seen<'_> {
    /// Shaded by the chance, with what was counted in this direction.
    fn draw(&self, window: &mut Canvas<'_>, (x, y): (u16, u16), grid: &Grid, around: &Around<'_>) {
        let glyphs = around.glyphs();
        let is_made = self.pair.is_some_and(|pair| pair.made.is_some());
        let told = self.pair.filter(|pair| pair.is_told);
        let against = told.map_or(Against::Alike, |pair| grid.against(&pair.chance));
        let (role, sign) = match against {
            Against::More => (Role::Good, glyphs.rising),
            Against::Alike if self.square.is_some() => (Role::Text, ""),
            Against::Alike => (Role::Quiet, ""),
            Against::Fewer => (Role::Quiet, glyphs.falling),
        };
        let style = around.theme.style(role);
        if let Some(pair) = told {
            window.fill(x, y, SHADE, glyphs.shades[shade(pair.chance.p, self.scale)], style);
        }
        let words = match self.square.map(|square| square.counts) {
            Some(counts) if counts.judged > 0 => {
                format!("{}/{}{sign}", counts.kept, counts.judged)
            }
            Some(_) => format!("made{sign}"),
            None if is_made => "turned".to_owned(),
            None => format!("{}{sign}", glyphs.dot),
        };
        let from = if told.is_some() { x + SHADE + 1 } else { x };
        window.put(from, y, usize::from(CELL - SHADE - 1), &words, style);
    }

    /// Shaded by how inbred offspring would be.
    fn draw_kin(
        &self,
        window: &mut Canvas<'_>,
        (x, y): (u16, u16),
        near: Option<f64>,
        around: &Around<'_>,
    ) {
        let glyphs = around.glyphs();
        let is_made = self.pair.is_some_and(|pair| pair.made.is_some());
        let role = if is_made { Role::Text } else { Role::Quiet };
        let style = around.theme.style(role);
        let Some(near) = near else {
            window.put(x + SHADE + 3, y, usize::from(CELL - SHADE - 3), glyphs.unknown, style);
            return;
        };
        if near > 0.0 {
            let shade = glyphs.shades[shade(near, FULL_SIBS)];
            window.fill(x, y, SHADE, shade, style);
        }
        let never = if is_made { "" } else { glyphs.dot };
        let words = format!("{:>3.0} {never}", near * 100.0);
        window.put(x + SHADE + 1, y, usize::from(CELL - SHADE - 1), &words, style);
    }
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
    let x = shades(window, scale, glyphs);
    let mean = grid.mean.map(|mean| {
        let (more, fewer) = (glyphs.rising, glyphs.falling);
        format!("{more} above, {fewer} below {} beyond chance", said::percent(mean))
    });
    meanings(window, x, mean.into_iter().chain([format!("{} never made", glyphs.dot)]));
}

fn legend_of_kin(window: &mut Canvas<'_>, glyphs: &Glyphs) {
    let x = shades(window, FULL_SIBS, glyphs);
    let of = "as inbred as offspring of full sibs".to_owned();
    meanings(window, x - 1, [of, format!("{} never made", glyphs.dot)]);
}

fn shades(window: &mut Canvas<'_>, scale: Scale, glyphs: &Glyphs) -> u16 {
    [0.25, 0.5, 1.0].iter().fold(1, |x, part| {
        let share = scale.to * part;
        let sign = glyphs.shades[shade(share, scale)];
        let x = window.say(x, 0, &format!("{sign}{sign} "), Role::Text);
        window.say(x, 0, &said::percent(share), Role::Quiet) + 2
    })
}

fn meanings(window: &mut Canvas<'_>, mut x: u16, all: impl IntoIterator<Item = String>) {
    for meaning in all {
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
