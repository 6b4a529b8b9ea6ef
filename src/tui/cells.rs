//! Graphemes in screen cells: how wide a text is, where a column stands, and how it is written into a buffer.

use crate::song::column::Column;
use crate::wording::safe::for_terminal;
use ratatui::buffer::Buffer;
use ratatui::style::Style;
use std::borrow::Cow;
use unicode_segmentation::UnicodeSegmentation as _;
use unicode_width::UnicodeWidthStr as _;

/// What the screen shows for a grapheme, and how many cells it takes: 1 or 2, so that a cursor can stand before each.
///
/// What takes no cell of its own (a mark without a letter, a zero-width space) gets one, and nothing that a terminal would obey passes.
#[must_use]
pub fn shown(grapheme: &str) -> (Cow<'_, str>, u16) {
    if let [byte @ b' '..=b'~'] = grapheme.as_bytes() {
        debug_assert!(byte.is_ascii());
        return (Cow::Borrowed(grapheme), 1);
    }
    let safe = for_terminal(grapheme);
    let safe = if safe == grapheme {
        Cow::Borrowed(grapheme)
    } else {
        Cow::Owned(safe)
    };
    match safe.width() {
        0 if safe.is_empty() => (Cow::Borrowed("·"), 1),
        0 => (Cow::Owned(format!("\u{25cc}{safe}")), 1),
        1 => (safe, 1),
        _ => (safe, 2),
    }
}

/// How many cells the text takes.
#[must_use]
pub fn width(text: &str) -> u16 {
    if text.bytes().all(|byte| (b' '..=b'~').contains(&byte)) {
        return u16::try_from(text.len()).unwrap_or(u16::MAX);
    }
    text.graphemes(true).fold(0, |sum: u16, grapheme| {
        sum.saturating_add(shown(grapheme).1)
    })
}

/// The cell at which a column of the text begins; past the end, each column counts one cell.
#[must_use]
pub fn cell_of(text: &str, column: Column) -> u16 {
    let (mut cell, mut left) = (0_u16, column.0);
    for grapheme in text.graphemes(true) {
        if left == 0 {
            return cell;
        }
        left -= 1;
        cell = cell.saturating_add(shown(grapheme).1);
    }
    cell.saturating_add(u16::try_from(left).unwrap_or(u16::MAX))
}

/// The column of the grapheme that stands at the cell; the text's end for cells past it.
#[must_use]
pub fn column_at(text: &str, cell: u16) -> Column {
    let (mut end, mut column) = (0_u16, 0);
    for grapheme in text.graphemes(true) {
        end = end.saturating_add(shown(grapheme).1);
        if cell < end {
            break;
        }
        column += 1;
    }
    Column(column)
}

/// Writes the text from a cell on and gives the cell behind it; what would pass `limit` is left out.
pub fn put(buf: &mut Buffer, x: u16, y: u16, limit: u16, text: &str, style: Style) -> u16 {
    let limit = limit.min(buf.area.right());
    if y < buf.area.top() || y >= buf.area.bottom() {
        return x;
    }
    let mut at = x;
    for grapheme in text.graphemes(true) {
        let (symbol, cells) = shown(grapheme);
        if at.saturating_add(cells) > limit {
            break;
        }
        set(buf, at, y, &symbol, cells, style);
        at += cells;
    }
    at
}

/// Writes the text so that it ends before `right`; what would begin before `left` is cut off at its end. Gives its first cell.
pub fn put_right(buf: &mut Buffer, left: u16, right: u16, y: u16, text: &str, style: Style) -> u16 {
    let x = right.saturating_sub(width(text)).max(left);
    put(buf, x, y, right, text, style);
    x
}

/// Writes a text cut to the room with a sign at its end where it is cut; gives the cell behind it.
pub fn put_cut(
    buf: &mut Buffer,
    x: u16,
    y: u16,
    limit: u16,
    text: &str,
    more: &str,
    style: Style,
) -> u16 {
    if x.saturating_add(width(text)) <= limit {
        return put(buf, x, y, limit, text, style);
    }
    let at = put(buf, x, y, limit.saturating_sub(width(more)), text, style);
    put(buf, at, y, limit, more, style)
}

/// One sign of one or two cells, shown as given.
pub fn set(buf: &mut Buffer, x: u16, y: u16, symbol: &str, cells: u16, style: Style) {
    if let Some(cell) = buf.cell_mut((x, y)) {
        cell.set_symbol(symbol).set_style(style);
    }
    for behind in 1..cells {
        if let Some(cell) = buf.cell_mut((x + behind, y)) {
            cell.set_symbol(" ").set_style(style);
        }
    }
}

/// Lays a text out in rows of at most `room` cells, parted at blanks; a word longer than a row is cut.
#[must_use]
pub fn wrapped(text: &str, room: u16) -> Vec<String> {
    let room = room.max(1);
    let mut rows = vec![String::new()];
    let mut at = 0;
    for word in text.split_whitespace() {
        let needed = width(word);
        if at > 0 && at + 1 + needed > room {
            rows.push(String::new());
            at = 0;
        }
        let Some(mut row) = rows.last_mut() else {
            break;
        };
        if at > 0 {
            row.push(' ');
            at += 1;
        }
        if needed <= room {
            row.push_str(word);
            at += needed;
            continue;
        }
        for grapheme in word.graphemes(true) {
            let cells = shown(grapheme).1;
            if at + cells > room {
                rows.push(String::new());
                at = 0;
                match rows.last_mut() {
                    Some(next) => row = next,
                    None => break,
                }
            }
            row.push_str(grapheme);
            at += cells;
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use ratatui::layout::Rect;

    #[test]
    fn every_grapheme_has_a_cell() {
        let check = |text: &str, cells: u16| assert_eq!(width(text), cells, "{text:?}");
        check("", 0);
        check("bell", 4);
        check("e\u{301}", 1);
        check("鐘", 2);
        check("👩‍👩‍👧", 2);
        check("\u{301}", 1);
        check("a\u{200b}b", 3);
        check("\u{1b}[31m", 5);
        check("\t", 1);
    }

    #[test]
    fn nothing_passes_that_a_terminal_obeys() {
        let mut buf = Buffer::empty(Rect::new(0, 0, 12, 1));
        put(&mut buf, 0, 0, 12, "a\u{1b}[2J\u{9b}b", Style::new());
        let text: String = buf
            .content()
            .iter()
            .map(ratatui::buffer::Cell::symbol)
            .collect();
        assert_eq!(text.trim_end(), "a\u{fffd}[2J\u{fffd}b");
    }

    #[test]
    fn wide_signs_are_not_cut_in_half() {
        let mut buf = Buffer::empty(Rect::new(0, 0, 4, 1));
        assert_eq!(put(&mut buf, 0, 0, 3, "a鐘鐘", Style::new()), 3);
        assert_eq!(
            put_cut(&mut buf, 0, 0, 4, "long words", "~", Style::new()),
            4
        );
    }

    #[test]
    fn words_wrap_and_long_ones_are_cut() {
        assert_eq!(
            wrapped("one more bar of rest", 8),
            ["one more", "bar of", "rest"]
        );
        assert_eq!(wrapped("abcdefgh i", 3), ["abc", "def", "gh", "i"]);
        assert_eq!(wrapped("", 5), [""]);
    }

    proptest! {
        #[test]
        fn cells_and_columns_agree(text in any::<String>()) {
            let end = Column::end_of(&text);
            for column in 0..=end.0 {
                prop_assert_eq!(column_at(&text, cell_of(&text, Column(column))), Column(column));
            }
            prop_assert_eq!(cell_of(&text, end), width(&text));
        }

        #[test]
        fn wrapped_rows_keep_the_room(text in "[a-z é鐘]{0,60}", room in 2_u16..20) {
            for row in wrapped(&text, room) {
                prop_assert!(width(&row) <= room);
            }
        }
    }
}
