//! Words that the rules break wrongly.

use super::super::outlines::Outlines;

/// Words that the rules break wrongly, as dictionaries break them; in the order of their letters.
#[rustfmt::skip]
const EXCEPTIONS: &[&str] = &[
    "ac-knowl-edge", "ac-tu-al", "a-gain", "al-read-y", "an-ger", "an-oth-er", "an-y", "ar-my", "bank-rupt", "beau-ty",
    "be-hav-ior", "be-hav-iour", "be-yond", "bod-y", "bur-y", "bus-i-ness", "bus-y", "ca-su-al", "ceil-ing", "cor-al",
    "cour-age", "dan-ger", "dar-ling", "de-cide", "de-cid-ed", "de-cid-ing", "de-rive", "de-rived", "di-a-mond",
    "dis-cour-age", "dur-ing", "earth-ly", "eas-i-er", "eas-i-ly", "east-ern", "eas-y", "emp-ty", "en-cour-age", "eve-ning",
    "ev-er", "fail-ure", "fin-ger", "for-eign", "for-est", "for-ev-er", "for-ev-er-more", "fur-ther", "grad-u-ate",
    "guid-ance", "how-ev-er", "hu-man", "hun-ger", "is-land", "lon-ger", "lux-u-ry", "man-y", "mor-al", "mus-cle", "na-ive",
    "nat-u-ral", "nev-er-more", "north-ern", "of-fer", "of-fered", "of-fer-ing", "o-pen", "o-pened", "o-pen-ing", "or-ange",
    "piz-za", "po-et-ry", "rhy-thm", "sail-or", "sand-wich", "south-ern", "ster-ling", "stran-ger", "stron-ger", "up-on",
    "us-er", "us-ers", "us-es", "us-ing", "u-su-al", "u-su-al-ly", "vi-su-al", "wednes-day", "west-ern", "what-ev-er",
    "when-ev-er", "where-as", "wher-ev-er", "who-ev-er", "with-in", "with-out", "wom-an", "wor-thy", "youn-ger",
];

const OUTLINES: Outlines = Outlines::NONE.and(EXCEPTIONS);

/// Where the parts of such a word begin, if it is broken into so many.
pub(super) fn exception(word: &str, count: usize) -> Option<Vec<usize>> {
    let stems = [
        word,
        word.strip_suffix("'s").unwrap_or(word),
        word.strip_suffix('s').unwrap_or(word),
    ];
    let letters = |row: &'static str| row.bytes().filter(|sign| *sign != b'-');
    let row = stems.iter().find_map(|stem| {
        if !OUTLINES.may_have(stem) {
            return None;
        }
        let at = EXCEPTIONS.binary_search_by(|row| letters(row).cmp(stem.bytes()));
        EXCEPTIONS.get(at.ok()?)
    })?;
    let mut at = 0;
    let mut starts = Vec::new();
    for part in row.split('-') {
        starts.push(at);
        at += part.len();
    }
    (starts.len() == count).then_some(starts)
}
