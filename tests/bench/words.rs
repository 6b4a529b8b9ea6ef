//! How long it takes to read words and rows.

#![allow(missing_docs, reason = "benchmarks")]

use breathmark::words::line::line;
use breathmark::words::rhyme::ending::Ending;
use breathmark::words::rhyme::line_end::LineEnd;
use breathmark::words::rhyme::scheme::scheme;
use breathmark::words::rhyme::search::{Wish, rhymes};
use breathmark::words::{SongWords, dictionary, read, read_estimate};
use divan::black_box;

fn main() {
    divan::main();
}

#[divan::bench(args = ["sea", "water", "wandering", "qwertz"])]
fn look_up(word: &str) -> usize {
    dictionary::lookup(black_box(word)).count()
}

#[divan::bench(args = ["sea", "water", "wandering", "heav'n", "lighthouse-keeper", "1847"])]
fn read_known(word: &str) -> usize {
    read(black_box(word), &SongWords::default()).readings.len()
}

#[divan::bench(args = ["borrick", "skellagarve"])]
fn read_estimated(word: &str) -> usize {
    read_estimate(black_box(word)).readings.len()
}

#[divan::bench]
fn read_row() -> usize {
    line(
        black_box("She rang the bell at the water's edge and the ferryman came"),
        &SongWords::default(),
    )
    .len()
}

/// *day* has most full rhymes, *orange* none, *nation* the most of two syllables.
#[divan::bench(args = ["night", "day", "water", "nation", "glorious", "orange", "borrick"])]
fn find_rhymes(word: &str) -> usize {
    let with = Ending::of_word(&read(black_box(word), &SongWords::default()));
    let wish = Wish {
        stresses: &with.stresses(),
        fitting: false,
        except: word,
        enough: 60,
        syllables: None,
    };
    rhymes(&with, wish).len()
}

/// A stanza of four lines, and one section of 240.
#[divan::bench(args = [4, 240])]
fn scheme_of(bencher: divan::Bencher, lines: usize) {
    let stanza = [
        "She rang the bell at the water's edge",
        "and no one answered, no lantern moved",
        "The tide went out and the stars came in",
        "and she stood where the ferry had been",
    ];
    let ends: Vec<LineEnd> = stanza
        .iter()
        .cycle()
        .take(lines)
        .map(|row| LineEnd::of(&line(row, &SongWords::default())))
        .collect();
    bencher.bench(|| scheme(black_box(&ends)).lines.len());
}
