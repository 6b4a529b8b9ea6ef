//! Words that we list ourselves: written elisions, contractions, old verbs, sounds that are no words, the names of
//! letters and figures, abbreviations. They stand before the dictionary.

use super::phone::Sound;

/// Word and sounds; several ways are parted by `|`, the usual one first. In the order of the words' bytes. The elisions
/// after Bysshe, The Art of English Poetry (1708); the rest is common practice, no source.
#[rustfmt::skip]
const FIXED: &[(&str, &str)] = &[
    ("%", "P ER0 S EH1 N T"),
    ("&", "AH0 N D"),
    ("'", "AH0"),
    ("'bove", "B AH1 V"),
    ("'cause", "K AH0 Z"),
    ("'cross", "K R AO1 S"),
    ("'d", "AH0 D"),
    ("'e", "IY1"),
    ("'er", "ER0"),
    ("'fore", "F AO1 R"),
    ("'fraid", "F R EY1 D"),
    ("'gainst", "G EH1 N S T"),
    ("'ll", "AH0 L"),
    ("'mid", "M IH1 D"),
    ("'midst", "M IH1 D S T"),
    ("'mong", "M AH1 NG"),
    ("'mongst", "M AH1 NG S T"),
    ("'n'", "AH0 N"),
    ("'neath", "N IY1 TH"),
    ("'nother", "N AH1 DH ER0"),
    ("'nough", "N AH1 F"),
    ("'pon", "P AA1 N"),
    ("'re", "ER0"),
    ("'s", "Z"),
    ("'st", "S T"),
    ("'t", "T"),
    ("'tain't", "T EY1 N T"),
    ("'tisn't", "T IH1 Z AH0 N T"),
    ("'twasn't", "T W AH1 Z AH0 N T"),
    ("'tween", "T W IY1 N"),
    ("'twere", "T W ER1"),
    ("'twill", "T W IH1 L"),
    ("'twixt", "T W IH1 K S T"),
    ("'twould", "T W UH1 D"),
    ("'ve", "AH0 V"),
    ("+", "P L AH1 S"),
    ("@", "AE1 T"),
    ("aaa", "AA1"),
    ("aah", "AA1"),
    ("adieu", "AH0 D Y UW1"),
    ("ain't", "EY1 N T"),
    ("ain'tcha", "EY1 N CH AH0"),
    ("amn't", "AE1 M AH0 N T"),
    ("an'", "AH0 N"),
    ("aren't", "AA1 R N T"),
    ("aught", "AO1 T"),
    ("bo's'n", "B OW1 S AH0 N"),
    ("canst", "K AE1 N S T"),
    ("cap'n", "K AE1 P AH0 N"),
    ("capt", "K AE1 P T AH0 N"),
    ("couldst", "K UH1 D S T"),
    ("cuppa", "K AH1 P AH0"),
    ("d'", "D"),
    ("d'you", "JH UW1"),
    ("daren't", "D EH1 R N T"),
    ("didst", "D IH1 D S T"),
    ("do'st", "D AH1 S T"),
    ("dost", "D AH1 S T"),
    ("doth", "D AH1 TH"),
    ("dr", "D AA1 K T ER0|D R AY1 V"),
    ("e'en", "IY1 N"),
    ("e'er", "EH1 R"),
    ("ev'n", "IY1 V N"),
    ("ev'ry", "EH1 V R IY0"),
    ("ev'rybody", "EH1 V R IY0 B AA2 D IY0"),
    ("ev'ryone", "EH1 V R IY0 W AH2 N"),
    ("ev'rything", "EH1 V R IY0 TH IH2 NG"),
    ("ev'rywhere", "EH1 V R IY0 W EH2 R"),
    ("fa", "F AA1"),
    ("fo'c'sle", "F OW1 K S AH0 L"),
    ("ft", "F UH1 T"),
    ("gimme", "G IH1 M IY0"),
    ("giv'n", "G IH1 V N"),
    ("gon'", "G AA1 N"),
    ("gonna", "G AH1 N AH0"),
    ("gotcha", "G AA1 CH AH0"),
    ("gov'nor", "G AH1 V N ER0"),
    ("ha'", "HH AE1"),
    ("ha'p'orth", "HH EY1 P ER0 TH"),
    ("ha'penny", "HH EY1 P N IY0"),
    ("had'st", "HH AE1 D S T"),
    ("hadst", "HH AE1 D S T"),
    ("halyard", "HH AE1 L Y ER0 D"),
    ("hast", "HH AE1 S T"),
    ("heav'n", "HH EH1 V N"),
    ("howe'er", "HH AW0 EH1 R"),
    ("howsoe'er", "HH AW2 S OW0 EH1 R"),
    ("i'", "IH0"),
    ("i'th'", "IH1 TH"),
    ("innit", "IH1 N IH0 T"),
    ("jes'", "JH EH1 S"),
    ("jr", "JH UW1 N Y ER0"),
    ("jus'", "JH AH1 S"),
    ("la", "L AA1"),
    ("lemme", "L EH1 M IY0"),
    ("li'l", "L IH1 L"),
    ("lil'", "L IH1 L"),
    ("lo'e", "L OW1"),
    ("lt", "L UW0 T EH1 N AH0 N T"),
    ("ma'am", "M AE1 M"),
    ("mayn't", "M EY1 AH0 N T"),
    ("mayst", "M EY1 S T"),
    ("messrs", "M EH1 S ER0 Z"),
    ("mightn't", "M AY1 T AH0 N T"),
    ("mightst", "M AY1 T S T"),
    ("mo'", "M OW1"),
    ("mt", "M AW1 N T"),
    ("ne'er", "N EH1 R"),
    ("nothin'", "N AH1 TH IH0 N"),
    ("o", "OW1"),
    ("o'", "AH0"),
    ("o'clock", "AH0 K L AA1 K"),
    ("o'er", "AO1 R"),
    ("oft", "AO1 F T"),
    ("ol'", "OW1 L"),
    ("ole", "OW1 L"),
    ("ooh", "UW1"),
    ("ope", "OW1 P"),
    ("outta", "AW1 T AH0"),
    ("prof", "P R AH0 F EH1 S ER0"),
    ("quoth", "K W OW1 TH"),
    ("rev", "R EH1 V ER0 AH0 N D"),
    ("s'pose", "S P OW1 Z"),
    ("sev'n", "S EH1 V N"),
    ("shan't", "SH AE1 N T"),
    ("shouldst", "SH UH1 D S T"),
    ("soe'er", "S OW0 EH1 R"),
    ("sorta", "S AO1 R T AH0"),
    ("sr", "S IY1 N Y ER0"),
    ("st", "S EY1 N T|S T R IY1 T"),
    ("t'", "T"),
    ("ta'en", "T EY1 N"),
    ("th'", "DH AH0"),
    ("thine", "DH AY1 N"),
    ("tho", "DH OW1"),
    ("tho'", "DH OW1"),
    ("thou'dst", "DH AW1 D S T"),
    ("thou'lt", "DH AW1 L T"),
    ("thou'rt", "DH AW1 R T"),
    ("thou'st", "DH AW1 S T"),
    ("thro", "TH R UW1"),
    ("thro'", "TH R UW1"),
    ("thru", "TH R UW1"),
    ("thyme", "T AY1 M"),
    ("til", "T IH1 L"),
    ("tra", "T R AA1"),
    ("unto", "AH1 N T UW0"),
    ("usta", "Y UW1 S T AH0"),
    ("vs", "V ER1 S AH0 S"),
    ("wast", "W AH1 S T"),
    ("weren't", "W ER1 N T"),
    ("whaddya", "W AH1 D Y AH0"),
    ("whate'er", "W AH0 T EH1 R"),
    ("whatsoe'er", "W AH2 T S OW0 EH1 R"),
    ("whatsoever", "W AH2 T S OW0 EH1 V ER0"),
    ("whence", "W EH1 N S"),
    ("whene'er", "W EH0 N EH1 R"),
    ("whensoe'er", "W EH2 N S OW0 EH1 R"),
    ("where'er", "W EH0 R EH1 R"),
    ("wheresoe'er", "W EH2 R S OW0 EH1 R"),
    ("whither", "W IH1 DH ER0"),
    ("who'er", "HH UW0 EH1 R"),
    ("whoe'er", "HH UW0 EH1 R"),
    ("wi'", "W IH0"),
    ("won't", "W OW1 N T"),
    ("wouldst", "W UH1 D S T"),
    ("y'", "Y"),
    ("y'all'd", "Y AO1 L AH0 D"),
    ("ya", "Y AH0"),
    ("yeah", "Y AE1"),
    ("yo'", "Y OW1"),
    ("yon", "Y AA1 N"),
    ("yonder", "Y AA1 N D ER0"),
];

/// The listed ways to say a word, the usual one first.
#[must_use]
pub fn fixed(word: &str) -> Option<Vec<Vec<Sound>>> {
    let at = FIXED.binary_search_by(|row| row.0.cmp(word)).ok()?;
    FIXED.get(at)?.1.split('|').map(Sound::parse_all).collect()
}

/// The name of a letter in sounds: W is *double u*.
#[must_use]
pub fn letter(letter: char) -> Option<Vec<Sound>> {
    let sounds = match letter.to_ascii_lowercase() {
        'a' => "EY1",
        'b' => "B IY1",
        'c' => "S IY1",
        'd' => "D IY1",
        'e' => "IY1",
        'f' => "EH1 F",
        'g' => "JH IY1",
        'h' => "EY1 CH",
        'i' => "AY1",
        'j' => "JH EY1",
        'k' => "K EY1",
        'l' => "EH1 L",
        'm' => "EH1 M",
        'n' => "EH1 N",
        'o' => "OW1",
        'p' => "P IY1",
        'q' => "K Y UW1",
        'r' => "AA1 R",
        's' => "EH1 S",
        't' => "T IY1",
        'u' => "Y UW1",
        'v' => "V IY1",
        'w' => "D AH1 B AH0 L Y UW0",
        'x' => "EH1 K S",
        'y' => "W AY1",
        'z' => "Z IY1",
        _ => return None,
    };
    Sound::parse_all(sounds)
}

/// The word for a single figure as it is said in a row of figures.
#[must_use]
pub fn digit(figure: &str) -> &'static str {
    match figure {
        "1" => "one",
        "2" => "two",
        "3" => "three",
        "4" => "four",
        "5" => "five",
        "6" => "six",
        "7" => "seven",
        "8" => "eight",
        "9" => "nine",
        _ => "oh",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_is_in_order_and_every_row_is_sound() {
        for pair in FIXED.windows(2) {
            assert!(pair.is_sorted_by(|a, b| a.0 < b.0), "{pair:?}");
        }
        for (word, _) in FIXED {
            assert!(
                fixed(word).is_some_and(|ways| ways.iter().all(|way| !way.is_empty())),
                "{word}"
            );
        }
    }

    #[test]
    fn all_letters_have_a_name() {
        assert!(('a'..='z').all(|sign| letter(sign).is_some()));
        assert_eq!(letter('?'), None);
    }
}
