//! Which sounds each letter of a word stands for: none, one or two, found by expectation–maximization.
//!
//! Every way to part the sounds among the letters is allowed at first and equally likely; nine rounds of forward–backward
//! over (letters × sounds) settle the probabilities (Bisani and Ney 2008, Speech Communication 50: 434–451, section 3,
//! with one letter on the left side). The single best parting of each word is then kept.

use breathmark::words::model::context::Letters;
use breathmark::words::model::table;
use breathmark::words::phone::Sound;

use std::collections::BTreeMap;

/// Most sounds of one letter.
const MOST: usize = 2;
const ROUNDS: usize = 9;
/// From this round on, what is expected less often is dropped.
const SETTLED: usize = 4;
const RARE: f64 = 0.5;
/// An answer that stands less often beside a letter is not tried there. Our choice.
const BESIDE_LEAST: u32 = 2;

/// A word to learn from.
#[derive(Clone)]
pub(crate) struct Pair {
    /// By the numbers of the model's contexts.
    pub(crate) letters: Vec<u8>,
    pub(crate) sounds: Vec<Sound>,
    /// How much it counts.
    pub(crate) weight: f32,
}

/// Chances of a letter's sounds, by letter and phones (none is 0, one from 1 on).
struct Chances(Vec<f64>);

const PHONES: usize = 40;
const SIZE: usize = 32 * PHONES * PHONES;

fn index(letter: u8, sounds: &[Sound]) -> usize {
    let phone = |at: usize| {
        sounds
            .get(at)
            .map_or(0, |sound| 1 + usize::from(sound.phone as u8))
    };
    (usize::from(letter) * PHONES + phone(0)) * PHONES + phone(1)
}

impl Chances {
    fn equal() -> Self {
        let mut chances = vec![0.02; SIZE];
        for pair in 0..SIZE / PHONES {
            // No second sound, no sound at all: the two are far likelier than two sounds.
            chances[pair * PHONES] = if pair % PHONES == 0 { 0.2 } else { 0.5 };
        }
        Self(chances)
    }

    fn of(&self, letter: u8, sounds: &[Sound]) -> f64 {
        self.0[index(letter, sounds)]
    }
}

/// For each place (letters done, sounds done): what the ways to it sum to, by `add`.
fn forward(
    pair: &Pair,
    chances: &Chances,
    start: f64,
    step: impl Fn(f64, f64, f64) -> f64,
) -> Vec<Vec<f64>> {
    let (letters, sounds) = (&pair.letters, &pair.sounds);
    let none = if start == 0.0 { f64::NEG_INFINITY } else { 0.0 };
    let mut sums = vec![vec![none; sounds.len() + 1]; letters.len() + 1];
    sums[0][0] = start;
    for (at, letter) in letters.iter().enumerate() {
        for from in 0..=sounds.len() {
            let here = sums[at][from];
            if here <= none {
                continue;
            }
            for to in from..=(from + MOST).min(sounds.len()) {
                sums[at + 1][to] = step(
                    sums[at + 1][to],
                    here,
                    chances.of(*letter, &sounds[from..to]),
                );
            }
        }
    }
    sums
}

fn round(pairs: &[Pair], chances: &Chances) -> Chances {
    let mut counts = vec![0.0; SIZE];
    for pair in pairs {
        let (letters, sounds) = (&pair.letters, &pair.sounds);
        let to_here = forward(pair, chances, 1.0, |sum, here, chance| sum + here * chance);
        let whole = to_here[letters.len()][sounds.len()];
        if whole <= 0.0 {
            continue;
        }
        let mut behind = vec![0.0; sounds.len() + 1];
        behind[sounds.len()] = 1.0;
        for (at, letter) in letters.iter().enumerate().rev() {
            let mut here = vec![0.0; sounds.len() + 1];
            for from in 0..=sounds.len() {
                for to in from..=(from + MOST).min(sounds.len()) {
                    let way = behind[to] * chances.of(*letter, &sounds[from..to]);
                    here[from] += way;
                    counts[index(*letter, &sounds[from..to])] += to_here[at][from] * way / whole;
                }
            }
            behind = here;
        }
    }
    let total: f64 = counts.iter().sum();
    Chances(counts.into_iter().map(|count| count / total).collect())
}

/// For each word the number of sounds of each letter; `None` where the letters cannot have these sounds.
pub(crate) fn align(pairs: &[Pair]) -> Vec<Option<Vec<usize>>> {
    let mut chances = Chances::equal();
    for number in 0..ROUNDS {
        chances = round(pairs, &chances);
        if number >= SETTLED {
            let least = RARE
                / pairs
                    .iter()
                    .map(|pair| pair.letters.len() as f64)
                    .sum::<f64>();
            chances
                .0
                .iter_mut()
                .filter(|chance| **chance < least)
                .for_each(|chance| *chance = 0.0);
        }
    }
    pairs.iter().map(|pair| best(pair, &chances)).collect()
}

fn best(pair: &Pair, chances: &Chances) -> Option<Vec<usize>> {
    let score = forward(pair, chances, 0.0, |best, here, chance| {
        best.max(here + chance.ln())
    });
    let mut to = pair.sounds.len();
    if score[pair.letters.len()][to] == f64::NEG_INFINITY {
        return None;
    }
    let mut counts = vec![0; pair.letters.len()];
    for (at, letter) in pair.letters.iter().enumerate().rev() {
        let from = (to.saturating_sub(MOST)..=to).max_by(|a, b| {
            let way =
                |from: usize| score[at][from] + chances.of(*letter, &pair.sounds[from..to]).ln();
            way(*a).total_cmp(&way(*b))
        })?;
        counts[at] = to - from;
        to = from;
    }
    Some(counts)
}

/// Words whose letters have numbered answers.
pub(crate) struct Aligned {
    /// The sounds of each answer.
    pub(crate) answers: Vec<Vec<Sound>>,
    /// The answers that each letter may have, from the letter of number 1 on.
    pub(crate) rows: Vec<Vec<u16>>,
    /// Which answers of a row are possible beside other letters.
    pub(crate) possible: Vec<u64>,
    pub(crate) words: Vec<Word>,
}

/// A word to learn from, with the answer to each letter.
pub(crate) struct Word {
    pub(crate) letters: Vec<u8>,
    pub(crate) answers: Vec<u16>,
    pub(crate) weight: f32,
}

/// Numbers the answers, and leaves out words with an answer that its letter has less than `least` times.
pub(crate) fn numbered(pairs: &[Pair], letters: usize, least: u32) -> Aligned {
    let mut numbers: BTreeMap<Vec<u8>, u16> = BTreeMap::new();
    let mut answers = Vec::new();
    let mut words = Vec::new();
    let mut counts: Vec<BTreeMap<u16, u32>> = vec![BTreeMap::new(); letters];
    for (pair, parted) in pairs.iter().zip(align(pairs)) {
        let Some(parted) = parted else { continue };
        let mut from = 0;
        let mut word = Vec::new();
        for (letter, count) in pair.letters.iter().zip(parted) {
            let sounds = &pair.sounds[from..from + count];
            from += count;
            let codes: Vec<u8> = sounds.iter().map(|sound| sound.code()).collect();
            let number = *numbers.entry(codes).or_insert_with(|| {
                answers.push(sounds.to_vec());
                u16::try_from(answers.len() - 1).unwrap_or(u16::MAX)
            });
            *counts[usize::from(*letter) - 1].entry(number).or_default() += 1;
            word.push(number);
        }
        words.push(Word {
            letters: pair.letters.clone(),
            answers: word,
            weight: pair.weight,
        });
    }
    let frequent = |row: BTreeMap<u16, u32>| {
        row.into_iter()
            .filter(|(_, count)| *count >= least)
            .map(|(number, _)| number)
            .collect()
    };
    let rows: Vec<Vec<u16>> = counts.into_iter().map(frequent).collect();
    words.retain(|word: &Word| {
        let mut answers = word.letters.iter().zip(&word.answers);
        answers.all(|(letter, answer)| rows[usize::from(*letter) - 1].contains(answer))
    });
    let possible = possible(&rows, &mut words);
    Aligned {
        answers,
        rows,
        possible,
        words,
    }
}

/// Which answers of a row are possible beside other letters, a bit each; words that have others are left out.
fn possible(rows: &[Vec<u16>], words: &mut Vec<Word>) -> Vec<u64> {
    let mut times = vec![[0_u32; 64]; table::LETTERS * table::SIDES * table::BESIDE];
    for (side, bit) in words.iter().flat_map(|word| sides(rows, word)) {
        times[side][bit] += 1;
    }
    let bits = |times: &[u32; 64]| {
        let often = times.iter().map(|times| u64::from(*times >= BESIDE_LEAST));
        often.enumerate().map(|(bit, often)| often << bit).sum()
    };
    let possible: Vec<u64> = times.iter().map(bits).collect();
    words.retain(|word| {
        sides(rows, word)
            .into_iter()
            .all(|(side, bit)| possible[side] & (1 << bit) != 0)
    });
    possible
}

/// For each letter of a word and each letter beside it: the place of this pair, and the answer's place in its row.
fn sides(rows: &[Vec<u16>], word: &Word) -> Vec<(usize, usize)> {
    let letters = Letters::new(&word.letters);
    let mut sides = Vec::new();
    for (at, (letter, answer)) in word.letters.iter().zip(&word.answers).enumerate() {
        let row = usize::from(*letter) - 1;
        let Some(bit) = rows[row].iter().position(|other| other == answer) else {
            continue;
        };
        let beside = letters.beside(at).into_iter().enumerate();
        sides.extend(beside.map(|(number, letter)| (table::side(row, number, letter), bit)));
    }
    sides
}
