//! Laws of what follows from a diary, over diaries of any kind.

use chrono::NaiveDate;
use proptest::prelude::*;
use trug::book::{
    Cross, Entry, Life, Look, PlantDeed, Season, Seedling, Stage, State, Verdict, When,
    first_sorting,
};

type Diary = Vec<Entry<PlantDeed>>;

fn any_verdict() -> impl Strategy<Value = Verdict> {
    prop::sample::select(vec![Verdict::Keep, Verdict::Hold, Verdict::Discard])
}

fn any_deed() -> impl Strategy<Value = PlantDeed> {
    let look = |bloom_mm| PlantDeed::Look(Box::new(Look { bloom_mm, ..Look::default() }));
    prop_oneof![
        1 => Just(PlantDeed::Numbered),
        1 => Just(PlantDeed::Planted(None)),
        1 => Just(PlantDeed::SeenUnbloomed),
        3 => Just(PlantDeed::FirstBloom),
        1 => prop::option::of(40.0..300.0).prop_map(look),
        6 => any_verdict().prop_map(|is| PlantDeed::Verdict { is, why: None, who: None }),
        1 => Just(PlantDeed::Lost("slugs".into())),
        1 => Just(PlantDeed::Lifted { tubers: Some(3), store: None }),
        1 => Just(PlantDeed::Named("Ferry Lantern".into())),
    ]
}

/// A date in one of four seasons, known to the day, the month or the year.
fn any_when() -> impl Strategy<Value = When> {
    (2023..2027_i32, 1..=12_u32, 1..=28_u32, 0..6_u8).prop_map(|(year, month, day, grain)| {
        let text = match grain {
            0 => format!("{year}"),
            1 => format!("{year}-{month:02}"),
            _ => format!("{year}-{month:02}-{day:02}"),
        };
        When::parse(&text).expect("a date")
    })
}

fn any_diary() -> impl Strategy<Value = Diary> {
    prop::collection::vec((any_when(), any_deed()), 0..9).prop_map(|mut entries| {
        entries.sort_by_key(|(on, _)| *on);
        entries.into_iter().map(|(on, did)| Entry { on, did }).collect()
    })
}

fn any_family() -> impl Strategy<Value = Cross> {
    prop::collection::vec(any_diary(), 0..12).prop_map(|diaries| Cross {
        seedlings: diaries
            .into_iter()
            .map(|diary| Seedling { diary, ..Seedling::default() })
            .collect(),
        ..Cross::default()
    })
}

fn end_of(season: Season) -> NaiveDate {
    NaiveDate::from_ymd_opt(i32::from(season.0), 12, 31).expect("a day")
}

proptest! {
    #[test]
    fn no_more_are_judged_than_bloomed_nor_kept_than_judged(family in any_family()) {
        let counts = family.counts();
        prop_assert!(counts.planted >= counts.bloomed, "{:?}", counts);
        prop_assert!(counts.bloomed >= counts.judged, "{:?}", counts);
        prop_assert!(counts.judged >= counts.kept, "{:?}", counts);
        prop_assert!(family.seedlings.len() >= counts.planted as usize, "{:?}", counts);
    }

    /// The rule in its own words: what stood on 31 December of the season of first bloom.
    #[test]
    fn the_first_sorting_is_what_stood_at_the_end_of_the_season(diary in any_diary()) {
        let stood = Life::of(&diary).first_bloom.and_then(|bloom| {
            Life::until(&diary, end_of(bloom.season())).verdict.map(|word| word.is)
        });
        prop_assert_eq!(first_sorting(&diary), stood);
    }

    #[test]
    fn a_later_season_does_not_change_the_first_sorting(
        diary in any_diary(),
        deed in any_deed(),
    ) {
        prop_assume!(Life::of(&diary).first_bloom.is_some());
        let sorted = first_sorting(&diary);
        let mut longer = diary;
        longer.push(Entry { on: When::parse("2031-07-01").expect("a date"), did: deed });
        prop_assert_eq!(first_sorting(&longer), sorted);
    }

    #[test]
    fn how_a_plant_stands_fits_what_is_known_of_it(diary in any_diary()) {
        let life = Life::of(&diary);
        let verdict = life.verdict.map(|word| word.is);
        let state = life.state();
        prop_assert_eq!(life.is_alive(), !matches!(state, State::Lost | State::Discarded));
        match state {
            State::Lost => prop_assert!(
                life.lost.is_some()
                    || (verdict == Some(Verdict::Discard) && life.first_bloom.is_none())
            ),
            State::Discarded => prop_assert!(life.first_bloom.is_some()),
            State::Kept => prop_assert_eq!(verdict, Some(Verdict::Keep)),
            State::Held => prop_assert_eq!(verdict, Some(Verdict::Hold)),
            State::Named => prop_assert!(life.name.is_some()),
            State::Open => prop_assert!(life.first_bloom.is_some() && verdict.is_none()),
            State::Unbloomed => prop_assert!(life.first_bloom.is_none() && life.was_planted()),
            State::Potted => prop_assert!(!life.was_planted() && life.first_bloom.is_none()),
        }
        if let (Some(unbloomed), Some(bloom)) = (life.seen_unbloomed, life.first_bloom) {
            prop_assert!(unbloomed <= bloom);
        }
    }

    #[test]
    fn seasons_kept_are_seasons_that_ended_on_keep(diary in any_diary()) {
        let life = Life::of(&diary);
        let ended_on_keep = (2023..2027_i16)
            .filter(|&year| {
                let last = diary.iter().rev().find_map(|e| match e.did {
                    PlantDeed::Verdict { is, .. } if e.on.season() == Season(year) => Some(is),
                    _ => None,
                });
                last == Some(Verdict::Keep)
            })
            .count();
        prop_assert_eq!(usize::from(life.seasons_kept), ended_on_keep);
        match life.stage() {
            Some(Stage::FirstYear) => prop_assert_eq!(life.seasons_kept, 1),
            Some(Stage::SecondSeason) => prop_assert!(life.seasons_kept > 1),
            Some(Stage::Named) => prop_assert!(life.name.is_some()),
            None => prop_assert!(
                life.name.is_none() || !life.is_alive() || life.verdict.is_some()
            ),
        }
    }

    #[test]
    fn a_life_is_told_by_its_days(diary in any_diary()) {
        prop_assert_eq!(Life::until(&diary, end_of(Season(2026))), Life::of(&diary));
        prop_assert_eq!(Life::until(&diary, end_of(Season(2022))), Life::default());
        let mut bloomed = false;
        for season in 2023..2027_i16 {
            let now = Life::until(&diary, end_of(Season(season))).first_bloom.is_some();
            prop_assert!(now || !bloomed, "a bloom is not unseen again");
            bloomed = now;
        }
    }

    #[test]
    fn remarks_change_nothing(diary in any_diary(), at in any::<prop::sample::Index>()) {
        let mut noted = diary.clone();
        let at = at.index(diary.len() + 1);
        let on = When::parse("2023-01-01").expect("a date");
        noted.insert(at, Entry { on, did: PlantDeed::Note("sweetly scented".into()) });
        prop_assert_eq!(Life::of(&noted), Life::of(&diary));
        prop_assert_eq!(first_sorting(&noted), first_sorting(&diary));
    }
}
