//! The diary entries that the row of a plant tells of, in the order of a life.
//!
//! Where a row gives no date for something, the best known date of the same row stands in: the
//! day of the look for a verdict, and otherwise a year alone. A day is never made up.

use super::{
    column::Column as C,
    diary::{Deed, NO_REASON},
    faults::{At, Faults},
    look::look_of,
    remarks::Remarks,
    row::Told,
};
use crate::book::{Crop, Look, PlantDeed, Season, When};

/// What a row is read with.
pub(super) struct Setting<'c> {
    pub(super) crop: &'c Crop,
    /// The traits that are scored in the files.
    pub(super) traits: &'c [Box<str>],
    /// The season of today.
    pub(super) this_season: Season,
}

/// What is known of a plant beside its row.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Known {
    /// The season of its first bloom or planting, as the book has it.
    pub(super) season: Option<Season>,
    /// The season of its cross.
    pub(super) crossed: Option<Season>,
}

struct Teller<'t, 'r, 's> {
    told: &'t Told<'r, 's>,
    known: Known,
    this_season: Season,
    deeds: Vec<Deed>,
    undated: Vec<At>,
}

impl<'t, 'r, 's> Teller<'t, 'r, 's> {
    fn new(told: &'t Told<'r, 's>, known: Known, setting: &Setting<'_>) -> Self {
        let this_season = setting.this_season;
        Self { told, known, this_season, deeds: Vec::new(), undated: Vec::new() }
    }

    /// The year of the first of these dates that the row gives or, failing all, of what is known
    /// beside it: a seedling of a cross blooms in the season after it, at the earliest.
    fn year(&self, columns: &[C]) -> Option<When> {
        let told = columns.iter().find_map(|&column| self.told.date(column)).map(When::season);
        let after_cross = self.known.crossed.map(|season| season.next().min(self.this_season));
        let known = self.known.season.or(after_cross);
        told.or(known).map(When::year)
    }

    fn tell(&mut self, at: At, on: Option<When>, assumed: bool, did: PlantDeed) {
        match on {
            Some(on) => self.deeds.push(Deed { on, assumed, did, at }),
            None => self.undated.push(at),
        }
    }

    /// Tells something dated by its own column or, failing that, by the year of others.
    fn tell_by(&mut self, own: C, others: &[C], at: At, did: PlantDeed) {
        let said = self.told.date(own);
        self.tell(at, said.or_else(|| self.year(others)), said.is_none(), did);
    }
}

/// The entries that the row of a seedling tells of.
pub(super) fn of_seedling(
    told: &Told<'_, '_>,
    known: Known,
    setting: &Setting<'_>,
    remarks: &mut Remarks,
    faults: &mut Faults<'_>,
) -> Vec<Deed> {
    let mut teller = Teller::new(told, known, setting);
    let position = told.position();
    if told.cell(C::Planted).is_some() || position.is_some() {
        let at = told.cell(C::Planted).map_or_else(|| told.at(C::Position), |cell| cell.at);
        let others =
            [C::Sown, C::FirstBloom, C::LastSeenUnbloomed, C::LookOn, C::VerdictOn, C::LostOn];
        teller.tell_by(C::Planted, &others, at, PlantDeed::Planted(position.cloned()));
    }
    for (column, did) in
        [(C::LastSeenUnbloomed, PlantDeed::SeenUnbloomed), (C::FirstBloom, PlantDeed::FirstBloom)]
    {
        if let Some(on) = told.date(column) {
            teller.tell(told.at(column), Some(on), false, did);
        }
    }
    let look = look_of(told, setting.crop, setting.traits, remarks);
    if look.is_none() && told.verdict().is_none() && told.cell(C::LookOn).is_some() {
        remarks.add("A look with nothing seen; left out", told.at(C::LookOn));
    }
    if let Some(look) = look {
        tell_look(&mut teller, look);
    }
    tell_verdict(&mut teller, remarks);
    if let Some(name) = told.boxed(C::Name) {
        let at = told.at(C::Name);
        let others =
            [C::VerdictOn, C::LookOn, C::FirstBloom, C::Planted, C::LastSeenUnbloomed, C::Sown];
        let on = teller.year(&others);
        teller.tell(at, on, true, PlantDeed::Named(name));
    }
    if told.cell(C::LostOn).is_some() || told.cell(C::LostWhy).is_some() {
        let at = told.cell(C::LostOn).map_or_else(|| told.at(C::LostWhy), |cell| cell.at);
        let why = told.boxed(C::LostWhy).unwrap_or_else(|| NO_REASON.into());
        let others =
            [C::VerdictOn, C::LookOn, C::FirstBloom, C::LastSeenUnbloomed, C::Planted, C::Sown];
        teller.tell_by(C::LostOn, &others, at, PlantDeed::Lost(why));
    }
    remark(&teller.deeds, remarks);
    for at in teller.undated {
        faults.add(
            at,
            "Nothing in this row says when this was.",
            "Give a date to anything in the row, or the season of the cross; a year is enough.",
        );
    }
    teller.deeds
}

fn tell_look(teller: &mut Teller<'_, '_, '_>, look: Look) {
    let told = teller.told;
    let others =
        [C::FirstBloom, C::Planted, C::LastSeenUnbloomed, C::VerdictOn, C::LostOn, C::Sown];
    let first = told.cells().find(|cell| {
        matches!(
            cell.column,
            C::LookOn | C::Group | C::BloomMm | C::HeightCm | C::Colours | C::Score(_) | C::Faults
        )
    });
    match (first, look) {
        // A remark that goes with no look is one on the plant.
        (None, Look { who: None, note: Some(note), .. }) => {
            let on = teller.year(&others);
            teller.tell(told.at(C::Note), on, true, PlantDeed::Note(note));
        }
        (first, look) => {
            let at = first.map_or_else(|| told.at(C::Note), |cell| cell.at);
            teller.tell_by(C::LookOn, &others, at, PlantDeed::Look(Box::new(look)));
        }
    }
}

/// The verdict of a row.
fn verdict_of(told: &Told<'_, '_>, remarks: &mut Remarks) -> Option<PlantDeed> {
    let Some(is) = told.verdict() else {
        if let Some(why) = told.cell(C::Why) {
            remarks.add("A reason without a verdict; left out", why.at);
        }
        return None;
    };
    Some(PlantDeed::Verdict { is, why: told.boxed(C::Why), who: told.boxed(C::Who) })
}

fn tell_verdict(teller: &mut Teller<'_, '_, '_>, remarks: &mut Remarks) {
    let told = teller.told;
    let Some(did) = verdict_of(told, remarks) else { return };
    let others = [C::FirstBloom, C::Planted, C::LastSeenUnbloomed, C::LostOn, C::Sown];
    let said = told.date(C::VerdictOn);
    let on = said.or(told.date(C::LookOn)).or_else(|| teller.year(&others));
    teller.tell(told.at(C::Verdict), on, said.is_none(), did);
}

/// Says of each entry without a date of its own which was taken.
fn remark(deeds: &[Deed], remarks: &mut Remarks) {
    for deed in deeds.iter().filter(|deed| deed.assumed) {
        let what = match deed.did {
            PlantDeed::Planted(_) => "A position without a planting date; only the season is noted",
            PlantDeed::Verdict { .. } if deed.on.exact().is_some() => {
                "A verdict without a date; that of the look is taken"
            }
            PlantDeed::Verdict { .. } => "A verdict without a date; only the season is noted",
            PlantDeed::Named(_) => "A name has no date; only the season is noted",
            PlantDeed::Lost(_) => "A loss without a date; only the season is noted",
            PlantDeed::Note(_) => "A remark without a date; only the season is noted",
            _ => "A look without a date; only the season is noted",
        };
        remarks.add(what, deed.at);
    }
}

/// The look, and the verdict if there is one, that the row of a looks file tells of.
pub(super) fn of_look(
    told: &Told<'_, '_>,
    setting: &Setting<'_>,
    remarks: &mut Remarks,
) -> Vec<Deed> {
    let Some(on) = told.date(C::On) else { return Vec::new() };
    let mut deeds = Vec::new();
    let mut tell = |did| deeds.push(Deed { on, assumed: false, did, at: told.at });
    if let Some(look) = look_of(told, setting.crop, setting.traits, remarks) {
        tell(PlantDeed::Look(Box::new(look)));
    }
    if let Some(verdict) = verdict_of(told, remarks) {
        tell(verdict);
    }
    if deeds.is_empty() {
        remarks.add("A look with nothing seen; left out", told.at);
    }
    deeds
}

/// What the row of a variety tells of a plant that is a seedling of the book: a look and a
/// remark, dated by the season best known.
pub(super) fn of_variety(
    told: &Told<'_, '_>,
    known: Known,
    setting: &Setting<'_>,
    remarks: &mut Remarks,
    faults: &mut Faults<'_>,
) -> Vec<Deed> {
    let mut teller = Teller::new(told, known, setting);
    if let Some(look) = look_of(told, setting.crop, setting.traits, remarks) {
        tell_look(&mut teller, look);
    }
    for at in teller.undated {
        faults.add(
            at,
            "Nothing says when this was seen of a plant that is a seedling.",
            "Give a date to anything in the row of the seedling; a year is enough.",
        );
    }
    teller.deeds
}
