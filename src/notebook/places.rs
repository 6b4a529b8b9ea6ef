//! Where each song was left last time.

use super::disk::{Readers, RealDisk};
use super::place::{Failure, place};
use super::reason::{shown, why};
use super::state::{as_row, from_row, make, path_as_row};
use crate::wording::message::Message;
use std::fs;
use std::path::{Path, PathBuf};

/// How many songs are remembered; the ones left longest ago are forgotten first.
const SONGS: usize = 200;

/// The longest row that is read: a longer one is no place of ours.
const LONGEST_ROW: usize = 8 * 1024;

/// Remembers where the song at this resolved path is left, in the caller's words. `folder` is [`super::state::folder`]'s.
///
/// *Errors*: a message that names the file in which places are kept. The song is not concerned.
pub fn remember(folder: &Path, song: &Path, left_at: &str) -> Result<(), Message> {
    let ours = path_as_row(song);
    let mut rows = vec![format!("{ours}\t{}\n", as_row(left_at.as_bytes()))];
    let others = read(folder).into_iter().filter(|(row, _)| *row != ours);
    rows.extend(
        others
            .take(SONGS - 1)
            .map(|(row, place)| format!("{row}\t{place}\n")),
    );
    rows.retain(|row| row.len() <= LONGEST_ROW);
    let path = file(folder);
    let placed = make(folder).map_err(Failure::System).and_then(|()| {
        place(
            &RealDisk,
            &path,
            rows.concat().as_bytes(),
            Readers::Owner,
            |_| Ok(()),
        )
    });
    match placed {
        Ok(_) => Ok(()),
        Err(failure) => Err(Message::new(format!(
            "where the song was left is not remembered; {}",
            why(&failure)
        ))
        .in_file(shown(&path))),
    }
}

/// Where the song was left, as it was given to [`remember`]; `None` where that is not known.
#[must_use]
pub fn recall(folder: &Path, song: &Path) -> Option<String> {
    let ours = path_as_row(song);
    let (_, left_at) = read(folder).into_iter().find(|(row, _)| *row == ours)?;
    from_row(&left_at)
}

/// The remembered songs and places as rows, the last left first; rows that are damaged are left out.
fn read(folder: &Path) -> Vec<(String, String)> {
    let text = fs::read(file(folder)).unwrap_or_default();
    let text = String::from_utf8_lossy(&text);
    text.lines()
        .filter(|row| row.len() < LONGEST_ROW)
        .filter_map(|row| row.split_once('\t'))
        .map(|(song, left_at)| (song.to_owned(), left_at.to_owned()))
        .take(SONGS)
        .collect()
}

fn file(folder: &Path) -> PathBuf {
    folder.join("places")
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{SONGS, file, read, recall, remember};
    use std::path::{Path, PathBuf};

    #[test]
    fn the_last_place_of_each_song_is_remembered() {
        let folder = tempfile::tempdir().unwrap();
        let folder = folder.path().join("state");
        let (ferry, mill) = (Path::new("/a/ferry.yaml"), Path::new("/a/m\till\n.yaml"));
        assert_eq!(recall(&folder, ferry), None);
        remember(&folder, ferry, "1:2").unwrap();
        remember(&folder, mill, "3\t4\n").unwrap();
        remember(&folder, ferry, "5:6").unwrap();
        assert_eq!(recall(&folder, ferry).as_deref(), Some("5:6"));
        assert_eq!(recall(&folder, mill).as_deref(), Some("3\t4\n"));
    }

    #[test]
    fn the_file_stays_small_and_a_damaged_one_is_no_matter() {
        let folder = tempfile::tempdir().unwrap();
        let song = |number: usize| PathBuf::from(format!("/a/{number}.yaml"));
        for number in 0..SONGS + 5 {
            remember(folder.path(), &song(number), "1").unwrap();
        }
        assert_eq!(read(folder.path()).len(), SONGS);
        assert_eq!(recall(folder.path(), &song(0)), None);
        assert!(recall(folder.path(), &song(SONGS)).is_some());

        std::fs::write(file(folder.path()), b"\xff\t\n\n/a/1.yaml\t%4").unwrap();
        assert_eq!(recall(folder.path(), &song(1)), None);
        remember(folder.path(), &song(1), "2").unwrap();
        assert_eq!(recall(folder.path(), &song(1)).as_deref(), Some("2"));
    }
}
