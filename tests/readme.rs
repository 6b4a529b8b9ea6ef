//! The README says what the program does: its key table is the program's own.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::tui::commands::markdown;

#[test]
fn the_key_table_is_the_programs_own() {
    let readme =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let table = markdown();
    assert!(
        readme.contains(&table),
        "README.md needs this table:\n{table}"
    );
}

#[test]
fn the_first_command_opens_a_song_that_is_there() {
    let readme =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let song = readme
        .lines()
        .find_map(|row| row.trim().strip_prefix("cargo run --release -- "))
        .unwrap();
    assert!(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join(song)
            .is_file()
    );
}
