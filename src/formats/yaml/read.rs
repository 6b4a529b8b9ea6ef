//! A song out of the text of its file.

use super::content::{Owned, said_of};
use super::keys::{keys_of, nearest, owners_of};
use super::slices::{boundary, column_of, entries, first_byte_of, items};
use super::tree::{Document, Item, MOST, Pair, Shape, Style, Tree, line_start, parse};
use super::trouble::{Trouble, at, place};
use crate::song::chord_row::{ChordRow, ChordToken};
use crate::song::column::Column;
use crate::song::field::{Field, Owner, Values};
use crate::song::slice::{Entry, Form, Said, Slice};
use crate::song::{Line, Node, NodeId, Section, Song, Tune};
use crate::wording::message::Message;
use std::sync::Arc;

/// The most bytes that a song file may have: 4 MiB.
pub const LARGEST: usize = 4 * 1024 * 1024;

/// The most findings that are told of one file: who wrote more knows by then.
pub const MOST_FINDINGS: usize = 1_000;

/// The most sections and lines together that are read; beyond, the file is refused.
const MOST_NODES: u32 = 50_000;

/// A song that was read, and what was odd about its file.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The song.
    pub song: Song,
    /// What was odd, in the file's order; at most [`MOST_FINDINGS`].
    pub findings: Vec<Finding>,
}

/// Something odd in the file of a song that opens all the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// What kind of thing.
    pub kind: FindingKind,
    /// On which node.
    pub node: NodeId,
    /// Under which key.
    pub key: String,
    /// On which line of the file, from 1.
    pub line: usize,
    /// The sentence about it, with the line.
    pub message: Message,
}

/// What kind of thing is odd.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FindingKind {
    /// A key that no song has; kept.
    UnknownKey,
    /// A value of a shape that the key cannot have; kept, and left out of account.
    Value,
    /// Words that YAML takes for something else: a comment, blanks before a text.
    Typing,
}

/// Reads a song file.
///
/// # Errors
/// A message with line and column where the text is no YAML, or no song's: two documents, a key twice, a list where a map belongs,
/// an alias, more than 4 MiB.
///
/// ```
/// use breathmark::formats::yaml::read::read;
/// let opened = read("title: Ferry\nsections:\n  - lines: [She rang the bell]\n").unwrap();
/// assert_eq!(opened.song.sections[0].lines[0].lyric, "She rang the bell");
/// let error = read("title: Ferry\ntitle: Boat\n").unwrap_err();
/// assert_eq!(error.line(), Some(2));
/// ```
pub fn read(text: &str) -> Result<Opened, Message> {
    if text.len() > LARGEST {
        let byte = (0..=LARGEST)
            .rev()
            .find(|byte| text.is_char_boundary(*byte));
        let message = Message::new("the file is larger than 4 MiB")
            .expected("what follows here is past that")
            .next("Divide it into several songs.");
        return Err(at(message, text, byte.unwrap_or(0)));
    }
    let document = parse(text).map_err(|trouble| trouble.message(text))?;
    let mut reader = Reader {
        text,
        song: Song {
            next_id: 1,
            ..Song::default()
        },
        findings: Vec::new(),
        breaks: LineBreaks(text.match_indices('\n').map(|(byte, _)| byte).collect()),
        chords: 0,
    };
    let slice = reader.song(&document)?;
    let mut song = reader.song;
    song.slice = Some(Arc::new(slice));
    Ok(Opened {
        song,
        findings: reader.findings,
    })
}

struct Reader<'text> {
    text: &'text str,
    song: Song,
    findings: Vec<Finding>,
    breaks: LineBreaks,
    chords: usize,
}

/// The bytes of a text's line breaks.
struct LineBreaks(Vec<usize>);

impl LineBreaks {
    /// The column of a byte, in bytes from 0.
    fn column_of(&self, byte: usize) -> usize {
        let line = self.0.partition_point(|found| *found < byte);
        let before = line.checked_sub(1).and_then(|line| self.0.get(line));
        byte - before.map_or(0, |found| found + 1)
    }

    /// The line of a byte, from 1.
    fn line_of(&self, byte: usize) -> usize {
        self.0.partition_point(|found| *found < byte) + 1
    }
}

/// Where a node stands in the text, and what it is.
#[derive(Clone, Copy)]
struct Region<'tree> {
    /// The first byte of what belongs to it.
    from: usize,
    /// The byte behind the last.
    to: usize,
    /// Its dash; in a flow list where it begins.
    dash: usize,
    flow: bool,
    tree: &'tree Tree,
}

impl<'text> Reader<'text> {
    fn source(&self, from: usize, to: usize) -> &'text str {
        self.text.get(from..to).unwrap_or_default()
    }

    fn find(&mut self, kind: FindingKind, node: NodeId, key: &str, byte: usize, message: Message) {
        if self.findings.len() >= MOST_FINDINGS {
            return;
        }
        let line = self.breaks.line_of(byte);
        self.findings.push(Finding {
            kind,
            node,
            key: key.to_owned(),
            line,
            message: message.at_line(line),
        });
    }

    fn refuse_too_many(&self, region: Region<'_>) -> Result<(), Message> {
        if self.song.next_id <= MOST_NODES {
            return Ok(());
        }
        let byte = region.dash;
        Err(Trouble::TooMany { byte }.message(self.text))
    }

    fn refuse(&self, tree: &Tree, what: &str, next: &str) -> Message {
        let found = match &tree.shape {
            Shape::List { .. } => "a list",
            Shape::Map { .. } => "a map of keys",
            Shape::Scalar { .. } => "a text",
        };
        let message = Message::new(format!("{found} stands here"))
            .expected(what)
            .next(next);
        at(message, self.text, tree.start)
    }

    fn song(&mut self, document: &Document) -> Result<Slice, Message> {
        let text = self.text;
        let breaks = self.breaks.0.len();
        let mut slice = Slice {
            crlf: breaks > 0 && text.matches("\r\n").count() == breaks,
            ..Slice::default()
        };
        let Some(root) = &document.root else {
            text.clone_into(&mut slice.opening);
            return Ok(slice);
        };
        match &root.shape {
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => {
                self.source(0, root.start).clone_into(&mut slice.opening);
                self.source(root.start, text.len())
                    .clone_into(&mut slice.tail);
            }
            Shape::Map { flow: true, pairs } => {
                for pair in pairs {
                    self.song_pair(pair, None)?;
                }
                slice.form = Form::Flow;
                self.source(0, root.start).clone_into(&mut slice.opening);
                self.source(root.end, text.len())
                    .clone_into(&mut slice.tail);
                let said = self.said_of_flow(root, Owned::Song(&self.song));
                slice.entries.push(self.whole_entry(root, said));
            }
            Shape::Map { flow: false, pairs } => {
                let first = pairs.first().map_or(root.start, |pair| {
                    first_byte_of(text, document.begin, pair.key.start)
                });
                slice.column = column_of(text, first);
                let from = boundary(text, document.begin, first, slice.column);
                let to = boundary(text, root.end, text.len(), 0);
                self.source(0, from).clone_into(&mut slice.opening);
                self.source(to, text.len()).clone_into(&mut slice.tail);
                let cuts = entries(text, pairs, from, to);
                for (pair, cut) in pairs.iter().zip(cuts.windows(2)) {
                    let [from, to] = *cut else { continue };
                    let end = self.song_pair(pair, Some((from, to)))?;
                    slice.entries.push(self.entry(pair, from, end));
                }
                let song = std::mem::take(&mut self.song);
                say(&mut slice, Owned::Song(&song));
                self.song = song;
            }
            Shape::List { .. } | Shape::Scalar { .. } => {
                return Err(self.refuse(
                    root,
                    "a song file begins with keys, such as `title: The Ferry`",
                    "Write a key and a colon before it.",
                ));
            }
        }
        Ok(slice)
    }

    /// Reads a key of the song, and gives the byte up to which the text is its entry's: to the end, or to the first node of a list.
    fn song_pair(&mut self, pair: &Pair, cut: Option<(usize, usize)>) -> Result<usize, Message> {
        let to = cut.map_or(pair.value.end, |(_, to)| to);
        let key = pair.key.text().unwrap_or_default();
        match key {
            "sections" => {
                let regions = self.regions(pair, cut, NodeId::SONG)?;
                for region in &regions {
                    let section = self.section(*region)?;
                    self.song.sections.push(section);
                }
                Ok(first_of(&regions, cut, to))
            }
            "set_aside" => {
                let regions = self.regions(pair, cut, NodeId::SONG)?;
                for region in &regions {
                    let node = if is_line(region.tree) {
                        Node::Line(self.line(*region)?)
                    } else {
                        Node::Section(self.section(*region)?)
                    };
                    self.song.set_aside.push(node);
                }
                Ok(first_of(&regions, cut, to))
            }
            "voice" => {
                self.voice(pair)?;
                Ok(to)
            }
            "words" => {
                self.words(pair)?;
                Ok(to)
            }
            "tunes" => {
                self.tunes(pair)?;
                Ok(to)
            }
            _ => {
                let mut values = std::mem::take(&mut self.song.values);
                self.field(pair, Owner::Song, NodeId::SONG, &mut values);
                self.song.values = values;
                Ok(to)
            }
        }
    }

    /// The nodes of a list.
    fn regions<'tree>(
        &mut self,
        pair: &'tree Pair,
        cut: Option<(usize, usize)>,
        node: NodeId,
    ) -> Result<Vec<Region<'tree>>, Message> {
        let key = pair.key.text().unwrap_or_default();
        match (&pair.value.shape, cut) {
            (
                Shape::List {
                    flow: false,
                    items: list,
                },
                Some((_, to)),
            ) => {
                let cuts = items(self.text, list, pair.colon, to);
                Ok(list
                    .iter()
                    .zip(cuts.windows(2))
                    .filter_map(|(item, cut)| match *cut {
                        [from, to] => Some(region(item, from, to, false)),
                        _ => None,
                    })
                    .collect())
            }
            (Shape::List { items, .. }, _) => Ok(items
                .iter()
                .map(|item| region(item, item.value.start, item.value.end, true))
                .collect()),
            (Shape::Map { .. }, _) => Err(self.refuse(
                &pair.value,
                &format!("`{key}` has to be a list"),
                "Put a dash and a blank before each of its entries.",
            )),
            (
                Shape::Scalar {
                    style: Style::Empty,
                    ..
                },
                _,
            ) => Ok(Vec::new()),
            (Shape::Scalar { .. }, _) => {
                let message = Message::new(format!("`{key}` is a text"))
                    .expected("it has to be a list, each entry after a dash and a blank")
                    .next("It is kept and not sung.");
                self.find(FindingKind::Value, node, key, pair.key.start, message);
                Ok(Vec::new())
            }
        }
    }

    fn section(&mut self, region: Region<'_>) -> Result<Section, Message> {
        self.refuse_too_many(region)?;
        let mut section = Section {
            id: self.song.new_id(),
            values: Values::default(),
            lines: Vec::new(),
            set_aside: Vec::new(),
            slice: None,
        };
        let pairs: &[Pair] = match &region.tree.shape {
            Shape::Map { pairs, .. } => pairs,
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => &[],
            Shape::Scalar { .. } | Shape::List { .. } => {
                return Err(self.refuse(
                    region.tree,
                    "a section has to be a map of keys, such as `label: Verse 1`",
                    "Write a key and a colon before it.",
                ));
            }
        };
        let mut slice = self.slice_of(region);
        let cuts = self.cuts(region, pairs);
        for (index, pair) in pairs.iter().enumerate() {
            let cut = cuts
                .as_ref()
                .and_then(|cuts| match cuts.get(index..index + 2)? {
                    [from, to] => Some((*from, *to)),
                    _ => None,
                });
            let to = cut.map_or(pair.value.end, |(_, to)| to);
            let key = pair.key.text().unwrap_or_default();
            let end = if key == "lines" || key == "set_aside" {
                let regions = self.regions(pair, cut, section.id)?;
                for region in &regions {
                    let line = self.line(*region)?;
                    if key == "lines" {
                        section.lines.push(line);
                    } else {
                        section.set_aside.push(line);
                    }
                }
                first_of(&regions, cut, to)
            } else {
                self.field(pair, Owner::Section, section.id, &mut section.values);
                to
            };
            if let Some((from, _)) = cut {
                let entry = self.entry(pair, from, end);
                slice.entries.push(entry);
            }
        }
        self.finish(&mut slice, region, Owned::Section(&section));
        section.slice = Some(Arc::new(slice));
        Ok(section)
    }

    fn line(&mut self, region: Region<'_>) -> Result<Line, Message> {
        self.refuse_too_many(region)?;
        let mut line = self.song.new_line("");
        let pairs: &[Pair] = match &region.tree.shape {
            Shape::Map { pairs, .. } => pairs,
            Shape::Scalar { style, text } => {
                line.lyric = plain_text(text, *style);
                self.look_at_words(line.id, "lyric", region.tree, region.dash);
                &[]
            }
            Shape::List { .. } => {
                return Err(self.refuse(
                    region.tree,
                    "a line has to be its words, or a map of keys such as `lyric: She rang the bell`",
                    "Put words that begin with a bracket or a dash in quotes.",
                ));
            }
        };
        let mut slice = self.slice_of(region);
        let cuts = self.cuts(region, pairs);
        for (index, pair) in pairs.iter().enumerate() {
            self.line_pair(pair, &mut line)?;
            if let Some([from, to]) = cuts.as_ref().and_then(|cuts| cuts.get(index..index + 2)) {
                let entry = self.entry(pair, *from, *to);
                slice.entries.push(entry);
            }
        }
        self.finish(&mut slice, region, Owned::Line(&line));
        line.slice = Some(Arc::new(slice));
        Ok(line)
    }

    fn line_pair(&mut self, pair: &Pair, line: &mut Line) -> Result<(), Message> {
        let key = pair.key.text().unwrap_or_default();
        match key {
            "lyric" => {
                line.lyric = self.text_of(&pair.value).unwrap_or_default();
                if !matches!(pair.value.shape, Shape::Scalar { .. }) {
                    self.one_text(pair, line.id);
                }
                self.look_at_words(line.id, key, &pair.value, pair.colon);
            }
            "chords" => {
                line.chords = self.chords(pair, line.id)?;
                self.look_at_words(line.id, key, &pair.value, pair.colon);
            }
            "marks" => line.marks = self.marks(pair, line.id),
            "others" => {
                line.others = match &pair.value.shape {
                    Shape::List { items, .. } => items
                        .iter()
                        .map(|item| self.text_of(&item.value).unwrap_or_default())
                        .collect(),
                    Shape::Scalar { .. } | Shape::Map { .. } => {
                        self.text_of(&pair.value).into_iter().collect()
                    }
                };
            }
            _ => self.field(pair, Owner::Line, line.id, &mut line.values),
        }
        Ok(())
    }

    fn chords(&mut self, pair: &Pair, node: NodeId) -> Result<Option<ChordRow>, Message> {
        let read = match &pair.value.shape {
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => return Ok(None),
            Shape::Scalar { text, .. } => {
                self.chords += text.split_whitespace().count();
                if self.chords > MOST {
                    let byte = pair.key.start;
                    return Err(Trouble::TooMany { byte }.message(self.text));
                }
                let tokens = ChordRow::parse(text).0;
                let last = tokens.last().map_or(0, |token| token.column.0);
                (last <= LAST_COLUMN).then_some(tokens)
            }
            Shape::List { items, .. } => items
                .iter()
                .map(|item| token_of(&item.value))
                .collect::<Option<Vec<_>>>(),
            Shape::Map { .. } => None,
        };
        if read.is_none() {
            let message = Message::new("these chords cannot be read")
                .expected("they have to be a row in quotes, or a list such as `[[4, Cmaj7], [6, D]]` of columns and chords")
                .next("They are kept and not sounded.");
            self.find(FindingKind::Value, node, "chords", pair.key.start, message);
        }
        Ok(read.map(|mut tokens| {
            tokens.sort_by_key(|token| token.column);
            ChordRow(tokens)
        }))
    }

    fn marks(&mut self, pair: &Pair, node: NodeId) -> Vec<Column> {
        use unicode_segmentation::UnicodeSegmentation as _;
        let mut marks = Vec::new();
        let mut odd = false;
        match &pair.value.shape {
            Shape::Scalar { text, .. } => {
                for (column, sign) in text.graphemes(true).enumerate() {
                    if sign == "," && column <= LAST_COLUMN {
                        marks.push(Column(column));
                    } else if !sign.trim().is_empty() {
                        odd = true;
                    }
                }
            }
            Shape::List { items, .. } => {
                for item in items {
                    match column_in(&item.value) {
                        Some(column) => marks.push(column),
                        None => odd = true,
                    }
                }
                marks.sort_unstable();
                marks.dedup();
            }
            Shape::Map { .. } => odd = true,
        }
        if odd {
            let message = Message::new("the row of marks holds other signs than commas")
                .expected("each breath is a comma over the place where it is taken")
                .next("They are kept and not read.");
            self.find(FindingKind::Value, node, "marks", pair.key.start, message);
        }
        marks
    }

    fn voice(&mut self, pair: &Pair) -> Result<(), Message> {
        let Some(pairs) = self.map_under(
            pair,
            "`voice` has to be a map of keys, such as `{range: A2-E4}`",
        )?
        else {
            return Ok(());
        };
        for inner in pairs {
            let name = inner.key.text().unwrap_or_default();
            let field = Field::named(&format!("voice.{name}"), Owner::Song);
            match field {
                Some(field) if !name.contains('.') => {
                    let text = self.text_of(&inner.value);
                    self.song.values.set(field, text);
                }
                _ => self.unknown(inner, NodeId::SONG, None),
            }
        }
        Ok(())
    }

    fn words(&mut self, pair: &Pair) -> Result<(), Message> {
        let Some(pairs) = self.map_under(pair, "`words` has to be a map, such as `{quay: kee}`")?
        else {
            return Ok(());
        };
        for inner in pairs {
            if let Some(word) = inner.key.text() {
                let reading = self.text_of(&inner.value).unwrap_or_default();
                self.song.words.push((word.to_owned(), reading));
            }
        }
        Ok(())
    }

    fn tunes(&mut self, pair: &Pair) -> Result<(), Message> {
        let Some(pairs) = self.map_under(
            pair,
            "`tunes` has to be a map of names, each with its phrases after dashes",
        )?
        else {
            return Ok(());
        };
        for inner in pairs {
            let Some(name) = inner.key.text() else {
                continue;
            };
            let phrases = match &inner.value.shape {
                Shape::List { items, .. } => items
                    .iter()
                    .map(|item| self.text_of(&item.value).unwrap_or_default())
                    .collect(),
                // Phrases as the rows of one text.
                Shape::Scalar { .. } | Shape::Map { .. } => self
                    .text_of(&inner.value)
                    .iter()
                    .flat_map(|text| text.lines().map(str::to_owned))
                    .collect(),
            };
            self.song.tunes.push(Tune {
                name: name.to_owned(),
                phrases,
            });
        }
        Ok(())
    }

    /// The pairs of a map; none, with a finding, where a text stands in its place.
    fn map_under<'tree>(
        &mut self,
        pair: &'tree Pair,
        what: &str,
    ) -> Result<Option<&'tree [Pair]>, Message> {
        match &pair.value.shape {
            Shape::Map { pairs, .. } => Ok(Some(pairs)),
            Shape::List { .. } => Err(self.refuse(
                &pair.value,
                what,
                "Write a key and a colon before each entry, in place of its dash.",
            )),
            Shape::Scalar { style, .. } => {
                if *style != Style::Empty {
                    let key = pair.key.text().unwrap_or_default();
                    let message = Message::new(format!("`{key}` is a text"))
                        .expected(what)
                        .next("It is kept and not read.");
                    self.find(
                        FindingKind::Value,
                        NodeId::SONG,
                        key,
                        pair.key.start,
                        message,
                    );
                }
                Ok(None)
            }
        }
    }

    /// A key that holds one value, or is unknown.
    fn field(&mut self, pair: &Pair, owner: Owner, node: NodeId, values: &mut Values) {
        let key = pair.key.text().unwrap_or_default();
        let field = Field::named(key, owner).filter(|_| !key.contains('.'));
        let Some(field) = field else {
            self.unknown(pair, node, Some(owner));
            return;
        };
        let text = match (&pair.value.shape, field) {
            (Shape::List { items, .. }, Field::Tuning) => self.joined(items, &pair.value),
            (Shape::List { .. } | Shape::Map { .. } | Shape::Scalar { .. }, _) => {
                self.text_of(&pair.value)
            }
        };
        if !matches!(pair.value.shape, Shape::Scalar { .. }) && takes_words(field) {
            self.one_text(pair, node);
        }
        self.look_at_words(node, key, &pair.value, pair.colon);
        values.set(field, text);
    }

    fn one_text(&mut self, pair: &Pair, node: NodeId) {
        let key = pair.key.text().unwrap_or_default();
        let message = Message::new(format!("the {key} is a list or a map"))
            .expected("it has to be one text")
            .next("Put it in quotes if it is one. It is kept as typed.");
        self.find(FindingKind::Value, node, key, pair.key.start, message);
    }

    /// The tuning of a list of strings, as names with blanks between them.
    fn joined(&self, items: &[Item], value: &Tree) -> Option<String> {
        let names: Option<Vec<&str>> = items.iter().map(|item| item.value.text()).collect();
        match names {
            Some(names) => Some(names.join(" ")),
            None => self.text_of(value),
        }
    }

    /// What is typed as a value; of a list or a map its source.
    fn text_of(&self, tree: &Tree) -> Option<String> {
        match &tree.shape {
            Shape::Scalar {
                style: Style::Empty,
                ..
            } => None,
            Shape::Scalar { text, style } => Some(plain_text(text, *style)),
            Shape::List { .. } | Shape::Map { .. } => {
                Some(self.source(tree.start, tree.end).to_owned())
            }
        }
    }

    fn unknown(&mut self, pair: &Pair, node: NodeId, owner: Option<Owner>) {
        if self.findings.len() >= MOST_FINDINGS {
            return;
        }
        let key = super::content::key_of(self.text, &pair.key);
        let mut message = Message::new(format!("the key `{key}` is not known here"));
        let elsewhere = owners_of(&key);
        let guess = owner.and_then(|owner| nearest(&key, owner));
        if let Some(guess) = guess {
            message = message.expected(format!("perhaps `{guess}` is meant"));
        } else if let Some(other) = elsewhere.first() {
            let other = match other {
                Owner::Song => "the song",
                Owner::Section => "a section",
                Owner::Line => "a line",
            };
            message = message.expected(format!("it belongs to {other}"));
        } else if key.contains(' ') {
            message = message.expected("words before a colon and a blank are taken for a key; put the whole text in quotes if they are none");
        }
        let message = message.next("It is kept.");
        self.find(FindingKind::UnknownKey, node, &key, pair.key.start, message);
    }

    /// Words that YAML takes for something else without a complaint.
    fn look_at_words(&mut self, node: NodeId, key: &str, value: &Tree, after: usize) {
        let Shape::Scalar { style, .. } = &value.shape else {
            return;
        };
        let rest = self.text.get(value.end..).unwrap_or_default();
        let rest = rest.trim_start_matches([' ', '\t']);
        let before = self.source(after, value.start);
        let message = match style {
            Style::Plain if key == "lyric" && rest.starts_with('#') => {
                Message::new("what follows ` #` on this line is taken for a comment")
                    .next("Put the whole text in quotes if it belongs to the words.")
            }
            Style::Plain if key == "chords" && before.starts_with("  ") => Message::new(
                "the blanks before the first chord are lost without quotes",
            )
            .next("Put the row in double quotes, so that each chord stands over its syllable."),
            Style::Empty
                if rest.strip_prefix('#').is_some_and(|comment| {
                    comment.starts_with(|sign: char| !sign.is_whitespace() && sign != '#')
                }) =>
            {
                Message::new(format!("`{key}` has no value, as `#` begins a comment"))
                    .next("Put the value in quotes if the `#` belongs to it.")
            }
            Style::Plain
            | Style::Empty
            | Style::Single
            | Style::Double
            | Style::Literal
            | Style::Folded => return,
        };
        self.find(FindingKind::Typing, node, key, value.start, message);
    }

    /// The slice of a node, without its entries.
    fn slice_of(&self, region: Region<'_>) -> Slice {
        let mut slice = Slice::default();
        if region.flow {
            slice.form = match region.tree.shape {
                Shape::Map { .. } => Form::Flow,
                Shape::Scalar { .. } | Shape::List { .. } => Form::Text,
            };
            slice.column = self.breaks.column_of(region.tree.start);
            return slice;
        }
        let dash_line = line_start(self.text, region.dash);
        slice.dash = region.dash - dash_line;
        self.source(region.from, dash_line)
            .clone_into(&mut slice.lead);
        let first = match &region.tree.shape {
            Shape::Map { flow: false, pairs } => {
                let key = pairs
                    .first()
                    .map_or(region.tree.start, |pair| pair.key.start);
                let first = first_byte_of(self.text, region.dash + 1, key);
                slice.column = column_of(self.text, first);
                boundary(self.text, region.dash + 1, first, slice.column)
            }
            Shape::Map { flow: true, .. } => {
                slice.form = Form::Flow;
                slice.column = column_of(self.text, region.tree.start);
                region.tree.start
            }
            Shape::Scalar { .. } | Shape::List { .. } => {
                slice.form = Form::Text;
                slice.column = column_of(self.text, region.tree.start);
                region.tree.start
            }
        };
        self.source(dash_line, first).clone_into(&mut slice.opening);
        if slice.form != Form::Block {
            self.source(region.tree.end, region.to)
                .clone_into(&mut slice.tail);
        }
        slice
    }

    /// Where the entries of a block map are cut; `None` for one in braces.
    fn cuts(&self, region: Region<'_>, pairs: &[Pair]) -> Option<Vec<usize>> {
        let Shape::Map { flow: false, .. } = region.tree.shape else {
            return None;
        };
        let key = pairs.first()?.key.start;
        let first = first_byte_of(self.text, region.dash + 1, key);
        let column = column_of(self.text, first);
        let from = boundary(self.text, region.dash + 1, first, column);
        Some(entries(self.text, pairs, from, region.to))
    }

    /// An entry of a block map; its text begins with its line's indentation also where it follows a dash.
    fn entry(&mut self, pair: &Pair, from: usize, to: usize) -> Entry {
        let mut text = String::new();
        let column = column_of(self.text, from);
        text.extend(std::iter::repeat_n(' ', column));
        text.push_str(self.source(from, to));
        Entry {
            key: super::content::key_of(self.text, &pair.key),
            line: self.breaks.line_of(pair.key.start),
            text,
            said: Said::Nothing,
        }
    }

    fn whole_entry(&mut self, tree: &Tree, said: Said) -> Entry {
        Entry {
            key: String::new(),
            line: self.breaks.line_of(tree.start),
            text: self.source(tree.start, tree.end).to_owned(),
            said,
        }
    }

    /// Notes in a node's slice what its entries say.
    fn finish(&mut self, slice: &mut Slice, region: Region<'_>, owned: Owned<'_>) {
        match slice.form {
            Form::Block => say(slice, owned),
            Form::Flow => {
                let said = self.said_of_flow(region.tree, owned);
                slice.entries.push(self.whole_entry(region.tree, said));
            }
            Form::Text => {
                let said = owned.as_written();
                let said = match said {
                    Said::Map(_) => Said::Text(String::new()),
                    Said::Nothing | Said::Text(_) | Said::List(_) | Said::Nodes(_) => said,
                };
                slice.entries.push(self.whole_entry(region.tree, said));
            }
        }
    }

    /// What a map in braces says: its known keys as the song understood them, the others as they are.
    fn said_of_flow(&self, tree: &Tree, owned: Owned<'_>) -> Said {
        let known = keys_of(owned.owner());
        let (Shape::Map { pairs, .. }, Said::Map(mut said)) = (&tree.shape, owned.in_braces())
        else {
            return Said::Nothing;
        };
        for pair in pairs {
            let key = super::content::key_of(self.text, &pair.key);
            if !known.contains(&key.as_str()) {
                said.push((key, said_of(self.text, &pair.value)));
            }
        }
        Said::Map(said)
    }
}

const fn region(item: &Item, from: usize, to: usize, flow: bool) -> Region<'_> {
    Region {
        from,
        to,
        dash: item.dash,
        flow,
        tree: &item.value,
    }
}

/// Where the first node of a list in a block map begins, else where its entry ends.
fn first_of(regions: &[Region<'_>], cut: Option<(usize, usize)>, to: usize) -> usize {
    match (regions.first(), cut) {
        (Some(region), Some(_)) if !region.flow => region.from,
        _ => to,
    }
}

/// Whether a node that was set aside is a line.
fn is_line(tree: &Tree) -> bool {
    let Shape::Map { pairs, .. } = &tree.shape else {
        return true;
    };
    let keys: Vec<&str> = pairs.iter().filter_map(|pair| pair.key.text()).collect();
    reads_as_line(&keys)
}

/// Whether the keys of a node that was set aside are a line's: by those that only a line or only a section has.
pub(super) fn reads_as_line(keys: &[&str]) -> bool {
    let has = |telling: &[&str]| keys.iter().any(|key| telling.contains(key));
    let section = [
        "label",
        "kind",
        "again",
        "tune",
        "key",
        "meter",
        "tempo",
        "capo",
        "happens",
        "mood",
        "played",
        "lines",
        "set_aside",
    ];
    has(&["lyric", "chords"]) || !has(&section) && has(&["marks", "others", "sound", "run_on"])
}

const fn takes_words(field: Field) -> bool {
    matches!(
        field,
        Field::Title
            | Field::Label
            | Field::Happens
            | Field::Mood
            | Field::Picture
            | Field::Played
            | Field::Sound
    )
}

/// Notes in a block slice what its entries say.
fn say(slice: &mut Slice, owned: Owned<'_>) {
    let content = owned.content();
    for entry in &mut slice.entries {
        if let Some(nodes) = owned.list(&entry.key) {
            let first = nodes.first().and_then(|node| node.slice());
            entry.said = match first {
                // A node of a block list has its dash in its slice.
                Some(first) if !first.opening.is_empty() => Said::Nodes(first.dash),
                Some(_) => Said::List(nodes.into_iter().map(Owned::as_written).collect()),
                None => Said::Nothing,
            };
        } else if let Some((_, said)) = content.iter().find(|(key, _)| *key == entry.key) {
            entry.said = said.clone();
        }
    }
}

fn plain_text(text: &str, style: Style) -> String {
    match style {
        // The row's own line break, and what a block text keeps of empty rows behind it, is no part of the words.
        Style::Literal | Style::Folded => text.trim_end_matches('\n').to_owned(),
        Style::Empty | Style::Plain | Style::Single | Style::Double => text.to_owned(),
    }
}

/// The last column of a row that chords and marks are read in; wider rows are no song's.
const LAST_COLUMN: usize = 100_000;

fn column_in(tree: &Tree) -> Option<Column> {
    let column = tree.text()?.parse().ok()?;
    (column <= LAST_COLUMN).then_some(Column(column))
}

fn token_of(tree: &Tree) -> Option<ChordToken> {
    let Shape::List { items, .. } = &tree.shape else {
        return None;
    };
    let [column, chord] = items.as_slice() else {
        return None;
    };
    let text = chord.value.text()?;
    if text.is_empty() || text.contains(char::is_whitespace) {
        return None;
    }
    Some(ChordToken {
        column: column_in(&column.value)?,
        text: text.to_owned(),
    })
}

/// The line of the file on which a key of a node stood when the file was read; `None` for what was added since.
#[must_use]
pub fn line_in_file(song: &Song, node: NodeId, key: &str) -> Option<usize> {
    let slice = if node == NodeId::SONG {
        song.slice.as_deref()
    } else if let Some(section) = song.section(node) {
        section.slice.as_deref()
    } else {
        song.line(node).and_then(|line| line.slice.as_deref())
    };
    slice.and_then(|slice| slice.line_of(key))
}

/// The line and the column, from 1, of a byte of a text; of one inside a sign, where the sign begins.
#[must_use]
pub fn place_of_byte(text: &str, byte: usize) -> (usize, usize) {
    place(text, byte)
}
