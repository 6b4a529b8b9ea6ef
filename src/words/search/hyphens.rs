//! Hyphens of the writer: parts of one word, or words side by side.

use super::super::phone::Sound;
use super::super::syllables::count;
use super::super::{Source, estimate, numbers, phone::Stress, stress, written};
use super::letters::letters;
use super::{DEEPEST, Found, PARTING, Said, Search};

impl Search<'_> {
    /// The writer's hyphens: parts of one word (*a-wand-'ring, moun-tains*), or words side by side (*well-worn*).
    pub(super) fn hyphenated(&self, word: &str, depth: usize) -> Found {
        let pieces: Vec<&str> = word
            .split(PARTING)
            .filter(|piece| !piece.is_empty())
            .collect();
        let telephone = numbers::is_telephone(&pieces);
        let joined: String = pieces.concat();
        if let Some(listed) = self.listed(word).next() {
            let bounds: Vec<usize> = word.match_indices(PARTING).map(|(at, _)| at + 1).collect();
            return Found::one(
                word,
                listed.sounds().collect(),
                "dictionary",
                &bounds,
                Source::Dictionary,
            );
        }
        if let Some(sounds) = self.whole(&joined, pieces.len()) {
            let starts = piece_starts(word);
            if starts.len() == pieces.len() {
                let said = Said {
                    sounds,
                    cost: 0,
                    why: "parted by the writer",
                    starts,
                    guessed: false,
                    spoken: Vec::new(),
                };
                return Found {
                    said: vec![said],
                    from: Source::Rule,
                };
            }
        }
        let mut whole = Said {
            sounds: Vec::new(),
            cost: 0,
            why: "hyphened",
            starts: Vec::new(),
            guessed: false,
            spoken: Vec::new(),
        };
        let mut from = Source::Rule;
        let mut has_main = false;
        for (piece, start) in pieces.iter().zip(piece_starts(word)) {
            let found = if telephone {
                self.spelled_figures(piece)
            } else {
                self.piece(piece, depth)
            };
            if found.from == Source::Estimate {
                from = Source::Estimate;
            }
            let Some(mut said) = found.said.into_iter().next() else {
                continue;
            };
            if stress::is_function_word(piece) || has_main {
                lower_stress(&mut said.sounds, stress::is_function_word(piece));
            } else {
                has_main = said.sounds.iter().any(|sound| sound.is_stressed());
            }
            whole.sounds.extend(said.sounds);
            whole
                .starts
                .extend(said.starts.into_iter().map(|at| at + start));
            whole.guessed |= said.guessed;
            whole.spoken.extend(said.spoken);
        }
        if let Some(first) = whole.starts.first_mut() {
            *first = 0;
        }
        if whole.spoken.len() != whole.starts.len() {
            whole.spoken.clear();
        }
        if count(&whole.sounds) != whole.starts.len() {
            let letters = estimate::sounds(&joined, self.model);
            return Found::one(word, letters, "estimate", &[], Source::Estimate);
        }
        Found {
            said: vec![whole],
            from,
        }
    }

    /// *drum'n'bass*: words with an *and* between.
    pub(super) fn with_and(&self, word: &str, depth: usize) -> Option<Found> {
        if !word.contains('\'') {
            return None;
        }
        let (left, right) = word.split_once("'n'")?;
        // *heav'n's* is something else.
        if left.is_empty() || right.is_empty() || (left.len() > 1) != (right.len() > 1) {
            return None;
        }
        let and = left.len();
        let mut whole = Said {
            sounds: Vec::new(),
            cost: 0,
            why: "hyphened",
            starts: Vec::new(),
            guessed: false,
            spoken: Vec::new(),
        };
        for (piece, start) in [(left, 0), ("'n'", and), (right, and + 3)] {
            let found = if piece.len() == 1 {
                letters(piece)
            } else {
                self.find_plain(piece, depth + 1)
            };
            let said = found.said.into_iter().next()?;
            whole.sounds.extend(said.sounds);
            whole
                .starts
                .extend(said.starts.into_iter().map(|at| at + start));
            whole.guessed |= said.guessed;
        }
        Some(Found {
            said: vec![whole],
            from: Source::Rule,
        })
    }

    /// The sounds of the joined word where it is known and can have just this many syllables.
    pub(super) fn whole(&self, joined: &str, pieces: usize) -> Option<Vec<Sound>> {
        let known = self.known(joined).is_some() || joined.contains('\'');
        if !known {
            return None;
        }
        let found = self.find_plain(joined, DEEPEST - 1);
        let fits = found
            .said
            .into_iter()
            .find(|said| count(&said.sounds) == pieces)?;
        (found.from != Source::Estimate).then_some(fits.sounds)
    }

    pub(super) fn piece(&self, piece: &str, depth: usize) -> Found {
        let letters = piece.trim_matches('\'');
        if written::is_wordless(letters) || matches!(piece, "hm" | "mm" | "m" | "n") {
            // *mm-hmm*: each piece is a syllable, its hum the vowel.
            let mut sounds = estimate::sounds(letters, self.model);
            sounds.dedup();
            sounds.retain(|sound| !sound.is_vowel());
            let hum = sounds.len().saturating_sub(1);
            sounds.splice(hum..hum, Sound::parse("AH0"));
            return Found::one(piece, sounds, "interjection", &[], Source::Rule);
        }
        let has_vowel = letters.bytes().any(|letter| {
            matches!(
                letter,
                b'a' | b'e' | b'i' | b'o' | b'u' | b'y' | b'#' | b'?' | b'0'..=b'9'
            )
        });
        if !has_vowel && self.known(piece).is_none() {
            // A stammer (*b-b-baby*) or a bare ending: the consonants with a neutral vowel.
            let mut sounds = estimate::sounds(letters, self.model);
            sounds.retain(|sound| !sound.is_vowel());
            sounds.extend(Sound::parse("AH0"));
            return Found::one(piece, sounds, "consonants", &[], Source::Rule);
        }
        self.find_plain(piece, depth + 1)
    }
}

/// Where the pieces between hyphens begin.
pub(super) fn piece_starts(word: &str) -> Vec<usize> {
    let mut starts = Vec::new();
    let mut at = 0;
    for piece in word.split(PARTING) {
        if !piece.is_empty() {
            starts.push(at);
        }
        at += piece.len() + 1;
    }
    if let Some(first) = starts.first_mut() {
        *first = 0;
    }
    starts
}

/// Main stress becomes secondary; in a function word none is left.
pub(super) fn lower_stress(sounds: &mut [Sound], wholly: bool) {
    for sound in sounds.iter_mut().filter(|sound| sound.is_stressed()) {
        sound.stress = Some(if wholly {
            Stress::None
        } else {
            Stress::Secondary
        });
    }
}
