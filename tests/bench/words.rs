//! How long it takes to read words and rows.

#![allow(missing_docs, reason = "benchmarks")]

use breathmark::words::line::line;
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
