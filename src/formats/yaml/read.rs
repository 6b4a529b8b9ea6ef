//! A song out of the text of its file.

use super::content::Owned;
use super::nodes::is_line;
use super::slices::{boundary, column_of, entries, first_byte_of, items, say};
use super::tree::{Document, Item, Pair, Shape, Style, Tree, parse};
use super::trouble::{Trouble, at};
use crate::song::field::Owner;
use crate::song::slice::{Form, Slice};
use crate::song::{Node, NodeId, Song};
use crate::wording::message::Message;
use std::sync::Arc;

/// The most bytes that a song file may have: 4 MiB.
pub const LARGEST: usize = 4 * 1024 * 1024;

/// The most findings that are told of one file: who wrote more knows by then.
pub const MOST_FINDINGS: usize = 1_000;

/// The most sections and lines together that are read; beyond, the file is refused.
const MOST_NODES: u32 = 50_000;

/// A song that was read, and what was odd about its file.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The song.
    pub song: Song,
    /// What was odd, in the file's order; at most [`MOST_FINDINGS`].
    pub findings: Vec<Finding>,
}

/// Something odd in the file of a song that opens all the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// What kind of thing.
    pub kind: FindingKind,
    /// On which node.
    pub node: NodeId,
    /// Under which key.
    pub key: String,
    /// On which line of the file, from 1.
    pub line: usize,
    /// The sentence about it, with the line.
    pub message: Message,
}

/// What kind of thing is odd.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FindingKind {
    /// A key that no song has; kept.
    UnknownKey,
    /// A value of a shape that the key cannot have; kept, and left out of account.
    Value,
    /// Words that YAML takes for something else: a comment, blanks before a text.
    Typing,
}

/// Reads a song file.
///
/// # Errors
/// A message with line and column where the text is no YAML, or no song's: two documents, a key twice, a list where a map belongs,
/// an alias, more than 4 MiB.
///
/// ```
/// use breathmark::formats::yaml::read::read;
/// let opened = read("title: Ferry\nsections:\n  - lines: [She rang the bell]\n").unwrap();
/// assert_eq!(opened.song.sections[0].lines[0].lyric, "She rang the bell");
/// let error = read("title: Ferry\ntitle: Boat\n").unwrap_err();
/// assert_eq!(error.line(), Some(2));
/// ```
pub fn read(text: &str) -> Result<Opened, Message> {
    if text.len() > LARGEST {
        let byte = (0..=LARGEST)
            .rev()
            .find(|byte| text.is_char_boundary(*byte));
        let message = Message::new("the file is larger than 4 MiB")
            .expected("what follows here is past that")
            .next("Divide it into several songs.");
        return Err(at(message, text, byte.unwrap_or(0)));
    }
    let document = parse(text).map_err(|trouble| trouble.message(text))?;
    let mut reader = Reader {
        text,
        song: Song {
            next_id: 1,
            ..Song::default()
        },
        findings: Vec::new(),
        breaks: LineBreaks(text.match_indices('\n').map(|(byte, _)| byte).collect()),
        chords: 0,
    };
    let slice = reader.song(&document)?;
    let mut song = reader.song;
    song.slice = Some(Arc::new(slice));
    Ok(Opened {
        song,
        findings: reader.findings,
    })
}

pub(super) struct Reader<'text> {
    pub(super) text: &'text str,
    pub(super) song: Song,
    pub(super) findings: Vec<Finding>,
    pub(super) breaks: LineBreaks,
    pub(super) chords: usize,
}

/// The bytes of a text's line breaks.
pub(super) struct LineBreaks(Vec<usize>);

impl LineBreaks {
    /// The column of a byte, in bytes from 0.
    pub(super) fn column_of(&self, byte: usize) -> usize {
        let line = self.0.partition_point(|found| *found < byte);
        let before = line.checked_sub(1).and_then(|line| self.0.get(line));
        byte - before.map_or(0, |found| found + 1)
    }

    /// The line of a byte, from 1.
    pub(super) fn line_of(&self, byte: usize) -> usize {
        self.0.partition_point(|found| *found < byte) + 1
    }
}

/// Where a node stands in the text, and what it is.
#[derive(Clone, Copy)]
pub(super) struct Region<'tree> {
    /// The first byte of what belongs to it.
    pub(super) from: usize,
    /// The byte behind the last.
    pub(super) to: usize,
    /// Its dash; in a flow list where it begins.
    pub(super) dash: usize,
    pub(super) flow: bool,
    pub(super) tree: &'tree Tree,
}

impl<'text> Reader<'text> {
    pub(super) fn source(&self, from: usize, to: usize) -> &'text str {
        self.text.get(from..to).unwrap_or_default()
    }

    pub(super) fn refuse_too_many(&self, region: Region<'_>) -> Result<(), Message> {
        if self.song.next_id <= MOST_NODES {
            return Ok(());
        }
        let byte = region.dash;
        Err(Trouble::TooMany { byte }.message(self.text))
    }

    pub(super) fn refuse(&self, tree: &Tree, what: &str, next: &str) -> Message {
        let found = match &tree.shape {
            Shape::List { .. } => "a list",
            Shape::Map { .. } => "a map of keys",
            Shape::Scalar { .. } => "a text",
        };
        let message = Message::new(format!("{found} stands here"))
            .expected(what)
            .next(next);
        at(message, self.text, tree.start)
    }

    fn song(&mut self, document: &Document) -> Result<Slice, Message> {
        let text = self.text;
        let breaks = self.breaks.0.len();
        let mut slice = Slice {
            crlf: breaks > 0 && text.matches("\r\n").count() == breaks,
            ..Slice::default()
        };
        let Some(root) = &document.root else {
            text.clone_into(&mut slice.opening);
            return Ok(slice);
        };
        match &root.shape {
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => {
                self.source(0, root.start).clone_into(&mut slice.opening);
                self.source(root.start, text.len())
                    .clone_into(&mut slice.tail);
            }
            Shape::Map { flow: true, pairs } => {
                for pair in pairs {
                    self.song_pair(pair, None)?;
                }
                slice.form = Form::Flow;
                self.source(0, root.start).clone_into(&mut slice.opening);
                self.source(root.end, text.len())
                    .clone_into(&mut slice.tail);
                let said = self.said_of_flow(root, Owned::Song(&self.song));
                slice.entries.push(self.whole_entry(root, said));
            }
            Shape::Map { flow: false, pairs } => {
                let first = pairs.first().map_or(root.start, |pair| {
                    first_byte_of(text, document.begin, pair.key.start)
                });
                slice.column = column_of(text, first);
                let from = boundary(text, document.begin, first, slice.column);
                let to = boundary(text, root.end, text.len(), 0);
                self.source(0, from).clone_into(&mut slice.opening);
                self.source(to, text.len()).clone_into(&mut slice.tail);
                let cuts = entries(text, pairs, from, to);
                for (pair, cut) in pairs.iter().zip(cuts.windows(2)) {
                    let [from, to] = *cut else { continue };
                    let end = self.song_pair(pair, Some((from, to)))?;
                    slice.entries.push(self.entry(pair, from, end));
                }
                let song = std::mem::take(&mut self.song);
                say(&mut slice, Owned::Song(&song));
                self.song = song;
            }
            Shape::List { .. } | Shape::Scalar { .. } => {
                return Err(self.refuse(
                    root,
                    "a song file begins with keys, such as `title: The Ferry`",
                    "Write a key and a colon before it.",
                ));
            }
        }
        Ok(slice)
    }

    /// Reads a key of the song, and gives the byte up to which the text is its entry's: to the end, or to the first node of a list.
    fn song_pair(&mut self, pair: &Pair, cut: Option<(usize, usize)>) -> Result<usize, Message> {
        let to = cut.map_or(pair.value.end, |(_, to)| to);
        let key = pair.key.text().unwrap_or_default();
        match key {
            "sections" => {
                let regions = self.regions(pair, cut, NodeId::SONG)?;
                for region in &regions {
                    let section = self.section(*region)?;
                    self.song.sections.push(section);
                }
                Ok(first_of(&regions, cut, to))
            }
            "set_aside" => {
                let regions = self.regions(pair, cut, NodeId::SONG)?;
                for region in &regions {
                    let node = if is_line(region.tree) {
                        Node::Line(self.line(*region)?)
                    } else {
                        Node::Section(self.section(*region)?)
                    };
                    self.song.set_aside.push(node);
                }
                Ok(first_of(&regions, cut, to))
            }
            "voice" => {
                self.voice(pair)?;
                Ok(to)
            }
            "words" => {
                self.words(pair)?;
                Ok(to)
            }
            "tunes" => {
                self.tunes(pair)?;
                Ok(to)
            }
            _ => {
                let mut values = std::mem::take(&mut self.song.values);
                self.field(pair, Owner::Song, NodeId::SONG, &mut values);
                self.song.values = values;
                Ok(to)
            }
        }
    }

    /// The nodes of a list.
    pub(super) fn regions<'tree>(
        &mut self,
        pair: &'tree Pair,
        cut: Option<(usize, usize)>,
        node: NodeId,
    ) -> Result<Vec<Region<'tree>>, Message> {
        let key = pair.key.text().unwrap_or_default();
        match (&pair.value.shape, cut) {
            (
                Shape::List {
                    flow: false,
                    items: list,
                },
                Some((_, to)),
            ) => {
                let cuts = items(self.text, list, pair.colon, to);
                Ok(list
                    .iter()
                    .zip(cuts.windows(2))
                    .filter_map(|(item, cut)| match *cut {
                        [from, to] => Some(region(item, from, to, false)),
                        _ => None,
                    })
                    .collect())
            }
            (Shape::List { items, .. }, _) => Ok(items
                .iter()
                .map(|item| region(item, item.value.start, item.value.end, true))
                .collect()),
            (Shape::Map { .. }, _) => Err(self.refuse(
                &pair.value,
                &format!("`{key}` has to be a list"),
                "Put a dash and a blank before each of its entries.",
            )),
            (
                Shape::Scalar {
                    style: Style::Empty,
                    ..
                },
                _,
            ) => Ok(Vec::new()),
            (Shape::Scalar { .. }, _) => {
                let message = Message::new(format!("`{key}` is a text"))
                    .expected("it has to be a list, each entry after a dash and a blank")
                    .next("It is kept and not sung.");
                self.find(FindingKind::Value, node, key, pair.key.start, message);
                Ok(Vec::new())
            }
        }
    }
}

const fn region(item: &Item, from: usize, to: usize, flow: bool) -> Region<'_> {
    Region {
        from,
        to,
        dash: item.dash,
        flow,
        tree: &item.value,
    }
}

/// Where the first node of a list in a block map begins, else where its entry ends.
pub(super) fn first_of(regions: &[Region<'_>], cut: Option<(usize, usize)>, to: usize) -> usize {
    match (regions.first(), cut) {
        (Some(region), Some(_)) if !region.flow => region.from,
        _ => to,
    }
}

/// The line of the file on which a key of a node stood when the file was read; `None` for what was added since.
#[must_use]
pub fn line_in_file(song: &Song, node: NodeId, key: &str) -> Option<usize> {
    let slice = if node == NodeId::SONG {
        song.slice.as_deref()
    } else if let Some(section) = song.section(node) {
        section.slice.as_deref()
    } else {
        song.line(node).and_then(|line| line.slice.as_deref())
    };
    slice.and_then(|slice| slice.line_of(key))
}
