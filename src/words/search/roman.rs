//! Numerals in Roman letters: *Henry VIII*, *World War II*.

use super::super::{Source, numbers, sung};
use super::{Found, Search};

/// The value of a numeral of two capitals or more; those of few letters only of I, V and X, because *MIX* and *DIM* are
/// words. `None` where it is not written as a numeral should be.
///
/// Additive and subtractive forms up to 3999: the usual modern ones.
pub(in super::super) fn value(written: &str) -> Option<u64> {
    let short = written.len() < 5;
    let is_numeral = written.len() > 1
        && written.bytes().all(|letter| {
            matches!(letter, b'I' | b'V' | b'X')
                || (!short && matches!(letter, b'L' | b'C' | b'D' | b'M'))
        });
    if !is_numeral {
        return None;
    }
    let mut rest = written;
    let mut value = 0;
    for (letters, worth) in [
        ("M", 1000),
        ("CM", 900),
        ("D", 500),
        ("CD", 400),
        ("C", 100),
        ("XC", 90),
        ("L", 50),
        ("XL", 40),
        ("X", 10),
        ("IX", 9),
        ("V", 5),
        ("IV", 4),
        ("I", 1),
    ] {
        let most = if letters.len() == 2 || matches!(worth, 5 | 50 | 500) {
            1
        } else {
            3
        };
        for _ in 0..most {
            let Some(behind) = rest.strip_prefix(letters) else {
                break;
            };
            value += worth;
            rest = behind;
        }
    }
    rest.is_empty().then_some(value)
}

/// Names behind which a numeral is said as an ordinal with *the*: rulers and popes. Our list.
#[rustfmt::skip]
const RULERS: &[&str] = &[
    "albert", "alexander", "alfonso", "benedict", "charles", "christian", "clement", "edward", "elizabeth", "ferdinand", "francis",
    "frederick", "george", "gregory", "gustav", "harald", "henry", "innocent", "ivan", "james", "john", "leo", "leopold", "louis", "malcolm",
    "mary", "napoleon", "nicholas", "olaf", "otto", "paul", "peter", "philip", "pius", "richard", "robert", "urban", "victor", "wilhelm", "william",
];

/// Whether a numeral behind this word in lower case counts rulers of the name.
pub(in super::super) fn counts_rulers(name: &str) -> bool {
    RULERS.binary_search(&name).is_ok()
}

impl Search<'_> {
    /// As a number first, as an ordinal with *the* second.
    pub(super) fn numeral(&self, word: &str, value: u64) -> Found {
        let figures = value.to_string();
        let number = numbers::wordings(&figures).unwrap_or_default();
        let ordinal = numbers::wordings(&format!("{figures}th")).unwrap_or_default();
        let mut said = Vec::new();
        if let Some(words) = number.first() {
            said.push(self.spoken_words(word, words, 0));
        }
        if let Some(words) = ordinal.first() {
            let words: Vec<&str> = std::iter::once("the")
                .chain(words.iter().copied())
                .collect();
            said.push(self.spoken_words(word, &words, sung::LISTED));
        }
        Found {
            said,
            from: Source::Rule,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numerals_have_their_values() {
        for (written, expected) in [
            ("II", 2),
            ("IV", 4),
            ("VIII", 8),
            ("XIV", 14),
            ("XXXIX", 39),
            ("MCMXC", 1990),
            ("MDCCCXLVII", 1847),
        ] {
            assert_eq!(value(written), Some(expected), "{written}");
        }
        for written in [
            "I", "IIII", "VX", "MIX", "CIVIL", "VIVID", "DIM", "ii", "", "XIIV",
        ] {
            assert_eq!(value(written), None, "{written}");
        }
    }

    #[test]
    fn the_list_is_in_order() {
        assert!(RULERS.is_sorted());
    }
}
