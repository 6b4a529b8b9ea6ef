//! Chords, keys and fits against handbooks and published figures; the tables stand in `tests/reference/`.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod table;

use breathmark::harmony::{cost, examples, fit, key_profile, melody::Melody, slot::SlotNote};
use breathmark::music::{chord::Chord, key::Key, meter::Meter, numeral, quarters::Quarters};
use table::rows;

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
    for [task, given, key, expected, _, _] in rows(include_str!("reference/chords.csv")) {
        let chord = match task.as_str() {
            "notes" => Chord::parse(&given).unwrap(),
            "numeral" => numeral::chord_of(&given, Key::parse(&key).unwrap()).unwrap(),
            other => panic!("no task is called {other}"),
        };
        assert_eq!(spelled(&chord), expected, "{task} {given} {key}");
    }
}

/// The notes of one bar (or more, where the melody is longer).
fn sung(melody: &str) -> Vec<SlotNote> {
    let mut slots = examples::slots("C");
    examples::sing(&mut slots, 0, melody);
    slots.remove(0).notes
}

fn parts(melody: &str) -> Vec<breathmark::harmony::melody::Part> {
    let mut slots = examples::slots("C");
    examples::sing(&mut slots, 0, melody);
    Melody::of(&slots).within(Meter::COMMON, Quarters::ZERO, Meter::COMMON.bar())
}

fn pair(text: &str) -> (Chord, Chord) {
    let (a, b) = text.split_once(' ').unwrap();
    (Chord::parse(a).unwrap(), Chord::parse(b).unwrap())
}

#[test]
fn fits_steps_and_keys_are_those_of_the_sources() {
    for [task, given, over, expected, _, _] in rows(include_str!("reference/harmony.csv")) {
        let found = match task.as_str() {
            "kind" => {
                let (melody, at) = given.split_once(" : ").unwrap();
                let part = parts(melody)[at.parse::<usize>().unwrap()];
                format!(
                    "{:?}",
                    fit::kind_of(&part, &Chord::parse(&over).unwrap(), None, Meter::COMMON)
                )
            }
            "misfit" => {
                let chord = Chord::parse(&over).unwrap();
                let misfit = fit::misfit(&parts(&given), &chord, None, Meter::COMMON).unwrap();
                format!("{:.4}", misfit.share().to_f64())
            }
            "step" => {
                let (from, to) = pair(&given);
                cost::step(Some(&from), Some(&to)).to_string()
            }
            "common_tones" => {
                let (one, other) = pair(&given);
                (one.classes() & other.classes()).count_ones().to_string()
            }
            "key_r" => {
                let r = key_profile::correlation(&sung(&given), Key::parse(&over).unwrap());
                format!("{:.4}", r.unwrap())
            }
            "key_second" => {
                let (key, r) = key_profile::ranked(&sung(&given))[1];
                assert_eq!(key.to_string(), over);
                format!("{r:.4}")
            }
            other => panic!("no task is called {other}"),
        };
        assert_eq!(found, expected, "{task} {given} {over}");
    }
}
