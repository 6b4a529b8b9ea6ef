//! One thing said to a person, with its place and the way on.

use super::safe::for_terminal;
use std::fmt;

/// What is the matter, where it stands, what would be right, and what to do next.
///
/// Shown as one row of text without anything that a terminal would obey, whatever the file or its name held.
///
/// ```
/// use breathmark::wording::message::Message;
///
/// let message = Message::new("the tempo is \"fast\"")
///     .expected("it has to be beats a minute, such as 96")
///     .next("The file was not changed.")
///     .in_file("ferry.yaml")
///     .at_line(4)
///     .at_column(8);
/// assert_eq!(
///     message.to_string(),
///     "ferry.yaml, line 4, column 8: the tempo is \"fast\"; it has to be beats a minute, such as 96. \
///      The file was not changed."
/// );
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    // Boxed, because a message travels as the rare half of many results.
    parts: Box<Parts>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Parts {
    found: String,
    expected: Option<String>,
    next: Option<String>,
    file: Option<String>,
    section: Option<String>,
    line: Option<usize>,
    column: Option<usize>,
}

impl Message {
    /// A message about what was found: a clause in the writer's words, without a full stop.
    #[must_use]
    pub fn new(found: impl Into<String>) -> Self {
        Self {
            parts: Box::new(Parts {
                found: found.into(),
                expected: None,
                next: None,
                file: None,
                section: None,
                line: None,
                column: None,
            }),
        }
    }

    /// Adds what would have been right: a clause, without a full stop.
    #[must_use]
    pub fn expected(mut self, expected: impl Into<String>) -> Self {
        self.parts.expected = Some(expected.into());
        self
    }

    /// Adds what to do now, or what happened to the words: a sentence with its full stop.
    #[must_use]
    pub fn next(mut self, next: impl Into<String>) -> Self {
        self.parts.next = Some(next.into());
        self
    }

    /// Says in which file, as the writer named it.
    #[must_use]
    pub fn in_file(mut self, name: impl Into<String>) -> Self {
        self.parts.file = Some(name.into());
        self
    }

    /// Says in which section, by its label.
    #[must_use]
    pub fn in_section(mut self, label: impl Into<String>) -> Self {
        self.parts.section = Some(label.into());
        self
    }

    /// Says in which line of the section where one is named, else of the file; counted from 1.
    #[must_use]
    pub fn at_line(mut self, line: usize) -> Self {
        self.parts.line = Some(line);
        self
    }

    /// Says at which column of the line, counted from 1.
    #[must_use]
    pub fn at_column(mut self, column: usize) -> Self {
        self.parts.column = Some(column);
        self
    }

    /// The name of the file, where one was given.
    #[must_use]
    pub fn file(&self) -> Option<&str> {
        self.parts.file.as_deref()
    }

    /// The line, counted from 1, where one was given.
    #[must_use]
    pub fn line(&self) -> Option<usize> {
        self.parts.line
    }

    /// The place alone, such as `ferry.yaml, line 4`; empty where none was given.
    #[must_use]
    pub fn place(&self) -> String {
        let parts = [
            self.parts.file.as_deref().map(for_terminal),
            self.parts.section.as_deref().map(for_terminal),
            self.parts.line.map(|line| format!("line {line}")),
            self.parts.column.map(|column| format!("column {column}")),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// The message without its place, for where the place is shown already.
    #[must_use]
    pub fn sentence(&self) -> String {
        let mut text = for_terminal(&self.parts.found);
        if let Some(expected) = &self.parts.expected {
            text.push_str("; ");
            text.push_str(&for_terminal(expected));
        }
        if !text.ends_with(['.', '!', '?']) {
            text.push('.');
        }
        if let Some(next) = &self.parts.next {
            text.push(' ');
            text.push_str(&for_terminal(next));
        }
        text
    }
}

impl fmt::Display for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.place();
        if !place.is_empty() {
            write!(f, "{place}: ")?;
        }
        f.write_str(&self.sentence())
    }
}

impl std::error::Error for Message {}

#[cfg(test)]
mod tests {
    use super::Message;

    #[test]
    fn a_place_names_only_what_is_known() {
        let check = |message: Message, expected: &str| assert_eq!(message.to_string(), expected);
        check(Message::new("the disk is full"), "the disk is full.");
        check(
            Message::new("no such chord: H7")
                .in_section("Verse 2")
                .at_line(3),
            "Verse 2, line 3: no such chord: H7.",
        );
        check(
            Message::new("which song is meant?").next("Name one."),
            "which song is meant? Name one.",
        );
    }

    #[test]
    fn a_name_cannot_speak_to_the_terminal() {
        let message = Message::new("there is no such file\u{9b}2J")
            .in_file("a\u{1b}]0;b\u{7}\nc\u{202e}.yaml")
            .next("Look\tagain.");
        assert_eq!(
            message.to_string(),
            "a\u{fffd}]0;b\u{fffd} c.yaml: there is no such file\u{fffd}2J. Look again."
        );
    }
}
