//! An open song at work: the only door to change it.
//!
//! In: edits with the cursor. Out: the song, what follows from it, what to warn of; always of the same moment.
//! Never: a screen, a file, a clock.

use crate::formats::yaml::read::{Finding, FindingKind, line_in_file};
use crate::reading::Reading;
use crate::reading::memory::Memory;
use crate::reading::read::read;
use crate::song::Song;
use crate::song::column::Column;
use crate::song::edit::{Edit, EditError};
use crate::song::history::History;
use crate::song::place::{Place, Row, Side};
use crate::warnings::{self, Kind, Warning};

/// A song with its history, its reading and its warnings.
#[derive(Debug)]
pub struct Desk {
    song: Song,
    history: History,
    memory: Memory,
    reading: Reading,
    warnings: Vec<Warning>,
    revision: u64,
}

impl Desk {
    /// The song as opened: nothing to undo, nothing unsaved.
    #[must_use]
    pub fn new(song: Song) -> Self {
        let mut memory = Memory::default();
        let reading = read(&song, &mut memory);
        let warnings = warnings::all(&song, &reading);
        Self {
            song,
            history: History::default(),
            memory,
            reading,
            warnings,
            revision: 0,
        }
    }

    /// The song as it stands.
    #[must_use]
    pub const fn song(&self) -> &Song {
        &self.song
    }

    /// What follows from it.
    #[must_use]
    pub const fn reading(&self) -> &Reading {
        &self.reading
    }

    /// What to warn of, in the order of the lines.
    #[must_use]
    pub fn warnings(&self) -> &[Warning] {
        &self.warnings
    }

    /// What was read before; a copy of it makes the worker's first reading as fast as ours.
    #[must_use]
    pub const fn memory(&self) -> &Memory {
        &self.memory
    }

    /// A number that grows with every change, undo and redo; an answer to a question asked at another revision is out of date.
    #[must_use]
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// Whether the song differs from what was last saved or opened.
    #[must_use]
    pub fn unsaved(&self) -> bool {
        !self.history.is_saved()
    }

    /// A number for the song's present state, to be given to [`Desk::saved`] when a save of it has succeeded.
    #[must_use]
    pub fn state(&self) -> u64 {
        self.history.state()
    }

    /// Says that the song as it was in that state is what the file holds.
    pub const fn saved(&mut self, state: u64) {
        self.history.mark_saved_at(state);
    }

    /// Makes an edit. The cursor was at `before`; it will be at `after`, or where the edit carries it. Gives where it is then:
    /// `None` where its row is gone.
    ///
    /// # Errors
    /// As [`Song::apply`]; then nothing has changed.
    pub fn edit(
        &mut self,
        edit: &Edit,
        before: Place,
        after: Option<Place>,
    ) -> Result<Option<Place>, EditError> {
        let mut carried = [(Some(before), Side::Behind)];
        let back = self.song.apply_with(edit, &mut carried)?;
        let [(mapped, _)] = carried;
        let cursor = after.or(mapped);
        self.history.record(edit, back, Some(before), cursor);
        self.follow();
        Ok(cursor)
    }

    /// A fresh identity for a line or section that an edit will insert.
    pub fn build<T>(&mut self, builder: impl FnOnce(&mut Song) -> T) -> T {
        builder(&mut self.song)
    }

    /// Ends a run of typing: the next sign typed can be undone by itself.
    pub const fn end_run(&mut self) {
        self.history.end_run();
    }

    /// Takes the last step back. Gives the cursor as it was before it; `None` where there is nothing to undo.
    pub fn undo(&mut self) -> Option<Option<Place>> {
        let moved = self.history.undo(&mut self.song).ok().flatten();
        self.follow_if(moved.is_some());
        moved
    }

    /// Makes the last step undone again. Gives the cursor as it was after it; `None` where there is nothing to redo.
    pub fn redo(&mut self) -> Option<Option<Place>> {
        let moved = self.history.redo(&mut self.song).ok().flatten();
        self.follow_if(moved.is_some());
        moved
    }

    fn follow_if(&mut self, moved: bool) {
        if moved {
            self.follow();
        }
    }

    fn follow(&mut self) {
        self.revision += 1;
        self.reading = read(&self.song, &mut self.memory);
        self.warnings = warnings::all(&self.song, &self.reading);
    }
}

/// What was found odd in the file, as a remark at its node.
#[must_use]
pub fn remark_of(finding: &Finding, reading: &Reading) -> Warning {
    let line = reading.lines.iter().find(|line| line.id == finding.node);
    let section = reading
        .sections
        .iter()
        .position(|section| section.id == finding.node);
    Warning {
        kind: match finding.kind {
            FindingKind::UnknownKey => Kind::UnknownKey,
            FindingKind::Value => Kind::Value,
            FindingKind::Typing => Kind::Typing,
        },
        section: line.map(|line| line.section).or(section),
        line: line.map(|line| line.line),
        place: Place {
            node: finding.node,
            row: Row::Lyric,
            column: Column(0),
        },
        message: finding.message.to_string(),
    }
}

/// Adds to a warning about a value the line of the file on which the value stands.
pub fn name_the_line(song: &Song, warning: &mut Warning) {
    if warning.kind != Kind::Value {
        return;
    }
    let Row::Value(field) = warning.place.row else {
        return;
    };
    if let Some(line) = line_in_file(song, warning.place.node, field.name()) {
        warning.message = format!("line {line}: {}", warning.message);
    }
}
