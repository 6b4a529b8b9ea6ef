//! A song opened for a command.

use crate::formats::yaml::read::{Opened, read};
use crate::notebook::open::open;
use crate::wording::message::Message;
use std::path::Path;

/// The song in a file, and what was found odd in it.
///
/// # Errors
/// A message with file and line where it cannot be opened, or is no song.
pub fn load(path: &Path) -> Result<Opened, Message> {
    let opened = open(path)?;
    read(&opened.text).map_err(|message| message.in_file(path.display().to_string()))
}
