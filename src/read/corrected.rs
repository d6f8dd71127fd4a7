//! A line that is not TOML, as it was probably meant.

const GENERAL: &str = "a line is `key = value`, `[table]` or `[[table]]`; text stands in \"…\"";

/// What to write instead of a line; `at` is where in it the parser stopped, and `says` its words.
pub(super) fn corrected(line: &str, at: usize, says: &str) -> String {
    let written = line.trim();
    if says.contains("escape") {
        return "write `\\\\` for one `\\`, or put the text in single quotation marks".to_owned();
    }
    if written.starts_with('[') {
        return head(written);
    }
    let meant = match key_and_value(line, at) {
        Some((key, value)) => value_of(key, value),
        None => with_colon(written),
    };
    meant.unwrap_or_else(|| GENERAL.to_owned())
}

/// `[[cost]` was meant as `[[cost]]`.
fn head(written: &str) -> String {
    let name = written.trim_matches(['[', ']', ' ']);
    match written.starts_with("[[") {
        true => format!("write `[[{name}]]`"),
        false => format!("write `[{name}]`"),
    }
}

/// `height: "34 in"` was meant with `=`.
fn with_colon(written: &str) -> Option<String> {
    let (key, value) = written.split_once(':')?;
    Some(format!("write `{} = {}`", key.trim(), value.trim()))
}

/// The key and the value around a place of a line, which may be inside of braces.
fn key_and_value(line: &str, at: usize) -> Option<(&str, &str)> {
    let before = line.get(..at).unwrap_or(line);
    let equals = before.rfind('=').or_else(|| line.find('='))?;
    let (left, right) = (&line[..equals], &line[equals + 1..]);
    let inside = left.contains('{');
    let key = left.rsplit(['{', ',']).next().unwrap_or(left).trim();
    let value = if inside { right.split([',', '}']).next().unwrap_or(right) } else { right };
    Some((key, value.split('#').next().unwrap_or(value).trim()))
}

fn value_of(key: &str, value: &str) -> Option<String> {
    let first = value.chars().next()?;
    let digit = first.is_ascii_digit();
    let parts = |by| value.matches(by).count() == 2;
    if digit && (parts('/') || parts('-') || parts('.')) {
        return Some(format!("write the day as `{key} = 2025-03-02`: year, month, day"));
    }
    if (digit || first == '$') && value.bytes().all(|b| b"0123456789.,$ ".contains(&b)) {
        return Some(number(key, value.trim_matches(['$', ' '])));
    }
    let bare = !matches!(first, '[' | '{');
    bare.then(|| {
        let text = value.trim_matches(['"', '\'']).replace('"', "'");
        format!("write `{key} = \"{text}\"`, with a quotation mark at each end")
    })
}

/// A comma before three digits separates thousands; any other stands for the point.
fn number(key: &str, digits: &str) -> String {
    let thousands = digits.split(['.', ' ']).next().unwrap_or(digits).split(',').skip(1);
    match thousands.clone().count() > 0 && thousands.clone().all(|group| group.len() == 3) {
        true => format!("write `{key} = \"{digits}\"`, in quotation marks, or without the comma"),
        false => format!("write `{key} = {}`", digits.replace(',', ".")),
    }
}
