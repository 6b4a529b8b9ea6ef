//! The 39 sounds of American English in ARPAbet, as the CMU Pronouncing Dictionary writes them.
//!
//! The dictionary's packer compiles this file too, so that codes are written and read by one table.

use std::fmt;

/// A sound without stress. The vowels come first, then the consonants by class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
#[allow(
    missing_docs,
    reason = "the names are ARPAbet's own; `example` gives a word for each"
)]
pub enum Phone {
    AA,
    AE,
    AH,
    AO,
    AW,
    AY,
    EH,
    ER,
    EY,
    IH,
    IY,
    OW,
    OY,
    UH,
    UW,
    P,
    B,
    T,
    D,
    K,
    G,
    CH,
    JH,
    F,
    V,
    TH,
    DH,
    S,
    Z,
    SH,
    ZH,
    HH,
    M,
    N,
    NG,
    L,
    R,
    W,
    Y,
}

use Phone::*;

/// How a sound is made, after the dictionary's own table of phones; its "semivowel" is called glide here, and its
/// "aspirate" counts as a fricative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Class {
    /// The core of a syllable.
    Vowel,
    /// P B T D K G.
    Stop,
    /// CH JH.
    Affricate,
    /// F V TH DH S Z SH ZH HH.
    Fricative,
    /// M N NG.
    Nasal,
    /// L R.
    Liquid,
    /// W Y.
    Glide,
}

/// The stress of a vowel, written as a digit behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Stress {
    /// `0`.
    #[default]
    None,
    /// `1`.
    Primary,
    /// `2`.
    Secondary,
}

/// A sound in a word: a vowel has a stress, a consonant has none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Sound {
    /// Which sound.
    pub phone: Phone,
    /// `None` for consonants.
    pub stress: Option<Stress>,
}

const VOWELS: u8 = 15;
const ALL: [(Phone, &str, &str); 39] = [
    (AA, "AA", "odd"),
    (AE, "AE", "at"),
    (AH, "AH", "hut"),
    (AO, "AO", "ought"),
    (AW, "AW", "cow"),
    (AY, "AY", "hide"),
    (EH, "EH", "bed"),
    (ER, "ER", "hurt"),
    (EY, "EY", "ate"),
    (IH, "IH", "it"),
    (IY, "IY", "eat"),
    (OW, "OW", "oat"),
    (OY, "OY", "toy"),
    (UH, "UH", "hood"),
    (UW, "UW", "two"),
    (P, "P", "pea"),
    (B, "B", "be"),
    (T, "T", "tea"),
    (D, "D", "dee"),
    (K, "K", "key"),
    (G, "G", "green"),
    (CH, "CH", "cheese"),
    (JH, "JH", "gee"),
    (F, "F", "fee"),
    (V, "V", "vee"),
    (TH, "TH", "theta"),
    (DH, "DH", "thee"),
    (S, "S", "sea"),
    (Z, "Z", "zee"),
    (SH, "SH", "she"),
    (ZH, "ZH", "seizure"),
    (HH, "HH", "he"),
    (M, "M", "me"),
    (N, "N", "knee"),
    (NG, "NG", "ping"),
    (L, "L", "lee"),
    (R, "R", "read"),
    (W, "W", "we"),
    (Y, "Y", "yield"),
];

impl Phone {
    /// How many there are.
    pub(super) const COUNT: usize = ALL.len();

    /// The phone of an index below [`Phone::COUNT`].
    pub(super) const fn at(index: usize) -> Self {
        ALL[index].0
    }

    /// All 39, in the order of their codes.
    pub fn all() -> impl Iterator<Item = Self> {
        ALL.iter().map(|row| row.0)
    }

    /// Its ARPAbet name, such as `AO`.
    #[must_use]
    pub fn name(self) -> &'static str {
        ALL.get(usize::from(self as u8)).map_or("", |row| row.1)
    }

    /// A word that has it.
    #[must_use]
    pub fn example(self) -> &'static str {
        ALL.get(usize::from(self as u8)).map_or("", |row| row.2)
    }

    /// The phone of this ARPAbet name, in capitals and without a digit.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        ALL.iter().find(|row| row.1 == name).map(|row| row.0)
    }

    /// How it is made.
    #[must_use]
    pub fn class(self) -> Class {
        match self {
            AA | AE | AH | AO | AW | AY | EH | ER | EY | IH | IY | OW | OY | UH | UW => {
                Class::Vowel
            }
            P | B | T | D | K | G => Class::Stop,
            CH | JH => Class::Affricate,
            F | V | TH | DH | S | Z | SH | ZH | HH => Class::Fricative,
            M | N | NG => Class::Nasal,
            L | R => Class::Liquid,
            W | Y => Class::Glide,
        }
    }

    /// Whether it is a vowel.
    #[must_use]
    pub fn is_vowel(self) -> bool {
        (self as u8) < VOWELS
    }

    /// Whether the vocal folds sound in it.
    #[must_use]
    pub fn is_voiced(self) -> bool {
        !matches!(self, P | T | K | CH | F | TH | S | SH | HH)
    }

    /// S Z SH ZH CH JH: the hissing ones, after which a plural takes a syllable.
    #[must_use]
    pub fn is_sibilant(self) -> bool {
        matches!(self, S | Z | SH | ZH | CH | JH)
    }

    /// EY AY OW AW OY IY UW AO AA ER: vowels that are long by nature. Our choice, for English in general.
    #[must_use]
    pub fn is_long_vowel(self) -> bool {
        self.is_vowel() && !matches!(self, IH | EH | AE | AH | UH)
    }
}

impl Stress {
    /// The digit of the dictionary: 0, 1 or 2.
    #[must_use]
    pub fn digit(self) -> u8 {
        match self {
            Self::None => 0,
            Self::Primary => 1,
            Self::Secondary => 2,
        }
    }

    /// The stress of this digit.
    #[must_use]
    pub fn from_digit(digit: u8) -> Option<Self> {
        match digit {
            0 => Some(Self::None),
            1 => Some(Self::Primary),
            2 => Some(Self::Secondary),
            _ => None,
        }
    }
}

/// The names of all sounds in the order of their codes.
#[rustfmt::skip]
const NAMES: [&str; 69] = [
    "AA0", "AA1", "AA2", "AE0", "AE1", "AE2", "AH0", "AH1", "AH2", "AO0", "AO1", "AO2", "AW0", "AW1", "AW2", "AY0", "AY1",
    "AY2", "EH0", "EH1", "EH2", "ER0", "ER1", "ER2", "EY0", "EY1", "EY2", "IH0", "IH1", "IH2", "IY0", "IY1", "IY2", "OW0",
    "OW1", "OW2", "OY0", "OY1", "OY2", "UH0", "UH1", "UH2", "UW0", "UW1", "UW2", "P", "B", "T", "D", "K", "G", "CH", "JH",
    "F", "V", "TH", "DH", "S", "Z", "SH", "ZH", "HH", "M", "N", "NG", "L", "R", "W", "Y",
];

impl Sound {
    /// Its name: `AO1`, `K`.
    #[must_use]
    pub fn name(self) -> &'static str {
        NAMES
            .get(usize::from(self.code()))
            .copied()
            .unwrap_or_default()
    }

    /// A vowel with its stress; a consonant keeps none.
    #[must_use]
    pub fn new(phone: Phone, stress: Stress) -> Self {
        Self {
            phone,
            stress: phone.is_vowel().then_some(stress),
        }
    }

    /// Reads `AO1` or `K`. `None` for anything else, a vowel without its digit included.
    ///
    /// ```
    /// use breathmark::words::phone::{Phone, Sound, Stress};
    /// assert_eq!(Sound::parse("AO1"), Some(Sound::new(Phone::AO, Stress::Primary)));
    /// assert_eq!(Sound::parse("AO"), None);
    /// assert_eq!(Sound::parse("K").map(|sound| sound.to_string()), Some("K".to_string()));
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        match text.as_bytes().last()? {
            digit @ b'0'..=b'9' => {
                let phone = Phone::named(text.get(..text.len().checked_sub(1)?)?)?;
                let stress = Stress::from_digit(digit - b'0')?;
                phone.is_vowel().then_some(Self::new(phone, stress))
            }
            _ => {
                let phone = Phone::named(text)?;
                (!phone.is_vowel()).then_some(Self::new(phone, Stress::None))
            }
        }
    }

    /// Reads sounds parted by spaces, `W AO1 T ER0`; `None` where one of them is no sound.
    #[must_use]
    pub fn parse_all(text: &str) -> Option<Vec<Self>> {
        text.split_whitespace().map(Self::parse).collect()
    }

    /// The code in the packed dictionary: vowels three apart with their stress, then the consonants; below 69.
    #[must_use]
    pub fn code(self) -> u8 {
        let index = self.phone as u8;
        if index < VOWELS {
            index * 3 + self.stress.unwrap_or_default().digit()
        } else {
            VOWELS * 3 + index - VOWELS
        }
    }

    /// The sound of a code, `None` from 69 on.
    #[must_use]
    pub fn from_code(code: u8) -> Option<Self> {
        let vowels = VOWELS * 3;
        let (index, stress) = match code.checked_sub(vowels) {
            None => (code / 3, Stress::from_digit(code % 3)?),
            Some(consonant) => (consonant + VOWELS, Stress::None),
        };
        ALL.get(usize::from(index))
            .map(|row| Self::new(row.0, stress))
    }

    /// Whether it is a vowel.
    #[must_use]
    pub fn is_vowel(self) -> bool {
        self.phone.is_vowel()
    }

    /// Whether it is a vowel with primary or secondary stress.
    #[must_use]
    pub fn is_stressed(self) -> bool {
        matches!(self.stress, Some(Stress::Primary | Stress::Secondary))
    }

    /// Whether it is a vowel without stress.
    #[must_use]
    pub fn is_unstressed_vowel(self) -> bool {
        self.stress == Some(Stress::None)
    }
}

impl fmt::Display for Sound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_stands_in_the_order_of_the_codes() {
        for (index, (phone, name, example)) in ALL.iter().enumerate() {
            assert_eq!(usize::from(*phone as u8), index);
            assert_eq!(Phone::named(name), Some(*phone));
            assert_eq!(phone.name(), *name);
            assert!(!example.is_empty());
            assert_eq!(phone.class() == Class::Vowel, phone.is_vowel());
        }
        assert_eq!(Phone::all().filter(|phone| phone.is_vowel()).count(), 15);
    }

    #[test]
    fn every_code_gives_its_sound_back() {
        for code in 0..69 {
            let sound = Sound::from_code(code)
                .map(|sound| (sound.code(), Sound::parse(&sound.to_string())));
            assert_eq!(sound, Some((code, Sound::from_code(code))));
            let spelled = Sound::from_code(code).map(|sound| match sound.stress {
                Some(stress) => format!("{}{}", sound.phone.name(), stress.digit()),
                None => sound.phone.name().to_string(),
            });
            assert_eq!(spelled.as_deref(), Sound::from_code(code).map(Sound::name));
        }
        assert_eq!(Sound::from_code(69), None);
    }

    #[test]
    fn what_is_no_sound_is_refused() {
        for text in ["", "1", "AO", "AO3", "K1", "ao1", "XX", "é1"] {
            assert_eq!(Sound::parse(text), None, "{text}");
        }
        assert_eq!(Sound::parse_all("W AO1 T ER"), None);
    }
}
