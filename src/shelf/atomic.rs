//! Putting a file in its place in one step.

use std::{
    fs::{self, File},
    io::{self, Write},
    path::Path,
};

use tempfile::Builder;

use super::save::SaveError;

/// Writes a file whole: beside its place first, then moved there. Until then the old content
/// stands, and afterwards the new one does, even if the power goes in between. Folders that are
/// missing are made; a link is followed; the file keeps its permissions.
pub(super) fn write_whole(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    let real = fs::canonicalize(path);
    let path = real.as_deref().unwrap_or(path);
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder).map_err(SaveError::io(folder))?;
    put(folder, path, content).map_err(SaveError::io(path))
}

fn put(folder: &Path, path: &Path, content: &[u8]) -> io::Result<()> {
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
    file.persist(path)?;
    sync_folder(folder)
}

/// Makes the system keep the new name too.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}
