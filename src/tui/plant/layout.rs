//! Where the parts of a plant's page stand.

use ratatui::layout::Rect;

use crate::tui::{
    facts::{self, Fact},
    page::Around,
    widget::section::{above, below, beside},
};
use crate::views::plant::Page as Record;

/// The parts; one without room is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Layout {
    pub(super) facts: Rect,
    pub(super) from: Rect,
    pub(super) diary: Rect,
    pub(super) offspring: Rect,
    pub(super) sibs: Rect,
}

impl Layout {
    pub(super) fn of(
        around: &Around<'_>,
        facts: &[Fact<'_>],
        n_from: usize,
        record: &Record,
    ) -> Self {
        let body = around.body;
        let n = |n: usize| u16::try_from(n).unwrap_or(u16::MAX);
        let has_offspring = !record.offspring.is_empty();
        let has_sibs = record.sibs.plants.len() > 1;
        let (left, right) = match body.width {
            0..66 => (body, Rect::ZERO),
            66..110 => beside(body, body.width / 2 - 1, 1),
            _ => beside(body, 56, 2),
        };
        let n_facts = facts::n_rows(facts, left.width, around.glyphs().ellipsis);
        let n_facts = n_facts.min(left.height / 2);
        let (facts, rest) = (above(left, n_facts), below(left, n_facts + 1));
        // Where nothing is known there is a sentence to say so.
        let n_from = n(n_from.max(1)).saturating_add(1);
        if right.is_empty() {
            let from = above(rest, n_from.min(rest.height.div_ceil(2)));
            let diary = below(rest, from.height + 1);
            return Self { facts, from, diary, ..Self::default() };
        }
        let from = above(rest, n_from);
        // Offspring and sibs under the diary; the diary under the pedigree where there is room
        // enough for it.
        let under = below(rest, from.height + 1);
        let (diary, right) = if body.width >= 110 && under.height >= 8 {
            (under, right)
        } else {
            let share = right.height / if has_offspring { 3 } else { 2 };
            let high = n(record.diary.len()).saturating_add(3).min(share).max(4);
            (above(right, high.saturating_sub(1)), below(right, high))
        };
        if !has_offspring {
            return Self {
                facts,
                from,
                diary,
                offspring: Rect::ZERO,
                sibs: if has_sibs { right } else { Rect::ZERO },
            };
        }
        let wanted = n(record.offspring.len()).saturating_add(3);
        let high = if has_sibs { wanted.min(right.height / 2) } else { right.height };
        let offspring = above(right, if has_sibs { high.saturating_sub(1) } else { high });
        let sibs = if has_sibs { below(right, high) } else { Rect::ZERO };
        Self { facts, from, diary, offspring, sibs }
    }
}
