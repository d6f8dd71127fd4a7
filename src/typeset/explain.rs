//! What a layout is given, field by field, for an owner who writes one: derived from the views
//! themselves, so that what is explained is what is given.

use super::layouts::{LAYOUTS, Layout};
use serde_json::Value;

/// A field of a layout's data.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Where it stands below the data: `cards[].finish.label`; `[]` is each item of a list.
    pub path: String,
    /// "text", "whole number", "true or false", "list of text", "text, or none".
    pub kind: String,
    /// What it is, in the words of the view; empty where its name says it.
    pub says: String,
}

/// The layouts that can be explained, by the names of their documents.
pub fn explained_layouts() -> impl Iterator<Item = &'static str> {
    LAYOUTS.iter().filter(|layout| layout.data.is_some()).map(document_name)
}

fn document_name(layout: &Layout) -> &'static str {
    layout.name.trim_end_matches(".typ")
}

/// Every field a layout is given, in the order of its data; nothing for what is no document. The
/// name may end in `.typ`.
pub fn explain_layout(name: &str) -> Option<Vec<Field>> {
    let name = name.trim_end_matches(".typ");
    let layout = LAYOUTS.iter().find(|layout| document_name(layout) == name)?;
    let schema = layout.data?();
    let mut fields = Vec::new();
    add_fields("", schema.as_value(), &mut fields);
    Some(fields)
}

fn add_fields(above: &str, schema: &Value, fields: &mut Vec<Field>) {
    for (name, schema) in schema["properties"].as_object().into_iter().flatten() {
        let path = format!("{above}{name}");
        let (inner, lists) = innermost(schema);
        let says = [schema, inner].into_iter().find_map(says).unwrap_or_default();
        fields.push(Field { path: path.clone(), kind: kind(schema), says });
        add_fields(&format!("{path}{}.", "[]".repeat(lists)), inner, fields);
    }
}

fn says(schema: &Value) -> Option<String> {
    let words = schema["description"].as_str()?;
    Some(words.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// What is inside of options and lists, and how many lists there are.
fn innermost(schema: &Value) -> (&Value, usize) {
    match (some(schema), schema.get("items")) {
        (Some(inner), _) => innermost(inner),
        (None, Some(items)) => {
            let (inner, lists) = innermost(items);
            (inner, lists + 1)
        }
        (None, None) => (schema, 0),
    }
}

/// What may be there, of what may be none and has fields.
fn some(schema: &Value) -> Option<&Value> {
    schema["anyOf"].as_array()?.iter().find(|one| one["type"] != "null")
}

fn kind(schema: &Value) -> String {
    if let Some(inner) = some(schema) {
        return format!("{}, or none", kind(inner));
    }
    let types = schema["type"].as_array().map_or(vec![&schema["type"]], |all| all.iter().collect());
    let of = types.iter().find_map(|one| one.as_str().filter(|one| *one != "null"));
    let of = match of {
        Some("array") => format!("list of {}", kind(&schema["items"])),
        Some("boolean") => "true or false".to_owned(),
        Some("integer") => "whole number".to_owned(),
        Some("object") => "fields".to_owned(),
        _ => words(schema).unwrap_or("text".to_owned()),
    };
    if types.len() > 1 { format!("{of}, or none") } else { of }
}

/// "one of `case`, `lidded`" of a closed set of words, with words of their own or without.
fn words(schema: &Value) -> Option<String> {
    let all = schema["enum"].as_array().or(schema["oneOf"].as_array())?;
    let listed = |one: &Value| match (one.as_str(), one["const"].as_str(), one["enum"].as_array()) {
        (Some(word), ..) | (_, Some(word), _) => vec![word.to_owned()],
        (.., Some(words)) => words.iter().filter_map(Value::as_str).map(str::to_owned).collect(),
        _ => Vec::new(),
    };
    let ticked: Vec<String> = all.iter().flat_map(listed).map(|word| format!("`{word}`")).collect();
    Some(format!("one of {}", ticked.join(", ")))
}
