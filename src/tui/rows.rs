//! Which rows a page has, from top to bottom.

use crate::song::field::{FIELDS, Field, Owner};
use crate::song::place::{Place, Row};
use crate::song::{Line, NodeId, Section, Song};
use std::collections::BTreeSet;

/// A row of the page. Sections and lines by their index in the song, which holds until the next edit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PageRow {
    /// An empty row between sections.
    Gap,
    /// What the song assumes because nothing was written.
    Defaults,
    /// A value of the song's header, under the song's details.
    SongValue(Field),
    /// A phrase of a tune, under the song's details.
    Phrase(usize, usize),
    /// A section's heading.
    Heading(usize),
    /// A value of a section, under its details.
    SectionValue(usize, Field),
    /// The chord row of a line.
    Chords(usize, usize),
    /// The lyric of a line.
    Lyric(usize, usize),
    /// One of a line's other wordings.
    Other(usize, usize, usize),
    /// A value of a line, under its details.
    LineValue(usize, usize, Field),
}

/// What the writer has opened.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Opened {
    /// The song's details.
    pub song: bool,
    /// The chord rows of all lines that borrow.
    pub borrowed: bool,
    /// Chord rows of lines that have none, or borrow.
    pub chords: BTreeSet<NodeId>,
    /// Other wordings, by line.
    pub others: BTreeSet<NodeId>,
    /// Details of sections and lines.
    pub details: BTreeSet<NodeId>,
}

impl Opened {
    /// Opens whatever hides the row, so that a cursor can stand in it.
    pub fn reveal(&mut self, place: Place) {
        match place.row {
            Row::Chords => drop(self.chords.insert(place.node)),
            Row::Other(_) => drop(self.others.insert(place.node)),
            Row::Value(Field::Label | Field::Happens | Field::Again) | Row::Lyric => {}
            Row::Phrase(..) => self.song = true,
            Row::Value(_) if place.node == NodeId::SONG => self.song = true,
            Row::Value(_) => drop(self.details.insert(place.node)),
        }
    }
}

/// The values of a section that its details show; its heading has the others.
pub const SECTION_DETAILS: &[Field] = &[
    Field::Kind,
    Field::Tune,
    Field::Mood,
    Field::Played,
    Field::Picture,
    Field::Key,
    Field::Meter,
    Field::Tempo,
    Field::Bars,
    Field::Capo,
];

/// The rows of a song. `assumes` says whether the head has defaults to tell of, `borrows` whether the line of a section has chords that it borrows.
///
/// Costs a step for each line of the song and nothing for what the lines hold.
#[must_use]
pub fn rows_of(
    song: &Song,
    opened: &Opened,
    assumes: bool,
    borrows: impl Fn(usize, usize) -> bool,
) -> Vec<PageRow> {
    let mut rows = Vec::new();
    if assumes {
        rows.push(PageRow::Defaults);
    }
    if opened.song {
        let of_song = FIELDS.iter().filter(|row| row.2.contains(&Owner::Song));
        rows.extend(of_song.map(|row| PageRow::SongValue(row.0)));
        for (index, tune) in song.tunes.iter().enumerate() {
            rows.extend((0..=tune.phrases.len()).map(|phrase| PageRow::Phrase(index, phrase)));
        }
        if song.next_tune().is_some() {
            rows.push(PageRow::Phrase(song.tunes.len(), 0));
        }
    }
    for (index, section) in song.sections.iter().enumerate() {
        rows.push(PageRow::Gap);
        rows.push(PageRow::Heading(index));
        if opened.details.contains(&section.id) {
            rows.extend(
                SECTION_DETAILS
                    .iter()
                    .map(|field| PageRow::SectionValue(index, *field)),
            );
        }
        for (line_index, line) in section.lines.iter().enumerate() {
            let has_row = has_chord_row(line)
                || (!opened.chords.is_empty() && opened.chords.contains(&line.id))
                || (opened.borrowed && borrows(index, line_index));
            if has_row {
                rows.push(PageRow::Chords(index, line_index));
            }
            rows.push(PageRow::Lyric(index, line_index));
            if !line.others.is_empty() && opened.others.contains(&line.id) {
                rows.extend(
                    (0..line.others.len()).map(|other| PageRow::Other(index, line_index, other)),
                );
            }
            if opened.details.contains(&line.id) {
                let of_line = FIELDS.iter().filter(|row| row.2.contains(&Owner::Line));
                rows.extend(of_line.map(|row| PageRow::LineValue(index, line_index, row.0)));
            }
        }
    }
    rows
}

/// Whether a line shows its chord row without being asked.
#[must_use]
pub fn has_chord_row(line: &Line) -> bool {
    line.chords.as_ref().is_some_and(|row| !row.is_empty()) || !line.marks.is_empty()
}

/// The field that a heading begins with: the label, or the section that is sung again.
#[must_use]
pub fn heading_field(section: &Section) -> Field {
    if section.values.get(Field::Again).is_some() {
        Field::Again
    } else {
        Field::Label
    }
}

/// The node and the row of text behind a page row; `None` where no cursor stands. A heading gives its first field.
#[must_use]
pub fn place_of(row: PageRow, song: &Song) -> Option<(NodeId, Row)> {
    let line = |section: usize, line: usize| Some(song.sections.get(section)?.lines.get(line)?.id);
    let section = |section: usize| song.sections.get(section);
    Some(match row {
        PageRow::Gap | PageRow::Defaults => return None,
        PageRow::SongValue(field) => (NodeId::SONG, Row::Value(field)),
        PageRow::Phrase(tune, phrase) => (NodeId::SONG, Row::Phrase(tune, phrase)),
        PageRow::Heading(index) => (
            section(index)?.id,
            Row::Value(heading_field(section(index)?)),
        ),
        PageRow::SectionValue(index, field) => (section(index)?.id, Row::Value(field)),
        PageRow::Chords(index, in_it) => (line(index, in_it)?, Row::Chords),
        PageRow::Lyric(index, in_it) => (line(index, in_it)?, Row::Lyric),
        PageRow::Other(index, in_it, other) => (line(index, in_it)?, Row::Other(other)),
        PageRow::LineValue(index, in_it, field) => (line(index, in_it)?, Row::Value(field)),
    })
}

/// The index of the row in which a place stands; `None` where it is hidden or gone. Looks first around `near`.
#[must_use]
pub fn row_of(rows: &[PageRow], song: &Song, place: Place, near: usize) -> Option<usize> {
    let holds = |index: usize| rows.get(index).is_some_and(|row| holds(*row, song, place));
    let around = near.saturating_sub(4)..=near.saturating_add(4);
    around
        .clone()
        .find(|index| holds(*index))
        .or_else(|| (0..rows.len()).find(|index| holds(*index)))
}

fn holds(row: PageRow, song: &Song, place: Place) -> bool {
    match place_of(row, song) {
        None => false,
        Some((node, of)) if node == place.node && of == place.row => true,
        Some((node, _)) => {
            node == place.node
                && matches!(row, PageRow::Heading(_))
                && matches!(
                    place.row,
                    Row::Value(Field::Happens | Field::Label | Field::Again)
                )
        }
    }
}

/// The line that a page row belongs to, by section and line; `None` for headings and the head.
#[must_use]
pub const fn line_of(row: PageRow) -> Option<(usize, usize)> {
    match row {
        PageRow::Chords(section, line)
        | PageRow::Lyric(section, line)
        | PageRow::Other(section, line, _)
        | PageRow::LineValue(section, line, _) => Some((section, line)),
        _ => None,
    }
}

/// The section that a page row belongs to; `None` for the head and gaps.
#[must_use]
pub const fn section_of(row: PageRow) -> Option<usize> {
    match row {
        PageRow::Heading(section) | PageRow::SectionValue(section, _) => Some(section),
        _ => match line_of(row) {
            Some((section, _)) => Some(section),
            None => None,
        },
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::*;
    use crate::song::chord_row::ChordRow;
    use crate::song::column::Column;

    fn song() -> Song {
        let mut song = Song::new("The Ferry");
        let mut line = song.new_line("and no one answered");
        line.chords = Some(ChordRow::parse("Em"));
        line.others.push("and nobody answered".into());
        song.sections.first_mut().unwrap().lines.push(line);
        song
    }

    #[test]
    fn rows_open_only_when_asked() {
        let song = song();
        let mut opened = Opened::default();
        assert_eq!(
            rows_of(&song, &opened, true, |_, _| true),
            [
                PageRow::Defaults,
                PageRow::Gap,
                PageRow::Heading(0),
                PageRow::Lyric(0, 0),
                PageRow::Chords(0, 1),
                PageRow::Lyric(0, 1),
            ]
        );
        let line = song.sections.first().unwrap().lines.get(1).unwrap().id;
        opened.reveal(Place {
            node: line,
            row: Row::Other(0),
            column: Column(0),
        });
        opened.borrowed = true;
        let rows = rows_of(&song, &opened, true, |_, _| true);
        assert!(rows.contains(&PageRow::Other(0, 1, 0)));
        assert!(rows.contains(&PageRow::Chords(0, 0)));
    }

    #[test]
    fn a_place_is_found_in_its_row() {
        let song = song();
        let mut opened = Opened {
            song: true,
            ..Opened::default()
        };
        opened.details.insert(song.sections.first().unwrap().id);
        let rows = rows_of(&song, &opened, true, |_, _| false);
        for (index, row) in rows.iter().enumerate() {
            let Some((node, of)) = place_of(*row, &song) else {
                continue;
            };
            let place = Place {
                node,
                row: of,
                column: Column(0),
            };
            assert_eq!(row_of(&rows, &song, place, 0), Some(index));
        }
        let gone = Place {
            node: NodeId(99),
            row: Row::Lyric,
            column: Column(0),
        };
        assert_eq!(row_of(&rows, &song, gone, 3), None);
    }
}
