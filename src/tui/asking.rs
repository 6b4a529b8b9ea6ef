//! Questions in the status line: unsaved words, what to find, a title, how a word is said, the tempo tapped, the steady note timed.

use super::app::{App, Asking, Effect, Then};
use super::commands::Action;
use super::{said, steady_note, update};
use crate::song::field::Field;
use std::time::Duration;
use unicode_segmentation::UnicodeSegmentation as _;

/// A pause after which tapping begins anew.
const PAUSE: Duration = Duration::from_millis(2500);
/// How many of the last taps count.
const TAPS: usize = 9;

/// A letter typed into an answer.
pub fn typed(app: &mut App, letter: char) {
    match &mut app.asking {
        Some(Asking::Find(text)) => {
            text.push(letter);
            let text = text.clone();
            update::find(app, &text, false);
        }
        Some(Asking::Title(text) | Asking::Said(_, text)) => text.push(letter),
        Some(Asking::Unsaved(_) | Asking::Tempo(_) | Asking::SteadyNote(_)) | None => {}
    }
}

/// An action while a question is asked.
pub fn act(app: &mut App, action: Action, at: Duration) -> Vec<Effect> {
    let Some(question) = app.asking.take() else {
        return Vec::new();
    };
    match (question, action) {
        (_, Action::Close) => Vec::new(),
        (Asking::Unsaved(then), Action::Take) => save_and_go(app, then),
        (Asking::Unsaved(then), Action::LeaveWithoutSaving) => vec![Effect::Go(then)],
        (Asking::Find(text), Action::Take) => {
            update::find(app, &text, true);
            app.asking = Some(Asking::Find(text));
            Vec::new()
        }
        (Asking::Find(text), Action::Backspace) => {
            app.asking = Some(Asking::Find(without_last(&text)));
            Vec::new()
        }
        (Asking::Title(text), Action::Backspace) => {
            app.asking = Some(Asking::Title(without_last(&text)));
            Vec::new()
        }
        (Asking::Said(word, text), Action::Backspace) => {
            app.asking = Some(Asking::Said(word, without_last(&text)));
            Vec::new()
        }
        (Asking::Said(word, text), Action::Take) => {
            said::answer(app, &word, &text);
            Vec::new()
        }
        (Asking::Title(text), Action::Take) if !text.trim().is_empty() => {
            vec![Effect::NewSong(text.trim().to_owned())]
        }
        (Asking::Tempo(taps), Action::Take) => {
            if let Some(tempo) = tempo_of(&taps)
                && update::set_in_head(app, Field::Tempo, tempo.to_string())
            {
                app.say(format!("The tempo is {tempo}."));
            }
            Vec::new()
        }
        (Asking::Tempo(mut taps), Action::Tap) => {
            if taps
                .last()
                .is_some_and(|last| at.saturating_sub(*last) > PAUSE)
            {
                taps.clear();
            }
            taps.push(at);
            if taps.len() > TAPS {
                taps.remove(0);
            }
            app.asking = Some(Asking::Tempo(taps));
            Vec::new()
        }
        (Asking::SteadyNote(trials), Action::Take) => {
            steady_note::take(app, &trials);
            Vec::new()
        }
        (Asking::SteadyNote(mut trials), Action::Tap) => {
            trials.mark(at);
            app.asking = Some(Asking::SteadyNote(trials));
            Vec::new()
        }
        (question, _) => {
            app.asking = Some(question);
            Vec::new()
        }
    }
}

fn save_and_go(app: &mut App, then: Then) -> Vec<Effect> {
    let Some(page) = &mut app.page else {
        return vec![Effect::Go(then)];
    };
    if page.file.changed {
        page.file.told_changed = true;
        let name = page.file.name.clone();
        app.warn(format!(
            "{name} was changed by another program. Ctrl-S keeps both texts."
        ));
        return Vec::new();
    }
    vec![Effect::Save(Some(then))]
}

/// The tempo of taps, one a beat, in whole beats a minute from 20 to 300; `None` before the second.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 20..=300"
)]
pub fn tempo_of(taps: &[Duration]) -> Option<u16> {
    let (first, last) = (taps.first()?, taps.last()?);
    let beats = u32::try_from(taps.len().checked_sub(1)?)
        .ok()
        .filter(|beats| *beats > 0)?;
    let seconds = last.saturating_sub(*first).as_secs_f64() / f64::from(beats);
    (seconds > 0.0).then(|| (60.0 / seconds).round().clamp(20.0, 300.0) as u16)
}

fn without_last(text: &str) -> String {
    let mut graphemes: Vec<&str> = text.graphemes(true).collect();
    graphemes.pop();
    graphemes.concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tempo_is_the_mean_of_its_taps() {
        let check = |millis: &[u64], tempo| {
            let taps: Vec<Duration> = millis.iter().map(|at| Duration::from_millis(*at)).collect();
            assert_eq!(tempo_of(&taps), tempo, "{millis:?}");
        };
        check(&[], None);
        check(&[40], None);
        check(&[0, 500], Some(120));
        check(&[0, 620, 1255, 1875], Some(96));
        check(&[7, 7], None);
        check(&[0, 1], Some(300));
    }
}
