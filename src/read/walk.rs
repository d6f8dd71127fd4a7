//! Which files of the shop folder are the owner's entries.

use crate::model::{Broken, Failure, Finding, Place};
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// The files to read, each by its path below the shop folder, with `/`; sorted.
#[derive(Default)]
pub(super) struct Walk {
    pub shop: Option<String>,
    pub stock: Option<String>,
    pub books: Vec<(i32, String)>,
    pub pieces: Vec<String>,
    /// The owner's own layouts.
    pub layouts: Vec<String>,
    /// Whatever lies in the owner's `fonts`.
    pub fonts: Vec<String>,
    /// About files that cannot be read at all, so that they have no place.
    pub findings: Vec<Finding>,
    pub broken: Vec<Broken>,
}

/// The folder of the shop that the program writes into: nothing in it is read.
const OUTPUT: &str = "out";

/// The shop's own wording of a description, beside its layouts.
pub(super) const WORDING_FILE: &str = "description.txt";

/// Books before or after these years are slips of the hand.
const YEARS: std::ops::RangeInclusive<i32> = 1990..=2100;

/// Looks through the shop folder. Links are not followed, so a loop of links ends.
///
/// # Errors
/// A folder that cannot be listed.
pub(super) fn walk(folder: &Path) -> Result<Walk, Failure> {
    let mut walk = Walk::default();
    let entries = WalkDir::new(folder).sort_by_file_name().into_iter();
    for entry in entries.filter_entry(holds_entries) {
        let entry = entry.map_err(|error| {
            Failure::new("read the folder", error.path().unwrap_or(folder), &error)
        })?;
        walk.sort_in(folder, &entry);
    }
    Ok(walk)
}

fn holds_entries(entry: &DirEntry) -> bool {
    let name = entry.file_name().to_string_lossy();
    let is_output = entry.depth() == 1 && name == OUTPUT && entry.file_type().is_dir();
    entry.depth() == 0 || !(name.starts_with('.') || is_output)
}

/// What a file is by its name and where it stands.
enum Role {
    Shop,
    Stock,
    Book,
    Piece,
    Layout,
    Font,
}

fn role(parts: &[&str]) -> Option<Role> {
    match parts {
        ["shop.toml"] => Some(Role::Shop),
        ["stock.toml"] => Some(Role::Stock),
        ["layouts", name] => {
            (name.ends_with(".typ") || *name == WORDING_FILE).then_some(Role::Layout)
        }
        ["fonts", _] => Some(Role::Font),
        ["layouts" | "fonts", ..] => None,
        [.., "piece.toml"] => Some(Role::Piece),
        ["books", name] if name.ends_with(".toml") => Some(Role::Book),
        _ => None,
    }
}

impl Walk {
    fn sort_in(&mut self, folder: &Path, entry: &DirEntry) {
        let below = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let lossy = below.to_string_lossy().replace('\\', "/");
        let parts: Vec<&str> = lossy.split('/').collect();
        if entry.path_is_symlink() {
            return self.link(entry, &lossy, role(&parts).is_some());
        }
        let Some(role) = role(&parts).filter(|_| !entry.file_type().is_dir()) else { return };
        if below.to_str().is_none() {
            return self.unread("path-not-text", &lossy, "has a name that is not readable text");
        }
        if !entry.file_type().is_file() {
            return self.unread("not-a-file", &lossy, "is not an ordinary file");
        }
        match role {
            Role::Shop => self.shop = Some(lossy),
            Role::Stock => self.stock = Some(lossy),
            Role::Piece => self.pieces.push(lossy),
            Role::Layout => self.layouts.push(lossy),
            Role::Font => self.fonts.push(lossy),
            Role::Book => match year_of(parts[1]) {
                Some(year) => self.books.push((year, lossy)),
                None => self.unread("book-name", &lossy, "is not named after a year"),
            },
        }
    }

    /// A link is not followed; where it may hide entries, that is said.
    fn link(&mut self, entry: &DirEntry, path: &str, is_entry: bool) {
        if is_entry {
            self.unread("link", path, "is a link, and links are not followed");
        } else if entry.path().is_dir() {
            let message = format!("`{path}` is a link to a folder, and links are not followed");
            let finding = Finding::warning("link", Place::NOWHERE, message);
            self.findings.push(finding.hint("move the folder here if pieces stand in it"));
        }
    }

    fn unread(&mut self, code: &'static str, path: &str, why: &str) {
        let hint = match code {
            "path-not-text" => "rename the folder with plain letters",
            "book-name" => "name it like `books/2025.toml`, or move it out of `books`",
            _ => "put the file itself here",
        };
        let finding = Finding::error(code, Place::NOWHERE, format!("`{path}` {why}"));
        self.findings.push(finding.hint(hint));
        // A layout or a font holds no figures: no total falls short without it.
        if !path.starts_with("layouts/") && !path.starts_with("fonts/") {
            self.broken.push(Broken { path: path.to_owned(), since: None, lacks: None });
        }
    }
}

fn year_of(name: &str) -> Option<i32> {
    let digits = name.strip_suffix(".toml").filter(|digits| digits.len() == 4)?;
    let plain = digits.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| digits.parse().ok()).flatten().filter(|year| YEARS.contains(year))
}

/// The nearest folder upwards that holds shop.toml.
pub(super) fn find_shop(start: &Path) -> Option<PathBuf> {
    let start = start.canonicalize().ok()?;
    start.ancestors().find(|folder| folder.join("shop.toml").is_file()).map(Path::to_owned)
}
