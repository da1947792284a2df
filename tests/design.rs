//! The design file, start to end.

use std::path::Path;

use hubwright::design;
use hubwright::diagnostic::render;

const DEMOS: [&str; 3] = ["weeder-shoulder", "weeder-wrist", "mast-pan"];

#[test]
fn the_demos_load_without_a_word() {
    for name in DEMOS {
        let path = format!("designs/{name}.toml");
        match design::load(Path::new(&path)) {
            Ok(loaded) => {
                assert!(loaded.problems.is_empty(), "{}", render(&loaded.problems, false));
                assert_eq!(loaded.design.name, name);
                println!("{}", serde_json::to_string_pretty(&loaded.input).unwrap());
                match hubwright::pipeline::make(&loaded.design) {
                    Ok(made) => println!("{}", hubwright::export::summary::summary(&made, None, false)),
                    Err(error) => println!("{name}: {error:?}"),
                }
            }
            Err(problems) => panic!("{}", render(&problems, false)),
        }
    }
}
