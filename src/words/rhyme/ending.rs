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
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Way {
    /// Its sounds.
    pub(super) sounds: Vec<Sound>,
    /// The same as heard where the sound begins the part that rhymes, or stands behind that.
    heard: Vec<Phone>,
    parts: Vec<Cut>,
}

/// Where a part that can rhyme begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Cut {
    onset: usize,
    vowel: usize,
    /// Its first vowel as heard.
    first: Phone,
    stress: Stressed,
}

/// A part that can rhyme.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part<'a> {
    /// The consonants that open its first syllable.
    pub(super) onset: &'a [Sound],
    /// Its first vowel.
    pub(super) first: Phone,
    /// All sounds behind that.
    pub(super) behind: &'a [Phone],
    /// How its first syllable comes to be stressed.
    pub(super) stress: Stressed,
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
        let both = |reading: &Reading| {
            let mut sounds: Vec<Sound> = reading.sounds().collect();
            // Of two light words the first has the stress: *in it*.
            if !sounds.iter().any(|sound| sound.is_stressed())
                && let Some(last) = sounds.iter_mut().rfind(|sound| sound.is_vowel())
            {
                last.stress = Some(Stress::Primary);
            }
            sounds.extend(&behind);
            sounds
        };
        let mut ending = Self::of_sounds(plain(first).map(both));
        for way in &mut ending.ways {
            way.parts.retain(|part| part.stress == Stressed::Fully);
        }
        ending
    }

    /// Whether nothing here can rhyme: a line without words, a sound without a vowel.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.ways.is_empty()
    }

    /// The stress of its syllables in its first way.
    #[must_use]
    pub fn stresses(&self) -> Vec<Stress> {
        let sounds = self.ways.first().map_or(&[][..], |way| &way.sounds);
        sounds.iter().filter_map(|sound| sound.stress).collect()
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
        let mut way = Self {
            sounds,
            ..Self::default()
        };
        way.cut();
        way
    }

    /// The same room for another word; spares its memory where many words pass.
    pub(super) fn set(&mut self, sounds: impl Iterator<Item = Sound>) {
        self.sounds.clear();
        self.sounds.extend(sounds);
        self.cut();
    }

    fn cut(&mut self) {
        let sounds = &self.sounds;
        self.heard.clear();
        self.parts.clear();
        let next = |at: usize| sounds.get(at + 1).map(|sound| sound.phone);
        let each = sounds.iter().enumerate();
        self.heard
            .extend(each.map(|(at, sound)| behind_stress(sound.phone, next(at))));
        let Some(main) = main_vowel(sounds) else {
            return;
        };
        let last = sounds.iter().rposition(|sound| sound.is_vowel());
        for (at, sound) in sounds.iter().enumerate().skip(main) {
            let stress = if at == main || sound.is_stressed() {
                Stressed::Fully
            } else if last == Some(at) && is_promotable(sounds, main, at) {
                Stressed::Promoted
            } else {
                continue;
            };
            self.parts.push(Cut {
                onset: onset(sounds, at),
                vowel: at,
                first: stressed(sound.phone, next(at)),
                stress,
            });
        }
    }

    /// Its last vowel as heard and what stands behind, where that syllable has no stress and cannot be given one.
    pub(super) fn weak_end(&self) -> Option<(Phone, &[Phone])> {
        let last = self.sounds.iter().rposition(|sound| sound.is_vowel())?;
        if self.parts.iter().any(|part| part.vowel == last) {
            return None;
        }
        let (vowel, behind) = self.heard.get(last..)?.split_first()?;
        Some((*vowel, behind))
    }

    pub(super) fn parts(&self) -> impl Iterator<Item = Part<'_>> {
        self.parts.iter().map(|cut| Part {
            onset: self.sounds.get(cut.onset..cut.vowel).unwrap_or_default(),
            first: cut.first,
            behind: self.heard.get(cut.vowel + 1..).unwrap_or_default(),
            stress: cut.stress,
        })
    }
}

impl<'a> Part<'a> {
    /// Its syllables: each vowel with the consonants up to the next.
    pub(super) fn beats(self) -> impl Iterator<Item = (Phone, &'a [Phone])> {
        let mut next = Some(self.first);
        let mut rest = self.behind;
        std::iter::from_fn(move || {
            let vowel = next?;
            let end = rest.iter().position(|phone| phone.is_vowel());
            let (coda, behind) = rest.split_at(end.unwrap_or(rest.len()));
            next = behind.first().copied();
            rest = behind.get(1..).unwrap_or_default();
            Some((vowel, coda))
        })
    }
}

/// The vowel at which the rhyme part begins: the last primary stress, else the last secondary one, else the last vowel.
fn main_vowel(sounds: &[Sound]) -> Option<usize> {
    let last = |stress: Stress| {
        sounds
            .iter()
            .rposition(|sound| sound.stress == Some(stress))
    };
    last(Stress::Primary)
        .or_else(|| last(Stress::Secondary))
        .or_else(|| last(Stress::None))
}

/// Whether the vowel has no stress, nor has the one before it.
fn is_promotable(sounds: &[Sound], main: usize, last: usize) -> bool {
    let between = sounds.get(main + 1..last).unwrap_or_default();
    let before = between.iter().rev().find(|sound| sound.is_vowel());
    before.is_some_and(|sound| sound.is_unstressed_vowel())
}

/// Where the syllable of a vowel begins.
fn onset(sounds: &[Sound], vowel: usize) -> usize {
    let before = sounds.get(..vowel).unwrap_or_default();
    let consonants = before
        .iter()
        .rev()
        .take_while(|sound| !sound.is_vowel())
        .count();
    if consonants == vowel {
        return 0;
    }
    let between: Vec<Phone> = before
        .iter()
        .skip(vowel - consonants)
        .map(|sound| sound.phone)
        .collect();
    vowel - syllables::onset_length(&between)
}

/// One sign for vowels that singers do not keep apart. The dictionary itself mixes AA and AO before L NG G N F S TH and at a word's
/// end (*raw*, *saw*), and long vowels with short ones before R (*near*, *hear*). Which ones is our choice.
fn stressed(vowel: Phone, next: Option<Phone>) -> Phone {
    use Phone::{AA, AE, AO, EH, F, G, IH, IY, L, N, NG, OW, R, S, TH, UH, UW};
    match (vowel, next) {
        (IY, Some(R)) => IH,
        (UW, Some(R)) => UH,
        (AE, Some(R)) => EH,
        (OW, Some(R)) | (AA, None | Some(L | NG | G | N | F | S | TH)) => AO,
        (vowel, _) => vowel,
    }
}

/// The same behind the stress, where AH, IH and EH are one sound but for the full vowel of -ing.
fn behind_stress(phone: Phone, next: Option<Phone>) -> Phone {
    use Phone::{AH, EH, IH, NG};
    match (stressed(phone, next), next) {
        (IH, Some(NG)) => IH,
        (IH | EH, _) => AH,
        (other, _) => other,
    }
}
