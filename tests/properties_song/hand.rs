//! Song files as people write them: by hand, in every style YAML has, with comments and keys of their own.

use crate::tape::Tape;

/// Texts that are awkward as YAML, as rows of graphemes, or both.
pub(crate) const TEXTS: &[&str] = &[
    "She rang the bell",
    "",
    "no",
    "12",
    "a: b",
    "'Twas night",
    "\"Come in,\" said she",
    "  lead",
    "trail ",
    "é♭ 👩\u{200d}👧 x",
    "the sky # grey",
    "- dash",
    "tab\there",
    "one\ntwo",
    "\u{1b}[31mred",
    "*star*",
    "&and",
    "%",
    "| Em |",
    "{brace",
    "a, b",
    "[b]",
    "null",
    "~",
    "back\\slash",
    "zero\u{200b}width",
    "# hash",
    "? what",
    " ",
    "next\u{85}line",
    "🇳🇴🇸🇪",
    "e\u{301}ve",
    "...and then",
    "@home",
    "it's",
    "key:",
    "---",
    "!bang",
    "1:30",
    "> said",
    "one\n\n  three",
    "\u{feff}",
    "\r",
    "`tick",
];

/// Texts that may stand without quotes.
const BARE: &[&str] = &[
    "She rang",
    "x",
    "a river, wide",
    "it's",
    "Verse 1",
    "two  blanks",
    "♭ ♯",
    "a#b",
    "12",
    "no",
];

fn double(text: &str) -> String {
    let escaped: String = text
        .chars()
        .map(|sign| match sign {
            '"' => "\\\"".to_owned(),
            '\\' => "\\\\".to_owned(),
            ' '..='~' | '♭' | 'é' => sign.to_string(),
            _ => format!("\\U{:08X}", u32::from(sign)),
        })
        .collect();
    format!("\"{escaped}\"")
}

/// Writes song files in many hands. Every comment and unknown key has a number of its own, so that none can be lost unseen.
pub(crate) struct Hand {
    tape: Tape,
    text: String,
    tokens: Vec<String>,
    step: usize,
}

impl Hand {
    fn token(&mut self, sign: &str) -> String {
        let token = format!("{sign}{}z", self.tokens.len());
        self.tokens.push(token.clone());
        token
    }

    fn above(&mut self, column: usize) {
        match self.tape.below(8) {
            1 => self.text.push('\n'),
            2 => {
                let token = self.token("c");
                self.text
                    .push_str(&format!("{}# {token}: \"it's\n", " ".repeat(column)));
            }
            3 => {
                let token = self.token("c");
                self.text
                    .push_str(&format!("\n{}#{token}\n\n", " ".repeat(column)));
            }
            _ => {}
        }
    }

    fn end(&mut self) {
        if self.tape.one_in(5) {
            let token = self.token("c");
            self.text.push_str(&format!("  # {token}"));
        }
        self.text.push('\n');
    }

    fn scalar(&mut self, column: usize, flow: bool) -> String {
        match self.tape.below(if flow { 3 } else { 6 }) {
            0 => {
                let text = self.tape.pick(TEXTS);
                double(text)
            }
            1 => format!("'{}'", self.tape.pick(BARE).replace('\'', "''")),
            2 | 3 => {
                let bare = self.tape.pick(BARE);
                if flow {
                    bare.replace(',', "")
                } else {
                    bare.to_owned()
                }
            }
            4 => {
                let inner = " ".repeat(column + self.step);
                let header = self.tape.pick(&["|", "|-", ">", "|+"]);
                format!("{header}\n{inner}block text\n{inner}# of two rows")
            }
            _ => String::new(),
        }
    }

    fn pair(&mut self, column: usize, first: bool, key: &str, value: &str) {
        if !first {
            self.above(column);
            self.text.push_str(&" ".repeat(column));
        }
        let gap = if value.is_empty() {
            ""
        } else {
            self.tape.pick(&[" ", "  "])
        };
        self.text.push_str(&format!("{key}:{gap}{value}"));
        if value.starts_with(['|', '>']) {
            self.text.push('\n');
        } else {
            self.end();
        }
    }

    fn flow_list(&mut self) -> String {
        let items: Vec<String> = (0..self.tape.below(4))
            .map(|_| self.scalar(0, true))
            .collect();
        format!("[{}]", items.join(", "))
    }

    fn unknown(&mut self, column: usize, first: bool) {
        let key = self.token("x");
        let value = match self.tape.below(3) {
            0 => self.scalar(column, false),
            1 => "[1, {a: 'b'}]".to_owned(),
            _ => "{c: [d], \"e\": ~}".to_owned(),
        };
        self.pair(column, first, &key, &value);
    }

    fn chords(&mut self) -> String {
        self.tape
            .pick(&[
                "\"    Em     C\"",
                "'| G | C  D |'",
                "Am",
                "[[4, Cmaj7], [6, D]]",
                "\"\"",
                "",
            ])
            .to_owned()
    }

    fn line(&mut self, dash: usize) {
        self.above(dash);
        self.text.push_str(&" ".repeat(dash));
        match self.tape.below(5) {
            0 => {
                let text = self.tape.pick(BARE);
                self.text.push_str(&format!("- {text}"));
                self.end();
            }
            1 => {
                let key = self.token("x");
                let (lyric, other) = (self.scalar(0, true), self.scalar(0, true));
                self.text
                    .push_str(&format!("- {{lyric: {lyric}, {key}: {other}, bars: 2}}"));
                self.end();
            }
            _ => {
                self.text.push_str("- ");
                let column = dash + 2;
                let mut keys: Vec<&str> = vec!["chords", "lyric", "marks", "sound", "others", "x"];
                let turn = self.tape.below(keys.len());
                keys.rotate_left(turn);
                let count = 1 + self.tape.below(keys.len());
                for (index, key) in keys.into_iter().take(count).enumerate() {
                    let first = index == 0;
                    let value = match key {
                        "chords" => self.chords(),
                        "marks" => "\"   ,  ,\"".to_owned(),
                        "others" => self.flow_list(),
                        "x" => {
                            self.unknown(column, first);
                            continue;
                        }
                        _ => self.scalar(column, false),
                    };
                    self.pair(column, first, key, &value);
                }
            }
        }
    }

    fn section(&mut self, dash: usize) {
        self.above(dash);
        self.text.push_str(&" ".repeat(dash));
        if self.tape.one_in(6) {
            let key = self.token("x");
            let lyric = self.scalar(0, true);
            self.text.push_str(&format!(
                "- {{kind: verse, {key}: 1, lines: [{lyric}, {{lyric: b}}]}}"
            ));
            self.end();
            return;
        }
        let column = dash + 2;
        self.text.push_str("- ");
        if self.tape.one_in(6) {
            self.end();
            self.text.push_str(&" ".repeat(column));
        }
        self.pair(column, true, "label", "Verse 1");
        for key in ["kind", "happens", "tempo", "x"] {
            match (self.tape.below(3), key) {
                (0, _) => {}
                (_, "x") => self.unknown(column, false),
                _ => {
                    let value = self.scalar(column, false);
                    self.pair(column, false, key, &value);
                }
            }
        }
        for key in ["lines", "set_aside"] {
            let count = self.tape.below(4);
            if count == 0 {
                continue;
            }
            self.pair(column, false, key, "");
            let dash = column + self.tape.pick(&[0, self.step]);
            for _ in 0..count {
                self.line(dash);
            }
        }
    }

    pub(crate) fn song(&mut self) {
        if self.tape.one_in(6) {
            self.text.push_str("---");
            self.end();
        }
        for key in [
            "title", "key", "tempo", "voice", "words", "tuning", "tunes", "x", "x", "due",
        ] {
            if self.tape.below(3) == 0 {
                continue;
            }
            let value = match key {
                "x" => {
                    self.unknown(0, false);
                    continue;
                }
                "voice" => self
                    .tape
                    .pick(&["{range: A2-E4, octave: -1}", "", "{x: 1}"])
                    .to_owned(),
                "words" => self
                    .tape
                    .pick(&["{quay: kee, no: \"on\"}", "\n  quay: kee\n  eve: 'ee-ve'"])
                    .to_owned(),
                "tuning" => "[E2, A2, D3]".to_owned(),
                "tunes" => "\n  verse:\n  - \"B,2 | E4\"\n  - 'G'\n  bare:".to_owned(),
                _ => self.scalar(0, false),
            };
            if self.text.contains(&format!("\n{key}:")) || self.text.starts_with(&format!("{key}:"))
            {
                continue;
            }
            self.pair(0, false, key, &value);
        }
        self.pair(0, false, "sections", "");
        let dash = self.tape.pick(&[0, self.step]);
        for _ in 0..1 + self.tape.below(3) {
            self.section(dash);
        }
        if self.tape.one_in(3) {
            self.pair(0, false, "set_aside", "");
            self.line(self.step);
            self.section(self.step);
        }
        self.above(0);
        if self.tape.one_in(6) {
            self.text.push_str("...\n");
        }
        if self.tape.one_in(4) && self.text.ends_with('\n') {
            self.text.pop();
        }
    }
}

/// The text of a song file, and what in it must never get lost.
pub(crate) fn file(tape: Tape) -> (String, Vec<String>, Tape) {
    let mut hand = Hand {
        tape,
        text: String::new(),
        tokens: Vec::new(),
        step: 2,
    };
    hand.step = 1 + hand.tape.below(4);
    let crlf = hand.tape.one_in(6);
    let bom = hand.tape.one_in(8);
    hand.song();
    let mut text = hand.text;
    if crlf {
        text = text.replace('\n', "\r\n");
    }
    if bom {
        text.insert(0, '\u{feff}');
    }
    (text, hand.tokens, hand.tape)
}
