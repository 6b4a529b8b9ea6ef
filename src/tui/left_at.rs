//! Where the cursor was, in a row of words that outlives a session: `2 3 lyric 14`.

use crate::song::column::Column;
use crate::song::field::{FIELDS, Field};
use crate::song::place::{Place, Row};
use crate::song::{NodeId, Song};

/// A place as section, line (`-` for none), row and column.
#[must_use]
pub fn words(song: &Song, place: Place) -> String {
    let (section, line) = match song.position(place.node) {
        Some((section, line)) => (section.to_string(), line.to_string()),
        None => {
            let section = song
                .sections
                .iter()
                .position(|section| section.id == place.node);
            (
                section.map_or_else(|| "-".to_owned(), |section| section.to_string()),
                "-".to_owned(),
            )
        }
    };
    let row = match place.row {
        Row::Lyric => "lyric".to_owned(),
        Row::Chords => "chords".to_owned(),
        Row::Other(index) => format!("other.{index}"),
        Row::Value(field) => field.name().to_owned(),
        Row::Phrase(tune, phrase) => format!("phrase.{tune}.{phrase}"),
    };
    format!("{section} {line} {row} {}", place.column.0)
}

/// The place that the words name; `None` where the song has none such.
#[must_use]
pub fn place(song: &Song, words: &str) -> Option<Place> {
    let mut parts = words.split(' ');
    let (section, line, row, column) = (parts.next()?, parts.next()?, parts.next()?, parts.next()?);
    let node = match (section, line) {
        ("-", _) => NodeId::SONG,
        (section, "-") => song.sections.get(section.parse::<usize>().ok()?)?.id,
        (section, line) => {
            song.sections
                .get(section.parse::<usize>().ok()?)?
                .lines
                .get(line.parse::<usize>().ok()?)?
                .id
        }
    };
    let row = match row {
        "lyric" => Row::Lyric,
        "chords" => Row::Chords,
        row => match row.split_once('.') {
            Some(("other", index)) => Row::Other(index.parse().ok()?),
            Some(("phrase", index)) => {
                let (tune, phrase) = index.split_once('.')?;
                Row::Phrase(tune.parse().ok()?, phrase.parse().ok()?)
            }
            _ => Row::Value(field(row)?),
        },
    };
    let place = Place {
        node,
        row,
        column: Column(column.parse::<usize>().ok()?.min(10_000)),
    };
    song.has_place(place).then_some(place)
}

fn field(name: &str) -> Option<Field> {
    FIELDS.iter().find(|row| row.1 == name).map(|row| row.0)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::*;

    #[test]
    fn a_place_is_found_again() {
        let song = Song::new("Ferry");
        let section = song.sections.first().unwrap();
        let line = section.lines.first().unwrap().id;
        for (node, row, column) in [
            (line, Row::Lyric, 0),
            (line, Row::Chords, 12),
            (section.id, Row::Value(Field::Label), 3),
            (NodeId::SONG, Row::Value(Field::Title), 5),
        ] {
            let found = Place {
                node,
                row,
                column: Column(column),
            };
            assert_eq!(place(&song, &words(&song, found)), Some(found));
        }
        for lost in [
            "",
            "0 0 lyric 99",
            "7 0 lyric 0",
            "0 0 other.0 0",
            "a b c d",
            "0 0 nothing 0",
        ] {
            assert_eq!(place(&song, lost), None, "{lost}");
        }
    }
}
