//! How the list of deeds and a form are drawn.

use ratatui::layout::Rect;

use super::{
    choosing::{ABOVE, Choosing},
    filling::Filling,
};
use crate::tui::{
    page::Around,
    said,
    theme::Role,
    widget::{Canvas, Target, text},
};

/// Cells for the name of a field.
const NAME: u16 = 12;

pub(super) fn choosing(choosing: &Choosing, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let x = canvas.say(1, 0, "write down ", Role::Quiet);
    let whole = canvas.area();
    let field =
        Rect { x: whole.x.saturating_add(x), width: whole.width.saturating_sub(x + 16), ..whole };
    choosing.field.draw(canvas, field);
    let n = said::many(choosing.shown.len(), "deed", "deeds");
    canvas.say_right(whole.width.saturating_sub(1), 0, &n, Role::Quiet);
    if choosing.shown.is_empty() {
        canvas.say(1, ABOVE, "No deed of it has these letters.", Role::Quiet);
    }
    let list = Rect {
        y: whole.y.saturating_add(ABOVE),
        height: whole.height.saturating_sub(ABOVE),
        ..whole
    };
    let mut canvas = canvas.within(list);
    let glyphs = around.glyphs();
    let name_room = usize::from((list.width / 3).clamp(12, 40));
    for (y, line) in (0..list.height).zip(choosing.listing.window(list.height)) {
        let row = choosing.listing.row_at(line).and_then(|row| choosing.shown.get(row));
        let Some(choice) = row.and_then(|n| choosing.all.get(*n)) else { continue };
        let name = text::cut(&choice.name, name_room, glyphs.ellipsis);
        canvas.say(2, y, &name, Role::Quiet);
        let x = u16::try_from(name_room).unwrap_or_default() + 4;
        canvas.say(x, y, choice.form.word, Role::Strong);
        let says_room = usize::from(list.width.saturating_sub(x + 14));
        let says = text::cut(choice.form.says, says_room, glyphs.ellipsis);
        canvas.say(x + 13, y, &says, Role::Text);
        if line == choosing.listing.line() {
            canvas.tint(0, y, list.width, around.theme.selected());
        }
        let area = canvas.area();
        let at = Rect { y: area.y + y, height: 1, ..area };
        canvas.hit(at, Target::Line { list: 0, line });
    }
}

pub(super) fn filling(filling: &Filling, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let whole = canvas.area();
    let glyphs = around.glyphs();
    let room = usize::from(whole.width.saturating_sub(4));
    let notes = notes(filling, room, glyphs.ellipsis);
    let high = usize::from(whole.height);
    // What there is to say stands below the lines, and the line being typed stays in view.
    let n_lines = filling.entries.len().min(high.saturating_sub(notes.len() + 1).max(1));
    let top = (filling.at + 1).saturating_sub(n_lines);
    let is_wide = whole.width >= 100;
    let field_wide = if is_wide { 40 } else { 22 };
    for (y, (i, entry)) in
        (0..whole.height).zip(filling.entries.iter().enumerate().skip(top).take(n_lines))
    {
        let is_here = i == filling.at;
        let role = if is_here { Role::Strong } else { Role::Quiet };
        canvas.say(2, y, entry.name(), role);
        let area = Rect {
            x: whole.x + NAME + 3,
            y: whole.y + y,
            width: field_wide.min(whole.width.saturating_sub(NAME + 3)),
            height: 1,
        };
        if is_here {
            entry.line.draw(canvas, area);
        } else {
            let content = entry.line.content();
            let content = text::cut(&content, area.width.into(), glyphs.ellipsis);
            canvas.say(NAME + 3, y, &content, Role::Text);
        }
        let x = NAME + 3 + field_wide + 2;
        let says_room = usize::from(whole.width.saturating_sub(x + 1));
        let is_needed = entry.field.is_some_and(|field| field.is_needed);
        let says = format!("{}{}", if is_needed { "needed: " } else { "" }, entry.says());
        canvas.say(x, y, &text::cut(&says, says_room, glyphs.ellipsis), Role::Quiet);
        let line = Rect { x: whole.x, width: whole.width, ..area };
        canvas.hit(line, Target::Line { list: 0, line: i });
    }
    let below = u16::try_from(n_lines + 1).unwrap_or(u16::MAX);
    for (y, (line, role)) in (below..whole.height).zip(notes) {
        canvas.say(2, y, &line, role);
    }
}

/// What stands below the lines: what is wrong, the words that are offered, the cautions.
fn notes(filling: &Filling, room: usize, ellipsis: &str) -> Vec<(String, Role)> {
    let mut all = Vec::new();
    if let Some((at, message, hint)) = &filling.wrong {
        let name = filling.entries[*at].name();
        let lines = text::wrap(&format!("{name}: {message}"), room, ellipsis);
        all.extend(lines.into_iter().map(|line| (line, Role::Strong)));
        all.extend(text::wrap(hint, room, ellipsis).into_iter().map(|line| (line, Role::Text)));
        all.push((String::new(), Role::Text));
    }
    let here = &filling.entries[filling.at];
    if here.says().len() + usize::from(NAME) + 27 > room {
        let says = text::wrap(here.says(), room, ellipsis);
        all.extend(says.into_iter().map(|line| (line, Role::Text)));
    }
    let offers = here.offers();
    if !offers.is_empty() {
        let mut lines = text::wrap(&offers.join("  "), room, ellipsis);
        lines.truncate(3);
        all.extend(lines.into_iter().map(|line| (line, Role::Text)));
        all.push((String::new(), Role::Text));
    }
    for caution in &filling.cautions {
        let lines = text::wrap(caution, room, ellipsis);
        all.extend(lines.into_iter().map(|line| (line, Role::Quiet)));
    }
    all
}
