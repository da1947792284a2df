//! `hubwright live DESIGN`: the design in a browser on this machine, until the program is stopped.

use std::io::{ErrorKind, Write};
use std::path::Path;

use serde_json::{Value, json};

use super::{Answer, Exit};
use crate::diagnostic::{Code, Diagnostic};
use crate::live::{self, Session};

/// Serves the page; returns only when it can't.
pub fn live(design: &Path, port: Option<u16>, json: bool) -> Answer {
    let session = match Session::open(design) {
        Ok(session) => session,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let started = match live::start(session, port.unwrap_or(0)) {
        Ok(started) => started,
        Err(error) => return Answer::refused(no_address(port, &error).into(), Exit::WrongInput),
    };
    let address = format!("http://{}/", started.address);
    let said = if json {
        json!({ "address": address }).to_string()
    } else {
        format!("{} is shown at {address}  (Ctrl-C ends)", design.display())
    };
    // A closed pipe doesn't end the page.
    let mut out = std::io::stdout();
    let _ = writeln!(out, "{said}").and_then(|()| out.flush());
    match started.serve() {
        Ok(()) => Answer::new(String::new(), Value::Null, Exit::AllWell),
        Err(error) => {
            let message = format!("The page at {address} ended: {error}");
            Answer::refused(Diagnostic::error(Code::CannotWrite, message).into(), Exit::CannotWrite)
        }
    }
}

fn no_address(port: Option<u16>, error: &std::io::Error) -> Diagnostic {
    let port = port.unwrap_or(0);
    match error.kind() {
        ErrorKind::AddrInUse => Diagnostic::error(
            Code::CannotWrite,
            format!("Port {port} at 127.0.0.1 is taken by another program"),
        )
        .expected("a free port; without --port one is found")
        .example("hubwright live designs/weeder-shoulder.toml --port 8731"),
        _ => Diagnostic::error(Code::CannotWrite, format!("Port {port} at 127.0.0.1 can't be used: {error}"))
            .hint("without --port a free one is found"),
    }
}
