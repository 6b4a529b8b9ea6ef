//! Syllables and notes that hardly fit.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::Reading;
use crate::song::Song;
use crate::song::column::Column;

/// `notes`.
pub const RULE: Rule = Rule {
    kind: Kind::Notes,
    find,
    ways_out,
    example: "title: Notes\nmeter: 4/4\ntempo: 80\ntunes:\n  verse:\n    - \"C4 E4 | G4 z4\"\nsections:\n  - lines: [She rang the bell at the water gate]\n",
};

/// So many notes may be split or drawn out in a line without a word. Our choice.
pub const MOST: usize = 2;

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for line in &reading.lines {
        if line.laid.notes.is_empty() || line.laid.misfits <= MOST {
            continue;
        }
        warnings.push(Warning {
            kind: Kind::Notes,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, Column(0)),
            message: format!(
                "{} syllables on {} notes: {} of them have to be split or drawn out",
                line.laid.syllables.len(),
                line.laid.places.unwrap_or(line.laid.notes.len()),
                line.laid.misfits
            ),
        });
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    asking.wordings(warning)
}
