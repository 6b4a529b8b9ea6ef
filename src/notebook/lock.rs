//! One window a song: the second one reads only.

use super::reason::{Attempt, reason, sentence, shown};
use super::state::{key, make};
use crate::wording::message::Message;
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// A song held by this window, until it is dropped or the process ends in whatever way.
#[derive(Debug)]
pub struct Lock {
    file: File,
    path: PathBuf,
}

/// What came of asking for a song.
#[derive(Debug)]
pub enum Taken {
    /// It is ours.
    Ours(Lock),
    /// Another window has it.
    AlreadyOpen,
    /// Nobody can tell: there is no place for locks, for the reason in the message.
    Unknown(Message),
}

/// Asks for the song at this resolved path. `folder` is [`super::state::folder`]'s; nothing is put in the song's own.
#[must_use]
pub fn take(folder: &Path, song: &Path) -> Taken {
    if let Err(error) = make(folder) {
        return Taken::Unknown(no_lock(folder, &error));
    }
    let path = folder.join(format!("{}.lock", key(song)));
    // Whoever lets go of a song removes the file, perhaps between our opening it and locking it: then another one is made.
    for _ in 0..100 {
        let opened = File::options()
            .create(true)
            .truncate(false)
            .write(true)
            .open(&path);
        let file = match opened {
            Ok(file) => file,
            Err(error) => return Taken::Unknown(no_lock(&path, &error)),
        };
        match file.try_lock() {
            Ok(()) if stands_at(&file, &path) => return Taken::Ours(Lock { file, path }),
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Taken::AlreadyOpen,
            Err(TryLockError::Error(error)) => return Taken::Unknown(no_lock(&path, &error)),
        }
    }
    Taken::AlreadyOpen
}

/// Whether the open file is the one that the path names.
#[cfg(unix)]
fn stands_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (file.metadata(), fs::metadata(path)) {
        (Ok(open), Ok(named)) => (open.dev(), open.ino()) == (named.dev(), named.ino()),
        _ => false,
    }
}

#[cfg(not(unix))]
fn stands_at(_: &File, _: &Path) -> bool {
    true
}

impl Drop for Lock {
    fn drop(&mut self) {
        // Removed while it is still locked, so that nobody locks a file that is about to go. Elsewhere an open file stays.
        if cfg!(unix) {
            let _ = fs::remove_file(&self.path);
        }
        let _ = self.file.unlock();
    }
}

fn no_lock(path: &Path, error: &io::Error) -> Message {
    let reason = reason(error, Attempt::Write);
    Message::new(format!(
        "whether the song is open elsewhere cannot be told; {}",
        reason.what
    ))
    .next(sentence(reason.remedy))
    .in_file(shown(path))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{Taken, take};
    use std::path::Path;

    #[test]
    fn a_song_is_held_once_and_let_go() {
        let folder = tempfile::tempdir().unwrap();
        let folder = folder.path().join("state");
        let song = Path::new("/a/ferry.yaml");
        let first = take(&folder, song);
        assert!(matches!(first, Taken::Ours(_)));
        assert!(matches!(take(&folder, song), Taken::AlreadyOpen));
        assert!(matches!(
            take(&folder, Path::new("/b/ferry.yaml")),
            Taken::Ours(_)
        ));
        drop(first);
        assert!(matches!(take(&folder, song), Taken::Ours(_)));
        assert_eq!(std::fs::read_dir(&folder).unwrap().count(), 0);
    }

    #[test]
    fn without_a_place_nobody_can_tell() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("file");
        std::fs::write(&file, "").unwrap();
        let Taken::Unknown(message) = take(&file.join("state"), Path::new("/a/ferry.yaml")) else {
            unreachable!("a file is no folder");
        };
        assert!(message.to_string().contains("no folder"), "{message}");
    }
}
