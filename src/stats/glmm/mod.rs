//! Binomial mixed models: counts of n whose chance depends on effects with normal spread, by
//! Laplace's approximation.
//!
//! Effects are written as σ × (a standardised effect), so that a spread of 0 is a number like any
//! other. An observation may have come about in several ways (a seedling of which one of several
//! plants is the father); its likelihood is then a mixture.
//!
//! Sources: L. Tierney & J. B. Kadane 1986, J. Am. Stat. Assoc. 81:82–86; D. Bates et al., *Fitting
//! linear mixed-effects models using lme4*, J. Stat. Softw. 67(1), 2015, for the criterion that
//! the estimates minimise.

mod fit;
mod likelihood;
mod link;
mod mode;

pub use fit::{BinomialFit, BinomialModel};
pub use likelihood::{Observation, Route};
pub use link::Link;
pub use mode::{Latent, Mode};
