//! The program in a terminal of its own: what it leaves behind, and what it writes there.
#![cfg(unix)]

use std::{
    fs,
    io::{Read, Write},
    num::NonZero,
    path::Path,
    process::Command,
    sync::mpsc::{self, Receiver},
    thread,
    time::{Duration, Instant},
};

use portable_pty::{
    Child, CommandBuilder, ExitStatus, MasterPty, PtySize, SlavePty, native_pty_system,
};
use tempfile::TempDir;
use trug::tui::Guard;

/// How long a machine under load may take to get anywhere.
const PATIENCE: Duration = Duration::from_mins(1);

fn cells(n: u16) -> NonZero<u16> {
    NonZero::new(n).unwrap()
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let to = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &to);
        } else {
            fs::copy(entry.path(), to).unwrap();
        }
    }
}

/// A terminal with a program in it.
struct Pty {
    screen: vt100::Parser,
    /// Everything it ever wrote.
    written: Vec<u8>,
    bytes: Receiver<Vec<u8>>,
    keys: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    _slave: Box<dyn SlavePty + Send>,
    _home: TempDir,
}

impl Pty {
    /// Runs `trug` on the demo garden.
    fn trug(vars: &[(&str, &str)]) -> Self {
        Self::run(env!("CARGO_BIN_EXE_trug"), &["--book", "DEMO"], vars)
    }

    /// Runs a program. `DEMO` among its words stands for the folder of a demo garden.
    fn run(program: &str, words: &[&str], vars: &[(&str, &str)]) -> Self {
        let home = TempDir::new().unwrap();
        let garden = home.path().join("demo");
        copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("demo"), &garden);
        let demo = garden.to_string_lossy().into_owned();
        let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).unwrap();
        let mut command = CommandBuilder::new(program);
        command.args(words.iter().map(|word| word.replace("DEMO", &demo)));
        command.env_clear();
        for name in ["PATH", "LLVM_PROFILE_FILE"] {
            if let Ok(value) = std::env::var(name) {
                command.env(name, value);
            }
        }
        for name in ["HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"] {
            command.env(name, home.path());
        }
        command.env("TERM", "xterm-256color");
        for (name, value) in vars {
            command.env(name, value);
        }
        command.cwd(home.path());
        let child = pair.slave.spawn_command(command).unwrap();
        let mut output = pair.master.try_clone_reader().unwrap();
        let (tell, bytes) = mpsc::channel();
        thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(n @ 1..) = output.read(&mut buffer) {
                if tell.send(buffer[..n].to_vec()).is_err() {
                    return;
                }
            }
        });
        Self {
            screen: vt100::Parser::new(cells(24), cells(80), 0),
            written: Vec::new(),
            bytes,
            keys: pair.master.take_writer().unwrap(),
            child,
            master: pair.master,
            _slave: pair.slave,
            _home: home,
        }
    }

    fn press(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
        self.keys.flush().unwrap();
    }

    fn signal(&self, name: &str) {
        let id = self.child.process_id().unwrap().to_string();
        assert!(Command::new("kill").args(["-s", name, &id]).status().unwrap().success());
    }

    /// Changes the window, here and for the program.
    fn resize(&mut self, columns: u16, rows: u16) {
        self.screen.screen_mut().set_size(cells(rows), cells(columns));
        let size = PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 };
        self.master.resize(size).unwrap();
    }

    fn show(&mut self, bytes: &[u8]) {
        self.written.extend(bytes);
        self.screen.process(bytes);
    }

    /// Waits until the screen is as it should be.
    #[track_caller]
    fn until(&mut self, what: &str, holds: impl Fn(&vt100::Screen) -> bool) {
        let deadline = Instant::now() + PATIENCE;
        while !holds(self.screen.screen()) {
            if let Ok(bytes) = self.bytes.recv_timeout(Duration::from_millis(200)) {
                self.show(&bytes);
                continue;
            }
            let ended = self.child.try_wait().unwrap();
            let goes_on = ended.is_none() && Instant::now() < deadline;
            let shown = self.screen.screen().contents();
            assert!(goes_on, "never seen: {what} (ended: {ended:?})\n{shown}");
        }
    }

    #[track_caller]
    fn until_shown(&mut self, text: &str) {
        self.until(text, |screen| screen.contents().contains(text));
    }

    /// Waits for the end, takes in what was written last, and looks that the terminal is as it
    /// was found.
    #[track_caller]
    fn ends_sane(&mut self) -> ExitStatus {
        let deadline = Instant::now() + PATIENCE;
        self.until("the screen from before", |screen| !screen.alternate_screen());
        let status = loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                break status;
            }
            assert!(Instant::now() < deadline, "it never ended");
            if let Ok(bytes) = self.bytes.recv_timeout(Duration::from_millis(20)) {
                self.show(&bytes);
            }
        };
        self.until("the cursor", |screen| !screen.hide_cursor());
        let screen = self.screen.screen();
        assert!(!screen.bracketed_paste(), "pastes are still bracketed");
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
        let modes = format!("{:?}", self.master.get_termios().unwrap().local_flags);
        assert!(modes.contains("ICANON") && modes.contains("ECHO"), "still raw: {modes}");
        status
    }
}

#[test]
fn it_opens_follows_the_size_of_its_window_and_closes() {
    let mut pty = Pty::trug(&[]);
    pty.until_shown("waits for you");
    assert!(pty.screen.screen().alternate_screen());
    pty.resize(120, 40);
    pty.until_shown("3 November 2026");
    pty.press("q");
    assert!(pty.ends_sane().success());
}

/// Both happen while the program is stopped, so that it finds both at once when it runs again.
#[test]
fn a_key_pressed_while_the_window_changes_is_not_lost() {
    let mut pty = Pty::trug(&[]);
    pty.until_shown("waits for you");
    pty.signal("STOP");
    pty.resize(120, 40);
    pty.press("q");
    pty.signal("CONT");
    assert!(pty.ends_sane().success());
}

#[test]
fn without_colours_the_row_of_the_cursor_is_reversed() {
    let mut pty = Pty::trug(&[("NO_COLOR", "1"), ("COLORTERM", "truecolor")]);
    pty.until_shown("waits for you");
    pty.until("a reversed row", |screen| {
        (0..24).any(|row| {
            let reversed = (0..80).filter_map(|column| screen.cell(row, column));
            reversed.filter(|cell| cell.inverse() && cell.has_contents()).count() > 10
        })
    });
    let screen = pty.screen.screen();
    for (row, column) in (0..24).flat_map(|row| (0..80).map(move |column| (row, column))) {
        let cell = screen.cell(row, column).unwrap();
        let colours = (cell.fgcolor(), cell.bgcolor());
        assert_eq!(colours, (vt100::Color::Default, vt100::Color::Default), "{row} {column}");
    }
    pty.press("\u{3}");
    assert!(pty.ends_sane().success(), "Ctrl-C closes the book");
}

#[test]
fn a_signal_closes_the_book_and_leaves_the_terminal_sane() {
    for signal in ["TERM", "HUP", "INT"] {
        let mut pty = Pty::trug(&[]);
        pty.until_shown("waits for you");
        pty.signal(signal);
        assert!(pty.ends_sane().success(), "after {signal}");
    }
}

/// The program that panics is this test in a process of its own.
#[test]
fn a_panic_leaves_the_terminal_sane_and_its_message_readable() {
    const SELF: &str = "terminal::a_panic_leaves_the_terminal_sane_and_its_message_readable";
    if std::env::var_os("TRUG_TEST_PANICS").is_some() {
        let _guard = Guard::new("a garden", true).unwrap();
        panic!("the trug tipped over");
    }
    let this = std::env::current_exe().unwrap();
    let words = ["--exact", SELF, "--nocapture"];
    let mut pty = Pty::run(this.to_str().unwrap(), &words, &[("TRUG_TEST_PANICS", "1")]);
    pty.until_shown("the trug tipped over");
    assert!(!pty.ends_sane().success());
    let entered = pty.written.windows(8).any(|bytes| bytes == b"\x1b[?1049h");
    assert!(entered, "it was on the full screen before");
}

#[test]
fn it_can_be_put_aside_and_taken_up_again() {
    let trug = env!("CARGO_BIN_EXE_trug");
    assert!(Path::new(trug).is_absolute());
    let script =
        format!("set -m; '{trug}' --book DEMO; echo put aside; stty -a; read x; fg; echo at home");
    let mut pty = Pty::run("/bin/sh", &["-c", &script], &[]);
    pty.until_shown("waits for you");
    pty.press("\t\u{1a}");
    pty.until("the shell, in its own mode", |screen| {
        let shown = screen.contents();
        shown.contains("put aside") && shown.contains(" icanon") && !screen.alternate_screen()
    });
    pty.press("\n");
    pty.until("the full screen again", |screen| {
        screen.alternate_screen() && screen.contents().contains("waits for you")
    });
    pty.press("q");
    pty.until_shown("at home");
    pty.ends_sane();
}

#[test]
fn without_a_book_the_demo_garden_is_a_key_away() {
    let mut pty = Pty::run(env!("CARGO_BIN_EXE_trug"), &[], &[]);
    pty.until_shown("look round the demo garden");
    pty.press("d");
    pty.until_shown("Quillet Garden");
    pty.until_shown("waits for you");
    pty.press("q");
    assert!(pty.ends_sane().success());
}
