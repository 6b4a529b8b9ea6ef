//! The lists beside the lyric or over the foot: actions, warnings with their ways out, variants, rhymes, how a word is said, what is set aside.

use super::app::{App, Effect};
use super::commands::{Action, COMMANDS, Command, Focus, command};
use super::page::Page;
use super::plan::{self, Plan};
use super::preview::Preview;
use super::rhymes::{self, Rhymes};
use super::rows::{line_of, section_of};
use super::said::{self, Said};
use super::update;
use super::worker::{Answer, Offer, Question};
use crate::song::{Node, NodeId, Song, section_edits};
use crate::warnings::{Severity, Warning, WayOut};
use std::time::Duration;
use unicode_segmentation::UnicodeSegmentation as _;

/// A list that is open.
#[derive(Clone, Debug, PartialEq)]
pub enum List {
    /// Every action, searched by typing.
    Actions(Actions),
    /// One warning after the other, with its ways out.
    Warnings(Warnings),
    /// Other chords for a section.
    Variants(Variants),
    /// Other chords for every repeat of a tune.
    Plan(Plan),
    /// Words that rhyme.
    Rhymes(Rhymes),
    /// How a word is said.
    Said(Said),
    /// What was set aside.
    Aside(Aside),
}

/// The list of actions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Actions {
    /// What is searched.
    pub search: String,
    /// Which of those found is chosen.
    pub chosen: usize,
    /// Where the actions will be done.
    pub focus: Focus,
}

/// The warnings, one at a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Warnings {
    /// Which of the desk's warnings.
    pub at: usize,
    /// Its ways out; `None` while they are computed, or where that was stopped.
    pub ways: Option<Vec<WayOut>>,
    /// The way that is chosen; `None` as long as the song is shown as it is.
    pub chosen: Option<usize>,
}

/// The variants of a section's chords.
#[derive(Clone, Debug, PartialEq)]
pub struct Variants {
    /// The section's index.
    pub section: usize,
    /// The variants; `None` while they are computed, or where that was stopped.
    pub offers: Option<Vec<Offer>>,
    /// The one that is chosen; `None` for the chords as written.
    pub chosen: Option<usize>,
    /// Which of its changes is explained.
    pub change: usize,
}

/// What was set aside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aside {
    /// Which is chosen.
    pub chosen: usize,
}

impl List {
    /// How many rows it would like over the foot.
    #[must_use]
    pub fn rows(&self) -> u16 {
        let many = |count: usize| u16::try_from(count).unwrap_or(u16::MAX);
        match self {
            Self::Actions(_) => u16::MAX,
            Self::Warnings(list) => {
                5_u16.saturating_add(many(list.ways.as_ref().map_or(1, Vec::len)).max(1))
            }
            Self::Variants(list) => {
                6_u16.saturating_add(many(list.offers.as_ref().map_or(1, Vec::len)))
            }
            Self::Plan(list) => 5_u16.saturating_add(many(list.rows())),
            Self::Rhymes(_) => 12,
            Self::Said(list) => 3_u16.saturating_add(many(list.ways.len())),
            Self::Aside(_) => 10,
        }
    }
}

/// The commands that the list of actions shows for a search, those that count at its focus first.
#[must_use]
pub fn found(list: &Actions) -> Vec<&'static Command> {
    let search = list.search.to_lowercase();
    let fits = |row: &&Command| {
        search.split_whitespace().all(|word| {
            row.name.to_lowercase().contains(word)
                || row.says.to_lowercase().contains(word)
                || row.keys.iter().any(|key| key.to_lowercase().contains(word))
        })
    };
    let (here, elsewhere): (Vec<_>, Vec<_>) = COMMANDS
        .iter()
        .filter(fits)
        .partition(|row| row.places.contains(&list.focus));
    here.into_iter().chain(elsewhere).collect()
}

/// What is set aside, in the order of the song, with where it belongs.
#[must_use]
pub fn aside(song: &Song) -> Vec<(NodeId, String, String)> {
    let label = |section: &crate::song::Section| super::sheet::heading_text(section).to_owned();
    let of_sections = song.sections.iter().flat_map(|section| {
        section.set_aside.iter().map(move |line| {
            (
                line.id,
                line.lyric.clone(),
                format!("line of {}", label(section)),
            )
        })
    });
    let of_song = song.set_aside.iter().map(|node| match node {
        Node::Line(line) => (line.id, line.lyric.clone(), "line".to_owned()),
        Node::Section(section) => {
            let first = section.lines.first().map_or("", |line| &line.lyric);
            (
                section.id,
                format!("{}: {first}", label(section)),
                format!("section of {} lines", section.lines.len()),
            )
        }
    });
    of_sections.chain(of_song).collect()
}

/// Opens the list of actions.
pub fn open_actions(app: &mut App, focus: Focus) -> Vec<Effect> {
    let was_open = matches!(app.list, Some(List::Actions(_)));
    let effects = close(app);
    if !was_open {
        app.list = Some(List::Actions(Actions {
            search: String::new(),
            chosen: 0,
            focus,
        }));
    }
    effects
}

/// Opens the warnings at the one nearest to the cursor.
pub fn open_warnings(app: &mut App) -> Vec<Effect> {
    let was_open = matches!(app.list, Some(List::Warnings(_)));
    let mut effects = close(app);
    let Some(page) = app.page.as_ref().filter(|_| !was_open) else {
        return effects;
    };
    if page.desk.warnings().is_empty() {
        app.say("Nothing to warn of.");
        return effects;
    }
    let at = nearest_warning(page);
    effects.extend(show_warning(app, at));
    effects
}

/// What is said of the cursor's line, else the next warning in the song, else the first.
fn nearest_warning(page: &Page) -> usize {
    let row = page.rows.get(page.cursor.row).copied();
    let line = row.and_then(line_of);
    let section = row.and_then(section_of);
    let warnings = page.desk.warnings();
    let of_line = |warning: &Warning| {
        line.is_some_and(|(section, line)| {
            warning.section == Some(section) && warning.line == Some(line)
        })
    };
    let here = (section, line.map(|(_, line)| line));
    let matters = |warning: &&(usize, &Warning)| warning.1.severity() == Severity::Warning;
    let behind = |warning: &&(usize, &Warning)| (warning.1.section, warning.1.line) >= here;
    let numbered = || warnings.iter().enumerate();
    let found = numbered().find(|(_, warning)| of_line(warning));
    let found = found.or_else(|| numbered().find(|each| matters(&each) && behind(&each)));
    found
        .or_else(|| numbered().find(|each| matters(&each)))
        .map_or(0, |(index, _)| index)
}

fn show_warning(app: &mut App, at: usize) -> Vec<Effect> {
    let Some(page) = &mut app.page else {
        return Vec::new();
    };
    page.show(None);
    let Some(warning) = page.desk.warnings().get(at).cloned() else {
        return close(app);
    };
    page.go_to_column(warning.place);
    app.list = Some(List::Warnings(Warnings {
        at,
        ways: None,
        chosen: None,
    }));
    ask(app, Question::WaysOut(warning))
}

/// Opens the variants of the cursor's section.
pub fn open_variants(app: &mut App) -> Vec<Effect> {
    let was_open = matches!(app.list, Some(List::Variants(_)));
    let mut effects = close(app);
    let Some(page) = app.page.as_ref().filter(|_| !was_open) else {
        return effects;
    };
    let Some(section) = page
        .rows
        .get(page.cursor.row)
        .and_then(|row| section_of(*row))
    else {
        return effects;
    };
    app.list = Some(List::Variants(Variants {
        section,
        offers: None,
        chosen: None,
        change: 0,
    }));
    effects.extend(ask(app, Question::Variants(section)));
    effects
}

/// Opens the list of what is set aside.
pub fn open_aside(app: &mut App) -> Vec<Effect> {
    let was_open = matches!(app.list, Some(List::Aside(_)));
    let effects = close(app);
    let Some(page) = app.page.as_ref().filter(|_| !was_open) else {
        return effects;
    };
    if aside(page.desk.song()).is_empty() {
        app.say("Nothing is set aside.");
    } else {
        app.list = Some(List::Aside(Aside { chosen: 0 }));
    }
    effects
}

/// Asks the worker; what was asked before is dropped.
pub(super) fn ask(app: &mut App, question: Question) -> Vec<Effect> {
    app.asked += 1;
    app.waiting = true;
    vec![Effect::Ask(app.asked, question)]
}

/// Closes the list that is open; the song is shown as it is.
pub fn close(app: &mut App) -> Vec<Effect> {
    app.list = None;
    if let Some(page) = &mut app.page {
        page.show(None);
    }
    stop(app)
}

fn stop(app: &mut App) -> Vec<Effect> {
    if !app.waiting {
        return Vec::new();
    }
    app.waiting = false;
    app.asked += 1;
    vec![Effect::Stop]
}

/// What the worker found goes into the list that asked.
pub fn answered(app: &mut App, answer: Answer) {
    match (&mut app.list, answer) {
        (Some(List::Warnings(list)), Answer::WaysOut(ways)) => list.ways = Some(ways),
        (Some(List::Variants(list)), Answer::Variants(offers)) => list.offers = Some(offers),
        (Some(List::Plan(list)), Answer::Plan(offers)) => list.offers = Some(offers),
        (_, Answer::Song(index, facts)) => {
            if let Some(contents) = &mut app.contents {
                app.waiting = !contents.told(index, facts);
            }
        }
        _ => {}
    }
}

/// A letter typed while a list is open: it searches the actions.
pub fn typed(app: &mut App, letter: char) -> Vec<Effect> {
    if let Some(List::Actions(list)) = &mut app.list {
        list.search.push(letter);
        list.chosen = 0;
    }
    Vec::new()
}

/// An action while a list is open; `None` where it is not the list's.
pub fn act(app: &mut App, action: Action) -> Option<Vec<Effect>> {
    Some(match action {
        Action::Close => close(app),
        Action::Stop => stop(app),
        Action::Take => take(app),
        Action::Backspace => {
            if let Some(List::Actions(list)) = &mut app.list {
                let mut letters: Vec<&str> = list.search.graphemes(true).collect();
                letters.pop();
                list.search = letters.concat();
                list.chosen = 0;
            }
            Vec::new()
        }
        Action::Previous
        | Action::Next
        | Action::PageBack
        | Action::PageOn
        | Action::First
        | Action::Last => {
            choose(app, action);
            Vec::new()
        }
        Action::CardBefore | Action::CardAfter => {
            return Some(turn_card(app, action == Action::CardAfter));
        }
        _ => return None,
    })
}

fn choose(app: &mut App, action: Action) {
    let song_aside = app
        .page
        .as_ref()
        .map_or(0, |page| aside(page.desk.song()).len());
    let step = |from: usize, count: usize| -> usize {
        let last = count.saturating_sub(1);
        match action {
            Action::Previous => from.saturating_sub(1),
            Action::Next => (from + 1).min(last),
            Action::PageBack => from.saturating_sub(8),
            Action::PageOn => (from + 8).min(last),
            Action::Last => last,
            _ => 0,
        }
    };
    // Where the song as it is stands above what is offered, it counts as one more.
    let over = |from: Option<usize>, count: usize| {
        step(from.map_or(0, |from| from + 1), count + 1).checked_sub(1)
    };
    match &mut app.list {
        Some(List::Actions(list)) => list.chosen = step(list.chosen, found(list).len()),
        Some(List::Aside(list)) => list.chosen = step(list.chosen, song_aside),
        Some(List::Warnings(list)) => {
            list.chosen = over(list.chosen, list.ways.as_ref().map_or(0, Vec::len));
            let edit = list
                .chosen
                .and_then(|index| list.ways.as_ref()?.get(index)?.edit.clone());
            show(app, edit.as_ref());
        }
        Some(List::Variants(list)) => {
            list.chosen = over(list.chosen, list.offers.as_ref().map_or(0, Vec::len));
            list.change = 0;
            let edit = list
                .chosen
                .and_then(|index| list.offers.as_ref()?.get(index)?.edit.clone());
            show(app, edit.as_ref());
        }
        Some(List::Plan(list)) => {
            list.chosen = over(list.chosen, list.rows());
            let (edit, section) = (list.edit(), list.shown());
            show(app, edit.as_ref());
            plan::go_to(app, section);
        }
        Some(List::Rhymes(list)) => {
            list.chosen = over(list.chosen, list.found.len());
            if let Some(page) = &mut app.page {
                list.show(page);
            }
        }
        Some(List::Said(list)) => {
            list.chosen = over(list.chosen, list.ways.len() + 1);
            let edit = list.edit();
            show(app, edit.as_ref());
        }
        None => {}
    }
}

fn show(app: &mut App, edit: Option<&crate::song::edit::Edit>) {
    if let Some(page) = &mut app.page {
        let preview = edit.and_then(|edit| Preview::of(&page.desk, edit));
        page.show(preview);
    }
}

fn turn_card(app: &mut App, on: bool) -> Vec<Effect> {
    match &mut app.list {
        Some(List::Warnings(list)) => {
            let count = app
                .page
                .as_ref()
                .map_or(0, |page| page.desk.warnings().len());
            let at = if on {
                list.at + 1
            } else {
                list.at.wrapping_sub(1)
            };
            if at < count {
                show_warning(app, at)
            } else {
                Vec::new()
            }
        }
        Some(List::Variants(list)) => {
            let changes = list
                .chosen
                .and_then(|index| list.offers.as_ref()?.get(index))
                .map_or(0, |offer| offer.changes.len());
            list.change = if on {
                (list.change + 1).min(changes.saturating_sub(1))
            } else {
                list.change.saturating_sub(1)
            };
            Vec::new()
        }
        Some(List::Rhymes(list)) => {
            if let Some(page) = &mut app.page {
                page.show(None);
                list.turn(page, on);
            }
            Vec::new()
        }
        _ => Vec::new(),
    }
}

fn take(app: &mut App) -> Vec<Effect> {
    let Some(list) = app.list.clone() else {
        return Vec::new();
    };
    match list {
        List::Actions(list) => {
            let Some(row) = found(&list).get(list.chosen).copied() else {
                return Vec::new();
            };
            let effects = close(app);
            if command(row.action, list.focus).is_none() {
                app.say(format!(
                    "\u{201c}{}\u{201d} counts elsewhere: {}.",
                    row.name,
                    super::commands::where_it_counts(row.places)
                ));
                return effects;
            }
            let focus = app.focus();
            [effects, update::act(app, row.action, focus, Duration::ZERO)].concat()
        }
        List::Warnings(list) => {
            let way = list
                .chosen
                .and_then(|index| list.ways.as_ref()?.get(index).cloned());
            let Some(way) = way else { return close(app) };
            let Some(edit) = way.edit else {
                let effects = close(app);
                app.say("This one is for you to write; the cursor is there.");
                return effects;
            };
            let effects = close(app);
            if update::take(app, &edit) {
                app.say(format!(
                    "Taken: {}. Ctrl-Z takes it back.",
                    way.text.trim_end_matches('.')
                ));
            }
            effects
        }
        List::Variants(list) => {
            let edit = list
                .chosen
                .and_then(|index| list.offers.as_ref()?.get(index)?.edit.clone());
            let effects = close(app);
            let Some(edit) = edit else { return effects };
            if update::take(app, &edit) {
                app.say("The variant is taken. Ctrl-Z puts the chords back.");
            }
            effects
        }
        List::Plan(list) => plan::take(app, &list),
        List::Rhymes(list) => rhymes::take(app, &list),
        List::Said(list) => said::take(app, &list),
        List::Aside(list) => {
            let node = app
                .page
                .as_ref()
                .and_then(|page| aside(page.desk.song()).into_iter().nth(list.chosen))
                .map(|found| found.0);
            let effects = close(app);
            if let Some(node) = node {
                update::change(app, |page| {
                    let step = section_edits::bring_back(page.desk.song(), node)?;
                    page.step(&step)
                });
            }
            effects
        }
    }
}
