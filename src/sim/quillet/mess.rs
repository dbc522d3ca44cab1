//! The mess of real records: what no season brings by itself.

use std::collections::BTreeMap;

use crate::sim::{Garden, scribe::Scribe};

use crate::book::{Cross, Entry, PlantDeed, Variety, When};

/// The crosses whose plants were given plain numbers, the second lot of them the same ones again.
const PLAIN: [&str; 2] = ["18X01", "21X01"];

/// What has to be so before the first season.
pub(super) fn before(garden: &mut Garden) {
    let mut set = |id: &str, change: &dyn Fn(&mut crate::sim::Plant)| {
        if let Some(i) = garden.find(id) {
            change(&mut garden.plants[i]);
        }
    };
    set("bellwether", &|p| p.gives_seed = false);
    set("tin-chapel", &|p| p.gives_pollen = false);
    set("plumstone", &|p| p.without = vec![2023, 2024]);
    set("kettle-song", &|p| p.without = vec![2023, 2024, 2025, 2026]);
    let at = |garden: &Garden, id: &str| garden.find(id).unwrap_or_default();
    let (ferry, salt) = (at(garden, "ferry-lantern"), at(garden, "saltmarsh"));
    let (shawl, rose) = (at(garden, "mrs-aberys-shawl"), at(garden, "tollgate-rose"));
    garden.set_pairing(ferry, salt, 0.3);
    garden.set_pairing(shawl, rose, -0.1);
}

/// The number and id of every seedling.
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

fn entry(on: &str, did: PlantDeed) -> Option<Entry<PlantDeed>> {
    Some(Entry { on: When::parse(on).ok()?, did })
}

/// What has to be put into the finished records.
pub(super) fn after(
    _garden: &Garden,
    _scribe: &Scribe<'_>,
    varieties: &mut [Variety],
    _crosses: &mut [Cross],
) {
    for variety in varieties {
        match &*variety.id {
            "bellwether" => variety.gives_seed = Some(false),
            "tin-chapel" => variety.gives_pollen = Some(false),
            "hobs-candle" | "ferry-lantern" => variety.gives_seed = Some(true),
            "plumstone" => variety.diary.extend(
                [
                    entry("2023-01", PlantDeed::Lost("frost in the shed".into())),
                    entry("2025-04", PlantDeed::Acquired { from: Some("M. Dace".into()) }),
                ]
                .into_iter()
                .flatten(),
            ),
            "kettle-song" => {
                let lost = entry("2023-01", PlantDeed::Lost("frost in the shed".into()));
                variety.diary.extend(lost);
            }
            _ => {}
        }
    }
}
