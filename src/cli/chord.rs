//! `chord`: what a chord's name means.

use super::Ended;
use super::args::ChordArgs;
use super::output::Output;
use crate::formats::json;
use crate::music::chord::Chord;
use crate::music::key::Key;
use crate::wording::message::Message;

/// Answers for each chord in turn.
///
/// # Errors
/// Where a name is no chord, or the key no key, or the output not written.
pub fn run(args: &ChordArgs, output: &mut Output) -> Result<Ended, Message> {
    let key = match &args.key {
        Some(text) => Some(Key::parse(text).ok_or_else(|| {
            Message::new(format!("\"{text}\" is no key"))
                .expected("a key is written such as Em, Bb, Ador or \"D dorian\"")
        })?),
        None => None,
    };
    let answers = args
        .names
        .iter()
        .map(|name| {
            Chord::parse(name)
                .map(|chord| json::chord(&chord, key))
                .map_err(|why| Message::new(why.to_string()))
        })
        .collect::<Result<Vec<_>, _>>()?;
    if output.json() {
        output.value(&answers)?;
    } else {
        for answer in &answers {
            let numeral = answer
                .numeral
                .as_deref()
                .map_or_else(String::new, |numeral| format!("   {numeral}"));
            output.row(&format!(
                "{:<8} {}   bass {}{numeral}",
                answer.chord,
                answer.notes.join(" "),
                answer.bass
            ));
        }
    }
    Ok(Ended::Fine)
}
