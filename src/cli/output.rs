//! Standard output and standard error: nothing that a terminal would obey, a quiet end where the reader is gone.

use crate::wording::message::Message;
use crate::wording::safe;
use std::io::{self, BufWriter, StdoutLock, Write as _};

/// Where a command's answer goes.
pub struct Output {
    out: BufWriter<StdoutLock<'static>>,
    json: bool,
    failed: Option<io::Error>,
}

impl Output {
    /// Standard output, as JSON or as text.
    #[must_use]
    pub fn new(json: bool) -> Self {
        Self {
            out: BufWriter::new(io::stdout().lock()),
            json,
            failed: None,
        }
    }

    /// Whether JSON was asked for.
    #[must_use]
    pub const fn json(&self) -> bool {
        self.json
    }

    /// Writes a row of text.
    pub fn row(&mut self, text: &str) {
        self.write(&safe::for_terminal(text));
    }

    /// Writes more rows; whether there is still anyone to take them.
    pub fn part(&mut self, part: &Part) -> bool {
        self.put(&part.text);
        self.failed.is_none()
    }

    /// Writes a value as JSON, followed by a line end.
    ///
    /// # Errors
    /// Where the value cannot be written as JSON, which would be a fault of ours.
    pub fn value(&mut self, value: &impl serde::Serialize) -> Result<(), Message> {
        let text = json(value)?;
        self.write(&safe::for_json(&text));
        Ok(())
    }

    /// Begins a JSON list, whose items are written part by part.
    pub fn list(&mut self) -> List<'_> {
        List {
            output: self,
            before: "[",
        }
    }

    fn write(&mut self, row: &str) {
        self.put(row);
        self.put("\n");
    }

    fn put(&mut self, text: &str) {
        if self.failed.is_none() {
            self.failed = self.out.write_all(text.as_bytes()).err();
        }
    }

    /// Sends what is left on its way.
    ///
    /// # Errors
    /// Where the output does not take it (a full disk, say). A reader that has gone is no error.
    pub fn finish(&mut self) -> Result<(), Message> {
        let flushed = self.out.flush();
        match self.failed.take().map_or(flushed, Err) {
            Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Message::new(format!(
                "the answer could not be written to standard output ({error})"
            ))
            .next("Make room there, or send it elsewhere.")),
            _ => Ok(()),
        }
    }
}

fn json(value: &impl serde::Serialize) -> Result<String, Message> {
    serde_json::to_string(value)
        .map_err(|error| Message::new(format!("the answer could not be written as JSON ({error})")))
}

/// Rows of an answer, or items of its list, made safe already: what a thread can put together by itself.
#[derive(Debug, Default)]
pub struct Part {
    text: String,
}

impl Part {
    /// Adds a row of text.
    pub fn row(&mut self, text: &str) {
        self.text.push_str(&safe::for_terminal(text));
        self.text.push('\n');
    }

    /// Adds an item of a JSON list.
    ///
    /// # Errors
    /// Where the value cannot be written as JSON, which would be a fault of ours.
    pub fn item(&mut self, value: &impl serde::Serialize) -> Result<(), Message> {
        let text = json(value)?;
        if !self.text.is_empty() {
            self.text.push(',');
        }
        self.text.push_str(&safe::for_json(&text));
        Ok(())
    }
}

/// A JSON list under way: nothing of it is kept.
pub struct List<'a> {
    output: &'a mut Output,
    /// What stands before the next item.
    before: &'static str,
}

impl List<'_> {
    /// Writes more items; whether there is still anyone to take them.
    pub fn part(&mut self, part: &Part) -> bool {
        if !part.text.is_empty() {
            self.output.put(self.before);
            self.output.put(&part.text);
            self.before = ",";
        }
        self.output.failed.is_none()
    }

    /// Ends the list and the row.
    pub fn end(self) {
        let end = if self.before == "[" { "[]" } else { "]" };
        self.output.write(end);
    }
}

/// Says a message on standard error.
pub fn say(message: &Message) {
    // Where standard error is gone there is nowhere left to say so.
    let _ = writeln!(io::stderr(), "{message}");
}
