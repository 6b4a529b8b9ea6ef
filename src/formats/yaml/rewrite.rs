//! Changing a value where it stands: what did not change in it, and every comment, stays.

use super::comments::{comments_between, comments_in, has_comments, lead_and_key, only_pair};
use super::content::key_of;
use super::fresh::{Fresh, in_brackets, kind_within, pair as fresh_pair, text_of, tune, value};
use super::keys::{Kind, kind_of};
use super::scalar::{in_style, is_plain};
use super::slices::column_of;
use super::tree::{
    Item, Pair, Shape, Style, Tree, byte_at, end_of_line, line_start, next_line, parse,
};
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

struct Change<'text> {
    text: &'text str,
    /// From, to, and what stands there now; none overlap.
    edits: Vec<(usize, usize, String)>,
    comments: Vec<String>,
}

impl<'text> Change<'text> {
    const fn new(text: &'text str) -> Self {
        Self {
            text,
            edits: Vec::new(),
            comments: Vec::new(),
        }
    }

    fn replace(&mut self, from: usize, to: usize, with: impl Into<String>) {
        self.edits.push((from, to, with.into()));
    }

    fn finish(mut self) -> String {
        self.edits.sort_by_key(|(from, to, _)| (*from, *to));
        let mut text = String::new();
        let mut at = 0;
        for (from, to, with) in &self.edits {
            text.push_str(self.text.get(at..*from).unwrap_or_default());
            text.push_str(with);
            at = *to;
        }
        text.push_str(self.text.get(at..).unwrap_or_default());
        text
    }

    /// The text with the comments that found no place above the key.
    fn finish_entry(mut self, pair: &Pair) -> String {
        let line = line_start(self.text, pair.key.start);
        let indent = " ".repeat(pair.key.start - line);
        let comments: Vec<String> = std::mem::take(&mut self.comments);
        for comment in comments {
            self.replace(line, line, format!("{indent}{comment}\n"));
        }
        self.finish()
    }

    fn keep_as_comment(&mut self, key: &Tree, words: &str) {
        let key = self.text.get(key.start..key.end).unwrap_or_default();
        for (index, row) in words.lines().enumerate() {
            let comment = if index == 0 {
                format!("# {key}: {row}")
            } else {
                format!("#   {row}")
            };
            self.comments.push(comment);
        }
    }

    fn clear(&mut self, pair: &Pair) {
        let mut comments = comments_in(self.text, pair.colon, &pair.value);
        self.comments.append(&mut comments);
        self.replace(pair.colon, pair.value.end.max(pair.colon), "");
    }

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

    fn map(
        &mut self,
        tree: &Tree,
        flow: bool,
        pairs: &[Pair],
        place: Place<'_>,
        (old, new): (Pairs<'_>, Pairs<'_>),
    ) {
        let keys: Vec<String> = pairs
            .iter()
            .map(|pair| key_of(self.text, &pair.key))
            .collect();
        let is_kept = |key: &String| holds(new, key) || !holds(old, key);
        let kept: Vec<bool> = keys.iter().map(is_kept).collect();
        let said = |key: &str, pairs: Pairs<'_>| {
            let found = pairs.iter().find(|(found, _)| found == key);
            found.map_or(Said::Nothing, |(_, said)| said.clone())
        };
        let added: Vec<&(String, Said)> =
            new.iter().filter(|(key, _)| !keys.contains(key)).collect();
        let in_braces = byte_at(self.text, tree.start) == Some(b'{');
        let own_lines = pairs.iter().all(|pair| self.begins_line(pair.key.start));
        if !kept.contains(&true) || flow && !in_braces || !flow && !own_lines {
            let new = Said::Map(new.to_vec());
            let old = Said::Map(old.to_vec());
            self.whole(tree, place, &old, &new);
            return;
        }
        let kind = place.kind.or_else(|| kind_within(place.key));
        for ((pair, key), is_kept) in pairs.iter().zip(&keys).zip(&kept) {
            if *is_kept && holds(new, key) {
                let inner = Place {
                    key,
                    kind,
                    flow,
                    column: column_of(self.text, pair.key.start),
                    after: pair.colon,
                    gap: " ",
                };
                self.value(&pair.value, inner, &said(key, old), &said(key, new));
            }
        }
        let spans: Vec<(usize, usize)> = pairs
            .iter()
            .map(|pair| (pair.key.start, pair.value.end.max(pair.colon)))
            .collect();
        self.take_out(flow, &spans, &kept);
        let last = spans.iter().zip(&kept).rfind(|(_, is_kept)| **is_kept);
        let Some(((key_start, end), _)) = last else {
            return;
        };
        for (key, said) in added {
            if flow {
                let pair = fresh_pair(key, said, kind);
                self.replace(*end, *end, format!(", {pair}"));
            } else {
                let column = column_of(self.text, *key_start);
                let text = match said {
                    Said::List(_) if place.key == "tunes" => tune(key, said, column),
                    Said::Nothing
                    | Said::Text(_)
                    | Said::List(_)
                    | Said::Map(_)
                    | Said::Nodes(_) => fresh_pair(key, said, kind),
                };
                let at = end_of_line(self.text, *end);
                self.replace(at, at, format!("\n{}{text}", " ".repeat(column)));
            }
        }
    }

    fn list(
        &mut self,
        tree: &Tree,
        flow: bool,
        items: &[Item],
        place: Place<'_>,
        (old, new): (&[Said], &[Said]),
    ) {
        let same = |pairs: &mut dyn Iterator<Item = (&Said, &Said)>| {
            pairs.take_while(|(old, new)| old == new).count()
        };
        let shorter = old.len().min(new.len());
        let head = same(&mut old.iter().zip(new));
        let tail = same(&mut old.iter().rev().zip(new.iter().rev())).min(shorter - head);
        // What stands between: as many as both have are changed one for one, the others go or come.
        let changed = shorter - head - tail;
        let gone = old.len() - head - tail - changed;
        let kept: Vec<bool> = (0..items.len())
            .map(|index| index < head + changed || index >= head + changed + gone)
            .collect();
        let own_lines = items.iter().all(|item| self.begins_line(item.dash));
        let in_brackets_now = byte_at(self.text, tree.start) == Some(b'[');
        if !kept.contains(&true) || flow && !in_brackets_now || !flow && !own_lines {
            let (old, new) = (Said::List(old.to_vec()), Said::List(new.to_vec()));
            self.whole(tree, place, &old, &new);
            return;
        }
        let kind = place.kind.or_else(|| kind_within(place.key));
        for index in head..head + changed {
            if let (Some(item), Some(old), Some(new)) =
                (items.get(index), old.get(index), new.get(index))
            {
                let inner = Place {
                    key: "",
                    kind,
                    flow,
                    column: column_of(self.text, item.dash),
                    after: if flow {
                        item.value.start
                    } else {
                        item.dash + 1
                    },
                    gap: if flow { "" } else { " " },
                };
                self.value(&item.value, inner, old, new);
            }
        }
        let spans: Vec<(usize, usize)> = items
            .iter()
            .map(|item| (item.dash, item.value.end.max(item.dash)))
            .collect();
        self.take_out(flow, &spans, &kept);
        let come = new.iter().skip(head + changed).take(new.len() - shorter);
        let come: Vec<String> = come.map(|said| in_brackets(said, kind, flow)).collect();
        let before = (head + changed)
            .checked_sub(1)
            .and_then(|index| spans.get(index));
        let behind = spans.get(head + changed);
        match (before, behind, flow) {
            _ if come.is_empty() => {}
            (Some((_, end)), _, true) => {
                self.replace(*end, *end, format!(", {}", come.join(", ")));
            }
            (None, Some((start, _)), true) => {
                self.replace(*start, *start, format!("{}, ", come.join(", ")));
            }
            (Some((dash, end)), _, false) => {
                let indent = " ".repeat(column_of(self.text, *dash));
                let at = end_of_line(self.text, *end);
                for item in come {
                    self.replace(at, at, format!("\n{indent}- {item}"));
                }
            }
            (None, Some((dash, _)), false) => {
                let indent = " ".repeat(column_of(self.text, *dash));
                let at = line_start(self.text, *dash);
                for item in come {
                    self.replace(at, at, format!("{indent}- {item}\n"));
                }
            }
            (None, None, _) => {}
        }
    }

    /// Takes out what is not kept: in brackets with one of the commas beside it, else as whole lines, whose comments stay.
    fn take_out(&mut self, flow: bool, spans: &[(usize, usize)], kept: &[bool]) {
        let first_kept = kept
            .iter()
            .position(|is_kept| *is_kept)
            .unwrap_or(kept.len());
        for (index, ((start, end), is_kept)) in spans.iter().zip(kept).enumerate() {
            if *is_kept {
                continue;
            }
            if !flow {
                let line = line_start(self.text, *start);
                let behind = self
                    .text
                    .get(*end..end_of_line(self.text, *end))
                    .unwrap_or_default();
                let comment = behind.trim_start().starts_with('#');
                let indent = " ".repeat(*start - line);
                let left = if comment {
                    format!("{indent}{}\n", behind.trim())
                } else {
                    String::new()
                };
                self.replace(line, next_line(self.text, *end), left);
                continue;
            }
            let (from, to) = if index < first_kept {
                let next = spans.get(index + 1).map_or(*end, |(start, _)| *start);
                (*start, next)
            } else {
                let before = index.checked_sub(1).and_then(|index| spans.get(index));
                (before.map_or(*start, |(_, end)| *end), *end)
            };
            let mut comments = Vec::new();
            let gap = if index < first_kept {
                (*end, to)
            } else {
                (from, *start)
            };
            comments_between(self.text, gap.0, gap.1, &mut comments);
            self.comments.append(&mut comments);
            self.replace(from, to, "");
        }
    }

    fn begins_line(&self, at: usize) -> bool {
        let before = self.text.get(line_start(self.text, at)..at);
        before.is_some_and(|before| before.trim().is_empty())
    }
}

/// Whether a map can be changed key by key: where the order of its keys is the song's, new ones have to come last.
fn keeps_order(key: &str, old: Pairs<'_>, new: Pairs<'_>) -> bool {
    if key != "words" && key != "tunes" {
        return true;
    }
    let kept = old.iter().filter(|(key, _)| holds(new, key));
    kept.map(|(key, _)| key).eq(new
        .iter()
        .map(|(key, _)| key)
        .take_while(|key| holds(old, key)))
        && new
            .iter()
            .skip_while(|(key, _)| holds(old, key))
            .all(|(key, _)| !holds(old, key))
}
