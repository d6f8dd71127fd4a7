//! A PDF as a screen reader says it: the words of each element of the structure tree, in its order,
//! found by the marks in the pages' content.

use lopdf::content::Operation;
use lopdf::{Dictionary, Document, Encoding, Object, ObjectId};
use std::collections::{BTreeMap, HashMap};

/// What is said at one element that has words of its own.
#[derive(Debug)]
pub struct Said {
    /// The element's role, such as `H1`, `P` or `TD`.
    pub role: String,
    pub text: String,
}

/// Words by page and mark, and how much on each page is marked as decoration.
#[derive(Default)]
struct Marks {
    words: HashMap<(ObjectId, i64), String>,
    decorations: usize,
}

/// Everything that is said, in reading order.
pub fn aloud(document: &Document) -> Vec<Said> {
    let marks = marks(document);
    let mut said = Vec::new();
    if let Ok(root) = document.catalog().and_then(|catalog| catalog.get(b"StructTreeRoot"))
        && let Ok((_, Object::Dictionary(root))) = document.dereference(root)
    {
        say(document, root, (None, b""), &marks, &mut said);
    }
    said
}

/// How many runs of content are marked as decoration, never to be read.
pub fn decorations(document: &Document) -> usize {
    marks(document).decorations
}

fn say(
    document: &Document,
    element: &Dictionary,
    (page, heading): (Option<ObjectId>, &[u8]),
    marks: &Marks,
    said: &mut Vec<Said>,
) {
    let page = element.get(b"Pg").and_then(Object::as_reference).ok().or(page);
    // What stands inside a heading is said as that heading.
    let own = element.get(b"S").and_then(Object::as_name).unwrap_or_default();
    let role = if heading.is_empty() { own } else { heading };
    let is_heading = own.len() == 2 && own[0] == b'H';
    let heading = if is_heading { own } else { heading };
    let Ok((_, kids)) = element.get(b"K").and_then(|kids| document.dereference(kids)) else {
        return;
    };
    let kids = match kids {
        Object::Array(kids) => kids.clone(),
        kid => vec![kid.clone()],
    };
    for kid in &kids {
        match document.dereference(kid) {
            Ok((_, Object::Integer(mark))) => speak(role, page, *mark, marks, said),
            Ok((_, Object::Dictionary(kid))) => match kid.get(b"MCID").and_then(Object::as_i64) {
                Ok(mark) => {
                    let page = kid.get(b"Pg").and_then(Object::as_reference).ok().or(page);
                    speak(role, page, mark, marks, said);
                }
                Err(_) => say(document, kid, (page, heading), marks, said),
            },
            _ => {}
        }
    }
}

fn speak(role: &[u8], page: Option<ObjectId>, mark: i64, marks: &Marks, said: &mut Vec<Said>) {
    let words = page.and_then(|page| marks.words.get(&(page, mark)));
    if let Some(text) = words.filter(|text| !text.trim().is_empty()) {
        let role = String::from_utf8_lossy(role).into_owned();
        said.push(Said { role, text: text.split_whitespace().collect::<Vec<_>>().join(" ") });
    }
}

fn marks(document: &Document) -> Marks {
    let mut marks = Marks::default();
    for page in document.get_pages().into_values() {
        let fonts = document.get_page_fonts(page).unwrap_or_default();
        let encodings: BTreeMap<Vec<u8>, Encoding> = fonts
            .into_iter()
            .filter_map(|(name, font)| Some((name, font.get_font_encoding(document).ok()?)))
            .collect();
        let content = document.get_and_decode_page_content(page).unwrap();
        read_page(page, &content.operations, &encodings, &mut marks);
    }
    marks
}

fn read_page(
    page: ObjectId,
    operations: &[Operation],
    encodings: &BTreeMap<Vec<u8>, Encoding>,
    marks: &mut Marks,
) {
    let (mut open, mut font) = (Vec::new(), None);
    for operation in operations {
        match operation.operator.as_str() {
            "BDC" | "BMC" => {
                let is_artifact =
                    operation.operands[0].as_name().is_ok_and(|name| name == b"Artifact");
                marks.decorations += usize::from(is_artifact);
                let properties = operation.operands.get(1).and_then(|o| o.as_dict().ok());
                open.push(properties.and_then(|p| p.get(b"MCID").and_then(Object::as_i64).ok()));
            }
            "EMC" => drop(open.pop()),
            "Tf" => font = operation.operands[0].as_name().ok().and_then(|n| encodings.get(n)),
            "Tj" | "TJ" => {
                if let (Some(mark), Some(font)) = (open.iter().rev().find_map(|m| *m), font) {
                    let words = marks.words.entry((page, mark)).or_default();
                    operation.operands.iter().for_each(|shown| add_words(shown, font, words));
                }
            }
            _ => {}
        }
    }
}

fn add_words(shown: &Object, font: &Encoding, words: &mut String) {
    match shown {
        Object::String(bytes, _) => {
            *words += &Document::decode_text(font, bytes).unwrap_or_default();
        }
        Object::Array(parts) => parts.iter().for_each(|part| add_words(part, font, words)),
        _ => {}
    }
}

/// A cell of a table as a reader finds it.
#[derive(Debug)]
pub struct Cell {
    /// `TH` or `TD`.
    pub role: String,
    /// Of a head: `Row`, `Column` or `Both`.
    pub scope: String,
    /// The name other cells call it by.
    pub id: String,
    /// The names of the heads it is under.
    pub headers: Vec<String>,
    pub text: String,
}

/// The rows of every table, in reading order.
pub fn tables(document: &Document) -> Vec<Vec<Vec<Cell>>> {
    let marks = marks(document);
    let root = document.catalog().and_then(|catalog| catalog.get(b"StructTreeRoot"));
    let mut tables = Vec::new();
    if let Ok(Ok((_, Object::Dictionary(root)))) = root.map(|root| document.dereference(root)) {
        each_of(document, root, b"Table", &mut |table| {
            let mut rows = Vec::new();
            each_of(document, table, b"TR", &mut |row| {
                let cells = kids(document, row).into_iter();
                rows.push(cells.map(|cell| table_cell(document, cell, &marks)).collect());
            });
            tables.push(rows);
        });
    }
    tables
}

/// The structure elements right under one.
fn kids<'a>(document: &'a Document, element: &'a Dictionary) -> Vec<&'a Dictionary> {
    let list = match element.get(b"K").and_then(|kids| document.dereference(kids)) {
        Ok((_, Object::Array(list))) => list.iter().collect(),
        Ok((_, one)) => vec![one],
        Err(_) => Vec::new(),
    };
    let found = list.into_iter().filter_map(|kid| document.dereference(kid).ok()?.1.as_dict().ok());
    found.filter(|kid| kid.has(b"S")).collect()
}

/// Every element of a role below one, without those inside of such a one.
fn each_of<'a>(
    document: &'a Document,
    below: &'a Dictionary,
    role: &[u8],
    look: &mut dyn FnMut(&'a Dictionary),
) {
    for kid in kids(document, below) {
        if kid.get(b"S").and_then(Object::as_name).is_ok_and(|name| name == role) {
            look(kid);
        } else {
            each_of(document, kid, role, look);
        }
    }
}

fn table_cell(document: &Document, cell: &Dictionary, marks: &Marks) -> Cell {
    let mut said = Vec::new();
    say(document, cell, (None, b""), marks, &mut said);
    let attributes = match cell.get(b"A").and_then(|a| document.dereference(a)) {
        Ok((_, Object::Array(list))) => list.clone(),
        Ok((_, one)) => vec![one.clone()],
        Err(_) => Vec::new(),
    };
    let of = |key: &[u8]| {
        let found =
            attributes.iter().filter_map(|a| document.dereference(a).ok()?.1.as_dict().ok());
        found.filter_map(|a| a.get(key).ok()).next()
    };
    let name = |object: &Object| match object {
        Object::String(bytes, _) | Object::Name(bytes) => {
            String::from_utf8_lossy(bytes).into_owned()
        }
        _ => String::new(),
    };
    Cell {
        role: cell.get(b"S").map(name).unwrap_or_default(),
        scope: of(b"Scope").map(name).unwrap_or_default(),
        id: cell.get(b"ID").map(name).unwrap_or_default(),
        headers: of(b"Headers")
            .and_then(|list| list.as_array().ok())
            .map_or(Vec::new(), |list| list.iter().map(name).collect()),
        text: said.into_iter().map(|said| said.text).collect::<Vec<_>>().join(" "),
    }
}
