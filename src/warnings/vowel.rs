//! A long high note on a vowel that does not carry there.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::Reading;
use crate::song::Song;

/// `vowel`.
pub const RULE: Rule = Rule {
    kind: Kind::Vowel,
    find,
    ways_out,
    example: "title: Vowel\nmeter: 4/4\ntempo: 100\ntunes:\n  verse:\n    - \"c2 e2 f4 | c4 z4\"\nsections:\n  - lines: [Come to me now]\n",
};

/// From this note on (E5, MIDI 76) about half of high sung syllables are understood, and closed vowels fare worst: a review in
/// studies of high-pitched vowels (Deme 2014) puts 50 % near 650 Hz; /a/ lasts longest. Which vowels we name is our choice.
const HIGH: i16 = 76;
/// A note is long from one second on; our choice.
const LONG: f64 = 1.0;

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for line in &reading.lines {
        let Some(section) = reading.sections.get(line.section) else {
            continue;
        };
        let shift = reading.head.octave * 12 + section.setting.capo;
        if line
            .laid
            .compass
            .is_none_or(|compass| compass.high + shift < HIGH)
        {
            continue;
        }
        let closed = line.laid.syllables.iter().find(|syllable| {
            syllable.is_closed
                && syllable.notes.iter().any(|(pitch, length)| {
                    pitch.midi() + shift >= HIGH && section.setting.tempo.seconds(*length) >= LONG
                })
        });
        let Some(syllable) = closed else { continue };
        warnings.push(Warning {
            kind: Kind::Vowel,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, syllable.column),
            message: format!("\u{201c}{}\u{201d} is long and high on a closed vowel: open it, or set another word there", syllable.text),
        });
    }
}

fn ways_out(_: &mut Asking<'_>, _: &Warning) -> Vec<WayOut> {
    Vec::new() // another word is the writer's to find
}
