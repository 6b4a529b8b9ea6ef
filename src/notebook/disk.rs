//! The few things done to a disk, so that a test can let each of them fail.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// A disk that songs and drafts are written to. Each step does what the system does; a double in a test overrides the steps that
/// are to fail.
///
/// *Errors* of each step are the system's.
pub trait Disk: Send + Sync {
    /// A new file that only its owner may read; fails where there is one of that name.
    fn create_private(&self, path: &Path) -> io::Result<File> {
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        {
            use std::os::unix::fs::OpenOptionsExt;
            options.mode(0o600);
        }
        options.open(path)
    }

    /// A new file with the permissions the system gives to new files; fails where there is one of that name.
    fn create(&self, path: &Path) -> io::Result<File> {
        File::create_new(path)
    }

    /// Whether an old file may be written to; it is not.
    fn may_write(&self, path: &Path) -> io::Result<()> {
        OpenOptions::new().write(true).open(path).map(drop)
    }

    /// Gives a new file the owner and the permissions of an old one.
    fn dress(&self, file: &File, like: &Metadata) -> io::Result<()> {
        #[cfg(unix)]
        {
            use std::os::unix::fs::{MetadataExt, fchown};
            let ours = file.metadata()?;
            if (ours.uid(), ours.gid()) != (like.uid(), like.gid()) {
                // Only the system's administrator may give files away; a song that changes hands is still a song saved.
                let _ = fchown(file, Some(like.uid()), Some(like.gid()))
                    .or_else(|_| fchown(file, None, Some(like.gid())));
            }
        }
        file.set_permissions(like.permissions())
    }

    /// Writes all of the bytes.
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        file.write_all(bytes)
    }

    /// Waits until the file is on the device.
    fn sync(&self, file: &File) -> io::Result<()> {
        file.sync_all()
    }

    /// All bytes of a file.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        File::open(path)?.read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    /// Puts a file in another's place at one stroke.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    /// Gives a file another name in its folder, unless something has that name: then it fails and the file keeps its own.
    fn rename_to_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        match fs::hard_link(from, to) {
            Ok(()) => fs::remove_file(from),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(error),
            // Some disks know no second names; then there is a moment between looking and renaming.
            Err(_) if fs::symlink_metadata(to).is_ok() => Err(io::ErrorKind::AlreadyExists.into()),
            Err(_) => fs::rename(from, to),
        }
    }

    /// Waits until a folder's names are on the device; does nothing where a system keeps no such promise.
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        if cfg!(not(unix)) {
            return Ok(());
        }
        match File::open(folder)?.sync_all() {
            // Some disks, of the network above all, cannot sync a folder and say so like this.
            Err(error)
                if matches!(
                    error.kind(),
                    io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported
                ) =>
            {
                Ok(())
            }
            other => other,
        }
    }

    /// Takes a file away.
    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }
}

/// The disk as it is.
#[derive(Clone, Copy, Debug, Default)]
pub struct RealDisk;

impl Disk for RealDisk {}

/// How the names of temporary files begin and end; between stand eight hexadecimal digits.
const TEMPORARY: (&str, &str) = (".breathmark-", ".tmp");

/// Who may read a file that replaces none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Readers {
    /// Its owner alone: a draft is nobody else's matter.
    Owner,
    /// Whoever the system lets read new files.
    AsUsual,
}

/// A temporary file in a folder, locked as long as it is open: an unlocked one is a leftover.
pub(super) struct Temporary {
    pub(super) path: PathBuf,
    pub(super) file: File,
}

impl Temporary {
    /// A new temporary file in the folder, to replace the `old` file if there is one: it then gets its owner and permissions.
    ///
    /// *Errors* where the folder takes none.
    pub(super) fn create(
        disk: &dyn Disk,
        folder: &Path,
        old: Option<&Metadata>,
        readers: Readers,
    ) -> io::Result<Self> {
        for attempt in 0..100 {
            let path = folder.join(temporary_name(attempt));
            let made = match (old, readers) {
                (None, Readers::AsUsual) => disk.create(&path),
                // Nobody reads a private song in the moment before it has its permissions.
                (Some(_), _) | (None, Readers::Owner) => disk.create_private(&path),
            };
            let file = match made {
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
                other => other?,
            };
            // Another window that cleans the folder may have taken it for a leftover before it was locked.
            if let Err(fs::TryLockError::WouldBlock) = file.try_lock() {
                continue;
            }
            if !path.exists() {
                continue;
            }
            let temporary = Self { path, file };
            if let Some(old) = old
                && let Err(error) = disk.dress(&temporary.file, old)
            {
                temporary.discard(disk);
                return Err(error);
            }
            return Ok(temporary);
        }
        Err(io::ErrorKind::AlreadyExists.into())
    }

    /// Takes the file away; where even that fails, [`clean`] does it later.
    pub(super) fn discard(self, disk: &dyn Disk) {
        let _ = disk.remove(&self.path);
    }
}

/// A name that no other process and no earlier attempt has, as good as surely.
fn temporary_name(attempt: u32) -> String {
    let since = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
    let nanoseconds = since.map_or(0, |since| since.as_nanos());
    let seed = format!("{} {nanoseconds} {attempt}", std::process::id());
    let sum = super::stamp::sum(seed.as_bytes());
    let (begin, end) = TEMPORARY;
    format!("{begin}{:08x}{end}", sum >> 32)
}

/// Whether a file's name is one that [`Temporary::create`] gives.
fn is_temporary(name: &str) -> bool {
    let (begin, end) = TEMPORARY;
    name.strip_prefix(begin)
        .and_then(|rest| rest.strip_suffix(end))
        .is_some_and(|digits| digits.len() == 8 && digits.bytes().all(|b| b.is_ascii_hexdigit()))
}

/// Takes away what killed saves have left in a folder; what a save of another window is writing just now stays.
///
/// To be called where a song or a folder is opened and at a clean end. A leftover that cannot be removed stays: it does no harm.
pub fn clean(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let ours = entry.file_name().to_str().is_some_and(is_temporary)
            && entry.file_type().is_ok_and(|kind| kind.is_file());
        if !ours {
            continue;
        }
        let path = entry.path();
        let Ok(file) = File::open(&path) else {
            continue;
        };
        // The lock is held until the file is gone, so that no save can begin to use it. Where a disk knows no locks, a save that
        // loses its file here fails with a message and can be done again.
        if !matches!(file.try_lock(), Err(fs::TryLockError::WouldBlock)) {
            let _ = fs::remove_file(&path);
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{Readers, RealDisk, Temporary, clean, is_temporary, temporary_name};

    #[test]
    fn our_names_are_recognised_and_no_others() {
        assert!(is_temporary(&temporary_name(3)));
        for other in [
            ".breathmark-.tmp",
            ".breathmark-0123456g.tmp",
            ".breathmark-01234567.yaml",
            "breathmark-01234567.tmp",
            ".breathmark-012345678.tmp",
            "ferry.yaml",
        ] {
            assert!(!is_temporary(other), "{other}");
        }
    }

    #[test]
    fn cleaning_takes_leftovers_but_no_save_at_work() {
        let folder = tempfile::tempdir().unwrap();
        let left = folder.path().join(".breathmark-01234567.tmp");
        std::fs::write(&left, "half a song").unwrap();
        let song = folder.path().join("ferry.yaml");
        std::fs::write(&song, "title: Ferry").unwrap();
        let at_work = Temporary::create(&RealDisk, folder.path(), None, Readers::AsUsual).unwrap();

        clean(folder.path());
        assert!(!left.exists());
        assert!(song.exists());
        assert!(at_work.path.exists());

        drop(at_work.file);
        clean(folder.path());
        assert!(!at_work.path.exists());
    }
}
