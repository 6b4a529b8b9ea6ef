//! A tune that cannot be read.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut};
use crate::reading::Reading;
use crate::song::column::Column;
use crate::song::place::{Place, Row};
use crate::song::{NodeId, Song};

/// `tune`.
pub const RULE: Rule = Rule {
    kind: Kind::Tune,
    find,
    ways_out,
    example: "title: Tune\ntunes:\n  verse:\n    - \"C2 E2 ?2 G2 | c8\"\nsections:\n  - lines: [She rang the bell]\n",
};

fn find(song: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    let mut told: Vec<(&str, usize)> = Vec::new();
    for line in &reading.lines {
        let Some((phrase, (tune, index))) = line.phrase.as_ref().zip(line.phrase_name(reading))
        else {
            continue;
        };
        let Some(problem) = phrase.problems.first() else {
            continue;
        };
        if told.contains(&(tune, index)) {
            continue;
        }
        let Some(at) = song.tunes.iter().position(|found| found.name == tune) else {
            continue;
        };
        told.push((tune, index));
        warnings.push(Warning {
            kind: Kind::Tune,
            section: Some(line.section),
            line: Some(line.line),
            place: Place {
                node: NodeId::SONG,
                row: Row::Phrase(at, index),
                column: Column(problem.column),
            },
            message: format!(
                "tune {tune}, phrase {}: column {}: {}",
                index + 1,
                problem.column + 1,
                problem.what
            ),
        });
    }
}

fn ways_out(_: &mut Asking<'_>, _: &Warning) -> Vec<WayOut> {
    Vec::new() // only the writer knows which note was meant
}
