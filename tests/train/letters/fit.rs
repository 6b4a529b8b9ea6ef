//! Fits the weights: gradient steps on the log likelihood of each letter's answer, each weight with its own step length
//! (Duchi, Hazan and Singer 2011, Journal of Machine Learning Research 12: 2121–2159). Weights whose loss would hurt
//! least are then taken out until the table has its size (LeCun, Denker and Solla 1990, Optimal Brain Damage, NIPS 2:
//! 598–605: half the curvature times the square of the weight; the sum of squared gradients stands for the curvature),
//! and the rest is fitted again without them.

use crate::align::Aligned;
use breathmark::words::model::context::{Answer, Letters, Past};
use breathmark::words::model::table::{self, BUCKETS, SCALE};

/// Passes over all words, and how many weights a bucket may keep from the next stage on.
const STAGES: [(usize, usize); 3] = [(3, 16), (2, table::SLOTS), (6, table::SLOTS)];
const STEP: f32 = 0.05;
/// The steps grow shorter from pass to pass, down to so much of the first.
const LEAST_STEP: f32 = 0.05;
/// Answers that are right or wrong by less than this are not touched.
const LEAST: f32 = 0.003;
const MARKS: usize = 256;

/// Numbers in a fixed disorder (Marsaglia 2003, Journal of Statistical Software 8(14): xorshift).
pub(crate) struct Disorder(pub(crate) u64);

impl Disorder {
    /// The next number, below `limit`.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let limit = u64::try_from(limit).unwrap_or(u64::MAX).max(1);
        usize::try_from((self.0 >> 11) % limit).unwrap_or(0)
    }
}

#[derive(Clone, Copy)]
struct Weight {
    value: f32,
    /// The sum of squared gradients so far; infinite where the weight has been taken out.
    squares: f32,
}

/// The bytes of a table fitted to these words. `tell` hears the loss of each pass.
pub(crate) fn fit(
    aligned: &Aligned,
    disorder: &mut Disorder,
    mut tell: impl FnMut(usize, f64),
) -> Vec<u8> {
    let mut weights = vec![
        Weight {
            value: 0.0,
            squares: 1e-3
        };
        BUCKETS * MARKS
    ];
    let answers: Vec<Answer> = aligned
        .answers
        .iter()
        .map(|sounds| Answer::new(sounds.iter().copied()))
        .collect();
    let mut order: Vec<usize> = (0..aligned.words.len()).collect();
    let passes: usize = STAGES.iter().map(|stage| stage.0).sum();
    let mut pass = 0;
    for (count, kept) in STAGES {
        for _ in 0..count {
            for last in (1..order.len()).rev() {
                order.swap(last, disorder.below(last + 1));
            }
            let left = 1.0 - pass as f32 / passes as f32;
            let loss = walk(
                aligned,
                &answers,
                &order,
                STEP * left.max(LEAST_STEP),
                &mut weights,
            );
            pass += 1;
            tell(pass, loss);
        }
        prune(&mut weights, kept);
    }
    table::write(
        &aligned.answers,
        &aligned.rows,
        &aligned.possible,
        &packed(&weights),
    )
}

/// The place of a key among the weights: its first 24 bits.
fn place(key: u32) -> usize {
    usize::try_from(key >> 8).unwrap_or(0)
}

/// One pass in this order; gives the mean loss of a letter, in nats.
fn walk(
    aligned: &Aligned,
    answers: &[Answer],
    order: &[usize],
    step: f32,
    weights: &mut [Weight],
) -> f64 {
    let (mut contexts, mut of_past, mut scores, mut row) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::<u16>::new());
    let (mut loss, mut count) = (0.0, 0.0);
    for number in order {
        let word = &aligned.words[*number];
        let letters = Letters::new(&word.letters);
        let mut past = Past::nothing();
        for (at, (letter, right)) in word.letters.iter().zip(&word.answers).enumerate() {
            letters.around(at, &mut contexts);
            letters.behind(at, &past, &mut of_past);
            contexts.append(&mut of_past);
            let row_number = usize::from(*letter) - 1;
            let possible = table::possible(row_number, letters.beside(at), |place| {
                aligned.possible[place]
            });
            row.clear();
            let answers_here = aligned.rows[row_number].iter().enumerate();
            row.extend(
                answers_here
                    .filter(|(at, _)| possible & (1 << at) != 0)
                    .map(|(_, answer)| *answer),
            );
            let score = |answer: &u16| {
                let answer = &answers[usize::from(*answer)];
                contexts
                    .iter()
                    .map(|context| weights[place(context.key(answer))].value)
                    .sum::<f32>()
            };
            scores.clear();
            scores.extend(row.iter().map(score));
            let highest = scores.iter().copied().fold(f32::MIN, f32::max);
            let total: f32 = scores.iter().map(|score| (score - highest).exp()).sum();
            for (answer, score) in row.iter().zip(&scores) {
                let chance = (score - highest).exp() / total;
                let gradient = if answer == right {
                    loss -= f64::from(chance.max(1e-9).ln());
                    chance - 1.0
                } else {
                    chance
                } * word.weight;
                if gradient.abs() < LEAST {
                    continue;
                }
                let answer = &answers[usize::from(*answer)];
                for context in &contexts {
                    let weight = &mut weights[place(context.key(answer))];
                    weight.squares += gradient * gradient;
                    weight.value -= step * gradient / weight.squares.sqrt();
                }
            }
            count += 1.0;
            past = past.then(*right, &aligned.answers[usize::from(*right)]);
        }
    }
    loss / count
}

/// Takes all but the most useful weights out of each bucket.
fn prune(weights: &mut [Weight], kept: usize) {
    for bucket in weights.chunks_mut(MARKS) {
        let use_of = |weight: &Weight| {
            if weight.squares.is_finite() {
                weight.value * weight.value * weight.squares
            } else {
                0.0
            }
        };
        let mut order: Vec<usize> = (0..bucket.len()).collect();
        order.sort_by(|a, b| use_of(&bucket[*b]).total_cmp(&use_of(&bucket[*a])));
        for taken in order.iter().skip(kept) {
            bucket[*taken] = Weight {
                value: 0.0,
                squares: f32::INFINITY,
            };
        }
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "held within the bounds of a byte"
)]
fn packed(weights: &[Weight]) -> Vec<Vec<(u8, i8)>> {
    let bucket = |bucket: &[Weight]| {
        let values = (0..=u8::MAX).zip(bucket).map(|(mark, weight)| {
            (
                mark,
                (weight.value * SCALE).round().clamp(-127.0, 127.0) as i8,
            )
        });
        values.filter(|pair| pair.1 != 0).collect()
    };
    weights.chunks(MARKS).map(bucket).collect()
}
