//! What `--explain-layout` says of a layout's data against the data itself.

use super::{papers_of, torture};
use crate::shell::{demo, typed_as};
use dovetally::cli::Status;
use dovetally::typeset::{explain_layout, explained_layouts};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Every path of some data with the kinds of value seen there.
fn seen(at: &str, value: &Value, found: &mut BTreeMap<String, BTreeSet<&'static str>>) {
    let kind = match value {
        Value::Null => "none",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "whole number",
        Value::String(_) => "text",
        Value::Array(_) => "list",
        Value::Object(_) => "fields",
    };
    found.entry(at.to_owned()).or_default().insert(kind);
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                let path = if at.is_empty() { key.clone() } else { format!("{at}.{key}") };
                seen(&path, inner, found);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| seen(&format!("{at}[]"), item, found)),
        _ => {}
    }
}

/// Whether a value of some kind is what the explanation allows.
fn allows(said: &str, kind: &str) -> bool {
    match kind {
        "none" => said.ends_with(", or none"),
        "list" => said.starts_with("list of "),
        "text" => said.starts_with("text") || said.starts_with("one of `"),
        kind => said.starts_with(kind),
    }
}

#[test]
fn what_is_explained_of_a_layout_is_what_it_is_given() {
    let longest = torture::longest("a4");
    let demo = crate::shell::copy_of(&demo());
    let papers: Vec<_> =
        [demo.path(), longest.path()].into_iter().flat_map(|shop| papers_of(shop).1).collect();
    // A part of a long table needs some hundred pieces.
    for layout in explained_layouts().filter(|layout| *layout != "pieces-part") {
        let mut found = BTreeMap::new();
        for paper in papers.iter().filter(|p| p.draft.layout == format!("{layout}.typ")) {
            seen("", &serde_json::from_slice(&paper.draft.data).unwrap(), &mut found);
        }
        assert!(!found.is_empty(), "no paper of {layout}");
        let fields = explain_layout(layout).unwrap();
        for (path, kinds) in
            found.iter().filter(|(path, _)| !path.is_empty() && !path.ends_with("[]"))
        {
            let field = fields.iter().find(|field| field.path == *path);
            let field = field.unwrap_or_else(|| panic!("{layout}: `{path}` is not explained"));
            for kind in kinds {
                assert!(
                    allows(&field.kind, kind),
                    "{layout}: `{path}` is {kind}, not {}",
                    field.kind
                );
            }
        }
        for field in &fields {
            let above = field.path.rsplit_once('.').map_or("", |(above, _)| above);
            let is_there =
                found.get(above).is_some_and(|kinds| kinds.iter().any(|kind| *kind != "none"));
            let given = found.contains_key(&field.path) || !is_there;
            assert!(given, "{layout}: `{}` is explained and not given", field.path);
        }
    }
}

#[test]
fn a_layout_is_explained_without_a_shop_and_an_unknown_one_is_named() {
    let typed = |layout: &str| {
        typed_as(["dovetally", "make", "--explain-layout", layout].map(Into::into).to_vec())
    };
    let said = typed("listing-sheet.typ");
    assert_eq!(said.status, Status::Done);
    assert!(said.out.contains("photos[].alt: text\n    Text alternative"), "{}", said.out);
    let unknown = typed("house");
    assert_eq!(unknown.status, Status::Usage);
    assert!(unknown.err.contains("`care-card`"), "{}", unknown.err);
}
