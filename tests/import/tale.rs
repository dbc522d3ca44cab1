//! A book in words, one record or diary a line.

use std::fmt::Write;

use trug::book::{
    Book, Cross, Father, Look, LotDeed, Parent, PlantDeed, Pollen, Seedling, Totals, Variety,
};

pub(crate) fn tale(book: &Book) -> String {
    let mut tale = String::new();
    for variety in book.varieties() {
        writeln!(tale, "{}", of_variety(variety)).unwrap();
    }
    tale + &crosses(book)
}

/// The crosses alone.
pub(crate) fn crosses(book: &Book) -> String {
    book.crosses().iter().map(|cross| of_cross(cross)).collect()
}

fn of_variety(v: &Variety) -> String {
    let mut tale = format!("{} \"{}\"", v.id, v.name);
    if (&v.seed, &v.pollen) != (&Parent::Unknown, &Parent::Unknown) {
        write!(tale, " of {} × {}", parent(&v.seed), parent(&v.pollen)).unwrap();
    }
    let texts = [&v.raiser, &v.group, &v.note].map(|t| t.as_deref().map(str::to_owned));
    let numbers =
        [v.year.map(f64::from), v.bloom_mm, v.height_cm].map(|n| n.map(|n| n.to_string()));
    let yes = [v.gives_seed, v.gives_pollen].map(|y| y.map(|y| y.to_string()));
    let colours = (!v.colours.is_empty()).then(|| v.colours.join("|"));
    for said in texts.into_iter().chain(numbers).chain([colours]).chain(yes).flatten() {
        write!(tale, ", {said}").unwrap();
    }
    for entry in &v.diary {
        write!(tale, "; {} {}", entry.on, deed(&entry.did)).unwrap();
    }
    tale
}

fn of_cross(cross: &Cross) -> String {
    let pollen = match &cross.pollen {
        Pollen::From(from) => parent(from),
        Pollen::Selfed => "selfed".to_owned(),
    };
    let season = cross.season.map_or("?".to_owned(), |s| s.to_string());
    let by = format!("{:?}", cross.by).to_lowercase();
    let mut tale = format!("{}: {} × {pollen}, {season}, {by}\n", cross.code, parent(&cross.seed));
    for lot in &cross.lots {
        write!(tale, "  lot {}", lot.code).unwrap();
        if let Some(father) = lot.father {
            write!(tale, " {}", if father == Father::One { "one" } else { "each" }).unwrap();
        }
        for entry in &lot.diary {
            match entry.did {
                LotDeed::Sown { seeds: None } => write!(tale, " sown {}", entry.on).unwrap(),
                ref other => panic!("{other:?}"),
            }
        }
        tale.push('\n');
    }
    for seedling in &cross.seedlings {
        writeln!(tale, "  {}", of_seedling(seedling)).unwrap();
    }
    if let Some(totals) = &cross.totals {
        writeln!(tale, "  totals {}", of_totals(totals)).unwrap();
    }
    tale
}

fn of_totals(totals: &Totals) -> String {
    let counts = [
        ("heads", totals.heads),
        ("seeds", totals.seeds),
        ("sown", totals.sown),
        ("up", totals.up),
        ("planted", totals.planted),
        ("bloomed", totals.bloomed),
        ("judged", totals.judged),
        ("kept", totals.kept),
    ];
    let counts = counts.into_iter().filter_map(|(name, n)| Some(format!("{} {name}", n?)));
    let season = totals.judged_season.map(|season| format!("judged in {season}"));
    counts.chain(season).collect::<Vec<_>>().join(", ")
}

fn of_seedling(seedling: &Seedling) -> String {
    let mut tale = seedling.number.to_string();
    for (what, text) in [("key", &seedling.id), ("lot", &seedling.lot)] {
        if let Some(text) = text {
            write!(tale, ", {what} {text}").unwrap();
        }
    }
    for entry in &seedling.diary {
        write!(tale, "; {} {}", entry.on, deed(&entry.did)).unwrap();
    }
    tale
}

fn parent(parent: &Parent) -> String {
    match parent {
        Parent::Known(key) => key.to_string(),
        Parent::Unknown => "?".to_owned(),
        Parent::OneOf(list) => {
            let each = list.iter().map(|c| format!("{}={:.3}", c.key, c.weight));
            each.collect::<Vec<_>>().join("|")
        }
    }
}

fn deed(did: &PlantDeed) -> String {
    match did {
        PlantDeed::Planted(None) => "planted".to_owned(),
        PlantDeed::Planted(Some(position)) => format!("planted {position}"),
        PlantDeed::SeenUnbloomed => "unbloomed".to_owned(),
        PlantDeed::FirstBloom => "bloomed".to_owned(),
        PlantDeed::Named(name) => format!("named {name}"),
        PlantDeed::Lost(why) => format!("lost: {why}"),
        PlantDeed::Note(note) => format!("note: {note}"),
        PlantDeed::Verdict { is, why, who } => {
            let said = [why, who].into_iter().flatten().map(|text| format!(" ({text})"));
            format!("{}{}", is.word(), said.collect::<String>())
        }
        PlantDeed::Look(look) => of_look(look),
        other => format!("{other:?}"),
    }
}

fn of_look(look: &Look) -> String {
    let mut tale = "look".to_owned();
    for (what, n) in [("mm", look.bloom_mm), ("cm", look.height_cm)] {
        if let Some(n) = n {
            write!(tale, " {n} {what}").unwrap();
        }
    }
    for text in [&look.group, &look.note, &look.who].into_iter().flatten() {
        write!(tale, " ({text})").unwrap();
    }
    for (name, score) in &look.scores {
        write!(tale, " {name} {score}").unwrap();
    }
    for word in look.colours.iter().chain(&look.faults) {
        write!(tale, " [{word}]").unwrap();
    }
    tale
}
