//! Fractions and sums.

use super::measures::with_unit;
use super::{NAMES, cardinal, wordings};

/// Longer sums are read figure by figure.
const LONGEST: usize = 80;

/// A fraction that is one sign: how it is said alone, and behind a whole number.
#[rustfmt::skip]
pub(super) fn fraction(sign: char) -> Option<(&'static [&'static str], &'static [&'static str])> {
    Some(match sign {
        '½' => (&["half"], &["and", "a", "half"]),
        '¼' => (&["quarter"], &["and", "a", "quarter"]),
        '¾' => (&["three", "quarters"], &["and", "three", "quarters"]),
        '⅓' => (&["third"], &["and", "a", "third"]),
        '⅔' => (&["two", "thirds"], &["and", "two", "thirds"]),
        '⅛' => (&["eighth"], &["and", "an", "eighth"]),
        '⅜' => (&["three", "eighths"], &["and", "three", "eighths"]),
        '⅝' => (&["five", "eighths"], &["and", "five", "eighths"]),
        '⅞' => (&["seven", "eighths"], &["and", "seven", "eighths"]),
        _ => return None,
    })
}

/// Whether the sign makes a word one of figures: a digit, a fraction.
pub(in super::super) fn is_figure(sign: char) -> bool {
    sign.is_ascii_digit() || fraction(sign).is_some()
}

/// Whether it is a plain fraction: *3/4*, *½*.
pub(in super::super) fn is_fraction(text: &str) -> bool {
    let one_sign = text.chars().all(|sign| fraction(sign).is_some());
    let parts = text.split_once('/');
    (one_sign && text.chars().count() == 1)
        || parts.is_some_and(|(count, of)| parts_of(count, of).is_some())
}

/// `1½`, `½`.
pub(super) fn mixed(text: &str, at: usize) -> Option<Vec<Vec<&'static str>>> {
    let (whole, rest) = text.split_at_checked(at)?;
    let mut signs = rest.chars();
    let (alone, behind) = fraction(signs.next()?)?;
    let number = if whole.is_empty() {
        vec![alone.to_vec()]
    } else {
        let mut wordings = cardinal(whole)?;
        wordings
            .iter_mut()
            .for_each(|words| words.extend_from_slice(behind));
        wordings
    };
    with_unit(number, signs.as_str())
}

/// `3/4` is a fraction, `24/7` two numbers, `2+2=4` a sum.
pub(super) fn calculation(text: &str, at: usize) -> Option<Vec<Vec<&'static str>>> {
    // One sum holds another; nobody sings a longer one.
    if text.len() > LONGEST {
        return None;
    }
    let (left, rest) = text.split_at_checked(at)?;
    let mut signs = rest.chars();
    let sign = signs.next()?;
    let right = signs.as_str();
    let mut words = cardinal(left)?.into_iter().next()?;
    if sign == '/'
        && let Some(parts) = parts_of(left, right)
    {
        words.push(parts);
        return Some(vec![words]);
    }
    words.extend_from_slice(match sign {
        '+' => &["plus"],
        '=' => &["equals"],
        '×' => &["times"],
        '÷' => &["divided", "by"],
        _ => &[],
    });
    words.extend(wordings(right)?.into_iter().next()?);
    Some(vec![words])
}

/// The parts that a fraction counts: *thirds*. `None` where the two numbers are no plain fraction.
pub(super) fn parts_of(count: &str, of: &str) -> Option<&'static str> {
    let (count, of) = (count.parse::<u64>().ok()?, of.parse::<u64>().ok()?);
    let is_fraction = (1..of).contains(&count) && matches!(of, 2..=10 | 12 | 16 | 20 | 100);
    if !is_fraction {
        return None;
    }
    let row = NAMES.iter().find(|row| row.0 == of)?;
    Some(match (of, count) {
        (2, _) => "half",
        (4, 1) => "quarter",
        (4, _) => "quarters",
        (_, 1) => row.2,
        _ => row.4,
    })
}
