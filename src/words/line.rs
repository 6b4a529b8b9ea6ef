//! The words of a lyric row with their readings. Words that are sung as one stand together: *th' unfair*, *many a*.
//! *The* and *to* before a vowel may be sung without a syllable of their own.

use super::cutter::{Cut, cut};
use super::lists::with_stop;
use super::numbers::{is_fraction, wordings};
use super::phone::{Phone, Sound, Stress};
use super::search::roman::{counts_rulers, value};
use super::spelling::Spelling;
use super::{Reading, Readings, SongWords, Source, read, read_as};
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

/// What *the* or *to* costs that runs into the vowel behind it (*th' eternal*, *t' attempt*), in thousandths. Our choice; the custom is in
/// Bysshe 1708.
const RUN_INTO: u32 = 900;

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
        let before = at.checked_sub(1).and_then(|before| cuts.get(before));
        let rest = cuts.get(at..).unwrap_or_default();
        let thousands = thousands(rest);
        if thousands > 0 {
            words.push(with_thousands(row, rest, thousands));
            at += thousands + 1;
            continue;
        }
        let joined_two = joined.is_some();
        let mut word = joined.unwrap_or_else(|| WordReadings {
            text: one.text.to_string(),
            column: one.column,
            length: one.length,
            readings: beside(before, *one, cuts.get(at + 1))
                .map_or_else(|| read(one.text, song), |said| read_as(one.text, &said)),
        });
        if before.is_some_and(|before| counts_rulers(&before.text.to_lowercase())) {
            as_ruler(one.text, &mut word.readings);
        }
        at += if joined_two { 2 } else { 1 };
        words.push(word);
    }
    run_into_vowels(row, &mut words);
    words
}

/// How a word is said where its neighbours tell: *Henry V*, *no. 9*, *Oct 5*, *1 1/2*.
fn beside(
    before: Option<&Cut<'_>>,
    one: Cut<'_>,
    next: Option<&Cut<'_>>,
) -> Option<Vec<&'static str>> {
    let figures = |cut: &Cut<'_>| cut.text.starts_with(|sign: char| sign.is_ascii_digit());
    match one.text {
        "V" | "X" if before.is_some_and(|before| counts_rulers(&before.text.to_lowercase())) => {
            // *Malcolm X* is no king.
            let is_name = before.is_some_and(|before| before.text == "Malcolm");
            let ordinal = if one.text == "V" { "fifth" } else { "tenth" };
            return (!is_name).then(|| vec!["the", ordinal]);
        }
        // The stop is kept before figures only.
        "no." => return Some(vec!["number"]),
        "Jan" | "Feb" | "Apr" | "Aug" | "Sept" | "Oct" | "Nov" | "Dec"
            if next.is_some_and(figures) =>
        {
            return with_stop(&one.text.to_lowercase(), one.text).map(<[_]>::to_vec);
        }
        _ => {}
    }
    let whole = before.filter(|before| before.text.bytes().all(|sign| sign.is_ascii_digit()))?;
    let follows = one.column == whole.column + whole.length + 1;
    match one.text {
        "am" if follows => return Some(vec!["ay", "em"]),
        "oz" if follows && whole.text == "1" => return Some(vec!["ounce"]),
        "oz" if follows => return Some(vec!["ounces"]),
        text if follows && is_fraction(text) => {}
        _ => return None,
    }
    let mut parts = wordings(one.text)?.into_iter().next()?;
    if let Some(first) = parts.first_mut()
        && *first == "one"
    {
        *first = "a";
    }
    Some([vec!["and"], parts].concat())
}

/// How many groups of three noughts follow a number in figures, a blank before each: *10 000*.
fn thousands(cuts: &[Cut<'_>]) -> usize {
    let is_number = |cut: &Cut<'_>| {
        cut.length < 4
            && !cut.text.starts_with('0')
            && cut.text.bytes().all(|sign| sign.is_ascii_digit())
    };
    if !cuts.first().is_some_and(is_number) {
        return 0;
    }
    cuts.windows(2)
        .take(MOST_GROUPS)
        .take_while(|pair| {
            matches!(pair, [one, next] if next.text == "000" && next.column == one.column + one.length + 1)
        })
        .count()
}

/// *1 000 000 000 000* is the longest number of noughts that is said as one.
const MOST_GROUPS: usize = 4;

fn with_thousands(row: &str, cuts: &[Cut<'_>], groups: usize) -> WordReadings {
    let parts = cuts.get(..=groups).unwrap_or_default();
    let grouped: Vec<&str> = parts.iter().map(|cut| cut.text).collect();
    let column = parts.first().map_or(0, |first| first.column);
    let length = parts
        .last()
        .map_or(0, |last| last.column + last.length - column);
    let text: String = row.graphemes(true).skip(column).take(length).collect();
    let said = wordings(&grouped.join(",")).unwrap_or_default();
    WordReadings {
        readings: read_as(&text, said.first().map_or(&[], Vec::as_slice)),
        text,
        column,
        length,
    }
}

/// Lets *the* and *to* lose their vowel where only a blank parts them from a word that begins with one. The reading has no syllable:
/// its sounds are sung with the next word.
fn run_into_vowels(row: &str, words: &mut [WordReadings]) {
    for index in 0..words.len().saturating_sub(1) {
        let [one, next, ..] = words.get_mut(index..).unwrap_or_default() else {
            return;
        };
        let begins_with_vowel = || {
            let first = next.readings.default_reading()?.sounds().next()?;
            Some(first.is_vowel())
        };
        if matches!(one.text.to_ascii_lowercase().as_str(), "the" | "to")
            && one.readings.from != Source::Song
            && one.column + one.length + 1 == next.column
            && row.graphemes(true).nth(one.column + one.length) == Some(" ")
            && begins_with_vowel() == Some(true)
        {
            one.readings.readings.push(Reading {
                syllables: Vec::new(),
                cost: RUN_INTO,
                why: "runs into the vowel",
                parts_guessed: false,
            });
        }
    }
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

    /// Milton 1667, Paradise Lost I 44: *Hurled headlong flaming from th' ethereal sky*, as Bridges reads it.
    #[test]
    fn the_and_to_run_into_vowels() {
        let silent = |row: &str| -> Vec<bool> {
            let words = line(row, &SongWords::default());
            let runs = |word: &WordReadings| {
                let mut readings = word.readings.readings.iter();
                readings.any(|way| (way.count(), way.cost) == (0, RUN_INTO))
            };
            words.iter().map(runs).collect()
        };
        assert_eq!(silent("from the ethereal sky"), [false, true, false, false]);
        assert_eq!(silent("The hour to open"), [true, false, true, false]);
        assert_eq!(silent("the, end the"), [false; 3]);
        assert_eq!(silent("the union to him"), [false; 4]);
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
        assert_eq!(counts("George V"), [1, 2]);
        assert_eq!(counts("Malcolm X"), [2, 1]);
        assert_eq!(counts("Vol. II"), [2, 1]);
    }

    /// Common practice, no source.
    #[test]
    fn neighbours_tell_how_figures_are_said() {
        let count = |row: &str| -> usize {
            let words = line(row, &SongWords::default());
            for word in &words {
                let parts = word.readings.readings[0].syllables.iter();
                assert_eq!(
                    parts.map(|part| part.text.as_str()).collect::<String>(),
                    word.text
                );
            }
            words
                .iter()
                .map(|word| word.readings.readings[0].count())
                .sum()
        };
        assert_eq!(count("10 000"), 3); // ten thousand
        assert_eq!(count("1 000 000 years"), 4); // one million years
        assert_eq!(count("1 1/2"), 4); // one and a half
        assert_eq!(count("2 3/4"), 5); // two and three quarters
        assert_eq!(count("-5"), 3); // minus five
        assert_eq!(count("at \u{2212}10"), 4); // at minus ten
        assert_eq!(count("no. 9"), 3); // number nine
        assert_eq!(count("oh no. Nine came"), 4);
        assert_eq!(count("Oct 5"), 4); // October five
        assert_eq!(count("in Nov."), 4); // in November
        assert_eq!(count("at 4 am"), 4); // at four a m
        assert_eq!(count("8 oz"), 3); // eight ounces
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
