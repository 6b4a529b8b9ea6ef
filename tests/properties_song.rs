//! What holds for every song: edits are taken back exactly, places stay in their rows, a file is written back as it was read,
//! and a changed one keeps its comments and unknown keys.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use breathmark::formats::yaml::{content::same_song, read::read, write::write};
use breathmark::song::chord_row::ChordRow;
use breathmark::song::column::Column;
use breathmark::song::edit::{Edit, EditError, List, Position, Step, Value};
use breathmark::song::field::Field;
use breathmark::song::history::History;
use breathmark::song::place::{Place, Row, Side};
use breathmark::song::slice::Slice;
use breathmark::song::{Line, Node, NodeId, Section, Song};
use breathmark::song::{line_edits, paste, section_edits};
use proptest::prelude::*;

/// Decisions in a row, which proptest can shorten; behind its end all are 0.
struct Tape {
    decisions: Vec<u32>,
    at: usize,
}

impl Tape {
    fn new(decisions: Vec<u32>) -> Self {
        Self { decisions, at: 0 }
    }

    /// A number below `count`.
    fn below(&mut self, count: usize) -> usize {
        let decision = self.decisions.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        usize::try_from(decision).unwrap() % count.max(1)
    }

    fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == count - 1
    }

    fn pick<T: Clone>(&mut self, from: &[T]) -> T {
        from[self.below(from.len())].clone()
    }
}

fn tape() -> impl Strategy<Value = Tape> {
    proptest::collection::vec(any::<u32>(), 0..300).prop_map(Tape::new)
}

impl std::fmt::Debug for Tape {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?}", self.decisions)
    }
}

/// Texts that are awkward as YAML, as rows of graphemes, or both.
const TEXTS: &[&str] = &[
    "She rang the bell",
    "",
    "no",
    "12",
    "a: b",
    "'Twas night",
    "\"Come in,\" said she",
    "  lead",
    "trail ",
    "é♭ 👩\u{200d}👧 x",
    "the sky # grey",
    "- dash",
    "tab\there",
    "one\ntwo",
    "\u{1b}[31mred",
    "*star*",
    "&and",
    "%",
    "| Em |",
    "{brace",
    "a, b",
    "[b]",
    "null",
    "~",
    "back\\slash",
    "zero\u{200b}width",
    "# hash",
    "? what",
    " ",
    "next\u{85}line",
    "🇳🇴🇸🇪",
    "e\u{301}ve",
    "...and then",
    "@home",
    "it's",
    "key:",
    "---",
    "!bang",
    "1:30",
    "> said",
    "one\n\n  three",
    "\u{feff}",
    "\r",
    "`tick",
];

/// Texts that may stand without quotes.
const BARE: &[&str] = &[
    "She rang",
    "x",
    "a river, wide",
    "it's",
    "Verse 1",
    "two  blanks",
    "♭ ♯",
    "a#b",
    "12",
    "no",
];

fn double(text: &str) -> String {
    let escaped: String = text
        .chars()
        .map(|sign| match sign {
            '"' => "\\\"".to_owned(),
            '\\' => "\\\\".to_owned(),
            ' '..='~' | '♭' | 'é' => sign.to_string(),
            _ => format!("\\U{:08X}", u32::from(sign)),
        })
        .collect();
    format!("\"{escaped}\"")
}

/// Writes song files in many hands. Every comment and unknown key has a number of its own, so that none can be lost unseen.
struct Hand {
    tape: Tape,
    text: String,
    tokens: Vec<String>,
    step: usize,
}

impl Hand {
    fn token(&mut self, sign: &str) -> String {
        let token = format!("{sign}{}z", self.tokens.len());
        self.tokens.push(token.clone());
        token
    }

    fn above(&mut self, column: usize) {
        match self.tape.below(8) {
            1 => self.text.push('\n'),
            2 => {
                let token = self.token("c");
                self.text
                    .push_str(&format!("{}# {token}: \"it's\n", " ".repeat(column)));
            }
            3 => {
                let token = self.token("c");
                self.text
                    .push_str(&format!("\n{}#{token}\n\n", " ".repeat(column)));
            }
            _ => {}
        }
    }

    fn end(&mut self) {
        if self.tape.one_in(5) {
            let token = self.token("c");
            self.text.push_str(&format!("  # {token}"));
        }
        self.text.push('\n');
    }

    fn scalar(&mut self, column: usize, flow: bool) -> String {
        match self.tape.below(if flow { 3 } else { 6 }) {
            0 => {
                let text = self.tape.pick(TEXTS);
                double(text)
            }
            1 => format!("'{}'", self.tape.pick(BARE).replace('\'', "''")),
            2 | 3 => {
                let bare = self.tape.pick(BARE);
                if flow {
                    bare.replace(',', "")
                } else {
                    bare.to_owned()
                }
            }
            4 => {
                let inner = " ".repeat(column + self.step);
                let header = self.tape.pick(&["|", "|-", ">", "|+"]);
                format!("{header}\n{inner}block text\n{inner}# of two rows")
            }
            _ => String::new(),
        }
    }

    fn pair(&mut self, column: usize, first: bool, key: &str, value: &str) {
        if !first {
            self.above(column);
            self.text.push_str(&" ".repeat(column));
        }
        let gap = if value.is_empty() {
            ""
        } else {
            self.tape.pick(&[" ", "  "])
        };
        self.text.push_str(&format!("{key}:{gap}{value}"));
        if value.starts_with(['|', '>']) {
            self.text.push('\n');
        } else {
            self.end();
        }
    }

    fn flow_list(&mut self) -> String {
        let items: Vec<String> = (0..self.tape.below(4))
            .map(|_| self.scalar(0, true))
            .collect();
        format!("[{}]", items.join(", "))
    }

    fn unknown(&mut self, column: usize, first: bool) {
        let key = self.token("x");
        let value = match self.tape.below(3) {
            0 => self.scalar(column, false),
            1 => "[1, {a: 'b'}]".to_owned(),
            _ => "{c: [d], \"e\": ~}".to_owned(),
        };
        self.pair(column, first, &key, &value);
    }

    fn chords(&mut self) -> String {
        self.tape
            .pick(&[
                "\"    Em     C\"",
                "'| G | C  D |'",
                "Am",
                "[[4, Cmaj7], [6, D]]",
                "\"\"",
                "",
            ])
            .to_owned()
    }

    fn line(&mut self, dash: usize) {
        self.above(dash);
        self.text.push_str(&" ".repeat(dash));
        match self.tape.below(5) {
            0 => {
                let text = self.tape.pick(BARE);
                self.text.push_str(&format!("- {text}"));
                self.end();
            }
            1 => {
                let key = self.token("x");
                let (lyric, other) = (self.scalar(0, true), self.scalar(0, true));
                self.text
                    .push_str(&format!("- {{lyric: {lyric}, {key}: {other}, bars: 2}}"));
                self.end();
            }
            _ => {
                self.text.push_str("- ");
                let column = dash + 2;
                let mut keys: Vec<&str> = vec!["chords", "lyric", "marks", "sound", "others", "x"];
                let turn = self.tape.below(keys.len());
                keys.rotate_left(turn);
                let count = 1 + self.tape.below(keys.len());
                for (index, key) in keys.into_iter().take(count).enumerate() {
                    let first = index == 0;
                    let value = match key {
                        "chords" => self.chords(),
                        "marks" => "\"   ,  ,\"".to_owned(),
                        "others" => self.flow_list(),
                        "x" => {
                            self.unknown(column, first);
                            continue;
                        }
                        _ => self.scalar(column, false),
                    };
                    self.pair(column, first, key, &value);
                }
            }
        }
    }

    fn section(&mut self, dash: usize) {
        self.above(dash);
        self.text.push_str(&" ".repeat(dash));
        if self.tape.one_in(6) {
            let key = self.token("x");
            let lyric = self.scalar(0, true);
            self.text.push_str(&format!(
                "- {{kind: verse, {key}: 1, lines: [{lyric}, {{lyric: b}}]}}"
            ));
            self.end();
            return;
        }
        let column = dash + 2;
        self.text.push_str("- ");
        if self.tape.one_in(6) {
            self.end();
            self.text.push_str(&" ".repeat(column));
        }
        self.pair(column, true, "label", "Verse 1");
        for key in ["kind", "happens", "tempo", "x"] {
            match (self.tape.below(3), key) {
                (0, _) => {}
                (_, "x") => self.unknown(column, false),
                _ => {
                    let value = self.scalar(column, false);
                    self.pair(column, false, key, &value);
                }
            }
        }
        for key in ["lines", "set_aside"] {
            let count = self.tape.below(4);
            if count == 0 {
                continue;
            }
            self.pair(column, false, key, "");
            let dash = column + self.tape.pick(&[0, self.step]);
            for _ in 0..count {
                self.line(dash);
            }
        }
    }

    fn song(&mut self) {
        if self.tape.one_in(6) {
            self.text.push_str("---");
            self.end();
        }
        for key in [
            "title", "key", "tempo", "voice", "words", "tuning", "tunes", "x", "x", "due",
        ] {
            if self.tape.below(3) == 0 {
                continue;
            }
            let value = match key {
                "x" => {
                    self.unknown(0, false);
                    continue;
                }
                "voice" => self
                    .tape
                    .pick(&["{range: A2-E4, octave: -1}", "", "{x: 1}"])
                    .to_owned(),
                "words" => self
                    .tape
                    .pick(&["{quay: kee, no: \"on\"}", "\n  quay: kee\n  eve: 'ee-ve'"])
                    .to_owned(),
                "tuning" => "[E2, A2, D3]".to_owned(),
                "tunes" => "\n  verse:\n  - \"B,2 | E4\"\n  - 'G'\n  bare:".to_owned(),
                _ => self.scalar(0, false),
            };
            if self.text.contains(&format!("\n{key}:")) || self.text.starts_with(&format!("{key}:"))
            {
                continue;
            }
            self.pair(0, false, key, &value);
        }
        self.pair(0, false, "sections", "");
        let dash = self.tape.pick(&[0, self.step]);
        for _ in 0..1 + self.tape.below(3) {
            self.section(dash);
        }
        if self.tape.one_in(3) {
            self.pair(0, false, "set_aside", "");
            self.line(self.step);
            self.section(self.step);
        }
        self.above(0);
        if self.tape.one_in(6) {
            self.text.push_str("...\n");
        }
        if self.tape.one_in(4) && self.text.ends_with('\n') {
            self.text.pop();
        }
    }
}

/// The text of a song file, and what in it must never get lost.
fn file(tape: Tape) -> (String, Vec<String>, Tape) {
    let mut hand = Hand {
        tape,
        text: String::new(),
        tokens: Vec::new(),
        step: 2,
    };
    hand.step = 1 + hand.tape.below(4);
    let crlf = hand.tape.one_in(6);
    let bom = hand.tape.one_in(8);
    hand.song();
    let mut text = hand.text;
    if crlf {
        text = text.replace('\n', "\r\n");
    }
    if bom {
        text.insert(0, '\u{feff}');
    }
    (text, hand.tokens, hand.tape)
}

fn opened(text: &str) -> Song {
    read(text)
        .unwrap_or_else(|error| panic!("{error}\n{text}"))
        .song
}

fn lines(song: &Song) -> Vec<&Line> {
    let of = |section: &'_ Section| -> Vec<NodeId> {
        section
            .lines
            .iter()
            .chain(&section.set_aside)
            .map(|line| line.id)
            .collect()
    };
    let aside = song.set_aside.iter().flat_map(|node| match node {
        Node::Section(section) => of(section),
        Node::Line(line) => vec![line.id],
    });
    song.sections
        .iter()
        .flat_map(of)
        .chain(aside)
        .filter_map(|id| song.line(id))
        .collect()
}

fn sections(song: &Song) -> Vec<&Section> {
    let aside = song.set_aside.iter().filter_map(|node| match node {
        Node::Section(section) => Some(section),
        Node::Line(_) => None,
    });
    song.sections.iter().chain(aside).collect()
}

/// A place where typing may happen.
fn place(song: &Song, tape: &mut Tape) -> Place {
    let lines = lines(song);
    if lines.is_empty() || tape.one_in(6) {
        let field = tape.pick(&[Field::Title, Field::Tempo]);
        let end = Column::end_of(song.values.get(field).unwrap_or_default());
        return Place {
            node: NodeId::SONG,
            row: Row::Value(field),
            column: Column(tape.below(end.0 + 1)),
        };
    }
    let line = tape.pick(&lines);
    let row = if line.others.is_empty() || tape.below(3) > 0 {
        Row::Lyric
    } else {
        Row::Other(tape.below(line.others.len()))
    };
    let end = Column::end_of(&song.row_text(line.id, row).unwrap());
    Place {
        node: line.id,
        row,
        column: Column(tape.below(end.0 + 1)),
    }
}

fn typing(song: &Song, tape: &mut Tape) -> Edit {
    let place = place(song, tape);
    let end = Column::end_of(&song.row_text(place.node, place.row).unwrap());
    Edit::Splice {
        node: place.node,
        row: place.row,
        at: place.column,
        remove: tape.below(3).min(end.0 - place.column.0),
        insert: tape
            .pick(&[
                "s", "", " ", "\u{301}", "🇳", "\u{200d}", "the ", "👩", ",", "\r", "\n",
            ])
            .to_owned(),
    }
}

fn value(song: &Song, tape: &mut Tape) -> Edit {
    let lines = lines(song);
    let set = |node, value| Edit::Set { node, value };
    let text = tape.pick(TEXTS).to_owned();
    match tape.below(if lines.is_empty() { 3 } else { 8 }) {
        0 => {
            let field = tape.pick(&[
                Field::Title,
                Field::Key,
                Field::Tempo,
                Field::Range,
                Field::Octave,
                Field::Due,
            ]);
            set(
                NodeId::SONG,
                Value::Field(field, (!tape.one_in(3)).then_some(text)),
            )
        }
        1 => set(
            NodeId::SONG,
            Value::Word(
                tape.pick(&["quay", "eve", "no", "a: b"]).to_owned(),
                (!tape.one_in(3)).then_some(text),
            ),
        ),
        2 => {
            let phrases = (0..tape.below(4))
                .map(|_| tape.pick(TEXTS).to_owned())
                .collect();
            set(
                NodeId::SONG,
                Value::Tune(
                    tape.pick(&["verse", "bare", "new"]).to_owned(),
                    (!tape.one_in(3)).then_some(phrases),
                ),
            )
        }
        3 => {
            let ids: Vec<NodeId> = sections(song).iter().map(|section| section.id).collect();
            let section = if ids.is_empty() {
                NodeId::SONG
            } else {
                tape.pick(&ids)
            };
            let field = tape.pick(&[Field::Label, Field::Happens, Field::Tempo, Field::Played]);
            set(
                section,
                Value::Field(field, (!tape.one_in(3)).then_some(text)),
            )
        }
        4 => set(tape.pick(&lines).id, Value::Lyric(text)),
        5 => {
            let row = tape
                .pick(&[None, Some(""), Some("  Em  C"), Some("| % |")])
                .map(ChordRow::parse);
            let row = row.map(|mut row| {
                if let Some(last) = row.0.last_mut().filter(|_| tape.one_in(3)) {
                    last.column = Column(last.column.0.saturating_sub(2));
                }
                row
            });
            set(tape.pick(&lines).id, Value::Chords(row))
        }
        6 => {
            let mut marks: Vec<Column> =
                (0..tape.below(3)).map(|_| Column(tape.below(30))).collect();
            marks.sort_unstable();
            marks.dedup();
            set(tape.pick(&lines).id, Value::Marks(marks))
        }
        _ => {
            let line = tape.pick(&lines);
            let mut others = line.others.clone();
            if tape.one_in(2) {
                others.pop();
            } else {
                others.insert(tape.below(others.len() + 1), text);
            }
            set(line.id, Value::Others(others))
        }
    }
}

fn moving(song: &Song, tape: &mut Tape) -> Edit {
    let all = sections(song);
    let lines = lines(song);
    if lines.is_empty() || tape.one_in(3) {
        if all.is_empty() {
            return Edit::Group(Vec::new());
        }
        let node = tape.pick(&all).id;
        let list = tape.pick(&[List::Sections, List::SetAside]);
        let index = tape.below(song.sections.len().min(song.set_aside.len()).max(1));
        return Edit::Move {
            node,
            to: Position { list, index },
        };
    }
    let node = tape.pick(&lines).id;
    let list = if all.is_empty() || tape.one_in(4) {
        List::SetAside
    } else if tape.one_in(3) {
        List::LinesSetAside(tape.pick(&all).id)
    } else {
        List::Lines(tape.pick(&all).id)
    };
    Edit::Move {
        node,
        to: Position {
            list,
            index: tape.below(3),
        },
    }
}

/// An edit that leaves nothing out of the song.
fn keeping_edit(song: &Song, tape: &mut Tape) -> Edit {
    match tape.below(4) {
        0 => typing(song, tape),
        1 => moving(song, tape),
        2 => {
            let id = song.fresh_id();
            let mut new = song.clone().new_line(tape.pick(TEXTS));
            new.id = id;
            new.chords = tape.pick(&[None, Some(ChordRow::parse("  Em"))]);
            let list = song
                .sections
                .first()
                .map_or(List::SetAside, |section| List::Lines(section.id));
            Edit::Insert {
                to: Position { list, index: 0 },
                node: Box::new(Node::Line(new)),
            }
        }
        _ => value(song, tape),
    }
}

fn step(song: &Song, tape: &mut Tape) -> Result<Step, EditError> {
    let lines = lines(song);
    let some_line = if lines.is_empty() {
        NodeId::SONG
    } else {
        tape.pick(&lines).id
    };
    let end = song
        .line(some_line)
        .map_or(0, |line| Column::end_of(&line.lyric).0);
    let column = Column(tape.below(end + 1));
    let sections = sections(song);
    let some_section = if sections.is_empty() {
        NodeId::SONG
    } else {
        tape.pick(&sections).id
    };
    match tape.below(10) {
        0 => line_edits::split(song, some_line, column),
        1 => {
            let second = if lines.is_empty() {
                some_line
            } else {
                tape.pick(&lines).id
            };
            line_edits::join(song, some_line, second)
        }
        2 => line_edits::new_after(song, some_line),
        3 => section_edits::new_after(song, some_section, tape.pick(&["verse", "chorus"])),
        4 => section_edits::set_aside(
            song,
            if tape.one_in(2) {
                some_line
            } else {
                some_section
            },
        ),
        5 => section_edits::bring_back(
            song,
            if tape.one_in(2) {
                some_line
            } else {
                some_section
            },
        ),
        6 => line_edits::swap_wording(song, some_line, tape.below(2)),
        7 => line_edits::add_wording(song, some_line, tape.pick(TEXTS)),
        8 => paste::into_lyric(
            song,
            some_line,
            column,
            tape.pick(&["one", "  Em\none\ntwo", "\n\n", "a\r\nb\r\n"]),
            |row| row.trim() == "Em",
        ),
        _ => section_edits::remove(
            song,
            if tape.one_in(3) {
                some_section
            } else {
                some_line
            },
        ),
    }
}

fn any_edit(song: &Song, tape: &mut Tape) -> Edit {
    if tape.one_in(2) {
        keeping_edit(song, tape)
    } else {
        step(song, tape).map_or(Edit::Group(Vec::new()), |step| step.edit)
    }
}

/// What is saved is YAML to others too: serde_yaml, an independent reader, finds the same lyrics in it.
fn read_elsewhere(song: &Song, written: &str) -> Result<(), TestCaseError> {
    let found: serde_yaml::Value =
        match serde_yaml::from_str(written.trim_start_matches('\u{feff}')) {
            Ok(found) => found,
            Err(error) => return Err(TestCaseError::fail(format!("{error}\n{written}"))),
        };
    let sections = found.get("sections").and_then(|found| found.as_sequence());
    for (section, found) in song.sections.iter().zip(sections.into_iter().flatten()) {
        let lines = found.get("lines").and_then(|found| found.as_sequence());
        for (line, found) in section.lines.iter().zip(lines.into_iter().flatten()) {
            // A line may be its lyric alone. What it takes for a number or a truth value is text to us.
            let lyric = found.get("lyric").unwrap_or(found).as_str();
            let alike = |lyric: &str| lyric.trim_end() == line.lyric.trim_end();
            prop_assert!(lyric.is_none_or(alike), "{lyric:?}\n{written}");
        }
    }
    Ok(())
}

fn is_in_order(song: &Song) -> bool {
    lines(song).iter().all(|line| {
        line.marks.is_sorted_by(|mark, next| mark < next)
            && line
                .chords
                .as_ref()
                .is_none_or(|row| row.0.is_sorted_by_key(|token| token.column))
    })
}

/// The texts of a slice, and not where they stood.
fn texts(slice: Option<&Slice>) -> Vec<String> {
    slice.map_or(Vec::new(), |slice| {
        // Blank lines between two nodes belong to one or the other.
        let apart = [&slice.lead, &slice.opening, &slice.tail];
        let entries = slice.entries.iter().map(|entry| &entry.text);
        let texts = entries.chain(apart);
        texts
            .map(|text| text.trim_matches(['\r', '\n']).to_owned())
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_edit_and_its_way_back_restore_song_and_places(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        for _ in 0..8 {
            let before = song.clone();
            let edit = any_edit(&song, &mut tape);
            let cursor = place(&song, &mut tape);
            let mut places = [(Some(cursor), Side::Behind), (Some(cursor), Side::Before)];
            match song.apply_with(&edit, &mut places) {
                Ok(back) => {
                    for (place, _) in places {
                        prop_assert!(place.is_none_or(|place| song.has_place(place)), "{edit:?} {cursor:?} → {place:?}");
                    }
                    prop_assert!(is_in_order(&song), "{edit:?}");
                    let after = song.clone();
                    let forth = song.apply(&back).unwrap();
                    prop_assert_eq!(&song, &before, "{:?}", edit);
                    song.apply(&forth).unwrap();
                    prop_assert_eq!(&song, &after);
                }
                Err(_) => {
                    prop_assert_eq!(&song, &before);
                    prop_assert_eq!(places[0].0, Some(cursor));
                }
            }
        }
    }

    #[test]
    fn undoing_all_is_the_start_and_redoing_all_the_end(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        let start = song.clone();
        let mut history = History::default();
        let mut cursor = place(&song, &mut tape);
        let first = cursor;
        for _ in 0..12 {
            let edit = any_edit(&song, &mut tape);
            let mut places = [(Some(cursor), Side::Behind)];
            if let Ok(back) = song.apply_with(&edit, &mut places) {
                let after = places[0].0.unwrap_or(first);
                history.record(&edit, back, Some(cursor), Some(after));
                cursor = after;
            }
            if tape.one_in(4) {
                history.end_run();
            }
        }
        let (end, state) = (song.clone(), history.state());
        let mut steps = 0;
        let mut last = Some(first);
        while let Some(before) = history.undo(&mut song).unwrap() {
            steps += 1;
            last = before;
        }
        prop_assert_eq!(&song, &start);
        prop_assert_eq!(last, Some(first));
        prop_assert!(history.is_saved());
        for _ in 0..steps {
            history.redo(&mut song).unwrap().unwrap();
        }
        prop_assert_eq!(&song, &end);
        prop_assert_eq!(history.state(), state);
    }

    #[test]
    fn a_file_is_written_back_as_it_was_read(tape in tape()) {
        let (text, _, _) = file(tape);
        prop_assert_eq!(write(&opened(&text)), text);
    }

    #[test]
    fn a_changed_file_says_what_the_song_says_and_loses_nothing(tape in tape()) {
        let (text, tokens, mut tape) = file(tape);
        let mut song = opened(&text);
        let mut backs = Vec::new();
        for _ in 0..1 + tape.below(5) {
            let edit = keeping_edit(&song, &mut tape);
            backs.extend(song.apply(&edit));
            let written = write(&song);
            let again = read(&written).unwrap_or_else(|error| panic!("{error}\n{text}\n→\n{written}\n{edit:?}"));
            prop_assert!(same_song(&song, &again.song), "{}\n→\n{}\n{:?}", text, written, edit);
            for token in &tokens {
                prop_assert!(written.contains(token), "{} is lost\n{}\n→\n{}\n{:?}", token, text, written, edit);
            }
            prop_assert_eq!(write(&again.song), written);
        }
        while let Some(back) = backs.pop() {
            song.apply(&back).unwrap();
        }
        prop_assert_eq!(write(&song), text);
    }

    #[test]
    fn any_change_can_be_saved(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        for _ in 0..6 {
            let edit = any_edit(&song, &mut tape);
            let _ = song.apply(&edit);
        }
        let written = write(&song);
        let again = read(&written).unwrap_or_else(|error| panic!("{error}\n{text}\n→\n{written}"));
        prop_assert!(same_song(&song, &again.song), "{}\n→\n{}", text, written);
        read_elsewhere(&song, &written)?;
    }

    #[test]
    fn a_changed_line_leaves_the_text_of_all_others(tape in tape()) {
        let (text, _, mut tape) = file(tape);
        let mut song = opened(&text);
        let edit = value(&song, &mut tape);
        let Edit::Set { node, .. } = edit else { return Ok(()) };
        let outer = song.section_of(node).map(|section| section.id);
        if song.apply(&edit).is_err() { return Ok(()) }
        let again = opened(&write(&song));
        for line in lines(&song) {
            let other = again.line(line.id).unwrap();
            if line.id != node && Some(line.id) != outer {
                let flow_parent = song.section_of(line.id).is_some_and(|section| {
                    section.slice.as_deref().is_some_and(|slice| slice.entries.first().is_some_and(|entry| entry.key.is_empty()))
                });
                prop_assert!(flow_parent || texts(line.slice.as_deref()) == texts(other.slice.as_deref()) || !text.ends_with('\n'), "{}\n→\n{}", text, write(&song));
            }
        }
    }

    #[test]
    fn damaged_files_are_read_or_refused(tape in tape(), cuts in proptest::collection::vec((any::<u16>(), any::<u8>()), 1..4)) {
        let (text, _, _) = file(tape);
        let mut bytes = text.into_bytes();
        for (at, byte) in cuts {
            let at = usize::from(at) % bytes.len();
            if byte < 128 {
                bytes[at] = byte;
            } else {
                bytes.remove(at);
            }
            if bytes.is_empty() { return Ok(()) }
        }
        let text = String::from_utf8_lossy(&bytes);
        if let Ok(opened) = read(&text) {
            prop_assert_eq!(write(&opened.song), text.as_ref());
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "[ \\n\\t:#'\"|>{}\\[\\],&*!%@?a-c0-9é\u{feff}\\r-]{0,60}") {
        if let Ok(opened) = read(&text) {
            prop_assert_eq!(write(&opened.song), text);
        }
    }

    #[test]
    fn any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let text = String::from_utf8_lossy(&bytes);
        if let Ok(opened) = read(&text) {
            prop_assert_eq!(write(&opened.song), text.as_ref());
        }
    }
}
