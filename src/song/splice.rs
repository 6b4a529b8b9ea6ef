//! Replacing a part of a row of text, and what that does to its columns.

use super::column::Column;
use super::place::Shift;
use unicode_segmentation::UnicodeSegmentation as _;

/// A row after a part of it was replaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Splice {
    /// The row now.
    pub text: String,
    /// What happened to its columns. Wider than what was asked for where new text merges with its neighbours:
    /// a combining mark with the letter before it, half a flag with the flags behind it.
    pub shift: Shift,
    /// The graphemes that went, over all of `shift.removed`: what puts the row back.
    pub removed: String,
}

impl Splice {
    /// Replaces `remove` graphemes of the row from the column `at` on; `None` where the row has not that many.
    #[must_use]
    pub fn new(row: &str, at: Column, remove: usize, insert: &str) -> Option<Self> {
        let old = boundaries(row);
        let from = *old.get(at.0)?;
        let to = *old.get(at.0.checked_add(remove)?)?;
        let text = [row.get(..from)?, insert, row.get(to..)?].concat();
        let new = boundaries(&text);

        // The nearest places outside the change that part graphemes in both rows.
        let (mut first_old, mut first_new) = (0, 0);
        for (index, byte) in old.iter().enumerate().take(at.0 + 1).rev() {
            if let Ok(found) = new.binary_search(byte) {
                (first_old, first_new) = (index, found);
                break;
            }
        }
        let (mut last_old, mut last_new) = (old.len() - 1, new.len() - 1);
        for (index, byte) in old.iter().enumerate().skip(at.0 + remove) {
            if let Ok(found) = new.binary_search(&(byte - to + from + insert.len())) {
                (last_old, last_new) = (index, found);
                break;
            }
        }
        // Both rows begin and end with a boundary, so the two places are in order in the old row; in the new one as well,
        // as the last lies behind the inserted text and the first before it.
        let removed = row
            .get(*old.get(first_old)?..*old.get(last_old)?)?
            .to_owned();
        Some(Self {
            shift: Shift {
                at: Column(first_old),
                removed: last_old - first_old,
                inserted: last_new.checked_sub(first_new)?,
                end: Column(old.len() - 1),
            },
            text,
            removed,
        })
    }
}

/// The bytes at which the row's graphemes begin, and its length.
fn boundaries(row: &str) -> Vec<usize> {
    row.grapheme_indices(true)
        .map(|(byte, _)| byte)
        .chain(std::iter::once(row.len()))
        .collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn check(
        row: &str,
        (at, remove, insert): (usize, usize, &str),
        text: &str,
        shift: (usize, usize, usize),
    ) {
        let splice = Splice::new(row, Column(at), remove, insert).unwrap();
        assert_eq!(splice.text, text);
        let found = (
            splice.shift.at.0,
            splice.shift.removed,
            splice.shift.inserted,
        );
        assert_eq!(found, shift, "{row:?} → {text:?}");
        let back = Splice::new(
            &splice.text,
            splice.shift.at,
            splice.shift.inserted,
            &splice.removed,
        )
        .unwrap();
        assert_eq!(back.text, row);
    }

    #[test]
    fn plain_text_shifts_as_asked() {
        check("bell", (4, 0, "s"), "bells", (4, 0, 1));
        check("bell", (0, 1, ""), "ell", (0, 1, 0));
        check("the bell", (4, 4, "rope"), "the rope", (4, 4, 4));
        check("", (0, 0, ""), "", (0, 0, 0));
    }

    #[test]
    fn what_merges_widens_the_shift() {
        check("eve", (1, 0, "\u{301}"), "e\u{301}ve", (0, 1, 1));
        check("\u{301}a", (0, 0, "e"), "e\u{301}a", (0, 1, 1));
        check("👩👧", (1, 0, "\u{200D}"), "👩\u{200D}👧", (0, 2, 1));
        // half a flag before two flags pairs all of them anew
        check("🇳🇴🇸🇪", (0, 0, "🇩"), "🇩🇳🇴🇸🇪", (0, 2, 3));
        check("🇩🇳🇴", (0, 1, ""), "🇴", (0, 1, 0));
    }

    #[test]
    fn past_the_end_is_none() {
        assert_eq!(Splice::new("bell", Column(5), 0, "s"), None);
        assert_eq!(Splice::new("bell", Column(3), 2, ""), None);
        assert_eq!(Splice::new("bell", Column(3), usize::MAX, ""), None);
    }
}
