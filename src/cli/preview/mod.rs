//! `plyline preview`: pages in a browser while they are written.
//!
//! A request passes the gate (`server`), and then something is read (`served`) or done (`acts`) in an open page (`held`),
//! whose file somebody else writes too (`disk`, `exchange`). `through` asks the server of a generator, and `sources` finds the file of
//! what that shows. `protocol` has the shapes of what is said. What is pure is in
//! `crate::preview`.

mod acts;
mod answer;
mod disk;
mod exchange;
mod folder;
mod held;
mod protocol;
mod served;
mod server;
mod sources;
mod state;
mod through;
mod watch;

use self::folder::Folder;
use self::server::serve;
use self::state::Preview;
use super::Outcome;
use super::args;
use super::out::{Out, say};
use crate::preview::Gate;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use std::io::{self, Write};
use std::net::{Ipv4Addr, TcpListener};
use tokio::runtime::Builder;

/// Serves pages until the program is ended.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Preview) -> io::Result<Outcome> {
    let folder = match Folder::new(&wanted.path) {
        Ok(folder) => folder,
        Err(reason) => return failed(&reason),
    };
    let through = match wanted.through.as_deref().map(through::server).transpose() {
        Ok(through) => through,
        Err(reason) => return failed(&format!("--through {reason}")),
    };
    let wished = wanted.port.unwrap_or(0);
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, wished));
    let bound = listener.and_then(|it| Ok((it.local_addr()?.port(), it)));
    let (port, listener) = match bound {
        Ok(bound) => bound,
        Err(error) => {
            let reason = super::files::reason(&error);
            return failed(&format!(
                "port {wished} cannot be used: {reason}; choose another with --port"
            ));
        }
    };
    let mut random = [0; 32];
    if let Err(error) = getrandom::fill(&mut random) {
        return failed(&format!(
            "the system gives no random numbers for the key: {error}"
        ));
    }
    let key = URL_SAFE_NO_PAD.encode(random);
    let runtime = match Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
    {
        Ok(runtime) => runtime,
        Err(error) => return failed(&format!("the server cannot be started: {error}")),
    };
    let mut out = Out::new();
    writeln!(out, "http://127.0.0.1:{port}/#{key}")?;
    out.flush()?;
    let preview = Preview::new(folder, Gate { port, key }, through);
    match runtime.block_on(serve(preview, listener)) {
        Ok(()) => Ok(Outcome::Clean),
        Err(error) => failed(&format!("the server has ended: {error}")),
    }
}

fn failed(reason: &str) -> io::Result<Outcome> {
    say(reason);
    Ok(Outcome::Failed)
}
