//! The list of how a word is said: its readings, and the writer's own; what is taken goes into the song's words.

use super::app::{App, Asking, Effect};
use super::lists::{self, List};
use super::page::Page;
use super::rows::line_of;
use super::update;
use crate::song::NodeId;
use crate::song::edit::{Edit, Value};
use crate::song::place::Row;
use crate::words::{SongWords, as_song_says, read, same_word};

/// How a word may be said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The word, in lower case.
    pub word: String,
    /// The name of its entry in the song's words: as the song writes it, where it has one.
    key: String,
    /// What the song says of it now.
    pub own: Option<String>,
    /// Other ways, as the song would write them, with their counts.
    pub ways: Vec<(String, usize)>,
    /// The one that is chosen; `None` as it is. One past the last is a way that the writer types.
    pub chosen: Option<usize>,
}

/// Opens the list for the word under the cursor.
pub fn open(app: &mut App) -> Vec<Effect> {
    let was_open = matches!(app.list, Some(List::Said(_)));
    let effects = lists::close(app);
    let Some(page) = app.page.as_ref().filter(|_| !was_open) else {
        return effects;
    };
    match word_at_cursor(page) {
        Some(word) => app.list = Some(List::Said(Said::of(word, page))),
        None => app.say("There is no word here: go to a word of the lyric."),
    }
    effects
}

fn word_at_cursor(page: &Page) -> Option<String> {
    let (section, line) = line_of(*page.rows.get(page.cursor.row)?)?;
    let words = &page.line_reading(section, line)?.laid.words;
    let column = page.cursor.place.column;
    let is_lyric = page.cursor.place.row == Row::Lyric;
    let word = words
        .iter()
        .rev()
        .find(|word| word.column <= column && is_lyric)?;
    // Of words sung as one, the one under the cursor.
    let mut behind = word.column.0;
    let mut pieces = word.text.split_whitespace().filter(|piece| {
        behind += crate::song::column::Column::end_of(piece).0 + 1;
        column.0 < behind
    });
    let piece = pieces
        .next()
        .or_else(|| word.text.split_whitespace().last())?;
    Some(piece.to_lowercase())
}

impl Said {
    fn of(word: String, page: &Page) -> Self {
        let entries = &page.desk.song().words;
        let own = entries
            .iter()
            .rev()
            .find(|(known, _)| same_word(known, &word));
        let readings = read(&word, &SongWords::default()).readings;
        let mut ways: Vec<(String, usize)> = Vec::new();
        for reading in &readings {
            let Some(way) = as_song_says(&word, reading) else {
                continue;
            };
            if !ways.iter().any(|(known, _)| *known == way) {
                ways.push((way, reading.count()));
            }
        }
        Self {
            key: own.map_or_else(|| word.clone(), |(known, _)| known.clone()),
            own: own.map(|(_, said)| said.clone()),
            word,
            ways,
            chosen: None,
        }
    }

    /// The edit that takes what is chosen; `None` for the word as it is and for a way still to be typed.
    #[must_use]
    pub fn edit(&self) -> Option<Edit> {
        let (way, _) = self.ways.get(self.chosen?)?;
        Some(entry(&self.key, Some(way.clone())))
    }
}

fn entry(word: &str, said: Option<String>) -> Edit {
    Edit::Set {
        node: NodeId::SONG,
        value: Value::Word(word.to_owned(), said),
    }
}

/// Takes what is chosen, or asks for the writer's own way.
pub fn take(app: &mut App, list: &Said) -> Vec<Effect> {
    let effects = lists::close(app);
    if list.chosen == Some(list.ways.len()) {
        let typed = list.own.clone().unwrap_or_default();
        app.asking = Some(Asking::Said(list.key.clone(), typed));
    } else if let Some(edit) = list.edit() {
        set(app, &edit);
    }
    effects
}

/// Says a word the writer's own way; with nothing typed the song says nothing of it any more.
pub fn answer(app: &mut App, word: &str, typed: &str) {
    let said = Some(typed.trim().to_owned()).filter(|said| !said.is_empty());
    set(app, &entry(word, said));
}

fn set(app: &mut App, edit: &Edit) {
    update::change(app, |page| {
        let place = page.cursor.place;
        page.edit(edit, Some(place))
    });
}
