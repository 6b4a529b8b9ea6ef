//! How words are read, against check values; the tables stand in `tests/reference/`.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod table;

use breathmark::words::line::line;
use breathmark::words::{Reading, SongWords, read, read_estimate};
use proptest::prelude::*;
use table::rows;

/// The parts as the table writes them: what is said where figures are read as words.
fn parts(reading: &Reading) -> String {
    let said: Vec<&str> = reading
        .syllables
        .iter()
        .filter_map(|syllable| syllable.said.as_deref())
        .collect();
    if said.is_empty() {
        reading.hyphenated()
    } else {
        said.join("-")
    }
}

#[test]
fn words_have_their_counts() {
    let mut wrong = Vec::new();
    for [word, expected, _, _] in rows(include_str!("reference/word_counts.csv")) {
        let readings = read(&word, &SongWords::default());
        let count = readings.default_reading().unwrap().count();
        if count.to_string() != expected {
            wrong.push(format!("{word}: {count}, not {expected}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The counts in which a word may be sung, the usual one first; what the handbooks let nobody shorten has one.
#[test]
fn words_have_their_sung_counts() {
    let mut wrong = Vec::new();
    for [word, expected, _, _] in rows(include_str!("reference/sung_counts.csv")) {
        let readings = read(&word, &SongWords::default()).readings;
        let mut counts: Vec<String> = Vec::new();
        for count in readings.iter().map(|way| way.count().to_string()) {
            if !counts.contains(&count) {
                counts.push(count);
            }
        }
        if counts.join(" ") != expected {
            wrong.push(format!("{word}: {}, not {expected}", counts.join(" ")));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn words_have_their_parts_and_stresses() {
    for [word, expected, stress, _, _] in rows(include_str!("reference/words.csv")) {
        let readings = read(&word, &SongWords::default());
        let reading = readings.default_reading().unwrap();
        assert_eq!(
            (parts(reading), reading.stress_digits()),
            (expected.replace(' ', "-"), stress),
            "{word}"
        );
    }
}

#[test]
fn published_lines_have_their_counts() {
    for [text, count, _, _] in rows(include_str!("reference/lines.csv")) {
        let words = line(&text, &SongWords::default());
        let counts: Vec<usize> = words
            .iter()
            .map(|word| word.readings.default_reading().unwrap().count())
            .collect();
        assert_eq!(
            counts.iter().sum::<usize>().to_string(),
            count,
            "{text} {counts:?}"
        );
    }
}

fn texts(reading: &Reading) -> String {
    reading
        .syllables
        .iter()
        .map(|syllable| syllable.text.as_str())
        .collect()
}

/// What holds of every word: a default at no cost, texts that spell the word, columns that rise.
fn check(word: &str) {
    for readings in [read(word, &SongWords::default()), read_estimate(word)] {
        assert_eq!(
            readings.readings.first().map(|reading| reading.cost),
            Some(0),
            "{word:?}"
        );
        for reading in &readings.readings {
            assert_eq!(texts(reading), word);
            assert!(reading.count() > 0, "{word:?}");
            assert!(
                reading
                    .syllables
                    .is_sorted_by_key(|syllable| syllable.column),
                "{word:?}"
            );
        }
        for (index, one) in readings.readings.iter().enumerate() {
            let again = |other: &&Reading| other.sounds().eq(one.sounds());
            assert!(
                !readings
                    .readings
                    .iter()
                    .skip(index + 1)
                    .any(|other| again(&other)),
                "{word:?} has a reading twice"
            );
        }
    }
}

#[test]
fn every_word_of_the_dictionary_is_spelled_by_its_parts() {
    for entry in breathmark::words::dictionary::entries().step_by(7) {
        check(&entry.word);
    }
}

#[test]
fn hostile_words_are_read() {
    let long = |piece: &str| piece.repeat(10_000 / piece.len());
    let pieces = [
        "a", "ab", "strength", "xyz", "e\u{301}", "'", "'n'", "-", "a-", "7", "7,", "1+", "1/2",
        "a7", "½", ".", "#", "$", "\u{7}", "\u{202e}", "\u{200d}", "歌", "ש", "😀", "&", "W",
    ];
    for piece in pieces {
        check(piece);
        check(&long(piece));
    }
    for text in [
        "",
        " ",
        "\u{0}",
        "\u{85}a\u{9f}",
        "a\u{0}b",
        "\u{feff}",
        "\u{e0041}",
        "\n",
        "I\u{308}\u{301}",
    ] {
        check(text);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read(text in "\\PC{0,24}") {
        check(&text);
    }

    #[test]
    fn text_with_control_characters_is_read(text in "[\\x00-\\x20a-d'\u{80}-\u{9f}\u{200b}-\u{200f}\u{2028}\u{202a}-\u{202e}-]{0,12}") {
        check(&text);
    }

    #[test]
    fn figures_and_signs_are_read(text in "[0-9½¼.,:/+=×÷%°#$£€¢kmpa'-]{0,12}") {
        check(&text);
    }

    #[test]
    fn wordlike_text_is_read(text in "[a-zA-Z'’éèëô0-9.$%&-]{0,14}") {
        check(&text);
        let words = line(&text, &SongWords::new([(text.as_str(), text.as_str()), ("a", "b-a")]));
        for word in &words {
            for reading in &word.readings.readings {
                prop_assert_eq!(texts(reading), word.text.as_str());
            }
        }
    }

    #[test]
    fn any_row_is_cut_into_words_in_order(row in "\\PC{0,60}") {
        let mut behind = 0;
        for word in line(&row, &SongWords::default()) {
            prop_assert!(word.column >= behind && word.length > 0);
            behind = word.column + word.length;
        }
    }
}
