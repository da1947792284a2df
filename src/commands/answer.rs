//! What a command has to say: text for people, a tree for machines, messages, and an exit code.

use std::io::{self, Write};
use std::process::ExitCode;

use serde_json::{Map, Value, json};

use crate::diagnostic::{Problems, colour_wanted, render, to_json};

/// How a command ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    AllWell = 0,
    /// Done, but a check fails.
    CheckFails = 1,
    /// The input is wrong; nothing was written.
    WrongInput = 2,
    CannotWrite = 3,
}

/// A command's answer.
#[derive(Clone, Debug)]
pub struct Answer {
    /// To standard output, unless JSON is asked for.
    pub text: String,
    /// To standard output, if JSON is asked for.
    pub tree: Value,
    /// To standard error.
    pub problems: Problems,
    /// To standard error, where a command has no problem to show a place for.
    pub message: String,
    pub exit: Exit,
}

impl Answer {
    pub fn new(text: String, tree: Value, exit: Exit) -> Self {
        Answer { text, tree, problems: Problems::default(), message: String::new(), exit }
    }

    /// Nothing done, because of these problems.
    pub fn refused(problems: Problems, exit: Exit) -> Self {
        Answer { problems, ..Answer::new(String::new(), Value::Object(Map::new()), exit) }
    }

    /// A text and its tree, or why there is none.
    pub fn from_texts(result: Result<(String, Option<Value>), String>) -> Self {
        match result {
            Ok((text, tree)) => Answer::new(text, tree.unwrap_or(Value::Null), Exit::AllWell),
            Err(message) => Answer {
                tree: json!({ "error": message }),
                message,
                ..Answer::new(String::new(), Value::Null, Exit::WrongInput)
            },
        }
    }

    /// Says it, and turns the exit into the process's.
    pub fn say(self, json: bool) -> ExitCode {
        let messages = if self.problems.is_empty() {
            self.message.clone()
        } else {
            render(&self.problems, colour_wanted())
        };
        if !messages.is_empty() {
            write_all(&mut io::stderr(), &ended(messages));
        }
        let answer = if json { pretty(&self.with_problems()) } else { self.text };
        if !answer.is_empty() {
            write_all(&mut io::stdout(), &ended(answer));
        }
        ExitCode::from(self.exit as u8)
    }

    fn with_problems(&self) -> Value {
        let mut tree = self.tree.clone();
        if let Value::Object(map) = &mut tree
            && !map.contains_key("error")
        {
            map.insert("problems".into(), to_json(&self.problems));
        }
        tree
    }
}

/// A reader that closes the pipe early has seen what it wanted: not our failure.
fn write_all(out: &mut impl Write, text: &str) {
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

fn ended(text: String) -> String {
    if text.ends_with('\n') { text } else { text + "\n" }
}

fn pretty(tree: &Value) -> String {
    // A tree of strings and numbers always has a text.
    serde_json::to_string_pretty(tree).unwrap_or_default()
}
