//! How well words are estimated that the table was not trained on.

use crate::families::Families;
use breathmark::words::dictionary::Entry;
use breathmark::words::model::estimate_with;
use breathmark::words::model::table::Table;
use breathmark::words::phone::{Phone, Sound, Stress};
use breathmark::words::syllables::count;
use std::error::Error;
use std::time::Instant;

/// Whether a pronunciation agrees with one that is listed.
type View = fn(&[Sound], &[Sound]) -> bool;

pub(crate) const VIEWS: [(&str, View); 6] = [
    ("sounds", |a, b| each(a, b, |a, b| a.phone == b.phone)),
    ("sounds, AH0 and IH0 as one", |a, b| {
        each(a, b, |a, b| a.phone == b.phone || both_weak(a, b))
    }),
    ("sounds and stress", |a, b| each(a, b, |a, b| a == b)),
    ("sounds and stress, AH0 and IH0 as one", |a, b| {
        each(a, b, |a, b| a == b || both_weak(a, b))
    }),
    ("syllables", |a, b| count(a) == count(b)),
    ("syllables and main stress", |a, b| {
        main_stress(a).eq(main_stress(b))
    }),
];

fn each(one: &[Sound], other: &[Sound], agree: fn(Sound, Sound) -> bool) -> bool {
    one.len() == other.len() && one.iter().zip(other).all(|(a, b)| agree(*a, *b))
}

fn both_weak(one: Sound, other: Sound) -> bool {
    let weak =
        |sound: Sound| sound.is_unstressed_vowel() && matches!(sound.phone, Phone::AH | Phone::IH);
    weak(one) && weak(other)
}

fn main_stress(sounds: &[Sound]) -> impl Iterator<Item = bool> {
    let stresses = sounds.iter().filter_map(|sound| sound.stress);
    stresses.map(|stress| stress == Stress::Primary)
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
            listed.any(|said| view(&said.sounds().collect::<Vec<_>>(), estimate))
        });
        println!(
            "  {view_name}: {:.2} %",
            100.0 * right.count() as f64 / words.len() as f64
        );
    }
}
