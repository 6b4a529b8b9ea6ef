//! The breath model against its check values; the tables stand in `tests/reference/`.
//!
//! The levels rest on published lung volumes, the arithmetic between them is our choice: the tables guard both.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod table;

use breathmark::singing::air::{After, Ends, Sounding, Verdict, breathe};
use breathmark::singing::breaths::gap_needed;
use breathmark::singing::voice::{TURN, Voice};
use table::rows;

/// The song `factor` times as fast; what consonants cost stays.
fn at_tempo(song: &[Sounding], factor: f64) -> Vec<Sounding> {
    let faster = |s: &Sounding| Sounding {
        start: s.start / factor,
        end: s.end / factor,
        last_note: s.last_note / factor,
        ..*s
    };
    song.iter().map(faster).collect()
}

fn number(text: &str) -> f64 {
    text.parse().unwrap()
}

/// Stretches of one syllable, such as `7.6 0 0 line 0.4`: seconds sung, charge, last note, why a breath comes, rest after it.
fn song(stretches: &str) -> Vec<Sounding> {
    let (mut at, mut line) = (0.0, 0);
    let mut song = Vec::new();
    for stretch in stretches.split("; ") {
        let [sung, charge, last_note, after, rest] =
            stretch.split(' ').collect::<Vec<_>>().try_into().unwrap();
        let start = at;
        let end = start + number(sung);
        at = end + number(rest);
        let after = match after {
            "line" => After::LineEnd,
            "mark" => After::Mark,
            other => panic!("no breath comes from {other}"),
        };
        song.push(Sounding {
            start,
            end,
            last_note: number(last_note),
            charge: number(charge),
            flow: 1.0,
            line,
            after,
            ends: Ends::Word,
        });
        line += usize::from(after == After::LineEnd);
    }
    song
}

#[test]
fn levels_and_verdicts_are_the_model_s() {
    for [case, steady_note, stretches, expected, _, _] in rows(include_str!("reference/breath.csv"))
    {
        let voice = Voice::timed(number(&steady_note));
        let air = breathe(&song(&stretches), voice);
        let expected: Vec<_> = expected.split("; ").collect();
        assert_eq!(air.stretches.len(), expected.len(), "{case}");
        for (stretch, expected) in air.stretches.iter().zip(expected) {
            let [need, top, end, left, verdict] = expected
                .splitn(5, ' ')
                .collect::<Vec<_>>()
                .try_into()
                .unwrap();
            let near = |found: f64, expected: &str, by: f64| {
                assert!(
                    (found - number(expected)).abs() < by,
                    "{case}: {found} for {expected}"
                );
            };
            near(stretch.need, need, 6e-5);
            near(stretch.top, top, 6e-5);
            near(stretch.end, end, 6e-5);
            near(voice.seconds_left(stretch.end), left, 6e-3);
            assert_eq!(stretch.verdict.words(), verdict, "{case}");
        }
    }
}

#[test]
fn ordinary_songs_of_48_lines() {
    for [case, line, expected, _, _] in rows(include_str!("reference/breath_songs.csv")) {
        let [sung, last_note, rest] = line.split(' ').collect::<Vec<_>>().try_into().unwrap();
        let stretch = format!("{sung} 0.25 {last_note} line {rest}");
        let song = song(&vec![stretch; 48].join("; "));
        for expected in expected.split("; ") {
            let (steady_note, expected) = expected.split_once(' ').unwrap();
            let air = breathe(&song, Voice::timed(number(steady_note)));
            // Where the air runs out later, the lines before are no worse than the verdict given for them.
            let (before, after) = match expected.split_once(" from line ") {
                None => (Some(expected), None),
                Some((words, line)) => {
                    let (before, word) = words
                        .split_once(", ")
                        .map_or((None, words), |(b, w)| (Some(b), w));
                    (before, Some((word, line.parse::<usize>().unwrap())))
                }
            };
            let verdicts: Vec<_> = air.stretches.iter().map(|s| s.verdict.words()).collect();
            let Some((word, from)) = after else {
                let all = verdicts.iter().all(|v| Some(*v) == before);
                assert!(all, "{case} at {steady_note}: {verdicts:?}");
                continue;
            };
            assert_eq!(
                verdicts[0],
                before.unwrap_or("easy"),
                "{case} at {steady_note}"
            );
            let first = verdicts.iter().position(|v| *v == word);
            assert_eq!(
                first,
                Some(from - 1),
                "{case} at {steady_note}: {verdicts:?}"
            );
            let rest = verdicts.iter().skip(from).all(|v| *v == word);
            assert!(rest, "{case} at {steady_note}: {verdicts:?}");
        }
    }
}

#[test]
fn limits_and_the_gap_that_repays_a_line() {
    for [steady_note, easy, sung, gap, _, _] in rows(include_str!("reference/breath_limits.csv")) {
        let voice = Voice::timed(number(&steady_note));
        assert!(
            (voice.easy_up_to() - number(&easy)).abs() < 6e-3,
            "{steady_note}"
        );
        assert!(
            (voice.sung_up_to() - number(&sung)).abs() < 6e-3,
            "{steady_note}"
        );
        let repays = voice.used(5.0) / voice.refill + TURN;
        assert!((repays - number(&gap)).abs() < 6e-3, "{steady_note}");
    }
}

#[test]
fn ways_out_of_no_time_to_breathe() {
    let two = song("7.6 0 0 line 0.4; 7.6 0 0 line 0");
    let voice = Voice::timed(18.0);
    let air = breathe(&two, voice);
    let gap = gap_needed(air.stretches[1].need, air.breaths[0].before, voice).unwrap();
    assert!((gap - 0.4651).abs() < 5e-5);
    let at = |factor: f64| breathe(&at_tempo(&two, factor), voice).stretches[1].verdict;
    assert_eq!(at(1.1624), Verdict::NoTime);
    assert!(at(1.1626) < Verdict::NoTime);

    let four = song("5 0 0 line 0.5; 6 0 0 line 0");
    let voice = Voice::timed(10.0);
    let air = breathe(&four, voice);
    let gap = gap_needed(air.stretches[1].need, air.breaths[0].before, voice).unwrap();
    assert!((gap - 0.7190).abs() < 6e-5);
    assert_eq!(gap_needed(0.85, 0.5, voice), None);
}

#[test]
fn a_bad_day_can_change_the_verdict() {
    let song = song("13 0 0 line 0");
    let voice = Voice::timed(18.0);
    assert_eq!(breathe(&song, voice).worst(), Verdict::Tight);
    assert_eq!(
        breathe(&song, voice.on_a_bad_day()).worst(),
        Verdict::TooLong
    );
}
