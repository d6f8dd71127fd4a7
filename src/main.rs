//! The `dovetally` program: arguments in, exit status out.

#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    if let Some(ended) = dovetally::cli::serve(std::env::args_os()) {
        return ended;
    }
    let mut screen = dovetally::cli::Screen::of_terminal();
    dovetally::cli::run(std::env::args_os(), &mut screen).into()
}
