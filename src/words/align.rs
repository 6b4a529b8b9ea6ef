//! Which letters of a word stand for which of its sounds: the cheapest path through letters and sounds.
//!
//! The costs are our choice, in thousandths. A group of letters costs the same however long it is, so that *igh* beats
//! three single letters; rarer spellings of a sound cost more; silent letters cost most.

use super::phone::{Phone, Sound};
use Phone::*;

/// The letters of one sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(super) struct Group {
    /// First letter.
    pub(super) start: usize,
    /// Behind the last letter. Silent letters stand between this and the next group's start.
    pub(super) end: usize,
    /// Whether the sound before is spelled by the same letters (x for K S).
    pub(super) shares: bool,
}

/// Longer words are not aligned; none that is sung is as long.
const LONGEST: usize = 40;
const GROUP: u32 = 300;
/// Added for the rank of a spelling among those of its sound: 100 times its square root.
const RANKS: [u32; 16] = [
    0, 100, 141, 173, 200, 224, 245, 265, 283, 300, 316, 332, 346, 361, 374, 387,
];
const TWO_SOUNDS: u32 = 900;
const SILENT_E: u32 = 700;
const SILENT_LIKELY: u32 = 1300;
const SILENT: u32 = 1900;
const NO_LETTER: u32 = 2500;
/// Ways that cost so much more than another to the same letter are not followed.
const FAR: u32 = 3000;

/// Letters as a number that can be compared at once.
#[derive(Clone, Copy)]
struct Spelling {
    letters: u32,
    mask: u32,
    length: usize,
}

impl Spelling {
    /// Of one to four letters.
    const fn new(text: &str) -> Self {
        let bytes = text.as_bytes();
        let (mut letters, mut mask, mut at) = (0, 0, 0);
        while at < bytes.len() {
            letters |= (bytes[at] as u32) << (8 * at);
            mask |= 0xff << (8 * at);
            at += 1;
        }
        Self {
            letters,
            mask,
            length: bytes.len(),
        }
    }

    /// Whether the next four letters begin with it.
    fn begins(self, next: u32) -> bool {
        next & self.mask == self.letters
    }
}

macro_rules! spelled {
    ($($text:literal),*) => {
        const { &[$(Spelling::new($text)),*] }
    };
}

/// Spellings of each sound, the commonest first, at most 16. Our table, for the spelling of English.
#[rustfmt::skip]
const fn spellings(phone: Phone) -> &'static [Spelling] {
    match phone {
        AA => spelled!["o", "a", "ah", "ea", "e", "au", "ho", "aa"],
        AE => spelled!["a", "ai", "au", "i", "ea"],
        AH => spelled!["a", "e", "o", "u", "i", "ou", "oo", "y", "ai", "ei", "eo", "oe", "ea", "ia", "au", "ah"],
        AO => spelled!["o", "a", "au", "aw", "ou", "oa", "augh", "ough", "oo", "eo", "ho"],
        AW => spelled!["ou", "ow", "ough", "au", "hou", "ao"],
        AY => spelled!["i", "y", "igh", "ie", "ye", "uy", "ey", "eigh", "ei", "ai", "eye", "ay", "ia"],
        EH => spelled!["e", "ea", "a", "ai", "ie", "ay", "ei", "eo", "u", "ae", "he"],
        ER => spelled!["er", "or", "ar", "ur", "ir", "ear", "our", "re", "ure", "ro", "err", "irr", "urr", "eur", "yr", "her"],
        EY => spelled!["a", "ai", "ay", "ei", "ey", "ea", "eigh", "e", "aigh", "et", "ae", "ee", "au"],
        IH => spelled!["i", "e", "y", "a", "u", "ui", "ea", "ee", "ie", "ai", "ei", "o", "ia", "hi"],
        IY => spelled!["y", "e", "ee", "ea", "i", "ie", "ey", "ei", "eo", "ay", "ae", "oe", "eigh", "is"],
        OW => spelled!["o", "ow", "oa", "oe", "ou", "ough", "eau", "ew", "au", "oh", "ot", "oo"],
        OY => spelled!["oi", "oy", "uoy", "eu"],
        UH => spelled!["oo", "u", "ou", "o", "oul"],
        UW => spelled!["oo", "u", "ew", "ue", "ou", "o", "ui", "oe", "wo", "ough", "eu", "ieu", "ooh", "w"],
        P => spelled!["p", "pp", "ph"],
        B => spelled!["b", "bb", "pb", "bu"],
        T => spelled!["t", "tt", "ed", "ght", "th", "bt", "pt", "ct", "cht", "d"],
        D => spelled!["d", "dd", "ed", "ld", "dh"],
        K => spelled!["c", "k", "ck", "ch", "cc", "q", "qu", "cq", "cqu", "kk", "kh", "lk", "x", "g"],
        G => spelled!["g", "gg", "gh", "gu"],
        CH => spelled!["ch", "tch", "t", "c", "ti", "cc", "tsch"],
        JH => spelled!["g", "j", "dg", "dge", "d", "gg", "dj", "gi", "ge", "di"],
        F => spelled!["f", "ff", "ph", "gh", "lf"],
        V => spelled!["v", "f", "vv", "w", "ph"],
        TH => spelled!["th", "t"],
        DH => spelled!["th"],
        S => spelled!["s", "ss", "c", "sc", "st", "ps", "z", "sw", "sch", "ts", "cs"],
        Z => spelled!["s", "z", "zz", "x", "ss", "cz", "ts"],
        SH => spelled!["sh", "ti", "ch", "ci", "ssi", "si", "s", "ss", "c", "t", "sch", "sci", "ce", "xi", "chs", "sc"],
        ZH => spelled!["si", "s", "g", "z", "zi", "j", "ti"],
        HH => spelled!["h", "wh", "j"],
        M => spelled!["m", "mm", "mb", "mn", "lm", "gm", "nm"],
        N => spelled!["n", "nn", "kn", "gn", "mn", "pn", "nd"],
        NG => spelled!["ng", "n", "ngue"],
        L => spelled!["l", "ll", "sl"],
        R => spelled!["r", "rr", "wr", "rh", "rrh"],
        W => spelled!["w", "wh", "u", "o"],
        Y => spelled!["y", "i", "u", "j", "e", "ll"],
    }
}

/// For each sound and each first letter, a to z, which of its spellings begin with it: one bit each.
const BEGINNING: [[u16; 26]; Phone::COUNT] = {
    let mut table = [[0; 26]; Phone::COUNT];
    let mut phone = 0;
    while phone < Phone::COUNT {
        let rows = spellings(Phone::at(phone));
        let mut rank = 0;
        while rank < rows.len() {
            let [letter, ..] = rows[rank].letters.to_le_bytes();
            table[phone][(letter - b'a') as usize] |= 1 << rank;
            rank += 1;
        }
        phone += 1;
    }
    table
};

/// Letters that stand for a sound and a second one.
#[rustfmt::skip]
fn doubles(phone: Phone) -> &'static [(Phone, Spelling)] {
    match phone {
        K => const { &[(S, Spelling::new("x")), (S, Spelling::new("xc")), (S, Spelling::new("cs")), (SH, Spelling::new("x")), (SH, Spelling::new("xi"))] },
        G => const { &[(Z, Spelling::new("x"))] },
        T => const { &[(S, Spelling::new("z")), (S, Spelling::new("zz"))] },
        Y => const { &[
            (UW, Spelling::new("u")), (UW, Spelling::new("ew")), (UW, Spelling::new("eau")), (UW, Spelling::new("ue")), (UW, Spelling::new("eu")), (UW, Spelling::new("ui")), (UW, Spelling::new("iew")), (UW, Spelling::new("ieu")), (AH, Spelling::new("u")), (UH, Spelling::new("u")),
            (ER, Spelling::new("ur")), (ER, Spelling::new("ure")), (IH, Spelling::new("u")),
        ] },
        W => const { &[(AH, Spelling::new("o")), (AA, Spelling::new("oi")), (AY, Spelling::new("oi"))] },
        AH => const { &[(L, Spelling::new("le")), (L, Spelling::new("l")), (M, Spelling::new("m")), (N, Spelling::new("n"))] },
        AY => const { &[(ER, Spelling::new("ire")), (ER, Spelling::new("yre")), (ER, Spelling::new("ir")), (ER, Spelling::new("yr"))] },
        AW => const { &[(ER, Spelling::new("our")), (ER, Spelling::new("ower")), (ER, Spelling::new("oar"))] },
        ER => const { &[(R, Spelling::new("err"))] },
        _ => &[],
    }
}

/// Silent letters and a step without one, in the low byte of a cell: letters taken, and 16 times the sounds taken.
struct Grid {
    cells: Vec<u32>,
    width: usize,
}

impl Grid {
    fn cost(&self, letters: usize, sounds: usize) -> Option<u32> {
        let cell = *self.cells.get(letters * self.width + sounds)?;
        (cell != u32::MAX).then_some(cell >> 8)
    }

    fn offer(&mut self, letters: usize, sounds: usize, cost: u32, step: u32) {
        if let Some(cell) = self.cells.get_mut(letters * self.width + sounds) {
            *cell = (*cell).min(cost << 8 | step);
        }
    }
}

/// The letters of each sound, or `None` where the word is too long or nothing agrees; the second is whether the letters
/// can hardly be read as these sounds.
pub(super) fn align(letters: &[u8], sounds: &[Sound]) -> Option<(Vec<Group>, bool)> {
    if letters.is_empty() || sounds.is_empty() || letters.len() > LONGEST || sounds.len() > LONGEST
    {
        return None;
    }
    let width = sounds.len() + 1;
    let mut grid = Grid {
        cells: vec![u32::MAX; (letters.len() + 1) * width],
        width,
    };
    grid.offer(0, 0, 0, 0);
    let limit = u32::try_from(700 * sounds.len() + 2000).unwrap_or(u32::MAX);
    // What the sounds that are still to come cost at least.
    let ahead = |spoken: usize| GROUP * u32::try_from(sounds.len() - spoken).unwrap_or(0);
    for at in 0..=letters.len() {
        let here = Here::new(letters, at);
        let row = (0..=sounds.len())
            .filter_map(|spoken| Some(grid.cost(at, spoken)? + ahead(spoken)))
            .min();
        for spoken in 0..=sounds.len() {
            if let Some(cost) = grid.cost(at, spoken)
                && row.is_none_or(|best| cost + ahead(spoken) <= best + FAR)
            {
                here.take_steps(&mut grid, sounds, spoken, cost);
            }
        }
    }
    let total = grid.cost(letters.len(), sounds.len())?;
    let groups = trace(&grid, letters.len(), sounds.len());
    Some((groups, total > limit))
}

/// A place between the letters of a word.
struct Here {
    at: usize,
    letter: Option<u8>,
    /// The four letters from here on, noughts where the word ends.
    next: u32,
}

impl Here {
    fn new(letters: &[u8], at: usize) -> Self {
        let letter = |back: usize| letters.get(at + back).copied().unwrap_or(0);
        Self {
            at,
            letter: letters.get(at).copied(),
            next: u32::from_le_bytes([letter(0), letter(1), letter(2), letter(3)]),
        }
    }

    /// Offers every way on from here, behind so many sounds.
    fn take_steps(&self, grid: &mut Grid, sounds: &[Sound], spoken: usize, cost: u32) {
        let Self { at, letter, next } = *self;
        if let Some(letter) = letter {
            grid.offer(at + 1, spoken, cost + silent(letter), 1);
        }
        let Some(sound) = sounds.get(spoken) else {
            return;
        };
        let rows = spellings(sound.phone);
        let mut ranks = beginning(sound.phone, letter);
        while ranks != 0 {
            let rank = ranks.trailing_zeros() as usize;
            ranks &= ranks - 1;
            if let (Some(spelling), Some(added)) = (rows.get(rank), RANKS.get(rank))
                && spelling.begins(next)
            {
                grid.offer(
                    at + spelling.length,
                    spoken + 1,
                    cost + GROUP + added,
                    step(spelling.length, 1),
                );
            }
        }
        grid.offer(at, spoken + 1, cost + NO_LETTER, step(0, 1));
        let Some(second) = sounds.get(spoken + 1) else {
            return;
        };
        for (phone, spelling) in doubles(sound.phone) {
            if *phone == second.phone && spelling.begins(next) {
                grid.offer(
                    at + spelling.length,
                    spoken + 2,
                    cost + TWO_SOUNDS,
                    step(spelling.length, 2),
                );
            }
        }
    }
}

/// The spellings of a sound that begin with a letter.
fn beginning(phone: Phone, letter: Option<u8>) -> u16 {
    let column = letter.map_or(usize::MAX, |letter| usize::from(letter.wrapping_sub(b'a')));
    let row = BEGINNING.get(phone as usize);
    row.and_then(|row| row.get(column)).copied().unwrap_or(0)
}

fn step(letters: usize, sounds: u32) -> u32 {
    u32::try_from(letters).unwrap_or(0) + 16 * sounds
}

fn silent(letter: u8) -> u32 {
    match letter {
        b'e' => SILENT_E,
        b'\'' | b'h' | b'g' | b'u' | b'w' => SILENT_LIKELY,
        _ => SILENT,
    }
}

fn trace(grid: &Grid, letters: usize, sounds: usize) -> Vec<Group> {
    let mut groups = vec![Group::default(); sounds];
    let (mut at, mut spoken) = (letters, sounds);
    while at > 0 || spoken > 0 {
        let cell = grid
            .cells
            .get(at * grid.width + spoken)
            .copied()
            .unwrap_or(0);
        let taken = usize::try_from(cell & 15).unwrap_or(0);
        let said = usize::try_from((cell & 255) / 16).unwrap_or(0);
        if taken == 0 && said == 0 {
            break;
        }
        let start = at.saturating_sub(taken);
        for back in 0..said {
            if let Some(group) = spoken
                .checked_sub(back + 1)
                .and_then(|index| groups.get_mut(index))
            {
                *group = Group {
                    start,
                    end: at,
                    shares: said == 2 && back == 0,
                };
            }
        }
        at = start;
        spoken = spoken.saturating_sub(said);
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(word: &str, sounds: &str, expected: &str) {
        let sounds = Sound::parse_all(sounds).unwrap_or_default();
        let groups = align(word.as_bytes(), &sounds)
            .map(|found| found.0)
            .unwrap_or_default();
        let texts: Vec<&str> = groups
            .iter()
            .filter_map(|group| word.get(group.start..group.end))
            .collect();
        assert_eq!(texts.join(" "), expected, "{word}");
    }

    #[test]
    fn letters_find_their_sounds() {
        check("night", "N AY1 T", "n igh t");
        check("water", "W AO1 T ER0", "w a t er");
        check("nation", "N EY1 SH AH0 N", "n a ti o n");
        check("table", "T EY1 B AH0 L", "t a b le le");
        check("evening", "IY1 V N IH0 NG", "e v n i ng");
        check("box", "B AA1 K S", "b o x x");
        check("castle", "K AE1 S AH0 L", "c a st le le");
        check("of", "AH1 V", "o f");
        check("heav'n", "HH EH1 V N", "h ea v n");
    }

    #[test]
    fn what_does_not_agree_is_told() {
        assert!(
            align(b"qqq", &Sound::parse_all("M AH0").unwrap_or_default())
                .is_none_or(|found| found.1)
        );
        assert_eq!(
            align(&[b'a'; 41], &Sound::parse_all("M AH0").unwrap_or_default()),
            None
        );
        assert_eq!(align(b"", &[]), None);
    }
}
