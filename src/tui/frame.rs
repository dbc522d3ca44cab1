//! What is around every page: the head with the screens, the line that says what is shown, and
//! the foot with what can be done.

use ratatui::layout::Rect;

use super::{
    action::{Action, Keymap, Snapshot},
    glyphs::Glyphs,
    place::Kind,
    said,
    theme::Role,
    widget::{Canvas, Target, text},
};

/// The least room in which a page can be read.
pub(super) const LEAST: (u16, u16) = (40, 8);

/// How the screen is divided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Parts {
    pub(super) head: Rect,
    pub(super) rule: Option<Rect>,
    pub(super) says: Rect,
    pub(super) body: Rect,
    pub(super) foot: Rect,
}

impl Parts {
    /// Divides a screen; `None` where it is too small.
    pub(super) fn of(area: Rect) -> Option<Self> {
        if area.width < LEAST.0 || area.height < LEAST.1 {
            return None;
        }
        let row = |y: u16| Rect { y: area.y + y, height: 1, ..area };
        let has_rule = area.height >= 14;
        let says = 1 + u16::from(has_rule);
        // A tall screen has room for air around the body.
        let air = u16::from(area.height >= 30);
        let top = says + 1 + air;
        let foot = area.height - 1;
        Some(Self {
            head: row(0),
            rule: has_rule.then(|| row(1)),
            says: row(says),
            body: Rect { y: area.y + top, height: foot - air - top, ..area },
            foot: row(foot),
        })
    }
}

/// What the head says.
#[derive(Debug)]
pub(super) struct Head<'a> {
    pub(super) garden: &'a str,
    /// Today, in full and in short.
    pub(super) today: [&'a str; 2],
    pub(super) kind: Kind,
}

/// Draws the head: whose book, the screens, today. What does not fit is left out from the
/// outside in.
pub(super) fn head(canvas: &mut Canvas<'_>, head: &Head<'_>, keys: &Keymap) {
    let wide = canvas.area().width;
    // Without a book there is no screen to go to.
    let screens = Kind::SCREENS.into_iter().filter(|_| head.kind != Kind::Welcome);
    let tabs: Vec<(Kind, String)> = screens
        .map(|kind| {
            let key = keys.keys(Action::Go(kind)).next().map(|key| key.to_string());
            (kind, format!("{} {}", key.unwrap_or_default(), kind.title()))
        })
        .collect();
    let tabs_wide: usize = tabs.iter().map(|(_, tab)| text::width(tab) + 2).sum();
    let tabs_wide = u16::try_from(tabs_wide).unwrap_or(u16::MAX).saturating_sub(2);
    let spare = wide.saturating_sub(tabs_wide + 6);
    let cells = |content: &str| u16::try_from(text::width(content)).unwrap_or(u16::MAX);
    let garden_wide = cells(head.garden);
    let fits = |today: &&&str| spare >= cells(today).saturating_add(garden_wide);
    let today = head.today.iter().find(fits);
    let mut x = 1;
    if spare >= 8 {
        let room = spare - today.map_or(0, |today| cells(today));
        let style = canvas.theme().style(Role::Strong);
        x = canvas.put(x, 0, usize::from(room), head.garden, style) + 3;
    }
    for (kind, tab) in tabs {
        let role = if kind == head.kind { Role::Accent } else { Role::Text };
        let from = x;
        x = canvas.say(from, 0, &tab, role);
        if kind == head.kind {
            canvas.tint(from, 0, x - from, canvas.theme().current());
        }
        let area = canvas.area();
        let at = Rect::new(area.x + from, area.y, x - from, 1);
        canvas.hit(at, Target::Do(Action::Go(kind)));
        x += 2;
    }
    if let Some(today) = today {
        canvas.say_right(wide - 1, 0, today, Role::Quiet);
    }
}

/// Draws the rule under the head, and on it what stands in the way of writing, if anything, and
/// the way that led here.
pub(super) fn rule(canvas: &mut Canvas<'_>, trail: &[String], notice: Option<&str>) {
    let wide = canvas.area().width.saturating_sub(2);
    let glyphs = canvas.theme().glyphs();
    let style = canvas.theme().style(Role::Quiet);
    canvas.fill(1, 0, wide, glyphs.rule, style);
    if let Some(notice) = notice {
        let room = usize::from(wide.saturating_sub(4));
        let notice = text::cut(notice, room, glyphs.ellipsis);
        let style = canvas.theme().style(Role::Warn);
        canvas.put(3, 0, room + 2, &format!(" {notice} "), style);
    } else if trail.len() > 1 {
        let way = way(trail, usize::from(wide.saturating_sub(8)), glyphs);
        canvas.say_right(wide - 1, 0, &format!(" {way} "), Role::Quiet);
    }
}

/// The way in at most `room` cells: of a long one the last steps, each whole.
fn way(trail: &[String], room: usize, glyphs: &Glyphs) -> String {
    let between = format!(" {} ", glyphs.step);
    let whole = trail.join(&between);
    if text::width(&whole) <= room {
        return whole;
    }
    let shorter = (1..trail.len())
        .map(|n| format!("{}{between}{}", glyphs.ellipsis, trail[n..].join(&between)));
    said::fitting(shorter, room)
}

/// Draws the line that says what is shown.
pub(super) fn says(canvas: &mut Canvas<'_>, content: &str) {
    let room = usize::from(canvas.area().width.saturating_sub(2));
    let style = canvas.theme().style(Role::Text);
    canvas.put(1, 0, room, content, style);
}

/// A key of the foot, with its words.
#[derive(Debug)]
struct Hint {
    key: String,
    words: &'static str,
    action: Action,
}

impl Hint {
    fn cells(&self) -> u16 {
        u16::try_from(text::width(&self.key) + 1 + text::width(self.words)).unwrap_or(u16::MAX)
    }
}

/// The keys of the foot, as many as there are.
fn hints(here: Snapshot, keys: &Keymap, ascii: bool) -> Vec<Hint> {
    let shown = keys.here(here).filter_map(|(key, row)| {
        let words = row.hint_for(&here);
        let mut key = key.short(ascii);
        if row.action == Action::SeasonBefore
            && let Some(after) = keys.keys(Action::SeasonAfter).next()
        {
            key = format!("{key} {}", after.short(ascii));
        }
        (!words.is_empty()).then_some(Hint { key, words, action: row.action })
    });
    shown.collect()
}

/// Draws the foot: the keys that do something here, closer together where they are many, and as
/// many as fit.
pub(super) fn foot(canvas: &mut Canvas<'_>, here: Snapshot, keys: &Keymap) {
    let ascii = canvas.theme().is_ascii();
    let wide = canvas.area().width;
    let mut hints = hints(here, keys, ascii);
    let all = |hints: &[Hint], gap: u16| {
        hints.iter().fold(2_u16, |sum, hint| sum.saturating_add(hint.cells() + gap)) - gap
    };
    let gap = if all(&hints, 3) <= wide { 3 } else { 2 };
    if all(&hints, gap) > wide {
        for hint in &mut hints {
            hint.words = shorter(hint.words);
        }
    }
    // Help leads to everything else, so it is never left out.
    let help = hints.iter().find(|hint| hint.action == Action::Help).map_or(0, Hint::cells);
    let mut x = 1;
    for hint in &hints {
        let reserve = if hint.action == Action::Help { 0 } else { help + gap };
        if x + hint.cells() + reserve + 1 > wide {
            continue;
        }
        let from = x;
        x = canvas.pieces(
            x,
            0,
            &[(&hint.key, Role::Strong), (" ", Role::Text), (hint.words, Role::Quiet)],
        );
        let area = canvas.area();
        canvas.hit(Rect::new(area.x + from, area.y, x - from, 1), Target::Do(hint.action));
        if hint.action == Action::SeasonBefore {
            let after = u16::try_from(text::width(&hint.key)).unwrap_or(u16::MAX) - 1;
            let at = Rect::new(area.x + from + after, area.y, 1, 1);
            canvas.hit(at, Target::Do(Action::SeasonAfter));
        }
        x += gap;
    }
}

/// The same in a shorter word, where there is one.
fn shorter(words: &'static str) -> &'static str {
    match words {
        "look closer" => "open",
        "next list" => "list",
        "came to nothing" => "nothing",
        "5 or more judged" => "judged",
        words => words,
    }
}

/// Says that there is not enough room, in as much of it as there is.
pub(super) fn too_small(canvas: &mut Canvas<'_>) {
    let (wide, high) = LEAST;
    let content = format!("trug needs more room: {wide} {} {high}", canvas.theme().glyphs().times);
    canvas.say(0, 0, &content, Role::Text);
}
