//! Whether a melody sounds like the key it is written in.
//!
//! The method is Krumhansl and Schmuckler's (Krumhansl, Cognitive Foundations of Musical Pitch, 1990, chapter 4): the lengths of the twelve
//! notes are correlated with how well each fits a key, as listeners rated it. It serves to doubt a key, never to overrule the
//! writer, since modal tunes mislead it.

use super::slot::SlotNote;
use crate::music::key::{Key, Mode};
use crate::music::pitch::Note;

/// How well the twelve notes upward from the tonic fit a major key, after Krumhansl and Kessler ("Tracing the dynamic changes in
/// perceived tonal organization in a spatial representation of musical keys", Psychological Review 89, 1982, p. 334).
const MAJOR: [f64; 12] = [
    6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88,
];

/// The same for a minor key.
const MINOR: [f64; 12] = [
    6.33, 2.68, 3.52, 5.38, 2.60, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17,
];

/// From this difference of correlations on a key is doubted. Our choice.
const DOUBTFUL: f64 = 0.15;

/// A key that a melody fits better than the one it is written in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// The other key, major or minor.
    pub better: Key,
    /// How well the melody fits it, from −1 to 1.
    pub fits_better: f64,
    /// How well it fits the written key.
    pub fits_written: f64,
}

/// The correlation of a melody's notes, by their lengths, with the key's profile, from −1 to 1; a mode counts as major or minor by its
/// third. `None` where there is nothing to compare: no notes, or all twelve equally long.
#[must_use]
pub fn correlation(notes: &[SlotNote], key: Key) -> Option<f64> {
    let profile = if key.is_minor() { MINOR } else { MAJOR };
    let tonic = usize::from(key.tonic().class());
    let mut lengths = [0.0; 12];
    for note in notes {
        let above = (12 + usize::from(note.pitch.note.class()) - tonic) % 12;
        if let Some(length) = lengths.get_mut(above) {
            *length += note.length.to_f64();
        }
    }
    pearson(&lengths, &profile)
}

fn pearson(xs: &[f64; 12], ys: &[f64; 12]) -> Option<f64> {
    let mean = |values: &[f64; 12]| values.iter().sum::<f64>() / 12.0;
    let (mean_x, mean_y) = (mean(xs), mean(ys));
    let (mut both, mut of_x, mut of_y) = (0.0, 0.0, 0.0);
    for (x, y) in xs.iter().zip(ys) {
        let (x, y) = (x - mean_x, y - mean_y);
        both += x * y;
        of_x += x * x;
        of_y += y * y;
    }
    let size = (of_x * of_y).sqrt();
    (size > 1e-9).then(|| both / size)
}

/// All major and minor keys and how well a melody fits each, best first.
#[must_use]
pub fn ranked(notes: &[SlotNote]) -> Vec<(Key, f64)> {
    let tonics = [
        "C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B", "C#", "G#", "D#", "A#",
    ];
    let mut ranked: Vec<(Key, f64)> = Vec::new();
    for mode in [Mode::Ionian, Mode::Aeolian] {
        for note in tonics.into_iter().filter_map(Note::parse) {
            // Of two names for one key the first that a signature can write.
            let known =
                |(key, _): &(Key, f64)| key.mode() == mode && key.tonic().class() == note.class();
            let Some(key) = Key::new(note, mode).filter(|_| !ranked.iter().any(known)) else {
                continue;
            };
            ranked.extend(correlation(notes, key).map(|r| (key, r)));
        }
    }
    ranked.sort_by(|(_, a), (_, b)| b.total_cmp(a));
    ranked
}

/// The key that a melody fits clearly better than the one it is written in, if there is one. Another mode on the same tonic, and
/// another tonic with the same signature, are never meant: these a profile cannot tell from modes.
#[must_use]
pub fn doubt(notes: &[SlotNote], written: Key) -> Option<Doubt> {
    let fits_written = correlation(notes, written)?;
    let (better, fits_better) = ranked(notes).into_iter().next()?;
    let related =
        better.tonic().class() == written.tonic().class() || better.fifths() == written.fifths();
    (!related && fits_better - fits_written >= DOUBTFUL).then_some(Doubt {
        better,
        fits_better,
        fits_written,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;
    use crate::harmony::examples;

    fn sung(melody: &str) -> Vec<SlotNote> {
        let mut slots = examples::slots("C");
        examples::sing(&mut slots, 0, melody);
        slots.remove(0).notes
    }

    #[test]
    fn a_scale_in_d_is_not_in_e_flat() {
        let notes = sung("D4 4 E4 1 F#4 2 G4 1 A4 3 B4 1 C#5 1 D5 4");
        let written = |name: &str| doubt(&notes, Key::parse(name).unwrap());
        assert_eq!(written("Eb").unwrap().better.to_string(), "D");
        for at_ease in ["D", "Bm", "Edor", "Ddor", "Amix"] {
            assert_eq!(written(at_ease), None, "{at_ease}");
        }
    }

    #[test]
    fn nothing_is_said_without_notes() {
        assert_eq!(doubt(&[], Key::C_MAJOR), None);
        assert_eq!(ranked(&sung("C4 1")).len(), 24);
    }
}
