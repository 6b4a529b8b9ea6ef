//! The table of everything that a key does. Help, status line, the list of actions and the README are made from it.

use Focus::{Asking, Chords, Contents, Field, Heading, List, Lyric, Other, Tapping};

/// Where a key is typed: what the cursor is in, or what is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Focus {
    /// A lyric row.
    Lyric,
    /// A chord row.
    Chords,
    /// A heading or a row of details.
    Heading,
    /// One of a line's other wordings.
    Other,
    /// A list beside the lyric or over the foot.
    List,
    /// A question in the status line that is answered with a key.
    Asking,
    /// A question in the status line that is answered with words.
    Field,
    /// The tempo is being tapped.
    Tapping,
    /// The contents of the notebook.
    Contents,
}

impl Focus {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Lyric, Chords, Heading, Other, List, Asking, Field, Tapping, Contents,
    ];
}

/// What a key does; one for each row of [`COMMANDS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "each is described by its row's sentence")]
pub enum Action {
    Left,
    Right,
    Up,
    Down,
    WordLeft,
    WordRight,
    RowStart,
    RowEnd,
    PageUp,
    PageDown,
    SongStart,
    SongEnd,
    SectionBefore,
    SectionAfter,
    Enter,
    Backspace,
    Delete,
    WordBackspace,
    WordDelete,
    ChordRow,
    ChordLeft,
    ChordRight,
    Borrow,
    BorrowedRows,
    OtherWordings,
    KeepWording,
    SwapWording,
    UseWording,
    MoveUp,
    MoveDown,
    NewSection,
    Again,
    SetAside,
    AsideList,
    Details,
    SongDetails,
    Warnings,
    Variants,
    Plan,
    Rhymes,
    Said,
    TapTempo,
    TimeNote,
    Undo,
    Redo,
    Cut,
    Copy,
    Paste,
    Find,
    Save,
    DropDraft,
    OpenContents,
    Help,
    Leave,
    Close,
    Take,
    Previous,
    Next,
    First,
    Last,
    PageBack,
    PageOn,
    CardBefore,
    CardAfter,
    Stop,
    NewSong,
    Tap,
    LeaveWithoutSaving,
}

/// A row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Command {
    /// What is done.
    pub action: Action,
    /// A short name, as the status line shows it.
    pub name: &'static str,
    /// The keys, by name; the first is the one that hints show.
    pub keys: &'static [&'static str],
    /// Where they count.
    pub places: &'static [Focus],
    /// What it does, in a sentence without its full stop.
    pub says: &'static str,
}

const ROWS: &[Focus] = &[Lyric, Chords, Heading, Other];
const LINES: &[Focus] = &[Lyric, Chords, Other];
const SONG: &[Focus] = &[Lyric, Chords, Heading, Other, List];
const EVERYWHERE: &[Focus] = &Focus::ALL;

const fn row(
    action: Action,
    name: &'static str,
    keys: &'static [&'static str],
    places: &'static [Focus],
    says: &'static str,
) -> Command {
    Command {
        action,
        name,
        keys,
        places,
        says,
    }
}

/// Every command, in the order in which the help shows them.
#[rustfmt::skip]
pub const COMMANDS: &[Command] = &[
    row(Action::Help, "help", &["F1"], &[Lyric, Chords, Heading, Other, List, Contents], "Show every action and its key; type to search, Enter does it"),
    row(Action::Save, "save", &["Ctrl-S"], SONG, "Write the song to its file"),
    row(Action::Leave, "leave", &["Ctrl-Q"], EVERYWHERE, "Leave; with unsaved words it asks first"),
    row(Action::Undo, "undo", &["Ctrl-Z"], ROWS, "Undo the last change"),
    row(Action::Redo, "redo", &["Ctrl-Y"], ROWS, "Do again what was undone"),
    row(Action::Close, "close", &["Esc"], EVERYWHERE, "Close what is open, drop the selection"),

    row(Action::ChordRow, "chords", &["Tab"], &[Lyric, Chords, Other], "Go to the chord row above the lyric, opening one where there is none, and back"),
    row(Action::Warnings, "warnings", &["F2"], SONG, "List the warnings and the ways out of each"),
    row(Action::Variants, "variants", &["F3"], SONG, "Other chords for this section over the same melody"),
    row(Action::Plan, "plan", &["Alt-P"], SONG, "Other chords for every repeat of this tune, each unlike its neighbours"),
    row(Action::Rhymes, "rhymes", &["F4"], SONG, "Words that rhyme here; Left and Right choose with which line, Enter puts one in place"),
    row(Action::Said, "how said", &["F5"], &[Lyric], "How the word under the cursor is said in this song: its syllables, or the way you type"),
    row(Action::TapTempo, "tap tempo", &["F9"], ROWS, "Tap the tempo on this key or on Space"),
    row(Action::TimeNote, "steady note", &["Alt-L"], ROWS, "Time how long you hold a steady note; all figures of breath follow from it"),
    row(Action::Details, "details", &["F7"], ROWS, "Open or close the details of this line or section: bars, picture, mood, who plays"),
    row(Action::SongDetails, "song details", &["Alt-I"], ROWS, "Open or close the song's details: key, meter, tempo, capo, voice, tunes"),

    row(Action::OtherWordings, "other wordings", &["F8"], LINES, "Open or close the other wordings under this line"),
    row(Action::KeepWording, "keep wording", &["Alt-K"], LINES, "Keep a copy of this wording and write on"),
    row(Action::SwapWording, "swap wording", &["Alt-W"], LINES, "Swap the lyric with this other wording, on the lyric with the first"),
    row(Action::UseWording, "use wording", &["Enter"], &[Other], "Let this wording and the lyric change places"),
    row(Action::SetAside, "set aside", &["Alt-A"], ROWS, "Set this line aside; in a heading, the whole section"),
    row(Action::AsideList, "bring back", &["F6"], SONG, "List what was set aside, to bring it back"),

    row(Action::NewSection, "new section", &["Alt-N"], ROWS, "Begin a section of the same kind after this one"),
    row(Action::Again, "again", &["Alt-G"], ROWS, "Sing this section once more after this one, with the same words"),
    row(Action::MoveUp, "move up", &["Alt-Up"], ROWS, "Move the line up; in a heading, the section"),
    row(Action::MoveDown, "move down", &["Alt-Down"], ROWS, "Move the line down; in a heading, the section"),
    row(Action::ChordLeft, "chord left", &["Alt-Left"], &[Chords], "Move the chord under the cursor a place to the left"),
    row(Action::ChordRight, "chord right", &["Alt-Right"], &[Chords], "Move the chord under the cursor a place to the right"),
    row(Action::Borrow, "borrow", &["Alt-C"], &[Chords], "Take this chord row away, so that the line borrows again"),
    row(Action::BorrowedRows, "borrowed rows", &["Alt-B"], ROWS, "Show or hide the chords that lines borrow"),

    row(Action::Enter, "split", &["Enter"], &[Lyric, Chords, Heading], "Split the line here; at its end begin the next, on an empty last line the next section"),
    row(Action::Backspace, "backspace", &["Backspace"], ROWS, "Delete to the left; at a line's start join it to the one above"),
    row(Action::Delete, "delete", &["Delete"], ROWS, "Delete to the right; at a line's end join the next one to it"),
    row(Action::WordBackspace, "delete word left", &["Alt-Backspace", "Ctrl-Backspace"], ROWS, "Delete the word to the left"),
    row(Action::WordDelete, "delete word right", &["Alt-Delete", "Ctrl-Delete"], ROWS, "Delete the word to the right"),
    row(Action::Copy, "copy", &["Ctrl-C"], ROWS, "Copy the selection, else the line with its chords"),
    row(Action::Cut, "cut", &["Ctrl-X"], ROWS, "Copy and take out the selection, else the line"),
    row(Action::Paste, "paste", &["Ctrl-V"], ROWS, "Paste; chord rows become their lines' chords, stanzas and headings sections"),
    row(Action::Find, "find", &["Ctrl-F"], ROWS, "Find words or a chord in the song"),

    row(Action::Left, "left", &["Left"], ROWS, "Go left; this and the next ones, with Shift, select"),
    row(Action::Right, "right", &["Right"], ROWS, "Go right"),
    row(Action::Up, "up", &["Up"], ROWS, "Go up a row"),
    row(Action::Down, "down", &["Down"], ROWS, "Go down a row"),
    row(Action::WordLeft, "word left", &["Ctrl-Left"], ROWS, "Go to the start of the word or chord to the left"),
    row(Action::WordRight, "word right", &["Ctrl-Right"], ROWS, "Go to the start of the word or chord to the right"),
    row(Action::RowStart, "start of row", &["Home"], ROWS, "Go to the start of the row"),
    row(Action::RowEnd, "end of row", &["End"], ROWS, "Go to the end of the row"),
    row(Action::PageUp, "page up", &["PageUp"], ROWS, "Go up a screenful"),
    row(Action::PageDown, "page down", &["PageDown"], ROWS, "Go down a screenful"),
    row(Action::SectionBefore, "section before", &["Ctrl-Up"], ROWS, "Go to the heading of this section, then of the one before"),
    row(Action::SectionAfter, "section after", &["Ctrl-Down"], ROWS, "Go to the heading of the next section"),
    row(Action::SongStart, "start of song", &["Ctrl-Home"], ROWS, "Go to the start of the song"),
    row(Action::SongEnd, "end of song", &["Ctrl-End"], ROWS, "Go to the end of the song"),

    row(Action::Take, "take", &["Enter"], &[List, Asking, Field, Tapping, Contents], "Take what is chosen"),
    row(Action::Previous, "choose above", &["Up"], &[List, Contents], "Choose the one above"),
    row(Action::Next, "choose below", &["Down"], &[List, Contents], "Choose the one below"),
    row(Action::PageBack, "a page back", &["PageUp"], &[List, Contents], "Choose a page further up"),
    row(Action::PageOn, "a page on", &["PageDown"], &[List, Contents], "Choose a page further down"),
    row(Action::First, "first", &["Home"], &[List, Contents], "Choose the first"),
    row(Action::Last, "last", &["End"], &[List, Contents], "Choose the last"),
    row(Action::CardBefore, "previous", &["Left"], &[List], "The warning before, the change before in a variant, the line before to rhyme with"),
    row(Action::CardAfter, "next", &["Right"], &[List], "The next warning, the next change in a variant, the next line to rhyme with"),
    row(Action::Stop, "stop", &["Ctrl-K"], &[List], "Stop what is being computed"),
    row(Action::Backspace, "backspace", &["Backspace"], &[List, Field, Contents], "Take back the last letter of what is searched"),
    row(Action::Tap, "tap", &["Space", "F9"], &[Tapping], "Tap once a beat, or where the steady note begins and ends"),
    row(Action::LeaveWithoutSaving, "leave, keep draft", &["n"], &[Asking], "When asked on leaving: leave without saving, the draft is kept"),

    row(Action::OpenContents, "contents", &["Ctrl-O"], SONG, "The songs in this folder"),
    row(Action::NewSong, "new song", &["Ctrl-N"], &[Contents], "Begin a new song in this folder"),
    row(Action::DropDraft, "drop draft", &["Alt-X"], ROWS, "Drop the draft that was brought back and show the song as saved"),
];

/// The row for an action where it counts; `None` where it does not.
#[must_use]
pub fn command(action: Action, focus: Focus) -> Option<&'static Command> {
    COMMANDS
        .iter()
        .find(|row| row.action == action && row.places.contains(&focus))
}

/// The first key of an action, as hints name it; empty where the table has none.
#[must_use]
pub fn key_of(action: Action) -> &'static str {
    COMMANDS
        .iter()
        .find(|row| row.action == action)
        .and_then(|row| row.keys.first())
        .copied()
        .unwrap_or("")
}

/// The table of keys for a manual, in Markdown: keys, and what they do.
#[must_use]
pub fn markdown() -> String {
    let mut text = String::from("| Key | What it does | Where |\n|---|---|---|\n");
    for row in COMMANDS {
        let keys: Vec<String> = row.keys.iter().map(|key| format!("`{key}`")).collect();
        text.push_str(&format!(
            "| {} | {} | {} |\n",
            keys.join(", "),
            row.says,
            where_it_counts(row.places)
        ));
    }
    text
}

/// Where a command counts, in words.
#[must_use]
pub fn where_it_counts(places: &[Focus]) -> &'static str {
    let has = |focus: Focus| places.contains(&focus);
    if has(Contents) && has(Lyric) {
        "everywhere"
    } else if has(List) && has(Lyric) {
        "page, lists"
    } else if has(Heading) {
        "page"
    } else if has(Lyric) {
        "lines"
    } else if has(Chords) {
        "chord rows"
    } else if has(List) {
        "lists"
    } else if has(Contents) {
        "contents"
    } else if has(Tapping) {
        "tapping"
    } else {
        "questions"
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::*;
    use crate::tui::keys::Key;

    #[test]
    fn no_key_means_two_things_in_one_place() {
        for focus in Focus::ALL {
            let mut seen = Vec::new();
            for row in COMMANDS.iter().filter(|row| row.places.contains(&focus)) {
                for name in row.keys {
                    let key = Key::parse(name).unwrap();
                    assert!(!seen.contains(&key), "{name} twice in {focus:?}");
                    seen.push(key);
                }
            }
        }
    }

    #[test]
    fn every_row_can_be_shown_and_typed() {
        for row in COMMANDS {
            assert!(
                !row.keys.is_empty() && !row.places.is_empty(),
                "{}",
                row.name
            );
            assert!(!row.says.ends_with('.'), "{}", row.says);
            assert!(row.says.chars().count() <= 90, "{}", row.says);
            for name in row.keys {
                assert_eq!(Key::parse(name).unwrap().to_string(), *name);
            }
        }
    }

    /// What a plain terminal cannot tell apart from Tab, Enter and Backspace, or keeps for its own menus.
    #[test]
    fn every_key_arrives_in_a_plain_terminal() {
        let kept_back = [
            "Ctrl-I", "Ctrl-M", "Ctrl-J", "Ctrl-H", "F10", "F11", "Alt-F", "Alt-E", "Alt-V",
            "Alt-S", "Alt-T", "Alt-H", "Alt-O",
        ];
        for row in COMMANDS {
            for name in row.keys {
                assert!(!kept_back.contains(name), "{name}");
                assert!(!name.contains("Ctrl-Alt"), "{name}");
            }
        }
    }

    #[test]
    fn the_text_field_keys_keep_their_meaning() {
        for (key, action) in [
            ("Ctrl-S", Action::Save),
            ("Ctrl-Z", Action::Undo),
            ("Ctrl-Y", Action::Redo),
            ("Ctrl-X", Action::Cut),
            ("Ctrl-C", Action::Copy),
            ("Ctrl-V", Action::Paste),
            ("Ctrl-F", Action::Find),
            ("F1", Action::Help),
            ("Esc", Action::Close),
            ("Ctrl-Q", Action::Leave),
        ] {
            assert_eq!(key_of(action), key);
        }
    }

    #[test]
    fn an_action_says_one_thing_in_one_place() {
        for focus in Focus::ALL {
            for (index, row) in COMMANDS.iter().enumerate() {
                assert!(
                    !COMMANDS
                        .iter()
                        .skip(index + 1)
                        .any(|other| other.action == row.action
                            && other.places.contains(&focus)
                            && row.places.contains(&focus)),
                    "{:?}",
                    row.action
                );
            }
        }
    }
}
