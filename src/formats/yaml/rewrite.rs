//! Changing a value where it stands: what did not change in it, and every comment, stays.

mod change;
mod nested;

use self::change::Change;
use self::nested::keeps_order;
use super::comments::{comments_in, has_comments, lead_and_key, only_pair};
use super::content::key_of;
use super::fresh::{Fresh, in_brackets, text_of, value};
use super::keys::{Kind, kind_of};
use super::scalar::{in_style, is_plain};
use super::slices::column_of;
use super::tree::{Shape, Style, Tree, end_of_line, line_start, next_line, parse};
use crate::song::slice::Said;

/// The text of an entry of a block map whose value changed from `old` to `new`.
///
/// An entry that has nothing to say any more goes, unless comments stand at it.
pub(super) fn entry(text: &str, key: &str, old: &Said, new: &Said) -> String {
    let Some(pair) = only_pair(text) else {
        return fresh_entry(key, new, indent_of(text), None);
    };
    let mut change = Change::new(text);
    if *new == Said::Nothing && !has_unknown(text, &pair.value, old) {
        if !has_comments(text, &pair) {
            let line = line_start(text, pair.key.start);
            return text.get(..line).unwrap_or_default().to_owned();
        }
        change.clear(&pair);
    } else {
        let place = Place {
            key,
            kind: None,
            flow: false,
            column: column_of(text, pair.key.start),
            after: pair.colon,
            gap: " ",
        };
        change.value(&pair.value, place, old, new);
    }
    change.finish_entry(&pair)
}

/// The text of an entry without its value, for a list of nodes to follow.
pub(super) fn emptied(text: &str) -> String {
    let Some(pair) = only_pair(text) else {
        return text.to_owned();
    };
    let mut change = Change::new(text);
    if let Shape::Scalar { text: words, style } = &pair.value.shape
        && *style != Style::Empty
    {
        change.keep_as_comment(&pair.key, words);
    }
    change.clear(&pair);
    change.finish_entry(&pair)
}

/// A flow map or a text that stands without a key, changed from `old` to `new`; and the comments that found no place in it.
pub(super) fn alone(text: &str, old: &Said, new: &Said) -> (String, Vec<String>) {
    let Some(tree) = parse(text).ok().and_then(|document| document.root) else {
        return (in_brackets(new, None, true), Vec::new());
    };
    let mut change = Change::new(text);
    let place = Place {
        key: "",
        kind: None,
        flow: !matches!(tree.shape, Shape::Scalar { .. }),
        column: 0,
        after: tree.start,
        gap: "",
    };
    change.value(&tree, place, old, new);
    let comments = std::mem::take(&mut change.comments);
    (change.finish(), comments)
}

/// An entry for the first time, as whole lines; its value in the column `value_at` where that leaves a blank before it.
pub(super) fn fresh_entry(
    key: &str,
    said: &Said,
    column: usize,
    value_at: Option<usize>,
) -> String {
    let head = format!("{}{key}:", " ".repeat(column));
    match value(key, said, column, false) {
        Fresh::Behind(text) if text.is_empty() => format!("{head}\n"),
        Fresh::Behind(text) => {
            let gap = value_at.map_or(1, |at| at.saturating_sub(head.len()).max(1));
            format!("{head}{}{text}\n", " ".repeat(gap))
        }
        Fresh::Below(rows) => format!("{head}\n{rows}\n"),
    }
}

/// The column in which the value of an entry begins, where that is on the key's line.
pub(super) fn value_column(text: &str) -> Option<usize> {
    let pair = only_pair(text)?;
    let is_beside = line_start(text, pair.value.start) == line_start(text, pair.key.start);
    (is_beside && !pair.value.is_empty()).then(|| column_of(text, pair.value.start))
}

fn indent_of(text: &str) -> usize {
    let (_, entry) = lead_and_key(text);
    entry.len() - entry.trim_start_matches(' ').len()
}

/// Whether a map holds keys that say nothing to the song.
fn has_unknown(text: &str, tree: &Tree, old: &Said) -> bool {
    match (&tree.shape, old) {
        (Shape::Map { pairs, .. }, Said::Map(old)) => pairs
            .iter()
            .any(|pair| !holds(old, &key_of(text, &pair.key))),
        _ => false,
    }
}

fn holds(pairs: Pairs<'_>, key: &str) -> bool {
    pairs.iter().any(|(found, _)| found == key)
}

/// The keys of a map with what they say.
type Pairs<'said> = &'said [(String, Said)];

/// Where a value stands.
#[derive(Clone, Copy)]
struct Place<'key> {
    key: &'key str,
    /// How texts in it are written; `None` where their keys tell.
    kind: Option<Kind>,
    flow: bool,
    /// The column of the key or dash.
    column: usize,
    /// The byte behind the colon or the dash.
    after: usize,
    /// What parts the value from that.
    gap: &'static str,
}

impl Change<'_> {
    fn value(&mut self, tree: &Tree, place: Place<'_>, old: &Said, new: &Said) {
        if old == new {
            return;
        }
        match (&tree.shape, old, new) {
            (Shape::Scalar { style, .. }, _, Said::Text(text)) => {
                self.scalar(tree, *style, place, text);
            }
            (Shape::Map { flow, pairs }, Said::Map(old), Said::Map(new))
                if keeps_order(place.key, old, new) =>
            {
                self.map(tree, *flow, pairs, place, (old, new));
            }
            (Shape::Map { flow, pairs }, Said::Map(old), Said::Nothing) => {
                self.map(tree, *flow, pairs, place, (old, &[]));
            }
            (Shape::List { flow, items }, Said::List(old), Said::List(new))
                if old.len() == items.len() =>
            {
                self.list(tree, *flow, items, place, (old, new));
            }
            _ => self.whole(tree, place, old, new),
        }
    }

    fn scalar(&mut self, tree: &Tree, style: Style, place: Place<'_>, text: &str) {
        let kind = place.kind.unwrap_or_else(|| kind_of(place.key));
        match style {
            Style::Empty => {
                let text = match place.kind {
                    Some(kind) => in_style(text, style, kind, place.flow),
                    None => text_of(place.key, text, place.flow),
                };
                self.replace(place.after, place.after, format!(" {text}"));
            }
            Style::Plain | Style::Single | Style::Double => {
                let text = in_style(text, style, kind, place.flow);
                self.replace(tree.start, tree.end, text);
            }
            Style::Literal | Style::Folded => {
                let text = self
                    .literal(tree, style, text)
                    .unwrap_or_else(|| self.out_of_block(tree, style, kind, text));
                self.replace(tree.start, tree.end, text);
            }
        }
    }

    /// The text as a literal block again, with the header and the indentation there were.
    fn literal(&self, tree: &Tree, style: Style, text: &str) -> Option<String> {
        let header_end = end_of_line(self.text, tree.start);
        let header = self.text.get(tree.start..header_end)?;
        let sign = header.split([' ', '#']).next()?;
        let first = next_line(self.text, tree.start);
        let source = self.text.get(first..tree.end)?;
        let row = source
            .split(['\n', '\r'])
            .find(|row| !row.trim().is_empty())?;
        let indent = row.len() - row.trim_start_matches(' ').len();
        let fits = style == Style::Literal
            && matches!(sign, "|" | "|-")
            && !text.starts_with(char::is_whitespace)
            && !text.ends_with('\n')
            && !text.is_empty()
            && text.chars().all(|sign| sign == '\n' || is_plain(sign));
        if !fits {
            return None;
        }
        let mut rows = header.to_owned();
        for row in text.split('\n') {
            rows.push('\n');
            if !row.is_empty() {
                rows.push_str(&" ".repeat(indent));
                rows.push_str(row);
            }
        }
        Some(rows)
    }

    /// The text in quotes in place of a block, with the comment of the block's header behind it.
    fn out_of_block(&self, tree: &Tree, style: Style, kind: Kind, text: &str) -> String {
        let header_end = end_of_line(self.text, tree.start);
        let header = self.text.get(tree.start..header_end).unwrap_or_default();
        let comment = header.split_once('#').map(|(_, comment)| comment);
        let text = in_style(text, style, kind, false);
        match comment {
            Some(comment) => format!("{text}  #{comment}"),
            None => text,
        }
    }

    fn whole(&mut self, tree: &Tree, place: Place<'_>, old: &Said, new: &Said) {
        let mut comments = comments_in(self.text, place.after, tree);
        self.comments.append(&mut comments);
        if let (Shape::Scalar { text, style }, Said::Nothing) = (&tree.shape, old)
            && *style != Style::Empty
        {
            for row in text.lines() {
                self.comments.push(format!("# {}: {row}", place.key));
            }
        }
        let fresh = match place.kind {
            Some(kind) => Fresh::Behind(in_brackets(new, Some(kind), place.flow)),
            None if place.key.is_empty() => Fresh::Behind(in_brackets(new, None, place.flow)),
            None => value(place.key, new, place.column, place.flow),
        };
        let text = match fresh {
            Fresh::Behind(text) if text.is_empty() => text,
            Fresh::Behind(text) => format!("{}{text}", place.gap),
            Fresh::Below(rows) => format!("\n{rows}"),
        };
        self.replace(place.after, tree.end.max(place.after), text);
    }
}
