//! The bytes of a photo, or words about that one photo.

use super::folder::{folder, write};
use dovetally::read::read_picture;
use std::fs::File;

#[test]
fn a_photo_is_its_bytes_or_words_that_follow_its_name() {
    let shop = folder(&[("pieces/oak/notes.txt", "text")]);
    write(shop.path(), "pieces/oak/front.jpg", &[0xff, 0xd8, 0x00]);
    let read = |path| read_picture(shop.path(), path).unwrap();
    assert_eq!(read("pieces/oak/front.jpg"), Ok(vec![0xff, 0xd8, 0x00]));
    for (path, words) in [
        ("pieces/oak/back.jpg", "is missing"),
        ("pieces/oak/notes.txt/front.jpg", "is missing"),
        ("pieces/oak", "is not a file"),
        ("../front.jpg", "leads out of the shop folder"),
        ("/etc/hostname", "leads out of the shop folder"),
        ("pieces/\0.jpg", "has a name no file can have"),
    ] {
        assert_eq!(read(path), Err(words.to_owned()), "{path}");
    }
}

#[test]
fn a_photo_that_would_fill_the_memory_is_refused() {
    let shop = folder(&[]);
    let photo = File::create(shop.path().join("huge.jpg")).unwrap();
    photo.set_len(100_000_001).unwrap();
    let read = read_picture(shop.path(), "huge.jpg").unwrap();
    assert_eq!(read, Err("is larger than 100 MB".to_owned()));
}
