//! Every kind of warning: its own song earns it once and no other; each way out, taken, ends it and says what it brings.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::desk::Desk;
use breathmark::formats::yaml::read::read;
use breathmark::song::NodeId;
use breathmark::song::column::Column;
use breathmark::song::place::{Place, Row};
use breathmark::warnings::asking::Asking;
use breathmark::warnings::{RULES, Severity, ways_out};

fn desk(text: &str) -> Desk {
    Desk::new(read(text).unwrap().song)
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
        let ways = ways_out(
            &mut Asking::new(
                desk.song().clone(),
                desk.reading(),
                desk.memory().clone(),
                &|| false,
            ),
            &warning,
        );
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
    let ways = ways_out(
        &mut Asking::new(
            desk.song().clone(),
            desk.reading(),
            desk.memory().clone(),
            &|| false,
        ),
        &desk.warnings()[0],
    );
    let kinds: Vec<_> = ways.iter().map(|way| way.kind).collect();
    assert!(
        kinds.contains(&"breath") && kinds.contains(&"tempo") && kinds.contains(&"bars"),
        "{kinds:?}"
    );
}
