//! Whether a photo is of a kind the papers can show, by its first bytes: said by `check`, and not
//! only once a paper lacks its picture; `make` says the same.

use super::table::Table;
use crate::model::{At, Code, Finding};
use std::fs::File;
use std::io::Read;

/// What a kind of picture begins with, from byte `at` on, what it is, and how it becomes one that
/// can be read. From the formats' own descriptions (from memory): ISO/IEC 14496-12 names the brand of
/// a file at byte 8, TIFF 6.0 begins with its byte order.
const KINDS: &[(usize, &[u8], &str, &str)] = &[
    (4, b"ftyphei", "HEIC", PHONE),
    (4, b"ftyphev", "HEIC", PHONE),
    (4, b"ftypmif1", "HEIC", PHONE),
    (4, b"ftypmsf1", "HEIC", PHONE),
    (4, b"ftypavif", "AVIF", PHONE),
    (4, b"ftypcrx", "a camera's raw file", RAW),
    (0, b"II*\0", "TIFF or a camera's raw file", RAW),
    (0, b"MM\0*", "TIFF or a camera's raw file", RAW),
    (0, b"FUJIFILM", "a camera's raw file", RAW),
    (0, b"%PDF", "PDF", "export the page as JPEG or PNG"),
    (0, b"GIF8", "GIF", "save it as PNG"),
    (0, b"BM", "a bitmap", "save it as PNG"),
    (0, b"<svg", "a drawing", "save it as PNG"),
    (0, b"<?xml", "a drawing", "save it as PNG"),
];

const PHONE: &str = "on the phone, choose the compatible format (JPEG) in the camera's settings for \
    photos to come; for this one, share it to a computer or by mail as JPEG, or open it and export \
    it as JPEG, and name the new file";
const RAW: &str = "develop it on the computer, or have the camera save JPEG beside it, and name the \
    JPEG file";

/// What begins a picture that can be read: JPEG, PNG and WebP.
const READ: [(usize, &[u8]); 3] = [(0, b"\xff\xd8\xff"), (0, b"\x89PNG\r\n\x1a\n"), (8, b"WEBP")];

impl Table<'_> {
    /// Says of a photo that is there why no paper can show it.
    pub fn photo_kind(&self, photo: &At<String>) {
        let folder = &self.document.setting.folder;
        let path = folder.join(&photo.value).canonicalize().ok();
        let Some(path) = path.filter(|path| path.starts_with(folder)) else { return };
        let Ok(file) = File::open(path) else { return };
        let mut start = Vec::new();
        if file.take(16).read_to_end(&mut start).is_err() {
            return;
        }
        if let Some(finding) = photo_of_no_kind(&start, photo) {
            self.document.say(finding);
        }
    }
}

/// Why no paper can show a photo that begins so; nothing for a kind that can be read.
pub fn photo_of_no_kind(start: &[u8], photo: &At<String>) -> Option<Finding> {
    let (what, hint) = unreadable(start)?;
    let message = format!("`{}` is {what}, which no paper can show", photo.value);
    let finding = Finding::warning(Code::PhotoKind, photo.place, message);
    Some(finding.label("not a JPEG, PNG or WebP picture").hint(hint))
}

fn unreadable(start: &[u8]) -> Option<(&'static str, &'static str)> {
    let begins = |at: usize, bytes: &[u8]| start.get(at..).is_some_and(|s| s.starts_with(bytes));
    if READ.iter().any(|(at, bytes)| begins(*at, bytes)) {
        return None;
    }
    if start.is_empty() {
        return Some(("empty", "copy the photo here again"));
    }
    let kind = KINDS.iter().find(|(at, bytes, ..)| begins(*at, bytes));
    Some(kind.map_or(("no picture", "copy the photo here again, as JPEG"), |k| (k.2, k.3)))
}
