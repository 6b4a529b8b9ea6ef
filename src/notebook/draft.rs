//! Drafts: the whole text of a song with unsaved words, kept beside the songs until a save succeeds.

use super::disk::{self, Disk, Readers, RealDisk};
use super::open::Opened;
use super::place::{Failure, place};
use super::reason::{Attempt, not_read, reason, shown, shown_name, why};
use super::stamp::sum;
use super::state::{as_row, from_row, key, make, path_as_row};
use crate::wording::message::Message;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime};

/// A song's unsaved text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The whole text, as a save would write it.
    pub text: String,
    /// Where the cursor stood, in the caller's words.
    pub cursor: String,
    /// When it was written, to the second.
    pub written: SystemTime,
    /// The sum ([`super::stamp::Stamp::sum`]) of the text in the file that these words began from.
    pub based_on: u64,
}

/// How a draft stands to the song's file as it is now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The file has the draft's text already: the draft can be dropped.
    Saved,
    /// The draft goes on from the file's text: it is the song.
    Newer,
    /// Another program has changed the file since: neither holds the other's words.
    FileChanged,
}

impl Draft {
    /// How the draft stands to the file.
    #[must_use]
    pub fn standing(&self, opened: &Opened) -> Standing {
        if self.text == opened.text {
            Standing::Saved
        } else if self.based_on == opened.stamp.sum() {
            Standing::Newer
        } else {
            Standing::FileChanged
        }
    }
}

/// The place where drafts are kept.
#[derive(Clone)]
pub struct Drafts {
    folder: PathBuf,
    disk: Arc<dyn Disk>,
}

impl Drafts {
    /// Drafts in this folder, as [`super::state::folder`] gives it. The folder is made when the first draft is written.
    #[must_use]
    pub fn open(folder: &Path) -> Self {
        Self::on_disk(folder, Arc::new(RealDisk))
    }

    /// [`Drafts::open`] on a disk of one's own, such as one that fails in a test.
    #[must_use]
    pub fn on_disk(folder: &Path, disk: Arc<dyn Disk>) -> Self {
        let folder = folder.to_owned();
        Self { folder, disk }
    }

    /// Where the draft of a song stands, whether there is one or not.
    #[must_use]
    pub fn path(&self, song: &Path) -> PathBuf {
        self.folder.join(format!("{}.draft", key(song)))
    }

    /// Whether there is a draft of the song; it is not read.
    #[must_use]
    pub fn has(&self, song: &Path) -> bool {
        self.path(song).is_file()
    }

    /// Writes the draft of the song at this resolved path in place of the one before; a failure leaves that one as it was.
    ///
    /// *Errors*: a message that names the song, the folder and the reason.
    pub fn write(&self, song: &Path, draft: &Draft) -> Result<(), Message> {
        let bytes = encode(song, draft);
        let placed = make(&self.folder).map_err(Failure::System).and_then(|()| {
            place(
                self.disk.as_ref(),
                &self.path(song),
                bytes.as_bytes(),
                Readers::Owner,
                |_| Ok(()),
            )
        });
        match placed {
            Ok(_) => Ok(()),
            Err(failure) => Err(Message::new(format!(
                "no draft in {}; {}",
                shown(&self.folder),
                why(&failure)
            ))
            .next("Save to keep your words; the draft is tried again by itself.")
            .in_file(shown_name(song))),
        }
    }

    /// The draft of the song, if there is one.
    ///
    /// *Errors*: a message that names the draft's file where it cannot be read, or is damaged. A damaged one is moved aside,
    /// never overwritten: what is left of the words is in it, as plain text.
    pub fn find(&self, song: &Path) -> Result<Option<Draft>, Message> {
        let path = self.path(song);
        let bytes = match fs::read(&path) {
            Err(error)
                if matches!(
                    error.kind(),
                    io::ErrorKind::NotFound | io::ErrorKind::NotADirectory
                ) =>
            {
                return Ok(None);
            }
            read => read.map_err(|error| not_read(&path, &error))?,
        };
        if let Some((row, draft)) = decode(&bytes) {
            // Two paths with one sum: the other song's draft is none of ours.
            return Ok((row == path_as_row(song)).then_some(draft));
        }
        let aside = path.with_extension("damaged");
        let stands = match fs::rename(&path, &aside) {
            Ok(()) => aside,
            Err(_) => path,
        };
        Err(Message::new("this draft is damaged and was not used")
            .next("What is left of the words can be read in it with any editor.")
            .in_file(shown(&stands)))
    }

    /// Takes the draft of the song away, if there is one.
    ///
    /// *Errors*: a message that names the draft's file.
    pub fn remove(&self, song: &Path) -> Result<(), Message> {
        let path = self.path(song);
        match self.disk.remove(&path) {
            Err(error) if self.has(song) => {
                let reason = reason(&error, Attempt::Write);
                Err(
                    Message::new(format!("the draft stays there; {}", reason.what))
                        .in_file(shown(&path)),
                )
            }
            Ok(()) | Err(_) => Ok(()),
        }
    }

    /// Takes away what killed sessions left half written here. To be called when a session begins.
    pub fn clean(&self) {
        disk::clean(&self.folder);
    }
}

/// The first words of a draft's file; then comes a sum over everything after its row.
const FIRST: &str = "breathmark draft 1, sum ";

/// A draft as it stands in its file: a sum, named values, an empty row, the text.
fn encode(song: &Path, draft: &Draft) -> String {
    let since = draft.written.duration_since(SystemTime::UNIX_EPOCH);
    let body = format!(
        "song: {}\nwritten: {}\nbased on: {:016x}\ncursor: {}\nbytes: {}\n\n{}",
        path_as_row(song),
        since.map_or(0, |since| since.as_secs()),
        draft.based_on,
        as_row(draft.cursor.as_bytes()),
        draft.text.len(),
        draft.text
    );
    format!("{FIRST}{:016x}\n{body}", sum(body.as_bytes()))
}

/// The song's path as a row and its draft; `None` where a byte is missing, added or changed.
fn decode(bytes: &[u8]) -> Option<(String, Draft)> {
    let (first, body) = std::str::from_utf8(bytes).ok()?.split_once('\n')?;
    if first != format!("{FIRST}{:016x}", sum(body.as_bytes())) {
        return None;
    }
    let (head, text) = body.split_once("\n\n")?;
    let mut rows = head.split('\n');
    let mut value = |name: &str| rows.next()?.strip_prefix(name)?.strip_prefix(": ");
    let song = value("song")?.to_owned();
    let seconds = value("written")?.parse().ok()?;
    let based_on = u64::from_str_radix(value("based on")?, 16).ok()?;
    let cursor = from_row(value("cursor")?)?;
    let length: usize = value("bytes")?.parse().ok()?;
    let draft = Draft {
        text: (text.len() == length).then(|| text.to_owned())?,
        cursor,
        written: SystemTime::UNIX_EPOCH.checked_add(Duration::from_secs(seconds))?,
        based_on,
    };
    Some((song, draft))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{Draft, Drafts, decode, encode};
    use crate::notebook::state::path_as_row;
    use proptest::prelude::*;
    use std::path::Path;
    use std::time::{Duration, SystemTime};

    fn draft(text: &str, cursor: &str) -> Draft {
        Draft {
            text: text.to_owned(),
            cursor: cursor.to_owned(),
            written: SystemTime::UNIX_EPOCH + Duration::from_secs(1_764_070_000),
            based_on: 7,
        }
    }

    #[test]
    fn a_draft_is_plain_text_at_its_end() {
        let text = "title: Ferry\n\nsections: []\n";
        let written = encode(Path::new("/songs/a\nb.yaml"), &draft(text, "3:4"));
        let (first, rest) = written.split_once('\n').unwrap();
        assert!(first.starts_with("breathmark draft 1, sum "));
        assert_eq!(
            rest,
            format!(
                "song: /songs/a%0Ab.yaml\nwritten: 1764070000\nbased on: 0000000000000007\n\
                 cursor: 3:4\nbytes: 27\n\n{text}"
            )
        );
    }

    #[cfg(unix)]
    #[test]
    fn a_draft_is_for_its_writers_eyes() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let state = folder.path().join("state");
        let drafts = Drafts::open(&state);
        let song = Path::new("/songs/ferry.yaml");
        drafts.write(song, &draft("words", "")).unwrap();
        let mode = |path: &Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&state), 0o700);
        assert_eq!(mode(&drafts.path(song)), 0o600);
    }

    #[test]
    fn a_damaged_draft_is_moved_aside() {
        let folder = tempfile::tempdir().unwrap();
        let drafts = Drafts::open(folder.path());
        let song = Path::new("/songs/ferry.yaml");
        drafts.write(song, &draft("words", "")).unwrap();
        let written = std::fs::read(drafts.path(song)).unwrap();
        std::fs::write(drafts.path(song), written.get(..written.len() - 1).unwrap()).unwrap();

        let message = drafts.find(song).unwrap_err().to_string();
        assert!(
            message.contains(".damaged: this draft is damaged"),
            "{message}"
        );
        assert_eq!(drafts.find(song), Ok(None));
        drafts.write(song, &draft("new words", "")).unwrap();
        let aside = std::fs::read_to_string(drafts.path(song).with_extension("damaged")).unwrap();
        assert!(aside.ends_with("\n\nword"), "{aside}");
    }

    proptest! {
        #[test]
        fn a_draft_comes_back_whole(text in any::<String>(), cursor in any::<String>(), name in any::<String>()) {
            let song = Path::new(&name);
            let given = draft(&text, &cursor);
            let (row, read) = decode(encode(song, &given).as_bytes()).unwrap();
            prop_assert_eq!(row, path_as_row(song));
            prop_assert_eq!(read, given);
        }

        #[test]
        fn a_truncated_draft_gives_nothing(text in any::<String>(), keep in 0.0..1.0) {
            let written = encode(Path::new("/songs/ferry.yaml"), &draft(&text, "1")).into_bytes();
            let kept = written.iter().take(proportion(written.len(), keep)).copied().collect::<Vec<_>>();
            prop_assert_eq!(decode(&kept), None);
        }

        #[test]
        fn a_draft_with_a_changed_byte_gives_nothing(text in any::<String>(), at in 0.0..1.0, change in 1..=255_u8) {
            let mut written = encode(Path::new("/songs/ferry.yaml"), &draft(&text, "1")).into_bytes();
            let at = proportion(written.len(), at);
            *written.get_mut(at).unwrap() ^= change;
            prop_assert_eq!(decode(&written), None);
        }

        #[test]
        fn any_bytes_are_no_panic(bytes in any::<Vec<u8>>()) {
            prop_assert_eq!(decode(&bytes), None);
        }
    }

    /// A number from 0 to one less than the length.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a share of a short length"
    )]
    fn proportion(length: usize, share: f64) -> usize {
        (length as f64 * share) as usize
    }
}
