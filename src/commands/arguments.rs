//! The command line's grammar.

use std::path::PathBuf;

use clap::{Parser, Subcommand};

/// From one design file to a printed robot joint: parts, bill of materials and checks with margins.
///
/// Exit code: 0 all well, 1 a check fails, 2 the input is wrong, 3 something could not be written.
#[derive(Debug, Parser)]
#[command(name = "hubwright", version)]
pub struct Arguments {
    #[command(subcommand)]
    pub command: Command,
    /// Answer in JSON on standard output
    #[arg(long, global = true)]
    pub json: bool,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make all parts, the bill of materials and the report of a design
    Make {
        /// Design file; - is standard input
        design: PathBuf,
        /// Folder to write, replaced as a whole [default: output/<name of the design>]
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// Check a design without writing anything
    Check {
        /// Design file; - is standard input
        design: PathBuf,
    },
    /// Lay two designs side by side, differences first
    #[command(
        after_help = "Example: hubwright compare designs/weeder-shoulder.toml designs/weeder-wrist.toml"
    )]
    Compare {
        /// First design file; - is standard input
        a: PathBuf,
        /// Second design file; - is standard input
        b: PathBuf,
        /// List what is alike too
        #[arg(long)]
        all: bool,
        /// Write a page to this file too; never overwrites
        #[arg(long, value_name = "FILE")]
        page: Option<PathBuf>,
    },
    /// Make test prints for a design's fits, gear clearance and overhangs, or take what they showed into the printer profile
    Coupons {
        /// Design file; - is standard input
        design: PathBuf,
        /// Folder to write, replaced as a whole [default: output/<name of the design>-coupons]
        #[arg(long, value_name = "DIR", conflicts_with = "found")]
        out: Option<PathBuf>,
        /// What was found at the coupons: changes the printer profile that the design names
        #[arg(long, value_name = "FILE")]
        found: Option<PathBuf>,
    },
    /// Search motor, gears and bearings for a requirement, or for all joints of a robot: ranked table, ready design files
    Size {
        /// Requirement file, or robot file of several [[joint]]; - is standard input
        file: PathBuf,
        /// Design file to write the first choice to, with a page of pictures beside it; of a robot a folder; never overwrites
        #[arg(long, value_name = "FILE")]
        write: Option<PathBuf>,
    },
    /// Show a design in a browser on this machine, redrawn as its file changes, with fields that change the file
    Live {
        /// Design file
        design: PathBuf,
        /// Port at 127.0.0.1 [default: a free one]
        #[arg(long, value_name = "N")]
        port: Option<u16>,
    },
    /// Make a design on another motor: what moves, what can be kept, what to print and buy
    #[command(
        after_help = "Example: hubwright swap designs/weeder-shoulder.toml --motor designs/motors/disc-70.toml --write designs/shoulder-70.toml"
    )]
    Swap {
        /// Design file; - is standard input
        design: PathBuf,
        /// Motor file, or a design file whose [motor] is taken; - is standard input
        #[arg(long, value_name = "MOTOR")]
        motor: PathBuf,
        /// Folder to write, replaced as a whole [default: output/<name of the design>-on-<motor>]
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
        /// Write the new design to this file; never overwrites
        #[arg(long, value_name = "FILE")]
        write: Option<PathBuf>,
    },
    /// Show the built-in tables with their sources
    Tables {
        /// One table; without it, their list
        name: Option<String>,
    },
    /// Explain a check: formula, symbols, source, range
    Explain {
        /// The check's name, as in the table of `check`
        check: String,
    },
    /// Write a new commented design file NAME.toml that makes
    Start {
        /// Name of the design: small letters, digits, hyphens
        name: String,
    },
    /// Make printed test parts for the bench, rated, with a test plan
    Rig {
        /// Design file; - is standard input
        design: PathBuf,
        /// Folder to write, replaced as a whole [default: output/<name of the design>-rig]
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// Hold a log of bench measurements against the prediction, and say what the joint really is
    Trial {
        /// Design file
        #[arg(required_unless_present = "columns")]
        design: Option<PathBuf>,
        /// Log: comma-separated values; --columns says what may be in it
        #[arg(required_unless_present = "columns")]
        log: Option<PathBuf>,
        /// Write the measured values into this file: the design itself, or a new one
        #[arg(long, value_name = "FILE")]
        write: Option<PathBuf>,
        /// Folder for page and plots, replaced as a whole; without it none are written
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
        /// Say which tests and columns a log may have
        #[arg(long)]
        columns: bool,
    },
}
