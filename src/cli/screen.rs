//! The two streams a run speaks to: data on standard output, everything else on standard error.
//!
//! Words of the owner's files, of folder names and of what was typed all leave here, and a terminal
//! would carry out the codes in them; so each such character is shown as one that is not known.

use super::args::Color;
use super::table::Table;
use crate::model::turns_direction;
use std::io::{self, IsTerminal, Write};

/// How wide a table is where no terminal says how wide it is.
const COLUMNS: usize = 120;

/// In fewer characters the figures would not fit: lines of a narrower terminal are broken by it.
const NARROW: usize = 72;

/// Where a run writes. Tests put buffers in place of the terminal.
pub struct Screen {
    out: Box<dyn Write + Send>,
    err: Box<dyn Write + Send>,
    /// Whether standard error is a terminal that shows colour.
    terminal: bool,
    color: bool,
    quiet: bool,
    /// How wide a table may be, in characters.
    columns: usize,
    /// The first thing that could not be written, such as a full disk behind a redirect.
    broken: Option<io::Error>,
}

impl Screen {
    /// The process's own streams.
    pub fn of_terminal() -> Screen {
        let terminal = io::stderr().is_terminal();
        let no_color = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        let mut screen = Screen::new(Box::new(io::stdout()), Box::new(io::stderr()));
        screen.terminal = terminal && !no_color;
        if let Some((terminal_size::Width(columns), _)) =
            terminal_size::terminal_size_of(io::stdout())
        {
            screen.columns = usize::from(columns).max(NARROW);
        }
        screen
    }

    /// Any two streams; no colour, no progress.
    pub fn new(out: Box<dyn Write + Send>, err: Box<dyn Write + Send>) -> Screen {
        Screen {
            out,
            err,
            terminal: false,
            color: false,
            quiet: false,
            columns: COLUMNS,
            broken: None,
        }
    }

    pub fn configure(&mut self, color: Color, quiet: bool) {
        self.quiet = quiet;
        self.color = match color {
            Color::Always => true,
            Color::Never => false,
            Color::Auto => self.terminal,
        };
    }

    pub fn color(&self) -> bool {
        self.color
    }

    /// Whether a progress line may be drawn.
    pub fn shows_progress(&self) -> bool {
        self.terminal && !self.quiet
    }

    /// Data: what was asked for.
    pub fn data(&mut self, text: &str) {
        let wrote = self.out.write_all(plain(text, false).as_bytes());
        self.keep(wrote);
    }

    /// A table, as wide as there is room.
    pub fn table(&mut self, table: &Table) {
        self.data(&table.text(self.columns));
    }

    /// How far the run is: the program's own characters, as they are.
    pub fn progress(&mut self, text: &str) {
        let wrote = self.err.write_all(text.as_bytes());
        self.keep(wrote);
    }

    /// What the run has to say beside the data; silent under `--quiet`.
    pub fn note(&mut self, text: &str) {
        if !self.quiet {
            self.complain(text);
        }
    }

    /// What went wrong; never silent.
    pub fn complain(&mut self, text: &str) {
        let wrote = self.err.write_all(plain(text, self.color).as_bytes());
        self.keep(wrote);
    }

    /// Flushes both streams; a reader that went away early is no failure.
    pub fn finish(&mut self) -> io::Result<()> {
        let flushed = self.out.flush().and(self.err.flush());
        self.keep(flushed);
        match self.broken.take() {
            Some(e) if e.kind() != io::ErrorKind::BrokenPipe => Err(e),
            _ => Ok(()),
        }
    }

    fn keep(&mut self, result: io::Result<()>) {
        if let Err(e) = result {
            self.broken.get_or_insert(e);
        }
    }
}

/// A text without the characters a terminal carries out instead of showing, and without those that turn
/// what follows around: each is shown as an unknown character. With `color`, the codes of colours stay.
pub fn plain(text: &str, color: bool) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(character) = rest.chars().next() {
        let code = if color { colour_code(rest) } else { 0 };
        let length = code.max(character.len_utf8());
        let (now, after) = rest.split_at(length);
        let ends_line = character == '\r' && after.starts_with('\n');
        let shown = code > 0 || ends_line || matches!(character, '\n' | '\t');
        match shown || !(character.is_control() || turns_direction(character)) {
            true => plain.push_str(now),
            false => plain.push('\u{FFFD}'),
        }
        rest = after;
    }
    plain
}

/// The length of a code that only changes colours, at the start of a text.
fn colour_code(text: &str) -> usize {
    let Some(code) = text.strip_prefix("\u{1b}[") else { return 0 };
    let digits = code.bytes().take_while(|b| b.is_ascii_digit() || *b == b';').count();
    if code.as_bytes().get(digits) == Some(&b'm') { digits + 3 } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_would_carry_out_is_shown_as_unknown() {
        for (text, shown) in [
            ("oak\tchest\r\nשידה 漢\n", "oak\tchest\r\nשידה 漢\n"),
            ("\u{1b}[2J\u{1b}]0;title\u{7}", "\u{FFFD}[2J\u{FFFD}]0;title\u{FFFD}"),
            ("a\rb\u{8}\u{9b}31m\u{7f}\0", "a\u{FFFD}b\u{FFFD}\u{FFFD}31m\u{FFFD}\u{FFFD}"),
            ("a\u{202e}b\u{2066}", "a\u{FFFD}b\u{FFFD}"),
            ("\u{1b}[1mred\u{1b}[0m", "\u{FFFD}[1mred\u{FFFD}[0m"),
        ] {
            assert_eq!(plain(text, false), shown);
        }
        assert_eq!(plain("\u{1b}[1;31mred\u{1b}[0m", true), "\u{1b}[1;31mred\u{1b}[0m");
        assert_eq!(plain("\u{1b}[31;H\u{1b}[", true), "\u{FFFD}[31;H\u{FFFD}[");
    }
}
