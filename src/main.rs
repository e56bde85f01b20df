//! The author's command line. On wasm there is nothing for it to do, but cargo wants a program.

#[cfg(not(target_family = "wasm"))]
fn main() -> std::process::ExitCode {
    plyline::cli::main()
}

#[cfg(target_family = "wasm")]
fn main() {}
