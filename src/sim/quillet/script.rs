//! What Hester and Tom set out to do in each season, and what the sky did.

use crate::sim::{Plan, Way, Who, Year, garden::date};

use Who::{Free, Keeper, Variety};

const FERRY: Who = Variety("ferry-lantern");
const SALT: Who = Variety("saltmarsh");
const FIRE: Who = Variety("coppice-fire");
const SHAWL: Who = Variety("mrs-aberys-shawl");
const ROSE: Who = Variety("tollgate-rose");
const LUGGER: Who = Variety("lugger");
const HOB: Who = Variety("hobs-candle");
const ANY: Way = Way::Hand(Free, Free);

const fn plan(code: &'static str, season: i16, n_heads: u32, way: Way) -> Plan {
    Plan { code, season, way, n_heads, adds: None, away: 0 }
}

/// A cross of a pairing that the story wants better or worse than its parents.
const fn fated(code: &'static str, season: i16, n_heads: u32, adds: f64, way: Way) -> Plan {
    Plan { code, season, way, n_heads, adds: Some(adds), away: 0 }
}

/// A cross whose seed was raised elsewhere, so many plants, of which only totals came back.
const fn away(code: &'static str, season: i16, n_heads: u32, way: Way, plants: u32) -> Plan {
    Plan { code, season, way, n_heads, adds: None, away: plants }
}

/// The first season in which the bed plan shows the parents too.
pub(super) const PARENTS_MAPPED: i16 = 2025;

/// All crosses, season by season.
pub(super) const PLANS: &[Plan] = &[
    plan("18X01", 2018, 0, Way::Bought("Lund & Daughter, mixed packet", 70)),
    plan("18X02", 2018, 0, Way::Bought("swapped at the village show, \"from cactus\"", 60)),
    fated("18X03", 2018, 5, 0.35, Way::Hand(FERRY, SALT)),
    fated("18X04", 2018, 6, 0.0, Way::Hand(SHAWL, ROSE)),
    plan("18X05", 2018, 4, Way::Bees(HOB, &[])),
    plan("18X06", 2018, 4, Way::Hand(LUGGER, FIRE)),
    plan("18X07", 2018, 3, Way::Bees(ROSE, &[])),
    plan("18X08", 2018, 3, ANY),
    plan("19X01", 2019, 6, Way::Hand(FERRY, SALT)),
    plan("19X02", 2019, 6, Way::Hand(SHAWL, ROSE)),
    plan("19X03", 2019, 4, Way::Hand(FIRE, LUGGER)),
    plan("19X04", 2019, 5, Way::Bees(SALT, &[(FERRY, 0.4), (Variety("withy-bend"), 0.4)])),
    away("19X05", 2019, 4, Way::Bees(HOB, &[]), 26),
    plan("19X06", 2019, 5, Way::Hand(Variety("skerry-light"), Variety("gorse-lane"))),
    plan("19X07", 2019, 4, ANY),
    plan("19X08", 2019, 4, ANY),
    plan("20X01", 2020, 6, Way::Hand(SALT, FERRY)),
    plan("20X02", 2020, 6, Way::Hand(SHAWL, Variety("bellwether"))),
    fated("20X03", 2020, 6, 0.4, Way::Hand(FIRE, Keeper("18X03", 0))),
    plan("20X04", 2020, 5, Way::Hand(Keeper("18X03", 1), LUGGER)),
    plan(
        "20X05",
        2020,
        4,
        Way::Bees(Variety("tin-chapel"), &[(SALT, 0.5), (Variety("marram"), 0.3)]),
    ),
    plan("20X06", 2020, 7, Way::Selfed(FERRY)),
    plan("20X07", 2020, 4, ANY),
    plan("20X08", 2020, 5, ANY),
    plan("20X09", 2020, 4, Way::Bees(Variety("withy-bend"), &[])),
    plan("21X01", 2021, 0, Way::Bought("Lund & Daughter, mixed packet again", 32)),
    plan("21X02", 2021, 7, Way::Hand(FERRY, SALT)),
    plan("21X03", 2021, 5, Way::Hand(SHAWL, ROSE)),
    plan("21X04", 2021, 6, Way::Again("20X03")),
    plan("21X05", 2021, 5, Way::Hand(Keeper("18X03", 0), Keeper("18X06", 0))),
    plan(
        "21X06",
        2021,
        4,
        Way::Bees(Keeper("18X03", 1), &[(LUGGER, 0.35), (FIRE, 0.35), (ROSE, 0.2)]),
    ),
    plan("21X07", 2021, 5, Way::Hand(Variety("oatfield"), Keeper("18X06", 1))),
    plan("21X08", 2021, 4, ANY),
    plan("21X09", 2021, 4, ANY),
    plan("22X01", 2022, 7, Way::Again("20X03")),
    plan("22X02", 2022, 6, Way::Hand(SHAWL, ROSE)),
    plan("22X03", 2022, 5, Way::Hand(Keeper("20X01", 0), FERRY)),
    plan("22X04", 2022, 5, Way::Hand(Keeper("20X03", 0), Keeper("19X01", 0))),
    plan(
        "22X05",
        2022,
        4,
        Way::Bees(Keeper("20X03", 0), &[(FERRY, 0.5), (Keeper("20X04", 0), 0.3)]),
    ),
    plan("22X06", 2022, 5, Way::Hand(Variety("harbour-wall"), Keeper("20X04", 0))),
    away("22X07", 2022, 5, Way::Bees(Variety("quiet-tide"), &[(SALT, 0.5)]), 34),
    plan("22X08", 2022, 5, ANY),
    plan("22X09", 2022, 4, ANY),
    plan("22X10", 2022, 3, Way::Bees(Variety("kettle-song"), &[(HOB, 0.6)])),
    plan("23X01", 2023, 6, Way::Hand(SHAWL, ROSE)),
    plan("23X02", 2023, 6, Way::Hand(Keeper("20X03", 0), FERRY)),
    plan("23X03", 2023, 5, Way::Hand(Keeper("21X04", 0), Keeper("21X02", 0))),
    plan("23X04", 2023, 5, Way::Hand(Variety("skerry-light"), Keeper("20X01", 0))),
    plan("23X05", 2023, 5, Way::Hand(LUGGER, Keeper("21X05", 0))),
    plan(
        "23X06",
        2023,
        4,
        Way::Bees(Keeper("21X02", 0), &[(Keeper("20X03", 0), 0.45), (FERRY, 0.35)]),
    ),
    plan("23X07", 2023, 5, Way::Selfed(Keeper("20X03", 0))),
    plan("23X08", 2023, 5, ANY),
    plan("23X09", 2023, 4, ANY),
    plan("24X01", 2024, 6, Way::Hand(FERRY, SALT)),
    fated("24X02", 2024, 6, 0.3, Way::Hand(FERRY, Keeper("22X01", 0))),
    plan("24X03", 2024, 6, Way::Hand(SHAWL, Keeper("21X05", 0))),
    plan("24X04", 2024, 5, Way::Hand(Keeper("22X04", 0), FIRE)),
    plan(
        "24X05",
        2024,
        5,
        Way::Bees(
            Keeper("22X03", 0),
            &[(Keeper("22X01", 0), 0.4), (Keeper("20X03", 0), 0.3), (SALT, 0.2)],
        ),
    ),
    plan("24X06", 2024, 5, Way::Hand(Variety("tin-chapel"), Keeper("21X02", 1))),
    plan("24X07", 2024, 5, Way::Hand(Keeper("22X01", 1), Keeper("21X02", 0))),
    plan("24X08", 2024, 4, Way::Bees(Variety("pedlars-ribbon"), &[])),
    plan("24X09", 2024, 5, Way::Mixed(Variety("harbour-wall"), &[(FIRE, 0.5), (LUGGER, 0.5)])),
    plan("24X10", 2024, 4, ANY),
    plan("25X01", 2025, 7, Way::Again("24X02")),
    plan("25X02", 2025, 6, Way::Hand(SALT, FERRY)),
    plan("25X03", 2025, 5, Way::Hand(SHAWL, ROSE)),
    plan(
        "25X04",
        2025,
        6,
        Way::Bees(Keeper("22X01", 0), &[(FERRY, 0.4), (Keeper("23X02", 0), 0.3), (FIRE, 0.2)]),
    ),
    plan("25X05", 2025, 5, Way::Hand(Keeper("23X03", 0), Keeper("23X02", 0))),
    plan("25X06", 2025, 5, Way::Hand(Variety("old-rope"), Keeper("22X03", 0))),
    plan("25X07", 2025, 5, Way::Hand(FERRY, Keeper("23X03", 0))),
    plan("25X08", 2025, 4, Way::Hand(Variety("gorse-lane"), Variety("oatfield"))),
    plan("25X09", 2025, 4, ANY),
    plan("26X01", 2026, 10, Way::Again("24X02")),
    plan("26X02", 2026, 9, Way::Hand(Keeper("24X02", 0), SALT)),
    plan("26X03", 2026, 9, Way::Hand(Keeper("24X01", 0), Keeper("22X01", 0))),
    plan("26X04", 2026, 8, Way::Hand(Keeper("23X03", 0), Keeper("24X07", 0))),
    plan(
        "26X05",
        2026,
        8,
        Way::Bees(
            Keeper("24X02", 0),
            &[(Keeper("22X01", 0), 0.4), (FERRY, 0.3), (Keeper("23X02", 0), 0.2)],
        ),
    ),
    plan("26X06", 2026, 7, Way::Hand(SHAWL, Keeper("24X04", 0))),
    plan("26X07", 2026, 6, Way::Hand(Variety("bramblejack"), Keeper("24X04", 0))),
    plan("26X08", 2026, 7, Way::Selfed(Keeper("22X01", 0))),
];

/// The seasons: frosts, weather, and how many seedlings were wanted.
pub(super) fn years() -> Vec<Year> {
    // Last frost, first frost, lifting begins, adds, days late, heads rotted, winter losses,
    // seedlings. The first frost of 2026 had not come when the book was written.
    type Row = (i16, [(u32, u32); 3], f64, f64, f64, f64, u32);
    const ROWS: [Row; 9] = [
        (2018, [(4, 30), (10, 29), (10, 30)], 0.0, -3.0, 0.14, 0.10, 60),
        (2019, [(5, 6), (10, 28), (10, 29)], -0.05, 2.0, 0.28, 0.12, 110),
        (2020, [(5, 13), (11, 4), (11, 5)], 0.1, -2.0, 0.2, 0.14, 150),
        (2021, [(5, 3), (11, 8), (11, 9)], 0.45, -5.0, 0.1, 0.08, 180),
        (2022, [(4, 24), (11, 19), (11, 12)], -0.25, 4.0, 0.16, 0.52, 200),
        (2023, [(4, 27), (10, 17), (10, 18)], -0.1, 3.0, 0.34, 0.12, 210),
        (2024, [(4, 24), (10, 12), (10, 13)], -0.05, 0.0, 0.22, 0.11, 220),
        (2025, [(5, 9), (11, 2), (11, 3)], -0.15, -3.0, 0.12, 0.10, 220),
        (2026, [(5, 2), (11, 24), (10, 24)], -0.3, 1.0, 0.15, 0.10, 150),
    ];
    ROWS.map(|(season, days, adds, late, heads_rot, winter, wanted)| {
        let [last_frost, first_frost, lifts] = days.map(|(month, day)| date(season, month, day));
        Year {
            season,
            last_frost,
            first_frost,
            adds: Some(adds),
            late,
            heads_rot,
            winter,
            wanted,
            lifts,
            for_varieties: if season < PARENTS_MAPPED { 0 } else { 25 },
        }
    })
    .to_vec()
}
