//! Bars that do not add up: chords past a line's end, bars of a tune that are not as long as the meter says.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::Reading;
use crate::song::Song;
use crate::song::column::Column;
use crate::song::place::{Place, Row};
use crate::wording::figure::counted;

/// `bars`.
pub const RULE: Rule = Rule {
    kind: Kind::Bars,
    find,
    ways_out,
    example: "title: Bars\nmeter: 4/4\nsections:\n  - lines:\n      - {chords: '| Em | C | G | D |', lyric: She rang the bell}\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    let mut told: Vec<(&str, usize)> = Vec::new();
    for line in &reading.lines {
        if line.row.lost > 0 {
            warnings.push(Warning {
                kind: Kind::Bars,
                section: Some(line.section),
                line: Some(line.line),
                place: Place {
                    node: line.id,
                    row: Row::Chords,
                    column: Column(0),
                },
                message: format!(
                    "{} past the line's end and never sound",
                    counted(line.row.lost, "chord stands", "chords stand")
                ),
            });
        }
        let Some((phrase, (tune, index))) = line.phrase.as_ref().zip(line.phrase_name(reading))
        else {
            continue;
        };
        let uneven = phrase.uneven_bars(line.laid.meter);
        let Some((bar, length)) = uneven.first() else {
            continue;
        };
        if told.contains(&(tune, index)) {
            continue;
        }
        told.push((tune, index));
        warnings.push(Warning {
            kind: Kind::Bars,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, Column(0)),
            message: format!(
                "tune {tune}, phrase {}, bar {bar} lasts {length} quarter notes; {} has {} in a bar",
                index + 1,
                line.laid.meter,
                line.laid.meter.bar()
            ),
        });
    }
}

fn ways_out(_: &mut Asking<'_>, _: &Warning) -> Vec<WayOut> {
    Vec::new() // which note or chord is one too many, only the writer knows
}
