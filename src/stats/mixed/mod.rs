//! Linear mixed models: y = Xβ + Σ Zu + e, by Henderson's mixed-model equations.
//!
//! The residuals e are independent with variance σ²/w; the effects u of a term have the
//! covariance G ⊗ A, where A is the relationship of its levels (none, unless a term says so) and
//! G the covariance of the effects of one level. Variances are estimated by restricted maximum
//! likelihood, and 0 is an answer.
//!
//! Sources: C. R. Henderson 1984, *Applications of Linear Models in Animal Breeding*; H. D.
//! Patterson & R. Thompson 1971, Biometrika 58:545–554; the criterion in the form of D. Bates, M.
//! Mächler, B. Bolker & S. Walker 2015, J. Stat. Softw. 67(1), with A⁻¹ in the place of I, so that
//! neither A nor a factor of it is ever formed.

mod equations;
mod fit;
mod model;
pub mod reduced;
mod search;

pub use fit::{Estimate, Fit, NotFitted, Unknown, Variances};
pub use model::{Likelihood, Model, Term};
