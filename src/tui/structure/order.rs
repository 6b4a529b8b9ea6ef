//! Lines and sections moved, begun, sung once more, set aside.

use super::{Done, here, page_row};
use crate::song::edit::{Edit, List, Position};
use crate::song::field::Field;
use crate::song::section_edits;
use crate::tui::commands::{Action, key_of};
use crate::tui::page::Page;
use crate::tui::rows::section_of;

/// Moves the line over its neighbour, or into the next section; in a heading, the section.
pub(super) fn moved(page: &mut Page, down: bool) -> Done {
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

pub(super) fn new_section(page: &mut Page) -> Done {
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

pub(super) fn again(page: &mut Page) -> Done {
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
    let Some(step) = section_edits::again_after(song, section.id, &label) else {
        return Ok(Some(
            "Only a section with lines can be sung again.".to_owned(),
        ));
    };
    page.step(&step)?;
    Ok(Some(format!("{label} is sung once more here.")))
}

pub(super) fn set_aside(page: &mut Page) -> Done {
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
        key_of(Action::AsideList)
    )))
}
