//! The rows of a line beside its lyric: its chord row, its other wordings.

use super::Done;
use crate::song::column::Column;
use crate::song::edit::{Edit, Value};
use crate::song::line_edits;
use crate::song::place::{Place, Row};
use crate::tui::commands::{Action, key_of};
use crate::tui::page::Page;
use crate::tui::rows::has_chord_row;
use crate::tui::sheet::start_of;

pub(super) fn chord_row(page: &mut Page) -> Done {
    let place = page.cursor.place;
    if place.row == Row::Chords {
        close_empty_chord_row(page);
        chord_row_to_lyric(page);
        return Ok(None);
    }
    let cell = page.with_sheet(|sheet| {
        sheet
            .cell(page.cursor.row, place)
            .saturating_sub(sheet.lyric)
    });
    let cell = if matches!(place.row, Row::Other(_)) {
        0
    } else {
        cell
    };
    page.go_to(Place {
        node: place.node,
        row: Row::Chords,
        column: Column(usize::from(cell)),
    });
    Ok(None)
}

pub(super) fn chord_row_to_lyric(page: &mut Page) {
    let place = page.cursor.place;
    let cell = page.with_sheet(|sheet| sheet.cell(page.cursor.row, place));
    page.go_to(start_of(place.node, Row::Lyric));
    if let Some(place) = page.with_sheet(|sheet| sheet.place_at(page.cursor.row, cell)) {
        page.cursor.place = place;
    }
}

/// A chord row that was opened and left without a chord is no longer shown.
pub(super) fn close_empty_chord_row(page: &mut Page) {
    let node = page.cursor.place.node;
    if page
        .desk
        .song()
        .line(node)
        .is_some_and(|line| !has_chord_row(line))
    {
        page.opened.chords.remove(&node);
    }
}

pub(super) fn borrow(page: &mut Page) -> Done {
    let node = page.cursor.place.node;
    if page
        .desk
        .song()
        .line(node)
        .is_none_or(|line| line.chords.is_none())
    {
        return Ok(Some("This line has no chord row of its own.".to_owned()));
    }
    page.edit(
        &Edit::Set {
            node,
            value: Value::Chords(None),
        },
        Some(Place {
            column: Column(0),
            ..page.cursor.place
        }),
    )
    .map(|()| None)
}

pub(super) fn other_wordings(page: &mut Page) -> Done {
    let place = page.cursor.place;
    let Some(line) = page.desk.song().line(place.node) else {
        return Ok(None);
    };
    if line.others.is_empty() {
        let step = line_edits::add_wording(page.desk.song(), place.node, "")?;
        return page.step(&step).map(|()| None);
    }
    if !page.opened.others.remove(&place.node) {
        page.opened.others.insert(place.node);
        page.lay_out();
        return Ok(None);
    }
    let empty: Vec<usize> = line
        .others
        .iter()
        .enumerate()
        .filter(|(_, text)| text.trim().is_empty())
        .map(|(index, _)| index)
        .collect();
    if matches!(place.row, Row::Other(_)) {
        page.cursor.place = start_of(place.node, Row::Lyric);
    }
    if empty.is_empty() {
        page.lay_out();
        return Ok(None);
    }
    let kept = line
        .others
        .iter()
        .filter(|text| !text.trim().is_empty())
        .cloned()
        .collect();
    page.edit(
        &Edit::Set {
            node: place.node,
            value: Value::Others(kept),
        },
        Some(start_of(place.node, Row::Lyric)),
    )
    .map(|()| None)
}

pub(super) fn keep_wording(page: &mut Page) -> Done {
    let place = page.cursor.place;
    let Some(line) = page.desk.song().line(place.node) else {
        return Ok(None);
    };
    if line.lyric.trim().is_empty() || line.others.contains(&line.lyric) {
        return Ok(Some("This wording is kept already.".to_owned()));
    }
    let step = line_edits::add_wording(page.desk.song(), place.node, &line.lyric.clone())?;
    page.edit(&step.edit, Some(place))?;
    Ok(Some(format!(
        "Kept. {} shows the other wordings.",
        key_of(Action::OtherWordings)
    )))
}

pub(super) fn swap_wording(page: &mut Page) -> Done {
    let place = page.cursor.place;
    let index = if let Row::Other(index) = place.row {
        index
    } else {
        0
    };
    if page
        .desk
        .song()
        .line(place.node)
        .is_some_and(|line| line.others.is_empty())
    {
        return Ok(Some("This line has no other wording yet.".to_owned()));
    }
    let step = line_edits::swap_wording(page.desk.song(), place.node, index)?;
    let after = if matches!(place.row, Row::Other(_)) {
        Place {
            column: Column(0),
            ..place
        }
    } else {
        step.cursor
    };
    page.edit(&step.edit, Some(after)).map(|()| None)
}
