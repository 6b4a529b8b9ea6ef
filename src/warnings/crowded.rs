//! Syllables faster than they can be sung.

use super::asking::Asking;
use super::too_long::faster_than;
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::Reading;
use crate::song::Song;
use crate::wording::figure::short_number;

/// `crowded`.
pub const RULE: Rule = Rule {
    kind: Kind::Crowded,
    find,
    ways_out,
    example: "title: Crowded\nmeter: 4/4\ntempo: 132\nbars: 1\nsections:\n  - lines:\n      - and never a merry and never a happy and never a word from Mary\n",
};

/// The slowest rate that is unusual for the fastest repetition of syllables, and the fewest syllables in a run that count: Icht and
/// Ben-David 2014, Journal of Communication Disorders 48: 27–37 (6.2 syllables a second, SD 0.8; below 5.4 is unusual). That a run
/// above it is crowded is our choice.
const LIMIT: f64 = 5.4;
const RUN: usize = 3;

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for line in &reading.lines {
        let times = reading.times_of(line);
        let fastest = times
            .windows(RUN + 1)
            .enumerate()
            .filter_map(|(index, run)| {
                let (first, last) = (run.first()?, run.last()?);
                #[expect(clippy::cast_precision_loss, reason = "a handful of syllables")]
                let rate = RUN as f64 / (last.start_s - first.start_s);
                Some((index, rate))
            });
        let Some((index, rate)) = fastest
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .filter(|(_, rate)| *rate > LIMIT)
        else {
            continue;
        };
        let Some(syllable) = line.laid.syllables.get(index) else {
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
                short_number(rate),
                short_number(LIMIT)
            ),
        });
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    faster_than(asking, warning, 0.5).into_iter().collect()
}
