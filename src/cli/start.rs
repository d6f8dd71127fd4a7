//! `start "TITLE"`: one new piece file whose comments teach the format.

use super::args::StartArgs;
use super::files::write_new;
use super::opened::Opened;
use super::{Screen, Status};
use crate::model::Failure;
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
    let number = next_number(&numbers(opened));
    let line = match &number {
        Some(number) => format!("number = {}", quoted(number)),
        None => "# number =                          # such as \"25-014\"; else its folder's name"
            .to_owned(),
    };
    let text = TEMPLATE.replace("{number}", &line).replace("{title}", &quoted(title));
    let path = format!("pieces/{slug}/piece.toml");
    if !write_new(&opened.folder.join(Path::new(&path)), text.as_bytes())? {
        screen.complain(&format!("{path} is there already; nothing was written\n"));
        return Ok(Status::Usage);
    }
    screen.data(&format!("{path}\n"));
    let called = number.map_or(String::new(), |number| format!("number {number}; "));
    screen.note(&format!("{called}open it and remove the # in front of what you know\n"));
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

/// Every number of the shop, those of files with errors as far as their line can be read.
fn numbers(opened: &Opened) -> Vec<String> {
    let pieces = opened.sources.iter().filter(|(_, source)| source.path.ends_with("piece.toml"));
    let lines = pieces.filter_map(|(_, source)| {
        let written = source.text.lines().find_map(|line| line.trim().strip_prefix("number"))?;
        let value = written.trim_start().strip_prefix('=')?.trim();
        Some(value.strip_prefix('"')?.split('"').next()?.to_owned())
    });
    lines.filter(|number| !number.is_empty()).collect()
}

/// The number after the shop's last one of its usual pattern: its last run of digits, one up, as
/// wide as it was, and not taken. Nothing where the shop does not number, or not with digits.
fn next_number(numbers: &[String]) -> Option<String> {
    let usual = numbers.iter().map(|number| pattern(number)).max_by_key(|pattern| {
        let times = numbers.iter().filter(|other| self::pattern(other) == *pattern).count();
        (times, pattern.clone())
    })?;
    let of_pattern = numbers.iter().filter(|number| pattern(number) == usual);
    let mut next = one_up(of_pattern.max_by_key(|number| natural(number))?)?;
    while numbers.contains(&next) {
        next = one_up(&next)?;
    }
    Some(next)
}

/// A number with each run of digits as one character: `25-014` and `24-3` are of one pattern.
fn pattern(number: &str) -> String {
    let characters = number.chars().map(|c| if c.is_ascii_digit() { '0' } else { c });
    let mut pattern: Vec<char> = characters.collect();
    pattern.dedup_by(|a, b| *a == '0' && *b == '0');
    pattern.into_iter().collect()
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
        let next = |numbers: &[&str]| {
            next_number(&numbers.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>())
        };
        assert_eq!(next(&["24-200", "25-009", "25-010"]).as_deref(), Some("25-011"));
        assert_eq!(next(&["25-001", "25-002", "X999"]).as_deref(), Some("25-003"));
        assert_eq!(next(&["oak"]), None);
        assert_eq!(next(&[]), None);
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
