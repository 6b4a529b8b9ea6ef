//! Chords, keys and fits against handbooks and published figures; the tables stand in `tests/reference/`.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::music::{chord::Chord, key::Key, numeral};

/// The rows of a table below its heading; quoted fields may hold commas.
fn rows(table: &str) -> Vec<Vec<String>> {
    table.lines().skip(1).map(fields).collect()
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

/// The notes from the bass upward, as the table lists them.
fn spelled(chord: &Chord) -> String {
    let mut notes = chord.notes();
    if let Some(at) = notes.iter().position(|&note| note == chord.bass()) {
        let bass = notes.remove(at);
        notes.insert(0, bass);
    }
    notes
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn chords_and_numerals_are_spelled_as_in_the_sources() {
    for row in rows(include_str!("reference/chords.csv")) {
        let [task, given, key, expected, source, _deviation] = row.try_into().unwrap();
        assert!(!source.is_empty(), "{given} has no source");
        let chord = match task.as_str() {
            "notes" => Chord::parse(&given).unwrap(),
            "numeral" => numeral::chord_of(&given, Key::parse(&key).unwrap()).unwrap(),
            other => panic!("no task is called {other}"),
        };
        assert_eq!(spelled(&chord), expected, "{task} {given} {key}");
    }
}
