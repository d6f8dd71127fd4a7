//! The output folder: what is written over and removed there, and what never is.

use crate::shell::{Said, dovetally, files_below, shop_of};
use dovetally::cli::Status;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const SHOP: (&str, &str) = ("shop.toml", "name = \"Test Shop\"\n");
const PINE: (&str, &str) = ("pieces/pine/piece.toml", "title = \"Pine washstand\"\n");
const OAK: (&str, &str) = ("pieces/oak/piece.toml", "title = \"Oak table\"\n");

fn text_of(files: &[(String, Vec<u8>)]) -> Vec<&str> {
    files.iter().map(|(path, _)| path.as_str()).collect()
}

fn made(shop: &TempDir) -> Said {
    let said = dovetally(shop.path(), &["make"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    said
}

/// As the record keeps it.
fn sum_of(bytes: &[u8]) -> String {
    use siphasher::sip128::{Hasher128, SipHasher13};
    use std::hash::Hasher;
    let mut hash = SipHasher13::new();
    hash.write(bytes);
    let sum = hash.finish128();
    format!("{:016x}{:016x}", sum.h1, sum.h2)
}

#[test]
fn a_record_of_a_stranger_removes_nothing() {
    let home = tempfile::tempdir().unwrap();
    let shop = home.path().join("shop");
    let absolute = home.path().join("victim").display().to_string();
    for (path, text) in [SHOP, PINE, ("note.txt", "mine"), ("out/letter.txt", "mine too")] {
        fs::create_dir_all(shop.join(path).parent().unwrap()).unwrap();
        fs::write(shop.join(path), text).unwrap();
    }
    fs::write(home.path().join("victim"), "mine").unwrap();
    let before = files_below(home.path());
    for victim in [
        "../../victim",
        &absolute,
        "../note.txt",
        "../pieces/pine/piece.toml",
        "letter.txt",
        "./letter.txt",
    ] {
        for made in [
            "{\"from\":\"\",\"bytes\":4}".to_owned(),
            "{\"from\":\"\",\"sum\":\"\"}".to_owned(),
            format!("{{\"from\":\"\",\"sum\":\"{}\"}}", "0".repeat(32)),
            // Who packs a shop knows the bytes he wants removed, and so their sum.
            format!("{{\"from\":\"\",\"sum\":\"{}\"}}", sum_of(b"mine")),
            format!("{{\"from\":\"\",\"sum\":\"{}\"}}", sum_of(PINE.1.as_bytes())),
        ] {
            let record = format!("{{\"files\":{{\"{victim}\":{made}}}}}");
            fs::write(shop.join("out/.made.json"), record).unwrap();
            let journal = format!("\n[\"{victim}\",\"\",\"\"]\n");
            fs::write(shop.join("out/.made.log"), journal).unwrap();
            let said = dovetally(&shop, &["make"]);
            assert_eq!(said.status, Status::Done, "{}", said.err);
            for (path, bytes) in &before {
                let now = fs::read(home.path().join(path)).unwrap_or_default();
                assert!(now == *bytes, "{victim} named in the record changed {path}");
            }
            fs::remove_dir_all(shop.join("out/pieces")).unwrap();
        }
    }
}

#[test]
fn a_paper_the_owner_changed_is_named_and_left() {
    let shop = shop_of(&[SHOP, PINE, OAK]);
    made(&shop);
    let sheet = shop.path().join("out/pieces/pine/listing-sheet.pdf");
    let own = fs::read(&sheet).unwrap();
    // As long as before: its length tells nothing.
    let changed: Vec<u8> = own.iter().map(|byte| byte ^ 1).collect();
    fs::write(&sheet, &changed).unwrap();
    for words in [&["make"][..], &["make", "--force"]] {
        let said = dovetally(shop.path(), words);
        assert_eq!(said.status, Status::Errors, "{}", said.err);
        assert!(said.err.contains("out-taken"), "{}", said.err);
        assert!(said.err.contains("`out/pieces/pine/listing-sheet.pdf`"), "{}", said.err);
        assert!(fs::read(&sheet).unwrap() == changed, "the owner's changes are gone");
    }
    fs::remove_file(&sheet).unwrap();
    made(&shop);
    assert!(fs::read(&sheet).unwrap() == own);
    // One whose piece is gone is left too, and the others are removed.
    fs::write(shop.path().join("out/pieces/oak/care-card.pdf"), "own words").unwrap();
    fs::remove_dir_all(shop.path().join("pieces/oak")).unwrap();
    let said = made(&shop);
    assert!(said.err.contains("`out/pieces/oak/care-card.pdf` left"), "{}", said.err);
    let left = files_below(&shop.path().join("out/pieces/oak"));
    assert_eq!(text_of(&left), ["care-card.pdf"]);
}

#[test]
fn the_owners_own_file_where_a_paper_should_go_is_named_and_left() {
    let own = ("out/pieces/pine/care-card.pdf", "a letter");
    let shop = shop_of(&[SHOP, PINE, own, ("out/pieces/pine/shop-record.pdf/note", "mine")]);
    let said = dovetally(shop.path(), &["make"]);
    assert_eq!(said.status, Status::Errors, "{}", said.err);
    for path in ["care-card.pdf", "shop-record.pdf"] {
        let named = format!("`out/pieces/pine/{path}` is not as this program wrote it");
        assert!(said.err.contains(&named), "{}", said.err);
    }
    assert_eq!(fs::read_to_string(shop.path().join(own.0)).unwrap(), "a letter");
    assert!(shop.path().join("out/pieces/pine/listing-sheet.pdf").is_file());
}

#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link() {
    use std::os::unix::fs::symlink;
    for link in
        ["out", "out/.pictures", "out/.made.json", "out/.made.log", "out/.made.lock", "out/.part"]
    {
        let elsewhere = shop_of(&[("0.part", "mine"), ("note", "mine")]);
        let shop = shop_of(&[SHOP, PINE]);
        let at = shop.path().join(link);
        fs::create_dir_all(at.parent().unwrap()).unwrap();
        let to = if link.contains("made") {
            elsewhere.path().join("note")
        } else {
            elsewhere.path().into()
        };
        symlink(to, at).unwrap();
        let said = dovetally(shop.path(), &["make"]);
        assert_eq!(said.status, Status::Errors, "{link}: {}", said.err);
        assert!(said.err.contains(&format!("`{link}` is a link")), "{link}: {}", said.err);
        assert_eq!(text_of(&files_below(elsewhere.path())), ["0.part", "note"], "{link}");
        assert_eq!(fs::read(elsewhere.path().join("note")).unwrap(), b"mine", "{link}");
    }
    for link in ["out/pieces", "out/pieces/pine", "out/pieces/pine/care-card.pdf"] {
        let elsewhere = shop_of(&[("pine/care-card.pdf", "mine"), ("care-card.pdf", "mine")]);
        let shop = shop_of(&[SHOP, PINE]);
        made(&shop);
        let at = shop.path().join(link);
        if at.is_dir() {
            fs::remove_dir_all(&at).unwrap()
        } else {
            fs::remove_file(&at).unwrap()
        }
        let to = if link.ends_with("pdf") {
            elsewhere.path().join("care-card.pdf")
        } else {
            elsewhere.path().into()
        };
        symlink(to, at).unwrap();
        let said = dovetally(shop.path(), &["make", "--force"]);
        assert_eq!(said.status, Status::Errors, "{link}: {}", said.err);
        assert!(said.err.contains(&format!("`{link}` is a link")), "{link}: {}", said.err);
        // Nor is anything removed through it.
        fs::remove_dir_all(shop.path().join("pieces/pine")).unwrap();
        made(&shop);
        let left = files_below(elsewhere.path());
        assert_eq!(text_of(&left), ["care-card.pdf", "pine/care-card.pdf"], "{link}");
        assert!(left.iter().all(|(_, bytes)| bytes == b"mine"), "{link}");
    }
}

#[test]
fn what_could_not_be_made_anew_is_not_called_unneeded() {
    let shop = shop_of(&[SHOP, PINE]);
    made(&shop);
    fs::write(shop.path().join(PINE.0), "title = \"漢 washstand\"\n").unwrap();
    let said = dovetally(shop.path(), &["make"]);
    assert_eq!(said.status, Status::Errors);
    assert!(said.err.contains("removed that could not be made anew"), "{}", said.err);
    assert!(!said.err.contains("no piece needs"), "{}", said.err);
    fs::remove_dir_all(shop.path().join("pieces/pine")).unwrap();
    assert!(made(&shop).err.contains("removed that no piece needs any more"));
}

#[test]
fn a_second_run_waits_for_the_first_and_says_so() {
    let shop = shop_of(&[SHOP, PINE]);
    made(&shop);
    let lock =
        fs::OpenOptions::new().append(true).open(shop.path().join("out/.made.lock")).unwrap();
    lock.lock().unwrap();
    let said = std::thread::scope(|scope| {
        let second = scope.spawn(|| dovetally(shop.path(), &["make"]));
        std::thread::sleep(std::time::Duration::from_millis(700));
        assert!(!second.is_finished(), "it did not wait");
        lock.unlock().unwrap();
        second.join().unwrap()
    });
    assert_eq!(said.status, Status::Done);
    assert!(said.err.contains("another run is at work"), "{}", said.err);
}

#[test]
fn folders_are_never_called_what_some_system_takes_for_a_device() {
    let shop = shop_of(&[SHOP, ("pieces/con/piece.toml", "title = \"Console\"\n")]);
    made(&shop);
    assert!(shop.path().join("out/pieces/piece-con/care-card.pdf").is_file());
}

/// Whatever the record is, the papers become those of a clean run, or it is said which cannot.
#[test]
fn a_spoiled_record_is_made_anew() {
    let shop = shop_of(&[SHOP, PINE]);
    made(&shop);
    let out = shop.path().join("out");
    let clean = files_below(&out);
    for record in ["", "{", "[]", "{\"files\":{}}", "{\"files\":3}", "\0"] {
        for name in [".made.json", ".made.log"] {
            fs::write(out.join(name), record).unwrap();
            made(&shop);
            let now = files_below(&out);
            assert!(now == clean, "{name} was {record:?}: {:?}", text_of(&now));
        }
    }
}

/// The whole shop folder with its output, carried to another place.
#[test]
fn a_copy_of_the_folder_is_up_to_date() {
    let shop = shop_of(&[SHOP, PINE]);
    made(&shop);
    let copy = tempfile::tempdir().unwrap();
    for (path, bytes) in files_below(shop.path()) {
        let to = copy.path().join(&path);
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        fs::write(to, bytes).unwrap();
    }
    assert!(made(&copy).err.starts_with("0 files written"));
    assert!(Path::new(&copy.path().join("out/.made.json")).is_file());
}
