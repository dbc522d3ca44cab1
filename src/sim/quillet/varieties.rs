//! The varieties of the invented garden. Every name is our own.

use crate::sim::Trait;

use crate::book::{Entry, Parent, PlantDeed, Variety, When};

/// Name | parents | raiser, year | group, bloom in mm, height in cm | colours | genes | came, from
/// whom | remark. Parents stand before their children; the genes are yellow, red, fullness, roll
/// of the rays, liking and seed set of those without parents.
const TABLE: &str = "\
Ferry Lantern |  | W. Tranter, 1998 | D 118 115 | apricot, orange | 0.9 0.2 0.7 0.0 1.5 0.9 | 2016 Brill Lane plant sale | Passes on its stem. Never without it.
Saltmarsh |  | O. Fenn, 2004 | WL 125 120 | straw, white | 0.5 -1.2 0.6 -0.1 0.7 0.5 | 2016 O. Fenn, by post | Weak necks in a wet year, clean colour always.
Coppice Fire |  | W. Tranter, 2007 | S-c 135 130 | flame, yellow | 1.2 1.3 0.6 0.9 0.9 0.1 | 2017 W. Tranter |
Mrs Abery's Shawl |  | T. Abery, 1961 | D 175 135 | purple, white | -1.0 1.4 1.0 0.1 -0.8 0.2 | 2014 Hester's grandmother | Grandmother's. Tips of white, no two blooms alike.
Tollgate Rose |  | P. Ansley, 1989 | D 140 110 | pink | -0.3 0.0 0.7 0.0 -0.3 0.4 | 2016 Brill Lane plant sale |
Widow Tansy |  |  | Ba 98 105 | yellow | 1.6 -1.1 1.1 -1.1 0.2 -0.2 | 2015 the allotments, no name on it | Came unnamed; named by the lane.
Dunlin |  | O. Fenn, 2011 | Pom 52 95 | bronze | 0.9 0.5 1.2 -1.5 0.3 -0.6 | 2017 O. Fenn, by post |
Skerry Light |  | J. Hallam Reid, 1995 | C 150 125 | white | -1.1 -1.6 0.8 1.4 0.4 -0.1 | 2017 J. Hallam Reid's widow |
Lugger |  | J. Hallam Reid, 2001 | S-c 145 140 | dark red | -0.2 1.9 0.5 0.8 0.5 0.6 | 2017 J. Hallam Reid's widow | Leaves as dark as the bloom.
Hob's Candle |  | P. Ansley, 1993 | Col 105 100 | orange, yellow | 1.3 0.6 -1.2 0.0 -0.2 1.6 | 2016 Brill Lane plant sale | Bees queue for it.
Bellwether |  | T. Abery, 1970 | D 255 130 | lavender | -0.9 -0.1 1.6 0.2 0.2 -2.0 | 2015 swap, harvest supper | Hundreds of heads tried, not a seed. Use its pollen, late, from the centre.
Tin Chapel |  | W. Tranter, 2010 | Ba 104 110 | white | -1.0 -1.4 1.7 -1.0 0.5 0.0 | 2018 W. Tranter | No pollen to be found, ever. Sets seed well enough.
Withy Bend |  | O. Fenn, 2012 | SinO 110 105 | lavender | -0.8 -0.2 -1.5 -0.6 -0.1 1.4 | 2018 O. Fenn, by post |
Old Rope |  | M. Dace, 2006 | Fim 160 120 | apricot | 0.8 -0.3 0.7 0.7 0.1 -0.3 | 2019 M. Dace |
Kettle Song |  | P. Ansley, 1999 | Anem 95 90 | orange | 1.2 0.5 -0.3 0.1 0.0 0.8 | 2018 Brill Lane plant sale |
Plumstone |  |  | Ba 92 115 | purple | -0.9 1.5 1.2 -1.2 0.1 0.0 | 2018 swap, village show |
Gorse Lane |  | W. Tranter, 2002 | C 155 135 | yellow | 1.7 -1.3 0.7 1.5 0.0 0.2 | 2019 W. Tranter |
Marram | saltmarsh × ? | O. Fenn, 2013 | WL 115 115 | straw |  | 2018 O. Fenn, by post |
Harbour Wall | tollgate-rose × lugger | J. Hallam Reid, 2009 | S-c 140 125 | dark pink |  | 2018 J. Hallam Reid's widow |
Quiet Tide | saltmarsh × withy-bend | O. Fenn, 2016 | WL 120 110 | lavender, white |  | 2019 O. Fenn, by post |
Farthing Bright | widow-tansy × dunlin | O. Fenn, 2017 | Pom 50 90 | yellow |  | 2020 O. Fenn, by post |
Pedlar's Ribbon | hobs-candle × ? | P. Ansley, 2003 | Col 108 105 | dark red, white |  | 2019 Brill Lane plant sale |
Oatfield | ferry-lantern × saltmarsh | W. Tranter, 2014 | D 122 112 | straw, pink |  | 2019 W. Tranter | The same pair as our own good one, made by him years before.
Bramblejack | lugger × plumstone | M. Dace, 2015 | P 112 110 | dark red |  | 2020 M. Dace |
Candlewick Row | ? × old-rope | M. Dace, 2012 | Fim 150 118 | white, yellow |  | 2021 M. Dace |
";

/// A variety of the garden, with what makes it what it is said to be.
#[derive(Debug, Clone)]
pub(super) struct Sort {
    /// The record, without what happened to it later.
    pub variety: Variety,
    /// Seed and pollen parent, by id.
    pub parents: [Option<String>; 2],
    /// Breeding values, where it is of unknown origin.
    pub targets: Vec<(Trait, f64)>,
    /// The season it came.
    pub since: i16,
}

/// Every variety, parents before children.
pub(super) fn sorts() -> Vec<Sort> {
    TABLE.lines().filter_map(sort).collect()
}

fn sort(line: &str) -> Option<Sort> {
    let cells: Vec<&str> = line.split('|').map(str::trim).collect();
    let &[name, parents, raised, size, colours, genes, came, note] = &cells[..] else {
        return None;
    };
    let mut size = size.split(' ');
    let group = size.next()?;
    let (bloom, height): (f64, f64) = (size.next()?.parse().ok()?, size.next()?.parse().ok()?);
    let parents = parents
        .split_once(" × ")
        .map_or([None, None], |(a, b)| [a, b].map(|p| (p != "?").then(|| p.to_owned())));
    let (since, from) = came.split_once(' ')?;
    let text = |t: &str| (!t.is_empty()).then(|| Box::from(t));
    let parent =
        |p: &Option<String>| p.as_deref().map_or(Parent::Unknown, |p| Parent::Known(p.into()));
    let (by, brought_out) = raised.split_once(", ").unwrap_or_default();
    let variety = Variety {
        id: id(name).into(),
        name: name.into(),
        seed: parent(&parents[0]),
        pollen: parent(&parents[1]),
        raiser: text(by),
        year: brought_out.parse().ok(),
        group: text(group),
        bloom_mm: Some(bloom),
        height_cm: Some(height),
        colours: colours.split(", ").map(Box::from).collect(),
        gives_seed: None,
        gives_pollen: None,
        note: text(note),
        diary: vec![Entry {
            on: When::parse(since).ok()?,
            did: PlantDeed::Acquired { from: text(from) },
        }],
    };
    let mut targets = vec![
        (Trait::Bloom, (bloom / 120.0).ln() / 0.3),
        (Trait::Height, (height - 112.0) / 18.0),
        (Trait::Late, 0.0),
    ];
    let of = [Trait::Yellow, Trait::Red, Trait::Full, Trait::Roll, Trait::Liking, Trait::Seed];
    targets.extend(of.into_iter().zip(genes.split(' ').filter_map(|g| g.parse().ok())));
    Some(Sort { variety, parents, targets, since: since.parse().ok()? })
}

fn id(name: &str) -> String {
    name.to_lowercase().replace('\'', "").replace(' ', "-")
}
