//! The program: everything is in the library, see `cli`.

use std::process::ExitCode;

fn main() -> ExitCode {
    breathmark::cli::run(std::env::args_os())
}
