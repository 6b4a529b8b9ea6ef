//! Where a line or section begins and ends: Enter, Backspace and Delete.

use super::phrases;
use super::wordings::{chord_row_to_lyric, close_empty_chord_row};
use super::{Done, here, page_row};
use crate::song::column::Column;
use crate::song::edit::Edit;
use crate::song::field::Field;
use crate::song::place::{Place, Row};
use crate::song::{NodeId, line_edits, section_edits};
use crate::tui::page::Page;
use crate::tui::rows::{PageRow, has_chord_row};
use crate::tui::typing;

pub(super) fn enter(page: &mut Page) -> Done {
    if page.cursor.anchor.is_some() {
        typing::cut(page)?;
    }
    let place = page.cursor.place;
    match place.row {
        Row::Lyric => split(page, place),
        Row::Chords => {
            chord_row_to_lyric(page);
            Ok(None)
        }
        Row::Other(_) => Ok(None),
        Row::Phrase(tune, phrase) if phrases::part(page, tune, phrase)? => Ok(None),
        Row::Value(_) | Row::Phrase(..) => {
            if let Some(PageRow::Heading(section)) = page_row(page)
                && let Some(section) = page.desk.song().sections.get(section)
                && section.lines.is_empty()
                && section.values.get(Field::Again).is_none()
            {
                let step = line_edits::new_first(page.desk.song(), section.id)?;
                return page.step(&step).map(|()| None);
            }
            // From a heading to the first lyric, from a detail to the next.
            let next = if matches!(page_row(page), Some(PageRow::Heading(_))) {
                page.rows
                    .iter()
                    .enumerate()
                    .skip(page.cursor.row + 1)
                    .find(|(_, row)| matches!(row, PageRow::Lyric(..)))
                    .map(|(index, _)| index)
            } else {
                page.with_sheet(|sheet| sheet.next_row(page.cursor.row, true))
            };
            if let Some(place) =
                next.and_then(|row| page.with_sheet(|sheet| sheet.place_at(row, 0)))
            {
                page.go_to(place);
            }
            Ok(None)
        }
    }
}

fn split(page: &mut Page, place: Place) -> Done {
    let song = page.desk.song();
    let Some((section, Some((index, line)))) = here(page) else {
        return Ok(None);
    };
    let (is_last, is_only) = (index + 1 == section.lines.len(), section.lines.len() == 1);
    let step = if line.lyric.is_empty() && is_last && !is_only {
        section_edits::leave(song, line.id)?
    } else if line.lyric.is_empty() && is_last {
        return Ok(Some("This section has no words yet.".to_owned()));
    } else if place.column >= Column::end_of(&line.lyric) {
        line_edits::new_after(song, line.id)?
    } else {
        line_edits::split(song, line.id, place.column)?
    };
    page.step(&step).map(|()| None)
}

pub(super) fn backspace(page: &mut Page) -> Done {
    if typing::delete(page, true)? {
        return Ok(None);
    }
    let place = page.cursor.place;
    match place.row {
        Row::Lyric => {
            let Some((section, Some((index, line)))) = here(page) else {
                return Ok(None);
            };
            let empty = line.lyric.is_empty() && !has_chord_row(line) && line.others.is_empty();
            let before = index
                .checked_sub(1)
                .and_then(|before| section.lines.get(before))
                .map(|before| before.id);
            let edit = match before {
                Some(before) => return join(page, before, place.node),
                None if empty && section.lines.len() > 1 => Edit::Remove { node: place.node },
                None if empty && page.desk.song().sections.len() > 1 => {
                    Edit::Remove { node: section.id }
                }
                None => return Ok(None),
            };
            let back = place_before(page);
            page.edit(&edit, back).map(|()| None)
        }
        Row::Other(index)
            if page.with_sheet(|sheet| sheet.end(page.cursor.row, place.row)) == Column(0) =>
        {
            let step = line_edits::remove_wording(page.desk.song(), place.node, index)?;
            page.step(&step).map(|()| None)
        }
        Row::Chords => {
            close_empty_chord_row(page);
            chord_row_to_lyric(page);
            Ok(None)
        }
        Row::Phrase(tune, phrase) => phrases::join(page, tune, phrase),
        Row::Other(_) | Row::Value(_) => Ok(None),
    }
}

pub(super) fn delete(page: &mut Page) -> Done {
    if page.cursor.place.row == Row::Lyric && page.cursor.anchor.is_none() {
        let end = page.with_sheet(|sheet| sheet.end(page.cursor.row, Row::Lyric));
        if page.cursor.place.column >= end {
            let Some((section, Some((index, line)))) = here(page) else {
                return Ok(None);
            };
            let Some(next) = section.lines.get(index + 1).map(|next| next.id) else {
                return Ok(None);
            };
            let line = line.id;
            return join(page, line, next);
        }
    }
    typing::delete(page, false).map(|_| None)
}

fn join(page: &mut Page, first: NodeId, second: NodeId) -> Done {
    let step = line_edits::join(page.desk.song(), first, second)?;
    page.step(&step).map(|()| None)
}

/// The end of the lyric above the cursor's line.
fn place_before(page: &Page) -> Option<Place> {
    let row = (0..page.cursor.row)
        .rev()
        .find(|row| matches!(page.rows.get(*row), Some(PageRow::Lyric(..))))?;
    page.with_sheet(|sheet| {
        let place = sheet.place_at(row, 0)?;
        Some(Place {
            column: sheet.end(row, place.row),
            ..place
        })
    })
}
