//! Words that we list ourselves: written elisions, contractions, old verbs, sounds that are no words, the names of
//! letters and figures, abbreviations. They stand before the dictionary.

use super::outlines::Outlines;
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
    ("'twon't", "T W OW1 N T"),
    ("'twould", "T W UH1 D"),
    ("'ve", "AH0 V"),
    ("+", "P L AH1 S"),
    ("2day", "T AH0 D EY1"),
    ("2morrow", "T AH0 M AA1 R OW2"),
    ("2nite", "T AH0 N AY1 T"),
    ("@", "AE1 T"),
    ("a'th'", "AH0 TH"),
    ("aaa", "AA1"),
    ("aah", "AA1"),
    ("ach", "AA1 K"),
    ("adieu", "AH0 D Y UW1"),
    ("ain't", "EY1 N T"),
    ("ain'tcha", "EY1 N CH AH0"),
    ("aiyaiyai", "AY1 Y AY1 Y AY1"),
    ("alack", "AH0 L AE1 K"),
    ("amn't", "AE1 M AH0 N T"),
    ("an'", "AH0 N"),
    ("an't", "EY1 N T"),
    ("any1", "EH1 N IY0 W AH2 N"),
    ("aoife", "IY1 F AH0"),
    ("approx", "AH0 P R AA1 K S AH0 M AH0 T L IY0"),
    ("aren't", "AA1 R N T"),
    ("aught", "AO1 T"),
    ("ay", "AY1|EY1"),
    ("aye", "AY1|EY1"),
    ("ayy", "EY1"),
    ("b4", "B IH0 F AO1 R"),
    ("ba", "B AA1"),
    ("ba'", "B AA1"),
    ("baa", "B AA1"),
    ("begone", "B IH0 G AO1 N"),
    ("belvoir", "B IY1 V ER0"),
    ("blvd", "B UH1 L AH0 V AA2 R D"),
    ("bo's'n", "B OW1 S AH0 N"),
    ("boatswain", "B OW1 S AH0 N"),
    ("bodhran", "B AW0 R AA1 N"),
    ("bros", "B R AH1 DH ER0 Z"),
    ("callay", "K AH0 L EY1"),
    ("callooh", "K AH0 L UW1"),
    ("canst", "K AE1 N S T"),
    ("caoimhe", "K IY1 V AH0"),
    ("cap'n", "K AE1 P AH0 N"),
    ("capt", "K AE1 P T AH0 N"),
    ("ceilidh", "K EY1 L IY0"),
    ("cholmondeley", "CH AH1 M L IY0"),
    ("cirencester", "S AY1 R AH0 N S EH2 S T ER0"),
    ("cmon", "K AH0 M AA1 N"),
    ("cont'd", "K AH0 N T IH1 N Y UW0 D"),
    ("couldst", "K UH1 D S T"),
    ("cuppa", "K AH1 P AH0"),
    ("d'", "D"),
    ("d'ya", "JH AH0"),
    ("d'ye", "D Y IY0"),
    ("d'you", "JH UW1"),
    ("daren't", "D EH1 R N T"),
    ("dept", "D IH0 P AA1 R T M AH0 N T"),
    ("didst", "D IH1 D S T"),
    ("do'st", "D AH1 S T"),
    ("doer", "D UW1 ER0"),
    ("dost", "D AH1 S T"),
    ("doth", "D AH1 TH"),
    ("dr", "D AA1 K T ER0|D R AY1 V"),
    ("dunfermline", "D AH0 N F ER1 M L AH0 N"),
    ("e'en", "IY1 N"),
    ("e'er", "EH1 R"),
    ("eftsoons", "EH0 F T S UW1 N Z"),
    ("eoghan", "OW1 AH0 N"),
    ("eoin", "OW1 AH0 N"),
    ("eurydice", "Y UH0 R IH1 D AH0 S IY0"),
    ("ev'n", "IY1 V N"),
    ("ev'ry", "EH1 V R IY0"),
    ("ev'rybody", "EH1 V R IY0 B AA2 D IY0"),
    ("ev'ryone", "EH1 V R IY0 W AH2 N"),
    ("ev'rything", "EH1 V R IY0 TH IH2 NG"),
    ("ev'rywhere", "EH1 V R IY0 W EH2 R"),
    ("fa", "F AA1"),
    ("failte", "F AO1 L CH AH0"),
    ("featherstonehaugh", "F AE1 N SH AO2"),
    ("fionn", "F IH1 N"),
    ("fo'c'sle", "F OW1 K S AH0 L"),
    ("for'ver", "F ER0 EH1 R"),
    ("forbear", "F AO0 R B EH1 R"),
    ("fore'er", "F ER0 EH1 R"),
    ("forecastle", "F OW1 K S AH0 L"),
    ("forsooth", "F ER0 S UW1 TH"),
    ("ft", "F UH1 T"),
    ("gethsemane", "G EH0 TH S EH1 M AH0 N IY0"),
    ("gi'en", "G IY1 N"),
    ("gimme", "G IH1 M IY0"),
    ("giv'n", "G IH1 V N"),
    ("gloucestershire", "G L AO1 S T ER0 SH ER0"),
    ("goethe", "G ER1 T AH0"),
    ("gon'", "G AA1 N"),
    ("gonna", "G AH1 N AH0"),
    ("gotcha", "G AA1 CH AH0"),
    ("gov'nor", "G AH1 V N ER0"),
    ("govt", "G AH1 V ER0 M AH0 N T"),
    ("gr8", "G R EY1 T"),
    ("grainne", "G R AO1 N Y AH0"),
    ("grenadier", "G R EH2 N AH0 D IH1 R"),
    ("guinevere", "G W IH1 N AH0 V IH2 R"),
    ("gunwale", "G AH1 N AH0 L"),
    ("h8", "HH EY1 T"),
    ("ha'", "HH AE1"),
    ("ha'p'orth", "HH EY1 P ER0 TH"),
    ("ha'penny", "HH EY1 P N IY0"),
    ("had'st", "HH AE1 D S T"),
    ("hadst", "HH AE1 D S T"),
    ("halyard", "HH AE1 L Y ER0 D"),
    ("hast", "HH AE1 S T"),
    ("heav'n", "HH EH1 V N"),
    ("hecate", "HH EH1 K AH0 T IY0"),
    ("hehe", "HH IY1 HH IY0"),
    ("howe'er", "HH AW0 EH1 R"),
    ("howsoe'er", "HH AW2 S OW0 EH1 R"),
    ("hr", "AW1 ER0"),
    ("hrs", "AW1 ER0 Z"),
    ("hwy", "HH AY1 W EY2"),
    ("i'", "IH0"),
    ("i'th'", "IH1 TH"),
    ("im", "AY1 M"),
    ("in't", "IH1 N T"),
    ("innit", "IH1 N IH0 T"),
    ("islay", "AY1 L AH0"),
    ("jes'", "JH EH1 S"),
    ("jr", "JH UW1 N Y ER0"),
    ("jus'", "JH AH1 S"),
    ("kg", "K IH1 L AH0 G R AE2 M Z"),
    ("kirkcudbright", "K ER0 K UW1 B R IY0"),
    ("km", "K AH0 L AA1 M AH0 T ER0 Z"),
    ("l8r", "L EY1 T ER0"),
    ("la", "L AA1"),
    ("lb", "P AW1 N D"),
    ("lbs", "P AW1 N D Z"),
    ("leicestershire", "L EH1 S T ER0 SH ER0"),
    ("lemme", "L EH1 M IY0"),
    ("leominster", "L EH1 M S T ER0"),
    ("li'l", "L IH1 L"),
    ("lil'", "L IH1 L"),
    ("lo'e", "L OW1"),
    ("lorn", "L AO1 R N"),
    ("lt", "L UW0 T EH1 N AH0 N T"),
    ("ltd", "L IH1 M IH0 T AH0 D"),
    ("m8", "M EY1 T"),
    ("ma'am", "M AE1 M"),
    ("maeve", "M EY1 V"),
    ("marjoribanks", "M AA1 R CH B AE2 NG K S"),
    ("mayn't", "M EY1 AH0 N T"),
    ("mayst", "M EY1 S T"),
    ("messrs", "M EH1 S ER0 Z"),
    ("methinks", "M IH0 TH IH1 NG K S"),
    ("methought", "M IH0 TH AO1 T"),
    ("mightn't", "M AY1 T AH0 N T"),
    ("mightst", "M AY1 T S T"),
    ("milngavie", "M AH0 L G AY1"),
    ("mo'", "M OW1"),
    ("mt", "M AW1 N T"),
    ("ne'er", "N EH1 R"),
    ("niamh", "N IY1 V"),
    ("nothin'", "N AH1 TH IH0 N"),
    ("o", "OW1"),
    ("o'", "AH0"),
    ("o'clock", "AH0 K L AA1 K"),
    ("o'er", "AO1 R"),
    ("o'th'", "AH0 TH"),
    ("oft", "AO1 F T"),
    ("ol'", "OW1 L"),
    ("ole", "OW1 L"),
    ("on't", "AA1 N T"),
    ("ooh", "UW1"),
    ("ope", "OW1 P"),
    ("outta", "AW1 T AH0"),
    ("padraig", "P AA1 D R IH0 G"),
    ("persephone", "P ER0 S EH1 F AH0 N IY0"),
    ("ph.d", "P IY1 EY1 CH D IY1"),
    ("phd", "P IY1 EY1 CH D IY1"),
    ("prof", "P R AH0 F EH1 S ER0"),
    ("quoth", "K W OW1 TH"),
    ("rd", "R OW1 D"),
    ("rev", "R EH1 V ER0 AH0 N D"),
    ("roisin", "R OW0 SH IY1 N"),
    ("s'pose", "S P OW1 Z"),
    ("saoirse", "S ER1 SH AH0"),
    ("sassenach", "S AE1 S AH0 N AE2 K"),
    ("sev'n", "S EH1 V N"),
    ("shan't", "SH AE1 N T"),
    ("shouldst", "SH UH1 D S T"),
    ("shrewsbury", "SH R UW1 Z B ER0 IY0"),
    ("sinead", "SH IH0 N EY1 D"),
    ("siobhan", "SH AH0 V AO1 N"),
    ("sk8", "S K EY1 T"),
    ("slainte", "S L AA1 N CH AH0"),
    ("soe'er", "S OW0 EH1 R"),
    ("some1", "S AH1 M W AH2 N"),
    ("sorceress", "S AO1 R S ER0 AH0 S"),
    ("sorta", "S AO1 R T AH0"),
    ("sr", "S IY1 N Y ER0"),
    ("st", "S EY1 N T|S T R IY1 T"),
    ("stornoway", "S T AO1 R N AH0 W EY2"),
    ("suet", "S UW1 AH0 T"),
    ("syne", "S AY1 N"),
    ("t'", "T"),
    ("ta'en", "T EY1 N"),
    ("tewkesbury", "T Y UW1 K S B ER0 IY0"),
    ("th'", "DH AH0"),
    ("thine", "DH AY1 N"),
    ("this'd", "DH IH1 S AH0 D"),
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
    ("w/o", "W IH0 TH AW1 T"),
    ("w8", "W EY1 T"),
    ("wast", "W AH1 S T"),
    ("wemyss", "W IY1 M Z"),
    ("weren't", "W ER1 N T"),
    ("whaddaya", "W AH1 D AH0 Y AH0"),
    ("whaddya", "W AH1 D Y AH0"),
    ("whare", "W EH1 R"),
    ("whate'er", "W AH0 T EH1 R"),
    ("whatsoe'er", "W AH2 T S OW0 EH1 R"),
    ("whatsoever", "W AH2 T S OW0 EH1 V ER0"),
    ("whence", "W EH1 N S"),
    ("whene'er", "W EH0 N EH1 R"),
    ("whensoe'er", "W EH2 N S OW0 EH1 R"),
    ("where'er", "W EH0 R EH1 R"),
    ("wherefore", "W EH1 R F AO2 R"),
    ("wheresoe'er", "W EH2 R S OW0 EH1 R"),
    ("whither", "W IH1 DH ER0"),
    ("who'er", "HH UW0 EH1 R"),
    ("whoah", "W OW1"),
    ("whoe'er", "HH UW0 EH1 R"),
    ("whomsoe'er", "HH UW2 M S OW0 EH1 R"),
    ("whosoe'er", "HH UW2 S OW0 EH1 R"),
    ("wi'", "W IH0"),
    ("woah", "W OW1"),
    ("woe-begone", "W OW1 B IH0 G AO2 N"),
    ("won't", "W OW1 N T"),
    ("worcestershire", "W UH1 S T ER0 SH ER0"),
    ("wouldst", "W UH1 D S T"),
    ("wwi", "W ER1 L D W AO1 R W AH1 N"),
    ("wwii", "W ER1 L D W AO1 R T UW1"),
    ("xmas", "K R IH1 S M AH0 S"),
    ("y'", "Y AH0"),
    ("y'ain't", "Y EY1 N T"),
    ("y'all'd", "Y AO1 L AH0 D"),
    ("ya", "Y AH0"),
    ("yeah", "Y AE1"),
    ("ymca", "W AY1 EH1 M S IY1 EY1"),
    ("yo'", "Y OW1"),
    ("yon", "Y AA1 N"),
    ("yonder", "Y AA1 N D ER0"),
];

const FIXED_OUTLINES: Outlines = {
    let mut outlines = Outlines::NONE;
    let mut row = 0;
    while row < FIXED.len() {
        outlines = outlines.and(&[FIXED[row].0]);
        row += 1;
    }
    outlines
};

/// The listed ways to say a word, the usual one first.
#[must_use]
pub fn fixed(word: &str) -> Option<Vec<Vec<Sound>>> {
    if !FIXED_OUTLINES.may_have(word) {
        return None;
    }
    let at = FIXED.binary_search_by(|row| row.0.cmp(word)).ok()?;
    FIXED.get(at)?.1.split('|').map(Sound::parse_all).collect()
}

/// Short forms that are told by their stop, and what they are said as. Common practice, no source.
#[rustfmt::skip]
const WITH_STOP: &[(&str, &[&str])] = &[
    ("adm", &["admiral"]), ("apr", &["april"]), ("aug", &["august"]), ("ave", &["avenue"]), ("ch", &["chapter"]),
    ("co", &["company"]), ("col", &["colonel"]), ("cpl", &["corporal"]), ("dec", &["december"]), ("feb", &["february"]),
    ("fig", &["figure"]), ("fri", &["friday"]), ("gen", &["general"]), ("gov", &["governor"]), ("hon", &["honorable"]), ("inc", &["incorporated"]), ("jan", &["january"]),
    ("jul", &["july"]), ("jun", &["june"]), ("maj", &["major"]), ("nov", &["november"]), ("oct", &["october"]), ("op", &["opus"]), ("oz", &["ounces"]),
    ("p", &["page"]), ("pp", &["pages"]), ("pt", &["part"]), ("pvt", &["private"]), ("sen", &["senator"]), ("sep", &["september"]),
    ("sept", &["september"]), ("thurs", &["thursday"]), ("tues", &["tuesday"]), ("vol", &["volume"]),
];

/// What a short form with its stop is said as, given without the stop: *january* for `jan`. The stop behind `no` tells
/// only where it is written with a capital.
#[must_use]
pub fn with_stop(word: &str, written: &str) -> Option<&'static [&'static str]> {
    if word == "no" && written == "No." {
        return Some(&["number"]);
    }
    let at = WITH_STOP.binary_search_by(|row| row.0.cmp(word)).ok()?;
    WITH_STOP.get(at).map(|row| row.1)
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
        assert!(WITH_STOP.is_sorted_by(|a, b| a.0 < b.0));
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
