//! What `make` would find besides what is found in the files: photos that cannot be used, characters that
//! cannot be drawn, years that cannot be made. `check` says it, too, and ends with the same status.

use super::super::figures::money;
use super::super::folders::piece_folders;
use super::super::opened::{Known, Opened};
use super::super::pictures::Pictures;
use super::bench::{replaced_characters, unknown_characters};
use super::papers::{PAPERS, Paper, piece_plan};
use super::targets::{Body, subject};
use crate::model::{Code, Currency, Failure, Finding, in_order};
use crate::reckon::year::{SetApart, year};
use crate::typeset::Press;
use std::sync::OnceLock;

/// What is amiss in the papers of a shop, without what its own layouts would bring about.
///
/// # Errors
/// The machine failed while reading a photo.
pub fn amiss(opened: &Opened, known: &Known) -> Result<Vec<Finding>, Failure> {
    let look = Look {
        known,
        opened,
        pictures: Pictures::unkept(&opened.folder),
        press: OnceLock::new(),
        folders: piece_folders(&known.shop),
    };
    let pieces: Vec<usize> = (0..known.shop.pieces.len()).collect();
    let mut sources = opened.sources.iter().map(|(_, source)| source);
    let shop_file = sources.find(|source| source.path == "shop.toml");
    let shop_is_doubtful = shop_file.is_some_and(|source| look.are_doubtful(&source.text));
    let mut findings = Vec::new();
    for found in in_order(&pieces, |index| look.piece(*index, shop_is_doubtful)) {
        findings.extend(found?);
    }
    findings.extend(look.replaced());
    for of in known.shop.active_years() {
        let reckoned = &known.reckoned;
        match year(&known.shop, &reckoned.run, &reckoned.costs, of) {
            Ok(year) => {
                findings.extend(year.apart.iter().map(|one| set_apart(one, &known.shop.currency)));
                findings.extend(year.notes);
            }
            Err(found) => findings.extend(found),
        }
    }
    Ok(findings)
}

/// The papers of the year have a table of what is set apart; here each entry is shown.
fn set_apart(one: &SetApart, currency: &Currency) -> Finding {
    let amount = money(Some(one.amount), currency);
    let message = format!("{amount} for `{}` stands on no line of the form", one.what);
    let hint = format!("{}; of several items on one receipt each is an entry of its own", one.why);
    Finding::warning(Code::SetApart, one.place, message).label("for the preparer").hint(hint)
}

struct Look<'a> {
    known: &'a Known,
    opened: &'a Opened,
    pictures: Pictures<'a>,
    press: OnceLock<Press>,
    folders: Vec<String>,
}

impl Look<'_> {
    fn piece(&self, index: usize, shop_is_doubtful: bool) -> Result<Vec<Finding>, Failure> {
        let piece = self.known.at(index);
        let photos = self.pictures.of(piece.piece)?;
        let mut findings = photos.findings.clone();
        let source = self.opened.sources.get(piece.piece.title.place.file);
        // Its papers are put together only where a character of its file or of the shop's is in doubt.
        if shop_is_doubtful || source.is_some_and(|source| self.are_doubtful(&source.text)) {
            let shots = photos.shots(piece.piece);
            let subject = subject(self.known, piece, &shots);
            let papers: Vec<&Paper> = PAPERS.iter().collect();
            let plan = piece_plan(self.known, &subject, &self.folders[index], &papers);
            for target in plan.targets {
                if let (Body::Paper(draft, _), Some(place)) = (&target.body, target.of) {
                    let missing = self.press().missing_characters(draft);
                    findings.extend(
                        (!missing.is_empty())
                            .then(|| unknown_characters(&self.opened.sources, place, &missing)),
                    );
                }
            }
        }
        Ok(findings)
    }

    /// Characters of the books and of the shop that a year's papers print as question marks.
    fn replaced(&self) -> Vec<Finding> {
        let sources = &self.opened.sources;
        let others = sources.iter().filter(|(_, source)| !source.path.ends_with("piece.toml"));
        let texts = others.flat_map(|(_, source)| source.text.lines().map(without_comment));
        let doubtful: Vec<&str> = texts.filter(|text| Press::may_lack(text)).collect();
        let missing: Vec<char> =
            doubtful.iter().flat_map(|text| self.press().missing_in(text)).collect();
        replaced_characters(sources, &missing)
    }

    /// Whether a file's text holds a character that the font has no drawing for. A press is only built for
    /// one with characters that may be lacking.
    fn are_doubtful(&self, text: &str) -> bool {
        Press::may_lack(text) && !self.press().missing_in(text).is_empty()
    }

    fn press(&self) -> &Press {
        self.press.get_or_init(|| Press::new(&[]).with(&self.opened.brand))
    }
}

/// A line up to its comment: what stands in that is printed nowhere.
fn without_comment(line: &str) -> &str {
    let mut quoted = None;
    for (at, character) in line.char_indices() {
        match (character, quoted) {
            ('#', None) => return &line[..at],
            ('"' | '\'', None) => quoted = Some(character),
            (character, Some(mark)) if character == mark => quoted = None,
            _ => {}
        }
    }
    line
}
