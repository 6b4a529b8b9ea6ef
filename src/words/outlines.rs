//! A sieve before a list of words: their lengths, first and last letters. Most words asked for fall through.

/// Which first and last letters the words of a list have, by length.
#[derive(Clone, Copy, Debug)]
pub(super) struct Outlines {
    /// A bit a letter; longer words count as of the last length.
    firsts: [u32; LENGTHS],
    lasts: [u32; LENGTHS],
}

const LENGTHS: usize = 16;

/// A bit for each letter; signs share them with letters.
const fn bit(letter: u8) -> u32 {
    1 << (letter & 31)
}

const fn row(length: usize) -> usize {
    if length < LENGTHS {
        length
    } else {
        LENGTHS - 1
    }
}

const fn hyphens(letters: &[u8]) -> usize {
    let (mut at, mut found) = (0, 0);
    while at < letters.len() {
        if letters[at] == b'-' {
            found += 1;
        }
        at += 1;
    }
    found
}

impl Outlines {
    /// Of no words.
    pub(super) const NONE: Self = Self {
        firsts: [0; LENGTHS],
        lasts: [0; LENGTHS],
    };

    /// With these words, of which none is empty; hyphens in them only show their parts.
    pub(super) const fn and(mut self, words: &[&str]) -> Self {
        let mut at = 0;
        while at < words.len() {
            let letters = words[at].as_bytes();
            let row = row(letters.len() - hyphens(letters));
            self.firsts[row] |= bit(letters[0]);
            self.lasts[row] |= bit(letters[letters.len() - 1]);
            at += 1;
        }
        self
    }

    /// Whether the list may have this word; `false` is certain.
    pub(super) fn may_have(&self, word: &str) -> bool {
        let (Some(first), Some(last)) = (word.bytes().next(), word.bytes().next_back()) else {
            return false;
        };
        let row = row(word.len());
        self.firsts[row] & bit(first) != 0 && self.lasts[row] & bit(last) != 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_in_no_list_falls_through() {
        const LONG: &str = "llanfairpwllgwyngyll";
        const LIST: Outlines = Outlines::NONE.and(&["sea", "o'er", "a-mong"]).and(&[LONG]);
        for word in ["sea", "spa", "o'er", "among", LONG] {
            assert!(LIST.may_have(word), "{word}");
        }
        for word in ["", "s", "see", "tea", "seas", "over!", "wandering"] {
            assert!(!LIST.may_have(word), "{word}");
        }
    }
}
