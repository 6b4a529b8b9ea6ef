//! `rhymes`: words that rhyme with a word.

use super::Ended;
use super::args::{Beats, RhymesArgs};
use super::output::Output;
use crate::formats::json::rhymes::rhyme;
use crate::wording::message::Message;
use crate::words::rhyme::ending::Ending;
use crate::words::rhyme::search::{Wish, rhymes};
use crate::words::{SongWords, read};

/// Near rhymes are listed up to so many words in all.
const ENOUGH: usize = 100;

/// Lists the words, best first.
///
/// # Errors
/// Where the output cannot be written.
pub fn run(args: &RhymesArgs, output: &mut Output) -> Result<Ended, Message> {
    let word = args.word.trim().to_lowercase();
    if word.is_empty() {
        return Err(Message::new("the word is empty").next("Give the word that is to be rhymed."));
    }
    let with = Ending::of_word(&read(&word, &SongWords::default()));
    let stresses = match &args.stress {
        Some(Beats(beats)) => beats.clone(),
        None => with.stresses(),
    };
    let wish = Wish {
        stresses: &stresses,
        fitting: args.stress.is_some(),
        except: &word,
        enough: args.count.map_or(ENOUGH, usize::from),
        syllables: args.syllables,
    };
    let mut found = rhymes(&with, wish);
    if let Some(count) = args.count {
        found.truncate(usize::from(count));
    }
    if output.json() {
        let answer: Vec<_> = found.iter().map(rhyme).collect();
        output.value(&answer)?;
        return Ok(Ended::Fine);
    }
    if found.is_empty() {
        let narrowed = args.stress.is_some() || args.syllables.is_some();
        let so = if narrowed {
            " and has the syllables asked for"
        } else {
            ""
        };
        output.row(&format!("nothing in the dictionary rhymes with {word}{so}"));
    }
    for found in &found {
        output.row(&format!(
            "{:<20} {:<10} {:.2}  {}",
            found.word,
            found.kind.name(),
            found.score,
            found.syllables
        ));
    }
    Ok(Ended::Fine)
}
