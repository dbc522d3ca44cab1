//! Two versions of one part, both come of the same older one, made into one: field by field, and
//! diaries entry by entry.

use std::{cmp::Ordering, fmt::Debug};

use super::{
    super::{About, Cross, Entry, Head, Lot, Seedling, Variety},
    Part,
};

/// A part out of two.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Merged {
    /// They did not touch each other.
    Clean(Part),
    /// They did: what comes out where mine goes before, and where theirs does.
    Clash(Part, Part),
}

/// Merges two versions of a part; none where they are of different kinds.
pub(super) fn merge(base: &Part, mine: &Part, theirs: &Part) -> Option<Merged> {
    let mut hand = Hand { mine_first: true, has_clash: false };
    let merged = hand.part(base, mine, theirs)?;
    if !hand.has_clash {
        return Some(Merged::Clean(merged));
    }
    let other = Hand { mine_first: false, has_clash: false }.part(base, mine, theirs)?;
    Some(Merged::Clash(merged, other))
}

struct Hand {
    mine_first: bool,
    has_clash: bool,
}

/// The fields of a record, each merged; those after `;` are lists of which each item counts.
macro_rules! fields {
    ($hand:ident, $kind:ident, $base:ident, $mine:ident, $theirs:ident:
     $($field:ident),*; $($list:ident by $order:expr),*; $($rest:tt)*) => {
        $kind {
            $($field: $hand.pick(&$base.$field, &$mine.$field, &$theirs.$field),)*
            $($list: $hand.list(&$base.$list, &$mine.$list, &$theirs.$list, $order),)*
            $($rest)*
        }
    };
}

impl Hand {
    fn part(&mut self, base: &Part, mine: &Part, theirs: &Part) -> Option<Part> {
        Some(match (base, mine, theirs) {
            (Part::About(b), Part::About(m), Part::About(t)) => Part::About(Box::new(fields!(
                self, About, b, m, t:
                garden, raiser, crop, ploidy, double_reduction, sizes, today, patterns, note;
                beds by by_letters, frosts by by_letters, aims by by_letters,
                diary by by_date;))),
            (Part::Variety(b), Part::Variety(m), Part::Variety(t)) => {
                Part::Variety(Box::new(fields!(
                    self, Variety, b, m, t:
                    id, name, seed, pollen, raiser, year, group, bloom_mm, height_cm, colours,
                    gives_seed, gives_pollen, note;
                    diary by by_date;)))
            }
            (Part::Cross(b), Part::Cross(m), Part::Cross(t)) => Part::Cross(Box::new(fields!(
                self, Cross, b, m, t:
                code, season, seed, pollen, by, from, note, totals;;
                heads: Vec::new(),
                lots: Vec::new(),
                seedlings: Vec::new(),))),
            (Part::Head(b), Part::Head(m), Part::Head(t)) => {
                Part::Head(fields!(self, Head, b, m, t: tag; diary by by_date;))
            }
            (Part::Lot(b), Part::Lot(m), Part::Lot(t)) => {
                Part::Lot(fields!(self, Lot, b, m, t: code, father, seeds; diary by by_date;))
            }
            (Part::Seedling(b), Part::Seedling(m), Part::Seedling(t)) => {
                Part::Seedling(fields!(self, Seedling, b, m, t: number, id, lot; diary by by_date;))
            }
            _ => return None,
        })
    }

    fn pick<T: PartialEq + Clone>(&mut self, base: &T, mine: &T, theirs: &T) -> T {
        if mine == base || mine == theirs {
            return theirs.clone();
        }
        if theirs == base {
            return mine.clone();
        }
        self.has_clash = true;
        if self.mine_first { mine.clone() } else { theirs.clone() }
    }

    /// Merges lists between the items that both left in place.
    fn list<T: PartialEq + Clone>(
        &mut self,
        base: &[T],
        mine: &[T],
        theirs: &[T],
        order: fn(&T, &T) -> Ordering,
    ) -> Vec<T> {
        let (in_mine, in_theirs) = (common(base, mine), common(base, theirs));
        let mut merged = Vec::with_capacity(mine.len().max(theirs.len()));
        let (mut b, mut m, mut t) = (0, 0, 0);
        for (n, item) in base.iter().enumerate() {
            let (Some(to_m), Some(to_t)) = (in_mine[n], in_theirs[n]) else { continue };
            self.stretch(&mut merged, &base[b..n], &mine[m..to_m], &theirs[t..to_t], order);
            merged.push(item.clone());
            (b, m, t) = (n + 1, to_m + 1, to_t + 1);
        }
        self.stretch(&mut merged, &base[b..], &mine[m..], &theirs[t..], order);
        merged
    }

    /// Merges a stretch in which nothing was left in place by both.
    fn stretch<T: PartialEq + Clone>(
        &mut self,
        merged: &mut Vec<T>,
        base: &[T],
        mine: &[T],
        theirs: &[T],
        order: fn(&T, &T) -> Ordering,
    ) {
        if mine == base || mine == theirs {
            merged.extend_from_slice(theirs);
        } else if theirs == base {
            merged.extend_from_slice(mine);
        } else if base.is_empty() {
            both(merged, mine, theirs, order);
        } else if let Some(more) = theirs.strip_prefix(base) {
            merged.extend_from_slice(mine);
            merged.extend_from_slice(more);
        } else if let Some(more) = mine.strip_prefix(base) {
            merged.extend_from_slice(theirs);
            merged.extend_from_slice(more);
        } else if let Some(more) = theirs.strip_suffix(base) {
            merged.extend_from_slice(more);
            merged.extend_from_slice(mine);
        } else if let Some(more) = mine.strip_suffix(base) {
            merged.extend_from_slice(more);
            merged.extend_from_slice(theirs);
        } else {
            self.has_clash = true;
            merged.extend_from_slice(if self.mine_first { mine } else { theirs });
        }
    }
}

/// Both sides added here: in order, and what both added once.
fn both<T: PartialEq + Clone>(
    merged: &mut Vec<T>,
    mine: &[T],
    theirs: &[T],
    order: fn(&T, &T) -> Ordering,
) {
    let mut mine = mine.iter().filter(|item| !theirs.contains(item)).peekable();
    for item in theirs {
        while let Some(next) = mine.next_if(|next| order(next, item).is_lt()) {
            merged.push(next.clone());
        }
        merged.push(item.clone());
    }
    merged.extend(mine.cloned());
}

fn by_date<D: Debug>(a: &Entry<D>, b: &Entry<D>) -> Ordering {
    a.on.cmp(&b.on).then_with(|| by_letters(&a.did, &b.did))
}

fn by_letters<T: Debug>(a: &T, b: &T) -> Ordering {
    format!("{a:?}").cmp(&format!("{b:?}"))
}

/// Where in `other` each item of `base` is found again, in order: a longest common subsequence.
fn common<T: PartialEq>(base: &[T], other: &[T]) -> Vec<Option<usize>> {
    // What both begin and end with is no question, and nearly everything.
    let front = base.iter().zip(other).take_while(|(a, b)| a == b).count();
    let (left, right) = (&base[front..], &other[front..]);
    let back = left.iter().rev().zip(right.iter().rev()).take_while(|(a, b)| a == b).count();
    let (left, right) = (&left[..left.len() - back], &right[..right.len() - back]);
    let wide = right.len() + 1;
    let mut best = vec![0_usize; (left.len() + 1) * wide];
    for i in (0..left.len()).rev() {
        for j in (0..right.len()).rev() {
            best[i * wide + j] = if left[i] == right[j] {
                best[(i + 1) * wide + j + 1] + 1
            } else {
                best[(i + 1) * wide + j].max(best[i * wide + j + 1])
            };
        }
    }
    let mut found: Vec<Option<usize>> = (0..front).map(Some).collect();
    let (mut i, mut j) = (0, 0);
    while i < left.len() {
        if j < right.len() && left[i] == right[j] {
            found.push(Some(front + j));
            (i, j) = (i + 1, j + 1);
        } else if j == right.len() || best[(i + 1) * wide + j] >= best[i * wide + j + 1] {
            found.push(None);
            i += 1;
        } else {
            j += 1;
        }
    }
    found.extend((0..back).map(|n| Some(other.len() - back + n)));
    found
}
