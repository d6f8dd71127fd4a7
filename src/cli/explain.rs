//! What is explained on request: the fields of a layout, `make --explain-layout LAYOUT`, and what a
//! finding means, `check --explain CODE`.

use super::{Screen, Status};
use crate::model::{Code, and_list, nearest};
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

/// Says what a code of a finding means, with an example; `all` says it of every one.
pub fn code(word: &str, screen: &mut Screen) -> Status {
    let meant: Vec<Code> = match word {
        "all" => Code::ALL.to_vec(),
        word => Code::of_word(word).into_iter().collect(),
    };
    if meant.is_empty() {
        let near = nearest(word, Code::ALL.iter().map(|code| code.word()));
        let near = near.map_or(String::new(), |near| format!("; did you mean `{near}`?"));
        screen.complain(&format!("no finding has the code `{word}`{near}\n"));
        return Status::Usage;
    }
    for code in meant {
        let (word, means, example) = (code.word(), code.means(), code.example());
        screen.data(&format!("{word}\n    {means}\n    for example: {example}\n"));
    }
    Status::Done
}
