//! Every song that comes with the program opens and is written back as it is.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::formats::yaml::content::same_song;
use breathmark::formats::yaml::read::read;
use breathmark::formats::yaml::write::write;
use std::fs;
use std::path::{Path, PathBuf};

fn songs() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let entries = ["songs", "demo"]
        .into_iter()
        .flat_map(|folder| fs::read_dir(root.join(folder)).unwrap());
    let mut paths: Vec<_> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

#[test]
fn opening_and_saving_changes_no_byte() {
    assert!(songs().len() >= 2);
    for path in songs() {
        let text = fs::read_to_string(&path).unwrap();
        let opened = read(&text).unwrap();
        assert!(opened.findings.is_empty(), "{:?}", opened.findings);
        assert_eq!(write(&opened.song), text, "{}", path.display());
    }
}

#[test]
fn songs_written_anew_say_the_same() {
    for path in songs() {
        let text = fs::read_to_string(&path).unwrap();
        let mut song = read(&text).unwrap().song;
        song.slice = None;
        for section in &mut song.sections {
            section.slice = None;
            for line in &mut section.lines {
                line.slice = None;
            }
        }
        let written = write(&song);
        let again = read(&written).unwrap();
        assert!(same_song(&song, &again.song), "{written}");
    }
}
