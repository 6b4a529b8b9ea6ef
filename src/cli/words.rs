//! `words`: how words sound.

use super::Ended;
use super::args::WordsArgs;
use super::output::{Output, Part};
use crate::formats::json::words as json;
use crate::wording::message::Message;
use crate::words::{self, Readings, SongWords};
use std::io::BufRead;
use std::num::NonZero;
use std::{panic, thread};

/// Bytes of standard input that are answered at once, or a row where that is longer; and words.
const BLOCK: usize = 64 * 1024;
const BATCH: usize = 8192;
/// Fewer words than this are not worth a thread.
const SHARE: usize = 256;

/// Answers for each word in turn.
///
/// # Errors
/// Where standard input cannot be read, or the output not written.
pub fn run(args: &WordsArgs, output: &mut Output) -> Result<Ended, Message> {
    if output.json() {
        let mut list = output.list();
        let answer = |words: &[&str]| answered(words, args.estimate, json_item);
        let all = each_part(&args.words, answer, |part| list.part(part));
        list.end();
        all?;
    } else {
        let answer = |words: &[&str]| answered(words, args.estimate, text_row);
        each_part(&args.words, answer, |part| output.part(part))?;
    }
    Ok(Ended::Fine)
}

/// Adds what is said of a word to a part of the answer.
type Tell = fn(&mut Part, &Readings) -> Result<(), Message>;

fn json_item(part: &mut Part, readings: &Readings) -> Result<(), Message> {
    part.item(&json::word(readings))
}

fn text_row(part: &mut Part, readings: &Readings) -> Result<(), Message> {
    part.row(&row(readings));
    Ok(())
}

fn answered(words: &[&str], estimate: bool, tell: Tell) -> Result<Part, Message> {
    let own = SongWords::default();
    let mut part = Part::default();
    for word in words {
        let readings = if estimate {
            words::read_estimate(word)
        } else {
            words::read(word, &own)
        };
        tell(&mut part, &readings)?;
    }
    Ok(part)
}

/// Writes the answers in the order of the words, until nobody takes them; `-` stands for the words of standard input,
/// between blanks.
fn each_part(
    words: &[String],
    answer: impl Fn(&[&str]) -> Result<Part, Message> + Sync,
    mut write: impl FnMut(&Part) -> bool,
) -> Result<(), Message> {
    for word in words {
        if word == "-" {
            each_batch(|batch| {
                for part in in_threads(batch, &answer) {
                    if !write(&part?) {
                        return Ok(false);
                    }
                }
                Ok(true)
            })?;
        } else if word.trim().is_empty() {
            return Err(Message::new("a word is empty")
                .next("Give words, or - to read them from the input."));
        } else {
            let words: Vec<&str> = word.split_whitespace().collect();
            write(&answer(&words)?);
        }
    }
    Ok(())
}

/// Hands on the words of standard input until there are no more or no more are wanted.
fn each_batch(mut more: impl FnMut(&[&str]) -> Result<bool, Message>) -> Result<(), Message> {
    let mut input = std::io::stdin().lock();
    let mut rows = String::new();
    loop {
        rows.clear();
        let read = read_rows(&mut input, &mut rows);
        let mut words = rows.split_whitespace();
        loop {
            let batch: Vec<&str> = words.by_ref().take(BATCH).collect();
            if batch.is_empty() {
                break;
            }
            if !more(&batch)? {
                return Ok(());
            }
        }
        if !read? {
            return Ok(());
        }
    }
}

/// Reads some rows of text; whether there may be more. What was read before an error is there.
fn read_rows(input: &mut impl BufRead, rows: &mut String) -> Result<bool, Message> {
    while rows.len() < BLOCK {
        let before = rows.len();
        match input.read_line(rows) {
            Ok(0) => return Ok(false),
            Ok(_) => {}
            Err(error) => {
                rows.truncate(before);
                let text = format!("standard input could not be read ({error})");
                return Err(Message::new(text));
            }
        }
    }
    Ok(true)
}

/// The answers for all words in order, shared among as many threads as the machine runs at once.
fn in_threads(
    words: &[&str],
    answer: &(impl Fn(&[&str]) -> Result<Part, Message> + Sync),
) -> Vec<Result<Part, Message>> {
    let threads = thread::available_parallelism().map_or(1, NonZero::get);
    let share = words.len().div_ceil(threads).max(SHARE);
    let mut shares = words.chunks(share);
    let own = shares.next().unwrap_or_default();
    thread::scope(|scope| {
        let others: Vec<_> = shares
            .map(|share| scope.spawn(move || answer(share)))
            .collect();
        let own = answer(own);
        let joined = others.into_iter().map(|other| {
            other
                .join()
                .unwrap_or_else(|fault| panic::resume_unwind(fault))
        });
        std::iter::once(own).chain(joined).collect()
    })
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
