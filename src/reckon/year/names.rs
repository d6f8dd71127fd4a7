//! What the figures of a year are called: every name there is, how it prints and how it parses.

use crate::model::{Closed, closed};
use std::fmt;

closed! {
    /// A figure that every year has.
    pub enum Total {
        Receipts = "receipts",
        ServiceIncome = "service-income",
        OtherIncome = "other-income",
        Refunds = "refunds",
        NetReceipts = "net-receipts",
        OpeningStock = "opening-stock",
        ClosingStock = "closing-stock",
        ShopStock = "shop-stock",
        Purchases = "purchases",
        Withdrawn = "withdrawn",
        WithdrawnKept = "withdrawn-kept",
        WithdrawnGiven = "withdrawn-given",
        PaidLabour = "paid-labour",
        Materials = "materials",
        OtherCosts = "other-costs",
        SuppliesBought = "supplies-bought",
        CostFromStock = "cost-from-stock",
        CostFromPieces = "cost-from-pieces",
        CostOfGoodsSold = "cost-of-goods-sold",
        PiecesSold = "pieces-sold",
        PartsCost = "parts-cost",
        PiecesReturned = "pieces-returned",
        WrittenOff = "written-off",
        LateCosts = "late-costs",
        ChannelFees = "channel-fees",
        Delivery = "delivery",
        Apart = "apart",
        Trips = "trips",
        TripMiles = "trip-miles",
        Parking = "parking",
        CommutingMiles = "commuting-miles",
        OtherMiles = "other-miles",
        Workspace = "workspace",
        TotalExpenses = "total-expenses",
        NetProfit = "net-profit",
        Sales = "sales",
        PartsSold = "parts-sold",
        OwedAtStart = "owed-at-start",
        OwedAtEnd = "owed-at-end",
        DepositsAtStart = "deposits-at-start",
        DepositsAtEnd = "deposits-at-end",
        GivenUp = "given-up",
        DepositsKept = "deposits-kept",
        ReceiptsFromSales = "receipts-from-sales",
        TaxUnpaid = "tax-unpaid",
        MissingRecords = "missing-records",
    }
}

closed! {
    /// A figure that only some years have.
    pub enum Rare {
        ChangeSupplies = "change-supplies",
        ChangeBasis = "change-basis",
        OpeningDifference = "opening-difference",
        BankDeposits = "bank-deposits",
        BankMatched = "bank-matched",
        BankExtra = "bank-extra",
        BankExpected = "bank-expected",
        BankFound = "bank-found",
        BankMissing = "bank-missing",
        SelfEmploymentEarnings = "self-employment-earnings",
        SelfEmploymentSocialSecurity = "self-employment-social-security",
        SelfEmploymentMedicare = "self-employment-medicare",
        SelfEmploymentTax = "self-employment-tax",
        SelfEmploymentHalf = "self-employment-half",
    }
}

closed! {
    /// Sales tax, of all places together and of each.
    pub enum TaxFigure {
        AtStart = "at-start",
        Collected = "collected",
        Remitted = "remitted",
        Kept = "kept",
        Held = "held",
        Marketplace = "marketplace",
    }
}

closed! {
    /// Of a sales tax return.
    pub enum FilingFigure {
        Gross = "gross",
        ByChannels = "by-channels",
        ExemptResale = "exempt-resale",
        ExemptOutOfState = "exempt-out-of-state",
        ExemptOther = "exempt-other",
        Delivery = "delivery",
        Taxable = "taxable",
        Tax = "tax",
        Remitted = "remitted",
        Kept = "kept",
        AtStart = "at-start",
        Held = "held",
    }
}

closed! {
    /// Of a month.
    pub enum MonthFigure {
        Received = "received",
        Cost = "cost",
    }
}

closed! {
    /// Of a channel.
    pub enum ChannelFigure {
        Price = "price",
        Delivery = "delivery",
        Tax = "tax",
        Fees = "fees",
        Refunds = "refunds",
        Expected = "expected",
        Reported = "reported",
        Explained = "explained",
        Unexplained = "unexplained",
    }
}

closed! {
    /// Of one sale.
    pub enum SoldFigure {
        Cost = "cost",
        Price = "price",
        Margin = "margin",
        Left = "left",
        Net = "net",
        Hours = "hours",
        PerHour = "per-hour",
    }
}

/// The name of a figure: what `trace` takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FigureName {
    Total(Total),
    Rare(Rare),
    /// A line of the form, by its number.
    Line(String),
    /// An expense category.
    Expense(String),
    /// Trips of a purpose, by its word: what they come to, and their miles.
    TripsOf(String),
    TripMilesOf(String),
    /// By the number of the calendar month.
    Month(u32, MonthFigure),
    /// Who was paid; nothing where the payee is not named.
    Payee(Option<String>),
    Channel(String, ChannelFigure),
    Tax(TaxFigure),
    /// Sales tax of a place.
    TaxOf(String, TaxFigure),
    /// A return, by its place and period: `county-2025-q1`.
    Filing(String, FilingFigure),
    /// A sale, by what its row is called.
    Sold(String, SoldFigure),
    /// A piece in stock at the end.
    Unsold(String),
    /// What to set aside, by its number.
    SetAside(usize),
}

impl From<Total> for FigureName {
    fn from(total: Total) -> FigureName {
        FigureName::Total(total)
    }
}

impl From<Rare> for FigureName {
    fn from(rare: Rare) -> FigureName {
        FigureName::Rare(rare)
    }
}

impl From<TaxFigure> for FigureName {
    fn from(tax: TaxFigure) -> FigureName {
        FigureName::Tax(tax)
    }
}

/// What was paid without a named payee.
const UNNAMED: &str = "unnamed";

impl fmt::Display for FigureName {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        match self {
            FigureName::Total(total) => write!(to, "{}", total.word()),
            FigureName::Rare(rare) => write!(to, "{}", rare.word()),
            FigureName::Line(number) => write!(to, "line-{number}"),
            FigureName::Expense(category) => write!(to, "expense-{category}"),
            FigureName::TripsOf(purpose) => write!(to, "trips-{purpose}"),
            FigureName::TripMilesOf(purpose) => write!(to, "trip-miles-{purpose}"),
            FigureName::Month(month, what) => write!(to, "month-{month:02}-{}", what.word()),
            FigureName::Payee(None) => write!(to, "payee-{UNNAMED}"),
            // A payee of that very name is told apart from those without a name.
            FigureName::Payee(Some(name)) if name.trim_end_matches('-') == UNNAMED => {
                write!(to, "payee-{name}-")
            }
            FigureName::Payee(Some(name)) => write!(to, "payee-{name}"),
            FigureName::Channel(key, what) => write!(to, "channel-{key}-{}", what.word()),
            FigureName::Tax(what) => write!(to, "tax-{}", what.word()),
            FigureName::TaxOf(place, what) => write!(to, "tax-{place}-{}", what.word()),
            FigureName::Filing(key, what) => write!(to, "filing-{key}-{}", what.word()),
            FigureName::Sold(key, what) => write!(to, "sold-{key}-{}", what.word()),
            FigureName::Unsold(key) => write!(to, "unsold-{key}"),
            FigureName::SetAside(number) => write!(to, "set-aside-{number}"),
        }
    }
}

impl FigureName {
    /// The name that prints as this; nothing where none does.
    pub fn parse(text: &str) -> Option<FigureName> {
        if let Some(total) = Total::of_word(text) {
            return Some(total.into());
        }
        if let Some(rare) = Rare::of_word(text) {
            return Some(rare.into());
        }
        let (head, rest) = text.split_once('-')?;
        let own = || rest.to_owned();
        match head {
            "line" => Some(FigureName::Line(own())),
            "expense" => Some(FigureName::Expense(own())),
            "trips" => Some(FigureName::TripsOf(own())),
            "trip" => Some(FigureName::TripMilesOf(rest.strip_prefix("miles-")?.to_owned())),
            "month" => {
                let (month, what) = keyed(rest)?;
                Some(FigureName::Month(month.parse().ok()?, what))
            }
            "payee" => Some(FigureName::Payee(payee(rest))),
            "channel" => keyed(rest).map(|(key, what)| FigureName::Channel(key, what)),
            "tax" => match TaxFigure::of_word(rest) {
                Some(what) => Some(FigureName::Tax(what)),
                None => keyed(rest).map(|(place, what)| FigureName::TaxOf(place, what)),
            },
            "filing" => keyed(rest).map(|(key, what)| FigureName::Filing(key, what)),
            "sold" => keyed(rest).map(|(key, what)| FigureName::Sold(key, what)),
            "unsold" => Some(FigureName::Unsold(own())),
            "set" => Some(FigureName::SetAside(rest.strip_prefix("aside-")?.parse().ok()?)),
            _ => None,
        }
    }
}

fn payee(text: &str) -> Option<String> {
    match text.strip_suffix('-') {
        _ if text == UNNAMED => None,
        Some(name) if name.trim_end_matches('-') == UNNAMED => Some(name.to_owned()),
        _ => Some(text.to_owned()),
    }
}

/// `KEY-WORD`, where a key may hold hyphens of its own; the longest word counts.
fn keyed<T: Closed>(text: &str) -> Option<(String, T)> {
    let ends = |(word, what): &(&'static str, T)| {
        let key = text.strip_suffix(word)?.strip_suffix('-')?;
        (!key.is_empty()).then(|| (key.to_owned(), *what))
    };
    T::ALL.iter().filter_map(ends).min_by_key(|(key, _)| key.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_print_as_they_parse() {
        for text in [
            "receipts",
            "change-basis",
            "line-24b",
            "expense-professional-services",
            "trips",
            "trips-fetch",
            "trip-miles",
            "trip-miles-other",
            "month-04-received",
            "payee-unnamed",
            "payee-Pat & Sons",
            "payee-unnamed-",
            "channel-none-fees",
            "channel-own-site-expected",
            "tax-held",
            "tax-county-held",
            "tax-x-at-start",
            "filing-county-2025-q1-tax",
            "sold-24-001-per-hour",
            "sold-24-001-2-hours",
            "unsold-pieces/desk",
            "set-aside-4",
        ] {
            let name = FigureName::parse(text).unwrap_or_else(|| panic!("{text}"));
            assert_eq!(name.to_string(), text);
        }
        assert_eq!(FigureName::parse("payee-unnamed"), Some(FigureName::Payee(None)));
        for text in ["", "nothing", "month-x-cost", "channel-x-nothing", "sold-", "set-aside-"] {
            assert_eq!(FigureName::parse(text), None, "{text}");
        }
    }
}
