//! Values out of the tree: what is typed is taken as it is, and what cannot be read is told.

use super::read::{FindingKind, Reader};
use super::tree::{Item, MOST, Pair, Shape, Style, Tree};
use super::trouble::Trouble;
use crate::song::chord_row::{ChordRow, ChordToken};
use crate::song::column::Column;
use crate::song::field::{Field, Owner, Values};
use crate::song::{NodeId, Tune};
use crate::wording::message::Message;

impl Reader<'_> {
    pub(super) fn chords(
        &mut self,
        pair: &Pair,
        node: NodeId,
    ) -> Result<Option<ChordRow>, Message> {
        let read = match &pair.value.shape {
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => return Ok(None),
            Shape::Scalar { text, .. } => {
                self.chords += text.split_whitespace().count();
                if self.chords > MOST {
                    let byte = pair.key.start;
                    return Err(Trouble::TooMany { byte }.message(self.text));
                }
                let tokens = ChordRow::parse(text).0;
                let last = tokens.last().map_or(0, |token| token.column.0);
                (last <= LAST_COLUMN).then_some(tokens)
            }
            Shape::List { items, .. } => items
                .iter()
                .map(|item| token_of(&item.value))
                .collect::<Option<Vec<_>>>(),
            Shape::Map { .. } => None,
        };
        if read.is_none() {
            let message = Message::new("these chords cannot be read")
                .expected("they have to be a row in quotes, or a list such as `[[4, Cmaj7], [6, D]]` of columns and chords")
                .next("They are kept and not sounded.");
            self.find(FindingKind::Value, node, "chords", pair.key.start, message);
        }
        Ok(read.map(|mut tokens| {
            tokens.sort_by_key(|token| token.column);
            ChordRow(tokens)
        }))
    }

    pub(super) fn marks(&mut self, pair: &Pair, node: NodeId) -> Vec<Column> {
        use unicode_segmentation::UnicodeSegmentation as _;
        let mut marks = Vec::new();
        let mut odd = false;
        match &pair.value.shape {
            Shape::Scalar { text, .. } => {
                for (column, sign) in text.graphemes(true).enumerate() {
                    if sign == "," && column <= LAST_COLUMN {
                        marks.push(Column(column));
                    } else if !sign.trim().is_empty() {
                        odd = true;
                    }
                }
            }
            Shape::List { items, .. } => {
                for item in items {
                    match column_in(&item.value) {
                        Some(column) => marks.push(column),
                        None => odd = true,
                    }
                }
                marks.sort_unstable();
                marks.dedup();
            }
            Shape::Map { .. } => odd = true,
        }
        if odd {
            let message = Message::new("the row of marks holds other signs than commas")
                .expected("each breath is a comma over the place where it is taken")
                .next("They are kept and not read.");
            self.find(FindingKind::Value, node, "marks", pair.key.start, message);
        }
        marks
    }

    pub(super) fn voice(&mut self, pair: &Pair) -> Result<(), Message> {
        let Some(pairs) = self.map_under(
            pair,
            "`voice` has to be a map of keys, such as `{range: A2-E4}`",
        )?
        else {
            return Ok(());
        };
        for inner in pairs {
            let name = inner.key.text().unwrap_or_default();
            let field = Field::named(&format!("voice.{name}"), Owner::Song);
            match field {
                Some(field) if !name.contains('.') => {
                    let text = self.text_of(&inner.value);
                    self.song.values.set(field, text);
                }
                _ => self.unknown(inner, NodeId::SONG, None),
            }
        }
        Ok(())
    }

    pub(super) fn words(&mut self, pair: &Pair) -> Result<(), Message> {
        let Some(pairs) = self.map_under(pair, "`words` has to be a map, such as `{quay: kee}`")?
        else {
            return Ok(());
        };
        for inner in pairs {
            if let Some(word) = inner.key.text() {
                let reading = self.text_of(&inner.value).unwrap_or_default();
                self.song.words.push((word.to_owned(), reading));
            }
        }
        Ok(())
    }

    pub(super) fn tunes(&mut self, pair: &Pair) -> Result<(), Message> {
        let Some(pairs) = self.map_under(
            pair,
            "`tunes` has to be a map of names, each with its phrases after dashes",
        )?
        else {
            return Ok(());
        };
        for inner in pairs {
            let Some(name) = inner.key.text() else {
                continue;
            };
            let phrases = match &inner.value.shape {
                Shape::List { items, .. } => items
                    .iter()
                    .map(|item| self.text_of(&item.value).unwrap_or_default())
                    .collect(),
                // Phrases as the rows of one text.
                Shape::Scalar { .. } | Shape::Map { .. } => self
                    .text_of(&inner.value)
                    .iter()
                    .flat_map(|text| text.lines().map(str::to_owned))
                    .collect(),
            };
            self.song.tunes.push(Tune {
                name: name.to_owned(),
                phrases,
            });
        }
        Ok(())
    }

    /// The pairs of a map; none, with a finding, where a text stands in its place.
    pub(super) fn map_under<'tree>(
        &mut self,
        pair: &'tree Pair,
        what: &str,
    ) -> Result<Option<&'tree [Pair]>, Message> {
        match &pair.value.shape {
            Shape::Map { pairs, .. } => Ok(Some(pairs)),
            Shape::List { .. } => Err(self.refuse(
                &pair.value,
                what,
                "Write a key and a colon before each entry, in place of its dash.",
            )),
            Shape::Scalar { style, .. } => {
                if *style != Style::Empty {
                    let key = pair.key.text().unwrap_or_default();
                    let message = Message::new(format!("`{key}` is a text"))
                        .expected(what)
                        .next("It is kept and not read.");
                    self.find(
                        FindingKind::Value,
                        NodeId::SONG,
                        key,
                        pair.key.start,
                        message,
                    );
                }
                Ok(None)
            }
        }
    }

    /// A key that holds one value, or is unknown.
    pub(super) fn field(&mut self, pair: &Pair, owner: Owner, node: NodeId, values: &mut Values) {
        let key = pair.key.text().unwrap_or_default();
        let field = Field::named(key, owner).filter(|_| !key.contains('.'));
        let Some(field) = field else {
            self.unknown(pair, node, Some(owner));
            return;
        };
        let text = match (&pair.value.shape, field) {
            (Shape::List { items, .. }, Field::Tuning) => self.joined(items, &pair.value),
            (Shape::List { .. } | Shape::Map { .. } | Shape::Scalar { .. }, _) => {
                self.text_of(&pair.value)
            }
        };
        if !matches!(pair.value.shape, Shape::Scalar { .. }) && takes_words(field) {
            self.one_text(pair, node);
        }
        self.look_at_words(node, key, &pair.value, pair.colon);
        values.set(field, text);
    }

    pub(super) fn one_text(&mut self, pair: &Pair, node: NodeId) {
        let key = pair.key.text().unwrap_or_default();
        let message = Message::new(format!("the {key} is a list or a map"))
            .expected("it has to be one text")
            .next("Put it in quotes if it is one. It is kept as typed.");
        self.find(FindingKind::Value, node, key, pair.key.start, message);
    }

    /// The tuning of a list of strings, as names with blanks between them.
    pub(super) fn joined(&self, items: &[Item], value: &Tree) -> Option<String> {
        let names: Option<Vec<&str>> = items.iter().map(|item| item.value.text()).collect();
        match names {
            Some(names) => Some(names.join(" ")),
            None => self.text_of(value),
        }
    }

    /// What is typed as a value; of a list or a map its source.
    pub(super) fn text_of(&self, tree: &Tree) -> Option<String> {
        match &tree.shape {
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => None,
            Shape::Scalar { text, style } => Some(plain_text(text, *style)),
            Shape::List { .. } | Shape::Map { .. } => {
                Some(self.source(tree.start, tree.end).to_owned())
            }
        }
    }
}

const fn takes_words(field: Field) -> bool {
    matches!(
        field,
        Field::Title
            | Field::Label
            | Field::Happens
            | Field::Mood
            | Field::Picture
            | Field::Played
            | Field::Sound
    )
}

pub(super) fn plain_text(text: &str, style: Style) -> String {
    match style {
        // The row's own line break, and what a block text keeps of empty rows behind it, is no part of the words.
        Style::Literal | Style::Folded => text.trim_end_matches('\n').to_owned(),
        Style::Empty | Style::Plain | Style::Single | Style::Double => text.to_owned(),
    }
}

/// The last column of a row that chords and marks are read in; wider rows are no song's.
const LAST_COLUMN: usize = 100_000;

fn column_in(tree: &Tree) -> Option<Column> {
    let column = tree.text()?.parse().ok()?;
    (column <= LAST_COLUMN).then_some(Column(column))
}

fn token_of(tree: &Tree) -> Option<ChordToken> {
    let Shape::List { items, .. } = &tree.shape else {
        return None;
    };
    let [column, chord] = items.as_slice() else {
        return None;
    };
    let text = chord.value.text()?;
    if text.is_empty() || text.contains(char::is_whitespace) {
        return None;
    }
    Some(ChordToken {
        column: column_in(&column.value)?,
        text: text.to_owned(),
    })
}
