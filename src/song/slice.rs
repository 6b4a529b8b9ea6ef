//! What the file held for a node, so that a save writes it back byte for byte.

/// The text that stood in the file for a song, a section or a line, cut into its entries; carried by the node through moves,
/// setting aside and undo.
///
/// In the file's order: `lead`, `opening`, the entries (with the nodes of their lists), `tail`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Slice {
    /// How it was written.
    pub form: Form,
    /// Comments and blank lines above the node's dash, whole lines.
    pub lead: String,
    /// What stood before the first entry: the dash with the blanks around it; for a song a byte order mark, directives, `---`.
    pub opening: String,
    /// The column of the dash.
    pub dash: usize,
    /// The column of the keys.
    pub column: usize,
    /// The entries in the file's order. A node written as a flow map or as a text alone is one entry without a key.
    pub entries: Vec<Entry>,
    /// What stood behind the last entry.
    pub tail: String,
    /// Whether every line of the file ended with CR LF; kept with the song's slice.
    pub crlf: bool,
}

/// How a node was written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Form {
    /// A key a row.
    #[default]
    Block,
    /// `{key: value, key: value}`.
    Flow,
    /// A line as its words alone.
    Text,
}

/// One key of a map in the file, with the comments and blank lines above it and the comment behind its value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Entry {
    /// The key as read, without quotes.
    pub key: String,
    /// The line of the file on which it stood, from 1.
    pub line: usize,
    /// All of its text as whole lines; where its value is a list of nodes, up to the first of them.
    pub text: String,
    /// What the song took from it. As long as the song still says this, the text is written as it is.
    pub said: Said,
}

/// What an entry says to the song.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Said {
    /// Nothing: the key is unknown, or has no value.
    #[default]
    Nothing,
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Said>),
    /// A map, in order.
    Map(Vec<(String, Said)>),
    /// The nodes of a list, each with a slice of its own, their dashes in this column.
    Nodes(usize),
}

impl Slice {
    /// The line of the file, from 1, on which a key stood when the file was read; `voice.range` is the key `range` under `voice`.
    #[must_use]
    pub fn line_of(&self, key: &str) -> Option<usize> {
        let (key, inner) = key
            .split_once('.')
            .map_or((key, None), |(key, inner)| (key, Some(inner)));
        let found = self.entries.iter().find(|entry| entry.key == key);
        // A flow map is one entry; its keys stand where it begins, as far as is known.
        let entry = found.or(self.entries.first())?;
        let begins = |row: &str, key: &str| {
            let rest = row.trim_start().strip_prefix(key);
            rest.is_some_and(|rest| rest.trim_start().starts_with(':'))
        };
        let below = inner.and_then(|inner| {
            let rows = entry.text.lines().skip_while(|row| !begins(row, key));
            rows.enumerate()
                .find(|(_, row)| begins(row, inner))
                .map(|(row, _)| row)
        });
        Some(entry.line + below.unwrap_or(0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_of_a_map_have_lines_of_their_own() {
        let slice = Slice {
            entries: vec![Entry {
                key: "voice".to_owned(),
                line: 4,
                text: "# mine\nvoice: # low\n  steady_note: 20\n\n  range: low\n".to_owned(),
                said: Said::Nothing,
            }],
            ..Slice::default()
        };
        assert_eq!(slice.line_of("voice"), Some(4));
        assert_eq!(slice.line_of("voice.steady_note"), Some(5));
        assert_eq!(slice.line_of("voice.range"), Some(7));
        assert_eq!(slice.line_of("voice.octave"), Some(4));
    }
}
