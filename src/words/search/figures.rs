//! Words with figures.

use super::super::spelling::Spelling;
use super::super::{Source, lists, numbers, sung, written};
use super::letters::letters;
use super::{DEEPEST, Found, Said, Search, is_spoken};

impl Search<'_> {
    pub(super) fn figures(&self, word: &str, depth: usize) -> Found {
        if let Some(wordings) = numbers::wordings(word) {
            let said = wordings.iter().enumerate().map(|(rank, words)| {
                self.spoken_words(word, words, if rank == 0 { 0 } else { sung::LISTED })
            });
            let mut different: Vec<Said> = Vec::new();
            for said in said {
                if different.iter().all(|other| other.sounds != said.sounds) {
                    different.push(said);
                }
            }
            return Found {
                said: different,
                from: Source::Rule,
            };
        }
        // Letters and figures mixed: each run by itself.
        let mut found = Said {
            sounds: Vec::new(),
            cost: 0,
            why: "figures",
            starts: Vec::new(),
            guessed: false,
            spoken: Vec::new(),
        };
        let mut rest = word;
        let mut at = 0;
        while let Some(first) = rest.chars().next() {
            let digit = numbers::is_figure(first);
            let end = rest
                .find(|sign: char| numbers::is_figure(sign) != digit)
                .unwrap_or(rest.len());
            let (run, behind) = rest.split_at_checked(end).unwrap_or((rest, ""));
            let run_found = if digit {
                let wordings = numbers::wordings(run).unwrap_or_default();
                Some(self.spoken_words(run, wordings.first().map_or(&[], Vec::as_slice), 0))
            } else if run.bytes().any(|byte| is_spoken(char::from(byte))) {
                let run_found = if run.len() == 1
                    || written::is_vowelless(run)
                    || (run.len() == 2 && at == 0)
                {
                    letters(run)
                } else {
                    self.find_plain(run, depth + 1)
                };
                run_found.said.into_iter().next()
            } else {
                None
            };
            if let Some(said) = run_found {
                found.starts.extend(
                    said.starts
                        .into_iter()
                        .map(|start| (start + at).min(word.len())),
                );
                found.sounds.extend(said.sounds);
            }
            at += end;
            rest = behind;
        }
        if let Some(first) = found.starts.first_mut() {
            *first = 0;
        }
        Found {
            said: vec![found],
            from: Source::Rule,
        }
    }

    pub(super) fn spelled_figures(&self, digits: &str) -> Found {
        let words: Vec<&str> = digits
            .split("")
            .filter(|digit| !digit.is_empty())
            .map(lists::digit)
            .collect();
        Found {
            said: vec![self.spoken_words(digits, &words, 0)],
            from: Source::Rule,
        }
    }

    /// Figures said as these words, one sign to each syllable as far as they go.
    pub(in super::super) fn spoken_words(&self, figures: &str, words: &[&str], cost: u32) -> Said {
        let search = Search::new(self.song);
        let (mut sounds, mut spoken) = (Vec::new(), Vec::new());
        for word in words {
            let found = search.find_plain(word, DEEPEST - 1);
            let Some(said) = found.said.into_iter().next() else {
                continue;
            };
            let spelling = Spelling::new(word);
            spoken.extend(
                spelling
                    .parts(&said.starts)
                    .into_iter()
                    .map(|part| part.1.to_string()),
            );
            sounds.extend(said.sounds);
        }
        let starts = (0..spoken.len())
            .map(|part| part.min(figures.len()))
            .collect();
        Said {
            sounds,
            cost,
            why: "figures",
            starts,
            guessed: false,
            spoken,
        }
    }
}
