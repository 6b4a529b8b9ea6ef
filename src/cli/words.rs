//! `words`: how words sound.

use super::Ended;
use super::args::WordsArgs;
use super::output::Output;
use crate::formats::json;
use crate::wording::message::Message;
use crate::words::{self, Readings, SongWords};
use std::io::BufRead as _;

/// Answers for each word in turn.
///
/// # Errors
/// Where standard input cannot be read, or the output not written.
pub fn run(args: &WordsArgs, output: &mut Output) -> Result<Ended, Message> {
    let own = SongWords::default();
    let mut answers = Vec::new();
    let mut each = |word: &str| {
        let readings = if args.estimate {
            words::read_estimate(word)
        } else {
            words::read(word, &own)
        };
        answers.push(readings);
    };
    for word in &args.words {
        if word == "-" {
            for row in std::io::stdin().lock().lines() {
                let row = row.map_err(|error| {
                    Message::new(format!("standard input could not be read ({error})"))
                })?;
                row.split_whitespace().for_each(&mut each);
            }
        } else {
            each(word);
        }
    }
    if output.json() {
        let answer: Vec<_> = answers.iter().map(json::word).collect();
        output.value(&answer)?;
    } else {
        answers
            .iter()
            .for_each(|readings| output.row(&row(readings)));
    }
    Ok(Ended::Fine)
}

fn row(readings: &Readings) -> String {
    let word = json::word(readings);
    let others: Vec<String> = word
        .readings
        .iter()
        .skip(1)
        .map(|reading| format!("or {}", reading.syllables))
        .collect();
    let from = if word.from == "estimate" {
        "(estimated)"
    } else {
        ""
    };
    let row = format!(
        "{:<16} {:>2}  {:<20} {}  {} {}",
        word.word,
        word.syllables,
        word.parts.join("-"),
        word.phones.join(" "),
        others.join(", "),
        from
    );
    row.trim_end().to_owned()
}
