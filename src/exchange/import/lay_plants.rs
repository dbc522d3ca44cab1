//! The steps of laying that fill the records of plants.

use std::collections::BTreeSet;

use super::{
    claims::Parents,
    column::Column,
    compare::{Came, Clash},
    course::Course,
    deeds::{self, Known},
    diary::{Deed, enter},
    enrol::Enrolled,
    gather::Gathered,
    kin::{Kin, PollenKin},
    lay::{Bench, CameOf, Home, note},
    names::{Sort, Who},
    row::Told,
    value::shown,
    variety,
};
use crate::book::{
    Cross, Entry, Father, Life, Lot, LotDeed, Parent, PlantDeed, Seedling, When, lot_letters,
};

impl Bench<'_, '_, '_> {
    /// Reports something told that clashes with what is known.
    pub(super) fn clash(&mut self, told: &Told<'_, '_>, who: &str, clash: &Clash) {
        let cell = told
            .cells()
            .find(|cell| cell.column.name(self.setting.traits) == clash.what)
            .map_or(told.at, |cell| cell.at);
        let Clash { what, known, told } = clash;
        self.faults.add(
            cell,
            format!(
                "{who} has {what} {} already, and this row says {}.",
                shown(known),
                shown(told)
            ),
            "Correct the row, or the book; what is the same is passed over, what is more is added.",
        );
    }

    pub(super) fn lay_varieties<'r, 's>(
        &mut self,
        gathered: &Gathered<'r, 's>,
        enrolled: &Enrolled,
        parents: &[Parents],
        came: &mut CameOf<'r, 's>,
    ) {
        for ((told, who), parents) in
            gathered.varieties.iter().zip(&enrolled.varieties).zip(parents)
        {
            let Some(who) = *who else { continue };
            // One that is a seedling is laid with the merged ones.
            let Some(Home::Variety(n)) = self.homes[self.names.really(who).0] else { continue };
            let mut filled = self.varieties[n].clone();
            let fields = variety::fill(&mut filled, told, &self.setting, &mut self.remarks);
            let kin = match &parents.pollen {
                Some((PollenKin::From(kin), _)) => Some(kin.clone()),
                Some((PollenKin::Selfed, _)) => parents.seed.as_ref().map(|(kin, _)| kin.clone()),
                None => None,
            };
            let seed = parents.seed.as_ref().map(|(kin, _)| kin);
            let met = fields.and_then(|came| {
                let seed = self.parent("seed_parent", &mut filled.seed, seed)?;
                let pollen = self.parent("pollen_parent", &mut filled.pollen, kin.as_ref())?;
                Ok(came.max(seed).max(pollen))
            });
            match met {
                Err(clash) => {
                    let name = filled.name.clone();
                    self.clash(told, &name, &clash);
                }
                Ok(met) => {
                    if met == Came::More {
                        self.changed_varieties.insert(n);
                        self.varieties[n] = filled;
                    }
                    let new = self.names.sort(who) == Sort::NewVariety;
                    note(came, told, if new { Came::Added } else { met });
                }
            }
        }
    }

    /// Compares a parent of a variety with what is told, and fills it where it was unknown.
    fn parent(&self, what: &str, known: &mut Parent, told: Option<&Kin>) -> Result<Came, Clash> {
        let Some(told) = told else { return Ok(Came::Same) };
        let parent = told.to_parent(&self.names);
        if *known == parent || *told == Kin::Unknown {
            return Ok(Came::Same);
        }
        if *known == Parent::Unknown {
            *known = parent;
            return Ok(Came::More);
        }
        let old = Kin::of(known, self.book, &self.names);
        if old.as_ref().is_some_and(|old| old.is(told)) {
            return Ok(Came::Same);
        }
        let shown = |kin: &Kin| kin.shown(&self.names);
        let known = old.as_ref().map_or_else(|| keys(known), shown);
        Err(Clash { what: what.to_owned(), known, told: shown(told) })
    }

    pub(super) fn lay_seedlings<'r, 's>(
        &mut self,
        gathered: &Gathered<'r, 's>,
        enrolled: &Enrolled,
        places: &[Option<usize>],
        came: &mut CameOf<'r, 's>,
    ) {
        let all = || gathered.seedlings.iter().zip(&enrolled.seedlings).zip(places);
        self.make_lots(all().filter_map(|((told, who), place)| Some((told, (*who)?, (*place)?))));
        for ((told, who), place) in all() {
            let (Some(who), Some(place)) = (*who, *place) else { continue };
            let met = self.lay_seedling(told, who, place);
            if let Some(met) = met {
                note(came, told, met);
            }
        }
    }

    /// Makes the packets that the rows speak of and the crosses do not have: one for each date
    /// of sowing and kind of father.
    fn make_lots<'t, 'r: 't, 's: 'r>(
        &mut self,
        rows: impl Iterator<Item = (&'t Told<'r, 's>, Who, usize)>,
    ) {
        let mut wanted: BTreeSet<(usize, Option<When>, bool)> = BTreeSet::new();
        for (told, who, place) in rows {
            let has_lot = self.seedling(who).is_some_and(|s| s.lot.is_some());
            let cross = &self.crosses[place];
            if let Some((sown, father)) = packet(told, cross)
                && !has_lot
                && find_lot(cross, sown, father).is_none()
            {
                wanted.insert((place, sown, father == Father::Each));
            }
        }
        let mut taken: BTreeSet<Box<str>> =
            self.crosses.iter().flat_map(|c| &c.lots).map(|lot| lot.code.clone()).collect();
        for (place, sown, each) in wanted {
            let cross = &mut self.crosses[place];
            let father = if each { Father::Each } else { Father::One };
            let mut n = cross.lots.len();
            let code = loop {
                let code: Box<str> = format!("{}-{}", cross.code, lot_letters(n)).into();
                if taken.insert(code.clone()) {
                    break code;
                }
                n += 1;
            };
            let diary = sown
                .map(|on| Entry { on, did: LotDeed::Sown { seeds: None } })
                .into_iter()
                .collect();
            let father = (father != cross.by.usual_father()).then_some(father);
            cross.lots.push(Lot { code: code.clone(), father, seeds: None, diary });
            self.changed_crosses.insert(place);
            self.lots_made.push(code);
        }
    }

    fn seedling(&self, who: Who) -> Option<&Seedling> {
        match self.homes.get(who.0).copied().flatten()? {
            Home::Seedling(n, m) => self.crosses.get(n)?.seedlings.get(m),
            Home::Variety(_) => None,
        }
    }

    /// Lays one seedling; `None` where it clashes with what is known.
    fn lay_seedling(&mut self, told: &Told<'_, '_>, who: Who, place: usize) -> Option<Came> {
        let new = self.names.sort(who) == Sort::NewSeedling;
        let mut seedling = self.seedling(who).cloned().unwrap_or_default();
        if new {
            let number = self.names.label(who);
            let key = self.names.key(who);
            seedling.number = number.into();
            seedling.id = (key != number).then(|| key.into());
        }
        let mut met = if self.families.list[place].changed { Came::More } else { Came::Same };
        match self.lay_packet(told, &mut seedling, place) {
            Ok(came) => met = met.max(came),
            Err(clash) => {
                self.clash(told, &seedling.number, &clash);
                return None;
            }
        }
        let crossed = self.crosses[place].season;
        let known = Known { season: Life::of(&seedling.diary).season(), crossed };
        let deeds = deeds::of_seedling(told, known, &self.setting, &mut self.remarks, self.faults);
        let shows_bloom = deeds.iter().any(shows_bloom);
        Course::of(told, &seedling.diary, crossed, shows_bloom).check(self.faults);
        let number = seedling.number.clone();
        met = met.max(self.enter_all(told, &number, &mut seedling.diary, &deeds)?);
        if told.verdict().is_some() && Life::of(&seedling.diary).first_bloom.is_none() {
            self.remarks.add(
                "A verdict on a plant of which no bloom is noted; it does not count as judged",
                told.at(Column::Verdict),
            );
        }
        if new {
            self.homes[who.0] = Some(Home::Seedling(place, self.crosses[place].seedlings.len()));
            self.crosses[place].seedlings.push(seedling);
            self.changed_crosses.insert(place);
            return Some(Came::Added);
        }
        if met == Came::More
            && let Some(Home::Seedling(n, m)) = self.homes[who.0]
        {
            self.crosses[n].seedlings[m] = seedling;
            self.changed_crosses.insert(n);
        }
        Some(met)
    }

    /// Puts a seedling to its packet, or holds what the row says of the packet against it.
    fn lay_packet(
        &mut self,
        told: &Told<'_, '_>,
        seedling: &mut Seedling,
        place: usize,
    ) -> Result<Came, Clash> {
        let cross = &mut self.crosses[place];
        let Some(code) = seedling.lot.clone() else {
            let Some((sown, father)) = packet(told, cross) else { return Ok(Came::Same) };
            seedling.lot = find_lot(cross, sown, father).map(|lot| lot.code.clone());
            return Ok(Came::More);
        };
        let known = cross.father_of(Some(&code));
        if let Some(father) = told.father()
            && father != known
        {
            let (known, told) = (father_word(known).to_owned(), father_word(father).to_owned());
            return Err(Clash { what: "father".to_owned(), known, told });
        }
        let Some(on) = told.date(Column::Sown) else { return Ok(Came::Same) };
        let Some(lot) = cross.lots.iter_mut().find(|lot| lot.code == code) else {
            return Ok(Came::Same);
        };
        let sown: Vec<When> = lot
            .diary
            .iter()
            .filter(|e| matches!(e.did, LotDeed::Sown { .. }))
            .map(|e| e.on)
            .collect();
        if sown.iter().any(|&known| !known.surely_before(on) && !on.surely_before(known)) {
            return Ok(Came::Same);
        }
        if let Some(known) = sown.first() {
            let (known, told) = (known.to_string(), on.to_string());
            return Err(Clash { what: "sown".to_owned(), known, told });
        }
        lot.diary.push(Entry { on, did: LotDeed::Sown { seeds: None } });
        Ok(Came::More)
    }

    /// Enters what is told into a diary; `None` after a clash.
    pub(super) fn enter_all(
        &mut self,
        told: &Told<'_, '_>,
        who: &str,
        diary: &mut Vec<Entry<PlantDeed>>,
        deeds: &[Deed],
    ) -> Option<Came> {
        let mut met = Some(Came::Same);
        for deed in deeds {
            match enter(diary, deed) {
                Ok(came) => met = met.map(|met| met.max(came)),
                Err(clash) => {
                    self.clash(told, who, &clash);
                    met = None;
                }
            }
        }
        met
    }
}

pub(super) fn shows_bloom(deed: &Deed) -> bool {
    matches!(&deed.did, PlantDeed::Look(look) if look.shows_bloom()) && !deed.assumed
}

/// The date of sowing and the father that a row speaks of; `None` where it says nothing that
/// would tell one packet from another.
fn packet(told: &Told<'_, '_>, cross: &Cross) -> Option<(Option<When>, Father)> {
    let sown = told.date(Column::Sown);
    let usual = cross.by.usual_father();
    let father = told.father().unwrap_or(usual);
    (sown.is_some() || father != usual).then_some((sown, father))
}

fn find_lot(cross: &Cross, sown: Option<When>, father: Father) -> Option<&Lot> {
    cross.lots.iter().find(|lot| {
        let fits = match sown {
            Some(sown) => {
                lot.diary.iter().any(|e| matches!(e.did, LotDeed::Sown { .. }) && e.on == sown)
            }
            None => lot.first_sown().is_none(),
        };
        fits && cross.father_of(Some(&lot.code)) == father
    })
}

fn father_word(father: Father) -> &'static str {
    match father {
        Father::One => "one",
        Father::Each => "each",
    }
}

fn keys(parent: &Parent) -> String {
    parent.candidates().map(|(key, _)| key).collect::<Vec<_>>().join("|")
}
