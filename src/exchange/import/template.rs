//! A small file of each kind, to copy and fill in.

use super::Kind;

/// An example of one kind of file, and what to know about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Template {
    /// The kind.
    pub kind: Kind,
    /// What it is for and what its columns mean, in a few lines.
    pub about: &'static str,
    /// A file that can be taken in as it is.
    pub csv: &'static str,
}

/// One example of each kind.
pub const TEMPLATES: [Template; 4] = [
    Template {
        kind: Kind::Varieties,
        about: "\
A varieties file: named plants, one a row. It must have variety, and may have seed_parent,
pollen_parent, raiser, year, group, bloom_mm, height_cm, colours, gives_seed, gives_pollen (yes
or no) and note. Several colours are split by |, the main one first.",
        csv: "\
variety,seed_parent,pollen_parent,raiser,year,bloom_mm,colours,gives_seed,note
Ferry Lantern,,,,2014,110,apricot|yellow,yes,\"bought, two tubers\"
Saltmarsh,Ferry Lantern,?,,2019,95,white,yes,
",
    },
    Template {
        kind: Kind::Seedlings,
        about: "\
A seedlings file: numbered plants, one a row. It must have seedling, any text, and may have
seed_parent, pollen_parent, cross, season (the year of crossing), by (hand or bees), father (one
or each), sown, position (bed/row/place), planted, first_bloom, last_seen_unbloomed, verdict
(keep, hold or discard), verdict_on, why, lost_on, lost_why, name, look_on, who, group, bloom_mm,
height_cm, colours, faults, note and score:TRAIT for any trait.
A parent may be ?, or several split by |, with weights if you like: A=0.5|B=0.3|?. The word selfed
as pollen parent is a selfing. Rows without cross share one for the same parents, season and by.
Without season, it is the year before sowing, planting or bloom.",
        csv: "\
seedling,seed_parent,pollen_parent,season,sown,planted,first_bloom,bloom_mm,verdict,why
26-101,Ferry Lantern,Saltmarsh,2025,2026-03-12,2026-05-29,2026-09-01,98,keep,firm stem
26-102,Ferry Lantern,Saltmarsh,2025,2026-03-12,2026-05-29,,,,
26-140,Saltmarsh,Ferry Lantern=0.5|24-031=0.3|?,2025,,2026,2026-08,,discard,open centre
",
    },
    Template {
        kind: Kind::Looks,
        about: "\
A looks file: further looks at plants already known, one a row. It must have plant and on, and may
have who, verdict, why, group, bloom_mm, height_cm, colours, faults, note and score:TRAIT for any
trait.",
        csv: "\
plant,on,who,bloom_mm,height_cm,faults,verdict
26-101,2026-09-20,,98,120,,
Ferry Lantern,2026-09-20,Nora,112,,open centre,
",
    },
    Template {
        kind: Kind::Counts,
        about: "\
A counts file: families of which only totals are known, one a row. It must have seed_parent,
pollen_parent and season, with any of heads, seeds, sown, up, planted, bloomed, judged and kept;
judged_season where it is not the season after the cross.",
        csv: "\
seed_parent,pollen_parent,season,sown,planted,bloomed,judged,kept
Saltmarsh,?,2019,60,41,33,30,4
Ferry Lantern,Saltmarsh,2020,25,18,15,15,6
",
    },
];
