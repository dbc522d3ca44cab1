//! The ancestors of a plant, each once by its shortest way.
//!
//! A parent's number is higher than those of its own parents, so taking the highest number first
//! takes every plant after all ways to it are known, and takes it once. Where a loop breaks that
//! order, a plant is taken again until nothing changes.

use crate::book::PlantId;

use super::{Link, Pedigree, Scratch};

/// On which side of a plant an ancestor stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Behind its seed parent only.
    Seed,
    /// Behind its pollen parent only.
    Pollen,
    /// Behind both.
    Both,
}

/// A plant from which another may descend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ancestor {
    /// The plant.
    pub plant: PlantId,
    /// Generations back by the shortest way; a parent is 1.
    pub generation: u32,
    /// On which side.
    pub side: Side,
    /// Whether some way leads there through known parents only.
    pub certain: bool,
}

impl Pedigree {
    /// The ancestors of a plant, at most `limit` generations back: nearest first, and of one
    /// generation those behind the seed parent, behind the pollen parent, behind both. A plant
    /// in a loop is not listed among its own ancestors.
    pub fn ancestors(&self, plant: PlantId, limit: Option<u32>) -> Vec<Ancestor> {
        let mut scratch = Scratch::default();
        self.ancestors_in(plant, limit, &mut scratch);
        scratch.ancestors
    }

    /// The same, in a room to work in that can be used again.
    pub fn ancestors_in<'s>(
        &self,
        plant: PlantId,
        limit: Option<u32>,
        scratch: &'s mut Scratch,
    ) -> &'s [Ancestor] {
        let Scratch { climb, places, ancestors, .. } = scratch;
        climb.up(self, plant, limit.unwrap_or(u32::MAX));
        let nobody = Ancestor { plant, generation: 0, side: Side::Both, certain: false };
        ancestors.resize(climb.met.len(), nobody);
        let (found, plants) = (&mut ancestors[..], self.used());
        let key = |marks: &[u32], used: u32| marks[used as usize] / ONE_SIDE;
        // Round a loop a plant may turn out to stand on the other side too.
        let highest = (climb.highest | BITS) / ONE_SIDE;
        by_small_key(&climb.met, places, highest, &mut climb.marks[..], key, |marks, at, used| {
            let mark = std::mem::replace(&mut marks[used as usize], FRESH);
            found[at] = Ancestor {
                plant: plants[used as usize],
                generation: generation(mark),
                side: side(mark),
                certain: is_certain(mark),
            };
        });
        climb.done();
        ancestors
    }
}

/// A link as a climb takes it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Above {
    /// The number of the parent.
    pub(super) used: u32,
    /// What of a mark goes over this link.
    passes: u32,
}

impl Above {
    pub(super) fn of(link: &Link) -> Self {
        Self { used: link.used, passes: if link.is_certain() { !0 } else { !CERTAIN } }
    }
}

/// A climb through the ancestors. A mark holds the generation above four bits; the highest
/// possible generation means not met.
#[derive(Debug, Clone, Default)]
pub(super) struct Climb {
    /// Of each plant used as a parent; all `FRESH` between questions.
    pub(super) marks: Vec<u32>,
    /// One bit for each plant whose parents are to be told; all zero between questions.
    waiting: Vec<u64>,
    /// The ancestors met.
    pub(super) met: Vec<u32>,
    /// The mark of one of the last generation met.
    highest: u32,
    own: Option<u32>,
}

/// Its parents have been told once; this bit is never passed on.
const TOLD: u32 = 1;
const CERTAIN: u32 = 2;
/// Generation and side above this make the order of the answer.
const ONE_SIDE: u32 = 4;
const SEED: u32 = ONE_SIDE;
const POLLEN: u32 = 2 * ONE_SIDE;
const BITS: u32 = 0xf;
const ONE_GENERATION: u32 = 0x10;
pub(super) const FRESH: u32 = !BITS;
/// Generation 0, and nothing new to learn.
const ITSELF: u32 = BITS;

pub(super) fn generation(mark: u32) -> u32 {
    mark / ONE_GENERATION
}

pub(super) fn is_certain(mark: u32) -> bool {
    mark & CERTAIN != 0
}

fn side(mark: u32) -> Side {
    match mark & (SEED | POLLEN) {
        SEED => Side::Seed,
        POLLEN => Side::Pollen,
        _ => Side::Both,
    }
}

impl Climb {
    /// Marks the ancestors of a plant, and the plant itself if it is used as a parent.
    pub(super) fn up(&mut self, pedigree: &Pedigree, plant: PlantId, limit: u32) {
        let n = pedigree.used().len();
        if self.marks.len() < n {
            self.marks.resize(n, FRESH);
            self.waiting.resize(n.div_ceil(64), 0);
        }
        self.met.clear();
        let family = pedigree.family_of(plant);
        self.own = pedigree.used_number_in(family, plant);
        if let Some(own) = self.own {
            self.marks[own as usize] = ITSELF;
        }
        let mut told = Told { marks: &mut self.marks, waiting: &mut self.waiting, top: 0 };
        if limit > 0 {
            let parents = pedigree.parents_of(family);
            for (links, side) in [(parents.seed, SEED), (parents.pollen, POLLEN)] {
                for link in links {
                    told.tell(Above::of(link), ONE_GENERATION | side | CERTAIN);
                }
            }
        }
        let mut highest = 0;
        while let Some(used) = told.take_highest() {
            let mark = told.marks[used as usize];
            if mark & TOLD == 0 {
                self.met.push(used);
                told.marks[used as usize] = mark | TOLD;
                highest = highest.max(mark);
            }
            if generation(mark) < limit {
                let mark = (mark & !TOLD) + ONE_GENERATION;
                for &above in pedigree.above(used) {
                    told.tell(above, mark);
                }
            }
        }
        self.highest = highest;
    }

    /// Makes everything as fresh as before, when the marks of those met are already.
    fn done(&mut self) {
        if let Some(own) = self.own.take() {
            self.marks[own as usize] = FRESH;
        }
    }
}

/// What is known so far while a climb goes on. Apart from [`Climb`], so that it stays at hand.
struct Told<'c> {
    marks: &'c mut [u32],
    waiting: &'c mut [u64],
    /// No bit is set above this word of `waiting`.
    top: u32,
}

impl Told<'_> {
    /// Merges what is known of a plant into the mark of a parent. Written without branches:
    /// which parents are news cannot be guessed, and a wrong guess costs more than the work.
    #[inline]
    fn tell(&mut self, above: Above, mark: u32) {
        let mark = mark & above.passes;
        let place = &mut self.marks[above.used as usize];
        let old = *place;
        let new = (old & !BITS).min(mark & !BITS) | ((old | mark) & BITS);
        *place = new;
        let word = above.used / 64;
        self.waiting[word as usize] |= u64::from(new != old) << (above.used % 64);
        self.top = self.top.max(word);
    }

    #[inline]
    fn take_highest(&mut self) -> Option<u32> {
        loop {
            let word = self.waiting.get_mut(self.top as usize)?;
            if *word != 0 {
                let bit = word.ilog2();
                *word ^= 1 << bit;
                return Some(self.top * 64 + bit);
            }
            self.top = self.top.checked_sub(1)?;
        }
    }
}

/// Puts numbers in order of a key from 0 to `highest`, and turns the order among equals round:
/// what was met youngest first comes out oldest first. `put` is given each with its place;
/// `places` is room to work in.
pub(super) fn by_small_key<T: ?Sized>(
    numbers: &[u32],
    places: &mut Vec<u32>,
    highest: u32,
    about: &mut T,
    key: impl Fn(&T, u32) -> u32,
    mut put: impl FnMut(&mut T, usize, u32),
) {
    places.clear();
    places.resize(highest as usize + 1, 0);
    let places = &mut places[..];
    for &number in numbers {
        places[key(about, number) as usize] += 1;
    }
    let mut next = 0;
    for place in places.iter_mut() {
        next += std::mem::replace(place, next);
    }
    for &number in numbers.iter().rev() {
        let place = &mut places[key(about, number) as usize];
        put(about, *place as usize, number);
        *place += 1;
    }
}
