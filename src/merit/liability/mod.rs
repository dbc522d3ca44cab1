//! Keep rates of any pair, made before or not, from everything that the book knows.
//!
//! How well a plant is liked lies on a scale: μ + u(season) + b(plant) + w(pairing) + λ·F/F(full
//! sibs) + its own chance, a standard normal deviate; it is kept where that is above 0. Breeding
//! values b go with the relationships of the pedigree. A family's chance is Φ(η/√(1 + m σ²)), with
//! η from the means of its parents and m the share of the variance that is left among sibs. A
//! seedling that became a parent is counted by its own b, and no longer with its family.
//!
//! The scale is the threshold model of S. Wright 1934, Genetics 19:506–536; its mixed-model form
//! is D. Gianola & J. L. Foulley 1983, Génét. Sél. Évol. 15:201–224. Approximations: Laplace's for
//! the effects; a grid for the spreads; one father of several whose plants were judged in two
//! seasons counts as two.

mod asking;
mod belief;
mod best;
mod families;
mod forecasts;
mod grid;
mod layout;
mod outcome;
mod sources;

pub use asking::{Question, Side};
pub use forecasts::{Forecasts, NotEnough, Options};
pub use grid::Spreads;
pub use outcome::Outcome;
pub use sources::Sources;
