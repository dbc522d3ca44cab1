//! The mess of real records: what no season brings by itself.

use std::collections::BTreeMap;

use crate::sim::{Garden, Plant, scribe::Scribe};

use crate::book::{
    Cross, Entry, Grain, Life, Look, PlantDeed, Position, Season, Seedling, State, Variety,
    Verdict, When,
};

/// The crosses whose plants were given plain numbers, the second lot of them the same ones again.
const PLAIN: [&str; 2] = ["18X01", "21X01"];

/// What is remarked of a cross.
const REMARKS: [(&str, &str); 18] = [
    ("18X01", "Numbered M for mixed, before we knew better."),
    ("18X04", "The pair Grandmother always meant to make."),
    ("18X07", "Heads left on by accident, best mistake of the year."),
    ("19X02", "Such lovely parents. Try a bigger sowing."),
    ("19X04", "In flower beside it: Ferry Lantern one side, Withy Bend the other."),
    ("19X05", "Raised on Ines's allotment. Totals from her postcard, no plants came back."),
    ("20X01", "The other way round, to see whether it matters."),
    ("20X03", "Coppice Fire on the best of Ferry Lantern × Saltmarsh."),
    ("20X06", "Own pollen, bagged. Seven heads for next to nothing."),
    ("21X01", "Tom numbered them M again, from 1. They carry the year here."),
    ("21X03", "Third time. It must come good."),
    ("22X07", "Seed went to Ines whole. She kept count and nothing else."),
    ("23X01", "Hester insists."),
    ("23X07", "Own pollen again. We do not learn."),
    ("24X09", "Two pollens in one saucer. Each seedling may have either father."),
    ("25X03", "The last time, if the bed of 2026 is no better."),
    ("26X01", "Everything on this one."),
    ("26X06", "The Shawl once more, with a better husband."),
];

/// What has to be so before the first season.
pub(super) fn before(garden: &mut Garden) {
    let mut set = |id: &str, change: &dyn Fn(&mut Plant)| {
        if let Some(i) = garden.find(id) {
            change(&mut garden.plants[i]);
        }
    };
    set("bellwether", &|p| p.gives_seed = false);
    set("tin-chapel", &|p| p.gives_pollen = false);
    set("plumstone", &|p| p.without = vec![2023, 2024]);
    set("kettle-song", &|p| p.without = vec![2023, 2024, 2025, 2026]);
}

/// The number and, where it would not do alone, the id of every seedling.
pub(super) fn labels(garden: &Garden) -> BTreeMap<usize, (String, Option<String>)> {
    let mut labels = BTreeMap::new();
    let mut n_in: BTreeMap<i16, usize> = BTreeMap::new();
    for (i, plant) in garden.plants.iter().enumerate() {
        let Some(family) = plant.family.map(|f| &garden.families[f]) else { continue };
        let Some(first) = plant.years.first() else { continue };
        let label = if PLAIN.contains(&family.code.as_str()) {
            let nth = 1 + family.plants.iter().position(|&p| p == i).unwrap_or_default();
            let number = format!("M{nth:02}");
            let again = family.season > 2018;
            let id = again.then(|| format!("{number}-{}", family.season));
            (number, id)
        } else {
            let n = n_in.entry(first.season).or_default();
            *n += 1;
            (format!("{:02}-{n:03}", first.season % 100), None)
        };
        labels.insert(i, label);
    }
    labels
}

/// What has to be put into the finished records.
pub(super) fn after(
    garden: &Garden,
    scribe: &Scribe<'_>,
    varieties: &mut [Variety],
    crosses: &mut [Cross],
) {
    for (code, remark) in REMARKS {
        if let Some(cross) = find(crosses, code) {
            cross.note = Some(remark.into());
        }
    }
    from_memory(crosses);
    mix_up(crosses);
    name_two(garden, scribe, crosses);
    leave_waiting(crosses);
    settle(crosses);
    plant_varieties(garden, varieties);
    tell_of(varieties);
}

fn find<'a>(crosses: &'a mut [Cross], code: &str) -> Option<&'a mut Cross> {
    crosses.iter_mut().find(|c| &*c.code == code)
}

/// Puts an entry where its date has its place, behind others of the same day.
fn put(diary: &mut Vec<Entry<PlantDeed>>, on: &str, did: PlantDeed) {
    if let Ok(on) = When::parse(on) {
        let at = diary.partition_point(|e| e.on.first() <= on.first());
        diary.insert(at, Entry { on, did });
    }
}

/// Of the first mixed packet only the year of the verdicts was remembered.
fn from_memory(crosses: &mut [Cross]) {
    let plants = find(crosses, PLAIN[0]).map(|c| &mut c.seedlings);
    for entry in plants.into_iter().flatten().flat_map(|plant| &mut plant.diary) {
        let first_season = entry.on.season() == Season(2018);
        if first_season && matches!(entry.did, PlantDeed::Verdict { .. } | PlantDeed::Lost(_)) {
            entry.on = entry.on.blurred(Grain::Year);
        }
    }
}

/// Two trays had each other's labels, and three plants gave it away by their colour.
fn mix_up(crosses: &mut [Cross]) {
    let Some(right) = find(crosses, "23X05") else { return };
    let bloomed = |plant: &&mut Seedling| Life::of(&plant.diary).first_bloom.is_some();
    for plant in right.seedlings.iter_mut().filter(bloomed).take(3) {
        let did = PlantDeed::MovedFrom {
            cross: "23X04".into(),
            why: Some("dark leaf and Lugger's colour, tray labels swapped".into()),
        };
        put(&mut plant.diary, "2024-10-20", did);
    }
    if let Some(wrong) = find(crosses, "23X04") {
        wrong.note = Some("Three of its tray were 23X05, put right in October 2024.".into());
    }
}

/// Two seedlings have a name: the best liked of those kept often enough.
fn name_two(garden: &Garden, scribe: &Scribe<'_>, crosses: &mut [Cross]) {
    let deeds = [("Quillet Wherry", "2024-12-14", 2024), ("Lamplight Row", "2026-02-08", 2025)];
    let mut named: Vec<Box<str>> = Vec::new();
    for (name, on, season) in deeds {
        let kept = |i: usize| {
            let years = garden.plants[i].years.iter();
            years.filter(|y| y.season <= season && y.fate == crate::sim::Fate::Kept).count()
        };
        let best = (0..garden.plants.len())
            .filter(|&i| kept(i) >= 3 && !named.contains(&scribe.key(i)))
            .filter(|&i| garden.plants[i].year(2026).is_some())
            .max_by(|&a, &b| garden.plants[a].esteem().total_cmp(&garden.plants[b].esteem()));
        let Some(key) = best.map(|i| scribe.key(i)) else { continue };
        let plants = crosses.iter_mut().flat_map(|c| &mut c.seedlings);
        if let Some(plant) = plants.into_iter().find(|p| p.key() == &*key) {
            put(&mut plant.diary, on, PlantDeed::Named(name.into()));
        }
        named.push(key);
    }
}

/// Some of this year's plants that have no word yet: in flower late, or seen differently by two.
fn leave_waiting(crosses: &mut [Cross]) {
    let (mut undecided, mut disputed) = (0, 0);
    for plant in crosses.iter_mut().flat_map(|c| &mut c.seedlings) {
        let life = Life::of(&plant.diary);
        let this_year = life.planted.is_some_and(|on| on.season() == Season(2026));
        let Some(opened) = life.first_bloom.filter(|_| this_year) else { continue };
        let late = When::parse("2026-09-24").is_ok_and(|late| late.first() < opened.first());
        let in_the_bed = matches!(life.state(), State::Kept | State::Discarded);
        let has_colour = plant
            .diary
            .iter()
            .any(|e| matches!(&e.did, PlantDeed::Look(look) if !look.colours.is_empty()));
        if late && in_the_bed && has_colour && undecided < 5 {
            undecided += 1;
            plant.diary.retain(|e| !is_word(&e.did));
        } else if life.state() == State::Held && has_colour && disputed < 3 {
            disputed += 1;
            plant.diary.retain(|e| !is_word(&e.did));
            dispute(&mut plant.diary, disputed);
        }
    }
}

/// On the first of November they go round once more and settle all but the hardest cases.
fn settle(crosses: &mut [Cross]) {
    let held = crosses
        .iter_mut()
        .flat_map(|c| &mut c.seedlings)
        .filter(|plant| Life::of(&plant.diary).state() == State::Held)
        .filter(|plant| plant.diary.last().is_some_and(|e| e.on.season() == Season(2026)));
    for plant in held.skip(7) {
        let why = Some("looked again at the clump, out".into());
        let did = PlantDeed::Verdict { is: Verdict::Discard, why, who: None };
        put(&mut plant.diary, "2026-11-01", did);
    }
}

fn is_word(did: &PlantDeed) -> bool {
    matches!(did, PlantDeed::Verdict { .. } | PlantDeed::Lifted { .. } | PlantDeed::Lost(_))
}

/// Tom looks a week later and sees something else.
fn dispute(diary: &mut Vec<Entry<PlantDeed>>, nth: usize) {
    let form = diary.iter().rev().find_map(|e| match &e.did {
        PlantDeed::Look(look) => look.scores.iter().find(|(of, _)| &**of == "form"),
        _ => None,
    });
    let form = form.map_or(6.0, |(_, score)| *score);
    let (other, words) = if form > 5.0 {
        (form - 4.0, ["first bloom flattered it", "nods by noon, look then", "like a hedgehog"])
    } else {
        (form + 4.0, ["you saw it in the rain", "second flush is a beauty", "give it a chance"])
    };
    let look = Look {
        who: Some("Tom".into()),
        scores: vec![("form".into(), other)],
        note: Some(words[nth % 3].into()),
        ..Look::default()
    };
    put(diary, "2026-10-18", PlantDeed::Look(Box::new(look)));
}

/// The parents on the bed plan, in the seasons in which it shows them.
fn plant_varieties(garden: &Garden, varieties: &mut [Variety]) {
    let Some(bed) = garden.ways.beds.last() else { return };
    for season in super::script::PARENTS_MAPPED..=2026 {
        let mut places = (1..=bed.rows).flat_map(|row| {
            (1..=bed.places).map(move |place| Position { bed: bed.name.clone(), row, place })
        });
        for variety in &mut *varieties {
            let stood = garden.find(&variety.id).is_some_and(|i| garden.plants[i].stood_in(season));
            if stood {
                put(
                    &mut variety.diary,
                    &format!("{season}-05-{}", 10 + season % 7),
                    PlantDeed::Planted(places.next()),
                );
            }
        }
    }
}

/// What varieties went through.
fn tell_of(varieties: &mut [Variety]) {
    let note = |text: &str| PlantDeed::Note(text.into());
    for variety in varieties {
        let diary = &mut variety.diary;
        match &*variety.id {
            "bellwether" => {
                variety.gives_seed = Some(false);
                put(diary, "2020-10", note("forty heads left on, not a seed"));
            }
            "tin-chapel" => {
                variety.gives_pollen = Some(false);
                put(diary, "2021-08-14", note("pulled three to bits for pollen, none"));
            }
            "hobs-candle" | "ferry-lantern" => variety.gives_seed = Some(true),
            "plumstone" => {
                put(diary, "2023-01", PlantDeed::Lost("frost in the shed".into()));
                put(diary, "2025-04", PlantDeed::Acquired { from: Some("M. Dace".into()) });
            }
            "kettle-song" => {
                put(diary, "2023-01", PlantDeed::Lost("frost in the shed".into()));
            }
            "mrs-aberys-shawl" => {
                put(diary, "2022-09-03", note("seven inches across, took it to the church"));
                put(diary, "2023-02", PlantDeed::Checked { sound: 3 });
                let is = Verdict::Keep;
                let why = Some("never in doubt".into());
                put(diary, "2026-10-04", PlantDeed::Verdict { is, why, who: None });
            }
            "saltmarsh" => put(diary, "2024-07-28", note("necks again, stake earlier")),
            "lugger" => put(diary, "2023-02", PlantDeed::Checked { sound: 1 }),
            _ => {}
        }
    }
}
