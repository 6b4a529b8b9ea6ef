//! A song's file and its draft while the song is open.

use super::left_at;
use super::page::{Draft, FileState, Page};
use crate::desk::Desk;
use crate::formats::yaml::content::same_song;
use crate::formats::yaml::read::read;
use crate::formats::yaml::write::write;
use crate::notebook::draft::{Drafts, Standing};
use crate::notebook::draft_writer::{DraftWriter, Flush, News};
use crate::notebook::lock::{Lock, Taken, take};
use crate::notebook::open::{self, Change};
use crate::notebook::stamp::Stamp;
use crate::notebook::{disk, places, save};
use crate::song::Song;
use crate::tui::views::contents::ago;
use crate::wording::message::Message;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// A state that no song at a desk is ever in: what is at the desk is then unsaved.
const NEVER: u64 = u64::MAX;

/// An open song's file.
pub struct OnDisk {
    /// The path as given.
    pub path: PathBuf,
    /// The real path.
    pub resolved: PathBuf,
    stamp: Stamp,
    lock: Option<Lock>,
    writer: Option<DraftWriter>,
    /// The revision of the desk that the draft's thread has last been given.
    given: u64,
}

/// A song opened for the page, and what there is to say about it.
pub struct OpenedSong {
    /// The page.
    pub page: Page,
    /// Its file.
    pub file: OnDisk,
    /// A sentence for the status line.
    pub said: Option<String>,
}

/// Opens a song with its draft, its lock and the place where it was left.
///
/// `state` is the folder for drafts, locks and places; `told` hears from the draft's thread.
///
/// # Errors
/// A message that names the file, where it cannot be opened or is no song.
pub fn open_song(
    path: &Path,
    state: Option<&Path>,
    told: impl Fn(News) + Send + 'static,
) -> Result<OpenedSong, Message> {
    let opened = open::open(path)?;
    let named = |message: Message| message.in_file(path.display().to_string());
    let mut song = read(&opened.text).map_err(named)?.song;
    let mut file = FileState {
        name: file_name(path),
        ..FileState::default()
    };
    let mut said = None;
    let (mut unsaved, mut left) = (false, None);
    let drafts = state.map(Drafts::open);
    let mut lock = None;
    match state.map(|state| take(state, &opened.resolved)) {
        Some(Taken::Ours(ours)) => lock = Some(ours),
        Some(Taken::AlreadyOpen) => {
            file.read_only = true;
            said = Some(format!(
                "{} is already open in another window; here it can only be read.",
                file.name
            ));
        }
        Some(Taken::Unknown(_)) | None => file.draft = Draft::NotKept,
    }
    if !file.read_only {
        disk::clean(folder_of(&opened.resolved));
    }
    if let Some(drafts) = drafts.as_ref().filter(|_| !file.read_only) {
        match drafts.find(&opened.resolved) {
            Ok(Some(draft)) => match (draft.standing(&opened), read(&draft.text)) {
                (Standing::Saved, _) => {
                    // The words are in the file already: nothing is lost where the draft cannot be removed.
                    let _ = drafts.remove(&opened.resolved);
                }
                (standing, Ok(brought_back)) => {
                    song = brought_back.song;
                    unsaved = true;
                    left = Some(draft.cursor.clone());
                    let when = ago(SystemTime::now(), draft.written);
                    file.changed = standing == Standing::FileChanged;
                    let key = super::commands::key_of(super::commands::Action::DropDraft);
                    said = Some(if file.changed {
                        format!(
                            "The draft from {when} is back, but {} was changed since. Ctrl-S says more; {key} drops the draft.",
                            file.name
                        )
                    } else {
                        format!("The draft from {when} is back. Ctrl-S saves it; {key} drops it.")
                    });
                    file.draft = Draft::BroughtBack(when);
                }
                (_, Err(message)) => {
                    said = Some(format!(
                        "The draft is kept, but cannot be read: {}",
                        message.sentence()
                    ))
                }
            },
            Ok(None) => {}
            Err(message) => said = Some(message.to_string()),
        }
    }
    let left = left.or_else(|| places::recall(state?, &opened.resolved));
    let writer = match (&drafts, file.read_only) {
        (Some(drafts), false) => {
            DraftWriter::start(drafts.clone(), &opened.resolved, &opened.stamp, told).ok()
        }
        _ => None,
    };
    if writer.is_none() && !file.read_only {
        file.draft = Draft::NotKept;
    }
    let mut desk = Desk::new(song);
    if unsaved {
        desk.saved(NEVER);
    }
    let mut page = Page::new(desk, file);
    if let Some(place) = left.and_then(|left| left_at::place(page.desk.song(), &left)) {
        page.go_to(place);
        page.top = page.cursor.row.saturating_sub(6);
    }
    let file = OnDisk {
        path: path.to_owned(),
        resolved: opened.resolved,
        stamp: opened.stamp,
        lock,
        writer,
        given: 0,
    };
    Ok(OpenedSong { page, file, said })
}

impl OnDisk {
    /// Writes the song into its file.
    ///
    /// # Errors
    /// A message that names the file and the reason; words and old file stay.
    pub fn save(&mut self, page: &mut Page) -> Result<Option<Message>, Message> {
        if let Change::Text(_) = open::change(&self.resolved, &self.stamp) {
            page.file.changed = true;
            page.file.told_changed = true;
            return Err(
                Message::new("not saved; the file was changed by another program")
                    .next("Ctrl-S again keeps both texts.")
                    .in_file(page.file.name.clone()),
            );
        }
        let text = write(page.desk.song());
        let state = page.desk.state();
        let saved = save::save(&self.resolved, &text, |back| {
            as_meant(page.desk.song(), back)
        })?;
        self.stamp = saved.stamp;
        page.desk.saved(state);
        page.file.changed = false;
        page.file.told_changed = false;
        self.settle(page);
        Ok(saved.doubt)
    }

    /// Writes the song beside its file, which another program has changed, and goes on in the new file. Gives its path.
    ///
    /// # Errors
    /// A message that names the file and the reason.
    pub fn keep_both(
        &mut self,
        page: &mut Page,
        state: Option<&Path>,
        told: impl Fn(News) + Send + 'static,
    ) -> Result<PathBuf, Message> {
        let text = write(page.desk.song());
        let path = save::keep_both(&self.resolved, &text)?;
        let opened = open::open(&path)?;
        page.desk.saved(page.desk.state());
        self.settle(page);
        self.lock = match state.map(|state| take(state, &opened.resolved)) {
            Some(Taken::Ours(lock)) => Some(lock),
            _ => None,
        };
        self.writer = state.and_then(|state| {
            DraftWriter::start(Drafts::open(state), &opened.resolved, &opened.stamp, told).ok()
        });
        page.file = FileState {
            name: file_name(&path),
            ..FileState::default()
        };
        self.path.clone_from(&path);
        self.resolved = opened.resolved;
        self.stamp = opened.stamp;
        Ok(path)
    }

    /// The draft is no longer needed.
    fn settle(&mut self, page: &mut Page) {
        if let Some(writer) = &self.writer {
            page.file.draft = match writer.settle(&self.stamp) {
                Ok(()) => Draft::Quiet,
                // A draft that equals the file is told from one that does not when the song is opened.
                Err(_) => page.file.draft.clone(),
            };
        }
    }

    /// Takes the draft away, as the writer wished.
    ///
    /// # Errors
    /// A message that names the draft's file.
    pub fn drop_draft(&mut self) -> Result<(), Message> {
        self.writer
            .as_ref()
            .map_or(Ok(()), |writer| writer.settle(&self.stamp))
    }

    /// Hands the song to the draft's thread where it changed since the last time; where all was undone, the draft goes.
    pub fn give_draft(&mut self, page: &Page) {
        if page.desk.revision() == self.given || page.file.read_only {
            return;
        }
        self.given = page.desk.revision();
        let Some(writer) = &self.writer else {
            return;
        };
        if page.desk.unsaved() {
            writer.put(
                write(page.desk.song()),
                left_at::words(page.desk.song(), page.cursor.place),
            );
        } else {
            // One that cannot be removed is offered when the song is opened again, and dropped there.
            let _ = writer.settle(&self.stamp);
        }
    }

    /// A way to write the draft at once from another thread; `None` where no draft is kept.
    #[must_use]
    pub fn flush(&self) -> Option<Flush> {
        self.writer.as_ref().map(DraftWriter::flush)
    }

    /// What another program did to the file. Where nothing is unsaved, gives the song anew.
    pub fn look_again(&mut self, page: &mut Page) -> Option<Result<Song, Message>> {
        match open::change(&self.resolved, &self.stamp) {
            Change::Same => None,
            Change::Touched(stamp) => {
                self.stamp = stamp;
                None
            }
            Change::Text(opened) if !page.desk.unsaved() => {
                self.stamp = opened.stamp;
                Some(
                    read(&opened.text)
                        .map(|opened| opened.song)
                        .map_err(|message| message.in_file(page.file.name.clone())),
                )
            }
            Change::Text(_) => {
                page.file.changed = true;
                None
            }
            Change::Gone | Change::Unreadable(_) => None,
        }
    }

    /// Remembers where the song is left.
    pub fn remember(&self, page: &Page, state: Option<&Path>) {
        if let Some(state) = state.filter(|_| !page.file.read_only) {
            // A place that is not remembered costs the writer a few keys, and no words.
            let _ = places::remember(
                state,
                &self.resolved,
                &left_at::words(page.desk.song(), page.cursor.place),
            );
        }
    }

    /// Ends with the song: what its killed saves left goes, the lock is let go.
    pub fn end(self) {
        if self.lock.is_some() {
            disk::clean(folder_of(&self.resolved));
        }
    }
}

fn as_meant(song: &Song, back: &str) -> Result<(), Message> {
    match read(back) {
        Ok(read_back) if same_song(song, &read_back.song) => Ok(()),
        _ => Err(
            Message::new("not saved; what was written does not read back as this song")
                .next("The file is as it was; your words are kept in the draft."),
        ),
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(
        || path.display().to_string(),
        |name| name.to_string_lossy().into_owned(),
    )
}

fn folder_of(path: &Path) -> &Path {
    path.parent().unwrap_or_else(|| Path::new("."))
}
