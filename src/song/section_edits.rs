//! Edits of sections, and setting aside: built of the primitive edits.

use super::edit::{Edit, EditError, List, Position, Step};
use super::field::{Field, Values};
use super::line_edits::{behind, empty_line, line_of, position_of, start_of};
use super::place::{Place, Row};
use super::{Node, NodeId, Section, Song, column::Column};

/// Puts a section of one empty line behind a section (at the song's end where that is set aside), labelled by its kind.
///
/// # Errors
/// The section is not in the song.
pub fn new_after(song: &Song, section: NodeId, kind: &str) -> Result<Step, EditError> {
    song.section(section)
        .ok_or(EditError::NoSuchNode(section))?;
    let to = match position_of(song, section)? {
        position if position.list == List::Sections => behind(position),
        _ => Position {
            list: List::Sections,
            index: song.sections.len(),
        },
    };
    Ok(new_at(song, to, kind))
}

/// Puts behind a section one that sings the section with that label once more; `None` where none with lines has it.
#[must_use]
pub fn again_after(song: &Song, section: NodeId, label: &str) -> Option<Step> {
    let has_label = |found: &&Section| {
        !found.lines.is_empty() && found.values.get(Field::Label).map(str::trim) == Some(label)
    };
    song.sections.iter().find(has_label)?;
    let to = position_of(song, section).ok()?;
    let mut values = Values::default();
    values.set(Field::Again, Some(label.to_owned()));
    let again = Section {
        id: song.fresh_id(),
        values,
        lines: Vec::new(),
        set_aside: Vec::new(),
        slice: None,
    };
    Some(Step {
        cursor: Place {
            node: again.id,
            row: Row::Value(Field::Again),
            column: Column(0),
        },
        edit: Edit::Insert {
            to: behind(to),
            node: Box::new(Node::Section(again)),
        },
    })
}

/// Puts a section of one empty line at the song's end, labelled by its kind.
#[must_use]
pub fn new_last(song: &Song, kind: &str) -> Step {
    let to = Position {
        list: List::Sections,
        index: song.sections.len(),
    };
    new_at(song, to, kind)
}

fn new_at(song: &Song, to: Position, kind: &str) -> Step {
    let section_id = song.fresh_id();
    let line = empty_line(NodeId(section_id.0 + 1));
    let cursor = start_of(line.id);
    let mut values = Values::default();
    values.set(Field::Label, Some(next_label(song, kind)));
    values.set(Field::Kind, Some(kind.to_owned()));
    let section = Section {
        id: section_id,
        values,
        lines: vec![line],
        set_aside: Vec::new(),
        slice: None,
    };
    Step {
        edit: Edit::Insert {
            to,
            node: Box::new(Node::Section(section)),
        },
        cursor,
    }
}

/// Leaves a section by its empty last line: the line goes, and a section of the same kind begins behind it.
///
/// # Errors
/// The line is not in a section of the song.
pub fn leave(song: &Song, line: NodeId) -> Result<Step, EditError> {
    let section = song.section_of(line).ok_or(EditError::NoSuchNode(line))?;
    let kind = section.values.get(Field::Kind).unwrap_or("verse");
    let step = new_after(song, section.id, kind)?;
    if section.lines.len() < 2 {
        return Ok(step);
    }
    Ok(Step {
        edit: Edit::Group(vec![Edit::Remove { node: line }, step.edit]),
        cursor: step.cursor,
    })
}

/// The label that the next section of a kind gets: `Verse 3`, and for other kinds than the verse the kind alone first, `Bridge`, then `Bridge 2`.
/// What is set aside counts for nothing, but keeps its label for itself.
///
/// ```
/// use breathmark::song::{Song, section_edits::next_label};
/// let song = Song::new("Ferry");
/// assert_eq!(next_label(&song, "verse"), "Verse 2");
/// assert_eq!(next_label(&song, "chorus"), "Chorus");
/// ```
#[must_use]
pub fn next_label(song: &Song, kind: &str) -> String {
    let mut signs = kind.chars();
    let name: String = match signs.next() {
        Some(first) => first.to_uppercase().chain(signs).collect(),
        None => "Section".to_owned(),
    };
    let aside = song.set_aside.iter().filter_map(|node| match node {
        Node::Section(section) => Some(section),
        Node::Line(_) => None,
    });
    let sections: Vec<&Section> = song.sections.iter().chain(aside).collect();
    let taken = |label: &str| {
        sections
            .iter()
            .any(|section| section.values.get(Field::Label) == Some(label))
    };
    let same = song
        .sections
        .iter()
        .filter(|section| section.values.get(Field::Kind) == Some(kind))
        .count();
    let alone = kind != "verse";
    if same == 0 && alone && !taken(&name) {
        return name;
    }
    ((same + 1).max(1 + usize::from(alone))..)
        .map(|number| format!("{name} {number}"))
        .find(|label| !taken(label))
        .unwrap_or(name)
}

/// Sets a line or a section aside: it is kept, and no longer sung. A line goes to its section's list, a section to the song's.
///
/// The cursor goes to the nearest line, or the nearest section's label.
///
/// # Errors
/// The node is not in the song, or is set aside already.
pub fn set_aside(song: &Song, node: NodeId) -> Result<Step, EditError> {
    let position = position_of(song, node)?;
    let to = match position.list {
        List::Sections => Position {
            list: List::SetAside,
            index: song.set_aside.len(),
        },
        List::Lines(section) => Position {
            list: List::LinesSetAside(section),
            index: song
                .section(section)
                .map_or(0, |section| section.set_aside.len()),
        },
        List::SetAside | List::LinesSetAside(_) => return Err(EditError::Twice(node)),
    };
    Ok(Step {
        edit: Edit::Move { node, to },
        cursor: place_without(song, node),
    })
}

/// Brings back what was set aside: a section to the song's end, a line to the end of its section, or of the last section.
///
/// # Errors
/// The node is not set aside, or the song has no section for the line.
pub fn bring_back(song: &Song, node: NodeId) -> Result<Step, EditError> {
    let last_of = |section: &Section| Position {
        list: List::Lines(section.id),
        index: section.lines.len(),
    };
    let to = match position_of(song, node)?.list {
        List::LinesSetAside(section) => song.section(section).map(last_of),
        List::SetAside if song.section(node).is_some() => Some(Position {
            list: List::Sections,
            index: song.sections.len(),
        }),
        List::SetAside => song.sections.last().map(last_of),
        List::Sections | List::Lines(_) => None,
    };
    let to = to.ok_or(EditError::NoSuchNode(node))?;
    let cursor = match song.section(node) {
        Some(section) => head_of(section),
        None => start_of(line_of(song, node)?.id),
    };
    Ok(Step {
        edit: Edit::Move { node, to },
        cursor,
    })
}

/// Takes a line or a section out of the song.
///
/// # Errors
/// The node is not in the song.
pub fn remove(song: &Song, node: NodeId) -> Result<Step, EditError> {
    position_of(song, node)?;
    Ok(Step {
        edit: Edit::Remove { node },
        cursor: place_without(song, node),
    })
}

/// Where the cursor goes when a node leaves its list: to the line after it, else before it, else to its section; for sections likewise.
#[must_use]
pub fn place_without(song: &Song, node: NodeId) -> Place {
    let title = Place {
        node: NodeId::SONG,
        row: Row::Value(Field::Title),
        column: Column(0),
    };
    let Some(Position { list, index }) = song.position_of(node) else {
        return title;
    };
    let neighbours = [index.checked_add(1), index.checked_sub(1)];
    let mut neighbours = neighbours.into_iter().flatten();
    match list {
        List::Sections => neighbours
            .find_map(|index| song.sections.get(index))
            .map_or(title, head_of),
        List::Lines(section) | List::LinesSetAside(section) => {
            song.section(section).map_or(title, |section| {
                let lines = match list {
                    List::Lines(_) => &section.lines,
                    List::LinesSetAside(_) | List::Sections | List::SetAside => &section.set_aside,
                };
                neighbours
                    .find_map(|index| lines.get(index))
                    .map_or_else(|| label_of(section), |line| start_of(line.id))
            })
        }
        List::SetAside => title,
    }
}

/// The start of a section's first line, or of its label where it has none.
fn head_of(section: &Section) -> Place {
    section
        .lines
        .first()
        .map_or_else(|| label_of(section), |line| start_of(line.id))
}

const fn label_of(section: &Section) -> Place {
    Place {
        node: section.id,
        row: Row::Value(Field::Label),
        column: Column(0),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn make(song: &mut Song, step: &Step) {
        let before = song.clone();
        let back = song.apply(&step.edit).unwrap();
        assert!(song.has_place(step.cursor), "{step:?}");
        let after = song.clone();
        song.apply(&back).unwrap();
        assert_eq!(*song, before);
        song.apply(&step.edit).unwrap();
        assert_eq!(*song, after);
    }

    fn labels(song: &Song) -> Vec<&str> {
        let label = |section: &'_ Section| section.values.get(Field::Label).map(str::len);
        assert!(song.sections.iter().all(|section| label(section).is_some()));
        song.sections
            .iter()
            .filter_map(|section| section.values.get(Field::Label))
            .collect()
    }

    #[test]
    fn sections_are_labelled_in_order() {
        let mut song = Song::new("Ferry");
        let first = song.sections[0].id;
        let step = new_after(&song, first, "verse").unwrap();
        make(&mut song, &step);
        let step = new_after(&song, first, "chorus").unwrap();
        make(&mut song, &step);
        let step = new_last(&song, "chorus");
        make(&mut song, &step);
        assert_eq!(labels(&song), ["Verse 1", "Chorus", "Verse 2", "Chorus 2"]);
    }

    #[test]
    fn what_is_set_aside_is_not_counted() {
        let mut song = Song::new("Ferry");
        let aside = |song: &mut Song, label: &str, kind: &str| {
            let step = new_last(song, kind);
            make(song, &step);
            let last = song.sections.last_mut().unwrap();
            last.values.set(Field::Label, Some(label.to_owned()));
            let id = last.id;
            let step = set_aside(song, id).unwrap();
            make(song, &step);
        };
        aside(&mut song, "The better pay", "verse");
        assert_eq!(next_label(&song, "verse"), "Verse 2");
        aside(&mut song, "Verse 2", "verse");
        assert_eq!(next_label(&song, "verse"), "Verse 3");
        aside(&mut song, "Chorus", "chorus");
        assert_eq!(next_label(&song, "chorus"), "Chorus 2");
    }

    #[test]
    fn an_empty_last_line_leads_to_the_next_section() {
        let mut song = Song::new("Ferry");
        let first = song.sections[0].lines[0].id;
        let step = super::super::line_edits::new_after(&song, first).unwrap();
        make(&mut song, &step);
        let step = leave(&song, step.cursor.node).unwrap();
        make(&mut song, &step);
        assert_eq!(labels(&song), ["Verse 1", "Verse 2"]);
        assert_eq!(song.sections[0].lines.len(), 1);
    }

    #[test]
    fn what_is_set_aside_comes_back() {
        let mut song = Song::new("Ferry");
        let (section, line) = (song.sections[0].id, song.sections[0].lines[0].id);
        let step = set_aside(&song, line).unwrap();
        make(&mut song, &step);
        assert!(set_aside(&song, line).is_err());
        assert_eq!(song.sections[0].set_aside.len(), 1);
        let step = set_aside(&song, section).unwrap();
        make(&mut song, &step);
        assert!(song.sections.is_empty());
        let step = bring_back(&song, line).unwrap();
        make(&mut song, &step);
        let step = bring_back(&song, section).unwrap();
        make(&mut song, &step);
        assert_eq!(song.sections[0].lines[0].id, line);
        let step = remove(&song, section).unwrap();
        make(&mut song, &step);
        assert_eq!(step.cursor.node, NodeId::SONG);
    }
}
