//! What the consonants of a line cost above its vowels, in seconds of steady note.
//!
//! The flows lie inside the regions of Stevens 1971 and the lengths are Klatt's (1976); the sums below were made by hand.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::singing::charge::costs;
use breathmark::words::SongWords;
use breathmark::words::line::line;

/// The costs of a line's sounds, each word read as usual.
fn line_costs(lyric: &str) -> Vec<f64> {
    let words = line(lyric, &SongWords::default());
    let syllables = words.iter().flat_map(|word| {
        let usual = word.readings.readings.first().unwrap();
        usual.syllables.iter().enumerate()
    });
    syllables
        .flat_map(|(index, syllable)| costs(&syllable.sounds, index == 0))
        .collect()
}

fn check(lyric: &str, expected: &[f64]) {
    let mut found = line_costs(lyric);
    let mut expected = expected.to_vec();
    found.sort_by(f64::total_cmp);
    expected.sort_by(f64::total_cmp);
    assert_eq!(found.len(), expected.len(), "{lyric}: {found:?}");
    for (found, expected) in found.iter().zip(&expected) {
        assert!((found - expected).abs() < 1e-9, "{lyric}: {found}");
    }
}

#[test]
fn breathy_lines_cost_what_their_sounds_cost() {
    // SH in she, DH twice, Z in water's, JH in edge: 0.220 s.
    check(
        "She rang the bell at the water's edge",
        &[0.140, 0.020, 0.020, 0.020, 0.020],
    );
    // HH six times, S twice, F, SH, and Z, Z, DH: 1.735 s.
    let mut harp = vec![0.187; 6];
    harp.extend([0.140, 0.140, 0.133, 0.140, 0.020, 0.020, 0.020]);
    check("His soft high harp has hushed the house", &harp);
}

#[test]
fn stops_cost_where_they_are_aspirated() {
    check("top", &[0.080]);
    check("stop", &[0.140]);
    check("at", &[]);
    check("water", &[]);
    check("today", &[0.080]);
    check("soft", &[0.140, 0.133]);
    check("attack", &[0.080]);
}
