//! The direction of the rooms: a room uses only those above it, and only the edges touch the world outside.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::fs;
use std::path::{Path, PathBuf};

/// The rooms from the ground floor up, each with the rooms that it may use. The order of `src/lib.rs` is this order.
const ROOMS: &[(&str, &[&str])] = &[
    ("music", &[]),
    ("words", &[]),
    ("wording", &[]),
    ("song", &["music"]),
    ("singing", &["music", "words", "wording", "song"]),
    ("harmony", &["music", "wording"]),
    (
        "reading",
        &["music", "words", "wording", "song", "singing", "harmony"],
    ),
    (
        "warnings",
        &[
            "music", "words", "wording", "song", "singing", "harmony", "reading",
        ],
    ),
    (
        "formats",
        &[
            "music", "words", "wording", "song", "singing", "harmony", "reading", "warnings",
        ],
    ),
    (
        "desk",
        &[
            "music", "words", "wording", "song", "singing", "harmony", "reading", "warnings",
            "formats",
        ],
    ),
    ("notebook", &["song", "wording", "formats"]),
    (
        "tui",
        &[
            "music", "words", "wording", "song", "singing", "harmony", "reading", "warnings",
            "formats", "desk", "notebook",
        ],
    ),
    (
        "cli",
        &[
            "music", "words", "wording", "song", "singing", "harmony", "reading", "warnings",
            "formats", "desk", "notebook", "tui",
        ],
    ),
];

/// What only the edges may name: the disk, the environment, clocks, threads, printing.
const OUTSIDE: &[&str] = &[
    "std::fs",
    "std::env",
    "std::process",
    "std::thread",
    "std::time::Instant",
    "std::time::SystemTime",
    "Instant::now",
    "SystemTime::now",
    "thread::spawn",
    "println!",
    "eprintln!",
    "std::io::stdin",
    "std::io::stdout",
    "std::net",
];

/// The rooms that touch the world outside.
const EDGES: &[&str] = &["notebook", "cli", "tui"];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

fn room_of(path: &Path) -> Option<String> {
    let inside = path
        .strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src"))
        .ok()?;
    let first = inside.components().next()?.as_os_str().to_str()?;
    Some(first.trim_end_matches(".rs").to_owned())
}

/// The rooms named behind `crate::` in a row of code, in either form: `crate::music::key`, `crate::{music, song}`.
fn named(row: &str) -> Vec<String> {
    let mut rooms = Vec::new();
    for behind in row.split("crate::").skip(1) {
        let mut list = |text: &str| {
            let word: String = text
                .trim()
                .chars()
                .take_while(|c| c.is_alphanumeric() || *c == '_')
                .collect();
            if !word.is_empty() {
                rooms.push(word);
            }
        };
        match behind.strip_prefix('{') {
            Some(group) => group
                .split('}')
                .next()
                .unwrap_or("")
                .split(',')
                .for_each(&mut list),
            None => list(behind),
        }
    }
    rooms
}

/// Rows of code, comments and the unit tests at a file's foot left out, with their numbers.
fn code(text: &str) -> Vec<(usize, &str)> {
    let rows = text
        .lines()
        .enumerate()
        .map(|(index, row)| (index + 1, row));
    rows.take_while(|(_, row)| !row.contains("#[cfg(test)]"))
        .filter(|(_, row)| !row.trim_start().starts_with("//"))
        .collect()
}

fn files() -> Vec<(PathBuf, String, String)> {
    let mut paths = Vec::new();
    sources(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
        &mut paths,
    );
    let known = |path: PathBuf| {
        let room = room_of(&path)?;
        let text = fs::read_to_string(&path).unwrap();
        (!["lib", "main"].contains(&room.as_str()) && !path.ends_with("data/pack.rs"))
            .then_some((path, room, text))
    };
    paths.into_iter().filter_map(known).collect()
}

#[test]
fn arrows_point_upward() {
    let mut wrong = Vec::new();
    for (path, room, text) in files() {
        let allowed = ROOMS
            .iter()
            .find(|(name, _)| *name == room)
            .unwrap_or_else(|| panic!("{room} is not in the table of rooms"))
            .1;
        for (number, row) in code(&text) {
            for used in named(row) {
                if used != room && !allowed.contains(&used.as_str()) {
                    wrong.push(format!("{}:{number}: {room} uses {used}", path.display()));
                }
            }
            let climbs = row.matches("super::").count();
            let depth = path.components().count()
                - Path::new(env!("CARGO_MANIFEST_DIR")).components().count()
                - 2;
            if row.contains("super::super") && climbs > depth {
                wrong.push(format!(
                    "{}:{number}: leaves its room by super::super",
                    path.display()
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_the_edges_touch_the_world() {
    let mut wrong = Vec::new();
    for (path, room, text) in files() {
        if EDGES.contains(&room.as_str()) {
            continue;
        }
        for (number, row) in code(&text) {
            wrong.extend(
                OUTSIDE
                    .iter()
                    .filter(|outside| row.contains(**outside))
                    .map(|outside| format!("{}:{number}: {outside}", path.display())),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_library_lists_the_rooms_in_their_order() {
    let text =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs")).unwrap();
    let listed: Vec<_> = text
        .lines()
        .filter_map(|row| row.strip_prefix("pub mod ")?.strip_suffix(';'))
        .collect();
    let table: Vec<_> = ROOMS.iter().map(|(room, _)| *room).collect();
    assert_eq!(listed, table);
}

#[test]
fn every_room_says_what_it_is_for() {
    for (room, _) in ROOMS {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("src")
            .join(room)
            .join("mod.rs");
        let path = if folder.exists() {
            folder
        } else {
            folder.parent().unwrap().with_extension("rs")
        };
        let text = fs::read_to_string(&path).unwrap();
        let head: String = text
            .lines()
            .take_while(|row| row.starts_with("//!"))
            .collect();
        assert!(
            head.contains("In:") && head.contains("Out:") && head.contains("Never:"),
            "{} does not say what comes in, what goes out and what it never does",
            path.display()
        );
    }
}

#[test]
fn rows_name_rooms_in_both_forms() {
    assert_eq!(named("use crate::{music, song::Song};"), ["music", "song"]);
    assert_eq!(
        named("fn f(a: crate::music::Key, b: crate::words::Word)"),
        ["music", "words"]
    );
}
