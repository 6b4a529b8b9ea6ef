//! What a word that nobody has listed sounds like, estimated from its letters by a model trained on the dictionary.
//!
//! Each letter is answered by none, one or two sounds, vowels with their stress. The probability of an answer depends on
//! the letters around and on the answers before (a maximum-entropy model: Ratnaparkhi 1996, Proceedings of EMNLP:
//! 133–142), and the likeliest answers are sought from left to right with a beam. `cargo run --release --example
//! train-letters` trains it and prints its figures. On 2920 words that were held out together with all their relatives,
//! names among them, 95.6 % had a listed number of syllables and 67.3 % a listed string of phones; on the 1004 of these
//! that have relatives in the dictionary, as names have not, 97.3 % and 74.7 %.

pub mod context;
pub mod table;

use super::phone::{Sound, Stress};
use context::{Answer, Context, Letters, Past};
use table::{SCALE, Table};

static TRAINED: &[u8] = include_bytes!("data/letters.bin");

/// Readings kept at each letter, answers tried for each, and readings given. Our choice.
const BEAM: usize = 4;
const TRIED: usize = 6;
const GIVEN: usize = 3;
/// An answer or a reading so much less likely than the best, in nats, is given up. Our choice.
const HOPELESS: f32 = 6.0;

/// A way that a word may sound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Estimate {
    /// At least one vowel, and exactly one of them with primary stress.
    pub sounds: Vec<Sound>,
    /// Its negative log probability in thousandths; the likelihood of two readings is as *e* to their difference.
    pub cost: u32,
}

/// The likeliest ways to say a word in lower-case letters a–z and apostrophes, at most three, likeliest first.
///
/// Other signs are passed over; where no letter is left there is no estimate. The time grows with the length only.
///
/// ```
/// use breathmark::words::model::estimate;
/// let said: Vec<String> = estimate("blenting")[0].sounds.iter().map(|sound| sound.to_string()).collect();
/// assert_eq!(said.join(" "), "B L EH1 N T IH0 NG");
/// ```
#[must_use]
pub fn estimate(letters: &str) -> Vec<Estimate> {
    Table::new(TRAINED).map_or_else(Vec::new, |table| estimate_with(&table, letters))
}

/// As [`estimate`], by another table.
#[must_use]
pub fn estimate_with(table: &Table<'_>, letters: &str) -> Vec<Estimate> {
    let numbers: Vec<u8> = letters.bytes().filter_map(context::number).collect();
    if numbers.iter().all(|number| *number > 26) {
        return Vec::new();
    }
    let mut found: Vec<(Vec<Sound>, f32)> = Vec::new();
    for (answers, score) in decode(table, &numbers) {
        let sounds = repaired(said(table, &answers), &numbers);
        // One string of sounds can come of the letters in several ways.
        match found.iter_mut().find(|other| other.0 == sounds) {
            Some(other) => other.1 = other.1.max(score) + (-(other.1 - score).abs()).exp().ln_1p(),
            None => found.push((sounds, score)),
        }
    }
    found.sort_by(|a, b| b.1.total_cmp(&a.1));
    found.truncate(GIVEN);
    found
        .into_iter()
        .map(|(sounds, score)| Estimate {
            sounds,
            cost: thousandths(-score),
        })
        .collect()
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a cast from a float keeps within the bounds"
)]
fn thousandths(cost: f32) -> u32 {
    (cost.max(0.0) * 1000.0).round() as u32
}

/// A reading of the letters so far.
#[derive(Clone, Copy)]
struct State {
    past: Past,
    score: f32,
    answer: u16,
    before: usize,
}

struct Candidate {
    number: u16,
    answer: Answer,
    sounds: Vec<Sound>,
    /// The weights of all contexts that do not depend on the past.
    sum: i32,
}

fn sum(table: &Table<'_>, contexts: &[Context], answer: &Answer) -> i32 {
    contexts
        .iter()
        .map(|context| table.weight(context.key(answer)))
        .sum()
}

/// The best answers to a letter by what does not depend on the past.
fn candidates(
    table: &Table<'_>,
    letter: u8,
    beside: [u8; 4],
    contexts: &[Context],
) -> Vec<Candidate> {
    let mut candidates: Vec<(i32, u16, Answer)> = table
        .candidates(letter, beside)
        .map(|number| {
            let answer = table.answer(number);
            (sum(table, contexts, &answer), number, answer)
        })
        .collect();
    let best = candidates.iter().map(|candidate| candidate.0).max();
    let best = best.unwrap_or(0);
    candidates.retain(|candidate| (best - candidate.0) as f32 <= HOPELESS * SCALE);
    candidates.sort_by_key(|candidate| std::cmp::Reverse(candidate.0));
    candidates.truncate(TRIED);
    let with_sounds = candidates
        .into_iter()
        .map(|(sum, number, answer)| Candidate {
            number,
            answer,
            sounds: table.said(number).sounds().collect(),
            sum,
        });
    with_sounds.collect()
}

/// The readings in the beam behind the last letter, an answer a letter, with their log probabilities.
fn decode(table: &Table<'_>, numbers: &[u8]) -> Vec<(Vec<u16>, f32)> {
    let letters = Letters::new(numbers);
    let start = State {
        past: Past::nothing(),
        score: 0.0,
        answer: u16::MAX,
        before: 0,
    };
    let mut steps: Vec<Vec<State>> = Vec::with_capacity(numbers.len());
    let mut states = vec![start];
    let mut contexts = Vec::with_capacity(48);
    let mut scores = Vec::with_capacity(TRIED);
    for (at, letter) in numbers.iter().enumerate() {
        letters.around(at, &mut contexts);
        let candidates = candidates(table, *letter, letters.beside(at), &contexts);
        let mut next: Vec<State> = Vec::with_capacity(BEAM * TRIED);
        for (before, state) in states.iter().enumerate() {
            letters.behind(at, &state.past, &mut contexts);
            scores.clear();
            scores.extend(candidates.iter().map(|candidate| {
                (candidate.sum + sum(table, &contexts, &candidate.answer)) as f32 / SCALE
            }));
            let highest = scores.iter().copied().fold(f32::MIN, f32::max);
            let total = highest
                + scores
                    .iter()
                    .map(|score| (score - highest).exp())
                    .sum::<f32>()
                    .ln();
            for (candidate, score) in candidates.iter().zip(&scores) {
                let second_primary = state.past.has_primary()
                    && candidate
                        .sounds
                        .iter()
                        .any(|sound| sound.stress == Some(Stress::Primary));
                // A second main stress is out of question wherever there is another answer.
                let penalty = if second_primary { 20.0 } else { 0.0 };
                next.push(State {
                    past: state.past.then(candidate.number, &candidate.sounds),
                    score: state.score + score - total - penalty,
                    answer: candidate.number,
                    before,
                });
            }
        }
        let best = next
            .iter()
            .map(|state| state.score)
            .fold(f32::MIN, f32::max);
        next.retain(|state| best - state.score <= HOPELESS);
        next.sort_by(|a, b| b.score.total_cmp(&a.score));
        next.truncate(BEAM);
        steps.push(std::mem::replace(&mut states, next.clone()));
        if at + 1 == numbers.len() {
            steps.push(next);
        }
    }
    let last = steps.last().map(Vec::as_slice).unwrap_or_default();
    // Where a reading has its main stress, one without any is not offered.
    let any_primary = last.iter().any(|state| state.past.has_primary());
    let kept = last
        .iter()
        .filter(|state| state.past.has_primary() == any_primary);
    kept.map(|state| (traced(&steps, state), state.score))
        .collect()
}

/// The sounds of the answers to all letters.
fn said(table: &Table<'_>, answers: &[u16]) -> Vec<Sound> {
    let answers = answers.iter();
    answers
        .flat_map(|answer| table.said(*answer).sounds())
        .collect()
}

/// The answers to all letters on the way to a state.
fn traced(steps: &[Vec<State>], last: &State) -> Vec<u16> {
    let mut answers = Vec::with_capacity(steps.len());
    let mut state = last;
    for states in steps.iter().rev().skip(1) {
        answers.push(state.answer);
        let Some(before) = states.get(state.before) else {
            break;
        };
        state = before;
    }
    answers.reverse();
    answers
}

/// The names of the letters, for what has no vowel.
#[rustfmt::skip]
const NAMES: [&str; 26] = [
    "EY1", "B IY1", "S IY1", "D IY1", "IY1", "EH1 F", "JH IY1", "EY1 CH", "AY1", "JH EY1", "K EY1", "EH1 L", "EH1 M", "EH1 N",
    "OW1", "P IY1", "K Y UW1", "AA1 R", "EH1 S", "T IY1", "Y UW1", "V IY1", "D AH1 B AH0 L Y UW0", "EH1 K S", "W AY1", "Z IY1",
];

/// Makes sure of a vowel and of exactly one main stress: of several the last stays; where there is none it falls on the
/// last vowel with secondary stress, else on the first vowel that is not neutral, else on the first. Our choice.
fn repaired(mut sounds: Vec<Sound>, numbers: &[u8]) -> Vec<Sound> {
    if !sounds.iter().any(|sound| sound.is_vowel()) {
        let names = numbers
            .iter()
            .filter_map(|number| NAMES.get(usize::from(number.checked_sub(1)?)));
        sounds = names
            .filter_map(|name| Sound::parse_all(name))
            .flatten()
            .collect();
    }
    let last = |stress: Stress| {
        sounds
            .iter()
            .rposition(|sound| sound.stress == Some(stress))
    };
    let neutral = |sound: &Sound| sound.phone == super::phone::Phone::AH;
    let main = last(Stress::Primary)
        .or_else(|| last(Stress::Secondary))
        .or_else(|| {
            sounds
                .iter()
                .position(|sound| sound.is_vowel() && !neutral(sound))
        })
        .or_else(|| sounds.iter().position(|sound| sound.is_vowel()));
    for (at, sound) in sounds.iter_mut().enumerate() {
        if Some(at) == main {
            sound.stress = Some(Stress::Primary);
        } else if sound.stress == Some(Stress::Primary) {
            sound.stress = Some(Stress::Secondary);
        }
    }
    sounds
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::words::syllables::count;
    use proptest::prelude::*;

    fn check_form(estimate: &Estimate) {
        let primary = estimate
            .sounds
            .iter()
            .filter(|sound| sound.stress == Some(Stress::Primary));
        assert_eq!(primary.count(), 1, "{:?}", estimate.sounds);
    }

    /// Answers, rows and weights of a table for *a* and *b* alone, with weights in no order.
    fn small_table(weight: impl Fn(usize, usize) -> i8) -> Vec<u8> {
        let answers = ["", "AH0", "AA1", "B"].map(|sounds| Sound::parse_all(sounds).unwrap());
        let rows = vec![vec![0, 1, 2], vec![0, 3]];
        let bucket = |bucket| {
            (0..=3_u8)
                .map(|slot| (slot.wrapping_mul(83), weight(bucket, usize::from(slot))))
                .collect()
        };
        let weights: Vec<Vec<(u8, i8)>> = (0..table::BUCKETS).map(bucket).collect();
        let possible = vec![u64::MAX; table::LETTERS * table::SIDES * table::BESIDE];
        table::write(&answers, &rows, &possible, &weights)
    }

    /// Log probabilities of all ways to answer, one letter after the other.
    fn all_ways(table: &Table<'_>, numbers: &[u8]) -> Vec<(Vec<Sound>, f32)> {
        let letters = Letters::new(numbers);
        let mut ways = vec![(Vec::new(), Past::nothing(), 0.0_f32)];
        for (at, letter) in numbers.iter().enumerate() {
            let mut longer = Vec::new();
            for (sounds, past, score) in &ways {
                let (mut contexts, mut of_past) = (Vec::new(), Vec::new());
                letters.around(at, &mut contexts);
                letters.behind(at, past, &mut of_past);
                contexts.append(&mut of_past);
                let chances: Vec<(u16, f32)> = table
                    .candidates(*letter, letters.beside(at))
                    .map(|number| {
                        (
                            number,
                            (sum(table, &contexts, &table.answer(number)) as f32 / SCALE).exp(),
                        )
                    })
                    .collect();
                let total: f32 = chances.iter().map(|chance| chance.1).sum();
                for (number, chance) in chances {
                    let own: Vec<Sound> = table.said(number).sounds().collect();
                    let again = past.has_primary()
                        && own
                            .iter()
                            .any(|sound| sound.stress == Some(Stress::Primary));
                    let penalty = if again { 20.0 } else { 0.0 };
                    let all = sounds.iter().chain(&own).copied().collect();
                    longer.push((
                        all,
                        past.then(number, &own),
                        score + (chance / total).ln() - penalty,
                    ));
                }
            }
            ways = longer;
        }
        let any = ways.iter().any(|way| way.1.has_primary());
        let kept = ways.into_iter().filter(|way| way.1.has_primary() == any);
        kept.map(|(sounds, _, score)| (sounds, score)).collect()
    }

    #[test]
    fn the_decoder_finds_what_trying_everything_finds() {
        let bytes =
            small_table(|bucket, slot| i8::try_from((bucket * 7 + slot * 31) % 5).unwrap() - 2);
        let table = Table::new(&bytes).unwrap();
        for numbers in [vec![1], vec![2, 1], vec![1, 2]] {
            let found = decode(&table, &numbers);
            for (answers, score) in &found {
                let sounds = said(&table, answers);
                let same =
                    |way: &&(Vec<Sound>, f32)| way.0 == sounds && (way.1 - score).abs() < 1e-3;
                assert!(
                    all_ways(&table, &numbers).iter().any(|way| same(&way)),
                    "{sounds:?} {score}"
                );
            }
            let best = all_ways(&table, &numbers)
                .into_iter()
                .max_by(|a, b| a.1.total_cmp(&b.1))
                .unwrap();
            assert!((found[0].1 - best.1).abs() < 1e-3);
        }
    }

    #[test]
    fn the_trained_table_is_whole() {
        let table = Table::new(TRAINED).unwrap();
        for letter in 1..=27 {
            for beside in [[30, 30, 30, 30], [letter; 4], [17, 26, 10, 27]] {
                let answers = table.candidates(letter, beside).count();
                assert!(answers > 0, "letter {letter} has no answer");
            }
        }
        assert!(TRAINED.len() < 1_200_000);
    }

    /// Words of the dictionary, on which the table was trained: a guard against a wrong table, no measure of quality.
    #[test]
    fn well_known_words_sound_as_listed() {
        let words = [
            "ferry",
            "lantern",
            "wandering",
            "sorrow",
            "sailor",
            "silver",
            "candle",
            "kingdom",
            "weather",
            "remember",
            "glorious",
        ];
        for word in words {
            let listed: Vec<Vec<Sound>> = crate::words::dictionary::lookup(word)
                .map(|said| said.sounds().collect())
                .collect();
            let estimate = estimate(word).remove(0);
            assert!(
                listed
                    .iter()
                    .any(|sounds| count(sounds) == count(&estimate.sounds)),
                "{word}: {estimate:?}"
            );
        }
    }

    #[test]
    fn without_a_vowel_the_letters_are_named() {
        let numbers: Vec<u8> = "tv".bytes().filter_map(context::number).collect();
        let spelled = repaired(Vec::new(), &numbers);
        assert_eq!(spelled, Sound::parse_all("T IY2 V IY1").unwrap());
        assert_eq!(estimate(""), []);
        assert_eq!(estimate("'"), []);
        assert_eq!(estimate("é 4"), []);
    }

    #[test]
    fn a_very_long_word_is_answered() {
        let long = "lorelei".repeat(1430);
        for estimate in estimate(&long) {
            check_form(&estimate);
            assert!(count(&estimate.sounds) > 2000);
        }
    }

    proptest! {
        #[test]
        fn any_text_is_answered(text in ".{0,40}") {
            let has_letter = text.bytes().any(|byte| byte.is_ascii_lowercase());
            let estimates = estimate(&text);
            prop_assert_eq!(!estimates.is_empty(), has_letter);
            estimates.iter().for_each(check_form);
            prop_assert!(estimates.windows(2).all(|pair| pair[0].cost <= pair[1].cost));
        }

        #[test]
        fn any_word_is_answered(word in "[a-z']{1,24}") {
            let estimates = estimate(&word);
            prop_assert!(estimates.len() <= GIVEN);
            estimates.iter().for_each(check_form);
        }
    }
}
