//! Two threads: one makes geometry as soon as anything changes, the other figures and the fine picture once it is quiet.

use std::sync::{Arc, Weak};
use std::thread;
use std::time::{Duration, Instant};

use super::session::Picture;
use super::watch::Watch;
use super::{Session, figures};
use crate::commands::make::refusal;
use crate::design::{self, Loaded};
use crate::diagnostic::Problems;
use crate::export::glb;
use crate::pipeline;
use crate::scene::{Drawn, FINE};

/// An editor writes a file in several steps within this.
const SETTLED: Duration = Duration::from_millis(6);
/// Nothing changed for so long: time for figures.
const QUIET: Duration = Duration::from_millis(150);
/// How often the files are looked at without being told of a change: some disks tell nothing.
const LOOK_AGAIN: Duration = Duration::from_secs(1);

/// Begins both threads; they end with the session.
pub fn begin(session: &Arc<Session>) {
    let (drawer, judge) = (Arc::downgrade(session), Arc::downgrade(session));
    thread::spawn(move || draw_for_ever(&drawer));
    thread::spawn(move || judge_for_ever(&judge));
}

fn draw_for_ever(session: &Weak<Session>) {
    let mut watch = Watch::new(session.clone());
    let mut drawn = Drawn::coarsely();
    let mut first = true;
    while let Some(session) = session.upgrade() {
        watch.over(session.folders());
        let told = wait(&session);
        if told && !first {
            thread::sleep(SETTLED);
        }
        session.take_in();
        draw(&session, &mut drawn);
        first = false;
    }
}

/// Waits for a change; false when none was told.
fn wait(session: &Session) -> bool {
    let state = session.lock();
    let waited = session.changed.wait_timeout_while(state, LOOK_AGAIN, |state| !state.wanted);
    let (mut state, _) = waited.unwrap_or_else(std::sync::PoisonError::into_inner);
    std::mem::take(&mut state.wanted)
}

/// Reads the design as it stands and draws it if it is another; problems leave the last good picture.
fn draw(session: &Session, drawn: &mut Drawn) {
    let (text, unreadable) = session.effective();
    if let Some(problems) = unreadable {
        return say(session, problems);
    }
    let loaded = match design::load_text(&session.path, &text) {
        Ok(loaded) => loaded,
        Err(problems) => return say(session, problems),
    };
    {
        let mut state = session.lock();
        state.loaded = Some(loaded.clone());
        if state.made.as_ref() == Some(&loaded.design) {
            drop(state);
            return say(session, loaded.problems);
        }
    }
    match pipeline::look(&loaded.design, drawn) {
        Ok(sight) => {
            let bytes = glb::compact(&sight.actuator, &sight.scene);
            let mut state = session.lock();
            let revision = state.picture.as_ref().map_or(1, |picture| picture.revision + 1);
            state.picture = Some(Picture { revision, glb: Arc::new(bytes), fine: false });
            state.made = Some(loaded.design.clone());
            state.problems = loaded.problems.clone();
            state.serial += 1;
            state.to_judge = Some((revision, loaded, Instant::now()));
            session.changed.notify_all();
            session.tell(&state);
        }
        Err(error) => say(session, refusal(error, &loaded)),
    }
}

/// Tells problems if they are new, or the version is.
fn say(session: &Session, problems: Problems) {
    let mut state = session.lock();
    if state.problems != problems {
        state.problems = problems;
        state.serial += 1;
    }
    session.tell(&state);
}

fn judge_for_ever(session: &Weak<Session>) {
    // One thread of its own: figures must not keep the next picture waiting.
    let Ok(pool) = rayon::ThreadPoolBuilder::new().num_threads(1).build() else { return };
    let mut drawn = Drawn::within(FINE);
    while let Some(session) = session.upgrade() {
        if let Some((revision, loaded)) = quiet(&session) {
            pool.install(|| judge(&session, revision, &loaded, &mut drawn));
        }
    }
}

/// What is to be judged, once nothing newer has come for a while.
fn quiet(session: &Session) -> Option<(u64, Loaded)> {
    let mut state = session.lock();
    match &state.to_judge {
        Some((_, _, since)) if since.elapsed() >= QUIET => {
            state.to_judge.take().map(|(revision, loaded, _)| (revision, loaded))
        }
        other => {
            let wait =
                other.as_ref().map_or(LOOK_AGAIN, |(_, _, since)| QUIET.saturating_sub(since.elapsed()));
            let _ = session.changed.wait_timeout(state, wait);
            None
        }
    }
}

fn judge(session: &Session, revision: u64, loaded: &Loaded, drawn: &mut Drawn) {
    let is_current = || session.lock().picture.as_ref().is_some_and(|picture| picture.revision == revision);
    let made = match pipeline::make(&loaded.design) {
        Ok(made) => made,
        Err(error) if is_current() => return say(session, refusal(error, loaded)),
        Err(_) => return,
    };
    if !is_current() {
        return;
    }
    let tree = figures::tree(&made);
    {
        let mut state = session.lock();
        state.figures = Some((revision, tree));
        session.tell(&state);
    }
    let Ok(scene) = made.scene(drawn) else { return };
    let bytes = Arc::new(glb::compact(&made.product.actuator, &scene));
    let mut state = session.lock();
    let Some(picture) = state.picture.as_mut().filter(|picture| picture.revision == revision) else { return };
    (picture.glb, picture.fine) = (bytes, true);
    picture.revision += 1;
    let fine = picture.revision;
    if let Some((figures, _)) = state.figures.as_mut().filter(|(figures, _)| *figures == revision) {
        *figures = fine;
    }
    session.tell(&state);
}
