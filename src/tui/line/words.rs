//! What is written in a cell of the picture, on a rail, and below it all.

use ratatui::style::Style;

use crate::book::{By, PlantId, PlantRecord, State};
use crate::lineage::{
    FamilyId,
    draw::{Cell, Mark, Picture, Rail, Role as Part, Toward, What},
};
use crate::tui::{page::Around, said, theme::Role, widget::text};
use crate::views::{plant, words};

use super::layout::Layout;

/// A piece of text and how it looks.
pub(super) type Piece = (String, Style);

/// How many cells a row of pieces takes.
pub(super) fn width(pieces: &[Piece]) -> usize {
    pieces.iter().map(|(content, _)| text::width(content)).sum()
}

/// The line that says what the page shows.
pub(super) fn says(
    around: &Around<'_>,
    asked: Option<PlantId>,
    picture: Option<&Picture>,
) -> String {
    let Some(What::Plant(centre)) = picture.and_then(|p| p.cells.first()).map(|cell| cell.what)
    else {
        return "The line of a plant: where it came from and what came of it.".to_owned();
    };
    let who = around.desk.label(centre);
    let why = if asked.is_none() { ", the latest keeper" } else { "" };
    said::fitting(
        [
            format!(
                "The line of {who}{why}: each seed parent stands above, each pollen parent below."
            ),
            format!("The line of {who}{why}: seed parents above, pollen parents below."),
            format!("The line of {who}: seed parents above, pollen parents below."),
            format!("The line of {who}: seed above, pollen below."),
        ],
        around.line_room(),
    )
}

/// What stands in every cell of a picture.
pub(super) fn cells(around: &Around<'_>, picture: &Picture, layout: &Layout) -> Vec<Vec<Piece>> {
    let mut hangs_on = vec![What::Unknown; picture.cells.len()];
    for rail in &picture.rails {
        hangs_on[rail.to] = picture.cells[rail.from].what;
    }
    let room = |cell: &Cell| match cell.column {
        ..=0 => layout.ancestor_room(cell),
        _ => layout.offspring_room(cell, around.body.width),
    };
    let offspring = picture.cells.iter().zip(&hangs_on).filter(|(cell, _)| cell.column > 0);
    let wording = for_all(around, offspring.map(|(cell, &hangs_on)| (*cell, hangs_on, room(cell))));
    let all = picture.cells.iter().zip(hangs_on);
    all.map(|(one, hangs_on)| cell(around, one, (hangs_on, wording), room(one))).collect()
}

/// What stands in a cell, in as many words as there is room for; of a cross in the wording that is
/// chosen for all of them.
pub(super) fn cell(
    around: &Around<'_>,
    cell: &Cell,
    (hangs_on, wording): (What, usize),
    room: usize,
) -> Vec<Piece> {
    let style = |role| around.theme.style(role);
    let glyphs = around.glyphs();
    let rest = |n, one, several| {
        vec![(format!("{}{}", glyphs.ellipsis, said::many(n, one, several)), style(Role::Quiet))]
    };
    match cell.what {
        What::Plant(plant) if cell.column > 0 => offspring(around, cell, plant, room),
        What::Plant(plant) => ancestor(around, cell, plant, room),
        What::Unknown => vec![("unknown".to_owned(), style(Role::Quiet))],
        What::OneOf(n) => vec![(format!("one of {n}"), style(Role::Text))],
        What::Cross(family) => {
            let wordings = of_cross(around, cell, (family, hangs_on));
            wordings.into_iter().take(wording + 1).next_back().unwrap_or_default()
        }
        What::MoreSeedlings(n) => rest(n, "more seedling", "more seedlings"),
        What::MoreCrosses(n) => rest(n, "more cross", "more crosses"),
    }
}

/// The first of several wordings that fits, or the last of them.
fn fitting(wordings: Vec<Vec<Piece>>, room: usize) -> Vec<Piece> {
    let mut wordings = wordings.into_iter();
    let mut found = Vec::new();
    for pieces in &mut wordings {
        found = pieces;
        if width(&found) <= room {
            break;
        }
    }
    found
}

fn ancestor(around: &Around<'_>, cell: &Cell, plant: PlantId, room: usize) -> Vec<Piece> {
    let glyphs = around.glyphs();
    let own = of_plant(around, cell, plant);
    if cell.behind == 0 || cell.column == 0 {
        return own;
    }
    let with = |more: String| [vec![(more, around.theme.style(Role::Quiet))], own.clone()].concat();
    let (ellipsis, n) = (glyphs.ellipsis, cell.behind);
    let full = with(format!("{ellipsis}{n} more {} ", glyphs.step));
    let short = with(format!("{ellipsis}{n} {} ", glyphs.step));
    let least = with(format!("{ellipsis} "));
    fitting(vec![full, short, least], room)
}

fn offspring(around: &Around<'_>, cell: &Cell, plant: PlantId, room: usize) -> Vec<Piece> {
    let own = of_plant(around, cell, plant);
    let quiet = around.theme.style(Role::Quiet);
    let (word, role) = match around.desk.book().plant(plant) {
        PlantRecord::Variety(_) => ("variety", Role::Quiet),
        PlantRecord::Seedling(..) => state(around.desk.brief(plant).state),
    };
    let stands = (format!("  {word}"), around.theme.style(role));
    let step = around.glyphs().step;
    let beyond = |text: String| if cell.beyond > 0 { vec![(text, quiet)] } else { Vec::new() };
    let crosses = said::many(cell.beyond, "cross", "crosses");
    let with = |more: Vec<Piece>| [own.clone(), vec![stands.clone()], more].concat();
    let full = with(beyond(format!(", in {crosses} {step}")));
    let short = with(beyond(format!(" {step}")));
    fitting(vec![full, short, [own.clone(), beyond(format!(" {step}"))].concat()], room)
}

/// The longest wording in which every cross fits, so that all are told in the same words. `crosses`
/// gives each with what it hangs on and its room.
fn for_all(around: &Around<'_>, crosses: impl Iterator<Item = (Cell, What, usize)>) -> usize {
    let needed = crosses.filter_map(|(cell, hangs_on, room)| {
        let What::Cross(family) = cell.what else { return None };
        let wordings = of_cross(around, &cell, (family, hangs_on));
        let last = wordings.len().saturating_sub(1);
        Some(wordings.iter().position(|pieces| width(pieces) <= room).unwrap_or(last))
    });
    needed.max().unwrap_or_default()
}

/// The ways to tell of a cross, from the longest to the shortest.
fn of_cross(
    around: &Around<'_>,
    cell: &Cell,
    (family, hangs_on): (FamilyId, What),
) -> Vec<Vec<Piece>> {
    let desk = around.desk;
    let Some(id) = desk.pedigree().cross_of(family) else { return Vec::new() };
    let cross = desk.book().cross(id);
    let (text, quiet) = (around.theme.style(Role::Text), around.theme.style(Role::Quiet));
    let pair = (said::cross(desk, id, around.glyphs()), text);
    let n = desk.pedigree().plants(family).len();
    let code = (format!("  {}", cross.code), quiet);
    let raised = match n {
        0 => ", no seedlings".to_owned(),
        n => format!(", {}", said::many(n, "seedling", "seedlings")),
    };
    let raised = (raised, quiet);
    let (seed, pollen) = desk.parties(id);
    let with = match hangs_on {
        _ if seed == pollen && seed.plant().is_some() => "itself".to_owned(),
        What::Plant(plant) if seed.plants().any(|other| other == plant) => {
            said::party(desk, pollen, cross.by)
        }
        _ => said::party(desk, seed, By::Hand),
    };
    let short = (format!("with {with}"), text);
    let mark = marked(around, cell.mark);
    let wordings = [
        vec![pair, code.clone(), raised.clone()],
        vec![short.clone(), code.clone(), raised.clone()],
        vec![short.clone(), raised],
        vec![short.clone(), code],
        vec![short],
    ];
    wordings.map(|pieces| pieces.into_iter().chain(mark.clone()).collect()).to_vec()
}

/// Swatch, name and mark.
fn of_plant(around: &Around<'_>, cell: &Cell, plant: PlantId) -> Vec<Piece> {
    let style = |role| around.theme.style(role);
    let is_elsewhere = cell.mark.is_some_and(|mark| mark.drawn != Toward::Here);
    let mut pieces = Vec::new();
    let crop = around.desk.book().crop();
    let colour = plant::colours(around.desk, plant).first().and_then(|word| crop.colour(word));
    if let Some(style) = colour.and_then(|colour| around.theme.swatch(colour.swatch)) {
        pieces.push((format!("{} ", around.glyphs().swatch), style));
    }
    let role = match (cell.column, is_elsewhere) {
        (0, _) => Role::Strong,
        (_, true) => Role::Quiet,
        _ => Role::Text,
    };
    pieces.push((around.desk.label(plant).to_owned(), style(role)));
    pieces.extend(marked(around, cell.mark));
    pieces
}

/// How a plant stands, where that is worth a word.
fn state(state: State) -> (&'static str, Role) {
    let role = match state {
        State::Named | State::Kept => Role::Good,
        State::Held | State::Open => Role::Warn,
        State::Potted | State::Unbloomed | State::Discarded | State::Lost => Role::Quiet,
    };
    (words::state(state), role)
}

/// The number that ties a cell to the place where the same thing is drawn.
fn marked(around: &Around<'_>, mark: Option<Mark>) -> Option<Piece> {
    let Mark { number, drawn, .. } = mark?;
    let glyphs = around.glyphs();
    let arrow = match drawn {
        Toward::Here => "",
        Toward::Up => glyphs.rising,
        Toward::Down => glyphs.falling,
    };
    Some((format!(" [{number}{arrow}]"), around.theme.style(Role::Accent)))
}

/// The word on a rail.
pub(super) fn part(rail: &Rail) -> &'static str {
    match (rail.role, rail.certain) {
        (None, _) => "",
        (Some(Part::Seed), true) => "seed",
        (Some(Part::Seed), false) => "seed?",
        (Some(Part::Pollen), true) => "pollen",
        (Some(Part::Pollen), false) => "pollen?",
        (Some(Part::Selfed), _) => "selfed",
    }
}

/// What the cursor is on, in a sentence.
pub(super) fn tells(around: &Around<'_>, cell: &Cell) -> String {
    let desk = around.desk;
    let glyphs = around.glyphs();
    match cell.what {
        What::Plant(plant) => {
            let who = desk.label(plant);
            let (seed, pollen) = desk.parents(plant);
            let cross = desk.book().cross_of(plant);
            let by = cross.map_or(By::Hand, |cross| desk.book().cross(cross).by);
            let parents = if desk.pedigree().is_founder(plant) {
                "its parents are not in the book".to_owned()
            } else if seed == pollen && seed.plant().is_some() {
                format!("{} selfed", said::party(desk, &seed, By::Hand))
            } else {
                let seed = said::party(desk, &seed, By::Hand);
                let pollen = said::party(desk, &pollen, by);
                format!("seed parent {seed}, pollen parent {pollen}")
            };
            let cross = cross.map_or_else(String::new, |cross| {
                let cross = desk.book().cross(cross);
                let season = cross.season.map_or_else(String::new, |s| format!(" of {s}"));
                format!(", cross {}{season}", cross.code)
            });
            let wordings = [format!("{who}: {parents}{cross}."), format!("{who}: {parents}.")];
            said::fitting(wordings, around.line_room())
        }
        What::Cross(family) => match desk.pedigree().cross_of(family) {
            Some(cross) => {
                let counts = desk.counts(cross);
                let rate = said::of(counts.kept, counts.judged);
                format!("{}: {rate} judged were kept.", said::cross(desk, cross, glyphs))
            }
            None => String::new(),
        },
        What::Unknown | What::OneOf(_) => String::new(),
        What::MoreSeedlings(_) => "The page of the cross lists them all.".to_owned(),
        What::MoreCrosses(_) => "The page of the plant lists them all.".to_owned(),
    }
}
