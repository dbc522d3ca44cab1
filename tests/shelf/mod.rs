//! A book on disk.

mod invented;
mod keeping;
