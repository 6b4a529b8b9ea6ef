//! Lines of old songs set to beats and to notes as they are sung; the tables stand in `tests/reference/`.
//!
//! Words and tunes are cited; where nobody printed a setting with its reasons, the costs are our choice and guard themselves.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::music::meter::Meter;
use breathmark::singing::placement::{Frame, Pattern, place};
use breathmark::singing::ways::Way;
use breathmark::words::stress::Class;

/// The rows of a table below its heading; quoted fields may hold commas.
fn rows<const N: usize>(table: &str) -> Vec<[String; N]> {
    table
        .lines()
        .skip(1)
        .map(|line| fields(line).try_into().unwrap())
        .collect()
}

fn fields(line: &str) -> Vec<String> {
    let mut fields = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(String::new()),
            other => fields.last_mut().unwrap().push(other),
        }
    }
    fields
}

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

/// Whether syllables in capitals carry the beats; `I` alone has no other form and may or may not.
#[test]
fn old_lines_scan_as_they_are_sung() {
    for [row, meter, beats, text, cost, source, _] in rows(include_str!("reference/scansion.csv")) {
        assert!(!source.is_empty(), "row {row} has no source");
        let (line, letters) = line(&text);
        let frame = Frame {
            meter: Meter::parse(&meter).unwrap(),
            bars: if meter == "3/4" { 4 } else { 2 },
        };
        let pattern = Pattern {
            syllables: None,
            beats: beats.parse().ok(),
        };
        let placed = place(&line, frame, pattern);
        for (letters, on) in letters
            .iter()
            .zip(&placed.on)
            .filter(|(letters, _)| **letters != "I" && **letters != "O")
        {
            assert_eq!(
                on.is_some(),
                letters.starts_with(char::is_uppercase),
                "row {row}: {letters} in {:?}",
                placed.on
            );
        }
        let expected = (cost.parse::<f64>().unwrap() * 1000.0).round();
        assert!(
            (f64::from(placed.cost) - expected).abs() < 0.5,
            "row {row}: {}",
            placed.cost
        );
    }
}
