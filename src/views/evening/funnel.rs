//! One year's seed from sowing to keepers, and that year's own heads.

use crate::book::{Counts, LotDeed, Season, Verdict, When};

use crate::views::{Desk, Interval, Levels, crosses::Heads};

/// A step on the way from seed to keeper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Along {
    /// Seeds sown in the season.
    Sown,
    /// Of those, seedlings that came up.
    CameUp,
    /// Plants first planted out in the season.
    Planted,
    /// Of those, plants that opened their first bloom in it.
    Opened,
    /// Of those, plants with a word of keep or discard at its end.
    Judged,
    /// Of those, plants whose word was keep.
    Kept,
}

/// How many reached a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Which step.
    pub along: Along,
    /// How many reached it.
    pub n: u32,
    /// The same in the season before.
    pub before: u32,
    /// Out of how many the share is taken.
    pub of: Option<u32>,
    /// The share.
    pub share: Option<Interval>,
    /// The share that is usual for the crop.
    pub usual: Option<f64>,
}

pub(super) fn steps(desk: &Desk, season: Season, levels: Levels) -> Vec<Step> {
    let now = counts(desk, season);
    let before = counts(desk, season.before());
    let usual = &desk.book().crop().rates;
    let step = |along, n: u32, before, of: Option<(u32, &crate::book::Usual)>| Step {
        along,
        n,
        before,
        of: of.map(|(of, _)| of),
        share: of.filter(|&(of, _)| n <= of).and_then(|(of, _)| levels.rate(n, of)),
        usual: of.map(|(_, usual)| usual.value).filter(|&share| share > 0.0),
    };
    let judged = Step {
        of: Some(now.bloomed),
        share: levels.rate(now.judged.min(now.bloomed), now.bloomed),
        ..step(Along::Judged, now.judged, before.judged, None)
    };
    vec![
        step(Along::Sown, now.sown, before.sown, None),
        step(Along::CameUp, now.up, before.up, Some((now.sown, &usual.up_of_sown))),
        step(Along::Planted, now.planted, before.planted, Some((now.sown, &usual.planted_of_sown))),
        step(
            Along::Opened,
            now.bloomed,
            before.bloomed,
            Some((now.planted, &usual.bloomed_of_planted)),
        ),
        judged,
        step(Along::Kept, now.kept, before.kept, Some((now.judged, &usual.kept_of_judged))),
    ]
}

/// What the seed of a season came to within that season. Families known by totals belong to the
/// season of their verdicts.
fn counts(desk: &Desk, season: Season) -> Counts {
    let mut sum = Counts::default();
    for cross in desk.book().crosses() {
        for entry in cross.lots.iter().flat_map(|lot| &lot.diary) {
            if entry.on.season() == season {
                match entry.did {
                    LotDeed::Sown { seeds } => {
                        sum.sown = sum.sown.saturating_add(seeds.unwrap_or_default());
                    }
                    LotDeed::Up(n) => sum.up = sum.up.saturating_add(n),
                    _ => {}
                }
            }
        }
        if let Some(totals) = &cross.totals
            && totals.judged_season.or(cross.season.map(Season::next)) == Some(season)
        {
            sum += Counts { heads: 0, seeds: 0, ..totals.counts() };
        }
    }
    let first = desk.book().varieties().len();
    for plant in desk.book().plants().skip(first) {
        let brief = desk.brief(plant);
        let planted = brief.planted.or(brief.first_bloom).map(When::season);
        if planted != Some(season) || !brief.was_planted {
            continue;
        }
        sum.planted += 1;
        if brief.first_bloom.map(When::season) == Some(season) {
            sum.bloomed += 1;
            sum.judged +=
                u32::from(matches!(brief.sorting, Some(Verdict::Keep | Verdict::Discard)));
            sum.kept += u32::from(brief.sorting == Some(Verdict::Keep));
        }
    }
    sum
}

pub(super) fn heads(desk: &Desk, season: Season) -> Heads {
    let made = desk.book().crosses().iter().filter(|cross| cross.season == Some(season));
    Heads::of(made.flat_map(|cross| &cross.heads))
}
