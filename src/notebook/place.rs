//! Bytes put in a file's place at one stroke: what was there before stands until they are on the disk, whole.

use super::disk::{Disk, Readers, Temporary};
use super::open::name_of;
use crate::wording::message::Message;
use std::fs::{self, File, Metadata};
use std::io;
use std::path::Path;

/// Bytes that are in their place.
#[derive(Debug)]
pub(super) struct Placed {
    /// Their file, still open.
    pub(super) file: File,
    /// The system's error where it did not confirm the new name.
    pub(super) doubt: Option<io::Error>,
}

/// Why bytes did not get to their place; what stood there stands there still.
#[derive(Debug)]
pub(super) enum Failure {
    /// The system failed at a step.
    System(io::Error),
    /// What was read back was not what was written.
    Differs,
    /// Something stands there that is no file, named here with its article.
    InTheWay(&'static str),
    /// The caller's check said no.
    Refused(Message),
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::System(error)
    }
}

/// Puts the bytes in the file's place; `check` hears what the disk gives back, as text, and has the last word.
/// `readers` counts where no file stood there before.
///
/// *Errors*: see [`Failure`]. No temporary file stays, as far as it can be removed.
pub(super) fn place(
    disk: &dyn Disk,
    target: &Path,
    bytes: &[u8],
    readers: Readers,
    check: impl Fn(&str) -> Result<(), Message>,
) -> Result<Placed, Failure> {
    // A link that has come into the song's place since stays a link as well.
    let real = fs::canonicalize(target).unwrap_or_else(|_| target.to_owned());
    let old = old_file(disk, &real)?;
    let folder = folder_of(&real);
    let mut temporary = Temporary::create(disk, folder, old.as_ref(), readers)?;
    let filled = fill(disk, &mut temporary, bytes, check);
    let renamed = filled.and_then(|()| Ok(disk.rename(&temporary.path, &real)?));
    if let Err(failure) = renamed {
        temporary.discard(disk);
        return Err(failure);
    }
    Ok(Placed {
        file: temporary.file,
        doubt: disk.sync_folder(folder).err(),
    })
}

/// Puts the bytes in a new file, whole from the first moment on; `false` where something has its name already.
///
/// *Errors*: see [`Failure`]. Nothing new then stands there.
pub(super) fn place_new(disk: &dyn Disk, target: &Path, bytes: &[u8]) -> Result<bool, Failure> {
    // A link that leads nowhere has the name as well.
    if fs::symlink_metadata(target).is_ok() {
        return Ok(false);
    }
    let folder = folder_of(target);
    let mut temporary = Temporary::create(disk, folder, None, Readers::AsUsual)?;
    let filled = fill(disk, &mut temporary, bytes, |_| Ok(()));
    let named = filled.and_then(|()| Ok(disk.rename_to_new(&temporary.path, target)?));
    match named {
        Ok(()) => {
            // The song is there and whole; what a power cut would do to it, its next save finds out.
            let _ = disk.sync_folder(folder);
            Ok(true)
        }
        Err(failure) => {
            temporary.discard(disk);
            match failure {
                Failure::System(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(false),
                other => Err(other),
            }
        }
    }
}

/// Writes, syncs, reads back, compares and checks.
fn fill(
    disk: &dyn Disk,
    temporary: &mut Temporary,
    bytes: &[u8],
    check: impl Fn(&str) -> Result<(), Message>,
) -> Result<(), Failure> {
    disk.write(&mut temporary.file, bytes)?;
    disk.sync(&temporary.file)?;
    let written = disk.read(&temporary.path)?;
    if written != bytes {
        return Err(Failure::Differs);
    }
    check(&String::from_utf8_lossy(&written)).map_err(Failure::Refused)
}

/// The metadata of the file that is to be replaced, `None` where there is none.
fn old_file(disk: &dyn Disk, real: &Path) -> Result<Option<Metadata>, Failure> {
    let old = match fs::metadata(real) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        old => old?,
    };
    if !old.is_file() {
        return Err(Failure::InTheWay(name_of(old.file_type())));
    }
    // Renaming asks only the folder. A file marked read-only is meant to stay as it is, for the administrator too.
    if old.permissions().readonly() {
        return Err(io::Error::from(io::ErrorKind::PermissionDenied).into());
    }
    disk.may_write(real)?;
    Ok(Some(old))
}

/// The folder that a file stands in.
pub(super) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}
