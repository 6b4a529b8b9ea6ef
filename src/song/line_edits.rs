//! Edits of whole lines, built of the primitive ones: splitting, joining, other wordings.

use super::chord_row::{ChordRow, ChordToken};
use super::column::{Column, part_of};
use super::edit::{Edit, EditError, List, Position, Step, Value};
use super::field::Field;
use super::place::{Place, Row};
use super::{Line, Node, NodeId, Song};

/// Splits a line of a lyric at a column: what stands from there on becomes a line of its own below it, with its chords and breath marks.
///
/// Blanks at the split go. Other wordings and values stay with the first part, but `run_on`, which speaks of the end.
/// At the line's beginning an empty line comes before it instead, so that the line keeps all it has.
///
/// # Errors
/// The line is not in the song, or shorter.
pub fn split(song: &Song, line: NodeId, column: Column) -> Result<Step, EditError> {
    let position = position_of(song, line)?;
    let line = line_of(song, line)?;
    let end = Column::end_of(&line.lyric);
    if column > end {
        return Err(EditError::PastTheRow(line.id));
    }
    if column == Column(0) && !line.lyric.is_empty() {
        return Ok(Step {
            edit: insert(position, empty_line(song.fresh_id())),
            cursor: start_of(line.id),
        });
    }
    let rest = part_of(&line.lyric, column, end);
    let first = part_of(&line.lyric, Column(0), column).trim_end();
    let begin = Column(column.0 + end_of_blanks(rest));
    let mut second = empty_line(song.fresh_id());
    rest.trim_start().clone_into(&mut second.lyric);
    let cursor = start_of(second.id);
    let mut steps = vec![set(line.id, Value::Lyric(first.to_owned()))];
    if let Some(row) = &line.chords {
        let (stay, go): (Vec<_>, Vec<_>) = row
            .0
            .iter()
            .cloned()
            .partition(|token| token.column < column || column == end);
        if !go.is_empty() {
            second.chords = Some(ChordRow(
                go.iter().map(|token| moved_back(token, begin)).collect(),
            ));
            let stay = (!stay.is_empty()).then_some(ChordRow(stay));
            steps.push(set(line.id, Value::Chords(stay)));
        }
    }
    let (stay, go): (Vec<_>, Vec<_>) = line
        .marks
        .iter()
        .copied()
        .partition(|mark| *mark < column || column == end);
    if !go.is_empty() {
        second.marks = go
            .iter()
            .map(|mark| Column(mark.0.saturating_sub(begin.0)))
            .collect();
        second.marks.dedup();
        steps.push(set(line.id, Value::Marks(stay)));
    }
    if column < end
        && let Some(run_on) = line.values.get(Field::RunOn)
    {
        second.values.set(Field::RunOn, Some(run_on.to_owned()));
        steps.push(set(line.id, Value::Field(Field::RunOn, None)));
    }
    steps.push(insert(behind(position), second));
    Ok(Step {
        edit: Edit::Group(steps),
        cursor,
    })
}

/// Joins a line to the one before it, with one blank between their words; its chords and breath marks come along.
///
/// Of its other values the first line takes those it has not, `run_on` and the other wordings in any case; `bars` stays the first line's.
///
/// # Errors
/// One of the lines is not in the song, or both are the same.
pub fn join(song: &Song, first: NodeId, second: NodeId) -> Result<Step, EditError> {
    if first == second {
        return Err(EditError::Twice(first));
    }
    position_of(song, second)?;
    let (first, second) = (line_of(song, first)?, line_of(song, second)?);
    let touching = first.lyric.is_empty()
        || second.lyric.is_empty()
        || first.lyric.ends_with(char::is_whitespace)
        || second.lyric.starts_with(char::is_whitespace);
    let seam = Column::end_of(&first.lyric);
    let glue = if touching { "" } else { " " };
    let lyric = [&first.lyric, glue, &second.lyric].concat();
    // Counted in the joined row: the second may begin with what merges with the first's last sign.
    let begin = Column::of_byte(&lyric, first.lyric.len() + glue.len());
    let mut steps = vec![set(first.id, Value::Lyric(lyric))];
    if first.chords.is_some() || second.chords.is_some() {
        let firsts = first.chords.iter().flat_map(|row| &row.0);
        let seconds = second.chords.iter().flat_map(|row| &row.0);
        // Past the seam the first's chords would stand over the second's words.
        let row = firsts
            .map(|token| (token.column.min(seam), token))
            .chain(seconds.map(|token| (Column(token.column.0 + begin.0), token)))
            .map(|(column, token)| ChordToken {
                column,
                text: token.text.clone(),
            })
            .collect();
        steps.push(set(first.id, Value::Chords(Some(ChordRow(row)))));
    }
    let mut marks: Vec<Column> = first.marks.iter().map(|mark| *mark.min(&seam)).collect();
    marks.extend(second.marks.iter().map(|mark| Column(mark.0 + begin.0)));
    marks.dedup();
    if marks != first.marks {
        steps.push(set(first.id, Value::Marks(marks)));
    }
    if !second.others.is_empty() {
        let others = [first.others.clone(), second.others.clone()].concat();
        steps.push(set(first.id, Value::Others(others)));
    }
    for (field, text) in second.values.iter() {
        let taken = match field {
            Field::RunOn => Some(text.to_owned()),
            Field::Bars => None,
            _ => match first.values.get(field) {
                None => Some(text.to_owned()),
                Some(found) if found == text => None,
                Some(found) => Some(format!("{found}; {text}")),
            },
        };
        if let Some(text) = taken {
            steps.push(set(first.id, Value::Field(field, Some(text))));
        }
    }
    if second.values.get(Field::RunOn).is_none() && first.values.get(Field::RunOn).is_some() {
        steps.push(set(first.id, Value::Field(Field::RunOn, None)));
    }
    steps.push(Edit::Remove { node: second.id });
    Ok(Step {
        edit: Edit::Group(steps),
        cursor: Place {
            node: first.id,
            row: Row::Lyric,
            column: begin,
        },
    })
}

/// Puts an empty line below a line.
///
/// # Errors
/// The line is not in the song.
pub fn new_after(song: &Song, line: NodeId) -> Result<Step, EditError> {
    line_of(song, line)?;
    let position = position_of(song, line)?;
    let new = empty_line(song.fresh_id());
    Ok(Step {
        cursor: start_of(new.id),
        edit: insert(behind(position), new),
    })
}

/// Puts an empty line at the head of a section.
///
/// # Errors
/// The section is not in the song.
pub fn new_first(song: &Song, section: NodeId) -> Result<Step, EditError> {
    song.section(section)
        .ok_or(EditError::NoSuchNode(section))?;
    let new = empty_line(song.fresh_id());
    let list = List::Lines(section);
    Ok(Step {
        cursor: start_of(new.id),
        edit: insert(Position { list, index: 0 }, new),
    })
}

/// Lets another wording and the lyric change places; chords and breath marks keep their columns.
///
/// # Errors
/// The line is not in the song, or has no such wording.
pub fn swap_wording(song: &Song, line: NodeId, index: usize) -> Result<Step, EditError> {
    let line = line_of(song, line)?;
    let mut others = line.others.clone();
    let other = others.get_mut(index).ok_or(EditError::NoSuchRow(line.id))?;
    let lyric = std::mem::replace(other, line.lyric.clone());
    Ok(Step {
        edit: Edit::Group(vec![
            set(line.id, Value::Lyric(lyric)),
            set(line.id, Value::Others(others)),
        ]),
        cursor: start_of(line.id),
    })
}

/// Adds another wording below a line.
///
/// # Errors
/// The line is not in the song.
pub fn add_wording(song: &Song, line: NodeId, text: &str) -> Result<Step, EditError> {
    let line = line_of(song, line)?;
    let mut others = line.others.clone();
    others.push(text.to_owned());
    Ok(Step {
        edit: set(line.id, Value::Others(others)),
        cursor: Place {
            node: line.id,
            row: Row::Other(line.others.len()),
            column: Column::end_of(text),
        },
    })
}

/// Takes another wording away.
///
/// # Errors
/// The line is not in the song, or has no such wording.
pub fn remove_wording(song: &Song, line: NodeId, index: usize) -> Result<Step, EditError> {
    let line = line_of(song, line)?;
    let mut others = line.others.clone();
    if index >= others.len() {
        return Err(EditError::NoSuchRow(line.id));
    }
    others.remove(index);
    Ok(Step {
        edit: set(line.id, Value::Others(others)),
        cursor: start_of(line.id),
    })
}

/// Sets a breath mark at a column of a line, or takes it away where one is.
///
/// # Errors
/// The line is not in the song.
pub fn toggle_mark(song: &Song, line: NodeId, column: Column) -> Result<Step, EditError> {
    let line = line_of(song, line)?;
    let mut marks = line.marks.clone();
    match marks.binary_search(&column) {
        Ok(index) => {
            marks.remove(index);
        }
        Err(index) => marks.insert(index, column),
    }
    Ok(Step {
        edit: set(line.id, Value::Marks(marks)),
        cursor: Place {
            node: line.id,
            row: Row::Chords,
            column,
        },
    })
}

pub(super) fn empty_line(id: NodeId) -> Line {
    Line {
        id,
        lyric: String::new(),
        chords: None,
        marks: Vec::new(),
        others: Vec::new(),
        values: super::field::Values::default(),
        slice: None,
    }
}

pub(super) const fn set(node: NodeId, value: Value) -> Edit {
    Edit::Set { node, value }
}

pub(super) fn insert(to: Position, line: Line) -> Edit {
    Edit::Insert {
        to,
        node: Box::new(Node::Line(line)),
    }
}

pub(super) const fn start_of(line: NodeId) -> Place {
    Place {
        node: line,
        row: Row::Lyric,
        column: Column(0),
    }
}

pub(super) const fn behind(position: Position) -> Position {
    Position {
        list: position.list,
        index: position.index + 1,
    }
}

pub(super) fn line_of(song: &Song, line: NodeId) -> Result<&Line, EditError> {
    song.line(line).ok_or(EditError::NoSuchNode(line))
}

pub(super) fn position_of(song: &Song, node: NodeId) -> Result<Position, EditError> {
    song.position_of(node).ok_or(EditError::NoSuchNode(node))
}

pub(super) fn moved_back(token: &ChordToken, begin: Column) -> ChordToken {
    ChordToken {
        column: Column(token.column.0.saturating_sub(begin.0)),
        text: token.text.clone(),
    }
}

/// How many columns of blanks the row begins with.
fn end_of_blanks(row: &str) -> usize {
    Column::end_of(row).0 - Column::end_of(row.trim_start()).0
}

impl Song {
    /// The identity that the next new node gets, for edits that are built and not yet made; a second one follows it.
    #[must_use]
    pub fn fresh_id(&self) -> NodeId {
        NodeId(self.next_id.max(1))
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    /// A line as a chord row, a lyric and a row of marks.
    fn song(rows: [&str; 3]) -> (Song, NodeId) {
        let mut song = Song::new("Ferry");
        let line = &mut song.sections[0].lines[0];
        line.chords = Some(ChordRow::parse(rows[0]));
        line.lyric = rows[1].to_owned();
        line.marks = marks(rows[2]);
        let id = line.id;
        (song, id)
    }

    fn marks(row: &str) -> Vec<Column> {
        row.match_indices(',').map(|(at, _)| Column(at)).collect()
    }

    fn check(song: &Song, index: usize, rows: [&str; 3]) {
        let line = &song.sections[0].lines[index];
        let chords = line.chords.as_ref().map(|row| row.to_text().unwrap());
        assert_eq!(chords.as_deref().unwrap_or_default(), rows[0]);
        assert_eq!(line.lyric, rows[1]);
        assert_eq!(line.marks, marks(rows[2]));
    }

    fn make(song: &mut Song, step: &Step) {
        let before = song.clone();
        let back = song.apply(&step.edit).unwrap();
        assert!(song.has_place(step.cursor));
        let after = song.clone();
        let again = song.apply(&back).unwrap();
        assert_eq!(*song, before);
        song.apply(&again).unwrap();
        assert_eq!(*song, after);
    }

    #[test]
    fn chords_and_marks_go_with_their_syllables() {
        let (mut song, line) = song([
            "    Em       C           Am   ",
            "She rang the bell at the water's edge",
            "            ,           ,",
        ]);
        song.sections[0].lines[0]
            .values
            .set(Field::RunOn, Some("true".into()));
        let step = split(&song, line, Column(17)).unwrap();
        make(&mut song, &step);
        check(
            &song,
            0,
            ["    Em       C", "She rang the bell", "            ,"],
        );
        check(&song, 1, ["       Am", "at the water's edge", "      ,"]);
        assert_eq!(song.sections[0].lines[0].values.get(Field::RunOn), None);
        let second = song.sections[0].lines[1].id;
        let step = join(&song, line, second).unwrap();
        make(&mut song, &step);
        check(
            &song,
            0,
            [
                "    Em       C           Am",
                "She rang the bell at the water's edge",
                "            ,           ,",
            ],
        );
        assert_eq!(step.cursor.column, Column(18));
    }

    #[test]
    fn a_split_at_the_ends_keeps_the_line() {
        let (mut song, line) = song(["Em     C", "She rang", "   ,"]);
        let step = split(&song, line, Column(0)).unwrap();
        make(&mut song, &step);
        check(&song, 0, ["", "", ""]);
        check(&song, 1, ["Em     C", "She rang", "   ,"]);
        let step = split(&song, line, Column(8)).unwrap();
        make(&mut song, &step);
        check(&song, 1, ["Em     C", "She rang", "   ,"]);
        check(&song, 2, ["", "", ""]);
        assert_eq!(
            split(&song, line, Column(9)).unwrap_err(),
            EditError::PastTheRow(line)
        );
    }

    #[test]
    fn chords_past_the_end_stay_before_the_joined_words() {
        let (mut song, line) = song(["Em         C", "She", ""]);
        let step = new_after(&song, line).unwrap();
        make(&mut song, &step);
        let second = step.cursor.node;
        song.sections[0].lines[1].lyric = "rang".into();
        song.sections[0].lines[1].chords = Some(ChordRow::parse("G"));
        let step = join(&song, line, second).unwrap();
        make(&mut song, &step);
        let tokens: Vec<_> = song.sections[0].lines[0]
            .chords
            .iter()
            .flat_map(|row| &row.0)
            .map(|token| (token.column.0, &*token.text))
            .collect();
        assert_eq!(tokens, [(0, "Em"), (3, "C"), (4, "G")]);
    }

    #[test]
    fn wordings_change_places() {
        let (mut song, line) = song(["    Em", "She rang the bell", "   ,"]);
        let step = add_wording(&song, line, "She pulled the rope").unwrap();
        make(&mut song, &step);
        let step = swap_wording(&song, line, 0).unwrap();
        make(&mut song, &step);
        check(&song, 0, ["    Em", "She pulled the rope", "   ,"]);
        assert_eq!(song.sections[0].lines[0].others, ["She rang the bell"]);
        let step = remove_wording(&song, line, 0).unwrap();
        make(&mut song, &step);
        assert!(swap_wording(&song, line, 0).is_err());
        let step = toggle_mark(&song, line, Column(3)).unwrap();
        make(&mut song, &step);
        assert!(song.sections[0].lines[0].marks.is_empty());
    }
}
