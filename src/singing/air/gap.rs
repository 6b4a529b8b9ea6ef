//! The gap between two syllables, and what a breath may take from the note before it.

use super::{After, From, Sounding};
use crate::singing::voice::{EPSILON, MIN_REST};

/// Seconds that a breath at a line's end may take from a note of so many: up to two thirds, so long as 0.2 s of it sound. Our choice;
/// that singers leave the last note early is common practice.
#[must_use]
pub fn given_at_line_end(note: f64) -> f64 {
    (note * 2.0 / 3.0).min(note - 0.2).max(0.0)
}

/// Seconds that a breath inside a line may take from a note of so many: up to half of it, at most 0.4 s. Our choice.
#[must_use]
pub fn given_inside(note: f64) -> f64 {
    (note / 2.0).clamp(0.0, 0.4)
}

/// What lies between two syllables.
#[derive(Clone, Copy)]
pub(super) struct Gap {
    pub(super) after: usize,
    pub(super) from: Option<From>,
    pub(super) rest: f64,
    pub(super) given: f64,
    pub(super) next_start: f64,
}

impl Gap {
    pub(super) fn between(after: usize, sounding: &Sounding, next: &Sounding) -> Self {
        let rest = (next.start - sounding.end).max(0.0);
        let from = match sounding.after {
            After::Mark => Some(From::Mark),
            After::Added => Some(From::Added),
            After::LineEnd => Some(From::Line),
            After::Nothing if rest >= MIN_REST - EPSILON => Some(From::Rest),
            After::Nothing => None,
        };
        let given = if sounding.line == next.line {
            given_inside(sounding.last_note)
        } else {
            given_at_line_end(sounding.last_note)
        };
        Self {
            after,
            from,
            rest,
            given,
            next_start: next.start,
        }
    }
}
