//! Something to say about the owner's files. A finding never stops another file.

use super::{Code, Hint, Place};

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// No figure is produced from what it touches; the run ends with exit status 1.
    Error,
    /// The figures stand, but something is probably not as meant.
    Warning,
    /// A better sheet is one line away.
    Advice,
}

/// One thing to say about the owner's files: coded, placed and hinted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    pub severity: Severity,
    /// Printed as a stable word such as `unknown-key`, to look up or to search for.
    pub code: Code,
    /// One sentence, without a full stop.
    pub message: String,
    pub place: Place,
    /// A few words beside the marked place; may be empty.
    pub label: String,
    /// The other half of a contradiction.
    pub second: Option<(Place, String)>,
    /// What to do about it.
    pub hint: Option<Hint>,
}

impl Finding {
    fn new(severity: Severity, code: Code, place: Place, message: String) -> Finding {
        Finding { severity, code, message, place, label: String::new(), second: None, hint: None }
    }

    pub fn error(code: Code, place: Place, message: impl Into<String>) -> Finding {
        Finding::new(Severity::Error, code, place, message.into())
    }

    pub fn warning(code: Code, place: Place, message: impl Into<String>) -> Finding {
        Finding::new(Severity::Warning, code, place, message.into())
    }

    pub fn advice(code: Code, place: Place, message: impl Into<String>) -> Finding {
        Finding::new(Severity::Advice, code, place, message.into())
    }

    pub fn label(mut self, label: impl Into<String>) -> Finding {
        self.label = label.into();
        self
    }

    pub fn second(mut self, place: Place, label: impl Into<String>) -> Finding {
        self.second = Some((place, label.into()));
        self
    }

    pub fn hint(mut self, hint: impl Into<Hint>) -> Finding {
        self.hint = Some(hint.into());
        self
    }

    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }
}
