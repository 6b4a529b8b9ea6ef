//! A word's letters made plain: lower case, without marks, every apostrophe and hyphen the same, other alphabets in
//! Latin letters. Each plain letter knows the grapheme it came from, so that parts can be given as they were written.

use unicode_segmentation::UnicodeSegmentation;

/// What stood on a letter, as far as it changes how the word is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    /// è: the vowel is sounded.
    Grave,
    /// é or ê.
    Acute,
    /// ë: the vowel stands apart from the one before.
    Diaeresis,
}

/// A word and its plain letters.
#[derive(Clone, Debug)]
pub(super) struct Spelling<'a> {
    /// As written.
    pub(super) word: &'a str,
    /// ASCII: lower-case letters, digits, `'`, `-`, the signs `. , : & % $ # ?`, and signs of money, measure and number. `#` is a sign that is a syllable by
    /// itself (Han, kana, hangul), `?` a letter of a script that we cannot read.
    pub(super) plain: String,
    /// Marks and the index of the plain letter below.
    pub(super) marks: Vec<(usize, Mark)>,
    /// Whether each plain letter is one byte and one grapheme of the word, so that what follows is left empty.
    one_to_one: bool,
    /// For each plain letter, its grapheme.
    graphemes: Vec<usize>,
    /// Where each grapheme begins, and the end.
    offsets: Vec<usize>,
}

impl<'a> Spelling<'a> {
    pub(super) fn new(word: &'a str) -> Self {
        if word
            .bytes()
            .all(|byte| byte.is_ascii_graphic() && byte != b'`')
        {
            return Self {
                word,
                plain: word.to_ascii_lowercase(),
                marks: Vec::new(),
                one_to_one: true,
                graphemes: Vec::new(),
                offsets: Vec::new(),
            };
        }
        let mut spelling = Self {
            word,
            plain: String::with_capacity(word.len()),
            marks: Vec::new(),
            one_to_one: false,
            graphemes: Vec::new(),
            offsets: Vec::new(),
        };
        for (index, (offset, grapheme)) in word.grapheme_indices(true).enumerate() {
            spelling.offsets.push(offset);
            for letter in grapheme.chars() {
                spelling.push(letter, index);
            }
        }
        spelling.offsets.push(word.len());
        spelling
    }

    fn push(&mut self, letter: char, grapheme: usize) {
        if let Some(mark) = combining(letter) {
            if let Some(last) = self.plain.len().checked_sub(1) {
                self.marks.push((last, mark));
            }
            return;
        }
        for lower in letter.to_lowercase() {
            let (plain, mark) = plain(lower);
            if let Some(mark) = mark {
                self.marks.push((self.plain.len(), mark));
            }
            self.plain.push_str(plain);
            self.graphemes.resize(self.plain.len(), grapheme);
        }
    }

    /// How many graphemes the word has.
    pub(super) fn length(&self) -> usize {
        if self.one_to_one {
            self.word.len()
        } else {
            self.offsets.len().saturating_sub(1)
        }
    }

    /// The grapheme of a plain letter; behind the last one, that at the word's end.
    fn grapheme(&self, letter: usize) -> usize {
        let end = self.length();
        if self.one_to_one {
            letter.min(end)
        } else {
            self.graphemes.get(letter).copied().unwrap_or(end)
        }
    }

    /// The written parts that begin at these plain letters (ascending; the first is taken for 0), each with its column
    /// in graphemes. Joined, they are the word.
    pub(super) fn parts(&self, starts: &[usize]) -> Vec<(usize, &'a str)> {
        let end = self.length();
        let mut from = 0;
        (1..=starts.len())
            .map(|next| {
                let to = starts
                    .get(next)
                    .map_or(end, |start| self.grapheme(*start).max(from));
                let part = (from, self.slice(from, to));
                from = to;
                part
            })
            .collect()
    }

    fn slice(&self, from: usize, to: usize) -> &'a str {
        if self.one_to_one {
            return self.word.get(from..to).unwrap_or_default();
        }
        let range = self.offsets.get(from).zip(self.offsets.get(to));
        range
            .and_then(|(from, to)| self.word.get(*from..*to))
            .unwrap_or_default()
    }
}

/// Every sign that is typed for an apostrophe.
pub(super) fn is_apostrophe(letter: char) -> bool {
    matches!(
        letter,
        '\'' | '\u{2019}'
            | '\u{2018}'
            | '\u{2bc}'
            | '\u{2bb}'
            | '\u{2032}'
            | '\u{201b}'
            | '\u{ff07}'
            | '`'
            | '\u{b4}'
    )
}

/// Hyphen-minus, hyphen, non-breaking hyphen.
pub(super) fn is_hyphen(letter: char) -> bool {
    matches!(letter, '-' | '\u{2010}' | '\u{2011}' | '\u{2212}')
}

/// Signs without width that do not part a word: soft hyphen, joiners, zero-width space and no-break space, the
/// directional marks, variation selectors.
pub(super) fn is_invisible(letter: char) -> bool {
    matches!(
        letter,
        '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fe00}'..='\u{fe0f}'
    )
}

fn combining(letter: char) -> Option<Mark> {
    match letter {
        '\u{300}' => Some(Mark::Grave),
        '\u{301}' | '\u{302}' => Some(Mark::Acute),
        '\u{308}' => Some(Mark::Diaeresis),
        _ => None,
    }
}

/// The plain form of a lower-case letter and what stood on it. Our table: the Latin letters of Western and Central
/// Europe, the Greek and Cyrillic alphabets as they are usually transcribed.
#[rustfmt::skip]
fn plain(letter: char) -> (&'static str, Option<Mark>) {
    if letter.is_ascii() {
        return (ascii(letter), None);
    }
    if is_apostrophe(letter) {
        return ("'", None);
    }
    if is_hyphen(letter) {
        return ("-", None);
    }
    let plain = match letter {
        'à' | 'è' | 'ì' | 'ò' | 'ù' => return (base(letter), Some(Mark::Grave)),
        'á' | 'é' | 'ê' | 'í' | 'ó' | 'ú' | 'ý' => return (base(letter), Some(Mark::Acute)),
        'ä' | 'ë' | 'ï' | 'ö' | 'ü' | 'ÿ' => return (base(letter), Some(Mark::Diaeresis)),
        'â' | 'ã' | 'å' | 'ā' | 'ă' | 'ą' | 'ǎ' | 'α' | 'ά' | 'а' | 'ạ' | 'ả' => "a",
        'ē' | 'ĕ' | 'ė' | 'ę' | 'ě' | 'ε' | 'έ' | 'е' | 'э' | 'є' => "e",
        'î' | 'ĩ' | 'ī' | 'ĭ' | 'į' | 'ı' | 'η' | 'ή' | 'ι' | 'ί' | 'ϊ' | 'и' | 'і' | 'ы' => "i",
        'ô' | 'õ' | 'ø' | 'ō' | 'ŏ' | 'ő' | 'ο' | 'ό' | 'ω' | 'ώ' | 'о' => "o",
        'û' | 'ũ' | 'ū' | 'ŭ' | 'ů' | 'ű' | 'ų' | 'υ' | 'ύ' | 'у' => "u",
        'ŷ' => "y",
        'ç' | 'ć' | 'č' | 'ĉ' | 'ċ' => "c",
        'ď' | 'đ' | 'ð' | 'δ' | 'д' => "d",
        'ğ' | 'ĝ' | 'ģ' | 'γ' | 'г' | 'ґ' => "g",
        'ĥ' | 'ħ' => "h", 'ĵ' | 'й' => "y", 'ķ' | 'κ' | 'к' => "k",
        'ł' | 'ĺ' | 'ļ' | 'ľ' | 'λ' | 'л' => "l", 'μ' | 'м' => "m",
        'ñ' | 'ń' | 'ņ' | 'ň' | 'ν' | 'н' => "n", 'π' | 'п' => "p",
        'ŕ' | 'ř' | 'ρ' | 'р' => "r", 'ś' | 'š' | 'ş' | 'ș' | 'ŝ' | 'σ' | 'ς' | 'с' => "s",
        'ť' | 'ţ' | 'ț' | 'τ' | 'т' => "t", 'β' | 'в' => "v", 'б' => "b", 'ф' => "f",
        'ŵ' => "w", 'ź' | 'ż' | 'ž' | 'ζ' | 'з' => "z",
        'æ' | 'ǽ' => "ae", 'œ' => "oe", 'ß' => "ss", 'þ' | 'θ' => "th", 'ĳ' => "ij",
        'ξ' => "x", 'φ' => "ph", 'χ' | 'ч' => "ch", 'ψ' => "ps", 'ж' => "zh", 'х' => "kh", 'ц' => "ts",
        'ш' => "sh", 'щ' => "shch", 'ю' => "yu", 'я' | 'ї' => "ya", 'ё' => "yo", 'ь' | 'ъ' => "",
        'ﬁ' => "fi", 'ﬂ' => "fl", 'ﬀ' => "ff", 'ﬃ' => "ffi", 'ﬄ' => "ffl",
        '£' => "£", '€' => "€", '¢' => "¢", '°' => "°", '№' => "№", '×' => "×", '÷' => "÷",
        '½' => "½", '¼' => "¼", '¾' => "¾", '⅓' => "⅓", '⅔' => "⅔", '⅛' => "⅛", '⅜' => "⅜", '⅝' => "⅝", '⅞' => "⅞",
        _ => return (other(letter), None),
    };
    (plain, None)
}

fn other(letter: char) -> &'static str {
    let fullwidth = u32::from(letter)
        .checked_sub(0xfee0)
        .filter(|code| (0x21..0x7f).contains(code))
        .and_then(char::from_u32);
    if let Some(ascii_letter) = fullwidth {
        return ascii(ascii_letter);
    }
    match u32::from(letter) {
        0x3041..=0x30ff
        | 0x3400..=0x9fff
        | 0xac00..=0xd7a3
        | 0xf900..=0xfaff
        | 0x2_0000..=0x3_ffff => "#",
        _ if letter.is_alphabetic() => "?",
        _ => "",
    }
}

fn base(letter: char) -> &'static str {
    match letter {
        'à' | 'á' | 'ä' => "a",
        'ì' | 'í' | 'ï' => "i",
        'ò' | 'ó' | 'ö' => "o",
        'ù' | 'ú' | 'ü' => "u",
        'ý' | 'ÿ' => "y",
        _ => "e",
    }
}

/// The ASCII letter as text; control characters and blanks vanish.
fn ascii(letter: char) -> &'static str {
    const SIGNS: &str = "!\"#$%&'()*+,-./0123456789:;<=>?@abcdefghijklmnopqrstuvwxyz[\\]^_'{|}~";
    let lower = if letter == '`' {
        '\''
    } else {
        letter.to_ascii_lowercase()
    };
    match SIGNS.find(lower) {
        Some(at) if lower.is_ascii_graphic() => SIGNS.get(at..=at).unwrap_or_default(),
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(word: &str, expected: &str) {
        assert_eq!(Spelling::new(word).plain, expected, "{word}");
    }

    #[test]
    fn letters_are_made_plain() {
        check("Don’t", "don't");
        check("`Tis", "'tis");
        check("blessèd", "blessed");
        check("blesse\u{300}d", "blessed");
        check("Æther", "aether");
        check("wa\u{ad}ter", "water");
        check("Привет", "privet");
        check("歌", "#");
        check("שלום", "????");
        check("ｏｈ", "oh");
        check("\u{7}\u{1f600}", "");
    }

    #[test]
    fn marks_know_their_letter() {
        assert_eq!(Spelling::new("blessèd").marks, [(5, Mark::Grave)]);
        assert_eq!(Spelling::new("blesse\u{300}d").marks, [(5, Mark::Grave)]);
        assert_eq!(Spelling::new("Zoë").marks, [(2, Mark::Diaeresis)]);
    }

    #[test]
    fn parts_are_the_letters_as_written() {
        assert_eq!(
            Spelling::new("blesse\u{300}d").parts(&[0, 5]),
            [(0, "bless"), (5, "e\u{300}d")]
        );
        assert_eq!(Spelling::new("æon").parts(&[0, 2]), [(0, "æ"), (1, "on")]);
        assert_eq!(Spelling::new("7").parts(&[0, 1]), [(0, "7"), (1, "")]);
        assert_eq!(Spelling::new("").parts(&[]), []);
    }
}
