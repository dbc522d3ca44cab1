//! What is known of the plant under the cursor, in a few lines.

use ratatui::layout::Rect;

use crate::book::{By, PlantId, Season, State};
use crate::tui::{
    page::Around,
    said,
    theme::Role,
    widget::{Canvas, swatch, text},
};
use crate::views::{Levels, first_bloom, plant, sibs, words};

use super::{
    ground::Spot,
    signs,
    stood::{Stood, Who},
};

/// What is known, ready to be drawn.
#[derive(Debug, Default)]
pub(super) struct Known {
    /// The plant, and how it stood in the season.
    pub(super) plant: Option<(PlantId, State)>,
    title: String,
    /// How it stands or stood, in words.
    stands: String,
    /// Where.
    place: String,
    facts: Vec<Fact>,
}

#[derive(Debug)]
struct Fact {
    text: String,
    role: Role,
    /// The colour word whose swatch stands before it.
    bloom: Option<Box<str>>,
}

impl Fact {
    fn plain(text: impl Into<String>) -> Self {
        Self { text: text.into(), role: Role::Text, bloom: None }
    }

    fn quiet(text: impl Into<String>) -> Self {
        Self { text: text.into(), role: Role::Quiet, bloom: None }
    }
}

impl Known {
    /// Gathers it.
    pub(super) fn of(stood: &Stood, spot: Spot, across: usize, around: &Around<'_>) -> Self {
        let who = stood.who(spot, across);
        let place = match who {
            Who::In(bed, _) => format!("{bed}/{}/{}", spot.row + 1, spot.place + 1),
            Who::Elsewhere(..) => "place not known".to_owned(),
            Who::Nobody => return Self::default(),
        };
        let Some((id, state)) = who.plant() else {
            let facts = vec![Fact::quiet("Nothing was planted here.")];
            return Self { title: place, facts, ..Self::default() };
        };
        let desk = around.desk;
        let facts = facts(id, who, around);
        let title = words::plant(desk.book(), id).into_owned();
        let stands = stands(id, state, stood.beds.season, around);
        Self { plant: Some((id, state)), title, stands, place, facts }
    }

    /// Draws it into an area: high and narrow, or low and wide.
    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, area: Rect, around: &Around<'_>) {
        let mut window = canvas.within(area);
        let (wide, high) = (window.area().width, window.area().height);
        let mut x = window.say(1, 0, &self.title, Role::Strong);
        if let Some((_, state)) = self.plant {
            let sign = signs::sign(state, around.glyphs());
            x = window.say(x + 2, 0, sign, signs::role(state));
            x = window.say(x + 1, 0, &self.stands, Role::Text);
        }
        let room = usize::from(wide.saturating_sub(x + 3));
        let has_place = self.plant.is_some() && text::width(&self.place) <= room;
        if has_place {
            window.say_right(wide.saturating_sub(1), 0, &self.place, Role::Quiet);
        }
        let mut y = 1;
        if self.plant.is_some() && !has_place {
            window.say(1, y, &self.place, Role::Quiet);
            y += 1;
        }
        // Low and wide, every fact has one line; high and narrow, they have air between.
        let is_side = high > 8;
        y += u16::from(is_side);
        let crop = around.desk.book().crop();
        for fact in &self.facts {
            let mut x = 1;
            if fact.bloom.is_some() && y < high {
                x = swatch::draw(&mut window, x, y, fact.bloom.as_deref(), crop);
            }
            let room = usize::from(wide.saturating_sub(x + 1));
            if is_side {
                for line in text::wrap(&fact.text, room, around.glyphs().ellipsis) {
                    window.say(x, y, &line, fact.role);
                    y += 1;
                }
            } else {
                window.put(x, y, room, &fact.text, around.theme.style(fact.role));
                y += 1;
            }
        }
    }
}

/// How a plant stood at the end of the season and, where that is another thing, stands now.
fn stands(id: PlantId, state: State, season: Season, around: &Around<'_>) -> String {
    let brief = around.desk.brief(id);
    let then = signs::word(state);
    if brief.state != state {
        return format!("{then} in {season}, {} now", signs::word(brief.state));
    }
    match brief.stage {
        Some(keeper) if state == State::Kept => words::stage(keeper).to_owned(),
        _ => then.to_owned(),
    }
}

fn facts(id: PlantId, who: Who<'_>, around: &Around<'_>) -> Vec<Fact> {
    let desk = around.desk;
    let known = plant::facts(desk, id);
    let day = |on| said::day(on, around.season);
    let mut facts = vec![Fact::plain(parents(id, around))];
    let mut bloom = Vec::new();
    if !known.colours.is_empty() {
        bloom.push(known.colours.join(" and "));
    }
    bloom.extend(known.group.as_deref().map(str::to_owned));
    if let Some(mm) = known.measures.get(sibs::BLOOM_MM) {
        let size = known.size.as_deref().map(|size| format!(" ({size})")).unwrap_or_default();
        bloom.push(format!("{mm:.0} mm{size}"));
    }
    if let Some(cm) = known.measures.get(sibs::HEIGHT_CM) {
        bloom.push(format!("{cm:.0} cm tall"));
    }
    if !bloom.is_empty() {
        let text = bloom.join(", ");
        facts.push(Fact { text, role: Role::Text, bloom: known.colours.first().cloned() });
    }
    facts.push(match &known.verdict {
        Some((verdict, on, Some(why))) => {
            Fact::plain(format!("{} {}: {why}", words::verdict(*verdict), day(*on)))
        }
        Some((verdict, on, None)) => {
            Fact::plain(format!("{} {}", words::verdict(*verdict), day(*on)))
        }
        None => Fact::quiet("no word on it yet"),
    });
    let outlook = first_bloom::outlook(desk, id, Levels::default());
    let outlook =
        outlook.map(|outlook| said::with_ends(&words::outlook(&outlook), around.glyphs()));
    facts.extend(outlook.map(Fact::plain));
    let mut when = Vec::new();
    when.extend(known.first_bloom.map(|on| format!("opened {}", day(on))));
    when.extend(known.planted.map(|on| format!("planted {}", day(on))));
    if let Some((on, why)) = plant::lost(desk, id) {
        when.insert(0, format!("lost {}: {why}", day(on)));
    }
    facts.push(Fact::quiet(when.join(", ")));
    if let Some(look) = plant::last_look(desk, id) {
        facts.push(Fact::quiet(format!("looked at {}: {}", day(look.on), look.text)));
    }
    if let Who::In(_, cells) = who {
        let others = cells.iter().filter(|cell| cell.plant != id);
        let others: Vec<String> =
            others.map(|c| format!("{} ({})", desk.label(c.plant), signs::word(c.state))).collect();
        if !others.is_empty() {
            let at = facts.len().min(2);
            let text = format!("given the same place: {}", others.join(", "));
            facts.insert(at, Fact { text, role: Role::Strong, bloom: None });
        }
    }
    facts
}

/// The parents of a plant.
pub(super) fn parents(id: PlantId, around: &Around<'_>) -> String {
    if let Some(cross) = around.desk.book().cross_of(id) {
        return said::cross(around.desk, cross, around.glyphs());
    }
    let (seed, pollen) = around.desk.parents(id);
    said::pair(around.desk, (&seed, &pollen), By::Hand, around.glyphs())
}
