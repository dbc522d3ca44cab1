//! A book on disk.

mod broken;
mod contradicting;
mod garden;
mod invented;
mod keeping;
mod senseless;
