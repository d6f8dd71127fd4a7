//! When a piece was made, as far as anyone knows.

/// The age of a piece, with how sure it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Made {
    #[default]
    Unknown,
    Year(i32),
    About(i32),
    Between(i32, i32),
}

impl Made {
    /// The latest year it may have been made in; nothing when unknown.
    pub fn latest(self) -> Option<i32> {
        match self {
            Made::Unknown => None,
            Made::Year(year) => Some(year),
            // "About" is taken as ten years either way (common practice, no source).
            Made::About(year) => Some(year + 10),
            Made::Between(_, last) => Some(last),
        }
    }

    /// The earliest year it may have been made in; nothing when unknown.
    pub fn earliest(self) -> Option<i32> {
        match self {
            Made::Unknown => None,
            Made::Year(year) => Some(year),
            Made::About(year) => Some(year - 10),
            Made::Between(first, _) => Some(first),
        }
    }
}

/// Reads `1910`, `about 1910`, `1905-1915`, `1920s`, `unknown`. The error is a sentence for the
/// owner.
pub fn parse_made(text: &str) -> Result<Made, String> {
    let complaint = || format!("`{text}` is not a year a piece was made in");
    let year = |word: &str| -> Option<i32> {
        let four = word.len() == 4 && word.bytes().all(|b| b.is_ascii_digit());
        four.then(|| word.parse().ok()).flatten().filter(|y| (1400..=2100).contains(y))
    };
    let plain = text.trim().to_lowercase();
    if matches!(plain.as_str(), "unknown" | "not known") {
        return Ok(Made::Unknown);
    }
    if let Some(exact) = year(&plain) {
        return Ok(Made::Year(exact));
    }
    if let Some(decade) = plain.strip_suffix('s').and_then(year).filter(|y| y % 10 == 0) {
        return Ok(Made::Between(decade, decade + 9));
    }
    if let Some(about) =
        ["about ", "circa ", "c. ", "c."].iter().find_map(|p| plain.strip_prefix(p))
    {
        return year(about.trim()).map(Made::About).ok_or_else(complaint);
    }
    let (first, last) = plain.split_once(['-', '–']).ok_or_else(complaint)?;
    match (year(first.trim()), year(last.trim())) {
        (Some(first), Some(last)) if first <= last => Ok(Made::Between(first, last)),
        _ => Err(complaint()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ages_are_read_with_their_doubt() {
        assert_eq!(parse_made("1910"), Ok(Made::Year(1910)));
        assert_eq!(parse_made("About 1910"), Ok(Made::About(1910)));
        assert_eq!(parse_made("1905-1915"), Ok(Made::Between(1905, 1915)));
        assert_eq!(parse_made("1920s"), Ok(Made::Between(1920, 1929)));
        assert_eq!(parse_made("unknown"), Ok(Made::Unknown));
        assert_eq!(Made::About(1970).latest(), Some(1980));
        for text in ["", "old", "19", "1915-1905", "about", "1923s", "3000"] {
            assert!(parse_made(text).is_err(), "{text}");
        }
    }
}
