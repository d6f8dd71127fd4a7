//! `make --explain-layout LAYOUT`: every field a layout is given, for an owner who writes one.

use super::{Screen, Status};
use crate::model::and_list;
use crate::typeset::{Field, explain_layout, explained_layouts};

/// Prints the fields as a list; each field's words stand below it.
pub fn explain(layout: &str, screen: &mut Screen) -> Status {
    let Some(fields) = explain_layout(layout) else {
        let known: Vec<String> = explained_layouts().map(|name| format!("`{name}`")).collect();
        screen.complain(&format!(
            "there is no layout `{layout}` of a document; there are {}\n",
            and_list(&known)
        ));
        return Status::Usage;
    };
    for field in &fields {
        screen.data(&told(field));
    }
    Status::Done
}

fn told(field: &Field) -> String {
    let mut text = format!("{}: {}\n", field.path, field.kind);
    if !field.says.is_empty() {
        text += &format!("    {}\n", field.says);
    }
    text
}
