//! Which keys each of the owner's files has, and in which of its tables, so that a key in the wrong
//! place can be told where it belongs. Found by reading files that hold nothing but heads: there is
//! no second list of keys.

use super::document::Document;
use super::setting::Setting;
use super::table::Table;
use super::{books_file, order_file, piece_file, shop_file};
use crate::model::{FileId, and_list};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;
use toml::de::DeTable;

/// The keys of each table, by its name as it is typed; the file's own table has none.
pub type Keys = BTreeMap<String, BTreeSet<&'static str>>;

/// Stands for a name of the owner's own: `[channel.KEY]`.
const OWN: &str = "KEY";

struct KnownFile {
    kind: &'static str,
    name: &'static str,
    keys: Keys,
}

static FILES: LazyLock<Vec<KnownFile>> = LazyLock::new(|| {
    let file = |kind, name, keys| KnownFile { kind, name, keys };
    vec![
        file("piece", "the piece's own piece.toml", keys_of(|file| drop(piece_file::piece(file)))),
        file("books", "books/YEAR.toml", keys_of(|file| drop(books_file::year_book(file, 2025)))),
        file("order", "the order's own order.toml", keys_of(|file| drop(order_file::order(file)))),
        file("shop", "shop.toml", keys_of(|file| drop(shop_file::shop(file, Vec::new())))),
    ]
});

/// What is read of each kind of file, as `schema` names it: the keys of each of its tables.
pub fn keys_read() -> impl Iterator<Item = (&'static str, &'static Keys)> {
    FILES.iter().map(|file| (file.kind, &file.keys))
}

fn keys_of(read: fn(&Table)) -> Keys {
    let mut keys = asked("", read);
    for key in keys.get("").cloned().unwrap_or_default() {
        for head in [format!("[{key}]"), format!("[[{key}]]"), format!("[{key}.{OWN}]")] {
            let found = asked(&head, read).into_iter().filter(|(_, keys)| !keys.is_empty());
            keys.extend(found.filter(|(name, _)| *name == head));
        }
    }
    keys
}

/// What a file of this text is asked for.
fn asked(text: &str, read: fn(&Table)) -> Keys {
    let setting = Setting::unread(Path::new(""));
    let document = Document::new(FileId(0), "", &setting);
    let (keys, _) = DeTable::parse_recoverable(text);
    read(&Table::root(&document, keys.get_ref()));
    document.all_asked()
}

/// The keys of the file that was asked for these.
pub(super) fn known_in(asked: &Keys) -> Keys {
    let own = |file: &&KnownFile| file.keys.get("") == asked.get("");
    FILES.iter().find(own).map(|file| file.keys.clone()).unwrap_or_default()
}

/// Where a key belongs that its table does not have: another table of the file, or another file.
pub(super) fn belongs(key: &str, own: &Keys) -> Option<String> {
    let has = |(_, keys): &(&String, &BTreeSet<&str>)| keys.contains(key);
    let mut heads: Vec<String> =
        own.iter().filter(has).map(|(head, _)| ticked_head(head)).collect();
    heads.sort_by_key(|head| !head.starts_with("the"));
    if !heads.is_empty() {
        return Some(format!(
            "`{key}` belongs below {}",
            and_list(&heads).replace(" and ", " or ")
        ));
    }
    let file = FILES.iter().find(|file| file.keys.get("").is_some_and(|top| top.contains(key)))?;
    let head = |head: &&String| head.trim_matches(['[', ']']) == key;
    let typed = file.keys.keys().find(head).map_or(key, |head| head.as_str());
    Some(format!("`{typed}` belongs in {}", file.name))
}

fn ticked_head(head: &str) -> String {
    match head {
        "" => "the top of the file".to_owned(),
        head => format!("`{head}`"),
    }
}
