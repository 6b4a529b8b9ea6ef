//! Whole ways through the file: read, edit, write, read again.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use super::content::same_song;
use super::read::{Opened, read};
use super::write::write;
use crate::song::Song;
use crate::song::edit::{Edit, List, Position, Value};
use crate::song::field::Field;
use crate::song::{Node, NodeId, chord_row::ChordRow, column::Column};

pub(super) const FERRY: &str = r#"# The ferry song.

title: The Ferry at Low Water
key: Em                    # as ABC writes keys
meter: 3/4
tempo: 96                  # beats a minute
# beat: 3/8
voice: {steady_note: 22, range: A2-E4, octave: -1}   # the voice
words: {quay: kee, evening: eve-ning}
tuning: [E2, A2, D3]
tunes:
  verse:                   # phrases
    - "B,2 | E4 F2 |"
    # the second
    - 'G4'
  bare:
mine: {a: [1, 2]}   # not known

sections:
  - label: Verse 1
    kind: verse            # a section
    happens: |
      she calls
      # no comment
    lines:
      # the first line
      - chords: "    Em       C           Am      B7"
        lyric:  "She rang the bell at the water's edge"
        marks:  "                 ,"
        sound: a bell, once
        others: ["She pulled the rope at the water's edge"]
      - and no one answered   # plain
      - {lyric: no lantern moved, bars: 4, colour: red}
    # kept
    set_aside:
      - 'a line set aside'

  - {kind: interlude, bars: 8}
  # once more
  - {again: Verse 1}       # the same
set_aside: [a line, {kind: verse, lines: [x]}]
# the end
"#;

fn opened(text: &str) -> Song {
    let song = read(text)
        .unwrap_or_else(|error| panic!("{error}\n{text}"))
        .song;
    assert_eq!(write(&song), text);
    song
}

/// Makes the edits and gives the text then, which says the same as the song.
fn after(text: &str, edits: impl FnOnce(&Song) -> Vec<Edit>) -> String {
    let mut song = opened(text);
    let back = song.apply(&Edit::Group(edits(&song))).unwrap();
    let written = write(&song);
    let again = read(&written).unwrap_or_else(|error| panic!("{error}\n{written}"));
    assert!(same_song(&song, &again.song), "{written}");
    song.apply(&back).unwrap();
    assert_eq!(write(&song), text);
    written
}

/// The lines that differ, taken out and put in.
fn difference(old: &str, new: &str) -> (Vec<String>, Vec<String>) {
    let lines = |text: &str| {
        text.split_inclusive('\n')
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    let (mut old, mut new) = (lines(old), lines(new));
    while !old.is_empty() && old.last() == new.last() {
        old.pop();
        new.pop();
    }
    let same = old
        .iter()
        .zip(&new)
        .take_while(|(old, new)| old == new)
        .count();
    (old.split_off(same), new.split_off(same))
}

fn check(text: &str, edits: impl FnOnce(&Song) -> Vec<Edit>, gone: &str, come: &str) {
    let (old, new) = difference(text, &after(text, edits));
    assert_eq!((old.concat().as_str(), new.concat().as_str()), (gone, come));
}

fn set(node: NodeId, value: Value) -> Vec<Edit> {
    vec![Edit::Set { node, value }]
}

fn set_field(field: Field, text: &str) -> Vec<Edit> {
    set(NodeId::SONG, Value::Field(field, Some(text.into())))
}

fn line(song: &Song, index: usize) -> NodeId {
    song.sections[0].lines[index].id
}

#[test]
fn a_value_changes_alone() {
    check(
        FERRY,
        |_| set_field(Field::Tempo, "100"),
        "tempo: 96                  # beats a minute\n",
        "tempo: 100                  # beats a minute\n",
    );
    check(
        FERRY,
        |_| set_field(Field::Range, "G2-C4"),
        "voice: {steady_note: 22, range: A2-E4, octave: -1}   # the voice\n",
        "voice: {steady_note: 22, range: G2-C4, octave: -1}   # the voice\n",
    );
    check(
        FERRY,
        |_| set_field(Field::Refill, "1.5"),
        "voice: {steady_note: 22, range: A2-E4, octave: -1}   # the voice\n",
        "voice: {steady_note: 22, range: A2-E4, octave: -1, refill: 1.5}   # the voice\n",
    );
    check(FERRY, |_| set_field(Field::Capo, "2"), "", "capo: 2\n");
    check(
        FERRY,
        |_| set(NodeId::SONG, Value::Field(Field::Meter, None)),
        "meter: 3/4\n",
        "",
    );
    check(
        FERRY,
        |_| set(NodeId::SONG, Value::Field(Field::Key, None)),
        "key: Em                    # as ABC writes keys\n",
        "key:                    # as ABC writes keys\n",
    );
    check(
        FERRY,
        |song| {
            set(
                song.sections[0].id,
                Value::Field(Field::Happens, Some("she waits\nno".into())),
            )
        },
        "      she calls\n      # no comment\n",
        "      she waits\n      no\n",
    );
}

#[test]
fn words_and_tunes_change_in_place() {
    check(
        FERRY,
        |_| set(NodeId::SONG, Value::Word("quay".into(), None)),
        "words: {quay: kee, evening: eve-ning}\n",
        "words: {evening: eve-ning}\n",
    );
    check(
        FERRY,
        |_| set(NodeId::SONG, Value::Word("a b".into(), Some("no".into()))),
        "words: {quay: kee, evening: eve-ning}\n",
        "words: {quay: kee, evening: eve-ning, a b: \"no\"}\n",
    );
    check(
        FERRY,
        |_| {
            set(
                NodeId::SONG,
                Value::Tune(
                    "verse".into(),
                    Some(vec!["C".into(), "G4".into(), "z".into()]),
                ),
            )
        },
        "    - \"B,2 | E4 F2 |\"\n    # the second\n    - 'G4'\n",
        "    - \"C\"\n    # the second\n    - 'G4'\n    - \"z\"\n",
    );
    check(
        FERRY,
        |_| {
            set(
                NodeId::SONG,
                Value::Tune("new".into(), Some(vec!["C".into()])),
            )
        },
        "",
        "  new:\n    - \"C\"\n",
    );
    check(
        FERRY,
        |_| set(NodeId::SONG, Value::Tune("bare".into(), None)),
        "  bare:\n",
        "",
    );
    check(
        FERRY,
        |_| set_field(Field::Tuning, "D2 A2 D3 G3"),
        "tuning: [E2, A2, D3]\n",
        "tuning: [D2, A2, D3, G3]\n",
    );
}

#[test]
fn a_line_changes_alone() {
    check(
        FERRY,
        |song| set(line(song, 0), Value::Lyric("She sang".into())),
        "        lyric:  \"She rang the bell at the water's edge\"\n",
        "        lyric:  \"She sang\"\n",
    );
    check(
        FERRY,
        |song| set(line(song, 1), Value::Lyric("and: none".into())),
        "      - and no one answered   # plain\n",
        "      - \"and: none\"   # plain\n",
    );
    check(
        FERRY,
        |song| set(line(song, 1), Value::Chords(Some(ChordRow::parse("Em")))),
        "      - and no one answered   # plain\n",
        "      - chords: \"Em\"\n        lyric: and no one answered   # plain\n",
    );
    check(
        FERRY,
        |song| set(line(song, 2), Value::Marks(vec![Column(3)])),
        "      - {lyric: no lantern moved, bars: 4, colour: red}\n",
        "      - {lyric: no lantern moved, bars: 4, colour: red, marks: \"   ,\"}\n",
    );
    check(
        FERRY,
        |song| set(line(song, 0), Value::Marks(Vec::new())),
        "        marks:  \"                 ,\"\n",
        "",
    );
    check(
        FERRY,
        |song| set(line(song, 0), Value::Chords(None)),
        "      - chords: \"    Em       C           Am      B7\"\n        lyric:  \"She rang the bell at the water's edge\"\n",
        "      - lyric:  \"She rang the bell at the water's edge\"\n",
    );
    check(
        FERRY,
        |song| {
            let others = vec!["One".into(), song.sections[0].lines[0].others[0].clone()];
            set(line(song, 0), Value::Others(others))
        },
        "        others: [\"She pulled the rope at the water's edge\"]\n",
        "        others: [\"One\", \"She pulled the rope at the water's edge\"]\n",
    );
}

#[test]
fn nodes_move_with_their_text() {
    check(
        FERRY,
        |song| {
            vec![Edit::Remove {
                node: line(song, 1),
            }]
        },
        "      - and no one answered   # plain\n",
        "",
    );
    check(
        FERRY,
        |song| {
            vec![Edit::Move {
                node: line(song, 1),
                to: Position {
                    list: List::LinesSetAside(song.sections[0].id),
                    index: 1,
                },
            }]
        },
        "      - and no one answered   # plain\n      - {lyric: no lantern moved, bars: 4, colour: red}\n    # kept\n    set_aside:\n      - 'a line set aside'\n",
        "      - {lyric: no lantern moved, bars: 4, colour: red}\n    # kept\n    set_aside:\n      - 'a line set aside'\n      - and no one answered   # plain\n",
    );
    check(
        FERRY,
        |song| {
            vec![Edit::Move {
                node: song.sections[2].id,
                to: Position {
                    list: List::Sections,
                    index: 1,
                },
            }]
        },
        "\n  - {kind: interlude, bars: 8}\n  # once more\n  - {again: Verse 1}       # the same\n",
        "  # once more\n  - {again: Verse 1}       # the same\n\n  - {kind: interlude, bars: 8}\n",
    );
    let moved = after(FERRY, |song| {
        vec![Edit::Move {
            node: song.sections[0].id,
            to: Position {
                list: List::SetAside,
                index: 0,
            },
        }]
    });
    assert!(moved.contains("colour: red"), "{moved}");
    let moved = after(FERRY, |song| {
        vec![Edit::Move {
            node: song.set_aside[0].id(),
            to: Position {
                list: List::Lines(song.sections[0].id),
                index: 0,
            },
        }]
    });
    assert!(moved.contains("      - a line\n"), "{moved}");
}

#[test]
fn new_nodes_are_written_in_order() {
    let mut song = opened(FERRY);
    let mut line = song.new_line("She said: come");
    line.chords = Some(ChordRow::parse("  Em"));
    let edit = Edit::Insert {
        to: Position {
            list: List::Lines(song.sections[0].id),
            index: 3,
        },
        node: Box::new(Node::Line(line.clone())),
    };
    check(
        FERRY,
        |_| vec![edit],
        "",
        "      - chords: \"  Em\"\n        lyric:  \"She said: come\"\n",
    );
    let section = song.new_section("Verse 2", "verse", vec![line]);
    let edit = Edit::Insert {
        to: Position {
            list: List::Sections,
            index: 3,
        },
        node: Box::new(Node::Section(section)),
    };
    check(
        FERRY,
        |_| vec![edit],
        "",
        "  - label: Verse 2\n    kind: verse\n    lines:\n      - chords: \"  Em\"\n        lyric:  \"She said: come\"\n",
    );
}

#[test]
fn a_new_song_is_readable() {
    let mut song = Song::new("The Ferry");
    song.values.set(Field::Tempo, Some("96".into()));
    song.values.set(Field::Range, Some("A2-E4".into()));
    song.tunes.push(crate::song::Tune {
        name: "verse".into(),
        phrases: vec!["B,2 | E4".into()],
    });
    let text = write(&song);
    assert_eq!(
        text,
        "title: The Ferry\ntempo: 96\nvoice: {range: A2-E4}\ntunes:\n  verse:\n    - \"B,2 | E4\"\nsections:\n  - label: Verse 1\n    kind: verse\n    lines:\n      - lyric: \"\"\n"
    );
    assert!(same_song(&song, &read(&text).unwrap().song));
}

#[test]
fn texts_of_all_kinds_come_back() {
    for text in [
        "",
        "# only a comment",
        "---\n",
        "\u{feff}title: a\r\nsections:\r\n- lines:\r\n  - b\r\n",
        "---\n# c\ntitle: a\n...\n# end",
        "{\"title\": \"a\", \"sections\": [{\"lines\": [\"b\", {\"lyric\": \"c\"}]}]}\n",
        "title:\n  a\nkey:   \n? tempo\n: 96\nlyric: x",
        "sections:\n  -\n    # c\n    label: a\n\n    lines: []\n  - lines:\n      - |\n        b\n\n      # d\n      - >-\n        e\n  - lines:\n",
        "sections: none\nvoice: alto\ntunes:\nwords: x\n",
        "title: \"a\n  b\"\nhappens: c\n  d\nset_aside:\n  - lyric: |+\n      x\n\n\n  - y",
        "sections:\n    - lines:\n          - lyric: a\n            # deep\n            others:\n              - b\n            # deeper\n    # end\n",
        "sections:\n-\n-  # empty\n- lines:\n  -\ntitle: a\n",
        "title: !!str a\nsections: !x\n  - !y\n    label: b\n",
    ] {
        let song = opened(text);
        let mut changed = song.clone();
        changed.values.set(Field::Title, Some("new".into()));
        let section = changed.new_section("z", "verse", Vec::new());
        changed.sections.push(section);
        let line = changed.new_line("w");
        changed.sections[0].lines.insert(0, line);
        let written = write(&changed);
        let again = read(&written).unwrap_or_else(|error| panic!("{error}\n{written}"));
        assert!(same_song(&changed, &again.song), "{text}\n→\n{written}");
    }
}

#[test]
fn findings_name_key_and_line() {
    let Opened { findings, .. } = read(
        "title: a\ntemop: 3\nsections:\n  - lines:\n      - lyric: the sky # grey\n        tempo: 3\n      - chords:     Em\n      - She said: come\nvoice: alto\n",
    )
    .unwrap();
    let found: Vec<(usize, &str)> = findings
        .iter()
        .map(|finding| (finding.line, &*finding.key))
        .collect();
    assert_eq!(
        found,
        [
            (2, "temop"),
            (5, "lyric"),
            (6, "tempo"),
            (7, "chords"),
            (8, "She said"),
            (9, "voice")
        ]
    );
    assert_eq!(
        findings[0].message.to_string(),
        "line 2: the key `temop` is not known here; perhaps `tempo` is meant. It is kept."
    );
}

#[test]
fn comments_of_what_moves_into_braces_stay() {
    let text = "sections:\n  - lines:\n      # above\n      - {lyric: a, mine: 1}  # behind\n      - sound: b  # beside\n        # below\n  - {kind: verse, lines: [c]}\n";
    for index in [0, 1] {
        let moved = after(text, |song| {
            vec![Edit::Move {
                node: line(song, index),
                to: Position {
                    list: List::Lines(song.sections[1].id),
                    index: 0,
                },
            }]
        });
        let comments = [["# above", "# behind"], ["# beside", "# below"]][index];
        assert!(
            comments.iter().all(|comment| moved.contains(comment)),
            "{moved}"
        );
    }
}

#[test]
fn a_lone_return_behind_a_dash_keeps_the_key_below_in_its_column() {
    let text = "sections:\n- \r  label: Verse 1\n  kind: verse\n";
    let song = super::read::read(text).unwrap().song;
    assert_eq!(super::write::write(&song), text);
}
