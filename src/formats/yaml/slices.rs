//! Cutting the text of a file into slices: by where values start, with the comments above and behind them.

use super::content::{Owned, key_of, said_of};
use super::keys::keys_of;
use super::read::{Reader, Region};
use super::tree::{
    Item, Pair, Shape, Tree, byte_at, end_of_line, line_start, next_line, past_blanks,
};
use crate::song::slice::{Entry, Form, Said, Slice};

impl Reader<'_> {
    /// The slice of a node, without its entries.
    pub(super) fn slice_of(&self, region: Region<'_>) -> Slice {
        let mut slice = Slice::default();
        if region.flow {
            slice.form = match region.tree.shape {
                Shape::Map { .. } => Form::Flow,
                Shape::Scalar { .. } | Shape::List { .. } => Form::Text,
            };
            slice.column = self.breaks.column_of(region.tree.start);
            return slice;
        }
        let dash_line = line_start(self.text, region.dash);
        slice.dash = region.dash - dash_line;
        self.source(region.from, dash_line)
            .clone_into(&mut slice.lead);
        let first = match &region.tree.shape {
            Shape::Map { flow: false, pairs } => {
                let key = pairs
                    .first()
                    .map_or(region.tree.start, |pair| pair.key.start);
                let first = first_byte_of(self.text, region.dash + 1, key);
                slice.column = column_of(self.text, first);
                boundary(self.text, region.dash + 1, first, slice.column)
            }
            Shape::Map { flow: true, .. } => {
                slice.form = Form::Flow;
                slice.column = column_of(self.text, region.tree.start);
                region.tree.start
            }
            Shape::Scalar { .. } | Shape::List { .. } => {
                slice.form = Form::Text;
                slice.column = column_of(self.text, region.tree.start);
                region.tree.start
            }
        };
        self.source(dash_line, first).clone_into(&mut slice.opening);
        if slice.form != Form::Block {
            self.source(region.tree.end, region.to)
                .clone_into(&mut slice.tail);
        }
        slice
    }

    /// Where the entries of a block map are cut; `None` for one in braces.
    pub(super) fn cuts(&self, region: Region<'_>, pairs: &[Pair]) -> Option<Vec<usize>> {
        let Shape::Map { flow: false, .. } = region.tree.shape else {
            return None;
        };
        let key = pairs.first()?.key.start;
        let first = first_byte_of(self.text, region.dash + 1, key);
        let column = column_of(self.text, first);
        let from = boundary(self.text, region.dash + 1, first, column);
        Some(entries(self.text, pairs, from, region.to))
    }

    /// An entry of a block map; its text begins with its line's indentation also where it follows a dash.
    pub(super) fn entry(&mut self, pair: &Pair, from: usize, to: usize) -> Entry {
        let mut text = String::new();
        let column = column_of(self.text, from);
        text.extend(std::iter::repeat_n(' ', column));
        text.push_str(self.source(from, to));
        Entry {
            key: key_of(self.text, &pair.key),
            line: self.breaks.line_of(pair.key.start),
            text,
            said: Said::Nothing,
        }
    }

    pub(super) fn whole_entry(&mut self, tree: &Tree, said: Said) -> Entry {
        Entry {
            key: String::new(),
            line: self.breaks.line_of(tree.start),
            text: self.source(tree.start, tree.end).to_owned(),
            said,
        }
    }

    /// Notes in a node's slice what its entries say.
    pub(super) fn finish(&mut self, slice: &mut Slice, region: Region<'_>, owned: Owned<'_>) {
        match slice.form {
            Form::Block => say(slice, owned),
            Form::Flow => {
                let said = self.said_of_flow(region.tree, owned);
                slice.entries.push(self.whole_entry(region.tree, said));
            }
            Form::Text => {
                let said = owned.as_written();
                let said = match said {
                    Said::Map(_) => Said::Text(String::new()),
                    Said::Nothing | Said::Text(_) | Said::List(_) | Said::Nodes(_) => said,
                };
                slice.entries.push(self.whole_entry(region.tree, said));
            }
        }
    }

    /// What a map in braces says: its known keys as the song understood them, the others as they are.
    pub(super) fn said_of_flow(&self, tree: &Tree, owned: Owned<'_>) -> Said {
        let known = keys_of(owned.owner());
        let (Shape::Map { pairs, .. }, Said::Map(mut said)) = (&tree.shape, owned.in_braces())
        else {
            return Said::Nothing;
        };
        for pair in pairs {
            let key = key_of(self.text, &pair.key);
            if !known.contains(&key.as_str()) {
                said.push((key, said_of(self.text, &pair.value)));
            }
        }
        Said::Map(said)
    }
}

/// Notes in a block slice what its entries say.
pub(super) fn say(slice: &mut Slice, owned: Owned<'_>) {
    let content = owned.content();
    for entry in &mut slice.entries {
        if let Some(nodes) = owned.list(&entry.key) {
            let first = nodes.first().and_then(|node| node.slice());
            entry.said = match first {
                // A node of a block list has its dash in its slice.
                Some(first) if !first.opening.is_empty() => Said::Nodes(first.dash),
                Some(_) => Said::List(nodes.into_iter().map(Owned::as_written).collect()),
                None => Said::Nothing,
            };
        } else if let Some((_, said)) = content.iter().find(|(key, _)| *key == entry.key) {
            entry.said = said.clone();
        }
    }
}

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
