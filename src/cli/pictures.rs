//! The photos of a piece: read, measured, and reduced once; reduced ones are kept by the hash of
//! the photo they were made from.

use super::files::{Fingerprint, write_whole};
use crate::model::{Failure, Finding, Moment, Piece};
use crate::read::read_picture;
use crate::typeset::{Fit, PictureUse, Shot, fit_picture, measure_picture};
use std::fs;
use std::path::{Path, PathBuf};

/// A picture narrower than this looks soft as a main picture: 200 pixels an inch across 328 points.
const SOFT: u32 = 911;

/// The photos of one shop.
pub struct Pictures<'a> {
    shop: &'a Path,
    kept: PathBuf,
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
    /// Pixels of the longer side before it is reduced.
    taken_at: u32,
    main: (u32, u32),
    small: (u32, u32),
}

impl<'a> Pictures<'a> {
    pub fn new(shop: &'a Path, out: &Path) -> Pictures<'a> {
        Pictures { shop, kept: out.join(".pictures") }
    }

    /// Reads and measures a piece's photos, and reduces those that are not kept yet. One that cannot
    /// be used is a finding, and the sheets are composed without it.
    pub fn of(&self, piece: &Piece) -> Result<PieceShots, Failure> {
        let mut shots = PieceShots { photos: Vec::new(), findings: Vec::new() };
        for photo in &piece.photo {
            let read = match read_picture(self.shop, &photo.path)? {
                Ok(bytes) => self.usable(bytes)?,
                Err(words) => Err(words),
            };
            let place = photo.path.place;
            let said = |words| format!("`{}` {words}", photo.path.value);
            match &read {
                Ok(read) if read.taken_at < SOFT => shots.findings.push(
                    Finding::warning("photo-small", place, said(soft_words(read.taken_at)))
                        .hint("use the picture as the camera took it"),
                ),
                Ok(_) => {}
                Err(words) => shots.findings.push(
                    Finding::error("photo-unusable", place, said(words.clone()))
                        .hint("put a JPEG, PNG or WebP picture there, or remove the entry"),
                ),
            }
            shots.photos.push(read.ok());
        }
        Ok(shots)
    }

    /// Reads the first photo of a finished piece that can be used and adds it to those of other
    /// pieces, to be printed at the width of a column. Of many pieces only the reduced ones fit in
    /// memory: the photo as taken is let go.
    pub fn add_first<'p>(
        &self,
        piece: &'p Piece,
        all: &mut PieceShots,
    ) -> Result<Option<Shot<'p>>, Failure> {
        for photo in piece.photo.iter().filter(|photo| photo.moment == Moment::After) {
            let Ok(bytes) = read_picture(self.shop, &photo.path)? else { continue };
            let Ok(mut read) = measured(bytes) else { continue };
            if self.reduced(&read, Fit::Column)?.is_err() {
                continue;
            }
            read.bytes = Vec::new();
            let (index, main, small) = (all.photos.len(), read.main, read.small);
            all.photos.push(Some(read));
            return Ok(Some(Shot { photo, index, main, small }));
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
        let kept = self.kept.join(format!("{}-{}.jpg", read.hash, fit.pixels()));
        if let Ok(jpeg) = fs::read(&kept) {
            return Ok(Ok(jpeg));
        }
        match fit_picture(&read.bytes, fit) {
            Ok(picture) => {
                write_whole(&kept, &picture.jpeg)?;
                Ok(Ok(picture.jpeg))
            }
            Err(fault) => Ok(Err(fault.0)),
        }
    }
}

fn measured(bytes: Vec<u8>) -> Result<Read, String> {
    let (width, height, taken_at) = measure_picture(&bytes, Fit::Main).map_err(|fault| fault.0)?;
    let small = measure_picture(&bytes, Fit::Small).map_err(|fault| fault.0)?;
    let mut print = Fingerprint::new();
    print.add(&bytes);
    let hash = print.text();
    Ok(Read { bytes, hash, taken_at, main: (width, height), small: (small.0, small.1) })
}

fn soft_words(taken_at: u32) -> String {
    format!("has only {taken_at} pixels on its longer side and will look soft in print")
}

impl PieceShots {
    /// The usable photos as the sheets take them.
    pub fn shots<'a>(&self, piece: &'a Piece) -> Vec<Shot<'a>> {
        let usable = piece.photo.iter().zip(&self.photos).enumerate();
        usable
            .filter_map(|(index, (photo, read))| {
                let read = read.as_ref()?;
                Some(Shot { photo, index, main: read.main, small: read.small })
            })
            .collect()
    }

    /// The hash of a photo's bytes; empty for one that cannot be used.
    pub fn hash(&self, photo: usize) -> &str {
        self.photos.get(photo).and_then(Option::as_ref).map_or("", |read| &read.hash)
    }
}
