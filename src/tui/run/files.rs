//! What the open page does with files: opening, saving, drafts, changes by others.

use super::{Heard, Session};
use crate::desk::Desk;
use crate::notebook::draft_writer::Flush;
use crate::notebook::{draft, folder, open};
use crate::tui::app::{Asking, Then};
use crate::tui::contents::{Contents, SongRow};
use crate::tui::disk::{OnDisk, open_song};
use crate::tui::left_at;
use crate::tui::page::{Draft, Page};
use crate::tui::worker::Question;
use crate::wording::message::Message;
use std::path::Path;
use std::sync::PoisonError;
use std::time::SystemTime;

impl Session {
    pub(super) fn save(&mut self) -> bool {
        let (Some(page), Some(file)) = (&mut self.app.page, &mut self.file) else {
            return false;
        };
        match file.save(page) {
            Ok(doubt) => {
                let name = page.file.name.clone();
                match doubt {
                    Some(doubt) => self.app.warn(doubt.to_string()),
                    None => self.app.say(format!("Saved in {name}.")),
                }
                true
            }
            Err(message) => {
                self.app.warn(message.to_string());
                false
            }
        }
    }

    pub(super) fn keep_both(&mut self) {
        let to_loop = self.heard.clone();
        let (Some(page), Some(file)) = (&mut self.app.page, &mut self.file) else {
            return;
        };
        let other = page.file.name.clone();
        let told = move |news| drop(to_loop.send(Heard::News(news)));
        match file.keep_both(page, self.state.as_deref(), told) {
            Ok(_) => {
                let ours = page.file.name.clone();
                self.share_flush();
                self.app.say(format!("Both are kept: your words in {ours}, open here; the other program's in {other}."));
            }
            Err(message) => self.app.warn(message.to_string()),
        }
    }

    /// Goes on without saving: not before the words are in the draft.
    pub(super) fn leave_draft(&mut self, then: Then) -> Option<u8> {
        self.give_draft();
        let unsaved = self
            .app
            .page
            .as_ref()
            .is_some_and(|page| page.desk.unsaved() && !page.file.read_only);
        if unsaved && !self.told_no_draft {
            let shared = self.flush.lock().unwrap_or_else(PoisonError::into_inner);
            let written = shared.as_ref().map_or_else(
                || Err(Message::new("no draft can be kept here")),
                Flush::now,
            );
            drop(shared);
            if let Err(message) = written {
                self.told_no_draft = true;
                self.app.warn(format!(
                    "{message} Save, or leave once more: then the words are lost."
                ));
                return None;
            }
        }
        self.go_on(then)
    }

    pub(super) fn drop_draft(&mut self) {
        let is_back = self
            .app
            .page
            .as_ref()
            .is_some_and(|page| matches!(page.file.draft, Draft::BroughtBack(_)));
        let Some(file) = self.file.as_mut().filter(|_| is_back) else {
            self.app.say("No draft was brought back.");
            return;
        };
        let path = file.path.clone();
        if let Err(message) = file.drop_draft() {
            self.app.warn(message.to_string());
            return;
        }
        self.close_song();
        match self.open_song(&path) {
            Ok(()) => self
                .app
                .say("The draft is dropped; this is the song as saved."),
            Err(message) => self.app.warn(message.to_string()),
        }
    }

    pub(super) fn give_draft(&mut self) {
        if let (Some(page), Some(file)) = (&self.app.page, &mut self.file) {
            file.give_draft(page);
        }
    }

    pub(super) fn look_at_file(&mut self) {
        let (Some(page), Some(file)) = (&mut self.app.page, &mut self.file) else {
            return;
        };
        let was_changed = page.file.changed;
        match file.look_again(page) {
            Some(Ok(song)) => {
                let words = left_at::words(page.desk.song(), page.cursor.place);
                let mut anew = Page::new(Desk::new(song), page.file.clone());
                if let Some(place) = left_at::place(anew.desk.song(), &words) {
                    anew.go_to(place);
                }
                anew.top = page.top;
                let name = page.file.name.clone();
                *page = anew;
                self.app.list = None;
                self.app.say(format!(
                    "{name} was changed by another program and is read anew."
                ));
            }
            Some(Err(message)) => {
                page.file.changed = true;
                self.app.warn(message.to_string());
            }
            None if page.file.changed && !was_changed => {
                let name = page.file.name.clone();
                self.app.warn(format!(
                    "{name} was changed by another program; your words are not saved."
                ));
            }
            None => {}
        }
    }

    pub(super) fn open_song(&mut self, path: &Path) -> Result<(), Message> {
        let to_loop = self.heard.clone();
        let told = move |news| drop(to_loop.send(Heard::News(news)));
        let opened = open_song(path, self.state.as_deref(), told)?;
        self.close_song();
        self.app.page = Some(opened.page);
        self.app.contents = None;
        self.app.list = None;
        self.file = Some(opened.file);
        self.told_no_draft = false;
        if let Some(said) = opened.said {
            self.app.say(said);
        }
        self.share_flush();
        Ok(())
    }

    /// Keeps the way to write the draft where signals and panics find it.
    pub(super) fn share_flush(&self) {
        let mut shared = self.flush.lock().unwrap_or_else(PoisonError::into_inner);
        *shared = self.file.as_ref().and_then(OnDisk::flush);
    }

    pub(super) fn close_song(&mut self) {
        if let (Some(page), Some(mut file)) = (self.app.page.take(), self.file.take()) {
            file.give_draft(&page);
            file.remember(&page, self.state.as_deref());
            file.end();
        }
        self.app.list = None;
        self.share_flush();
    }

    pub(super) fn show_contents(&mut self) -> Result<(), Message> {
        let entries = folder::songs(&self.folder)?;
        let drafts = self.state.as_deref().map(draft::Drafts::open);
        let has_draft = |path: &Path| {
            drafts
                .as_ref()
                .is_some_and(|drafts| drafts.has(&open::resolve(path)))
        };
        let songs = entries.iter().map(|entry| SongRow {
            entry: entry.clone(),
            facts: None,
            draft: has_draft(&entry.path),
        });
        let asked = self.app.asked + 1;
        self.app.contents = Some(Contents {
            folder: std::fs::canonicalize(&self.folder).unwrap_or_else(|_| self.folder.clone()),
            songs: songs.collect(),
            now: Some(SystemTime::now()),
            ..Contents::default()
        });
        self.app.asked = asked;
        self.app.waiting = true;
        self.app.asking = None::<Asking>;
        self.ask(asked, Question::Songs(entries));
        Ok(())
    }
}
