//! Trying an edit through the whole song before offering it.

use super::{After, Warning, WayOut, all, line_of};
use crate::reading::Reading;
use crate::reading::memory::Memory;
use crate::reading::read::read;
use crate::song::Song;
use crate::song::column::Column;
use crate::song::edit::{Edit, Value};
use crate::wording::figure::Figure;

/// A question about a song: what would follow if...
pub struct Asking<'a> {
    /// A copy of the song, as it stands between two trials.
    song: Song,
    /// Its reading.
    pub reading: &'a Reading,
    /// What it warns of now.
    warnings: Vec<Warning>,
    /// Lines read before.
    memory: Memory,
    /// Whether nobody waits for the answer any more.
    stop: &'a dyn Fn() -> bool,
}

impl<'a> Asking<'a> {
    /// A question about this song, to be dropped as soon as `stop` says so.
    #[must_use]
    pub fn new(
        song: Song,
        reading: &'a Reading,
        memory: Memory,
        stop: &'a dyn Fn() -> bool,
    ) -> Self {
        let warnings = all(&song, reading);
        Self {
            song,
            reading,
            warnings,
            memory,
            stop,
        }
    }

    /// The song as it stands.
    #[must_use]
    pub const fn song(&self) -> &Song {
        &self.song
    }

    /// Whether to stop.
    #[must_use]
    pub fn stopped(&self) -> bool {
        (self.stop)()
    }

    /// What `look` sees in the song and its reading after the edit; `None` where the edit is not possible. The song is put back.
    pub fn after<T>(&mut self, edit: &Edit, look: impl FnOnce(&Song, &Reading) -> T) -> Option<T> {
        let back = self.song.apply(edit).ok()?;
        let reading = read(&self.song, &mut self.memory);
        let seen = look(&self.song, &reading);
        let restored = self.song.apply(&back);
        debug_assert!(restored.is_ok(), "an inverse edit always applies");
        Some(seen)
    }

    /// What would follow from an edit, where it ends this warning; `None` where it does not.
    pub fn trial(&mut self, warning: &Warning, edit: &Edit) -> Option<After> {
        let before = std::mem::take(&mut self.warnings);
        let after = self
            .after(edit, |song, reading| {
                consequence(song, reading, warning, &before)
            })
            .flatten();
        self.warnings = before;
        after
    }

    /// A way out that is an edit, where it ends the warning.
    pub fn way(
        &mut self,
        warning: &Warning,
        kind: &'static str,
        text: impl Into<String>,
        edit: Edit,
    ) -> Option<WayOut> {
        let after = self.trial(warning, &edit)?;
        Some(WayOut {
            kind,
            text: text.into(),
            figure: None,
            column: None,
            edit: Some(edit),
            after,
        })
    }

    /// The other wordings kept under the warning's line, those of them that end it.
    pub fn wordings(&mut self, warning: &Warning) -> Vec<WayOut> {
        let node = warning.place.node;
        let others = self.song.line(node).map(|line| line.others.clone());
        let way = |other: String| {
            let text = format!("take the other wording \u{201c}{other}\u{201d}");
            let value = Value::Lyric(other);
            self.way(warning, "wording", text, Edit::Set { node, value })
        };
        others
            .unwrap_or_default()
            .into_iter()
            .filter_map(way)
            .collect()
    }
}

impl WayOut {
    /// The way with its figure.
    #[must_use]
    pub fn with_figure(mut self, value: f64, unit: &'static str) -> Self {
        self.figure = Some(Figure { value, unit });
        self
    }

    /// The way with the column of its breath.
    #[must_use]
    pub const fn at(mut self, column: Column) -> Self {
        self.column = Some(column);
        self
    }
}

fn consequence(
    song: &Song,
    reading: &Reading,
    warning: &Warning,
    before: &[Warning],
) -> Option<After> {
    let now = all(song, reading);
    if now.iter().any(|other| other.is_same_trouble(warning)) {
        return None;
    }
    let is_new = |other: &&Warning| {
        other.severity() == super::Severity::Warning
            && !before.iter().any(|old| old.is_same_trouble(other))
    };
    let line = line_of(reading, warning);
    Some(After {
        verdict: line.and_then(|line| line.verdict),
        air_left: line.and_then(|line| line.air_left),
        seconds: reading.seconds,
        remains: now
            .iter()
            .filter(is_new)
            .map(|other| format!("{}: {}", other.place_in_words(reading), other.message))
            .collect(),
    })
}
