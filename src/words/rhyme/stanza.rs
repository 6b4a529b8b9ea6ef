//! The form of a stanza: which of its lines are to rhyme, weighed from how they sound and from the forms that verse has.
//!
//! The weights are natural logarithms of how much oftener a pair of line ends is found among lines that rhyme than among lines of the
//! same stanza that do not, rounded: counted on 653 stanzas of Kipling, Chesterton, Housman, Coleridge and others, 988 pairs that rhyme
//! and 2,930 that do not. How often each form occurs is our choice, guided by the same stanzas.

use super::kind::{Kind, Rhyme};

/// A stanza is looked at in so many lines where a section's lines are a multiple of them.
pub(super) const QUATRAIN: usize = 4;

/// So many other stanzas at least have to agree in a form before one that sounds otherwise is taken to keep it. Our choice.
const AGREE: usize = 2;
/// So many before what rhymes beside the form is taken for chance. Our choice.
const AGREE_ON_CHANCE: usize = 3;
/// Of fewer others none may stray from the form then; of more, one and one in so many. Two in a hundred stanzas of abcb do by chance.
const FEW: usize = 10;
const STRAYS: usize = 25;
/// What the form asks for is heard from this weight on. Our choice.
const HEARD: f64 = -1.5;

/// How much a whole line sung again speaks for belonging together. Our choice.
const REFRAIN: f64 = 6.0;

/// A number a line, the same for lines that rhyme, in order of appearance: 0 1 2 1 for abcb.
pub(super) type Form = Vec<usize>;

/// The forms of four lines, and how often they occur.
const FORMS: [([usize; QUATRAIN], f64); 15] = [
    ([0, 1, 2, 1], 0.35),
    ([0, 1, 0, 1], 0.40),
    ([0, 0, 1, 1], 0.20),
    ([0, 1, 1, 0], 0.04),
    ([0, 0, 1, 0], 0.015),
    ([0, 0, 0, 0], 0.01),
    ([0, 0, 0, 1], 0.006),
    ([0, 1, 1, 1], 0.002),
    ([0, 1, 0, 0], 0.002),
    ([0, 0, 1, 2], 0.002),
    ([0, 1, 2, 2], 0.002),
    ([0, 1, 0, 2], 0.001),
    ([0, 1, 1, 2], 0.002),
    ([0, 1, 2, 0], 0.002),
    ([0, 1, 2, 3], 0.002),
];

/// What two line ends have in common, as far as it tells whether they are meant to rhyme.
#[derive(Clone, Copy, Debug)]
pub(super) enum Heard {
    /// The whole line is sung again.
    Refrain,
    /// The same word ends both.
    SameWord {
        /// Whether it is a light one, that has the word before it to rhyme.
        light: bool,
    },
    /// Different words.
    Words(Rhyme),
}

impl Heard {
    /// How much it speaks for a rhyme; `None` where the two have nothing in common.
    fn weight(self) -> Option<f64> {
        let rhyme = match self {
            Self::Refrain => return Some(REFRAIN),
            Self::SameWord { light: true } => return Some(2.5),
            // Ballads come back to a word in lines that need not rhyme.
            Self::SameWord { light: false } => return Some(-0.5),
            Self::Words(rhyme) => rhyme,
        };
        let score = rhyme.score;
        Some(match rhyme.kind {
            Kind::Light => 3.0,
            kind if kind.is_full() => 5.0,
            Kind::Consonance if score >= 0.84 => 3.0,
            kind if rhyme.historic && kind != Kind::None => 2.5,
            _ if rhyme.historic => 1.5,
            Kind::Family => 1.4,
            Kind::Added if score >= 0.86 => -0.9,
            Kind::Consonance | Kind::Slant if score >= 0.7 => -1.3,
            Kind::Consonance => -1.3,
            Kind::Added => -2.2,
            Kind::Slant => -2.8,
            Kind::Assonance => -3.6,
            _ => return None,
        })
    }
}

/// The likeliest form of four lines.
pub(super) fn of_quatrain(heard: impl Fn(usize, usize) -> Heard) -> Form {
    let weighed = FORMS.iter().filter_map(|(form, often)| {
        let groups = (0..QUATRAIN).map(|group| weight(form, group, &heard));
        Some((form, often.ln() + groups.sum::<Option<f64>>()?))
    });
    let best = weighed.max_by(|a, b| a.1.total_cmp(&b.1));
    best.map_or_else(|| (0..QUATRAIN).collect(), |(form, _)| form.to_vec())
}

/// How much the lines with this number speak for rhyming with each other: what the pair that is least alike says, for each line
/// after the first. Lines sung again count as one, and speak for themselves.
fn weight(form: &[usize], group: usize, heard: &impl Fn(usize, usize) -> Heard) -> Option<f64> {
    let mut least = f64::INFINITY;
    let mut again = [false; QUATRAIN];
    for (one, other) in pairs_of(form).filter(|(one, _)| form.get(*one) == Some(&group)) {
        match heard(one, other) {
            Heard::Refrain => again
                .iter_mut()
                .skip(other)
                .take(1)
                .for_each(|line| *line = true),
            heard => least = least.min(heard.weight()?),
        }
    }
    let lines = form.iter().zip(again).filter(|(own, _)| **own == group);
    let mut sum = 0.0;
    for (_, again) in lines.skip(1) {
        sum += if again { REFRAIN } else { least };
    }
    Some(sum)
}

/// The pairs of lines that a form asks to rhyme.
pub(super) fn pairs_of(form: &[usize]) -> impl Iterator<Item = (usize, usize)> {
    let lines = form.iter().enumerate();
    lines.flat_map(move |(one, own)| {
        let later = form.iter().enumerate().skip(one + 1);
        later
            .filter(move |(_, other)| *other == own)
            .map(move |(other, _)| (one, other))
    })
}

/// Numbers in order of appearance for any letters.
pub(super) fn form_of(letters: impl Iterator<Item = usize>) -> Form {
    let mut seen: Vec<usize> = Vec::new();
    letters
        .map(|letter| {
            let known = seen.iter().position(|known| *known == letter);
            known.unwrap_or_else(|| {
                seen.push(letter);
                seen.len() - 1
            })
        })
        .collect()
}

/// The form that most stanzas have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Habit {
    form: Form,
    /// How many have it.
    agree: usize,
    /// Of how many.
    stanzas: usize,
}

impl Habit {
    pub(super) fn of(forms: impl Iterator<Item = Form>) -> Option<Self> {
        let mut counted: Vec<(Form, usize)> = Vec::new();
        for form in forms {
            match counted.iter_mut().find(|(known, _)| *known == form) {
                Some((_, count)) => *count += 1,
                None => counted.push((form, 1)),
            }
        }
        let stanzas = counted.iter().map(|(_, count)| count).sum();
        let (form, agree) = counted.into_iter().max_by_key(|(_, count)| *count)?;
        Some(Self {
            form,
            agree,
            stanzas,
        })
    }

    pub(super) fn is_form(&self, form: &Form) -> bool {
        self.form == *form
    }

    /// The form that a stanza keeps although it sounds otherwise: most of the others have it, and it can be heard.
    pub(super) fn kept(&self, own: &Form, heard: impl Fn(usize, usize) -> Heard) -> Option<&Form> {
        let others = self.stanzas - 1;
        let usual = self.agree >= AGREE && self.agree * 2 > others;
        let strays = others.saturating_sub(self.agree);
        let few = others >= FEW && strays <= 1 + others / STRAYS;
        let always = self.agree >= AGREE_ON_CHANCE && (strays == 0 || few);
        let asked = |one: usize, other: usize| self.form.get(one) == self.form.get(other);
        let keeps = self.form != *own
            && self.form.len() == own.len()
            && usual
            && (always || pairs_of(own).all(|(one, other)| asked(one, other)))
            && pairs_of(&self.form).all(|(one, other)| heard(one, other).weight() >= Some(HEARD));
        keeps.then_some(&self.form)
    }
}
