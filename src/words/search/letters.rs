//! Words that are said letter by letter.

use super::super::phone::Sound;
use super::super::syllables::count;
use super::super::{Source, lists, written};
use super::{Found, Said, Search};

impl Search<'_> {
    /// Whether it is said letter by letter: single letters with stops or & between them (*U.S.*, *R&B*), or capitals
    /// that have no vowel or, short ones, only y, unless the word is known (*TV*, but *MY*).
    pub(super) fn is_spelled_out(&self, written: &str, word: &str) -> bool {
        let bare = written
            .chars()
            .all(|sign| sign.is_ascii_alphabetic() || matches!(sign, '.' | '&'));
        let letters = written.chars().filter(char::is_ascii_alphabetic).count();
        if !bare || letters < 2 {
            return false;
        }
        if letters < written.len() {
            return written.split(['.', '&']).all(|piece| piece.len() < 2);
        }
        if !written.bytes().all(|letter| letter.is_ascii_uppercase()) {
            return false;
        }
        if INITIALS.contains(&written) {
            return true;
        }
        let without_y: String = word.chars().filter(|letter| *letter != 'y').collect();
        let vowelless = written::is_vowelless(word)
            || (self.asks() && letters < 4 && written::is_vowelless(&without_y));
        let known = lists::fixed(word).is_some()
            || written::is_wordless(word)
            || self.listed(word).next().is_some();
        let stretched = word.bytes().zip(word.bytes().skip(1)).any(|(a, b)| a == b);
        let initials = letters < 4 && !stretched && !word.bytes().all(is_vowel);
        (vowelless || initials) && !known
    }

    /// *DJs*, *CD's*: initials of which there are more, or that own something.
    pub(super) fn spelled_out_plural(&self, written: &str, word: &str) -> Option<Found> {
        let base = written.strip_suffix('s')?;
        let base = base.strip_suffix('\'').unwrap_or(base);
        let plain = word.get(..base.len())?;
        let is_initials = base.len() > 1 && base.bytes().all(|letter| letter.is_ascii_uppercase());
        // *x's* and *s's* have a syllable more.
        if !is_initials
            || base.ends_with(['S', 'X', 'H', 'Z'])
            || !(self.is_spelled_out(base, plain) || written::is_vowelless(plain))
        {
            return None;
        }
        let mut found = letters(plain);
        let end = if base.ends_with(['F', 'K']) { "S" } else { "Z" };
        for said in &mut found.said {
            said.sounds.extend(Sound::parse(end));
        }
        Some(found)
    }
}

/// Initials that would be words in small letters, too. Our list.
#[rustfmt::skip]
const INITIALS: &[&str] = &[
    "AI", "AKA", "BYOB", "DEA", "DUI", "EP", "ER", "ETA", "EU", "FYI", "GI", "ICU", "ID", "IRA", "MC", "OD", "RAF", "ROTC", "SAS", "TGIF",
    "UCLA", "UN", "UPS", "USMC",
];

fn is_vowel(letter: u8) -> bool {
    matches!(letter, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
}

/// Two consonant letters that can open a written word, names of other languages included. Our list.
#[rustfmt::skip]
const OPENINGS: &[&[u8; 2]] = &[
    b"bh", b"bl", b"br", b"ch", b"cl", b"cr", b"cz", b"dh", b"dj", b"dr", b"dw", b"fj", b"fl", b"fr", b"gh", b"gl", b"gn", b"gr", b"gw",
    b"hj", b"hw", b"jh", b"kh", b"kl", b"kn", b"kr", b"kv", b"kw", b"lh", b"ll", b"mc", b"mn", b"ng", b"ph", b"pf", b"pl", b"pr",
    b"ps", b"pt", b"rh", b"sc", b"sh", b"sk", b"sl", b"sm", b"sn", b"sp", b"sq", b"sr", b"st", b"sv", b"sw", b"sz", b"th", b"tr", b"ts",
    b"tw", b"tz", b"vl", b"vr", b"wh", b"wr", b"xh", b"zh", b"zs", b"zw",
];

/// Two consonant letters that cannot close one. Our list.
#[rustfmt::skip]
const NO_CLOSINGS: &[&[u8; 2]] = &[
    b"bc", b"cb", b"cd", b"cg", b"cm", b"cn", b"cp", b"db", b"dc", b"df", b"dg", b"dp", b"dt", b"dv", b"fc", b"fd", b"fg", b"gb", b"gd",
    b"gp", b"gt", b"kb", b"kc", b"kg", b"lc", b"lg", b"mc", b"md", b"mg", b"ml", b"mt", b"mv", b"pb", b"pc", b"pd", b"pg", b"pm",
    b"sb", b"sc", b"sd", b"sg", b"sl", b"sv", b"tb", b"tc", b"td", b"tf", b"tg", b"tk", b"tm", b"tp", b"tv", b"vg", b"vp",
];

/// Whether a short word cannot be said as it is written, so that it must be initials: *gpa*, *omg*.
pub(super) fn is_unsayable(word: &str) -> bool {
    let letters = word.as_bytes();
    if !(3..5).contains(&letters.len()) || !letters.iter().all(u8::is_ascii_lowercase) {
        return false;
    }
    // *jpeg* is a letter and a syllable.
    let opening = letters.first_chunk::<2>().is_some_and(|pair| {
        let sayable_rest =
            matches!(letters, [_, a, b, c] if !is_vowel(*a) && is_vowel(*b) && !is_vowel(*c));
        !pair.iter().copied().any(is_vowel) && !OPENINGS.contains(&pair) && !sayable_rest
    });
    let closing = letters
        .last_chunk::<2>()
        .is_some_and(|pair| NO_CLOSINGS.contains(&pair));
    opening || closing
}

/// The names of the letters in order.
pub(super) fn letters(word: &str) -> Found {
    let mut said = Said {
        sounds: Vec::new(),
        cost: 0,
        why: "letters",
        starts: Vec::new(),
        guessed: false,
        spoken: Vec::new(),
    };
    for (at, letter) in word.char_indices() {
        let and = if letter == '&' {
            Sound::parse_all("AH0 N D")
        } else {
            None
        };
        let Some(sounds) = and.or_else(|| lists::letter(letter)) else {
            continue;
        };
        for part in 0..count(&sounds) {
            // The three syllables of W share its one sign.
            said.starts.push(if part == 0 { at } else { at + 1 });
        }
        said.sounds.extend(sounds);
    }
    if let Some(first) = said.starts.first_mut() {
        *first = 0;
    }
    Found {
        said: vec![said],
        from: Source::Rule,
    }
}
