//! Nothing typed is lost when the program ends from outside, or by a mistake of its own.

use crate::notebook::draft_writer::Flush;
use crate::tui::screen::give_back;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

/// Where the draft of the open song is written to at once; kept for signals and panics.
pub(super) type SharedFlush = Arc<Mutex<Option<Flush>>>;

/// A panic writes the draft, gives the terminal back and says where the draft lies. One in a helping thread only ends that thread.
pub(super) fn stop_cleanly(flush: &SharedFlush) {
    let flush = Arc::clone(flush);
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        if matches!(thread::current().name(), Some("worker" | "draft")) {
            return;
        }
        flush_now(&flush);
        give_back();
        usual(panic);
        let shared = flush.try_lock().ok();
        let lies = shared
            .as_ref()
            .and_then(|shared| shared.as_ref())
            .map(Flush::path);
        last_words(lies);
    }));
}

#[expect(
    clippy::print_stderr,
    reason = "the last words of a program that stops by its own mistake"
)]
fn last_words(draft: Option<PathBuf>) {
    match draft {
        Some(path) => eprintln!(
            "breathmark stopped by a mistake of its own. The draft with your words: {}",
            path.display()
        ),
        None => eprintln!("breathmark stopped by a mistake of its own. No draft was kept."),
    }
}

pub(super) fn flush_now(flush: &SharedFlush) {
    let shared = flush.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(flush) = shared.as_ref() {
        // Where even this fails, there is nobody left to tell.
        let _ = flush.now();
    }
}
