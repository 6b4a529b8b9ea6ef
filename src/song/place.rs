//! Places in a song, for cursors and marks, and the one function that carries a column through a change of its row.

use super::column::Column;
use super::edit::{Edit, Value};
use super::field::Field;
use super::splice::Splice;
use super::{Node, NodeId, Song, Tune};

/// A row of text of a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Row {
    /// A value of the node, typed like text: a label, what happens, a tempo.
    Value(Field),
    /// The chord row over a lyric; breath marks are typed here too.
    Chords,
    /// The lyric.
    Lyric,
    /// One of the other wordings, counted from 0.
    Other(usize),
    /// A phrase of one of the song's tunes, both counted from 0; the one behind a tune's last is empty, and so is the first of the tune
    /// behind the last (see [`Song::next_tune`]).
    Phrase(usize, usize),
}

/// A place that survives edits: a column of a row of a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The node.
    pub node: NodeId,
    /// Which of its rows.
    pub row: Row,
    /// The column, from 0 to the row's length (chord rows: any column).
    pub column: Column,
}

/// Which side of new text a place stays on when the text comes in right at it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Before the new text: a cursor that did not type it, the start of a selection.
    Before,
    /// Behind the new text: the cursor that types.
    Behind,
    /// With the syllable that stood here: chords and breath marks. At the row's end there is no syllable; what stands there or past it stays.
    WithSyllable,
}

/// What a change did to the columns of a row: `removed` columns from `at` on gave way to `inserted` ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shift {
    /// The first column that changed.
    pub at: Column,
    /// How many columns went.
    pub removed: usize,
    /// How many came.
    pub inserted: usize,
    /// The column behind the row's last grapheme, before the change.
    pub end: Column,
}

/// Where a column of a row is after the row changed.
///
/// Every chord, breath mark and cursor goes through here. What stood over removed graphemes goes to where they began.
///
/// ```
/// use breathmark::song::{column::Column, place::{Shift, Side, carried}};
/// let typed = Shift { at: Column(4), removed: 0, inserted: 1, end: Column(9) };
/// assert_eq!(carried(Column(4), &typed, Side::WithSyllable), Column(5));
/// assert_eq!(carried(Column(3), &typed, Side::WithSyllable), Column(3));
/// let appended = Shift { at: Column(9), ..typed };
/// assert_eq!(carried(Column(12), &appended, Side::WithSyllable), Column(12));
/// ```
#[must_use]
pub fn carried(column: Column, shift: &Shift, side: Side) -> Column {
    let removed_end = shift.at.0 + shift.removed;
    if side == Side::WithSyllable && column >= shift.end && removed_end >= shift.end.0 {
        return column;
    }
    if column < shift.at {
        column
    } else if shift.removed == 0 && column == shift.at {
        match side {
            Side::Before => column,
            Side::Behind | Side::WithSyllable => Column(column.0 + shift.inserted),
        }
    } else if column.0 >= removed_end {
        Column(column.0 - shift.removed + shift.inserted)
    } else {
        match side {
            Side::Behind if column > shift.at => Column(shift.at.0 + shift.inserted),
            Side::Before | Side::Behind | Side::WithSyllable => shift.at,
        }
    }
}

/// Where a place is after one of the five primitive edits; `before` is the song as it was before the edit.
///
/// `None` where the node or the row is gone. A group is mapped step by step, by [`Song::apply_with`]; here it answers `None`
/// where any step of it would, each step seen from `before`.
#[must_use]
pub fn map(place: Place, edit: &Edit, before: &Song, side: Side) -> Option<Place> {
    match edit {
        Edit::Splice {
            node,
            row,
            at,
            remove,
            insert,
        } => {
            if *node != place.node {
                return Some(place);
            }
            // A column of the chord row is a column of the lyric below it, and goes with the syllable there.
            let side = match (place.row, *row) {
                (found, changed) if found == changed => side,
                (Row::Chords, Row::Lyric) => Side::WithSyllable,
                _ => return Some(place),
            };
            let text = before.row_text(*node, *row)?;
            let splice = Splice::new(&text, *at, *remove, insert)?;
            Some(Place {
                column: carried(place.column, &splice.shift, side),
                ..place
            })
        }
        Edit::Remove { node } => (!holds(before, *node, place.node)).then_some(place),
        Edit::Insert { .. } | Edit::Move { .. } => Some(place),
        Edit::Set { node, value } => {
            if *node == place.node {
                after_set(place, value)
            } else {
                Some(place)
            }
        }
        Edit::Group(steps) => steps
            .iter()
            .try_fold(place, |place, step| map(place, step, before, side)),
    }
}

/// Whether the node is, or stands within, the other.
fn holds(song: &Song, outer: NodeId, node: NodeId) -> bool {
    outer == node
        || song.section(outer).is_some_and(|section| {
            section
                .lines
                .iter()
                .chain(&section.set_aside)
                .any(|line| line.id == node)
        })
}

fn after_set(place: Place, value: &Value) -> Option<Place> {
    let text = match (place.row, value) {
        (Row::Value(row), Value::Field(field, text)) if row == *field => {
            text.as_deref().unwrap_or_default()
        }
        (Row::Lyric, Value::Lyric(text)) => text,
        (Row::Other(index), Value::Others(others)) => others.get(index)?,
        (Row::Phrase(tune, phrase), Value::Tunes(tunes)) => phrase_of(tunes, tune, phrase)?,
        // Which of the tunes that is cannot be told here.
        (Row::Phrase(..), Value::Tune(..)) => return None,
        _ => return Some(place),
    };
    Some(Place {
        column: place.column.min(Column::end_of(text)),
        ..place
    })
}

/// The text of a phrase; empty for the one behind a tune's last, and for the first of the tune behind the last.
fn phrase_of(tunes: &[Tune], tune: usize, phrase: usize) -> Option<&str> {
    let phrases = match tunes.get(tune) {
        Some(found) => found.phrases.as_slice(),
        None if tune == tunes.len() => &[],
        None => return None,
    };
    match phrases.get(phrase) {
        Some(text) => Some(text),
        None => (phrase == phrases.len()).then_some(""),
    }
}

impl Song {
    /// The text of a row, empty for a value that is not set; `None` where there is no such row, and for chord rows, which are no text.
    #[must_use]
    pub fn row_text(&self, node: NodeId, row: Row) -> Option<String> {
        match row {
            Row::Value(field) => self
                .values_of(node)
                .map(|values| values.get(field).unwrap_or_default().to_owned()),
            Row::Chords => None,
            Row::Lyric => self.line(node).map(|line| line.lyric.clone()),
            Row::Other(index) => self
                .line(node)
                .and_then(|line| line.others.get(index))
                .cloned(),
            Row::Phrase(tune, phrase) => phrase_of(&self.tunes, tune, phrase)
                .filter(|_| node == NodeId::SONG)
                .map(ToOwned::to_owned),
        }
    }

    /// Whether the place stands on a grapheme of its row or right behind its last (chord rows: in the line's chord row).
    #[must_use]
    pub fn has_place(&self, place: Place) -> bool {
        match place.row {
            Row::Chords => self.line(place.node).is_some(),
            Row::Value(_) | Row::Lyric | Row::Other(_) | Row::Phrase(..) => self
                .row_text(place.node, place.row)
                .is_some_and(|text| place.column <= Column::end_of(&text)),
        }
    }
}

impl Node {
    /// The identities of the node and of all that stands within it.
    pub fn ids(&self) -> impl Iterator<Item = NodeId> {
        let within: &[_] = match self {
            Self::Section(section) => &[&section.lines, &section.set_aside],
            Self::Line(_) => &[],
        };
        std::iter::once(self.id()).chain(
            within
                .iter()
                .flat_map(|lines| lines.iter().map(|line| line.id))
                .collect::<Vec<_>>(),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(shift: (usize, usize, usize), end: usize, side: Side, expected: &[usize]) {
        let shift = Shift {
            at: Column(shift.0),
            removed: shift.1,
            inserted: shift.2,
            end: Column(end),
        };
        let found: Vec<usize> = (0..expected.len())
            .map(|column| carried(Column(column), &shift, side).0)
            .collect();
        assert_eq!(found, expected, "{shift:?} {side:?}");
    }

    #[test]
    fn chords_go_with_their_syllables() {
        // typed within the row: what stood here or behind moves
        check((2, 0, 1), 4, Side::WithSyllable, &[0, 1, 3, 4, 5, 6]);
        // typed at its end: nothing that stands at or past the end moves
        check((4, 0, 2), 4, Side::WithSyllable, &[0, 1, 2, 3, 4, 5]);
        // deleted within: what stood over it goes to where it began
        check((1, 2, 0), 5, Side::WithSyllable, &[0, 1, 1, 1, 2, 3, 4]);
        // deleted at the end, the way back from typing there
        check((2, 2, 0), 4, Side::WithSyllable, &[0, 1, 2, 2, 4, 5]);
        // replaced
        check((1, 2, 3), 5, Side::WithSyllable, &[0, 1, 1, 4, 5]);
    }

    #[test]
    fn cursors_keep_their_side() {
        check((2, 0, 1), 4, Side::Before, &[0, 1, 2, 4, 5]);
        check((2, 0, 1), 4, Side::Behind, &[0, 1, 3, 4, 5]);
        check((4, 0, 1), 4, Side::Behind, &[0, 1, 2, 3, 5]);
        check((1, 2, 3), 5, Side::Before, &[0, 1, 1, 4, 5, 6]);
        check((1, 2, 3), 5, Side::Behind, &[0, 1, 4, 4, 5, 6]);
    }
}
