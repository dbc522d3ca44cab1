//! The page of first blooms: how long the plants of a group waited, beside all others.

use crate::book::{CrossId, PlantId, Usual};
use crate::merit::HeldOver;

use super::{
    Desk, Interval, Levels,
    first_bloom::{self, Line, Of},
};

/// Whose waits are asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Whose {
    /// All seedlings of the book.
    Programme,
    /// The seedlings of a cross.
    Cross(CrossId),
    /// The seedlings of a pairing, by its place in [`Desk::pairings`].
    Pairing(usize),
    /// The seedlings of a parent.
    Parent(PlantId),
}

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// All seedlings.
    pub programme: Line,
    /// The groups: the one asked about first, then pairings, parents and beds, those with most
    /// plants first.
    pub groups: Vec<Line>,
    /// Plants held over because they had not bloomed, and those of them that were kept.
    pub held_over: HeldOver,
    /// The chance that holding one over ends in a keeper.
    pub held_over_kept: Interval,
}

/// Puts the page together. May take a second in a large book.
pub fn page(desk: &Desk, whose: Whose, levels: Levels) -> Page {
    let found = first_bloom::curves(desk, levels);
    let mut groups = Vec::new();
    for mut lines in [found.pairings, found.parents, found.beds] {
        lines.sort_by(|a, b| b.watched.cmp(&a.watched).then_with(|| a.of.cmp(&b.of)));
        groups.extend(lines);
    }
    let asked = match whose {
        Whose::Programme => None,
        Whose::Cross(cross) => Some(first_bloom::of_cross(desk, cross, levels)),
        Whose::Pairing(at) => take(&mut groups, &Of::Pairing(at)),
        Whose::Parent(plant) => take(&mut groups, &Of::Parent(plant)),
    };
    groups.splice(0..0, asked);
    let held_over = desk.first_bloom().held_over();
    Page {
        programme: found.programme,
        groups,
        held_over,
        held_over_kept: held_over.chance(usual_held_over(desk), levels.shrunk),
    }
}

fn take(groups: &mut Vec<Line>, of: &Of) -> Option<Line> {
    let at = groups.iter().position(|line| line.of == *of)?;
    Some(groups.remove(at))
}

fn usual_held_over(desk: &Desk) -> &Usual {
    &desk.book().crop().rates.held_over_kept
}

impl Line {
    /// The share in bloom so many days after planting, with its range; absent where nobody was
    /// watched for as long.
    pub fn in_bloom(&self, day: f64) -> Option<(f64, Option<(f64, f64)>)> {
        let after = self.steps.partition_point(|step| step.day <= day);
        let Some(step) = self.steps[..after].last() else {
            return self.last.is_some_and(|last| day <= last).then_some((0.0, None));
        };
        let is_known = step.survival <= 0.0 || self.last.is_some_and(|last| day <= last);
        let range = step.range.map(|(low, high)| (1.0 - high, 1.0 - low));
        is_known.then_some((1.0 - step.survival, range))
    }

    /// The day of the year so many days after the usual day of planting.
    pub fn on(&self, day: f64) -> Option<f64> {
        Some(f64::from(self.planted?) + day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::views::first_bloom::Step;

    #[test]
    fn the_share_in_bloom_rises_step_by_step_and_ends_with_what_was_watched() {
        let step =
            |day, survival, range| Step { day, at_risk: 4, bloomed: 1, survival, se: None, range };
        let line = Line {
            of: Of::Programme,
            watched: 4,
            bloomed: 2,
            half: None,
            half_range: (None, None),
            steps: vec![step(60.0, 0.75, Some((0.3, 0.95))), step(70.0, 0.5, None)],
            between: Vec::new(),
            last: Some(90.0),
            planted: Some(148),
        };
        assert_eq!(line.in_bloom(10.0), Some((0.0, None)));
        let (share, range) = line.in_bloom(65.0).unwrap_or_default();
        let (low, high) = range.unwrap_or_default();
        assert!((share - 0.25).abs() < 1e-12 && (low - 0.05).abs() < 1e-12);
        assert!((high - 0.7).abs() < 1e-12);
        assert_eq!(line.in_bloom(90.0), Some((0.5, None)));
        assert_eq!(line.in_bloom(91.0), None, "nobody was watched for as long");
        assert_eq!(line.on(10.0), Some(158.0));
    }
}
