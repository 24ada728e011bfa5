//! What the documents claim is what the program does.
//!
//! In `README.md` and in the pages of `docs/`, a comment `<!-- output of: COMMAND -->` marks the fenced block below it
//! as what COMMAND prints, first to its output and then to its errors. COMMAND has the form `cargo run …`; it is split
//! into words as a shell would, but no shell runs. A command that is meant to exit with another code than 0 says so:
//! `<!-- output of: cargo run -- …; exit 2 -->`. The README also holds the one test command, below
//! `<!-- test command -->`.

use std::path::{Path, PathBuf};

use crate::markdown::{self, Block, Marker};
use crate::program;
use crate::report::{CheckError, Fault, Report};
use crate::source_files;
use crate::workspace::Workspace;

const PAGE: &str = "README.md";
const OUTPUT_MARKER: &str = "output of:";
const TEST_MARKER: &str = "test command";

/// What a command did.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Outcome {
    printed: String,
    /// `None` where a signal ended it.
    exit: Option<i32>,
}

/// A command as a marker names it.
#[derive(Debug, PartialEq, Eq)]
struct Claim {
    words: Vec<String>,
    exit: i32,
}

/// Compares every claim with what its command prints now.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let mut faults = Vec::new();
    let mut claims = 0;
    for page in pages(workspace)? {
        let place = page.display().to_string();
        let Some(text) = workspace.text_of(&page)? else {
            faults.push(Fault::at(place, "the page is missing"));
            continue;
        };
        if page == Path::new(PAGE) {
            faults.extend(faults_of_test_command(&text));
        }
        let checked = compare(&place, &text, &mut |claim| run(&workspace.root, claim))?;
        claims += checked.claims;
        faults.extend(checked.faults);
    }
    Ok(Report { looked_at: format!("{claims} claims"), faults })
}

/// Writes into every page what the commands print now. What cannot be refreshed is reported and left as it is.
pub fn refresh(workspace: &Workspace) -> Result<Report, CheckError> {
    let mut faults = Vec::new();
    let mut changed = 0;
    for page in pages(workspace)? {
        let place = page.display().to_string();
        let Some(text) = workspace.text_of(&page)? else {
            faults.push(Fault::at(place, "the page is missing"));
            continue;
        };
        let compared = compare(&place, &text, &mut |claim| run(&workspace.root, claim))?;
        // Stale blocks are what refreshing mends; every other fault stays.
        faults.extend(
            compared.faults.into_iter().filter(|fault| !compared.stale.iter().any(|stale| stale.fault == *fault)),
        );
        if !compared.stale.is_empty() {
            changed += compared.stale.len();
            let path = workspace.root.join(&page);
            std::fs::write(&path, replaced(&text, &compared.stale))
                .map_err(|source| CheckError::Write { path, source })?;
        }
    }
    Ok(Report { looked_at: format!("{changed} blocks rewritten"), faults })
}

/// The README, whether it is there or not, and the pages of `docs/`.
fn pages(workspace: &Workspace) -> Result<Vec<PathBuf>, CheckError> {
    let mut pages = vec![PathBuf::from(PAGE)];
    pages.extend(
        source_files::list(&workspace.root)?
            .into_iter()
            .filter(|file| file.starts_with("docs"))
            .filter(|file| file.extension().is_some_and(|extension| extension == "md")),
    );
    Ok(pages)
}

/// A block that no longer holds what its command prints.
#[derive(Debug)]
struct Stale {
    block: Block,
    printed: String,
    fault: Fault,
}

/// All claims of one page held against their commands.
#[derive(Debug, Default)]
struct Compared {
    claims: usize,
    stale: Vec<Stale>,
    /// All faults, those of the stale blocks among them.
    faults: Vec<Fault>,
}

fn compare(
    place: &str,
    text: &str,
    run: &mut dyn FnMut(&Claim) -> Result<Outcome, CheckError>,
) -> Result<Compared, CheckError> {
    let markdown = markdown::read(text);
    let mut compared = Compared::default();
    for marker in &markdown.loose {
        if marker.says.starts_with(OUTPUT_MARKER) {
            compared.faults.push(Fault::at_line(place, marker.line, "no fenced block follows this marker"));
        }
    }
    for block in markdown.blocks {
        let Some((line, command)) = command_of(&block) else {
            continue;
        };
        compared.claims += 1;
        let claim = match claim(&command) {
            Ok(claim) => claim,
            Err(message) => {
                compared.faults.push(Fault::at_line(place, line, message));
                continue;
            }
        };
        let outcome = run(&claim)?;
        match judge(&block, &claim, &outcome) {
            Judgement::Holds => {}
            Judgement::Wrong(message) => {
                compared.faults.push(Fault::at_line(place, line, message));
            }
            Judgement::Stale(message) => {
                let fault = Fault::at_line(place, block.opened, message);
                compared.faults.push(fault.clone());
                compared.stale.push(Stale { block, printed: outcome.printed, fault });
            }
        }
    }
    Ok(compared)
}

/// The line of an output marker and the command it names.
fn command_of(block: &Block) -> Option<(usize, String)> {
    let Marker { line, says } = block.marker.as_ref()?;
    let command = says.strip_prefix(OUTPUT_MARKER)?;
    Some((*line, command.trim().to_owned()))
}

/// Reads the command of a marker, or says what would be accepted.
fn claim(command: &str) -> Result<Claim, String> {
    let (command, exit) = match command.rsplit_once("; exit ") {
        None => (command, 0),
        Some((command, code)) => match code.trim().parse() {
            Ok(code) => (command, code),
            Err(_) => return Err(format!("`{code}` is no exit code; write `; exit 2`")),
        },
    };
    let words = shlex::split(command).ok_or_else(|| format!("`{command}` has a quote that is not closed"))?;
    if words.len() < 2 || words[..2] != ["cargo", "run"] {
        return Err(format!("`{command}` must have the form `cargo run …`"));
    }
    Ok(Claim { words, exit })
}

enum Judgement {
    Holds,
    /// The block can be rewritten.
    Stale(String),
    /// It cannot.
    Wrong(String),
}

fn judge(block: &Block, claim: &Claim, outcome: &Outcome) -> Judgement {
    if outcome.exit != Some(claim.exit) {
        let code = outcome.exit.map_or("a signal".to_owned(), |code| code.to_string());
        return Judgement::Wrong(format!(
            "the command ended with {code}, not {}; it printed:\n{}",
            claim.exit,
            outcome.printed.trim_end()
        ));
    }
    if !block.closed {
        return Judgement::Wrong("the block is not closed".to_owned());
    }
    let now: Vec<&str> = outcome.printed.trim_end().lines().collect();
    if now.iter().any(|line| line.trim() == block.fence) {
        return Judgement::Wrong("the output holds a line like the fence; open the block with a longer one".to_owned());
    }
    let stands: Vec<&str> = block.lines.iter().map(String::as_str).collect();
    if now == stands {
        return Judgement::Holds;
    }
    let first = now.iter().zip(&stands).take_while(|(now, stands)| now == stands).count();
    Judgement::Stale(format!(
        "the block is not what the command prints; first different at its line {}: \
         the page has {}, the command prints {} (`cargo xtask readme` rewrites it)",
        first + 1,
        line_in_words(&stands, first),
        line_in_words(&now, first),
    ))
}

fn line_in_words(lines: &[&str], index: usize) -> String {
    lines.get(index).map_or("no such line".to_owned(), |line| format!("`{line}`"))
}

/// The text with what the commands print in the place of the stale blocks.
fn replaced(text: &str, stale: &[Stale]) -> String {
    let mut result = String::new();
    let mut skip_until = 0;
    for (index, line) in text.split_inclusive('\n').enumerate() {
        let number = index + 1;
        if number <= skip_until {
            continue;
        }
        result.push_str(line);
        if let Some(stale) = stale.iter().find(|stale| stale.block.opened == number) {
            for printed in stale.printed.trim_end().lines() {
                result.push_str(printed);
                result.push('\n');
            }
            skip_until = number + stale.block.lines.len();
        }
    }
    result
}

/// The README holds one test command and no more, so that there is no doubt what runs.
fn faults_of_test_command(text: &str) -> Vec<Fault> {
    let blocks = markdown::read(text)
        .blocks
        .iter()
        .filter(|block| block.marker.as_ref().is_some_and(|m| m.says == TEST_MARKER))
        .filter(|block| block.closed && !block.lines.is_empty())
        .count();
    if blocks == 1 {
        Vec::new()
    } else {
        vec![Fault::at(
            PAGE,
            format!("{blocks} blocks below a marker `<!-- {TEST_MARKER} -->`; there must be exactly one"),
        )]
    }
}

/// Runs the command of a claim from the root, without colours and without cargo's own progress.
fn run(root: &Path, claim: &Claim) -> Result<Outcome, CheckError> {
    let words: Vec<&str> =
        claim.words[2..].iter().map(String::as_str).filter(|word| *word != "--quiet" && *word != "-q").collect();
    let output = program::command(root, &words)
        .env("NO_COLOR", "1")
        .output()
        .map_err(|source| CheckError::Start { command: claim.words.join(" "), source })?;
    let mut printed = String::from_utf8_lossy(&output.stdout).into_owned();
    printed.push_str(&String::from_utf8_lossy(&output.stderr));
    Ok(Outcome { printed, exit: output.status.code() })
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# A\n\n<!-- output of: cargo run -- a 'b c' -->\n\n```text\nold\n```\nend\n";

    fn printing(printed: &str, exit: i32) -> impl FnMut(&Claim) -> Result<Outcome, CheckError> {
        let outcome = Outcome { printed: printed.to_owned(), exit: Some(exit) };
        move |_| Ok(outcome.clone())
    }

    #[test]
    fn a_true_claim_passes() {
        let compared = compare(PAGE, TEXT, &mut printing("old\n", 0)).unwrap();
        assert_eq!((compared.claims, compared.faults.len()), (1, 0));
    }

    #[test]
    fn the_command_is_run_as_written() {
        let mut words = Vec::new();
        compare(PAGE, TEXT, &mut |claim| {
            words.clone_from(&claim.words);
            printing("old", 0)(claim)
        })
        .unwrap();
        assert_eq!(words, ["cargo", "run", "--", "a", "b c"]);
    }

    #[test]
    fn a_stale_claim_fails_and_is_placed() {
        for printed in ["new\n", "old\nmore\n", ""] {
            let compared = compare(PAGE, TEXT, &mut printing(printed, 0)).unwrap();
            assert_eq!(compared.faults.len(), 1, "{printed}");
            assert_eq!(compared.faults[0].place, "README.md:5");
        }
    }

    #[test]
    fn a_stale_claim_is_rewritten_in_place() {
        let compared = compare(PAGE, TEXT, &mut printing("new\nand more\n", 0)).unwrap();
        assert_eq!(replaced(TEXT, &compared.stale), TEXT.replace("old\n", "new\nand more\n"));
    }

    #[test]
    fn an_empty_block_is_filled() {
        let text = TEXT.replace("old\n", "");
        let compared = compare(PAGE, &text, &mut printing("old\n", 0)).unwrap();
        assert_eq!(replaced(&text, &compared.stale), TEXT);
    }

    #[test]
    fn a_command_that_ends_otherwise_fails_and_is_not_rewritten() {
        let compared = compare(PAGE, TEXT, &mut printing("error: x", 101)).unwrap();
        assert_eq!((compared.faults.len(), compared.stale.len()), (1, 0));
        assert!(compared.faults[0].message.contains("101, not 0"));
    }

    #[test]
    fn another_exit_code_can_be_claimed() {
        let text = TEXT.replace(" -->", "; exit 2 -->");
        assert!(compare(PAGE, &text, &mut printing("old", 2)).unwrap().faults.is_empty());
        assert_eq!(compare(PAGE, &text, &mut printing("old", 0)).unwrap().faults.len(), 1);
    }

    #[test]
    fn a_command_of_another_form_fails_unrun() {
        for command in ["ls", "cargo test", "cargo", "cargo run -- 'a", "cargo run; exit x"] {
            let text = format!("<!-- output of: {command} -->\n```\n```\n");
            let compared = compare(PAGE, &text, &mut |_| unreachable!("it must not run")).unwrap();
            assert_eq!(compared.faults.len(), 1, "{command}");
        }
    }

    #[test]
    fn a_marker_without_its_block_fails() {
        let text = "<!-- output of: cargo run -->\nprose\n";
        let compared = compare(PAGE, text, &mut printing("", 0)).unwrap();
        assert_eq!((compared.claims, compared.faults.len()), (0, 1));
    }

    #[test]
    fn output_that_would_close_the_block_fails() {
        let compared = compare(PAGE, TEXT, &mut printing("a\n```\nb", 0)).unwrap();
        assert_eq!((compared.faults.len(), compared.stale.len()), (1, 0));
    }

    #[test]
    fn there_is_exactly_one_test_command() {
        let one = "<!-- test command -->\n```sh\n./test\n```\n";
        assert_eq!(faults_of_test_command(one), []);
        assert_eq!(faults_of_test_command("# A\n").len(), 1);
        assert_eq!(faults_of_test_command(&one.repeat(2)).len(), 1);
        let empty = "<!-- test command -->\n```sh\n```\n";
        assert_eq!(faults_of_test_command(empty).len(), 1);
    }
}
