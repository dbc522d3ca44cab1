//! A trait with its variances, and what each plant is worth as a parent.

use crate::book::{Book, PlantId, Season};
use crate::kinship::{Descent, Kinship};
use crate::lineage::Pedigree;
use crate::stats::{
    mixed::{
        Estimate,
        reduced::{Fit, Model, Shares, Sum, With},
    },
    normal, regression,
};

use super::{
    Counted, Family, NotEnough, enough,
    families::{self, Pairs},
    gathered::Gathered,
};

/// A fitted trait.
#[derive(Debug, Clone)]
pub struct TraitFit {
    name: Box<str>,
    counted: Counted,
    with: With,
    pub(super) fit: Fit,
    pub(super) descent: Descent,
    /// The relationship of each level to itself.
    own: Vec<f64>,
    pub(super) pairs: Pairs,
    /// An average partner's half, in an average season and bed.
    partner: Sum,
    /// A seedling of average parents.
    pub(super) average: Estimate,
    /// Minus half of an average parent.
    against: Sum,
    families: Vec<Family>,
    /// The first season whose records were used, where not all were.
    since: Option<Season>,
}

/// A trait and what can be said of it.
#[derive(Debug, Clone)]
pub struct Trait {
    /// Its name.
    pub name: Box<str>,
    /// What was measured.
    pub counted: Counted,
    /// Its fit, or why there is none.
    pub fitted: Result<TraitFit, NotEnough>,
}

/// What a plant is worth as a parent of this trait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worth {
    /// The breeding value: what the plant has by descent beyond an unselected founder.
    pub value: f64,
    /// Its standard error, the variances taken for known.
    pub se: f64,
    /// How much of what is not known beforehand the records tell: 1 − PEV/(a σ²), between 0
    /// and 1.
    pub reliability: f64,
}

/// What the seedlings of a plant are on average, on the scale of the trait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passed {
    /// The mean of its offspring with an average partner, in an average season and bed.
    pub value: f64,
    /// The lower end of the range of that mean.
    pub low: f64,
    /// The upper end.
    pub high: f64,
    /// The chance that the mean is in the range.
    pub level: f64,
    /// As of the breeding value.
    pub reliability: f64,
    /// The breeding value.
    pub breeding_value: f64,
}

impl Trait {
    /// What can be said of one trait of a book.
    pub fn of(book: &Book, pedigree: &Pedigree, kinship: &Kinship, name: &str) -> Self {
        let gathered = Gathered::of(book, pedigree, kinship, name);
        let counted = gathered.counted;
        let fitted = enough::check(&counted).and_then(|()| {
            let (gathered, model, with) = small_enough(book, pedigree, kinship, gathered)?;
            Ok(TraitFit::new(name, kinship, gathered, (model.fit()?, with)))
        });
        Self { name: name.into(), counted, fitted }
    }
}

/// The model of as many of the newest seasons as can be worked through.
fn small_enough(
    book: &Book,
    pedigree: &Pedigree,
    kinship: &Kinship,
    mut gathered: Gathered,
) -> Result<(Gathered, Model, With), NotEnough> {
    loop {
        if gathered.parents().len() <= enough::MOST_PARENTS {
            let with = gathered.told();
            let model = gathered.model(with);
            if model.n_entries() <= enough::MOST_ENTRIES {
                return Ok((gathered, model, with));
            }
        }
        let half = gathered.newer_half(book, pedigree, kinship);
        gathered = half.ok_or(NotEnough::TooMany)?;
    }
}

impl TraitFit {
    /// Fits one trait of a book: `bloom_mm`, `height_cm`, or the name of a score.
    pub fn of(
        book: &Book,
        pedigree: &Pedigree,
        kinship: &Kinship,
        name: &str,
    ) -> Result<Self, NotEnough> {
        Trait::of(book, pedigree, kinship, name).fitted
    }

    /// The same where the variances are known from elsewhere; there may then be any number of
    /// records.
    pub fn with_shares(
        book: &Book,
        pedigree: &Pedigree,
        kinship: &Kinship,
        name: &str,
        shares: &Shares,
    ) -> Result<Self, NotEnough> {
        let with = With { groups: shares.group > 0.0, lasting: shares.lasting > 0.0 };
        let gathered = Gathered::of(book, pedigree, kinship, name);
        let fit = gathered.model(with).solve(shares)?;
        Ok(Self::new(name, kinship, gathered, (fit, with)))
    }

    fn new(name: &str, kinship: &Kinship, gathered: Gathered, (fit, with): (Fit, With)) -> Self {
        let (season, parents) = (gathered.average_season(), gathered.parents());
        let Gathered { records, descent, counted, pairs, since } = gathered;
        let own = descent.plants().iter().map(|plant| {
            plant.map_or(1.0, |p| kinship.rules().own_relationship(kinship.inbreeding(p)))
        });
        let each = |share: f64| -> Vec<(usize, f64)> {
            let share = share / parents.len().max(1) as f64;
            parents.iter().map(|&parent| (parent, share)).collect()
        };
        let partner = fit.sum(&each(0.5), &season);
        let average = fit.estimate(&fit.sum(&each(1.0), &season));
        let against = fit.sum(&each(-0.5), &[]);
        let mut fitted = Self {
            name: name.into(),
            counted,
            with,
            own: own.collect(),
            fit,
            descent,
            pairs,
            partner,
            average,
            against,
            families: Vec::new(),
            since,
        };
        fitted.families = families::all(&fitted, &records, &season);
        fitted
    }

    /// The name of the trait.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The first season whose records were used; none where all were. In a very large book only
    /// the newest seasons are.
    pub fn since(&self) -> Option<Season> {
        self.since
    }

    /// What it rests on.
    pub fn counted(&self) -> &Counted {
        &self.counted
    }

    /// Whether what a pairing adds could be told from what its parents pass on, and what stays
    /// with a plant from chance. What could not is taken to be nothing.
    pub fn told(&self) -> With {
        self.with
    }

    /// The variances.
    pub fn shares(&self) -> &Shares {
        self.fit.shares()
    }

    /// The share of the variance of a single look, within a season and a bed, that is additive
    /// by descent: of a plant that is not inbred.
    pub fn heritability(&self) -> Estimate {
        self.fit.ratio(Shares::by_descent)
    }

    /// A seedling of average parents in an average season and bed.
    pub fn average(&self) -> Estimate {
        self.average
    }

    /// The breeding value of a plant that was measured, that is a parent, or that has such
    /// offspring. None of others.
    pub fn breeding_value(&self, plant: PlantId) -> Option<Worth> {
        let level = self.descent.place(plant)?;
        let error = self.fit.error_variance(level);
        let whole = self.own[level] * self.shares().descent;
        let reliability = if whole > 0.0 { (1.0 - error / whole).clamp(0.0, 1.0) } else { 0.0 };
        Some(Worth { value: self.fit.value(level), se: error.sqrt(), reliability })
    }

    /// What the offspring of a plant are on average: half its breeding value on top of an
    /// average partner's half, the mean of a season, and of a bed. The error is that of their
    /// mean, not of a single seedling, and takes the variances for known.
    pub fn offspring(&self, plant: PlantId) -> Option<Estimate> {
        Some(self.fit.beside(self.descent.place(plant)?, 0.5, &self.partner))
    }

    /// The same as a range, with what it rests on.
    pub fn passed_on(&self, plant: PlantId, level: f64) -> Option<Passed> {
        let worth = self.breeding_value(plant)?;
        let mean = self.offspring(plant)?;
        let reach = normal::quantile(0.5 + level / 2.0) * mean.se.unwrap_or_default();
        Some(Passed {
            value: mean.value,
            low: mean.value - reach,
            high: mean.value + reach,
            level,
            reliability: worth.reliability,
            breeding_value: worth.value,
        })
    }

    /// The general combining ability of a plant: how far its offspring with any partner are from
    /// those of an average parent, half its breeding value against half of theirs.
    pub fn general_ability(&self, plant: PlantId) -> Option<Estimate> {
        Some(self.fit.beside(self.descent.place(plant)?, 0.5, &self.against))
    }

    /// The specific combining ability of two plants: what their offspring have beyond what both
    /// pass on. None where the pairing was not measured, or such effects could not be told.
    pub fn specific_ability(&self, a: PlantId, b: PlantId) -> Option<Estimate> {
        self.fit.group(self.pairs.group_of(a, b)?)
    }

    /// The families of two known parents that were measured, in the order of their parents in
    /// the roll.
    pub fn families(&self) -> &[Family] {
        &self.families
    }

    /// The line of family means on the means of their parents' own measurements, both freed from
    /// season and bed. Above ploidy 2 its slope holds part of the dominance variance, so that it
    /// is no plain heritability. None where fewer than three families have measured parents.
    pub fn midparent_line(&self) -> Option<regression::Line> {
        let points: Vec<(f64, f64)> =
            self.families.iter().filter_map(|f| Some((f.mid_parent?, f.mean))).collect();
        if points.len() < 3 { None } else { regression::line(&points) }
    }
}
