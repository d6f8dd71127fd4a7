//! The law of hints, for every case: what a hint says to write is written, and the shop is read
//! again. That finding is gone and none is new.

use super::cases::cases;
use dovetally::model::{Edit, Finding, Offer};
use dovetally::read::{Reading, read};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

type Told = BTreeMap<(&'static str, String), usize>;

fn told(reading: &Reading) -> Told {
    let mut told = Told::new();
    for finding in &reading.findings {
        *told.entry((finding.code.word(), finding.message.clone())).or_default() += 1;
    }
    told
}

/// Copies a shop, links left out.
pub fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.unwrap();
        let target = to.join(entry.path().strip_prefix(from).unwrap());
        match entry.file_type().is_dir() {
            true => fs::create_dir_all(target).unwrap(),
            false => drop(fs::copy(entry.path(), target).unwrap()),
        }
    }
}

/// Makes an edit in a shop folder and gives back the text that stood in its file.
fn make(folder: &Path, reading: &Reading, edit: &Edit) -> (std::path::PathBuf, String) {
    let source = reading.sources.get(edit.place.file).unwrap();
    let path = folder.join(&source.path);
    let mut text = source.text.clone();
    text.replace_range(edit.place.start as usize..edit.place.end as usize, &edit.text);
    fs::write(&path, text).unwrap();
    (path, source.text.clone())
}

/// What is wrong with the hint of a finding, by making its edit in `folder`.
pub fn broken_law(folder: &Path, reading: &Reading, finding: &Finding) -> Option<String> {
    let hint = finding.hint.as_ref()?;
    let Offer::Write(edit) = &hint.offer else {
        let says_write = hint.starts_with("write `");
        return says_write.then(|| format!("says write and has no edit: {finding:?}"));
    };
    let (path, text) = make(folder, reading, edit);
    let after = told(&read(folder).unwrap());
    fs::write(path, text).unwrap();
    let mut before = told(reading);
    *before.get_mut(&(finding.code.word(), finding.message.clone())).unwrap() -= 1;
    let grew =
        |said: &(&str, String), times: &usize| before.get(said).is_none_or(|was| times > was);
    let new = after.iter().find(|(said, times)| !UNCOVERS.contains(&said.0) && grew(said, times));
    new.map(|(new, _)| format!("{} → {new:?}\n    {hint}", finding.message))
}

/// A case in which an edit is right and lets another fault of its file be seen.
const UNCOVERS: [&str; 1] = ["sold-before-bought"];

#[test]
fn what_a_hint_says_to_write_is_right() {
    let (mut amiss, mut made) = (Vec::new(), 0);
    for case in cases() {
        let folder = tempfile::tempdir().unwrap();
        copy(&case, folder.path());
        let reading = read(folder.path()).unwrap();
        made += reading.findings.iter().filter_map(|f| f.hint.as_ref()?.edit()).count();
        let of_case = reading.findings.iter();
        amiss.extend(of_case.filter_map(|finding| broken_law(folder.path(), &reading, finding)));
    }
    assert!(amiss.is_empty(), "{}", amiss.join("\n"));
    assert!(made > 40, "only {made} edits: the law was hardly tried");
}
