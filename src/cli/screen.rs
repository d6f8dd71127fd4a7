//! The two streams a run speaks to: data on standard output, everything else on standard error.

use super::args::Color;
use std::io::{self, IsTerminal, Write};

/// Where a run writes. Tests put buffers in place of the terminal.
pub struct Screen {
    out: Box<dyn Write + Send>,
    err: Box<dyn Write + Send>,
    /// Whether standard error is a terminal that shows colour.
    terminal: bool,
    color: bool,
    quiet: bool,
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
        screen
    }

    /// Any two streams; no colour, no progress.
    pub fn new(out: Box<dyn Write + Send>, err: Box<dyn Write + Send>) -> Screen {
        Screen { out, err, terminal: false, color: false, quiet: false, broken: None }
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
        let wrote = self.out.write_all(text.as_bytes());
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
        let wrote = self.err.write_all(text.as_bytes());
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
