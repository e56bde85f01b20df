//! Serves the demo site: `cargo run --example serve -- PORT FOLDER…`. See run.sh.

#[cfg(not(target_family = "wasm"))]
#[path = "../tests/support/server.rs"]
mod server;

#[cfg(not(target_family = "wasm"))]
fn main() {
    let mut arguments = std::env::args().skip(1);
    let port = arguments.next().and_then(|port| port.parse().ok());
    let folders: Vec<std::path::PathBuf> = arguments.map(Into::into).collect();
    let (Some(port), false) = (port, folders.is_empty()) else {
        eprintln!("usage: serve PORT FOLDER…");
        std::process::exit(2);
    };
    match server::serve(folders, port) {
        Ok(address) => {
            println!("The demo site is at {address}/ (stop it with Ctrl-C)");
            loop {
                std::thread::park();
            }
        }
        Err(error) => {
            eprintln!("port {port} cannot be used: {error}; set PORT to another one");
            std::process::exit(2);
        }
    }
}

#[cfg(target_family = "wasm")]
fn main() {}
