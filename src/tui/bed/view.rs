//! How the plan is drawn: only the lines and places that are seen.

use ratatui::layout::Rect;

use super::{
    Beds,
    ground::{Line, Spot},
    layout::{Cells, MARGIN},
    legend, signs,
    stood::{Stood, Who},
};
use crate::tui::{
    page::Around,
    said,
    theme::Role,
    widget::{Canvas, Target, section, swatch, text},
};
use crate::views::plant;

impl Beds {
    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let Some(stood) = self.coming.here() else {
            return section::instead(canvas, canvas.area(), self.coming.instead());
        };
        if stood.n_plants() == 0 && !self.ground.has_places() {
            return section::instead(canvas, canvas.area(), &nothing(around));
        }
        let layout = Self::layout(stood, around);
        let lines = legend::lines(stood, around.glyphs(), around.body.width);
        legend::draw(&mut canvas.within(layout.legend), &lines, self.choice);
        self.ruler(canvas, layout.ruler, stood, layout.plan.width);
        self.plan(canvas, layout.plan, stood, around);
        self.known.draw(canvas, layout.known, around);
    }

    /// The numbers of the places, above all beds: they stay put while one scrolls down.
    fn ruler(&self, canvas: &mut Canvas<'_>, area: Rect, stood: &Stood, plan_wide: u16) {
        let mut window = canvas.within(area);
        let cells = Self::cells(stood, plan_wide);
        let on_bed = stood.beds.plans.get(self.spot.part).is_some();
        let here = places(self.left, cells, stood.places)
            .find(|(_, place)| on_bed && *place == self.spot.place)
            .map(|(x, place)| (x, (place + 1).to_string()));
        let taken = here.as_ref().map(|(x, number)| (*x, end(*x, number)));
        let mut free = 0;
        for (x, place) in places(self.left, cells, stood.places) {
            let number = (place + 1).to_string();
            let to = end(x, &number);
            let is_round = place == 0 || (place + 1).is_multiple_of(5);
            let is_clear = taken.is_none_or(|(from, end)| to < from || x > end);
            if x >= free && is_clear && (cells.wide >= 3 || is_round) {
                window.say(x, 0, &number, Role::Quiet);
                free = to + 1;
            }
        }
        if let Some((x, number)) = here {
            window.say(x, 0, &number, Role::Strong);
        }
    }

    fn plan(&self, canvas: &mut Canvas<'_>, area: Rect, stood: &Stood, around: &Around<'_>) {
        let mut window = canvas.within(area);
        for y in 0..area.height {
            let line = self.top + usize::from(y);
            if line >= self.ground.n_lines() {
                break;
            }
            match self.ground.at(line) {
                // The heading of the first bed in view stays in view.
                Line::Row(part, _) if y == 0 && area.height > 2 => {
                    heading(&mut window, y, stood, part);
                }
                Line::Heading(part) => heading(&mut window, y, stood, part),
                Line::Row(part, row) => self.row(&mut window, y, (part, row), stood, around),
                Line::Blank(_) => {}
            }
        }
    }

    fn row(
        &self,
        window: &mut Canvas<'_>,
        y: u16,
        (part, row): (usize, usize),
        stood: &Stood,
        around: &Around<'_>,
    ) {
        let wide = window.area().width;
        let across = Self::across(stood, wide);
        let is_bed = part < stood.beds.plans.len();
        let (cells, left, n) = if let Some(plan) = stood.beds.plans.get(part) {
            let here = (part, row) == (self.spot.part, self.spot.row);
            let role = if here { Role::Strong } else { Role::Quiet };
            window.say_right(MARGIN - 2, y, &(row + 1).to_string(), role);
            (Self::cells(stood, wide), self.left, usize::from(plan.places))
        } else {
            let slot = Self::slot(stood);
            (Cells { wide: slot, has_bloom: false, label: stood.label, n: across }, 0, across)
        };
        for (x, place) in places(left, cells, n) {
            let spot = Spot { part, row, place };
            let who = stood.who(spot, across);
            if !is_bed && who.plant().is_none() {
                continue;
            }
            self.cell(window, (x, y), who, cells, around);
            let inked = cells.inked();
            if spot == self.spot {
                let from = x.saturating_sub(1);
                let selected = around.theme.selected();
                window.tint(from, y, (inked + 2).min(wide.saturating_sub(from)), selected);
            }
            let at = window.area();
            let at = Rect::new(at.x + x, at.y + y, cells.wide, 1);
            window.hit(at, Target::Line { list: 0, line: self.ground.number(spot) });
        }
    }

    fn cell(
        &self,
        window: &mut Canvas<'_>,
        (x, y): (u16, u16),
        who: Who<'_>,
        cells: Cells,
        around: &Around<'_>,
    ) {
        let glyphs = around.glyphs();
        let Some((id, state)) = who.plant() else {
            window.say(x, y, glyphs.plants.empty, Role::Quiet);
            return;
        };
        let is_bright = self.is_bright(id, state, around);
        let role = |usual| if is_bright { usual } else { Role::Quiet };
        match who.n_standing() {
            0 | 1 => window.say(x, y, signs::sign(state, glyphs), role(signs::role(state))),
            // Two cannot stand in one place: the record is to be put right.
            n => window.say(x, y, &n.min(9).to_string(), role(Role::Bad)),
        };
        let mut x = x + 1;
        let stands = who.n_standing() > 0;
        if cells.has_bloom && is_bright && stands {
            let colour = plant::colours(around.desk, id).first().map(AsRef::as_ref);
            swatch::draw(window, x, y, colour, around.desk.book().crop());
        }
        x += 1 + u16::from(cells.has_bloom);
        if cells.label > 0 {
            let style = around.theme.style(role(if stands { Role::Text } else { Role::Quiet }));
            window.put(x, y, usize::from(cells.label), around.desk.label(id), style);
        }
    }
}

/// The column after a number.
fn end(x: u16, number: &str) -> u16 {
    x.saturating_add(u16::try_from(number.len()).unwrap_or(u16::MAX))
}

/// The places of a row that are seen, each with its column.
fn places(left: usize, cells: Cells, n: usize) -> impl Iterator<Item = (u16, usize)> {
    let columns = (0..).map(move |i: u16| MARGIN.saturating_add(i.saturating_mul(cells.wide)));
    columns.zip(left..n.min(left.saturating_add(cells.n)))
}

fn heading(window: &mut Canvas<'_>, y: u16, stood: &Stood, part: usize) {
    let count = stood.counts.get(part).copied().unwrap_or_default();
    let plants = said::many(count.plants, "plant", "plants");
    let keepers = said::many(count.keepers, "keeper", "keepers");
    let (name, note) = match stood.beds.plans.get(part) {
        Some(plan) => {
            let rows = said::many(plan.rows.into(), "row", "rows");
            (format!("bed {}", plan.bed), format!("{rows} of {}, {plants}, {keepers}", plan.places))
        }
        None => ("place not known".to_owned(), format!("{plants}, {keepers}")),
    };
    let wide = window.area().width;
    let style = window.theme().style(Role::Accent);
    let x = window.put(1, y, usize::from(wide.saturating_sub(2)), &name, style);
    if text::width(&note) <= usize::from(wide.saturating_sub(x + 3)) {
        window.say(x + 2, y, &note, Role::Quiet);
    }
}

/// What to say, and to do, where there is nothing to show.
fn nothing(around: &Around<'_>) -> String {
    let planted = around.desk.seasons().into_iter().rfind(|s| *s < around.season);
    if planted.is_some() {
        format!(
            "No plant was put in a bed in {}. An earlier season may have had some.",
            around.season
        )
    } else {
        "This book has no planted seedlings yet. `trug import` brings in a spreadsheet with a column \
         `position`, such as A/3/12."
            .to_owned()
    }
}
