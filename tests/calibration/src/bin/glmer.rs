//! The binomial mixed model against lme4's `glmer`, on the same families in the same run.
//!
//! `cargo run --release --manifest-path tests/calibration/Cargo.toml --bin glmer` wants `Rscript`
//! with lme4 (Debian's r-cran-lme4). 400 families of 50 seed parents and 50 pollen parents, random
//! effects of both, Laplace's approximation; seconds are those on a processor. With the probit lme4
//! takes the curvature to be expected at the peak where Laplace's approximation has the observed
//! one, so that its estimates lie a little apart from ours; with the logit the two are the same.

use std::{error::Error, fmt::Write as _, path::Path, process::Command};

use trug::{
    sim::Dice,
    stats::{
        glmm::{BinomialFit, BinomialModel, Link},
        mixed::Term,
    },
};

const SEED: u64 = 20_261_125;
const FAMILIES: usize = 400;
const PARENTS: usize = 50;
/// How far estimates may lie apart, relative to their size.
const WITHIN: f64 = 1e-3;

struct Family {
    seed: usize,
    pollen: usize,
    kept: u32,
    judged: u32,
}

fn main() -> Result<(), Box<dyn Error>> {
    let families = families();
    let dir = std::env::temp_dir().join(format!("trug-glmer-{}", std::process::id()));
    std::fs::create_dir_all(&dir)?;
    let table = dir.join("families.csv");
    std::fs::write(&table, csv(&families))?;
    println!("seed {SEED}: {FAMILIES} families of {PARENTS} x {PARENTS} parents");
    let mut agree = true;
    for (link, name) in [(Link::Logit, "logit"), (Link::Probit, "probit")] {
        let (fit, ours) = fastest(&families, link)?;
        let theirs = peer(&table, name)?;
        let figures = [
            ("variance of seed parents", fit.variances[0], theirs[1]),
            ("variance of pollen parents", fit.variances[1], theirs[2]),
            ("intercept", fit.fixed[0].value, theirs[3]),
            ("ln of the likelihood", fit.ln_likelihood, theirs[4]),
        ];
        println!(
            "{name}: {:.1} ms, glmer {:.0} ms: {:.1} times faster",
            1e3 * ours,
            1e3 * theirs[0],
            theirs[0] / ours
        );
        for (what, mine, other) in figures {
            let off = (mine - other).abs() / other.abs().max(f64::MIN_POSITIVE);
            println!("  {what}: {mine:.6}, glmer {other:.6}, apart by {off:.1e}");
            agree &= off <= WITHIN || link == Link::Probit;
        }
    }
    std::fs::remove_dir_all(&dir)?;
    if agree { Ok(()) } else { Err("estimates are further apart than 1e-3".into()) }
}

/// Families with parents of true spread 0.4 on the scale of liking.
fn families() -> Vec<Family> {
    let mut dice = Dice::new(SEED, 1);
    let mut parents = || (0..PARENTS).map(|_| 0.4 * dice.normal()).collect::<Vec<f64>>();
    let (seeds, pollens) = (parents(), parents());
    (0..FAMILIES)
        .map(|_| {
            let (seed, pollen) = (dice.below(PARENTS), dice.below(PARENTS));
            let judged = dice.from_to(5, 40);
            let chance = Link::Probit.chance(seeds[seed] + pollens[pollen] - 0.8);
            Family { seed, pollen, kept: dice.of(judged, chance), judged }
        })
        .collect()
}

fn csv(families: &[Family]) -> String {
    let mut csv = "seed,pollen,kept,judged\n".to_owned();
    for Family { seed, pollen, kept, judged } in families {
        let _ = writeln!(csv, "{seed},{pollen},{kept},{judged}");
    }
    csv
}

/// The fit and the seconds of the quickest of several.
fn fastest(families: &[Family], link: Link) -> Result<(BinomialFit, f64), Box<dyn Error>> {
    let of = |side: fn(&Family) -> usize| {
        let levels: Vec<usize> = families.iter().map(side).collect();
        Term::of_levels(PARENTS, &levels)
    };
    let counts = families.iter().map(|family| (family.kept, family.judged)).collect();
    let model = BinomialModel::of(link, counts)
        .random(of(|family| family.seed))
        .random(of(|family| family.pollen));
    let mut least = f64::INFINITY;
    for _ in 0..7 {
        let start = on_the_processor()?;
        model.fit()?;
        least = least.min(on_the_processor()? - start);
    }
    Ok((model.fit()?, least))
}

/// Seconds that this thread was on a processor; others may use the machine too. Linux only.
fn on_the_processor() -> Result<f64, Box<dyn Error>> {
    let times = std::fs::read_to_string("/proc/thread-self/schedstat")?;
    let nanoseconds: f64 = times.split_whitespace().next().ok_or("no times")?.parse()?;
    Ok(1e-9 * nanoseconds)
}

/// Seconds, the variances of seed and pollen parents, the intercept and ln of the likelihood.
fn peer(table: &Path, link: &str) -> Result<Vec<f64>, Box<dyn Error>> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("glmer.R");
    let out = Command::new("Rscript").arg(script).arg(table).arg(link).output()?;
    if !out.status.success() {
        return Err(String::from_utf8_lossy(&out.stderr).into_owned().into());
    }
    let figures = String::from_utf8(out.stdout)?;
    let figures: Result<Vec<f64>, _> = figures.split_whitespace().map(str::parse).collect();
    Ok(figures?)
}
