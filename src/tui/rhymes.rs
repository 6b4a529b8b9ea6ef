//! The list of rhymes: which word it would replace, what that should rhyme with, and which words do.

use super::app::{App, Effect};
use super::lists::{self, List};
use super::page::Page;
use super::preview::Preview;
use super::rows::line_of;
use super::update;
use crate::reading::laid::LaidWord;
use crate::reading::rhymes::{Inside, answers, inside, place_for};
use crate::song::NodeId;
use crate::song::column::{Column, part_of};
use crate::song::edit::Edit;
use crate::song::place::{Place, Row};
use crate::words::phone::Stress;
use crate::words::rhyme::ending::Ending;
use crate::words::rhyme::search::{Found, Wish, rhymes};
use crate::words::{SongWords, read};

/// Near rhymes are listed up to so many words in all.
const ENOUGH: usize = 60;

/// The list of rhymes.
#[derive(Clone, Debug, PartialEq)]
pub struct Rhymes {
    /// The index of the section.
    pub section: usize,
    /// The index of the line.
    pub line: usize,
    /// The line.
    node: NodeId,
    /// Where the word goes.
    at: Column,
    /// The word that it replaces; empty where it is added.
    pub word: String,
    /// The same word among those of the line.
    index: Option<usize>,
    /// The stresses that its place asks for, a syllable each.
    pub place: Vec<Stress>,
    /// What it may rhyme with, what the scheme asks for first.
    pub targets: Vec<Target>,
    /// Which of these is asked about.
    pub target: usize,
    /// The words that rhyme.
    pub found: Vec<Found>,
    /// The one that is chosen; `None` for the line as written.
    pub chosen: Option<usize>,
    /// What rhymes inside the line.
    pub inside: Vec<Inside>,
}

/// What a word should rhyme with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// The end of the line of that index, which is this word.
    End(usize, String),
    /// The word in whose place it comes.
    Itself(String),
}

impl Target {
    /// The word.
    #[must_use]
    pub fn word(&self) -> &str {
        match self {
            Self::End(_, word) | Self::Itself(word) => word,
        }
    }
}

/// Opens the rhymes for the word under the cursor.
pub fn open(app: &mut App) -> Vec<Effect> {
    let was_open = matches!(app.list, Some(List::Rhymes(_)));
    let effects = lists::close(app);
    let Some(page) = app.page.as_ref().filter(|_| !was_open) else {
        return effects;
    };
    match Rhymes::at_cursor(page) {
        Some(list) => app.list = Some(List::Rhymes(list)),
        None => app.say("There is no word here to rhyme with: go to a line of the lyric."),
    }
    effects
}

impl Rhymes {
    fn at_cursor(page: &Page) -> Option<Self> {
        let (section, line) = line_of(*page.rows.get(page.cursor.row)?)?;
        let read = page.line_reading(section, line)?;
        let words = &read.laid.words;
        let column = match page.cursor.place.row {
            Row::Lyric => page.cursor.place.column,
            _ => words.last().map_or(Column(0), |last| last.end()),
        };
        let before = words.iter().rposition(|word| word.column <= column);
        // Between two words the one before is meant, and behind the last one, too, but for a gap: a new word comes there.
        let lyric = &page.desk.song().line(read.id)?.lyric;
        let gap = |word: &LaidWord| {
            let behind = part_of(lyric, word.end(), column);
            behind.chars().any(char::is_whitespace)
        };
        let index = before.filter(|before| {
            before + 1 < words.len() || words.last().is_some_and(|last| !gap(last))
        });
        let at_end = index.is_none_or(|index| index + 1 == words.len());
        let word = index.and_then(|index| words.get(index));
        let mut targets = Vec::new();
        let ends = &page.reading().sections.get(section)?.rhymes.ends;
        let end = |line: usize| Some(Target::End(line, ends.get(line)?.word.clone()));
        let itself = word.map(|word| Target::Itself(word.text.to_lowercase()));
        if at_end {
            targets.extend(
                answers(page.reading(), section, line)
                    .into_iter()
                    .filter_map(end),
            );
            targets.extend(itself);
        } else {
            targets.extend(itself);
            targets.extend(end(line));
        }
        let own = own_words(page);
        let at = page.reading().sections.get(section)?.lines.start + line;
        let mut list = Self {
            section,
            line,
            node: read.id,
            at: word.map_or(column, |word| word.column),
            word: word.map_or_else(String::new, |word| word.text.clone()),
            index,
            place: Vec::new(),
            targets,
            target: 0,
            found: Vec::new(),
            chosen: None,
            inside: inside(page.reading(), at, &own),
        };
        list.look_up(page);
        (!list.targets.is_empty()).then_some(list)
    }

    /// Asks about another line or word to rhyme with.
    pub fn turn(&mut self, page: &Page, on: bool) {
        let last = self.targets.len().saturating_sub(1);
        self.target = if on {
            (self.target + 1).min(last)
        } else {
            self.target.saturating_sub(1)
        };
        self.chosen = None;
        self.look_up(page);
    }

    fn look_up(&mut self, page: &Page) {
        let own = own_words(page);
        let of = |word: &str| Ending::of_word(&read(word, &own));
        let Some(target) = self.targets.get(self.target) else {
            return;
        };
        let with = of(target.word());
        let Some(line) = page.line_reading(self.section, self.line) else {
            return;
        };
        self.place = place_for(line, self.index, &with.stresses());
        let wish = Wish {
            stresses: &self.place,
            fitting: false,
            except: target.word(),
            enough: ENOUGH,
            syllables: None,
        };
        let replaced = self.word.to_lowercase();
        self.found = rhymes(&with, wish);
        self.found.retain(|found| found.word != replaced);
    }

    /// The edit that puts the chosen word in place, and the cursor behind it.
    #[must_use]
    pub fn edit(&self, page: &Page) -> Option<(Edit, Place)> {
        let found = self.found.get(self.chosen?)?;
        let mut insert = found.word.clone();
        if self.word.chars().next().is_some_and(char::is_uppercase) {
            let mut letters = found.word.chars();
            insert = letters.next()?.to_uppercase().chain(letters).collect();
        }
        let lyric = &page.desk.song().line(self.node)?.lyric;
        let before = self
            .at
            .0
            .checked_sub(1)
            .map(|last| part_of(lyric, Column(last), self.at));
        if self.word.is_empty() && before.is_some_and(|sign| !sign.trim().is_empty()) {
            insert.insert(0, ' ');
        }
        let place = Place {
            node: self.node,
            row: Row::Lyric,
            column: Column(self.at.0 + Column::end_of(&insert).0),
        };
        let edit = Edit::Splice {
            node: self.node,
            row: Row::Lyric,
            at: self.at,
            remove: Column::end_of(&self.word).0,
            insert,
        };
        Some((edit, place))
    }

    /// Shows on the page what is chosen.
    pub fn show(&self, page: &mut Page) {
        let preview = self
            .edit(page)
            .and_then(|(edit, _)| Preview::of(&page.desk, &edit));
        page.show(preview);
    }
}

fn own_words(page: &Page) -> SongWords {
    let words = page.desk.song().words.iter();
    SongWords::new(words.map(|(word, said)| (word.as_str(), said.as_str())))
}

/// Puts the chosen word in place.
pub fn take(app: &mut App, list: &Rhymes) -> Vec<Effect> {
    let effects = lists::close(app);
    let made = app.page.as_ref().and_then(|page| list.edit(page));
    if let Some((edit, place)) = made {
        update::change(app, |page| page.edit(&edit, Some(place)));
    }
    effects
}
