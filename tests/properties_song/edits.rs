//! Edits of every kind on any song.

use crate::hand::TEXTS;
use crate::tape::Tape;
use breathmark::song::chord_row::ChordRow;
use breathmark::song::column::Column;
use breathmark::song::edit::{Edit, EditError, List, Position, Step, Value};
use breathmark::song::field::Field;
use breathmark::song::place::{Place, Row};
use breathmark::song::{Line, Node, NodeId, Section, Song};
use breathmark::song::{line_edits, paste, section_edits};

pub(crate) fn lines(song: &Song) -> Vec<&Line> {
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

pub(crate) fn sections(song: &Song) -> Vec<&Section> {
    let aside = song.set_aside.iter().filter_map(|node| match node {
        Node::Section(section) => Some(section),
        Node::Line(_) => None,
    });
    song.sections.iter().chain(aside).collect()
}

/// A place where typing may happen.
pub(crate) fn place(song: &Song, tape: &mut Tape) -> Place {
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
    if tape.one_in(8) {
        let tune = tape.below(song.tunes.len() + 1);
        let phrases = song.tunes.get(tune).map_or(0, |tune| tune.phrases.len());
        let row = Row::Phrase(tune, tape.below(phrases + 1));
        if let Some(text) = song.row_text(NodeId::SONG, row) {
            return Place {
                node: NodeId::SONG,
                row,
                column: Column(tape.below(Column::end_of(&text).0 + 1)),
            };
        }
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

pub(crate) fn typing(song: &Song, tape: &mut Tape) -> Edit {
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

pub(crate) fn value(song: &Song, tape: &mut Tape) -> Edit {
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

pub(crate) fn moving(song: &Song, tape: &mut Tape) -> Edit {
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
pub(crate) fn keeping_edit(song: &Song, tape: &mut Tape) -> Edit {
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

pub(crate) fn step(song: &Song, tape: &mut Tape) -> Result<Step, EditError> {
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

pub(crate) fn any_edit(song: &Song, tape: &mut Tape) -> Edit {
    if tape.one_in(2) {
        keeping_edit(song, tape)
    } else {
        step(song, tape).map_or(Edit::Group(Vec::new()), |step| step.edit)
    }
}
