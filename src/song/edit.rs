//! Changes to a song, as values.

use super::chord_row::ChordRow;
use super::column::Column;
use super::field::Field;
use super::place::Row;
use super::{Node, NodeId};

/// A change to a song. Five primitives, and [`Edit::Group`] to do several as one.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Replaces `remove` graphemes of a row of text at a column. In a lyric, chords and breath marks move with their syllables.
    Splice {
        /// Whose row.
        node: NodeId,
        /// Which row; [`Row::Chords`] is set whole instead.
        row: Row,
        /// Where.
        at: Column,
        /// How many graphemes go.
        remove: usize,
        /// What comes in their place.
        insert: String,
    },
    /// Puts a node into a list.
    Insert {
        /// Where.
        to: Position,
        /// What.
        node: Box<Node>,
    },
    /// Takes a node out.
    Remove {
        /// Which.
        node: NodeId,
    },
    /// Moves a node to another place or list.
    Move {
        /// Which.
        node: NodeId,
        /// Where; the index counts without the node itself.
        to: Position,
    },
    /// Sets a value whole.
    Set {
        /// Whose.
        node: NodeId,
        /// Which, and to what.
        value: Value,
    },
    /// One after the other.
    Group(Vec<Edit>),
}

/// A value that is set whole.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A value of the header, a section or a line; `None` takes it away.
    Field(Field, Option<String>),
    /// A line's chord row; `None` lets the line borrow again.
    Chords(Option<ChordRow>),
    /// A line's breath marks.
    Marks(Vec<Column>),
    /// A line's lyric, chords and marks left where they are.
    Lyric(String),
    /// A line's other wordings.
    Others(Vec<String>),
    /// The song's own reading of a word; `None` takes it away.
    Word(String, Option<String>),
    /// The phrases of a tune; `None` takes the tune away.
    Tune(String, Option<Vec<String>>),
}

/// A place for a node in one of a song's lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Position {
    /// Which list.
    pub list: List,
    /// Before which of its nodes; the list's length puts it last.
    pub index: usize,
}

/// One of a song's lists of nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum List {
    /// The song's sections, in the order sung.
    Sections,
    /// What the song has set aside: sections and lines.
    SetAside,
    /// The lines of a section.
    Lines(NodeId),
    /// The lines a section has set aside.
    LinesSetAside(NodeId),
}
