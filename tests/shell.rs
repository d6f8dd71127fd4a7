//! Runs the program as typed, against a copy of a shop folder, and keeps what it said.

use dovetally::cli::{Screen, Status, run};
use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

/// What a run said and how it ended.
pub struct Said {
    pub status: Status,
    pub out: String,
    pub err: String,
}

#[derive(Clone, Default)]
struct Kept(Arc<Mutex<Vec<u8>>>);

impl Write for Kept {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.lock().unwrap().write(bytes)
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Kept {
    fn text(&self) -> String {
        String::from_utf8(self.0.lock().unwrap().clone()).unwrap()
    }
}

/// Runs `dovetally --shop SHOP WORDS…`.
pub fn dovetally(shop: &Path, words: &[&str]) -> Said {
    let mut typed: Vec<OsString> = vec!["dovetally".into(), "--shop".into(), shop.into()];
    typed.extend(words.iter().map(OsString::from));
    typed_as(typed)
}

/// The built program, to typeset a shop's own layouts with: this one is the tests'.
pub fn name_program() {
    dovetally::cli::set_program(Path::new(env!("CARGO_BIN_EXE_dovetally")));
}

pub fn typed_as(typed: Vec<OsString>) -> Said {
    name_program();
    let (out, err) = (Kept::default(), Kept::default());
    let mut screen = Screen::new(Box::new(out.clone()), Box::new(err.clone()));
    let status = run(typed, &mut screen);
    Said { status, out: out.text(), err: err.text() }
}

/// The demo shop of the repository.
pub fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("projects-demo")
}

/// A copy of a shop folder that may be broken and written to; without its output.
pub fn copy_of(shop: &Path) -> tempfile::TempDir {
    let copy = tempfile::tempdir().unwrap();
    copy_folder(shop, copy.path());
    copy
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_name() == "out" {
            continue;
        }
        if entry.file_type().unwrap().is_dir() {
            copy_folder(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// A small shop folder of the files given.
pub fn shop_of(files: &[(&str, &str)]) -> tempfile::TempDir {
    let shop = tempfile::tempdir().unwrap();
    for (path, text) in files {
        let path = shop.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    shop
}

/// Every file below a folder with its bytes, by its path with `/`, in order.
pub fn files_below(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut files = Vec::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(next).unwrap() {
            let entry = entry.unwrap();
            if entry.file_type().unwrap().is_dir() {
                open.push(entry.path());
            } else {
                let path = entry.path();
                let name = path.strip_prefix(folder).unwrap().to_string_lossy().replace('\\', "/");
                files.push((name, fs::read(&path).unwrap()));
            }
        }
    }
    files.sort();
    files
}
