//! Lengths as people write them, exact inside.

use super::closed::closed;
use num_rational::Ratio;

closed! {
    /// The unit of a bare number, set once for the shop.
    #[derive(Default)]
    pub enum LengthUnit {
        #[default]
        Inch = "in",
        Centimetre = "cm",
    }
}

impl LengthUnit {
    /// A measure in both systems, the shop's own first: "48 in (122 cm)" or "122 cm (48 in)".
    pub fn both(self, customary: &str, metric: &str) -> String {
        match self {
            LengthUnit::Inch => format!("{customary} ({metric})"),
            LengthUnit::Centimetre => format!("{metric} ({customary})"),
        }
    }
}

/// A length as an exact fraction of an inch (1 in = 25.4 mm exactly, by the 1959 international
/// yard and pound agreement).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(Ratio<i64>);

impl Length {
    pub fn from_inches(inches: Ratio<i64>) -> Length {
        Length(inches)
    }

    pub fn inches(self) -> Ratio<i64> {
        self.0
    }

    /// Millimetres, exact.
    pub fn millimetres(self) -> Ratio<i64> {
        self.0 * Ratio::new(127, 5)
    }

    /// Inches rounded to the nearest sixteenth, as whole inches and sixteenths (0 to 15).
    pub fn inches_and_sixteenths(self) -> (i64, i64) {
        let sixteenths = (self.0 * 16).round().to_integer();
        (sixteenths / 16, sixteenths % 16)
    }

    /// Centimetres rounded to whole, half up.
    pub fn whole_centimetres(self) -> i64 {
        (self.millimetres() / 10).round().to_integer()
    }
}

/// Reads `45 1/2 in`, `45-1/2"`, `45½`, `3 ft 9 in`, `3' 9"`, `116 cm`, `1.16 m`, `31.3125`.
///
/// A number without a unit is in `bare`, except that one after feet is in inches. The error is a
/// sentence for the owner.
pub fn parse_length(text: &str, bare: LengthUnit) -> Result<Length, String> {
    let complaint = || format!("`{text}` is not a length");
    let spaced = spell_out(text);
    let mut words = spaced.split_whitespace().peekable();
    let mut total = Ratio::from_integer(0);
    let mut smallest: Option<Ratio<i64>> = None;
    if words.peek().is_none() {
        return Err(complaint());
    }
    while words.peek().is_some() {
        let mut number = None;
        while let Some(part) = words.peek().and_then(|word| number_word(word)) {
            words.next();
            number = Some(add_part(number, part).ok_or_else(complaint)?);
        }
        let number = number.ok_or_else(complaint)?.0;
        let unit = match words.next() {
            Some(word) => unit_in_inches(word).ok_or_else(complaint)?,
            None if smallest.is_some() => Ratio::from_integer(1),
            None => bare_in_inches(bare),
        };
        if smallest.is_some_and(|before| unit >= before) {
            return Err(complaint());
        }
        smallest = Some(unit);
        total += measurable(number * unit, text)?;
        measurable(total, text)?;
    }
    if total <= Ratio::from_integer(0) {
        return Err(no_size(text));
    }
    Ok(Length(total))
}

/// The finest denominator of an inch a length may have: a ten-thousandth of any unit. Two lengths
/// within it and [`LARGEST`] add up, and turn into other units, far inside of 64 bits.
const FINEST: i64 = 127 * 10_000;

/// Inches; no piece of furniture is larger.
const LARGEST: i64 = 12_000;

/// A part of a length, or the whole of it, that can be reckoned with exactly.
fn measurable(part: Ratio<i64>, text: &str) -> Result<Ratio<i64>, String> {
    if part > Ratio::from_integer(LARGEST) {
        return Err(no_size(text));
    }
    if *part.denom() > FINEST {
        return Err(format!("`{text}` is finer than anyone measures furniture"));
    }
    Ok(part)
}

fn no_size(text: &str) -> String {
    format!("`{text}` is not a size a piece of furniture can have")
}

const FRACTIONS: [(char, &str); 9] = [
    ('½', " 1/2 "),
    ('¼', " 1/4 "),
    ('¾', " 3/4 "),
    ('⅓', " 1/3 "),
    ('⅔', " 2/3 "),
    ('⅛', " 1/8 "),
    ('⅜', " 3/8 "),
    ('⅝', " 5/8 "),
    ('⅞', " 7/8 "),
];

/// Puts spaces between numbers and units and spells built fractions and prime marks out.
fn spell_out(text: &str) -> String {
    let text = text.replace("''", "\"");
    let mut spaced = String::with_capacity(text.len() + 8);
    let mut last = ' ';
    for c in text.chars() {
        if let Some((_, words)) = FRACTIONS.iter().find(|(f, _)| *f == c) {
            spaced.push_str(words);
        } else if matches!(c, '"' | '″' | '”') {
            spaced.push_str(" in ");
        } else if matches!(c, '\'' | '′' | '’') {
            spaced.push_str(" ft ");
        } else if c == '.' && last.is_alphabetic() {
            // The full stop of an abbreviation.
        } else if c == '-' && last.is_ascii_digit() {
            spaced.push(' ');
        } else {
            if c.is_alphabetic() != last.is_alphabetic() {
                spaced.push(' ');
            }
            spaced.extend(c.to_lowercase());
        }
        last = c;
    }
    spaced.replace(" / ", "/")
}

/// A number word and whether it is a fraction.
fn number_word(word: &str) -> Option<(Ratio<i64>, bool)> {
    if let Some((top, bottom)) = word.split_once('/') {
        let (top, bottom): (i64, i64) = (digits(top)?, digits(bottom)?);
        return (bottom > 0).then(|| (Ratio::new(top, bottom), true));
    }
    let (whole, decimals) = word.split_once('.').unwrap_or((word, ""));
    if decimals.len() > 6 || (whole.is_empty() && decimals.is_empty()) {
        return None;
    }
    let scale = 10_i64.pow(decimals.len() as u32);
    let whole = if whole.is_empty() { 0 } else { digits(whole)? };
    let decimals = if decimals.is_empty() { 0 } else { digits(decimals)? };
    Some((Ratio::new(whole * scale + decimals, scale), false))
}

fn digits(text: &str) -> Option<i64> {
    let fits = !text.is_empty() && text.len() <= 6 && text.bytes().all(|b| b.is_ascii_digit());
    fits.then(|| text.parse().ok()).flatten()
}

/// Adds a fraction to the whole number before it; two whole numbers in a row are no length.
fn add_part(
    sum: Option<(Ratio<i64>, bool)>,
    part: (Ratio<i64>, bool),
) -> Option<(Ratio<i64>, bool)> {
    match sum {
        None => Some(part),
        Some((whole, false)) if part.1 && whole.is_integer() => Some((whole + part.0, true)),
        Some(_) => None,
    }
}

fn unit_in_inches(word: &str) -> Option<Ratio<i64>> {
    Some(match word {
        "in" | "inch" | "inches" => Ratio::from_integer(1),
        "ft" | "foot" | "feet" => Ratio::from_integer(12),
        "mm" => Ratio::new(5, 127),
        "cm" => Ratio::new(50, 127),
        "m" => Ratio::new(5000, 127),
        _ => return None,
    })
}

fn bare_in_inches(unit: LengthUnit) -> Ratio<i64> {
    match unit {
        LengthUnit::Inch => Ratio::from_integer(1),
        LengthUnit::Centimetre => Ratio::new(50, 127),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Ratio<i64> {
        parse_length(text, LengthUnit::Inch).unwrap().inches()
    }

    #[test]
    fn the_spellings_people_use_mean_the_same_length() {
        let half = Ratio::new(91, 2);
        for text in [
            "45 1/2 in",
            "45½",
            "45½\"",
            "45-1/2",
            "45.5",
            "45.5in",
            "45 1/2 inches",
            "3 ft 9 1/2 in",
            "3' 9½\"",
            "3'9 1/2",
            "3 ft 9½",
            "45 ½ ″",
            "45 1 / 2 in.",
        ] {
            assert_eq!(inches(text), half, "{text}");
        }
        assert_eq!(inches("31 5/16"), Ratio::new(501, 16));
        assert_eq!(inches("116 cm"), Ratio::new(5800, 127));
        assert_eq!(inches("1.16 m"), inches("1160 mm"));
        assert_eq!(inches("1 m 16 cm"), inches("116cm"));
        let bare = parse_length("116", LengthUnit::Centimetre).unwrap();
        assert_eq!(bare.inches(), inches("116 cm"));
    }

    #[test]
    fn what_is_not_a_length_is_refused() {
        for text in [
            "",
            "  ",
            "in",
            "wide",
            "45 45",
            "1/2 1/2",
            "1/0",
            "0",
            "-3 in",
            "4 in 3 ft",
            "9999999999999",
            "45 1/2 stone",
            "3 ft 4 ft",
            "1e3",
            "4/",
            "/4",
            "1.2.3",
            "NaN",
        ] {
            assert!(parse_length(text, LengthUnit::Inch).is_err(), "{text}");
        }
    }

    #[test]
    fn both_units_are_rounded_from_the_exact_length() {
        let length = parse_length("36 1/4", LengthUnit::Inch).unwrap();
        assert_eq!(length.inches_and_sixteenths(), (36, 4));
        assert_eq!(length.whole_centimetres(), 92);
    }

    #[test]
    fn fractions_too_fine_to_add_up_exactly_are_refused() {
        for text in [
            "1/999983 ft 1/999979 in",
            "1/999999 ft 1/999997 in 1/999989 mm",
            "1/9973 m 1/9967 ft 1/9949 in 1/9941 cm 1/9931 mm",
            "999999 m 1/999999 mm",
        ] {
            assert!(parse_length(text, LengthUnit::Inch).is_err(), "{text}");
        }
        // As fine as any rule or gauge is marked.
        assert_eq!(inches("1/64"), Ratio::new(1, 64));
        assert_eq!(inches("36.0001"), Ratio::new(360_001, 10_000));
        assert_eq!(inches("0.0001 cm"), Ratio::new(1, 25_400));
    }
}
