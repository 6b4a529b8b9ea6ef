//! How well a chord fits the melody over it.
//!
//! The kinds of note that does not belong to a chord follow Open Music Theory (Gotham and others, 2021, "Embellishing
//! Tones"); tensions and notes to avoid are common teaching of jazz harmony (a whole tone above a tone of the chord is at ease, a semitone
//! above one is not). Which notes are at ease with which kind, and all prices, are our choice.

use super::melody::{Part, STRONG};
use crate::music::chord::Chord;
use crate::music::meter::Meter;
use crate::music::quarters::Quarters;

/// What a note is to a chord.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoteKind {
    /// One of its tones, or its bass.
    ChordTone,
    /// Not one of its tones, and at ease with them: a ninth, a sixth.
    Tension,
    /// On the way by step from one tone to another.
    Passing,
    /// A step away from a tone and back.
    Neighbour,
    /// Held or struck again from before the change, then a step further.
    Suspension,
    /// Reached by leap, left by step.
    Appoggiatura,
    /// Reached by step, left by leap.
    Escape,
    /// The next chord's tone, early.
    Anticipation,
    /// None of these.
    Unexplained,
    /// None of these, strong, long, and a semitone above a tone of the chord.
    Clash,
}

impl NoteKind {
    /// What it costs the fit, in hundredths, on a strong place or a weak one.
    const fn price(self, strong: bool) -> i64 {
        match self {
            Self::ChordTone => 0,
            Self::Tension => 25,
            Self::Passing | Self::Neighbour => {
                if strong {
                    60
                } else {
                    30
                }
            }
            Self::Suspension => 40,
            Self::Appoggiatura => {
                if strong {
                    80
                } else {
                    60
                }
            }
            Self::Escape | Self::Anticipation => 60,
            Self::Unexplained => 100,
            Self::Clash => 400,
        }
    }
}

/// What a note is to a chord; where it is several things, the one that disturbs least. `next` is the chord after it.
#[must_use]
pub fn kind_of(part: &Part, chord: &Chord, next: Option<&Chord>, meter: Meter) -> NoteKind {
    use NoteKind::{
        Anticipation, Appoggiatura, ChordTone, Clash, Escape, Neighbour, Passing, Suspension,
        Tension, Unexplained,
    };
    let class = part.class();
    if chord.sounds(class) {
        return ChordTone;
    }
    let strong = part.weight >= STRONG;
    let step = |moved: i16| (1..=2).contains(&moved.abs());
    // Both as the tune moves: to here, and on from here.
    let (from, to) = (part.from.map(|o| -o.moved), part.to.map(|o| o.moved));
    let mut kinds = Vec::with_capacity(4);
    if is_tension(class, chord) {
        kinds.push(Tension);
    }
    if let (Some(from), Some(to)) = (from, to) {
        match (step(from), step(to)) {
            (true, true) if from.signum() == to.signum() && between_tones(part, chord) => {
                kinds.push(Passing)
            }
            (true, true) if from == -to => kinds.push(Neighbour),
            (false, true) => kinds.push(Appoggiatura),
            (true, false) if !strong => kinds.push(Escape),
            _ => {}
        }
    }
    let resolves = part.to.is_some_and(|o| step(o.moved));
    if part.came == Some(0) && part.at_change && resolves {
        kinds.push(Suspension);
    }
    if part.goes == Some(0) && part.last && !strong && next.is_some_and(|c| c.sounds(class)) {
        kinds.push(Anticipation);
    }
    kinds
        .into_iter()
        .min_by_key(|kind| kind.price(strong))
        .unwrap_or_else(|| {
            // A beat of 6/8 is long; a quarter note on it clashes as well.
            let long = part.length >= meter.beat().min(Quarters::ONE);
            if strong && long && chord.sounds((class + 11) % 12) {
                Clash
            } else {
                Unexplained
            }
        })
}

/// Whether both neighbours are tones of the chord, as far as they sound over it; one of them may be a second passing note.
fn between_tones(part: &Part, chord: &Chord) -> bool {
    let lands = |other: Option<super::melody::Other>| {
        other.is_some_and(|o| match o.class_within {
            Some(class) if chord.sounds(class) => true,
            Some(_) => o.class_beyond.is_some_and(|class| chord.sounds(class)),
            None => true,
        })
    };
    lands(part.from) && lands(part.to)
}

/// Whether a note that is no tone of the chord is at ease with it: a whole tone above one of its tones as a rule, and never a
/// semitone above one.
fn is_tension(class: u8, chord: &Chord) -> bool {
    if chord.sounds((class + 11) % 12) {
        return false;
    }
    let above_root = (12 + class - chord.root().class()) % 12;
    let has = |degree, semitones| {
        chord
            .intervals()
            .iter()
            .any(|t| t.degree == degree && t.semitones == semitones)
    };
    let at_ease: &[u8] = if has(7, 9) {
        &[2, 5, 8, 11]
    } else if has(5, 6) && chord.is_minor() {
        &[5, 8]
    } else if chord.is_minor() && (chord.has_seventh() || has(6, 9)) {
        &[2, 5]
    } else if chord.is_minor() {
        &[2, 5, 10]
    } else if chord.third().is_none() && !has(4, 5) && !has(2, 2) {
        &[2, 3, 4, 5, 9, 10]
    } else {
        &[2, 9]
    };
    at_ease.contains(&above_root)
}

/// How much of the melody's weight disturbs the chord: 0 where all is chord tone, 1 where nothing is explained. `None` where a
/// note clashes. A span without notes fits any chord.
///
/// The mean of the notes' prices, each weighed with its length in quarters and its place in the bar.
#[must_use]
pub fn misfit(parts: &[Part], chord: &Chord, next: Option<&Chord>, meter: Meter) -> Option<Misfit> {
    let mut sum = Misfit::default();
    for part in parts {
        let kind = kind_of(part, chord, next, meter);
        if kind == NoteKind::Clash {
            return None;
        }
        sum.weight += part.length * part.weight;
        sum.price += part.length * (part.weight * kind.price(part.weight >= STRONG));
    }
    Some(sum)
}

/// A weighed sum over notes; sums of several spans add.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Misfit {
    weight: Quarters,
    price: Quarters,
}

impl Misfit {
    /// Both sums together, for two chords in one slot.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            weight: self.weight + other.weight,
            price: self.price + other.price,
        }
    }

    /// The mean, as an exact fraction.
    #[must_use]
    pub fn share(self) -> Quarters {
        self.price / self.weight / 100
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;
    use crate::harmony::examples;
    use crate::harmony::melody::Melody;

    /// What the note at `note` of a melody is to a chord that sounds from the beginning of slot 1; slot 0 is what leads there.
    fn kind(before: &str, melody: &str, note: usize, chord: &str) -> NoteKind {
        let mut slots = examples::slots("C C C");
        examples::sing(&mut slots, 0, before);
        examples::sing(&mut slots, 1, melody);
        let meter = slots[1].meter;
        let parts = Melody::of(&slots).within(meter, slots[1].start, slots[1].end());
        kind_of(&parts[note], &Chord::parse(chord).unwrap(), None, meter)
    }

    #[test]
    fn notes_are_what_textbooks_call_them() {
        use NoteKind::{
            Appoggiatura, ChordTone, Clash, Escape, Neighbour, Passing, Suspension, Tension,
            Unexplained,
        };
        for (before, melody, note, chord, expected) in [
            ("", "E4 1 D4 1 C4 2", 1, "C", Tension),
            ("", "E4 1 F4 1 E4 2", 1, "C", Neighbour),
            ("", "G4 2 F4 1 E4 1", 1, "C", Passing),
            ("- 3 F4 1", "F4 2 E4 2", 0, "C", Suspension),
            ("- 3 A4 1", "F4 2 A4 2", 0, "C", Clash),
            ("- 3 C4 1", "F4 1 E4 1 C4 2", 0, "C", Appoggiatura),
            ("", "E4 1 F4 1 C4 2", 1, "C", Escape),
            ("", "C4 1 F4 1 C4 2", 1, "C", Unexplained),
            ("", "E4 1 C4 1 G4 2", 2, "C", ChordTone),
            ("", "G4 2 B4 2", 1, "G/B", ChordTone),
            // Two passing notes fill a fourth.
            ("", "G4 1 A4 1 B4 1 C5 1", 2, "C", Passing),
            ("", "G4 1 A4 1 B4 1 C5 1", 1, "C5", Tension),
        ] {
            assert_eq!(
                kind(before, melody, note, chord),
                expected,
                "{before} {melody} over {chord}"
            );
        }
    }

    #[test]
    fn repeated_notes_move_like_one() {
        // Words part a note in two; it still passes.
        assert_eq!(kind("", "G4 1 F4 1 F4 1 E4 1", 1, "C"), NoteKind::Passing);
    }

    #[test]
    fn a_rest_explains_nothing() {
        assert_eq!(kind("", "E4 1 - 1 F4 1 E4 1", 1, "C"), NoteKind::Clash);
        assert_eq!(
            misfit(&[], &Chord::parse("C").unwrap(), None, Meter::COMMON)
                .unwrap()
                .share(),
            Quarters::ZERO
        );
    }
}
