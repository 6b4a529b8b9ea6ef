//! The kinds of chord: which tones, how they are written, what they are called in a numeral.

use crate::music::interval::Interval;

/// A row of the table: one kind of chord.
pub struct Kind {
    /// What it is called.
    pub name: &'static str,
    /// Its tones by degree and semitones, the root included, ascending by degree.
    pub tones: &'static [(u8, u8)],
    /// How it is written behind the root, in the usual words (`maj`, `m`, `dim`, `aug`); the first is what we write.
    pub written: &'static [&'static str],
    /// What stands behind the roman numeral, whose case already tells the third.
    pub figure: &'static str,
}

const fn kind(
    name: &'static str,
    tones: &'static [(u8, u8)],
    written: &'static [&'static str],
    figure: &'static str,
) -> Kind {
    Kind {
        name,
        tones,
        written,
        figure,
    }
}

/// All kinds, plain ones first.
///
/// Degrees and spellings follow the kinds of MusicXML 4.0 (W3C, 2021, data type kind-value) and music21 (Cuthbert and Ariza,
/// harmony.CHORD_TYPES); what players write beyond these tables is common practice, no source.
pub const KINDS: &[Kind] = &[
    kind("major", &[(1, 0), (3, 4), (5, 7)], &["", "maj"], ""),
    kind("minor", &[(1, 0), (3, 3), (5, 7)], &["m"], ""),
    kind("diminished", &[(1, 0), (3, 3), (5, 6)], &["dim"], "°"),
    kind("augmented", &[(1, 0), (3, 4), (5, 8)], &["aug"], "+"),
    kind("open fifth", &[(1, 0), (5, 7)], &["5", "(no3)", "no3"], "5"),
    kind(
        "suspended fourth",
        &[(1, 0), (4, 5), (5, 7)],
        &["sus4", "sus"],
        "sus4",
    ),
    kind(
        "suspended second",
        &[(1, 0), (2, 2), (5, 7)],
        &["sus2"],
        "sus2",
    ),
    kind(
        "sixth",
        &[(1, 0), (3, 4), (5, 7), (6, 9)],
        &["6", "maj6", "add6"],
        "6",
    ),
    kind(
        "minor sixth",
        &[(1, 0), (3, 3), (5, 7), (6, 9)],
        &["m6"],
        "6",
    ),
    kind(
        "six-nine",
        &[(1, 0), (3, 4), (5, 7), (6, 9), (9, 14)],
        &["6/9", "69"],
        "6/9",
    ),
    kind(
        "minor six-nine",
        &[(1, 0), (3, 3), (5, 7), (6, 9), (9, 14)],
        &["m6/9", "m69"],
        "6/9",
    ),
    kind(
        "added ninth",
        &[(1, 0), (3, 4), (5, 7), (9, 14)],
        &["add9", "add2", "2"],
        "add9",
    ),
    kind(
        "minor with added ninth",
        &[(1, 0), (3, 3), (5, 7), (9, 14)],
        &["m(add9)", "madd9"],
        "add9",
    ),
    kind(
        "added fourth",
        &[(1, 0), (3, 4), (5, 7), (11, 17)],
        &["add4", "add11"],
        "add4",
    ),
    kind(
        "seventh",
        &[(1, 0), (3, 4), (5, 7), (7, 10)],
        &["7", "dom7"],
        "7",
    ),
    kind(
        "major seventh",
        &[(1, 0), (3, 4), (5, 7), (7, 11)],
        &["maj7"],
        "maj7",
    ),
    kind(
        "minor seventh",
        &[(1, 0), (3, 3), (5, 7), (7, 10)],
        &["m7"],
        "7",
    ),
    kind(
        "minor with major seventh",
        &[(1, 0), (3, 3), (5, 7), (7, 11)],
        &["m(maj7)", "mmaj7", "m#7", "m(#7)"],
        "(maj7)",
    ),
    kind(
        "half-diminished",
        &[(1, 0), (3, 3), (5, 6), (7, 10)],
        &["m7b5", "ø7", "ø"],
        "ø7",
    ),
    kind(
        "diminished seventh",
        &[(1, 0), (3, 3), (5, 6), (7, 9)],
        &["dim7"],
        "°7",
    ),
    kind(
        "augmented seventh",
        &[(1, 0), (3, 4), (5, 8), (7, 10)],
        &["7#5", "aug7", "7aug"],
        "+7",
    ),
    kind(
        "suspended seventh",
        &[(1, 0), (4, 5), (5, 7), (7, 10)],
        &["7sus4", "7sus"],
        "7sus4",
    ),
    kind(
        "ninth",
        &[(1, 0), (3, 4), (5, 7), (7, 10), (9, 14)],
        &["9", "dom9"],
        "9",
    ),
    kind(
        "major ninth",
        &[(1, 0), (3, 4), (5, 7), (7, 11), (9, 14)],
        &["maj9"],
        "maj9",
    ),
    kind(
        "minor ninth",
        &[(1, 0), (3, 3), (5, 7), (7, 10), (9, 14)],
        &["m9"],
        "9",
    ),
    kind(
        "suspended ninth",
        &[(1, 0), (4, 5), (5, 7), (7, 10), (9, 14)],
        &["9sus4", "9sus"],
        "9sus4",
    ),
    kind(
        "eleventh",
        &[(1, 0), (3, 4), (5, 7), (7, 10), (9, 14), (11, 17)],
        &["11"],
        "11",
    ),
    kind(
        "minor eleventh",
        &[(1, 0), (3, 3), (5, 7), (7, 10), (9, 14), (11, 17)],
        &["m11"],
        "11",
    ),
    kind(
        "thirteenth",
        &[(1, 0), (3, 4), (5, 7), (7, 10), (9, 14), (11, 17), (13, 21)],
        &["13"],
        "13",
    ),
    kind(
        "minor thirteenth",
        &[(1, 0), (3, 3), (5, 7), (7, 10), (9, 14), (11, 17), (13, 21)],
        &["m13"],
        "13",
    ),
    kind(
        "major thirteenth",
        &[(1, 0), (3, 4), (5, 7), (7, 11), (9, 14), (13, 21)],
        &["maj13"],
        "maj13",
    ),
    kind(
        "altered",
        &[(1, 0), (3, 4), (5, 8), (7, 10), (9, 13), (9, 15)],
        &["7alt", "alt"],
        "7alt",
    ),
];

impl Kind {
    /// The tones as intervals.
    #[must_use]
    pub fn intervals(&self) -> Vec<Interval> {
        self.tones
            .iter()
            .map(|&(d, s)| Interval::new(d, s))
            .collect()
    }
}

/// The kind written with the longest spelling that `text` begins with, and what is left of the text.
/// The text has to be in the usual words already. Every text begins with a major chord's empty spelling.
pub(super) fn longest_match(text: &str) -> Option<(&'static Kind, &str)> {
    KINDS
        .iter()
        .flat_map(|kind| kind.written.iter().map(move |&written| (kind, written)))
        .filter_map(|(kind, written)| {
            let rest = text.strip_prefix(written)?;
            // `sus` before a figure is not the short form of `sus4`.
            let cut_figure =
                written.ends_with("sus") && rest.starts_with(|c: char| c.is_ascii_digit());
            (!cut_figure).then_some((written.len(), kind, rest))
        })
        .max_by_key(|&(length, ..)| length)
        .map(|(_, kind, rest)| (kind, rest))
}

/// A kind, and what has to be written behind it, for any set of tones: the row that needs the fewest changes, the earlier
/// one of equals. `None` where no row leads there with the changes that can be written.
pub(super) fn nearest(tones: &[Interval]) -> Option<(&'static Kind, Vec<String>)> {
    KINDS
        .iter()
        .filter_map(|kind| Some((kind, changes(&kind.intervals(), tones)?)))
        .min_by_key(|(_, changes)| changes.len())
}

/// What turns one set of tones into another, in the words of a chord symbol: `b5`, `add9`, `no5`, `sus4`.
fn changes(from: &[Interval], to: &[Interval]) -> Option<Vec<String>> {
    let mut lost: Vec<Interval> = from.iter().filter(|t| !to.contains(t)).copied().collect();
    let (mut words, mut added) = (Vec::new(), Vec::new());
    let mut suspended = false;
    for &tone in to.iter().filter(|t| !from.contains(t)) {
        match tone.degree {
            2 | 4 => {
                suspended = true;
                words.push(format!("sus{}", tone.degree));
            }
            // An altered fifth, ninth, eleventh or thirteenth takes the place of the natural one.
            5 | 9 | 11 | 13 if tone.alteration() != 0 => {
                let natural = Interval::of_major_scale(tone.degree, 0);
                if from.contains(&natural) && to.contains(&natural) {
                    return None;
                }
                lost.retain(|&l| l != natural);
                words.push(tone.to_string());
            }
            6 | 9 | 11 | 13 => added.push(format!("add{}", tone.degree)),
            _ => return None,
        }
    }
    for tone in lost {
        match tone.degree {
            3 if suspended => {}
            3 => words.push("no3".to_owned()),
            5 if tone.alteration() == 0 => words.push("no5".to_owned()),
            _ => return None,
        }
    }
    words.append(&mut added);
    Some(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sound() {
        let mut names: Vec<_> = KINDS.iter().map(|k| k.name).collect();
        let mut spellings: Vec<_> = KINDS.iter().flat_map(|k| k.written).collect();
        let (rows, written) = (names.len(), spellings.len());
        names.sort_unstable();
        names.dedup();
        spellings.sort_unstable();
        spellings.dedup();
        assert_eq!((names.len(), spellings.len()), (rows, written), "a double");
        for kind in KINDS {
            assert!(kind.tones.is_sorted(), "{}", kind.name);
            assert_eq!(kind.tones.first(), Some(&(1, 0)), "{}", kind.name);
            let twins = KINDS.iter().filter(|k| k.tones == kind.tones).count();
            assert_eq!(twins, 1, "{} has the tones of another row", kind.name);
        }
    }
}
