//! Tables as CSV that opens cleanly in a spreadsheet: RFC 4180 in UTF-8.

use rust_decimal::Decimal;
use serde_json::Value;

/// The mark that says UTF-8 at the head of a file.
const MARK: char = '\u{feff}';

/// What a spreadsheet takes for the start of a formula, plain and in full width, or passes over to
/// find one behind it.
const FORMULA: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// A table as CSV for a program that reads standard input: lines end as RFC 4180 says, and a cell
/// that a spreadsheet would take for a formula is made plain text.
pub fn csv(heads: &[&str], rows: impl IntoIterator<Item = Vec<String>>) -> String {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing into memory cannot fail.
    let _ = writer.write_record(heads);
    for row in rows {
        let _ = writer.write_record(row.iter().map(|cell| harmless(cell)));
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// A table as a CSV file to open by hand. Where it holds a letter beyond ASCII it begins with the
/// mark of UTF-8, without which the common spreadsheets take it for another encoding; without such
/// a letter there is nothing to mistake, and the file begins with its first head.
pub fn csv_file(heads: &[&str], rows: impl IntoIterator<Item = Vec<String>>) -> String {
    let mut text = csv(heads, rows);
    if !text.is_ascii() {
        text.insert(0, MARK);
    }
    text
}

/// A JSON value as a cell: a string bare, `null` empty.
pub fn cell(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

/// Puts an apostrophe before what would start a formula; a number keeps its minus.
fn harmless(cell: &str) -> String {
    let mut harmless = String::with_capacity(cell.len());
    // Where the comma is the decimal mark a spreadsheet parts the cells at these.
    for (nth, part) in cell.split_inclusive([';', '\t']).enumerate() {
        let bare = if nth == 0 { part } else { part.trim_start_matches(' ') };
        if bare.starts_with(FORMULA) && !(nth == 0 && is_number(cell)) {
            harmless.push('\'');
        }
        harmless.push_str(part);
    }
    harmless
}

/// `-12.40`: one minus, digits and at most one point.
fn is_number(cell: &str) -> bool {
    let digits = cell.strip_prefix('-').unwrap_or(cell);
    let plain = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    plain && Decimal::from_str_exact(digits).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_back(text: &str) -> Vec<Vec<String>> {
        let rows = csv::Reader::from_reader(text.as_bytes()).into_records();
        rows.map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
    }

    #[test]
    fn a_cell_that_starts_like_a_formula_is_harmless() {
        let formulas = ["=1+1", "+1", "-1+1", "--5", "@x", "\r=1", "\n=1", "＝1", "-"];
        let text = csv(&["a"], formulas.map(|cell| vec![cell.to_owned()]));
        for (row, formula) in read_back(&text).iter().zip(formulas) {
            assert_eq!(row, &[format!("'{formula}")]);
        }
        let parted = csv(
            &["a"],
            ["x;=1+1", "x; =1", "a\t@b", "a;b", "\t=1"].map(|cell| vec![cell.to_owned()]),
        );
        assert_eq!(read_back(&parted), [["x;'=1+1"], ["x;' =1"], ["a\t'@b"], ["a;b"], ["'\t'=1"]]);
        let plain = ["-12.40", "12.40", "-0", "2025-01-02", "a=b", "", "–"];
        let text = csv(&["a", "b"], plain.map(|cell| vec![cell.to_owned(), "x".to_owned()]));
        for (row, cell) in read_back(&text).iter().zip(plain) {
            assert_eq!(row[0], cell);
        }
    }

    // RFC 4180, 2.1 (lines end in CRLF), 2.6 and 2.7 (commas, line breaks and quotes in a cell).
    #[test]
    fn lines_and_quotes_are_those_of_the_standard() {
        let cells = ["a,\"b\"", "two\r\nlines"].map(str::to_owned).to_vec();
        let text = csv(&["a", "b"], [cells.clone()]);
        assert_eq!(text, "a,b\r\n\"a,\"\"b\"\"\",\"two\r\nlines\"\r\n");
        assert_eq!(read_back(&text), [cells]);
    }

    #[test]
    fn a_file_says_that_it_is_utf_8_where_it_could_be_mistaken() {
        let plain = csv_file(&["a"], [vec!["36 in".to_owned()]]);
        let beyond = csv_file(&["a"], [vec!["36½ in".to_owned()]]);
        assert_eq!(plain, "a\r\n36 in\r\n");
        assert_eq!(beyond.as_bytes(), b"\xef\xbb\xbfa\r\n36\xc2\xbd in\r\n");
        assert_eq!(read_back(&beyond), [["36½ in"]]);
    }
}
