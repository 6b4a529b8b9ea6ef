//! What a song says to its file, key by key: computed the same way when it is read and when it is written, so that an entry whose
//! value did not change is told by comparing.

use super::keys::keys_of;
use super::tree::{Shape, Style, Tree, parse};
use crate::song::chord_row::ChordRow;
use crate::song::column::Column;
use crate::song::field::{Owner, Values};
use crate::song::slice::{Form, Said, Slice};
use crate::song::{Line, Node, Section, Song, Tune};

/// The keys of a node with what they say, in the order of the table; lists of nodes are left out.
pub(super) type Content = Vec<(&'static str, Said)>;

/// Whether two songs say the same, wherever and however it is written; keys that are unknown count as well.
///
/// What a save is held against: the text read back from the disk has to say what the song says.
#[must_use]
pub fn same_song(one: &Song, other: &Song) -> bool {
    Owned::Song(one).whole() == Owned::Song(other).whole()
}

/// A node of the song with its table of keys.
#[derive(Clone, Copy)]
pub(super) enum Owned<'song> {
    Song(&'song Song),
    Section(&'song Section),
    Line(&'song Line),
}

impl<'song> Owned<'song> {
    pub(super) const fn of(node: &'song Node) -> Self {
        match node {
            Node::Section(section) => Self::Section(section),
            Node::Line(line) => Self::Line(line),
        }
    }

    pub(super) const fn owner(self) -> Owner {
        match self {
            Self::Song(_) => Owner::Song,
            Self::Section(_) => Owner::Section,
            Self::Line(_) => Owner::Line,
        }
    }

    pub(super) fn slice(self) -> Option<&'song Slice> {
        match self {
            Self::Song(song) => song.slice.as_deref(),
            Self::Section(section) => section.slice.as_deref(),
            Self::Line(line) => line.slice.as_deref(),
        }
    }

    /// The nodes of one of its lists, in order; `None` for keys that are no list of nodes.
    pub(super) fn list(self, key: &str) -> Option<Vec<Self>> {
        match (self, key) {
            (Self::Song(song), "sections") => {
                Some(song.sections.iter().map(Self::Section).collect())
            }
            (Self::Song(song), "set_aside") => Some(song.set_aside.iter().map(Self::of).collect()),
            (Self::Section(section), "lines") => {
                Some(section.lines.iter().map(Self::Line).collect())
            }
            (Self::Section(section), "set_aside") => {
                Some(section.set_aside.iter().map(Self::Line).collect())
            }
            _ => None,
        }
    }

    pub(super) fn content(self) -> Content {
        match self {
            Self::Song(song) => {
                let mut content = values(&song.values, Owner::Song);
                let words = song.words.iter();
                let words = words.map(|(word, said)| (word.clone(), Said::Text(said.clone())));
                content.push(("words", map_of(words.collect())));
                content.push(("tunes", map_of(song.tunes.iter().map(tune).collect())));
                content
            }
            Self::Section(section) => values(&section.values, Owner::Section),
            Self::Line(line) => {
                let mut content = vec![
                    ("chords", chords(line.chords.as_ref())),
                    ("lyric", Said::Text(line.lyric.clone())),
                    ("marks", marks(&line.marks)),
                ];
                content.extend(values(&line.values, Owner::Line));
                content.push(("others", texts(&line.others)));
                content
            }
        }
    }

    /// All that a node says, with its nodes and the keys that are unknown.
    pub(super) fn whole(self) -> Said {
        self.whole_with(Self::whole)
    }

    /// All that a node says, but a line of words alone as a text where it was written so.
    pub(super) fn as_written(self) -> Said {
        let form = self.slice().map(|slice| slice.form);
        match self {
            Self::Line(line) if matches!(form, None | Some(Form::Text)) && is_lyric_alone(line) => {
                Said::Text(line.lyric.clone())
            }
            Self::Song(_) | Self::Section(_) | Self::Line(_) => self.in_braces(),
        }
    }

    /// As [`Owned::as_written`], of a node that is written as a map.
    pub(super) fn in_braces(self) -> Said {
        self.whole_with(Self::as_written)
    }

    fn whole_with(self, inner: fn(Self) -> Said) -> Said {
        let mut whole: Vec<(String, Said)> = self
            .content()
            .into_iter()
            .filter(|(key, said)| match said {
                Said::Nothing => false,
                Said::Text(text) => *key != "lyric" || !text.is_empty(),
                Said::List(_) | Said::Map(_) | Said::Nodes(_) => true,
            })
            .map(|(key, said)| (key.to_owned(), said))
            .collect();
        for key in ["sections", "lines", "set_aside"] {
            if let Some(nodes) = self.list(key)
                && !nodes.is_empty()
            {
                let list = nodes.into_iter().map(inner).collect();
                whole.push((key.to_owned(), Said::List(list)));
            }
        }
        if let Some(slice) = self.slice() {
            whole.extend(unknown(slice, self.owner()));
        }
        Said::Map(whole)
    }
}

/// Whether a line has its words and nothing else.
pub(super) fn is_lyric_alone(line: &Line) -> bool {
    line.chords.is_none()
        && line.marks.is_empty()
        && line.others.is_empty()
        && line.values.iter().next().is_none()
}

/// The header values of a node; the ones that the file keeps in a map, `voice`, as that map.
fn values(values: &Values, owner: Owner) -> Content {
    let mut content = Content::new();
    for key in keys_of(owner) {
        let prefix = format!("{key}.");
        let mut inner = Vec::new();
        let mut own = Said::Nothing;
        let mut is_field = false;
        for (field, name, owners) in crate::song::field::FIELDS {
            if !owners.contains(&owner) {
                continue;
            }
            let text = values.get(*field);
            if *name == key {
                is_field = true;
                own = text.map_or(Said::Nothing, |text| Said::Text(text.to_owned()));
            } else if let Some(name) = name.strip_prefix(&prefix) {
                is_field = true;
                inner.extend(text.map(|text| (name.to_owned(), Said::Text(text.to_owned()))));
            }
        }
        if is_field {
            content.push((
                key,
                if inner.is_empty() {
                    own
                } else {
                    Said::Map(inner)
                },
            ));
        }
    }
    content
}

fn tune(tune: &Tune) -> (String, Said) {
    let phrases = tune.phrases.iter().cloned().map(Said::Text).collect();
    (tune.name.clone(), Said::List(phrases))
}

fn map_of(pairs: Vec<(String, Said)>) -> Said {
    if pairs.is_empty() {
        Said::Nothing
    } else {
        Said::Map(pairs)
    }
}

fn texts(texts: &[String]) -> Said {
    if texts.is_empty() {
        Said::Nothing
    } else {
        Said::List(texts.iter().cloned().map(Said::Text).collect())
    }
}

/// Past this column chords and marks are written as a list, as a row of blanks would be long and unreadable.
const WIDEST_ROW: usize = 1_000;

fn chords(chords: Option<&ChordRow>) -> Said {
    let Some(row) = chords else {
        return Said::Nothing;
    };
    let is_narrow = row
        .0
        .last()
        .is_none_or(|token| token.column.0 <= WIDEST_ROW);
    if is_narrow && let Some(text) = row.to_text() {
        return Said::Text(text);
    }
    let pair = |column: Column, text: &str| {
        Said::List(vec![
            Said::Text(column.0.to_string()),
            Said::Text(text.to_owned()),
        ])
    };
    let tokens = row.0.iter().map(|token| pair(token.column, &token.text));
    Said::List(tokens.collect())
}

fn marks(marks: &[Column]) -> Said {
    let Some(last) = marks.last() else {
        return Said::Nothing;
    };
    if last.0 > WIDEST_ROW {
        let columns = marks.iter().map(|mark| Said::Text(mark.0.to_string()));
        return Said::List(columns.collect());
    }
    let mut text = String::new();
    let mut width = 0;
    for mark in marks {
        text.extend(std::iter::repeat_n(' ', mark.0.saturating_sub(width)));
        text.push(',');
        width = mark.0 + 1;
    }
    Said::Text(text)
}

/// What the unknown keys of a slice say.
pub(super) fn unknown(slice: &Slice, owner: Owner) -> Vec<(String, Said)> {
    let known = keys_of(owner);
    let is_unknown = |key: &str| !known.contains(&key);
    match slice.form {
        Form::Text => Vec::new(),
        Form::Flow => match slice.entries.first().map(|entry| &entry.said) {
            Some(Said::Map(pairs)) => pairs
                .iter()
                .filter(|(key, _)| is_unknown(key))
                .cloned()
                .collect(),
            _ => Vec::new(),
        },
        Form::Block => slice
            .entries
            .iter()
            .filter(|entry| is_unknown(&entry.key))
            .map(|entry| {
                let document = parse(&entry.text).ok();
                let tree = document.and_then(|document| document.root);
                let said = match tree.as_ref().map(|tree| &tree.shape) {
                    Some(Shape::Map { pairs, .. }) => pairs
                        .first()
                        .map_or(Said::Nothing, |pair| said_of(&entry.text, &pair.value)),
                    _ => Said::Nothing,
                };
                (entry.key.clone(), said)
            })
            .collect(),
    }
}

/// What any value says.
pub(super) fn said_of(text: &str, tree: &Tree) -> Said {
    match &tree.shape {
        Shape::Scalar {
            style: Style::Empty,
            ..
        } => Said::Nothing,
        Shape::Scalar { text, .. } => Said::Text(text.clone()),
        Shape::List { items, .. } => Said::List(
            items
                .iter()
                .map(|item| said_of(text, &item.value))
                .collect(),
        ),
        Shape::Map { pairs, .. } => Said::Map(
            pairs
                .iter()
                .map(|pair| (key_of(text, &pair.key), said_of(text, &pair.value)))
                .collect(),
        ),
    }
}

/// The text of a key; of one that is no text, its source.
pub(super) fn key_of(text: &str, key: &Tree) -> String {
    key.text().map_or_else(
        || text.get(key.start..key.end).unwrap_or_default().to_owned(),
        str::to_owned,
    )
}
