//! The demo garden.

use std::{collections::BTreeMap, sync::Arc};

use trug::{
    book::{Book, Crop, Life, PlantRecord, State, Verdict, first_sorting},
    sim,
};

fn made() -> Book {
    sim::quillet(Arc::new(Crop::default()), sim::SEED).0
}

#[test]
fn stats() {
    let (book, truth) = sim::quillet(Arc::new(Crop::default()), sim::SEED);
    let mut per: BTreeMap<i16, [u32; 12]> = BTreeMap::new();
    for cross in book.crosses() {
        let c = cross.counts();
        let pol = format!("{:?}", cross.pollen);
        eprintln!(
            "{} {:?} {:.60} | heads {} seeds {} sown {} up {} planted {} bloomed {} judged {} kept {}",
            cross.code,
            cross.seed.known(),
            pol,
            c.heads,
            c.seeds,
            c.sown,
            c.up,
            c.planted,
            c.bloomed,
            c.judged,
            c.kept
        );
        for s in &cross.seedlings {
            let life = Life::of(&s.diary);
            if let Some(p) = life.planted {
                let row = per.entry(p.season().0).or_default();
                row[0] += 1;
                row[1] += u32::from(life.first_bloom.is_some());
                match first_sorting(&s.diary) {
                    Some(Verdict::Keep) => row[2] += 1,
                    Some(Verdict::Discard) => row[3] += 1,
                    Some(Verdict::Hold) => row[4] += 1,
                    None => row[5] += 1,
                }
                let k = match life.state() {
                    State::Potted => 6,
                    State::Unbloomed => 6,
                    State::Open => 7,
                    State::Held => 8,
                    State::Kept => 9,
                    State::Named => 9,
                    State::Discarded => 10,
                    State::Lost => 11,
                };
                row[k] += 1;
            }
        }
    }
    eprintln!("year planted bloomed keep disc hold none | unbl open held kept disc lost");
    for (y, r) in &per {
        eprintln!("{y} {r:?}");
    }
    let mut pos: BTreeMap<i16, BTreeMap<String, u32>> = BTreeMap::new();
    for id in book.plants() {
        if let PlantRecord::Seedling(_, s) = book.plant(id) {
            for e in &s.diary {
                if let trug::book::PlantDeed::Planted(Some(p)) = &e.did {
                    *pos.entry(e.on.season().0).or_default().entry(p.to_string()).or_default() += 1;
                }
            }
        }
    }
    for (y, p) in &pos {
        eprintln!("{y}: {} places, most {}", p.len(), p.values().max().unwrap());
    }
    for (p, r) in &truth.pairings {
        eprintln!("{p:?} {r:.2}");
    }
    eprintln!("{}", book.n_plants());
    for c in ["18X03", "26X01"] {
        let id = book.cross_by_code(c).unwrap();
        eprintln!("{:#?}", book.cross(id).heads.iter().take(2).collect::<Vec<_>>());
        eprintln!("{:?}", book.cross(id).lots);
        for s in book.cross(id).seedlings.iter().take(8) {
            eprintln!("{} {:?}", s.number, s.id);
            for e in &s.diary {
                eprintln!("   {} {:?}", e.on, e.did);
            }
        }
    }
    let c = book.cross_by_code("23X02").unwrap();
    for s in book.cross(c).seedlings.iter() {
        eprintln!("{} {:?}", s.number, s.id);
        for e in &s.diary {
            eprintln!("   {} {:?}", e.on, e.did);
        }
    }
}
