//! What the rest of the shop must be known for before a file can be read: the currency's decimals,
//! the unit of a bare length, the stock items, the channels and the form's categories.

use crate::model::{
    BankColumns, Channel, Country, Currency, Form, LengthUnit, SalesTax, StockItem, countries,
};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The shop as far as reading a single file depends on it.
pub(super) struct Setting {
    /// The shop folder, with links resolved.
    pub folder: PathBuf,
    /// Where the shop is, as far as anything tells it.
    pub home: &'static Country,
    pub currency: Currency,
    pub units: LengthUnit,
    /// Nothing where stock.toml cannot be read: then no reference to it can be judged.
    pub stock: Option<BTreeMap<String, StockItem>>,
    /// Every item of stock.toml is known: what it lacks is not there.
    pub stock_whole: bool,
    /// Nothing where shop.toml is missing or has errors.
    pub channels: Option<BTreeMap<String, Channel>>,
    /// Nothing where shop.toml is missing or has errors.
    pub taxes: Option<BTreeMap<String, SalesTax>>,
    /// How the bank's export is read; nothing where shop.toml does not say, or cannot be read.
    pub bank: Option<BankColumns>,
    /// The tables of the shop's own form by year, and the account of a year without one.
    pub forms: Vec<Form>,
}

impl Setting {
    /// What holds before anything was read.
    pub fn unread(folder: &Path) -> Setting {
        let home = countries().next().expect("the table has rows");
        Setting {
            folder: folder.canonicalize().unwrap_or_else(|_| folder.to_owned()),
            home,
            currency: home.money().clone(),
            units: home.units,
            stock: None,
            stock_whole: true,
            channels: None,
            taxes: None,
            bank: None,
            forms: Vec::new(),
        }
    }

    /// The categories an expense of a year may have; empty where no form says.
    pub fn categories(&self, year: i32) -> Vec<&str> {
        let of_year = |form: &&Form| form.years.contains(&year);
        let any_year = |form: &&Form| form.years.is_empty();
        let form = self.forms.iter().find(of_year);
        let form = form.or_else(|| self.forms.iter().find(any_year));
        form.into_iter().flat_map(Form::categories).collect()
    }
}
