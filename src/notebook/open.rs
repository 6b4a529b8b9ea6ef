//! Opening a file without being held up, and noticing that another program changed it.

use super::reason::{not_read, shown};
use super::stamp::Stamp;
use crate::wording::message::Message;
use std::fs::{self, File, FileType, Metadata, OpenOptions};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// The largest song that is opened or saved, in bytes.
pub const LARGEST_SONG: u64 = 4 * 1024 * 1024;

/// A song's text as it stands in its file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opened {
    /// The path as it was given.
    pub path: PathBuf,
    /// The file's real path, all links followed: where saves and drafts belong.
    pub resolved: PathBuf,
    /// The text, byte for byte, a byte order mark and carriage returns included.
    pub text: String,
    /// What the file was like when it was read.
    pub stamp: Stamp,
}

/// What became of a file since it was read or saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// Nothing.
    Same,
    /// It was touched, or written anew with the same text; this is its stamp now.
    Touched(Stamp),
    /// Another program has written another text.
    Text(Box<Opened>),
    /// It is no longer there.
    Gone,
    /// It is another thing now, or cannot be read; the message names it.
    Unreadable(Message),
}

/// Reads a song's file.
///
/// *Errors*, each a message that names the file, within a moment and whatever stands there: nothing, a folder, a pipe, a device, a
/// socket, links in a circle, a file without permission, larger than [`LARGEST_SONG`], or not UTF-8 (with byte and line).
pub fn open(path: &Path) -> Result<Opened, Message> {
    let (file, metadata) = regular_file(path)?;
    // The stamp is of the time before reading: what is written meanwhile counts as a change.
    let text = as_text(path, read_at_most(path, file, &metadata, LARGEST_SONG)?)?;
    let resolved = fs::canonicalize(path).map_err(|error| not_read(path, &error))?;
    Ok(Opened {
        path: path.to_owned(),
        resolved,
        stamp: Stamp::new(&metadata, &text),
        text,
    })
}

/// All bytes of a file that is no song of ours, such as one to be imported.
///
/// *Errors* as [`open`], except that any bytes are taken, up to `largest` of them.
pub fn bytes(path: &Path, largest: u64) -> Result<Vec<u8>, Message> {
    let (file, metadata) = regular_file(path)?;
    read_at_most(path, file, &metadata, largest)
}

/// What another program did to the file since the stamp was taken. Cheap where nothing happened: the file is then not read.
#[must_use]
pub fn change(resolved: &Path, stamp: &Stamp) -> Change {
    match fs::metadata(resolved) {
        Ok(metadata) if stamp.seen_as(&metadata) => return Change::Same,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Change::Gone,
        Ok(_) | Err(_) => {}
    }
    match open(resolved) {
        Ok(opened) if opened.stamp.sum() == stamp.sum() => Change::Touched(opened.stamp),
        Ok(opened) => Change::Text(Box::new(opened)),
        Err(message) => Change::Unreadable(message),
    }
}

/// The real path of a file that need not exist, as long as its folder does; the path itself where even that is gone.
///
/// By this path a draft is found again after its song was deleted.
#[must_use]
pub fn resolve(path: &Path) -> PathBuf {
    if let Ok(resolved) = fs::canonicalize(path) {
        return resolved;
    }
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    match (fs::canonicalize(folder), path.file_name()) {
        (Ok(folder), Some(name)) => folder.join(name),
        _ => path.to_owned(),
    }
}

/// Opens a file that holds bytes, and nothing that could keep us waiting.
fn regular_file(path: &Path) -> Result<(File, Metadata), Message> {
    let metadata = fs::metadata(path).map_err(|error| missing_or_closed(path, &error))?;
    refuse_others(path, metadata.file_type())?;
    let mut options = OpenOptions::new();
    options.read(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        // Should a pipe have taken the file's place since, opening it does not wait for a writer.
        options.custom_flags(DO_NOT_WAIT);
    }
    let file = options.open(path).map_err(|error| not_read(path, &error))?;
    let metadata = file.metadata().map_err(|error| not_read(path, &error))?;
    refuse_others(path, metadata.file_type())?;
    Ok((file, metadata))
}

/// `O_NONBLOCK`; 0 where its number is not known to us.
#[cfg(unix)]
const DO_NOT_WAIT: i32 = if cfg!(all(
    any(target_os = "linux", target_os = "android"),
    not(any(
        target_arch = "mips",
        target_arch = "mips64",
        target_arch = "sparc",
        target_arch = "sparc64"
    ))
)) {
    0o4000
} else if cfg!(any(
    target_os = "macos",
    target_os = "freebsd",
    target_os = "netbsd",
    target_os = "openbsd"
)) {
    0x4
} else {
    0
};

fn missing_or_closed(path: &Path, error: &io::Error) -> Message {
    let is_link = fs::symlink_metadata(path).is_ok_and(|metadata| metadata.is_symlink());
    if is_link && error.kind() == io::ErrorKind::NotFound {
        return Message::new("this link leads to a file that is not there")
            .next("Mend the link or name the file itself.")
            .in_file(shown(path));
    }
    not_read(path, error)
}

fn refuse_others(path: &Path, kind: FileType) -> Result<(), Message> {
    if kind.is_file() {
        return Ok(());
    }
    let message = Message::new(format!("this is {}; a file is wanted", name_of(kind)));
    let next = if kind.is_dir() {
        "Name a file in it."
    } else {
        "Name a file."
    };
    Err(message.next(next).in_file(shown(path)))
}

/// What a thing on the disk that is no file is called.
pub(super) fn name_of(kind: FileType) -> &'static str {
    if kind.is_dir() {
        return "a folder";
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::FileTypeExt;
        if kind.is_fifo() {
            return "a pipe";
        }
        if kind.is_socket() {
            return "a socket";
        }
        if kind.is_char_device() || kind.is_block_device() {
            return "a device";
        }
    }
    "no ordinary file"
}

fn read_at_most(
    path: &Path,
    file: File,
    metadata: &Metadata,
    largest: u64,
) -> Result<Vec<u8>, Message> {
    if metadata.len() > largest {
        return Err(too_large(path, largest));
    }
    let mut bytes = Vec::new();
    // One byte more than allowed tells a file that grew, or has no length of its own, from one that just fits.
    file.take(largest.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(|error| not_read(path, &error))?;
    if u64::try_from(bytes.len()).is_ok_and(|length| length <= largest) {
        Ok(bytes)
    } else {
        Err(too_large(path, largest))
    }
}

fn too_large(path: &Path, largest: u64) -> Message {
    Message::new(format!(
        "the file is larger than {} MiB",
        largest / (1024 * 1024)
    ))
    .expected("no song is that long")
    .next("Is this the file you mean? It was not changed.")
    .in_file(shown(path))
}

fn as_text(path: &Path, bytes: Vec<u8>) -> Result<String, Message> {
    String::from_utf8(bytes).map_err(|error| {
        let offset = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        let before = bytes.iter().take(offset);
        let line = 1 + before.filter(|byte| **byte == b'\n').count();
        let value = bytes.get(offset).copied().unwrap_or_default();
        let looks_wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
        let next = if looks_wide {
            "It looks like UTF-16: save it as UTF-8 in the program that wrote it."
        } else {
            "Save it as UTF-8 in the program that wrote it."
        };
        Message::new(format!(
            "this is not UTF-8 text, at byte offset {offset} (value 0x{value:02X})"
        ))
        .next(next)
        .in_file(shown(path))
        .at_line(line)
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{Change, LARGEST_SONG, bytes, change, open};
    use std::fs;

    #[test]
    fn text_comes_as_it_is() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ferry.yaml");
        for text in ["", "\u{feff}title: Ferry\r\nsections: []\r\n", "no end"] {
            fs::write(&path, text).unwrap();
            assert_eq!(open(&path).unwrap().text, text);
        }
    }

    #[test]
    fn text_that_is_none_is_told_with_its_byte_and_line() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ferry.yaml");
        fs::write(&path, b"title: a\nkey: \xe4\n").unwrap();
        let message = open(&path).unwrap_err().to_string();
        assert!(
            message.ends_with(
                "ferry.yaml, line 2: this is not UTF-8 text, at byte offset 14 (value 0xE4). \
                 Save it as UTF-8 in the program that wrote it."
            ),
            "{message}"
        );
        fs::write(&path, b"\xff\xfet\0").unwrap();
        assert!(open(&path).unwrap_err().to_string().contains("UTF-16"));
    }

    #[test]
    fn the_largest_song_opens_and_one_byte_more_does_not() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ferry.yaml");
        let largest = usize::try_from(LARGEST_SONG).unwrap();
        fs::write(&path, "a".repeat(largest)).unwrap();
        assert_eq!(open(&path).unwrap().text.len(), largest);
        fs::write(&path, "a".repeat(largest + 1)).unwrap();
        let message = open(&path).unwrap_err().to_string();
        assert!(message.contains("larger than 4 MiB"), "{message}");
        assert!(bytes(&path, LARGEST_SONG + 1).is_ok());
    }

    #[test]
    fn changes_by_others_are_told_apart() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ferry.yaml");
        fs::write(&path, "one").unwrap();
        let stamp = open(&path).unwrap().stamp;
        assert_eq!(change(&path, &stamp), Change::Same);

        // The same words by another program, in a new file.
        let other = folder.path().join("other");
        fs::write(&other, "one").unwrap();
        fs::rename(&other, &path).unwrap();
        let Change::Touched(stamp) = change(&path, &stamp) else {
            unreachable!("the same words are no change");
        };
        assert_eq!(change(&path, &stamp), Change::Same);

        fs::write(&other, "two").unwrap();
        fs::rename(&other, &path).unwrap();
        let Change::Text(opened) = change(&path, &stamp) else {
            unreachable!("other words are a change");
        };
        assert_eq!(opened.text, "two");

        fs::remove_file(&path).unwrap();
        assert_eq!(change(&path, &stamp), Change::Gone);
        fs::create_dir(&path).unwrap();
        assert!(matches!(change(&path, &stamp), Change::Unreadable(_)));
    }
}
