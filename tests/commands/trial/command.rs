//! The command: a design of its own beside a log; values written back on request.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use hubwright::design;

/// The command: a design of its own beside a log.
fn folder(log: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("folder");
    let designs = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs");
    for name in ["weeder-shoulder.toml", "motors/disc-86.toml", "printers/bench.toml"] {
        let target = folder.path().join(name);
        fs::create_dir_all(target.parent().expect("parent")).expect("folder");
        fs::copy(designs.join(name), target).expect("copy");
    }
    fs::write(folder.path().join("bench.csv"), log).expect("log");
    folder
}

fn run(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hubwright"));
    let output = command.current_dir(folder).args(arguments).output().expect("runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code().unwrap_or(-1), text(&output.stdout), text(&output.stderr))
}

const SPIN: &str = "test, rotor_speed [rpm], voltage [V], current [A]\nspin,500,5.71,\nspin,1000,11.35,\nspin,1500,17.06,\nspin,2000,22.75,\n\
                    resistance,,0.37,2\nresistance,,0.73,4\nresistance,,1.08,6\n";

#[test]
fn measured_values_are_written_on_request_only() {
    let folder = folder(SPIN);
    let path = folder.path().join("weeder-shoulder.toml");
    let before = fs::read_to_string(&path).expect("design");
    let (code, out, err) = run(folder.path(), &["trial", "weeder-shoulder.toml", "bench.csv"]);
    assert_eq!(code, 0, "{out}{err}");
    assert_eq!(fs::read_to_string(&path).expect("design"), before, "nothing is written unasked");
    let (code, ..) =
        run(folder.path(), &["trial", "weeder-shoulder.toml", "bench.csv", "--write", "motors/disc-86.toml"]);
    assert_eq!(code, 3, "another file is not overwritten");
    let (code, out, err) = run(
        folder.path(),
        &["trial", "weeder-shoulder.toml", "bench.csv", "--write", "weeder-shoulder.toml", "--out", "o"],
    );
    assert_eq!(code, 0, "{out}{err}");
    assert!(out.contains("motor.kv") && out.contains("-> "), "{out}");
    let after = fs::read_to_string(&path).expect("design");
    // Every line that was there still is, with its comment.
    for line in before.lines() {
        assert!(after.contains(line), "{line}");
    }
    assert!(after.contains("# measured (spin test)"), "{after}");
    let loaded = design::load(&path).expect("loads");
    // 500 rpm / 5.71 V and so on: 87.9 rpm/V.
    assert!((loaded.design.motor.kv - 87.9).abs() < 0.2, "{}", loaded.design.motor.kv);
    assert!(folder.path().join("o/spin.svg").is_file() && folder.path().join("o/trial.md").is_file());
    // The page loads nothing, has its plots in it and says what was written where.
    let page = fs::read_to_string(folder.path().join("o/trial.html")).expect("page");
    assert!(page.contains("default-src 'none'") && page.matches("<svg").count() == 2, "{page}");
    assert!(page.contains("Written into") && page.contains("motor.kv"), "{page}");
    // The design knows which of its values are measured, and how.
    let measured: Vec<&str> = loaded.design.measured.iter().map(|one| one.key.as_str()).collect();
    assert_eq!(measured, ["motor.kv", "motor.phase_resistance"]);
    assert!(
        loaded.design.measured[0].how.starts_with("measured (spin test): 87"),
        "{:?}",
        loaded.design.measured
    );
}

#[test]
fn all_problems_of_design_and_log_at_once() {
    let folder = folder("test, current [V]\nspin,1\n");
    let design = folder.path().join("weeder-shoulder.toml");
    let text =
        fs::read_to_string(&design).expect("design").replace("face_width    = \"16 mm\"", "face_width = 16");
    fs::write(&design, text).expect("write");
    let (code, _, err) =
        run(folder.path(), &["trial", "weeder-shoulder.toml", "bench.csv", "--write", "new.toml"]);
    assert_eq!(code, 2);
    assert!(err.contains("face_width") && err.contains("bench.csv"), "{err}");
    assert!(!folder.path().join("new.toml").exists());
}
