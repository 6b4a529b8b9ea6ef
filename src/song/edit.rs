//! Changes to a song, as values. [`super::Song::apply`] makes one, and gives the change that takes it back.

use super::chord_row::ChordRow;
use super::column::Column;
use super::field::Field;
use super::place::{Place, Row};
use super::{Node, NodeId, Tune};
use std::fmt;

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
    /// All the song's own readings of words, in order: what takes [`Value::Word`] back.
    Words(Vec<(String, String)>),
    /// The phrases of a tune; `None` takes the tune away.
    Tune(String, Option<Vec<String>>),
    /// All tunes, in order: what takes [`Value::Tune`] back.
    Tunes(Vec<Tune>),
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

/// An edit that was built, and where the cursor belongs when it is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The edit.
    pub edit: Edit,
    /// The cursor behind it.
    pub cursor: Place,
}

/// Why an edit cannot be made. The song is as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EditError {
    /// No node of the song has that identity, or it is of the other kind.
    NoSuchNode(NodeId),
    /// The node has no row like that, or it is not typed like text.
    NoSuchRow(NodeId),
    /// The row has no such column, or too few graphemes behind it.
    PastTheRow(NodeId),
    /// The song has no such list, or the list has no such place.
    NoSuchPosition(Position),
    /// Lists of lines take lines, the list of sections takes sections.
    WrongList(Position),
    /// A node of that identity is in the song already.
    Twice(NodeId),
    /// The node cannot have that value.
    NoSuchValue(NodeId),
    /// Chords have to ascend without blanks in them, breath marks to ascend with no two the same.
    Disordered(NodeId),
}

impl fmt::Display for EditError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoSuchNode(_) => "the line or section is no longer in the song",
            Self::NoSuchRow(_) => "there is no such row to type in",
            Self::PastTheRow(_) => "the row ends before that place",
            Self::NoSuchPosition(_) => "there is no such place in the song",
            Self::WrongList(_) => "lines stand in sections, and sections in the song",
            Self::Twice(_) => "the line or section is in the song already",
            Self::NoSuchValue(_) => "such a value cannot stand here",
            Self::Disordered(_) => "chords and breath marks have to stand in order",
        })
    }
}

impl std::error::Error for EditError {}
