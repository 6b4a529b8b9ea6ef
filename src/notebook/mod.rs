//! The disk: songs opened and saved, drafts, locks, what was left where.
//!
//! In: paths, the text of a song, a check that the text still says what was meant. Out: text with its stamp, or a `Message`
//! that names the file and the reason. Never: what a song means (the caller reads the text), the screen, a key.
//! Everything here serves one promise: whatever fails, the old file is whole and the words are somewhere.

pub mod disk;
pub mod draft;
pub mod draft_writer;
pub mod folder;
pub mod lock;
pub mod open;
mod place;
pub mod places;
mod reason;
pub mod save;
pub mod signals;
pub mod stamp;
pub mod state;
