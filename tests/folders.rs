//! A shop folder written for one test, and its figures as the command line gives them.

use crate::shell::{Said, dovetally, shop_of};
use crate::shops::dec;
use dovetally::cli::Status;
use rust_decimal::Decimal;
use serde_json::Value;

/// The files of a shop before they are written.
#[derive(Clone)]
pub struct Folder {
    files: Vec<(String, String)>,
}

impl Folder {
    /// A shop with these further lines in shop.toml.
    pub fn shop(lines: &str) -> Folder {
        let shop = format!("name = \"Test shop\"\n{lines}\n");
        Folder { files: vec![("shop.toml".to_owned(), shop)] }
    }

    pub fn new() -> Folder {
        Folder::shop("")
    }

    pub fn file(mut self, path: &str, text: &str) -> Folder {
        self.files.push((path.to_owned(), text.to_owned()));
        self
    }

    /// A piece of this folder name, with these lines below its title.
    pub fn piece(self, name: &str, lines: &str) -> Folder {
        self.file(&format!("pieces/{name}/piece.toml"), &format!("title = \"{name}\"\n{lines}\n"))
    }

    /// A piece bought on a day for a price and, where a sale is given, sold on a day for a price.
    pub fn bought(self, name: &str, on: &str, price: &str, sold: Option<(&str, &str)>) -> Folder {
        let mut lines = format!("bought = {{ on = {on}, price = {price} }}\n");
        if let Some((on, price)) = sold {
            lines += &format!("sale = [{{ on = {on}, price = {price} }}]\n");
        }
        self.piece(name, &lines)
    }

    pub fn book(self, year: i32, text: &str) -> Folder {
        self.file(&format!("books/{year}.toml"), text)
    }

    /// Adds to the book of a year, or begins it.
    pub fn book_more(mut self, year: i32, text: &str) -> Folder {
        let path = format!("books/{year}.toml");
        match self.files.iter_mut().find(|(own, _)| *own == path) {
            Some((_, book)) => {
                book.push_str(text);
                self
            }
            None => self.file(&path, text),
        }
    }

    /// Puts text before what stands in a file.
    pub fn more(mut self, path: &str, text: &str) -> Folder {
        let own = self.files.iter_mut().find(|(own, _)| own == path).unwrap();
        own.1.insert_str(0, text);
        self
    }

    pub fn written(&self) -> Written {
        let files: Vec<(&str, &str)> =
            self.files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        Written { folder: shop_of(&files) }
    }
}

/// A shop folder on the disk until it is dropped.
pub struct Written {
    folder: tempfile::TempDir,
}

impl Written {
    pub fn path(&self) -> &std::path::Path {
        self.folder.path()
    }

    pub fn run(&self, words: &[&str]) -> Said {
        dovetally(self.folder.path(), words)
    }

    /// Whether a file is there, by its path below the shop.
    pub fn has(&self, path: &str) -> bool {
        self.folder.path().join(path).is_file()
    }

    fn done(&self, words: &[&str]) -> Said {
        let said = self.run(words);
        assert_eq!(said.status, Status::Done, "{words:?}: {}", said.err);
        said
    }

    /// `year YEAR --json`.
    pub fn year(&self, year: i32) -> Value {
        serde_json::from_str(&self.done(&["year", &year.to_string(), "--json"]).out).unwrap()
    }

    /// What `year YEAR` says beside its figures.
    pub fn notes(&self, year: i32) -> String {
        self.done(&["year", &year.to_string()]).err
    }

    /// The exact amount of a line, to the cent.
    pub fn line(&self, year: i32, number: &str) -> Decimal {
        dec(line(&self.year(year), number)["amount"].as_str().unwrap())
    }

    /// The amount of a line as it is entered.
    pub fn whole(&self, year: i32, number: &str) -> Decimal {
        dec(line(&self.year(year), number)["whole"].as_str().unwrap())
    }

    /// What is answered on a line of words.
    pub fn answer(&self, year: i32, number: &str) -> Option<String> {
        line(&self.year(year), number)["answer"].as_str().map(str::to_owned)
    }

    /// Checks lines, each to the cent.
    pub fn assert_lines(&self, year: i32, expected: &[(&str, &str)]) {
        let found = self.year(year);
        for (number, amount) in expected {
            let shown = line(&found, number)["amount"].as_str().unwrap();
            assert_eq!(dec(shown), dec(amount), "line {number} of {year}");
        }
        assert_eq!(found["proof"]["holds"], true, "{year}");
    }

    /// The sum at the foot of `trace YEAR FIGURE`.
    pub fn figure(&self, year: i32, name: &str) -> Decimal {
        let said = self.done(&["trace", &year.to_string(), name]);
        let last = said.out.lines().last().unwrap();
        amount(last.split_whitespace().last().unwrap())
    }

    /// Checks figures, each to the cent.
    pub fn assert_figures(&self, year: i32, expected: &[(&str, &str)]) {
        for (name, amount) in expected {
            assert_eq!(self.figure(year, name), dec(amount), "{name} of {year}");
        }
    }

    /// The row of a piece in `tally --json`.
    pub fn tally(&self, name: &str) -> Value {
        let json: Value = serde_json::from_str(&self.done(&["tally", "--json"]).out).unwrap();
        let rows = json["pieces"].as_array().unwrap();
        rows.iter().find(|row| row["title"] == name).unwrap().clone()
    }

    /// A piece whose figures cannot be trusted is left out of the tally, which says so.
    pub fn assert_no_tally(&self, name: &str) {
        let said = self.run(&["tally", "--json"]);
        assert_eq!(said.status, Status::Errors, "{}", said.out);
        assert!(said.err.contains("left out: "), "{}", said.err);
        let json: Value = serde_json::from_str(&said.out).unwrap();
        let rows = json["pieces"].as_array().unwrap();
        let shown = rows.iter().find(|row| row["title"] == name);
        assert!(shown.is_none_or(|row| row["cost_of_goods"].is_null()), "{shown:?}");
    }

    /// What is said where a year is refused; no figure may be shown.
    pub fn refused(&self, year: i32) -> String {
        for words in [&["year", &year.to_string()][..], &["trace", &year.to_string(), "line-31"]] {
            let said = self.run(words);
            assert_eq!(said.status, Status::Errors, "{words:?}: {}", said.out);
            assert_eq!(said.out, "", "{words:?}");
        }
        self.run(&["year", &year.to_string(), "--json"]).err
    }
}

/// An expense of 1 February 2023, for the book of that year.
pub fn expense(category: &str, amount: &str) -> String {
    format!(
        "[[expense]]\non = 2023-02-01\nwhat = \"some {category}\"\ncategory = \"{category}\"\n\
         amount = {amount}\n"
    )
}

fn line<'a>(year: &'a Value, number: &str) -> &'a Value {
    let lines = year["lines"].as_array().unwrap();
    lines.iter().find(|line| line["line"] == number).unwrap()
}

/// An amount as it is printed for people: `−1,234.50`.
pub fn amount(shown: &str) -> Decimal {
    let digits: String = shown.chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
    let sign = if shown.starts_with('−') { -Decimal::ONE } else { Decimal::ONE };
    dec(&digits) * sign
}

/// What the screen shows that the data says otherwise: what stands for a piece that is in part sold,
/// and for a file that was not read; totals of 0.00.
#[test]
fn the_screen_says_what_is_partly_sold_or_not_read_and_prints_every_total() {
    let shop = Folder::new()
        .bought("chairs", "2025-01-02", "40", Some(("2025-02-01", "30")))
        .file("pieces/desk/piece.toml", "title = \"Desk\nkind = desk\n")
        .written();
    let path = shop.path().join("pieces/chairs/piece.toml");
    let sold = std::fs::read_to_string(&path).unwrap().replace("30 }", "30, count = 1 }");
    std::fs::write(&path, format!("count = 4\n{sold}")).unwrap();
    let said = dovetally(shop.path(), &["tally"]);
    let row = |start: &str| said.out.lines().find(|line| line.starts_with(start)).unwrap_or("");
    assert!(row("chairs").contains("sold 1 of 4"), "{}", said.out);
    assert!(row("?").contains("pieces/desk/piece.toml"), "{}", said.out);

    // 40.00 bought and sold again for 40.00: nothing is left, and that is said.
    let even = Folder::new().bought("a", "2025-01-02", "40", Some(("2025-02-01", "40"))).written();
    let year = dovetally(even.path(), &["year", "2025"]);
    let line = year.out.lines().find(|line| line.starts_with("31 ")).unwrap_or("");
    assert!(line.ends_with("0.00      0"), "{}", year.out);
}
