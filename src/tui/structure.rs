//! Lines and sections: begun, split, joined, moved, set aside; other wordings; what is opened under them.

mod breaks;
mod order;
mod phrases;
mod wordings;

use self::breaks::{backspace, delete, enter};
use self::order::{again, moved, new_section, set_aside};
use self::wordings::{borrow, chord_row, keep_wording, other_wordings, swap_wording};
use super::commands::Action;
use super::page::Page;
use super::rows::{PageRow, line_of, section_of};
use super::sheet::start_of;
use super::typing;
use crate::song::edit::EditError;
use crate::song::field::Field;
use crate::song::place::Row;
use crate::song::{Line, NodeId, Section};

/// What is said about an action that was done, if anything.
type Done = Result<Option<String>, EditError>;

/// Does an action on the line or section under the cursor.
///
/// # Errors
/// As [`crate::song::Song::apply`]; then nothing has changed.
pub fn act(page: &mut Page, action: Action) -> Done {
    page.desk.end_run();
    match action {
        Action::Enter => enter(page),
        Action::Backspace => backspace(page),
        Action::Delete => delete(page),
        Action::WordBackspace => typing::delete_word(page, true)
            .and_then(|done| if done { Ok(None) } else { backspace(page) }),
        Action::WordDelete => typing::delete_word(page, false)
            .and_then(|done| if done { Ok(None) } else { delete(page) }),
        Action::ChordRow => chord_row(page),
        Action::ChordLeft | Action::ChordRight => {
            typing::move_chord(page, action == Action::ChordRight).map(|()| None)
        }
        Action::Borrow => borrow(page),
        Action::BorrowedRows => {
            page.opened.borrowed = !page.opened.borrowed;
            page.lay_out();
            Ok(None)
        }
        Action::OtherWordings => other_wordings(page),
        Action::KeepWording => keep_wording(page),
        Action::SwapWording | Action::UseWording => swap_wording(page),
        Action::MoveUp | Action::MoveDown => moved(page, action == Action::MoveDown),
        Action::NewSection => new_section(page),
        Action::Again => again(page),
        Action::SetAside => set_aside(page),
        Action::Details => details(page),
        Action::SongDetails => song_details(page),
        _ => Ok(None),
    }
}

fn page_row(page: &Page) -> Option<PageRow> {
    page.rows.get(page.cursor.row).copied()
}

/// The section that the cursor is in, and the line, where it is in one.
fn here(page: &Page) -> Option<(&Section, Option<(usize, &Line)>)> {
    let row = page_row(page)?;
    let section = page.desk.song().sections.get(section_of(row)?)?;
    let line = line_of(row).and_then(|(_, line)| Some((line, section.lines.get(line)?)));
    Some((section, line))
}

fn details(page: &mut Page) -> Done {
    let place = page.cursor.place;
    if place.node == NodeId::SONG {
        return song_details(page);
    }
    let home = match here(page) {
        Some((_, Some((_, line)))) => start_of(line.id, Row::Lyric),
        Some((section, None)) => {
            start_of(section.id, Row::Value(super::rows::heading_field(section)))
        }
        None => return Ok(None),
    };
    if page.opened.details.remove(&home.node) {
        page.go_to(home);
        return Ok(None);
    }
    page.opened.details.insert(home.node);
    page.lay_out();
    let first = page.rows.iter().position(|row| match *row {
        PageRow::SectionValue(section, _) => page
            .desk
            .song()
            .sections
            .get(section)
            .is_some_and(|section| section.id == home.node),
        PageRow::LineValue(section, line, _) => page
            .desk
            .song()
            .sections
            .get(section)
            .and_then(|section| section.lines.get(line))
            .is_some_and(|line| line.id == home.node),
        _ => false,
    });
    if let Some(place) = first.and_then(|row| page.with_sheet(|sheet| sheet.place_at(row, 0))) {
        page.go_to(place);
    }
    Ok(None)
}

fn song_details(page: &mut Page) -> Done {
    if page.opened.song {
        page.opened.song = false;
        let back = page.came_from.take();
        if page.cursor.place.node == NodeId::SONG
            && let Some(place) = back
        {
            page.cursor.place = place;
        }
        page.lay_out();
    } else {
        page.opened.song = true;
        page.came_from = Some(page.cursor.place);
        page.go_to(start_of(NodeId::SONG, Row::Value(Field::Title)));
    }
    Ok(None)
}
