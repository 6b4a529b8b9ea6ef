//! A text with places to be replaced in it, and the comments that lose theirs.

use crate::formats::yaml::comments::comments_in;
use crate::formats::yaml::tree::{Pair, Tree, line_start};

pub(super) struct Change<'text> {
    pub(super) text: &'text str,
    /// From, to, and what stands there now; none overlap.
    edits: Vec<(usize, usize, String)>,
    pub(super) comments: Vec<String>,
}

impl<'text> Change<'text> {
    pub(super) const fn new(text: &'text str) -> Self {
        Self {
            text,
            edits: Vec::new(),
            comments: Vec::new(),
        }
    }

    pub(super) fn replace(&mut self, from: usize, to: usize, with: impl Into<String>) {
        self.edits.push((from, to, with.into()));
    }

    pub(super) fn finish(mut self) -> String {
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
    pub(super) fn finish_entry(mut self, pair: &Pair) -> String {
        let line = line_start(self.text, pair.key.start);
        let indent = " ".repeat(pair.key.start - line);
        let comments: Vec<String> = std::mem::take(&mut self.comments);
        for comment in comments {
            self.replace(line, line, format!("{indent}{comment}\n"));
        }
        self.finish()
    }

    pub(super) fn keep_as_comment(&mut self, key: &Tree, words: &str) {
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

    pub(super) fn clear(&mut self, pair: &Pair) {
        let mut comments = comments_in(self.text, pair.colon, &pair.value);
        self.comments.append(&mut comments);
        self.replace(pair.colon, pair.value.end.max(pair.colon), "");
    }

    pub(super) fn begins_line(&self, at: usize) -> bool {
        let before = self.text.get(line_start(self.text, at)..at);
        before.is_some_and(|before| before.trim().is_empty())
    }
}
