//! `start "TITLE"`: one new piece file whose comments teach the format.

use super::args::StartArgs;
use super::files::write_new;
use super::opened::Opened;
use super::{Screen, Status};
use crate::model::{Failure, Shop};
use std::path::Path;

const TEMPLATE: &str = include_str!("new_piece.toml");
const LONGEST_TITLE: usize = 200;

/// Writes `pieces/TITLE/piece.toml`, numbered after the last one. Refuses to touch a file that
/// is there.
pub fn start(args: &StartArgs, opened: &Opened, screen: &mut Screen) -> Result<Status, Failure> {
    let title = args.title.trim();
    let slug = slug(title);
    if slug.is_empty() || title.chars().count() > LONGEST_TITLE || title.contains(char::is_control)
    {
        screen.complain(&format!(
            "a title has letters in it, no line breaks and at most {LONGEST_TITLE} characters\n"
        ));
        return Ok(Status::Usage);
    }
    let number = next_number(opened.known.as_ref().map(|known| &known.shop));
    let text = TEMPLATE.replace("{number}", &quoted(&number)).replace("{title}", &quoted(title));
    let path = format!("pieces/{slug}/piece.toml");
    if !write_new(&opened.folder.join(Path::new(&path)), text.as_bytes())? {
        screen.complain(&format!("{path} is there already; nothing was written\n"));
        return Ok(Status::Usage);
    }
    screen.data(&format!("{path}\n"));
    screen.note(&format!("number {number}; open it and take the # away from what you know\n"));
    Ok(Status::Done)
}

/// A folder name of small letters, digits and hyphens; letters of any script stay.
pub fn slug(title: &str) -> String {
    let plain: String = title
        .chars()
        .flat_map(char::to_lowercase)
        .map(|c| if c.is_alphanumeric() { c } else { ' ' })
        .collect();
    let words: Vec<&str> = plain.split_whitespace().collect();
    words.join("-").chars().take(60).collect::<String>().trim_end_matches('-').to_owned()
}

fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

/// The number after the shop's last one: its last run of digits, one up, as wide as it was.
fn next_number(shop: Option<&Shop>) -> String {
    let numbers = shop.iter().flat_map(|shop| &shop.pieces).filter_map(|p| p.number.as_ref());
    let last = numbers.max_by(|a, b| natural(a).cmp(&natural(b)));
    last.and_then(|number| one_up(number)).unwrap_or_else(|| "1".to_owned())
}

fn one_up(number: &str) -> Option<String> {
    let head = number.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &number[head.len()..];
    let next: u64 = digits.parse::<u64>().ok()?.checked_add(1)?;
    Some(format!("{head}{next:0width$}", width = digits.len()))
}

/// Sorts `9` before `10` and `24-200` before `25-001`.
fn natural(number: &str) -> Vec<(u64, String)> {
    let mut parts = Vec::new();
    for c in number.chars() {
        match (c.to_digit(10), parts.last_mut()) {
            (Some(digit), Some((value, text))) if String::is_empty(text) => {
                *value = u64::saturating_mul(*value, 10).saturating_add(u64::from(digit));
            }
            (Some(digit), _) => parts.push((u64::from(digit), String::new())),
            (None, Some((_, text))) if !text.is_empty() => text.push(c),
            (None, _) => parts.push((0, c.to_string())),
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_piece_is_numbered_after_the_last() {
        assert_eq!(one_up("25-014").as_deref(), Some("25-015"));
        assert_eq!(one_up("Q-099").as_deref(), Some("Q-100"));
        assert_eq!(one_up("oak"), None);
        assert!(natural("9") < natural("10"));
        assert!(natural("24-200") < natural("25-001"));
    }

    #[test]
    fn a_title_becomes_a_folder_name() {
        assert_eq!(slug("Oak washstand, c. 1910"), "oak-washstand-c-1910");
        assert_eq!(slug("Komoda dębowa"), "komoda-dębowa");
        assert_eq!(slug("../../etc"), "etc");
        assert_eq!(slug("#$@*_\\"), "");
    }
}
