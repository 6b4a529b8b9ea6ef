//! Cutting the text of a file into slices: by where values start, with the comments above and behind them.

use super::tree::{Item, Pair, byte_at, end_of_line, line_start, next_line, past_blanks};

/// Where the text of a value begins whose first byte is `next`, in `column`, and before which another one ended at `end`.
///
/// The rest of the line at `end` belongs to what ended there, and so do comments below it that are indented deeper than what follows;
/// other comments and blank lines belong to what follows. Where both stand on one line, the cut is right before `next`.
pub(super) fn boundary(text: &str, end: usize, next: usize, column: usize) -> usize {
    let first = if end == line_start(text, end) {
        end
    } else {
        next_line(text, end)
    };
    let last = line_start(text, next);
    if first > last || (first == end && next == end) {
        return next;
    }
    let (mut cut, mut at) = (first, first);
    while at < last {
        let line = text.get(at..end_of_line(text, at)).unwrap_or_default();
        let indent = line.len() - line.trim_start_matches(' ').len();
        at = next_line(text, at);
        if line.trim_start().starts_with('#') && indent > column {
            cut = at;
        }
    }
    cut
}

/// The column of a byte, in bytes; before a key, a dash or a bracket stand only such.
pub(super) fn column_of(text: &str, at: usize) -> usize {
    at - line_start(text, at)
}

/// Where the texts of a block map's entries begin, the first at `from`, and where the last ends, at `to`.
pub(super) fn entries(text: &str, pairs: &[Pair], from: usize, to: usize) -> Vec<usize> {
    let mut cuts = vec![from];
    for (pair, next) in pairs.iter().zip(pairs.iter().skip(1)) {
        let key = first_byte_of(text, pair.value.end, next.key.start);
        cuts.push(boundary(text, pair.value.end, key, column_of(text, key)));
    }
    cuts.push(to);
    cuts
}

/// Where the texts of a block list's items begin, the list's key ending at `from`, and where the last ends, at `to`.
pub(super) fn items(text: &str, items: &[Item], from: usize, to: usize) -> Vec<usize> {
    let ends = std::iter::once(from).chain(items.iter().map(|item| item.value.end));
    ends.zip(items)
        .map(|(end, item)| boundary(text, end, item.dash, column_of(text, item.dash)))
        .chain(std::iter::once(to))
        .collect()
}

/// The first byte of a key: its `?` where it has one.
pub(super) fn first_byte_of(text: &str, after: usize, key: usize) -> usize {
    let found = past_blanks(text, after, false);
    if found < key && byte_at(text, found) == Some(b'?') {
        found
    } else {
        key
    }
}
