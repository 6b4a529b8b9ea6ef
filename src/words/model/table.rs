//! The trained table, used where it stands in the program: nothing is built when the program starts.
//!
//! First the answers: their number, low byte first in two bytes, then three bytes each, how many sounds (0 to 2) and the
//! codes of these. Then 27 rows, one a letter, of 40 answers that it may have, two bytes each, `0xffff` where there is
//! none. Then, for each letter and each of the four letters around it, 32 masks of eight bytes: which answers of the row are
//! possible beside a letter of this number. Then 65,536 buckets of 16 bytes: eight marks, eight weights. A key's first 16 bits choose the bucket, the next
//! eight bits are its mark; a key that is not found has weight 0. Keys are told apart by 24 bits only; the training sees
//! the same confusion and learns around it (Weinberger and others 2009, Proceedings of ICML: 1113–1120).

use super::context::Answer;
use crate::words::phone::Sound;

/// Answers that a letter may have, at most.
pub const ROW: usize = 40;
/// Letters: a–z and the apostrophe.
pub const LETTERS: usize = 27;
/// Buckets of weights.
pub const BUCKETS: usize = 65_536;
/// Weights in a bucket.
pub const SLOTS: usize = 8;
/// Letters beside a letter that say which of its answers are possible: the two before, the two behind.
pub const SIDES: usize = 4;
/// Numbers of letters beside, borders included.
pub const BESIDE: usize = 32;
/// A weight of 1 in the table stands for one over this.
pub const SCALE: f32 = 24.0;
const BUCKET: usize = 2 * SLOTS;

/// A table in memory.
#[derive(Clone, Copy, Debug)]
pub struct Table<'a> {
    answers: &'a [[u8; 3]],
    rows: &'a [[[u8; 2]; ROW]],
    possible: &'a [[u8; 8]],
    buckets: &'a [[u8; BUCKET]; BUCKETS],
}

/// The sounds of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said {
    sounds: [Option<Sound>; 2],
}

impl Said {
    /// In order.
    pub fn sounds(self) -> impl Iterator<Item = Sound> {
        self.sounds.into_iter().flatten()
    }
}

impl<'a> Table<'a> {
    /// Of bytes in the form told above; `None` where their number does not fit.
    #[must_use]
    pub fn new(bytes: &'a [u8]) -> Option<Self> {
        let (head, rest) = bytes.split_at_checked(2)?;
        let count = usize::from(u16::from_le_bytes(head.try_into().ok()?));
        let (answers, rest) = rest.split_at_checked(count * 3)?;
        let (rows, buckets) = rest.split_at_checked(LETTERS * ROW * 2)?;
        let (rows, _) = rows.as_chunks().0.as_chunks();
        let (possible, buckets) = buckets.split_at_checked(LETTERS * SIDES * BESIDE * 8)?;
        let (buckets, []) = buckets.as_chunks() else {
            return None;
        };
        Some(Self {
            answers: answers.as_chunks().0,
            rows,
            possible: possible.as_chunks().0,
            buckets: buckets.try_into().ok()?,
        })
    }

    /// The numbers of the answers that a letter of this number may have between these: the two letters before it, the
    /// nearer first, and the two behind it.
    pub fn candidates(&self, letter: u8, beside: [u8; SIDES]) -> impl Iterator<Item = u16> {
        let row = usize::from(letter).checked_sub(1);
        let possible = row.map_or(0, |row| {
            possible(row, beside, |place| {
                self.possible
                    .get(place)
                    .map_or(0, |bytes| u64::from_le_bytes(*bytes))
            })
        });
        let numbers = row
            .and_then(|row| self.rows.get(row))
            .into_iter()
            .flatten()
            .map(|bytes| u16::from_le_bytes(*bytes));
        numbers
            .take_while(|number| *number != u16::MAX)
            .enumerate()
            .filter(move |(at, _)| possible & (1 << at) != 0)
            .map(|(_, number)| number)
    }

    /// The sounds of an answer; none where there is no answer of this number.
    #[must_use]
    pub fn said(&self, answer: u16) -> Said {
        let [count, first, second] = self
            .answers
            .get(usize::from(answer))
            .copied()
            .unwrap_or_default();
        let sounds = [first, second].map(Sound::from_code);
        Said {
            sounds: [
                sounds[0].filter(|_| count > 0),
                sounds[1].filter(|_| count > 1),
            ],
        }
    }

    /// What the contexts speak of, for an answer.
    #[must_use]
    pub fn answer(&self, answer: u16) -> Answer {
        Answer::new(self.said(answer).sounds())
    }

    /// The weight of a key, in units of 1/[`SCALE`].
    #[must_use]
    pub fn weight(&self, key: u32) -> i32 {
        let [high, low, mark, _] = key.to_be_bytes();
        let bucket = self.buckets[usize::from(u16::from_be_bytes([high, low]))];
        let [
            m0,
            m1,
            m2,
            m3,
            m4,
            m5,
            m6,
            m7,
            w0,
            w1,
            w2,
            w3,
            w4,
            w5,
            w6,
            w7,
        ] = bucket;
        // All eight marks at once: the lowest zero byte of the difference is the first mark that agrees. Nothing here
        // branches, since no processor could foresee which keys are found.
        let marks = u64::from_le_bytes([m0, m1, m2, m3, m4, m5, m6, m7]);
        let weights = u64::from_le_bytes([w0, w1, w2, w3, w4, w5, w6, w7]);
        let difference = marks ^ (u64::from(mark) * 0x0101_0101_0101_0101);
        let zeros =
            difference.wrapping_sub(0x0101_0101_0101_0101) & !difference & 0x8080_8080_8080_8080;
        // 64 where no mark agrees: half of it twice, since a number cannot be shifted by all its bits at once.
        let half = (zeros.trailing_zeros() & !7) / 2;
        let [weight, ..] = (weights >> half >> half).to_le_bytes();
        i32::from(i8::from_le_bytes([weight]))
    }
}

/// The place of what is possible for a letter (row) beside another.
#[must_use]
pub fn side(row: usize, side: usize, beside: u8) -> usize {
    (row * SIDES + side) * BESIDE + usize::from(beside)
}

/// Bits of the answers of a row that are possible beside all these letters; all where none is.
#[must_use]
pub fn possible(row: usize, beside: [u8; SIDES], at: impl Fn(usize) -> u64) -> u64 {
    let all = beside
        .into_iter()
        .enumerate()
        .fold(u64::MAX, |bits, (number, letter)| {
            bits & at(side(row, number, letter))
        });
    if all == 0 { u64::MAX } else { all }
}

/// The bytes of a table. `rows` holds the answers of each letter; `possible` a mask for each [`side`]; `weights` the mark and weight of each key kept, at
/// most [`SLOTS`] in a bucket; what does not fit is left out.
#[must_use]
pub fn write(
    answers: &[Vec<Sound>],
    rows: &[Vec<u16>],
    possible: &[u64],
    weights: &[Vec<(u8, i8)>],
) -> Vec<u8> {
    let mut bytes = u16::try_from(answers.len())
        .unwrap_or(u16::MAX)
        .to_le_bytes()
        .to_vec();
    for answer in answers {
        let code = |at: usize| answer.get(at).map_or(0, |sound| sound.code());
        bytes.extend([u8::try_from(answer.len()).unwrap_or(2), code(0), code(1)]);
    }
    for letter in 0..LETTERS {
        let row = rows.get(letter).map(Vec::as_slice).unwrap_or_default();
        for at in 0..ROW {
            bytes.extend(row.get(at).copied().unwrap_or(u16::MAX).to_le_bytes());
        }
    }
    for place in 0..LETTERS * SIDES * BESIDE {
        bytes.extend(
            possible
                .get(place)
                .copied()
                .unwrap_or_default()
                .to_le_bytes(),
        );
    }
    for bucket in 0..BUCKETS {
        // Empty places stand last: a mark is sought from the front, and theirs may agree with a real one.
        let kept = weights.get(bucket).map(Vec::as_slice).unwrap_or_default();
        bytes.extend((0..SLOTS).map(|at| kept.get(at).map_or(0, |pair| pair.0)));
        bytes.extend((0..SLOTS).flat_map(|at| kept.get(at).map_or(0, |pair| pair.1).to_le_bytes()));
    }
    bytes
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn a_table_gives_back_what_was_written() {
        let answers = [
            vec![],
            Sound::parse_all("AO1").unwrap(),
            Sound::parse_all("K S").unwrap(),
        ];
        let mut rows = vec![vec![]; LETTERS];
        rows[0] = vec![1, 0];
        let mut weights = vec![vec![]; BUCKETS];
        weights[0x1234] = vec![(0x56, -7), (0, 9), (0xff, 127)];
        let mut possible = vec![u64::MAX; LETTERS * SIDES * BESIDE];
        // Before t only the first answer to a is possible, behind b only the second.
        possible[side(0, 2, 20)] = 0b01;
        possible[side(0, 0, 2)] = 0b10;
        let bytes = write(&answers, &rows, &possible, &weights);
        let table = Table::new(&bytes).unwrap();
        let border = 30;
        for (beside, found) in [
            ([border; 4], &[1, 0][..]),
            ([border, border, 20, 5], &[1]),
            ([2, border, border, border], &[0]),
            // Nothing fits both: all may be tried.
            ([2, border, 20, border], &[1, 0]),
        ] {
            assert_eq!(table.candidates(1, beside).collect::<Vec<_>>(), found);
        }
        let count = |letter| table.candidates(letter, [border; 4]).count();
        assert_eq!(count(2) + count(0) + count(28), 0);
        for (number, answer) in answers.iter().enumerate() {
            assert!(
                table
                    .said(u16::try_from(number).unwrap())
                    .sounds()
                    .eq(answer.iter().copied())
            );
        }
        assert_eq!(table.said(3).sounds().count(), 0);
        let found = [
            0x1234_5600,
            0x1234_56ff,
            0x1234_00aa,
            0x1234_ff00,
            0x1234_5700,
            0x1235_0000,
        ]
        .map(|key| table.weight(key));
        assert_eq!(found, [-7, -7, 9, 127, 0, 0]);
        assert!(Table::new(&bytes[..bytes.len() - 1]).is_none());
        assert!(Table::new(&[]).is_none());
    }
}
