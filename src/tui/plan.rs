//! The list with other chords for every repeat of a tune: all of them at once, or one repeat's.

use super::app::{App, Effect};
use super::lists::{self, List};
use super::rows::section_of;
use super::sheet::start_of;
use super::update;
use super::worker::{Offer, Question};
use crate::song::edit::Edit;
use crate::song::place::Row;

/// A variant for each repeat of a tune.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The section from which it was asked.
    pub section: usize,
    /// The variants with the indexes of their sections; `None` while they are computed, or where that was stopped.
    pub offers: Option<Vec<(usize, Offer)>>,
    /// The row that is chosen: 0 all repeats, then one after the other; `None` for the chords as written.
    pub chosen: Option<usize>,
}

impl Plan {
    /// How many rows can be chosen beneath the chords as written.
    #[must_use]
    pub fn rows(&self) -> usize {
        match &self.offers {
            Some(offers) if self.changes() => offers.len() + 1,
            _ => 0,
        }
    }

    /// Whether any repeat would change.
    #[must_use]
    pub fn changes(&self) -> bool {
        let mut offers = self.offers.iter().flatten();
        offers.any(|(_, offer)| offer.edit.is_some())
    }

    /// The section whose row is chosen; the one from which it was asked for all of them.
    #[must_use]
    pub fn shown(&self) -> Option<usize> {
        let index = self.chosen.and_then(|chosen| chosen.checked_sub(1));
        match index {
            Some(index) => Some(self.offers.as_ref()?.get(index)?.0),
            None => Some(self.section),
        }
    }

    /// The edit of the row that is chosen; `None` where it changes nothing.
    #[must_use]
    pub fn edit(&self) -> Option<Edit> {
        let offers = self.offers.as_ref()?;
        match self.chosen?.checked_sub(1) {
            Some(index) => offers.get(index)?.1.edit.clone(),
            None => {
                let edits = offers.iter().filter_map(|(_, offer)| offer.edit.clone());
                Some(Edit::Group(edits.collect()))
            }
        }
    }
}

/// Puts the cursor into the section's first line, so that its chords are in sight.
pub fn go_to(app: &mut App, section: Option<usize>) {
    let Some(page) = &mut app.page else { return };
    let sections = &page.desk.song().sections;
    let section = section.and_then(|index| sections.get(index));
    if let Some(line) = section.and_then(|section| section.lines.first()) {
        page.go_to(start_of(line.id, Row::Lyric));
    }
}

/// Opens the plan for the tune of the cursor's section.
pub fn open(app: &mut App) -> Vec<Effect> {
    let was_open = matches!(app.list, Some(List::Plan(_)));
    let mut effects = lists::close(app);
    let page = app.page.as_ref().filter(|_| !was_open);
    let row = page.and_then(|page| page.rows.get(page.cursor.row));
    if let Some(section) = row.and_then(|row| section_of(*row)) {
        app.list = Some(List::Plan(Plan {
            section,
            offers: None,
            chosen: None,
        }));
        effects.extend(lists::ask(app, Question::Plan(section)));
    }
    effects
}

/// Takes what is chosen.
pub fn take(app: &mut App, list: &Plan) -> Vec<Effect> {
    let effects = lists::close(app);
    let Some(edit) = list.edit() else {
        return effects;
    };
    if update::take(app, &edit) {
        app.say("The chords are taken. Ctrl-Z puts the others back.");
    }
    effects
}
