//! The folder for what outlives a session beside the songs: drafts, locks, places. Nothing of it stands in a song's folder.

use super::stamp::sum;
use crate::wording::message::Message;
use etcetera::base_strategy::{BaseStrategy, choose_native_strategy};
use std::fmt::Write as _;
use std::fs::DirBuilder;
use std::io;
use std::path::{Path, PathBuf};

/// The name of our folder among those of other programs.
const NAME: &str = "breathmark";

/// `$XDG_STATE_HOME/breathmark`, else `~/.local/state/breathmark`, else what the platform has in its place. It need not exist.
///
/// An `XDG_STATE_HOME` that is no absolute path counts as none, as the XDG Base Directory Specification asks.
///
/// *Errors* where there is no home folder.
pub fn folder() -> Result<PathBuf, Message> {
    let named = std::env::var_os("XDG_STATE_HOME").map(PathBuf::from);
    if let Some(folder) = named.filter(|folder| folder.is_absolute()) {
        return Ok(folder.join(NAME));
    }
    let folders = choose_native_strategy().map_err(|_no_home| {
        Message::new("no place for drafts; there is no home folder")
            .next("Set HOME or XDG_STATE_HOME, or save often.")
    })?;
    let state = folders.state_dir().unwrap_or_else(|| folders.data_dir());
    Ok(state.join(NAME))
}

/// Makes the folder where it is missing, for its owner alone.
///
/// *Errors* are the system's.
pub(super) fn make(folder: &Path) -> io::Result<()> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(0o700);
    }
    builder.create(folder)
}

/// The name under which a song's own things stand here: readable letters of its name, and a sum over its whole path.
pub(super) fn key(song: &Path) -> String {
    let stem = song.file_stem().unwrap_or_default().to_string_lossy();
    let readable: String = stem
        .chars()
        .filter(|letter| letter.is_ascii_alphanumeric() || "-_".contains(*letter))
        .take(40)
        .collect();
    format!("{readable}-{:016x}", sum(path_bytes(song).as_ref()))
}

/// A path in one row of plain text, the same for the same path: bytes that are no text, controls and `%` as `%1B`.
pub(super) fn path_as_row(path: &Path) -> String {
    as_row(path_bytes(path).as_ref())
}

/// Bytes in one row of plain text, see [`path_as_row`].
pub(super) fn as_row(bytes: &[u8]) -> String {
    let mut row = String::with_capacity(bytes.len());
    for chunk in bytes.utf8_chunks() {
        for letter in chunk.valid().chars() {
            if letter.is_control() || letter == '%' {
                escape(&mut row, letter.encode_utf8(&mut [0; 4]).as_bytes());
            } else {
                row.push(letter);
            }
        }
        escape(&mut row, chunk.invalid());
    }
    row
}

/// The text that [`as_row`] made a row of; `None` where the row is damaged or was no text.
pub(super) fn from_row(row: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(row.len());
    let mut rest = row.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let digits = [rest.next()?, rest.next()?];
            let digits = std::str::from_utf8(&digits).ok()?;
            bytes.push(u8::from_str_radix(digits, 16).ok()?);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok()
}

fn escape(row: &mut String, bytes: &[u8]) {
    for byte in bytes {
        // Writing to a text cannot fail.
        let _ = write!(row, "%{byte:02X}");
    }
}

#[cfg(unix)]
fn path_bytes(path: &Path) -> impl AsRef<[u8]> {
    use std::os::unix::ffi::OsStrExt;
    path.as_os_str().as_bytes()
}

#[cfg(not(unix))]
fn path_bytes(path: &Path) -> impl AsRef<[u8]> {
    path.to_string_lossy().into_owned().into_bytes()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{as_row, from_row, key};
    use proptest::prelude::*;
    use std::path::Path;

    #[test]
    fn songs_of_one_name_in_two_folders_are_kept_apart() {
        let (one, two) = (
            key(Path::new("/a/ferry.yaml")),
            key(Path::new("/b/ferry.yaml")),
        );
        assert!(one.starts_with("ferry-") && two.starts_with("ferry-"));
        assert_ne!(one, two);
        assert!(key(Path::new("/a/\u{1b}[31m/..;é.yaml")).is_ascii());
    }

    proptest! {
        #[test]
        fn a_row_is_one_row_and_comes_back(text in any::<String>()) {
            let row = as_row(text.as_bytes());
            prop_assert!(!row.chars().any(char::is_control));
            prop_assert_eq!(from_row(&row), Some(text));
        }

        #[test]
        fn other_bytes_make_other_rows(one in any::<Vec<u8>>(), two in any::<Vec<u8>>()) {
            prop_assert_eq!(as_row(&one) == as_row(&two), one == two);
        }

        #[test]
        fn a_damaged_row_is_no_panic(row in any::<String>()) {
            let _ = from_row(&row);
        }
    }
}
