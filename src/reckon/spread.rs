//! The middle of some figures and how far they spread. The offer uses it.

use rust_decimal::Decimal;

/// Median and quartiles of a number of figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread {
    /// A quarter of the figures lie below it.
    pub lower: Decimal,
    pub median: Decimal,
    /// A quarter of the figures lie above it.
    pub upper: Decimal,
    pub pieces: usize,
}

/// The median (of an even count the mean of the middle two) and, as quartiles, the medians of the
/// halves below and above it, which leave out the middle figure of an odd count. A single figure
/// is all three. Nothing for no figures.
pub fn spread(mut figures: Vec<Decimal>) -> Option<Spread> {
    figures.sort();
    let median = median(&figures)?;
    let half = figures.len() / 2;
    let lower = self::median(&figures[..half]).unwrap_or(median);
    let upper = self::median(&figures[figures.len() - half..]).unwrap_or(median);
    Some(Spread { lower, median, upper, pieces: figures.len() })
}

fn median(sorted: &[Decimal]) -> Option<Decimal> {
    let middle = sorted.len() / 2;
    match sorted.len() % 2 {
        _ if sorted.is_empty() => None,
        0 => Some((sorted[middle - 1] + sorted[middle]) / Decimal::TWO),
        _ => Some(sorted[middle]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(figures: &[i64]) -> Option<Spread> {
        spread(figures.iter().map(|&n| Decimal::from(n)).collect())
    }

    #[test]
    fn odd_even_single_and_no_figures() {
        let said = |lower: &str, median: &str, upper: &str, pieces| {
            let [lower, median, upper] =
                [lower, median, upper].map(|text| Decimal::from_str_exact(text).unwrap());
            Some(Spread { lower, median, upper, pieces })
        };
        assert_eq!(of(&[5, 1, 4, 2, 3]), said("1.5", "3", "4.5", 5));
        assert_eq!(of(&[4, 1, 3, 2]), said("1.5", "2.5", "3.5", 4));
        assert_eq!(of(&[7]), said("7", "7", "7", 1));
        assert_eq!(of(&[]), None);
    }
}
