//! Which of several pairs is the best, by drawing what may be the truth again and again.

use rand_chacha::{
    ChaCha8Rng,
    rand_core::{Rng, SeedableRng},
};

use crate::stats::normal;

use super::{Forecasts, Question, belief::Asked};

/// Draws: enough for a standard error of 1 % at most.
const DRAWS: u32 = 2_500;
const SEED: u64 = 1;

/// Seeded standard normal deviates.
struct Deviates(ChaCha8Rng);

impl Deviates {
    fn unit(&mut self) -> f64 {
        // 53 bits fill the mantissa exactly; the half keeps 0 out.
        ((self.0.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    fn next(&mut self) -> f64 {
        normal::quantile(self.unit())
    }
}

impl Forecasts {
    /// For each of these the chance that it is the best among them, in the sense that most
    /// of its seedlings would be kept. The chances sum to 1; the same call gives the same answer.
    pub fn chance_best(&self, questions: &[Question]) -> Vec<f64> {
        let mut asking = self.asking();
        let asked: Vec<Asked> = questions.iter().map(|of| asking.question(of)).collect();
        let mut wins = vec![0_u32; asked.len()];
        let mut deviates = Deviates(ChaCha8Rng::seed_from_u64(SEED));
        // Every point of the grid gets its share of the draws, spread evenly.
        let (mut first, mut passed) = (0.5, 0.0);
        for belief in &self.beliefs {
            passed += belief.point.weight * f64::from(DRAWS);
            while first < passed {
                first += 1.0;
                let n = belief.point.mode.at.len();
                let z: Vec<f64> = (0..n).map(|_| deviates.next()).collect();
                let draw = belief.point.mode.draw(&z);
                let drawn = asked.iter().map(|a| belief.drawn(a, &draw, || deviates.next()));
                let best = drawn.enumerate().max_by(|a, b| a.1.total_cmp(&b.1));
                if let Some((best, _)) = best {
                    wins[best] += 1;
                }
            }
        }
        let all = wins.iter().sum::<u32>().max(1);
        wins.into_iter().map(|n| f64::from(n) / f64::from(all)).collect()
    }
}
