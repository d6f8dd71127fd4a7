//! The self-employment estimate and what to set aside for it. An estimate, never more.
//!
//! Order of rounding: everything is reckoned from the net profit to the last digit, and each figure is
//! rounded once, on its own, when it is entered. So the deductible half is half of the exact tax
//! (30,000.00 gives 2,119.43, in whole dollars 2,119) and not half of the rounded tax. Only of the
//! two parts of the tax the second is what the first leaves of it, so that they add up.

use super::books::Books;
use super::ledger::{Contribution, Ledger};
use super::names::{FigureName, Rare};
use crate::model::{Form, Money, Rate, Seen, round, split};
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// The estimate for a year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SelfEmployment {
    pub net_profit: Money,
    /// Net profit × the share that counts as earnings; 0 for a loss.
    pub net_earnings: Money,
    /// On net earnings up to the wage base less other wages.
    pub social_security: Money,
    /// On all net earnings.
    pub medicare: Money,
    /// Both parts; 0 where net earnings are below the floor.
    pub tax: Money,
    /// The share of the tax that is deducted.
    pub half: Money,
}

/// What to set aside by a due day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    pub on: NaiveDate,
    /// A quarter of the tax to the cent; the four add up to it.
    pub amount: Money,
    pub source: String,
    pub seen: Seen,
    /// The name of its figure.
    pub figure: FigureName,
}

struct Rates<'a> {
    share: &'a Rate,
    social: &'a Rate,
    medicare: &'a Rate,
    half: &'a Rate,
    floor: &'a Rate,
    base: &'a Rate,
}

fn rates(form: &Form, year: i32) -> Option<Rates<'_>> {
    let on = NaiveDate::from_ymd_opt(year, 12, 31)?;
    Some(Rates {
        share: form.rate("self-employment-share", on)?,
        social: form.rate("social-security-rate", on)?,
        medicare: form.rate("medicare-rate", on)?,
        half: form.rate("deductible-share", on)?,
        floor: form.rate("self-employment-floor", on)?,
        base: form.rate("wage-base", on)?,
    })
}

/// The estimate from a net profit and wages earned elsewhere; nothing where the form's table has
/// no such tax.
pub fn self_employment(
    form: &Form,
    year: i32,
    net_profit: Money,
    wages: Money,
) -> Option<SelfEmployment> {
    let rates = rates(form, year)?;
    let net_earnings = net_profit.max(Money::ZERO) * rates.share.value;
    let due = net_earnings >= rates.floor.value;
    let room = (rates.base.value - wages).max(Money::ZERO);
    let tax_on = |base: Money, rate: &Rate| if due { base * rate.value } else { Money::ZERO };
    let social_security = tax_on(net_earnings.min(room), rates.social);
    let medicare = tax_on(net_earnings, rates.medicare);
    let tax = social_security + medicare;
    let half = tax * rates.half.value;
    Some(SelfEmployment { net_profit, net_earnings, social_security, medicare, tax, half })
}

impl SelfEmployment {
    /// As it is printed: each figure rounded once, and the two parts of the tax such that they add
    /// up to it.
    pub(super) fn in_cents(self, decimals: u32) -> SelfEmployment {
        let to_cents = |amount| round(amount, decimals);
        let (tax, social_security) = (to_cents(self.tax), to_cents(self.social_security));
        SelfEmployment {
            net_profit: self.net_profit,
            net_earnings: to_cents(self.net_earnings),
            social_security,
            medicare: tax - social_security,
            tax,
            half: to_cents(self.half),
        }
    }
}

/// Enters the estimate as `self-employment-…` figures.
pub(super) fn enter(books: &Books, net: Money, ledger: &mut Ledger) -> Option<SelfEmployment> {
    if !books.is_whole_year() {
        return None;
    }
    let found = self_employment(books.form, books.year, net, wages(books))?;
    let found = found.in_cents(books.decimals());
    let rates = rates(books.form, books.year)?;
    let mut put = |name: Rare, label: &str, what: String, amount: Money| {
        let part = Contribution::reckoned(what, amount);
        ledger.put(name, label, vec![part]);
    };
    let share = format!("`net-profit` × {}", rates.share.value);
    put(
        Rare::SelfEmploymentEarnings,
        "Net earnings from self-employment",
        share,
        found.net_earnings,
    );
    let (base, social) = (rates.base.value, rates.social.value);
    let less = match wages(books) {
        wages if wages.is_zero() => String::new(),
        wages => format!(" less {wages} of wages"),
    };
    let social = format!("`self-employment-earnings` up to {base}{less} × {social}");
    put(Rare::SelfEmploymentSocialSecurity, "Social Security part", social, found.social_security);
    let medicare = format!("`self-employment-earnings` × {}", rates.medicare.value);
    put(Rare::SelfEmploymentMedicare, "Medicare part", medicare, found.medicare);
    let half = format!("`self-employment-tax` × {}", rates.half.value);
    put(Rare::SelfEmploymentHalf, "Deductible part of the tax", half, found.half);
    let parts = vec![
        Contribution::reckoned("`self-employment-social-security`", found.social_security),
        Contribution::reckoned("`self-employment-medicare`", found.medicare),
    ];
    ledger.put(Rare::SelfEmploymentTax, "Self-employment tax, estimated", parts);
    Some(found)
}

/// The owner's wages from elsewhere in the year: they use up part of the wage base.
fn wages(books: &Books) -> Money {
    books.shop.wages.get(&books.year).copied().unwrap_or_default()
}

/// Enters `set-aside-1` … and gives them with their days: the tax, rounded to the cent, in equal
/// parts by largest remainder.
pub(super) fn set_aside(books: &Books, tax: Money, ledger: &mut Ledger) -> Vec<SetAside> {
    let whole = books.is_whole_year();
    let dues = books.form.dues.iter().filter(|due| whole && due.year == books.year);
    let dues: Vec<_> = dues.collect();
    let decimals = books.decimals();
    let parts = split(round(tax, decimals), &vec![Decimal::ONE; dues.len()], decimals);
    let numbered = dues.into_iter().zip(parts).enumerate();
    numbered
        .map(|(i, (due, amount))| {
            let figure = FigureName::SetAside(i + 1);
            let what = "an equal part of `self-employment-tax`";
            let label = format!("To set aside by {}", due.on);
            ledger.put(figure.clone(), &label, vec![Contribution::reckoned(what, amount)]);
            SetAside { on: due.on, amount, source: due.source.clone(), seen: due.seen, figure }
        })
        .collect()
}
