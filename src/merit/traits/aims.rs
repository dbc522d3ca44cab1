//! What the raiser is after, as one figure with its parts.

use crate::book::{Aim, Want};

/// Where a plant, or the mean of its offspring, stands in one trait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// The figure.
    pub value: f64,
    /// Its standard error.
    pub se: f64,
    /// What an average one is.
    pub average: f64,
    /// The spread of single plants within a season and a bed.
    pub spread: f64,
}

/// One aim's part of an index.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Of which trait.
    pub of: Box<str>,
    /// How much nearer to what is wanted than an average one, in spreads of the trait.
    pub nearer: f64,
    /// The standard error of that.
    pub se: f64,
    /// The share of all weight that the aim has.
    pub weight: f64,
}

/// An index: the sum of its parts, each times its weight.
#[derive(Debug, Clone, PartialEq)]
pub struct Index {
    /// The sum.
    pub points: f64,
    /// Its standard error, as if the errors of different traits had nothing to do with each
    /// other.
    pub se: f64,
    /// The parts, in the order of the aims.
    pub parts: Vec<Part>,
    /// Aims of which nothing is known; their weight counts for nothing.
    pub unknown: Vec<Box<str>>,
}

/// The index of the raiser's aims. `standing` gives where the plant stands in a trait, where that
/// is known. None without any aim of which something is known.
///
/// More and less count by how far beyond the average; between two values counts by how much
/// nearer to them, and all places between them are as good. An average plant has 0. The breeding
/// values are taken trait by trait; where traits go together, the index of H. F. Smith 1936 and
/// L. N. Hazel 1943 ([`crate::stats::selection::index`]) chooses a little better, but needs their
/// covariances, which books of a few hundred plants do not tell.
pub fn index(aims: &[Aim], standing: impl Fn(&str) -> Option<Standing>) -> Option<Index> {
    let mut unknown = Vec::new();
    let mut parts = Vec::new();
    for aim in aims.iter().filter(|aim| aim.weight > 0.0 && aim.weight.is_finite()) {
        match standing(&aim.of).filter(|standing| standing.spread > 0.0) {
            Some(standing) => parts.push(part(aim, &standing)),
            None => unknown.push(aim.of.clone()),
        }
    }
    let whole: f64 = parts.iter().map(|part| part.weight).sum();
    if whole <= 0.0 {
        return None;
    }
    for part in &mut parts {
        part.weight /= whole;
    }
    let points = parts.iter().map(|part| part.weight * part.nearer).sum();
    let variance: f64 = parts.iter().map(|part| (part.weight * part.se).powi(2)).sum();
    Some(Index { points, se: variance.sqrt(), parts, unknown })
}

fn part(aim: &Aim, standing: &Standing) -> Part {
    let Standing { value, se, average, spread } = *standing;
    let distance = |at: f64| match aim.want {
        Want::More => -at,
        Want::Less => at,
        Want::Between(low, high) => (low - at).max(at - high).max(0.0),
    };
    Part {
        of: aim.of.clone(),
        nearer: (distance(average) - distance(value)) / spread,
        se: se / spread,
        weight: aim.weight,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    fn aim(of: &str, want: Want, weight: f64) -> Aim {
        Aim { of: of.into(), want, weight }
    }

    fn at(value: f64) -> Standing {
        Standing { value, se: 1.0, average: 10.0, spread: 2.0 }
    }

    #[test]
    fn an_average_plant_has_no_points_whatever_is_wanted() {
        let aims = [
            aim("form", Want::More, 2.0),
            aim("height_cm", Want::Less, 1.0),
            aim("bloom_mm", Want::Between(20.0, 30.0), 1.0),
        ];
        let index = index(&aims, |_| Some(at(10.0))).unwrap();
        assert!(index.points.abs() < 1e-15);
        assert!(index.parts.iter().all(|part| part.nearer.abs() < 1e-15));
    }

    #[test]
    fn parts_times_their_weights_are_the_whole() {
        let aims = [aim("form", Want::More, 3.0), aim("height_cm", Want::Less, 1.0)];
        let index = index(&aims, |_| Some(at(14.0))).unwrap();
        assert_eq!((index.parts[0].nearer, index.parts[1].nearer), (2.0, -2.0));
        assert!((index.points - (0.75 * 2.0 - 0.25 * 2.0)).abs() < 1e-15);
    }

    #[test]
    fn all_places_between_the_two_values_are_as_good() {
        let aims = [aim("bloom_mm", Want::Between(12.0, 15.0), 1.0)];
        let points = |value| index(&aims, |_| Some(at(value))).unwrap().points;
        assert!((points(12.0) - points(15.0)).abs() < 1e-15 && points(13.0) > points(11.0));
        assert!(points(16.0) < points(15.0));
    }

    #[test]
    fn an_aim_of_which_nothing_is_known_is_named_and_weighs_nothing() {
        let aims = [aim("form", Want::More, 1.0), aim("stem", Want::More, 5.0)];
        let index = index(&aims, |name| (name == "form").then(|| at(12.0))).unwrap();
        assert_eq!((index.points, &*index.unknown), (1.0, &["stem".into()][..]));
        assert_eq!(super::index(&aims, |_| None), None);
        assert_eq!(super::index(&[], |_| Some(at(1.0))), None);
    }
}
