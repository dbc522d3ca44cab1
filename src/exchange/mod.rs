//! Spreadsheets in.
//!
//! What comes from outside is read here into records, and refused with a sentence where it makes
//! none. This room touches no files: whoever calls it reads and writes them.

pub mod import;
