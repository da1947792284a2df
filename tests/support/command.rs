//! The command as a user runs it.

use std::path::Path;

use assert_cmd::Command;

/// What it answered.
pub struct Said {
    pub code: i32,
    pub out: String,
    pub err: String,
}

pub fn hubwright(folder: &Path, arguments: &[&str]) -> Said {
    let output = Command::new(assert_cmd::cargo::cargo_bin!("hubwright"))
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("it runs");
    Said {
        code: output.status.code().expect("an exit code"),
        out: String::from_utf8(output.stdout).expect("UTF-8"),
        err: String::from_utf8(output.stderr).expect("UTF-8"),
    }
}
