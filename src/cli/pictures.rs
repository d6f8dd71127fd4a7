//! The photos of a piece: read, measured, and reduced once; reduced ones are kept by the hash of
//! the photo they were made from.
//!
//! A kept one begins with the sum of what follows: it proves itself, and one that does not is made
//! again.

use super::files::{Fingerprint, Staging, Standing, place_below, standing, sum_of};
use super::gate::Gate;
use super::output::{OUT, Output, PICTURES};
use crate::model::{Code, Failure, Finding, Moment, Photo, Piece};
use crate::read::{photo_of_no_kind, read_picture};
use crate::typeset::{
    Fit, MOST_PIXELS, PictureSize, PictureUse, Shot, fit_picture, measure_picture, try_picture,
};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// A picture narrower than this looks soft as a main picture: 200 pixels an inch across 328 points.
const SOFT: u32 = 911;

/// The photos of one shop.
pub struct Pictures<'a> {
    shop: &'a Path,
    /// The output folder.
    out: PathBuf,
    /// Nothing where reduced photos are only proved and not kept.
    staging: Option<&'a Staging>,
    /// The reduced photos that the papers of this run show or prove, by their names.
    used: Mutex<BTreeSet<String>>,
    /// Pixels being read at a time, by all workers together.
    gate: Gate,
}

/// The photos of one piece, or one of each of many, as read.
#[derive(Default)]
pub struct PieceShots {
    /// By position in [`Piece::photo`]; nothing for one that cannot be used.
    photos: Vec<Option<Read>>,
    pub findings: Vec<Finding>,
}

struct Read {
    bytes: Vec<u8>,
    hash: String,
    size: PictureSize,
}

impl<'a> Pictures<'a> {
    pub fn new(shop: &'a Path, output: &'a Output) -> Pictures<'a> {
        Pictures { staging: Some(output.staging()), ..Pictures::unkept(shop) }
    }

    /// The photos of a shop that is only looked at.
    pub fn unkept(shop: &'a Path) -> Pictures<'a> {
        let (out, gate) = (shop.join(OUT), Gate::new(MOST_PIXELS));
        Pictures { shop, out, staging: None, used: Mutex::default(), gate }
    }

    /// Reads and measures a piece's photos, and reduces those that are not kept yet. One that cannot
    /// be used is a finding, and the sheets are composed without it.
    pub fn of(&self, piece: &Piece) -> Result<PieceShots, Failure> {
        let mut shots = PieceShots { photos: Vec::new(), findings: Vec::new() };
        for photo in &piece.photo {
            let read = self.looked_at(photo)?;
            match &read {
                Ok(read) if read.size.longer() < SOFT => {
                    let words = soft_words(read.size.longer());
                    let hint = "use the picture as the camera took it";
                    shots.findings.push(of_photo(Code::PhotoSmall, photo, &words).hint(hint));
                }
                Ok(_) => {}
                Err(finding) => shots.findings.push(finding.clone()),
            }
            shots.photos.push(read.ok());
        }
        Ok(shots)
    }

    /// A photo read to its end, or why it cannot be used.
    fn looked_at(&self, photo: &Photo) -> Result<Result<Read, Finding>, Failure> {
        let unusable = |words: String| {
            let hint = "put a JPEG, PNG or WebP picture there, or remove the entry";
            of_photo(Code::PhotoUnusable, photo, &words).hint(hint)
        };
        let bytes = match read_picture(self.shop, &photo.path)? {
            Ok(bytes) => bytes,
            Err(words) => return Ok(Err(unusable(words))),
        };
        match photo_of_no_kind(&bytes, &photo.path) {
            Some(finding) => Ok(Err(finding)),
            None => Ok(self.usable(bytes)?.map_err(unusable)),
        }
    }

    /// Reads the first photo of a piece that can be used, of the moments in their order, and adds it to those of other
    /// pieces, to be printed at the width of a column. Of many pieces only the reduced ones fit in
    /// memory: the photo as taken is let go.
    pub fn add_first<'p>(
        &self,
        piece: &'p Piece,
        moments: &[Moment],
        all: &mut PieceShots,
    ) -> Result<Option<Shot<'p>>, Failure> {
        let of = |moment: Moment| piece.photo.iter().filter(move |photo| photo.moment == moment);
        for photo in moments.iter().flat_map(|moment| of(*moment)) {
            let Ok(bytes) = read_picture(self.shop, &photo.path)? else { continue };
            let Ok(mut read) = measured(bytes) else { continue };
            if self.reduced(&read, Fit::Column)?.is_err() {
                continue;
            }
            read.bytes = Vec::new();
            let index = all.photos.len();
            let shot = read.shot(photo, index);
            all.photos.push(Some(read));
            return Ok(Some(shot));
        }
        Ok(None)
    }

    /// The JPEGs a draft names, made or taken from those kept.
    pub fn print(&self, uses: &[PictureUse], shots: &PieceShots) -> Result<Vec<Vec<u8>>, Failure> {
        uses.iter()
            .map(|used| match shots.photos.get(used.photo) {
                Some(Some(read)) => Ok(self.reduced(read, used.fit)?.unwrap_or_default()),
                _ => Ok(Vec::new()),
            })
            .collect()
    }

    /// A photo that can be read to its end: the reduced one is the proof, and is kept.
    fn usable(&self, bytes: Vec<u8>) -> Result<Result<Read, String>, Failure> {
        let read = match measured(bytes) {
            Ok(read) => read,
            Err(words) => return Ok(Err(words)),
        };
        match self.reduced(&read, Fit::Small)? {
            Ok(_) => Ok(Ok(read)),
            Err(words) => Ok(Err(words)),
        }
    }

    fn reduced(&self, read: &Read, fit: Fit) -> Result<Result<Vec<u8>, String>, Failure> {
        let name = kept_name(&read.hash, fit);
        self.note(&name);
        let path = format!("{PICTURES}/{name}");
        let Ok(kept) = place_below(&self.out, &path) else {
            return Ok(Err(format!("cannot be kept: `out/{path}` is a link")));
        };
        if let Some(jpeg) = fs::read(&kept).ok().and_then(proven)
            && measure_picture(&jpeg).is_ok_and(|size| size.upright() == read.size.within(fit))
        {
            return Ok(Ok(jpeg));
        }
        let _pass = self.gate.pass(read.size.pixels());
        let Some(staging) = self.staging else {
            return Ok(try_picture(&read.bytes).map(|()| Vec::new()).map_err(|fault| fault.0));
        };
        match fit_picture(&read.bytes, fit) {
            Ok(picture) => {
                staging.put(&kept, &proving(&picture.jpeg))?;
                Ok(Ok(picture.jpeg))
            }
            Err(fault) => Ok(Err(fault.0)),
        }
    }

    fn note(&self, name: &str) {
        let mut used = self.used.lock().unwrap_or_else(PoisonError::into_inner);
        used.insert(name.to_owned());
    }

    /// Notes the pictures of a paper, whether or not it is made again.
    pub fn note_used(&self, uses: &[PictureUse], shots: &PieceShots) {
        for used in uses {
            self.note(&kept_name(shots.hash(used.photo), used.fit));
        }
    }

    /// Removes the reduced photos that nothing of a whole run used.
    pub fn prune(self) -> Result<(), Failure> {
        let used = self.used.into_inner().unwrap_or_else(PoisonError::into_inner);
        let folder = self.out.join(PICTURES);
        let Ok(entries) = fs::read_dir(&folder) else { return Ok(()) };
        for entry in entries.filter_map(Result::ok) {
            let name = entry.file_name().to_string_lossy().into_owned();
            let path = entry.path();
            if is_kept_name(&name)
                && !used.contains(&name)
                && matches!(standing(&path), Standing::File(_))
                && fs::read(&path).ok().and_then(proven).is_some()
            {
                fs::remove_file(&path).map_err(|e| Failure::new("remove", &path, e))?;
            }
        }
        let _ = fs::remove_dir(&folder);
        Ok(())
    }
}

const ENDING: &str = ".kept";
/// Letters of a sum.
const SUM: usize = 32;

fn kept_name(hash: &str, fit: Fit) -> String {
    format!("{hash}-{}{ENDING}", fit.pixels())
}

fn is_kept_name(name: &str) -> bool {
    let parts = name.strip_suffix(ENDING).and_then(|name| name.split_once('-'));
    parts.is_some_and(|(hash, pixels)| {
        hash.len() == SUM
            && hash.bytes().all(|b| b.is_ascii_hexdigit())
            && pixels.bytes().all(|b| b.is_ascii_digit())
    })
}

fn proving(jpeg: &[u8]) -> Vec<u8> {
    [sum_of(jpeg).as_bytes(), jpeg].concat()
}

/// The picture in a kept file, where it is whole.
fn proven(mut kept: Vec<u8>) -> Option<Vec<u8>> {
    if kept.len() < SUM {
        return None;
    }
    let jpeg = kept.split_off(SUM);
    (sum_of(&jpeg).as_bytes() == kept).then_some(jpeg)
}

fn measured(bytes: Vec<u8>) -> Result<Read, String> {
    let size = measure_picture(&bytes).map_err(|fault| fault.0)?;
    let mut print = Fingerprint::new();
    print.add(&bytes);
    let hash = print.text();
    Ok(Read { bytes, hash, size })
}

impl Read {
    fn shot<'p>(&self, photo: &'p Photo, index: usize) -> Shot<'p> {
        Shot {
            photo,
            index,
            main: self.size.within(Fit::Main),
            small: self.size.within(Fit::Small),
        }
    }
}

fn of_photo(code: Code, photo: &Photo, words: &str) -> Finding {
    Finding::warning(code, photo.path.place, format!("`{}` {words}", photo.path.value))
}

fn soft_words(taken_at: u32) -> String {
    format!("has only {taken_at} pixels on its longer side and will look soft in print")
}

impl PieceShots {
    /// The usable photos as the sheets take them.
    pub fn shots<'a>(&self, piece: &'a Piece) -> Vec<Shot<'a>> {
        let usable = piece.photo.iter().zip(&self.photos).enumerate();
        usable
            .filter_map(|(index, (photo, read))| Some(read.as_ref()?.shot(photo, index)))
            .collect()
    }

    /// The hash of a photo's bytes; empty for one that cannot be used.
    pub fn hash(&self, photo: usize) -> &str {
        self.photos.get(photo).and_then(Option::as_ref).map_or("", |read| &read.hash)
    }
}
