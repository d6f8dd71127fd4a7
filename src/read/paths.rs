//! Keys that name a file beside the one they stand in: a photo or a receipt.

use super::table::Table;
use super::text::TEXT;
use super::value::Reader;
use super::words::{as_value, meant};
use crate::model::{At, Code, Finding, Hint, Severity};
use std::fs;
use std::path::Path;

impl Table<'_> {
    /// A file that belongs to an entry: its path below the shop folder. The year lists one that is
    /// not there among what lacks a record.
    pub fn receipt(&self) -> Option<At<String>> {
        self.may("receipt", &Reader { example: "\"receipts/sale.jpg\"", ..TEXT })
            .map(|path| self.record("receipt", path))
    }

    /// A file that proves what is written: its path below the shop folder. One that is not there is
    /// only a warning, as no figure of the form is made from it.
    pub fn record(&self, key: &str, written: At<String>) -> At<String> {
        self.file(key, written, true)
    }

    /// A picture: no figure hangs on it, so that one that is not there takes nothing else along.
    pub fn picture(&self, key: &str, written: At<String>) -> At<String> {
        self.file(key, written, false)
    }

    /// Resolves a path against the folder of the file it stands in. One that leaves the shop
    /// folder is an error; one that leads to no file is a warning, and a receipt is noted as lost.
    fn file(&self, key: &str, written: At<String>, is_receipt: bool) -> At<String> {
        if written.value.is_empty() {
            return written;
        }
        let document = self.document;
        let Some(path) = below(document.folder, &written.value) else {
            document.say(self.outside(key, &written));
            return written;
        };
        match document.setting.folder.join(&path).canonicalize() {
            Ok(real) if !real.starts_with(&document.setting.folder) => {
                document.say(self.outside(key, &written));
            }
            Ok(real) if real.is_file() && !(is_receipt && is_empty(&real)) => {}
            found => {
                let finding = match found.is_ok_and(|real| real.is_file()) {
                    true => nothing_in(&path, &written),
                    false => self.no_file(key, &path, &written),
                };
                let finding = Finding { severity: Severity::Warning, ..finding };
                match is_receipt {
                    true => document.lost(path.clone(), finding),
                    false => document.say(finding),
                }
            }
        }
        At::new(path, written.place)
    }

    fn outside(&self, key: &str, written: &At<String>) -> Finding {
        let name = written.value.rsplit(['/', '\\']).next().unwrap_or("name.jpg");
        let message = format!("`{}` leads out of the shop folder", written.value);
        Finding::error(Code::PathOutside, written.place, message)
            .label("must stay inside the shop folder")
            .hint(format!(
                "copy the file into the folder of this file and name it as `{key} = \"{name}\"`"
            ))
    }

    fn no_file(&self, key: &str, path: &str, written: &At<String>) -> Finding {
        let full = self.document.setting.folder.join(path);
        if full.is_dir() {
            return Finding::error(
                Code::NoSuchFile,
                written.place,
                format!("`{path}` is a folder"),
            )
            .label("not a file")
            .hint(format!(
                "name the file in it, such as `{key} = \"{}/name.jpg\"`",
                written.value
            ));
        }
        Finding::error(Code::NoSuchFile, written.place, format!("there is no file `{path}`"))
            .label("leads nowhere")
            .hint(nearest_beside(&full, key, written).unwrap_or_else(|| {
                Hint::say(format!("put the file there, or remove the line `{key} = …`"))
            }))
    }
}

fn is_empty(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|about| about.len() == 0)
}

/// A copy that went wrong: it proves nothing.
fn nothing_in(path: &str, written: &At<String>) -> Finding {
    Finding::error(Code::NoSuchFile, written.place, format!("the file `{path}` is empty"))
        .label("holds nothing")
        .hint("copy the receipt there again")
}

/// The file of the same folder whose name is nearest.
fn nearest_beside(path: &Path, key: &str, written: &At<String>) -> Option<Hint> {
    let entries = fs::read_dir(path.parent()?).ok()?.filter_map(Result::ok);
    let files = entries.filter(|entry| entry.path().is_file());
    let mut names: Vec<String> =
        files.filter_map(|entry| entry.file_name().into_string().ok()).collect();
    names.sort();
    let folder = written.value.rsplit_once('/').map(|(folder, _)| format!("{folder}/"));
    let folder = folder.unwrap_or_default();
    let typed = |near: &str| as_value(key)(&format!("{folder}{near}"));
    let name = path.file_name()?.to_str()?;
    meant(name, written.place, names.iter().map(String::as_str), typed)
}

/// A path below the shop folder, from the folder of a file and what is written in it; nothing
/// where it leads out. Purely by the words: nothing is looked up.
pub(super) fn below(folder: &str, written: &str) -> Option<String> {
    let drive = written.as_bytes().get(1) == Some(&b':');
    if written.starts_with('/') || written.contains('\\') || drive {
        return None;
    }
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in written.split('/') {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop()?),
            part => parts.push(part),
        }
    }
    Some(parts.join("/"))
}
