//! Breeding values as a book's own traits give them, with known variances.

use trug::{
    book::{Entry, Look, PlantDeed, Position, Variety, When},
    lineage::Pedigree,
    merit::traits::{BLOOM_MM, Shares, TraitFit},
};

use super::{Row, close, garden::Garden, garden::variety, table};

/// A plant of which so much was measured in a season and a bed.
fn measured(mut plant: Variety, season: &str, bed: &str, figure: f64) -> Variety {
    let on = When::parse(season).unwrap();
    let position = Position { bed: bed.into(), row: 1, place: 1 };
    let look = Look { bloom_mm: Some(figure), ..Look::default() };
    plant.diary = vec![
        Entry { on, did: PlantDeed::Planted(Some(position)) },
        Entry { on, did: PlantDeed::Look(Box::new(look)) },
    ];
    plant
}

fn fit(garden: &Garden, descent: f64, residual: f64) -> TraitFit {
    let shares = Shares { descent, group: 0.0, lasting: 0.0, residual };
    let pedigree = Pedigree::of(&garden.book);
    TraitFit::with_shares(&garden.book, &pedigree, &garden.kinship, BLOOM_MM, &shares).unwrap()
}

/// The same calves as in the check of the equations, each sex in a bed of its own.
#[test]
fn breeding_values_of_calves_out_of_a_book() {
    let records = table("d01", "data.csv");
    let plants = table("d01", "pedigree.csv").into_iter().map(|row| {
        let plant = Variety {
            id: row.text("id").into(),
            seed: super::garden::parent(row.text("sire")),
            pollen: super::garden::parent(row.text("dam")),
            ..Variety::default()
        };
        match records.iter().find(|record| record.text("animal") == row.text("id")) {
            Some(record) => measured(plant, "2020", record.text("sex"), record.number("wwg")),
            None => plant,
        }
    });
    let garden = Garden::new(plants.collect(), 2, 0.0);
    let fit = fit(&garden, 20.0, 40.0);
    let expected = table("d01", "expected.csv");
    let animals: Vec<&Row> = expected.iter().filter(|row| row.text("effect") == "animal").collect();
    assert_eq!(animals.len(), 8);
    for row in animals {
        let level = row.text("level");
        let worth = fit.breeding_value(garden.at(level)).unwrap();
        close(worth.value, row.number("solution"), 1e-6, level);
        close(worth.se.powi(2), row.number("PEV"), 1e-6, level);
        close(worth.reliability, row.number("reliability"), 1e-6, level);
    }
}

#[test]
fn breeding_values_of_an_inbred_line_out_of_a_book_at_ploidy_two_and_eight() {
    let records = table("d06", "data.csv");
    let expected = table("d06", "expected.csv");
    for ploidy in [2, 8] {
        let pedigree = table("d06", "pedigree.csv");
        let plants = pedigree.iter().map(variety).map(|plant| {
            match records.iter().find(|record| *record.text("id") == *plant.id) {
                Some(record) => {
                    let season = format!("200{}", record.text("year"));
                    measured(plant, &season, "A", record.number("y"))
                }
                None => plant,
            }
        });
        let garden = Garden::new(plants.collect(), ploidy, 0.0);
        let fit = fit(&garden, 2.0, 3.0);
        let mut n = 0;
        for row in expected.iter().filter(|row| row.text("ploidy").parse() == Ok(ploidy)) {
            if row.text("effect") == "year" {
                continue;
            }
            let level = row.text("level");
            // A plant that was not measured and has no offspring is none of the model's.
            let Some(worth) = fit.breeding_value(garden.at(level)) else { continue };
            n += 1;
            close(worth.value, row.number("solution"), 1e-7, level);
            close(worth.se.powi(2), row.number("PEV"), 1e-7, level);
            close(worth.reliability, row.number("reliability"), 1e-7, level);
        }
        assert!(n > 25, "{n} plants were compared");
    }
}
