//! What can be typed behind the program's name.

use crate::words::phone::Stress;
use clap::{Args as ClapArgs, Parser, Subcommand};
use std::path::PathBuf;

/// The names of the commands, for hints.
pub const COMMANDS: [&str; 6] = ["new", "check", "vary", "words", "chord", "rhymes"];

/// A lyric-and-chord notebook that says, while a ballad is being written, what cannot be sung on one breath.
#[derive(Debug, Parser)]
#[command(
    name = "breathmark",
    version,
    args_conflicts_with_subcommands = true,
    subcommand_precedence_over_arg = true
)]
pub struct Args {
    /// A song to open, or a folder of songs; without one, the current folder.
    #[arg(value_name = "FILE|FOLDER")]
    pub path: Option<PathBuf>,
    /// Print the answer of a command as JSON.
    #[arg(long, global = true)]
    pub json: bool,
    /// What to do, instead of opening the page.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Begin a new song in the notebook; its file is named after the title
    New(NewArgs),
    /// Every line's syllables, seconds, air and verdict; every breath; warnings and remarks
    Check(SongArg),
    /// Variants of a section's chords over its unchanged melody, best first
    Vary(VaryArgs),
    /// Syllables, sounds, stress and other readings of words
    Words(WordsArgs),
    /// A chord's notes, and its numeral in a key
    Chord(ChordArgs),
    /// Words that rhyme with a word, best first
    Rhymes(RhymesArgs),
}

/// A song.
#[derive(Debug, ClapArgs)]
pub struct SongArg {
    /// The song's file
    #[arg(value_name = "SONG")]
    pub song: PathBuf,
}

/// What `new` takes.
#[derive(Debug, ClapArgs)]
pub struct NewArgs {
    /// The song's title
    #[arg(value_name = "TITLE")]
    pub title: String,
    /// The notebook's folder, if it is not the current one
    #[arg(long = "in", value_name = "FOLDER", default_value = ".")]
    pub folder: PathBuf,
}

/// What `vary` takes.
#[derive(Debug, ClapArgs)]
pub struct VaryArgs {
    /// The song's file
    #[arg(value_name = "SONG")]
    pub song: PathBuf,
    /// The section's label, such as "Verse 3"
    #[arg(long, value_name = "LABEL", required_unless_present = "plan")]
    pub section: Option<String>,
    /// How many variants
    #[arg(long, value_name = "N", default_value_t = 6, value_parser = clap::value_parser!(u16).range(1..=500))]
    pub count: u16,
    /// One variant for each repeat of a tune, so that neighbours differ
    #[arg(long, conflicts_with = "count")]
    pub plan: bool,
}

/// What `words` takes.
#[derive(Debug, ClapArgs)]
pub struct WordsArgs {
    /// The words; `-` reads them from standard input, one or more to a line
    #[arg(value_name = "WORD", required = true)]
    pub words: Vec<String>,
    /// Leave the dictionary out
    #[arg(long)]
    pub estimate: bool,
}

/// What `chord` takes.
#[derive(Debug, ClapArgs)]
pub struct ChordArgs {
    /// Chord names, such as Em or D/F#
    #[arg(value_name = "NAME", required = true)]
    pub names: Vec<String>,
    /// The key for the numeral, such as G or Ador
    #[arg(long, value_name = "K")]
    pub key: Option<String>,
}

/// What `rhymes` takes.
#[derive(Debug, ClapArgs)]
pub struct RhymesArgs {
    /// The word
    #[arg(value_name = "WORD")]
    pub word: String,
    /// At most so many words; without it all that rhyme fully, and near ones up to 100 in all
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    pub count: Option<u16>,
    /// Only words of so many syllables
    #[arg(long, value_name = "N")]
    pub syllables: Option<usize>,
    /// Only words whose main stress falls on a 1 of this pattern, a sign a syllable: 01 for "alone", 100 for "wandering"
    #[arg(long, value_name = "PATTERN", value_parser = beats)]
    pub stress: Option<Beats>,
}

/// The beats that a word is to stand on, a syllable each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Beats(pub Vec<Stress>);

fn beats(pattern: &str) -> Result<Beats, String> {
    let beat = |sign| match sign {
        '0' => Ok(Stress::None),
        '1' => Ok(Stress::Primary),
        '2' => Ok(Stress::Secondary),
        _ => Err(format!(
            "\u{201c}{sign}\u{201d} is no beat; 1 is a strong syllable, 0 a weak one"
        )),
    };
    let beats: Vec<Stress> = pattern.chars().map(beat).collect::<Result<_, _>>()?;
    if beats.iter().all(|beat| *beat == Stress::None) {
        return Err("one syllable has to be strong: 1".to_owned());
    }
    Ok(Beats(beats))
}
