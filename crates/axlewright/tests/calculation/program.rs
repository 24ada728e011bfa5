//! Runs the program and finds quantities in what it prints.

use assert_cmd::Command;
use serde_json::Value;

/// What a run left behind.
pub struct Run {
    pub status: i32,
    pub out: String,
    pub error: String,
}

/// Runs the program with arguments that are parted by blanks.
pub fn run(line: &str) -> Run {
    let mut command = Command::new(env!("CARGO_BIN_EXE_axlewright"));
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
    let output = command.args(line.split_whitespace()).output().unwrap();
    Run {
        status: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        error: String::from_utf8(output.stderr).unwrap(),
    }
}

/// The text page of a calculation that has to succeed.
pub fn page(line: &str) -> String {
    let run = run(line);
    assert_eq!((run.status, run.error.as_str()), (0, ""), "{line}");
    run.out
}

/// The JSON of a calculation that has to succeed; it satisfies the schema.
pub fn json(line: &str) -> Value {
    let text = page(&format!("{line} --format json"));
    let output: Value = serde_json::from_str(&text).unwrap();
    let schema: Value = serde_json::from_str(&page("schema calculation")).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> = validator.iter_errors(&output).map(|error| error.to_string()).collect();
    assert_eq!(faults, Vec::<String>::new(), "{line}");
    output
}

/// One quantity of the JSON.
pub fn quantity<'o>(output: &'o Value, block: &str, quantity: &str) -> &'o Value {
    let blocks = output["blocks"].as_array().unwrap();
    let block = blocks.iter().find(|one| one["block"] == block).unwrap_or_else(|| panic!("no block {block}"));
    let quantities = block["quantities"].as_array().unwrap();
    quantities.iter().find(|one| one["quantity"] == quantity).unwrap_or_else(|| panic!("no quantity {quantity}"))
}

/// A number of the JSON: `block/quantity/field/unit`, such as `over_pins/size/least/inches`.
pub fn number(output: &Value, place: &str) -> f64 {
    let [block, key, field, unit] = place.split('/').collect::<Vec<_>>()[..] else { panic!("{place} is no place") };
    quantity(output, block, key)[field][unit].as_f64().unwrap_or_else(|| panic!("no number at {place}"))
}

/// Holds numbers of the JSON against expected ones.
pub fn assert_numbers(row: &str, output: &Value, expected: &[(&str, f64)], tolerance: f64) {
    for (place, value) in expected {
        let found = number(output, place);
        assert!((found - value).abs() <= tolerance, "{row}: {place} is {found} and not {value} ± {tolerance}");
    }
}

/// A run whose input cannot be used: status 2, nothing on standard output, and all of these in the message.
pub fn assert_refused(line: &str, said: &[&str]) {
    let run = run(line);
    assert_eq!((run.status, run.out.as_str()), (2, ""), "{line}: {}", run.error);
    for words in said {
        assert!(run.error.contains(words), "{line}: `{words}` is not in\n{}", run.error);
    }
}
