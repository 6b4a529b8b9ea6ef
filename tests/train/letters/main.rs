//! Trains the table by which unlisted words are estimated, from nothing but the dictionary.
//!
//! `cargo run --release --example train-letters` holds out one family of words in forty, trains on the others and prints how
//! well the held-out words are estimated; then it leaves out some common words but not their relatives, and prints how well
//! rules and estimate together read these; then it trains on all and writes `src/words/data/letters.bin`. With the argument
//! `figures` it writes nothing; with `table` it prints no figures. The same dictionary gives the same table.

#![allow(
    clippy::print_stdout,
    reason = "a program for developers that tells its figures"
)]

mod align;
mod families;
mod figures;
mod fit;
mod unlisted;

use align::Pair;
use breathmark::words::dictionary::{self, Entry};
use breathmark::words::model::{context, table};
use breathmark::words::phone::{Sound, Stress};
use families::{Families, lot};
use fit::Disorder;
use std::error::Error;
use std::path::Path;

/// Where the disorder begins; another number gives another split and order.
const BEGINNING: u64 = 88_172_645_463_325_252;
/// One family of words in so many is held out.
const HELD_OUT: u64 = 40;
/// A variant counts so much of a first pronunciation. Our choice.
const VARIANT: f32 = 0.5;
/// A word without relatives, a name as a rule, counts so much of another. Our choice: with 0.5 the held-out words of the
/// language gain a point of whole pronunciations, the others lose a fifth of one.
const NAME: f32 = 0.5;
/// An answer that a letter has less often is not learned. Our choice.
const LEAST: u32 = 8;

fn main() -> Result<(), Box<dyn Error>> {
    let wish = std::env::args().nth(1);
    let entries: Vec<Entry> = dictionary::entries()
        .filter(|entry| entry.word.len() > 1 && letters(&entry.word).is_some())
        .collect();
    let families = Families::new(&entries);
    if wish.as_deref() != Some("table") {
        let (held_out, rest): (Vec<Entry>, Vec<Entry>) = entries
            .iter()
            .cloned()
            .partition(|entry| lot(&entry.word).is_multiple_of(HELD_OUT));
        let held_out: Vec<Entry> = held_out
            .into_iter()
            .filter(|entry| !entry.word.contains('\''))
            .collect();
        println!(
            "{} words to learn from, {} held out; disorder from {BEGINNING}",
            rest.len(),
            held_out.len()
        );
        let bytes = train(&rest, &mut Disorder(BEGINNING));
        figures::print(&bytes, &held_out, &families)?;
        let rest: Vec<Entry> = entries
            .iter()
            .filter(|entry| !unlisted::is_left_out(entry))
            .cloned()
            .collect();
        println!("{} words to learn from, common words left out", rest.len());
        let bytes = train(&rest, &mut Disorder(BEGINNING));
        unlisted::print(&bytes, &entries)?;
    }
    if wish.as_deref() != Some("figures") {
        println!("{} words to learn from", entries.len());
        let bytes = train(&entries, &mut Disorder(BEGINNING));
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/words/data/letters.bin");
        std::fs::write(&path, &bytes)?;
        println!("{} bytes written to {}", bytes.len(), path.display());
    }
    Ok(())
}

/// The letters of a word by their numbers; `None` where it has other signs.
fn letters(word: &str) -> Option<Vec<u8>> {
    word.bytes().map(context::number).collect()
}

fn train(entries: &[Entry], disorder: &mut Disorder) -> Vec<u8> {
    let families = Families::new(entries);
    let mut pairs = Vec::new();
    for entry in entries {
        let Some(letters) = letters(&entry.word) else {
            continue;
        };
        for (number, said) in entry.pronunciations.enumerate() {
            let rank = if number == 0 { 1.0 } else { VARIANT };
            let weight = if families.is_ordinary(&entry.word) {
                rank
            } else {
                rank * NAME
            };
            pairs.push(Pair {
                letters: letters.clone(),
                sounds: with_one_primary(said.sounds().collect()),
                weight,
            });
        }
    }
    let aligned = align::numbered(&pairs, table::LETTERS, LEAST);
    println!(
        "{} pronunciations, {} of them aligned; {} answers",
        pairs.len(),
        aligned.words.len(),
        aligned.answers.len()
    );
    fit::fit(&aligned, disorder, |pass, loss| {
        println!("pass {pass}: {loss:.4} nats a letter")
    })
}

/// Of several main stresses the last stays.
fn with_one_primary(mut sounds: Vec<Sound>) -> Vec<Sound> {
    let last = sounds
        .iter()
        .rposition(|sound| sound.stress == Some(Stress::Primary));
    for (at, sound) in sounds.iter_mut().enumerate() {
        if sound.stress == Some(Stress::Primary) && Some(at) != last {
            sound.stress = Some(Stress::Secondary);
        }
    }
    sounds
}
