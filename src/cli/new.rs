//! `new`: a new song in the notebook.

use super::Ended;
use super::args::NewArgs;
use super::output::Output;
use crate::formats::yaml::write::write;
use crate::notebook::folder::create_song;
use crate::song::Song;
use crate::wording::message::Message;
use serde::Serialize;

#[derive(Serialize)]
struct Made {
    title: String,
    file: String,
}

/// Writes a new song of that title and says where.
///
/// # Errors
/// Where the title is empty, or the folder does not take the file.
pub fn run(args: &NewArgs, output: &mut Output) -> Result<Ended, Message> {
    let title = args.title.trim();
    if title.is_empty() {
        return Err(Message::new("the title is empty")
            .next("Give the song a name: `breathmark new \"The Long Way Round\"`."));
    }
    let path = create_song(&args.folder, title, &write(&Song::new(title)))?;
    let file = path.display().to_string();
    if output.json() {
        output.value(&Made {
            title: title.to_owned(),
            file,
        })?;
    } else {
        output.row(&file);
    }
    Ok(Ended::Fine)
}
