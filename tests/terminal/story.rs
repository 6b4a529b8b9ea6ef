//! A songwriter's evening with the demo song: a verse more, a phrase too long for one breath, other chords, and all of it kept.

use crate::window::{Desk, Window};
use std::fs;

const DEMO: &str = include_str!("../../demo/the-last-house-on-the-round.yaml");

#[test]
fn an_evening_at_120_columns() {
    evening((120, 40));
}

#[test]
fn an_evening_at_80_columns() {
    evening((80, 24));
}

#[test]
fn an_evening_at_60_columns() {
    evening((60, 20));
}

fn evening(size: (u16, u16)) {
    let (desk, path) = Desk::with("round.yaml", DEMO);
    let Some(mut window) = desk.open(&path, size) else {
        return;
    };
    figures_stand_there(&window);
    let verse = writes_a_verse(&mut window);
    runs_out_of_air_and_finds_a_way(&mut window);
    tries_other_chords(&mut window);

    window
        .types(&"<Ctrl-Z>".repeat(100))
        .shows("Nothing to undo.");
    window.types("<Ctrl-S>").shows("Saved in round.yaml.");
    assert_eq!(fs::read_to_string(&path).unwrap(), DEMO);
    window
        .types(&"<Ctrl-Y>".repeat(100))
        .shows("Nothing to redo.");
    window.types("<Ctrl-S>").shows("Saved in round.yaml.");
    window.leaves();

    let saved = fs::read_to_string(&path).unwrap();
    let (gone, new) = differences(DEMO, &saved);
    // Only the four lines that were given chords are written anew; their words come again.
    for row in &gone {
        assert!(row.trim_start().starts_with("- lyric: "), "{row}");
        let words = row.trim_start().trim_start_matches("- ");
        assert!(new.iter().any(|new| new.trim_start() == words), "{row}");
    }
    assert!(gone.len() <= 4, "{gone:?}");
    for row in &new {
        let keys = [
            "- label:",
            "kind:",
            "lines:",
            "- lyric:",
            "lyric:",
            "- chords:",
            "run_on:",
            "marks:",
            "",
        ];
        let row = row.trim_start();
        assert!(
            keys.iter().any(|key| row.starts_with(key)) || row.is_empty(),
            "{row}"
        );
    }
    for words in verse {
        assert!(new.iter().any(|row| row.contains(words)), "{words}");
    }
    assert_eq!(desk.names(), ["round.yaml"]);

    let window = desk.open(&path, size).unwrap();
    window.shows("The Last House on the");
    let mut window = window;
    finds(&mut window, "Ten men");
    window.hides("•");
    window.leaves();
    assert_eq!(fs::read_to_string(&path).unwrap(), saved);
}

/// Goes to some words; a lone Esc ends the search, so the next key has to wait for that.
fn finds(window: &mut Window, words: &str) {
    window.types("<Ctrl-F>").shows("Find:");
    window.types(words).shows(&format!("Find: {words}"));
    window.types("<Esc>").hides("Find:");
    window.shows(words);
}

/// Syllables stand before a line, seconds and the air left behind it.
fn figures_stand_there(window: &Window) {
    let row = window.row_with(&["Nan Carrow drove the post van up", " s "]);
    let (before, after) = row.split_once("Nan Carrow drove the post van up").unwrap();
    // Eight syllables: Nan Car-row drove the post van up.
    assert_eq!(before.trim(), "8");
    // Four bars of three at 100 beats a minute.
    assert!(after.trim_start().starts_with("7.2 s "), "{row}");
    let bar = |sign: char| ('\u{2581}'..='\u{258f}').contains(&sign);
    assert!(after.contains(bar), "{row}");
}

/// A verse after the third, with chords of its own over its first line; every figure follows each word.
fn writes_a_verse(window: &mut Window) -> [&'static str; 3] {
    let verse = [
        "Ten men went walking to the shore",
        "and sang the summer down,",
        "and not a soul in all the bay",
    ];
    window.types("<Ctrl-Down><Ctrl-Down>").shows("who Ben is");
    window.types("<Alt-N>").shows("Verse 13");
    // One syllable a word, but for walk-ing; the tune's first phrase has eight notes to sing.
    let counts = [1, 2, 3, 5, 6, 7, 8];
    let mut typed = String::new();
    for (word, count) in verse[0].split(' ').zip(counts) {
        window.types(word);
        typed.push_str(word);
        let figure = if count == 8 {
            "8 ".to_owned()
        } else {
            format!("{count} on 8")
        };
        let words = typed.clone();
        window.waits(&format!("{words}: {figure}"), |screen| {
            screen
                .lines()
                .any(|row| row.contains(&words) && row.trim_start().starts_with(&figure))
        });
        if count < 8 {
            window.types(" ");
            typed.push(' ');
        }
    }
    window.row_with(&[verse[0], "7.2 s"]);
    // The chord row borrows until it is changed; then it is the line's own.
    window.types("<Home><Tab>").shows("borrowed");
    window.types("Am").waits("a chord of one's own", |screen| {
        let rows: Vec<&str> = screen.lines().collect();
        let at = rows.iter().position(|row| row.contains(verse[0]));
        at.is_some_and(|at| rows[at - 1].contains("Am") && !rows[at - 1].contains("borrowed"))
    });
    window.types("<Tab><End><Enter>").types(verse[1]);
    window.row_with(&[verse[1], "5.4 s"]);
    window.types("<Enter>").types(verse[2]);
    window.row_with(&[verse[2], "7.2 s"]);
    verse
}

/// Two lines on one breath, then sung slower: no breath is that long.
fn runs_out_of_air_and_finds_a_way(window: &mut Window) {
    let three = window.shows("3 warnings");
    assert!(!three.contains("too long"));
    window.types("<Up><Up><F7>").shows("run on");
    window.types("<Down><Down><Down>true<F7>").hides("run on");
    window.row_with(&["and sang the summer", "tight"]);
    window.types("<Ctrl-Up><F7>").shows("played");
    window
        .types("<Down><Down><Down><Down><Down><Down><Down>")
        .shows("Beats a minute");
    window.types("60<F7>").shows("4 warnings");
    window.row_with(&["Ten men went", "too long"]);
    finds(window, "and sang the");
    window.types("<F2>").shows("breathe after");
    window.types("<Down>").hides("too long");
    window.types("<Enter>").shows("Taken");
    window.types("<Esc>").hides("breathe after");
    window.hides("too long");
    window.shows("3 warnings");
}

/// Other chords for verse 3 over the same melody: each says why, one is taken.
fn tries_other_chords(window: &mut Window) {
    finds(window, "Ben went to sea");
    window.types("<F3>").shows("as written");
    // From what, to what, and the reason.
    window.types("<Down>").row_with(&[" → ", ": "]);
    window.row_with(&["chords change"]);
    window.types("<Enter>").hides("as written");
    window.waits("chords of its own", |screen| {
        let rows: Vec<&str> = screen.lines().collect();
        let at = rows.iter().position(|row| row.contains("Ben went to sea"));
        at.is_some_and(|at| rows[at - 1].contains("Dm") && !rows[at - 1].contains("borrowed"))
    });
}

/// The rows that only the first text has, and those that only the second has, by their longest common row of rows.
fn differences<'a>(first: &'a str, second: &'a str) -> (Vec<&'a str>, Vec<&'a str>) {
    let (a, b): (Vec<&str>, Vec<&str>) = (first.lines().collect(), second.lines().collect());
    let mut common = vec![vec![0_usize; b.len() + 1]; a.len() + 1];
    for i in (0..a.len()).rev() {
        for j in (0..b.len()).rev() {
            common[i][j] = if a[i] == b[j] {
                common[i + 1][j + 1] + 1
            } else {
                common[i + 1][j].max(common[i][j + 1])
            };
        }
    }
    let (mut i, mut j) = (0, 0);
    let (mut gone, mut new) = (Vec::new(), Vec::new());
    while i < a.len() || j < b.len() {
        if i < a.len() && j < b.len() && a[i] == b[j] {
            (i, j) = (i + 1, j + 1);
        } else if j < b.len() && (i == a.len() || common[i][j + 1] >= common[i + 1][j]) {
            new.push(b[j]);
            j += 1;
        } else {
            gone.push(a[i]);
            i += 1;
        }
    }
    (gone, new)
}
