//! What the system says when something fails, in plain words.

use super::place::Failure;
use crate::wording::message::Message;
use std::io::{self, ErrorKind};
use std::path::Path;

/// What was tried when it failed: the same error means another thing to who reads than to who writes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Attempt {
    /// A file was to be read.
    Read,
    /// A file was to be written.
    Write,
}

/// A failure in plain words and what the writer can do about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Reason {
    /// A clause: what is the matter.
    pub(super) what: String,
    /// A clause: what ends it.
    pub(super) remedy: &'static str,
}

/// `ELOOP`, for which `ErrorKind` has no stable name.
const TOO_MANY_LINKS: i32 = if cfg!(any(target_os = "linux", target_os = "android")) {
    40
} else {
    62
};

/// `EIO`, the same number on every Unix.
const DEVICE_ERROR: i32 = 5;

/// `ENFILE` and `EMFILE`, the same numbers on every Unix.
const TOO_MANY_FILES: [i32; 2] = [23, 24];

/// The plain words for an error of the system.
pub(super) fn reason(error: &io::Error, attempt: Attempt) -> Reason {
    let (what, remedy) = match (error.kind(), attempt) {
        (ErrorKind::StorageFull | ErrorKind::QuotaExceeded, _) => {
            ("the disk is full", "make room there")
        }
        (ErrorKind::FileTooLarge, _) => {
            ("the disk takes no file of this size", "use another folder")
        }
        (ErrorKind::ReadOnlyFilesystem, _) => (
            "the disk is read-only",
            "make it writable or use another folder",
        ),
        (ErrorKind::PermissionDenied, Attempt::Read) => {
            ("no permission to read it", "ask for permission")
        }
        (ErrorKind::PermissionDenied, Attempt::Write) => (
            "read-only, or no permission to write there",
            "make file and folder writable",
        ),
        (ErrorKind::NotFound, Attempt::Read) => {
            ("there is no such file", "look at its name and folder")
        }
        (ErrorKind::NotFound, Attempt::Write) => ("the folder is gone", "bring the folder back"),
        (ErrorKind::NotADirectory, _) => (
            "a part of its path is no folder",
            "look at its name and folder",
        ),
        (ErrorKind::IsADirectory, _) => ("this is a folder; a file is wanted", "name a file"),
        (ErrorKind::AlreadyExists, _) => ("something else stands in its place", "move that away"),
        (ErrorKind::InvalidFilename, _) => (
            "the name is too long or not allowed on this disk",
            "use a shorter name",
        ),
        (ErrorKind::ResourceBusy | ErrorKind::ExecutableFileBusy, _) => {
            ("another program holds it", "close the other program")
        }
        (
            ErrorKind::StaleNetworkFileHandle
            | ErrorKind::TimedOut
            | ErrorKind::HostUnreachable
            | ErrorKind::NetworkUnreachable
            | ErrorKind::NetworkDown,
            _,
        ) => ("the network disk does not answer", "look at the connection"),
        _ => match error.raw_os_error() {
            Some(TOO_MANY_LINKS) if cfg!(unix) => {
                ("its links lead in a circle (a link loop)", "mend the link")
            }
            Some(DEVICE_ERROR) if cfg!(unix) => ("the disk reports a fault", "look at the disk"),
            Some(number) if cfg!(unix) && TOO_MANY_FILES.contains(&number) => {
                ("too many files are open", "close some programs")
            }
            _ => return unknown(error),
        },
    };
    Reason {
        what: what.to_owned(),
        remedy,
    }
}

/// Why something was not written, as a clause.
pub(super) fn why(failure: &Failure) -> String {
    match failure {
        Failure::System(error) => reason(error, Attempt::Write).what,
        Failure::Differs => "the disk gave back another text".to_owned(),
        Failure::InTheWay(kind) => format!("in its place is {kind}"),
        Failure::Refused(message) => message.sentence(),
    }
}

/// The system's own words, without its number.
fn unknown(error: &io::Error) -> Reason {
    let words = error.to_string();
    let words = words.split(" (os error").next().unwrap_or_default();
    Reason {
        what: format!("the system says \"{words}\""),
        remedy: "look at file and folder",
    }
}

/// The path as it is shown to people.
pub(super) fn shown(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

/// The last part of the path, as it is shown to people who know the folder.
pub(super) fn shown_name(path: &Path) -> String {
    match path.file_name() {
        Some(name) => name.to_string_lossy().into_owned(),
        None => shown(path),
    }
}

/// The message that a file could not be read.
pub(super) fn not_read(path: &Path, error: &io::Error) -> Message {
    let reason = reason(error, Attempt::Read);
    Message::new(reason.what)
        .next(sentence(reason.remedy))
        .in_file(shown(path))
}

/// A clause as a sentence.
pub(super) fn sentence(clause: &str) -> String {
    let mut letters = clause.chars();
    let first = letters.next().map(|letter| letter.to_uppercase());
    let mut text: String = first.into_iter().flatten().collect();
    text.push_str(letters.as_str());
    text.push('.');
    text
}

#[cfg(test)]
mod tests {
    use super::{Attempt, reason};
    use std::io;

    #[cfg(any(target_os = "linux", target_os = "android"))]
    #[test]
    fn the_systems_numbers_have_plain_words() {
        let check = |number: i32, attempt: Attempt, expected: &str| {
            let error = io::Error::from_raw_os_error(number);
            assert_eq!(reason(&error, attempt).what, expected, "{number}");
        };
        // Numbers as Linux has them: asm-generic/errno-base.h and errno.h.
        check(28, Attempt::Write, "the disk is full");
        check(122, Attempt::Write, "the disk is full");
        check(30, Attempt::Write, "the disk is read-only");
        check(
            13,
            Attempt::Write,
            "read-only, or no permission to write there",
        );
        check(
            1,
            Attempt::Write,
            "read-only, or no permission to write there",
        );
        check(13, Attempt::Read, "no permission to read it");
        check(2, Attempt::Read, "there is no such file");
        check(2, Attempt::Write, "the folder is gone");
        check(
            40,
            Attempt::Read,
            "its links lead in a circle (a link loop)",
        );
        check(
            36,
            Attempt::Write,
            "the name is too long or not allowed on this disk",
        );
        check(20, Attempt::Read, "a part of its path is no folder");
        check(21, Attempt::Read, "this is a folder; a file is wanted");
        check(5, Attempt::Read, "the disk reports a fault");
        check(24, Attempt::Read, "too many files are open");
        check(116, Attempt::Write, "the network disk does not answer");
        check(61, Attempt::Read, "the system says \"No data available\"");
    }
}
