//! Each key is read, and is in the schema of its file: neither has one that the other lacks. That
//! the README explains each key of the schema is tested with the README.

use crate::shell::typed_as;
use dovetally::read::keys_read;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Keys that are read only to say that they cannot be there.
const REFUSED: [(&str, &str, &str); 1] = [("books", "[[bundle]]", "count")];

type Keys = BTreeMap<String, BTreeSet<String>>;

/// What a schema refers to, in place of the reference.
fn resolved<'a>(schema: &'a Value, root: &'a Value) -> &'a Value {
    let path = schema["$ref"].as_str().and_then(|path| path.strip_prefix('#'));
    path.map_or(schema, |path| root.pointer(path).unwrap())
}

/// The keys of a schema's own table and of each table in it, by its head as it is typed.
fn keys_of(root: &Value) -> Keys {
    let mut keys = Keys::from([(String::new(), properties(root))]);
    for (key, inner) in root["properties"].as_object().into_iter().flatten() {
        let inner = resolved(inner, root);
        let heads = [
            (format!("[{key}]"), inner),
            (format!("[[{key}]]"), resolved(&inner["items"], root)),
            (format!("[{key}.KEY]"), resolved(&inner["additionalProperties"], root)),
        ];
        let heads = heads.into_iter().map(|(head, table)| (head, properties(table)));
        keys.extend(heads.filter(|(_, keys)| !keys.is_empty()));
    }
    keys
}

fn properties(schema: &Value) -> BTreeSet<String> {
    let all = schema["properties"].as_object().into_iter().flatten();
    all.map(|(key, _)| key.clone()).collect()
}

#[test]
fn what_is_read_and_what_the_schema_has_are_the_same_keys() {
    let mut seen = 0;
    for (kind, read) in keys_read() {
        let said = typed_as(vec!["dovetally".into(), "schema".into(), kind.into()]);
        let schema = keys_of(&serde_json::from_str(&said.out).unwrap());
        let heads: BTreeSet<&String> = read.keys().chain(schema.keys()).collect();
        for head in heads {
            let read = read.get(head).cloned().unwrap_or_default();
            let schema = schema.get(head).into_iter().flatten().map(String::as_str).collect();
            seen += read.len();
            // Any table may have `sure`.
            let counts = |key: &str| key != "sure" && !REFUSED.contains(&(kind, head, key));
            let apart: Vec<&&str> =
                read.symmetric_difference(&schema).filter(|key| counts(key)).collect();
            assert!(apart.is_empty(), "{kind} {head}: read or in the schema alone: {apart:?}");
        }
    }
    assert!(seen > 150, "only {seen} keys");
}
