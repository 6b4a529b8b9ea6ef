//! How well words of the language are read that the dictionary lacks, their relatives being listed: by rules where there are
//! any, else by estimate.

use crate::figures::VIEWS;
use breathmark::words::dictionary::{self, Entry};
use breathmark::words::model::table::Table;
use breathmark::words::phone::Sound;
use breathmark::words::{Readings, SongWords, Source, read, read_unlisted};
use std::error::Error;

/// One common word in so many belongs to each part.
const PART: u64 = 30;
/// The mistakes of the first part were looked at when the rules were made, those of the second never.
const PARTS: [&str; 2] = ["looked at", "never looked at"];
/// Ranks up to this are words of the language: SCOWL's sizes up to 70.
const COMMON: u8 = 4;

/// The part that a common word belongs to, if any.
fn part(word: &str, rank: u8) -> Option<&'static str> {
    if rank > COMMON || word.len() < 2 || !word.bytes().all(|letter| letter.is_ascii_lowercase()) {
        return None;
    }
    let part = usize::try_from(crate::families::mixed(word) % PART).ok()?;
    PARTS.get(part).copied()
}

/// Whether a word is to be left out of the training: it is of a part, or the possessive of such a word.
pub(crate) fn is_left_out(entry: &Entry) -> bool {
    let word = entry.word.strip_suffix("'s").unwrap_or(&entry.word);
    part(word, dictionary::rank(word).unwrap_or(u8::MAX)).is_some()
}

/// Prints, for each part, the share of its words where the default reading agrees with any listed pronunciation, or with
/// the default reading of the listed word, which may be sung shorter.
pub(crate) fn print(bytes: &[u8], entries: &[Entry]) -> Result<(), Box<dyn Error>> {
    let table = Table::new(bytes).ok_or("the table has not the size it should have")?;
    for name in PARTS {
        let words = entries
            .iter()
            .filter(|entry| part(&entry.word, entry.rank) == Some(name));
        let read: Vec<(&Entry, Readings)> = words
            .map(|entry| (entry, read_unlisted(&entry.word, &table)))
            .collect();
        rows(&format!("unlisted words, {name}"), &read);
        for source in [Source::Rule, Source::Estimate] {
            let of_source: Vec<(&Entry, Readings)> = read
                .iter()
                .filter(|(_, readings)| readings.from == source)
                .cloned()
                .collect();
            rows(&format!("of these by {}", source.name()), &of_source);
        }
    }
    Ok(())
}

fn rows(name: &str, words: &[(&Entry, Readings)]) {
    println!("{name}: {}", words.len());
    for (view_name, view) in VIEWS {
        let right = words.iter().filter(|(entry, readings)| {
            let found = default_sounds(readings);
            let mut listed = entry.pronunciations;
            listed.any(|said| view(&said.sounds().collect::<Vec<_>>(), &found))
                || view(
                    &default_sounds(&read(&entry.word, &SongWords::default())),
                    &found,
                )
        });
        println!(
            "  {view_name}: {:.2} %",
            100.0 * right.count() as f64 / words.len() as f64
        );
    }
}

fn default_sounds(readings: &Readings) -> Vec<Sound> {
    let reading = readings.default_reading();
    reading.map_or_else(Vec::new, |reading| reading.sounds().collect())
}
