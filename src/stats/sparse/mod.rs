//! Sparse symmetric positive definite systems: mixed-model equations over thousands of unknowns.
//!
//! Method: T. A. Davis 2006, *Direct Methods for Sparse Linear Systems*.

mod ldl;
mod matrix;
mod order;

pub use ldl::{Inverse, Ldl, Plan};
pub use matrix::Symmetric;
