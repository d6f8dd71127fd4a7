//! Whether the shop's accent colour can be read on white paper.

use rust_decimal::Decimal;

/// Contrast of normal text with its ground. Source: WCAG 2.1, success criterion 1.4.3.
const LEAST_CONTRAST: Decimal = Decimal::from_parts(45, 0, 0, false, 1);

/// The contrast ratio of `#RRGGBB` on white where it is too low, else nothing; an error where the
/// text is no such colour.
pub(super) fn too_pale(colour: &str) -> Result<Option<Decimal>, ()> {
    let contrast = contrast_on_white(colour).ok_or(())?;
    Ok((contrast < LEAST_CONTRAST).then(|| contrast.trunc_with_scale(1)))
}

/// (L1 + 0.05) ÷ (L2 + 0.05) with L1 = 1 for white. Source: WCAG 2.1, "contrast ratio".
fn contrast_on_white(colour: &str) -> Option<Decimal> {
    let digits = colour.strip_prefix('#').filter(|digits| digits.len() == 6)?;
    let plain = digits.bytes().all(|b| b.is_ascii_hexdigit());
    let number = plain.then(|| u32::from_str_radix(digits, 16).ok()).flatten()?;
    let [_, red, green, blue] = number.to_be_bytes();
    Some(Decimal::new(105, 2) / (luminance(red, green, blue) + Decimal::new(5, 2)))
}

/// Relative luminance. Source: WCAG 2.1, "relative luminance".
fn luminance(red: u8, green: u8, blue: u8) -> Decimal {
    Decimal::new(2126, 4) * linear(red)
        + Decimal::new(7152, 4) * linear(green)
        + Decimal::new(722, 4) * linear(blue)
}

/// c ÷ 12.92 for a dark channel, else ((c + 0.055) ÷ 1.055)^2.4. Source: as above.
fn linear(channel: u8) -> Decimal {
    let c = Decimal::from(channel) / Decimal::from(255);
    if c <= Decimal::new(3928, 5) {
        return c / Decimal::new(1292, 2);
    }
    let base = (c + Decimal::new(55, 3)) / Decimal::new(1055, 3);
    let square = base * base;
    // x^2.4 = x² · (x²)^(1/5)
    square * fifth_root(square)
}

/// By Newton's method; for 0 < x ≤ 1.
fn fifth_root(x: Decimal) -> Decimal {
    let mut root = Decimal::ONE;
    for _ in 0..16 {
        root = (root * Decimal::from(4) + x / (root * root * root * root)) / Decimal::from(5);
    }
    root
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contrast_is_the_published_one() {
        // WCAG 2.1: black on white is 21:1, white on white 1:1. #767676 is the lightest grey that
        // passes 4.5:1 and #777777 does not (W3C, "Understanding SC 1.4.3"; from memory).
        let contrast = |colour| contrast_on_white(colour).unwrap().round_dp(6);
        assert_eq!(contrast("#000000"), Decimal::from(21));
        assert_eq!(contrast("#ffffff"), Decimal::ONE);
        assert_eq!(too_pale("#767676"), Ok(None));
        assert_eq!(too_pale("#777777"), Ok(Some(Decimal::new(44, 1))));
        for not in ["", "#", "7A3A1E", "#7A3A1", "#7A3A1EFF", "#GG0000", "brown", "#+12345", "#é€"]
        {
            assert_eq!(too_pale(not), Err(()), "{not}");
        }
    }
}
