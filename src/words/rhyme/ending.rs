//! The part of a word that rhymes: from its last main stress to its end.

use crate::words::phone::{Phone, Sound, Stress};
use crate::words::{Reading, Readings, syllables};

/// Readings dearer than this are sung only where nothing else fits, and rhyme with nothing by themselves.
const DEAREST: u32 = 500;

/// All that a word, or the end of a line, offers to a rhyme: for each way to say it the parts that can rhyme.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ending {
    /// The ways to say it.
    pub(super) ways: Vec<Way>,
}

/// A way to say a word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Way {
    pub(super) sounds: Vec<Sound>,
    pub(super) parts: Vec<Part>,
}

/// A part that can rhyme.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Part {
    /// The consonants that open its first syllable.
    pub(super) onset: Vec<Phone>,
    /// Its syllables.
    pub(super) beats: Vec<Beat>,
    /// How its first syllable comes to be stressed.
    pub(super) stress: Stressed,
}

/// A vowel and the consonants up to the next one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Beat {
    pub(super) vowel: Phone,
    pub(super) coda: Vec<Phone>,
}

/// How a syllable comes to be stressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stressed {
    /// By nature: the main stress, or a lighter one behind it (*overboard*).
    Fully,
    /// By the beat alone: a last syllable that does not stand next to a stressed one (*courteously*).
    Promoted,
}

impl Ending {
    /// What these ways to say a word offer.
    ///
    /// ```
    /// use breathmark::words::{phone::Sound, rhyme::{ending::Ending, kind::{Kind, rhyme}}};
    /// let of = |sounds: &str| Ending::of_sounds([Sound::parse_all(sounds).unwrap_or_default()]);
    /// assert_eq!(rhyme(&of("S AW1 N D"), &of("F AW1 N D")).kind, Kind::Masculine);
    /// ```
    #[must_use]
    pub fn of_sounds(ways: impl IntoIterator<Item = Vec<Sound>>) -> Self {
        let mut ways: Vec<Way> = ways.into_iter().map(Way::new).collect();
        // A function word at a line's end keeps its full vowel (Roach's weak forms do not stand there).
        let is_full = |way: &Way| way.sounds.iter().any(|sound| sound.is_stressed());
        if ways.iter().any(is_full) {
            ways.retain(is_full);
        }
        ways.retain(|way| !way.parts.is_empty());
        Self { ways }
    }

    /// What a word offers in the ways to sing it that are not far-fetched.
    #[must_use]
    pub fn of_word(readings: &Readings) -> Self {
        Self::of_sounds(plain(readings).map(|reading| reading.sounds().collect()))
    }

    /// What a word offers together with a light word behind it (*find it*): the parts that begin in the first.
    #[must_use]
    pub fn of_two(first: &Readings, light: &Readings) -> Self {
        let Some(behind) = light.default_reading() else {
            return Self::default();
        };
        let behind: Vec<Sound> = behind
            .sounds()
            .map(|sound| Sound::new(sound.phone, Stress::None))
            .collect();
        let mut ending = Self::of_sounds(
            plain(first).map(|reading| reading.sounds().chain(behind.iter().copied()).collect()),
        );
        for way in &mut ending.ways {
            way.parts.retain(|part| part.beats.len() > 1);
        }
        ending
    }

    /// Adds what another one offers.
    pub fn add(&mut self, other: Self) {
        self.ways.extend(other.ways);
    }

    /// Whether nothing here can rhyme: a line without words, a sound without a vowel.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.ways.is_empty()
    }

    /// How many syllables it has in its first way.
    #[must_use]
    pub fn syllables(&self) -> usize {
        self.ways
            .first()
            .map_or(0, |way| syllables::count(&way.sounds))
    }

    /// The stress of its syllables in its first way, as digits.
    #[must_use]
    pub fn stresses(&self) -> Vec<u8> {
        let sounds = self.ways.first().map_or(&[][..], |way| &way.sounds);
        let stresses = sounds.iter().filter_map(|sound| sound.stress);
        stresses.map(Stress::digit).collect()
    }
}

fn plain(readings: &Readings) -> impl Iterator<Item = &Reading> {
    readings
        .readings
        .iter()
        .filter(|reading| reading.cost <= DEAREST)
}

impl Way {
    pub(super) fn new(sounds: Vec<Sound>) -> Self {
        let mut parts = Vec::with_capacity(2);
        if let Some(main) = main_vowel(&sounds) {
            parts.push(Part::from(&sounds, main, Stressed::Fully));
            let later = sounds.iter().enumerate().skip(main + 1);
            let secondary = later.filter(|(_, sound)| sound.is_stressed());
            parts.extend(secondary.map(|(at, _)| Part::from(&sounds, at, Stressed::Fully)));
            let last = sounds.iter().rposition(|sound| sound.is_vowel());
            if let Some(last) = last.filter(|last| is_promotable(&sounds, main, *last)) {
                parts.push(Part::from(&sounds, last, Stressed::Promoted));
            }
        }
        Self { sounds, parts }
    }
}

/// The vowel at which the rhyme part begins: the last primary stress, else the last secondary one, else the last vowel.
pub(super) fn main_vowel(sounds: &[Sound]) -> Option<usize> {
    let last = |stress: Stress| {
        sounds
            .iter()
            .rposition(|sound| sound.stress == Some(stress))
    };
    last(Stress::Primary)
        .or_else(|| last(Stress::Secondary))
        .or_else(|| last(Stress::None))
}

/// Whether the last vowel has no stress, nor has the one before it.
fn is_promotable(sounds: &[Sound], main: usize, last: usize) -> bool {
    let between = sounds.get(main + 1..last).unwrap_or_default();
    let before = between.iter().rev().find(|sound| sound.is_vowel());
    sounds
        .get(last)
        .is_some_and(|sound| sound.is_unstressed_vowel())
        && before.is_some_and(|sound| sound.is_unstressed_vowel())
}

impl Part {
    fn from(sounds: &[Sound], at: usize, stress: Stressed) -> Self {
        let before = sounds.get(..at).unwrap_or_default();
        let consonants: Vec<Phone> = before
            .iter()
            .rev()
            .take_while(|sound| !sound.is_vowel())
            .map(|sound| sound.phone)
            .collect();
        let consonants: Vec<Phone> = consonants.into_iter().rev().collect();
        let opens_word = consonants.len() == before.len();
        let length = if opens_word {
            consonants.len()
        } else {
            syllables::onset_length(&consonants)
        };
        let onset = consonants
            .get(consonants.len() - length..)
            .unwrap_or_default()
            .to_vec();
        let mut beats: Vec<Beat> = Vec::new();
        for sound in sounds.get(at..).unwrap_or_default() {
            match beats.last_mut() {
                Some(beat) if !sound.is_vowel() => beat.coda.push(sound.phone),
                _ => beats.push(Beat {
                    vowel: sound.phone,
                    coda: Vec::new(),
                }),
            }
        }
        for index in 0..beats.len() {
            let behind = index > 0;
            if let Some(beat) = beats.get_mut(index) {
                beat.vowel = as_heard(beat, behind);
            }
        }
        Self {
            onset,
            beats,
            stress,
        }
    }
}

/// One sign for vowels that singers do not keep apart. The dictionary itself mixes AA and AO before L NG G N F S TH and at a word's
/// end (*raw*, *saw*), and the long vowels with the short ones before R (*near*, *hear*); unstressed AH, IH and EH are one sound but
/// for the full vowel of -ing. Which ones is our choice.
fn as_heard(beat: &Beat, behind: bool) -> Phone {
    match (beat.vowel, beat.coda.first()) {
        (Phone::IH | Phone::IY, Some(Phone::R)) => Phone::IH,
        (Phone::UH | Phone::UW, Some(Phone::R)) => Phone::UH,
        (Phone::EH | Phone::AE, Some(Phone::R)) => Phone::EH,
        (Phone::OW, Some(Phone::R)) => Phone::AO,
        (
            Phone::AA,
            None
            | Some(Phone::L | Phone::NG | Phone::G | Phone::N | Phone::F | Phone::S | Phone::TH),
        ) if !behind => Phone::AO,
        (Phone::IH, Some(Phone::NG)) => Phone::IH,
        (Phone::IH | Phone::EH, _) if behind => Phone::AH,
        (vowel, _) => vowel,
    }
}
