//! Making an edit, and telling the edit that takes it back.

use super::chord_row::{ChordRow, ChordToken};
use super::column::Column;
use super::edit::{Edit, EditError, Position, Value};
use super::field::Field;
use super::place::{Place, Row, Shift, Side, carried, map};
use super::splice::Splice;
use super::{Line, Node, NodeId, Song, Tune};

impl Song {
    /// Makes an edit, and gives the one that takes it back: after both, the song is equal to before.
    ///
    /// # Errors
    /// [`EditError`] says why an edit cannot be made; the song is then as it was.
    ///
    /// ```
    /// use breathmark::song::{Song, column::Column, edit::Edit, place::Row};
    /// let mut song = Song::new("Ferry");
    /// let before = song.clone();
    /// let node = song.sections[0].lines[0].id;
    /// let typed = Edit::Splice { node, row: Row::Lyric, at: Column(0), remove: 0, insert: "She rang".into() };
    /// let back = song.apply(&typed).unwrap();
    /// assert_eq!(song.sections[0].lines[0].lyric, "She rang");
    /// song.apply(&back).unwrap();
    /// assert_eq!(song, before);
    /// ```
    pub fn apply(&mut self, edit: &Edit) -> Result<Edit, EditError> {
        self.apply_with(edit, &mut [])
    }

    /// Makes an edit as [`Song::apply`] does, and carries places through it, each on its side; those whose node or row is gone become `None`.
    ///
    /// # Errors
    /// As [`Song::apply`]; the places are then as they were.
    pub fn apply_with(
        &mut self,
        edit: &Edit,
        places: &mut [(Option<Place>, Side)],
    ) -> Result<Edit, EditError> {
        if let Edit::Group(steps) = edit {
            let kept: Vec<_> = places.to_vec();
            let mut backs = Vec::with_capacity(steps.len());
            for step in steps {
                match self.apply_with(step, places) {
                    Ok(back) => backs.push(back),
                    Err(error) => {
                        places.copy_from_slice(&kept);
                        while let Some(back) = backs.pop() {
                            self.apply(&back)?;
                        }
                        return Err(error);
                    }
                }
            }
            backs.reverse();
            return Ok(Edit::Group(backs));
        }
        let mapped: Vec<_> = places
            .iter()
            .map(|(place, side)| place.and_then(|place| map(place, edit, self, *side)))
            .collect();
        let back = self.apply_one(edit)?;
        for (place, mapped) in places.iter_mut().zip(mapped) {
            place.0 = mapped;
        }
        Ok(back)
    }

    fn apply_one(&mut self, edit: &Edit) -> Result<Edit, EditError> {
        match edit {
            Edit::Splice {
                node,
                row,
                at,
                remove,
                insert,
            } => self.splice(*node, *row, *at, *remove, insert),
            Edit::Insert { to, node } => self.insert(*to, node),
            Edit::Remove { node } => {
                let (to, node) = self.take(*node)?;
                let node = Box::new(node);
                Ok(Edit::Insert { to, node })
            }
            Edit::Move { node, to } => {
                let (from, taken) = self.take(*node)?;
                if let Err(error) = self.accepts(*to, &taken) {
                    self.put(from, taken)?;
                    return Err(error);
                }
                self.put(*to, taken)?;
                Ok(Edit::Move {
                    node: *node,
                    to: from,
                })
            }
            Edit::Set { node, value } => Ok(Edit::Set {
                node: *node,
                value: self.set(*node, value)?,
            }),
            Edit::Group(_) => self.apply_with(edit, &mut []),
        }
    }

    fn insert(&mut self, to: Position, node: &Node) -> Result<Edit, EditError> {
        let mut highest = 0;
        for (index, id) in node.ids().enumerate() {
            let twice = id == NodeId::SONG
                || self.position_of(id).is_some()
                || node.ids().take(index).any(|earlier| earlier == id);
            if twice {
                return Err(EditError::Twice(id));
            }
            highest = highest.max(id.0);
        }
        self.put(to, node.clone())?;
        self.next_id = self.next_id.max(highest.saturating_add(1));
        Ok(Edit::Remove { node: node.id() })
    }

    fn splice(
        &mut self,
        node: NodeId,
        row: Row,
        at: Column,
        remove: usize,
        insert: &str,
    ) -> Result<Edit, EditError> {
        let missing = EditError::NoSuchRow(node);
        let text = self.row_text(node, row).ok_or(missing)?;
        let splice = Splice::new(&text, at, remove, insert).ok_or(EditError::PastTheRow(node))?;
        let back = Edit::Splice {
            node,
            row,
            at: splice.shift.at,
            remove: splice.shift.inserted,
            insert: splice.removed.clone(),
        };
        match row {
            Row::Value(field) => {
                let was_unset = self
                    .values_of(node)
                    .is_some_and(|values| values.get(field).is_none());
                self.set(node, &Value::Field(field, Some(splice.text)))?;
                Ok(if was_unset {
                    let value = Value::Field(field, None);
                    Edit::Set { node, value }
                } else {
                    back
                })
            }
            Row::Other(index) => {
                let other = self
                    .line_mut(node)
                    .and_then(|line| line.others.get_mut(index));
                *other.ok_or(missing)? = splice.text;
                Ok(back)
            }
            Row::Lyric => {
                let line = self.line_mut(node).ok_or(missing)?;
                Ok(splice_lyric(line, splice, back))
            }
            Row::Phrase(tune, phrase) => {
                self.write_phrase(tune, phrase, splice.text).ok_or(missing)
            }
            Row::Chords => Err(missing),
        }
    }

    /// Writes a phrase, beginning a phrase or a tune where there is none; emptied at the tune's end it goes, and so does the last tune where it has none left.
    fn write_phrase(&mut self, tune: usize, phrase: usize, text: String) -> Option<Edit> {
        let before = self.tunes.clone();
        if tune == self.tunes.len() {
            let name = self.next_tune()?;
            let phrases = Vec::new();
            self.tunes.push(Tune { name, phrases });
        }
        let phrases = &mut self.tunes.get_mut(tune)?.phrases;
        match phrases.get_mut(phrase) {
            Some(written) => *written = text,
            None => phrases.push(text),
        }
        if phrase + 1 == phrases.len() && phrases.last().is_some_and(String::is_empty) {
            phrases.pop();
        }
        // Only the last tune can go and come again in the same row; another stays, without phrases.
        if phrases.is_empty() && tune + 1 == self.tunes.len() {
            let emptied = self.tunes.pop()?;
            if self.next_tune().as_ref() != Some(&emptied.name) {
                self.tunes.push(emptied);
            }
        }
        Some(Edit::Set {
            node: NodeId::SONG,
            value: Value::Tunes(before),
        })
    }

    /// Sets a value, and gives the value that stood there.
    fn set(&mut self, node: NodeId, value: &Value) -> Result<Value, EditError> {
        match value {
            Value::Field(field, text) => {
                let owner = self.owner_of(node).ok_or(EditError::NoSuchNode(node))?;
                Field::named(field.name(), owner).ok_or(EditError::NoSuchValue(node))?;
                let values = self.values_mut(node).ok_or(EditError::NoSuchNode(node))?;
                Ok(Value::Field(*field, values.set(*field, text.clone())))
            }
            Value::Word(..) | Value::Words(_) | Value::Tune(..) | Value::Tunes(_) => {
                if node == NodeId::SONG {
                    Ok(self.set_of_song(value))
                } else {
                    Err(EditError::NoSuchValue(node))
                }
            }
            Value::Chords(_) | Value::Marks(_) | Value::Lyric(_) | Value::Others(_) => {
                let line = self.line_mut(node).ok_or(EditError::NoSuchNode(node))?;
                set_of_line(line, value)
            }
        }
    }

    fn set_of_song(&mut self, value: &Value) -> Value {
        match value {
            Value::Word(word, reading) => {
                let mut words = self.words.clone();
                let found = words.iter().position(|(found, _)| found == word);
                match (found, reading) {
                    (Some(index), None) => {
                        words.remove(index);
                    }
                    (Some(index), Some(reading)) => {
                        if let Some(entry) = words.get_mut(index) {
                            entry.1.clone_from(reading);
                        }
                    }
                    (None, Some(reading)) => words.push((word.clone(), reading.clone())),
                    (None, None) => {}
                }
                Value::Words(std::mem::replace(&mut self.words, words))
            }
            Value::Tune(name, phrases) => {
                let mut tunes = self.tunes.clone();
                let found = tunes.iter().position(|tune| tune.name == *name);
                match (found, phrases) {
                    (Some(index), None) => {
                        tunes.remove(index);
                    }
                    (Some(index), Some(phrases)) => {
                        if let Some(tune) = tunes.get_mut(index) {
                            tune.phrases.clone_from(phrases);
                        }
                    }
                    (None, Some(phrases)) => tunes.push(Tune {
                        name: name.clone(),
                        phrases: phrases.clone(),
                    }),
                    (None, None) => {}
                }
                Value::Tunes(std::mem::replace(&mut self.tunes, tunes))
            }
            Value::Words(words) => Value::Words(std::mem::replace(&mut self.words, words.clone())),
            Value::Tunes(tunes) => Value::Tunes(std::mem::replace(&mut self.tunes, tunes.clone())),
            Value::Field(..)
            | Value::Chords(_)
            | Value::Marks(_)
            | Value::Lyric(_)
            | Value::Others(_) => value.clone(),
        }
    }
}

/// Replaces a line's lyric, its chords and breath marks going with their syllables.
fn splice_lyric(line: &mut Line, splice: Splice, back: Edit) -> Edit {
    let chords = line
        .chords
        .as_ref()
        .map(|row| carry_chords(row, &splice.shift));
    let marks = carry_marks(&line.marks, &splice.shift);
    // Does the plain way back bring all of them home? Otherwise they are put back by hand.
    let returning = Shift {
        at: splice.shift.at,
        removed: splice.shift.inserted,
        inserted: splice.shift.removed,
        end: Column(splice.shift.end.0 - splice.shift.removed + splice.shift.inserted),
    };
    let node = line.id;
    let mut steps = vec![back];
    if chords.as_ref().map(|row| carry_chords(row, &returning)) != line.chords {
        let value = Value::Chords(line.chords.clone());
        steps.push(Edit::Set { node, value });
    }
    if carry_marks(&marks, &returning) != line.marks {
        let value = Value::Marks(line.marks.clone());
        steps.push(Edit::Set { node, value });
    }
    line.lyric = splice.text;
    line.chords = chords;
    line.marks = marks;
    match steps.len() {
        1 => steps.swap_remove(0),
        _ => Edit::Group(steps),
    }
}

fn carry_chords(row: &ChordRow, shift: &Shift) -> ChordRow {
    let carry = |token: &ChordToken| ChordToken {
        column: carried(token.column, shift, Side::WithSyllable),
        text: token.text.clone(),
    };
    ChordRow(row.0.iter().map(carry).collect())
}

fn carry_marks(marks: &[Column], shift: &Shift) -> Vec<Column> {
    let mut marks: Vec<Column> = marks
        .iter()
        .map(|&mark| carried(mark, shift, Side::WithSyllable))
        .collect();
    marks.dedup();
    marks
}

fn set_of_line(line: &mut Line, value: &Value) -> Result<Value, EditError> {
    match value {
        Value::Chords(chords) => {
            if chords.as_ref().is_some_and(|row| !is_in_order(row)) {
                return Err(EditError::Disordered(line.id));
            }
            Ok(Value::Chords(std::mem::replace(
                &mut line.chords,
                chords.clone(),
            )))
        }
        Value::Marks(marks) => {
            if !marks.is_sorted_by(|mark, next| mark < next) {
                return Err(EditError::Disordered(line.id));
            }
            Ok(Value::Marks(std::mem::replace(
                &mut line.marks,
                marks.clone(),
            )))
        }
        Value::Lyric(lyric) => Ok(Value::Lyric(std::mem::replace(
            &mut line.lyric,
            lyric.clone(),
        ))),
        Value::Others(others) => Ok(Value::Others(std::mem::replace(
            &mut line.others,
            others.clone(),
        ))),
        Value::Field(..)
        | Value::Word(..)
        | Value::Words(_)
        | Value::Tune(..)
        | Value::Tunes(_) => Err(EditError::NoSuchValue(line.id)),
    }
}

fn is_in_order(row: &ChordRow) -> bool {
    row.0.is_sorted_by_key(|token| token.column)
        && row
            .0
            .iter()
            .all(|token| !token.text.is_empty() && !token.text.contains(char::is_whitespace))
}
