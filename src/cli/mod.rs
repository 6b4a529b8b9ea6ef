//! The commands, for scripts, tests and other programs; and the door through which the page opens.
//!
//! In: arguments. Out: results on standard output, messages on standard error, an exit code: 0 fine, 1 warnings, 2 wrong use or
//! unreadable input. Never: a figure of its own; everything printed comes from `reading`, `warnings`, `harmony` and `words`.

pub mod args;
pub mod check;
pub mod chord;
pub mod new;
pub mod output;
pub mod rhymes;
pub mod song_file;
pub mod vary;
pub mod words;

use crate::wording::message::Message;
use args::{Args, Command};
use clap::Parser as _;
use output::Output;
use std::ffi::OsString;
use std::io::IsTerminal as _;
use std::path::Path;
use std::process::ExitCode;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// Nothing to warn of: exit 0.
    Fine,
    /// There are warnings: exit 1.
    Warned,
    /// The system asked the page to end: its code.
    Told(u8),
}

/// Runs the program with these arguments, the first being its own name.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let args = match Args::try_parse_from(arguments) {
        Ok(args) => args,
        Err(error) => {
            let asked = !error.use_stderr();
            // Whether help could be printed changes nothing: there is nowhere else to say it.
            let _ = error.print();
            return ExitCode::from(if asked { 0 } else { 2 });
        }
    };
    let mut output = Output::new(args.json);
    let ended = answer(args.command.as_ref(), args.path.as_deref(), &mut output)
        .and_then(|ended| output.finish().map(|()| ended));
    match ended {
        Ok(Ended::Fine) => ExitCode::SUCCESS,
        Ok(Ended::Warned) => ExitCode::from(1),
        Ok(Ended::Told(code)) => ExitCode::from(code),
        Err(message) => {
            output::say(&message);
            ExitCode::from(2)
        }
    }
}

fn answer(
    command: Option<&Command>,
    path: Option<&Path>,
    output: &mut Output,
) -> Result<Ended, Message> {
    match command {
        Some(Command::New(args)) => new::run(args, output),
        Some(Command::Check(args)) => check::run(&args.song, output),
        Some(Command::Vary(args)) => vary::run(args, output),
        Some(Command::Words(args)) => words::run(args, output),
        Some(Command::Chord(args)) => chord::run(args, output),
        Some(Command::Rhymes(args)) => rhymes::run(args, output),
        None => page(path, output),
    }
}

/// Opens the page or the contents; without a terminal, says what `check` says.
fn page(path: Option<&Path>, output: &mut Output) -> Result<Ended, Message> {
    let path = path.unwrap_or_else(|| Path::new("."));
    if let Some(command) = mistyped_command(path) {
        return Err(Message::new(format!("there is no file or folder called \"{}\"", path.display()))
            .next(format!("If you meant the command, type `breathmark {command}`; `breathmark --help` lists the commands.")));
    }
    if std::io::stdin().is_terminal() && std::io::stdout().is_terminal() {
        return crate::tui::run::run(path).map(|code| match code {
            0 => Ended::Fine,
            code => Ended::Told(code),
        });
    }
    if path.is_dir() {
        return Err(Message::new("the contents of a folder need a terminal")
            .next("Open it in a terminal, or name one song: `breathmark check SONG`."));
    }
    check::run(path, output)?;
    output::say(&Message::new(
        "there is no terminal to open the page in, so this is what `check` says",
    ));
    Ok(Ended::Fine)
}

/// The command that a path was probably meant for: a lone word, neither file nor folder, one slip away from a command's name.
fn mistyped_command(path: &Path) -> Option<&'static str> {
    let word = path.to_str()?;
    if word.contains(['/', '\\', '.']) || path.exists() {
        return None;
    }
    args::COMMANDS
        .iter()
        .copied()
        .find(|command| slips(word, command) <= 2)
}

/// How many letters were left out, added, exchanged with another, or swapped with their neighbour.
fn slips(typed: &str, meant: &str) -> usize {
    let (typed, meant): (Vec<char>, Vec<char>) =
        (typed.chars().take(32).collect(), meant.chars().collect());
    let mut rows: Vec<Vec<usize>> = vec![(0..=meant.len()).collect()];
    for (i, a) in typed.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, b) in meant.iter().enumerate() {
            let above = rows.get(i).map_or(&[][..], Vec::as_slice);
            let at =
                |row: &[usize], index: usize| row.get(index).copied().unwrap_or(usize::MAX / 2);
            let mut best = (at(above, j) + usize::from(a != b))
                .min(at(above, j + 1) + 1)
                .min(at(&row, j) + 1);
            if i > 0 && j > 0 && typed.get(i - 1) == Some(b) && meant.get(j - 1) == Some(a) {
                best = best.min(rows.get(i - 1).map_or(usize::MAX, |row| at(row, j - 1) + 1));
            }
            row.push(best);
        }
        rows.push(row);
    }
    rows.last()
        .and_then(|row| row.last())
        .copied()
        .unwrap_or(usize::MAX)
}

#[cfg(test)]
mod tests {
    use super::slips;

    #[test]
    fn a_swap_is_one_slip() {
        assert_eq!(slips("chekc", "check"), 1);
        assert_eq!(slips("vray", "vary"), 1);
        assert_eq!(slips("", "new"), 3);
    }
}
