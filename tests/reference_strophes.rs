//! Old songs at their usual tempo: everybody sings them, so that no line may come out too long for a singer of ordinary breath.
//!
//! Words, syllables, notes and air work together here; the table stands in `tests/reference/`. The verdicts are our model's own and guard it.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod table;

use breathmark::formats::yaml::read::read as open;
use breathmark::reading::Reading;
use breathmark::reading::memory::Memory;
use breathmark::reading::read::read;
use breathmark::singing::air::Verdict;
use breathmark::warnings::{Kind, all};
use std::fmt::Write;
use table::rows;

/// A song of one verse as a song file; the steady note lasts 24 s, inside the means of published groups.
fn written(meter: &str, tempo: &str, beat: &str, bars: &str, tune: &str, words: &str) -> String {
    let mut file = format!(
        "title: Old song\nmeter: {meter}\ntempo: {tempo}\nbeat: {beat}\nbars: {bars}\nvoice:\n  steady_note: 24\n"
    );
    if !tune.is_empty() {
        file.push_str("tunes:\n  verse:\n");
        for phrase in tune.split("; ") {
            writeln!(file, "    - \"{phrase}\"").unwrap();
        }
    }
    file.push_str("sections:\n  - kind: verse\n    lines:\n");
    for line in words.split(" / ") {
        writeln!(file, "      - \"{line}\"").unwrap();
    }
    file
}

fn worst(reading: &Reading) -> Verdict {
    reading
        .lines
        .iter()
        .filter_map(|line| line.verdict)
        .max()
        .unwrap()
}

#[test]
fn old_songs_can_be_sung_at_their_tempo() {
    let table = include_str!("reference/strophes.csv");
    let songs = rows(table);
    assert!(songs.len() > 7);
    for [
        song,
        meter,
        tempo,
        beat,
        bars,
        tune,
        words,
        syllables,
        verdict,
        _,
    ] in songs
    {
        let opened = open(&written(&meter, &tempo, &beat, &bars, &tune, &words)).unwrap();
        assert!(opened.findings.is_empty(), "{song}: {:?}", opened.findings);
        let reading = read(&opened.song, &mut Memory::default());
        assert!(
            reading.head.problems.is_empty(),
            "{song}: {:?}",
            reading.head.problems
        );
        assert!((reading.head.voice.steady_note - 24.0).abs() < 1e-9);
        let counts: Vec<_> = reading
            .lines
            .iter()
            .map(|line| line.laid.syllables.len().to_string())
            .collect();
        assert_eq!(counts.join(" "), syllables, "{song}");
        assert!(
            reading
                .lines
                .iter()
                .all(|line| line.verdict < Some(Verdict::TooLong)),
            "{song}"
        );
        assert_eq!(worst(&reading).words(), verdict, "{song}");
        // Songs that everybody sings agree with their words.
        let against: Vec<_> = all(&opened.song, &reading)
            .into_iter()
            .filter(|found| found.kind == Kind::Stress)
            .map(|found| found.message)
            .collect();
        assert!(against.is_empty(), "{song}: {against:?}");
        let mut end = f64::NEG_INFINITY;
        for sounding in &reading.soundings {
            assert!(
                sounding.start >= end - 1e-9 && sounding.end > sounding.start,
                "{song}"
            );
            end = sounding.end;
        }
    }
}
