//! A line that breaks the pattern of the verses, or a verse with more or fewer lines.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric, notes};
use crate::reading::{LineReading, Reading, SectionReading};
use crate::song::Song;
use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::place::{Place, Row};
use crate::wording::figure::counted;
use std::collections::HashMap;

/// `pattern`.
pub const RULE: Rule = Rule {
    kind: Kind::Pattern,
    find,
    ways_out,
    example: "title: Pattern\nmeter: 4/4\ntempo: 100\nsections:\n  - lines: [The river ran to sea]\n  - lines: [The lantern burned all night]\n  - lines: [She rang the bell and nobody came to the landing]\n",
};

/// From so many verses on there is a pattern to break.
const VERSES: usize = 3;
/// So many syllables more or fewer are nothing to speak of where the stresses are right: ballads are free in their light syllables.
const FREE: usize = 3;
/// Where the stresses are others too, so many are.
const LITTLE: usize = 1;

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    let lines_of = usual_lines(reading);
    for (index, section) in reading.sections.iter().enumerate() {
        if section.id != section.source {
            continue;
        }
        let own = section.lines.len();
        if let Some(&usual) = lines_of.get(&*section.tie)
            && usual != own
            && own > 0
        {
            warnings.push(Warning {
                kind: Kind::Pattern,
                section: Some(index),
                line: None,
                place: Place {
                    node: section.id,
                    row: Row::Value(Field::Label),
                    column: Column(0),
                },
                message: format!(
                    "{} where most verses sung like it have {usual}",
                    counted(own, "line", "lines")
                ),
            });
        }
        let lines = reading.lines.get(section.lines.clone()).unwrap_or_default();
        for line in lines.iter().filter(|line| breaks(line)) {
            let (has, usual) = (line.shape, line.verses_shape);
            warnings.push(Warning {
                kind: Kind::Pattern,
                section: Some(line.section),
                line: Some(line.line),
                place: in_lyric(line.id, Column(0)),
                message: format!(
                    "{} and {}; the verses have {} and {} here",
                    counted(has.syllables, "syllable", "syllables"),
                    counted(has.beats, "stress", "stresses"),
                    usual.syllables,
                    usual.beats
                ),
            });
        }
    }
}

fn breaks(line: &LineReading) -> bool {
    let (has, usual) = (line.shape, line.verses_shape);
    let off = has.syllables.abs_diff(usual.syllables);
    let much = off > FREE || (off > LITTLE && has.beats != usual.beats);
    // Where syllables and notes hardly fit, that is said already.
    let said = !line.laid.notes.is_empty() && line.laid.misfits > notes::MOST;
    line.verses >= VERSES && has.syllables > 0 && much && !said
}

/// How many lines most sections of a tune have, where there are verses enough and more than half agree.
fn usual_lines(reading: &Reading) -> HashMap<&str, usize> {
    let mut lengths: HashMap<&str, Vec<usize>> = HashMap::new();
    let with_words =
        |section: &&SectionReading| section.id == section.source && !section.lines.is_empty();
    for section in reading.sections.iter().filter(with_words) {
        lengths
            .entry(&section.tie)
            .or_default()
            .push(section.lines.len());
    }
    let usual = |(tie, mut lengths): (_, Vec<usize>)| {
        lengths.sort_unstable();
        let middle = *lengths.get(lengths.len() / 2)?;
        let agree = lengths.iter().filter(|length| **length == middle).count();
        (lengths.len() >= VERSES && agree * 2 > lengths.len()).then_some((tie, middle))
    };
    lengths.into_iter().filter_map(usual).collect()
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    asking.wordings(warning)
}
