//! Phrases of a tune begun, parted and joined.

use super::Done;
use crate::song::column::{Column, part_of};
use crate::song::edit::{Edit, EditError, Value};
use crate::song::place::{Place, Row};
use crate::song::{NodeId, Tune};
use crate::tui::page::Page;

/// Parts the phrase at the cursor; `false` where a row below it takes the next phrase anyway, behind the tune's last.
pub(super) fn part(page: &mut Page, tune: usize, phrase: usize) -> Result<bool, EditError> {
    let Some(found) = page.desk.song().tunes.get(tune).cloned() else {
        return Ok(false);
    };
    let column = page.cursor.place.column;
    let Some(text) = found.phrases.get(phrase) else {
        return Ok(false);
    };
    let end = Column::end_of(text);
    if column >= end && phrase + 1 == found.phrases.len() {
        return Ok(false);
    }
    let parts = [part_of(text, Column(0), column), part_of(text, column, end)];
    let parts = parts.map(|part| part.trim().to_owned());
    let mut phrases = found.phrases.clone();
    phrases.splice(phrase..=phrase, parts);
    write(page, found, phrases, (tune, phrase + 1, Column(0)))?;
    Ok(true)
}

/// Joins the phrase to the one before it.
pub(super) fn join(page: &mut Page, tune: usize, phrase: usize) -> Done {
    let found = page.desk.song().tunes.get(tune).cloned();
    let (Some(found), Some(before)) = (found, phrase.checked_sub(1)) else {
        return Ok(None);
    };
    let mut phrases = found.phrases.clone();
    let behind = (phrase < phrases.len()).then(|| phrases.remove(phrase));
    let Some(text) = phrases.get_mut(before) else {
        return Ok(None);
    };
    let end = Column::end_of(text);
    if let Some(behind) = behind.filter(|behind| !behind.is_empty()) {
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&behind);
    }
    write(page, found, phrases, (tune, before, end))
}

fn write(
    page: &mut Page,
    tune: Tune,
    phrases: Vec<String>,
    (at, phrase, column): (usize, usize, Column),
) -> Done {
    let cursor = Place {
        node: NodeId::SONG,
        row: Row::Phrase(at, phrase),
        column,
    };
    if tune.phrases == phrases {
        page.go_to(cursor);
        return Ok(None);
    }
    let value = Value::Tune(tune.name, Some(phrases));
    let edit = Edit::Set {
        node: NodeId::SONG,
        value,
    };
    page.edit(&edit, Some(cursor)).map(|()| None)
}
