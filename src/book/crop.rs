//! What is peculiar to the crop: groups, sizes, colours, traits, faults, usual figures.
//!
//! All of it comes from a crop file; the code knows no plant by name. Every table says where its
//! figures are from.

/// A flower group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// The short code used in records.
    pub code: Box<str>,
    /// The name.
    pub name: Box<str>,
    /// How to tell it, in a few words.
    pub means: Box<str>,
}

/// One class of a size table.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeClass {
    /// The name of the class.
    pub name: Box<str>,
    /// The groups it is for, by code; empty means every group that no other class names.
    pub groups: Vec<Box<str>>,
    /// The diameter it begins above, in mm.
    pub above_mm: f64,
    /// The diameter it reaches up to and includes, in mm; absent means no upper end.
    pub up_to_mm: Option<f64>,
}

/// One published way of sorting blooms by size.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeTable {
    /// The name by which a book picks it.
    pub name: Box<str>,
    /// What it is, in a line.
    pub title: Box<str>,
    /// Groups that it does not size, by code.
    pub unsized_groups: Vec<Box<str>>,
    /// The classes.
    pub classes: Vec<SizeClass>,
    /// Where the figures are from.
    pub source: Box<str>,
}

/// A colour word and how it looks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Colour {
    /// The word.
    pub word: Box<str>,
    /// Red, green, blue of the swatch.
    pub swatch: [u8; 3],
}

/// Something that is scored by eye.
#[derive(Debug, Clone, PartialEq)]
pub struct Trait {
    /// The name used in records.
    pub name: Box<str>,
    /// What a high score means, in a line.
    pub means: Box<str>,
    /// The lowest score of the scale.
    pub low: f64,
    /// The highest score of the scale.
    pub high: f64,
}

/// A caution that belongs to a deed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Caution {
    /// The words of the deeds it belongs to, such as `treated`.
    pub at: Vec<Box<str>>,
    /// The caution, in a sentence or two.
    pub says: Box<str>,
    /// Where it is from.
    pub source: Box<str>,
}

/// A usual figure, used where a book has too few records of its own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Usual {
    /// The share or number.
    pub value: f64,
    /// How many observations it is worth against a book's own.
    pub worth: f64,
    /// Where it is from.
    pub source: Box<str>,
}

/// Usual shares along the way from seed to keeper.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct UsualRates {
    /// Came up, of sown.
    pub up_of_sown: Usual,
    /// Planted, of sown.
    pub planted_of_sown: Usual,
    /// Bloomed in the first season, of planted.
    pub bloomed_of_planted: Usual,
    /// Kept at the first sorting, of judged.
    pub kept_of_judged: Usual,
    /// Kept in the end, of plants held over unbloomed.
    pub held_over_kept: Usual,
    /// Ripened, of heads pollinated.
    pub ripened_of_heads: Usual,
    /// Seeds, of a ripe head.
    pub seeds_of_head: Usual,
}

/// A length of time in days, from this many to that many.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Days {
    /// At least.
    pub from: u16,
    /// At most.
    pub to: u16,
    /// Where it is from.
    pub source: Box<str>,
}

/// Usual lengths of time.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct UsualDays {
    /// From pollination until a head is ripe.
    pub head_ripens: Days,
    /// From cutting until a head can be threshed.
    pub head_dries: Days,
    /// From sowing until the first bloom.
    pub sown_to_bloom: Days,
    /// Years for which dry seed is usually said to keep.
    pub seed_keeps_years: Days,
    /// The days of the year, 1 January being 1, between which the first frost of autumn usually
    /// falls; 0 where that is not known.
    pub first_frost: Days,
    /// Days of the year in which seed is usually sown.
    pub sowing: Days,
    /// Days from one look at the stored tubers to the next.
    pub winter_check: Days,
    /// Days of the year in which stored tubers are usually brought into growth.
    pub wake_up: Days,
}

/// A crop. The default is an empty one, of which nothing is known.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Crop {
    /// The name by which a book picks it.
    pub name: Box<str>,
    /// The crop in the plural, for a sentence.
    pub plural: Box<str>,
    /// Copies of each chromosome.
    pub ploidy: u8,
    /// Probability that two alleles of one gamete are copies of one parental allele.
    pub double_reduction: f64,
    /// What is known and disputed of the ploidy.
    pub ploidy_source: Box<str>,
    /// Flower groups.
    pub groups: Vec<Group>,
    /// Size tables; the first is used unless the book picks another.
    pub sizes: Vec<SizeTable>,
    /// Colour words.
    pub colours: Vec<Colour>,
    /// Words for how the colours of a bloom lie; written after them.
    pub markings: Vec<Box<str>>,
    /// Scored traits.
    pub traits: Vec<Trait>,
    /// Faults that are noted.
    pub faults: Vec<Box<str>>,
    /// A bloom above this, in mm, is taken for a slip of the pen: a guard, not a record.
    pub largest_bloom_mm: f64,
    /// A plant above this, in cm, is taken for a slip of the pen.
    pub tallest_cm: f64,
    /// Usual shares.
    pub rates: UsualRates,
    /// Usual lengths of time.
    pub days: UsualDays,
    /// What to take care of, deed by deed.
    pub cautions: Vec<Caution>,
}

impl Crop {
    /// The colour that a word stands for.
    pub fn colour(&self, word: &str) -> Option<&Colour> {
        self.colours.iter().find(|c| c.word.eq_ignore_ascii_case(word))
    }

    /// Whether a word may stand among the colours of a look: a colour or a marking.
    pub fn knows_colour(&self, word: &str) -> bool {
        self.colour(word).is_some() || self.markings.iter().any(|m| m.eq_ignore_ascii_case(word))
    }

    /// The group with this code.
    pub fn group(&self, code: &str) -> Option<&Group> {
        self.groups.iter().find(|g| g.code.eq_ignore_ascii_case(code))
    }

    /// The scored trait of this name.
    pub fn scored(&self, name: &str) -> Option<&Trait> {
        self.traits.iter().find(|t| t.name.eq_ignore_ascii_case(name))
    }

    /// The size table of this name, or the first one.
    pub fn size_table(&self, name: Option<&str>) -> Option<&SizeTable> {
        name.and_then(|name| self.sizes.iter().find(|t| &*t.name == name)).or(self.sizes.first())
    }
}

impl SizeTable {
    /// The class of a bloom, from its diameter in mm and its group where that is known. None
    /// where the table does not size that group.
    pub fn class(&self, bloom_mm: f64, group: Option<&str>) -> Option<&SizeClass> {
        let named = |list: &[Box<str>]| {
            group.is_some_and(|code| list.iter().any(|g| g.eq_ignore_ascii_case(code)))
        };
        if named(&self.unsized_groups) {
            return None;
        }
        let has_its_own = self.classes.iter().any(|c| named(&c.groups));
        self.classes
            .iter()
            .filter(|c| if has_its_own { named(&c.groups) } else { c.groups.is_empty() })
            .find(|c| bloom_mm > c.above_mm && c.up_to_mm.is_none_or(|top| bloom_mm <= top))
    }
}
