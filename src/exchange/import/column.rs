//! The four kinds of file and the columns that each may have.

/// What a file holds, told by its header.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Named plants, one a row.
    Varieties,
    /// Numbered plants, one a row.
    Seedlings,
    /// Looks at plants already known, one a row.
    Looks,
    /// Families of which only totals are known, one a row.
    Counts,
}

/// A column that means something. The order is the one in which rows are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Column {
    Variety,
    Seedling,
    Plant,
    SeedParent,
    PollenParent,
    Cross,
    Season,
    By,
    Father,
    Sown,
    Planted,
    Position,
    LastSeenUnbloomed,
    FirstBloom,
    On,
    LookOn,
    Who,
    Group,
    BloomMm,
    HeightCm,
    Colours,
    /// A score; the number counts the traits named in the files of one call.
    Score(u16),
    Faults,
    Note,
    Verdict,
    VerdictOn,
    Why,
    Name,
    LostOn,
    LostWhy,
    Raiser,
    Year,
    GivesSeed,
    GivesPollen,
    Heads,
    Seeds,
    SeedsSown,
    Up,
    PlantedOut,
    Bloomed,
    Judged,
    Kept,
    JudgedSeason,
}

/// What the cells of a column hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Holds {
    /// Text on one line.
    Text,
    /// Text that may run over several lines, and is put on one.
    Reason,
    /// Text that may run over several lines.
    Note,
    /// Several words.
    List,
    /// A date, or a month, or a year.
    Date,
    /// A year.
    Year,
    /// A length above 0.
    Length,
    /// A score.
    Score,
    /// A whole number.
    Count,
    /// Yes or no.
    YesNo,
    /// Who a parent is.
    Parent,
    /// Hand or bees.
    By,
    /// One or each.
    Father,
    /// Keep, hold or discard.
    Verdict,
    /// A place in a bed.
    Position,
}

/// One column of the contract.
#[derive(Debug)]
pub(super) struct Spec {
    /// Its name in the header.
    pub(super) name: &'static str,
    /// What it means.
    pub(super) column: Column,
    /// What its cells hold.
    pub(super) holds: Holds,
    /// The kinds of file that may have it.
    pub(super) kinds: &'static [Kind],
}

const fn spec(name: &'static str, column: Column, holds: Holds, kinds: &'static [Kind]) -> Spec {
    Spec { name, column, holds, kinds }
}

const V: &[Kind] = &[Kind::Varieties];
const S: &[Kind] = &[Kind::Seedlings];
const L: &[Kind] = &[Kind::Looks];
const C: &[Kind] = &[Kind::Counts];
const SC: &[Kind] = &[Kind::Seedlings, Kind::Counts];
const SL: &[Kind] = &[Kind::Seedlings, Kind::Looks];
const VSC: &[Kind] = &[Kind::Varieties, Kind::Seedlings, Kind::Counts];
const VSL: &[Kind] = &[Kind::Varieties, Kind::Seedlings, Kind::Looks];

/// Every column but `score:TRAIT`.
pub(super) const COLUMNS: &[Spec] = &[
    spec("variety", Column::Variety, Holds::Text, V),
    spec("seedling", Column::Seedling, Holds::Text, S),
    spec("plant", Column::Plant, Holds::Text, L),
    spec("seed_parent", Column::SeedParent, Holds::Parent, VSC),
    spec("pollen_parent", Column::PollenParent, Holds::Parent, VSC),
    spec("cross", Column::Cross, Holds::Text, S),
    spec("season", Column::Season, Holds::Year, SC),
    spec("by", Column::By, Holds::By, S),
    spec("father", Column::Father, Holds::Father, S),
    spec("sown", Column::Sown, Holds::Date, S),
    spec("position", Column::Position, Holds::Position, S),
    spec("planted", Column::Planted, Holds::Date, S),
    spec("first_bloom", Column::FirstBloom, Holds::Date, S),
    spec("last_seen_unbloomed", Column::LastSeenUnbloomed, Holds::Date, S),
    spec("verdict", Column::Verdict, Holds::Verdict, SL),
    spec("verdict_on", Column::VerdictOn, Holds::Date, S),
    spec("why", Column::Why, Holds::Reason, SL),
    spec("lost_on", Column::LostOn, Holds::Date, S),
    spec("lost_why", Column::LostWhy, Holds::Reason, S),
    spec("name", Column::Name, Holds::Text, S),
    spec("on", Column::On, Holds::Date, L),
    spec("look_on", Column::LookOn, Holds::Date, S),
    spec("who", Column::Who, Holds::Text, SL),
    spec("raiser", Column::Raiser, Holds::Text, V),
    spec("year", Column::Year, Holds::Year, V),
    spec("group", Column::Group, Holds::Text, VSL),
    spec("bloom_mm", Column::BloomMm, Holds::Length, VSL),
    spec("height_cm", Column::HeightCm, Holds::Length, VSL),
    spec("colours", Column::Colours, Holds::List, VSL),
    spec("faults", Column::Faults, Holds::List, SL),
    spec("note", Column::Note, Holds::Note, VSL),
    spec("gives_seed", Column::GivesSeed, Holds::YesNo, V),
    spec("gives_pollen", Column::GivesPollen, Holds::YesNo, V),
    spec("heads", Column::Heads, Holds::Count, C),
    spec("seeds", Column::Seeds, Holds::Count, C),
    spec("sown", Column::SeedsSown, Holds::Count, C),
    spec("up", Column::Up, Holds::Count, C),
    spec("planted", Column::PlantedOut, Holds::Count, C),
    spec("bloomed", Column::Bloomed, Holds::Count, C),
    spec("judged", Column::Judged, Holds::Count, C),
    spec("kept", Column::Kept, Holds::Count, C),
    spec("judged_season", Column::JudgedSeason, Holds::Year, C),
];

/// The column that a file of set-aside rows has last, saying what is wrong with each. It is
/// passed over when the mended file comes back in.
pub(super) const FAULT_COLUMN: &str = "fault";

/// What stands before the trait in the name of a column of scores.
pub(super) const SCORE: &str = "score:";

impl Kind {
    /// The word for a file of this kind.
    pub fn word(self) -> &'static str {
        match self {
            Self::Varieties => "varieties",
            Self::Seedlings => "seedlings",
            Self::Looks => "looks",
            Self::Counts => "counts",
        }
    }

    /// The columns that must be there.
    pub(super) fn required(self) -> &'static [&'static str] {
        match self {
            Self::Varieties => &["variety"],
            Self::Seedlings => &["seedling"],
            Self::Looks => &["plant", "on"],
            Self::Counts => &["seed_parent", "pollen_parent", "season"],
        }
    }

    /// Whether it may have columns of scores.
    pub(super) fn has_scores(self) -> bool {
        matches!(self, Self::Seedlings | Self::Looks)
    }

    /// The columns it may have.
    pub(super) fn columns(self) -> impl Iterator<Item = &'static Spec> {
        COLUMNS.iter().filter(move |spec| spec.kinds.contains(&self))
    }
}

impl Column {
    /// Its name in the header.
    pub(super) fn name(self, traits: &[Box<str>]) -> String {
        match self {
            Self::Score(n) => {
                format!("{SCORE}{}", traits.get(usize::from(n)).map_or("", |t| t))
            }
            column => COLUMNS
                .iter()
                .find(|spec| spec.column == column)
                .map_or_else(String::new, |spec| spec.name.to_owned()),
        }
    }
}
