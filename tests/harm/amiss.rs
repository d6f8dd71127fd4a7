//! Folders and files in which money would be missing, or that would speak to the terminal.

use crate::folders::Folder;
use crate::shell::{Said, dovetally, typed_as};
use dovetally::cli::Status;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn shop() -> Folder {
    Folder::new().bought("pine", "2025-02-01", "35", Some(("2025-03-01", "240"))).book(
        2025,
        "[[expense]]\non = 2025-04-01\nwhat = \"rent\"\ncategory = \"rent\"\namount = 100\n",
    )
}

/// The same entries under names that are not read: each is named with what to call it, and no year
/// has figures without them.
#[test]
fn what_is_not_read_because_of_its_name_refuses_the_year() {
    for (from, to, meant) in [
        ("pieces/pine/piece.toml", "pieces/pine/Piece.toml", "pieces/pine/piece.toml"),
        ("pieces/pine/piece.toml", "pieces/pine/PIECE.TOML", "pieces/pine/piece.toml"),
        ("pieces/pine/piece.toml", "pieces/pine/piece.toml.txt", "pieces/pine/piece.toml"),
        ("books/2025.toml", "books/2025.TOML", "books/2025.toml"),
        ("books/2025.toml", "books/2025.toml.txt", "books/2025.toml"),
        ("books/2025.toml", "2025.toml", "books/2025.toml"),
        ("books", "Books", "books"),
    ] {
        let written = shop().written();
        assert!(!written.year(2025).is_null());
        fs::rename(written.path().join(from), written.path().join(to)).unwrap();
        let said = written.refused(2025);
        assert!(said.contains(to), "{to}: {said}");
        let check = written.run(&["check"]);
        assert_eq!(check.status, Status::Errors);
        assert!(check.err.contains(&format!("name it `{meant}`")), "{to}: {}", check.err);
        fs::rename(written.path().join(to), written.path().join(from)).unwrap();
        assert!(!written.year(2025).is_null());
    }
}

#[cfg(unix)]
#[test]
fn a_file_that_was_perhaps_meant_to_be_a_piece_is_named() {
    let said = |path: &str, text: &str| {
        let shop = shop().file(path, text).written();
        (shop.run(&["check"]), shop.run(&["year", "2025"]).status)
    };
    for (path, meant) in [
        ("pieces/chair.toml", "`pieces/chair/piece.toml`"),
        ("pieces/chair/piece.txt", "`pieces/chair/piece.toml`"),
        ("pieces/chair/chair.toml", "`pieces/chair/piece.toml`"),
    ] {
        let (check, year) = said(path, "title = \"Chair\"\n");
        assert!(check.err.contains("[misnamed]") && check.err.contains(meant), "{}", check.err);
        assert_eq!(year, Status::Errors, "{path}: the year may be short of it");
    }
    for (path, code) in [
        ("pieces/chair/front.JPG", "[piece-missing]"),
        ("chair.toml", "[misnamed]"),
        ("pieces/PINE/piece.toml", "[case-alone]"),
    ] {
        let (check, _) = said(path, "title = \"Chair\"\n");
        assert!(check.err.contains(code), "{path}: {}", check.err);
    }
    for path in ["pieces/pine/old/notes.toml", "pieces/pine/photos/a.jpg", "books/scan.jpg"] {
        let (check, _) = said(path, "x = 1\n");
        let quiet = ["[misnamed]", "[piece-missing]"].iter().all(|code| !check.err.contains(code));
        assert!(quiet, "{path}: {}", check.err);
    }
}

#[test]
fn pieces_and_books_behind_a_link_refuse_the_year() {
    use std::os::unix::fs::symlink;
    for name in ["books", "pieces", "pieces/pine"] {
        let written = shop().written();
        let elsewhere = tempfile::tempdir().unwrap();
        fs::rename(written.path().join(name), elsewhere.path().join("moved")).unwrap();
        symlink(elsewhere.path().join("moved"), written.path().join(name)).unwrap();
        let said = written.refused(2025);
        assert!(said.contains(name), "{name}: {said}");
    }
    // A link to other things is said, and no more; nor is the shop's own folder a link in itself.
    let written = shop().written();
    let elsewhere = tempfile::tempdir().unwrap();
    symlink(elsewhere.path(), written.path().join("photos")).unwrap();
    assert!(!written.year(2025).is_null());
    let link = elsewhere.path().join("shop");
    symlink(written.path(), &link).unwrap();
    let said = dovetally(&link, &["check"]);
    assert!(!said.err.contains("`` is a link"), "{}", said.err);
    assert_eq!(said.status, Status::Done, "{}", said.err);
}

fn with_export(export: &str) -> Said {
    let shop = Folder::shop("[bank]\ndate = \"Date\"\namount = \"Amount\"\ntext = \"Text\"")
        .bought("pine", "2025-02-01", "35", Some(("2025-03-01", "500")))
        .book(2025, "[bank]\nfile = \"bank.csv\"\n")
        .file("books/bank.csv", export)
        .written();
    shop.run(&["year", "2025"])
}

#[test]
fn an_export_in_which_rows_run_together_is_an_error() {
    let rows = "Date,Text,Amount\n2025-03-02,oak chair,500.00\n2025-03-03,pine,100.00\n";
    assert_eq!(with_export(rows).status, Status::Done);
    for (from, to) in
        [("oak", "\"oak"), (",500.00", "\",500.00"), ("pine", "\"pine"), ("Text", "\"Text")]
    {
        let said = with_export(&rows.replace(from, to));
        let marks = rows.replace(from, to);
        let harmless = from == ",500.00";
        assert_eq!(said.status == Status::Errors, !harmless, "{marks}: {}", said.err);
    }
    let paired = rows.replace("oak", "\"oak").replace("pine", "pine\"");
    assert_eq!(with_export(&paired).status, Status::Errors);
    let twice = rows.replace("Text", "Amount").replace("oak chair", "5");
    assert_eq!(with_export(&twice).status, Status::Errors);
}

#[test]
fn no_word_of_a_shop_commands_the_terminal() {
    let esc = "\u{1b}[2J\u{1b}]0;x\u{7}\u{202e}";
    let shop = Folder::shop("[bank]\ndate = \"Date\"\namount = \"Amount\"")
        .piece(&format!("a{esc}"), "hight = 3")
        .file(&format!("books/{esc}.toml"), "")
        .book(2025, "[bank]\nfile = \"bank.csv\"\n")
        .file("books/bank.csv", &format!("Dat{esc},Amount\n"))
        .file(&format!("pieces/{esc}/piece.toml"), "title = \"Sound\"\nnumbr = 3\n")
        .written();
    let verbs: [&[&str]; 8] = [
        &["check"],
        &["make"],
        &["tally"],
        &["tally", "--csv"],
        &["tally", "--json"],
        &["year", "2025"],
        &["price", esc],
        &[esc],
    ];
    for words in verbs {
        for color in ["never", "always"] {
            let said = shop.run(&[words, &["--color", color]].concat());
            for text in [&said.out, &said.err] {
                // The program's own colours are codes too.
                let own = |code: &str| {
                    code.starts_with('[')
                        && code.find('m').is_some_and(|end| {
                            code[1..end].bytes().all(|b| b.is_ascii_digit() || b == b';')
                        })
                };
                let codes = text.split('\u{1b}').skip(1).filter(|code| !own(code)).count();
                let turned = text.contains(['\u{7}', '\u{202e}', '\u{9b}']);
                assert!(codes == 0 && !turned, "{words:?}: {text:?}");
            }
        }
    }
}

#[test]
fn a_text_that_turns_what_follows_is_a_finding() {
    for key in
        ["title = \"Oak \\u202etable\"", "title = \"Oak\"\nlisting = { opening = \"a \\u2066b\" }"]
    {
        let shop = Folder::new().file("pieces/a/piece.toml", key).written();
        let said = shop.run(&["check"]);
        assert_eq!(said.status, Status::Errors, "{key}: {}", said.err);
        assert!(said.err.contains("control-character"), "{key}: {}", said.err);
    }
    let hebrew =
        Folder::new().file("pieces/a/piece.toml", "title = \"שולחן No. 5 (oak)\"").written();
    assert_eq!(hebrew.run(&["check"]).status, Status::Done);
}

#[test]
fn an_empty_receipt_is_no_record() {
    let shop = Folder::new()
        .file("pieces/a/sale.jpg", "")
        .piece("a", "bought = { on = 2025-01-02, price = 5, receipt = \"sale.jpg\" }")
        .written();
    let said = shop.run(&["check"]);
    assert!(said.err.contains("`pieces/a/sale.jpg` is empty"), "{}", said.err);
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_behind_the_data_is_said() {
    use std::process::{Command, Stdio};
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_dovetally"))
        .args(["schema", "piece"])
        .stdout(Stdio::from(full))
        .stderr(Stdio::piped())
        .output()
        .unwrap();
    assert_eq!(run.status.code(), Some(3));
    let said = String::from_utf8_lossy(&run.stderr).into_owned();
    assert!(said.contains("could not write"), "{said}");
}

/// No thread beside the first can be started in so little memory: its stack alone is larger.
#[cfg(target_os = "linux")]
#[test]
fn a_machine_that_starts_no_thread_is_said_and_no_panic() {
    let shop = shop().written();
    let typed = format!(
        "ulimit -s 1048576; ulimit -v 1000000; RUST_MIN_STACK=2000000000 exec {} --shop {} make",
        env!("CARGO_BIN_EXE_dovetally"),
        Path::new(shop.path()).display()
    );
    let run = std::process::Command::new("sh").args(["-c", &typed]).output().unwrap();
    let said = String::from_utf8_lossy(&run.stderr).into_owned();
    assert_eq!(run.status.code(), Some(3), "{said}");
    assert!(said.contains("could not start a thread") && !said.contains("panicked"), "{said}");
}

/// No byte may be written, as on a full disk: nothing is left of the new piece's file.
#[cfg(unix)]
#[test]
fn a_new_piece_on_a_full_disk_leaves_no_half_file() {
    let shop = shop().written();
    let program = env!("CARGO_BIN_EXE_dovetally");
    let words = format!("trap '' XFSZ; ulimit -f 0; exec '{program}' start 'Oak chair' --shop .");
    let ended = std::process::Command::new("sh")
        .args(["-c", &words])
        .current_dir(shop.path())
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&ended.stderr).into_owned();
    assert_eq!(ended.status.code(), Some(3), "{said}");
    assert!(said.contains("piece.toml"), "{said}");
    assert!(!shop.path().join("pieces/oak-chair/piece.toml").exists());
}

#[test]
fn what_was_typed_is_shown_without_its_codes() {
    let said = typed_as(vec!["dovetally".into(), "che\u{1b}[31mck".into()]);
    assert_eq!(said.status, Status::Usage);
    assert!(!said.err.contains('\u{1b}'), "{:?}", said.err);
}

/// Each takes the program a moment, however long it is.
#[test]
fn lists_without_measure_are_findings() {
    use std::fmt::Write;
    let many = |count: usize, line: &dyn Fn(usize) -> String| {
        (0..count).fold(String::new(), |mut text, i| {
            text.push_str(&line(i));
            text
        })
    };
    let mut front = String::from("title = \"A\"\n[outline]\nfront = [\"");
    for _ in 0..100_000 {
        write!(front, "drawer ").unwrap();
    }
    let cases = [
        ("many-findings", format!("title = \"A\"\n{}", many(80_000, &|i| format!("k{i}=1\n")))),
        (
            "too-many",
            format!("title = \"A\"\n{}", many(40_000, &|_| "[[flaw]]\nnote=\"x\"\n".into())),
        ),
        ("too-many", front + "\"]\n"),
    ];
    for (code, text) in cases {
        assert!(text.len() < 1024 * 1024, "{code}: {}", text.len());
        let shop = Folder::new().file("pieces/a/piece.toml", &text).written();
        let begun = std::time::Instant::now();
        for words in [&["check"][..], &["make"], &["year", "2025"]] {
            let said = shop.run(words);
            assert_eq!(said.status, Status::Errors, "{words:?}: {}", said.err);
            assert!(words[0] == "year" || said.err.contains(code), "{words:?}: {}", said.err);
        }
        assert!(begun.elapsed().as_secs() < 120, "{code}: {:?}", begun.elapsed());
    }
    let contact = many(160, &|i| format!("\"line {i}\", "));
    let shop = Folder::shop(&format!("contact = [{contact}]"))
        .bought("a", "2025-01-02", "5", None)
        .written();
    let said = shop.run(&["make"]);
    assert!(said.err.contains("too-many") && said.status == Status::Done, "{}", said.err);
}

/// The codes of the findings that are said, in the order of their words.
fn codes_in(said: &str) -> BTreeSet<&str> {
    let heads = said.lines().filter_map(|line| line.split_once("]: "));
    heads.filter_map(|(head, _)| Some(head.split_once('[')?.1)).collect()
}

/// What `make` ends with, `check` ends with, and `check` has a finding for all that `make` has one for.
#[test]
fn check_finds_what_make_finds() {
    let with_photo = |bytes: &str| {
        let photo = "title = \"Desk\"\nphoto = [{ file = \"a.jpg\" }]\n";
        Folder::new().file("pieces/a/a.jpg", bytes).file("pieces/a/piece.toml", photo)
    };
    let desk = || Folder::new().piece("desk", "");
    for (by_check, by_make, shop) in [
        // A kind of file that no paper shows is told from one that only begins like a picture.
        (&["photo-kind"][..], &["photo-kind"][..], with_photo("no picture")),
        (&["photo-unusable"], &["photo-unusable"], with_photo("RIFF0000WEBP and no more")),
        (&["glyph-missing"], &["glyph-missing"], Folder::new().piece("desk 漢", "")),
        (
            &["glyph-missing"],
            &["glyph-missing"],
            Folder::shop("contact = [\"漢\"]").piece("desk", ""),
        ),
        // What stops no paper is for `check` alone to say.
        (&["unknown-kind"], &[], Folder::new().piece("a", "hours = 2")),
        (
            &["year-without-table"],
            &[],
            Folder::new().bought("desk", "2011-01-02", "5", Some(("2011-02-01", "9"))),
        ),
        (&["layout-unused"], &["layout-unused"], desk().file("layouts/carecard.typ", "= Card")),
    ] {
        let written = shop.written();
        let (check, make) = (written.run(&["check"]), written.run(&["make"]));
        assert_eq!(check.status, make.status, "{}\n{}", check.err, make.err);
        assert_eq!(codes_in(&check.err), BTreeSet::from_iter(by_check.iter().copied()));
        assert_eq!(codes_in(&make.err), BTreeSet::from_iter(by_make.iter().copied()));
    }
    // Nothing is written by looking.
    let looked = Folder::new().piece("a", "").written();
    assert_eq!(looked.run(&["check"]).status, Status::Done);
    assert!(!looked.path().join("out").exists());
}
