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
