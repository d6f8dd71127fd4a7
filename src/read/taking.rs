//! What was read of each file, put together: checked across the files, told and assembled.

use super::load::{FileRef, Taken};
use super::walk::Walk;
use super::{Reading, assemble, check};
use crate::model::{
    BankDeposit, Broken, Code, FileId, Finding, Order, Piece, Place, Shop, Sources, StockItem,
    YearBook,
};
use std::collections::BTreeMap;
use std::path::Path;

/// Every file of the shop, read by itself.
pub(super) struct Taking {
    pub walk: Walk,
    pub shop: Option<Taken<Shop>>,
    pub stock: Option<Taken<BTreeMap<String, StockItem>>>,
    pub books: Vec<(i32, Taken<YearBook>)>,
    pub pieces: Vec<Taken<Piece>>,
    pub orders: Vec<Taken<Order>>,
    pub layouts: Vec<Taken<()>>,
    pub banks: Vec<Taken<Vec<BankDeposit>>>,
}

impl Taking {
    pub fn into_reading(mut self, folder: &Path) -> Reading {
        let mut findings = self.take_findings();
        let across = self.check();
        let mut sources = Sources::default();
        self.move_texts(&mut sources);
        if self.shop.is_none() && !self.walk.broken.iter().any(|b| b.path == "shop.toml") {
            findings.push(no_shop_file(folder, self.books.is_empty() && self.pieces.is_empty()));
        }
        let layouts = self.layouts();
        let fonts = std::mem::take(&mut self.walk.fonts);
        let shop = self.assemble(&across, &sources, &mut findings);
        findings.extend(across.findings);
        findings.sort_by_key(|f| (!f.place.is_nowhere(), f.place, f.code));
        Reading { shop, sources, findings, layouts, fonts }
    }

    /// The findings of each file; its errors stay with the file, as it is judged by them.
    fn take_findings(&mut self) -> Vec<Finding> {
        let mut findings = std::mem::take(&mut self.walk.findings);
        findings.extend(self.shop.iter().flat_map(|taken| taken.findings.clone()));
        findings.extend(self.stock.iter().flat_map(|taken| taken.findings.clone()));
        findings.extend(self.books.iter().flat_map(|(_, taken)| taken.findings.clone()));
        findings.extend(self.pieces.iter().flat_map(|taken| taken.findings.clone()));
        findings.extend(self.orders.iter().flat_map(|taken| taken.findings.clone()));
        findings.extend(self.layouts.iter().flat_map(|taken| taken.findings.clone()));
        findings.extend(self.banks.iter().flat_map(|taken| taken.findings.clone()));
        findings
    }

    fn layouts(&self) -> Vec<(String, FileId)> {
        let sound = self.layouts.iter().filter(|layout| layout.sound);
        let name = |path: &str| path.rsplit('/').next().unwrap_or(path).to_owned();
        sound.map(|layout| (name(&layout.file.path), layout.file.id)).collect()
    }

    fn check(&self) -> check::Across {
        let pieces: Vec<&Piece> = self.pieces.iter().filter_map(Taken::sound).collect();
        let books: Vec<&YearBook> =
            self.books.iter().filter_map(|(_, book)| book.sound()).collect();
        let orders: Vec<&Order> = self.orders.iter().filter_map(Taken::sound).collect();
        let whole = self.books.iter().filter(|(_, book)| book.whole);
        let named: Vec<&YearBook> = whole.filter_map(|(_, book)| book.value.as_ref()).collect();
        let unread = self.pieces.iter().filter(|piece| !piece.sound);
        let unread = assemble::unread(unread);
        let unread_books = self.books.iter().filter(|(_, book)| book.has_errors()).count();
        let shop = self.shop.as_ref().and_then(Taken::sound);
        let written =
            check::Written { shop, pieces: &pieces, books: &books, named: &named, orders: &orders };
        let mut across = check::across(&written, unread, unread_books, &self.confirmed());
        self.pieces.iter().filter_map(Taken::only_dated).for_each(|piece| across.days_of(piece));
        across
    }

    /// What the owner is sure of, of every file.
    fn confirmed(&self) -> check::Confirmed {
        let mut confirmed = check::Confirmed::new();
        confirmed.extend(self.shop.iter().flat_map(|taken| taken.confirmed.clone()));
        confirmed.extend(self.books.iter().flat_map(|(_, taken)| taken.confirmed.clone()));
        confirmed.extend(self.pieces.iter().flat_map(|taken| taken.confirmed.clone()));
        confirmed.extend(self.orders.iter().flat_map(|taken| taken.confirmed.clone()));
        confirmed
    }

    /// In the order in which [`Files`](super::files::Files) numbered them.
    fn move_texts(&mut self, sources: &mut Sources) {
        let mut add = |file: &FileRef, text: &mut String| {
            let id = sources.add(file.path.clone(), std::mem::take(text));
            debug_assert_eq!(id, file.id);
        };
        self.shop.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
        self.stock.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
        self.books.iter_mut().for_each(|(_, taken)| add(&taken.file, &mut taken.text));
        self.pieces.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
        self.orders.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
        self.layouts.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
        self.banks.iter_mut().for_each(|taken| add(&taken.file, &mut taken.text));
    }

    fn assemble(
        self,
        across: &check::Across,
        sources: &Sources,
        findings: &mut Vec<Finding>,
    ) -> Option<Shop> {
        let mut shop = self.shop.filter(|taken| !taken.has_errors())?.value?;
        shop.broken = self.walk.broken;
        match self.stock {
            Some(taken) if taken.has_errors() => {
                shop.broken.push(Broken { path: taken.file.path, since: None, lacks: None });
                shop.stock = taken.value.unwrap_or_default();
            }
            Some(taken) => shop.stock = taken.value.unwrap_or_default(),
            None => {}
        }
        let said = assemble::assemble(&mut shop, self.books, self.pieces, across, sources);
        findings.extend(said);
        findings.extend(assemble::put_orders(&mut shop, self.orders));
        Some(shop)
    }
}

fn no_shop_file(folder: &Path, empty: bool) -> Finding {
    let (folder, what) = (folder.display(), if empty { "and no pieces" } else { "" });
    let message = format!("`{folder}` has no shop.toml {what}").trim_end().to_owned();
    let hint = "write a file shop.toml there with the line `name = \"Quayside Furniture\"`";
    Finding::error(Code::NoShopFile, Place::NOWHERE, message).hint(hint)
}
