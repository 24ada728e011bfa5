//! The rules of accessibility that a program can check: axe-core, as `validation/axe.txt` names it and `./test` fetches it. It is
//! put into a page by the driver, which the content policy of the desk does not bind.

use std::fs;

use serde_json::{Value, json};

use crate::page::Page;

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../.axe/axe.min.js");

/// WCAG 2.0 to 2.2, levels A and AA, and what is known as good practice beside them.
const TAGS: [&str; 6] = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

const RUN: &str = "
    const [tags, done] = arguments;
    axe.run(document, { runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] }).then(
        (result) => done(result),
        (error) => done({ problem: String(error) }));
";

/// Puts the rules into every page that is opened from now on.
pub async fn bring(page: &Page) {
    let source = fs::read_to_string(FILE)
        .unwrap_or_else(|error| panic!("{FILE}: {error}; ./test fetches it in the step \"Rules of accessibility\""));
    page.run_everywhere(&source).await;
}

/// What the page breaks: rule, place and what would mend it.
pub async fn broken(page: &Page) -> Vec<String> {
    let result = page.ask_later(RUN, vec![json!(TAGS)]).await;
    // A run that held no rule against the page would find nothing wrong with it either.
    let held = result["passes"].as_array().map_or(0, Vec::len);
    assert!(held >= 10, "only {held} rules were held against the page: {}", result["problem"]);
    result["violations"].as_array().unwrap().iter().flat_map(nodes).collect()
}

fn nodes(violation: &Value) -> Vec<String> {
    let rule = violation["id"].as_str().unwrap_or_default();
    let nodes = violation["nodes"].as_array().map_or(&[][..], Vec::as_slice);
    nodes
        .iter()
        .map(|node| {
            let summary = node["failureSummary"].as_str().unwrap_or_default().replace('\n', " ");
            format!("{rule} at {}: {summary}\n      {}", node["target"], node["html"].as_str().unwrap_or_default())
        })
        .collect()
}
