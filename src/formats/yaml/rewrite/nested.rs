//! Maps and lists changed entry by entry; what is not kept taken out.

use super::change::Change;
use super::{Pairs, Place, holds};
use crate::formats::yaml::comments::comments_between;
use crate::formats::yaml::content::key_of;
use crate::formats::yaml::fresh::{in_brackets, kind_within, pair as fresh_pair, tune};
use crate::formats::yaml::slices::column_of;
use crate::formats::yaml::tree::{Item, Pair, Tree, byte_at, end_of_line, line_start, next_line};
use crate::song::slice::Said;

impl Change<'_> {
    pub(super) fn map(
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

    pub(super) fn list(
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
    pub(super) fn take_out(&mut self, flow: bool, spans: &[(usize, usize)], kept: &[bool]) {
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
}

/// Whether a map can be changed key by key: where the order of its keys is the song's, new ones have to come last.
pub(super) fn keeps_order(key: &str, old: Pairs<'_>, new: Pairs<'_>) -> bool {
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
