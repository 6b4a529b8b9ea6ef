//! Why a text is no song file, in sentences: where, what was found, what would be right.

use super::tree::end_of_line;
use crate::wording::message::Message;

/// What is wrong with a text as YAML.
#[derive(Debug)]
pub(super) enum Trouble {
    /// The scanner's own words.
    Syntax { byte: usize, info: String },
    /// A second document in the file.
    SecondDocument { byte: usize },
    /// A key that stands twice in its map.
    Twice {
        key: String,
        first: usize,
        byte: usize,
    },
    /// `*name`.
    Alias { byte: usize },
    /// `&name`.
    Anchor { byte: usize },
    /// Values in values in values.
    TooDeep { byte: usize },
    /// More values than a song has.
    TooMany { byte: usize },
}

impl Trouble {
    /// The sentence about it.
    pub(super) fn message(&self, text: &str) -> Message {
        match self {
            Self::Syntax { byte, info } => syntax(text, *byte, info),
            Self::SecondDocument { byte } => at(
                Message::new("a second document begins here")
                    .expected("a song file holds one")
                    .next("Put what follows `---` into a file of its own."),
                text,
                *byte,
            ),
            Self::Twice { key, first, byte } => {
                let (line, _) = place(text, *first);
                at(
                    Message::new(format!("the key `{key}` stands here twice"))
                        .expected(format!("it is on line {line} already"))
                        .next("Take one of them away."),
                    text,
                    *byte,
                )
            }
            Self::Alias { byte } => alias(text, *byte),
            Self::Anchor { byte } => at(
                Message::new("`&` at the beginning of a value names it for use elsewhere (an anchor)")
                    .expected("a song file has no anchors")
                    .next("Put the text in quotes if the `&` belongs to it; to sing a section again, write `again:` and its label."),
                text,
                *byte,
            ),
            Self::TooDeep { byte } => at(
                Message::new("values are nested more than 200 deep here")
                    .next("A song needs eight. Look for brackets or dashes that nobody meant."),
                text,
                *byte,
            ),
            Self::TooMany { byte } => at(
                Message::new("the file holds more than 200,000 values or 50,000 lines")
                    .next("Divide it into several songs."),
                text,
                *byte,
            ),
        }
    }
}

/// Says where in the text.
pub(super) fn at(message: Message, text: &str, byte: usize) -> Message {
    let (line, column) = place(text, byte);
    message.at_line(line).at_column(column)
}

/// The line and the column, in characters, of a byte; both from 1.
pub(super) fn place(text: &str, byte: usize) -> (usize, usize) {
    let before = text
        .get(..byte.min(text.len()))
        .unwrap_or(text)
        .trim_start_matches('\u{feff}');
    let lines = before.matches('\n').count() + lone_returns(before);
    let line = before
        .rsplit(['\n', '\r'])
        .next()
        .map_or(0, |line| line.chars().count());
    (lines + 1, line + 1)
}

fn lone_returns(text: &str) -> usize {
    text.matches('\r').count() - text.matches("\r\n").count()
}

fn alias(text: &str, byte: usize) -> Message {
    at(
        Message::new("`*` at the beginning of a value points to another place of the file (an alias)")
            .expected("a song file has no aliases")
            .next("Put the text in quotes if the `*` belongs to it; to sing a section again, write `again:` and its label."),
        text,
        byte,
    )
}

/// A sentence for what the scanner found: by the row it stumbled over, as most of these are words that look like YAML.
fn syntax(text: &str, byte: usize, info: &str) -> Message {
    let start = text
        .get(..byte)
        .and_then(|before| before.rfind(['\n', '\r']))
        .map_or(0, |found| found + 1);
    let row = text.get(start..end_of_line(text, byte)).unwrap_or_default();
    let value = value_of(row);
    if info.contains("unknown anchor") {
        return alias(text, byte);
    }
    if info.contains("recursion limit") {
        return Trouble::TooDeep { byte }.message(text);
    }
    let hint = if info.contains("tab") || row.trim_start_matches(' ').starts_with('\t') {
        Some((
            "a tab stands here",
            "YAML indents with blanks; put blanks in its place.",
        ))
    } else if row.contains(":\t") || info.contains("valid YAML whitespace") {
        Some(("a tab follows the colon", "Put a blank in its place."))
    } else if value.starts_with('\'')
        && (info.contains("quoted scalar") || info.contains("trailing content"))
    {
        Some((
            "an apostrophe at the beginning of a value opens a quotation, which does not end where the words do",
            "Put the whole text in double quotes, as in \"'Twas night\".",
        ))
    } else if value.starts_with('"') && info.contains("trailing content") {
        Some((
            "words follow behind the closing quote",
            "Put the whole text in single quotes, as in '\"Come in,\" said she', and write an apostrophe in it twice.",
        ))
    } else if value.starts_with('"') && info.contains("quoted scalar") {
        Some((
            "the quotation that begins here has no end",
            "Put a closing quote behind the last word.",
        ))
    } else if info.contains("mapping values") {
        Some((
            "a colon with a blank behind it makes a key of the words before it",
            "Put the whole text in double quotes, as in \"She said: come\"; or, if a key was meant, let it begin in the column of the keys above.",
        ))
    } else if info.contains("block scalar") && value.starts_with('|') {
        Some((
            "a value that begins with `|` is a text over several rows",
            "Put the row in double quotes, as in \"| Em | C |\".",
        ))
    } else if info.contains("block scalar") && value.starts_with('>') {
        Some((
            "a value that begins with `>` is a text over several rows",
            "Put the text in double quotes.",
        ))
    } else if info.contains("unexpected character") {
        Some((
            "`%`, `@` and a backtick cannot begin a value",
            "Put the text in double quotes.",
        ))
    } else if info.contains("flow ")
        || info.contains("bracket")
        || open_bracket(text, byte).is_some()
    {
        Some((
            "the brackets `[ ]` and `{ }` do not match here",
            "Close each one that is opened and part the values by commas; put a text that holds brackets in quotes.",
        ))
    } else if info.contains("did not find expected") || info.contains("indent") {
        Some((
            "this row does not begin in the column of those that it belongs to",
            "Indent keys of one map alike, and dashes of one list alike.",
        ))
    } else {
        None
    };
    let message = match hint {
        Some((found, next)) => Message::new(found).next(next),
        None => Message::new(format!("this is not YAML ({info})"))
            .next("Look for words that need quotes, and for rows that do not begin in the column of their neighbours."),
    };
    at(message, text, byte)
}

/// The bracket before a byte that was last opened and not closed, on the rows right above.
fn open_bracket(text: &str, byte: usize) -> Option<char> {
    const ROWS: usize = 20;
    let before = text.get(..byte)?;
    let mut closed = 0_usize;
    for sign in before
        .rsplit('\n')
        .take(ROWS)
        .flat_map(|row| row.chars().rev())
    {
        match sign {
            ']' | '}' => closed += 1,
            '[' | '{' if closed == 0 => return Some(sign),
            '[' | '{' => closed -= 1,
            _ => {}
        }
    }
    None
}

/// What stands behind the first colon of a row, or behind its dash.
fn value_of(row: &str) -> &str {
    let row = row.trim_start().trim_start_matches("- ").trim_start();
    match row.split_once(": ") {
        Some((key, value)) if !key.starts_with(['"', '\'']) => value.trim_start(),
        _ => row,
    }
}
