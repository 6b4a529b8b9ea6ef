//! Cuts a lyric row into its words.
//!
//! Hyphens join, dashes and blanks part; an apostrophe next to a letter belongs to the word unless it is one of a pair
//! of quotes; figures keep their signs (`$5`, `7:15`, `1,000`, `21st`).

use super::numbers::is_figure;
use super::search::roman::value;
use super::spelling::{is_apostrophe, is_hyphen, is_invisible};
use unicode_segmentation::UnicodeSegmentation;

/// A word and its place in the row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut<'a> {
    /// As written.
    pub text: &'a str,
    /// Where it begins, in graphemes from 0.
    pub column: usize,
    /// How many graphemes it has.
    pub length: usize,
}

/// Words whose first letters are lost, so that the sign before them is an apostrophe even where it is typed as an
/// opening quote. Common practice, no source.
#[rustfmt::skip]
const BEGIN_WITH_APOSTROPHE: &[&str] = &[
    "bout", "bove", "cause", "course", "cross", "cuse", "e", "ee", "em", "er", "fore", "fraid", "gain", "gainst", "head",
    "least", "m", "mid", "midst", "mong", "mongst", "n", "neath", "nother", "nough", "nuff", "pon", "re", "round", "s",
    "scape", "scuse", "spite", "stead", "t", "til", "till", "tis", "tisn't", "tween", "twas", "twasn't", "twere",
    "twill", "twixt", "twould", "way", "ere", "im", "is", "ave", "ome", "ouse",
];

/// Words written with a lost last letter.
const END_WITH_APOSTROPHE: &[&str] = &[
    "an", "d", "ha", "lil", "o", "ol", "t", "th", "tha", "wi", "yo",
];

/// Abbreviations that take the stop behind them into the word.
#[rustfmt::skip]
const WITH_STOP: &[&str] = &[
    "adm", "ave", "blvd", "bros", "capt", "cpl", "dept", "dr", "etc", "ft", "hon", "inc", "jr", "lt", "ltd", "maj", "messrs", "mr", "mrs",
    "ms", "mt", "oz", "prof", "pvt", "rd", "rev", "sgt", "sr", "st", "vs",
];

/// Those that take it only before a name, or before figures.
const BEFORE_NAME: &[&str] = &["col", "gen", "gov", "sen"];
#[rustfmt::skip]
const BEFORE_FIGURES: &[&str] = &[
    "apr", "aug", "ch", "dec", "feb", "fig", "jan", "jul", "jun", "no", "nov", "oct", "op", "p", "pp", "pt", "sep", "sept", "vol",
];
/// Those that take it before a numeral, too: *Vol. II*.
const BEFORE_NUMERALS: &[&str] = &["ch", "fig", "op", "pt", "vol"];
/// Those that are no other words take it with a capital wherever they stand.
const WITH_CAPITAL: &[&str] = &[
    "Apr", "Aug", "Co", "Dec", "Feb", "Fri", "Nov", "Oct", "Sept", "Thurs", "Tues",
];

/// Farther than this, in graphemes, no closing quote is sought: rows of one song line are far shorter.
const LONGEST_QUOTATION: usize = 1000;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Letter,
    Digit,
    Apostrophe,
    Hyphen,
    Invisible,
    Stop,
    /// Signs that are words by themselves: & % + @ and money before figures.
    Sign,
    Blank,
    Other,
}

struct Grapheme<'a> {
    text: &'a str,
    offset: usize,
    kind: Kind,
}

/// The words of a row, from left to right.
///
/// ```
/// use breathmark::words::cutter::cut;
/// let words: Vec<&str> = cut("'Tis o'er—she'd say, 'well-worn'").iter().map(|word| word.text).collect();
/// assert_eq!(words, ["'Tis", "o'er", "she'd", "say", "well-worn"]);
/// assert_eq!(cut("  water")[0].column, 2);
/// ```
#[must_use]
pub fn cut(row: &str) -> Vec<Cut<'_>> {
    let mut graphemes: Vec<Grapheme<'_>> = row
        .grapheme_indices(true)
        .map(|(offset, text)| Grapheme {
            text,
            offset,
            kind: kind(text),
        })
        .collect();
    mark_quotes(&mut graphemes);
    let mut words = Vec::new();
    let mut at = 0;
    while at < graphemes.len() {
        let end = word_end(&graphemes, at);
        if end > at {
            words.push(piece(row, &graphemes, at, end));
        }
        at = end.max(at + 1);
    }
    words
}

fn piece<'a>(row: &'a str, graphemes: &[Grapheme<'a>], from: usize, to: usize) -> Cut<'a> {
    let start = graphemes
        .get(from)
        .map_or(row.len(), |grapheme| grapheme.offset);
    let end = graphemes
        .get(to)
        .map_or(row.len(), |grapheme| grapheme.offset);
    Cut {
        text: row.get(start..end).unwrap_or_default(),
        column: from,
        length: to - from,
    }
}

fn kind(grapheme: &str) -> Kind {
    let Some(first) = grapheme.chars().next() else {
        return Kind::Other;
    };
    match first {
        _ if is_apostrophe(first) => Kind::Apostrophe,
        _ if is_hyphen(first) => Kind::Hyphen,
        _ if is_invisible(first) => Kind::Invisible,
        '.' => Kind::Stop,
        // A digit with a keycap or an emoji sign on it is a picture.
        '0'..='9' if grapheme.len() == 1 => Kind::Digit,
        _ if is_figure(first) => Kind::Digit,
        '&' | '%' | '+' | '@' | '$' | '£' | '€' | '¢' | '°' | '#' | '№'
            if grapheme.chars().count() == 1 =>
        {
            Kind::Sign
        }
        _ if first.is_alphabetic() => Kind::Letter,
        _ if first.is_whitespace() => Kind::Blank,
        _ => Kind::Other,
    }
}

fn kind_at(graphemes: &[Grapheme<'_>], at: usize) -> Kind {
    graphemes
        .get(at)
        .map_or(Kind::Blank, |grapheme| grapheme.kind)
}

fn is_written(kind: Kind) -> bool {
    matches!(kind, Kind::Letter | Kind::Digit)
}

/// Turns the apostrophes that are quotes into signs that belong to no word. Only pairs are taken, but for a single
/// opening ‘ (its closing one may stand in a later row).
fn mark_quotes(graphemes: &mut [Grapheme<'_>]) {
    let mut at = 0;
    while at < graphemes.len() {
        if kind_at(graphemes, at) == Kind::Apostrophe && opens(graphemes, at) {
            let close = closing(graphemes, at);
            let curly = graphemes
                .get(at)
                .is_some_and(|grapheme| grapheme.text == "\u{2018}");
            if close.is_some() || curly {
                set_other(graphemes, at);
            }
            if let Some(close) = close {
                set_other(graphemes, close);
            }
        }
        at += 1;
    }
}

fn set_other(graphemes: &mut [Grapheme<'_>], at: usize) {
    if let Some(grapheme) = graphemes.get_mut(at) {
        grapheme.kind = Kind::Other;
    }
}

/// Whether the apostrophe here may open a quotation: nothing written before, something after, and not *'tis*.
fn opens(graphemes: &[Grapheme<'_>], at: usize) -> bool {
    let before = at
        .checked_sub(1)
        .map_or(Kind::Blank, |before| kind_at(graphemes, before));
    let after = kind_at(graphemes, at + 1);
    if is_written(before)
        || matches!(before, Kind::Apostrophe | Kind::Hyphen)
        || matches!(after, Kind::Blank | Kind::Hyphen)
    {
        return false;
    }
    // A year without its century: '49.
    if after == Kind::Digit {
        return false;
    }
    !BEGIN_WITH_APOSTROPHE.contains(&letters_after(graphemes, at).as_str())
}

/// The letters behind this place, apostrophes inside included, in lower case.
fn letters_after(graphemes: &[Grapheme<'_>], at: usize) -> String {
    let mut word = String::new();
    for index in at + 1..graphemes.len().min(at + 12) {
        match kind_at(graphemes, index) {
            Kind::Letter => word.extend(
                graphemes
                    .get(index)
                    .map(|grapheme| grapheme.text.to_lowercase()),
            ),
            Kind::Apostrophe if kind_at(graphemes, index + 1) == Kind::Letter => word.push('\''),
            _ => break,
        }
    }
    word
}

/// The last apostrophe behind `open` that may close a quotation. One that ends *singin'* or *o'* closes only where it is
/// the row's last.
fn closing(graphemes: &[Grapheme<'_>], open: usize) -> Option<usize> {
    let candidates: Vec<usize> = (open + 2..graphemes.len().min(open + LONGEST_QUOTATION))
        .filter(|at| {
            kind_at(graphemes, *at) == Kind::Apostrophe && !is_written(kind_at(graphemes, at + 1))
        })
        .filter(|at| !matches!(kind_at(graphemes, at - 1), Kind::Blank | Kind::Hyphen))
        .collect();
    let sure = candidates
        .iter()
        .rev()
        .find(|at| !ends_with_apostrophe(graphemes, **at));
    sure.or(candidates.get(1..).and_then(<[usize]>::last))
        .copied()
}

fn ends_with_apostrophe(graphemes: &[Grapheme<'_>], at: usize) -> bool {
    let mut letters: Vec<String> = Vec::new();
    for index in (at.saturating_sub(16)..at).rev() {
        if kind_at(graphemes, index) != Kind::Letter {
            break;
        }
        letters.extend(
            graphemes
                .get(index)
                .map(|grapheme| grapheme.text.to_lowercase()),
        );
    }
    let word: String = letters.into_iter().rev().collect();
    END_WITH_APOSTROPHE.contains(&word.as_str()) || (word.len() > 3 && word.ends_with("in"))
}

/// Where the word that begins at `at` ends; `at` itself where none does.
fn word_end(graphemes: &[Grapheme<'_>], at: usize) -> usize {
    let first = kind_at(graphemes, at);
    let next = kind_at(graphemes, at + 1);
    let begins = match first {
        Kind::Letter | Kind::Digit => true,
        Kind::Apostrophe => is_written(next),
        Kind::Stop => next == Kind::Digit && before_is_blank(graphemes, at),
        Kind::Sign => return sign_end(graphemes, at),
        // *-5*
        Kind::Hyphen => next == Kind::Digit && before_is_blank(graphemes, at),
        _ => false,
    };
    if begins { run_end(graphemes, at) } else { at }
}

fn before_is_blank(graphemes: &[Grapheme<'_>], at: usize) -> bool {
    at.checked_sub(1)
        .is_none_or(|before| kind_at(graphemes, before) == Kind::Blank)
}

/// `$5` is one word; so is `&` or `%` alone; `+` and `@` only between blanks or figures.
fn sign_end(graphemes: &[Grapheme<'_>], at: usize) -> usize {
    let text = graphemes.get(at).map_or("", |grapheme| grapheme.text);
    match text {
        "$" | "£" | "€" | "¢" | "#" | "№" if kind_at(graphemes, at + 1) == Kind::Digit => {
            run_end(graphemes, at + 1)
        }
        "$" | "£" | "€" | "¢" | "#" | "№" | "°" => at,
        _ => at + 1,
    }
}

fn run_end(graphemes: &[Grapheme<'_>], start: usize) -> usize {
    let mut end = start + 1;
    while end < graphemes.len() {
        let before = kind_at(graphemes, end - 1);
        let after = kind_at(graphemes, end + 1);
        let stays = match kind_at(graphemes, end) {
            Kind::Letter | Kind::Digit => true,
            Kind::Invisible => {
                let visible = (end..end + 8).find(|at| kind_at(graphemes, *at) != Kind::Invisible);
                visible.is_some_and(|at| {
                    is_written(kind_at(graphemes, at)) || kind_at(graphemes, at) == Kind::Apostrophe
                })
            }
            Kind::Apostrophe => before != Kind::Apostrophe || is_written(after),
            Kind::Hyphen => {
                let beyond = if after == Kind::Apostrophe {
                    kind_at(graphemes, end + 2)
                } else {
                    after
                };
                before != Kind::Hyphen && is_written(beyond)
            }
            Kind::Stop => stop_stays(graphemes, start, end),
            Kind::Other => {
                before == Kind::Digit
                    && after == Kind::Digit
                    && matches!(text_at(graphemes, end), ":" | "," | "/" | "=" | "×" | "÷")
            }
            Kind::Sign => {
                before == Kind::Digit
                    && match text_at(graphemes, end) {
                        "%" | "¢" | "°" => true,
                        "+" => after == Kind::Digit,
                        _ => false,
                    }
            }
            Kind::Blank => false,
        };
        if !stays {
            break;
        }
        end += 1;
    }
    end
}

fn text_at<'a>(graphemes: &[Grapheme<'a>], at: usize) -> &'a str {
    graphemes.get(at).map_or("", |grapheme| grapheme.text)
}

/// A stop stays in `3.5`, in `U.S.A.` and behind `Mr`.
fn stop_stays(graphemes: &[Grapheme<'_>], start: usize, at: usize) -> bool {
    let before = kind_at(graphemes, at - 1);
    let after = kind_at(graphemes, at + 1);
    let two_before = if at >= start + 2 {
        kind_at(graphemes, at - 2)
    } else {
        Kind::Blank
    };
    if before == Kind::Digit && after == Kind::Digit {
        return true;
    }
    let initial = before == Kind::Letter && !matches!(two_before, Kind::Letter | Kind::Apostrophe);
    let more_follow = after == Kind::Letter && kind_at(graphemes, at + 2) == Kind::Stop;
    if initial && (more_follow || two_before == Kind::Stop) {
        return true;
    }
    let written: String = (start..at)
        .map(|index| text_at(graphemes, index))
        .take(8)
        .collect();
    if WITH_CAPITAL.contains(&written.as_str()) && after == Kind::Blank {
        return true;
    }
    let word = written.to_lowercase();
    let word = word.as_str();
    let is_numeral = || {
        let numeral = (at + 2..graphemes.len())
            .take_while(|index| kind_at(graphemes, *index) == Kind::Letter)
            .map(|index| text_at(graphemes, index));
        value(&numeral.take(16).collect::<String>()).is_some()
    };
    let beyond = kind_at(graphemes, at + 2);
    let before_name = text_at(graphemes, at + 2).starts_with(char::is_uppercase);
    WITH_STOP.contains(&word)
        || (after == Kind::Blank && BEFORE_NAME.contains(&word) && before_name)
        || (after == Kind::Blank && BEFORE_FIGURES.contains(&word) && beyond == Kind::Digit)
        || (after == Kind::Blank && BEFORE_NUMERALS.contains(&word) && is_numeral())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(row: &str, expected: &[&str]) {
        let words: Vec<&str> = cut(row).iter().map(|word| word.text).collect();
        assert_eq!(words, expected, "{row}");
    }

    #[test]
    fn apostrophes_stay_and_quotes_go_in_pairs() {
        check("'Tis the last rose", &["'Tis", "the", "last", "rose"]);
        check("‘Tis the last", &["‘Tis", "the", "last"]);
        check("I don’t, she'd o'er", &["I", "don’t", "she'd", "o'er"]);
        check("'Come in,' said she", &["Come", "in", "said", "she"]);
        check("‘Come in,’ said she", &["Come", "in", "said", "she"]);
        check(
            "'I was singin' in the rain'",
            &["I", "was", "singin'", "in", "the", "rain"],
        );
        check(
            "the boys' boat, 'ouse and 'em",
            &["the", "boys'", "boat", "'ouse", "and", "'em"],
        );
        check("\"Come,\" he cried", &["Come", "he", "cried"]);
        check("singin' o' th' sea", &["singin'", "o'", "th'", "sea"]);
        check("rock 'n' roll", &["rock", "'n'", "roll"]);
        check(
            "'twas 'neath the 'lone' tree",
            &["'twas", "'neath", "the", "lone", "tree"],
        );
        check("'", &[]);
        check("''''", &[]);
    }

    #[test]
    fn hyphens_join_and_dashes_part() {
        check("well-worn a-wand-'ring", &["well-worn", "a-wand-'ring"]);
        check(
            "stop--go stop — go—on – now",
            &["stop", "go", "stop", "go", "on", "now"],
        );
        check("love- -ly - x", &["love", "ly", "x"]);
        check("wa\u{ad}ter", &["wa\u{ad}ter"]);
    }

    #[test]
    fn figures_and_signs_are_words() {
        check(
            "$5 & £1,000.50, 7:15. 50% in 1847",
            &["$5", "&", "£1,000.50", "7:15", "50%", "in", "1847"],
        );
        check("the 21st of '49", &["the", "21st", "of", "'49"]);
        check(
            "Mr. Smith of the U.S.A. went.",
            &["Mr.", "Smith", "of", "the", "U.S.A.", "went"],
        );
        check(
            "Jan. 5 is no. 3, said no. So 2+2=4",
            &["Jan.", "5", "is", "no.", "3", "said", "no", "So", "2+2=4"],
        );
        check(
            "½ of 10° for #9 at .5",
            &["½", "of", "10°", "for", "#9", "at", ".5"],
        );
    }

    #[test]
    fn columns_count_graphemes() {
        let row = "👩‍👩‍👧 e\u{301}tude 🎵 wa";
        let places: Vec<(usize, usize)> = cut(row)
            .iter()
            .map(|word| (word.column, word.length))
            .collect();
        assert_eq!(places, [(2, 5), (10, 2)]);
    }
}
