//! The words of a lyric row with their readings. Words that are sung as one stand together: *th' unfair*, *many a*.

use super::cutter::{Cut, cut};
use super::phone::{Phone, Sound, Stress};
use super::search::roman::{counts_rulers, value};
use super::spelling::Spelling;
use super::{Reading, Readings, SongWords, read};
use unicode_segmentation::UnicodeSegmentation;

/// A word of a row, its place and its readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WordReadings {
    /// As written; with the blank between, where two words are sung as one.
    pub text: String,
    /// Where it begins in the row, in graphemes from 0.
    pub column: usize,
    /// How many graphemes it has.
    pub length: usize,
    /// How it can be sung.
    pub readings: Readings,
}

/// What *many a* as two syllables costs, in thousandths. Our choice; the custom is in Bysshe 1708.
const MANY_A: u32 = 300;

/// The words of a row, from left to right.
///
/// ```
/// use breathmark::words::{SongWords, line::line};
/// let words = line("Many a th' immortal", &SongWords::default());
/// let counts: Vec<Vec<usize>> = words.iter().map(|word| word.readings.readings.iter().map(|reading| reading.count()).collect()).collect();
/// assert_eq!(words[0].text, "Many a");
/// assert_eq!(counts, [vec![3, 2], vec![3]]);
/// ```
#[must_use]
pub fn line(row: &str, song: &SongWords) -> Vec<WordReadings> {
    let cuts = cut(row);
    let mut words = Vec::with_capacity(cuts.len());
    let mut at = 0;
    while let Some(one) = cuts.get(at) {
        let joined = cuts
            .get(at + 1)
            .and_then(|next| join(row, *one, *next, song));
        let joined_two = joined.is_some();
        let mut word = joined.unwrap_or_else(|| WordReadings {
            text: one.text.to_string(),
            column: one.column,
            length: one.length,
            readings: read(one.text, song),
        });
        let before = at.checked_sub(1).and_then(|before| cuts.get(before));
        if before.is_some_and(|before| counts_rulers(&before.text.to_lowercase())) {
            as_ruler(one.text, &mut word.readings);
        }
        at += if joined_two { 2 } else { 1 };
        words.push(word);
    }
    words
}

/// *Henry VIII*: the numeral is said as an ordinal first.
fn as_ruler(written: &str, readings: &mut Readings) {
    if let ([number, ordinal], Some(_)) = (readings.readings.as_mut_slice(), value(written)) {
        std::mem::swap(&mut number.cost, &mut ordinal.cost);
        readings.readings.swap(0, 1);
    }
}

/// Two words that are sung as one, where only blanks stand between them.
fn join(row: &str, one: Cut<'_>, next: Cut<'_>, song: &SongWords) -> Option<WordReadings> {
    let plain = Spelling::new(one.text).plain;
    let length = next.column + next.length - one.column;
    let is_the = plain == "th'";
    let is_many =
        matches!(plain.as_str(), "many" | "monie" | "mony") && matches!(next.text, "a" | "an");
    if !is_the && !is_many {
        return None;
    }
    let text: String = row.graphemes(true).skip(one.column).take(length).collect();
    let between: String = row
        .graphemes(true)
        .skip(one.column + one.length)
        .take(next.column - one.column - one.length)
        .collect();
    if !between.chars().all(char::is_whitespace) {
        return None;
    }
    let mut readings = read(next.text, song);
    let second_at = next.column - one.column;
    if is_the {
        readings
            .readings
            .iter_mut()
            .for_each(|reading| lean(reading, one.text, &between, second_at));
    } else {
        let first = read(one.text, song);
        let (many, a) = (first.default_reading()?, readings.default_reading()?);
        readings.readings = side_by_side(many, a, &between, second_at)
            .into_iter()
            .chain(run_together(many, a, &between))
            .collect();
        readings.from = first.from;
    }
    readings.word.clone_from(&text);
    Some(WordReadings {
        text,
        column: one.column,
        length,
        readings,
    })
}

/// The written *th'* becomes the first sound of the word.
fn lean(reading: &mut Reading, the: &str, between: &str, by: usize) {
    for (index, syllable) in reading.syllables.iter_mut().enumerate() {
        if index == 0 {
            syllable.text = format!("{the}{between}{}", syllable.text);
            syllable
                .sounds
                .insert(0, Sound::new(Phone::DH, Stress::None));
        } else {
            syllable.column += by;
        }
    }
}

fn side_by_side(one: &Reading, next: &Reading, between: &str, by: usize) -> Option<Reading> {
    let mut reading = one.clone();
    reading.syllables.last_mut()?.text.push_str(between);
    for syllable in &next.syllables {
        let mut syllable = syllable.clone();
        syllable.column += by;
        reading.syllables.push(syllable);
    }
    Some(reading)
}

/// *man-y a*: the last vowel of the first word glides into the second word.
fn run_together(one: &Reading, next: &Reading, between: &str) -> Option<Reading> {
    let mut reading = one.clone();
    let last = reading.syllables.last_mut()?;
    let vowel = last.sounds.pop().filter(|sound| sound.phone == Phone::IY)?;
    last.sounds
        .push(Sound::new(Phone::Y, vowel.stress.unwrap_or_default()));
    let article = next.syllables.first()?;
    last.sounds.extend(article.sounds.iter().copied());
    last.stress = Stress::None;
    last.text.push_str(between);
    last.text.push_str(&article.text);
    reading.cost = MANY_A;
    reading.why = "run together";
    Some(reading)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn hyphenated(row: &str) -> Vec<Vec<String>> {
        let words = line(row, &SongWords::default());
        for word in &words {
            for reading in &word.readings.readings {
                let text: String = reading
                    .syllables
                    .iter()
                    .map(|syllable| syllable.text.as_str())
                    .collect();
                assert_eq!(text, word.text);
            }
        }
        words
            .iter()
            .map(|word| {
                word.readings
                    .readings
                    .iter()
                    .map(Reading::hyphenated)
                    .collect()
            })
            .collect()
    }

    #[test]
    fn words_sung_as_one_stand_together() {
        assert_eq!(
            hyphenated("o'er th' old sea"),
            [vec!["o'er"], vec!["th' old"], vec!["sea"]]
        );
        assert_eq!(
            hyphenated("monie a weary"),
            [vec!["mon-ie a", "mon-ie a"], vec!["wea-ry"]]
        );
        assert_eq!(hyphenated("many, the").len(), 2);
        assert_eq!(hyphenated("th'"), [vec!["th'"]]);
    }

    /// Burns 1788, Auld Lang Syne: ten syllables, nine where the two words run together.
    #[test]
    fn monie_a_is_full_first() {
        let words = line(
            "But we've wander'd monie a weary fit",
            &SongWords::default(),
        );
        let counts = words.iter().map(|word| word.readings.readings[0].count());
        assert_eq!(counts.sum::<usize>(), 10);
        let joined = &words[3].readings.readings;
        let ways: Vec<(usize, u32)> = joined.iter().map(|way| (way.count(), way.cost)).collect();
        assert_eq!(ways, [(3, 0), (2, MANY_A)]);
    }

    #[test]
    fn a_numeral_behind_a_ruler_is_an_ordinal() {
        let counts = |row: &str| -> Vec<usize> {
            let words = line(row, &SongWords::default());
            words
                .iter()
                .map(|word| word.readings.readings[0].count())
                .collect()
        };
        assert_eq!(counts("Henry VIII"), [2, 2]);
        assert_eq!(counts("World War II"), [1, 1, 1]);
    }

    #[test]
    fn columns_of_joined_words_count_from_the_first() {
        let words = line("Oh many  a th' enemy", &SongWords::default());
        let columns = |word: usize| -> Vec<usize> {
            words[word].readings.readings[0]
                .syllables
                .iter()
                .map(|syllable| syllable.column)
                .collect()
        };
        assert_eq!((words[1].column, words[1].length), (3, 7));
        assert_eq!(columns(1), [0, 3, 6]);
        assert_eq!(columns(2), [0, 6, 7]);
    }
}
