//! Figures as they are said: years, counts, ordinals, money, clock times.

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
    if !text.bytes().any(|byte| byte.is_ascii_digit()) {
        return None;
    }
    if let Some(amount) = text.strip_prefix(['$', '£', '€']) {
        return money(amount, text);
    }
    if let Some(amount) = text.strip_suffix('%') {
        return Some(with_end(cardinal(amount)?, "percent"));
    }
    if let Some((hours, minutes)) = text.split_once(':') {
        return clock(hours, minutes);
    }
    for (ending, ordinal) in [
        ("st", true),
        ("nd", true),
        ("rd", true),
        ("th", true),
        ("'s", false),
        ("s", false),
    ] {
        if let Some(figures) = text.strip_suffix(ending) {
            let wordings = cardinal(figures)?;
            return wordings
                .into_iter()
                .map(|words| with_last(words, ordinal))
                .collect();
        }
    }
    cardinal(text)
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

/// The last word as an ordinal (*seventh*) or a plural (*sixties*).
fn with_last(mut words: Vec<&'static str>, ordinal: bool) -> Option<Vec<&'static str>> {
    let last = words.pop()?;
    let row = NAMES.iter().find(|row| row.1 == last);
    let (_, _, ordinal_word, plural) = *row?;
    words.push(if ordinal { ordinal_word } else { plural });
    Some(words)
}

/// Value, word, ordinal, plural.
#[rustfmt::skip]
const NAMES: &[(u64, &str, &str, &str)] = &[
    (0, "zero", "zeroth", "zeros"), (1, "one", "first", "ones"), (2, "two", "second", "twos"),
    (3, "three", "third", "threes"), (4, "four", "fourth", "fours"), (5, "five", "fifth", "fives"),
    (6, "six", "sixth", "sixes"), (7, "seven", "seventh", "sevens"), (8, "eight", "eighth", "eights"),
    (9, "nine", "ninth", "nines"), (10, "ten", "tenth", "tens"), (11, "eleven", "eleventh", "elevens"),
    (12, "twelve", "twelfth", "twelves"), (13, "thirteen", "thirteenth", "thirteens"),
    (14, "fourteen", "fourteenth", "fourteens"), (15, "fifteen", "fifteenth", "fifteens"),
    (16, "sixteen", "sixteenth", "sixteens"), (17, "seventeen", "seventeenth", "seventeens"),
    (18, "eighteen", "eighteenth", "eighteens"), (19, "nineteen", "nineteenth", "nineteens"),
    (20, "twenty", "twentieth", "twenties"), (30, "thirty", "thirtieth", "thirties"),
    (40, "forty", "fortieth", "forties"), (50, "fifty", "fiftieth", "fifties"),
    (60, "sixty", "sixtieth", "sixties"), (70, "seventy", "seventieth", "seventies"),
    (80, "eighty", "eightieth", "eighties"), (90, "ninety", "ninetieth", "nineties"),
    (100, "hundred", "hundredth", "hundreds"), (1000, "thousand", "thousandth", "thousands"),
    (1_000_000, "million", "millionth", "millions"), (1_000_000_000, "billion", "billionth", "billions"),
    (1_000_000_000_000, "trillion", "trillionth", "trillions"), (u64::MAX, "oh", "oh", "ohs"),
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
        let mut wordings = cardinal(whole)?;
        for words in &mut wordings {
            words.push("point");
            words.extend(by_figure(decimals)?);
        }
        return Some(wordings);
    }
    let figures = figures.trim_end_matches('.');
    let grouped = figures.contains(',');
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

fn money(amount: &str, whole: &str) -> Option<Vec<Vec<&'static str>>> {
    let one = amount == "1";
    let unit = match (whole.chars().next()?, one) {
        ('$', true) => "dollar",
        ('$', false) => "dollars",
        ('£', true) => "pound",
        ('£', false) => "pounds",
        _ => "euros",
    };
    match amount.split_once('.') {
        Some((units, cents)) if cents.len() == 2 => {
            let mut words = cardinal(units)?.into_iter().next()?;
            words.push(unit);
            words.extend(
                cardinal(cents.trim_start_matches('0'))
                    .unwrap_or_default()
                    .into_iter()
                    .next()
                    .unwrap_or_default(),
            );
            Some(vec![words])
        }
        _ => Some(with_end(cardinal(amount)?, unit)),
    }
}

fn clock(hours: &str, minutes: &str) -> Option<Vec<Vec<&'static str>>> {
    let mut words = cardinal(hours)?.into_iter().next()?;
    match minutes {
        "00" => words.push("o'clock"),
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
        check("$1", &["one dollar"]);
        check("$2.50", &["two dollars fifty"]);
        check("50%", &["fifty percent"]);
        check("7:15", &["seven fifteen"]);
        check("7:05", &["seven oh five"]);
        check("12:00", &["twelve o'clock"]);
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
