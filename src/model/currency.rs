//! Currencies a shop may keep its books in.

use serde::Deserialize;
use std::sync::LazyLock;

/// A currency by its ISO 4217 code.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct Currency {
    pub code: String,
    /// What an amount of it is called in the shop: "45 dollars".
    pub names: Vec<String>,
    /// What is printed before an amount.
    pub symbol: String,
    /// Decimals of its minor unit.
    pub decimals: u32,
}

#[derive(Deserialize)]
struct Table {
    currency: Vec<Currency>,
}

static TABLE: LazyLock<Vec<Currency>> = LazyLock::new(|| {
    toml::from_str::<Table>(include_str!("tables/currencies.toml")).expect("embedded").currency
});

impl Currency {
    /// What one of it is called: "dollar".
    pub fn unit(&self) -> &str {
        self.names.first().map_or(&self.code, String::as_str)
    }
}

/// All currencies, in the order of the table.
pub fn currencies() -> &'static [Currency] {
    &TABLE
}

/// The currency of an ISO 4217 code.
pub fn currency(code: &str) -> Option<&'static Currency> {
    TABLE.iter().find(|currency| currency.code == code)
}
