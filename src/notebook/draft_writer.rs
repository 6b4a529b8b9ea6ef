//! The thread that writes drafts while the writer types.

use super::draft::{Draft, Drafts};
use super::stamp::Stamp;
use crate::wording::message::Message;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError, TryLockError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant, SystemTime};

/// How long after the first unsaved key the draft is written: with the writing itself it stays below one second.
const GATHER: Duration = Duration::from_millis(500);

/// How long after a failure it is tried again.
const RETRY: Duration = Duration::from_secs(2);

/// How long [`Flush::now`] waits for a write that is at work: a signal has to end the program within two seconds.
const PATIENCE: Duration = Duration::from_secs(1);

/// What the thread has to tell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum News {
    /// The draft is on the disk, with all that was typed until this moment.
    Written(SystemTime),
    /// It could not be written. It is tried again by itself; the same failure is told once.
    Failed(Message),
}

/// Writes the draft of one song, in a thread of its own that ends, with all words written, when this is dropped.
pub struct DraftWriter {
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

/// Writes the latest words at once, from any thread: for a signal's thread and a panic's hook.
#[derive(Clone)]
pub struct Flush {
    shared: Arc<Shared>,
}

struct Shared {
    song: PathBuf,
    drafts: Drafts,
    state: Mutex<State>,
    woken: Condvar,
    /// Held while the draft's file is written or removed, so that no older text follows a newer.
    turn: Mutex<()>,
}

struct State {
    latest: Option<Arc<(String, String)>>,
    /// Grows with each text put; what is on the disk has the number `written`.
    number: u64,
    written: u64,
    /// When the first text came that is not on the disk.
    since: Instant,
    based_on: u64,
    ending: bool,
}

impl State {
    fn is_unwritten(&self) -> bool {
        self.latest.is_some() && self.written < self.number
    }
}

impl DraftWriter {
    /// Begins to wait for words of the song at this resolved path, whose file has this stamp. `told` is called from the thread.
    ///
    /// *Errors* where the system gives no thread.
    pub fn start(
        drafts: Drafts,
        song: &Path,
        stamp: &Stamp,
        told: impl Fn(News) + Send + 'static,
    ) -> Result<Self, Message> {
        let shared = Arc::new(Shared {
            song: song.to_owned(),
            drafts,
            state: Mutex::new(State {
                latest: None,
                number: 0,
                written: 0,
                since: Instant::now(),
                based_on: stamp.sum(),
                ending: false,
            }),
            woken: Condvar::new(),
            turn: Mutex::new(()),
        });
        let of_thread = Arc::clone(&shared);
        let thread = thread::Builder::new()
            .name("draft".to_owned())
            .spawn(move || work(&of_thread, told))
            .map_err(|_no_thread| {
                Message::new("no draft is kept; the system gives no further thread")
                    .next("Save often.")
            })?;
        Ok(Self {
            shared,
            thread: Some(thread),
        })
    }

    /// Hands over the song's text with the latest key in it and where the cursor is: it is on the disk within a second.
    pub fn put(&self, text: String, cursor: String) {
        let mut state = self.shared.state();
        if !state.is_unwritten() {
            state.since = Instant::now();
        }
        state.latest = Some(Arc::new((text, cursor)));
        state.number += 1;
        drop(state);
        self.shared.woken.notify_all();
    }

    /// Takes the draft away: the words are in the song's file, which has this stamp now, or the writer dropped them.
    ///
    /// *Errors*: a message that names the draft's file, where it could not be removed. Opening the song tells a draft that equals
    /// the file from one that does not.
    pub fn settle(&self, stamp: &Stamp) -> Result<(), Message> {
        let turn = self.shared.turn.lock();
        let turn = turn.unwrap_or_else(PoisonError::into_inner);
        let mut state = self.shared.state();
        state.latest = None;
        state.written = state.number;
        state.based_on = stamp.sum();
        drop(state);
        let removed = self.shared.drafts.remove(&self.shared.song);
        drop(turn);
        removed
    }

    /// A way to write the latest words at once, from another thread.
    #[must_use]
    pub fn flush(&self) -> Flush {
        Flush {
            shared: Arc::clone(&self.shared),
        }
    }
}

impl Drop for DraftWriter {
    fn drop(&mut self) {
        self.shared.state().ending = true;
        self.shared.woken.notify_all();
        if let Some(thread) = self.thread.take() {
            // A panic of the thread was told when it happened.
            let _ = thread.join();
        }
    }
}

impl Flush {
    /// Writes the latest words, if they are not on the disk yet. Takes a second at most where another write is at work.
    ///
    /// *Errors*: a message that says why they are not.
    pub fn now(&self) -> Result<(), Message> {
        let end = Instant::now() + PATIENCE;
        loop {
            let turn = match self.shared.turn.try_lock() {
                Ok(turn) => turn,
                Err(TryLockError::Poisoned(poisoned)) => poisoned.into_inner(),
                Err(TryLockError::WouldBlock) if Instant::now() < end => {
                    thread::sleep(Duration::from_millis(5));
                    continue;
                }
                Err(TryLockError::WouldBlock) => {
                    return Err(Message::new(
                        "no draft was written; the disk does not answer",
                    ));
                }
            };
            return self.shared.write(&turn).map(drop);
        }
    }

    /// Where the draft stands, for a last line on the screen.
    #[must_use]
    pub fn path(&self) -> PathBuf {
        self.shared.drafts.path(&self.shared.song)
    }
}

impl Shared {
    fn state(&self) -> MutexGuard<'_, State> {
        // No holder leaves the state half changed, so that a panic of one does no harm.
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Writes what is not on the disk yet, `false` where nothing was to be written. Takes the turn as a proof that it is ours.
    fn write(&self, _turn: &MutexGuard<'_, ()>) -> Result<bool, Message> {
        let began = Instant::now();
        let (latest, number, based_on) = {
            let state = self.state();
            match &state.latest {
                Some(latest) if state.is_unwritten() => {
                    (Arc::clone(latest), state.number, state.based_on)
                }
                _ => return Ok(false),
            }
        };
        let (text, cursor) = latest.as_ref().clone();
        let draft = Draft {
            text,
            cursor,
            written: SystemTime::now(),
            based_on,
        };
        self.drafts.write(&self.song, &draft)?;
        let mut state = self.state();
        state.written = number;
        // What came while this was being written waits no longer than its own second.
        state.since = began;
        Ok(true)
    }
}

/// What the thread does: waits for words, lets some gather, writes, and tries again after a failure.
fn work(shared: &Shared, told: impl Fn(News)) {
    let mut failure: Option<(Message, Instant)> = None;
    loop {
        let ending = wait(shared, failure.as_ref().map(|(_, at)| *at + RETRY));
        let turn = shared.turn.lock().unwrap_or_else(PoisonError::into_inner);
        let outcome = shared.write(&turn);
        drop(turn);
        match outcome {
            Ok(false) => {}
            Ok(true) => {
                failure = None;
                told(News::Written(SystemTime::now()));
            }
            Err(message) => {
                if failure.as_ref().is_none_or(|(last, _)| *last != message) {
                    told(News::Failed(message.clone()));
                }
                failure = Some((message, Instant::now()));
            }
        }
        if ending {
            return;
        }
    }
}

/// Waits until there are words that are due, not before `earliest`, or until the session ends; says whether it does.
fn wait(shared: &Shared, earliest: Option<Instant>) -> bool {
    let mut state = shared.state();
    loop {
        if state.ending {
            return true;
        }
        if !state.is_unwritten() {
            state = shared
                .woken
                .wait(state)
                .unwrap_or_else(PoisonError::into_inner);
            continue;
        }
        let due = state.since + GATHER;
        let due = earliest.map_or(due, |earliest| due.max(earliest));
        let now = Instant::now();
        if now >= due {
            return false;
        }
        let waited = shared.woken.wait_timeout(state, due - now);
        state = waited.unwrap_or_else(PoisonError::into_inner).0;
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::{DraftWriter, News};
    use crate::notebook::disk::{Disk, RealDisk};
    use crate::notebook::draft::{Drafts, Standing};
    use crate::notebook::open::{Opened, open};
    use std::fs::{self, File};
    use std::io::{self, ErrorKind};
    use std::path::PathBuf;
    use std::sync::Arc;
    use std::sync::atomic::{AtomicBool, Ordering};
    use std::sync::mpsc::{Receiver, channel};
    use std::time::Duration;

    /// A disk that is full as long as somebody says so.
    #[derive(Default)]
    struct Full(AtomicBool);

    impl Disk for Full {
        fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
            if self.0.load(Ordering::Relaxed) {
                return Err(ErrorKind::StorageFull.into());
            }
            RealDisk.write(file, bytes)
        }
    }

    struct Desk {
        folder: tempfile::TempDir,
        song: Opened,
        disk: Arc<Full>,
        news: Receiver<News>,
        writer: DraftWriter,
    }

    impl Desk {
        fn new() -> Self {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("ferry.yaml");
            fs::write(&path, "old").unwrap();
            let song = open(&path).unwrap();
            let disk = Arc::new(Full::default());
            let state = folder.path().join("state");
            let drafts = Drafts::on_disk(&state, disk.clone());
            let (tell, news) = channel();
            let writer = DraftWriter::start(drafts, &song.resolved, &song.stamp, move |news| {
                let _ = tell.send(news);
            });
            let writer = writer.unwrap();
            Self {
                folder,
                song,
                disk,
                news,
                writer,
            }
        }

        fn state(&self) -> PathBuf {
            self.folder.path().join("state")
        }

        fn put(&self, text: &str) {
            self.writer.put(text.to_owned(), "1:1".to_owned());
        }

        /// Waits for news; the limit only keeps a broken test from hanging.
        fn news(&self) -> News {
            self.news.recv_timeout(Duration::from_secs(60)).unwrap()
        }

        fn draft(&self) -> Option<String> {
            let draft = Drafts::open(&self.state())
                .find(&self.song.resolved)
                .unwrap();
            draft.map(|draft| draft.text)
        }
    }

    #[test]
    fn the_latest_words_come_to_the_disk_by_themselves() {
        let desk = Desk::new();
        desk.put("n");
        desk.put("new");
        assert!(matches!(desk.news(), News::Written(_)));
        assert_eq!(desk.draft().as_deref(), Some("new"));
        let draft = Drafts::open(&desk.state())
            .find(&desk.song.resolved)
            .unwrap()
            .unwrap();
        assert_eq!(draft.cursor, "1:1");
        assert_eq!(draft.standing(&desk.song), Standing::Newer);
        fs::write(&desk.song.path, "another program's").unwrap();
        assert_eq!(
            draft.standing(&open(&desk.song.path).unwrap()),
            Standing::FileChanged
        );
        fs::write(&desk.song.path, "new").unwrap();
        assert_eq!(
            draft.standing(&open(&desk.song.path).unwrap()),
            Standing::Saved
        );
    }

    #[test]
    fn a_failure_is_told_once_and_tried_again() {
        let desk = Desk::new();
        desk.disk.0.store(true, Ordering::Relaxed);
        desk.put("new");
        let News::Failed(message) = desk.news() else {
            unreachable!("the disk is full");
        };
        let message = message.to_string();
        assert!(message.starts_with("ferry.yaml: no draft in "), "{message}");
        assert!(message.contains("the disk is full"), "{message}");
        assert!(desk.writer.flush().now().is_err());
        assert_eq!(desk.draft(), None);
        desk.disk.0.store(false, Ordering::Relaxed);
        assert!(matches!(desk.news(), News::Written(_)));
        assert_eq!(desk.draft().as_deref(), Some("new"));
    }

    #[test]
    fn another_thread_can_write_at_once_even_after_a_panic() {
        let desk = Desk::new();
        let flush = desk.writer.flush();
        desk.put("new");
        let panicked = std::thread::scope(|scope| {
            scope
                .spawn(|| {
                    let _turn = desk.writer.shared.turn.lock();
                    let _state = desk.writer.shared.state.lock();
                    std::panic::resume_unwind(Box::new("a thread that held everything"));
                })
                .join()
        });
        assert!(panicked.is_err());
        flush.now().unwrap();
        assert_eq!(desk.draft().as_deref(), Some("new"));
        assert!(flush.path().exists());
    }

    #[test]
    fn a_saved_song_has_no_draft_and_leaving_without_saving_keeps_it() {
        let desk = Desk::new();
        desk.put("saved");
        desk.writer.flush().now().unwrap();
        desk.writer.settle(&desk.song.stamp).unwrap();
        assert_eq!(desk.draft(), None);
        desk.writer.flush().now().unwrap();
        assert_eq!(desk.draft(), None);

        desk.put("kept");
        let Desk {
            folder,
            song,
            writer,
            ..
        } = desk;
        drop(writer);
        let draft = Drafts::open(&folder.path().join("state")).find(&song.resolved);
        assert_eq!(draft.unwrap().unwrap().text, "kept");
    }
}
