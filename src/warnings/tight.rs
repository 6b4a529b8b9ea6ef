//! A line that takes a deep breath, or the end of the air.

use super::asking::Asking;
use super::too_long::{begun, faster, within_words};
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::Reading;
use crate::singing::air::Verdict;
use crate::singing::voice::{EASY, EPSILON};
use crate::song::Song;
use crate::song::column::Column;
use crate::wording::figure::short_number;

/// `tight`.
pub const RULE: Rule = Rule {
    kind: Kind::Tight,
    find,
    ways_out,
    example: "title: Tight\nmeter: 4/4\ntempo: 84\nbars: 4\nsections:\n  - lines:\n      - The lamp was lit and the lamp was gone\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    let voice = reading.head.voice;
    for stretch in reading
        .air
        .stretches
        .iter()
        .filter(|stretch| stretch.verdict == Verdict::Tight)
    {
        let Some(line) = reading.line_at(stretch.last) else {
            continue;
        };
        let last = warnings.last();
        let is_told = |told: &Warning| {
            told.kind == Kind::Tight
                && (told.section, told.line) == (Some(line.section), Some(line.line))
        };
        if last.is_some_and(is_told) {
            continue; // a line's second stretch
        }
        let since = begun(reading, stretch.first, line);
        let why = if stretch.end >= EASY - EPSILON {
            format!(
                "takes a deep breath{since}: {} s of air, an ordinary breath gives {} s",
                short_number(stretch.need * voice.steady_note),
                short_number(voice.easy_up_to())
            )
        } else {
            format!(
                "goes near the end of the air{since}: {} s of singing left",
                short_number(voice.seconds_left(stretch.end))
            )
        };
        let bad_day = match line.bad_day {
            Some(verdict) if verdict > Verdict::Tight => {
                format!("; {} on a bad day", verdict.words())
            }
            _ => String::new(),
        };
        warnings.push(Warning {
            kind: Kind::Tight,
            section: Some(line.section),
            line: Some(line.line),
            place: in_lyric(line.id, Column(0)),
            message: why + &bad_day,
        });
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let mut ways = within_words(asking, warning, 2);
    ways.extend(faster(asking, warning));
    ways
}
