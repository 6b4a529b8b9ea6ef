//! A notebook: a folder of songs.

use super::disk::RealDisk;
use super::reason::{not_read, shown};
use super::save;
use crate::wording::message::Message;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;
use unicode_segmentation::UnicodeSegmentation;

/// A song's file in a notebook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The folder as it was given, and the file's name.
    pub path: PathBuf,
    /// The file's name with its ending, for people.
    pub name: String,
    /// When it was last written, where the disk keeps it.
    pub modified: Option<SystemTime>,
}

/// The songs of a folder: its files that end in `.yaml` or `.yml`, sorted by name without regard to capitals.
/// Folders in it and hidden files are left out.
///
/// *Errors*: a message that names the folder, where it is none or cannot be read.
pub fn songs(folder: &Path) -> Result<Vec<Entry>, Message> {
    let entries = fs::read_dir(folder).map_err(|error| {
        if folder.is_file() {
            return Message::new("this is a file; a folder is wanted").in_file(shown(folder));
        }
        if error.kind() == io::ErrorKind::NotFound {
            return no_folder(folder);
        }
        not_read(folder, &error)
    })?;
    let mut songs = Vec::new();
    for entry in entries {
        let path = entry.map_err(|error| not_read(folder, &error))?.path();
        let name = path.file_name().unwrap_or_default();
        let name = name.to_string_lossy().into_owned();
        // Links are followed: a song may live elsewhere. A pipe or device of that name is no song.
        let file = fs::metadata(&path).ok().filter(fs::Metadata::is_file);
        if let Some(metadata) = file.filter(|_| is_song(&name)) {
            songs.push(Entry {
                path,
                name,
                modified: metadata.modified().ok(),
            });
        }
    }
    songs.sort_by_cached_key(|song| (song.name.to_lowercase(), song.name.clone()));
    Ok(songs)
}

fn no_folder(folder: &Path) -> Message {
    Message::new("there is no such folder")
        .next("Make it first, or name another.")
        .in_file(shown(folder))
}

fn is_song(name: &str) -> bool {
    let extension = Path::new(name).extension().unwrap_or_default();
    !name.starts_with('.')
        && (extension.eq_ignore_ascii_case("yaml") || extension.eq_ignore_ascii_case("yml"))
}

/// A new song's file in the folder, named after its title, with this text: nothing is overwritten.
///
/// *Errors*: a message that names the file or folder and the reason; nothing was then written.
pub fn create_song(folder: &Path, title: &str, text: &str) -> Result<PathBuf, Message> {
    if !folder.is_dir() {
        return Err(no_folder(folder));
    }
    let name = name_after(title);
    for number in 1..10_000_u32 {
        let numbered = match number {
            1 => format!("{name}.yaml"),
            _ => format!("{name}-{number}.yaml"),
        };
        let path = folder.join(numbered);
        if save::create(&RealDisk, &path, text)? {
            return Ok(path);
        }
    }
    Err(
        Message::new("not saved; there are ten thousand songs of this title")
            .next("Give it another title.")
            .in_file(shown(&folder.join(name))),
    )
}

/// The path that [`create_song`] would take just now: named after the title, with a number where that name is taken.
#[must_use]
pub fn new_song_path(folder: &Path, title: &str) -> PathBuf {
    let name = name_after(title);
    let first = folder.join(format!("{name}.yaml"));
    // A link that leads nowhere has the name as well.
    let is_free = |path: &PathBuf| fs::symlink_metadata(path).is_err();
    if is_free(&first) {
        return first;
    }
    (2..10_000_u32)
        .map(|number| folder.join(format!("{name}-{number}.yaml")))
        .find(is_free)
        .unwrap_or(first)
}

/// A file's name after a title, without its ending: small letters and digits of any script, hyphens between words.
///
/// At most 80 bytes, so that every common disk takes it.
fn name_after(title: &str) -> String {
    let mut name = String::new();
    let mut is_apart = false;
    for grapheme in title.graphemes(true) {
        let letter = grapheme.chars().next();
        if matches!(letter, Some('\'' | '’' | '‘')) {
            // The ferryman's daughter: no word ends at an apostrophe.
            continue;
        }
        if !letter.is_some_and(char::is_alphanumeric) {
            is_apart = true;
            continue;
        }
        if is_apart && !name.is_empty() {
            name.push('-');
        }
        is_apart = false;
        // Some letters take the sign behind them into their grapheme, be it a colon.
        let kept = |c: &char| c.is_alphanumeric() || !(c.is_ascii() || c.is_control());
        name.extend(grapheme.to_lowercase().chars().filter(kept));
    }
    let name = at_most(&name, 80).trim_end_matches('-').to_owned();
    if name.is_empty() {
        "song".to_owned()
    } else {
        name
    }
}

/// As many whole graphemes from the beginning of the text as fit into this many bytes.
pub(super) fn at_most(text: &str, bytes: usize) -> &str {
    let end = text
        .grapheme_indices(true)
        .map(|(start, grapheme)| start + grapheme.len())
        .take_while(|end| *end <= bytes)
        .last();
    text.get(..end.unwrap_or(0)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{create_song, name_after, new_song_path, songs};
    use proptest::prelude::*;
    use std::fs;

    #[test]
    fn names_are_made_of_titles() {
        let check = |title: &str, expected: &str| assert_eq!(name_after(title), expected);
        check("The Ferry at Low Water", "the-ferry-at-low-water");
        check("The Ferryman’s Daughter", "the-ferrymans-daughter");
        check("  Café -- Noir! (No. 2) ", "café-noir-no-2");
        check("Cafe\u{301}", "cafe\u{301}");
        check("река", "река");
        check("../../etc/passwd", "etc-passwd");
        check("\u{1b}[31m\u{202e}", "31m");
        check("", "song");
        check("...", "song");
        check("\u{11d46}:", "\u{11d46}");
        check(
            &"long ".repeat(40),
            "long-".repeat(16).trim_end_matches('-'),
        );
    }

    #[test]
    fn no_song_overwrites_another() {
        let folder = tempfile::tempdir().unwrap();
        let made: Vec<_> = (1..=3)
            .map(|number| {
                let expected = new_song_path(folder.path(), "Ferry");
                let path = create_song(folder.path(), "Ferry", &format!("{number}")).unwrap();
                assert_eq!(path, expected);
                path
            })
            .collect();
        let texts: Vec<_> = made
            .iter()
            .map(|path| fs::read_to_string(path).unwrap())
            .collect();
        assert_eq!(texts, ["1", "2", "3"]);
        let names: Vec<_> = songs(folder.path())
            .unwrap()
            .into_iter()
            .map(|song| song.name)
            .collect();
        assert_eq!(names, ["ferry-2.yaml", "ferry-3.yaml", "ferry.yaml"]);
        assert!(create_song(&folder.path().join("gone"), "Ferry", "").is_err());
    }

    #[test]
    fn a_folder_lists_its_songs_only() {
        let folder = tempfile::tempdir().unwrap();
        for name in [
            "b.yaml",
            "A.yml",
            "c.YAML",
            ".hidden.yaml",
            "text.txt",
            "yaml",
        ] {
            fs::write(folder.path().join(name), "").unwrap();
        }
        fs::create_dir(folder.path().join("folder.yaml")).unwrap();
        let names: Vec<_> = songs(folder.path())
            .unwrap()
            .into_iter()
            .map(|song| song.name)
            .collect();
        assert_eq!(names, ["A.yml", "b.yaml", "c.YAML"]);
        let message = songs(&folder.path().join("b.yaml")).unwrap_err();
        assert!(message.to_string().contains("a folder is wanted"));
        assert!(songs(&folder.path().join("none")).is_err());
    }

    proptest! {
        #[test]
        fn any_title_gives_a_name_inside_the_folder(title in any::<String>()) {
            let name = name_after(&title);
            prop_assert!(!name.is_empty() && name.len() <= 80);
            prop_assert!(!name.contains(['/', '\\', '.', ' ', ':']) && !name.chars().any(char::is_control));
        }
    }
}
