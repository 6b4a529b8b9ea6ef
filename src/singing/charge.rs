//! What the breathy sounds of a syllable cost above vowel flow.

use crate::words::phone::{Phone, Sound};

/// Seconds of steady-note flow that a sound costs above a vowel of the same length: (its flow / a vowel's − 1) · its length.
///
/// Flows of vowels 150, voiceless fricatives 350, aspiration 500 and voiced fricatives 200 mL/s are our choice inside the regions
/// of Stevens 1971 (Journal of the Acoustical Society of America 50: 1180–1192); lengths are Klatt's inherent ones (1976, same
/// journal 59: 1208–1221). `strong` says that a stop opens a word or a stressed syllable, and not after s.
#[must_use]
pub fn cost(phone: Phone, strong: bool) -> f64 {
    match phone {
        Phone::S | Phone::SH => 0.140,
        Phone::F => 0.133,
        Phone::TH => 0.120,
        Phone::HH => 0.187,
        Phone::CH => 0.093,
        Phone::P | Phone::T | Phone::K if strong => 0.080,
        Phone::Z | Phone::V | Phone::DH | Phone::ZH | Phone::JH => 0.020,
        _ => 0.0,
    }
}

/// The costs of a syllable's sounds in order; sounds that cost nothing are left out.
#[must_use]
pub fn costs(sounds: &[Sound], opens_word: bool) -> Vec<f64> {
    let stressed = sounds.iter().any(|sound| sound.is_stressed());
    let opening = sounds.iter().take_while(|sound| !sound.is_vowel()).count();
    let one = |(index, sound): (usize, &Sound)| {
        let after_s = index
            .checked_sub(1)
            .and_then(|before| sounds.get(before))
            .is_some_and(|before| before.phone == Phone::S);
        cost(
            sound.phone,
            index < opening && (opens_word || stressed) && !after_s,
        )
    };
    sounds
        .iter()
        .enumerate()
        .map(one)
        .filter(|cost| *cost > 0.0)
        .collect()
}
