//! Files no owner means to write: never a panic, always a finding.

use super::folder::{SHOP, codes, folder, page, reading, write};
use dovetally::read::read;

#[test]
fn a_file_that_is_not_text_or_too_large_is_a_finding_and_the_others_stand() {
    let shop = folder(&[SHOP, ("pieces/sound/piece.toml", "title = \"Pine\"\n")]);
    write(shop.path(), "pieces/latin/piece.toml", b"title = \"Caf\xe9 table\"\n");
    let much = format!("title = \"Oak\"\n{}", "# a comment\n".repeat(420_000));
    assert!(much.len() > 5_000_000);
    write(shop.path(), "pieces/much/piece.toml", much.as_bytes());
    let reading = read(shop.path()).unwrap();
    assert_eq!(codes(&reading), ["not-utf-8", "too-large"]);
    let place = reading.findings[0].place;
    assert_eq!(reading.sources.name(place).unwrap(), "pieces/latin/piece.toml:1:13");
    let shop = reading.shop.unwrap();
    assert_eq!((shop.pieces.len(), shop.broken.len()), (1, 2));
}

#[test]
fn any_bytes_at_all_are_findings() {
    let deep = "[".repeat(5000);
    let tables = "a.".repeat(5000) + "a = 1";
    let garbage = "x\n".repeat(20_000);
    let long = format!("title = [{}", "a ".repeat(200_000));
    for text in [
        "\0\0\0",
        "=",
        "= =",
        "[",
        "[[]]",
        "[]",
        "\"\"\"",
        "title",
        "title =",
        "{",
        "\u{feff}",
        "\r",
        "title = \"\\",
        "title = '''",
        "a = 99999999999999999999999999999",
        "sale = [[[]]]",
        "sale = [1, {}, \"\"]",
        "title.on = 1",
        "bought.on.on = 2",
        "count = 0b11",
        "e\u{301} = 1",
        "title = \"\\u200f\"",
        &deep,
        &tables,
        &garbage,
        &long,
    ] {
        let reading = reading(&[SHOP, ("pieces/x/piece.toml", text), ("books/2025.toml", text)]);
        assert!(reading.findings.len() < 100, "{} of {text:.40}", reading.findings.len());
        let page = page(&reading);
        let sound = text == "title = \"\\u200f\"";
        assert_eq!(reading.shop.unwrap().pieces.is_empty(), !sound, "{text:.40}\n{page:.400}");
    }
}

#[test]
fn a_shop_file_of_any_bytes_is_a_finding_and_gives_no_shop() {
    for text in ["", "name", "name = ", "name = 1\n[", "\u{feff}", "[channel]\nx = 1", "books = []"]
    {
        let reading = reading(&[("shop.toml", text)]);
        assert!(!reading.findings.is_empty() && reading.shop.is_none(), "{text}");
    }
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::ffi::OsStr;
    use std::fs;
    use std::os::unix::ffi::OsStrExt;
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::os::unix::net::UnixListener;
    use std::os::unix::process::CommandExt;
    use std::process::Command;

    #[test]
    fn a_loop_of_links_ends_and_links_are_told() {
        let shop = folder(&[SHOP, ("pieces/oak/piece.toml", "title = \"Oak\"\n")]);
        symlink(shop.path(), shop.path().join("pieces/again")).unwrap();
        fs::create_dir(shop.path().join("pieces/elm")).unwrap();
        let linked = shop.path().join("pieces/elm/piece.toml");
        symlink(shop.path().join("pieces/oak/piece.toml"), linked).unwrap();
        let reading = read(shop.path()).unwrap();
        assert_eq!(codes(&reading), ["link", "link"]);
        let shop = reading.shop.unwrap();
        assert_eq!((shop.pieces.len(), shop.broken.len()), (1, 2));
    }

    #[test]
    fn a_photo_behind_a_link_out_of_the_shop_is_outside() {
        let elsewhere = folder(&[("front.txt", "stands for a picture")]);
        let piece = "title = \"Oak\"\n[[photo]]\nfile = \"front.txt\"\n";
        let shop = folder(&[SHOP, ("pieces/oak/piece.toml", piece)]);
        let link = shop.path().join("pieces/oak/front.txt");
        symlink(elsewhere.path().join("front.txt"), link).unwrap();
        assert_eq!(codes(&read(shop.path()).unwrap()), ["path-outside"]);
    }

    #[test]
    fn names_that_are_not_text_and_files_that_are_no_files_are_findings() {
        let shop = folder(&[SHOP]);
        let odd = shop.path().join(OsStr::from_bytes(b"pi\xffeces"));
        fs::create_dir(&odd).unwrap();
        fs::write(odd.join("piece.toml"), "title = \"Oak\"\n").unwrap();
        fs::create_dir(shop.path().join("socket")).unwrap();
        let _socket = UnixListener::bind(shop.path().join("socket/piece.toml")).unwrap();
        let reading = read(shop.path()).unwrap();
        assert_eq!(codes(&reading), ["not-a-file", "path-not-text"]);
        assert_eq!(reading.shop.unwrap().broken.len(), 2);
    }

    /// The rights of a file do not bind the machine's own administrator, for whom `check` is run as the
    /// user that owns nothing.
    #[test]
    fn a_file_without_the_right_to_read_is_a_finding() {
        let shop = folder(&[SHOP, ("pieces/oak/piece.toml", "title = \"Oak\"\n")]);
        let path = shop.path().join("pieces/oak/piece.toml");
        fs::set_permissions(&path, fs::Permissions::from_mode(0o000)).unwrap();
        if fs::read(&path).is_err() {
            return assert_eq!(codes(&read(shop.path()).unwrap()), ["unreadable"]);
        }
        fs::set_permissions(shop.path(), fs::Permissions::from_mode(0o755)).unwrap();
        let mut check = Command::new(env!("CARGO_BIN_EXE_dovetally"));
        check.args(["check", "--shop"]).arg(shop.path()).uid(65534).gid(65534);
        match check.output() {
            Ok(said) => {
                let err = String::from_utf8(said.stderr).unwrap();
                assert!(err.contains("error[unreadable]"), "{err}");
            }
            Err(error) => eprintln!("not tried, since nobody may run the program: {error}"),
        }
    }
}
