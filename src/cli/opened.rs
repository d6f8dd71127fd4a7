//! A shop folder read, reckoned and described: what every verb starts from.

use super::brand::read_brand;
use crate::describe::{
    Standing, Survey, Template, Words, finish_name, kind_name, survey, template, words_of,
};
use crate::model::{Code, Failure, FileId, Finding, Piece, Place, Shop, Sources};
use crate::read::{Reading, read};
use crate::reckon::review::{Label, Review, review};
use crate::reckon::tally::Tally;
use crate::reckon::{Reckoned, reckon};
use crate::typeset::{Brand, LAYOUTS, Press};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// Everything known of a shop after one walk down the stair.
pub struct Opened {
    pub folder: PathBuf,
    pub sources: Sources,
    /// Of all floors, in the order of the files.
    pub findings: Vec<Finding>,
    /// The shop's own layouts and the wording of its descriptions: name and file.
    pub layouts: Vec<(String, FileId)>,
    /// Its own fonts and logo; read only where papers are asked about.
    pub brand: Brand,
    /// Nothing when `shop.toml` is missing or has errors.
    pub known: Option<Known>,
}

/// The wording of the shop's descriptions, beside its layouts.
const WORDING_FILE: &str = "description.txt";

fn own_template(
    layouts: &[(String, FileId)],
    sources: &Sources,
) -> Option<Result<Template, Vec<Finding>>> {
    let (_, file) = layouts.iter().find(|(name, _)| name == WORDING_FILE)?;
    Some(template(*file, &sources.get(*file)?.text))
}

/// Files of `layouts/` that neither take the place of a layout nor are taken in by another: most
/// likely misnamed.
fn unused_layouts(layouts: &[(String, FileId)], sources: &Sources) -> Vec<Finding> {
    let is_used = |name: &str| {
        let quoted = format!("{name}\"");
        name == WORDING_FILE
            || LAYOUTS.iter().any(|layout| layout.name == name)
            || layouts
                .iter()
                .any(|(_, other)| sources.get(*other).is_some_and(|s| s.text.contains(&quoted)))
    };
    let unused = layouts.iter().filter(|(name, _)| !is_used(name));
    unused
        .map(|(name, file)| {
            let message = format!("`layouts/{name}` is not used: no layout has this name");
            let names = LAYOUTS.iter().map(|layout| layout.name);
            let hint = match crate::model::nearest(name, names) {
                Some(near) => format!("name it `{near}`"),
                None => "name it like the layout it should take the place of, or import it".into(),
            };
            Finding::warning(Code::LayoutUnused, Place::new(*file, 0..0), message).hint(hint)
        })
        .collect()
}

/// The shop and what was made of it.
pub struct Known {
    pub shop: Shop,
    pub reckoned: Reckoned,
    /// Made when first asked for: figures need no words.
    survey: OnceLock<Survey>,
    /// Of each piece, made when first asked for.
    words: Vec<OnceLock<Words>>,
    /// The shop's own wording of descriptions; the findings where it is not sound.
    pub template: Option<Result<Template, Vec<Finding>>>,
}

/// Whether a verb needs the words of every piece, and what is found in them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    Figures,
    FiguresAndWords,
}

/// One piece with what is known of it.
#[derive(Clone, Copy)]
pub struct KnownPiece<'a> {
    /// Its position in [`Shop::pieces`].
    pub index: usize,
    pub piece: &'a Piece,
    pub tally: Option<&'a Tally>,
}

impl Opened {
    /// Reads the folder and goes down the stair as far as its state allows.
    pub fn open(folder: &Path, need: Need) -> Result<Opened, Failure> {
        let Reading { mut shop, sources, mut findings, layouts, fonts } = read(folder)?;
        let brand = match &mut shop {
            Some(shop) if need == Need::FiguresAndWords => {
                read_brand(folder, &fonts, shop, &mut findings)?
            }
            _ => Brand::default(),
        };
        let known = shop.map(|shop| {
            let reckoned = reckon(&shop);
            let template = own_template(&layouts, &sources);
            let words = shop.pieces.iter().map(|_| OnceLock::new()).collect();
            Known { shop, reckoned, survey: OnceLock::new(), words, template }
        });
        if let Some(known) = &known {
            findings.extend(known.reckoned.findings.iter().cloned());
            if need == Need::FiguresAndWords {
                findings.extend(known.survey().findings.iter().cloned());
                findings.extend(known.template.iter().flat_map(|t| t.clone().err()).flatten());
            }
        }
        if need == Need::FiguresAndWords {
            findings.extend(unused_layouts(&layouts, &sources));
        }
        findings.sort_by(|a, b| (a.place, a.code, &a.message).cmp(&(b.place, b.code, &b.message)));
        findings.dedup();
        Ok(Opened { folder: folder.to_owned(), sources, findings, layouts, brand, known })
    }

    /// The shop's own layouts: name and text.
    pub fn own_layouts(&self) -> Vec<(String, String)> {
        let typeset = self.layouts.iter().filter(|(name, _)| *name != WORDING_FILE);
        let text = |file| self.sources.get(file).map(|source| source.text.clone());
        typeset.filter_map(|(name, file)| Some((name.clone(), text(*file)?))).collect()
    }

    /// A press with all the shop brings of its own, for whoever wants to look at its pages: nothing
    /// bounds the shop's layouts in it.
    pub fn press(&self) -> Press {
        Press::new(&self.own_layouts()).with(&self.brand)
    }

    /// Whether a file has errors of its own; one that was not read at all has.
    pub fn has_errors_in(&self, path: &str) -> bool {
        let file = self.sources.iter().find(|(_, source)| source.path == path);
        let in_it = |finding: &Finding, file| {
            let second = finding.second.as_ref().map(|(place, _)| place.file);
            finding.is_error() && (finding.place.file == file || second == Some(file))
        };
        file.is_none_or(|(file, _)| self.findings.iter().any(|finding| in_it(finding, file)))
    }

    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(Finding::is_error)
    }
}

impl Known {
    pub fn pieces(&self) -> impl Iterator<Item = KnownPiece<'_>> {
        (0..self.shop.pieces.len()).map(|index| self.at(index))
    }

    pub fn at(&self, index: usize) -> KnownPiece<'_> {
        KnownPiece {
            index,
            piece: &self.shop.pieces[index],
            tally: self.reckoned.tallies[index].as_ref(),
        }
    }

    /// The words of a piece, by its position in [`Shop::pieces`].
    pub fn words(&self, index: usize) -> &Words {
        self.words[index].get_or_init(|| words_of(&self.shop, &self.shop.pieces[index]))
    }

    /// What stands in the way of a piece's papers, likewise.
    pub fn standing(&self, index: usize) -> &Standing {
        &self.survey().pieces[index]
    }

    /// What stands in the way of the papers of every piece.
    pub fn survey(&self) -> &Survey {
        self.survey.get_or_init(|| survey(&self.shop))
    }

    /// The shop looked at as a whole, with its pieces called as the sheets call them.
    pub fn review(&self) -> Review {
        let label = |piece| Label { kind: kind_name(piece), finish: finish_name(piece) };
        let labels: Vec<Label> = self.shop.pieces.iter().map(label).collect();
        review(&self.shop, &self.reckoned, &labels)
    }

    /// The piece of a number or folder name; else a sentence that names the nearest.
    pub fn find(&self, name: &str) -> Result<KnownPiece<'_>, String> {
        let is_it = |piece: &Piece| {
            piece.name() == name
                || piece.folder == name
                || piece.folder.rsplit('/').next() == Some(name)
        };
        let index = self.shop.pieces.iter().position(is_it).ok_or_else(|| {
            let names = self.shop.pieces.iter().map(Piece::name);
            match crate::model::nearest(name, names) {
                Some(near) => format!("there is no piece `{name}`; did you mean `{near}`?\n"),
                None => format!("there is no piece `{name}`; `dovetally tally` lists them\n"),
            }
        })?;
        Ok(self.at(index))
    }
}
