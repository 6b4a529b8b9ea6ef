//! Pasted text: lines of lyric, with chord rows over them.

use super::chord_row::{ChordRow, ChordToken};
use super::column::{Column, part_of};
use super::edit::{Edit, EditError, Step, Value};
use super::line_edits::{behind, empty_line, insert, line_of, moved_back, position_of, set};
use super::place::{Place, Row};
use super::{NodeId, Song};

/// A line of pasted text: its words, and the chord row that stood over them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pasted {
    /// The words.
    pub lyric: String,
    /// The chords over them.
    pub chords: Option<ChordRow>,
}

/// How wide a tab is in pasted text, the common practice of terminals.
const TAB: usize = 8;

/// Reads pasted text: each row of words a line, a chord row (as `is_chord_row` tells them) the chords of the row below it. Empty rows part nothing and go.
///
/// ```
/// use breathmark::song::paste::lines_of;
/// let lines = lines_of("    Em\nShe rang\n\nand none came", |row| row.trim() == "Em");
/// assert_eq!(lines.len(), 2);
/// assert_eq!(lines[0].chords.as_ref().unwrap().to_text().unwrap(), "    Em");
/// ```
#[must_use]
pub fn lines_of(text: &str, is_chord_row: impl Fn(&str) -> bool) -> Vec<Pasted> {
    let mut lines = Vec::new();
    let mut above: Option<ChordRow> = None;
    for row in rows_of(text) {
        if is_chord_row(&row) {
            // Chords over chords: the upper row has no words of its own.
            let earlier = above.replace(ChordRow::parse(&row));
            lines.extend(earlier.map(wordless));
        } else if row.trim().is_empty() {
            lines.extend(above.take().map(wordless));
        } else {
            lines.push(Pasted {
                lyric: row.trim_end().to_owned(),
                chords: above.take(),
            });
        }
    }
    lines.extend(above.map(wordless));
    lines
}

const fn wordless(chords: ChordRow) -> Pasted {
    Pasted {
        lyric: String::new(),
        chords: Some(chords),
    }
}

/// The text's rows with tabs as blanks and without control characters.
pub(super) fn rows_of(text: &str) -> Vec<String> {
    let rows = text.split('\n').flat_map(|row| {
        let row = row.strip_suffix('\r').unwrap_or(row);
        row.split(['\r', '\u{2028}', '\u{2029}', '\u{85}'])
    });
    rows.map(|row| {
        let mut plain = String::new();
        for part in row.split_inclusive('\t') {
            let words = part.strip_suffix('\t').unwrap_or(part);
            plain.extend(words.chars().filter(|sign| !sign.is_control()));
            if words.len() < part.len() {
                let width = Column::end_of(&plain).0;
                plain.extend(std::iter::repeat_n(' ', TAB - width % TAB));
            }
        }
        plain
    })
    .collect()
}

/// Pastes text into a lyric: a single row goes in at the cursor; of several the first continues the words before the cursor, the
/// words behind it go on after the last, and the rows between become lines of their own, all with their chords.
///
/// # Errors
/// The line is not in the song, or the cursor not in its lyric.
pub fn into_lyric(
    song: &Song,
    line: NodeId,
    column: Column,
    text: &str,
    is_chord_row: impl Fn(&str) -> bool,
) -> Result<Step, EditError> {
    let position = position_of(song, line)?;
    let line = line_of(song, line)?;
    let end = Column::end_of(&line.lyric);
    if column > end {
        return Err(EditError::PastTheRow(line.id));
    }

    if !text.contains(['\n', '\r']) || lines_of(text, &is_chord_row).is_empty() {
        return Ok(in_one_row(line.id, column, text, &line.lyric));
    }
    let mut pasted = lines_of(text, is_chord_row);
    // Several rows behind the words of a line are lines of their own.
    if column == end && column > Column(0) && pasted.len() > 1 {
        pasted.insert(0, Pasted::default());
    }
    let tail = part_of(&line.lyric, column, end);
    if let Some(last) = pasted.last_mut() {
        // What ended with a line break pushes the words behind the cursor to a line of their own.
        if text.ends_with(['\n', '\r']) && !tail.trim().is_empty() {
            pasted.push(Pasted::default());
        } else if text.ends_with([' ', '\t']) && !tail.is_empty() {
            last.lyric.push(' ');
        }
    }
    let head = part_of(&line.lyric, Column(0), column);
    let (before, behind_cursor): (Vec<_>, Vec<_>) = line
        .chords
        .iter()
        .flat_map(|row| row.0.clone())
        .partition(|token| token.column < column);
    let (marks_before, marks_behind): (Vec<_>, Vec<_>) =
        line.marks.iter().partition(|mark| **mark < column);
    let count = pasted.len();
    let mut steps = Vec::new();
    let mut to = position;
    let mut cursor = None;
    for (index, piece) in pasted.into_iter().enumerate() {
        let (first, last) = (index == 0, index + 1 == count);
        let mut lyric = if first {
            head.to_owned()
        } else {
            String::new()
        };
        let begin = Column::end_of(&lyric);
        lyric.push_str(&piece.lyric);
        let seam = Column::end_of(&lyric);
        if last {
            let rest = if lyric.is_empty() {
                tail.trim_start()
            } else {
                tail
            };
            lyric.push_str(rest);
        }
        let mut tokens: Vec<ChordToken> = if first { before.clone() } else { Vec::new() };
        for token in piece.chords.iter().flat_map(|row| &row.0) {
            let column = Column(token.column.0 + begin.0);
            let text = token.text.clone();
            tokens.push(ChordToken { column, text });
        }
        let mut marks: Vec<Column> = if first {
            marks_before.clone()
        } else {
            Vec::new()
        };
        if last {
            let begin = Column(
                column.0
                    + if seam == Column(0) {
                        blanks_at(tail)
                    } else {
                        0
                    },
            );
            let latest = tokens.last().map_or(0, |token| token.column.0);
            tokens.extend(behind_cursor.iter().map(|token| {
                let mut token = moved_back(token, begin);
                token.column = Column((token.column.0 + seam.0).max(latest));
                token
            }));
            marks.extend(
                marks_behind
                    .iter()
                    .map(|mark| Column(mark.0.saturating_sub(begin.0) + seam.0)),
            );
            marks.dedup();
        }
        let chords =
            (!tokens.is_empty() || first && line.chords.is_some()).then_some(ChordRow(tokens));
        let id = if first {
            line.id
        } else {
            NodeId(song.fresh_id().0 + u32::try_from(index).unwrap_or(u32::MAX) - 1)
        };
        if first {
            steps.push(set(id, Value::Lyric(lyric)));
            steps.push(set(id, Value::Chords(chords)));
            steps.push(set(id, Value::Marks(marks)));
        } else {
            let mut new = empty_line(id);
            (new.lyric, new.chords, new.marks) = (lyric, chords, marks);
            to = behind(to);
            steps.push(insert(to, new));
        }
        cursor = Some(Place {
            node: id,
            row: Row::Lyric,
            column: seam,
        });
    }
    let cursor = cursor.ok_or(EditError::NoSuchRow(line.id))?;
    Ok(Step {
        edit: Edit::Group(steps),
        cursor,
    })
}

/// How many columns of blanks the tail begins with.
fn blanks_at(tail: &str) -> usize {
    Column::end_of(tail).0 - Column::end_of(tail.trim_start()).0
}

fn in_one_row(node: NodeId, at: Column, text: &str, lyric: &str) -> Step {
    let insert: String = rows_of(text).concat();
    let byte = at.byte_in(lyric);
    let spliced = [
        lyric.get(..byte).unwrap_or_default(),
        &insert,
        lyric.get(byte..).unwrap_or_default(),
    ]
    .concat();
    let column = Column::of_byte(&spliced, byte + insert.len());
    Step {
        edit: Edit::Splice {
            node,
            row: Row::Lyric,
            at,
            remove: 0,
            insert,
        },
        cursor: Place {
            node,
            row: Row::Lyric,
            column,
        },
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn is_chord_row(row: &str) -> bool {
        !row.trim().is_empty()
            && row
                .split_whitespace()
                .all(|token| ["Em", "C", "G", "Am"].contains(&token))
    }

    fn paste(lyric: (&str, &str), column: usize, text: &str) -> Vec<(String, String)> {
        let mut song = Song::new("Ferry");
        let line = &mut song.sections[0].lines[0];
        lyric.1.clone_into(&mut line.lyric);
        line.chords = (!lyric.0.is_empty()).then(|| ChordRow::parse(lyric.0));
        let line = line.id;
        let before = song.clone();
        let step = into_lyric(&song, line, Column(column), text, is_chord_row).unwrap();
        let back = song.apply(&step.edit).unwrap();
        assert!(song.has_place(step.cursor));
        let rows = song.sections[0]
            .lines
            .iter()
            .map(|line| {
                let chords = line.chords.as_ref().map(|row| row.to_text().unwrap());
                (chords.unwrap_or_default(), line.lyric.clone())
            })
            .collect();
        song.apply(&back).unwrap();
        assert_eq!(song, before);
        rows
    }

    fn rows(rows: &[(&str, &str)]) -> Vec<(String, String)> {
        rows.iter()
            .map(|(chords, lyric)| ((*chords).to_owned(), (*lyric).to_owned()))
            .collect()
    }

    #[test]
    fn one_row_goes_in_at_the_cursor() {
        assert_eq!(
            paste(("    Em", "She rang"), 4, "once \u{1b}"),
            rows(&[("         Em", "She once rang")])
        );
    }

    #[test]
    fn chord_rows_come_to_their_lines() {
        let text = "    Em\r\nShe rang the bell\r\n\r\nC   \tG\r\nand no one came\r\nAm";
        assert_eq!(
            paste(("", ""), 0, text),
            rows(&[
                ("    Em", "She rang the bell"),
                ("C       G", "and no one came"),
                ("Am", "")
            ])
        );
    }

    #[test]
    fn words_behind_the_cursor_go_on_after_the_last_row() {
        assert_eq!(
            paste(("Em  C", "one four"), 4, "two\nthree "),
            rows(&[("Em", "one two"), ("      C", "three four")])
        );
        assert_eq!(
            paste(("Em  C", "one four"), 4, "two\nthree\n"),
            rows(&[("Em", "one two"), ("", "three"), ("C", "four")])
        );
    }
}
