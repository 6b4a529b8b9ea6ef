//! A token of a chord row that is no chord.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut};
use crate::music::chord::Chord;
use crate::reading::{LineReading, Reading};
use crate::song::Song;
use crate::song::edit::{Edit, Value};
use crate::song::place::{Place, Row};

/// `chord`.
pub const RULE: Rule = Rule {
    kind: Kind::Chord,
    find,
    ways_out,
    example: "title: Chord\nsections:\n  - lines:\n      - {chords: 'Em  Hx', lyric: She rang the bell}\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    // Where a section is sung again its rows are not told twice.
    let own = |line: &&LineReading| {
        let section = reading.sections.get(line.section);
        section.is_some_and(|section| section.id == section.source)
    };
    for line in reading.lines.iter().filter(own) {
        for (column, why) in &line.row.unread {
            warnings.push(Warning {
                kind: Kind::Chord,
                section: Some(line.section),
                line: Some(line.line),
                place: Place {
                    node: line.id,
                    row: Row::Chords,
                    column: *column,
                },
                message: format!("{why}; it sounds nothing meanwhile"),
            });
        }
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let Some(row) = asking
        .song()
        .line(warning.place.node)
        .and_then(|line| line.chords.clone())
    else {
        return Vec::new();
    };
    let Some(index) = row
        .0
        .iter()
        .position(|token| token.column == warning.place.column)
    else {
        return Vec::new();
    };
    let typed = row
        .0
        .get(index)
        .map_or_else(String::new, |token| token.text.clone());
    let set = |row| Edit::Set {
        node: warning.place.node,
        value: Value::Chords(Some(row)),
    };
    let mut ways = Vec::new();
    for better in nearest_chords(&typed) {
        let mut mended = row.clone();
        if let Some(token) = mended.0.get_mut(index) {
            token.text.clone_from(&better);
        }
        ways.extend(asking.way(warning, "chord", format!("write {better}"), set(mended)));
    }
    let mut without = row;
    without.0.remove(index);
    ways.extend(asking.way(
        warning,
        "chord",
        format!("take \"{typed}\" away"),
        set(without),
    ));
    ways
}

/// What a slip of the finger may have meant: the upper-case letter, the German H, or the beginning that is a chord.
fn nearest_chords(typed: &str) -> Vec<String> {
    let mut capital = typed.chars();
    let upper = capital
        .next()
        .map(|first| first.to_uppercase().chain(capital).collect::<String>());
    let german = typed
        .strip_prefix(['H', 'h'])
        .map(|rest| format!("B{rest}"));
    let beginning = (1..typed.chars().count())
        .rev()
        .map(|length| typed.chars().take(length).collect::<String>());
    let mut found: Vec<String> = Vec::new();
    for text in upper.into_iter().chain(german).chain(beginning) {
        if text != typed && Chord::parse(&text).is_ok() && !found.contains(&text) && found.len() < 2
        {
            found.push(text);
        }
    }
    found
}
