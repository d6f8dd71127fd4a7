//! The pages themselves: laid out and looked at as boxes, for every document of the demo and of
//! shops that ask the most of them.

mod brand;
mod explained;
mod frames;
mod kept;
mod own;
mod photos;
mod torture;

use crate::shell::{copy_of, demo, name_program, shop_of};
use dovetally::cli::{DraftedPaper, Need, Opened, papers};
use dovetally::typeset::Press;
use std::path::Path;
use std::sync::Mutex;
use typst_layout::PagedDocument;

/// Every paper of a shop folder.
fn papers_of(shop: &Path) -> (Press, Vec<DraftedPaper>) {
    name_program();
    let opened = Opened::open(shop, Need::FiguresAndWords).unwrap();
    let known = opened.known.as_ref().unwrap_or_else(|| panic!("{:?}", opened.findings));
    (opened.press(), papers(&opened, known).unwrap())
}

/// What every layout of a shop's papers is given, by the paper's place below the output folder.
pub fn drafts_of(shop: &Path) -> Vec<(String, serde_json::Value)> {
    let (_, papers) = papers_of(shop);
    let view = |paper: DraftedPaper| {
        let data = serde_json::from_slice(&paper.draft.data).unwrap();
        (paper.path, data)
    };
    papers.into_iter().map(view).collect()
}

/// Looks at every paper of a shop, on every core: what `look` says, each after the paper's name.
fn each_page(shop: &Path, look: impl Fn(&PagedDocument) -> Vec<String> + Sync) -> Vec<String> {
    each_page_of(shop, look, |_| true)
}

/// The same for the papers whose place is one of those asked for.
fn each_page_of(
    shop: &Path,
    look: impl Fn(&PagedDocument) -> Vec<String> + Sync,
    wanted: impl Fn(&str) -> bool,
) -> Vec<String> {
    let (press, mut papers) = papers_of(shop);
    papers.retain(|paper| wanted(&paper.path));
    assert!(!papers.is_empty());
    let (left, said) = (Mutex::new(papers), Mutex::new(Vec::new()));
    let cores = std::thread::available_parallelism().map_or(2, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                loop {
                    let Some(paper) = left.lock().unwrap().pop() else { break };
                    let found = match press.lay_out(&paper.draft, &paper.pictures) {
                        Ok(document) => look(&document),
                        Err(faults) => vec![format!("{faults:?}")],
                    };
                    typst::comemo::evict(1);
                    let named = found.into_iter().map(|f| format!("{}: {f}", paper.path));
                    said.lock().unwrap().extend(named);
                }
            });
        }
    });
    let mut said = said.into_inner().unwrap();
    said.sort();
    said
}

/// Fails on any fault of any page, showing the first few of each paper.
fn stands_clear(shop: &Path) {
    let faults = each_page(shop, |document| {
        assert!(frames::runs(document) > 0, "a document without a word");
        let mut faults = frames::faults(document);
        faults.truncate(6);
        faults
    });
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn nothing_overlaps_or_leaves_its_page_in_the_demo() {
    stands_clear(copy_of(&demo()).path());
}

#[test]
fn nothing_overlaps_or_leaves_its_page_however_long_it_is_on_letter() {
    stands_clear(torture::longest("us-letter").path());
}

#[test]
fn nothing_overlaps_or_leaves_its_page_however_long_it_is_on_a4() {
    stands_clear(torture::longest("a4").path());
}

#[test]
fn a_metric_shop_stands_clear_and_says_its_own_measures_first() {
    let shop = torture::metric();
    let faults = each_page(shop.path(), frames::faults);
    assert!(faults.is_empty(), "{faults:#?}");
    let (_, papers) = papers_of(shop.path());
    let sheet = papers.iter().find(|paper| paper.path.ends_with("listing-sheet.pdf")).unwrap();
    let data = String::from_utf8(sheet.draft.data.clone()).unwrap();
    for said in
        ["92\u{a0}×\u{a0}0.6\u{a0}×\u{a0}75\u{a0}cm", "about 29\u{a0}kg (64\u{a0}lb)", "£1,250.00"]
    {
        assert!(data.contains(said), "{said}: {data}");
    }
}

#[test]
fn no_piece_and_twenty_plain_pieces_stand_clear() {
    stands_clear(torture::no_pieces().path());
    stands_clear(torture::many_pieces(10, 10).path());
}

/// The papers of the whole shop and of its year, where each lists very many.
#[test]
fn three_hundred_for_sale_and_five_hundred_sold_stand_clear() {
    let faults = each_page_of(torture::many_pieces(500, 300).path(), frames::faults, |path| {
        !path.starts_with("pieces/")
    });
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn an_ordinary_piece_has_one_page_in_the_binder() {
    let pages = |document: &PagedDocument| vec![document.pages().len().to_string()];
    let records =
        each_page_of(copy_of(&demo()).path(), pages, |path| path.ends_with("shop-record.pdf"));
    assert!(records.len() > 20, "{records:?}");
    let longer: Vec<_> = records.iter().filter(|said| !said.ends_with(": 1")).collect();
    assert!(longer.is_empty(), "{longer:?}");
}

#[test]
fn what_overlaps_is_cut_off_or_leaves_its_page_is_seen() {
    for (layout, seen) in [
        ("#place(dx: 3pt)[Words]\n#place[Letters]", "one over the other"),
        ("#block(clip: true, width: 20pt, height: 20pt)[#box[Wwwwwwwwwwwwww]]", "cut off"),
        ("#place(dx: 500pt)[Words that go on]", "too near the edge"),
        ("#place(dy: -70pt)[Words]", "too near the edge"),
        ("#place(image(\"photo-1.jpg\", width: 80pt))\n#place(dy: 20pt)[Words]", "over a picture"),
        ("#place(line(length: 90pt, start: (0pt, 5pt)))\n#place[Words]", "struck through"),
        ("#set text(fallback: false)\n漢", "a box for a character"),
        ("#rotate(90deg)[Words]#place(top, dy: -10pt)[Words Words]", "one over the other"),
    ] {
        let own = format!("#set page(margin: 72pt, paper: \"us-letter\")\n{layout}\n");
        let shop = shop_of(&[
            ("shop.toml", "name = \"Test Shop\"\n"),
            ("pieces/a/piece.toml", "title = \"A\"\nphoto = [{ file = \"a.png\" }]\n"),
            ("layouts/listing-sheet.typ", &own),
        ]);
        image::RgbImage::from_pixel(900, 900, image::Rgb([9, 9, 9]))
            .save(shop.path().join("pieces/a/a.png"))
            .unwrap();
        let faults = each_page(shop.path(), frames::faults);
        let sheet = faults.iter().any(|f| f.contains("listing-sheet.pdf") && f.contains(seen));
        assert!(sheet, "{layout}: {faults:?}");
    }
}
