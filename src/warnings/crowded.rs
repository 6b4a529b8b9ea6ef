//! Syllables faster than they can be sung.

use super::asking::Asking;
use super::too_long::faster_than;
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::Reading;
use crate::singing::pace::{CROWDED, Pace, runs};
use crate::song::Song;
use crate::wording::figure::short_number;

/// `crowded`.
pub const RULE: Rule = Rule {
    kind: Kind::Crowded,
    find,
    ways_out,
    example: "title: Crowded\nmeter: 4/4\ntempo: 132\nbars: 1\nsections:\n  - lines:\n      - and never a merry and never a happy and never a word from Mary\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    let mut starts = Vec::new();
    for line in &reading.lines {
        let times = reading.times_of(line);
        starts.clear();
        starts.extend(times.iter().map(|time| time.start_s));
        let end = times.last().map_or(0.0, |time| time.end_s);
        let fastest = runs(&starts, end)
            .into_iter()
            .filter(|run| run.pace == Pace::Crowded)
            .max_by(|a, b| a.per_second.total_cmp(&b.per_second));
        let Some(run) = fastest else { continue };
        let Some(syllable) = line.laid.syllables.get(run.first) else {
            continue;
        };
        let word = line
            .laid
            .words
            .get(syllable.word)
            .map_or("", |word| word.text.as_str());
        warnings.push(Warning {
            kind: Kind::Crowded,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, syllable.column),
            message: format!(
                "from \u{201c}{word}\u{201d} on {} syllables a second: hard to sing above {}",
                short_number(run.per_second),
                short_number(CROWDED)
            ),
        });
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let mut ways = asking.wordings(warning);
    ways.extend(faster_than(asking, warning, 0.75));
    ways
}
