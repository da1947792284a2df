//! The command line: what goes to which stream, exit codes, and that nothing is written when something is wrong.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use serde_json::Value;

/// The program, in a folder of its own with the demo designs beside it.
struct Bench {
    folder: tempfile::TempDir,
}

struct Said {
    code: i32,
    out: String,
    err: String,
}

impl Bench {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("folder");
        for from in ["", "motors", "printers"] {
            let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs").join(from);
            let target = folder.path().join("designs").join(from);
            fs::create_dir_all(&target).expect("folder");
            for entry in source.read_dir().expect("designs") {
                let path = entry.expect("entry").path();
                if path.is_file() {
                    fs::copy(&path, target.join(path.file_name().expect("name"))).expect("copy");
                }
            }
        }
        Bench { folder }
    }

    fn path(&self) -> &Path {
        self.folder.path()
    }

    fn run(&self, arguments: &[&str]) -> Said {
        self.run_with(arguments, "")
    }

    fn run_with(&self, arguments: &[&str], input: &str) -> Said {
        let output = Command::new(assert_cmd::cargo::cargo_bin!("hubwright"))
            .current_dir(self.path())
            .args(arguments)
            .write_stdin(input)
            .output()
            .expect("it runs");
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
        Said {
            code: output.status.code().expect("an exit code"),
            out: text(output.stdout),
            err: text(output.stderr),
        }
    }

    fn names(&self) -> Vec<String> {
        let entries = self.path().read_dir().expect("folder");
        let mut names: Vec<String> =
            entries.map(|entry| entry.expect("entry").file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

const SHOULDER: &str = "designs/weeder-shoulder.toml";

#[test]
fn make_writes_the_folder_and_exits_0() {
    let bench = Bench::new();
    let said = bench.run(&["make", SHOULDER]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("weeder-shoulder"), "{}", said.out);
    for file in [
        "report.json",
        "bom.csv",
        "gears.md",
        "drive.md",
        "mesh.svg",
        "parts/ring-housing.stl",
        "parts/ring-housing.step",
        "assembly.step",
    ] {
        assert!(bench.path().join("output/weeder-shoulder").join(file).is_file(), "{file}");
    }
    assert_eq!(bench.names(), ["designs", "output"]);
}

#[test]
fn out_names_the_folder_itself() {
    let bench = Bench::new();
    assert_eq!(bench.run(&["make", SHOULDER, "--out", "here"]).code, 0);
    assert!(bench.path().join("here/report.json").is_file());
    assert_eq!(bench.names(), ["designs", "here"]);
}

#[test]
fn a_failing_check_exits_1_and_still_writes() {
    let bench = Bench::new();
    let path = bench.path().join(SHOULDER);
    let text = fs::read_to_string(&path).expect("read").replace("\"1000 g\"", "\"100 g\"");
    fs::write(&path, text).expect("write");
    let said = bench.run(&["make", SHOULDER]);
    assert_eq!(said.code, 1, "{}", said.err);
    assert!(bench.path().join("output/weeder-shoulder/report.json").is_file());
    assert_eq!(bench.run(&["check", SHOULDER]).code, 1);
}

#[test]
fn check_writes_nothing() {
    let bench = Bench::new();
    let said = bench.run(&["check", SHOULDER]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("output-life"), "{}", said.out);
    assert_eq!(bench.names(), ["designs"]);
    let answer = json(&bench.run(&["check", SHOULDER, "--json"]).out);
    assert_eq!(answer["design"], "weeder-shoulder");
    assert_eq!(answer["checks"][0]["verdict"], "holds");
}

#[test]
fn standard_input_is_a_design_too() {
    let bench = Bench::new();
    let text = fs::read_to_string(bench.path().join(SHOULDER)).expect("read");
    // Relative to the folder one stands in.
    let said = bench.run_with(&["check", "-"], &text.replace("from = \"", "from = \"designs/"));
    assert_eq!(said.code, 0, "{}", said.err);
}

#[test]
fn bad_input_exits_2_and_writes_nothing() {
    let bench = Bench::new();
    fs::write(bench.path().join("binary.toml"), [0u8, 159, 146, 150]).expect("write");
    fs::write(bench.path().join("empty.toml"), "").expect("write");
    let text = fs::read_to_string(bench.path().join(SHOULDER)).expect("read");
    fs::write(
        bench.path().join("designs/ratio.toml"),
        text.replace("= 12 ", "= 13 ").replace("= 42", "= 41"),
    )
    .expect("write");
    let before = bench.names();
    for design in ["binary.toml", "empty.toml", "none.toml", "designs", "designs/ratio.toml", "-"] {
        for command in ["make", "check"] {
            let said = bench.run(&[command, design]);
            assert_eq!(said.code, 2, "{command} {design}: {}{}", said.out, said.err);
            assert!(said.err.starts_with("error["), "{command} {design}: {}", said.err);
            assert_eq!(said.out, "", "{command} {design}");
            let answer = json(&bench.run(&[command, design, "--json"]).out);
            assert_eq!(answer["problems"][0]["severity"], "error", "{command} {design}: {answer}");
        }
    }
    assert_eq!(bench.names(), before);
}

#[test]
fn a_condition_of_the_layout_shows_its_line() {
    let bench = Bench::new();
    let text = fs::read_to_string(bench.path().join(SHOULDER)).expect("read");
    fs::write(bench.path().join(SHOULDER), text.replace("\"6810\"", "\"6816\"")).expect("write");
    let answer = json(&bench.run(&["make", SHOULDER, "--json"]).out);
    let line = text.lines().position(|line| line.contains("\"6810\"")).expect("a line") + 1;
    let problems = answer["problems"].as_array().expect("problems");
    let problem = problems.iter().find(|problem| problem["key"] == "bearings.output.designation");
    let problem = problem.unwrap_or_else(|| panic!("{answer}"));
    assert_eq!((&problem["code"], &problem["line"]), (&Value::from("cannot-build"), &Value::from(line)));
}

#[test]
fn what_cannot_be_written_exits_3() {
    let bench = Bench::new();
    fs::write(bench.path().join("file"), "mine").expect("write");
    fs::create_dir(bench.path().join("full")).expect("folder");
    fs::write(bench.path().join("full/thesis.txt"), "mine").expect("write");
    for out in ["file", "file/below", "full"] {
        let said = bench.run(&["make", SHOULDER, "--out", out]);
        assert_eq!(said.code, 3, "{out}: {}", said.err);
        assert!(said.err.starts_with("error[cannot-write]"), "{out}: {}", said.err);
    }
    assert_eq!(fs::read_to_string(bench.path().join("file")).expect("read"), "mine");
    assert_eq!(fs::read_to_string(bench.path().join("full/thesis.txt")).expect("read"), "mine");
    assert_eq!(bench.names(), ["designs", "file", "full"]);
}

/// A folder that refuses everyone, root too: /proc takes no new files on Linux.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_takes_no_files_exits_3() {
    let bench = Bench::new();
    let said = bench.run(&["make", SHOULDER, "--out", "/proc/hubwright"]);
    assert_eq!(said.code, 3, "{}", said.err);
    assert!(said.err.contains("/proc/hubwright"), "{}", said.err);
}

#[test]
fn start_writes_a_design_that_makes_and_never_replaces_one() {
    let bench = Bench::new();
    assert_eq!(bench.run(&["start", "weeder-elbow"]).code, 0);
    let text = fs::read_to_string(bench.path().join("weeder-elbow.toml")).expect("read");
    assert_eq!(bench.run(&["make", "weeder-elbow.toml"]).code, 0);
    let again = bench.run(&["start", "weeder-elbow"]);
    assert_eq!(again.code, 3, "{}", again.err);
    assert_eq!(fs::read_to_string(bench.path().join("weeder-elbow.toml")).expect("read"), text);
    for name in ["../out", "a/b", ""] {
        assert_eq!(bench.run(&["start", name]).code, 2, "{name:?}");
    }
    assert_eq!(bench.names(), ["designs", "output", "weeder-elbow.toml"]);
}

#[test]
fn tables_and_explain_answer_and_refuse() {
    let bench = Bench::new();
    for arguments in
        [&["tables"][..], &["tables", "bearings"], &["tables", "defaults"], &["explain", "output-life"]]
    {
        let said = bench.run(arguments);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{arguments:?}");
        assert!(said.out.len() > 100, "{arguments:?}: {}", said.out);
        let with_json: Vec<&str> = arguments.iter().copied().chain(["--json"]).collect();
        json(&bench.run(&with_json).out);
    }
    for arguments in [&["tables", "beerings"][..], &["explain", "output-live"]] {
        let said = bench.run(arguments);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?}");
        assert!(!said.err.is_empty());
    }
}

#[test]
fn messages_are_plain_where_no_terminal_is() {
    let bench = Bench::new();
    for arguments in [&["make", SHOULDER][..], &["make", "none.toml"], &["check", SHOULDER]] {
        let said = bench.run(arguments);
        assert!(!said.out.contains('\u{1b}') && !said.err.contains('\u{1b}'), "{arguments:?}");
    }
}

#[test]
fn help_lists_the_commands_and_wrong_arguments_exit_2() {
    let bench = Bench::new();
    let said = bench.run(&["--help"]);
    assert_eq!(said.code, 0);
    for command in ["make", "check", "compare", "swap", "coupons", "tables", "explain", "start"] {
        assert!(said.out.contains(&format!("\n  {command} ")), "{command}: {}", said.out);
    }
    assert_eq!(bench.run(&["mak"]).code, 2);
    assert_eq!(bench.run(&[]).code, 2);
}
