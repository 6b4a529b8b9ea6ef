//! Words whose count of syllables is known to vary.

use super::{LISTED, RULE};
use crate::words::outlines::Outlines;
use crate::words::phone::Sound;
use crate::words::written;

/// A v lost where *ne'er* is not written: dearer than sharing a note between two syllables, in song nobody does it unasked.
const LOST_V: u32 = 1200;

/// A light word drawn out into two syllables.
const DRAWN_OUT: u32 = 1200;

/// Words whose count varies, each row with its counts, the usual one first, and what another count costs.
#[rustfmt::skip]
pub(super) const VARYING: &[(&[&str], &[usize], u32)] = &[
    (&["heaven", "even", "given", "driven", "risen", "stolen", "fallen", "broken"], &[2, 1], RULE),
    (&["seven"], &[2, 1], RULE),
    (&["our"], &[1, 2], DRAWN_OUT),
    (&["heavenly", "remedy", "quality", "messenger"], &[3, 2], RULE),
    (&["ever", "never", "over"], &[2, 1], LOST_V),
    (&["eleven", "forgiven"], &[3, 2], RULE),
    (&["power", "flower", "tower", "shower", "bower"], &[2, 1], RULE),
    (&["fire", "hour", "choir", "wire", "lyre", "prayer", "real", "tire", "mire", "sire", "hire", "squire", "flour", "sour", "scour"], &[1, 2], LISTED),
    (&["desire", "inspire", "entire", "admire", "empire", "aspire", "expire", "require", "acquire", "attire", "devour"], &[2, 3], LISTED),
    (&["higher", "friar", "liar", "iron", "spirit", "being", "poem", "quiet", "lion", "riot", "dial", "trial", "vial", "cruel", "jewel"], &[2, 1], LISTED),
    (&["every", "evening", "different", "chocolate", "business", "wednesday"], &[2, 3], LISTED),
    (&["general", "several", "favorite", "favourite", "interest", "camera", "separate", "desperate"], &[2, 3], LISTED),
    (&["family", "memory", "history", "mystery", "victory", "factory", "misery", "nursery", "slippery", "battery", "ivory"], &[3, 2], LISTED),
    (&["delivery", "ridiculous", "ordinary", "temperature", "literature"], &[4, 3], LISTED),
    (&["wandering", "murmuring", "gathering", "suffering", "lingering", "traveling", "travelling"], &[3, 2], LISTED),
    (&["comfortable", "vegetable"], &[3, 4], LISTED),
    (&["innocent", "president", "cabinet", "medicine", "animal", "enemy"], &[3, 2], LISTED),
    (&["diamond"], &[2, 3], LISTED),
    (&["ourselves", "ourself"], &[2, 3], LISTED),
    (&["temperate"], &[3, 2], LISTED),
    (&["violet", "violent", "orient", "bivouac"], &[3, 2], LISTED),
    (&["glorious", "curious", "furious", "serious", "tedious", "hideous", "various", "radiant"], &[3, 2], LISTED),
    (&["obedient", "experience"], &[4, 3], LISTED),
    (&["happier", "merrier", "carrier"], &[3, 2], LISTED),
    (&["warrior", "million", "union", "onion"], &[2, 3], LISTED),
    (&["alien", "usual", "actual"], &[3, 2], LISTED),
    (&["ocean", "patient"], &[2, 3], LISTED),
    (&["mirror", "squirrel"], &[2, 1], LISTED),
    (&["toward", "towards"], &[1, 2], LISTED),
    (&["beloved"], &[3, 2], LISTED),
    (&["blessed", "learned", "winged", "aged", "cursed"], &[1, 2], LISTED),
];

const VARYING_OUTLINES: Outlines = {
    let mut outlines = Outlines::NONE;
    let mut row = 0;
    while row < VARYING.len() {
        outlines = outlines.and(VARYING[row].0);
        row += 1;
    }
    outlines
};

/// Sung forms that no rule below gives.
#[rustfmt::skip]
const SOUNDS: &[(&str, &str)] = &[
    ("over", "AO1 R"), ("ever", "EH1 R"), ("never", "N EH1 R"), ("evening", "IY1 V AH0 N IH0 NG"),
    ("heavenly", "HH EH1 V N L IY0"), ("messenger", "M EH1 S N JH ER0"), ("orient", "AO1 R Y AH0 N T"), ("bivouac", "B IH1 V UW0 AE2 K"),
    ("chocolate", "CH AO1 K AH0 L AH0 T"), ("business", "B IH1 Z IH0 N AH0 S"), ("wednesday", "W EH1 D AH0 N Z D EY2"),
    ("comfortable", "K AH1 M F T ER0 B AH0 L"), ("vegetable", "V EH1 JH AH0 T AH0 B AH0 L"),
    ("vegetable", "V EH1 JH T AH0 B AH0 L"), ("temperature", "T EH1 M P ER0 AH0 CH ER0"), ("temperature", "T EH1 M P R AH0 CH ER0"),
];

/// The row of a word, or of the word without -s, -'s, -ed.
pub(super) fn row_of(word: &str) -> Option<(&str, &'static [usize], &'static u32)> {
    let of_stem = |stem: &str| {
        let row = || VARYING.iter().find(|row| row.0.contains(&stem));
        VARYING_OUTLINES.may_have(stem).then(row).flatten()
    };
    let stems = [
        Some(word),
        word.strip_suffix("'s"),
        word.strip_suffix('s'),
        word.strip_suffix("ed"),
        word.strip_suffix('d'),
    ];
    let (stem, row) = stems
        .into_iter()
        .flatten()
        .find_map(|stem| Some((stem, of_stem(stem)?)))?;
    // An ending that is a syllable itself (*interested*) changes the counts.
    let syllabic = stem != word
        && stem.ends_with(['t', 'd', 's', 'e'])
        && !matches!(word.strip_prefix(stem), Some("d" | "s" | "'s"));
    (!syllabic).then_some((stem, row.1, &row.2))
}

/// The sung forms of a word, or of its stem, that no rule gives.
pub(super) fn named(word: &str, stem: &str) -> impl Iterator<Item = Vec<Sound>> {
    let rows = SOUNDS.iter().filter(move |row| row.0 == stem);
    let sounds = rows.filter_map(|row| Sound::parse_all(row.1));
    sounds.map(move |sounds| with_ending(sounds, word, stem))
}

/// The named form with the ending of an inflected word.
fn with_ending(mut sounds: Vec<Sound>, word: &str, stem: &str) -> Vec<Sound> {
    let Some(last) = sounds.last().copied() else {
        return sounds;
    };
    let ending = match word.strip_prefix(stem) {
        Some("s" | "'s") => written::plural(last),
        _ => "",
    };
    sounds.extend(Sound::parse_all(ending).unwrap_or_default());
    sounds
}
