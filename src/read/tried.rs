//! The law of hints at work: whatever says "write" was tried first. The file is read again with the
//! edit in place, and the hint stands only where its finding is gone and nothing new is found.

use super::corrected::{GENERAL, Guess, dated, guesses};
use super::syntax::line_around;
use crate::model::{Code, Currency, Edit, Finding, Hint, Place};
use std::collections::BTreeMap;
use std::ops::Range;

/// A file with more findings than this has no fix tried one by one.
const MOST_TRIED: usize = 40;

/// A file that was read, and how to read it again with another text.
pub(super) struct Trial<'a> {
    pub text: &'a str,
    pub currency: &'a Currency,
    pub findings_of: &'a dyn Fn(&str) -> Vec<Finding>,
}

/// What was found, however often.
type Told = BTreeMap<(Code, String), usize>;

fn told(findings: &[Finding]) -> Told {
    let mut told = Told::new();
    for finding in findings {
        *told.entry((finding.code, finding.message.clone())).or_default() += 1;
    }
    told
}

impl Trial<'_> {
    /// The findings with hints that hold.
    pub fn tried(&self, mut findings: Vec<Finding>) -> Vec<Finding> {
        let before = told(&findings);
        for finding in findings.iter_mut().take(MOST_TRIED) {
            if finding.code == Code::Syntax && finding.hint.is_none() {
                finding.hint = Some(self.proven_hint(finding, &before));
            }
            if let Some(edit) = finding.hint.as_ref().and_then(Hint::edit)
                && !self.holds(finding, edit, &before)
            {
                finding.hint = finding.hint.take().map(Hint::guessed);
            }
        }
        for finding in findings.iter_mut().skip(MOST_TRIED) {
            finding.hint = Some(finding.hint.take().map_or(GENERAL.into(), Hint::guessed));
        }
        findings
    }

    /// Whether the edit removes the finding and brings no new one.
    fn holds(&self, finding: &Finding, edit: &Edit, before: &Told) -> bool {
        let mut text = self.text.to_owned();
        text.replace_range(edit.place.start as usize..edit.place.end as usize, &edit.text);
        let mut left = before.clone();
        if let Some(times) = left.get_mut(&(finding.code, finding.message.clone())) {
            *times -= 1;
        }
        let after = told(&(self.findings_of)(&text));
        after.iter().all(|(said, times)| left.get(said).is_some_and(|before| times <= before))
    }

    /// What a line that is not TOML was meant as.
    fn proven_hint(&self, finding: &Finding, before: &Told) -> Hint {
        let line = line_around(self.text, finding.place.start as usize);
        let at = (finding.place.start as usize).saturating_sub(line.start);
        let written = self.text.get(line.clone()).unwrap_or_default();
        let edit = |guess: &Guess| self.edit(finding, &line, guess);
        let groups = guesses(written, at, self.currency);
        for group in &groups {
            let holds = |guess: &&Guess| self.holds(finding, &edit(guess), before);
            let good: Vec<&Guess> = group.iter().filter(holds).collect();
            match good.as_slice() {
                [] => {}
                [guess] => return Hint::write(&guess.shown, edit(guess)),
                several => {
                    return Hint::either(&several.iter().map(|g| &g.shown).collect::<Vec<_>>());
                }
            }
        }
        match dated(written, at) {
            Some(key) => Hint::such_as(&format!("{key} = 2025-03-02")).and(": year, month, day"),
            None => Hint::say(GENERAL),
        }
    }

    fn edit(&self, finding: &Finding, line: &Range<usize>, guess: &Guess) -> Edit {
        let range = line.start + guess.range.start..line.start + guess.range.end;
        Edit { place: Place::new(finding.place.file, range), text: guess.text.clone() }
    }
}
