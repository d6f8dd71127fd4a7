//! `schema FILE-KIND`: the JSON Schema of a file kind, so that an editor completes and checks.

use super::args::FileKind;
use crate::model::{facts, kinds};
use serde_json::{Value, json};

/// The schema (JSON Schema draft 7), with the tables' own words filled in.
pub fn schema(kind: FileKind) -> Value {
    let text = match kind {
        FileKind::Shop => include_str!("schemas/shop.json"),
        FileKind::Stock => include_str!("schemas/stock.json"),
        FileKind::Books => include_str!("schemas/books.json"),
        FileKind::Piece => include_str!("schemas/piece.json"),
        FileKind::Order => include_str!("schemas/order.json"),
    };
    let mut schema: Value = serde_json::from_str(text).expect("embedded");
    if kind == FileKind::Piece {
        fill_in_tables(&mut schema["properties"]);
    }
    confirmable(&mut schema);
    schema
}

/// Every table may confirm what is odd in it.
fn confirmable(schema: &mut Value) {
    for key in ["items", "additionalProperties"] {
        if let Some(inner) = schema.get_mut(key).filter(|inner| inner.is_object()) {
            confirmable(inner);
        }
    }
    let Some(properties) = schema.get_mut("properties").and_then(Value::as_object_mut) else {
        return;
    };
    properties.values_mut().for_each(confirmable);
    properties.entry("sure").or_insert_with(|| {
        json!({
            "type": "array",
            "items": { "type": "string" },
            "description": "Keys of this table whose values are right, however odd they are",
            "examples": [["price"]],
        })
    });
}

fn fill_in_tables(properties: &mut Value) {
    for fact in facts() {
        properties["safety"]["properties"][&fact.key] =
            json!({ "enum": fact.values, "description": fact.says, "examples": [fact.values[0]] });
    }
    // Other kinds are allowed: the list helps an editor complete, it does not forbid.
    let names: Vec<&str> = kinds().iter().map(|kind| kind.name.as_str()).collect();
    properties["kind"]["anyOf"] = json!([{ "enum": names }, { "type": "string" }]);
}
