//! A form's table may say only how it differs from another year's, so that a line is put right once.
//!
//! `like` names the other table. A `[[line]]` of the same number replaces the keys it gives; one of a
//! new number stands `after` another. Rates and due dates are never taken over by themselves: a
//! rate that holds on is named in `carried`, which marks it as read for another year; any other is
//! given anew (its label and unit need not be said again).

use toml::value::{Date, Datetime};
use toml::{Table, Value};

/// A form's table with everything it takes from the table it is like.
///
/// # Errors
/// A sentence naming what does not fit.
pub fn whole(name: &str, tables: &[(&str, &str)]) -> Result<Table, String> {
    let (_, text) = tables
        .iter()
        .find(|(own, _)| *own == name)
        .ok_or_else(|| format!("there is no table `{name}`"))?;
    let mut own: Table = toml::from_str(text).map_err(|error| error.to_string())?;
    match own.remove("like") {
        None => Ok(own),
        Some(Value::String(like)) => with_differences(whole(&like, tables)?, own),
        Some(other) => Err(format!("`like` is `{other}`, and should be the name of a table")),
    }
}

fn with_differences(mut base: Table, mut own: Table) -> Result<Table, String> {
    let lines = with_lines(rows(&mut base, "line"), rows(&mut own, "line"))?;
    let carried = own.remove("carried");
    let span = years(&own)?;
    let rates = with_rates(rows(&mut base, "rate"), rows(&mut own, "rate"), carried, span)?;
    base.remove("due");
    base.extend(own);
    base.insert("line".into(), lines);
    base.insert("rate".into(), rates);
    Ok(base)
}

fn rows(table: &mut Table, key: &str) -> Vec<Table> {
    let Some(Value::Array(rows)) = table.remove(key) else { return Vec::new() };
    rows.into_iter().filter_map(|row| row.as_table().cloned()).collect()
}

fn array(rows: Vec<Table>) -> Value {
    Value::Array(rows.into_iter().map(Value::Table).collect())
}

fn word<'a>(row: &'a Table, key: &str) -> &'a str {
    row.get(key).and_then(Value::as_str).unwrap_or_default()
}

fn with_lines(mut lines: Vec<Table>, own: Vec<Table>) -> Result<Value, String> {
    for mut row in own {
        let number = word(&row, "number").to_owned();
        let place =
            |lines: &[Table], number: &str| lines.iter().position(|l| word(l, "number") == number);
        if let Some(at) = place(&lines, &number) {
            lines[at].extend(row);
        } else {
            let after =
                row.remove("after").ok_or_else(|| format!("line {number} stands after none"))?;
            let at = place(&lines, after.as_str().unwrap_or_default())
                .ok_or_else(|| format!("line {number} stands after {after}, which is not there"))?;
            lines.insert(at + 1, row);
        }
    }
    Ok(array(lines))
}

fn with_rates(
    base: Vec<Table>,
    own: Vec<Table>,
    carried: Option<Value>,
    (first, last): (i64, i64),
) -> Result<Value, String> {
    let mut rates = Vec::new();
    for name in carried.as_ref().and_then(Value::as_array).into_iter().flatten() {
        let name = name.as_str().unwrap_or_default();
        let mut row =
            named(&base, name).cloned().ok_or_else(|| format!("there is no rate `{name}`"))?;
        if word(&row, "seen") == "read" {
            row.insert("seen".into(), "carried".into());
        }
        row.insert("from".into(), day(first, 1, 1)?);
        row.insert("to".into(), day(last, 12, 31)?);
        rates.push(row);
    }
    for row in own {
        let mut whole = Table::new();
        for key in ["label", "unit"] {
            let said = named(&base, word(&row, "name")).and_then(|rate| rate.get(key));
            whole.extend(said.map(|value| (key.to_owned(), value.clone())));
        }
        whole.extend(row);
        rates.push(whole);
    }
    // In the order of the table this one is like; a rate of its own comes last.
    let order = |row: &Table| base.iter().position(|rate| word(rate, "name") == word(row, "name"));
    rates.sort_by_key(|row| order(row).unwrap_or(base.len()));
    Ok(array(rates))
}

fn named<'a>(rates: &'a [Table], name: &str) -> Option<&'a Table> {
    rates.iter().find(|rate| word(rate, "name") == name)
}

/// The first and the last year a table is for.
fn years(table: &Table) -> Result<(i64, i64), String> {
    let years = table.get("years").and_then(Value::as_array).into_iter().flatten();
    let years: Vec<i64> = years.filter_map(Value::as_integer).collect();
    match (years.iter().min(), years.iter().max()) {
        (Some(first), Some(last)) => Ok((*first, *last)),
        _ => Err("the table is for no year".to_owned()),
    }
}

fn day(year: i64, month: u8, day: u8) -> Result<Value, String> {
    let year = u16::try_from(year).map_err(|_| format!("{year} is no year"))?;
    let date = Some(Date { year, month, day });
    Ok(Value::Datetime(Datetime { date, time: None, offset: None }))
}

#[cfg(test)]
mod tests {
    use super::*;

    const BASE: (&str, &str) = (
        "base",
        "years = [2023]\n[[line]]\nnumber = '1'\nlabel = 'one'\nplus = ['2']\n[[line]]\nnumber = '2'\n\
         [[rate]]\nname = 'a'\nlabel = 'A'\nunit = 'u'\nvalue = '1'\nfrom = 2023-01-01\n\
         [[rate]]\nname = 'b'\nvalue = '2'\nseen = 'read'\nfrom = 2023-01-01\n[[due]]\nyear = 2023\n",
    );

    fn with(own: &str) -> Result<Table, String> {
        whole("own", &[BASE, ("own", &format!("like = 'base'\nyears = [2024, 2025]\n{own}"))])
    }

    #[test]
    fn a_line_replaces_the_keys_it_gives_and_a_new_one_stands_after_another() {
        let lines =
            "[[line]]\nnumber = '1'\nlabel = 'first'\n[[line]]\nnumber = '1a'\nafter = '1'\n";
        let mut table = with(lines).unwrap();
        let lines = rows(&mut table, "line");
        let numbers: Vec<&str> = lines.iter().map(|line| word(line, "number")).collect();
        assert_eq!(numbers, ["1", "1a", "2"]);
        assert_eq!(word(&lines[0], "label"), "first");
        assert!(lines[0].contains_key("plus"));
        assert!(with("[[line]]\nnumber = '9'\n").unwrap_err().contains("after none"));
        assert!(with("[[line]]\nnumber = '9'\nafter = '8'\n").unwrap_err().contains("not there"));
    }

    #[test]
    fn no_rate_and_no_due_date_is_taken_over_unless_it_is_said() {
        let mut table =
            with("carried = ['b']\n[[rate]]\nname = 'a'\nvalue = '3'\nfrom = 2025-01-01\n")
                .unwrap();
        assert!(!table.contains_key("due"));
        let rates = rows(&mut table, "rate");
        assert_eq!(rates.len(), 2);
        assert_eq!((word(&rates[0], "label"), word(&rates[0], "value")), ("A", "3"));
        assert_eq!(rates[1]["from"].to_string(), "2024-01-01");
        assert_eq!(rates[1]["to"].to_string(), "2025-12-31");
        assert_eq!(word(&rates[1], "seen"), "carried");
        assert_eq!(rows(&mut with("").unwrap(), "rate").len(), 0);
        assert!(with("carried = ['c']\n").unwrap_err().contains("no rate `c`"));
    }
}
