//! The notebook's first page: the songs of a folder.

use super::app::{App, Asking, Effect};
use super::commands::Action;
use super::worker::SongFacts;
use crate::notebook::folder::Entry;
use std::path::PathBuf;
use std::time::SystemTime;
use unicode_segmentation::UnicodeSegmentation as _;

/// The songs of a folder, and which is chosen.
#[derive(Clone, Debug, Default)]
pub struct Contents {
    /// The folder as the writer named it.
    pub folder: PathBuf,
    /// Its songs, by file name.
    pub songs: Vec<SongRow>,
    /// What is searched.
    pub search: String,
    /// Which of those found is chosen.
    pub chosen: usize,
    /// Which of those found is at the top of the screen.
    pub top: usize,
    /// The time at which the list was made, to tell how long ago a song changed.
    pub now: Option<SystemTime>,
}

/// A song of the folder.
#[derive(Clone, Debug)]
pub struct SongRow {
    /// Its file.
    pub entry: Entry,
    /// What is known of it; `None` until it is read.
    pub facts: Option<SongFacts>,
    /// Whether there is a draft of it.
    pub draft: bool,
}

impl Contents {
    /// The songs that fit what is searched.
    #[must_use]
    pub fn found(&self) -> Vec<&SongRow> {
        let search = self.search.to_lowercase();
        let fits = |row: &&SongRow| {
            let title = row.facts.as_ref().map_or("", |facts| &facts.title);
            title.to_lowercase().contains(&search)
                || row.entry.name.to_lowercase().contains(&search)
        };
        self.songs.iter().filter(fits).collect()
    }

    /// Takes in what is known of the song of that number; says whether all are known now.
    pub fn told(&mut self, index: usize, facts: SongFacts) -> bool {
        if let Some(row) = self.songs.get_mut(index) {
            row.facts = Some(facts);
        }
        self.songs.iter().all(|row| row.facts.is_some())
    }

    /// Keeps what is chosen in sight.
    pub fn settle(&mut self, height: usize) {
        let count = self.found().len();
        self.chosen = self.chosen.min(count.saturating_sub(1));
        self.top = self.top.min(self.chosen);
        if self.chosen >= self.top + height.max(1) {
            self.top = self.chosen + 1 - height.max(1);
        }
    }
}

/// A letter typed in the contents searches them.
pub fn typed(app: &mut App, letter: char) {
    if let Some(contents) = &mut app.contents {
        contents.search.push(letter);
        contents.chosen = 0;
    }
}

/// An action in the contents; `None` where it is not theirs.
pub fn act(app: &mut App, action: Action) -> Option<Vec<Effect>> {
    let contents = app.contents.as_mut()?;
    let last = contents.found().len().saturating_sub(1);
    match action {
        Action::Take => {
            let path = contents
                .found()
                .get(contents.chosen)
                .map(|row| row.entry.path.clone());
            return Some(path.map(Effect::Open).into_iter().collect());
        }
        Action::NewSong => app.asking = Some(Asking::Title(String::new())),
        Action::Close if contents.search.is_empty() => {
            // Back to the song that is open behind the contents, if any.
            if app.page.is_some() {
                app.contents = None;
            }
        }
        Action::Close => contents.search.clear(),
        Action::Backspace => {
            let mut letters: Vec<&str> = contents.search.graphemes(true).collect();
            letters.pop();
            contents.search = letters.concat();
        }
        Action::Previous => contents.chosen = contents.chosen.saturating_sub(1),
        Action::Next => contents.chosen = (contents.chosen + 1).min(last),
        Action::PageBack => contents.chosen = contents.chosen.saturating_sub(10),
        Action::PageOn => contents.chosen = (contents.chosen + 10).min(last),
        Action::First => contents.chosen = 0,
        Action::Last => contents.chosen = last,
        _ => return None,
    }
    Some(Vec::new())
}
