//! The link code of an address: a QR code as a matrix, which the layout draws.

use super::view::LinkCode;
use qrcode::{EcLevel, QrCode};

/// The link code of a web address; nothing when it is too long to be coded, which reading refuses.
///
/// Error correction M: a seventh of the code may be smudged, and its squares stay large.
pub fn link_code(label: &str, address: &str) -> Option<LinkCode> {
    let code = QrCode::with_error_correction_level(address, EcLevel::M).ok()?;
    let side = code.width();
    let dark: Vec<bool> =
        code.to_colors().into_iter().map(|colour| colour == qrcode::Color::Dark).collect();
    let shown = address.split_once("://").map_or(address, |(_, rest)| rest);
    Some(LinkCode {
        label: label.to_owned(),
        address: address.to_owned(),
        shown: shown.trim_end_matches('/').to_owned(),
        alt: format!("Link code of the address {address}"),
        side,
        rows: dark.chunks(side).map(runs).collect(),
    })
}

/// Where each dark run of a row begins, and how long it is.
fn runs(row: &[bool]) -> Vec<[usize; 2]> {
    let mut runs: Vec<[usize; 2]> = Vec::new();
    for at in (0..row.len()).filter(|&at| row[at]) {
        match runs.last_mut() {
            Some([start, length]) if *start + *length == at => *length += 1,
            _ => runs.push([at, 1]),
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_its_dark_runs() {
        assert_eq!(runs(&[true, true, false, true]), [[0, 2], [3, 1]]);
        assert!(runs(&[false; 4]).is_empty());
    }

    #[test]
    fn the_shown_address_leaves_out_what_a_browser_adds() {
        let code = link_code("More", "https://shop.example/25-014/").unwrap();
        assert_eq!(code.shown, "shop.example/25-014");
        assert_eq!(
            (code.rows.len(), code.address.as_str()),
            (code.side, "https://shop.example/25-014/")
        );
    }

    #[test]
    fn the_longest_address_that_is_read_can_be_coded() {
        assert!(
            link_code("", &format!("https://{}", "a".repeat(242))).is_some_and(|c| c.side <= 61)
        );
    }
}
