//! How a way through the candidates is told: its changes with their reasons, its heat, its summary.

use super::difference::Scale;
use super::search;
use super::slot::Slot;
use super::variant::{Candidate, Change, Family, Variant, row_text};
use crate::music::quarters::Quarters;

/// A path as a variant with its reasons.
pub(super) fn told(
    slots: &[Slot],
    usable: &[Vec<&Candidate>],
    path: &search::Path,
    scale: Scale,
) -> Variant {
    let picked: Vec<&Candidate> = usable
        .iter()
        .zip(&path.picks)
        .filter_map(|(here, &pick)| here.get(pick).copied())
        .collect();
    let changes: Vec<Change> = picked
        .iter()
        .enumerate()
        .zip(slots)
        .filter(|((_, candidate), _)| candidate.family != Family::AsWritten)
        .map(|((at, candidate), slot)| {
            let next = picked.get(at + 1).and_then(|next| next.chords.first());
            Change {
                slot: at,
                from: slot
                    .base
                    .as_ref()
                    .map_or_else(String::new, ToString::to_string),
                to: row_text(&candidate.chords),
                rule: candidate.rule,
                why: match next {
                    Some(next) => format!("{}; goes to {}", candidate.why, next.chord),
                    None => candidate.why.clone(),
                },
            }
        })
        .collect();
    let (effect, summary) = summary(&changes, &picked);
    Variant {
        cost: path.cost,
        heat: heat(slots, &picked, scale),
        effect,
        summary,
        chords: picked
            .iter()
            .map(|candidate| candidate.chords.clone())
            .collect(),
        changes,
    }
}

fn heat(slots: &[Slot], picked: &[&Candidate], scale: Scale) -> i64 {
    let sum: Quarters = slots
        .iter()
        .zip(picked)
        .map(|(slot, candidate)| slot.length * i64::from(candidate.difference))
        .sum();
    let count = i64::try_from(slots.len()).unwrap_or(1).max(1);
    (sum * 25 / scale.mean / count).floor()
}

/// "darker", and "3 of 8 chords change: relative minor twice, seventh once; darker".
fn summary(changes: &[Change], picked: &[&Candidate]) -> (&'static str, String) {
    let mut counts: Vec<(&str, &'static str, usize)> = Vec::new();
    for change in changes {
        let word = picked
            .get(change.slot)
            .map_or("", |candidate| candidate.word);
        match counts.iter_mut().find(|(rule, ..)| *rule == change.rule) {
            Some((.., count)) => *count += 1,
            None => counts.push((change.rule, word, 1)),
        }
    }
    counts.sort_by_key(|&(.., count)| std::cmp::Reverse(count));
    let times = |count: usize| match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        more => format!("{more} times"),
    };
    let list: Vec<String> = counts
        .iter()
        .map(|(rule, _, count)| format!("{rule} {}", times(*count)))
        .collect();
    let sounding = picked
        .iter()
        .filter(|candidate| !candidate.chords.is_empty())
        .count();
    let verb = if changes.len() == 1 {
        "changes"
    } else {
        "change"
    };
    let effect = counts.first().map_or("", |(_, word, _)| word);
    let text = format!(
        "{} of {sounding} chords {verb}: {}; {effect}",
        changes.len(),
        list.join(", ")
    );
    (effect, text)
}
