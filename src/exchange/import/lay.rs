//! Rows without fault to a changed book, in a fixed order of steps.

use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};

use super::{
    Changed, Options, Report,
    claims::{self, Parents, parents_of},
    column::Column,
    compare::Came,
    deeds::Setting,
    enrol::{Enrolled, enrol},
    families::{Claim, Families, Says},
    faults::{At, Faults},
    gather::{Gathered, gather},
    names::{Names, Sort, Who},
    remarks::Remarks,
    row::{Row, Told},
    totals,
};
use crate::book::{
    About, Book, By, Codes, Crop, Cross, CrossId, Parent, PlantId, Pollen, Season, Variety, When,
};

/// What the rows come to.
pub(super) struct Laid<'r, 's> {
    pub(super) book: Book,
    pub(super) report: Report,
    pub(super) changed: Changed,
    /// What came of each row.
    pub(super) came: Vec<(&'r Row<'s>, Came)>,
}

/// What the laying of one call works with.
pub(super) struct Bench<'b, 'f, 'x> {
    pub(super) book: &'b Book,
    pub(super) about: About,
    pub(super) crop: Arc<Crop>,
    pub(super) options: Options,
    pub(super) setting: Setting<'b>,
    pub(super) names: Names<'b>,
    pub(super) families: Families,
    pub(super) faults: &'x mut Faults<'f>,
    pub(super) remarks: Remarks,
    pub(super) varieties: Vec<Variety>,
    pub(super) crosses: Vec<Cross>,
    /// Where the record of each plant is, by [`Who`].
    pub(super) homes: Vec<Option<Home>>,
    pub(super) changed_varieties: BTreeSet<usize>,
    pub(super) changed_crosses: BTreeSet<usize>,
    pub(super) lots_made: Vec<Box<str>>,
    /// The row that counts each cross, by its code.
    pub(super) count_rows: BTreeMap<Box<str>, At>,
    /// Folded names of plants whose rows have a fault: who refers to them is not at fault.
    pub(super) ghosts: &'b BTreeSet<String>,
    /// Whether a file could not be read at all, so that nobody can be missed.
    pub(super) incomplete: bool,
}

/// Where the record of a plant is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Home {
    /// Among the varieties.
    Variety(usize),
    /// In a cross, among its seedlings.
    Seedling(usize, usize),
}

/// What came of each row, gathered.
pub(super) type CameOf<'r, 's> = Vec<(&'r Row<'s>, Came)>;

/// Notes what came of all rows behind one telling.
pub(super) fn note<'r, 's>(came: &mut CameOf<'r, 's>, told: &Told<'r, 's>, what: Came) {
    for (n, (row, more)) in told.rows().enumerate() {
        let of_row = match (n, what) {
            (0, _) | (_, Came::Outdone) => what,
            _ if more && what != Came::Same => Came::More,
            _ => Came::Same,
        };
        came.push((row, of_row));
    }
}

impl<'b, 'f, 'x> Bench<'b, 'f, 'x> {
    pub(super) fn new(
        book: &'b Book,
        traits: &'b [Box<str>],
        options: Options,
        faults: &'x mut Faults<'f>,
        (ghosts, incomplete): (&'b BTreeSet<String>, bool),
    ) -> Self {
        let (about, crop, varieties, crosses) = book.clone().into_parts();
        let this_season = options.today.map_or(Season(i16::MAX), |day| When::day(day).season());
        Self {
            book,
            about,
            crop,
            options,
            setting: Setting { crop: book.crop(), traits, this_season },
            names: Names::of(book),
            families: Families::default(),
            faults,
            remarks: Remarks::default(),
            varieties,
            crosses,
            homes: Vec::new(),
            changed_varieties: BTreeSet::new(),
            changed_crosses: BTreeSet::new(),
            lots_made: Vec::new(),
            count_rows: BTreeMap::new(),
            ghosts,
            incomplete,
        }
    }

    /// Lays the rows into the book. Faults found on the way go to the faults of the bench, and
    /// the book is then good for nothing.
    pub(super) fn lay<'r, 's>(mut self, rows: &[&'r Row<'s>]) -> Laid<'r, 's> {
        let gathered = gather(rows, self.setting.traits, self.faults);
        let enrolled = enrol(self.book, &gathered, &mut self.names, self.faults);
        self.families = Families::of(self.book, &self.names);
        let parents: Vec<Parents> = gathered
            .varieties
            .iter()
            .map(|told| parents_of(told, &mut self.names, self.faults))
            .collect();
        let claims = claims::of_seedlings(
            self.book,
            &gathered,
            &enrolled,
            &parents,
            &mut self.names,
            self.faults,
        );
        let counted: Vec<Claim<'r>> =
            gathered.counts.iter().map(|told| self.count_claim(told)).collect();
        let places = self.place(&gathered, &enrolled, &claims);
        self.confirm_varieties(&gathered, &enrolled, &parents);
        let counted = self.place_counts(&gathered, &counted);
        self.names.give_keys();
        self.give_codes();
        self.open_records();
        let mut came = Vec::with_capacity(rows.len());
        self.lay_varieties(&gathered, &enrolled, &parents, &mut came);
        self.lay_seedlings(&gathered, &enrolled, &places, &mut came);
        self.lay_merged(&gathered, &enrolled, &mut came);
        self.lay_looks(&gathered, &mut came);
        self.lay_counts(&gathered, &counted, &mut came);
        self.finish(&gathered, came)
    }

    fn count_claim<'r>(&mut self, told: &Told<'r, '_>) -> Claim<'r> {
        totals::check(told, self.faults);
        let Parents { seed, pollen } = parents_of(told, &mut self.names, self.faults);
        let season = told.season(Column::Season).map(|season| (season, told.at));
        if season.is_none() {
            self.remarks.add(
                "A row of counts without a season; the season of the cross stays unknown",
                told.at,
            );
        }
        Claim {
            at: told.at,
            code: None,
            says: Says { seed, pollen, season, by: None },
            worked_out: None,
        }
    }

    /// The cross of each seedling.
    fn place(
        &mut self,
        gathered: &Gathered<'_, '_>,
        enrolled: &Enrolled,
        claims: &[Claim<'_>],
    ) -> Vec<Option<usize>> {
        let homes: Vec<Option<usize>> =
            enrolled.seedlings.iter().map(|who| self.old_cross((*who)?)).collect();
        let new = claims.iter().zip(&homes).filter(|(_, home)| home.is_none());
        self.families.settle(new.map(|(claim, _)| claim), &self.names, self.faults);
        for ((claim, home), told) in claims.iter().zip(&homes).zip(&gathered.seedlings) {
            let Some(home) = *home else { continue };
            self.confirm(claim, home, told);
        }
        claims
            .iter()
            .zip(&homes)
            .zip(enrolled.seedlings.iter().zip(&gathered.seedlings))
            .map(|((claim, home), (who, told))| {
                who.as_ref()?;
                if home.is_some() {
                    return *home;
                }
                let n = self.families.place(claim, self.faults)?;
                self.remark_assumed(n, claim, told);
                Some(n)
            })
            .collect()
    }

    /// The cross of a seedling of the book.
    fn old_cross(&self, who: Who) -> Option<usize> {
        let id = PlantId(u32::try_from(who.0).ok()?);
        let is_old = self.names.sort(who) == Sort::OldSeedling;
        is_old.then(|| self.book.cross_of(id).map(CrossId::index))?
    }

    /// Holds the parents that rows of varieties give to seedlings of the book against the book.
    fn confirm_varieties(
        &mut self,
        gathered: &Gathered<'_, '_>,
        enrolled: &Enrolled,
        parents: &[Parents],
    ) {
        let with_rows: BTreeSet<Who> = enrolled.seedlings.iter().flatten().copied().collect();
        for ((told, who), parents) in
            gathered.varieties.iter().zip(&enrolled.varieties).zip(parents)
        {
            let Some(who) = who.map(|who| self.names.really(who)) else { continue };
            // Where the seedling has a row of its own, that one has spoken for both.
            if with_rows.contains(&who) {
                continue;
            }
            let Some(home) = self.old_cross(who) else { continue };
            let Parents { seed, pollen } = parents.clone();
            let says = Says { seed, pollen, ..Says::default() };
            if self.families.agree(home, &says, &self.names, self.faults) {
                self.remarks.add("Parents of a seedling of the book; noted for its cross", told.at);
            }
        }
    }

    /// Holds what the row of a seedling of the book says of its cross against the book.
    fn confirm(&mut self, claim: &Claim<'_>, home: usize, told: &Told<'_, '_>) {
        self.families.agree(home, &claim.says, &self.names, self.faults);
        let code = self.families.list[home].code.as_deref().unwrap_or_default();
        if let Some(said) = claim.code
            && said != code
        {
            self.faults.add(
                told.at(Column::Cross),
                format!("This plant is of cross {code} in the book, and this row says {said}."),
                "Correct the row; in the book a plant is moved to another cross by hand.",
            );
        }
    }

    /// Notes what was taken to be so of a cross that is made for the row.
    fn remark_assumed(&mut self, n: usize, claim: &Claim<'_>, told: &Told<'_, '_>) {
        let family = &self.families.list[n];
        if family.old {
            return;
        }
        if claim.says.season.is_none() && family.season == claim.worked_out {
            match claims::worked_out(told) {
                Some((_, what)) => self.remarks.add(
                    &format!("The season of the cross is taken as the year before {what}"),
                    told.at,
                ),
                None => self.remarks.add("The season of the cross is not known", told.at),
            }
        }
        if claim.says.by.is_none() && family.by == By::Bees && claim.code.is_none() {
            self.remarks.add(
                "The pollen parent is not known for certain and nothing says how it was \
                 pollinated; taken as by bees",
                told.at,
            );
        }
    }

    /// The cross of each row of counts.
    fn place_counts(
        &mut self,
        gathered: &Gathered<'_, '_>,
        claims: &[Claim<'_>],
    ) -> Vec<Option<usize>> {
        let mut places = Vec::with_capacity(claims.len());
        for (claim, told) in claims.iter().zip(&gathered.counts) {
            let pair = claim.says.pair();
            let like = self.families.like(&pair, claim.says.season.map(|(season, _)| season));
            let counted: Vec<usize> = like
                .iter()
                .copied()
                .filter(|&n| self.book.crosses().get(n).is_some_and(|c| c.totals.is_some()))
                .collect();
            places.push(match (&like[..], &counted[..]) {
                ([], _) => self.families.place(claim, self.faults),
                ([only], _) | (_, [only]) => Some(*only),
                _ => {
                    let way_out = "Counts cannot say which is meant; enter them in the book";
                    self.families.ambiguous(&like, told.at, way_out, self.faults);
                    None
                }
            });
        }
        places
    }

    /// Gives a code to every cross that has none.
    fn give_codes(&mut self) {
        let taken = self.families.list.iter().filter_map(|f| f.code.clone()).collect();
        let mut codes = Codes::new(&self.book.about().patterns.cross, taken);
        for n in self.families.nameless(&self.names) {
            self.families.list[n].code = Some(codes.take(self.families.list[n].season));
        }
    }

    /// Lays out a record for every new variety and every new or altered cross.
    fn open_records(&mut self) {
        self.homes = vec![None; self.names.all().len()];
        for who in self.names.all() {
            let new = matches!(self.names.sort(who), Sort::NewVariety | Sort::NewParent);
            if who.0 < self.varieties.len() && self.names.sort(who) == Sort::OldVariety {
                self.homes[who.0] = Some(Home::Variety(who.0));
            } else if new {
                let (id, name) = (self.names.key(who).into(), self.names.label(who).into());
                self.changed_varieties.insert(self.varieties.len());
                self.homes[who.0] = Some(Home::Variety(self.varieties.len()));
                self.varieties.push(Variety { id, name, ..Variety::default() });
            }
        }
        let mut who = self.book.varieties().len();
        for (n, cross) in self.crosses.iter().enumerate() {
            for m in 0..cross.seedlings.len() {
                self.homes[who] = Some(Home::Seedling(n, m));
                who += 1;
            }
        }
        self.repoint();
        for (n, family) in self.families.list.iter().enumerate() {
            if !family.changed {
                continue;
            }
            self.changed_crosses.insert(n);
            let seed = family.pair.seed.to_parent(&self.names);
            let pollen = family.pair.to_pollen(&self.names);
            let season = family.season;
            if let Some(cross) = self.crosses.get_mut(n) {
                (cross.seed, cross.pollen, cross.season) = (seed, pollen, season);
            } else {
                let code = family.code.clone().unwrap_or_default();
                let by = family.by;
                self.crosses.push(Cross { code, season, seed, pollen, by, ..Cross::default() });
            }
        }
    }

    /// Lets records that name a variety name the seedling that it was found to be.
    fn repoint(&mut self) {
        let moved: BTreeMap<Box<str>, Box<str>> = self
            .names
            .all()
            .take(self.book.varieties().len())
            .filter(|&who| self.names.really(who) != who)
            .map(|who| (self.names.key(who).into(), self.names.key(self.names.really(who)).into()))
            .filter(|(old, new)| old != new)
            .collect();
        if moved.is_empty() {
            return;
        }
        let repoint = |parent: &mut Parent| -> bool {
            let keys: Vec<&mut Box<str>> = match parent {
                Parent::Known(key) => vec![key],
                Parent::OneOf(list) => list.iter_mut().map(|c| &mut c.key).collect(),
                Parent::Unknown => Vec::new(),
            };
            let mut any = false;
            for key in keys {
                if let Some(new) = moved.get(key) {
                    *key = new.clone();
                    any = true;
                }
            }
            any
        };
        for (n, variety) in self.varieties.iter_mut().enumerate() {
            if repoint(&mut variety.seed) | repoint(&mut variety.pollen) {
                self.changed_varieties.insert(n);
            }
        }
        for (n, cross) in self.crosses.iter_mut().enumerate() {
            let pollen = match &mut cross.pollen {
                Pollen::From(parent) => repoint(parent),
                Pollen::Selfed => false,
            };
            if repoint(&mut cross.seed) | pollen {
                self.changed_crosses.insert(n);
            }
        }
    }
}
