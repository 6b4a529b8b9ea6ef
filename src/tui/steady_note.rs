//! Timing the steady note: up to three trials, of which the middle one counts.

use super::app::App;
use super::update;
use crate::song::field::Field;
use crate::wording::figure::short_number;
use std::time::Duration;

/// Not more in a sitting.
const MOST: usize = 3;
/// What a steady note may last, in seconds, as the song file takes it.
const SECONDS: std::ops::RangeInclusive<f64> = 3.0..=90.0;

/// The trials so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trials {
    /// When the tone that is being sung began.
    began: Option<Duration>,
    /// The seconds of those that are over.
    over: Vec<f64>,
    /// The last one was too short or too long to be a steady note.
    odd: bool,
}

impl Trials {
    /// The tone begins, or ends.
    pub fn mark(&mut self, at: Duration) {
        self.odd = false;
        match self.began.take() {
            Some(began) => {
                let tenths = (at.saturating_sub(began).as_secs_f64() * 10.0).round();
                let seconds = tenths / 10.0;
                self.odd = !SECONDS.contains(&seconds);
                if !self.odd {
                    self.over.push(seconds);
                }
            }
            None if self.over.len() < MOST => self.began = Some(at),
            None => {}
        }
    }

    /// The middle trial in seconds, of two the mean; `None` before the first is over.
    #[must_use]
    pub fn middle(&self) -> Option<f64> {
        let mut sorted = self.over.clone();
        sorted.sort_by(f64::total_cmp);
        let upper = sorted.get(sorted.len() / 2)?;
        let lower = sorted.get((sorted.len() - 1) / 2)?;
        Some((f64::midpoint(*lower, *upper) * 10.0).round() / 10.0)
    }

    /// What to do next.
    #[must_use]
    pub fn says(&self) -> String {
        if self.began.is_some() {
            return "Singing. Space as soon as the tone will not stay steady. Stop when dizzy, tingling or in pain; never sing to the last squeezed drop.".to_owned();
        }
        let again = if self.odd {
            "A steady note lasts from 3 to 90 s; that one does not count. "
        } else {
            ""
        };
        let Some(middle) = self.middle() else {
            return format!(
                "{again}Sit or stand as when playing, breathe in fully, sing ah at a middle note, as loud as usual. Space when the tone begins. Not when hoarse or ill."
            );
        };
        let trials: Vec<String> = self
            .over
            .iter()
            .map(|s| format!("{} s", short_number(*s)))
            .collect();
        let next = if self.over.len() < MOST {
            "Rest a minute, then Space times another, three at most; "
        } else {
            ""
        };
        format!(
            "{again}{}. {next}Enter takes {} s, Esc leaves it as it was.",
            trials.join(", "),
            short_number(middle)
        )
    }
}

/// Writes the middle trial into the song.
pub fn take(app: &mut App, trials: &Trials) {
    let Some(seconds) = trials.middle() else {
        app.say("No note was timed.");
        return;
    };
    let text = short_number(seconds);
    if update::set_in_head(app, Field::SteadyNote, text.clone()) {
        app.say(format!(
            "Your steady note is {text} s; every line is reckoned anew with it."
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(marks: &[u64]) -> Trials {
        let mut trials = Trials::default();
        for at in marks {
            trials.mark(Duration::from_millis(*at));
        }
        trials
    }

    #[test]
    fn the_middle_trial_counts() {
        assert_eq!(after(&[]).middle(), None);
        assert_eq!(after(&[500]).middle(), None);
        assert_eq!(after(&[0, 18_000]).middle(), Some(18.0));
        assert_eq!(after(&[0, 18_000, 100_000, 121_000]).middle(), Some(19.5));
        let three = after(&[0, 18_040, 100_000, 121_000, 200_000, 219_000]);
        assert_eq!(three.middle(), Some(19.0));
    }

    #[test]
    fn what_is_no_steady_note_does_not_count() {
        assert_eq!(after(&[0, 900]).middle(), None);
        assert!(after(&[0, 900]).says().starts_with("A steady note lasts"));
        assert_eq!(after(&[0, 95_000, 100_000, 110_000]).middle(), Some(10.0));
    }

    #[test]
    fn three_are_enough() {
        let four = after(&[
            0, 10_000, 100_000, 120_000, 200_000, 230_000, 300_000, 390_000,
        ]);
        assert_eq!(four.middle(), Some(20.0));
    }
}
