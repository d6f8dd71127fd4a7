//! What a layout is given, field by field, for an owner who writes one: read from the sources of
//! the views themselves, so that what is explained is what is given.

/// The sources of the views: their fields and the words about them.
const SOURCES: &[&str] = &[
    include_str!("view/card.rs"),
    include_str!("view/catalogue.rs"),
    include_str!("view/common.rs"),
    include_str!("view/glance.rs"),
    include_str!("view/inventory.rs"),
    include_str!("view/ledger.rs"),
    include_str!("view/link.rs"),
    include_str!("view/listing.rs"),
    include_str!("view/moments.rs"),
    include_str!("view/pieces.rs"),
    include_str!("view/quarter.rs"),
    include_str!("view/receipt.rs"),
    include_str!("view/record.rs"),
    include_str!("view/review.rs"),
    include_str!("view/stock.rs"),
    include_str!("view/summary.rs"),
    include_str!("view/tag.rs"),
];

/// The layouts that are documents, and the view each is given.
const VIEWS: &[(&str, &str)] = &[
    ("before-and-after", "BeforeAfterView"),
    ("box-label", "BoxLabelView"),
    ("buyers-receipt", "ReceiptView"),
    ("care-card", "CardView"),
    ("care-card-four-up", "CardSheetView"),
    ("care-card-large-print", "LargeCardView"),
    ("catalogue", "CatalogueView"),
    ("count-sheet", "CountSheetView"),
    ("hang-tag", "TagsView"),
    ("hang-tags", "TagsView"),
    ("income-summary", "IncomeSummary"),
    ("inventory", "InventoryView"),
    ("listing-sheet", "ListingView"),
    ("pieces-part", "PiecesPart"),
    ("quarter-sheet", "QuarterSheet"),
    ("review", "ReviewView"),
    ("shop-record", "ShopRecord"),
    ("stock-sheet", "StockView"),
];

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
    VIEWS.iter().map(|(layout, _)| *layout)
}

/// Every field a layout is given, in the order of its data; nothing for what is no document. The
/// name may end in `.typ`.
pub fn explain_layout(name: &str) -> Option<Vec<Field>> {
    let name = name.strip_suffix(".typ").unwrap_or(name);
    let (_, view) = VIEWS.iter().find(|(layout, _)| *layout == name)?;
    let mut fields = Vec::new();
    add_fields("", view, &mut fields);
    Some(fields)
}

/// A line of a view's source that makes a field or a word of an enum.
struct Member {
    name: String,
    /// Empty for a word of an enum.
    of: String,
    says: String,
    flat: bool,
}

fn add_fields(above: &str, view: &str, fields: &mut Vec<Field>) {
    for member in members(view) {
        if member.flat {
            add_fields(above, &member.of, fields);
            continue;
        }
        let path = format!("{above}{}", member.name);
        let (inner, lists) = innermost(&member.of);
        let says = if member.says.is_empty() { about(inner) } else { member.says };
        fields.push(Field { path: path.clone(), kind: kind(&member.of), says });
        if members(inner).iter().any(|inner| !inner.of.is_empty()) {
            add_fields(&format!("{path}{}.", "[]".repeat(lists)), inner, fields);
        }
    }
}

/// The type inside of options and lists, and how many lists there are.
fn innermost(of: &str) -> (&str, usize) {
    match (within(of, "Option"), within(of, "Vec")) {
        (Some(inner), _) => innermost(inner),
        (_, Some(inner)) => {
            let (inner, lists) = innermost(inner);
            (inner, lists + 1)
        }
        _ => (of, 0),
    }
}

fn within<'a>(of: &'a str, outer: &str) -> Option<&'a str> {
    of.strip_prefix(outer)?.strip_prefix('<')?.strip_suffix('>')
}

fn kind(of: &str) -> String {
    if let Some(inner) = within(of, "Option") {
        return format!("{}, or none", kind(inner));
    }
    if let Some(inner) = within(of, "Vec") {
        return format!("list of {}", kind(inner));
    }
    match of {
        "String" => "text".to_owned(),
        "bool" => "true or false".to_owned(),
        _ if of.starts_with(['u', 'i']) => "whole number".to_owned(),
        _ => words_of(of),
    }
}

/// "one of `case`, `lidded`" for an enum, else "fields".
fn words_of(name: &str) -> String {
    let words = members(name);
    if words.iter().any(|word| !word.of.is_empty()) {
        return "fields".to_owned();
    }
    let ticked: Vec<String> = words.iter().map(|word| format!("`{}`", word.name)).collect();
    format!("one of {}", ticked.join(", "))
}

fn is_head(line: &str, name: &str) -> bool {
    let rest = line.strip_prefix("pub struct ").or_else(|| line.strip_prefix("pub enum "));
    rest.and_then(|rest| rest.strip_suffix(" {")) == Some(name)
}

/// The fields of a struct of the views, or the words of an enum; nothing of any other type.
fn members(name: &str) -> Vec<Member> {
    let lines = SOURCES.iter().find_map(|source| {
        let mut lines = source.lines();
        lines.any(|line| is_head(line, name)).then_some(lines)
    });
    let (mut members, mut says, mut attribute) = (Vec::new(), Vec::new(), "");
    for line in lines.into_iter().flatten().take_while(|line| *line != "}").map(str::trim) {
        if let Some(words) = line.strip_prefix("///") {
            says.push(words.trim());
        } else if line.starts_with("#[") {
            attribute = line;
        } else if let Some(line) = line.strip_suffix(',') {
            members.push(member(line, attribute, &says.join(" ")));
            (says, attribute) = (Vec::new(), "");
        }
    }
    members
}

/// A line such as `pub number: String` with what stands above it.
fn member(line: &str, attribute: &str, says: &str) -> Member {
    let (name, of) =
        line.strip_prefix("pub ").and_then(|l| l.split_once(": ")).unwrap_or((line, ""));
    let renamed = attribute.split_once("rename = \"").and_then(|(_, rest)| rest.split_once('"'));
    Member {
        name: renamed.map_or_else(|| in_kebab_case(name), |(name, _)| name.to_owned()),
        of: of.to_owned(),
        says: says.to_owned(),
        flat: attribute.contains("flatten"),
    }
}

/// As serde spells it in the data: `per_hour` and `PerHour` are `per-hour`.
fn in_kebab_case(name: &str) -> String {
    let mut kebab = String::new();
    for (i, c) in name.char_indices() {
        if c.is_ascii_uppercase() && i > 0 {
            kebab.push('-');
        }
        kebab.push(if c == '_' { '-' } else { c.to_ascii_lowercase() });
    }
    kebab
}

/// The words above a type of the views.
fn about(name: &str) -> String {
    let above = |source: &str| {
        let lines: Vec<&str> = source.lines().collect();
        let head = lines.iter().position(|line| is_head(line, name))?;
        let above = lines[..head].iter().rev().filter(|line| !line.starts_with("#["));
        let mut words: Vec<&str> = above.map_while(|line| line.strip_prefix("///")).collect();
        words.reverse();
        Some(words.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" "))
    };
    SOURCES.iter().find_map(|source| above(source)).unwrap_or_default()
}
