//! Chords as roman numerals of a key, and back.

use super::chord::{Chord, kinds};
use super::interval::Interval;
use super::key::{Key, Mode};
use super::pitch::Note;

const ROMAN: [&str; 7] = ["I", "II", "III", "IV", "V", "VI", "VII"];

/// The numeral of a chord in a key.
///
/// Upper case where the third is major or missing, lower case where it is minor; `°`, `ø` and `+` as in textbooks; figures as in
/// the letter chord; an inversion by a slash and the degree in the bass (`I/3`). Roots are counted on the major scale of the
/// tonic with accidentals (bVII), as de Clercq and Temperley write them ("A corpus analysis of rock harmony", Popular Music 30,
/// 2011); in minor on the natural minor without them (VII), and the diminished chord on the raised seventh degree is vii°,
/// as Open Music Theory writes it (Gotham and others, 2021, "Roman Numerals and SATB Chord Construction").
///
/// ```
/// # use breathmark::music::{chord::Chord, key::Key, numeral::numeral};
/// let name = |chord, key| Some(numeral(&Chord::parse(chord).ok()?, Key::parse(key)?));
/// assert_eq!(name("C", "D").as_deref(), Some("bVII"));
/// assert_eq!(name("G#dim7", "Am").as_deref(), Some("vii°7"));
/// assert_eq!(name("D/F#", "G").as_deref(), Some("V/7"));
/// ```
#[must_use]
pub fn numeral(chord: &Chord, key: Key) -> String {
    let (degree, alter) = degree_in(chord.root(), key);
    let leading_tone = key.mode() == Mode::Aeolian
        && (degree, alter) == (7, 1)
        && chord.intervals().iter().any(|t| *t == Interval::new(5, 6));
    let alter = if leading_tone { 0 } else { alter };
    let roman = ROMAN.get(usize::from(degree) - 1).copied().unwrap_or("I");
    let roman = if chord.is_minor() {
        roman.to_ascii_lowercase()
    } else {
        roman.to_owned()
    };
    let mut name = format!("{}{roman}{}", signs(alter), chord.figure());
    if chord.is_inverted() {
        let (degree, alter) = degree_in(chord.bass(), key);
        name.push_str(&format!("/{}{degree}", signs(alter)));
    }
    name
}

/// The degree of a note in a key, 1 to 7, and by how many semitones it is raised above what stands without a sign.
fn degree_in(note: Note, key: Key) -> (u8, i8) {
    let interval = Interval::between(key.tonic(), note);
    let degree = (interval.degree - 1) % 7 + 1;
    let alter = Interval::new(degree, interval.semitones % 12).alteration();
    // Cb above C falls an octave short.
    let alter = if alter > 6 { alter - 12 } else { alter };
    (degree, alter - natural_alter(degree, key))
}

/// What stands without a sign: the major scale, in minor the natural minor.
fn natural_alter(degree: u8, key: Key) -> i8 {
    if key.mode() == Mode::Aeolian && matches!(degree, 3 | 6 | 7) {
        -1
    } else {
        0
    }
}

fn signs(alter: i8) -> String {
    let sign = if alter > 0 { "#" } else { "b" };
    sign.repeat(usize::from(alter.unsigned_abs()))
}

/// The chord that a numeral stands for in a key: `bVII`, `vii°7`, `V7/V`, `I/3`, `iv`. `None` where it is no numeral.
///
/// In minor `bIII`, `bVI`, `bVII` are taken for `III`, `VI`, `VII`, and `vii°`, `vii°7` stand on the raised seventh degree. Behind
/// a slash a numeral is the chord for which the first is reckoned (a secondary dominant), a figure is the degree in the bass.
#[must_use]
pub fn chord_of(numeral: &str, key: Key) -> Option<Chord> {
    let numeral = numeral.trim();
    if let Some((above, below)) = numeral.rsplit_once('/') {
        if below.contains(['I', 'V', 'i', 'v']) {
            let goal = chord_of(below, key)?;
            let mode = if goal.is_minor() {
                Mode::Aeolian
            } else {
                Mode::Ionian
            };
            return chord_of(above, Key::new(goal.root(), mode)?);
        }
        if above.contains(['I', 'V', 'i', 'v']) && below != "9" {
            let (alter, figure) = leading_signs(below);
            let degree = figure.parse().ok().filter(|d| (1..=7).contains(d))?;
            let alter = alter + natural_alter(degree, key);
            return Some(chord_of(above, key)?.over(key.degree(degree, alter)));
        }
    }
    let (alter, rest) = leading_signs(numeral);
    let end = rest.find(|c| !"IVXivx".contains(c)).unwrap_or(rest.len());
    let (roman, figure) = rest.split_at_checked(end)?;
    let index = ROMAN.iter().position(|r| roman.eq_ignore_ascii_case(r))?;
    let degree = u8::try_from(index + 1).ok()?;
    let minor = roman.chars().all(|c| c.is_ascii_lowercase());
    if !minor && !roman.chars().all(|c| c.is_ascii_uppercase()) {
        return None;
    }
    let diminished = minor && figure.starts_with('°');
    let natural = if degree == 7 && diminished && alter == 0 {
        0
    } else if alter < 0 {
        // In minor bVII is VII: the flat is there already.
        natural_alter(degree, key).max(0)
    } else {
        natural_alter(degree, key)
    };
    let root = key.degree(degree, alter + natural);
    let third = if minor { 3 } else { 4 };
    let kind = kinds::KINDS.iter().find(|kind| {
        let fits = kind
            .tones
            .iter()
            .find(|(d, _)| *d == 3)
            .is_none_or(|&(_, s)| s == third);
        kind.figure == figure && fits
    })?;
    Some(Chord::of_kind(root, kind))
}

fn leading_signs(text: &str) -> (i8, &str) {
    let rest = text.trim_start_matches(['b', '#']);
    let signs = text.strip_suffix(rest).unwrap_or_default();
    let alter = signs.chars().map(|c| if c == '#' { 1 } else { -1 }).sum();
    (alter, rest)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    #[test]
    fn numerals_lead_to_chords_and_back() {
        for (numeral_text, key, expected) in [
            ("I", "G", "G"),
            ("ii", "G", "Am"),
            ("iii", "G", "Bm"),
            ("vi7", "G", "Em7"),
            ("V7", "Em", "B7"),
            ("vii°", "Em", "D#dim"),
            ("VII", "Em", "D"),
            ("VI", "Em", "C"),
            ("III", "Em", "G"),
            ("ii°", "Em", "F#dim"),
            ("iv", "Em", "Am"),
            ("v", "Em", "Bm"),
            ("#vi°", "Em", "C#dim"),
            ("bII", "Em", "F"),
            ("bVII", "Ador", "G"),
            ("IV", "Ador", "D"),
            ("bIII", "Ador", "C"),
            ("bVII", "Dmix", "C"),
            ("v", "Dmix", "Am"),
            ("#iv°7", "C", "F#dim7"),
            ("iiø7", "Em", "F#m7b5"),
            ("III+", "C", "Eaug"),
            ("Vsus4", "C", "Gsus4"),
            ("V7sus4", "C", "G7sus4"),
            ("I5", "C", "C5"),
            ("Iadd9", "C", "Cadd9"),
            ("i(maj7)", "Am", "Am(maj7)"),
            ("I/3", "C", "C/E"),
            ("V/7", "C", "G/B"),
            ("v/7", "Am", "Em/G"),
            ("I/b7", "C", "C/Bb"),
            ("I6/9", "C", "C6/9"),
            ("bI", "C", "Cb"),
        ] {
            let key = Key::parse(key).unwrap();
            let chord = chord_of(numeral_text, key).unwrap_or_else(|| panic!("{numeral_text}"));
            assert_eq!(chord.name(), expected, "{numeral_text} in {key}");
            assert_eq!(numeral(&chord, key), numeral_text, "{expected} in {key}");
        }
    }

    #[test]
    fn flats_of_minor_are_taken_for_granted() {
        let key = Key::parse("Am").unwrap();
        for (numeral, expected) in [("bVII", "G"), ("bIII", "C"), ("bVI", "F"), ("bII", "Bb")] {
            assert_eq!(chord_of(numeral, key).unwrap().name(), expected);
        }
        for bad in ["", "H", "iI", "VIII", "Vx", "8", "V/VIII", "I/8"] {
            assert_eq!(chord_of(bad, key), None, "{bad}");
        }
    }
}
