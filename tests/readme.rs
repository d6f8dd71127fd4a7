//! What the README shows must be true: its examples read without errors, and its tables name every
//! key and every verb.

use crate::shell::{dovetally, shop_of, typed_as};
use dovetally::cli::Status;
use dovetally::describe::{PLACEHOLDERS, template};
use dovetally::model::FileId;
use std::fs;

fn readme() -> String {
    fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap()
}

/// The indented lines that follow a line, without their indent.
fn example_after(line: &str) -> String {
    let readme = readme();
    let mut lines = readme.lines().skip_while(|l| !l.ends_with(line)).skip(1);
    let mut example = String::new();
    for line in lines.by_ref() {
        match line.strip_prefix("    ") {
            Some(code) => example += &format!("{code}\n"),
            None if line.is_empty() => example.push('\n'),
            None => break,
        }
    }
    example
}

#[test]
fn the_full_piece_file_of_the_readme_reads_without_errors() {
    let piece = example_after("All of it:");
    assert!(piece.contains("[[sale]]") && piece.contains("[outline]"), "{piece}");
    let shop = shop_of(&[
        ("shop.toml", "name = \"Test Shop\"\n[channel.online]\nfee = \"12.5%\"\n"),
        ("stock.toml", "[topcoat]\nunit = \"fl oz\"\n"),
        (
            "books/2025.toml",
            "[[supply]]\non = 2025-01-02\nstock = \"topcoat\"\nquantity = \"1 qt\"\namount = 24\n",
        ),
        ("pieces/washstand/piece.toml", &piece),
        ("pieces/washstand/receipts/estate-sale.jpg", "a receipt"),
        ("pieces/washstand/photos/after-front.jpg", "stands for a photo"),
    ]);
    let photo = shop.path().join("pieces/washstand/photos/after-front.jpg");
    image::RgbImage::new(1200, 900).save(photo).unwrap();
    let said = dovetally(shop.path(), &["check"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    assert!(said.err.contains("0 errors, 0 warnings"), "{}", said.err);
}

#[test]
fn the_three_lines_of_the_readme_are_enough() {
    let piece = example_after("already count:");
    let shop = shop_of(&[
        ("shop.toml", "name = \"Test Shop\"\n"),
        ("pieces/washstand/piece.toml", &piece),
    ]);
    let said = dovetally(shop.path(), &["tally", "--json"]);
    assert_eq!(said.status, Status::Done, "{}", said.err);
    assert!(said.out.contains("\"gross_profit\": \"205.00\""), "{}", said.out);
}

#[test]
fn every_key_of_every_file_is_explained() {
    let readme = readme();
    for kind in ["shop", "stock", "books", "piece", "order"] {
        let said = typed_as(vec!["dovetally".into(), "schema".into(), kind.into()]);
        let schema: serde_json::Value = serde_json::from_str(&said.out).unwrap();
        named(&schema, &readme, kind);
    }
    assert!(readme.contains("Any table may have `sure = ["));
}

/// What the README says of the file a table stands in: from its name in bold to the next one.
fn about<'a>(readme: &'a str, at: &str) -> &'a str {
    let kind = at.split('/').next().unwrap();
    let file = if kind == "books" { "books/YEAR" } else { kind };
    let (_, after) = readme.split_once(&format!("\n**{file}.toml**")).unwrap();
    let ends = ["\n**", "\n## "].into_iter().filter_map(|next| after.find(next));
    &after[..ends.min().unwrap()]
}

/// Fails on a property of the schema that the README does not name where it tells of the file.
fn named(schema: &serde_json::Value, readme: &str, at: &str) {
    let mut parts = vec![about(readme, at)];
    // Their rows say that their keys are those of a piece's table.
    if ["books/bundle", "order/work"].contains(&at) {
        parts.push(about(readme, "piece"));
    }
    let properties = schema["properties"].as_object().into_iter().flatten();
    for (key, inner) in properties.filter(|(key, _)| *key != "sure") {
        let forms = [format!("`{key}`"), format!("[{key}]"), format!("[{key}.")];
        let told = forms.iter().any(|form| parts.iter().any(|part| part.contains(form)));
        assert!(told, "the README does not explain `{key}` of {at}");
        for nested in [inner, &inner["items"], &inner["additionalProperties"]] {
            named(nested, readme, &format!("{at}/{key}"));
        }
    }
    if at == "stock" {
        named(&schema["additionalProperties"], readme, "stock/KEY");
    }
}

#[test]
fn every_verb_is_explained() {
    let said = typed_as(vec!["dovetally".into(), "--help".into()]);
    let readme = readme();
    let verbs = said.out.lines().skip_while(|l| !l.starts_with("Commands:")).skip(1);
    let names =
        verbs.take_while(|l| l.starts_with("  ")).filter_map(|l| l.split_whitespace().next());
    let names: Vec<&str> = names.filter(|name| *name != "help").collect();
    assert!(names.len() > 8, "{}", said.out);
    for name in names {
        assert!(readme.contains(&format!("| `{name}")), "the README does not explain `{name}`");
    }
}

#[test]
fn every_placeholder_is_explained_and_the_example_is_sound() {
    let readme = readme();
    for placeholder in PLACEHOLDERS {
        let name = format!("`{{{}}}`", placeholder.name);
        assert!(readme.contains(&name), "the README does not explain {name}");
    }
    let example =
        example_after("plain text with words in braces; `{{` and `}}` are braces themselves.");
    assert!(example.contains("{cautions}"), "{example}");
    assert!(template(FileId(0), &example).is_ok(), "{:?}", template(FileId(0), &example));
}
