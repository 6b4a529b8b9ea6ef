//! All that the screen shows, and nothing that it does not.

use super::commands::Focus;
use super::contents::Contents;
use super::keys::Key;
use super::lists::List;
use super::look::Look;
use super::page::Page;
use super::steady_note::Trials;
use super::worker::{Answer, Question};
use ratatui::layout::Rect;
use std::path::PathBuf;
use std::time::Duration;

/// The fewest columns and rows on which the page shows itself.
pub const SMALLEST: (u16, u16) = (60, 20);
/// Where a list opens beside the lyric instead of over the foot.
pub const BESIDE: u16 = 100;

/// The widest that a page gets: past it, a margin would stand too far from its words.
pub const WIDEST: u16 = 104;
/// The widest that page and list get together.
const WIDEST_OF_ALL: u16 = 162;

/// The program's state; [`super::update`] changes it, [`super::views`] draw it.
#[derive(Debug)]
pub struct App {
    /// What the terminal can show.
    pub look: Look,
    /// Its columns and rows.
    pub size: (u16, u16),
    /// The song that is open.
    pub page: Option<Page>,
    /// The contents, where they are shown in the song's place.
    pub contents: Option<Contents>,
    /// The list that is open.
    pub list: Option<List>,
    /// What the status line asks.
    pub asking: Option<Asking>,
    /// What the status line says until the next key.
    pub said: Option<Said>,
    /// What was copied or cut last.
    pub clip: String,
    /// The question that the worker has, by its number; none of its answers to older ones count.
    pub asked: u64,
    /// Whether an answer is waited for.
    pub waiting: bool,
}

/// What the status line says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The sentence.
    pub text: String,
    /// Whether something went wrong.
    pub alarm: bool,
}

/// What the status line asks.
#[derive(Clone, Debug, PartialEq)]
pub enum Asking {
    /// Words are unsaved: save them before going on?
    Unsaved(Then),
    /// What to find.
    Find(String),
    /// The title of a new song.
    Title(String),
    /// How a word is said: the word, and what is typed.
    Said(String, String),
    /// The tempo, tapped at these moments.
    Tempo(Vec<Duration>),
    /// The steady note, timed.
    SteadyNote(Trials),
}

/// What comes after unsaved words are saved or left in their draft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Then {
    /// The program ends.
    Leave,
    /// The contents are shown.
    Contents,
}

/// All that can happen to the program.
#[derive(Clone, Debug)]
pub enum Event {
    /// A key, and when it was pressed, from any fixed moment on.
    Key(Key, Duration),
    /// Text was pasted into the terminal.
    Paste(String),
    /// The left button was pressed, or dragged, on a cell.
    Click {
        /// Column.
        x: u16,
        /// Row.
        y: u16,
        /// The button was held while the pointer moved.
        dragged: bool,
    },
    /// The wheel turned, downwards or not.
    Wheel(bool),
    /// The terminal has another size.
    Size(u16, u16),
    /// The worker answers the question of that number.
    Answer(u64, Answer),
}

/// What `run` has to do; carried out in order.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Write the song to its file; then, where that succeeded, go on.
    Save(Option<Then>),
    /// Write the song beside its file, which another program has changed.
    KeepBoth,
    /// Drop the draft and open the song as saved.
    DropDraft,
    /// Go on without saving.
    Go(Then),
    /// Ask the worker.
    Ask(u64, Question),
    /// The worker need not go on.
    Stop,
    /// Give text to the terminal's clipboard.
    Copy(String),
    /// Open a song of the contents.
    Open(PathBuf),
    /// Begin a song with this title in the contents' folder.
    NewSong(String),
}

/// The parts of the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Areas {
    /// Title and header values.
    pub head: Rect,
    /// The rows of the song.
    pub page: Rect,
    /// The rule and the strip; empty where a list stands over it.
    pub foot: Rect,
    /// The last row.
    pub status: Rect,
    /// The open list.
    pub list: Rect,
    /// Whether the list stands beside the page.
    pub beside: bool,
}

impl App {
    /// A program that shows nothing yet.
    #[must_use]
    pub const fn new(look: Look, size: (u16, u16)) -> Self {
        Self {
            look,
            size,
            page: None,
            contents: None,
            list: None,
            asking: None,
            said: None,
            clip: String::new(),
            asked: 0,
            waiting: false,
        }
    }

    /// Where a key goes.
    #[must_use]
    pub fn focus(&self) -> Focus {
        match (&self.asking, &self.list, &self.contents, &self.page) {
            (Some(Asking::Unsaved(_)), ..) => Focus::Asking,
            (Some(Asking::Find(_) | Asking::Title(_) | Asking::Said(..)), ..) => Focus::Field,
            (Some(Asking::Tempo(_) | Asking::SteadyNote(_)), ..) => Focus::Tapping,
            (None, Some(_), ..) => Focus::List,
            (None, None, Some(_), _) | (None, None, None, None) => Focus::Contents,
            (None, None, None, Some(page)) => page.focus(),
        }
    }

    /// Says something until the next key.
    pub fn say(&mut self, text: impl Into<String>) {
        self.said = Some(Said {
            text: text.into(),
            alarm: false,
        });
    }

    /// Says until the next key that something went wrong.
    pub fn warn(&mut self, text: impl Into<String>) {
        self.said = Some(Said {
            text: text.into(),
            alarm: true,
        });
    }

    /// Whether the screen is large enough for the page.
    #[must_use]
    pub const fn fits(&self) -> bool {
        self.size.0 >= SMALLEST.0 && self.size.1 >= SMALLEST.1
    }

    /// How the screen is divided.
    #[must_use]
    pub fn areas(&self) -> Areas {
        let (width, height) = (self.size.0.min(WIDEST_OF_ALL), self.size.1);
        let row = |y: u16, rows: u16| Rect::new(0, y, width, rows);
        let narrow = |y: u16, rows: u16| Rect::new(0, y, width.min(WIDEST), rows);
        let head = narrow(0, 1.min(height));
        let status = narrow(height.saturating_sub(1), 1.min(height.saturating_sub(1)));
        let between = height.saturating_sub(2);
        let all_rows = matches!(self.list, Some(List::Actions(_)));
        let (foot_rows, list_rows, beside) = match &self.list {
            _ if self.contents.is_some() && self.list.is_none() => (0, 0, false),
            None => (foot_rows(height), 0, false),
            Some(_) if width >= BESIDE => (foot_rows(height), 0, true),
            Some(_) if all_rows => (0, between, false),
            Some(list) => (0, list.rows().clamp(6, (between / 2).max(6)), false),
        };
        let list_width = if beside {
            (width * 2 / 5).clamp(38, 58)
        } else {
            0
        };
        let page_rows = between.saturating_sub(foot_rows + list_rows);
        let mut page = row(1, page_rows);
        page.width = width.saturating_sub(list_width).min(WIDEST);
        let list = if beside {
            Rect::new(page.width, 1, list_width, page_rows)
        } else {
            row(1 + page_rows, list_rows)
        };
        Areas {
            head,
            page,
            foot: row(1 + page_rows, foot_rows),
            status,
            list,
            beside,
        }
    }

    /// Brings everything that depends on the screen's size in order, before it is drawn.
    pub fn settle(&mut self) {
        let areas = self.areas();
        if let Some(page) = &mut self.page {
            page.settle(usize::from(areas.page.height));
        }
        if let Some(contents) = &mut self.contents {
            contents.settle(usize::from(areas.page.height.saturating_sub(2)));
        }
    }
}

/// Rows of the rule and the strip under it.
const fn foot_rows(height: u16) -> u16 {
    match height {
        0..=23 => 5,
        24..=31 => 6,
        _ => 8,
    }
}
