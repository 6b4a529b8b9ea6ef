//! The song as it would be, while a list offers an edit.

use crate::desk::Desk;
use crate::reading::Reading;
use crate::reading::read::read;
use crate::song::edit::Edit;
use crate::song::{NodeId, Song};

/// A song after an edit that is not made yet.
#[derive(Clone, Debug)]
pub struct Preview {
    /// The song as it would be.
    pub song: Song,
    /// What would follow.
    pub reading: Reading,
    /// The lines that would differ.
    pub changed: Vec<NodeId>,
}

impl Preview {
    /// What an edit would make of the song at the desk; `None` where it cannot be made.
    #[must_use]
    pub fn of(desk: &Desk, edit: &Edit) -> Option<Self> {
        let mut song = desk.song().clone();
        song.apply(edit).ok()?;
        let reading = read(&song, &mut desk.memory().clone());
        let changed = song
            .sections
            .iter()
            .flat_map(|section| &section.lines)
            .filter(|line| desk.song().line(line.id) != Some(line))
            .map(|line| line.id)
            .collect();
        Some(Self {
            song,
            reading,
            changed,
        })
    }
}
