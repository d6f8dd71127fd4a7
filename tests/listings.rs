//! The listing sheet as paper, for every piece of the demo: where its cautions stand, how many
//! sheets it takes, and how its titles end. Places are taken from the laid-out pages.

use crate::pages::{Page, Run, pages};
use dovetally::describe::{Words, describe};
use dovetally::model::{Moment, Paper, Piece, Shop};
use dovetally::typeset::{Press, Shot, Subject, listing_sheet};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

static PRESS: LazyLock<Press> = LazyLock::new(|| Press::new(&[]));

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("projects-demo")
}

/// The sheets of a piece: any picture stands for each of its photos, four by three.
fn sheets(shop: &Shop, piece: &Piece, words: &Words) -> Vec<Page> {
    let picture = std::fs::read(folder().join("pieces/oak-washstand/photos/front.jpg")).unwrap();
    let photos = piece.photo.iter().enumerate();
    let shots: Vec<Shot> = photos
        .filter(|(_, photo)| photo.moment == Moment::After)
        .map(|(index, photo)| Shot { photo, index, main: (1600, 1200), small: (800, 600) })
        .collect();
    let draft = listing_sheet(&Subject { shop, piece, tally: None, words, shots: &shots });
    let pictures = vec![picture; draft.pictures.len()];
    let document = PRESS.lay_out(&draft, &pictures).unwrap_or_else(|f| panic!("{f:?}"));
    let pages = pages(&document);
    typst::comemo::evict(1);
    pages
}

fn each_of_the_demo(paper: Paper, mut look: impl FnMut(&Piece, &Words, &[Page])) {
    let read = dovetally::read::read(&folder()).expect("a readable folder");
    let shop = Shop { paper, ..read.shop.expect("a shop") };
    let described = describe(&shop);
    for (piece, words) in shop.pieces.iter().zip(&described.pieces) {
        look(piece, words, &sheets(&shop, piece, words));
    }
}

/// The labels at the left edge of a sheet with the heights they stand at, from the top.
fn labels(page: &Page) -> Vec<&Run> {
    let left = page.width / 2.0 - 250.0 * 25.4 / 72.0;
    let label = |run: &&Run| (run.at.0 - left).abs() < 0.1 && (run.size - 9.5).abs() < 0.01;
    let mut labels: Vec<&Run> = page.runs.iter().filter(label).collect();
    labels.sort_by(|a, b| a.at.1.total_cmp(&b.at.1));
    labels
}

#[test]
fn cautions_close_sheet_one_and_stand_on_no_other() {
    for paper in [Paper::UsLetter, Paper::A4] {
        let mut with_cautions = 0;
        each_of_the_demo(paper, |piece, words, sheets| {
            let name = piece.name();
            assert!(sheets.len() <= 2, "{name} takes {} sheets", sheets.len());
            let is_caution = |run: &&&Run| run.words.starts_with("Caution");
            // Only what sheet 1 says in short words is said in full on another.
            let later = sheets[1..].iter().any(|page| labels(page).iter().any(|l| is_caution(&l)));
            let short =
                sheets[0].runs.iter().any(|run| run.words.contains("In full, with the sources"));
            assert_eq!(later, short, "{name} has a caution on sheet 2");
            let first = labels(&sheets[0]);
            if let Some(caution) = first.iter().find(is_caution) {
                with_cautions += 1;
                assert_eq!(caution.words, first.last().unwrap().words, "{name}");
            } else {
                let buyers = |c: &&dovetally::describe::Caution| {
                    c.strength != dovetally::describe::Strength::ShopNote
                };
                assert_eq!(words.cautions.iter().filter(buyers).count(), 0, "{name}");
            }
        });
        assert!(with_cautions > 10);
    }
}

/// Lines of the runs of a size on a page, from the top.
fn lines_of(page: &Page, size: f64) -> Vec<String> {
    let mut lines: Vec<(f64, String)> = Vec::new();
    for run in page.runs.iter().filter(|run| (run.size - size).abs() < 0.01) {
        match lines.iter_mut().find(|(y, _)| (*y - run.at.1).abs() < 0.1) {
            Some((_, words)) => words.push_str(&run.words),
            None => lines.push((run.at.1, run.words.clone())),
        }
    }
    lines.sort_by(|a, b| a.0.total_cmp(&b.0));
    lines.into_iter().map(|(_, words)| words).collect()
}

#[test]
fn titles_and_openings_do_not_end_in_a_lone_word() {
    let mut of_two_lines = 0;
    each_of_the_demo(Paper::UsLetter, |piece, _, sheets| {
        for size in [27.0, 12.5] {
            let lines = lines_of(&sheets[0], size);
            if lines.len() > 1 {
                of_two_lines += 1;
                let last = lines.last().unwrap();
                assert!(last.trim().contains(' '), "{}: {lines:?}", piece.name());
            }
        }
    });
    assert!(of_two_lines > 10);
}
