//! Tables as CSV that opens cleanly in a spreadsheet.

use serde_json::Value;

/// A table as CSV. A cell that a spreadsheet would take for a formula is made plain text.
pub fn csv(heads: &[&str], rows: impl IntoIterator<Item = Vec<String>>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing into memory cannot fail.
    let _ = writer.write_record(heads);
    for row in rows {
        let _ = writer.write_record(row.iter().map(|cell| harmless(cell)));
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
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
    let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let number = cell.trim_start_matches('-').bytes().all(|b| b.is_ascii_digit() || b == b'.');
    if formula && !number { format!("'{cell}") } else { cell.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_that_starts_like_a_formula_is_harmless() {
        let text = csv(
            &["a", "b"],
            [vec!["=1+1".into(), "-12.40".into()], vec!["@x".into(), "a,\"b".into()]],
        );
        assert_eq!(text, "a,b\n'=1+1,-12.40\n'@x,\"a,\"\"b\"\n");
    }
}
