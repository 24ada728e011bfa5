//! Weighs the explanations of an order that lies in a JSON file, or makes such a file.
//!
//! ```text
//! enumerate make usual|full            prints an invented order
//! enumerate weigh FILE MISTAKES        prints the probability of every explanation with up to that many mistakes
//! enumerate time FILE MISTAKES         prints the seconds that one review takes, the quickest of many
//! ```

mod file;
mod order;

use std::error::Error;
use std::hint::black_box;
use std::io::Write;
#[expect(clippy::disallowed_types, reason = "this program times the enumeration")]
use std::time::Instant;

use reconcile::{Model, Options, explain};

use crate::file::File;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    match words.as_slice() {
        ["make", "usual"] => serde_json::to_writer(&mut out, &File::of(&order::order(order::USUAL)))?,
        ["make", "full"] => serde_json::to_writer(&mut out, &File::of(&order::order(order::FULL)))?,
        ["weigh", path, mistakes] => {
            let options = Options { most_mistakes: mistakes.parse()?, grown_from: None, negligible: 0.0 };
            let mixture = explain(&read(path)?, &options)?;
            writeln!(out, "model,mistakes,probability")?;
            for explanation in mixture.explanations() {
                let mistakes: Vec<String> = explanation.mistakes.iter().map(usize::to_string).collect();
                writeln!(out, "{},{},{:e}", explanation.model, mistakes.join(" "), explanation.probability)?;
            }
        }
        ["time", path, mistakes] => {
            let options = Options { most_mistakes: mistakes.parse()?, grown_from: None, negligible: 0.0 };
            writeln!(out, "{:e}", seconds_per_review(&read(path)?, &options)?)?;
        }
        _ => return Err("usage: enumerate make usual|full, or enumerate weigh|time FILE MISTAKES".into()),
    }
    writeln!(out)?;
    Ok(())
}

fn read(path: &str) -> Result<Vec<Model>, Box<dyn Error>> {
    let file: File = serde_json::from_str(&std::fs::read_to_string(path)?)?;
    Ok(file.models())
}

/// The quickest of as many reviews as fit into two seconds, at least five: others may be using the machine.
fn seconds_per_review(models: &[Model], options: &Options) -> Result<f64, Box<dyn Error>> {
    let (mut quickest, mut all, mut count) = (f64::INFINITY, 0.0, 0);
    while count < 5 || all < 2.0 {
        #[expect(clippy::disallowed_types, reason = "this program times the enumeration")]
        let start = Instant::now();
        black_box(explain(black_box(models), options)?);
        let seconds = start.elapsed().as_secs_f64();
        (quickest, all, count) = (quickest.min(seconds), all + seconds, count + 1);
    }
    Ok(quickest)
}
