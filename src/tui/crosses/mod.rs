//! The crosses: what became of each, from heads through packets to plants. Of packets with seed
//! left it is the seed tin.

mod rows;

use ratatui::layout::Rect;

use super::{
    action::Action,
    basis::Basis,
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    said,
    theme::Role,
    widget::{
        Canvas,
        lists::{Lists, Outcome, Shape},
        range, section,
        table::{self, Cell, Table},
    },
};
use crate::book::{CrossId, Season};
use crate::views::{
    crosses,
    seed::{self, PacketId},
};

/// The lists, of which one is shown.
const CROSSES: usize = 0;
const TIN: usize = 1;

/// What is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Choice {
    /// Every cross.
    #[default]
    All,
    /// Packets with seed left.
    Tin,
    /// Crosses that gave keepers.
    Keepers,
    /// Crosses that came to nothing: no plant of them ever stood in a bed.
    Nothing,
}

/// The screen.
#[derive(Debug)]
pub(super) struct Crosses {
    choice: Choice,
    /// The season in which they were made; `None` is all.
    season: Option<Season>,
    ids: Vec<CrossId>,
    packets: Vec<PacketId>,
    lists: Lists,
    basis: Basis,
}

impl Default for Crosses {
    fn default() -> Self {
        let mut lists = Lists::new(2);
        // What was made last is looked for most.
        lists.all[CROSSES].sorted = Some((rows::MADE, true));
        Self {
            choice: Choice::All,
            season: None,
            ids: Vec::new(),
            packets: Vec::new(),
            lists,
            basis: Basis::default(),
        }
    }
}

impl Choice {
    fn next(self) -> Self {
        match self {
            Self::All => Self::Tin,
            Self::Tin => Self::Keepers,
            Self::Keepers => Self::Nothing,
            Self::Nothing => Self::All,
        }
    }

    /// What it shows, in a word or two.
    fn words(self) -> &'static str {
        match self {
            Self::All => "all crosses",
            Self::Tin => "seed tin",
            Self::Keepers => "with keepers",
            Self::Nothing => "came to nothing",
        }
    }
}

impl Crosses {
    /// The part of the page for the list, below its heading and above what explains the signs.
    fn list_area(body: Rect) -> Rect {
        let foot = u16::from(body.height > 8);
        let rest = section::below(body, 1);
        Rect { height: rest.height - foot.min(rest.height), ..rest }
    }

    fn shapes(around: &Around<'_>) -> [Shape<'static>; 2] {
        let height = Self::list_area(around.body).height.saturating_sub(1);
        [rows::CROSSES, rows::TIN].map(|columns| Shape { height, columns })
    }

    fn arrange(&mut self, around: &Around<'_>) {
        let (season, choice) = (self.season, self.choice);
        let is_of = |id: CrossId| season.is_none() || around.desk.book().cross(id).season == season;
        if choice == Choice::Tin {
            self.lists.at = TIN;
            let list = &mut self.lists.all[TIN];
            let sieve = list.sieve();
            let packets = &self.packets;
            list.arrange(
                packets.len(),
                |row| {
                    is_of(packets[row].cross)
                        && sieve(&|| rows::packet_letters(around, packets[row]))
                },
                |row, column| rows::packet_key(around, packets[row], column),
            );
        } else {
            self.lists.at = CROSSES;
            let list = &mut self.lists.all[CROSSES];
            let sieve = list.sieve();
            let ids = &self.ids;
            list.arrange(
                ids.len(),
                |row| {
                    let id = ids[row];
                    let counts = around.desk.counts(id);
                    let fits = match choice {
                        Choice::Keepers => counts.kept > 0,
                        Choice::Nothing => counts.planted == 0 && !may_still_come(around, id),
                        Choice::All | Choice::Tin => true,
                    };
                    fits && is_of(id) && sieve(&|| rows::cross_letters(around, id))
                },
                |row, column| rows::cross_key(around, ids[row], column),
            );
        }
        self.lists.follow(&Self::shapes(around));
    }

    /// All seasons, then the latest, and so on back to the first.
    fn turn_season(&mut self, later: bool, around: &Around<'_>) -> Step {
        let made = self.ids.iter().filter_map(|&id| around.desk.book().cross(id).season);
        let next = match (self.season, later) {
            (None, true) => return Step::Say("All seasons are shown.".to_owned()),
            (None, false) => made.max(),
            (Some(now), true) => made.filter(|season| *season > now).min(),
            (Some(now), false) => match made.filter(|season| *season < now).max() {
                None => return Step::Say("No cross was made earlier.".to_owned()),
                earlier => earlier,
            },
        };
        self.season = next;
        self.arrange(around);
        Step::Taken
    }
}

/// Whether a cross has heads on the plant or seed in the tin, so that it may yet come to
/// something.
fn may_still_come(around: &Around<'_>, id: CrossId) -> bool {
    let cross = around.desk.book().cross(id);
    let heads = crosses::Heads::of(&cross.heads);
    let has_seed = cross.lots.iter().any(|lot| lot.left().is_none_or(|left| left > 0));
    heads.hanging > 0 || has_seed
}

impl Page for Crosses {
    fn place(&self) -> Place {
        Place::Crosses
    }

    fn says(&self, _: &Around<'_>) -> String {
        let made = self.season.map_or_else(String::new, |season| format!(" made in {season}"));
        match self.choice {
            Choice::All => format!("What became of the crosses{made}, from heads to keepers."),
            Choice::Tin => format!("The seed tin: packets of crosses{made} with seed left."),
            Choice::Keepers => format!("The crosses{made} that gave keepers."),
            Choice::Nothing => format!("The crosses{made} of which no plant stood in a bed."),
        }
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        let list = self.lists.current();
        let row = list.and_then(super::widget::listing::Listing::row);
        let cross = row.and_then(|row| match self.choice {
            Choice::Tin => self.packets.get(row).map(|packet| packet.cross),
            _ => self.ids.get(row).copied(),
        });
        Stand {
            under: cross.map(Place::Cross),
            n_lists: 1,
            sorts: true,
            next_choice: self.choice.next().words(),
            seasons: true,
            filtered: self.choice != Choice::All
                || list.is_some_and(|list| !list.filter.is_empty()),
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        if self.basis.moved(around, false).is_none() {
            return self.lists.follow(&Self::shapes(around));
        }
        self.ids = crosses::list(around.desk, None);
        self.packets = seed::list(around.desk, false);
        self.arrange(around);
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        match input {
            Input::Do(action @ (Action::Only | Action::Close)) => {
                let is_next = action == Action::Only;
                self.choice = if is_next { self.choice.next() } else { Choice::All };
                self.arrange(around);
                Step::Taken
            }
            Input::Do(Action::SeasonBefore) => self.turn_season(false, around),
            Input::Do(Action::SeasonAfter) => self.turn_season(true, around),
            _ => match self.lists.take(input, &Self::shapes(around)) {
                Outcome::Step(step) => step,
                Outcome::Arrange(_) => {
                    self.arrange(around);
                    Step::Taken
                }
            },
        }
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let body = canvas.area();
        let (heading, columns, n_all) = match self.choice {
            Choice::Tin => ("packets in the seed tin", rows::TIN, self.packets.len()),
            _ => ("crosses", rows::CROSSES, self.ids.len()),
        };
        let listing = &self.lists.all[self.lists.at];
        section::draw(
            canvas,
            body,
            heading,
            &section::note(listing, n_all, columns, around.glyphs()),
        );
        let area = Self::list_area(body);
        if listing.is_empty() {
            return section::instead(canvas, area, "None of them is like that.");
        }
        let cell = |row: usize, column: usize| -> Cell<'_> {
            match self.choice {
                Choice::Tin => rows::packet(around, self.packets[row], column),
                _ => rows::cross(around, self.ids[row], column),
            }
        };
        let list = self.lists.at;
        let table = Table { columns, listing, list, focused: true, cell: &cell };
        table::draw(canvas, area, &table);
        if self.choice != Choice::Tin
            && let Some((x, wide)) = table.places(area.width)[rows::RANGE]
        {
            range::draw_scale(canvas, Rect::new(area.x + x, area.y, wide, 1), rows::SCALE);
        }
        if area.height + 1 < body.height {
            let y = body.height - 1;
            canvas.say(1, y, &self.explanation(around), Role::Quiet);
        }
    }
}

impl Crosses {
    fn explanation(&self, around: &Around<'_>) -> String {
        let rates = &around.desk.book().crop().rates;
        let glyphs = around.glyphs();
        let up = said::percent(rates.up_of_sown.value);
        let wordings = if self.choice == Choice::Tin {
            let more = "what came up of a packet counts for the rest of it";
            vec![format!("{up} come up as a rule; {more}."), format!("{up} come up as a rule.")]
        } else {
            let (fewer, more) = (glyphs.falling, glyphs.rising);
            let open = said::percent(rates.bloomed_of_planted.value);
            let usual = format!("{up} come up, {open} open in their first year");
            vec![
                format!("{fewer} fewer, {more} more than usual beyond chance: {usual}."),
                format!("{fewer} fewer, {more} more than usual: {usual}."),
                format!("{fewer} fewer, {more} more than usual"),
            ]
        };
        said::fitting(wordings, around.line_room())
    }
}
