//! Saving so that the old song or the new one stands in the file at every moment, whole.

use super::disk::{Disk, Readers, RealDisk};
use super::open::LARGEST_SONG;
use super::place::{Failure, folder_of, place, place_new};
use super::reason::{Attempt, reason, sentence, shown, shown_name};
use super::stamp::Stamp;
use crate::wording::message::Message;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

/// A song that was saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// What the file is like now.
    pub stamp: Stamp,
    /// Says so where the song is in its file, but the disk did not confirm that it would outlast a power cut.
    pub doubt: Option<Message>,
}

/// Writes the text into the song's file, by way of a temporary file beside it: written, synced, read back, compared, `check`ed,
/// renamed, and the folder synced. The file keeps its permissions; a link to it stays a link.
///
/// `check` is given the text as read back from the disk and says whether it still is the song meant; it can also look once more
/// whether another program changed the file.
///
/// *Errors*: a message that names the file and the reason. The old file is then as it was and no temporary file stays.
pub fn save(
    resolved: &Path,
    text: &str,
    check: impl Fn(&str) -> Result<(), Message>,
) -> Result<Saved, Message> {
    save_on(&RealDisk, resolved, text, check)
}

/// [`save`] on a disk of one's own, such as one that fails in a test.
///
/// *Errors* as [`save`].
pub fn save_on(
    disk: &dyn Disk,
    resolved: &Path,
    text: &str,
    check: impl Fn(&str) -> Result<(), Message>,
) -> Result<Saved, Message> {
    if u64::try_from(text.len()).is_ok_and(|length| length > LARGEST_SONG) {
        return Err(Message::new("not saved; the song is larger than 4 MiB")
            .next("Move some sections to another song, then save again.")
            .in_file(shown_name(resolved)));
    }
    let placed = place(disk, resolved, text.as_bytes(), Readers::AsUsual, check)
        .map_err(|failure| failed(resolved, BOTH_KEPT, failure))?;
    // Of the open file: whatever another program puts in its place from now on is a change.
    let metadata = placed.file.metadata();
    let metadata = metadata.map_err(|error| not_saved(resolved, BOTH_KEPT, &error))?;
    let doubt = placed.doubt.map(|error| {
        let what = reason(&error, Attempt::Write).what;
        Message::new(format!("saved, but the disk did not confirm it; {what}"))
            .next("Save again.")
            .in_file(shown_name(resolved))
    });
    Ok(Saved {
        stamp: Stamp::new(&metadata, text),
        doubt,
    })
}

/// A new song's file with this text; `false` where something stands at the path already.
///
/// *Errors*: a message that names the file; nothing new then stands there.
pub(super) fn create(disk: &dyn Disk, path: &Path, text: &str) -> Result<bool, Message> {
    place_new(disk, path, text.as_bytes()).map_err(|failure| failed(path, UNCHANGED, failure))
}

/// Writes the text into a new file beside the song, where another program has changed the song meanwhile: both texts are kept.
/// Gives the path of the new file, named as `ferry-mine-1.yaml` beside `ferry.yaml`.
///
/// *Errors*: a message that names the file and the reason; nothing was then written.
pub fn keep_both(resolved: &Path, text: &str) -> Result<PathBuf, Message> {
    let stem = resolved.file_stem().unwrap_or_default().to_string_lossy();
    let extension = resolved.extension().map_or_else(
        || "yaml".to_owned(),
        |extension| extension.to_string_lossy().into_owned(),
    );
    for number in 1..10_000_u32 {
        // Names are at most 255 bytes on common disks.
        let stem = super::folder::at_most(&stem, 200);
        let beside = folder_of(resolved).join(format!("{stem}-mine-{number}.{extension}"));
        if create(&RealDisk, &beside, text)? {
            return Ok(beside);
        }
    }
    Err(
        Message::new("not saved; there are ten thousand versions beside it")
            .next("Take some of them away, then save again.")
            .in_file(shown_name(resolved)),
    )
}

/// Writes an export: into a new file or over an old one as [`save`] does, or straight to a device or pipe.
///
/// *Errors*: a message that names the file and the reason.
pub fn export(path: &Path, bytes: &[u8]) -> Result<(), Message> {
    let named = |message: Message| message.in_file(shown(path));
    match fs::metadata(path) {
        Ok(metadata) if metadata.is_dir() => Err(named(
            Message::new("this is a folder; a file is wanted").next("Add a file's name."),
        )),
        Ok(metadata) if !metadata.is_file() => {
            let written = File::options()
                .write(true)
                .open(path)
                .and_then(|mut device| RealDisk.write(&mut device, bytes));
            written.map_err(|error| named(not_saved(path, UNCHANGED, &error)))
        }
        Ok(_) | Err(_) => match place(&RealDisk, path, bytes, Readers::AsUsual, |_| Ok(())) {
            Ok(_) => Ok(()),
            Err(failure) => Err(named(failed(path, UNCHANGED, failure))),
        },
    }
}

/// What a save that failed has left as it was.
const BOTH_KEPT: &str = "Words and old file are kept.";

/// What any other failure has left as it was.
const UNCHANGED: &str = "Nothing was changed.";

/// The message that bytes did not get to their place.
fn failed(path: &Path, kept: &str, failure: Failure) -> Message {
    let (what, remedy) = match failure {
        Failure::System(error) => return not_saved(path, kept, &error),
        Failure::Refused(message) => return message,
        Failure::Differs => (
            "the disk gave back another text".to_owned(),
            "Look at the disk",
        ),
        Failure::InTheWay(kind) => (format!("in its place is {kind}"), "Move that away"),
    };
    Message::new(format!("not saved; {what}"))
        .next(format!("{kept} {remedy}, then save again."))
        .in_file(shown_name(path))
}

/// The message that the system did not let a file be written.
fn not_saved(path: &Path, kept: &str, error: &io::Error) -> Message {
    let reason = reason(error, Attempt::Write);
    let remedy = sentence(&format!("{}, then save again", reason.remedy));
    Message::new(format!("not saved; {}", reason.what))
        .next(format!("{kept} {remedy}"))
        .in_file(shown_name(path))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{Disk, Saved, create, save, save_on};
    use crate::notebook::disk::{RealDisk, clean};
    use crate::notebook::open::{Change, LARGEST_SONG, change, open};
    use crate::wording::message::Message;
    use std::cell::Cell;
    use std::fs::{self, File, Metadata};
    use std::io::{self, ErrorKind};
    use std::path::{Path, PathBuf};
    use std::sync::atomic::{AtomicUsize, Ordering};

    /// A disk whose steps fail from one on, counted from 0.
    struct FailsFrom {
        step: usize,
        kind: ErrorKind,
        /// Whether the temporary file can still be removed after the failure.
        removes: bool,
        done: AtomicUsize,
    }

    impl FailsFrom {
        fn new(step: usize, kind: ErrorKind, removes: bool) -> Self {
            let done = AtomicUsize::new(0);
            Self {
                step,
                kind,
                removes,
                done,
            }
        }

        fn step(&self) -> io::Result<()> {
            if self.done.fetch_add(1, Ordering::Relaxed) >= self.step {
                return Err(self.kind.into());
            }
            Ok(())
        }
    }

    impl Disk for FailsFrom {
        fn create_private(&self, path: &Path) -> io::Result<File> {
            self.step()?;
            RealDisk.create_private(path)
        }

        fn create(&self, path: &Path) -> io::Result<File> {
            self.step()?;
            RealDisk.create(path)
        }

        fn may_write(&self, path: &Path) -> io::Result<()> {
            self.step()?;
            RealDisk.may_write(path)
        }

        fn dress(&self, file: &File, like: &Metadata) -> io::Result<()> {
            self.step()?;
            RealDisk.dress(file, like)
        }

        fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
            // A full disk takes some of the bytes first.
            let (some, rest) = bytes.split_at(bytes.len() / 2);
            RealDisk.write(file, some)?;
            self.step()?;
            RealDisk.write(file, rest)
        }

        fn sync(&self, file: &File) -> io::Result<()> {
            self.step()?;
            RealDisk.sync(file)
        }

        fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
            self.step()?;
            RealDisk.read(path)
        }

        fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
            self.step()?;
            RealDisk.rename(from, to)
        }

        fn rename_to_new(&self, from: &Path, to: &Path) -> io::Result<()> {
            self.step()?;
            RealDisk.rename_to_new(from, to)
        }

        fn sync_folder(&self, folder: &Path) -> io::Result<()> {
            self.step()?;
            RealDisk.sync_folder(folder)
        }

        fn remove(&self, path: &Path) -> io::Result<()> {
            if !self.removes {
                return Err(self.kind.into());
            }
            RealDisk.remove(path)
        }
    }

    fn song(text: &str) -> (tempfile::TempDir, PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ferry.yaml");
        fs::write(&path, text).unwrap();
        (folder, path)
    }

    fn names(folder: &Path) -> Vec<PathBuf> {
        let entries = fs::read_dir(folder).unwrap();
        entries.map(|entry| entry.unwrap().path()).collect()
    }

    fn save_failing(
        step: usize,
        kind: ErrorKind,
        removes: bool,
    ) -> (Result<Saved, Message>, String, usize) {
        let (folder, path) = song("old");
        let disk = FailsFrom::new(step, kind, removes);
        let outcome = save_on(&disk, &path, "new words", |_| Ok(()));
        let left = names(folder.path()).len() - 1;
        clean(folder.path());
        assert_eq!(names(folder.path()), [path.as_path()], "cleaned");
        (outcome, fs::read_to_string(&path).unwrap(), left)
    }

    #[test]
    fn at_every_failing_step_the_old_song_stands_and_nothing_else() {
        // may_write, create, dress, write, sync, read, rename
        for step in 0..7 {
            for (kind, words) in [
                (ErrorKind::StorageFull, "the disk is full"),
                (ErrorKind::ReadOnlyFilesystem, "the disk is read-only"),
                (ErrorKind::PermissionDenied, "no permission"),
                (ErrorKind::NotFound, "the folder is gone"),
            ] {
                let (outcome, text, left) = save_failing(step, kind, true);
                let message = outcome.unwrap_err().to_string();
                assert!(message.starts_with("ferry.yaml: not saved; "), "{message}");
                assert!(message.contains(words), "{message}");
                assert_eq!((text.as_str(), left), ("old", 0), "step {step}");
            }
        }
        // The folder's sync comes after the song is in its place.
        let (outcome, text, left) = save_failing(7, ErrorKind::StorageFull, true);
        let doubt = outcome.unwrap().doubt.unwrap().to_string();
        assert!(doubt.contains("the disk did not confirm it"), "{doubt}");
        assert_eq!((text.as_str(), left), ("new words", 0));

        let (outcome, text, left) = save_failing(8, ErrorKind::StorageFull, true);
        assert_eq!(outcome.unwrap().doubt, None);
        assert_eq!((text.as_str(), left), ("new words", 0));
    }

    #[test]
    fn a_new_song_is_whole_or_not_there() {
        // create, write, sync, read, rename
        for step in 0..5 {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("ferry.yaml");
            let disk = FailsFrom::new(step, ErrorKind::StorageFull, true);
            let message = create(&disk, &path, "words").unwrap_err().to_string();
            assert!(message.contains("the disk is full"), "{message}");
            assert!(names(folder.path()).is_empty(), "step {step}");
            assert_eq!(create(&RealDisk, &path, "words"), Ok(true));
            assert_eq!(create(&RealDisk, &path, "other words"), Ok(false));
            assert_eq!(fs::read_to_string(&path).unwrap(), "words");
            assert_eq!(names(folder.path()), [path]);
        }
    }

    #[test]
    fn what_cannot_be_removed_now_is_cleaned_later() {
        let (outcome, text, left) = save_failing(4, ErrorKind::StorageFull, false);
        assert!(outcome.is_err());
        assert_eq!((text.as_str(), left), ("old", 1));
    }

    #[test]
    fn a_disk_that_gives_back_another_text_is_noticed() {
        struct Forgets;
        impl Disk for Forgets {
            fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
                let (some, _) = bytes.split_at(bytes.len() - 1);
                RealDisk.write(file, some)
            }
        }
        let (folder, path) = song("old");
        let message = save_on(&Forgets, &path, "new words", |_| Ok(())).unwrap_err();
        assert!(
            message.to_string().contains("gave back another text"),
            "{message}"
        );
        assert_eq!(open(&path).unwrap().text, "old");
        assert_eq!(names(folder.path()).len(), 1);
    }

    #[test]
    fn the_check_has_the_last_word_and_hears_what_is_on_the_disk() {
        let (folder, path) = song("old");
        let heard = Cell::new(String::new());
        let refused = Message::new("this is another song than the one meant");
        let outcome = save(&path, "new words", |text| {
            heard.set(text.to_owned());
            Err(refused.clone())
        });
        assert_eq!(outcome, Err(refused));
        assert_eq!(heard.take(), "new words");
        assert_eq!(open(&path).unwrap().text, "old");
        assert_eq!(names(folder.path()).len(), 1);
    }

    #[test]
    fn our_own_save_is_no_change() {
        let (_folder, path) = song("old");
        let saved = save(&path, "new words", |_| Ok(())).unwrap();
        assert_eq!(change(&path, &saved.stamp), Change::Same);
        assert_eq!(open(&path).unwrap().stamp, saved.stamp);
    }

    #[test]
    fn what_could_not_be_opened_again_is_not_saved() {
        let (_folder, path) = song("old");
        let text = "a".repeat(usize::try_from(LARGEST_SONG).unwrap() + 1);
        let message = save(&path, &text, |_| Ok(())).unwrap_err().to_string();
        assert!(message.contains("larger than 4 MiB"), "{message}");
        assert_eq!(open(&path).unwrap().text, "old");
    }
}
