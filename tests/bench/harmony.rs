//! How long the search for variants takes: 50 of a section of 16 chords.

use breathmark::harmony::slot::{Setting, Slot, Style};
use breathmark::harmony::vary::{Wish, vary};
use breathmark::harmony::{candidates, examples};

fn main() {
    divan::main();
}

const CHORDS: &str = "G C G D / G C D G / Em C G D / G Am D7 G";

fn sung() -> (Vec<Slot>, Setting) {
    let bars = [
        "D4 1 G4 1 B4 2",
        "C5 1 E5 1 C5 2",
        "B4 2 A4 1 G4 1",
        "A4 3 - 1",
    ];
    let mut slots = examples::slots(CHORDS);
    for at in 0..slots.len() {
        examples::sing(&mut slots, at, bars[at % bars.len()]);
    }
    (slots, examples::setting("G", Style::Folk))
}

#[divan::bench]
fn candidates_of_16_slots(bencher: divan::Bencher) {
    let (slots, setting) = sung();
    bencher.bench(|| candidates::for_slots(&slots, &setting));
}

#[divan::bench(args = [0, 50])]
fn fifty_variants_of_16_slots(bencher: divan::Bencher, spread: usize) {
    let (slots, setting) = sung();
    let wish = Wish {
        spread,
        ..Wish::of(50)
    };
    bencher.bench(|| vary(&slots, &setting, wish, &|| false));
}

#[divan::bench(args = [0, 50])]
fn fifty_variants_of_16_slots_without_notes(bencher: divan::Bencher, spread: usize) {
    let slots = examples::slots(CHORDS);
    let setting = examples::setting("G", Style::Folk);
    let wish = Wish {
        spread,
        ..Wish::of(50)
    };
    bencher.bench(|| vary(&slots, &setting, wish, &|| false));
}

#[divan::bench]
fn fifty_variants_apart_from_another(bencher: divan::Bencher) {
    let (slots, setting) = sung();
    let other = vary(&slots, &setting, Wish::of(1), &|| false)
        .and_then(|found| found.variants.into_iter().next())
        .map(|variant| variant.chords);
    let wish = Wish {
        apart_from: other.as_deref(),
        ..Wish::of(50)
    };
    bencher.bench(|| vary(&slots, &setting, wish, &|| false));
}
