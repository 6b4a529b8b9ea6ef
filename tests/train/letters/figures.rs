//! How well words are estimated that the table was not trained on.

use crate::families::Families;
use breathmark::words::dictionary::Entry;
use breathmark::words::model::estimate_with;
use breathmark::words::model::table::Table;
use breathmark::words::phone::{Phone, Sound, Stress};
use breathmark::words::syllables::count;
use std::error::Error;
use std::time::Instant;

/// What of a pronunciation has to agree with one that is listed.
type View = fn(&[Sound]) -> Vec<u8>;

const VIEWS: [(&str, View); 5] = [
    ("sounds", phones),
    ("sounds, AH0 and IH0 as one", |sounds| {
        sounds.iter().map(|sound| weak(*sound)).collect()
    }),
    ("sounds and stress", |sounds| {
        sounds.iter().map(|sound| sound.code()).collect()
    }),
    ("syllables", |sounds| {
        vec![u8::try_from(count(sounds)).unwrap_or(u8::MAX)]
    }),
    ("syllables and main stress", |sounds| {
        sounds
            .iter()
            .filter_map(|sound| {
                sound
                    .stress
                    .map(|stress| u8::from(stress == Stress::Primary))
            })
            .collect()
    }),
];

fn phones(sounds: &[Sound]) -> Vec<u8> {
    sounds.iter().map(|sound| sound.phone as u8).collect()
}

fn weak(sound: Sound) -> u8 {
    match (sound.phone, sound.stress) {
        (Phone::AH, Some(Stress::None)) => Phone::IH as u8,
        (phone, _) => phone as u8,
    }
}

/// Prints the share of words where the likeliest estimate agrees with any listed pronunciation: of all, and of those
/// that belong to a family of the language, which names do not.
pub(crate) fn print(
    bytes: &[u8],
    words: &[Entry],
    families: &Families,
) -> Result<(), Box<dyn Error>> {
    let table = Table::new(bytes).ok_or("the table has not the size it should have")?;
    rows(&table, "held-out words", words);
    let ordinary: Vec<Entry> = words
        .iter()
        .filter(|entry| families.is_ordinary(&entry.word))
        .cloned()
        .collect();
    rows(&table, "of these with relatives", &ordinary);
    Ok(())
}

/// Prints the rows of figures for these words.
fn rows(table: &Table<'_>, name: &str, words: &[Entry]) {
    let begin = Instant::now();
    let estimates: Vec<Vec<Sound>> = words
        .iter()
        .map(|entry| {
            estimate_with(table, &entry.word)
                .into_iter()
                .next()
                .map_or_else(Vec::new, |estimate| estimate.sounds)
        })
        .collect();
    let micros = begin.elapsed().as_micros() as f64 / words.len() as f64;
    println!("{name}: {}; {micros:.0} µs a word", words.len());
    for (view_name, view) in VIEWS {
        let right = words.iter().zip(&estimates).filter(|(entry, estimate)| {
            let mut listed = entry.pronunciations;
            listed.any(|said| view(&said.sounds().collect::<Vec<_>>()) == view(estimate))
        });
        println!(
            "  {view_name}: {:.2} %",
            100.0 * right.count() as f64 / words.len() as f64
        );
    }
}
