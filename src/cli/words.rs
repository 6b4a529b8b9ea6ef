//! `words`: how words sound.

use super::Ended;
use super::args::WordsArgs;
use super::output::Output;
use crate::formats::json::words as json;
use crate::wording::message::Message;
use crate::words::{self, Readings, SongWords};
use std::io::BufRead;

/// Answers for each word in turn.
///
/// # Errors
/// Where standard input cannot be read, or the output not written.
pub fn run(args: &WordsArgs, output: &mut Output) -> Result<Ended, Message> {
    let own = SongWords::default();
    let read = |word: &str| {
        if args.estimate {
            words::read_estimate(word)
        } else {
            words::read(word, &own)
        }
    };
    if output.json() {
        let mut list = output.list();
        let all = each_word(&args.words, |word| list.item(&json::word(&read(word))));
        list.end();
        all?;
    } else {
        each_word(&args.words, |word| {
            output.row(&row(&read(word)));
            Ok(())
        })?;
    }
    Ok(Ended::Fine)
}

/// Hands each word on as soon as it is there; `-` stands for those of standard input, between blanks.
fn each_word(
    words: &[String],
    mut answer: impl FnMut(&str) -> Result<(), Message>,
) -> Result<(), Message> {
    for word in words {
        if word != "-" {
            answer(word)?;
            continue;
        }
        let mut input = std::io::stdin().lock();
        let mut row = String::new();
        while read_row(&mut input, &mut row)? {
            row.split_whitespace().try_for_each(&mut answer)?;
        }
    }
    Ok(())
}

/// Reads one more row of text; whether there was one.
fn read_row(input: &mut impl BufRead, row: &mut String) -> Result<bool, Message> {
    row.clear();
    let length = input
        .read_line(row)
        .map_err(|error| Message::new(format!("standard input could not be read ({error})")))?;
    Ok(length > 0)
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
    let phones: Vec<&str> = word.phones.iter().map(|phone| phone.0.name()).collect();
    let row = format!(
        "{:<16} {:>2}  {:<20} {}  {} {}",
        word.word,
        word.syllables,
        word.parts.join("-"),
        phones.join(" "),
        others.join(", "),
        from
    );
    row.trim_end().to_owned()
}
