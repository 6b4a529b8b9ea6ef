//! What the writer wrote: header values, sections, lines, rows of text, and every change to them as a value.
//!
//! In: a song read from a file, and [`edit::Edit`]s. Out: the song after the edit, and the edit that undoes it.
//! Never: anything that follows from the words (syllables, seconds, chords understood); a value that makes no sense is kept as typed.

pub mod apply;
pub mod chord_row;
pub mod chord_typing;
pub mod column;
pub mod edit;
pub mod field;
pub mod history;
pub mod kind;
pub mod line_edits;
pub mod lists;
pub mod paste;
pub mod place;
pub mod section_edits;
pub mod slice;
pub mod splice;
pub mod stanzas;

use self::kind::kind_of;
use chord_row::ChordRow;
use column::Column;
use field::{Field, Values};
use slice::Slice;
use std::sync::Arc;

/// Identifies a section or a line as long as its song is open: through moves, setting aside, undo and redo.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(pub u32);

impl NodeId {
    /// The song itself, whose header values are set like any other node's.
    pub const SONG: Self = Self(0);
}

/// A song as written. Two songs are equal where all of it is, but for [`Song::next_id`], which only counts.
#[derive(Clone, Debug, Default)]
pub struct Song {
    /// The header as typed.
    pub values: Values,
    /// The melodies, in the order written.
    pub tunes: Vec<Tune>,
    /// This song's own readings of words: the word, and what is written for it.
    pub words: Vec<(String, String)>,
    /// The sections in the order sung.
    pub sections: Vec<Section>,
    /// Lines and sections taken out but kept.
    pub set_aside: Vec<Node>,
    /// What the file held for the song.
    pub slice: Option<Arc<Slice>>,
    /// The number that the next new node gets; only ever grows.
    pub next_id: u32,
}

impl PartialEq for Song {
    fn eq(&self, other: &Self) -> bool {
        self.values == other.values
            && self.tunes == other.tunes
            && self.words == other.words
            && self.sections == other.sections
            && self.set_aside == other.set_aside
            && self.slice == other.slice
    }
}

/// A named melody.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tune {
    /// The name that sections refer to.
    pub name: String,
    /// A phrase a line of lyric, each in the body notation of the ABC standard 2.1.
    pub phrases: Vec<String>,
}

/// A verse, chorus, refrain, bridge, intro, interlude or outro.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its identity.
    pub id: NodeId,
    /// Label, kind, story notes and all else that is one value, as typed.
    pub values: Values,
    /// Its lines in the order sung.
    pub lines: Vec<Line>,
    /// Lines taken out but kept.
    pub set_aside: Vec<Line>,
    /// What the file held for it.
    pub slice: Option<Arc<Slice>>,
}

/// One row of lyric with its chords.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its identity.
    pub id: NodeId,
    /// The words as typed.
    pub lyric: String,
    /// The chord row; `None` where the line has none of its own and borrows.
    pub chords: Option<ChordRow>,
    /// Where the singer breathes: columns of the lyric, ascending, no two the same.
    pub marks: Vec<Column>,
    /// Other wordings, the writer's own order.
    pub others: Vec<String>,
    /// Bars, picture, sound, `run_on`, as typed.
    pub values: Values,
    /// What the file held for it.
    pub slice: Option<Arc<Slice>>,
}

/// A section or a line, where either may stand.
#[derive(Clone, Debug, PartialEq)]
pub enum Node {
    /// A section.
    Section(Section),
    /// A line.
    Line(Line),
}

impl Node {
    /// The node's identity.
    #[must_use]
    pub const fn id(&self) -> NodeId {
        match self {
            Self::Section(section) => section.id,
            Self::Line(line) => line.id,
        }
    }
}

impl Song {
    /// The name of a tune that could still be written: what the first section with lines asks for that has none, by its `tune:` or by
    /// its kind.
    #[must_use]
    pub fn next_tune(&self) -> Option<String> {
        let sung = self
            .sections
            .iter()
            .filter(|section| !section.lines.is_empty());
        let mut wanted = sung.map(|section| {
            let named = section.values.get(Field::Tune).map_or("", str::trim);
            if named.is_empty() {
                kind_of(section)
            } else {
                named.to_owned()
            }
        });
        wanted.find(|name| self.tunes.iter().all(|tune| tune.name != *name))
    }

    /// An empty song with that title and one empty verse of one empty line.
    #[must_use]
    pub fn new(title: &str) -> Self {
        let mut song = Self {
            next_id: 1,
            ..Self::default()
        };
        song.values.set(Field::Title, Some(title.to_owned()));
        let line = song.new_line("");
        let section = song.new_section("Verse 1", "verse", vec![line]);
        song.sections.push(section);
        song
    }

    /// A fresh identity.
    pub fn new_id(&mut self) -> NodeId {
        self.next_id = self.next_id.max(1);
        let id = NodeId(self.next_id);
        self.next_id += 1;
        id
    }

    /// A line of these words with a fresh identity, not yet in the song.
    pub fn new_line(&mut self, lyric: &str) -> Line {
        Line {
            id: self.new_id(),
            lyric: lyric.to_owned(),
            chords: None,
            marks: Vec::new(),
            others: Vec::new(),
            values: Values::default(),
            slice: None,
        }
    }

    /// A section with a fresh identity, not yet in the song.
    pub fn new_section(&mut self, label: &str, kind: &str, lines: Vec<Line>) -> Section {
        let mut values = Values::default();
        values.set(Field::Label, Some(label.to_owned()));
        values.set(Field::Kind, Some(kind.to_owned()));
        Section {
            id: self.new_id(),
            values,
            lines,
            set_aside: Vec::new(),
            slice: None,
        }
    }

    /// The line of that identity, wherever it stands (also set aside).
    #[must_use]
    pub fn line(&self, id: NodeId) -> Option<&Line> {
        let in_section = |section: &'_ Section| -> Option<usize> {
            section.lines.iter().position(|line| line.id == id)
        };
        self.sections
            .iter()
            .find_map(|section| in_section(section).and_then(|index| section.lines.get(index)))
            .or_else(|| {
                self.sections
                    .iter()
                    .find_map(|section| section.set_aside.iter().find(|line| line.id == id))
            })
            .or_else(|| {
                self.set_aside.iter().find_map(|node| match node {
                    Node::Line(line) => (line.id == id).then_some(line),
                    Node::Section(section) => section
                        .lines
                        .iter()
                        .chain(&section.set_aside)
                        .find(|line| line.id == id),
                })
            })
    }

    /// The section of that identity, wherever it stands (also set aside).
    #[must_use]
    pub fn section(&self, id: NodeId) -> Option<&Section> {
        self.sections
            .iter()
            .find(|section| section.id == id)
            .or_else(|| {
                self.set_aside.iter().find_map(|node| match node {
                    Node::Section(section) => (section.id == id).then_some(section),
                    Node::Line(_) => None,
                })
            })
    }

    /// The section in the song that holds the line, and the line's place in it; `None` for lines set aside.
    #[must_use]
    pub fn position(&self, line: NodeId) -> Option<(usize, usize)> {
        self.sections
            .iter()
            .enumerate()
            .find_map(|(section_index, section)| {
                section
                    .lines
                    .iter()
                    .position(|found| found.id == line)
                    .map(|line_index| (section_index, line_index))
            })
    }
}
