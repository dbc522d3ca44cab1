//! The pairings behind the keepers of a season.

use crate::book::{Season, Verdict};
use crate::views::{Desk, Interval, Levels, pairings};

/// One pairing with keepers in the season.
#[derive(Debug, Clone, PartialEq)]
pub struct Behind {
    /// Its place in [`Desk::pairings`].
    pub pairing: usize,
    /// Plants of it first judged in the season.
    pub judged: u32,
    /// Of those, kept.
    pub kept: u32,
    /// Kept of judged, in the season.
    pub rate: Option<Interval>,
    /// The record of the pairing over all seasons.
    pub record: pairings::Row,
}

/// The pairings with keepers in a season, the most keepers first.
pub fn behind(desk: &Desk, season: Season, levels: Levels) -> Vec<Behind> {
    let mut found: Vec<Behind> = desk
        .pairings()
        .iter()
        .enumerate()
        .filter_map(|(at, pairing)| {
            let (mut judged, mut kept) = (0, 0);
            for &id in &pairing.crosses {
                for plant in desk.book().family(id) {
                    let brief = desk.brief(plant);
                    if brief.season() == Some(season) {
                        judged += u32::from(matches!(
                            brief.sorting,
                            Some(Verdict::Keep | Verdict::Discard)
                        ));
                        kept += u32::from(brief.sorting == Some(Verdict::Keep));
                    }
                }
                let cross = desk.book().cross(id);
                if let Some(totals) = &cross.totals
                    && totals.judged_season.or(cross.season.map(Season::next)) == Some(season)
                {
                    judged = judged.saturating_add(totals.judged.unwrap_or_default());
                    kept = kept.saturating_add(totals.kept.unwrap_or_default());
                }
            }
            (kept > 0).then(|| Behind {
                pairing: at,
                judged,
                kept,
                rate: levels.rate(kept, judged),
                record: pairings::row(desk, pairing, levels),
            })
        })
        .collect();
    found.sort_by(|a, b| (b.kept, a.judged, a.pairing).cmp(&(a.kept, b.judged, b.pairing)));
    found
}
