//! The program: everything is in the library, see `cli`.

fn main() {}
