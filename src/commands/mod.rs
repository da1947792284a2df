//! The command line, one file a command.

pub mod check;
pub mod compare;
pub mod coupons;
pub mod explain;
pub mod found;
pub mod live;
pub mod make;
pub mod rig;
pub mod size;
pub mod start;
pub mod swap;
pub mod tables;
pub mod trial;

mod answer; // what a command says, and how it exits
mod arguments; // the command line's grammar
mod conditions;
mod new_file; // a file that is written on request // which keys a condition of the layout turns on

use std::process::ExitCode;

use clap::Parser;

pub use answer::{Answer, Exit};
use arguments::{Arguments, Command};

/// Runs the command line of this process.
pub fn run() -> ExitCode {
    // Wrong arguments end here, with a usage message and exit code 2.
    let arguments = Arguments::parse();
    let json = arguments.json;
    let answer = match arguments.command {
        Command::Make { design, out } => make::make(&design, out.as_deref()),
        Command::Check { design } => check::check(&design),
        Command::Compare { a, b, all, page } => compare::compare([&a, &b], all, page.as_deref()),
        Command::Coupons { design, found: Some(found), .. } => found::found(&design, &found),
        Command::Coupons { design, out, found: None } => coupons::coupons(&design, out.as_deref()),
        Command::Size { file, write } => size::size(&file, write.as_deref()),
        Command::Live { design, port } => live::live(&design, port, json),
        Command::Swap { design, motor, out, write } => {
            swap::swap(&design, &motor, swap::Wanted { out: out.as_deref(), write: write.as_deref() })
        }
        Command::Tables { name } => table_answer(name.as_deref(), json),
        Command::Explain { check } => Answer::from_texts(
            explain::explain(&check).map(|text| (text, explain::explain_json(&check).ok())),
        ),
        Command::Rig { design, out } => rig::rig(&design, out.as_deref()),
        Command::Start { name } => start::start(&name),
        Command::Trial { design: Some(design), log: Some(log), write, out, .. } => {
            trial::trial(&design, &log, trial::Wanted { write: write.as_deref(), out: out.as_deref() })
        }
        // The grammar asks for both, or for the columns.
        Command::Trial { .. } => trial::columns(),
    };
    answer.say(json)
}

fn table_answer(name: Option<&str>, json: bool) -> Answer {
    // The bearing table is long: it is written out once, in the form asked for.
    if json {
        return Answer::from_texts(tables::as_json(name).map(|tree| (String::new(), Some(tree))));
    }
    let text = name.map_or_else(|| Ok(tables::list()), tables::show);
    Answer::from_texts(text.map(|text| (text, None)))
}
