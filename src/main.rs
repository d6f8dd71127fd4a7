//! The `dovetally` program: arguments in, exit status out.

use std::process::ExitCode;

fn main() -> ExitCode {
    let mut screen = dovetally::cli::Screen::of_terminal();
    dovetally::cli::run(std::env::args_os(), &mut screen).into()
}
