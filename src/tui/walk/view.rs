//! How a walk is drawn: who it is, the figures of today beside those of its kin, and the verdicts
//! in words that can be read in the sun.

use ratatui::{layout::Rect, style::Modifier};

use super::{VERDICTS, Walk, draft, is_seedling};
use crate::book::{PlantRecord, Verdict, When};
use crate::tui::{
    action::{Action, ROWS},
    page::Around,
    plants, said,
    theme::Role,
    widget::{Canvas, Target, section, swatch, text},
};
use crate::views::{Beside, Desk, plant, words};

/// Cells for the name of a figure and for what is typed.
const NAME: u16 = 12;
const TODAY: u16 = 9;
/// Cells of a column beside it.
const COLUMN: u16 = 9;

pub(super) fn draw(walk: &Walk, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let area = canvas.area();
    let head = section::above(area, 2);
    who(walk, &mut canvas.within(head), around);
    let high = if area.height >= 26 { 3 } else { 1 };
    let rest = section::below(area, 3);
    let buttons = high + u16::from(area.height >= 22);
    let table = section::above(rest, rest.height.saturating_sub(buttons));
    let beside = NAME + TODAY + 4 * COLUMN + 1;
    let (left, right) = if area.width >= beside + 20 {
        section::beside(table, beside, 2)
    } else {
        section::beside(table, table.width, 0)
    };
    figures(walk, &mut canvas.within(left), around);
    said_of_it(walk, &mut canvas.within(right), around);
    let y = area.bottom().saturating_sub(high);
    verdicts(walk, &mut canvas.within(Rect { y, height: high, ..area }), around);
}

/// The plant, how it stands, where, and what it came from.
fn who(walk: &Walk, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let desk = around.desk;
    let wide = canvas.area().width;
    let state = desk.brief(walk.plant).state;
    let name = words::plant(desk.book(), walk.plant);
    let x = canvas.say(1, 0, &name, Role::Accent);
    let facts = plant::facts(desk, walk.plant);
    let stands = match &facts.verdict {
        Some((is, on, why)) => {
            let why = why.as_ref().map_or_else(String::new, |why| format!(": {why}"));
            format!("{} {}{why}", words::verdict(*is), said::day(*on, desk.season()))
        }
        None => words::state(state).to_owned(),
    };
    let place = facts.position.map(|position| position.to_string()).unwrap_or_default();
    let room = usize::from(wide.saturating_sub(x + 6)).saturating_sub(text::width(&place));
    let style = canvas.theme().style(plants::role(state));
    canvas.put(x + 3, 0, room, &stands, style);
    canvas.say_right(wide.saturating_sub(1), 0, &place, Role::Strong);
    let from = match desk.book().plant(walk.plant) {
        PlantRecord::Seedling(cross, _) => {
            let id = desk.book().cross_of(walk.plant);
            let pair = id.map(|id| said::cross(desk, id, around.glyphs())).unwrap_or_default();
            format!("{pair}, cross {}", cross.code)
        }
        PlantRecord::Variety(_) => "a variety".to_owned(),
    };
    let bloom = match (desk.brief(walk.plant).first_bloom, desk.brief(walk.plant).planted) {
        (Some(on), _) => format!("opened {}", said::day(on, desk.season())),
        (None, Some(on)) if is_seedling(walk.plant, around) => {
            format!("not seen in bloom, planted {}", said::day(on, desk.season()))
        }
        (None, _) => String::new(),
    };
    let bloom_wide = u16::try_from(text::width(&bloom)).unwrap_or(u16::MAX);
    let room = usize::from(wide.saturating_sub(bloom_wide.saturating_add(4)));
    let style = canvas.theme().style(Role::Text);
    canvas.put(1, 1, room, &from, style);
    canvas.say_right(wide.saturating_sub(1), 1, &bloom, Role::Quiet);
}

/// Gives the figure of a measure.
type Figure<'a> = Box<dyn Fn(&str) -> Option<f64> + 'a>;

/// One column of figures beside those of today.
struct Column<'a> {
    head: String,
    value: Figure<'a>,
}

fn columns<'a>(beside: &'a Beside, desk: &'a Desk) -> Vec<Column<'a>> {
    let mut all = Vec::new();
    if let Some((on, look)) = &beside.before {
        let value = |name: &str| match name {
            crate::views::sibs::BLOOM_MM => look.bloom_mm,
            crate::views::sibs::HEIGHT_CM => look.height_cm,
            of => look.scores.iter().find(|(name, _)| **name == *of).map(|(_, score)| *score),
        };
        all.push(Column { head: on.season().to_string(), value: Box::new(value) });
    }
    all.push(Column { head: "sibs".to_owned(), value: Box::new(|name| beside.sibs.get(name)) });
    for parent in [&beside.seed, &beside.pollen].into_iter().flatten() {
        let head = desk.label(parent.plant).to_owned();
        all.push(Column { head, value: Box::new(|name| parent.measures.get(name)) });
    }
    all
}

/// The figures of today, and beside each what is known of its kin.
fn figures(walk: &Walk, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let area = canvas.area();
    let today = words::day(When::day(around.desk.today()));
    canvas.say(1, 0, "today", Role::Accent);
    canvas.say(8, 0, &today, Role::Quiet);
    let beside = walk.beside.here().filter(|beside| beside.plant == walk.plant);
    let columns = beside.map(|beside| columns(beside, around.desk)).unwrap_or_default();
    let ellipsis = around.glyphs().ellipsis;
    let right = |n: usize| NAME + TODAY + (u16::try_from(n).unwrap_or(u16::MAX) + 1) * COLUMN;
    for (n, column) in columns.iter().enumerate() {
        if right(n) <= area.width {
            let head = text::cut(&column.head, usize::from(COLUMN - 1), ellipsis);
            canvas.say_right(right(n), 0, &head, Role::Quiet);
        }
    }
    let rows = usize::from(area.height.saturating_sub(1));
    let fields = &walk.draft.fields;
    let top = (walk.draft.at + 1).saturating_sub(rows).min(fields.len().saturating_sub(rows));
    for (i, field) in fields.iter().enumerate().skip(top).take(rows) {
        let y = u16::try_from(i - top).unwrap_or(u16::MAX).saturating_add(1);
        let is_at = i == walk.draft.at;
        let role = if is_at { Role::Strong } else { Role::Text };
        canvas.say(1, y, &text::cut(&field.name, usize::from(NAME - 2), ellipsis), role);
        let typed = if field.typed.is_empty() { around.glyphs().unknown } else { &field.typed };
        let figure = format!("{typed:>5} {:<2}", field.unit);
        let role = if field.typed.is_empty() { Role::Quiet } else { Role::Strong };
        canvas.say(NAME, y, &figure, role);
        if is_at {
            canvas.tint(NAME, y, 8, around.theme.selected());
        }
        for (n, column) in columns.iter().enumerate() {
            let value = (column.value)(draft::measure(field));
            let said = value.map(|value| {
                if field.unit.is_empty() { said::score(value) } else { format!("{value:.0}") }
            });
            if let Some(said) = said.filter(|_| right(n) <= area.width) {
                canvas.say_right(right(n), y, &said, Role::Text);
            }
        }
        let at = Rect::new(area.x, area.y + y, NAME + TODAY, 1);
        canvas.hit(at, Target::Line { list: 0, line: i });
    }
}

/// What is said of it today in words, and what it has before it.
fn said_of_it(walk: &Walk, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let area = canvas.area();
    let look = walk.draft.look();
    let glyphs = around.glyphs();
    let room = usize::from(area.width.saturating_sub(2));
    let mut y = 0;
    if !look.colours.is_empty() {
        let crop = around.desk.book().crop();
        swatch::with_words(canvas, (1, y), room, &look.colours, crop);
        y += 1;
    }
    y = parents(walk, canvas, y, around);
    let note = look.note.as_ref().map(|note| format!("note: {note}"));
    let photo = look.photo.as_ref().map(|path| format!("picture {path}"));
    let faults = (!look.faults.is_empty()).then(|| format!("faults: {}", look.faults.join(", ")));
    let today = [faults, note, photo].into_iter().flatten().map(|line| (line, Role::Text));
    let mut lines: Vec<(String, Role)> = today.collect();
    if let Some(beside) = walk.beside.here().filter(|beside| beside.plant == walk.plant) {
        if let Some(outlook) = &beside.outlook {
            lines.push((said::with_ends(&words::outlook(outlook), glyphs), Role::Text));
        }
        if let Some((is, on)) = beside.word_before {
            lines.push((format!("{} {}", words::verdict(is), words::day(on)), Role::Text));
        }
        if let Some((_, look)) = &beside.before {
            lines.push((format!("before: {}", words::look(look)), Role::Quiet));
        }
        let counts = beside.counts;
        if counts.judged > 0 {
            lines.push((
                format!("sibs: kept {}", said::of(counts.kept, counts.judged)),
                Role::Quiet,
            ));
        }
    }
    for (line, role) in lines {
        for line in text::wrap(&line, room, glyphs.ellipsis) {
            canvas.say(1, y, &line, role);
            y += 1;
        }
    }
}

/// The colours of its parents. Returns the row after them.
fn parents(walk: &Walk, canvas: &mut Canvas<'_>, mut y: u16, around: &Around<'_>) -> u16 {
    let Some(beside) = walk.beside.here().filter(|beside| beside.plant == walk.plant) else {
        return y;
    };
    let (desk, wide) = (around.desk, canvas.area().width);
    for parent in [&beside.seed, &beside.pollen].into_iter().flatten() {
        let colours = plant::colours(desk, parent.plant);
        if !colours.is_empty() {
            let room = usize::from(wide / 2).saturating_sub(1);
            let style = canvas.theme().style(Role::Quiet);
            let x = canvas.put(1, y, room, desk.label(parent.plant), style) + 1;
            let room = usize::from(wide.saturating_sub(x + 1));
            swatch::with_words(canvas, (x, y), room, colours, desk.book().crop());
            y += 1;
        }
    }
    y
}

/// The keys that say most, in large.
fn verdicts(walk: &Walk, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let area = canvas.area();
    let standing = around.desk.brief(walk.plant).verdict;
    let words = VERDICTS.map(|is| (Action::Verdict(is), word(is), role(is), Some(is)));
    let others = [
        (Action::Lose, "LOST", Role::Text, None),
        (Action::FirstBloom, "IN BLOOM", Role::Text, None),
        (Action::InBud, "IN BUD", Role::Text, None),
    ];
    let wide = (area.width.saturating_sub(1) / 6).min(18);
    let mid = area.height / 2;
    for (n, (action, word, role, is)) in words.into_iter().chain(others).enumerate() {
        let x = u16::try_from(n).unwrap_or_default() * wide + 1;
        let room = wide.saturating_sub(1);
        let style = around.theme.style(role).add_modifier(Modifier::REVERSED | Modifier::BOLD);
        let mark = if is.is_some() && is == standing { around.glyphs().estimate } else { "" };
        let label = format!(" {} {word} {mark}", key(action));
        for y in 0..area.height {
            canvas.fill(x, y, room, " ", style);
        }
        canvas.put(x, mid, usize::from(room), &label, style);
        let at = Rect::new(area.x + x, area.y, room, area.height);
        canvas.hit(at, Target::Do(action));
    }
}

/// The first key of an action, as the table has it.
fn key(action: Action) -> &'static str {
    let row = ROWS.iter().find(|row| row.action == action);
    row.and_then(|row| row.keys.first()).copied().unwrap_or_default()
}

fn word(is: Verdict) -> &'static str {
    match is {
        Verdict::Keep => "KEEP",
        Verdict::Hold => "HOLD",
        Verdict::Discard => "DISCARD",
    }
}

fn role(is: Verdict) -> Role {
    match is {
        Verdict::Keep => Role::Good,
        Verdict::Hold => Role::Warn,
        Verdict::Discard => Role::Bad,
    }
}
