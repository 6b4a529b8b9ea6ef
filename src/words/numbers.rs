//! Figures as they are said: years, counts, ordinals, money, clock times.

mod fractions;
mod measures;

use fractions::{calculation, fraction, mixed};
use measures::{money, with_unit};

pub(super) use fractions::{is_figure, is_fraction};

/// How figures are said, each wording a list of plain words, the usual one first. `None` where the text is no number.
///
/// Four figures from 1100 to 1999 are said as years, in pairs; with a comma they are a count. Common practice, no
/// source; so is *oh* for a nought among single figures, and that *and* is left out unless it is asked for.
///
/// ```
/// use breathmark::words::numbers::wordings;
/// assert_eq!(wordings("1847"), Some(vec![vec!["eighteen", "forty", "seven"]]));
/// assert_eq!(wordings("21st"), Some(vec![vec!["twenty", "first"]]));
/// assert_eq!(wordings("$5"), Some(vec![vec!["five", "dollars"]]));
/// assert_eq!(wordings("water"), None);
/// ```
#[must_use]
pub fn wordings(text: &str) -> Option<Vec<Vec<&'static str>>> {
    let text = text.trim_matches('\'');
    if !text.contains(|sign: char| sign.is_ascii_digit() || fraction(sign).is_some()) {
        return None;
    }
    if let Some(rest) = text.strip_prefix(['#', '№']) {
        return Some(with_start("number", cardinal(rest)?));
    }
    if let Some(rest) = text.strip_prefix('+') {
        return Some(with_start("plus", cardinal(rest)?));
    }
    if let Some(rest) = text.strip_prefix('-').filter(|rest| !rest.starts_with('-')) {
        return Some(with_start("minus", wordings(rest)?));
    }
    if let Some(amount) = text.strip_prefix(['$', '£', '€', '¢']) {
        return money(amount, text);
    }
    if let Some(at) = text.find(['+', '=', '×', '÷', '/']) {
        return calculation(text, at);
    }
    if let Some(at) = text.find(|sign| fraction(sign).is_some()) {
        return mixed(text, at);
    }
    let end = text
        .rfind(|sign: char| sign.is_ascii_digit())
        .map_or(0, |at| at + 1);
    let (figures, unit) = text.split_at_checked(end)?;
    let number = match figures.split_once(':') {
        Some((hours, minutes)) => clock(hours, minutes, !unit.starts_with(['a', 'p']))?,
        None => cardinal(figures)?,
    };
    with_unit(number, unit)
}

fn with_end(wordings: Vec<Vec<&'static str>>, end: &'static str) -> Vec<Vec<&'static str>> {
    wordings
        .into_iter()
        .map(|mut words| {
            words.push(end);
            words
        })
        .collect()
}

fn with_start(start: &'static str, mut wordings: Vec<Vec<&'static str>>) -> Vec<Vec<&'static str>> {
    wordings.iter_mut().for_each(|words| words.insert(0, start));
    wordings
}

/// Value, word, ordinal, plural, parts.
#[rustfmt::skip]
const NAMES: &[(u64, &str, &str, &str, &str)] = &[
    (0, "zero", "zeroth", "zeros", "zeroths"), (1, "one", "first", "ones", "firsts"), (2, "two", "second", "twos", "seconds"),
    (3, "three", "third", "threes", "thirds"), (4, "four", "fourth", "fours", "fourths"), (5, "five", "fifth", "fives", "fifths"),
    (6, "six", "sixth", "sixes", "sixths"), (7, "seven", "seventh", "sevens", "sevenths"), (8, "eight", "eighth", "eights", "eighths"),
    (9, "nine", "ninth", "nines", "ninths"), (10, "ten", "tenth", "tens", "tenths"), (11, "eleven", "eleventh", "elevens", "elevenths"),
    (12, "twelve", "twelfth", "twelves", "twelfths"), (13, "thirteen", "thirteenth", "thirteens", "thirteenths"),
    (14, "fourteen", "fourteenth", "fourteens", "fourteenths"), (15, "fifteen", "fifteenth", "fifteens", "fifteenths"),
    (16, "sixteen", "sixteenth", "sixteens", "sixteenths"), (17, "seventeen", "seventeenth", "seventeens", "seventeenths"),
    (18, "eighteen", "eighteenth", "eighteens", "eighteenths"), (19, "nineteen", "nineteenth", "nineteens", "nineteenths"),
    (20, "twenty", "twentieth", "twenties", "twentieths"), (30, "thirty", "thirtieth", "thirties", "thirtieths"),
    (40, "forty", "fortieth", "forties", "fortieths"), (50, "fifty", "fiftieth", "fifties", "fiftieths"),
    (60, "sixty", "sixtieth", "sixties", "sixtieths"), (70, "seventy", "seventieth", "seventies", "seventieths"),
    (80, "eighty", "eightieth", "eighties", "eightieths"), (90, "ninety", "ninetieth", "nineties", "ninetieths"),
    (100, "hundred", "hundredth", "hundreds", "hundredths"), (1000, "thousand", "thousandth", "thousands", "thousandths"),
    (1_000_000, "million", "millionth", "millions", "millionths"), (1_000_000_000, "billion", "billionth", "billions", "billionths"),
    (1_000_000_000_000, "trillion", "trillionth", "trillions", "trillionths"), (u64::MAX, "oh", "oh", "ohs", "oh"),
];

fn name(value: u64) -> &'static str {
    NAMES
        .iter()
        .find(|row| row.0 == value)
        .map_or("", |row| row.1)
}

/// A count, a year, a decimal or a row of figures.
fn cardinal(figures: &str) -> Option<Vec<Vec<&'static str>>> {
    if let Some((whole, decimals)) = figures.split_once('.')
        && !decimals.is_empty()
    {
        let mut wordings = if whole.is_empty() {
            vec![Vec::new()]
        } else {
            cardinal(whole)?
        };
        for words in &mut wordings {
            words.push("point");
            words.extend(by_figure(decimals)?);
        }
        return Some(wordings);
    }
    let figures = figures.trim_end_matches('.');
    let mut groups = figures.split(',').map(str::len);
    let grouped = figures.contains(',');
    if grouped
        && !(groups.next().is_some_and(|first| (1..4).contains(&first))
            && groups.all(|group| group == 3))
    {
        // *1,2,3* is a row of numbers.
        let mut words = Vec::new();
        for figures in figures.split(',') {
            words.extend(cardinal(figures)?.into_iter().next()?);
        }
        return Some(vec![words]);
    }
    let digits: String = figures.chars().filter(|sign| *sign != ',').collect();
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let leading_nought = digits.len() > 1 && digits.starts_with('0');
    let value = digits
        .parse::<u64>()
        .ok()
        .filter(|value| *value < 1_000_000_000_000_000 && !leading_nought);
    let Some(value) = value else {
        return Some(vec![by_figure(&digits)?]);
    };
    if !grouped && digits.len() == 4 {
        match value {
            1100..=1999 | 2010..=2099 => return Some(vec![year(value)]),
            1001..=1099 => return Some(vec![count(value, false), year(value)]),
            _ => {}
        }
    }
    let plain = count(value, false);
    let with_and = count(value, true);
    Some(if plain == with_and {
        vec![plain]
    } else {
        vec![plain, with_and]
    })
}

fn by_figure(digits: &str) -> Option<Vec<&'static str>> {
    digits
        .bytes()
        .map(|digit| match digit {
            b'0' => Some("oh"),
            b'1'..=b'9' => Some(name(u64::from(digit - b'0'))),
            _ => None,
        })
        .collect()
}

fn below_hundred(value: u64, words: &mut Vec<&'static str>) {
    if value <= 20 {
        words.push(name(value));
    } else {
        words.push(name(value - value % 10));
        if !value.is_multiple_of(10) {
            words.push(name(value % 10));
        }
    }
}

fn below_thousand(value: u64, and: bool, words: &mut Vec<&'static str>) {
    if value >= 100 {
        words.extend([name(value / 100), "hundred"]);
        if and && !value.is_multiple_of(100) {
            words.push("and");
        }
    }
    if !value.is_multiple_of(100) {
        below_hundred(value % 100, words);
    }
}

fn count(value: u64, and: bool) -> Vec<&'static str> {
    let mut words = Vec::new();
    for unit in [1_000_000_000_000, 1_000_000_000, 1_000_000, 1000] {
        if !(value / unit).is_multiple_of(1000) {
            below_thousand(value / unit % 1000, and, &mut words);
            words.push(name(unit));
        }
    }
    let rest = value % 1000;
    if and && !words.is_empty() && (1..100).contains(&rest) {
        words.push("and");
    }
    below_thousand(rest, and, &mut words);
    if words.is_empty() {
        words.push("zero");
    }
    words
}

fn year(value: u64) -> Vec<&'static str> {
    let mut words = Vec::new();
    below_hundred(value / 100, &mut words);
    match value % 100 {
        0 => words.push("hundred"),
        rest @ 1..=9 => words.extend(["oh", name(rest)]),
        rest => below_hundred(rest, &mut words),
    }
    words
}

/// Hours and minutes; a full hour is *o'clock* unless *am* or *pm* follows.
fn clock(hours: &str, minutes: &str, is_alone: bool) -> Option<Vec<Vec<&'static str>>> {
    let mut words = cardinal(hours)?.into_iter().next()?;
    match minutes {
        "00" if is_alone => words.push("o'clock"),
        "00" => {}
        _ => match minutes.strip_prefix('0') {
            Some(minute) => {
                words.push("oh");
                words.extend(by_figure(minute)?);
            }
            None => words.extend(cardinal(minutes)?.into_iter().next()?),
        },
    }
    Some(vec![words])
}

/// A row of figures with hyphens in it, such as a telephone number, is said figure by figure; years and scores in pairs
/// of numbers are not.
pub(super) fn is_telephone(pieces: &[&str]) -> bool {
    let figures = pieces
        .iter()
        .all(|piece| piece.bytes().all(|byte| byte.is_ascii_digit()));
    figures
        && pieces.len() > 1
        && pieces.first().is_some_and(|piece| piece.len() != 4)
        && pieces.iter().any(|piece| piece.len() > 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &[&str]) {
        let said: Vec<String> = wordings(text)
            .unwrap_or_default()
            .iter()
            .map(|words| words.join(" "))
            .collect();
        assert_eq!(said, expected, "{text}");
    }

    #[test]
    fn counts_and_years() {
        check("0", &["zero"]);
        check("17", &["seventeen"]);
        check("99", &["ninety nine"]);
        check("100", &["one hundred"]);
        check("101", &["one hundred one", "one hundred and one"]);
        check("1900", &["nineteen hundred"]);
        check("1905", &["nineteen oh five"]);
        check("1066", &["one thousand sixty six", "ten sixty six"]);
        check("2005", &["two thousand five", "two thousand and five"]);
        check("2026", &["twenty twenty six"]);
        check(
            "1,847",
            &[
                "one thousand eight hundred forty seven",
                "one thousand eight hundred and forty seven",
            ],
        );
        check("10,000", &["ten thousand"]);
        check("007", &["oh oh seven"]);
        check("3.5", &["three point five"]);
        check("'49", &["forty nine"]);
    }

    #[test]
    fn ordinals_plurals_money_and_clock() {
        check("1st", &["first"]);
        check("100th", &["one hundredth"]);
        check("1950s", &["nineteen fifties"]);
        check("'60s", &["sixties"]);
        check("100s", &["hundreds"]);
        check("$1", &["one dollar"]);
        check("$2.50", &["two dollars fifty", "two fifty"]);
        check("$5bn", &["five billion dollars"]);
        check("50¢", &["fifty cents"]);
        check("$0.99", &["ninety nine cents"]);
        check("50%", &["fifty percent"]);
        check("7:15", &["seven fifteen"]);
        check("7:05", &["seven oh five"]);
        check("12:00", &["twelve o'clock"]);
        check("7:15pm", &["seven fifteen pee em"]);
        check("7:00am", &["seven ay em"]);
        check("'49ers", &["forty niners"]);
    }

    #[test]
    fn fractions_units_and_sums() {
        check("½", &["half"]);
        check("2½", &["two and a half"]);
        check("3/4", &["three quarters"]);
        check("2/3", &["two thirds"]);
        check("24/7", &["twenty four seven"]);
        check("2+2=4", &["two plus two equals four"]);
        check("90°", &["ninety degrees"]);
        check("1lb", &["one pound"]);
        check("#9", &["number nine"]);
        check(".5", &["point five"]);
        check("-5°", &["minus five degrees"]);
        check("1,2,3", &["one two three"]);
    }

    #[test]
    fn what_is_no_number_gives_nothing() {
        for text in ["", "'", "abc", "4ever", "$", "%", "1:x", "1.2.3:"] {
            assert_eq!(wordings(text), None, "{text}");
        }
        assert_eq!(
            wordings(&"9".repeat(10_000)).map(|said| said.len()),
            Some(1)
        );
    }

    #[test]
    fn the_table_ascends() {
        assert!(NAMES.is_sorted_by(|a, b| a.0 < b.0));
    }
}
