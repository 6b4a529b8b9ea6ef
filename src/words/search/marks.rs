//! Marks on letters that change how a word is said.

use super::super::phone::{Phone, Sound};
use super::super::{Source, affixes, align, estimate, parts};
use super::{DEEPEST, Found, Said, Search};

impl Search<'_> {
    /// A grave accent: the vowel of -ed is sounded (*blessèd*).
    pub(super) fn grave(&self, word: &str, at: usize) -> Option<Found> {
        let bare = word.get(..at).filter(|base| !base.is_empty())?;
        let ending = word.get(at..)?;
        if ending != "ed" {
            return None;
        }
        let mut sounds =
            affixes::base_of(bare, self).unwrap_or_else(|| estimate::sounds(bare, self.model));
        sounds.extend(Sound::parse_all("IH0 D")?);
        Some(Found::one(
            word,
            sounds,
            "sounded -ed",
            &[parts::bounds::suffix_start(bare)],
            Source::Rule,
        ))
    }

    /// A final é or ê is said EY.
    pub(super) fn acute(&self, word: &str) -> Found {
        let ends_in_ey =
            |sounds: &Vec<Sound>| sounds.last().is_some_and(|last| last.phone == Phone::EY);
        let listed = self
            .listed(word)
            .map(|said| said.sounds().collect())
            .find(ends_in_ey);
        if let Some(sounds) = listed {
            return Found::one(word, sounds, "dictionary", &[], Source::Dictionary);
        }
        let base = word.get(..word.len() - 1).unwrap_or_default();
        let mut sounds = self.sounds(base, DEEPEST - 1);
        sounds.extend(Sound::parse("EY1"));
        Found::one(word, sounds, "accent", &[], Source::Estimate)
    }

    /// A diaeresis: the two vowels are said apart, where `found` does not say them so already.
    pub(super) fn apart(&self, word: &str, at: usize, found: Found) -> Found {
        let (left, right) = word.split_at_checked(at).unwrap_or((word, ""));
        let after_vowel = left.ends_with(['a', 'e', 'i', 'o', 'u']);
        let is_apart = |said: &Said| begins_vowel(word, at, &said.sounds);
        if !after_vowel || found.said.first().is_none_or(is_apart) {
            return found;
        }
        if let Some(mut said) = found.said.into_iter().find(is_apart) {
            said.cost = 0;
            return Found {
                said: vec![said],
                from: found.from,
            };
        }
        let mut sounds = estimate::sounds(left, self.model);
        sounds.extend(estimate::sounds(right, self.model));
        Found::one(word, sounds, "diaeresis", &[at], Source::Estimate)
    }
}

/// Whether a vowel sound begins with this letter.
fn begins_vowel(word: &str, at: usize, sounds: &[Sound]) -> bool {
    let Some((groups, _)) = align::align(word.as_bytes(), sounds) else {
        return true;
    };
    let mut vowels = groups
        .iter()
        .zip(sounds)
        .filter(|(_, sound)| sound.is_vowel());
    vowels.any(|(group, _)| group.start == at)
}
