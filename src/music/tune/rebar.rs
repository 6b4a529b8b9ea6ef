//! The same notes under other bar lines: a longer or shorter pickup, a rest at the other end of the phrase.

use super::signs::{Placed, Sign, signs};
use super::{Phrase, PhraseNote, Signature, UNIT};
use crate::music::meter::Meter;
use crate::music::quarters::Quarters;
use unicode_segmentation::UnicodeSegmentation;

/// The phrase with its bar lines moved, so that `pickup` stands before the first full bar; `None` where a note would cross a bar line,
/// or where the text cannot be read or would be read as other notes.
///
/// ```
/// # use breathmark::music::{meter::Meter, quarters::Quarters, tune::rebar::barred};
/// let waltz = Meter::parse("3/4").unwrap();
/// let moved = barred("D2 (EF) G2 | A2 B4", [0; 7], waltz, Quarters::ONE);
/// assert_eq!(moved.as_deref(), Some("D2 | (EF) G2 A2 | B4"));
/// assert_eq!(barred("D2 E2 F2 | G6", [0; 7], waltz, Quarters::ONE), None);
/// ```
#[must_use]
pub fn barred(text: &str, signature: Signature, meter: Meter, pickup: Quarters) -> Option<String> {
    let old = Phrase::read(text, signature, meter);
    let crosses = |note: &PhraseNote| {
        let within = (note.start - pickup).modulo(meter.bar());
        (note.start < pickup && note.end() > pickup)
            || (note.start >= pickup && within + note.length > meter.bar())
    };
    if old.notes.iter().any(crosses) {
        return None;
    }
    let (placed, _) = signs(text);
    let begins_bar = |start: Quarters| {
        start.is_positive() && start >= pickup && (start - pickup).modulo(meter.bar()).is_zero()
    };
    let mut bars: Vec<usize> = Vec::new();
    for note in old.notes.iter().filter(|note| begins_bar(note.start)) {
        let sign = placed.iter().position(|sign| sign.column == note.column)?;
        let opening = placed.get(..sign)?.iter().rev();
        let opening = opening.take_while(|sign| is_opening(sign)).count();
        bars.push(sign - opening);
    }
    let mut written = String::with_capacity(text.len() + 8);
    for (index, (sign, own)) in placed.iter().zip(texts(text, &placed)).enumerate() {
        if bars.contains(&index) {
            written.truncate(written.trim_end().len());
            written.push_str(" | ");
        }
        let apart = written.is_empty() || written.ends_with(' ');
        match sign.sign {
            Sign::Bar if apart => {}
            Sign::Bar => written.push(' '),
            _ => written.push_str(own),
        }
    }
    let new = Phrase::read(written.trim(), signature, meter);
    let sung = |phrase: &Phrase| -> Vec<_> {
        let notes = phrase.notes.iter();
        notes
            .map(|note| (note.pitch, note.start, note.length, note.slur))
            .collect()
    };
    let sound = old.problems.is_empty() && new.problems.is_empty() && sung(&old) == sung(&new);
    (sound && new.pickup == pickup && new.uneven_bars(meter).is_empty())
        .then(|| written.trim().to_owned())
}

/// The phrase with a rest moved from its end before its first note, or from before it to its end, the pickup as long as it was. `by` is how much
/// of the rest; `None` where there is not so much, and as [`barred`].
///
/// ```
/// # use breathmark::music::{meter::Meter, quarters::Quarters, tune::rebar::rest_moved};
/// let moved = |text, to_front| rest_moved(text, [0; 7], Meter::COMMON, Quarters::ONE, to_front);
/// assert_eq!(moved("C2 D2 E2 F2 | G2 A2 z4", true).as_deref(), Some("z2 C2 D2 E2 | F2 G2 A2 z2"));
/// assert_eq!(moved("z2 C2 D2 E2", false).as_deref(), Some("C2 D2 E2 z2"));
/// assert_eq!(moved("C2 D2 E2 F2", true), None);
/// ```
#[must_use]
pub fn rest_moved(
    text: &str,
    signature: Signature,
    meter: Meter,
    by: Quarters,
    to_front: bool,
) -> Option<String> {
    let old = Phrase::read(text, signature, meter);
    let end = if to_front {
        old.notes.last()
    } else {
        old.notes.first()
    };
    let rest = end.filter(|note| note.pitch.is_none() && note.length >= by)?;
    let (placed, _) = signs(text);
    let at = placed.iter().position(|sign| sign.column == rest.column)?;
    matches!(placed.get(at)?.sign, Sign::Rest(_)).then_some(())?;
    let left = written_rest(rest.length - by);
    let pieces = texts(text, &placed).into_iter().enumerate();
    let others: String = pieces
        .map(|(index, piece)| if index == at { left.as_str() } else { piece })
        .collect();
    let turned = if to_front {
        format!("{}{others}", written_rest(by))
    } else {
        format!("{} {}", others.trim_end(), written_rest(by))
    };
    let new = barred(turned.trim(), signature, meter, old.pickup)?;
    let pitches = |phrase: &Phrase| -> Vec<_> {
        let notes = phrase.notes.iter();
        notes.filter_map(|note| note.pitch).collect()
    };
    (pitches(&Phrase::read(&new, signature, meter)) == pitches(&old)).then_some(new)
}

/// A rest with a blank behind; empty for none.
fn written_rest(length: Quarters) -> String {
    let units = length / UNIT;
    match (units.numerator(), units.denominator()) {
        (0, _) => String::new(),
        (1, 1) => "z ".to_owned(),
        (whole, 1) => format!("z{whole} "),
        (above, below) => format!("z{above}/{below} "),
    }
}

const fn is_opening(sign: &Placed) -> bool {
    matches!(sign.sign, Sign::SlurOpen | Sign::Tuplet { .. })
}

/// What is written for each sign, with all that follows up to the next; what stands before the first belongs to it.
fn texts<'a>(text: &'a str, placed: &[Placed]) -> Vec<&'a str> {
    let starts: Vec<usize> = text.grapheme_indices(true).map(|(at, _)| at).collect();
    let byte = |column: usize| starts.get(column).copied().unwrap_or(text.len());
    let from = |index: usize| match (index, placed.get(index)) {
        (0, _) => 0,
        (_, Some(sign)) => byte(sign.column),
        (_, None) => text.len(),
    };
    (0..placed.len())
        .map(|index| text.get(from(index)..from(index + 1)).unwrap_or_default())
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn check(meter: &str, text: &str, pickup: Quarters, expected: Option<&str>) {
        let meter = Meter::parse(meter).unwrap();
        let found = barred(text, [0; 7], meter, pickup);
        assert_eq!(found.as_deref(), expected, "{text}");
    }

    #[test]
    fn bar_lines_move_and_notes_stay() {
        check(
            "4/4",
            "C D E F G A B c",
            Quarters::EIGHTH,
            Some("C | D E F G A B c"),
        );
        check(
            "4/4",
            "C2 | D2 E2 F2 G2 | A4",
            Quarters::ZERO,
            Some("C2 D2 E2 F2 | G2 A4"),
        );
        check(
            "3/4",
            "C2 D2 E2|F2 (3GAB c2||",
            Quarters::from(2),
            Some("C2 D2 | E2 F2 (3GAB | c2"),
        );
        // Tied over the new bar line, an accidental that would reach farther.
        check(
            "2/4",
            "C2 D2- | D2 E2",
            Quarters::ONE,
            Some("C2 | D2- D2 | E2"),
        );
        check("2/4", "D2 ^C2 | C2 E2", Quarters::ONE, None);
        check("2/4", "C2 D2 | C2 what", Quarters::ONE, None);
    }
}
