//! A book on disk.
#![expect(
    clippy::needless_raw_string_hashes,
    reason = "what is expected is easier to compare when it is quoted the same everywhere"
)]

mod broken;
mod contradicting;
mod garden;
mod invented;
mod keeping;
mod mangled;
mod opening;
mod saving;
mod senseless;
