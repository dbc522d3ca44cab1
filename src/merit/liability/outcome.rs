//! What may become of a plant, as a question with yes or no for an answer.

use crate::book::{
    Crop, Entry, Life, PlantDeed, Season, Totals, Verdict, Verdict::Keep, When, first_sorting,
};

/// What is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Outcome {
    /// Kept at the first sorting, of those judged.
    #[default]
    Kept,
    /// Bloomed, of those planted.
    Bloomed,
    /// Kept again in the next season with a word of keep or discard, of those kept at first.
    KeptAgain,
}

impl Outcome {
    /// The season in which it was settled and how; none where it is not, or not yet.
    pub(super) fn of(self, diary: &[Entry<PlantDeed>]) -> Option<(Season, bool)> {
        match self {
            Self::Kept => {
                let word = decided(first_sorting(diary)?)?;
                Some((Life::of(diary).first_bloom?.season(), word))
            }
            Self::Bloomed => {
                let life = Life::of(diary);
                let planted = life.planted.or(life.first_bloom).map(When::season)?;
                life.was_planted().then_some((planted, life.first_bloom.is_some()))
            }
            Self::KeptAgain => {
                let first = Life::of(diary).first_bloom?.season();
                first_sorting(diary).filter(|&word| word == Keep)?;
                let later = diary.iter().filter_map(|entry| match entry.did {
                    PlantDeed::Verdict { is, .. } if entry.on.season() > first => {
                        Some((entry.on.season(), decided(is)?))
                    }
                    _ => None,
                });
                // The last word of the first such season.
                later.reduce(|kept, next| if next.0 == kept.0 { next } else { kept })
            }
        }
    }

    /// (yes, all) of a family of which only totals are known.
    pub(super) fn of_totals(self, totals: &Totals) -> Option<(u32, u32)> {
        match self {
            Self::Kept => Some((totals.kept?, totals.judged?)),
            Self::Bloomed => Some((totals.bloomed?, totals.planted?)),
            Self::KeptAgain => None,
        }
    }

    /// The crop's usual share.
    pub(super) fn usual(self, crop: &Crop) -> Option<f64> {
        let usual = match self {
            Self::Kept => crop.rates.kept_of_judged.value,
            Self::Bloomed => crop.rates.bloomed_of_planted.value,
            Self::KeptAgain => return None,
        };
        (usual > 0.0 && usual < 1.0).then_some(usual)
    }
}

fn decided(word: Verdict) -> Option<bool> {
    match word {
        Keep => Some(true),
        Verdict::Discard => Some(false),
        Verdict::Hold => None,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    fn diary(entries: &[(&str, Option<Verdict>)]) -> Vec<Entry<PlantDeed>> {
        let deed = |word: &Option<Verdict>| match word {
            Some(is) => PlantDeed::Verdict { is: *is, why: None, who: None },
            None => PlantDeed::FirstBloom,
        };
        let entries = entries.iter();
        entries.map(|(on, word)| Entry { on: When::parse(on).unwrap(), did: deed(word) }).collect()
    }

    #[test]
    fn a_second_season_is_an_outcome_of_its_own() {
        use Verdict::{Discard, Hold};
        let first = [("2024-08-20", None), ("2024-09-20", Some(Keep))];
        let after = |more: &[(&str, Option<Verdict>)]| {
            let all = diary(&[&first[..], more].concat());
            (Outcome::Kept.of(&all), Outcome::KeptAgain.of(&all))
        };
        let kept = Some((Season(2024), true));
        assert_eq!(after(&[]), (kept, None));
        assert_eq!(after(&[("2025-09-01", Some(Hold))]), (kept, None));
        let minds = [("2025-08-01", Some(Keep)), ("2025-10-01", Some(Discard))];
        assert_eq!(after(&minds), (kept, Some((Season(2025), false))), "the last word stands");
        let years = [("2025-08-01", Some(Keep)), ("2026-10-01", Some(Discard))];
        assert_eq!(after(&years).1, Some((Season(2025), true)), "the third season does not count");
    }
}
