//! Every kind of warning: its own song earns it once and no other; each way out, taken, ends it and says what it brings.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::desk::Desk;
use breathmark::formats::yaml::read::read;
use breathmark::song::NodeId;
use breathmark::song::column::Column;
use breathmark::song::place::{Place, Row};
use breathmark::warnings::asking::Asking;
use breathmark::warnings::{Kind, RULES, Severity, Warning, WayOut, ways_out};

fn desk(text: &str) -> Desk {
    Desk::new(read(text).unwrap().song)
}

/// The ways out that are offered for a warning.
fn offered(desk: &Desk, warning: &Warning) -> Vec<WayOut> {
    let (song, memory) = (desk.song().clone(), desk.memory().clone());
    let mut asking = Asking::new(song, desk.reading(), memory, &|| false);
    ways_out(&mut asking, warning)
}

#[test]
fn every_kind_is_earned_by_its_song() {
    for rule in RULES {
        let desk = desk(rule.example);
        let found: Vec<_> = desk
            .warnings()
            .iter()
            .filter(|warning| warning.kind == rule.kind)
            .collect();
        assert_eq!(
            found.len(),
            1,
            "{}: {:#?}",
            rule.kind.name(),
            desk.warnings()
        );
        let others = desk
            .warnings()
            .iter()
            .filter(|warning| warning.kind != rule.kind && warning.severity() == Severity::Warning);
        assert_eq!(
            others.count(),
            0,
            "{}: {:#?}",
            rule.kind.name(),
            desk.warnings()
        );
    }
}

#[test]
fn every_way_out_ends_its_warning() {
    let start = Place {
        node: NodeId::SONG,
        row: Row::Lyric,
        column: Column(0),
    };
    for rule in RULES {
        let mut desk = desk(rule.example);
        let warning = desk
            .warnings()
            .iter()
            .find(|warning| warning.kind == rule.kind)
            .unwrap()
            .clone();
        let ways = offered(&desk, &warning);
        for way in ways {
            let Some(edit) = way.edit else { continue };
            let before = desk.song().clone();
            desk.edit(&edit, start, Some(start)).unwrap();
            assert!(
                !desk
                    .warnings()
                    .iter()
                    .any(|other| other.is_same_trouble(&warning)),
                "{}: {}",
                rule.kind.name(),
                way.text
            );
            let new = desk
                .warnings()
                .iter()
                .filter(|other| other.severity() == Severity::Warning)
                .count();
            assert_eq!(
                new,
                way.after.remains.len(),
                "{}: {}",
                rule.kind.name(),
                way.text
            );
            assert!(
                (desk.reading().seconds - way.after.seconds).abs() < 1e-9,
                "{}: {}",
                rule.kind.name(),
                way.text
            );
            desk.undo().unwrap();
            assert_eq!(*desk.song(), before);
        }
    }
}

#[test]
fn a_line_too_long_has_a_way_out() {
    let rule = &RULES[0];
    let desk = desk(rule.example);
    let ways = offered(&desk, &desk.warnings()[0]);
    let kinds: Vec<_> = ways.iter().map(|way| way.kind).collect();
    assert!(
        kinds.contains(&"breath") && kinds.contains(&"tempo") && kinds.contains(&"bars"),
        "{kinds:?}"
    );
}

/// The phrases of the tune after the first way out by its pickup.
fn pickup_moved(phrases: &str, lines: &str) -> Option<Vec<String>> {
    let text = format!(
        "title: T\nmeter: 4/4\ntempo: 100\ntunes:\n  verse: {phrases}\nsections:\n  - kind: verse\n    lines: {lines}\n"
    );
    let mut desk = desk(&text);
    let stress = |desk: &Desk| {
        let mut found = desk.warnings().iter();
        found.find(|found| found.kind == Kind::Stress).cloned()
    };
    let mut ways = offered(&desk, &stress(&desk)?).into_iter();
    let way = ways.find(|way| way.kind == "pickup")?;
    let start = Place {
        node: NodeId::SONG,
        row: Row::Lyric,
        column: Column(0),
    };
    desk.edit(&way.edit?, start, Some(start)).unwrap();
    assert_eq!(stress(&desk), None, "{}", way.text);
    Some(desk.song().tunes[0].phrases.clone())
}

#[test]
fn stress_and_beat_meet_where_the_pickup_moves() {
    let found = pickup_moved(
        r#"["C D E F G A B c"]"#,
        "[The lantern water swinging over]",
    );
    assert_eq!(found.unwrap(), ["C | D E F G A B c"]);
    // Where the bar lines of another phrase cannot move, a rest in its own phrase does.
    let found = pickup_moved(
        r#"["C D E F G A z2", "c8"]"#,
        "[The lantern water swinging, Ring]",
    );
    assert_eq!(found.unwrap(), ["z C D E F G A z", "c8"]);
}

/// The remarks on rhyme of a song of these verses.
fn rhyme_remarks(verses: &[&str]) -> Vec<String> {
    let mut text = String::from("title: T\nsections:\n");
    for verse in verses {
        text.push_str("  - kind: verse\n    lines:\n");
        for line in verse.split(" / ") {
            text.push_str(&format!("      - \"{line}\"\n"));
        }
    }
    let desk = desk(&text);
    let remarks = desk
        .warnings()
        .iter()
        .filter(|found| found.kind == Kind::Rhyme);
    remarks.map(|found| found.message.clone()).collect()
}

#[test]
fn ballads_hear_nothing_of_their_rhymes() {
    // Barbara Allen (printed 1740), Amazing Grace (Newton 1779), both from memory; and what ballads allow themselves.
    for verses in [
        &[
            "In Scarlet town where I was born / There was a fair maid dwelling / Made every youth cry well away / Her name was Barbara Allen",
        ][..],
        &[
            "Amazing grace how sweet the sound / That saved a wretch like me / I once was lost but now am found / Was blind but now I see",
        ],
        // family, added, assonance
        &[
            "the tide / came home / the boat / alone",
            "a hand / the road / a lamp / of gold",
            "the oar / is green / a rope / the leaves",
        ],
        // historic pairs where the other verses rhyme
        &[
            "one / the dove / two / above",
            "one / the light / two / the night",
            "one / true love / two / would prove",
            "one / the wind / two / so kind",
        ],
        // a refrain, and two words repeated at the end
        &[
            "fa la / the sea / fa la / and me",
            "the sky / went over the sea / the ships / came over the sea",
        ],
        // words of one stanza that was written without rhyme
        &["the river / the lantern / the window / the orange"],
        // rhyming with the word before a light one
        &["he kissed me / away / he missed me / today"],
        // a line still unwritten
        &[
            "the sea / me / one / the tree",
            "the sky / I / two / so high",
            "the hill / still / one / ",
        ],
    ] {
        assert_eq!(rhyme_remarks(verses), Vec::<String>::new(), "{verses:?}");
    }
}

#[test]
fn the_same_word_and_a_missing_rhyme_are_remarked() {
    let same = rhyme_remarks(&[
        "the old sea / with me / a lamp / by the grey sea",
        "I went home / on the ferry / at night / in no ferry",
    ]);
    assert_eq!(
        same,
        ["ends on the same word as line 2: \u{201c}ferry\u{201d}"]
    );
    let sounds = rhyme_remarks(&["one / the rain / two / his reign"]);
    assert_eq!(
        sounds,
        ["\u{201c}reign\u{201d} sounds the same as \u{201c}rain\u{201d} in line 2"]
    );
    let missing = rhyme_remarks(&[
        "one / the sea / two / to me",
        "one / the light / two / the night",
        "one / the door / two / the lantern",
    ]);
    assert_eq!(
        missing,
        [
            "\u{201c}lantern\u{201d} does not rhyme with \u{201c}door\u{201d} in line 2, where the other verses rhyme"
        ]
    );
}

#[test]
fn a_missing_rhyme_has_words_for_a_way_out() {
    let desk = desk(
        "title: T\nsections:\n  - lines: [one, the sea, two, to me]\n  - lines: [one, the light, two, the night]\n  - lines: [one, the door, two, the lamp]\n",
    );
    let warning = desk
        .warnings()
        .iter()
        .find(|found| found.kind == Kind::Rhyme)
        .unwrap();
    let ways = offered(&desk, warning);
    assert!(
        ways.len() > 2
            && ways
                .iter()
                .all(|way| way.kind == "rhyme" && way.edit.is_some()),
        "{ways:#?}"
    );
}
