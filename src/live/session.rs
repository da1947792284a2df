//! The design as it stands, shared by all browsers: text and version, draft, undo, picture, figures.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tokio::sync::watch;

use super::{edit, fields, maker, watch as disk};
use crate::design::{self, Design, Loaded, file};
use crate::diagnostic::{Code, Problems, to_json};

/// A draft whose browser went away is forgotten after this.
const DRAFT_LASTS: Duration = Duration::from_secs(10);
/// Steps that undo reaches back; older ones are forgotten.
const MOST_STEPS: usize = 500;

/// One design, its makers and its watchers.
pub struct Session {
    pub(super) path: PathBuf,
    state: Mutex<State>,
    pub(super) changed: Condvar,
    ticks: watch::Sender<String>,
}

/// A key's value before and after.
#[derive(Clone)]
struct Step {
    key: String,
    before: Option<String>,
    after: Option<String>,
}

struct Draft {
    key: String,
    value: String,
    since: Instant,
}

/// A picture as the viewer reads it.
#[derive(Clone)]
pub struct Picture {
    pub revision: u64,
    pub glb: Arc<Vec<u8>>,
    pub fine: bool,
}

struct Pinned {
    version: u64,
    picture: Picture,
    figures: Value,
    fields: Vec<Value>,
}

#[derive(Default)]
pub(super) struct State {
    text: String,
    /// Counts texts of the design file, however they came.
    version: u64,
    /// Counts changes of what else is told: problems, what can be undone, what is kept beside.
    pub(super) serial: u64,
    /// Why the file can't be read at present.
    unreadable: Option<Problems>,
    draft: Option<Draft>,
    pub(super) problems: Problems,
    /// The last one that was sound.
    pub(super) loaded: Option<Loaded>,
    /// What the picture shows.
    pub(super) made: Option<Design>,
    pub(super) picture: Option<Picture>,
    pub(super) figures: Option<(u64, Value)>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    pinned: Option<Pinned>,
    /// Something is to be looked at again.
    pub(super) wanted: bool,
    /// Revision and design that figures are wanted of, since when.
    pub(super) to_judge: Option<(u64, Loaded, Instant)>,
}

/// Why an edit isn't made.
#[derive(Debug)]
pub enum Refused {
    /// The file has changed since the version that the edit was made on.
    Stale(String),
    Wrong(Problems),
    Unwritable(String),
}

impl Session {
    /// Opens a design and begins to make and watch it.
    ///
    /// # Errors
    /// No file to read. A file with faults in it is opened: the page shows them.
    pub fn open(path: &Path) -> Result<Arc<Session>, Problems> {
        let mut problems = Problems::default();
        let not_a_file = Path::new("-");
        if path == not_a_file {
            let message = "The live page writes changes back: it takes a file, not standard input";
            return Err(crate::diagnostic::Diagnostic::error(Code::FileUnreadable, message).into());
        }
        let Some(source) = file::read(path, &mut problems) else { return Err(problems) };
        let state = State { text: source.text.clone(), version: 1, wanted: true, ..State::default() };
        let session = Arc::new(Session {
            path: path.to_path_buf(),
            state: Mutex::new(state),
            changed: Condvar::new(),
            ticks: watch::channel(String::new()).0,
        });
        maker::begin(&session);
        Ok(session)
    }

    /// A maker that panicked leaves a state that is whole: each change of it is one assignment.
    pub(super) fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Tells every browser what is new.
    pub(super) fn tell(&self, state: &State) {
        let tick = json!({
            "version": state.version,
            "serial": state.serial,
            "draft": state.draft.as_ref().map(|draft| &draft.key),
            "readable": state.unreadable.is_none(),
            "picture": state.picture.as_ref().map(|picture| picture.revision),
            "figures": state.figures.as_ref().map(|(revision, _)| *revision),
        });
        let tick = tick.to_string();
        self.ticks.send_if_modified(|told| {
            let is_new = *told != tick;
            *told = tick;
            is_new
        });
    }

    pub fn ticks(&self) -> watch::Receiver<String> {
        self.ticks.subscribe()
    }

    /// Looks at the disk and at the draft again.
    pub(super) fn want(&self) {
        self.lock().wanted = true;
        self.changed.notify_all();
    }

    /// Takes in what the file says now; true if anything is new.
    pub(super) fn take_in(&self) -> bool {
        let mut problems = Problems::default();
        let source = file::read(&self.path, &mut problems);
        let mut state = self.lock();
        let expired = state.draft.as_ref().is_some_and(|draft| draft.since.elapsed() > DRAFT_LASTS);
        if expired {
            state.draft = None;
        }
        let changed = match source {
            Some(source) => {
                let is_new = source.text != state.text;
                if is_new {
                    state.text = source.text.clone();
                    state.version += 1;
                }
                state.unreadable.take().is_some() || is_new
            }
            None => state.unreadable.replace(problems.clone()) != Some(problems),
        };
        changed || expired
    }

    /// The text with the draft in it, and why the file can't be read.
    pub(super) fn effective(&self) -> (String, Option<Problems>) {
        let state = self.lock();
        (drafted(&state), state.unreadable.clone())
    }

    /// Writes a key's value into the file.
    ///
    /// # Errors
    /// See [`Refused`]; the file then stays as it is.
    pub fn edit(&self, version: u64, key: &str, typed: &str) -> Result<u64, Refused> {
        let text = self.current(Some(version))?;
        let typed = Some(typed.trim()).filter(|typed| !typed.is_empty());
        let step = Step { key: key.into(), before: edit::read(&text, key), after: typed.map(String::from) };
        let version = self.written(&text, &step.key, step.after.as_deref())?;
        let mut state = self.lock();
        if step.before != step.after {
            state.undo.push(step);
            if state.undo.len() > MOST_STEPS {
                state.undo.remove(0);
            }
            state.redo.clear();
            state.serial += 1;
        }
        self.tell(&state);
        Ok(version)
    }

    /// Takes the last edit back, in the file too.
    ///
    /// # Errors
    /// Nothing to take back, or the key has been changed in the file since.
    pub fn undo(&self) -> Result<u64, Refused> {
        let step = self.lock().undo.pop();
        let Some(step) = step else { return Err(Refused::Stale("There is nothing to undo".into())) };
        let result = self.restored(&step.key, step.after.as_deref(), step.before.as_deref());
        let mut state = self.lock();
        if result.is_ok() {
            state.redo.push(step)
        } else {
            state.undo.push(step)
        }
        state.serial += 1;
        self.tell(&state);
        result
    }

    /// Makes the edit taken back last again.
    ///
    /// # Errors
    /// As [`Session::undo`].
    pub fn redo(&self) -> Result<u64, Refused> {
        let step = self.lock().redo.pop();
        let Some(step) = step else { return Err(Refused::Stale("There is nothing to do again".into())) };
        let result = self.restored(&step.key, step.before.as_deref(), step.after.as_deref());
        let mut state = self.lock();
        if result.is_ok() {
            state.undo.push(step)
        } else {
            state.redo.push(step)
        }
        state.serial += 1;
        self.tell(&state);
        result
    }

    fn restored(&self, key: &str, present: Option<&str>, wanted: Option<&str>) -> Result<u64, Refused> {
        let text = self.current(None)?;
        if edit::read(&text, key).as_deref() != present {
            return Err(Refused::Stale(format!("{key} has been changed in the file since")));
        }
        self.written(&text, key, wanted)
    }

    /// The file's text, as it stands on the disk at this moment.
    fn current(&self, version: Option<u64>) -> Result<String, Refused> {
        if self.take_in() {
            self.want();
        }
        let state = self.lock();
        if let Some(problems) = &state.unreadable {
            return Err(Refused::Wrong(problems.clone()));
        }
        if version.is_some_and(|version| version != state.version) {
            return Err(Refused::Stale(
                "The file has changed since: look at it again, then change it".into(),
            ));
        }
        Ok(state.text.clone())
    }

    /// Checks the new value, then writes the file as a whole.
    fn written(&self, text: &str, key: &str, typed: Option<&str>) -> Result<u64, Refused> {
        let edited = edit::write(text, key, typed).map_err(|error| {
            Refused::Wrong(
                crate::diagnostic::Diagnostic::error(Code::Syntax, error.to_string()).key(key).into(),
            )
        })?;
        if let Err(problems) = design::load_text(&self.path, &edited) {
            let about_it = against(&problems, key);
            if !about_it.is_empty() {
                return Err(Refused::Wrong(about_it));
            }
        }
        replace(&self.path, text, &edited)?;
        let mut state = self.lock();
        if state.text != edited {
            state.text = edited;
            state.version += 1;
        }
        state.draft = None;
        state.wanted = true;
        self.changed.notify_all();
        Ok(state.version)
    }

    /// Shows a value without writing it; None goes back to the file.
    pub fn draft(&self, draft: Option<(String, String)>) {
        let mut state = self.lock();
        state.draft = draft.map(|(key, value)| Draft { key, value, since: Instant::now() });
        state.wanted = true;
        self.changed.notify_all();
    }

    /// Keeps the present picture and figures beside what follows; false if there are none yet.
    pub fn pin(&self) -> bool {
        let mut state = self.lock();
        let (Some(picture), Some((_, figures))) = (state.picture.clone(), state.figures.clone()) else {
            return false;
        };
        let text = drafted(&state);
        let fields = fields::tree(&text, &state.text, state.loaded.as_ref());
        state.pinned = Some(Pinned { version: state.version, picture, figures, fields });
        state.serial += 1;
        self.tell(&state);
        true
    }

    pub fn unpin(&self) {
        let mut state = self.lock();
        state.pinned = None;
        state.serial += 1;
        self.tell(&state);
    }

    pub fn picture(&self, pinned: bool) -> Option<Picture> {
        let state = self.lock();
        if pinned {
            state.pinned.as_ref().map(|pinned| pinned.picture.clone())
        } else {
            state.picture.clone()
        }
    }

    /// All the page shows but checks and triangles.
    pub fn tree(&self) -> Value {
        let state = self.lock();
        let text = drafted(&state);
        json!({
            "file": self.path.display().to_string(),
            "about": state.loaded.as_ref().map(|loaded| loaded.design.about.clone()),
            "name": state.loaded.as_ref().map(|loaded| loaded.design.name.clone()),
            "version": state.version,
            "draft": state.draft.as_ref().map(|draft| draft.key.clone()),
            "readable": state.unreadable.is_none(),
            "problems": to_json(&state.problems),
            "fields": fields::tree(&text, &state.text, state.loaded.as_ref()),
            "picture": state.picture.as_ref().map(|picture| json!({ "revision": picture.revision, "fine": picture.fine })),
            "undo": state.undo.last().map(|step| step.key.clone()),
            "redo": state.redo.last().map(|step| step.key.clone()),
            "pinned": state.pinned.as_ref().map(|pinned| json!({
                "version": pinned.version,
                "revision": pinned.picture.revision,
                "glance": pinned.figures["glance"],
                "counts": pinned.figures["counts"],
                "fields": pinned.fields,
            })),
        })
    }

    /// Figures and checks, and the revision of the picture they belong to.
    pub fn figures(&self) -> Value {
        let state = self.lock();
        let shown = state.picture.as_ref().map(|picture| picture.revision);
        match &state.figures {
            Some((revision, tree)) => {
                json!({ "revision": revision, "current": shown == Some(*revision), "figures": tree })
            }
            None => json!({ "revision": null, "current": false, "figures": null }),
        }
    }

    /// Folders of all files that the design draws on.
    pub(super) fn folders(&self) -> Vec<PathBuf> {
        disk::folders(&self.path, self.lock().loaded.as_ref())
    }
}

fn drafted(state: &State) -> String {
    let draft = state.draft.as_ref();
    let edited = draft.and_then(|draft| edit::write(&state.text, &draft.key, Some(&draft.value)).ok());
    edited.unwrap_or_else(|| state.text.clone())
}

/// What the reader has against the value itself; that keys clash is shown, but may be passed through on the way.
fn against(problems: &Problems, key: &str) -> Problems {
    let mut found = Problems::default();
    let is_about = |at: &str| at == key || key.strip_prefix(at).is_some_and(|rest| rest.starts_with('.'));
    let wrong = problems.iter().filter(|problem| problem.severity == crate::diagnostic::Severity::Error);
    found.extend(wrong.filter(|problem| problem.code != Code::Conflict && is_about(&problem.key)).cloned());
    found
}

/// Replaces the file as a whole, unless it no longer holds what was edited.
fn replace(path: &Path, before: &str, after: &str) -> Result<(), Refused> {
    let unwritable =
        |error: io::Error| Refused::Unwritable(format!("{} cannot be written: {error}", path.display()));
    let real = path.canonicalize().map_err(unwritable)?;
    let folder = real.parent().unwrap_or(Path::new("."));
    let mut fresh = tempfile::Builder::new().prefix(".hubwright-").tempfile_in(folder).map_err(unwritable)?;
    fresh.write_all(after.as_bytes()).map_err(unwritable)?;
    let permissions = fs::metadata(&real).map_err(unwritable)?.permissions();
    fresh.as_file().set_permissions(permissions).map_err(unwritable)?;
    fresh.as_file().sync_all().map_err(unwritable)?;
    if fs::read(&real).map_err(unwritable)? != before.as_bytes() {
        return Err(Refused::Stale("The file has changed at this moment: nothing was written".into()));
    }
    fresh.persist(&real).map_err(|error| unwritable(error.error))?;
    Ok(())
}
