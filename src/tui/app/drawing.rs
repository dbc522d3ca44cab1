//! How the screen as a whole is drawn: the frame, the page, and what lies on top.

use ratatui::buffer::Buffer;

use super::App;
use crate::book::When;
use crate::tui::{
    frame::{self, Parts},
    place::Kind,
    said,
    theme::Role,
    widget::Canvas,
};
use crate::views::words;

impl App {
    /// Draws everything into a buffer of the terminal's size.
    pub fn draw(&mut self, buffer: &mut Buffer) {
        if buffer.area != self.scene.area {
            self.scene.area = buffer.area;
            self.refresh();
        }
        let mut hits = std::mem::take(&mut self.hits);
        hits.clear();
        let mut canvas = Canvas::new(buffer, &mut hits, &self.scene.theme);
        match Parts::of(self.scene.area) {
            None => frame::too_small(&mut canvas),
            Some(parts) => self.draw_parts(&mut canvas, parts),
        }
        self.hits = hits;
    }

    pub(super) fn draw_parts(&self, canvas: &mut Canvas<'_>, parts: Parts) {
        let around = self.scene.around();
        let page = self.trail.top();
        let here = self.snapshot();
        let today = self.desk().today();
        let [full, short] = [said::today(today), words::day(When::day(today))];
        let garden: &str = match here.kind {
            Kind::Welcome => "trug",
            _ => &self.desk().book().about().garden,
        };
        let head = frame::Head { garden, today: [&full, &short], kind: here.kind };
        frame::head(&mut canvas.within(parts.head), &head, &self.keys);
        if let Some(rule) = parts.rule {
            let trail = self.trail.names(self.desk(), self.scene.theme.glyphs());
            let notice = self.notice();
            frame::rule(&mut canvas.within(rule), &trail, notice.as_deref());
        }
        let covered = self.covers.last().filter(|cover| cover.hides_page());
        let says =
            covered.map_or_else(|| page.says(&around), |cover| cover.says(page.place().kind()));
        // On a low screen there is no rule for it.
        let says = self.notice().filter(|_| parts.rule.is_none()).unwrap_or(says);
        frame::says(&mut canvas.within(parts.says), &says);
        let mut body = canvas.within(parts.body);
        match covered {
            Some(cover) => cover.view(&mut body, &around),
            None => page.view(&mut body, &around),
        }
        let mut foot = canvas.within(parts.foot);
        match (self.covers.last(), &self.said) {
            (Some(cover), _) if !cover.hides_page() => cover.view(&mut foot, &around),
            (_, Some(content)) => {
                foot.say(1, 0, content, Role::Strong);
            }
            _ => frame::foot(&mut foot, here, &self.keys),
        }
    }
}
