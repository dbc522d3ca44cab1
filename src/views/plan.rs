//! Next season's plan, as this book has it.

use std::collections::BTreeMap;

use crate::book::{Counts, PlantId};
use crate::merit::{
    Prior,
    liability::{Forecasts, Question},
};
use crate::plan::{Field, Hindrance, KeepRate, Limit, Next, Rates, Wanted};

use super::{Desk, Interval, Levels, kin, pairings::Directions, weighed::in_order};

/// Pairs to pollinate, where nothing is said: as many as can be kept apart in an evening or two.
/// Common practice, no source.
const PAIRS: u32 = 8;
const PER_PARENT: u32 = 2;
const LEAST: u32 = 5;
/// Places where neither a bed nor a planting is known.
const PLACES: u32 = 100;

/// Where the keep rates of a book come from: the forecasts or, where the records are too few for
/// them, the rates of pairings steadied by each other.
#[derive(Debug)]
pub enum Source<'d> {
    /// The forecasts.
    Forecast(&'d Forecasts),
    /// The steadied rates, with the counts of every pairing.
    Steadied(&'d Prior, BTreeMap<[PlantId; 2], Counts>),
}

/// What a plan starts from before anything is asked: as many places as seedlings were planted last, or those
/// of the beds, and what is usual.
pub fn usual(desk: &Desk) -> Wanted {
    let beds = &desk.book().about().beds;
    let in_beds: u32 = beds.iter().map(|bed| u32::from(bed.rows) * u32::from(bed.places)).sum();
    let last = desk.last_season();
    let is_new = |&plant: &PlantId| desk.brief(plant).planted.is_some_and(|on| on.season() == last);
    let seedlings = desk.book().plants().skip(desk.book().varieties().len());
    let planted = u32::try_from(seedlings.filter(is_new).count()).unwrap_or(u32::MAX);
    Wanted {
        places: [planted, in_beds, PLACES].into_iter().find(|&n| n > 0).unwrap_or(PLACES),
        pairs: PAIRS,
        per_parent: PER_PARENT,
        least: LEAST,
        most: None,
        max_inbreeding: Some(desk.kinship().rules().full_sib_mating()),
        max_kinship: None,
        daring: 0.0,
        with: Vec::new(),
        without: Vec::new(),
    }
}

impl<'d> Source<'d> {
    /// The best source that a book has.
    pub fn of(desk: &'d Desk) -> Self {
        if let Some(forecasts) = desk.forecasts(Directions::Together) {
            return Self::Forecast(forecasts);
        }
        let counts = desk.pairings().iter().filter_map(|pairing| {
            let pair = [pairing.seed.plant()?, pairing.pollen.plant()?];
            Some((in_order(pair[0], pair[1]), pairing.counts))
        });
        Self::Steadied(desk.prior(), counts.collect())
    }

    /// Whether the book has forecasts.
    pub fn is_forecast(&self) -> bool {
        matches!(self, Self::Forecast(_))
    }
}

/// Standard deviations from the mean to the ends of a range that holds nine of ten.
const TO_THE_ENDS: f64 = 2.0 * 1.645;

impl Rates for Source<'_> {
    fn of(&self, pairs: &[[PlantId; 2]]) -> Vec<KeepRate> {
        let level = 0.9;
        let rate = |range: Interval| KeepRate {
            mean: range.p,
            sd: (range.high - range.low) / TO_THE_ENDS,
        };
        match self {
            Self::Forecast(forecasts) => {
                let asked: Vec<Question> =
                    pairs.iter().map(|&[seed, pollen]| Question::Pair(seed, pollen)).collect();
                forecasts.answers(&asked, level).into_iter().map(rate).collect()
            }
            Self::Steadied(prior, counts) => {
                let none = Counts::default();
                let counts =
                    |pair: &[PlantId; 2]| counts.get(&in_order(pair[0], pair[1])).unwrap_or(&none);
                pairs.iter().map(|pair| rate(prior.shrunk(counts(pair), level))).collect()
            }
        }
    }

    fn together(&self, pairs: &[[PlantId; 2]], draws: u32) -> Vec<Vec<f64>> {
        match self {
            Self::Forecast(forecasts) => {
                let asked: Vec<Question> =
                    pairs.iter().map(|&[seed, pollen]| Question::Pair(seed, pollen)).collect();
                forecasts.together(&asked, draws)
            }
            // Nothing is known of how they go together: all well, or all badly, which is the widest
            // that it can be.
            Self::Steadied(..) => {
                let rates = self.of(pairs);
                let betas: Vec<_> = rates.iter().map(KeepRate::as_beta).collect();
                (0..draws)
                    .map(|draw| {
                        let share = (f64::from(draw) + 0.5) / f64::from(draws);
                        betas.iter().map(|beta| beta.quantile(share)).collect()
                    })
                    .collect()
            }
        }
    }

    fn parent(&self, plant: PlantId) -> f64 {
        match self {
            Self::Forecast(forecasts) => forecasts.parent(plant, 0.9).p,
            Self::Steadied(..) => 0.0,
        }
    }
}

/// What a book has to plan with. Takes as long as its forecasts: not to be asked while drawing.
pub fn field(desk: &Desk, source: &Source<'_>) -> Field {
    let season = desk.season();
    let is_over = desk.first_bloom().is_over(desk, season);
    let over = if is_over { season } else { season.before() };
    Field::of(desk.book(), desk.kinship(), over, source)
}

/// Why a pair is in a plan, in a sentence.
pub fn why(desk: &Desk, field: &Field, next: &Next, pair: usize, source: &Source<'_>) -> String {
    let pair = &field.pairs[pair];
    let is_by_hand =
        next.asked.with.iter().any(|&[a, b]| in_order(a, b) == in_order(pair.seed, pair.pollen));
    if is_by_hand {
        return "asked for by hand".to_owned();
    }
    let record = desk.pairings().iter().find(|pairing| {
        pairing
            .seed
            .plant()
            .zip(pairing.pollen.plant())
            .is_some_and(|(a, b)| in_order(a, b) == in_order(pair.seed, pair.pollen))
    });
    let counts = record.map(|pairing| pairing.counts).unwrap_or_default();
    let own = (counts.judged > 0)
        .then(|| format!("{} of {} judged were kept", counts.kept, counts.judged));
    let Source::Forecast(forecasts) = source else {
        return own.unwrap_or_else(|| "never judged; taken at the usual rate".to_owned());
    };
    let sources = forecasts.sources(pair.seed, pair.pollen, Levels::default().shrunk);
    let parts = [(sources.own, 0), (sources.parents, 1), (sources.kin, 2)];
    let largest = parts.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
    match (own, largest) {
        (Some(own), Some((more, 0))) if more > SLIGHT => format!("its own record: {own}"),
        (Some(own), Some((more, 1))) if more > SLIGHT => {
            format!("its parents do well with other partners too; {own}")
        }
        (Some(own), _) => own,
        (None, Some((more, 1))) if more > SLIGHT => {
            "never judged together; both parents considered, they give keepers with other partners"
                .to_owned()
        }
        (None, Some((more, 2))) if more > SLIGHT => {
            "never judged together; their kin give keepers".to_owned()
        }
        (None, _) => "untried; nothing speaks against it".to_owned(),
    }
}

/// A part of a forecast that is hardly worth a word.
const SLIGHT: f64 = 0.02;

/// Which limit kept a pair out, in a sentence.
pub fn left_out(desk: &Desk, field: &Field, pair: usize, limit: Limit) -> String {
    match limit {
        Limit::Hindered(Hindrance::NoSeed) => {
            "neither gives seed with the other's pollen".to_owned()
        }
        Limit::Hindered(Hindrance::TooLate(plant)) => {
            format!("{} opens too late for seed to ripen", desk.label(plant))
        }
        Limit::ByHand => "ruled out by hand".to_owned(),
        Limit::Inbreeding => {
            let times = kin::of_full_sibs(desk, field.pairs[pair].inbreeding);
            format!("too near of kin: {times:.1} times what full sibs would give")
        }
        Limit::PerParent(plant) => {
            format!("{} is in as many pairs as it may be", desk.label(plant))
        }
        Limit::Pairs => "there are as many pairs as there may be".to_owned(),
        Limit::Kinship => "what is planted would be too near of kin".to_owned(),
        Limit::Places => "the places are better used by others".to_owned(),
    }
}
