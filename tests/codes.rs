//! The codes of findings: each is declared once, explained, and provoked by a test.

use crate::books::{books_of, expense, worked_shop};
use crate::folders::Folder;
use crate::shell::typed_as;
use crate::shops::{book, day, dec, refund, returned, sale, supply, withdrawn};
use dovetally::cli::Status;
use dovetally::model::{Code, RefundOf, Shop, SpaceUse, WithdrawalKind, Workspace};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Every file of a folder whose name ends in this.
fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![folder.to_owned()];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else if path.to_string_lossy().ends_with(ending) {
                found.push(path);
            }
        }
    }
    found
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// What `check` says of a shop folder.
fn checked(shop: Folder) -> String {
    shop.written().run(&["check", "--advice"]).err
}

/// The codes for which a worked shop is refused once something of it is changed.
fn refused(change: fn(&mut Shop)) -> Vec<&'static str> {
    let mut made = worked_shop();
    change(&mut made);
    let found = books_of(&made, 2025).err().unwrap_or_default();
    found.iter().map(|finding| finding.code.word()).collect()
}

const DESK: &str = "bought = { on = 2025-01-05, price = 100 }";

#[test]
fn what_no_other_test_provokes() {
    let desk = |lines: &str| Folder::new().piece("desk", &format!("{DESK}\n{lines}"));
    let sold_on_credit = "sale = [{ on = 2025-02-01, price = 300 }, { on = 2025-03-01, price = 300 }]\n\
                          return = [{ on = 2025-02-10, refunded = 0 }]\n";
    let by_folder = [
        ("unknown-kind", desk("kind = \"desque\"")),
        ("misleading-wood", desk("wood = [{ part = \"top\", species = \"sapele mahogany\" }]")),
        (
            "panel-wood",
            desk("wood = [{ part = \"top\", species = \"oak\", form = \"particleboard\" }]"),
        ),
        (
            "payment-without-sale",
            desk(
                "sale = [{ on = 2025-02-01, price = 300 }]\n\
                 payment = [{ on = 2025-02-05, amount = 300, sale-on = 2025-02-02 }]",
            ),
        ),
        (
            "which-sale",
            desk(&format!("{sold_on_credit}payment = [{{ on = 2025-03-05, amount = 300 }}]")),
        ),
        (
            "refund-over-price",
            desk(
                "sale = [{ on = 2025-02-01, price = 300 }]\n\
                 return = [{ on = 2025-02-10, refunded = 500 }]",
            ),
        ),
        (
            "tax-returned-over-tax",
            desk(
                "sale = [{ on = 2025-02-01, price = 300, tax-collected = 24 }]\n\
                 return = [{ on = 2025-02-10, refunded = 300, tax-returned = 30 }]",
            ),
        ),
    ];
    for (code, shop) in by_folder {
        let said = checked(shop);
        assert!(said.contains(&format!("[{code}]")), "{code}: {said}");
    }
    let unbought =
        Folder::new().piece("desk", "sale = [{ on = 2025-02-01, price = 300 }]").written();
    let said = unbought.run(&["year", "2025"]).err;
    assert!(said.contains("[sold-without-purchase]"), "{said}");
    let taxed = Folder::shop("[tax.county]\nrate = \"8%\"\nfiles = \"quarterly\"")
        .piece("desk", &format!("{DESK}\nsale = [{{ on = 2025-02-01, price = 300 }}]"))
        .book(
            2025,
            "[[remitted]]\non = 2025-12-20\nto = \"the state\"\namount = 5\nperiod = \"2025-Q3\"\n\
             tax-place = \"county\"\n",
        )
        .written();
    let said = taxed.run(&["year", "2025"]).err;
    assert!(said.contains("[remitted-for-nothing]"), "{said}");
    let dear = Folder::new()
        .piece("desk", &format!("{DESK}\nsale = [{{ on = 2025-02-01, price = 900 }}]"));
    let dear = dear.book(
        2025,
        "[[expense]]\non = 2025-03-01\nwhat = \"planer\"\ncategory = \"equipment\"\namount = 2500.01\n",
    );
    // IRS Pub. 334 (2023 returns) p. 38: 2,500 dollars an item.
    let said = dear.written().run(&["check"]).err;
    assert!(said.contains("[set-apart]") && said.contains("2,500.01 for `planer`"), "{said}");
    let broken = Folder::new().piece("desk", DESK).file("layouts/stock-sheet.typ", "#let x = (");
    let said = broken.written().run(&["make", "--only", "stock-sheet"]).err;
    assert!(said.contains("[layout]"), "{said}");
}

/// A change to a sound shop.
type Change = fn(&mut Shop);

#[test]
fn what_only_plain_values_provoke() {
    let by_values: [(&str, Change); 7] = [
        ("no-form-table", |made| made.forms.clear()),
        ("refund-without-piece", |made| {
            let of = RefundOf::Piece("nobody".to_owned().into(), None);
            book(made, 2025).refund.push(refund(day("2025-02-01"), dec("5"), of));
        }),
        ("form-fault", |made| {
            let lines = made.forms.iter_mut().flat_map(|form| &mut form.lines);
            lines.for_each(|line| line.plus.push("none".to_owned()));
        }),
        ("returned-too-much", |made| {
            made.pieces[0].sale.clear();
            made.pieces[0].returned.push(returned(day("2025-12-01"), dec("0")));
        }),
        ("withdrawn-after-sold", |made| {
            let gone = withdrawn(day("2025-12-31"), WithdrawalKind::Kept);
            let own = &mut made.pieces[0];
            own.sale = vec![sale(day("2025-06-01"), dec("300"))];
            own.returned.clear();
            own.withdrawn = Some(gone);
        }),
        ("supply-without-stock", |made| {
            book(made, 2025).supply.push(supply(day("2025-06-01"), "topcoat", "2 sheet", dec("9")));
        }),
        ("workspace-months", |made| {
            let uses = vec![SpaceUse { area: dec("100"), from: None, to: None }];
            let place = dovetally::model::Place::NOWHERE;
            book(made, 2025).workspace = Some(Workspace { uses, months: Some(13), place });
        }),
    ];
    for (code, change) in by_values {
        let found = refused(change);
        assert!(found.contains(&code), "{code}: {found:?}");
    }
    assert_eq!(
        refused(|made| book(made, 2025).expense.push(expense("2025-01-01", "fun", "1"))).len(),
        1
    );
}

#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link() {
    let shop = Folder::new().piece("desk", DESK).written();
    let elsewhere = tempfile::tempdir().unwrap();
    std::os::unix::fs::symlink(elsewhere.path(), shop.path().join("out")).unwrap();
    let said = shop.run(&["make", "--only", "stock-sheet"]);
    assert!(said.err.contains("[out-link]"), "{}", said.err);
    assert!(fs::read_dir(elsewhere.path()).unwrap().next().is_none());
}

#[test]
fn every_code_is_in_order_and_expected_by_a_test() {
    let words: Vec<&str> = Code::ALL.iter().map(|code| code.word()).collect();
    assert!(words.is_sorted_by(|a, b| a < b), "in the order of their words, each once");
    let kept: String = texts("expected.txt").concat();
    let lines = texts(".rs").concat();
    let lines: Vec<&str> = lines.lines().filter(|line| expects(line)).collect();
    let said = |word: &str| {
        let starts = ["error", "warning", "advice"].map(|weight| format!("{weight} {word} "));
        kept.lines().any(|line| starts.iter().any(|start| line.starts_with(start)))
    };
    let provoked = |word: &str| said(word) || lines.iter().any(|line| names(line, word));
    let without: BTreeSet<&&str> = words.iter().filter(|word| !provoked(word)).collect();
    assert!(without.is_empty(), "no test provokes {without:?}");
}

/// The files of the tests with this ending.
fn texts(ending: &str) -> Vec<String> {
    let found = files(&root().join("tests"), ending);
    found.iter().map(|path| fs::read_to_string(path).unwrap()).collect()
}

/// Whether a line of a test may say that something is found, and not that it is not.
fn expects(line: &str) -> bool {
    let line = line.trim_start();
    let denies = ["(!", "&& !", "!=", ".all(", "assert_figures"];
    !line.starts_with(['/', '!']) && !denies.iter().any(|word| line.contains(word))
}

/// A code of one word is told from any other string by what stands beside it.
fn names(line: &str, word: &str) -> bool {
    let quoted = line.contains(&format!("\"{word}\""));
    let of_code = word.contains('-') || line.contains("code") || line.contains("assert");
    line.contains(&format!("[{word}]")) || (quoted && of_code)
}

#[test]
fn a_code_is_explained_without_a_shop() {
    let explain =
        |word: &str| typed_as(["dovetally", "check", "--explain", word].map(Into::into).to_vec());
    let said = explain("unknown-key");
    assert_eq!(said.status, Status::Done);
    assert!(said.out.contains("a key that its table does not have"), "{}", said.out);
    assert!(said.out.contains("for example: titel = \"Desk\""), "{}", said.out);
    let all = explain("all");
    assert_eq!(all.out.matches("for example").count(), Code::ALL.len());
    let slip = explain("unknown-keys");
    assert_eq!(slip.status, Status::Usage);
    assert!(slip.err.contains("did you mean `unknown-key`"), "{}", slip.err);
}
