//! Notes outside the singer's range.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::music::pitch::Pitch;
use crate::reading::Reading;
use crate::singing::range::{Compass, sounding};
use crate::song::edit::{Edit, Value};
use crate::song::field::Field;
use crate::song::{NodeId, Song};
use crate::wording::figure::counted;

/// `range`.
pub const RULE: Rule = Rule {
    kind: Kind::Range,
    find,
    ways_out,
    example: "title: Range\nvoice: {range: C4-C5}\nmeter: 4/4\ntempo: 120\ntunes:\n  verse:\n    - \"C2 E2 G2 e2 | c4 z4\"\nsections:\n  - lines: [She rang the bell again]\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    let Some((low, high)) = reading.head.range else {
        return;
    };
    for line in &reading.lines {
        let capo = reading
            .sections
            .get(line.section)
            .map_or(0, |section| section.setting.capo);
        let range = Compass {
            low: low.midi(),
            high: high.midi(),
        };
        let moved = reading.head.octave * 12 + capo;
        if (line.laid.compass).is_none_or(|compass| range.holds_all(compass, moved)) {
            continue;
        }
        let sung = line.laid.syllables.iter().flat_map(|syllable| {
            syllable
                .notes
                .iter()
                .map(move |(pitch, _)| (syllable, *pitch))
        });
        let sounds = |pitch| sounding(pitch, reading.head.octave, capo);
        let outside = |midi: i16| (low.midi() - midi).max(midi - high.midi());
        let worst = sung
            .map(|(syllable, pitch)| (outside(sounds(pitch)), syllable, pitch))
            .max_by_key(|(by, ..)| *by);
        let Some((by, syllable, pitch)) = worst.filter(|(by, ..)| *by > 0) else {
            continue;
        };
        let above = sounds(pitch) > high.midi();
        warnings.push(Warning {
            kind: Kind::Range,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, syllable.column),
            message: format!(
                "{pitch} on \u{201c}{}\u{201d} {} {} {} your {} note, {}",
                syllable.text,
                match moved {
                    0 => "is".to_owned(),
                    _ => format!("sounds as {},", as_sung(pitch, reading.head.octave, capo)),
                },
                counted(usize::from(by.unsigned_abs()), "semitone", "semitones"),
                if above { "above" } else { "below" },
                if above { "highest" } else { "lowest" },
                if above { high } else { low },
            ),
        });
    }
}

/// A written note as it sounds: the same letter in another octave, or with a capo the usual name of that semitone.
fn as_sung(written: Pitch, octave: i16, capo: i16) -> String {
    const NAMES: [&str; 12] = [
        "C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B",
    ];
    let midi = sounding(written, octave, capo);
    let name = usize::try_from(midi.rem_euclid(12)).map(|step| NAMES.get(step).copied());
    match name {
        Ok(Some(name)) if capo != 0 => format!("{name}{}", midi.div_euclid(12) - 1),
        _ => format!("{}{}", written.note, i16::from(written.octave) + octave),
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    other_heights(asking, warning)
}

/// The nearest capo, and the octaves, at which the warning ends.
pub(super) fn other_heights(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let mut ways = Vec::new();
    let capo = asking.reading.head.setting.capo;
    let mut frets: Vec<i16> = (0..=7).filter(|fret| *fret != capo).collect();
    frets.sort_by_key(|fret| (fret - capo).abs());
    for fret in frets {
        if !ways.is_empty() || asking.stopped() {
            break;
        }
        let edit = Edit::Set {
            node: NodeId::SONG,
            value: Value::Field(Field::Capo, Some(fret.to_string())),
        };
        let moved = counted(
            usize::from((fret - capo).unsigned_abs()),
            "semitone",
            "semitones",
        );
        let text = format!(
            "capo at fret {fret}: all sounds {moved} {}",
            if fret > capo { "higher" } else { "lower" }
        );
        ways.extend(
            asking
                .way(warning, "capo", text, edit)
                .map(|way| way.with_figure(f64::from(fret), "fret")),
        );
    }
    let octave = asking.reading.head.octave;
    for other in [octave - 1, octave + 1] {
        let edit = Edit::Set {
            node: NodeId::SONG,
            value: Value::Field(Field::Octave, Some(other.to_string())),
        };
        let text = format!(
            "sing it an octave {}",
            if other > octave { "higher" } else { "lower" }
        );
        ways.extend(
            asking
                .way(warning, "octave", text, edit)
                .map(|way| way.with_figure(f64::from(other), "octaves")),
        );
    }
    ways
}
