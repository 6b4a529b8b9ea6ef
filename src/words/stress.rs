//! How much weight each syllable of a line wants, by the stress of its word and the word's kind.

use super::Reading;
use super::Syllable;
use super::line::WordReadings;
use super::phone::Stress;
use super::spelling::Spelling;

/// How much weight a syllable wants in music. That stressed and content syllables stand on strong beats is evidence
/// (Palmer and Kelly 1992, Journal of Memory and Language 31: 525–542; Temperley and Temperley 2013, Music Perception
/// 30: 439–458); the classes are our choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// The main stress of a word of two syllables or more.
    Primary,
    /// A content word of one syllable.
    Content,
    /// A secondary stress; a question word; the main syllable of a longer function word; a function word that ends the
    /// line, where weak forms do not stand.
    Secondary,
    /// A function word of one syllable.
    Function,
    /// The lightest words: the, a, an, of, to, and.
    Light,
    /// Unstressed, next to its word's main stress.
    Unstressed,
    /// Unstressed, away from its word's main stress.
    Remote,
}

impl Class {
    /// All seven, in their order.
    pub const ALL: [Self; 7] = [
        Self::Primary,
        Self::Content,
        Self::Secondary,
        Self::Function,
        Self::Light,
        Self::Unstressed,
        Self::Remote,
    ];

    /// Its number from 0 to 6.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }

    /// Its letter: P, C, S, F, L, U or R.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Primary => "P",
            Self::Content => "C",
            Self::Secondary => "S",
            Self::Function => "F",
            Self::Light => "L",
            Self::Unstressed => "U",
            Self::Remote => "R",
        }
    }
}

/// The lightest words.
const LIGHT: &[&str] = &[
    "&", "'n", "'n'", "a", "an", "an'", "and", "n'", "o'", "of", "t'", "th'", "the", "to",
];

/// Function words of one syllable. Our list.
#[rustfmt::skip]
const FUNCTION: &[&str] = &[
    "'cause", "'em", "'gainst", "'mid", "'mong", "'neath", "'round", "'til", "'till", "'tis", "'twas", "'twere", "'twill", "'twould", "am", "are", "art",
    "as", "at", "be", "been", "but", "by", "can", "could", "couldst", "d'you", "did", "didst", "do", "does", "dost", "doth", "for",
    "from", "had", "hadst", "has", "hast", "hath", "have", "he", "her", "here", "him", "his", "i", "if", "in", "is", "it",
    "its", "me", "may", "might", "must", "my", "nor", "o", "o'er", "off", "on", "or", "our", "out", "shall", "shalt", "she",
    "should", "shouldst", "since", "so", "some", "than", "that", "thee", "their", "them", "then", "there", "these", "they",
    "this", "tho'", "those", "thou", "though", "through", "thro'", "thy", "till", "up", "us", "was", "wast", "we", "were", "while", "will",
    "wilt", "with", "wi'", "would", "wouldst", "ya", "ye", "you", "your",
];

/// Function words of two syllables and more: their main syllable is a secondary one.
#[rustfmt::skip]
const LONG_FUNCTION: &[&str] = &[
    "about", "above", "across", "after", "against", "along", "although", "amid", "among", "amongst", "any", "around", "because",
    "before", "behind", "below", "beneath", "beside", "between", "betwixt", "beyond", "during", "either", "every", "gonna", "gotta",
    "into", "neither", "onto", "over", "toward", "towards", "under", "underneath", "unless", "until", "unto", "upon",
    "wanna", "within", "without",
];

const QUESTIONS: &[&str] = &[
    "how", "what", "when", "where", "which", "who", "whom", "whose", "why",
];

/// Those that go with a verb as an adverb (*ran out, went up*) as often as they are prepositions: they bear stress, and can do without.
const WITH_VERBS: &[&str] = &["off", "out", "up"];

/// The word without the verb that is contracted to it (*she'll*, *there's*); `None` where it is no such pair. Negative
/// ones (*don't*) bear weight as *not* does.
fn contracted(plain: &str) -> Option<&str> {
    ["'ll", "'re", "'ve", "'d", "'s", "'m", "'rt", "'lt", "'st"]
        .into_iter()
        .find_map(|verb| plain.strip_suffix(verb))
}

/// Whether a word in plain lower-case letters is a function word: article, pronoun, preposition, conjunction, auxiliary.
#[must_use]
pub fn is_function_word(plain: &str) -> bool {
    let listed = |word: &str| {
        LIGHT.contains(&word) || FUNCTION.contains(&word) || LONG_FUNCTION.contains(&word)
    };
    listed(plain) || contracted(plain).is_some_and(|base| FUNCTION.contains(&base))
}

/// The class of each syllable of a word of a line, as it is sung in this reading.
///
/// ```
/// use breathmark::words::{SongWords, line::line, stress::classes};
/// let words = line("She rang the bell", &SongWords::default());
/// let letters: Vec<&str> = words.iter().flat_map(|word| classes(word, &word.readings.readings[0], false)).map(|class| class.name()).collect();
/// assert_eq!(letters, ["F", "C", "L", "C"]);
/// ```
#[must_use]
pub fn classes(word: &WordReadings, reading: &Reading, is_last_word: bool) -> Vec<Class> {
    let mut pieces: Vec<(usize, &str)> = Vec::new();
    let mut column = 0;
    // Words that are sung as one (*many a*) stand together, with blanks between; *th'* is only a sound of the next.
    for piece in word.text.split(char::is_whitespace) {
        let is_the =
            column == 0 && Spelling::new(piece).plain == "th'" && piece.len() < word.text.len();
        if !piece.is_empty() && !is_the {
            pieces.push((if pieces.is_empty() { 0 } else { column }, piece));
        }
        column += Spelling::new(piece).length() + 1;
    }
    let mut classes = Vec::with_capacity(reading.count());
    for (index, (start, piece)) in pieces.iter().enumerate() {
        let end = pieces.get(index + 1).map_or(usize::MAX, |next| next.0);
        let within = |syllable: &&Syllable| (*start..end).contains(&syllable.column);
        let own: Vec<&Syllable> = reading.syllables.iter().filter(within).collect();
        let plain = Spelling::new(piece).plain;
        let ends_line = is_last_word && index + 1 == pieces.len();
        match own.as_slice() {
            [] => {}
            [_] => classes.push(single(&plain, ends_line)),
            several => classes.extend(longer(&plain, several)),
        }
    }
    classes.resize(reading.count(), Class::Function);
    classes
}

fn single(plain: &str, ends_line: bool) -> Class {
    let base = contracted(plain).unwrap_or(plain);
    if QUESTIONS.contains(&base) || WITH_VERBS.contains(&base) {
        return Class::Secondary;
    }
    if !is_function_word(plain) {
        return Class::Content;
    }
    match () {
        () if ends_line => Class::Secondary,
        () if LIGHT.contains(&plain) => Class::Light,
        () => Class::Function,
    }
}

fn longer(plain: &str, syllables: &[&Syllable]) -> Vec<Class> {
    let stressed = |stress: Stress| move |syllable: &&Syllable| syllable.stress == stress;
    // Of several main stresses the last is the word's, unless it stands for several words (*1847*).
    let is_several_words = syllables.iter().any(|syllable| syllable.said.is_some());
    let main = syllables.iter().rposition(stressed(Stress::Primary));
    let main = main
        .or_else(|| syllables.iter().position(stressed(Stress::Secondary)))
        .unwrap_or(0);
    let is_main = |at: usize| {
        let primary = syllables
            .get(at)
            .is_some_and(|syllable| syllable.stress == Stress::Primary);
        at == main || (is_several_words && primary)
    };
    let weight = if is_function_word(plain) {
        Class::Secondary
    } else {
        Class::Primary
    };
    let class = |at: usize, syllable: &Syllable| {
        if is_main(at) {
            weight
        } else if syllable.stress != Stress::None {
            Class::Secondary
        } else if is_main(at + 1) || at.checked_sub(1).is_some_and(is_main) {
            Class::Unstressed
        } else {
            Class::Remote
        }
    };
    syllables
        .iter()
        .enumerate()
        .map(|(at, syllable)| class(at, syllable))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::SongWords;
    use crate::words::line::line;

    fn check(row: &str, expected: &str) {
        let words = line(row, &SongWords::default());
        let mut letters = Vec::new();
        for (index, word) in words.iter().enumerate() {
            let Some(reading) = word.readings.default_reading() else {
                continue;
            };
            let classes = classes(word, reading, index + 1 == words.len());
            letters.push(classes.into_iter().map(Class::name).collect::<String>());
        }
        assert_eq!(letters.join(" "), expected, "{row}");
    }

    #[test]
    fn content_words_outweigh_function_words() {
        // Newton 1779, Coleridge 1798, Key 1814.
        check("Amazing grace! how sweet the sound", "UPU C S C L C");
        check("It is an ancient Mariner", "F F L PU PUR");
        check(
            "By thy long grey beard and glittering eye",
            "F F C C C L PUR C",
        );
        check(
            "O say can you see by the dawn's early light",
            "F C F F C F L C PU C",
        );
        check("I once was lost but now am found", "F C F C F C F C");
    }

    #[test]
    fn a_function_word_that_ends_the_line_gains_weight() {
        check("The place that I come from", "L C F F C S");
        check("Where will you go to", "S F F C S");
        check("upon the sea", "US L C");
    }

    #[test]
    fn contractions_weigh_what_their_words_weigh() {
        check("She'll say there's what's his", "F C F S S");
        check("I don't care", "F C C");
        check("Many a th' old th'", "PUL C S");
        check("The bell's wrong", "L C C");
    }
}
