//! How things look: signs with their plain form, and the sixteen colours of the terminal with a form without colour.

use ratatui::style::{Color, Modifier, Style};

/// What the terminal can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Whether signs past ASCII may be used.
    pub signs: bool,
    /// Whether colours may be used.
    pub colour: bool,
}

/// What a piece of text on the screen is, for its style.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// The words.
    Plain,
    /// Titles, labels, what is chosen.
    Strong,
    /// What is there to be asked, not to be read: figures of easy lines, hints, rules.
    Quiet,
    /// Chords the line has itself.
    Chord,
    /// A breath mark.
    Breath,
    /// What has to change: `too long`, `no time to breathe`, warnings.
    Alarm,
    /// What is near it: `tight`, remarks.
    Care,
    /// What a preview changed.
    Changed,
    /// A sounding syllable's air.
    Air,
}

impl Look {
    /// All signs and colours.
    pub const FULL: Self = Self {
        signs: true,
        colour: true,
    };
    /// Neither.
    pub const PLAIN: Self = Self {
        signs: false,
        colour: false,
    };

    /// What the environment promises: signs where the locale is UTF-8 (the first of `LC_ALL`, `LC_CTYPE`, `LANG` that is set), colours unless
    /// `NO_COLOR` is set to anything or the terminal is `dumb`. `BREATHMARK_SIGNS` set to `ascii` or `unicode` decides against the locale.
    #[must_use]
    pub fn from_environment(value: impl Fn(&str) -> Option<String>) -> Self {
        let set = |name: &str| value(name).filter(|text| !text.is_empty());
        let locale = set("LC_ALL")
            .or_else(|| set("LC_CTYPE"))
            .or_else(|| set("LANG"));
        let utf8 = locale.is_some_and(|name| {
            let name = name.to_ascii_lowercase();
            name.contains("utf-8") || name.contains("utf8")
        });
        Self {
            signs: match set("BREATHMARK_SIGNS").as_deref() {
                Some("ascii") => false,
                Some("unicode") => true,
                _ => utf8,
            },
            colour: set("NO_COLOR").is_none() && set("TERM").as_deref() != Some("dumb"),
        }
    }

    /// The style of a role.
    #[must_use]
    pub fn style(self, role: Role) -> Style {
        let plain = Style::new();
        match (role, self.colour) {
            (Role::Plain, _) => plain,
            (Role::Strong, _) => plain.add_modifier(Modifier::BOLD),
            (Role::Quiet, true) => plain.fg(Color::DarkGray),
            (Role::Quiet, false) => plain.add_modifier(Modifier::DIM),
            (Role::Chord | Role::Breath, true) => plain.fg(Color::Cyan),
            (Role::Chord | Role::Breath, false) => plain,
            (Role::Alarm, true) => plain.fg(Color::Red).add_modifier(Modifier::BOLD),
            (Role::Alarm, false) => plain.add_modifier(Modifier::BOLD),
            (Role::Care, true) => plain.fg(Color::Yellow),
            (Role::Care, false) => plain,
            (Role::Changed, true) => plain.fg(Color::Magenta).add_modifier(Modifier::BOLD),
            (Role::Changed, false) => plain.add_modifier(Modifier::BOLD | Modifier::UNDERLINED),
            (Role::Air, true) => plain.fg(Color::Cyan),
            (Role::Air, false) => plain,
        }
    }

    /// The style of selected text.
    #[must_use]
    pub const fn selected(self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED)
    }

    /// One of two forms of a sign.
    #[must_use]
    pub const fn sign(self, full: &'static str, plain: &'static str) -> &'static str {
        if self.signs { full } else { plain }
    }

    /// The sign for a rule across the screen.
    #[must_use]
    pub const fn rule(self) -> &'static str {
        self.sign("─", "-")
    }

    /// The sign between a list and the page beside it.
    #[must_use]
    pub const fn edge(self) -> &'static str {
        self.sign("│", "|")
    }

    /// The sign at the end of what was cut.
    #[must_use]
    pub const fn more(self) -> &'static str {
        self.sign("…", "~")
    }

    /// The sign before what is chosen.
    #[must_use]
    pub const fn chosen(self) -> &'static str {
        self.sign("›", ">")
    }

    /// The sign between a value and what it becomes.
    #[must_use]
    pub const fn becomes(self) -> &'static str {
        self.sign("→", "->")
    }

    /// The sign between two short remarks on one row.
    #[must_use]
    pub const fn between(self) -> &'static str {
        self.sign(" · ", " - ")
    }

    /// A level from 0 to 1 as a bar of `cells` cells, in eighths of a cell (halves of ASCII signs in the plain form).
    #[must_use]
    pub fn bar(self, level: f64, cells: u16) -> String {
        const EIGHTHS: [&str; 8] = ["", "▏", "▎", "▍", "▌", "▋", "▊", "▉"];
        let steps = if self.signs { 8 } else { 2 };
        let filled = steps_of(level, cells.saturating_mul(steps));
        let mut bar = String::new();
        for _ in 0..filled / steps {
            bar.push_str(self.sign("█", "="));
        }
        match filled % steps {
            0 => {}
            _ if !self.signs => bar.push('-'),
            rest => bar.push_str(EIGHTHS.get(usize::from(rest)).copied().unwrap_or("")),
        }
        bar
    }

    /// A level from 0 to 1 as the height of one cell; a digit in tenths in the plain form.
    #[must_use]
    pub fn height(self, level: f64) -> &'static str {
        const EIGHTHS: [&str; 9] = [" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"];
        const TENTHS: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
        let (table, steps): (&[&'static str], u16) = if self.signs {
            (&EIGHTHS, 8)
        } else {
            (&TENTHS, 9)
        };
        table
            .get(usize::from(steps_of(level, steps)))
            .copied()
            .unwrap_or(" ")
    }
}

/// How many of `steps` a level from 0 to 1 fills; more than none where it is more than nothing.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=steps, which is a u16"
)]
fn steps_of(level: f64, steps: u16) -> u16 {
    if !level.is_finite() || level <= 0.0 {
        return 0;
    }
    (level.min(1.0) * f64::from(steps)).round().max(1.0) as u16
}

#[cfg(test)]
mod tests {
    use super::*;

    fn look(pairs: &[(&str, &str)]) -> Look {
        Look::from_environment(|name| {
            pairs
                .iter()
                .find(|(key, _)| *key == name)
                .map(|(_, text)| (*text).to_owned())
        })
    }

    #[test]
    fn the_environment_is_believed() {
        assert_eq!(look(&[("LANG", "en_GB.UTF-8")]), Look::FULL);
        assert!(!look(&[("LANG", "C")]).signs);
        assert!(!look(&[]).signs);
        assert!(!look(&[("LC_ALL", "POSIX"), ("LANG", "en_GB.UTF-8")]).signs);
        assert!(look(&[("LC_ALL", ""), ("LANG", "C.utf8")]).signs);
        assert!(!look(&[("NO_COLOR", "1")]).colour);
        assert!(look(&[("NO_COLOR", "")]).colour);
        assert!(look(&[("BREATHMARK_SIGNS", "unicode")]).signs);
    }

    #[test]
    fn bars_are_as_long_as_their_level() {
        assert_eq!(Look::FULL.bar(1.0, 5), "█████");
        assert_eq!(Look::FULL.bar(0.5, 5), "██▌");
        assert_eq!(Look::FULL.bar(0.001, 5), "▏");
        assert_eq!(Look::FULL.bar(-0.4, 5), "");
        assert_eq!(Look::FULL.bar(f64::NAN, 5), "");
        assert_eq!(Look::FULL.bar(7.0, 2), "██");
        assert_eq!(Look::PLAIN.bar(0.5, 5), "==-");
        assert_eq!(Look::FULL.height(1.0), "█");
        assert_eq!(Look::PLAIN.height(0.5), "5");
    }
}
