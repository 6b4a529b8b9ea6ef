//! What the contents tell of a song's file.

use super::worker::SongFacts;
use crate::formats::yaml;
use crate::notebook::open;
use crate::reading::memory::Memory;
use crate::reading::read::read;
use crate::warnings::{self, Severity};
use std::path::Path;

/// Reads a song's file for the contents.
#[must_use]
pub fn facts(path: &Path) -> SongFacts {
    let opened = open::open(path).and_then(|opened| yaml::read::read(&opened.text));
    match opened {
        Ok(opened) => {
            let song = opened.song;
            let reading = read(&song, &mut Memory::default());
            let warnings = warnings::all(&song, &reading);
            SongFacts {
                title: reading.head.title.clone(),
                key: reading.head.setting.key.to_string(),
                seconds: reading.seconds,
                warnings: warnings
                    .iter()
                    .filter(|warning| warning.severity() == Severity::Warning)
                    .count(),
                trouble: None,
            }
        }
        Err(message) => SongFacts {
            title: String::new(),
            key: String::new(),
            seconds: 0.0,
            warnings: 0,
            trouble: Some(message.sentence()),
        },
    }
}
