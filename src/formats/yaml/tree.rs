//! The tree of a YAML text, with the bytes where each value begins and ends.

use super::trouble::Trouble;
use saphyr_parser::{Event, Parser, ScalarStyle, Span};
use std::collections::BTreeMap;

/// A value in the text.
#[derive(Debug)]
pub(super) struct Tree {
    /// Its first byte: of a quoted text its quote, of a block text its `|`, of a block collection its first key or dash.
    pub(super) start: usize,
    /// The byte behind it; of a block text or collection, the end of its last line without the line break.
    pub(super) end: usize,
    pub(super) shape: Shape,
}

/// What a value is.
#[derive(Debug)]
pub(super) enum Shape {
    Scalar { text: String, style: Style },
    List { flow: bool, items: Vec<Item> },
    Map { flow: bool, pairs: Vec<Pair> },
}

/// How a text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Style {
    /// Not at all: a key or a dash with nothing behind it.
    Empty,
    Plain,
    Single,
    Double,
    Literal,
    Folded,
}

/// An item of a list.
#[derive(Debug)]
pub(super) struct Item {
    /// The byte of its dash; in a flow list where it begins.
    pub(super) dash: usize,
    pub(super) value: Tree,
}

/// A key with its value.
#[derive(Debug)]
pub(super) struct Pair {
    pub(super) key: Tree,
    /// The byte behind its colon; where there is none, behind the key.
    pub(super) colon: usize,
    pub(super) value: Tree,
}

impl Tree {
    pub(super) fn text(&self) -> Option<&str> {
        match &self.shape {
            Shape::Scalar { text, .. } => Some(text),
            Shape::List { .. } | Shape::Map { .. } => None,
        }
    }

    pub(super) const fn is_empty(&self) -> bool {
        matches!(
            self.shape,
            Shape::Scalar {
                style: Style::Empty,
                ..
            }
        )
    }
}

/// A parsed text.
#[derive(Debug)]
pub(super) struct Document {
    /// The byte behind the byte order mark or `---`.
    pub(super) begin: usize,
    /// Its value; `None` where the text holds comments at most.
    pub(super) root: Option<Tree>,
}

/// How deep values may stand in one another; a song needs eight.
const DEEPEST: usize = 200;
/// How many values a file may hold, and how many chords: what keeps the largest file within 150 MB. A song of 10,000 lines has some 80,000.
pub(super) const MOST: usize = 200_000;

/// Parses a text of one document.
pub(super) fn parse(text: &str) -> Result<Document, Trouble> {
    let begin = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let mut builder = Builder {
        text,
        bytes: byte_of_each_char(text),
        at: begin,
        open: Vec::new(),
        document: None,
        count: 0,
    };
    let mut begin = begin;
    let mut parser = Parser::new_from_str(text);
    while let Some(event) = parser.next_event() {
        let (event, span) = event.map_err(|error| Trouble::Syntax {
            byte: builder.byte(error.marker().index()),
            info: error.info().to_owned(),
        })?;
        match event {
            Event::DocumentStart(explicit) => {
                let start = builder.byte(span.start.index());
                if builder.document.is_some() {
                    return Err(Trouble::SecondDocument { byte: start });
                }
                if explicit {
                    begin = builder.byte(span.end.index());
                    builder.at = begin;
                }
            }
            Event::StreamEnd => break,
            Event::Nothing | Event::StreamStart | Event::DocumentEnd => {}
            Event::Alias(_)
            | Event::Scalar(..)
            | Event::SequenceStart(..)
            | Event::SequenceEnd
            | Event::MappingStart(..)
            | Event::MappingEnd => builder.take(event, span)?,
        }
    }
    Ok(Document {
        begin,
        root: builder.document,
    })
}

/// For each character the byte at which it begins, and the text's length; empty where both are the same.
fn byte_of_each_char(text: &str) -> Vec<u32> {
    if text.is_ascii() {
        return Vec::new();
    }
    text.char_indices()
        .map(|(byte, _)| byte)
        .chain(std::iter::once(text.len()))
        .map(|byte| u32::try_from(byte).unwrap_or(u32::MAX))
        .collect()
}

struct Builder<'text> {
    text: &'text str,
    bytes: Vec<u32>,
    /// The byte behind what was read so far.
    at: usize,
    open: Vec<Open>,
    document: Option<Tree>,
    count: usize,
}

/// A collection that is being read.
struct Open {
    tree: Tree,
    /// Where the next value's dash or colon is.
    dash: usize,
    key: Option<Tree>,
}

impl Builder<'_> {
    fn byte(&self, index: usize) -> usize {
        if self.bytes.is_empty() {
            index.min(self.text.len())
        } else {
            let byte = self.bytes.get(index).copied();
            byte.map_or(self.text.len(), |byte| {
                usize::try_from(byte).unwrap_or(usize::MAX)
            })
        }
    }

    fn take(&mut self, event: Event<'_>, span: Span) -> Result<(), Trouble> {
        let start = self.byte(span.start.index());
        let end = self.byte(span.end.index());
        match event {
            Event::Alias(_) => return Err(Trouble::Alias { byte: start }),
            Event::Scalar(text, style, anchor, _) => {
                self.approach(anchor, start)?;
                let tree = self.scalar(text.into_owned(), style, start, end);
                self.at = self.at.max(tree.end);
                self.put(tree);
            }
            Event::SequenceStart(anchor, _) => {
                self.approach(anchor, start)?;
                let items = Vec::new();
                self.begin(start, end > start, |flow| Shape::List { flow, items });
            }
            Event::MappingStart(anchor, _) => {
                self.approach(anchor, start)?;
                let pairs = Vec::new();
                self.begin(start, end > start, |flow| Shape::Map { flow, pairs });
            }
            Event::SequenceEnd | Event::MappingEnd => {
                if let Some(mut open) = self.open.pop() {
                    let (Shape::List { flow, .. } | Shape::Map { flow, .. }) = open.tree.shape
                    else {
                        return Ok(());
                    };
                    // Like a quoted text's, a bracket's span runs on to the next token.
                    let closing = past_blanks(self.text, self.at, true);
                    if flow
                        && matches!(byte_at(self.text, closing), Some(b']' | b'}'))
                        && end > start
                    {
                        self.at = closing + 1;
                    }
                    open.tree.end = self.at;
                    self.refuse_doubles(&open.tree)?;
                    self.put(open.tree);
                }
            }
            Event::Nothing
            | Event::StreamStart
            | Event::StreamEnd
            | Event::DocumentStart(_)
            | Event::DocumentEnd => {}
        }
        Ok(())
    }

    /// Goes on to where the next value begins: past its dash, its `?` or its colon.
    fn approach(&mut self, anchor: usize, start: usize) -> Result<(), Trouble> {
        if anchor > 0 {
            return Err(Trouble::Anchor { byte: start });
        }
        self.count += 1;
        if self.count > MOST {
            return Err(Trouble::TooMany { byte: start });
        }
        if self.open.len() > DEEPEST {
            return Err(Trouble::TooDeep { byte: start });
        }
        let Some(open) = self.open.last_mut() else {
            return Ok(());
        };
        match &open.tree.shape {
            Shape::List { flow: false, .. } => {
                let dash = past_blanks(self.text, self.at, false);
                open.dash = dash;
                self.at = (dash + 1).min(self.text.len());
            }
            Shape::List { flow: true, .. } => {
                open.dash = past_blanks(self.text, self.at, true);
                self.at = open.dash;
            }
            Shape::Map { flow, .. } if open.key.is_none() => {
                let found = past_blanks(self.text, self.at, *flow);
                open.dash = found;
                self.at = found;
                if byte_at(self.text, found) == Some(b'?') && found < start {
                    self.at = found + 1;
                }
            }
            Shape::Map { .. } => {
                let found = past_blanks(self.text, self.at, false);
                if byte_at(self.text, found) == Some(b':') {
                    self.at = found + 1;
                }
                open.dash = self.at;
            }
            Shape::Scalar { .. } => {}
        }
        Ok(())
    }

    fn begin(&mut self, start: usize, bracket: bool, shape: impl FnOnce(bool) -> Shape) {
        let first = past_properties(self.text, start);
        let flow_within = self.open.last().is_some_and(|open| {
            matches!(
                open.tree.shape,
                Shape::List { flow: true, .. } | Shape::Map { flow: true, .. }
            )
        });
        let bracket = bracket && matches!(byte_at(self.text, first), Some(b'[' | b'{'));
        // A pair without braces in a flow list is a flow map all the same.
        let flow = bracket || flow_within;
        if bracket {
            self.at = first + 1;
        }
        self.open.push(Open {
            tree: Tree {
                start: first,
                end: first,
                shape: shape(flow),
            },
            dash: first,
            key: None,
        });
    }

    fn scalar(&self, text: String, style: ScalarStyle, start: usize, end: usize) -> Tree {
        let first = past_properties(self.text, start);
        let (style, start, end) = match style {
            ScalarStyle::Plain if text.is_empty() => (Style::Empty, self.at, self.at),
            ScalarStyle::Plain => {
                let source = self.text.get(first..end).unwrap_or_default();
                let end = first + source.trim_end_matches([' ', '\t', '\n', '\r']).len();
                (Style::Plain, first, end)
            }
            ScalarStyle::SingleQuoted => {
                (Style::Single, first, end_of_quoted(self.text, first, b'\''))
            }
            ScalarStyle::DoubleQuoted => {
                (Style::Double, first, end_of_quoted(self.text, first, b'"'))
            }
            ScalarStyle::Literal | ScalarStyle::Folded => {
                let style = if style == ScalarStyle::Literal {
                    Style::Literal
                } else {
                    Style::Folded
                };
                let header = past_properties(self.text, past_blanks(self.text, self.at, false));
                let end = end_of_block_text(self.text, header, end);
                (style, header, end)
            }
        };
        Tree {
            start,
            end,
            shape: Shape::Scalar { text, style },
        }
    }

    /// Puts a finished value where it belongs.
    fn put(&mut self, value: Tree) {
        let Some(open) = self.open.last_mut() else {
            self.document = Some(value);
            return;
        };
        match &mut open.tree.shape {
            Shape::List { items, .. } => items.push(Item {
                dash: open.dash,
                value,
            }),
            Shape::Map { pairs, .. } => match open.key.take() {
                None => open.key = Some(value),
                Some(key) => pairs.push(Pair {
                    key,
                    colon: open.dash,
                    value,
                }),
            },
            Shape::Scalar { .. } => {}
        }
    }

    fn refuse_doubles(&self, tree: &Tree) -> Result<(), Trouble> {
        let Shape::Map { pairs, .. } = &tree.shape else {
            return Ok(());
        };
        let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
        for pair in pairs {
            if let Some(key) = pair.key.text()
                && let Some(first) = seen.insert(key, pair.key.start)
            {
                return Err(Trouble::Twice {
                    key: key.to_owned(),
                    first,
                    byte: pair.key.start,
                });
            }
        }
        Ok(())
    }
}

pub(super) fn byte_at(text: &str, at: usize) -> Option<u8> {
    text.as_bytes().get(at).copied()
}

/// The first byte from `at` on that is neither blank nor in a comment nor, where told so, a comma.
pub(super) fn past_blanks(text: &str, at: usize, commas: bool) -> usize {
    let mut at = at;
    while let Some(byte) = byte_at(text, at) {
        match byte {
            b' ' | b'\t' | b'\n' | b'\r' => at += 1,
            b',' if commas => at += 1,
            b'#' => at = end_of_line(text, at),
            b'!' if !commas => at = past_properties(text, at),
            _ => break,
        }
    }
    at
}

/// The byte of the line break that ends the line, or the text's end.
pub(super) fn end_of_line(text: &str, at: usize) -> usize {
    text.as_bytes()
        .iter()
        .skip(at)
        .position(|byte| matches!(byte, b'\n' | b'\r'))
        .map_or(text.len(), |length| at + length)
}

/// Past the tags before a value and the blanks behind them.
fn past_properties(text: &str, at: usize) -> usize {
    let mut at = at;
    while byte_at(text, at) == Some(b'!') {
        while byte_at(text, at).is_some_and(|byte| !byte.is_ascii_whitespace()) {
            at += 1;
        }
        while byte_at(text, at).is_some_and(|byte| matches!(byte, b' ' | b'\t')) {
            at += 1;
        }
    }
    at
}

fn end_of_quoted(text: &str, start: usize, quote: u8) -> usize {
    let mut at = start + 1;
    while let Some(byte) = byte_at(text, at) {
        match byte {
            b'\\' if quote == b'"' => at += 2,
            found if found == quote => {
                if quote == b'\'' && byte_at(text, at + 1) == Some(quote) {
                    at += 2;
                } else {
                    return at + 1;
                }
            }
            _ => at += 1,
        }
    }
    text.len()
}

/// Where a block text ends: at the end of its last line, without the line break. The scanner's end may lie in the blanks of the
/// next line. Empty rows behind the text belong to it only where its header keeps them (`|+`).
fn end_of_block_text(text: &str, header: usize, scanned: usize) -> usize {
    let least = end_of_line(text, header);
    let keeps = text.get(header..least).is_some_and(|header| {
        header
            .split('#')
            .next()
            .is_some_and(|part| part.contains('+'))
    });
    let mut end = scanned.clamp(least, text.len());
    let start_of_last = line_start(text, end);
    let last = text.get(start_of_last..end).unwrap_or_default();
    let whole = matches!(byte_at(text, end), None | Some(b'\n' | b'\r'));
    if start_of_last > least && last.trim().is_empty() && (last.is_empty() || !whole) {
        end = before_break(text, start_of_last);
    }
    while !keeps && end > least && line_start(text, end) == end {
        end = before_break(text, end);
    }
    end.max(least)
}

/// The byte at which the line of a byte begins; a byte order mark is before the first line.
pub(super) fn line_start(text: &str, at: usize) -> usize {
    let first = if text.starts_with('\u{feff}') { 3 } else { 0 };
    text.as_bytes()
        .get(..at)
        .and_then(|before| {
            before
                .iter()
                .rposition(|byte| matches!(byte, b'\n' | b'\r'))
        })
        .map_or(first.min(at), |found| found + 1)
}

/// The byte of the line break that ends right before a byte.
fn before_break(text: &str, at: usize) -> usize {
    match text.as_bytes().get(..at) {
        Some([.., b'\r', b'\n']) => at - 2,
        Some([.., b'\n' | b'\r']) => at - 1,
        _ => at,
    }
}

/// The byte behind the line break at or after a byte.
pub(super) fn next_line(text: &str, at: usize) -> usize {
    let end = end_of_line(text, at);
    match text.as_bytes().get(end..) {
        Some([b'\r', b'\n', ..]) => end + 2,
        Some([_, ..]) => end + 1,
        _ => end,
    }
}
