//! How long it takes to read a phrase, to set a line, and to follow the air through a long song.

use breathmark::music::meter::Meter;
use breathmark::music::quarters::Quarters;
use breathmark::music::tune::Phrase;
use breathmark::singing::air::{After, Ends, Sounding, breathe};
use breathmark::singing::placement::{Frame, Pattern, place};
use breathmark::singing::underlay::{places::Places, underlay};
use breathmark::singing::voice::Voice;
use breathmark::singing::ways::{self, Way};
use breathmark::words::{SongWords, line::line};
use std::hint::black_box;

fn main() {
    divan::main();
}

const TUNE: &str = "B,2 | E4 F2 | G4 F2 | E4 D2 | B,4";

fn waltz() -> Meter {
    Meter::new(3, 4).unwrap_or(Meter::COMMON)
}

/// A line of 11 syllables, four of its words with more ways than one.
fn ferryman() -> Vec<Vec<Way>> {
    ways::of_line(&line(
        "And the ferryman never came over the river",
        &SongWords::default(),
    ))
}

fn places() -> Places {
    Places::of(&Phrase::read(TUNE, [0; 7], waltz()), waltz())
}

/// Lines of ten syllables, with what the consonants of ordinary words cost.
fn song(syllables: u32) -> Vec<Sounding> {
    (0..syllables)
        .map(|index| {
            let start = f64::from(index) * 0.5 + f64::from(index / 10) * 0.3;
            let last = index % 10 == 9;
            Sounding {
                start,
                end: start + 0.5,
                last_note: 0.5,
                charge: f64::from(index % 3) * 0.02,
                flow: 1.0,
                line: usize::try_from(index / 10).unwrap_or(0),
                after: if last { After::LineEnd } else { After::Nothing },
                ends: if last { Ends::Clause } else { Ends::Word },
            }
        })
        .collect()
}

#[divan::bench]
fn a_phrase(bencher: divan::Bencher) {
    bencher.bench(|| Phrase::read(black_box(TUNE), [0; 7], waltz()));
}

#[divan::bench]
fn a_phrase_prepared(bencher: divan::Bencher) {
    let phrase = Phrase::read(TUNE, [0; 7], waltz());
    bencher.bench(|| Places::of(black_box(&phrase), waltz()));
}

#[divan::bench]
fn a_line_on_its_notes(bencher: divan::Bencher) {
    let (line, places) = (ferryman(), places());
    bencher.bench(|| underlay(black_box(&line), &places, None));
}

#[divan::bench]
fn a_line_in_its_bars(bencher: divan::Bencher) {
    let line = ferryman();
    let frame = Frame {
        meter: waltz(),
        bars: 4,
    };
    bencher.bench(|| {
        place(black_box(&line), frame, Pattern::default()).set(None, None, Quarters::EIGHTH)
    });
}

/// A line of 100 words, of which the pattern asks 8 syllables fewer than it has.
#[divan::bench]
fn a_line_of_100_words_with_a_pattern(bencher: divan::Bencher) {
    let verse = "And the ferryman never came over the river again ";
    let line = ways::of_line(&line(&verse.repeat(11), &SongWords::default()));
    let frame = Frame {
        meter: waltz(),
        bars: 40,
    };
    let usual = place(&line, frame, Pattern::default()).syllables.len();
    let pattern = Pattern {
        syllables: Some(usual - 8),
        ..Pattern::default()
    };
    bencher.bench(|| place(black_box(&line), frame, pattern));
}

#[divan::bench]
fn air_of_2000_syllables(bencher: divan::Bencher) {
    let song = song(2000);
    bencher.bench(|| breathe(black_box(&song), Voice::default()));
}

#[divan::bench]
fn lines_of_2000_syllables(bencher: divan::Bencher) {
    let song = song(2000);
    let air = breathe(&song, Voice::default());
    bencher.bench(|| black_box(&air).lines(&song, Voice::default()));
}
