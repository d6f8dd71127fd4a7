//! The files of a walk in the order in which they will stand among the sources.

use super::load::FileRef;
use super::walk::Walk;
use crate::model::FileId;

/// The files to read, numbered as they will stand in [`Sources`](crate::model::Sources).
pub(super) struct Files {
    pub shop: Option<FileRef>,
    pub stock: Option<FileRef>,
    pub books: Vec<(i32, FileRef)>,
    pub pieces: Vec<FileRef>,
    pub orders: Vec<FileRef>,
    pub layouts: Vec<FileRef>,
    /// How many they are: what the books name is numbered from here on.
    pub count: u32,
}

impl Files {
    pub fn of(walk: &Walk) -> Files {
        let mut next = 0;
        let mut number = |path: &String| {
            next += 1;
            FileRef { id: FileId(next - 1), path: path.clone() }
        };
        Files {
            shop: walk.shop.as_ref().map(&mut number),
            stock: walk.stock.as_ref().map(&mut number),
            books: walk.books.iter().map(|(year, path)| (*year, number(path))).collect(),
            pieces: walk.pieces.iter().map(&mut number).collect(),
            orders: walk.orders.iter().map(&mut number).collect(),
            layouts: walk.layouts.iter().map(&mut number).collect(),
            count: next,
        }
    }
}
