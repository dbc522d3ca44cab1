//! A machine that fails, is killed or loses its power at a step of one's choice.

use std::{
    fs, io,
    path::{Path, PathBuf},
    sync::Mutex,
};

use trug::shelf::{Machine, System};

/// What happens at the chosen step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Blow {
    /// The step fails, the next one succeeds.
    Fault,
    /// This step and all after it fail: the disk is full, or may not be written any more.
    Full,
    /// The program is killed in the middle of it: what was done is done.
    Kill,
    /// The power goes in the middle of it: what was not synced may be lost, wholly or in part, as
    /// this seed decides.
    Power(u64),
}

/// Something that is not surely on the disk yet, and how it was before.
#[derive(Debug)]
enum Loose {
    /// Bytes at the end of a file beyond this length.
    Bytes(PathBuf, u64),
    /// What stood, or did not stand, under a name.
    Name(PathBuf, Option<Vec<u8>>),
    Folder(PathBuf),
}

#[derive(Debug, Default)]
struct State {
    n_steps: usize,
    blow: Option<(usize, Blow)>,
    is_dead: bool,
    loose: Vec<Loose>,
}

/// The machine. Nothing is really synced: it would only take time.
#[derive(Debug, Default)]
pub(crate) struct Frail(Mutex<State>);

impl Frail {
    /// Counts steps from here on, and deals the blow at the `n`th, counted from 0.
    pub(crate) fn arm(&self, blow: Option<(usize, Blow)>) {
        *self.0.lock().unwrap() = State { blow, ..State::default() };
    }

    pub(super) fn n_steps(&self) -> usize {
        self.0.lock().unwrap().n_steps
    }

    pub(super) fn is_dead(&self) -> bool {
        self.0.lock().unwrap().is_dead
    }

    fn step(
        &self,
        whole: impl FnOnce() -> io::Result<()>,
        half: impl FnOnce(),
        loose: impl FnOnce(&mut Vec<Loose>),
    ) -> io::Result<()> {
        let mut state = self.0.lock().unwrap();
        let n = state.n_steps;
        state.n_steps += 1;
        let broken = || io::Error::from(io::ErrorKind::StorageFull);
        if state.is_dead {
            return Err(broken());
        }
        match state.blow {
            Some((at, Blow::Fault)) if at == n => return Err(broken()),
            Some((at, Blow::Full)) if at <= n => return Err(broken()),
            Some((at, blow @ (Blow::Kill | Blow::Power(_)))) if at == n => {
                loose(&mut state.loose);
                half();
                state.is_dead = true;
                if let Blow::Power(seed) = blow {
                    lose(&mut state.loose, seed);
                }
                return Err(broken());
            }
            _ => {}
        }
        loose(&mut state.loose);
        whole()
    }
}

/// The power goes: the last of the names are as they were, and bytes are gone.
fn lose(loose: &mut Vec<Loose>, seed: u64) {
    let mut dice = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    let mut roll = |below: u64| {
        dice ^= dice << 13;
        dice ^= dice >> 7;
        dice ^= dice << 17;
        dice % below.max(1)
    };
    let n_lost = roll(loose.len() as u64 + 1);
    let survivors = loose.len() as u64 - n_lost;
    let mut n = loose.len() as u64;
    while let Some(one) = loose.pop() {
        n -= 1;
        match one {
            Loose::Bytes(file, from) => {
                if let Ok(file) = fs::OpenOptions::new().write(true).open(file) {
                    let there = file.metadata().unwrap().len();
                    if there > from {
                        file.set_len(from + roll(there - from + 1)).unwrap();
                    }
                }
            }
            Loose::Name(file, before) if n >= survivors => match before {
                Some(bytes) => fs::write(file, bytes).unwrap(),
                None => drop(fs::remove_file(file)),
            },
            Loose::Folder(folder) if n >= survivors => drop(fs::remove_dir(folder)),
            Loose::Name(..) | Loose::Folder(_) => {}
        }
    }
}

fn folder(path: &Path) -> &Path {
    path.parent().unwrap()
}

impl System for Frail {
    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        let loose = |loose: &mut Vec<Loose>| loose.push(Loose::Folder(folder.to_owned()));
        self.step(|| Machine.make_folder(folder), || (), loose)
    }

    fn create(&self, file: &Path, like: &Path) -> io::Result<()> {
        let loose =
            |loose: &mut Vec<Loose>| loose.push(Loose::Name(file.to_owned(), fs::read(file).ok()));
        self.step(|| Machine.create(file, like), || (), loose)
    }

    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()> {
        let half = || drop(Machine.append(file, &bytes[..bytes.len() / 2]));
        let loose = |loose: &mut Vec<Loose>| {
            let length = fs::metadata(file).map(|file| file.len());
            if length.is_err() {
                loose.push(Loose::Name(file.to_owned(), None));
            }
            loose.push(Loose::Bytes(file.to_owned(), length.unwrap_or(0)));
        };
        self.step(|| Machine.append(file, bytes), half, loose)
    }

    fn cut(&self, file: &Path, length: u64) -> io::Result<()> {
        let old = fs::read(file)?;
        let loose = |loose: &mut Vec<Loose>| loose.push(Loose::Name(file.to_owned(), Some(old)));
        self.step(|| Machine.cut(file, length), || (), loose)
    }

    fn sync(&self, file: &Path) -> io::Result<()> {
        let held = |loose: &mut Vec<Loose>| {
            loose.retain(|one| !matches!(one, Loose::Bytes(other, _) if other == file));
        };
        // Killed in the middle of syncing, nobody knows how much of it was done.
        self.step(|| Ok(()), || (), |_| ())?;
        held(&mut self.0.lock().unwrap().loose);
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let (was, held) = (fs::read(to).ok(), fs::read(from).ok());
        let loose = |loose: &mut Vec<Loose>| {
            loose.push(Loose::Name(from.to_owned(), held));
            loose.push(Loose::Name(to.to_owned(), was));
        };
        self.step(|| Machine.rename(from, to), || (), loose)
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        let was = fs::read(file).ok();
        let loose = |loose: &mut Vec<Loose>| loose.push(Loose::Name(file.to_owned(), was));
        self.step(|| Machine.remove(file), || (), loose)
    }

    fn sync_folder(&self, of: &Path) -> io::Result<()> {
        self.step(|| Ok(()), || (), |_| ())?;
        let is_held = |one: &Loose| match one {
            Loose::Name(path, _) | Loose::Folder(path) => folder(path) == of,
            Loose::Bytes(..) => false,
        };
        self.0.lock().unwrap().loose.retain(|one| !is_held(one));
        Ok(())
    }
}
