//! The live page's server, as a program of its own: who may ask, what it refuses, what it keeps.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

struct Live {
    child: Child,
    port: u16,
    file: PathBuf,
    _folder: tempfile::TempDir,
}

impl Drop for Live {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_hubwright"))
}

impl Live {
    fn begin() -> Live {
        let folder = tempfile::tempdir().expect("a folder");
        for below in ["", "motors", "printers"] {
            fs::create_dir_all(folder.path().join(below)).expect("a folder");
            for entry in fs::read_dir(PathBuf::from("designs").join(below)).expect("designs") {
                let path = entry.expect("an entry").path();
                if path.is_file() {
                    let name = path.file_name().expect("a name");
                    fs::copy(&path, folder.path().join(below).join(name)).expect("copied");
                }
            }
        }
        let file = folder.path().join("weeder-shoulder.toml");
        let mut child =
            program().args(["live", "--json"]).arg(&file).stdout(Stdio::piped()).spawn().expect("begun");
        let mut line = String::new();
        BufReader::new(child.stdout.take().expect("output")).read_line(&mut line).expect("a line");
        let said: Value = serde_json::from_str(&line).expect("JSON");
        let address = said["address"].as_str().expect("an address");
        let port =
            address.trim_end_matches('/').rsplit(':').next().expect("a port").parse().expect("a number");
        Live { child, port, file, _folder: folder }
    }

    fn ask(&self, method: &str, path: &str, headers: &str, body: &str) -> (u16, String, String) {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("connected");
        stream.set_read_timeout(Some(Duration::from_secs(20))).expect("set");
        let length = body.len();
        let request = format!(
            "{method} {path} HTTP/1.1\r\nConnection: close\r\nContent-Length: {length}\r\n{headers}\r\n{body}"
        );
        // A request that is refused early may not be read to its end.
        let _ = stream.write_all(request.as_bytes());
        let mut bytes = Vec::new();
        let _ = stream.read_to_end(&mut bytes);
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        let status = head.split(' ').nth(1).and_then(|code| code.parse().ok()).unwrap_or(0);
        (status, head.to_string(), body.to_string())
    }

    fn host(&self) -> String {
        format!("Host: 127.0.0.1:{}\r\n", self.port)
    }

    fn post(&self, path: &str, body: &Value) -> (u16, Value) {
        let headers = format!("{}Content-Type: application/json\r\n", self.host());
        let (status, _, body) = self.ask("POST", path, &headers, &body.to_string());
        (status, serde_json::from_str(&body).unwrap_or(Value::Null))
    }

    fn state(&self) -> Value {
        serde_json::from_str(&self.ask("GET", "/state", &self.host(), "").2).expect("JSON")
    }

    /// The state once it is as wanted.
    fn until(&self, what: &str, wanted: impl Fn(&Value) -> bool) -> Value {
        let start = Instant::now();
        loop {
            let state = self.state();
            if wanted(&state) {
                return state;
            }
            assert!(start.elapsed() < Duration::from_secs(30), "never {what}: {}", state["problems"]);
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    fn text(&self) -> String {
        fs::read_to_string(&self.file).expect("the design")
    }
}

fn revision(state: &Value) -> Option<u64> {
    state["picture"]["revision"].as_u64()
}

#[test]
fn only_the_page_itself_is_answered() {
    let live = Live::begin();
    let own = live.host();
    let (status, head, _) = live.ask("GET", "/", &own, "");
    assert_eq!(status, 200);
    let head = head.to_lowercase();
    assert!(head.contains("content-security-policy: default-src 'none'"), "{head}");
    assert!(head.contains("x-content-type-options: nosniff"), "{head}");
    assert_eq!(live.ask("GET", "/state", "Host: evil.example\r\n", "").0, 403);
    assert_eq!(live.ask("GET", "/state", "", "").0, 400, "HTTP/1.1 asks for a host");
    let foreign = format!("{own}Origin: http://evil.example\r\n");
    assert_eq!(live.ask("GET", "/state", &foreign, "").0, 403);
    let foreign = format!("{own}Sec-Fetch-Site: cross-site\r\n");
    assert_eq!(live.ask("GET", "/state", &foreign, "").0, 403);
    for path in [
        "/../Cargo.toml",
        "/geometry/..%2f..%2fetc%2fpasswd",
        "/%2e%2e/motors/disc-86.toml",
        "/weeder-shoulder.toml",
    ] {
        assert_eq!(live.ask("GET", path, &own, "").0, 404, "{path}");
    }
    assert_eq!(live.ask("GET", "/edit", &own, "").0, 405);
    assert_eq!(live.ask("DELETE", "/state", &own, "").0, 405);
}

#[test]
fn requests_that_make_no_sense_are_refused_and_nothing_is_written() {
    let live = Live::begin();
    let before = live.text();
    let json = format!("{}Content-Type: application/json\r\n", live.host());
    assert_eq!(live.ask("POST", "/edit", &json, "{\"version\":").0, 400);
    assert_eq!(live.ask("POST", "/edit", &json, "{\"version\": 1}").0, 422);
    // A form of another page can't say that it is JSON.
    assert_eq!(
        live.ask("POST", "/undo", &format!("{}Content-Type: text/plain\r\n", live.host()), "{}").0,
        415
    );
    let large = json!({ "version": 1, "key": "gearset.planets", "value": "3".repeat(100_000) });
    assert_eq!(live.post("/edit", &large).0, 413);
    let foreign = json!({ "version": 1, "key": "motor.from", "value": "/etc/passwd" });
    assert_eq!(live.post("/edit", &foreign).0, 400);
    let wrong = json!({ "version": 1, "key": "gearset.normal_module", "value": "0.8 kg" });
    let (status, said) = live.post("/edit", &wrong);
    assert_eq!(status, 422);
    assert_eq!(said["problems"][0]["key"], "gearset.normal_module");
    assert_eq!(said["problems"][0]["code"], "wrong-unit");
    assert_eq!(live.text(), before);
}

#[test]
fn an_edit_keeps_the_comments_and_undo_takes_it_back() {
    let live = Live::begin();
    let before = live.text();
    let first = live.until("drawn", |state| revision(state).is_some());
    let edit = json!({ "version": 1, "key": "gearset.backlash", "value": "0.2 mm" });
    assert_eq!(live.post("/edit", &edit), (200, json!({ "version": 2 })));
    assert_eq!(live.text(), before.replace("\"0.18 mm\"   # covers", "\"0.2 mm\"   # covers"));
    live.until("drawn anew", |state| revision(state) > revision(&first));
    // An edit on a version that is no longer there would lose the other's.
    assert_eq!(live.post("/edit", &edit).0, 409);
    assert_eq!(live.post("/undo", &json!({})).0, 200);
    assert_eq!(live.text(), before);
    assert_eq!(live.post("/redo", &json!({})).0, 200);
    assert!(live.text().contains("\"0.2 mm\""));
    // Changed by hand since: undo leaves it alone.
    fs::write(&live.file, live.text().replace("\"0.2 mm\"", "\"0.21 mm\"")).expect("written");
    assert_eq!(live.post("/undo", &json!({})).0, 409);
    assert!(live.text().contains("\"0.21 mm\""));
}

#[test]
fn a_draft_is_drawn_and_not_written() {
    let live = Live::begin();
    let before = live.text();
    let first = live.until("drawn", |state| revision(state).is_some());
    assert_eq!(live.post("/draft", &json!({ "key": "gearset.face_width", "value": "17 mm" })).0, 202);
    live.until("drawn anew", |state| {
        revision(state) > revision(&first) && state["draft"] == "gearset.face_width"
    });
    assert_eq!(live.text(), before);
    assert_eq!(live.post("/draft", &json!({ "key": null })).0, 202);
    live.until("back", |state| state["draft"].is_null());
}

#[test]
fn a_file_broken_deleted_and_replaced_is_told_and_the_picture_stays() {
    let live = Live::begin();
    let before = live.text();
    live.until("drawn", |state| revision(state).is_some());
    fs::write(&live.file, &before[..before.len() / 2]).expect("written");
    let broken =
        live.until("broken", |state| state["problems"].as_array().is_some_and(|list| !list.is_empty()));
    assert!(revision(&broken).is_some());
    fs::remove_file(&live.file).expect("removed");
    let gone = live.until("gone", |state| state["readable"] == false);
    assert_eq!(gone["problems"][0]["code"], "file-missing");
    assert!(revision(&gone).is_some());
    let edit = json!({ "version": gone["version"], "key": "gearset.planets", "value": "4" });
    assert_eq!(live.post("/edit", &edit).0, 422);
    let beside = live.file.with_extension("new");
    fs::write(&beside, before.replace("\"16 mm\"", "\"17 mm\"")).expect("written");
    fs::rename(&beside, &live.file).expect("renamed");
    let mended =
        live.until("mended", |state| state["problems"] == json!([]) && revision(state) > revision(&gone));
    let width = mended["fields"]
        .as_array()
        .and_then(|fields| fields.iter().find(|field| field["key"] == "gearset.face_width"));
    assert_eq!(width.expect("the face width")["value"], "17 mm");
}

#[test]
fn a_motor_file_that_the_design_draws_on_is_watched() {
    let live = Live::begin();
    let first = live.until("drawn", |state| revision(state).is_some());
    let motor = live.file.with_file_name("motors").join("disc-86.toml");
    let text = fs::read_to_string(&motor).expect("the motor");
    let changed = text.replace("\"86 mm\"", "\"87 mm\"");
    assert_ne!(text, changed);
    fs::write(&motor, changed).expect("written");
    live.until("drawn anew", |state| revision(state) > revision(&first));
}

#[test]
fn two_browsers_hear_the_same() {
    let live = Live::begin();
    live.until("drawn", |state| revision(state).is_some());
    let listen = || {
        let mut stream = TcpStream::connect(("127.0.0.1", live.port)).expect("connected");
        stream.set_read_timeout(Some(Duration::from_secs(20))).expect("set");
        stream.write_all(format!("GET /events HTTP/1.1\r\n{}\r\n", live.host()).as_bytes()).expect("asked");
        BufReader::new(stream)
    };
    let both = [listen(), listen()];
    let edit = json!({ "version": 1, "key": "gearset.face_width", "value": "16.5 mm" });
    assert_eq!(live.post("/edit", &edit).0, 200);
    for reader in both {
        let heard = reader.lines().map_while(Result::ok).any(|line| line.contains("\"version\":2"));
        assert!(heard);
    }
}

#[test]
fn a_port_in_use_is_said() {
    let live = Live::begin();
    let port = live.port.to_string();
    let output = program().args(["live", "--port", &port]).arg(&live.file).output().expect("run");
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains(&format!("Port {port} at 127.0.0.1 is taken")), "{said}");
}
