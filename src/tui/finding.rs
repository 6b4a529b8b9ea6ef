//! Finding words and chords in a song.

use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::place::{Place, Row};
use crate::song::{Line, NodeId, Section, Song};

/// The next place where the text stands, from a place on and around the song's end; capitals and small letters are the same. `None`
/// where it stands nowhere. In chord rows the column is the chord's in the lyric.
#[must_use]
pub fn find(song: &Song, from: Place, wanted: &str, from_next: bool) -> Option<Place> {
    let wanted = wanted.to_lowercase();
    if wanted.is_empty() {
        return None;
    }
    let mut places: Vec<Place> = Vec::new();
    for section in &song.sections {
        headings(section, &wanted, &mut places);
        for line in &section.lines {
            in_line(line, &wanted, &mut places);
        }
    }
    let order = |place: &Place| -> Option<usize> { rank(song, place.node) };
    let here = (order(&from), from.row, from.column);
    let is_behind = |place: &&Place| {
        let there = (order(place), place.row, place.column);
        if from_next {
            there > here
        } else {
            there >= here
        }
    };
    places
        .iter()
        .find(is_behind)
        .or_else(|| places.first())
        .copied()
}

/// The node's place in the song, counted over sections and lines.
fn rank(song: &Song, node: NodeId) -> Option<usize> {
    let nodes = song.sections.iter().flat_map(|section| {
        std::iter::once(section.id).chain(section.lines.iter().map(|line| line.id))
    });
    nodes
        .enumerate()
        .find(|(_, found)| *found == node)
        .map(|(rank, _)| rank)
}

fn headings(section: &Section, wanted: &str, places: &mut Vec<Place>) {
    for field in [Field::Label, Field::Again, Field::Happens] {
        let row = Row::Value(field);
        if let Some(text) = section.values.get(field) {
            places.extend(columns(text, wanted).map(|column| Place {
                node: section.id,
                row,
                column,
            }));
        }
    }
}

fn in_line(line: &Line, wanted: &str, places: &mut Vec<Place>) {
    for token in line.chords.iter().flat_map(|row| &row.0) {
        if token.text.to_lowercase().starts_with(wanted) {
            places.push(Place {
                node: line.id,
                row: Row::Chords,
                column: token.column,
            });
        }
    }
    places.extend(columns(&line.lyric, wanted).map(|column| Place {
        node: line.id,
        row: Row::Lyric,
        column,
    }));
    for (index, other) in line.others.iter().enumerate() {
        places.extend(columns(other, wanted).map(|column| Place {
            node: line.id,
            row: Row::Other(index),
            column,
        }));
    }
}

/// The columns at which a text in small letters begins.
fn columns<'a>(text: &'a str, wanted: &'a str) -> impl Iterator<Item = Column> + 'a {
    let bytes = text.char_indices().map(|(byte, _)| byte);
    let found = bytes.filter(move |byte| {
        let rest = text.get(*byte..).unwrap_or("");
        let mut rest = rest.chars().flat_map(char::to_lowercase);
        wanted.chars().all(|letter| rest.next() == Some(letter))
    });
    found.map(move |byte| Column::of_byte(text, byte))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::*;
    use crate::song::chord_row::ChordRow;

    #[test]
    fn the_next_one_is_found_and_the_search_comes_around() {
        let mut song = Song::new("Ferry");
        let section = song.sections.first_mut().unwrap();
        let line = section.lines.first_mut().unwrap();
        line.lyric = "She rang the Bell, the bell".into();
        line.chords = Some(ChordRow::parse("    Em  B7"));
        let node = line.id;
        let at = |row, column| Place {
            node,
            row,
            column: Column(column),
        };
        let start = at(Row::Lyric, 0);
        assert_eq!(find(&song, start, "BELL", false), Some(at(Row::Lyric, 13)));
        assert_eq!(
            find(&song, at(Row::Lyric, 13), "bell", true),
            Some(at(Row::Lyric, 23))
        );
        assert_eq!(
            find(&song, at(Row::Lyric, 23), "bell", true),
            Some(at(Row::Lyric, 13))
        );
        assert_eq!(find(&song, start, "b7", false), Some(at(Row::Chords, 8)));
        assert_eq!(find(&song, start, "quay", false), None);
        assert_eq!(find(&song, start, "", false), None);
        let label = find(&song, start, "verse", false).unwrap();
        assert_eq!(label.row, Row::Value(Field::Label));
    }
}
