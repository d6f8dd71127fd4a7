//! A bank's export: a CSV file with a head, whose columns shop.toml names. Read once every book
//! is, because the books name it.
//!
//! What is wrong with an export touches no line of the form, so it sets no book aside: the
//! findings are said, and the year has no comparison with the bank.

use super::bank_quotes::unpaired;
use super::bank_values::{amount, day};
use super::load::{FileRef, Taken, take_text_as};
use super::setting::Setting;
use super::words::ticked;
use crate::model::{
    BankColumns, BankDeposit, BankExport, Closed, Code, DateOrder, FileId, Finding, Money, Place,
    YearBook, nearest,
};
use chrono::NaiveDate;
use csv::{ReaderBuilder, StringRecord, Trim};

/// Rows that are each said to be unreadable: a column read in the wrong way fails in every row.
const MOST_TOLD: usize = 5;

/// The separators of columns that banks use (common practice, no source).
const SEPARATORS: [u8; 3] = *b",;\t";

/// Reads the exports the books name, each once, and gives the books their deposits. The exports
/// are numbered among the sources from `next` on.
pub(super) fn take_banks(
    setting: &Setting,
    books: &mut [(i32, Taken<YearBook>)],
    mut next: u32,
) -> Vec<Taken<Vec<BankDeposit>>> {
    let mut taken: Vec<Taken<Vec<BankDeposit>>> = Vec::new();
    let named = books.iter_mut().filter_map(|(_, book)| book.value.as_mut()?.bank.as_mut());
    for bank in named.filter(|bank| is_inside(setting, &bank.file.value)) {
        let known = taken.iter().position(|one| one.file.path == bank.file.value);
        let at = known.unwrap_or_else(|| {
            let file = FileRef { id: FileId(next), path: bank.file.value.clone() };
            next += 1;
            taken.push(take_bank(setting, &file, bank));
            taken.len() - 1
        });
        bank.deposits = taken[at].sound().cloned();
    }
    taken
}

/// Whether it is a file of the shop folder; where it is not, the book has said so.
fn is_inside(setting: &Setting, path: &str) -> bool {
    let real = setting.folder.join(path).canonicalize();
    real.is_ok_and(|real| real.starts_with(&setting.folder) && real.is_file())
}

fn take_bank(setting: &Setting, file: &FileRef, bank: &BankExport) -> Taken<Vec<BankDeposit>> {
    let decimals = setting.currency.decimals;
    take_text_as(setting, file, |text| match &setting.bank {
        Some(columns) => Export { text, file: file.id, columns, decimals }.deposits(),
        None => (Vec::new(), vec![no_columns(text, bank)]),
    })
}

/// A book names an export, and nothing says what its columns are.
fn no_columns(text: &str, bank: &BankExport) -> Finding {
    let heads = head(text).map_or(String::new(), |head| heads(&head));
    let message = format!("shop.toml does not say what the columns of `{}` are", bank.file.value);
    let hint = "add `[bank]` to shop.toml, with the names of the columns as `date = \"…\"` and \
                `amount = \"…\"`";
    let hint = if heads.is_empty() { hint.to_owned() } else { format!("{hint}; it has {heads}") };
    Finding::error(Code::BankColumns, bank.place, message)
        .label("read by which columns?")
        .hint(hint)
}

struct Export<'a> {
    text: &'a str,
    file: FileId,
    columns: &'a BankColumns,
    decimals: u32,
}

/// Where the columns stand in a row.
struct Positions {
    date: usize,
    amount: usize,
    text: Option<usize>,
}

impl Export<'_> {
    fn deposits(&self) -> (Vec<BankDeposit>, Vec<Finding>) {
        if let Some(mark) = unpaired(self.text, separator(self.text)) {
            return (Vec::new(), vec![self.stray_mark(mark)]);
        }
        let mut rows = rows(self.text);
        let head = rows.next().unwrap_or_default();
        let at = match self.positions(&head) {
            Ok(at) => at,
            Err(findings) => return (Vec::new(), findings),
        };
        let (mut deposits, mut findings) = (Vec::new(), Vec::new());
        for row in rows {
            match self.deposit(&row, &at) {
                Ok(deposit) => deposits.extend(deposit),
                Err(finding) => findings.push(*finding),
            }
        }
        (deposits, few(findings))
    }

    /// No row can be believed then.
    fn stray_mark(&self, mark: usize) -> Finding {
        let message = "the quotation marks do not pair up from here on, so that rows run together";
        let finding =
            Finding::error(Code::BankQuotes, Place::new(self.file, mark..mark + 1), message);
        finding.label("begins a text that does not end in its column").hint(
            "export the file anew, or remove this mark; a mark within a text in marks is doubled",
        )
    }

    fn positions(&self, head: &StringRecord) -> Result<Positions, Vec<Finding>> {
        let mut findings = Vec::new();
        let mut find = |key: &str, name: &str| {
            if head.iter().filter(|column| *column == name).count() > 1 {
                findings.push(self.two_columns(key, name, head));
            }
            head.iter().position(|column| column == name).unwrap_or_else(|| {
                findings.push(self.no_column(key, name, head));
                0
            })
        };
        let columns = self.columns;
        let at = Positions {
            date: find("date", &columns.date),
            amount: find("amount", &columns.amount),
            text: columns.text.as_ref().map(|name| find("text", name)),
        };
        if findings.is_empty() { Ok(at) } else { Err(findings) }
    }

    fn no_column(&self, key: &str, name: &str, head: &StringRecord) -> Finding {
        let message = format!("this export has no column `{name}`");
        let finding = Finding::error(Code::BankColumn, self.place(head), message);
        finding.label("its columns").hint(match nearest(name, head.iter()) {
            Some(near) => format!("perhaps `{key} = \"{near}\"` in `[bank]` of shop.toml"),
            None => match heads(head) {
                none if none.is_empty() => "export the file anew: its first line is empty".into(),
                heads => {
                    format!("write the column's name as `{key}` in `[bank]` of shop.toml: {heads}")
                }
            },
        })
    }

    fn two_columns(&self, key: &str, name: &str, head: &StringRecord) -> Finding {
        let message = format!("this export has two columns `{name}`");
        let finding = Finding::error(Code::BankColumn, self.place(head), message);
        finding.label("which of them?").hint(format!(
            "give the one that is meant a name of its own in this line, and give it to `{key}` in \
             `[bank]` of shop.toml"
        ))
    }

    /// What a row brought in; nothing where nothing came in.
    fn deposit(
        &self,
        row: &StringRecord,
        at: &Positions,
    ) -> Result<Option<BankDeposit>, Box<Finding>> {
        let Some(written) = row.get(at.amount) else { return Err(Box::new(self.cut_short(row))) };
        if written.is_empty() {
            return Ok(None);
        }
        let amount = self.amount(written, row)?;
        if amount <= Money::ZERO {
            return Ok(None);
        }
        let on = self.day(row.get(at.date).unwrap_or_default(), row)?;
        let text = at.text.and_then(|at| row.get(at)).map(one_line).unwrap_or_default();
        Ok(Some(BankDeposit { on, amount, text, place: self.place(row) }))
    }

    fn cut_short(&self, row: &StringRecord) -> Finding {
        let message = format!("this row ends before the column `{}`", self.columns.amount);
        let finding = Finding::error(Code::BankAmount, self.place(row), message);
        finding.label("no amount").hint("export the file anew, or remove the line")
    }

    fn amount(&self, written: &str, row: &StringRecord) -> Result<Money, Box<Finding>> {
        let comma = self.columns.decimal_comma;
        amount(written, self.decimals, comma).map_err(|says| {
            let other = amount(written, self.decimals, !comma).is_ok();
            let hint = match (other, comma) {
                (true, false) => "put `decimal-comma = true` into `[bank]` of shop.toml",
                (true, true) => "remove `decimal-comma` from `[bank]` in shop.toml",
                (false, _) => {
                    "export the file anew, or name another column as `amount` in `[bank]`"
                }
            };
            let finding = Finding::error(Code::BankAmount, self.place(row), says);
            Box::new(finding.label("not an amount").hint(hint))
        })
    }

    fn day(&self, written: &str, row: &StringRecord) -> Result<NaiveDate, Box<Finding>> {
        let order = self.columns.date_order;
        day(written, order).ok_or_else(|| {
            let message = format!("`{written}` is not a day written {}", order.word());
            let other = DateOrder::ALL.iter().find(|(_, other)| day(written, *other).is_some());
            let hint = match other {
                Some((word, _)) => {
                    format!("put `date-order = \"{word}\"` into `[bank]` of shop.toml")
                }
                None => "export the file anew, or name another column as `date` in `[bank]`".into(),
            };
            let finding = Finding::error(Code::BankDate, self.place(row), message);
            Box::new(finding.label("not a day").hint(hint))
        })
    }

    /// The line of a row.
    fn place(&self, row: &StringRecord) -> Place {
        let from = row.position().map_or(0, |position| position.byte() as usize);
        let rest = self.text.get(from..).unwrap_or_default();
        let line = rest.trim_start_matches(['\r', '\n', '\u{FEFF}']);
        let start = from + rest.len() - line.len();
        let length = line.find(['\r', '\n']).unwrap_or(line.len());
        Place::new(self.file, start..start + length)
    }
}

/// The rows of an export, the head among them. Every row may have its own number of columns, so
/// none is an error; the text is UTF-8 already.
fn rows(text: &str) -> impl Iterator<Item = StringRecord> {
    let mut reader = ReaderBuilder::new();
    reader.has_headers(false).flexible(true).trim(Trim::All).delimiter(separator(text));
    reader.from_reader(text.as_bytes()).into_records().filter_map(Result::ok)
}

fn head(text: &str) -> Option<StringRecord> {
    rows(text).next()
}

/// The separator the head has most of.
fn separator(text: &str) -> u8 {
    let head = text.lines().find(|line| !line.is_empty()).unwrap_or_default();
    let times = |separator: u8| head.bytes().filter(|byte| *byte == separator).count();
    let most = SEPARATORS.iter().rev().max_by_key(|separator| times(**separator));
    most.copied().unwrap_or(b',')
}

/// "`Date`, `Details` and `Amount`".
fn heads(head: &StringRecord) -> String {
    ticked(&head.iter().filter(|name| !name.is_empty()).collect::<Vec<_>>())
}

/// What a bank says of a row, on one line and without characters that cannot be printed.
fn one_line(text: &str) -> String {
    let plain: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The first few findings; the last of them counts the others.
fn few(mut findings: Vec<Finding>) -> Vec<Finding> {
    let more = findings.len().saturating_sub(MOST_TOLD);
    findings.truncate(MOST_TOLD);
    if let Some(last) = findings.last_mut().filter(|_| more > 0) {
        last.message += &format!("; nor can {more} further rows be read");
    }
    findings
}
