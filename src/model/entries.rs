//! Everything dated that the owner wrote, as one list: what years there are, what lacks a receipt,
//! who was paid, what moved money or goods is all read from it.

use super::{
    Allowance, At, Bought, Coat, Consigned, Cost, Count, EstimatePaid, Expense, Income, Listing,
    Lot, Money, OnHandStock, Order, Payment, Photo, Piece, Place, Refund, Remitted, Return, Sale,
    Salvaged, SalvagedTo, Shop, Supply, Trip, Used, Withdrawal, Work, YearBook,
};
use chrono::NaiveDate;

/// One dated thing that the owner wrote.
#[derive(Clone, Copy, Debug)]
pub struct Entry<'a> {
    pub on: NaiveDate,
    pub place: Place,
    /// The piece in whose file it stands, by its position in [`Shop::pieces`].
    pub piece: Option<usize>,
    pub what: What<'a>,
}

/// What was written. Of a piece's own lists the position in the list is given as well.
#[derive(Clone, Copy, Debug)]
pub enum What<'a> {
    Bought(&'a Bought),
    Cost(&'a Cost),
    Used(usize, &'a Used),
    Worked(&'a Work),
    Coated(&'a Coat),
    Pictured(&'a Photo),
    Listed(&'a Listing),
    Sold(usize, &'a Sale),
    Returned(usize, &'a Return),
    Paid(&'a Payment),
    /// A payment that bounced or was given back.
    PaidBack(&'a Payment),
    /// A deposit that became the shop's own.
    DepositKept(&'a Payment),
    Allowed(&'a Allowance),
    Salvaged(&'a Salvaged),
    Consigned(&'a Consigned),
    /// It came back from where it was to be sold.
    ConsignedBack(&'a Consigned),
    Withdrawn(&'a Withdrawal),
    Lot(&'a Lot),
    Expense(&'a Expense),
    Income(&'a Income),
    /// Money of an order that is no income on its day.
    Moved(&'a Income),
    /// Of the owner's own tax: in no figure of the business.
    EstimatePaid(&'a EstimatePaid),
    Supply(&'a Supply),
    Refund(&'a Refund),
    Count(&'a Count),
    Trip(&'a Trip),
    Remitted(&'a Remitted),
    /// On the first day of its book's year.
    OnHand(&'a OnHandStock),
}

impl Piece {
    /// The dated entries of its file, table by table; `at` is its position in [`Shop::pieces`].
    pub fn entries(&self, at: usize) -> Vec<Entry<'_>> {
        let mut all = Vec::new();
        let mut add = |on: &At<NaiveDate>, place, what| {
            all.push(Entry { on: on.value, place, piece: Some(at), what });
        };
        self.bought.iter().for_each(|one| add(&one.on, one.place, What::Bought(one)));
        self.cost.iter().for_each(|one| add(&one.on, one.place, What::Cost(one)));
        for (nth, one) in self.used.iter().enumerate() {
            add(&one.on, one.place, What::Used(nth, one));
        }
        for one in &self.work {
            one.on.iter().for_each(|on| add(on, one.place, What::Worked(one)));
        }
        for one in &self.coat {
            one.last.iter().for_each(|on| add(on, one.place, What::Coated(one)));
        }
        for one in &self.photo {
            one.on.iter().for_each(|on| add(on, one.place, What::Pictured(one)));
        }
        if let Some(one) = &self.listing {
            one.on.iter().for_each(|on| add(on, one.place, What::Listed(one)));
        }
        for (nth, one) in self.sale.iter().enumerate() {
            add(&one.on, one.place, What::Sold(nth, one));
        }
        for (nth, one) in self.returned.iter().enumerate() {
            add(&one.on, one.place, What::Returned(nth, one));
        }
        for one in &self.payment {
            add(&one.on, one.place, What::Paid(one));
            one.back.iter().for_each(|on| add(on, one.place, What::PaidBack(one)));
            one.over_back.iter().for_each(|on| add(on, one.place, What::PaidBack(one)));
            one.kept.iter().for_each(|on| add(on, one.place, What::DepositKept(one)));
        }
        self.allowance.iter().for_each(|one| add(&one.on, one.place, What::Allowed(one)));
        self.salvaged.iter().for_each(|one| add(&one.on, one.place, What::Salvaged(one)));
        for one in &self.consigned {
            add(&one.on, one.place, What::Consigned(one));
            one.back.iter().for_each(|on| add(on, one.place, What::ConsignedBack(one)));
        }
        self.withdrawn.iter().for_each(|one| add(&one.on, one.place, What::Withdrawn(one)));
        all
    }
}

impl YearBook {
    /// Its dated entries, table by table; stock on hand counts on the first day of its year.
    pub fn entries(&self, first_day: NaiveDate) -> Vec<Entry<'_>> {
        let mut all = Vec::new();
        let mut add = |on, place, what| all.push(Entry { on, place, piece: None, what });
        self.on_hand.iter().for_each(|one| add(first_day, one.place, What::OnHand(one)));
        self.lot.iter().for_each(|one| add(one.on.value, one.place, What::Lot(one)));
        self.expense.iter().for_each(|one| add(one.on.value, one.place, What::Expense(one)));
        self.income.iter().for_each(|one| add(one.on.value, one.place, What::Income(one)));
        for one in &self.estimate_paid {
            add(one.on.value, one.place, What::EstimatePaid(one));
        }
        self.supply.iter().for_each(|one| add(one.on.value, one.place, What::Supply(one)));
        self.refund.iter().for_each(|one| add(one.on.value, one.place, What::Refund(one)));
        self.count.iter().for_each(|one| add(one.on.value, one.place, What::Count(one)));
        self.trip.iter().for_each(|one| add(one.on.value, one.place, What::Trip(one)));
        self.remitted.iter().for_each(|one| add(one.on.value, one.place, What::Remitted(one)));
        all
    }
}

impl Order {
    /// What it cost, what counts as income, and what money moved besides.
    pub fn entries(&self) -> Vec<Entry<'_>> {
        let entry = |on, place, what| Entry { on, place, piece: None, what };
        let cost = self.cost.iter().map(|one| entry(one.on.value, one.place, What::Expense(one)));
        let counted =
            self.counted.iter().map(|one| entry(one.on.value, one.place, What::Income(one)));
        let moved = self.moved.iter().map(|one| entry(one.on.value, one.place, What::Moved(one)));
        cost.chain(counted).chain(moved).collect()
    }
}

impl Shop {
    /// Every dated entry: piece by piece, then book by book, then order by order.
    pub fn entries(&self) -> Vec<Entry<'_>> {
        let pieces = self.pieces.iter().enumerate().flat_map(|(at, piece)| piece.entries(at));
        let books = self.years.values();
        let books = books.flat_map(|book| book.entries(self.tax_year(book.year).first));
        pieces.chain(books).chain(self.orders.iter().flat_map(Order::entries)).collect()
    }

    /// The tax years in which money or goods moved, and those that have a book, in order.
    pub fn active_years(&self) -> Vec<i32> {
        let moved = self.entries().into_iter().filter(Entry::is_of_the_books);
        let days = moved.map(|entry| self.tax_year_of(entry.on));
        let mut years: Vec<i32> = days.chain(self.years.keys().copied()).collect();
        years.sort_unstable();
        years.dedup();
        years
    }
}

impl<'a> Entry<'a> {
    /// Whether it moved money, goods or miles: what a year's figures can be made of. Work, coats,
    /// photos, listings and consignments are not.
    pub fn is_of_the_books(&self) -> bool {
        !matches!(
            self.what,
            What::Worked(_)
                | What::Coated(_)
                | What::Pictured(_)
                | What::Listed(_)
                | What::Consigned(_)
                | What::ConsignedBack(_)
                | What::EstimatePaid(_)
        )
    }

    /// Whether it is one of a shop whose books have begun: buying pieces and working on them is not,
    /// as they may have been bought before the first book.
    pub fn begins_books(&self) -> bool {
        let earlier = matches!(
            self.what,
            What::Bought(_) | What::Cost(_) | What::Used(..) | What::Salvaged(_)
        );
        self.is_of_the_books() && !earlier
    }

    /// The receipt it names, if any.
    pub fn receipt(&self) -> Option<&'a At<String>> {
        match self.what {
            What::Bought(one) => one.receipt.as_ref(),
            What::Cost(one) => one.receipt.as_ref(),
            What::Sold(_, one) => one.receipt.as_ref(),
            What::Paid(one) => one.receipt.as_ref(),
            What::Allowed(one) => one.receipt.as_ref(),
            What::Salvaged(one) => one.receipt.as_ref(),
            What::Lot(one) => one.receipt.as_ref(),
            What::Expense(one) => one.receipt.as_ref(),
            What::Income(one) | What::Moved(one) => one.receipt.as_ref(),
            What::EstimatePaid(one) => one.receipt.as_ref(),
            What::Supply(one) => one.receipt.as_ref(),
            What::Refund(one) => one.receipt.as_ref(),
            What::Remitted(one) => one.receipt.as_ref(),
            _ => None,
        }
    }

    /// The money of an entry that needs a record of its own; nothing where none is needed. What was
    /// paid by payments is recorded by each of them: whoever asks leaves out their sale.
    pub fn to_record(&self) -> Option<Money> {
        match self.what {
            What::Bought(one) => Some(one.paid()),
            What::Cost(one) => Some(one.amount.value),
            What::Sold(_, one) => Some(one.asked()),
            What::Paid(one) => Some(one.amount.value),
            What::Allowed(one) => Some(one.amount.value),
            What::Salvaged(one) => match &one.to {
                SalvagedTo::Sold(price) => Some(price.value),
                SalvagedTo::Piece(_) => None,
            },
            What::Lot(one) => Some(one.paid()),
            What::Expense(one) => Some(one.amount.value),
            // A payment that went back needs no record but that of the payment.
            What::Income(one) | What::Moved(one) => {
                Some(one.amount.value).filter(|amount| *amount > Money::ZERO)
            }
            What::Supply(one) => Some(one.amount.value),
            What::Refund(one) => Some(one.amount.value),
            What::Remitted(one) => Some(one.amount.value),
            _ => None,
        }
    }

    /// What it says of itself, without its piece.
    pub fn words(&self) -> String {
        match self.what {
            What::Bought(_) => "bought".to_owned(),
            What::Cost(one) => one.what.clone(),
            What::Used(_, one) => one.stock.value.clone(),
            What::Worked(one) => one.task.clone(),
            What::Coated(one) => one.product.value.clone(),
            What::Pictured(_) => "a photo".to_owned(),
            What::Listed(_) => "listed".to_owned(),
            What::Sold(..) => "sold".to_owned(),
            What::Returned(..) => "came back".to_owned(),
            What::Paid(_) => "payment".to_owned(),
            What::PaidBack(_) => "payment went back".to_owned(),
            What::DepositKept(_) => "deposit kept".to_owned(),
            What::Allowed(_) => "allowance".to_owned(),
            What::Salvaged(one) => match &one.to {
                SalvagedTo::Sold(_) => format!("{}, sold by itself", one.what),
                SalvagedTo::Piece(_) => format!("{}, taken out", one.what),
            },
            What::Consigned(one) => format!("with {}", one.to),
            What::ConsignedBack(one) => format!("back from {}", one.to),
            What::Withdrawn(_) => "withdrawn".to_owned(),
            What::Lot(one) => one.what.clone(),
            What::Expense(one) => one.what.clone(),
            What::Income(one) | What::Moved(one) => one.what.clone(),
            What::EstimatePaid(_) => "estimated tax".to_owned(),
            What::Supply(one) => one.stock.value.clone(),
            What::Refund(one) => one.words(),
            What::Count(one) => format!("{}, counted", one.stock.value),
            What::Trip(one) => one.what.clone(),
            What::Remitted(one) => format!("sales tax to {}", one.to),
            What::OnHand(one) => format!("{}, on hand", one.stock.value),
        }
    }
}
