//! Reading a chord symbol as people type it.

use super::{Chord, Unread, kinds};
use crate::music::interval::Interval;
use crate::music::pitch::Note;

/// The words that players write for the same thing, longest first where one begins another; the second of each pair is the
/// usual word that the table of kinds knows. Upper-case M is major, lower-case m minor.
const WORDS: &[(&str, &str)] = &[
    ("major", "maj"),
    ("Major", "maj"),
    ("MAJOR", "maj"),
    ("minor", "m"),
    ("Minor", "m"),
    ("MINOR", "m"),
    ("madd", "madd"),
    ("maj", "maj"),
    ("Maj", "maj"),
    ("MAJ", "maj"),
    ("min", "m"),
    ("Min", "m"),
    ("MIN", "m"),
    ("dim", "dim"),
    ("Dim", "dim"),
    ("DIM", "dim"),
    ("aug", "aug"),
    ("Aug", "aug"),
    ("AUG", "aug"),
    ("sus", "sus"),
    ("Sus", "sus"),
    ("SUS", "sus"),
    ("add", "add"),
    ("Add", "add"),
    ("ADD", "add"),
    ("omit", "no"),
    ("dom", "dom"),
    ("alt", "alt"),
    ("no", "no"),
    ("ma", "maj"),
    ("Ma", "maj"),
    ("mi", "m"),
    ("Mi", "m"),
    ("M", "maj"),
    ("o", "dim"),
    ("°", "dim"),
];

pub(super) fn read(text: &str) -> Result<Chord, Unread> {
    let typed = text.trim();
    let plain = plain_signs(typed);
    if plain.is_empty() {
        return Err(Unread::Empty);
    }
    let Some((root, behind_root)) = leading_note(&plain) else {
        return Err(Unread::Root {
            text: typed.to_owned(),
        });
    };
    let (quality, bass) = split_bass(behind_root, root)?;
    if quality.matches('(').count() != quality.matches(')').count() {
        return Err(Unread::Bracket {
            text: typed.to_owned(),
        });
    }
    let usual = usual_words(quality);
    let tones = read_kind(&usual).map_err(|rest| {
        let read = usual.strip_suffix(rest).unwrap_or_default();
        Unread::Rest {
            read: format!("{root}{read}"),
            rest: rest.to_owned(),
        }
    })?;
    let mut chord = Chord::from_parts(root, tones, bass);
    typed.clone_into(&mut chord.written);
    Ok(chord)
}

/// One sign for each meaning: flats, sharps, minus, triangle, circle.
fn plain_signs(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '♭' => plain.push('b'),
            '♯' => plain.push('#'),
            '𝄫' => plain.push_str("bb"),
            '𝄪' => plain.push_str("##"),
            '–' | '−' | '‐' | '‑' => plain.push('-'),
            '∆' | '△' => plain.push('Δ'),
            'º' | '˚' => plain.push('°'),
            '⌀' | 'Ø' => plain.push('ø'),
            '♮' => {}
            other => plain.push(other),
        }
    }
    plain
}

/// The note a text begins with, with as many accidentals as stand there (two at most).
fn leading_note(text: &str) -> Option<(Note, &str)> {
    let signs = text
        .chars()
        .skip(1)
        .take_while(|c| "b#".contains(*c))
        .take(2);
    let length = 1 + signs.count();
    (1..=length).rev().find_map(|length| {
        let (name, rest) = text.split_at_checked(length)?;
        Some((Note::parse(name)?, rest))
    })
}

/// What stands before the bass, and the bass, where a note name follows the last slash.
fn split_bass(text: &str, root: Note) -> Result<(&str, Option<Note>), Unread> {
    let Some((before, behind)) = text.rsplit_once('/') else {
        return Ok((text, None));
    };
    if let Some(bass) = Note::parse(behind) {
        return Ok((before, Some(bass)));
    }
    if behind.starts_with(|c: char| c.is_ascii_digit()) {
        return Ok((text, None));
    }
    Err(Unread::Bass {
        read: format!("{root}{before}"),
        behind: behind.to_owned(),
    })
}

/// The quality in the usual words: `-7` becomes `m7`, `Δ` `maj7`, `+7` `aug7`, `7-5` `7b5`.
fn usual_words(quality: &str) -> String {
    let mut usual = String::new();
    let mut rest = quality;
    while let Some(sign) = rest.chars().next() {
        if let Some((word, meaning)) = WORDS.iter().find(|(word, _)| rest.starts_with(word)) {
            usual.push_str(meaning);
            rest = rest.strip_prefix(word).unwrap_or_default();
            continue;
        }
        rest = rest.strip_prefix(sign).unwrap_or_default();
        let degree_follows = ["5", "9", "11", "13"].iter().any(|d| rest.starts_with(d));
        let first = usual.is_empty();
        match sign {
            'Δ' if rest.starts_with(|c: char| c.is_ascii_digit()) => usual.push_str("maj"),
            'Δ' => usual.push_str("maj7"),
            'j' if rest.starts_with('7') => usual.push_str("maj"),
            '-' if first => usual.push('m'),
            '-' if degree_follows => usual.push('b'),
            '+' if degree_follows && (!first || rest.starts_with('5')) => usual.push('#'),
            '+' => usual.push_str("aug"),
            other => usual.push(other),
        }
    }
    usual
}

/// The tones that a quality in the usual words stands for, or what could not be read of it.
fn read_kind(usual: &str) -> Result<Vec<Interval>, &str> {
    let (kind, mut rest) = kinds::longest_match(usual).ok_or(usual)?;
    let mut tones = kind.intervals();
    let mut in_brackets = false;
    while let Some(sign) = rest.chars().next() {
        if let Some(behind) = rest.strip_prefix(['(', ')', ',']) {
            in_brackets = sign == '(' || (in_brackets && sign == ',');
            rest = behind;
        } else {
            rest = apply_change(&mut tones, rest, in_brackets).ok_or(rest)?;
        }
    }
    tones.sort_unstable();
    tones.dedup();
    Ok(tones)
}

/// Applies the change that the text begins with and gives what is left, or `None` where it begins with none.
fn apply_change<'t>(tones: &mut Vec<Interval>, text: &'t str, bare: bool) -> Option<&'t str> {
    if let Some(rest) = text.strip_prefix("no") {
        let (degree, rest) = leading_degree(rest, &[3, 5])?;
        tones.retain(|tone| tone.degree != degree);
        return Some(rest);
    }
    if let Some(rest) = text.strip_prefix("sus") {
        let (degree, rest) = leading_degree(rest, &[2, 4]).unwrap_or((4, rest));
        tones.retain(|tone| tone.degree != 3);
        tones.push(Interval::of_major_scale(degree, 0));
        return Some(rest);
    }
    let (added, rest) = text.strip_prefix("add").map_or((bare, text), |r| (true, r));
    let (alter, rest) = match rest.chars().next()? {
        'b' => (-1, rest.strip_prefix('b')?),
        '#' => (1, rest.strip_prefix('#')?),
        _ if added => (0, rest),
        _ => return None,
    };
    let allowed: &[u8] = if alter == 0 {
        &[2, 4, 6, 9, 11, 13]
    } else {
        &[5, 9, 11, 13]
    };
    let (degree, rest) = leading_degree(rest, allowed)?;
    let degree = match degree {
        2 => 9,
        4 => 11,
        other => other,
    };
    if alter != 0 {
        tones.retain(|tone| tone.degree != degree || tone.alteration() != 0);
    }
    tones.push(Interval::of_major_scale(degree, alter));
    Some(rest)
}

fn leading_degree<'t>(text: &'t str, allowed: &[u8]) -> Option<(u8, &'t str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at_checked(end)?;
    let degree = digits.parse().ok().filter(|d| allowed.contains(d))?;
    Some((degree, rest))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn check(rows: &[(&str, &str)]) {
        for (given, expected) in rows {
            let name = Chord::parse(given).map(|c| c.name());
            assert_eq!(name.as_deref(), Ok(*expected), "{given}");
        }
    }

    #[test]
    fn players_spellings() {
        check(&[
            ("CM7", "Cmaj7"),
            ("CΔ", "Cmaj7"),
            ("C△7", "Cmaj7"),
            ("Cma7", "Cmaj7"),
            ("Cj7", "Cmaj7"),
            ("CΔ9", "Cmaj9"),
            ("Cmaj", "C"),
            ("CM", "C"),
            ("A-7", "Am7"),
            ("A−7", "Am7"),
            ("Ami", "Am"),
            ("AMi7", "Am7"),
            ("AMa7", "Amaj7"),
            ("A-Δ7", "Am(maj7)"),
            ("AmM7", "Am(maj7)"),
            ("Bø", "Bm7b5"),
            ("B-7b5", "Bm7b5"),
            ("Bm7(b5)", "Bm7b5"),
            ("B°7", "Bdim7"),
            ("Bo", "Bdim"),
            ("C+", "Caug"),
            ("C+7", "C7#5"),
            ("C7+", "C7#5"),
            ("C7+5", "C7#5"),
            ("C7-5", "C7b5"),
            ("C7b5", "C7b5"),
            ("B♭sus", "Bbsus4"),
            ("F♯m", "F#m"),
            ("C2", "Cadd9"),
            ("Cm(add9)", "Cm(add9)"),
            ("C(no3)", "C5"),
            ("C7omit5", "C7no5"),
            ("C7(b9,#5)", "C7#5b9"),
            ("C7alt", "C7alt"),
            ("C7(13)", "C7add13"),
            ("E(b9)", "E(b9)"),
            ("Eb9", "Eb9"),
            ("E7b9", "E7b9"),
            ("D/E", "D/E"),
            ("D/D", "D"),
            ("C6/9", "C6/9"),
            ("C6/9/G", "C6/9/G"),
        ]);
    }

    #[test]
    fn what_is_no_chord_is_said() {
        let said = |text: &str| Chord::parse(text).unwrap_err().to_string();
        assert_eq!(
            said("Amx7"),
            "Amx7: Am is a chord, x7 behind it is not understood"
        );
        assert_eq!(
            said("Em/"),
            "Em/ lacks the bass note behind its slash, such as Em/G"
        );
        assert_eq!(
            said("C/H"),
            "C/H: the bass behind the slash has to be a note from A to G"
        );
        assert_eq!(said("C7(b9"), "C7(b9: a bracket has no partner");
        assert!(said("Hm").starts_with("Hm is no chord"));
        for word in [
            "a", "am", "Bad", "Add", "Every", "Gone", "c", "", "/G", "C/9", "Cmaj5", "Dear", "Fade",
        ] {
            assert!(Chord::parse(word).is_err(), "{word}");
        }
    }
}
