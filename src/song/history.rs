//! Undo and redo.
//!
//! A history is a list of steps, each the edits that take it back and the cursor on both sides of it. Taking a step back gives
//! the edits that make it again, so that undoing and redoing the same number of times gives the same song. A run of typing
//! is one step: signs typed, or erased, one after the other in one row, until [`History::end_run`] or the cursor moves.

use super::Song;
use super::edit::{Edit, EditError, Value};
use super::place::{Place, Row};

/// The changes made to a song since it was opened.
#[derive(Clone, Debug, Default)]
pub struct History {
    done: Vec<Step>,
    undone: Vec<Step>,
    run: Option<Run>,
    /// Counts every state of the song that was ever recorded.
    states: u64,
    saved: u64,
}

/// A change that can be taken back, or made again.
#[derive(Clone, Debug)]
struct Step {
    /// What leads out of the state: for a step done, the edits that undo it, last first made; for one undone, those that make it again.
    edits: Vec<Edit>,
    before: Option<Place>,
    after: Option<Place>,
    state: u64,
}

/// What a run of typing does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Run {
    Typing,
    Erasing,
    Chords,
}

impl History {
    /// Notes an edit that was made: the edit that takes it back, and the cursor before and after. What was undone can no longer be redone.
    pub fn record(&mut self, edit: &Edit, back: Edit, before: Option<Place>, after: Option<Place>) {
        self.undone.clear();
        self.states += 1;
        let run = run_of(edit, after);
        if let Some(step) = self.done.last_mut()
            && run.is_some()
            && run == self.run
            && before.is_some()
            && step.after == before
            && step.state != self.saved
        {
            step.edits.push(back);
            step.after = after;
            step.state = self.states;
        } else {
            self.done.push(Step {
                edits: vec![back],
                before,
                after,
                state: self.states,
            });
        }
        self.run = run;
    }

    /// Ends a run of typing: the next sign typed begins a step of its own.
    pub const fn end_run(&mut self) {
        self.run = None;
    }

    /// Takes the last step back, and gives the cursor as it was before it; `None` where nothing is left to undo.
    ///
    /// # Errors
    /// Only where the song was changed past this history; song and history are then as they were.
    pub fn undo(&mut self, song: &mut Song) -> Result<Option<Option<Place>>, EditError> {
        let moved = turn(song, &mut self.done, &mut self.undone)?;
        self.run = None;
        Ok(moved.map(|(before, _)| before))
    }

    /// Makes the last step undone again, and gives the cursor as it was after it; `None` where nothing is left to redo.
    ///
    /// # Errors
    /// As [`History::undo`].
    pub fn redo(&mut self, song: &mut Song) -> Result<Option<Option<Place>>, EditError> {
        let moved = turn(song, &mut self.undone, &mut self.done)?;
        self.run = None;
        Ok(moved.map(|(_, after)| after))
    }

    /// Whether there is a step to undo.
    #[must_use]
    pub const fn can_undo(&self) -> bool {
        !self.done.is_empty()
    }

    /// Whether there is a step to redo.
    #[must_use]
    pub const fn can_redo(&self) -> bool {
        !self.undone.is_empty()
    }

    /// A number for the state the song is in now; the same again after undo and redo, and no other state has it.
    #[must_use]
    pub fn state(&self) -> u64 {
        self.done.last().map_or(0, |step| step.state)
    }

    /// Notes that the song as it is now is what the file holds.
    pub fn mark_saved(&mut self) {
        self.mark_saved_at(self.state());
    }

    /// Notes that the file holds the song as it was in that state (see [`History::state`]).
    pub const fn mark_saved_at(&mut self, state: u64) {
        self.saved = state;
        self.run = None;
    }

    /// Whether the song is as it was when last saved, also where undo or redo led back to it.
    #[must_use]
    pub fn is_saved(&self) -> bool {
        self.state() == self.saved
    }
}

/// The cursor before and after a step.
type Cursors = (Option<Place>, Option<Place>);

/// Makes the edits of the last of `from`, and puts the edits that lead back on `onto`.
fn turn(
    song: &mut Song,
    from: &mut Vec<Step>,
    onto: &mut Vec<Step>,
) -> Result<Option<Cursors>, EditError> {
    let Some(mut step) = from.pop() else {
        return Ok(None);
    };
    step.edits.reverse();
    let group = Edit::Group(std::mem::take(&mut step.edits));
    match song.apply(&group) {
        Ok(back) => {
            let cursors = (step.before, step.after);
            step.edits = vec![back];
            onto.push(step);
            Ok(Some(cursors))
        }
        Err(error) => {
            if let Edit::Group(mut edits) = group {
                edits.reverse();
                step.edits = edits;
            }
            from.push(step);
            Err(error)
        }
    }
}

fn run_of(edit: &Edit, after: Option<Place>) -> Option<Run> {
    match edit {
        Edit::Splice { remove: 0, .. } => Some(Run::Typing),
        Edit::Splice { insert, .. } if insert.is_empty() => Some(Run::Erasing),
        Edit::Set {
            value: Value::Chords(_),
            ..
        } if after.is_some_and(|place| place.row == Row::Chords) => Some(Run::Chords),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;
    use crate::song::column::Column;

    fn place(song: &Song, column: usize) -> Place {
        Place {
            node: song.sections[0].lines[0].id,
            row: Row::Lyric,
            column: Column(column),
        }
    }

    fn type_at(song: &mut Song, history: &mut History, column: usize, text: &str) {
        let before = place(song, column);
        let edit = Edit::Splice {
            node: before.node,
            row: before.row,
            at: before.column,
            remove: 0,
            insert: text.to_owned(),
        };
        let back = song.apply(&edit).unwrap();
        let after = place(song, column + Column::end_of(text).0);
        history.record(&edit, back, Some(before), Some(after));
    }

    #[test]
    fn a_run_of_typing_is_one_step() {
        let mut song = Song::new("Ferry");
        let start = song.clone();
        let mut history = History::default();
        for (column, sign) in ["b", "e", "l", "l"].iter().enumerate() {
            type_at(&mut song, &mut history, column, sign);
        }
        type_at(&mut song, &mut history, 0, "T");
        let typed = song.clone();
        assert_eq!(song.sections[0].lines[0].lyric, "Tbell");
        let cursor = history.undo(&mut song).unwrap();
        assert_eq!(cursor, Some(Some(place(&song, 0))));
        assert_eq!(song.sections[0].lines[0].lyric, "bell");
        history.undo(&mut song).unwrap();
        assert_eq!(song, start);
        assert_eq!(history.undo(&mut song).unwrap(), None);
        history.redo(&mut song).unwrap();
        let cursor = history.redo(&mut song).unwrap();
        assert_eq!(cursor, Some(Some(place(&song, 1))));
        assert_eq!(song, typed);
    }

    #[test]
    fn the_saved_state_is_found_again() {
        let mut song = Song::new("Ferry");
        let mut history = History::default();
        assert!(history.is_saved());
        type_at(&mut song, &mut history, 0, "a");
        history.mark_saved();
        type_at(&mut song, &mut history, 1, "b");
        assert!(!history.is_saved());
        history.undo(&mut song).unwrap();
        assert!(history.is_saved());
        history.undo(&mut song).unwrap();
        assert!(!history.is_saved());
        type_at(&mut song, &mut history, 0, "a");
        assert!(!history.is_saved() && !history.can_redo());
    }

    #[test]
    fn a_song_changed_past_its_history_is_told() {
        let mut song = Song::new("Ferry");
        let mut history = History::default();
        type_at(&mut song, &mut history, 0, "bell");
        let mut other = Song::new("Other");
        other.sections.clear();
        assert!(history.undo(&mut other).is_err());
        assert!(history.can_undo());
        history.undo(&mut song).unwrap();
        assert_eq!(song, Song::new("Ferry"));
    }
}
