//! Undo and redo.
