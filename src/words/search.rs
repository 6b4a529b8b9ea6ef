//! The order in which a word's sounds are sought: the song's words, lists of ours, the dictionary, rules, the estimate.

mod figures;
mod hyphens;
mod letters;
mod marks;
mod respelled;
pub(super) mod roman;

use super::dictionary::Pronunciations;
use super::model::table::Table;
use super::phone::{Phone, Sound};
use super::spelling::{Mark, Spelling};
use super::{
    SongWords, Source, affixes, dictionary, estimate, lists, numbers, parts, sung, written,
};
use letters::letters;

/// A way to say a word, with the plain letters at which its parts begin.
#[derive(Clone, Debug)]
pub(super) struct Said {
    pub(super) sounds: Vec<Sound>,
    pub(super) cost: u32,
    pub(super) why: &'static str,
    pub(super) starts: Vec<usize>,
    pub(super) guessed: bool,
    /// What each syllable is said as, where the letters do not say it; else empty.
    pub(super) spoken: Vec<String>,
}

/// All ways, the default first.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) said: Vec<Said>,
    pub(super) from: Source,
}

/// Where to look.
#[derive(Clone, Copy, Debug)]
pub(super) struct Search<'a> {
    pub(super) song: &'a SongWords,
    pub(super) listed: Listed<'a>,
    /// What estimates a word; none is the trained table.
    pub(super) model: Option<&'a Table<'a>>,
}

/// Which words the dictionary may be asked for.
#[derive(Clone, Copy, Debug)]
pub(super) enum Listed<'a> {
    All,
    /// All but this one and its possessive.
    AllBut(&'a str),
    Nothing,
}

/// What stands between words that are written as one.
const PARTING: [char; 2] = ['-', '/'];

/// Derivations of derivations stop here.
const DEEPEST: usize = 4;

impl Said {
    fn new(word: &str, sounds: Vec<Sound>, cost: u32, why: &'static str, bounds: &[usize]) -> Self {
        let (starts, guessed) = if sounds.is_empty() {
            (vec![0], false)
        } else {
            let parts = parts::break_word(word, &sounds, bounds);
            (parts.starts, parts.guessed)
        };
        Self {
            sounds,
            cost,
            why,
            starts,
            guessed,
            spoken: Vec::new(),
        }
    }
}

impl Found {
    fn one(
        word: &str,
        sounds: Vec<Sound>,
        why: &'static str,
        bounds: &[usize],
        from: Source,
    ) -> Self {
        Self {
            said: vec![Said::new(word, sounds, 0, why, bounds)],
            from,
        }
    }

    /// The default's sounds.
    pub(super) fn into_sounds(self) -> Vec<Sound> {
        self.said
            .into_iter()
            .next()
            .map(|said| said.sounds)
            .unwrap_or_default()
    }
}

impl<'a> Search<'a> {
    /// With the whole dictionary.
    pub(super) const fn new(song: &'a SongWords) -> Self {
        Self {
            song,
            listed: Listed::All,
            model: None,
        }
    }

    /// What the dictionary may tell of this word.
    pub(super) fn listed(&self, word: &str) -> Pronunciations {
        if self.hides(word) {
            Pronunciations::default()
        } else {
            dictionary::lookup(word)
        }
    }

    /// How common a word is that rules may build on; as common as can be where the song or a list of ours has it.
    pub(super) fn rank(&self, word: &str) -> Option<u8> {
        if self.song.get(word).is_some() || lists::fixed(word).is_some() {
            return Some(0);
        }
        if self.hides(word) {
            return None;
        }
        dictionary::rank(word)
    }

    fn hides(&self, word: &str) -> bool {
        match self.listed {
            Listed::All => false,
            Listed::AllBut(hidden) => matches!(word.strip_prefix(hidden), Some("" | "'s")),
            Listed::Nothing => true,
        }
    }

    /// Whether rules may build on words of the dictionary.
    const fn asks(&self) -> bool {
        !matches!(self.listed, Listed::Nothing)
    }

    /// The ways to say a word as it stands in a row.
    pub(super) fn find(&self, spelling: &Spelling<'_>) -> Found {
        let plain = spelling.plain.as_str();
        let is_edge = |sign| !is_spoken(sign) && !is_sign(sign);
        let mut lead = plain.len() - plain.trim_start_matches(is_edge).len();
        // *.22*, *-5*
        if let [.., b'.' | b'-'] = plain.as_bytes().get(..lead).unwrap_or_default()
            && plain.as_bytes().get(lead).is_some_and(u8::is_ascii_digit)
        {
            lead -= 1;
        }
        let word = plain
            .get(lead..)
            .unwrap_or_default()
            .trim_end_matches(is_edge);
        let mut found = self.find_marked(word, spelling, lead);
        for said in found.said.iter_mut().filter(|said| said.starts.is_empty()) {
            // Figures and signs that nobody can say.
            said.starts.push(0);
        }
        if lead > 0 {
            for start in found
                .said
                .iter_mut()
                .flat_map(|said| said.starts.iter_mut().skip(1))
            {
                *start += lead;
            }
        }
        found
    }

    fn find_marked(&self, word: &str, spelling: &Spelling<'_>, lead: usize) -> Found {
        if let Some(found) = self.song_word(word) {
            return found;
        }
        if let Some(words) = spelling
            .plain
            .strip_suffix('.')
            .and_then(|_| lists::with_stop(word, spelling.word))
        {
            return Found {
                said: vec![self.spoken_words(word, words, 0)],
                from: Source::Rule,
            };
        }
        if let Some(value) = roman::value(spelling.word) {
            return self.numeral(word, value);
        }
        // On the e of -ed, whichever the mark: *blessèd, blesséd, blessëd*.
        let sounded = spelling
            .marks
            .iter()
            .find(|(at, _)| plain_is(word, at.wrapping_sub(lead), b'e'));
        let keeps_ey = |mark: Mark| {
            let base = word.strip_suffix('d').filter(|_| mark == Mark::Acute);
            let said = base.and_then(|base| self.known(base));
            said.is_some_and(|said| said.last().is_some_and(|last| last.phone == Phone::EY))
        };
        if let Some((at, mark)) = sounded
            && !keeps_ey(*mark)
            && let Some(found) = self.grave(word, at - lead)
        {
            return found;
        }
        let last = (lead + word.len()).checked_sub(1);
        let acute_end = spelling
            .marks
            .iter()
            .any(|(at, mark)| *mark == Mark::Acute && Some(*at) == last);
        if acute_end && word.ends_with('e') {
            return self.acute(word);
        }
        if self.is_spelled_out(spelling.word, word) {
            return letters(word);
        }
        if let Some(found) = self.spelled_out_plural(spelling.word, word) {
            return found;
        }
        let found = self.find_plain(word, 0);
        let diaeresis = spelling.marks.iter().find(|(at, mark)| {
            let at = at.wrapping_sub(lead);
            // The Spanish accent parts vowels, too: *Raúl, Caín*.
            let parts = plain_is(word, at, b'i') || plain_is(word, at, b'u');
            at < word.len() && (*mark == Mark::Diaeresis || (*mark == Mark::Acute && parts))
        });
        match diaeresis {
            Some((at, _)) => self.apart(word, at - lead, found),
            None => found,
        }
    }

    /// The ways to say a word of plain letters.
    pub(super) fn find_plain(&self, word: &str, depth: usize) -> Found {
        if !word
            .bytes()
            .any(|byte| is_spoken(char::from(byte)) || matches!(byte, b'&' | b'%' | b'+' | b'@'))
            && !word.contains(numbers::is_figure)
        {
            return Found::one(word, Vec::new(), "no letters", &[], Source::Rule);
        }
        if let Some(found) = self.song_word(word) {
            return found;
        }
        let is_fraction = word.contains(numbers::is_figure) && !word.contains('-');
        if depth < DEEPEST
            && word.trim_matches(PARTING).contains(PARTING)
            && !is_fraction
            && lists::fixed(word).is_none()
        {
            return self.hyphenated(word, depth);
        }
        if let Some(listed) = lists::fixed(word) {
            return several(word, &listed, "list", Source::Rule);
        }
        if depth < DEEPEST
            && let Some(found) = self.with_and(word, depth)
        {
            return found;
        }
        if word.contains(numbers::is_figure) {
            return self.figures(word, depth);
        }
        if let Some(sounds) = written::wordless(word) {
            return Found::one(word, sounds, "interjection", &[], Source::Rule);
        }
        let listed: Vec<Vec<Sound>> = self
            .listed(word)
            .map(|said| said.sounds().collect())
            .collect();
        if !listed.is_empty() {
            return several(word, &listed, "dictionary", Source::Dictionary);
        }
        if written::is_vowelless(word) && word.len() < 5 {
            return letters(word);
        }
        if let Some(found) = self.by_rule(word, depth) {
            return found;
        }
        if letters::is_unsayable(word) {
            return letters(word);
        }
        several(
            word,
            &estimate::readings(word, self.model),
            "estimate",
            Source::Estimate,
        )
    }

    /// Sounds of a word that a rule may build on; `None` if it is not listed.
    pub(super) fn known(&self, word: &str) -> Option<Vec<Sound>> {
        if let Some(found) = self.song_word(word) {
            return Some(found.into_sounds());
        }
        if let Some(listed) = lists::fixed(word) {
            return listed.into_iter().next();
        }
        let listed = self.listed(word);
        let first = listed.clone().next()?.sounds().collect();
        // A piece is sung as the word by itself would be: *fire-light*.
        Some(sung::usual(word, first, || {
            listed.map(|said| said.sounds().collect()).collect()
        }))
    }

    /// As [`Search::known`], or else whatever the other ways give.
    pub(super) fn sounds(&self, word: &str, depth: usize) -> Vec<Sound> {
        if depth >= DEEPEST {
            return estimate::sounds(word, self.model);
        }
        self.known(word)
            .unwrap_or_else(|| self.find_plain(word, depth + 1).into_sounds())
    }

    fn by_rule(&self, word: &str, depth: usize) -> Option<Found> {
        if depth >= DEEPEST {
            return None;
        }
        if let Some(elided) = written::spoken(word, self, depth) {
            return Some(Found {
                said: vec![Said::new(
                    word,
                    elided.sounds,
                    0,
                    elided.why,
                    &elided.bounds,
                )],
                from: if elided.sure {
                    Source::Rule
                } else {
                    Source::Estimate
                },
            });
        }
        if let Some(shorter) = written::unstretched(word, |word| self.known(word).is_some()) {
            let found = self.find_plain(&shorter, depth + 1);
            let from = found.from;
            return Some(Found::one(
                word,
                found.into_sounds(),
                "stretched",
                &[],
                from,
            ));
        }
        // All that follows builds on words of the dictionary.
        if !self.asks() {
            return None;
        }
        if let Some((sounds, why)) = respelled::find(word, self, depth) {
            return Some(several(word, &[sounds], why, Source::Rule));
        }
        let derived = affixes::derive(word, self, depth)?;
        let mut found = several(word, &[derived.sounds], derived.why, Source::Rule);
        for said in &mut found.said {
            let parts = parts::break_word(word, &said.sounds, &derived.bounds);
            (said.starts, said.guessed) = (parts.starts, parts.guessed);
        }
        Some(found)
    }

    fn song_word(&self, word: &str) -> Option<Found> {
        let said = self.song.get(word)?;
        // What the song says is read without the song's words, so that two entries cannot send each other in circles.
        let nothing = SongWords::default();
        let search = Search::new(&nothing);
        let plain = Spelling::new(said).plain;
        let hyphenless: String = plain.chars().filter(|letter| *letter != '-').collect();
        let found = search.find_plain(&plain, 0);
        let own = found.said.into_iter().next()?;
        let mut as_song = Said::new(word, own.sounds, 0, "the song's words", &[]);
        if hyphenless == word && plain.contains('-') {
            // The song's hyphens part the word's own letters.
            let hyphens_before = |start: usize| {
                plain
                    .bytes()
                    .take(start)
                    .filter(|byte| *byte == b'-')
                    .count()
            };
            as_song.starts = own
                .starts
                .iter()
                .map(|start| start - hyphens_before(*start))
                .collect();
            as_song.guessed = own.guessed;
        } else if hyphenless == word {
            (as_song.starts, as_song.guessed) = (own.starts, own.guessed);
        }
        Some(Found {
            said: vec![as_song],
            from: Source::Song,
        })
    }
}

/// The listed ways and what singers make of them.
fn several(word: &str, listed: &[Vec<Sound>], why: &'static str, from: Source) -> Found {
    // A written elision is sung as it stands.
    let locked = word.contains('\'') && !word.ends_with("'s") && !word.ends_with("s'");
    let ways = if locked {
        listed
            .iter()
            .take(1)
            .map(|sounds| sung::Way {
                sounds: sounds.clone(),
                cost: 0,
                why,
            })
            .collect()
    } else {
        sung::ways(word, listed, why)
    };
    let said = ways
        .into_iter()
        .map(|way| Said::new(word, way.sounds, way.cost, way.why, &[]))
        .collect();
    Found { said, from }
}

/// Signs of a word that are no letters: apostrophes, money, measures, fractions.
fn is_sign(sign: char) -> bool {
    matches!(sign, '\'' | '&' | '%' | '+' | '@' | '$') || !sign.is_ascii()
}

fn is_spoken(sign: char) -> bool {
    sign.is_ascii_alphanumeric() || matches!(sign, '#' | '?')
}

fn plain_is(word: &str, at: usize, letter: u8) -> bool {
    word.as_bytes().get(at) == Some(&letter)
}
