//! The kind of rhyme between two words, and how near it comes: 1 for a perfect one.

use super::ending::{Ending, Part, Stressed, Way};
use super::likeness::{KIN, MOST_BEHIND, between_codas, between_consonants, between_vowels};
use crate::words::phone::Phone;

/// A kind of rhyme, best first. *Family* and *added* are Zwicky's feature and subsequence rhymes (This Rock-and-Roll Has Got to
/// Stop, 1976).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Perfect, on one syllable: *sound, found*.
    Masculine,
    /// Perfect, on two: *water, daughter*.
    Feminine,
    /// Perfect, on three or more: *glorious, victorious*.
    Dactylic,
    /// Perfect, with the same consonants before: *leave, believe*.
    Rich,
    /// The same sounds throughout: *sea, see*.
    Identical,
    /// A last syllable that only the beat stresses: *me, courteously*.
    Light,
    /// The same vowels, consonants of one kin: *time, line*.
    Family,
    /// The same vowels, one side with a consonant more: *gold, road*.
    Added,
    /// The same vowels, other consonants: *green, leaves*.
    Assonance,
    /// The same consonants behind other vowels: *river, never*.
    Consonance,
    /// Alike by measure only: *dwelling, Allen*.
    Slant,
    /// None to the ear.
    None,
}

impl Kind {
    /// The kind's name in JSON and on the page; the three perfect ones share theirs.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Masculine | Self::Feminine | Self::Dactylic => "perfect",
            Self::Rich => "rich",
            Self::Light => "light",
            Self::Family => "family",
            Self::Added => "added",
            Self::Assonance => "assonance",
            Self::Consonance => "consonance",
            Self::Slant => "slant",
            Self::Identical => "identical",
            Self::None => "none",
        }
    }

    /// Whether the rhyme part sounds the same on both sides: identical, rich, perfect or light.
    #[must_use]
    pub const fn is_full(self) -> bool {
        matches!(
            self,
            Self::Identical
                | Self::Rich
                | Self::Masculine
                | Self::Feminine
                | Self::Dactylic
                | Self::Light
        )
    }
}

/// What two words have in common.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rhyme {
    /// The kind.
    pub kind: Kind,
    /// How near it comes, 0 to 1.
    pub score: f64,
    /// Whether older verse counts it as full although it is not to today's ear: *love, prove*; *eternity, die*.
    pub historic: bool,
}

impl Rhyme {
    pub(super) const NONE: Self = Self {
        kind: Kind::None,
        score: 0.0,
        historic: false,
    };

    /// Keeps the better of this and another.
    pub(super) fn take(&mut self, other: Self) {
        let historic = self.historic || other.historic;
        if other.is_better(self) {
            *self = other;
        }
        self.historic = historic;
    }

    /// Whether this one serves better than another: kind before score, the same sounds before all else; of two that are
    /// perfect, the longer one that is not rich.
    pub(super) fn is_better(&self, other: &Self) -> bool {
        let rank = |rhyme: &Self| match rhyme.kind {
            Kind::Identical => 0,
            Kind::Dactylic => 1,
            Kind::Feminine => 2,
            Kind::Masculine => 3,
            Kind::Rich => 4,
            _ => 5,
        };
        rank(self)
            .cmp(&rank(other))
            .then(other.score.total_cmp(&self.score))
            .then(self.kind.cmp(&other.kind))
            .is_lt()
    }
}

/// What a light rhyme counts of its score.
const PROMOTED: f64 = 0.75;
/// What syllables behind the stressed one count.
const BEHIND: f64 = 0.6;
/// The vowel's part in the score of a syllable; the rest is that of the consonants.
const VOWEL: f64 = 0.6;
/// From here on words are alike although no kind's name fits.
pub const SLANT: f64 = 0.6;

/// The best rhyme between two words: every way to say one against every way to say the other.
///
/// ```
/// use breathmark::words::{SongWords, read, rhyme::{ending::Ending, kind::{Kind, rhyme}}};
/// let of = |word: &str| Ending::of_word(&read(word, &SongWords::default()));
/// assert_eq!(rhyme(&of("night"), &of("ride")).kind, Kind::Family);
/// // What only looks alike is none.
/// assert_eq!(rhyme(&of("cough"), &of("though")).kind, Kind::None);
/// ```
#[must_use]
pub fn rhyme(one: &Ending, other: &Ending) -> Rhyme {
    let mut best = Rhyme::NONE;
    for a in &one.ways {
        for b in &other.ways {
            best.take(of_ways(a, b));
        }
    }
    best
}

/// Whether two words sound the same throughout; stress does not matter.
fn are_same(one: &Way, other: &Way) -> bool {
    let phones = |way: &Way| way.sounds.len();
    phones(one) == phones(other)
        && one
            .sounds
            .iter()
            .zip(&other.sounds)
            .all(|(a, b)| a.phone == b.phone)
}

/// The best rhyme between two ways to say words.
pub(super) fn of_ways(one: &Way, other: &Way) -> Rhyme {
    if are_same(one, other) {
        return Rhyme {
            kind: Kind::Identical,
            score: 1.0,
            historic: false,
        };
    }
    let mut best = Rhyme::NONE;
    for a in one.parts() {
        for b in other.parts() {
            best.take(of_parts(a, b));
        }
    }
    best.historic |= is_wrenched(one, other) || is_wrenched(other, one);
    best
}

/// The best full rhyme between two ways to say words; nothing near.
pub(super) fn full_of_ways(one: &Way, other: &Way) -> Rhyme {
    let mut best = Rhyme::NONE;
    for a in one.parts() {
        for b in other.parts() {
            if let Some(found) = full(a, b) {
                best.take(found);
            }
        }
    }
    if best.kind == Kind::Rich && are_same(one, other) {
        best.kind = Kind::Identical;
    }
    best
}

fn of_parts(one: Part<'_>, other: Part<'_>) -> Rhyme {
    if let Some(found) = full(one, other) {
        return found;
    }
    let same_length = one.beats().count() == other.beats().count();
    let promoted = is_promoted(one, other);
    if promoted && !same_length {
        return Rhyme::NONE;
    }
    let score = score(one, other);
    if promoted {
        return Rhyme {
            kind: Kind::None,
            score: score * PROMOTED,
            historic: is_old_y(one, other) || is_old_weak(one, other),
        };
    }
    Rhyme {
        kind: near_kind(one, other, same_length, score),
        score,
        historic: same_length && is_historic(one, other),
    }
}

fn is_promoted(one: Part<'_>, other: Part<'_>) -> bool {
    one.stress == Stressed::Promoted || other.stress == Stressed::Promoted
}

/// The rhyme of two parts that sound the same; `None` where they do not.
fn full(one: Part<'_>, other: Part<'_>) -> Option<Rhyme> {
    let promoted = is_promoted(one, other);
    let same = one.behind == other.behind
        && (one.first == other.first || (promoted && same_promoted(one, other)));
    let kind = match one.beats().count() {
        _ if !same => return None,
        _ if promoted => Kind::Light,
        _ if one.onset == other.onset => Kind::Rich,
        1 => Kind::Masculine,
        2 => Kind::Feminine,
        _ => Kind::Dactylic,
    };
    Some(Rhyme {
        kind,
        score: if promoted { PROMOTED } else { 1.0 },
        historic: false,
    })
}

/// A promoted vowel is weak on its own side only: *tenderness* and *bless*, *ferryman* and *ran*.
fn same_promoted(one: Part<'_>, other: Part<'_>) -> bool {
    let weak = |vowel: Phone| match vowel {
        Phone::IH | Phone::EH | Phone::AE => Phone::AH,
        vowel => vowel,
    };
    // Before other sounds (*average, terrible*) a weak vowel stays weak however it is sung.
    let opens = matches!(one.behind.first(), Some(Phone::S | Phone::N));
    opens && weak(one.first) == weak(other.first)
}

/// The weighted likeness of the syllables; one that the other side lacks counts as nothing in common.
fn score(one: Part<'_>, other: Part<'_>) -> f64 {
    let (mut sum, mut weights) = (0.0, 0.0);
    let (mut beats, mut others) = (one.beats(), other.beats());
    loop {
        let first = weights == 0.0;
        let weight = if first { 1.0 } else { BEHIND };
        match (beats.next(), others.next()) {
            (None, None) => return sum / weights,
            (Some(a), Some(b)) => {
                sum += weight * likeness(a, b, if first { 1.0 } else { MOST_BEHIND });
            }
            _ => {}
        }
        weights += weight;
    }
}

/// The likeness of two syllables whose vowels count as at most so far apart.
fn likeness(one: (Phone, &[Phone]), other: (Phone, &[Phone]), most: f64) -> f64 {
    let vowel = between_vowels(one.0, other.0).min(most);
    VOWEL * (1.0 - vowel) + (1.0 - VOWEL) * (1.0 - between_codas(one.1, other.1))
}

fn near_kind(one: Part<'_>, other: Part<'_>, same_length: bool, score: f64) -> Kind {
    let pairs = || one.beats().zip(other.beats());
    if same_length && pairs().all(|(a, b)| a.0 == b.0) {
        let more: usize = pairs().map(|(a, b)| a.1.len().abs_diff(b.1.len())).sum();
        let kin = more < 2 && pairs().all(|(a, b)| are_kin(a.1, b.1));
        return match more {
            0 if kin => Kind::Family,
            1 if kin => Kind::Added,
            _ => Kind::Assonance,
        };
    }
    let consonants = pairs().any(|(a, _)| !a.1.is_empty());
    if same_length && consonants && pairs().all(|(a, b)| a.1 == b.1) {
        return Kind::Consonance;
    }
    // The stressed syllable must be alike by itself; open syllables of other vowels (*day, see*) have nothing in common.
    let audible = pairs().next().is_some_and(|(a, b)| {
        let kin = |one: &Phone| {
            b.1.iter()
                .any(|other| between_consonants(*one, *other) <= KIN)
        };
        likeness(a, b, 1.0) >= SLANT && (a.0 == b.0 || a.1.iter().any(kin))
    });
    if score >= SLANT && audible {
        Kind::Slant
    } else {
        Kind::None
    }
}

/// Whether each consonant has one of its kin on the other side, in order, but for one more on the longer side.
fn are_kin(one: &[Phone], other: &[Phone]) -> bool {
    let (short, long) = if one.len() <= other.len() {
        (one, other)
    } else {
        (other, one)
    };
    let kin = |a: &[Phone], b: &[Phone]| {
        a.iter()
            .zip(b)
            .all(|(a, b)| between_consonants(*a, *b) <= KIN)
    };
    match long.len() - short.len() {
        0 => kin(short, long),
        1 => (0..long.len()).any(|left_out| {
            let (head, tail) = long.split_at(left_out);
            let (first, second) = short.split_at(left_out);
            kin(first, head) && kin(second, tail.get(1..).unwrap_or_default())
        }),
        _ => false,
    }
}

/// Vowels that rhymed before they parted, or are rhymed by custom: *love, move*; *come, home*; *wind, kind*; *bear, ear*; *brow, show*.
/// Common practice, no source; the pairs are those of hymns and ballads.
fn is_historic(one: Part<'_>, other: Part<'_>) -> bool {
    use Phone::{AA, AE, AH, AO, AW, AY, EH, ER, EY, IH, IY, OW, OY, UH, UW};
    if let (Some(a), Some(b)) = (behind_r(one), behind_r(other)) {
        let open = |one, other| matches!((one, other), (AA, AO) | (EH, IH | ER));
        let vowels = open(one.first, other.first) || open(other.first, one.first);
        return a == b && (!a.is_empty() || vowels);
    }
    let parted = |one, other| {
        matches!(
            (one, other),
            (AH, UW | OW | AO | UH | AA | AW)
                | (UW, AW | OW | UH)
                | (OW, AO | AA | AW)
                | (AY, IH | OY)
                | (EY, IY | EH | AE)
                | (IY, EH | IH)
                | (AE, AA | AO)
        )
    };
    let closed = one.behind.first().is_some_and(|phone| !phone.is_vowel());
    let vowels = (one.first, other.first);
    let open = one.behind.is_empty() && matches!(vowels, (OW, AW) | (AW, OW));
    let same = one.behind == other.behind;
    same && (open || (closed && (parted(vowels.0, vowels.1) || parted(vowels.1, vowels.0))))
}

/// What stands behind a vowel coloured by r.
fn behind_r(part: Part<'_>) -> Option<&[Phone]> {
    match (part.first, part.behind.split_first()) {
        (Phone::ER, _) => Some(part.behind),
        (Phone::AY | Phone::AW, _) => None,
        (_, Some((Phone::R, rest))) => Some(rest),
        _ => None,
    }
}

/// An accent moved for the rhyme as ballads do: a weak last syllable against the same one under stress (*morning, sing*; *also, go*).
fn is_wrenched(weak: &Way, full: &Way) -> bool {
    let Some((vowel, behind)) = weak.weak_end() else {
        return false;
    };
    // Every other line could end so on -y, -er or -a.
    let common = behind.is_empty() && matches!(vowel, Phone::IY | Phone::ER | Phone::AH);
    let same = |part: Part<'_>| {
        part.stress == Stressed::Fully && part.first == vowel && part.behind == behind
    };
    !common && full.parts().any(same)
}

/// The ending -y against *die* and *sky*.
fn is_old_y(one: Part<'_>, other: Part<'_>) -> bool {
    one.behind.is_empty()
        && other.behind.is_empty()
        && matches!(
            (one.first, other.first),
            (Phone::IY, Phone::AY) | (Phone::AY, Phone::IY)
        )
}

/// A weak last vowel against the full one that it is written like: *festival, all*; *desolate, gate*; *illimited, overhead*.
fn is_old_weak(one: Part<'_>, other: Part<'_>) -> bool {
    use Phone::{AA, AE, AH, AO, EH, EY, IH, UH};
    let weak = |part: Part<'_>| {
        part.stress == Stressed::Promoted && matches!(part.first, AH | IH | EH | AE)
    };
    let full = |part: Part<'_>| {
        part.stress == Stressed::Fully && matches!(part.first, AA | AE | AO | EH | EY | IH | UH)
    };
    !one.behind.is_empty()
        && one.behind == other.behind
        && ((weak(one) && full(other)) || (weak(other) && full(one)))
}
