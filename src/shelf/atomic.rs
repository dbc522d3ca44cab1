//! Putting files in their places in one step each.

use std::{
    collections::BTreeSet,
    fs::{self, File},
    io::{self, Write},
    path::{Path, PathBuf},
    thread,
};

use tempfile::{Builder, NamedTempFile};

use super::save::SaveError;

/// Files written side by side. Each waits for the disk most of its time, and a disk that is asked
/// for several at once makes one journey of them.
const AT_ONCE: usize = 16;

/// Writes a file whole: beside its place first, then moved there. Until then the old content
/// stands, and afterwards the new one does, even if the power goes in between. Folders that are
/// missing are made; a link is followed; the file keeps its permissions.
pub(super) fn write_whole(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    write_all_whole(&[(path.to_owned(), content)])
}

/// Writes many files whole, each as [`write_whole`] does. They are put in their places in order;
/// at an error those before it are there, and those after it are as they were.
pub(super) fn write_all_whole(files: &[(PathBuf, &[u8])]) -> Result<(), SaveError> {
    let mut folders = BTreeSet::new();
    for batch in files.chunks(AT_ONCE) {
        let written: Vec<_> = thread::scope(|scope| {
            let work: Vec<_> =
                batch.iter().map(|(path, content)| scope.spawn(|| beside(path, content))).collect();
            work.into_iter()
                .map(|one| one.join().unwrap_or_else(|_panic| Err(broken_off())))
                .collect()
        });
        for written in written {
            let (file, path) = written?;
            file.persist(&path).map_err(|e| SaveError::io(&path)(e.error))?;
            folders.insert(folder_of(&path).to_owned());
        }
    }
    folders.iter().try_for_each(|folder| sync_folder(folder).map_err(SaveError::io(folder)))
}

fn broken_off() -> SaveError {
    SaveError::io(Path::new("."))(io::Error::other("the writing broke off"))
}

fn folder_of(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new("."))
}

/// Writes the content beside its place, down to the disk, and says where the place is.
fn beside(path: &Path, content: &[u8]) -> Result<(NamedTempFile, PathBuf), SaveError> {
    let real = fs::canonicalize(path).unwrap_or_else(|_not_there_yet| path.to_owned());
    let folder = folder_of(&real);
    fs::create_dir_all(folder).map_err(SaveError::io(folder))?;
    let file = put(folder, &real, content).map_err(SaveError::io(&real))?;
    Ok((file, real))
}

fn put(folder: &Path, path: &Path, content: &[u8]) -> io::Result<NamedTempFile> {
    // The leading dot keeps a file left behind by a crash out of the book.
    let mut builder = Builder::new();
    builder.prefix(".trug-").suffix(".tmp");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // A temporary file is its maker's alone; a page of a book is as readable as any file.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    if let Ok(old) = fs::metadata(path) {
        file.as_file().set_permissions(old.permissions())?;
    }
    file.write_all(content)?;
    file.as_file().sync_all()?;
    Ok(file)
}

/// Makes the system keep the new names too.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}
