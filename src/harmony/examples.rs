//! Small sections written as text, for examples of rules and for tests.
//!
//! Chords a bar of 4/4 each, `/` for the end of a line, `N.C.` for none; melodies as pitches with lengths in quarters.

use super::slot::{Setting, Slot, SlotNote, Style};
use crate::music::chord_row::Token;
use crate::music::key::Key;
use crate::music::meter::Meter;
use crate::music::pitch::Pitch;
use crate::music::quarters::Quarters;

/// The slots of a row of chords, whose melody nobody knows.
#[must_use]
pub fn slots(chords: &str) -> Vec<Slot> {
    let mut slots: Vec<Slot> = Vec::new();
    let bar = Meter::COMMON.bar();
    for text in chords.split_whitespace() {
        if text == "/" {
            if let Some(last) = slots.last_mut() {
                last.line_end = true;
            }
            continue;
        }
        let base = match Token::parse(text) {
            Ok(Token::Chord(chord)) => Some(chord),
            _ => None,
        };
        let start = slots.last().map_or(Quarters::ZERO, Slot::end);
        slots.push(Slot {
            base,
            meter: Meter::COMMON,
            start,
            length: bar,
            notes: Vec::new(),
            notes_known: false,
            line_end: false,
        });
    }
    if let Some(last) = slots.last_mut() {
        last.line_end = true;
    }
    slots
}

/// Gives one slot its melody, and all others silence where they have none yet.
pub fn sing(slots: &mut [Slot], at: usize, melody: &str) {
    for slot in slots.iter_mut() {
        slot.notes_known = true;
    }
    let Some(slot) = slots.get_mut(at) else {
        return;
    };
    slot.notes.clear();
    let mut start = slot.start;
    let mut words = melody.split_whitespace();
    while let (Some(name), Some(length)) = (words.next(), words.next()) {
        let length = length
            .parse()
            .map_or(Quarters::ZERO, |n: i64| Quarters::from(n));
        if let Some(pitch) = Pitch::parse(name) {
            slot.notes.push(SlotNote {
                pitch,
                start,
                length,
            });
        }
        start += length;
    }
}

/// A setting without a mood; C major where the key is none.
#[must_use]
pub fn setting(key: &str, style: Style) -> Setting {
    Setting {
        key: Key::parse(key).unwrap_or(Key::C_MAJOR),
        style,
        mood: String::new(),
    }
}
