//! What the workers of `make` share, and how one of them makes its files.

use super::super::apart::{Order, Work, typeset_apart};
use super::super::args::MakeArgs;
use super::super::brand::add_to;
use super::super::files::Fingerprint;
use super::super::folders::{order_folders, piece_folders};
use super::super::opened::{Known, KnownPiece, Opened};
use super::super::output::{Output, Ready};
use super::super::pictures::{Pictures, PieceShots};
use super::super::receipts::receipt_files;
use super::Item;
use super::outcome::Made;
use super::papers::{Of, Paper, piece_plan, wanted};
use super::targets::{Body, Form, Plan, Target, add_year, subject};
use crate::model::{Code, Failure, FileId, Finding, Moment, Place, Shop, Sources, and_list};
use crate::reckon::year::{Year, newest_day, quarter, year, year_to};
use crate::typeset::{
    Draft, LAYOUTS, LayoutFault, MOST_PICTURED, OnDay, Press, Subject, catalogue, count_sheet,
    files_of, hang_tag, inventory, inventory_table, is_for_sale, listing_sheet, review_sheet,
};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::OnceLock;

/// Everything the workers share.
pub struct Bench<'a> {
    args: &'a MakeArgs,
    opened: &'a Opened,
    known: &'a Known,
    output: &'a Output,
    wanted: Vec<&'static Paper>,
    /// Built with the first document that is out of date.
    press: OnceLock<Press>,
    /// The shop's own layouts: name and text.
    own: Vec<(String, String)>,
    /// Of the shop's own layouts and the built-in ones.
    layouts: String,
    folders: Vec<String>,
    /// The same of orders.
    order_folders: Vec<String>,
    pictures: Pictures<'a>,
}

/// Of a piece not finished, as it was found.
const ANY_MOMENT: [Moment; 3] = [Moment::After, Moment::During, Moment::Before];

/// A paper as the press takes it.
pub struct DraftedPaper {
    /// Its place below the output folder.
    pub path: String,
    pub draft: Draft,
    /// Of [`Draft::pictures`], in their order.
    pub pictures: Vec<Vec<u8>>,
}

impl<'a> Bench<'a> {
    pub fn new(
        args: &'a MakeArgs,
        opened: &'a Opened,
        known: &'a Known,
        output: &'a Output,
    ) -> Bench<'a> {
        let own: Vec<(String, String)> = opened.own_layouts();
        let mut print = Fingerprint::new();
        let built_in = LAYOUTS.iter().map(|layout| (layout.name, layout.text));
        for (name, text) in built_in.chain(own.iter().map(|(n, t)| (n.as_str(), t.as_str()))) {
            print.add(name.as_bytes());
            print.add(text.as_bytes());
        }
        add_to(&mut print, &opened.brand);
        Bench {
            args,
            opened,
            known,
            output,
            wanted: wanted(args),
            press: OnceLock::new(),
            own,
            layouts: print.text(),
            folders: piece_folders(&known.shop),
            order_folders: order_folders(&known.shop),
            pictures: Pictures::new(&opened.folder, output),
        }
    }

    pub fn make(&self, item: Item) -> Result<Vec<Made>, Failure> {
        let Plan { targets, left_out: mut made, photos, .. } = self.planned(item)?;
        let mut ready: Vec<Ready> = Vec::new();
        for target in &targets {
            made.push(Made::Odd(self.replaced(target)));
            match self.target(target, photos.as_ref())? {
                Ok(file) => ready.push(file),
                Err(one) => made.push(one),
            }
        }
        made.extend(self.output.put(ready)?.into_iter().map(|(path, put)| match put {
            Ok(()) => Made::Wrote(path),
            Err(finding) => Made::LeftOut { what: path, findings: vec![finding] },
        }));
        Ok(made)
    }

    pub fn shop(&self) -> &Shop {
        &self.known.shop
    }

    pub fn sources(&self) -> &Sources {
        &self.opened.sources
    }

    /// The photos of the run, once everything is made.
    pub fn into_pictures(self) -> Pictures<'a> {
        self.pictures
    }

    /// What `make` would typeset of an item, each with its pictures; nothing of what is left out.
    pub fn papers(&self, item: Item) -> Result<Vec<DraftedPaper>, Failure> {
        let plan = self.planned(item)?;
        let mut papers = Vec::new();
        for target in &plan.targets {
            let Body::Paper(draft, _) = &target.body else { continue };
            let Ok(draft) = self.legible(target, draft) else { continue };
            let pictures = self.pictures_of(&draft, plan.photos.as_ref())?;
            papers.push(DraftedPaper { path: target.path.clone(), draft, pictures });
        }
        Ok(papers)
    }

    fn planned(&self, item: Item) -> Result<Plan, Failure> {
        match item {
            Item::Year(of) => self.year(of),
            Item::Quarter(of, nth) => Ok(self.quarter(of, nth)),
            Item::Shop(_, add) => {
                let mut plan = Plan::default();
                add(self, &mut plan)?;
                Ok(plan)
            }
            Item::Order(index) => Ok(self.order(index)),
            Item::Piece(index) => self.piece(index),
        }
    }

    fn year(&self, of: i32) -> Result<Plan, Failure> {
        let reckoned = &self.known.reckoned;
        let mut plan = Plan::within(format!("years/{of}/"));
        match year(self.shop(), &reckoned.run, &reckoned.costs, of) {
            Ok(books) => {
                for paper in &self.wanted {
                    if let Of::Year(add) = paper.of {
                        add(self, &books, &mut plan)?;
                    }
                }
            }
            Err(findings) => plan.leave_out(format!("the income summary of {of}"), findings),
        }
        Ok(plan)
    }

    /// What is wrong with the year is said with its summary.
    fn quarter(&self, of: i32, nth: u32) -> Plan {
        let reckoned = &self.known.reckoned;
        let mut plan = Plan::within(format!("years/{of}/"));
        match quarter(self.shop(), &reckoned.run, &reckoned.costs, of, nth) {
            Ok(found) => {
                for paper in &self.wanted {
                    if let Of::Quarter(add) = paper.of {
                        add(self, &found, &mut plan);
                    }
                }
            }
            Err(_) => plan.leave_out(format!("the sheet of quarter {nth} of {of}"), Vec::new()),
        }
        plan
    }

    fn order(&self, index: usize) -> Plan {
        let order = &self.shop().orders[index];
        let mut plan =
            Plan::of(order.title.place, format!("orders/{}/", self.order_folders[index]));
        for paper in &self.wanted {
            if let Of::Order(add) = paper.of {
                add(self.known, order, &mut plan);
            }
        }
        plan
    }

    fn piece(&self, index: usize) -> Result<Plan, Failure> {
        let piece = self.known.at(index);
        let photos = self.pictures.of(piece.piece)?;
        let shots = photos.shots(piece.piece);
        let subject = subject(self.known, piece, &shots);
        let mut plan = piece_plan(self.known, &subject, &self.folders[index], &self.wanted);
        if !photos.findings.is_empty() {
            let what = format!("pictures of {}", piece.piece.name());
            plan.leave_out(what, photos.findings.clone());
        }
        plan.photos = Some(photos);
        Ok(plan)
    }

    /// The photos of a piece are numbered on from those of the pieces before it. What cannot be used
    /// is said where the piece's own papers are made.
    pub fn add_catalogue(&self, plan: &mut Plan) -> Result<(), Failure> {
        let listed: Vec<KnownPiece> = self
            .known
            .pieces()
            .filter(|piece| is_for_sale(&subject(self.known, *piece, &[])))
            .collect();
        let mut all = PieceShots::default();
        let mut shots = Vec::new();
        for piece in &listed {
            shots.push(self.pictures.add_first(piece.piece, &[Moment::After], &mut all)?);
        }
        let subjects: Vec<Subject> = listed
            .iter()
            .zip(&shots)
            .map(|(piece, shot)| subject(self.known, *piece, shot.as_slice()))
            .collect();
        self.add_of_many("catalogue.pdf", subjects, catalogue, plan);
        plan.photos = Some(all);
        Ok(())
    }

    /// The shop looked at as a whole.
    pub fn add_review(&self, plan: &mut Plan) -> Result<(), Failure> {
        if let Some(sheet) = review_sheet(self.shop(), &self.known.review()) {
            plan.paper("review.pdf", sheet);
        }
        Ok(())
    }

    pub fn add_summary(&self, books: &Year, plan: &mut Plan) -> Result<(), Failure> {
        let receipts = receipt_files(&self.opened.folder, books)?;
        add_year(self.known, books, self.sources(), &receipts, plan);
        Ok(())
    }

    /// The books up to the day that is asked for, else up to the last entry; nothing of a shop without
    /// entries. What is wrong with the year is said with its summary.
    fn year_to_day(&self) -> Option<Result<Year, Vec<Finding>>> {
        let (shop, reckoned) = (&self.known.shop, &self.known.reckoned);
        let day = self.args.on.or_else(|| newest_day(shop))?;
        Some(year_to(shop, &reckoned.run, &reckoned.costs, day))
    }

    /// "inventory.pdf", with the day in it where one is asked for.
    fn of_day(&self, name: &str, ending: &str) -> String {
        let day = self.args.on.map(|on| format!("-{on}")).unwrap_or_default();
        format!("{name}{day}.{ending}")
    }

    pub fn add_count_sheet(&self, plan: &mut Plan) -> Result<(), Failure> {
        let (shop, run) = (self.shop(), &self.known.reckoned.run);
        match self.year_to_day() {
            Some(Ok(year)) => {
                let on = OnDay { shop, run, year: &year };
                plan.paper(&self.of_day("count-sheet", "pdf"), count_sheet(&on));
            }
            Some(Err(_)) => plan.leave_out("the count sheet", Vec::new()),
            None => {}
        }
        Ok(())
    }

    /// The photos of a piece are numbered on from those of the pieces before it.
    pub fn add_inventory(&self, plan: &mut Plan) -> Result<(), Failure> {
        let (shop, run) = (self.shop(), &self.known.reckoned.run);
        let mut all = PieceShots::default();
        match self.year_to_day() {
            Some(Ok(year)) => {
                let mut shots = BTreeMap::new();
                let pictured = year.unsold.len() <= MOST_PICTURED;
                for one in year.unsold.iter().filter(|_| pictured) {
                    let piece = &shop.pieces[one.piece];
                    let shot = self.pictures.add_first(piece, &ANY_MOMENT, &mut all)?;
                    shots.insert(one.piece, shot);
                }
                let on = OnDay { shop, run, year: &year };
                let shot = |piece: usize| shots.get(&piece).copied().flatten();
                plan.paper(&self.of_day("inventory", "pdf"), inventory(&on, &shot));
                plan.text(&self.of_day("inventory", "csv"), inventory_table(&on));
            }
            Some(Err(_)) => plan.leave_out("the inventory", Vec::new()),
            None => {}
        }
        plan.photos = Some(all);
        Ok(())
    }

    fn pictures_of(
        &self,
        draft: &Draft,
        photos: Option<&PieceShots>,
    ) -> Result<Vec<Vec<u8>>, Failure> {
        photos.map_or(Ok(Vec::new()), |photos| self.pictures.print(&draft.pictures, photos))
    }

    /// A file ready to be written; where there is none to write, why.
    fn target<'b>(
        &self,
        target: &'b Target,
        photos: Option<&PieceShots>,
    ) -> Result<Result<Ready<'b>, Made>, Failure> {
        if let (Body::Paper(draft, _), Some(photos)) = (&target.body, photos) {
            self.pictures.note_used(&draft.pictures, photos);
        }
        let path = target.path.clone();
        let from = self.fingerprint(target, photos);
        if !self.args.force && self.output.is_up_to_date(&path, &from) {
            return Ok(Err(Made::Kept(path)));
        }
        let drawn = match &target.body {
            Body::Text(text) => Ok(Cow::Borrowed(text.as_bytes())),
            Body::Paper(draft, form) => self.drawn(target, draft, *form, photos)?.map(Cow::Owned),
        };
        Ok(match drawn {
            Ok(bytes) => Ok(Ready { path, from, bytes }),
            Err(findings) => Err(Made::LeftOut { what: path, findings }),
        })
    }

    fn drawn(
        &self,
        target: &Target,
        draft: &Draft,
        form: Form,
        photos: Option<&PieceShots>,
    ) -> Result<Result<Vec<u8>, Vec<Finding>>, Failure> {
        let pictures = self.pictures_of(draft, photos)?;
        let draft = match self.legible(target, draft) {
            Ok(draft) => draft,
            Err(findings) => return Ok(Err(findings)),
        };
        let printed = match self.is_own(&draft) {
            true => self.print_apart(&draft, &pictures, form)?,
            false => self.print(&draft, &pictures, form),
        };
        Ok(printed.map_err(|faults| {
            faults.iter().map(|fault| self.layout_finding(fault, &draft)).collect()
        }))
    }

    /// The draft with every character in a font. A character that is in none is an error of the piece whose text
    /// it stands in; a paper of many pieces is made of the others. In the papers of a year and of the
    /// whole shop, whose figures must be whole, it is printed as a question mark.
    fn legible(&self, target: &Target, draft: &Draft) -> Result<Draft, Vec<Finding>> {
        let missing = self.press().missing_characters(draft);
        match target.of {
            _ if missing.is_empty() => Ok(draft.clone()),
            None => Ok(Press::without_characters(draft, &missing)),
            Some(title) => Err(vec![unknown_characters(&self.opened.sources, title, &missing)]),
        }
    }

    /// What of a year's or the whole shop's paper is printed as a question mark.
    fn replaced(&self, target: &Target) -> Vec<Finding> {
        match &target.body {
            Body::Paper(draft, _) if target.of.is_none() => {
                let doubtful = Press::may_lack(&String::from_utf8_lossy(&draft.data));
                let missing =
                    if doubtful { self.press().missing_characters(draft) } else { Vec::new() };
                replaced_characters(&self.opened.sources, &missing)
            }
            _ => Vec::new(),
        }
    }

    /// Why a piece cannot be printed in a paper of many: a character of its words is in no font. Only a file
    /// with characters that may be lacking is looked at.
    fn unprintable(&self, subject: &Subject) -> Option<Finding> {
        let title = subject.piece.title.place;
        let text = &self.opened.sources.get(title.file)?.text;
        if !Press::may_lack(text) {
            return None;
        }
        let drafts = [listing_sheet(subject), hang_tag(subject)];
        let mut missing: Vec<char> =
            drafts.iter().flat_map(|draft| self.press().missing_characters(draft)).collect();
        missing.sort_unstable();
        missing.dedup();
        (!missing.is_empty()).then(|| unknown_characters(&self.opened.sources, title, &missing))
    }

    /// A paper of everything for sale.
    pub fn add_for_sale(
        &self,
        file: &str,
        draft: fn(&[Subject]) -> Option<Draft>,
        plan: &mut Plan,
    ) {
        let subjects = self.known.pieces().map(|piece| subject(self.known, piece, &[])).collect();
        self.add_of_many(file, subjects, draft, plan);
    }

    /// A paper of many pieces, made of those that can be printed; the others are said to be left out
    /// of it.
    fn add_of_many(
        &self,
        file: &str,
        mut subjects: Vec<Subject>,
        draft: fn(&[Subject]) -> Option<Draft>,
        plan: &mut Plan,
    ) {
        subjects.retain(|subject| {
            let found = if is_for_sale(subject) { self.unprintable(subject) } else { None };
            if let Some(finding) = &found {
                let what = format!("{} in {file}", subject.piece.name());
                plan.leave_out(what, vec![finding.clone()]);
            }
            found.is_none()
        });
        if let Some(draft) = draft(&subjects) {
            plan.paper(file, draft);
        }
    }

    /// Typesets one document. A typesetter that gives up on one takes no other down with it.
    fn print(
        &self,
        draft: &Draft,
        pictures: &[Vec<u8>],
        form: Form,
    ) -> Result<Vec<u8>, Vec<LayoutFault>> {
        let press = self.press();
        let printed = catch_unwind(AssertUnwindSafe(|| match form {
            Form::Pdf => press.print(draft, pictures).map(|paper| paper.pdf),
            Form::Png(pixels) => press.picture(draft, pictures, pixels),
        }));
        match printed {
            Ok(printed) => printed,
            Err(_) => Err(vec![LayoutFault {
                layout: draft.layout.to_owned(),
                range: None,
                message: "the typesetter gave up on this document".to_owned(),
                hints: Vec::new(),
            }]),
        }
    }

    /// Whether anything a paper is laid out by is the shop's own.
    fn is_own(&self, draft: &Draft) -> bool {
        let files = files_of(draft.layout);
        self.own.iter().any(|(name, _)| files.contains(name.as_str()))
    }

    fn print_apart(
        &self,
        draft: &Draft,
        pictures: &[Vec<u8>],
        form: Form,
    ) -> Result<Result<Vec<u8>, Vec<LayoutFault>>, Failure> {
        let work = match form {
            Form::Pdf => Work::Pdf,
            Form::Png(pixels) => Work::Png(pixels),
        };
        let (own, brand) = (self.own.as_slice(), &self.opened.brand);
        let mut printed = typeset_apart(&Order { own, brand, draft, pictures, work })?;
        // Where all that is known is the paper's layout, and that one is built in, it is the shop's
        // file in it that was stopped.
        let files = files_of(draft.layout);
        let is_own = |layout: &str| own.iter().any(|(name, _)| name == layout);
        for fault in printed.as_mut().err().into_iter().flatten() {
            if fault.range.is_none() && !is_own(&fault.layout) {
                let file = files.iter().find(|file| is_own(file));
                fault.layout = file.map_or(draft.layout, |file| file).to_owned();
            }
        }
        Ok(printed)
    }

    fn fingerprint(&self, target: &Target, photos: Option<&PieceShots>) -> String {
        let mut print = Fingerprint::new();
        match &target.body {
            Body::Text(text) => print.add(text.as_bytes()),
            Body::Paper(draft, form) => {
                if let Form::Png(pixels) = form {
                    print.add(&pixels.to_le_bytes());
                }
                print.add(self.layouts.as_bytes());
                print.add(draft.layout.as_bytes());
                print.add(&draft.data);
                draft.files.iter().for_each(|(_, text)| print.add(text.as_bytes()));
                for used in &draft.pictures {
                    print.add(photos.map_or("", |photos| photos.hash(used.photo)).as_bytes());
                }
            }
        }
        print.text()
    }

    fn press(&self) -> &Press {
        self.press.get_or_init(|| Press::new(&[]).with(&self.opened.brand))
    }

    /// An error in a layout, placed in the shop's own file where it is one, and then with what the
    /// layout was given.
    fn layout_finding(&self, fault: &LayoutFault, draft: &Draft) -> Finding {
        let own = self.opened.layouts.iter().find(|(name, _)| *name == fault.layout);
        let place =
            own.map_or(Place::NOWHERE, |(_, file)| place_in(*file, fault, &self.opened.sources));
        let message = match own {
            Some(_) => fault.message.clone(),
            None => format!("the built-in layout {}: {}", fault.layout, fault.message),
        };
        let finding = Finding::error(Code::Layout, place, message);
        let mut hints = fault.hints.clone();
        if own.is_some() {
            hints.push(given(draft));
        }
        if hints.is_empty() { finding } else { finding.hint(hints.join("; ")) }
    }
}

/// The finding of characters that are in no font, at the first of them in the piece's file.
pub fn unknown_characters(sources: &Sources, title: Place, missing: &[char]) -> Finding {
    let characters: Vec<String> =
        missing.iter().map(|character| format!("“{character}”")).collect();
    let message = format!("no font here has a drawing for {}", and_list(&characters));
    let source = sources.get(title.file);
    let found =
        source.and_then(|source| source.text.char_indices().find(|(_, c)| missing.contains(c)));
    let place = found.map_or(title, |(at, c)| Place::new(title.file, at..at + c.len_utf8()));
    Finding::error(Code::GlyphMissing, place, message)
        .label("not printed: what it stands in is left out of every paper")
        .hint("write it in Latin, Greek, Cyrillic, Hebrew or Arabic letters, or set `font` in shop.toml to a family that has it")
}

/// The same for characters outside of the files of pieces: a paper whose figures must be whole has a
/// question mark in their place, and each file that holds one is named.
pub fn replaced_characters(sources: &Sources, missing: &[char]) -> Vec<Finding> {
    if missing.is_empty() {
        return Vec::new();
    }
    let others = sources.iter().filter(|(_, source)| !source.path.ends_with("piece.toml"));
    let found = others.filter_map(|(file, source)| {
        let (at, character) = source.text.char_indices().find(|(_, c)| missing.contains(c))?;
        let place = Place::new(file, at..at + character.len_utf8());
        let message = format!("no font here has a drawing for “{character}”");
        let finding = Finding::warning(Code::GlyphMissing, place, message);
        let finding = finding.label("printed as a question mark");
        Some(finding.hint("write it in Latin, Greek, Cyrillic, Hebrew or Arabic letters, or set `font` in shop.toml to a family that has it"))
    });
    found.collect()
}

/// What a layout was given, and how to see it all.
fn given(draft: &Draft) -> String {
    let name = draft.layout.trim_end_matches(".typ");
    let keys: Vec<String> = draft.keys().iter().map(|key| format!("`{key}`")).collect();
    format!(
        "{name} was given {}; `dovetally make --explain-layout {name}` says what each is",
        and_list(&keys)
    )
}

fn place_in(file: FileId, fault: &LayoutFault, sources: &Sources) -> Place {
    let end = sources.get(file).map_or(0, |source| source.text.len());
    Place::new(file, fault.range.clone().unwrap_or(0..end.min(1)))
}
