//! Places in a song, for cursors and marks.

use super::NodeId;
use super::column::Column;
use super::field::Field;

/// A row of text of a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Row {
    /// A value of the node, typed like text: a label, what happens, a tempo.
    Value(Field),
    /// The chord row over a lyric; breath marks are typed here too.
    Chords,
    /// The lyric.
    Lyric,
    /// One of the other wordings, counted from 0.
    Other(usize),
}

/// A place that survives edits: a column of a row of a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The node.
    pub node: NodeId,
    /// Which of its rows.
    pub row: Row,
    /// The column, from 0 to the row's length (chord rows: any column).
    pub column: Column,
}
