//! A number with its unit, as a sentence shows it.

use std::fmt;

/// A number that the writer is to act on, with its unit in words or as a sign.
///
/// Shown with at most two decimals and none that say nothing:
///
/// ```
/// use breathmark::wording::figure::Figure;
///
/// let shown = |value, unit| Figure { value, unit }.to_string();
/// assert_eq!(shown(7.5, "s"), "7.5 s");
/// assert_eq!(shown(96.0, "beats a minute"), "96 beats a minute");
/// assert_eq!(shown(-0.001, ""), "0");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The number; one that is not finite is shown as `?`.
    pub value: f64,
    /// Its unit, in the plural where it is a word; empty where there is none.
    pub unit: &'static str,
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&short_number(self.value))?;
        if !self.unit.is_empty() {
            write!(f, " {}", self.unit)?;
        }
        Ok(())
    }
}

/// A number with at most two decimals, without zeros at the end and without a minus before nothing; `?` where it is not finite.
#[must_use]
pub fn short_number(value: f64) -> String {
    if !value.is_finite() {
        return "?".to_owned();
    }
    let long = format!("{value:.2}");
    match long.trim_end_matches('0').trim_end_matches('.') {
        "-0" => "0".to_owned(),
        short => short.to_owned(),
    }
}

/// `1 breath`, `2 breaths`: a count before its noun.
#[must_use]
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// How long ago something was, from seconds, as one says it: `just now`, `5 minutes ago`, `2 days ago`.
#[must_use]
pub fn ago(seconds: u64) -> String {
    let minutes = seconds / 60;
    let (count, one, many) = match minutes {
        0 => return "just now".to_owned(),
        1..60 => (minutes, "minute", "minutes"),
        60..1440 => (minutes / 60, "hour", "hours"),
        _ => (minutes / 1440, "day", "days"),
    };
    let unit = if count == 1 { one } else { many };
    format!("{count} {unit} ago")
}

#[cfg(test)]
mod tests {
    use super::{ago, counted, short_number};

    #[test]
    fn times_ago_are_rounded_down() {
        let check = |seconds, expected: &str| {
            assert_eq!(ago(seconds), expected);
        };
        check(59, "just now");
        check(60, "1 minute ago");
        check(3_599, "59 minutes ago");
        check(3_600, "1 hour ago");
        check(86_399, "23 hours ago");
        check(3 * 86_400, "3 days ago");
    }

    #[test]
    fn numbers_are_short() {
        let check = |value: f64, expected: &str| assert_eq!(short_number(value), expected);
        check(0.0, "0");
        check(100.0, "100");
        check(0.3249, "0.32");
        check(-1.5, "-1.5");
        check(-0.004, "0");
        check(f64::NAN, "?");
        check(f64::INFINITY, "?");
    }

    #[test]
    fn one_is_no_plural() {
        assert_eq!(counted(1, "breath", "breaths"), "1 breath");
        assert_eq!(counted(0, "breath", "breaths"), "0 breaths");
    }
}
