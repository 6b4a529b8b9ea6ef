//! A line that takes a deep breath, or the end of the air.

use super::asking::Asking;
use super::too_long::{faster, within_words};
use super::{Kind, Rule, Warning, WayOut, in_lyric};
use crate::reading::Reading;
use crate::singing::air::Verdict;
use crate::song::Song;
use crate::wording::figure::short_number;

/// `tight`.
pub const RULE: Rule = Rule {
    kind: Kind::Tight,
    find,
    ways_out,
    example: "title: Tight\nmeter: 4/4\ntempo: 84\nbars: 4\nsections:\n  - lines:\n      - The lamp was lit and the lamp was gone\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for line in reading
        .lines
        .iter()
        .filter(|line| line.verdict == Some(Verdict::Tight))
    {
        let left = line.seconds_left.unwrap_or(0.0);
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
            place: in_lyric(line.id, crate::song::column::Column(0)),
            message: format!(
                "takes a deep breath or the end of the air: {} s of singing left{bad_day}",
                short_number(left)
            ),
        });
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let mut ways = within_words(asking, warning, 2);
    ways.extend(faster(asking, warning));
    ways
}
