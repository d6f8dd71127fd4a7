//! Quotation marks of a bank's export that do not pair up. One mark too many makes a text of
//! everything up to the next, with the amounts in it, and each row by itself still looks right; so
//! the marks are looked at before a row is believed. Only `bank_file` uses it.

/// Where the marks go wrong: the byte of the mark in question. Within a pair of marks a mark is
/// doubled (RFC 4180, section 2, rule 7).
pub(super) fn unpaired(text: &str, separator: u8) -> Option<usize> {
    let mut scan = Scan { text: text.as_bytes(), separator, at: 0 };
    let mut of_head = None;
    while scan.at < scan.text.len() {
        let row = match scan.row() {
            Ok(row) => row,
            Err(mark) => return Some(mark),
        };
        let of_head = *of_head.get_or_insert(row.columns);
        // A text of several lines may be meant; one that took columns along is not.
        if row.columns != of_head && row.several_lines.is_some() {
            return row.several_lines;
        }
    }
    None
}

struct Scan<'a> {
    text: &'a [u8],
    separator: u8,
    at: usize,
}

struct Row {
    columns: usize,
    /// The mark that begins a text of several lines.
    several_lines: Option<usize>,
}

impl Scan<'_> {
    fn now(&self) -> Option<u8> {
        self.text.get(self.at).copied()
    }

    /// Goes past a row and the end of its line.
    fn row(&mut self) -> Result<Row, usize> {
        let mut row = Row { columns: 0, several_lines: None };
        loop {
            row.several_lines = self.column()?.or(row.several_lines);
            row.columns += 1;
            match self.now() {
                Some(byte) if byte == self.separator => self.at += 1,
                _ => break,
            }
        }
        while matches!(self.now(), Some(b'\r' | b'\n')) {
            self.at += 1;
        }
        Ok(row)
    }

    /// Goes past a column; the mark that begins it where it goes over several lines.
    fn column(&mut self) -> Result<Option<usize>, usize> {
        let start = self.at;
        self.blanks();
        if self.now() != Some(b'"') {
            // A mark within a bare text is part of it.
            while self.now().is_some_and(|byte| !self.ends_column(byte)) {
                self.at += 1;
            }
            return Ok(None);
        }
        let mark = self.at;
        if mark > start {
            return Err(mark);
        }
        self.quoted(mark)?;
        let inside = &self.text[mark..self.at];
        let several_lines = inside.contains(&b'\n');
        if several_lines && inside.contains(&self.separator) {
            return Err(mark);
        }
        self.blanks();
        match self.now() {
            Some(byte) if !self.ends_column(byte) => Err(mark),
            _ => Ok(several_lines.then_some(mark)),
        }
    }

    /// Goes past a pair of marks.
    fn quoted(&mut self, mark: usize) -> Result<(), usize> {
        self.at += 1;
        loop {
            match self.now() {
                None => return Err(mark),
                Some(b'"') if self.text.get(self.at + 1) == Some(&b'"') => self.at += 2,
                Some(b'"') => break,
                Some(_) => self.at += 1,
            }
        }
        self.at += 1;
        Ok(())
    }

    fn blanks(&mut self) {
        while matches!(self.now(), Some(b' ' | b'\t')) && self.now() != Some(self.separator) {
            self.at += 1;
        }
    }

    fn ends_column(&self, byte: u8) -> bool {
        byte == self.separator || matches!(byte, b'\r' | b'\n')
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_that_pair_up_are_left_alone() {
        for text in [
            "",
            "Date,Text,Amount\n2025-01-02,oak chair,500.00\n",
            "Date,Text,Amount\n2025-01-02,\"oak chair, two\",\"500.00\"\n",
            "Date,Text,Amount\r\n2025-01-02,\"a \"\"good\"\" chair\",500.00\r\n",
            "Date,Text,Amount\n2025-01-02,a 5\" board,500.00\n",
            "Date,Text,Amount\n2025-01-02,\"two\nlines\",500.00",
            "\"Date\" ,\"Text\",\"Amount\"\n\n2025-01-02,,\n",
        ] {
            assert_eq!(unpaired(text, b','), None, "{text}");
        }
        assert_eq!(unpaired("Date\tText\n2025-01-02\t\"a, b\"\n", b'\t'), None);
    }

    #[test]
    fn a_mark_too_many_is_found_where_it_stands() {
        let head = "Date,Text,Amount\n";
        for rows in [
            "2025-01-02,\"oak chair,500.00\n2025-01-03,pine,100.00\n",
            "2025-01-02,\"oak chair,500.00\n2025-01-03,pine\",100.00\n",
            "2025-01-02,\"oak chair,500.00\n2025-01-03,\"pine\",100.00\n",
            "2025-01-02,\"5\" board,500.00\n",
            "2025-01-02, \"oak, old\",500.00\n",
            "2025-01-02,oak chair,\"500.00\n2025-01-03\",pine,100.00\n",
        ] {
            let text = format!("{head}{rows}");
            let mark = text.find('"').unwrap();
            assert_eq!(unpaired(&text, b','), Some(mark), "{rows}");
        }
    }
}
