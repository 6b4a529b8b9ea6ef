//! A value that makes no sense; the default serves meanwhile.

use super::asking::Asking;
use super::{Kind, Rule, Warning, WayOut};
use crate::reading::Reading;
use crate::song::column::Column;
use crate::song::edit::{Edit, Value};
use crate::song::field::Field;
use crate::song::place::{Place, Row};
use crate::song::{NodeId, Song};

/// `value`.
pub const RULE: Rule = Rule {
    kind: Kind::Value,
    find,
    ways_out,
    example: "title: Value\ntempo: fast\nsections:\n  - lines: [She rang the bell]\n",
};

fn find(_: &Song, reading: &Reading, warnings: &mut Vec<Warning>) {
    for problem in &reading.head.problems {
        let section = reading
            .sections
            .iter()
            .position(|section| section.id == problem.node);
        let line = reading.lines.iter().find(|line| line.id == problem.node);
        let meanwhile = match problem.field {
            Field::Again => "meanwhile nothing is sung here",
            Field::Tune => "meanwhile the section has no notes",
            _ => "the default serves meanwhile",
        };
        warnings.push(Warning {
            kind: Kind::Value,
            section: line.map(|line| line.section).or(section),
            line: line.map(|line| line.line),
            place: Place {
                node: problem.node,
                row: Row::Value(problem.field),
                column: Column(0),
            },
            message: format!(
                "`{}` is \"{}\"; {}; {meanwhile}",
                problem.field.name(),
                problem.found,
                problem.expected
            ),
        });
    }
}

fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    let Row::Value(field) = warning.place.row else {
        return Vec::new();
    };
    let node = if warning.section.is_none() {
        NodeId::SONG
    } else {
        warning.place.node
    };
    let edit = Edit::Set {
        node,
        value: Value::Field(field, None),
    };
    asking
        .way(
            warning,
            "default",
            format!("take `{}` away and use the default", field.name()),
            edit,
        )
        .into_iter()
        .collect()
}
