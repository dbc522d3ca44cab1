//! Random books for the laws that hold for every book.

use std::sync::Arc;

use chrono::NaiveDate;
use proptest::{collection::vec, option::of, prelude::*};
use trug::book::{
    About, Aim, Bed, Book, By, Candidate, Crop, Cross, Entry, Father, Frost, GardenDeed, Head,
    HeadDeed, Look, Lot, LotDeed, Parent, Patterns, PlantDeed, Pollen, Position, Season, Seedling,
    Totals, Variety, Verdict, Want, When,
};

/// Text as people write it, with what needs care in a file: quotes, backslashes, signs.
fn line() -> impl Strategy<Value = Box<str>> {
    prop_oneof!["[a-zA-Z0-9 /%.#-]{0,12}", "[\\P{C}&&\\P{Z}]{1,6}", "[\"\\\\'(){}\\[\\],:/*]{1,8}"]
        .prop_map(Into::into)
}

fn note() -> impl Strategy<Value = Box<str>> {
    prop_oneof![line(), "[a-z]{1,5}\n\t[a-z]{1,5}\n".prop_map(Into::into)]
}

fn day() -> impl Strategy<Value = NaiveDate> {
    (1_000..3_000_000_i32).prop_map(|n| NaiveDate::from_num_days_from_ce_opt(n).unwrap())
}

fn season() -> impl Strategy<Value = Season> {
    (1..10_000_i16).prop_map(Season)
}

fn when() -> impl Strategy<Value = When> {
    prop_oneof![
        day().prop_map(When::day),
        season().prop_map(When::year),
        day().prop_map(|d| When::parse(&d.format("%Y-%m").to_string()).unwrap()),
    ]
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        (0..3000_i32).prop_map(f64::from),
        any::<f64>().prop_filter("finite", |x| x.is_finite())
    ]
}

fn diary<D: std::fmt::Debug>(
    deed: impl Strategy<Value = D>,
) -> impl Strategy<Value = Vec<Entry<D>>> {
    vec((when(), deed).prop_map(|(on, did)| Entry { on, did }), 0..4)
}

fn parent() -> impl Strategy<Value = Parent> {
    prop_oneof![
        line().prop_map(Parent::Known),
        vec((line(), 0.0..0.25_f64), 0..4).prop_map(|list| {
            Parent::OneOf(list.into_iter().map(|(key, weight)| Candidate { key, weight }).collect())
        }),
        Just(Parent::Unknown),
    ]
}

fn head_deed() -> impl Strategy<Value = HeadDeed> {
    prop_oneof![
        Just(HeadDeed::Pollinated),
        Just(HeadDeed::Cut),
        Just(HeadDeed::InWater),
        Just(HeadDeed::Hung),
        Just(HeadDeed::Rotted),
        line().prop_map(HeadDeed::Lost),
        any::<u32>().prop_map(|seeds| HeadDeed::Threshed { seeds }),
        note().prop_map(HeadDeed::Note),
    ]
}

fn lot_deed() -> impl Strategy<Value = LotDeed> {
    prop_oneof![
        of(any::<u32>()).prop_map(|seeds| LotDeed::Sown { seeds }),
        any::<u32>().prop_map(LotDeed::Up),
        any::<u32>().prop_map(LotDeed::PrickedOut),
        (any::<u32>(), of(line())).prop_map(|(seeds, to)| LotDeed::Given { seeds, to }),
        line().prop_map(LotDeed::Gone),
        note().prop_map(LotDeed::Note),
    ]
}

fn garden_deed() -> impl Strategy<Value = GardenDeed> {
    prop_oneof![
        line().prop_map(GardenDeed::Weather),
        line().prop_map(GardenDeed::Fed),
        line().prop_map(GardenDeed::Job),
        note().prop_map(GardenDeed::Note),
    ]
}

fn look() -> impl Strategy<Value = Look> {
    let who = (of(line()), of(number()), of(number()), of(line()));
    let what = (vec(line(), 0..3), vec((line(), number()), 0..3), vec(line(), 0..3));
    (who, what, of(note()), of(line())).prop_map(|(who, what, note, photo)| {
        let (who, bloom_mm, height_cm, group) = who;
        let (colours, mut scores, faults) = what;
        scores.sort_by(|(a, _), (b, _)| a.cmp(b));
        scores.dedup_by(|(a, _), (b, _)| a == b);
        Look { who, bloom_mm, height_cm, group, colours, scores, faults, note, photo }
    })
}

fn plant_deed() -> impl Strategy<Value = PlantDeed> {
    let position = (line(), 1..=u16::MAX, 1..=u16::MAX).prop_map(|(bed, row, place)| Position {
        bed,
        row,
        place,
    });
    let verdict = prop_oneof![Just(Verdict::Keep), Just(Verdict::Hold), Just(Verdict::Discard)];
    prop_oneof![
        of(line()).prop_map(|from| PlantDeed::Acquired { from }),
        Just(PlantDeed::Numbered),
        of(position).prop_map(PlantDeed::Planted),
        Just(PlantDeed::SeenUnbloomed),
        Just(PlantDeed::FirstBloom),
        look().prop_map(|look| PlantDeed::Look(Box::new(look))),
        (verdict, of(line()), of(line())).prop_map(|(is, why, who)| PlantDeed::Verdict {
            is,
            why,
            who
        }),
        Just(PlantDeed::TagLost),
        line().prop_map(PlantDeed::Lost),
        (of(any::<u16>()), of(line()))
            .prop_map(|(tubers, store)| PlantDeed::Lifted { tubers, store }),
        any::<u16>().prop_map(|sound| PlantDeed::Checked { sound }),
        Just(PlantDeed::Woken),
        line().prop_map(PlantDeed::Ailing),
        line().prop_map(PlantDeed::Treated),
        (any::<u16>(), of(line())).prop_map(|(tubers, to)| PlantDeed::Given { tubers, to }),
        line().prop_map(PlantDeed::Disposed),
        (line(), of(line())).prop_map(|(cross, why)| PlantDeed::MovedFrom { cross, why }),
        line().prop_map(PlantDeed::Named),
        note().prop_map(PlantDeed::Note),
    ]
}

fn variety() -> impl Strategy<Value = Variety> {
    let who = (line(), line(), parent(), parent(), of(line()), of(any::<i16>()));
    let what = (of(line()), of(number()), of(number()), vec(line(), 0..3));
    let rest = (of(any::<bool>()), of(any::<bool>()), of(note()), diary(plant_deed()));
    (who, what, rest).prop_map(|(who, what, rest)| {
        let (id, name, seed, pollen, raiser, year) = who;
        let (group, bloom_mm, height_cm, colours) = what;
        let (gives_seed, gives_pollen, note, diary) = rest;
        Variety {
            id,
            name,
            seed,
            pollen,
            raiser,
            year,
            group,
            bloom_mm,
            height_cm,
            colours,
            gives_seed,
            gives_pollen,
            note,
            diary,
        }
    })
}

fn totals() -> impl Strategy<Value = Totals> {
    let n = || of(any::<u32>());
    (n(), n(), n(), n(), n(), n(), n(), n(), of(season())).prop_map(
        |(heads, seeds, sown, up, planted, bloomed, judged, kept, judged_season)| Totals {
            heads,
            seeds,
            sown,
            up,
            planted,
            bloomed,
            judged,
            kept,
            judged_season,
        },
    )
}

fn cross() -> impl Strategy<Value = Cross> {
    let head = (of(line()), diary(head_deed())).prop_map(|(tag, diary)| Head { tag, diary });
    let father = of(prop_oneof![Just(Father::One), Just(Father::Each)]);
    let lot = (line(), father, of(any::<u32>()), diary(lot_deed()))
        .prop_map(|(code, father, seeds, diary)| Lot { code, father, seeds, diary });
    let seedling = (line(), of(line()), of(line()), diary(plant_deed()))
        .prop_map(|(number, id, lot, diary)| Seedling { number, id, lot, diary });
    let pollen = prop_oneof![parent().prop_map(Pollen::From), Just(Pollen::Selfed)];
    let by = prop_oneof![Just(By::Hand), Just(By::Bees)];
    let who = (line(), of(season()), parent(), pollen, by, of(line()), of(note()));
    (who, vec(head, 0..3), vec(lot, 0..3), vec(seedling, 0..5), of(totals())).prop_map(
        |(who, heads, lots, seedlings, totals)| {
            let (code, season, seed, pollen, by, from, note) = who;
            Cross { code, season, seed, pollen, by, from, note, heads, lots, seedlings, totals }
        },
    )
}

fn about() -> impl Strategy<Value = About> {
    let bed = (line(), any::<u16>(), any::<u16>()).prop_map(|(name, rows, places)| Bed {
        name,
        rows,
        places,
    });
    let frost = (season(), of(day()), of(day())).prop_map(|(season, last, first)| Frost {
        season,
        last,
        first,
    });
    let want = prop_oneof![
        Just(Want::More),
        Just(Want::Less),
        (number(), number()).prop_map(|(low, high)| Want::Between(low, high)),
    ];
    let aim = (line(), want, number()).prop_map(|(of, want, weight)| Aim { of, want, weight });
    let patterns = (line(), line()).prop_map(|(cross, seedling)| Patterns { cross, seedling });
    let who = (line(), of(line()), of(any::<u8>()), of(number()), of(line()), of(day()));
    (
        who,
        vec(bed, 0..3),
        vec(frost, 0..3),
        vec(aim, 0..3),
        patterns,
        of(note()),
        diary(garden_deed()),
    )
        .prop_map(|(who, beds, frosts, aims, patterns, note, diary)| {
            let (garden, raiser, ploidy, double_reduction, sizes, today) = who;
            About {
                garden,
                raiser,
                crop: "dahlia".into(),
                ploidy,
                double_reduction,
                sizes,
                today,
                beds,
                frosts,
                aims,
                patterns,
                note,
                diary,
            }
        })
}

/// A book with anything in it that can be written, except that no code stands for two records.
pub(super) fn book() -> impl Strategy<Value = Book> {
    (about(), vec(variety(), 0..4), vec(cross(), 0..4)).prop_map(
        |(about, mut varieties, mut crosses)| {
            varieties.sort_by(|a, b| a.id.cmp(&b.id));
            varieties.dedup_by(|a, b| a.id == b.id);
            crosses.sort_by(|a, b| a.code.cmp(&b.code));
            crosses.dedup_by(|a, b| a.code == b.code);
            Book::new(about, Arc::new(Crop::default()), varieties, crosses)
        },
    )
}
