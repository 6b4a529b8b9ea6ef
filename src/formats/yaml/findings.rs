//! What is odd in a file that opens all the same.

use super::content::key_of;
use super::keys::{nearest, owners_of};
use super::read::{Finding, FindingKind, MOST_FINDINGS, Reader};
use super::tree::{Pair, Shape, Style, Tree};
use crate::song::NodeId;
use crate::song::field::Owner;
use crate::wording::message::Message;

impl Reader<'_> {
    pub(super) fn find(
        &mut self,
        kind: FindingKind,
        node: NodeId,
        key: &str,
        byte: usize,
        message: Message,
    ) {
        if self.findings.len() >= MOST_FINDINGS {
            return;
        }
        let line = self.breaks.line_of(byte);
        self.findings.push(Finding {
            kind,
            node,
            key: key.to_owned(),
            line,
            message: message.at_line(line),
        });
    }

    pub(super) fn unknown(&mut self, pair: &Pair, node: NodeId, owner: Option<Owner>) {
        if self.findings.len() >= MOST_FINDINGS {
            return;
        }
        let key = key_of(self.text, &pair.key);
        let mut message = Message::new(format!("the key `{key}` is not known here"));
        let elsewhere = owners_of(&key);
        let guess = owner.and_then(|owner| nearest(&key, owner));
        if let Some(guess) = guess {
            message = message.expected(format!("perhaps `{guess}` is meant"));
        } else if let Some(other) = elsewhere.first() {
            let other = match other {
                Owner::Song => "the song",
                Owner::Section => "a section",
                Owner::Line => "a line",
            };
            message = message.expected(format!("it belongs to {other}"));
        } else if key.contains(' ') {
            message = message.expected("words before a colon and a blank are taken for a key; put the whole text in quotes if they are none");
        }
        let message = message.next("It is kept.");
        self.find(FindingKind::UnknownKey, node, &key, pair.key.start, message);
    }

    /// Words that YAML takes for something else without a complaint.
    pub(super) fn look_at_words(&mut self, node: NodeId, key: &str, value: &Tree, after: usize) {
        let Shape::Scalar { style, .. } = &value.shape else {
            return;
        };
        let rest = self.text.get(value.end..).unwrap_or_default();
        let rest = rest.trim_start_matches([' ', '\t']);
        let before = self.source(after, value.start);
        let message = match style {
            Style::Plain if key == "lyric" && rest.starts_with('#') => {
                Message::new("what follows ` #` on this line is taken for a comment")
                    .next("Put the whole text in quotes if it belongs to the words.")
            }
            Style::Plain if key == "chords" && before.starts_with("  ") => Message::new(
                "the blanks before the first chord are lost without quotes",
            )
            .next("Put the row in double quotes, so that each chord stands over its syllable."),
            Style::Empty
                if rest.strip_prefix('#').is_some_and(|comment| {
                    comment.starts_with(|sign: char| !sign.is_whitespace() && sign != '#')
                }) =>
            {
                Message::new(format!("`{key}` has no value, as `#` begins a comment"))
                    .next("Put the value in quotes if the `#` belongs to it.")
            }
            Style::Plain
            | Style::Empty
            | Style::Single
            | Style::Double
            | Style::Literal
            | Style::Folded => return,
        };
        self.find(FindingKind::Typing, node, key, value.start, message);
    }
}
