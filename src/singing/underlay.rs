//! Underlay: which note each syllable of a line is sung on.
//!
//! Order is kept; every syllable gets time and every note a syllable. The aims follow what is known about setting words (Hayes
//! 2009, Textsetting as constraint conflict; Halle and Lerdahl 1993, Current Musicology 55: 3–23): stress on strong beats, no crowding, no long gap;
//! English strophes to one tune often differ in slurs (Dell and Halle 2009). Hayes ranks the aims and gives no numbers: every cost here is our choice.

pub mod costs;
pub mod places;
mod search;

use self::places::Places;
use super::ways::Way;
use crate::music::meter::Strength;
use crate::music::pitch::Pitch;
use crate::music::quarters::Quarters;
use crate::words::stress::Class;
use std::ops::Range;

/// A line with its syllables in time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Underlay {
    /// The syllables as they are sung, in order; each starts at or after the end of the one before.
    pub syllables: Vec<Sung>,
    /// What they are sung on, in order: a syllable over several notes has several, notes that are shared are cut up.
    pub notes: Vec<SungNote>,
    /// How well it sits, in thousandths: 0 is best. Costs of the ways chosen included.
    pub cost: u32,
    /// How many syllables the tune or the verse pattern asks for, where there is one: the second number of "9 on 8".
    pub wanted: Option<usize>,
    /// For each note of the phrase, rests not counted, whether a syllable begins on it; empty without notes. The next verses keep
    /// to it where they can.
    pub habit: Vec<bool>,
}

/// A syllable in time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sung {
    /// Its word, from 0 in the line.
    pub word: usize,
    /// The way in which the word is sung, as an index of its ways.
    pub way: usize,
    /// Which syllable of its word, from 0.
    pub syllable: usize,
    /// When it begins, in quarter notes from the phrase's first note or rest; without notes, from beat 1 of the line's first bar, a pickup being negative.
    pub start: Quarters,
    /// How long it takes, from its first note's beginning to its last note's end.
    pub length: Quarters,
    /// Its notes, as a range of [`Underlay::notes`]; at least one.
    pub notes: Range<usize>,
    /// The strength of the moment in which it begins.
    pub strength: Strength,
    /// Its class.
    pub class: Class,
}

/// A note, or the part of one, that one syllable is sung on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SungNote {
    /// Its pitch as written; `None` where the line has no notes.
    pub pitch: Option<Pitch>,
    /// When it begins.
    pub start: Quarters,
    /// How long it lasts.
    pub length: Quarters,
}

impl Sung {
    /// When it ends.
    #[must_use]
    pub fn end(&self) -> Quarters {
        self.start + self.length
    }
}

impl Underlay {
    /// The notes of a syllable.
    #[must_use]
    pub fn notes_of(&self, sung: &Sung) -> &[SungNote] {
        self.notes.get(sung.notes.clone()).unwrap_or_default()
    }

    /// How many notes are added to syllables that have one already, and how many syllables are added to notes that have one already.
    /// `wanted` counts notes under a written slur as one, so that these are no addition. More than two of both deserve a remark.
    #[must_use]
    pub fn additions(&self) -> usize {
        let added = self.syllables.iter().filter(|s| s.notes.len() > 1).count();
        let begun = self.habit.iter().filter(|begins| **begins).count();
        added + self.syllables.len().saturating_sub(begun)
    }
}

/// Sets a line to a phrase of the tune: minimises the cost of the ways chosen and the cost of the setting, together.
///
/// `habit` is [`Underlay::habit`] of the first verse that was sung to this phrase, where there is one. `None` where the phrase
/// has no note or the line no syllable.
#[must_use]
pub fn underlay(line: &[Vec<Way>], places: &Places, habit: Option<&[bool]>) -> Option<Underlay> {
    let (merged, single) = (places.merged(), places.single());
    let found = search::best(line, merged, habit);
    if let Some(found) = &found
        && (found.syllables.len() <= merged.len() || merged.len() == single.len())
    {
        return Some(places.laid(merged, found));
    }
    // Syllables would be left over: a slur may be shared among them.
    let shared = search::best(line, single, habit);
    match (found, shared) {
        (Some(found), Some(shared)) if found.cost <= shared.cost => {
            Some(places.laid(merged, &found))
        }
        (_, Some(shared)) => Some(places.laid(single, &shared)),
        (Some(found), None) => Some(places.laid(merged, &found)),
        (None, None) => search::evenly(line, single).map(|found| places.laid(single, &found)),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::music::meter::Meter;
    use crate::music::tune::Phrase;
    use std::fmt::Write;

    const NEW_BRITAIN: &str = "D2 | G4 BG | B4 A2 | G4 E2 | D4";
    const AULD_LANG_SYNE: &str = "C2 | F3 F F2 A2 | G3 F G2";
    const AULD_LANG_SYNE_CHORUS: &str = "d2 | c3 A A2 F2 | G3 F G2";
    const GREENSLEEVES: &str = "E | G2 A B>cB | A2 F D>E";
    const RIVER: &str = "B,2 | E4 F2 | G4 F2 | E4 D2 | B,4";

    /// A line as words of `syllable:CLASS`, joined by `-`: each word is sung in one way.
    fn words(text: &str) -> (Vec<Vec<Way>>, Vec<&str>) {
        let (mut line, mut letters) = (Vec::new(), Vec::new());
        for word in text.split(' ') {
            let mut classes = Vec::new();
            for part in word.split('-') {
                let (letter, class) = part.split_once(':').unwrap();
                letters.push(letter);
                classes.push(match class {
                    "P" => Class::Primary,
                    "C" => Class::Content,
                    "S" => Class::Secondary,
                    "F" => Class::Function,
                    "L" => Class::Light,
                    "U" => Class::Unstressed,
                    "R" => Class::Remote,
                    other => panic!("no class {other}"),
                });
            }
            line.push(vec![Way {
                cost: 0,
                classes,
                reduced: false,
            }]);
        }
        (line, letters)
    }

    /// What is sung as "syllable notes", a note as "pitch length".
    fn shown(underlay: &Underlay, letters: &[&str]) -> String {
        let mut out = String::new();
        for (sung, letters) in underlay.syllables.iter().zip(letters) {
            let notes: Vec<_> = underlay
                .notes_of(sung)
                .iter()
                .map(|note| format!("{}:{}", note.pitch.unwrap(), note.length))
                .collect();
            write!(out, "{letters} {}; ", notes.join("+")).unwrap();
        }
        out.trim_end_matches("; ").to_owned()
    }

    fn set(meter: &str, tune: &str, text: &str, habit: Option<&[bool]>) -> (Underlay, String) {
        let meter = Meter::parse(meter).unwrap();
        let phrase = Phrase::read(tune, [0; 7], meter);
        assert!(phrase.problems.is_empty(), "{tune}");
        let places = Places::of(&phrase, meter);
        let (line, letters) = words(text);
        let found = underlay(&line, &places, habit).unwrap();
        let shown = shown(&found, &letters);
        (found, shown)
    }

    /// In 3/4, or the meter before the tune.
    fn check(meter: &str, tune: &str, text: &str, cost: u32, expected: &str) -> Vec<bool> {
        let (found, shown) = set(meter, tune, text, None);
        assert_eq!(shown, expected, "{text}");
        assert_eq!(found.cost, cost, "{text}");
        found.habit
    }

    #[test]
    fn the_light_syllable_takes_the_slur_of_new_britain() {
        // The slur stands so in The Southern Harmony (Walker 1835).
        let amazing = "a:U-ma:P-zing:U grace:C how:S sweet:C the:L sound:C";
        let habit = check(
            "3/4",
            NEW_BRITAIN,
            amazing,
            900,
            "a D4:1; ma G4:2; zing B4:1/2+G4:1/2; grace B4:2; how A4:1; sweet G4:2; the E4:1; sound D4:2",
        );
        let many = "Through:C ma:P-ny:U dan:P-gers:U toils:C and:L snares:C";
        check(
            "3/4",
            NEW_BRITAIN,
            many,
            1300,
            "Through D4:1; ma G4:2; ny B4:1/2+G4:1/2; dan B4:2; gers A4:1; toils G4:2; and E4:1; snares D4:2",
        );
        let saved = "that:F saved:C a:L wretch:C like:F me:S";
        check(
            "3/4",
            "D2 | G4 BG | B4 A2 | d6",
            saved,
            1100,
            "that D4:1; saved G4:2; a B4:1/2+G4:1/2; wretch B4:2; like A4:1; me D5:3",
        );
        // The first verse's slur is kept, though without it another would do better.
        let years = "When:S we've:C been:F there:F ten:C thou:P-sand:U years:C";
        check(
            "3/4",
            NEW_BRITAIN,
            years,
            1800,
            "When D4:1; we've G4:2; been B4:1/2; there G4:1/2; ten B4:2+A4:1; thou G4:2; sand E4:1; years D4:2",
        );
        let (later, kept) = set("3/4", NEW_BRITAIN, years, Some(&habit));
        assert_eq!(
            kept,
            "When D4:1; we've G4:2; been B4:1/2+G4:1/2; there B4:2; ten A4:1; thou G4:2; sand E4:1; years D4:2"
        );
        assert_eq!(later.cost, 2300);
    }

    #[test]
    fn auld_lang_syne_shares_and_slurs_notes_as_printed() {
        check(
            "4/4",
            AULD_LANG_SYNE,
            "Should:F auld:C ac:U-quain:P-tance:U be:F for:U-got:P",
            800,
            "Should C4:1; auld F4:3/2; ac F4:1/2; quain F4:1; tance A4:1; be G4:3/2; for F4:1/2; got G4:1",
        );
        check(
            "4/4",
            AULD_LANG_SYNE,
            "But:F we've:C wan:P-der'd:U mon:P-ie:U a:L wea:P-ry:U fit:C",
            3800,
            "But C4:1/2; we've C4:1/2; wan F4:3/2; der'd F4:1/2; mon F4:1; ie A4:1/2; a A4:1/2; wea G4:3/2; ry F4:1/2; fit G4:1",
        );
        check(
            "4/4",
            AULD_LANG_SYNE_CHORUS,
            "For:F auld:C lang:C syne:C my:F dear:C",
            2000,
            "For D5:1; auld C5:3/2+A4:1/2; lang A4:1+F4:1; syne G4:3/2; my F4:1/2; dear G4:1",
        );
    }

    #[test]
    fn a_drawn_out_syllable_takes_the_weak_short_note_of_greensleeves() {
        check(
            "6/8",
            GREENSLEEVES,
            "A:U-las:P my:F love:C you:F do:F me:F wrong:C",
            1600,
            "A E4:1/2; las G4:1; my A4:1/2; love B4:3/4+C5:1/4; you B4:1/2; do A4:1; me F4:1/2; wrong D4:3/4+E4:1/4",
        );
    }

    #[test]
    fn syllables_left_over_share_the_longest_notes() {
        check(
            "3/4",
            RIVER,
            "The:L ri:P-ver:U ran:C as:F black:C as:F tar:C",
            0,
            "The B3:1; ri E4:2; ver F4:1; ran G4:2; as F4:1; black E4:2; as D4:1; tar B3:2",
        );
        check(
            "3/4",
            RIVER,
            "She:F rang:C the:L bell:C at:F the:L wa:P-ter's:U edge:C",
            1000,
            "She B3:1; rang E4:2; the F4:1; bell G4:1; at G4:1; the F4:1; wa E4:2; ter's D4:1; edge B3:2",
        );
        check(
            "3/4",
            RIVER,
            "And:L the:L fer:P-ry:U-man:R nev:P-er:U came:C home:C a:U-gain:P",
            3900,
            "And B3:1/2; the B3:1/2; fer E4:1; ry E4:1; man F4:1; nev G4:2; er F4:1; came E4:1; home E4:1; a D4:1; gain B3:2",
        );
    }

    #[test]
    fn a_shorter_way_is_taken_where_the_notes_ask_for_it() {
        let way = |cost, classes: &[Class], reduced| Way {
            cost,
            classes: classes.to_vec(),
            reduced,
        };
        let one = |class| vec![way(0, &[class], false)];
        use Class::{Content, Light, Primary, Remote, Unstressed};
        let heaven = vec![
            way(0, &[Primary, Unstressed], false),
            way(500, &[Primary], true),
        ];
        let memory = vec![
            way(0, &[Primary, Unstressed, Remote], false),
            way(200, &[Primary, Unstressed], true),
        ];
        let meter = Meter::parse("3/4").unwrap();
        let places = |tune| Places::of(&Phrase::read(tune, [0; 7], meter), meter);
        let line = vec![
            one(Light),
            heaven.clone(),
            Vec::new(),
            one(Content),
            memory.clone(),
        ];
        let counts = |tune| {
            let found = underlay(&line, &places(tune), None).unwrap();
            let ways: Vec<_> = found
                .syllables
                .iter()
                .filter(|s| s.syllable == 0)
                .map(|s| s.way)
                .collect();
            (found.syllables.len(), ways)
        };
        assert_eq!(counts("C2 | D4 E2 | F4 G2 A2 | c6"), (6, vec![0, 0, 0, 1]));
        assert_eq!(counts("C2 | D4 E2 | F6 | G2 A2 G2 | c6").0, 7);
        // At most two words of a line are sung shorter than usual.
        let many = vec![heaven; 5];
        let found = underlay(&many, &places("C2 | D4 E2 | F4 G2"), None).unwrap();
        assert_eq!(found.syllables.len(), 8);
    }

    #[test]
    fn an_extra_syllable_may_come_in_the_rest_before() {
        let meter = Meter::parse("3/4").unwrap();
        let phrase = Phrase::read("z4 | E4 F2 | G6", [0; 7], meter);
        let (line, letters) = words("The:L ri:P-ver:U ran:C");
        let found = underlay(&line, &Places::of(&phrase, meter), None).unwrap();
        assert_eq!(
            shown(&found, &letters),
            "The E4:1; ri E4:2; ver F4:1; ran G4:3"
        );
        assert_eq!(found.syllables[0].start, Quarters::ONE);
    }

    #[test]
    fn nothing_to_sing_and_nothing_to_sing_it_on() {
        let places = |tune| Places::of(&Phrase::read(tune, [0; 7], Meter::COMMON), Meter::COMMON);
        assert_eq!(underlay(&[], &places("C2 D2"), None), None);
        assert_eq!(underlay(&words("the:L").0, &places("z8"), None), None);
    }

    proptest::proptest! {
        #[test]
        fn every_syllable_gets_time_and_every_note_a_syllable(
            tune in "(z[1-4]? )?(\\([A-G][1-6]? [a-g]?\\)|[A-G][/1-6]? ?\\|?|z ?){1,14}",
            line in proptest::collection::vec(proptest::collection::vec((0_u32..2000, proptest::collection::vec(0_usize..7, 0..5)), 0..3), 0..14),
            compound: bool,
            habit in proptest::collection::vec(proptest::bool::ANY, 0..12),
        ) {
            let line: Vec<Vec<Way>> = line
                .into_iter()
                .map(|ways| {
                    ways.into_iter()
                        .map(|(cost, classes)| Way {
                            reduced: cost > 500,
                            cost,
                            classes: classes.into_iter().map(|c| Class::ALL[c]).collect(),
                        })
                        .collect()
                })
                .collect();
            let meter = Meter::parse(if compound { "6/8" } else { "4/4" }).unwrap();
            let phrase = Phrase::read(&tune, [0; 7], meter);
            let places = Places::of(&phrase, meter);
            let Some(found) = underlay(&line, &places, Some(&habit)) else { return Ok(()) };
            proptest::prop_assert_eq!(found.habit.len(), phrase.sung_notes());
            let mut end = Quarters::ZERO;
            for sung in &found.syllables {
                proptest::prop_assert!(sung.start >= end && sung.length.is_positive());
                end = sung.end();
                proptest::prop_assert!(!found.notes_of(sung).is_empty());
            }
            proptest::prop_assert!(end <= phrase.length);
            let sung: Quarters = found.notes.iter().filter(|n| n.start >= phrase.notes.iter().find(|n| n.pitch.is_some()).unwrap().start).map(|n| n.length).sum();
            let written: Quarters = phrase.notes.iter().filter(|n| n.pitch.is_some()).map(|n| n.length).sum();
            proptest::prop_assert_eq!(sung, written);
        }
    }
}
