//! The places between the beats of a line. Which of them light syllables take is our choice.

use crate::music::quarters::Quarters;

/// Where a pickup of so many syllables falls, before the slot's beginning.
pub(super) fn pickup(unit: Quarters, count: usize) -> Vec<Quarters> {
    let halves = i64::try_from(count).unwrap_or(i64::MAX);
    let before: Vec<i64> = match halves {
        1 => vec![2],
        3 => vec![4, 2, 1],
        other => (1..=other).rev().collect(),
    };
    before
        .into_iter()
        .map(|halves| -unit * halves / 2)
        .collect()
}

/// Where so many light syllables fall after a line beat and before the next, counted from that beat.
pub(super) fn between(span: Quarters, unit: Quarters, count: usize) -> Vec<Quarters> {
    let units = span / unit;
    let quarters: &[i64] = match (units.numerator(), units.denominator(), count) {
        (_, _, 0) => &[],
        (2, 1, 1) => &[4],
        (2, 1, 2) => &[4, 6],
        (2, 1, 3) => &[2, 4, 6],
        (3, 1, 1) => &[8],
        (3, 1, 2) => &[4, 8],
        (3, 1, 3) => &[4, 8, 10],
        (3, 1, 4) => &[4, 6, 8, 10],
        (3, 1, 5) => &[2, 4, 6, 8, 10],
        (4, 1, 1) => &[8],
        (4, 1, 2) => &[8, 12],
        (4, 1, 3) => &[4, 8, 12],
        (4, 1, 4) => &[4, 8, 12, 14],
        (6, 1, 1) => &[12],
        (6, 1, 2) => &[12, 20],
        (6, 1, 3) => &[8, 12, 20],
        (6, 1, 4) => &[8, 12, 16, 20],
        (8 | 12, 1, 1..=4) => {
            return between(span / 2, unit, count)
                .into_iter()
                .map(|offset| offset * 2)
                .collect();
        }
        _ => return evenly(span, unit, count),
    };
    quarters
        .iter()
        .map(|quarters| unit * *quarters / 4)
        .collect()
}

/// Spread over the coarsest grid that has room for all.
fn evenly(span: Quarters, unit: Quarters, count: usize) -> Vec<Quarters> {
    let count = i64::try_from(count).unwrap_or(i64::MAX - 1);
    let mut step = unit;
    while (span / step).floor() <= count && step > unit / 64 {
        step = step / 2;
    }
    let steps = (span / step).floor();
    if steps <= count {
        return (1..=count)
            .map(|index| span * index / (count + 1))
            .collect();
    }
    (1..=count)
        .map(|index| step * (index * steps / (count + 1)))
        .collect()
}
