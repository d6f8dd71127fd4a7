//! Which files of the shop folder are the owner's entries.

use crate::model::{Broken, Code, Failure, Finding, Place};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// The files to read, each by its path below the shop folder, with `/`; sorted.
#[derive(Default)]
pub(super) struct Walk {
    pub shop: Option<String>,
    pub stock: Option<String>,
    pub books: Vec<(i32, String)>,
    pub pieces: Vec<String>,
    pub orders: Vec<String>,
    /// The owner's own layouts.
    pub layouts: Vec<String>,
    /// Whatever lies in the owner's `fonts`.
    pub fonts: Vec<String>,
    /// About files that cannot be read at all, so that they have no place.
    pub findings: Vec<Finding>,
    pub broken: Vec<Broken>,
    /// What else lies where pieces do, and text files beside shop.toml: it may have been meant.
    others: Vec<String>,
}

/// The folder of the shop that the program writes into: nothing in it is read.
const OUTPUT: &str = "out";

/// Where pieces usually lie; they may lie anywhere.
const PIECES: &str = "pieces";

/// The same for orders.
const ORDERS: &str = "orders";

/// Endings of pictures, as telephones and cameras name them.
const PICTURES: [&str; 8] = ["jpg", "jpeg", "png", "webp", "heic", "heif", "tif", "tiff"];

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
    walk.look_over();
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
    Order,
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
        ["fonts", name] => (!is_about_a_font(name)).then_some(Role::Font),
        ["layouts" | "fonts", ..] => None,
        [.., "piece.toml"] => Some(Role::Piece),
        [.., "order.toml"] => Some(Role::Order),
        ["books", name] if name.ends_with(".toml") => Some(Role::Book),
        _ => None,
    }
}

/// What a name that is not read was meant to be: another case, or an ending that an editor put on.
/// `books` is spelled out, as only a book's folder matters; a piece may lie anywhere.
fn meant_as(parts: &[&str], is_folder: bool) -> Option<String> {
    let (name, folders) = parts.split_last()?;
    let plain = name.to_lowercase();
    if is_folder {
        let is_slip = folders.is_empty() && plain.as_str() != *name && plain == "books";
        return is_slip.then_some(plain);
    }
    let plain = plain.strip_suffix(".txt").unwrap_or(&plain);
    let is_year = plain
        .strip_suffix(".toml")
        .is_some_and(|stem| stem.len() == 4 && stem.bytes().all(|b| b.is_ascii_digit()));
    let named = |name: &str| {
        let folders = folders.iter().map(|folder| format!("{folder}/")).collect::<String>();
        Some(folders + name)
    };
    match folders {
        ["layouts", ..] | ["fonts", ..] => {
            (folders.len() == 1 && *name != plain && plain.ends_with(".typ"))
                .then(|| named(plain))?
        }
        [] if matches!(plain, "shop.toml" | "stock.toml") => named(plain),
        [] if is_year => Some(format!("books/{plain}")),
        ["books"] if is_year => named(plain),
        _ if matches!(plain, "piece.toml" | "order.toml") => named(plain),
        _ => None,
    }
}

/// What lies beside a font in what its makers hand out: its licence and what it says of itself.
fn is_about_a_font(name: &str) -> bool {
    let name = name.to_lowercase();
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    matches!(ending, "" | "txt" | "md" | "html" | "htm" | "pdf" | "rtf")
}

impl Walk {
    fn sort_in(&mut self, folder: &Path, entry: &DirEntry) {
        let below = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let lossy = below.to_string_lossy().replace('\\', "/");
        let parts: Vec<&str> = lossy.split('/').collect();
        if entry.depth() == 0 {
            return;
        }
        if entry.path_is_symlink() {
            return self.link(entry, &lossy, &parts);
        }
        let is_folder = entry.file_type().is_dir();
        let Some(role) = role(&parts).filter(|_| !is_folder) else {
            match meant_as(&parts, is_folder) {
                Some(meant) => self.misnamed(&lossy, &meant),
                None if !is_folder && (parts.len() == 1 || matches!(parts[0], PIECES | ORDERS)) => {
                    self.others.push(lossy);
                }
                None => {}
            }
            return;
        };
        if below.to_str().is_none() {
            return self.unread(Code::PathNotText, &lossy, "has a name that is not readable text");
        }
        if !entry.file_type().is_file() {
            return self.unread(Code::NotAFile, &lossy, "is not an ordinary file");
        }
        match role {
            Role::Shop => self.shop = Some(lossy),
            Role::Stock => self.stock = Some(lossy),
            Role::Piece => self.pieces.push(lossy),
            Role::Order => self.orders.push(lossy),
            Role::Layout => self.layouts.push(lossy),
            Role::Font => self.fonts.push(lossy),
            Role::Book => match year_of(parts[1]) {
                Some(year) => self.books.push((year, lossy)),
                None => self.unread(Code::BookName, &lossy, "is not named after a year"),
            },
        }
    }

    /// A link is not followed; where it may hide entries, that is said.
    fn link(&mut self, entry: &DirEntry, path: &str, parts: &[&str]) {
        let is_folder = entry.path().is_dir();
        // A folder of pieces or books, or a piece's own: figures would fall short without a word.
        let hides_entries =
            matches!(parts, ["pieces" | "books" | "orders"] | ["pieces" | "orders", _])
                && is_folder;
        if hides_entries || role(parts).is_some() || meant_as(parts, is_folder).is_some() {
            self.unread(Code::Link, path, "is a link, and links are not followed");
        } else if is_folder {
            let message = format!("`{path}` is a link to a folder, and links are not followed");
            let finding = Finding::warning(Code::Link, Place::NOWHERE, message);
            self.findings.push(finding.hint("move the folder here if pieces stand in it"));
        }
    }

    /// A file that is not read because of its name, though it was surely meant to be: no total may
    /// be short of it.
    fn misnamed(&mut self, path: &str, meant: &str) {
        let message = format!("`{path}` is not read because of its name");
        let finding = Finding::error(Code::Misnamed, Place::NOWHERE, message);
        self.findings.push(finding.hint(format!("name it `{meant}`")));
        self.set_aside(path);
    }

    fn unread(&mut self, code: Code, path: &str, why: &str) {
        let hint = match code {
            Code::PathNotText => "rename the folder with plain letters",
            Code::BookName => "name it like `books/2025.toml`, or move it out of `books`",
            Code::Link => "put the file or folder itself here",
            _ => "put the file itself here",
        };
        let finding = Finding::error(code, Place::NOWHERE, format!("`{path}` {why}"));
        self.findings.push(finding.hint(hint));
        self.set_aside(path);
    }

    /// A layout or a font holds no figures: no total falls short without it.
    fn set_aside(&mut self, path: &str) {
        let holds_figures = !["layouts/", "fonts/"].iter().any(|folder| path.starts_with(folder));
        if holds_figures {
            self.broken.push(Broken { path: path.to_owned(), since: None, lacks: None });
        }
    }
}

impl Walk {
    /// Files that were perhaps meant to be read, once it is known where the pieces are.
    fn look_over(&mut self) {
        let others = std::mem::take(&mut self.others);
        let mut homes = self.homes();
        let mut bare: BTreeSet<&str> = BTreeSet::new();
        for path in &others {
            let (folder, name) = path.rsplit_once('/').unwrap_or(("", path));
            let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
            let (ending, is_piece) = (ending.to_lowercase(), stem.eq_ignore_ascii_case("piece"));
            if folder.is_empty() {
                if ending == "toml" {
                    self.beside(path, stem);
                }
            } else if is_within(&homes, folder) {
                // The owner's own: the folder of a piece or an order may hold anything.
            } else if ending == "toml" && folder.split('/').next() == Some(ORDERS) {
                let home =
                    if folder == ORDERS { format!("{folder}/{stem}") } else { folder.to_owned() };
                self.misnamed(path, &format!("{home}/order.toml"));
                homes.insert(home);
            } else if ending == "toml" || is_piece && ending == "txt" {
                let alone = folder == PIECES && !is_piece;
                let home = if alone { format!("{folder}/{stem}") } else { folder.to_owned() };
                self.misnamed(path, &format!("{home}/piece.toml"));
                homes.insert(home);
            } else if PICTURES.contains(&ending.as_str()) {
                bare.insert(folder);
            }
        }
        for folder in bare.into_iter().filter(|folder| !is_within(&homes, folder)) {
            self.without_file(folder);
        }
        self.case_alone();
    }

    /// The folders that hold a piece's file, or one that was meant to be.
    fn homes(&self) -> BTreeSet<String> {
        let read = self.pieces.iter().chain(&self.orders).map(String::as_str);
        let files = read.chain(self.broken.iter().map(|file| file.path.as_str()));
        let homes = files.filter_map(|file| Some(file.rsplit_once('/')?.0));
        homes.filter(|home| !matches!(*home, PIECES | ORDERS)).map(str::to_owned).collect()
    }

    fn beside(&mut self, path: &str, stem: &str) {
        let message = format!("`{path}` is not read: beside shop.toml only stock.toml is");
        let hint = format!("a piece is `pieces/{stem}/piece.toml`, and a year `books/2025.toml`");
        self.findings.push(Finding::warning(Code::Misnamed, Place::NOWHERE, message).hint(hint));
    }

    fn without_file(&mut self, folder: &str) {
        let file = match folder.split('/').next() {
            Some(ORDERS) => "order.toml",
            _ => "piece.toml",
        };
        let message = format!("`{folder}` holds pictures and no {file}: it is in no figure");
        let hint = format!("write `{folder}/{file}`, or move the pictures to their piece");
        self.findings
            .push(Finding::warning(Code::PieceMissing, Place::NOWHERE, message).hint(hint));
    }

    /// Files whose paths differ in case alone: on many disks they are one.
    fn case_alone(&mut self) {
        let mut known: BTreeMap<String, &str> = BTreeMap::new();
        for path in &self.pieces {
            let Some(first) = known.insert(path.to_lowercase(), path) else { continue };
            let message = format!("`{first}` and `{path}` differ only in case");
            let hint = "rename one of the folders: on many disks the two are one";
            let finding = Finding::warning(Code::CaseAlone, Place::NOWHERE, message);
            self.findings.push(finding.hint(hint));
        }
    }
}

/// Whether a folder is one of these, or lies in one.
fn is_within(homes: &BTreeSet<String>, folder: &str) -> bool {
    let mut above = std::iter::successors(Some(folder), |at| Some(at.rsplit_once('/')?.0));
    above.any(|at| homes.contains(at))
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
