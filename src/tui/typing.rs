//! Text into and out of the row under the cursor.

use super::chord_typing::{self, Typed};
use super::cursor::word_starts;
use super::page::Page;
use super::rows::{PageRow, line_of};
use super::sheet::start_of;
use crate::music::chord_row::row_is_chords;
use crate::song::chord_row::ChordRow;
use crate::song::column::{Column, part_of};
use crate::song::edit::{Edit, EditError, Value};
use crate::song::field::Field;
use crate::song::place::{Place, Row};
use crate::song::{Line, NodeId, line_edits};
use crate::song::{paste, stanzas};

/// Puts text in at the cursor, over what is selected.
///
/// # Errors
/// As [`crate::song::Song::apply`]; then nothing has changed.
pub fn insert(page: &mut Page, text: &str) -> Result<(), EditError> {
    let selected = selected_in_row(page);
    let place = page.cursor.place;
    if place.row == Row::Chords {
        if selected.is_some() {
            cut(page)?;
        }
        let mut signs = text.chars();
        return signs.try_for_each(|sign| {
            chords(page, |lyric, row, marks, cell| {
                Some(chord_typing::typed(lyric, row, marks, cell, sign))
            })
        });
    }
    let (at, remove) = selected.map_or((place.column, 0), |(from, to)| (from, to.0 - from.0));
    splice(page, at, remove, text)
}

/// Deletes what is selected, else the sign before or behind the cursor. `false` at a row's end, where lines are to be joined.
///
/// # Errors
/// As [`insert`].
pub fn delete(page: &mut Page, back: bool) -> Result<bool, EditError> {
    if page.cursor.anchor.is_some() {
        cut(page)?;
        return Ok(true);
    }
    let Place { row, column, .. } = page.cursor.place;
    if row == Row::Chords {
        if back && column.0 == 0 {
            return Ok(false);
        }
        chords(page, |lyric, row, marks, cell| {
            if back {
                chord_typing::deleted_before(lyric, row, marks, cell)
            } else {
                Some(chord_typing::deleted_at(lyric, row, marks, cell))
            }
        })?;
        return Ok(true);
    }
    let end = page.with_sheet(|sheet| sheet.end(page.cursor.row, row));
    if back {
        let Some(before) = column.0.checked_sub(1) else {
            return Ok(false);
        };
        splice(page, Column(before), 1, "")?;
    } else {
        if column >= end {
            return Ok(false);
        }
        splice(page, column, 1, "")?;
    }
    Ok(true)
}

/// Deletes up to the start of a word. `false` at a row's end.
///
/// # Errors
/// As [`insert`].
pub fn delete_word(page: &mut Page, back: bool) -> Result<bool, EditError> {
    let Place { row, column, .. } = page.cursor.place;
    if page.cursor.anchor.is_some() || row == Row::Chords {
        return delete(page, back);
    }
    let (starts, end) = page.with_sheet(|sheet| {
        (
            word_starts(sheet.text(page.cursor.row, row)),
            sheet.end(page.cursor.row, row),
        )
    });
    let to = if back {
        starts
            .into_iter()
            .take_while(|start| *start < column.0)
            .last()
            .unwrap_or(0)
    } else {
        starts
            .into_iter()
            .find(|start| *start > column.0)
            .unwrap_or(end.0)
    };
    if to == column.0 {
        return Ok(false);
    }
    let from = Column(to.min(column.0));
    splice(page, from, to.abs_diff(column.0), "")?;
    Ok(true)
}

fn splice(page: &mut Page, at: Column, remove: usize, insert: &str) -> Result<(), EditError> {
    let Place { node, row, .. } = page.cursor.place;
    let edit = Edit::Splice {
        node,
        row,
        at,
        remove,
        insert: insert.to_owned(),
    };
    // Deleting leaves the cursor where the gap closed; typing carries it behind what was typed.
    let after = insert.is_empty().then_some(Place {
        node,
        row,
        column: at,
    });
    page.edit(&edit, after)
}

/// Changes the chord row under the cursor; a borrowed one is copied first, by writing it whole.
fn chords(
    page: &mut Page,
    make: impl FnOnce(&str, &ChordRow, &[Column], u16) -> Option<Typed>,
) -> Result<(), EditError> {
    let Some((section, line)) = page.rows.get(page.cursor.row).and_then(|row| line_of(*row)) else {
        return Ok(());
    };
    let place = page.cursor.place;
    let cell = u16::try_from(place.column.0).unwrap_or(u16::MAX);
    let shown = page.with_sheet(|sheet| sheet.chord_row(section, line).into_owned());
    let Some(found) = page.desk.song().line(place.node) else {
        return Err(EditError::NoSuchNode(place.node));
    };
    let Some(typed) = make(&found.lyric, &shown, &found.marks, cell) else {
        return Ok(());
    };
    let after = Place {
        column: Column(usize::from(typed.cell)),
        ..place
    };
    let mut edits = Vec::new();
    if typed.row != shown {
        edits.push(Edit::Set {
            node: place.node,
            value: Value::Chords(Some(typed.row)),
        });
    }
    if typed.marks != found.marks {
        edits.push(Edit::Set {
            node: place.node,
            value: Value::Marks(typed.marks),
        });
    }
    match edits.len() {
        0 => {
            page.cursor.place = after;
            page.cursor.kept = None;
            Ok(())
        }
        1 => edits
            .first()
            .map_or(Ok(()), |edit| page.edit(edit, Some(after))),
        _ => page.edit(&Edit::Group(edits), Some(after)),
    }
}

/// Moves the chord under the cursor by one place.
///
/// # Errors
/// As [`insert`].
pub fn move_chord(page: &mut Page, right: bool) -> Result<(), EditError> {
    chords(page, |lyric, row, marks, cell| {
        chord_typing::moved(lyric, row, marks, cell, right)
    })
}

/// What is selected in the cursor's row, from left to right; `None` where nothing is, or the selection spans rows.
#[must_use]
pub fn selected_in_row(page: &Page) -> Option<(Column, Column)> {
    let (anchor, place) = (page.cursor.anchor?, page.cursor.place);
    (anchor.node == place.node && anchor.row == place.row && anchor.column != place.column).then(
        || {
            (
                anchor.column.min(place.column),
                anchor.column.max(place.column),
            )
        },
    )
}

/// The page rows over which the selection spans, first to last; `None` where it does not leave its row.
#[must_use]
pub fn selected_rows(page: &Page) -> Option<(usize, usize)> {
    let anchor = page.cursor.anchor?;
    let from = page.with_sheet(|sheet| sheet.row_of(anchor, page.cursor.row))?;
    (from != page.cursor.row).then(|| (from.min(page.cursor.row), from.max(page.cursor.row)))
}

/// The text that a copy takes: what is selected, else the line with its chords, else the row.
#[must_use]
pub fn copied(page: &Page) -> Option<String> {
    if let Some((first, last)) = selected_rows(page) {
        let mut text = String::new();
        for (section, line) in lines_between(page, first, last) {
            if let Some(line) = page
                .song()
                .sections
                .get(section)
                .and_then(|section| section.lines.get(line))
            {
                text.push_str(&line_text(line));
            }
        }
        return (!text.is_empty()).then_some(text);
    }
    let place = page.cursor.place;
    if let Some((from, to)) = selected_in_row(page) {
        return Some(if place.row == Row::Chords {
            let laid = page.with_sheet(|sheet| sheet.spread_of(page.cursor.row))?;
            let inside = |over: &&super::spread::Over| {
                usize::from(over.cell) < to.0 && usize::from(over.end()) > from.0
            };
            let (section, line) = page
                .rows
                .get(page.cursor.row)
                .and_then(|row| line_of(*row))?;
            let row = page.with_sheet(|sheet| sheet.chord_row(section, line).into_owned());
            let names = laid
                .over
                .iter()
                .filter(inside)
                .filter_map(|over| match over.what {
                    super::spread::What::Chord(index) => {
                        row.0.get(index).map(|token| token.text.clone())
                    }
                    super::spread::What::Mark(_) => None,
                });
            names.collect::<Vec<_>>().join(" ")
        } else {
            let text = page.with_sheet(|sheet| sheet.text(page.cursor.row, place.row).to_owned());
            part_of(&text, from, to).to_owned()
        });
    }
    match place.row {
        Row::Lyric | Row::Chords => page.song().line(place.node).map(line_text),
        row => page.song().row_text(place.node, row),
    }
}

/// Takes out what [`copied`] copies.
///
/// # Errors
/// As [`insert`].
pub fn cut(page: &mut Page) -> Result<(), EditError> {
    let place = page.cursor.place;
    if let Some((first, last)) = selected_rows(page) {
        let song = page.desk.song();
        let lines = lines_between(page, first, last);
        let nodes = lines
            .iter()
            .filter_map(|(section, line)| song.sections.get(*section)?.lines.get(*line));
        let edits: Vec<Edit> = nodes.map(|line| Edit::Remove { node: line.id }).collect();
        page.cursor.anchor = None;
        return if edits.is_empty() {
            Ok(())
        } else {
            page.edit(&Edit::Group(edits), None)
        };
    }
    if let Some((from, to)) = selected_in_row(page) {
        if place.row != Row::Chords {
            return splice(page, from, to.0 - from.0, "");
        }
        page.cursor.anchor = None;
        page.cursor.place.column = to;
        for _ in from.0..to.0 {
            chords(page, chord_typing::deleted_before)?;
        }
        page.cursor.place.column = from;
        return Ok(());
    }
    match place.row {
        Row::Lyric | Row::Chords => page.edit(&Edit::Remove { node: place.node }, None),
        Row::Other(index) => {
            let step = line_edits::remove_wording(page.desk.song(), place.node, index)?;
            page.step(&step)
        }
        Row::Phrase(..) => {
            let text = page.desk.song().row_text(place.node, place.row);
            let whole = Column::end_of(&text.unwrap_or_default());
            splice(page, Column(0), whole.0, "")
        }
        Row::Value(field) => page.edit(
            &Edit::Set {
                node: place.node,
                value: Value::Field(field, None),
            },
            Some(Place {
                column: Column(0),
                ..place
            }),
        ),
    }
}

/// Pastes text at the cursor; into a lyric, rows of chords over rows of words become lines with chords.
///
/// # Errors
/// As [`insert`].
pub fn paste(page: &mut Page, text: &str) -> Result<(), EditError> {
    if text.is_empty() {
        return Ok(());
    }
    if page.cursor.place.row == Row::Chords && text.trim().contains(['\n', '\r']) {
        // Lines of a song belong into the lyric: before the words that stand here.
        page.go_to(start_of(page.cursor.place.node, Row::Lyric));
        return paste(page, &format!("{}\n", text.trim_end()));
    }
    let place = page.cursor.place;
    let one_row = || -> String {
        text.lines()
            .next()
            .unwrap_or("")
            .chars()
            .filter(|sign| !sign.is_control())
            .collect()
    };
    match place.row {
        Row::Lyric => {
            if page.cursor.anchor.is_some() {
                cut(page)?;
            }
            let Place {
                node,
                row: Row::Lyric,
                column,
            } = page.cursor.place
            else {
                return Ok(());
            };
            let song = page.desk.song();
            let section = song
                .sections
                .iter()
                .find(|section| section.lines.iter().any(|line| line.id == node));
            let step = match section.filter(|_| stanzas::has_stanzas(text, row_is_chords)) {
                Some(section) => {
                    stanzas::pasted(song, section.id, Some((node, column)), text, row_is_chords)?
                }
                None => paste::into_lyric(song, node, column, text, row_is_chords)?,
            };
            page.step(&step)
        }
        Row::Value(Field::Label | Field::Happens | Field::Again)
            if text.trim().contains(['\n', '\r']) =>
        {
            let song = page.desk.song();
            // Into the section where it has no words yet, else behind it.
            let blank =
                song.section(place.node)
                    .and_then(|section| match section.lines.as_slice() {
                        [line] if line.lyric.trim().is_empty() => Some((line.id, Column(0))),
                        _ => None,
                    });
            let step = stanzas::pasted(song, place.node, blank, text, row_is_chords)?;
            page.step(&step)
        }
        Row::Chords => insert(page, &one_row()),
        Row::Phrase(tune, phrase) if text.trim().contains(['\n', '\r']) => {
            paste_phrases(page, tune, phrase, text)
        }
        Row::Other(_) | Row::Value(_) | Row::Phrase(..) => {
            let rows: Vec<&str> = text
                .lines()
                .map(str::trim)
                .filter(|row| !row.is_empty())
                .collect();
            let joined: String = rows
                .join(" ")
                .chars()
                .filter(|sign| !sign.is_control())
                .collect();
            insert(page, &joined)
        }
    }
}

/// Puts each pasted row behind the phrase of the cursor as a phrase, in place of it where it is empty.
fn paste_phrases(page: &mut Page, tune: usize, phrase: usize, text: &str) -> Result<(), EditError> {
    let song = page.desk.song();
    let known = song.tunes.get(tune);
    let name = known.map_or_else(|| song.next_tune(), |tune| Some(tune.name.clone()));
    let Some(name) = name else { return Ok(()) };
    let mut phrases = known.map_or_else(Vec::new, |tune| tune.phrases.clone());
    let empty = phrases
        .get(phrase)
        .is_some_and(|text| text.trim().is_empty());
    let from = if empty {
        phrase
    } else {
        (phrase + 1).min(phrases.len())
    };
    let rows = text
        .split(['\n', '\r'])
        .map(str::trim)
        .filter(|row| !row.is_empty());
    let rows: Vec<String> = rows
        .map(|row| row.chars().filter(|sign| !sign.is_control()).collect())
        .collect();
    let last = from + rows.len().saturating_sub(1);
    phrases.splice(from..from + usize::from(empty), rows);
    let end = phrases
        .get(last)
        .map_or(Column(0), |text| Column::end_of(text));
    let value = Value::Tune(name, Some(phrases));
    let edit = Edit::Set {
        node: NodeId::SONG,
        value,
    };
    let cursor = Place {
        node: NodeId::SONG,
        row: Row::Phrase(tune, last),
        column: end,
    };
    page.edit(&edit, Some(cursor))
}

/// The lines whose lyrics stand between two rows, both counted.
fn lines_between(page: &Page, first: usize, last: usize) -> Vec<(usize, usize)> {
    let rows = page.rows.get(first..=last).unwrap_or(&[]);
    let mut lines: Vec<(usize, usize)> = rows
        .iter()
        .filter_map(|row| match row {
            PageRow::Lyric(section, line) | PageRow::Chords(section, line) => {
                Some((*section, *line))
            }
            _ => None,
        })
        .collect();
    lines.dedup();
    lines
}

/// A line as plain text: its chord row, where it has one that can be written, and its lyric.
fn line_text(line: &Line) -> String {
    let mut text = String::new();
    if let Some(row) = line
        .chords
        .as_ref()
        .filter(|row| !row.is_empty())
        .and_then(ChordRow::to_text)
    {
        text.push_str(&row);
        text.push('\n');
    }
    text.push_str(&line.lyric);
    text.push('\n');
    text
}
