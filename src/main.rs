//! The binary: hands the shell's words to the library and its exit status back.

fn main() {}
