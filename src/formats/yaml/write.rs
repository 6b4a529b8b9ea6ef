//! The text of a song's file.

use super::comments::{all_comments, lead_and_key};
use super::content::{Owned, is_lyric_alone};
use super::keys::{Kind, keys_of};
use super::nodes::reads_as_line;
use super::rewrite::{alone, emptied, entry, fresh_entry, value_column};
use super::scalar::written;
use super::tree::next_line;
use crate::song::Song;
use crate::song::field::Owner;
use crate::song::slice::{Entry, Form, Said, Slice};

/// Writes a song: what was read and not changed byte for byte, the rest in its place.
///
/// Hold the text against the song with [`super::content::same_song`] before it replaces a file.
///
/// ```
/// use breathmark::formats::yaml::{read::read, write::write};
/// let text = "title: 'Ferry'   # at low water\n\ntempo: 96\nmine: [1, 2]\n";
/// assert_eq!(write(&read(text).unwrap().song), text);
/// ```
#[must_use]
pub fn write(song: &Song) -> String {
    let fresh = Slice::default();
    let slice = song.slice.as_deref().unwrap_or(&fresh);
    let owned = Owned::Song(song);
    let mut text = slice.opening.clone();
    match (slice.form, slice.entries.first()) {
        (Form::Flow, Some(whole)) => {
            let said = owned.as_written();
            if said == whole.said {
                text.push_str(&whole.text);
            } else {
                let (changed, mut comments) = alone(&whole.text, &whole.said, &said);
                comments.extend(comments_moved_in(owned));
                let head = usize::from(text.starts_with('\u{feff}')) * '\u{feff}'.len_utf8();
                let comments: String = comments
                    .iter()
                    .map(|comment| format!("{comment}\n"))
                    .collect();
                text.insert_str(head, &comments);
                text.push_str(&changed);
            }
        }
        _ => {
            let pieces = pieces(owned, slice, slice.column);
            let begun = text.trim_start_matches('\u{feff}');
            if !begun.is_empty() && !begun.ends_with(['\n', '\r']) && !pieces.is_empty() {
                text.push('\n');
            }
            let rows = joined(pieces.into_iter().map(|piece| piece.text));
            if !slice.tail.is_empty() && !rows.is_empty() && !rows.ends_with(['\n', '\r']) {
                text.push_str(&rows);
                if !slice.tail.starts_with(['\n', '\r']) {
                    text.push('\n');
                }
            } else {
                text.push_str(&rows);
            }
        }
    }
    text.push_str(&slice.tail);
    if slice.crlf {
        text = text.replace("\r\n", "\n").replace('\n', "\r\n");
    }
    text
}

/// An entry of a node as whole lines.
struct Piece {
    key: String,
    text: String,
}

/// The entries of a node, its keys in the given column.
fn pieces(owned: Owned<'_>, slice: &Slice, column: usize) -> Vec<Piece> {
    let content = owned.content();
    let mut pieces = Vec::new();
    for found in &slice.entries {
        let key = found.key.as_str();
        let text = if let Some(nodes) = owned.list(key) {
            list_entry(owned, found, &nodes, slice.column, column)
        } else {
            let said = content.iter().find(|(known, _)| *known == key);
            let text = match said {
                Some((_, said)) if *said != found.said => {
                    entry(&found.text, key, &found.said, said)
                }
                _ => found.text.clone(),
            };
            shifted(&text, slice.column, column)
        };
        if !text.is_empty() {
            let key = key.to_owned();
            pieces.push(Piece { key, text });
        }
    }
    let known = keys_of(owned.owner());
    let value_at = if owned.owner() == Owner::Line {
        row_column(&pieces, &content, column)
    } else {
        None
    };
    for (order, key) in known.iter().enumerate() {
        if slice.entries.iter().any(|entry| entry.key == *key) {
            continue;
        }
        let text = if let Some(nodes) = owned.list(key) {
            if nodes.is_empty() {
                continue;
            }
            let head = format!("{}{key}:\n", " ".repeat(column));
            head + &nodes_text(owned, key, &nodes, column + 2)
        } else {
            match content.iter().find(|(found, _)| found == key) {
                None | Some((_, Said::Nothing)) => continue,
                Some(("lyric", Said::Text(text))) if text.is_empty() => continue,
                Some((_, said)) => {
                    let is_row = matches!(*key, "chords" | "lyric" | "marks");
                    fresh_entry(key, said, column, value_at.filter(|_| is_row))
                }
            }
        };
        let earlier = known.get(..order).unwrap_or_default();
        let place = pieces
            .iter()
            .rposition(|piece| earlier.contains(&piece.key.as_str()))
            .map_or(0, |index| index + 1);
        let key = (*key).to_owned();
        pieces.insert(place, Piece { key, text });
    }
    pieces
}

/// The column in which a line's chords, lyric and marks begin, so that they stand over one another.
fn row_column(pieces: &[Piece], content: &[(&'static str, Said)], column: usize) -> Option<usize> {
    let is_row = |key: &str| matches!(key, "chords" | "lyric" | "marks");
    let there = pieces
        .iter()
        .filter(|piece| is_row(&piece.key))
        .find_map(|piece| value_column(&piece.text));
    let says = |key: &str| {
        content
            .iter()
            .any(|(found, said)| *found == key && *said != Said::Nothing)
    };
    there.or_else(|| {
        let width = if says("chords") {
            "chords: ".len()
        } else {
            "lyric: ".len()
        };
        Some(column + width)
    })
}

/// An entry that holds a list of nodes, with them.
fn list_entry(
    owned: Owned<'_>,
    found: &Entry,
    nodes: &[Owned<'_>],
    old_column: usize,
    column: usize,
) -> String {
    if let Said::Nodes(dash) = found.said {
        let mut text = shifted(&found.text, old_column, column);
        if !nodes.is_empty() {
            let dash = moved(dash, old_column, column);
            text.push_str(&nodes_text(owned, &found.key, nodes, dash));
        }
        return text;
    }
    let said = if nodes.is_empty() {
        Said::Nothing
    } else {
        Said::List(nodes.iter().map(|node| node.as_written()).collect())
    };
    if said == found.said {
        shifted(&found.text, old_column, column)
    } else if nodes.is_empty() || found.said != Said::Nothing {
        let text = entry(&found.text, &found.key, &found.said, &said);
        let (lead, rest) = lead_and_key(&text);
        let mut rows = lead.to_owned();
        for comment in nodes.iter().flat_map(|node| comments_of(*node)) {
            rows.push_str(&format!("{}{comment}\n", " ".repeat(old_column)));
        }
        shifted(&(rows + rest), old_column, column)
    } else {
        let mut text = shifted(&emptied(&found.text), old_column, column);
        if !text.ends_with('\n') {
            text.push('\n');
        }
        text + &nodes_text(owned, &found.key, nodes, column + 2)
    }
}

/// The comments of nodes that came into a map in braces from elsewhere, where they have no place.
fn comments_moved_in(owned: Owned<'_>) -> Vec<String> {
    ["sections", "lines", "set_aside"]
        .into_iter()
        .filter_map(|key| owned.list(key))
        .flatten()
        .flat_map(comments_of)
        .collect()
}

/// The comments of a node that was not written within brackets, and of those within it.
fn comments_of(owned: Owned<'_>) -> Vec<String> {
    let mut comments = Vec::new();
    if let Some(slice) = owned.slice()
        && !slice.opening.is_empty()
    {
        let apart = [&slice.lead, &slice.opening, &slice.tail];
        comments.extend(apart.into_iter().flat_map(|text| all_comments(text)));
        let entries = slice.entries.iter().filter(|_| slice.form == Form::Block);
        comments.extend(entries.flat_map(|entry| all_comments(&entry.text)));
    }
    comments.extend(comments_moved_in(owned));
    comments
}

fn nodes_text(owner: Owned<'_>, key: &str, nodes: &[Owned<'_>], dash: usize) -> String {
    // Among what the song has set aside, lines and sections have to be told apart.
    let mixed = matches!(owner, Owned::Song(_)) && key == "set_aside";
    let texts = nodes.iter().enumerate().map(|(index, node)| {
        let text = node_text(*node, dash, mixed);
        if index == 0 {
            text
        } else {
            // A comment that stands deeper than its dash would become words behind a block text.
            let (lead, rest) = lead_and_key(&text);
            at_most(lead, dash) + rest
        }
    });
    joined(texts)
}

/// A section or a line with its dash in the given column.
fn node_text(owned: Owned<'_>, dash: usize, mixed: bool) -> String {
    let Some(slice) = owned.slice() else {
        let fresh = Slice {
            opening: "- ".to_owned(),
            column: 2,
            ..Slice::default()
        };
        return block_text(owned, &fresh, dash, mixed);
    };
    match (slice.form, slice.entries.first()) {
        (Form::Flow, Some(whole)) => {
            let mut said = owned.as_written();
            if let (Said::Map(pairs), true) = (&mut said, mixed) {
                let keys: Vec<&str> = pairs.iter().map(|(key, _)| key.as_str()).collect();
                if let Some((key, value)) = telling(owned, &keys) {
                    pairs.push((key.to_owned(), value));
                }
            }
            let (text, mut comments) = if said == whole.said {
                (whole.text.clone(), Vec::new())
            } else {
                alone(&whole.text, &whole.said, &said)
            };
            comments.extend(comments_moved_in(owned));
            beside_dash(slice, dash, &text, &comments)
        }
        (Form::Text, Some(whole)) => {
            let Owned::Line(line) = owned else {
                // A dash with nothing behind it.
                return if !mixed && owned.in_braces() == Said::Map(Vec::new()) {
                    beside_dash(slice, dash, &whole.text, &[])
                } else {
                    block_text(owned, &as_map(slice, whole), dash, mixed)
                };
            };
            if is_lyric_alone(line) {
                let said = Said::Text(line.lyric.clone());
                let (text, comments) = if said == whole.said {
                    (whole.text.clone(), Vec::new())
                } else if whole.text.is_empty() {
                    (
                        format!(" {}", written(&line.lyric, Kind::Row, false)),
                        Vec::new(),
                    )
                } else {
                    alone(&whole.text, &whole.said, &said)
                };
                return beside_dash(slice, dash, &text, &comments);
            }
            block_text(owned, &as_map(slice, whole), dash, mixed)
        }
        _ => block_text(owned, slice, dash, mixed),
    }
}

/// The slice of a line that was its words alone, or of a node that was nothing, as that of a map.
fn as_map(slice: &Slice, whole: &Entry) -> Slice {
    let opening = format!("{}- ", " ".repeat(slice.dash));
    let column = slice.dash + 2;
    let is_row = !whole.text.contains(['\n', '\r']) && !whole.text.is_empty();
    let mut entries = Vec::new();
    let mut lead = slice.lead.clone();
    if is_row {
        let indent = " ".repeat(column);
        entries.push(Entry {
            key: "lyric".to_owned(),
            line: whole.line,
            text: format!("{indent}lyric: {}{}", whole.text, slice.tail),
            said: whole.said.clone(),
        });
    } else {
        // Over several rows the words are written anew, and a comment behind them goes above.
        for comment in all_comments(&slice.tail) {
            lead.push_str(&format!(
                "{}{comment}
",
                " ".repeat(slice.dash)
            ));
        }
    }
    Slice {
        form: Form::Block,
        lead,
        opening,
        dash: slice.dash,
        column,
        entries,
        tail: String::new(),
        crlf: false,
    }
}

/// A flow map or a text behind its dash.
fn beside_dash(slice: &Slice, dash: usize, text: &str, comments: &[String]) -> String {
    let indent = " ".repeat(dash);
    let mut rows = shifted(&slice.lead, slice.dash, dash);
    for comment in comments {
        rows.push_str(&format!("{indent}{comment}\n"));
    }
    if slice.opening.is_empty() {
        // It stood in a list in brackets.
        rows.push_str(&format!("{indent}- "));
        rows.push_str(&below_first(text, slice.column, dash + 2));
        rows.push('\n');
    } else {
        rows.push_str(&shifted(&slice.opening, slice.dash, dash));
        rows.push_str(&below_first(text, slice.dash, dash));
        rows.push_str(&below_first(&slice.tail, slice.dash, dash));
    }
    rows
}

fn block_text(owned: Owned<'_>, slice: &Slice, dash: usize, mixed: bool) -> String {
    let column = moved(slice.column, slice.dash, dash);
    let mut pieces = pieces(owned, slice, column);
    if mixed {
        let keys: Vec<&str> = pieces.iter().map(|piece| piece.key.as_str()).collect();
        if let Some((key, said)) = telling(owned, &keys) {
            let value = match said {
                Said::Text(_) => "\"\"",
                Said::Nothing | Said::List(_) | Said::Map(_) | Said::Nodes(_) => "[]",
            };
            pieces.push(Piece {
                key: key.to_owned(),
                text: format!("{}{key}: {value}\n", " ".repeat(column)),
            });
        }
    }
    let mut lead = shifted(&slice.lead, slice.dash, dash);
    let opening = shifted(&slice.opening, slice.dash, dash);
    if pieces.is_empty() {
        let empty = match owned {
            Owned::Line(_) => "lyric: \"\"",
            Owned::Song(_) | Owned::Section(_) => "{}",
        };
        return format!("{lead}{} {empty}\n{}", opening.trim_end(), slice.tail);
    }
    let rows = joined(pieces.into_iter().map(|piece| piece.text));
    if opening.ends_with(['\n', '\r']) {
        return lead + &opening + &rows;
    }
    let (comments, entries) = lead_and_key(&rows);
    lead.push_str(&at_most(comments, dash));
    lead + &opening + entries.trim_start_matches(' ')
}

/// What tells a node among what the song has set aside, where its keys would be read as those of the other kind.
fn telling(owned: Owned<'_>, keys: &[&str]) -> Option<(&'static str, Said)> {
    match (owned, reads_as_line(keys)) {
        (Owned::Section(_), true) => Some(("lines", Said::List(Vec::new()))),
        (Owned::Line(_), false) => Some(("lyric", Said::Text(String::new()))),
        _ => None,
    }
}

/// Texts of whole lines, one below the other.
fn joined(texts: impl IntoIterator<Item = String>) -> String {
    let mut rows = String::new();
    for text in texts {
        if !rows.is_empty() && !rows.ends_with(['\n', '\r']) && !text.is_empty() {
            rows.push('\n');
        }
        rows.push_str(&text);
    }
    rows
}

/// A column that goes with one that moved.
const fn moved(column: usize, from: usize, to: usize) -> usize {
    (column + to).saturating_sub(from)
}

/// The rows with their indentation changed as one column moved to another.
fn shifted(text: &str, from: usize, to: usize) -> String {
    if from == to {
        return text.to_owned();
    }
    let mut rows = String::new();
    let mut at = 0;
    while at < text.len() {
        let end = next_line(text, at);
        let row = text.get(at..end).unwrap_or_default();
        if row.trim().is_empty() {
            rows.push_str(row);
        } else {
            let words = row.trim_start_matches(' ');
            let indent = moved(row.len() - words.len(), from, to);
            rows.push_str(&" ".repeat(indent));
            rows.push_str(words);
        }
        at = end;
    }
    rows
}

/// As [`shifted`], for a text whose first row begins elsewhere.
fn below_first(text: &str, from: usize, to: usize) -> String {
    let first = next_line(text, 0);
    let (head, rest) = text.split_at_checked(first).unwrap_or((text, ""));
    head.to_owned() + &shifted(rest, from, to)
}

/// Comment rows indented no deeper than a column.
fn at_most(rows: &str, column: usize) -> String {
    let mut text = String::new();
    let mut at = 0;
    while at < rows.len() {
        let end = next_line(rows, at);
        let row = rows.get(at..end).unwrap_or_default();
        let words = row.trim_start_matches(' ');
        let indent = row.len() - words.len();
        if words.trim().is_empty() {
            text.push_str(row);
        } else {
            text.push_str(&" ".repeat(indent.min(column)));
            text.push_str(words);
        }
        at = end;
    }
    text
}
