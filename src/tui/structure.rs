//! Lines and sections: begun, split, joined, moved, set aside; other wordings; what is opened under them.

use super::commands::Action;
use super::page::Page;
use super::rows::{PageRow, has_chord_row, line_of, section_of};
use super::sheet::start_of;
use super::typing;
use crate::song::column::Column;
use crate::song::edit::{Edit, EditError, List, Position, Step, Value};
use crate::song::field::{Field, Values};
use crate::song::place::{Place, Row};
use crate::song::{Line, Node, NodeId, Section, line_edits, section_edits};

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

fn enter(page: &mut Page) -> Done {
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
        Row::Value(_) => {
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

fn backspace(page: &mut Page) -> Done {
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
        Row::Other(_) | Row::Value(_) => Ok(None),
    }
}

fn delete(page: &mut Page) -> Done {
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

fn chord_row(page: &mut Page) -> Done {
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

fn chord_row_to_lyric(page: &mut Page) {
    let place = page.cursor.place;
    let cell = page.with_sheet(|sheet| sheet.cell(page.cursor.row, place));
    page.go_to(start_of(place.node, Row::Lyric));
    if let Some(place) = page.with_sheet(|sheet| sheet.place_at(page.cursor.row, cell)) {
        page.cursor.place = place;
    }
}

/// A chord row that was opened and left without a chord is no longer shown.
fn close_empty_chord_row(page: &mut Page) {
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

fn borrow(page: &mut Page) -> Done {
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

fn other_wordings(page: &mut Page) -> Done {
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

fn keep_wording(page: &mut Page) -> Done {
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
        super::commands::key_of(Action::OtherWordings)
    )))
}

fn swap_wording(page: &mut Page) -> Done {
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

/// Moves the line over its neighbour, or into the next section; in a heading, the section.
fn moved(page: &mut Page, down: bool) -> Done {
    let song = page.desk.song();
    let Some(row) = page_row(page) else {
        return Ok(None);
    };
    let Some(section_index) = section_of(row) else {
        return Ok(None);
    };
    let beside = |index: usize, length: usize| {
        if down {
            (index + 1 < length).then_some(index + 1)
        } else {
            index.checked_sub(1)
        }
    };
    let other_section = beside(section_index, song.sections.len());
    let Some((section, line)) = here(page) else {
        return Ok(None);
    };
    let (node, to) = match line {
        None => (
            section.id,
            other_section.map(|index| Position {
                list: List::Sections,
                index,
            }),
        ),
        Some((index, line)) => {
            let within = beside(index, section.lines.len()).map(|index| Position {
                list: List::Lines(section.id),
                index,
            });
            let over = other_section
                .and_then(|index| song.sections.get(index))
                .filter(|other| other.values.get(Field::Again).is_none());
            let to = within.or_else(|| {
                over.map(|other| Position {
                    list: List::Lines(other.id),
                    index: if down { 0 } else { other.lines.len() },
                })
            });
            (line.id, to)
        }
    };
    let Some(to) = to else { return Ok(None) };
    let place = page.cursor.place;
    page.edit(&Edit::Move { node, to }, Some(place))
        .map(|()| None)
}

fn new_section(page: &mut Page) -> Done {
    let song = page.desk.song();
    let step = match here(page) {
        Some((section, _)) => {
            let kind = section
                .values
                .get(Field::Kind)
                .unwrap_or("verse")
                .to_owned();
            section_edits::new_after(song, section.id, &kind)?
        }
        None => section_edits::new_last(song, "verse"),
    };
    page.step(&step).map(|()| None)
}

fn again(page: &mut Page) -> Done {
    let song = page.desk.song();
    let Some((section, _)) = here(page) else {
        return Ok(None);
    };
    let label = section
        .values
        .get(Field::Again)
        .or_else(|| section.values.get(Field::Label))
        .unwrap_or("")
        .to_owned();
    if label.is_empty() {
        return Ok(Some(
            "Give this section a label first; a section is sung again by its label.".to_owned(),
        ));
    }
    let Some(index) = song
        .sections
        .iter()
        .position(|found| found.id == section.id)
    else {
        return Ok(None);
    };
    let mut values = Values::default();
    values.set(Field::Again, Some(label.clone()));
    let new = Section {
        id: song.fresh_id(),
        values,
        lines: Vec::new(),
        set_aside: Vec::new(),
        slice: None,
    };
    let cursor = start_of(new.id, Row::Value(Field::Again));
    let edit = Edit::Insert {
        to: Position {
            list: List::Sections,
            index: index + 1,
        },
        node: Box::new(Node::Section(new)),
    };
    page.step(&Step { edit, cursor })?;
    Ok(Some(format!("{label} is sung once more here.")))
}

fn set_aside(page: &mut Page) -> Done {
    let Some((section, line)) = here(page) else {
        return Ok(None);
    };
    let (node, what) = match line {
        Some((_, line)) => (line.id, "The line"),
        None => (section.id, "The section"),
    };
    let step = section_edits::set_aside(page.desk.song(), node)?;
    page.step(&step)?;
    Ok(Some(format!(
        "{what} is set aside. {} brings it back.",
        super::commands::key_of(Action::AsideList)
    )))
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
