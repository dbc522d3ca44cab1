//! Which of several pairs is the best, by drawing what may be the truth again and again.

use rand_chacha::{
    ChaCha8Rng,
    rand_core::{Rng, SeedableRng},
};

use crate::stats::normal;

use super::{
    Forecasts, Question,
    belief::{Asked, Ready},
};

/// Draws: enough for a standard error of 1 % at most.
const DRAWS: u32 = 2_500;
const SEED: u64 = 1;

/// Seeded standard normal deviates, by the polar method (Marsaglia & Bray 1964, SIAM Rev. 6:260).
struct Deviates {
    words: ChaCha8Rng,
    spare: Option<f64>,
}

impl Deviates {
    /// A number between −1 and 1.
    fn side(&mut self) -> f64 {
        // 53 bits fill the mantissa exactly.
        (self.words.next_u64() >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }

    fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (x, y) = (self.side(), self.side());
            let s = x * x + y * y;
            if s > 0.0 && s < 1.0 {
                let scale = (-2.0 * s.ln() / s).sqrt();
                self.spare = Some(y * scale);
                return x * scale;
            }
        }
    }
}

impl Forecasts {
    /// For each of these the chance that it is the best among them, in the sense that most
    /// of its seedlings would be kept. The chances sum to 1; the same call gives the same answer.
    pub fn chance_best(&self, questions: &[Question]) -> Vec<f64> {
        self.chance_best_watched(questions, &|_| true).unwrap_or_default()
    }

    /// The same, for whoever wants to hear which share of it is done and may say that it is not to
    /// go on. Nothing comes of it then.
    pub fn chance_best_watched(
        &self,
        questions: &[Question],
        goes_on: &dyn Fn(f64) -> bool,
    ) -> Option<Vec<f64>> {
        let mut wins = vec![0_u32; questions.len()];
        let (mut done, mut is_whole) = (0_u32, true);
        self.each_draw(questions, DRAWS, |likings, _| {
            let best = likings.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
            if let Some((best, _)) = best {
                wins[best] += 1;
            }
            done += 1;
            is_whole = goes_on(f64::from(done) / f64::from(DRAWS));
            is_whole
        });
        let all = wins.iter().sum::<u32>().max(1);
        is_whole.then(|| wins.into_iter().map(|n| f64::from(n) / f64::from(all)).collect())
    }

    /// What the keep rates of these may be together, drawn again and again: a row a draw, a rate
    /// for each. All are of the same season, which may be a good or a bad one.
    pub fn together(&self, questions: &[Question], draws: u32) -> Vec<Vec<f64>> {
        let mut rows = Vec::new();
        self.each_draw(questions, draws, |likings, seasons| {
            let rate = |(liking, season): (&f64, &f64)| normal::below(liking + season);
            rows.push(likings.iter().zip(seasons).map(rate).collect());
            true
        });
        rows
    }

    /// Draws the likings of all of these in an average season, and beside them what one season
    /// would add to each, until `take` says that it is enough.
    fn each_draw(
        &self,
        questions: &[Question],
        draws: u32,
        mut take: impl FnMut(&[f64], &[f64]) -> bool,
    ) {
        let mut asking = self.asking();
        let asked: Vec<Asked> = questions.iter().map(|of| asking.question(of)).collect();
        let mut deviates = Deviates { words: ChaCha8Rng::seed_from_u64(SEED), spare: None };
        // Every point of the grid gets its share of the draws, spread evenly.
        let (mut first, mut passed) = (0.5, 0.0);
        for belief in &self.beliefs {
            let ready: Vec<Ready> = asked.iter().map(|asked| belief.ready(asked)).collect();
            passed += belief.point.weight * f64::from(draws);
            while first < passed {
                first += 1.0;
                let n = belief.point.mode.at.len();
                let z: Vec<f64> = (0..n).map(|_| deviates.next()).collect();
                let draw = belief.point.mode.draw(&z);
                let likings: Vec<f64> =
                    ready.iter().map(|ready| ready.drawn(&draw, || deviates.next())).collect();
                let z = deviates.next();
                let seasons: Vec<f64> = ready.iter().map(|ready| ready.season * z).collect();
                if !take(&likings, &seasons) {
                    return;
                }
            }
        }
    }
}
