//! Lines of old songs set to beats and to notes as they are sung; the tables stand in `tests/reference/`.
//!
//! Words and tunes are cited; where nobody printed a setting with its reasons, the costs are our choice and guard themselves.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod table;

use breathmark::music::{meter::Meter, tune::Phrase};
use breathmark::singing::placement::{Frame, Pattern, place};
use breathmark::singing::underlay::{places::Places, underlay};
use breathmark::singing::ways::{self, Way};
use breathmark::words::{self, SongWords, stress::Class};
use table::rows;

/// A line of `syllable:CLASS`, joined by `-` in words: its words, each sung in one way, and the letters of its syllables.
fn line(text: &str) -> (Vec<Vec<Way>>, Vec<&str>) {
    let (mut line, mut letters) = (Vec::new(), Vec::new());
    for word in text.split(' ') {
        let mut classes = Vec::new();
        for part in word.split('-') {
            let (letter, class) = part.split_once(':').unwrap();
            letters.push(letter);
            classes.push(match class {
                "P" => Class::Primary,
                "C" => Class::Content,
                "S" => Class::Secondary,
                "F" => Class::Function,
                "L" => Class::Light,
                "U" => Class::Unstressed,
                "R" => Class::Remote,
                other => panic!("no class {other}"),
            });
        }
        line.push(vec![Way {
            cost: 0,
            classes,
            reduced: false,
        }]);
    }
    (line, letters)
}

fn thousandths(cost: &str) -> u32 {
    let (whole, rest) = cost.split_once('.').unwrap_or((cost, "0"));
    whole.parse::<u32>().unwrap() * 1000 + rest.parse::<u32>().unwrap() * 100
}

/// Syllables in capitals carry the beats; `I` and `O`, which have no other form, may or may not.
fn check_beats(row: &str, letters: &[&str], on: &[Option<usize>]) {
    assert_eq!(letters.len(), on.len(), "row {row}");
    for (letters, on) in letters.iter().zip(on) {
        let carries = on.is_some();
        let capital = letters.starts_with(char::is_uppercase);
        assert!(
            *letters == "I" || *letters == "O" || carries == capital,
            "row {row}: {letters}"
        );
    }
}

#[test]
fn old_lines_scan_as_they_are_sung() {
    for [row, meter, beats, text, cost, as_read, _, _] in
        rows(include_str!("reference/scansion.csv"))
    {
        let (by_hand, letters) = line(&text);
        let frame = Frame {
            meter: Meter::parse(&meter).unwrap(),
            bars: if meter == "3/4" { 4 } else { 2 },
        };
        let pattern = Pattern {
            beats: beats.parse().ok(),
            ..Pattern::default()
        };
        let placed = place(&by_hand, frame, pattern);
        check_beats(&row, &letters, &placed.on);
        assert_eq!(placed.cost, thousandths(&cost), "row {row}");

        // The same from the words alone.
        let word = |word: &str| -> String {
            word.split('-')
                .map(|part| part.split(':').next().unwrap().to_lowercase())
                .collect()
        };
        let row_of_words: Vec<String> = text.split(' ').map(word).collect();
        let read = words::line::line(&row_of_words.join(" "), &SongWords::default());
        let placed = place(&ways::of_line(&read), frame, pattern);
        check_beats(&row, &letters, &placed.on);
        assert_eq!(placed.cost, thousandths(&as_read), "row {row} as read");
    }
}

#[test]
fn old_lines_are_laid_on_their_notes_as_they_are_sung() {
    for [row, meter, tune, habit, text, sung, starts, cost, _, _] in
        rows(include_str!("reference/underlay.csv"))
    {
        let meter = Meter::parse(&meter).unwrap();
        let phrase = Phrase::read(&tune, [0; 7], meter);
        let places = Places::of(&phrase, meter);
        let habit: Vec<bool> = habit
            .split_whitespace()
            .map(|begins| begins == "1")
            .collect();
        let read = words::line::line(&text, &SongWords::default());
        let ways = ways::of_line(&read);
        let found = underlay(
            &ways,
            &places,
            Some(habit.as_slice()).filter(|h| !h.is_empty()),
        )
        .unwrap();
        let shown: Vec<String> = found
            .syllables
            .iter()
            .map(|s| {
                let syllable = &read[s.word].readings.readings[s.way].syllables[s.syllable];
                format!("{}{}", syllable.text, "+".repeat(s.notes.len() - 1))
            })
            .collect();
        assert_eq!(shown.join(" "), sung, "row {row}");
        let at: Vec<String> = found
            .syllables
            .iter()
            .map(|s| s.start.to_string())
            .collect();
        assert_eq!(at.join(" "), starts, "row {row}");
        assert_eq!(found.cost, thousandths(&cost), "row {row}");
    }
}
