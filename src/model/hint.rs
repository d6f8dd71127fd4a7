//! What to do about a finding, and how sure it is.
//!
//! The law of hints: "write …" is said only of what says the same as what was typed, surely meant,
//! and carries the edit itself, so that a test can make it and read the file again. Where what was
//! typed can be read in two ways both are shown. An example is called one.

use super::Place;
use std::fmt;
use std::ops::Deref;

/// One stretch of a file and what stands there instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    pub place: Place,
    pub text: String,
}

/// What a hint offers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Offer {
    /// What was surely meant.
    Write(Edit),
    /// What may have been meant, each of them as much as the others.
    Either,
    /// An example, which says nothing of this file.
    SuchAs,
    /// What to do, in words.
    Say,
}

/// The other half of a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hint {
    words: String,
    pub offer: Offer,
}

impl Hint {
    /// "write `price = 45.00`"; `line` is what the edit makes of its line, as far as it matters.
    pub fn write(line: &str, edit: Edit) -> Hint {
        Hint { words: format!("write {}", code(line)), offer: Offer::Write(edit) }
    }

    /// "`rate = "6%"` or `rate = "0.06%"`?".
    pub fn either<S: AsRef<str>>(readings: &[S]) -> Hint {
        let readings: Vec<String> = readings.iter().map(|reading| code(reading.as_ref())).collect();
        Hint { words: format!("{}?", readings.join(" or ")), offer: Offer::Either }
    }

    /// "such as `price = 45.00`".
    pub fn such_as(line: &str) -> Hint {
        Hint { words: format!("such as {}", code(line)), offer: Offer::SuchAs }
    }

    pub fn say(words: impl Into<String>) -> Hint {
        Hint { words: words.into(), offer: Offer::Say }
    }

    /// The same with something to add: a reason, or where it belongs.
    pub fn and(self, more: &str) -> Hint {
        Hint { words: format!("{}{more}", self.words), ..self }
    }

    /// Where making the edit left something else to say, it is only a guess.
    pub fn guessed(self) -> Hint {
        match self.offer {
            Offer::Write(_) => Hint::say(self.words.replacen("write", "perhaps", 1)),
            _ => self,
        }
    }

    pub fn edit(&self) -> Option<&Edit> {
        match &self.offer {
            Offer::Write(edit) => Some(edit),
            _ => None,
        }
    }
}

/// A line as code; one that holds a backtick stands in two.
fn code(line: &str) -> String {
    if line.contains('`') { format!("`` {line} ``") } else { format!("`{line}`") }
}

impl Deref for Hint {
    type Target = str;
    fn deref(&self) -> &str {
        &self.words
    }
}

impl fmt::Display for Hint {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.words)
    }
}

impl From<String> for Hint {
    fn from(words: String) -> Hint {
        Hint::say(words)
    }
}

impl From<&str> for Hint {
    fn from(words: &str) -> Hint {
        Hint::say(words)
    }
}

impl From<&String> for Hint {
    fn from(words: &String) -> Hint {
        Hint::say(words)
    }
}
