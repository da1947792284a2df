//! Loopback HTTP: who may ask, what is answered. No file of the disk is served.

use std::convert::Infallible;
use std::io;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::sync::Arc;

use axum::extract::{DefaultBodyLimit, Path, Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use futures_util::stream::{self, Stream};
use serde::Deserialize;
use serde_json::json;

use super::Session;
use super::session::Refused;
use crate::diagnostic::to_json;
use crate::web;

/// Longest request body \[bytes\]: a key and a value.
const LONGEST_BODY: usize = 16 * 1024;
/// The page takes everything from its own address and runs nothing written into it.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; \
                      img-src 'self' data: blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const PAGE: &str = include_str!("page/index.html");
const SCRIPT: &str = include_str!("page/live.js");
const PAGE_STYLE: &str = include_str!("page/live.css");

/// A server that listens.
pub struct Started {
    pub address: SocketAddr,
    listener: TcpListener,
    router: Router,
}

/// Listens at 127.0.0.1; port 0 finds a free one.
///
/// # Errors
/// The port is taken, or not allowed.
pub fn start(session: Arc<Session>, port: u16) -> io::Result<Started> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
    listener.set_nonblocking(true)?;
    let address = listener.local_addr()?;
    Ok(Started { address, listener, router: router(session, address.port()) })
}

impl Started {
    /// Serves until the process ends.
    ///
    /// # Errors
    /// The system gives no threads, or takes the address away.
    pub fn serve(self) -> io::Result<()> {
        let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
        runtime.block_on(async {
            let listener = tokio::net::TcpListener::from_std(self.listener)?;
            axum::serve(listener, self.router).await
        })
    }
}

/// All that is answered at a port.
pub fn router(session: Arc<Session>, port: u16) -> Router {
    let text = |kind: &'static str, text: &'static str| {
        get(move || async move { ([(header::CONTENT_TYPE, kind)], text) })
    };
    Router::new()
        .route("/", text("text/html; charset=utf-8", PAGE))
        .route("/live.js", text("text/javascript; charset=utf-8", SCRIPT))
        .route("/live.css", text("text/css; charset=utf-8", PAGE_STYLE))
        .route("/viewer.js", text("text/javascript; charset=utf-8", web::VIEWER))
        .route("/style.css", text("text/css; charset=utf-8", web::STYLE))
        .route("/state", get(|State(session): State<Arc<Session>>| async move { Json(session.tree()) }))
        .route("/figures", get(|State(session): State<Arc<Session>>| async move { Json(session.figures()) }))
        .route("/geometry/{which}", get(geometry))
        .route("/events", get(events))
        .route("/edit", post(edit))
        .route("/draft", post(draft))
        .route(
            "/undo",
            post(|State(session): State<Arc<Session>>, Json(_): Json<Nothing>| {
                blocking(move || session.undo())
            }),
        )
        .route(
            "/redo",
            post(|State(session): State<Arc<Session>>, Json(_): Json<Nothing>| {
                blocking(move || session.redo())
            }),
        )
        .route("/pin", post(pin))
        .layer(DefaultBodyLimit::max(LONGEST_BODY))
        .layer(middleware::from_fn_with_state(port, guard))
        .with_state(session)
}

/// Lets in what comes from this page at this address alone: a page of another origin, or a name made to point here, can
/// neither read nor change the design.
async fn guard(State(port): State<u16>, request: Request, next: Next) -> Response {
    let headers = request.headers();
    let refused = if !is_own_host(headers, port) {
        Some("This address answers to 127.0.0.1 and localhost only")
    } else if !is_own_origin(headers, port) {
        Some("Only the page itself may ask this")
    } else {
        None
    };
    let mut response = match refused {
        // RFC 9112, 3.2: a request without a host is malformed.
        Some(why) if !headers.contains_key(header::HOST) => {
            (StatusCode::BAD_REQUEST, Json(json!({ "error": why }))).into_response()
        }
        Some(why) => (StatusCode::FORBIDDEN, Json(json!({ "error": why }))).into_response(),
        None => next.run(request).await,
    };
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::CACHE_CONTROL, "no-store"),
    ] {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    let own = HeaderValue::from_static("same-origin");
    response.headers_mut().insert("cross-origin-resource-policy", own.clone());
    response.headers_mut().insert("cross-origin-opener-policy", own);
    response
}

fn hosts(port: u16) -> [String; 2] {
    [format!("127.0.0.1:{port}"), format!("localhost:{port}")]
}

fn is_own_host(headers: &HeaderMap, port: u16) -> bool {
    let host = headers.get(header::HOST).and_then(|host| host.to_str().ok());
    host.is_some_and(|host| hosts(port).iter().any(|own| own == host))
}

/// A browser says where a request comes from; what isn't a browser need not.
fn is_own_origin(headers: &HeaderMap, port: u16) -> bool {
    let own_site = headers.get("sec-fetch-site").is_none_or(|site| site == "same-origin" || site == "none");
    let own_origin = headers.get(header::ORIGIN).is_none_or(|origin| {
        let own = |host: &String| origin.as_bytes() == format!("http://{host}").as_bytes();
        hosts(port).iter().any(own)
    });
    own_site && own_origin
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Nothing {}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Edit {
    version: u64,
    key: String,
    value: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Draft {
    key: Option<String>,
    #[serde(default)]
    value: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Pin {
    on: bool,
}

/// Reading and writing files would hold other answers up.
async fn blocking(work: impl FnOnce() -> Result<u64, Refused> + Send + 'static) -> Response {
    match tokio::task::spawn_blocking(work).await {
        Ok(Ok(version)) => Json(json!({ "version": version })).into_response(),
        Ok(Err(refused)) => refusal(refused),
        Err(_) => {
            let said = json!({ "error": "The change could not be made: a fault of the program" });
            (StatusCode::INTERNAL_SERVER_ERROR, Json(said)).into_response()
        }
    }
}

fn refusal(refused: Refused) -> Response {
    let (status, said) = match refused {
        Refused::Stale(why) => (StatusCode::CONFLICT, json!({ "error": why })),
        Refused::Wrong(problems) => {
            (StatusCode::UNPROCESSABLE_ENTITY, json!({ "problems": to_json(&problems) }))
        }
        Refused::Unwritable(why) => (StatusCode::INTERNAL_SERVER_ERROR, json!({ "error": why })),
    };
    (status, Json(said)).into_response()
}

fn unknown_key(key: &str) -> Response {
    let said = json!({ "error": format!("`{key}` can't be changed on this page") });
    (StatusCode::BAD_REQUEST, Json(said)).into_response()
}

async fn edit(State(session): State<Arc<Session>>, Json(edit): Json<Edit>) -> Response {
    if super::fields::find(&edit.key).is_none() {
        return unknown_key(&edit.key);
    }
    blocking(move || session.edit(edit.version, &edit.key, &edit.value)).await
}

async fn draft(State(session): State<Arc<Session>>, Json(draft): Json<Draft>) -> Response {
    match draft.key {
        Some(key) if super::fields::find(&key).is_none() => return unknown_key(&key),
        Some(key) => session.draft(Some((key, draft.value))),
        None => session.draft(None),
    }
    StatusCode::ACCEPTED.into_response()
}

async fn pin(State(session): State<Arc<Session>>, Json(pin): Json<Pin>) -> Response {
    if !pin.on {
        session.unpin();
    } else if !session.pin() {
        let said = json!({ "error": "There are no figures yet to keep" });
        return (StatusCode::CONFLICT, Json(said)).into_response();
    }
    StatusCode::ACCEPTED.into_response()
}

/// `now`, or `pinned`.
async fn geometry(State(session): State<Arc<Session>>, Path(which): Path<String>) -> Response {
    let picture = match which.as_str() {
        "now" => session.picture(false),
        "pinned" => session.picture(true),
        _ => None,
    };
    let Some(picture) = picture else { return StatusCode::NOT_FOUND.into_response() };
    let revision = HeaderValue::from(picture.revision);
    let mut response = ([(header::CONTENT_TYPE, "model/gltf-binary")], picture.glb.to_vec()).into_response();
    response.headers_mut().insert("x-revision", revision);
    response
}

/// What is new, as it comes; first what there is.
async fn events(State(session): State<Arc<Session>>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let mut ticks = session.ticks();
    ticks.mark_changed();
    let ticks = stream::unfold(ticks, |mut ticks| async move {
        ticks.changed().await.ok()?;
        let tick = ticks.borrow_and_update().clone();
        Some((Ok(Event::default().data(tick)), ticks))
    });
    Sse::new(ticks).keep_alive(KeepAlive::default())
}
