//! The shell's words, on the real binary.

mod answers;
mod contract;
mod explain;
mod kinship;
mod numbers;
mod plan;
mod real;
mod taking_in;
mod traits;
mod ways_out;

use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

/// A home of its own for the program, so that nobody's settings or last book play a part.
struct Home(TempDir);

impl Home {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// The program with nothing around it.
    fn trug(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_trug"));
        command.env_clear().env("HOME", self.0.path()).current_dir(self.0.path());
        command
    }

    /// What it prints when all is well.
    fn out(&self, words: &[&str]) -> String {
        let done = self.trug().args(words).assert().success();
        String::from_utf8(done.get_output().stdout.clone()).unwrap()
    }

    /// What it prints when all is well, in the test garden and at a fixed width.
    #[track_caller]
    fn in_garden(&self, words: &[&str]) -> String {
        let done =
            self.trug().env("COLUMNS", "100").arg("--book").arg(garden()).args(words).assert();
        String::from_utf8(done.success().get_output().stdout.clone()).unwrap()
    }

    fn json(&self, words: &[&str]) -> Value {
        let words: Vec<&str> = words.iter().copied().chain(["--json"]).collect();
        serde_json::from_str(&self.in_garden(&words)).unwrap()
    }

    /// The exit status and what is said on standard error.
    fn fails(&self, words: &[&str]) -> (i32, String) {
        let done = self.trug().args(words).assert().failure();
        let output = done.get_output();
        let said = String::from_utf8(output.stderr.clone()).unwrap();
        (output.status.code().unwrap(), said)
    }
}

/// The garden that these tests look at.
fn garden() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/shell/garden")
}
