//! The record of what was made, and the journal that makes it hold through a run ended from outside.
//!
//! At rest there is only the record. Before a file takes its place, a line of the journal says from
//! what it is made and what its sum will be; the line is on the disk first. So whatever a run left,
//! the next one knows which contents are the program's own, and takes a file for up to date only
//! where its content is the one that was made from the same things.

use super::files::{Staging, is_plain, sync_folder};
use crate::model::Failure;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

pub const RECORD: &str = ".made.json";
pub const JOURNAL: &str = ".made.log";

/// Path below the output folder → what is known of the file there.
pub type Files = BTreeMap<String, Made>;

#[derive(Debug, Default, Serialize, Deserialize)]
struct Record {
    files: Files,
}

/// One file of the program.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Made {
    /// Hash of everything the file was made from.
    pub from: String,
    /// Sum of its content.
    pub sum: String,
    /// Sums of contents it may have instead, where a run was ended before it was written.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<String>,
}

impl Made {
    /// Whether a content of this sum is the program's own.
    pub fn owns(&self, sum: &str) -> bool {
        self.sum == sum || self.also.iter().any(|also| also == sum)
    }
}

/// A line of the journal: path, what it is made from, sum of its content.
type Line = (String, String, String);

/// The journal of one output folder. One run at a time has it.
pub struct Journal {
    folder: PathBuf,
    /// Opened with the first line.
    file: Option<File>,
    /// The record as it stands on the disk.
    written: Vec<u8>,
    pub files: Files,
}

impl Journal {
    /// Reads the record and what a run ended from outside added to it. What cannot be read counts
    /// as not there, and so does a path that is not plainly below the output folder.
    pub fn open(folder: &Path) -> Result<Journal, Failure> {
        let written = read(&folder.join(RECORD))?;
        let record: Record = serde_json::from_slice(&written).unwrap_or_default();
        let mut files = record.files;
        files.retain(|path, _| is_plain(path));
        for line in read(&folder.join(JOURNAL))?.split(|&byte| byte == b'\n') {
            if let Ok((path, from, sum)) = serde_json::from_slice::<Line>(line)
                && is_plain(&path)
            {
                expect(&mut files, path, from, sum);
            }
        }
        Ok(Journal { folder: folder.to_owned(), file: None, written, files })
    }

    /// Notes files that are about to be written; they may be once this is done.
    pub fn note(&mut self, lines: &[Line]) -> Result<(), Failure> {
        let mut text = Vec::new();
        for line in lines {
            // A line that a run did not write to its end stays a line of its own.
            text.push(b'\n');
            serde_json::to_writer(&mut text, line).expect("text only");
        }
        text.push(b'\n');
        let path = self.folder.join(JOURNAL);
        let failed = |e| Failure::new("write", &path, e);
        let file = match &mut self.file {
            Some(file) => file,
            none => {
                let file = OpenOptions::new().append(true).create(true).open(&path);
                let file = none.insert(file.map_err(failed)?);
                sync_folder(&self.folder);
                file
            }
        };
        file.write_all(&text).and_then(|()| file.sync_data()).map_err(failed)?;
        for (path, from, sum) in lines {
            expect(&mut self.files, path.clone(), from.clone(), sum.clone());
        }
        Ok(())
    }

    /// Writes the record as the files now are, and ends the journal.
    pub fn close(self, staging: &Staging) -> Result<(), Failure> {
        let record = Record { files: self.files };
        let text = serde_json::to_vec_pretty(&record).expect("text and numbers only");
        let is_new = text != self.written && !(record.files.is_empty() && self.written.is_empty());
        if is_new {
            staging.put(&self.folder.join(RECORD), &text)?;
            sync_folder(&self.folder);
        }
        match fs::remove_file(self.folder.join(JOURNAL)) {
            Err(e) if e.kind() != ErrorKind::NotFound => {
                Err(Failure::new("remove", &self.folder.join(JOURNAL), e))
            }
            _ => Ok(()),
        }
    }
}

/// From now on the file has this content, or still one of those it may have had.
fn expect(files: &mut Files, path: String, from: String, sum: String) {
    let before = files.remove(&path);
    let mut also: Vec<String> =
        before.into_iter().flat_map(|made| std::iter::once(made.sum).chain(made.also)).collect();
    also.retain(|known| *known != sum);
    also.sort();
    also.dedup();
    files.insert(path, Made { from, sum, also });
}

fn read(path: &Path) -> Result<Vec<u8>, Failure> {
    match fs::read(path) {
        Ok(bytes) => Ok(bytes),
        Err(e) if e.kind() == ErrorKind::NotFound => Ok(Vec::new()),
        Err(e) => Err(Failure::new("read", path, e)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(path: &str, from: &str, sum: &str) -> Line {
        (path.to_owned(), from.to_owned(), sum.to_owned())
    }

    #[test]
    fn a_run_ended_from_outside_is_known_of() {
        let folder = tempfile::tempdir().unwrap();
        let staging = Staging::open(folder.path().join(".part")).unwrap();
        let mut first = Journal::open(folder.path()).unwrap();
        first.note(&[line("a.pdf", "one", "1")]).unwrap();
        first.close(&staging).unwrap();
        let mut killed = Journal::open(folder.path()).unwrap();
        killed.note(&[line("a.pdf", "two", "2"), line("b.pdf", "two", "3")]).unwrap();
        drop(killed);
        // A line that was not written to its end, and lines of a stranger.
        let journal = folder.path().join(JOURNAL);
        let mut text = fs::read_to_string(&journal).unwrap();
        text += "[\"../../victim\",\"x\",\"y\"]\n{}\n[\"c.pdf\",\"thr";
        fs::write(&journal, text).unwrap();
        let mut next = Journal::open(folder.path()).unwrap();
        assert_eq!(next.files.keys().collect::<Vec<_>>(), ["a.pdf", "b.pdf"]);
        let made = &next.files["a.pdf"];
        assert!(made.from == "two" && made.owns("1") && made.owns("2") && !made.owns("3"));
        next.note(&[line("c.pdf", "three", "4")]).unwrap();
        assert!(Journal::open(folder.path()).unwrap().files.contains_key("c.pdf"));
        next.close(&staging).unwrap();
        assert!(!journal.exists());
    }

    #[test]
    fn a_record_names_nothing_outside_of_its_folder() {
        let folder = tempfile::tempdir().unwrap();
        for text in [
            r#"{"files":{"../../victim":{"from":"","sum":""},"/etc/x":{"from":"","sum":""}}}"#,
            r#"{"files":{"../v":{"from":"","bytes":1}}}"#,
            "[]",
            "",
            "{",
            "\0\0",
        ] {
            fs::write(folder.path().join(RECORD), text).unwrap();
            assert!(Journal::open(folder.path()).unwrap().files.is_empty(), "{text}");
        }
    }
}
