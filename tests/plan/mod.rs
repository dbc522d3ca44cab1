//! The plan for next year.

mod invented;
