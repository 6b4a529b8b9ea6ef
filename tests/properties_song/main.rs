//! What holds for every song: edits are taken back exactly, places stay in their rows, a file is written back as it was read,
//! and a changed one keeps its comments and unknown keys.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod edits;
mod hand;
mod tape;

use crate::edits::{any_edit, keeping_edit, lines, place, value};
use crate::hand::file;
use crate::tape::tape;
use breathmark::formats::yaml::{content::same_song, read::read, write::write};
use breathmark::song::Song;
use breathmark::song::edit::Edit;
use breathmark::song::history::History;
use breathmark::song::place::Side;
use breathmark::song::slice::Slice;
use proptest::prelude::*;

fn opened(text: &str) -> Song {
    read(text)
        .unwrap_or_else(|error| panic!("{error}\n{text}"))
        .song
}

/// What is saved is YAML to others too: serde_yaml, an independent reader, finds the same lyrics in it.
fn read_elsewhere(song: &Song, written: &str) -> Result<(), TestCaseError> {
    let found: serde_yaml::Value =
        match serde_yaml::from_str(written.trim_start_matches('\u{feff}')) {
            Ok(found) => found,
            Err(error) => return Err(TestCaseError::fail(format!("{error}\n{written}"))),
        };
    let sections = found.get("sections").and_then(|found| found.as_sequence());
    for (section, found) in song.sections.iter().zip(sections.into_iter().flatten()) {
        let lines = found.get("lines").and_then(|found| found.as_sequence());
        for (line, found) in section.lines.iter().zip(lines.into_iter().flatten()) {
            // A line may be its lyric alone. What it takes for a number or a truth value is text to us.
            let lyric = found.get("lyric").unwrap_or(found).as_str();
            let alike = |lyric: &str| lyric.trim_end() == line.lyric.trim_end();
            prop_assert!(lyric.is_none_or(alike), "{lyric:?}\n{written}");
        }
    }
    Ok(())
}

fn is_in_order(song: &Song) -> bool {
    lines(song).iter().all(|line| {
        line.marks.is_sorted_by(|mark, next| mark < next)
            && line
                .chords
                .as_ref()
                .is_none_or(|row| row.0.is_sorted_by_key(|token| token.column))
    })
}

/// The texts of a slice, and not where they stood.
fn texts(slice: Option<&Slice>) -> Vec<String> {
    slice.map_or(Vec::new(), |slice| {
        // Blank lines between two nodes belong to one or the other.
        let apart = [&slice.lead, &slice.opening, &slice.tail];
        let entries = slice.entries.iter().map(|entry| &entry.text);
        let texts = entries.chain(apart);
        texts
            .map(|text| text.trim_matches(['\r', '\n']).to_owned())
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_edit_and_its_way_back_restore_song_and_places(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        for _ in 0..8 {
            let before = song.clone();
            let edit = any_edit(&song, &mut tape);
            let cursor = place(&song, &mut tape);
            let mut places = [(Some(cursor), Side::Behind), (Some(cursor), Side::Before)];
            match song.apply_with(&edit, &mut places) {
                Ok(back) => {
                    for (place, _) in places {
                        prop_assert!(place.is_none_or(|place| song.has_place(place)), "{edit:?} {cursor:?} → {place:?}");
                    }
                    prop_assert!(is_in_order(&song), "{edit:?}");
                    let after = song.clone();
                    let forth = song.apply(&back).unwrap();
                    prop_assert_eq!(&song, &before, "{:?}", edit);
                    song.apply(&forth).unwrap();
                    prop_assert_eq!(&song, &after);
                }
                Err(_) => {
                    prop_assert_eq!(&song, &before);
                    prop_assert_eq!(places[0].0, Some(cursor));
                }
            }
        }
    }

    #[test]
    fn undoing_all_is_the_start_and_redoing_all_the_end(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        let start = song.clone();
        let mut history = History::default();
        let mut cursor = place(&song, &mut tape);
        let first = cursor;
        for _ in 0..12 {
            let edit = any_edit(&song, &mut tape);
            let mut places = [(Some(cursor), Side::Behind)];
            if let Ok(back) = song.apply_with(&edit, &mut places) {
                let after = places[0].0.unwrap_or(first);
                history.record(&edit, back, Some(cursor), Some(after));
                cursor = after;
            }
            if tape.one_in(4) {
                history.end_run();
            }
        }
        let (end, state) = (song.clone(), history.state());
        let mut steps = 0;
        let mut last = Some(first);
        while let Some(before) = history.undo(&mut song).unwrap() {
            steps += 1;
            last = before;
        }
        prop_assert_eq!(&song, &start);
        prop_assert_eq!(last, Some(first));
        prop_assert!(history.is_saved());
        for _ in 0..steps {
            history.redo(&mut song).unwrap().unwrap();
        }
        prop_assert_eq!(&song, &end);
        prop_assert_eq!(history.state(), state);
    }

    #[test]
    fn a_file_is_written_back_as_it_was_read(tape in tape()) {
        let (text, _, _) = file(tape);
        prop_assert_eq!(write(&opened(&text)), text);
    }

    #[test]
    fn a_changed_file_says_what_the_song_says_and_loses_nothing(tape in tape()) {
        let (text, tokens, mut tape) = file(tape);
        let mut song = opened(&text);
        let mut backs = Vec::new();
        for _ in 0..1 + tape.below(5) {
            let edit = keeping_edit(&song, &mut tape);
            backs.extend(song.apply(&edit));
            let written = write(&song);
            let again = read(&written).unwrap_or_else(|error| panic!("{error}\n{text}\n→\n{written}\n{edit:?}"));
            prop_assert!(same_song(&song, &again.song), "{}\n→\n{}\n{:?}", text, written, edit);
            for token in &tokens {
                prop_assert!(written.contains(token), "{} is lost\n{}\n→\n{}\n{:?}", token, text, written, edit);
            }
            prop_assert_eq!(write(&again.song), written);
        }
        while let Some(back) = backs.pop() {
            song.apply(&back).unwrap();
        }
        prop_assert_eq!(write(&song), text);
    }

    #[test]
    fn any_change_can_be_saved(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        for _ in 0..6 {
            let edit = any_edit(&song, &mut tape);
            let _ = song.apply(&edit);
        }
        let written = write(&song);
        let again = read(&written).unwrap_or_else(|error| panic!("{error}\n{text}\n→\n{written}"));
        prop_assert!(same_song(&song, &again.song), "{}\n→\n{}", text, written);
        read_elsewhere(&song, &written)?;
    }

    #[test]
    fn a_changed_line_leaves_the_text_of_all_others(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        let edit = value(&song, &mut tape);
        let Edit::Set { node, .. } = edit else { return Ok(()) };
        let outer = song.section_of(node).map(|section| section.id);
        if song.apply(&edit).is_err() { return Ok(()) }
        let again = opened(&write(&song));
        for line in lines(&song) {
            let other = again.line(line.id).unwrap();
            if line.id != node && Some(line.id) != outer {
                let flow_parent = song.section_of(line.id).is_some_and(|section| {
                    section.slice.as_deref().is_some_and(|slice| slice.entries.first().is_some_and(|entry| entry.key.is_empty()))
                });
                prop_assert!(flow_parent || texts(line.slice.as_deref()) == texts(other.slice.as_deref()) || !text.ends_with('\n'), "{}\n→\n{}", text, write(&song));
            }
        }
    }

    #[test]
    fn damaged_files_are_read_or_refused(tape in tape(), cuts in proptest::collection::vec((any::<u16>(), any::<u8>()), 1..4)) {
        let (text, _, _) = file(tape);
        let mut bytes = text.into_bytes();
        for (at, byte) in cuts {
            let at = usize::from(at) % bytes.len();
            if byte < 128 {
                bytes[at] = byte;
            } else {
                bytes.remove(at);
            }
            if bytes.is_empty() { return Ok(()) }
        }
        let text = String::from_utf8_lossy(&bytes);
        if let Ok(opened) = read(&text) {
            prop_assert_eq!(write(&opened.song), text.as_ref());
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "[ \\n\\t:#'\"|>{}\\[\\],&*!%@?a-c0-9é\u{feff}\\r-]{0,60}") {
        if let Ok(opened) = read(&text) {
            prop_assert_eq!(write(&opened.song), text);
        }
    }

    #[test]
    fn any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let text = String::from_utf8_lossy(&bytes);
        if let Ok(opened) = read(&text) {
            prop_assert_eq!(write(&opened.song), text.as_ref());
        }
    }
}
