//! A phrase that stays at the edges of the singer's range.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::{LineReading, Reading};
use crate::singing::range::{Compass, MUCH_OUTSIDE, reach, sounding};
use crate::song::Song;
use crate::song::column::Column;
use std::sync::Arc;

/// `tessitura`.
pub const RULE: Rule = Rule {
    kind: Kind::Tessitura,
    find,
    ways_out,
    example: "title: Tessitura\nvoice: {range: C4-C5}\nmeter: 4/4\ntempo: 120\ntunes:\n  verse:\n    - \"C2 E2 G2 E2 | C4 z4\"\nsections:\n  - lines: [She rang the bell now]\n",
};

/// The line's notes as they sound, with their seconds.
fn notes(reading: &Reading, line: &LineReading) -> Vec<(i16, f64)> {
    let Some(section) = reading.sections.get(line.section) else {
        return Vec::new();
    };
    let setting = &section.setting;
    let sung = line
        .laid
        .syllables
        .iter()
        .flat_map(|syllable| &syllable.notes);
    sung.map(|(pitch, length)| {
        let note = sounding(*pitch, reading.head.octave, setting.capo);
        (note, setting.tempo.seconds(*length))
    })
    .collect()
}

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    let Some((low, high)) = reading.head.range else {
        return;
    };
    let range = Compass {
        low: low.midi(),
        high: high.midi(),
    };
    let mut said = Vec::new();
    for line in &reading.lines {
        let Some(section) = reading.sections.get(line.section) else {
            continue;
        };
        let moved = reading.head.octave * 12 + section.setting.capo;
        if (line.laid.compass).is_none_or(|compass| range.tessitura().holds_all(compass, moved)) {
            continue;
        }
        // Verses sung to one phrase lie alike: it is said once.
        let phrase = line.phrase.as_ref().map(Arc::as_ptr);
        let found = reach(&notes(reading, line), range);
        // Notes outside the range are a warning of their own.
        let much = found.outside.is_empty() && found.outside_tessitura > MUCH_OUTSIDE + 1e-9;
        if !much || said.contains(&phrase) {
            continue;
        }
        said.push(phrase);
        warnings.push(Warning {
            kind: Kind::Tessitura,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, Column(0)),
            message: format!(
                "{:.0} % of this phrase lies in the lowest 3 or highest 4 semitones of your range",
                found.outside_tessitura * 100.0
            ),
        });
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    super::range::other_heights(asking, warning)
}
