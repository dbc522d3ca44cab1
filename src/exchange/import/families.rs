//! Which rows are of one cross.
//!
//! A code says it outright. Without one, rows share a cross for each pair of parents, season and
//! way of pollinating, with a cross of the book or of another row's code if it is the same in
//! all this.

use std::collections::{BTreeMap, HashMap};

use foldhash::fast::FixedState;

use super::{
    faults::{At, Faults},
    kin::{Kin, Mark, Pair, PollenKin},
    names::Names,
};
use crate::book::{Book, By, Season};

/// One cross, of the book or to be made.
#[derive(Debug)]
pub(super) struct Family {
    /// Absent until one is given to it.
    pub(super) code: Option<Box<str>>,
    pub(super) pair: Pair,
    pub(super) season: Option<Season>,
    pub(super) by: By,
    /// Whether the book had it.
    pub(super) old: bool,
    /// Whether something about it changed.
    pub(super) changed: bool,
}

/// What is said of a cross, each with the cell that says it; absent where nothing is said.
#[derive(Debug, Clone, Default)]
pub(super) struct Says {
    pub(super) seed: Option<(Kin, At)>,
    pub(super) pollen: Option<(PollenKin, At)>,
    pub(super) season: Option<(Season, At)>,
    pub(super) by: Option<(By, At)>,
}

/// What one row says of the cross that its plant is of.
#[derive(Debug, Clone)]
pub(super) struct Claim<'r> {
    pub(super) at: At,
    pub(super) code: Option<&'r str>,
    pub(super) says: Says,
    /// The season as worked out from what came later.
    pub(super) worked_out: Option<Season>,
}

type Key = (Mark, Option<Season>);

/// All crosses; those of the book come first, in its order.
#[derive(Debug, Default)]
pub(super) struct Families {
    pub(super) list: Vec<Family>,
    by_code: BTreeMap<Box<str>, usize>,
    /// Crosses of the book and of codes.
    fixed: HashMap<Key, Vec<usize>, FixedState>,
    /// Crosses made for rows without a code.
    made: HashMap<(Key, By), usize, FixedState>,
}

/// How the pollen is taken to have got there where nobody said.
pub(super) fn usual_way(pair: &Pair) -> By {
    if pair.pollen_known() { By::Hand } else { By::Bees }
}

impl Families {
    /// The crosses of the book.
    pub(super) fn of(book: &Book, names: &Names<'_>) -> Self {
        let mut families = Self::default();
        for (n, cross) in book.crosses().iter().enumerate() {
            // A cross with a parent whom nobody knows is like no other.
            let pair = Pair::of(&cross.seed, &cross.pollen, book, names);
            families.by_code.entry(cross.code.clone()).or_insert(n);
            if let Some(pair) = &pair {
                families.fixed.entry((pair.mark(), cross.season)).or_default().push(n);
            }
            families.list.push(Family {
                code: Some(cross.code.clone()),
                pair: pair.unwrap_or_default(),
                season: cross.season,
                by: cross.by,
                old: true,
                changed: false,
            });
        }
        families
    }

    /// The cross that bears a code.
    pub(super) fn by_code(&self, code: &str) -> Option<usize> {
        self.by_code.get(code).copied()
    }

    /// Settles the crosses that rows name by code: what one row says of a cross holds for all
    /// its rows, and two that differ are a fault. To be called before [`Families::place`], with
    /// the claims in an order that does not depend on that of the rows.
    pub(super) fn settle<'c, 'r: 'c>(
        &mut self,
        claims: impl Iterator<Item = &'c Claim<'r>>,
        names: &Names<'_>,
        faults: &mut Faults<'_>,
    ) {
        let mut by_code: BTreeMap<&str, Vec<&Claim<'_>>> = BTreeMap::new();
        for claim in claims {
            if let Some(code) = claim.code {
                by_code.entry(code).or_default().push(claim);
            }
        }
        for (code, claims) in by_code {
            let says = Says::all(code, &claims, names, faults);
            if let Some(n) = self.by_code(code) {
                self.agree(n, &says, names, faults);
                continue;
            }
            let pair = says.pair();
            let worked_out = claims.iter().filter_map(|c| c.worked_out).min();
            let season = says.season.map(|(season, _)| season).or(worked_out);
            let by = says.by.map_or_else(|| usual_way(&pair), |(by, _)| by);
            let n = self.list.len();
            self.by_code.insert(code.into(), n);
            self.fixed.entry((pair.mark(), season)).or_default().push(n);
            let code = Some(code.into());
            self.list.push(Family { code, pair, season, by, old: false, changed: true });
        }
    }

    /// Holds what is said of a cross of the book against what the book has. What is more is
    /// taken in.
    pub(super) fn agree(
        &mut self,
        n: usize,
        says: &Says,
        names: &Names<'_>,
        faults: &mut Faults<'_>,
    ) -> bool {
        let family = &mut self.list[n];
        let code = family.code.clone().unwrap_or_default();
        let mut differs = |what: &str, at: At, known: &str, told: &str| {
            faults.add(
                at,
                format!("Cross {code} has {what} {known} in the book, and this row says {told}."),
                "Correct the row, or the cross in the book.",
            );
        };
        let (mut pair, mut season) = (family.pair.clone(), family.season);
        if let Some((seed, at)) = &says.seed {
            if pair.seed == Kin::Unknown {
                pair = Pair::new(seed.clone(), pair.pollen);
            } else if *seed != Kin::Unknown && !seed.is(&pair.seed) {
                differs("seed_parent", *at, &pair.seed.shown(names), &seed.shown(names));
            }
        }
        if let Some((pollen, at)) = &says.pollen {
            let told = Pair::new(pair.seed.clone(), pollen.clone());
            if pair.pollen.is_unknown() {
                pair = told;
            } else if !told.pollen.is_unknown() && !told.pollen.is(&pair.pollen) {
                differs("pollen_parent", *at, &pair.pollen.shown(names), &pollen.shown(names));
            }
        }
        match (season, says.season) {
            (Some(known), Some((told, at))) if known != told => {
                differs("season", at, &known.to_string(), &told.to_string());
            }
            (None, Some((told, _))) => season = Some(told),
            _ => {}
        }
        if let Some((by, at)) = says.by
            && by != family.by
        {
            differs("by", at, way(family.by), way(by));
        }
        let (before, after) = ((family.pair.mark(), family.season), (pair.mark(), season));
        if before == after {
            return false;
        }
        (family.pair, family.season, family.changed) = (pair, season, true);
        if let Some(like) = self.fixed.get_mut(&before) {
            like.retain(|&other| other != n);
        }
        self.fixed.entry(after).or_default().push(n);
        true
    }

    /// The cross of a row: the one it names, or the one it shares with its like.
    pub(super) fn place(&mut self, claim: &Claim<'_>, faults: &mut Faults<'_>) -> Option<usize> {
        if let Some(code) = claim.code {
            return self.by_code(code);
        }
        let pair = claim.says.pair();
        let season = claim.says.season.map(|(season, _)| season).or(claim.worked_out);
        let said_by = claim.says.by.map(|(by, _)| by);
        let by = said_by.unwrap_or_else(|| usual_way(&pair));
        let key = (pair.mark(), season);
        let like = self.fixed.get(&key).map_or(&[][..], |like| like);
        let mut fit: Vec<usize> = like.iter().copied().filter(|&n| self.list[n].by == by).collect();
        if fit.is_empty() && said_by.is_none() {
            fit = like.to_vec();
        }
        match fit[..] {
            [only] => Some(only),
            [] => Some(*self.made.entry((key, by)).or_insert_with(|| {
                self.list.push(Family { code: None, pair, season, by, old: false, changed: true });
                self.list.len() - 1
            })),
            [..] => {
                self.ambiguous(&fit, claim.at, "Write under cross which one is meant", faults);
                None
            }
        }
    }

    /// The fault of a row that may be of several crosses.
    pub(super) fn ambiguous(&self, fit: &[usize], at: At, way_out: &str, faults: &mut Faults<'_>) {
        let code = |n: &usize| self.list[*n].code.as_deref().unwrap_or("(new)");
        let codes: Vec<&str> = fit.iter().take(5).map(code).collect();
        faults.add(
            at,
            "Several crosses have these parents in this season.",
            format!("{way_out}: {} …", codes.join(", ")),
        );
    }

    /// Every cross of this pair in this season, however it was pollinated.
    pub(super) fn like(&self, pair: &Pair, season: Option<Season>) -> Vec<usize> {
        let key = (pair.mark(), season);
        let mut like = self.fixed.get(&key).cloned().unwrap_or_default();
        for by in [By::Hand, By::Bees] {
            like.extend(self.made.get(&(key.clone(), by)));
        }
        like
    }

    /// The crosses that have no code yet, in an order that does not depend on that of the rows.
    pub(super) fn nameless(&self, names: &Names<'_>) -> Vec<usize> {
        let mut nameless: Vec<usize> =
            (0..self.list.len()).filter(|&n| self.list[n].code.is_none()).collect();
        nameless.sort_by_cached_key(|&n| {
            let Family { pair, season, by, .. } = &self.list[n];
            let key = |kin: &Kin| {
                let parent = kin.to_parent(names);
                let (keys, weights): (Vec<String>, Vec<String>) =
                    parent.candidates().map(|(k, w)| (k.to_owned(), format!("{w:.6}"))).unzip();
                (keys.is_empty(), keys, weights)
            };
            let pollen = match &pair.pollen {
                PollenKin::From(kin) => Some(key(kin)),
                PollenKin::Selfed => None,
            };
            (season.is_none(), *season, key(&pair.seed), pollen, *by == By::Bees)
        });
        nameless
    }
}

impl Says {
    /// The pair; a parent of whom nothing is said is unknown.
    pub(super) fn pair(&self) -> Pair {
        let seed = self.seed.as_ref().map(|(seed, _)| seed.clone());
        let pollen = self.pollen.as_ref().map(|(pollen, _)| pollen.clone());
        Pair::new(seed.unwrap_or_default(), pollen.unwrap_or_default())
    }

    /// What the rows of one cross say together.
    fn all(code: &str, claims: &[&Claim<'_>], names: &Names<'_>, faults: &mut Faults<'_>) -> Self {
        let mut all = Self::default();
        // Whichever row came first, none of them is taken: who is right cannot be told.
        let rows: Vec<At> = claims.iter().map(|claim| claim.at).collect();
        for Claim { says, .. } in claims {
            let seed = |seed: &Kin| seed.shown(names);
            meet(
                &mut all.seed,
                says.seed.as_ref(),
                Kin::is,
                (faults, &rows),
                (code, "seed parent", seed),
            );
            let season = |season: &Season| season.to_string();
            let told = says.season.as_ref();
            meet(&mut all.season, told, Season::eq, (faults, &rows), (code, "season", season));
            let way = |by: &By| way(*by).to_owned();
            let told = says.by.as_ref();
            meet(&mut all.by, told, By::eq, (faults, &rows), (code, "way of pollinating", way));
        }
        for Claim { says, .. } in claims {
            // Pollen of the seed parent is a selfing, and another row may have named that.
            let told = says.pollen.as_ref().map(|(pollen, at)| {
                let seed = all.seed.as_ref().map(|(seed, _)| seed.clone());
                (Pair::new(seed.unwrap_or_default(), pollen.clone()).pollen, *at)
            });
            let pollen = |pollen: &PollenKin| pollen.shown(names);
            let what = (code, "pollen parent", pollen);
            meet(&mut all.pollen, told.as_ref(), PollenKin::is, (faults, &rows), what);
        }
        all
    }
}

/// Takes in what another row of a cross says; two rows that differ are a fault of all its rows.
fn meet<T: Clone>(
    known: &mut Option<(T, At)>,
    told: Option<&(T, At)>,
    same: impl Fn(&T, &T) -> bool,
    (faults, rows): (&mut Faults<'_>, &[At]),
    (code, what, shown): (&str, &str, impl Fn(&T) -> String),
) {
    let Some((told, at)) = told else { return };
    let Some((known, first)) = known else {
        *known = Some((told.clone(), *at));
        return;
    };
    if !same(known, told) {
        let place = faults.place(*first, *at);
        faults.add_with(
            *at,
            rows,
            format!(
                "This row gives cross {code} the {what} {}, and {place} gives it {}.",
                shown(told),
                shown(known)
            ),
            "All rows of one cross have the same parents, season and way of pollinating.",
        );
    }
}

fn way(by: By) -> &'static str {
    match by {
        By::Hand => "hand",
        By::Bees => "bees",
    }
}
