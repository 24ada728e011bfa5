//! The pictures in the documents show what the program prints, in its colours.
//!
//! Each picture is the terminal output of one command, drawn as SVG, or a picture that the command itself prints. `cargo xtask
//! readme` draws it anew; the check holds the file against what the command prints now.

use std::path::Path;

use anstyle_svg::Term;

use crate::program;
use crate::report::{CheckError, Fault, Report};
use crate::workspace::Workspace;

/// A picture: its file, and the words of the command after `cargo run`.
type Picture = (&'static str, &'static [&'static str]);

const PICTURES: &[Picture] = &[
    ("docs/check.svg", &["--", "check", "--colour", "always", "demo/orders/02-market-wagon.toml"]),
    ("docs/drawing.svg", &["--", "draw", "demo/orders/02-market-wagon.toml"]),
    ("docs/stress.svg", &["--", "plot", "demo/orders/02-market-wagon.toml"]),
];

/// Holds every picture against what its command prints now.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let mut faults = Vec::new();
    for (file, words) in PICTURES {
        match drawn(&workspace.root, words)? {
            Err(fault) => faults.push(Fault::at(*file, fault)),
            Ok(now) => match workspace.text_of(Path::new(file))? {
                None => faults.push(Fault::at(*file, "the picture is missing (`cargo xtask readme` draws it)")),
                Some(stands) if stands != now => faults.push(Fault::at(
                    *file,
                    "the picture is not what the command prints (`cargo xtask readme` draws it anew)",
                )),
                Some(_) => {}
            },
        }
    }
    Ok(Report { looked_at: format!("{} pictures", PICTURES.len()), faults })
}

/// Draws every picture anew.
pub fn refresh(workspace: &Workspace) -> Result<Report, CheckError> {
    let mut faults = Vec::new();
    for (file, words) in PICTURES {
        match drawn(&workspace.root, words)? {
            Err(fault) => faults.push(Fault::at(*file, fault)),
            Ok(now) => {
                let path = workspace.root.join(file);
                let folder = path.parent().unwrap_or(&workspace.root);
                std::fs::create_dir_all(folder)
                    .and_then(|()| std::fs::write(&path, now))
                    .map_err(|source| CheckError::Write { path, source })?;
            }
        }
    }
    Ok(Report { looked_at: format!("{} pictures drawn", PICTURES.len()), faults })
}

/// The picture of a command's output, or why there is none.
fn drawn(root: &Path, words: &[&str]) -> Result<Result<String, String>, CheckError> {
    let output = program::command(root, words)
        .env_remove("NO_COLOR")
        .output()
        .map_err(|source| CheckError::Start { command: words.join(" "), source })?;
    let printed = String::from_utf8_lossy(&output.stdout);
    if printed.trim().is_empty() {
        return Ok(Err(format!("the command prints nothing; {}", String::from_utf8_lossy(&output.stderr).trim())));
    }
    Ok(Ok(draw(&printed)))
}

/// The picture itself where the command prints one, and else the terminal with what it prints.
fn draw(printed: &str) -> String {
    if printed.starts_with("<svg") {
        return printed.to_owned();
    }
    let mut picture = Term::new().render_svg(printed.trim_end());
    picture.push('\n');
    picture
}

#[cfg(test)]
mod tests {
    use super::draw;

    #[test]
    fn a_picture_holds_the_words_and_the_colour() {
        let picture = draw("plain \u{1b}[32mgreen\u{1b}[0m\n");
        assert!(picture.starts_with("<svg"), "{picture}");
        assert!(picture.contains("plain") && picture.contains("green"));
        assert!(picture.contains("fg-green"), "{picture}");
        assert_ne!(picture, draw("plain green\n"));
    }

    #[test]
    fn a_picture_that_is_printed_stays_as_it_is() {
        let printed = "<svg xmlns=\"http://www.w3.org/2000/svg\"></svg>\n";
        assert_eq!(draw(printed), printed);
    }
}
