//! The invented pedigrees below `data/pedigrees`, as opened books.

use std::{collections::BTreeMap, sync::Arc};

use chrono::NaiveDate;
use trug::{
    book::{
        About, Book, By, Candidate, Colour, Crop, Cross, Entry, Look, Parent, PlantDeed, Pollen,
        Season, Seedling, Variety, Verdict, When,
    },
    views::Desk,
};

const COLOURS: [(&str, [u8; 3]); 7] = [
    ("white", [245, 243, 236]),
    ("yellow", [242, 205, 50]),
    ("straw", [226, 205, 140]),
    ("orange", [232, 126, 38]),
    ("apricot", [242, 170, 110]),
    ("pink", [232, 140, 168]),
    ("red", [190, 30, 45]),
];

/// Forty-four plants over nine seasons: four generations behind 22-104 and two after it.
pub(crate) const FORTY_FOUR: &str = include_str!("data/pedigrees/forty_four.csv");

/// Twelve plants with a backcross, a selfing, sib mating and a bee cross, all within one line.
pub(crate) const TANGLED_TWELVE: &str = include_str!("data/pedigrees/tangled_twelve.csv");

fn parent(text: &str) -> Parent {
    let named = |key: &str| key.trim().to_lowercase().replace([' ', '\''], "-").into_boxed_str();
    let candidates: Vec<Candidate> = text
        .split('|')
        .filter(|part| !part.is_empty() && *part != "?")
        .map(|part| match part.split_once('=') {
            Some((key, weight)) => {
                Candidate { key: named(key), weight: weight.parse().expect("a weight") }
            }
            None => Candidate { key: named(part), weight: 1.0 },
        })
        .collect();
    match &candidates[..] {
        [] => Parent::Unknown,
        [only] if !text.contains('=') => Parent::Known(only.key.clone()),
        _ => Parent::OneOf(candidates),
    }
}

fn when(text: &str) -> When {
    When::day(NaiveDate::parse_from_str(text, "%Y-%m-%d").expect("a date"))
}

/// Opens a book on the rows of a seedlings file; parents without a row are varieties.
pub(crate) fn desk(rows: &str) -> Arc<Desk> {
    let mut crosses: BTreeMap<(Season, Box<str>), Cross> = BTreeMap::new();
    let mut reader = csv::Reader::from_reader(rows.as_bytes());
    let rows: Vec<BTreeMap<String, String>> =
        reader.deserialize().map(|row| row.expect("a row")).collect();
    for row in &rows {
        let season = Season(row["season"].parse().expect("a season"));
        let (seed, pollen) = (parent(&row["seed_parent"]), parent(&row["pollen_parent"]));
        let cross = crosses.entry((season, row["cross"].as_str().into())).or_insert(Cross {
            code: row["cross"].as_str().into(),
            season: Some(season),
            pollen: if seed == pollen { Pollen::Selfed } else { Pollen::From(pollen) },
            seed,
            by: if row["by"] == "bees" { By::Bees } else { By::Hand },
            ..Cross::default()
        });
        let is = match &*row["verdict"] {
            "keep" => Verdict::Keep,
            "hold" => Verdict::Hold,
            _ => Verdict::Discard,
        };
        let look = Look { colours: vec![row["colours"].as_str().into()], ..Look::default() };
        let bloomed = when(&row["first_bloom"]);
        cross.seedlings.push(Seedling {
            number: row["seedling"].as_str().into(),
            diary: vec![
                Entry { on: bloomed, did: PlantDeed::FirstBloom },
                Entry { on: bloomed, did: PlantDeed::Look(Box::new(look)) },
                Entry {
                    on: when(&row["verdict_on"]),
                    did: PlantDeed::Verdict { is, why: None, who: None },
                },
            ],
            ..Seedling::default()
        });
    }
    let names: BTreeMap<Box<str>, String> = rows
        .iter()
        .flat_map(|row| [&row["seed_parent"], &row["pollen_parent"]])
        .flat_map(|field| field.split('|'))
        .map(|part| part.split('=').next().unwrap_or_default())
        .filter(|name| !name.is_empty() && *name != "?")
        .filter(|name| rows.iter().all(|row| row["seedling"] != *name))
        .map(|name| {
            let key = parent(name).known().expect("one name").to_owned();
            (key.into_boxed_str(), name.to_owned())
        })
        .collect();
    let varieties = names
        .into_iter()
        .map(|(id, name)| Variety { id, name: name.into(), ..Variety::default() })
        .collect();
    let colours = COLOURS.map(|(word, swatch)| Colour { word: word.into(), swatch }).to_vec();
    let crop = Crop { name: "dahlia".into(), plural: "dahlias".into(), colours, ..Crop::default() };
    let about =
        About { garden: "Quillet Garden".into(), crop: "dahlia".into(), ..About::default() };
    let book = Book::new(about, Arc::new(crop), varieties, crosses.into_values().collect());
    let today = NaiveDate::from_ymd_opt(2026, 11, 3).expect("a day");
    Arc::new(Desk::new(Arc::new(book), today))
}
