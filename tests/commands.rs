//! The real binary: text, JSON, exit codes, streams.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use serde_json::Value;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_breathmark"))
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn json(arguments: &[&str]) -> (Value, i32) {
    let output = run(arguments);
    let text = String::from_utf8(output.stdout).unwrap();
    (
        serde_json::from_str(&text)
            .unwrap_or_else(|_| panic!("{text}{}", String::from_utf8_lossy(&output.stderr))),
        output.status.code().unwrap(),
    )
}

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/the-last-house-on-the-round.yaml")
}

fn song(text: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("song.yaml");
    fs::write(&path, text).unwrap();
    let path = path.display().to_string();
    (folder, path)
}

#[test]
fn the_demo_song_warns_where_it_was_meant_to() {
    let (answer, code) = json(&["check", demo().to_str().unwrap(), "--json"]);
    assert_eq!(code, 1);
    let found: Vec<_> = answer["warnings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|warning| {
            let section = usize::try_from(warning["section"].as_u64().unwrap()).unwrap();
            let label = answer["sections"][section - 1]["label"]
                .as_str()
                .unwrap()
                .to_owned();
            (
                warning["kind"].as_str().unwrap().to_owned(),
                label,
                warning["line"].as_u64().unwrap(),
            )
        })
        .collect();
    let placed = [
        ("too_long", "Verse 8", 2),
        ("range", "Verse 9", 3),
        ("no_time_to_breathe", "Verse 10", 3),
    ];
    assert_eq!(
        found,
        placed.map(|(kind, label, line)| (kind.to_owned(), label.to_owned(), line))
    );
    // What the program would add is told apart, and softens no verdict.
    let added = |breath: &&Value| breath["from"] == "added";
    let breaths = answer["breaths"].as_array().unwrap();
    assert!(
        breaths
            .iter()
            .any(|breath| added(&breath) && breath["after"] == "arms")
    );
    assert!(
        breaths
            .iter()
            .filter(added)
            .all(|breath| breath["air_after"].as_f64() > breath["air_before"].as_f64())
    );
    assert!(answer["warnings"][0]["remedies"].as_array().unwrap().len() >= 3);
    // 48 lines of 12 quarters at 100, one phrase 5 eighths shorter and one a half beat, a slower verse, 8 and 4 bars without words.
    assert!((answer["seconds"].as_f64().unwrap() - 374.0).abs() < 10.0);
}

#[test]
fn times_ascend_and_syllables_spell_the_lines() {
    for path in [
        demo(),
        Path::new(env!("CARGO_MANIFEST_DIR")).join("songs/the-hall-that-danced-away.yaml"),
    ] {
        let (answer, _) = json(&["check", path.to_str().unwrap(), "--json"]);
        let mut now = -1e-6;
        for line in answer["lines"].as_array().unwrap() {
            let syllables = line["syllable_times"].as_array().unwrap();
            assert_eq!(syllables.len() as u64, line["syllables"].as_u64().unwrap());
            let letters = |text: &str| {
                text.chars()
                    .filter(|c| c.is_alphanumeric())
                    .collect::<String>()
            };
            let spelled: String = syllables
                .iter()
                .map(|syllable| letters(syllable["syllable"].as_str().unwrap()))
                .collect();
            assert_eq!(spelled, letters(line["lyric"].as_str().unwrap()));
            for syllable in syllables {
                let (start, end) = (
                    syllable["start_s"].as_f64().unwrap(),
                    syllable["end_s"].as_f64().unwrap(),
                );
                assert!(start >= now - 1e-6 && end > start, "{line}");
                now = end;
            }
        }
        assert!(now <= answer["seconds"].as_f64().unwrap() + 1e-6);
    }
}

#[test]
fn the_designs_own_line_has_its_published_figures() {
    // Twelve beats at 96 are 7.5 s; with the charge of sh, dh, dh, z and j 0.316 lungful are left (the model's worked example).
    let text = "title: T\nkey: Em\nmeter: 3/4\ntempo: 96\ntunes:\n  verse:\n    - \"B,2 | E4 F2 | G4 F2 | E4 D2 | B,4\"\nsections:\n  - lines: [She rang the bell at the water's edge]\n";
    let (_folder, path) = song(text);
    let (answer, code) = json(&["check", &path, "--json"]);
    let line = &answer["lines"][0];
    assert_eq!(
        (line["syllables"].as_u64(), line["wanted"].as_u64(), code),
        (Some(9), Some(8), 0)
    );
    assert_eq!(
        (line["start_s"].as_f64(), line["end_s"].as_f64()),
        (Some(0.0), Some(7.5))
    );
    assert!(
        (line["air_left"].as_f64().unwrap() - 0.3158).abs() < 5e-5,
        "{line}"
    );
    assert_eq!(line["verdict"], "easy");
    assert_eq!(answer["seconds"].as_f64(), Some(7.5));
}

#[test]
fn nonsense_in_a_value_names_key_and_line() {
    let (_folder, path) =
        song("title: T\ntempo: fast\ncolour: blue\nsections:\n  - lines: [She rang the bell]\n");
    let (answer, code) = json(&["check", &path, "--json"]);
    assert_eq!(code, 1);
    let message = answer["warnings"][0]["message"].as_str().unwrap();
    assert!(
        message.contains("tempo") && message.contains("line 2"),
        "{message}"
    );
    assert_eq!(answer["remarks"][0]["kind"], "unknown_key");
}

#[test]
fn unreadable_input_is_exit_2_with_file_and_line() {
    for (text, line) in [
        ("title: T\ntitle: U\n", "line 2"),
        ("- a\n- b\n", "line 1"),
        ("title: [\n", "line"),
        ("sections: {a: 1}\n", "line 1"),
    ] {
        let (_folder, path) = song(text);
        let output = run(&["check", &path]);
        let message = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{text}: {message}");
        assert!(
            message.contains("song.yaml") && message.contains(line),
            "{text}: {message}"
        );
        assert!(output.stdout.is_empty());
    }
    for path in ["/nowhere/song.yaml", "/dev/null", "/"] {
        assert_eq!(run(&["check", path]).status.code(), Some(2), "{path}");
    }
}

#[test]
fn control_characters_never_come_out() {
    let (_folder, path) = song(
        "title: \"a\\e[31mb\\u202ec\"\nsections:\n  - lines: [\"bell\\a \\u009b\\u200b rang\"]\n",
    );
    let output = run(&["check", &path]);
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(
        !text
            .chars()
            .any(|c| (c.is_control() && c != '\n') || "\u{202e}\u{200b}".contains(c)),
        "{text:?}"
    );
    let output = run(&["check", &path, "--json"]);
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(
        text.trim_end()
            .chars()
            .all(|c| !c.is_control() && !"\u{202e}\u{200b}".contains(c)),
        "{text:?}"
    );
    assert_eq!(
        serde_json::from_str::<Value>(&text).unwrap()["title"],
        "a\u{1b}[31mb\u{202e}c"
    );
}

#[test]
fn variants_keep_the_shape_of_their_section() {
    let path = demo();
    let (answer, code) = json(&[
        "vary",
        path.to_str().unwrap(),
        "--section",
        "Verse 3",
        "--count",
        "5",
        "--json",
    ]);
    assert_eq!(code, 0);
    let slots = answer["slots"].as_array().unwrap();
    let variants = answer["variants"].as_array().unwrap();
    assert_eq!(variants.len(), 5);
    assert!(slots.iter().all(|slot| slot["borrowed"] == true));
    let mut last = f64::NEG_INFINITY;
    for variant in variants {
        assert_eq!(variant["chords"].as_array().unwrap().len(), slots.len());
        assert!(!variant["changes"].as_array().unwrap().is_empty());
        let cost = variant["cost"].as_f64().unwrap();
        assert!(cost >= last);
        last = cost;
    }
    assert_eq!(
        run(&["vary", path.to_str().unwrap(), "--section", "Verse 99"])
            .status
            .code(),
        Some(2)
    );
}

#[test]
fn words_and_chords_answer() {
    let (answer, _) = json(&["words", "water", "1847", "--json"]);
    assert_eq!(answer[0]["parts"], serde_json::json!(["wa", "ter"]));
    assert_eq!(answer[0]["from"], "dictionary");
    assert_eq!(answer[1]["syllables"], 6); // eigh-teen for-ty sev-en
    // D F sharp A over F sharp is the dominant of G in first inversion: any harmony textbook.
    let (answer, _) = json(&["chord", "D/F#", "--key", "G", "--json"]);
    assert_eq!(answer[0]["notes"], serde_json::json!(["D", "F#", "A"]));
    assert_eq!(answer[0]["bass"], "F#");
    assert_eq!(answer[0]["numeral"], "V/7");
    assert_eq!(run(&["chord", "Hx"]).status.code(), Some(2));
}

#[test]
fn words_come_from_standard_input_too() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_breathmark"))
        .args(["words", "-", "--json"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(b"river\nbell rope\n")
        .unwrap();
    let answer: Value = serde_json::from_slice(&child.wait_with_output().unwrap().stdout).unwrap();
    assert_eq!(answer.as_array().unwrap().len(), 3);
}

#[test]
fn new_makes_a_file_named_after_the_title() {
    let folder = tempfile::tempdir().unwrap();
    let output = run(&[
        "new",
        "The Long Way Round",
        "--in",
        folder.path().to_str().unwrap(),
    ]);
    assert_eq!(output.status.code(), Some(0));
    let path = String::from_utf8(output.stdout).unwrap().trim().to_owned();
    assert!(path.ends_with("the-long-way-round.yaml"), "{path}");
    let (answer, code) = json(&["check", &path, "--json"]);
    assert_eq!(
        (answer["title"].as_str(), code),
        (Some("The Long Way Round"), 0)
    );
}

#[test]
fn a_mistyped_command_is_named() {
    let output = run(&["chekc"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("breathmark check")
    );
}

#[test]
fn rhymes_come_best_first() {
    let (answer, code) = json(&["rhymes", "night", "--json"]);
    assert_eq!(code, 0);
    let found = answer.as_array().unwrap();
    let keys: Vec<&String> = found[0].as_object().unwrap().keys().collect();
    assert_eq!(keys, ["kind", "score", "syllables", "word"]); // serde_json's maps are sorted
    let word = |index: usize| found[index]["word"].as_str().unwrap();
    let place = |wanted: &str| found.iter().position(|row| row["word"] == wanted).unwrap();
    // Common words of one syllable, then longer ones, then homophones; names come last.
    assert!(
        (0..20).all(|index| found[index]["syllables"] == 1),
        "{}",
        word(0)
    );
    assert!(place("light") < place("tonight") && place("tonight") < place("dwight"));
    assert_eq!(found[place("light")]["kind"], "perfect");
    assert_eq!(found[place("knight")]["kind"], "identical");
    assert!(found.iter().all(|row| row["word"] != "night"));
    let (answer, _) = json(&["rhymes", "month", "--count", "3", "--json"]);
    assert_eq!(answer.as_array().unwrap().len(), 3);
    let (answer, _) = json(&["rhymes", "borrick", "--json"]);
    assert!(!answer.as_array().unwrap().is_empty());
}

/// The stresses are those of the CMU Pronouncing Dictionary: *alone* and *unknown* 01, *lodestone* 12.
#[test]
fn rhymes_are_held_to_the_beats_asked_for() {
    let words = |stress: &str| {
        let (answer, code) = json(&["rhymes", "stone", "--stress", stress, "--json"]);
        assert_eq!(code, 0);
        let found: Vec<String> = answer
            .as_array()
            .unwrap()
            .iter()
            .filter(|row| row["kind"] == "perfect")
            .map(|row| row["word"].as_str().unwrap().to_owned())
            .collect();
        found
    };
    let (rising, falling) = (words("01"), words("10"));
    assert!(rising.contains(&"alone".to_owned()) && rising.contains(&"unknown".to_owned()));
    assert!(!falling.contains(&"alone".to_owned()) && falling.contains(&"backbone".to_owned()));
    assert!(words("1").contains(&"bone".to_owned()) && !words("1").contains(&"alone".to_owned()));
    for wrong in ["x", "00", ""] {
        let output = run(&["rhymes", "stone", "--stress", wrong]);
        assert_eq!(output.status.code(), Some(2), "{wrong}");
    }
}

/// *Moon* rhymes with the end of its own line: M UW1 N, JH UW1 N in the CMU Pronouncing Dictionary.
#[test]
fn check_tells_rhymes_inside_a_line() {
    let (_folder, path) = song(
        "title: T\nsections:\n  - lines: [The moon that shone in early June, and nobody was there]\n",
    );
    let (answer, _) = json(&["check", &path, "--json"]);
    let inside = &answer["lines"][0]["inside"];
    assert_eq!(inside[0]["word"], "moon");
    assert_eq!(inside[0]["with"], "June");
    assert_eq!(inside[0]["next_line"], false);
    assert_eq!(answer["lines"][1]["inside"], serde_json::json!([]));
}

#[test]
fn check_tells_the_schemes() {
    let (_folder, path) = song(
        "title: T\nsections:\n  - lines: [Amazing grace how sweet the sound, that saved a wretch like me, I once was lost but now am found, was blind but now I see]\n  - {kind: interlude, bars: 4}\n",
    );
    let (answer, _) = json(&["check", &path, "--json"]);
    assert_eq!(answer["sections"][0]["rhyme_scheme"], "abab");
    assert_eq!(answer["sections"][1]["rhyme_scheme"], Value::Null);
}
