//! What writing asks of the machine, one small step at a time.
//!
//! Every step that can fail, or before or after which the power can go, is one call. So a test
//! can let each of them fail in turn.

use std::{
    fmt,
    fs::{self, File, OpenOptions},
    io::{self, Write},
    path::Path,
};

/// The machine, as writing sees it.
pub trait System: fmt::Debug + Send + Sync {
    /// Reads a file.
    fn read(&self, file: &Path) -> io::Result<Vec<u8>> {
        fs::read(file)
    }

    /// Makes one folder.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;

    /// Makes an empty file, with the permissions of another where there is one.
    fn create(&self, file: &Path, like: &Path) -> io::Result<()>;

    /// Writes at the end of a file.
    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Cuts a file off.
    fn cut(&self, file: &Path, length: u64) -> io::Result<()>;

    /// Sees to it that what is in a file is on the disk.
    fn sync(&self, file: &Path) -> io::Result<()>;

    /// Puts a file in the place of another.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Takes a file away.
    fn remove(&self, file: &Path) -> io::Result<()>;

    /// Sees to it that the names in a folder are on the disk.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
}

/// The machine itself.
#[derive(Debug, Clone, Copy, Default)]
pub struct Machine;

impl System for Machine {
    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir(folder)
    }

    fn create(&self, file: &Path, like: &Path) -> io::Result<()> {
        let made = File::create(file)?;
        match fs::metadata(like) {
            Ok(old) => made.set_permissions(old.permissions()),
            Err(_not_there_yet) => Ok(()),
        }
    }

    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()> {
        OpenOptions::new().append(true).create(true).open(file)?.write_all(bytes)
    }

    fn cut(&self, file: &Path, length: u64) -> io::Result<()> {
        OpenOptions::new().write(true).open(file)?.set_len(length)
    }

    fn sync(&self, file: &Path) -> io::Result<()> {
        OpenOptions::new().append(true).open(file)?.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        fs::remove_file(file)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        // Elsewhere a folder cannot be opened, and its names are written with its files.
        if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
    }
}

/// Makes a folder and those above it that are missing, down to the disk.
pub(super) fn make_folders(system: &dyn System, folder: &Path) -> io::Result<()> {
    if folder.as_os_str().is_empty() || folder.is_dir() {
        return Ok(());
    }
    let above = folder.parent().unwrap_or(Path::new("."));
    make_folders(system, above)?;
    match system.make_folder(folder) {
        Err(error) if error.kind() != io::ErrorKind::AlreadyExists => Err(error),
        _ => system.sync_folder(above),
    }
}

/// Writes a file that nobody reads yet, down to the disk.
pub(super) fn write_new(
    system: &dyn System,
    file: &Path,
    like: &Path,
    content: &[u8],
) -> io::Result<()> {
    system.create(file, like)?;
    system.append(file, content)?;
    system.sync(file)
}

/// Reads a file that may not be there.
pub(super) fn read_if_there(system: &dyn System, file: &Path) -> io::Result<Option<Vec<u8>>> {
    match system.read(file) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

/// A number worked out of a content, to tell it from another: FNV-1a, fixed for ever, unlike the
/// hashers of the standard library.
pub(super) fn sum<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> String {
    let bytes = pieces.into_iter().flatten();
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{hash:016x}")
}
